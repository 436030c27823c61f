/* SPDX-License-Identifier: MIT
 * What acts square to a slope of modules and along it, and what of it a rail carries; see slope_loads.h. */
#include <string.h>
#include "guard.h"
#include "room.h"
#include "table.h"
#include "stringline/slope_loads.h"

#define STATICS "statics: square to the slope"
#define ALONG   "statics: along the slope"
#define BEAM    "statics: a module lies on two rails as a beam"
#define HALVES  "half way to the next rail, as common practice has it; no source"

enum { DURATIONS = 3 };

size_t sl_slope_loads_need(const struct sl_slope_loads_in *in) {
  (void)in;
  return NEED(NEED(0, struct sl_slope_load, DURATIONS), struct sl_slope_snowed, SL_COMBINATIONS);
}

static void name(char to[SL_COMBINATION_NAME], const char *from) {
  memset(to, 0, SL_COMBINATION_NAME);
  for (size_t i = 0; from[i] && i + 1 < SL_COMBINATION_NAME; i++) to[i] = from[i];
}

struct most { struct sl_slope_load by[DURATIONS]; bool has[DURATIONS]; };

static void note(const struct sl_combination *c, double load, bool first, struct most *most,
                 struct sl_slope_loads_out *out) {
  struct sl_slope_load *const row = &most->by[c->duration];
  if (!most->has[c->duration] || fabs(load) > fabs(row->load)) {
    most->has[c->duration] = true;
    *row = (struct sl_slope_load){ .duration = c->duration, .load = load };
    name(row->combination, c->name);
  }
  if (first || load > out->press) {
    out->press = load;
    name(out->press_combination, c->name);
  }
  if (first || -load > out->lift) {
    out->lift = -load;
    name(out->lift_combination, c->name);
  }
}

/* Weight and snow square to the slope, and the combinations that they stand in. */
struct on_slope { double D, D_least, S; struct sl_combination combinations[SL_COMBINATIONS]; size_t n; };

/* Their steps stand on the sheet of whoever asks, who has checked what else there is. */
static enum sl_status on_slope(const struct sl_slope_loads_in *in, struct on_slope *of, struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, tilt, SL_ANGLE);
  REQUIRE(sh, in, tilt, < acos(0), "must be less than 90 deg", SL_ANGLE);
  POSITIVE(sh, in, area, SL_AREA);
  NOT_NEGATIVE(sh, in, weight, SL_FORCE);
  NOT_NEGATIVE(sh, in, weight_least, SL_FORCE);
  REQUIRE(sh, in, weight_least, <= in->weight * (1 + 1e-9), "must be the weight at most", SL_FORCE);
  NOT_NEGATIVE(sh, in, snow, SL_PRESSURE);
  FINITE(sh, in, push, SL_PRESSURE);
  FINITE(sh, in, lift, SL_PRESSURE);
  EDITION(sh, in, edition, "ASCE", edition);
  of->n = sl_combinations_of(edition, SL_ALLOWABLE, of->combinations);
  if (of->n == 0) return NO_ROW(sh, "edition", "has no combinations here", "@combination_allowable");
  GIVEN(sh, SL_ANGLE, theta, in->tilt);
  GIVEN(sh, SL_AREA, A, in->area);
  GIVEN(sh, SL_FORCE, G, in->weight);
  GIVEN(sh, SL_FORCE, G_least, in->weight_least);
  GIVEN(sh, SL_PRESSURE, s, in->snow);
  GIVEN(sh, SL_PRESSURE, w_push, in->push);
  GIVEN(sh, SL_PRESSURE, w_lift, in->lift);
  (void)w_push, (void)w_lift;
  STEP(sh, SL_PRESSURE, D, G / A * cos(theta), STATICS);
  STEP(sh, SL_PRESSURE, D_least, G_least / A * cos(theta), STATICS);
  STEP(sh, SL_PRESSURE, S, s * cos(theta) * cos(theta), STATICS);
  of->D = D, of->D_least = D_least, of->S = S;
  return SL_OK;
}

