/* SPDX-License-Identifier: MIT
 * UTF-8, the columns that it takes, and how a text is made safe to show or to quote. */
#include "host/text.h"
#include <stdarg.h>
#include <string.h>
#include <strings.h>

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

size_t sl_whole(const char *text, size_t n, size_t most) {
  if (n <= most) return n;
  size_t end = most;
  while (end > 0 && most - end < 3 && ((unsigned char)text[end] & 0xC0) == 0x80) end--;
  return ((unsigned char)text[end] & 0xC0) == 0x80 ? most : end;            /* no character reaches so far */
}

/* ---- what a code point is ---------------------------------------------------------------------------------------- */

struct range { uint32_t from, to; };

static bool in_ranges(uint32_t point, const struct range *ranges, size_t n) {
  for (size_t i = 0; i < n; i++)
    if (point >= ranges[i].from && point <= ranges[i].to) return true;
  return false;
}
#define IN_RANGES(point, ranges) in_ranges(point, ranges, sizeof ranges / sizeof *ranges)

/* Unicode's blocks of combining marks, its zero-width characters and variation selectors (from memory). */
static bool zero_width(uint32_t point) {
  static const struct range none[] = {
    {0x0300, 0x036F}, {0x0483, 0x0489}, {0x0591, 0x05BD}, {0x064B, 0x065F}, {0x1AB0, 0x1AFF}, {0x1DC0, 0x1DFF},
    {0x200B, 0x200D}, {0x20D0, 0x20FF}, {0xFE00, 0xFE0F}, {0xFE20, 0xFE2F}, {0xFEFF, 0xFEFF},
  };
  return point >= 0x300 && IN_RANGES(point, none);
}

/* The blocks that East Asian Width calls wide or fullwidth, and the pictures (Unicode annex 11, from memory). */
static bool wide(uint32_t point) {
  static const struct range two[] = {
    {0x1100, 0x115F}, {0x2E80, 0x303E}, {0x3041, 0xA4CF}, {0xA960, 0xA97F}, {0xAC00, 0xD7A3}, {0xF900, 0xFAFF},
    {0xFE30, 0xFE6F}, {0xFF00, 0xFF60}, {0xFFE0, 0xFFE6}, {0x1F300, 0x1F64F}, {0x1F680, 0x1F6FF},
    {0x1F900, 0x1F9FF}, {0x20000, 0x3FFFD},
  };
  return point >= 0x1100 && IN_RANGES(point, two);
}

static const struct range separators[] = {{0x85, 0x85}, {0x2028, 0x2029}};
/* Marks, embeddings, overrides and isolates of the bidirectional algorithm, and their deprecated kin (annex 9). */
static const struct range turning[] = {{0x061C, 0x061C}, {0x200E, 0x200F}, {0x202A, 0x202E}, {0x2066, 0x206F}};

static bool control(uint32_t point) { return point < 0x20 || (point >= 0x7F && point <= 0x9F); }

static bool obeyed(uint32_t point) {
  return control(point) || (point >= 0x061C && (IN_RANGES(point, separators) || IN_RANGES(point, turning)));
}

/* ---- one text, made safe to show --------------------------------------------------------------------------------- */

static bool plain(char byte) { return byte >= 0x20 && byte < 0x7F; }

/* Eight bytes at once: none below a blank, none from DEL on.  Borrow and carry only leave bytes told anyway. */
static bool all_plain(const char *text) {
  uint64_t x;
  memcpy(&x, text, sizeof x);
  return (((x - 0x2020202020202020u) | x | (x + 0x0101010101010101u)) & 0x8080808080808080u) == 0;
}

/* The bytes from `at` on that are plain ASCII. */
static size_t plain_run(const char *text, size_t n, size_t at) {
  size_t end = at;
  while (n - end >= 8 && all_plain(text + end)) end += 8;
  while (end < n && plain(text[end])) end++;
  return end - at;
}

