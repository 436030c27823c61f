/* SPDX-License-Identifier: MIT
 * The one binding, tried on every primitive: what a script may pass, what it gets, what it is told when it is wrong.
 * The numbers themselves are checked in the primitives' own suites; here they are the direct call's, bit for bit. */
#include "job_run.h"
#include "bind/open.h"
#include "value/quantity.h"
#include "sheet_check.h"

/* A good call of each primitive, as a script writes it. */
static const struct good { const char *op, *text; } goods[] = {
  { "layout", "{ module_length = 1722mm, module_width = 1134mm, orientation = 'portrait', rows = 2, columns = 4, "
        "column_gap = 20mm, "
              "row_gap = 20mm, tilt = 35deg, lower_edge = 24in }" },
  { "bearing", "{ slope_length = 136.4in, tilt = 35deg, lower_edge = 24in, fraction = 20%, stack = 11in }" },
  { "post_cut", "{ bearing_height = 30.63in, ground = 2in, hole_depth = 36in, gravel = 6in }" },
  { "diagonal", "{ along = 145in, across = 67.03in }" },
  { "rail_length", "{ row_width = 180.9in, end_allowance = 1.25in }" },
  { "station", "{ row_width = 180.9in, stations = 3, spacing = 72.5in, index = 1 }" },
  { "true_bearing", "{ compass = 184deg, declination = -4deg }" },
  { "velocity_pressure", "{ speed = 105mph, edition = 'ASCE 7-16', exposure = 'C', height = 5ft, elevation = "
        "1080ft, topographic = 1 }" },
  { "rack_wind", "{ velocity_pressure = 20psf, tilt = 30deg, slope_length = 4m, mean_height = 2m, flow = 'clear', "
        "front = 25%, back = 75%, "
                 "tributary = 2m }" },
  { "snow_load", "{ edition = 'ASCE 7-16', ground_snow = 10psf, exposure = 'C', sheltering = 'partially exposed', "
        "risk_category = 'I', "
                 "thermal = 'open air', tilt = 35deg, slippery = true }" },
  { "allowable_wind", "{ wind = 750lbf, edition = 'ASCE 7-22' }" },
  { "embed", "{ lateral = 440lbf, height = 6.5ft, width = 14in, bearing = 150psf/ft, isolated = true }" },
  { "embed_at", "{ lateral = 440lbf, height = 6.5ft, width = 14in, bearing = 150psf/ft, depth = 5ft }" },
  { "embed_constrained", "{ lateral = 440lbf, height = 6.5ft, width = 14in, bearing = 150psf/ft, isolated = false }" },
  { "pier", "{ hole_diameter = 14in, hole_depth = 36in, gravel = 6in, post_width = 5.5in, waste = 10%, bag_mass = "
        "80lb }" },
  { "uplift", "{ wind_uplift = 1000lbf, dead = 100lbf, concrete = 320lbf, post = 30lbf, edition = 'ASCE 7-16' }" },
  { "lumber", "{ section = '6x6', length = 12ft }" },
  { "soil", "{ soil_class = 'sand' }" },
  { "augers", "{ least = 13in }" },
  { "cold_voltage", "{ voc = 39.2V, coefficient = -0.25%/K, series = 4, coldest = -16degC, limit = 250V }" },
  { "cold_voltage_table", "{ voc = 37V, series = 13, coldest = -24degC, limit = 600V }" },
  { "hot_voltage", "{ vmp = 32.8V, coefficient = -0.3%/K, series = 4, hottest_air = 36degC, cell_rise = 30K }" },
  { "array_current", "{ isc = 13.9A, imp = 13.11A, parallel = 2 }" },
  { "string_fuse", "{ isc = 13.9A, parallel = 3, module_fuse = 25A, other_sources = 0A, edition = 'NEC 2023' }" },
  { "output_current", "{ power = 3440W, voltage = 51.2V }" },
  { "building_voltage", "{ building = 'dwelling' }" },
  { "facing", "{ bearing = 184deg, latitude = 36deg }" },
  { "overhead", "{ height = 12ft }" },
  { "hole", "{ post_width = 5.5in }" },
  { "insulation", "{ type = 'THWN-2' }" },
  { "ampacity", "{ material = 'copper', size = '6', insulation = 'THWN-2', terminal = '75 C', ambient = 30degC, "
        "conductors = 2, "
                "maximum = 34.75A, required = 43.4375A }" },
  { "conductor", "{ material = 'copper', size = '6', stranding = 'stranded' }" },
  { "overcurrent", "{ required = 43.4375A, ampacity = 65A, material = 'copper', size = '6', device = 'breaker', "
        "edition = 'NEC 2023' }" },
  { "grounding_conductor", "{ device = 50A, material = 'copper', edition = 'NEC 2023' }" },
  { "grounding_enlarged",
    "{ device = 300A, material = 'copper', edition = 'NEC 2023', least_size = '250', size = '350' }" },
  { "voltage_drop", "{ length = 104ft, current = 26.22A, voltage = 131.2V, material = 'copper', size = '6', "
        "stranding = 'stranded', "
                    "conductor_temperature = 75degC }" },
  { "raceway_fill", "{ kind = 'PVC 40', trade_size = '1', insulation = 'THWN-2', size = '6', count = 2, ground_size "
        "= '10', ground_count = 1 }" },
  { "bends", "{ angles = { 90deg, 90deg, 45deg } }" },
  { "cover", "{ method = 'PVC', location = 'anywhere else', edition = 'NEC 2023' }" },
  { "cut_stock", "{ pieces = { 67in, 114in, 68in }, lengths = { 8ft, 10ft }, prices = { $28, $36 }, kerf = 0.125in }" },
  { "spools", "{ cuts = { 114ft, 114ft }, lengths = { 125ft, 500ft }, prices = { $1.05/ft, $0.95/ft } }" },
  { "extended", "{ price = $6.40, quantity = 24 }" },
};

