/* SPDX-License-Identifier: MIT
 * What the host's own Lua gets from C: the `host` table and `import`. */
#include "host.h"

#include <lauxlib.h>
#include <lualib.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#include "bind/open.h"
#include "csv.h"
#include "library.h"
#include "quantity.h"
#include "raise.h"

static const char HOST = 'h', LOADED = 'l';

/* ---- scanned sources: marks for places ---------------------------------------------------------------------------- */

static struct sl_scan scans[256];

static void keep_scan(int source, struct sl_scan *scan) {
  if (source <= 0 || source > 255) {
    sl_scan_free(scan);
    return;
  }
  sl_scan_free(&scans[source]);
  sl_origins_keep(source, scan->k, scan->nk);
  scans[source] = *scan;
}

static bool mark_is(int source, const struct sl_mark *m, const char *word) {
  size_t n;
  const char *text = sl_source_line(source, m->span.line, &n);
  size_t at = (size_t)m->span.col - 1, length = (size_t)m->span.len, want = strlen(word);
  if (!text || at + length > n) return false;
  text += at;
  if (length >= 2 && (*text == '"' || *text == '\'')) { text++; length -= 2; }     /* ["name"] = */
  return length == want && memcmp(text, word, want) == 0;
}

static bool names(int source, const struct sl_mark *m, const char *name) {
  size_t n;
  const char *text = sl_source_line(source, m->value.line, &n);
  size_t at = (size_t)m->value.col - 1, length = (size_t)m->value.len, want = strlen(name);
  return m->value.line && text && at + length <= n && length == want + 2 && memcmp(text + at + 1, name, want) == 0;
}

/* The head of a declaration on a line: by kind and name, by kind, or the last such head above; -1. */
static int find_head(int source, int line, const char *kind, const char *name) {
  int best = -1, score = -1;
  if (source <= 0 || source > 255) return -1;
  for (size_t i = 0; i < scans[source].nmark; i++) {
    const struct sl_mark *m = &scans[source].mark[i];
    if (m->kind != SL_MARK_HEAD || m->span.line > line || !mark_is(source, m, kind)) continue;
    int points = (m->span.line == line ? 2 : 0) + (name && names(source, m, name) ? 1 : 0);
    if (points >= score && (points > score || m->span.line > scans[source].mark[best].span.line)) { best = (int)i; score = points; }
  }
  return best;
}

static int child_of(int source, enum sl_mark_kind kind, int parent) {
  for (size_t i = 0; i < scans[source].nmark; i++)
    if (scans[source].mark[i].kind == kind && scans[source].mark[i].parent == parent) return (int)i;
  return -1;
}

/* Item n (from 1) or key `word` directly in the constructor that opens at mark `open`; -1. */
static int entry_of(int source, int open, const char *word, lua_Integer n) {
  lua_Integer count = 0;
  for (size_t i = 0; i < scans[source].nmark; i++) {
    const struct sl_mark *m = &scans[source].mark[i];
    if (m->parent != open) continue;
    if (word && m->kind == SL_MARK_KEY && mark_is(source, m, word)) return (int)i;
    if (!word && m->kind == SL_MARK_ITEM && ++count == n) return (int)i;
  }
  return -1;
}

/* ---- places ------------------------------------------------------------------------------------------------------- */

static void push_span(lua_State *L, int source, struct sl_span s) {
  lua_createtable(L, 0, 4);
  lua_pushinteger(L, source);
  lua_setfield(L, -2, "source");
  lua_pushinteger(L, s.line);
  lua_setfield(L, -2, "line");
  lua_pushinteger(L, s.col);
  lua_setfield(L, -2, "col");
  lua_pushinteger(L, s.len);
  lua_setfield(L, -2, "len");
}

static int h_where(lua_State *L) {
  int source = 0, line = 0;
  sl_where(L, &source, &line);
  lua_pushinteger(L, source);
  lua_pushinteger(L, line);
  return 2;
}

static int h_head(lua_State *L) {
  lua_pushinteger(L, find_head((int)luaL_checkinteger(L, 1), (int)luaL_checkinteger(L, 2), luaL_checkstring(L, 3),
                               luaL_optstring(L, 4, NULL)));
  return 1;
}