struct sl_piece sl_piece_at(const char *text, size_t n, size_t at) {
  uint32_t point;
  if (plain(text[at])) return (struct sl_piece){1, 1, false};
  size_t k = sl_utf8(text + at, n - at, &point);
  if (k == 0) return (struct sl_piece){1, 4, true};
  if (obeyed(point)) return (struct sl_piece){k, 4 * (int)k, true};
  return (struct sl_piece){k, zero_width(point) ? 0 : wide(point) ? 2 : 1, false};
}

int sl_columns(const char *text, size_t n) {
  int columns = 0;
  for (size_t at = 0; at < n;) {
    const size_t run = plain_run(text, n, at);
    columns += (int)run;
    if ((at += run) == n) break;
    const struct sl_piece p = sl_piece_at(text, n, at);
    columns += p.columns;
    at += p.bytes;
  }
  return columns;
}

size_t sl_unsafe(const char *text, size_t n) {
  for (size_t at = 0; at < n;) {
    at += plain_run(text, n, at);
    if (at == n) break;
    struct sl_piece p = sl_piece_at(text, n, at);
    if (p.escaped) return at;
    at += p.bytes;
  }
  return n;
}

static const char hex[] = "0123456789ABCDEF";

static void escape(char to[4], char byte) {
  const unsigned char b = (unsigned char)byte;
  to[0] = '\\', to[1] = 'x', to[2] = hex[b >> 4], to[3] = hex[b & 15];
}

int sl_show(FILE *to, const char *text, size_t n) {
  int columns = 0;
  for (size_t at = 0; at < n;) {
    const size_t run = plain_run(text, n, at);
    fwrite(text + at, 1, run, to);
    columns += (int)run;
    if ((at += run) == n) break;
    struct sl_piece p = sl_piece_at(text, n, at);
    columns += p.columns;
    if (!p.escaped) fwrite(text + at, 1, p.bytes, to);
    else for (size_t i = 0; i < p.bytes; i++) {
      char shown[4];
      escape(shown, text[at + i]);
      fwrite(shown, 1, sizeof shown, to);
    }
    at += p.bytes;
  }
  return columns;
}

size_t sl_safe(char *to, size_t size, const char *text, size_t n) {
  size_t used = 0;
  for (size_t at = 0; at < n;) {
    struct sl_piece p = sl_piece_at(text, n, at);
    const size_t wanted = p.escaped ? 4 * p.bytes : p.bytes;
    if (used + wanted >= size) break;
    if (!p.escaped) memcpy(to + used, text + at, p.bytes);
    else for (size_t i = 0; i < p.bytes; i++) escape(to + used + 4 * i, text[at + i]);
    used += wanted;
    at += p.bytes;
  }
  if (size) to[used] = '\0';
  return used;
}

/* ---- bounded buffers --------------------------------------------------------------------------------------------- */

size_t sl_vsay(char *to, size_t size, const char *format, va_list args) {
  const int wanted = vsnprintf(to, size, format, args);
  if (wanted < 0 || size == 0) return 0;
  if ((size_t)wanted < size) return (size_t)wanted;
  size_t n = size - 1, start = n;             /* the last character: is it whole? */
  uint32_t point;
  while (start > 0 && n - start < 4 && ((unsigned char)to[start - 1] & 0xC0) == 0x80) start--;
  if (start > 0 && (unsigned char)to[start - 1] >= 0xC0 && sl_utf8(to + start - 1, n - start + 1, &point) == 0)
    n = start - 1;
  to[n] = '\0';
  return n;
}

size_t sl_say(char *to, size_t size, const char *format, ...) {
  va_list args;
  va_start(args, format);
  const size_t n = sl_vsay(to, size, format, args);
  va_end(args);
  return n;
}

bool sl_stream_close(FILE *stream) {
  const bool whole = !ferror(stream);
  return fclose(stream) == 0 && whole;
}

static bool begins(const char *word, const char *const *with) {
  for (; *with; with++)
    if (strncasecmp(word, *with, strlen(*with)) == 0) return true;
  return false;
}

