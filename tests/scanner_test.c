/* SPDX-License-Identifier: MIT
 * The scanner: what comes out, what is marked, and what is complained about.  The grammar is checked against Lua
 * itself (scan_laws.h). */
#include <dirent.h>
#include "check.h"
#include "scan/spots.h"
#include "scan_laws.h"

static struct sl_scan scan_text(const char *text) {
  struct sl_scan s;
  assert_true(sl_scan(text, strlen(text), &s));
  return s;
}

static void no_complaint(const struct sl_scan *s) {
  const struct sl_complaint *c = s->bad;
  if (s->nbad) fail_msg("%s %d:%d %s (%s)", c->code, c->span.line, c->span.col, c->text, c->help);
}

/* ---- what comes out ---------------------------------------------------------------------------------------------- */

/* No `out`: it comes out as it went in. */
static const struct out { const char *name, *in, *out; } outs[] = {
  { "hexadecimal numbers have no unit", "x = 0x10 + 0xA.8p1 + 0xe-1 + 0xFF%3", NULL },
  { "0xe-1 is a subtraction", "x = 0xe-1", NULL },
  { "plain numbers stay", "x = 1e3 + 5e-3 + .5 + 5. + 1.5e+3", NULL },
  { "modulo: digits", "x = 5%3", NULL },
  { "modulo: a name", "x = 5%x", NULL },
  { "modulo: a bracket", "x = 5%(x)", NULL },
  { "modulo: blanks around", "x = 5 % 3", NULL },
  { "modulo: a blank before", "x = 5 %3", NULL },
  { "modulo: .5", "x = 5%.5", NULL },
  { "modulo: the dots of a function", "x = 5%...", NULL },
  { "modulo: not", "x = 5%not y", NULL },
  { "modulo: a name that begins like a keyword", "x = 5%android", NULL },
  { "modulo: a bit-wise not", "x = 5%~3", NULL },
  { "modulo of a hexadecimal number", "x = 0x10% 3", NULL },
  { "modulo of a name", "x = n% 3", NULL },
  { "per cent before ..", "x = 5%..'y'", "x = _K[1]..'y'" },
  { "per cent before ==", "x = 5%==y", "x = _K[1]==y" },
  { "per cent before ~=", "x = 5%~=y", "x = _K[1]~=y" },
  { "per cent before <", "x = 5%<y", "x = _K[1]<y" },
  { "per cent before >=", "x = 5% >= y", "x = _K[1] >= y" },
  { "per cent before a keyword, glued", "x = 5%and y", "x = _K[1]and y" },
  { "per cent before then", "if x < 5% then end", "if x < _K[1] then end" },
  { "per cent before , ; ) ] }", "f(5%, {5%; 5%}, t[5%]) x = 5%;", "f(_K[1], {_K[2]; _K[3]}, t[_K[4]]) x = _K[5];" },
  { "per cent before + * / ^", "x = 5%+5%*5%/5%^2", "x = _K[1]+_K[2]*_K[3]/_K[4]^2" },
  { "per cent divided by a name", "x = 5%/n", "x = _K[1]/n" },
  { "per cent at the end of a line", "x = 5%\ny = 3", "x = _K[1]\ny = 3" },
  { "per cent before a comment", "x = 5% -- five\ny = 3", "x = _K[1] -- five\ny = 3" },
  { "a name behind '/' is a division", "x = 10ft/n", "x = _K[1]/n" },
  { "a longer name behind '/'", "x = 10ft/s_total + 10ft/m1 + 10ft/day_1",
    "x = _K[1]/s_total + _K[2]/m1 + _K[3]/day_1" },
  { "a second name behind '/'", "x = 4kWh/m2/n", "x = _K[1]/n" },
  { "a third unit behind '/' is no tail", "x = 4kWh/m2/d/n", "x = _K[1]/n" },
  { "a refused unit that is a local: a division", "local k = 3 x = 10ft/k", "local k = 3 x = _K[1]/k" },
  { "concatenation behind a unit", "x = 3ft..y", "x = _K[1]..y" },
  { "5ft-2 is a subtraction", "x = 5ft-2", "x = _K[1]-2" },
  { "a tolerance with blanks is arithmetic", "x = 175ft + -3ft", "x = _K[1] + -_K[2]" },
  { "+- and a name is arithmetic", "x = 175ft+-y", "x = _K[1]+-y" },
  { "+- and blanks and a name is arithmetic", "x = 175ft +- y", "x = _K[1] +- y" },
  { "+ and - apart are arithmetic", "x = 175ft + -3ft", "x = _K[1] + -_K[2]" },
  { "+- between plain numbers is arithmetic", "x = 5+-3", NULL },
  { "a minus before other units stays", "x = -5ft - -3psf", "x = -_K[1] - -_K[2]" },
  { "a minus between temperatures stays", "x = a -10degC", "x = a -_K[1]" },
  { "return and a folded minus", "return-10degC", "return _K[1]" },
  { "return and a price", "return$5", "return _K[1]" },
  { "two fractions on one line", "x = 1 - 2-3/8in + 3/8in", "x = 1 - _K[1] + _K[2]" },
  { "a fraction of another unit is a division", "x = 3/8ft", "x = 3/_K[1]" },
  { "a denominator that no tape has", "x = 3/5in", "x = 3/_K[1]" },
  { "a bracket on a later line begins a statement", "x = 5ft\n(g or h)()", "x = _K[1]\n;(g or h)()" },
  { "also behind a comment", "x = 5ft -- c\n\n  (g)()", "x = _K[1] -- c\n\n  ;(g)()" },
  { "not behind a plain number", "x = 5\n(g)()", NULL },
  { "a wire size has fields", "x = 10AWG.area", "x = _K[1].area" },
  { "literals in a string stay", "x = 'y 5ft' .. \"5%\" .. [[8ft]]", NULL },
  { "literals in comments stay", "-- 5ft \"\n--[[ 24\" ]] x = 1 --[==[ 5ft ]] ]==]", NULL },
  { "a string over lines by \\z", "x = 'a\\z\n  b\\\nc' y = 1ft", "x = 'a\\z\n  b\\\nc' y = _K[1]" },
  { "a first line with #", "#!/usr/bin/env stringline\nx = 5ft", "\nx = _K[1]" },
  { "a byte order mark", "\xEF\xBB\xBFx = 5ft", "x = _K[1]" },
  { "Latin-1 in strings and comments", "x = '\xE9' -- \xFC\ny = 5ft", "x = '\xE9' -- \xFC\ny = _K[1]" },
  { "smart quotes in strings and comments", "x = '“q”' -- don’t\ny = 5ft",
    "x = '“q”' -- don’t\ny = _K[1]" },
  { "line ends of every kind", "x = 1ft\r\ny = 2ft\rz = 3ft\n\rw = 4ft",
    "x = _K[1]\r\ny = _K[2]\rz = _K[3]\n\rw = _K[4]" },
  { "attributes and labels", "local x <const> = 5ft goto l ::l:: do end",
    "local x <const> = _K[1] goto l ::l:: do end" },
  { "literals in a list that is assigned", "a, b = 5ft, 6ft c = 1", "a, b = _K[1], _K[2] c = 1" },
  { "the statement behind a literal", "x = 5ft y, z = 1, 2", "x = _K[1] y, z = 1, 2" },
  { "calls with strings and tables", "f 'a' 'b' {c} (d) x = {f 'a' 'b', g{1}{2}, h[1]}", NULL },
  { "functions in tables", "x = { f = function(a) local b = 1 c = 2 end, 3 }", NULL },
  { "nothing at all", "", NULL },
  { "blank: a unit behind a blank", "local h = 2 ft", "local h = _K[1]" },
  { "blank: and the next statement", "h = 2 ft w = 3 in", "h = _K[1] w = _K[2]" },
  { "blank: in a call", "print(max(2 ft, 3 ft))", "print(max(_K[1], _K[2]))" },
  { "blank: in a table, before a comma", "x = { a = 2 ft, b = 3 }", "x = { a = _K[1], b = 3 }" },
  { "blank: in a condition", "if h == 2 ft then end", "if h == _K[1] then end" },
  { "blank: two values given at once", "local a, b = 2 ft, 3 ft", "local a, b = _K[1], _K[2]" },
  { "blank: feet and inches", "h = 6ft 8.5in", "h = _K[1]" },
  { "blank: as printed", "h = 6 ft 8-1/2 in", "h = _K[1]" },
  { "blank: as printed, below zero", "h = -1/2 in", "h = -_K[1]" },
  { "blank: a fraction behind a blank", "h = 72 1/2in", "h = _K[1]" },
  { "blank: feet and inches in a list are one length", "x = { 6 ft 8 in, 7 ft }", "x = { _K[1], _K[2] }" },
  { "blank: a tolerance", "h = 175 ft +- 3 ft", "h = _K[1]" },
  { "blank: a tolerance with its sign", "h = 175ft ± 3ft", "h = _K[1]" },
  { "blank: per cent before a comma", "f(2.041 %, 3 %)", "f(_K[1], _K[2])" },
  { "blank: per cent at the end", "x = 2 %", "x = _K[1]" },
  { "blank: a change per degree", "x = -0.25 %/K", "x = -_K[1]" },
  { "blank: a temperature below zero", "x = -0.1701 degC", "x =  _K[1]" },
  { "blank: a degree sign", "x = -16 °C + 30 K", "x =  _K[1] + _K[2]" },
  { "blank: a moment", "x = 3500 lbf*ft", "x = _K[1]" },
  { "blank: a product with a name", "x = 3 kN*n", "x = _K[1]*n" },
  { "blank: sizes of wire", "x = { 6 AWG, 4/0 AWG, 4/0AWG, 250 kcmil }", "x = { _K[1], _K[2], _K[3], _K[4] }" },
  { "blank: a subtraction of inches", "x = 6 ft - 8 in", "x = _K[1] - _K[2]" },
  { "Lua: a name is given a value", "x = 6 ft = 3", NULL },
  { "Lua: on the next line", "x = 6 ft\n = 3", NULL },
  { "Lua: behind a comment", "x = 6 ft -- c\n --[[ d\n]] = 3", NULL },
  { "Lua: two names are given values", "x = 6 ft, in_ = 3, 4", NULL },
  { "Lua: a name is called", "x = 6 ft(3)", NULL },
  { "Lua: also by the line below", "x = 6 ft\n(g or h)()", NULL },
  { "Lua: with a text, with a table", "x = 6 ft 's' y = 6 ft { 1 } z = 6 ft [[s]]", NULL },
  { "Lua: a field is given a value", "x = 6 ft.x = 3 y = 6 ft[1] = 3 z = 6 ft:f()", NULL },
  { "Lua: in a function in a call", "f(function() x = 6 ft = 3 end)", NULL },
  { "Lua: in a loop in a function in a table", "x = { function() for i = 1, 2 do y = 6 ft = 3 end end }", NULL },
  { "Lua: a number and a name that is longer", "x = 6 ft_long = 3", NULL },
  { "Lua: modulo of the next line", "x = 5 %\ny", NULL },
  { "Lua: modulo of a sum", "x = 5 % -3 + 5 %(2)", NULL },
};

