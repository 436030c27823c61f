/* SPDX-License-Identifier: MIT
 * Load combinations: each row against the words of the source, how it is known, what the sheet says, refusals.
 * Words: ASCE 7-16 2.3.1, 2.4.1 as transcribed, and the article on the ground snow of 7-22, without Lr and R; the rest
 * of 7-22 is from memory and must be told as that.  Factors: read off the words; 0.75 x 0.6 = 0.45, 0.75 x 0.7 = 0.525.
 * Duration: wind is shorter than snow, snow than dead load (NDS Table 2.3.2). */
#include <assert.h>
#include "op_check.h"
#include "table.h"
#include "stringline/combine.h"

#define SIXTEEN "ASCE 7-16"
#define TWENTY_TWO "ASCE 7-22"

static const struct combo {
  const char *name, *edition;
  int method;
  double dead, snow, wind;
  int duration;
  enum sl_basis basis;
} combos[] = {
  { "D", SIXTEEN, SL_ALLOWABLE, 1, 0, 0, SL_LASTS_AS_DEAD, SL_SECOND_HAND },
  { "D + S", SIXTEEN, SL_ALLOWABLE, 1, 1, 0, SL_LASTS_AS_SNOW, SL_SECOND_HAND },
  { "D + 0.6W", SIXTEEN, SL_ALLOWABLE, 1, 0, 0.6, SL_LASTS_AS_WIND, SL_SECOND_HAND },
  { "D + 0.75(0.6W) + 0.75S", SIXTEEN, SL_ALLOWABLE, 1, 0.75, 0.45, SL_LASTS_AS_WIND, SL_SECOND_HAND },
  { "0.6D + 0.6W", SIXTEEN, SL_ALLOWABLE, 0.6, 0, 0.6, SL_LASTS_AS_WIND, SL_SECOND_HAND },
  { "1.4D", SIXTEEN, SL_STRENGTH, 1.4, 0, 0, SL_LASTS_AS_DEAD, SL_SECOND_HAND },
  { "1.2D + 0.5S", SIXTEEN, SL_STRENGTH, 1.2, 0.5, 0, SL_LASTS_AS_SNOW, SL_SECOND_HAND },
  { "1.2D + 1.6S + 0.5W", SIXTEEN, SL_STRENGTH, 1.2, 1.6, 0.5, SL_LASTS_AS_WIND, SL_SECOND_HAND },
  { "1.2D + 1.0W + 0.5S", SIXTEEN, SL_STRENGTH, 1.2, 0.5, 1, SL_LASTS_AS_WIND, SL_SECOND_HAND },
  { "0.9D + 1.0W", SIXTEEN, SL_STRENGTH, 0.9, 0, 1, SL_LASTS_AS_WIND, SL_SECOND_HAND },
  { "D + 0.7S", TWENTY_TWO, SL_ALLOWABLE, 1, 0.7, 0, SL_LASTS_AS_SNOW, SL_SECOND_HAND },
  { "D + 0.6W", TWENTY_TWO, SL_ALLOWABLE, 1, 0, 0.6, SL_LASTS_AS_WIND, SL_MEMORY },
  { "D + 0.75(0.6W) + 0.75(0.7S)", TWENTY_TWO, SL_ALLOWABLE, 1, 0.525, 0.45, SL_LASTS_AS_WIND, SL_SECOND_HAND },
  { "0.6D + 0.6W", TWENTY_TWO, SL_ALLOWABLE, 0.6, 0, 0.6, SL_LASTS_AS_WIND, SL_MEMORY },
  { "1.2D + 1.0S + 0.5W", TWENTY_TWO, SL_STRENGTH, 1.2, 1, 0.5, SL_LASTS_AS_WIND, SL_MEMORY },
  { "1.2D + 1.0W + 0.3S", TWENTY_TWO, SL_STRENGTH, 1.2, 0.3, 1, SL_LASTS_AS_WIND, SL_MEMORY },
  { "0.9D + 1.0W", TWENTY_TWO, SL_STRENGTH, 0.9, 0, 1, SL_LASTS_AS_WIND, SL_MEMORY },
};
enum { NCOMBOS = sizeof combos / sizeof *combos };

