/* SPDX-License-Identifier: MIT
 * Posts in the ground: embedment in soil, concrete, uplift; lumber, soils and augers out of tables. */
#include "facts.h"
#include "guard.h"
#include "room.h"
#include "stringline/footing.h"

#define UNCONSTRAINED "IBC 1807.3.2.1, Eq. 18-1"
#define CONSTRAINED   "IBC 1807.3.2.2, Eq. 18-2"
#define GEOMETRY      "plane geometry"
#define COUNT(table)  (sizeof (table) / sizeof *(table))

static const struct fact soil_facts[] = {
#define ROW(...) { __VA_ARGS__ },
#include "soil_facts.inc"
#undef ROW
};

static const struct fact concrete_facts[] = {
#define ROW(...) { __VA_ARGS__ },
#include "concrete_facts.inc"
#undef ROW
};

static const struct fact practice_facts[] = {
#define ROW(...) { __VA_ARGS__ },
#include "practice_facts.inc"
#undef ROW
};

static const struct fact wood_facts[] = {
#define ROW(...) { __VA_ARGS__ },
#include "wood_facts.inc"
#undef ROW
};

static const struct combination {
  const char *edition;
  double dead, wind;
  const char *name, *cite;
  enum sl_basis basis;
  const char *source;
} combinations[] = {
#define ROW(...) { __VA_ARGS__ },
#include "load_combinations.inc"
#undef ROW
};

static const struct soil {
  const char *word;
  int class;
  double vertical, lateral;
  const char *name, *cite;
  enum sl_basis basis;
  const char *source;
} soils[] = {
#define ROW(...) { __VA_ARGS__ },
#include "soil_presumptive.inc"
#undef ROW
};

static const struct bag {
  double pounds, yield;
  const char *name, *cite;
  enum sl_basis basis;
  const char *source;
} bags[] = {
#define ROW(...) { __VA_ARGS__ },
#include "concrete_bags.inc"
#undef ROW
};

static const struct section {
  const char *section;
  double b, d;
  const char *cite;
  enum sl_basis basis;
  const char *source;
} sections[] = {
#define ROW(...) { __VA_ARGS__ },
#include "wood_sections.inc"
#undef ROW
};
#define ROW(section_, ...) FITS(section_, struct sl_lumber_in, section)
#include "wood_sections.inc"
#undef ROW

static const struct species {
  const char *species;
  double g;
  const char *cite;
  enum sl_basis basis;
  const char *source;
} all_species[] = {
#define ROW(...) { __VA_ARGS__ },
#include "wood_specific_gravity.inc"
#undef ROW
};
#define ROW(species_, ...) FITS(species_, struct sl_lumber_in, species)
#include "wood_specific_gravity.inc"
#undef ROW

static const struct auger {
  double inches;
  const char *cite;
  enum sl_basis basis;
  const char *source;
} augers[] = {
#define ROW(...) { __VA_ARGS__ },
#include "auger_diameters.inc"
#undef ROW
};
_Static_assert(sizeof soils / sizeof *soils == SL_SOIL_CLASSES, "one row for each class of enum sl_soil_class");

static const struct combination *find_combination(int edition) {
  for (size_t i = 0; i < COUNT(combinations); i++)
    if (strcmp(combinations[i].edition, edition_word(edition)) == 0) return &combinations[i];
  return NULL;
}

enum sl_status sl_allowable_wind(const struct sl_allowable_wind_in *in, struct sl_allowable_wind_out *out,
                                 struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, wind, SL_FORCE);
  ONE_OF(sh, in, edition, SL_ASCE_7_22);
  const struct combination *c = find_combination(in->edition);
  if (!c) return sl_sheet_fault(sh, SL_NO_ROW, "edition", "has no combination here", "ASCE 7, 2.4.1", in->edition, NAN,
                                SL_NUMBER);
  GIVEN(sh, SL_FORCE, W, in->wind);
  LOOKUP(sh, SL_NUMBER, f_W, c->wind, c->name, c->cite, c->basis);
  STEP(sh, SL_FORCE, W_allowable, f_W * W, c->cite);
  GIVES(sh, out, force, W_allowable);
  GIVES(sh, out, factor, f_W);
  return SL_OK;
}

