/* SPDX-License-Identifier: MIT
 * Makes the table of letters out of the font that drawings have: `letters FONT.ttf` prints C.  It reads of a TrueType
 * file what widths rest on: head (units of an em), hhea and hmtx (advances), cmap (which glyph a character has), and of
 * loca and glyf how high an H and how low a g stands. */
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct font { const unsigned char *at; size_t n; };
/* What is kept: Latin to Cyrillic, punctuation, arrows and the signs of arithmetic. */
static const unsigned long kept[][2] = { { 0x20, 0x52F }, { 0x1E00, 0x1FFF }, { 0x2010, 0x22FF } };

static _Noreturn void die(const char *why) {
  fprintf(stderr, "letters: %s\n", why);
  exit(1);
}
static unsigned long big(const struct font *f, size_t at, size_t bytes) {
  unsigned long v = 0;
  if (at + bytes > f->n) die("the font ends early");
  while (bytes--) v = v << 8 | f->at[at++];
  return v;
}
static long whole(const struct font *f, size_t at) {
  const long v = (long)big(f, at, 2);
  return v >= 0x8000 ? v - 0x10000 : v;
}
static size_t table(const struct font *f, const char *name) {
  const unsigned long n = big(f, 4, 2);
  for (size_t i = 0; i < n; i++) {
    if (12 + 16 * i + 16 > f->n) break;
    if (memcmp(f->at + 12 + 16 * i, name, 4) == 0) return big(f, 12 + 16 * i + 8, 4);
  }
  die("it lacks a table");
}
/* The part of cmap for Unicode's first plane. */
static size_t plane(const struct font *f) {
  const size_t cmap = table(f, "cmap"), n = big(f, cmap + 2, 2);
  for (size_t i = 0; i < n; i++) {
    const size_t at = cmap + 4 + 8 * i, sub = cmap + big(f, at + 4, 4);
    if (big(f, at, 2) == 3 && big(f, at + 2, 2) == 1 && big(f, sub, 2) == 4) return sub;
  }
  die("it has no table of characters of format 4");
}
static unsigned long glyph_of(const struct font *f, size_t sub, unsigned long code) {
  const size_t twice = big(f, sub + 6, 2), ends = sub + 14, starts = ends + twice + 2, deltas = starts + twice,
               offsets = deltas + twice;
  for (size_t i = 0; i < twice; i += 2) {
    if (big(f, ends + i, 2) < code) continue;
    const unsigned long start = big(f, starts + i, 2), offset = big(f, offsets + i, 2);
    if (start > code) return 0;
    if (!offset) return (code + big(f, deltas + i, 2)) & 0xFFFF;
    const unsigned long g = big(f, offsets + i + offset + 2 * (code - start), 2);
    return g ? (g + big(f, deltas + i, 2)) & 0xFFFF : 0;
  }
  return 0;
}
static long reach(const struct font *f, unsigned long glyph, bool up) {
  const bool wide = big(f, table(f, "head") + 50, 2) != 0;
  const size_t loca = table(f, "loca"), glyf = table(f, "glyf");
  const size_t at = glyf + (wide ? big(f, loca + 4 * glyph, 4) : 2 * big(f, loca + 2 * glyph, 2));
  return whole(f, at + (up ? 8 : 4));
}

int main(int argc, char **argv) {
  FILE *file = argc == 2 ? fopen(argv[1], "rb") : NULL;
  static unsigned char bytes[4 << 20];
  if (!file) die("name the font");
  const struct font f = { bytes, fread(bytes, 1, sizeof bytes, file) };
  fclose(file);
  const size_t sub = plane(&f), hmtx = table(&f, "hmtx"), metrics = big(&f, table(&f, "hhea") + 34, 2);
  printf("/* Made of the font by interp/gen/letters.c. */\nenum { LETTERS_EM = %lu, LETTERS_CAPITAL = %ld, "
         "LETTERS_BELOW = %ld };\n", big(&f, table(&f, "head") + 18, 2), reach(&f, glyph_of(&f, sub, 'H'), true),
         -reach(&f, glyph_of(&f, sub, 'g'), false));
  printf("static const struct { unsigned short first, last; unsigned at; } letters_kept[] = {\n");
  unsigned at = 0;
  for (size_t k = 0; k < sizeof kept / sizeof *kept; k++) {
    printf("  { %lu, %lu, %u },\n", kept[k][0], kept[k][1], at);
    at += (unsigned)(kept[k][1] - kept[k][0] + 1);
  }
  printf("};\n/* 0: the font has none. */\nstatic const unsigned short letters_advance[] = {");
  size_t n = 0;
  for (size_t k = 0; k < sizeof kept / sizeof *kept; k++)
    for (unsigned long code = kept[k][0]; code <= kept[k][1]; code++) {
      const unsigned long g = glyph_of(&f, sub, code), row = g < metrics ? g : metrics - 1;
      printf("%s%lu,", n++ % 24 ? "" : "\n  ", g ? big(&f, hmtx + 4 * row, 2) : 0);
    }
  printf("\n};\n");
  return ferror(stdout) || fflush(stdout) ? 1 : 0;
}
