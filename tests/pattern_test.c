/* SPDX-License-Identifier: MIT
 * The pattern matcher against stock Lua's string library, which is the oracle: the same answer to every pattern and
 * subject.  One difference is meant: a malformed pattern is always an error here, in stock Lua only when the match
 * gets as far as the fault, and an unfinished capture only when it is asked for. */
#include "sandbox_run.h"

/* ---- both sides answer the same questions ----------------------------------------------------------------------- */

/* For subject s, pattern p and start i: a text for each function.  E: error; N: no match; M: a match and all of it. */
static const char questions[] =
  "local function text(...) local t = { ... } for k = 1, select('#', ...) do\n"
  "  t[k] = math.type(t[k]) and 'n' .. t[k] or type(t[k]) == 'string' and 's' .. #t[k] .. t[k] or tostring(t[k]) end\n"
  "  return table.concat(t, ',') end\n"
  "local function ask(f, ...) local got = table.pack(pcall(f, ...)) if not got[1] then return 'E' end\n"
  "  if got[2] == nil then return 'N' end return 'M' .. text(table.unpack(got, 2, got.n)) end\n"
  "local function all(s, p, i) local out, n = '', 0\n"
  "  for a, b, c in s:gmatch(p, i) do out = out .. text(a, b, c) .. ';' n = n + 1 end\n"
  "  if n == 0 then return nil end return out end\n"
  "local function change(s, p, r, n) local t, k = s:gsub(p, r, n)\n"
  "  if k == 0 then assert(t == s) return nil end return t, k end\n"
  "local words = { a = 'A', b = false, ab = 7, ['('] = '%1' }\n"
  "local function call(x, y) if y then return y end if x == 'a' then return nil end return '<' .. x .. '>' end\n"
  "return function(s, p, i) return ask(string.find, s, p, i), ask(string.find, s, p, i, true),\n"
  "  ask(string.match, s, p, i), ask(all, s, p, i), ask(change, s, p, '<%0>'), ask(change, s, p, '%1%%', 2),\n"
  "  ask(change, s, p, '%2'), ask(change, s, p, words), ask(change, s, p, call), ask(string.match, s, p) end";
enum { ANSWERS = 10 };

struct sides { lua_State *ours, *stock; int asked, matched, faults; };

static struct sides open_sides(void) {
  struct sides x = { sl_sandbox_new(&(struct sl_limits){ 0, 1000000000000, 0 }), luaL_newstate(), 0, 0, 0 };
  luaL_openlibs(x.stock);
  assert_int_equal(run(x.ours, questions), LUA_OK);
  assert_int_equal(luaL_dostring(x.stock, questions), LUA_OK);
  return x;
}

static void close_sides(struct sides *x) {
  sl_sandbox_close(x->ours);
  lua_close(x->stock);
}

static void push_question(lua_State *L, const char *s, size_t ls, const char *p, size_t lp, int i) {
  lua_pushvalue(L, 1);
  lua_pushlstring(L, s, ls);
  lua_pushlstring(L, p, lp);
  lua_pushinteger(L, i);
}

static void compare(struct sides *x, const char *s, size_t ls, const char *p, size_t lp, int i) {
  push_question(x->ours, s, ls, p, lp, i);
  push_question(x->stock, s, ls, p, lp, i);
  assert_int_equal(sl_sandbox_call(x->ours, 3, ANSWERS, 0), LUA_OK);
  assert_int_equal(lua_pcall(x->stock, 3, ANSWERS, 0), LUA_OK);
  bool faulty = *lua_tostring(x->stock, 1 + ANSWERS) == 'E';       /* stock Lua's word for it */
  for (int k = 2; k < 2 + ANSWERS; k++) {
    size_t lo, lt;
    const char *o = lua_tolstring(x->ours, k, &lo), *t = lua_tolstring(x->stock, k, &lt);
    bool same = lo == lt && memcmp(o, t, lo) == 0, early = *o == 'E' && (*t == 'N' || faulty);
    if (!same && !early) fail_msg("pattern '%.*s', subject '%.*s', start %d, answer %d: %s; stock Lua: %s",
                                  (int)lp, p, (int)ls, s, i, k - 2, o, t);
    x->asked++;
    x->matched += *t == 'M';
    x->faults += *t == 'E';
  }
  lua_settop(x->ours, 1);
  lua_settop(x->stock, 1);
}

/* ---- a table ---------------------------------------------------------------------------------------------------- */

struct text { const char *s; size_t size; };
#define T(s) { s, sizeof s - 1 }