/* ---- embedment ------------------------------------------------------------------------------------------------- */

/* One pass of either formula: S is taken at the depth t, assumed or provided; out comes the depth needed then. */
struct pass { double depth, pressure, a; };
static enum sl_status embed_pass(const struct sl_embed_in *in, bool held, double t, const char *what,
                                 struct pass *out, struct sl_sheet *sh) {
  const struct fact iso = fact_find(soil_facts, COUNT(soil_facts), "isolated");
  const struct fact cap = fact_find(soil_facts, COUNT(soil_facts), "depth_most");
  GIVEN(sh, SL_FORCE, P, in->lateral);
  GIVEN(sh, SL_LENGTH, h, in->height);
  GIVEN(sh, SL_LENGTH, b, in->width);
  GIVEN(sh, SL_SOIL, s, in->bearing);
  GIVEN(sh, SL_NUMBER, isolated, in->isolated);
  const double d_t = t;
  SL_ADD_(sh, SL_ROW_GIVEN, SL_LENGTH, SL_READ, d_t, what, "");
  LOOKUP(sh, SL_NUMBER, twice, iso.value, iso.name, iso.cite, iso.basis);
  LOOKUP(sh, SL_LENGTH, d_max, cap.value * FOOT, cap.name, cap.cite, cap.basis);
  STEP(sh, SL_NUMBER, f, isolated > 0 ? twice : 1, "IBC 1806.3.4");
  if (held) {
    STEP(sh, SL_PRESSURE, S3, f * s * fmin(d_t, d_max), CONSTRAINED);
    STEP(sh, SL_LENGTH, d, sqrt(4.25 * P * h / (S3 * b)), CONSTRAINED);
    *out = (struct pass){ .depth = d, .pressure = S3 };
    return SL_OK;
  }
  STEP(sh, SL_PRESSURE, S1, f * s * fmin(d_t / 3, d_max), UNCONSTRAINED);
  STEP(sh, SL_LENGTH, A, 2.34 * P / (S1 * b), UNCONSTRAINED);
  STEP(sh, SL_LENGTH, d, 0.5 * A * (1 + sqrt(1 + 4.36 * h / A)), UNCONSTRAINED);
  *out = (struct pass){ .depth = d, .pressure = S1, .a = A };
  return SL_OK;
}

static bool holds_at(const struct sl_embed_in *in, bool held, double t) {
  struct pass pass;
  return embed_pass(in, held, t, "", &pass, NULL) == SL_OK && pass.depth <= t;
}

/* The depth that needs itself.  What a pass gives falls as t grows, so halving finds the only one; plain substitution
 * would swing.  Deeper than a kilometre is no post. */
static enum sl_status solve(const struct sl_embed_in *in, bool held, double *depth, struct sl_sheet *sh) {
  double low = 0, high = 1;
  while (high < 1000 && !holds_at(in, held, high)) {
    low = high;
    high *= 2;
  }
  struct pass deepest;
  if (embed_pass(in, held, high, "", &deepest, NULL) != SL_OK) return embed_pass(in, held, high, "", &deepest, sh);
  if (deepest.depth > high)
    return sl_sheet_fault(sh, SL_NO_ANSWER, "lateral", "no depth to a kilometre holds this load",
                          held ? CONSTRAINED : UNCONSTRAINED, in->lateral, NAN, SL_FORCE);
  for (double middle = low + (high - low) / 2; middle > low && middle < high; middle = low + (high - low) / 2) {
    if (holds_at(in, held, middle)) high = middle;
    else low = middle;
  }
  *depth = high;
  return SL_OK;
}

static const char found_by_halving[] = "assumed depth, found by halving: the last line gives it back";

