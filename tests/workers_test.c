/* SPDX-License-Identifier: MIT
 * Workers: whatever becomes of them, the table that they fill is the one that follows from its numbers by a formula
 * (tests/workers.lua); each row of this suite is a chunk of the host's Lua in a state and a folder of its own. */
#define _GNU_SOURCE
#include "check.h"
#include <errno.h>
#include <fcntl.h>
#include <lauxlib.h>
#include <poll.h>
#include <signal.h>
#include <stdatomic.h>
#include <sys/ioctl.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>
#include "box/safe.h"
#include "host/host.h"
#include "host/raise.h"
#include "sweep/keeping.h"
#include "sweep/numbers.h"
#include "sweep/progress.h"
#include "sweep/rows.h"
#include "sweep/sweep.h"

#define COUNT(a) (sizeof(a) / sizeof *(a))

/* ---- what variants may do ---------------------------------------------------------------------------------------- */

static int spin(lua_State *L) {
  volatile bool on = true;
  while (on) continue;
  return (void)L, 0;
}

/* For ever, unless steps are counted. */
static int burn_until_counted(lua_State *L) {
  if (sl_box(L)->steps < 0) spin(L);
  return 0;
}

static int die(lua_State *L) { (void)L; return raise(SIGKILL); }
static int leave(lua_State *L) { _exit((int)luaL_checkinteger(L, 1)); }
static int signal_parent(lua_State *L) { (void)kill(getppid(), (int)luaL_checkinteger(L, 1)); return 0; }

/* True the first time, whoever asks. */
static int once(lua_State *L) {
  const int fd = open(luaL_checkstring(L, 1), O_CREAT | O_EXCL | O_WRONLY, 0600);
  if (fd >= 0) close(fd);
  lua_pushboolean(L, fd >= 0);
  return 1;
}

static int nap(lua_State *L) {
  const long ms = (long)luaL_checkinteger(L, 1);
  nanosleep(&(struct timespec){ ms / 1000, ms % 1000 * 1000000 }, NULL);
  return 0;
}

/* How many workers have come so far to where they wait or spin; shared by all processes. */
static atomic_int *arrived;
static int arrive(lua_State *L) { (void)L, atomic_fetch_add(arrived, 1); return 0; }

/* Until so many have come: no time is long enough on a machine that does other things, too. */
static int wait_for(lua_State *L) {
  for (int ms = 0; atomic_load(arrived) < luaL_checkinteger(L, 1); ms++) {
    if (ms == 60000) return luaL_error(L, "after a minute %d have come", atomic_load(arrived));
    nanosleep(&(struct timespec){ 0, 1000000 }, NULL);
  }
  return 0;
}

/* A function of a script, as a job's. */
static int script(lua_State *L) {
  size_t n;
  const char *text = luaL_checklstring(L, 1, &n);
  if (sl_sandbox_load(L, text, n, "@job.sline")) return lua_error(L);
  sl_sandbox_push_env(L);
  lua_setupvalue(L, -2, 1);
  return 1;
}

/* A child of this process that was not waited for. */
static int alive(lua_State *L) {
  lua_pushboolean(L, !(waitpid(-1, NULL, WNOHANG) < 0 && errno == ECHILD));
  return 1;
}

/* ---- a state and a folder ---------------------------------------------------------------------------------------- */

static char folder[] = "/tmp/workers-XXXXXX", path[64], once_path[64];

static void remove_files(void) {
  static const char *const ends[] = { "", "-wal", "-journal", "-shm" };
  for (size_t i = 0; i < COUNT(ends); i++) {
    char name[80];
    snprintf(name, sizeof name, "%s%s", path, ends[i]);
    unlink(name);
  }
  unlink(once_path);
  atomic_store(arrived, 0);
}

/* As they were before the first test. */
static const int heard[] = { SIGINT, SIGTERM, SIGHUP, SIGPIPE };
static struct sigaction first_action[COUNT(heard)];
static sigset_t first_mask;

