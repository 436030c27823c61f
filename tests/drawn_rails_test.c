/* SPDX-License-Identifier: MIT
 * Rails of whole jobs, drawn along the row: runs, modules, clamps, pieces and the bill agree, whatever the columns and
 * the lines (tests/drawn_rails.lua). */
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

/* As declared, and with columns and lines from few to many. */
static const char changed[] =
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

static void rails_are_as_they_are_drawn(void **state) {
  static const char *const folders[] = { "examples/egg-farm", "examples/well-and-shop", "examples/packhouse",
                                         "examples/broken-wheel", "examples/deep-frost", "examples/dairy",
                                         "tests/results/jobs/mill-and-barn", "tests/results/jobs/creamery" };
  (void)state;
  lua_State *L = sl_host_new(&host, NULL);
  assert_non_null(L);
  if (luaL_loadfilex(L, "tests/drawn_rails.lua", "t") || sl_host_call(L, 0, 1)) {
    sl_host_report(L);
    fail_msg("tests/drawn_rails.lua did not run");
  }
  lua_setglobal(L, "drawn");
  for (size_t i = 0; i < sizeof folders / sizeof *folders; i++) {
    host.folder = folders[i];
    assert_string_equal(asked(L, changed, folders[i]), "");
  }
  assert_string_equal(asked(L, "local s = drawn.seen "
                               "return tostring(s.racks > 100 and s.spliced > 30 and s.parted > 15 and "
                               "s.clamps > 1000 and s.changed > 10)",
                            ""), "true");
  sl_host_close(L);
}

int main(void) {
  const struct CMUnitTest tests[] = { cmocka_unit_test(rails_are_as_they_are_drawn) };
  return cmocka_run_group_tests_name("drawn rails", tests, NULL, NULL);
}
