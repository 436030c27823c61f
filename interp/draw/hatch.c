/* SPDX-License-Identifier: MIT
 * Materials where they are cut: samples of a size on paper, the same on every run. */
#include <math.h>
#include <string.h>
#include "draw/drawing.h"
#include "table.h"

/* Marks are on a grid that is shifted from row to row; a hatch of more is a mistake of whoever asks for it. */
enum { MOST_MARKS = 20000 };

static bool inside(const double *xy, size_t n, double x, double y) {
  bool in = false;
  for (size_t i = 0, k = n - 1; i < n; k = i++) {
    const double x1 = xy[2 * i], y1 = xy[2 * i + 1], x2 = xy[2 * k], y2 = xy[2 * k + 1];
    if ((y1 > y) != (y2 > y) && x < x1 + (x2 - x1) * (y - y1) / (y2 - y1)) in = !in;
  }
  return in;
}

/* Whether a circle of that radius lies inside, by eight of its points. */
static bool room(const double *xy, size_t n, double x, double y, double radius) {
  for (int i = 0; i < 8; i++) {
    const double turn = i * 0.78539816339744830962;
    if (!inside(xy, n, x + radius * cos(turn), y + radius * sin(turn))) return false;
  }
  return true;
}

static struct sl_box around(const double *xy, size_t n) {
  struct sl_box b = { xy[0], xy[1], xy[0], xy[1] };
  for (size_t i = 1; i < n; i++) {
    b.left = fmin(b.left, xy[2 * i]);
    b.right = fmax(b.right, xy[2 * i]);
    b.low = fmin(b.low, xy[2 * i + 1]);
    b.high = fmax(b.high, xy[2 * i + 1]);
  }
  return b;
}

static void gravel(struct sl_drawing *d, double x, double y, double size, size_t k) {
  sl_draw_circle(d, x, y, size * (0.75 + 0.25 * (double)(k % 3)), false);
}

/* Every third mark is a triangle, the others are dots. */
static void concrete(struct sl_drawing *d, double x, double y, double size, size_t k) {
  const double xy[] = { x - size, y - size / 2, x + size, y - size / 2, x, y + size };
  if (k % 3 == 0) sl_draw_polyline(d, xy, 3, true, false);
  else sl_draw_circle(d, x, y, size / 5, true);
}

static void stipple(struct sl_drawing *d, const double *xy, size_t n, double pitch, double size,
                    void (*mark)(struct sl_drawing *, double, double, double, size_t)) {
  const struct sl_box b = around(xy, n);
  if (!(pitch > 0) || (b.right - b.left) / pitch * ((b.high - b.low) / pitch) > MOST_MARKS) return;
  size_t k = 0;
  for (size_t row = 0; b.low + pitch * ((double)row + 0.5) < b.high; row++)
    for (size_t col = 0; b.left + pitch * (double)col < b.right; col++, k++) {
      const double x = b.left + pitch * ((double)col + (row % 2 ? 0.75 : 0.25));
      const double y = b.low + pitch * ((double)row + 0.5);
      if (room(xy, n, x, y, 1.2 * size)) mark(d, x, y, size, k);
    }
}

/* Lines that rise at 45 degrees. */
static void slanted(struct sl_drawing *d, const double *xy, size_t n, double pitch) {
  const struct sl_box b = around(xy, n);
  const double low = b.low - b.right, high = b.high - b.left;
  if (!(pitch > 0) || (high - low) / pitch > MOST_MARKS) return;
  for (double s = floor(low / pitch) * pitch + pitch; s < high; s += pitch) {
    double cut[16];
    size_t cuts = 0;
    for (size_t i = 0, k = n - 1; i < n; k = i++) {
      const double s1 = xy[2 * k + 1] - xy[2 * k] - s, s2 = xy[2 * i + 1] - xy[2 * i] - s;
      if ((s1 < 0) != (s2 < 0) && cuts < 16) cut[cuts++] = xy[2 * k] + (xy[2 * i] - xy[2 * k]) * s1 / (s1 - s2);
    }
    for (size_t i = 1; i < cuts; i++)
      for (size_t k = i; k > 0 && cut[k] < cut[k - 1]; k--) {
        const double other = cut[k];
        cut[k] = cut[k - 1];
        cut[k - 1] = other;
      }
    for (size_t i = 0; i + 1 < cuts; i += 2) sl_draw_line(d, cut[i], cut[i] + s, cut[i + 1], cut[i + 1] + s);
  }
}

static void earth(struct sl_drawing *d, const double *xy, double pitch, double size) {
  const double long_ = hypot(xy[2] - xy[0], xy[3] - xy[1]);
  if (!(pitch > 0) || long_ / pitch > MOST_MARKS) return;
  for (double at = pitch / 4; at + size < long_; at += pitch)
    for (int i = 0; i < 3; i++) {
      const double t = (at + size * (0.45 * i + 0.6)) / long_, off = size * 0.6;
      const double x = xy[0] + (xy[2] - xy[0]) * t, y = xy[1] + (xy[3] - xy[1]) * t;
      if (t <= 1) sl_draw_line(d, x, y, x - off, y - off);
    }
}

bool sl_draw_hatch(struct sl_drawing *d, const char *material, const double *xy, size_t n) {
  FIND(row, drawing_hatches, strcmp(row->name, material) == 0);
  if (!row || n < 2) return false;
  const double pitch = row->pitch * d->ratio, size = row->size * d->ratio;
  const int was = d->pen;
  d->pen = sl_pen("fine");
  if (strcmp(material, "earth") == 0) earth(d, xy, pitch, size);
  else if (strcmp(material, "gravel") == 0) stipple(d, xy, n, pitch, size, gravel);
  else if (strcmp(material, "concrete") == 0) stipple(d, xy, n, pitch, size, concrete);
  else if (strcmp(material, "steel") == 0) slanted(d, xy, n, pitch);
  else if (n == 4) {                                         /* wood, cut across */
    sl_draw_line(d, xy[0], xy[1], xy[4], xy[5]);
    sl_draw_line(d, xy[2], xy[3], xy[6], xy[7]);
  }
  d->pen = was;
  return true;
}
