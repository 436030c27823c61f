/* SPDX-License-Identifier: MIT
 * Memory that a run causes and that is not Lua's: texts, what is read out of them, tables of results.  It comes out of
 * the same account as Lua's, and is given back with the run at the latest. */
#ifndef SL_MEMORY_H
#define SL_MEMORY_H

#include <stddef.h>

struct sl_box;                          /* the run; NULL: there is none, and memory is malloc's */

/* As realloc, told the old size; size 0 frees.  NULL: the run may have no more, even after garbage was collected, or
 * the machine has no more; the block is as it was, and the run is over. */
void *sl_memory_resize(struct sl_box *box, void *block, size_t old, size_t size);

#endif
