/* SPDX-License-Identifier: MIT
 * What a script may hand to a primitive: of each of them every field is made wrong in its turn, and told where; rows of
 * a primitive whose rows have fields of every kind. */
#include "good_calls.h"

/* Where a field is: of the inputs, or of row `item` of their list `list`. */
struct spot { const struct sl_op *op; const struct sl_field *list; int item; };

/* The table on top is refused, with these in the code, the message and the help; the message says where. */
static void refuses(lua_State *L, const struct spot *spot, const char *code, const char *part, const char *help) {
  char where[200];
  if (spot->list) snprintf(where, sizeof where, "%s: %s[%d]: ", spot->op->name, spot->list->name, spot->item);
  else snprintf(where, sizeof where, "%s", spot->op->name);
  bool fine = call(L, spot->op->name);
  struct sl_message m = { .code = "", .text = "" };
  if (!fine) sl_error_message(L, -1, &m);
  if (fine || strcmp(m.code, code) != 0 || strncmp(m.text, where, strlen(where)) != 0 || !strstr(m.text, part) ||
      (help && (!m.help || !strstr(m.help, help))))
    fail_msg("%s: %s[%s] %s (%s); wanted [%s] %s (%s)", where, fine ? "no error" : "error", m.code, m.text,
             m.help ? m.help : "-", code, part, help ? help : "-");
  lua_settop(L, 1);
}

/* ---- what is refused --------------------------------------------------------------------------------------------- */

/* (value on top) -> a copy of the good call in which the field has it. */
static void push_set(lua_State *L, const struct spot *spot, const char *field) {
  push_copy(L, 1);
  if (!spot->list) {
    lua_insert(L, -2);
    lua_setfield(L, -2, field);
    return;
  }
  lua_getfield(L, -1, spot->list->name);
  push_copy(L, lua_gettop(L));                                   /* value, call, list, its copy */
  lua_remove(L, -2);
  lua_geti(L, -1, spot->item);
  push_copy(L, lua_gettop(L));                                   /* value, call, list, row, its copy */
  lua_remove(L, -2);
  lua_pushvalue(L, -4);
  lua_setfield(L, -2, field);
  lua_seti(L, -2, spot->item);
  lua_setfield(L, -2, spot->list->name);
  lua_remove(L, -2);
}

static void push_wrong(lua_State *L, enum sl_dim dim) {
  const enum sl_dim other = dim == SL_MASS ? SL_CURRENT : SL_MASS;
  sl_quantity_push(L, (struct sl_quantity){ .si = 1, .dims = sl_dim_dims(other) });
}

static void refuse_fields(lua_State *L, const struct spot *spot, const struct sl_field *fields, size_t n);

