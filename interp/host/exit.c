/* SPDX-License-Identifier: MIT
 * The statuses with which a run ends. */
#include "host/exit.h"
#include <string.h>

const struct sl_exit_row sl_statuses[] = {
#define STATUS(id, number, says) { number, says },
#include "host/exit.def"
  { .says = NULL },
};

enum sl_exit sl_exit_of(const char *code) {
#define CODE_STATUS(prefix, id) if (strncmp(code, prefix, strlen(prefix)) == 0) return SL_##id;
#include "host/exit.def"
  return SL_USAGE;
}
