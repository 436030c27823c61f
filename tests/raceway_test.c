/* SPDX-License-Identifier: MIT
 * Raceways: counts of the code's Annex C, geometry of the printed tables, bends, cover, laws, refusals. */
#include <assert.h>
#include "op_check.h"
#include "stringline/raceway.h"
#include "stringline/strings.h"
#include "us.h"

/* The egg farm's run: two 6 AWG and a 10 AWG grounding conductor in 1 in PVC. */
static const struct sl_group farm_wires[] = { { .size = "6", .count = 2, .insulation = "THWN-2" },
                                              { .size = "10", .count = 1, .insulation = "THWN-2" } };
static const struct sl_raceway_fill_in farm = { .kind = SL_PVC_40, .trade_size = "1", .conductors = farm_wires,
                                                .groups = 2 };
static const double quarters[] = { 90 * DEGREE, 90 * DEGREE };
static const struct sl_bends_in two = { .angles = quarters, .bends = 2 };
static const struct sl_cover_in trench = { .method = SL_NONMETALLIC, .location = 0, .edition = SL_NEC_2023 };

/* NEC Annex C, equal conductors of type THHN or THWN: EMT cells from memory of Table C.1; PVC from a published
 * answer. */
static const struct annex { const char *name; int kind; const char *trade, *size; int most; } annexes[] = {
  { "Annex C, EMT 1/2: 12 of 14 AWG", SL_EMT, "1/2", "14", 12 },
  { "Annex C, EMT 1/2: 9 of 12 AWG", SL_EMT, "1/2", "12", 9 },
  { "Annex C, EMT 1/2: 5 of 10 AWG", SL_EMT, "1/2", "10", 5 },
  { "Annex C, EMT 3/4: 22 of 14 AWG", SL_EMT, "3/4", "14", 22 },
  { "Annex C, EMT 3/4: 16 of 12 AWG", SL_EMT, "3/4", "12", 16 },
  { "Annex C, EMT 3/4: 10 of 10 AWG", SL_EMT, "3/4", "10", 10 },
  { "Annex C, EMT 1: 26 of 12 AWG", SL_EMT, "1", "12", 26 },
  { "Annex C, EMT 1: 16 of 10 AWG", SL_EMT, "1", "10", 16 },
  { "Annex C, EMT 1/2: 1 of 4 AWG", SL_EMT, "1/2", "4", 1 },
  { "Annex C, EMT 2: 3 of 250 kcmil", SL_EMT, "2", "250", 3 },
  { "Annex C, PVC 40 1: 15 of 10 AWG", SL_PVC_40, "1", "10", 15 },
};

static void annex_matches(void **state) {
  const struct annex *r = *state;
  struct sl_group wires = { .insulation = "THHN", .count = r->most };
  struct sl_raceway_fill_in in = { .kind = r->kind, .conductors = &wires, .groups = 1 };
  struct sl_raceway_fill_out out;
  strcpy(in.trade_size, r->trade);
  strcpy(wires.size, r->size);
  assert_int_equal(sl_raceway_fill(&in, &out, NULL), SL_OK);
  assert_int_equal(out.most, r->most);
  assert_int_equal(out.fits, 1);   /* also where the count rounded up and the share is a little above the limit */
  if (r->most > 1) {               /* the same conductors in two groups are no others */
    struct sl_group split[2] = { wires, wires };
    split[0].count = 1;
    split[1].count = r->most - 1;
    struct sl_raceway_fill_in again = in;
    struct sl_raceway_fill_out same;
    again.conductors = split;
    again.groups = 2;
    assert_int_equal(sl_raceway_fill(&again, &same, NULL), SL_OK);
    assert_int_equal(same.fits, 1);
    assert_int_equal(same.most, out.most);
    assert_near(same.ratio, out.ratio, 1e-12);
  }
  wires.count++;
  assert_int_equal(sl_raceway_fill(&in, &out, NULL), SL_OK);
  assert_int_equal(out.fits, 0);
}

/* By hand from Tables 4 and 5: (2 x 0.0507 + 0.0211) / 0.832 = 14.72 %, under 40 %; 1/2 in has 0.285: 42.98 %. */
static void farm_by_hand(void **state) {
  (void)state;
  struct sl_raceway_fill_out out;
  assert_int_equal(sl_raceway_fill(&farm, &out, NULL), SL_OK);
  assert_near(out.conductors_area / (IN * IN), 0.1225, 1e-9);
  assert_near(out.ratio, 0.1225 / 0.832, 1e-9);
  assert_near(out.limit_ratio, 0.40, 1e-12);
  assert_int_equal(out.fits, 1);
  assert_string_equal(out.least_trade, "3/4");
}

