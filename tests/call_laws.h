/* SPDX-License-Identifier: MIT
 * What holds for any inputs of any primitive, called from C:
 *   - it gives the same twice, to the last bit: with a sheet and without, whatever lay in `out` and in its room
 *   - it writes to no input
 *   - what it gives is a number, a choice, a text with an end; nothing is below 0 but what MAY_BE_NEGATIVE lists
 *   - what it refuses names an input that there is, or a step of the sheet, in words; a range says whose it is
 *   - each step of the sheet comes out of the rows above it, each input on it is the input, each output the output
 *   - a plan of sticks has every piece once, on a stick that is long enough, and costs what its sticks cost
 *   - MORE: more of an input gives not less of an output, where physics says so */
#ifndef SL_CALL_LAWS_H
#define SL_CALL_LAWS_H

#include <stdio.h>
#include "bind/give.h"
#include "call_text.h"
#include "formula.h"
#include "room.h"

/* Outputs that may be below 0, with the reason. */
static const struct { const char *op, *out, *why; } MAY_BE_NEGATIVE[] = {
  { "bearing", "height", "a thick stack on a low rack bears below the datum" },
  { "cold_voltage", "margin_ratio", "what is left to the limit, beyond it" },
  { "cold_voltage_table", "margin_ratio", "the same" },
  { "layout", "run", "a tilt of 90 deg may be a hair beyond it" },
  { "bearing", "back", "the same" },
  { "on_slope", "plan", "turned about the west end, a high point may lie beyond it" },
  { "on_slope", "up", "below the west end of a row that falls" },
  { "place", "east", "west of the zero of the coordinates" }, { "place", "north", "south of it" },
  { "place_beside", "east", "the same" }, { "place_beside", "north", "the same" },
  { "place_behind", "east", "the same" }, { "place_behind", "north", "the same" },
  { "rack_outline", "east", "the same" }, { "rack_outline", "north", "the same" },
  { "rack_outline", "from", "the same" }, { "rack_outline", "to", "the same" },
  { "rack_outline", "lower", "before the zero, seen from behind" }, { "rack_outline", "upper", "the same" },
  { "apart", "gap", "how far two racks overlap" }, { "holes_apart", "clear", "the same of holes" },
  { "noon_sun", "elevation", "far from the equator the sun stays down" },
  { "beam_place", "moment", "it hogs" }, { "partial_snow", "moment", "the same" },
  { "beam_place", "shear", "it points the other way" },
  { "crossing_loads", "lift", "it presses" }, { "crossing_loads", "along", "up the slope" },
  { "partial_snow", "reaction", "a support that a load beyond another lifts" },
  { "partial_snow", "least", "the same" }, { "partial_snow", "balanced", "the same" },
  { "row_shadow", "clear", "the shadow goes beyond the gap" },
  { "mounting", "left", "the drift may be more than the end allowance" },
  { "frame_points", "along", "a rail reaches beyond the modules, west of which nothing counts" },
  { "frame_points", "uphill", "a support may begin below the lower edge" },
  { "frame_points", "up", "the ground may lie below the datum" },
  { "frame_points", "east", "a place on a plan" },
  { "frame_points", "north", "the same" },
  { "turned", "turned_edge", "turned steep about a high line the lower edge goes into the ground" },
  { "turned", "turned_top", "the same of a line near the top" },
  { "turned", "middle", "the same" },
  { "turned", "moved", "downhill" },
  { "turned", "pivot_height", "a thick stack on a low rack bears below the datum" },
  { "turned", "line_height", "the same" },
  { "turned", "from_pivot", "a line downhill of the one that they turn about" },
  { "turned", "leg_run", "it leans to the front" }, { "turned", "leg_rise", "the rafter comes down there" },
  { "brace", "foot", "ground below the datum" },
  { "brace", "head", "the same" },
  { "brace", "angle", "its head is the lower end" },
  { "running", "at", "a place may lie on the other side of the zero" },
  { "leg", "left", "the leg is too short or too long for its slide" },
  { "trim", "spare", "the stick is too short" },
  { "trim", "embedment_left", "the post does not reach the ground" },
  { "roof_wind", "low", "the wind lifts" }, { "roof_wind", "high", "the same" },
  { "along_wind", "pressure", "the same" },
  { "beam", "reaction", "a support may hold the beam down" }, { "beam", "moment", "over a support it hogs" },
  { "side_frames", "dead", "the frame's own weight may lift a post" },
  { "side_frames", "net_up_dead", "the same" }, { "side_frames", "axial", "pulled" },
  { "wind_on_block", "up", "the wind presses" }, { "wind_on_block", "side", "to the front" },
  { "wind_on_block", "turning", "over the front edge" }, { "wind_on_block", "modules_at", "before the block's middle" },
  { "wind_on_faces", "up", "it presses" }, { "wind_on_faces", "side", "to the front" },
  { "wind_on_faces", "turning", "over the front edge" }, { "wind_on_block", "frame_at", "the same" },
  { "heads_on_block", "up", "posts press" },
  { "heads_on_block", "side", "to the front" }, { "heads_on_block", "turning", "over the front edge" },
  { "side_frames", "lift", "the rafter presses the head" },
  { "slope_loads", "others", "the wind lifts in all of its cases, more than the weight presses" },
  { "slope_loads", "press", "nothing presses" }, { "slope_loads", "lift", "nothing lifts" },
  { "slope_loads", "load", "lifts" }, { "crossing_loads", "lift", "presses" },
  { "crossing_loads", "along", "up the slope" },
};

