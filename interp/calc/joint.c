/* SPDX-License-Identifier: MIT
 * What holds in a joint besides its fasteners and plates: wood under heads and at holes, the group of fasteners of a
 * splice and the beam there, the foot of a post; and what two forces on it are together. */
#include "fastener.h"
#include "stringline/joints.h"

#define STATICS   "statics"
#define MECHANICS "mechanics of forces"
#define USED      "demand over what is allowed; holds at 1 or less"

FITS_COLUMN(wood_specific_gravity, species, struct sl_head_pull_in, species)
FITS_COLUMN(wood_fasteners, size, struct sl_washer_press_in, size)
FITS_COLUMN(wood_fasteners, size, struct sl_net_section_in, size)

/* ---- heads ------------------------------------------------------------------------------------------------------- */

enum sl_status sl_head_pull(const struct sl_head_pull_in *in, struct sl_head_pull_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, head, SL_LENGTH);
  POSITIVE(sh, in, thickness, SL_LENGTH);
  ONE_OF(sh, in, duration, SL_TEN_MINUTES);
  ONE_OF(sh, in, moisture, SL_DRIED);
  EDITION(sh, in, edition, "NDS", edition);
  if (in->moisture == SL_DRIED)
    return NO_ROW(sh, "moisture", "has no factor here for heads in wood that dries", "@fastener_wet");
  struct sl_wood wood;
  enum sl_status status = sl_wood_of(in->species, in->gravity, "species", "gravity", edition, &wood, sh);
  if (status != SL_OK) return status;
  double gravity, CD_of = 1, CM_of = 1;
  GIVEN(sh, SL_LENGTH, head, in->head);
  GIVEN(sh, SL_LENGTH, t, in->thickness);
  if (wood.row) {
    FROM(sh, SL_NUMBER, G, wood.row, g, wood.row->species, edition);
    gravity = G;
  } else {
    GIVEN(sh, SL_NUMBER, G, in->gravity);
    gravity = G;
  }
  const double G = gravity;
  FACT(sh, SL_STRESS, w_H, "head_pull", edition);
  FACT(sh, SL_NUMBER, deep, "head_deep", edition);
  FACT(sh, SL_LENGTH, D_least, "head_least", edition);
  FACT(sh, SL_LENGTH, D_most, "head_most", edition);
  FACT(sh, SL_LENGTH, t_least, "head_thin", edition);
  WITHIN(sh, "head", head, >=, D_least * (1 - 1e-9), "is smaller than the heads of the table", "@head_pull", SL_LENGTH);
  WITHIN(sh, "thickness", t, >=, t_least * (1 - 1e-9), "is thinner than the wood of the table", "@head_pull",
         SL_LENGTH);
  STEP(sh, SL_LENGTH, D_H, fmin(head, D_most), "a wider one holds no less than the widest of the table");
  STEP(sh, SL_LENGTH, t_ns, fmin(t, deep * D_H), "@head_pull");
  STEP(sh, SL_FORCE, W_H, w_H * acos(-1) * D_H * G * G * t_ns, "@head_pull");
  status = sl_fastener_factors(in->duration, in->moisture == SL_WET ? "wet_head" : NULL, edition, &CD_of, &CM_of, sh);
  if (status != SL_OK) return status;
  const double CD = CD_of, CM = CM_of;
  STEP(sh, SL_FORCE, W_Ha, W_H * CD * CM, "@fastener_factors");
  GIVES(sh, out, reference, W_H);
  GIVES(sh, out, adjusted, W_Ha);
  return SL_OK;
}