/* span(source, head mark, line, path, key only): the place of a field, or of the nearest thing around it. */
static int h_span(lua_State *L) {
  int source = (int)luaL_checkinteger(L, 1), mark = (int)luaL_checkinteger(L, 2), line = (int)luaL_checkinteger(L, 3);
  bool key_only = lua_toboolean(L, 5);
  struct sl_span span = { line, 1, 0 };
  if (source > 0 && source <= 255 && mark >= 0 && (size_t)mark < scans[source].nmark) {
    span = scans[source].mark[mark].span;
    size_t n = lua_rawlen(L, 4);
    int holder = mark;
    for (size_t i = 1; i <= n; i++) {
      int open = child_of(source, SL_MARK_OPEN, holder);
      if (open < 0) break;
      int type = lua_rawgeti(L, 4, (lua_Integer)i);
      int entry = type == LUA_TSTRING ? entry_of(source, open, lua_tostring(L, -1), 0)
                                      : entry_of(source, open, NULL, lua_tointeger(L, -1));
      lua_pop(L, 1);
      if (entry < 0) break;
      const struct sl_mark *m = &scans[source].mark[entry];
      span = key_only || m->kind == SL_MARK_ITEM || m->value.len == 0 ? m->span : m->value;
      if (m->kind == SL_MARK_ITEM && m->value.len) span = m->value;
      holder = entry;
    }
  } else if (source > 0) {
    size_t n;
    const char *text = sl_source_line(source, line, &n);
    size_t from = 0;
    while (text && from < n && (text[from] == ' ' || text[from] == '\t')) from++;
    span = (struct sl_span){ line, (int)from + 1, text ? (int)(n - from) : 0 };
  }
  push_span(L, source, span);
  return 1;
}

static int h_origin(lua_State *L) {
  const struct sl_quantity *q = sl_quantity_at(L, 1);
  int source = 0;
  const struct sl_const *k = q && q->origin ? sl_origin_const(q->origin, &source) : NULL;
  if (!k) return 0;
  push_span(L, source, k->span);
  if (k->tolerance > 0) {
    sl_quantity_push(L, (struct sl_quantity){ .si = k->tolerance, .dims = k->unit.dims, .hint = k->hint, .currency = k->unit.currency });
    lua_setfield(L, -2, "tolerance");
  }
  return 1;
}

static int integer_of(lua_State *L, int idx, const char *name) {
  lua_getfield(L, idx, name);
  int n = (int)lua_tointeger(L, -1);
  lua_pop(L, 1);
  return n;
}

static int h_place(lua_State *L) {
  int source = integer_of(L, 1, "source"), line = integer_of(L, 1, "line"), col = integer_of(L, 1, "col");
  const char *name = source ? sl_source_name(source) : NULL;
  if (!name) lua_pushliteral(L, "the command line");
  else if (!line) lua_pushstring(L, name);
  else lua_pushfstring(L, "%s:%d:%d", name, line, col);
  return 1;
}

/* ---- errors ------------------------------------------------------------------------------------------------------- */

/* raise{ code, text, help, source, line, col, len, labels, notes, class, ... } */
static int h_raise(lua_State *L) {
  luaL_checktype(L, 1, LUA_TTABLE);
  lua_getfield(L, 1, "text");
  const char *text = luaL_optstring(L, -1, "something is wrong");
  lua_getfield(L, 1, "code");
  const char *code = luaL_optstring(L, -1, "D000");
  sl_error_push(L, code, NULL, "%s", text);
  int error = lua_gettop(L);
  for (lua_pushnil(L); lua_next(L, 1); lua_pop(L, 1)) {
    lua_pushvalue(L, -2);
    lua_pushvalue(L, -2);
    lua_rawset(L, error);
  }
  lua_settop(L, error);
  return lua_error(L);
}

/* word(source, line, word): its place on the line. */
static int h_word(lua_State *L) {
  int source = (int)luaL_checkinteger(L, 1), line = (int)luaL_checkinteger(L, 2);
  push_span(L, source, sl_find_word(source, line, luaL_checkstring(L, 3)));
  return 1;
}

static int h_class(lua_State *L) {
  if (!sl_is_error(L, 1)) return 0;
  lua_getfield(L, 1, "class");
  return 1;
}

