/* SPDX-License-Identifier: MIT
 * Raceways: what share is filled, how far the bends turn, how deep it lies. */
#include "electrical.h"
#include "stringline/raceway.h"

#define FILL "@fill"
#define TABLE_4 "@table_4"
#define TABLE_5 "@table_5"

const char *const sl_raceways[] = { [SL_EMT] = "EMT", [SL_RMC] = "RMC", [SL_IMC] = "IMC", [SL_PVC_40] = "PVC 40",
                                    [SL_PVC_80] = "PVC 80", [SL_FMC] = "FMC", [SL_LFMC] = "LFMC",
                                    [SL_LFNC_B] = "LFNC-B", NULL };

FITS_COLUMN(conduit_ch9_t4, trade_size, struct sl_raceway_fill_in, trade_size)
FITS_COLUMN(conduit_ch9_t4, trade_size, struct sl_raceway_fill_out, least_trade)
FITS_COLUMN(insulation_ch9_t5, size, struct sl_group, size)
FITS_COLUMN(conductor_properties_ch9_t8, size, struct sl_group, size)
FITS_COLUMN(insulation_types, type, struct sl_group, insulation)
FITS_COLUMN(burial_methods, buried, struct sl_cover_in, method)
FITS_COLUMN(burial_cover_300_5, location, struct sl_cover_in, location)

enum { MOST_GROUPS = 1000000 };

/* Area and diameter of one conductor. */
struct wire { double area, od; const char *label, *name, *cite; enum sl_basis basis; };

static enum sl_basis worse(enum sl_basis a, enum sl_basis b) { return a < b ? a : b; }

static bool insulated(const char *type, const char *size, int edition, struct wire *wire) {
  FIND(family, insulation_families, STANDS(family, edition) && sl_same_text(family->type, type));
  if (!family) return false;
  FIND(row, insulation_ch9_t5, STANDS(row, edition) && sl_same_text(row->family, family->family) &&
       sl_same_text(row->size, size));
  if (!row) return false;
  *wire = (struct wire){ row->area, row->od, row->label, row->name, row->cite,
                         worse(sl_known_as(row->known, edition), sl_known_as(family->known, edition)) };
  return true;
}

static bool bare(const char *size, int stranding, int edition, struct wire *wire) {
  const struct sl_table_conductor_properties_ch9_t8 *row = sl_conductor_row(size, stranding, edition);
  if (!row) return false;
  *wire = (struct wire){ row->area, row->od, row->label, row->name_bare, row->cite,
                         sl_known_as(row->known, edition) };
  return true;
}

/* What a conductor of group i takes up, by its own insulation or by none. */
static enum sl_status find_wire(const struct sl_raceway_fill_in *in, size_t i, int edition, struct wire *wire,
                                struct sl_sheet *sh) {
  const struct sl_group *g = &in->conductors[i];
  REQUIRE_ROW(sh, in, conductors, i, count, >= 1 && g->count <= 1000, "must be 1 to 1000", SL_NUMBER);
  REQUIRE_ROW(sh, in, conductors, i, stranding, >= 0 && g->stranding <= SL_SOLID, "is none of the choices", SL_NUMBER);
  if (g->bare && *g->insulation)
    return sl_sheet_at(sh, i, sl_sheet_fault(sh, SL_BAD_INPUT, "conductors[i].insulation",
                                             "is said of a bare conductor", "", NAN, NAN, SL_NUMBER));
  if (!g->bare && g->stranding != SL_STRANDED)
    return sl_sheet_at(sh, i, sl_sheet_fault(sh, SL_BAD_INPUT, "conductors[i].stranding", "tells nothing of an "
                                             "insulated conductor: leave it out", TABLE_5, NAN, NAN, SL_NUMBER));
  if (g->bare) {
    if (bare(g->size, g->stranding, edition, wire)) return SL_OK;
    return sl_sheet_at(sh, i,
                       NO_ROW(sh, "conductors[i].size", "has no row in the table, of that stranding", "@table_8"));
  }
  if (!*g->insulation)
    return sl_sheet_at(sh, i, sl_sheet_fault(sh, SL_BAD_INPUT, "conductors[i].insulation", "is wanted, or that it is "
                                             "bare", "", NAN, NAN, SL_NUMBER));
  if (!sl_insulation_row(g->insulation, edition))
    return sl_sheet_at(sh, i, NO_ROW(sh, "conductors[i].insulation", "is not an insulation type of the table kept here",
                                     "@insulation_types"));
  if (insulated(g->insulation, g->size, edition, wire)) return SL_OK;
  return sl_sheet_at(sh, i, NO_ROW(sh, "conductors[i].size", "has no row with this insulation", TABLE_5));
}

