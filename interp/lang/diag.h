/* SPDX-License-Identifier: MIT
 * Messages: one shape for script errors, for rules that fail and for bad files, in three formats.  No Lua.
 *
 *   error[Q003]: cannot add a length to a force
 *     --> job.sline:41:20
 *      |
 *   41 |   local t = span + load
 *      |             ---- ^ ---- force, 1200 lbf (line 12)
 *      |             |
 *      |             length, 20 ft
 *      = help: a moment is `span * load`
 */
#ifndef SL_DIAG_H
#define SL_DIAG_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include "scanner.h"

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

enum sl_severity { SL_ERROR, SL_WARNING, SL_NOTE_LEVEL };
enum { SL_MESSAGE_LABELS = 6, SL_MESSAGE_NOTES = 8 };
struct sl_label { struct sl_span span; const char *text; };           /* same file as the message */
struct sl_message {
  enum sl_severity severity;
  const char *code;                  /* "Q003" */
  const char *text;                  /* stands alone; plain English, lower case */
  int source;                        /* 0: no place (a usage error) */
  struct sl_span span;               /* primary: carets.  line 0: the file alone; col 0: the line alone, no caret */
  struct sl_label label[SL_MESSAGE_LABELS]; size_t nlabel;            /* secondary: dashes with their words */
  const char *note[SL_MESSAGE_NOTES]; size_t nnote;                   /* "= note: ..." */
  const char *help;                  /* "= help: ..." or NULL */
};

enum sl_format { SL_HUMAN, SL_GNU, SL_JSON };
/* Colour only where asked for by the caller (see sl_colour_wanted). JSON: one object a line.
 * Columns are byte columns in all three.  Nothing that a text holds reaches a terminal as a control character. */
void sl_message_print(FILE *to, const struct sl_message *message, enum sl_format format, bool colour);
/* A terminal, NO_COLOR unset or empty, TERM not dumb, and not switched off. */
bool sl_colour_wanted(FILE *to, bool switched_off);
/* Bytes of the UTF-8 character that text starts with and its code point; 0 where it is none (RFC 3629). */
size_t sl_utf8(const char *text, size_t n, uint32_t *point);
/* Display columns of n bytes of UTF-8 (bad bytes count one each; tabs as one). */
int sl_columns(const char *text, size_t n);
/* Nearest name for did-you-mean: a case-only match first, then edit distance <= max(1, len/3), where swapping two
 * neighbours is one edit; the first of equals; NULL if none.  A name that shares no letter is none ("x" is not "y"). */
const char *sl_nearest(const char *word, const char *const *names, size_t n);
/* One character, or one bad byte, of text as JSON wants it inside quotes: bytes taken; *n bytes (at most 6) into to. */
size_t sl_json_escape(const char *text, size_t len, char to[8], size_t *n);
/* Escapes for JSON into to, quotes included; bytes that are not UTF-8 become U+FFFD. */
void sl_json_string(FILE *to, const char *text, size_t len);
#endif