/* The standard lets a small washer press harder than a long bearing: that is not counted. */
enum sl_status sl_washer_press(const struct sl_washer_press_in *in, struct sl_washer_press_out *out,
                               struct sl_sheet *sh) {
  POSITIVE(sh, in, washer, SL_LENGTH);
  POSITIVE(sh, in, width, SL_LENGTH);
  POSITIVE(sh, in, stress, SL_STRESS);
  NOT_NEGATIVE(sh, in, force, SL_FORCE);
  EDITION(sh, in, edition, "NDS", edition);
  const sl_fastener_row *const row = sl_fastener_of(SL_BOLT, in->size, edition);
  if (!row) return NO_SIZE(sh);
  WORD(sh, size, in->size);
  double d_h = 0;
  const enum sl_status status = sl_fastener_hole(row, SL_BOLT, edition, &d_h, sh);
  if (status != SL_OK) return status;
  GIVEN(sh, SL_LENGTH, d_w, in->washer);
  GIVEN(sh, SL_LENGTH, b, in->width);
  WITHIN(sh, "washer", d_w, >, d_h, "is no wider than the hole under it", "@bolt_hole", SL_LENGTH);
  WITHIN(sh, "width", b, >, d_h, "leaves no wood beside the hole", "@bolt_hole", SL_LENGTH);
  STEP(sh, SL_LENGTH, d_e, fmin(d_w, b), "what reaches beyond the wood does not press");
  GIVEN(sh, SL_STRESS, Fc_perp_a, in->stress);
  GIVEN(sh, SL_FORCE, P, in->force);
  STEP(sh, SL_SECTION, A_w, acos(-1) / 4 * (d_e * d_e - d_h * d_h), "ring");
  STEP(sh, SL_FORCE, P_a, Fc_perp_a * A_w, "@wood_bearing");
  STEP(sh, SL_NUMBER, used, P / P_a, USED);
  GIVES(sh, out, area, A_w);
  GIVES(sh, out, allowed, P_a);
  GIVES(sh, out, used, used);
  return SL_OK;
}

/* ---- holes ------------------------------------------------------------------------------------------------------- */

#define COUNTED(sh, in, member, most) \
  do { REQUIRE(sh, in, member, >= 1, "must be 1 at least", SL_NUMBER); \
       REQUIRE(sh, in, member, <= (most), "are more than can be worked", SL_NUMBER); } while (0)
