/* SPDX-License-Identifier: MIT
 * Any bytes where a path or a value is wanted: behind explain, --set, --on and --vary.  The job is declared once; laws
 * are those of paths.lua, and of each error (state.h): no words of Lua's, nothing of the machinery, UTF-8.  Half of the
 * inputs are made of paths that the job has. */
#include "state.h"
#include "fuzz.h"

/* At 1 the function that tries a text, at 2 the job's paths. */
static lua_State *opened(void) {
  static lua_State *L;
  if (L) return L;
  snprintf(state_folder, sizeof state_folder, "tests/golden/jobs/goat-shed");
  L = state_open("tests/fuzz/paths.lua");
  lua_pushstring(L, "tests/golden/jobs/goat-shed/job.sline");
  LAW_OR(sl_host_call(L, 1, 2) == LUA_OK, "%s", luaL_tolstring(L, -1, NULL));
  return L;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
  lua_State *L = opened();
  lua_settop(L, 2);
  lua_pushvalue(L, 1);
  lua_pushlstring(L, (const char *)data, size);
  state_call(L, 1, 0);
  return 0;
}

static const char *drawn_path(struct lot *lot) {
  lua_State *L = opened();
  lua_settop(L, 2);
  lua_rawgeti(L, 2, 1 + (lua_Integer)lot_below(lot, (size_t)lua_rawlen(L, 2)));
  return lua_tostring(L, -1);                             /* the list holds it */
}

static const char *drawn_value(struct lot *lot) {
  static const char *const values[] = {
    "30deg", "0deg", "-1deg", "8 ft 6-1/2 in", "0ft", "1.5m", "1e308m", "6 AWG", "16 mm2", "100mph+-5mph", "25psf", "3",
    "0", "-0", "1e18", "20%", "true", "no", "portrait", "A. Person", "\"quoted\"", "'a'", "2026-11-02", "2026-02-30",
    "41.20 N", "-16degC", "250V", "{ 90deg, 45deg }", "{ front = 20%, back = 80% }", "{}",
    "{ { at = 20ft, what = \"x\" } }",
    "no_data(\"NZBC\")", "no_data(\"NEC 2023\")", "guess(3ft)", "1psf/ft", "$5", "upper", "shed", "M430", "nan", "inf",
  };
  return values[lot_below(lot, sizeof values / sizeof *values)];
}

size_t LLVMFuzzerCustomMutator(uint8_t *data, size_t size, size_t max, unsigned seed) {
  static const char *const words[] = { "set", "set", "vary", "explain", "on" };
  char text[1000];
  struct lot lot = { seed };
  if (lot_below(&lot, 2)) return LLVMFuzzerMutate(data, size, max);
  const char *word = words[lot_below(&lot, sizeof words / sizeof *words)], *path = drawn_path(&lot);
  int n;
  if (strcmp(word, "explain") == 0) n = snprintf(text, sizeof text, "explain %s", path);
  else if (strcmp(word, "on") == 0) n = snprintf(text, sizeof text, "on %s", drawn_value(&lot));
  else n = snprintf(text, sizeof text, "%s %s=%s", word, path, drawn_value(&lot));
  if (strcmp(word, "vary") == 0 && n > 0 && (size_t)n < sizeof text)
    n += snprintf(text + n, sizeof text - (size_t)n, lot_below(&lot, 2) ? ", %s" : " to %s", drawn_value(&lot));
  if (n < 0 || (size_t)n >= sizeof text || (size_t)n > max) return size;
  memcpy(data, text, (size_t)n);
  return lot_below(&lot, 4) ? (size_t)n : LLVMFuzzerMutate(data, (size_t)n, max);
}
