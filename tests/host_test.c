/* SPDX-License-Identifier: MIT
 * The host: what a script's environment holds, its files, its limits, and what the host's own Lua gets from C. */
#include "job_run.h"
#include "box/sandbox.h"

#define KEEP "host.print = function(v) out = v end"
#define GIVES(name, script, want)                 { name, KEEP, script, "return out", want, NULL, 0 }
#define REFUSES(name, script, code, part, line)   { name, KEEP, script, NULL, part, code, line }
#define HOST(name, probe, want)                   { name, NULL, NULL, probe, want, NULL, 0 }

static const struct job_row scripts[] = {
  GIVES("plain Lua", "local t = {} for i = 1, 3 do t[i] = i * i end print(table.concat(t, ' '))", "1 4 9"),
  GIVES("names of its own", "x = 5ft y = x * 2 print(tostring(y))", "10 ft"),
  GIVES("math knows angles", "print(string.format('%.3f', math.sin(30deg)))", "0.500"),
  GIVES("pairs goes in order", "local s = '' for k in pairs { b = 1, a = 2, [2] = 3, [1] = 4, c = 5 } do s = s .. k "
        "end print(s)", "12abc"),
  REFUSES("a misspelt name, beside names that are none", "_ENV[1] = 1 _ENV[{}] = 2 _ENV[true] = 3 _ENV[print] = 4\n"
        "local x = prnt(5)", "E001", "nothing is called 'prnt'", 2),
  REFUSES("a misspelt name", "\nlocal x = prnt(5)", "E001", "nothing is called 'prnt'", 2),
  REFUSES("what is left out says why", "\nos.time()", "E001", "'os' is not there for scripts", 2),
  REFUSES("a word of sweeps without its table", "\nvary { }", "D002", "vary: it does not say what is varied", 2),
  REFUSES("the host's table is out of reach", "\nhost.raise { }", "E001", "nothing is called 'host'", 2),
  REFUSES("so is the import", "\nimport 'model.boot'", "E001", "nothing is called 'import'", 2),
  REFUSES("a library set", "\nstring.rep = nil", "L002", "string", 2),
  REFUSES("a file that is not there", "\nplace 'nowhere'", "F021", "cannot read", 2),
  REFUSES("a file above the folder", "\nplace '../job'", "F020", "leads out of the job's folder", 2),
  REFUSES("an absolute path", "\nuse '/etc/passwd'", "F020", "leads out of the job's folder", 2),
  REFUSES("a file that needs itself", "\nuse 'job'", "E003", "files name each other in a circle", 2),
  REFUSES("a syntax error", "\nlocal x = = 5", "L001", "unexpected symbol", 2),
  REFUSES("a block without an end", "\nif true then", "L001", "'end' expected", 0),
  REFUSES("a call of nothing, in plain words", "local t = {}\nt.x()", "L002",
        "cannot call 'x': it is nothing here (nil)", 2),
  REFUSES("an index of nothing", "local t = {}\nlocal y = t.x.y", "L002", "cannot look into 'x'", 2),
  REFUSES("a sum with a table", "local t = {}\nlocal y = t + 1", "L002", "cannot calculate with 't': it is a table", 2),
  REFUSES("a length of a number", "local n = 5\nlocal y = #n", "L002", "cannot count 'n': it is a number", 2),
  REFUSES("unlike things compared", "local t = {}\nlocal y = t < 1", "L002", "cannot compare a table with a number", 2),
  REFUSES("an error of the script's own", "\nerror('too steep')", "L002", "too steep", 2),
  REFUSES("an error that is a table", "\nerror({})", "L002", "the script raised a table as its error", 0),
};

