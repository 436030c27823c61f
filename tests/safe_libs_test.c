/* SPDX-License-Identifier: MIT
 * Ordinary code in the sandbox: what the Lua 5.4 reference manual promises, or what this project's language says
 * instead (order of pairs, text without addresses).  Where noted, stock Lua beside it is the oracle. */
#include "sandbox_run.h"

static const struct row ordinary[] = {
  GIVES("arithmetic", "return 7 // 2 + 2 ^ 3", "11.0"),
  GIVES("pcall returns values",
    "return table.concat({ select(2, pcall(function(...) return ... end, 1, 2, 3)) }, ',')", "1,2,3"),
  GIVES("pcall returns the error as it is",
    "local e = {} local ok, got = pcall(error, e) return tostring(ok) .. tostring(got == e)", "falsetrue"),
  REFUSES("pcall without a function", "pcall()", "value expected"),
  GIVES("xpcall calls its handler",
    "return select(2, xpcall(function() error('x', 0) end, function(m) return m .. '!' end))", "x!"),
  GIVES("xpcall passes arguments", "return select(2, xpcall(function(a, b) return a + b end, print, 3, 4))", "7"),
  GIVES("xpcall with a handler that fails", "return (xpcall(error, function() error('again') end))", "false"),
  { "pcall after a stack overflow",
    "local function f() return 1 + f() end return (pcall(f))", FINE, "false", (size_t)256 << 20, 100000000 },
  GIVES("pairs: numbers, strings, booleans",
    "local s = '' for k, v in pairs { b = 1, a = 2, [true] = 3, [3] = 4, [-1] = 5, [2.5] = 6,[false] = 7, B "
    "= 8, ab = 9 } do s = s .. tostring(k) .. '=' .. v .. ' ' end return s",
    "-1=5 2.5=6 3=4 B=8 a=2 ab=9 b=1 false=7 true=3 "),
  GIVES("pairs: large and endless numbers",
    "local s = '' for k in pairs { [math.maxinteger] = 1, [2^63] = 1, [math.mininteger] = 1,[-1e300] = 1, "
    "[math.huge] = 1, [9007199254740993] = 1, [0.5] = 1, [-0.5] = 1, [0] = 1 } do s = s .. k .. ' ' end "
    "return s",
    "-1e+300 -9223372036854775808 -0.5 0 0.5 9007199254740993 9223372036854775807 9.2233720368548e+18 inf "),
  GIVES("pairs: bytes order strings, zeros and all",
    "local s = '' for k in pairs { ['a\\0b'] = 1, a = 1, ['\\xff'] = 1, ['a\\0'] = 1, [''] = 1 }do s = s .. "
    "#k end return s", "01231"),
  GIVES("pairs: removing while walking",
    "local t, n = { a = 1, b = 2, c = 3, d = 4 }, 0\nfor k in pairs(t) do t.b = nil t.d = nil n = n + 1 end "
    "return n", "2"),
  GIVES("pairs: adding while walking",
    "local t, n = { a = 1, b = 2 }, 0 for k in pairs(t) do for i = 1, 50 do t[k .. i] = 1 end n = n + 1 end "
    "return n", "2"),
  GIVES("pairs of an empty table", "for _ in pairs {} do error() end return 1", "1"),
  REFUSES("pairs refuses other keys",
    "pairs { [{}] = 1 }", "keys are numbers, strings or booleans: this one has a table"),
  REFUSES("pairs refuses other values", "pairs(1)", "table expected"),
  GIVES("pairs honours __pairs",
    "for k, v in pairs(setmetatable({}, { __pairs = function(t) return function(_, k)if not k then return 1, "
    "2 end end, t, nil end })) do return k + v end", "3"),
  GIVES("pairs walks a library in order",
    "local s = '' for k in pairs(utf8) do s = s .. k .. ' ' end return s",
    "char charpattern codepoint codes len offset "),
  GIVES("pairs: an iterator stays on its table", "local f = pairs { a = 1 } local k = f(string) return k", "a"),
  GIVES("next walks in order",
    "local s, t = '', { c = 1, a = 1, b = 1 } for k in next, t do s = s .. k end return s", "abc"),
  GIVES("next, two walks at a time",
    "local s, t, u = '', { 2, 2 }, { b = 1, a = 1 }\nfor i in next, t do for k in next, u do s = s .. i .. k "
    "end end return s", "1a1b2a2b"),
  GIVES("next: removing while walking",
    "local t, n = {}, 0 for i = 1, 100 do t['k' .. i] = i end\nfor k in next, t do t[k] = nil n = n + 1 end "
    "return n .. tostring(next(t))", "100nil"),
  GIVES("next after a key that is not there", "return (next({ a = 1, c = 2 }, 'b'))", "c"),
  REFUSES("next cannot follow a table", "return next({}, {})", "cannot be a key"),
  GIVES("a long walk by next is cheap",
    "local t, n = {}, 0 for i = 1, 20000 do t['k' .. i] = i end for k in next, t do n = n + 1 end return n", "20000"),
  GIVES("classes",
    "local C = {} C.__index = C function C.new(x) return setmetatable({ x = x }, C) end\n"
    "C.__add = function(a, b) return C.new(a.x + b.x) end C.__tostring = function(c) return 'C' .. c.x end\n"
    "C.__eq = function(a, b) return a.x == b.x end C.__len = function() return 9 end C.__call = function(c, "
    "y) return c.x * y end\nfunction C:twice() return self.x * 2 end local c = C.new(2) + C.new(3)\n"
    "return tostring(c) .. #c .. c(4) .. c:twice() .. tostring(c == C.new(5)) .. tostring(getmetatable(c) == "
    "C)", "C592010truetrue"),
  GIVES("a metatable changed is taken at its next use",
    "local m = {} local t = setmetatable({}, m) m.__index = { x = 7 }\n"
    "setmetatable({}, m) return t.x", "7"),
  GIVES("setmetatable takes one away",
    "local t = setmetatable({}, { __index = { x = 1 } }) setmetatable(t, nil) return tostring(t.x)", "nil"),
  GIVES("inheritance",
    "local A = { f = function() return 'A' end } A.__index = A local B = setmetatable({}, A) B.__index = B\n"
    "return setmetatable({}, B).f()", "A"),
  GIVES("<close>",
    "local s = '' do local x <close> = setmetatable({}, { __close = function() s = s .. 'closed' end }) end "
    "return s", "closed"),
  GIVES("tostring hides addresses",
    "return tostring({}) .. tostring(print) .. tostring(function() end)", "tablefunctionfunction"),
  GIVES("tostring by __name", "return tostring(setmetatable({}, { __name = 'beam' }))", "beam"),
  GIVES("tostring of the rest",
    "return tostring(nil) .. tostring(true) .. tostring(1) .. tostring(2.0) .. tostring('x')", "niltrue12.0x"),
  REFUSES("tostring must give a string",
    "return tostring(setmetatable({}, { __tostring = function() return {} end }))", "must return a string"),
  GIVES("format %s hides addresses",
    "return string.format('%s|%5.2s|%s|%d%%', {}, print, nil, 7)", "table|   fu|nil|7%"),
  GIVES("format %q",
    "return string.format('%q', 'a\\n\"')", "\"a\\\n\\\"\""),
  REFUSES("format, argument missing", "return string.format('%s')", "bad argument #2 to 'format' (no value)"),
  REFUSES("an error names the line", "\nreturn string.format('%d', {})", "job:2: bad argument #2 to 'format'"),
  GIVES("string methods",
    "return ('ab'):rep(3, '-') .. ('AbC'):lower() .. ('abc'):sub(-2) .. ('abc'):byte(2) .. ('abc'):reverse()",
    "ab-ab-ababcbc98cba"),
  GIVES("string arithmetic", "return '10' + 5", "15"),
  GIVES("table.insert and remove",
    "local t = { 1, 2 } table.insert(t, 3) table.insert(t, 1, 0) table.remove(t, 2) local x = "
    "table.remove(t)\nreturn table.concat(t, ',') .. ' ' .. x", "0,2 3"),
  GIVES("table.remove from nothing", "return tostring(table.remove({}))", "nil"),
  REFUSES("table.insert out of bounds", "table.insert({}, 3, 1)", "position out of bounds"),
  REFUSES("table.insert, too many arguments", "table.insert({}, 1, 2, 3)", "wrong number of arguments"),
  GIVES("table.move both ways",
    "local t = table.move({ 1, 2, 3, 4 }, 1, 3, 2) local u = table.move({ 1, 2, 3, 4 }, 2, 4, 1)\n"
    "return table.concat(t) .. table.concat(u) .. table.concat(table.move({ 7, 8 }, 1, 2, 1, {}))", "1123234478"),
  GIVES("table.concat",
    "return table.concat({ 1, 'b', 2.5 }, '-') .. table.concat({}, 'x') .. table.concat({ 1, 2, 3 }, '', 2, "
    "3)", "1-b-2.523"),
  REFUSES("table.concat refuses a table", "return table.concat { 1, {} }", "a table at index 2"),
  GIVES("table.unpack and pack",
    "local t = table.pack(table.unpack({ 1, 2, 3 }, 2)) return t.n .. t[1] .. t[2]", "223"),
  GIVES("table.sort", "local t = { 5, 2, 8, 1, 9, 3 } table.sort(t) return table.concat(t)", "123589"),
  GIVES("table.sort keeps the order of equals",
    "local t = {} for i = 1, 40 do t[i] = { k = i % 3, i = i } end\n"
    "table.sort(t, function(a, b) return a.k < b.k end)\nfor i = 2, 40 do assert(t[i - 1].k < t[i].k or t[i "
    "- 1].i < t[i].i) end return 1", "1"),
  REFUSES("table.sort of mixed kinds", "table.sort { 1, 'x' }", "attempt to compare"),
  GIVES("utf8",
    "return utf8.len('ä€x') .. utf8.codepoint('€') .. utf8.char(228) .. utf8.offset('ä€x', 3)", "38364ä6"),
  GIVES("utf8.codes",
    "local s = '' for p, c in utf8.codes('aä') do s = s .. p .. ':' .. c .. ' ' end return s", "1:97 2:228 "),
  REFUSES("math",
    "return math.type(3) .. math.floor(2.7) .. math.max(1, 5, 3) .. math.tointeger(4.0) .. math.ult(1, -1 ) "
    "== nil", "concatenate"),
  GIVES("math again",
    "return math.type(3) .. math.floor(2.7) .. math.max(1, 5, 3) .. math.tointeger(4.0)", "integer254"),
  REFUSES("math.random, empty interval", "math.random(2, 1)", "interval is empty"),
  GIVES("a global of its own", "x = 5 return x", "5"),
};

