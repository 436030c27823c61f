/* SPDX-License-Identifier: MIT
 * Whether two drawings show the same: item by item the same shapes, pens, layers and texts in the same places. */
#include <math.h>
#include <string.h>
#include "draw/drawing.h"

/* Places are worked out along other ways for racks that stand elsewhere: less than a tenth of what a file can say, a
 * thousandth of a millimetre of paper, is no difference. */
static const double ON_PAPER = 1e-7;

static bool near(double a, double b, double slack) { return fabs(a - b) <= slack; }

static bool same_item(const struct sl_drawing *a, const struct sl_item *i, const struct sl_drawing *b,
                      const struct sl_item *k, double higher) {
  const double slack = ON_PAPER * a->ratio, turned = 1e-9;
  if (i->shape != k->shape || i->pen != k->pen || i->layer != k->layer || i->closed != k->closed ||
      i->filled != k->filled || i->points != k->points) return false;
  for (size_t n = 0; n < 2 * i->points; n++)
    if (!near(a->xy[i->first + n] + (n % 2 ? higher : 0), b->xy[k->first + n], slack)) return false;
  if (i->shape == SL_POLYLINE) return true;
  if (i->shape != SL_TEXT)
    return near(i->radius, k->radius, slack) && near(i->from, k->from, turned) && near(i->to, k->to, turned);
  return near(i->height, k->height, ON_PAPER) && near(i->turn, k->turn, turned) && i->anchor == k->anchor &&
         strcmp(a->texts + i->text, b->texts + k->text) == 0;
}

bool sl_drawing_same(const struct sl_drawing *a, const struct sl_drawing *b, bool at_any_height) {
  if (a->ratio != b->ratio || a->nitems != b->nitems) return false;
  const double higher = at_any_height && a->nitems ? b->box.low - a->box.low : 0;
  for (size_t i = 0; i < a->nitems; i++) if (!same_item(a, &a->items[i], b, &b->items[i], higher)) return false;
  return true;
}
