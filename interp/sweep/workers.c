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
#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/signalfd.h>
#include <sys/wait.h>
#include <unistd.h>
#include "box/sandbox.h"
#include "host/raise.h"
#include "host/text.h"
#include "sweep/database.h"
#include "sweep/keeping.h"
#include "sweep/lane.h"
#include "sweep/progress.h"
#include "sweep/sweep.h"

enum {
  MOST_JOBS = 1024,
  LOOK_MS = 50, TICK_NS = 200000000,
  DOUBTS = 3,                            /* variants that were killed for nothing, before all are counted */
};
static const long long usual_steps = 400000000, counted_below = 200000000;
static const double usual_seconds = 60;
static const double steps_a_second = 4e9;     /* more than any machine runs: whoever took less time took less steps */

/* Stack of the protected body. */
enum { AT_WORKERS = 1, AT_DB, AT_NEXT, AT_WORK, AT_LOST, AT_TICK };

struct workers {
  int jobs;
  struct sl_lane *lane;
  struct pollfd *wait;                   /* signals, and two for each lane */
  struct sl_worker *worker;              /* what host.variant and host.row of a worker are going to know */
  struct sl_shared *shared;
  size_t shared_size;
  pid_t self;
  struct sl_keeping keeping;
  bool unkept;                           /* the store refused */
  struct sl_numbers done;
  struct sl_block *given_back;           /* of workers that died */
  bool exhausted;                        /* next() has no more */
  long long steps;
  double seconds, watch;                 /* processor time that a variant may take: counted, not counted */
  bool counting;
  int doubts;
  int signals;                           /* a descriptor that they are read from */
  int stops;                             /* signals that came */
  sigset_t mask;                         /* as it was */
  struct sigaction pipe;
  bool masked;
  int64_t began, ticked;
  struct sl_progress progress;
};

static int out_of_memory(lua_State *L) { return sl_raise(L, "S003", NULL, "not enough memory"); }

static void want_kept(lua_State *L, struct workers *w, int status) {
  if (status == SQLITE_OK) return;
  w->unkept = true;
  sl_database_raise(L, AT_DB, status);
}

/* ---- blocks ------------------------------------------------------------------------------------------------------ */

static void hear_signals(struct workers *w) {
  struct signalfd_siginfo one;
  while (read(w->signals, &one, sizeof one) == (ssize_t)sizeof one) w->stops++;
  if (w->stops) atomic_store(&w->shared->stop, true);
}

/* What next() gives, without what is done: NULL where nothing of it is left. */
static struct sl_block *read_block(lua_State *L, struct workers *w) {
  lua_pushvalue(L, AT_NEXT);
  lua_call(L, 0, 1);
  if (lua_isnil(L, -1)) {
    w->exhausted = true;
    lua_pop(L, 1);
    return NULL;
  }
  if (!lua_istable(L, -1)) luaL_error(L, "next gives a list of numbers, or nil; got a %s", luaL_typename(L, -1));
  const size_t n = lua_rawlen(L, -1);
  struct sl_block *b = sl_block_new(n);
  if (!b) out_of_memory(L);
  bool whole = true;
  for (size_t i = 1; i <= n; i++, lua_pop(L, 1)) {
    int is = 0;
    lua_rawgeti(L, -1, (lua_Integer)i);
    const lua_Integer number = lua_tointegerx(L, -1, &is);
    whole = whole && is && number >= 0;
    if (whole && !sl_numbers_has(&w->done, number)) b->number[b->n++] = number;
  }
  lua_pop(L, 1);
  if (whole && b->n) return b;
  sl_blocks_free(b);
  if (!whole) luaL_error(L, "next gives a list of whole numbers from 0 up");
  return NULL;
}

static struct sl_block *take_block(lua_State *L, struct workers *w) {
  struct sl_block *b = w->given_back;
  if (b) w->given_back = b->next;
  while (!b && !w->exhausted && !w->stops) {
    b = read_block(L, w);
    hear_signals(w);
  }
  return b;
}

/* ---- starting ---------------------------------------------------------------------------------------------------- */

static void give(lua_State *L, struct sl_lane *lane) {
  if (!sl_lane_give(lane)) out_of_memory(L);
}

