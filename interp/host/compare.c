/* SPDX-License-Identifier: MIT
 * A value against the tightest of its limits, where all of them are plain amounts, and the worst of some findings: what
 * model.compare does most. */
#include <lauxlib.h>
#include <math.h>
#include "box/sandbox.h"
#include "host/host_parts.h"
#include "host/raise.h"
#include "value/quantity.h"

/* An amount: a quantity, or a number where q is NULL. */
struct amount { const struct sl_quantity *q; double si; };

/* Upvalues: what scripts hold of limits, or the function that adds a reason; the texts that a finding is made of. */
enum { HELD = 1, ADD = HELD, BOUND, OP, AT_MOST, AT_LEAST, BY, LIMIT, VALUE, WHOSE, CITE, OTHERS, OK, MARGIN, RATIO,
       EVERY, UNKNOWNS, STATEMENT, CONSTRUCTION, UPVALUES = CONSTRUCTION };
static const char *const texts[] = { [BOUND] = "bound", [OP] = "op", [AT_MOST] = "at_most", [AT_LEAST] = "at_least",
  [BY] = "by", [LIMIT] = "limit", [VALUE] = "value", [WHOSE] = "whose", [CITE] = "cite", [OTHERS] = "others",
  [OK] = "ok", [MARGIN] = "margin", [RATIO] = "ratio", [EVERY] = "every",
  [UNKNOWNS] = "unknowns", [STATEMENT] = "statement", [CONSTRUCTION] = "construction" };

#define UP(i) lua_upvalueindex(i)

/* The amount at idx; false where it is none. */
static bool amount(lua_State *L, int idx, struct amount *to) {
  to->q = sl_quantity_at(L, idx);
  if (to->q) to->si = to->q->si;
  else if (lua_type(L, idx) == LUA_TNUMBER) to->si = lua_tonumber(L, idx);
  else return false;
  return isfinite(to->si);
}

static bool same_kind(const struct sl_quantity *a, const struct sl_quantity *b) {
  return a && b ? sl_same_kind(a, b) && a->point == b->point : !a && !b;
}

/* a < b beyond the tolerance. */
static bool less(const struct amount *a, const struct amount *b) { return a->si < b->si && !sl_equal(a->si, b->si); }

static int field(lua_State *L, int table, int name) {
  lua_pushvalue(L, UP(name));
  return lua_rawget(L, table);
}

/* Pushes the table that a limit is, { value, whose, cite, bound }, or nil where it is an amount, and its amount. */
static void push_limit(lua_State *L, int idx) {
  const int top = lua_gettop(L);
  if (lua_istable(L, idx)) {
    lua_pushvalue(L, idx);
    if (lua_getmetatable(L, idx)) {                         /* what a script holds of one */
      lua_pop(L, 1);
      lua_rawget(L, UP(HELD));
    }
    if (lua_istable(L, -1) && field(L, top + 1, BOUND) != LUA_TNIL) {
      lua_pop(L, 1);
      field(L, top + 1, VALUE);
      return;
    }
    lua_settop(L, top);
  }
  lua_pushnil(L);
  lua_pushvalue(L, idx);
}

static void set(lua_State *L, int table, int name, int idx) {
  if (lua_isnil(L, idx)) return;
  lua_pushvalue(L, UP(name));
  lua_pushvalue(L, idx);
  lua_rawset(L, table);
}

/* A limit that is not the tightest, as a table, behind the others. */
static void add_other(lua_State *L, int others, int limit, int value) {
  if (lua_isnil(L, limit)) {
    lua_createtable(L, 0, 1);
    set(L, lua_gettop(L), VALUE, value);
  } else lua_pushvalue(L, limit);
  lua_rawseti(L, others, (lua_Integer)lua_rawlen(L, others) + 1);
}

/* Pushes a - b, amounts of one kind, which stand at these places. */
static void push_difference(lua_State *L, const struct amount *a, const struct amount *b, int at_a, int at_b) {
  if (a->q) {
    sl_quantity_push(L, sl_quantity_minus(L, a->q, b->q));
    return;
  }
  lua_pushvalue(L, at_a);
  lua_pushvalue(L, at_b);
  lua_arith(L, LUA_OPSUB);
}

