/* SPDX-License-Identifier: MIT
 * A value against the tightest of its limits, where all of them are plain amounts: what model.compare does most. */
#include <lauxlib.h>
#include <math.h>
#include "host/host_parts.h"
#include "value/quantity.h"

/* The number behind the value at idx; false where it is no amount. */
static bool amount(lua_State *L, int idx, double *si) {
  const struct sl_quantity *q = sl_quantity_at(L, idx);
  if (q) *si = q->si;
  else if (lua_type(L, idx) == LUA_TNUMBER) *si = lua_tonumber(L, idx);
  else return false;
  return isfinite(*si);
}

static bool same_kind(lua_State *L, int a, int b) {
  const struct sl_quantity *p = sl_quantity_at(L, a), *q = sl_quantity_at(L, b);
  return p && q ? sl_same_kind(p, q) && p->point == q->point : !p && !q;
}

/* a < b beyond the tolerance. */
static bool less(lua_State *L, int a, int b) {
  if (lua_type(L, a) == LUA_TNUMBER)
    return lua_tonumber(L, a) < lua_tonumber(L, b) && !sl_equal(lua_tonumber(L, a), lua_tonumber(L, b));
  return lua_compare(L, a, b, LUA_OPLT);
}

/* Pushes the table that a limit is, { value, whose, cite, bound }, or nil where it is an amount, and its amount. */
static void push_limit(lua_State *L, int idx, int held) {
  if (lua_istable(L, idx)) {
    if (lua_getmetatable(L, idx)) {                         /* what a script holds of one */
      lua_pop(L, 1);
      lua_pushvalue(L, idx);
      lua_rawget(L, held);
    } else lua_pushvalue(L, idx);
    if (lua_istable(L, -1) && lua_getfield(L, -1, "bound") != LUA_TNIL) {
      lua_pop(L, 1);
      lua_getfield(L, -1, "value");
      return;
    }
  } else lua_pushnil(L);
  lua_settop(L, held + 1);
  lua_pushnil(L);
  lua_replace(L, -2);
  lua_pushvalue(L, idx);
}

static void set(lua_State *L, int finding, const char *name, int idx) {
  if (lua_isnil(L, idx)) return;
  lua_pushvalue(L, idx);
  lua_setfield(L, finding, name);
}

/* A limit that is not the tightest, as a table, behind the others. */
static void add_other(lua_State *L, int others, int limit, int value) {
  if (lua_isnil(L, limit)) {
    lua_createtable(L, 0, 1);
    set(L, lua_gettop(L), "value", value);
  } else lua_pushvalue(L, limit);
  lua_rawseti(L, others, (lua_Integer)lua_rawlen(L, others) + 1);
}

/* tightest(held, over, value, limit ...) -> { op, by, value, limit, whose, cite, others, ok, margin, ratio } of
 * at_most (over) or at_least; nothing where anything is no plain amount of the same kind, which is Lua's to say. */
static int h_tightest(lua_State *L) {
  enum { HELD = 1, OVER, VALUE, FIRST };
  const int last = lua_gettop(L), others = last + 1, tight = last + 2, tight_value = last + 3;
  const bool over = lua_toboolean(L, OVER);
  double v, l;
  if (last < FIRST || !amount(L, VALUE, &v)) return 0;
  luaL_checkstack(L, 12, "limits");
  if (last > FIRST) lua_newtable(L);
  else lua_pushnil(L);
  lua_pushnil(L);
  lua_pushnil(L);
  for (int i = FIRST; i <= last; i++) {
    lua_pushvalue(L, HELD);
    const int held = lua_gettop(L), limit = held + 1, value = held + 2;
    push_limit(L, i, held);
    if (!same_kind(L, VALUE, value) || !amount(L, value, &l) || !isfinite(v - l)) return 0;
    const bool tighter = i == FIRST || (over ? less(L, value, tight_value) : less(L, tight_value, value));
    if (i > FIRST && tighter) add_other(L, others, tight, tight_value);
    else if (i > FIRST) add_other(L, others, limit, value);
    if (tighter) {
      lua_pushvalue(L, limit);
      lua_replace(L, tight);
      lua_pushvalue(L, value);
      lua_replace(L, tight_value);
    }
    lua_settop(L, tight_value);
  }
  const bool broken = over ? less(L, tight_value, VALUE) : less(L, VALUE, tight_value);
  lua_pushvalue(L, over ? tight_value : VALUE);
  lua_pushvalue(L, over ? VALUE : tight_value);
  lua_arith(L, LUA_OPSUB);
  const int margin = lua_gettop(L);
  double m, size;
  lua_createtable(L, 0, 9);
  const int finding = margin + 1;
  lua_pushstring(L, over ? "at_most" : "at_least");
  lua_setfield(L, finding, "op");
  lua_pushliteral(L, "limit");
  lua_setfield(L, finding, "by");
  set(L, finding, "value", VALUE);
  set(L, finding, "limit", tight_value);
  if (lua_istable(L, tight)) {
    lua_getfield(L, tight, "whose");
    lua_setfield(L, finding, "whose");
    lua_getfield(L, tight, "cite");
    lua_setfield(L, finding, "cite");
  }
  set(L, finding, "others", others);
  lua_pushboolean(L, !broken);
  lua_setfield(L, finding, "ok");
  set(L, finding, "margin", margin);
  if (amount(L, margin, &m) && amount(L, tight_value, &size) && fabs(size) > 0 && isfinite(m / fabs(size))) {
    lua_pushnumber(L, m / fabs(size));
    lua_setfield(L, finding, "ratio");
  }
  lua_settop(L, finding);
  return 1;
}

const luaL_Reg sl_host_compare[] = { { "tightest", h_tightest }, { NULL, NULL } };
