/* SPDX-License-Identifier: MIT
 * What holds of all that a person or a program is told, whatever the texts in it: it is UTF-8 in which a terminal obeys
 * nothing, and what one form marks by its lines, quotes or tags no text can forge. */
#ifndef SL_OUTPUT_LAWS_H
#define SL_OUTPUT_LAWS_H

#include <ctype.h>
#include <stdbool.h>
#include <stdint.h>
#include <string.h>
#include "law.h"
#include "scan/scanner.h"

/* The character at `at`, of *bytes; UINT32_MAX where it is none. */
static inline uint32_t law_character_(const char *at, const char *end, size_t *bytes) {
  static const uint32_t least[] = { 0, 0, 0x80, 0x800, 0x10000 };
  const uint8_t first = (uint8_t)*at;
  const size_t n = first < 0x80 ? 1 : first >> 5 == 6 ? 2 : first >> 4 == 14 ? 3 : first >> 3 == 30 ? 4 : 0;
  *bytes = n;
  if (!n || (size_t)(end - at) < n) return UINT32_MAX;
  uint32_t point = n == 1 ? first : first & (0xFFu >> (n + 1));
  for (size_t i = 1; i < n; i++) {
    if (((uint8_t)at[i] & 0xC0) != 0x80) return UINT32_MAX;
    point = point << 6 | ((uint8_t)at[i] & 0x3F);
  }
  return point < least[n] || point > 0x10FFFF || (point >= 0xD800 && point < 0xE000) ? UINT32_MAX : point;
}

/* returns: where lines end in CR LF, as in a table for a spreadsheet. */
static inline void law_clean(const char *what, const char *text, size_t len, bool returns) {
  const char *const end = text + len;
  size_t n;
  for (const char *p = text; p < end; p += n) {
    const uint32_t c = law_character_(p, end, &n);
    LAW_OR(c != UINT32_MAX, "%s: byte %zu is no UTF-8 (%02X)", what, (size_t)(p - text), (uint8_t)*p);
    const bool ends = c == '\n' || (returns && c == '\r' && p + 1 < end && p[1] == '\n');
    const bool obeyed = (c < 0x20 && !ends) || (c >= 0x7F && c < 0xA0) || c == 0x061C || c == 0x200E || c == 0x200F ||
                        (c >= 0x2028 && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069);
    LAW_OR(!obeyed, "%s: U+%04X stands in it", what, c);
  }
}

/* ---- JSON, RFC 8259 ---------------------------------------------------------------------------------------------- */

static inline const char *law_blank_skip_(const char *p) { return p + strspn(p, " \n"); }

static inline const char *law_json_text_(const char *p) {
  for (p++; *p != '"'; p++) {
    if ((uint8_t)*p < 0x20) return NULL;
    if (*p != '\\') continue;
    p++;
    if (*p == 'u') {
      for (int i = 1; i <= 4; i++) if (!isxdigit((uint8_t)p[i])) return NULL;
      p += 4;
    } else if (!*p || !strchr("\"\\/bfnrt", *p)) return NULL;
  }
  return p + 1;
}

/* Past the value at p; NULL: it is none. */
static inline const char *law_json_value_(const char *p, int depth) {
  static const char *const words[] = { "true", "false", "null" };
  p = law_blank_skip_(p);
  if (depth > 100) return NULL;
  if (*p == '"') return law_json_text_(p);
  if (*p == '{' || *p == '[') {
    const char close = *p == '{' ? '}' : ']';
    const bool named = close == '}';
    p = law_blank_skip_(p + 1);
    if (*p == close) return p + 1;
    for (;;) {
      if (named) {
        if (*p != '"' || !(p = law_json_text_(p))) return NULL;
        p = law_blank_skip_(p);
        if (*p++ != ':') return NULL;
      }
      if (!(p = law_json_value_(p, depth + 1))) return NULL;
      p = law_blank_skip_(p);
      if (*p == close) return p + 1;
      if (*p++ != ',') return NULL;
      p = law_blank_skip_(p);
    }
  }
  for (size_t i = 0; i < 3; i++) if (strncmp(p, words[i], strlen(words[i])) == 0) return p + strlen(words[i]);
  if (*p == '-') p++;
  if (!isdigit((uint8_t)*p)) return NULL;
  return p + strspn(p, "0123456789.eE+-");
}

static inline void law_json(const char *what, const char *text) {
  const char *end = law_json_value_(text, 0);
  LAW_OR(end && end[strspn(end, "\n")] == '\0', "%s: this is no JSON: %.200s", what, text);
}

/* ---- lines ------------------------------------------------------------------------------------------------------- */

/* Each line begins with one of these; gives how many there are. */
static inline size_t law_lines(const char *what, const char *text, const char *const *begins) {
  size_t n = 0;
  for (const char *line = text; *line; n++) {
    bool fine = false;
    for (const char *const *b = begins; *b && !fine; b++) fine = strncmp(line, *b, strlen(*b)) == 0;
    LAW_OR(fine, "%s: a line of no kind: %.80s", what, line);
    const char *end = strchr(line, '\n');
    LAW_OR(end, "%s: the last line has no end", what);
    line = end + 1;
  }
  return n;
}

/* ---- a table for a spreadsheet ----------------------------------------------------------------------------------- */