static void refuse_field(lua_State *L, const struct spot *spot, const struct sl_field *f) {
  char named[80], near[80];
  snprintf(named, sizeof named, "'%s'", f->name);
  if (!f->optional) {
    lua_pushnil(L);
    push_set(L, spot, f->name);
    refuses(L, spot, "C003", named, f->help);
  }
  snprintf(near, sizeof near, "%sx", f->name);                   /* misspelt, beside the right one */
  lua_pushboolean(L, 1);
  push_set(L, spot, near);
  snprintf(near, sizeof near, "did you mean '%s'?", f->name);
  refuses(L, spot, "C002", "no field", near);

  switch (f->kind) {
  case SL_FIELD_REAL:
    push_wrong(L, f->dim);
    push_set(L, spot, f->name);
    refuses(L, spot, "C001", named, NULL);
    if (sl_dim_dims(f->dim).w != 0) {
      lua_pushnumber(L, 3);
      push_set(L, spot, f->name);
      refuses(L, spot, "C001", "got 3 (a bare number)", NULL);
    }
    lua_pushliteral(L, "3");
    push_set(L, spot, f->name);
    refuses(L, spot, "C001", "got the text", NULL);
    break;
  case SL_FIELD_COUNT:
    lua_pushnumber(L, 1.5);
    push_set(L, spot, f->name);
    refuses(L, spot, "C001", "needs a whole number (like 4), got 1.5", NULL);
    lua_pushliteral(L, "2");
    push_set(L, spot, f->name);
    refuses(L, spot, "C001", "got the text \"2\"", NULL);
    lua_pushinteger(L, (lua_Integer)1 << 40);
    push_set(L, spot, f->name);
    refuses(L, spot, "C001", named, NULL);
    break;
  case SL_FIELD_FLAG:
    lua_pushnumber(L, 1);
    push_set(L, spot, f->name);
    refuses(L, spot, "C001", "needs a true or false, got 1", NULL);
    break;
  case SL_FIELD_CHOICE:
    for (int i = 0; f->choices[i]; i++) {
      lua_pushliteral(L, "no such");
      push_set(L, spot, f->name);
      refuses(L, spot, "C001", f->choices[i], NULL);
    }
    lua_pushlstring(L, f->choices[0], strlen(f->choices[0]) + 1);   /* a NUL behind it */
    push_set(L, spot, f->name);
    refuses(L, spot, "C001", "is one of", NULL);
    lua_pushnumber(L, 1);
    push_set(L, spot, f->name);
    refuses(L, spot, "C001", "is one of", NULL);
    break;
  case SL_FIELD_TEXT:
    lua_pushnumber(L, 6);
    push_set(L, spot, f->name);
    refuses(L, spot, "C001", "needs a text (like \"6\"), got 6", NULL);
    lua_pushlstring(L, "6\0x", 3);
    push_set(L, spot, f->name);
    refuses(L, spot, "C001", "needs a shorter text", NULL);
    char many[200];
    memset(many, '6', sizeof many);
    lua_pushlstring(L, many, sizeof many);
    push_set(L, spot, f->name);
    refuses(L, spot, "C001", "needs a shorter text", NULL);
    break;
  case SL_FIELD_LIST:
    lua_pushnumber(L, 6);
    push_set(L, spot, f->name);
    refuses(L, spot, "C001", "needs a list, got 6", NULL);
    lua_newtable(L);
    push_wrong(L, f->dim);
    lua_rawseti(L, -2, 1);
    push_set(L, spot, f->name);
    snprintf(named, sizeof named, "'%s[1]' needs", f->name);
    refuses(L, spot, "C001", named, NULL);
    break;
  case SL_FIELD_ROWS: {
    lua_pushnumber(L, 6);
    push_set(L, spot, f->name);
    refuses(L, spot, "C001", "needs a list of tables, got 6", NULL);
    lua_getfield(L, 1, f->name);
    const int rows = (int)lua_rawlen(L, -1);
    lua_settop(L, 1);
    for (int i = 1; i <= rows; i++) {
      lua_getfield(L, 1, f->name);
      push_copy(L, 2);
      lua_remove(L, 2);
      lua_pushnumber(L, 7);
      lua_rawseti(L, -2, i);
      push_set(L, spot, f->name);
      snprintf(named, sizeof named, "'%s[%d]' needs a table, got 7", f->name, i);
      refuses(L, spot, "C001", named, NULL);
      refuse_fields(L, &(struct spot){ spot->op, f, i }, f->fields, f->nfields);
    }
    break;
  }
  }
}

/* Two values of the spot swapped. */
static void refuse_swapped(lua_State *L, const struct spot *spot, const char *a, const char *b) {
  char help[160];
  snprintf(help, sizeof help, "are '%s' and '%s' swapped?", a, b);
  if (spot->list) {
    lua_getfield(L, 1, spot->list->name);
    lua_geti(L, -1, spot->item);
    lua_remove(L, -2);
  } else lua_pushvalue(L, 1);
  lua_getfield(L, 2, a);                                         /* the spot's table is at 2 */
  push_set(L, spot, b);                                          /* 3: a call with b made wrong */
  lua_replace(L, 1);
  lua_getfield(L, 2, b);
  push_set(L, spot, a);
  lua_remove(L, 2);
  refuses(L, spot, "C001", a, help);
}

static void refuse_fields(lua_State *L, const struct spot *spot, const struct sl_field *fields, size_t n) {
  for (size_t i = 0; i < n; i++) refuse_field(L, spot, &fields[i]);
  for (size_t i = 0; i < n; i++)
    for (size_t k = i + 1; k < n; k++) {
      const struct sl_field *a = &fields[i], *b = &fields[k];
      if (a->kind != SL_FIELD_REAL || b->kind != SL_FIELD_REAL || a->optional || b->optional) continue;
      if (a->dim == b->dim || sl_dim_dims(a->dim).w == 0 || sl_dim_dims(b->dim).w == 0) continue;
      lua_pushvalue(L, 1);                                       /* kept in the registry: the call at 1 is replaced */
      const int kept = luaL_ref(L, LUA_REGISTRYINDEX);
      refuse_swapped(L, spot, a->name, b->name);
      lua_rawgeti(L, LUA_REGISTRYINDEX, kept);
      lua_replace(L, 1);
      luaL_unref(L, LUA_REGISTRYINDEX, kept);
    }
  lua_pushboolean(L, 1);
  push_set(L, spot, "zzzzzzzz");
  refuses(L, spot, "C002", "no field 'zzzzzzzz'", NULL);
}