/* More of `in` gives more of `out`, or as much (1); less, or as much (-1). */
static const struct more { const char *op, *in, *out; int way; } MORE[] = {
  { "layout", "columns", "row_width", 1 }, { "layout", "rows", "slope_length", 1 }, { "layout", "tilt", "rise", 1 },
  { "layout", "tilt", "run", -1 }, { "layout", "lower_edge", "top_edge", 1 },
  { "bearing", "lower_edge", "height", 1 }, { "bearing", "slope_length", "height", 1 },
  { "lift", "mass", "people", 1 }, { "lift", "per_person", "people", -1 }, { "reach", "height", "platform", 1 },
  { "turned", "lower_edge", "turned_edge", 1 }, { "turned", "lower_edge", "turned_top", 1 },
  { "brace", "apart", "length", 1 }, { "brace", "past", "length", 1 }, { "brace", "head_top", "head", 1 },
  { "post_cut", "hole_depth", "cut_length", 1 }, { "post_cut", "gravel", "embedment", -1 },
  { "row_shadow", "drop", "reach", 1 }, { "row_shadow", "drop", "shaded", 1 }, { "row_shadow", "gap", "shaded", -1 },
  { "row_shadow", "gap", "clear", 1 }, { "row_shadow", "elevation", "reach", -1 },
  { "leg", "slide", "left", 1 }, { "trim", "stock", "spare", 1 }, { "trim", "stock", "embedment_left", 1 },
  { "trim", "reserve", "needed", 1 }, { "plate", "edge", "least", 1 }, { "plate", "fastener", "edge", 1 },
  { "tolerance_stack", "height", "error", 1 }, { "tolerance_stack", "drift", "error", 1 },
  { "block", "density", "mass", 1 }, { "block", "height", "volume", 1 },
  { "diagonal", "along", "diagonal", 1 }, { "rail_length", "end_allowance", "length", 1 },
  { "layout", "joint_gap", "row_width", 1 }, { "expansion", "length", "movement", 1 },
  { "expansion", "range", "movement", 1 }, { "rail_runs", "columns", "row_width", 1 },
  { "rail_runs", "joint_gap", "row_width", 1 }, { "rail_runs", "limit", "joints", -1 },
  { "overhead", "height", "least", 1 }, { "hole", "post_width", "least", 1 },
  { "velocity_pressure", "speed", "pressure", 1 }, { "velocity_pressure", "height", "pressure", 1 },
  { "velocity_pressure", "elevation", "pressure", -1 }, { "velocity_pressure", "topographic", "pressure", 1 },
  { "roof_wind", "velocity_pressure", "peak_up", 1 }, { "roof_wind", "velocity_pressure", "peak_down", 1 },
  { "snow_load", "ground_snow", "flat", 1 }, { "snow_load", "ground_snow", "sloped", 1 },
  { "snow_load", "tilt", "sloped", -1 }, { "snow_load", "risk_category", "flat", 1 },
  { "rain_on_snow", "tilt", "surcharge", -1 }, { "rain_on_snow", "plan_depth", "surcharge", 1 },
  { "snow_pile", "load", "height", 1 }, { "snow_pile", "density", "height", -1 },
  { "snow_pile", "repose", "height", 1 }, { "snow_pile", "repose", "width", -1 },
  { "ice_load", "thickness", "pressure", 1 }, { "allowable_wind", "wind", "force", 1 },
  { "screw_withdrawal", "thread", "adjusted", 1 }, { "screw_withdrawal", "side", "adjusted", -1 },
  { "screw_withdrawal", "washer", "adjusted", -1 }, { "screw_withdrawal", "depth", "adjusted", 1 },
  { "screw_withdrawal", "duration", "adjusted", 1 }, { "screw_combined", "lateral_allowed", "allowed", 1 },
  { "screw_combined", "withdrawal_allowed", "allowed", 1 }, { "dowel_yield", "duration", "adjusted", 1 },
  { "tear_out", "to_end", "allowed", 1 }, { "tear_out", "pull", "used", 1 },
  { "split_across", "to_end", "allowed", 1 }, { "split_across", "reach", "allowed", 1 },
  { "dowel_yield", "group", "adjusted", 1 }, { "dowel_yield", "geometry", "adjusted", 1 },
  { "dowel_yield", "main_angle", "reference", -1 }, { "dowel_yield", "side_angle", "reference", -1 },
  { "dowel_spacing", "to_end", "factor", 1 }, { "dowel_spacing", "spacing", "factor", 1 },
  { "dowel_spacing", "to_edge", "factor", 1 }, { "group_action", "count", "factor", -1 },
  { "group_action", "spacing", "factor", -1 },
  { "embed_neglecting", "lateral", "depth", 1 }, { "embed_neglecting", "neglect", "depth", 1 },
  { "embed_neglecting", "neglect", "strict", 1 }, { "embed_neglecting", "width", "depth", -1 },
  { "embed_neglecting", "bearing", "depth", -1 }, { "embed_neglecting", "height", "depth", 1 },
  { "embed_neglecting", "provided", "depth", -1 },
  { "soil_bearing", "pressed", "ratio", 1 }, { "soil_bearing", "weight", "pressure", 1 },
  { "soil_bearing", "width", "ratio", -1 }, { "friction_hold", "depth", "force", 1 },
  { "friction_hold", "width", "force", 1 }, { "friction_hold", "neglect", "force", -1 },
  { "bell_hold", "depth", "volume", 1 }, { "bell_hold", "angle", "weight", 1 }, { "bell_hold", "dry_to", "weight", 1 },
  { "bell_hold", "neglect", "weight", -1 }, { "bell_hold", "width", "volume", 1 },
  { "frost_grip", "width", "force", 1 }, { "frost_grip", "depth", "force", 1 }, { "frost_grip", "frost", "force", 1 },
  { "frost_grip", "frame", "weight", 1 }, { "frost_grip", "post", "weight", 1 },
  { "frost_grip", "concrete", "weight", 1 },
  { "pier_spacing", "diameter", "least", 1 }, { "ground_uplift", "dry_to", "resistance", 1 },
  { "ground_uplift", "concrete", "resistance", 1 }, { "ground_uplift", "friction", "resistance", 1 },
  { "ground_uplift", "wind_uplift", "ratio", 1 }, { "ballast", "friction", "slide_held", 1 },
  { "ballast", "length", "turn_held", 1 }, { "block_bearing", "width", "pressure", -1 },
  { "block_bearing", "allowable", "ratio", -1 }, { "screw_anchor", "torque", "allowable", 1 },
  { "screw_anchor", "axial", "ratio", 1 },
  { "pier", "hole_depth", "concrete", 1 }, { "pier", "hole_depth", "earth", 1 },
  { "pier", "hole_diameter", "concrete", 1 },
  { "pier", "post_width", "concrete", -1 }, { "pier", "waste", "ordered", 1 }, { "bags", "concrete", "bags", 1 },
  { "bags", "yield", "bags", -1 }, { "ground_uplift", "wind_uplift", "ratio", 1 },
  { "bell", "bell", "concrete", 1 }, { "bell", "bell", "earth", 1 },
  { "lumber", "length", "weight_light", 1 }, { "lumber", "length", "weight_heavy", 1 },
  { "cold_voltage", "series", "voltage", 1 }, { "cold_voltage", "voc", "voltage", 1 },
  { "cold_voltage", "coldest", "voltage", -1 }, { "cold_voltage", "limit", "most", 1 },
  { "cold_voltage_table", "series", "voltage", 1 }, { "cold_voltage_table", "coldest", "voltage", -1 },
  { "hot_voltage", "series", "voltage", 1 }, { "hot_voltage", "hottest_air", "voltage", -1 },
  { "hot_voltage", "cell_rise", "voltage", -1 }, { "array_current", "parallel", "required", 1 },
  { "array_current", "isc", "maximum", 1 }, { "string_fuse", "isc", "least_fuse", 1 },
  { "output_current", "power", "required", 1 }, { "output_current", "voltage", "required", -1 },
  { "ampacity", "ambient", "corrected", -1 }, { "ampacity", "conductors", "corrected", -1 },
  { "ampacity", "terminal", "usable", 1 }, { "overcurrent", "required", "least", 1 },
  { "overcurrent", "ampacity", "allowed", 1 }, { "grounding_conductor", "device", "row", 1 },
  { "voltage_drop", "length", "drop", 1 }, { "voltage_drop", "current", "drop", 1 },
  { "voltage_drop", "voltage", "ratio", -1 }, { "voltage_drop", "conductor_temperature", "drop", 1 },
  { "extended", "price", "line", 1 }, { "extended", "quantity", "line", 1 },
  { "slant_wind", "length", "along", 1 }, { "slant_wind", "tilt", "along", -1 },
  { "joint_force", "along", "force", 1 }, { "joint_force", "across", "force", 1 },
};

