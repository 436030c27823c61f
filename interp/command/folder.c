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
#include <unistd.h>
#include "box/sandbox.h"
#include "host/beneath.h"
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

/* Why a script is left out; NULL: it is a file of this folder, though links may lead to it. */
static const char *left_out(const char *folder, const char *name) {
  struct sl_link link;
  struct stat is;
  const int fd = sl_beneath_open(folder, name, &link), error = errno;
  const bool plain = fd >= 0 && fstat(fd, &is) == 0 && S_ISREG(is.st_mode);
  if (fd >= 0) close(fd);
  if (plain) return NULL;
  if (fd >= 0 || error == ENXIO) return "it is no file";
  if (error == EXDEV) return "the link leads out of the folder";
  return error == ENOENT || error == ENOTDIR || error == ELOOP ? "the link leads nowhere" : NULL;
}

/* What is looked through: the folder that was named, and the list of what is found in it and below. */
struct search { const char *folder; int list; };

static void walk(lua_State *L, const struct search *s, const char *path, int depth);

static void visit(lua_State *L, const struct search *s, const char *path, const char *name, int depth) {
  struct stat is, own;
  if (lstat(path, &own) != 0) return;                       /* gone since it was listed */
  if (S_ISDIR(own.st_mode)) walk(L, s, path, depth + 1);
  else if (stat(path, &is) == 0 && S_ISDIR(is.st_mode)) add(L, s->list, path, "a link to a folder is not followed");
  else if (has_ending(name, ".sline")) {
    const char *within = path + strlen(s->folder);
    add(L, s->list, path, left_out(s->folder, within + strspn(within, "/")));
  }
}

static void walk(lua_State *L, const struct search *s, const char *path, int depth) {
  const int list = s->list;
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
    visit(L, s, inside, entries[i]->d_name, depth);
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
  walk(L, &(struct search){ path, lua_gettop(L) }, path, 0);
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