static bool same(double a, double b) { return fabs(a - b) <= SL_CLOSE * b; }

static const char *fill_limit(int conductors, bool nipple) {
  return nipple ? "fill_nipple" : conductors == 1 ? "fill_one" : conductors == 2 ? "fill_two" : "fill_many";
}
/* Of a fact that a primitive has found to stand. */
static double fact(const char *key, int edition) { return sl_fact_in(key, edition)->value; }

/* Equal conductors of area a that fit by area: a count rounds up only from a decimal of 0.8.  The share allowed depends
 * on the count, so the largest count that its own share allows. */
static int equal_count(double area, double a, bool nipple, int edition) {
  const double from = fact("round_up", edition);
  for (int least = 3; least >= 1; least--) {
    const double x = fact(fill_limit(least, nipple), edition) * area / a;
    const double count = floor(x + 1 - from + SL_CLOSE);
    if (count >= least) return least == 3 || nipple ? (int)count : least;
  }
  return 0;
}

static bool fits(double wanted, double limit, double area, const struct wire *equal, int conductors, bool nipple,
                 int edition) {
  if (wanted <= limit * area * (1 + SL_CLOSE)) return true;
  return equal && conductors <= equal_count(area, equal->area, nipple, edition);
}

/* All facts that a fill may ask. */
static bool facts_stand(int edition) {
  static const char *const keys[] = { "fill_nipple", "fill_one", "fill_two", "fill_many", "round_up", "jam_low",
                                      "jam_high", "jam_oval" };
  for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
    if (!sl_fact_in(keys[i], edition)) return false;
  return true;
}

enum sl_status sl_raceway_fill(const struct sl_raceway_fill_in *in, struct sl_raceway_fill_out *out,
                               struct sl_sheet *sh) {
  ONE_OF(sh, in, kind, SL_LFNC_B);
  if (in->groups < 1 || in->groups > MOST_GROUPS)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "conductors", "must be 1 to 1000000 groups", "", (double)in->groups, NAN,
                          SL_NUMBER);
  NEC(sh, in);
  FIND(pipe, conduit_ch9_t4, STANDS(pipe, edition) && sl_same_text(pipe->kind, sl_raceways[in->kind]) &&
       sl_same_text(pipe->trade_size, in->trade_size));
  if (!facts_stand(edition)) return NO_ROW(sh, "edition", "has no limits of fill kept here", FILL);
  if (!pipe) return NO_ROW(sh, "trade_size", "is no trade size of this raceway in the table", TABLE_4);
  int conductors = 0;
  bool equal = true;
  struct wire first = { .od = NAN };
  double sum = 0;
  LINES(sh, "conductors");
  for (size_t i = 0; i < in->groups; i++) {
    struct wire wire;
    const enum sl_status status = find_wire(in, i, edition, &wire, sh);
    if (status != SL_OK) return status;
    if (i == 0) first = wire;
    equal = equal && same(wire.od, first.od);
    conductors += in->conductors[i].count;
    LINE(sh);
    WORD_AS(sh, size, in->conductors[i].size, wire.label);
    if (in->conductors[i].bare) WORD(sh, type, in->conductors[i].stranding == SL_SOLID ? "bare, solid" : "bare");
    else WORD(sh, type, in->conductors[i].insulation);
    GIVEN(sh, SL_NUMBER, n, in->conductors[i].count);
    LOOKUP(sh, SL_SECTION, a, wire.area, wire.name, wire.cite, wire.basis);
    STEP(sh, SL_SECTION, A, n * a, FILL);
    sum += A;
  }
  LINES_END(sh);
  SUM(sh, SL_SECTION, A_sum, sum, A, FILL);
  FROM(sh, SL_SECTION, A_raceway, pipe, area, pipe->name, edition);
  FACT_OF(sh, SL_RATIO, f_limit, fill_limit(conductors, in->nipple), edition);
  STEP(sh, SL_RATIO, fill, A_sum / A_raceway, FILL);
  FROM(sh, SL_LENGTH, D_in, pipe, diameter, pipe->name, edition);
  LOOKUP(sh, SL_LENGTH, D_out, first.od, first.name, first.cite, first.basis);
  FACT(sh, SL_NUMBER, k_oval, "jam_oval", edition);
  STEP(sh, SL_NUMBER, jam, D_in / D_out, "@jam");
  STEP(sh, SL_NUMBER, jam_bent, k_oval * jam, fact_k_oval->cite);

  const struct wire *alike = equal ? &first : NULL;
  const double low = fact("jam_low", edition) * (1 - SL_CLOSE), high = fact("jam_high", edition) * (1 + SL_CLOSE);
  *out = (struct sl_raceway_fill_out){ 0 };
  GIVES(sh, out, conductors_area, A_sum);
  GIVES(sh, out, raceway_area, A_raceway);
  GIVES(sh, out, ratio, fill);
  GIVES(sh, out, limit_ratio, f_limit);
  GIVES(sh, out, jam, jam);
  GIVES(sh, out, jam_bent, jam_bent);
  out->most = equal_count(A_raceway, first.area, in->nipple, edition);
  out->fits = fits(A_sum, f_limit, A_raceway, alike, conductors, in->nipple, edition);
  out->jams = equal && conductors == 3 && jam >= low && jam <= high;
  out->jams_bent = equal && conductors == 3 && jam_bent >= low && jam_bent <= high;
  FIND(least, conduit_ch9_t4, STANDS(least, edition) && sl_same_text(least->kind, pipe->kind) &&
       fits(A_sum, f_limit, least->area, alike, conductors, in->nipple, edition));   /* a kind grows downwards */
  if (least) strcpy(out->least_trade, least->trade_size);
  return SL_OK;
}