/* ---- values ------------------------------------------------------------------------------------------------------- */

static int dim_by_name(const char *name) {
  for (int d = 0; d < SL_DIM_COUNT; d++)
    if (strcmp(sl_dim_name((enum sl_dim)d), name) == 0) return d;
  return -1;
}

static enum sl_dim dim_argument(lua_State *L, int idx) {
  const char *name = luaL_checkstring(L, idx);
  int d = dim_by_name(name);
  if (d < 0) luaL_error(L, "no dimension '%s'", name);
  return (enum sl_dim)d;
}

static int h_is(lua_State *L) {
  enum sl_dim dim = dim_argument(L, 2);
  const struct sl_quantity *q = sl_quantity_at(L, 1);
  bool yes = q ? q->dims.w == sl_dim_dims(dim).w && (q->point != 0) == (dim == SL_TEMPERATURE)
               : lua_type(L, 1) == LUA_TNUMBER && sl_dim_dims(dim).w == 0;
  lua_pushboolean(L, yes);
  return 1;
}

static int h_example(lua_State *L) {
  lua_pushstring(L, sl_dim_example(dim_argument(L, 1)));
  return 1;
}

static int h_describe(lua_State *L) {
  char text[256];
  lua_settop(L, 1);
  if (lua_istable(L, 1) && luaL_getmetafield(L, 1, "__name") == LUA_TSTRING) {
    lua_pushfstring(L, "a %s", lua_tostring(L, -1));
    return 1;
  }
  sl_describe_value(L, 1, text, sizeof text);
  lua_pushstring(L, text);
  return 1;
}

static double si_of(lua_State *L, int idx) {
  const struct sl_quantity *q = sl_quantity_at(L, idx);
  return q ? q->si : luaL_checknumber(L, idx);
}

static int h_si(lua_State *L) { lua_pushnumber(L, si_of(L, 1)); return 1; }
static int h_near(lua_State *L) { lua_pushboolean(L, sl_equal(si_of(L, 1), si_of(L, 2))); return 1; }
static int h_size(lua_State *L) { lua_pushnumber(L, fabs(si_of(L, 1))); return 1; }
static int h_signed_size(lua_State *L) { lua_pushnumber(L, si_of(L, 1)); return 1; }

static int h_abs(lua_State *L) {
  const struct sl_quantity *q = sl_quantity_at(L, 1);
  if (!q) lua_pushnumber(L, fabs(luaL_checknumber(L, 1)));
  else {
    struct sl_quantity r = *q;
    r.si = fabs(r.si);
    sl_quantity_push(L, r);
  }
  return 1;
}

static int h_same_kind(lua_State *L) {
  const struct sl_quantity *a = sl_quantity_at(L, 1), *b = sl_quantity_at(L, 2);
  lua_pushboolean(L, a && b && a->dims.w == b->dims.w && a->point == b->point && (!a->currency || !b->currency || a->currency == b->currency));
  return 1;
}

static int h_same(lua_State *L) {
  const struct sl_quantity *a = sl_quantity_at(L, 1), *b = sl_quantity_at(L, 2);
  if (a && b) lua_pushboolean(L, a->dims.w == b->dims.w && a->point == b->point && a->currency == b->currency && sl_equal(a->si, b->si));
  else if (lua_type(L, 1) == LUA_TNUMBER && lua_type(L, 2) == LUA_TNUMBER) lua_pushboolean(L, sl_equal(lua_tonumber(L, 1), lua_tonumber(L, 2)));
  else lua_pushboolean(L, lua_rawequal(L, 1, 2));
  return 1;
}

static int h_quantity(lua_State *L) {
  double si = luaL_checknumber(L, 1);
  enum sl_dim dim = dim_argument(L, 2);
  sl_quantity_push(L, (struct sl_quantity){ .si = si, .dims = sl_dim_dims(dim), .point = dim == SL_TEMPERATURE });
  return 1;
}

/* like(q, si): another amount of the same kind and unit. */
static int h_like(lua_State *L) {
  const struct sl_quantity *q = sl_quantity_at(L, 1);
  if (!q) {
    lua_settop(L, 2);
    return 1;
  }
  struct sl_quantity r = *q;
  r.si = luaL_checknumber(L, 2);
  r.origin = 0;
  sl_quantity_push(L, r);
  return 1;
}

