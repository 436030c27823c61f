/* SPDX-License-Identifier: MIT
 * Drawings without Lua: the list, letters, dimensions, what lies on each other, numbers, DXF, the update of a PDF.
 * Expected values: by hand from the sizes in the tables, or as the formats define them. */
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "check.h"
#include "draw/drawing.h"
#include "draw/letters.h"
#include "draw/pdf.h"
#include "draw/png.h"
#include "draw/written.h"

static void *resize(void *own, void *block, size_t old, size_t size) {
  size_t *left = own;
  if (size == 0) {
    free(block);
    return NULL;
  }
  if (left && size - old > *left) return NULL;
  if (left) *left -= size - old;
  return realloc(block, size);
}
static const struct sl_grow grow = { resize, NULL };

static struct sl_drawing begun(double ratio) {
  struct sl_drawing d;
  sl_drawing_begin(&d, ratio, grow);
  d.pen = sl_pen("thin");
  d.layer = sl_layer("G-ANNO-DIMS");
  return d;
}

static const char *text_of(const struct sl_drawing *d, size_t nth) {
  for (size_t i = 0; i < d->nitems; i++)
    if (d->items[i].shape == SL_TEXT && nth-- == 0) return d->texts + d->items[i].text;
  return "";
}
static const struct sl_item *nth_text(const struct sl_drawing *d, size_t nth) {
  for (size_t i = 0; i < d->nitems; i++) if (d->items[i].shape == SL_TEXT && nth-- == 0) return &d->items[i];
  return NULL;
}

/* ---- letters ----------------------------------------------------------------------------------------------------- */

static void widths(void **state) {
  (void)state;
  /* The font's own tables, as FreeType reads them: em 2048, an H of 1493 high and 1386 wide, a blank of 585. */
  assert_near(sl_letters_width("H", 1493), 1386, 1e-9);
  assert_near(sl_letters_width("H H", 1493), 1386 + 585 + 1386, 1e-9);
  assert_near(sl_letters_em(), 2048.0 / 1493, 1e-12);
  assert_near(sl_letters_width("", 1), 0, 0);
  assert_true(sl_letters_has(0xFC));                         /* u with two dots */
  assert_false(sl_letters_has(0x4E2D));                      /* a Chinese character */
}

static void characters(void **state) {
  (void)state;
  size_t n;
  assert_int_equal(sl_letters_next("\xC3\xBC", &n), 0xFC);
  assert_int_equal(n, 2);
  assert_int_equal(sl_letters_next("\xF0\x9F\x8C\xBD", &n), 0x1F33D);
  assert_int_equal(n, 4);
  assert_int_equal(sl_letters_next("\xE2\x82", &n), 0xDCE2);    /* cut off: a byte by itself */
  assert_int_equal(n, 1);
}

static void foreign_letters(void **state) {
  (void)state;
  struct sl_drawing d = begun(1);
  sl_draw_text(&d, 0, 0, "a\xF0\x9F\x8C\xBD" "b\xFF", 1, 0, SL_LEFT);
  assert_string_equal(text_of(&d, 0), "aU+1F33DbU+DCFF");
  /* It is measured as it is written, before it is, too. */
  assert_near(sl_letters_width("a\xF0\x9F\x8C\xBD" "b\xFF", 1), sl_letters_width("aU+1F33DbU+DCFF", 1), 1e-12);
  sl_drawing_end(&d);
}

/* ---- the same ---------------------------------------------------------------------------------------------------- */

static void thing(struct sl_drawing *d, double x, double radius, const char *text, bool filled) {
  const double xy[] = { 0, 0, 1, 0, 1, 1 };
  sl_draw_polyline(d, xy, 3, true, filled);
  sl_draw_line(d, 0, 0, x, 2);
  sl_draw_circle(d, 3, 4, radius, false);
  sl_draw_text(d, 1, 1, text, 0.003, 0, SL_LEFT);
}

/* A file has thousandths of a millimetre of paper, at 1 to 50 a twentieth of a millimetre of the thing: less than a
 * tenth of that is no difference, and all else that a page shows is one. */