/* Table 1: 53 % for one, 31 % for two, 40 % from three on; note 4: 60 % in a nipple. */
static void limit_is_by_count(void **state) {
  (void)state;
  struct sl_group wires = { .size = "6", .insulation = "THWN-2" };
  struct sl_raceway_fill_in in = { .kind = SL_PVC_40, .trade_size = "2", .conductors = &wires, .groups = 1 };
  struct sl_raceway_fill_out out;
  static const double limits[] = { 0.53, 0.31, 0.40, 0.40 };
  for (int i = 0; i < 4; i++) {
    wires.count = i + 1;
    assert_int_equal(sl_raceway_fill(&in, &out, NULL), SL_OK);
    assert_near(out.limit_ratio, limits[i], 1e-12);
  }
  in.nipple = true;
  assert_int_equal(sl_raceway_fill(&in, &out, NULL), SL_OK);
  assert_near(out.limit_ratio, 0.60, 1e-12);
}

/* Table 8: a bare 10 AWG of 7 strands fills 0.011 in2, a solid one 0.008, less than the 0.0211 of an insulated one. */
static void bare_ground_fills_less(void **state) {
  (void)state;
  struct sl_group wires[] = { farm_wires[0], { .size = "10", .count = 1, .bare = true } };
  struct sl_raceway_fill_in in = farm;
  struct sl_raceway_fill_out out;
  in.conductors = wires;
  assert_int_equal(sl_raceway_fill(&in, &out, NULL), SL_OK);
  assert_near(out.conductors_area / (IN * IN), 2 * 0.0507 + 0.011, 1e-9);
  wires[1].stranding = SL_SOLID;
  assert_int_equal(sl_raceway_fill(&in, &out, NULL), SL_OK);
  assert_near(out.conductors_area / (IN * IN), 2 * 0.0507 + 0.008, 1e-9);
}

/* By hand from Tables 4, 5 and 8: two 4 AWG XHHW-2 (0.0814), three 10 AWG THWN-2 (0.0211), two 8 AWG USE-2 (0.0556, as
 * RHW-2 without outer covering), one bare 8 AWG of 7 strands (0.017): 0.3543 in2.  EMT 1 has 0.864, 40 % is 0.3456:
 * too much; 1-1/4 has 1.496. */
static void each_group_has_its_own_insulation(void **state) {
  (void)state;
  const struct sl_group wires[] = {
    { .size = "4", .count = 2, .insulation = "XHHW-2" }, { .size = "10", .count = 3, .insulation = "THWN-2" },
    { .size = "8", .count = 2, .insulation = "USE-2" }, { .size = "8", .count = 1, .bare = true },
  };
  const struct sl_raceway_fill_in in = { .kind = SL_EMT, .trade_size = "1", .conductors = wires, .groups = 4 };
  struct sl_raceway_fill_out out;
  SHEET(sheet);
  assert_int_equal(sl_raceway_fill(&in, &out, &sheet), SL_OK);
  check_sheet(&sheet);
  assert_near(out.conductors_area / (IN * IN), 0.3543, 1e-9);
  assert_int_equal(out.fits, 0);
  assert_int_equal(out.jams, 0);
  assert_string_equal(out.least_trade, "1-1/4");
  size_t lines = 0;
  for (size_t i = 0; i < sheet.n; i++) lines += sheet.row[i].kind == SL_ROW_LINE;
  assert_int_equal(lines, 4);
  assert_true(sheet.rests & 1u << SL_MEMORY);    /* USE-2's size, and no other's */
}

/* Forty groups: the sum is the sum, and the sheet has a line for each. */
static void any_number_of_groups(void **state) {
  (void)state;
  static const char *const types[] = { "THHN", "XHHW-2", "RHW-2", "THW" };
  static const double areas[] = { 0.0133, 0.0181, 0.0353, 0.0181 };      /* Table 5, 12 AWG */
  struct sl_group wires[40];
  double sum = 0;
  for (int i = 0; i < 40; i++) {
    wires[i] = (struct sl_group){ .size = "12", .count = 1 + i % 3 };
    strcpy(wires[i].insulation, types[i % 4]);
    sum += (1 + i % 3) * areas[i % 4];
  }
  const struct sl_raceway_fill_in in = { .kind = SL_RMC, .trade_size = "4", .conductors = wires, .groups = 40 };
  struct sl_raceway_fill_out out;
  SHEET(sheet);
  assert_int_equal(sl_raceway_fill(&in, &out, &sheet), SL_OK);
  check_sheet(&sheet);
  assert_near(out.conductors_area / (IN * IN), sum, 1e-9);
}