static void comes_out(void **state) {
  const struct out *r = *state;
  struct sl_scan s = scan_text(r->in);
  const char *out = r->out ? r->out : r->in;
  no_complaint(&s);
  assert_string_equal(s.text, out);
  assert_int_equal(s.len, strlen(out));
  assert_int_equal(s.nk > 0, strstr(out, "_K[") != NULL);
  sl_scan_free(&s);
}

/* ---- complaints -------------------------------------------------------------------------------------------------- */

/* Exactly one complaint, with this code, at `mark` of the text (its first occurrence), and these words. */
static const struct wrong { const char *name, *in, *code, *mark, *text, *help; } wrongs[] = {
  { "an unknown unit", "x = 5fts", "Q102", "fts", "unknown unit 'fts'", "did you mean 'ft'?" },
  { "feet", "x = 12feet", "Q102", "feet", "unknown unit", "did you mean 'ft'?" },
  { "a unit in the wrong case", "x = 30KWH", "Q102", "KWH", "unknown unit", "did you mean 'kWh'?" },
  { "µm", "x = 85µm", "Q102", "µm", "unknown unit 'µm'", "stringline units" },
  { "an unknown unit in brackets", "x = 5[kN*foo]", "Q102", "foo", "unknown unit 'foo'", "" },
  { "an empty bracket", "x = 5[]", "Q102", "]", "a unit is missing", "" },
  { "a bracket that stays open", "x = 5[kN", "Q101", "5[", "no ']'", "5[kN*m]" },
  { "two currencies", "x = $5/USD/EUR", "Q102", "EUR", "two currencies", "" },
  { "hp", "x = 1/2hp", "Q103", "hp", "'hp' is not taken", "tag's amps" },
  { "yr in a tail", "x = 0.5ft/yr", "Q103", "yr", "'yr' is not taken", "per_year(" },
  { "mW", "x = 5mW", "Q103", "mW", "'mW' is not taken", "MW or kW" },
  { "30C", "x = 30C", "Q103", "C", "'C' is not taken", "degC" },
  { "k in a tail, and no name of the script", "x = 5ft/k", "Q103", "k", "'k' is not taken", "kip" },
  { "12h30", "x = 12h30", "Q101", "12h30", "malformed number '12h30'", "" },
  { "feet without their inches", "x = 5ft7", "Q101", "5ft7", "malformed number", "8ft11in" },
  { "decimal feet and inches", "x = 8.5ft6in", "Q101", "8.5ft6in", "malformed number", "8ft11in" },
  { "1..2", "x = 1..2", "Q101", "1..2", "malformed number", "1 .. 2" },
  { "5e", "x = 5e", "Q101", "5e", "malformed number", "exponent needs digits" },
  { "0x5m", "x = 0x5m", "Q101", "0x5m", "malformed number", "hexadecimal" },
  { "3.4.5", "x = 3.4.5", "Q101", "3.4.5", "malformed number", "" },
  { "1_000", "x = 1_000", "Q101", "1_000", "malformed number", "not grouped" },
  { "5ft_long", "x = 5ft_long", "Q101", "5ft_long", "malformed number", "" },
  { "5ft.5", "x = 5ft.5", "Q101", "5ft.5", "malformed number", "" },
  { "450$", "x = 450$", "Q101", "450$", "the other way round", "$450" },
  { "$ and no number", "x = $ 5", "Q101", "$", "needs a number", "$450" },
  { "$5each", "x = $5each", "Q101", "$5each", "malformed price", "$1.35/ft" },
  { "$1,500", "x = {$1,500}", "Q101", "$1,500", "malformed price", "$1500" },
  { "a local named like a tail", "local s = 5s x = 20ft/s", "Q104", NULL, "'s' is a unit here", "20ft / s" },
  { "a tail that is a parameter", "function f(d) return 3kWh/d end", "Q104", "d end", "'d' is a unit here",
    "3[kWh/d]" },
  { "a tail that is a loop variable", "for m = 1, 2 do x = 3N/m end", "Q104", "m end", "'m' is a unit", "3N / m" },
  { "a tail that is a loop variable of in", "for _, h in t do x = 3km/h end", "Q104", "h end", "'h' is a unit",
    "3[km/h]" },
  { "a tail declared later", "x = 3km/h\nlocal a, h <const> = 1, 2", "Q104", "h\n", "line 2", "3km / h" },
  { "a tail that is a local function", "local function d() end x = 3kWh/d", "Q104", NULL, "'d' is a unit", "" },
  { "a tail that is a global", "d = 3 x = 3kWh/d", "Q104", NULL, "'d' is a unit", "" },
  { "a tail with a power that is a name", "local m2 = 3 x = 3W/m2", "Q104", NULL, "'m2' is a unit", "3[W/m2]" },
  { "the tail of a per cent", "local K = 3 x = 3%/K", "Q104", NULL, "'K' is a unit", "3% / K" },
  { "the tail of a price", "local ft = 3 x = $3/ft", "Q104", NULL, "'ft' is a unit", "blanks around '/'" },
  { "5% - 3", "x = 5% - 3", "Q105", "5%", "per cent, or the rest", "(5%) - x" },
  { "5%-3", "x = 5%-3", "Q105", "5%", "per cent, or the rest", "5 % -x" },
  { "5% 3", "x = 5% 3", "Q105", "5%", "per cent, or the rest", "5 % x" },
  { "5% x", "y = 5% x", "Q105", "5%", "per cent, or the rest", "5 % x" },
  { "5% (x)", "y = 5% (x)", "Q105", "5%", "per cent, or the rest", "5 % x" },
  { "x*3/8in", "y = x*3/8in", "Q106", "3/8in", "two ways", "(3/8in)" },
  { "x/2-3/8in", "y = x/2-3/8in", "Q106", "2-3/8in", "two ways", "blanks around '-'" },
  { "x^2-3/8in", "y = x^2-3/8in", "Q106", "2-3/8in", "two ways", "(2-3/8in)" },
  { "x//3/8in", "y = x//3/8in", "Q106", "3/8in", "two ways", "(3/8in)" },
  { "x%3/8in", "y = x %3/8in", "Q106", "3/8in", "two ways", "(3/8in)" },
  { "x*-2-3/8in", "y = x*-2-3/8in", "Q106", "2-3/8in", "two ways", "(2-3/8in)" },
  { "3/8in2", "y = 3/8in2", "Q106", "3/8in2", "cannot have a power", "in2" },
  { "2-3/8in^2", "y = 2-3/8in^2", "Q106", "2-3/8in^2", "cannot have a power", "in2" },
  { "5/0AWG", "x = 5/0AWG", "Q107", "5/0AWG", "no such wire size", "1/0AWG to 4/0AWG" },
  { "x/4/0AWG", "y = x/4/0AWG", "Q106", "4/0AWG", "two ways", "(4/0AWG)" },
  { "60AWG", "x = 60AWG", "Q107", "60AWG", "no such wire size", "40AWG" },
  { "10.5AWG", "x = 10.5AWG", "Q107", "10.5AWG", "no such wire size", "" },
  { "5ft \"s\"", "x = 5ft \"s\"", "Q108", "\"s\"", "cannot call the value '5ft'", "operator" },
  { "5ft\"s\"", "x = 5ft\"s\"", "Q108", "\"s\"", "cannot call the value '5ft'", "operator" },
  { "5ft {}", "x = 5ft {}", "Q108", "{", "cannot call", "operator" },
  { "5ft(3)", "x = 5ft(3)", "Q108", "(", "cannot call", "operator" },
  { "5ft and a string on the next line", "x = 5ft\n's'", "Q108", "'s'", "cannot call", "" },
  { "5ft and a table on the next line", "x = 5ft\n{}", "Q108", "{", "cannot call", "" },
  { "5ft [1]", "x = 5ft [1]", "Q108", "[", "cannot index", "(...)" },
  { "5ft.x", "x = 5ft.x", "Q108", ".", "cannot index", "(...)" },
  { "5ft:x()", "x = 5ft:x()", "Q108", ":", "cannot index", "(...)" },
  { "5ft as a statement", "x = 1 5ft", "Q108", "5ft", "cannot stand here", "" },
  { "5ft first of all", "5ft.x = 3", "Q108", NULL, "", "" },
  { "5ft behind then", "if x then 5ft() end", "Q108", NULL, "", "" },
  { "two values and no operator", "x = 5ft 6ft", "Q108", "6ft", "cannot stand here", "operator" },
  { "local 5ft", "local 5ft", "Q108", "5ft", "cannot stand here", "" },
  { "a, 5ft = 1, 2", "a, 5ft = 1, 2", "Q108", "5ft", "another value", "==" },
  { "t[1].x, 5ft, b = 1", "t[1].x, 5ft, b = 1", "Q108", "5ft", "another value", "==" },
  { "{ 5ft = 3 }", "x = { 5ft = 3 }", "Q108", "5ft", "another value", "" },
  { "a tolerance without a unit", "x = 175ft+-3", "Q109", "+-3", "no unit", "175ft+-3ft" },
  { "a tolerance of another kind", "x = 175ft+-3lb", "Q109", "+-3lb", "another kind", "175ft+-6in" },
  { "a tolerance in another currency", "x = $5+-€1", "Q109", "+-€1", "another kind", "" },
  { "the tolerance of a wire size", "x = 10AWG+-1AWG", "Q109", "+-1AWG", "another kind", "" },
  { "a tolerance in an unknown unit", "x = 5ft+-3fot", "Q102", "fot", "unknown unit", "did you mean 'ft'?" },
  { "+- with a blank behind", "x = 175ft+- 3ft", "Q109", "+- 3ft", "or a subtraction?", "175ft - 3ft" },
  { "+- with a blank before, and a price", "x = $5 +-$1", "Q109", "+-$1", "or a subtraction?", "175ft+-3ft" },
  { "± behind a name", "x = y ± 3ft", "Q130", "±", "plus-minus", "175ft±3ft" },
  { "+- with blanks, without a unit", "x = 175ft +- 3", "Q109", "+- 3", "no unit", "175ft+-3ft" },
  { "± and a name", "x = 175ft±y", "Q109", "±", "between two literals", "175ft±3ft" },
  { "a number beyond all measure", "x = 1e999ft", "Q110", "ft", "too large", "" },
  { "below absolute zero", "x = -300degC", "Q110", "300degC", "absolute zero", "" },
  { "12ft-6in: both ways", "x = 12ft-6in", "Q111", "12ft-6in", "subtraction?", "12ft6in" },
  { "8ft-11-3/8in", "x = 8ft-11-3/8in", "Q111", "8ft-11-3/8in", "subtraction?", "12ft - 6in" },
  { "5ft14in", "x = 5ft14in", "Q111", "5ft14in", "12 inches or more", "one more foot" },
  { "5ft12in is 6ft", "x = 5ft12in", "Q111", "5ft12in", "12 inches or more", "one more foot" },
  { "2-9/8in", "x = 2-9/8in", "Q111", "2-9/8in", "no part of an inch", "2-3/8in" },
  { "1,5ft", "x = 1,5ft", "Q112", "1,5ft", "a comma inside", "write 1.5ft, or 1, 5ft" },
  { "{1,5ft}", "x = {1,5ft}", "Q112", "1,5ft", "a comma inside", "1.5ft" },
  { "1,080ft", "x = {1,080ft}", "Q112", "1,080ft", "a comma inside", "write 1080ft" },
  { "10,5%", "x = {10,5%}", "Q112", "10,5%", "a comma inside", "10.5%" },
  { "24\"", "x = {w = 24\", h = 3}", "Q113", "24\"", "mark of inches", "write 24in" },
  { "24'", "x = 24'", "Q113", "24'", "mark of feet", "write 24ft" },
  { "12' 6-1/2\"", "x = 12' 6-1/2\"", "Q113", "12' 6-1/2\"", "mark of feet", "write 12ft6-1/2in" },
  { "6 1/2\": the fraction", "x = 6 - 1/2\"", "Q113", "2\"", "mark of inches", "2in" },
  { "24”", "x = 24”", "Q113", "24”", "mark of inches", "write 24in" },
  { "24′", "x = 24′", "Q113", "24′", "mark of feet", "write 24ft" },
  { "a key twice", "x = { a = 1, b = 2, a = 3 }", "Q120", NULL, "'a' is written twice", "line 1" },
  { "a key twice, once in brackets", "x = { a = 1,\n[\"a\"] = 3 }", "Q120", NULL, "'a' is written twice", "line 1" },
  { "a missing comma", "job { a = 1ft b = 2ft }", "Q121", "b =", "before 'b'", "comma" },
  { "a missing comma at a line end", "job { a = 1ft\n b = 2ft }", "Q121", "b =", "before 'b'", "opened on line 1" },
  { "a missing comma behind a table", "job { a = { 1 } b = 2 }", "Q121", "b =", "before 'b'", "comma" },
  { "a missing comma behind a string", "job { a = 'x' b = 2 }", "Q121", "b =", "before 'b'", "comma" },
  { "a missing comma behind a function", "job { a = function() end b = 2 }", "Q121", "b =", "before 'b'", "comma" },
  { "a missing comma behind a call", "job { a = f(1) b = 2 }", "Q121", "b =", "before 'b'", "comma" },
  { "a missing comma before a table", "job { { 1 }\n{ 2 } }", "Q121", "{ 2", "before '{'", "comma" },
  { "values parted by a tab", "x = {4.62\t4.78}", "Q122", "4.78", "only a tab", "spreadsheet" },
  { "feet and inches parted by a tab", "x = {4ft\t5in}", "Q122", "5in", "only a tab", "spreadsheet" },
  { "values parted by a blank", "x = {4ft 5ft}", "Q122", "5ft", "only blanks", "4ft, 5ft" },
  { "plain numbers parted by a blank", "x = {5.64 5.75}", "Q122", "5.75", "only blanks", "5.64, 5.75" },
  { "feet and inches parted by two blanks", "x = {6ft  8in}", "Q122", "8in", "only blanks", "6ft, 8in" },
  { "strings parted by a blank", "x = {'F1' 'F2'}", "Q122", "'F2'", "only blanks", "'F1', 'F2'" },
  { "a comma missing before a field named as a unit", "x = { a = 5 ft = 3 }", "Q108", "5 ft", "another value", "" },
  { "a word for a unit behind a blank", "x = { 5 feet, 6 }", "Q102", "feet", "unknown unit 'feet'", "mean 'ft'?" },
  { "a refused unit behind a blank", "x = { a = 5 hp }", "Q103", "hp", "'hp' is not taken", "tag's amps" },
  { "a name behind a number", "x = { a = 5 foo }", "Q121", "foo", "before 'foo'", "comma" },
  { "6ft 14in", "x = 6ft 14in", "Q111", "6ft 14in", "12 inches or more", "two values want a comma" },
  { "6.5 ft 8 in", "x = f(6.5 ft 8 in)", "Q111", "6.5 ft 8 in", "feet with decimals", "8.5ft" },
  { "6ft -8in", "x = 6ft -8in", "Q111", "6ft -8in", "or a subtraction?", "12ft - 6in" },
  { "6 ft -8 in", "x = { 6 ft -8 in }", "Q111", "6 ft -8 in", "or a subtraction?", "12ft - 6in" },
  { "x * 2 3/8 in", "y = x * 2 3/8 in", "Q106", "2 3/8 in", "two ways", "(2 3/8 in)" },
  { "a factor that is a name of the script", "local m = 3 x = 5 kN*m", "Q104", "m", "'m' is a unit here", "" },
  { "an open table", "x = {\n a = { 1,\n b = 2 }", "Q123", "{\n", "not closed by the end", "'}'" },
  { "an open table before a statement", "x = { a = 1\nlocal y = 2", "Q123", "{", "before 'local' on line 2", "'}'" },
  { "an open table in a function", "function f() return { 1, 2\nend x = 1", "Q123", "{", "before 'end' on line 2", "" },
  { "an open table in brackets", "f({ 1, 2) x = 3", "Q123", "{", "before ')'", "" },
  { "a brace too many", "x = { 1 } }\n", "Q124", "}\n", "closes nothing", "" },
  { "an open string", "x = 'abc\ny = 1", "Q125", "'abc", "not closed", "'" },
  { "an open string at the end", "x = \"abc", "Q125", "\"abc", "not closed", "\"" },
  { "an open long string", "x = [==[abc]]", "Q126", "[==[", "long string", "]==]" },
  { "an open long comment", "x = 1 --[[ abc", "Q126", "[[", "long comment", "]]" },
  { "smart quotes", "x = “north”", "Q130", "“north”", "smart quote", "\"" },
  { "single smart quotes", "x = ‘it’", "Q130", "‘it’", "smart quote", "'" },
  { "guillemets", "x = «nord»", "Q130", "«nord»", "quote", "\"" },
  { "an en dash", "x = 5 – 3", "Q130", "–", "en dash", "write -" },
  { "an em dash for a comment", "x = 5 — five, don't", "Q130", "—", "em dash", "--" },
  { "U+2212", "x = −16degC", "Q130", "−", "minus", "write -" },
  { "a non-breaking blank", "x =\xC2\xA0" "5", "Q130", "\xC2\xA0", "non-breaking", "a blank" },
  { "×", "x = 5 × 3", "Q130", "×", "times sign", "*" },
  { "2⅜in", "x = ⅜", "Q130", "⅜", "fraction", "3/8" },
  { "½", "x = ½", "Q130", "½", "fraction", "1/2" },
  { "≤", "x = 3 ≤ 4", "Q130", "≤", "sign", "<=" },
  { "a raised 2", "x = y²", "Q130", "²", "raised 2", "^2" },
  { "a letter with an accent", "x = é", "Q131", "é", "'é' outside", "a-z" },
  { "a Latin-1 byte", "x = \xE9", "Q131", "\xE9", "0xE9 is not UTF-8", "UTF-8" },
  { "_K", "_K = 3", "Q132", "_K", "'_K' is taken", "another name" },
  { "_K as a field", "x = t._K", "Q132", "_K", "'_K' is taken", "another name" },
};

