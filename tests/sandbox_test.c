/* SPDX-License-Identifier: MIT
 * The sandbox: what a hostile or mistaken script tries, each stopped with a message.  The attacks are those known
 * against embedded Lua, published (the CVE is named, from memory) or of our own making. */
#include "sandbox_run.h"
#include "box/memory.h"

/* Enough is kept that the rest has little room, and that Lua does not collect by itself each time. */
#define KEEP "local keep, s = ('k'):rep(3900000), ('x'):rep(300000) " \
  "local function litter(i) for j = 1, i % 11 do local t = s .. j end end "

static const struct row attacks[] = {
  ENDLESS("endless loop", "while true do end"),
  STOPS("endless loop says where", "\n\nwhile true do end", "job:3: " OVER_STEPS),
  ENDLESS("endless goto", "::a:: goto a"),
  ENDLESS("endless for", "for i = 1, math.huge do end"),
  REFUSES("loop inside a coroutine", "coroutine.wrap(function() while true do end end)()", "coroutine starts"),
  ENDLESS("pcall around an endless loop", "while true do pcall(function() while true do end end) end"),
  ENDLESS("pcall around pcall", "pcall(pcall, function() while true do end end) return 'went on'"),
  ENDLESS("xpcall whose handler loops", "local function f() while true do end end xpcall(f, f) return 'went on'"),
  ENDLESS("xpcall handler loops after an ordinary error", "xpcall(error, function() while true do end end) return 1"),
  ENDLESS("__close loops after the stop",
    "local function f() while true do end end\nlocal x <close> = setmetatable({}, { __close = f }) f()"),
  { "__close hides the memory limit",
    "local ok = pcall(function() local x <close> = setmetatable({}, { __close =function() error('other') end "
    "}) local t = {} while true do t[#t + 1] = {} end end) return 'went on'", STOPPED, OVER_MEMORY, 0, 100000000 },
  REFUSES("__gc in a metatable", "setmetatable({}, { __gc = function() while true do end end })", "'__gc'"),
  GIVES("__gc added later runs nothing",
    "local m = {} local ran = 0 setmetatable({}, m) m.__gc = function() ran = 1 end\n"
    "for i = 1, 20000 do local t = {} end return ran", "0"),
  REFUSES("__gc added later, metatable used again",
    "local m = {} setmetatable({}, m) m.__gc = print setmetatable({}, m)\n"
    "m.__gc = 1 setmetatable({}, m)", "'__gc'"),
  REFUSES("weak table", "setmetatable({}, { __mode = 'k' })", "'__mode'"),
  GIVES("weak mode added later collects nothing",
    "local m = {} local t = setmetatable({}, m) m.__mode = 'v'\nfor i = 1, 50 do t[i] = {} end for i = 1, "
    "40000 do local u = {} end local n = 0 for i = 1, 50 do n = n + (t[i] and 1 or 0) end return n", "50"),
  REFUSES("__metatable of its own", "setmetatable({}, { __metatable = 1 })", "'__metatable'"),
  GREEDY("string.rep beyond the cap", "return #string.rep('x', 1 << 30)"),
  GREEDY("string.rep beyond the cap in pcall", "pcall(string.rep, 'x', 1 << 30) return 'went on'"),
  GIVES("string.rep of an empty string", "return #string.rep('', 1 << 40)", "0"),
  REFUSES("string.rep overflow", "return string.rep('xx', math.maxinteger)", "too large"),
  REFUSES("string.rep overflow of the gap", "return string.rep('', math.maxinteger, 'xyz')", "too large"),
  ENDLESS("pattern blow-up, 14 x a-", "return string.find(('a'):rep(28), ('a-'):rep(14) .. 'b')"),
  ENDLESS("pattern blow-up, 6 x .-", "return string.find(('a'):rep(400), ('.-'):rep(6) .. 'b')"),
  ENDLESS("pattern blow-up, method call", "return (('a'):rep(400)):match(('.*'):rep(6) .. 'b')"),
  ENDLESS("pattern blow-up, gsub", "return (('a'):rep(400)):gsub(('.-'):rep(6) .. 'b', '')"),
  ENDLESS("pattern blow-up, gmatch", "for x in (('a'):rep(400)):gmatch(('.-'):rep(6) .. 'b') do end"),
  ENDLESS("pattern blow-up, optional items", "return ('a'):rep(30):find(('a?'):rep(30) .. ('a'):rep(31))"),
  ENDLESS("pattern blow-up in pcall", "pcall(string.find, ('a'):rep(400), ('.-'):rep(6) .. 'b') return 1"),
  ENDLESS("balanced brackets, quadratic", "return ('('):rep(100000):find('%b()')"),
  ENDLESS("back reference, quadratic", "local s = ('a'):rep(60000) return (s .. 'b' .. s):find('(.*)c%1')"),
  ENDLESS("plain find, quadratic", "local s = ('a'):rep(400000) return s:find(s:sub(1, 200000) .. 'b', 1, true)"),
  REFUSES("too many repeats", "return ('x'):find(('x?'):rep(300))", "too complex"),
  REFUSES("too many captures", "return ('x'):find(('()'):rep(33))", "too many captures"),
  ENDLESS("endless gmatch", "while true do for _ in ('x'):gmatch('') do end end"),
  ENDLESS("table.concat of many, again and again",
    "local t = {} for i = 1, 1e5 do t[i] = 'x' end for k = 1, 1e5 do table.concat(t) end"),
  { "table.concat of a list without end",
    "return table.concat(setmetatable({}, { __index = tostring }), '', 1, 1 << 40)",
    STOPPED, OVER_STEPS, (size_t)256 << 20, 0 },
  { "table.concat over memory",
    "return #table.concat(setmetatable({}, { __index = tostring }), ('x'):rep(1e4), 1, 1 << 40)",
    STOPPED, OVER_MEMORY, 0, 100000000 },
  ENDLESS("table.move of a huge range", "table.move({}, 1, 1 << 40, 2) return 1"),
  REFUSES("table.move wraps", "table.move({}, 1, 2, math.maxinteger)", "wrap around"),
  REFUSES("table.move of more than an integer", "table.move({}, math.mininteger, math.maxinteger, 1)", "too many"),
  REFUSES("table.unpack of many", "return select('#', table.unpack({}, 1, 1e7))", "too many results"),
  REFUSES("table.unpack overflow (CVE-2025-46817)",
    "return table.unpack({}, math.mininteger, math.maxinteger)", "too many results"),
  REFUSES("table.unpack overflow, upper end", "return table.unpack({}, 0, math.maxinteger)", "too many results"),
  REFUSES("table.unpack overflow, lower end", "return table.unpack({}, math.mininteger, -1)", "too many results"),
  ENDLESS("table.unpack again and again", "local t = {} while true do table.unpack(t, 1, 100000) end"),
  ENDLESS("table.insert into a list that claims to be long",
    "table.insert(setmetatable({}, { __len = function() return 1 << 60 end }), 1, 'x')"),
  GIVES("table.insert at the end of all numbers",
    "table.insert(setmetatable({}, { __len = function() return math.maxinteger end }), 1, 'x') return 1", "1"),
  ENDLESS("table.remove from a list that claims to be long",
    "table.remove(setmetatable({}, { __len = function() return 1 << 60 end }), 1)"),
  REFUSES("table.sort of a list that claims to be long",
    "table.sort(setmetatable({}, { __len = function() return 1 << 60 end }))", "too big"),
  ENDLESS("table.sort of a list that claims to be fairly long",
    "table.sort(setmetatable({}, { __len = function() return 1 << 28 end }))"),
  REFUSES("table.sort, order always true",
    "local t = {} for i = 1, 1e4 do t[i] = i end table.sort(t, function() return true end)",
    "invalid order function"),
  REFUSES("table.sort, order with <=",
    "table.sort({ 3, 1, 3, 2 }, function(a, b) return a <= b end)", "use <, not <="),
  GIVES("table.sort, order that never agrees",
    "local n, t = 0, {} for i = 1, 500 do t[i] = i end\npcall(table.sort, t, function() n = n + 1 return n % "
    "3 == 0 end) table.sort(t)\nfor i = 1, 500 do assert(t[i] == i) end return #t", "500"),
  GIVES("table.sort, order that changes the list",
    "local t = { 3, 2, 1 }\ntable.sort(t, function(a, b) t[1], t[2], t[3], t[4] = nil, nil, nil, {} return a "
    "< b end) return t[1] .. t[2] .. t[3]", "123"),
  ENDLESS("table.sort, order that loops", "table.sort({ 1, 2 }, function() while true do end end)"),
  GIVES("string.format %99.99f", "return #string.format('%99.99f', 1e308)", "409"),
  REFUSES("string.format %p", "return string.format('%p', {})", "%p"),
  REFUSES("string.format %-20p", "return string.format('%s %-20p', 1, {})", "%p"),
  REFUSES("string.format, bad conversion", "return string.format('%y', 1)", "invalid conversion"),
  REFUSES("string.format, ends with %", "return string.format('%', 1)", "invalid conversion"),
  { "deep recursion",
    "local function f() return 1 + f() end return f()", REFUSED, "stack overflow", (size_t)256 << 20, 100000000 },
  { "deep recursion over memory",
    "local function f() return 1 + f() end return f()", STOPPED, OVER_MEMORY, 0, 100000000 },
  ENDLESS("endless tail call", "local function f() return f() end return f()"),
  REFUSES("C recursion via gsub", "local function f(s) return (s:gsub('.', f)) end return f('x')", "stack overflow"),
  GIVES("C recursion via pcall", "local function f() return pcall(f) end return select(2, f()), 'x'", "true"),
  REFUSES("C recursion via sort", "local function f() table.sort({ 1, 2 }, f) end f()", "stack overflow"),
  REFUSES("C recursion via tostring",
    "local t = setmetatable({}, { __tostring = tostring }) return tostring(t)", "stack overflow"),
  REFUSES("C recursion via __index",
    "local t = setmetatable({}, {}) setmetatable(t, { __index = t }) return t.x", "'__index' chain too long"),
  { "memory eater", "local t = {} while true do t[#t + 1] = {} end", STOPPED, OVER_MEMORY, 0, 100000000 },
  { "memory eater in pcall",
    "pcall(function() local t = {} while true do t[#t + 1] = {} end end) return 'went on'",
    STOPPED, OVER_MEMORY, 0, 100000000 },
  { "memory eater in xpcall",
    "xpcall(function() local t = {} while true do t[#t + 1] = {} end end, tostring) return 1",
    STOPPED, OVER_MEMORY, 0, 100000000 },
  GREEDY("buffer over memory, hidden by a handler that takes memory",
    "xpcall(string.rep, function() return ('x'):rep(10) .. {} end, 'x', 1 << 30) return 'went on'"),
  { "format over memory",
    "local s = ('x'):rep(2e6) pcall(string.format, '%s%s%s%s', s, s, s, s) return 'went on'",
    STOPPED, OVER_MEMORY, 0, 100000000 },
  { "gsub over memory",
    "local s = ('x'):rep(1e4) pcall(string.gsub, s, '.', s) return 'went on'", STOPPED, OVER_MEMORY, 0, 100000000 },
  { "upper over memory",
    "local s = ('x'):rep(3e6) pcall(string.upper, s) return 'went on'", STOPPED, OVER_MEMORY, 0, 100000000 },
  { "garbage is no reason to stop: rep",
    KEEP "for i = 1, 200 do litter(i) local t = ('x'):rep(900000) end return 1",
    FINE, "1", 0, 100000000 },
  { "garbage is no reason to stop: upper",
    KEEP "for i = 1, 200 do litter(i) local t = s:upper() end return 1",
    FINE, "1", 0, 100000000 },
  { "garbage is no reason to stop: gsub",
    KEEP "for i = 1, 200 do litter(i) local t = s:gsub('x', 'y', 3) end return 1",
    FINE, "1", 0, 100000000 },
  { "garbage is no reason to stop: concat",
    KEEP "for i = 1, 200 do litter(i) local t = table.concat { s, 'y' } end return 1",
    FINE, "1", 0, 100000000 },
  { "garbage is no reason to stop: format",
    KEEP "for i = 1, 200 do litter(i) local t = ('%s%d'):format(s, i) end return 1",
    FINE, "1", 0, 100000000 },
  GREEDY("string doubling", "local s = 'x' while true do s = s .. s end"),
  ENDLESS("copies by .. count", "local s = ('x'):rep(1e6) while true do local t = s .. 'y' end"),
  REFUSES("metatable of strings", "getmetatable('').__index = function() return 'mine' end", "boolean value"),
  GIVES("metatable of numbers (CVE-2025-46818)", "return getmetatable(1)", "nil"),
  GIVES("metatable of nil and functions (CVE-2025-46818)",
    "return tostring(getmetatable(nil)) .. tostring(getmetatable(print))", "nilnil"),
  REFUSES("setmetatable on a string (CVE-2025-46818)", "setmetatable('', {})", "table expected"),
  REFUSES("setmetatable on a number (CVE-2025-46818)", "setmetatable(1, {})", "table expected"),
  REFUSES("library written to (CVE-2022-24735)", "string.rep = nil", "'string' is read-only"),
  REFUSES("new name in a library (CVE-2022-24736)", "math.tau = 6", "'math' is read-only: it cannot be given 'tau'"),
  REFUSES("library written to by table.insert", "table.insert(string, 'x')", "read-only"),
  REFUSES("library written to by table.move", "table.move({ 1 }, 1, 1, 1, utf8)", "read-only"),
  REFUSES("library written to by table.sort",
    "local t = setmetatable({}, { __index = table, __newindex = table,__len = function() return 2 end }) "
    "t[1] = 1", "read-only"),
  GIVES("metatable of a library", "return getmetatable(string)", "false"),
  REFUSES("metatable of a library replaced", "setmetatable(string, {})", "locked"),
  REFUSES("library reached by pairs", "for k, v in pairs(string) do string[k] = print end", "read-only"),
  REFUSES("library reached by next", "return next(string)", "use pairs"),
  REFUSES("load of bytecode", "return load(string.dump(function() end), 'x', 'b')", "'load' is left out"),
  REFUSES("string.dump", "return string.dump(print)", "'string.dump' is left out"),
  REFUSES("a chunk that is bytecode", "\x1bLua", "binary chunk"),
  ENDLESS("utf8.len of a long text, again and again", "local s = ('x'):rep(1e6) for i = 1, 1e4 do utf8.len(s) end"),
  ENDLESS("utf8.offset of a long text, again and again",
    "local s = ('x'):rep(1e6) for i = 1, 1e4 do utf8.offset(s, 1e6) end"),
  ENDLESS("utf8.codepoint of a long text",
    "local s = ('x'):rep(1e6) for i = 1, 1e4 do pcall(utf8.codepoint, s, 1, -1) end"),
  ENDLESS("pairs again and again", "local t = {} for i = 1, 1e4 do t['k' .. i] = i end while true do pairs(t) end"),
  ENDLESS("next again and again", "local t = {} for i = 1, 1e4 do t['k' .. i] = i end while true do next(t) end"),
  ENDLESS("pairs by a foreign __pairs without end",
    "for k in pairs(setmetatable({}, { __pairs = function()return function() return 1 end end })) do end"),
  ENDLESS("ipairs without end", "for i in ipairs(setmetatable({}, { __index = function() return 1 end })) do end"),
  REFUSES("io", "return io.open('/etc/passwd')", "'io' is left out"),
  REFUSES("os", "return os.execute('true')", "'os' is left out"),
  REFUSES("debug", "return debug.getregistry()", "'debug' is left out"),
  REFUSES("package (CVE-2022-0543)", "return package.loadlib('x', 'y')", "'package' is left out"),
  REFUSES("require", "return require 'os'", "'require' is left out"),
  REFUSES("dofile", "return dofile('/etc/passwd')", "'dofile' is left out"),
  REFUSES("loadfile", "return loadfile('/etc/passwd')", "'loadfile' is left out"),
  REFUSES("collectgarbage (CVE-2025-49844)", "collectgarbage('step')", "'collectgarbage' is left out"),
  REFUSES("rawset", "rawset(string, 'rep', 1)", "'rawset' is left out"),
  REFUSES("rawget", "rawget(string, 'rep')", "'rawget' is left out"),
  REFUSES("warn", "warn('@on')", "'warn' is left out"),
  REFUSES("math.randomseed", "math.randomseed(1)", "'math.randomseed' is left out"),
  REFUSES("string.pack", "return string.pack('z', 'x')", "'string.pack' is left out"),
  REFUSES("a library's misspelt name", "return string.fromat", "'string' has no 'fromat'"),
};

