/* SPDX-License-Identifier: MIT
 * Stores opened, and made: see database.h. */
#include <errno.h>
#include <fcntl.h>
#include <lauxlib.h>
#include <stdio.h>
#include <sys/stat.h>
#include <unistd.h>
#include "host/host.h"
#include "host/raise.h"
#include "host/reads.h"
#include "host/state.h"
#include "sweep/connection.h"
#include "write/out.h"
#include "write/unbroken.h"

enum { WAIT_MS = 1000, NAMES = 1000, OFTEN = 1000 };     /* OFTEN: steps of SQLite's machine between two looks */

/* ---- opening ----------------------------------------------------------------------------------------------------- */

static int simply(struct database *db, const char *text) { return sqlite3_exec(db->sql, text, NULL, NULL, NULL); }

static int number_of(struct database *db, const char *text, int *out) {
  sqlite3_stmt *s = NULL;
  int status = sqlite3_prepare_v2(db->sql, text, -1, &s, NULL);
  if (status == SQLITE_OK) status = sqlite3_step(s);
  if (status == SQLITE_ROW) *out = sqlite3_column_int(s, 0);
  sqlite3_finalize(s);
  return status == SQLITE_ROW ? SQLITE_OK : status;
}

/* An application_id and a user_version that say whose it is. */
static void want_store(lua_State *L, struct database *db, const char *path) {
  int mark = 0, layout = 0;
  int status = number_of(db, "PRAGMA application_id", &mark);
  if (!status) status = number_of(db, "PRAGMA user_version", &layout);
  if (status) sl_database_fault(L, path, db->sql, status);
  if (mark != SL_STORE_MARK) sl_database_fault(L, path, NULL, SQLITE_NOTADB);
  if (layout > SL_STORE_LAYOUT)
    sl_raise(L, "F052", "go on with that version, or give this one another store, as in --store tilt.sweep",
             "the store '%s' was made by a later version of stringline (its layout is %d, this one knows %d)", path,
             layout, SL_STORE_LAYOUT);
}

/* Nobody else reads or writes from here on.  Of two that begin at once the second does not wait: so the first goes on.
 * The log of changes needs no memory that processes share, which some disks of a network do not have. */
static int hold_alone(struct database *db) {
  sqlite3_busy_timeout(db->sql, 0);
  int status = simply(db, "BEGIN IMMEDIATE; COMMIT");
  sqlite3_busy_timeout(db->sql, WAIT_MS);
  if (!status) status = simply(db, "PRAGMA journal_mode=WAL; PRAGMA synchronous=NORMAL");
  return status ? status : simply(db, "BEGIN EXCLUSIVE; COMMIT");
}

/* SQLite takes some names for something else than a file. */
static const char *plain_path(lua_State *L, const char *path) {
  return path[0] == '/' ? lua_pushstring(L, path) : lua_pushfstring(L, "./%s", path);
}

static struct stat want_file(lua_State *L, const char *path) {
  struct stat st;
  if (stat(path, &st) != 0)
    sl_raise(L, "F050", "a store is named by its file, as in --store tilt.sweep",
             "the store '%s' cannot be opened: %s", path, errno == ENOENT ? "no such file" : sl_out_reason(errno));
  if (S_ISDIR(st.st_mode))
    sl_raise(L, "F050", "name a file in it, as in --store tilt.sweep", "the store '%s' is a folder", path);
  if (!S_ISREG(st.st_mode)) sl_database_fault(L, path, NULL, SQLITE_NOTADB);
  return st;
}

/* A run may write its output over no store that it reads. */
static void want_no_output(lua_State *L, const char *path, const struct stat *is) {
  struct sl_reads *reads = sl_state_of(L)->host->reads;
  if (!reads || sl_reads_note(reads, path, is)) return;
  sl_raise(L, "F023", "write to another file, as in -o report.txt", "this run reads '%s', and its output '%s' is the "
           "same file", path, sl_reads_output(reads));
}

/* Of `file`, which messages call `path`. */
static void connect(lua_State *L, struct database *db, const char *file, const char *path, int flags, bool alone) {
  int status = sqlite3_open_v2(plain_path(L, file), &db->sql, flags | SQLITE_OPEN_NOMUTEX, NULL);
  if (!status) status = sqlite3_extended_result_codes(db->sql, 1);
  if (!status) status = sqlite3_busy_timeout(db->sql, WAIT_MS);
  if (!status && alone) status = simply(db, "PRAGMA locking_mode=EXCLUSIVE");
  if (status) sl_database_fault(L, path, db->sql, status);
}

