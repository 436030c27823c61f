/* SPDX-License-Identifier: MIT
 * Plates of steel at the side of wood: pulled, sheared and bent on edge over their net section, and under the fastener
 * that presses hardest.  Holes stand about the middle of the plate. */
#include "fastener.h"
#include "stringline/joints.h"

#define TENSION "AISC 360 D2"
#define ELEMENT "AISC 360 J4"
#define BEARING "AISC 360 J3.10"
#define ON_EDGE "AISC 360 F11"

FITS_COLUMN(fastener_plates, plate, struct sl_plate_steel_in, plate)
FITS_COLUMN(wood_fasteners, size, struct sl_plate_steel_in, size)

typedef struct sl_table_metals strength;
typedef struct sl_table_fastener_plates plate_row;

static const strength *find_strength(const char *material, const char *property) {
  FIND(row, metals, sl_same_text(row->material, material) && sl_same_text(row->property, property));
  return row;
}

static enum sl_status check(const struct sl_plate_steel_in *in, struct sl_sheet *sh) {
  POSITIVE(sh, in, width, SL_LENGTH);
  POSITIVE(sh, in, thickness, SL_LENGTH);
  REQUIRE(sh, in, plates, >= 1, "must be 1 or 2", SL_NUMBER);
  REQUIRE(sh, in, plates, <= 2, "must be 1 or 2", SL_NUMBER);
  ONE_OF(sh, in, kind, SL_WOOD_SCREW);
  REQUIRE(sh, in, holes, >= 1, "must be 1 at least", SL_NUMBER);
  REQUIRE(sh, in, holes, <= 100, "are more than can be worked", SL_NUMBER);
  if (in->holes > 1) POSITIVE(sh, in, spacing, SL_LENGTH);
  else if (!isnan(in->spacing))
    return sl_sheet_fault(sh, SL_BAD_INPUT, "spacing", "of one: leave it out", "", in->spacing, NAN, SL_LENGTH);
  NOT_NEGATIVE(sh, in, pull, SL_FORCE);
  NOT_NEGATIVE(sh, in, shear, SL_FORCE);
  NOT_NEGATIVE(sh, in, moment, SL_MOMENT);
  NOT_NEGATIVE(sh, in, bears, SL_FORCE);
  if (!isnan(in->free)) POSITIVE(sh, in, free, SL_LENGTH);
  else if (in->moment > 0)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "free", "is missing: the plate is bent", "", NAN, NAN, SL_LENGTH);
  return SL_OK;
}

/* A plate in its joint: its metal, and the widths that count. */
struct plates {
  double k, Fy, Fu, E, D, w, w_net, t, d_h;
  double used;
};

static enum sl_status net(const struct sl_plate_steel_in *in, const plate_row *row, const sl_fastener_row *of,
                          int edition, struct plates *p, struct sl_sheet *sh) {
  const strength *const yield = find_strength(row->metal, "Fy"), *const tears = find_strength(row->metal, "Fu");
  const strength *const modulus = find_strength(row->metal, "E");
  if (!yield || !tears || !modulus) return NO_ROW(sh, "plate", "has no strength here", sl_table_metals->cite);
  WORD(sh, plate, in->plate);
  FROM(sh, SL_STRESS, Fy, yield, value, yield->name, SL_NO_EDITION);
  FROM(sh, SL_STRESS, Fu, tears, value, tears->name, SL_NO_EDITION);
  FROM(sh, SL_STRESS, E, modulus, value, modulus->name, SL_NO_EDITION);
  FROM(sh, SL_LENGTH, D, of, diameter, of->name, edition);
  GIVEN(sh, SL_LENGTH, w, in->width);
  GIVEN(sh, SL_LENGTH, t, in->thickness);
  GIVEN(sh, SL_NUMBER, k, in->plates);
  GIVEN(sh, SL_NUMBER, n, in->holes);
  FACT(sh, SL_LENGTH, room_D, "steel_hole", SL_NO_EDITION);
  FACT(sh, SL_LENGTH, more, "steel_hole_more", SL_NO_EDITION);
  STEP(sh, SL_LENGTH, d_h, D + room_D + more, "AISC 360 B4.3b");
  STEP(sh, SL_LENGTH, w_net, w - n * d_h, TENSION);
  WITHIN(sh, "width", w_net, >, 0, "is no wider than the holes through it", "AISC 360 B4.3b", SL_LENGTH);
  *p = (struct plates){ k, Fy, Fu, E, D, w, w_net, t, d_h, 0 };
  return SL_OK;
}