/* ---- the state --------------------------------------------------------------------------------------------------- */

static void over_is_over(void **state) {
  (void)state;
  lua_State *L = small_state();
  assert_int_not_equal(run(L, "while true do end"), LUA_OK);
  lua_settop(L, 0);
  assert_int_not_equal(run(L, "return 1"), LUA_OK);
  assert_string_equal(lua_tostring(L, -1), OVER_STEPS);
  lua_settop(L, 0);
  lua_pushinteger(L, 42);
  lua_pushcfunction(L, quiet);
  for (int i = 0; i < 3; i++) lua_pushinteger(L, i);
  assert_int_equal(sl_sandbox_call(L, 3, 1, 0), LUA_ERRRUN);
  assert_int_equal(lua_gettop(L), 2);
  assert_string_equal(lua_tostring(L, -1), OVER_STEPS);
  assert_null(lua_gethook(L));
  sl_sandbox_close(L);
}

/* Over many calls the steps add up, however short each is. */
static void steps_add_up(void **state) {
  (void)state;
  lua_State *L = small_state();
  int calls = 0;
  assert_int_equal(load_script(L, "for i = 1, 20 do end"), LUA_OK);
  for (; calls < 100000 && !sl_sandbox_abort(L); calls++) {
    lua_pushvalue(L, 1);
    (void)sl_sandbox_call(L, 0, 0, 0);
    lua_settop(L, 1);
  }
  assert_true(calls > 1000 && calls < 100000);
  sl_sandbox_close(L);
}

