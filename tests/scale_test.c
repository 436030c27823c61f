/* SPDX-License-Identifier: MIT
 * What a job costs grows as its racks do, its rules, tolerances and other things: the steps of the host's Lua, counted
 * and not timed.  tests/bench/racks.lua writes the jobs. */
#include "check.h"
#include <lauxlib.h>
#include <lualib.h>
#include <unistd.h>
#include "command/rows.h"
#include "host/host.h"
#include "host/raise.h"

enum { FEW = 20, MANY = 200, MOST = 12,            /* ten times, and room for what is sorted */
       COUNTED = 1000 };                           /* steps between two counts */

static char folder[] = "/tmp/stringline-scale-XXXXXX";
static const char *const files[] = { "job.sline", "clamps.csv", "modules.csv", "orchard-county.sline",
  "ostler-crew.sline", "river-yard.csv" };
static long counts;

static void count(lua_State *L, lua_Debug *at) { (void)L, (void)at, counts++; }

static void write_job(int racks, const char *how) {
  lua_State *L = luaL_newstate();
  assert_non_null(L);
  luaL_openlibs(L);
  assert_int_equal(luaL_loadfile(L, "tests/bench/racks.lua"), LUA_OK);
  lua_call(L, 0, 1);
  lua_pushinteger(L, racks);
  lua_pushstring(L, folder);
  lua_pushstring(L, how);
  lua_call(L, 3, 0);
  lua_close(L);
}

/* The whole way from the script to the text; a job that does not hold would be another one. */
static const char judge[] =
  "local script, command, format, set, want = ... "
  "local judging, plan = import 'host.judging', {} "
  "for i = 1, set do plan[i] = { path = 'footing.f' .. i .. '.hole_depth', text = '6ft', from = '--set' } end "
  "local outcomes, status = judging.judge(judging.declare({ script = script }, plan)) "
  "assert(status == want, 'the job holds or is broken otherwise') "
  "local o = { command = command, format = format, words = { script }, columns = 80, set = {} } "
  "local report = import('write.report')[command == 'run' and 'report' or command] "
  "import('write.' .. format)(report(outcomes, status, o), o) "
  "return #outcomes";

/* set: so many footings get another depth; want: its exit status. */
static long judged(const char *script, const char *command, const char *format, int set, int want, long *outcomes) {
  const struct sl_host host = { .folder = folder, .format = SL_HUMAN };
  lua_State *L = sl_host_new(&host, &(struct sl_limits){ .memory = (size_t)1 << 30 });
  assert_non_null(L);
  sl_rows_open(L);
  assert_int_equal(luaL_loadstring(L, judge), LUA_OK);
  lua_pushstring(L, script);
  lua_pushstring(L, command);
  lua_pushstring(L, format);
  lua_pushinteger(L, set);
  lua_pushinteger(L, want);
  counts = 0;
  lua_sethook(L, count, LUA_MASKCOUNT, COUNTED);
  const int status = sl_host_call(L, 5, 1);
  lua_sethook(L, NULL, 0, 0);
  if (status != LUA_OK) sl_host_report(L);
  assert_int_equal(status, LUA_OK);
  *outcomes = (long)lua_tointeger(L, -1);
  sl_host_close(L);
  return counts;
}

static long steps(int racks, const char *how, const char *command, const char *format, long *outcomes) {
  char script[64];
  write_job(racks, how);
  snprintf(script, sizeof script, "%s/job.sline", folder);
  return judged(script, command, format, 0, 0, outcomes);
}

static const struct row { const char *name, *command, *format, *how; int few, many; } rows[] = {
  { "check of many racks", "check", "text", NULL, FEW, MANY },
  { "run of many racks", "run", "text", NULL, FEW, MANY },
  { "run of many racks as JSON", "run", "json", NULL, FEW, MANY },
  { "check of many racks of one type", "check", "text", "like", FEW, MANY },
};

static void grows_as_the_racks_do(void **state) {
  const struct row *r = *state;
  long of_few, of_many;
  const long few = steps(r->few, r->how, r->command, r->format, &of_few);
  const long many = steps(r->many, r->how, r->command, r->format, &of_many);
  assert_true(few > 50 && of_few > 50);            /* it was counted, and much was judged */
  assert_true(of_many > 9 * of_few);
  if (many > MOST * few) fail_msg("%ld steps for %d racks, %ld for %d: %.1f times", many * COUNTED, r->many,
      few * COUNTED, r->few, (double)many / (double)few);
}

