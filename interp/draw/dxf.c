/* SPDX-License-Identifier: MIT
 * A page as DXF of release 12 (AC1009): pairs of lines, a code and a value.  The thing stands at full size about its
 * own zero, and the sheet around it as many times larger as the thing was to be drawn smaller.  The colour of an item
 * carries its pen, its layer what it is. */
#include <math.h>
#include <string.h>
#include "draw/letters.h"
#include "draw/written.h"
#include "table.h"

static const double DEGREES = 57.295779513082320877;
enum { LONGEST = 250 };                                      /* bytes of a value that any reader takes */

struct dxf { struct sl_written *w; const struct sl_page *page; const struct sl_drawing *of; double unit; };

/* ---- pairs ------------------------------------------------------------------------------------------------------- */

static void code(const struct dxf *f, int n) {
  sl_put(f->w, n < 10 ? "  " : n < 100 ? " " : "");
  sl_put_whole(f->w, n);
  sl_put(f->w, "\n");
}
static void word(const struct dxf *f, int n, const char *value) { code(f, n), sl_put(f->w, value), sl_put(f->w, "\n"); }
static void whole(const struct dxf *f, int n, long value) { code(f, n), sl_put_whole(f->w, value), sl_put(f->w, "\n"); }
static void real(const struct dxf *f, int n, double value) {
  const size_t begin = (code(f, n), f->w->n);
  sl_put_number(f->w, value, 6);
  if (!f->w->starved && !memchr(f->w->at + begin, '.', f->w->n - begin)) sl_put(f->w, ".0");
  sl_put(f->w, "\n");
}

/* ---- places ------------------------------------------------------------------------------------------------------ */

static double page_ratio(const struct dxf *f) { return f->page->view ? f->page->view->ratio : 1; }
/* What one metre of the drawing is in units of the file. */
static double scale(const struct dxf *f) { return f->of == f->page->view ? 1 / f->unit : page_ratio(f) / f->unit; }
static double across(const struct dxf *f, double x) {
  return (f->of == f->page->view ? x : x - (f->page->view ? f->page->at_x : 0)) * scale(f);
}
static double up(const struct dxf *f, double y) {
  return (f->of == f->page->view ? y : y - (f->page->view ? f->page->at_y : 0)) * scale(f);
}
static double on_paper(const struct dxf *f, double metres) { return metres * page_ratio(f) / f->unit; }

static void point(const struct dxf *f, int at, double x, double y) {
  real(f, 10 + at, x), real(f, 20 + at, y), real(f, 30 + at, 0);
}

/* ---- texts ------------------------------------------------------------------------------------------------------- */

/* One character of a text as ASCII; 0 bytes taken at the end.  A % that no other code touches stays what it is, since
 * not every reader knows its own code. */
static size_t encoded(const char *text, const char *s, char to[16]) {
  size_t n;
  const unsigned long c = sl_letters_next(s, &n);
  static const char hex[] = "0123456789ABCDEF";
  if (c == 0xB0) strcpy(to, "%%d");
  else if (c == 0xB1) strcpy(to, "%%p");
  else if (c == 0x2300 || c == 0xD8) strcpy(to, "%%c");
  else if (c == '%') strcpy(to, (s > text && s[-1] == '%') || s[1] == '%' || (s[1] & 0x80) ? "%%%" : "%");
  else if (c == '^') strcpy(to, "^ ");
  else if (c >= 0x20 && c < 0x7F && c != '\\') to[0] = (char)c, to[1] = '\0';
  else {
    memcpy(to, "\\U+", 3);
    for (int i = 0; i < 4; i++) to[3 + i] = hex[c >> (12 - 4 * i) & 15];
    to[7] = '\0';
  }
  return n;
}

