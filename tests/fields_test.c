/* SPDX-License-Identifier: MIT
 * Every field that may be declared is read by a result, a rule, a sheet or a writer: none is accepted and then
 * ignored. */
#include <lauxlib.h>
#include "check.h"
#include "host/host.h"
#include "host/raise.h"

static struct sl_host host = { .folder = "examples/egg-farm", .format = SL_HUMAN };

/* Fields that no result, rule, sheet or writer reads, each with what it is asked for. */
static const char unread[] =
  "clamp.role\n"            /* that a clamp stands where it is made for is checked when the rack is declared */
  "footing.blocks\n"        /* that there are enough is checked when it is declared */
  "job.currency\n"          /* that all prices are in it is checked when they are read */
  "job.lengths\n"          /* how lengths print is settled when the job is declared */
  "kit.role\n"             /* that a kit stands where it is made for is checked when the rack is declared */
  "kit.rows";              /* that it is for as many rows, too */

static void call(lua_State *L, const char *code, const char *argument) {
  lua_settop(L, 0);
  assert_int_equal(luaL_loadstring(L, code), LUA_OK);
  lua_pushstring(L, argument);
  if (sl_host_call(L, 1, 1)) {
    sl_host_report(L);
    fail_msg("%s did not run", argument);
  }
}

/* Each word of each kind of paper at each place where it may stand, on a golden job in the place of its own papers. */
static const char papers[] =
  "local script = ... .. '/job.sline'\n"
  "local q = host.literal\n"
  "for _, kind in ipairs { 'engineer', 'maker', 'office' } do\n"
  "  local function line() return { up = q'1kN', down = q'1kN', side = q'1kN' } end\n"
  "  local paper = { paper = 'S1', dated = '2027-01-02', level = 'allowable', dead_taken_off = true,\n"
  "    covers = { 'rails' }, licence = kind == 'engineer' and 'E-1' or nil,\n"
  "    state = kind == 'engineer' and 'NE' or nil, product = kind == 'maker' and 'pier 30' or nil,\n"
  "    loads = { steep = { front = line(), back = {} }, back = line() },\n"
  "    holds = { steep = { front = { up = q'2kN' }, back = {} }, back = { up = q'2kN' } },\n"
  "    made_for = { site = { wind = q'47m/s', exposure = 'C', snow = q'1kPa', soil = { class = 'sandy gravel' } },\n"
  "      rack = { rows = 2, columns = 4, tilt = q'60deg', spacing = q'1.85m' },\n"
  "      footing = { hole_diameter = q'450mm', hole_depth = q'1.8m' } } }\n"
  "  import('model.boot').declare { script = script, plan = {\n"
  "    { drop = \"engineer['Ione Castellan']\", from = 'a test' },\n"
  "    { drop = \"maker['Karaka Anchors']\", from = 'a test' },\n"
  "    { add = kind, name = kind, raw = paper, from = 'a test' } } }\n"
  "  reads.documents(script)\n"
  "end\n";

/* What of the weight counts against the loads of each kind of paper, on a job with blocks. */
static const char on_blocks[] =
  "local script = ... .. '/job.sline'\n"
  "local q = host.literal\n"
  "for _, kind in ipairs { 'engineer', 'maker', 'office' } do\n"
  "  local paper = { paper = 'B1', dated = '2026-09-11', level = 'strength', dead_taken_off = false,\n"
  "    weight_counts = q'90%', licence = kind == 'engineer' and 'E-1' or nil,\n"
  "    state = kind == 'engineer' and 'OT' or nil, product = kind == 'maker' and 'pad 30' or nil,\n"
  "    loads = { far = { front = { up = q'4kN', side = q'2kN' }, back = { up = q'5kN', side = q'1kN' } } },\n"
  "    made_for = { site = { wind = q'42m/s', exposure = 'C', snow = q'1kPa' },\n"
  "      rack = { rows = 2, columns = 4, tilt = q'30deg', spacing = q'2600mm' } } }\n"
  "  import('model.boot').declare { script = script, plan = {\n"
  "    { drop = \"engineer['Ione Castellan']\", from = 'a test' },\n"
  "    { add = kind, name = kind, raw = paper, from = 'a test' } } }\n"
  "  reads.documents(script)\n"
  "end\n";

/* A steel for the shaft of a screw. */
static const char with_a_shaft[] =
  "local function put(path, text) return { path = path, text = text, from = 'a test' } end\n"
  "local script = ... .. '/job.sline'\n"
  "import('model.boot').declare { script = script, plan = { put(\"pole['pipe 60'].grade\", 'A53 Gr B'),\n"
  "  put('footing.screw.shaft_grade', 'A53 Gr B'), put('footing.screw.shaft_wall', '5.16 mm') } }\n"
  "reads.documents(script)\n";

/* What the conduit of a trench lies in. */
static const char with_bedding[] =
  "local script = ... .. '/job.sline'\n"
  "import('model.boot').declare { script = script, plan = { { path = 'trench.main.bedding', from = 'a test',\n"
  "  text = \"{ of = 'sand', below = 4in, above = 3in }\" } } }\n"
  "reads.documents(script)\n";