static const char over_1_mib[] = "asked for more than 1 MiB of memory";

/* What the host makes before a run begins may be as large as it likes, and its steps are never counted. */
static void opening_is_not_limited(void **state) {
  (void)state;
  lua_State *L = sl_sandbox_new(&(struct sl_limits){ (size_t)1 << 20, 1000, 0 });
  assert_int_equal(luaL_dostring(L,
                   "local t = {} for i = 1, 200000 do t[i] = {} end return #t .. #('x'):rep(1 << 21)"), LUA_OK);
  assert_string_equal(lua_tostring(L, -1), "2000002097152");
  assert_null(sl_sandbox_abort(L));
  sl_sandbox_close(L);
}

/* From then on its work counts as that of a script does: small things, large ones, and what is not Lua's. */
static void host_is_limited(void **state) {
  (void)state;
  static const char *const work[] = { "local t = {} for i = 1, 200000 do t[i] = {} end", "return ('x'):rep(1 << 21)" };
  for (size_t i = 0; i < COUNT(work); i++) {
    lua_State *L = sl_sandbox_new(&(struct sl_limits){ (size_t)1 << 20, 0, 0 });
    sl_sandbox_limit(L);
    assert_int_not_equal(luaL_dostring(L, work[i]), LUA_OK);
    assert_string_equal(sl_sandbox_abort(L), over_1_mib);
    sl_sandbox_close(L);
  }
  lua_State *L = sl_sandbox_new(&(struct sl_limits){ (size_t)1 << 20, 0, 0 });
  sl_sandbox_limit(L);
  char *kept = sl_memory_resize(sl_sandbox_box(L), NULL, 0, 700000);
  assert_non_null(kept);
  assert_null(sl_memory_resize(sl_sandbox_box(L), NULL, 0, 700000));
  assert_string_equal(sl_sandbox_abort(L), over_1_mib);
  kept[699999] = 1;                                      /* the first one is still there */
  sl_sandbox_close(L);
}

