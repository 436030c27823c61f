/* SPDX-License-Identifier: MIT
 * The sandbox's state: counted memory, counted steps, and the environment that a script sees. */
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <lauxlib.h>
#include <lualib.h>
#include "box/safe.h"
#include "host/text.h"

enum { HOOK_STEPS = 100 };   /* the count hook costs the same from 100 to 10 000 */
static const size_t default_memory = (size_t)512 << 20;
static const long long default_steps = 400000000;
static const char env_key;                               /* registry: the table that environments are copied from */

/* ---- steps ------------------------------------------------------------------------------------------------------ */

/* Made when the state was: there may be no memory for it now. */
static void push_reason(lua_State *L, const struct sl_box *box) {
  lua_rawgetp(L, LUA_REGISTRYINDEX, box->why);
}

void sl_box_stop(lua_State *L) {
  struct sl_box *box = sl_box(L);
  sl_box_end(box, box->over_steps);
  if (!*box->place) sl_box_note_place(L, box);
  lua_pushstring(L, box->place);
  push_reason(L, box);
  lua_concat(L, 2);
  lua_error(L);
  abort();                                               /* lua_error does not return, but does not say so */
}

/* Once over, it fires at every instruction, so that no handler of the script gets anywhere. */
static void count_steps(lua_State *L, lua_Debug *ar) {
  (void)ar;
  struct sl_box *box = sl_box(L);
  box->left -= HOOK_STEPS;
  sl_box_follow_up(box);
  if (!box->why) return;
  lua_sethook(L, count_steps, LUA_MASKCOUNT, 1);
  sl_box_stop(L);
}

void sl_sandbox_no_memory(lua_State *L) {
  sl_box_end(sl_box(L), sl_no_memory);
  sl_box_stop(L);
}

void sl_sandbox_charge(lua_State *L, long long n) {
  struct sl_box *box = sl_box(L);
  if (box->depth == 0) return;
  if (sl_box_counts(box) && n > 0) box->left = n > box->left ? -1 : box->left - n;
  sl_box_follow_up(box);
  if (box->why) sl_box_stop(L);
}

bool sl_box_over(lua_State *L) {
  struct sl_box *box = sl_box(L);
  sl_box_follow_up(box);
  return box->why != NULL;
}

/* ---- running scripts -------------------------------------------------------------------------------------------- */

struct entry { lua_Hook hook; int mask, count; };

/* The hook stays as it is when calls nest: setting it again would start its count again. */
static struct entry enter(lua_State *L, struct sl_box *box) {
  struct entry e = { lua_gethook(L), lua_gethookmask(L), lua_gethookcount(L) };
  sl_sandbox_limit(L);
  box->depth++;
  sl_box_settle(box);
  if (box->steps < 0 || e.hook == count_steps) return e;
  box->left -= HOOK_STEPS;                               /* the part of a count that ends unseen with this call */
  lua_sethook(L, count_steps, LUA_MASKCOUNT, HOOK_STEPS);
  return e;
}

static void leave(lua_State *L, struct sl_box *box, struct entry e) {
  box->depth--;
  sl_box_settle(box);
  if (e.hook != count_steps) lua_sethook(L, e.hook, e.mask, e.count);
}

/* The hook costs as much as ten instructions at each of them: the host's own work on a script's word does without it.
 * That each such call has its price keeps a loop of them from going uncounted. */
static int call_uncounted(lua_State *L) {
  const int nargs = lua_gettop(L);
  lua_pushvalue(L, lua_upvalueindex(1));
  lua_insert(L, 1);
  if (lua_gethook(L) != count_steps) {
    lua_call(L, nargs, LUA_MULTRET);
    return lua_gettop(L);
  }
  sl_sandbox_charge(L, HOOK_STEPS);
  lua_sethook(L, NULL, 0, 0);
  const int status = lua_pcall(L, nargs, LUA_MULTRET, 0);
  lua_sethook(L, count_steps, LUA_MASKCOUNT, HOOK_STEPS);
  return status == LUA_OK ? lua_gettop(L) : lua_error(L);
}

