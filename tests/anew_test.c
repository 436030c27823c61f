/* SPDX-License-Identifier: MIT
 * A job declared anew in a run beside the run: what moves, what is refused and where, and that the first is back whole.
 * Whole jobs: tests/anew.lua. */
#include "job_run.h"

/* Kinds and results: tests/shelf.lua. */
#define A "local anew, variants = import 'model.anew', import 'model.variants' "
#define GIVES(name, script, probe, want)       { name, NULL, script, A probe, want, NULL, 0 }
#define FAILS(name, script, probe, code, part, line) { name, NULL, script, A probe, part, code, line }
#define RULE(check) "rule { id = 'J1', severity = 'note', each = 'shelf', says = 's', cite = 'c', caution = 'd', " \
                    "check = function(s) return " check " end }"
/* The outcomes of a list of changes in words; or its error's text. */
#define OUTCOMES(changes) "local list, why = variants.judge(" changes ") " \
  "if not list then return 'error ' .. why.code .. ' ' .. why.text end local words = {} " \
  "for _, o in ipairs(list) do words[#words + 1] = o.rule.id .. ' ' .. o.subject .. ' ' .. o.outcome end " \
  "return table.concat(words, '; ')"
#define SHOWN(moved) "local moved, words = " moved ", {} local function show(v) " \
  "return v == nil and '-' or host.format(v) end for _, m in ipairs(moved) do " \
  "words[#words + 1] = m.path .. ' ' .. show(m.was) .. ' > ' .. show(m.is) end " \
  "return table.concat(words, '; ') .. '|' .. table.concat(moved.added, ' ') .. '|' .. table.concat(moved.gone, ' ')"
#define MOVED(changes) SHOWN("anew.moved(" changes ")")
/* Column 11 of line 2, which is the script's first, is that of the literal; in a loop column 12. */
#define HEIGHT "local h = 1ft shelf 'a' { depth = h } shelf 'b' { depth = 2 * h, boards = 3 }"
#define AT(value) "{ ['job.sline:2:11'] = host.literal '" value "' }"
#define LOOP "for i = 1, 3 do shelf('s' .. i) { depth = 1ft * i } end "
#define COUNT(n) "{ ['job.sline:2:12'] = " n " }"