enum { CALL_ROWS = 1000 };

/* One answer: of the call, with what lay in its memory before. */
struct call_answer {
  enum sl_status status;
  unsigned char *out;
  struct sl_space space;
  struct sl_sheet sheet;
};

static inline struct call_answer call_answer(const struct call *c, const unsigned char *in, int fill,
                                             struct sl_row *rows, size_t cap) {
  struct call_answer a = { .sheet = { .row = rows, .cap = cap, .fault = { .limit = NAN } } };
  const size_t need = c->op->need ? c->op->need(in) : 0;
  a.space.size = need < 1 << 26 ? need : 0;
  a.space.at = malloc(a.space.size + 1);
  a.out = malloc(c->op->out_size);
  if (!a.space.at || !a.out) abort();
  memset(a.space.at, fill, a.space.size);
  memset(a.out, fill, c->op->out_size);
  a.status = c->op->call(in, a.out, a.space, &a.sheet);
  return a;
}
static inline void call_forget(struct call_answer *a) {
  free(a->space.at);
  free(a->out);
}

/* ---- what comes -------------------------------------------------------------------------------------------------- */

static inline const unsigned char *call_list(const struct sl_field *f, const unsigned char *bytes, size_t *n) {
  const unsigned char *at;
  memcpy(&at, bytes + f->offset, sizeof at);
  memcpy(n, bytes + f->count, sizeof *n);
  return at;
}