static void refuses_what_is_wrong(void **state) {
  const struct good *g = *state;
  const struct spot spot = { op_named(g->op), NULL, 0 };
  lua_State *L = open_row(g);
  refuse_fields(L, &spot, spot.op->in, spot.op->nin);
  push_copy(L, 1);
  lua_pushboolean(L, 1);
  lua_rawseti(L, -2, 1);
  refuses(L, &spot, "C002", "every value needs a name", NULL);
  lua_pushnumber(L, 5);
  refuses(L, &spot, "C001", "needs its inputs in braces", NULL);
  sl_host_close(L);
}

/* ---- rows, with a primitive whose rows have fields of every kind ------------------------------------------------- */

static const char *const picks[] = { "one", "two", NULL };
struct sl_cart_row { double width, load, spare; int count, pick; bool heavy; char text[4]; };
struct sl_cart_in { const struct sl_cart_row *rows; size_t nrows; double width; };
struct sl_cart_out { double total; const struct sl_cart_row *rows; size_t nrows; };
static const struct sl_field cart_row[] = {
  SL_REAL(struct sl_cart_row, width, SL_LENGTH, "how wide"), SL_REAL(struct sl_cart_row, load, SL_FORCE, "how heavy"),
  SL_REAL_OPT(struct sl_cart_row, spare, SL_LENGTH, "what is left"), SL_COUNT(struct sl_cart_row, count, "how many"),
  SL_CHOICE(struct sl_cart_row, pick, picks, "which"), SL_FLAG(struct sl_cart_row, heavy, "whether"),
  SL_TEXT(struct sl_cart_row, text, "what"),
};
static const struct sl_field cart_in[] = {
  SL_ROWS(struct sl_cart_in, rows, nrows, struct sl_cart_row, cart_row, "all"),
  SL_REAL(struct sl_cart_in, width, SL_LENGTH, "of the whole"),
};
static const struct sl_field cart_out[] = {
  SL_REAL(struct sl_cart_out, total, SL_LENGTH, "of the widths"),
  SL_ROWS(struct sl_cart_out, rows, nrows, struct sl_cart_row, cart_row, "as they came in"),
};
static enum sl_status sl_cart(const struct sl_cart_in *in, struct sl_cart_out *out, struct sl_sheet *sh) {
  *out = (struct sl_cart_out){ .rows = in->rows, .nrows = in->nrows };
  for (size_t i = 0; i < in->nrows; i++) {
    if (!(in->rows[i].width > 0)) {
      *sh = (struct sl_sheet){ .fault = { .member = "rows[i].width", .item = i + 1, .text = "must be greater than 0",
                                          .cite = "", .value = in->rows[i].width, .limit = NAN, .dim = SL_LENGTH } };
      return SL_BAD_INPUT;
    }
    if (strcmp(in->rows[i].text, "no") == 0) {
      *sh = (struct sl_sheet){ .fault = { .member = "rows[i].text", .item = i + 1, .text = "is none", .cite = "page 1",
                                          .value = NAN, .limit = NAN } };
      return SL_NO_ROW;
    }
    out->total += in->rows[i].width;
  }
  return SL_OK;
}
SL_OP_CALL(cart)
static const struct sl_op cart = SL_OP(cart, "adds up");

/* A state in which calc has that primitive alone, the good call at 1. */
static lua_State *open_cart(void) {
  static const struct good good = { "cart",
    "{ width = 9m, rows = { { width = 1m, load = 2lbf, count = 3, pick = 'one', heavy = false, text = 'a' }, "
    "{ width = 2m, load = 1lbf, spare = 1ft, count = 1, pick = 'two', heavy = true, text = 'abc' } } }" };
  lua_State *L = open_row(&good);
  lua_newtable(L);
  sl_bind_push(L, &cart);
  lua_setfield(L, -2, "cart");
  lua_setglobal(L, "calc");
  return L;
}

static void rows_are_looked_at(void **state) {
  (void)state;
  lua_State *L = open_cart();
  refuse_fields(L, &(struct spot){ &cart, NULL, 0 }, cart_in, sizeof cart_in / sizeof *cart_in);
  sl_host_close(L);
}

