/* SPDX-License-Identifier: MIT
 * The store's database. */
#include "sweep/sweep.h"

void sl_database_open(lua_State *L) { (void)L; }
