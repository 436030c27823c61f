/* SPDX-License-Identifier: MIT
 * Wind on a face steeper than the free roof's figure goes: the solid freestanding sign. */
#include "guard.h"
#include "room.h"
#include "table.h"
#include "stringline/wind_faces.h"

#define SIGN "@wind_sign"
#define FACTORED "@wind_factored"

enum { STRIPS = 7 };
static const double least_clearance = 0.16, least_aspect = 0.05, most_aspect = 45;   /* ends of the table */
static const double end_of_ten = 10, begin_of_thirteen = 13;    /* between them the strips are divided otherwise */

/* Values of a column on both sides of a ratio; rows may come in any order. */
struct sides { double low, high; };
static void take(struct sides *s, double value, double at) {
  if (value <= at + 1e-9 && !(s->low >= value)) s->low = value;
  if (value >= at - 1e-9 && !(s->high <= value)) s->high = value;
}

static const struct sl_table_wind_sign_cf *find_cf(int edition, double clearance, double aspect) {
  FIND(row, wind_sign_cf, STANDS(row, edition) && fabs(row->clearance - clearance) < 1e-9 &&
                          fabs(row->aspect - aspect) < 1e-9);
  return row;
}

/* The strip of that column that begins there, or NULL. */
static const struct sl_table_wind_sign_strips *find_strip(int edition, double aspect, double from) {
  FIND(row, wind_sign_strips, STANDS(row, edition) && fabs(row->aspect - aspect) < 1e-9 &&
                              fabs(row->from - from) < 1e-9);
  return row;
}

size_t sl_sign_wind_need(const struct sl_sign_wind_in *in) {
  (void)in;
  return NEED(0, struct sl_sign_strip, STRIPS);
}