static inline bool call_may_be_negative(const char *op, const char *out) {
  for (size_t i = 0; i < sizeof MAY_BE_NEGATIVE / sizeof *MAY_BE_NEGATIVE; i++)
    if (strcmp(MAY_BE_NEGATIVE[i].op, op) == 0 && strcmp(MAY_BE_NEGATIVE[i].out, out) == 0) return true;
  return false;
}

static inline void call_number_holds(const char *op, const struct sl_field *f, double value) {
  if (f->optional && isnan(value)) return;
  LAW_OR(isfinite(value), "%s gives %s = %g", op, f->name, value);
  LAW_OR(!signbit(value) || (value < 0 && call_may_be_negative(op, f->name)), "%s gives %s = %.17g, below 0", op,
         f->name, value);
}

static inline void call_gives(const char *op, const struct sl_field *fields, size_t n, const unsigned char *out) {
  for (size_t i = 0; i < n; i++) {
    const struct sl_field *f = &fields[i];
    const void *m = out + f->offset;
    size_t items;
    switch (f->kind) {
      case SL_FIELD_REAL: call_number_holds(op, f, *(const double *)m); break;
      case SL_FIELD_COUNT: LAW_OR(*(const int *)m >= 0, "%s gives %s = %d", op, f->name, *(const int *)m); break;
      case SL_FIELD_FLAG: LAW_OR(*(const unsigned char *)m <= 1, "%s gives no flag %s", op, f->name); break;
      case SL_FIELD_CHOICE: {
        int choices = 0;
        while (f->choices[choices]) choices++;
        LAW_OR(*(const int *)m >= 0 && *(const int *)m < choices, "%s gives no choice %s", op, f->name);
        break;
      }
      case SL_FIELD_TEXT: LAW_OR(memchr(m, 0, f->size), "%s gives %s without an end", op, f->name); break;
      case SL_FIELD_LIST: case SL_FIELD_ROWS: {
        const unsigned char *at = call_list(f, out, &items);
        LAW_OR(items == 0 || at, "%s gives no list %s", op, f->name);
        for (size_t k = 0; k < items; k++)
          if (f->kind == SL_FIELD_ROWS) call_gives(op, f->fields, f->nfields, at + k * f->size);
          else call_number_holds(op, f, ((const double *)(const void *)at)[k]);
        break;
      }
    }
  }
}