int sl_sandbox_uncounted(lua_State *L) {
  luaL_checktype(L, 1, LUA_TFUNCTION);
  lua_settop(L, 1);
  lua_pushcclosure(L, call_uncounted, 1);
  return 1;
}

static bool tells_reason(lua_State *L, const char *why) {
  size_t size, tail = strlen(why);
  const char *text = lua_type(L, -1) == LUA_TSTRING ? lua_tolstring(L, -1, &size) : NULL;
  return text && size >= tail && memcmp(text + size - tail, why, tail) == 0;
}

int sl_sandbox_call(lua_State *L, int nargs, int nresults, int msgh) {
  struct sl_box *box = sl_box(L);
  int base = lua_gettop(L) - nargs;                      /* the function's place, and the first result's */
  int status = LUA_ERRRUN;
  if (!sl_box_over(L)) {
    struct entry e = enter(L, box);
    status = lua_pcall(L, nargs, nresults, msgh);
    leave(L, box, e);
  }
  if (!sl_box_over(L)) return status;
  if (status == LUA_OK || lua_gettop(L) != base || !tells_reason(L, box->why)) {
    lua_settop(L, base - 1);
    push_reason(L, box);
  }
  return status == LUA_OK ? LUA_ERRRUN : status;
}

int sl_sandbox_guard(lua_State *L, int nargs, int nresults, int msgh) {
  struct sl_box *box = sl_box(L);
  sl_sandbox_limit(L);
  box->depth++;
  box->guarded++;
  const int status = lua_pcall(L, nargs, nresults, msgh);
  box->guarded--;
  box->depth--;
  return status;
}

int sl_sandbox_pcall(lua_State *L) {
  luaL_checkany(L, 1);
  lua_pushboolean(L, 1);
  lua_insert(L, 1);
  int status = sl_sandbox_call(L, lua_gettop(L) - 2, LUA_MULTRET, 0);
  if (sl_box(L)->why) return lua_error(L);
  if (status == LUA_OK) return lua_gettop(L);
  lua_pushboolean(L, 0);
  lua_insert(L, -2);
  return 2;
}

/* A text is handed over line by line: where the compiler breaks off without naming a line, it is the last one. */
static const char *next_line(lua_State *L, void *ud, size_t *size) {
  (void)L;
  struct sl_compiled *c = ud;
  const char *at = c->at, *end = c->end > at ? memchr(at, '\n', (size_t)(c->end - at)) : NULL;
  c->at = end ? end + 1 : c->end;
  c->line += c->at > at;
  *size = (size_t)(c->at - at);
  return at;
}

int sl_sandbox_load(lua_State *L, const char *text, size_t size, const char *chunk) {
  struct sl_box *box = sl_box(L);
  int base = lua_gettop(L) + 1, status = LUA_ERRRUN;
  struct sl_compiled compiled = { .at = text, .end = text + size, .name = *chunk == '@' ? chunk + 1 : chunk };
  if (!sl_box_over(L)) {
    sl_sandbox_limit(L);
    box->depth++;
    box->compiled = &compiled;
    sl_box_settle(box);
    status = lua_load(L, next_line, &compiled, chunk, "t");
    box->compiled = NULL;
    box->depth--;
    sl_box_settle(box);
  }
  if (!sl_box_over(L) && status == LUA_ERRRUN) {         /* nested too deep, which is no syntax error to Lua */
    lua_pushfstring(L, "%s:%d: %s", compiled.name, compiled.line, lua_tostring(L, -1));
    lua_remove(L, -2);
  }
  if (!sl_box_over(L)) return status;
  lua_settop(L, base - 1);
  push_reason(L, box);
  return status == LUA_OK ? LUA_ERRRUN : status;
}

bool sl_sandbox_running(lua_State *L) { return sl_box(L)->depth > sl_box(L)->guarded; }

void sl_sandbox_rerun(lua_State *L) {
  struct sl_box *box = sl_box(L);
  if (box->depth == 0 && !box->why) box->left = box->steps < 0 ? LLONG_MAX : box->steps;
  sl_random_seed(box, box->seed);
}

