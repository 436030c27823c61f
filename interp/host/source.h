/* SPDX-License-Identifier: MIT
 * The texts of one run that messages point into: scripts, parts and price files, each with what the scanner found in
 * it.  No Lua. */
#ifndef SL_SOURCE_H
#define SL_SOURCE_H

#include <stdbool.h>
#include <stddef.h>
#include "scan/spots.h"

enum { SL_SOURCES = 255 };               /* an origin has eight bits for its text: see sl_origin */

struct sl_source {
  char *name, *text; size_t len;
  bool bom;                              /* a byte order mark stood in front of it */
  struct sl_scan scan;
  struct sl_spots spots; bool spotted;   /* its literals, once one was asked for by its place */
  size_t *line; int lines, room;         /* where lines begin, as far as one was asked for */
};
/* Starts as all 0, but for the box whose memory it takes. */
struct sl_sources { struct sl_source *list; int n; struct sl_box *box; };

/* The text is copied.  A byte order mark in front is dropped: columns count from after it.
 * Id from 1; 0 is no memory, -1 that there are SL_SOURCES already.  The same name again replaces its text and its scan
 * (and ends what was got from them). */
int sl_source_add(struct sl_sources *sources, const char *name, const char *text, size_t len);
/* Keeps what the scanner found; owns it from then on. */
void sl_source_scanned(struct sl_sources *sources, int id, struct sl_scan *scan);
const struct sl_scan *sl_source_scan(const struct sl_sources *sources, int id);       /* NULL: unknown */
/* The literals of the text; NULL: unknown, or no memory. */
const struct sl_spots *sl_source_spots(struct sl_sources *sources, int id);
int sl_source_find(const struct sl_sources *sources, const char *name);               /* 0: unknown */
const char *sl_source_name(const struct sl_sources *sources, int id);                 /* NULL: unknown */
const char *sl_source_text(const struct sl_sources *sources, int id, size_t *len);
bool sl_source_bom(const struct sl_sources *sources, int id);
/* Line `line` (1-based) without its end; NULL past the end, or without memory to find it. */
const char *sl_source_line(struct sl_sources *sources, int id, int line, size_t *len);
void sl_sources_free(struct sl_sources *sources);
/* Bytes of the line end at `at`: 0 none, else 1 or 2.  Lua's rule: LF, CR, CRLF and LFCR are one each. */
size_t sl_line_end(const char *text, size_t len, size_t at);
#endif
