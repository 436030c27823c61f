/* SPDX-License-Identifier: MIT
 * Posts in the ground: concrete; lumber, soils and augers out of tables. */
#include "guard.h"
#include "room.h"
#include "table.h"
#include "uplift.h"
#include "stringline/footing.h"

#define GEOMETRY "plane geometry"

FITS_COLUMN(wood_sections, section, struct sl_lumber_in, section)
FITS_COLUMN(wood_sections, section, struct sl_dressed_in, section)
FITS_COLUMN(wood_specific_gravity, species, struct sl_lumber_in, species)
FITS_COLUMN(wood_specific_gravity, word, struct sl_lumber_in, species)
FITS_COLUMN(soil_presumptive, word, struct sl_soil_in, soil_class)
FITS_COLUMN(soil_presumptive, class, struct sl_soil_in, soil_class)

enum sl_status sl_allowable_wind(const struct sl_allowable_wind_in *in, struct sl_allowable_wind_out *out,
                                 struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, wind, SL_FORCE);
  EDITION(sh, in, edition, "ASCE", edition);
  UPLIFT_ROW(sh, c, edition);
  GIVEN(sh, SL_FORCE, W, in->wind);
  FROM(sh, SL_NUMBER, f_W, c, wind, c->name, edition);
  STEP(sh, SL_FORCE, W_allowable, f_W * W, c->cite);
  GIVES(sh, out, force, W_allowable);
  GIVES(sh, out, factor, f_W);
  FROM(sh, SL_NUMBER, f_D, c, dead, c->name, edition);
  GIVES(sh, out, dead, f_D);
  return SL_OK;
}

/* ---- concrete -------------------------------------------------------------------------------------------------- */

enum sl_status sl_pier(const struct sl_pier_in *in, struct sl_pier_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, hole_diameter, SL_LENGTH);
  POSITIVE(sh, in, hole_depth, SL_LENGTH);
  NOT_NEGATIVE(sh, in, gravel, SL_LENGTH);
  REQUIRE(sh, in, gravel, < in->hole_depth, "must be less than the hole is deep", SL_LENGTH);
  NOT_NEGATIVE(sh, in, post_width, SL_LENGTH);
  WITHIN(sh, "post_width", in->post_width * (in->round ? 1 : sqrt(2)), <, in->hole_diameter,
         in->round ? "is more than the hole takes" : "makes a diagonal that the hole does not take", GEOMETRY,
         SL_LENGTH);
  NOT_NEGATIVE(sh, in, waste, SL_RATIO);
  const bool belled = !isnan(in->bell_concrete), wider = !isnan(in->bell_earth);
  if (belled) NOT_NEGATIVE(sh, in, bell_concrete, SL_VOLUME);
  if (wider) NOT_NEGATIVE(sh, in, bell_earth, SL_VOLUME);

  GIVEN(sh, SL_LENGTH, D, in->hole_diameter);
  GIVEN(sh, SL_LENGTH, depth, in->hole_depth);
  GIVEN(sh, SL_LENGTH, gravel, in->gravel);
  GIVEN(sh, SL_LENGTH, b, in->post_width);
  GIVEN(sh, SL_NUMBER, is_round, in->round);
  GIVEN(sh, SL_RATIO, waste, in->waste);
  GIVEN(sh, SL_VOLUME, V_bell, belled ? in->bell_concrete : 0);
  if (belled && sh && sh->cap) sl_sheet_is(sh, "in->bell_concrete");
  GIVEN(sh, SL_VOLUME, V_wider, wider ? in->bell_earth : 0);
  if (wider && sh && sh->cap) sl_sheet_is(sh, "in->bell_earth");
  FACT(sh, SL_DENSITY, rho_light, "density_light", SL_NO_EDITION);
  FACT(sh, SL_DENSITY, rho_heavy, "density_heavy", SL_NO_EDITION);
  STEP(sh, SL_NUMBER, pi, acos(-1), "circle");
  STEP(sh, SL_VOLUME, V_hole, pi / 4 * D * D * depth + V_wider, GEOMETRY ", a bell beyond the shaft");
  STEP(sh, SL_AREA, A_post, is_round > 0 ? pi / 4 * b * b : b * b, GEOMETRY);
  STEP(sh, SL_VOLUME, V_post, A_post * (depth - gravel), GEOMETRY);
  STEP(sh, SL_VOLUME, V, (pi / 4 * D * D - A_post) * (depth - gravel) + V_bell, GEOMETRY ", post displaced");
  STEP(sh, SL_VOLUME, V_ordered, V * (1 + waste), "with waste");
  STEP(sh, SL_FORCE, Wc_light, rho_light * 9.80665 * V, "in place, the least that it can be counted on to weigh");
  STEP(sh, SL_FORCE, Wc_heavy, rho_heavy * 9.80665 * V, "in place, the most");
  GIVES(sh, out, concrete, V);
  GIVES(sh, out, ordered, V_ordered);
  GIVES(sh, out, post_volume, V_post);
  GIVES(sh, out, earth, V_hole);
  GIVES(sh, out, weight_light, Wc_light);
  GIVES(sh, out, weight_heavy, Wc_heavy);
  return SL_OK;
}