static const struct job_row moves[] = {
  /* from hand: 9 in, and twice 9 in; below 3 m are 9.843 ft */
  GIVES("a literal behind a local moves all that is made from it", HEIGHT, MOVED(AT("9in")),
        "shelf.a.depth 1 ft > 9 in; shelf.b.depth 2 ft > 1 ft 6 in||"),
  GIVES("the same value moves nothing", HEIGHT, MOVED(AT("1ft")), "||"),
  /* from hand: 1 ft, and twice 1 ft, as the script has it */
  GIVES("what literals that are put in moved", HEIGHT,
        "return run.aside(function() boot.declare { script = job_script, plan = { { path = 'job.sline:2:11', "
        "value = host.literal '9in', from = 'x' }, { path = 'shelf.a.boards', value = 5, from = 'y' } } } "
        SHOWN("anew.moved_by_literals()") " end)",
        "shelf.a.depth 1 ft > 9 in; shelf.b.depth 2 ft > 1 ft 6 in||"),
  GIVES("and declared", LOOP, "return run.aside(function() boot.declare { script = job_script, "
        "plan = { { path = 'job.sline:2:12', value = 2, from = 'x' } } } local m = anew.moved_by_literals() "
        "return #m .. m[1].path .. table.concat(m.added) .. table.concat(m.gone) end)", "3shelf.s3.depthshelf.s3"),
  GIVES("a share", "local s = 50%; shelf 'a' { depth = 1ft * s }", MOVED("{ ['job.sline:2:11'] = 0.25 }"),
        "shelf.a.depth 6 in > 3 in||"),
  GIVES("a plain number", "local n = 2 shelf 'a' { depth = 1ft, boards = n }", MOVED("{ ['job.sline:2:11'] = 5 }"),
        "shelf.a.boards 2 > 5||"),
  GIVES("before a statement in brackets", "local n = 2\n(print)(n) shelf 'a' { depth = 1ft, boards = n }",
        MOVED("{ ['job.sline:2:11'] = 5 }"), "shelf.a.boards 2 > 5||"),
  GIVES("the number behind a minus", "local n = -2 shelf 'a' { depth = 1ft, boards = 6 + n }",
        MOVED("{ ['job.sline:2:12'] = 5 }"), "shelf.a.boards 4 > 1||"),
  GIVES("a text", "local t = 'oil' shelf 'a' { depth = 1ft, finish = t }", MOVED("{ ['job.sline:2:11'] = 'paint' }"),
        "shelf.a.finish oil > paint||"),
  GIVES("yes or no", "local y = true shelf 'a' { depth = 1ft, boards = y and 3 or 4 }",
        MOVED("{ ['job.sline:2:11'] = false }"), "shelf.a.boards 3 > 4||"),
  GIVES("two places of one file", "local n, m = 2, 3 shelf 'a' { depth = 1ft * m, boards = n }",
        MOVED("{ ['job.sline:2:14'] = 5, ['job.sline:2:17'] = 1 }"),
        "shelf.a.depth 3 ft > 1 ft; shelf.a.boards 2 > 5||"),
  GIVES("then the other way round", "local n, m = 2, 3 shelf 'a' { depth = 1ft * m, boards = n }",
        "anew.moved { ['job.sline:2:14'] = 5 } " MOVED("{ ['job.sline:2:17'] = 2 }"), "shelf.a.depth 3 ft > 2 ft||"),
  GIVES("a whole number stays one", "local n = 2 shelf('s' .. n) { depth = 1ft }",
        "return table.concat(anew.moved({ ['job.sline:2:11'] = 5.0 }).added)", "shelf.s5"),
  GIVES("a tolerance stays with its literal", "local h = 1ft+-1in shelf 'a' { depth = h }",
        "return run.aside(function() boot.declare { script = job_script, plan = { { path = 'job.sline:2:11', "
        "value = host.literal '9in', from = 'x' } } } local t = record.tolerances()[1] "
        "return host.format(t.value) .. ' +- ' .. host.format(t.tolerance) end)", "9 in +- 1 in"),
  GIVES("the tolerance of a temperature is a difference", "local h = 1ft shelf 'a' { depth = h }",
        "local v, t = host.literal '-21degC+-2K' local w, u = host.literal '68degF+-9degF' "
        "return table.concat({ host.format(v), host.format(t), host.format(w), host.format(u) }, ' ')",
        "-21 degC 2 K 68 degF 5 K"),
  GIVES("more rounds of a loop", LOOP, MOVED(COUNT("4")), "shelf.s4.depth - > 4 ft; shelf.s4.boards - > 2; "
        "shelf.s4.label - > none|shelf.s4|"),
  GIVES("fewer", LOOP, MOVED(COUNT("1")), "shelf.s2.depth 2 ft > -; shelf.s2.boards 2 > -; shelf.s2.label none > -; "
        "shelf.s3.depth 3 ft > -; shelf.s3.boards 2 > -; shelf.s3.label none > -||shelf.s2 shelf.s3"),
  GIVES("what a type gives moves in all that are like it", "shelf_type 'T' { depth = 1ft } shelf 'a' { like = 'T' } "
        "shelf 'b' { like = 'T', depth = 2ft } shelf 'c' { like = 'T' }",
        MOVED("{ ['shelf_type.T.depth'] = host.literal '9in' }"),
        "shelf.a.depth 1 ft > 9 in; shelf.c.depth 1 ft > 9 in||"),
  GIVES("an item of a list", "shelf 'a' { depth = 1ft, marks = { 1in, 2in } }",
        MOVED("{ ['shelf.a.marks[2]'] = host.literal '3in' }"), "shelf.a.marks[2] 2 in > 3 in||"),
  GIVES("and a longer one", "shelf 'a' { depth = 1ft, marks = { 1in } }",
        MOVED("{ ['shelf.a.marks'] = record.list({ host.literal '1in', host.literal '2in' }, 'x') }"),
        "shelf.a.marks[2] - > 2 in||"),
};