enum sl_status sl_embed(const struct sl_embed_in *in, struct sl_embed_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, lateral, SL_FORCE);
  NOT_NEGATIVE(sh, in, height, SL_LENGTH);
  POSITIVE(sh, in, width, SL_LENGTH);
  POSITIVE(sh, in, bearing, SL_SOIL);
  double depth;
  enum sl_status status = solve(in, false, &depth, sh);
  struct pass last;
  if (status == SL_OK) status = embed_pass(in, false, depth, found_by_halving, &last, sh);
  if (status != SL_OK) return status;
  *out = (struct sl_embed_out){ .pressure = last.pressure, .a = last.a };
  GIVES(sh, out, depth, depth);
  return SL_OK;
}

enum sl_status sl_embed_at(const struct sl_embed_at_in *in, struct sl_embed_at_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, lateral, SL_FORCE);
  NOT_NEGATIVE(sh, in, height, SL_LENGTH);
  POSITIVE(sh, in, width, SL_LENGTH);
  POSITIVE(sh, in, bearing, SL_SOIL);
  POSITIVE(sh, in, depth, SL_LENGTH);
  const struct sl_embed_in same = { .lateral = in->lateral, .height = in->height, .width = in->width,
                                    .bearing = in->bearing, .isolated = in->isolated };
  struct pass one;
  const enum sl_status status = embed_pass(&same, false, in->depth, "depth provided", &one, sh);
  if (status != SL_OK) return status;
  *out = (struct sl_embed_at_out){ .required = one.depth, .pressure = one.pressure, .a = one.a };
  return SL_OK;
}

enum sl_status sl_embed_constrained(const struct sl_embed_constrained_in *in, struct sl_embed_constrained_out *out,
                                    struct sl_sheet *sh) {
  POSITIVE(sh, in, lateral, SL_FORCE);
  POSITIVE(sh, in, height, SL_LENGTH);
  POSITIVE(sh, in, width, SL_LENGTH);
  POSITIVE(sh, in, bearing, SL_SOIL);
  const struct sl_embed_in same = { .lateral = in->lateral, .height = in->height, .width = in->width,
                                    .bearing = in->bearing, .isolated = in->isolated };
  double depth;
  enum sl_status status = solve(&same, true, &depth, sh);
  struct pass last;
  if (status == SL_OK) status = embed_pass(&same, true, depth, found_by_halving, &last, sh);
  if (status != SL_OK) return status;
  *out = (struct sl_embed_constrained_out){ .pressure = last.pressure };
  GIVES(sh, out, depth, depth);
  return SL_OK;
}

/* ---- concrete and uplift --------------------------------------------------------------------------------------- */

static const struct bag *find_bag(double mass) {
  for (size_t i = 0; i < COUNT(bags); i++)
    if (fabs(mass - bags[i].pounds * POUND) <= 1e-6 * mass) return &bags[i];
  return NULL;
}

