/* SPDX-License-Identifier: MIT
 * The first whole job, from its script to its numbers, against a hand calculation (to the digits it gives).
 *
 * Source of every row below: the worked brief of the egg farm, calculated by hand with the trade's formulas before
 * there was a program; invented job, no published source.  Lengths in inches are rows of geometry anyone can redo:
 * row 4 x 1134 + 3 x 20 mm, slope 2 x 1722 + 20 mm, tilt 35 deg, stack 11 in, supports at 20 % and 80 %. */
#include <lauxlib.h>
#include "check.h"
#include "host/host.h"
#include "host/raise.h"

static const struct sl_host host = { .folder = "examples/egg-farm", .format = SL_HUMAN };

/* run(settings, path, unit): the number of a result in a unit. */
static const char chunk[] =
  "local settings, path, unit = ...\n"
  "local boot = import 'model.boot'\n"
  "local plan = {}\n"
  "for s in string.gmatch(settings, '[^;]+') do plan[#plan + 1] = boot.setting(s) end\n"
  "boot.declare { script = 'examples/egg-farm/job.sline', plan = plan }\n"
  "local v = boot.record.at(path)\n"
  "return unit == '' and v or host.number_in(v, unit)\n";

static double value(const char *settings, const char *path, const char *unit) {
  lua_State *L = sl_host_new(&host, NULL);
  assert_non_null(L);
  assert_int_equal(luaL_loadstring(L, chunk), LUA_OK);
  lua_pushstring(L, settings);
  lua_pushstring(L, path);
  lua_pushstring(L, unit);
  if (sl_host_call(L, 3, 1)) {
    sl_host_report(L);
    fail_msg("%s did not work out", path);
  }
  assert_true(lua_isnumber(L, -1));
  double v = lua_tonumber(L, -1);
  sl_host_close(L);
  return v;
}

#define DRAWN "footing.deep.hole_diameter=14in;footing.deep.hole_depth=36in;footing.deep.isolated_posts=false"

static const struct row { const char *name, *settings, *path, *unit; double want, half; } rows[] = {
  { "row width 180.9 in", "", "rack.east.row_width", "in", 180.9, 0.05 },
  { "slope length 136.4 in", "", "rack.east.slope_length", "in", 136.4, 0.05 },
  { "rise 78.2 in", "", "rack.east.rise", "in", 78.2, 0.05 },
  { "top edge 102.2 in", "", "rack.east.top_edge", "in", 102.2, 0.05 },
  { "stack 11.0 in", "", "rack.east.stack", "in", 11.0, 0.05 },
  { "front bearing 30.63 in", "", "rack.east.front_height", "in", 30.63, 0.005 },
  { "back bearing 77.57 in", "", "rack.east.back_height", "in", 77.57, 0.005 },
  { "front line 28.65 in back", "", "rack.east.front_setback", "in", 28.65, 0.005 },
  { "back line 95.68 in back", "", "rack.east.back_setback", "in", 95.68, 0.005 },
  { "line spacing 67.03 in", "", "rack.east.line_spacing", "in", 67.03, 0.005 },
  { "diagonal 159-3/4 in", "", "rack.east.diagonal", "in", 159.75, 0.0625 },
  { "azimuth 180 true", "", "rack.east.true_azimuth", "deg", 180, 0.05 },
  { "F1 cut 60-5/8 in", DRAWN, "rack.east.post.F1.cut_length", "in", 60.625, 0.0625 },
  { "F2 cut 61-1/8 in", DRAWN, "rack.east.post.F2.cut_length", "in", 61.125, 0.0625 },
  { "F3 cut 61-5/8 in", DRAWN, "rack.east.post.F3.cut_length", "in", 61.625, 0.0625 },
  { "B1 cut 106-7/8 in", DRAWN, "rack.east.post.B1.cut_length", "in", 106.875, 0.0625 },
  { "B2 cut 107-3/8 in", DRAWN, "rack.east.post.B2.cut_length", "in", 107.375, 0.0625 },
  { "B3 cut 108-1/8 in", DRAWN, "rack.east.post.B3.cut_length", "in", 108.125, 0.0625 },
  { "F1 cut 30 in longer in the deeper hole", "", "rack.east.post.F1.cut_length", "in", 90.625, 0.0625 },
  { "B3 cut 30 in longer in the deeper hole", "", "rack.east.post.B3.cut_length", "in", 138.125, 0.0625 },
  { "4 bags a hole", DRAWN, "rack.east.post.B2.bags", "", 4, 0 },
  { "lateral about 440 lbf a post", "", "rack.east.post.B2.lateral", "lbf", 440, 10 },
  { "net uplift about 580 lbf a post", "", "rack.east.post.B2.net_uplift", "lbf", 580, 10 },
  { "4 in series 172.9 V", "", "strings.coldest_voltage", "V", 172.9, 0.05 },
  { "5 in series 216.1 V", "strings.series=5", "strings.coldest_voltage", "V", 216.1, 0.05 },
  { "6 in series 259.3 V", "strings.series=6", "strings.coldest_voltage", "V", 259.3, 0.05 },
  { "run 104 ft one way", "", "run['array to shed'].length", "ft", 104, 1e-9 },
  { "6 AWG drops 2.04 %", "", "run['array to shed'].voltage_drop", "%", 2.04, 0.005 },
  { "8 AWG solid drops 3.18 %", "run['array to shed'].wire=8 AWG;run['array to shed'].stranding=solid",
    "run['array to shed'].voltage_drop", "%", 3.18, 0.005 },
  { "charging 67.2 A", "", "strings.charge_current", "A", 67.2, 0.05 },
};

static void comes_out(void **state) {
  const struct row *r = *state;
  double v = value(r->settings, r->path, r->unit);
  if (!(fabs(v - r->want) <= r->half + 1e-12)) {
    fail_msg("%s: got %.6g %s, wanted %g within %g", r->path, v, r->unit, r->want, r->half);
  }
}

/* NEC 310.3(C): 8 AWG and larger is stranded in a raceway; Chapter 9 Table 8 then has 0.778 ohm/kft instead of
 * 0.764. */
static void stranded_8_awg_drops_more(void **state) {
  (void)state;
  double v = value("run['array to shed'].wire=8 AWG", "run['array to shed'].voltage_drop", "%");
  assert_true(fabs(v - 2 * 104 * 0.778 / 1000 * 26.22 / 131.2 * 100) < 0.005);
}

int main(void) {
  enum { ROWS = sizeof rows / sizeof *rows };
  struct CMUnitTest tests[ROWS + 1];
  for (size_t i = 0; i < ROWS; i++)
    tests[i] = (struct CMUnitTest){
      .name = rows[i].name, .test_func = comes_out, .initial_state = (void *)(uintptr_t)&rows[i] };
  tests[ROWS] = (struct CMUnitTest)cmocka_unit_test(stranded_8_awg_drops_more);
  return cmocka_run_group_tests_name("egg farm", tests, NULL, NULL);
}
