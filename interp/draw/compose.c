/* SPDX-License-Identifier: MIT
 * What a drawing has more than lines: dimensions, leaders, levels, north, the bar.  Each is made of the plain items. */
#include <math.h>
#include <string.h>
#include "draw/drawing.h"
#include "draw/letters.h"

static const double QUARTER = 1.57079632679489661923;
enum { MOST_ROWS = 6 };                                      /* of texts that stand further out */

static double letter(const struct sl_drawing *d) { return sl_paper(d, "text") / d->ratio; }

/* ---- along or across --------------------------------------------------------------------------------------------- */

/* A line or a text of a chain: `a` along its positions, `b` across. */
static void line_at(struct sl_drawing *d, const struct sl_chain *c, double a1, double b1, double a2, double b2) {
  if (c->upright) sl_draw_line(d, b1, a1, b2, a2);
  else sl_draw_line(d, a1, b1, a2, b2);
}

static void text_at(struct sl_drawing *d, const struct sl_chain *c, double a, double b, const char *text) {
  if (c->upright) sl_draw_text(d, b, a, text, letter(d), QUARTER, SL_MIDDLE);
  else sl_draw_text(d, a, b, text, letter(d), 0, SL_MIDDLE);
}

static int pen_was(struct sl_drawing *d, const char *name) {
  const int was = d->pen;
  d->pen = sl_pen(name);
  return was;
}

static void tick(struct sl_drawing *d, const struct sl_chain *c, double a) {
  const double half = sl_paper(d, "tick") / 2 * 0.70710678118654752440;
  const int was = pen_was(d, "wide");
  if (c->upright) sl_draw_line(d, c->line - half, a - half, c->line + half, a + half);
  else sl_draw_line(d, a - half, c->line - half, a + half, c->line + half);
  d->pen = was;
}

/* ---- chains ------------------------------------------------------------------------------------------------------ */

/* Where the texts of the rows further out end; texts come in the order of their positions. */
struct rows { double end[MOST_ROWS]; };

/* The first row in which a text of that width has room about `middle`. */
static size_t row_for(struct rows *rows, double middle, double wide, double apart) {
  size_t i = 0;
  while (i + 1 < MOST_ROWS && rows->end[i] > middle - wide / 2 - apart) i++;
  rows->end[i] = middle + wide / 2;
  return i;
}

double sl_draw_chain(struct sl_drawing *d, const struct sl_chain *c) {
  const double out = c->line < c->from ? -1 : 1, high = sl_paper(d, "text"), clear = 0.4 * high;
  const double gap = sl_paper(d, "gap"), beyond = sl_paper(d, "beyond");
  struct rows rows;
  double outside = c->line;
  for (size_t i = 0; i < MOST_ROWS; i++) rows.end[i] = -INFINITY;
  const int was = pen_was(d, "thin");
  for (size_t i = 0; i < c->n; i++) {
    line_at(d, c, c->at[i], c->from + out * gap, c->at[i], c->line + out * beyond);
    tick(d, c, c->at[i]);
  }
  /* What is above the line to the reader: left of one that stands upright. */
  const double above = c->upright ? -clear : clear;
  for (size_t i = 0; i + 1 < c->n; i++) {
    const double part = c->at[i + 1] - c->at[i], middle = c->at[i] + part / 2;
    const double wide = sl_letters_width(c->texts[i], high);
    line_at(d, c, c->at[i], c->line, c->at[i + 1], c->line);
    if (!*c->texts[i]) continue;
    if (wide + 2 * clear + sl_paper(d, "tick") * 0.7 < part) {
      text_at(d, c, middle, c->line + above, c->texts[i]);
      continue;
    }
    /* Beyond the end of the chain there is room; else further out. */
    if (i == 0 || i + 2 == c->n) {
      const double end = i == 0 ? c->at[0] : c->at[c->n - 1], way = i == 0 ? -1 : 1;
      line_at(d, c, end, c->line, end + way * (wide + 3 * clear), c->line);
      text_at(d, c, end + way * (wide / 2 + 2 * clear), c->line + above, c->texts[i]);
      continue;
    }
    const size_t row = row_for(&rows, middle, wide, 2 * clear);
    const double near = c->line + out * (beyond + clear + (double)row * 1.7 * high);
    const bool low_side = (out > 0) == !c->upright;          /* the baseline is the side towards the line */
    line_at(d, c, middle, c->line, middle, near - out * clear / 2);
    text_at(d, c, middle, low_side ? near : near + out * high, c->texts[i]);
    if (out * (near + out * 1.4 * high - outside) > 0) outside = near + out * 1.4 * high;
  }
  d->pen = was;
  /* Of an upright chain and of one above, the texts of the next stand towards this one. */
  return outside + out * sl_paper(d, "next");
}

/* Moves places apart until each stands at least `apart` behind the one before; as a whole they stay where they were. */
static void spread(double *at, size_t n, double apart) {
  enum { ROUNDS = 60 };
  for (int k = 0; k < ROUNDS; k++) {
    bool moved = false;
    for (size_t i = 0; i + 1 < n; i++) {
      const double lacks = apart - (at[i + 1] - at[i]);
      if (lacks <= apart * 1e-6) continue;
      at[i] -= lacks / 2;
      at[i + 1] += lacks / 2;
      moved = true;
    }
    if (!moved) return;
  }
  for (size_t i = 0; i + 1 < n; i++) if (at[i + 1] < at[i] + apart) at[i + 1] = at[i] + apart;
}

