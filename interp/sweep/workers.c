/* SPDX-License-Identifier: MIT
 * host.workers: variants done side by side in forked processes, their rows put into a store by this one alone.
 *
 *   status = host.workers {
 *     jobs = n,                            workers at a time; nil: as many as there are processors
 *     db = db, insert = sql, skip = sql,   insert: one "?" for each value of a row; skip: numbers that are done, or nil
 *     next = function() -> { numbers } or nil,
 *     work = function(numbers, alone),     in the worker: host.variant(number) before each, host.row(number, status,
 *                                          ...) after it; host.variant gives false when the work is to end
 *     lost = function(number, how, text) -> number, status, ...      how: "steps", "memory", "time", "crash"
 *     tick = function(done, rows, seconds, best, number) -> line or nil,         or nil
 *     best = { column = k, most = bool, value = v, number = n },     of rows that hold; value, number: so far; or nil
 *     steps = n, seconds = s }             that one variant may take; nil: 400 million, 60
 *   -> "done", or "stopped" by a signal
 *
 * How limits are kept: docs/sweeps.md. */
#define _DEFAULT_SOURCE                  /* MAP_ANONYMOUS */
#include <errno.h>
#include <lauxlib.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/signalfd.h>
#include <unistd.h>
#include "host/raise.h"
#include "sweep/crew.h"
#include "sweep/database.h"
#include "sweep/sweep.h"

enum { MOST_JOBS = 1024, LOOK_MS = 50, TICK_NS = 200000000 };
static const long long usual_steps = 400000000, counted_below = 200000000;
static const double usual_seconds = 60;
static const double steps_a_second = 4e9;     /* more than any machine runs: whoever took less time took less steps */

/* ---- waiting ----------------------------------------------------------------------------------------------------- */

static void wait_for_workers(lua_State *L, struct sl_crew *c) {
  const nfds_t n = 1 + 2 * (nfds_t)c->jobs;
  c->wait[0] = (struct pollfd){ .fd = c->signals, .events = POLLIN };
  for (int i = 0; i < c->jobs; i++) {
    const struct sl_lane *lane = &c->lane[i];
    c->wait[1 + 2 * i] = (struct pollfd){ .fd = lane->pid ? lane->from : -1, .events = POLLIN };
    c->wait[2 + 2 * i] = (struct pollfd){ .fd = lane->sent < lane->out.n ? lane->to : -1, .events = POLLOUT };
  }
  if (poll(c->wait, n, LOOK_MS) < 0 && errno != EINTR) luaL_error(L, "poll: %s", strerror(errno));
  sl_crew_hear(c);
  for (int i = 0; i < c->jobs; i++) {
    if (c->wait[2 + 2 * i].revents) sl_lane_send(&c->lane[i]);
    if (c->wait[1 + 2 * i].revents) sl_crew_receive(L, c, &c->lane[i]);
  }
}

static void tick(lua_State *L, struct sl_crew *c, int64_t now) {
  if (lua_isnil(L, SL_AT_TICK) || now - c->ticked < TICK_NS) return;
  const struct sl_best *best = &c->keeping.best;
  c->ticked = now;
  lua_pushvalue(L, SL_AT_TICK);
  lua_pushinteger(L, (lua_Integer)c->done.n + c->keeping.rows);
  lua_pushinteger(L, c->keeping.rows);
  lua_pushnumber(L, 1e-9 * (double)(now - c->began));
  if (best->there) {
    lua_pushnumber(L, best->value);
    lua_pushinteger(L, best->number);
  }
  lua_call(L, best->there ? 5 : 3, 1);
  size_t n;
  const char *text = lua_tolstring(L, -1, &n);
  if (text) sl_progress_show(&c->progress, text, n);
  lua_pop(L, 1);
}

static bool any_at_work(const struct sl_crew *c) {
  for (int i = 0; i < c->jobs; i++)
    if (c->lane[i].pid) return true;
  return false;
}