/* tightest(over, value, limit ...) -> { op, by, value, limit, whose, cite, others, ok, margin, ratio } of at_most
 * (over) or at_least; nothing where anything is no plain amount of the same kind, which is Lua's to say. */
static int h_tightest(lua_State *L) {
  enum { OVER = 1, HERE, FIRST };
  const int last = lua_gettop(L), others = last + 1, whose = last + 2, cite = last + 3, tight = last + 4;
  const int tight_value = last + 5, limit = last + 6, value = last + 7, margin = last + 6, finding = last + 7;
  const bool over = lua_toboolean(L, OVER);
  struct amount here, least = { 0 }, one;
  if (last < FIRST || !amount(L, HERE, &here)) return 0;
  luaL_checkstack(L, 16, "limits");
  lua_settop(L, tight_value);
  for (int i = FIRST; i <= last; i++) {
    push_limit(L, i);
    if (!amount(L, value, &one) || !same_kind(here.q, one.q) || !isfinite(here.si - one.si)) return 0;
    const bool first = i == FIRST, tighter = first || (over ? less(&one, &least) : less(&least, &one));
    if (i == FIRST + 1) {
      lua_newtable(L);
      lua_replace(L, others);
    }
    if (!first) add_other(L, others, tighter ? tight : limit, tighter ? tight_value : value);
    if (tighter) {
      least = one;
      lua_replace(L, tight_value);
      lua_replace(L, tight);
    }
    lua_settop(L, tight_value);
  }
  const bool broken = over ? less(&least, &here) : less(&here, &least);
  if (lua_istable(L, tight)) {
    field(L, tight, WHOSE);
    lua_replace(L, whose);
    field(L, tight, CITE);
    lua_replace(L, cite);
  }
  if (over) push_difference(L, &least, &here, tight_value, HERE);
  else push_difference(L, &here, &least, HERE, tight_value);
  const bool measured = amount(L, margin, &one) && fabs(least.si) > 0 && isfinite(one.si / fabs(least.si));
  lua_createtable(L, 0, 6 + measured + !lua_isnil(L, whose) + !lua_isnil(L, cite) + !lua_isnil(L, others));
  set(L, finding, OP, UP(over ? AT_MOST : AT_LEAST));
  set(L, finding, BY, UP(LIMIT));
  set(L, finding, VALUE, HERE);
  set(L, finding, LIMIT, tight_value);
  set(L, finding, WHOSE, whose);
  set(L, finding, CITE, cite);
  set(L, finding, OTHERS, others);
  lua_pushvalue(L, UP(OK));
  lua_pushboolean(L, !broken);
  lua_rawset(L, finding);
  set(L, finding, MARGIN, margin);
  if (measured) {
    lua_pushvalue(L, UP(RATIO));
    lua_pushnumber(L, one.si / fabs(least.si));
    lua_rawset(L, finding);
  }
  return 1;
}

/* ---- of some findings -------------------------------------------------------------------------------------------- */

/* What is kept of the worst so far; worth: see worth_of. */
struct worst { bool any, ok, has_ratio; double ratio; int worth; };

/* What a finding is worth by what stands at the top: the program made it so, the script says so, against a limit. */
static int worth_of(lua_State *L) {
  return lua_rawequal(L, -1, UP(CONSTRUCTION)) ? 1 : lua_rawequal(L, -1, UP(STATEMENT)) ? 2 : 3;
}

/* The reasons at `unknowns` with that on top, which goes. */
static void add_reason(lua_State *L, int unknowns) {
  lua_pushvalue(L, UP(ADD));
  lua_insert(L, -2);
  lua_pushvalue(L, unknowns);
  lua_insert(L, -2);
  lua_call(L, 2, 1);
  lua_replace(L, unknowns);
}

