/* SPDX-License-Identifier: MIT
 * Pictures: that what is written is XML, lies on the sheet, and shows what it was given (tests/pictures.lua). */
#include <lauxlib.h>
#include "check.h"
#include "command/rows.h"
#include "host/host.h"
#include "host/raise.h"

static const char *const names[] = {
  "what is checked can fail", "shapes and numbers of a canvas", "hatching by hand", "texts are escaped",
  "ticks by hand", "ticks in the job's unit", "ticks of a tape", "one value", "labels apart", "scales by their ends",
  "staircase by hand", "staircase of a third goal", "marks of each kind", "few are all drawn",
  "many are thinned out", "what holds is on top", "a crowd on the edge", "no number", "no point and one point",
  "points by a function", "labels of marks", "shares in words", "shares weighed", "columns of many steps",
  "rules never broken", "none tried", "names beside the grid", "long names stay on the sheet", "in a document",
};

static void shows(void **state) {
  const char *name = *state;
  const struct sl_host host = { .folder = "", .format = SL_HUMAN };
  lua_State *L = sl_host_new(&host, NULL);
  assert_non_null(L);
  sl_rows_open(L);
  assert_int_equal(luaL_loadfilex(L, "tests/pictures.lua", "t"), LUA_OK);
  lua_pushstring(L, name);
  assert_int_equal(luaL_loadfilex(L, "tests/svg.lua", "t"), LUA_OK);
  assert_int_equal(sl_host_call(L, 0, 1), LUA_OK);
  if (sl_host_call(L, 2, 1)) {
    struct sl_message m;
    sl_error_message(L, -1, &m);
    fail_msg("%s", m.text);
  }
  assert_true(lua_toboolean(L, -1));
  sl_host_close(L);
}

int main(void) {
  enum { N = sizeof names / sizeof *names };
  struct CMUnitTest tests[N];
  for (size_t i = 0; i < N; i++)
    tests[i] = (struct CMUnitTest){ names[i], shows, NULL, NULL, (void *)(uintptr_t)names[i] };
  return cmocka_run_group_tests_name("pictures", tests, NULL, NULL);
}