void sl_draw_running(struct sl_drawing *d, const struct sl_chain *c, double zero) {
  enum { MOST = 256 };
  double place[MOST];
  const double out = c->line < c->from ? -1 : 1, high = sl_paper(d, "text"), clear = 0.4 * high;
  const double gap = sl_paper(d, "gap"), bend = sl_paper(d, "beyond"), ring = sl_paper(d, "zero") / 2;
  const size_t n = c->n < MOST ? c->n : MOST;
  if (n == 0) return;
  if (c->n > MOST) d->wrong = true;                          /* nothing is left out without a word */
  memcpy(place, c->at, n * sizeof *place);
  spread(place, n, 1.7 * high);
  const int was = pen_was(d, "thin");
  line_at(d, c, c->at[0], c->line, c->at[n - 1], c->line);
  for (size_t i = 0; i < n; i++) {
    line_at(d, c, c->at[i], c->from + out * gap, c->at[i], c->line);
    line_at(d, c, c->at[i], c->line, place[i], c->line + out * bend);
    if (fabs(c->at[i] - zero) < 1e-9 * d->ratio) {
      if (c->upright) sl_draw_circle(d, c->line, c->at[i], ring, false);
      else sl_draw_circle(d, c->at[i], c->line, ring, false);
    } else tick(d, c, c->at[i]);
    /* Turned along its line, read from the right: the text begins or ends where the line does. */
    const double b = c->line + out * (bend + clear);
    const enum sl_anchor side = out > 0 ? SL_LEFT : SL_RIGHT;
    if (c->upright) sl_draw_text(d, b, place[i] - high / 2, c->texts[i], letter(d), 0, side);
    else sl_draw_text(d, place[i] + high / 2, b, c->texts[i], letter(d), QUARTER, side);
  }
  d->pen = was;
}

/* ---- marks ------------------------------------------------------------------------------------------------------- */

void sl_draw_leader(struct sl_drawing *d, const struct sl_leader *l) {
  const double high = sl_paper(d, "text"), way = l->to_right ? 1 : -1, step = 1.5 * high;
  const double xy[] = { l->x, l->y, l->elbow_x, l->elbow_y, l->elbow_x + way * high, l->elbow_y };
  const double tip[] = { l->x, l->y, l->x - 0.6 * high, l->y + high, l->x + 0.6 * high, l->y + high };
  const int was = pen_was(d, "thin");
  if (l->level) sl_draw_polyline(d, tip, 3, true, true);
  else sl_draw_circle(d, l->x, l->y, high / 6, true);
  sl_draw_polyline(d, xy, 3, false, false);
  for (size_t i = 0; i < l->n; i++)
    sl_draw_text(d, l->elbow_x + way * 1.4 * high, l->elbow_y - high / 2 + step * ((double)(l->n - 1) / 2 - (double)i),
                 l->texts[i], letter(d), 0, l->to_right ? SL_LEFT : SL_RIGHT);
  d->pen = was;
}

void sl_draw_north(struct sl_drawing *d, double x, double y, double radius, double turn, const char *text) {
  const double c = cos(turn), s = sin(turn), high = sl_paper(d, "text");
  /* The eastern half of the needle is filled. */
  const double own[] = { 0, radius, 0.35 * radius, -0.8 * radius, 0, -0.5 * radius, -0.35 * radius, -0.8 * radius };
  double at[8];
  for (size_t i = 0; i < 4; i++) {
    at[2 * i] = x + own[2 * i] * c - own[2 * i + 1] * s;
    at[2 * i + 1] = y + own[2 * i] * s + own[2 * i + 1] * c;
  }
  const int was = pen_was(d, "medium");
  sl_draw_circle(d, x, y, radius, false);
  sl_draw_polyline(d, at, 4, true, false);
  sl_draw_polyline(d, at, 3, true, true);
  const double far = radius + 1.1 * high;
  sl_draw_text(d, x - far * s, y + far * c - high / 2, "N", letter(d), 0, SL_MIDDLE);
  sl_draw_text(d, x, y - radius - 2.9 * high, text, letter(d), 0, SL_MIDDLE);
  d->pen = was;
}

void sl_draw_bar(struct sl_drawing *d, double x, double y, double part, size_t parts, double ratio,
                 const char *const *texts) {
  const double high = sl_paper(d, "text"), step = part / ratio * d->ratio, thick = 0.6 * high;
  const int was = pen_was(d, "thin");
  for (size_t i = 0; i < parts; i++) {
    const double left = x + step * (double)i, right = x + step * (double)(i + 1);
    const double xy[] = { left, y, right, y, right, y + thick, left, y + thick };
    sl_draw_polyline(d, xy, 4, true, i % 2 == 0);
  }
  for (size_t i = 0; i <= parts; i++)
    sl_draw_text(d, x + step * (double)i, y + thick + 0.6 * high, texts[i], letter(d), 0, SL_MIDDLE);
  d->pen = was;
}