/* By its sound: letters that are read one by one, and numbers, too. */
const char *sl_article(const char *word) {
  static const char *const you[] = { "uni", "use", "usu", "uti", "eu", "one", "once", NULL };
  static const char *const but[] = { "unin", "unim", "unid", "hour", "honest", "heir", NULL };
  const size_t digits = strspn(word, "0123456789");
  const bool spelt = word[0] >= 'A' && word[0] <= 'Z' && !(word[1] >= 'a' && word[1] <= 'z');
  bool vowel = *word && strchr("aeiouAEIOU", *word);
  if (digits) vowel = *word == '8' || (digits == 2 && (begins(word, (const char *const[]){ "11", "18", NULL })));
  else if (spelt) vowel = strchr("AEFHILMNORSX", *word) != NULL;
  else if (begins(word, but)) vowel = true;
  else if (begins(word, you)) vowel = false;
  return vowel ? "an" : "a";
}

/* ---- refused where it comes in ----------------------------------------------------------------------------------- */

enum { AROUND = 40 };     /* bytes that are shown before and after */

static const char *kind_of(const char *text, size_t n, const char **help) {
  uint32_t point;
  *help = "write the character itself, in a file saved as UTF-8";
  if (!sl_utf8(text, n, &point)) return "a byte that is no UTF-8";
  *help = "write it on one line";
  if (point == '\n' || point == '\r' || IN_RANGES(point, separators)) return "a line end";
  *help = "write a blank in its place";
  if (point == '\t') return "a tab";
  *help = "leave it out";
  return control(point) ? "a control byte" : "a mark that turns the direction of text";
}

const char *sl_unsafe_words(char *to, size_t size, const char *text, size_t n) {
  const size_t at = sl_unsafe(text, n);
  if (at == n) return NULL;
  const char *help, *kind = kind_of(text + at, n - at, &help);
  size_t from = at > AROUND ? at - AROUND : 0;
  while (from > 0 && from < at && ((unsigned char)text[from] & 0xC0) == 0x80) from++;
  const size_t end = at + sl_whole(text + at, n - at, AROUND);
  char shown[4 * 2 * AROUND + 1];
  sl_safe(shown, sizeof shown, text + from, end - from);
  sl_say(to, size, "%s: \"%s%s%s\"", kind, from ? "..." : "", shown, end < n ? "..." : "");
  return help;
}

/* ---- JSON -------------------------------------------------------------------------------------------------------- */

/* One character, or one bad byte: bytes taken; `used` bytes, at most 6, into to. */
static size_t json_piece(char to[8], size_t *used, const char *text, size_t n) {
  static const char named[] = "\"\"\\\\\bb\ff\nn\rr\tt";
  uint32_t point;
  const size_t k = sl_utf8(text, n, &point);
  if (k == 0) {
    to[0] = '\\';
    escape(to + 1, *text);
    return *used = 5, 1;
  }
  for (const char *p = named; *p; p += 2)
    if (point == (unsigned char)*p) {
      to[0] = '\\', to[1] = p[1];
      return *used = 2, k;
    }
  if (obeyed(point)) *used = (size_t)snprintf(to, 8, "\\u%04x", (unsigned)point & 0xFFFF);
  else memcpy(to, text, *used = k);
  return k;
}

static bool plain_in_json(char c) { return c >= ' ' && c <= '~' && c != '"' && c != '\\'; }

size_t sl_json_put(char *to, const char *text, size_t n) {
  size_t used = 0;
  to[used++] = '"';
  for (size_t at = 0; at < n;) {
    if (plain_in_json(text[at])) {
      to[used++] = text[at++];
      continue;
    }
    char piece[8];
    size_t bytes;
    at += json_piece(piece, &bytes, text + at, n - at);
    memcpy(to + used, piece, bytes);
    used += bytes;
  }
  to[used++] = '"';
  return used;
}

void sl_json_string(FILE *to, const char *text, size_t n) {
  putc('"', to);
  for (size_t at = 0; at < n;) {
    char piece[8];
    size_t bytes;
    at += json_piece(piece, &bytes, text + at, n - at);
    fwrite(piece, 1, bytes, to);
  }
  putc('"', to);
}