/* The distance between several; none of one. */
#define APART(sh, in, member, several) \
  do { \
    if (several) POSITIVE(sh, in, member, SL_LENGTH); \
    else if (!isnan((in)->member)) \
      return sl_sheet_fault(sh, SL_BAD_INPUT, #member, "of one: leave it out", "", (in)->member, NAN, SL_LENGTH); \
  } while (0)

/* As many as lie side by side across the width take as much of the modulus as of the section. */
static enum sl_status upright(const struct sl_net_section_in *in, double d_hole, struct sl_net_section_out *out,
                              struct sl_sheet *sh) {
  const double d_h = d_hole;
  GIVEN(sh, SL_LENGTH, b, in->width);
  GIVEN(sh, SL_LENGTH, d, in->depth);
  GIVEN(sh, SL_NUMBER, n, in->count);
  STEP(sh, SL_LENGTH, b_net, b - n * d_h, "@net_section");
  WITHIN(sh, "count", b_net, >, 0, "holes side by side leave no wood", "@net_section", SL_LENGTH);
  STEP(sh, SL_SECTION, A_net, b_net * d, "@net_section");
  STEP(sh, SL_MODULUS, S_net, b_net * d * d / 6, "rectangle");
  STEP(sh, SL_NUMBER, share_A, A_net / (b * d), "@net_section");
  STEP(sh, SL_NUMBER, share_S, b_net / b, "@net_section");
  GIVES(sh, out, area, A_net);
  GIVES(sh, out, modulus, S_net);
  GIVES(sh, out, area_share, share_A);
  GIVES(sh, out, modulus_share, share_S);
  return SL_OK;
}

/* One above the other through the width: what is left is bent about its own middle. */
static enum sl_status stacked(const struct sl_net_section_in *in, double d_hole, struct sl_net_section_out *out,
                              struct sl_sheet *sh) {
  const double d_h = d_hole;
  GIVEN(sh, SL_LENGTH, b, in->width);
  GIVEN(sh, SL_LENGTH, d, in->depth);
  GIVEN(sh, SL_NUMBER, n, in->count);
  GIVEN(sh, SL_LENGTH, edge, in->to_edge);
  GIVEN(sh, SL_LENGTH, s, in->count > 1 ? in->spacing : 0);
  STEP(sh, SL_LENGTH, room, d - 2 * edge - (n - 1) * s, "the last lies no nearer to its edge than the first to its");
  WITHIN(sh, "count", room, >=, -1e-6, "fasteners one above the other do not fit between their edges", "@net_section",
         SL_LENGTH);
  STEP(sh, SL_LENGTH, d_net, d - n * d_h, "@net_section");
  WITHIN(sh, "count", d_net, >, 0, "holes one above the other leave no wood", "@net_section", SL_LENGTH);
  STEP(sh, SL_LENGTH, y_m, d / 2 - edge - (n - 1) * s / 2, "middle of the holes from that of the member");
  STEP(sh, SL_NUMBER, hole_share, n * d_h / d_net, "holes over what is left");
  STEP(sh, SL_LENGTH, y_net, hole_share * y_m, "by which the middle of what is left lies off that of the member");
  STEP(sh, SL_INERTIA, I_holes, b * d_h * (n * d_h * d_h / 12 + n * y_m * y_m + s * s * n * (n * n - 1) / 12),
       "holes about the middle of the member");
  STEP(sh, SL_INERTIA, I_net, b * d * d * d / 12 - I_holes - b * d_net * y_net * y_net, "about its own middle");
  STEP(sh, SL_SECTION, A_net, b * d_net, "@net_section");
  STEP(sh, SL_MODULUS, S_net, I_net / (d / 2 + fabs(y_net)), "@net_section");
  STEP(sh, SL_NUMBER, share_A, d_net / d, "@net_section");
  STEP(sh, SL_NUMBER, share_S, S_net / (b * d * d / 6), "@net_section");
  GIVES(sh, out, area, A_net);
  GIVES(sh, out, modulus, S_net);
  GIVES(sh, out, area_share, share_A);
  GIVES(sh, out, modulus_share, share_S);
  return SL_OK;
}

enum sl_status sl_net_section(const struct sl_net_section_in *in, struct sl_net_section_out *out,
                              struct sl_sheet *sh) {
  ONE_OF(sh, in, kind, SL_WOOD_SCREW);
  POSITIVE(sh, in, width, SL_LENGTH);
  POSITIVE(sh, in, depth, SL_LENGTH);
  COUNTED(sh, in, count, 100);
  POSITIVE(sh, in, to_edge, SL_LENGTH);
  APART(sh, in, spacing, in->count > 1 && !in->upright);
  EDITION(sh, in, edition, "NDS", edition);
  const sl_fastener_row *const row = sl_fastener_of(in->kind, in->size, edition);
  if (!row) return NO_SIZE(sh);
  WORD(sh, size, in->size);
  double d_h = 0;
  const enum sl_status status = sl_fastener_hole(row, in->kind, edition, &d_h, sh);
  if (status != SL_OK) return status;
  GIVES(sh, out, hole, d_h);
  return in->upright ? upright(in, d_h, out, sh) : stacked(in, d_h, out, sh);
}

/* ---- forces ------------------------------------------------------------------------------------------------------ */

/* A member that leans is loaded at the larger angle of the two ways in which the part across may go. */
enum sl_status sl_joint_force(const struct sl_joint_force_in *in, struct sl_joint_force_out *out, struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, along, SL_FORCE);
  NOT_NEGATIVE(sh, in, across, SL_FORCE);
  const bool leans = !isnan(in->lean);
  if (leans) {
    NOT_NEGATIVE(sh, in, lean, SL_ANGLE);
    REQUIRE(sh, in, lean, <= acos(0) * (1 + 1e-9), "must be at most 90 deg", SL_ANGLE);
  }
  GIVEN(sh, SL_FORCE, P_along, in->along);
  GIVEN(sh, SL_FORCE, P_across, in->across);
  STEP(sh, SL_FORCE, P, hypot(P_along, P_across), MECHANICS);
  STEP(sh, SL_ANGLE, theta, atan2(P_across, P_along), MECHANICS);
  GIVES(sh, out, force, P);
  GIVES(sh, out, angle, theta);
  out->leaning_angle = NAN;
  if (!leans) return SL_OK;
  GIVEN(sh, SL_ANGLE, lean, in->lean);
  STEP(sh, SL_FORCE, L_along, fabs(P_along * cos(lean) - P_across * sin(lean)), MECHANICS);
  STEP(sh, SL_FORCE, L_across, fabs(P_along * sin(lean) + P_across * cos(lean)), MECHANICS);
  STEP(sh, SL_ANGLE, theta_L, atan2(L_across, L_along), MECHANICS);
  GIVES(sh, out, leaning_angle, theta_L);
  return SL_OK;
}