static int h_literal(lua_State *L) {
  size_t n;
  const char *text = luaL_checklstring(L, 1, &n);
  struct sl_const k;
  struct sl_complaint bad;
  if (!sl_scan_literal(text, n, &k, &bad)) {
    lua_pushnil(L);
    lua_pushstring(L, bad.text);
    lua_pushstring(L, bad.help);
    lua_pushinteger(L, bad.span.col);
    return 4;
  }
  sl_const_push(L, &k, 0);
  return 1;
}

static int h_wire(lua_State *L) {
  struct sl_wire w;
  size_t n;
  if (sl_wire_at(L, 1)) lua_pushvalue(L, 1);
  else if (lua_type(L, 1) == LUA_TSTRING) {
    const char *text = lua_tolstring(L, 1, &n);
    if (!sl_wire_parse(text, n, &w)) return 0;
    sl_wire_push(L, &w);
  } else return 0;
  return 1;
}

static int h_nearest(lua_State *L) {
  const char *word = luaL_checkstring(L, 1);
  size_t n = lua_rawlen(L, 2);
  luaL_checkstack(L, (int)n + 4, "names");
  const char **list = lua_newuserdatauv(L, (n + 1) * sizeof *list, 0);
  for (size_t i = 0; i < n; i++) {
    lua_rawgeti(L, 2, (lua_Integer)i + 1);
    list[i] = lua_tostring(L, -1);       /* kept alive by the table */
    lua_pop(L, 1);
  }
  const char *near = sl_nearest(word, list, n);
  if (!near) return 0;
  lua_pushstring(L, near);
  return 1;
}

/* ---- printing ----------------------------------------------------------------------------------------------------- */

static struct sl_style job_style = { .us = true, .written = true };

/* style{ us, fraction }: how the job prints. */
static int h_style(lua_State *L) {
  lua_getfield(L, 1, "us");
  job_style.us = lua_toboolean(L, -1);
  lua_getfield(L, 1, "fraction");
  job_style.fraction = (int)lua_tointeger(L, -1);
  return 0;
}

/* format(value[, unit[, digits]]) */
static int h_format(lua_State *L) {
  char text[160];
  const struct sl_quantity *q = sl_quantity_at(L, 1);
  const struct sl_wire *w = sl_wire_at(L, 1);
  const char *unit = luaL_optstring(L, 2, NULL);
  struct sl_style style = job_style;
  style.digits = (int)luaL_optinteger(L, 3, 4);
  if (w) {
    sl_describe_value(L, 1, text, sizeof text);
    char *open = strstr(text, " (");
    if (open) *open = 0;
  } else if (q && unit && !q->currency && !(style.fraction && q->dims.w == sl_dim_dims(SL_LENGTH).w)) {
    sl_format_in(text, sizeof text, q->si, unit, style.digits);
  } else if (q) {
    sl_format(text, sizeof text, q, &style);
  } else if (lua_type(L, 1) == LUA_TNUMBER) {
    if (unit) sl_format_in(text, sizeof text, lua_tonumber(L, 1), unit, style.digits);
    else sl_format_number(text, sizeof text, lua_tonumber(L, 1), style.digits);
  } else {
    lua_pushstring(L, sl_sandbox_tostring(L, 1, NULL));
    return 1;
  }
  lua_pushstring(L, text);
  return 1;
}

/* feet(length[, denominator[, inches only]]): 8 ft 11-3/8 in. */
static int h_feet(lua_State *L) {
  char text[96];
  const struct sl_quantity *q = sl_quantity_at(L, 1);
  luaL_argcheck(L, q && q->dims.w == sl_dim_dims(SL_LENGTH).w, 1, "a length");
  struct sl_style style = { .us = true, .fraction = (int)luaL_optinteger(L, 2, 8), .inches_only = lua_toboolean(L, 3) };
  sl_format(text, sizeof text, q, &style);
  lua_pushstring(L, text);
  return 1;
}