/* ---- stock Lua as the oracle ------------------------------------------------------------------------------------- */

/* Known answer: xoshiro256** from the state 1, 2, 3, 4 (reference implementation of its authors, as pinned by many
 * libraries' tests). */
static void random_known_answer(void **state) {
  (void)state;
  static const uint64_t want[] = {
    11520, 0, 1509978240, 1215971899390074240, 1216172134540287360, 607988272756665600, 16172922978634559625U,
    8476171486693032832U, 10595114339597558777U, 2904607092377533576U,
  };
  lua_State *L = small_state();
  for (uint64_t i = 0; i < 4; i++) sl_box(L)->random[i] = i + 1;
  for (size_t i = 0; i < sizeof want / sizeof *want; i++) {
    assert_int_equal(run(L, "return math.random(0)"), LUA_OK);
    assert_true((uint64_t)lua_tointeger(L, -1) == want[i]);
    lua_settop(L, 0);
  }
  sl_sandbox_close(L);
}

static const char draws[] =
  "local s = '' for i = 1, 60 do s = s .. string.format('%.17g %d %d %d ', math.random(), math.random(i),"
  "math.random(-5, i * i), math.random(0)) end return s .. math.random(math.mininteger, math.maxinteger)";

/* Stock Lua 5.4 with math.randomseed(seed) is the oracle. */
static void random_is_plain_luas(void **state) {
  (void)state;
  lua_State *oracle = luaL_newstate();
  luaL_openlibs(oracle);
  for (int seed = 1; seed < 30; seed += 7) {
    lua_State *L = sl_sandbox_new(&(struct sl_limits){ 0, 0, (unsigned long long)seed });
    assert_int_equal(run(L, draws), LUA_OK);
    lua_getglobal(oracle, "math");
    lua_getfield(oracle, -1, "randomseed");
    lua_pushinteger(oracle, seed);
    lua_call(oracle, 1, 0);
    assert_int_equal(luaL_dostring(oracle, draws), LUA_OK);
    assert_string_equal(lua_tostring(L, -1), lua_tostring(oracle, -1));
    lua_settop(oracle, 0);
    sl_sandbox_close(L);
  }
  lua_close(oracle);
}