static int take_much(lua_State *L) {
  sl_sandbox_resize(L, NULL, 0, 700000);
  return 0;
}

/* The same of what raises where there is none. */
static void blocks_of_the_host_count(void **state) {
  (void)state;
  lua_State *L = sl_sandbox_new(&(struct sl_limits){ (size_t)1 << 20, 0, 0 });
  sl_sandbox_limit(L);
  for (int i = 0; i < 2; i++) {
    lua_pushcfunction(L, take_much);
    assert_int_equal(lua_pcall(L, 0, 0, 0), i ? LUA_ERRRUN : LUA_OK);
  }
  assert_string_equal(sl_sandbox_abort(L), over_1_mib);
  sl_sandbox_close(L);
}

/* What is not Lua's makes room by collecting what is garbage. */
static void garbage_makes_room(void **state) {
  (void)state;
  lua_State *L = sl_sandbox_new(&(struct sl_limits){ small_memory, 0, 0 });
  sl_sandbox_limit(L);
  lua_gc(L, LUA_GCSTOP);
  for (int i = 0; i < 20; i++) {
    lua_newuserdatauv(L, 1000000, 0);
    lua_settop(L, 0);
    char *block = sl_sandbox_resize(L, NULL, 0, 5000000);
    block[4999999] = 1;
    sl_sandbox_resize(L, block, 5000000, 0);
  }
  assert_null(sl_sandbox_abort(L));
  sl_sandbox_close(L);
}