static void start(lua_State *L, struct workers *w, struct sl_lane *lane, bool alone) {
  static const char help[] = "fewer workers take less: --jobs 1";
  int ends[2];
  luaL_checkstack(L, 8, "a worker");
  if (!sl_lane_open(lane, ends)) sl_raise(L, "S003", help, "a worker cannot be started (%s)", strerror(errno));
  lane->alone = alone;
  lane->pid = fork();
  if (lane->pid == 0) {
    *w->worker = (struct sl_worker){ .shared = w->shared, .slot = lane->slot, .in = ends[0], .out = ends[1],
                                     .alone = alone, .steps = w->steps, .columns = w->keeping.columns };
    lua_settop(L, AT_TICK);
    lua_pushvalue(L, AT_WORK);
    sl_worker_be(L, w->worker, w->self);
  }
  const int error = errno;
  close(ends[0]);
  close(ends[1]);
  if (lane->pid < 0) {
    lane->pid = 0;
    sl_raise(L, "S003", help, "a worker cannot be started (%s)", strerror(error));
  }
  give(L, lane);
}

/* A worker where there is work, the next block where one is wanted, leave to go home where there is none. */
static void keep_busy(lua_State *L, struct workers *w, struct sl_lane *lane) {
  struct sl_block *b = NULL;
  const bool wants = lane->pid ? lane->to >= 0 && !lane->alone && (!lane->blocks || (lane->asks && !lane->blocks->next))
                               : !lane->suspected;
  if (wants && !w->stops && (b = take_block(L, w))) sl_lane_own(lane, b);
  if (!lane->pid && lane->suspected && !w->stops) {
    if (!(b = sl_block_new(1))) out_of_memory(L);
    b->number[b->n++] = lane->suspect;
    sl_lane_own(lane, b);
    start(L, w, lane, true);
  } else if (!lane->pid && b) start(L, w, lane, false);
  else if (b) give(L, lane);
  if (lane->pid && (lane->alone || w->stops || !lane->blocks)) sl_lane_dismiss(lane);
}

/* ---- what workers tell ------------------------------------------------------------------------------------------- */

static void take_row(lua_State *L, struct workers *w, struct sl_lane *lane, struct sl_frame_reader *r) {
  int n = 0;
  while (n < w->keeping.columns && sl_frame_value(r, &w->keeping.row[n])) n++;
  const int64_t number = w->keeping.row[0].i;
  if (!lane->blocks || !sl_block_take(lane->blocks, number))
    luaL_error(L, "a row of variant %I, which is not in the block at hand or has one", (LUAI_UACINT)number);
  want_kept(L, w, sl_keeping_put(&w->keeping, n, sl_now()));
}

static void end_block(lua_State *L, struct workers *w, struct sl_lane *lane) {
  struct sl_block *b = lane->blocks;
  if (b->at < b->n && !w->stops)
    luaL_error(L, "work gave no row of variant %I", (LUAI_UACINT)b->number[b->at]);
  lane->blocks = b->next;
  b->next = NULL;
  sl_blocks_free(b);
}

static void take_limit(struct sl_lane *lane, struct sl_frame_reader *r) {
  struct sl_value how = { .n = 0 }, why = { .n = 0 };
  sl_frame_value(r, &how);
  sl_frame_value(r, &why);
  SL_SAY(lane->how, "%.*s", (int)how.n, how.text);
  SL_SAY(lane->why, "%.*s", (int)why.n, why.text);
}

static void push_text(lua_State *L, struct sl_frame_reader *r) {
  struct sl_value v;
  if (sl_frame_value(r, &v) && v.type == SL_VALUE_TEXT) lua_pushlstring(L, v.text, v.n);
  else lua_pushnil(L);
}

static void raise_theirs(lua_State *L, struct sl_lane *lane, struct sl_frame_reader *r) {
  for (int i = 0; i < 3; i++) push_text(L, r);
  const char *code = lua_tostring(L, -3), *text = lua_tostring(L, -2), *help = lua_tostring(L, -1);
  const int64_t number = atomic_load(&lane->slot->number);
  if (number == SL_NO_VARIANT) sl_raise(L, code, help, "%s", text);
  sl_raise(L, code, help, "%s (in variant %lld)", text, (long long)number);
}

static void take_frames(lua_State *L, struct workers *w, struct sl_lane *lane) {
  struct sl_frame_reader r;
  size_t at = 0;
  while (sl_frame_next(&lane->in, &at, &r))
    switch (r.kind) {
      case SL_FRAME_ROW: take_row(L, w, lane, &r); break;
      case SL_FRAME_ASK: lane->asks = true; break;
      case SL_FRAME_DONE: end_block(L, w, lane); break;
      case SL_FRAME_LIMIT: take_limit(lane, &r); break;
      case SL_FRAME_ERROR: raise_theirs(L, lane, &r);
    }
  memmove(lane->in.at, lane->in.at + at, lane->in.n - at);
  lane->in.n -= at;
}

