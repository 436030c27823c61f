/* SPDX-License-Identifier: MIT
 * The workers. */
#include "sweep/sweep.h"

void sl_workers_open(lua_State *L) { (void)L; }