static const struct sl_op *op_named(const char *name) {
  for (size_t i = 0; sl_op_lists[i]; i++)
    for (const struct sl_op *op = sl_op_lists[i]; op->name; op++)
      if (strcmp(op->name, name) == 0) return op;
  return NULL;
}

/* A state with the row's table at 1. */
static lua_State *open_row(const struct good *g) {
  char script[1024];
  snprintf(script, sizeof script, "print(%s)\n", g->text);
  const struct job_row row = { g->op, "host.print = function(v) out = v end", script, NULL, NULL, NULL, 0 };
  job_write("job.sline", JOB, script);
  lua_State *L = sl_host_new(&job_host, NULL);
  assert_non_null(L);
  lua_pushcfunction(L, job_body);
  lua_pushlightuserdata(L, (void *)(uintptr_t)&row);
  if (sl_host_call(L, 1, 0)) {
    struct sl_message m;
    sl_error_message(L, -1, &m);
    fail_msg("%s: error[%s] %s", g->op, m.code, m.text);
  }
  lua_settop(L, 0);
  lua_getglobal(L, "out");
  assert_true(lua_istable(L, 1));
  return L;
}

static void push_copy(lua_State *L, int idx) {
  lua_newtable(L);
  for (lua_pushnil(L); lua_next(L, idx);) {
    lua_pushvalue(L, -2);
    lua_insert(L, -2);
    lua_rawset(L, -4);
  }
}

/* Calls the primitive with the table on top; true: its result is on top, else the error. */
static bool call(lua_State *L, const char *op) {
  lua_getglobal(L, "calc");
  lua_getfield(L, -1, op);
  lua_remove(L, -2);
  lua_insert(L, -2);
  return sl_host_call(L, 1, 1) == LUA_OK;
}

/* The table on top is refused, with these in the code, the message and the help. */
static void refuses(lua_State *L, const struct sl_op *op, const char *code, const char *part, const char *help) {
  bool fine = call(L, op->name);
  struct sl_message m = { .code = "", .text = "" };
  if (!fine) sl_error_message(L, -1, &m);
  if (fine || strcmp(m.code, code) != 0 || !strstr(m.text, part) || (help && (!m.help || !strstr(m.help, help))))
    fail_msg("%s: %s[%s] %s (%s); wanted [%s] %s (%s)", op->name, fine ? "no error" : "error", m.code, m.text,
          m.help ? m.help : "-",
             code, part, help ? help : "-");
  lua_settop(L, 1);
}

/* ---- what goes in and comes out, apart from the binding's own reading -------------------------------------------- */

static double number_at_top(lua_State *L) {
  const struct sl_quantity *q = sl_quantity_at(L, -1);
  return q ? q->si : lua_tonumber(L, -1);
}

static void fill(lua_State *L, const struct sl_op *op, char *in) {
  for (size_t i = 0; i < op->nin; i++) {
    const struct sl_field *f = &op->in[i];
    void *m = in + f->offset;
    const int type = lua_getfield(L, 1, f->name);
    if (type == LUA_TNIL) {
      if (f->kind == SL_FIELD_REAL) *(double *)m = NAN;
    } else if (f->kind == SL_FIELD_REAL) *(double *)m = number_at_top(L);
    else if (f->kind == SL_FIELD_COUNT) *(int *)m = (int)lua_tointeger(L, -1);
    else if (f->kind == SL_FIELD_FLAG) *(bool *)m = lua_toboolean(L, -1);
    else if (f->kind == SL_FIELD_TEXT) snprintf(m, f->size, "%s", lua_tostring(L, -1));
    else if (f->kind == SL_FIELD_CHOICE) {
      int choice = 0;
      while (strcmp(f->choices[choice], lua_tostring(L, -1)) != 0) choice++;
      *(int *)m = choice;
    } else {
      const size_t n = (size_t)lua_rawlen(L, -1);
      for (size_t k = 0; k < n; k++) {
        lua_rawgeti(L, -1, (lua_Integer)k + 1);
        ((double *)m)[k] = number_at_top(L);
        lua_pop(L, 1);
      }
      *(size_t *)(void *)(in + f->count) = n;
    }
    lua_pop(L, 1);
  }
}