void sl_sandbox_stand(lua_State *L, struct sl_standing *out) {
  const struct sl_box *box = sl_box(L);
  out->left = box->left;
  memcpy(out->random, box->random, sizeof out->random);
}

void sl_sandbox_back(lua_State *L, const struct sl_standing *to) {
  struct sl_box *box = sl_box(L);
  if (box->depth > box->guarded) return;
  memcpy(box->random, to->random, sizeof box->random);
  if (box->depth > 0) return;
  box->left = to->left;
  sl_box_follow_up(box);
  if (box->why == sl_no_memory) return;                  /* no limit of what ran beside: nothing after it is sure */
  box->why = NULL;
  box->asked = 0;
  *box->place = '\0';
  sl_box_settle(box);
  sl_sandbox_limit(L);
}

void sl_sandbox_tidy(lua_State *L) {
  const struct sl_box *box = sl_box(L);
  const size_t held = (size_t)lua_gc(L, LUA_GCCOUNT) << 10;
  if (held + box->pool.in_large > box->memory / 4 * 3) lua_gc(L, LUA_GCCOLLECT);
}

const char *sl_sandbox_abort(lua_State *L) { return sl_box_over(L) ? sl_box(L)->why : NULL; }
const char *sl_sandbox_stopped_at(lua_State *L) { return sl_box(L)->place; }
bool sl_sandbox_out_of_steps(lua_State *L) { return sl_sandbox_abort(L) == sl_box(L)->over_steps; }

/* ---- what is not there ------------------------------------------------------------------------------------------ */

const char *sl_sandbox_left_out(const char *name) {
  static const char files[] = "a script may not reach files, programs or the clock";
  static const char code[] = "a script may not load code; use \"name\" reads another file of the job";
  static const char collect[] = "a script may not steer the collection of memory";
  static const char raw[] = "it would reach past what keeps declarations and libraries unchanged";
  static const struct { const char *name, *why; } out[] = {
    { "io", files }, { "os", files }, { "require", code }, { "package", code }, { "dofile", code },
    { "loadfile", code }, { "load", code }, { "string.dump", code }, { "debug", raw }, { "rawget", raw },
    { "rawset", raw }, { "collectgarbage", collect },
    { "coroutine", "a coroutine starts a count of its own, so the step limit would not hold" },
    { "warn", "messages come from rules and errors" }, { "_G", "each file has names of its own" },
    { "math.randomseed", "the run sets the seed, so that it can be repeated" },
    { "string.pack", "there are no binary files to write" }, { "string.unpack", "there are no binary files to read" },
    { "string.packsize", "there are no binary files to write" },
  };
  for (size_t i = 0; i < sizeof out / sizeof *out; i++)
    if (strcmp(name, out[i].name) == 0) return out[i].why;
  return NULL;
}

/* ---- read-only libraries ---------------------------------------------------------------------------------------- */

static int refuse_write(lua_State *L) {
  return luaL_error(L, "'%s' is read-only: it cannot be given '%s'", lua_tostring(L, lua_upvalueindex(1)),
                    sl_sandbox_tostring(L, 2, NULL));
}

static int refuse_name(lua_State *L) {
  const char *library = lua_tostring(L, lua_upvalueindex(1)), *name = sl_sandbox_tostring(L, 2, NULL);
  const char *whole = lua_pushfstring(L, "%s.%s", library, name), *why = sl_sandbox_left_out(whole);
  if (why) return luaL_error(L, "'%s' is left out: %s", whole, why);
  return luaL_error(L, "'%s' has no '%s'", library, name);
}

/* pairs(face): the ordered pairs (upvalue 2) of the table behind it (upvalue 1). */
static int walk_face(lua_State *L) {
  lua_pushvalue(L, lua_upvalueindex(2));
  lua_pushvalue(L, lua_upvalueindex(1));
  lua_call(L, 1, 3);
  return 3;
}

