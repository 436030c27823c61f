/* SPDX-License-Identifier: MIT
 * A state that a target keeps.  Its memory comes from the system, where a sanitizer that looks for what was lost does
 * not look: what the state's C side has would count as lost. */
#ifndef SL_FUZZ_KEPT_H
#define SL_FUZZ_KEPT_H

#include <lua.h>

#if defined __has_feature
#if __has_feature(address_sanitizer)
#include <sanitizer/lsan_interface.h>
#define SL_FUZZ_LSAN 1
#endif
#endif

/* From here on the state holds what it has, to before it is closed. */
static inline lua_State *kept(lua_State *L) {
#ifdef SL_FUZZ_LSAN
  if (L) __lsan_register_root_region(lua_getextraspace(L), LUA_EXTRASPACE);
#endif
  return L;
}
static inline void kept_no_more(lua_State *L) {
#ifdef SL_FUZZ_LSAN
  __lsan_unregister_root_region(lua_getextraspace(L), LUA_EXTRASPACE);
#endif
  (void)L;
}
#endif
