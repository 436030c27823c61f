/* SPDX-License-Identifier: MIT
 * What was surely meant where Lua's compiler breaks off. */
#include "host/syntax.h"

#include <string.h>
#include "host/text.h"

static bool starts(const char *text, const char *with) { return strncmp(text, with, strlen(with)) == 0; }
static bool wordy(char c) {
  return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_';
}
static const char *blanks(const char *p) { return p + strspn(p, " \t"); }

static const char *word_end(const char *p) {
  while (wordy(*p)) p++;
  return p;
}

/* Past a text in quotes; p itself where none begins there or it is not closed. */
static const char *text_end(const char *p) {
  const char *end = *p == '"' || *p == '\'' ? strchr(p + 1, *p) : NULL;
  return end ? end + 1 : p;
}

/* ---- heads of declarations --------------------------------------------------------------------------------------- */

/* The first word on the line behind which a text in quotes stands; NULL: there is none. */
static const char *named(const char *text, const char **quote) {
  for (const char *p = text; *p; p = wordy(*p) ? word_end(p) : p + 1) {
    if (!wordy(*p)) continue;
    *quote = blanks(word_end(p));
    if (text_end(*quote) > *quote) return p;
  }
  return NULL;
}

bool sl_joined_name(const char *text, struct sl_reworded *out) {
  const char *quote, *head = named(text, &quote);
  const char *dots = head ? blanks(text_end(quote)) : "";
  const char *brace = strchr(dots, '{'), *end = brace;
  if (!starts(dots, "..") || starts(dots, "...") || !brace || brace - quote > 80) return false;
  while (end[-1] == ' ' || end[-1] == '\t') end--;
  SL_SAY(out->text, "a name that is put together stands in brackets");
  SL_SAY(out->help, "write %.*s (%.*s) { ... }", (int)(word_end(head) - head), head, (int)(end - quote), quote);
  SL_SAY(out->word, "..");
  return true;
}

/* rack east { and rack "east" = {: the head as it should be. */
static bool head_of(const char *w, const char *text, struct sl_reworded *out) {
  const char *p = blanks(text), *quote, *head = named(text, &quote);
  if (starts(p, "local ") && strchr(p, '=')) p = blanks(strchr(p, '=') + 1);
  const char *kind = word_end(p), *name = blanks(kind), *end = word_end(name);
  if (kind > p && name > kind && end > name && *blanks(end) == '{' && starts(name, w)) {
    SL_SAY(out->help, "a name stands in quotes: %.*s \"%.*s\" { ... }", (int)(kind - p), p, (int)(end - name), name);
    return true;
  }
  const char *equal = head ? blanks(text_end(quote)) : "";
  if (strcmp(w, "=") != 0 || *equal != '=' || *blanks(equal + 1) != '{') return false;
  SL_SAY(out->help, "a declaration has no equal sign: %.*s %.*s { ... }", (int)(word_end(head) - head), head,
         (int)(text_end(quote) - quote), quote);
  return true;
}

/* ---- within a table ---------------------------------------------------------------------------------------------- */

static bool field(const char *words, const char *w, const char *at, struct sl_reworded *out) {
  if (strcmp(w, "=") == 0 && (starts(words, "')' expected") || starts(words, "']' expected")))
    SL_SAY(out->help, "the fields of a declaration stand in braces: site { frost = 18in }");
  else if (strcmp(w, "=") == 0 && starts(words, "'}' expected"))
    SL_SAY(out->help, "a field's name has no quotes, as in frost = 18in; one with blanks has brackets: "
           "[\"north lot\"]");
  else if (strcmp(w, ">") == 0 && at && starts(at - 1, "=>"))
    SL_SAY(out->help, "one equal sign stands between a name and its value: frost = 18in");
  else if (strcmp(w, ",") == 0 && starts(words, "unexpected symbol"))
    SL_SAY(out->help, "a value is missing before the comma, or there is one comma too many");
  else if (strcmp(w, "}") == 0 && starts(words, "unexpected symbol"))
    SL_SAY(out->help, "a value is missing before the `}`");
  else return false;
  return true;
}

/* ---- habits of other languages ----------------------------------------------------------------------------------- */

static bool habit(const char *words, const char *text, const char *at, struct sl_reworded *out) {
  const char *w = out->word;
  const bool then = strstr(words, "'then' expected"), loop = strstr(words, "'do' expected");
  if (strcmp(w, "=") == 0 && (then || loop))
    SL_SAY(out->help, "two equal signs compare: %s", then ? "if x == 3 then" : "while x == 3 do");
  else if (strcmp(w, "==") == 0 && starts(words, "syntax error"))
    SL_SAY(out->help, "one equal sign gives a value: x = 3");
  else if (strcmp(w, "!") == 0)
    SL_SAY(out->help, at && at[1] == '=' ? "`is not` is written ~=, as in x ~= 3" : "`not x` turns a condition round");
  else if (strcmp(w, "&") == 0 || strcmp(w, "|") == 0)
    SL_SAY(out->help, *w == '&' ? "both conditions: if a and b then" : "one of two conditions: if a or b then");
  else if (strcmp(w, "to") == 0 && starts(words, "',' expected"))
    SL_SAY(out->help, "a loop counts as in: for i = 1, 3 do ... end");
  else if (at && at[1] == '=' && strchr("+-*/", *w) && strlen(w) == 1)
    SL_SAY(out->help, "write the name twice: x = x %s 1", w);
  else if (strcmp(w, "//") == 0 || strcmp(w, "#") == 0 || strcmp(w, "/") == 0) {
    if (!starts(blanks(text), w)) return false;
    SL_SAY(out->help, "a comment begins with two hyphens: -- like this");
  } else return false;
  return true;
}

/* What Lua says it expected. */
static bool expected(const char *words, struct sl_reworded *out) {
  const char *w = out->word;
  if (strcmp(w, ")") == 0)
    SL_SAY(out->help, "there is one `)` more than there are `(`, or a value is missing before it");
  else if (starts(words, "<eof> expected") && strcmp(w, "end") == 0)
    SL_SAY(out->help, "there is one `end` too many above, or a `then`, `do` or `function` is missing");
  else if (starts(words, "<eof> expected"))
    SL_SAY(out->help, "it stands between an `if` (or `repeat`) and its end; was an `end` put before it?");
  else if (strstr(words, "'end' expected"))
    SL_SAY(out->help, "each `if`, `for`, `while` and `function` has an `end` of its own; `elseif` is one word");
  else if (strstr(words, "'then' expected")) SL_SAY(out->help, "write if ... then ... end");
  else if (strstr(words, "'do' expected")) SL_SAY(out->help, "write for ... do ... end");
  else if (strstr(words, "too many local variables"))
    SL_SAY(out->help, "keep some of them in a table: local rack = { a = 1, b = 2 }");
  else return false;
  return true;
}

void sl_syntax_help(const char *words, const char *text, struct sl_reworded *out) {
  const char *w = out->word, *at = *w ? strstr(text, w) : NULL;
  if (*w) {
    if (strcmp(w, "..") == 0 && sl_joined_name(text, out)) return;
    if (head_of(w, text, out) || field(words, w, at, out) || habit(words, text, at, out)) return;
  }
  if (expected(words, out)) return;
  if (strchr(blanks(text), '\t'))
    SL_SAY(out->help, "pasted from a spreadsheet? a script wants { F1 = 0in, F2 = -0.5in }; rows can stay in a "
           "CSV file");
}
