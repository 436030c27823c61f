/* SPDX-License-Identifier: MIT
 * Files that a script names: found, scanned, compiled, or read as rows. */
#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#include "host/csv.h"
#include "host/host.h"
#include "host/host_parts.h"
#include "host/identity.h"
#include "host/language.h"
#include "value/quantity.h"
#include "host/raise.h"
#include "box/sandbox.h"
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
  const char *name = luaL_checklstring(L, 1, &n), *ending = luaL_optstring(L, 2, "");
  if (n == 0 || n != strlen(name) || name[0] == '/' || strcmp(name, "..") == 0 || strncmp(name, "../", 3) == 0 ||
      strstr(name, "/../") || (n >= 3 && strcmp(name + n - 3, "/..") == 0) || strchr(name, '\\'))
    return sl_raise(L, "F020", "files are named from the job's folder, as in parts/modules.csv",
                    "the name '%s' leads out of the job's folder", name);
  const char *folder = job_folder(L);
  if (*folder) lua_pushfstring(L, "%s/%s%s", folder, name, ending);
  else lua_pushfstring(L, "%s%s", name, ending);
  const char *first = lua_tostring(L, -1);
  if (access(first, F_OK) == 0) return 1;
  const char *path = sl_state_of(L)->host->path;
  while (path && *path) {
    size_t length = strcspn(path, ":");
    if (length) {
      lua_pushlstring(L, path, length);
      lua_pushfstring(L, "%s/%s%s", lua_tostring(L, -1), name, ending);
      if (access(lua_tostring(L, -1), F_OK) == 0) return 1;
      lua_pop(L, 2);
    }
    path += length + (path[length] == ':');
  }
  lua_pushnil(L);
  lua_pushstring(L, first);
  return 2;
}

/* Reads a file into the sources; raises where it cannot. Returns the id. What the job is made from is kept by name. */
static int read_source(lua_State *L, const char *path, bool of_job) {
  static const char looked_for[] = "files are looked for in the job's folder, then in those of STRINGLINE_PATH";
  char why[512];
  char *text;
  size_t n;
  struct sl_reads *reads = sl_state_of(L)->host->reads;
  if (reads && !sl_reads_note(reads, path))
    sl_raise(L, "F023", "write to another file, as in -o report.txt",
             "this run reads '%s', and its output '%s' is the same file", path, sl_reads_output(reads));
  if (!sl_file_read(path, &text, &n, why, sizeof why))
    sl_raise(L, "F021", of_job && strstr(why, "no such") ? looked_for : NULL,
             "cannot read %s: %s", path, why);
  int source = sl_source_add(&sl_state_of(L)->sources, path, text, n);
  if (of_job) sl_identity_read(L, path, text, n);
  free(text);
  if (source == 0) luaL_error(L, "not enough memory");
  if (source < 0) sl_raise(L, "F022", NULL, "more than %d files in one job", SL_SOURCES);
  return source;
}

static void complaint(lua_State *L, int source, const struct sl_complaint *c) {
  sl_error_push(L, c->code, *c->help ? c->help : NULL, "%s", c->text);
  sl_error_place(L, source, c->span);
}

/* _K(): the constants of a file, once, to its own first line. */
static int give_constants(lua_State *L) {
  lua_pushvalue(L, lua_upvalueindex(1));
  lua_pushnil(L);
  lua_replace(L, lua_upvalueindex(1));
  return 1;
}

/* A file that is no text for a script at all: one complaint, not one for each byte. */
static void want_text(lua_State *L, int source, const char *text, size_t n) {
  const char *what = NULL, *help = "save the file as UTF-8";
  if (n >= 2 && (memcmp(text, "\xFF\xFE", 2) == 0 || memcmp(text, "\xFE\xFF", 2) == 0))
    what = "the file is UTF-16; it has to be UTF-8";
  else if (n >= 4 && memcmp(text, LUA_SIGNATURE, 4) == 0) {
    what = "this is compiled Lua, not a script";
    help = "only text is run: name the script that it was made from";
  } else if (n >= 4 && (memcmp(text, "PK\3\4", 4) == 0 || memcmp(text, "\xD0\xCF\x11\xE0", 4) == 0)) {
    what = "this is an office program's own file, not plain text";
    help = "save it there as plain text (UTF-8)";
  }
  if (!what) return;
  sl_error_push(L, "F012", help, "%s", what);
  sl_error_place(L, source, (struct sl_span){ 0, 0, 0 });
  lua_error(L);
}

