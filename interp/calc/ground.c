/* SPDX-License-Identifier: MIT
 * What the ground does for a post or pier: depth without the soil on top, bearing, friction, cone, sliding, spacing. */
#include "guard.h"
#include "halving.h"
#include "post_numbers.h"
#include "table.h"
#include "stringline/ground.h"

#define UNCONSTRAINED "@post_unconstrained"
#define CONSTRAINED   "@post_constrained"
#define ON_TOP        "soil that does not count, on top"
#define GEOMETRY      "plane geometry"

FITS_COLUMN(soil_presumptive, word, struct sl_soil_bearing_in, soil_class)
FITS_COLUMN(soil_presumptive, class, struct sl_soil_bearing_in, soil_class)
FITS_COLUMN(soil_presumptive, word, struct sl_friction_hold_in, soil_class)
FITS_COLUMN(soil_presumptive, class, struct sl_friction_hold_in, soil_class)
FITS_COLUMN(soil_presumptive, word, struct sl_soil_sliding_in, soil_class)
FITS_COLUMN(soil_presumptive, class, struct sl_soil_sliding_in, soil_class)

const char *const sl_firmnesses[] = { "good granular", "loose or wet", NULL };

/* ---- depth without the soil on top ----------------------------------------------------------------------------- */

/* The soil that counts, by the text and by the older reading: assumed, or what is needed with S taken there.  A
 * search assumes no older one (NAN), and is spared it. */
struct pass { double counted, older, pressure, a; };

/* One pass of both readings, which do not touch each other. */
static enum sl_status pass_at(const struct sl_embed_neglecting_in *in, const struct post_numbers *found,
                              const struct pass *assumed, struct pass *out, struct sl_sheet *sh) {
  const char *const assumption = isnan(in->provided)
    ? "assumed soil that counts, found by halving: the lines below give it back"
    : "soil that counts of the depth provided, at which the pressure is taken";
  GIVEN(sh, SL_FORCE, P, in->lateral);
  GIVEN(sh, SL_LENGTH, h, in->height);
  GIVEN(sh, SL_LENGTH, w, in->width);
  GIVEN(sh, SL_NUMBER, square, in->square);
  GIVEN(sh, SL_SOIL, s, in->bearing);
  GIVEN(sh, SL_NUMBER, isolated, in->isolated);
  GIVEN(sh, SL_LENGTH, n, in->neglect);
  GIVEN(sh, SL_NUMBER, from_grade, in->from_grade);
  const double d_t = assumed->counted;
  SL_ADD_(sh, SL_ROW_GIVEN, SL_LENGTH, SL_READ, d_t, assumption, "");
  POST_NUMBER_ROW(sh, SL_NUMBER, twice, found, isolated);
  POST_NUMBER_ROW(sh, SL_LENGTH, d_max, found, deepest);
  STEP(sh, SL_NUMBER, f, isolated > 0 ? twice : 1, "@soil_isolated");
  STEP(sh, SL_LENGTH, b, square > 0 ? sqrt(2) * w : w, "diagonal of a square post");
  STEP(sh, SL_LENGTH, z, from_grade > 0 ? n : 0, "pressure grows from grade, or from where soil counts");
  if (in->held) {
    POST_NUMBER_ROW(sh, SL_NUMBER, c_h, found, held);
    STEP(sh, SL_PRESSURE, S3, f * s * fmin(z + d_t, d_max), CONSTRAINED);
    STEP(sh, SL_LENGTH, d_c, sqrt(c_h * P * h / (S3 * b)), CONSTRAINED);
    STEP(sh, SL_LENGTH, d, n + d_c, ON_TOP);
    STEP(sh, SL_LENGTH, d_o, d, "both readings of the greatest depth are one here");
    *out = (struct pass){ d_c, d_c, S3, NAN };
    return SL_OK;
  }
  POST_NUMBER_ROW(sh, SL_NUMBER, n_S, found, share);
  POST_NUMBER_ROW(sh, SL_NUMBER, c_A, found, a);
  POST_NUMBER_ROW(sh, SL_NUMBER, c_h, found, lever);
  STEP(sh, SL_LENGTH, h_c, h + n, "of the force above the soil that counts");
  STEP(sh, SL_PRESSURE, S1, f * s * fmin(z + d_t / n_S, d_max), UNCONSTRAINED);
  STEP(sh, SL_LENGTH, A, c_A * P / (S1 * b), UNCONSTRAINED);
  STEP(sh, SL_LENGTH, d_c, A / 2 * (1 + sqrt(1 + c_h * h_c / A)), UNCONSTRAINED);
  STEP(sh, SL_LENGTH, d, n + d_c, ON_TOP);
  const double d_to = assumed->older;
  if (isnan(d_to)) {
    *out = (struct pass){ d_c, NAN, S1, A };
    return SL_OK;
  }
  HEADING(sh, "older reading of the greatest depth for pressure");
  SL_ADD_(sh, SL_ROW_GIVEN, SL_LENGTH, SL_READ, d_to, assumption, "");
  STEP(sh, SL_PRESSURE, S1_o, f * s * fmin(z + d_to / n_S, d_max / n_S), UNCONSTRAINED);
  STEP(sh, SL_LENGTH, A_o, c_A * P / (S1_o * b), UNCONSTRAINED);
  STEP(sh, SL_LENGTH, d_co, A_o / 2 * (1 + sqrt(1 + c_h * h_c / A_o)), UNCONSTRAINED);
  STEP(sh, SL_LENGTH, d_o, n + d_co, ON_TOP);
  *out = (struct pass){ d_c, d_co, S1, A };
  return SL_OK;
}