/* Digits at which two values print apart. */
static int h_digits_apart(lua_State *L) {
  const struct sl_quantity *q = sl_quantity_at(L, 1);
  struct sl_unit u = { .factor = 1 };
  struct sl_unit_error err;
  const char *unit = lua_type(L, 3) == LUA_TSTRING ? lua_tostring(L, 3) : q ? sl_unit_text(q->hint) : "";
  if (*unit && strcmp(unit, "ft-in") != 0 && !(q && q->currency)) sl_unit_parse(unit, strlen(unit), &u, &err);
  lua_pushinteger(L, sl_digits_apart(si_of(L, 1), si_of(L, 2), u.factor, u.offset));
  return 1;
}

/* SI value, unit text, for machine output. */
static int h_unit(lua_State *L) {
  const struct sl_quantity *q = sl_quantity_at(L, 1);
  if (!q) return 0;
  char name[80];
  lua_pushstring(L, sl_dims_name(q->dims, q->point, name, sizeof name));
  lua_pushstring(L, sl_unit_text(q->hint));
  lua_pushstring(L, q->currency ? sl_currency_code(q->currency) : "");
  return 3;
}

/* ---- files -------------------------------------------------------------------------------------------------------- */

static const struct sl_host *host_of(lua_State *L) {
  lua_rawgetp(L, LUA_REGISTRYINDEX, &HOST);
  const struct sl_host *h = lua_touserdata(L, -1);
  lua_pop(L, 1);
  return h;
}

/* find(name, ending): the path of a file that a script names: job folder first, then STRINGLINE_PATH. nil: nowhere;
 * then the second value is the path in the job folder. */
static int h_find(lua_State *L) {
  size_t n;
  const char *name = luaL_checklstring(L, 1, &n), *ending = luaL_optstring(L, 2, "");
  if (n == 0 || n != strlen(name) || name[0] == '/' || strcmp(name, "..") == 0 || strncmp(name, "../", 3) == 0 ||
      strstr(name, "/../") || (n >= 3 && strcmp(name + n - 3, "/..") == 0) || strchr(name, '\\'))
    return sl_raise(L, "F020", "files are named from the job's folder, as in parts/modules.csv", "the name '%s' leads out of the job's folder", name);
  const char *folder = host_of(L)->folder;
  if (*folder) lua_pushfstring(L, "%s/%s%s", folder, name, ending);
  else lua_pushfstring(L, "%s%s", name, ending);
  const char *first = lua_tostring(L, -1);
  if (access(first, F_OK) == 0) return 1;
  const char *path = getenv("STRINGLINE_PATH");
  while (path && *path) {
    size_t length = strcspn(path, ":");
    if (length) {
      lua_pushlstring(L, path, length);
      lua_pushfstring(L, "%s/%s%s", lua_tostring(L, -1), name, ending);
      if (access(lua_tostring(L, -1), F_OK) == 0) return 1;
      lua_pop(L, 2);
    }
    path += length + (path[length] == ':');
  }
  lua_pushnil(L);
  lua_pushstring(L, first);
  return 2;
}

/* Reads a file into the sources; raises where it cannot. Returns the id. */
static int read_source(lua_State *L, const char *path) {
  char why[512];
  char *text;
  size_t n;
  if (!sl_file_read(path, &text, &n, why, sizeof why)) sl_raise(L, "F021", NULL, "cannot read %s: %s", path, why);
  int source = sl_source_add(path, text, n);
  free(text);
  if (source <= 0 || source > 255) sl_raise(L, "F022", NULL, "more than 255 files in one job");
  return source;
}

static void complaint(lua_State *L, int source, const struct sl_complaint *c) {
  sl_error_push(L, c->code, *c->help ? c->help : NULL, "%s", c->text);
  sl_error_place(L, source, c->span);
}

/* _K(): the constants of a file, once, to its own first line. */
static int give_constants(lua_State *L) {
  lua_pushvalue(L, lua_upvalueindex(1));
  lua_pushnil(L);
  lua_replace(L, lua_upvalueindex(1));
  return 1;
}

