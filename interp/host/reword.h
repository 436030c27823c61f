/* SPDX-License-Identifier: MIT
 * Lua's own messages in words that a person can use. No Lua state here. */
#ifndef SL_REWORD_H
#define SL_REWORD_H

#include "host/source.h"

struct sl_reworded {
  const char *code;                /* L001: it does not compile; L002: it went wrong while it ran */
  char text[600], help[300];       /* help is empty where nothing is surely right */
  char word[120];                  /* to underline on the line; empty: the statement */
  int line;                        /* as the message says; 0: it does not */
};

/* raw: "name:12: attempt to index a nil value (field 'x')"; source and line: where it went wrong, as far as known;
 * a source without a line: the compiler says so. */
void sl_reword(const char *raw, struct sl_sources *sources, int source, int line, struct sl_reworded *out);
/* "name:12: words": the words, and the line; the whole text, and line untouched, where it names no place. */
const char *sl_words_of(const char *text, int *line);
#endif
