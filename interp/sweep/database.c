/* SPDX-License-Identifier: MIT
 * The database that a sweep is kept in, as the host's own Lua sees it: see database.h. */
#include "sweep/database.h"

#include <errno.h>
#include <fcntl.h>
#include <lauxlib.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>
#include "host/raise.h"
#include "sweep/sweep.h"

enum { CACHED = 16, WAIT_MS = 1000, NAMES = 1000 };
static const char DATABASE = 'd', CURSOR = 'c';    /* registry keys of the metatables */

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
  sqlite3_stmt *cached[CACHED];       /* those that nobody uses; the oldest goes first */
};

/* ---- the connection ---------------------------------------------------------------------------------------------- */

static struct database *database_at(lua_State *L, int idx) {
  struct database *db = lua_touserdata(L, idx);
  const bool any = db && lua_getmetatable(L, idx);
  if (any) lua_rawgetp(L, LUA_REGISTRYINDEX, &DATABASE);
  if (!any || !lua_rawequal(L, -1, -2)) luaL_typeerror(L, idx, "database");
  lua_pop(L, 2);
  return db;
}

static struct database *open_at(lua_State *L, int idx) {
  struct database *db = database_at(L, idx);
  if (!db->sql) luaL_error(L, "the database is closed");
  if (db->owner != getpid()) luaL_error(L, "the database belongs to another process");
  return db;
}

sqlite3 *sl_database_at(lua_State *L, int idx) { return open_at(L, idx)->sql; }

/* The text stays on the stack. */
static const char *path_of(lua_State *L, int idx) {
  lua_getiuservalue(L, idx, 1);
  return lua_tostring(L, -1);
}

int sl_database_raise(lua_State *L, int idx, int status) {
  struct database *db = open_at(L, idx);
  return sl_database_fault(L, path_of(L, idx), db->sql, status);
}

/* Back to one file, where the disk allows; else what is written stays in the file and its "-wal" beside it. */
static int shut(struct database *db) {
  int status = SQLITE_OK;
  if (!db->sql) return status;
  if (db->owner != getpid()) {              /* the parent has it: not even its locks may be touched */
    db->sql = NULL;
    return status;
  }
  for (struct cursor *c = db->open; c; c = c->next) {
    sqlite3_finalize(c->statement);
    c->of = NULL;
  }
  for (int i = 0; i < CACHED; i++) sqlite3_finalize(db->cached[i]);
  if (db->alone) status = sqlite3_exec(db->sql, "PRAGMA journal_mode=DELETE", NULL, NULL, NULL);
  sqlite3_close(db->sql);
  *db = (struct database){ .owner = db->owner };
  return status;
}

static int d_close(lua_State *L) {
  struct database *db = database_at(L, 1);
  const char *path = path_of(L, 1);
  const int status = shut(db);
  if (!status) return 0;
  return sl_raise(L, "F055", "make room on its disk; keep both files together: the next sweep joins them",
                  "the store '%s' could not be closed whole (%s); its last rows stand in '%s-wal'", path,
                  sqlite3_errstr(status), path);
}

static int d_gc(lua_State *L) {
  (void)shut(lua_touserdata(L, 1));
  return 0;
}

/* ---- statements -------------------------------------------------------------------------------------------------- */

/* One that nobody uses, or a new one.  Hand it back, or end it, before anything raises. */
static int take(struct database *db, const char *text, size_t n, sqlite3_stmt **out) {
  for (int i = 0; i < CACHED; i++) {
    sqlite3_stmt *s = db->cached[i];
    if (!s || strcmp(sqlite3_sql(s), text) != 0) continue;
    db->cached[i] = NULL;
    *out = s;
    return SQLITE_OK;
  }
  return sqlite3_prepare_v2(db->sql, text, (int)n + 1, out, NULL);
}

static void hand_back(struct database *db, sqlite3_stmt *s) {
  if (!s) return;
  sqlite3_reset(s);
  sqlite3_clear_bindings(s);
  sqlite3_finalize(db->cached[CACHED - 1]);
  memmove(&db->cached[1], &db->cached[0], (CACHED - 1) * sizeof *db->cached);
  db->cached[0] = s;
}

/* Values are looked at before: nothing raises here. */
static int bind(lua_State *L, sqlite3_stmt *s, int first, int last) {
  int status = SQLITE_OK;
  for (int i = first; i <= last && status == SQLITE_OK; i++) {
    const int at = i - first + 1;
    size_t n;
    const char *text;
    switch (lua_type(L, i)) {
      case LUA_TNUMBER:
        status = lua_isinteger(L, i) ? sqlite3_bind_int64(s, at, lua_tointeger(L, i))
                                     : sqlite3_bind_double(s, at, lua_tonumber(L, i));
        break;
      case LUA_TSTRING:
        text = lua_tolstring(L, i, &n);
        status = sqlite3_bind_text64(s, at, text, n, SQLITE_TRANSIENT, SQLITE_UTF8);
        break;
      default: status = sqlite3_bind_null(s, at);
    }
  }
  return status;
}

