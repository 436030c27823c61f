/* SPDX-License-Identifier: MIT
 * The texts that messages point into. */
#include "host/source.h"
#include <string.h>
#include "box/memory.h"

size_t sl_line_end(const char *text, size_t len, size_t at) {
  if (at >= len || (text[at] != '\n' && text[at] != '\r')) return 0;
  bool pair = at + 1 < len && (text[at + 1] == '\n' || text[at + 1] == '\r') && text[at + 1] != text[at];
  return pair ? 2 : 1;
}

static struct sl_source *source_of(const struct sl_sources *sources, int id) {
  return sources && id >= 1 && id <= sources->n ? &sources->list[id - 1] : NULL;
}

int sl_source_find(const struct sl_sources *sources, const char *name) {
  for (int i = 0; i < sources->n; i++)
    if (strcmp(sources->list[i].name, name) == 0) return i + 1;
  return 0;
}

static void *resize(const struct sl_sources *sources, void *block, size_t old, size_t size) {
  return sl_memory_resize(sources->box, block, old, size);
}

static char *copy_of(const struct sl_sources *sources, const char *text, size_t len) {
  char *copy = resize(sources, NULL, 0, len + 1);
  if (!copy) return NULL;
  if (len) memcpy(copy, text, len);
  copy[len] = '\0';
  return copy;
}

/* Room for one more, under its name. */
static int enter(struct sl_sources *sources, const char *name) {
  if (sources->n == SL_SOURCES) return -1;
  const size_t was = (size_t)sources->n * sizeof(struct sl_source), length = strlen(name);
  char *own = copy_of(sources, name, length);
  struct sl_source *more = own ? resize(sources, sources->list, was, was + sizeof *more) : NULL;
  if (!more) return resize(sources, own, length + 1, 0), 0;
  sources->list = more;
  more[sources->n] = (struct sl_source){ .name = own };
  return ++sources->n;
}

int sl_source_add(struct sl_sources *sources, const char *name, const char *text, size_t len) {
  const bool bom = len >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0;
  if (bom) text += 3, len -= 3;
  char *copy = copy_of(sources, text, len);
  if (!copy) return 0;
  int id = sl_source_find(sources, name);
  if (id == 0) id = enter(sources, name);
  if (id <= 0) return resize(sources, copy, len + 1, 0), id;
  struct sl_source *s = source_of(sources, id);
  if (s->text) resize(sources, s->text, s->len + 1, 0);
  s->text = copy;
  s->len = len;
  s->bom = bom;
  s->lines = 0;
  s->spotted = false;
  sl_spots_free(&s->spots);
  sl_scan_free(&s->scan);
  return id;
}

void sl_source_scanned(struct sl_sources *sources, int id, struct sl_scan *scan) {
  struct sl_source *s = source_of(sources, id);
  if (!s) {
    sl_scan_free(scan);
    return;
  }
  sl_scan_free(&s->scan);
  s->scan = *scan;
  *scan = (struct sl_scan){ 0 };
}

const struct sl_scan *sl_source_scan(const struct sl_sources *sources, int id) {
  const struct sl_source *s = source_of(sources, id);
  return s ? &s->scan : NULL;
}

const struct sl_spots *sl_source_spots(struct sl_sources *sources, int id) {
  struct sl_source *s = source_of(sources, id);
  if (!s) return NULL;
  if (!s->spotted) s->spotted = sl_spots_find(sources->box, s->text, s->len, &s->spots);
  return s->spotted ? &s->spots : NULL;
}

const char *sl_source_name(const struct sl_sources *sources, int id) {
  const struct sl_source *s = source_of(sources, id);
  return s ? s->name : NULL;
}

const char *sl_source_text(const struct sl_sources *sources, int id, size_t *len) {
  const struct sl_source *s = source_of(sources, id);
  if (!s) return NULL;
  *len = s->len;
  return s->text;
}

bool sl_source_bom(const struct sl_sources *sources, int id) {
  const struct sl_source *s = source_of(sources, id);
  return s && s->bom;
}

static size_t end_of(const struct sl_source *s, int line) {
  size_t end = s->line[line - 1];
  while (end < s->len && s->text[end] != '\n' && s->text[end] != '\r') end++;
  return end;
}

/* Finds where one more line begins. */
static bool one_more(const struct sl_sources *sources, struct sl_source *s) {
  size_t at = 0;
  if (s->lines > 0) {
    const size_t end = end_of(s, s->lines);
    if (end == s->len) return false;
    at = end + sl_line_end(s->text, s->len, end);
  }
  if (s->lines == s->room) {
    const int room = s->room ? 2 * s->room : 128;
    size_t *more = resize(sources, s->line, (size_t)s->room * sizeof *more, (size_t)room * sizeof *more);
    if (!more) return false;
    s->line = more;
    s->room = room;
  }
  s->line[s->lines++] = at;
  return true;
}

const char *sl_source_line(struct sl_sources *sources, int id, int line, size_t *len) {
  struct sl_source *s = source_of(sources, id);
  if (!s || line < 1) return NULL;
  while (s->lines < line)
    if (!one_more(sources, s)) return NULL;
  const size_t at = s->line[line - 1];
  *len = end_of(s, line) - at;
  return s->text + at;
}

void sl_sources_free(struct sl_sources *sources) {
  for (int i = 0; i < sources->n; i++) {
    struct sl_source *s = &sources->list[i];
    resize(sources, s->name, strlen(s->name) + 1, 0);
    resize(sources, s->text, s->len + 1, 0);
    resize(sources, s->line, (size_t)s->room * sizeof *s->line, 0);
    sl_scan_free(&s->scan);
    sl_spots_free(&s->spots);
  }
  resize(sources, sources->list, (size_t)sources->n * sizeof *sources->list, 0);
  *sources = (struct sl_sources){ .box = sources->box };
}
