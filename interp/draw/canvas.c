/* SPDX-License-Identifier: MIT
 * host.drawing(ratio): a drawing for the host's Lua, in metres; and pages of them as SVG and DXF.
 *
 *   d:pen(name) d:layer(name) d:line(x1, y1, x2, y2) d:polyline({ x, y ... }, closed, filled) d:circle(x, y, r, filled)
 *   d:arc(x, y, r, from, to) d:text(x, y, text, key, turn, anchor) d:chain { upright, from, line, at, texts } -> next
 *   d:running { ..., zero } d:leader(x, y, elbow_x, elbow_y, { text ... }, to_right, level)
 *   d:north(x, y, r, turn, text) d:bar(x, y, part, parts, ratio, texts) d:hatch(material, { x, y ... })
 *   d:clip(left, right): leaves what stands between two places along it
 *   d:paper(key) d:ratio() d:wide(text, key) d:box() -> left, low, right, high or nil
 *   d:touched() -> a text that lies on something, or nil
 *   d:same(other, at_any_height) -> whether both show the same */
#include <lauxlib.h>
#include <math.h>
#include <string.h>
#include "box/memory.h"
#include "box/sandbox.h"
#include "draw/draw.h"
#include "draw/letters.h"
#include "draw/written.h"

static const char NAME[] = "stringline drawing";

/* ---- memory ------------------------------------------------------------------------------------------------------ */

static void *resize(void *own, void *block, size_t old, size_t size) {
  return sl_memory_resize(own, block, old, size);
}
struct sl_grow sl_draw_grow(lua_State *L) { return (struct sl_grow){ resize, sl_sandbox_box(L) }; }

struct sl_drawing *sl_draw_at(lua_State *L, int idx) { return luaL_checkudata(L, idx, NAME); }

/* What was just drawn is there, or it is told. */
static int drawn(lua_State *L, const struct sl_drawing *d) {
  if (d->starved) sl_sandbox_no_memory(L);
  if (d->wrong) return luaL_error(L, "a place on a drawing is no number");
  return 0;
}

static double number(lua_State *L, int idx) { return luaL_checknumber(L, idx); }

/* The numbers of a list, as a block on the stack. */
static double *numbers(lua_State *L, int idx, size_t *n) {
  luaL_checktype(L, idx, LUA_TTABLE);
  *n = lua_rawlen(L, idx);
  double *list = lua_newuserdatauv(L, (*n + 1) * sizeof *list, 0);
  for (size_t i = 0; i < *n; i++) {
    lua_rawgeti(L, idx, (lua_Integer)i + 1);
    list[i] = luaL_checknumber(L, -1);
    lua_pop(L, 1);
  }
  return list;
}

/* The texts of a list, which hold them. */
static const char **texts(lua_State *L, int idx, size_t least) {
  luaL_checktype(L, idx, LUA_TTABLE);
  const size_t n = lua_rawlen(L, idx);
  if (n < least) luaL_error(L, "a drawing lacks texts: %d of %d", (int)n, (int)least);
  const char **list = lua_newuserdatauv(L, (n + 1) * sizeof *list, 0);
  for (size_t i = 0; i < n; i++) {
    if (lua_rawgeti(L, idx, (lua_Integer)i + 1) != LUA_TSTRING) luaL_error(L, "a text of a drawing is none");
    list[i] = lua_tostring(L, -1);
    lua_pop(L, 1);
  }
  return list;
}

/* ---- plain items ------------------------------------------------------------------------------------------------- */