/* Where the host holds more than the cap, a script gets nothing new. */
static void host_memory_counts(void **state) {
  (void)state;
  lua_State *L = sl_sandbox_new(&(struct sl_limits){ (size_t)1 << 20, 0, 0 });
  assert_int_equal(luaL_dostring(L, "kept = ('x'):rep(1 << 21)"), LUA_OK);
  assert_int_equal(load_script(L, "return ('x'):rep(100000)"), LUA_OK);
  assert_int_not_equal(sl_sandbox_call(L, 0, 1, 0), LUA_OK);
  assert_non_null(strstr(lua_tostring(L, -1), over_1_mib));
  sl_sandbox_close(L);
}

/* left(): bytes that were not taken yet, or not cut. */
static int left(lua_State *L) {
  const struct sl_pool *pool = &sl_box(L)->pool;
  lua_pushinteger(L, (lua_Integer)sl_pool_room(pool) + (pool->end - pool->at));
  return 1;
}

/* Keeps so much that a collection brings next to nothing, and goes on making garbage. */
static const char nearly_full[] =
  "local keep while left() > 90000 do keep = { keep } end\n"
  "for i = 1, 1e6 do local t = { i } end return 'went on'";

static lua_State *with_left(long long steps) {
  lua_State *L = sl_sandbox_new(&(struct sl_limits){ small_memory, steps, 0 });
  assert_int_equal(load_script(L, nearly_full), LUA_OK);
  lua_getupvalue(L, -1, 1);
  lua_pushcfunction(L, left);
  lua_setfield(L, -2, "left");
  lua_pop(L, 1);
  return L;
}

/* Else a state that nobody counts would collect for each thing it makes, for as long as it likes. */
static void collections_in_vain_end_a_run(void **state) {
  (void)state;
  lua_State *L = with_left(-1);
  assert_int_not_equal(sl_sandbox_call(L, 0, 1, 0), LUA_OK);
  assert_string_equal(sl_sandbox_abort(L), OVER_MEMORY);
  sl_sandbox_close(L);
}

/* A turn of a loop that keeps 3 MiB of tables makes garbage of which a 64th of the limit is soon reached: each time all
 * that is kept is looked through, and these are steps. */
static void collections_are_charged(void **state) {
  (void)state;
  static const char script[] =
    "local keep = {} for i = 1, 40000 do keep[i] = { i } end for i = 1, %d do local t = ('x'):rep(500000) end return 1";
  long long used[2];
  for (int i = 0; i < 2; i++) {
    char text[200];
    struct sl_standing after;
    snprintf(text, sizeof text, script, 20 + 200 * i);
    lua_State *L = sl_sandbox_new(&(struct sl_limits){ small_memory, 1000000000, 0 });
    assert_int_equal(run(L, text), LUA_OK);
    sl_sandbox_stand(L, &after);
    used[i] = 1000000000 - after.left;
    sl_sandbox_close(L);
  }
  const long long bytes = 200 * (500000 / 16) * 2;       /* of the strings, and of the buffers that they are made in */
  assert_in_range(used[1] - used[0], bytes + 40 * (2 << 20 >> 4), bytes + 400 * (8 << 20 >> 4));
}