/* The printed areas are those of the printed diameters, pi/4 d2, to the last digit printed: geometry, not our
 * numbers. */
static void areas_are_of_the_diameters(void **state) {
  (void)state;
  static const char *const trades[] = { "1/2", "3/4", "1", "1-1/4", "1-1/2", "2", "2-1/2", "3", "3-1/2", "4" };
  static const struct { const char *type; double od; } outside[] = {   /* Table 5, diameters of 6 AWG */
    { "THHN", 0.254 }, { "XHHW-2", 0.274 }, { "USE-2", 0.304 }, { "RHW-2", 0.364 }, { "THW", 0.304 },
  };
  for (int kind = SL_EMT; kind <= SL_LFNC_B; kind++)
    for (size_t t = 0; t < sizeof trades / sizeof *trades; t++)
      for (size_t i = 0; i < sizeof outside / sizeof *outside; i++) {
        struct sl_group wire = { .size = "6", .count = 1 };
        struct sl_raceway_fill_in in = { .kind = kind, .conductors = &wire, .groups = 1 };
        struct sl_raceway_fill_out out;
        strcpy(in.trade_size, trades[t]);
        strcpy(wire.insulation, outside[i].type);
        const enum sl_status status = sl_raceway_fill(&in, &out, NULL);
        if (status == SL_NO_ROW && kind >= SL_LFMC && t > 5) continue;   /* those end at 2 in */
        assert_int_equal(status, SL_OK);
        const double inside = out.jam * outside[i].od;
        assert_near(out.raceway_area / (IN * IN), acos(-1) / 4 * inside * inside, 3e-3);
        assert_near(out.conductors_area / (IN * IN), acos(-1) / 4 * outside[i].od * outside[i].od, 3e-3);
      }
}

static void jam_needs_three_equal(void **state) {
  (void)state;
  struct sl_group wires[] = { { .size = "3", .count = 3, .insulation = "THHN" },
                              { .size = "3", .count = 1, .insulation = "THHN" } };
  struct sl_raceway_fill_in in = { .kind = SL_EMT, .trade_size = "1", .conductors = wires, .groups = 1 };
  struct sl_raceway_fill_out out;
  assert_int_equal(sl_raceway_fill(&in, &out, NULL), SL_OK);   /* 1.049 / 0.352 = 2.98, in 2.8 to 3.2 */
  assert_near(out.jam, 1.049 / 0.352, 1e-9);
  assert_int_equal(out.jams, 1);
  wires[0].count = 2;
  assert_int_equal(sl_raceway_fill(&in, &out, NULL), SL_OK);
  assert_int_equal(out.jams, 0);
  in.groups = 2;
  assert_int_equal(sl_raceway_fill(&in, &out, NULL), SL_OK);   /* a third of the same size, insulated */
  assert_int_equal(out.jams, 1);
  strcpy(wires[1].insulation, "XHHW-2");                       /* 0.350 against 0.352: not equal */
  assert_int_equal(sl_raceway_fill(&in, &out, NULL), SL_OK);
  assert_int_equal(out.jams, 0);
  wires[1] = (struct sl_group){ .size = "3", .count = 1, .bare = true };
  assert_int_equal(sl_raceway_fill(&in, &out, NULL), SL_OK);
  assert_int_equal(out.jams, 0);
}

/* USE-2 has no row of its own in Table 5, PV wire none at all: a sheet that rests on such sizes must say so. */
static void sizes_from_memory_say_so(void **state) {
  (void)state;
  static const struct { const char *type; enum sl_basis basis; } types[] = {
    { "THWN-2", SL_READ }, { "USE-2", SL_MEMORY }, { "PV wire", SL_MEMORY },
  };
  for (size_t i = 0; i < sizeof types / sizeof *types; i++) {
    struct sl_group wires = farm_wires[0];
    struct sl_raceway_fill_in in = farm;
    struct sl_raceway_fill_out out;
    SHEET(sheet);
    strcpy(wires.insulation, types[i].type);
    in.conductors = &wires;
    in.groups = 1;
    assert_int_equal(sl_raceway_fill(&in, &out, &sheet), SL_OK);
    for (size_t r = 0; r < sheet.n; r++)
      if (strcmp(sheet.row[r].symbol, "a") == 0) assert_int_equal(sheet.row[r].basis, types[i].basis);
  }
}

