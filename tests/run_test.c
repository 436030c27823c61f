/* SPDX-License-Identifier: MIT
 * Many runs in one Lua state, one after another in a seeded order, each against the same run in a state of its own:
 * byte for byte the same.  Nothing here is known from outside; what is checked is that a run leaves nothing behind. */
#include "job_run.h"

static struct sl_host place = { .format = SL_GNU };

/* run(command, script, what, settings, alternate, format): status and text, or code and text of the error. */
static const char chunk[] =
  "local command, script, what, settings, alternate, format = ...\n"
  "local set = {}\n"
  "for s in string.gmatch(settings, '[^;]+') do set[#set + 1] = s end\n"
  "local ok, status, text = pcall(import 'command.run', { command = command, words = { script, what ~= '' and what "
    "or nil }, set = set, alternate = alternate ~= '' and alternate or nil, format = format, "
    "writer = 'write.' .. format, width = 80 })\n"
  "if ok then return status .. '\\n' .. text end\n"
  "local why, help = host.message(status)\n"
  "return 'error ' .. tostring(type(status) == 'table' and status.code) .. ': ' .. why .. '\\n' .. tostring(help)\n";

#define EGG   "examples/egg-farm"
#define GOAT  "tests/golden/jobs/goat-shed"
#define RACKS "tests/golden/jobs/two-racks"
#define DRAWN "footing.deep.hole_diameter=14in;footing.deep.hole_depth=36in;footing.deep.isolated_posts=false"

static const struct variant { const char *folder, *command, *what, *settings, *alternate, *format; } variants[] = {
  { EGG, "run", "", "", "", "text" },
  { EGG, "run", "", "", "", "json" },
  { EGG, "check", "", "", "", "text" },
  { EGG, "run", "", "job.units=SI", "", "text" },
  { EGG, "sheet", "posts", "job.units=SI", "", "text" },
  { EGG, "sheet", "posts", "job.lengths=feet and inches", "", "text" },
  { EGG, "sheet", "cutting", "", "", "text" },
  { EGG, "run", "", "job.stage=quote", "", "text" },
  { EGG, "run", "", "rack.east.tilt=30deg", "", "text" },
  { EGG, "run", "", "rack.east.tilt=30deg+-4deg", "", "text" },
  { EGG, "run", "", "rack.tilt=28deg;site.wind=120mph", "", "json" },
  { EGG, "run", "", "site.frost=30in+-3in;strings.series=5", "", "text" },
  { EGG, "run", "", DRAWN, "", "text" },
  { EGG, "run", "", DRAWN ";job.units=SI", "", "json" },
  { EGG, "check", "", "footing.deep.hole_depth=40in", "", "text" },
  { EGG, "check", "", "footing.deep.hole_depth=50in;footing.deep.isolated_posts=false", "", "json" },
  { EGG, "run", "", "", "six in series", "text" },
  { EGG, "run", "", "strings.parallel=3", "six in series", "json" },
  { EGG, "run", "", "", "seven in series", "text" },
  { EGG, "run", "", "site.coldest=-30degC", "six in series", "text" },
  { EGG, "explain", "R30", "", "", "text" },
  { EGG, "explain", "R31", DRAWN, "", "text" },
  { EGG, "explain", "job.total", "", "", "text" },
  { EGG, "explain", "rack.east.top_edge", "rack.east.tilt=20deg", "", "text" },
  { EGG, "explain", "rack.east.tlit", "", "", "text" },
  { EGG, "run", "", "rack.east.tlit=30deg", "", "text" },
  { EGG, "run", "", "rack.east.tilt=200deg", "", "text" },
  { EGG, "run", "", "rack.west.tilt=20deg", "", "text" },
  { EGG, "run", "", "job.currency=EUR", "", "text" },
  { GOAT, "run", "", "", "", "text" },
  { GOAT, "run", "", "", "", "json" },
  { GOAT, "check", "", "job.stage=permit", "", "text" },
  { GOAT, "explain", "R30", "", "", "text" },
  { RACKS, "run", "", "", "", "text" },
  { RACKS, "check", "", "", "", "json" },
  { RACKS, "sheet", "stake-out", "", "", "text" },
  { RACKS, "run", "", "job.units=SI", "", "json" },
  { RACKS, "explain", "R65", "", "", "text" },
  { RACKS, "run", "", "rack.tilt=20deg", "", "text" },
};
enum { VARIANTS = sizeof variants / sizeof *variants };

