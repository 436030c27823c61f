/* SPDX-License-Identifier: MIT
 * The libraries of a script: Lua's own functions where their work is in proportion to what they are given or make
 * (memory is counted as steps too), and replacements where a small call can ask for endless work. */
#include <limits.h>
#include <stdint.h>
#include <string.h>
#include <lauxlib.h>
#include <lualib.h>
#include "box/safe.h"
#include "host/text.h"

enum { BYTES_A_STEP = 16, A_FLOAT = 100 };     /* steps for a number to print, of 400 digits at most */

static void copy_functions(lua_State *L, const char *library, const char *const *names) {
  lua_getglobal(L, library);
  for (; *names; names++) {
    lua_getfield(L, -1, *names);
    lua_setfield(L, -3, *names);
  }
  lua_pop(L, 1);
}

/* Sets name to f with Lua's own function as its upvalue. */
static void wrap(lua_State *L, const char *library, const char *name, lua_CFunction f) {
  lua_getglobal(L, library);
  lua_getfield(L, -1, name);
  lua_remove(L, -2);
  lua_pushcclosure(L, f, 1);
  lua_setfield(L, -2, name);
}

/* In the same frame, so that its errors name the script's line and the function as the script knows it. */
static int go_on(lua_State *L) { return lua_tocfunction(L, lua_upvalueindex(1))(L); }

/* Where a position counted from the end of so many bytes is from their start. */
static lua_Integer from_start(lua_Integer at, size_t size) { return at >= 0 ? at : at + (lua_Integer)size + 1; }

/* How many numbers from i to j; more than an integer holds is as good as endless. */
static long long count_of(lua_Integer i, lua_Integer j) {
  if (i > j) return 0;
  lua_Unsigned n = (lua_Unsigned)j - (lua_Unsigned)i;
  return n >= LLONG_MAX ? LLONG_MAX : (long long)n + 1;
}

/* byte, len, codepoint(s, i, j): they look at i to j. */
static void charge_range(lua_State *L, lua_Integer from, lua_Integer to, int bytes_a_step) {
  size_t size;
  luaL_checklstring(L, 1, &size);
  lua_Integer i = from_start(luaL_optinteger(L, 2, from), size), j = from_start(luaL_optinteger(L, 3, to), size);
  if (i < 1) i = 1;
  if (j > (lua_Integer)size) j = (lua_Integer)size;
  sl_sandbox_charge(L, count_of(i, j) / bytes_a_step);
}

/* ---- string ----------------------------------------------------------------------------------------------------- */

static int str_rep(lua_State *L) {
  size_t size, gap;
  const char *s = luaL_checklstring(L, 1, &size);
  lua_Integer n = luaL_checkinteger(L, 2);
  const char *separator = luaL_optlstring(L, 3, "", &gap);
  if (n <= 0 || size + gap == 0 || (n == 1 && size == 0)) return lua_pushliteral(L, ""), 1;
  if (size + gap < size || size + gap > (size_t)PTRDIFF_MAX / 2 / (size_t)n)
    return luaL_error(L, "resulting string too large");
  size_t total = (size_t)n * size + (size_t)(n - 1) * gap;
  luaL_Buffer b;
  sl_box_room(L, 2 * total);                             /* the buffer, and the string made from it */
  char *to = luaL_buffinitsize(L, &b, total);
  memcpy(to, s, size);
  if (n > 1) memcpy(to + size, separator, gap);
  for (size_t done = size + gap; done < total; done *= 2)
    memcpy(to + done, to, done < total - done ? done : total - done);
  luaL_pushresultsize(&b, total);
  return 1;
}

/* lower, upper, reverse. */
static int str_change(lua_State *L) {
  size_t size;
  luaL_checklstring(L, 1, &size);
  sl_box_room(L, 2 * size);
  return go_on(L);
}

/* A result for each byte. */
static int str_byte(lua_State *L) { charge_range(L, 1, luaL_optinteger(L, 2, 1), 1); return go_on(L); }

/* Lua's format shows addresses for %p, and for %s of a table. */
static int str_format(lua_State *L) {
  size_t size, part, total;
  const char *f = luaL_checklstring(L, 1, &size), *end = f + size;
  int arg = 1, top = lua_gettop(L);
  long long price = (long long)(size / BYTES_A_STEP);
  for (; f < end; f++) {
    if (*f != '%') continue;
    if (++f < end && *f == '%') continue;
    while (f < end && *f && strchr("-+ #0123456789.", *f)) f++;
    arg++;
    price += f < end && strchr("aAeEfgG", *f) ? A_FLOAT : 1;
    if (f < end && *f == 'p') return luaL_error(L, "'%%p' is left out: an address changes from run to run");
    if (f == end || *f != 's' || arg > top || lua_type(L, arg) == LUA_TSTRING) continue;
    sl_sandbox_tostring(L, arg, NULL);
    lua_replace(L, arg);
  }
  total = size;
  for (arg = 2; arg <= top; arg++) if (lua_type(L, arg) == LUA_TSTRING && lua_tolstring(L, arg, &part)) total += part;
  sl_sandbox_charge(L, price);
  if (total > LUAL_BUFFERSIZE) sl_box_room(L, 3 * total);
  return go_on(L);
}

