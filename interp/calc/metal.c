/* SPDX-License-Identifier: MIT
 * Members of steel and aluminum: sections, column formula, bending, interaction. */
#include "guard.h"
#include "table.h"
#include "stringline/metal.h"

#define COLUMN "AISC 360 E3"
#define WALLS  "AISC 360 Tables B4.1a, B4.1b"
#define THIN   "is so thin that it buckles before the tube has its strength"
#define ASKED  "demand over what is allowed"

FITS_COLUMN(steel_sections, section, struct sl_metal_in, section)
FITS_COLUMN(steel_sections, section, struct sl_metal_section_in, section)
FITS_COLUMN(metals, material, struct sl_metal_in, material)

#define NO_SECTION "is not in the table of steel sections; fence tube and electrical conduit are none of these"

static const struct sl_table_steel_sections *find_section(const char *section) {
  FIND(row, steel_sections, sl_same_text(row->section, section));
  return row;
}

enum sl_status sl_metal_section(const struct sl_metal_section_in *in, struct sl_metal_section_out *out,
                                struct sl_sheet *sh) {
  const struct sl_table_steel_sections *const s = find_section(in->section);
  if (!s) return NO_ROW(sh, "section", NO_SECTION, sl_table_steel_sections->cite);
  FROM(sh, SL_LENGTH, D, s, width, s->section, SL_NO_EDITION);
  FROM(sh, SL_LENGTH, t, s, wall, s->section, SL_NO_EDITION);
  FROM(sh, SL_MASS_LENGTH, m, s, mass, s->section, SL_NO_EDITION);
  FROM(sh, SL_SECTION, A, s, area, s->section, SL_NO_EDITION);
  FROM(sh, SL_INERTIA, I_x, s, inertia, s->section, SL_NO_EDITION);
  FROM(sh, SL_MODULUS, S, s, modulus, s->section, SL_NO_EDITION);
  FROM(sh, SL_LENGTH, r, s, radius, s->section, SL_NO_EDITION);
  GIVES(sh, out, width, D);
  GIVES(sh, out, wall, t);
  GIVES(sh, out, mass, m);
  GIVES(sh, out, area, A);
  GIVES(sh, out, inertia, I_x);
  GIVES(sh, out, modulus, S);
  GIVES(sh, out, radius, r);
  out->plastic = NAN;
  if (isnan(s->plastic)) return SL_OK;
  FROM(sh, SL_MODULUS, Z, s, plastic, s->section, SL_NO_EDITION);
  GIVES(sh, out, plastic, Z);
  return SL_OK;
}

/* ---- members --------------------------------------------------------------------------------------------------- */

typedef struct sl_table_metals strength;
static const strength *find_strength(const char *material, const char *property) {
  FIND(row, metals, sl_same_text(row->material, material) && sl_same_text(row->property, property));
  return row;
}

static enum sl_status check_own(const struct sl_metal_in *in, struct sl_sheet *sh) {
  const double own[] = { in->area, in->plastic, in->radius };
  static const char *const names[] = { "area", "plastic", "radius" };
  for (size_t i = 0; i < sizeof own / sizeof *own; i++) {
    if (*in->section && !isnan(own[i]))
      return sl_sheet_fault(sh, SL_BAD_INPUT, names[i], "is given beside a section that has its own", "", own[i], NAN,
                            SL_NUMBER);
    if (!*in->section && !isnan(own[i]) && !(own[i] > 0 && own[i] < INFINITY))
      return sl_sheet_fault(sh, SL_BAD_INPUT, names[i], "must be greater than 0 and finite", "", own[i], NAN,
                            SL_NUMBER);
  }
  return SL_OK;
}

static enum sl_status check_tube(const struct sl_metal_in *in, struct sl_sheet *sh) {
  if (isnan(in->width) != isnan(in->wall))
    return sl_sheet_fault(sh, SL_BAD_INPUT, isnan(in->wall) ? "wall" : "width",
                          "is missing: width and wall of a tube go together", "", NAN, NAN, SL_LENGTH);
  if (isnan(in->wall)) return SL_OK;
  if (*in->section)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "wall", "is given beside a section that has its own", "", in->wall, NAN,
                          SL_LENGTH);
  POSITIVE(sh, in, width, SL_LENGTH);
  POSITIVE(sh, in, wall, SL_LENGTH);
  REQUIRE(sh, in, wall, <= in->width / 2, "must be half of the width or less", SL_LENGTH);
  return SL_OK;
}

#define MISSING(sh, value, member, why) \
  do { if (isnan(value)) return sl_sheet_fault(sh, SL_BAD_INPUT, member, why, "", NAN, NAN, SL_NUMBER); } while (0)