static void same_real(const char *op, const char *field, double a, double b) {
  if (memcmp(&a, &b, sizeof a) != 0) fail_msg("%s.%s: %.17g through the binding, %.17g directly", op, field, a, b);
}

/* The result on top against the struct of the direct call. */
static void same_out(lua_State *L, const struct sl_op *op, const char *out) {
  for (size_t i = 0; i < op->nout; i++) {
    const struct sl_field *f = &op->out[i];
    const void *m = out + f->offset;
    lua_getfield(L, -1, f->name);
    switch (f->kind) {
    case SL_FIELD_REAL: {
      const struct sl_quantity *q = sl_quantity_at(L, -1);
      same_real(op->name, f->name, number_at_top(L), *(const double *)m);
      assert_int_equal(q ? q->dims.w : 0, sl_dim_dims(f->dim).w);
      assert_int_equal(q && q->point, f->dim == SL_TEMPERATURE);
      break;
    }
    case SL_FIELD_COUNT: assert_int_equal(lua_tointeger(L, -1), *(const int *)m); assert_true(lua_isinteger(L, -1));
          break;
    case SL_FIELD_FLAG: assert_int_equal(lua_toboolean(L, -1), *(const bool *)m); assert_true(lua_isboolean(L, -1));
          break;
    case SL_FIELD_CHOICE: assert_string_equal(lua_tostring(L, -1), f->choices[*(const int *)m]); break;
    case SL_FIELD_TEXT: assert_string_equal(lua_tostring(L, -1), m); break;
    case SL_FIELD_ARRAY: {
      const size_t n = *(const size_t *)(const void *)(out + f->count);
      assert_int_equal(lua_rawlen(L, -1), n);
      for (size_t k = 0; k < n; k++) {
        lua_rawgeti(L, -1, (lua_Integer)k + 1);
        same_real(op->name, f->name, number_at_top(L), ((const double *)m)[k]);
        lua_pop(L, 1);
      }
      break;
    }
    }
    lua_pop(L, 1);
  }
}

static void same_text(lua_State *L, const char *key, const char *want) {
  lua_getfield(L, -1, key);
  assert_string_equal(lua_tostring(L, -1), want);
  lua_pop(L, 1);
}

/* The worked sheet of the result on top, row by row. */
static void same_sheet(lua_State *L, const struct sl_op *op, const struct sl_sheet *sheet) {
  static const char *const kinds[] = { "given", "table", "step" };
  lua_getglobal(L, "worked_sheet");
  lua_pushvalue(L, -2);
  assert_int_equal(sl_host_call(L, 1, 2), LUA_OK);
  assert_string_equal(lua_tostring(L, -2), op->name);
  lua_getfield(L, -1, "lost");
  assert_int_equal(lua_tointeger(L, -1), 0);
  lua_pop(L, 1);
  assert_int_equal(lua_rawlen(L, -1), sheet->n);
  for (size_t i = 0; i < sheet->n; i++) {
    const struct sl_row *r = &sheet->row[i];
    lua_rawgeti(L, -1, (lua_Integer)i + 1);
    same_text(L, "kind", kinds[r->kind]);
    same_text(L, "symbol", r->symbol);
    same_text(L, "text", r->text);
    same_text(L, "cite", r->cite);
    same_text(L, "basis", sl_basis_name(r->basis));
    same_text(L, "dim", sl_dim_name(r->dim));
    lua_getfield(L, -1, "value");
    same_real(op->name, r->symbol, number_at_top(L), r->value);
    lua_pop(L, 2);
  }
  lua_pop(L, 2);
}

static void is_the_direct_call(void **state) {
  const struct good *g = *state;
  const struct sl_op *op = op_named(g->op);
  static struct sl_sheet sheet;
  char *in = calloc(1, op->in_size), *out = calloc(1, op->out_size);
  assert_true(in && out);
  lua_State *L = open_row(g);
  fill(L, op, in);
  sheet = (struct sl_sheet){ .cap = SL_SHEET_ROWS };
  assert_int_equal(op->call(in, out, &sheet), SL_OK);
  check_sheet(&sheet);
  push_copy(L, 1);
  if (!call(L, op->name)) {
    struct sl_message m;
    sl_error_message(L, -1, &m);
    fail_msg("%s: %s", op->name, m.text);
  }
  same_out(L, op, out);
  same_sheet(L, op, &sheet);
  sl_host_close(L);
  free(in);
  free(out);
}

