/* SPDX-License-Identifier: MIT
 * Moments of a post that stands in soil: what its embedment takes beside a push, and what bends the post most below the
 * ground.  SI: m, N, N m, Pa/m.  All at allowable level.
 *
 * embed_moment is the post formula of the building code (1807.3.2) read backwards.  With A = c_A P/(S1 b) in
 * d = A/2 (1 + sqrt(1 + c_h h/A)), twice the depth over A, less 1, squared is 1 + c_h h/A: so
 * P h = (4/c_h) (S1 b d^2/c_A - P d): what it takes without a push, less what each pound of push takes off.
 *
 * buried_moment is statics.  Two ways for the soil to hold a post that stands in d of soil that counts, pushed by P
 * with the moment M where that begins; the larger moment counts:
 *
 * - a stiff post turns, and soil holds it like springs that grow with depth, on which the code's formula was built
 *   (Czerniak 1957: it turns about 0.68 of the depth).  Its push on the soil at z is then u z - v z^2; both sums, of
 *   forces and of moments, give u = 6 (3 P d + 4 M)/d^3 and v = 12 (2 P d + 3 M)/d^4, whatever the soil is.  The
 *   shear is (1 - t) (P (1 + t) - Q t^2), t = z/d, Q = 8 P + 12 M/d: none at t = (P + sqrt(P^2 + 4 P Q))/(2 Q), and
 *   there M_z = M + P z - (3 P d + 4 M) t^3 + (2 P d + 3 M) t^4.  A post that bends is held further up and bent less.
 * - soil is used whole from the top on: s per depth on the width b brings the push to rest at z = sqrt(2 P/(s b)),
 *   where M_z = M + 2/3 P z.  s is the soil's lateral bearing, not doubled; where a load of the very post was tested,
 *   that by which the code's formula gives its depth for the tested load, if it is more.
 *
 * Derived from statics, not measured. */
#ifndef STRINGLINE_EMBEDDED_H
#define STRINGLINE_EMBEDDED_H

#include <stdbool.h>
#include "stringline/sheet.h"

struct sl_embed_moment_in {
  double depth;          /* of its foot below grade, > neglect */
  double width;          /* diameter of the concrete or post; side of a square one, > 0 */
  bool square;           /* that stands in the soil as it is: its diagonal counts.  False in round concrete */
  double bearing;        /* allowable lateral bearing per depth, > 0 */
  bool isolated;         /* as in sl_embed_in: doubled */
  bool held;             /* at grade by a rigid slab or pavement */
  double neglect;        /* depth of the soil that does not count, >= 0 */
  bool from_grade;       /* pressure grows from grade, else from where soil counts */
  char edition[SL_EDITION_NAME];   /* "IBC 2021" */
};
struct sl_embed_moment_out {
  double alone;          /* moment at grade that it takes without a push */
  double arm;            /* what a push takes off it, for each of its force; 0 where it is held at grade */
  double pressure;       /* S1, or S3 */
};
enum sl_status sl_embed_moment(const struct sl_embed_moment_in *in, struct sl_embed_moment_out *out,
                               struct sl_sheet *sh);

struct sl_buried_moment_in {
  double lateral;        /* P at grade, >= 0 */
  double moment;         /* at grade, >= 0; taken to bend the same way as the push */
  double depth;          /* of its foot below grade, > neglect */
  double width;          /* of the post or shaft, its side and not its diagonal, > 0 */
  double bearing;        /* allowable lateral bearing of the soil per depth, > 0; NAN: by the test alone */
  double tested;         /* load across such a post that a test allows, > 0; NAN: none */
  double tested_at;      /* its height above grade, >= 0; NAN: at grade */
  double neglect;        /* depth of the soil that does not count, >= 0 */
  char edition[SL_EDITION_NAME];   /* "IBC 2021" */
};
struct sl_buried_moment_out {
  double moment;         /* largest in the post, >= that at grade */
  double at;             /* its depth below grade */
  double bearing;        /* of the soil, as it was counted */
};
enum sl_status sl_buried_moment(const struct sl_buried_moment_in *in, struct sl_buried_moment_out *out,
                                struct sl_sheet *sh);

#endif
