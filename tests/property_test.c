/* SPDX-License-Identifier: MIT
 * What the program prints, it reads: a length in every form, and other quantities in the unit that they print in.
 * The value read is the value printed (half of the last digit at most from the original), and prints the same. */
#include "check.h"
#include "value/format.h"
#include "scan/scanner.h"

enum { MANY = 4000 };

/* A fixed sequence (Numerical Recipes' 64-bit generator, from memory), so that every run tries the same. */
static uint64_t seed;
static double uniform(void) {
  seed ^= seed >> 21;
  seed ^= seed << 35;
  seed ^= seed >> 4;
  return (double)(seed * 2685821657736338717u >> 11) / 9007199254740992.0;
}

static double any_length(int i) {
  static const double special[] = {
    0, -0.0, 0.0254, 0.3048, -0.3048, 11.999 * 0.0254, 11.9999999 * 0.0254, 1e-9, -1e-9, 1e-6 * 0.0254, 1e5, 1e12,
          -1e12, 1e15, 1e40,
    -1e200, 0.0254 / 128, 0.0254 / 16, 23.9375 * 0.0254, 12 * 0.0254 - 1e-12,
  };
  if (i < (int)(sizeof special / sizeof *special)) return special[i];
  const double sign = uniform() < 0.3 ? -1 : 1;
  switch (i % 4) {
  case 0: return sign * floor(uniform() * 64 * 500) / 64 * 0.0254;       /* on a mark of the tape */
  case 1: return sign * uniform() * 100;
  case 2: return sign * pow(10, uniform() * 20 - 9);
  default: return sign * floor(uniform() * 5000) * 0.001;
  }
}

static void without_blanks(const char *from, char *to) {
  for (; *from; from++)
    if (*from != ' ') *to++ = *from;
  *to = 0;
}

static double read_length(const char *text) {
  struct sl_complaint bad;
  double metres;
  if (!sl_scan_length(text, strlen(text), &metres, &bad)) fail_msg("'%s' is no length: %s", text, bad.text);
  return metres;
}

static double read_literal(const char *text, enum sl_dim dim) {
  struct sl_complaint bad;
  struct sl_const k;
  if (!sl_scan_literal(text, strlen(text), &k, &bad)) fail_msg("'%s' is no literal: %s", text, bad.text);
  if (k.unit.dims.w != sl_dim_dims(dim).w) fail_msg("'%s' is read as something else", text);
  return k.si;
}

/* Prints q, reads it three ways, and prints it again. */
static void there_and_back(const struct sl_quantity *q, const struct sl_style *style, double most_off) {
  char text[160], tight[160], again[160];
  sl_format(text, sizeof text, q, style);
  without_blanks(text, tight);
  const double spaced = read_length(text), glued = read_literal(tight, SL_LENGTH), cell = read_literal(text, SL_LENGTH);
  if (fabs(spaced - q->si) > most_off) fail_msg("%.17g m prints as '%s', which is %.17g m", q->si, text, spaced);
  if (!sl_equal(spaced, glued) || !sl_equal(spaced, cell)) fail_msg("'%s' is %.17g, '%s' is %.17g, as a cell %.17g",
        text, spaced, tight, glued, cell);
  struct sl_quantity back = *q;
  back.si = spaced;
  sl_format(again, sizeof again, &back, style);
  assert_string_equal(again, text);
}

static void fractions(void **state) {
  static const int denominators[] = { 2, 4, 8, 16, 32, 64 };
  (void)state;
  seed = 42;
  for (size_t d = 0; d < sizeof denominators / sizeof *denominators; d++)
    for (int only = 0; only < 2; only++)
      for (int i = 0; i < MANY; i++) {
        const struct sl_quantity q = { .si = any_length(i), .dims = sl_dim_dims(SL_LENGTH) };
        const struct sl_style style = { .us = true, .fraction = denominators[d], .inches_only = only };
        const double part = 0.0254 / denominators[d];
        there_and_back(&q, &style, fabs(q.si) < 1e10 ? part / 2 * (1 + 1e-6) + 1e-12 * fabs(q.si) : 6e-4 * fabs(q.si));
      }
}

