/* SPDX-License-Identifier: MIT
 * Members of sawn lumber: adjusted design values, stability of beams and columns, how far each is used. */
#include "guard.h"
#include "table.h"
#include "stringline/timber.h"

#define COLUMN    "@wood_column"
#define BEAM      "@wood_beam"
#define MECHANICS "mechanics of a rectangle"
#define ASKED     "demand over what is allowed"

FITS_COLUMN(wood_sections, section, struct sl_timber_in, section)
FITS_COLUMN(wood_design_values, species, struct sl_timber_in, species)
FITS_COLUMN(wood_design_values, grade, struct sl_timber_in, grade)

const char *const sl_durations[] = {
  [SL_PERMANENT] = "permanent", [SL_TEN_YEARS] = "ten years", [SL_TWO_MONTHS] = "two months",
  [SL_SEVEN_DAYS] = "seven days", [SL_TEN_MINUTES] = "ten minutes", NULL,
};

/* ---- columns --------------------------------------------------------------------------------------------------- */

/* input: what a column that is too slender is so by. */
static enum sl_status stability_of(double crushing, double stiffness, double slender, const char *input, int edition,
                                   struct sl_column_stability_out *out, struct sl_sheet *sh) {
  const double Fc_star = crushing, Emin_a = stiffness, slenderness = slender;
  FACT(sh, SL_NUMBER, slenderness_most, "column_slenderness", edition);
  WITHIN(sh, input, slenderness, <=, slenderness_most, "is more slender than a column may be", COLUMN, SL_NUMBER);
  FACT(sh, SL_NUMBER, KcE, "column_KcE", edition);
  FACT(sh, SL_NUMBER, c, "column_c", edition);
  STEP(sh, SL_STRESS, FcE, KcE * Emin_a / (slenderness * slenderness), COLUMN);
  STEP(sh, SL_NUMBER, ratio_c, FcE / Fc_star, COLUMN);
  STEP(sh, SL_NUMBER, u_c, (1 + ratio_c) / (2 * c), COLUMN);
  STEP(sh, SL_NUMBER, CP, ratio_c / c / (u_c + sqrt(u_c * u_c - ratio_c / c)), COLUMN);
  GIVES(sh, out, buckling, FcE);
  GIVES(sh, out, factor, CP);
  return SL_OK;
}

enum sl_status sl_column_stability(const struct sl_column_stability_in *in, struct sl_column_stability_out *out,
                                   struct sl_sheet *sh) {
  POSITIVE(sh, in, crushing, SL_STRESS);
  POSITIVE(sh, in, stiffness, SL_STRESS);
  POSITIVE(sh, in, slenderness, SL_NUMBER);
  EDITION(sh, in, edition, "NDS", edition);
  GIVEN(sh, SL_STRESS, Fc_star, in->crushing);
  GIVEN(sh, SL_STRESS, Emin_a, in->stiffness);
  GIVEN(sh, SL_NUMBER, slenderness, in->slenderness);
  return stability_of(Fc_star, Emin_a, slenderness, "slenderness", edition, out, sh);
}

/* ---- design values --------------------------------------------------------------------------------------------- */

typedef struct sl_table_wood_design_values value_row;
enum { MOST_VALUES = 16 };
struct piece {
  const struct sl_timber_in *in;
  int edition;
  double b, d;
  bool timber;
  const value_row *values[MOST_VALUES];        /* that the table has for it, of one property each */
  size_t nvalues;
};

/* The rows of one piece of one lumber, found in one pass. */
static void find_values(struct piece *p) {
  const value_row *const end = sl_table_wood_design_values + SL_ROWS_OF_wood_design_values;
  const char *const kind = p->timber ? "timber" : "dimension";
  for (const value_row *row = sl_table_wood_design_values; row < end && p->nvalues < MOST_VALUES; row++)
    if (p->d > row->over && p->d <= row->most && sl_same_text(row->species, p->in->species) &&
        sl_same_text(row->grade, p->in->grade) && sl_same_text(row->kind, kind) && STANDS(row, p->edition))
      p->values[p->nvalues++] = row;
}

