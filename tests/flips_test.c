/* SPDX-License-Identifier: MIT
 * "flips at" names only what a designer can change, discrete inputs by their list, never the weather: every rule of
 * several jobs turns, as they are declared and with a fault in each of what they rest on. */
#include <lauxlib.h>
#include "box/safe.h"
#include "check.h"
#include "host/host.h"
#include "host/raise.h"

static struct sl_host host = { .folder = "examples/egg-farm", .format = SL_HUMAN };

/* From the trade: what may be drawn otherwise.  Weather, site, limits, what makers say of their goods and how a value
 * was found out may not. */
static const char designs[] =
  "footing.bell footing.block_density footing.block_front footing.block_height footing.block_length "
  "footing.block_mass footing.block_width footing.blocks footing.carries footing.driven_depth footing.fill "
  "footing.gravel footing.head footing.helix footing.helix_depth footing.hole_depth footing.hole_diameter "
  "footing.kind footing.like footing.screw_length footing.shaft footing.shaft_wall footing.torque joint.boards "
  "joint.coating joint.count joint.edge_of_brace joint.edge_of_leg joint.edge_of_post joint.edge_of_rafter "
  "joint.edge_of_rail joint.end_of_leg joint.end_of_post joint.end_of_rail joint.fastener joint.grade joint.head "
  "joint.length joint.planes joint.plate joint.plate_thickness joint.plate_width joint.row_in_brace "
  "joint.row_in_post joint.row_in_rafter joint.row_in_rail joint.row_spacing joint.rows joint.size joint.spacing "
  "joint.washer rack.above rack.aisle "
  "rack.azimuth rack.bays rack.beam rack.behind rack.beside rack.braces.along rack.braces.bays rack.braces.every "
  "rack.braces.from rack.braces.high rack.braces.low rack.braces.past rack.braces.rises rack.braces.size "
  "rack.braces.to rack.column_gap rack.columns rack.corner rack.end_allowance rack.gap rack.like "
  "rack.lines.back.bays rack.lines.back.set_in rack.lines.back.spacing rack.lines.back.stations "
  "rack.lines.front.bays rack.lines.front.set_in rack.lines.front.spacing rack.lines.front.stations "
  "rack.lines.middle.bays rack.lines.middle.set_in rack.lines.middle.spacing rack.lines.middle.stations "
  "rack.lower_edge rack.orientation rack.post_lines.back rack.post_lines.front rack.post_lines.middle "
  "rack.posts.adjustment.drift rack.posts.adjustment.layout rack.posts.adjustment.plumb rack.posts.adjustment.range "
  "rack.posts.back rack.posts.footing rack.posts.front rack.posts.grade rack.posts.moment_head rack.posts.part "
  "rack.posts.plate.edge rack.posts.plate.fastener rack.posts.plate.screw_line rack.posts.plate.width "
  "rack.posts.size rack.posts.slide rack.posts.species rack.posts.stock rack.posts.treatment rack.posts.trim_reserve "
  "rack.rafter rack.rafter_grade rack.rafter_species rack.rafters.count rack.rafters.length rack.rafters.spacing "
  "rack.rails.at rack.rails.end_bay_splices rack.rails.expansion_joints rack.rails.expansion_limit rack.rails.face "
  "rack.rails.grade rack.rails.joint_gap rack.rails.joints rack.rails.lines rack.rails.size rack.rails.species "
  "rack.rails.splice_zone.from rack.rails.splice_zone.to rack.row_gap rack.row_slope rack.rows rack.saddle "
  "rack.set_in rack.spacing rack.stations rack.tilt rack.unlike_posts.grade rack.unlike_posts.line "
  "rack.unlike_posts.part rack.unlike_posts.size rack.unlike_posts.species rack.unlike_posts.treatment row.aisle "
  "row.corner row.racks row.steps run.along_wall run.carries run.conductor run.conduit.bends run.conduit.kind "
  "run.conduit.size run.dc_stops_at run.from run.ground run.inside run.insulation run.like run.make_up_each_end "
  "run.overcurrent run.rapid_shutdown.equipment run.rapid_shutdown.initiator run.rapid_shutdown.initiator_stands "
  "run.rapid_shutdown.listed run.risers run.stranding run.stub_up run.through run.to run.wire strings.combined_at "
  "strings.fuse strings.input strings.into strings.like strings.on strings.parallel strings.series tilts.legs.part "
  "tilts.legs.size tilts.pivot tilts.pivot_at tilts.positions.from tilts.positions.tilt tilts.rack tilts.racks "
  "trench.bedding.above trench.bedding.below trench.bedding.of trench.cover trench.length trench.like "
  "trench.tape_above_conduit trench.width truck.volume";

/* Rules that name an input, and turn in none of the jobs below, each with why. */
static const char silent[] = "";