/* ---- what is refused --------------------------------------------------------------------------------------------- */

static void push_set(lua_State *L, const char *field) {          /* (value on top) -> a copy of the row with it */
  push_copy(L, 1);
  lua_insert(L, -2);
  lua_setfield(L, -2, field);
}

static void push_wrong(lua_State *L, enum sl_dim dim) {
  const enum sl_dim other = dim == SL_MASS ? SL_CURRENT : SL_MASS;
  sl_quantity_push(L, (struct sl_quantity){ .si = 1, .dims = sl_dim_dims(other) });
}

static void refuse_field(lua_State *L, const struct sl_op *op, const struct sl_field *f) {
  char named[80], near[80];
  snprintf(named, sizeof named, "'%s'", f->name);
  if (!f->optional) {
    lua_pushnil(L);
    push_set(L, f->name);
    refuses(L, op, "C003", named, f->help);
  }
  push_copy(L, 1);                                               /* misspelt */
  lua_pushnil(L);
  lua_setfield(L, -2, f->name);
  snprintf(near, sizeof near, "%sx", f->name);
  lua_pushboolean(L, 1);
  lua_setfield(L, -2, near);
  snprintf(near, sizeof near, "did you mean '%s'?", f->name);
  refuses(L, op, "C002", "no field", near);

  switch (f->kind) {
  case SL_FIELD_REAL:
    push_wrong(L, f->dim);
    push_set(L, f->name);
    refuses(L, op, "C001", named, NULL);
    if (sl_dim_dims(f->dim).w != 0) {
      lua_pushnumber(L, 3);
      push_set(L, f->name);
      refuses(L, op, "C001", "got 3 (a bare number)", NULL);
    }
    lua_pushliteral(L, "3");
    push_set(L, f->name);
    refuses(L, op, "C001", "got the text", NULL);
    break;
  case SL_FIELD_COUNT:
    lua_pushnumber(L, 1.5);
    push_set(L, f->name);
    refuses(L, op, "C001", "needs a whole number (like 4), got 1.5", NULL);
    lua_pushliteral(L, "2");
    push_set(L, f->name);
    refuses(L, op, "C001", "got the text \"2\"", NULL);
    lua_pushinteger(L, (lua_Integer)1 << 40);
    push_set(L, f->name);
    refuses(L, op, "C001", named, NULL);
    break;
  case SL_FIELD_FLAG:
    lua_pushnumber(L, 1);
    push_set(L, f->name);
    refuses(L, op, "C001", "needs a true or false, got 1", NULL);
    break;
  case SL_FIELD_CHOICE:
    for (int i = 0; f->choices[i]; i++) {
      lua_pushliteral(L, "no such");
      push_set(L, f->name);
      refuses(L, op, "C001", f->choices[i], NULL);
    }
    lua_pushnumber(L, 1);
    push_set(L, f->name);
    refuses(L, op, "C001", "is one of", NULL);
    break;
  case SL_FIELD_TEXT:
    lua_pushnumber(L, 6);
    push_set(L, f->name);
    refuses(L, op, "C001", "needs a text (like \"6\"), got 6", NULL);
    lua_pushlstring(L, "6\0x", 3);
    push_set(L, f->name);
    refuses(L, op, "C001", "needs a shorter text", NULL);
    char many[200];
    memset(many, '6', sizeof many);
    lua_pushlstring(L, many, sizeof many);
    push_set(L, f->name);
    refuses(L, op, "C001", "needs a shorter text", NULL);
    break;
  case SL_FIELD_ARRAY:
    lua_pushnumber(L, 6);
    push_set(L, f->name);
    refuses(L, op, "C001", "needs a list, got 6", NULL);
    lua_newtable(L);
    push_wrong(L, f->dim);
    lua_rawseti(L, -2, 1);
    push_set(L, f->name);
    refuses(L, op, "C001", named, NULL);
    lua_newtable(L);
    for (size_t i = 0; i <= f->size; i++) {
      sl_quantity_push(L, (struct sl_quantity){ .si = 1, .dims = sl_dim_dims(f->dim) });
      lua_rawseti(L, -2, (lua_Integer)i + 1);
    }
    push_set(L, f->name);
    refuses(L, op, "C001", "takes at most", NULL);
    break;
  }
}