/* load(path, env): scans and compiles a script; plain Lua where the name ends in .lua. Returns the function, source id. */
static int h_load(lua_State *L) {
  const char *path = luaL_checkstring(L, 1);
  size_t length = strlen(path), n;
  luaL_checktype(L, 2, LUA_TTABLE);
  int source = read_source(L, path);
  const char *text = sl_source_text(source, &n);
  bool plain = length > 4 && strcmp(path + length - 4, ".lua") == 0;
  struct sl_scan scan;
  if (!plain) {
    if (!sl_scan(text, n, &scan)) return luaL_error(L, "not enough memory");
    if (scan.nbad) {
      complaint(L, source, &scan.bad[0]);
      lua_newtable(L);
      for (size_t i = 1; i < scan.nbad; i++) {
        complaint(L, source, &scan.bad[i]);
        lua_rawseti(L, -2, (lua_Integer)i);
      }
      lua_setfield(L, -2, "more");
      sl_scan_free(&scan);
      return lua_error(L);
    }
    if (scan.nk) {
      lua_createtable(L, (int)scan.nk, 0);
      for (size_t i = 0; i < scan.nk; i++) {
        sl_const_push(L, &scan.k[i], sl_origin(source, i));
        lua_rawseti(L, -2, (lua_Integer)i + 1);
      }
      lua_pushcclosure(L, give_constants, 1);
      lua_pushliteral(L, "_K");
      lua_insert(L, -2);
      lua_rawset(L, 2);                                    /* env._K; the scanner lets no script say that name */
    }
    luaL_Buffer b;
    luaL_buffinit(L, &b);
    if (scan.nk) luaL_addstring(&b, "local _K=_K() ");
    luaL_addlstring(&b, scan.text, scan.len);
    luaL_pushresult(&b);
    keep_scan(source, &scan);
    text = lua_tolstring(L, -1, &n);
  }
  lua_pushfstring(L, "@%s", path);
  if (sl_sandbox_load(L, text, n, lua_tostring(L, -1))) {
    lua_pushcfunction(L, sl_error_handler);
    lua_insert(L, -2);
    lua_call(L, 1, 1);
    return lua_error(L);
  }
  lua_pushvalue(L, 2);
  lua_setupvalue(L, -2, 1);
  lua_pushinteger(L, source);
  return 2;
}

/* csv(path): { source, head = { cell ... }, rows = { { cell ... } ... } }, cell = { text, line, col, len } */
static void push_cell(lua_State *L, const struct sl_csv_cell *c) {
  lua_createtable(L, 0, 4);
  lua_pushlstring(L, c->text, c->len);
  lua_setfield(L, -2, "text");
  lua_pushinteger(L, c->span.line);
  lua_setfield(L, -2, "line");
  lua_pushinteger(L, c->span.col);
  lua_setfield(L, -2, "col");
  lua_pushinteger(L, c->span.len);
  lua_setfield(L, -2, "len");
}

static int h_csv(lua_State *L) {
  const char *path = luaL_checkstring(L, 1);
  int source = read_source(L, path);
  size_t n;
  const char *text = sl_source_text(source, &n);
  struct sl_csv csv;
  struct sl_complaint bad;
  if (!sl_csv_read(text, n, &csv, &bad)) {
    complaint(L, source, &bad);
    return lua_error(L);
  }
  lua_newtable(L);
  lua_pushinteger(L, source);
  lua_setfield(L, -2, "source");
  lua_createtable(L, (int)csv.columns, 0);
  for (size_t c = 0; c < csv.columns; c++) {
    push_cell(L, &csv.head[c]);
    lua_rawseti(L, -2, (lua_Integer)c + 1);
  }
  lua_setfield(L, -2, "head");
  lua_createtable(L, (int)csv.rows, 0);
  for (size_t r = 0; r < csv.rows; r++) {
    lua_createtable(L, (int)csv.columns, 0);
    for (size_t c = 0; c < csv.columns; c++) {
      push_cell(L, sl_csv_at(&csv, r, c));
      lua_rawseti(L, -2, (lua_Integer)c + 1);
    }
    lua_rawseti(L, -2, (lua_Integer)r + 1);
  }
  lua_setfield(L, -2, "rows");
  sl_csv_free(&csv);
  return 1;
}

/* ---- calling script code ------------------------------------------------------------------------------------------ */