static void text_part(const struct dxf *f, const struct sl_item *item, double x, double y, const char *value,
                      enum sl_anchor anchor) {
  word(f, 0, "TEXT");
  word(f, 8, sl_table_drawing_layers[item->layer].name);
  whole(f, 62, 7);
  point(f, 0, x, y);
  real(f, 40, on_paper(f, item->height));
  word(f, 1, value);
  if (item->turn != 0) real(f, 50, item->turn * DEGREES);
  word(f, 7, "LETTERS");
  if (anchor == SL_LEFT) return;
  whole(f, 72, anchor == SL_RIGHT ? 2 : 1);
  point(f, 1, x, y);
}

/* A text that is too long for one value is several behind each other. */
static void text(const struct dxf *f, const struct sl_item *item) {
  const char *says = f->of->texts + item->text, *s = says;
  const double *xy = f->of->xy + item->first;
  double x = across(f, xy[0]), y = up(f, xy[1]);
  char value[LONGEST + 16], one[16];
  size_t used = 0, total = 0, n;
  for (const char *p = says; *p; p += n) n = encoded(says, p, one), total += strlen(one);
  enum sl_anchor anchor = total > LONGEST ? SL_LEFT : item->anchor;
  const double c = cos(item->turn), sn = sin(item->turn);
  if (anchor != item->anchor) {
    const double back = on_paper(f, sl_letters_width(says, item->height)) * (item->anchor == SL_RIGHT ? 1 : 0.5);
    x -= back * c, y -= back * sn;
  }
  double wide = 0;
  for (; *s; s += n) {
    char letter[5] = "";
    n = encoded(says, s, one);
    if (used + strlen(one) > LONGEST) {
      text_part(f, item, x, y, value, anchor);
      x += wide * c, y += wide * sn;
      used = 0, wide = 0;
    }
    strcpy(value + used, one);
    used += strlen(one);
    memcpy(letter, s, n < 5 ? n : 4);
    wide += on_paper(f, sl_letters_width(letter, item->height));
  }
  text_part(f, item, x, y, value, anchor);
}

/* ---- items ------------------------------------------------------------------------------------------------------- */

static void entity(const struct dxf *f, const char *kind, const struct sl_item *item) {
  const struct sl_table_drawing_pens *pen = &sl_table_drawing_pens[item->pen];
  word(f, 0, kind);
  word(f, 8, sl_table_drawing_layers[item->layer].name);
  word(f, 6, pen->line);
  whole(f, 62, pen->colour);
}

static void polyline(const struct dxf *f, const struct sl_item *item) {
  const double *xy = f->of->xy + item->first;
  const size_t n = item->points;
  if (n == 2 && !item->closed) {
    entity(f, "LINE", item);
    point(f, 0, across(f, xy[0]), up(f, xy[1])), point(f, 1, across(f, xy[2]), up(f, xy[3]));
    return;
  }
  if (item->filled && (n == 3 || n == 4)) {                  /* its third and fourth corner stand crosswise */
    const size_t corner[] = { 0, 1, n == 4 ? 3 : 2, 2 };
    entity(f, "SOLID", item);
    for (int i = 0; i < 4; i++) point(f, i, across(f, xy[2 * corner[i]]), up(f, xy[2 * corner[i] + 1]));
  }
  entity(f, "POLYLINE", item);
  whole(f, 66, 1);
  point(f, 0, 0, 0);
  whole(f, 70, item->closed);
  for (size_t i = 0; i < n; i++) {
    word(f, 0, "VERTEX"), word(f, 8, sl_table_drawing_layers[item->layer].name);
    point(f, 0, across(f, xy[2 * i]), up(f, xy[2 * i + 1]));
  }
  word(f, 0, "SEQEND"), word(f, 8, sl_table_drawing_layers[item->layer].name);
}

static void round_one(const struct dxf *f, const struct sl_item *item) {
  const double *xy = f->of->xy + item->first;
  entity(f, item->shape == SL_ARC ? "ARC" : "CIRCLE", item);
  point(f, 0, across(f, xy[0]), up(f, xy[1]));
  real(f, 40, item->radius * scale(f));
  if (item->shape != SL_ARC) return;
  real(f, 50, item->from * DEGREES), real(f, 51, item->to * DEGREES);
}