static int row_of(lua_State *L, int (*find)(const char *)) {
  const char *name = luaL_checkstring(L, 2);
  const int row = find(name);
  return row >= 0 ? row : luaL_error(L, "drawings have no '%s'", name);
}
static int d_pen(lua_State *L) {
  sl_draw_at(L, 1)->pen = row_of(L, sl_pen);
  return 0;
}
static int d_layer(lua_State *L) {
  sl_draw_at(L, 1)->layer = row_of(L, sl_layer);
  return 0;
}
static int d_line(lua_State *L) {
  struct sl_drawing *d = sl_draw_at(L, 1);
  sl_draw_line(d, number(L, 2), number(L, 3), number(L, 4), number(L, 5));
  return drawn(L, d);
}
static int d_polyline(lua_State *L) {
  struct sl_drawing *d = sl_draw_at(L, 1);
  size_t n;
  lua_settop(L, 4);
  const double *xy = numbers(L, 2, &n);
  sl_draw_polyline(d, xy, n / 2, lua_toboolean(L, 3), lua_toboolean(L, 4));
  return drawn(L, d);
}
static int d_circle(lua_State *L) {
  struct sl_drawing *d = sl_draw_at(L, 1);
  sl_draw_circle(d, number(L, 2), number(L, 3), number(L, 4), lua_toboolean(L, 5));
  return drawn(L, d);
}
static int d_arc(lua_State *L) {
  struct sl_drawing *d = sl_draw_at(L, 1);
  sl_draw_arc(d, number(L, 2), number(L, 3), number(L, 4), number(L, 5), number(L, 6));
  return drawn(L, d);
}

/* The height of the letters of that key, on paper. */
static double height_of(lua_State *L, int idx, const struct sl_drawing *d) {
  const char *key = luaL_optstring(L, idx, "text");
  const double height = sl_paper(d, key) / d->ratio;
  if (!isfinite(height)) luaL_error(L, "drawings have no measure '%s'", key);
  return height;
}
static int d_text(lua_State *L) {
  static const char *const anchors[] = { "left", "middle", "right", NULL };
  struct sl_drawing *d = sl_draw_at(L, 1);
  sl_draw_text(d, number(L, 2), number(L, 3), luaL_checkstring(L, 4), height_of(L, 5, d), luaL_optnumber(L, 6, 0),
               (enum sl_anchor)luaL_checkoption(L, 7, "left", anchors));
  return drawn(L, d);
}

/* ---- made of those ----------------------------------------------------------------------------------------------- */

static double field(lua_State *L, const char *name) {
  lua_getfield(L, 2, name);
  const double v = luaL_checknumber(L, -1);
  lua_pop(L, 1);
  return v;
}

/* The chain of the table at 2, whose lists stay on the stack; fewer: its texts are one fewer than its places. */
static struct sl_chain chain_of(lua_State *L, bool fewer) {
  struct sl_chain c = { .from = (luaL_checktype(L, 2, LUA_TTABLE), field(L, "from")), .line = field(L, "line") };
  lua_getfield(L, 2, "upright");
  c.upright = lua_toboolean(L, -1);
  lua_getfield(L, 2, "at");
  c.at = numbers(L, lua_gettop(L), &c.n);
  lua_getfield(L, 2, "texts");
  c.texts = texts(L, lua_gettop(L), c.n > 0 && fewer ? c.n - 1 : c.n);
  for (size_t i = 1; i < c.n; i++) if (!(c.at[i] >= c.at[i - 1])) luaL_error(L, "the places of a chain do not rise");
  return c;
}
static int d_chain(lua_State *L) {
  struct sl_drawing *d = sl_draw_at(L, 1);
  const struct sl_chain c = chain_of(L, true);
  lua_pushnumber(L, sl_draw_chain(d, &c));
  return drawn(L, d) + 1;
}
static int d_running(lua_State *L) {
  struct sl_drawing *d = sl_draw_at(L, 1);
  const struct sl_chain c = chain_of(L, false);
  sl_draw_running(d, &c, field(L, "zero"));
  return drawn(L, d);
}
static int d_leader(lua_State *L) {
  struct sl_drawing *d = sl_draw_at(L, 1);
  struct sl_leader l = { number(L, 2), number(L, 3), number(L, 4), number(L, 5), lua_toboolean(L, 7),
                         lua_toboolean(L, 8), NULL, 0 };
  luaL_checktype(L, 6, LUA_TTABLE);
  l.n = lua_rawlen(L, 6);
  l.texts = texts(L, 6, l.n);
  sl_draw_leader(d, &l);
  return drawn(L, d);
}
static int d_north(lua_State *L) {
  struct sl_drawing *d = sl_draw_at(L, 1);
  sl_draw_north(d, number(L, 2), number(L, 3), number(L, 4), number(L, 5), luaL_checkstring(L, 6));
  return drawn(L, d);
}
static int d_bar(lua_State *L) {
  struct sl_drawing *d = sl_draw_at(L, 1);
  const lua_Integer parts = luaL_checkinteger(L, 5);
  luaL_argcheck(L, parts > 0 && parts < 100, 5, "parts of a bar");
  sl_draw_bar(d, number(L, 2), number(L, 3), number(L, 4), (size_t)parts, number(L, 6),
              texts(L, 7, (size_t)parts + 1));
  return drawn(L, d);
}
static int d_hatch(lua_State *L) {
  struct sl_drawing *d = sl_draw_at(L, 1);
  const char *material = luaL_checkstring(L, 2);
  size_t n;
  const double *xy = numbers(L, 3, &n);
  if (!sl_draw_hatch(d, material, xy, n / 2)) return luaL_error(L, "drawings have no hatch '%s'", material);
  return drawn(L, d);
}