void sl_string_open(lua_State *L) {
  static const char *const as_they_are[] = { "char", "len", "sub", NULL };
  static const luaL_Reg ours[] = {
    { "rep", str_rep }, { "find", sl_str_find }, { "match", sl_str_match }, { "gmatch", sl_str_gmatch },
    { "gsub", sl_str_gsub }, { NULL, NULL },
  };
  luaL_newlib(L, ours);
  copy_functions(L, LUA_STRLIBNAME, as_they_are);
  wrap(L, LUA_STRLIBNAME, "byte", str_byte);
  wrap(L, LUA_STRLIBNAME, "format", str_format);
  wrap(L, LUA_STRLIBNAME, "lower", str_change);
  wrap(L, LUA_STRLIBNAME, "upper", str_change);
  wrap(L, LUA_STRLIBNAME, "reverse", str_change);
}

/* ---- table ------------------------------------------------------------------------------------------------------ */

enum { READS = 1, WRITES = 2, MEASURES = 4 };

static bool answers(lua_State *L, int arg, const char *event) {
  if (luaL_getmetafield(L, arg, event) == LUA_TNIL) return false;
  lua_pop(L, 1);
  return true;
}

/* A table, or something of the host's that behaves like one. */
static void check_list(lua_State *L, int arg, int what) {
  if (lua_type(L, arg) == LUA_TTABLE) return;
  if ((!(what & READS) || answers(L, arg, "__index")) && (!(what & WRITES) || answers(L, arg, "__newindex")) &&
      (!(what & MEASURES) || answers(L, arg, "__len"))) return;
  luaL_checktype(L, arg, LUA_TTABLE);
}

static lua_Integer length_of(lua_State *L, int arg, int what) {
  check_list(L, arg, what | MEASURES);
  return luaL_len(L, arg);
}

static int tab_insert(lua_State *L) {
  lua_Integer end = (lua_Integer)((lua_Unsigned)length_of(L, 1, READS | WRITES) + 1), at = end;
  int n = lua_gettop(L);
  if (n != 2 && n != 3) return luaL_error(L, "wrong number of arguments to 'insert'");
  if (n == 3) {
    at = luaL_checkinteger(L, 2);
    luaL_argcheck(L, (lua_Unsigned)at - 1 < (lua_Unsigned)end, 2, "position out of bounds");
    sl_sandbox_charge(L, count_of(at, end));
    for (lua_Integer i = end; i > at; i--) {
      lua_geti(L, 1, i - 1);
      lua_seti(L, 1, i);
    }
  }
  lua_seti(L, 1, at);
  return 0;
}

static int tab_remove(lua_State *L) {
  lua_Integer size = length_of(L, 1, READS | WRITES), at = luaL_optinteger(L, 2, size);
  if (at != size) luaL_argcheck(L, (lua_Unsigned)at - 1 <= (lua_Unsigned)size, 2, "position out of bounds");
  sl_sandbox_charge(L, count_of(at, size));
  lua_geti(L, 1, at);
  for (; at < size; at++) {
    lua_geti(L, 1, at + 1);
    lua_seti(L, 1, at);
  }
  lua_pushnil(L);
  lua_seti(L, 1, at);
  return 1;
}

static int tab_move(lua_State *L) {
  lua_Integer from = luaL_checkinteger(L, 2), end = luaL_checkinteger(L, 3), to = luaL_checkinteger(L, 4);
  int target = lua_isnoneornil(L, 5) ? 1 : 5;
  check_list(L, 1, READS);
  check_list(L, target, WRITES);
  if (end >= from) {
    luaL_argcheck(L, from > 0 || end < LUA_MAXINTEGER + from, 3, "too many elements to move");
    lua_Integer n = end - from + 1;
    luaL_argcheck(L, to <= LUA_MAXINTEGER - n + 1, 4, "destination wrap around");
    sl_sandbox_charge(L, n);
    bool upwards = to > end || to <= from || (target != 1 && !lua_compare(L, 1, target, LUA_OPEQ));
    for (lua_Integer k = 0; k < n; k++) {
      lua_Integer i = upwards ? k : n - 1 - k;
      lua_geti(L, 1, from + i);
      lua_seti(L, target, to + i);
    }
  }
  lua_pushvalue(L, target);
  return 1;
}