/* Whether another complaint only follows from a string that is not closed, or says again that bytes are no text. */
static bool follows(const struct sl_scan *scan, size_t i) {
  const struct sl_complaint *c = &scan->bad[i];
  for (size_t j = 0; j < scan->nbad; j++) {
    if (strcmp(scan->bad[j].code, "Q125") == 0 && strcmp(c->code, "Q125") != 0) return true;
    if (j < i && strcmp(c->code, "Q131") == 0 && strcmp(scan->bad[j].code, "Q131") == 0) return true;
  }
  return false;
}

/* Raises the first of the scanner's complaints, the others with it. */
static void complain(lua_State *L, int source, struct sl_scan *scan) {
  lua_Integer told = 0;
  for (size_t i = 0; i < scan->nbad; i++) {
    if (follows(scan, i)) continue;
    complaint(L, source, &scan->bad[i]);
    if (told) lua_rawseti(L, -2, told);
    else lua_newtable(L);
    told++;
  }
  lua_setfield(L, -2, "more");
  sl_scan_free(scan);
  lua_error(L);
}

/* A share is a plain number to Lua, which can keep no tolerance: it would be read and forgotten. */
static void refuse_lost_tolerance(lua_State *L, int source, struct sl_scan *scan) {
  for (size_t i = 0; i < scan->nk; i++) {
    const struct sl_const *k = &scan->k[i];
    if (k->kind != SL_CONST_QUANTITY || k->unit.dims.w != 0 || !(k->tolerance > 0)) continue;
    sl_error_push(L, "Q109", "leave the tolerance out, and try its ends with --set", "a share cannot keep a tolerance");
    sl_error_place(L, source, k->span);
    sl_scan_free(scan);
    lua_error(L);
  }
}

/* The version that the file is written for, 0 where it names none.  Raises where it is a later one. */
static long refuse_later_language(lua_State *L, int source, const char *text, size_t n) {
  struct sl_span span;
  long version;
  if (!sl_language_named(text, n, &version, &span)) return 0;
  if (version > SL_LANGUAGE) {
    sl_error_push(L, "E005",
                  "get a stringline that knows it; if the file needs nothing that is new there, write language \"1\"",
                  "this is written for version %ld of the language, and stringline " SL_VERSION " knows version %d",
                  version, SL_LANGUAGE);
    sl_error_place(L, source, span);
    lua_error(L);
  }
  return version;
}

/* load(path, env): scans and compiles a script; plain Lua where the name ends in .lua. Returns function, source id, and
 * the version of the language that it says it is written for, or 0. */
