/* SPDX-License-Identifier: MIT
 * A worker, from inside. */
#define _GNU_SOURCE                          /* close_range through syscall() */
#include "sweep/worker.h"

#include <dirent.h>
#include <errno.h>
#include <lauxlib.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/syscall.h>
#include <time.h>
#include <unistd.h>
#include "box/sandbox.h"
#include "host/message.h"
#include "host/raise.h"

enum { SEND_BYTES = 16 << 10, SEND_NS = 200000000, ASK_SHARE = 8 };

int64_t sl_now(void) {
  struct timespec t;
  clock_gettime(CLOCK_MONOTONIC, &t);
  return (int64_t)t.tv_sec * 1000000000 + t.tv_nsec;
}

/* ---- pipes ------------------------------------------------------------------------------------------------------- */

/* Without a parent there is nothing to go on for. */
static void send_frames(struct sl_worker *w) {
  for (size_t at = 0; at < w->rows.whole;) {
    const ssize_t n = write(w->out, w->rows.at + at, w->rows.whole - at);
    if (n >= 0) at += (size_t)n;
    else if (errno != EINTR) _exit(EXIT_FAILURE);
  }
  w->rows.n = w->rows.whole = 0;
  w->sent = sl_now();
}

/* False: the parent has no more. */
static bool take(const struct sl_worker *w, void *to, size_t size) {
  for (size_t at = 0; at < size;) {
    const ssize_t n = read(w->in, (char *)to + at, size - at);
    if (n == 0) return false;
    if (n > 0) at += (size_t)n;
    else if (errno != EINTR) _exit(EXIT_FAILURE);
  }
  return true;
}

/* ---- host.variant, host.row -------------------------------------------------------------------------------------- */

static struct sl_worker *worker_of(lua_State *L, const char *name) {
  struct sl_worker *w = lua_touserdata(L, lua_upvalueindex(1));
  if (!w->shared) luaL_error(L, "host.%s is called in the work of host.workers only", name);
  if (sl_sandbox_abort(L)) luaL_error(L, "%s", sl_sandbox_abort(L));
  return w;
}

static void want_memory(lua_State *L, bool there) {
  if (!there) sl_sandbox_no_memory(L);
}

/* variant(number) -> whether to go on with it. */
int sl_worker_variant(lua_State *L) {
  struct sl_worker *w = worker_of(L, "variant");
  const lua_Integer number = luaL_checkinteger(L, 1);
  if (atomic_load_explicit(&w->shared->stop, memory_order_relaxed)) {
    lua_pushboolean(L, false);
    return 1;
  }
  atomic_store_explicit(&w->slot->number, number, memory_order_relaxed);
  atomic_fetch_add_explicit(&w->slot->begun, 1, memory_order_release);
  if (w->until_ask && --w->until_ask == 0) {
    want_memory(L, sl_frame_begin(&w->rows, SL_FRAME_ASK) && sl_frame_end(&w->rows));
    send_frames(w);
  }
  sl_sandbox_tidy(L);
  if (w->alone || atomic_load_explicit(&w->shared->counting, memory_order_relaxed)) sl_sandbox_count(L, w->steps);
  lua_pushboolean(L, true);
  return 1;
}

static bool put_value(lua_State *L, struct sl_bytes *rows, int i) {
  size_t n;
  const char *text;
  switch (lua_type(L, i)) {
    case LUA_TNIL: return sl_frame_nil(rows);
    case LUA_TBOOLEAN: return sl_frame_int(rows, lua_toboolean(L, i));
    case LUA_TNUMBER:
      return lua_isinteger(L, i) ? sl_frame_int(rows, lua_tointeger(L, i)) : sl_frame_float(rows, lua_tonumber(L, i));
    case LUA_TSTRING:
      text = lua_tolstring(L, i, &n);
      return sl_frame_text(rows, text, n);
    default: return luaL_error(L, "a row holds nil, numbers, strings and booleans; value %d is a %s", i,
                               luaL_typename(L, i));
  }
}

/* row(number, status, ...): values that are left out at the end are NULL. */
int sl_worker_row(lua_State *L) {
  struct sl_worker *w = worker_of(L, "row");
  const int n = lua_gettop(L);
  luaL_checkinteger(L, 1);
  if (n > w->columns) return luaL_error(L, "a row has %d values at most, got %d", w->columns, n);
  bool there = sl_frame_begin(&w->rows, SL_FRAME_ROW);
  for (int i = 1; i <= n && there; i++) there = put_value(L, &w->rows, i);
  want_memory(L, there && sl_frame_end(&w->rows));
  if (w->rows.whole > SEND_BYTES || sl_now() - w->sent > SEND_NS) send_frames(w);
  return 0;
}

/* ---- blocks ------------------------------------------------------------------------------------------------------ */

