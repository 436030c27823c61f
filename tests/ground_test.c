/* SPDX-License-Identifier: MIT
 * The ground and what it does for piers, blocks on it and screws in it: by hand, and laws.  Published cases are in
 * outside/footings.case. */
#include <assert.h>
#include "op_check.h"
#include "us.h"
#include "../interp/calc/halving.h"
#include "stringline/ballast.h"
#include "stringline/footing.h"
#include "stringline/ground.h"
#include "stringline/screw.h"

#define MOMENT_US (LBF * FT)

/* A back post of a rack: 448 lbf at 77 in, an 18 in hole in sand of 150 psf/ft, doubled. */
static const struct sl_embed_neglecting_in post = {
  .lateral = 448 * LBF, .height = 77 * IN, .width = 18 * IN, .bearing = 150 * PSF_FT, .isolated = true,
  .provided = NAN, .edition = "IBC 2021",
};

static struct sl_embed_neglecting_out depth_of(struct sl_embed_neglecting_in in) {
  struct sl_embed_neglecting_out out;
  assert_int_equal(sl_embed_neglecting(&in, &out, NULL), SL_OK);
  return out;
}

/* Curves whose least depth is known in closed form, and some on which straight lines mislead: a step (all of the answer
 * is in one jump), a wall (not to be worked out above the answer's half), nothing needed, nothing enough. */
static double inverse(const void *c, double t) { return *(const double *)c / t; }
static double inverse_root(const void *c, double t) { return *(const double *)c / sqrt(t); }
static double stepped(const void *c, double t) { return t < *(const double *)c ? 1e3 : 0; }
static double walled(const void *c, double t) { return t < *(const double *)c / 2 ? NAN : *(const double *)c; }

static void least_depths_in_closed_form(void **state) {
  (void)state;
  static const double c[] = { 1e-12, 1e-3, 0.3, 1, 4.51172, 700, 1e3 };
  double t;
  for (size_t i = 0; i < sizeof c / sizeof c[0]; i++) {
    assert_true(sl_least_depth(inverse, &c[i], &t));
    assert_near(t, sqrt(c[i]), 4e-16);
    assert_true(sl_least_depth(inverse_root, &c[i], &t));
    assert_near(t, cbrt(c[i] * c[i]), 4e-16);
    assert_true(sl_least_depth(stepped, &c[i], &t) && t == c[i]);
    assert_true(sl_least_depth(walled, &c[i], &t) && t == c[i]);
  }
  const double none = 0, beyond = 1e7;
  assert_true(sl_least_depth(inverse, &none, &t) && t < 1e-300);
  assert_false(sl_least_depth(inverse, &beyond, &t));
  assert_true(t >= SL_DEEPEST);
}

/* 51.5, 54.4 and 72.2 in: the brief for this post, whose force is printed to the pound and height to the inch (0.5
 * lbf and 0.5 in of them move the last by 0.09 in). */
static void frozen_soil_by_the_brief(void **state) {
  (void)state;
  struct sl_embed_neglecting_in in = post;
  assert_near(depth_of(in).depth / IN, 51.5, 0.1 / 51.5);
  in.neglect = 12 * IN, in.from_grade = true;
  assert_near(depth_of(in).depth / IN, 54.4, 0.1 / 54.4);
  in.neglect = 18 * IN, in.from_grade = false;
  assert_near(depth_of(in).depth / IN, 72.2, 0.1 / 72.2);
}

/* By hand, Eq. 18-1 put into itself: with n = 1.5 ft, z = 0, h = 6.41667 + 1.5 = 7.91667 ft, d = 4.51172 ft counted:
 * S1 = 300 x 4.51172/3 = 451.172 psf, A = 2.34 x 448/(451.172 x 1.5) = 1.54903 ft, d = 0.774517 (1 + sqrt(1 + 4.36 x
 * 7.91667/1.54903)) = 4.51173 ft. */
static void counted_soil_by_hand(void **state) {
  (void)state;
  struct sl_embed_neglecting_in in = post;
  in.neglect = 1.5 * FT;
  const struct sl_embed_neglecting_out out = depth_of(in);
  assert_near(out.counted / FT, 4.51173, 2e-5);
  assert_near(out.depth, out.counted + in.neglect, 1e-12);
  assert_near(out.pressure / PSF, 451.17, 2e-5);
}

/* By hand, Eq. 18-2 put into itself, the same post held at grade: 4.25 x 448 x 6.41667/(300 x 1.5) = 27.14963 ft3,
 * whose cube root is 3.00553 ft; with 1 ft left out it stands below that foot, and with pressure from grade d2 (1 +
 * d) = 27.14963 at 2.70646 ft. */
