/* SPDX-License-Identifier: MIT
 * The list of what is drawn: its memory, its items, the box around them. */
#include "draw/drawing.h"
#include <math.h>
#include <stdio.h>
#include <string.h>
#include "draw/letters.h"
#include "table.h"

/* ---- memory ------------------------------------------------------------------------------------------------------ */

/* Room for `more` behind the `n` that there are. */
static bool room_for(struct sl_drawing *d, void **block, size_t *room, size_t n, size_t more, size_t size) {
  if (d->starved) return false;
  if (n + more <= *room) return true;
  size_t want = *room ? *room : 64;
  while (want < n + more) want *= 2;
  void *at = d->grow.resize(d->grow.own, *block, *room * size, want * size);
  if (!at) return !(d->starved = true);
  *block = at;
  *room = want;
  return true;
}

static const struct sl_box around_nothing = { INFINITY, INFINITY, -INFINITY, -INFINITY };

void sl_drawing_begin(struct sl_drawing *d, double ratio, struct sl_grow grow) {
  *d = (struct sl_drawing){ .grow = grow, .ratio = ratio, .box = around_nothing };
}

void sl_drawing_end(struct sl_drawing *d) {
  if (d->items) d->grow.resize(d->grow.own, d->items, d->items_room * sizeof *d->items, 0);
  if (d->xy) d->grow.resize(d->grow.own, d->xy, d->xy_room * sizeof *d->xy, 0);
  if (d->texts) d->grow.resize(d->grow.own, d->texts, d->texts_room, 0);
  sl_drawing_begin(d, d->ratio, d->grow);
}

/* ---- tables ------------------------------------------------------------------------------------------------------ */

int sl_pen(const char *name) {
  FIND(row, drawing_pens, strcmp(row->name, name) == 0);
  return row ? (int)(row - sl_table_drawing_pens) : -1;
}

int sl_layer(const char *name) {
  FIND(row, drawing_layers, strcmp(row->name, name) == 0);
  return row ? (int)(row - sl_table_drawing_layers) : -1;
}

double sl_paper(const struct sl_drawing *d, const char *key) {
  FIND(row, drawing_measures, strcmp(row->key, key) == 0);
  return row ? row->value * d->ratio : NAN;
}

/* No locale has a say in it. */
double sl_next_dash(const char **text) {
  double v = 0, unit = 1;
  bool behind = false;
  while (**text == ' ') ++*text;
  for (; **text && **text != ' '; ++*text) {
    if (**text == '.') behind = true;
    else {
      v = 10 * v + (**text - '0');
      if (behind) unit *= 10;
    }
  }
  return v / unit / 1000;
}

/* ---- items ------------------------------------------------------------------------------------------------------- */

static void widen(struct sl_box *b, double x, double y) {
  if (x < b->left) b->left = x;
  if (x > b->right) b->right = x;
  if (y < b->low) b->low = y;
  if (y > b->high) b->high = y;
}

/* The box around the newest item is known: it is within that around all. */
static void enclose(struct sl_drawing *d) {
  const struct sl_box *own = &d->items[d->nitems - 1].box;
  widen(&d->box, own->left, own->low);
  widen(&d->box, own->right, own->high);
}

static bool finite_all(const double *xy, size_t n) {
  for (size_t i = 0; i < n; i++) if (!isfinite(xy[i])) return false;
  return true;
}

/* A new item with these places, or NULL. */
static struct sl_item *add(struct sl_drawing *d, enum sl_shape shape, const double *xy, size_t points) {
  if (!finite_all(xy, 2 * points)) {
    d->wrong = true;
    return NULL;
  }
  if (!room_for(d, (void **)&d->items, &d->items_room, d->nitems, 1, sizeof *d->items) ||
      !room_for(d, (void **)&d->xy, &d->xy_room, d->nxy, 2 * points, sizeof *d->xy)) return NULL;
  struct sl_item *item = &d->items[d->nitems++];
  *item = (struct sl_item){ .shape = shape, .pen = d->pen, .layer = d->layer, .first = d->nxy, .points = points,
                            .box = around_nothing };
  memcpy(d->xy + d->nxy, xy, 2 * points * sizeof *xy);
  d->nxy += 2 * points;
  return item;
}

