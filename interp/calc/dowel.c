/* SPDX-License-Identifier: MIT
 * Bolts, lag screws and wood screws loaded across their axis: yield of wood and fastener, in one or two planes. */
#include "fastener.h"

#define BEARING "@dowel_bearing"
#define ANGLED  "@dowel_angle"
#define YIELD   "@dowel_yield"
#define REDUCED "@dowel_reduction"
#define LENGTHS "@dowel_length"
#define ADJUST  "@fastener_factors"

FITS_COLUMN(fastener_plates, plate, struct sl_dowel_yield_in, plate)
FITS_COLUMN(wood_fasteners, size, struct sl_dowel_yield_in, size)

typedef struct sl_table_fastener_plates plate_row;

/* A fastener in its members: what was looked up, and what was worked out so far. */
struct joint {
  const struct sl_dowel_yield_in *in;
  int edition;
  const sl_fastener_row *row;
  const plate_row *plate;                  /* NULL: wood at the side */
  struct sl_wood main, side;
  bool thin;                               /* under 1/4 in over the thread: no angle counts */
  double D, D_y, inch;                     /* nominal; by which it yields */
  double Fem, Fes, lm, ls, Rd_I, Rd_II, Rd_III;
};

/* ---- inputs ------------------------------------------------------------------------------------------------------ */

#define RIGHT_ANGLE 1.5707963267948966
#define ANGLE_OF(sh, in, member) \
  do { NOT_NEGATIVE(sh, in, member, SL_ANGLE); \
       REQUIRE(sh, in, member, <= RIGHT_ANGLE * (1 + 1e-9), "must be at most 90 deg", SL_ANGLE); } while (0)
