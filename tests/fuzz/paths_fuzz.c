/* SPDX-License-Identifier: MIT
 * Any bytes where a path or a value is wanted: behind explain, --set, --on and --vary.  The job is declared once; laws
 * are those of paths.lua, and of each error (state.h): no words of Lua's, nothing of the machinery, UTF-8. */
#include "state.h"
#include "fuzz.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
  static lua_State *L;
  if (!L) {
    snprintf(state_folder, sizeof state_folder, "tests/golden/jobs/goat-shed");
    L = state_open("tests/fuzz/paths.lua");
    lua_pushstring(L, "tests/golden/jobs/goat-shed/job.sline");
    LAW_OR(sl_host_call(L, 1, 1) == LUA_OK, "%s", luaL_tolstring(L, -1, NULL));
  }
  lua_settop(L, 1);
  lua_pushvalue(L, 1);
  lua_pushlstring(L, (const char *)data, size);
  state_call(L, 1, 0);
  return 0;
}