static int d_clip(lua_State *L) {
  struct sl_drawing *d = sl_draw_at(L, 1);
  sl_drawing_clip(d, number(L, 2), number(L, 3));
  return drawn(L, d);
}

/* ---- asked ------------------------------------------------------------------------------------------------------- */

static int d_paper(lua_State *L) {
  const struct sl_drawing *d = sl_draw_at(L, 1);
  const char *key = luaL_checkstring(L, 2);
  const double v = sl_paper(d, key);
  if (!isfinite(v)) return luaL_error(L, "drawings have no measure '%s'", key);
  lua_pushnumber(L, v);
  return 1;
}
static int d_ratio(lua_State *L) {
  lua_pushnumber(L, sl_draw_at(L, 1)->ratio);
  return 1;
}
static int d_wide(lua_State *L) {
  const struct sl_drawing *d = sl_draw_at(L, 1);
  lua_pushnumber(L, sl_letters_width(luaL_checkstring(L, 2), height_of(L, 3, d)) * d->ratio);
  return 1;
}
static int d_box(lua_State *L) {
  const struct sl_drawing *d = sl_draw_at(L, 1);
  if (d->box.left > d->box.right) return 0;
  lua_pushnumber(L, d->box.left);
  lua_pushnumber(L, d->box.low);
  lua_pushnumber(L, d->box.right);
  lua_pushnumber(L, d->box.high);
  return 4;
}
static int d_touched(lua_State *L) {
  lua_pushstring(L, sl_drawing_touched(sl_draw_at(L, 1)));
  return 1;
}
static int d_same(lua_State *L) {
  lua_pushboolean(L, sl_drawing_same(sl_draw_at(L, 1), sl_draw_at(L, 2), lua_toboolean(L, 3)));
  return 1;
}
static int d_gc(lua_State *L) {
  sl_drawing_end(sl_draw_at(L, 1));
  return 0;
}

static int h_drawing(lua_State *L) {
  const double ratio = luaL_checknumber(L, 1);
  luaL_argcheck(L, ratio > 0 && isfinite(ratio), 1, "the ratio of a drawing");
  struct sl_drawing *d = lua_newuserdatauv(L, sizeof *d, 0);
  sl_drawing_begin(d, ratio, sl_draw_grow(L));
  luaL_setmetatable(L, NAME);
  return 1;
}

/* ---- pages ------------------------------------------------------------------------------------------------------- */

static const char *text_field(lua_State *L, int idx, const char *name) {
  if (lua_getfield(L, idx, name) != LUA_TSTRING) luaL_error(L, "a page has no %s", name);
  return lua_tostring(L, -1);
}
static double number_field(lua_State *L, int idx, const char *name) {
  lua_getfield(L, idx, name);
  const double v = luaL_checknumber(L, -1);
  lua_pop(L, 1);
  if (!isfinite(v)) luaL_error(L, "the %s of a page is no number", name);
  return v;
}