#define EARLY "local a = shelf 'a' { depth = 1ft } shelf 'b' { depth = a.depth * 2 } " RULE("at_most(s.depth, 3ft)")
#define DEPTH(of, value) "{ ['shelf." of ".depth'] = host.literal '" value "' }"

static const struct job_row shapes[] = {
  GIVES("a field that the script read shapes what it made of it", EARLY,
        "return tostring(anew.shapes 'shelf.a.depth') .. tostring(anew.shapes 'shelf.b.depth')", "truefalse"),
  /* from hand: 2 ft, and twice 2 ft */
  GIVES("so that it is declared anew", EARLY, OUTCOMES(DEPTH("a", "2ft")), "J1 shelf.a holds; J1 shelf.b broken"),
  GIVES("any other is put in", EARLY, OUTCOMES(DEPTH("b", "4ft")), "J1 shelf.a holds; J1 shelf.b broken"),
  GIVES("a result that the script read rests on it", "room { width = 4ft } local a = shelf 'a' { depth = 1ft } "
        "shelf 'b' { depth = a.area / 4ft }", "return tostring(anew.shapes 'shelf.a.depth') .. "
        "tostring(anew.shapes 'room.width') .. tostring(anew.shapes 'shelf.b.depth')", "truetruefalse"),
  GIVES("what a copy took over and the script read of it", "local a = shelf 'a' { depth = 1ft, boards = 3 } "
        "local low = a:with { boards = 4 } shelf 'b' { depth = low.depth * 2 }",
        "return tostring(anew.shapes 'shelf.a.depth') .. tostring(anew.shapes 'shelf.a.boards')", "truefalse"),
  GIVES("fields of types, names, references, lists", "shelf_type 'T' { depth = 1ft } shelf 'a' { like = 'T', "
        "marks = { 1in }, brackets = { size = 'S', gap = 1in } }",
        "local list = {} for _, path in ipairs { 'shelf_type.T.depth', 'shelf.a.like', 'shelf.a.label', "
        "'shelf.a.marks', 'shelf.a.brackets', 'shelf.a.marks[2]', 'shelf.x.depth', 'limits.height', 'job.sline:1:1', "
        "'job.units' } do if not anew.shapes(path) then list[#list + 1] = path end end "
        "return table.concat(list, ' ')", "shelf.a.marks[2]"),
  GIVES("amounts, counts, choices and items", "shelf 'a' { depth = 1ft, marks = { 1in }, brackets = { size = 'S', "
        "gap = 1in }, heights = { F1 = 1in } }",
        "local list = {} for _, path in ipairs { 'shelf.a.depth', 'shelf.a.boards', 'shelf.a.finish', "
        "'shelf.a.marks[1]', 'shelf.a.brackets.gap', 'shelf.a.heights.F1', 'job.crew' } do "
        "if anew.shapes(path) then list[#list + 1] = path end end return table.concat(list, ' ')", ""),
};

#define JUDGED "local before = judge.all() "

