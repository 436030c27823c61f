/* SPDX-License-Identifier: MIT
 * What holds of whatever is written, in each format: bytes that a terminal shows, text that other programs read. */
#ifndef SL_PAGE_LAWS_H
#define SL_PAGE_LAWS_H

#include <ctype.h>
#include <stdbool.h>
#include <string.h>
#include "law.h"
#include "host/text.h"

enum { PAGE_SHOWN = 60 };               /* bytes around a fault that are told */

/* ---- bytes ------------------------------------------------------------------------------------------------------- */

/* UTF-8 without anything that a terminal obeys; line ends are LF, in CSV CRLF too. */
static inline void page_law_bytes(const char *name, const char *text, size_t n, bool csv) {
  for (size_t at = 0; at < n;) {
    if (text[at] == '\n' || (csv && text[at] == '\r' && at + 1 < n && text[at + 1] == '\n')) {
      at++;
      continue;
    }
    const struct sl_piece piece = sl_piece_at(text, n, at);
    LAW_OR(!piece.escaped, "%s holds the byte \\x%02X: %.*s", name, (unsigned char)text[at],
           (int)(n - at < PAGE_SHOWN ? n - at : PAGE_SHOWN), text + at);
    at += piece.bytes;
  }
}

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

/* ---- JSON -------------------------------------------------------------------------------------------------------- */

struct page_json { const char *at, *end; int deep; };

static inline void page_json_blank(struct page_json *j) { while (j->at < j->end && strchr(" \n\t\r", *j->at)) j->at++; }
static inline bool page_json_is(struct page_json *j, char c) {
  page_json_blank(j);
  if (j->at == j->end || *j->at != c) return false;
  j->at++;
  return true;
}
static inline bool page_json_string(struct page_json *j) {
  if (!page_json_is(j, '"')) return false;
  for (; j->at < j->end && *j->at != '"'; j->at++) {
    if ((unsigned char)*j->at < 0x20) return false;
    if (*j->at != '\\') continue;
    if (++j->at == j->end) return false;
    if (*j->at != 'u' && !strchr("\"\\/bfnrt", *j->at)) return false;
    if (*j->at != 'u') continue;
    for (int i = 0; i < 4; i++) if (++j->at == j->end || !isxdigit((unsigned char)*j->at)) return false;
  }
  return j->at++ < j->end;
}
static inline bool page_json_digits(struct page_json *j) {
  const char *from = j->at;
  while (j->at < j->end && isdigit((unsigned char)*j->at)) j->at++;
  return j->at > from;
}
static inline bool page_json_number(struct page_json *j) {
  if (j->at < j->end && *j->at == '-') j->at++;
  const char *from = j->at;
  if (!page_json_digits(j) || (*from == '0' && j->at > from + 1)) return false;
  if (j->at < j->end && *j->at == '.' && (j->at++, !page_json_digits(j))) return false;
  if (j->at < j->end && (*j->at == 'e' || *j->at == 'E')) {
    j->at++;
    if (j->at < j->end && (*j->at == '+' || *j->at == '-')) j->at++;
    return page_json_digits(j);
  }
  return true;
}
static inline bool page_json_word(struct page_json *j, const char *word) {
  const size_t n = strlen(word);
  if ((size_t)(j->end - j->at) < n || memcmp(j->at, word, n) != 0) return false;
  j->at += n;
  return true;
}
static inline bool page_json_value(struct page_json *j);
static inline bool page_json_list(struct page_json *j, char end, bool keys) {
  if (page_json_is(j, end)) return true;
  do {
    if (keys && !(page_json_string(j) && page_json_is(j, ':'))) return false;
    if (!page_json_value(j)) return false;
  } while (page_json_is(j, ','));
  return page_json_is(j, end);
}
static inline bool page_json_value(struct page_json *j) {
  page_json_blank(j);
  if (j->at == j->end || j->deep > 200) return false;
  if (*j->at == '"') return page_json_string(j);
  if (*j->at == '{' || *j->at == '[') {
    const bool keys = *j->at++ == '{';
    j->deep++;
    const bool right = page_json_list(j, keys ? '}' : ']', keys);
    j->deep--;
    return right;
  }
  return page_json_word(j, "true") || page_json_word(j, "false") || page_json_word(j, "null") || page_json_number(j);
}
/* One value, with blanks around it. */
static inline void page_law_json(const char *name, const char *text, size_t n) {
  struct page_json j = { text, text + n, 0 };
  const bool right = page_json_value(&j);
  page_json_blank(&j);
  LAW_OR(right && j.at == j.end, "%s is no JSON at byte %zu: %.*s", name, (size_t)(j.at - text),
         (int)(j.end - j.at < PAGE_SHOWN ? j.end - j.at : PAGE_SHOWN), j.at);
}
/* A value on each line. */
static inline void page_law_json_lines(const char *name, const char *text, size_t n) {
  for (const char *end; n; n -= (size_t)(end + 1 - text), text = end + 1) {
    end = memchr(text, '\n', n);
    LAW_OR(end, "%s: the last line has no end", name);
    page_law_json(name, text, (size_t)(end - text));
  }
}

/* ---- other programs ---------------------------------------------------------------------------------------------- */

/* A cell that begins with a quote ends with one, and what is inside comes in twos. */
static inline void page_law_csv(const char *name, const char *text, size_t n) {
  for (size_t at = 0; at < n;) {
    if (text[at] == '"') {
      for (at++; at < n && (text[at] != '"' || (at + 1 < n && text[at + 1] == '"')); at++) if (text[at] == '"') at++;
      LAW_OR(at < n, "%s: a cell has no end", name);
      at++;
      LAW_OR(at == n || strchr(",\r\n", text[at]), "%s: a cell goes on behind its quote", name);
    }
    while (at < n && !strchr(",\r\n", text[at])) {
      LAW_OR(text[at] != '"', "%s: a quote within a cell", name);
      at++;
    }
    if (at < n) at++;
  }
}

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

/* Every tag is one that our pages have, and each that has an end is ended in its turn. */
static inline void page_law_html(const char *name, const char *text, size_t n) {
  static const char *const empty[] = { "meta", "br", "hr", "img", "rect", "line", "circle", "path", "link", "input",
                                       "col", "use", "polyline", "polygon", "stop", "ellipse", NULL };
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
    LAW_OR(len && stop < end && !page_find(tag, len, "script", true), "%s: a tag that is none: %.*s", name,
           (int)(end - at < PAGE_SHOWN ? end - at : PAGE_SHOWN), at);
    bool alone = stop[-1] == '/';
    for (int i = 0; empty[i]; i++) if (strlen(empty[i]) == len && memcmp(empty[i], tag, len) == 0) alone = true;
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
  page_law_bytes(name, text, n, strcmp(format, "csv") == 0);
  if (strcmp(format, "json") == 0 || strcmp(format, "sarif") == 0) page_law_json(name, text, n);
  else if (strcmp(format, "csv") == 0) page_law_csv(name, text, n);
  else if (strcmp(format, "tap") == 0) page_law_tap(name, text, n);
  else if (strcmp(format, "html") == 0) page_law_html(name, text, n);
}
#endif