/* Pushes the values of the row at hand. */
static int push_row(lua_State *L, sqlite3_stmt *s) {
  const int columns = sqlite3_column_count(s);
  luaL_checkstack(L, columns, "a row");
  for (int i = 0; i < columns; i++)
    switch (sqlite3_column_type(s, i)) {
      case SQLITE_INTEGER: lua_pushinteger(L, sqlite3_column_int64(s, i)); break;
      case SQLITE_FLOAT: lua_pushnumber(L, sqlite3_column_double(s, i)); break;
      case SQLITE_NULL: lua_pushnil(L); break;
      default: {
        const char *text = sqlite3_column_blob(s, i);
        lua_pushlstring(L, text ? text : "", (size_t)sqlite3_column_bytes(s, i));
      }
    }
  return columns;
}

static void end_cursor(struct cursor *c) {
  if (!c->of) return;
  struct cursor **at = &c->of->open;
  while (*at != c) at = &(*at)->next;
  *at = c->next;
  if (c->of->owner == getpid()) hand_back(c->of, c->statement);
  c->of = NULL;
}

static int c_gc(lua_State *L) {
  end_cursor(lua_touserdata(L, 1));
  return 0;
}

/* (db, sql, ...) -> the statement with its values bound, in a cursor on top.  Whatever raises, it is closed later. */
static struct cursor *begin(lua_State *L) {
  struct database *db = open_at(L, 1);
  size_t n;
  const char *text = luaL_checklstring(L, 2, &n);
  const int last = lua_gettop(L);
  for (int i = 3; i <= last; i++) {
    const int type = lua_type(L, i);
    luaL_argexpected(L, type == LUA_TNIL || type == LUA_TNUMBER || type == LUA_TSTRING, i, "nil, number or string");
  }
  struct cursor *c = lua_newuserdatauv(L, sizeof *c, 1);
  *c = (struct cursor){ 0 };
  lua_rawgetp(L, LUA_REGISTRYINDEX, &CURSOR);
  lua_setmetatable(L, -2);
  lua_pushvalue(L, 1);                        /* keeps the database */
  lua_setiuservalue(L, -2, 1);
  int status = take(db, text, n, &c->statement);
  if (status) sl_database_raise(L, 1, status);
  c->of = db;
  c->next = db->open;
  db->open = c;
  const int wants = sqlite3_bind_parameter_count(c->statement);
  if (wants != last - 2) luaL_error(L, "this takes %d values, got %d: %s", wants, last - 2, text);
  status = bind(L, c->statement, 3, last);
  if (status) sl_database_raise(L, 1, status);
  return c;
}

/* The next row: true; at the end false, and raises what went wrong, in the database at idx. */
static bool step(lua_State *L, struct cursor *c, int idx) {
  const int status = sqlite3_step(c->statement);
  if (status == SQLITE_ROW) return true;
  if (status == SQLITE_DONE) {
    end_cursor(c);
    return false;
  }
  sqlite3 *sql = c->of->sql;
  const char *path = path_of(L, idx);
  return sl_database_fault(L, path, sql, status);
}

static int d_run(lua_State *L) {
  struct cursor *c = begin(L);
  while (step(L, c, 1)) continue;
  lua_pushinteger(L, sqlite3_changes64(open_at(L, 1)->sql));
  return 1;
}

static int d_one(lua_State *L) {
  struct cursor *c = begin(L);
  if (!step(L, c, 1)) return 0;
  const int columns = push_row(L, c->statement);
  end_cursor(c);
  return columns;
}

static int c_next(lua_State *L) {
  struct cursor *c = lua_touserdata(L, lua_upvalueindex(1));
  if (!c->of) return luaL_error(L, "the rows are at their end, or their database is closed");
  lua_settop(L, 0);
  lua_getiuservalue(L, lua_upvalueindex(1), 1);
  open_at(L, 1);
  return step(L, c, 1) ? push_row(L, c->statement) : 0;
}

/* The cursor is closed with the loop, however that ends. */
static int d_each(lua_State *L) {
  begin(L);
  lua_pushvalue(L, -1);
  lua_pushcclosure(L, c_next, 1);
  lua_insert(L, -2);
  lua_pushnil(L);
  lua_insert(L, -2);
  lua_pushnil(L);
  lua_insert(L, -2);
  return 4;
}

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

