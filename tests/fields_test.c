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
  "job.currency\n"          /* that all prices are in it is checked when they are read */
  "rack.like";              /* what a type says is put under what the rack says as it is declared */

static void call(lua_State *L, const char *code, const char *argument) {
  lua_settop(L, 0);
  assert_int_equal(luaL_loadstring(L, code), LUA_OK);
  lua_pushstring(L, argument);
  if (sl_host_call(L, 1, 1)) {
    sl_host_report(L);
    fail_msg("%s did not run", argument);
  }
}

/* The examples, the golden jobs and those of the cases, with their reports and sheets, in one state. */
static void every_field_is_read(void **state) {
  static const char *const folders[] = { "tests/golden/jobs/goat-shed", "tests/golden/jobs/two-racks",
                                         "tests/results/jobs/mill-and-barn", "tests/results/jobs/well-and-shop",
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
  call(L, "return table.concat(reads.unread(), '\\n')", "");
  assert_string_equal(lua_tostring(L, -1), unread);
  sl_host_close(L);
}

int main(void) {
  const struct CMUnitTest tests[] = { cmocka_unit_test(every_field_is_read) };
  return cmocka_run_group_tests_name("fields", tests, NULL, NULL);
}