enum sl_status sl_pier(const struct sl_pier_in *in, struct sl_pier_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, hole_diameter, SL_LENGTH);
  POSITIVE(sh, in, hole_depth, SL_LENGTH);
  NOT_NEGATIVE(sh, in, gravel, SL_LENGTH);
  REQUIRE(sh, in, gravel, < in->hole_depth, "must be less than the hole is deep", SL_LENGTH);
  NOT_NEGATIVE(sh, in, post_width, SL_LENGTH);
  WITHIN(sh, "post_width", in->post_width * sqrt(2), <, in->hole_diameter,
         "makes a diagonal that the hole does not take", GEOMETRY, SL_LENGTH);
  NOT_NEGATIVE(sh, in, waste, SL_RATIO);
  POSITIVE(sh, in, bag_mass, SL_MASS);
  const struct bag *bag = find_bag(in->bag_mass);
  if (!bag) return sl_sheet_fault(sh, SL_NO_ROW, "bag_mass", "is not in the table of bag yields: 40, 50, 60, 80, 90 lb",
                                  bags[0].cite, in->bag_mass, NAN, SL_MASS);
  const struct fact density = fact_find(concrete_facts, COUNT(concrete_facts), "density");

  GIVEN(sh, SL_LENGTH, D, in->hole_diameter);
  GIVEN(sh, SL_LENGTH, depth, in->hole_depth);
  GIVEN(sh, SL_LENGTH, gravel, in->gravel);
  GIVEN(sh, SL_LENGTH, b, in->post_width);
  GIVEN(sh, SL_RATIO, waste, in->waste);
  LOOKUP(sh, SL_VOLUME, yield, bag->yield * FOOT * FOOT * FOOT, bag->name, bag->cite, bag->basis);
  LOOKUP(sh, SL_DENSITY, rho, density.value * PCF, density.name, density.cite, density.basis);
  STEP(sh, SL_NUMBER, pi, acos(-1), "circle");
  STEP(sh, SL_VOLUME, V, (pi / 4 * D * D - b * b) * (depth - gravel), GEOMETRY ", post displaced");
  STEP(sh, SL_VOLUME, V_ordered, V * (1 + waste), "with waste");
  STEP(sh, SL_NUMBER, bags_exact, V_ordered / yield, "with waste");
  WITHIN(sh, "hole_depth", bags_exact, <, 1e6, "asks for more bags than anyone can count", "a million bags", SL_NUMBER);
  STEP(sh, SL_NUMBER, n, ceil(bags_exact - 1e-9), "whole bags, up");
  STEP(sh, SL_FORCE, Wc, rho * 9.80665 * V, "weight of the concrete in place");
  GIVES(sh, out, concrete, V);
  GIVES(sh, out, ordered, V_ordered);
  GIVES(sh, out, bags_exact, bags_exact);
  GIVES_COUNT(sh, out, bags, n);
  GIVES(sh, out, weight, Wc);
  return SL_OK;
}

enum sl_status sl_hole(const struct sl_hole_in *in, struct sl_hole_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, post_width, SL_LENGTH);
  const struct fact fact = fact_find(practice_facts, COUNT(practice_facts), "room");
  GIVEN(sh, SL_LENGTH, b, in->post_width);
  LOOKUP(sh, SL_LENGTH, room, fact.value * INCH, fact.name, fact.cite, fact.basis);
  STEP(sh, SL_LENGTH, D, sqrt(2) * b + room, GEOMETRY ", diagonal of the post");
  GIVES(sh, out, least, D);
  return SL_OK;
}

enum sl_status sl_uplift(const struct sl_uplift_in *in, struct sl_uplift_out *out, struct sl_sheet *sh) {
  NOT_NEGATIVE(sh, in, wind_uplift, SL_FORCE);
  NOT_NEGATIVE(sh, in, dead, SL_FORCE);
  NOT_NEGATIVE(sh, in, concrete, SL_FORCE);
  NOT_NEGATIVE(sh, in, post, SL_FORCE);
  REQUIRE(sh, in, dead, + in->concrete + in->post > 0, "with concrete and post is no weight at all", SL_FORCE);
  ONE_OF(sh, in, edition, SL_ASCE_7_22);
  const struct combination *c = find_combination(in->edition);
  if (!c) return sl_sheet_fault(sh, SL_NO_ROW, "edition", "has no combination here", "ASCE 7, 2.4.1", in->edition, NAN,
                                SL_NUMBER);
  GIVEN(sh, SL_FORCE, W, in->wind_uplift);
  GIVEN(sh, SL_FORCE, D, in->dead);
  GIVEN(sh, SL_FORCE, Wc, in->concrete);
  GIVEN(sh, SL_FORCE, Wp, in->post);
  LOOKUP(sh, SL_NUMBER, f_D, c->dead, c->name, c->cite, c->basis);
  LOOKUP(sh, SL_NUMBER, f_W, c->wind, c->name, c->cite, c->basis);
  STEP(sh, SL_FORCE, demand, f_W * W, c->cite);
  STEP(sh, SL_FORCE, net, demand - f_D * D, c->cite);
  STEP(sh, SL_FORCE, resistance, f_D * (D + Wc + Wp), c->cite);
  STEP(sh, SL_NUMBER, ratio, demand / resistance, "holds at 1 or less");
  GIVES(sh, out, net, net);
  GIVES(sh, out, demand, demand);
  GIVES(sh, out, resistance, resistance);
  GIVES(sh, out, ratio, ratio);
  return SL_OK;
}