/* Pushes a database, closed as yet. */
static struct database *new_database(lua_State *L, const char *path) {
  struct database *db = lua_newuserdatauv(L, sizeof *db, 1);
  *db = (struct database){ .owner = getpid() };
  lua_rawgetp(L, LUA_REGISTRYINDEX, &DATABASE);
  lua_setmetatable(L, -2);
  lua_pushstring(L, path);
  lua_setiuservalue(L, -2, 1);
  return db;
}

static void want_file(lua_State *L, const char *path) {
  struct stat st;
  if (stat(path, &st) != 0)
    sl_raise(L, "F050", "the name of a store is that of the file, as in --store tilt.sweep",
             "the store '%s' cannot be opened (%s)", path, strerror(errno));
  if (S_ISDIR(st.st_mode))
    sl_raise(L, "F050", "name a file in it, as in --store tilt.sweep", "the store '%s' is a folder", path);
  if (!S_ISREG(st.st_mode)) sl_database_fault(L, path, NULL, SQLITE_NOTADB);
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

static int h_database(lua_State *L) {
  const char *path = luaL_checkstring(L, 1);
  const bool create = option(L, "create"), alone = option(L, "alone");
  struct database *db = new_database(L, path);
  const int at = lua_gettop(L);
  const bool fresh = create && access(path, F_OK) != 0;
  if (!fresh) want_file(L, path);
  connect(L, db, path, path, SQLITE_OPEN_READWRITE | (fresh ? SQLITE_OPEN_CREATE : 0), alone);
  int status = fresh ? mark_new(db) : SQLITE_OK;
  if (status) sl_database_fault(L, path, db->sql, status);
  want_store(L, db, path);
  if (alone) {
    status = hold_alone(db);
    if (status) sl_database_fault(L, path, db->sql, status);
    db->alone = true;
  }
  lua_settop(L, at);
  return 1;
}

/* ---- a new store ------------------------------------------------------------------------------------------------- */

static int cannot_make(lua_State *L, const char *path, int error) {
  return sl_raise(L, "F050", "a store needs a folder in which files may be made, as in --store tilt.sweep",
                  "the store '%s' cannot be made (%s)", path, strerror(error));
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

/* Protected: (path, fill, file, database) */
static int fill_new(lua_State *L) {
  const char *path = lua_tostring(L, 1), *file = lua_tostring(L, 3);
  struct database *db = lua_touserdata(L, 4);
  connect(L, db, file, path, SQLITE_OPEN_READWRITE, false);
  int status = simply(db, "BEGIN");
  if (!status) status = mark_new(db);
  if (status) sl_database_fault(L, path, db->sql, status);
  lua_pushvalue(L, 2);
  lua_pushvalue(L, 4);
  lua_call(L, 1, 0);
  status = simply(db, "COMMIT");
  if (status) sl_database_fault(L, path, db->sql, status);
  return 0;
}

static int h_database_new(lua_State *L) {
  const char *path = luaL_checkstring(L, 1);
  luaL_checktype(L, 2, LUA_TFUNCTION);
  lua_settop(L, 2);
  if (access(path, F_OK) == 0) {
    lua_pushboolean(L, false);
    return 1;
  }
  const char *file = push_temporary(L, path);
  struct database *db = new_database(L, path);
  lua_pushcfunction(L, fill_new);
  for (int i = 1; i <= 4; i++) lua_pushvalue(L, i);
  const bool filled = lua_pcall(L, 4, 0, 0) == LUA_OK;
  shut(db);
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

void sl_database_open(lua_State *L) {
  static const luaL_Reg methods[] = { { "run", d_run }, { "one", d_one }, { "each", d_each }, { "close", d_close },
                                      { NULL, NULL } };
  lua_newtable(L);
  luaL_newlib(L, methods);
  lua_setfield(L, -2, "__index");
  lua_pushcfunction(L, d_gc);
  lua_setfield(L, -2, "__gc");
  lua_pushcfunction(L, d_gc);
  lua_setfield(L, -2, "__close");
  lua_pushliteral(L, "database");
  lua_setfield(L, -2, "__name");
  lua_rawsetp(L, LUA_REGISTRYINDEX, &DATABASE);
  lua_newtable(L);
  lua_pushcfunction(L, c_gc);
  lua_setfield(L, -2, "__gc");
  lua_pushcfunction(L, c_gc);
  lua_setfield(L, -2, "__close");
  lua_rawsetp(L, LUA_REGISTRYINDEX, &CURSOR);
  lua_getglobal(L, "host");
  lua_pushcfunction(L, h_database);
  lua_setfield(L, -2, "database");
  lua_pushcfunction(L, h_database_new);
  lua_setfield(L, -2, "database_new");
  lua_pop(L, 1);
}