static const struct text patterns[] = {
  T(""), T("a"), T("abc"), T("."), T(".*"), T(".-"), T(".+"), T(".?"), T("a*"), T("a+"), T("a-"), T("a?"), T("a*b"),
  T("a-b"), T("a?b?c?"), T("^"), T("^a"), T("^.-$"), T("$"), T("a$"), T("^$"), T("a^"), T("$a"), T("a$b"), T("^^"),
  T("^*"), T("*"), T("+a"), T("-"), T("?"), T("a**"), T("a+-"), T("a-?"), T("()"), T("(a)"), T("(a*)"),
  T("(a*)(b*)"), T("((a)(b))"), T("(())"), T("()a()"), T("(a)()"), T("(.)(.)"), T("(.-)(%d+)"), T("(a)%1"),
  T("(.)%1"), T("(.*)%1"), T("((.)%2)"), T("(a*)%1b"), T("()%1"), T("(a)%1*"), T("(a)*"), T("(a)?b"), T("%a"),
  T("%A"), T("%a+"), T("%c"), T("%d"), T("%D"), T("%g+"), T("%l"), T("%L+"), T("%p"), T("%s*"), T("%S+"), T("%u"),
  T("%U"), T("%w+"), T("%W"), T("%x+"), T("%X"), T("%z"), T("%Z+"), T("%%"), T("%."), T("%-"), T("%("), T("%)"),
  T("%q"), T("%_"), T("\0"), T("a\0b"), T("[\0-\1]"), T("%\0"), T("[ab]"), T("[ab]+"), T("[^ab]"), T("[^ab]*"),
  T("[a-c]+"), T("[c-a]"), T("[a-]"), T("[-a]"), T("[]]"), T("[]a]+"), T("[^]]+"), T("[^]a]"), T("[]-a]+"),
  T("[%a]"), T("[%a%d]+"), T("[^%s]+"), T("[%]]"), T("[%-a]"), T("[a%-z]"), T("[%a-z]"), T("[a-%d]"), T("[a-%%]"),
  T("[+--]"), T("[--/]"), T("[.]"), T("[*]+"), T("[^^]"), T("[%^a]"), T("[a^]"), T("[(]"), T("[\x80-\xff]+"),
  T("[^\x80-\xff]+"), T("\xc3."), T("%b()"), T("%b(b"), T("%baa"), T("%b\0b"), T("x%b()y"), T("%b()*"), T("(%b())"),
  T("%f[%a]%a+"), T("%f[%A]"), T("%f[^%a]"), T("%f[\0]"), T("%f[%z]"), T("^%f[a]"), T("%f[a]()"),
  T("%f[%w]%w+%f[%W]"), T("(%a+)%s+(%d+)"), T("^%s*(.-)%s*$"), T("(%w+)=(%w+)"), T("%d+%.?%d*"), T("[%w_]+"),
  T("a.-b.-c"), T("(a.-)(b.-)c"), T(".*b"), T(".-b.*b"), T("a]"), T("]"), T("{}"), T("%{"), T("a-$"), T("a-%d"),
  T("(.+)b(.+)"), T(".*(.)"),
  /* with a fault */
  T("%"), T("a%"), T("["), T("[a"), T("[]"), T("[^]"), T("[^"), T("[%"), T("[%]"), T("[a-"), T("[a-%"), T("("),
  T(")"), T("(a"), T("a)"), T("(a))"), T("((a)"), T("%1"), T("(%1)"), T("(a)%2"), T("%0"), T("%b"), T("%bx"),
  T("%f"), T("%fa"), T("%f[a"), T("()("),
};
static const struct text subjects[] = {
  T(""), T("a"), T("b"), T("ab"), T("aab"), T("aaa"), T("abc"), T("abcabc"), T("aabbcc"), T("ba"), T("abab"),
  T(" a b "), T("hello world"), T("  trim me  "), T("x = 12, yy=345"), T("key=value"), T("THE (quick) fox"),
  T("((a)(b))c)"), T("x(a(b)c)y"), T("a^b$c*"), T("[a]-%"), T("a]b"), T("-+*/."), T("\0"), T("a\0b\0"), T("\0\0a"),
  T("\1\2"), T("\xc3\xa4\xc3\xb6x"), T("\xff\x80"), T("3.14159"), T("1e5"), T("a1b2c3"), T("_under_score9"),
  T("line\none\ttab"), T("aXbYc"), T("aaab"), T("%d"), T("(("), T("))"), T("{}"),
};
#define TEXTS(a) (sizeof(a) / sizeof *(a))

static void table_agrees(void **state) {
  (void)state;
  static const int starts[] = { 1, 2, 3, 9, -1, -2, -100, 0, 100 };
  struct sides x = open_sides();
  for (size_t p = 0; p < TEXTS(patterns); p++)
    for (size_t s = 0; s < TEXTS(subjects); s++)
      for (size_t i = 0; i < (p % 8 == 0 ? TEXTS(starts) : 2); i++)
        compare(&x, subjects[s].s, subjects[s].size, patterns[p].s, patterns[p].size, starts[i]);
  assert_true(x.matched > x.asked / 5 && x.faults > 1000);
  close_sides(&x);
}

/* ---- random patterns -------------------------------------------------------------------------------------------- */