static void held_and_counted_by_hand(void **state) {
  (void)state;
  struct sl_embed_neglecting_in in = post;
  in.held = true;
  assert_near(depth_of(in).depth / FT, 3.00553, 2e-6);
  in.neglect = 1 * FT;
  assert_near(depth_of(in).depth / FT, 4.00553, 2e-6);
  assert_near(depth_of(in).pressure / PSF, 300 * 3.00553, 2e-6);
  in.from_grade = true;
  assert_near(depth_of(in).counted / FT, 2.70646, 2e-6);
  assert_near(depth_of(in).pressure / PSF, 300 * 3.70646, 2e-6);
  in.height = 0;
  struct sl_embed_neglecting_out out;
  struct sl_sheet sheet = { .cap = 0 };
  assert_int_equal(sl_embed_neglecting(&in, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "height");
}

static void hopeless_load_has_no_answer(void **state) {
  (void)state;
  struct sl_embed_neglecting_in in = post;
  struct sl_embed_neglecting_out out;
  struct sl_sheet sheet = { .cap = 0 };
  in.lateral = 1e15;
  assert_int_equal(sl_embed_neglecting(&in, &out, &sheet), SL_NO_ANSWER);
  assert_string_equal(sheet.fault.member, "lateral");
  /* S1 at 12 ft is 172.37 kPa: d = A = 2.34 x 15 MN/(172.37 kPa x 0.4572 m) = 445 m; by the older reading, thrice that,
   * 1336 m. */
  in.lateral = 1.5e7, in.height = 0;
  assert_int_equal(sl_embed_neglecting(&in, &out, &sheet), SL_NO_ANSWER);
}

/* The sheet ends in what is given: d of both readings. */
static void the_sheet_gives_both_depths(void **state) {
  (void)state;
  SHEET(sheet);
  struct sl_embed_neglecting_in in = post;
  struct sl_embed_neglecting_out out;
  in.neglect = 12 * IN, in.lateral *= 40;
  for (int held = 0; held < 2; held++) {
    in.held = held;
    SHEET_ANEW(sheet);
    assert_int_equal(sl_embed_neglecting(&in, &out, &sheet), SL_OK);
    int found = 0;
    for (size_t i = 0; i < sheet.n; i++) {
      const struct sl_row *r = &sheet.row[i];
      if (strcmp(r->symbol, "d") == 0) assert_near(r->value, out.depth, 1e-9), found++;
      if (strcmp(r->symbol, "d_o") == 0) assert_near(r->value, out.strict, 1e-9), found++;
    }
    assert_int_equal(found, 2);
  }
}

/* More load or a higher one wants more, a wider post and better soil less. */
static void more_load_more_depth(void **state) {
  (void)state;
  const double as_is = depth_of(post).depth;
  struct sl_embed_neglecting_in in = post;
  in.lateral *= 1.2;
  assert_true(depth_of(in).depth > as_is);
  in = post, in.height *= 1.2;
  assert_true(depth_of(in).depth > as_is);
  in = post, in.width *= 1.2;
  assert_true(depth_of(in).depth < as_is);
  in = post, in.bearing *= 1.2;
  assert_true(depth_of(in).depth < as_is);
}

static void isolated_is_twice_the_soil(void **state) {
  (void)state;
  struct sl_embed_neglecting_in firm = post;
  firm.isolated = false, firm.bearing *= 2;
  assert_near(depth_of(post).depth, depth_of(firm).depth, 1e-12);
}

/* A shear alone: h = 0 leaves d = A, hence d^2 = 3 * 2.34 P/(s b). */
static void shear_alone_by_hand(void **state) {
  (void)state;
  struct sl_embed_neglecting_in in = post;
  in.height = 0, in.isolated = false;
  assert_near(depth_of(in).depth, sqrt(3 * 2.34 * in.lateral / (in.bearing * in.width)), 1e-9);
  assert_near(depth_of(in).a, depth_of(in).depth, 1e-9);
}

/* The solved depth needs itself, and both ways of checking give one verdict; with soil left out, too. */
static void solved_depth_needs_itself(void **state) {
  (void)state;
  for (int left_out = 0; left_out < 2; left_out++)
    for (double ratio = 0.7; ratio < 1.5; ratio += 0.1) {
      struct sl_embed_neglecting_in in = post;
      in.neglect = left_out * 12 * IN;
      const double solved = depth_of(in).depth;
      in.provided = ratio * solved;
      const double required = depth_of(in).depth;
      if (fabs(ratio - 1) < 1e-6) assert_near(required, solved, 1e-9);
      else assert_true((required <= in.provided) == (solved <= in.provided));
    }
}

/* By hand, one pass of Eq. 18-1 with S1 at 66 in, of which 18 in do not count: S1 = 300 x 4/3 = 400 psf, A = 2.34 x
 * 448/(400 x 1.5) = 1.7472 ft, d = 1.5 + 0.8736 (1 + sqrt(1 + 4.36 x 7.91667/1.7472)) = 6.35355 ft. */
static void depth_provided_by_hand(void **state) {
  (void)state;
  struct sl_embed_neglecting_in in = post;
  in.neglect = 18 * IN, in.provided = 66 * IN;
  assert_near(depth_of(in).a / FT, 1.7472, 1e-6);
  assert_near(depth_of(in).pressure / PSF, 400, 1e-9);
  assert_near(depth_of(in).depth / FT, 6.35355, 2e-6);
  struct sl_embed_neglecting_out out;
  struct sl_sheet sheet = { .cap = 0 };
  in.from_grade = true;
  assert_int_equal(sl_embed_neglecting(&in, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "neglect");
  in.from_grade = false;
  in.provided = in.neglect;
  assert_int_equal(sl_embed_neglecting(&in, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "provided");
}

/* Below 12 ft of depth the pressure of a held post no longer grows (literal reading of the cap). */
static void soil_counts_no_deeper_than_the_cap(void **state) {
  (void)state;
  struct sl_embed_neglecting_in in = post;
  in.lateral = 33700 * LBF, in.height = 39.4 * FT, in.width = 14.849 * FT, in.bearing = 199.5 * PSF_FT;
  in.isolated = false, in.held = true;
  assert_near(depth_of(in).pressure / PSF, 12 * 199.5, 1e-9);
  in.lateral /= 10;
  assert_near(depth_of(in).pressure, in.bearing * depth_of(in).depth, 1e-9);
  assert_true(isnan(depth_of(in).a));
}

/* One depth is the answer of both searches down to 12 ft: whichever is left out there, to the last bit. */
static void readings_part_at_the_cap(void **state) {
  (void)state;
  for (double k = 0.01; k < 400; k *= 1.07)
    for (int kind = 0; kind < 4; kind++) {
      struct sl_embed_neglecting_in in = post;
      in.lateral *= k, in.neglect = kind & 1 ? 18 * IN : 0, in.from_grade = kind & 2;
      const struct sl_embed_neglecting_out out = depth_of(in);
      const double top = in.from_grade ? in.neglect : 0, third = top + out.counted / 3;
      if (third < 4 * FT) assert_memory_equal(&out.strict, &out.depth, sizeof out.depth);
      else if (third > 4.001 * FT) assert_true(out.strict > out.depth);
    }
}

/* By hand: with S1 at min(d, 12 ft)/3, at most 4 ft of a deep post, d is closed: 20000 lbf at 4 ft, 2 ft wide, 150
 * psf/ft: S1 = 600 psf, A = 2.34 x 20000/1200 = 39 ft, d = 19.5 (1 + sqrt(1 + 4.36 x 4/39)) = 19.5 x 2.20299 =
 * 42.9583 ft.  By the text it is less.  A post that is held has S3 at 12 ft, 1800 psf, by both: d2 = 4.25 x 20000 x
 * 40/(1800 x 2), 30.7318 ft. */
static void the_cap_has_two_readings(void **state) {
  (void)state;
  struct sl_embed_neglecting_in in = post;
  in.lateral = 20000 * LBF, in.height = 4 * FT, in.width = 2 * FT, in.isolated = false;
  struct sl_embed_neglecting_out out = depth_of(in);
  assert_near(out.strict / FT, 42.9583, 1e-5);
  assert_true(out.depth < out.strict);
  assert_near(out.counted, out.depth, 0);
  assert_near(out.pressure, in.bearing * out.depth / 3, 1e-9);
  in.held = true, in.height = 40 * FT;
  out = depth_of(in);
  assert_near(out.depth / FT, 30.7318, 1e-5);
  assert_near(out.pressure / PSF, 12 * 150, 1e-9);
  assert_near(out.strict, out.depth, 0);
  in = post;                                     /* down to 12 ft they are one */
  assert_near(depth_of(in).strict, depth_of(in).depth, 0);
}

/* A square post counts as wide as its diagonal. */
static void a_square_post_is_its_diagonal(void **state) {
  (void)state;
  struct sl_embed_neglecting_in in = post, round = post;
  in.width = 5.5 * IN, in.square = true;
  round.width = 5.5 * sqrt(2) * IN;
  assert_near(depth_of(in).depth, depth_of(round).depth, 1e-12);
  assert_near(depth_of(in).strict, depth_of(round).strict, 1e-12);
}

/* The more is left out, the deeper; a force at grade too, where the formula is the flattest. */
static void more_left_out_is_deeper(void **state) {
  (void)state;
  for (int kind = 0; kind < 4; kind++)
    for (double height = 0; height < 3; height += 0.25) {
      struct sl_embed_neglecting_in in = post;
      in.height = height + (kind & 1 ? 1e-6 : 0), in.held = kind & 1, in.from_grade = kind & 2;
      struct sl_embed_neglecting_out before = depth_of(in);
      for (in.neglect = 0.01; in.neglect < 6; in.neglect *= 1.3) {
        const struct sl_embed_neglecting_out out = depth_of(in);
        assert_true(out.depth >= before.depth && out.strict >= out.depth && out.strict >= before.strict);
        before = out;
      }
    }
}

/* By hand: 1800 lbf and 400 lbf on a circle of 18 in, pi/4 x 2.25 = 1.76715 ft2: 1244.95 psf of sand's 2000 (Table
 * 1806.2), 0.62247; the same on a square of 1.5 ft: 2200/2.25 = 977.78 psf. */
static void bearing_by_hand(void **state) {
  (void)state;
  struct sl_soil_bearing_in in = { 1800 * LBF, 400 * LBF, 18 * IN, false, "sand", NAN, "IBC 2021" };
  struct sl_soil_bearing_out out;
  assert_int_equal(sl_soil_bearing(&in, &out, NULL), SL_OK);
  assert_near(out.pressure / PSF, 1244.95, 5e-6);
  assert_near(out.ratio, 0.62247, 1e-5);
  assert_near(out.capacity / LBF, 3534.3, 2e-5);
  in.square = true, in.soil_class[0] = 0, in.vertical = 1000 * PSF;
  assert_int_equal(sl_soil_bearing(&in, &out, NULL), SL_OK);
  assert_near(out.pressure / PSF, 977.778, 1e-6);
  assert_near(out.ratio, 0.977778, 1e-6);
}

/* By hand, the share and the cap from memory of the section: sand 2000/6 = 333.33 psf, bedrock 12000/6 capped at 500;
 * a 16 in pier of 66 in with 18 in of frost: 333.33 x 4.18879 x 4 = 5585.05 lbf; a 5.5 in square post in clay: 250 x
 * 1.83333 x 4 = 1833.3 lbf. */
static void friction_by_hand(void **state) {
  (void)state;
  struct sl_friction_hold_in in = { 16 * IN, false, 66 * IN, 18 * IN, "sand", NAN, "IBC 2021" };
  struct sl_friction_hold_out out;
  assert_int_equal(sl_friction_hold(&in, &out, NULL), SL_OK);
  assert_near(out.force / LBF, 5585.05, 1e-5);
  strcpy(in.soil_class, "bedrock");
  assert_int_equal(sl_friction_hold(&in, &out, NULL), SL_OK);
  assert_near(out.friction / PSF, 500, 1e-12);
  assert_near(out.force / LBF, 8377.58, 1e-5);   /* 500 x 4.18879 x 4 */
  in.width = 5.5 * IN, in.square = true;
  strcpy(in.soil_class, "clay");
  assert_int_equal(sl_friction_hold(&in, &out, NULL), SL_OK);
  assert_near(out.force / LBF, 1833.33, 1e-5);
  assert_near(out.friction / PSF, 250, 1e-9);
}

/* By hand, V = (pi d/3)(R2 + R r + r2) - pi r2 d: a bell of 24 in at 5 ft, 18 in of frost, 30 deg: d = 3.5, R = 1 +
 * 3.5 x 0.57735 = 3.02073; 3.66519 x (9.12479 + 3.02073 + 1) - 10.99557 = 37.1852 ft3, 3718.52 lbf at 100 pcf.  With
 * water from 3.5 ft and 20 deg: R = 2.27390, V = 3.66519 x (5.17060 + 2.27390 + 1) - 10.99557 = 19.9551 ft3; in water
 * d = 1.5, R = 1.54596: 1.57080 x (2.38998 + 1.54596 + 1) - 4.71239 = 3.04096 ft3; 1995.51 - 62.4 x 3.04096 = 1805.76
 * lbf.  All in water 37.6 pcf: 750.31 lbf. */
static void cone_by_hand(void **state) {
  (void)state;
  struct sl_bell_hold_in in = { 24 * IN, 5 * FT, 1.5 * FT, 30 * DEGREE, SL_GOOD_GRANULAR, NAN };
  struct sl_bell_hold_out out;
  assert_int_equal(sl_bell_hold(&in, &out, NULL), SL_OK);
  assert_near(out.volume / FT3, 37.1852, 2e-6);
  assert_near(out.weight / LBF, 3718.52, 2e-6);
  in.dry_to = 3.5 * FT;
  struct sl_sheet sheet = { .cap = 0 };
  assert_int_equal(sl_bell_hold(&in, &out, &sheet), SL_OUT_OF_RANGE);   /* soil in water is no good granular soil */
  assert_string_equal(sheet.fault.member, "angle");
  in.angle = 20 * DEGREE;
  assert_int_equal(sl_bell_hold(&in, &out, NULL), SL_OK);
  assert_near(out.volume / FT3, 19.9551, 1e-5);
  assert_near(out.weight / LBF, 1805.76, 1e-5);
  in.dry_to = 0;
  assert_int_equal(sl_bell_hold(&in, &out, NULL), SL_OK);
  assert_near(out.weight / LBF, 750.31, 1e-5);
  in.dry_to = NAN, in.angle = 31 * DEGREE;
  assert_int_equal(sl_bell_hold(&in, &out, &sheet), SL_OUT_OF_RANGE);
  in.angle = 25 * DEGREE, in.firmness = SL_LOOSE_OR_WET;
  assert_int_equal(sl_bell_hold(&in, &out, &sheet), SL_OUT_OF_RANGE);
}

/* Table 1806.2: sand 0.25, clay 130 psf of the area; half of the dead load from memory of the section. */
static void sliding_by_class(void **state) {
  (void)state;
  struct sl_soil_sliding_in in = { "sand", "IBC 2021" };
  struct sl_soil_sliding_out out;
  assert_int_equal(sl_soil_sliding(&in, &out, NULL), SL_OK);
  assert_near(out.friction, 0.25, 1e-12);
  assert_true(isnan(out.adhesion) && isnan(out.most));
  strcpy(in.soil_class, "clay");
  assert_int_equal(sl_soil_sliding(&in, &out, NULL), SL_OK);
  assert_near(out.adhesion / PSF, 130, 1e-9);
  assert_near(out.most, 0.5, 1e-12);
  assert_true(isnan(out.friction));
}

/* ANSI/ASAE EP486.3, 1.2.1: 4.5 posts or 3 footings; nearer is refused. */
static void near_piers_are_a_group(void **state) {
  (void)state;
  struct sl_pier_spacing_in in = { 18 * IN, 5.5 * IN, NAN };
  struct sl_pier_spacing_out out;
  assert_int_equal(sl_pier_spacing(&in, &out, NULL), SL_OK);
  assert_near(out.least / IN, 54, 1e-12);
  in.diameter = in.post_width;
  assert_int_equal(sl_pier_spacing(&in, &out, NULL), SL_OK);
  assert_near(out.least / IN, 24.75, 1e-12);
  in.spacing = 24.75 * IN;
  assert_int_equal(sl_pier_spacing(&in, &out, NULL), SL_OK);
  in.spacing = 24 * IN;
  struct sl_sheet sheet = { .cap = 0 };
  assert_int_equal(sl_pier_spacing(&in, &out, &sheet), SL_OUT_OF_RANGE);
  assert_string_equal(sheet.fault.member, "spacing");
  assert_near(sheet.fault.limit / IN, 24.75, 1e-6);
  in.spacing = NAN, in.post_width = -1;
  assert_int_equal(sl_pier_spacing(&in, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "post_width");
  in.post_width = NAN;
  assert_int_equal(sl_pier_spacing(&in, &out, NULL), SL_OK);
  assert_near(out.least / IN, 16.5, 1e-12);
}

/* By hand: 1000 lbf up; 100 lbf of rack, a post of 80 lbf with 1 ft3 below, 8 ft3 of concrete at 145 pcf (1160 lbf),
 * 5 ft deep.  Dry: 0.6 x 1340 = 804.  Water from 2 ft: 60 %, 62.4 x 0.6 = 37.44 pcf: 42.56 and 860.48 lbf: 0.6 x
 * 1003.04 = 601.824.  Not keyed, dry: 0.6 x 180 = 108.  Friction of 500 lbf is allowable as it is: 1304; a cone of
 * 500 lbf weighs: 1104. */
static void weights_by_hand(void **state) {
  (void)state;
  const struct sl_ground_uplift_in dry = { 1000 * LBF, 100 * LBF, 80 * LBF, FT3, 8 * FT3, 5 * FT, true, NAN, NAN, NAN,
                                           NAN, "ASCE 7-16" };
  struct sl_ground_uplift_in in = dry;
  struct sl_ground_uplift_out out;
  assert_int_equal(sl_ground_uplift(&in, &out, NULL), SL_OK);
  assert_near(out.demand / LBF, 600, 1e-9);
  assert_near(out.resistance / LBF, 804, 1e-9);
  assert_near(out.ratio, 600. / 804, 1e-9);
  in.dry_to = 2 * FT;
  assert_int_equal(sl_ground_uplift(&in, &out, NULL), SL_OK);
  assert_near(out.weight / LBF, 1003.04, 1e-9);
  assert_near(out.resistance / LBF, 601.824, 1e-9);
  in = dry, in.friction = 500 * LBF;
  assert_int_equal(sl_ground_uplift(&in, &out, NULL), SL_OK);
  assert_near(out.resistance / LBF, 1304, 1e-9);
  in = dry, in.cone = 500 * LBF;
  assert_int_equal(sl_ground_uplift(&in, &out, NULL), SL_OK);
  assert_near(out.resistance / LBF, 1104, 1e-9);
  in.keyed = false;
  assert_int_equal(sl_ground_uplift(&in, &out, NULL), SL_OK);
  assert_near(out.resistance / LBF, 108, 1e-9);
  /* 3 of the 8 ft3 in a bell, water from 2 ft on: 145 x 8 - 62.4 x (5 x 0.6 + 3) = 785.6 lbf, 80 - 62.4 x 0.6 = 42.56:
   * 0.6 x (100 + 42.56 + 785.6) = 556.896; dry to its base it is as without a bell. */
  in = dry, in.bell = 3 * FT3, in.dry_to = 2 * FT;
  assert_int_equal(sl_ground_uplift(&in, &out, NULL), SL_OK);
  assert_near(out.resistance / LBF, 556.896, 1e-9);
  in.dry_to = 5 * FT;
  assert_int_equal(sl_ground_uplift(&in, &out, NULL), SL_OK);
  assert_near(out.resistance / LBF, 804, 1e-9);
  in = dry, in.keyed = false;
  in.friction = 500 * LBF;
  assert_int_equal(sl_ground_uplift(&in, &out, NULL), SL_OK);
  assert_near(out.resistance / LBF, 108, 1e-9);
  in = dry, in.friction = 500 * LBF, in.cone = 500 * LBF;
  struct sl_sheet sheet = { .cap = 0 };
  assert_int_equal(sl_ground_uplift(&in, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "cone");
  in = dry, in.dead = 0, in.concrete = 0, in.post = 30 * LBF, in.dry_to = 0;      /* dry wood floats: 30 < 62.4 */
  assert_int_equal(sl_ground_uplift(&in, &out, &sheet), SL_OUT_OF_RANGE);
  assert_string_equal(sheet.fault.member, "post");
}

/* EP486.3, 1.2.1: three widths of the footing, 4.5 of the post.  By hand: 18 in piers want 54 in, a 24 in one beside
 * them 72 in, a post of 14 in 63 in.  Two piers 61 in apart, and 80 in from the second, of another rack, one 24 in
 * wide: 0.885 and 0.9 of what there is; with 50 in the first two are a group. */
static void the_nearest_piers_by_hand(void **state) {
  (void)state;
  struct sl_pier_at piers[] = { { 0, 0, 18 * IN, 5.5 * IN, 1 }, { 61 * IN, 0, 18 * IN, 5.5 * IN, 1 },
                                { 61 * IN, 80 * IN, 24 * IN, 5.5 * IN, 2 },
                                { 61 * IN, 81 * IN, 24 * IN, 5.5 * IN, 2 } };
  const struct sl_piers_apart_in in = { piers, 4, 1 }, other = { piers, 4, 2 }, none = { piers, 4, 3 },
                                 one = { piers, 1, 1 };
  struct sl_piers_apart_out out;
  assert_int_equal(sl_piers_apart(&in, &out, NULL), SL_OK);
  assert_int_equal(out.first * 10 + out.second, 23);
  assert_near(out.spacing / IN, 80, 1e-9);
  assert_near(out.least / IN, 72, 1e-9);
  piers[1].east = 50 * IN, piers[2].east = 50 * IN;
  assert_int_equal(sl_piers_apart(&in, &out, NULL), SL_OK);
  assert_int_equal(out.first * 10 + out.second, 12);
  assert_near(out.spacing / IN, 50, 1e-9);
  assert_near(out.least / IN, 54, 1e-9);
  piers[1].post_width = 14 * IN;
  assert_int_equal(sl_piers_apart(&in, &out, NULL), SL_OK);
  assert_near(out.least / IN, 63, 1e-9);
  assert_int_equal(sl_piers_apart(&other, &out, NULL), SL_OK);
  assert_int_equal(out.first * 10 + out.second, 34);
  struct sl_sheet sheet = { .cap = 0 };
  assert_int_equal(sl_piers_apart(&none, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "of");
  assert_int_equal(sl_piers_apart(&one, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "piers");
}

/* V18, ratings page of a supplier: Kt 10 and 6500 ft-lb are 65.0 kip, 7 and 13000 are 91.0 kip; halved.  Pulls: the
 * least over 2, from memory of the section. */
static const struct sl_screw_anchor_in screw = {
  .axial = 10000 * LBF, .shaft = "square bar", .torque = 6500 * MOMENT_US, .sideways = NAN, .helix = 8 * IN,
  .top_depth = 40 * IN, .frost = 24 * IN, .edition = "IBC 2021",
};
static void screws_by_torque_and_pulls(void **state) {
  (void)state;
  static const double pulls[] = { 3000 * LBF, 2400 * LBF, 2800 * LBF };
  struct sl_screw_anchor_in in = screw;
  struct sl_screw_anchor_out out;
  assert_int_equal(sl_screw_anchor(&in, &out, NULL), SL_OK);
  assert_near(out.ultimate / LBF, 65000, 1e-9);
  assert_near(out.allowable / LBF, 32500, 1e-9);
  assert_near(out.ratio, 10. / 32.5, 1e-9);
  assert_true(isnan(out.sideways_ratio));
  in.shaft[0] = 0, in.torque = NAN, in.pulls = pulls, in.npulls = 3, in.lateral = 300 * LBF, in.sideways = 400 * LBF;
  assert_int_equal(sl_screw_anchor(&in, &out, NULL), SL_OK);
  assert_near(out.ultimate / LBF, 2400, 1e-9);
  assert_near(out.allowable / LBF, 1200, 1e-9);
  assert_near(out.sideways_ratio, 0.75, 1e-9);
  in.npulls = 1;
  assert_int_equal(sl_screw_anchor(&in, &out, NULL), SL_OK);
  assert_near(out.allowable / LBF, 1500, 1e-9);
}

/* Half of the least pull, by hand, of what has no helix; and of no load what it holds alone. */
static void a_driven_post_by_pulls(void **state) {
  (void)state;
  static const double pulls[] = { 3000 * LBF, 2400 * LBF };
  struct sl_sheet sheet = { .cap = 0 };
  struct sl_screw_anchor_out out;
  struct sl_screw_anchor_in in = {
    .axial = NAN, .lateral = NAN, .torque = NAN, .pulls = pulls, .npulls = 2, .sideways = 400 * LBF, .helix = NAN,
    .top_depth = NAN, .frost = 60 * IN, .edition = "IBC 2021",
  };
  assert_int_equal(sl_screw_anchor(&in, &out, NULL), SL_OK);
  assert_near(out.allowable / LBF, 1200, 1e-9);
  assert_true(isnan(out.ratio) && isnan(out.sideways_ratio));
  in.axial = 600 * LBF;
  assert_int_equal(sl_screw_anchor(&in, &out, NULL), SL_OK);
  assert_near(out.ratio, 0.5, 1e-9);
  in.top_depth = 59 * IN;                        /* half a helix is none */
  assert_int_equal(sl_screw_anchor(&in, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "helix");
  in.helix = 8 * IN;                             /* above what freezes */
  assert_int_equal(sl_screw_anchor(&in, &out, &sheet), SL_OUT_OF_RANGE);
  in = screw, in.helix = NAN, in.top_depth = NAN;                               /* by torque it has a helix */
  assert_int_equal(sl_screw_anchor(&in, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "helix");
}

static void screws_are_refused(void **state) {
  (void)state;
  struct sl_sheet sheet = { .cap = 0 };
  struct sl_screw_anchor_out out;
  struct sl_screw_anchor_in in = screw;
  in.torque = NAN;                               /* neither torque nor pulls */
  assert_int_equal(sl_screw_anchor(&in, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "torque");
  in = screw, in.lateral = 1;
  assert_int_equal(sl_screw_anchor(&in, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "sideways");
  in = screw, in.top_depth = 39 * IN;            /* 5 x 8 in */
  assert_int_equal(sl_screw_anchor(&in, &out, &sheet), SL_OUT_OF_RANGE);
  assert_string_equal(sheet.fault.member, "top_depth");
  in = screw, in.frost = 41 * IN;
  assert_int_equal(sl_screw_anchor(&in, &out, &sheet), SL_OUT_OF_RANGE);
  assert_near(sheet.fault.limit / IN, 41, 1e-6);
  in = screw, in.torque = -1;
  assert_int_equal(sl_screw_anchor(&in, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "torque");
  in = screw, in.sideways = -1;
  assert_int_equal(sl_screw_anchor(&in, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "sideways");
  in = screw, strcpy(in.shaft, "pipe of 5 in");
  assert_int_equal(sl_screw_anchor(&in, &out, &sheet), SL_NO_ROW);
  assert_string_equal(sheet.fault.member, "shaft");
}

/* Deeper never holds less, wider never needs deeper, wetter never holds more. */
static void laws_hold(void **state) {
  (void)state;
  double friction = 0, cone = 0, needed = INFINITY, wet = 0, wet_cone = 0;
  for (double d = 0.5; d < 5; d += 0.1) {
    const struct sl_friction_hold_in along = { 0.4, false, d, 0.4, "clay", NAN, "IBC 2018" };
    const struct sl_bell_hold_in bell = { 0.6, d, 0.4, 0.3, SL_LOOSE_OR_WET, 0.7 };
    const struct sl_bell_hold_in drier = { 0.6, 3, 0.4, 0.3, SL_LOOSE_OR_WET, d };
    const struct sl_ground_uplift_in in = { 4000, 500, 400, 0.03, 0.2, 3, true, d, NAN, NAN, 0.05, "ASCE 7-22" };
    struct sl_embed_neglecting_in wide = post;
    struct sl_friction_hold_out f;
    struct sl_bell_hold_out b, dried;
    struct sl_ground_uplift_out u;
    wide.width = d, wide.neglect = 0.3;
    assert_int_equal(sl_friction_hold(&along, &f, NULL), SL_OK);
    assert_int_equal(sl_bell_hold(&bell, &b, NULL), SL_OK);
    assert_int_equal(sl_bell_hold(&drier, &dried, NULL), SL_OK);
    assert_int_equal(sl_ground_uplift(&in, &u, NULL), SL_OK);
    assert_true(f.force > friction && b.weight > cone && depth_of(wide).depth < needed);
    assert_true(u.resistance >= wet && dried.weight >= wet_cone);
    friction = f.force, cone = b.weight, needed = depth_of(wide).depth, wet = u.resistance, wet_cone = dried.weight;
  }
}

/* The depth that is left out is one, and leaves some soil; what clings has an area and a part. */
static void halves_are_refused(void **state) {
  (void)state;
  struct sl_sheet sheet = { .cap = 0 };
  struct sl_friction_hold_out f;
  struct sl_bell_hold_out b;
  for (int i = 0; i < 2; i++) {
    const double neglect = i ? 1.5 : -0.1;
    const struct sl_friction_hold_in along = { 2, false, 1.5, neglect, "gravel", NAN, "IBC 2021" };
    const struct sl_bell_hold_in bell = { 2, 1.5, neglect, 0.3, SL_LOOSE_OR_WET, NAN };
    assert_int_equal(sl_friction_hold(&along, &f, &sheet), SL_BAD_INPUT);
    assert_string_equal(sheet.fault.member, "neglect");
    sheet.fault.member = "";
    assert_int_equal(sl_bell_hold(&bell, &b, &sheet), SL_BAD_INPUT);
    assert_string_equal(sheet.fault.member, "neglect");
  }
  const struct sl_pier_spacing_in nowhere = { 0.4, NAN, -1 };
  struct sl_pier_spacing_out apart;
  assert_int_equal(sl_pier_spacing(&nowhere, &apart, &sheet), SL_BAD_INPUT);
  const struct sl_friction_hold_in gravel = { 2, false, 1.5, 0, "gravel", NAN, "IBC 2021" };
  assert_int_equal(sl_friction_hold(&gravel, &f, NULL), SL_OK);
  assert_near(f.friction / PSF, 500, 1e-9);      /* 3000/6: the table's own word */
}

static void soil_is_given_in_one_way(void **state) {
  (void)state;
  struct sl_sheet sheet = { .cap = 0 };
  struct sl_soil_bearing_out out;
  struct sl_soil_bearing_in in = { 1, 1, 1, false, "sand", 1000, "IBC 2021" };
  assert_int_equal(sl_soil_bearing(&in, &out, &sheet), SL_BAD_INPUT);
  assert_string_equal(sheet.fault.member, "vertical");
  in.soil_class[0] = 0, in.vertical = NAN;
  assert_int_equal(sl_soil_bearing(&in, &out, &sheet), SL_BAD_INPUT);
  in.vertical = -1;
  assert_int_equal(sl_soil_bearing(&in, &out, &sheet), SL_BAD_INPUT);
  in.vertical = NAN, strcpy(in.soil_class, "peat");
  assert_int_equal(sl_soil_bearing(&in, &out, &sheet), SL_NO_ROW);
  assert_string_equal(sheet.fault.member, "soil_class");
}

static const struct sl_soil_bearing_in good_bearing = { 1800, 400, 0.45, true, "clay", NAN, "IBC 2012" };
static const struct sl_friction_hold_in good_friction = { 0.4, true, 1.5, 0.3, "", 70000, "IBC 2021" };
static const struct sl_bell_hold_in good_bell = { 0.6, 1.5, 0.3, 0.3, SL_GOOD_GRANULAR, 0.9 };
static const struct sl_soil_sliding_in good_sliding = { "clay", "IBC 2021" };
static const struct sl_pier_spacing_in good_spacing = { 0.4, 0.14, 2 };
static const struct sl_pier_at pier_places[] = { { 0, 0, 0.4, 0.14, 1 }, { 1.3, 0.2, 0.5, 0.14, 2 } };
static const struct sl_piers_apart_in good_piers = { pier_places, 2, 2 };
static const struct sl_ground_uplift_in good_uplift = {
  4000, 500, 400, 0.03, 0.2, 3, true, 1, NAN, 900, 0.05, "ASCE 7-22",
};
static const double pulled[] = { 9000, 8000 };
static const struct sl_screw_anchor_in good_screw = {
  .axial = 3000, .lateral = 500, .torque = NAN, .pulls = pulled, .npulls = 2, .sideways = 900, .helix = 0.2,
  .top_depth = 1.2, .frost = 0.6, .edition = "IBC 2021",
};
static const struct op_case ops[] = {
  { "embed_neglecting", &post }, { "soil_bearing", &good_bearing }, { "friction_hold", &good_friction },
  { "bell_hold", &good_bell }, { "soil_sliding", &good_sliding }, { "pier_spacing", &good_spacing },
  { "piers_apart", &good_piers },
  { "ground_uplift", &good_uplift }, { "screw_anchor", &good_screw },
};

int main(void) {
  struct CMUnitTest tests[64];
  size_t n = 0;
  ADD_ROWS(tests, n, ops, op_behaves);
  static const struct CMUnitTest laws[] = {
    cmocka_unit_test(frozen_soil_by_the_brief), cmocka_unit_test(counted_soil_by_hand),
    cmocka_unit_test(held_and_counted_by_hand), cmocka_unit_test(the_sheet_gives_both_depths),
    cmocka_unit_test(more_load_more_depth), cmocka_unit_test(isolated_is_twice_the_soil),
    cmocka_unit_test(shear_alone_by_hand), cmocka_unit_test(solved_depth_needs_itself),
    cmocka_unit_test(depth_provided_by_hand), cmocka_unit_test(soil_counts_no_deeper_than_the_cap),
    cmocka_unit_test(readings_part_at_the_cap), cmocka_unit_test(the_cap_has_two_readings),
    cmocka_unit_test(a_square_post_is_its_diagonal), cmocka_unit_test(more_left_out_is_deeper),
    cmocka_unit_test(bearing_by_hand), cmocka_unit_test(friction_by_hand), cmocka_unit_test(cone_by_hand),
    cmocka_unit_test(sliding_by_class), cmocka_unit_test(near_piers_are_a_group),
    cmocka_unit_test(the_nearest_piers_by_hand), cmocka_unit_test(weights_by_hand),
    cmocka_unit_test(a_driven_post_by_pulls), cmocka_unit_test(screws_by_torque_and_pulls),
    cmocka_unit_test(screws_are_refused), cmocka_unit_test(laws_hold), cmocka_unit_test(soil_is_given_in_one_way),
    cmocka_unit_test(halves_are_refused), cmocka_unit_test(hopeless_load_has_no_answer),
    cmocka_unit_test(least_depths_in_closed_form),
  };
  for (size_t i = 0; i < sizeof laws / sizeof *laws; i++) tests[n++] = laws[i];
  return _cmocka_run_group_tests("ground", tests, n, NULL, NULL);
}
