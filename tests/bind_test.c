/* SPDX-License-Identifier: MIT
 * The one binding, tried on every primitive: what a script gets is what the direct call gives, bit for bit, and numbers
 * whatever goes in.  The numbers themselves are checked in the primitives' own suites. */
#include "good_calls.h"

/* What the items of lists lie in: one primitive's at a time. */
static struct { char bytes[4096]; size_t used; } pool;

static char *pool_take(size_t bytes) {
  char *at = pool.bytes + pool.used;
  pool.used += (bytes + 15) / 16 * 16;
  assert_true(pool.used <= sizeof pool.bytes);
  return at;
}

static void fill_fields(lua_State *L, int table, const struct sl_field *fields, size_t nfields, char *in) {
  for (size_t i = 0; i < nfields; i++) {
    const struct sl_field *f = &fields[i];
    void *m = in + f->offset;
    const int type = lua_getfield(L, table, f->name);
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
      char *items = pool_take(n * f->size);
      memset(items, 0, n * f->size);
      for (size_t k = 0; k < n; k++) {
        lua_rawgeti(L, -1, (lua_Integer)k + 1);
        if (f->kind == SL_FIELD_LIST) ((double *)(void *)items)[k] = number_at_top(L);
        else fill_fields(L, lua_gettop(L), f->fields, f->nfields, items + k * f->size);
        lua_pop(L, 1);
      }
      memcpy(m, &items, sizeof items);
      memcpy(in + f->count, &n, sizeof n);
    }
    lua_pop(L, 1);
  }
}

static void fill(lua_State *L, const struct sl_op *op, char *in) {
  pool.used = 0;
  fill_fields(L, 1, op->in, op->nin, in);
}

static void same_real(const char *op, const char *field, double a, double b) {
  if (memcmp(&a, &b, sizeof a) != 0) fail_msg("%s.%s: %.17g through the binding, %.17g directly", op, field, a, b);
}

/* The result on top, or a row of it, against the struct of the direct call. */
static int read_member(lua_State *L) {
  lua_gettable(L, 1);
  return 1;
}
/* Whether the result on top tells that it has no such member, which is what its absence reads as. */
static bool has_none(lua_State *L, const char *name) {
  struct sl_message m = { .code = "" };
  lua_pushcfunction(L, read_member);
  lua_pushvalue(L, -2);
  lua_pushstring(L, name);
  const bool reads = sl_host_call(L, 2, 1) == LUA_OK;
  if (!reads) sl_error_message(L, -1, &m);
  lua_pop(L, 1);
  return !reads && strcmp(m.code, "C007") == 0;
}

