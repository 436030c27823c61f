/* SPDX-License-Identifier: MIT
 * Messages: one shape for script errors, for rules that fail and for bad files, in three formats.  No Lua.
 *
 * job.sline:41:20: error: cannot add a length to a force                  [Q003]
 *     local t = span + load
 *               ^~~~ length, 20 ft
 *                      ^~~~ force, 1200 lbf
 *     line 12: local pull = 1200lbf
 *                           ^~~~~~~ written here
 *     note: both come from the script
 *     help: a moment is `span * load`
 *         moment = 24000lbf.ft,
 *
 * The first line is one line, however long, as editors read it: file, line, column in bytes, severity, words; its code
 * ends at column 80 where that leaves two blanks.  Without a place it begins with "stringline: "; a file alone, or a
 * line alone, has no column.  Below stand the line without the blanks in front, a row for each mark with its words,
 * from left to right, then the other lines that have marks, each with its number.  A mark without words has a row only
 * where no other mark of its line has words: those say more.  Of a long line a piece is shown, between "…". */
#ifndef SL_MESSAGE_H
#define SL_MESSAGE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include "host/source.h"

enum sl_severity { SL_ERROR, SL_WARNING, SL_NOTE_LEVEL, SL_PRINT };   /* SL_PRINT: a line that a script prints */
enum { SL_MESSAGE_LABELS = 6, SL_MESSAGE_NOTES = 8 };
struct sl_label { struct sl_span span; const char *text; };           /* same file as the message */
struct sl_message {
  enum sl_severity severity;
  const char *code;                  /* "Q003" */
  const char *text;                  /* stands alone; plain English, lower case */
  int source;                        /* 0: no place (a usage error) */
  struct sl_span span;               /* primary.  line 0: the file alone; col 0: the line alone, without a mark */
  struct sl_label label[SL_MESSAGE_LABELS]; size_t nlabel;            /* one at the primary's place gives it words */
  const char *note[SL_MESSAGE_NOTES]; size_t nnote;                   /* "note: ..." */
  const char *help;                  /* "help: ..." or NULL */
  const char *write;                 /* what can be written into the file, line by line, below the help; or NULL */
};

/* SL_GNU: the first line, and one of its kind for each label, note and help.  JSON: one object a line. */
enum sl_format { SL_HUMAN, SL_GNU, SL_JSON };
/* Written in one piece.  sources: the texts that the message's `source` is one of; NULL: none.  Colour only where asked
 * for by the caller (see sl_colour_wanted).  Columns are byte columns in all three.  Nothing that a text holds is
 * obeyed by a terminal, or ends a line (host/text.h). */
void sl_message_print(FILE *to, struct sl_sources *sources, const struct sl_message *message, enum sl_format format,
                      bool colour);
/* A terminal, NO_COLOR unset or empty, TERM not dumb, and not switched off. */
bool sl_colour_wanted(FILE *to, bool switched_off);
#endif