static void complains(void **state) {
  const struct wrong *r = *state;
  struct sl_scan s = scan_text(r->in);
  assert_true(s.nbad >= 1);
  assert_string_equal(s.bad->code, r->code);
  assert_non_null(strstr(s.bad->text, r->text));
  assert_non_null(strstr(s.bad->help, r->help));
  if (r->mark) {
    if (s.nbad != 1) fail_msg("also %s: %s", s.bad[1].code, s.bad[1].text);
    const char *line = r->in;
    for (int i = 1; i < s.bad->span.line; i++) line = strchr(line, '\n') + 1;
    const char *at = line + s.bad->span.col - 1;
    if (strncmp(at, r->mark, strlen(r->mark)) != 0) fail_msg("it points at '%s', not at '%s'", at, r->mark);
    assert_true(at + s.bad->span.len <= r->in + strlen(r->in) || s.bad->span.len == 1);
  }
  sl_scan_free(&s);
}

/* ---- marks ------------------------------------------------------------------------------------------------------- */

/* Kind, text of its span, text of its value, parent: one mark after the other. */
static const struct marked { const char *name, *in, *marks; } markeds[] = {
  { "a head with a table", "job { name = 'x' }", "H job - -1|O { - 0|K name 'x' 1|C } - 1|" },
  { "a head with a text", "rack \"east\" { rows = 2 }", "H rack \"east\" -1|O { - 0|K rows 2 1|C } - 1|" },
  { "a head with an expression", "rack (name) { 1 }", "H rack - -1|O { - 0|I 1 1 1|C } - 1|" },
  { "a head with a text in brackets", "rack ('e') { }", "H rack 'e' -1|O { - 0|C } - 1|" },
  { "a head without its table", "rack \"east\"\nx = 1", "H rack \"east\" -1|" },
  { "a call is no head", "rack(name) x = 1", "" },
  { "a head on two lines", "job\n{\n}", "H job - -1|O { - 0|C } - 1|" },
  { "a table as a value", "x = { 1 }", "O { - -1|I 1 1 0|C } - 0|" },
  { "a table in a field", "x = { a = { 1 }, b = 2 }", "O { - -1|K a { 1 } 0|O { - 1|I 1 1 2|C } - 2|K b 2 0|C } - 0|" },
  { "a head in a field", "x = { rod = ft { 4 } }",
    "O { - -1|K rod ft { 4 } 0|H ft - 1|O { - 2|I 4 4 3|C } - 3|C } - 0|" },
  { "a table in a call in a field", "x = { e = measured({ F1 = 0in }, 'level') }",
    "O { - -1|K e measured({ F1 = 0in }, 'level') 0|O { - 1|K F1 0in 2|C } - 2|C } - 0|" },
  { "a table in a function in a field", "x = { f = function() return { 1 } end }",
    "O { - -1|K f function() return { 1 } end 0|O { - -1|I 1 1 2|C } - 2|C } - 0|" },
  { "keys in brackets", "x = { ['a b'] = 1, [1] = 2, [y] = 3 }", "O { - -1|K a b 1 0|C } - 0|" },
  { "== is no key", "x = { a == 1 }", "O { - -1|I a a == 1 0|C } - 0|" },
  { "semicolons part fields too", "x = { 1; a = 2; }", "O { - -1|I 1 1 0|K a 2 0|C } - 0|" },
  { "a value over two lines: its first", "x = { a = 1 +\n 2, 3 }", "O { - -1|K a 1 + 0|I 3 3 0|C } - 0|" },
  { "fields on, where a comma is missing", "x = { a = 1 b = 2 }", "O { - -1|K a 1 0|K b 2 0|C } - 0|" },
  { "a method with a table", "r:with{ a = 1 }", "H with - -1|O { - 0|K a 1 1|C } - 1|" },
};