/* What a kit's maker says of its rafters, where three lines of posts share what they carry. */
static const char of_a_kit[] =
  "local script = ... .. '/job.sline'\n"
  "import('model.boot').declare { script = script, plan = { { path = 'rack.kit.rafter_section', from = 'a test',\n"
  "  text = \"{ grade = '6005A-T61', area = 900mm2, inertia = 200000mm4 }\" } } }\n"
  "reads.documents(script)\n";

/* Modules that are turned, on legs of lumber and of pipe. */
static const char on_legs[] =
  "local script, size, part = ... .. '/job.sline', { size = '4x4' }, { part = 'pipe 140' }\n"
  "local q, west = host.literal, script:find 'stone%-fold'\n"
  "local pins = not west and { add = 'joint', name = 'pins', from = 'a test', raw = { of = 'pins of turned rafters',\n"
  "  fastener = 'bolt', size = '5/8', count = 1, edge_of_rafter = q'3.5in', edge_of_post = q'2.5in',\n"
  "  end_of_post = q'5in', edge_of_leg = q'1.75in', end_of_leg = q'4.5in' } } or nil\n"
  "import('model.boot').declare { script = script,\n"
  "  plan = { { add = 'tilts', name = 'seasons', from = 'a test', raw = { pivot = 'front',\n"
  "  rack = west and 'west' or 'east', legs = west and part or size,\n"
  "  positions = { { tilt = q'40deg', from = '09-15' }, { tilt = q'35deg', from = '04-01' } } } }, pins } }\n"
  "reads.documents(script)\n";

/* Lines of posts that are not alike: of lumber on a farm, of pipe on a pasture. */
static const char of_unlike_posts[] =
  "local folder = ...\n"
  "local path, text = 'rack.east', \"{ { line = 'back', size = '8x8', species = 'southern pine', \" ..\n"
  "    \"grade = 'No.2', treatment = 'UC4B' } }\"\n"
  "if folder ~= 'examples/egg-farm' then path, text = 'rack.west', \"{ { line = 'back', part = 'pipe 102' } }\" end\n"
  "import('model.boot').declare { script = folder .. '/job.sline',\n"
  "    plan = { { path = path .. '.unlike_posts', text = text, from = 'a test' } } }\n"
  "reads.documents(folder .. '/job.sline')\n";

/* The examples, the golden jobs and those of the cases, with their reports and sheets, in one state. */
static void every_field_is_read(void **state) {
  static const char *const folders[] = { "tests/golden/jobs/goat-shed", "tests/golden/jobs/two-racks",
                                         "tests/golden/jobs/lambing-shed", "tests/golden/jobs/river-bench",
                                         "tests/results/jobs/mill-and-barn", "examples/well-and-shop",
                                         "tests/results/jobs/five-racks", "tests/results/jobs/creamery",
                                         "tests/results/jobs/mixed-rows", "tests/results/jobs/leg-yard",
                                         "tests/results/jobs/rock-yard", "tests/results/jobs/stone-fold",
                                         "tests/results/jobs/tithe-barn", "tests/results/jobs/sedge-hut",
                                         "tests/results/jobs/gate-field", "tests/results/jobs/brace-yard",
                                         "tests/results/jobs/anchor-field", "tests/results/jobs/lap-yard",
                                         "tests/results/jobs/table-field", "tests/pages/jobs/hay-barn",
                                         "tests/pages/jobs/weir-meadow",
                                         "examples/egg-farm" };
  (void)state;
  lua_State *L = sl_host_new(&host, NULL);
  assert_non_null(L);
  if (luaL_loadfilex(L, "tests/reads.lua", "t") || sl_host_call(L, 0, 1)) {
    sl_host_report(L);
    fail_msg("tests/reads.lua did not run");
  }
  lua_setglobal(L, "reads");
  for (size_t i = 0; i < sizeof folders / sizeof *folders; i++) {
    host.folder = folders[i];
    call(L, "local script = ... .. '/job.sline' import('model.boot').declare { script = script } "
            "reads.documents(script)", folders[i]);
  }
  host.folder = "tests/golden/jobs/lambing-shed";
  call(L, papers, host.folder);
  host.folder = "tests/results/jobs/stone-fold";
  call(L, on_blocks, host.folder);
  host.folder = "tests/results/jobs/anchor-field";
  call(L, with_a_shaft, host.folder);
  host.folder = "examples/egg-farm";
  call(L, with_bedding, host.folder);
  for (int i = 0; i < 2; i++) {
    host.folder = i ? "tests/results/jobs/stone-fold" : "examples/egg-farm";
    call(L, on_legs, host.folder);
  }
  host.folder = "tests/results/jobs/three-lines";
  call(L, of_a_kit, host.folder);
  for (int i = 0; i < 2; i++) {
    host.folder = i ? "examples/well-and-shop" : "examples/egg-farm";
    call(L, of_unlike_posts, host.folder);
  }
  call(L, "return table.concat(reads.unread(), '\\n')", "");
  assert_string_equal(lua_tostring(L, -1), unread);
  sl_host_close(L);
}

int main(void) {
  const struct CMUnitTest tests[] = { cmocka_unit_test(every_field_is_read) };
  return cmocka_run_group_tests_name("fields", tests, NULL, NULL);
}