static void same(void **state) {
  (void)state;
  static const struct {
    double x, radius;
    const char *text;
    bool filled;
    const char *pen, *layer;
    bool want;
  } rows[] = {
    { 2, 1, "F1", false, "thin", "S-POST", true }, { 2 + 4e-6, 1, "F1", false, "thin", "S-POST", true },
    { 2 + 6e-6, 1, "F1", false, "thin", "S-POST", false }, { 2, 1.001, "F1", false, "thin", "S-POST", false },
    { 2, 1, "F2", false, "thin", "S-POST", false }, { 2, 1, "F1", true, "thin", "S-POST", false },
    { 2, 1, "F1", false, "wide", "S-POST", false }, { 2, 1, "F1", false, "thin", "S-FNDN", false } };
  struct sl_drawing a = begun(50);
  a.layer = sl_layer("S-POST");
  thing(&a, 2, 1, "F1", false);
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
    struct sl_drawing b = begun(50);
    b.pen = sl_pen(rows[i].pen), b.layer = sl_layer(rows[i].layer);
    thing(&b, rows[i].x, rows[i].radius, rows[i].text, rows[i].filled);
    assert_int_equal(sl_drawing_same(&a, &b, false), rows[i].want);
    assert_int_equal(sl_drawing_same(&b, &a, true), rows[i].want);
    sl_draw_line(&b, 0, 0, 9, 9);                            /* one item more */
    assert_false(sl_drawing_same(&a, &b, false));
    sl_drawing_end(&b);
  }
  struct sl_drawing c = begun(100);                          /* at another scale */
  c.layer = a.layer;
  thing(&c, 2, 1, "F1", false);
  assert_false(sl_drawing_same(&a, &c, false));
  sl_drawing_end(&c);
  /* A triangle 3 m higher is the same at any height, one of another height is not, nor one that lies beside. */
  static const double here[] = { 0, 0, 1, 0, 1, 1 }, up[] = { 0, 3, 1, 3, 1, 4 }, tall[] = { 0, 3, 1, 3, 1, 5 },
                      beside[] = { 3, 0, 4, 0, 4, 1 };
  const double *const others[] = { up, tall, beside };
  for (size_t i = 0; i < 3; i++) {
    struct sl_drawing d = begun(50), e = begun(50);
    sl_draw_polyline(&d, here, 3, true, false), sl_draw_polyline(&e, others[i], 3, true, false);
    assert_false(sl_drawing_same(&d, &e, false));
    assert_int_equal(sl_drawing_same(&d, &e, true), i == 0);
    sl_drawing_end(&d), sl_drawing_end(&e);
  }
  sl_drawing_end(&a);
}

/* ---- the list ---------------------------------------------------------------------------------------------------- */

static void box_of_a_text(void **state) {
  (void)state;
  struct sl_drawing d = begun(24);
  sl_draw_text(&d, 1, 2, "HH", 0.0026, 0, SL_MIDDLE);
  const double wide = 2 * 1386.0 / 1493 * 0.0026 * 24;       /* on paper, times the ratio */
  assert_near(d.box.right - d.box.left, wide, 1e-9);
  assert_near((d.box.left + d.box.right) / 2, 1, 1e-9);
  assert_near(d.box.high, 2 + 0.0026 * 24, 1e-9);
  sl_drawing_end(&d);
}

static void no_numbers(void **state) {
  (void)state;
  struct sl_drawing d = begun(24);
  sl_draw_line(&d, 0, 0, 1, NAN);
  assert_true(d.wrong);
  assert_int_equal(d.nitems, 0);
  sl_drawing_end(&d);
  d = begun(24);
  sl_draw_line(&d, 1, 1, 1, 1);                              /* of no length */
  sl_draw_circle(&d, 1, 1, 0, false);
  assert_int_equal(d.nitems, 0);
  assert_false(d.wrong);
  sl_drawing_end(&d);
}

static void no_memory(void **state) {
  (void)state;
  size_t left = 100;
  struct sl_drawing d;
  sl_drawing_begin(&d, 24, (struct sl_grow){ resize, &left });
  d.pen = sl_pen("thin"), d.layer = 0;
  sl_draw_line(&d, 0, 0, 1, 1);
  assert_true(d.starved);
  sl_draw_text(&d, 0, 0, "still standing", 1, 0, SL_LEFT);
  assert_int_equal(d.nitems, 0);
  sl_drawing_end(&d);
  struct sl_written w;
  sl_written_begin(&w, (struct sl_grow){ resize, &left });
  sl_put(&w, "a text");
  assert_true(w.starved);
  sl_written_end(&w);
}

