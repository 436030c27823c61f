/* SPDX-License-Identifier: MIT
 * One change of an input, drawn by lot. */
#include "mutator.h"
#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void *need(void *memory) {
  if (!memory) {
    fputs("not enough memory\n", stderr);
    exit(3);
  }
  return memory;
}

/* ---- dictionary -------------------------------------------------------------------------------------------------- */

/* Reads "text" with \\, \" and \xNN at `at` into out; gives its length, or -1. */
static long word_read(const char *at, uint8_t *out) {
  long n = 0;
  for (at++; *at != '"'; at++) {
    if (!*at || *at == '\n') return -1;
    if (*at != '\\') out[n++] = (uint8_t)*at;
    else if (at[1] == '\\' || at[1] == '"') out[n++] = (uint8_t)*++at;
    else if (at[1] == 'x' && isxdigit((unsigned char)at[2]) && isxdigit((unsigned char)at[3])) {
      out[n++] = (uint8_t)strtoul((char[]){ at[2], at[3], 0 }, NULL, 16);
      at += 3;
    } else return -1;
  }
  return n;
}

bool mutator_words(const char *file, struct pieces *words) {
  FILE *in = fopen(file, "rb");
  if (!in) return perror(file), false;
  char line[4096];
  for (int row = 1; fgets(line, sizeof line, in); row++) {
    if (line[strspn(line, " \t\r\n")] == '\0' || *line == '#') continue;
    const char *quote = strchr(line, '"');
    uint8_t word[sizeof line];
    long n = quote ? word_read(quote, word) : -1;
    if (n <= 0) {
      fprintf(stderr, "%s:%d: wants name=\"word\", with \\\\, \\\" and \\xNN\n", file, row);
      fclose(in);
      return false;
    }
    words->list = need(realloc(words->list, (words->n + 1) * sizeof *words->list));
    words->list[words->n] = (struct piece){ need(malloc((size_t)n)), (size_t)n };
    memcpy(words->list[words->n++].at, word, (size_t)n);
  }
  fclose(in);
  return true;
}

/* ---- changes ----------------------------------------------------------------------------------------------------- */

struct work { uint8_t *data; size_t size, max; struct lot *lot; };

/* `cut` bytes at `at` give way to these, as far as there is room.  They may be bytes of the input. */
static void put(struct work *w, size_t at, size_t cut, const uint8_t *bytes, size_t len) {
  const size_t room = w->max - (w->size - cut);
  if (len > room) len = room;
  uint8_t *own = need(malloc(len + 1));
  if (len) memcpy(own, bytes, len);
  memmove(w->data + at + len, w->data + at + cut, w->size - at - cut);
  memcpy(w->data + at, own, len);
  w->size = w->size - cut + len;
  free(own);
}

/* Lengths that are mostly short. */
static size_t length(struct work *w, size_t most) {
  const size_t bound = (size_t)1 << lot_below(w->lot, 12);
  return most ? 1 + lot_below(w->lot, bound < most ? bound : most) : 0;
}
static size_t place(struct work *w) { return lot_below(w->lot, w->size + 1); }