static void combo_matches(void **state) {
  const struct combo *want = *state;
  struct sl_combination held[SL_COMBINATIONS];
  const size_t n = sl_combinations_of(sl_edition_of(want->edition, "ASCE"), want->method, held);
  const struct sl_combination *got = NULL;
  for (size_t i = 0; i < n; i++)
    if (strcmp(held[i].name, want->name) == 0) got = &held[i];
  assert_non_null(got);
  assert_near(got->dead - want->dead, 0, 1e-12);
  assert_near(got->snow - want->snow, 0, 1e-12);
  assert_near(got->wind - want->wind, 0, 1e-12);
  assert_int_equal(got->duration, want->duration);
  assert_int_equal(got->basis, want->basis);
}

/* There are those of the list above, in its order, and no others; the primitive gives what C code gets. */
static void there_are_no_others(void **state) {
  (void)state;
  size_t seen = 0;
  for (int e = 0; e < 2; e++)
    for (int method = SL_ALLOWABLE; method <= SL_STRENGTH; method++) {
      struct sl_combinations_in in = { .method = method };
      struct sl_combinations_out out;
      struct sl_combination held[SL_COMBINATIONS];
      strcpy(in.edition, e ? TWENTY_TWO : SIXTEEN);
      const size_t n = sl_combinations_of(sl_edition_of(in.edition, "ASCE"), method, held);
      assert_int_equal(sl_combinations(&in, &out, room_of(sl_combinations_need(&in)), NULL), SL_OK);
      assert_int_equal(out.nrows, n);
      for (size_t i = 0; i < n; i++, seen++) {
        const struct sl_combination_row *row = &out.rows[i];
        assert_true(seen < NCOMBOS);
        assert_string_equal(held[i].name, combos[seen].name);
        assert_string_equal(row->name, held[i].name);
        assert_int_equal(row->duration, held[i].duration);
        assert_near(row->number, (double)i + 1, 1e-12);
        assert_near(row->dead + 10 * row->snow + 100 * row->wind,
                    held[i].dead + 10 * held[i].snow + 100 * held[i].wind, 1e-12);
      }
    }
  assert_int_equal(seen, NCOMBOS);
}

/* The sheet tells which values are remembered, and that no roof live load is among them. */
static void the_sheet_owns_up(void **state) {
  (void)state;
  SHEET(sheet);
  struct sl_combinations_in in = { TWENTY_TWO, SL_STRENGTH };
  struct sl_combinations_out out;
  assert_int_equal(sl_combinations(&in, &out, room_of(sl_combinations_need(&in)), &sheet), SL_OK);
  assert_true(sheet.rests & 1u << SL_MEMORY);
  bool told = false;
  for (size_t i = 0; i < sheet.n; i++)
    told = told || (sheet.row[i].kind == SL_ROW_LINES && strstr(sheet.row[i].text, "roof live load"));
  assert_true(told);
  SHEET_ANEW(sheet);
  strcpy(in.edition, SIXTEEN);
  assert_int_equal(sl_combinations(&in, &out, room_of(sl_combinations_need(&in)), &sheet), SL_OK);
  assert_false(sheet.rests & 1u << SL_MEMORY);
}

static void refusals(void **state) {
  (void)state;
  struct sl_sheet sheet = { .cap = 0 };
  struct sl_combinations_in in = { "ASCE 7-10", SL_ALLOWABLE };
  struct sl_combinations_out out;
  assert_int_equal(sl_combinations(&in, &out, room_of(sl_combinations_need(&in)), &sheet), SL_NO_ROW);
  assert_string_equal(sheet.fault.member, "edition");
  strcpy(in.edition, SIXTEEN);
  assert_int_equal(sl_combinations(&in, &out, room_of(sl_combinations_need(&in) - 8), &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "space");
}

static const struct sl_combinations_in good = { SIXTEEN, SL_STRENGTH };
static const struct op_case ops[] = { { "combinations", &good } };

int main(void) {
  struct CMUnitTest tests[40];
  size_t n = 0;
  ADD_ROWS(tests, n, combos, combo_matches);
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(there_are_no_others), cmocka_unit_test(the_sheet_owns_up), cmocka_unit_test(refusals),
  };
  for (size_t i = 0; i < sizeof laws / sizeof *laws; i++) tests[n++] = laws[i];
  return _cmocka_run_group_tests("combinations", tests, n, NULL, NULL);
}
