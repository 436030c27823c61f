/* SPDX-License-Identifier: MIT
 * What a function of the model's read of records, kept while it is run again and again: see model.noting.
 *
 * The table of it holds what reads gave, by record and key, and what given() of them did; by path where these stand;
 * and the path of what is being read, false where that is not to be kept. */
#ifndef SL_AGAIN_H
#define SL_AGAIN_H

#include <lua.h>
#include <stdbool.h>

enum sl_again { SL_AGAIN_READ = 1, SL_AGAIN_GIVEN, SL_AGAIN_PATHS, SL_AGAIN_PATH };

/* Of the record at 1 and the key at 2, with the table at 3 and nothing above: pushes what was read before, if it is
 * kept; if not, only the two are left, and a path is waited for. */
bool sl_again_before(lua_State *L, enum sl_again which);
/* The table is on top, and goes; below it is the value that was read of the record at 1 and the key at 2, which is kept
 * under the path that was told. */
void sl_again_keep(lua_State *L, enum sl_again which);

#endif
