/* SPDX-License-Identifier: MIT
 * The workers of one sweep: what each is given, what it tells, what becomes of it. */
#include "sweep/crew.h"

#include <errno.h>
#include <lauxlib.h>
#include <stdlib.h>
#include <string.h>
#include <sys/signalfd.h>
#include <sys/wait.h>
#include <unistd.h>
#include "box/sandbox.h"
#include "host/raise.h"
#include "host/text.h"
#include "sweep/database.h"

enum { DOUBTS = 3 };                     /* variants that were killed for nothing, before all are counted */

int sl_crew_no_memory(lua_State *L) { sl_sandbox_no_memory(L); }

void sl_crew_kept(lua_State *L, struct sl_crew *c, int status) {
  if (status == SQLITE_OK) return;
  c->unkept = true;
  sl_database_raise(L, SL_AT_DB, status);
}

/* ---- blocks ------------------------------------------------------------------------------------------------------ */

void sl_crew_hear(struct sl_crew *c) {
  struct signalfd_siginfo one;
  while (read(c->signals, &one, sizeof one) == (ssize_t)sizeof one) c->stops++;
  if (c->stops) atomic_store(&c->shared->stop, true);
}

/* What next() gives, without what is done: NULL where nothing of it is left. */
static struct sl_block *read_block(lua_State *L, struct sl_crew *c) {
  lua_pushvalue(L, SL_AT_NEXT);
  lua_call(L, 0, 1);
  if (lua_isnil(L, -1)) {
    c->exhausted = true;
    lua_pop(L, 1);
    return NULL;
  }
  if (!lua_istable(L, -1)) luaL_error(L, "next gives a list of numbers, or nil; got a %s", luaL_typename(L, -1));
  const size_t n = lua_rawlen(L, -1);
  struct sl_block *b = sl_block_new(n);
  if (!b) sl_crew_no_memory(L);
  bool whole = true;
  for (size_t i = 1; i <= n; i++, lua_pop(L, 1)) {
    int is = 0;
    lua_rawgeti(L, -1, (lua_Integer)i);
    const lua_Integer number = lua_tointegerx(L, -1, &is);
    whole = whole && is && number >= 0;
    if (whole && !sl_numbers_has(&c->done, number)) b->number[b->n++] = number;
  }
  lua_pop(L, 1);
  if (whole && b->n) return b;
  sl_blocks_free(b);
  if (!whole) luaL_error(L, "next gives a list of whole numbers from 0 up");
  return NULL;
}

static struct sl_block *take_block(lua_State *L, struct sl_crew *c) {
  struct sl_block *b = c->given_back;
  if (b) c->given_back = b->next;
  while (!b && !c->exhausted && !c->stops) {
    b = read_block(L, c);
    sl_crew_hear(c);
  }
  return b;
}

/* ---- starting ---------------------------------------------------------------------------------------------------- */

static void give(lua_State *L, struct sl_lane *lane) {
  if (!sl_lane_give(lane)) sl_crew_no_memory(L);
}

