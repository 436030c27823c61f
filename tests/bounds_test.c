/* SPDX-License-Identifier: MIT
 * Every amount that a person can declare has two ends: no job brings a calculation what no job has.  The bounds are
 * physical and generous; what is allowed is for rules to say. */
#include "job_run.h"

/* Walks all fields of all kinds; `open` are those without an end, `seen` counts the amounts. */
#define WALK \
  "local numeric = { quantity = true, money = true, ratio = true, number = true, count = true, limit = true } " \
  "local open, seen = {}, 0 " \
  "local function walk(path, f) " \
  "  local t = f.type or f[2] path = path .. '.' .. (f.name or f[1]) " \
  "  if numeric[t] then seen = seen + 1 " \
  "    local low = f.min or f.above or t == 'limit' and 0 " \
  "    if not (low and f.max and low < f.max and f.max < math.huge) then open[#open + 1] = path end " \
  "  end " \
  "  if f.item and f.item ~= f then walk(path, f.item) end " /* heights may stand in heights */ \
  "  for _, g in ipairs(f.fields or {}) do walk(path, g) end " \
  "end " \
  "for _, k in ipairs(schema.all()) do " \
  "  if not k.parent then for _, f in ipairs(schema.all_fields(k)) do walk(k.name, f) end " \
  "    if k.items then walk(k.name, k.items) end end " \
  "end "

/* A declaration with one amount out of its bounds, on the script's second line. */
#define SITE(field) "\nsite { " field " }\n"
#define LOW(name, script, part)  { name, NULL, script, NULL, part, "D004", 2 }
static const struct job_row rows[] = {
  { "no amount is left open", NULL, NULL, WALK "return table.concat(open, ' ')", "", NULL, 0 },
  { "and they were all looked at", NULL, NULL, WALK "return seen > 80", "true", NULL, 0 },
  LOW("a lateral bearing of nothing holds no post", SITE("soil = { class = 'clay', lateral = 0psf/ft }"),
      "'lateral' must be above 0"),
  LOW("a lateral bearing beyond any rock", SITE("soil = { class = 'clay', lateral = 1e9psf/ft }"),
      "'lateral' must be at most"),
  LOW("a well beyond the horizon", "\nnearest { well = 1e9ft }\n", "'well' must be at most"),
  LOW("a trench around the world", "\ntrench 't' { length = 1e8ft, cover = 18in }\n", "'length' must be at most"),
  LOW("a device that no factory makes", "\ninverter 'i' { max_voltage = 500V, backfeed = 1e9A }\n",
      "'backfeed' must be at most"),
  LOW("a bag that nobody lifts", "\nfooting 'f' { hole_diameter = 18in, hole_depth = 66in, gravel = 6in, fill = "
      "'concrete', bag = 1e6lb }\n", "'bag' must be at most"),
};

int main(void) {
  static struct CMUnitTest tests[16];
  size_t n = 0;
  JOB_ROWS(tests, n, rows);
  return _cmocka_run_group_tests("bounds", tests, n, job_setup, job_teardown);
}