static void lock(lua_State *L) {                         /* the metatable on top */
  lua_pushboolean(L, 0);
  lua_setfield(L, -2, "__metatable");
}

void sl_sandbox_push_library(lua_State *L, const char *name) {
  luaL_checkstack(L, 8, "no room for a library");
  lua_newtable(L);                                       /* behind, metatable for behind */
  lua_pushstring(L, name);
  lua_pushcclosure(L, refuse_name, 1);
  lua_setfield(L, -2, "__index");
  lock(L);
  lua_setmetatable(L, -2);

  lua_newtable(L);                                       /* behind, face, metatable */
  lua_newtable(L);
  lua_pushvalue(L, -3);
  lua_setfield(L, -2, "__index");
  lua_pushstring(L, name);
  lua_pushcclosure(L, refuse_write, 1);
  lua_setfield(L, -2, "__newindex");
  lua_pushvalue(L, -3);
  lua_rawgetp(L, LUA_REGISTRYINDEX, &env_key);
  lua_getfield(L, -1, "pairs");
  lua_remove(L, -2);
  lua_pushcclosure(L, walk_face, 2);
  lua_setfield(L, -2, "__pairs");
  lock(L);
  lua_setmetatable(L, -2);
  lua_remove(L, -2);
}

/* ---- the state -------------------------------------------------------------------------------------------------- */

static void add_library(lua_State *L, const char *name, void (*open)(lua_State *)) {
  open(L);
  sl_sandbox_push_library(L, name);
  lua_setfield(L, -2, name);
}

/* "10" + 1: a numeral may be as long as a text can be. */
static int charged_arithmetic(lua_State *L) {
  size_t size, all = 0;
  for (int i = 1; i <= 2; i++)
    if (lua_type(L, i) == LUA_TSTRING && lua_tolstring(L, i, &size)) all += size;
  sl_sandbox_charge(L, (long long)(all / 4));
  return lua_tocfunction(L, lua_upvalueindex(1))(L);
}

/* A script's ("x"):rep(3) looks in the strings' metatable, which every chunk of the state shares. */
static void lock_strings(lua_State *L) {
  lua_pushliteral(L, "");
  lua_getmetatable(L, -1);
  sl_string_open(L);
  lua_setfield(L, -2, "__index");
  static const char *const events[] = { "__add", "__sub", "__mul", "__mod", "__pow", "__div", "__idiv", "__unm" };
  for (size_t i = 0; i < sizeof events / sizeof *events; i++) {
    lua_getfield(L, -1, events[i]);
    lua_pushcclosure(L, charged_arithmetic, 1);
    lua_setfield(L, -2, events[i]);
  }
  lock(L);
  lua_pop(L, 2);
}

static void tame_globals(lua_State *L) {
  lua_pushcfunction(L, sl_base_pcall);
  lua_setglobal(L, "pcall");
  lua_pushcfunction(L, sl_base_xpcall);
  lua_setglobal(L, "xpcall");
  lua_rawgetp(L, LUA_REGISTRYINDEX, &env_key);
  lua_getfield(L, -1, "tostring");                       /* the host's own messages show no addresses either */
  lua_setglobal(L, "tostring");
  lua_pop(L, 1);
  lua_getglobal(L, "math");
  lua_pushcfunction(L, sl_math_random);
  lua_setfield(L, -2, "random");
  lua_pushnil(L);
  lua_setfield(L, -2, "randomseed");
  lua_pop(L, 1);
}

