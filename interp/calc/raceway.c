/* SPDX-License-Identifier: MIT
 * Raceways: what share is filled, how far the bends turn, how deep it lies. */
#include "electrical.h"
#include "stringline/raceway.h"

#define TYPES "NEC 2023 Table 310.4(1)"
#define FILL "NEC Chapter 9 Table 1"
#define TABLE_4 "NEC Chapter 9 Table 4"
#define TABLE_5 "NEC Chapter 9 Table 5"
#define TABLE_8 "NEC Chapter 9 Table 8"
#define COUNT_RULE "NEC Chapter 9 note 7"
#define JAM "NEC Chapter 9 Table 1 note 2"
#define OVAL "handbook practice, not in the NEC"
#define BENDS "NEC 344.26, 352.24(B), 358.26"

static const double INCH = 0.0254, INCH_2 = 0.0254 * 0.0254;

const char *const sl_raceways[] = { [SL_EMT] = "EMT", [SL_RMC] = "RMC", [SL_IMC] = "IMC", [SL_PVC_40] = "PVC 40",
                                    [SL_PVC_80] = "PVC 80", [SL_FMC] = "FMC", [SL_LFMC] = "LFMC",
                                    [SL_LFNC_B] = "LFNC-B", NULL };
const char *const sl_cover_methods[] = { [SL_DIRECT_BURIED] = "direct buried", [SL_RIGID_METAL] = "rigid metal",
                                         [SL_NONMETALLIC] = "PVC", [SL_BURIED_EMT] = "EMT", NULL };

static const struct pipe {
  const char *kind, *trade;
  double id_in, area_in2;
  const char *name, *cite;
  enum sl_basis basis;
} pipes[] = {
#define ROW(kind, trade, id, area, edition, section, basis, source) \
  { kind, trade, id, area, "trade size " trade " " kind, "NEC " edition " " section, basis },
#include "conduit_ch9_t4.inc"
#undef ROW
};
#define ROW(kind, trade, ...) \
  FITS(trade, struct sl_raceway_fill_in, trade_size) FITS(trade, struct sl_raceway_fill_out, least_trade)
#include "conduit_ch9_t4.inc"
#undef ROW
enum { PIPES = sizeof pipes / sizeof *pipes, MOST_GROUPS = 1000000 };

static const struct jacket {
  const char *family, *size;
  double area_in2, od_in;
  const char *name, *cite;
  enum sl_basis basis;
} jackets[] = {
#define ROW(family, size, label, area, od, edition, section, basis, source) \
  { family, size, area, od, label " " family " family", "NEC " edition " " section, basis },
#include "insulation_ch9_t5.inc"
#undef ROW
};
#define ROW(family, size_, ...) \
  FITS(size_, struct sl_group, size)
#include "insulation_ch9_t5.inc"
#undef ROW

static const struct cover {
  const char *words;
  double inches[4];                            /* by enum sl_cover_method; NAN: not allowed there */
  const char *cite[2];                         /* by enum sl_edition */
  enum sl_basis basis;
} covers[] = {
#define ROW(location, words, direct, metal, pvc, emt, edition, basis, source) \
  { words, { direct, metal, pvc, emt }, { "NEC 2020 Table 300.5", "NEC 2023 Table 300.5(A)" }, basis },
#include "burial_cover_300_5.inc"
#undef ROW
};
const char *const sl_cover_locations[] = {
#define ROW(location, ...) location,
#include "burial_cover_300_5.inc"
#undef ROW
  NULL
};

/* Area and diameter of one conductor. */
struct wire { struct sl_entry area, od; };

static enum sl_basis worse(enum sl_basis a, enum sl_basis b) { return a < b ? a : b; }

static bool insulated(const struct sl_insulation_row *type, const char *size, struct wire *wire) {
  for (size_t i = 0; i < sizeof jackets / sizeof *jackets; i++) {
    const struct jacket *j = &jackets[i];
    if (strcmp(j->family, type->family) != 0 || strcmp(j->size, size) != 0) continue;
    const enum sl_basis basis = worse(j->basis, type->family_basis);
    wire->area = (struct sl_entry){ j->area_in2 * INCH_2, j->name, j->cite, basis };
    wire->od = (struct sl_entry){ j->od_in * INCH, j->name, j->cite, basis };
    return true;
  }
  return false;
}

static bool bare(const char *size, int stranding, struct wire *wire) {
  const struct sl_conductor_row *row = sl_conductor_row(size, stranding);
  if (!row) return false;
  wire->area = (struct sl_entry){ row->area_in2 * INCH_2, row->bare, row->cite, row->basis };
  wire->od = (struct sl_entry){ row->od_in * INCH, row->bare, row->cite, row->basis };
  return true;
}