static void print_span(char *to, size_t size, const char *in, struct sl_span s) {
  const char *line = in;
  for (int i = 1; i < s.line; i++) line = strchr(line, '\n') + 1;
  size_t n = strlen(to);
  if (s.line) snprintf(to + n, size - n, "%.*s ", s.len, line + s.col - 1);
  else snprintf(to + n, size - n, "- ");
}

/* Of keys and items what lies between their bytes: a value whole, whatever its lines, and no comment behind it. */
static const struct valued { const char *name, *in, *values; } valueds[] = {
  { "values", "x = { a = 5ft, [\"b c\"] = -16degC -- cold\n, 'd', }", "a = 5ft|[\"b c\"] = -16degC|'d'|" },
  { "a value on two lines", "x = { a = f(1,\n  2) --[[ two ]] ; 3 }", "a = f(1,\n  2)|3|" },
  { "a table in a table", "x = { a = { 1, b = 2 } }", "a = { 1, b = 2 }|1|b = 2|" },
};

static void values_are(void **state) {
  const struct valued *r = *state;
  struct sl_scan s = scan_text(r->in);
  char got[400] = "";
  for (size_t i = 0; i < s.nmark; i++) {
    const struct sl_mark *m = &s.mark[i];
    if (m->kind != SL_MARK_KEY && m->kind != SL_MARK_ITEM) continue;
    assert_true(m->at <= m->from && m->from < m->to);
    const size_t n = strlen(got);
    snprintf(got + n, sizeof got - n, "%.*s|", (int)(m->to - m->at), r->in + m->at);
  }
  assert_string_equal(got, r->values);
  sl_scan_free(&s);
}