enum sl_status sl_bends(const struct sl_bends_in *in, struct sl_bends_out *out, struct sl_sheet *sh) {
  for (size_t i = 0; i < in->bends; i++)
    REQUIRE_ITEM(sh, in, angles, i, > 0 && in->angles[i] < INFINITY, "must be greater than 0", SL_ANGLE);
  NEC(sh, in);
  FACT(sh, SL_ANGLE, limit, "bends", edition);
  double all = 0;
  LINES(sh, "bends");
  for (size_t i = 0; i < in->bends; i++) {
    LINE(sh);
    GIVEN(sh, SL_ANGLE, bend, in->angles[i]);
    all += bend;
  }
  LINES_END(sh);
  SUM(sh, SL_ANGLE, total, all, bend, "@bends");
  GIVES(sh, out, total, total);
  GIVES(sh, out, limit, limit);
  return SL_OK;
}

enum sl_status sl_cover(const struct sl_cover_in *in, struct sl_cover_out *out, struct sl_sheet *sh) {
  NEC(sh, in);
  FIND(buried, burial_methods, STANDS(buried, edition) && sl_same_text(buried->buried, in->method));
  if (!buried) return NO_ROW(sh, "method", "has no column in the table of this edition that is kept here", "@cover");
  FIND(place, burial_cover_300_5, STANDS(place, edition) && sl_same_text(place->location, in->location));
  if (!place) return NO_ROW(sh, "location", "is no row of the table", "@cover");
  FIND(row, burial_cover_300_5, STANDS(row, edition) && sl_same_text(row->location, in->location) &&
       sl_same_text(row->method, buried->method));
  if (!row)
    return NO_ROW(sh, "location", "allows no direct-buried cable: it must be in a raceway", "@raceway_in_building");
  FROM(sh, SL_LENGTH, cover, row, cover, row->words, edition);
  GIVES(sh, out, least, cover);
  return SL_OK;
}

enum sl_status sl_ribbon(const struct sl_ribbon_in *in, struct sl_ribbon_out *out, struct sl_sheet *sh) {
  NEC(sh, in);
  FACT(sh, SL_LENGTH, above, "tape_above", edition);
  GIVES(sh, out, least, above);
  return SL_OK;
}