static void same_out(lua_State *L, const char *op, const struct sl_field *fields, size_t nfields, const char *out) {
  for (size_t i = 0; i < nfields; i++) {
    const struct sl_field *f = &fields[i];
    const void *m = out + f->offset;
    if (f->kind == SL_FIELD_REAL && f->optional && isnan(*(const double *)m)) {
      if (!has_none(L, f->name)) fail_msg("%s gives no '%s', which can be read", op, f->name);
      continue;
    }
    lua_getfield(L, -1, f->name);
    switch (f->kind) {
    case SL_FIELD_REAL: {
      const struct sl_quantity *q = sl_quantity_at(L, -1);
      same_real(op, f->name, number_at_top(L), *(const double *)m);
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
    case SL_FIELD_LIST: case SL_FIELD_ROWS: {
      size_t n;
      const char *items = op_items(f, out, &n);
      assert_int_equal(luaL_len(L, -1), n);
      for (size_t k = 0; k < n; k++) {
        lua_geti(L, -1, (lua_Integer)k + 1);
        const char *item = items + k * f->size;
        if (f->kind == SL_FIELD_LIST) same_real(op, f->name, number_at_top(L), *(const double *)(const void *)item);
        else same_out(L, op, f->fields, f->nfields, item);
        lua_pop(L, 1);
      }
      lua_geti(L, -1, (lua_Integer)n + 1);
      assert_true(lua_isnil(L, -1));
      lua_pop(L, 1);
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
  static const char *const kinds[] = { "given", "table", "step", "word", "heading", "lines", "line", "end" };
  lua_getglobal(L, "worked_sheet");
  lua_pushvalue(L, -2);
  assert_int_equal(sl_host_call(L, 1, 2), LUA_OK);
  assert_string_equal(lua_tostring(L, -2), op->name);
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
    lua_getfield(L, -2, "item");
    assert_int_equal(lua_tointeger(L, -1), r->item);
    lua_pop(L, 3);
  }
  lua_pop(L, 2);
}

/* Empties the lists that the call read: the result has its own. */
static void spoil_lists(lua_State *L, const struct sl_op *op) {
  for (size_t i = 0; i < op->nin; i++) {
    if (op->in[i].kind < SL_FIELD_LIST) continue;
    lua_getfield(L, 1, op->in[i].name);
    for (lua_Integer k = luaL_len(L, -1); k > 0; k--) {
      lua_rawgeti(L, -1, k);
      for (size_t f = 0; f < op->in[i].nfields; f++) {
        lua_pushboolean(L, 0);
        lua_setfield(L, -2, op->in[i].fields[f].name);
      }
      lua_pop(L, 1);
      lua_pushnil(L);
      lua_rawseti(L, -2, k);
    }
    lua_pop(L, 1);
  }
  write_over(L);
}

static void is_the_direct_call(void **state) {
  const struct good *g = *state;
  const struct sl_op *op = op_named(g->op);
  SHEET(sheet);
  char *in = calloc(1, op->in_size), *out = calloc(1, op->out_size);
  assert_true(in && out);
  lua_State *L = open_row(g);
  fill(L, op, in);
  assert_int_equal(op_call(op, in, out, &sheet), SL_OK);
  check_sheet(&sheet);
  push_copy(L, 1);
  if (!call(L, op->name)) {
    struct sl_message m;
    sl_error_message(L, -1, &m);
    fail_msg("%s: %s", op->name, m.text);
  }
  spoil_lists(L, op);
  same_out(L, op->name, op->out, op->nout, out);
  same_sheet(L, op, &sheet);
  same_out(L, op->name, op->out, op->nout, out);                 /* working it again changed nothing */
  sl_host_close(L);
  free(in);
  free(out);
}

/* ---- what comes out is a number ---------------------------------------------------------------------------------- */

/* The first output of a direct call that is none, or NULL.  An optional one may be absent, never without end. */
static const char *no_number(const struct sl_field *fields, size_t nfields, const char *out) {
  for (size_t i = 0; i < nfields; i++) {
    const struct sl_field *f = &fields[i];
    const double *m = (const void *)(out + f->offset);
    if (f->kind == SL_FIELD_REAL && !isfinite(*m) && !(f->optional && isnan(*m))) return f->name;
    if (f->kind < SL_FIELD_LIST) continue;
    size_t n;
    const char *items = op_items(f, out, &n);
    for (size_t k = 0; k < n; k++)
      if (f->kind == SL_FIELD_LIST ? !isfinite(((const double *)(const void *)items)[k])
                                   : no_number(f->fields, f->nfields, items + k * f->size) != NULL) return f->name;
  }
  return NULL;
}

static const double extremes[] = { 1.7976931348623157e308, 1e200, 1e155, 1e100, 1e16, 1e-16, 1e-100, 1e-155, 1e-200,
                                   2.2250738585072014e-308, 5e-324, 0 };
enum { EXTREMES = sizeof extremes / sizeof *extremes, MOST_NUMBERS = 64 };

/* A number that goes in: where it stands; all items of a list of numbers as one; those of a row each. */
struct number { const struct sl_field *f; char *at; size_t n; };

static size_t numbers_of(const struct sl_field *fields, size_t nfields, char *in, struct number *to, size_t n) {
  for (size_t i = 0; i < nfields; i++) {
    const struct sl_field *f = &fields[i];
    size_t items = 1;
    char *at = in + f->offset;
    if (f->kind >= SL_FIELD_LIST) at = op_items(f, in, &items);
    assert_true(n < MOST_NUMBERS);
    if (f->kind == SL_FIELD_ROWS)
      for (size_t k = 0; k < items; k++) n = numbers_of(f->fields, f->nfields, at + k * f->size, to, n);
    else if (f->kind == SL_FIELD_REAL || f->kind == SL_FIELD_LIST || f->kind == SL_FIELD_COUNT)
      to[n++] = (struct number){ f, at, items };
  }
  return n;
}

static size_t choices_of(const struct number *number) {
  return number->f->kind == SL_FIELD_COUNT ? 2 : 2 * EXTREMES;
}

static void put_extreme(const struct number *number, size_t which) {
  if (number->f->kind == SL_FIELD_COUNT) *(int *)(void *)number->at = which ? 1 : 1000000;
  else
    for (size_t k = 0; k < number->n; k++)
      ((double *)(void *)number->at)[k] = (which % 2 ? -1 : 1) * extremes[which / 2];
}

/* Every pair of inputs at the ends of what a double can hold: a refusal, or numbers. */
static void gives_numbers_or_refuses(void **state) {
  const struct good *g = *state;
  const struct sl_op *op = op_named(g->op);
  static char kept[sizeof pool.bytes];
  struct number numbers[MOST_NUMBERS];
  char *good = calloc(1, op->in_size), *in = calloc(1, op->in_size), *out = calloc(1, op->out_size);
  assert_true(good && in && out);
  lua_State *L = open_row(g);
  fill(L, op, good);
  sl_host_close(L);
  memcpy(in, good, op->in_size);
  memcpy(kept, pool.bytes, sizeof kept);
  const size_t n = numbers_of(op->in, op->nin, in, numbers, 0);
  for (size_t a = 0; a < n; a++)
    for (size_t b = a; b < n; b++)
      for (size_t x = 0; x < choices_of(&numbers[a]); x++)
        for (size_t y = 0; y < (a == b ? 1 : choices_of(&numbers[b])); y++) {
          memcpy(in, good, op->in_size);
          memcpy(pool.bytes, kept, sizeof kept);
          put_extreme(&numbers[a], x);
          if (b != a) put_extreme(&numbers[b], y);
          memset(out, 0, op->out_size);
          if (op->call(in, out, room_again(op_need(op, in)), NULL) != SL_OK) continue;
          const char *bad = no_number(op->out, op->nout, out);
          if (bad) fail_msg("%s: '%s' is no number, with %s %zu and %s %zu", op->name, bad, numbers[a].f->name, x,
                numbers[b].f->name, y);
        }
  free(good);
  free(in);
  free(out);
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

/* A primitive that is told an edition of the NEC cites that one alone, in all three. */
static void sheets_cite_their_edition(void **state) {
  (void)state;
  static const char *const editions[] = { "NEC 2017", "NEC 2020", "NEC 2023" };
  size_t tried = 0, cited = 0;
  for (size_t k = 0; k < sizeof goods / sizeof *goods; k++)
    for (size_t e = 0; e < sizeof editions / sizeof *editions && strstr(goods[k].text, "'NEC 2023'"); e++) {
      char text[512];
      const size_t len = strlen(editions[e]);
      assert_true(strlen(goods[k].text) < sizeof text);
      strcpy(text, goods[k].text);
      for (char *at = text; (at = strstr(at, "'NEC 2023'")); at++) memcpy(at + 1, editions[e], len);
      const struct good asked = { goods[k].op, text };
      const struct sl_op *op = op_named(asked.op);
      SHEET(sheet);
      char *in = calloc(1, op->in_size), *out = calloc(1, op->out_size);
      assert_true(in && out);
      lua_State *L = open_row(&asked);
      fill(L, op, in);
      SHEET_ANEW(sheet);
      assert_int_equal(op_call(op, in, out, &sheet), SL_OK);
      for (size_t i = 0; i < sheet.n; i++) {
        const char *cite = sheet.row[i].cite;
        if (!cite || (*cite != '@' && !strstr(cite, "NEC"))) continue;
        cited++;
        if (strncmp(cite, editions[e], len) != 0) fail_msg("%s under %s cites %s", op->name, editions[e], cite);
      }
      tried++;
      sl_host_close(L);
      free(in);
      free(out);
    }
  assert_int_equal(tried, 3 * 17);
  assert_true(cited > 2 * tried);
}

/* ---- faults of range, with the words of whose range it is -------------------------------------------------------- */

#define CITED(name, call, code, part) \
  { name, "host.print = function(f) local ok, e = pcall(f) out = ok and 'worked' or e.code .. ' ' .. " \
          "tostring(e.class) .. ' ' .. (e.cite and e.cite:find('" part "', 1, true) and " \
          "e.text:find('" part "', 1, true) and 'cited' or 'cite: ' .. tostring(e.cite)) end", \
    "print(function() return calc." call " end)\n", "return out", code " range cited", NULL, 0 }
static const struct job_row ranges[] = {
  CITED("tilt beyond the wind figure", "roof_wind{ velocity_pressure = 20psf, tilt = 60deg, slope_length = 4m, "
        "mean_height = 2m, edition = 'ASCE 7-22' }", "C005", "ASCE 7-22"),
  CITED("terminal of a conductor hotter than its table",
        "ampacity{ material = 'copper', size = '6', insulation = 'THWN-2', terminal = '75 C', "
        "ambient = 90degC, conductors = 2, maximum = 34.75A, required = 43.4A, "
            "edition = 'NEC 2023' }", "C005", "310.15"),
  CITED("no such conductor", "conductor{ material = 'copper', size = '5', stranding = 'stranded', "
      "edition = 'NEC 2023' }", "C006", "Table 8"),
  CITED("a device beyond the standard ratings", "overcurrent{ required = 9000A, ampacity = 65A, material = "
        "'copper', size = '6', device = 'breaker', "
        "edition = 'NEC 2023' }", "C005", "240.6"),
  CITED("a device beyond the grounding table",
        "grounding_conductor{ device = 9000A, material = 'copper', edition = 'NEC 2023' }", "C005",
        "250.122"),
  CITED("colder than the voltage table", "cold_voltage_table{ voc = 37V, series = 13, coldest = -60degC, limit = "
        "600V, edition = 'NEC 2023' }", "C005", "690.7"),
  CITED("no such section", "lumber{ section = '5x5', length = 12ft, edition = 'NDS 2018' }", "C006", "PS 20"),
  CITED("no such raceway", "raceway_fill{ kind = 'EMT', trade_size = '7', conductors = { { size = '6', count = 2, "
        "insulation = 'THWN-2' } }, edition = 'NEC 2023' }", "C006", "Table 4"),
};

/* ---- the rest ---------------------------------------------------------------------------------------------------- */

#define POST "{ lateral = 440lbf, height = 6.5ft, width = 14in, bearing = 150psf/ft, neglect = 0in, " \
  "edition = 'IBC 2021' }"
#define KEEP "host.print = function(v) out = v end"
static const struct job_row others[] = {
  { "a worked result cannot be changed", NULL, "\ncalc.embed_neglecting" POST ".depth = 3ft\n", NULL,
        "cannot be changed", "C008", 2 },
  { "no such output", NULL, "\nprint(calc.embed_neglecting" POST ".dept)\n", NULL,
        "embed_neglecting gives no 'dept'", "C002", 2 },
  { "an output by number", NULL, "\nprint(calc.embed_neglecting" POST "[1])\n", NULL,
        "embed_neglecting gives no '1'", "C002", 2 },
  { "no such primitive", NULL, "\ncalc.embedd" POST "\n", NULL, "calc has no primitive 'embedd'", "E001", 2 },
  { "calc cannot be changed", NULL, "\ncalc.embed_neglecting = nil\n", NULL, "calc cannot be changed", "D008", 2 },
  { "a sheet of something else", KEEP, "print(3ft)\n", "return worked_sheet(out)",
        "sheet needs the result of a primitive, got 3 ft", "C001", 0 },
  { "pounds where a force is wanted", NULL, "\ncalc.output_current{ power = 3kW, voltage = 2lb, "
      "edition = 'NEC 2023' }\n", NULL,
        "needs a voltage", "C001", 2 },
  { "pounds for pounds of force", "host.print = function(f) local ok, e = pcall(f) out = e.help end",
    "print(function() calc.allowable_wind{ wind = 750lb, edition = 'ASCE 7-16' } end)\n", "return out",
    "lb is a mass: write lbf where a force is meant", NULL, 0 },
  { "wrong input names the value", NULL,
        "\ncalc.embed_neglecting{ lateral = -440lbf, height = 6.5ft, width = 14in, bearing = "
        "150psf/ft, neglect = 0in, edition = 'IBC 2021' }\n", NULL,
    "embed_neglecting: 'lateral' ", "C004", 2 },
  { "and it is the caller's mistake, not a range", "host.print = function(f) local ok, e = pcall(f) out = "
        "tostring(e.class) end",
    "print(function() return calc.embed_neglecting{ lateral = -440lbf, height = 6.5ft, width = 14in, "
          "bearing = 150psf/ft, neglect = 0in, edition = 'IBC 2021' } end)\n", "return out", "nil", NULL, 0 },
  { "a search without end is told", NULL,
        "\ncalc.embed_neglecting{ lateral = 4e9lbf, height = 6.5ft, width = 14in, bearing = "
        "150psf/ft, neglect = 0in, edition = 'IBC 2021' }\n", NULL,
    "embed_neglecting: ", "C007", 2 },
  /* 1e308 m and 1e308 m: the diagonal is 1.4e308 m, and 1.3e308 m both ways 1.8e308, above what a double holds */
  { "inputs that overflow leave what asks unknown", NULL,
        "\nlocal far = 1e308m * 1.3 print(calc.diagonal{ along = far, across = far }.diagonal)\n", NULL,
        "diagonal: 'c' comes out as no number", "C005", 2 },
  /* a string that never reaches its limit: 1 module of 39.2 V under 250 V wants (250 / 39.2 - 1) / 0.0025 = 2151 K of
   * cold, and there are 298 */
  { "an output that is not there is told", NULL, "\nprint(calc.cold_voltage{ voc = 39.2V, coefficient = -0.25%/K, "
        "series = 1, coldest = -16degC, limit = 250V, edition = 'NEC 2023' }.flip)\n", NULL,
        "cold_voltage gives no 'flip' here: colder than this", "C007", 2 },
  { "a list behind a proxy is read", "host.print = function(v) out = v end "
    "function boot_list(list) return setmetatable({}, { __index = list, __len = function() return #list end }) end",
    "print(90deg)\n", "return host.format(calc.bends{ angles = boot_list{ out, out, out }, "
        "edition = 'NEC 2023' }.total)", "270 deg", NULL,
          0 },
  { "a list longer than a primitive takes is out of its range: what asks is unknown", KEEP, "",
    "local _, e = pcall(calc.bends, { angles = setmetatable({}, { __len = function() return 1000001 end }), "
        "edition = 'NEC 2023' }) return "
    "host.class(e) .. (e.text:find 'at most 1000000 items, got 1000001' and '' or e.text)", "range", NULL, 0 },
  { "a list that says it is shorter than nothing", KEEP, "",
    "local _, e = pcall(calc.bends, { angles = setmetatable({}, { __len = function() return -1 end }), "
    "edition = 'NEC 2023' }) return "
    "host.class(e) .. (e.text:find 'at most 1000000 items, got %-1' and '' or e.text)", "range", NULL, 0 },
  { "a list that grows while it is read is read as long as it was", KEEP, "print(90deg)\n",
    "local n = 0 return host.format(calc.bends { angles = setmetatable({}, { __index = function() return out end, "
    "__len = function() n = n + 1 return n end }), edition = 'NEC 2023' }.total)", "90 deg", NULL, 0 },
  { "a list may be long", KEEP, "print(1deg)\n", "local angles = {} for i = 1, 300 do angles[i] = out end local w = "
    "calc.bends { angles = angles, "
        "edition = 'NEC 2023' } local _, rows = worked_sheet(w) return host.format(w.total) .. #rows", "300 deg604",
    NULL, 0 },
  { "values may be inherited", KEEP, "print" POST "\n",
        "local all = setmetatable({ width = out.width }, { __index = out }) "
    "return host.same(calc.embed_neglecting(all).depth, calc.embed_neglecting(out).depth)", "true", NULL, 0 },
  { "but not misspelt beside them", KEEP, "print" POST "\n",
        "return calc.embed_neglecting(setmetatable({ widht = out.width }, { __index = out }))",
    "no field 'widht'", "C002", 0 },
  { "of two unknown fields the first by name is told", NULL,
        "\ncalc.embed_neglecting{ zz = 1, yy = 2, aa = 3, mm = 4 }\n", NULL, "no field 'aa'", "C002", 2 },
  { "money keeps no other kind out", NULL, "\ncalc.extended{ price = 6.40, quantity = 24 }\n", NULL,
        "'price' needs a money", "C001", 2 },
  { "a temperature is no difference", NULL, "\ncalc.hot_voltage{ vmp = 32.8V, coefficient = -0.3%/K, series = 4, "
        "hottest_air = 36degC, "
    "cell_rise = 30degC }\n", NULL, "'cell_rise' needs a temperature difference", "C001", 2 },
  { "a primitive tells the fields of its rows", NULL, "",
        "local p = primitive 'raceway_fill' local rows = p.inputs[3] local s = rows.name .. ' ' .. rows.kind "
        "for _, f in ipairs(rows.fields) do s = s .. ' ' .. f.name .. ' ' .. f.kind .. (f.optional and '?' or '') end "
        "p = primitive 'stations' return s .. ' ' .. #p.outputs[2].fields .. p.outputs[2].fields[1].dim",
        "conductors rows size text count count insulation text? bare flag? stranding choice? 2length", NULL, 0 },
  { "primitives are listed with their fields", NULL, "",
        "local n = 0 for _, p in ipairs(primitives()) do assert(#p.inputs > 0 and #p.outputs > 0 and "
    "#p.help > 0) for _, f in ipairs(p.inputs) do assert(#f.help > 0 and f.kind, f.name) n = n + 1 end end return n "
          "> 100", "true", NULL, 0 },
};

int main(void) {
  static struct CMUnitTest tests[512];
  static char names[2][sizeof goods / sizeof *goods][64];
  size_t n = 0;
  for (size_t i = 0; i < sizeof goods / sizeof *goods; i++) {
    snprintf(names[0][i], sizeof names[0][i], "%s is the direct call", goods[i].op);
    snprintf(names[1][i], sizeof names[1][i], "%s gives numbers or refuses", goods[i].op);
    tests[n++] = (struct CMUnitTest){ names[0][i], is_the_direct_call, NULL, NULL, (void *)(uintptr_t)&goods[i] };
    tests[n++] = (struct CMUnitTest){ names[1][i], gives_numbers_or_refuses, NULL, NULL, (void *)(uintptr_t)&goods[i] };
  }
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(every_primitive_is_tried);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(sheets_cite_their_edition);
  JOB_ROWS(tests, n, ranges);
  JOB_ROWS(tests, n, others);
  return _cmocka_run_group_tests("bind", tests, n, job_setup, job_teardown);
}
