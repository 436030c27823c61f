/* SPDX-License-Identifier: MIT
 * What was surely meant where Lua's compiler breaks off: common slips, by the line and the word. No Lua state here. */
#ifndef SL_SYNTAX_H
#define SL_SYNTAX_H

#include "host/reword.h"

/* words: the compiler's; text: the line.  Fills in help, and text where the slip has better words than Lua's. */
void sl_syntax_help(const char *words, const char *text, struct sl_reworded *out);
/* rack "r" .. i { ... }: Lua takes the name alone, and i { ... }.  False where the line has nothing of that. */
bool sl_joined_name(const char *text, struct sl_reworded *out);
#endif