/* Pushes the list of the next block; false: there is none. */
static bool push_block(lua_State *L, struct sl_worker *w) {
  int64_t n, part[512];
  if (!take(w, &n, sizeof n)) return false;
  lua_createtable(L, (int)n, 0);
  for (int64_t done = 0; done < n;) {
    const int64_t most = (int64_t)(sizeof part / sizeof *part), some = n - done < most ? n - done : most;
    if (!take(w, part, (size_t)some * sizeof *part)) return false;
    for (int64_t i = 0; i < some; i++) {
      lua_pushinteger(L, part[i]);
      lua_rawseti(L, -2, ++done);
    }
  }
  w->until_ask = w->alone ? 0 : (size_t)(n - n / ASK_SHARE);
  return true;
}

/* Protected: (worker, work) */
static int serve(lua_State *L) {
  struct sl_worker *w = lua_touserdata(L, 1);
  sl_sandbox_count(L, -1);                   /* till a variant begins that is counted */
  while (!atomic_load_explicit(&w->shared->stop, memory_order_relaxed) && push_block(L, w)) {
    atomic_store_explicit(&w->slot->number, SL_NO_VARIANT, memory_order_relaxed);
    atomic_fetch_add_explicit(&w->slot->begun, 1, memory_order_release);
    lua_pushvalue(L, 2);
    lua_insert(L, 3);
    lua_pushboolean(L, w->alone);
    lua_call(L, 2, 0);
    if (sl_sandbox_abort(L)) return luaL_error(L, "%s", sl_sandbox_abort(L));
    want_memory(L, sl_frame_begin(&w->rows, SL_FRAME_DONE) && sl_frame_end(&w->rows));
    send_frames(w);
  }
  return 0;
}

static bool put_text(struct sl_bytes *rows, const char *text) {
  return text ? sl_frame_text(rows, text, strlen(text)) : sl_frame_nil(rows);
}

/* Why the work ended: the error on top. */
static bool put_end(lua_State *L, struct sl_bytes *rows) {
  const char *why = sl_sandbox_abort(L);
  if (why)
    return sl_frame_begin(rows, SL_FRAME_LIMIT) && put_text(rows, sl_sandbox_out_of_steps(L) ? "steps" : "memory") &&
           put_text(rows, why) && sl_frame_end(rows);
  struct sl_message m;
  sl_error_message(L, -1, &m);
  return sl_frame_begin(rows, SL_FRAME_ERROR) && put_text(rows, m.code) && put_text(rows, m.text) &&
         put_text(rows, m.help) && sl_frame_end(rows);
}

/* ---- the process ------------------------------------------------------------------------------------------------- */

/* What others have open would keep their pipes from ending, and a store that another process wants. */
static void close_others(const struct sl_worker *w) {
  const unsigned low = (unsigned)(w->in < w->out ? w->in : w->out), high = (unsigned)(w->in < w->out ? w->out : w->in);
#ifdef SYS_close_range
  if ((low == 3 || syscall(SYS_close_range, 3U, low - 1, 0U) == 0) &&
      (high == low + 1 || syscall(SYS_close_range, low + 1, high - 1, 0U) == 0) &&
      syscall(SYS_close_range, high + 1, ~0U, 0U) == 0) return;
#endif
  DIR *open_now = opendir("/proc/self/fd");
  if (!open_now) _exit(EXIT_FAILURE);
  const int own = dirfd(open_now);
  for (struct dirent *e; (e = readdir(open_now));) {
    const int fd = atoi(e->d_name);
    if (fd > 2 && fd != own && fd != w->in && fd != w->out) close(fd);
  }
  closedir(open_now);
}

/* The parent says when to stop; a terminal's Ctrl-C comes to all of the group.  A crash leaves no core file. */
static void settle(pid_t parent) {
  static const int unheard[] = { SIGINT, SIGTERM, SIGHUP, SIGPIPE };
  sigset_t none;
  if (prctl(PR_SET_PDEATHSIG, SIGKILL) != 0 || getppid() != parent) _exit(EXIT_FAILURE);
  for (size_t i = 0; i < sizeof unheard / sizeof *unheard; i++) signal(unheard[i], SIG_IGN);
  sigemptyset(&none);
  sigprocmask(SIG_SETMASK, &none, NULL);
  setrlimit(RLIMIT_CORE, &(struct rlimit){ 0, 0 });
}

void sl_worker_be(lua_State *L, struct sl_worker *w, pid_t parent) {
  settle(parent);
  close_others(w);
  w->sent = sl_now();
  const int work = lua_gettop(L);
  lua_pushcfunction(L, sl_error_handler);
  lua_pushcfunction(L, serve);
  lua_pushlightuserdata(L, w);
  lua_pushvalue(L, work);
  if (sl_sandbox_guard(L, 2, 0, work + 1) && !put_end(L, &w->rows)) _exit(EXIT_FAILURE);
  send_frames(w);
  _exit(EXIT_SUCCESS);
}
