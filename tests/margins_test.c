/* SPDX-License-Identifier: MIT
 * How far inputs can move: margins_test, from the top folder of the project.  tests/margins.lua says what must come,
 * tests/margins_run.lua asks it in the host's Lua. */
#include "in_host.h"

#if defined(__has_feature)
#if __has_feature(address_sanitizer)
#define SLOW 1
#endif
#endif
#if !defined(SLOW) && defined(__SANITIZE_ADDRESS__)
#define SLOW 1
#endif

/* slow(): whether this is a sanitizer's build, which gets a smaller sample. */
static int slow(lua_State *L) {
#ifdef SLOW
  lua_pushboolean(L, true);
#else
  lua_pushboolean(L, false);
#endif
  return 1;
}

int main(int argc, char **argv) {
  static const luaL_Reg more[] = { { "slow", slow }, { NULL, NULL } };
  return suite_in_lua("tests/margins.lua", argc, argv, more);
}