enum sl_status sl_grain_parts(const struct sl_grain_parts_in *in, struct sl_grain_parts_out *out, struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, force, SL_FORCE);
  FINITE(sh, in, beside, SL_FORCE);
  NOT_NEGATIVE(sh, in, angle, SL_ANGLE);
  REQUIRE(sh, in, angle, <= acos(0) * (1 + 1e-9), "must be at most 90 deg", SL_ANGLE);
  GIVEN(sh, SL_FORCE, F, in->force);
  GIVEN(sh, SL_FORCE, S, in->beside);
  GIVEN(sh, SL_ANGLE, theta, in->angle);
  STEP(sh, SL_FORCE, P_along, fmax(0, F * cos(theta)) + fmax(0, S) * sin(theta), MECHANICS);
  STEP(sh, SL_FORCE, P_across, fmax(0, F * sin(theta) + S * cos(theta)), MECHANICS);
  GIVES(sh, out, along, P_along);
  GIVES(sh, out, across, P_across);
  return SL_OK;
}

/* ---- splices ----------------------------------------------------------------------------------------------------- */

enum sl_status sl_beam_place(const struct sl_beam_place_in *in, struct sl_beam_place_out *out, struct sl_sheet *sh) {
  FINITE(sh, in, load, SL_LINE_LOAD);
  NOT_NEGATIVE(sh, in, at, SL_LENGTH);
  if (in->nsupports < 1 || in->nsupports > 100)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "supports", "must be 1 to 100", "", (double)in->nsupports, NAN, SL_NUMBER);
  for (size_t i = 0; i < in->nsupports; i++) {
    NOT_NEGATIVE_ROW(sh, in, supports, i, at, SL_LENGTH);
    FINITE_ROW(sh, in, supports, i, reaction, SL_FORCE);
  }
  GIVEN(sh, SL_LINE_LOAD, w, in->load);
  GIVEN(sh, SL_LENGTH, x, in->at);
  double up_before = 0, up_with = 0, turned = 0;
  LINES(sh, "supports");
  for (size_t i = 0; i < in->nsupports; i++) {
    LINE(sh);
    GIVEN(sh, SL_LENGTH, a, in->supports[i].at);
    GIVEN(sh, SL_FORCE, R, in->supports[i].reaction);
    STEP(sh, SL_FORCE, R_left, a < x * (1 - 1e-9) ? R : 0, "left of the place");
    STEP(sh, SL_FORCE, R_here, a <= x * (1 + 1e-9) ? R : 0, "and at it");
    STEP(sh, SL_MOMENT, R_a, R_left * (x - a), STATICS);
    up_before += R_left;
    up_with += R_here;
    turned += R_a;
  }
  LINES_END(sh);
  SUM(sh, SL_FORCE, R_before, up_before, R_left, STATICS);
  SUM(sh, SL_FORCE, R_with, up_with, R_here, STATICS);
  SUM(sh, SL_MOMENT, M_R, turned, R_a, STATICS);
  STEP(sh, SL_FORCE, V, fmax(fabs(R_before - w * x), fabs(R_with - w * x)), STATICS);
  STEP(sh, SL_MOMENT, M, M_R - w * x * x / 2, STATICS);
  GIVES(sh, out, moment, M);
  GIVES(sh, out, shear, V);
  return SL_OK;
}

