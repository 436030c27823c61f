/* SPDX-License-Identifier: MIT
 * Marks of a scanned text found by what they are called: heads, fields and items, without going through all of them. */
#ifndef SL_PLACES_H
#define SL_PLACES_H

#include "box/memory.h"
#include "scan/scanner.h"

/* Of the marks of a text, in the memory of a run; false: no memory, and nothing is kept. */
bool sl_places_build(struct sl_box *box, const char *text, const struct sl_mark *mark, size_t n, struct sl_places *out);
void sl_places_free(struct sl_box *box, struct sl_places *places);

/* Each gives the index of a mark of the scan, or -1.  `text` is what was scanned. */

/* The head of a declaration on a line: by kind and name, by kind, or the last such head above. */
int sl_place_head(const struct sl_scan *scan, const char *text, int line, const char *kind, const char *name);
/* The OPEN that belongs to a head or a field, and the CLOSE of an OPEN. */
int sl_place_open(const struct sl_scan *scan, int holder);
int sl_place_close(const struct sl_scan *scan, int open);
/* Key `word`, or item n (from 1), directly in the constructor that opens at `open`. */
int sl_place_key(const struct sl_scan *scan, const char *text, int open, const char *word);
int sl_place_item(const struct sl_scan *scan, int open, long long n);

#endif