/* ---- endings ----------------------------------------------------------------------------------------------------- */

static void give_back(struct workers *w, struct sl_lane *lane) {
  struct sl_block **last = &lane->blocks;
  while (*last) {
    struct sl_block *b = *last;
    if (b->at < b->n) last = &b->next;
    else {
      *last = b->next;
      b->next = NULL;
      sl_blocks_free(b);
    }
  }
  *last = w->given_back;
  w->given_back = lane->blocks;
  lane->blocks = NULL;
}

/* The variant that a worker died of: what it was at, unless that has its row; else what it was to begin with. */
static void suspect(struct sl_lane *lane) {
  struct sl_block *b = lane->blocks;
  const int64_t number = atomic_load(&lane->slot->number);
  lane->suspected = b && b->at < b->n;
  if (!lane->suspected) return;
  lane->suspect = sl_block_has(b, number) ? number : b->number[b->at];
  lane->watched = lane->killed;
  sl_block_take(b, lane->suspect);
}

static void push_why(lua_State *L, const struct workers *w, const struct sl_lane *lane, int status) {
  char text[64];
  if (lane->killed) {
    SL_SAY(text, "took more than %g s of processor time", w->seconds);
    lua_pushliteral(L, "time");
    lua_pushstring(L, text);
  } else if (*lane->how) {
    lua_pushstring(L, lane->how);
    lua_pushstring(L, lane->why);
  } else {
    lua_pushliteral(L, "crash");
    if (WIFSIGNALED(status))
      lua_pushfstring(L, "its process was killed by signal %d (%s)", WTERMSIG(status), strsignal(WTERMSIG(status)));
    else lua_pushfstring(L, "its process ended with status %d", WEXITSTATUS(status));
  }
}

/* lost() gives the row of a variant that has none. */
static void take_lost(lua_State *L, struct workers *w, struct sl_lane *lane, int status) {
  const int base = lua_gettop(L);
  lua_pushvalue(L, AT_LOST);
  lua_pushinteger(L, lane->suspect);
  push_why(L, w, lane, status);
  lua_call(L, 3, LUA_MULTRET);
  const int n = lua_gettop(L) - base;
  if (n < 1 || n > w->keeping.columns) luaL_error(L, "lost gives the %d values of a row, got %d", w->keeping.columns, n);
  for (int i = 0; i < n; i++) {
    struct sl_value v = { .type = SL_VALUE_NIL };
    const int at = base + 1 + i, type = lua_type(L, at);
    if (type == LUA_TBOOLEAN || lua_isinteger(L, at)) {
      v.type = SL_VALUE_INT;
      v.i = type == LUA_TBOOLEAN ? lua_toboolean(L, at) : lua_tointeger(L, at);
    } else if (type == LUA_TNUMBER) {
      v.type = SL_VALUE_FLOAT;
      v.d = lua_tonumber(L, at);
    } else if (type == LUA_TSTRING) {
      v.type = SL_VALUE_TEXT;
      v.text = lua_tolstring(L, at, &v.n);
    } else if (type != LUA_TNIL) luaL_error(L, "a row holds no %s", luaL_typename(L, at));
    w->keeping.row[i] = v;
  }
  want_kept(L, w, sl_keeping_put(&w->keeping, n, sl_now()));
  lua_settop(L, base);
}

/* A variant that was slow only where it was not counted makes all of them be counted after a few. */
static void came_out_well(struct workers *w, const struct sl_lane *lane) {
  if (!lane->watched || ++w->doubts < DOUBTS) return;
  w->counting = true;
  atomic_store(&w->shared->counting, true);
}

static void end_worker(lua_State *L, struct workers *w, struct sl_lane *lane) {
  const int status = sl_lane_end(lane, false);
  const bool has_row = !lane->blocks || lane->blocks->at == lane->blocks->n;
  if (!w->stops && lane->alone && has_row) came_out_well(w, lane);
  else if (!w->stops && lane->alone) take_lost(L, w, lane, status);
  else if (!w->stops) {
    suspect(lane);
    give_back(w, lane);
    return;
  }
  lane->suspected = false;
  sl_blocks_free(lane->blocks);
  lane->blocks = NULL;
}

/* ---- waiting ----------------------------------------------------------------------------------------------------- */

