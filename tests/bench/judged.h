/* SPDX-License-Identifier: MIT
 * The bench of judging: variants of a job against the same primitive calls from C, many racks against one, broken
 * against holding.  The Lua of it is variants.lua. */
#ifndef SL_BENCH_JUDGED_H
#define SL_BENCH_JUDGED_H

#include <lauxlib.h>
#include <lualib.h>
#include <string.h>
#include <sys/stat.h>
#include "bind/open.h"
#include "command/rows.h"
#include "host/host.h"
#include "host/raise.h"
#include "ratio.h"

enum { JUDGED_ROUNDS = 21, FORCED = 10, RACK_ROUNDS = 5, RACKS = 200, MOST_CALLS = 4096 };

static inline void called(lua_State *L, int nargs, int nresults) {
  if (sl_host_call(L, nargs, nresults) == LUA_OK) return;
  struct sl_message m;
  sl_error_message(L, -1, &m);
  die(m.text);
}

/* A state in which the job was judged once; its measures are on the stack. `host` stays as long as it does. */
static inline lua_State *judged(const struct sl_host *host, const char *script, void (*before)(lua_State *L)) {
  lua_State *L = sl_host_new(host, &(struct sl_limits){ .steps = -1 });
  if (!L) die("no memory");
  sl_rows_open(L);
  if (before) before(L);
  if (luaL_loadfilex(L, "tests/bench/variants.lua", "t") != LUA_OK) die(lua_tostring(L, -1));
  lua_pushstring(L, script);
  called(L, 1, 1);
  return L;
}

/* Seconds for each of n. */
static inline double measured(lua_State *L, const char *measure, int n) {
  if (lua_getfield(L, 1, measure) != LUA_TFUNCTION) die(measure);
  lua_pushinteger(L, n);
  const double before = worked();
  called(L, 1, 0);
  return (worked() - before) / n;
}

/* ---- the ceiling: what a variant calls, from C ------------------------------------------------------------------- */

struct calls { struct sl_called *call; size_t n; };

/* (...) -> what the primitive gives, which is kept for as long as the state is. */
static inline int kept_call(lua_State *L) {
  struct calls *calls = lua_touserdata(L, lua_upvalueindex(2));
  const int nargs = lua_gettop(L);
  lua_pushvalue(L, lua_upvalueindex(1));
  lua_insert(L, 1);
  lua_call(L, nargs, 1);
  if (!calls->call) return 1;                              /* nobody listens */
  if (calls->n == MOST_CALLS || !sl_bind_called(L, -1, &calls->call[calls->n])) die("a call cannot be kept");
  lua_pushvalue(L, -1);
  luaL_ref(L, LUA_REGISTRYINDEX);
  calls->n++;
  return 1;
}

static struct calls heard;                                 /* of the one state that is listened to */

/* In front of each primitive; before any module took one. */
static inline void listen(lua_State *L) {
  lua_getglobal(L, "calc");
  for (size_t i = 0; sl_op_lists[i]; i++)
    for (const struct sl_op *op = sl_op_lists[i]; op->name; op++) {
      sl_bind_push(L, op);
      lua_pushlightuserdata(L, &heard);
      lua_pushcclosure(L, kept_call, 2);
      lua_setfield(L, -2, op->name);
    }
  lua_pop(L, 1);
}

/* Seconds for all calls of a variant. */
static inline double ceiling(int n) {
  double sum = 0;
  const double before = worked();
  for (int i = 0; i < n; i++)
    for (size_t k = 0; k < heard.n; k++) {
      const struct sl_called *c = &heard.call[k];
      struct sl_sheet sheet = { 0 };
      if (c->op->call(c->in, c->out, c->space, &sheet) != SL_OK) die("a call that was answered is refused");
      sum += sheet.rests;
    }
  const double each = (worked() - before) / n;
  if (!(sum >= 0)) die("no sum");
  return each;
}

/* ---- variants ---------------------------------------------------------------------------------------------------- */

