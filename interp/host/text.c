/* SPDX-License-Identifier: MIT
 * UTF-8, the columns that it takes, and how a text is made safe to show or to quote. */
#include "host/text.h"
#include <string.h>

/* ---- UTF-8 ------------------------------------------------------------------------------------------------------- */

size_t sl_utf8(const char *text, size_t n, uint32_t *point) {
  const unsigned char *s = (const unsigned char *)text;
  if (n == 0) return 0;
  if (s[0] < 0x80) return *point = s[0], 1;
  size_t need = s[0] < 0xC2 ? 0 : s[0] < 0xE0 ? 2 : s[0] < 0xF0 ? 3 : s[0] < 0xF5 ? 4 : 0;
  if (need == 0 || need > n) return 0;
  uint32_t c = s[0] & (0xFFu >> (need + 1));
  for (size_t i = 1; i < need; i++) {
    if ((s[i] & 0xC0) != 0x80) return 0;
    c = c << 6 | (s[i] & 0x3Fu);
  }
  if (need == 3 && (c < 0x800 || (c >= 0xD800 && c <= 0xDFFF))) return 0;   /* overlong; surrogates */
  if (need == 4 && (c < 0x10000 || c > 0x10FFFF)) return 0;
  *point = c;
  return need;
}

struct range { uint32_t from, to; };

static bool in_ranges(uint32_t point, const struct range *ranges, size_t n) {
  for (size_t i = 0; i < n; i++)
    if (point >= ranges[i].from && point <= ranges[i].to) return true;
  return false;
}

/* Unicode's blocks of combining marks, its zero-width characters and variation selectors (from memory). */
static bool zero_width(uint32_t point) {
  static const struct range none[] = {
    {0x0300, 0x036F}, {0x0483, 0x0489}, {0x0591, 0x05BD}, {0x064B, 0x065F}, {0x1AB0, 0x1AFF}, {0x1DC0, 0x1DFF},
    {0x200B, 0x200D}, {0x20D0, 0x20FF}, {0xFE00, 0xFE0F}, {0xFE20, 0xFE2F}, {0xFEFF, 0xFEFF},
  };
  return point >= 0x300 && in_ranges(point, none, sizeof none / sizeof *none);
}

/* Controls, line separators, and the marks that turn the direction of text: a terminal would obey them. */
static bool unsafe(uint32_t point) {
  static const struct range bad[] = {{0, 0x1F}, {0x7F, 0x9F}, {0x2028, 0x202E}, {0x2066, 0x2069}};
  return in_ranges(point, bad, sizeof bad / sizeof *bad);
}

int sl_columns(const char *text, size_t n) {
  int columns = 0;
  for (size_t at = 0; at < n;) {
    uint32_t point;
    size_t k = sl_utf8(text + at, n - at, &point);
    columns += k == 0 || !zero_width(point);
    at += k ? k : 1;
  }
  return columns;
}

/* ---- one text, made safe to show --------------------------------------------------------------------------------- */

struct sl_piece sl_piece_at(const char *text, size_t n, size_t at) {
  uint32_t point;
  size_t k = sl_utf8(text + at, n - at, &point);
  if (k == 0) return (struct sl_piece){1, 4, true};
  if (point == '\t') return (struct sl_piece){1, 1, false};
  if (unsafe(point)) return (struct sl_piece){k, 4 * (int)k, true};
  return (struct sl_piece){k, !zero_width(point), false};
}

void sl_show(FILE *to, const char *text, size_t n) {
  for (size_t at = 0; at < n;) {
    struct sl_piece p = sl_piece_at(text, n, at);
    if (text[at] == '\t') putc(' ', to);
    else if (!p.escaped) fwrite(text + at, 1, p.bytes, to);
    else for (size_t i = 0; i < p.bytes; i++) fprintf(to, "\\x%02X", (unsigned)(unsigned char)text[at + i]);
    at += p.bytes;
  }
}

void sl_show_words(FILE *to, const char *text) {
  for (;; text++) {
    size_t n = strcspn(text, "\n");
    sl_show(to, text, n);
    text += n;
    if (!*text) return;
    putc(' ', to);
  }
}

/* ---- JSON -------------------------------------------------------------------------------------------------------- */

size_t sl_json_escape(const char *text, size_t len, char to[8], size_t *n) {
  static const char named[] = "\"\"\\\\\bb\ff\nn\rr\tt";
  uint32_t point;
  size_t k = sl_utf8(text, len, &point);
  if (k == 0) {
    memcpy(to, "\xEF\xBF\xBD", *n = 3);
    return 1;
  }
  for (size_t i = 0; i + 1 < sizeof named; i += 2)
    if (point == (unsigned char)named[i]) {
      to[0] = '\\';
      to[1] = named[i + 1];
      return *n = 2, k;
    }
  if (point < 0x20 || point == 0x7F) *n = (size_t)snprintf(to, 8, "\\u%04x", (unsigned)point);
  else memcpy(to, text, *n = k);
  return k;
}

void sl_json_string(FILE *to, const char *text, size_t len) {
  putc('"', to);
  for (size_t at = 0; at < len;) {
    char piece[8];
    size_t n = 0;
    at += sl_json_escape(text + at, len - at, piece, &n);
    fwrite(piece, 1, n, to);
  }
  putc('"', to);
}
