/* SPDX-License-Identifier: MIT
 * What keeps a store from being opened, read or written, in words that a person can act on. */
#include <errno.h>
#include "host/raise.h"
#include "host/text.h"
#include "sweep/database.h"
#include "write/out.h"

#define STAYS "what is in it stays"

/* Behind our own words: SQLite's, or the system's where it has any. */
static const char *reason(sqlite3 *sql, int status) {
  const int error = sql ? sqlite3_system_errno(sql) : 0;
  if (error && error != EAGAIN && (status & 0xFF) != SQLITE_ERROR) return sl_out_reason(error);
  return sql ? sqlite3_errmsg(sql) : sqlite3_errstr(status);
}

int sl_database_damaged(lua_State *L, const char *path, const char *why) {
  return sl_raise(L, "F054", "copy it before anything else; SQLite's own shell gets out what can be read, with "
                  ".recover; go on with an older copy, or give the sweep another store, as in --store tilt.sweep",
                  "the store '%s' is damaged (%s); " STAYS, path, why);
}

int sl_database_fault(lua_State *L, const char *path, sqlite3 *sql, int status) {
  const char *why = lua_pushstring(L, reason(sql, status));       /* closing the connection takes it away */
  if (status == SQLITE_READONLY_DBMOVED)
    return sl_raise(L, "F059", "put it back where it was, and the same command goes on with it; if it is gone, the "
                    "same command begins a new one", "the store '%s' was moved, removed or replaced while a sweep "
                    "wrote to it", path);
  switch (status & 0xFF) {
    case SQLITE_CANTOPEN: case SQLITE_PERM: case SQLITE_AUTH: case SQLITE_READONLY:
      return sl_raise(L, "F050", "a store needs a folder in which files may be made and changed, as in "
                      "--store tilt.sweep", "the store '%s' cannot be opened to write (%s)", path, why);
    case SQLITE_NOTADB:
      return sl_raise(L, "F051", "name one that `sweep` made, or a file that is not there yet, as in "
                      "--store tilt.sweep", "'%s' is no store of a sweep; it is left as it is", path);
    case SQLITE_BUSY: case SQLITE_LOCKED: case SQLITE_PROTOCOL:
      return sl_raise(L, "F053", "wait until that ends, or stop it; a sweep that was stopped goes on later",
                      "the store '%s' is held by another process, most likely a sweep that is writing to it", path);
    case SQLITE_FULL: case SQLITE_IOERR:
      return sl_raise(L, "F055", "make room on its disk, then run the same command again: it goes on where it stopped",
                      "the store '%s' cannot be written or read on (%s); " STAYS, path, why);
    case SQLITE_NOMEM:
      return sl_raise(L, "S003", NULL, SL_NO_MEMORY " for the store '%s'", path);
    default:           /* SQLITE_CORRUPT, a table or column that is not there, a text where a number belongs */
      return sl_database_damaged(L, path, why);
  }
}
