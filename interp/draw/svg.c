/* SPDX-License-Identifier: MIT
 * A page as SVG: attributes alone, no style and no id, so that many stand on one HTML page and nothing is fetched. */
#include <math.h>
#include <string.h>
#include "draw/letters.h"
#include "draw/written.h"
#include "table.h"

static const double DEGREES = 57.295779513082320877;

struct svg { struct sl_written *w; const struct sl_page *page; const struct sl_drawing *of; };

static double scale(const struct svg *s) { return s->of == s->page->view ? 1 / s->of->ratio : 1; }

static void put_text(struct sl_written *w, const char *text) {
  for (const char *s = text; *s; s++) {
    if (*s == '&') sl_put(w, "&amp;");
    else if (*s == '<') sl_put(w, "&lt;");
    else if (*s == '>') sl_put(w, "&gt;");
    else if (*s == '"') sl_put(w, "&quot;");
    else sl_put_bytes(w, s, 1);
  }
}

/* A length in mm behind a name. */
static void mm(const struct svg *s, const char *name, double metres) {
  sl_put(s->w, " ");
  sl_put(s->w, name);
  sl_put(s->w, "=\"");
  sl_put_number(s->w, metres * 1000, 3);
  sl_put(s->w, "\"");
}
static double across(const struct svg *s, double x) { return sl_page_x(s->page, s->of, x); }
static double down(const struct svg *s, double y) { return s->page->height - sl_page_y(s->page, s->of, y); }

static void fill(const struct svg *s, bool filled) { sl_put(s->w, filled ? " fill=\"#000\"" : ""); }

static void polyline(const struct svg *s, const struct sl_item *item) {
  const double *xy = s->of->xy + item->first;
  if (item->points == 2 && !item->closed) {
    sl_put(s->w, "<line");
    mm(s, "x1", across(s, xy[0])), mm(s, "y1", down(s, xy[1]));
    mm(s, "x2", across(s, xy[2])), mm(s, "y2", down(s, xy[3]));
    sl_put(s->w, "/>\n");
    return;
  }
  sl_put(s->w, item->closed ? "<polygon points=\"" : "<polyline points=\"");
  for (size_t i = 0; i < item->points; i++) {
    sl_put(s->w, i ? " " : "");
    sl_put_number(s->w, across(s, xy[2 * i]) * 1000, 3);
    sl_put(s->w, ",");
    sl_put_number(s->w, down(s, xy[2 * i + 1]) * 1000, 3);
  }
  sl_put(s->w, "\"");
  fill(s, item->filled);
  sl_put(s->w, "/>\n");
}

static void circle(const struct svg *s, const struct sl_item *item) {
  const double *xy = s->of->xy + item->first;
  sl_put(s->w, "<circle");
  mm(s, "cx", across(s, xy[0])), mm(s, "cy", down(s, xy[1])), mm(s, "r", item->radius * scale(s));
  fill(s, item->filled);
  sl_put(s->w, "/>\n");
}

static void arc(const struct svg *s, const struct sl_item *item) {
  const double *xy = s->of->xy + item->first, r = item->radius;
  sl_put(s->w, "<path d=\"M");
  for (int end = 0; end < 2; end++) {
    const double turn = end ? item->to : item->from;
    if (end) {
      sl_put(s->w, "A");
      sl_put_number(s->w, r * scale(s) * 1000, 3), sl_put(s->w, " ");
      sl_put_number(s->w, r * scale(s) * 1000, 3);
      sl_put(s->w, fabs(item->to - item->from) > 3.14159265358979323846 ? " 0 1 0 " : " 0 0 0 ");
    }
    sl_put_number(s->w, across(s, xy[0] + r * cos(turn)) * 1000, 3), sl_put(s->w, " ");
    sl_put_number(s->w, down(s, xy[1] + r * sin(turn)) * 1000, 3);
  }
  sl_put(s->w, "\"/>\n");
}

