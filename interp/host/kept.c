/* SPDX-License-Identifier: MIT
 * Files read once a state. */
#include "host/kept.h"
#include <errno.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>
#include "box/sandbox.h"
#include "host/beneath.h"
#include "host/csv.h"
#include "host/host.h"
#include "host/identity.h"
#include "host/raise.h"
#include "host/sha256.h"
#include "host/state.h"
#include "host/text.h"

/* Registry keys: path -> the table, which has the folder where a script named the file; device and inode -> path. */
static const char KEPT = 'f', PATHS = 'p';

static void push_registered(lua_State *L, const char *key) {
  if (lua_rawgetp(L, LUA_REGISTRYINDEX, key) == LUA_TTABLE) return;
  lua_pop(L, 1);
  lua_newtable(L);
  lua_pushvalue(L, -1);
  lua_rawsetp(L, LUA_REGISTRYINDEX, key);
}

static void push_all(lua_State *L) { push_registered(L, &KEPT); }

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

/* ---- one file, one path ------------------------------------------------------------------------------------------ */

/* As the table on top says.  -1: errno, and EXDEV says that `link` leads out. */
static int open_kept(lua_State *L, const char *path, struct sl_link *link) {
  const char *folder = lua_getfield(L, -1, "folder") == LUA_TSTRING ? lua_tostring(L, -1) : NULL;
  lua_pop(L, 1);                                                         /* the table holds it */
  if (!folder) return sl_file_open(path);
  return sl_beneath_open(folder, path + (*folder ? strlen(folder) + 1 : 0), link);
}

/* Whether a path leads to that file now: a name may have gone, and its inode may be another file's since. */
static bool leads_to(lua_State *L, const char *path, const struct stat *file) {
  struct sl_link link;
  struct stat is;
  push_kept(L, path);
  const int fd = open_kept(L, path, &link);
  const bool same = fd >= 0 && fstat(fd, &is) == 0 && is.st_dev == file->st_dev && is.st_ino == file->st_ino;
  if (fd >= 0) close(fd);
  lua_pop(L, 1);
  return same;
}

/* Puts the path that this file goes by in the place of the one on top: which is that, where it has none. */
static void name_once(lua_State *L, const struct stat *is) {
  const struct { dev_t device; ino_t number; } file = { is->st_dev, is->st_ino };
  const int path = lua_gettop(L);
  if (!S_ISREG(is->st_mode)) return;
  push_registered(L, &PATHS);
  lua_pushlstring(L, (const char *)&file, sizeof file);
  lua_pushvalue(L, -1);
  if (lua_rawget(L, path + 1) == LUA_TSTRING && !lua_rawequal(L, -1, path) && leads_to(L, lua_tostring(L, -1), is))
    lua_replace(L, path);
  else {
    lua_pop(L, 1);
    lua_pushvalue(L, path);
    lua_rawset(L, path + 1);
  }
  lua_settop(L, path);
}

static int leads_out(lua_State *L, const char *name, const struct sl_link *link) {
  const bool absolute = link->says[0] == '/', itself = strcmp(name, link->path) == 0;
  return sl_raise(L, "F027", absolute ? "put the file itself there, or add its folder to STRINGLINE_PATH; a link that "
                  "stays within the folder is relative, as in ../parts/modules.csv"
                  : "put the file itself there, or add its folder to STRINGLINE_PATH",
                  "'%s' leads out of the folder that it is looked for in: %s%s%s is a symbolic link to '%s'", name,
                  itself ? "" : "'", itself ? "it" : link->path, itself ? "" : "'", link->says);
}

bool sl_kept_find(lua_State *L, const char *folder, const char *name) {
  struct sl_link link;
  struct stat is;
  const int fd = sl_beneath_open(folder, name, &link), error = errno;
  const bool known = fd >= 0 && fstat(fd, &is) == 0;
  if (fd >= 0) close(fd);
  else if (error == EXDEV) leads_out(L, name, &link);
  if (*folder) lua_pushfstring(L, "%s/%s", folder, name);
  else lua_pushstring(L, name);
  push_kept(L, lua_tostring(L, -1));
  lua_pushstring(L, folder);
  lua_setfield(L, -2, "folder");
  lua_pop(L, 1);
  if (known) name_once(L, &is);
  return fd >= 0 || (error != ENOENT && error != ENOTDIR);              /* anything else is told where it is read */
}

/* ---- reading ----------------------------------------------------------------------------------------------------- */

/* Reads a file into the sources and its hash into the table on top; raises where it cannot.  Returns the id. */
static int read_file(lua_State *L, const char *path, bool of_job) {
  static const char looked_for[] = "files are looked for in the job's folder, then in those of STRINGLINE_PATH";
  char why[512];
  char *text = NULL;
  size_t n;
  struct sl_link link;
  struct stat is;
  struct sl_reads *reads = sl_state_of(L)->host->reads;
  const int fd = open_kept(L, path, &link), error = errno;
  const bool there = fd >= 0 && fstat(fd, &is) == 0, ours = there && reads && !sl_reads_note(reads, path, &is);
  struct sl_box *box = sl_sandbox_box(L);
  const bool read = there && !ours && sl_file_take(box, fd, &text, &n, why, sizeof why);
  if (fd >= 0) close(fd);
  if (ours)
    sl_raise(L, "F023", "write to another file, as in -o report.txt",
             "this run reads '%s', and its output '%s' is the same file", path, sl_reads_output(reads));
  if (fd < 0 && error == EXDEV) leads_out(L, path, &link);
  if (!there) sl_file_refuse(path, error, why, sizeof why);
  if (!read) {
    if (sl_sandbox_abort(L)) sl_sandbox_no_memory(L);
    sl_raise(L, "F021", of_job && strstr(why, "no such") ? looked_for : NULL,
             "cannot read %s: %s", path, why);
  }
  const int source = sl_source_add(&sl_state_of(L)->sources, path, text, n);
  char hex[SL_SHA256_HEX];
  sl_sha256(text, n, hex);
  sl_memory_resize(box, text, n + 1, 0);
  if (source > 0) set_source(L, source, hex);
  if (source == 0) sl_sandbox_no_memory(L);
  if (source < 0) sl_raise(L, "F022", NULL, "more than %d files in one job", SL_SOURCES);
  lua_pushstring(L, path);
  name_once(L, &is);
  lua_pop(L, 1);
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
  char hex[SL_SHA256_HEX];
  sl_sha256(text, len, hex);
  set_source(L, source, hex);
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
  lua_pushnil(L);
  lua_rawsetp(L, LUA_REGISTRYINDEX, &PATHS);
  sl_sources_free(&sl_state_of(L)->sources);
}

void sl_complaint_push(lua_State *L, int source, const struct sl_complaint *c) {
  sl_error_push(L, c->code, *c->help ? c->help : NULL, "%s", c->text);
  sl_error_place(L, source, c->span);
}