void sl_draw_polyline(struct sl_drawing *d, const double *xy, size_t points, bool closed, bool filled) {
  struct sl_item *item = points > 1 ? add(d, SL_POLYLINE, xy, points) : NULL;
  if (!item) return;
  item->closed = closed;
  item->filled = filled;
  for (size_t i = 0; i < points; i++) widen(&item->box, xy[2 * i], xy[2 * i + 1]);
  enclose(d);
}

void sl_draw_line(struct sl_drawing *d, double x1, double y1, double x2, double y2) {
  const double xy[] = { x1, y1, x2, y2 };
  if (x1 != x2 || y1 != y2) sl_draw_polyline(d, xy, 2, false, false);
}

void sl_draw_arc(struct sl_drawing *d, double x, double y, double radius, double from, double to) {
  const double all[] = { x, y, radius, from, to, 0 };
  if (!finite_all(all, 5)) d->wrong = true;
  struct sl_item *item = radius > 0 ? add(d, SL_ARC, all, 1) : NULL;
  if (!item) return;
  item->radius = radius;
  item->from = from;
  item->to = to;
  enum { STEPS = 24 };
  for (int i = 0; i <= STEPS; i++) {
    const double turn = from + (to - from) * i / STEPS;
    widen(&item->box, x + radius * cos(turn), y + radius * sin(turn));
  }
  enclose(d);
}

void sl_draw_circle(struct sl_drawing *d, double x, double y, double radius, bool filled) {
  const double xy[] = { x, y };
  if (!isfinite(radius)) d->wrong = true;
  struct sl_item *item = radius > 0 ? add(d, SL_CIRCLE, xy, 1) : NULL;
  if (!item) return;
  item->radius = radius;
  item->filled = filled;
  widen(&item->box, x - radius, y - radius);
  widen(&item->box, x + radius, y + radius);
  enclose(d);
}

/* ---- texts ------------------------------------------------------------------------------------------------------- */

/* Puts a text behind the others, its letters that the font has not by their number; -1: no memory. */
static bool add_text(struct sl_drawing *d, const char *text, size_t *at) {
  enum { LONGEST = 10 };                                     /* U+10FFFF and its end */
  size_t need = 1, n;
  for (const char *s = text; *s; s += n) need += sl_letters_has(sl_letters_next(s, &n)) ? n : LONGEST;
  if (!room_for(d, (void **)&d->texts, &d->texts_room, d->ntexts, need, 1)) return false;
  *at = d->ntexts;
  char *to = d->texts + d->ntexts;
  for (const char *s = text; *s; s += n) {
    const unsigned long code = sl_letters_next(s, &n);
    if (sl_letters_has(code)) to = (char *)memcpy(to, s, n) + n;
    else to += sprintf(to, "U+%04lX", code & 0x1FFFFF);
  }
  *to++ = '\0';
  d->ntexts = (size_t)(to - d->texts);
  return true;
}

void sl_text_corners(const struct sl_drawing *d, const struct sl_item *item, double corner[8]) {
  const double wide = sl_letters_width(d->texts + item->text, item->height) * d->ratio;
  const double high = item->height * d->ratio, low = -high * sl_letters_below();
  const double left = item->anchor == SL_LEFT ? 0 : item->anchor == SL_MIDDLE ? -wide / 2 : -wide;
  const double own[] = { left, low, left + wide, low, left + wide, high, left, high };
  const double c = cos(item->turn), s = sin(item->turn), *at = d->xy + item->first;
  for (size_t i = 0; i < 4; i++) {
    corner[2 * i] = at[0] + own[2 * i] * c - own[2 * i + 1] * s;
    corner[2 * i + 1] = at[1] + own[2 * i] * s + own[2 * i + 1] * c;
  }
}

void sl_draw_text(struct sl_drawing *d, double x, double y, const char *text, double height, double turn,
                  enum sl_anchor anchor) {
  size_t at;
  const double xy[] = { x, y };
  if (!*text || !add_text(d, text, &at)) return;
  if (!isfinite(height) || !isfinite(turn)) d->wrong = true;
  struct sl_item *item = add(d, SL_TEXT, xy, 1);
  if (!item) return;
  item->height = height;
  item->turn = turn;
  item->anchor = anchor;
  item->text = at;
  double corner[8];
  sl_text_corners(d, item, corner);
  for (size_t i = 0; i < 4; i++) widen(&item->box, corner[2 * i], corner[2 * i + 1]);
  enclose(d);
}
