/* SPDX-License-Identifier: MIT
 * Editions of the codes behind loads, posts and wood: each citation of a sheet names the edition that was asked for,
 * two editions differ only in rows that say so, and an edition of which nothing is kept is refused by name. */
#include "op_check.h"
#include "table.h"
#include "us.h"
#include "stringline/ballast.h"
#include "stringline/embedded.h"
#include "stringline/overturning.h"
#include "stringline/block.h"
#include "stringline/combine.h"
#include "stringline/footing.h"
#include "stringline/ground.h"
#include "stringline/leaning.h"
#include "stringline/post.h"
#include "stringline/screw.h"
#include "stringline/partial_snow.h"
#include "stringline/snow.h"
#include "stringline/wind.h"
#include "stringline/deflection.h"
#include "stringline/fasteners.h"
#include "stringline/joints.h"
#include "stringline/tearing.h"
#include "stringline/timber.h"
#include "stringline/wind_faces.h"

static const struct sl_velocity_pressure_in pressure = {
  .speed = 105 * MPH, .exposure = SL_EXPOSURE_B, .height = 20 * FT, .elevation = 1080 * FT, .topographic = 1,
};
static const struct sl_snow_load_in snow = {
  .ground_snow = 10 * PSF, .exposure = SL_EXPOSURE_C, .sheltering = SL_PARTIALLY_EXPOSED, .risk_category = SL_RISK_IV,
  .tilt = 35 * DEGREE, .slippery = true,
};
static const double three_supports[] = { 0.5, 3, 5.5 };
static const struct sl_partial_snow_in partly = {
  .length = 6, .ei = 1e4, .load = 100, .snow = 400, .supports = three_supports, .nsupports = 3,
};
static const struct sl_rain_on_snow_in drizzle = {
  .ground_snow = 10 * PSF, .tilt = 0.1 * DEGREE, .plan_depth = 10 * FT,
};
static const struct sl_topographic_in hill = {
  .shape = SL_RIDGE, .height = 100 * FT, .half_length = 300 * FT, .distance = 50 * FT, .above_ground = 15 * FT,
};
static const struct sl_roof_wind_in roof = {
  .velocity_pressure = 1000, .tilt = 33 * DEGREE, .slope_length = 4, .mean_height = 2,
};
static const struct sl_along_wind_in along = {
  .velocity_pressure = 1000, .tilt = 33 * DEGREE, .mean_height = 2, .length = 9,
};
static const struct sl_sign_wind_in sign = {
  .velocity_pressure = 1000, .tilt = 60 * DEGREE, .slope_length = 2, .row_width = 9, .top = 3,
};
static const struct sl_module_wind_in module = {
  .velocity_pressure = 1000, .tilt = 33 * DEGREE, .slope_length = 4, .row_width = 9, .mean_height = 2, .area = 2,
};
static const struct sl_column_stability_in column = { .crushing = 5e6, .stiffness = 3e9, .slenderness = 20 };
static const struct sl_timber_in timber = {
  .section = "6x6", .species = "Southern Pine", .grade = "No.2", .duration = SL_TEN_MINUTES, .wet = true,
  .moment = 1000, .shear = 1000, .axial = 1000, .unbraced = NAN, .length_strong = 2, .length_weak = 2, .bearing = NAN,
  .bearing_length = NAN,
};
static const struct sl_screw_withdrawal_in pulled = {
  .kind = SL_LAG_SCREW, .size = "3/8", .species = "Hem-Fir", .gravity = NAN, .length = 6 * IN, .thread = NAN,
  .side = NAN, .washer = NAN, .depth = NAN, .duration = SL_TEN_MINUTES, .moisture = SL_WET,
};
static const struct sl_screw_combined_in both = { 900, 2000, 300, 700, "" };
static const struct sl_dowel_yield_in dowel = {
  .kind = SL_LAG_SCREW, .size = "3/8", .main_species = "Hem-Fir", .main_gravity = NAN, .main_thickness = 5.5 * IN,
  .side_thickness = 1.5 * IN, .side_species = "Hem-Fir", .side_gravity = NAN, .length = 6 * IN, .washer = NAN,
  .duration = SL_TEN_MINUTES, .moisture = SL_WET, .group = NAN, .geometry = NAN,
};
static const struct sl_dowel_spacing_in spacing = {
  .kind = SL_BOLT, .size = "1/2", .load = SL_ACROSS_GRAIN, .main_bearing = 5.5 * IN, .side_bearing = 1.5 * IN,
  .to_end = 3 * IN, .spacing = 2 * IN, .to_edge = 2 * IN, .to_other_edge = 2 * IN, .row_spacing = 2 * IN,
};
static const struct sl_group_action_in together_in_a_row = {
  .kind = SL_BOLT, .size = "1/2", .count = 3, .spacing = 3 * IN, .main_area = 0.02, .side_area = 0.01,
  .main_modulus = 9e9, .side_modulus = NAN,
};
static const struct sl_head_pull_in head = {
  .species = "Hem-Fir", .gravity = NAN, .head = 0.75 * IN, .thickness = 1.5 * IN, .duration = SL_TEN_MINUTES,
  .moisture = SL_WET,
};
static const struct sl_washer_press_in washer = { "1/2", 1.375 * IN, 1.5 * IN, 2.6e6, 400 * LBF, "" };
static const struct sl_net_section_in net = {
  .kind = SL_BOLT, .size = "1/2", .width = 1.5 * IN, .depth = 7.25 * IN, .count = 1, .to_edge = 2 * IN, .spacing = NAN,
};
static const struct sl_plate_steel_in steel_plate = {
  .plate = "A36", .width = 3 * IN, .thickness = 0.25 * IN, .plates = 1, .kind = SL_BOLT, .size = "1/2", .holes = 1,
  .spacing = NAN, .pull = 900 * LBF, .free = NAN, .bears = 450 * LBF,
};
static const struct sl_tear_out_in tears = {
  .shear = 2e6, .tension = 4e6, .thickness = 1.5 * IN, .kind = SL_BOLT, .size = "1/2", .count = 2, .rows = 2,
  .spacing = 2 * IN, .row_spacing = 2 * IN, .to_end = 3 * IN, .pull = 900 * LBF,
};
static const struct sl_split_across_in splits = {
  .stress = 2e6, .width = 1.5 * IN, .depth = 7.25 * IN, .reach = 4 * IN, .to_end = 20 * IN, .shear = 300 * LBF,
};
static const struct sl_deflection_limit_in deflection = { .member = "roof", .load = "wind" };
static const struct sl_ground_motion_in gives_way = { .isolated = true };
static const struct sl_combinations_in together = { .method = SL_ALLOWABLE };
static const struct sl_allowable_wind_in wind = { .wind = 750 * LBF };
static const struct sl_soil_in soil = { "clay", "" };
static const struct sl_embed_neglecting_in frozen = {
  .lateral = 440 * LBF, .height = 6.5 * FT, .width = 14 * IN, .bearing = 150 * PSF_FT, .neglect = 1 * FT,
  .provided = NAN,
};
static const struct sl_embed_moment_in takes = {
  .depth = 5 * FT, .width = 14 * IN, .bearing = 150 * PSF_FT, .neglect = 1 * FT,
};
static const struct sl_buried_moment_in buried = {
  .lateral = 440 * LBF, .moment = 2800, .depth = 6 * FT, .width = 14 * IN, .bearing = NAN, .tested = 440 * LBF,
  .tested_at = NAN,
};
static const struct sl_block_force turns[] = { { 700, 1500, 10000 } };
static const struct sl_overturning_post stands[] = { { 2, 2500, 900, 0.9, NAN } };
static const struct sl_overturning_in turned = {
  .forces = turns, .nforces = 1, .posts = stands, .nposts = 1, .back = 2,
};
static const struct sl_soil_bearing_in pressed = {
  .pressed = 1800, .width = 0.4, .soil_class = "sand", .vertical = NAN,
};
static const struct sl_friction_hold_in rubbed = {
  .width = 0.4, .depth = 1.5, .neglect = 0.3, .soil_class = "sand", .vertical = NAN,
};
static const struct sl_soil_sliding_in slid = { .soil_class = "clay" };
static const struct sl_ground_uplift_in ground = {
  .wind_uplift = 4000, .dead = 500, .concrete = 0.2, .length = 1.5, .keyed = true, .dry_to = NAN,
  .bell = NAN, .friction = 900,
  .cone = NAN,
};
static const struct sl_block_force on_block[] = { { 4000, 2000, 1500 } };
static const struct sl_block_weight block[] = { { 9000, NAN, 0.1 } };
static const struct sl_ballast_in ballast = {
  .forces = on_block, .nforces = 1, .weights = block, .nweights = 1, .length = 2, .friction = 0.35, .adhesion = NAN,
  .area = NAN, .most = NAN, .weight_counts = NAN,
};
static const struct sl_block_bearing_in block_bears = {
  .forces = on_block, .nforces = 1, .weights = block, .nweights = 1, .snow = 800, .length = 2, .width = 0.5,
  .allowable = 70000,
};
static const double pulls[] = { 9000, 8000 };
static const struct sl_screw_anchor_in screw = {
  .axial = 3000, .torque = NAN, .pulls = pulls, .npulls = 2, .sideways = NAN, .helix = 0.2, .top_depth = 1.2,
};
static const struct sl_lumber_in lumber = { "6x6", 12 * FT, "", "" };
static const struct sl_plate_in plate = { .width = 3 * IN, .screw_line = NAN, .edge = NAN, .fastener = 0.5 * IN };

