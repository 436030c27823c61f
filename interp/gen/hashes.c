/* SPDX-License-Identifier: MIT
 * Writes what the binary tells of its sources: a hash over the published tables, one over the standard library.
 * Usage: hashes OUT.c NAME FILE ... [-- NAME FILE ...] ...
 * A hash is what `LC_ALL=C sha256sum FILE ... | sha256sum` prints for the files in the order of their names, so that
 * anybody can work it out from the sources. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "host/sha256.h"

static int by_name(const void *a, const void *b) { return strcmp(*(char *const *)a, *(char *const *)b); }

static char *contents(const char *path, size_t *n) {
  FILE *in = fopen(path, "rb");
  if (!in) return NULL;
  fseek(in, 0, SEEK_END);
  long length = ftell(in);
  rewind(in);
  char *text = length >= 0 ? malloc((size_t)length + 1) : NULL;
  if (text) *n = fread(text, 1, (size_t)length, in);
  fclose(in);
  return text;
}

static int put_hash(FILE *to, char **files, int count) {
  char *list = NULL, hex[SL_SHA256_HEX];
  size_t size = 0, n = 0;
  FILE *lines = open_memstream(&list, &size);
  if (!lines) return perror("hashes"), 1;
  qsort(files + 1, (size_t)count - 1, sizeof *files, by_name);
  for (int i = 1; i < count; i++) {
    char *text = contents(files[i], &n);
    if (!text) return perror(files[i]), 1;
    sl_sha256(text, n, hex);
    free(text);
    fprintf(lines, "%s  %s\n", hex, files[i]);
  }
  if (fclose(lines)) return perror("hashes"), 1;
  sl_sha256(list, size, hex);
  free(list);
  fprintf(to, "const char sl_hash_of_%s[] = \"%s\";\n", files[0], hex);
  return 0;
}

int main(int argc, char **argv) {
  if (argc < 4) return fprintf(stderr, "usage: hashes OUT.c NAME FILE ... [-- NAME FILE ...] ...\n"), 2;
  FILE *to = fopen(argv[1], "w");
  if (!to) return perror(argv[1]), 1;
  fputs("/* Written by interp/gen/hashes.c. */\n#include \"host/identity.h\"\n", to);
  for (int at = 2; at < argc; at++) {
    int end = at;
    while (end < argc && strcmp(argv[end], "--") != 0) end++;
    if (end > at && put_hash(to, argv + at, end - at)) return 1;
    at = end;
  }
  return fclose(to) ? 1 : 0;
}