static void add_item(lua_State *L, luaL_Buffer *b, lua_Integer i, size_t gap) {
  size_t size;
  lua_geti(L, 1, i);
  if (!lua_tolstring(L, -1, &size))
    luaL_error(L, "invalid value (a %s at index %I) in table for 'concat'", luaL_typename(L, -1), (LUAI_UACINT)i);
  if (size + gap > b->size - b->n) sl_box_room(L, 2 * b->size + size + gap);
  luaL_addvalue(b);
}

static int tab_concat(lua_State *L) {
  luaL_Buffer b;
  size_t gap;
  lua_Integer end = length_of(L, 1, READS);
  const char *separator = luaL_optlstring(L, 2, "", &gap);
  lua_Integer i = luaL_optinteger(L, 3, 1);
  end = luaL_optinteger(L, 4, end);
  luaL_buffinit(L, &b);
  for (; i < end; i++) {
    sl_sandbox_charge(L, 1 + (long long)(gap / BYTES_A_STEP));
    add_item(L, &b, i, gap);
    luaL_addlstring(&b, separator, gap);
  }
  if (i == end) add_item(L, &b, i, 0);
  luaL_pushresult(&b);
  return 1;
}

static int tab_unpack(lua_State *L) {
  lua_Integer i = luaL_optinteger(L, 2, 1);
  lua_Integer end = lua_isnoneornil(L, 3) ? luaL_len(L, 1) : luaL_checkinteger(L, 3);
  long long n = count_of(i, end);
  if (n >= INT_MAX || !lua_checkstack(L, (int)n)) return luaL_error(L, "too many results to unpack");
  sl_sandbox_charge(L, n);
  for (long long k = 0; k < n; k++) lua_geti(L, 1, i + k);
  return (int)n;
}

/* Of two stack indices, whether the first value comes before the second.  Argument 2: the order function or nil. */
static bool before(lua_State *L, int a, int b) {
  if (lua_isnil(L, 2)) return lua_compare(L, a, b, LUA_OPLT);
  lua_pushvalue(L, 2);
  lua_pushvalue(L, a);
  lua_pushvalue(L, b);
  lua_call(L, 2, 1);
  bool yes = lua_toboolean(L, -1);
  lua_pop(L, 1);
  return yes;
}

/* Merges list from[i..middle-1] with from[middle..end-1] into `to`; of equals the left one first. */
static void merge(lua_State *L, int from, int to, int i, int middle, int end) {
  int j = middle, top = lua_gettop(L);
  for (int k = i; k < end; k++) {
    bool right = i == middle;
    if (i < middle && j < end) {
      lua_rawgeti(L, from, i);
      lua_rawgeti(L, from, j);
      right = before(L, top + 2, top + 1);
      lua_settop(L, top);
    }
    lua_rawgeti(L, from, right ? j++ : i++);
    lua_rawseti(L, to, k);
  }
}

/* An order function that says yes both ways cannot have sorted anything: <= for < is the usual one. */
static void check_order(lua_State *L, int list, int n) {
  int top = lua_gettop(L);
  for (int i = 1; i < n; i++) {
    lua_rawgeti(L, list, i);
    lua_rawgeti(L, list, i + 1);
    if (before(L, top + 2, top + 1))
      luaL_error(L, "invalid order function for sorting: it must say false for equal values (use <, not <=)");
    lua_settop(L, top);
  }
}

/* A merge sort over copies, so that an order function can neither break it nor see it half done. */
static int tab_sort(lua_State *L) {
  lua_Integer size = length_of(L, 1, READS | WRITES);
  if (size < 2) return 0;
  luaL_argcheck(L, size < INT_MAX / 4, 1, "array too big");   /* so that i + 2 * width below fits */
  if (!lua_isnoneornil(L, 2)) luaL_checktype(L, 2, LUA_TFUNCTION);
  lua_settop(L, 2);
  int n = (int)size, from = 3, to = 4;
  sl_sandbox_charge(L, 2 * size);
  lua_createtable(L, n, 0);
  lua_createtable(L, n, 0);
  for (int i = 1; i <= n; i++) {
    lua_geti(L, 1, i);
    lua_rawseti(L, from, i);
  }
  for (int width = 1; width < n; width *= 2) {
    sl_sandbox_charge(L, size);
    for (int i = 1; i <= n; i += 2 * width) {
      int middle = n + 1 - i < width ? n + 1 : i + width, end = n + 1 - i < 2 * width ? n + 1 : i + 2 * width;
      merge(L, from, to, i, middle, end);
    }
    int swap = from;
    from = to;
    to = swap;
  }
  if (!lua_isnil(L, 2)) check_order(L, from, n);
  for (int i = 1; i <= n; i++) {
    lua_rawgeti(L, from, i);
    lua_seti(L, 1, i);
  }
  return 0;
}