static void none_of_this_kind_fits(void **state) {
  (void)state;
  const struct sl_group wires = { .size = "500", .count = 3, .insulation = "THHN" };
  const struct sl_raceway_fill_in in = { .kind = SL_LFMC, .trade_size = "2", .conductors = &wires, .groups = 1 };
  struct sl_raceway_fill_out out;
  assert_int_equal(sl_raceway_fill(&in, &out, NULL), SL_OK);
  assert_int_equal(out.fits, 0);
  assert_string_equal(out.least_trade, "");
}

static const struct bad {
  const char *name, *trade;
  struct sl_group second;                        /* behind a good one */
  enum sl_status status;
  const char *member;
  size_t item;
} bads[] = {
  { "no trade size 5/8", "5/8", { "10", 1, "THWN-2", false, 0 }, SL_NO_ROW, "trade_size", 0 },
  { "a trade size with its unit", "1 in", { "10", 1, "THWN-2", false, 0 }, SL_NO_ROW, "trade_size", 0 },
  { "no such insulation", "1", { "10", 1, "THWN-3", false, 0 }, SL_NO_ROW, "conductors[i].insulation", 2 },
  { "THW above 6 AWG is not kept", "1", { "4", 1, "THW", false, 0 }, SL_NO_ROW, "conductors[i].size", 2 },
  { "no conductors", "1", { "10", 0, "THWN-2", false, 0 }, SL_BAD_INPUT, "conductors[i].count", 2 },
  { "less than none", "1", { "10", -1, "THWN-2", false, 0 }, SL_BAD_INPUT, "conductors[i].count", 2 },
  { "neither insulated nor bare", "1", { "10", 1, "", false, 0 }, SL_BAD_INPUT, "conductors[i].insulation", 2 },
  { "bare with an insulation", "1", { "10", 1, "THWN-2", true, 0 }, SL_BAD_INPUT, "conductors[i].insulation", 2 },
  { "an insulated one said to be solid", "1", { "10", 1, "THWN-2", false, SL_SOLID }, SL_BAD_INPUT,
    "conductors[i].stranding", 2 },
  { "no bare conductor of that size", "1", { "5", 1, "", true, 0 }, SL_NO_ROW, "conductors[i].size", 2 },
  { "no solid one of that size", "1", { "250", 1, "", true, SL_SOLID }, SL_NO_ROW, "conductors[i].size", 2 },
};