static void marks_are(void **state) {
  const struct marked *r = *state;
  struct sl_scan s = scan_text(r->in);
  char got[400] = "";
  for (size_t i = 0; i < s.nmark; i++) {
    size_t n = strlen(got);
    snprintf(got + n, sizeof got - n, "%c ", "HOCKI"[s.mark[i].kind]);
    print_span(got, sizeof got, r->in, s.mark[i].span);
    print_span(got, sizeof got, r->in, s.mark[i].value);
    n = strlen(got);
    snprintf(got + n, sizeof got - n, "%d|", s.mark[i].parent);
  }
  assert_string_equal(got, r->marks);
  sl_scan_free(&s);
}

/* ---- laws -------------------------------------------------------------------------------------------------------- */

static void constants_keep_their_order(void **state) {
  (void)state;
  struct sl_scan s = scan_text("a = 1ft\nb = { 2ft,\n  -3degC }");
  no_complaint(&s);
  assert_int_equal(s.nk, 3);
  assert_int_equal(s.k[1].span.line, 2);
  assert_int_equal(s.k[1].span.col, 7);
  assert_int_equal(s.k[2].span.line, 3);
  assert_int_equal(s.k[2].span.col, 3);
  assert_int_equal(s.k[2].span.len, 6);
  assert_string_equal(s.text, "a = _K[1]\nb = { _K[2],\n   _K[3] }");
  sl_scan_free(&s);
}