enum sl_status sl_bell(const struct sl_bell_in *in, struct sl_bell_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, hole_diameter, SL_LENGTH);
  POSITIVE(sh, in, bell, SL_LENGTH);
  REQUIRE(sh, in, bell, > in->hole_diameter, "must be wider than the hole", SL_LENGTH);
  POSITIVE(sh, in, hole_depth, SL_LENGTH);
  NOT_NEGATIVE(sh, in, gravel, SL_LENGTH);
  REQUIRE(sh, in, gravel, < in->hole_depth, "must be less than the hole is deep", SL_LENGTH);
  GIVEN(sh, SL_LENGTH, D, in->hole_diameter);
  GIVEN(sh, SL_LENGTH, B, in->bell);
  GIVEN(sh, SL_LENGTH, depth, in->hole_depth);
  GIVEN(sh, SL_LENGTH, gravel, in->gravel);
  FACT(sh, SL_ANGLE, a, "bell_slope", SL_NO_EDITION);
  STEP(sh, SL_NUMBER, pi, acos(-1), "circle");
  STEP(sh, SL_LENGTH, height, (B - D) / 2 * tan(a), "its side up to the shaft");
  WITHIN(sh, "bell", height, <, depth - gravel, "is higher than the concrete", fact_a->cite, SL_LENGTH);
  STEP(sh, SL_VOLUME, V_bell, pi / 12 * height * (B * B + B * D - 2 * D * D), "frustum less the shaft in it");
  STEP(sh, SL_VOLUME, V_wider, V_bell + pi / 4 * (B * B - D * D) * gravel, "and the gravel under it, as wide");
  GIVES(sh, out, height, height);
  GIVES(sh, out, concrete, V_bell);
  GIVES(sh, out, earth, V_wider);
  return SL_OK;
}

enum sl_status sl_bag_yield(const struct sl_bag_yield_in *in, struct sl_bag_yield_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, bag_mass, SL_MASS);
  FIND(bag, concrete_bags, fabs(in->bag_mass - bag->bag) <= 1e-6 * in->bag_mass);
  if (!bag) return sl_sheet_fault(sh, SL_NO_ROW, "bag_mass", "is not in the table of bag yields",
                                  sl_table_concrete_bags->cite, in->bag_mass, NAN, SL_MASS);
  FROM(sh, SL_VOLUME, yield, bag, yield, bag->name, SL_NO_EDITION);
  GIVES(sh, out, yield, yield);
  return SL_OK;
}

enum sl_status sl_bags(const struct sl_bags_in *in, struct sl_bags_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, concrete, SL_VOLUME);
  POSITIVE(sh, in, yield, SL_VOLUME);
  GIVEN(sh, SL_VOLUME, V_ordered, in->concrete);
  GIVEN(sh, SL_VOLUME, yield, in->yield);
  STEP(sh, SL_NUMBER, bags_exact, V_ordered / yield, "concrete of the hole in bags");
  WITHIN(sh, "concrete", bags_exact, <, 1e6, "asks for more bags than anyone can count", "a million bags", SL_NUMBER);
  STEP(sh, SL_NUMBER, n, ceil(bags_exact - 1e-9), "whole bags, up");
  GIVES(sh, out, bags_exact, bags_exact);
  GIVES_COUNT(sh, out, bags, n);
  return SL_OK;
}

enum sl_status sl_hole(const struct sl_hole_in *in, struct sl_hole_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, post_width, SL_LENGTH);
  GIVEN(sh, SL_LENGTH, b, in->post_width);
  GIVEN(sh, SL_NUMBER, is_round, in->round);
  FACT(sh, SL_LENGTH, room, "room", SL_NO_EDITION);
  STEP(sh, SL_LENGTH, D, (is_round > 0 ? 1 : sqrt(2)) * b + room, GEOMETRY ", diagonal of the post");
  GIVES(sh, out, least, D);
  return SL_OK;
}

/* ---- out of tables --------------------------------------------------------------------------------------------- */