static enum sl_status pulled(const struct sl_plate_steel_in *in, struct plates *p, struct sl_plate_steel_out *out,
                             struct sl_sheet *sh) {
  const double k = p->k, Fy = p->Fy, Fu = p->Fu, D = p->D, w = p->w, w_net = p->w_net, t = p->t;
  GIVEN(sh, SL_FORCE, T, in->pull);
  GIVEN(sh, SL_FORCE, V, in->shear);
  GIVEN(sh, SL_FORCE, P, in->bears);
  FACT(sh, SL_NUMBER, Omega_t, "steel_tension", SL_NO_EDITION);
  FACT(sh, SL_NUMBER, Omega_u, "steel_rupture", SL_NO_EDITION);
  FACT(sh, SL_NUMBER, Omega_v, "steel_shear", SL_NO_EDITION);
  FACT(sh, SL_NUMBER, share_v, "steel_shear_share", SL_NO_EDITION);
  FACT(sh, SL_NUMBER, bear, "steel_bears", SL_NO_EDITION);
  STEP(sh, SL_FORCE, T_a, k * t * fmin(Fy * w / Omega_t, Fu * w_net / Omega_u), TENSION);
  STEP(sh, SL_FORCE, V_a, k * t * share_v * fmin(Fy * w / Omega_v, Fu * w_net / Omega_u), ELEMENT);
  STEP(sh, SL_FORCE, P_a, k * bear * D * t * Fu / Omega_u, BEARING);
  STEP(sh, SL_NUMBER, used_f, fmax(hypot(T / T_a, V / V_a), P / P_a), "pull and shear together, as squares");
  GIVES(sh, out, pull_allowed, T_a);
  GIVES(sh, out, shear_allowed, V_a);
  GIVES(sh, out, bears_allowed, P_a);
  p->used = used_f;
  return SL_OK;
}

/* Taken elastic, up to where the section on bars still leaves a slender one its yield moment. */
static enum sl_status bent(const struct sl_plate_steel_in *in, struct plates *p, struct sl_plate_steel_out *out,
                           struct sl_sheet *sh) {
  const double k = p->k, Fy = p->Fy, Fu = p->Fu, E = p->E, w = p->w, t = p->t, d_h = p->d_h, used_f = p->used;
  GIVEN(sh, SL_MOMENT, M, in->moment);
  GIVEN(sh, SL_NUMBER, n, in->holes);
  GIVEN(sh, SL_LENGTH, s, in->holes > 1 ? in->spacing : 0);
  FACT(sh, SL_NUMBER, Omega_b, "steel_bending", SL_NO_EDITION);
  FACT(sh, SL_NUMBER, Omega_r, "steel_rupture", SL_NO_EDITION);
  STEP(sh, SL_INERTIA, I_net, t * (w * w * w - n * d_h * d_h * d_h - d_h * s * s * n * (n * n - 1)) / 12, "rectangle");
  WITHIN(sh, "width", I_net, >, 0, "leaves no room for holes so far apart", "AISC 360 B4.3b", SL_INERTIA);
  STEP(sh, SL_MOMENT, M_a, k * fmin(Fy * t * w * w / 6 / Omega_b, Fu * 2 * I_net / w / Omega_r), ON_EDGE);
  if (in->moment > 0) {
    GIVEN(sh, SL_LENGTH, L_b, in->free);
    FACT(sh, SL_NUMBER, most, "plate_slender", SL_NO_EDITION);
    STEP(sh, SL_NUMBER, slender, L_b * w / (t * t) * Fy / E, ON_EDGE);
    WITHIN(sh, "free", slender, <=, most, "is so long that so thin a plate rolls over", ON_EDGE, SL_NUMBER);
  }
  STEP(sh, SL_NUMBER, used, used_f + M / M_a, "with bending, as their sum: the safe side");
  GIVES(sh, out, moment_allowed, M_a);
  GIVES(sh, out, used, used);
  return SL_OK;
}

enum sl_status sl_plate_steel(const struct sl_plate_steel_in *in, struct sl_plate_steel_out *out,
                              struct sl_sheet *sh) {
  enum sl_status status = check(in, sh);
  if (status != SL_OK) return status;
  EDITION(sh, in, edition, "NDS", edition);
  FIND(row, fastener_plates, STANDS(row, edition) && sl_same_text(row->plate, in->plate));
  if (!row) return NO_ROW(sh, "plate", "has no strength here; there are A653 Grade 33 and A36", "@dowel_plate");
  const sl_fastener_row *const of = sl_fastener_of(in->kind, in->size, edition);
  if (!of) return NO_SIZE(sh);
  struct plates p = { 0 };
  if ((status = net(in, row, of, edition, &p, sh)) != SL_OK || (status = pulled(in, &p, out, sh)) != SL_OK)
    return status;
  return bent(in, &p, out, sh);
}
