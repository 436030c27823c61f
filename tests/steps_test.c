/* SPDX-License-Identifier: MIT
 * What a script that is counted pays for work that is not its own instructions: primitives, texts, files, messages.  A
 * step is about one instruction of Lua; each row pays at least what it is worth, and a cheap one no more than that.
 * Work that took minutes under 400 million steps each had a row here when it was free. */
#include "check.h"
#include <lauxlib.h>
#include <limits.h>
#include <unistd.h>
#include "host/host.h"
#include "host/raise.h"

enum { MANY = 400000000 };

static char folder[] = "/tmp/stringline-steps-XXXXXX";
static const char *const files[] = { "job.sline", "bad.sline", "rows.csv" };
static const struct sl_host host = { .folder = folder, .format = SL_GNU };

static void put(const char *name, const char *text, const char *again, int times) {
  char path[96];
  snprintf(path, sizeof path, "%s/%s", folder, name);
  FILE *f = fopen(path, "wb");
  assert_non_null(f);
  fputs(text, f);
  for (int i = 0; i < times; i++) fputs(again, f);
  assert_int_equal(fclose(f), 0);
}

static void print_nothing(void *to, struct sl_sources *sources, const struct sl_message *line) {
  (void)to, (void)sources, (void)line;
}

/* Steps that a script takes, which may fail. */
static long long taken(const char *script) {
  struct sl_host quiet = host;
  quiet.print = print_nothing;
  put("job.sline", script, "", 0);
  lua_State *L = sl_host_new(&quiet, &(struct sl_limits){ .steps = MANY });
  assert_non_null(L);
  assert_int_equal(luaL_loadstring(L, "local boot = import 'model.boot' pcall(boot.alone, ...)"), LUA_OK);
  lua_pushfstring(L, "%s/job.sline", folder);
  const int status = sl_host_call(L, 1, 0);
  if (status != LUA_OK) sl_host_report(L);
  assert_int_equal(status, LUA_OK);
  struct sl_standing now;
  sl_sandbox_stand(L, &now);
  sl_host_close(L);
  return MANY - now.left;
}