static uint32_t number = 20240607;
static uint32_t draw(uint32_t n) {          /* a fixed sequence */
  number = number * 1664525 + 1013904223;
  return (number >> 8) % n;
}

static size_t compose(char *to, const struct text *parts, uint32_t count, uint32_t n) {
  size_t size = 0;
  while (n--) {
    const struct text *t = &parts[draw(count)];
    memcpy(to + size, t->s, t->size);
    size += t->size;
  }
  return size;
}

static void random_agrees(void **state) {
  (void)state;
  static const struct text parts[] = {
    T("a"), T("b"), T("a"), T("b"), T("."), T("%a"), T("%d"), T("%W"), T("[ab]"), T("[^a]"), T("[a-c1]"), T("[]x-]"),
    T("("), T(")"), T("("), T(")"), T("()"), T("%1"), T("%2"), T("*"), T("+"), T("-"), T("?"), T("*"), T("-"), T("?"),
    T("^"), T("$"), T("%b()"), T("%bab"), T("%f[a]"), T("%f[^b]"), T("%"), T("["), T("]"), T("\0"), T("1"), T(" "),
    T("(a*)"), T("(.-)"), T("(b?)"),
  };
  static const struct text letters[] = {
    T("a"), T("b"), T("a"), T("b"), T("ab"), T("c"), T("1"), T(" "), T("("), T(")"), T("x"), T("]"), T("-"), T("\0"),
    T("^"), T("$"),
  };
  struct sides x = open_sides();
  for (int round = 0; round < 20000; round++) {
    char p[64], s[64];
    size_t lp = compose(p, parts, TEXTS(parts), 1 + draw(7)), ls = compose(s, letters, TEXTS(letters), draw(12));
    compare(&x, s, ls, p, lp, round % 3 ? 1 : (int)draw(14) - 6);
  }
  assert_true(x.matched > x.asked / 10 && x.faults > 1000);
  close_sides(&x);
}

/* ---- the matcher alone ------------------------------------------------------------------------------------------ */

static void faults_are_told_whole(void **state) {
  (void)state;
  static const struct { const char *pattern, *part; } rows[] = {
    { "x%", "ends with '%'" }, { "x[a", "missing ']'" }, { "x[]", "missing ']'" }, { "x(a", "unfinished capture" },
    { "xa)", "')' without" }, { "x%1", "capture index" }, { "x(%1)", "capture index" }, { "x%b(", "'%b'" },
    { "x%fa", "'%f'" }, { "x%f[a", "missing ']'" },
  };
  for (size_t i = 0; i < TEXTS(rows); i++) {
    lua_State *L = small_state();
    lua_pushfstring(L, "return ('no'):match('%s')", rows[i].pattern);
    char script[80];
    snprintf(script, sizeof script, "%s", lua_tostring(L, -1));
    lua_settop(L, 0);
    assert_int_equal(run(L, script), LUA_ERRRUN);
    if (!strstr(lua_tostring(L, -1), rows[i].part)) fail_msg("%s: %s", rows[i].pattern, lua_tostring(L, -1));
    sl_sandbox_close(L);
  }
}

static long long steps_of(const char *pattern, const char *subject, long long left, bool *found) {
  struct sl_pattern p;
  long long before = left;
  struct sl_matcher m = { .begin = subject, .end = subject + strlen(subject), .left = &left };
  void *nodes = malloc(sl_pattern_room(strlen(pattern)));
  assert_non_null(nodes);
  assert_null(sl_pattern_compile(&p, nodes, pattern, strlen(pattern), true));
  *found = sl_pattern_match(&p, &m, subject) != NULL;
  free(nodes);
  return before - left;
}

/* More to try, more steps; broken off as soon as they are used up; the same number each time. */
static void steps_are_counted(void **state) {
  (void)state;
  bool found;
  long long few = steps_of("a-a-b", "aaaaaaaaaaaaaaaa", 1000000, &found);
  assert_false(found);
  long long many = steps_of("a-a-a-b", "aaaaaaaaaaaaaaaa", 1000000, &found);
  assert_false(found);
  assert_true(many > 3 * few);
  assert_true(steps_of("a-a-a-b", "aaaaaaaaaaaaaaaa", 1000000, &found) == many);
  long long spent = steps_of("a-a-a-b", "aaaaaaaaaaaaaaaa", 100, &found);
  assert_false(found);
  assert_true(spent > 100 && spent < 200);
  assert_true(steps_of("%b()", "((((((((((((((((", 1000, &found) >= 15);
  assert_true(steps_of("a*", "aaaaaaaaaaaaaaaa", 1000, &found) >= 16);
  assert_true(found);
}

int main(void) {
  static const struct CMUnitTest tests[] = {
    cmocka_unit_test(table_agrees), cmocka_unit_test(random_agrees), cmocka_unit_test(faults_are_told_whole),
    cmocka_unit_test(steps_are_counted),
  };
  return cmocka_run_group_tests_name("pattern", tests, NULL, NULL);
}