/* So many types, and as many things that each take one over; set: things without types, and each gets another depth
 * from the command line. */
static long steps_of_declaring(int n, bool set) {
  static const char fields[] = "hole_diameter = 18in, hole_depth = 60in, gravel = 6in, fill = \"concrete\"";
  char script[64];
  snprintf(script, sizeof script, "%s/job.sline", folder);
  FILE *f = fopen(script, "w");
  assert_non_null(f);
  fputs("job { name = \"N\", client = \"C\", stage = \"quote\" }\n", f);
  for (int i = 1; i <= n; i++)
    if (set) fprintf(f, "footing \"f%d\" { %s }\n", i, fields);
    else fprintf(f, "footing_type \"t%d\" { %s }\nfooting \"f%d\" { like = \"t%d\" }\n", i, fields, i, i);
  assert_int_equal(fclose(f), 0);
  long outcomes;
  return judged(script, "check", "text", set ? n : 0, 0, &outcomes);
}

static void declaring_grows_as_the_things_do(void **state) {
  (void)state;
  enum { A_FEW = 400, THOUSANDS = 4000 };
  for (int set = 0; set < 2; set++) {
    const long few = steps_of_declaring(A_FEW, set), many = steps_of_declaring(THOUSANDS, set);
    assert_true(few > 50);
    if (many > MOST * few) fail_msg("%ld steps for %d things%s, %ld for %d: %.1f times", many * COUNTED, THOUSANDS,
        set ? " and as many --set" : "", few * COUNTED, A_FEW, (double)many / (double)few);
  }
}

static const struct more { const char *name, *declaration; int status; } mores[] = {
  { "rules that are broken",
    "rule { id = 'X' .. i, severity = 'caution', each = 'rack', says = 's', cite = 'c', caution = 'q', "
    "check = function(r) return at_least(r.lower_edge, 30ft) end }", 1 },
  { "tolerances of what no rule reads",
    "footing('f' .. i) { hole_diameter = 18in+-1in, hole_depth = 66in, gravel = 6in, fill = 'concrete' }", 0 },
};

/* Of the job of one rack, and so many more declarations. */
static long steps_with(const struct more *m, int times) {
  char script[64];
  long outcomes;
  write_job(1, NULL);
  snprintf(script, sizeof script, "%s/job.sline", folder);
  FILE *f = fopen(script, "ab");
  assert_non_null(f);
  fprintf(f, "\nfor i = 1, %d do %s end\n", times, m->declaration);
  assert_int_equal(fclose(f), 0);
  return judged(script, "check", "text", 0, times > 0 ? m->status : 0, &outcomes);
}

/* Four times as many take at most a fifth more for each. */
static void grows_as_they_do(void **state) {
  enum { SOME = 400, TIMES = 4 };
  const long none = steps_with(*state, 0), some = steps_with(*state, SOME) - none,
             many = steps_with(*state, SOME * TIMES) - none;
  assert_true(some > 50);
  if (many * 5 > 6 * TIMES * some) fail_msg("%.1f times the steps for %d times as many", (double)many / (double)some,
      TIMES);
}

static int setup(void **state) {
  (void)state;
  return mkdtemp(folder) ? 0 : -1;
}

static int teardown(void **state) {
  (void)state;
  for (size_t i = 0; i < sizeof files / sizeof *files; i++) {
    char path[96];
    snprintf(path, sizeof path, "%s/%s", folder, files[i]);
    remove(path);
  }
  return rmdir(folder);
}

int main(void) {
  struct CMUnitTest tests[sizeof rows / sizeof *rows + sizeof mores / sizeof *mores + 1] = { 0 };
  size_t n = 0;
  ADD_ROWS(tests, n, rows, grows_as_the_racks_do);
  ADD_ROWS(tests, n, mores, grows_as_they_do);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(declaring_grows_as_the_things_do);
  return cmocka_run_group_tests_name("scale", tests, setup, teardown);
}
