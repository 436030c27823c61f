/* SPDX-License-Identifier: MIT
 * The database that a sweep is kept in, as the host's own Lua sees it: see database.h. */
#include "sweep/database.h"

#include <lauxlib.h>
#include <stdbool.h>
#include <string.h>
#include <unistd.h>
#include "host/raise.h"
#include "host/state.h"
#include "host/text.h"
#include "sweep/connection.h"
#include "sweep/sweep.h"

static const char DATABASE = 'd', CURSOR = 'c';    /* registry keys of the metatables */
static const char ALL = 'a';                       /* and of a table whose keys are the databases of this state */

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

struct database *sl_database_new(lua_State *L, const char *path) {
  struct database *db = lua_newuserdatauv(L, sizeof *db, 1);
  *db = (struct database){ .owner = getpid() };
  lua_rawgetp(L, LUA_REGISTRYINDEX, &DATABASE);
  lua_setmetatable(L, -2);
  lua_pushstring(L, path);
  lua_setiuservalue(L, -2, 1);
  lua_rawgetp(L, LUA_REGISTRYINDEX, &ALL);
  lua_pushvalue(L, -2);
  lua_pushboolean(L, true);
  lua_rawset(L, -3);
  lua_pop(L, 1);
  return db;
}

int sl_database_shut(struct database *db) {
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
  for (int i = 0; i < SL_CACHED; i++) sqlite3_finalize(db->cached[i]);
  if (db->alone) status = sqlite3_exec(db->sql, "PRAGMA journal_mode=DELETE", NULL, NULL, NULL);
  sqlite3_close(db->sql);
  *db = (struct database){ .owner = db->owner };
  return status;
}

static int d_close(lua_State *L) {
  struct database *db = database_at(L, 1);
  const char *path = path_of(L, 1);
  if (db->sql && db->alone && db->owner == getpid() && sl_database_moved(db->sql)) {
    (void)sl_database_shut(db);
    return sl_database_fault(L, path, NULL, SQLITE_READONLY_DBMOVED);
  }
  const int status = sl_database_shut(db);
  if (!status) return 0;
  return sl_raise(L, "F055", "make room on its disk; keep both files together: the next sweep joins them",
                  "the store '%s' could not be closed whole (%s); its last rows stand in '%s-wal'", path,
                  (status & 0xff) == SQLITE_NOMEM ? SL_NO_MEMORY : sqlite3_errstr(status), path);
}

bool sl_database_moved(sqlite3 *sql) {
  int moved = 0;
  return sqlite3_file_control(sql, "main", SQLITE_FCNTL_HAS_MOVED, &moved) == SQLITE_OK && moved;
}

/* Every page is looked at, and every row held against what its table says. */
static int d_check(lua_State *L) {
  struct database *db = open_at(L, 1);
  sqlite3_stmt *s = NULL;
  char said[200] = "ok";
  int status = sqlite3_prepare_v2(db->sql, "PRAGMA quick_check(1)", -1, &s, NULL);
  if (!status && (status = sqlite3_step(s)) == SQLITE_ROW) {
    const char *words = (const char *)sqlite3_column_text(s, 0);
    SL_SAY(said, "%s", words ? words : SL_NO_MEMORY);
    status = SQLITE_OK;
  }
  sqlite3_finalize(s);
  if (status) return sl_database_raise(L, 1, status);
  return strcmp(said, "ok") == 0 ? 0 : sl_database_damaged(L, path_of(L, 1), said);
}

static int d_gc(lua_State *L) {
  (void)sl_database_shut(lua_touserdata(L, 1));
  return 0;
}

/* Finalisers do not run where a state goes. */
static void shut_all(lua_State *L) {
  lua_settop(L, 0);
  lua_rawgetp(L, LUA_REGISTRYINDEX, &ALL);
  for (lua_pushnil(L); lua_next(L, 1); lua_pop(L, 1)) (void)sl_database_shut(lua_touserdata(L, 2));
}

/* ---- statements -------------------------------------------------------------------------------------------------- */

/* One that nobody uses, or a new one.  Hand it back, or end it, before anything raises. */
static int take(struct database *db, const char *text, size_t n, sqlite3_stmt **out) {
  for (int i = 0; i < SL_CACHED; i++) {
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
  sqlite3_finalize(db->cached[SL_CACHED - 1]);
  memmove(&db->cached[1], &db->cached[0], (SL_CACHED - 1) * sizeof *db->cached);
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

void sl_database_open(lua_State *L) {
  static const luaL_Reg methods[] = { { "run", d_run }, { "one", d_one }, { "each", d_each }, { "check", d_check },
                                      { "close", d_close }, { NULL, NULL } };
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
  lua_newtable(L);
  lua_rawsetp(L, LUA_REGISTRYINDEX, &ALL);
  sl_state_of(L)->leaving = shut_all;
  lua_getglobal(L, "host");
  lua_pushcfunction(L, sl_database_of);
  lua_setfield(L, -2, "database");
  lua_pushcfunction(L, sl_database_made);
  lua_setfield(L, -2, "database_new");
  lua_pop(L, 1);
}