struct search {
  const struct sl_embed_neglecting_in *in;
  const struct post_numbers *found;
  struct sl_sheet *sh;
};
static double needed_at(const void *of, double assumed) {
  enum { A_PASS = 50 };                                  /* divisions and a root take as long as several others */
  const struct search *s = of;
  const struct pass there = { assumed, NAN, 0, 0 };
  struct pass pass;
  WORKED(s->sh, A_PASS);
  return pass_at(s->in, s->found, &there, &pass, NULL) == SL_OK ? pass.counted : NAN;
}

/* The soil that counts by both readings, each of which needs itself; false: no depth to a kilometre holds.  Where the
 * older one's cap is not reached, both are one down to that depth, and so are their answers.  Where it is, pressure
 * grows no more with depth by it, and one pass gives its answer. */
static bool search_both(const struct sl_embed_neglecting_in *in, const struct post_numbers *numbers,
                        struct pass *found, struct sl_sheet *sh) {
  const struct search search = { in, numbers, sh };
  const bool holds = sl_least_depth(needed_at, &search, &found->counted);
  const struct pass there = { found->counted, found->counted, 0, 0 };
  struct pass both;
  found->older = found->counted;
  if (!holds || pass_at(in, numbers, &there, &both, NULL) != SL_OK) return false;
  if (both.older > found->counted) found->older = both.older;
  return found->older <= SL_DEEPEST;
}

static bool gives_back(double needed, double assumed) { return fabs(needed - assumed) <= 1e-9 * assumed; }