static const struct job_row tables[] = {
  HOST("sorted pairs", "local s = '' for k in host.sorted { b = 1, a = 2, [3] = 3, [1] = 4 } do s = s .. k end "
        "return s", "13ab"),
  HOST("sorted pairs of keys that have no order", "local s = '' for k in host.sorted { [true] = 1, [false] = 2, [{}] = "
        "3, [print] = 4, a = 5, [2] = 6 } do s = s .. type(k) .. ' ' end return s:gsub('table function', 'x'):gsub("
        "'function table', 'x')", "number string boolean boolean x "),
  HOST("no address in a text", "return tostring({}) .. tostring(print)", "tablefunction"),
  HOST("nearest passes over what is no text", "return host.nearest('tlit', { 1, {}, 'tilt', print })", "tilt"),
  HOST("is tells dimensions", "local q = host.literal return tostring(host.is(q '3ft', 'length')) .. "
        "tostring(host.is(q '3ft', 'force')) .. tostring(host.is(3, 'number')) .. "
       "tostring(host.is(3, 'length')) .. tostring(host.is(q '3degC', 'temperature')) .. tostring(host.is(q '3K', "
             "'temperature'))", "truefalsetruefalsetruefalse"),
  HOST("same kind", "local q = host.literal return tostring(host.same_kind(q '3ft', q '1m')) .. "
        "tostring(host.same_kind(q '3ft', 3)) .. tostring(host.same_kind(q '3K', q '3degC'))", "truefalsefalse"),
  HOST("same", "local q = host.literal return tostring(host.same(q '1ft', q '12in')) .. tostring(host.same(0.1 + "
        "0.2, 0.3)) .. tostring(host.same('a', 'a')) .. tostring(host.same(q '1ft', 0.3048))", "truetruetruefalse"),
  HOST("near", "return tostring(host.near(0.1 + 0.2, 0.3)) .. tostring(host.near(1, 1.00000001))", "truefalse"),
  HOST("like keeps kind and unit", "return tostring(host.like(host.literal '3ft', 0.6096))", "2 ft"),
  HOST("a quantity by dimension", "return tostring(host.quantity(0.0254, 'length'))", "1 in"),
  HOST("a literal", "return tostring(host.literal '2-3/8in')", "2-3/8 in"),
  HOST("no literal, and why", "local v, why, help, col = host.literal '3 fot' return tostring(v) .. tostring(#why > "
        "0) .. col", "niltrue3"),
  HOST("a wire size", "return tostring(host.wire '4/0') .. tostring((host.wire 'thick'))", "4/0 AWGnil"),
  HOST("nearest", "return host.nearest('tlit', { 'rows', 'tilt' }) .. tostring((host.nearest('x', { 'y' })))",
        "tiltnil"),
  HOST("format in a unit", "return host.format(host.literal '1ft', 'mm') .. ' ' .. host.format(0.25, '%') .. ' ' .. "
        "host.format(host.literal '1ft', 'm', 2)", "304.8 mm 25 % 0.3 m"),
  HOST("style of the job: SI", "host.style { us = false } local s = host.format(host.quantity(1, 'length')) "
        "host.style { us = true } return s", "1000 mm"),
  HOST("style of the job: feet and inches", "host.style { us = true, fraction = 16 } local s = "
        "host.format(host.literal '30.5in') host.style { us = true } return s", "2 ft 6-1/2 in"),
  HOST("asked for in inches, no feet", "host.style { us = true, fraction = 16 } local v = host.literal '66.25in' "
        "local s = host.format(v, 'in') .. ', ' .. host.format(v, 'ft') .. ', ' .. host.format(v, 'mm') .. ', ' .. "
        "host.format(v, nil, 4, true) host.style { us = true } return s",
        "66-1/4 in, 5 ft 6-1/4 in, 1683 mm, 66.25 in"),
  HOST("feet", "return host.feet(host.literal '106.875in') .. ', ' .. host.feet(host.literal '106.875in', 8, true)",
        "8 ft 10-7/8 in, 106-7/8 in"),
  HOST("digits apart in a unit", "return host.digits_apart(host.literal '3.0004in', host.literal '3in')", "5"),
  HOST("what a thing is", "return host.describe(nil) .. ', ' .. host.describe(true) .. ', ' .. host.describe {} .. "
        "', ' .. host.describe(host.literal '900lbf')", "nothing, true, a table, 900 lbf (force)"),
  HOST("raise and catch", "local ok, e = pcall(host.raise, { code = 'X1', text = 't', help = 'h', class = 'missing' "
        "}) local text, help = host.message(e) return host.class(e) .. text .. help .. tostring(e)", "missingtht"),
  HOST("units are listed", "local n = 0 for _, u in ipairs(host.units()) do if u.symbol == 'ft' then n = n + 1 end "
        "end return n", "1"),
  { "no such dimension", NULL, NULL, "return host.is(3, 'lenght')", "no dimension 'lenght'", "L002", 0 },
  { "no such module", NULL, NULL, "return import 'model.nothing'", "no module 'model.nothing'", "L002", 0 },
};

/* ---- limits, several files, several runs ------------------------------------------------------------------------- */

/* Declares the job in a state with these limits; the message of its error. */
static void stopped(const char *script, const struct sl_limits *limits, const char *reason, int line) {
  job_write("job.sline", JOB, script);
  lua_State *L = sl_host_new(&job_host, limits);
  assert_non_null(L);
  const struct job_row row = { "", NULL, script, NULL, "", NULL, 0 };
  lua_pushcfunction(L, job_body);
  lua_pushlightuserdata(L, (void *)(uintptr_t)&row);
  assert_int_not_equal(sl_host_call(L, 1, 1), LUA_OK);
  assert_non_null(sl_sandbox_abort(L));
  struct sl_message m;
  sl_error_message(L, -1, &m);
  if (!strstr(m.text, reason) || (line && m.span.line != line + 1)) fail_msg("[%s] line %d: %s", m.code,
        m.span.line - 1, m.text);
  sl_host_close(L);
}