static void items(const struct dxf *f) {
  for (size_t i = 0; i < f->of->nitems; i++) {
    const struct sl_item *item = &f->of->items[i];
    if (item->shape == SL_POLYLINE) polyline(f, item);
    else if (item->shape == SL_TEXT) text(f, item);
    else round_one(f, item);
  }
}

/* ---- tables ------------------------------------------------------------------------------------------------------ */

static void section(const struct dxf *f, const char *name) { word(f, 0, "SECTION"), word(f, 2, name); }
static void table(const struct dxf *f, const char *name, long n) {
  word(f, 0, "TABLE"), word(f, 2, name), whole(f, 70, n);
}

/* Pens of one line type: each is declared once. */
static bool first_of_type(size_t i) {
  for (size_t k = 0; k < i; k++)
    if (strcmp(sl_table_drawing_pens[k].line, sl_table_drawing_pens[i].line) == 0) return false;
  return true;
}

static void line_type(const struct dxf *f, const struct sl_table_drawing_pens *pen) {
  double dash[12], sum = 0;
  int n = 0;
  const char *text = pen->dash;
  while (n < 12 && (dash[n] = sl_next_dash(&text)) > 0) sum += dash[n++];
  word(f, 0, "LTYPE"), word(f, 2, pen->line), whole(f, 70, 0), word(f, 3, pen->dash), whole(f, 72, 65);
  whole(f, 73, n), real(f, 40, on_paper(f, sum));
  for (int i = 0; i < n; i++) real(f, 49, on_paper(f, i % 2 ? -dash[i] : dash[i]));
}

static void tables(const struct dxf *f) {
  long types = 0;
  for (size_t i = 0; i < SL_ROWS_OF_drawing_pens; i++) types += first_of_type(i);
  section(f, "TABLES");
  table(f, "LTYPE", types);
  for (size_t i = 0; i < SL_ROWS_OF_drawing_pens; i++)
    if (first_of_type(i)) line_type(f, &sl_table_drawing_pens[i]);
  word(f, 0, "ENDTAB");
  table(f, "LAYER", SL_ROWS_OF_drawing_layers + 1);
  for (int i = -1; i < SL_ROWS_OF_drawing_layers; i++) {
    word(f, 0, "LAYER"), word(f, 2, i < 0 ? "0" : sl_table_drawing_layers[i].name), whole(f, 70, 0);
    whole(f, 62, 7), word(f, 6, "CONTINUOUS");
  }
  word(f, 0, "ENDTAB");
  table(f, "STYLE", 1);
  word(f, 0, "STYLE"), word(f, 2, "LETTERS"), whole(f, 70, 0), real(f, 40, 0), real(f, 41, 0.8), real(f, 50, 0);
  whole(f, 71, 0), real(f, 42, on_paper(f, sl_paper(f->page->sheet, "text"))), word(f, 3, "txt"), word(f, 4, "");
  word(f, 0, "ENDTAB"), word(f, 0, "ENDSEC");
}

void sl_write_dxf(struct sl_written *w, const struct sl_page *p, double unit) {
  struct dxf f = { w, p, p->sheet, unit };
  section(&f, "HEADER");
  word(&f, 9, "$ACADVER"), word(&f, 1, "AC1009");
  word(&f, 9, "$EXTMIN"), point(&f, 0, across(&f, 0), up(&f, 0));
  word(&f, 9, "$EXTMAX"), point(&f, 0, across(&f, p->width), up(&f, p->height));
  word(&f, 9, "$LTSCALE"), real(&f, 40, 1), word(&f, 0, "ENDSEC");
  tables(&f);
  section(&f, "BLOCKS"), word(&f, 0, "ENDSEC");
  section(&f, "ENTITIES");
  items(&f);
  if (p->view) {
    f.of = p->view;
    items(&f);
  }
  word(&f, 0, "ENDSEC"), word(&f, 0, "EOF");
}