static int make_folder(void **state) {
  (void)state;
  sigprocmask(SIG_SETMASK, NULL, &first_mask);
  for (size_t i = 0; i < COUNT(heard); i++) sigaction(heard[i], NULL, &first_action[i]);
  arrived = mmap(NULL, sizeof *arrived, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
  if (arrived == MAP_FAILED || !mkdtemp(folder)) return -1;
  snprintf(path, sizeof path, "%s/job.sweep", folder);
  snprintf(once_path, sizeof once_path, "%s/once", folder);
  return 0;
}

static int remove_folder(void **state) {
  (void)state;
  char line[100];                              /* a kill leaves what was begun beside the store, too */
  snprintf(line, sizeof line, "rm -rf %s", folder);
  return system(line);
}

static const struct sl_host host = { .folder = "", .format = SL_GNU };
enum { MEMORY = 32 << 20 };

static lua_State *new_state(void) {
  static const luaL_Reg functions[] = {
    { "spin", spin }, { "burn_until_counted", burn_until_counted }, { "die", die }, { "leave", leave },
    { "signal_parent", signal_parent }, { "once", once }, { "nap", nap }, { "script", script }, { "alive", alive },
    { "arrive", arrive }, { "wait_for", wait_for },
    { NULL, NULL } };
  lua_State *L = sl_host_new(&host, &(struct sl_limits){ .memory = MEMORY, .steps = -1 });
  assert_non_null(L);
  sl_database_open(L);
  sl_workers_open(L);
  lua_pushglobaltable(L);
  luaL_setfuncs(L, functions, 0);
  lua_pushstring(L, path);
  lua_setfield(L, -2, "path");
  lua_pushstring(L, once_path);
  lua_setfield(L, -2, "once_path");
  assert_int_equal(luaL_loadfilex(L, "tests/workers.lua", "t"), LUA_OK);
  lua_call(L, 0, 1);
  lua_setfield(L, -2, "crew");
  lua_pop(L, 1);
  return L;
}

/* False: what went wrong was printed. */
static bool runs(const char *chunk) {
  lua_State *L = new_state();
  const bool well = luaL_loadbufferx(L, chunk, strlen(chunk), "=row", "t") == LUA_OK && sl_host_call(L, 0, 0) == LUA_OK;
  if (!well) sl_host_report(L);
  sl_host_close(L);
  return well;
}

static const struct row { const char *name, *chunk; } rows[] = {
  { "one worker", "crew.whole { jobs = 1 }" },
  { "two", "crew.whole { jobs = 2 }" },
  { "more workers than blocks", "crew.whole { jobs = 7, block = 40 }" },
  { "blocks of one", "crew.whole { jobs = 2, block = 1 }" },
  { "one block", "crew.whole { jobs = 2, block = 1000 }" },
  { "a block that no pipe holds", "crew.whole { jobs = 2, total = 40000, block = 20000 }" },
  { "many trivial rows", "crew.whole { jobs = 2, total = 100000, block = 2000 }" },
  { "no variant at all", "crew.whole { total = 0 }" },
  { "numbers in an order of their own", "local list = {} for n = 99, 0, -1 do list[#list + 1] = n end "
    "local given crew.whole { next = function() if not given then given = true return list end end }" },
  { "what is there is not done again", "local db <close> = crew.open() "
    "for n = 0, 99, 3 do db:run('INSERT INTO variant VALUES (?,?,?,?,?)', n, 'kept', 'before', nil, nil) end "
    "local at, other = {}, {} for n = 0, 99, 3 do other[n] = { 'kept', 'before' } at[n] = die end "
    "crew.want(crew.run(db, { at = at }), 'done') crew.same(crew.table_of(db), crew.expected(100, other))" },
  { "a table that is whole", "for _ = 1, 2 do crew.whole { at = once(once_path) and {} or { [5] = die } } end" },
  { "values of all kinds", "local db <close> = crew.open() "
    "crew.want(crew.run(db, { total = 1, work = function() host.variant(0) "
    "host.row(0, true, nil, 0/0, 'x\\0y') end }), 'done') "
    "local s, w, a, b = db:one 'SELECT status, why, a, b FROM variant' "
    "crew.want(s, '1') crew.want(w, nil) crew.want(a, nil) crew.want(b, 'x\\0y')" },
  { "values that are left out are NULL", "local db <close> = crew.open() "
    "crew.run(db, { total = 2, block = 1, work = function(list) host.variant(list[1]) "
    "if list[1] == 0 then host.row(0, 'holds', 'w', 1.5, 'b') else host.row(1, 'refused') end end, jobs = 1 }) "
    "local s, w, a, b = db:one 'SELECT status, why, a, b FROM variant WHERE number = 1' "
    "crew.want(s, 'refused') crew.want(w, nil) crew.want(a, nil) crew.want(b, nil)" },
  { "rows that are larger than a pipe", "local db <close> = crew.open() local long = string.rep('0123456789', 30000) "
    "crew.want(crew.run(db, { total = 40, work = function(list) for _, n in ipairs(list) do host.variant(n) "
    "host.row(n, 'holds', nil, nil, n .. long) end end }), 'done') "
    "local n = 0 for i, b in db:each 'SELECT number, b FROM variant ORDER BY number' do crew.want(i, n) "
    "crew.want(b, n .. long) n = n + 1 end crew.want(n, 40)" },

  /* Limits. */
  { "a script that loops for ever", "crew.whole({ steps = 2000000, "
    "at = { [17] = function() host.call(script 'while true do end') end } }, "
    "{ [17] = { 'steps', 'used more than 2 million steps' } })" },
  { "one that keeps what stops it to itself", "crew.whole({ steps = 2000000, "
    "at = { [17] = function() pcall(host.call, script 'while true do end') end } }, "
    "{ [17] = { 'steps', 'used more than 2 million steps' } })" },
  { "each variant has all its steps", "crew.whole { steps = 2000000, total = 20, jobs = 1, "
    "at = setmetatable({}, { __index = function() return function() host.call(script 'for i = 1, 500000 do end') end "
    "end }) }" },
  { "a loop that nobody counts, until it is watched", "crew.whole({ steps = 200000000, "
    "at = { [17] = function() host.call(script 'while true do end') end } }, "
    "{ [17] = { 'steps', 'used more than 200 million steps' } })" },
  { "a loop in C", "crew.whole({ seconds = 0.3, at = { [17] = spin, [18] = spin } }, "
    "{ [17] = { 'time', 'took more than 0.3 s of processor time' }, "
    "[18] = { 'time', 'took more than 0.3 s of processor time' } })" },
  { "a loop in C where steps are counted", "crew.whole({ seconds = 0.3, steps = 1000000, at = { [17] = spin } }, "
    "{ [17] = { 'time', 'took more than 0.3 s of processor time' } })" },
  { "after three in vain all are counted", "local db <close> = crew.open() "
    "crew.want(crew.run(db, { jobs = 1, total = 9, block = 4, work = function(list, alone) "
    "for _, n in ipairs(list) do if not host.variant(n) then return end burn_until_counted() "
    "host.row(n, alone and 'alone' or 'beside') end end }), 'done') "
    "crew.same(crew.table_of(db), (function() local t = {} for n = 0, 8 do "
    "t[n + 1] = n .. '|' .. (n < 3 and 'alone' or 'beside') .. '|nil|-1|nil' end return t end)())" },
  { "a script that eats memory", "crew.whole({ at = { [17] = function() host.call(script [[local t = {} "
    "while true do t[#t + 1] = ('x'):rep(1000) .. #t end]]) end } }, "
    "{ [17] = { 'memory', 'asked for more than 32 MiB of memory' } })" },
  { "a variant of which the host's own work eats memory", "crew.whole({ at = { [17] = function() local t = {} "
    "while true do t[#t + 1] = ('x'):rep(1000) .. #t end end } }, "
    "{ [17] = { 'memory', 'asked for more than 32 MiB of memory' } })" },
  { "garbage is no memory", "crew.whole { at = setmetatable({}, { __index = function() return function(n) "
    "local t = {} for i = 1, 6000 do t[i] = ('x'):rep(1000) .. i end end end }) }" },
  { "memory that is asked for only beside others' garbage", "local kept = {} crew.whole { jobs = 1, total = 20, "
    "block = 20, at = { [7] = function(n, alone) for i = 1, alone and 0 or 40000 do kept[i] = ('x'):rep(1000) .. i end "
    "end } }" },
  { "steps of the state's own limit", "host.call(script 'for i = 1, 10 do end') crew.whole { steps = 2000000 } "
    "host.call(script 'for i = 1, 9000000 do end')" },

  /* Deaths. */
  { "one that is killed", "crew.whole({ at = { [17] = die } }, "
    "{ [17] = { 'crash', 'its process was killed by signal 9 (Killed)' } })" },
  { "one that ends its process", "crew.whole({ at = { [17] = function() leave(3) end } }, "
    "{ [17] = { 'crash', 'its process ended with status 3' } })" },
  { "and one that says that all is well", "crew.whole({ at = { [17] = function() leave(0) end } }, "
    "{ [17] = { 'crash', 'its process ended with status 0' } })" },
  { "the first and the last", "local at = { [0] = die, [99] = die } local why = "
    "{ 'crash', 'its process was killed by signal 9 (Killed)' } crew.whole({ at = at, block = 10 }, "
    "{ [0] = why, [99] = why })" },
  { "all of them", "local why = { 'crash', 'its process was killed by signal 9 (Killed)' } local all = {} "
    "for n = 0, 19 do all[n] = why end "
    "crew.whole({ total = 20, at = setmetatable({}, { __index = function() return die end }) }, all)" },
  { "one that dies once", "crew.whole { at = { [17] = function() if once(once_path) then die() end end } }" },
  { "one that dies after the last row of its block", "local db <close> = crew.open() "
    "crew.want(crew.run(db, { jobs = 1, total = 20, block = 10, work = function(list) "
    "for _, n in ipairs(list) do host.variant(n) if n == 9 then nap(250) end host.row(crew.values(n)) end "
    "if list[#list] == 9 and once(once_path) then die() end end }), 'done') "
    "crew.same(crew.table_of(db), crew.expected(20))" },
  { "one that dies before its block is begun", "crew.whole { work = function(list, alone) "
    "if not alone and once(once_path) then die() end crew.work()(list) end }" },
  { "all at once", "crew.whole({ steps = 2000000, seconds = 0.3, jobs = 3, at = { [3] = die, [4] = spin, "
    "[50] = function() host.call(script 'while true do end') end, [99] = function() local t = {} while true do "
    "t[#t + 1] = ('x'):rep(1000) .. #t end end } }, "
    "{ [3] = { 'crash', 'its process was killed by signal 9 (Killed)' }, "
    "[4] = { 'time', 'took more than 0.3 s of processor time' }, "
    "[50] = { 'steps', 'used more than 2 million steps' }, "
    "[99] = { 'memory', 'asked for more than 32 MiB of memory' } })" },

  /* Signals: 1, 2 and 15 are SIGHUP, SIGINT and SIGTERM. */
  { "stopped in the middle, and on", "local db <close> = crew.open() for i, s in ipairs { 15, 2, 1 } do "
    "local at = { [300 * i] = function() signal_parent(s) nap(100) end } "
    "crew.want(crew.run(db, { at = at, jobs = 2, total = 1200, block = 20 }), 'stopped') "
    "crew.want(db:one('SELECT count(*) FROM variant WHERE number = ?', 300 * i), 1) crew.want(alive(), false) "
    "if db:one 'SELECT count(*) FROM variant' == 1200 then error 'nothing was left to do' end end "
    "crew.want(crew.run(db, { total = 1200 }), 'done') crew.same(crew.table_of(db), crew.expected(1200))" },
  { "stopped in the middle of a block", "local db <close> = crew.open() "
    "local at = { [30] = function() signal_parent(15) end } for n = 31, 99 do at[n] = function() nap(30) end end "
    "crew.want(crew.run(db, { at = at, jobs = 1, block = 100 }), 'stopped') "
    "local n = db:one 'SELECT count(*) FROM variant' if n < 31 or n > 99 then error(n .. ' rows') end "
    "crew.same(crew.table_of(db), crew.expected(n))" },
  { "a second signal ends what does not end", "local db <close> = crew.open() "
    "crew.want(crew.run(db, { steps = 1000000, jobs = 2, total = 20, block = 1, at = { [3] = function() "
    "nap(300) signal_parent(15) nap(100) signal_parent(15) spin() end } }), 'stopped') crew.want(alive(), false) "
    "crew.want(db:one 'SELECT count(*) FROM variant WHERE number = 3', 0) "
    "crew.want(crew.run(db, { total = 20 }), 'done') crew.same(crew.table_of(db), crew.expected(20))" },
  { "one that loops when a signal comes is left for the next time", "local db <close> = crew.open() "
    "crew.want(crew.run(db, { jobs = 1, total = 20, at = { [3] = function() signal_parent(15) spin() end } }), "
    "'stopped') crew.want(db:one 'SELECT count(*) FROM variant WHERE number >= 3', 0) "
    "crew.want(crew.run(db, { total = 20 }), 'done') crew.same(crew.table_of(db), crew.expected(20))" },

  /* What goes wrong outside of variants. */
  { "work that raises", "local lines = crew.raises({ jobs = 1, at = { [17] = function() host.raise { code = 'D010', "
    "text = 'no frost' } end } }, 'no frost (in variant 17)', 'D010') crew.same(lines, crew.expected(17))" },
  { "work that gives no row", "crew.raises({ work = function(list) host.variant(list[1]) end, jobs = 1 }, "
    "'work gave no row of variant 0')" },
  { "a row of another block", "crew.raises({ work = function(list) host.variant(list[1]) host.row(1000, 'holds') end, "
    "jobs = 1 }, 'a row of variant 1000, which is not in the block')" },
  { "two rows of one variant", "crew.raises({ work = function(list) "
    "for _ = 1, 2 do host.row(list[1], 'holds') end end, jobs = 1 }, 'a row of variant 0')" },
  { "a row that is too long", "crew.raises({ work = function() host.row(0, 'holds', 1, 2, 3, 4) end }, "
    "'a row has 5 values at most, got 6')" },
  { "a row that holds a table", "crew.raises({ work = function() host.row(0, {}) end }, 'value 2 is a table')" },
  { "no list of numbers", "crew.raises({ next = function() return { 1, 'x' } end }, 'whole numbers')" },
  { "next that raises", "crew.raises({ next = function() error 'nothing next' end }, 'nothing next')" },
  { "lost that raises", "crew.raises({ at = { [3] = die }, lost = function() error 'lost too' end }, 'lost too')" },
  { "lost that gives nothing",
    "crew.raises({ at = { [3] = die }, lost = function() end }, 'lost gives the 5 values')" },
  { "outside of workers", "for _, f in ipairs { host.row, host.variant } do local got, err = pcall(f, 1, 'holds') "
    "crew.want(got, false) assert(tostring(err.text or err):find 'in the work of host.workers only') end" },
  { "inside of workers they do not start any", "crew.raises({ total = 1, work = function() "
    "host.workers {} end }, 'a worker starts no workers')" },
  { "no statement", "crew.raises({ insert = 'INSERT INTO nowhere VALUES (?)' }, 'nowhere')" },
  { "a full disk keeps what was kept, and goes on", "do local db <close> = crew.open() "
    "local pages = db:one 'PRAGMA page_count' db:one('PRAGMA max_page_count = ' .. pages + 100) "
    "local wide = function(list) for _, n in ipairs(list) do if not host.variant(n) then return end "
    "local n, s, w, a = crew.values(n) host.row(n, s, w, a, ('%d'):format(n):rep(400)) end end "
    "local good, err = pcall(crew.run, db, { jobs = 1, total = 3000, work = wide }) crew.want(good, false) "
    "crew.want(err.code:sub(1, 3), 'F05') crew.want(alive(), false) "
    "local n = db:one 'SELECT count(*) FROM variant' if n == 0 or n >= 3000 then error(n .. ' rows') end "
    "db:one 'PRAGMA max_page_count = 1000000' crew.want(crew.run(db, { total = 3000, work = wide }), 'done') "
    "local i = 0 for n, b in db:each 'SELECT number, b FROM variant ORDER BY number' do crew.want(n, i) "
    "crew.want(b, ('%d'):format(n):rep(400)) i = i + 1 end crew.want(i, 3000) end" },

  /* Who asks how far it is. */
  { "a tick tells what is done", "local told = 0 crew.whole { jobs = 1, block = 1, best = { column = 4, most = true }, "
    "at = { [50] = function() nap(450) end }, tick = function(done, rows, seconds, best, number) told = told + 1 "
    "crew.want(done, rows) assert(seconds > 0) if best then crew.want(best, number * number / 4) end return 'x' end } "
    "assert(told > 0)" },
  { "with what was there before", "local db <close> = crew.open() crew.run(db, { total = 40 }) local told "
    "crew.run(db, { jobs = 1, at = { [50] = function() nap(450) end }, "
    "best = { column = 4, value = -7.5, number = 3 }, tick = function(done, rows, seconds, best, number) told = true "
    "crew.want(done, rows + 40) crew.want(best, -7.5) crew.want(number, 3) end }) assert(told)" },
};

static void row_runs(void **state) {
  const struct row *r = *state;
  remove_files();
  assert_true(runs(r->chunk));
}

/* ---- power cuts -------------------------------------------------------------------------------------------------- */

/* The next of a row of numbers that is the same each time (xorshift). */
static unsigned next_random(unsigned *seed) {
  *seed ^= *seed << 13;
  *seed ^= *seed >> 17;
  return *seed ^= *seed << 5;
}

/* Many times as long as the longest wait before a kill, on a fast machine, too. */
static const char slow[] =
  "local db <close> = crew.open() crew.run(db, { jobs = 2, total = 3000, block = 40, "
  "at = setmetatable({}, { __index = function() return function() for i = 1, 30000 do end end end }) })";

/* In a group of its own. */
static pid_t begin_group(const char *chunk) {
  fflush(stdout);
  const pid_t pid = fork();
  assert_true(pid >= 0);
  if (pid == 0) {
    setpgid(0, 0);
    _exit(runs(chunk) ? 0 : 1);
  }
  setpgid(pid, pid);
  return pid;
}

static void killed_groups_lose_nothing(void **state) {
  (void)state;
  remove_files();
  unsigned seed = 2463534242u;
  int kills = 0;
  for (int i = 0; i < 25; i++) {
    const pid_t pid = begin_group(slow);
    nanosleep(&(struct timespec){ 0, (long)(next_random(&seed) % 40000) * 1000 }, NULL);
    kill(-pid, SIGKILL);
    int status;
    assert_int_equal(waitpid(pid, &status, 0), pid);
    kills += WIFSIGNALED(status);
    if (!WIFSIGNALED(status)) assert_int_equal(status, 0);
  }
  assert_true(kills > 0);
  assert_true(runs("local db <close> = crew.open() crew.want(crew.run(db, { total = 3000 }), 'done') "
                   "crew.same(crew.table_of(db), crew.expected(3000))"));
}

/* Workers whose parent is killed end, too: here they become this process' children.  Of none is there any other end. */
static void workers_do_not_outlive_their_parent(void **state) {
  (void)state;
  remove_files();
  assert_int_equal(prctl(PR_SET_CHILD_SUBREAPER, 1), 0);
  begin_group(
    "local db <close> = crew.open() crew.run(db, { jobs = 3, block = 1, steps = 1000000, at = setmetatable({}, "
    "{ __index = function(_, n) if n < 2 then return function() arrive() spin() end end "
    "return function() wait_for(2) signal_parent(9) spin() end end }) })");
  int found = 0, killed = 0, status;
  while (waitpid(-1, &status, 0) > 0) {
    found++;
    killed += WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL;
  }
  assert_int_equal(errno, ECHILD);
  assert_int_equal(prctl(PR_SET_CHILD_SUBREAPER, 0), 0);
  assert_int_equal(found, 4);
  assert_int_equal(killed, 4);
}

static void signals_are_as_they_were(void **state) {
  (void)state;
  struct sigaction after;
  sigset_t mask;
  remove_files();
  assert_true(runs("crew.whole {}"));
  sigprocmask(SIG_SETMASK, NULL, &mask);
  for (size_t i = 0; i < COUNT(heard); i++) {
    sigaction(heard[i], NULL, &after);
    assert_true(after.sa_handler == first_action[i].sa_handler);
    assert_int_equal(sigismember(&mask, heard[i]), sigismember(&first_mask, heard[i]));
  }
}

/* As `nohup` does. */
static void what_is_ignored_stops_nothing(void **state) {
  (void)state;
  remove_files();
  struct sigaction before, ignore = { .sa_handler = SIG_IGN };
  sigaction(SIGHUP, &ignore, &before);
  const bool well = runs("crew.whole { at = { [17] = function() signal_parent(1) nap(100) end } }");
  sigaction(SIGHUP, &before, NULL);
  assert_true(well);
}

/* ---- the parts --------------------------------------------------------------------------------------------------- */

static void frames_come_back(void **state) {
  (void)state;
  struct sl_bytes b = { .n = 0 };
  struct sl_frame_reader r;
  struct sl_value v;
  size_t at = 0;
  assert_true(sl_frame_begin(&b, SL_FRAME_ROW) && sl_frame_int(&b, INT64_MIN) && sl_frame_float(&b, -0.1));
  assert_true(sl_frame_nil(&b) && sl_frame_text(&b, "a\0b", 3) && sl_frame_text(&b, "", 0) && sl_frame_end(&b));
  assert_true(sl_frame_begin(&b, SL_FRAME_ROW) && sl_frame_text(&b, "never ended", 11));
  assert_true(sl_frame_begin(&b, SL_FRAME_DONE) && sl_frame_end(&b));
  assert_true(sl_frame_next(&b, &at, &r));
  assert_int_equal(r.kind, SL_FRAME_ROW);
  assert_true(sl_frame_value(&r, &v) && v.type == SL_VALUE_INT && v.i == INT64_MIN);
  assert_true(sl_frame_value(&r, &v) && v.type == SL_VALUE_FLOAT);
  assert_near(v.d, -0.1, 1e-15);
  assert_true(sl_frame_value(&r, &v) && v.type == SL_VALUE_NIL);
  assert_true(sl_frame_value(&r, &v) && v.type == SL_VALUE_TEXT && v.n == 3 && memcmp(v.text, "a\0b", 3) == 0);
  assert_true(sl_frame_value(&r, &v) && v.type == SL_VALUE_TEXT && v.n == 0);
  assert_false(sl_frame_value(&r, &v));
  assert_true(sl_frame_next(&b, &at, &r));
  assert_int_equal(r.kind, SL_FRAME_DONE);
  assert_false(sl_frame_next(&b, &at, &r));
  sl_bytes_free(&b);
}

/* However little of it has come. */
static void parts_of_frames_wait(void **state) {
  (void)state;
  struct sl_bytes b = { .n = 0 };
  struct sl_frame_reader r;
  assert_true(sl_frame_begin(&b, SL_FRAME_ROW) && sl_frame_text(&b, "half", 4) && sl_frame_end(&b));
  const size_t whole = b.n;
  for (size_t n = 0; n <= whole; n++) {
    size_t at = 0;
    b.n = n;
    assert_int_equal(sl_frame_next(&b, &at, &r), n == whole);
    assert_int_equal(at, n == whole ? whole : 0);
  }
  sl_bytes_free(&b);
}

static void sets_know_their_numbers(void **state) {
  (void)state;
  struct sl_numbers set = { .n = 0 };
  assert_false(sl_numbers_has(&set, 0));
  for (int64_t i = 0; i < 5000; i++) assert_true(sl_numbers_add(&set, (i * 7919) % 5000 * 3));
  sl_numbers_sort(&set);
  for (int64_t i = 0; i < 15000; i++) assert_int_equal(sl_numbers_has(&set, i), i % 3 == 0);
  assert_false(sl_numbers_has(&set, -3));
  sl_numbers_free(&set);
}

static void blocks_keep_their_order(void **state) {
  (void)state;
  struct sl_block *b = sl_block_new(5);
  assert_non_null(b);
  for (int64_t i = 0; i < 5; i++) b->number[b->n++] = 10 * i;
  assert_true(sl_block_take(b, 20));
  assert_false(sl_block_take(b, 20));
  assert_false(sl_block_has(b, 20));
  static const int64_t left[] = { 0, 10, 30, 40 };
  for (size_t i = 0; i < COUNT(left); i++) {
    assert_int_equal(b->number[b->at], left[i]);
    assert_true(sl_block_take(b, left[i]));
  }
  assert_int_equal(b->at, b->n);
  sl_blocks_free(b);
}

/* Of rows that hold, the least or the most; of equals the first number, whatever came first. */
static void best_is_told(void **state) {
  (void)state;
  static const struct { int64_t number; const char *status; double value; } put[] = {
    { 9, "holds", 5 }, { 4, "broken", 1 }, { 7, "holds", 3 }, { 2, "holds", 3 }, { 8, "holds", 3 }, { 1, "unknown", 9 },
    { 3, "holds", 5 } };
  for (int most = 0; most < 2; most++) {
    sqlite3 *db;
    assert_int_equal(sqlite3_open(":memory:", &db), SQLITE_OK);
    assert_int_equal(sqlite3_exec(db, "CREATE TABLE t(n INTEGER PRIMARY KEY, s, v)", 0, 0, 0), SQLITE_OK);
    struct sl_keeping k = { .best = { .column = 3, .most = most } };
    assert_int_equal(sl_keeping_open(&k, db, "INSERT INTO t VALUES (?,?,?)"), SQLITE_OK);
    for (size_t i = 0; i < COUNT(put); i++) {
      k.row[0] = (struct sl_value){ .type = SL_VALUE_INT, .i = put[i].number };
      k.row[1] = (struct sl_value){ .type = SL_VALUE_TEXT, .text = put[i].status, .n = strlen(put[i].status) };
      k.row[2] = (struct sl_value){ .type = SL_VALUE_FLOAT, .d = put[i].value };
      assert_int_equal(sl_keeping_put(&k, 3, 0), SQLITE_OK);
    }
    assert_int_equal(k.best.number, most ? 3 : 2);
    assert_near(k.best.value, most ? 5 : 3, 1e-12);
    sl_keeping_close(&k, false);
    sqlite3_close(db);
  }
}

/* At a hundred rows, or a second after the first. */
static void rows_are_kept_in_time(void **state) {
  (void)state;
  sqlite3 *db;
  assert_int_equal(sqlite3_open(":memory:", &db), SQLITE_OK);
  assert_int_equal(sqlite3_exec(db, "CREATE TABLE t(n)", 0, 0, 0), SQLITE_OK);
  struct sl_keeping k = { .rows = 0 };
  const int64_t second = 1000000000;
  assert_int_equal(sl_keeping_open(&k, db, "INSERT INTO t VALUES (?)"), SQLITE_OK);
  for (int i = 0; i < 99; i++) assert_int_equal(sl_keeping_put(&k, 0, 5), SQLITE_OK);
  assert_int_equal(sl_keeping_due(&k, 4 + second), SQLITE_OK);
  assert_int_equal(sqlite3_get_autocommit(db), 0);
  assert_int_equal(sl_keeping_put(&k, 0, 5), SQLITE_OK);
  assert_int_equal(sl_keeping_due(&k, 5), SQLITE_OK);
  assert_int_equal(sqlite3_get_autocommit(db), 1);
  assert_int_equal(sl_keeping_put(&k, 0, 5), SQLITE_OK);
  assert_int_equal(sl_keeping_due(&k, 5 + second), SQLITE_OK);
  assert_int_equal(sqlite3_get_autocommit(db), 1);
  sl_keeping_close(&k, false);
  sqlite3_close(db);
}

static int synchronous(sqlite3 *db) {
  sqlite3_stmt *s;
  assert_int_equal(sqlite3_prepare_v2(db, "PRAGMA synchronous", -1, &s, NULL), SQLITE_OK);
  assert_int_equal(sqlite3_step(s), SQLITE_ROW);
  const int is = sqlite3_column_int(s, 0);
  sqlite3_finalize(s);
  return is;
}

/* From SQLite's manual: in WAL mode a commit outlives a power cut with FULL (2); with NORMAL (1) not before one with
 * FULL comes behind it.  The first has it, and then one a second. */
static void rows_reach_the_disk_in_time(void **state) {
  (void)state;
  const int64_t second = 1000000000, at[] = { 5, 6, second + 4, second + 5, second + 6 };
  const int full[] = { 2, 1, 1, 2, 1 };
  sqlite3 *db;
  assert_int_equal(sqlite3_open(":memory:", &db), SQLITE_OK);
  assert_int_equal(sqlite3_exec(db, "CREATE TABLE t(n)", 0, 0, 0), SQLITE_OK);
  struct sl_keeping k = { .rows = 0 };
  assert_int_equal(sl_keeping_open(&k, db, "INSERT INTO t VALUES (?)"), SQLITE_OK);
  for (size_t i = 0; i < COUNT(at); i++) {
    assert_int_equal(sl_keeping_put(&k, 0, at[i]), SQLITE_OK);
    assert_int_equal(synchronous(db), full[i]);
    assert_int_equal(sl_keeping_commit(&k), SQLITE_OK);
  }
  sl_keeping_close(&k, false);
  sqlite3_close(db);
}

/* A terminal of 12 columns: 11 are used, a wide character is not cut, what a terminal would obey is shown. */
static void progress_fits_the_terminal(void **state) {
  (void)state;
  const int master = posix_openpt(O_RDWR | O_NOCTTY);
  assert_true(master >= 0 && grantpt(master) == 0 && unlockpt(master) == 0);
  const int slave = open(ptsname(master), O_RDWR | O_NOCTTY);
  assert_true(slave >= 0);
  assert_int_equal(ioctl(slave, TIOCSWINSZ, &(struct winsize){ .ws_row = 5, .ws_col = 12 }), 0);
  const pid_t pid = fork();
  if (pid == 0) {
    dup2(slave, STDERR_FILENO);
    struct sl_progress p = sl_progress_begin();
    static const char *const lines[] = { "0123456789abcdef", "012345678\xE7\x95\xAA\xE7\x95\xAA", "a\x1B[2Jb" };
    sl_progress_clear(&p);
    for (size_t i = 0; i < COUNT(lines); i++) sl_progress_show(&p, lines[i], strlen(lines[i]));
    sl_progress_clear(&p);
    sl_progress_clear(&p);
    _exit(0);
  }
  static const char want[] = "\r0123456789a\x1B[K\r012345678\xE7\x95\xAA\x1B[K\ra\\x1B[2Jb\x1B[K\r\x1B[K";
  char got[256] = "";
  size_t n = 0;
  while (n < strlen(want) && poll(&(struct pollfd){ .fd = master, .events = POLLIN }, 1, 5000) > 0) {
    const ssize_t more = read(master, got + n, sizeof got - 1 - n);
    if (more <= 0) break;
    n += (size_t)more;
  }
  waitpid(pid, NULL, 0);
  assert_string_equal(got, want);
  assert_int_equal(poll(&(struct pollfd){ .fd = master, .events = POLLIN }, 1, 0), 0);
  close(slave);
  close(master);
}

int main(void) {
  static const struct CMUnitTest alone[] = {
    cmocka_unit_test(killed_groups_lose_nothing), cmocka_unit_test(workers_do_not_outlive_their_parent),
    cmocka_unit_test(signals_are_as_they_were), cmocka_unit_test(what_is_ignored_stops_nothing),
    cmocka_unit_test(frames_come_back), cmocka_unit_test(parts_of_frames_wait),
    cmocka_unit_test(sets_know_their_numbers), cmocka_unit_test(blocks_keep_their_order),
    cmocka_unit_test(best_is_told), cmocka_unit_test(rows_are_kept_in_time),
    cmocka_unit_test(rows_reach_the_disk_in_time),
    cmocka_unit_test(progress_fits_the_terminal),
  };
  static struct CMUnitTest tests[COUNT(rows) + COUNT(alone)];
  size_t n = 0;
  for (int i = 0; i < 3; i++) signal((const int[]){ SIGHUP, SIGINT, SIGTERM }[i], SIG_DFL);   /* under nohup, too */
  ADD_ROWS(tests, n, rows, row_runs);
  memcpy(tests + n, alone, sizeof alone);
  return cmocka_run_group_tests_name("workers", tests, make_folder, remove_folder);
}
