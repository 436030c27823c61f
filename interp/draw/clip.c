/* SPDX-License-Identifier: MIT
 * A part of a drawing: what stands between two places along it.  Lines end at its edges; what has one place, as a
 * circle or a text, is in the part in which its middle lies. */
#include <math.h>
#include "draw/drawing.h"

struct part { double left, right; };

static bool in(const struct part *p, double x) { return p->left <= x && x <= p->right; }

/* The stretch of a side that lies in the part, from t1 to t2 of it; false: none does. */
static bool stretch(const struct part *p, double x1, double x2, double *t1, double *t2) {
  *t1 = 0, *t2 = 1;
  if (x1 == x2) return in(p, x1);
  const double a = (p->left - x1) / (x2 - x1), b = (p->right - x1) / (x2 - x1);
  *t1 = fmax(0, fmin(a, b)), *t2 = fmin(1, fmax(a, b));
  return *t1 < *t2;
}

static void put_polyline(struct sl_drawing *d, const struct part *p, const struct sl_item *item, const double *xy) {
  const size_t n = item->points;
  bool whole = true;
  double middle = 0;
  for (size_t i = 0; i < n; i++) whole = whole && in(p, xy[2 * i]), middle += xy[2 * i] / (double)n;
  if (whole || item->filled) {
    if (whole || in(p, middle)) sl_draw_polyline(d, xy, n, item->closed, item->filled);
    return;
  }
  for (size_t i = 0; i < (item->closed ? n : n - 1); i++) {
    const double *a = xy + 2 * i, *b = xy + 2 * ((i + 1) % n), dx = b[0] - a[0], dy = b[1] - a[1];
    double t1, t2;
    if (stretch(p, a[0], b[0], &t1, &t2))
      sl_draw_line(d, a[0] + t1 * dx, a[1] + t1 * dy, a[0] + t2 * dx, a[1] + t2 * dy);
  }
}

static void put_text(struct sl_drawing *d, const struct part *p, const struct sl_item *item,
                     const struct sl_drawing *all) {
  double corner[8];
  sl_text_corners(all, item, corner);
  const double *at = all->xy + item->first;
  if (in(p, (corner[0] + corner[2] + corner[4] + corner[6]) / 4))
    sl_draw_text(d, at[0], at[1], all->texts + item->text, item->height, item->turn, item->anchor);
}

void sl_drawing_clip(struct sl_drawing *d, double left, double right) {
  struct sl_drawing all = *d;
  const struct part p = { left, right };
  sl_drawing_begin(d, all.ratio, all.grow);
  d->starved = all.starved;
  d->wrong = all.wrong;
  for (size_t i = 0; i < all.nitems; i++) {
    const struct sl_item *item = &all.items[i];
    const double *at = all.xy + item->first;
    d->pen = item->pen;
    d->layer = item->layer;
    if (item->shape == SL_POLYLINE) put_polyline(d, &p, item, at);
    else if (item->shape == SL_TEXT) put_text(d, &p, item, &all);
    else if (!in(&p, at[0])) continue;
    else if (item->shape == SL_CIRCLE) sl_draw_circle(d, at[0], at[1], item->radius, item->filled);
    else sl_draw_arc(d, at[0], at[1], item->radius, item->from, item->to);
  }
  d->pen = all.pen;
  d->layer = all.layer;
  sl_drawing_end(&all);
}
