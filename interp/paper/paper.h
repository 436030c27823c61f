/* SPDX-License-Identifier: MIT
 * The private module for PDF and PNG: a file of its own, opened when a page is first wanted in one of those, so that no
 * other run waits for its libraries.  It has one function. */
#ifndef SL_PAPER_H
#define SL_PAPER_H

#include "draw/drawing.h"

enum { SL_PAPER_DASHES = 12, SL_PAPER_VERSION = 2 };
struct sl_paper_pen { double width, dash[SL_PAPER_DASHES]; int dashes; };      /* m of paper */

struct sl_paper_job {
  int version;                          /* SL_PAPER_VERSION of who calls */
  bool png;                             /* of the one page; else a PDF of all */
  const struct sl_page *pages;
  size_t n;
  const struct sl_paper_pen *pens;
  const char *font;                     /* its file */
  double em;                            /* of the font, where capitals are 1 high */
  double dot;                           /* of a PNG, m */
  const char *title, *date;             /* of a PDF; "2026-11-02T00:00:00Z", NULL: none */
  bool (*put)(void *own, const unsigned char *bytes, size_t n);
  void *own;
  char why[200];                        /* what is in the way, where it gives false */
};

__attribute__((visibility("default"))) bool sl_paper_write(struct sl_paper_job *job);
#endif