void sl_table_open(lua_State *L) {
  static const char *const as_they_are[] = { "pack", NULL };
  static const luaL_Reg ours[] = {
    { "concat", tab_concat }, { "insert", tab_insert }, { "move", tab_move }, { "remove", tab_remove },
    { "sort", tab_sort }, { "unpack", tab_unpack }, { NULL, NULL },
  };
  luaL_newlib(L, ours);
  copy_functions(L, LUA_TABLIBNAME, as_they_are);
}

/* ---- math ------------------------------------------------------------------------------------------------------- */

/* xoshiro256**, D. Blackman and S. Vigna 2018 (public domain): the generator that Lua 5.4 uses, and seeded as it is by
 * math.randomseed(seed), so that the numbers are those of plain Lua. */
static uint64_t rotate(uint64_t x, int n) { return x << n | x >> (64 - n); }

static uint64_t next_random(uint64_t s[4]) {
  uint64_t out = rotate(s[1] * 5, 7) * 9, t = s[1] << 17;
  s[2] ^= s[0];
  s[3] ^= s[1];
  s[1] ^= s[2];
  s[0] ^= s[3];
  s[2] ^= t;
  s[3] = rotate(s[3], 45);
  return out;
}

void sl_random_seed(struct sl_box *box, unsigned long long seed) {
  box->random[0] = seed;
  box->random[1] = 0xff;
  box->random[2] = box->random[3] = 0;
  for (int i = 0; i < 16; i++) next_random(box->random);
}

/* A number from 0 to most, each as likely: draws with as many bits until one fits. */
static uint64_t draw(uint64_t s[4], uint64_t first, uint64_t most) {
  uint64_t mask = most, r = first;
  for (int shift = 1; shift < 64; shift *= 2) mask |= mask >> shift;
  while ((r &= mask) > most) r = next_random(s);
  return r;
}

int sl_math_random(lua_State *L) {
  uint64_t *s = sl_box(L)->random, r = next_random(s);
  lua_Integer low = 1, high;
  switch (lua_gettop(L)) {
    case 0: return lua_pushnumber(L, (lua_Number)(r >> 11) * 0x1p-53), 1;
    case 1:
      high = luaL_checkinteger(L, 1);
      if (high == 0) return lua_pushinteger(L, (lua_Integer)r), 1;
      break;
    case 2:
      low = luaL_checkinteger(L, 1);
      high = luaL_checkinteger(L, 2);
      break;
    default: return luaL_error(L, "wrong number of arguments");
  }
  luaL_argcheck(L, low <= high, lua_gettop(L), "interval is empty");
  r = draw(s, r, (uint64_t)high - (uint64_t)low);
  lua_pushinteger(L, (lua_Integer)(r + (uint64_t)low));
  return 1;
}

void sl_math_open(lua_State *L) {
  static const char *const as_they_are[] = {
    "abs", "acos", "asin", "atan", "ceil", "cos", "deg", "exp", "floor", "fmod", "huge", "log", "max", "maxinteger",
    "min", "mininteger", "modf", "pi", "rad", "sin", "sqrt", "tan", "tointeger", "type", "ult", NULL,
  };
  lua_newtable(L);
  copy_functions(L, LUA_MATHLIBNAME, as_they_are);
  lua_pushcfunction(L, sl_math_random);
  lua_setfield(L, -2, "random");
}

/* ---- utf8 ------------------------------------------------------------------------------------------------------- */

static int utf8_len(lua_State *L) { charge_range(L, 1, -1, BYTES_A_STEP); return go_on(L); }
static int utf8_codepoint(lua_State *L) { charge_range(L, 1, luaL_optinteger(L, 2, 1), 1); return go_on(L); }

/* offset(s, n): n characters on, so at most 4 n bytes of well-formed text, and never more than all. */
static int utf8_offset(lua_State *L) {
  size_t size;
  luaL_checklstring(L, 1, &size);
  lua_Integer n = luaL_checkinteger(L, 2), all = (lua_Integer)size;
  sl_sandbox_charge(L, (n > all || n < -all ? all : n < 0 ? -n : n) / 4);
  return go_on(L);
}

void sl_utf8_open(lua_State *L) {
  static const char *const as_they_are[] = { "char", "charpattern", "codes", NULL };
  lua_newtable(L);
  copy_functions(L, LUA_UTF8LIBNAME, as_they_are);
  wrap(L, LUA_UTF8LIBNAME, "len", utf8_len);
  wrap(L, LUA_UTF8LIBNAME, "codepoint", utf8_codepoint);
  wrap(L, LUA_UTF8LIBNAME, "offset", utf8_offset);
}
