/* SPDX-License-Identifier: MIT
 * A piece of a beam between two joints, looked at along its length; see beam_piece.h. */
#include <math.h>
#include <stdbool.h>
#include "beam_piece.h"

enum { BISECTIONS = 60 };

static double moment_at(const struct beam_piece *p, double s) { return p->m + s * (p->v - p->w * s / 2); }
static double slope_at(const struct beam_piece *p, double s) {
  return p->turn + s * (p->m + s * (p->v / 2 - p->w * s / 6)) / p->ei;
}
static double down_at(const struct beam_piece *p, double s) {
  return p->down - s * p->turn - s * s * (p->m / 2 + s * (p->v / 6 - p->w * s / 24)) / p->ei;
}

static void look_at(const struct beam_piece *p, double s, struct sl_beam_span *span) {
  const double m = moment_at(p, s);
  span->sagging = fmax(span->sagging, m);
  span->hogging = fmax(span->hogging, -m);
  span->deflection = fmax(span->deflection, fabs(down_at(p, s)));
}

/* The slope goes one way between two places where the moment is nothing: one root of it, by halves. */
static void look_between(const struct beam_piece *p, double a, double b, struct sl_beam_span *span) {
  const bool rises = slope_at(p, a) < 0;
  if (rises == (slope_at(p, b) < 0)) return;
  for (int k = 0; k < BISECTIONS; k++) {
    const double middle = (a + b) / 2;
    if ((slope_at(p, middle) < 0) == rises) a = middle;
    else b = middle;
  }
  look_at(p, a, span);
}

void sl_beam_look(const struct beam_piece *p, struct sl_beam_span *span) {
  double cut[4] = { 0, p->length, p->length, p->length };
  const double under = p->v * p->v + 2 * p->w * p->m;
  if (p->w == 0 && p->v != 0) cut[1] = -p->m / p->v;
  if (p->w != 0 && under > 0) {
    const double one = (p->v - sqrt(under)) / p->w, other = (p->v + sqrt(under)) / p->w;
    cut[1] = fmin(one, other);
    cut[2] = fmax(one, other);
  }
  for (int k = 1; k < 3; k++) cut[k] = fmin(fmax(cut[k], 0), p->length);
  for (int k = 0; k < 3; k++)
    if (cut[k + 1] > cut[k]) look_between(p, cut[k], cut[k + 1], span);
  if (p->w != 0 && p->v / p->w > 0 && p->v / p->w < p->length) look_at(p, p->v / p->w, span);
  look_at(p, 0, span);
  look_at(p, p->length, span);
  span->shear = fmax(span->shear, fmax(fabs(p->v), fabs(p->v - p->w * p->length)));
}