static int open_state(lua_State *L) {
  static const luaL_Reg libraries[] = {
    { LUA_GNAME, luaopen_base }, { LUA_STRLIBNAME, luaopen_string }, { LUA_TABLIBNAME, luaopen_table },
    { LUA_MATHLIBNAME, luaopen_math }, { LUA_UTF8LIBNAME, luaopen_utf8 },
  };
  const struct sl_box *box = sl_box(L);
  for (size_t i = 0; i < sizeof libraries / sizeof *libraries; i++) {
    luaL_requiref(L, libraries[i].name, libraries[i].func, 1);
    lua_pop(L, 1);
  }
  const char *const reasons[] = { box->over_memory, box->over_steps, sl_no_memory };
  for (size_t i = 0; i < sizeof reasons / sizeof *reasons; i++) {
    lua_pushstring(L, reasons[i]);
    lua_rawsetp(L, LUA_REGISTRYINDEX, reasons[i]);
  }
  lua_newtable(L);
  lua_pushvalue(L, -1);
  lua_rawsetp(L, LUA_REGISTRYINDEX, &env_key);
  sl_base_open(L);
  add_library(L, LUA_STRLIBNAME, sl_string_open);
  add_library(L, LUA_TABLIBNAME, sl_table_open);
  add_library(L, LUA_MATHLIBNAME, sl_math_open);
  add_library(L, LUA_UTF8LIBNAME, sl_utf8_open);
  lock_strings(L);
  tame_globals(L);
  return 0;
}

void sl_sandbox_push_env(lua_State *L) {
  lua_newtable(L);
  lua_rawgetp(L, LUA_REGISTRYINDEX, &env_key);
  lua_pushnil(L);
  while (lua_next(L, -2)) {                              /* a copy: the order does not show */
    lua_pushvalue(L, -2);
    lua_insert(L, -2);
    lua_rawset(L, -5);
  }
  lua_pop(L, 1);
}

static void describe(struct sl_box *box) {
  static const size_t mib = (size_t)1 << 20, kib = (size_t)1 << 10;
  bool in_mib = box->memory % mib == 0, millions = box->steps % 1000000 == 0;
  snprintf(box->over_memory, sizeof box->over_memory, "asked for more than %zu %s of memory",
           in_mib ? box->memory / mib : (box->memory + kib - 1) / kib, in_mib ? "MiB" : "KiB");
  snprintf(box->over_steps, sizeof box->over_steps, "used more than %lld%s steps",
           millions ? box->steps / 1000000 : box->steps, millions ? " million" : "");
}

void sl_sandbox_count(lua_State *L, long long steps) {
  struct sl_box *box = sl_box(L);
  if (box->depth > box->guarded || box->why) return;
  if (box->steps != steps) {
    box->steps = steps;
    describe(box);
    lua_pushstring(L, box->over_steps);
    lua_rawsetp(L, LUA_REGISTRYINDEX, box->over_steps);
  }
  box->left = steps < 0 ? LLONG_MAX : steps;
  sl_box_settle(box);
}

void sl_sandbox_limit(lua_State *L) {
  struct sl_box *box = sl_box(L);
  if (!box->why) box->pool.most = box->memory;
}

lua_State *sl_sandbox_new(const struct sl_limits *limits) {
  struct sl_box *box = calloc(1, sizeof *box);
  if (!box) return NULL;
  box->memory = limits && limits->memory ? limits->memory : default_memory;
  box->steps = limits && limits->steps ? limits->steps : default_steps;
  box->left = box->steps < 0 ? LLONG_MAX : box->steps;
  describe(box);
  box->pool.chunk = sl_pool_chunk(box->memory);
  box->seed = limits && limits->seed ? limits->seed : 1;
  sl_random_seed(box, box->seed);
  lua_State *L = lua_newstate(sl_box_allocate, box);
  if (!L) { sl_pool_drop(&box->pool); free(box); return NULL; }
  box->L = L;
  *(struct sl_box **)lua_getextraspace(L) = box;
  lua_pushcfunction(L, open_state);
  if (lua_pcall(L, 0, 0, 0) == LUA_OK) return L;
  sl_sandbox_close(L);
  return NULL;
}

struct sl_box *sl_sandbox_box(lua_State *L) { return sl_box(L); }
void sl_sandbox_own(lua_State *L, void *owner) { sl_box(L)->owner = owner; }
void *sl_sandbox_owner(lua_State *L) { return sl_box(L)->owner; }

void sl_sandbox_close(lua_State *L) {
  struct sl_box *box = sl_box(L);
  sl_pool_drop(&box->pool);                              /* finalisers do not run: see leaving in host/state.h */
  free(box);
}