/* least: more than `again` pays for, ten times, beside what `before` does. */
static const struct row { const char *name, *before, *again; long long least, most; } rows[] = {
  { "an addition", "local a = 1", "a = a + 1", 0, 10 },
  { "a primitive without a loop",
    "local t = { price = $6.40, quantity = 24 }", "local w = calc.extended(t)", 100, 400 },
  { "a search by halving",
    "local t = { lateral = 440lbf, height = 6.5ft, width = 14in, bearing = 150psf/ft, isolated = true, "
    "neglect = 0in, edition = 'IBC 2021' }", "local w = calc.embed_neglecting(t)", 400, 12000 },
  { "a cutting plan that is searched for",
    "local p = {} for i = 1, 40 do p[i] = (i * 0.37 % 9 + 1) * 1m end "
    "local t = { pieces = p, lengths = { 10m, 7m, 13m }, prices = { $10, $8, $12.5 }, kerf = 3mm }",
    "local w = calc.cut_stock(t)", 1000000, 40000000 },
  { "spools that are searched for",
    "local p = {} for i = 1, 30 do p[i] = (i * 7 % 13 + 5) * 1m end "
    "local t = { cuts = p, lengths = { 100m, 50m, 20m }, prices = { $1/m, $0.9/m, $2/m } }",
    "local w = calc.spools(t)", 1000000, 40000000 },
  { "a cutting plan of 3,000 lengths and 300 stocks",
    "local p, l, q = {}, {}, {} for i = 1, 3000 do p[i] = (60 + i * 0.003) * 1m end "
    "for j = 1, 300 do l[j] = (100 + j * 0.013) * 1m q[j] = (10 + j * 7919 % 1000 * 0.017) * $1 end "
    "local t = { pieces = p, lengths = l, prices = q, kerf = 3mm }", "local w = calc.cut_stock(t)",
    10000000, 100000000 },
  { "five hundred racks, each against each",
    "local t = { outlines = {} } for i = 1, 500 do t.outlines[i] = { east = i * 1m, north = 0m, facing = 180deg, "
    "along = 600m, across = 3m } end", "local w = calc.apart(t)", 1000000, 20000000 },
  { "a thousand holes, each against each",
    "local t = { holes = {} } for i = 1, 1000 do t.holes[i] = { east = i * 1m, north = 0m, diameter = 1m, rack = i } "
    "end", "local w = calc.holes_apart(t)", 400000, 20000000 },
  { "inputs that a primitive does not have",
    "local t = {} for i = 1, 1000 do t['k' .. i] = 1 end", "pcall(calc.cut_stock, t)", 4000, 100000 },
  { "a numeral of a million digits", "local s = ('1'):rep(1000000)", "local x = tonumber(s)", 60000, 1000000 },
  { "the same in arithmetic", "local s = ('1'):rep(1000000)", "local x = s + 1", 60000, 1000000 },
  { "bytes as results", "local s = ('x'):rep(100000)", "local x = s:byte(1, 100000)", 150000, 300000 },
  { "characters as results", "local s = ('x'):rep(100000)", "local x = utf8.codepoint(s, 1, 100000)", 150000, 300000 },
  { "a name that is unknown", "", "pcall(function() return undeclared_name_of_a_thing end)", 3000, 100000 },
  { "a number of 400 digits", "", "local x = ('%99.99f'):format(1e308)", 100, 1000 },
  { "a quantity as a text", "local q = 8ft 11-3/8in", "local x = tostring(q)", 50, 200 },
  { "a quantity in a text", "local q = 8ft 11-3/8in", "local x = q .. ''", 50, 200 },
  { "a line that is printed", "", "print('x')", 250, 1000 },
  { "a long line that is printed", "local s = ('x'):rep(1000000)", "print(s)", 200000, 2000000 },
  { "a text that is read as a length", "local s = ('1'):rep(1000000)", "pcall(len, s)", 250000, 2000000 },
  { "a unit that is looked up", "local q = 5ft", "local x = as(q, 'in')", 20, 200 },
  { "who told it, at length", "local s = ('x'):rep(1000000)", "local x = told(5ft, s)", 250000, 2000000 },
  { "a name too long for its message", "local s, q = ('x'):rep(1000000), 5ft", "pcall(function() return q[s] end)",
    100000, 2000000 },
  { "an error caught deep in calls",
    "local again function again(n, f) if n > 0 then local x = again(n - 1, f) return x end f() end",
    "again(10000, function() for i = 1, 10 do pcall(error, {}) end end)", 10 * 10000 + 3 * 10000, 1000000 },
  { "a file that cannot be read again and again", "", "pcall(use, 'bad')", 500000, 10000000 },
};

static void pays_what_it_is_worth(void **state) {
  const struct row *r = *state;
  char script[4096];
  enum { TIMES = 3 };
  long long steps[2];
  for (int i = 0; i < 2; i++) {
    snprintf(script, sizeof script, "%s\nfor i = 1, %d do %s end\n", r->before, i * TIMES, r->again);
    steps[i] = taken(script);
  }
  const long long each = (steps[1] - steps[0]) / TIMES;
  if (each < r->least || each > r->most)
    fail_msg("%lld steps each, wanted %lld to %lld", each, r->least, r->most);
}

/* Rows that a script names are paid by the byte. */
static void a_list_is_paid_by_the_byte(void **state) {
  (void)state;
  put("rows.csv", "clamp,least_frame,most_frame,part\n", "EC-30,30 mm,30 mm,end\n", 1);
  const long long few = taken("parts 'rows.csv'");
  put("rows.csv", "clamp,least_frame,most_frame,part\n", "# a comment, as long as a row is and says nothing\n", 10000);
  const long long many = taken("parts 'rows.csv'");
  if (many - few < 900000) fail_msg("%lld steps for 500,000 bytes more", many - few);
}

static int setup(void **state) {
  (void)state;
  if (!mkdtemp(folder)) return -1;
  put("bad.sline", "local x = { a = 5ft 6ft }\n", "local x = 5ft\n", 10000);
  return 0;
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
  struct CMUnitTest tests[sizeof rows / sizeof *rows + 1] = { 0 };
  size_t n = 0;
  ADD_ROWS(tests, n, rows, pays_what_it_is_worth);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(a_list_is_paid_by_the_byte);
  return cmocka_run_group_tests_name("steps", tests, setup, teardown);
}