/* ---- dimensions -------------------------------------------------------------------------------------------------- */

/* The items that are lines of a chain along x at a height, from the lines of a drawing. */
static size_t lines_at(const struct sl_drawing *d, double y, double from, double to) {
  size_t n = 0;
  for (size_t i = 0; i < d->nitems; i++) {
    const double *xy = d->xy + d->items[i].first;
    if (d->items[i].shape == SL_POLYLINE && d->items[i].points == 2 && fabs(xy[1] - y) < 1e-9 &&
        fabs(xy[3] - y) < 1e-9 && fabs(xy[0] - from) < 1e-9 && fabs(xy[2] - to) < 1e-9) n++;
  }
  return n;
}

static void chain(void **state) {
  (void)state;
  struct sl_drawing d = begun(24);
  const double at[] = { 0, 2, 2.1, 4 };
  const char *texts[] = { "2 m", "100 mm", "1.9 m" };
  const double next = sl_draw_chain(&d, &(struct sl_chain){ false, 0, -1, at, texts, 4 });
  for (size_t i = 0; i < 3; i++) assert_int_equal(lines_at(&d, -1, at[i], at[i + 1]), 1);
  assert_string_equal(text_of(&d, 0), "2 m");
  /* Above its line by 0.4 of its height, in the middle: 2.6 mm at 24. */
  assert_near(d.xy[nth_text(&d, 0)->first], 1, 1e-9);
  assert_near(d.xy[nth_text(&d, 0)->first + 1], -1 + 0.4 * 0.0026 * 24, 1e-9);
  /* 100 mm is 4 mm on paper, its text 14 mm wide: it stands below, and the next chain below that. */
  assert_true(d.xy[nth_text(&d, 1)->first + 1] < -1);
  assert_near(d.xy[nth_text(&d, 1)->first], 2.05, 1e-9);
  assert_true(next < d.xy[nth_text(&d, 1)->first + 1] - 0.008 * 24 + 1e-9);
  assert_null(sl_drawing_touched(&d));
  sl_drawing_end(&d);
}

static void short_ends(void **state) {
  (void)state;
  struct sl_drawing d = begun(24);
  const double at[] = { 0, 0.1, 2 };
  const char *texts[] = { "100 mm", "1.9 m" };
  sl_draw_chain(&d, &(struct sl_chain){ false, 0, -1, at, texts, 3 });
  assert_true(d.xy[nth_text(&d, 0)->first] < 0);             /* beyond the end, on the line */
  assert_null(sl_drawing_touched(&d));
  sl_drawing_end(&d);
}

static void running(void **state) {
  (void)state;
  struct sl_drawing d = begun(48);
  const double at[] = { -0.5, 0, 0.05, 0.1, 3 };
  const char *texts[] = { "500 mm W", "0", "50 mm E", "100 mm E", "3000 mm E" };
  sl_draw_running(&d, &(struct sl_chain){ false, 0, -1, at, texts, 5 }, 0);
  size_t circles = 0;
  for (size_t i = 0; i < d.nitems; i++)
    if (d.items[i].shape == SL_CIRCLE) {
      circles++;
      assert_near(d.xy[d.items[i].first], 0, 1e-9);
      assert_near(d.items[i].radius, 0.0015 * 48, 1e-9);     /* 3 mm wide on paper */
    }
  assert_int_equal(circles, 1);
  assert_null(sl_drawing_touched(&d));                       /* three places within 2 mm of paper */
  sl_drawing_end(&d);
}

/* ---- touching ---------------------------------------------------------------------------------------------------- */