enum sl_status sl_slope_loads(const struct sl_slope_loads_in *in, struct sl_slope_loads_out *out,
                              struct sl_space space, struct sl_sheet *sh) {
  struct on_slope of;
  const enum sl_status status = on_slope(in, &of, sh);
  if (status != SL_OK) return status;
  ENOUGH(sh, space, sl_slope_loads_need(in));
  const double D = of.D, D_least = of.D_least, S = of.S, w_push = in->push, w_lift = in->lift;
  struct sl_slope_load *const lasting = PART(&space, struct sl_slope_load, DURATIONS);
  struct sl_slope_snowed *const snowed = PART(&space, struct sl_slope_snowed, SL_COMBINATIONS);
  struct most most = { .has = { false } };
  bool first = true;
  *out = (struct sl_slope_loads_out){ .press = 0 };
  LINES(sh, "all combinations, with the wind that presses and with that which lifts; + presses");
  for (size_t i = 0; i < of.n; i++) {
    const struct sl_combination *const c = &of.combinations[i];
    for (int up = 0; up <= (c->wind > 0 ? 1 : 0); up++) {
      LINE(sh);
      LOOKUP(sh, SL_NUMBER, f_D, c->dead, c->name, c->cite, c->basis);
      LOOKUP(sh, SL_NUMBER, f_S, c->snow, c->name, c->cite, c->basis);
      LOOKUP(sh, SL_NUMBER, f_W, c->wind, c->name, c->cite, c->basis);
      LOOKUP(sh, SL_NUMBER, lifts, up, "whether the wind lifts", STATICS, SL_DERIVED);
      STEP(sh, SL_PRESSURE, W, lifts > 0 ? -w_lift : w_push, STATICS);
      STEP(sh, SL_PRESSURE, load, f_D * (f_W * W < 0 ? D_least : D) + f_S * S + f_W * W, c->cite);
      note(c, load, first, &most, out);
      if (f_S * S > 0 && up == 0) {
        struct sl_slope_snowed *const row = &snowed[out->nsnowed++];
        *row = (struct sl_slope_snowed){ .duration = c->duration, .others = load - f_S * S, .snow = f_S * S };
        name(row->combination, c->name);
      }
      first = false;
    }
  }
  LINES_END(sh);
  for (size_t i = 0; i < DURATIONS; i++) if (most.has[i]) lasting[out->nlasting++] = most.by[i];
  out->lasting = lasting;
  out->snowed = snowed;
  LOOKUP(sh, SL_PRESSURE, press, out->press, "most that presses", STATICS, SL_DERIVED);
  LOOKUP(sh, SL_PRESSURE, up, out->lift, "most that lifts", STATICS, SL_DERIVED);
  GIVES(sh, out, press, press);
  GIVES(sh, out, lift, up);
  return SL_OK;
}

/* ---- a crossing of rail and rafter ------------------------------------------------------------------------------ */

const char *const sl_crossing_winds[] = { "no wind", "wind that lifts", "wind that presses", "least wind, up the slope",
                                          "least wind, down the slope", NULL };

enum { CROSSING_WINDS = SL_LEAST_DOWN };

size_t sl_crossing_loads_need(const struct sl_crossing_loads_in *in) {
  (void)in;
  return NEED(0, struct sl_crossing_load, SL_COMBINATIONS * CROSSING_WINDS);
}