enum sl_status sl_sign_wind(const struct sl_sign_wind_in *in, struct sl_sign_wind_out *out, struct sl_space space,
                            struct sl_sheet *sh) {
  POSITIVE(sh, in, velocity_pressure, SL_PRESSURE);
  NOT_NEGATIVE(sh, in, tilt, SL_ANGLE);
  POSITIVE(sh, in, slope_length, SL_LENGTH);
  POSITIVE(sh, in, row_width, SL_LENGTH);
  POSITIVE(sh, in, top, SL_LENGTH);
  EDITION(sh, in, edition, "ASCE", edition);
  ENOUGH(sh, space, sl_sign_wind_need(in));

  GIVEN(sh, SL_PRESSURE, q, in->velocity_pressure);
  GIVEN(sh, SL_ANGLE, theta, in->tilt);
  GIVEN(sh, SL_LENGTH, C, in->slope_length);
  GIVEN(sh, SL_LENGTH, B, in->row_width);
  GIVEN(sh, SL_LENGTH, h, in->top);
  FACT(sh, SL_ANGLE, theta_roof, "tilt_most", edition);
  WITHIN(sh, "tilt", theta - 1e-9, >, theta_roof, "is not steeper than the free roof's figure, which holds there",
         "@wind_figure", SL_ANGLE);
  WITHIN(sh, "tilt", theta - 1e-9, <=, acos(0), "is beyond upright", SIGN, SL_ANGLE);
  STEP(sh, SL_LENGTH, s, C * sin(theta), "plane geometry: height of the face");
  STEP(sh, SL_NUMBER, s_h, s / h, SIGN);
  STEP(sh, SL_NUMBER, B_s, B / s, SIGN);
  WITHIN(sh, "top", s_h - 1e-9, <=, 1, "is lower than the face is high", SIGN, SL_NUMBER);
  WITHIN(sh, "row_width", B_s + 1e-9, >=, least_aspect, "is narrower over its height than the table goes (B/s)", SIGN,
         SL_NUMBER);
  WITHIN(sh, "row_width", B_s - 1e-9, <=, most_aspect, "is wider over its height than the table goes (B/s)", SIGN,
         SL_NUMBER);
  struct sides clear = { NAN, NAN }, wide = { NAN, NAN };
  for (size_t i = 0; i < SL_ROWS_OF_wind_sign_cf; i++) {
    take(&clear, sl_table_wind_sign_cf[i].clearance, fmax(s_h, least_clearance));  /* a sign's sheet has 0.15 so */
    take(&wide, sl_table_wind_sign_cf[i].aspect, B_s);
  }
  const struct sl_table_wind_sign_cf *aa = find_cf(edition, clear.low, wide.low),
    *ab = find_cf(edition, clear.low, wide.high), *ba = find_cf(edition, clear.high, wide.low),
    *bb = find_cf(edition, clear.high, wide.high);
  if (!aa || !ab || !ba || !bb) return NO_ROW(sh, "edition", "has no row of the figure", SIGN);
  FROM(sh, SL_NUMBER, s_h_a, aa, clearance, "row at or below s/h, or the first", edition);
  FROM(sh, SL_NUMBER, s_h_b, bb, clearance, "row above it, or the same", edition);
  FROM(sh, SL_NUMBER, B_s_a, aa, aspect, "column at or below B/s", edition);
  FROM(sh, SL_NUMBER, B_s_b, bb, aspect, "column above it, or the same", edition);
  FROM(sh, SL_NUMBER, Cf_aa, aa, cf, aa->name, edition);
  FROM(sh, SL_NUMBER, Cf_ab, ab, cf, ab->name, edition);
  FROM(sh, SL_NUMBER, Cf_ba, ba, cf, ba->name, edition);
  FROM(sh, SL_NUMBER, Cf_bb, bb, cf, bb->name, edition);
  STEP(sh, SL_NUMBER, f, s_h_b > s_h_a ? (s_h - s_h_a) / (s_h_b - s_h_a) : 0, SIGN);
  STEP(sh, SL_NUMBER, g, B_s_b > B_s_a ? (B_s - B_s_a) / (B_s_b - B_s_a) : 0, SIGN);
  STEP(sh, SL_NUMBER, Cf, (1 - f) * (Cf_aa + g * (Cf_ab - Cf_aa)) + f * (Cf_ba + g * (Cf_bb - Cf_ba)), SIGN);
  FACT(sh, SL_NUMBER, Kd, "Kd", edition);
  FACT(sh, SL_NUMBER, G, "G", edition);
  STEP(sh, SL_PRESSURE, q_d, q * Kd * G, FACTORED);
  STEP(sh, SL_PRESSURE, p, q_d * Cf, SIGN);
  FACT(sh, SL_NUMBER, off, "sign_offset", edition);
  STEP(sh, SL_LENGTH, offset, off * B, SIGN);
  FACT(sh, SL_NUMBER, raised, "sign_raise", edition);
  STEP(sh, SL_LENGTH, raise, s_h >= 1 - 1e-9 ? raised * h : 0, SIGN);
  FACT(sh, SL_NUMBER, B_s_C, "sign_strips", edition);
  FACT(sh, SL_NUMBER, s_h_C, "sign_near", edition);
  FACT(sh, SL_NUMBER, less, "sign_less", edition);
  STEP(sh, SL_NUMBER, r, s_h > s_h_C ? less - s_h : 1, SIGN);

  struct sl_sign_strip *strips = PART(&space, struct sl_sign_strip, STRIPS);
  size_t n = 0;
  if (B_s + 1e-9 >= B_s_C) {
    if (B_s > end_of_ten + 1e-9)
      WITHIN(sh, "row_width", B_s + 1e-9, >=, begin_of_thirteen,
             "lies between two columns whose strips are divided otherwise: B/s above 10 and below 13", SIGN, SL_NUMBER);
    struct sides column = { NAN, NAN };
    for (size_t i = 0; i < SL_ROWS_OF_wind_sign_strips; i++) take(&column, sl_table_wind_sign_strips[i].aspect, B_s);
    LINES(sh, "strips of case C from the windward end");
    for (size_t i = 0; i < SL_ROWS_OF_wind_sign_strips && n < STRIPS; i++) {
      const struct sl_table_wind_sign_strips *high = &sl_table_wind_sign_strips[i];
      if (!STANDS(high, edition) || fabs(high->aspect - column.high) > 1e-9 || !(high->from < B_s - 1e-9)) continue;
      /* A strip that the narrower column has not has the wider column's value. */
      const struct sl_table_wind_sign_strips *low = find_strip(edition, column.low, high->from);
      if (!low) low = high;
      LINE(sh);
      FROM(sh, SL_NUMBER, aspect_a, low, aspect, "column at or below B/s, or the first that has the strip", edition);
      FROM(sh, SL_NUMBER, aspect_b, high, aspect, "column above it, or the same", edition);
      FROM(sh, SL_NUMBER, Cf_a, low, cf, low->name, edition);
      FROM(sh, SL_NUMBER, Cf_b, high, cf, high->name, edition);
      FROM(sh, SL_NUMBER, from_s, high, from, "begin of the strip, in heights of the face", edition);
      FROM(sh, SL_NUMBER, to_s, high, to, "its end", edition);
      STEP(sh, SL_LENGTH, from, from_s * s, SIGN);
      STEP(sh, SL_LENGTH, to, fmin(to_s * s, B), SIGN);
      STEP(sh, SL_NUMBER, Cf_C,
           r * (aspect_b > aspect_a ? Cf_a + (Cf_b - Cf_a) * (B_s - aspect_a) / (aspect_b - aspect_a) : Cf_a), SIGN);
      STEP(sh, SL_PRESSURE, p_C, q_d * Cf_C, SIGN);
      GIVES_ROW(sh, strips, n, from, from);
      GIVES_ROW(sh, strips, n, to, to);
      GIVES_ROW(sh, strips, n, pressure, p_C);
      n++;
    }
    LINES_END(sh);
  }
  *out = (struct sl_sign_wind_out){ .strips = strips, .nstrips = n };
  GIVES(sh, out, cf, Cf);
  GIVES(sh, out, pressure, p);
  GIVES(sh, out, offset, offset);
  GIVES(sh, out, raise, raise);
  return SL_OK;
}
