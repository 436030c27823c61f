/* SPDX-License-Identifier: MIT
 * Lua's own messages in words that a person can use. */
#include "host/reword.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "host/lua_words.h"
#include "host/source.h"
#include "host/syntax.h"
#include "host/text.h"

static bool starts(const char *text, const char *with) { return strncmp(text, with, strlen(with)) == 0; }

const char *sl_words_of(const char *text, int *line) {
  for (const char *p = strchr(text, ':'); p; p = strchr(p + 1, ':')) {
    char *end;
    long n = strtol(p + 1, &end, 10);
    if (end > p + 1 && end[0] == ':' && end[1] == ' ') {
      *line = (int)n;
      return end + 2;
    }
  }
  return text;
}

/* What stands in the first pair of quotes; false if there is none. */
static bool quoted(const char *text, char *to, size_t size) {
  const char *p = strchr(text, '\''), *q = p ? strrchr(p + 1, '\'') : NULL;
  if (!p || !q) return false;
  const char *first = strchr(p + 1, '\'');
  if (first && first < q && first[1] != '\'' && first[1] != '\0') q = first;      /* near ''' : the quote itself */
  sl_say(to, size, "%.*s", (int)(q - p - 1), p + 1);
  return true;
}

/* A line of the person's text, without its comment, ended by NUL. */
static bool line_of(struct sl_sources *sources, int source, int line, char *to, size_t size) {
  size_t n = 0;
  const char *text = source && line > 0 ? sl_source_line(sources, source, line, &n) : NULL;
  if (!text) return false;
  if (n >= size) n = size - 1;
  memcpy(to, text, n);
  to[n] = '\0';
  return true;
}

/* ---- types ------------------------------------------------------------------------------------------------------- */

static const char *kind_of(const char *type) {
  static const char *const words[][2] = {
    { "nil", "nothing (nil)" }, { "string", "a text" }, { "boolean", "true or false" }, { "number", "a number" },
  };
  for (size_t i = 0; i < sizeof words / sizeof *words; i++)
    if (strcmp(type, words[i][0]) == 0) return words[i][1];
  return NULL;
}

static void say_kind(char *to, size_t size, const char *type) {
  const char *words = kind_of(type);
  if (words) sl_say(to, size, "%s", words);
  else sl_say(to, size, "%s %s", sl_article(type), type);
}

/* A word up to a blank or a bracket. */
static void first_word(const char *p, char *to, size_t size) {
  sl_say(to, size, "%.*s", (int)strcspn(p, " ,)"), p);
}

/* ---- while it runs ----------------------------------------------------------------------------------------------- */

enum verb { INDEX, CALL, ARITHMETIC, JOIN, LENGTH };
static const struct { const char *start, *verb, *help; } verbs[] = {
  [INDEX] = { "attempt to index a ", "look into", "check how it is spelt, and that it was declared above" },
  [CALL] = { "attempt to call a ", "call", "check how it is spelt: a declaration is written `rack \"east\" { ... }`" },
  [ARITHMETIC] = { "attempt to perform arithmetic on a ", "calculate with",
                   "only numbers and quantities can be calculated with" },
  [JOIN] = { "attempt to concatenate a ", "join to a text",
             "only texts, numbers and quantities can be joined with `..`" },
  [LENGTH] = { "attempt to get length of a ", "count", "only lists and texts have a length `#`" },
};

/* True if the next line that says something begins with a bracket: Lua reads it as a call of the line before. */
static bool bracket_below(struct sl_sources *sources, int source, int line) {
  char text[200];
  for (int l = line + 1; l < line + 20 && line_of(sources, source, l, text, sizeof text); l++) {
    const char *p = text + strspn(text, " \t");
    if (*p && *p != '\r' && !starts(p, "--")) return *p == '{' || *p == '(';
  }
  return false;
}

static const char *help_for(enum verb verb, const char *type, bool known, struct sl_sources *sources,
                            int source, int line) {
  bool nil = strcmp(type, "nil") == 0, record = strcmp(type, "record") == 0, function = strcmp(type, "function") == 0;
  if (verb == INDEX && function) return "keep what the declaration gives, then read it: "
        "`local here = site { ... }`, here.frost; in a rule: job.site.frost";
  if (verb == CALL && record) return "it is declared already; its fields are read with a point, as in rack.tilt";
  if (verb == CALL && !known && bracket_below(sources, source, line))
    return "the next line begins with a bracket, so Lua reads it as part of this one: put the brace on the line of its "
           "declaration";
  if (verb == CALL && strcmp(type, "table") == 0) return "a table is read with a point or with [ ], as in rows[1]";
  if (verb != INDEX && verb != CALL && nil) return "check how it is spelt, and that it was given a value above";
  if (verb != INDEX && verb != CALL && record) return "a declaration has fields: write which, as in rack.tilt";
  return verbs[verb].help;
}