static void text(const struct svg *s, const struct sl_item *item) {
  const double *xy = s->of->xy + item->first, x = across(s, xy[0]), y = down(s, xy[1]);
  const char *says = s->of->texts + item->text;
  sl_put(s->w, "<text fill=\"#000\" stroke=\"none\" xml:space=\"preserve\"");
  mm(s, "x", x), mm(s, "y", y), mm(s, "font-size", item->height * sl_letters_em());
  mm(s, "textLength", sl_letters_width(says, item->height));
  sl_put(s->w, " lengthAdjust=\"spacingAndGlyphs\"");
  if (item->anchor != SL_LEFT) sl_put(s->w, item->anchor == SL_RIGHT ? " text-anchor=\"end\""
                                                                     : " text-anchor=\"middle\"");
  if (item->turn != 0) {
    sl_put(s->w, " transform=\"rotate(");
    sl_put_number(s->w, -item->turn * DEGREES, 4);
    sl_put(s->w, " "), sl_put_number(s->w, x * 1000, 3), sl_put(s->w, " "), sl_put_number(s->w, y * 1000, 3);
    sl_put(s->w, ")\"");
  }
  sl_put(s->w, ">");
  put_text(s->w, says);
  sl_put(s->w, "</text>\n");
}

/* What has one layer and one pen stands in one group. */
static void begin_group(const struct svg *s, const struct sl_item *item) {
  const struct sl_table_drawing_pens *pen = &sl_table_drawing_pens[item->pen];
  sl_put(s->w, "<g class=\"");
  put_text(s->w, sl_table_drawing_layers[item->layer].name);
  sl_put(s->w, "\"");
  mm(s, "stroke-width", pen->width);
  if (*pen->dash) {
    sl_put(s->w, " stroke-dasharray=\"");
    sl_put(s->w, pen->dash);
    sl_put(s->w, "\"");
  }
  sl_put(s->w, ">\n");
}

static void items(const struct svg *s) {
  const struct sl_drawing *d = s->of;
  for (size_t i = 0; i < d->nitems; i++) {
    const struct sl_item *item = &d->items[i];
    const bool same = i > 0 && d->items[i - 1].pen == item->pen && d->items[i - 1].layer == item->layer;
    if (!same) {
      if (i > 0) sl_put(s->w, "</g>\n");
      begin_group(s, item);
    }
    if (item->shape == SL_POLYLINE) polyline(s, item);
    else if (item->shape == SL_CIRCLE) circle(s, item);
    else if (item->shape == SL_ARC) arc(s, item);
    else text(s, item);
  }
  if (d->nitems) sl_put(s->w, "</g>\n");
}

void sl_write_svg(struct sl_written *w, const struct sl_page *p) {
  struct svg s = { w, p, p->sheet };
  sl_put(w, "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" xml:lang=\"en\" role=\"img\" width=\"");
  sl_put_number(w, p->width * 1000, 3), sl_put(w, "mm\" height=\"");
  sl_put_number(w, p->height * 1000, 3), sl_put(w, "mm\" viewBox=\"0 0 ");
  sl_put_number(w, p->width * 1000, 3), sl_put(w, " "), sl_put_number(w, p->height * 1000, 3);
  sl_put(w, "\" font-family=\"'DejaVu Sans Condensed','DejaVu Sans',sans-serif\" stroke=\"#000\" fill=\"none\""
            " stroke-linecap=\"round\" stroke-linejoin=\"round\">\n<title>");
  put_text(w, p->title), sl_put(w, "</title>\n<desc>"), put_text(w, p->says), sl_put(w, "</desc>\n");
  sl_put(w, "<rect stroke=\"none\" fill=\"#fff\" x=\"0\" y=\"0\"");
  mm(&s, "width", p->width), mm(&s, "height", p->height);
  sl_put(w, "/>\n");
  items(&s);
  if (p->view) {
    s.of = p->view;
    items(&s);
  }
  sl_put(w, "</svg>\n");
}
