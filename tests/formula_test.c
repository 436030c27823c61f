/* SPDX-License-Identifier: MIT
 * The evaluator of formulas: precedence and values by ordinary algebra, quantities, what is refused and where. */
#include "job_run.h"

/* value(text): of a formula whose names are these; place(text): what is wrong with it, and the byte from 1. */
#define READ \
  "local formula = import 'model.formula' " \
  "local at = { a = 6, b = 2, c = 3.0, zero = 0, L = host.literal '3ft', W = host.literal '4ft', " \
  "T = host.literal '30deg' } " \
  "local function value(text) local f, bad = formula.read(text) if not f then error(bad.text, 0) end " \
  "local v = f.run(at) return host.is_quantity(v) and host.format(v) or tostring(v) end " \
  "local function place(text) local f, bad = formula.read(text) " \
  "return f and 'read' or bad.at .. '+' .. bad.len .. ': ' .. bad.text end "
#define IS(text, want)    { text " is " want, NULL, NULL, READ "return value [[" text "]]", want, NULL, 0 }
#define WRONG(text, want) { "'" text "' is refused", NULL, NULL, READ "return place [[" text "]]", want, NULL, 0 }

static const struct job_row values[] = {
  IS("1 + 2 * 3", "7"), IS("(1 + 2) * 3", "9"), IS("7 - 2 - 1", "4"), IS("12 / 3 / 2", "2.0"), IS("2 * 3 - 4", "2"),
  IS("-a + b", "-4"), IS("--a", "6"), IS("2 ^ 3 ^ 2", "512.0"), IS("-b ^ 2", "-4.0"), IS("2 ^ -1", "0.5"),
  IS("a - -b", "8"), IS("1.5e1 + .5", "15.5"), IS("1e-1", "0.1"), IS("2. * a", "12.0"), IS("a*b", "12"), IS(" a ", "6"),
  IS("a > b ? 1 : 2", "1"), IS("a < b ? 1 : 2", "2"), IS("a < b ? 1 : b < c ? 2 : 3", "2"), IS("zero ? 1 : 2", "2"),
  IS("a ? 1 : 2", "1"), IS("a >= 6 && b <= 2 ? 1 : 0", "1"), IS("a > 6 || b < 2 ? 1 : 0", "0"),
        IS("!zero ? 1 : 0", "1"),
  IS("a == 6 ? 1 : 0", "1"), IS("a != 6 ? 1 : 0", "0"), IS("a > 6 || b == 2 && c == 3 ? 1 : 0", "1"),
  IS("sqrt(a + c)", "3.0"), IS("min(a, b)", "2"), IS("max(a, b)", "6"), IS("fmax(fmin(a, b), c)", "3.0"),
  IS("abs(b - a)", "4.0"), IS("floor(7 / 2)", "3"), IS("ceil(7 / 2)", "4"), IS("pow(b, 3)", "8.0"),
        IS("exp(zero)", "1.0"),
  IS("hypot(L, W)", "60 in"), IS("L + W", "7 ft"), IS("L / W", "0.75"), IS("L * b", "6 ft"), IS("W > L ? L : W",
        "3 ft"),
  IS("floor(sin(T) * 1000 + 0.5)", "500"), IS("floor(tan(T) ^ 2 * 3000 + 0.5)", "1000"),
  IS("floor(cos(T) ^ 2 * 100 + 0.5)", "75"),
};

static const struct job_row refused[] = {
  WRONG("", "1+1: the formula ends where a value is wanted"),
  WRONG("a +", "4+1: the formula ends where a value is wanted"),
  WRONG("a b", "3+1: the formula should end here, or an operator follow"),
  WRONG("(a", "3+1: ')' is wanted to close '(', the formula ends"),
  WRONG("a)", "2+1: the formula should end here, or an operator follow"),
  WRONG("a ? b", "6+1: ':' is wanted between the two values behind '?', the formula ends"),
  WRONG("a * / b", "5+1: a number, a name or '(' is wanted, got '/'"),
  WRONG("a $ b", "3+1: the formula should end here, or an operator follow"),
  WRONG("3ft + a", "1+2: a number in a formula has no unit: give the amount a field or a result of its own"),
  WRONG("sqr(a)", "1+3: there is no function 'sqr'; did you mean 'sqrt'?"),
  WRONG("b + min(a)", "5+3: min takes 2 values, got 1"),
  WRONG("sqrt(a, b)", "1+4: sqrt takes 1 values, got 2"),
  WRONG("a \xc3\xa4", "3+1: the formula should end here, or an operator follow"),
  WRONG("\xc3\xa4", "1+1: a number, a name or '(' is wanted, got '\xc3\xa4'"),
  { "a name of none", NULL, NULL, READ "local ok, why = pcall(formula.read('a + nix').run, at) return why.text",
    "there is no nix", NULL, 0 },
  { "floor of a length", NULL, NULL, READ "local ok, why = pcall(formula.read('floor(L)').run, at) return why.text",
    "floor needs a plain number, got 3 ft (length)", NULL, 0 },
  { "two kinds", NULL, NULL, READ "local ok, why = pcall(formula.read('L + b').run, at) return why.code", "Q003",
        NULL, 0 },
  { "too many parentheses", NULL, NULL, READ "return place(('('):rep(200) .. 'a' .. (')'):rep(200))",
    "102+1: more than 100 parentheses in each other", NULL, 0 },
  { "a hundred are not", NULL, NULL, READ "return value(('('):rep(100) .. 'a' .. (')'):rep(100))", "6", NULL, 0 },
  { "so many signs", NULL, NULL, READ "return place(('-'):rep(5000) .. 'a')",
    "102+1: more than 100 parentheses in each other", NULL, 0 },
  { "the names of a formula, each once", NULL, NULL, READ "local t = {} for i, n in ipairs(formula.read('a.b + c "
        "* a.b - "
    "sqrt(d)').names) do t[i] = n.path .. '@' .. n.at end return table.concat(t, ' ')", "a.b@1 c@7 d@22", NULL, 0 },
  { "as Lua, what is plain arithmetic", NULL, NULL, READ "return formula.read('(a.b - 1) * -c').lua .. ' ' .. "
    "tostring(formula.read('max(a, b)').lua)", "((x.a.b - 1) * (-x.c)) nil", NULL, 0 },
};

int main(void) {
  static struct CMUnitTest tests[120];
  size_t n = 0;
  JOB_ROWS(tests, n, values);
  JOB_ROWS(tests, n, refused);
  return cmocka_run_group_tests_name("formulas", tests, NULL, NULL);
}