static const struct job_row judged[] = {
  GIVES("a literal in a rule's own function", "shelf 'a' { depth = 1ft }\n" RULE("at_most(s.depth, 2ft)"),
        OUTCOMES("{ ['job.sline:3:137'] = host.literal '6in' }"), "J1 shelf.a broken"),
  GIVES("a rule's text", "shelf 'a' { depth = 1ft }\n" RULE("at_most(s.depth, 2ft)"),
        "local o = anew.judge({ ['job.sline:3:61'] = 'other' })[1] return o.rule.says .. ' ' .. o.outcome", "s holds"),
  GIVES("numbers, limits and words are this run's to keep", "shelf 'a' { depth = 1ft } "
        RULE("at_most(s.depth, bound(2ft, 'us', 'page 3'))"),
        "local o = anew.judge(" DEPTH("a", "3ft") ")[1] local f = o.finding return table.concat({ o.outcome, "
        "host.format(f.value), host.format(f.limit), host.format(f.margin), f.whose, f.cite, "
        "tostring(rawequal(o.proxy, record.root.shelf.a)), tostring(rawequal(o.rule, rule.find 'J1')) }, ' ')",
        "broken 3 ft 2 ft -1 ft us page 3 true true"),
  GIVES("what is unknown says why", "shelf 'a' { depth = 1ft, finish = 'oil' } "
        RULE("present(s.brackets.size, 'size')"),
        "local o = anew.judge { ['job.sline:2:13'] = 'a' } return tostring(o)", "nil"),
  GIVES("a missing fact by its path", "local d = 1ft shelf 'a' { depth = d } " RULE("at_most(s.brackets.gap, 1in)"),
        "local o = anew.judge(" AT("2ft") ")[1] return o.outcome .. ' ' .. o.why.path", "unknown shelf.a.brackets"),
  GIVES("for the rules that are asked for", "shelf 'a' { depth = 1ft } " RULE("at_most(s.depth, 2ft)"),
        "return #anew.judge(" DEPTH("a", "3ft") ", {}) .. #anew.judge(" DEPTH("a", "3ft") ", { rule.find 'J1' })",
        "01"),
  GIVES("a local that a rule counts in is each run's own", "local n = 0 shelf 'a' { depth = 1ft } "
        "rule { id = 'J1', severity = 'note', each = 'shelf', says = 's', cite = 'c', caution = 'd', "
        "check = function(s) n = n + 1 return at_most(n, 9) end }",
        "judge.all() anew.judge(" DEPTH("a", "3ft") ") anew.judge(" DEPTH("a", "2ft") ") "
        "return judge.all()[1].finding.value", "2"),
  GIVES("and so is a name of the whole file", "n = 0 shelf 'a' { depth = 1ft } "
        "rule { id = 'J1', severity = 'note', each = 'shelf', says = 's', cite = 'c', caution = 'd', "
        "check = function(s) n = n + 1 return at_most(n, 9) end }",
        "judge.all() judge.all() anew.judge(" DEPTH("a", "3ft") ") anew.judge(" DEPTH("a", "2ft") ") "
        "return judge.all()[1].finding.value", "3"),
  GIVES("what the job was declared with stays put in",
        "shelf 'a' { depth = 1ft } shelf 'b' { depth = 1ft } " RULE("at_most(s.depth, 2ft)"),
        "boot.declare { script = job_script, plan = { { path = 'shelf.b.depth', value = host.literal '3ft', from = "
        "'x' } } } " OUTCOMES("{ ['shelf.a.label'] = 'none' }"), "J1 shelf.a holds; J1 shelf.b broken"),
  GIVES("declared otherwise where it is let", LOOP RULE("at_most(s.depth, 2ft)"),
        "local list, added, gone = anew.judge(" COUNT("2") ", nil, true) return #list .. #added .. gone[1]",
        "20shelf.s3"),
};