/* call(f, ...): runs a script's function under the limits; its errors get their place and go on up. */
static int h_call(lua_State *L) {
  int n = lua_gettop(L);
  lua_pushcfunction(L, sl_error_handler);
  lua_insert(L, 1);
  if (sl_sandbox_call(L, n - 1, LUA_MULTRET, 1)) {
    const char *why = sl_sandbox_abort(L);
    if (why && !sl_is_error(L, -1)) sl_error_stopped(L, why);
    return lua_error(L);
  }
  return lua_gettop(L) - 1;
}

/* A script's environment: the safe library, and functions that know quantities. Trigonometry takes angles. */
static int h_env(lua_State *L) {
  static const char *const plain[] = { "abs", "ceil", "exp", "floor", "fmod", "huge", "log", "maxinteger", "mininteger", "modf", "pi",
                                       "random", "tointeger", "type", "ult", NULL };
  static const char *const ours[] = { "sin", "cos", "tan", "asin", "acos", "atan2", "sqrt", "min", "max", NULL };
  sl_sandbox_push_env(L);
  int env = lua_gettop(L);
  sl_quantity_functions(L, env);
  lua_getfield(L, env, "math");
  lua_newtable(L);
  for (int i = 0; plain[i]; i++) {
    lua_getfield(L, -2, plain[i]);
    lua_setfield(L, -2, plain[i]);
  }
  for (int i = 0; ours[i]; i++) {
    lua_getfield(L, env, ours[i]);
    lua_setfield(L, -2, ours[i]);
  }
  sl_sandbox_push_library(L, "math");
  lua_setfield(L, env, "math");
  lua_settop(L, env);
  return 1;
}

static int h_left_out(lua_State *L) {
  lua_pushstring(L, sl_sandbox_left_out(luaL_checkstring(L, 1)));
  return 1;
}

static int h_print(lua_State *L) {
  int n = lua_gettop(L);
  for (int i = 1; i <= n; i++) {
    size_t length;
    const char *text;
    if (sl_quantity_at(L, i)) {
      lua_pushcfunction(L, h_format);
      lua_pushvalue(L, i);
      lua_call(L, 1, 1);
      text = lua_tolstring(L, -1, &length);
    } else text = sl_sandbox_tostring(L, i, &length);
    if (i > 1) putchar('\t');
    fwrite(text, 1, length, stdout);
    lua_settop(L, n);
  }
  putchar('\n');
  return 0;
}

/* Pairs of a table of the host's own, sorted by key. */
static int h_keys(lua_State *L) {
  lua_newtable(L);
  lua_Integer n = 0;
  for (lua_pushnil(L); lua_next(L, 1); lua_pop(L, 1)) {
    lua_pushvalue(L, -2);
    lua_rawseti(L, 2, ++n);
  }
  return 1;
}

static int h_message(lua_State *L) {
  struct sl_message m;
  sl_error_message(L, 1, &m);
  lua_pushstring(L, m.text);
  lua_pushstring(L, m.help);
  return 2;
}

static int h_write(lua_State *L) {
  for (int i = 1; i <= lua_gettop(L); i++) {
    size_t n;
    const char *text = luaL_checklstring(L, i, &n);
    fwrite(text, 1, n, stdout);
  }
  return 0;
}