static int h_load(lua_State *L) {
  const char *path = luaL_checkstring(L, 1);
  size_t length = strlen(path), n;
  luaL_checktype(L, 2, LUA_TTABLE);
  int source = read_source(L, path, true);
  const char *text = sl_source_text(&sl_state_of(L)->sources, source, &n);
  want_text(L, source, text, n);
  long version = refuse_later_language(L, source, text, n);
  bool plain = length > 4 && strcmp(path + length - 4, ".lua") == 0;
  struct sl_scan scan;
  if (!plain) {
    if (!sl_scan(text, n, &scan)) return luaL_error(L, "not enough memory");
    if (scan.nbad) complain(L, source, &scan);
    refuse_lost_tolerance(L, source, &scan);
    if (scan.nk) {
      lua_createtable(L, (int)scan.nk, 0);
      for (size_t i = 0; i < scan.nk; i++) {
        sl_const_push(L, &scan.k[i], sl_origin(source, i));
        lua_rawseti(L, -2, (lua_Integer)i + 1);
      }
      lua_pushcclosure(L, give_constants, 1);
      lua_pushliteral(L, "_K");
      lua_insert(L, -2);
      lua_rawset(L, 2);                                    /* env._K; the scanner lets no script say that name */
    }
    luaL_Buffer b;
    luaL_buffinit(L, &b);
    if (scan.nk) luaL_addstring(&b, "local _K=_K();");
    luaL_addlstring(&b, scan.text, scan.len);
    luaL_pushresult(&b);
    sl_source_scanned(&sl_state_of(L)->sources, source, &scan);
    text = lua_tolstring(L, -1, &n);
  }
  lua_pushfstring(L, "@%s", path);
  if (sl_sandbox_load(L, text, n, lua_tostring(L, -1))) {
    if (!sl_sandbox_abort(L)) sl_error_uncompiled(L, source);
    return lua_error(L);
  }
  lua_pushvalue(L, 2);
  lua_setupvalue(L, -2, 1);
  lua_pushinteger(L, source);
  lua_pushinteger(L, version);
  return 3;
}

/* csv(path): { source, head = { cell ... }, rows = { { cell ... } ... } }, cell = { text, line, col, len } */
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

/* Raises at the first cell with a text that cannot be shown; frees the list before. */
static void want_plain_cells(lua_State *L, int source, struct sl_csv *csv) {
  for (size_t i = 0; i < (csv->rows + 1) * csv->columns; i++) {
    const struct sl_csv_cell *cell = &csv->head[i];               /* the rows follow the heading */
    char what[400];
    const char *help = sl_unsafe_words(what, sizeof what, cell->text, cell->len);
    if (!help) continue;
    const struct sl_span span = cell->span;
    sl_csv_free(csv);
    sl_error_push(L, "F017", help, "a cell holds %s", what);
    sl_error_place(L, source, span);
    lua_error(L);
  }
}

static int h_csv(lua_State *L) {
  const char *path = luaL_checkstring(L, 1);
  int source = read_source(L, path, true);
  size_t n;
  const char *text = sl_source_text(&sl_state_of(L)->sources, source, &n);
  struct sl_csv csv;
  struct sl_complaint bad;
  if (!sl_csv_read(text, n, &csv, &bad)) {
    complaint(L, source, &bad);
    return lua_error(L);
  }
  want_plain_cells(L, source, &csv);
  lua_newtable(L);
  lua_pushinteger(L, source);
  lua_setfield(L, -2, "source");
  lua_createtable(L, (int)csv.columns, 0);
  for (size_t c = 0; c < csv.columns; c++) {
    push_cell(L, &csv.head[c]);
    lua_rawseti(L, -2, (lua_Integer)c + 1);
  }
  lua_setfield(L, -2, "head");
  lua_createtable(L, (int)csv.rows, 0);
  for (size_t r = 0; r < csv.rows; r++) {
    lua_createtable(L, (int)csv.columns, 0);
    for (size_t c = 0; c < csv.columns; c++) {
      push_cell(L, sl_csv_at(&csv, r, c));
      lua_rawseti(L, -2, (lua_Integer)c + 1);
    }
    lua_rawseti(L, -2, (lua_Integer)r + 1);
  }
  lua_setfield(L, -2, "rows");
  sl_csv_free(&csv);
  return 1;
}

/* read(path) -> its text, without a byte order mark; raises where it cannot be read. */
static int h_read(lua_State *L) {
  size_t n;
  int source = read_source(L, luaL_checkstring(L, 1), false);
  const char *text = sl_source_text(&sl_state_of(L)->sources, source, &n);
  lua_pushlstring(L, text, n);
  return 1;
}

const luaL_Reg sl_host_files[] = {
  { "find", h_find }, { "beside", h_beside }, { "read", h_read }, { "load", h_load }, { "csv", h_csv },
  { NULL, NULL },
};