static void touching(void **state) {
  (void)state;
  struct sl_drawing d = begun(1);
  sl_draw_text(&d, 0, 0, "first", 1, 0, SL_LEFT);
  sl_draw_line(&d, 0, 1.5, 10, 1.5);                         /* above its capitals */
  assert_null(sl_drawing_touched(&d));
  sl_draw_text(&d, 0, 3, "turned", 1, 0.7, SL_LEFT);
  assert_null(sl_drawing_touched(&d));
  sl_draw_line(&d, 1, -1, 1, 0.5);
  assert_string_equal(sl_drawing_touched(&d), "first");
  sl_drawing_end(&d);
  d = begun(1);
  sl_draw_text(&d, 0, 0, "one", 1, 0, SL_LEFT);
  sl_draw_circle(&d, 5, 0, 4.5, false);                      /* its left edge stands in the text */
  assert_string_equal(sl_drawing_touched(&d), "one");
  sl_drawing_end(&d);
  d = begun(1);
  sl_draw_text(&d, 0, 0, "one", 1, 0, SL_LEFT);
  sl_draw_text(&d, 1, 0.5, "two", 1, 1.5707963267948966, SL_LEFT);
  assert_string_equal(sl_drawing_touched(&d), "one");
  sl_drawing_end(&d);
  d = begun(1);
  sl_draw_text(&d, 3, 3, "i", 1, 0, SL_LEFT);                /* within the box of the quarter, and of the bent line */
  sl_draw_arc(&d, 0, 0, 10, 0, 1.5707963267948966);
  const double bent[] = { 0, 9, 0, 0, 9, 0 };
  sl_draw_polyline(&d, bent, 3, false, false);
  assert_null(sl_drawing_touched(&d));
  sl_draw_polyline(&d, bent, 3, true, false);                /* closed, its third side is x + y = 9 */
  assert_null(sl_drawing_touched(&d));
  sl_draw_text(&d, 3.5, 5.2, "mm", 1, 0, SL_LEFT);
  assert_string_equal(sl_drawing_touched(&d), "mm");
  sl_drawing_end(&d);
}

/* A box from 0 to 10, a line from 2 at 0 to 12 at 10, circles and texts at 1, 5 and 9; from 4 to 8 of it. */
static void clipped(void **state) {
  (void)state;
  struct sl_drawing d = begun(1);
  const double box[] = { 0, 0, 10, 0, 10, 3, 0, 3 }, inside[] = { 5, 1, 7, 1, 7, 2 };
  sl_draw_polyline(&d, box, 4, true, false);
  sl_draw_polyline(&d, inside, 3, true, true);
  sl_draw_line(&d, 2, 0, 12, 10);
  sl_draw_line(&d, 1, -1, 1, 20);                            /* outside, upright */
  sl_draw_line(&d, 8, 4, 8, 6);                              /* on the edge */
  for (int i = 0; i < 3; i++) {
    sl_draw_circle(&d, 1 + 4 * i, 5, 0.1, false);
    sl_draw_text(&d, 1 + 4 * i, 8, i == 1 ? "in" : "out", 0.2, 0, SL_MIDDLE);
  }
  d.pen = sl_pen("wide");
  sl_drawing_clip(&d, 4, 8);
  assert_int_equal(d.pen, sl_pen("wide"));
  assert_true(d.box.left >= 4 && d.box.right <= 8 && d.box.low >= 0);
  assert_int_equal(d.nitems, 7);                             /* two sides, the triangle, two lines, circle, text */
  size_t circles = 0, texts = 0;
  for (size_t i = 0; i < d.nitems; i++) {
    const double *xy = d.xy + d.items[i].first;
    if (d.items[i].shape == SL_CIRCLE) circles++, assert_near(xy[0], 5, 1e-12);
    if (d.items[i].shape == SL_TEXT) texts++, assert_string_equal(d.texts + d.items[i].text, "in");
    if (d.items[i].shape == SL_POLYLINE && d.items[i].filled) assert_int_equal(d.items[i].points, 3);
  }
  assert_int_equal(circles, 1);
  assert_int_equal(texts, 1);
  const double *cut = d.xy + d.items[3].first;               /* the line: x - y = 2 all along it */
  assert_near(cut[0] - 4, 0, 1e-12);
  assert_near(cut[1] - 2, 0, 1e-12);
  assert_near(cut[2] - 8, 0, 1e-12);
  assert_near(cut[3] - 6, 0, 1e-12);
  sl_drawing_end(&d);
}

static void hatches(void **state) {
  (void)state;
  const double square[] = { 0, 0, 1, 0, 1, 1, 0, 1 };
  static const char *const names[] = { "gravel", "concrete", "steel", "wood" };
  for (size_t k = 0; k < 4; k++) {
    struct sl_drawing d = begun(24);
    assert_true(sl_draw_hatch(&d, names[k], square, 4));
    assert_true(d.nitems > 0);
    assert_true(d.box.left >= -1e-9 && d.box.low >= -1e-9 && d.box.right <= 1 + 1e-9 && d.box.high <= 1 + 1e-9);
    for (size_t i = 0; i < d.nitems; i++) assert_int_equal(d.items[i].pen, sl_pen("fine"));
    sl_drawing_end(&d);
  }
  struct sl_drawing d = begun(24);
  assert_true(sl_draw_hatch(&d, "earth", square, 2));
  assert_true(d.box.high <= 1e-9 && d.box.low < 0);          /* below the line of the ground */
  assert_false(sl_draw_hatch(&d, "marble", square, 4));
  sl_drawing_end(&d);
}