enum sl_status sl_embed_neglecting(const struct sl_embed_neglecting_in *in, struct sl_embed_neglecting_out *out,
                                   struct sl_sheet *sh) {
  POSITIVE(sh, in, lateral, SL_FORCE);
  NOT_NEGATIVE(sh, in, height, SL_LENGTH);
  if (in->held) POSITIVE(sh, in, height, SL_LENGTH);
  POSITIVE(sh, in, width, SL_LENGTH);
  POSITIVE(sh, in, bearing, SL_SOIL);
  NOT_NEGATIVE(sh, in, neglect, SL_LENGTH);
  const bool solved = isnan(in->provided);
  if (!solved) {
    POSITIVE(sh, in, provided, SL_LENGTH);
    REQUIRE(sh, in, provided, > in->neglect, "must be deeper than the soil that does not count", SL_LENGTH);
    /* There more soil that does not count would ask for less depth. */
    if (in->from_grade) REQUIRE(sh, in, neglect, <= 0, "must be 0 where the pressure at a depth provided grows from "
                                "grade", SL_LENGTH);
  }
  EDITION(sh, in, edition, "IBC", edition);
  const char *const cite = in->held ? CONSTRAINED : UNCONSTRAINED;
  struct post_numbers numbers = { .edition = edition };
  enum sl_status status = find_post_numbers(&numbers, sh);
  if (status != SL_OK) return status;
  struct pass found = { 0, 0, 0, 0 }, last;
  bool holds = true;
  if (solved) holds = search_both(in, &numbers, &found, sh);
  else found.counted = found.older = in->provided - in->neglect;
  status = pass_at(in, &numbers, &found, &last, sh);
  if (status != SL_OK) return status;
  if (!holds)
    return sl_sheet_fault(sh, SL_NO_ANSWER, "lateral", "no depth to a kilometre holds this load", cite, in->lateral,
                          NAN, SL_FORCE);
  if (solved && (!gives_back(last.counted, found.counted) || !gives_back(last.older, found.older)))
    return sl_sheet_fault(sh, SL_NO_ANSWER, "lateral", "and the other inputs are beyond what a depth is worked out of",
                          cite, in->lateral, NAN, SL_FORCE);
  if (!solved) found = last;
  *out = (struct sl_embed_neglecting_out){ 0 };
  GIVES_(sh, out, depth, d, in->neglect + found.counted);
  GIVES_(sh, out, counted, d_c, found.counted);
  if (in->held) GIVES_(sh, out, pressure, S3, last.pressure);
  else GIVES_(sh, out, pressure, S1, last.pressure);
  GIVES_(sh, out, strict, d_o, in->neglect + found.older);
  out->a = NAN;
  if (!in->held) GIVES_(sh, out, a, A, last.a);
  return SL_OK;
}

/* ---- classes of soil ------------------------------------------------------------------------------------------- */

/* The row of a class, or NULL. */
static const struct sl_table_soil_presumptive *soil_of(const char *class, int edition) {
  FIND(row, soil_presumptive, STANDS(row, edition) && (sl_same_text(row->word, class) ||
                                                       sl_same_text(row->class, class)));
  return row;
}
#define NO_CLASS "is no class of the table"

/* Vertical bearing: by the class or by a report, one of the two.  On the sheet it is q. */
static enum sl_status take_vertical(const char *class, double vertical, int edition, double *to, struct sl_sheet *sh) {
  if ((*class == 0) == isnan(vertical))
    return sl_sheet_fault(sh, SL_BAD_INPUT, "vertical", "or the class of the soil must be given, one of the two", "",
                          vertical, NAN, SL_PRESSURE);
  if (!*class) {
    if (!(vertical > 0 && vertical < INFINITY))
      return sl_sheet_fault(sh, SL_BAD_INPUT, "vertical", "must be greater than 0 and finite", "", vertical, NAN,
                            SL_PRESSURE);
    GIVEN(sh, SL_PRESSURE, q, vertical);
    if (sh && sh->cap) sl_sheet_is(sh, "in->vertical");
    *to = q;
    return SL_OK;
  }
  const struct sl_table_soil_presumptive *const row = soil_of(class, edition);
  if (!row) return NO_ROW(sh, "soil_class", NO_CLASS, "@soil_values");
  FROM(sh, SL_PRESSURE, q, row, vertical, row->name, edition);
  *to = q;
  return SL_OK;
}

