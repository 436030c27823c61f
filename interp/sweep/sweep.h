/* SPDX-License-Identifier: MIT
 * Sweeps: the store in which variants are kept, and the workers that judge them.  Only the command opens them. */
#ifndef SL_SWEEP_H
#define SL_SWEEP_H

#include <lua.h>

/* Adds host.database. */
void sl_database_open(lua_State *L);
/* Adds host.workers, host.variant and host.row. */
void sl_workers_open(lua_State *L);
/* Adds host.folder and host.write. */
void sl_files_open(lua_State *L);
#endif