/* What differs between the first edition of a code and a later one, by symbol.  Wind: the terrain constants, Table
 * 26.11-1.  Snow: 7-22 has no importance factor and other maps; its least snow is another table, which is not held,
 * nor where its rain on snow counts.  Combinations, line by line: D, D + S, D + 0.6W, D + 0.45W + 0.75S, 0.6D + 0.6W
 * against D + 0.7S, D + 0.6W, D + 0.45W + 0.525S, 0.6D + 0.6W and nothing.  none: the edition of which there are no
 * values. */
static const struct asked { const char *op; const void *in; const char *code, *differs, *none; } all[] = {
  { "velocity_pressure", &pressure, "ASCE", "k alpha zg Kz q", NULL },
  { "snow_load", &snow, "ASCE", "Is pf ps pg_m p", NULL },
  { "partial_snow", &partly, "ASCE", "", NULL },
  { "rain_on_snow", &drizzle, "ASCE", "", "ASCE 7-22" },
  { "combinations", &together, "ASCE", "f_S f_S f_W f_S f_W f_D f_S f_W number f_D f_S f_W", NULL },
  { "allowable_wind", &wind, "ASCE", "", NULL },
  { "soil", &soil, "IBC", "", NULL },
  { "ground_motion", &gives_way, "IBC", "", NULL },
  { "embed_neglecting", &frozen, "IBC", "", NULL },
  { "embed_moment", &takes, "IBC", "", NULL },
  { "buried_moment", &buried, "IBC", "", NULL },
  { "overturning", &turned, "ASCE", "", NULL },
  { "soil_bearing", &pressed, "IBC", "", NULL },
  { "friction_hold", &rubbed, "IBC", "", NULL },
  { "soil_sliding", &slid, "IBC", "", NULL },
  { "ground_uplift", &ground, "ASCE", "", NULL },
  { "ballast", &ballast, "ASCE", "", NULL },
  { "block_bearing", &block_bears, "ASCE", "f_S N e p ratio", NULL },
  { "screw_anchor", &screw, "IBC", "", NULL },
  { "lumber", &lumber, "NDS", "", NULL },
  { "plate", &plate, "NDS", "", NULL },
  { "topographic", &hill, "ASCE", "", NULL },
  { "roof_wind", &roof, "ASCE", "", NULL },
  { "along_wind", &along, "ASCE", "", NULL },
  { "sign_wind", &sign, "ASCE", "", NULL },
  { "module_wind", &module, "ASCE", "", NULL },
  { "column_stability", &column, "NDS", "", NULL },
  { "timber", &timber, "NDS", "", NULL },
  { "screw_withdrawal", &pulled, "NDS", "", NULL },
  { "screw_combined", &both, "NDS", "", NULL },
  { "dowel_yield", &dowel, "NDS", "", NULL },
  { "dowel_spacing", &spacing, "NDS", "", NULL },
  { "group_action", &together_in_a_row, "NDS", "", NULL },
  { "head_pull", &head, "NDS", "", NULL },
  { "washer_press", &washer, "NDS", "", NULL },
  { "net_section", &net, "NDS", "", NULL },
  { "plate_steel", &steel_plate, "NDS", "", NULL },
  { "tear_out", &tears, "NDS", "", NULL },
  { "split_across", &splits, "NDS", "", NULL },
  { "deflection_limit", &deflection, "IBC", "", NULL },
};

