/* SPDX-License-Identifier: MIT
 * Files that a script names: found, read as rows or as they are. */
#include <string.h>
#include "box/sandbox.h"
#include "host/csv.h"
#include "host/host.h"
#include "host/host_parts.h"
#include "host/kept.h"
#include "host/raise.h"
#include "host/state.h"
#include "host/text.h"

/* ---- files ------------------------------------------------------------------------------------------------------- */

static const char BESIDE = 'b';     /* registry key: see beside */

/* beside(script): files are looked for in the folder of this script from now on, not in that of the command line. */
static int h_beside(lua_State *L) {
  const char *path = luaL_checkstring(L, 1), *slash = strrchr(path, '/');
  lua_pushlstring(L, path, slash ? (size_t)(slash - path) + (slash == path) : 0);
  lua_rawsetp(L, LUA_REGISTRYINDEX, &BESIDE);
  return 0;
}

/* Pushed as well, so that it stays. */
static const char *job_folder(lua_State *L) {
  if (lua_rawgetp(L, LUA_REGISTRYINDEX, &BESIDE) == LUA_TSTRING) return lua_tostring(L, -1);
  lua_pop(L, 1);
  return lua_pushstring(L, sl_state_of(L)->host->folder);
}

/* find(name, ending): the path of a file that a script names: job folder first, then those of the path. nil: nowhere;
 * then the second value is the path in the job folder. */
static int h_find(lua_State *L) {
  size_t n;
  const char *stem = luaL_checklstring(L, 1, &n), *ending = luaL_optstring(L, 2, "");
  if (n == 0)
    return sl_raise(L, "F020", "files are named from the job's folder, as in parts/modules.csv", "no file is named: ''");
  if (n != strlen(stem) || stem[0] == '/' || strcmp(stem, "..") == 0 || strncmp(stem, "../", 3) == 0 ||
      strstr(stem, "/../") || (n >= 3 && strcmp(stem + n - 3, "/..") == 0) || strchr(stem, '\\'))
    return sl_raise(L, "F020", "files are named from the job's folder, as in parts/modules.csv",
                    "the name '%s' leads out of the job's folder", stem);
  const char *name = lua_pushfstring(L, "%s%s", stem, ending), *folder = job_folder(L);
  if (sl_kept_find(L, folder, name)) return 1;
  const int nowhere = lua_gettop(L);
  const char *path = sl_state_of(L)->host->path;
  while (path && *path) {
    const size_t length = strcspn(path, ":");
    if (length) {
      if (sl_kept_find(L, lua_pushlstring(L, path, length), name)) return 1;
      lua_pop(L, 2);
    }
    path += length + (path[length] == ':');
  }
  lua_pushnil(L);
  lua_pushvalue(L, nowhere);
  return 2;
}

/* csv(path): { source, head = { cell ... }, rows = { { cell ... } ... }, bad = { error ... } }, cell = { text, line,
 * col, len }; bad: of rows that are left out. */
static void push_cell(lua_State *L, const struct sl_csv_cell *c) {
  lua_createtable(L, 0, 4);
  lua_pushlstring(L, c->text, c->len);
  lua_setfield(L, -2, "text");
  lua_pushinteger(L, c->span.line);
  lua_setfield(L, -2, "line");
  lua_pushinteger(L, c->span.col);
  lua_setfield(L, -2, "col");
  lua_pushinteger(L, c->span.len);
  lua_setfield(L, -2, "len");
}

