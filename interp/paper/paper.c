/* SPDX-License-Identifier: MIT
 * Pages as PDF and PNG, by cairo, and lettered by FreeType from the one font that ships with the program: neither the
 * fonts of a machine nor its settings have a say in it. */
#include "paper/paper.h"
#include <cairo-ft.h>
#include <cairo-pdf.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* Places are worked out in the unit of the surface, points or dots: where cairo has nothing to scale, a PDF says no
 * scale with each stroke. */
static const double POINTS = 72 / 0.0254;      /* to a metre */

struct brush {
  cairo_t *to;
  double unit;                                 /* of the surface, to a metre of paper */
  const struct sl_paper_job *job;
  const struct sl_page *page;
  const struct sl_drawing *of;
};

/* ---- one page ---------------------------------------------------------------------------------------------------- */

static double scale(const struct brush *b) { return b->of == b->page->view ? b->unit / b->of->ratio : b->unit; }
static double across(const struct brush *b, double x) {
  return x * scale(b) + (b->of == b->page->view ? b->page->at_x * b->unit : 0);
}
static double down(const struct brush *b, double y) {
  return b->page->height * b->unit - (y * scale(b) + (b->of == b->page->view ? b->page->at_y * b->unit : 0));
}

static void stroke(const struct brush *b, const struct sl_item *item) {
  const struct sl_paper_pen *pen = &b->job->pens[item->pen];
  double dash[SL_PAPER_DASHES];
  for (int i = 0; i < pen->dashes; i++) dash[i] = pen->dash[i] * b->unit;
  cairo_set_line_width(b->to, pen->width * b->unit);
  cairo_set_dash(b->to, dash, pen->dashes, 0);
  if (item->filled) cairo_fill_preserve(b->to);
  const double fine = cairo_get_tolerance(b->to);
  /* A PDF has each path as it is: cairo flattens it only to see where the stroke lies, to the width of its pen. */
  if (!b->job->png) cairo_set_tolerance(b->to, pen->width * b->unit);
  cairo_stroke(b->to);
  cairo_set_tolerance(b->to, fine);
}

static void path_of(const struct brush *b, const struct sl_item *item) {
  const double *xy = b->of->xy + item->first;
  if (item->shape == SL_POLYLINE) {
    for (size_t i = 0; i < item->points; i++)
      (i ? cairo_line_to : cairo_move_to)(b->to, across(b, xy[2 * i]), down(b, xy[2 * i + 1]));
    if (item->closed) cairo_close_path(b->to);
    return;
  }
  const double x = across(b, xy[0]), y = down(b, xy[1]), r = item->radius * scale(b);
  cairo_new_sub_path(b->to);
  if (item->shape == SL_ARC) cairo_arc_negative(b->to, x, y, r, -item->from, -item->to);
  else cairo_arc(b->to, x, y, r, 0, 6.28318530717958647692);
}

static void text(const struct brush *b, const struct sl_item *item) {
  const double *xy = b->of->xy + item->first;
  const char *says = b->of->texts + item->text;
  cairo_text_extents_t wide = { 0 };
  cairo_set_font_size(b->to, item->height * b->job->em * b->unit);
  if (item->anchor != SL_LEFT) cairo_text_extents(b->to, says, &wide);
  cairo_save(b->to);
  cairo_translate(b->to, across(b, xy[0]), down(b, xy[1]));
  cairo_rotate(b->to, -item->turn);
  cairo_move_to(b->to, item->anchor == SL_LEFT ? 0 : item->anchor == SL_MIDDLE ? -wide.x_advance / 2
                                                                               : -wide.x_advance, 0);
  cairo_show_text(b->to, says);
  cairo_restore(b->to);
}

/* What a pen draws in a row is one path of a PDF, with less around it. Circles turn the same way, so that those that
 * lie on each other are filled as each of them is. In a picture each stroke lies on what is there. */
static bool goes_on(const struct brush *b, const struct sl_item *item, const struct sl_item *next) {
  if (b->job->png || next->shape == SL_TEXT || next->pen != item->pen || next->filled != item->filled) return false;
  return !item->filled || (item->shape == SL_CIRCLE && next->shape == SL_CIRCLE);
}

static void items(const struct brush *b) {
  const struct sl_item *end = b->of->items + b->of->nitems;
  for (const struct sl_item *item = b->of->items; item < end; item++) {
    if (item->shape == SL_TEXT) text(b, item);
    else {
      path_of(b, item);
      if (item + 1 == end || !goes_on(b, item, item + 1)) stroke(b, item);
    }
  }
}

static void draw(struct brush *b) {
  cairo_set_source_rgb(b->to, 0, 0, 0);
  cairo_set_line_cap(b->to, CAIRO_LINE_CAP_ROUND);
  cairo_set_line_join(b->to, CAIRO_LINE_JOIN_ROUND);
  b->of = b->page->sheet;
  items(b);
  if (!b->page->view) return;
  b->of = b->page->view;
  items(b);
}

/* ---- letters ----------------------------------------------------------------------------------------------------- */

/* The face goes when cairo lets go of the font, which may be after the page is written. */
struct face { FT_Library library; FT_Face face; };
struct letters { cairo_font_face_t *font; cairo_font_options_t *options; };

