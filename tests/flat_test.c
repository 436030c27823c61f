/* SPDX-License-Identifier: MIT
 * Variants leave nothing behind: the memory of a state after 3,000 of them is what it was after the first thousand. */
#include <lauxlib.h>
#include "check.h"
#include "host/host.h"
#include "host/raise.h"

/* Both numbers have the same kind of variant (tests/flat.lua), whose records are still there.  One byte a variant: a
 * slot in a list for every third of them is more. */
enum { VARIANTS = 250 * 12, FROM = 83 * 12, MOST_KIB = 2 };

static void variants_leave_nothing_behind(void **state) {
  (void)state;
  const struct sl_host host = { .folder = "examples/egg-farm", .format = SL_HUMAN };
  lua_State *L = sl_host_new(&host, &(struct sl_limits){ .steps = -1 });
  assert_non_null(L);
  assert_int_equal(luaL_loadfilex(L, "tests/flat.lua", "t"), LUA_OK);
  lua_pushliteral(L, "examples/egg-farm/job.sline");
  lua_pushinteger(L, VARIANTS);
  lua_pushinteger(L, FROM);
  if (sl_host_call(L, 3, 1)) {
    sl_host_report(L);
    fail_msg("tests/flat.lua did not run");
  }
  const double grown = lua_tonumber(L, -1);
  print_message("%d variants: %.1f KiB more than after %d\n", VARIANTS, grown, FROM);
  if (!(grown < MOST_KIB)) fail_msg("%d variants: %.1f KiB more than after %d", VARIANTS, grown, FROM);
  sl_host_close(L);
}

int main(void) {
  const struct CMUnitTest tests[] = { cmocka_unit_test(variants_leave_nothing_behind) };
  return cmocka_run_group_tests_name("flat", tests, NULL, NULL);
}