enum sl_status sl_crossing_loads(const struct sl_crossing_loads_in *in, struct sl_crossing_loads_out *out,
                                 struct sl_space space, struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, least, SL_PRESSURE);
  POSITIVE(sh, in, carried, SL_AREA);
  struct sl_slope_loads_in slope = { .tilt = in->tilt, .area = in->area, .weight = in->weight,
      .weight_least = in->weight_least, .snow = in->snow, .push = in->push, .lift = in->lift };
  memcpy(slope.edition, in->edition, sizeof slope.edition);
  struct on_slope of;
  const enum sl_status status = on_slope(&slope, &of, sh);
  if (status != SL_OK) return status;
  ENOUGH(sh, space, sl_crossing_loads_need(in));
  const double D = of.D, D_least = of.D_least, S = of.S, theta = in->tilt, G = in->weight, A = in->area, s = in->snow,
               w_push = in->push, w_lift = in->lift;
  GIVEN(sh, SL_PRESSURE, w_least, in->least);
  GIVEN(sh, SL_AREA, A_c, in->carried);
  STEP(sh, SL_PRESSURE, D_along, G / A * sin(theta), ALONG);
  STEP(sh, SL_PRESSURE, S_along, s * cos(theta) * sin(theta), ALONG);
  STEP(sh, SL_PRESSURE, W_least, w_least * sin(theta) * sin(theta), STATICS);
  STEP(sh, SL_PRESSURE, W_along, w_least * sin(theta) * cos(theta), ALONG);
  struct sl_crossing_load *const rows = PART(&space, struct sl_crossing_load, SL_COMBINATIONS * CROSSING_WINDS);
  size_t count = 0;
  LINES(sh, "all combinations, with each wind; W and load: + presses, square to the slope; P: + down the slope");
  for (size_t i = 0; i < of.n; i++) {
    const struct sl_combination *const c = &of.combinations[i];
    for (int k = c->wind > 0 ? SL_WIND_LIFTS : SL_NO_WIND; k <= (c->wind > 0 ? SL_LEAST_DOWN : SL_NO_WIND); k++) {
      LINE(sh);
      WORD(sh, wind, sl_crossing_winds[k]);
      LOOKUP(sh, SL_NUMBER, f_D, c->dead, c->name, c->cite, c->basis);
      LOOKUP(sh, SL_NUMBER, f_S, c->snow, c->name, c->cite, c->basis);
      LOOKUP(sh, SL_NUMBER, f_W, c->wind, c->name, c->cite, c->basis);
      LOOKUP(sh, SL_NUMBER, lifts, k == SL_WIND_LIFTS, "whether it is that which lifts", STATICS, SL_DERIVED);
      LOOKUP(sh, SL_NUMBER, presses, k == SL_WIND_PRESSES, "whether it is that which presses", STATICS, SL_DERIVED);
      LOOKUP(sh, SL_NUMBER, least, k == SL_LEAST_UP ? 1 : k == SL_LEAST_DOWN ? -1 : 0,
             "the least wind: 1 up the slope, -1 down", STATICS, SL_DERIVED);
      STEP(sh, SL_PRESSURE, W, presses * w_push - lifts * w_lift + least * W_least, STATICS);
      STEP(sh, SL_PRESSURE, W_t, -least * W_along, ALONG);
      STEP(sh, SL_FORCE, F, -(f_D * (f_W * W < 0 ? D_least : D) + f_S * S + f_W * W) * A_c, c->cite);
      STEP(sh, SL_FORCE, P, (f_D * D_along + f_S * S_along + f_W * W_t) * A_c, c->cite);
      rows[count] = (struct sl_crossing_load){ .duration = c->duration, .wind = k };
      name(rows[count].combination, c->name);
      GIVES_ROW(sh, rows, count, lift, F);
      GIVES_ROW(sh, rows, count, along, P);
      count++;
    }
  }
  LINES_END(sh);
  *out = (struct sl_crossing_loads_out){ .rows = rows, .nrows = count };
  return SL_OK;
}

/* ---- a row that slopes ------------------------------------------------------------------------------------------- */

enum sl_status sl_slant_wind(const struct sl_slant_wind_in *in, struct sl_slant_wind_out *out, struct sl_sheet *sh) {
  if (in->nwinds < 1 || in->nwinds > 1000)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "winds", "must be 1 to 1000", "", (double)in->nwinds, NAN, SL_NUMBER);
  for (size_t i = 0; i < in->nwinds; i++) {
    FINITE_ROW(sh, in, winds, i, low, SL_PRESSURE);
    FINITE_ROW(sh, in, winds, i, high, SL_PRESSURE);
  }
  POSITIVE(sh, in, slope_length, SL_LENGTH);
  POSITIVE(sh, in, length, SL_LENGTH);
  FINITE(sh, in, rise, SL_RATIO);
  NOT_NEGATIVE(sh, in, tilt, SL_ANGLE);
  REQUIRE(sh, in, tilt, < acos(0), "must be less than 90 deg", SL_ANGLE);
  double largest = 0;
  LINES(sh, "wind cases");
  for (size_t i = 0; i < in->nwinds; i++) {
    LINE(sh);
    GIVEN(sh, SL_PRESSURE, p_low, in->winds[i].low);
    GIVEN(sh, SL_PRESSURE, p_high, in->winds[i].high);
    STEP(sh, SL_PRESSURE, p_mean, fabs(p_low + p_high) / 2, "it goes evenly from edge to edge");
    largest = fmax(largest, p_mean);
  }
  LINES_END(sh);
  LOOKUP(sh, SL_PRESSURE, p, largest, "most of any case, either way", STATICS, SL_DERIVED);
  GIVEN(sh, SL_LENGTH, s, in->slope_length);
  GIVEN(sh, SL_LENGTH, L, in->length);
  GIVEN(sh, SL_RATIO, g, in->rise);
  GIVEN(sh, SL_ANGLE, theta, in->tilt);
  STEP(sh, SL_ANGLE, gamma, atan(fabs(g)), "plane geometry");
  STEP(sh, SL_FORCE, N, p * s * L, STATICS);
  STEP(sh, SL_FORCE, W_along, N * sin(gamma) * cos(theta), "statics: along a row that slopes");
  GIVES(sh, out, square, N);
  GIVES(sh, out, along, W_along);
  return SL_OK;
}