/* Protected: (workers, db, next, work, lost, tick) -> "done" or "stopped" */
static int body(lua_State *L) {
  struct sl_crew *c = lua_touserdata(L, SL_AT_CREW);
  c->began = c->ticked = sl_now();
  while (c->stops < 2) {                                 /* a second signal does not wait for them */
    for (int i = 0; i < c->jobs; i++) sl_crew_keep_busy(L, c, &c->lane[i]);
    if (!any_at_work(c)) break;
    wait_for_workers(L, c);
    const int64_t now = sl_now();
    for (int i = 0; i < c->jobs; i++)
      sl_lane_watch(&c->lane[i], c->counting || c->lane[i].alone ? c->seconds : c->watch);
    sl_crew_kept(L, c, sl_keeping_due(&c->keeping, now));
    tick(L, c, now);
  }
  sl_crew_kept(L, c, sl_keeping_commit(&c->keeping));
  lua_pushstring(L, c->stops ? "stopped" : "done");
  return 1;
}

/* ---- beginning and end ------------------------------------------------------------------------------------------- */

/* What somebody chose not to hear, as `nohup` does, is not heard. */
static bool catch_signals(struct sl_crew *c) {
  static const int heard[] = { SIGINT, SIGTERM, SIGHUP };
  sigset_t set;
  sigemptyset(&set);
  for (size_t i = 0; i < sizeof heard / sizeof *heard; i++) {
    struct sigaction now;
    if (sigaction(heard[i], NULL, &now) == 0 && now.sa_handler != SIG_IGN) sigaddset(&set, heard[i]);
  }
  c->signals = signalfd(-1, &set, SFD_NONBLOCK | SFD_CLOEXEC);
  if (c->signals < 0) return false;
  struct sigaction ignore = { .sa_handler = SIG_IGN };
  sigaction(SIGPIPE, &ignore, &c->pipe);
  c->masked = sigprocmask(SIG_BLOCK, &set, &c->mask) == 0;
  return c->masked;
}

/* Whatever raised: no worker is left, what came is kept, signals are as they were. */
static void finish(struct sl_crew *c) {
  for (int i = 0; c->lane && i < c->jobs; i++) {
    sl_lane_end(&c->lane[i], true);
    sl_blocks_free(c->lane[i].blocks);
    sl_bytes_free(&c->lane[i].in);
    sl_bytes_free(&c->lane[i].out);
  }
  sl_progress_clear(&c->progress);
  sl_keeping_close(&c->keeping, c->unkept);
  sl_blocks_free(c->given_back);
  sl_numbers_free(&c->done);
  free(c->lane);
  free(c->wait);
  if (c->shared) munmap(c->shared, c->shared_size);
  if (c->signals >= 0) close(c->signals);
  if (!c->masked) return;
  sigprocmask(SIG_SETMASK, &c->mask, NULL);
  sigaction(SIGPIPE, &c->pipe, NULL);
}

static void find_done(lua_State *L, struct sl_crew *c, const char *skip) {
  sqlite3_stmt *s = NULL;
  bool there = true;
  int status = sqlite3_prepare_v2(c->keeping.db, skip, -1, &s, NULL);
  while (there && status == SQLITE_OK && (status = sqlite3_step(s)) == SQLITE_ROW) {
    there = sl_numbers_add(&c->done, sqlite3_column_int64(s, 0));
    status = SQLITE_OK;
  }
  sqlite3_finalize(s);
  if (!there) sl_crew_no_memory(L);
  sl_crew_kept(L, c, status == SQLITE_DONE ? SQLITE_OK : status);
  sl_numbers_sort(&c->done);
}