static const struct sl_field *edition_field(const struct sl_op *op) {
  for (size_t i = 0; i < op->nin; i++)
    if (strcmp(op->in[i].name, "edition") == 0) return &op->in[i];
  fail_msg("%s takes no edition", op->name);
  return NULL;
}

static enum sl_status ask(const struct asked *a, const char *edition, struct sl_sheet *sheet) {
  const struct sl_op *op = op_find(a->op);
  static max_align_t in[64], out[64];
  assert_true(op->in_size <= sizeof in && op->out_size <= sizeof out && strlen(edition) < edition_field(op)->size);
  memcpy(in, a->in, op->in_size);
  strcpy((char *)in + edition_field(op)->offset, edition);
  return op_call(op, in, out, sheet);
}

/* The edition is refused by name, as the list says. */
static bool has_none(const struct asked *a, const char *edition) {
  struct sl_sheet sheet = { .cap = 0 };
  if (!a->none || strcmp(a->none, edition) != 0) return false;
  assert_int_equal(ask(a, edition, &sheet), SL_NO_ROW);
  assert_string_equal(sheet.fault.member, "edition");
  return true;
}

/* "ASCE 7-22 Table 26.11-1" names ASCE 7-22; what begins with no code kept here belongs to none. */
static bool of_a_code(const char *cite) {
  for (const struct sl_code_row *code = sl_code_rows; code->code; code++)
    if (strncmp(cite, code->code, strlen(code->code)) == 0) return true;
  return false;
}