/* Lua counts \r\n and \n\r as one line end (reference manual, 3.1; llex.c, inclinenumber). */
static void lines_are_counted_as_lua_does(void **state) {
  (void)state;
  struct sl_scan s = scan_text("a = 1ft\r\nb = 2ft\rc = 3ft\n\rd = 4ft\n\ne = 5ft --[[\r\n]] f = 6ft "
                               "g = '\\\r\n' h = 7ft");
  no_complaint(&s);
  static const int lines[] = { 1, 2, 3, 4, 6, 7, 8 };
  assert_int_equal(s.nk, 7);
  for (int i = 0; i < 7; i++) assert_int_equal(s.k[i].span.line, lines[i]);
  assert_int_equal(s.k[1].span.col, 5);
  assert_int_equal(s.k[5].span.col, 8);
  sl_scan_free(&s);
}

static void columns_count_bytes_of_the_file(void **state) {
  (void)state;
  struct sl_scan s = scan_text("\xEF\xBB\xBF" "x = 'é' .. 5ft");
  assert_int_equal(s.k->span.col, 16);
  sl_scan_free(&s);
}

static void twenty_complaints_are_kept(void **state) {
  (void)state;
  char text[400] = "";
  for (int i = 0; i < 30; i++) strcat(text, "x = 5fots\n");
  struct sl_scan s = scan_text(text);
  assert_int_equal(s.nbad, 20);
  for (int i = 0; i < 20; i++) assert_int_equal(s.bad[i].span.line, i + 1);
  sl_scan_free(&s);
}