#define NO_SECTION "is not in the table of dressed sizes"
static const struct sl_table_wood_sections *find_section(const char *section) {
  FIND(row, wood_sections, sl_same_text(row->section, section));
  return row;
}

enum sl_status sl_dressed(const struct sl_dressed_in *in, struct sl_dressed_out *out, struct sl_sheet *sh) {
  const struct sl_table_wood_sections *const s = find_section(in->section);
  if (!s) return NO_ROW(sh, "section", NO_SECTION, sl_table_wood_sections->cite);
  FROM(sh, SL_LENGTH, b, s, breadth, s->section, SL_NO_EDITION);
  FROM(sh, SL_LENGTH, d, s, depth, s->section, SL_NO_EDITION);
  GIVES(sh, out, breadth, b);
  GIVES(sh, out, depth, d);
  return SL_OK;
}

static const char common_species[] = "Southern Pine";   /* of treated posts and of lumber in the south-east */

enum sl_status sl_lumber(const struct sl_lumber_in *in, struct sl_lumber_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, length, SL_LENGTH);
  EDITION(sh, in, edition, "NDS", edition);
  const char *const species = *in->species ? in->species : common_species;
  const struct sl_table_wood_sections *const s = find_section(in->section);
  if (!s) return NO_ROW(sh, "section", NO_SECTION, sl_table_wood_sections->cite);
  FIND(t, wood_specific_gravity, STANDS(t, edition) && (sl_same_text(t->word, species) ||
                                                        sl_same_text(t->species, species)));
  if (!t) return NO_ROW(sh, "species", "is not in the table of softwoods", "@wood_gravity");

  GIVEN(sh, SL_LENGTH, L, in->length);
  FROM(sh, SL_LENGTH, b, s, breadth, s->section, edition);
  FROM(sh, SL_LENGTH, d, s, depth, s->section, edition);
  FROM(sh, SL_NUMBER, G, t, g, t->species, edition);
  FACT(sh, SL_DENSITY, rho_w, "water", edition);
  FACT(sh, SL_DENSITY, rho_fresh, "fresh", edition);
  STEP(sh, SL_VOLUME, V, b * d * L, GEOMETRY);
  STEP(sh, SL_FORCE, W_dry, G * rho_w * 9.80665 * V, "oven-dry: the least that it can weigh");
  STEP(sh, SL_FORCE, W_fresh, rho_fresh * 9.80665 * V, "as it comes from treatment");
  GIVES(sh, out, breadth, b);
  GIVES(sh, out, depth, d);
  GIVES(sh, out, volume, V);
  GIVES(sh, out, weight_light, W_dry);
  GIVES(sh, out, weight_heavy, W_fresh);
  return SL_OK;
}

enum sl_status sl_soil(const struct sl_soil_in *in, struct sl_soil_out *out, struct sl_sheet *sh) {
  EDITION(sh, in, edition, "IBC", edition);
  FIND(row, soil_presumptive, STANDS(row, edition) && (sl_same_text(row->word, in->soil_class) ||
                                                       sl_same_text(row->class, in->soil_class)));
  if (!row) return NO_ROW(sh, "soil_class", "is no class of the table", "@soil_values");
  FROM(sh, SL_SOIL, lateral, row, lateral, row->name, edition);
  FROM(sh, SL_PRESSURE, vertical, row, vertical, row->name, edition);
  GIVES(sh, out, lateral, lateral);
  GIVES(sh, out, vertical, vertical);
  return SL_OK;
}

size_t sl_augers_need(const struct sl_augers_in *in) {
  (void)in;
  return NEED(0, double, SL_ROWS_OF_auger_diameters);
}

enum sl_status sl_augers(const struct sl_augers_in *in, struct sl_augers_out *out, struct sl_space space,
                         struct sl_sheet *sh) {
  ENOUGH(sh, space, sl_augers_need(in));
  double *diameters = PART(&space, double, SL_ROWS_OF_auger_diameters);
  size_t n = 0;
  const struct sl_table_auger_diameters *row = sl_table_auger_diameters, *end = row + SL_ROWS_OF_auger_diameters;
  LINES(sh, "augers");
  for (; row < end; row++) {
    LINE(sh);
    FROM(sh, SL_LENGTH, D, row, diameter, "auger", SL_NO_EDITION);
    if (isnan(in->least) || D >= in->least - 1e-9) diameters[n++] = D;
  }
  LINES_END(sh);
  *out = (struct sl_augers_out){ .diameters = diameters, .count = n };
  if (n == 0) return sl_sheet_fault(sh, SL_NO_ANSWER, "least", "is wider than every auger in the table", end[-1].cite,
                                    in->least, end[-1].diameter, SL_LENGTH);
  return SL_OK;
}