static void close_face(void *of) {
  struct face *f = of;
  if (f->face) FT_Done_Face(f->face);
  if (f->library) FT_Done_FreeType(f->library);
  free(f);
}

static bool letters_begin(struct letters *l, struct sl_paper_job *job) {
  static const cairo_user_data_key_t key;
  *l = (struct letters){ 0 };
  struct face *f = calloc(1, sizeof *f);
  if (!f || FT_Init_FreeType(&f->library) || FT_New_Face(f->library, job->font, 0, &f->face)) {
    snprintf(job->why, sizeof job->why, "the font of drawings cannot be read");
    if (f) close_face(f);
    return false;
  }
  l->font = cairo_ft_font_face_create_for_ft_face(f->face, FT_LOAD_NO_HINTING);
  if (cairo_font_face_set_user_data(l->font, &key, f, close_face) != CAIRO_STATUS_SUCCESS) {
    snprintf(job->why, sizeof job->why, "there is no memory for its font");
    cairo_font_face_destroy(l->font);
    close_face(f);
    *l = (struct letters){ 0 };
    return false;
  }
  l->options = cairo_font_options_create();
  cairo_font_options_set_hint_metrics(l->options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_hint_style(l->options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_antialias(l->options, CAIRO_ANTIALIAS_GRAY);
  return true;
}

static void letters_end(struct letters *l) {
  if (l->options) cairo_font_options_destroy(l->options);
  if (l->font) cairo_font_face_destroy(l->font);
}

/* ---- all of it --------------------------------------------------------------------------------------------------- */

static cairo_status_t put(void *own, const unsigned char *bytes, unsigned int n) {
  struct sl_paper_job *job = own;
  return job->put(job->own, bytes, n) ? CAIRO_STATUS_SUCCESS : CAIRO_STATUS_WRITE_ERROR;
}

static bool well(struct sl_paper_job *job, cairo_status_t status) {
  if (status == CAIRO_STATUS_SUCCESS) return true;
  snprintf(job->why, sizeof job->why, "%s", cairo_status_to_string(status));
  return false;
}

static cairo_t *begin(cairo_surface_t *surface, const struct letters *l) {
  cairo_t *to = cairo_create(surface);
  cairo_set_font_face(to, l->font);
  cairo_set_font_options(to, l->options);
  return to;
}

static bool write_pdf(struct sl_paper_job *job, const struct letters *l) {
  const struct sl_page *first = job->pages;
  cairo_surface_t *s = cairo_pdf_surface_create_for_stream(put, job, first->width * POINTS,
                                                           first->height * POINTS);
  cairo_pdf_surface_set_metadata(s, CAIRO_PDF_METADATA_TITLE, job->title);
  cairo_pdf_surface_set_metadata(s, CAIRO_PDF_METADATA_CREATOR, "stringline");
  cairo_pdf_surface_set_metadata(s, CAIRO_PDF_METADATA_CREATE_DATE, job->date ? job->date : "");
  cairo_pdf_surface_set_metadata(s, CAIRO_PDF_METADATA_MOD_DATE, job->date ? job->date : "");
  cairo_t *to = NULL;
  for (size_t i = 0; i < job->n; i++) {
    const struct sl_page *page = &job->pages[i];
    char where[40];
    cairo_pdf_surface_set_size(s, page->width * POINTS, page->height * POINTS);
    if (to) cairo_destroy(to);
    to = begin(s, l);
    struct brush b = { to, POINTS, job, page, NULL };
    draw(&b);
    cairo_pdf_surface_set_page_label(s, page->label);
    cairo_show_page(to);
    snprintf(where, sizeof where, "page=%zu", i + 1);
    cairo_pdf_surface_add_outline(s, CAIRO_PDF_OUTLINE_ROOT, page->title, where, 0);
  }
  bool good = to && well(job, cairo_status(to));
  if (to) cairo_destroy(to);
  cairo_surface_finish(s);
  good = well(job, cairo_surface_status(s)) && good;
  cairo_surface_destroy(s);
  return good;
}

static bool write_png(struct sl_paper_job *job, const struct letters *l) {
  const struct sl_page *page = job->pages;
  const double unit = 1 / job->dot;
  cairo_surface_t *s = cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)ceil(page->width * unit),
                                                  (int)ceil(page->height * unit));
  cairo_t *to = begin(s, l);
  cairo_set_source_rgb(to, 1, 1, 1);
  cairo_paint(to);
  struct brush b = { to, unit, job, page, NULL };
  draw(&b);
  bool good = well(job, cairo_status(to));
  cairo_destroy(to);
  good = good && well(job, cairo_surface_write_to_png_stream(s, put, job));
  cairo_surface_destroy(s);
  return good;
}

bool sl_paper_write(struct sl_paper_job *job) {
  struct letters l;
  *job->why = '\0';
  if (job->version != SL_PAPER_VERSION) {
    snprintf(job->why, sizeof job->why, "it is of another version of the program");
    return false;
  }
  const bool good = letters_begin(&l, job) && (job->png ? write_png(job, &l) : write_pdf(job, &l));
  letters_end(&l);
  return good;
}
