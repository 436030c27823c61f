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
#ifndef SL_MESSAGE_H
#define SL_MESSAGE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include "host/source.h"

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
/* sources: the texts that the message's `source` is one of; NULL: none.  Colour only where asked for by the caller (see sl_colour_wanted). JSON: one object a line.
 * Columns are byte columns in all three.  Nothing that a text holds reaches a terminal as a control character. */
void sl_message_print(FILE *to, struct sl_sources *sources, const struct sl_message *message, enum sl_format format,
                      bool colour);
/* A terminal, NO_COLOR unset or empty, TERM not dumb, and not switched off. */
bool sl_colour_wanted(FILE *to, bool switched_off);
#endif
