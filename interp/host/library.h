/* SPDX-License-Identifier: MIT
 * The Lua modules carried in the binary (written by interp/gen/embed.c). */
#ifndef SL_LIBRARY_H
#define SL_LIBRARY_H
#include <stddef.h>
struct sl_module { const char *name; const unsigned char *code; size_t size; };
extern const struct sl_module sl_library[], sl_index[];   /* ended by a NULL name; the index is written at build */
#endif