static bool misused(const char *raw, struct sl_sources *sources, int source, int line, struct sl_reworded *out) {
  for (size_t i = 0; i < sizeof verbs / sizeof *verbs; i++) {
    if (!starts(raw, verbs[i].start)) continue;
    char type[32], kind[64];
    first_word(raw + strlen(verbs[i].start), type, sizeof type);
    if (strstr(raw, "'for iterator'")) {
      say_kind(kind, sizeof kind, type);
      SL_SAY(out->text, "`for ... in` goes through each(...) or pairs(...), not through %s itself", kind);
      SL_SAY(out->help, "write for x in each(list) do ... end");
      return true;
    }
    char text[400];
    const bool plain = i == CALL && (strcmp(type, "number") == 0 || strcmp(type, "string") == 0);
    if (plain && line_of(sources, source, line, text, sizeof text) && sl_joined_name(text, out)) return true;
    bool nil = strcmp(type, "nil") == 0, known = quoted(raw, out->word, sizeof out->word);
    if (known && (strcmp(out->word, "?") == 0 || strcmp(out->word, "integer index") == 0)) {     /* racks[3]: no name */
      known = false;
      out->word[0] = '\0';
    }
    say_kind(kind, sizeof kind, type);
    const char *is = nil ? "nothing here (nil)" : kind;
    if (known) SL_SAY(out->text, "cannot %s '%s': it is %s", verbs[i].verb, out->word, is);
    else SL_SAY(out->text, "cannot %s this: it is %s", verbs[i].verb, is);
    SL_SAY(out->help, "%s", help_for((enum verb)i, type, known, sources, source, line));
    return true;
  }
  return false;
}

/* "attempt to compare number with string", "attempt to compare two nil values" */
static bool compared(const char *raw, struct sl_reworded *out) {
  static const char start[] = "attempt to compare ";
  if (!starts(raw, start)) return false;
  const char *p = raw + sizeof start - 1, *with = strstr(p, " with ");
  char a[40], b[40], left[64], right[64];
  if (starts(p, "two ")) {
    first_word(p + 4, a, sizeof a);
    say_kind(left, sizeof left, a);
    SL_SAY(out->text, "cannot tell which is larger: both are %s", left);
  } else if (with) {
    first_word(p, a, sizeof a);
    first_word(with + 6, b, sizeof b);
    say_kind(left, sizeof left, a);
    say_kind(right, sizeof right, b);
    SL_SAY(out->text, "cannot compare %s with %s", left, right);
  } else return false;
  SL_SAY(out->help, "both sides must be numbers, or quantities of one kind");
  return true;
}

/* "bad argument #1 to 'pairs' (table expected, got nil)" */
static bool argument(const char *raw, struct sl_reworded *out) {
  static const char *const nth[] = { "first", "second", "third", "fourth" };
  int n = 0;
  if (sscanf(raw, "bad argument #%d", &n) != 1 || n < 1 || !quoted(raw, out->word, sizeof out->word)) return false;
  const char *why = strchr(raw, '('), *end = strrchr(raw, ')'), *expected;
  if (!why || !end || end < why) return false;
  char place[20];
  if (n <= 4) SL_SAY(place, "%s", nth[n - 1]);
  else SL_SAY(place, "%dth", n);
  char who[140];
  if (strcmp(out->word, "?") == 0) *out->word = '\0';
  if (*out->word) SL_SAY(who, "'%s'", out->word);
  else SL_SAY(who, "a function that is called here");
  why++;
  expected = strstr(why, " expected, got ");
  if (expected) {
    char want[64], got[64], kind[80], wanted[80];
    SL_SAY(want, "%.*s", (int)(expected - why), why);
    SL_SAY(got, "%.*s", (int)(end - expected - 15), expected + 15);
    say_kind(kind, sizeof kind, got);
    if (sl_lua_wanted(want)) SL_SAY(wanted, "%s", sl_lua_wanted(want));
    else SL_SAY(wanted, "%s %s", sl_article(want), want);
    SL_SAY(out->text, "%s needs %s as its %s value, got %s", who, wanted, place,
        strcmp(got, "no value") == 0 ? "none" : kind);
  } else if (strstr(why, "no integer representation"))
    SL_SAY(out->text, "%s needs a whole number as its %s value", who, place);
  else {
    char said[200];
    SL_SAY(said, "%.*s", (int)(end - why), why);
    SL_SAY(out->text, "%s cannot use its %s value: %s", who, place, sl_lua_why(said));
  }
  if (strstr(raw, "number expected, got quantity"))
    SL_SAY(out->help, "number_in(x, \"ft\") gives the number of a quantity");
  else if (strstr(why, "no integer representation"))
    SL_SAY(out->help, "%s", strcmp(out->word, "format") == 0 ? "%d prints whole numbers, %g any" :
           "floor(x) makes one whole");
  else if (strstr(raw, "got nil")) SL_SAY(out->help, "check how it is spelt, and that it was given a value above");
  return true;
}

