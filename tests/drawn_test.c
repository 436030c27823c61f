/* SPDX-License-Identifier: MIT
 * Coordinates of whole jobs, measured between points (tests/drawn_points.lua), and what is counted of their rails
 * against a drawing of them (tests/drawn_rails.lua): as declared, and with other inputs. */
#include <lauxlib.h>
#include "check.h"
#include "host/host.h"
#include "host/raise.h"

static struct sl_host host = { .folder = "examples/egg-farm", .format = SL_HUMAN };

static const char *asked(lua_State *L, const char *code, const char *folder) {
  lua_settop(L, 0);
  assert_int_equal(luaL_loadstring(L, code), LUA_OK);
  lua_pushstring(L, folder);
  if (sl_host_call(L, 1, 1)) {
    sl_host_report(L);
    fail_msg("%s did not run", folder);
  }
  return lua_tostring(L, -1);
}

/* As declared, and with all racks turned, steeper, or otherwise in one field; rafters only where there is no kit. */
static const char points_changed[] =
  "local folder, list = ..., {} "
  "local boot, record = import 'model.boot', import 'model.record' "
  "local function look(what) for _, f in ipairs(drawn.faults()) do list[#list + 1] = what .. ': ' .. f end end "
  "boot.declare { script = folder .. '/job.sline' } look 'as declared' "
  "local function try(name, of, value) "
  "  local plan = {} "
  "  for _, r in ipairs(record.all 'rack') do "
  "    if name ~= 'rafters.length' or not record.given(r, 'stack') then "
  "      plan[#plan + 1] = { path = tostring(r) .. '.' .. name, value = value, from = 'a test' } end end "
  "  if pcall(boot.declare, { script = folder .. '/job.sline', plan = plan }) then look(name .. ' = ' .. of) "
  "  else boot.declare { script = folder .. '/job.sline' } end "
  "end "
  "for _, a in ipairs { 0, 37, 90, 143, 180, 251, 270, 333 } do try('azimuth', a, host.literal(a .. 'deg')) end "
  "for _, t in ipairs { 5, 41, 68 } do try('tilt', t, host.literal(t .. 'deg')) end "
  "try('orientation', 'landscape', 'landscape') "
  "try('rafters.length', '4.4 m', host.literal '4.4m') "
  "return table.concat(list, '\\n')";

/* As declared, and with columns and lines from few to many. */
static const char rails_changed[] =
  "local folder, list = ..., {} "
  "local boot, record, variants = import 'model.boot', import 'model.record', import 'model.variants' "
  "local function look(what) for _, f in ipairs(drawn.faults()) do list[#list + 1] = what .. ': ' .. f end end "
  "boot.declare { script = folder .. '/job.sline' } look 'as declared' "
  "for _, name in ipairs { 'columns', 'rails.lines' } do for _, n in ipairs { 2, 3, 5, 8, 11, 17 } do "
  "  local plan = {} "
  "  for _, r in ipairs(record.all 'rack') do "
  "    plan[#plan + 1] = { path = tostring(r) .. '.' .. name, value = n, from = 'a test' } end "
  "  local ok = pcall(boot.declare, { script = folder .. '/job.sline', plan = plan }) "
  "  if ok then look(name .. ' = ' .. n) else boot.declare { script = folder .. '/job.sline' } end "
  "end end "
  "return table.concat(list, '\\n')";

/* Nothing is found wrong by the module of that file, and enough was looked at. */
static void agrees(const char *file, const char *const *folders, const char *changed, const char *enough) {
  lua_State *L = sl_host_new(&host, NULL);
  assert_non_null(L);
  if (luaL_loadfilex(L, file, "t") || sl_host_call(L, 0, 1)) {
    sl_host_report(L);
    fail_msg("%s did not run", file);
  }
  lua_setglobal(L, "drawn");
  for (; *folders; folders++) {
    host.folder = *folders;
    assert_string_equal(asked(L, changed, *folders), "");
  }
  assert_string_equal(asked(L, enough, ""), "true");
  sl_host_close(L);
}

static void points_are_where_they_are_said_to_be(void **state) {
  static const char *const folders[] = { "examples/egg-farm", "examples/wool-store", "examples/north-pasture",
                                         "examples/well-and-shop", "examples/packhouse", "examples/broken-wheel",
                                         "examples/deep-frost", "examples/dairy", "tests/results/jobs/three-lines",
                                         "tests/results/jobs/mixed-rows", "tests/results/jobs/creamery", NULL };
  (void)state;
  agrees("tests/drawn_points.lua", folders, points_changed,
         "local s = drawn.seen return tostring(s.racks > 150 and s.corners > 5000 and s.supports > 1000 and "
         "s.posts > 1000 and s.diagonals > 100)");
}

static void rails_are_as_they_are_drawn(void **state) {
  static const char *const folders[] = { "examples/egg-farm", "examples/well-and-shop", "examples/packhouse",
                                         "examples/broken-wheel", "examples/deep-frost", "examples/dairy",
                                         "tests/results/jobs/mill-and-barn", "tests/results/jobs/creamery", NULL };
  (void)state;
  agrees("tests/drawn_rails.lua", folders, rails_changed,
         "local s = drawn.seen return tostring(s.racks > 100 and s.spliced > 30 and s.parted > 15 and "
         "s.clamps > 1000 and s.changed > 10)");
}

int main(void) {
  const struct CMUnitTest tests[] = { cmocka_unit_test(points_are_where_they_are_said_to_be),
                                      cmocka_unit_test(rails_are_as_they_are_drawn) };
  return cmocka_run_group_tests_name("drawn", tests, NULL, NULL);
}
