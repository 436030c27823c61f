/* SPDX-License-Identifier: MIT
 * The database that a sweep is kept in: one SQLite file, for the host's own Lua.
 *
 *   db = host.database(path, { alone = bool })
 *       Opens a store.  alone: nobody else may read or write it meanwhile, and what is committed outlives a crash, and
 *       a power cut once a commit has waited for the disk (keeping.c); without it, db reads beside others.
 *   made = host.database_new(path, function(db) ... end)
 *       Makes a store: what the function writes is one transaction in a file of another name, which gets its own only
 *       when it is whole.  false where something of that name is there already; that stays as it was.
 *   db:run(sql, ...)                  rows that it changed
 *   db:one(sql, ...)                  the values of its first row, or nothing
 *   for a, b in db:each(sql, ...) do  the values of each row; the first must not be NULL
 *   db:check()                        raises if any of it is damaged; looks at all of it
 *   db:close()                        one file remains; closing again does nothing
 *
 * Write `local db <close> = ...`: a run that ends by an error closes it, too; the state itself calls no finaliser.
 * What is not closed loses nothing: the file and its "-wal" are joined when it is opened next.
 *
 * Values are nil, integers, floats and strings; a NaN becomes NULL.  Errors are ours: F050 to F055, F059. */
#ifndef SL_DATABASE_H
#define SL_DATABASE_H

#include <lua.h>
#include <sqlite3.h>
#include <stdbool.h>

/* Of the first bytes of each store: "SLsw", and the version of its tables. */
enum { SL_STORE_MARK = 0x534C7377, SL_STORE_LAYOUT = 1 };

/* The connection behind a value of host.database; raises if it is none, or closed. */
sqlite3 *sl_database_at(lua_State *L, int idx);
/* Whether its file is no more where it was opened. */
bool sl_database_moved(sqlite3 *sql);
/* Raises what SQLite's status means for a person; `path` is the file. */
int sl_database_fault(lua_State *L, const char *path, sqlite3 *sql, int status);
/* Raises that it is damaged, and how. */
int sl_database_damaged(lua_State *L, const char *path, const char *why);
/* What a status means, for the connection at idx, after a call of SQLite that gave `status`. */
int sl_database_raise(lua_State *L, int idx, int status);
#endif
