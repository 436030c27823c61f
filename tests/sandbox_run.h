/* SPDX-License-Identifier: MIT
 * Scripts and what comes of them in the sandbox, a row each. */
#ifndef SL_SANDBOX_RUN_H
#define SL_SANDBOX_RUN_H

#include "check.h"
#include <lauxlib.h>
#include <lualib.h>
#include "box/safe.h"

enum outcome { FINE, REFUSED, STOPPED };     /* a value; an error like any other; the run is over */
struct row {
  const char *name, *script;
  enum outcome outcome;
  const char *text;                          /* FINE: the result; else a part of the message */
  size_t memory; long long steps;            /* 0: small_memory, small_steps */
};
static const size_t small_memory = (size_t)8 << 20;
static const long long small_steps = 2000000;

#define OVER_STEPS "used more than 2 million steps"
#define OVER_MEMORY "asked for more than 8 MiB of memory"
#define GIVES(name, script, result)   { name, script, FINE, result, 0, 0 }
#define REFUSES(name, script, part)   { name, script, REFUSED, part, 0, 0 }
#define STOPS(name, script, part)     { name, script, STOPPED, part, 0, 0 }
#define ENDLESS(name, script)         STOPS(name, script, OVER_STEPS)
#define GREEDY(name, script)          STOPS(name, script, OVER_MEMORY)

/* As a host does: a name that is not there is an error that says why. */
static inline int unknown_name(lua_State *L) {
  const char *name = lua_tostring(L, 2), *why = sl_sandbox_left_out(name);
  if (why) return luaL_error(L, "'%s' is left out: %s", name, why);
  return luaL_error(L, "no such name: %s", name);
}

static inline int quiet(lua_State *L) { (void)L; return 0; }

static inline void push_host_env(lua_State *L) {
  sl_sandbox_push_env(L);
  lua_pushcfunction(L, quiet);
  lua_setfield(L, -2, "print");
  lua_newtable(L);
  lua_pushcfunction(L, unknown_name);
  lua_setfield(L, -2, "__index");
  lua_pushboolean(L, 0);
  lua_setfield(L, -2, "__metatable");
  lua_setmetatable(L, -2);
}

static inline int load_script(lua_State *L, const char *script) {
  int status = sl_sandbox_load(L, script, strlen(script), "@job");
  if (status != LUA_OK) return status;
  push_host_env(L);
  assert_string_equal(lua_setupvalue(L, -2, 1), "_ENV");
  return status;
}

static inline int run(lua_State *L, const char *script) {
  int status = load_script(L, script);
  return status == LUA_OK ? sl_sandbox_call(L, 0, 1, 0) : status;
}

static inline void check_row(void **state) {
  const struct row *r = *state;
  struct sl_limits limits = { r->memory ? r->memory : small_memory, r->steps ? r->steps : small_steps, 0 };
  lua_State *L = sl_sandbox_new(&limits);
  assert_non_null(L);
  int status = run(L, r->script);
  const char *abort_reason = sl_sandbox_abort(L), *got = sl_sandbox_tostring(L, -1, NULL);
  enum outcome outcome = abort_reason ? STOPPED : status == LUA_OK ? FINE : REFUSED;
  bool same = r->outcome == FINE ? strcmp(got, r->text) == 0 : strstr(got, r->text) != NULL;
  if (outcome != r->outcome || !same)
    fail_msg("outcome %d, wanted %d; got: %s; wanted: %s", outcome, r->outcome, got, r->text);
  if (abort_reason) {
    assert_int_not_equal(status, LUA_OK);
    assert_non_null(strstr(r->text, abort_reason));
  }
  assert_int_equal(lua_gettop(L), 2);       /* one result, and its text */
  sl_sandbox_close(L);
}

static inline lua_State *small_state(void) {
  lua_State *L = sl_sandbox_new(&(struct sl_limits){ small_memory, small_steps, 0 });
  assert_non_null(L);
  return L;
}

#define COUNT(a) (sizeof(a) / sizeof *(a))

/* Adds a test for each row to `tests`; returns how many there are then. */
static inline size_t add_rows(struct CMUnitTest *tests, size_t n, const struct row *rows, size_t count) {
  for (size_t i = 0; i < count; i++)
    tests[n++] = (struct CMUnitTest){ rows[i].name, check_row, NULL, NULL, (void *)(uintptr_t)&rows[i] };
  return n;
}
#endif