static void receive(lua_State *L, struct workers *w, struct sl_lane *lane) {
  const bool goes_on = sl_lane_receive(lane);
  const int error = errno;
  take_frames(L, w, lane);
  if (goes_on) return;
  if (error == ENOMEM) out_of_memory(L);
  end_worker(L, w, lane);
}

static void wait_for_workers(lua_State *L, struct workers *w) {
  const nfds_t n = 1 + 2 * (nfds_t)w->jobs;
  w->wait[0] = (struct pollfd){ .fd = w->signals, .events = POLLIN };
  for (int i = 0; i < w->jobs; i++) {
    const struct sl_lane *lane = &w->lane[i];
    w->wait[1 + 2 * i] = (struct pollfd){ .fd = lane->pid ? lane->from : -1, .events = POLLIN };
    w->wait[2 + 2 * i] = (struct pollfd){ .fd = lane->sent < lane->out.n ? lane->to : -1, .events = POLLOUT };
  }
  if (poll(w->wait, n, LOOK_MS) < 0 && errno != EINTR) luaL_error(L, "poll: %s", strerror(errno));
  hear_signals(w);
  for (int i = 0; i < w->jobs; i++) {
    if (w->wait[2 + 2 * i].revents) sl_lane_send(&w->lane[i]);
    if (w->wait[1 + 2 * i].revents) receive(L, w, &w->lane[i]);
  }
}

static void tick(lua_State *L, struct workers *w, int64_t now) {
  if (lua_isnil(L, AT_TICK) || now - w->ticked < TICK_NS) return;
  const struct sl_best *best = &w->keeping.best;
  w->ticked = now;
  lua_pushvalue(L, AT_TICK);
  lua_pushinteger(L, (lua_Integer)w->done.n + w->keeping.rows);
  lua_pushinteger(L, w->keeping.rows);
  lua_pushnumber(L, 1e-9 * (double)(now - w->began));
  if (best->there) {
    lua_pushnumber(L, best->value);
    lua_pushinteger(L, best->number);
  }
  lua_call(L, best->there ? 5 : 3, 1);
  size_t n;
  const char *text = lua_tolstring(L, -1, &n);
  if (text) sl_progress_show(&w->progress, text, n);
  lua_pop(L, 1);
}

static bool any_at_work(const struct workers *w) {
  for (int i = 0; i < w->jobs; i++)
    if (w->lane[i].pid) return true;
  return false;
}

/* Protected: (workers, db, next, work, lost, tick) -> "done" or "stopped" */
static int body(lua_State *L) {
  struct workers *w = lua_touserdata(L, AT_WORKERS);
  w->began = w->ticked = sl_now();
  while (w->stops < 2) {                                 /* a second signal does not wait for them */
    for (int i = 0; i < w->jobs; i++) keep_busy(L, w, &w->lane[i]);
    if (!any_at_work(w)) break;
    wait_for_workers(L, w);
    const int64_t now = sl_now();
    for (int i = 0; i < w->jobs; i++)
      sl_lane_watch(&w->lane[i], w->counting || w->lane[i].alone ? w->seconds : w->watch);
    want_kept(L, w, sl_keeping_due(&w->keeping, now));
    tick(L, w, now);
  }
  want_kept(L, w, sl_keeping_commit(&w->keeping));
  lua_pushstring(L, w->stops ? "stopped" : "done");
  return 1;
}

/* ---- beginning and end ------------------------------------------------------------------------------------------- */

/* What somebody chose not to hear, as `nohup` does, is not heard. */
static bool catch_signals(struct workers *w) {
  static const int heard[] = { SIGINT, SIGTERM, SIGHUP };
  sigset_t set;
  sigemptyset(&set);
  for (size_t i = 0; i < sizeof heard / sizeof *heard; i++) {
    struct sigaction now;
    if (sigaction(heard[i], NULL, &now) == 0 && now.sa_handler != SIG_IGN) sigaddset(&set, heard[i]);
  }
  w->signals = signalfd(-1, &set, SFD_NONBLOCK | SFD_CLOEXEC);
  if (w->signals < 0) return false;
  struct sigaction ignore = { .sa_handler = SIG_IGN };
  sigaction(SIGPIPE, &ignore, &w->pipe);
  w->masked = sigprocmask(SIG_BLOCK, &set, &w->mask) == 0;
  return w->masked;
}

