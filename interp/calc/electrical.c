/* SPDX-License-Identifier: MIT
 * The tables that more than one electrical primitive reads. */
#include "electrical.h"

const char *const sl_editions[] = { [SL_NEC_2020] = "NEC 2020", [SL_NEC_2023] = "NEC 2023", NULL };
const char *const sl_buildings[] = { [SL_DWELLING] = "dwelling", [SL_OTHER_BUILDING] = "other building", NULL };
const char *const sl_materials[] = { [SL_COPPER] = "copper", [SL_ALUMINUM] = "aluminum", NULL };
const char *const sl_strandings[] = { [SL_STRANDED] = "stranded", [SL_SOLID] = "solid", NULL };
const char *const sl_terminals[] = { [SL_60_C] = "60 C", [SL_75_C] = "75 C", [SL_90_C] = "90 C", NULL };
const char *const sl_devices[] = { [SL_BREAKER] = "breaker", [SL_FUSE] = "fuse", NULL };

static const struct fact { const char *id; struct sl_entry entry; } facts[] = {
#define ROW(id, value, name, cite, basis, source) { id, { value, name, cite, basis } },
#include "electrical_facts.inc"
#undef ROW
};

static const struct sl_conductor_row conductors[] = {
#define ROW(size, label, cmil, stranding, od, area, cu, al, edition, section, basis, source) \
  { size, stranding, cmil, od, area, { cu, al }, { label " copper, " stranding, label " aluminum, " stranding }, \
    label " bare, " stranding, "NEC " edition " " section, basis },
#include "conductor_properties_ch9_t8.inc"
#undef ROW
};
#define ROW(size_, ...) \
  FITS(size_, struct sl_conductor_in, size) FITS(size_, struct sl_voltage_drop_in, size) \
  FITS(size_, struct sl_grounding_enlarged_in, least_size) FITS(size_, struct sl_grounding_enlarged_in, size) \
  FITS(size_, struct sl_grounding_enlarged_out, size)
#include "conductor_properties_ch9_t8.inc"
#undef ROW

static const struct sl_ampacity_row ampacities[] = {
#define ROW(material, size, label, a60, a75, a90, edition, section, basis, source) \
  { material, size, { a60, a75, a90 }, \
    { label " " material ", 60 C column", label " " material ", 75 C column", label " " material ", 90 C column" }, \
    "NEC " edition " " section, basis },
#include "ampacity_310_16.inc"
#undef ROW
};
#define ROW(material, size_, ...) FITS(size_, struct sl_ampacity_in, size) FITS(size_, struct sl_overcurrent_in, size)
#include "ampacity_310_16.inc"
#undef ROW

static const struct sl_insulation_row insulations[] = {
#define ROW(type, wet, dry, volts, family, family_basis, edition, section, basis, source) \
  { type, wet, dry, volts, family, type " in wet places", type " in dry places", "NEC " edition " " section, \
    family_basis, basis },
#include "insulation_types.inc"
#undef ROW
};
#define ROW(type_, ...) FITS(type_, struct sl_insulation_in, type) FITS(type_, struct sl_ampacity_in, insulation)
#include "insulation_types.inc"
#undef ROW

static const struct rating {
  double amps;
  const char *kind;
  int first, last;
  const char *cite;
  enum sl_basis basis;
} ratings[] = {
#define ROW(amps, kind, first, last, edition, section, basis, source) \
  { amps, kind, first, last, "NEC " edition " " section, basis },
#include "ocpd_240_6.inc"
#undef ROW
};

#define EACH(row, table) (size_t i = 0; i < sizeof table / sizeof *table && ((row) = &table[i], 1); i++)

struct sl_entry sl_fact(const char *id) {
  const struct fact *f;
  for EACH(f, facts)
    if (strcmp(f->id, id) == 0) return f->entry;
  return (struct sl_entry){ NAN, id, "", SL_MEMORY };
}

double sl_kelvin(double celsius) { return celsius + 273.15; }

struct sl_entry sl_fact_kelvin(const char *id) {
  struct sl_entry entry = sl_fact(id);
  entry.value = sl_kelvin(entry.value);
  return entry;
}

const struct sl_conductor_row *sl_conductor_row(const char *size, int stranding) {
  const struct sl_conductor_row *r;
  for EACH(r, conductors)
    if (strcmp(r->size, size) == 0 && strcmp(r->stranding, sl_strandings[stranding]) == 0) return r;
  return NULL;
}

const struct sl_conductor_row *sl_conductor_above(double cmil) {
  const struct sl_conductor_row *r;
  for EACH(r, conductors)   /* the table grows downwards */
    if (r->cmil >= cmil * (1 - SL_CLOSE) && strcmp(r->stranding, "stranded") == 0) return r;
  return NULL;
}

const struct sl_ampacity_row *sl_ampacity_row(int material, const char *size) {
  const struct sl_ampacity_row *r;
  for EACH(r, ampacities)
    if (strcmp(r->material, sl_materials[material]) == 0 && strcmp(r->size, size) == 0) return r;
  return NULL;
}

const struct sl_insulation_row *sl_insulation_row(const char *type) {
  const struct sl_insulation_row *r;
  for EACH(r, insulations)
    if (strcmp(r->type, type) == 0) return r;
  return NULL;
}

struct sl_entry sl_next_rating(double amps, int device, int edition) {
  const int year = edition == SL_NEC_2020 ? 2020 : 2023;
  const struct rating *r;
  for EACH(r, ratings) {
    const bool made = device == SL_FUSE || strcmp(r->kind, "both") == 0;
    if (made && r->first <= year && year <= r->last && r->amps >= amps * (1 - SL_CLOSE))
      return (struct sl_entry){ r->amps, "next standard rating", r->cite, r->basis };
  }
  return (struct sl_entry){ NAN, "", "", SL_MEMORY };
}
