/* SPDX-License-Identifier: MIT
 * A drawing: a list of what is drawn, in metres of the thing itself, y up.  What has a size on paper whatever the scale
 * (letters, ticks, gaps) is given in metres of paper and turned by the ratio of the drawing, which is known before
 * anything is drawn: 24 where a metre on paper is 24 m of the thing.  What writes a page (svg.c, dxf.c, the module for
 * PDF and PNG) takes the same list.  No Lua, no file; memory comes from whoever began the drawing. */
#ifndef SL_DRAWING_H
#define SL_DRAWING_H

#include <stdbool.h>
#include <stddef.h>

/* As realloc, told the old size; size 0 frees.  NULL: there is no more, and the block is as it was. */
struct sl_grow { void *(*resize)(void *own, void *block, size_t old, size_t size); void *own; };

enum sl_shape { SL_POLYLINE, SL_CIRCLE, SL_ARC, SL_TEXT };
enum sl_anchor { SL_LEFT, SL_MIDDLE, SL_RIGHT };

struct sl_box { double left, low, right, high; };

struct sl_item {
  enum sl_shape shape;
  int pen, layer;                       /* rows of the tables drawing_pens, drawing_layers */
  bool closed, filled;                  /* of a polyline; a circle may be filled */
  size_t first, points;                 /* of its places, x and y by turns: two of a line, one of all but polylines */
  double radius, from, to;              /* circle, arc; counter-clockwise, rad */
  double height, turn;                  /* of a text: of its capitals, on paper; rad, counter-clockwise */
  enum sl_anchor anchor;
  size_t text;                          /* where in `texts` it stands */
  struct sl_box box;                    /* around it */
};

struct sl_drawing {
  struct sl_grow grow;
  double ratio;
  int pen, layer;                       /* of what is drawn next */
  struct sl_item *items;
  double *xy;
  char *texts;
  size_t nitems, items_room, nxy, xy_room, ntexts, texts_room;
  struct sl_box box;                    /* around all of it; left > right: nothing is drawn */
  bool starved;                         /* memory was refused, and what was drawn since is missing */
  bool wrong;                           /* a place was no number */
};

/* One page: the paper, what stands on it in metres of paper, and the thing, of which the zero lies at a place of it. */
struct sl_page {
  double width, height;
  const struct sl_drawing *sheet, *view;                    /* view: NULL: there is none */
  double at_x, at_y;                    /* of the view's zero, from the lower left corner */
  const char *title, *says, *label;     /* for who cannot see it; of the page, as S-201 */
};

void sl_drawing_begin(struct sl_drawing *d, double ratio, struct sl_grow grow);
void sl_drawing_end(struct sl_drawing *d);

/* Rows of the tables by name; -1: there is none. */
int sl_pen(const char *name);
int sl_layer(const char *name);
/* A length on paper of drawing_measures, times the ratio; NAN where there is none of that key. */
double sl_paper(const struct sl_drawing *d, const char *key);
/* The next length of a dash, "12 1.5" in mm, in m; 0: there is none. */
double sl_next_dash(const char **text);

void sl_draw_line(struct sl_drawing *d, double x1, double y1, double x2, double y2);
void sl_draw_polyline(struct sl_drawing *d, const double *xy, size_t points, bool closed, bool filled);
void sl_draw_circle(struct sl_drawing *d, double x, double y, double radius, bool filled);
void sl_draw_arc(struct sl_drawing *d, double x, double y, double radius, double from, double to);
/* A text of one line from its baseline; height: of its capitals, on paper.  A letter that the font has not is written
 * as U+1F33D, in all formats alike. */
void sl_draw_text(struct sl_drawing *d, double x, double y, const char *text, double height, double turn,
                  enum sl_anchor anchor);
/* The corners of a text, from its baseline up to its capitals, and down to where letters reach: x and y by turns. */
void sl_text_corners(const struct sl_drawing *d, const struct sl_item *text, double corner[8]);

/* Leaves what stands between two places along it, and the box around that. */
void sl_drawing_clip(struct sl_drawing *d, double left, double right);

/* The first text that lies on another text or on a line; NULL: each can be read. */
const char *sl_drawing_touched(const struct sl_drawing *d);

/* Whether both show the same, at one ratio, in the same places, or as a whole higher or lower: a page has its view in
 * the middle. */
bool sl_drawing_same(const struct sl_drawing *a, const struct sl_drawing *b, bool at_any_height);

/* ---- made of those (compose.c, hatch.c) -------------------------------------------------------------------------- */

struct sl_chain {
  bool upright;                         /* its positions are heights */
  double from;                          /* where extension lines begin */
  double line;                          /* where the dimension line stands */
  const double *at;                     /* positions, rising */
  const char *const *texts;             /* one fewer than positions; "" for none */
  size_t n;
};
/* Dimensions in a chain: extension lines, ticks, and above each part its text; one that has no room stands further out
 * with a line to its part.  Gives where the line of the next chain can stand, outside of it. */
double sl_draw_chain(struct sl_drawing *d, const struct sl_chain *chain);
/* Places from one zero, of which `zero` is the position: a circle there, and at the end of each extension line its
 * text, turned along it; texts that would touch are moved apart.  One text for each position. */
void sl_draw_running(struct sl_drawing *d, const struct sl_chain *chain, double zero);
/* A line from a place to an elbow and on to texts under each other, at its left or its right.  Its end is a dot, or the
 * mark of a level: a triangle that stands on its tip. */
struct sl_leader { double x, y, elbow_x, elbow_y; bool to_right, level; const char *const *texts; size_t n; };
void sl_draw_leader(struct sl_drawing *d, const struct sl_leader *leader);
/* North: an arrow in a circle, turned counter-clockwise from up. */
void sl_draw_north(struct sl_drawing *d, double x, double y, double radius, double turn, const char *text);
/* A bar of so many parts of a length of the thing each, drawn `ratio` times smaller than that, whatever the ratio of
 * the drawing: texts has one for each end of a part. */
void sl_draw_bar(struct sl_drawing *d, double x, double y, double part, size_t parts, double ratio,
                 const char *const *texts);
/* A material inside a closed outline, or for earth below the line between the first two places. False: no such. */
bool sl_draw_hatch(struct sl_drawing *d, const char *material, const double *xy, size_t points);

#endif