static void complaints_stand_in_order(void **state) {
  (void)state;
  struct sl_scan s = scan_text("x = { a = 1, a = 2 }\ny = 5fots\nz = 5ft 's'\n}");
  assert_int_equal(s.nbad, 4);
  static const char *const codes[] = { "Q120", "Q102", "Q108", "Q124" };
  for (int i = 0; i < 4; i++) assert_string_equal(s.bad[i].code, codes[i]);
  sl_scan_free(&s);
}

static void zero_bytes(void **state) {
  (void)state;
  struct sl_scan s;
  assert_true(sl_scan("x = 'a\0b' --\0\ny = [[\0]]", 23, &s));      /* Lua takes them there */
  no_complaint(&s);
  assert_int_equal(s.len, 23);
  assert_memory_equal(s.text, "x = 'a\0b' --\0\ny = [[\0]]", 23);
  sl_scan_free(&s);
  assert_true(sl_scan("x = 1 \0 y = 2fots", 17, &s));
  assert_int_equal(s.nbad, 2);                             /* the scan goes on behind it */
  assert_string_equal(s.bad[0].code, "Q131");
  assert_int_equal(s.bad[0].span.col, 7);
  assert_string_equal(s.bad[1].code, "Q102");
  sl_scan_free(&s);
}

/* Beginnings that never end, and what might be read again from each place: a scan that is not linear hangs here. */
static void depth_and_length(void **state) {
  (void)state;
  static const char *const parts[] = { "{", "(", "[", "[=", "5[", "5[a*", "1-1/", "“", "5'", "x=5ft+-3ft ",
  "a=5%--\n", "'" };
  enum { TIMES = 20000 };
  for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
    size_t n = strlen(parts[i]);
    char *text = malloc(n * TIMES);
    assert_non_null(text);
    for (size_t k = 0; k < TIMES; k++) memcpy(text + k * n, parts[i], n);
    struct sl_scan s;
    assert_true(sl_scan(text, n * TIMES, &s));
    assert_true(s.nbad <= 20);
    sl_scan_free(&s);
    free(text);
  }
}

static void ten_thousand_literals(void **state) {
  (void)state;
  enum { TIMES = 10000 };
  char *text = malloc(TIMES * 8 + 16), *p = text;
  assert_non_null(text);
  p += sprintf(p, "x = { ");
  for (int i = 0; i < TIMES; i++) p += sprintf(p, "1ft, ");
  sprintf(p, "}");
  struct sl_scan s = scan_text(text);
  no_complaint(&s);
  assert_int_equal(s.nk, TIMES);
  assert_non_null(strstr(s.text, "_K[10000], }"));
  assert_int_equal(s.nmark, TIMES + 2);
  sl_scan_free(&s);
  free(text);
}

/* What the fuzzer found worth keeping: the laws of scan_laws.h hold. */
static void replay_of_the_fuzz_corpus(void **state) {
  (void)state;
  const char *folder = "tests/fuzz/corpus/scanner";
  DIR *dir = opendir(folder);
  if (!dir) fail_msg("no folder %s: tests run from the top of the project", folder);
  lua_State *L = luaL_newstate();
  size_t files = 0;
  for (struct dirent *e; (e = readdir(dir));) {
    char path[512];
    static char text[1 << 16];
    if (e->d_name[0] == '.') continue;
    snprintf(path, sizeof path, "%s/%s", folder, e->d_name);
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    size_t n = fread(text, 1, sizeof text, file);
    fclose(file);
    scan_laws(L, text, n);
    files++;
  }
  closedir(dir);
  lua_close(L);
  assert_true(files >= 20);
}

#define COUNT(table) (sizeof table / sizeof *table)
#define EACH(table, function) \
  for (size_t i = 0; i < COUNT(table); i++) \
    tests[n++] = (struct CMUnitTest){ table[i].name, function, NULL, NULL, (void *)(uintptr_t)&table[i] }

/* Every text of the tables above under the same laws: Lua judges what was taken without complaint. */
static void laws_hold_for_these_tables(void **state) {
  (void)state;
  lua_State *L = luaL_newstate();
  for (size_t i = 0; i < COUNT(outs); i++) scan_laws(L, outs[i].in, strlen(outs[i].in));
  for (size_t i = 0; i < COUNT(wrongs); i++) scan_laws(L, wrongs[i].in, strlen(wrongs[i].in));
  for (size_t i = 0; i < COUNT(markeds); i++) scan_laws(L, markeds[i].in, strlen(markeds[i].in));
  lua_close(L);
}

/* ---- literals by their place ------------------------------------------------------------------------------------- */