/* What a variant says in this state, copied. */
static char *said(lua_State *L, const struct variant *v) {
  char script[128];
  place.folder = v->folder;
  snprintf(script, sizeof script, "%s/job.sline", v->folder);
  lua_settop(L, 0);
  assert_int_equal(luaL_loadstring(L, chunk), LUA_OK);
  const char *const words[] = { v->command, script, v->what, v->settings, v->alternate, v->format };
  for (size_t i = 0; i < sizeof words / sizeof *words; i++) lua_pushstring(L, words[i]);
  if (sl_host_call(L, 6, 1)) {
    sl_host_report(L);
    fail_msg("%s %s %s did not run", v->command, script, v->what);
  }
  char *text = strdup(lua_tostring(L, -1));
  assert_non_null(text);
  return text;
}

static char *alone(const struct variant *v) {
  lua_State *L = sl_host_new(&place, NULL);
  assert_non_null(L);
  char *text = said(L, v);
  sl_host_close(L);
  return text;
}

/* The linear congruential generator of the C standard's example: a seeded order, the same everywhere. */
static unsigned draw(unsigned *seed, unsigned n) {
  *seed = *seed * 1103515245u + 12345u;
  return (*seed / 65536) % n;
}

static void shuffle(size_t order[], size_t n, unsigned seed) {
  for (size_t i = 0; i < n; i++) order[i] = i;
  for (size_t i = n - 1; i > 0; i--) {
    size_t k = draw(&seed, (unsigned)i + 1), kept = order[i];
    order[i] = order[k];
    order[k] = kept;
  }
}

static void runs_leave_nothing_behind(void **state) {
  (void)state;
  char *want[VARIANTS];
  for (size_t i = 0; i < VARIANTS; i++) want[i] = alone(&variants[i]);
  lua_State *L = sl_host_new(&place, NULL);
  assert_non_null(L);
  for (unsigned seed = 1; seed <= 3; seed++) {
    size_t order[VARIANTS];
    shuffle(order, VARIANTS, seed);
    for (size_t i = 0; i < VARIANTS; i++) {
      const struct variant *v = &variants[order[i]];
      char *got = said(L, v);
      if (strcmp(got, want[order[i]]) != 0) {
        size_t at = 0;
        while (got[at] == want[order[i]][at]) at++;
        while (at > 0 && got[at - 1] != '\n') at--;
        fail_msg("seed %u, run %zu, %s %s %s [%s] %s: got\n%.300s\nwanted\n%.300s", seed, i + 1, v->command, v->folder,
                 v->what, v->settings, v->alternate, got + at, want[order[i]] + at);
      }
      free(got);
    }
  }
  sl_host_close(L);
  for (size_t i = 0; i < VARIANTS; i++) free(want[i]);
}

/* Random numbers, rules and values of one run are nothing to the next. */
#define KEEP "host.print = function(v) out = v end"
static const struct job_row rows[] = {
  { "random numbers begin again", KEEP, "print(math.random(1, 1000000000))",
    "local first = out boot.declare { script = job_script } return out == first", "true", NULL, 0 },
  { "an alternate draws what its job drew", KEEP, "print(math.random(1, 1000000000)) alternate 'x' { job = { crew = "
    "3 } }", "local first, plan = out, boot.alternate_plan 'x' boot.declare { script = job_script, plan = plan } "
    "return out == first and record.root.crew", "3", NULL, 0 },
  { "a rule may have its id again", NULL, "rule { id = 'J1', severity = 'stop', says = 's', cite = 'c', caution = 'd', "
    "check = function() return states(true, 'w') end }", "boot.declare { script = job_script } return "
    "#rule.loaded()", "1", NULL, 0 },
  { "what was put in is gone", "job_plan = { { path = 'job.crew', value = 5, from = 'x' } }", "",
    "local crew = record.root.crew boot.declare { script = job_script } return crew .. record.root.crew", "52", NULL,
    0 },
  { "what was told is gone", NULL, "site { frost = told(1ft, 'office') }", "local told = run.told['site.frost'].by "
    "run.new() return told .. tostring(next(run.told))", "officenil", NULL, 0 },
  { "records are gone", NULL, "", "local job = record.root.name run.new() return job .. #record.all 'job' .. "
    "tostring(record.given(record.root, 'name'))", "t0nil", NULL, 0 },
};

int main(void) {
  static struct CMUnitTest tests[16];
  size_t n = 0;
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(runs_leave_nothing_behind);
  JOB_ROWS(tests, n, rows);
  return _cmocka_run_group_tests("run", tests, n, job_setup, job_teardown);
}