/* ---- what is refused --------------------------------------------------------------------------------------------- */

/* Of a sheet that had no room for all of its rows, it may be one of the others. */
static inline bool call_names_step(const struct sl_sheet *sheet, const char *symbol) {
  if (sheet->lost > 0) return true;
  for (size_t i = 0; i < sheet->n; i++)
    if (strcmp(sheet->row[i].symbol, symbol) == 0) return true;
  return false;
}

/* A fault names an input, an item of a list that it has, a field of a row that it has; or the step that overflowed. */
static inline void call_refuses(const struct call *c, const struct call_answer *a) {
  const struct sl_fault *f = &a->sheet.fault;
  const char *op = c->op->name;
  LAW_OR(a->status > SL_OK && a->status <= SL_NO_ANSWER, "%s gives the status %d", op, (int)a->status);
  LAW_OR(f->member && f->text && *f->text && f->cite, "%s refuses without words", op);
  LAW_OR(f->dim < SL_DIM_COUNT, "%s refuses '%s' in no dimension", op, f->member);
  const size_t n = strcspn(f->member, "[");
  const struct sl_field *field = call_field(c->op->in, c->op->nin, (struct call_span){ f->member, n });
  if (!field) {
    LAW_OR(a->status == SL_OUT_OF_RANGE && isnan(f->value) && call_names_step(&a->sheet, f->member) && *f->cite,
           "%s refuses '%s', which is no input and no step", op, f->member);
    return;
  }
  size_t items = 0;
  if (field->kind >= SL_FIELD_LIST) call_list(field, c->in, &items);
  LAW_OR(f->item <= items, "%s refuses %s %zu of %zu", op, f->member, f->item, items);
  if (f->member[n]) {
    const struct call_span of_row = { f->member + n + 4, strlen(f->member) > n + 4 ? strlen(f->member) - n - 4 : 0 };
    LAW_OR(field->kind == SL_FIELD_ROWS && strncmp(f->member + n, "[i].", 4) == 0 && f->item &&
           call_field(field->fields, field->nfields, of_row), "%s refuses '%s', which is no field", op, f->member);
  }
  LAW_OR(a->status != SL_OUT_OF_RANGE || *f->cite, "%s: '%s' is out of a range of nobody's", op, f->member);
  LAW_OR(a->status != SL_NO_ROW || *f->cite || strcmp(f->member, "edition") == 0,
         "%s: '%s' is in no table of anybody's", op, f->member);
}