/* In one transaction, so that a file is a store or empty. */
static int mark_new(struct database *db) {
  char text[128];
  snprintf(text, sizeof text, "PRAGMA application_id=%d; PRAGMA user_version=%d", SL_STORE_MARK, SL_STORE_LAYOUT);
  return simply(db, text);
}

static bool option(lua_State *L, const char *name) {
  if (!lua_istable(L, 2)) return false;
  lua_getfield(L, 2, name);
  const bool set = lua_toboolean(L, -1);
  lua_pop(L, 1);
  return set;
}

int sl_database_of(lua_State *L) {
  const char *path = luaL_checkstring(L, 1);
  const bool alone = option(L, "alone");
  struct database *db = sl_database_new(L, path);
  const int at = lua_gettop(L);
  const struct stat is = want_file(L, path);
  want_no_output(L, path, &is);
  connect(L, db, path, path, SQLITE_OPEN_READWRITE, alone);
  want_store(L, db, path);
  if (alone) {
    const int status = hold_alone(db);
    if (status) sl_database_fault(L, path, db->sql, status);
    db->alone = true;
  }
  lua_settop(L, at);
  return 1;
}

/* ---- a new store ------------------------------------------------------------------------------------------------- */

static int cannot_make(lua_State *L, const char *path, int error) {
  return sl_raise(L, "F050", "a store needs a folder in which files may be made, as in --store tilt.sweep",
                  "the store '%s' cannot be made: %s", path, sl_out_reason(error));
}

/* Pushes the name of an empty file of our own beside the path, so that giving it the name stays on one disk. */
static const char *push_temporary(lua_State *L, const char *path) {
  int fd = -1, error = EEXIST;
  for (int i = 0; i < NAMES && fd < 0 && error == EEXIST; i++) {
    lua_pushfstring(L, "%s.%d-%d.tmp", path, (int)getpid(), i);
    fd = open(lua_tostring(L, -1), O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    error = errno;
    if (fd < 0) lua_pop(L, 1);
  }
  if (fd < 0) cannot_make(L, path, error);
  close(fd);
  return lua_tostring(L, -1);
}

/* Never over a file that is there.  Some disks know no links: there the last look and the renaming are two steps. */
static bool give_name(const char *file, const char *path) {
  if (link(file, path) == 0) return unlink(file) == 0;
  if (errno == EEXIST) return false;
  return access(path, F_OK) != 0 && rename(file, path) == 0;
}

static int stop(void *u) { return sl_unbroken_stop(u); }

/* Protected: (path, fill, held, file, database) */
static int fill_new(lua_State *L) {
  const char *path = lua_tostring(L, 1), *file = lua_tostring(L, 4);
  struct database *db = lua_touserdata(L, 5);
  connect(L, db, file, path, SQLITE_OPEN_READWRITE, false);
  sqlite3_progress_handler(db->sql, OFTEN, stop, lua_touserdata(L, 3));
  int status = simply(db, "BEGIN");
  if (!status) status = mark_new(db);
  if (status) sl_database_fault(L, path, db->sql, status);
  lua_pushvalue(L, 2);
  lua_pushvalue(L, 5);
  lua_call(L, 1, 0);
  status = simply(db, "COMMIT");
  if (status) sl_database_fault(L, path, db->sql, status);
  return 0;
}

/* Protected: (path, fill, held) -> made */
static int make_new(lua_State *L) {
  const char *path = lua_tostring(L, 1), *file = push_temporary(L, path);
  struct database *db = sl_database_new(L, path);
  lua_pushcfunction(L, fill_new);
  for (int i = 1; i <= 5; i++) lua_pushvalue(L, i);
  const bool filled = lua_pcall(L, 5, 0, 0) == LUA_OK;
  (void)sl_database_shut(db);
  if (!filled) {
    unlink(file);
    return lua_error(L);
  }
  const bool made = give_name(file, path);
  const int error = errno;
  if (!made) unlink(file);
  if (!made && access(path, F_OK) != 0) return cannot_make(L, path, error);
  lua_pushboolean(L, made);
  return 1;
}

int sl_database_made(lua_State *L) {
  const char *path = luaL_checkstring(L, 1);
  luaL_checktype(L, 2, LUA_TFUNCTION);
  lua_settop(L, 2);
  if (access(path, F_OK) == 0) {
    lua_pushboolean(L, false);
    return 1;
  }
  struct sl_unbroken u;
  lua_pushcfunction(L, make_new);
  lua_insert(L, 1);
  lua_pushlightuserdata(L, &u);
  sl_unbroken_begin(&u);
  const int status = lua_pcall(L, 3, 1, 0);
  sl_unbroken_end(&u);
  return status ? lua_error(L) : 1;
}