static void refuses_what_is_wrong(void **state) {
  const struct good *g = *state;
  const struct sl_op *op = op_named(g->op);
  lua_State *L = open_row(g);
  for (size_t i = 0; i < op->nin; i++) refuse_field(L, op, &op->in[i]);

  for (size_t i = 0; i < op->nin; i++)                           /* two values swapped */
    for (size_t k = i + 1; k < op->nin; k++) {
      const struct sl_field *a = &op->in[i], *b = &op->in[k];
      if (a->kind != SL_FIELD_REAL || b->kind != SL_FIELD_REAL || a->optional || b->optional) continue;
      if (a->dim == b->dim || sl_dim_dims(a->dim).w == 0 || sl_dim_dims(b->dim).w == 0) continue;
      char help[160];
      snprintf(help, sizeof help, "are '%s' and '%s' swapped?", a->name, b->name);
      push_copy(L, 1);
      lua_getfield(L, 1, a->name);
      lua_setfield(L, -2, b->name);
      lua_getfield(L, 1, b->name);
      lua_setfield(L, -2, a->name);
      refuses(L, op, "C001", a->name, help);
    }

  lua_pushboolean(L, 1);
  push_set(L, "zzzzzzzz");
  refuses(L, op, "C002", "no field 'zzzzzzzz'", NULL);
  push_copy(L, 1);
  lua_pushboolean(L, 1);
  lua_rawseti(L, -2, 1);
  refuses(L, op, "C002", "every value needs a name", NULL);
  lua_pushnumber(L, 5);
  refuses(L, op, "C001", "needs its inputs in braces", NULL);
  sl_host_close(L);
}

/* ---- what comes out is a number ---------------------------------------------------------------------------------- */

/* The first output of a direct call that is none, or NULL.  An optional one may be absent, never without end. */
static const char *no_number(const struct sl_op *op, const char *out) {
  for (size_t i = 0; i < op->nout; i++) {
    const struct sl_field *f = &op->out[i];
    const double *m = (const void *)(out + f->offset);
    const size_t n = f->kind == SL_FIELD_REAL ? 1 : f->kind == SL_FIELD_ARRAY ? *(const size_t *)(const void *)(out +
          f->count) : 0;
    for (size_t k = 0; k < n; k++)
      if (!isfinite(m[k]) && !(f->optional && isnan(m[k]))) return f->name;
  }
  return NULL;
}

static const double extremes[] = { 1.7976931348623157e308, 1e200, 1e155, 1e100, 1e16, 1e-16, 1e-100, 1e-155, 1e-200,
                                   2.2250738585072014e-308, 5e-324, 0 };
enum { EXTREMES = sizeof extremes / sizeof *extremes };

static size_t choices_of(const struct sl_field *f) {
  return f->kind == SL_FIELD_REAL || f->kind == SL_FIELD_ARRAY ? 2 * EXTREMES : f->kind == SL_FIELD_COUNT ? 2 : 0;
}

static void put_extreme(const struct sl_field *f, char *in, size_t which) {
  if (f->kind == SL_FIELD_COUNT) {
    *(int *)(void *)(in + f->offset) = which ? 1 : 1000000;
    return;
  }
  double *m = (void *)(in + f->offset);
  const size_t n = f->kind == SL_FIELD_REAL ? 1 : *(const size_t *)(const void *)(in + f->count);
  for (size_t k = 0; k < n; k++) m[k] = (which % 2 ? -1 : 1) * extremes[which / 2];
}

/* Every pair of inputs at the ends of what a double can hold: a refusal, or numbers. */
static void gives_numbers_or_refuses(void **state) {
  const struct good *g = *state;
  const struct sl_op *op = op_named(g->op);
  char *good = calloc(1, op->in_size), *in = calloc(1, op->in_size), *out = calloc(1, op->out_size);
  assert_true(good && in && out);
  lua_State *L = open_row(g);
  fill(L, op, good);
  sl_host_close(L);
  for (size_t a = 0; a < op->nin; a++)
    for (size_t b = a; b < op->nin; b++)
      for (size_t x = 0; x < choices_of(&op->in[a]); x++)
        for (size_t y = 0; y < (a == b ? 1 : choices_of(&op->in[b])); y++) {
          memcpy(in, good, op->in_size);
          put_extreme(&op->in[a], in, x);
          if (b != a) put_extreme(&op->in[b], in, y);
          memset(out, 0, op->out_size);
          if (op->call(in, out, NULL) != SL_OK) continue;
          const char *bad = no_number(op, out);
          if (bad) fail_msg("%s: '%s' is no number, with %s %zu and %s %zu", op->name, bad, op->in[a].name, x,
                op->in[b].name, y);
        }
  free(good);
  free(in);
  free(out);
}