/* ---- written ----------------------------------------------------------------------------------------------------- */

static void numbers(void **state) {
  (void)state;
  static const struct { double v; int decimals; const char *text; } rows[] = {
    { 0, 3, "0" }, { -0.0, 3, "0" }, { -0.0004, 3, "0" }, { 1.5, 3, "1.5" }, { -1.25, 3, "-1.25" }, { 0.05, 3, "0.05" },
    { 2.9996, 3, "3" }, { 431.8, 3, "431.8" }, { 1e6, 6, "1000000" }, { 1.000001, 6, "1.000001" } };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
    struct sl_written w;
    sl_written_begin(&w, grow);
    sl_put_number(&w, rows[i].v, rows[i].decimals);
    sl_put_bytes(&w, "", 1);
    assert_string_equal(w.at, rows[i].text);
    sl_written_end(&w);
  }
}

static char *dxf_of(const char *text, struct sl_written *w) {
  struct sl_drawing d = begun(1);
  sl_draw_text(&d, 0, 0, text, 0.0026, 0, SL_LEFT);
  sl_written_begin(w, grow);
  sl_write_dxf(w, &(struct sl_page){ 0.4, 0.3, &d, NULL, 0, 0, "t", "s", "l" }, 0.001);
  sl_put_bytes(w, "", 1);
  sl_drawing_end(&d);
  return w->at;
}

static void dxf_texts(void **state) {
  (void)state;
  /* As the format has it: %%d degree, %%p plus-minus, %%% a percent sign, \U+ any other, ^ and a blank a caret. A % of
   * which no reader could take anything else stays: one reader at least knows no %%%. */
  static const struct { const char *text, *value; } rows[] = {
    { "35\xC2\xB0", "\n35%%d\n" }, { "5 % %%u", "\n5 % %%%%%%u\n" }, { "a\\U+0041^", "\na\\U+005CU+0041^ \n" },
    { "\xC3\xBC", "\n\\U+00FC\n" }, { "\xC2\xB1" "1", "\n%%p1\n" },
    { "%\xC2\xB0", "\n%%%%%d\n" }, { "\xC2\xB0%", "\n%%d%\n" }, { "%d", "\n%d\n" } };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
    struct sl_written w;
    assert_non_null(strstr(dxf_of(rows[i].text, &w), rows[i].value));
    sl_written_end(&w);
  }
  char lengthy[401];
  memset(lengthy, 'H', 400), lengthy[400] = '\0';
  struct sl_written w;
  const char *all = dxf_of(lengthy, &w);
  size_t letters = 0, texts = 0;
  for (const char *s = strstr(all, "ENTITIES"); (s = strstr(s, "\n  1\n")); texts++) {
    s += 5;
    const size_t n = strcspn(s, "\n");
    assert_true(n <= 250);
    letters += n;
  }
  assert_int_equal(letters, 400);
  assert_int_equal(texts, 2);
  sl_written_end(&w);
}

static void svg_texts(void **state) {
  (void)state;
  struct sl_drawing d = begun(1);
  struct sl_written w;
  sl_draw_text(&d, 0, 0, "a & b < c \"d\"", 0.0026, 0, SL_LEFT);
  sl_written_begin(&w, grow);
  sl_write_svg(&w, &(struct sl_page){ 0.4, 0.3, &d, NULL, 0, 0, "t & t", "s", "l" });
  sl_put_bytes(&w, "", 1);
  assert_non_null(strstr(w.at, ">a &amp; b &lt; c &quot;d&quot;</text>"));
  assert_non_null(strstr(w.at, "<title>t &amp; t</title>"));
  assert_non_null(strstr(w.at, "width=\"400mm\" height=\"300mm\" viewBox=\"0 0 400 300\""));
  assert_null(strstr(w.at, "<style"));
  sl_written_end(&w);
  sl_drawing_end(&d);
}