static void negative_steps_are_not_counted(void **state) {
  (void)state;
  lua_State *L = sl_sandbox_new(&(struct sl_limits){ small_memory, -1, 0 });
  assert_int_equal(run(L, "local n = 0 for i = 1, 3000000 do n = n + 1 end return n"), LUA_OK);
  assert_int_equal(lua_tointeger(L, -1), 3000000);
  assert_int_not_equal(run(L, "return ('x'):rep(1 << 40)"), LUA_OK);
  assert_string_equal(sl_sandbox_abort(L), OVER_MEMORY);
  sl_sandbox_close(L);
}

static void defaults(void **state) {
  (void)state;
  lua_State *L = sl_sandbox_new(NULL);
  assert_int_not_equal(run(L, "return ('x'):rep(1 << 28)"), LUA_OK);
  assert_string_equal(sl_sandbox_abort(L), "asked for more than 512 MiB of memory");
  sl_sandbox_close(L);
  L = sl_sandbox_new(&(struct sl_limits){ (size_t)3 << 19, 12345, 0 });
  assert_int_not_equal(run(L, "while true do end"), LUA_OK);
  assert_string_equal(sl_sandbox_abort(L), "used more than 12345 steps");
  sl_sandbox_close(L);
  L = sl_sandbox_new(&(struct sl_limits){ (size_t)3 << 19, 0, 0 });
  assert_int_not_equal(run(L, "return ('x'):rep(1 << 28)"), LUA_OK);
  assert_string_equal(sl_sandbox_abort(L), "asked for more than 1536 KiB of memory");
  sl_sandbox_close(L);
}

/* Host -> script -> host -> script, the host's Lua swallowing what it can. */
static void calls_nest(void **state) {
  (void)state;
  lua_State *L = small_state();
  assert_int_equal(load_script(L, "return helper(function() error('inner', 0) end)"), LUA_OK);
  lua_getupvalue(L, -1, 1);
  lua_pushcfunction(L, sl_sandbox_pcall);
  lua_setglobal(L, "limited");
  assert_int_equal(luaL_dostring(L,
                   "return function(f) local ok, why = limited(f) return tostring(ok) .. why end"), LUA_OK);
  lua_setfield(L, -2, "helper");
  lua_pop(L, 1);
  assert_int_equal(sl_sandbox_call(L, 0, 1, 0), LUA_OK);
  assert_string_equal(lua_tostring(L, -1), "falseinner");
  assert_null(lua_gethook(L));

  lua_settop(L, 0);
  assert_int_equal(load_script(L, "return helper(function() while true do end end)"), LUA_OK);
  lua_getupvalue(L, -1, 1);
  assert_int_equal(luaL_dostring(L, "return function(f) pcall(pcall, limited, f) return 'swallowed' end"), LUA_OK);
  lua_setfield(L, -2, "helper");
  lua_pop(L, 1);
  assert_int_equal(sl_sandbox_call(L, 0, 1, 0), LUA_ERRRUN);
  assert_non_null(strstr(lua_tostring(L, -1), OVER_STEPS));
  assert_int_equal(lua_gettop(L), 1);
  sl_sandbox_close(L);
}

static void limited_pcall_at_the_top(void **state) {
  (void)state;
  lua_State *L = small_state();
  lua_pushcfunction(L, sl_sandbox_pcall);
  lua_setglobal(L, "limited");
  assert_int_equal(luaL_dostring(L,
                   "return table.concat({ select(2, limited(function(...) return ... end, 1, 2)) }, ',')"), LUA_OK);
  assert_string_equal(lua_tostring(L, -1), "1,2");
  assert_int_not_equal(luaL_dostring(L, "return limited(function() while true do end end)"), LUA_OK);
  assert_non_null(strstr(lua_tostring(L, -1), OVER_STEPS));
  sl_sandbox_close(L);
}

static int add_place(lua_State *L) {
  lua_pushfstring(L, "seen: %s", lua_tostring(L, 1));
  return 1;
}

static void handler_sees_errors(void **state) {
  (void)state;
  lua_State *L = small_state();
  lua_pushcfunction(L, add_place);
  assert_int_equal(load_script(L, "error('x', 0)"), LUA_OK);
  assert_int_equal(sl_sandbox_call(L, 0, 0, 1), LUA_ERRRUN);
  assert_string_equal(lua_tostring(L, -1), "seen: x");
  lua_settop(L, 1);
  assert_int_equal(load_script(L, "while true do end"), LUA_OK);
  assert_int_equal(sl_sandbox_call(L, 0, 0, 1), LUA_ERRRUN);
  assert_string_equal(lua_tostring(L, -1), "seen: job:1: " OVER_STEPS);
  sl_sandbox_close(L);
}