/* "'for' limit must be a number", "bad 'for' limit (number expected, got quantity)" */
static bool counting(const char *raw, struct sl_reworded *out) {
  const char *got = strstr(raw, "got ");
  if (!strstr(raw, "'for' ")) return false;
  char type[40], kind[64];
  SL_SAY(out->word, "for");
  if (strstr(raw, "step is zero")) {
    SL_SAY(out->text, "a `for` with a step of 0 would never end");
    return true;
  }
  if (!got) return false;
  first_word(got + 4, type, sizeof type);
  say_kind(kind, sizeof kind, type);
  SL_SAY(out->text, "`for` counts with numbers, got %s", kind);
  SL_SAY(out->help, "number_in(x, \"ft\") gives the number of a quantity: for i = 1, number_in(x, \"ft\") do");
  return true;
}

/* "invalid value (a table at index 1) in table for 'concat'"; a quantity is a userdata to Lua. */
static bool joined(const char *raw, struct sl_reworded *out) {
  const char *open = strchr(raw, '('), *at = strstr(raw, " index ");
  if (!starts(raw, "invalid value (") || !strstr(raw, "for 'concat'") || !at) return false;
  char type[40], kind[64];
  first_word(open + (starts(open, "(a ") ? 3 : starts(open, "(an ") ? 4 : 1), type, sizeof type);
  say_kind(kind, sizeof kind, strcmp(type, "userdata") == 0 ? "quantity" : type);
  SL_SAY(out->word, "concat");
  SL_SAY(out->text, "'concat' joins texts and numbers, and value %d of the list is %s", atoi(at + 7), kind);
  SL_SAY(out->help, "tostring(x) makes a text of a value");
  return true;
}

static bool at_run(const char *raw, struct sl_sources *sources, int source, int line, struct sl_reworded *out) {
  if (misused(raw, sources, source, line, out) || compared(raw, out)) return true;
  if (argument(raw, out) || counting(raw, out) || joined(raw, out)) return true;
  if (!starts(raw, "assertion failed")) return sl_lua_words(raw, false, out);
  SL_SAY(out->text, "what `assert` checks is not so");
  SL_SAY(out->help, "say what was wanted: assert(lot > 30ft, \"the lot is too small\")");
  return true;
}

/* ---- before it runs ---------------------------------------------------------------------------------------------- */

static void says(const char *words, struct sl_reworded *out) {
  const char *near = strstr(words, " near ");
  if (starts(words, "<name>")) {
    char said[600];
    SL_SAY(said, "a name%s", words + 6);
    says(said, out);
    return;
  }
  int n = near ? (int)(near - words) : (int)strlen(words);
  if (starts(words, "<eof> expected") && quoted(words, out->word, sizeof out->word)) {
    SL_SAY(out->text, "this `%s` belongs to nothing that is open", out->word);
    return;
  }
  if (near && quoted(near, out->word, sizeof out->word)) SL_SAY(out->text, "%.*s before '%s'", n, words, out->word);
  else if (near && strstr(near, "<eof>")) SL_SAY(out->text, "%.*s at the end of the file", n, words);
  else SL_SAY(out->text, "%.*s", n, words);
}

/* Complaints of the compiler that name no word where it breaks off. */
static bool meaning(const char *words, struct sl_reworded *out) {
  const char *at = strstr(words, " at line ");
  if (starts(words, "break outside")) {
    SL_SAY(out->text, "`break` ends a loop, and there is none around it");
    SL_SAY(out->word, "break");
  } else if (strstr(words, "no visible label")) {
    quoted(words, out->word, sizeof out->word);
    SL_SAY(out->text, "`goto %s` finds no label ::%s::", out->word, out->word);
  } else if (strstr(words, "to assign to const variable")) {
    quoted(words, out->word, sizeof out->word);
    SL_SAY(out->text, "'%s' was declared <const> and keeps its value", out->word);
    SL_SAY(out->help, "choose another name, or leave <const> out");
  } else return false;
  if (at) out->line = atoi(at + 9);            /* where it stands; the compiler notices at the end of the block */
  return true;
}

/* Of the compiler. */
static void uncompiled(const char *words, struct sl_sources *sources, int source, struct sl_reworded *out) {
  char text[400];
  out->code = "L001";
  if (meaning(words, out) || sl_lua_words(words, true, out)) return;
  says(words, out);
  if (line_of(sources, source, out->line, text, sizeof text)) sl_syntax_help(words, text, out);
}

void sl_reword(const char *raw, struct sl_sources *sources, int source, int line, struct sl_reworded *out) {
  *out = (struct sl_reworded){ .code = "L002" };
  const char *words = sl_words_of(raw, &out->line);
  if (source && !line) uncompiled(words, sources, source, out);
  else if (!at_run(words, sources, source, line ? line : out->line, out)) SL_SAY(out->text, "%s", words);
}
