/* SPDX-License-Identifier: MIT
 * Whether a text of a drawing lies on another text, or on a line: turned boxes, told apart by their separating axes. */
#include <math.h>
#include "draw/drawing.h"

enum { ROUND = 24 };                                         /* sides that stand for a circle */

/* Whether an axis square to a side of a parts the two, each a polygon or a segment, by more than `slack`. */
static bool parted_by(const double *a, size_t na, const double *b, size_t nb, double slack) {
  for (size_t i = 0; i < na; i++) {
    const size_t k = (i + 1) % na;
    const double nx = a[2 * k + 1] - a[2 * i + 1], ny = a[2 * i] - a[2 * k], n = hypot(nx, ny);
    if (!(n > 0)) continue;
    double low_a = INFINITY, high_a = -INFINITY, low_b = INFINITY, high_b = -INFINITY;
    for (size_t p = 0; p < na; p++) {
      const double at = (a[2 * p] * nx + a[2 * p + 1] * ny) / n;
      low_a = fmin(low_a, at), high_a = fmax(high_a, at);
    }
    for (size_t p = 0; p < nb; p++) {
      const double at = (b[2 * p] * nx + b[2 * p + 1] * ny) / n;
      low_b = fmin(low_b, at), high_b = fmax(high_b, at);
    }
    if (high_a <= low_b + slack || high_b <= low_a + slack) return true;
  }
  return false;
}
static bool apart(const double *a, size_t na, const double *b, size_t nb, double slack) {
  return parted_by(a, na, b, nb, slack) || parted_by(b, nb, a, na, slack);
}

/* Most of what stands on a page is far from a text: what lies beside the upright box around it. */
static struct sl_box around(const double *xy, size_t points) {
  struct sl_box b = { INFINITY, INFINITY, -INFINITY, -INFINITY };
  for (size_t i = 0; i < points; i++) {
    if (xy[2 * i] < b.left) b.left = xy[2 * i];
    if (xy[2 * i] > b.right) b.right = xy[2 * i];
    if (xy[2 * i + 1] < b.low) b.low = xy[2 * i + 1];
    if (xy[2 * i + 1] > b.high) b.high = xy[2 * i + 1];
  }
  return b;
}
static bool beside(struct sl_box a, struct sl_box b) {
  return a.right < b.left || b.right < a.left || a.high < b.low || b.high < a.low;
}

static bool meets_round(const struct sl_drawing *d, const double *box, const struct sl_item *item, double slack) {
  const double *c = d->xy + item->first, r = item->radius;
  if (beside(around(box, 4), (struct sl_box){ c[0] - r, c[1] - r, c[0] + r, c[1] + r })) return false;
  const double from = item->shape == SL_ARC ? item->from : 0;
  const double turn = item->shape == SL_ARC ? item->to - item->from : 6.28318530717958647692;
  for (int i = 0; i < ROUND; i++) {
    const double a = from + turn * i / ROUND, b = from + turn * (i + 1) / ROUND;
    const double side[] = { c[0] + item->radius * cos(a), c[1] + item->radius * sin(a),
                            c[0] + item->radius * cos(b), c[1] + item->radius * sin(b) };
    if (!apart(box, 4, side, 2, slack)) return true;
  }
  return false;
}

static bool meets(const struct sl_drawing *d, const double *box, const struct sl_item *item, double slack) {
  const double *xy = d->xy + item->first;
  if (item->shape == SL_TEXT) {
    double other[8];
    sl_text_corners(d, item, other);
    return !apart(box, 4, other, 4, slack);
  }
  if (item->shape != SL_POLYLINE) return meets_round(d, box, item, slack);
  const struct sl_box upright = around(box, 4);
  if (beside(upright, around(xy, item->points))) return false;
  const size_t sides = item->closed ? item->points : item->points - 1;
  for (size_t i = 0; i < sides; i++) {
    const size_t k = (i + 1) % item->points;
    const double side[] = { xy[2 * i], xy[2 * i + 1], xy[2 * k], xy[2 * k + 1] };
    if (!beside(upright, around(side, 2)) && !apart(box, 4, side, 2, slack)) return true;
  }
  return false;
}

/* Most lie far from each other: boxes that lie apart tell so at once. */
static bool near(const struct sl_box *a, const struct sl_box *b) {
  return a->left <= b->right && b->left <= a->right && a->low <= b->high && b->low <= a->high;
}

const char *sl_drawing_touched(const struct sl_drawing *d) {
  const double slack = 1e-6 * d->ratio;
  for (size_t i = 0; i < d->nitems; i++) {
    if (d->items[i].shape != SL_TEXT) continue;
    const struct sl_item *text = &d->items[i];
    double box[8];
    sl_text_corners(d, text, box);
    for (size_t k = 0; k < d->nitems; k++)
      if (k != i && near(&text->box, &d->items[k].box) && meets(d, box, &d->items[k], slack))
        return d->texts + text->text;
  }
  return NULL;
}
