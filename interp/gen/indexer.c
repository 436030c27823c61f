/* SPDX-License-Identifier: MIT
 * The program without its index, which runs the library once at build to write that index.
 * Usage: indexer SCRIPT.lua FOLDER FILE.lua ...   The script is given the files' paths and gives { name = text };
 * each text becomes FOLDER/name.lua. */
#include <lauxlib.h>
#include <stdio.h>
#include <string.h>
#include "host/host.h"
#include "host/library.h"

const struct sl_modules sl_index = { NULL, 0 };

static int write_text(const char *folder, const char *name, const char *text, size_t n) {
  char path[4096];
  snprintf(path, sizeof path, "%s/%s.lua", folder, name);
  FILE *to = fopen(path, "w");
  if (!to) return perror(path), 1;
  const size_t done = fwrite(text, 1, n, to);
  return fclose(to) || done != n ? (perror(path), 1) : 0;
}

int main(int argc, char **argv) {
  if (argc < 3) return fprintf(stderr, "usage: indexer SCRIPT.lua FOLDER FILE.lua ...\n"), 2;
  const struct sl_host host = { .folder = "", .format = SL_GNU };
  lua_State *L = sl_host_new(&host, &(struct sl_limits){ .steps = -1 });
  if (!L) return fputs("indexer: not enough memory\n", stderr), 1;
  int bad = luaL_loadfile(L, argv[1]) != LUA_OK;
  if (!bad) {
    lua_createtable(L, argc, 0);
    for (int i = 3; i < argc; i++) {
      lua_pushstring(L, argv[i]);
      lua_rawseti(L, -2, i - 2);
    }
    bad = sl_host_call(L, 1, 1) != LUA_OK;
  }
  if (bad) sl_host_report(L);
  else
    for (lua_pushnil(L); lua_next(L, 1); lua_pop(L, 1)) {
      size_t n;
      const char *text = lua_tolstring(L, -1, &n);
      bad |= write_text(argv[2], lua_tostring(L, -2), text, n);
    }
  sl_host_close(L);
  return bad;
}