static int costly(lua_State *L) {
  sl_sandbox_charge(L, luaL_checkinteger(L, 1));
  return 0;
}

static void host_work_is_charged(void **state) {
  (void)state;
  lua_State *L = small_state();
  assert_int_equal(load_script(L, "for i = 1, 100 do costly(1000) end"), LUA_OK);
  lua_getupvalue(L, -1, 1);
  lua_pushcfunction(L, costly);
  lua_setfield(L, -2, "costly");
  lua_pushvalue(L, -1);
  lua_setglobal(L, "env");
  lua_pop(L, 1);
  assert_int_equal(sl_sandbox_call(L, 0, 0, 0), LUA_OK);
  assert_int_equal(sl_sandbox_load(L, "pcall(costly, math.maxinteger) return 1", 39, "@job"), LUA_OK);
  lua_getglobal(L, "env");
  lua_setupvalue(L, -2, 1);
  assert_int_not_equal(sl_sandbox_call(L, 0, 1, 0), LUA_OK);
  assert_string_equal(sl_sandbox_abort(L), OVER_STEPS);
  sl_sandbox_close(L);
}

static void environments_are_apart(void **state) {
  (void)state;
  lua_State *L = small_state();
  assert_int_equal(run(L, "leak = 5 pairs = nil tostring = nil return 1"), LUA_OK);
  assert_int_not_equal(run(L, "return leak"), LUA_OK);
  assert_non_null(strstr(lua_tostring(L, -1), "no such name: leak"));
  assert_int_equal(run(L, "for k in pairs { a = 1 } do return tostring(k) end"), LUA_OK);
  assert_string_equal(lua_tostring(L, -1), "a");
  lua_getglobal(L, "leak");
  assert_true(lua_isnil(L, -1));
  sl_sandbox_close(L);
}

/* Host objects stay locked even where the host forgot to say so. */
static void host_metatables_are_locked(void **state) {
  (void)state;
  lua_State *L = small_state();
  assert_int_equal(load_script(L,
                   "assert(getmetatable(object) == false) return pcall(setmetatable, object, {})"), LUA_OK);
  lua_getupvalue(L, -1, 1);
  assert_int_equal(luaL_dostring(L, "return setmetatable({}, { __index = function() return 1 end })"), LUA_OK);
  lua_setfield(L, -2, "object");
  lua_pop(L, 1);
  assert_int_equal(sl_sandbox_call(L, 0, 1, 0), LUA_OK);
  assert_false(lua_toboolean(L, -1));
  sl_sandbox_close(L);
}

static void own_library(void **state) {
  (void)state;
  lua_State *L = small_state();
  assert_int_equal(load_script(L,
                   "local s = '' for k in pairs(footing) do s = s .. k end return s .. footing.embed"), LUA_OK);
  lua_getupvalue(L, -1, 1);
  assert_int_equal(luaL_dostring(L, "return { embed = 'x', bearing = 'y' }"), LUA_OK);
  sl_sandbox_push_library(L, "footing");
  lua_setfield(L, -2, "footing");
  lua_pop(L, 1);
  assert_int_equal(sl_sandbox_call(L, 0, 1, 0), LUA_OK);
  assert_string_equal(lua_tostring(L, -1), "bearingembedx");
  assert_int_equal(lua_gettop(L), 1);
  sl_sandbox_close(L);
}

/* A stranger's text can also be too much to read. */
static void reading_is_limited(void **state) {
  (void)state;
  lua_State *L = sl_sandbox_new(&(struct sl_limits){ (size_t)1 << 20, 0, 0 });
  size_t size = (size_t)1 << 20;
  char *text = malloc(size);
  assert_non_null(text);
  memcpy(text, "t={", 3);
  for (size_t i = 3; i + 4 <= size; i += 4) memcpy(text + i, "{1},", 4);
  assert_int_not_equal(sl_sandbox_load(L, text, size, "@job"), LUA_OK);
  assert_string_equal(sl_sandbox_abort(L), "asked for more than 1 MiB of memory");
  assert_string_equal(lua_tostring(L, -1), "asked for more than 1 MiB of memory");
  free(text);
  sl_sandbox_close(L);
}

static void nested_brackets(void **state) {
  (void)state;
  char text[1000];
  memset(text, '(', sizeof text);
  lua_State *L = small_state();
  assert_int_not_equal(sl_sandbox_load(L, text, sizeof text, "@job"), LUA_OK);
  assert_non_null(strstr(lua_tostring(L, -1), "overflow"));
  assert_null(sl_sandbox_abort(L));
  sl_sandbox_close(L);
}