static const struct job_row refused[] = {
  GIVES("another number of records", LOOP, OUTCOMES(COUNT("2")),
        "error D019 the script declares shelf.s3 no more when job.sline:2:12 is 2"),
  GIVES("with the place of the input", LOOP, "local _, why = anew.judge(" COUNT("5") ") return why.text .. "
        "why.line .. ':' .. why.col .. ':' .. why.len",
        "the script declares shelf.s4 and shelf.s5 as well when job.sline:2:12 is 52:12:1"),
  FAILS("no literal", HEIGHT, "anew.moved { ['job.sline:2:15'] = 3 }", "D019", "no literal stands there", 1),
  GIVES("says which is nearest", HEIGHT, "local _, why = anew.judge { ['job.sline:2:15'] = 3 } return why.help",
        "the nearest is 1ft at job.sline:2:11"),
  GIVES("not the name of a declaration", HEIGHT, "local _, why = anew.judge { ['job.sline:2:21'] = 'x' } "
        "return why.help", "the nearest is 1ft at job.sline:2:11"),
  FAILS("another dimension", HEIGHT, "anew.moved { ['job.sline:2:11'] = host.literal '3lb' }", "D003",
        "an amount (length) stands there, 1ft, and not 3 lb (mass)", 1),
  FAILS("a bare number", HEIGHT, "anew.moved { ['job.sline:2:11'] = 3 }", "D003", "and not 3 (a bare number)", 1),
  FAILS("a text for a number", LOOP, "anew.moved(" COUNT("'x'") ")", "D003", "a number stands there, 3, and not", 1),
  FAILS("another currency", "local p = $5 shelf 'a' { depth = 1ft, boards = p > $3 and 2 or 3 }",
        "anew.moved { ['job.sline:2:11'] = host.literal '€5' }", "D003", "an amount (money) stands there, $5, and not",
        1),
  FAILS("a number for a share", "local s = 50%; shelf 'a' { depth = 1ft * s }",
        "anew.moved { ['job.sline:2:11'] = host.literal '1ft' }", "D003", "a share stands there, 50%, and not 1 ft", 1),
  FAILS("no such file", HEIGHT, "anew.moved { ['jbo.sline:2:11'] = 3 }", "D019", "the job has no script jbo.sline", 0),
  GIVES("outside its range", HEIGHT, OUTCOMES(AT("4m")),
        "error D004 shelf \"a\": 'depth' must be at most 9.843 ft, got 4 m"),
  GIVES("with what is put in beside it", HEIGHT, "local _, why = anew.judge(" AT("4m") ") return why.notes[1] .. "
        "why.line .. ':' .. why.col", "put in: job.sline:2:11 = 4 m2:35"),
  GIVES("an error of the script's own", "local n = 2 if n > 2 then error 'too many' end shelf 'a' { depth = 1ft }",
        "local _, why = anew.judge { ['job.sline:2:11'] = 3 } return why.text .. ' ' .. why.line", "too many 2"),
  GIVES("a value that the declaration refuses", "shelf_type 'T' { depth = 1ft } shelf 'a' { like = 'T' }",
        OUTCOMES("{ ['shelf_type.T.depth'] = host.literal '9m' }"),
        "error D004 shelf_type.T.depth = 9 m: shelf_type \"T\": 'depth' must be at most 9.843 ft, got 9 m"),
  GIVES("an input that does not exist", "shelf 'a' { depth = 1ft }",
        OUTCOMES("{ ['shelf.b.depth'] = host.literal '1ft' }"),
        "error D019 shelf.b.depth = 1 ft: nothing declared has the path shelf.b.depth"),
  GIVES("a limit that nobody gives", "shelf 'a' { depth = 1ft }",
        OUTCOMES("{ ['limits.height'] = host.literal '1ft' }"),
        "error D019 limits.height = 1 ft: neither place nor house gives a limit 'height'"),
};

#define BACK "local function state() local words = {} " \
  "for name, v in host.sorted(run) do if type(v) ~= 'function' then " \
  "words[#words + 1] = name .. ' ' .. (type(v) == 'table' and string.format('%p', v) or tostring(v)) end end " \
  "local inside = {} for p, d in next, run.inside do inside[#inside + 1] = string.format('%p %p', p, d) end " \
  "table.sort(inside) words[#words + 1] = table.concat(inside, ',') .. string.format('%p', " \
  "resting.cites) return table.concat(words, '\\n') end judge.all() local before = state() "
#define SAME "return tostring(state() == before)"

