/* SPDX-License-Identifier: MIT
 * The Lua modules carried in the binary (written by interp/gen/embed.c). */
#ifndef SL_LIBRARY_H
#define SL_LIBRARY_H
#include <stddef.h>
struct sl_module { const char *name; const unsigned char *code; size_t size; };
struct sl_modules { const struct sl_module *m; size_t n; };      /* in the order of their names */
extern const struct sl_modules sl_library, sl_index;             /* the index is written at build */
#endif