/* Whether a spreadsheet computes what is in this cell: =, @, and a sign, unless all of it is a number or a value. */
static inline bool law_formula_(const char *cell, size_t n) {
  struct sl_const k;
  struct sl_complaint bad;
  if (!n || !strchr("=@\t\r+-", *cell)) return false;
  return !strchr("+-", *cell) || !sl_scan_literal(cell, n, &k, &bad);
}

static inline void law_csv(const char *text) {
  char *cell = malloc(strlen(text) + 1);
  LAW(cell);
  for (const char *p = text; *p;) {
    size_t n = 0;
    if (*p == '"') {
      for (p++; *p != '"' || p[1] == '"'; p++) {
        LAW_OR(*p, "csv: a quote is not closed");
        p += *p == '"';
        cell[n++] = *p;
      }
      p++;
    } else while (*p && !strchr(",\r\n\"", *p)) cell[n++] = *p++;
    cell[n] = '\0';
    LAW_OR(!law_formula_(cell, n), "csv: a spreadsheet computes '%s'", cell);
    LAW_OR(*p == ',' || strncmp(p, "\r\n", 2) == 0, "csv: this stands behind a cell: %.80s", p);
    p += *p == ',' ? 1 : 2;
  }
  free(cell);
}

/* ---- a page for a browser ---------------------------------------------------------------------------------------- */

/* Whether a word of n letters is one of a list. */
static inline bool law_word_(const char *word, size_t n, const char *const *list) {
  for (; *list; list++) if (strlen(*list) == n && memcmp(*list, word, n) == 0) return true;
  return false;
}

/* A drawing: its tags and what they say are the writer's own, and nothing in it is fetched, run or styled.  Gives what
 * stands behind it. */
static inline const char *law_svg(const char *text) {
  static const char *const tags[] = { "svg", "title", "desc", "rect", "g", "line", "polyline", "polygon", "circle",
                                      "path", "text", NULL };
  static const char *const names[] = {
    "xmlns", "version", "xml:lang", "xml:space", "role", "class", "width", "height", "viewBox", "x", "y", "x1", "y1",
    "x2", "y2", "cx", "cy", "r", "d", "points", "transform", "font-family", "font-size", "textLength", "lengthAdjust",
    "text-anchor", "stroke", "fill", "stroke-width", "stroke-dasharray", "stroke-linecap", "stroke-linejoin", NULL };
  const char *last = strstr(text, "</svg>");
  LAW_OR(last, "svg: it does not end: %.80s", text);
  for (const char *p = strchr(text, '<'); p < last; p = strchr(p, '<')) {
    const char *tag = p + 1 + (p[1] == '/');
    const size_t n = strcspn(tag, " />");
    LAW_OR(law_word_(tag, n, tags), "svg: no tag of ours: %.80s", p);
    for (p = tag + n; *p == ' ';) {
      const size_t name = strcspn(++p, "=\">");
      LAW_OR(law_word_(p, name, names) && p[name] == '=' && p[name + 1] == '"', "svg: it says %.80s", p);
      const bool space = name == 5 && memcmp(p, "xmlns", 5) == 0;
      p += name + 2;
      LAW_OR(space == (strncmp(p, "http://www.w3.org/2000/svg\"", 27) == 0), "svg: the names of %.80s", p);
      p += strspn(p, space ? "http://www.w3.org/2000/svg" : "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
                                                           "0123456789 .,#'()-");
      LAW_OR(*p == '"', "svg: it says %.80s", p);
      p++;
    }
    p += *p == '/';
    LAW_OR(*p == '>', "svg: a tag is not closed: %.80s", p);
  }
  return last + 6;
}

/* Every tag is one of the writer's own, with a class, a style sheet and no more; but for drawings. */
static inline void law_html(const char *text) {
  static const char *const own[] = {
    "!DOCTYPE html", "html lang=\"en\"", "html", "head", "meta charset=\"utf-8\"",
    "meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\"",
    "meta name=\"viewport\" content=\"width=device-width\"", "title", "style", "body", "h1", "h2", "h3", "p", "span",
    "code", "pre", "table", "thead", "tbody", "tr", "th", "td", "div", "figure",
    "figure class=\"drawing\" tabindex=\"0\"", NULL,
  };
  static const char least[] = "div style=\"min-width: ";
  for (const char *p = strchr(text, '<'); p; p = strchr(p, '<')) {
    if (strncmp(p, "<svg ", 5) == 0) p = strchr(law_svg(p), '<');
    p += 1 + (p[1] == '/');
    const char *end = strchr(p, '>');
    LAW_OR(end, "html: a tag is not closed: %.80s", p);
    bool fine = false;
    for (const char *const *o = own; *o && !fine; o++) {
      const size_t n = strlen(*o);
      if (strncmp(p, *o, n) != 0) continue;
      const char *rest = p + n;
      if (strncmp(rest, " class=\"", 8) == 0) {
        rest += 8 + strspn(rest + 8, "abcdefghijklmnopqrstuvwxyz0123456789 ");
        rest += *rest == '"';
      }
      fine = rest == end;
    }
    if (strncmp(p, least, sizeof least - 1) == 0) {
      const char *px = p + sizeof least - 1;
      px += strspn(px, "0123456789");
      fine = strncmp(px, "px\"", 3) == 0 && px + 3 == end;
    }
    LAW_OR(fine, "html: no tag of ours: <%.80s", p);
  }
}
#endif