enum sl_status sl_soil_bearing(const struct sl_soil_bearing_in *in, struct sl_soil_bearing_out *out,
                               struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, pressed, SL_FORCE);
  NOT_NEGATIVE(sh, in, weight, SL_FORCE);
  POSITIVE(sh, in, width, SL_LENGTH);
  EDITION(sh, in, edition, "IBC", edition);
  double q = 0;
  const enum sl_status status = take_vertical(in->soil_class, in->vertical, edition, &q, sh);
  if (status != SL_OK) return status;
  GIVEN(sh, SL_FORCE, P, in->pressed);
  GIVEN(sh, SL_FORCE, W, in->weight);
  GIVEN(sh, SL_LENGTH, b, in->width);
  GIVEN(sh, SL_NUMBER, square, in->square);
  STEP(sh, SL_NUMBER, pi, acos(-1), "circle");
  STEP(sh, SL_AREA, A, square > 0 ? b * b : pi / 4 * b * b, GEOMETRY);
  STEP(sh, SL_PRESSURE, p, (P + W) / A, "@post_bearing");
  STEP(sh, SL_FORCE, capacity, q * A, "@post_bearing");
  STEP(sh, SL_NUMBER, ratio, p / q, "holds at 1 or less");
  GIVES(sh, out, area, A);
  GIVES(sh, out, pressure, p);
  GIVES(sh, out, allowable, q);
  GIVES(sh, out, capacity, capacity);
  GIVES(sh, out, ratio, ratio);
  return SL_OK;
}

enum sl_status sl_friction_hold(const struct sl_friction_hold_in *in, struct sl_friction_hold_out *out,
                                struct sl_sheet *sh) {
  POSITIVE(sh, in, width, SL_LENGTH);
  POSITIVE(sh, in, depth, SL_LENGTH);
  NOT_NEGATIVE(sh, in, neglect, SL_LENGTH);
  REQUIRE(sh, in, neglect, < in->depth, "leaves no soil that counts", SL_LENGTH);
  EDITION(sh, in, edition, "IBC", edition);
  double q = 0;
  const enum sl_status status = take_vertical(in->soil_class, in->vertical, edition, &q, sh);
  if (status != SL_OK) return status;
  GIVEN(sh, SL_LENGTH, b, in->width);
  GIVEN(sh, SL_NUMBER, square, in->square);
  GIVEN(sh, SL_LENGTH, d, in->depth);
  GIVEN(sh, SL_LENGTH, n, in->neglect);
  FACT(sh, SL_NUMBER, share, "skin_share", edition);
  FACT(sh, SL_PRESSURE, most, "skin_most", edition);
  STEP(sh, SL_NUMBER, pi, acos(-1), "circle");
  STEP(sh, SL_LENGTH, around, square > 0 ? 4 * b : pi * b, GEOMETRY);
  STEP(sh, SL_PRESSURE, friction, fmin(q / share, most), "@soil_friction");
  STEP(sh, SL_FORCE, F, friction * around * (d - n), "@soil_friction");
  GIVES(sh, out, friction, friction);
  GIVES(sh, out, force, F);
  return SL_OK;
}

enum sl_status sl_soil_sliding(const struct sl_soil_sliding_in *in, struct sl_soil_sliding_out *out,
                               struct sl_sheet *sh) {
  EDITION(sh, in, edition, "IBC", edition);
  const struct sl_table_soil_presumptive *const row = soil_of(in->soil_class, edition);
  if (!row) return NO_ROW(sh, "soil_class", NO_CLASS, "@soil_values");
  *out = (struct sl_soil_sliding_out){ NAN, NAN, NAN };
  if (isnan(row->adhesion)) {
    FROM(sh, SL_NUMBER, mu, row, friction, row->name, edition);
    GIVES(sh, out, friction, mu);
    return SL_OK;
  }
  FROM(sh, SL_PRESSURE, c, row, adhesion, row->name, edition);
  FACT(sh, SL_NUMBER, most, "slide_most", edition);
  GIVES(sh, out, adhesion, c);
  GIVES(sh, out, most, most);
  return SL_OK;
}

/* ---- a bell, and piers beside each other ----------------------------------------------------------------------- */