static void citations_name_the_edition(void **state) {
  const struct asked *a = *state;
  SHEET(sheet);
  int editions = 0;
  for (int e = 1; e < SL_EDITIONS; e++) {
    const char *const name = sl_edition_rows[e].name;
    if (strcmp(sl_edition_rows[e].code, a->code) != 0 || has_none(a, name)) continue;
    SHEET_ANEW(sheet);
    assert_int_equal(ask(a, name, &sheet), SL_OK);
    size_t cited = 0;
    for (size_t i = 0; i < sheet.n; i++) {
      const char *const cite = sheet.row[i].cite;
      const bool named = strncmp(cite, name, strlen(name)) == 0 && cite[strlen(name)] == ' ';
      if (*cite == '@' || (of_a_code(cite) && !named)) fail_msg("%s of %s cites '%s'", name, a->op, cite);
      cited += named;
    }
    assert_true(cited > 0);
    editions++;
  }
  assert_true(editions > 0);
}

static const struct sl_row *row_of(const struct sl_sheet *sheet, const char *symbol, size_t item) {
  for (size_t i = 0; i < sheet->n; i++)
    if (strcmp(sheet->row[i].symbol, symbol) == 0 && sheet->row[i].item == item) return &sheet->row[i];
  return NULL;
}

static void editions_differ_where_a_row_says_so(void **state) {
  const struct asked *a = *state;
  SHEET(first);
  SHEET(later);
  int base = SL_NO_EDITION;
  for (int e = 1; e < SL_EDITIONS; e++) {
    if (strcmp(sl_edition_rows[e].code, a->code) != 0 || has_none(a, sl_edition_rows[e].name)) continue;
    if (base == SL_NO_EDITION) { base = e; continue; }
    SHEET_ANEW(first);
    SHEET_ANEW(later);
    assert_int_equal(ask(a, sl_edition_rows[base].name, &first), SL_OK);
    assert_int_equal(ask(a, sl_edition_rows[e].name, &later), SL_OK);
    char differs[200] = "";
    for (size_t i = 0; i < first.n; i++) {
      const struct sl_row *was = &first.row[i], *is = row_of(&later, was->symbol, was->item);
      if (was->kind > SL_ROW_STEP || (is && is->value == was->value)) continue;
      snprintf(differs + strlen(differs), sizeof differs - strlen(differs), "%s%s", *differs ? " " : "", was->symbol);
    }
    if (strcmp(differs, a->differs) != 0)
      fail_msg("%s: %s differs from %s in '%s', wanted '%s'", a->op, sl_edition_rows[e].name,
               sl_edition_rows[base].name, differs, a->differs);
  }
}