/* Calls the function on top; false where a fact is missing, and the reason is there instead of what it gives. */
static bool called(lua_State *L) {
  if (lua_pcall(L, 0, 1, 0) == LUA_OK) return true;
  if (sl_sandbox_abort(L) || !sl_says_why(L)) lua_error(L);
  return false;
}

/* Whether the finding at f is worse than the worst: broken, or with less margin; one that has numbers before one
 * without.  It is the worst then. */
static bool worse(lua_State *L, int f, struct worst *w) {
  field(L, f, OK);
  field(L, f, RATIO);
  const bool ok = lua_toboolean(L, -2), has = lua_type(L, -1) == LUA_TNUMBER;
  const double ratio = has ? lua_tonumber(L, -1) : 0;
  lua_pop(L, 2);
  if (w->any && (w->ok != ok ? !w->ok : !has || (w->has_ratio && !(ratio < w->ratio)))) return false;
  w->any = true;
  w->ok = ok;
  w->has_ratio = has;
  w->ratio = ratio;
  return true;
}

/* worst(findings) -> the worst, with the reasons of all that is unknown beside it, worth the most that any is; nil of
 * none.  A finding may be a function that gives it, or nothing. */
static int h_worst(lua_State *L) {
  enum { FINDINGS = 1, WORST, REASONS, BEST, F };              /* BEST: the word of what it is worth */
  struct worst w = { 0 };
  lua_settop(L, FINDINGS);
  luaL_checkstack(L, 12, "comparisons");
  lua_settop(L, BEST);
  const lua_Integer n = (lua_Integer)lua_rawlen(L, FINDINGS);
  for (lua_Integer i = 1; i <= n; i++) {
    lua_settop(L, BEST);
    if (lua_rawgeti(L, FINDINGS, i) == LUA_TFUNCTION && !called(L)) {
      add_reason(L, REASONS);
      continue;
    }
    if (lua_isnil(L, F)) continue;
    luaL_checktype(L, F, LUA_TTABLE);
    if (field(L, F, UNKNOWNS) == LUA_TTABLE)
      for (lua_Integer k = 1, more = (lua_Integer)lua_rawlen(L, F + 1); k <= more; k++) {
        lua_rawgeti(L, F + 1, k);
        add_reason(L, REASONS);
      }
    if (worse(L, F, &w)) {
      lua_pushvalue(L, F);
      lua_replace(L, WORST);
    }
    field(L, F, BY);
    const int worth = worth_of(L);
    if (worth > w.worth) {
      w.worth = worth;
      lua_replace(L, BEST);
    }
  }
  lua_settop(L, BEST);
  if (!w.any) {
    if (lua_isnil(L, REASONS)) return 0;
    lua_createtable(L, 0, 4);
    lua_replace(L, WORST);
    set(L, WORST, OP, UP(EVERY));
    set(L, WORST, BY, UP(LIMIT));
    lua_pushvalue(L, UP(OK));
    lua_pushboolean(L, true);
    lua_rawset(L, WORST);
  } else set(L, WORST, BY, BEST);
  lua_pushvalue(L, UP(UNKNOWNS));
  lua_pushvalue(L, REASONS);
  lua_rawset(L, WORST);
  lua_settop(L, WORST);
  return 1;
}

static int open_with_texts(lua_State *L, lua_CFunction function, int type) {
  luaL_checktype(L, 1, type);
  lua_settop(L, 1);
  for (int i = 2; i <= UPVALUES; i++) lua_pushstring(L, texts[i]);
  lua_pushcclosure(L, function, UPVALUES);
  return 1;
}

/* tightest(held) -> the function; held: what scripts hold of limits -> the limits. */
static int open_tightest(lua_State *L) { return open_with_texts(L, h_tightest, LUA_TTABLE); }

/* worst(add) -> the function; add(reasons or nil, why) -> the reasons with one more. */
static int open_worst(lua_State *L) { return open_with_texts(L, h_worst, LUA_TFUNCTION); }

const luaL_Reg sl_host_compare[] = { { "tightest", open_tightest }, { "worst", open_worst }, { NULL, NULL } };
