/* SPDX-License-Identifier: MIT
 * What differs between two snapshots of plain data.  All by hand: the lists are written so that the answer is seen. */
#include "job_run.h"

/* amounts of texts, T("a b c"), and of metres, M{ 1, 2 }; what came of items as "gone a | new b | moved c" */
#define HELP "local difference, snapshot = import 'model.difference', import 'model.snapshot' " \
  "local function T(text) local l = {} for w in text:gmatch '%S+' do l[#l + 1] = { text = w } end return l end " \
  "local function M(list) local l = {} for i, x in ipairs(list) do l[i] = { si = x, dim = 'length', text = '' .. x } " \
  "end return l end " \
  "local function names(list) local l = {} for i, x in ipairs(list) do l[i] = x.text or x.path or x.id or x.name end " \
  "return table.concat(l, ' ') end " \
  "local function items(a, b) local d = difference.items(a, b) return d and 'gone ' .. names(d.gone) .. ' | new ' .. " \
  "names(d.new) .. ' | moved ' .. names(d.moved) or 'same' end " \
  "local function rule(id, subject, outcome, ratio) return { id = id, subject = subject, about = subject, " \
  "severity = 'stop', says = 's', caution = 'c', outcome = outcome, words = '', ratio = ratio, by = 'limit' } end " \
  "local function job(more) local s = { records = {}, declared = {}, results = {}, rules = {}, sheets = {}, " \
  "covered = {}, kept = {} } for k, v in pairs(more or {}) do s[k] = v end return s end "

#define GIVES(name, probe, want) { name, NULL, NULL, HELP probe, want, NULL, 0 }