static void flip(struct work *w) {
  if (w->size) w->data[lot_below(w->lot, w->size)] ^= (uint8_t)(1u << lot_below(w->lot, 8));
}
static void erase(struct work *w) {
  const size_t at = place(w), len = length(w, w->size - at);
  put(w, at, len, NULL, 0);
}
static void insert(struct work *w) {
  uint8_t bytes[8];
  const size_t n = 1 + lot_below(w->lot, sizeof bytes);
  for (size_t i = 0; i < n; i++) bytes[i] = (uint8_t)lot_draw(w->lot);
  put(w, place(w), 0, bytes, n);
}
/* Bytes that text formats stumble over. */
static void odd(struct work *w) {
  static const char *const bytes[] = {
    "\x01", "\x1B[2J", "\x7F", "\x80", "\xFF", "\xC0\xAF", "\xED\xA0\x80", "\xF4\x90\x80\x80", "\xE2\x80\xAE",
    "\xEF\xBB\xBF", "\xC2\x85", "\xC2\xA0", "\xE2\x88\x92", "\xE2\x80\x9D", "\xE2\x80\xA8", "\r", "\n", "\r\n", "\t",
    "\"", "'", "\\", "`", "&", "<", ">", "|", "=", "@", "%", "$", ",", ";", ":", "/", "../", "{", "}", "[[", "]]", "--",
  };
  const size_t kind = lot_below(w->lot, sizeof bytes / sizeof *bytes + 1);
  if (kind == sizeof bytes / sizeof *bytes) put(w, place(w), 0, (const uint8_t *)"", 1);       /* a NUL */
  else put(w, place(w), 0, (const uint8_t *)bytes[kind], strlen(bytes[kind]));
}
/* A part once more, somewhere; or many times. */
static void repeat(struct work *w) {
  const size_t from = place(w), len = length(w, w->size - from), at = lot_below(w->lot, 2) ? from : place(w);
  size_t times = lot_below(w->lot, 4) ? 1 : 1 + lot_below(w->lot, 64);
  if (!len) return;
  uint8_t *own = need(malloc(len));
  memcpy(own, w->data + from, len);
  while (times--) put(w, at, 0, own, len);
  free(own);
}
/* A part in the place of another one. */
static void copy(struct work *w) {
  const size_t from = place(w), len = length(w, w->size - from), at = place(w);
  put(w, at, length(w, w->size - at), w->data + from, len);
}

/* A number that stands there becomes one at an edge, or another one. */
static void number(struct work *w) {
  static const char *const edges[] = {
    "0", "-0", "1", "-1", "0.0", ".5", "5.", "1e308", "1.7976931348623157e308", "1e309", "-1e308", "1e-308", "5e-324",
    "1e-400", "127", "128", "255", "256", "32768", "65536", "2147483647", "2147483648", "-2147483649", "4294967296",
    "9007199254740993", "9223372036854775807", "9223372036854775808", "18446744073709551616", "0.1",
    "0.30000000000000004", "1e15", "1e16", "1e21", "1e22", "00012", "1,5",
    "1.2.3", "0x10", "0x1p-1074", "1e", "1e+", "nan", "inf", "1/3",
    "3-1/2", "100", "1000000", "0.000001", "99999999999999999999999999999999999999999999",
  };
  size_t at = place(w), end;
  while (at < w->size && !isdigit(w->data[at])) at++;
  for (end = at; end < w->size && (isdigit(w->data[end]) || w->data[end] == '.'); end++) {}
  if (at == end) return;
  const char *edge = edges[lot_below(w->lot, sizeof edges / sizeof *edges)];
  if (lot_below(w->lot, 3)) put(w, at, end - at, (const uint8_t *)edge, strlen(edge));
  else w->data[at + lot_below(w->lot, end - at)] = (uint8_t)('0' + lot_below(w->lot, 10));
}

static void word(struct work *w, const struct pieces *words) {
  const struct piece *one = &words->list[lot_below(w->lot, words->n)];
  const size_t at = place(w), over = w->size - at < one->len ? w->size - at : one->len;
  put(w, at, lot_below(w->lot, 3) ? 0 : over, one->at, one->len);
}
/* A part of another seed; or from here on its end. */
static void splice(struct work *w, const struct pieces *seeds) {
  const struct piece *other = &seeds->list[lot_below(w->lot, seeds->n)];
  const size_t from = lot_below(w->lot, other->len + 1), at = place(w);
  if (lot_below(w->lot, 2)) put(w, at, w->size - at, other->at + from, other->len - from);
  else put(w, at, 0, other->at + from, length(w, other->len - from));
}

size_t mutator_change(uint8_t *data, size_t size, size_t max, const struct pieces *seeds, const struct pieces *words,
                      struct lot *lot) {
  struct work w = { data, size, max, lot };
  switch (lot_below(lot, 12)) {
  case 0: flip(&w); break;
  case 1: erase(&w); break;
  case 2: insert(&w); break;
  case 3: odd(&w); break;
  case 4: repeat(&w); break;
  case 5: copy(&w); break;
  case 6: case 7: number(&w); break;
  case 8: case 9: if (words->n) word(&w, words); else insert(&w); break;
  default: if (seeds->n) splice(&w, seeds); else insert(&w);
  }
  return w.size;
}