#define LEFT_OUT(sh, in, member, text, dim) \
  do { if (!isnan((in)->member)) return sl_sheet_fault(sh, SL_BAD_INPUT, #member, text, "", (in)->member, NAN, dim); \
     } while (0)

static enum sl_status check_fastener(const struct sl_dowel_yield_in *in, struct sl_sheet *sh) {
  ONE_OF(sh, in, kind, SL_WOOD_SCREW);
  ONE_OF(sh, in, duration, SL_TEN_MINUTES);
  ONE_OF(sh, in, moisture, SL_DRIED);
  if (in->kind == SL_BOLT) {
    LEFT_OUT(sh, in, length, "of a bolt does not count: leave it out", SL_LENGTH);
    LEFT_OUT(sh, in, washer, "of a bolt does not count: leave it out", SL_LENGTH);
  } else {
    POSITIVE(sh, in, length, SL_LENGTH);
    if (!isnan(in->washer)) NOT_NEGATIVE(sh, in, washer, SL_LENGTH);
  }
  if (!isnan(in->group)) {
    POSITIVE(sh, in, group, SL_NUMBER);
    REQUIRE(sh, in, group, <= 1, "must be at most 1", SL_NUMBER);
  }
  if (!isnan(in->geometry)) {
    NOT_NEGATIVE(sh, in, geometry, SL_NUMBER);
    REQUIRE(sh, in, geometry, <= 1, "must be at most 1", SL_NUMBER);
  }
  return SL_OK;
}

static enum sl_status check_members(const struct sl_dowel_yield_in *in, struct sl_sheet *sh) {
  POSITIVE(sh, in, main_thickness, SL_LENGTH);
  POSITIVE(sh, in, side_thickness, SL_LENGTH);
  ANGLE_OF(sh, in, main_angle);
  if (in->end_grain)
    REQUIRE(sh, in, main_angle, >= RIGHT_ANGLE * (1 - 1e-9), "must be 90 deg: what lies along the fibers is loaded "
            "across them", SL_ANGLE);
  if (*in->plate) {
    LEFT_OUT(sh, in, side_gravity, "is of wood: leave it out with a plate", SL_NUMBER);
    LEFT_OUT(sh, in, side_angle, "is of wood: leave it out with a plate", SL_ANGLE);
    if (*in->side_species)
      return sl_sheet_fault(sh, SL_BAD_INPUT, "side_species", "is of wood: leave it out with a plate", "", NAN, NAN,
                            SL_NUMBER);
  } else ANGLE_OF(sh, in, side_angle);
  return SL_OK;
}

/* What the tables have of it. */
static enum sl_status look_up(struct joint *j, struct sl_sheet *sh) {
  const struct sl_dowel_yield_in *const in = j->in;
  j->row = sl_fastener_of(in->kind, in->size, j->edition);
  if (!j->row) return NO_SIZE(sh);
  enum sl_status status = sl_wood_of(in->main_species, in->main_gravity, "main_species", "main_gravity", j->edition,
                                     &j->main, sh);
  if (status != SL_OK) return status;
  if (!*in->plate)
    return sl_wood_of(in->side_species, in->side_gravity, "side_species", "side_gravity", j->edition, &j->side, sh);
  if (in->two_planes && in->kind != SL_BOLT)
    return NO_ROW(sh, "plate", "holds no thread: in two planes between steel plates goes a bolt", "@dowel_plate");
  FIND(row, fastener_plates, STANDS(row, j->edition) && sl_same_text(row->plate, in->plate));
  if (!row)
    return NO_ROW(sh, "plate", "has no bearing strength here; there are A653 Grade 33, thinner than 1/4 in, and A36, "
                  "from 1/4 in on", "@dowel_plate");
  if (!isnan(row->thinnest))
    WITHIN(sh, "side_thickness", in->side_thickness, >=, row->thinnest * (1 - 1e-9), "is thinner than the plates that "
           "the tables have of this steel", "@dowel_plate", SL_LENGTH);
  if (!isnan(row->below))
    WITHIN(sh, "side_thickness", in->side_thickness, <, row->below * (1 - 1e-9), "is thicker than the plates that the "
           "tables have of this steel", "@dowel_plate", SL_LENGTH);
  j->plate = row;
  return SL_OK;
}

/* ---- bearing ----------------------------------------------------------------------------------------------------- */

static enum sl_status bearing_main(struct joint *j, struct sl_sheet *sh) {
  const struct sl_dowel_yield_in *const in = j->in;
  const double D = j->D, inch = j->inch;
  double gravity;
  if (j->main.row) {
    FROM(sh, SL_NUMBER, G_m, j->main.row, g, j->main.row->species, j->edition);
    gravity = G_m;
  } else {
    GIVEN(sh, SL_NUMBER, G_m, in->main_gravity);
    gravity = G_m;
  }
  const double G_m = gravity;
  GIVEN(sh, SL_ANGLE, theta_m, in->main_angle);
  if (j->thin) {
    FACT(sh, SL_STRESS, Fe_1, "dowel_thin", j->edition);
    STEP(sh, SL_STRESS, Fem, Fe_1 * pow(G_m, 1.84), BEARING);
    j->Fem = Fem;
    return SL_OK;
  }
  FACT(sh, SL_STRESS, Fe_par_1, "dowel_parallel", j->edition);
  FACT(sh, SL_STRESS, Fe_perp_1, "dowel_across", j->edition);
  STEP(sh, SL_STRESS, Fe_par_m, Fe_par_1 * G_m, BEARING);
  STEP(sh, SL_STRESS, Fe_perp_m, Fe_perp_1 * pow(G_m, 1.45) / sqrt(D / inch), BEARING);
  STEP(sh, SL_STRESS, Fem, Fe_par_m * Fe_perp_m / (Fe_par_m * pow(sin(theta_m), 2) + Fe_perp_m *
       pow(cos(theta_m), 2)), ANGLED);
  j->Fem = Fem;
  return SL_OK;
}

static enum sl_status bearing_side(struct joint *j, struct sl_sheet *sh) {
  const struct sl_dowel_yield_in *const in = j->in;
  const double D = j->D, inch = j->inch;
  double gravity;
  if (j->plate) {
    FROM(sh, SL_STRESS, Fes, j->plate, bearing, j->plate->name, j->edition);
    j->Fes = Fes;
    return SL_OK;
  }
  if (j->side.row) {
    FROM(sh, SL_NUMBER, G_s, j->side.row, g, j->side.row->species, j->edition);
    gravity = G_s;
  } else {
    GIVEN(sh, SL_NUMBER, G_s, in->side_gravity);
    gravity = G_s;
  }
  const double G_s = gravity;
  GIVEN(sh, SL_ANGLE, theta_s, in->side_angle);
  if (j->thin) {
    FACT(sh, SL_STRESS, Fe_1, "dowel_thin", j->edition);
    STEP(sh, SL_STRESS, Fes, Fe_1 * pow(G_s, 1.84), BEARING);
    j->Fes = Fes;
    return SL_OK;
  }
  FACT(sh, SL_STRESS, Fe_par_1, "dowel_parallel", j->edition);
  FACT(sh, SL_STRESS, Fe_perp_1, "dowel_across", j->edition);
  STEP(sh, SL_STRESS, Fe_par_s, Fe_par_1 * G_s, BEARING);
  STEP(sh, SL_STRESS, Fe_perp_s, Fe_perp_1 * pow(G_s, 1.45) / sqrt(D / inch), BEARING);
  STEP(sh, SL_STRESS, Fes, Fe_par_s * Fe_perp_s / (Fe_par_s * pow(sin(theta_s), 2) + Fe_perp_s *
       pow(cos(theta_s), 2)), ANGLED);
  j->Fes = Fes;
  return SL_OK;
}

/* ---- lengths ----------------------------------------------------------------------------------------------------- */

/* A screw reaches into the member of its point: the main one, in two planes the far side. */
static enum sl_status lengths_of_screw(struct joint *j, double thickness_main, double thickness_side,
                                       struct sl_sheet *sh) {
  const struct sl_dowel_yield_in *const in = j->in;
  const double t_main = thickness_main, t_side = thickness_side, D = j->D;
  double tip = 0, under = 0, least = 0, through = 0;
  GIVEN(sh, SL_LENGTH, L, in->length);
  if (!isnan(in->washer)) {
    GIVEN(sh, SL_LENGTH, t_washer, in->washer);
    under = t_washer;
  } else STANDS_AT(sh, SL_LENGTH, t_washer, 0, "no washer", "how it is placed");
  const enum sl_status status = sl_fastener_tip(j->row, D, j->edition, &tip, sh);
  if (status != SL_OK) return status;
  const double t_washer = under, E = tip;
  if (in->two_planes) {
    STEP(sh, SL_LENGTH, p, L - t_washer - t_side - t_main, LENGTHS);
    STEP(sh, SL_LENGTH, ls, fmin(t_side, p - E / 2), LENGTHS);
    j->ls = ls;
    least = t_side;
    through = p;
  } else {
    STEP(sh, SL_LENGTH, p, L - t_washer - t_side, LENGTHS);
    STEP(sh, SL_LENGTH, lm, fmin(t_main, p - E / 2), LENGTHS);
    j->lm = lm;
    least = t_main;
    through = p;
  }
  const double p = through, t_point = least;
  if (in->kind == SL_LAG_SCREW) {
    FACT(sh, SL_NUMBER, p_least_D, "lag_least", j->edition);
    STEP(sh, SL_LENGTH, p_least, p_least_D * D, "@lag_penetration");
    WITHIN(sh, "length", fmin(p - E, t_point), >=, p_least * (1 - 1e-9), "reaches less deep, without its tip, than a "
           "lag screw must", "@lag_penetration", SL_LENGTH);
    return SL_OK;
  }
  FACT(sh, SL_NUMBER, p_least_D, "screw_least", j->edition);
  STEP(sh, SL_LENGTH, p_least, p_least_D * D, "@screw_penetration");
  WITHIN(sh, "length", fmin(p, t_point), >=, p_least * (1 - 1e-9), "reaches less deep than a wood screw must",
         "@screw_penetration", SL_LENGTH);
  return SL_OK;
}

static enum sl_status lengths(struct joint *j, struct sl_sheet *sh) {
  const struct sl_dowel_yield_in *const in = j->in;
  HEADING(sh, "lengths of bearing");
  GIVEN(sh, SL_LENGTH, t_main, in->main_thickness);
  GIVEN(sh, SL_LENGTH, t_side, in->side_thickness);
  if (in->kind == SL_BOLT || in->two_planes) {
    STEP(sh, SL_LENGTH, lm, t_main, LENGTHS);
    j->lm = lm;
  }
  if (in->kind == SL_BOLT || !in->two_planes) {
    STEP(sh, SL_LENGTH, ls, t_side, LENGTHS);
    j->ls = ls;
  }
  return in->kind == SL_BOLT ? SL_OK : lengths_of_screw(j, t_main, t_side, sh);
}

/* ---- yield ------------------------------------------------------------------------------------------------------- */

static enum sl_status reduction(struct joint *j, struct sl_sheet *sh) {
  const double D_y = j->D_y, inch = j->inch, D = j->D, theta_m = j->in->main_angle + 0.0;
  double most = theta_m;
  HEADING(sh, "reduction terms");
  if (!j->plate) {
    const double theta_s = j->in->side_angle + 0.0;
    STEP(sh, SL_ANGLE, theta, fmax(theta_m, theta_s), REDUCED);
    most = theta;
  } else {
    STEP(sh, SL_ANGLE, theta, theta_m, REDUCED);
    most = theta;
  }
  const double theta = most;
  FACT(sh, SL_LENGTH, D_thick, "dowel_thick", j->edition);
  STEP(sh, SL_NUMBER, K_theta, D < D_thick ? 1 : 1 + 0.25 * theta / asin(1), REDUCED);
  if (D_y < D_thick) {
    STEP(sh, SL_NUMBER, KD, D_y / inch <= 0.17 ? 2.2 : 10 * D_y / inch + 0.5, REDUCED);
    STEP(sh, SL_NUMBER, Rd, KD * K_theta, REDUCED);
    STEP(sh, SL_NUMBER, Rd_I, Rd, REDUCED);
    STEP(sh, SL_NUMBER, Rd_II, Rd, REDUCED);
    STEP(sh, SL_NUMBER, Rd_III, Rd, REDUCED);
    j->Rd_I = Rd_I, j->Rd_II = Rd_II, j->Rd_III = Rd_III;
    return SL_OK;
  }
  STEP(sh, SL_NUMBER, Rd_I, 4 * K_theta, REDUCED);
  STEP(sh, SL_NUMBER, Rd_II, 3.6 * K_theta, REDUCED);
  STEP(sh, SL_NUMBER, Rd_III, 3.2 * K_theta, REDUCED);
  j->Rd_I = Rd_I, j->Rd_II = Rd_II, j->Rd_III = Rd_III;
  return SL_OK;
}

enum { MODES = 6, NAME = sizeof ((struct sl_dowel_yield_out *)0)->governs };
static const char mode_names[MODES][NAME] = { "Im", "Is", "II", "IIIm", "IIIs", "IV" };

/* Modes that need the side members on one side alone. */
static enum sl_status one_sided(const struct joint *j, double Re_of, struct sl_dowel_yield_out *out,
                                struct sl_sheet *sh) {
  const double Re = Re_of, D_y = j->D_y, lm = j->lm, ls = j->ls, Fem = j->Fem, Fes = j->Fes, Fyb = j->row->yield;
  const double Rd_II = j->Rd_II, Rd_III = j->Rd_III;
  STEP(sh, SL_NUMBER, Rt, lm / ls, YIELD);
  STEP(sh, SL_NUMBER, k1, (sqrt(Re + 2 * Re * Re * (1 + Rt + Rt * Rt) + Rt * Rt * Re * Re * Re) - Re * (1 + Rt)) /
       (1 + Re), YIELD);
  STEP(sh, SL_NUMBER, k2, -1 + sqrt(2 * (1 + Re) + 2 * Fyb * (1 + 2 * Re) * D_y * D_y / (3 * Fem * lm * lm)), YIELD);
  STEP(sh, SL_FORCE, Z_II, k1 * D_y * ls * Fes / Rd_II, YIELD);
  STEP(sh, SL_FORCE, Z_IIIm, k2 * D_y * lm * Fem / ((1 + 2 * Re) * Rd_III), YIELD);
  GIVES(sh, out, mode_II, Z_II);
  GIVES(sh, out, mode_IIIm, Z_IIIm);
  return SL_OK;
}

static enum sl_status yield(const struct joint *j, struct sl_dowel_yield_out *out, struct sl_sheet *sh) {
  const double D_y = j->D_y, lm = j->lm, ls = j->ls, Fem = j->Fem, Fes = j->Fes;
  const double Rd_I = j->Rd_I, Rd_III = j->Rd_III;
  HEADING(sh, "how it yields");
  FROM(sh, SL_STRESS, Fyb, j->row, yield, j->row->name, j->edition);
  STEP(sh, SL_NUMBER, Re, Fem / Fes, YIELD);
  STEP(sh, SL_NUMBER, k3, -1 + sqrt(2 * (1 + Re) / Re + 2 * Fyb * (2 + Re) * D_y * D_y / (3 * Fem * ls * ls)), YIELD);
  GIVEN(sh, SL_NUMBER, two, j->in->two_planes);
  STEP(sh, SL_NUMBER, planes, two > 0 ? 2 : 1, YIELD);
  STEP(sh, SL_FORCE, Z_Im, D_y * lm * Fem / Rd_I, YIELD);
  STEP(sh, SL_FORCE, Z_Is, planes * D_y * ls * Fes / Rd_I, YIELD);
  STEP(sh, SL_FORCE, Z_IIIs, planes * k3 * D_y * ls * Fem / ((2 + Re) * Rd_III), YIELD);
  STEP(sh, SL_FORCE, Z_IV, planes * D_y * D_y / Rd_III * sqrt(2 * Fem * Fyb / (3 * (1 + Re))), YIELD);
  GIVES(sh, out, mode_Im, Z_Im);
  GIVES(sh, out, mode_Is, Z_Is);
  GIVES(sh, out, mode_IIIs, Z_IIIs);
  GIVES(sh, out, mode_IV, Z_IV);
  out->mode_II = out->mode_IIIm = NAN;
  if (j->in->two_planes) {
    STEP(sh, SL_FORCE, Z, fmin(fmin(Z_Im, Z_Is), fmin(Z_IIIs, Z_IV)), YIELD);
    GIVES(sh, out, reference, Z);
  } else {
    const enum sl_status status = one_sided(j, Re, out, sh);
    if (status != SL_OK) return status;
    const double Z_II = out->mode_II, Z_IIIm = out->mode_IIIm;
    STEP(sh, SL_FORCE, Z, fmin(fmin(fmin(Z_Im, Z_Is), fmin(Z_II, Z_IIIm)), fmin(Z_IIIs, Z_IV)), YIELD);
    GIVES(sh, out, reference, Z);
  }
  const double by[MODES] = { out->mode_Im, out->mode_Is, out->mode_II, out->mode_IIIm, out->mode_IIIs, out->mode_IV };
  for (size_t i = MODES; i-- > 0;)
    if (by[i] <= out->reference) memcpy(out->governs, mode_names[i], NAME);
  return SL_OK;
}

/* ---- factors ----------------------------------------------------------------------------------------------------- */

static const char *moisture_fact(const struct joint *j) {
  if (j->in->moisture == SL_WET) return "wet_lateral";
  if (j->in->moisture == SL_DRY) return NULL;
  return j->thin ? "dried_thin" : j->in->one_row ? "dried_row" : "dried_lateral";
}

static enum sl_status adjust(const struct joint *j, struct sl_dowel_yield_out *out, struct sl_sheet *sh) {
  const struct sl_dowel_yield_in *const in = j->in;
  double of_duration = 1, of_moisture = 1, of_end = 1, of_group = 1, of_geometry = 1;
  HEADING(sh, "what it holds");
  const enum sl_status status =
      sl_fastener_factors(in->duration, moisture_fact(j), j->edition, &of_duration, &of_moisture, sh);
  if (status != SL_OK) return status;
  if (in->end_grain) {
    FACT(sh, SL_NUMBER, Ceg, "dowel_end_grain", j->edition);
    of_end = Ceg;
  } else STANDS_AT(sh, SL_NUMBER, Ceg, 1, "Ceg, side grain", "@dowel_end_grain");
  if (!isnan(in->group)) {
    GIVEN(sh, SL_NUMBER, Cg, in->group);
    of_group = Cg;
  } else STANDS_AT(sh, SL_NUMBER, Cg, 1, "Cg, not said", "@group_action");
  if (!isnan(in->geometry)) {
    GIVEN(sh, SL_NUMBER, C_delta, in->geometry);
    of_geometry = C_delta;
  } else STANDS_AT(sh, SL_NUMBER, C_delta, 1, "C_delta, not said", "@dowel_geometry");
  const double CD = of_duration, CM = of_moisture, Ceg = of_end, Cg = of_group, C_delta = of_geometry;
  const double Z = out->reference;
  STEP(sh, SL_FORCE, Z_a, Z * CD * CM * Ceg * Cg * C_delta, ADJUST);
  GIVES(sh, out, adjusted, Z_a);
  return SL_OK;
}

enum sl_status sl_dowel_yield(const struct sl_dowel_yield_in *in, struct sl_dowel_yield_out *out, struct sl_sheet *sh) {
  enum sl_status status;
  if ((status = check_fastener(in, sh)) != SL_OK || (status = check_members(in, sh)) != SL_OK) return status;
  EDITION(sh, in, edition, "NDS", edition);
  struct joint j = { .in = in, .edition = edition };
  if ((status = look_up(&j, sh)) != SL_OK) return status;
  const sl_fastener_row *const row = j.row;
  const struct sl_fact *const thick = sl_fact_in("dowel_thick", edition);
  memset(out, 0, sizeof *out);
  HEADING(sh, "how hard it bears");
  WORD(sh, size, in->size);
  FROM(sh, SL_LENGTH, D, row, diameter, row->name, edition);
  if (!isnan(row->root)) {
    FROM(sh, SL_LENGTH, Dr, row, root, row->name, edition);
    STEP(sh, SL_LENGTH, D_y, Dr, LENGTHS);
    j.D_y = D_y;
  } else {
    STEP(sh, SL_LENGTH, D_y, D, LENGTHS);
    j.D_y = D_y;
  }
  FACT(sh, SL_LENGTH, inch, "fastener_inch", edition);
  j.D = D;
  j.inch = inch;
  j.thin = thick && D < thick->value;
  if ((status = bearing_main(&j, sh)) != SL_OK || (status = bearing_side(&j, sh)) != SL_OK ||
      (status = lengths(&j, sh)) != SL_OK || (status = reduction(&j, sh)) != SL_OK ||
      (status = yield(&j, out, sh)) != SL_OK) return status;
  GIVES_(sh, out, main_bearing, Fem, j.Fem);
  GIVES_(sh, out, side_bearing, Fes, j.Fes);
  GIVES_(sh, out, main_length, lm, j.lm);
  GIVES_(sh, out, side_length, ls, j.ls);
  return adjust(&j, out, sh);
}