void sl_draw_page(lua_State *L, int idx, struct sl_page *p) {
  idx = lua_absindex(L, idx);
  luaL_checktype(L, idx, LUA_TTABLE);
  *p = (struct sl_page){ .width = number_field(L, idx, "width"), .height = number_field(L, idx, "height") };
  p->title = text_field(L, idx, "title");
  p->says = text_field(L, idx, "says");
  p->label = text_field(L, idx, "label");
  lua_getfield(L, idx, "sheet");
  p->sheet = sl_draw_at(L, -1);
  if (lua_getfield(L, idx, "view") == LUA_TNIL) return;
  p->view = sl_draw_at(L, -1);
  p->at_x = number_field(L, idx, "at_x");
  p->at_y = number_field(L, idx, "at_y");
}

/* The text on top of the stack, and its memory gone. */
int sl_draw_finished(lua_State *L, struct sl_written *w) {
  const bool starved = w->starved;
  luaL_Buffer b;
  if (!starved) {
    char *to = luaL_buffinitsize(L, &b, w->n + 1);
    memcpy(to, w->at, w->n);
    luaL_pushresultsize(&b, w->n);
  }
  sl_written_end(w);
  if (starved) sl_sandbox_no_memory(L);
  return 1;
}

static int w_gc(lua_State *L) {
  struct sl_written *w = lua_touserdata(L, 1);
  sl_written_end(w);
  return 0;
}

/* A text that goes with the stack, if something is raised. */
struct sl_written *sl_draw_written(lua_State *L) {
  struct sl_written *w = lua_newuserdatauv(L, sizeof *w, 0);
  sl_written_begin(w, sl_draw_grow(L));
  if (luaL_newmetatable(L, "stringline drawing written")) {
    lua_pushcfunction(L, w_gc);
    lua_setfield(L, -2, "__gc");
  }
  lua_setmetatable(L, -2);
  return w;
}

static int h_svg(lua_State *L) {
  struct sl_page page;
  sl_draw_page(L, 1, &page);
  struct sl_written *w = sl_draw_written(L);
  sl_write_svg(w, &page);
  return sl_draw_finished(L, w);
}
static int h_dxf(lua_State *L) {
  struct sl_page page;
  const double unit = luaL_checknumber(L, 2);
  sl_draw_page(L, 1, &page);
  struct sl_written *w = sl_draw_written(L);
  sl_write_dxf(w, &page, unit);
  return sl_draw_finished(L, w);
}

void sl_draw_open(lua_State *L) {
  static const luaL_Reg methods[] = {
    { "pen", d_pen }, { "layer", d_layer }, { "line", d_line }, { "polyline", d_polyline }, { "circle", d_circle },
    { "arc", d_arc }, { "text", d_text }, { "chain", d_chain }, { "running", d_running }, { "leader", d_leader },
    { "north", d_north }, { "bar", d_bar }, { "hatch", d_hatch }, { "clip", d_clip }, { "paper", d_paper },
    { "ratio", d_ratio }, { "wide", d_wide }, { "box", d_box }, { "touched", d_touched },
    { "same", d_same }, { NULL, NULL } };
  static const luaL_Reg functions[] = { { "drawing", h_drawing }, { "svg", h_svg }, { "dxf", h_dxf },
                                        { "pages", sl_draw_pages }, { NULL, NULL } };
  luaL_newmetatable(L, NAME);
  lua_pushcfunction(L, d_gc);
  lua_setfield(L, -2, "__gc");
  luaL_newlib(L, methods);
  lua_setfield(L, -2, "__index");
  lua_pop(L, 1);
  lua_getglobal(L, "host");
  luaL_setfuncs(L, functions, 0);
  lua_pop(L, 1);
}