/* The literal of Lua's own that begins where '^' points becomes a constant, behind those of the text. */
static const struct open { const char *name, *in, *at, *out; } opens[] = {
  { "a number", "x = 3 + 2ft",
                "    ^", "x = _K[2] + _K[1]" },
  { "glued to what is before it", "return-3",
                                  "       ^", "return-_K[1]" },
  { "before a statement in brackets", "x = 3 (f)()",
                                      "    ^", "x = _K[1] ; (f)()" },
  { "before a modulo", "x = 5%3",
                       "    ^", "x = _K[1]%3" },
  { "a text", "x = 'a'..'b'",
              "    ^", "x = _K[1]..'b'" },
  { "in brackets", "x = {[==[a]==]}",
                   "     ^", "x = {_K[1]}" },
  { "yes", "x=true y=true",
           "         ^", "x=true y=_K[1]" },
  { "a key", "x = { ['a'] = 1 }",
             "       ^", "x = { [_K[1]] = 1 }" },
  { "behind a first line with #", "#!\nx = 3",
                                  "       ^", "\nx = _K[1]" },
};

static void opens_it(void **state) {
  const struct open *o = *state;
  const size_t at = (size_t)(strchr(o->at, '^') - o->at);
  struct sl_scan s;
  assert_true(sl_scan_open(o->in, strlen(o->in), &at, 1, &s));
  no_complaint(&s);
  assert_string_equal(s.text, o->out);
  sl_scan_free(&s);
}

/* The literal at a line and a column, or the nearest; kind ' ' where the text has none. */
static const struct find { const char *name, *text; int line, col; const char *is; char kind; bool hit; } finds[] = {
  { "an amount by its first column", "x = 12ft + 3ft", 1, 5, "12ft", 'k', true },
  { "by its last", "x = 12ft + 3ft", 1, 8, "12ft", 'k', true },
  { "not by the next", "x = 12ft + 3ft", 1, 9, "12ft", 'k', false },
  { "the nearest on the line", "x = 12ft + 3ft", 1, 11, "3ft", 'k', false },
  { "a minus that belongs to it", "x = -16degC", 1, 5, "16degC", 'k', true },
  { "a number", "for i = 1, 30 do end", 1, 12, "30", 'n', true },
  { "without its minus", "x = -30", 1, 5, "30", 'n', false },
  { "a text", "x = 'oil'", 1, 6, "'oil'", 't', true },
  { "yes or no", "x = false", 1, 9, "false", 'f', true },
  { "no name of a declaration", "rack 'east' { rows = 2 }", 1, 7, "2", 'n', false },
  { "nor one in brackets", "rack [[east]] { rows = 2 }", 1, 7, "2", 'n', false },
  { "nor a second one", "f 'a' 'b' (3)", 1, 8, "3", 'n', false },
  { "a text in a call with brackets", "f('a')", 1, 3, "'a'", 't', true },
  { "nothing in a comment", "-- 3ft\nx = 4", 1, 4, "4", 'n', false },
  { "on another line", "x = 1\n\n\n\ny = 2", 4, 1, "2", 'n', false },
  { "of two as near the first", "x = 1\n\ny = 2", 2, 5, "1", 'n', false },
  { "behind the end", "x = 1", 90, 1, "1", 'n', false },
  { "none", "local x = y", 1, 1, "", ' ', false },
  { "none in nothing", "", 1, 1, "", ' ', false },
};

static void finds_it(void **state) {
  const struct find *f = *state;
  static const char kinds[] = { [SL_SPOT_CONST] = 'k', [SL_SPOT_NUMBER] = 'n', [SL_SPOT_TEXT] = 't',
                                [SL_SPOT_FLAG] = 'f' };
  struct sl_spots spots;
  bool hit;
  assert_true(sl_spots_find(NULL, f->text, strlen(f->text), &spots));
  const struct sl_spot *spot = sl_spots_near(&spots, f->line, f->col, &hit);
  assert_int_equal(spot ? kinds[spot->kind] : ' ', f->kind);
  if (spot) {
    assert_int_equal(spot->len, strlen(f->is));
    assert_memory_equal(f->text + spot->at, f->is, spot->len);
    assert_int_equal(hit, f->hit);
  }
  sl_spots_free(&spots);
}

/* Halving finds what going through all of them finds. */
static void the_nearest_of_all(void **state) {
  static const char text[] = "x = 1 + 22 + 3ft\n\n'a' .. 'bcd', -5degC\n\n\n\n        7\n\n  true,  false\n";
  (void)state;
  struct sl_spots spots;
  bool hit;
  assert_true(sl_spots_find(NULL, text, strlen(text), &spots));
  assert_int_equal(spots.n, 9);
  for (int line = 1; line <= 11; line++)
    for (int col = 1; col <= 22; col++) {
      const struct sl_spot *best = NULL;
      long far = 0;
      for (size_t i = 0; i < spots.n; i++) {
        const struct sl_span *s = &spots.list[i].span;
        const long d = labs((long)line - s->line) * 1000 +
                       (col < s->col ? s->col - col : col >= s->col + s->len ? col - (s->col + s->len) + 1 : 0);
        if (!best || d < far) best = &spots.list[i], far = d;
      }
      assert_ptr_equal(sl_spots_near(&spots, line, col, &hit), best);
      assert_int_equal(hit, far == 0);
    }
  sl_spots_free(&spots);
}

int main(void) {
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(constants_keep_their_order), cmocka_unit_test(lines_are_counted_as_lua_does),
    cmocka_unit_test(columns_count_bytes_of_the_file),
    cmocka_unit_test(twenty_complaints_are_kept), cmocka_unit_test(complaints_stand_in_order),
    cmocka_unit_test(zero_bytes), cmocka_unit_test(the_nearest_of_all),
    cmocka_unit_test(depth_and_length), cmocka_unit_test(ten_thousand_literals),
    cmocka_unit_test(replay_of_the_fuzz_corpus), cmocka_unit_test(laws_hold_for_these_tables),
  };
  static struct CMUnitTest tests[COUNT(outs) + COUNT(wrongs) + COUNT(markeds) +
                                  COUNT(valueds) + COUNT(opens) + COUNT(finds) + COUNT(laws)];
  size_t n = 0;
  EACH(outs, comes_out);
  EACH(wrongs, complains);
  EACH(markeds, marks_are);
  EACH(valueds, values_are);
  EACH(opens, opens_it);
  EACH(finds, finds_it);
  for (size_t i = 0; i < COUNT(laws); i++) tests[n++] = laws[i];
  return cmocka_run_group_tests(tests, NULL, NULL);
}
