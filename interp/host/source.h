/* SPDX-License-Identifier: MIT
 * The texts that messages point into: scripts, parts and price files.  No Lua. */
#ifndef SL_SOURCE_H
#define SL_SOURCE_H

#include <stddef.h>

/* The texts that messages point into, copied.  A byte order mark in front is dropped: columns count from after it. */
/* Id from 1; 0 is no memory.  The same name again replaces its text (and ends what was got from it). */
int sl_source_add(const char *name, const char *text, size_t len);
int sl_source_find(const char *name);                                 /* 0: unknown */
const char *sl_source_name(int id);                                   /* NULL: unknown */
const char *sl_source_text(int id, size_t *len);
/* Line `line` (1-based) without its end; NULL past the end. */
const char *sl_source_line(int id, int line, size_t *len);
/* Bytes of the line end at `at`: 0 none, else 1 or 2.  Lua's rule: LF, CR, CRLF and LFCR are one each. */
size_t sl_line_end(const char *text, size_t len, size_t at);
#endif