/* Protected: (workers, db, next, work, lost, tick, insert, skip) -> as body */
static int prepare(lua_State *L) {
  struct sl_crew *c = lua_touserdata(L, SL_AT_CREW);
  const char *insert = lua_tostring(L, SL_AT_TICK + 1), *skip = lua_tostring(L, SL_AT_TICK + 2);
  sl_crew_kept(L, c, sl_keeping_open(&c->keeping, sl_database_at(L, SL_AT_DB), insert));
  if (c->keeping.best.column > c->keeping.columns) luaL_error(L, "a row has no value %d", c->keeping.best.column);
  if (skip) find_done(L, c, skip);
  c->shared_size = sizeof *c->shared + (size_t)c->jobs * sizeof *c->shared->slot;
  void *shared = mmap(NULL, c->shared_size, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
  if (shared != MAP_FAILED) c->shared = shared;
  c->lane = calloc((size_t)c->jobs, sizeof *c->lane);
  c->wait = calloc(1 + 2 * (size_t)c->jobs, sizeof *c->wait);
  if (!c->shared || !c->lane || !c->wait) sl_crew_no_memory(L);
  for (int i = 0; i < c->jobs; i++) {
    c->lane[i].to = c->lane[i].from = -1;
    c->lane[i].slot = &c->shared->slot[i];
  }
  atomic_store(&c->shared->counting, c->counting);
  if (!catch_signals(c)) luaL_error(L, "signalfd: %s", strerror(errno));
  return body(L);
}

static lua_Number number_of(lua_State *L, int idx, const char *name, lua_Number usual) {
  const lua_Number n = lua_getfield(L, idx, name) == LUA_TNIL ? usual : luaL_checknumber(L, -1);
  lua_pop(L, 1);
  return n;
}

static void read_best(lua_State *L, struct sl_best *best) {
  if (lua_getfield(L, 1, "best") != LUA_TNIL) {
    luaL_checktype(L, -1, LUA_TTABLE);
    const int at = lua_gettop(L);
    best->column = (int)number_of(L, at, "column", 0);
    lua_getfield(L, at, "most");
    best->most = lua_toboolean(L, -1);
    best->there = lua_getfield(L, at, "value") != LUA_TNIL;
    best->value = number_of(L, at, "value", 0);
    best->number = (int64_t)number_of(L, at, "number", 0);
  }
  lua_settop(L, 1);
}

static void read_limits(lua_State *L, struct sl_crew *c) {
  c->steps = (long long)number_of(L, 1, "steps", (lua_Number)usual_steps);
  c->seconds = number_of(L, 1, "seconds", usual_seconds);
  if (c->steps < 1 || !(c->seconds > 0)) luaL_error(L, "steps and seconds are more than 0");
  c->counting = c->steps < counted_below;
  c->watch = (double)c->steps / steps_a_second;
  if (c->watch > c->seconds) c->watch = c->seconds;
}

static void push_field(lua_State *L, const char *name, int type, bool may_lack) {
  const int got = lua_getfield(L, 1, name);
  if (got != type && !(may_lack && got == LUA_TNIL))
    luaL_error(L, "host.workers: '%s' is a %s, got a %s", name, lua_typename(L, type), lua_typename(L, got));
}

static long processors(void) {
  const long n = sysconf(_SC_NPROCESSORS_ONLN);
  return n < 1 ? 1 : n > MOST_JOBS ? MOST_JOBS : n;
}

static int h_workers(lua_State *L) {
  luaL_checktype(L, 1, LUA_TTABLE);
  lua_settop(L, 1);
  const int jobs = (int)number_of(L, 1, "jobs", (lua_Number)processors());
  if (jobs < 1 || jobs > MOST_JOBS) return luaL_error(L, "host.workers: jobs is 1 to %d", MOST_JOBS);
  struct sl_crew read = { .jobs = jobs, .worker = lua_touserdata(L, lua_upvalueindex(1)), .signals = -1,
                          .self = getpid(), .progress = sl_progress_begin() };
  if (read.worker->shared) return luaL_error(L, "a worker starts no workers");
  read_limits(L, &read);
  read_best(L, &read.keeping.best);
  lua_pushcfunction(L, prepare);
  struct sl_crew *c = lua_newuserdatauv(L, sizeof *c, 0);
  *c = read;
  push_field(L, "db", LUA_TUSERDATA, false);
  push_field(L, "next", LUA_TFUNCTION, false);
  push_field(L, "work", LUA_TFUNCTION, false);
  push_field(L, "lost", LUA_TFUNCTION, false);
  push_field(L, "tick", LUA_TFUNCTION, true);
  push_field(L, "insert", LUA_TSTRING, false);
  push_field(L, "skip", LUA_TSTRING, true);
  const int status = lua_pcall(L, SL_AT_TICK + 2, 1, 0);
  finish(c);
  return status == LUA_OK ? 1 : lua_error(L);
}

void sl_workers_open(lua_State *L) {
  static const luaL_Reg functions[] = { { "workers", h_workers }, { "variant", sl_worker_variant },
                                        { "row", sl_worker_row }, { NULL, NULL } };
  lua_getglobal(L, "host");
  struct sl_worker *worker = lua_newuserdatauv(L, sizeof *worker, 0);
  *worker = (struct sl_worker){ .shared = NULL };
  luaL_setfuncs(L, functions, 1);
  lua_pop(L, 1);
}