/* ASCE 7-22 Table 26.11-1 as an open worksheet has it, and 7-16 as transcribed; Is: 7-16 Table 1.5-2. */
static const struct value { const char *edition, *symbol; size_t op; double value; } values[] = {
  { "ASCE 7-16", "k", 0, 2.01 },        { "ASCE 7-22", "k", 0, 2.41 },
  { "ASCE 7-16", "alpha", 0, 7.0 },     { "ASCE 7-22", "alpha", 0, 7.5 },
  { "ASCE 7-16", "zg", 0, 1200 * FT },  { "ASCE 7-22", "zg", 0, 3280 * FT },
  { "ASCE 7-16", "Is", 1, 1.2 },        { "ASCE 7-22", "Is", 1, 1 },
};

static void values_of_an_edition(void **state) {
  (void)state;
  SHEET(sheet);
  for (size_t i = 0; i < sizeof values / sizeof *values; i++) {
    SHEET_ANEW(sheet);
    assert_int_equal(ask(&all[values[i].op], values[i].edition, &sheet), SL_OK);
    const struct sl_row *row = row_of(&sheet, values[i].symbol, 0);
    assert_non_null(row);
    assert_near(row->value, values[i].value, 1e-12);
  }
}

static void other_editions_are_refused(void **state) {
  const struct asked *a = *state;
  static const char *const others[] = { "", "NZBC", "IBC 1997", "ASCE 7-10", "NDS 2024", "NEC 2023", "AS/NZS 1170" };
  for (size_t i = 0; i < sizeof others / sizeof *others; i++) {
    struct sl_sheet sheet = { .cap = 0 };
    assert_int_equal(ask(a, others[i], &sheet), SL_NO_ROW);
    assert_string_equal(sheet.fault.member, "edition");
    assert_non_null(strstr(sheet.fault.text, a->code));
  }
}

/* Which primitives belong to a code is said here; another that takes an edition of these codes joins the list. */
static void none_is_forgotten(void **state) {
  (void)state;
  for (size_t l = 0; sl_op_lists[l]; l++)
    for (const struct sl_op *op = sl_op_lists[l]; op->name; op++)
      for (size_t f = 0; f < op->nin; f++) {
        if (strcmp(op->in[f].name, "edition") != 0 || strstr(op->in[f].help, "electrical")) continue;
        size_t i = 0;
        while (i < sizeof all / sizeof *all && strcmp(all[i].op, op->name) != 0) i++;
        /* All that these give goes by the combinations, which are asked above. */
        const bool combined = strcmp(op->name, "side_frames") == 0 || strcmp(op->name, "slope_loads") == 0 ||
                              strcmp(op->name, "crossing_loads") == 0;
        if (i == sizeof all / sizeof *all && !combined)
          fail_msg("%s takes an edition and is not asked here", op->name);
      }
}

int main(void) {
  static struct CMUnitTest tests[192];
  size_t n = 0;
  for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
    void *const a = (void *)(uintptr_t)&all[i];
    tests[n++] = (struct CMUnitTest){ all[i].op, citations_name_the_edition, NULL, NULL, a };
    tests[n++] = (struct CMUnitTest){ all[i].op, editions_differ_where_a_row_says_so, NULL, NULL, a };
    tests[n++] = (struct CMUnitTest){ all[i].op, other_editions_are_refused, NULL, NULL, a };
  }
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(values_of_an_edition);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(none_is_forgotten);
  return _cmocka_run_group_tests("editions of loads, posts and wood", tests, n, NULL, NULL);
}
