/* SPDX-License-Identifier: MIT
 * The folder of a job to begin with. */
#include "command/begin.h"

#include <lauxlib.h>
#include "host/raise.h"
#include "write/new_folder.h"

/* new_folder(path, { { file, text } ... }): makes it whole, or raises and makes nothing. */
static int h_new_folder(lua_State *L) {
  const char *path = luaL_checkstring(L, 1);
  luaL_checktype(L, 2, LUA_TTABLE);
  const size_t n = lua_rawlen(L, 2);
  struct sl_new_file *files = lua_newuserdatauv(L, (n + 1) * sizeof *files, 0);
  luaL_checkstack(L, (int)n * 3 + 4, NULL);
  for (size_t i = 0; i < n; i++) {                       /* the texts stay on the stack */
    lua_rawgeti(L, 2, (lua_Integer)i + 1);
    lua_rawgeti(L, -1, 1);
    files[i].path = luaL_checkstring(L, -1);
    lua_rawgeti(L, -2, 2);
    files[i].text = luaL_checklstring(L, -1, &files[i].len);
  }
  char why[5000];
  if (sl_new_folder(path, files, n, why, sizeof why)) return 0;
  return sl_raise(L, "F042", "name a folder that is not there yet, as in: stringline new farm",
                  "the folder '%s' cannot be made: %s; nothing was written", path, why);
}

void sl_begin_open(lua_State *L) {
  lua_getglobal(L, "host");
  lua_pushcfunction(L, h_new_folder);
  lua_setfield(L, -2, "new_folder");
  lua_pop(L, 1);
}
