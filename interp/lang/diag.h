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
#include <stdio.h>
#include "scanner.h"

/* The texts that messages point into. */
int sl_source_add(const char *name, const char *text, size_t len);   /* id from 1; the same name again replaces its text */
int sl_source_find(const char *name);                                 /* 0: unknown */
const char *sl_source_name(int id);
const char *sl_source_text(int id, size_t *len);
/* Line `line` (1-based) without its end; NULL past the end. */
const char *sl_source_line(int id, int line, size_t *len);

enum sl_severity { SL_ERROR, SL_WARNING, SL_NOTE_LEVEL };
enum { SL_MESSAGE_LABELS = 6, SL_MESSAGE_NOTES = 8 };
struct sl_label { struct sl_span span; const char *text; };           /* same file as the message */
struct sl_message {
  enum sl_severity severity;
  const char *code;                  /* "Q003" */
  const char *text;                  /* stands alone; plain English, lower case */
  int source;                        /* 0: no place (a usage error) */
  struct sl_span span;               /* primary: carets.  line 0: the file alone */
  struct sl_label label[SL_MESSAGE_LABELS]; size_t nlabel;            /* secondary: dashes with their words */
  const char *note[SL_MESSAGE_NOTES]; size_t nnote;                   /* "= note: ..." */
  const char *help;                  /* "= help: ..." or NULL */
};

enum sl_format { SL_HUMAN, SL_GNU, SL_JSON };
/* Colour only where asked for by the caller (see sl_colour_wanted). JSON: one object a line. */
void sl_message_print(FILE *to, const struct sl_message *message, enum sl_format format, bool colour);
/* A terminal, NO_COLOR unset or empty, TERM not dumb, and not switched off. */
bool sl_colour_wanted(FILE *to, bool switched_off);
/* Display columns of n bytes of UTF-8 (bad bytes count one each; tabs as one). */
int sl_columns(const char *text, size_t n);
/* Nearest name for did-you-mean: a case-only match first, then edit distance <= max(1, len/3); NULL if none. */
const char *sl_nearest(const char *word, const char *const *names, size_t n);
/* Escapes for JSON into to, quotes included; bytes that are not UTF-8 become U+FFFD. */
void sl_json_string(FILE *to, const char *text, size_t len);
#endif
