/* SPDX-License-Identifier: MIT
 * The scripts of a folder, for commands that take one. */
#include "command/folder.h"

#include <dirent.h>
#include <errno.h>
#include <lauxlib.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include "box/sandbox.h"
#include "host/csv.h"
#include "host/raise.h"

enum { DEEPEST = 32 };

static bool has_ending(const char *name, const char *ending) {
  size_t n = strlen(name), m = strlen(ending);
  return n > m && strcmp(name + n - m, ending) == 0;
}

/* The next item of the list under `list`: { path, why } where it is left out, or the path. */
static void add(lua_State *L, int list, const char *path, const char *why) {
  lua_newtable(L);
  lua_pushstring(L, path);
  lua_setfield(L, -2, "path");
  if (why) {
    lua_pushstring(L, why);
    lua_setfield(L, -2, "left_out");
  }
  lua_rawseti(L, list, (lua_Integer)lua_rawlen(L, list) + 1);
}

static int not_hidden(const struct dirent *e) { return e->d_name[0] != '.'; }

static int by_bytes(const struct dirent **a, const struct dirent **b) { return strcmp((*a)->d_name, (*b)->d_name); }

static void walk(lua_State *L, int list, const char *path, int depth);

static void visit(lua_State *L, int list, const char *path, const char *name, int depth) {
  struct stat is, own;
  if (lstat(path, &own) != 0) return;                       /* gone since it was listed */
  bool there = stat(path, &is) == 0, linked = S_ISLNK(own.st_mode);
  if (there && S_ISDIR(is.st_mode)) {
    if (linked) add(L, list, path, "a link to a folder is not followed");
    else walk(L, list, path, depth + 1);
  } else if (has_ending(name, ".sline"))
    add(L, list, path, !there ? "the link leads nowhere" : S_ISREG(is.st_mode) ? NULL : "it is no file");
}

static void walk(lua_State *L, int list, const char *path, int depth) {
  struct dirent **entries;
  luaL_checkstack(L, 8, NULL);
  if (depth > DEEPEST) {
    add(L, list, path, "folders stand in each other too deep");
    return;
  }
  int n = scandir(path, &entries, not_hidden, by_bytes);
  if (n < 0) {
    if (depth == 0)
      sl_raise(L, "F021", "name a folder that you may read", "the folder '%s' cannot be read: %s", path,
               strerror(errno));
    add(L, list, path, "it cannot be read");
    return;
  }
  const char *between = path[strlen(path) - 1] == '/' ? "" : "/";
  for (int i = 0; i < n; i++) {
    const char *inside = lua_pushfstring(L, "%s%s%s", path, between, entries[i]->d_name);
    visit(L, list, inside, entries[i]->d_name, depth);
    lua_pop(L, 1);
    free(entries[i]);
  }
  free(entries);
}

/* scripts(path): nil where it is no folder; else { { path, left_out = why } ... }, all files of scripts in it and
 * below, by name. */
static int scripts(lua_State *L) {
  struct stat is;
  const char *path = luaL_checkstring(L, 1);
  if (stat(path, &is) != 0 || !S_ISDIR(is.st_mode)) return 0;
  lua_newtable(L);
  walk(L, lua_gettop(L), path, 0);
  return 1;
}

/* peek(path): the text of a file, which is none of the job's; nil where it cannot be read. */
static int peek(lua_State *L) {
  char *text, why[512];
  size_t n;
  struct sl_box *box = sl_sandbox_box(L);
  if (!sl_file_read_in(box, luaL_checkstring(L, 1), &text, &n, why, sizeof why)) return 0;
  lua_pushlstring(L, text, n);
  sl_memory_resize(box, text, n + 1, 0);
  return 1;
}

void sl_folder_open(lua_State *L) {
  lua_getglobal(L, "host");
  lua_pushcfunction(L, scripts);
  lua_setfield(L, -2, "scripts");
  lua_pushcfunction(L, peek);
  lua_setfield(L, -2, "peek");
  lua_pop(L, 1);
}