/* Whatever raised: no worker is left, what came is kept, signals are as they were. */
static void finish(struct workers *w) {
  for (int i = 0; w->lane && i < w->jobs; i++) {
    sl_lane_end(&w->lane[i], true);
    sl_blocks_free(w->lane[i].blocks);
    sl_bytes_free(&w->lane[i].in);
    sl_bytes_free(&w->lane[i].out);
  }
  sl_progress_clear(&w->progress);
  sl_keeping_close(&w->keeping, w->unkept);
  sl_blocks_free(w->given_back);
  sl_numbers_free(&w->done);
  free(w->lane);
  free(w->wait);
  if (w->shared) munmap(w->shared, w->shared_size);
  if (w->signals >= 0) close(w->signals);
  if (!w->masked) return;
  sigprocmask(SIG_SETMASK, &w->mask, NULL);
  sigaction(SIGPIPE, &w->pipe, NULL);
}

static void find_done(lua_State *L, struct workers *w, const char *skip) {
  sqlite3_stmt *s = NULL;
  bool there = true;
  int status = sqlite3_prepare_v2(w->keeping.db, skip, -1, &s, NULL);
  while (there && status == SQLITE_OK && (status = sqlite3_step(s)) == SQLITE_ROW) {
    there = sl_numbers_add(&w->done, sqlite3_column_int64(s, 0));
    status = SQLITE_OK;
  }
  sqlite3_finalize(s);
  if (!there) out_of_memory(L);
  want_kept(L, w, status == SQLITE_DONE ? SQLITE_OK : status);
  sl_numbers_sort(&w->done);
}

/* Protected: (workers, db, next, work, lost, tick, insert, skip) -> as body */
static int prepare(lua_State *L) {
  struct workers *w = lua_touserdata(L, AT_WORKERS);
  const char *insert = lua_tostring(L, AT_TICK + 1), *skip = lua_tostring(L, AT_TICK + 2);
  want_kept(L, w, sl_keeping_open(&w->keeping, sl_database_at(L, AT_DB), insert));
  if (w->keeping.best.column > w->keeping.columns) luaL_error(L, "a row has no value %d", w->keeping.best.column);
  if (skip) find_done(L, w, skip);
  w->shared_size = sizeof *w->shared + (size_t)w->jobs * sizeof *w->shared->slot;
  void *shared = mmap(NULL, w->shared_size, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
  if (shared != MAP_FAILED) w->shared = shared;
  w->lane = calloc((size_t)w->jobs, sizeof *w->lane);
  w->wait = calloc(1 + 2 * (size_t)w->jobs, sizeof *w->wait);
  if (!w->shared || !w->lane || !w->wait) out_of_memory(L);
  for (int i = 0; i < w->jobs; i++) {
    w->lane[i].to = w->lane[i].from = -1;
    w->lane[i].slot = &w->shared->slot[i];
  }
  atomic_store(&w->shared->counting, w->counting);
  if (!catch_signals(w)) luaL_error(L, "signalfd: %s", strerror(errno));
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

static void read_limits(lua_State *L, struct workers *w) {
  w->steps = (long long)number_of(L, 1, "steps", (lua_Number)usual_steps);
  w->seconds = number_of(L, 1, "seconds", usual_seconds);
  if (w->steps < 1 || !(w->seconds > 0)) luaL_error(L, "steps and seconds are more than 0");
  w->counting = w->steps < counted_below;
  w->watch = (double)w->steps / steps_a_second;
  if (w->watch > w->seconds) w->watch = w->seconds;
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
  struct workers read = { .jobs = jobs, .worker = lua_touserdata(L, lua_upvalueindex(1)), .signals = -1,
                          .self = getpid(), .progress = sl_progress_begin() };
  if (read.worker->shared) return luaL_error(L, "a worker starts no workers");
  read_limits(L, &read);
  read_best(L, &read.keeping.best);
  lua_pushcfunction(L, prepare);
  struct workers *w = lua_newuserdatauv(L, sizeof *w, 0);
  *w = read;
  push_field(L, "db", LUA_TUSERDATA, false);
  push_field(L, "next", LUA_TFUNCTION, false);
  push_field(L, "work", LUA_TFUNCTION, false);
  push_field(L, "lost", LUA_TFUNCTION, false);
  push_field(L, "tick", LUA_TFUNCTION, true);
  push_field(L, "insert", LUA_TSTRING, false);
  push_field(L, "skip", LUA_TSTRING, true);
  const int status = lua_pcall(L, AT_TICK + 2, 1, 0);
  finish(w);
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