enum sl_status sl_splice_group(const struct sl_splice_group_in *in, struct sl_splice_group_out *out,
                               struct sl_sheet *sh) {
  COUNTED(sh, in, count, 100);
  COUNTED(sh, in, rows, 10);
  if (in->count * in->rows < 2)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "count", "holds no moment: on each side of a splice stand two at least", "",
                          in->count, NAN, SL_NUMBER);
  APART(sh, in, spacing, in->count > 1);
  APART(sh, in, row_spacing, in->rows > 1);
  POSITIVE(sh, in, to_end, SL_LENGTH);
  NOT_NEGATIVE(sh, in, moment, SL_MOMENT);
  NOT_NEGATIVE(sh, in, shear, SL_FORCE);
  GIVEN(sh, SL_NUMBER, n, in->count);
  GIVEN(sh, SL_NUMBER, r, in->rows);
  GIVEN(sh, SL_LENGTH, s, in->count > 1 ? in->spacing : 0);
  GIVEN(sh, SL_LENGTH, g, in->rows > 1 ? in->row_spacing : 0);
  GIVEN(sh, SL_LENGTH, end, in->to_end);
  GIVEN(sh, SL_MOMENT, M, in->moment);
  GIVEN(sh, SL_FORCE, V, in->shear);
  STEP(sh, SL_LENGTH, e, end + (n - 1) * s / 2, "from the splice to the middle of the group");
  STEP(sh, SL_MOMENT, M_g, M + V * e, STATICS);
  STEP(sh, SL_MOMENT, M_1, M + V * end, "of what lies over the splice, at the first of them");
  STEP(sh, SL_LENGTH, x, (n - 1) * s / 2, "the outermost from that middle, along the member");
  STEP(sh, SL_LENGTH, y, (r - 1) * g / 2, "and square to it");
  STEP(sh, SL_AREA, J, r * s * s * n * (n * n - 1) / 12 + n * g * g * r * (r * r - 1) / 12,
       "squares of all distances from it, together");
  STEP(sh, SL_FORCE, P_across, V / (n * r) + M_g * x / J, "statics of stiff members and like fasteners");
  STEP(sh, SL_FORCE, P_along, M_g * y / J, "statics of stiff members and like fasteners");
  STEP(sh, SL_FORCE, P, hypot(P_across, P_along), MECHANICS);
  GIVES(sh, out, arm, e);
  GIVES(sh, out, turning, M_g);
  GIVES(sh, out, first, M_1);
  GIVES(sh, out, across, P_across);
  STEP(sh, SL_ANGLE, theta, atan2(P_across, P_along), MECHANICS);
  GIVES(sh, out, along, P_along);
  GIVES(sh, out, force, P);
  GIVES(sh, out, angle, theta);
  return SL_OK;
}

/* ---- feet -------------------------------------------------------------------------------------------------------- */

enum sl_status sl_foot_tie(const struct sl_foot_tie_in *in, struct sl_foot_tie_out *out, struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, lift, SL_FORCE);
  NOT_NEGATIVE(sh, in, side, SL_FORCE);
  NOT_NEGATIVE(sh, in, moment, SL_MOMENT);
  POSITIVE(sh, in, lift_allowed, SL_FORCE);
  POSITIVE(sh, in, side_allowed, SL_FORCE);
  const bool turns = isnan(in->moment_allowed);
  if (!turns) POSITIVE(sh, in, moment_allowed, SL_MOMENT);
  else if (in->moment > 0)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "moment", "comes to a foot of which nobody says what it bears", "",
                          in->moment, NAN, SL_MOMENT);
  GIVEN(sh, SL_FORCE, U, in->lift);
  GIVEN(sh, SL_FORCE, H, in->side);
  GIVEN(sh, SL_MOMENT, M, in->moment);
  GIVEN(sh, SL_FORCE, U_a, in->lift_allowed);
  GIVEN(sh, SL_FORCE, H_a, in->side_allowed);
  STEP(sh, SL_NUMBER, used_U, U / U_a, USED);
  STEP(sh, SL_NUMBER, used_H, H / H_a, USED);
  double of_moment = 0;
  if (!turns) {
    GIVEN(sh, SL_MOMENT, M_a, in->moment_allowed);
    STEP(sh, SL_NUMBER, used_M, M / M_a, USED);
    of_moment = used_M;
  } else STANDS_AT(sh, SL_NUMBER, used_M, 0, "it turns freely", "how it is placed");
  const double used_M = of_moment;
  STEP(sh, SL_NUMBER, used, used_U + used_H + used_M, "at once, as their sum: the safe side, no source");
  GIVES(sh, out, of_lift, used_U);
  GIVES(sh, out, of_side, used_H);
  GIVES(sh, out, of_moment, used_M);
  GIVES(sh, out, used, used);
  return SL_OK;
}