enum sl_status sl_bell_hold(const struct sl_bell_hold_in *in, struct sl_bell_hold_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, width, SL_LENGTH);
  POSITIVE(sh, in, depth, SL_LENGTH);
  NOT_NEGATIVE(sh, in, neglect, SL_LENGTH);
  REQUIRE(sh, in, neglect, < in->depth, "leaves no soil that counts", SL_LENGTH);
  NOT_NEGATIVE(sh, in, angle, SL_ANGLE);
  ONE_OF(sh, in, firmness, SL_LOOSE_OR_WET);
  const bool dry = isnan(in->dry_to);
  if (!dry) NOT_NEGATIVE(sh, in, dry_to, SL_LENGTH);
  GIVEN(sh, SL_LENGTH, b, in->width);
  GIVEN(sh, SL_LENGTH, depth, in->depth);
  GIVEN(sh, SL_LENGTH, n, in->neglect);
  GIVEN(sh, SL_ANGLE, a, in->angle);
  GIVEN(sh, SL_LENGTH, dry_to, dry ? in->depth : in->dry_to);
  if (sh && sh->cap) sl_sheet_is(sh, dry ? "in->depth" : "in->dry_to");
  const bool loose = in->firmness == SL_LOOSE_OR_WET || dry_to < depth;
  FACT_OF(sh, SL_ANGLE, a_max, loose ? "cone_loose" : "cone_granular", SL_NO_EDITION);
  WITHIN(sh, "angle", a, <=, a_max * (1 + 1e-9), "is wider than a cone of such soil is counted", fact_a_max->cite,
         SL_ANGLE);
  FACT(sh, SL_DENSITY, rho_s, "ground_soil", SL_NO_EDITION);
  FACT(sh, SL_DENSITY, rho_w, "ground_water", SL_NO_EDITION);
  STEP(sh, SL_NUMBER, pi, acos(-1), "circle");
  STEP(sh, SL_LENGTH, r, b / 2, GEOMETRY);
  STEP(sh, SL_LENGTH, d, depth - n, "soil that counts");
  STEP(sh, SL_LENGTH, wider, d * tan(a), GEOMETRY);
  STEP(sh, SL_VOLUME, V, pi * d * wider * (r + wider / 3), "frustum less the cylinder of its base");
  STEP(sh, SL_LENGTH, d_w, fmin(d, fmax(0, depth - dry_to)), "of it in water");
  STEP(sh, SL_LENGTH, wider_w, d_w * tan(a), GEOMETRY);
  STEP(sh, SL_VOLUME, V_w, pi * d_w * wider_w * (r + wider_w / 3), "frustum less the cylinder of its base");
  STEP(sh, SL_FORCE, W, 9.80665 * (rho_s * V - rho_w * V_w), "less the water that it displaces");
  GIVES(sh, out, volume, V);
  GIVES(sh, out, weight, W);
  return SL_OK;
}

enum sl_status sl_pier_spacing(const struct sl_pier_spacing_in *in, struct sl_pier_spacing_out *out,
                               struct sl_sheet *sh) {
  POSITIVE(sh, in, diameter, SL_LENGTH);
  const bool post = !isnan(in->post_width), asked = !isnan(in->spacing);
  if (post) POSITIVE(sh, in, post_width, SL_LENGTH);
  if (asked) POSITIVE(sh, in, spacing, SL_LENGTH);
  GIVEN(sh, SL_LENGTH, D, in->diameter);
  GIVEN(sh, SL_LENGTH, b, post ? in->post_width : 0);
  if (post && sh && sh->cap) sl_sheet_is(sh, "in->post_width");
  FACT(sh, SL_NUMBER, of_pier, "apart_footing", SL_NO_EDITION);
  FACT(sh, SL_NUMBER, of_post, "apart_post", SL_NO_EDITION);
  STEP(sh, SL_LENGTH, least, fmax(of_pier * D, of_post * b), fact_of_pier->cite);
  if (asked)
    WITHIN(sh, "spacing", in->spacing, >=, least * (1 - 1e-9),
           "makes the piers a group, and what a group loses is not held here", fact_of_pier->cite, SL_LENGTH);
  GIVES(sh, out, least, least);
  return SL_OK;
}