/* The host's own loop, protected: (times) */
static int host_loop(lua_State *L) {
  const lua_Integer times = lua_tointeger(L, 1);
  lua_settop(L, 0);
  for (lua_Integer i = 0; i < times; i++) {
    lua_pushfstring(L, "%d", (int)i);
    lua_rawseti(L, LUA_REGISTRYINDEX, 100000 + i);
  }
  lua_pushboolean(L, sl_sandbox_running(L));
  return 1;
}

/* Of the host's work the memory counts, the steps do not; nor is it a script that is under way. */
static void host_can_be_guarded(void **state) {
  (void)state;
  lua_State *L = small_state();
  lua_pushcfunction(L, host_loop);
  lua_pushinteger(L, 50000);
  assert_int_equal(sl_sandbox_guard(L, 1, 1, 0), LUA_OK);
  assert_false(lua_toboolean(L, -1));
  assert_null(sl_sandbox_abort(L));
  struct sl_standing after;
  sl_sandbox_stand(L, &after);
  assert_int_equal(after.left, small_steps);
  lua_pushcfunction(L, host_loop);
  lua_pushinteger(L, 500000);
  assert_int_not_equal(sl_sandbox_guard(L, 1, 1, 0), LUA_OK);
  assert_string_equal(sl_sandbox_abort(L), OVER_MEMORY);
  assert_false(sl_sandbox_out_of_steps(L));
  sl_sandbox_close(L);
}

/* A run beside the run that was guarded gives back the random numbers; its abort stays. */
static int guarded_back(lua_State *L) {
  struct sl_standing before, after;
  sl_sandbox_stand(L, &before);
  assert_int_equal(run(L, "return math.random()"), LUA_OK);
  sl_sandbox_back(L, &before);
  sl_sandbox_stand(L, &after);
  assert_memory_equal(before.random, after.random, sizeof before.random);
  assert_int_not_equal(run(L, "while true do end"), LUA_OK);
  sl_sandbox_back(L, &before);
  assert_true(sl_sandbox_out_of_steps(L));
  return 0;
}

static void guarded_aborts_stay(void **state) {
  (void)state;
  lua_State *L = small_state();
  lua_pushcfunction(L, guarded_back);
  assert_int_equal(sl_sandbox_guard(L, 0, 0, 0), LUA_OK);
  assert_true(sl_sandbox_out_of_steps(L));
  sl_sandbox_close(L);
}

/* A state that was not counted is, from then on, each time anew; and no more. */
static void counting_can_begin_late(void **state) {
  (void)state;
  static const char loop[] = "for i = 1, 300000 do end return 'done'";
  lua_State *L = sl_sandbox_new(&(struct sl_limits){ small_memory, -1, 0 });
  assert_int_equal(run(L, "for i = 1, 3000000 do end return 1"), LUA_OK);
  for (int i = 0; i < 9; i++) {
    sl_sandbox_count(L, 1000000);
    assert_int_equal(run(L, loop), LUA_OK);
  }
  sl_sandbox_count(L, -1);
  assert_int_equal(run(L, "for i = 1, 3000000 do end return 1"), LUA_OK);
  sl_sandbox_count(L, 2000000);
  assert_int_not_equal(run(L, "for i = 1, 3000000 do end return 1"), LUA_OK);
  assert_non_null(strstr(lua_tostring(L, -1), OVER_STEPS));
  assert_true(sl_sandbox_out_of_steps(L));
  sl_sandbox_close(L);
}

int main(void) {
  static const struct CMUnitTest alone[] = {
    cmocka_unit_test(over_is_over), cmocka_unit_test(steps_add_up), cmocka_unit_test(opening_is_not_limited),
    cmocka_unit_test(host_is_limited), cmocka_unit_test(blocks_of_the_host_count),
    cmocka_unit_test(garbage_makes_room),
    cmocka_unit_test(collections_in_vain_end_a_run), cmocka_unit_test(collections_are_charged),
    cmocka_unit_test(host_memory_counts), cmocka_unit_test(negative_steps_are_not_counted), cmocka_unit_test(defaults),
    cmocka_unit_test(calls_nest), cmocka_unit_test(limited_pcall_at_the_top), cmocka_unit_test(handler_sees_errors),
    cmocka_unit_test(host_work_is_charged), cmocka_unit_test(environments_are_apart),
    cmocka_unit_test(host_metatables_are_locked), cmocka_unit_test(own_library), cmocka_unit_test(reading_is_limited),
    cmocka_unit_test(nested_brackets), cmocka_unit_test(host_can_be_guarded), cmocka_unit_test(guarded_aborts_stay),
    cmocka_unit_test(counting_can_begin_late),
  };
  static struct CMUnitTest tests[COUNT(attacks) + COUNT(alone)];
  size_t n = add_rows(tests, 0, attacks, COUNT(attacks));
  memcpy(tests + n, alone, sizeof alone);
  return cmocka_run_group_tests_name("sandbox", tests, NULL, NULL);
}
