/* SPDX-License-Identifier: MIT
 * The texts that messages point into. */
#include "host/source.h"
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

static struct source { char *name, *text; size_t len; } *sources;
static int nsources;
/* Where the line asked for last begins: messages and spans mostly go forward from there. */
static struct { int id, line; size_t at; } last_line;

size_t sl_line_end(const char *text, size_t len, size_t at) {
  if (at >= len || (text[at] != '\n' && text[at] != '\r')) return 0;
  bool pair = at + 1 < len && (text[at + 1] == '\n' || text[at + 1] == '\r') && text[at + 1] != text[at];
  return pair ? 2 : 1;
}

int sl_source_find(const char *name) {
  for (int i = 0; i < nsources; i++)
    if (strcmp(sources[i].name, name) == 0) return i + 1;
  return 0;
}

int sl_source_add(const char *name, const char *text, size_t len) {
  if (len >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0) text += 3, len -= 3;
  char *copy = malloc(len + 1);
  if (!copy) return 0;
  if (len) memcpy(copy, text, len);
  copy[len] = '\0';
  int id = sl_source_find(name);
  if (id == 0) {
    char *own = strdup(name);
    struct source *more = own ? realloc(sources, (size_t)(nsources + 1) * sizeof *sources) : NULL;
    if (!more) return free(own), free(copy), 0;
    sources = more;
    sources[nsources] = (struct source){ .name = own };
    id = ++nsources;
  }
  struct source *s = &sources[id - 1];
  free(s->text);
  s->text = copy;
  s->len = len;
  last_line.id = 0;                            /* it was a place in the old text */
  return id;
}

const char *sl_source_name(int id) { return id >= 1 && id <= nsources ? sources[id - 1].name : NULL; }

const char *sl_source_text(int id, size_t *len) {
  if (id < 1 || id > nsources) return NULL;
  *len = sources[id - 1].len;
  return sources[id - 1].text;
}

const char *sl_source_line(int id, int line, size_t *len) {
  size_t n, at = 0;
  int now = 1;
  const char *text = sl_source_text(id, &n);
  if (!text || line < 1) return NULL;
  if (last_line.id == id && last_line.line <= line) { now = last_line.line; at = last_line.at; }
  for (;; now++) {
    size_t end = at;
    while (end < n && text[end] != '\n' && text[end] != '\r') end++;
    if (now == line) {
      last_line.id = id, last_line.line = line, last_line.at = at;
      return *len = end - at, text + at;
    }
    if (end == n) return NULL;
    at = end + sl_line_end(text, n, end);
  }
}