/* A section as a member needs it; NAN where nobody said. */
struct shape { const struct sl_table_steel_sections *row; double area, plastic, radius; };
#define PROPERTY(sh, dim, sym, s, member) \
  const double sym = (s)->member; \
  if ((s)->row) { \
    const enum sl_basis basis_ = sl_known_as((s)->row->known, SL_NO_EDITION); \
    SL_ADD_(sh, SL_ROW_TABLE, dim, basis_, sym, (s)->row->section, (s)->row->cite); \
    if (sh) (sh)->rests |= 1u << basis_; \
  } else SL_ADD_(sh, SL_ROW_GIVEN, dim, SL_READ, sym, "", ""); \
  if (sh && sh->cap && !(s)->row) sl_sheet_is(sh, "in->" #member)

/* A square tube whose wall is so thin that it buckles before the section is plastic has another strength. */
static enum sl_status check_wall(const struct shape *s, double Fy, double E, struct sl_sheet *sh) {
  if (!s->row || !sl_same_text(s->row->shape, "square tube")) return SL_OK;
  FROM(sh, SL_LENGTH, B, s->row, width, s->row->section, SL_NO_EDITION);
  FROM(sh, SL_LENGTH, t, s->row, wall, s->row->section, SL_NO_EDITION);
  FACT(sh, SL_NUMBER, c_wall, "compact_square", SL_NO_EDITION);
  STEP(sh, SL_NUMBER, flat_over_t, (B - 3 * t) / t, "AISC 360 B4.1b");
  STEP(sh, SL_NUMBER, flat_most, c_wall * sqrt(E / Fy), "AISC 360 Table B4.1b");
  WITHIN(sh, "section", flat_over_t, <=, flat_most, "has a wall too thin to be compact", "AISC 360 Table B4.1b",
         SL_NUMBER);
  return SL_OK;
}

/* The same of an own tube, pressed and bent; a wall of which nothing is said is taken to be compact. */
static enum sl_status check_own_wall(const struct sl_metal_in *in, double yield, double modulus, struct sl_sheet *sh) {
  if (isnan(in->wall) || !(in->moment > 0 || in->axial > 0)) return SL_OK;
  const double Fy = yield, E = modulus;
  const bool bent = in->moment > 0;
  GIVEN(sh, SL_LENGTH, B, in->width);
  GIVEN(sh, SL_LENGTH, t, in->wall);
  if (in->round) {
    FACT_OF(sh, SL_NUMBER, c_wall, bent ? "compact_round" : "slender_round", SL_NO_EDITION);
    STEP(sh, SL_NUMBER, over_t, B / t, WALLS);
    STEP(sh, SL_NUMBER, over_most, c_wall * E / Fy, WALLS);
    WITHIN(sh, "wall", over_t, <=, over_most, THIN, WALLS, SL_NUMBER);
    return SL_OK;
  }
  FACT_OF(sh, SL_NUMBER, c_wall, bent ? "compact_square" : "slender_square", SL_NO_EDITION);
  STEP(sh, SL_NUMBER, over_t, (B - 3 * t) / t, WALLS);
  STEP(sh, SL_NUMBER, over_most, c_wall * sqrt(E / Fy), WALLS);
  WITHIN(sh, "wall", over_t, <=, over_most, THIN, WALLS, SL_NUMBER);
  return SL_OK;
}

static enum sl_status steel_bending(const struct sl_metal_in *in, const struct shape *s, double Fy, double E,
                                    double *allowed, struct sl_sheet *sh) {
  *allowed = NAN;
  if (isnan(s->plastic)) {
    if (in->moment > 0)
      return sl_sheet_fault(sh, SL_BAD_INPUT, "plastic", "section modulus is missing: steel is bent", "", NAN, NAN,
                            SL_MODULUS);
    return SL_OK;
  }
  if (in->moment > 0) {
    const enum sl_status status = check_wall(s, Fy, E, sh);
    if (status != SL_OK) return status;
  }
  PROPERTY(sh, SL_MODULUS, Z, s, plastic);
  if (in->method == SL_STRENGTH) {
    FACT(sh, SL_NUMBER, phi_b, "steel_bending_strength", SL_NO_EDITION);
    STEP(sh, SL_MOMENT, M_allowed, phi_b * Fy * Z, "AISC 360 F7, F8: yielding");
    *allowed = M_allowed;
    return SL_OK;
  }
  FACT(sh, SL_NUMBER, Omega_b, "steel_bending", SL_NO_EDITION);
  STEP(sh, SL_MOMENT, M_allowed, Fy * Z / Omega_b, "AISC 360 F7, F8: yielding");
  *allowed = M_allowed;
  return SL_OK;
}

static enum sl_status steel_axial(const struct sl_metal_in *in, const struct shape *s, double Fy, double E,
                                  double *allowed, struct sl_sheet *sh) {
  PROPERTY(sh, SL_SECTION, A, s, area);
  const bool strength = in->method == SL_STRENGTH;
  if (in->axial <= 0 && strength) {
    FACT(sh, SL_NUMBER, phi_t, "steel_tension_strength", SL_NO_EDITION);
    STEP(sh, SL_FORCE, P_allowed, phi_t * Fy * A, "AISC 360 D2, whole section");
    *allowed = P_allowed;
    return SL_OK;
  }
  if (in->axial <= 0) {
    FACT(sh, SL_NUMBER, Omega_t, "steel_tension", SL_NO_EDITION);
    STEP(sh, SL_FORCE, P_allowed, Fy * A / Omega_t, "AISC 360 D2, whole section");
    *allowed = P_allowed;
    return SL_OK;
  }
  MISSING(sh, in->length, "length", "is missing: the member is pressed and may buckle");
  MISSING(sh, s->radius, "radius", "of gyration is missing: the member is pressed and may buckle");
  GIVEN(sh, SL_LENGTH, L_c, in->length);
  PROPERTY(sh, SL_LENGTH, r, s, radius);
  FACT(sh, SL_NUMBER, base, "column_inelastic", SL_NO_EDITION);
  FACT(sh, SL_NUMBER, elastic, "column_elastic", SL_NO_EDITION);
  FACT(sh, SL_NUMBER, turn, "column_turn", SL_NO_EDITION);
  if (strength) {
    FACT(sh, SL_NUMBER, phi_c, "steel_compression_strength", SL_NO_EDITION);
    STEP(sh, SL_STRESS, Fe, acos(-1) * acos(-1) * E / ((L_c / r) * (L_c / r)), COLUMN);
    STEP(sh, SL_STRESS, Fcr, Fy / Fe <= turn ? pow(base, Fy / Fe) * Fy : elastic * Fe, COLUMN);
    STEP(sh, SL_FORCE, P_allowed, phi_c * Fcr * A, "AISC 360 E1");
    *allowed = P_allowed;
    return SL_OK;
  }
  FACT(sh, SL_NUMBER, Omega_c, "steel_compression", SL_NO_EDITION);
  STEP(sh, SL_STRESS, Fe, acos(-1) * acos(-1) * E / ((L_c / r) * (L_c / r)), COLUMN);
  STEP(sh, SL_STRESS, Fcr, Fy / Fe <= turn ? pow(base, Fy / Fe) * Fy : elastic * Fe, COLUMN);
  STEP(sh, SL_FORCE, P_allowed, Fcr * A / Omega_c, "AISC 360 E1");
  *allowed = P_allowed;
  return SL_OK;
}

/* Allowable stress of aluminum that is pulled. */
static enum sl_status aluminum(const struct sl_metal_in *in, const struct shape *s, double Fy, double *axial,
                               struct sl_sheet *sh) {
  const strength *const rupture = find_strength(in->material, "Fu");
  if (!rupture) return NO_ROW(sh, "material", "has no tensile strength here", "");
  FROM(sh, SL_STRESS, Fu, rupture, value, rupture->name, SL_NO_EDITION);
  FACT(sh, SL_NUMBER, Omega_y, "aluminum_yield", SL_NO_EDITION);
  FACT(sh, SL_NUMBER, Omega_u, "aluminum_rupture", SL_NO_EDITION);
  STEP(sh, SL_STRESS, F_allowed, fmin(Fy / Omega_y, Fu / Omega_u), "Aluminum Design Manual, building structures");
  PROPERTY(sh, SL_SECTION, A, s, area);
  STEP(sh, SL_FORCE, P_allowed, F_allowed * A, "Aluminum Design Manual, building structures");
  *axial = P_allowed;
  return SL_OK;
}

/* What is used most, the first of equals. */
static void name_use(struct sl_metal_out *out, double axial) {
  static const char bending[] = "bending", pressed[] = "compression", pulled[] = "tension", both[] = "combined";
  const char *name = both;
  size_t size = sizeof both;
  if (!(out->worst > 0)) { name = "none"; size = sizeof "none"; }
  else if (out->used_bending >= out->worst) { name = bending; size = sizeof bending; }
  else if (out->used_axial >= out->worst) { name = axial > 0 ? pressed : pulled;
                                            size = axial > 0 ? sizeof pressed : sizeof pulled; }
  memcpy(out->governs, name, size);
}

static enum sl_status use(const struct sl_metal_in *in, double M_allowed, double P_allowed,
                          struct sl_metal_out *out, struct sl_sheet *sh) {
  GIVEN(sh, SL_MOMENT, M, in->moment);
  GIVEN(sh, SL_FORCE, P, in->axial);
  STEP(sh, SL_NUMBER, used_P, fabs(P) / P_allowed, ASKED);
  *out = (struct sl_metal_out){ .allowed_moment = M_allowed };
  if (isfinite(M_allowed)) GIVES(sh, out, allowed_moment, M_allowed);
  GIVES(sh, out, allowed_axial, P_allowed);
  GIVES(sh, out, used_axial, used_P);
  out->used_combined = out->worst = used_P;
  if (isfinite(M_allowed)) {
    STEP(sh, SL_NUMBER, used_M, M / M_allowed, ASKED);
    GIVES(sh, out, used_bending, used_M);
    FACT(sh, SL_NUMBER, from, "interaction_from", SL_NO_EDITION);
    STEP(sh, SL_NUMBER, used_both, used_P >= from ? used_P + 8 * used_M / 9 : used_P / 2 + used_M, "AISC 360 H1-1");
    GIVES(sh, out, used_combined, used_both);
    out->worst = fmax(out->used_combined, fmax(used_P, used_M));
  }
  name_use(out, P);
  return SL_OK;
}

enum sl_status sl_metal(const struct sl_metal_in *in, struct sl_metal_out *out, struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, moment, SL_MOMENT);
  FINITE(sh, in, axial, SL_FORCE);
  ONE_OF(sh, in, method, SL_STRENGTH);
  if (!isnan(in->length)) POSITIVE(sh, in, length, SL_LENGTH);
  enum sl_status status = check_own(in, sh);
  if (status != SL_OK) return status;
  struct shape s = { NULL, in->area, in->plastic, in->radius };
  if (*in->section) {
    s.row = find_section(in->section);
    if (!s.row) return NO_ROW(sh, "section", NO_SECTION, sl_table_steel_sections->cite);
    s = (struct shape){ s.row, s.row->area, s.row->plastic, s.row->radius };
  }
  MISSING(sh, s.area, "area", "or the name of a section must be given");
  if ((status = check_tube(in, sh)) != SL_OK) return status;
  const strength *const yield = find_strength(in->material, "Fy"), *const modulus = find_strength(in->material, "E");
  if (!yield || !modulus)
    return NO_ROW(sh, "material", "is not in the table of metals; there are A53 Gr B, A500 Gr B, A500 Gr C, A36, "
                  "A653 Gr 33, 6005-T5, 6005A-T61, 6061-T6, 6063-T5 and 6063-T6", sl_table_metals->cite);
  const bool steel = sl_same_text(yield->metal, "steel");
  if (s.row && !steel) return NO_ROW(sh, "material", "is aluminum, the section is one of steel", s.row->cite);
  if (s.row && *yield->shape && !sl_same_text(yield->shape, s.row->shape))
    return NO_ROW(sh, "material", "is not what such a section is made of", s.row->cite);
  if (s.row && sl_same_text(s.row->shape, "strut") && (in->moment > 0 || in->axial > 0))
    return NO_ROW(sh, "section", "is open and twists: its bending and compression are not held", s.row->cite);
  if (!steel && in->method == SL_STRENGTH)
    return NO_ROW(sh, "method", "is of strength, and no resistance factors of aluminum are held",
                  "Aluminum Design Manual");
  if (!steel && in->axial > 0)
    return NO_ROW(sh, "axial", "presses aluminum, whose column buckling is not held", "Aluminum Design Manual");
  if (!steel && in->moment > 0)
    return NO_ROW(sh, "moment", "bends aluminum: how its wall, or all of an open section, buckles then is not held; "
                  "what it bears is its maker's to say", "Aluminum Design Manual");

  WORD(sh, material, in->material);
  FROM(sh, SL_STRESS, Fy, yield, value, yield->name, SL_NO_EDITION);
  double M_allowed = NAN, P_allowed = NAN;
  if (!steel) status = aluminum(in, &s, Fy, &P_allowed, sh);
  else {
    FROM(sh, SL_STRESS, E, modulus, value, modulus->name, SL_NO_EDITION);
    status = check_own_wall(in, Fy, E, sh);
    if (status == SL_OK) status = steel_bending(in, &s, Fy, E, &M_allowed, sh);
    if (status == SL_OK) status = steel_axial(in, &s, Fy, E, &P_allowed, sh);
  }
  return status == SL_OK ? use(in, M_allowed, P_allowed, out, sh) : status;
}