static const struct job_row rows[] = {
  /* amounts */
  GIVES("equal within 1e-9, the tolerance of floats", "return difference.same({ si = 1, text = '1' }, { si = 1 + "
        "1e-12, "
        "text = '1' })", "true"),
  GIVES("a ten-thousandth is a difference, although both print as 1 m",
        "return difference.same({ si = 1, text = '1 m' }, { si = 1.0001, text = '1 m' })", "false"),
  GIVES("18 in and 457.2 mm are one length, however they print", "return difference.same({ si = 0.4572, dim = "
        "'length', "
        "text = '18 in' }, { si = 0.4572, dim = 'length', text = '457.2 mm' })", "true"),
  GIVES("one metre is no one kilogram", "return difference.same({ si = 1, dim = 'length', text = '1' }, { si = 1, "
        "dim = 'mass', text = '1' })", "false"),
  GIVES("a number is no text", "return difference.same({ si = 1, text = '1' }, { text = '1' })", "false"),
  GIVES("words", "return difference.same({ text = 'clay' }, { text = 'sand' })", "false"),
  GIVES("zero and what is left of 0.1 + 0.2 - 0.3 are one", "return difference.alike({ x = 0.0 }, { x = 0.1 + 0.2 - "
        "0.3 "
        "})", "true"),
  GIVES("a value that one table lacks", "return difference.alike({ x = 1 }, { x = 1, y = 2 })", "false"),
  GIVES("a value that the other lacks", "return difference.alike({ x = 1, y = 2 }, { x = 1 })", "false"),
  GIVES("deep in a table", "return difference.alike({ x = { { y = 1 } } }, { x = { { y = 2 } } })", "false"),
  GIVES("cents: three times $0.10 are $0.30", "return difference.cents(0.1 + 0.1 + 0.1)", "30"),
  GIVES("cents: 0.29 x 100 is a hair less than 29", "return difference.cents(0.29)", "29"),
  GIVES("cents of a price that no float holds", "return difference.cents(2546.55) - difference.cents(2546.54)", "1"),

  /* lists in order */
  GIVES("nothing", "return items(T 'a b c', T 'a b c')", "same"),
  GIVES("one more, at the end", "return items(T 'a b c', T 'a b c d')", "gone  | new d | moved "),
  GIVES("one more, in the middle: nothing behind it has moved", "return items(T 'a b c', T 'a x b c')",
        "gone  | new x | moved "),
  GIVES("the first is gone", "return items(T 'a b c', T 'b c')", "gone a | new  | moved "),
  GIVES("another in its place", "return items(T 'a b c', T 'a x c')", "gone b | new x | moved "),
  GIVES("the last to the front", "return items(T 'a b c', T 'c a b')", "gone  | new  | moved c"),
  GIVES("moved, one gone and one new", "return items(T 'a b c d', T 'd a c x')", "gone b | new x | moved d"),
  GIVES("of two alike one is gone", "return items(T 'a a b', T 'a b')", "gone a | new  | moved "),
  GIVES("all gone", "return items(T 'a b', T '')", "gone a b | new  | moved "),
  GIVES("from nothing", "return items(T '', T 'a')", "gone  | new a | moved "),
  GIVES("lengths within the tolerance are the same items", "return items(M{ 1, 2, 3 }, M{ 1 + 1e-12, 2, 3 - 1e-12 })",
        "same"),
  GIVES("the list is too long to be laid side by side: what stands elsewhere counts as moved", "local a, b = {}, {} "
        "for i = 1, 1500 do a[i] = { text = 'x' .. i } b[1501 - i] = { text = 'x' .. i } end b[700] = { text = 'new' } "
        "local d = difference.items(a, b) return #d.gone .. ' ' .. #d.new .. ' ' .. #d.moved", "1 1 1499"),

  /* by key */
  GIVES("of two of one key the first meets the first", "local by = difference.by_key({ { path = 'a', n = 1 }, "
        "{ path = 'a', n = 2 } }, { { path = 'a', n = 3 } }, function(x) return x.path end) "
        "return by.both[1].was.n .. by.both[1].is.n .. ' ' .. by.gone[1].n .. ' ' .. #by.new", "13 2 0"),

  /* jobs */
  GIVES("two of one", "return difference.of(job(), job()).same", "true"),
  GIVES("what lies in a record that is new is told with it", "local d = difference.of(job(), job { records = { { "
        "path = "
        "'rack.east', title = 'rack east' } }, declared = { { path = 'rack.east.tilt', value = { text = 'x' } }, { "
        "path "
        "= 'rack.eastern', value = { text = 'y' } } } }) return names(d.records.new) .. ' ' .. #d.declared .. ' ' .. "
        "d.declared[1].path", "rack.east 1 rack.eastern"),
  GIVES("a record that was renamed is gone, and another new", "local d = difference.of(job { records = { { path = "
        "'rack.east', title = '' } } }, job { records = { { path = 'rack.west', title = '' } } }) "
        "return names(d.records.gone) .. ' ' .. names(d.records.new) .. ' ' .. tostring(d.same)",
        "rack.east rack.west false"),
  GIVES("a list among the declared values", "local d = difference.of(job { declared = { { path = 'p', value = { text = "
        "'a, b' }, items = T 'a b' } } }, job { declared = { { path = 'p', value = { text = 'b, a' }, items = T 'b "
        "a' } "
        "} }) return #d.declared .. ' ' .. names(d.declared[1].items.moved)", "1 a"),
  GIVES("a result that cannot be worked out any more", "local d = difference.of(job { results = { { path = 'p', "
        "value = "
        "{ si = 1, text = '1' } } } }, job { results = { { path = 'p', unknown = 'no frost' } } }) "
        "return #d.results .. tostring(d.same)", "1false"),
  GIVES("a rule that breaks, one that is met again, one that stays", "local d = difference.of(job { rules = { "
        "rule('R1', "
        "'a', 'holds'), rule('R2', 'a', 'broken'), rule('R3', 'a', 'broken') } }, job { rules = { rule('R1', 'a', "
        "'broken'), rule('R2', 'a', 'holds'), rule('R3', 'a', 'broken') } }) local l = {} for i, x in "
        "ipairs(d.rules.outcomes) do l[i] = x.is.id .. ' ' .. x.was.outcome .. ' ' .. x.is.outcome end "
        "return table.concat(l, ', ')", "R1 holds broken, R2 broken holds"),
  GIVES("a rule that broke on a subject that is new", "local d = difference.of(job { rules = { rule('R1', 'a', "
        "'holds') "
        "} }, job { rules = { rule('R1', 'a', 'holds'), rule('R1', 'b', 'broken'), rule('R1', 'c', 'holds') } }) "
        "return #d.rules.outcomes .. ' ' .. d.rules.outcomes[1].is.subject .. ' ' .. #d.rules.new", "1 b 0"),
  GIVES("rules that are new and gone", "local d = difference.of(job { rules = { rule('R1', 'a', 'holds') } }, job { "
        "rules = { rule('R2', 'a', 'holds'), rule('R2', 'b', 'holds') } }) "
        "return names(d.rules.gone) .. ' ' .. names(d.rules.new)", "R1 R2"),
  GIVES("less margin at the tightest place; more is no news; the tightest comes first", "local d = difference.of(job { "
        "rules = { rule('R1', 'a', 'holds', 0.5), rule('R1', 'b', 'holds', 0.3), rule('R2', 'a', 'holds', 0.2), "
        "rule('R3', 'a', 'holds', 0.9) } }, job { rules = { rule('R1', 'a', 'holds', 0.25), rule('R1', 'b', 'holds', "
        "0.4), rule('R2', 'a', 'holds', 0.3), rule('R3', 'a', 'holds', 0.1) } }) local l = {} for i, x in "
        "ipairs(d.rules.tighter) do l[i] = x.is.id .. ' ' .. x.was.ratio .. ' ' .. x.is.ratio end "
        "return table.concat(l, ', ')", "R3 0.9 0.1, R1 0.3 0.25"),
  GIVES("the same margin, but for the last bit", "local d = difference.of(job { rules = { rule('R1', 'a', 'holds', "
        "0.3) "
        "} }, job { rules = { rule('R1', 'a', 'holds', 0.3 - 1e-14) } }) return #d.rules.tighter", "0"),
  GIVES("a rule that is broken has no margin left to tell", "local d = difference.of(job { rules = { rule('R1', 'a', "
        "'holds', 0.3) } }, job { rules = { rule('R1', 'a', 'broken', -0.1) } }) return #d.rules.tighter", "0"),
  GIVES("sheets: one alike, one other, one withheld now, one gone, one new, one that was never printed",
        "local function s(name, sha, why) return { name = name, title = name, sha256 = sha, withheld = why } end "
        "local d = difference.of(job { sheets = { s('alike', '1'), s('other', '1'), s('held', '1'), s('gone', '1'), "
        "s('never', nil, 'w') } }, job { sheets = { s('alike', '1'), s('other', '2'), s('held', nil, 'why'), "
        "s('never', '1'), s('new', '3') } }) return names(d.sheets.throw) .. ' | ' .. names(d.sheets.print) .. ' | ' "
        ".. "
        "d.sheets.throw[2].withheld", "other held gone | other never new | why"),
  GIVES("a paper that no longer covers", "local d = difference.of(job { covered = { { subject = 'rails', paper = 'P' "
        "}, "
        "{ subject = 'posts', paper = 'P' } } }, job { covered = { { subject = 'posts', paper = 'P' } } }) "
        "return d.covered.gone[1].subject .. ' ' .. tostring(d.same)", "rails false"),
  GIVES("what a domain keeps counts, too", "return difference.of(job { kept = { x = { n = 1 } } }, job { kept = { x "
        "= { "
        "n = 2 } } }).same", "false"),

  /* plain data that came from elsewhere */
  GIVES("a snapshot of a job fits, and one of another form does not",
        "return tostring(snapshot.fits { form = 2 }) .. tostring(snapshot.fits { form = 1 })", "falsefalse"),
  { "what was taken of a job is a snapshot; without any of its parts it is none", NULL, "rack_type 'r' { rows = 1 }",
    HELP "local whole = snapshot.take(boot.judge(), 0, { script = 'job.sline', set = {} }) "
    "local lost = 0 for _, part in ipairs(snapshot.shape) do local less = {} for k, v in pairs(whole) do less[k] = v "
        "end "
    "less[part[1]] = nil if not snapshot.fits(less) then lost = lost + 1 end end "
    "whole.kept.buying.lines[1] = { vendor = 'V' } local bent = snapshot.fits(whole) whole.kept.buying.lines = {} "
    "return tostring(snapshot.fits(whole)) .. tostring(bent) .. (lost == #snapshot.shape and ' each' or ' ' .. lost)",
    "truefalse each", NULL, 0 },
};

int main(void) {
  struct CMUnitTest tests[sizeof rows / sizeof *rows];
  size_t n = 0;
  JOB_ROWS(tests, n, rows);
  return cmocka_run_group_tests_name("difference", tests, job_setup, job_teardown);
}