static const struct job_row back[] = {
  GIVES("the run is back whole", HEIGHT, BACK "anew.moved(" AT("9in") ") anew.judge(" AT("9in") ") " SAME, "true"),
  GIVES("where the script raises", HEIGHT, BACK "anew.judge(" AT("9m") ") " SAME, "true"),
  GIVES("where what is asked raises", HEIGHT, BACK "pcall(run.aside, function() boot.declare { script = job_script } "
        "run.more = 5 error 'x' end) " SAME, "true"),
  GIVES("asides in asides", HEIGHT, BACK "local deep = run.aside(function(...) boot.declare { script = job_script, "
        "plan = { { path = 'shelf.a.depth', value = host.literal '2ft', from = 'x' } } } local a = "
        "anew.moved(" AT("9in") ")[1] return host.format(a.was) .. host.format(a.is) .. "
        "host.format(record.at 'shelf.a.depth') .. ... end, 'given') return deep .. tostring(state() == before)",
        "2 ft1 ft 6 in2 ftgiventrue"),
  GIVES("random numbers go on", HEIGHT,
        "local r = host.env().math.random boot.declare { script = job_script } "
        "local a, b = r(1, 1000000), r(1, 1000000) "
        "boot.declare { script = job_script } local c = r(1, 1000000) anew.moved(" AT("9in") ") "
        "return tostring(a == c) .. tostring(b == r(1, 1000000))", "truetrue"),
  GIVES("what is worked out after an aside is noted as before it", HEIGHT RULE("at_most(s.depth, 2ft)"),
        "local function first() anew.moved(" AT("9in") ") return judge.all() end "
        "variants.base() local base = first() local a = variants.judge(" DEPTH("a", "3ft") ") "
        "return base[1].outcome .. a[1].outcome .. tostring(rawequal(base[2], a[2]))", "holdsbrokentrue"),
  /* from hand: 1 ft by 4 ft, 3 ft by 4 ft */
  GIVES("and results are kept on", HEIGHT " room { width = 4ft }", "local s, n = record.root.shelf.a, 0 "
        "local function area() return host.format(s.area, 'ft2') end "
        "local function first() anew.moved(" AT("9in") ") return area() end "
        "variants.base() local base = first() return base .. "
        "variants.with(" DEPTH("a", "3ft") ", area) .. variants.with(" DEPTH("b", "3ft") ", area)",
        "4 ft212 ft24 ft2"),
  GIVES("items of lists, too", HEIGHT " shelf 'c' { depth = 1ft, marks = { 1in } }", "variants.base() "
        "anew.moved(" AT("9in") ") local s, memo = record.root.shelf.c, import 'model.memo' local function first() "
        "return memo.remember(record.inside[s], 'first', function() return host.format(s.marks[1]) end) end "
        "return first() .. variants.with({ ['shelf.c.marks[1]'] = host.literal '3in' }, first)", "1 in3 in"),
  GIVES("in the middle of a variant", HEIGHT RULE("at_most(s.depth, 2ft)"),
        "local base = variants.base() local list = variants.with(" DEPTH("a", "3ft") ", function() "
        "anew.judge(" AT("9in") ") return judge.all() end) local after = variants.base() "
        "return list[1].outcome .. after[1].outcome .. calls.area", "brokenholds0"),
  GIVES("files are listed once, and stay so", HEIGHT, "local function files() local words = {} for i, f in "
        "ipairs(host.files_read()) do words[i] = f.path:match '[^/]*$' .. #f.sha256 end return #words .. words[1] end "
        "local before = files() anew.moved(" AT("9in") ") local inner = run.aside(function() boot.declare { script = "
        "job_script } return files() end) return before .. ' ' .. files() .. ' ' .. inner",
        "1job.sline64 1job.sline64 1job.sline64"),
  GIVES("how values print", HEIGHT,
        "host.style { us = true, fraction = 16 } anew.moved(" AT("9in") ") return host.format(host.literal '13.5in')",
        "1 ft 1-1/2 in"),
  /* from hand: the second thousand of asides asks for no more than the first left behind; 16 KiB of slack */
  GIVES("memory stays as it is", HEIGHT LOOP RULE("at_most(s.depth, 2ft)"),
        "local values = { " AT("9in") ", " AT("9m") ", " DEPTH("a", "2ft") ", { ['job.sline:2:89'] = 4 } } "
        "local function some(n) for i = 1, n do anew.judge(values[i % 4 + 1]) end collectgarbage() collectgarbage() "
        "return collectgarbage 'count' end some(200) local before = some(800) local after = some(1000) "
        "return after - before < 16 and 'flat' or after - before", "flat"),
};

/* ---- the C side -------------------------------------------------------------------------------------------------- */

static int lines;
static void heard(void *to, struct sl_sources *sources, const struct sl_message *line) {
  (void)to, (void)sources, (void)line;
  lines++;
}

/* Runs code over a script in a state of its own, with few steps; what it gives. */
static char *asked(const char *script, const char *code) {
  const struct sl_host host = { .folder = job_folder, .format = SL_GNU, .print = heard };
  job_write("job.sline", JOB, script);
  lua_State *L = sl_host_new(&host, &(struct sl_limits){ .steps = 300000 });
  assert_non_null(L);
  sl_host_import(L, "model.boot");
  lua_setglobal(L, "boot");
  assert_int_equal(luaL_loadstring(L, code), LUA_OK);
  lua_pushstring(L, job_path);
  if (sl_host_call(L, 1, 1)) {
    sl_host_report(L);
    fail_msg("%s did not run", script);
  }
  char *text = strdup(lua_tostring(L, -1));
  sl_host_close(L);
  return text;
}

