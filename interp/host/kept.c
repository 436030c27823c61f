/* SPDX-License-Identifier: MIT
 * Files read once a state. */
#include "host/kept.h"
#include <string.h>
#include "box/sandbox.h"
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
static void set_source(lua_State *L, int source, const char *text, size_t n) {
  char hex[SL_SHA256_HEX];
  sl_sha256(text, n, hex);
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
  struct sl_box *box = sl_sandbox_box(L);
  if (!sl_file_read_in(box, path, &text, &n, why, sizeof why)) {
    if (sl_sandbox_abort(L)) sl_sandbox_no_memory(L);
    sl_raise(L, "F021", of_job && strstr(why, "no such") ? looked_for : NULL,
             "cannot read %s: %s", path, why);
  }
  const int source = sl_source_add(&sl_state_of(L)->sources, path, text, n);
  if (source > 0) set_source(L, source, text, n);
  sl_memory_resize(box, text, n + 1, 0);
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

bool sl_kept_too_long(lua_State *L, int source, const char *help) {
  size_t n, start = 0;
  const char *text = sl_source_text(&sl_state_of(L)->sources, source, &n);
  for (int line = 1; start < n; line++) {
    size_t end = start;
    while (end < n && text[end] != '\n' && text[end] != '\r') end++;
    if (end - start > SL_LONGEST_LINE) {
      sl_error_push(L, "F018", help, "the line has %zu bytes; the longest may have %d", end - start, SL_LONGEST_LINE);
      sl_error_place(L, source, (struct sl_span){ line, SL_LONGEST_LINE + 1, 1 });
      return true;
    }
    start = end + sl_line_end(text, n, end);
  }
  return false;
}

bool sl_kept_put(lua_State *L, const char *path, const char *name, const char *text, size_t len) {
  const int source = sl_source_add(&sl_state_of(L)->sources, name, text, len);
  if (source == 0) sl_sandbox_no_memory(L);
  if (source < 0) return false;
  push_all(L);
  lua_newtable(L);
  set_source(L, source, text, len);
  lua_setfield(L, -2, path);
  lua_pop(L, 1);
  return true;
}

bool sl_kept_lay_over(lua_State *L, int old, const char *path, const char *text, size_t len) {
  push_all(L);
  if (lua_getfield(L, -1, path) == LUA_TNIL) {
    lua_pop(L, 1);
    lua_pushboolean(L, false);
  }
  const bool put = sl_kept_put(L, path, lua_pushfstring(L, "%s as patched", path), text, len);
  lua_pop(L, 1);
  if (put) lua_setfield(L, old, path);
  else lua_pop(L, 1);
  lua_pop(L, 1);
  return put;
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

void sl_kept_forget(lua_State *L) {
  lua_pushnil(L);
  lua_rawsetp(L, LUA_REGISTRYINDEX, &KEPT);
  sl_sources_free(&sl_state_of(L)->sources);
}

void sl_complaint_push(lua_State *L, int source, const struct sl_complaint *c) {
  sl_error_push(L, c->code, *c->help ? c->help : NULL, "%s", c->text);
  sl_error_place(L, source, c->span);
}
