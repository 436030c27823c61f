/* SPDX-License-Identifier: MIT
 * A run beside the run: the same job declared otherwise, and what the state keeps of the first brought back whole.
 * What a script shows while it is judged once more, and what its functions keep. */
#include "host/host_parts.h"
#include "host/identity.h"
#include "host/raise.h"
#include "host/state.h"

/* An error that outlives the run in which it was raised; the reason of a stopped run becomes one. */
static void make_lasting(lua_State *L) {
  sl_error_stopped(L);
  if (sl_is_error(L, -1)) sl_error_clean(L);
}

/* aside(f, back): what f() gives, with steps, random numbers, a style and a list of files of its own; a limit that it
 * meets ends only it. Then back() is called, whether f raised or not. Nothing that it prints is shown. */
static int h_aside(lua_State *L) {
  struct sl_state *state = sl_state_of(L);
  const struct sl_style style = state->style;
  const unsigned long long resting = state->resting;
  struct sl_standing standing;
  luaL_checktype(L, 1, LUA_TFUNCTION);
  luaL_checktype(L, 2, LUA_TFUNCTION);
  lua_settop(L, 2);
  sl_identity_push(L);
  sl_sandbox_stand(L, &standing);
  state->asides++;
  state->resting = 0;
  lua_pushcfunction(L, sl_error_handler);
  lua_pushvalue(L, 1);
  const int status = lua_pcall(L, 0, LUA_MULTRET, 4);
  if (status) make_lasting(L);
  state->asides--;
  sl_sandbox_back(L, &standing);
  state->style = style;
  state->resting = resting;
  lua_pushvalue(L, 3);
  sl_identity_back(L);
  lua_pushvalue(L, 2);
  lua_call(L, 0, 0);
  return status ? lua_error(L) : lua_gettop(L) - 4;
}

/* hushed(f, ...): what f(...) gives; nothing that it prints is shown. */
static int h_hushed(lua_State *L) {
  struct sl_state *state = sl_state_of(L);
  luaL_checkany(L, 1);
  state->asides++;
  const int status = lua_pcall(L, lua_gettop(L) - 1, LUA_MULTRET, 0);
  state->asides--;
  return status ? lua_error(L) : lua_gettop(L);
}

/* upvalues(f) -> what a function of a script holds, in a list with n, and nothing of any other function. */
static int h_upvalues(lua_State *L) {
  luaL_checktype(L, 1, LUA_TFUNCTION);
  lua_Debug at;
  lua_pushvalue(L, 1);
  if (!lua_getinfo(L, ">S", &at) || *at.source != '@') return 0;
  lua_newtable(L);
  int n = 0;
  while (lua_getupvalue(L, 1, n + 1)) lua_rawseti(L, 2, ++n);
  lua_pushinteger(L, n);
  lua_setfield(L, 2, "n");
  return 1;
}

/* drawn() -> how far the random numbers of scripts have come, as a text. */
static int h_drawn(lua_State *L) {
  struct sl_standing standing;
  sl_sandbox_stand(L, &standing);
  lua_pushlstring(L, (const char *)standing.random, sizeof standing.random);
  return 1;
}

const luaL_Reg sl_host_asides[] = {
  { "aside", h_aside }, { "hushed", h_hushed }, { "upvalues", h_upvalues }, { "drawn", h_drawn }, { NULL, NULL },
};