static void decimals(void **state) {
  static const char *const units[] = { "", "in", "ft", "mm", "cm", "m", "km", "yd", "mi", "mil" };
  (void)state;
  seed = 7;
  for (size_t u = 0; u < sizeof units / sizeof *units; u++)
    for (int digits = 3; digits <= 15; digits += 4)
      for (int i = 0; i < MANY; i++) {
        const struct sl_quantity q = { .si = any_length(i), .dims = sl_dim_dims(SL_LENGTH) };
        const struct sl_style style = { .us = i % 2, .written = units[u], .digits = digits };
        there_and_back(&q, &style, pow(10, 1 - digits) * fabs(q.si));
      }
}

static void written_in_feet_and_inches(void **state) {
  (void)state;
  seed = 99;
  for (int i = 0; i < MANY; i++) {
    const struct sl_quantity q = { .si = any_length(i), .dims = sl_dim_dims(SL_LENGTH) };
    there_and_back(&q, &(struct sl_style){ .written = "ft-in" },
          fabs(q.si) < 1e10 ? 0.0254 / 128 * (1 + 1e-6) : 6e-4 * fabs(q.si));
  }
}

/* Every named dimension in its own two units, through the scanner. */
static void every_dimension(void **state) {
  (void)state;
  seed = 3;
  for (int d = 0; d < SL_DIM_COUNT; d++)
    for (int i = 0; i < 400; i++) {
      const enum sl_dim dim = (enum sl_dim)d;
      if (sl_dim_dims(dim).w == 0) continue;
      struct sl_quantity q = { .si = (uniform() - 0.2) * pow(10, uniform() * 6 - 2), .dims = sl_dim_dims(dim),
            .point = dim == SL_TEMPERATURE };
      if (q.point) q.si = fabs(q.si);                                     /* nothing is colder than 0 K */
      if (q.dims.x[6]) q.currency = (uint8_t)(1 + i / 2 % 6);
      const struct sl_style style = { .us = i % 2, .digits = 6 };
      char text[160], tight[160], again[160];
      sl_format(text, sizeof text, &q, &style);
      without_blanks(text, tight);
      const double back = read_literal(text, dim);
      const double most_off = dim == SL_MONEY ? 0.005001 : q.point ? 0.5 * pow(10,
            floor(log10(fabs(q.si - 273.15))) - 5) * 1.001
                                                         : 1e-5 * fabs(q.si);
      if (!(fabs(back - q.si) <= most_off)) fail_msg("%.17g prints as '%s', which is %.17g", q.si, text, back);
      const bool bracketed = strchr(tight, '*') || strstr(text, " 1/");        /* 3500[lbf*ft], 0.13[1/ft] */
      if (!bracketed) assert_true(sl_equal(read_literal(tight, dim), back));
      q.si = back;
      sl_format(again, sizeof again, &q, &style);
      assert_string_equal(again, text);
    }
}

/* That the check itself can fail: a text one sixteenth off is not the value. */
static void a_wrong_text_is_noticed(void **state) {
  (void)state;
  assert_false(sl_equal(read_length("8 ft 10-7/8 in"), 106.9375 * 0.0254));
  assert_true(sl_equal(read_length("8 ft 10-7/8 in"), 106.875 * 0.0254));
}

int main(void) {
  static const struct CMUnitTest tests[] = {
    cmocka_unit_test(fractions), cmocka_unit_test(decimals), cmocka_unit_test(written_in_feet_and_inches),
    cmocka_unit_test(every_dimension), cmocka_unit_test(a_wrong_text_is_noticed),
  };
  return _cmocka_run_group_tests("property", tests, sizeof tests / sizeof *tests, NULL, NULL);
}