/* units() -> the unit table's rows. */
static int h_units(lua_State *L) {
  const struct sl_unit_row *rows;
  size_t n = sl_unit_rows(&rows);
  lua_createtable(L, (int)n, 0);
  for (size_t i = 0; i < n; i++) {
    lua_createtable(L, 0, 6);
    sl_error_field(L, "symbol", rows[i].symbol);
    sl_error_field(L, "aliases", rows[i].aliases);
    sl_error_field(L, "name", rows[i].name);
    sl_error_field(L, "definition", rows[i].definition);
    sl_error_field(L, "refused", rows[i].refused);
    sl_error_field(L, "dimension", rows[i].dimension);
    sl_error_field(L, "source", rows[i].source);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  return 1;
}

/* fresh(): the library is loaded anew at its next import, for another run in the same state. */
static int h_fresh(lua_State *L) {
  lua_newtable(L);
  lua_rawsetp(L, LUA_REGISTRYINDEX, &LOADED);
  return 0;
}

static int import(lua_State *L) {
  sl_host_import(L, luaL_checkstring(L, 1));
  return 1;
}

void sl_host_import(lua_State *L, const char *name) {
  lua_rawgetp(L, LUA_REGISTRYINDEX, &LOADED);
  int loaded = lua_gettop(L);
  if (lua_getfield(L, loaded, name) != LUA_TNIL) {
    lua_remove(L, loaded);
    return;
  }
  lua_pop(L, 1);
  const struct sl_module *m = sl_library;
  while (m->name && strcmp(m->name, name) != 0) m++;
  if (!m->name) luaL_error(L, "no module '%s' in the library", name);
  if (luaL_loadbufferx(L, (const char *)m->code, m->size, name, "b")) lua_error(L);
  lua_call(L, 0, 1);
  if (lua_isnil(L, -1)) {
    lua_pop(L, 1);
    lua_pushboolean(L, 1);
  }
  lua_pushvalue(L, -1);
  lua_setfield(L, loaded, name);
  lua_remove(L, loaded);
}

/* ---- the state ---------------------------------------------------------------------------------------------------- */

lua_State *sl_host_new(const struct sl_host *host, const struct sl_limits *limits) {
  static const luaL_Reg functions[] = {
    { "where", h_where }, { "head", h_head }, { "span", h_span }, { "origin", h_origin }, { "place", h_place }, { "word", h_word },
    { "raise", h_raise }, { "class", h_class }, { "message", h_message },
    { "is", h_is }, { "example", h_example }, { "describe", h_describe }, { "si", h_si }, { "near", h_near },
    { "size", h_size }, { "signed_size", h_signed_size }, { "abs", h_abs }, { "same_kind", h_same_kind }, { "same", h_same },
    { "quantity", h_quantity }, { "like", h_like }, { "literal", h_literal }, { "wire", h_wire }, { "nearest", h_nearest },
    { "style", h_style }, { "format", h_format }, { "feet", h_feet }, { "digits_apart", h_digits_apart }, { "unit", h_unit },
    { "find", h_find }, { "load", h_load }, { "csv", h_csv }, { "call", h_call }, { "env", h_env }, { "left_out", h_left_out },
    { "print", h_print }, { "keys", h_keys }, { "write", h_write }, { "units", h_units }, { "fresh", h_fresh },
    { NULL, NULL },
  };
  lua_State *L = sl_sandbox_new(limits);
  if (!L) return NULL;
  lua_gc(L, LUA_GCINC, 1000, 0, 0);        /* a run is short: collect when the heap has grown tenfold */
  job_style = (struct sl_style){ .us = true, .written = true };
  lua_pushlightuserdata(L, (void *)(uintptr_t)host);
  lua_rawsetp(L, LUA_REGISTRYINDEX, &HOST);
  lua_newtable(L);
  lua_rawsetp(L, LUA_REGISTRYINDEX, &LOADED);
  sl_raise_open(L);
  sl_quantity_open(L);
  sl_bind_open(L);
  lua_newtable(L);
  luaL_setfuncs(L, functions, 0);
  sl_quantity_functions(L, -1);
  lua_setglobal(L, "host");
  lua_pushcfunction(L, import);
  lua_setglobal(L, "import");
  return L;
}

void sl_host_close(lua_State *L) { sl_sandbox_close(L); }

int sl_host_call(lua_State *L, int nargs, int nresults) {
  int base = lua_gettop(L) - nargs;
  lua_pushcfunction(L, sl_error_handler);
  lua_insert(L, base);
  int status = lua_pcall(L, nargs, nresults, base);
  lua_remove(L, base);
  return status;
}

void sl_host_report(lua_State *L) {
  const struct sl_host *h = host_of(L);
  struct sl_message m;
  sl_error_message(L, -1, &m);
  sl_message_print(stderr, &m, h->format, h->colour);
  if (lua_istable(L, -1) && lua_getfield(L, -1, "more") == LUA_TTABLE)
    for (size_t i = 1; i <= lua_rawlen(L, -1); i++) {
      lua_rawgeti(L, -1, (lua_Integer)i);
      sl_error_message(L, -1, &m);
      sl_message_print(stderr, &m, h->format, h->colour);
      lua_pop(L, 1);
    }
  lua_settop(L, 0);
}