/* ---- out of tables --------------------------------------------------------------------------------------------- */

static const struct section *find_section(const char *name) {
  for (size_t i = 0; i < COUNT(sections); i++)
    if (strcmp(sections[i].section, name) == 0) return &sections[i];
  return NULL;
}

static const struct species *find_species(const char *name) {
  if (!*name) name = "Southern Pine";
  for (size_t i = 0; i < COUNT(all_species); i++)
    if (strcmp(all_species[i].species, name) == 0) return &all_species[i];
  return NULL;
}

enum sl_status sl_lumber(const struct sl_lumber_in *in, struct sl_lumber_out *out, struct sl_sheet *sh) {
  POSITIVE(sh, in, length, SL_LENGTH);
  const struct section *s = find_section(in->section);
  if (!s) return sl_sheet_fault(sh, SL_NO_ROW, "section", "is not in the table of dressed sizes", sections[0].cite, NAN,
                                NAN, SL_NUMBER);
  const struct species *t = find_species(in->species);
  if (!t) return sl_sheet_fault(sh, SL_NO_ROW, "species", "is not in the table of softwoods", all_species[0].cite, NAN,
                                NAN, SL_NUMBER);
  const struct fact water = fact_find(wood_facts, COUNT(wood_facts), "water");
  const struct fact fresh = fact_find(wood_facts, COUNT(wood_facts), "fresh");

  GIVEN(sh, SL_LENGTH, L, in->length);
  LOOKUP(sh, SL_LENGTH, b, s->b * INCH, s->section, s->cite, s->basis);
  LOOKUP(sh, SL_LENGTH, d, s->d * INCH, s->section, s->cite, s->basis);
  LOOKUP(sh, SL_NUMBER, G, t->g, t->species, t->cite, t->basis);
  LOOKUP(sh, SL_DENSITY, rho_w, water.value * PCF, water.name, water.cite, water.basis);
  LOOKUP(sh, SL_DENSITY, rho_fresh, fresh.value * PCF, fresh.name, fresh.cite, fresh.basis);
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
  ONE_OF(sh, in, soil_class, SL_SOIL_CLASSES - 1);
  const struct soil *row = &soils[in->soil_class];
  LOOKUP(sh, SL_SOIL, lateral, row->lateral * (PSF / FOOT), row->name, row->cite, row->basis);
  LOOKUP(sh, SL_PRESSURE, vertical, row->vertical * PSF, row->name, row->cite, row->basis);
  GIVES(sh, out, lateral, lateral);
  GIVES(sh, out, vertical, vertical);
  return SL_OK;
}

size_t sl_augers_need(const struct sl_augers_in *in) {
  (void)in;
  return NEED(0, double, COUNT(augers));
}

enum sl_status sl_augers(const struct sl_augers_in *in, struct sl_augers_out *out, struct sl_space space,
                         struct sl_sheet *sh) {
  ENOUGH(sh, space, sl_augers_need(in));
  double *diameters = PART(&space, double, COUNT(augers));
  size_t n = 0;
  LINES(sh, "augers");
  for (size_t i = 0; i < COUNT(augers); i++) {
    LINE(sh);
    LOOKUP(sh, SL_LENGTH, D, augers[i].inches * INCH, "auger", augers[i].cite, augers[i].basis);
    if (isnan(in->least) || D >= in->least - 1e-9) diameters[n++] = D;
  }
  LINES_END(sh);
  *out = (struct sl_augers_out){ .diameters = diameters, .count = n };
  if (n == 0) return sl_sheet_fault(sh, SL_NO_ANSWER, "least", "is wider than every auger in the table", augers[0].cite,
                                    in->least, augers[COUNT(augers) - 1].inches * INCH, SL_LENGTH);
  return SL_OK;
}