/* ---- the same twice ---------------------------------------------------------------------------------------------- */

static inline void call_same(const struct call *c, const struct call_answer *a, const struct call_answer *b,
                             const char *what) {
  const char *op = c->op->name;
  LAW_OR(a->status == b->status, "%s ends as %d, and %s as %d", op, (int)a->status, what, (int)b->status);
  if (a->status == SL_OK) {
    for (size_t i = 0; i < c->op->nout; i++)
      LAW_OR(sl_same_bits(&c->op->out[i], 1, a->out, b->out), "%s gives another %s %s", op, c->op->out[i].name, what);
    return;
  }
  const struct sl_fault *f = &a->sheet.fault, *g = &b->sheet.fault;
  LAW_OR(strcmp(f->member, g->member) == 0 && f->item == g->item && strcmp(f->text, g->text) == 0 &&
         memcmp(&f->value, &g->value, sizeof f->value) == 0 && memcmp(&f->limit, &g->limit, sizeof f->limit) == 0,
         "%s refuses '%s' (%s), and %s '%s' (%s)", op, f->member, f->text, what, g->member, g->text);
}

/* ---- the sheet --------------------------------------------------------------------------------------------------- */

/* The member that a row names, of inputs or outputs: "isc", "angles[i]", "conductors[i].count" of item 2; false: text,
 * list, or none. */
static inline bool call_member(const struct sl_field *fields, size_t n, const unsigned char *bytes, const char *member,
                               size_t item, double *to) {
  const size_t len = strcspn(member, "[");
  const struct sl_field *f = call_field(fields, n, (struct call_span){ member, len });
  if (!f) return false;
  const void *m = bytes + f->offset;
  if (f->kind == SL_FIELD_REAL) *to = *(const double *)m;
  else if (f->kind == SL_FIELD_COUNT || f->kind == SL_FIELD_CHOICE) *to = *(const int *)m;
  else if (f->kind == SL_FIELD_FLAG) *to = *(const bool *)m;
  else if (f->kind < SL_FIELD_LIST || !item) return false;
  else {
    size_t items;
    const unsigned char *at = call_list(f, bytes, &items);
    if (item > items) return false;
    if (f->kind == SL_FIELD_LIST) *to = ((const double *)(const void *)at)[item - 1];
    else return call_member(f->fields, f->nfields, at + (item - 1) * f->size, strchr(member, '.') + 1, 0, to);
  }
  return true;
}

/* Below 1e-307 a double has fewer digits: what rests on them agrees with nothing. */
static inline bool call_lost_digits(const struct sl_sheet *sheet) {
  for (size_t i = 0; i < sheet->n; i++)
    if (fpclassify(sheet->row[i].value) == FP_SUBNORMAL) return true;
  return false;
}

