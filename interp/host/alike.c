/* SPDX-License-Identifier: MIT
 * Whether two values are the same to the last bit. */
#include "host/alike.h"

#include <string.h>
#include <lauxlib.h>
#include "bind/open.h"
#include "host/raise.h"
#include "value/quantity.h"

/* Two tables that are being compared, and those around them. */
struct pair { const void *a, *b; const struct pair *around; int depth; };

static bool alike(lua_State *L, int a, int b, const struct pair *around);

/* Two tables of the host's own, or errors: the same keys and values, as far as they go into each other.  Where two come
 * back to themselves at once they are alike as far as that goes. */
static bool tables_alike(lua_State *L, int a, int b, const struct pair *around) {
  enum { DEEPEST = 12 };
  const struct pair now = { lua_topointer(L, a), lua_topointer(L, b), around, around ? around->depth + 1 : 1 };
  for (const struct pair *p = around; p; p = p->around) if (p->a == now.a && p->b == now.b) return true;
  if (now.depth > DEEPEST || sl_is_error(L, a) != sl_is_error(L, b)) return false;
  if (!sl_is_error(L, a)) {
    if (lua_getmetatable(L, a)) return lua_pop(L, 1), false;
    if (lua_getmetatable(L, b)) return lua_pop(L, 1), false;
  }
  luaL_checkstack(L, 6, "tables in tables");
  int more = 0;
  for (lua_pushnil(L); lua_next(L, a); lua_pop(L, 1), more++) {
    lua_pushvalue(L, -2);
    lua_rawget(L, b);
    const int top = lua_gettop(L);
    const bool same = alike(L, top - 1, top, &now);
    lua_pop(L, 1);
    if (!same) return lua_pop(L, 2), false;
  }
  for (lua_pushnil(L); lua_next(L, b); lua_pop(L, 1)) more--;
  return more == 0;
}

static bool alike(lua_State *L, int a, int b, const struct pair *around) {
  if (lua_type(L, a) != lua_type(L, b)) return false;
  if (lua_type(L, a) == LUA_TNUMBER) {
    if (lua_isinteger(L, a) != lua_isinteger(L, b)) return false;
    const lua_Number x = lua_tonumber(L, a), y = lua_tonumber(L, b);
    return lua_isinteger(L, a) ? lua_tointeger(L, a) == lua_tointeger(L, b) : memcmp(&x, &y, sizeof x) == 0;
  }
  if (lua_rawequal(L, a, b)) return true;
  if (lua_type(L, a) == LUA_TTABLE) return tables_alike(L, a, b, around);
  if (lua_type(L, a) != LUA_TUSERDATA) return false;
  const struct sl_quantity *q = sl_quantity_at(L, a), *r = sl_quantity_at(L, b);
  if (q && r)
    return memcmp(&q->si, &r->si, sizeof q->si) == 0 && q->dims.w == r->dims.w && q->hint == r->hint &&
           q->currency == r->currency && q->point == r->point && q->origin == r->origin;
  const struct sl_wire *v = sl_wire_at(L, a), *w = sl_wire_at(L, b);
  if (v && w) return strcmp(v->size, w->size) == 0 && v->metric == w->metric;
  return sl_worked_alike(L, a, b);
}

bool sl_alike(lua_State *L, int a, int b) { return alike(L, lua_absindex(L, a), lua_absindex(L, b), NULL); }
