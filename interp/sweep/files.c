/* SPDX-License-Identifier: MIT
 * Files that a sweep writes beside its page: whole, or not at all. */
#include <errno.h>
#include <lauxlib.h>
#include <string.h>
#include <sys/stat.h>
#include "host/raise.h"
#include "host/state.h"
#include "sweep/sweep.h"
#include "write/out.h"

/* folder(path): makes it where there is none. */
static int h_folder(lua_State *L) {
  const char *path = luaL_checkstring(L, 1);
  struct stat is;
  if (mkdir(path, 0777) == 0 || (errno == EEXIST && stat(path, &is) == 0 && S_ISDIR(is.st_mode))) return 0;
  return sl_raise(L, "F040", "name a folder, as in --pictures pictures", "the folder '%s' cannot be made: %s", path,
                  errno == EEXIST ? "a file of that name is there" : sl_out_reason(errno));
}

/* write(path, text): puts the text in the place of the file that was there.  Nobody named that one: a link of its name
 * came with the folder, and may lead anywhere. */
static int h_write(lua_State *L) {
  size_t n;
  char why[512];
  struct stat is;
  const char *path = luaL_checkstring(L, 1), *text = luaL_checklstring(L, 2, &n);
  if (lstat(path, &is) == 0 && !S_ISREG(is.st_mode))
    return sl_raise(L, "F040", "remove it, or name another folder, as in --pictures pictures",
                    "cannot write '%s': %s of that name is there", path,
                    S_ISLNK(is.st_mode) ? "a symbolic link" : S_ISDIR(is.st_mode) ? "a folder" : "a device or a pipe");
  struct sl_out *out = sl_out_open(path, why, sizeof why);
  if (!out) return sl_raise(L, "F040", NULL, "%s", why);
  sl_out_write(out, text, n);
  if (!sl_out_commit(out, why, sizeof why)) return sl_raise(L, "F040", NULL, "%s", why);
  struct sl_reads *reads = sl_state_of(L)->host->reads;      /* the page must not take the place of this, either */
  if (reads && stat(path, &is) == 0) (void)sl_reads_note(reads, path, &is);
  return 0;
}

void sl_files_open(lua_State *L) {
  static const luaL_Reg functions[] = { { "folder", h_folder }, { "write", h_write }, { NULL, NULL } };
  lua_getglobal(L, "host");
  luaL_setfuncs(L, functions, 0);
  lua_pop(L, 1);
}
