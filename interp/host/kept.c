/* SPDX-License-Identifier: MIT
 * Files read once a state. */
#include "host/kept.h"
#include <stdlib.h>
#include <string.h>
#include "host/csv.h"
#include "host/host.h"
#include "host/identity.h"
#include "host/raise.h"
#include "host/sha256.h"
#include "host/state.h"
#include "host/text.h"

static const char KEPT = 'f';       /* registry key: path -> the table */

static void push_all(lua_State *L) {
  if (lua_rawgetp(L, LUA_REGISTRYINDEX, &KEPT) == LUA_TTABLE) return;
  lua_pop(L, 1);
  lua_newtable(L);
  lua_pushvalue(L, -1);
  lua_rawsetp(L, LUA_REGISTRYINDEX, &KEPT);
}

/* Pushes the table of a path, new where there is none. */
static void push_kept(lua_State *L, const char *path) {
  push_all(L);
  if (lua_getfield(L, -1, path) != LUA_TTABLE) {
    lua_pop(L, 1);
    lua_newtable(L);
    lua_pushvalue(L, -1);
    lua_setfield(L, -3, path);
  }
  lua_remove(L, -2);
}

/* Gives a source and its hash to the table on top. */
static void set_source(lua_State *L, int source, const char *hex) {
  lua_pushstring(L, hex);
  lua_setfield(L, -2, "sha256");
  lua_pushinteger(L, source);
  lua_setfield(L, -2, "source");
}

/* Reads a file into the sources and its hash into the table on top; raises where it cannot.  Returns the id. */
static int read_file(lua_State *L, const char *path, bool of_job) {
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
  const int source = sl_source_add(&sl_state_of(L)->sources, path, text, n);
  char hex[SL_SHA256_HEX];
  sl_sha256(text, n, hex);
  free(text);
  if (source > 0) set_source(L, source, hex);
  if (source == 0) sl_sandbox_no_memory(L);
  if (source < 0) sl_raise(L, "F022", NULL, "more than %d files in one job", SL_SOURCES);
  return source;
}

int sl_kept_file(lua_State *L, const char *path, bool of_job) {
  push_kept(L, path);
  int source = lua_getfield(L, -1, "source") == LUA_TNUMBER ? (int)lua_tointeger(L, -1) : 0;
  lua_pop(L, 1);
  if (source == 0) source = read_file(L, path, of_job);
  if (!of_job) return source;
  lua_getfield(L, -1, "sha256");
  sl_identity_read(L, path, lua_tostring(L, -1));
  lua_pop(L, 1);
  return source;
}

bool sl_kept_lay_over(lua_State *L, int old, const char *path, const char *text, size_t len) {
  const char *name = lua_pushfstring(L, "%s as patched", path);
  const int source = sl_source_add(&sl_state_of(L)->sources, name, text, len);
  lua_pop(L, 1);
  if (source == 0) sl_sandbox_no_memory(L);
  if (source < 0) return false;
  push_all(L);
  if (lua_getfield(L, -1, path) == LUA_TNIL) {
    lua_pop(L, 1);
    lua_pushboolean(L, false);
  }
  lua_setfield(L, old, path);
  lua_newtable(L);
  char hex[SL_SHA256_HEX];
  sl_sha256(text, len, hex);
  set_source(L, source, hex);
  lua_setfield(L, -2, path);
  lua_pop(L, 1);
  return true;
}

void sl_kept_take_off(lua_State *L, int old) {
  push_all(L);
  for (lua_pushnil(L); lua_next(L, old);) {
    lua_pushvalue(L, -2);
    if (lua_toboolean(L, -2)) lua_pushvalue(L, -2);
    else lua_pushnil(L);
    lua_settable(L, -5);
    lua_pop(L, 1);
  }
  lua_pop(L, 1);
}

void sl_complaint_push(lua_State *L, int source, const struct sl_complaint *c) {
  sl_error_push(L, c->code, *c->help ? c->help : NULL, "%s", c->text);
  sl_error_place(L, source, c->span);
}