static void an_endless_loop_is_stopped(void **state) {
  (void)state;
  stopped("\nwhile true do end", &(struct sl_limits){ .steps = 1000000 }, "used more than 1 million steps", 2);
}
static void an_endless_loop_in_pcall_is_stopped(void **state) {
  (void)state;
  stopped("\nwhile true do pcall(function() while true do end end) end", &(struct sl_limits){ .steps = 1000000 },
        "used more than 1 million steps", 2);
}
static void a_memory_eater_is_stopped(void **state) {
  (void)state;
  stopped("\nlocal t = {} for i = 1, 1e9 do t[i] = 'x' .. i end", &(struct sl_limits){ .memory = (size_t)16 << 20 },
        "asked for more than 16 MiB of memory", 0);
}

static void run_here(const struct job_row *row) {
  void *r = (void *)(uintptr_t)row;
  job_row_holds(&r);
}

static void files_of_their_own(void **state) {
  (void)state;
  job_write("other.sline", "", "local gap = 3ft\nreturn { gap = gap, twice = function(x) return x * 2 end }\n");
  run_here(&(struct job_row){ "", KEEP, "local o = use 'other' local p = use 'other' print(tostring(o.twice(o.gap)) "
        ".. tostring(o == p))", "return out", "6 fttrue", NULL, 0 });
  job_write("other.sline", "", "x = 5ft\n");                       /* its names stay its own */
  run_here(&(struct job_row){ "", KEEP, "use 'other'\nprint(x)", NULL, "nothing is called 'x'", "E001", 2 });
  job_write("other.sline", "", "\nlocal y = 3ft + 2lbf\n");        /* its errors stand in it */
  run_here(&(struct job_row){ "", KEEP, "use 'other'", NULL, "cannot add 3 ft (length) and 2 lbf (force)", "Q003", 0 });
  job_write("other.sline", "", "rack 'a' { }\n");
  run_here(&(struct job_row){ "", KEEP, "place 'other'", NULL, "rack does not belong in a place file", "E001", 0 });
  job_write("other.sline", "", "limits { height = { 20ft, cite = 'county' } }\n");
  run_here(&(struct job_row){ "", KEEP, "place 'other'", "return rule.limit('height').whose", "place other", NULL, 0 });
  job_write("other.sline", "", "error 'x'\n");                     /* caught, it is over: this is the job again */
  run_here(&(struct job_row){ "", KEEP, "pcall(house, 'other')\nlimits { height = { 20ft, cite = 'c' } }",
        "return rule.limit('height').whose", "this job", NULL, 0 });
  job_write("other.sline", "", "limits { height = { 20ft+-1ft, cite = 'c' } }\n");
  run_here(&(struct job_row){ "", KEEP, "house 'other'", NULL, "a limit is a limit", "D003", 0 });
  job_write("other.sline", "", "limits { height = { 20ft } }\n");
  run_here(&(struct job_row){ "", KEEP, "house 'other'", NULL, "'height' does not say where it stands", "D002", 0 });
  assert_int_equal(job_remove("other.sline"), 0);
}

static void states_do_not_share(void **state) {
  (void)state;
  run_here(&(struct job_row){ "", KEEP, "shared = 5ft print(tostring(shared))", "return out", "5 ft", NULL, 0 });
  run_here(&(struct job_row){ "", KEEP, "\nprint(shared)", NULL, "nothing is called 'shared'", "E001", 2 });
}

/* The same random numbers in each run, others with another seed. */
static void random_is_seeded(void **state) {
  (void)state;
  char got[3][64];
  for (int i = 0; i < 3; i++) {
    job_write("job.sline", JOB, "print(math.random(1, 1000000000))");
    lua_State *L = sl_host_new(&job_host, &(struct sl_limits){ .seed = i == 2 ? 7 : 0 });
    const struct job_row row = { "", KEEP, "", "return out", "", NULL, 0 };
    lua_pushcfunction(L, job_body);
    lua_pushlightuserdata(L, (void *)(uintptr_t)&row);
    assert_int_equal(sl_host_call(L, 1, 1), LUA_OK);
    snprintf(got[i], sizeof got[i], "%s", lua_tostring(L, -1));
    sl_host_close(L);
  }
  assert_string_equal(got[0], got[1]);
  assert_string_not_equal(got[0], got[2]);
}

int main(void) {
  static struct CMUnitTest tests[80];
  size_t n = 0;
  JOB_ROWS(tests, n, scripts);
  JOB_ROWS(tests, n, tables);
  static const struct CMUnitTest more[] = {
    cmocka_unit_test(an_endless_loop_is_stopped), cmocka_unit_test(an_endless_loop_in_pcall_is_stopped),
          cmocka_unit_test(a_memory_eater_is_stopped),
    cmocka_unit_test(files_of_their_own), cmocka_unit_test(states_do_not_share), cmocka_unit_test(random_is_seeded),
  };
  for (size_t i = 0; i < sizeof more / sizeof *more; i++) tests[n++] = more[i];
  return _cmocka_run_group_tests("host", tests, n, job_setup, job_teardown);
}