static void prints_once(void **state) {
  (void)state;
  lines = 0;
  char *text = asked("local n = 1 print(n)", "boot.declare { script = ... } for i = 1, 5 do "
                     "import('model.anew').moved { ['job.sline:2:11'] = i } end return 'x'");
  free(text);
  assert_int_equal(lines, 1);
  text = asked("local n = 1 print(n)", "boot.declare { script = ... } import('model.anew').moved { "
               "['job.sline:2:11'] = 2 } boot.declare { script = ... } return 'x'");
  free(text);
  assert_int_equal(lines, 3);
}

/* A limit that a variant meets ends the variant; each has all its steps. */
static void is_stopped_alone(void **state) {
  (void)state;
  char *text = asked("local n = 3 for i = 1, n * 10000 do local x = i end",
                     "boot.declare { script = ... } local anew, words = import 'model.anew', {} "
                     "for i, n in ipairs { 3, 1000000, 5, 1000000, 3, 3, 3, 3, 3, 3, 3, 3 } do local list, why = "
                     "anew.judge { ['job.sline:2:11'] = n } words[i] = list and 'judged' or why.code end "
                     "return table.concat(words, ' ')");
  assert_string_equal(text, "judged S001 judged S001 judged judged judged judged judged judged judged judged");
  free(text);
}

/* tests/anew.lua: what its function of that name finds wrong with the job of a folder. */
static void whole_job(const char *name, const char *folder) {
  const struct sl_host host = { .folder = folder, .format = SL_GNU };
  lua_State *L = sl_host_new(&host, NULL);
  assert_non_null(L);
  lua_settop(L, 0);
  if (luaL_loadfilex(L, "tests/anew.lua", "t") || sl_host_call(L, 0, 1)) {
    sl_host_report(L);
    fail_msg("tests/anew.lua did not run");
  }
  lua_getfield(L, 1, name);
  lua_pushfstring(L, "%s/job.sline", folder);
  if (sl_host_call(L, 1, 1)) {
    sl_host_report(L);
    fail_msg("%s of %s did not run", name, folder);
  }
  assert_string_equal(lua_tostring(L, -1), "");
  sl_host_close(L);
}

static const char *const folders[] = { "tests/pages/jobs/smallest", "examples/egg-farm", "tests/golden/jobs/two-racks",
                                       "tests/pages/jobs/hay-barn", "tests/pages/jobs/southern" };

static void whole_jobs_are_back(void **state) {
  (void)state;
  for (size_t i = 0; i < sizeof folders / sizeof *folders; i++) whole_job("untouched", folders[i]);
}

static void put_in_or_declared_anew(void **state) {
  (void)state;
  for (size_t i = 1; i < sizeof folders / sizeof *folders; i++) whole_job("both_ways", folders[i]);
}

static void refused_as_declared(void **state) {
  (void)state;
  whole_job("refused", "examples/egg-farm");
}

static void limits_and_habits(void **state) {
  (void)state;
  whole_job("limits", "examples/egg-farm");
}

static void thirty_racks(void **state) {
  (void)state;
  whole_job("thirty", "tests/pages/jobs/large");
}

static void types_of_racks(void **state) {
  (void)state;
  whole_job("types", "tests/golden/jobs/two-racks");
}

int main(void) {
  static struct CMUnitTest tests[80];
  size_t n = 0;
  job_prelude = "tests/shelf.lua";
  JOB_ROWS(tests, n, moves);
  JOB_ROWS(tests, n, shapes);
  JOB_ROWS(tests, n, judged);
  JOB_ROWS(tests, n, refused);
  JOB_ROWS(tests, n, back);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(prints_once);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(is_stopped_alone);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(whole_jobs_are_back);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(put_in_or_declared_anew);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(refused_as_declared);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(limits_and_habits);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(thirty_racks);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(types_of_racks);
  return _cmocka_run_group_tests("anew", tests, n, job_setup, job_teardown);
}
