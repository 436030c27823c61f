/* SPDX-License-Identifier: MIT
 * The steel of a bolt: nominal stresses by its grade, what it bears pulled and sheared, and both at once. */
#include "guard.h"
#include "table.h"
#include "stringline/bolts.h"

#define NOMINAL "AISC 360 J3.6, Table J3.2"
#define ALONE   "AISC 360 J3.6"
#define BOTH    "AISC 360 J3.7"
#define USED    "demand over what is allowed"

FITS_COLUMN(bolt_grades, grade, struct sl_bolt_steel_in, grade)
FITS_COLUMN(bolt_grades, grade, struct sl_bolt_steel_out, grade)

typedef struct sl_table_bolt_grades grade_row;

static bool is_for(const grade_row *row, double diameter) {
  return (isnan(row->thinnest) || diameter >= row->thinnest * (1 - 1e-9)) &&
         (isnan(row->thickest) || diameter <= row->thickest * (1 + 1e-9));
}

static const grade_row *find_grade(const char *grade, const char *property, double diameter) {
  FIND(row, bolt_grades, sl_same_text(row->grade, grade) && sl_same_text(row->property, property) &&
       is_for(row, diameter));
  return row;
}

static const grade_row *weakest(double diameter) {
  const grade_row *least = NULL;
  for (size_t i = 0; i < SL_ROWS_OF_bolt_grades; i++) {
    const grade_row *const row = &sl_table_bolt_grades[i];
    if (!sl_same_text(row->property, "Fu") || !is_for(row, diameter)) continue;
    if (!least || row->value < least->value) least = row;
  }
  return least;
}

struct stresses { double tension, shear; };

/* Of a grade of which the section on bolts prints them. */
static void printed(const grade_row *tension, const grade_row *shear, struct stresses *nominal, struct sl_sheet *sh) {
  FROM(sh, SL_STRESS, F_nt, tension, value, tension->name, SL_NO_EDITION);
  FROM(sh, SL_STRESS, F_nv, shear, value, shear->name, SL_NO_EDITION);
  *nominal = (struct stresses){ F_nt, F_nv };
}

static enum sl_status by_share(const grade_row *row, bool smooth, struct stresses *nominal, struct sl_sheet *sh) {
  FROM(sh, SL_STRESS, F_u, row, value, row->name, SL_NO_EDITION);
  FACT(sh, SL_NUMBER, share_t, "bolt_tension_share", SL_NO_EDITION);
  FACT_OF(sh, SL_NUMBER, share_v, smooth ? "bolt_shear_out" : "bolt_shear_in", SL_NO_EDITION);
  STEP(sh, SL_STRESS, F_nt, share_t * F_u, NOMINAL);
  STEP(sh, SL_STRESS, F_nv, share_v * F_u, NOMINAL);
  *nominal = (struct stresses){ F_nt, F_nv };
  return SL_OK;
}

/* Of the whole section, all planes: what it bears of each alone. */
static enum sl_status alone(const struct sl_bolt_steel_in *in, const struct stresses *nominal,
                            struct sl_bolt_steel_out *out, struct sl_sheet *sh) {
  const double F_nt = nominal->tension, F_nv = nominal->shear;
  GIVEN(sh, SL_LENGTH, D, in->diameter);
  GIVEN(sh, SL_NUMBER, planes, in->planes);
  STEP(sh, SL_SECTION, A_b, acos(-1) / 4 * D * D, "whole section");
  GIVES(sh, out, tension_stress, F_nt);
  GIVES(sh, out, shear_stress, F_nv);
  if (in->method == SL_STRENGTH) {
    FACT(sh, SL_NUMBER, phi, "bolt_resistance", SL_NO_EDITION);
    STEP(sh, SL_FORCE, T_a, phi * F_nt * A_b, ALONE);
    STEP(sh, SL_FORCE, V_a, phi * F_nv * A_b * planes, ALONE);
    GIVES(sh, out, tension_allowed, T_a);
    GIVES(sh, out, shear_allowed, V_a);
    return SL_OK;
  }
  FACT(sh, SL_NUMBER, Omega, "bolt_safety", SL_NO_EDITION);
  STEP(sh, SL_FORCE, T_a, F_nt * A_b / Omega, ALONE);
  STEP(sh, SL_FORCE, V_a, F_nv * A_b * planes / Omega, ALONE);
  GIVES(sh, out, tension_allowed, T_a);
  GIVES(sh, out, shear_allowed, V_a);
  return SL_OK;
}

static enum sl_status together(const struct sl_bolt_steel_in *in, struct sl_bolt_steel_out *out, struct sl_sheet *sh) {
  const double T_a = out->tension_allowed, V_a = out->shear_allowed;
  GIVEN(sh, SL_FORCE, T, in->tension);
  GIVEN(sh, SL_FORCE, V, in->shear);
  FACT(sh, SL_NUMBER, most, "bolt_both", SL_NO_EDITION);
  STEP(sh, SL_NUMBER, used_T, T / T_a, USED);
  STEP(sh, SL_NUMBER, used_V, V / V_a, USED);
  STEP(sh, SL_FORCE, T_beside, T_a * fmin(1, fmax(0, most - used_V)), BOTH);
  STEP(sh, SL_NUMBER, used, fmax(fmax(used_T, used_V), (used_T + used_V) / most), BOTH);
  GIVES(sh, out, tension_beside, T_beside);
  GIVES(sh, out, used_tension, used_T);
  GIVES(sh, out, used_shear, used_V);
  GIVES(sh, out, used, used);
  return SL_OK;
}

enum sl_status sl_bolt_steel(const struct sl_bolt_steel_in *in, struct sl_bolt_steel_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, diameter, SL_LENGTH);
  REQUIRE(sh, in, planes, >= 1, "must be 1 or 2", SL_NUMBER);
  REQUIRE(sh, in, planes, <= 2, "must be 1 or 2", SL_NUMBER);
  NOT_NEGATIVE(sh, in, tension, SL_FORCE);
  NOT_NEGATIVE(sh, in, shear, SL_FORCE);
  ONE_OF(sh, in, method, SL_STRENGTH);
  const double D = in->diameter;
  const grade_row *const row = *in->grade ? find_grade(in->grade, "Fu", D) : weakest(D);
  if (!row) {
    FIND(other, bolt_grades, sl_same_text(other->grade, in->grade));
    if (!other)
      return NO_ROW(sh, "grade", "has no strength here; there are A307, A325, SAE grade 2, 5 and 8, stainless annealed "
                    "and stainless cold-worked", sl_table_bolt_grades->cite);
    return sl_sheet_fault(sh, SL_OUT_OF_RANGE, "diameter", "is no size of that grade in its table", other->cite, D, NAN,
                          SL_LENGTH);
  }
  if (*in->grade) WORD(sh, grade, in->grade);
  const grade_row *const tension = find_grade(row->grade, "Fnt", D);
  const grade_row *const shear = find_grade(row->grade, in->smooth ? "Fnv out" : "Fnv in", D);
  struct stresses nominal = { NAN, NAN };
  memset(out, 0, sizeof *out);
  memcpy(out->grade, row->grade, strlen(row->grade) + 1);
  enum sl_status status = SL_OK;
  if (tension && shear) printed(tension, shear, &nominal, sh);
  else status = by_share(row, in->smooth, &nominal, sh);
  if (status == SL_OK) status = alone(in, &nominal, out, sh);
  return status == SL_OK ? together(in, out, sh) : status;
}
