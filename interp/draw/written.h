/* SPDX-License-Identifier: MIT
 * A text that grows while a page is written into it, and the two forms that need no library. */
#ifndef SL_WRITTEN_H
#define SL_WRITTEN_H

#include "draw/drawing.h"

struct sl_written { struct sl_grow grow; char *at; size_t n, room; bool starved; };

void sl_written_begin(struct sl_written *w, struct sl_grow grow);
void sl_written_end(struct sl_written *w);
void sl_put_bytes(struct sl_written *w, const char *text, size_t n);
void sl_put(struct sl_written *w, const char *text);
void sl_put_whole(struct sl_written *w, long long n);
/* The same digits under any locale: at most so many decimals, none that say nothing, never -0. */
void sl_put_number(struct sl_written *w, double v, int decimals);

/* Where a place of the view, or of the sheet, comes to lie on the paper: m from its lower left corner. */
static inline double sl_page_x(const struct sl_page *p, const struct sl_drawing *of, double x) {
  return of == p->view ? p->at_x + x / of->ratio : x;
}
static inline double sl_page_y(const struct sl_page *p, const struct sl_drawing *of, double y) {
  return of == p->view ? p->at_y + y / of->ratio : y;
}

/* SVG in mm of paper: texts stay texts, as wide as they were measured; a title and a description. */
void sl_write_svg(struct sl_written *w, const struct sl_page *page);
/* DXF of release 12: the thing at full size in units of that many metres, what stands on the sheet beside it. */
void sl_write_dxf(struct sl_written *w, const struct sl_page *page, double unit);
#endif