static void start(lua_State *L, struct sl_crew *c, struct sl_lane *lane, bool alone) {
  static const char help[] = "fewer workers take less: --jobs 1";
  int ends[2];
  luaL_checkstack(L, 8, "a worker");
  if (!sl_lane_open(lane, ends)) sl_raise(L, "S003", help, "a worker cannot be started (%s)", strerror(errno));
  lane->alone = alone;
  lane->pid = fork();
  if (lane->pid == 0) {
    *c->worker = (struct sl_worker){ .shared = c->shared, .slot = lane->slot, .in = ends[0], .out = ends[1],
                                     .alone = alone, .steps = c->steps, .columns = c->keeping.columns };
    lua_settop(L, SL_AT_TICK);
    lua_pushvalue(L, SL_AT_WORK);
    sl_worker_be(L, c->worker, c->self);
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

void sl_crew_keep_busy(lua_State *L, struct sl_crew *c, struct sl_lane *lane) {
  struct sl_block *b = NULL;
  const bool wants = lane->pid ? lane->to >= 0 && !lane->alone && (!lane->blocks || (lane->asks && !lane->blocks->next))
                               : !lane->suspected;
  if (wants && !c->stops && (b = take_block(L, c))) sl_lane_own(lane, b);
  if (!lane->pid && lane->suspected && !c->stops) {
    if (!(b = sl_block_new(1))) sl_crew_no_memory(L);
    b->number[b->n++] = lane->suspect;
    sl_lane_own(lane, b);
    start(L, c, lane, true);
  } else if (!lane->pid && b) start(L, c, lane, false);
  else if (b) give(L, lane);
  if (lane->pid && (lane->alone || c->stops || !lane->blocks)) sl_lane_dismiss(lane);
}

/* ---- what workers tell ------------------------------------------------------------------------------------------- */

static void take_row(lua_State *L, struct sl_crew *c, struct sl_lane *lane, struct sl_frame_reader *r) {
  int n = 0;
  while (n < c->keeping.columns && sl_frame_value(r, &c->keeping.row[n])) n++;
  const int64_t number = c->keeping.row[0].i;
  if (!lane->blocks || !sl_block_take(lane->blocks, number))
    luaL_error(L, "a row of variant %I, which is not in the block at hand or has one", (LUAI_UACINT)number);
  sl_crew_kept(L, c, sl_keeping_put(&c->keeping, n, sl_now()));
}

static void end_block(lua_State *L, struct sl_crew *c, struct sl_lane *lane) {
  struct sl_block *b = lane->blocks;
  if (b->at < b->n && !c->stops)
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

static void take_frames(lua_State *L, struct sl_crew *c, struct sl_lane *lane) {
  struct sl_frame_reader r;
  size_t at = 0;
  while (sl_frame_next(&lane->in, &at, &r))
    switch (r.kind) {
      case SL_FRAME_ROW: take_row(L, c, lane, &r); break;
      case SL_FRAME_ASK: lane->asks = true; break;
      case SL_FRAME_DONE: end_block(L, c, lane); break;
      case SL_FRAME_LIMIT: take_limit(lane, &r); break;
      case SL_FRAME_ERROR: raise_theirs(L, lane, &r);
    }
  if (at == 0) return;
  memmove(lane->in.at, lane->in.at + at, lane->in.n - at);
  lane->in.n -= at;
}

/* ---- endings ----------------------------------------------------------------------------------------------------- */

static void give_back(struct sl_crew *c, struct sl_lane *lane) {
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
  *last = c->given_back;
  c->given_back = lane->blocks;
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

static void push_why(lua_State *L, const struct sl_crew *c, const struct sl_lane *lane, int status) {
  char text[64];
  if (lane->killed) {
    SL_SAY(text, "took more than %g s of processor time", c->seconds);
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
static void take_lost(lua_State *L, struct sl_crew *c, struct sl_lane *lane, int status) {
  const int base = lua_gettop(L);
  lua_pushvalue(L, SL_AT_LOST);
  lua_pushinteger(L, lane->suspect);
  push_why(L, c, lane, status);
  lua_call(L, 3, LUA_MULTRET);
  const int n = lua_gettop(L) - base;
  const int most = c->keeping.columns;
  if (n < 1 || n > most) luaL_error(L, "lost gives the %d values of a row, got %d", most, n);
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
    c->keeping.row[i] = v;
  }
  sl_crew_kept(L, c, sl_keeping_put(&c->keeping, n, sl_now()));
  lua_settop(L, base);
}

/* A variant that was slow only where it was not counted makes all of them be counted after a few. */
static void came_out_well(struct sl_crew *c, const struct sl_lane *lane) {
  if (!lane->watched || ++c->doubts < DOUBTS) return;
  c->counting = true;
  atomic_store(&c->shared->counting, true);
}

static void end_worker(lua_State *L, struct sl_crew *c, struct sl_lane *lane) {
  const int status = sl_lane_end(lane, false);
  const bool has_row = !lane->blocks || lane->blocks->at == lane->blocks->n;
  if (!c->stops && lane->alone && has_row) came_out_well(c, lane);
  else if (!c->stops && lane->alone) take_lost(L, c, lane, status);
  else if (!c->stops) {
    suspect(lane);
    give_back(c, lane);
    return;
  }
  lane->suspected = false;
  sl_blocks_free(lane->blocks);
  lane->blocks = NULL;
}

void sl_crew_receive(lua_State *L, struct sl_crew *c, struct sl_lane *lane) {
  const bool goes_on = sl_lane_receive(lane);
  const int error = errno;
  take_frames(L, c, lane);
  if (goes_on) return;
  if (error == ENOMEM) sl_crew_no_memory(L);
  end_worker(L, c, lane);
}

