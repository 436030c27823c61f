/* SPDX-License-Identifier: MIT
 * Wind over hills: the topographic factor Kzt. */
#include "guard.h"
#include "table.h"
#include "stringline/wind_faces.h"

#define HILL "@wind_hill"

const char *const sl_hills[] = { [SL_RIDGE] = "ridge", [SL_ESCARPMENT] = "escarpment", [SL_HILL] = "hill", NULL };

enum sl_status sl_topographic(const struct sl_topographic_in *in, struct sl_topographic_out *out, struct sl_sheet *sh) {
  ONE_OF(sh, in, shape, SL_HILL);
  NOT_NEGATIVE(sh, in, height, SL_LENGTH);
  POSITIVE(sh, in, half_length, SL_LENGTH);
  NOT_NEGATIVE(sh, in, distance, SL_LENGTH);
  NOT_NEGATIVE(sh, in, above_ground, SL_LENGTH);
  EDITION(sh, in, edition, "ASCE", edition);
  const char *const name = sl_hills[in->shape];
  FIND(shape, wind_hill_shapes, STANDS(shape, edition) && sl_same_text(shape->shape, name));
  if (!shape) return NO_ROW(sh, "shape", "has no row in this edition", HILL);

  GIVEN(sh, SL_LENGTH, H, in->height);
  GIVEN(sh, SL_LENGTH, Lh, in->half_length);
  GIVEN(sh, SL_LENGTH, x, in->distance);
  GIVEN(sh, SL_LENGTH, z, in->above_ground);
  FACT(sh, SL_NUMBER, ratio_min, "hill_least", edition);
  FACT(sh, SL_NUMBER, ratio_max, "hill_most", edition);
  STEP(sh, SL_NUMBER, ratio, fmin(H / Lh, ratio_max), HILL);
  *out = (struct sl_topographic_out){ 0 };
  if (ratio + 1e-9 < ratio_min) {
    LOOKUP(sh, SL_NUMBER, Kzt, 1, "a hill flatter than the figure's least H/Lh does not count", HILL,
           sl_known_as(shape->known, edition));
    GIVES(sh, out, kzt, Kzt);
    return SL_OK;
  }
  FIND(above, wind_hill, STANDS(above, edition) && sl_same_text(above->shape, name) && above->ratio >= ratio - 1e-9);
  if (!above) return NO_ROW(sh, "shape", "has no row in this edition", HILL);
  const struct sl_table_wind_hill *below = above;
  for (size_t i = 0; i < SL_ROWS_OF_wind_hill; i++) {
    const struct sl_table_wind_hill *r = &sl_table_wind_hill[i];         /* rows rise in H/Lh */
    if (STANDS(r, edition) && sl_same_text(r->shape, name) && r->ratio <= ratio + 1e-9) below = r;
  }
  FROM(sh, SL_NUMBER, ratio_a, below, ratio, "row at or below H/Lh", edition);
  FROM(sh, SL_NUMBER, ratio_b, above, ratio, "row above it, or the same", edition);
  FROM(sh, SL_NUMBER, K1_a, below, k1, below->name, edition);
  FROM(sh, SL_NUMBER, K1_b, above, k1, above->name, edition);
  FROM(sh, SL_NUMBER, gamma, shape, gamma, shape->name, edition);
  LOOKUP(sh, SL_NUMBER, mu, in->downwind ? shape->downwind : shape->upwind,
         in->downwind ? "mu downwind of the crest" : "mu upwind of the crest", shape->cite,
         sl_known_as(shape->known, edition));
  STEP(sh, SL_NUMBER, K1, ratio_b > ratio_a ? K1_a + (K1_b - K1_a) * (ratio - ratio_a) / (ratio_b - ratio_a) : K1_a,
       HILL);
  STEP(sh, SL_LENGTH, L_taken, H / ratio, HILL);         /* Lh, or 2 H where H/Lh is taken as 0.5 */
  STEP(sh, SL_NUMBER, K2, fmax(0, 1 - x / (mu * L_taken)), HILL);
  STEP(sh, SL_NUMBER, K3, exp(-gamma * z / L_taken), HILL);
  STEP(sh, SL_NUMBER, Kzt, (1 + K1 * K2 * K3) * (1 + K1 * K2 * K3), HILL);
  GIVES(sh, out, kzt, Kzt);
  GIVES(sh, out, k1, K1);
  GIVES(sh, out, k2, K2);
  GIVES(sh, out, k3, K3);
  return SL_OK;
}