static void call(lua_State *L, const char *code, const char *script, const char *changes) {
  lua_settop(L, 0);
  assert_int_equal(luaL_loadstring(L, code), LUA_OK);
  lua_pushstring(L, script);
  lua_pushstring(L, changes);
  if (sl_host_call(L, 2, 1)) {
    sl_host_report(L);
    fail_msg("%s did not run", script);
  }
}

static lua_State *begin(void) {
  lua_State *L = sl_host_new(&host, NULL);
  assert_non_null(L);
  if (luaL_loadfilex(L, "tests/flips.lua", "t") || sl_host_call(L, 0, 1)) {
    sl_host_report(L);
    fail_msg("tests/flips.lua did not run");
  }
  lua_setglobal(L, "flips");
  return L;
}

static void what_a_designer_can_change(void **state) {
  (void)state;
  lua_State *L = begin();
  call(L, "return table.concat(flips.designs(), ' ')", "", "");
  assert_string_equal(lua_tostring(L, -1), designs);
  sl_host_close(L);
}

/* A job, and changes that break or nearly break its rules: each is put in by itself.  What is held to them is Lua: with
 * the sanitizers the last of them do. */
#if SL_ADDRESS_SANITIZER
enum { FIRST = 9 };
#else
enum { FIRST = 0 };
#endif
static const struct { const char *folder, *changes; } jobs[] = {
  { "examples/egg-farm",
    "strings.series = 6; strings.series = 1; strings.parallel = 4; site.coldest = -60 degC; site.hottest_air = 60 degC;"
    "site.frost = 60.1 in; site.wind = 180 mph; site.wind = 117 mph; site.wind = 148.5 mph; "
    "site.snow_depth = 30 in; site.snow = 200 psf; site.soil.lateral = 20 psf/ft; "
    "rack.east.lower_edge = 10 in; rack.east.lower_edge = 250 in; "
    "rack.east.azimuth = 60 deg; rack.east.tilt = 60 deg; rack.east.end_allowance = 11 in; "
    "rack.east.posts.treatment = UC4A; footing.deep.hole_diameter = 11 in; footing.deep.hole_depth = 20 in; "
    "footing.deep.hole_depth = 95 in; trench.main.cover = 4 in; trench.main.length = 500 ft; "
    "run['array to shed'].wire = 12 AWG; charge_controller.shed.max_voltage = 100 V" },
  { "tests/golden/jobs/goat-shed", "site.frost = 2 m; site.wind = 80 m/s; strings.series = 12" },
  { "tests/golden/jobs/two-racks", "site.frost = 90 in; site.snow_depth = 60 in; site.coldest = -60 degC" },
  { "tests/results/jobs/mill-and-barn", "site.frost = 2 m; site.coldest = -60 degC; site.hottest_air = 60 degC" },
  { "tests/results/jobs/tithe-barn", "site.coldest = -60 degC; strings.W.series = 12; site.wind = 180 mph" },
  { "tests/results/jobs/five-racks", "site.frost = 90 in" },
  { "tests/results/jobs/gate-field", "row.upper.aisle = 1 m; rack.d.gap = 1 m" },
  { "tests/results/jobs/creamery", "rack.long.rails.joint_gap = 60 mm; rack.shed.rails.joints[1] = 160 in" },
  { "tests/results/jobs/stone-fold", "footing.beam.block_height = 480 mm; footing.pad.block_height = 400 mm" },
  { "tests/results/jobs/leg-yard", "rack.one.posts.part = box 60" },
  { "examples/well-and-shop", "site.wind = 100 mph" },
  { "examples/broken-wheel", "site.wind = 155 mph" },
};

static void rules_turn_at_nothing_else(void **state) {
  (void)state;
  lua_State *L = begin();
  for (size_t i = FIRST; i < sizeof jobs / sizeof *jobs; i++) {
    host.folder = jobs[i].folder;
    call(L, "local script, text = ... local changes = {} "
            "for path, value in text:gmatch '[%s;]*(.-) = ([^;]+)' do "
            "  if value:find '^%-?%d+$' then value = math.tointeger(value) "
            "  elseif value:find '^%-?%d' and not value:find 'AWG' then value = host.literal(value) end "
            "  changes[#changes + 1] = { path = path, value = value, from = 'a test' } end "
            "return table.concat(flips.turn(script .. '/job.sline', changes), '\\n')", jobs[i].folder, jobs[i].changes);
    assert_string_equal(lua_tostring(L, -1), "");
  }
  call(L, "return table.concat(flips.silent(), '\\n')", "", "");
  if (FIRST == 0) assert_string_equal(lua_tostring(L, -1), silent);
  sl_host_close(L);
}

int main(void) {
  const struct CMUnitTest tests[] = {
    cmocka_unit_test(what_a_designer_can_change),
    cmocka_unit_test(rules_turn_at_nothing_else),
  };
  return cmocka_run_group_tests_name("flips", tests, NULL, NULL);
}