/* Stock Lua is the oracle for table.sort, move, insert, remove, concat and unpack too, on seeded lists. */
static const char lists[] =
  "local r, out = 12345, {} local function rnd(n) r = (r * 1103515245 + 12345) % 2147483648 return r // 65536 % n end\n"
  "for round = 1, 300 do local t = {} for i = 1, rnd(20) do t[i] = rnd(50) end\n"
  "  local ok, x = pcall(table.insert, t, rnd(24), -1) out[#out + 1] = tostring(ok)\n"
  "  ok, x = pcall(table.remove, t, rnd(24)) out[#out + 1] = tostring(ok) .. (ok and tostring(x) or '')\n"
  "  local u = table.move(t, 1 + rnd(5), rnd(20), 1 + rnd(9)) for i = 1, 30 do out[#out + 1] = tostring(u[i]) end\n"
  "  local v = {} for i = 1, #t do v[i] = t[i] or 0 end table.sort(v) out[#out + 1] = table.concat(v, ',')\n"
  "  table.sort(v, function(a, b) return a > b end) out[#out + 1] = table.concat(v, ',', 1, #v)\n"
  "  out[#out + 1] = select('#', table.unpack(v, 1, rnd(9))) end\n"
  "return table.concat(out, ' ')";

static void lists_are_plain_luas(void **state) {
  (void)state;
  lua_State *oracle = luaL_newstate(), *L = sl_sandbox_new(NULL);
  luaL_openlibs(oracle);
  assert_int_equal(run(L, lists), LUA_OK);
  assert_int_equal(luaL_dostring(oracle, lists), LUA_OK);
  assert_string_equal(lua_tostring(L, -1), lua_tostring(oracle, -1));
  assert_true(strlen(lua_tostring(L, -1)) > 10000);
  lua_close(oracle);
  sl_sandbox_close(L);
}

int main(void) {
  static const struct CMUnitTest alone[] = {
    cmocka_unit_test(random_known_answer), cmocka_unit_test(random_is_plain_luas),
    cmocka_unit_test(lists_are_plain_luas),
  };
  static struct CMUnitTest tests[COUNT(ordinary) + COUNT(alone)];
  size_t n = add_rows(tests, 0, ordinary, COUNT(ordinary));
  memcpy(tests + n, alone, sizeof alone);
  return cmocka_run_group_tests_name("safe_libs", tests, NULL, NULL);
}