static void push_cells(lua_State *L, const struct sl_csv_cell *cell, size_t n) {
  lua_createtable(L, (int)n, 0);
  for (size_t i = 0; i < n; i++) {
    push_cell(L, &cell[i]);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
}

/* Pushes an error for the first of these cells with a text that cannot be shown; false: all can be. */
static bool push_unsafe(lua_State *L, int source, const struct sl_csv_cell *cell, size_t n) {
  for (size_t i = 0; i < n; i++) {
    char what[400];
    const char *help = sl_unsafe_words(what, sizeof what, cell[i].text, cell[i].len);
    if (!help) continue;
    sl_error_push(L, "F017", help, "a cell holds %s", what);
    sl_error_place(L, source, cell[i].span);
    return true;
  }
  return false;
}

/* Of a list that was read: the table. */
static void push_rows(lua_State *L, int source, const struct sl_csv *csv) {
  lua_newtable(L);
  lua_pushinteger(L, source);
  lua_setfield(L, -2, "source");
  push_cells(L, csv->head, csv->columns);
  lua_setfield(L, -2, "head");
  lua_newtable(L);
  lua_Integer bad = 0, rows = 0;
  for (size_t i = 0; i < csv->nbad; i++) {
    sl_complaint_push(L, source, &csv->bad[i]);
    lua_rawseti(L, -2, ++bad);
  }
  lua_createtable(L, (int)csv->rows, 0);
  for (size_t r = 0; r < csv->rows; r++) {
    const struct sl_csv_cell *row = sl_csv_at(csv, r, 0);
    if (push_unsafe(L, source, row, csv->columns)) lua_rawseti(L, -3, ++bad);
    else {
      push_cells(L, row, csv->columns);
      lua_rawseti(L, -2, ++rows);
    }
  }
  lua_setfield(L, -3, "rows");
  lua_setfield(L, -2, "bad");
}

static void read_rows(lua_State *L, int source) {
  enum { BYTE_READ = 2 };           /* steps; what is made of the cells costs memory */
  size_t n;
  const char *text = sl_source_text(&sl_state_of(L)->sources, source, &n);
  struct sl_csv csv;
  struct sl_complaint bad;
  sl_sandbox_charge(L, BYTE_READ * (long long)n);
  if (!sl_csv_read_in(sl_sandbox_box(L), text, n, &csv, &bad)) {
    if (sl_sandbox_abort(L)) sl_sandbox_no_memory(L);
    sl_complaint_push(L, source, &bad);
    lua_error(L);
  }
  static const char long_row[] = "a row is one line, and its cells are names and values: is this file a list of rows?";
  if (sl_kept_too_long(L, source, long_row) || push_unsafe(L, source, csv.head, csv.columns)) {
    sl_csv_free(&csv);
    lua_error(L);
  }
  push_rows(L, source, &csv);
  sl_csv_free(&csv);
}

/* The rows are the same table for whoever asks again. */
static int h_csv(lua_State *L) {
  const int source = sl_kept_file(L, luaL_checkstring(L, 1), true);
  if (lua_getfield(L, -1, "rows") == LUA_TTABLE) return 1;
  lua_pop(L, 1);
  read_rows(L, source);
  lua_pushvalue(L, -1);
  lua_setfield(L, -3, "rows");
  return 1;
}

/* read(path) -> its text, without a byte order mark, and whether one stood there; raises where it cannot be read. */
static int h_read(lua_State *L) {
  size_t n;
  int source = sl_kept_file(L, luaL_checkstring(L, 1), false);
  const char *text = sl_source_text(&sl_state_of(L)->sources, source, &n);
  lua_pushlstring(L, text, n);
  lua_pushboolean(L, sl_source_bom(&sl_state_of(L)->sources, source));
  return 2;
}

/* overlaid({ { path, text } ... }, f) -> what f() gives while these texts are read in the place of their files. */
static int h_overlaid(lua_State *L) {
  luaL_checktype(L, 1, LUA_TTABLE);
  luaL_checktype(L, 2, LUA_TFUNCTION);
  lua_settop(L, 2);
  lua_newtable(L);                                         /* what was kept of them */
  const lua_Integer n = (lua_Integer)lua_rawlen(L, 1);
  for (lua_Integer i = 1; i <= n; i++) {
    lua_rawgeti(L, 1, i);
    lua_getfield(L, 4, "path");
    lua_getfield(L, 4, "text");
    size_t length;
    const char *path = luaL_checkstring(L, 5), *text = luaL_checklstring(L, 6, &length);
    if (!sl_kept_lay_over(L, 3, path, text, length)) {
      sl_kept_take_off(L, 3);
      return sl_raise(L, "F022", NULL, "more than %d files in one job", SL_SOURCES);
    }
    lua_settop(L, 3);
  }
  lua_pushvalue(L, 2);
  const int status = lua_pcall(L, 0, LUA_MULTRET, 0);
  sl_kept_take_off(L, 3);
  return status ? lua_error(L) : lua_gettop(L) - 3;
}

const luaL_Reg sl_host_files[] = {
  { "find", h_find }, { "beside", h_beside }, { "read", h_read }, { "csv", h_csv },
  { "overlaid", h_overlaid },
  { NULL, NULL },
};