/* Gives the seconds that the calls of a variant take from C. */
static inline double variants(void) {
  static const struct axis { const char *measure, *what; int n; double target; } axes[] = {
    { "coldest", "variant, other coldest dawn", 50, 2 }, { "wire", "variant, other wire", 20, 8 },
    { "columns", "variant, other number of columns", 20, 20 }, { "depth", "variant, other depth of the holes", 20, 0 },
    { "colder", "variant, colder than a paper is for", 50, 0 },
  };
  enum { AXES = sizeof axes / sizeof *axes };
  static double time[AXES][JUDGED_ROUNDS], forced[JUDGED_ROUNDS * FORCED], floor[JUDGED_ROUNDS * FORCED];
  static double alone[JUDGED_ROUNDS];
  static const char script[] = "examples/egg-farm/job.sline";
  const struct sl_host host = { .folder = "examples/egg-farm", .format = SL_GNU };
  heard.call = calloc(MOST_CALLS, sizeof *heard.call);
  if (!heard.call) die("no memory");
  lua_State *heard_in = judged(&host, script, listen);     /* all that judging the job calls, when nothing is kept */
  lua_State *L = judged(&host, script, NULL), *apart = judged(&host, script, NULL);
  for (int i = 0; i < AXES; i++) measured(L, axes[i].measure, axes[i].n);
  for (int r = 0; r < JUDGED_ROUNDS; r++) {
    alone[r] = ceiling(200);
    for (int i = 0; i < FORCED; i++) {                     /* caches are for both as a variant leaves them */
      forced[r * FORCED + i] = measured(apart, "forced", 1);
      floor[r * FORCED + i] = ceiling(1);
    }
    for (int i = 0; i < AXES; i++) time[i][r] = measured(L, axes[i].measure, axes[i].n);
  }
  const double least = median(floor, JUDGED_ROUNDS * FORCED), all = median(forced, JUDGED_ROUNDS * FORCED);
  char from_c[40];
  snprintf(from_c, sizeof from_c, "%zu calls in C", heard.n);
  tell("variant, all worked out again", all, "examples/egg-farm", least, from_c, 1e6, "us", 22);
  for (int i = 0; i < AXES; i++)
    tell(axes[i].what, median(time[i], JUDGED_ROUNDS), "examples/egg-farm", least, from_c, 1e6, "us", axes[i].target);
  printf("%-34s %9.0f a second; the calls in C %.0f, and %.0f where nothing else runs between\n",
         "variants, all worked out again", 1 / all, 1 / least, 1 / median(alone, JUDGED_ROUNDS));
  sl_host_close(L);
  sl_host_close(apart);
  sl_host_close(heard_in);
  free(heard.call);
  return least;
}

/* ---- many racks -------------------------------------------------------------------------------------------------- */

/* A job of n racks in a folder of its own. */
static inline void write_racks(const char *folder, int n, const char *how) {
  lua_State *L = luaL_newstate();
  if (!L) die("no memory");
  luaL_openlibs(L);
  if (luaL_dofile(L, "tests/bench/racks.lua") != LUA_OK) die(lua_tostring(L, -1));
  lua_pushinteger(L, n);
  lua_pushstring(L, folder);
  lua_pushstring(L, how);
  if (lua_pcall(L, 3, 0, 0) != LUA_OK) die(lua_tostring(L, -1));
  lua_close(L);
}

static inline void many_racks(const char *folder) {
  static const struct { int n; const char *broken; } of[] = { { 1, NULL }, { RACKS, NULL }, { RACKS, "broken" } };
  enum { OF = sizeof of / sizeof *of };
  static double time[OF][RACK_ROUNDS];
  struct sl_host host[OF];
  lua_State *L[OF];
  char place[OF][200], script[240];
  for (int i = 0; i < OF; i++) {
    snprintf(place[i], sizeof place[i], "%s/racks-%d", folder, i);
    if (mkdir(place[i], 0700) != 0) die("cannot make a folder");
    write_racks(place[i], of[i].n, of[i].broken);
    snprintf(script, sizeof script, "%.*s/job.sline", (int)sizeof place[i], place[i]);
    host[i] = (struct sl_host){ .folder = place[i], .format = SL_GNU };
    L[i] = judged(&host[i], script, NULL);
  }
  for (int r = 0; r < RACK_ROUNDS; r++)
    for (int i = 0; i < OF; i++) time[i][r] = measured(L[i], "check", i == 0 ? 50 : 1);
  double each[OF];
  for (int i = 0; i < OF; i++) {
    each[i] = median(time[i], RACK_ROUNDS);
    sl_host_close(L[i]);
  }
  tell("many racks, checked", each[1], "200 racks", each[0], "one rack", 1e3, "ms", 250);
  tell("a broken job, checked", each[2], "200 racks, holes too shallow", each[1], "200 racks", 1e3, "ms", 3);
}

#endif
