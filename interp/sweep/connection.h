/* SPDX-License-Identifier: MIT
 * The inside of a database of the host's Lua, which its files share. */
#ifndef SL_CONNECTION_H
#define SL_CONNECTION_H

#include <stdbool.h>
#include <sys/types.h>
#include "sweep/database.h"

enum { SL_CACHED = 16 };
/* A statement that rows are still read from. */
struct cursor {
  sqlite3_stmt *statement;
  struct database *of;                /* NULL: ended */
  struct cursor *next;
};
/* Its user value is the path.  A process that was forked from the owner must not touch the file. */
struct database {
  sqlite3 *sql;                       /* NULL: closed */
  pid_t owner;
  bool alone;
  struct cursor *open;
  sqlite3_stmt *cached[SL_CACHED];       /* those that nobody uses; the oldest goes first */
};

/* Pushes a database, closed as yet. */
struct database *sl_database_new(lua_State *L, const char *path);
/* Back to one file, where the disk allows; else what is written stays in the file and its "-wal" beside it.  Gives a
 * status of SQLite. */
int sl_database_shut(struct database *db);
/* host.database, host.database_new. */
int sl_database_of(lua_State *L);
int sl_database_made(lua_State *L);
#endif