/* What a conductor of group i takes up, by its own insulation or by none. */
static enum sl_status find_wire(const struct sl_raceway_fill_in *in, size_t i, struct wire *wire,
                                struct sl_sheet *sh) {
  const struct sl_group *g = &in->conductors[i];
  REQUIRE_ROW(sh, in, conductors, i, count, >= 1 && g->count <= 1000, "must be 1 to 1000", SL_NUMBER);
  REQUIRE_ROW(sh, in, conductors, i, stranding, >= 0 && g->stranding <= SL_SOLID, "is none of the choices", SL_NUMBER);
  if (g->bare && *g->insulation)
    return sl_sheet_at(sh, i, sl_sheet_fault(sh, SL_BAD_INPUT, "conductors[i].insulation", "is said of a bare "
                                             "conductor", "", NAN, NAN, SL_NUMBER));
  if (!g->bare && g->stranding != SL_STRANDED)
    return sl_sheet_at(sh, i, sl_sheet_fault(sh, SL_BAD_INPUT, "conductors[i].stranding", "tells nothing of an "
                                             "insulated conductor: leave it out", TABLE_5, NAN, NAN, SL_NUMBER));
  if (g->bare) {
    if (bare(g->size, g->stranding, wire)) return SL_OK;
    return sl_sheet_at(sh, i, NO_ROW(sh, "conductors[i].size", "has no row in the table, of that stranding", TABLE_8));
  }
  if (!*g->insulation)
    return sl_sheet_at(sh, i, sl_sheet_fault(sh, SL_BAD_INPUT, "conductors[i].insulation", "is wanted, or that it is "
                                             "bare", "", NAN, NAN, SL_NUMBER));
  const struct sl_insulation_row *type = sl_insulation_row(g->insulation);
  if (!type)
    return sl_sheet_at(sh, i, NO_ROW(sh, "conductors[i].insulation", "is not an insulation type of the table kept here",
                                     TYPES));
  if (insulated(type, g->size, wire)) return SL_OK;
  return sl_sheet_at(sh, i, NO_ROW(sh, "conductors[i].size", "has no row with this insulation", TABLE_5));
}

static bool same(double a, double b) { return fabs(a - b) <= SL_CLOSE * b; }

static const struct pipe *pipe_of(int kind, const char *trade) {
  for (size_t i = 0; i < PIPES; i++)
    if (strcmp(pipes[i].kind, sl_raceways[kind]) == 0 && strcmp(pipes[i].trade, trade) == 0) return &pipes[i];
  return NULL;
}

static struct sl_entry fill_limit(int conductors, bool nipple) {
  if (nipple) return sl_fact("fill_nipple");
  return sl_fact(conductors == 1 ? "fill_one" : conductors == 2 ? "fill_two" : "fill_many");
}

/* Equal conductors of area a that fit by area: a count rounds up only from a decimal of 0.8.  The share allowed depends
 * on the count, so the largest count that its own share allows. */
static int equal_count(double area, double a, bool nipple) {
  const double from = sl_fact("round_up").value;
  for (int least = 3; least >= 1; least--) {
    const double x = fill_limit(least, nipple).value * area / a;
    const double count = floor(x + 1 - from + SL_CLOSE);
    if (count >= least) return least == 3 || nipple ? (int)count : least;
  }
  return 0;
}

static bool fits(double wanted, double limit, double area, const struct wire *equal, int conductors, bool nipple) {
  if (wanted <= limit * area * (1 + SL_CLOSE)) return true;
  return equal && conductors <= equal_count(area, equal->area.value, nipple);
}