static double pier_least(const struct sl_pier_at *a, const struct sl_pier_at *b, double of_pier, double of_post) {
  return fmax(of_pier * fmax(a->diameter, b->diameter), of_post * fmax(a->post_width, b->post_width));
}

enum { MOST_PIERS = 5000 };

enum sl_status sl_piers_apart(const struct sl_piers_apart_in *in, struct sl_piers_apart_out *out,
                              struct sl_sheet *sh) {
  if (!(in->n >= 2 && in->n <= MOST_PIERS))
    return sl_sheet_fault(sh, SL_BAD_INPUT, "piers", "must be 2 to 5000", "", (double)in->n, NAN, SL_NUMBER);
  bool mine = false;
  for (size_t i = 0; i < in->n; i++) {
    FINITE_ROW(sh, in, piers, i, east, SL_LENGTH);
    FINITE_ROW(sh, in, piers, i, north, SL_LENGTH);
    REQUIRE_ROW(sh, in, piers, i, diameter, > 0, "must be greater than 0", SL_LENGTH);
    REQUIRE_ROW(sh, in, piers, i, diameter, < INFINITY, "must be a finite number", SL_LENGTH);
    REQUIRE_ROW(sh, in, piers, i, post_width, > 0, "must be greater than 0", SL_LENGTH);
    REQUIRE_ROW(sh, in, piers, i, post_width, < INFINITY, "must be a finite number", SL_LENGTH);
    mine = mine || in->piers[i].rack == in->of;
  }
  if (!mine) return sl_sheet_fault(sh, SL_BAD_INPUT, "of", "has none of the piers", "", in->of, NAN, SL_NUMBER);
  FACT(sh, SL_NUMBER, of_pier, "apart_footing", SL_NO_EDITION);
  FACT(sh, SL_NUMBER, of_post, "apart_post", SL_NO_EDITION);
  size_t at[2] = { 0, 0 };
  double most = -1;
  for (size_t i = 0; i < in->n; i++)
    for (size_t k = i + 1; k < in->n; k++) {
      const struct sl_pier_at *a = &in->piers[i], *b = &in->piers[k];
      if (a->rack != in->of && b->rack != in->of) continue;
      const double used = pier_least(a, b, of_pier, of_post) / hypot(a->east - b->east, a->north - b->north);
      if (used > most) most = used, at[0] = i, at[1] = k;
    }
  WORKED(sh, in->n * in->n * 4);
  const struct sl_pier_at *a = &in->piers[at[0]], *b = &in->piers[at[1]];
  LOOKUP(sh, SL_LENGTH, e_1, a->east, "of the two that are nearest for their widths: the first, east", GEOMETRY,
         SL_DERIVED);
  LOOKUP(sh, SL_LENGTH, n_1, a->north, "north", GEOMETRY, SL_DERIVED);
  LOOKUP(sh, SL_LENGTH, D_1, a->diameter, "its diameter", GEOMETRY, SL_DERIVED);
  LOOKUP(sh, SL_LENGTH, b_1, a->post_width, "its post", GEOMETRY, SL_DERIVED);
  LOOKUP(sh, SL_LENGTH, e_2, b->east, "the second, east", GEOMETRY, SL_DERIVED);
  LOOKUP(sh, SL_LENGTH, n_2, b->north, "north", GEOMETRY, SL_DERIVED);
  LOOKUP(sh, SL_LENGTH, D_2, b->diameter, "its diameter", GEOMETRY, SL_DERIVED);
  LOOKUP(sh, SL_LENGTH, b_2, b->post_width, "its post", GEOMETRY, SL_DERIVED);
  STEP(sh, SL_LENGTH, spacing, hypot(e_1 - e_2, n_1 - n_2), GEOMETRY);
  STEP(sh, SL_LENGTH, least, fmax(of_pier * fmax(D_1, D_2), of_post * fmax(b_1, b_2)), fact_of_pier->cite);
  out->first = (int)at[0] + 1;
  out->second = (int)at[1] + 1;
  GIVES(sh, out, spacing, spacing);
  GIVES(sh, out, least, least);
  return SL_OK;
}