static inline void call_row_holds(const struct call *c, const struct call_answer *a, size_t i) {
  const struct sl_row *r = &a->sheet.row[i];
  const char *op = c->op->name;
  double own;
  if (r->kind > SL_ROW_WORD) return;
  LAW_OR(*r->symbol && r->dim < SL_DIM_COUNT && isfinite(r->value), "%s: row %zu, %s = %g", op, i, r->symbol, r->value);
  if (r->kind == SL_ROW_STEP)
    LAW_OR(formula_holds(&a->sheet, i), "%s: %s = %s is not %.17g", op, r->symbol, r->text, r->value);
  if (r->kind == SL_ROW_TABLE || r->kind == SL_ROW_STEP)
    LAW_OR(*r->text && *r->cite, "%s: %s is from nowhere", op, r->symbol);
  if (r->kind == SL_ROW_GIVEN && call_member(c->op->in, c->op->nin, c->in, r->member, r->item, &own))
    LAW_OR(own <= r->value && own >= r->value && !(signbit(r->value) && own >= 0),
           "%s: %s is %.17g, the input %s %.17g", op, r->symbol, r->value, r->member, own);
  const bool gives = r->kind == SL_ROW_TABLE || r->kind == SL_ROW_STEP;
  if (!gives || call_lost_digits(&a->sheet) ||
      !call_member(c->op->out, c->op->nout, a->out, r->member, r->item, &own)) return;
  bool again = false;                                /* a later row gives the same output: that one counts */
  for (size_t k = i + 1; k < a->sheet.n; k++)
    again = again || (strcmp(a->sheet.row[k].member, r->member) == 0 && a->sheet.row[k].item == r->item);
  LAW_OR(again || fabs(own - r->value) <= 1e-9 * fabs(own) + 1e-200,
         "%s: %s is %.17g, the output %s %.17g", op, r->symbol, r->value, r->member, own);
}

/* ---- plans of sticks --------------------------------------------------------------------------------------------- */

/* By the names that plans of lengths share. */
struct call_plan { const double *pieces, *lengths, *on, *stock, *bought; size_t npieces, nlengths, n; double kerf; };

static inline const double *call_doubles(const struct sl_field *fields, size_t n, const unsigned char *bytes,
                                         const char *name, size_t *items) {
  const struct sl_field *f = call_field(fields, n, (struct call_span){ name, strlen(name) });
  *items = 0;
  return f ? (const void *)call_list(f, bytes, items) : NULL;
}

static inline void call_plan_holds(const struct call *c, const struct call_answer *a, const char *pieces,
                                   const char *on, const char *stock) {
  struct call_plan p = { .kerf = 0 };
  size_t n;
  p.pieces = call_doubles(c->op->in, c->op->nin, c->in, pieces, &p.npieces);
  p.lengths = call_doubles(c->op->in, c->op->nin, c->in, "lengths", &p.nlengths);
  call_member(c->op->in, c->op->nin, c->in, "kerf", 0, &p.kerf);
  p.on = call_doubles(c->op->out, c->op->nout, a->out, on, &n);
  LAW(n == p.npieces);
  p.bought = call_doubles(c->op->out, c->op->nout, a->out, "bought", &n);
  LAW(n == p.nlengths);
  p.stock = call_doubles(c->op->out, c->op->nout, a->out, stock, &p.n);
  double *left = calloc(p.n + 1, sizeof *left), *counted = calloc(p.nlengths, sizeof *counted);
  if (!left || !counted) abort();
  for (size_t k = 0; k < p.n; k++) {
    LAW(p.stock[k] >= 1 && p.stock[k] <= (double)p.nlengths);
    left[k] = p.lengths[(size_t)p.stock[k] - 1] + p.kerf;
    counted[(size_t)p.stock[k] - 1]++;
  }
  for (size_t i = 0; i < p.npieces; i++) {
    LAW(p.on[i] >= 1 && p.on[i] <= (double)p.n);
    left[(size_t)p.on[i] - 1] -= p.pieces[i] + p.kerf;
  }
  for (size_t k = 0; k < p.n; k++) LAW_OR(left[k] >= -2e-7, "%s: stick %zu is %g m too short", c->op->name, k, left[k]);
  for (size_t j = 0; j < p.nlengths; j++) LAW(counted[j] >= p.bought[j] && counted[j] <= p.bought[j]);
  free(left);
  free(counted);
}

/* ---- more of one thing ------------------------------------------------------------------------------------------- */

#define NEXT_TO_NOTHING 1e-300             /* doubles below have lost digits */