enum sl_status sl_raceway_fill(const struct sl_raceway_fill_in *in, struct sl_raceway_fill_out *out,
                               struct sl_sheet *sh) {
  ONE_OF(sh, in, kind, SL_LFNC_B);
  if (in->groups < 1 || in->groups > MOST_GROUPS)
    return sl_sheet_fault(sh, SL_BAD_INPUT, "conductors", "must be 1 to 1000000 groups", "", (double)in->groups, NAN,
                          SL_NUMBER);
  const struct pipe *pipe = pipe_of(in->kind, in->trade_size);
  if (!pipe) return NO_ROW(sh, "trade_size", "is no trade size of this raceway in the table", TABLE_4);
  int conductors = 0;
  bool equal = true;
  struct wire first = { .od = { .value = NAN } };
  double sum = 0;
  LINES(sh, "conductors");
  for (size_t i = 0; i < in->groups; i++) {
    struct wire wire;
    const enum sl_status status = find_wire(in, i, &wire, sh);
    if (status != SL_OK) return status;
    if (i == 0) first = wire;
    equal = equal && same(wire.od.value, first.od.value);
    conductors += in->conductors[i].count;
    LINE(sh);
    WORD(sh, size, in->conductors[i].size);
    if (in->conductors[i].bare) WORD(sh, type, in->conductors[i].stranding == SL_SOLID ? "bare, solid" : "bare");
    else WORD(sh, type, in->conductors[i].insulation);
    GIVEN(sh, SL_NUMBER, n, in->conductors[i].count);
    ENTRY(sh, SL_SECTION, a, wire.area);
    STEP(sh, SL_SECTION, A, n * a, FILL);
    sum += A;
  }
  LINES_END(sh);
  SUM(sh, SL_SECTION, A_sum, sum, A, FILL);
  LOOKUP(sh, SL_SECTION, A_raceway, pipe->area_in2 * INCH_2, pipe->name, pipe->cite, pipe->basis);
  ENTRY(sh, SL_RATIO, f_limit, fill_limit(conductors, in->nipple));
  STEP(sh, SL_RATIO, fill, A_sum / A_raceway, FILL);
  LOOKUP(sh, SL_LENGTH, D_in, pipe->id_in * INCH, pipe->name, pipe->cite, pipe->basis);
  ENTRY(sh, SL_LENGTH, D_out, first.od);
  ENTRY(sh, SL_NUMBER, k_oval, sl_fact("jam_oval"));
  STEP(sh, SL_NUMBER, jam, D_in / D_out, JAM);
  STEP(sh, SL_NUMBER, jam_bent, k_oval * jam, OVAL);

  const struct wire *alike = equal ? &first : NULL;
  const double low = sl_fact("jam_low").value * (1 - SL_CLOSE), high = sl_fact("jam_high").value * (1 + SL_CLOSE);
  *out = (struct sl_raceway_fill_out){ 0 };
  GIVES(sh, out, conductors_area, A_sum);
  GIVES(sh, out, raceway_area, A_raceway);
  GIVES(sh, out, ratio, fill);
  GIVES(sh, out, limit_ratio, f_limit);
  GIVES(sh, out, jam, jam);
  GIVES(sh, out, jam_bent, jam_bent);
  out->most = equal_count(A_raceway, first.area.value, in->nipple);
  out->fits = fits(A_sum, f_limit, A_raceway, alike, conductors, in->nipple);
  out->jams = equal && conductors == 3 && jam >= low && jam <= high;
  out->jams_bent = equal && conductors == 3 && jam_bent >= low && jam_bent <= high;
  for (size_t i = 0; i < PIPES && !*out->least_trade; i++)   /* trade sizes of a kind grow downwards */
    if (strcmp(pipes[i].kind, pipe->kind) == 0 &&
        fits(A_sum, f_limit, pipes[i].area_in2 * INCH_2, alike, conductors, in->nipple))
      strcpy(out->least_trade, pipes[i].trade);
  return SL_OK;
}

enum sl_status sl_bends(const struct sl_bends_in *in, struct sl_bends_out *out, struct sl_sheet *sh) {
  for (size_t i = 0; i < in->bends; i++)
    REQUIRE_ITEM(sh, in, angles, i, > 0 && in->angles[i] < INFINITY, "must be greater than 0", SL_ANGLE);
  struct sl_entry most = sl_fact("bends");
  most.value *= acos(-1) / 180;
  ENTRY(sh, SL_ANGLE, limit, most);
  double all = 0;
  LINES(sh, "bends");
  for (size_t i = 0; i < in->bends; i++) {
    LINE(sh);
    GIVEN(sh, SL_ANGLE, bend, in->angles[i]);
    all += bend;
  }
  LINES_END(sh);
  SUM(sh, SL_ANGLE, total, all, bend, BENDS);
  GIVES(sh, out, total, total);
  GIVES(sh, out, limit, limit);
  return SL_OK;
}

static struct sl_entry fact_in_inches(const char *id) {
  struct sl_entry entry = sl_fact(id);
  entry.value *= INCH;
  return entry;
}

enum sl_status sl_cover(const struct sl_cover_in *in, struct sl_cover_out *out, struct sl_sheet *sh) {
  ONE_OF(sh, in, method, SL_BURIED_EMT);
  ONE_OF(sh, in, location, (int)(sizeof covers / sizeof *covers) - 1);
  ONE_OF(sh, in, edition, SL_NEC_2023);
  const struct cover *row = &covers[in->location];
  const char *cite = row->cite[in->edition];
  if (in->method == SL_BURIED_EMT && in->edition == SL_NEC_2020)
    return NO_ROW(sh, "method", "EMT has no column in this edition's table", cite);
  if (isnan(row->inches[in->method]))
    return NO_ROW(sh, "location", "allows no direct-buried cable: it must be in a raceway", "NEC 300.5(C)");
  LOOKUP(sh, SL_LENGTH, cover, row->inches[in->method] * INCH, row->words, cite, row->basis);
  ENTRY(sh, SL_LENGTH, tape, fact_in_inches("tape_above"));
  GIVES(sh, out, least, cover);
  GIVES(sh, out, tape, tape);
  return SL_OK;
}