static const value_row *find_value(const struct piece *p, const char *property) {
  for (size_t i = 0; i < p->nvalues; i++)
    if (strcmp(p->values[i]->property, property) == 0) return p->values[i];
  return NULL;
}

/* A factor that a table has for a member, or the 1 that stands where it has none. */
struct factor { double value; const char *name; enum sl_basis basis; };
#define FACTOR(sh, sym, found, cite) \
  const struct factor of_##sym = (found); \
  LOOKUP(sh, SL_NUMBER, sym, of_##sym.value, of_##sym.name, cite, of_##sym.basis)

/* Southern Pine has the effect of size in its values; posts and timbers to 12 in have none.  Tension has one in
 * dimension lumber, 1 or more in sizes to 12 in, that is not held. */
static struct factor size_factor(const struct piece *p, const char *property) {
  if (p->timber) return (struct factor){ 1, "CF, timbers to 12 in", SL_READ };
  if (sl_same_text(p->in->species, "Southern Pine"))
    return (struct factor){ 1, "CF, in the values of Southern Pine already", SL_READ };
  FIND(row, wood_size, STANDS(row, p->edition) && sl_same_text(row->property, property) && p->b > row->thick_over &&
       p->b <= row->thick_most && p->d > row->over && p->d <= row->most);
  if (!row) return (struct factor){ NAN, "CF", SL_READ };
  return (struct factor){ row->factor, row->name, sl_known_as(row->known, p->edition) };
}

/* `at`: the value with its size factor, which some rows ask for. */
static struct factor wet_factor(const struct piece *p, const char *property, double at) {
  if (!p->in->wet) return (struct factor){ 1, "CM, dry in service", SL_READ };
  FIND(row, wood_wet, STANDS(row, p->edition) && sl_same_text(row->kind, p->timber ? "timber" : "dimension") &&
       sl_same_text(row->property, property));
  if (!row) return (struct factor){ NAN, "CM", SL_READ };
  const bool harmless = at <= row->harmless * (1 + 1e-9);     /* none: no number, and so never */
  return (struct factor){ harmless ? 1 : row->factor, row->name, sl_known_as(row->known, p->edition) };
}

static bool has_species(const char *species) {
  FIND(row, wood_design_values, sl_same_text(row->species, species));
  return row;
}

static enum sl_status check_value(const struct piece *p, struct sl_sheet *sh) {
  if (find_value(p, "Fb")) return SL_OK;
  if (!has_species(p->in->species))
    return NO_ROW(sh, "species", "has no design values here; there are Southern Pine, Douglas Fir-Larch, Hem-Fir and "
                  "Spruce-Pine-Fir", "@wood_values");
  return NO_ROW(sh, "grade", "has no design values here in this size; there is No.2 to 4 in thick of all species and "
                "from 5x5 on of all but Spruce-Pine-Fir, No.1 of Southern Pine 4 in wide and from 5x5 on, of Douglas "
                "Fir-Larch from 5x5 on, of Spruce-Pine-Fir to 4 in thick", "@wood_values");
}

/* Design values with their factors, all but those of stability. */
struct adjusted { double Fb_star, Fc_star, Ft_a, Fv_a, Fc_perp_a, E_a, Emin_a; };

/* The reference value under its own symbol. */
#define VALUE(p, f) \
  const value_row *const row_##f = find_value(p, #f); \
  if (!row_##f) return NO_ROW(sh, "grade", "has no value here of " #f, "@wood_values"); \
  FROM(sh, SL_STRESS, f, row_##f, value, row_##f->name, (p)->edition)

/* What strength design brings a reference value to strength with, under its own symbols. */
#define STRENGTH(p, f) \
  FIND(strong_##f, wood_strength, STANDS(strong_##f, (p)->edition) && sl_same_text(strong_##f->property, #f)); \
  if (!strong_##f) return NO_ROW(sh, "method", "has no factors here of " #f, "@wood_strength"); \
  FROM(sh, SL_NUMBER, KF_##f, strong_##f, format, strong_##f->name, (p)->edition); \
  FROM(sh, SL_NUMBER, phi_##f, strong_##f, resistance, strong_##f->name, (p)->edition)

static enum sl_status shared_factor(const struct piece *p, struct factor *shared, struct sl_sheet *sh) {
  *shared = (struct factor){ 1, "Cr, no repetitive member", SL_READ };
  if (!p->in->repetitive) return SL_OK;
  const struct sl_fact *const repetitive = sl_fact_in("repetitive", p->edition);
  if (!repetitive) return NO_ROW(sh, "repetitive", "has no factor here", "@wood_repetitive");
  *shared = (struct factor){ repetitive->value, repetitive->name, sl_known_as(repetitive->known, p->edition) };
  return SL_OK;
}

/* By allowable stresses: with the load duration. */
static enum sl_status adjust(const struct piece *p, struct adjusted *to, struct sl_sheet *sh) {
  FIND(lasts, wood_duration, STANDS(lasts, p->edition) &&
       sl_same_text(lasts->duration, sl_durations[p->in->duration]));
  if (!lasts) return NO_ROW(sh, "duration", "has no factor here", "@wood_duration");
  HEADING(sh, "what the wood may bear");
  FROM(sh, SL_NUMBER, CD, lasts, factor, lasts->name, p->edition);
  struct factor shared;
  const enum sl_status status = shared_factor(p, &shared, sh);
  if (status != SL_OK) return status;
  FACTOR(sh, Cr, shared, "@wood_repetitive");
  VALUE(p, Fb);
  FACTOR(sh, CF_b, size_factor(p, "Fb"), "@wood_size");
  FACTOR(sh, CM_b, wet_factor(p, "Fb", Fb * CF_b), "@wood_wet");
  STEP(sh, SL_STRESS, Fb_star, Fb * CD * CM_b * CF_b * Cr, "@wood_values");
  VALUE(p, Fc);
  FACTOR(sh, CF_c, size_factor(p, "Fc"), "@wood_size");
  FACTOR(sh, CM_c, wet_factor(p, "Fc", Fc * CF_c), "@wood_wet");
  STEP(sh, SL_STRESS, Fc_star, Fc * CD * CM_c * CF_c, "@wood_values");
  VALUE(p, Ft);
  FACTOR(sh, CM_t, wet_factor(p, "Ft", Ft), "@wood_wet");
  STEP(sh, SL_STRESS, Ft_a, Ft * CD * CM_t, "@wood_values");
  VALUE(p, Fv);
  FACTOR(sh, CM_v, wet_factor(p, "Fv", Fv), "@wood_wet");
  STEP(sh, SL_STRESS, Fv_a, Fv * CD * CM_v, "@wood_values");
  VALUE(p, Fc_perp);
  FACTOR(sh, CM_p, wet_factor(p, "Fc_perp", Fc_perp), "@wood_wet");
  STEP(sh, SL_STRESS, Fc_perp_a, Fc_perp * CM_p, "@wood_values");
  VALUE(p, E);
  FACTOR(sh, CM_E, wet_factor(p, "E", E), "@wood_wet");
  STEP(sh, SL_STRESS, E_a, E * CM_E, "@wood_values");
  VALUE(p, Emin);
  FACTOR(sh, CM_m, wet_factor(p, "Emin", Emin), "@wood_wet");
  STEP(sh, SL_STRESS, Emin_a, Emin * CM_m, "@wood_values");
  *to = (struct adjusted){ Fb_star, Fc_star, Ft_a, Fv_a, Fc_perp_a, E_a, Emin_a };
  return SL_OK;
}

/* By strength: with KF, phi and the time effect in the place of the load duration. */
static enum sl_status adjust_to_strength(const struct piece *p, struct adjusted *to, struct sl_sheet *sh) {
  FIND(lasts, wood_time_effect, STANDS(lasts, p->edition) &&
       sl_same_text(lasts->duration, sl_durations[p->in->duration]));
  if (!lasts) return NO_ROW(sh, "duration", "has no time effect here", "@wood_time_effect");
  HEADING(sh, "what the wood may bear, strength design");
  FROM(sh, SL_NUMBER, lambda, lasts, factor, lasts->name, p->edition);
  struct factor shared;
  const enum sl_status status = shared_factor(p, &shared, sh);
  if (status != SL_OK) return status;
  FACTOR(sh, Cr, shared, "@wood_repetitive");
  VALUE(p, Fb);
  STRENGTH(p, Fb);
  FACTOR(sh, CF_b, size_factor(p, "Fb"), "@wood_size");
  FACTOR(sh, CM_b, wet_factor(p, "Fb", Fb * CF_b), "@wood_wet");
  STEP(sh, SL_STRESS, Fb_star, Fb * KF_Fb * phi_Fb * lambda * CM_b * CF_b * Cr, "@wood_strength");
  VALUE(p, Fc);
  STRENGTH(p, Fc);
  FACTOR(sh, CF_c, size_factor(p, "Fc"), "@wood_size");
  FACTOR(sh, CM_c, wet_factor(p, "Fc", Fc * CF_c), "@wood_wet");
  STEP(sh, SL_STRESS, Fc_star, Fc * KF_Fc * phi_Fc * lambda * CM_c * CF_c, "@wood_strength");
  VALUE(p, Ft);
  STRENGTH(p, Ft);
  FACTOR(sh, CM_t, wet_factor(p, "Ft", Ft), "@wood_wet");
  STEP(sh, SL_STRESS, Ft_a, Ft * KF_Ft * phi_Ft * lambda * CM_t, "@wood_strength");
  VALUE(p, Fv);
  STRENGTH(p, Fv);
  FACTOR(sh, CM_v, wet_factor(p, "Fv", Fv), "@wood_wet");
  STEP(sh, SL_STRESS, Fv_a, Fv * KF_Fv * phi_Fv * lambda * CM_v, "@wood_strength");
  VALUE(p, Fc_perp);
  STRENGTH(p, Fc_perp);
  FACTOR(sh, CM_p, wet_factor(p, "Fc_perp", Fc_perp), "@wood_wet");
  STEP(sh, SL_STRESS, Fc_perp_a, Fc_perp * KF_Fc_perp * phi_Fc_perp * lambda * CM_p, "@wood_strength");
  VALUE(p, E);
  FACTOR(sh, CM_E, wet_factor(p, "E", E), "@wood_wet");
  STEP(sh, SL_STRESS, E_a, E * CM_E, "@wood_values");
  VALUE(p, Emin);
  STRENGTH(p, Emin);
  FACTOR(sh, CM_m, wet_factor(p, "Emin", Emin), "@wood_wet");
  STEP(sh, SL_STRESS, Emin_a, Emin * KF_Emin * phi_Emin * CM_m, "@wood_strength");
  *to = (struct adjusted){ Fb_star, Fc_star, Ft_a, Fv_a, Fc_perp_a, E_a, Emin_a };
  return SL_OK;
}

/* ---- stability ------------------------------------------------------------------------------------------------- */

/* What a beam that nothing holds along its length keeps of its bending stress. */
static enum sl_status roll(const struct piece *p, const struct adjusted *a, double *factor, struct sl_sheet *sh) {
  if (isnan(p->in->unbraced) || p->in->on_flat || p->d <= p->b) {
    const char *const why = isnan(p->in->unbraced) ? "CL, held all along" : "CL, not deeper than wide as it is bent";
    LOOKUP(sh, SL_NUMBER, CL, 1, why, BEAM, SL_READ);
    *factor = CL;
    return SL_OK;
  }
  const double b = p->b, d = p->d, Fb_star = a->Fb_star, Emin_a = a->Emin_a;
  HEADING(sh, "the beam against rolling over");
  GIVEN(sh, SL_LENGTH, le, p->in->unbraced);
  FACT(sh, SL_NUMBER, RB_most, "beam_slenderness", p->edition);
  FACT(sh, SL_NUMBER, KbE, "beam_KbE", p->edition);
  FACT(sh, SL_NUMBER, c_b, "beam_c", p->edition);
  STEP(sh, SL_NUMBER, RB, sqrt(le * d) / b, BEAM);
  WITHIN(sh, "unbraced", RB, <=, RB_most, "makes the beam more slender (RB) than it may be", BEAM, SL_NUMBER);
  STEP(sh, SL_STRESS, FbE, KbE * Emin_a / (RB * RB), BEAM);
  STEP(sh, SL_NUMBER, ratio_b, FbE / Fb_star, BEAM);
  STEP(sh, SL_NUMBER, u_b, (1 + ratio_b) / (2 * c_b), BEAM);
  STEP(sh, SL_NUMBER, CL, ratio_b / c_b / (u_b + sqrt(u_b * u_b - ratio_b / c_b)), BEAM);
  *factor = CL;
  return SL_OK;
}

/* The column: CP by its more slender side, FcE in the plane of bending. */
static enum sl_status buckle(const struct piece *p, const struct adjusted *a, double *factor, double *euler,
                             struct sl_sheet *sh) {
  *factor = *euler = NAN;
  if (isnan(p->in->length_strong)) return SL_OK;
  const double b = p->b, d = p->d, Emin_a = a->Emin_a;
  HEADING(sh, "the column");
  GIVEN(sh, SL_LENGTH, l_strong, p->in->length_strong);
  GIVEN(sh, SL_LENGTH, l_weak, p->in->length_weak);
  STEP(sh, SL_NUMBER, slender_strong, l_strong / fmax(b, d), COLUMN);
  STEP(sh, SL_NUMBER, slender_weak, l_weak / fmin(b, d), COLUMN);
  STEP(sh, SL_NUMBER, slenderness, fmax(slender_strong, slender_weak), "the more slender side");
  struct sl_column_stability_out column;
  const char *const longer = slender_strong >= slender_weak ? "length_strong" : "length_weak";
  const enum sl_status status = stability_of(a->Fc_star, Emin_a, slenderness, longer, p->edition, &column, sh);
  if (status != SL_OK) return status;
  GIVEN(sh, SL_NUMBER, on_flat, p->in->on_flat);
  const double KcE = sl_fact_in("column_KcE", p->edition)->value;
  STEP(sh, SL_NUMBER, slender_bent, on_flat > 0 ? slender_weak : slender_strong, "in the plane of bending");
  STEP(sh, SL_STRESS, FcE_bent, KcE * Emin_a / (slender_bent * slender_bent), COLUMN);
  *factor = column.factor;
  *euler = FcE_bent;
  return SL_OK;
}

/* ---- the member ------------------------------------------------------------------------------------------------ */

static enum sl_status check_timber(const struct sl_timber_in *in, struct sl_sheet *sh) {
  ONE_OF(sh, in, duration, SL_TEN_MINUTES);
  ONE_OF(sh, in, method, SL_STRENGTH);
  NOT_NEGATIVE(sh, in, moment, SL_MOMENT);
  NOT_NEGATIVE(sh, in, shear, SL_FORCE);
  FINITE(sh, in, axial, SL_FORCE);
  if (!isnan(in->moment_weak)) NOT_NEGATIVE(sh, in, moment_weak, SL_MOMENT);
  if (in->on_flat && in->moment_weak > 0)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "moment_weak", "is given, and the member is bent about that axis alone", "",
                          in->moment_weak, NAN, SL_MOMENT);
  if (!isnan(in->unbraced)) POSITIVE(sh, in, unbraced, SL_LENGTH);
  if (isnan(in->length_strong) != isnan(in->length_weak))
    return sl_sheet_fault(sh, SL_BAD_INPUT, isnan(in->length_weak) ? "length_weak" : "length_strong",
                          "is missing: the lengths of buckling go together", "", NAN, NAN, SL_LENGTH);
  if (!isnan(in->length_strong)) {
    POSITIVE(sh, in, length_strong, SL_LENGTH);
    POSITIVE(sh, in, length_weak, SL_LENGTH);
  } else if (in->axial > 0)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "length_strong", "is missing: the member is pressed and may buckle", "",
                          NAN, NAN, SL_LENGTH);
  if (isnan(in->bearing) != isnan(in->bearing_length))
    return sl_sheet_fault(sh, SL_BAD_INPUT, isnan(in->bearing) ? "bearing" : "bearing_length",
                          "is missing: a force and the length that it rests on go together", "", NAN, NAN, SL_LENGTH);
  if (!isnan(in->bearing)) {
    NOT_NEGATIVE(sh, in, bearing, SL_FORCE);
    POSITIVE(sh, in, bearing_length, SL_LENGTH);
  }
  if (in->incised)
    return NO_ROW(sh, "incised", "has no factor here: what incising takes from the wood is not held", "@wood_values");
  return SL_OK;
}

/* Names what is used most, the first of equals. */
enum { BENDING, COMPRESSION, TENSION, WITH_COMPRESSION, WITH_TENSION, SHEAR, BEARING, USES,
       NAME = sizeof ((struct sl_timber_out *)0)->governs };
static const char use_names[USES][NAME] = {
  "bending", "compression", "tension", "with compression", "with tension", "shear", "bearing",
};
static void name_use(char to[NAME], const double used[USES], double worst) {
  memcpy(to, "none", sizeof "none");
  for (size_t i = USES; i-- > 0;)
    if (used[i] >= worst && worst > 0) memcpy(to, use_names[i], NAME);
}

/* Along the grain, by itself and with bending.  fb: stress of bending. */
static enum sl_status use_along(const struct piece *p, const struct adjusted *a, double CL, double CP, double FcE_bent,
                                struct sl_timber_out *out, double used[USES], struct sl_sheet *sh) {
  const double b = p->b, d = p->d, Fb_star = a->Fb_star, Fc_star = a->Fc_star, Ft_a = a->Ft_a;
  HEADING(sh, "how far it is used");
  GIVEN(sh, SL_MOMENT, M, p->in->moment);
  GIVEN(sh, SL_FORCE, P, p->in->axial);
  GIVEN(sh, SL_NUMBER, flat, p->in->on_flat);
  STEP(sh, SL_MODULUS, S, (flat > 0 ? d * b * b : b * d * d) / 6, MECHANICS);
  STEP(sh, SL_STRESS, fb, M / S, MECHANICS);
  STEP(sh, SL_STRESS, Fb_a, Fb_star * CL, "@wood_beam");
  STEP(sh, SL_NUMBER, used_b, fb / Fb_a, ASKED);
  STEP(sh, SL_STRESS, fa, fabs(P) / (b * d), MECHANICS);
  GIVES(sh, out, bending, Fb_a);
  GIVES(sh, out, tension, Ft_a);
  GIVES(sh, out, used_bending, used_b);
  used[BENDING] = used_b;
  out->compression = Fc_star;
  if (isfinite(CP)) {
    STEP(sh, SL_STRESS, Fc_a, Fc_star * CP, COLUMN);
    GIVES(sh, out, compression, Fc_a);
  }
  if (P > 0) {
    const double Fc_a = out->compression;
    WITHIN(sh, "axial", fa, <, FcE_bent, "presses as hard as what buckles the member (FcE) in the plane of bending",
           "@wood_combined", SL_STRESS);
    STEP(sh, SL_NUMBER, used_c, fa / Fc_a, ASKED);
    /* The square stands beside bending alone: what is pressed and not bent is used as it is pressed. */
    STEP(sh, SL_NUMBER, used_bc, fb > 0 ? fmax(used_c * used_c + fb / (Fb_a * (1 - fa / FcE_bent)), used_c) : used_c,
         "@wood_combined");
    GIVES(sh, out, used_axial, used_c);
    GIVES(sh, out, used_combined, used_bc);
    used[COMPRESSION] = used_c;
    used[WITH_COMPRESSION] = used_bc;
    return SL_OK;
  }
  STEP(sh, SL_NUMBER, used_t, fa / Ft_a, ASKED);
  STEP(sh, SL_NUMBER, used_pull, used_t + fb / Fb_star, "@wood_tension");
  STEP(sh, SL_NUMBER, used_roll, (fb - fa) / Fb_a, "@wood_tension");
  STEP(sh, SL_NUMBER, used_bt, fmax(used_pull, used_roll), "@wood_tension");
  GIVES(sh, out, used_axial, used_t);
  GIVES(sh, out, used_combined, used_bt);
  used[TENSION] = used_t;
  used[WITH_TENSION] = used_bt;
  return SL_OK;
}

/* Bent about both axes: what use_along has, and what the weak axis adds.  Against rolling over the length counts that
 * is said for it, else that of buckling. */
static enum sl_status use_both(const struct piece *p, const struct adjusted *a, double FcE_bent,
                               struct sl_timber_out *out, double used[USES], struct sl_sheet *sh) {
  if (!(p->in->moment_weak > 0)) return SL_OK;
  const double b = p->b, d = p->d, Fb_star = a->Fb_star, Emin_a = a->Emin_a, M = p->in->moment, P = p->in->axial;
  HEADING(sh, "bent about both axes");
  GIVEN(sh, SL_MOMENT, M_weak, p->in->moment_weak);
  STEP(sh, SL_MODULUS, S_weak, d * b * b / 6, MECHANICS);
  STEP(sh, SL_STRESS, fb_weak, M_weak / S_weak, MECHANICS);
  if (!(P > 0)) {
    const double used_bt = used[WITH_TENSION];
    STEP(sh, SL_NUMBER, used_both_t, used_bt + fb_weak / Fb_star, "@wood_both");
    GIVES(sh, out, used_combined, used_both_t);
    used[WITH_TENSION] = used_both_t;
    return SL_OK;
  }
  const double used_c = used[COMPRESSION], slender = p->in->length_weak / fmin(b, d), Fb_a = out->bending;
  const double S = b * d * d / 6, fb = M / S, fa = P / (b * d);
  FACT(sh, SL_NUMBER, KcE_both, "column_KcE", p->edition);
  FACT(sh, SL_NUMBER, KbE_both, "beam_KbE", p->edition);
  LOOKUP(sh, SL_NUMBER, slender_side, slender, "slenderness in the plane of the weak axis", MECHANICS, SL_DERIVED);
  STEP(sh, SL_STRESS, FcE_weak, KcE_both * Emin_a / (slender_side * slender_side), COLUMN);
  GIVEN(sh, SL_LENGTH, le_both, isnan(p->in->unbraced) ? fmax(p->in->length_strong, p->in->length_weak) :
                                p->in->unbraced);
  STEP(sh, SL_STRESS, FbE_both, KbE_both * Emin_a / (le_both * d / (b * b)), BEAM);
  STEP(sh, SL_NUMBER, left, 1 - fa / FcE_weak - fb / FbE_both * (fb / FbE_both), "@wood_both");
  WITHIN(sh, "axial", left, >, 0, "and the moments press as hard as what buckles the member about its weak axis",
         "@wood_both", SL_NUMBER);
  STEP(sh, SL_NUMBER, used_both, used_c * used_c + fb / (Fb_a * (1 - fa / FcE_bent)) + fb_weak / (Fb_star * left),
       "@wood_both");
  GIVES(sh, out, used_combined, used_both);
  used[WITH_COMPRESSION] = fmax(used_both, used_c);
  return SL_OK;
}

/* Across the grain: shear and bearing. */
static enum sl_status use_across(const struct piece *p, const struct adjusted *a, struct sl_timber_out *out,
                                 double used[USES], struct sl_sheet *sh) {
  const double b = p->b, d = p->d, Fv_a = a->Fv_a, Fc_perp_a = a->Fc_perp_a;
  GIVEN(sh, SL_FORCE, V, p->in->shear);
  STEP(sh, SL_STRESS, fv, 1.5 * V / (b * d), "@wood_shear");
  STEP(sh, SL_NUMBER, used_v, fv / Fv_a, ASKED);
  GIVES(sh, out, shear, Fv_a);
  GIVES(sh, out, used_shear, used_v);
  GIVES(sh, out, bearing, Fc_perp_a);
  used[SHEAR] = used_v;
  out->used_bearing = NAN;
  if (isnan(p->in->bearing)) return SL_OK;
  GIVEN(sh, SL_FORCE, R, p->in->bearing);
  GIVEN(sh, SL_LENGTH, lb, p->in->bearing_length);
  GIVEN(sh, SL_NUMBER, laid, p->in->on_flat);
  STEP(sh, SL_STRESS, fc_perp, R / ((laid > 0 ? d : b) * lb), "@wood_bearing");
  STEP(sh, SL_NUMBER, used_p, fc_perp / Fc_perp_a, ASKED);
  GIVES(sh, out, used_bearing, used_p);
  used[BEARING] = used_p;
  return SL_OK;
}

enum sl_status sl_timber(const struct sl_timber_in *in, struct sl_timber_out *out, struct sl_sheet *sh) {
  enum sl_status status = check_timber(in, sh);
  if (status != SL_OK) return status;
  EDITION(sh, in, edition, "NDS", edition);
  FIND(size, wood_sections, sl_same_text(size->section, in->section));
  if (!size) return NO_ROW(sh, "section", "is not in the table of dressed sizes", sl_table_wood_sections->cite);
  WORD(sh, grade, in->grade);
  FROM(sh, SL_LENGTH, b, size, breadth, size->section, edition);
  FROM(sh, SL_LENGTH, d, size, depth, size->section, edition);
  const struct sl_fact *const thick = sl_fact_in("timber_over", edition);
  struct piece p = { .in = in, .edition = edition, .b = b, .d = d, .timber = thick && b > thick->value };
  find_values(&p);
  status = check_value(&p, sh);
  if (status != SL_OK) return status;
  if (p.timber && d > b && (in->on_flat || in->moment_weak > 0))
    return NO_ROW(sh, in->on_flat ? "on_flat" : "moment_weak",
                  "has no factor here for posts and timbers that are not square", "@wood_values");
  if (p.timber && in->repetitive)
    return NO_ROW(sh, "repetitive", "is for dimension lumber, not for posts and timbers", "@wood_repetitive");

  *out = (struct sl_timber_out){ 0 };
  struct adjusted a;
  double CL = NAN, CP = NAN, FcE = NAN, used[USES] = { 0 };
  status = in->method == SL_STRENGTH ? adjust_to_strength(&p, &a, sh) : adjust(&p, &a, sh);
  if (status != SL_OK || (status = roll(&p, &a, &CL, sh)) != SL_OK ||
      (status = buckle(&p, &a, &CP, &FcE, sh)) != SL_OK ||
      (status = use_along(&p, &a, CL, CP, FcE, out, used, sh)) != SL_OK ||
      (status = use_both(&p, &a, FcE, out, used, sh)) != SL_OK || (status = use_across(&p, &a, out, used, sh)) != SL_OK)
    return status;
  GIVES_(sh, out, stiffness, E_a, a.E_a);
  GIVES_(sh, out, beam_stability, CL, CL);
  out->column_stability = CP;
  if (isfinite(CP)) GIVES(sh, out, column_stability, CP);
  double worst_of = 0;
  for (size_t i = 0; i < USES; i++) worst_of = fmax(worst_of, used[i]);
  out->worst = worst_of;
  name_use(out->governs, used, worst_of);
  return SL_OK;
}