static void refuses(void **state) {
  const struct bad *r = *state;
  struct sl_group wires[] = { farm_wires[0], r->second };
  struct sl_raceway_fill_in in = farm;
  struct sl_raceway_fill_out out;
  struct sl_sheet sheet = { .cap = 0 };
  strcpy(in.trade_size, r->trade);
  in.conductors = wires;
  assert_int_equal(sl_raceway_fill(&in, &out, &sheet), r->status);
  assert_string_equal(sheet.fault.member, r->member);
  assert_int_equal(sheet.fault.item, r->item);
  in.groups = 0;
  assert_int_equal(sl_raceway_fill(&in, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "conductors");
}

static void larger_raceway_fills_less(void **state) {
  (void)state;
  static const char *const trades[] = { "1/2", "3/4", "1", "1-1/4", "1-1/2", "2", "2-1/2", "3", "3-1/2", "4" };
  for (int kind = SL_EMT; kind <= SL_FMC; kind++) {
    double before = 10;
    int most = 0;
    for (size_t t = 0; t < sizeof trades / sizeof *trades; t++) {
      struct sl_raceway_fill_in in = farm;
      struct sl_raceway_fill_out out;
      in.kind = kind;
      strcpy(in.trade_size, trades[t]);
      assert_int_equal(sl_raceway_fill(&in, &out, NULL), SL_OK);
      assert_true(out.ratio < before && out.most > most);
      before = out.ratio;
      most = out.most;
    }
  }
}

/* 344.26, 352.24(B), 358.26: 360 degrees between pull points. */
static void bends_add_up(void **state) {
  (void)state;
  double angles[40] = { 90 * DEGREE, 45 * DEGREE, 45 * DEGREE, 90 * DEGREE, 90 * DEGREE };
  struct sl_bends_in in = { .angles = angles, .bends = 5 };
  struct sl_bends_out out;
  SHEET(sheet);
  assert_int_equal(sl_bends(&in, &out, &sheet), SL_OK);
  check_sheet(&sheet);
  assert_near(out.total / DEGREE, 360, 1e-12);
  assert_near(out.limit / DEGREE, 360, 1e-12);
  in.bends = 40;
  for (size_t i = 0; i < 40; i++) angles[i] = 30 * DEGREE;
  SHEET_ANEW(sheet);
  assert_int_equal(sl_bends(&in, &out, &sheet), SL_OK);
  check_sheet(&sheet);
  in.bends = 0;
  assert_int_equal(sl_bends(&in, &out, NULL), SL_OK);
  assert_near(out.total, 0, 1e-12);
  in.bends = 1;
  angles[0] = -1;
  assert_int_equal(sl_bends(&in, &out, &sheet), SL_BAD_INPUT);
  angles[0] = NAN;
  assert_int_equal(sl_bends(&in, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "angles");
}

/* NEC Table 300.5 (2017) and 300.5(A) (2023), read in transcriptions; inches.  -1: refused. */
static const struct cover { const char *name, *location; int method, edition; double inches; } covers[] = {
  { "300.5 direct buried: 24 in", "anywhere else", SL_DIRECT_BURIED, SL_NEC_2020, 24 },
  { "300.5 rigid metal: 6 in", "anywhere else", SL_RIGID_METAL, SL_NEC_2020, 6 },
  { "300.5 PVC: 18 in", "anywhere else", SL_NONMETALLIC, SL_NEC_2023, 18 },
  { "300.5 PVC below concrete: 12 in", "below 2 in concrete", SL_NONMETALLIC, SL_NEC_2023, 12 },
  { "300.5 PVC under a slab: 4 in", "under a slab", SL_NONMETALLIC, SL_NEC_2023, 4 },
  { "300.5 any under a street: 24 in", "under a street or parking", SL_RIGID_METAL, SL_NEC_2023, 24 },
  { "300.5 house driveway: 18 in", "house driveway", SL_DIRECT_BURIED, SL_NEC_2023, 18 },
  { "300.5 raceway under a building: none", "under a building", SL_NONMETALLIC, SL_NEC_2020, 0 },
  { "300.5(C) no cable under a building", "under a building", SL_DIRECT_BURIED, SL_NEC_2020, -1 },
  { "300.5(A) EMT in 2023: 18 in", "anywhere else", SL_BURIED_EMT, SL_NEC_2023, 18 },
  { "300.5 EMT in 2020: no column", "anywhere else", SL_BURIED_EMT, SL_NEC_2020, -1 },
};

static void cover_matches(void **state) {
  const struct cover *r = *state;
  struct sl_cover_in in = { .method = r->method, .edition = r->edition };
  struct sl_cover_out out;
  struct sl_row rows[4];
  struct sl_sheet sheet = SL_SHEET(rows);
  while (strcmp(sl_cover_locations[in.location], r->location) != 0) assert_non_null(sl_cover_locations[++in.location]);
  const enum sl_status status = sl_cover(&in, &out, &sheet);
  assert_int_equal(status, r->inches < 0 ? SL_NO_ROW : SL_OK);
  if (r->inches < 0) assert_non_null(strstr(sheet.fault.cite, "300.5"));
  else {
    assert_near(out.least / IN, r->inches, 1e-12);
    assert_near(out.tape / IN, 12, 1e-12);       /* 300.5(D)(3) */
  }
}

static const struct op_case ops[] = {
  { "raceway_fill", &farm }, { "bends", &two }, { "cover", &trench },
};

int main(void) {
  static struct CMUnitTest tests[64];
  size_t n = 0;
  ADD_ROWS(tests, n, annexes, annex_matches);
  ADD_ROWS(tests, n, bads, refuses);
  ADD_ROWS(tests, n, covers, cover_matches);
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(farm_by_hand), cmocka_unit_test(limit_is_by_count), cmocka_unit_test(bare_ground_fills_less),
    cmocka_unit_test(each_group_has_its_own_insulation),
    cmocka_unit_test(any_number_of_groups),
    cmocka_unit_test(areas_are_of_the_diameters), cmocka_unit_test(jam_needs_three_equal),
    cmocka_unit_test(none_of_this_kind_fits), cmocka_unit_test(larger_raceway_fills_less),
    cmocka_unit_test(bends_add_up), cmocka_unit_test(sizes_from_memory_say_so),
  };
  for (size_t i = 0; i < sizeof laws / sizeof *laws; i++) tests[n++] = laws[i];
  return _cmocka_run_group_tests("raceway", tests, n, NULL, NULL);
}
