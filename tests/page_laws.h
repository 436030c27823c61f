/* SPDX-License-Identifier: MIT
 * What holds of a whole page in each format, beside output_laws.h: no word of the machinery, as many points as a plan
 * says, tags that are closed. */
#ifndef SL_PAGE_LAWS_H
#define SL_PAGE_LAWS_H

#include "output_laws.h"

enum { PAGE_SHOWN = 60 };               /* bytes around a fault that are told */

/* ---- words ------------------------------------------------------------------------------------------------------- */

static inline const char *page_find(const char *text, size_t n, const char *word, bool whole) {
  const size_t len = strlen(word);
  for (const char *at = text; (at = memchr(at, word[0], n - (size_t)(at - text))) != NULL; at++) {
    if (n - (size_t)(at - text) < len) return NULL;
    if (memcmp(at, word, len) != 0) continue;
    if (!whole) return at;
    const bool before = at > text && (isalnum((unsigned char)at[-1]) || strchr("_-./(", at[-1]));
    const bool after = at + len < text + n && (isalnum((unsigned char)at[len]) || strchr("_/(", at[len]));
    if (!before && !after) return at;
  }
  return NULL;
}

/* No word of the machinery, and no number that is none, unless the input has it. */
static inline void page_law_words(const char *name, const char *text, size_t n, const char *input, size_t size) {
  static const struct { const char *word; bool whole; } ugly[] = {
    { "attempt to ", false }, { "traceback", false }, { ".lua:", false }, { "table: 0x", false }, { "(null)", false },
    { "function: 0x", false }, { "userdata", false }, { "bad argument", false }, { "upvalue", false },
    { "invalid option", false }, { "?:-1:", false }, { "nan", true }, { "NaN", true }, { "inf", true }, { "nil", true },
    { "please report", false } };
  for (size_t i = 0; i < sizeof ugly / sizeof *ugly; i++) {
    const char *at = page_find(text, n, ugly[i].word, ugly[i].whole);
    if (!at || page_find(input, size, ugly[i].word, false)) continue;
    const char *from = at - text > PAGE_SHOWN ? at - PAGE_SHOWN : text;
    LAW_OR(false, "%s says '%s': %.*s", name, ugly[i].word, (int)(at - from) + PAGE_SHOWN, from);
  }
}

/* A value of JSON on each line. */
static inline void page_law_json_lines(const char *name, const char *text) {
  for (const char *next; *text; text = next + 1) {
    next = law_json_value_(text, 0);
    LAW_OR(next && *next == '\n', "%s: a line is no JSON: %.200s", name, text);
  }
}

/* ---- other programs ---------------------------------------------------------------------------------------------- */

/* Version, one plan, and as many points as it says, numbered; what else stands there is indented or behind '#'. */
static inline void page_law_tap(const char *name, const char *text, size_t n) {
  static const char head[] = "TAP version 14\n";
  LAW_OR(n >= sizeof head - 1 && memcmp(text, head, sizeof head - 1) == 0, "%s has no head", name);
  const char *end = text + n;
  long plan = -1, points = 0;
  for (const char *line = text + sizeof head - 1, *next; line < end; line = next) {
    next = memchr(line, '\n', (size_t)(end - line));
    LAW_OR(next, "%s: the last line has no end", name);
    long number = 0;
    if (strncmp(line, "1..", 3) == 0) {
      LAW_OR(plan < 0, "%s has two plans", name);
      plan = strtol(line + 3, NULL, 10);
    } else if (sscanf(line, "ok %ld", &number) == 1 || sscanf(line, "not ok %ld", &number) == 1) {
      LAW_OR(number == ++points, "%s: point %ld stands where %ld does", name, number, points);
    } else LAW_OR(*line == ' ' || *line == '#', "%s: a line of no kind: %.*s", name, (int)(next - line), line);
    next++;
  }
  LAW_OR(plan == points, "%s: %ld points of %ld", name, points, plan);
}

/* Each tag that has an end is ended in its turn. */
static inline void page_law_html(const char *name, const char *text, size_t n) {
  const char *open[64];
  size_t length[64];
  int deep = 0;
  for (const char *at = text, *end = text + n; (at = memchr(at, '<', (size_t)(end - at))) != NULL;) {
    if (end - at > 2 && at[1] == '!') { at++; continue; }
    const bool closes = end - at > 1 && at[1] == '/';
    const char *tag = at + 1 + closes;
    size_t len = 0;
    while (tag + len < end && isalnum((unsigned char)tag[len])) len++;
    const char *stop = tag + len;
    for (bool quoted = false; stop < end && (quoted || *stop != '>'); stop++) if (*stop == '"') quoted = !quoted;
    const bool alone = (len == 4 && memcmp(tag, "meta", 4) == 0) || stop[-1] == '/';      /* as those of a drawing */
    if (closes) {
      LAW_OR(deep > 0 && length[deep - 1] == len && memcmp(open[deep - 1], tag, len) == 0,
             "%s: </%.*s> closes another tag", name, (int)len, tag);
      deep--;
    } else if (!alone) {
      LAW_OR(deep < 64, "%s: tags are %d deep", name, deep);
      open[deep] = tag;
      length[deep++] = len;
    }
    at = stop;
  }
  LAW_OR(deep == 0, "%s: <%.*s> is not closed", name, deep ? (int)length[deep - 1] : 0, deep ? open[deep - 1] : "");
}

/* What a format has to be, by its name; any text is text, gnu or markdown. */
static inline void page_law_format(const char *name, const char *text, size_t n, const char *format) {
  const bool csv = strcmp(format, "csv") == 0;
  law_clean(name, text, n, csv);
  if (strcmp(format, "json") == 0 || strcmp(format, "sarif") == 0) law_json(name, text);
  else if (csv) law_csv(text);
  else if (strcmp(format, "tap") == 0) page_law_tap(name, text, n);
  else if (strcmp(format, "html") == 0) law_html(text), page_law_html(name, text, n);
}
#endif
