/* SPDX-License-Identifier: MIT
 * Scripts: scanned and compiled once, and run as often as the job is declared anew. */
#include <stdlib.h>
#include <string.h>
#include "host/host.h"
#include "host/host_parts.h"
#include "host/kept.h"
#include "host/language.h"
#include "value/quantity.h"
#include "host/raise.h"
#include "box/sandbox.h"
#include "host/state.h"

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
    sl_complaint_push(L, source, &scan->bad[i]);
    if (told) lua_rawseti(L, -2, told);
    else lua_newtable(L);
    told++;
  }
  lua_setfield(L, -2, "more");
  lua_error(L);
}

/* A share is a plain number to Lua, which can keep no tolerance: it would be read and forgotten. */
static void refuse_lost_tolerance(lua_State *L, int source, struct sl_scan *scan) {
  for (size_t i = 0; i < scan->nk; i++) {
    const struct sl_const *k = &scan->k[i];
    if (k->kind != SL_CONST_QUANTITY || k->unit.dims.w != 0 || !(k->tolerance > 0)) continue;
    sl_error_push(L, "Q109", "leave the tolerance out, and try its ends with --set", "a share cannot keep a tolerance");
    sl_error_place(L, source, k->span);
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

/* Pushes what comes out of a scan, in front of it on the same line what takes the constants.  What is to be closed
 * keeps `return rack "a" { ... }` from being a tail call, which leaves no trace of the line that it stands on. */
static void push_rewritten(lua_State *L, const struct sl_scan *scan, bool constants) {
  luaL_Buffer b;
  luaL_buffinit(L, &b);
  luaL_addstring(&b, constants ? "local _K<close>,_K=nil,_K();" : "local _K<close> =nil;");
  luaL_addlstring(&b, scan->text, scan->len);
  luaL_pushresult(&b);
}

enum { BYTE_READ = 6 };             /* steps for a byte of a file that a script names: scanned, compiled */

/* ---- compiled ---------------------------------------------------------------------------------------------------- */

/* Scans the script whose kept table is on top, and puts its constants there: { k, version }.  Pushes the text that is
 * compiled. */
static void scan_script(lua_State *L, int source, const char *path) {
  const int kept = lua_gettop(L);
  const size_t length = strlen(path);
  size_t n;
  const char *text = sl_source_text(&sl_state_of(L)->sources, source, &n);
  want_text(L, source, text, n);
  if (sl_kept_too_long(L, source, "break it behind a comma or a bracket: a table may stand on many lines"))
    lua_error(L);
  lua_pushinteger(L, refuse_later_language(L, source, text, n));
  lua_setfield(L, kept, "version");
  if (length > 4 && strcmp(path + length - 4, ".lua") == 0) {
    lua_pushlstring(L, text, n);
    return;
  }
  struct sl_scan scan;
  sl_sandbox_charge(L, BYTE_READ * (long long)n);
  if (!sl_scan_in(sl_sandbox_box(L), text, n, &scan)) sl_sandbox_no_memory(L);
  if (scan.nbad) complain(L, source, &scan);
  refuse_lost_tolerance(L, source, &scan);
  if (scan.nk) {
    lua_createtable(L, (int)scan.nk, 0);
    for (size_t i = 0; i < scan.nk; i++) {
      sl_const_push(L, &scan.k[i], sl_origin(source, i));
      lua_rawseti(L, -2, (lua_Integer)i + 1);
    }
    lua_setfield(L, kept, "k");
  }
  push_rewritten(L, &scan, scan.nk > 0);
  sl_source_scanned(&sl_state_of(L)->sources, source, &scan);
}

/* Compiles the text on top, and pushes the function in its place. */
static void compile(lua_State *L, int source, const char *path) {
  size_t n;
  const char *text = lua_tolstring(L, -1, &n);
  lua_pushfstring(L, "@%s", path);
  if (sl_sandbox_load(L, text, n, lua_tostring(L, -1))) {
    if (!sl_sandbox_abort(L)) sl_error_uncompiled(L, source);
    lua_error(L);
  }
  lua_replace(L, -3);
  lua_pop(L, 1);
}

struct dumping { bool open; luaL_Buffer b; };

static int put_code(lua_State *L, const void *code, size_t n, void *to) {
  struct dumping *d = to;
  if (!d->open) luaL_buffinit(L, &d->b);
  d->open = true;
  luaL_addlstring(&d->b, code, n);
  return 0;
}

/* (function) -> its code, with all that messages need. */
static int code_of(lua_State *L) {
  struct dumping d = { .open = false };
  lua_settop(L, 1);
  if (lua_dump(L, put_code, &d, 0)) return luaL_error(L, "a script cannot be kept");
  luaL_pushresult(&d.b);
  return 1;
}

/* Pushes a function of its own, which shares no upvalue with another, of what is kept under a name in the table at
 * `kept`: a function is run once, and its code from then on.  False, and nothing: there is none. */
static bool push_function(lua_State *L, int kept, const char *name, const char *path) {
  const int type = lua_getfield(L, kept, name);
  if (type == LUA_TNIL) return lua_pop(L, 1), false;
  if (type == LUA_TFUNCTION) {
    lua_pushcfunction(L, code_of);
    lua_insert(L, -2);
    lua_call(L, 1, 1);
    lua_pushvalue(L, -1);
    lua_setfield(L, kept, name);
  }
  size_t n;
  const char *code = lua_tolstring(L, -1, &n);
  lua_pushfstring(L, "@%s", path);
  if (luaL_loadbufferx(L, code, n, lua_tostring(L, -1), "b")) lua_error(L);
  lua_replace(L, -3);
  lua_pop(L, 1);
  return true;
}

/* ---- other literals ---------------------------------------------------------------------------------------------- */

static lua_Integer integer_at(lua_State *L, int idx, const char *name) {
  lua_getfield(L, idx, name);
  const lua_Integer i = lua_tointeger(L, -1);
  lua_pop(L, 1);
  return i;
}

/* Pushes the function of the script with Lua's own literals at these bytes as constants, too. Kept until others are
 * asked for. */
static void push_opened(lua_State *L, int kept, int source, const char *path, const size_t *at, size_t n) {
  size_t len;
  lua_pushlstring(L, (const char *)at, n * sizeof *at);
  if (lua_getfield(L, kept, "opened at") == LUA_TSTRING && lua_rawequal(L, -1, -2)) {
    lua_pop(L, 2);
    push_function(L, kept, "opened", path);
    return;
  }
  lua_pop(L, 1);
  const char *text = sl_source_text(&sl_state_of(L)->sources, source, &len);
  struct sl_scan scan;
  if (!sl_scan_open_in(sl_sandbox_box(L), text, len, at, n, &scan)) sl_sandbox_no_memory(L);
  push_rewritten(L, &scan, true);
  sl_scan_free(&scan);
  compile(L, source, path);
  lua_pushvalue(L, -1);
  lua_setfield(L, kept, "opened");
  lua_insert(L, -2);
  lua_setfield(L, kept, "opened at");
}

/* The value at idx in the place of constant k of a text, which its place and its tolerance stay with. */
static void push_moved(lua_State *L, int idx, int source, lua_Integer k) {
  const struct sl_quantity *q = sl_quantity_at(L, idx);
  if (!q) {
    lua_pushvalue(L, idx);
    return;
  }
  struct sl_quantity moved = *q;
  moved.origin = sl_origin(source, (size_t)k - 1);
  sl_quantity_push(L, moved);
}

/* changes: { { k, value } or { at, value } ... }.  Pushes the constants, and above them the function that takes them:
 * those of the script as it stands are never changed. */
static void push_changed(lua_State *L, int kept, int source, const char *path, int changes) {
  const size_t n = lua_rawlen(L, changes);
  size_t *at = lua_newuserdatauv(L, (n + 1) * sizeof *at, 0), opened = 0;
  lua_newtable(L);
  const int constants = lua_gettop(L);
  lua_Integer nk = 0;
  if (lua_getfield(L, kept, "k") == LUA_TTABLE)
    for (nk = (lua_Integer)lua_rawlen(L, -1); nk > 0; nk--) {
      lua_rawgeti(L, -1, nk);
      lua_rawseti(L, constants, nk);
    }
  nk = lua_istable(L, -1) ? (lua_Integer)lua_rawlen(L, -1) : 0;
  lua_pop(L, 1);
  for (size_t i = 1; i <= n; i++) {
    lua_rawgeti(L, changes, (lua_Integer)i);
    const int change = lua_gettop(L);
    const lua_Integer k = integer_at(L, change, "k");
    if (k == 0) at[opened++] = (size_t)integer_at(L, change, "at");
    lua_getfield(L, change, "value");
    if (k > 0) push_moved(L, change + 1, source, k);
    lua_rawseti(L, constants, k > 0 ? k : nk + (lua_Integer)opened);
    lua_settop(L, change - 1);
  }
  if (opened) push_opened(L, kept, source, path, at, opened);
  else push_function(L, kept, "chunk", path);
}

/* ---- load -------------------------------------------------------------------------------------------------------- */

/* load(path, env[, changes]): a script as a function; plain Lua where the name ends in .lua.  changes: other values for
 * some of its literals, as host.spot finds them.  Returns function, source id, and the version of the language that it
 * says it is written for, or 0. */
static int h_load(lua_State *L) {
  const char *path = luaL_checkstring(L, 1);
  luaL_checktype(L, 2, LUA_TTABLE);
  lua_settop(L, 3);
  const int source = sl_kept_file(L, path, true), kept = lua_gettop(L);
  const char *name = sl_source_name(&sl_state_of(L)->sources, source);      /* by which messages find the text */
  bool first = lua_getfield(L, kept, "chunk") == LUA_TNIL;
  lua_pop(L, 1);
  if (first) {
    scan_script(L, source, path);
    compile(L, source, name);
    lua_pushvalue(L, -1);
    lua_setfield(L, kept, "chunk");
  }
  if (lua_istable(L, 3)) push_changed(L, kept, source, name, 3);
  else {
    lua_getfield(L, kept, "k");
    if (first) lua_pushvalue(L, -2);
    else push_function(L, kept, "chunk", name);
  }
  const int function = lua_gettop(L);
  if (lua_istable(L, function - 1)) {
    lua_pushliteral(L, "_K");
    lua_pushvalue(L, function - 1);
    lua_pushcclosure(L, give_constants, 1);
    lua_rawset(L, 2);                                      /* env._K; the scanner lets no script say that name */
  }
  lua_pushvalue(L, 2);
  lua_setupvalue(L, function, 1);
  lua_pushinteger(L, source);
  lua_getfield(L, kept, "version");
  return 3;
}

/* ---- literals by their place ------------------------------------------------------------------------------------- */

static const char *const spot_kinds[] = { [SL_SPOT_CONST] = "constant", [SL_SPOT_NUMBER] = "number",
                                          [SL_SPOT_TEXT] = "text", [SL_SPOT_FLAG] = "flag" };

/* spot(path, line, col): the literal there, else the nearest one: { hit, kind, source, line, col, len, text, at, k,
 * value }, text as it is written; k and value of a constant, at of any other.  nil: the file has none. */
static int h_spot(lua_State *L) {
  const char *path = luaL_checkstring(L, 1);
  const int line = (int)luaL_checkinteger(L, 2), col = (int)luaL_checkinteger(L, 3);
  const int source = sl_kept_file(L, path, false);
  size_t n;
  const char *text = sl_source_text(&sl_state_of(L)->sources, source, &n);
  const struct sl_spots *spots = sl_source_spots(&sl_state_of(L)->sources, source);
  if (!spots) sl_sandbox_no_memory(L);
  bool hit;
  const struct sl_spot *spot = sl_spots_near(spots, line, col, &hit);
  if (!spot) return 0;
  lua_createtable(L, 0, 9);
  lua_pushboolean(L, hit);
  lua_setfield(L, -2, "hit");
  lua_pushstring(L, spot_kinds[spot->kind]);
  lua_setfield(L, -2, "kind");
  lua_pushinteger(L, source);
  lua_setfield(L, -2, "source");
  lua_pushinteger(L, spot->span.line);
  lua_setfield(L, -2, "line");
  lua_pushinteger(L, spot->span.col);
  lua_setfield(L, -2, "col");
  lua_pushinteger(L, spot->span.len);
  lua_setfield(L, -2, "len");
  lua_pushlstring(L, text + spot->at, spot->len);
  lua_setfield(L, -2, "text");
  if (spot->kind != SL_SPOT_CONST) {
    lua_pushinteger(L, (lua_Integer)spot->at);
    lua_setfield(L, -2, "at");
    return 1;
  }
  lua_pushinteger(L, (lua_Integer)spot->k + 1);
  lua_setfield(L, -2, "k");
  sl_const_push(L, &spots->k[spot->k], 0);
  lua_setfield(L, -2, "value");
  return 1;
}

const luaL_Reg sl_host_scripts[] = { { "load", h_load }, { "spot", h_spot }, { NULL, NULL } };