/* ---- rails ------------------------------------------------------------------------------------------------------- */

/* What one row of modules puts on its rails, `n` from `at` on; the most of them. */
static enum sl_status share_row(const double *at, size_t n, double from, double until, double *most,
                                struct sl_sheet *sh) {
  for (size_t i = 0; i < n; i++) {
    LINE(sh);
    LOOKUP(sh, SL_LENGTH, rail, at[i], "the rail", "as given", SL_DERIVED);
    LOOKUP(sh, SL_LENGTH, low, from, "lower edge of the module", "as given", SL_DERIVED);
    LOOKUP(sh, SL_LENGTH, high, until, "its upper edge", "as given", SL_DERIVED);
    double share = until - from;
    if (n == 2) {
      LOOKUP(sh, SL_LENGTH, other, at[1 - i], "the other rail", "as given", SL_DERIVED);
      STEP(sh, SL_LENGTH, part, (high - low) * ((low + high) / 2 - other) / (rail - other), BEAM);
      share = part;
    } else {
      LOOKUP(sh, SL_LENGTH, below, i > 0 ? at[i - 1] : 2 * from - at[i], "the rail below, or as far off the edge",
             "as given", SL_DERIVED);
      LOOKUP(sh, SL_LENGTH, above, i + 1 < n ? at[i + 1] : 2 * until - at[i], "the rail above, or as far off the edge",
             "as given", SL_DERIVED);
      STEP(sh, SL_LENGTH, part, (rail + above) / 2 - (below + rail) / 2, HALVES);
      share = part;
    }
    *most = fmax(*most, share);
  }
  return SL_OK;
}

enum sl_status sl_rail_share(const struct sl_rail_share_in *in, struct sl_rail_share_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, side, SL_LENGTH);
  REQUIRE(sh, in, rows, >= 1 && in->rows <= 100, "must be 1 to 100", SL_NUMBER);
  NOT_NEGATIVE(sh, in, row_gap, SL_LENGTH);
  if (in->nrails < 1 || in->nrails > 1000)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "rails", "must be 1 to 1000", "", (double)in->nrails, NAN, SL_NUMBER);
  for (size_t i = 0; i < in->nrails; i++) {
    const double before = i ? in->rails[i - 1] : -INFINITY;
    REQUIRE_ITEM(sh, in, rails, i, > before, "must come above the one before it", SL_LENGTH);
    REQUIRE_ITEM(sh, in, rails, i, < INFINITY, "must be a finite number", SL_LENGTH);
  }
  GIVEN(sh, SL_LENGTH, side, in->side);
  GIVEN(sh, SL_NUMBER, rows, in->rows);
  GIVEN(sh, SL_LENGTH, gap, in->row_gap);
  double most = 0;
  LINES(sh, "each rail under each row of modules, from the lower edge up");
  for (int k = 0; k < in->rows; k++) {
    const double low = k * (side + gap);
    size_t first = 0, n = 0;
    while (first < in->nrails && in->rails[first] < low) first++;
    while (first + n < in->nrails && in->rails[first + n] <= low + side) n++;
    WORKED(sh, in->nrails + 10);
    const enum sl_status status = share_row(&in->rails[first], n, low, low + side, &most, sh);
    if (status != SL_OK) return status;
  }
  LINES_END(sh);
  (void)rows;
  if (!(most > 0))
    return sl_sheet_fault(sh, SL_NO_ANSWER, "rails", "lie under no module", "", (double)in->nrails, NAN, SL_NUMBER);
  LOOKUP(sh, SL_LENGTH, height, most, "of slope, on the rail that carries most", STATICS, SL_DERIVED);
  GIVES(sh, out, height, height);
  return SL_OK;
}