/* ---- PDF --------------------------------------------------------------------------------------------------------- */

static void pdf_update(void **state) {
  (void)state;
  static const char old[] =
    "%PDF-1.5\n1 0 obj\n<< /Type /Catalog /Pages 2 0 R >>\nendobj\n2 0 obj\n<< /Type /Pages >>\nendobj\nxref\n0 3\n"
    "trailer\n<< /Size 3 /Root 1 0 R /Info 2 0 R >>\nstartxref\n112\n%%EOF\n";
  struct sl_written w;
  sl_written_begin(&w, grow);
  sl_put(&w, old);
  assert_true(sl_pdf_update(&w, "00112233445566778899aabbccddeeff"));
  sl_put_bytes(&w, "", 1);
  assert_memory_equal(w.at, old, sizeof old - 1);            /* the old file stays byte for byte */
  const char *fresh = w.at + sizeof old - 1;
  assert_int_equal(strncmp(fresh, "1 0 obj\n<< /Type /Catalog /Pages 2 0 R ", 39), 0);
  assert_non_null(strstr(fresh, "/Lang (en) /ViewerPreferences << /PrintScaling /None"));
  char entry[40], end[80];
  snprintf(entry, sizeof entry, "xref\n1 1\n%010zu 00000 n \n", sizeof old - 1);
  assert_non_null(strstr(fresh, entry));
  assert_non_null(strstr(fresh, "/Size 3 /Root 1 0 R /Info 2 0 R /Prev 112 /ID [<00112233445566778899aabbccddeeff> "));
  snprintf(end, sizeof end, "startxref\n%zu\n%%%%EOF\n", (size_t)(strstr(fresh, "xref\n1 1") - w.at));
  assert_non_null(strstr(fresh, end));
  sl_written_end(&w);
  static const char *const broken[] = { "", "%PDF-1.5\n", "trailer\n<< /Size 3 >>\nstartxref\n0\n",
                                        "trailer\n<< /Size 3 /Root 7 0 R >>\nstartxref\n0\n%%EOF\n" };
  for (size_t i = 0; i < sizeof broken / sizeof *broken; i++) {
    sl_written_begin(&w, grow);
    sl_put(&w, broken[i]);
    assert_false(sl_pdf_update(&w, "00"));
    sl_written_end(&w);
  }
}

static void png_size(void **state) {
  (void)state;
  /* 300 dots to an inch are 11811 to a metre; the sum as zlib's crc32 has it, and as many a picture of that size. */
  static const char want[] = "\0\0\0\11pHYs\0\0\x2E\x23\0\0\x2E\x23\1\x78\xA5\x3F\x76";
  static const char head[] = "\x89PNG\r\n\x1A\n\0\0\0\15IHDR\0\0\0\1\0\0\0\1\10\2\0\0\0\x90\x77\x53\xDE";
  struct sl_written w;
  sl_written_begin(&w, grow);
  sl_put_bytes(&w, head, 33), sl_put(&w, "and what follows");
  assert_true(sl_png_size(&w, 0.0254 / 300));
  assert_int_equal(w.n, 33 + 21 + 16);
  assert_memory_equal(w.at, head, 33);
  assert_memory_equal(w.at + 33, want, 21);
  assert_memory_equal(w.at + 54, "and what follows", 16);
  assert_false(sl_png_size(&w, 0));
  sl_written_end(&w);
  sl_written_begin(&w, grow);
  sl_put(&w, "no picture, and yet long enough to be one");
  assert_false(sl_png_size(&w, 0.0254 / 300));
  sl_written_end(&w);
}

int main(void) {
  const struct CMUnitTest tests[] = {
    cmocka_unit_test(widths), cmocka_unit_test(characters), cmocka_unit_test(foreign_letters),
    cmocka_unit_test(box_of_a_text), cmocka_unit_test(no_numbers), cmocka_unit_test(no_memory),
    cmocka_unit_test(chain), cmocka_unit_test(short_ends), cmocka_unit_test(running), cmocka_unit_test(touching),
    cmocka_unit_test(clipped), cmocka_unit_test(same),
    cmocka_unit_test(hatches), cmocka_unit_test(numbers), cmocka_unit_test(dxf_texts), cmocka_unit_test(svg_texts),
    cmocka_unit_test(pdf_update), cmocka_unit_test(png_size),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