/* The door itself, with a primitive that hands back what it is given: the suites above reach it no more. */
struct sl_echo_in { double real, other, items[3]; size_t nitems; int many; };
struct sl_echo_out { double real, other, items[3]; size_t nitems; int pick; char text[4]; };
static const char *const picks[] = { "one", "two", NULL };
static const struct sl_field echo_in[] = {
  SL_REAL(struct sl_echo_in, real, SL_LENGTH, "r"), SL_REAL_OPT(struct sl_echo_in, other, SL_LENGTH, "o"),
  SL_ARRAY(struct sl_echo_in, items, nitems, SL_LENGTH, "i"), SL_COUNT_OPT(struct sl_echo_in, many, "m"),
};
static const struct sl_field echo_out[] = {
  SL_REAL(struct sl_echo_out, real, SL_LENGTH, "r"), SL_REAL_OPT(struct sl_echo_out, other, SL_LENGTH, "the other one"),
  SL_ARRAY(struct sl_echo_out, items, nitems, SL_LENGTH, "i"), SL_CHOICE(struct sl_echo_out, pick, picks, "p"),
  SL_TEXT(struct sl_echo_out, text, "t"),
};
static enum sl_status sl_echo(const struct sl_echo_in *in, struct sl_echo_out *out, struct sl_sheet *sh) {
  (void)sh;
  *out = (struct sl_echo_out){ .real = in->real, .other = in->other, .nitems = in->nitems, .pick = in->many % 10 };
  memcpy(out->items, in->items, sizeof out->items);
  if (in->many == 10) out->nitems = 4;
  if (in->many == 20) memset(out->text, 'x', sizeof out->text);
  return SL_OK;
}
SL_OP_CALL(echo)
static const struct sl_op echo = SL_OP(echo, "hands back what it is given");

static const struct door {
  const char *name;
  double real, other, item;
  int many;
  const char *bad;                                               /* the output that is named; NULL: it passes */
} doors[] = {
  { "numbers pass the door", 1, 2, 3, 0, NULL },
  { "an optional output may be absent", 1, NAN, 3, 0, NULL },
  { "NaN does not pass the door", NAN, 2, 3, 0, "'real'" },
  { "nor what has no end", INFINITY, 2, 3, 0, "'real'" },
  { "nor below", -INFINITY, 2, 3, 0, "'real'" },
  { "an optional output is no way out", 1, INFINITY, 3, 0, "'other'" },
  { "NaN in a list does not pass", 1, 2, NAN, 0, "'items'" },
  { "nor what has no end in a list", 1, 2, -INFINITY, 0, "'items'" },
  { "nor a list longer than its array", 1, 2, 3, 10, "'items'" },
  { "the last choice passes", 1, 2, 3, 1, NULL },
  { "no choice past the last", 1, 2, 3, 2, "'pick'" },
  { "no choice before the first", 1, 2, 3, -1, "'pick'" },
  { "no text without an end", 1, 2, 3, 20, "'text'" },
};

static void push_length(lua_State *L, double si) {
  sl_quantity_push(L, (struct sl_quantity){ .si = si, .dims = sl_dim_dims(SL_LENGTH) });
}

static void door_holds(void **state) {
  const struct door *d = *state;
  const struct job_row row = { d->name, NULL, NULL, NULL, NULL, NULL, 0 };
  lua_State *L = sl_host_new(&job_host, NULL);
  assert_non_null(L);
  lua_pushcfunction(L, job_body);
  lua_pushlightuserdata(L, (void *)(uintptr_t)&row);
  assert_int_equal(sl_host_call(L, 1, 0), LUA_OK);
  sl_bind_push(L, &echo);
  lua_newtable(L);
  push_length(L, d->real);
  lua_setfield(L, -2, "real");
  push_length(L, d->other);
  lua_setfield(L, -2, "other");
  lua_newtable(L);
  push_length(L, 3);
  lua_rawseti(L, -2, 1);
  push_length(L, d->item);
  lua_rawseti(L, -2, 2);
  lua_setfield(L, -2, "items");
  lua_pushinteger(L, d->many);
  lua_setfield(L, -2, "many");
  const bool fine = sl_host_call(L, 1, 1) == LUA_OK;
  struct sl_message m = { .code = "", .text = "" };
  if (d->bad) {
    if (!fine) sl_error_message(L, -1, &m);
    if (fine || strcmp(m.code, "C005") != 0 || strncmp(m.text, "echo: ", 6) != 0 || !strstr(m.text, d->bad))
      fail_msg("%s: %s[%s] %s", d->name, fine ? "passed" : "error", m.code, m.text);
    lua_getfield(L, -1, "class");
    assert_string_equal(lua_tostring(L, -1), "range");
  } else {
    assert_true(fine);
    lua_getfield(L, -1, "real");
    assert_near(number_at_top(L), d->real, 1e-15);
    lua_pop(L, 1);
    lua_setglobal(L, "answer");
    const bool reads = luaL_loadstring(L, "return answer.other") == LUA_OK && sl_host_call(L, 0, 1) == LUA_OK;
    assert_int_equal(reads, !isnan(d->other));
    if (!reads) {
      sl_error_message(L, -1, &m);
      assert_string_equal(m.code, "C007");
      assert_string_equal(m.text, "echo gives no 'other' here: the other one");
      lua_getfield(L, -1, "class");
      assert_string_equal(lua_tostring(L, -1), "range");
    }
  }
  sl_host_close(L);
}

