/* SPDX-License-Identifier: MIT
 * Every path that is printed is taken where paths are typed, on whole jobs: tests/paths.lua. */
#include "job_run.h"
#include "box/safe.h"

static void whole_job(const char *name, const char *folder) {
  const struct sl_host host = { .folder = folder, .format = SL_GNU };
  lua_State *L = sl_host_new(&host, NULL);
  assert_non_null(L);
  lua_settop(L, 0);
  if (luaL_loadfilex(L, "tests/paths.lua", "t") || sl_host_call(L, 0, 1)) {
    sl_host_report(L);
    fail_msg("tests/paths.lua did not run");
  }
  lua_getfield(L, 1, name);
  lua_pushfstring(L, "%s/job.sline", folder);
  if (sl_host_call(L, 1, 1)) {
    sl_host_report(L);
    fail_msg("%s of %s did not run", name, folder);
  }
  if (*lua_tostring(L, -1)) fail_msg("%s: %s\n%s", folder, name, lua_tostring(L, -1));
  sl_host_close(L);
}

/* With the sanitizers the first alone: the others are the same C once more. */
static const char *const folders[] = { "examples/egg-farm", "examples/wool-store", "tests/golden/jobs/two-racks",
                                       "tests/pages/jobs/hay-barn", "tests/pages/jobs/southern" };

#if SL_ADDRESS_SANITIZER
enum { FOLDERS = 1 };
#else
enum { FOLDERS = sizeof folders / sizeof *folders };
#endif

static void explain_takes_what_is_printed(void **state) {
  (void)state;
  for (size_t i = 0; i < FOLDERS; i++) whole_job("explained", folders[i]);
}

static void inputs_are_put_in_as_printed(void **state) {
  (void)state;
  for (size_t i = 0; i < FOLDERS; i++) whole_job("put_in", folders[i]);
}

int main(void) {
  static const struct CMUnitTest tests[] = {
    cmocka_unit_test(explain_takes_what_is_printed), cmocka_unit_test(inputs_are_put_in_as_printed),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