/* The same call with more of one input: by a hair, some, much, as the number of the text says. */
static inline void call_more_holds(const struct call *c, const struct call_answer *a, const struct more *law,
                                   size_t by) {
  static const double factors[] = { 1 + 1e-15, 1 + 1e-9, 1.01, 1.5, 10, 1e6 };
  const struct sl_field *f = call_field(c->op->in, c->op->nin, (struct call_span){ law->in, strlen(law->in) });
  LAW_OR(f, "%s has no input %s", law->op, law->in);
  unsigned char *in = malloc(c->op->in_size);
  if (!in) abort();
  memcpy(in, c->in, c->op->in_size);
  void *m = in + f->offset;
  double before, after;
  const double factor = factors[by % (sizeof factors / sizeof *factors)];
  if (f->kind == SL_FIELD_REAL && isnan(*(double *)m)) {       /* of what is not given there is no more */
    free(in);
    return;
  }
  if (f->kind != SL_FIELD_REAL) *(int *)m += *(int *)m < INT_MAX;
  else *(double *)m = *(double *)m > 0 ? *(double *)m * factor : *(double *)m + fabs(*(double *)m) / 2 + factor - 1;
  struct call_answer b = call_answer(c, in, 0, NULL, 0);
  LAW_OR(call_member(c->op->out, c->op->nout, a->out, law->out, 0, &before), "%s gives no %s", law->op, law->out);
  if (b.status == SL_OK && call_member(c->op->out, c->op->nout, b.out, law->out, 0, &after))
    LAW_OR((after - before) * law->way >= -1e-9 * fabs(before) - NEXT_TO_NOTHING,
           "%s: more %s, %.17g before, %.17g after: %s", law->op, law->in, before, after, law->out);
  call_forget(&b);
  free(in);
}

/* ---- all --------------------------------------------------------------------------------------------------------- */

/* Whether the inputs are as they were: the struct, and what its lists hold. */
static inline void call_untouched(const struct call *c, const unsigned char *in, unsigned char *const *items) {
  LAW_OR(memcmp(in, c->in, c->op->in_size) == 0, "%s writes to its inputs", c->op->name);
  for (size_t i = 0; i < c->nitems; i++)
    LAW_OR(memcmp(items[i], c->items[i], c->bytes[i]) == 0, "%s writes to its lists", c->op->name);
}

/* Tries the call of a text that fits; gives its status.  The answer is the caller's to forget. */
static inline struct call_answer call_laws(const struct call *c) {
  static struct sl_row rows[CALL_ROWS];
  unsigned char *in = malloc(c->op->in_size), *items[CALL_LISTS];
  if (!in) abort();
  memcpy(in, c->in, c->op->in_size);
  size_t sum = 0;
  for (size_t i = 0; i < c->nitems; i++) {
    if (!(items[i] = malloc(c->bytes[i] + 1))) abort();
    memcpy(items[i], c->items[i], c->bytes[i]);
  }
  for (size_t i = 0; i < c->n; i++) sum += c->line[i].value.len * (i + 1);
  struct call_answer a = call_answer(c, c->in, 0xa5, rows, CALL_ROWS), b = call_answer(c, c->in, 0x5a, NULL, 0);
  if (a.status == SL_OK) call_gives(c->op->name, c->op->out, c->op->nout, a.out);
  call_same(c, &a, &b, "without a sheet");
  call_untouched(c, in, items);
  if (a.status == SL_OK) {
    for (size_t i = 0; i < a.sheet.n && !a.sheet.lost; i++) call_row_holds(c, &a, i);
    if (strcmp(c->op->name, "cut_stock") == 0) call_plan_holds(c, &a, "pieces", "stick", "stock_of_stick");
    if (strcmp(c->op->name, "spools") == 0) call_plan_holds(c, &a, "cuts", "spool_of_cut", "stock_of_spool");
    for (size_t i = 0; i < sizeof MORE / sizeof *MORE; i++)
      if (strcmp(MORE[i].op, c->op->name) == 0) call_more_holds(c, &a, &MORE[i], sum + i);
  } else call_refuses(c, &a);
  call_forget(&b);
  for (size_t i = 0; i < c->nitems; i++) free(items[i]);
  free(in);
  return a;
}
#endif