/* Every primitive of the library has a row here. */
static void every_primitive_is_tried(void **state) {
  (void)state;
  size_t n = 0;
  for (size_t i = 0; sl_op_lists[i]; i++)
    for (const struct sl_op *op = sl_op_lists[i]; op->name; op++, n++) {
      bool found = false;
      for (size_t k = 0; k < sizeof goods / sizeof *goods; k++) found |= strcmp(goods[k].op, op->name) == 0;
      if (!found) fail_msg("no call of calc.%s is tried", op->name);
    }
  assert_int_equal(n, sizeof goods / sizeof *goods);
}

/* ---- faults of range, with the words of whose range it is -------------------------------------------------------- */

#define CITED(name, call, code, part) \
  { name, "host.print = function(f) local ok, e = pcall(f) out = ok and 'worked' or e.code .. ' ' .. " \
          "tostring(e.class) .. ' ' .. (e.cite and e.cite:find('" part "', 1, true) and " \
          "e.text:find('" part "', 1, true) and 'cited' or 'cite: ' .. tostring(e.cite)) end", \
    "print(function() return calc." call " end)\n", "return out", code " range cited", NULL, 0 }
static const struct job_row ranges[] = {
  CITED("tilt beyond the wind figure", "rack_wind{ velocity_pressure = 20psf, tilt = 60deg, slope_length = 4m, "
        "mean_height = 2m, flow = 'clear', "
        "front = 25%, back = 75%, tributary = 2m }", "C005", "ASCE 7"),
  CITED("terminal of a conductor hotter than its table",
        "ampacity{ material = 'copper', size = '6', insulation = 'THWN-2', terminal = '75 C', "
        "ambient = 90degC, conductors = 2, maximum = 34.75A, required = 43.4A }", "C005", "310.15"),
  CITED("no such conductor", "conductor{ material = 'copper', size = '5', stranding = 'stranded' }", "C006", "Table 8"),
  CITED("a device beyond the standard ratings", "overcurrent{ required = 9000A, ampacity = 65A, material = "
        "'copper', size = '6', device = 'breaker', "
        "edition = 'NEC 2023' }", "C005", "240.6"),
  CITED("a device beyond the grounding table",
        "grounding_conductor{ device = 9000A, material = 'copper', edition = 'NEC 2023' }", "C005",
        "250.122"),
  CITED("colder than the voltage table", "cold_voltage_table{ voc = 37V, series = 13, coldest = -60degC, limit = "
        "600V }", "C005", "690.7"),
  CITED("no such section", "lumber{ section = '5x5', length = 12ft }", "C006", "NDS"),
  CITED("no such raceway", "raceway_fill{ kind = 'EMT', trade_size = '7', insulation = 'THWN-2', size = '6', count "
        "= 2 }", "C006", "Table 4"),
};

/* ---- the rest ---------------------------------------------------------------------------------------------------- */

