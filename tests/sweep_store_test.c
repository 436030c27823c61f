/* SPDX-License-Identifier: MIT
 * Stores of sweeps: the database, its errors, what a store goes on with, shards joined.  The tests stand in
 * tests/sweep_store.lua and sweep_shards.lua, in the host's own Lua; here is what that cannot do itself: other
 * processes, limits of a disk. */
#include <fcntl.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>
#include "check.h"
#include "in_host.h"
#include "sweep/sweep.h"

enum { NOBODY = 65534 };

static lua_Integer field(lua_State *L, const char *name) {
  lua_getfield(L, 2, name);
  const lua_Integer n = lua_tointeger(L, -1);
  lua_pop(L, 1);
  return n;
}

/* apart(f, { nobody, most, die }) -> what f gives, as a text, and how the process ended.  nobody: without the rights of
 * root; most: the largest file that it can write, in bytes; die: it is killed, with all that it holds open. */
static int apart(lua_State *L) {
  int ends[2];
  char text[4096];
  size_t n = 0;
  ssize_t some;
  int status;
  lua_settop(L, 2);
  if (pipe(ends) != 0) return luaL_error(L, "no pipe");
  fflush(NULL);
  const pid_t pid = fork();
  if (pid == 0) {
    const rlim_t most = (rlim_t)field(L, "most");
    if (most && setrlimit(RLIMIT_FSIZE, &(struct rlimit){ most, most }) != 0) _exit(98);
    signal(SIGXFSZ, SIG_IGN);
    lua_getfield(L, 2, "nobody");
    if (lua_toboolean(L, -1) && geteuid() == 0 && setuid(NOBODY) != 0) _exit(99);
    lua_getfield(L, 2, "die");
    const bool die = lua_toboolean(L, -1);
    lua_pushvalue(L, 1);
    (void)sl_host_call(L, 0, 1);
    const char *said = luaL_tolstring(L, -1, &n);
    if (write(ends[1], said, n) < 0) _exit(97);
    if (die) kill(getpid(), SIGKILL);
    _exit(0);
  }
  close(ends[1]);
  while (n < sizeof text && (some = read(ends[0], text + n, sizeof text - n)) > 0) n += (size_t)some;
  close(ends[0]);
  if (pid < 0 || waitpid(pid, &status, 0) != pid) return luaL_error(L, "no process");
  lua_pushlstring(L, text, n);
  lua_pushinteger(L, WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status));
  return 2;
}

/* beside(f) -> let_go: another process calls f, which comes back once it did; let_go() ends it. */
static int let_go(lua_State *L) {
  const int to = (int)lua_tointeger(L, lua_upvalueindex(1)), pid = (int)lua_tointeger(L, lua_upvalueindex(2));
  close(to);
  waitpid(pid, NULL, 0);
  return 0;
}
static int beside(lua_State *L) {
  int to[2], from[2];
  char c = '?';
  if (pipe(to) != 0 || pipe(from) != 0) return luaL_error(L, "no pipe");
  fflush(NULL);
  const pid_t pid = fork();
  if (pid == 0) {
    close(to[1]);
    lua_pushvalue(L, 1);
    c = sl_host_call(L, 0, 1) == LUA_OK ? 'y' : 'n';
    if (write(from[1], &c, 1) == 1) while (read(to[0], &c, 1) > 0) continue;
    _exit(0);
  }
  close(to[0]);
  close(from[1]);
  if (pid < 0 || read(from[0], &c, 1) != 1 || c != 'y') return luaL_error(L, "the other process did not begin");
  close(from[0]);
  lua_pushinteger(L, to[1]);
  lua_pushinteger(L, pid);
  lua_pushcclosure(L, let_go, 2);
  return 1;
}

static int set_mode(lua_State *L) {
  if (chmod(luaL_checkstring(L, 1), (mode_t)luaL_checkinteger(L, 2)) != 0) return luaL_error(L, "no chmod");
  return 0;
}

static int go_to(lua_State *L) {
  if (chdir(luaL_checkstring(L, 1)) != 0) return luaL_error(L, "no such folder");
  return 0;
}

static int make_folder(lua_State *L) {
  if (mkdir(luaL_checkstring(L, 1), 0777) != 0) return luaL_error(L, "no folder");
  return 0;
}

static lua_State *new_host(const struct sl_host *host) {
  static const luaL_Reg more[] = { { "apart", apart }, { "beside", beside }, { "set_mode", set_mode },
                                   { "make_folder", make_folder }, { "go_to", go_to },
                                   { NULL, NULL } };
  lua_State *L = sl_host_new(host, NULL);
  if (!L) return NULL;
  luaL_requiref(L, "io", luaopen_io, 1);
  luaL_requiref(L, "os", luaopen_os, 1);
  char top[4096];
  lua_pushstring(L, getcwd(top, sizeof top));
  lua_setglobal(L, "top");
  for (const luaL_Reg *m = more; m->name; m++) lua_register(L, m->name, m->func);
  sl_rows_open(L);
  sl_database_open(L);
  lua_settop(L, 0);
  return L;
}

static void run(lua_State *L, const char *file, int results) {
  if (luaL_loadfilex(L, file, "t") == LUA_OK && sl_host_call(L, 0, results) == LUA_OK) return;
  sl_host_report(L);
  exit(2);
}

/* Loads the tests, which are a list of { name, function }, into a state of their own. */
static lua_State *load(void) {
  static const struct sl_host host = { .folder = "" };
  lua_State *L = new_host(&host);
  if (!L) exit(2);
  run(L, "tests/sweep_stores.lua", 1);
  for (lua_pushnil(L); lua_next(L, 1);) lua_setglobal(L, lua_tostring(L, -2));
  run(L, "tests/sweep_store.lua", 0);
  run(L, "tests/sweep_shards.lua", 0);
  lua_getfield(L, -1, "tests");
  lua_replace(L, 1);
  lua_settop(L, 1);
  return L;
}

static void one(void **state) {
  const lua_Integer i = (lua_Integer)(intptr_t)*state;
  lua_State *L = load();
  lua_rawgeti(L, -1, i);
  lua_getfield(L, -1, "run");
  const int status = sl_host_call(L, 0, 0);
  if (status) sl_host_report(L);
  sl_host_close(L);
  assert_int_equal(status, LUA_OK);
}

int main(void) {
  lua_State *L = load();
  const size_t n = lua_rawlen(L, -1);
  struct CMUnitTest *tests = calloc(n, sizeof *tests);
  if (!tests) return 2;
  for (size_t i = 0; i < n; i++) {
    lua_rawgeti(L, 1, (lua_Integer)i + 1);
    lua_getfield(L, -1, "name");
    tests[i] = (struct CMUnitTest){ .name = lua_tostring(L, -1), .test_func = one,
                                    .initial_state = (void *)(intptr_t)(i + 1) };
    lua_settop(L, 1);
  }
  const int failed = _cmocka_run_group_tests("sweep store", tests, n, NULL, NULL);
  free(tests);
  sl_host_close(L);
  return failed;
}
