/* SPDX-License-Identifier: MIT
 * Coordinates of whole jobs, measured between points: modules, rails, supports and posts agree with what is declared,
 * whichever way the racks face, however steep, with rafters longer than the slope (tests/drawn_points.lua). */
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
static const char changed[] =
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

static void points_are_where_they_are_said_to_be(void **state) {
  static const char *const folders[] = { "examples/egg-farm", "examples/wool-store", "examples/north-pasture",
                                         "examples/well-and-shop", "examples/packhouse", "examples/broken-wheel",
                                         "examples/deep-frost", "examples/dairy", "tests/results/jobs/three-lines",
                                         "tests/results/jobs/mixed-rows", "tests/results/jobs/creamery" };
  (void)state;
  lua_State *L = sl_host_new(&host, NULL);
  assert_non_null(L);
  if (luaL_loadfilex(L, "tests/drawn_points.lua", "t") || sl_host_call(L, 0, 1)) {
    sl_host_report(L);
    fail_msg("tests/drawn_points.lua did not run");
  }
  lua_setglobal(L, "drawn");
  for (size_t i = 0; i < sizeof folders / sizeof *folders; i++) {
    host.folder = folders[i];
    assert_string_equal(asked(L, changed, folders[i]), "");
  }
  assert_string_equal(asked(L, "local s = drawn.seen "
                               "return tostring(s.racks > 150 and s.corners > 5000 and s.supports > 1000 and "
                               "s.posts > 1000 and s.diagonals > 100)",
                            ""), "true");
  sl_host_close(L);
}

int main(void) {
  const struct CMUnitTest tests[] = { cmocka_unit_test(points_are_where_they_are_said_to_be) };
  return cmocka_run_group_tests_name("drawn points", tests, NULL, NULL);
}