#define POST "{ lateral = 440lbf, height = 6.5ft, width = 14in, bearing = 150psf/ft }"
#define KEEP "host.print = function(v) out = v end"
static const struct job_row others[] = {
  { "a worked result cannot be changed", NULL, "\ncalc.embed" POST ".depth = 3ft\n", NULL, "cannot be changed",
        "C008", 2 },
  { "no such output", NULL, "\nprint(calc.embed" POST ".dept)\n", NULL, "embed gives no 'dept'", "C002", 2 },
  { "an output by number", NULL, "\nprint(calc.embed" POST "[1])\n", NULL, "embed gives no '1'", "C002", 2 },
  { "no such primitive", NULL, "\ncalc.embedd" POST "\n", NULL, "calc has no primitive 'embedd'", "E001", 2 },
  { "calc cannot be changed", NULL, "\ncalc.embed = nil\n", NULL, "calc cannot be changed", "D008", 2 },
  { "a sheet of something else", KEEP, "print(3ft)\n", "return worked_sheet(out)",
        "sheet needs the result of a primitive, got 3 ft", "C001", 0 },
  { "pounds where a force is wanted", NULL, "\ncalc.output_current{ power = 3kW, voltage = 2lb }\n", NULL,
        "needs a voltage", "C001", 2 },
  { "pounds for pounds of force", "host.print = function(f) local ok, e = pcall(f) out = e.help end",
    "print(function() calc.allowable_wind{ wind = 750lb, edition = 'ASCE 7-16' } end)\n", "return out",
    "lb is a mass: write lbf where a force is meant", NULL, 0 },
  { "wrong input names the value", NULL, "\ncalc.embed{ lateral = -440lbf, height = 6.5ft, width = 14in, bearing = "
        "150psf/ft }\n", NULL,
    "embed: 'lateral' ", "C004", 2 },
  { "and it is the caller's mistake, not a range", "host.print = function(f) local ok, e = pcall(f) out = "
        "tostring(e.class) end",
    "print(function() return calc.embed{ lateral = -440lbf, height = 6.5ft, width = 14in, bearing = 150psf/ft } "
          "end)\n", "return out", "nil", NULL, 0 },
  { "a search without end is told", NULL, "\ncalc.embed{ lateral = 4e9lbf, height = 6.5ft, width = 14in, bearing = "
        "150psf/ft }\n", NULL,
    "embed: ", "C007", 2 },
  /* 1e308 m and 1e308 m: the diagonal is 1.4e308 m, and 1.3e308 m both ways 1.8e308, above what a double holds */
  { "inputs that overflow leave what asks unknown", NULL,
        "\nlocal far = 1e308m * 1.3 print(calc.diagonal{ along = far, across = far }.diagonal)\n", NULL,
        "diagonal: 'c' comes out as no number", "C005", 2 },
  /* a string that never reaches its limit: 1 module of 39.2 V under 250 V wants (250 / 39.2 - 1) / 0.0025 = 2151 K of
   * cold, and there are 298 */
  { "an output that is not there is told", NULL, "\nprint(calc.cold_voltage{ voc = 39.2V, coefficient = -0.25%/K, "
        "series = 1, coldest = -16degC, limit = 250V }.flip)\n", NULL,
        "cold_voltage gives no 'flip' here: colder than this", "C007", 2 },
  { "a list behind a proxy is read", "host.print = function(v) out = v end "
    "function boot_list(list) return setmetatable({}, { __index = list, __len = function() return #list end }) end",
    "print(90deg)\n", "return host.format(calc.bends{ angles = boot_list{ out, out, out } }.total)", "270 deg", NULL,
          0 },
  { "a list longer than a primitive takes is out of its range: what asks is unknown", KEEP, "",
    "local angles = {} for i = 1, 100 do angles[i] = host.literal '1deg' end local _, e = pcall(calc.bends, { angles = "
    "angles }) return host.class(e) .. (e.text:find 'at most %d+ items, got 100' and '' or e.text)", "range", NULL, 0 },
  { "values may be inherited", KEEP, "print" POST "\n",
        "local all = setmetatable({ width = out.width }, { __index = out }) "
    "return host.same(calc.embed(all).depth, calc.embed(out).depth)", "true", NULL, 0 },
  { "but not misspelt beside them", KEEP, "print" POST "\n",
        "return calc.embed(setmetatable({ widht = out.width }, { __index = out }))",
    "no field 'widht'", "C002", 0 },
  { "of two unknown fields the first by name is told", NULL, "\ncalc.embed{ zz = 1, yy = 2, aa = 3, mm = 4 }\n",
        NULL, "no field 'aa'", "C002", 2 },
  { "money keeps no other kind out", NULL, "\ncalc.extended{ price = 6.40, quantity = 24 }\n", NULL,
        "'price' needs a money", "C001", 2 },
  { "a temperature is no difference", NULL, "\ncalc.hot_voltage{ vmp = 32.8V, coefficient = -0.3%/K, series = 4, "
        "hottest_air = 36degC, "
    "cell_rise = 30degC }\n", NULL, "'cell_rise' needs a temperature difference", "C001", 2 },
  { "primitives are listed with their fields", NULL, "",
        "local n = 0 for _, p in ipairs(primitives()) do assert(#p.inputs > 0 and #p.outputs > 0 and "
    "#p.help > 0) for _, f in ipairs(p.inputs) do assert(#f.help > 0 and f.kind, f.name) n = n + 1 end end return n "
          "> 100", "true", NULL, 0 },
};

int main(void) {
  static struct CMUnitTest tests[224];
  static char names[3][sizeof goods / sizeof *goods][64];
  size_t n = 0;
  for (size_t i = 0; i < sizeof goods / sizeof *goods; i++) {
    snprintf(names[0][i], sizeof names[0][i], "%s is the direct call", goods[i].op);
    snprintf(names[1][i], sizeof names[1][i], "%s refuses what is wrong", goods[i].op);
    snprintf(names[2][i], sizeof names[2][i], "%s gives numbers or refuses", goods[i].op);
    tests[n++] = (struct CMUnitTest){ names[0][i], is_the_direct_call, NULL, NULL, (void *)(uintptr_t)&goods[i] };
    tests[n++] = (struct CMUnitTest){ names[1][i], refuses_what_is_wrong, NULL, NULL, (void *)(uintptr_t)&goods[i] };
    tests[n++] = (struct CMUnitTest){ names[2][i], gives_numbers_or_refuses, NULL, NULL, (void *)(uintptr_t)&goods[i] };
  }
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(every_primitive_is_tried);
  for (size_t i = 0; i < sizeof doors / sizeof *doors; i++)
    tests[n++] = (struct CMUnitTest){ doors[i].name, door_holds, NULL, NULL, (void *)(uintptr_t)&doors[i] };
  JOB_ROWS(tests, n, ranges);
  JOB_ROWS(tests, n, others);
  return _cmocka_run_group_tests("bind", tests, n, job_setup, job_teardown);
}