static const struct { const char *script, *want; } carts[] = {
  { "local w = calc.cart(t) return host.format(w.total, 'm') .. #w.rows .. w.rows[2].text .. "
    "tostring(w.rows[2].heavy) .. w.rows[1].pick .. w.rows[1].count .. tostring(w.rows[3]) .. "
    "tostring(w.rows[0]) .. tostring(w.rows[1.5])",
    "3 m2abctrueone3nilnilnil" },
  { "local s = '' for i, r in ipairs(calc.cart(t).rows) do s = s .. i .. r.text end return s", "1a2abc" },
  { "return host.format(calc.cart(t).rows[2].spare, 'ft')", "1 ft" },
  { "return calc.cart(t).rows[1].spare", "C007 cart gives no 'spare' here: what is left" },
  { "return calc.cart(t).rows[1].widht", "C002 cart gives no 'widht'" },
  { "return calc.cart(t).rows.width", "C002 cart gives a list 'rows': its rows have numbers, as in rows[1].width" },
  { "calc.cart(t).rows[1] = 1", "C008 a worked result cannot be changed" },
  { "calc.cart(t).rows[1].width = 1", "C008 a worked result cannot be changed" },
  { "local r = calc.cart(t).rows[2] t = nil write_over() return r.text", "abc" },
  { "t.rows[2].width = -t.rows[2].width return calc.cart(t)",
    "C004 cart: 'rows[2].width' must be greater than 0; got -78.7402 in" },
  { "t.rows[2].text = 'no' return calc.cart(t)", "C006 cart: 'rows[2].text' is none; got \"no\" \xe2\x80\x94 page 1" },
  { "t.rows[1] = setmetatable({ width = t.rows[2].width }, { __index = t.rows[1] }) return "
    "host.format(calc.cart(t).total, 'm')", "4 m" },
  { "t.rows[1] = setmetatable({ widht = 1 }, { __index = t.rows[1] }) return calc.cart(t)",
    "C002 cart: rows[1]: no field 'widht'" },
  { "t.rows[2][1] = 3 return calc.cart(t)", "C002 cart: rows[2]: every value needs a name, as in `width = ...`" },
  { "t.rows = {} return host.format(calc.cart(t).total, 'm') .. #calc.cart(t).rows", "0 m0" },
  { "t.rows = setmetatable({}, { __len = function() return 3 end, __index = function() return t.one end }) "
    "t.one, t.one = nil, nil return calc.cart(t)", "C001 cart: 'rows[1]' needs a table, got nothing" },
  { "local rows = {} for i = 1, 3000 do rows[i] = t.rows[1] end return host.format(calc.cart { width = t.width, rows = "
    "rows }.total, 'm')", "3000 m" },
};

static void rows_are_read_in_place(void **state) {
  (void)state;
  for (size_t i = 0; i < sizeof carts / sizeof *carts; i++) {
    lua_State *L = open_cart();
    char said[400];
    lua_pushvalue(L, 1);
    lua_setglobal(L, "t");
    lua_settop(L, 0);
    lua_pushcfunction(L, h_write_over);
    lua_setglobal(L, "write_over");
    assert_int_equal(luaL_loadstring(L, carts[i].script), LUA_OK);
    if (sl_host_call(L, 0, 1) == LUA_OK) snprintf(said, sizeof said, "%s", luaL_tolstring(L, -1, NULL));
    else {
      struct sl_message m;
      sl_error_message(L, -1, &m);
      snprintf(said, sizeof said, "%s %s", m.code, m.text);
    }
    if (strcmp(said, carts[i].want) != 0) fail_msg("%s: %s; wanted %s", carts[i].script, said, carts[i].want);
    sl_host_close(L);
  }
}

int main(void) {
  static struct CMUnitTest tests[256];
  static char names[sizeof goods / sizeof *goods][64];
  size_t n = 0;
  for (size_t i = 0; i < sizeof goods / sizeof *goods; i++) {
    snprintf(names[i], sizeof names[i], "%s refuses what is wrong", goods[i].op);
    tests[n++] = (struct CMUnitTest){ names[i], refuses_what_is_wrong, NULL, NULL, (void *)(uintptr_t)&goods[i] };
  }
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(rows_are_looked_at);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(rows_are_read_in_place);
  return _cmocka_run_group_tests("take", tests, n, job_setup, job_teardown);
}
