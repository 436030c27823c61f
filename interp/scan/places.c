/* SPDX-License-Identifier: MIT
 * Marks found by halving: a script may declare thousands of things, each of which looks for its own place. */
#include "scan/places.h"
#include <stdlib.h>
#include <string.h>

/* A mark as it is sorted and looked for; what does not matter is alike in all. */
struct entry {
  int parent;
  const char *word, *name;
  int word_length, name_length;
  int mark;                        /* the order of the text */
};

static int by_text(const char *a, int n, const char *b, int m) {
  const int least = n < m ? n : m, d = least ? memcmp(a, b, (size_t)least) : 0;
  return d ? d : (n > m) - (n < m);
}

static int compared(const struct entry *a, const struct entry *b) {
  if (a->parent != b->parent) return a->parent < b->parent ? -1 : 1;
  const int word = by_text(a->word, a->word_length, b->word, b->word_length);
  return word ? word : by_text(a->name, a->name_length, b->name, b->name_length);
}

static int by_entry(const void *a, const void *b) {
  const struct entry *x = a, *y = b;
  const int d = compared(x, y);
  return d ? d : (x->mark > y->mark) - (x->mark < y->mark);
}

/* ---- lists ------------------------------------------------------------------------------------------------------- */

enum list { HEADS, NAMED, KEYS, ITEMS, OPENS, CLOSES };

/* Whether a mark stands in a list, and as what. */
static bool entry_of(const char *text, const struct sl_mark *m, enum list list, struct entry *e) {
  static const enum sl_mark_kind kinds[] = { SL_MARK_HEAD, SL_MARK_HEAD, SL_MARK_KEY, SL_MARK_ITEM, SL_MARK_OPEN,
                                             SL_MARK_CLOSE };
  if (m->kind != kinds[list]) return false;
  *e = (struct entry){ .word = "", .name = "" };
  if (list != HEADS && list != NAMED) e->parent = m->parent;
  if (list <= KEYS) {
    e->word = text + m->word;
    e->word_length = m->span.len;
  }
  if (list != NAMED) return true;
  if (m->value.len < 2 || m->to - m->from != (size_t)m->value.len) return false;     /* none, or of several lines */
  e->name = text + m->from + 1;
  e->name_length = m->value.len - 2;
  return true;
}

static bool build(struct sl_box *box, const char *text, const struct sl_mark *mark, size_t n, enum list list,
                  int **out, size_t *length) {
  size_t wanted = 0;
  struct entry e = { 0 };
  *out = NULL;
  *length = 0;
  for (size_t i = 0; i < n; i++) wanted += entry_of(text, &mark[i], list, &e);
  if (!wanted) return true;
  struct entry *entry = sl_memory_resize(box, NULL, 0, wanted * sizeof *entry);
  if (!entry) return false;
  *out = sl_memory_resize(box, NULL, 0, wanted * sizeof **out);
  *length = *out ? wanted : 0;
  size_t filled = 0;
  for (size_t i = 0; *out && i < n; i++) {
    if (!entry_of(text, &mark[i], list, &e)) continue;
    e.mark = (int)i;
    entry[filled++] = e;
  }
  qsort(entry, filled, sizeof *entry, by_entry);
  for (size_t i = 0; i < filled; i++) (*out)[i] = entry[i].mark;
  sl_memory_resize(box, entry, wanted * sizeof *entry, 0);
  return *out != NULL;
}

bool sl_places_build(struct sl_box *box, const char *text, const struct sl_mark *mark, size_t n,
                     struct sl_places *out) {
  *out = (struct sl_places){ 0 };
  if (build(box, text, mark, n, HEADS, &out->head, &out->nhead) &&
      build(box, text, mark, n, NAMED, &out->named, &out->nnamed) &&
      build(box, text, mark, n, KEYS, &out->key, &out->nkey) &&
      build(box, text, mark, n, ITEMS, &out->item, &out->nitem) &&
      build(box, text, mark, n, OPENS, &out->open, &out->nopen) &&
      build(box, text, mark, n, CLOSES, &out->close, &out->nclose)) return true;
  sl_places_free(box, out);
  return false;
}

static void drop(struct sl_box *box, int *list, size_t n) { sl_memory_resize(box, list, n * sizeof *list, 0); }

void sl_places_free(struct sl_box *box, struct sl_places *places) {
  drop(box, places->head, places->nhead);
  drop(box, places->named, places->nnamed);
  drop(box, places->key, places->nkey);
  drop(box, places->item, places->nitem);
  drop(box, places->open, places->nopen);
  drop(box, places->close, places->nclose);
  *places = (struct sl_places){ 0 };
}

/* ---- looking ----------------------------------------------------------------------------------------------------- */

/* What is looked for, and up to which line. */
struct wanted { const struct sl_scan *scan; const char *text; enum list list; struct entry e; int line; };

/* Whether mark m stands before what is wanted, lines and all; `past`: or at it. */
static bool before(const struct wanted *w, int mark, bool past) {
  struct entry e = { 0 };
  const struct sl_mark *m = &w->scan->mark[mark];
  entry_of(w->text, m, w->list, &e);
  const int d = compared(&e, &w->e);
  if (d) return d < 0;
  return past ? m->span.line <= w->line : m->span.line < w->line;
}

/* How many of a list do. */
static size_t count_before(const struct wanted *w, const int *list, size_t n, bool past) {
  size_t low = 0;
  for (size_t high = n; low < high;) {
    const size_t middle = low + (high - low) / 2;
    if (before(w, list[middle], past)) low = middle + 1;
    else high = middle;
  }
  return low;
}

/* The first of the last line, up to the line that is wanted, on which such a mark stands; -1. */
static int latest(struct wanted w, const int *list, size_t n) {
  struct entry e = { 0 };
  const size_t end = count_before(&w, list, n, true);
  if (!end) return -1;
  const struct sl_mark *m = &w.scan->mark[list[end - 1]];
  entry_of(w.text, m, w.list, &e);
  if (compared(&e, &w.e) != 0) return -1;
  w.line = m->span.line;
  return list[count_before(&w, list, n, false)];
}

static int length_of(const char *text) { return (int)strlen(text); }

int sl_place_head(const struct sl_scan *scan, const char *text, int line, const char *kind, const char *name) {
  const struct sl_places *p = &scan->places;
  struct wanted w = { scan, text, HEADS, { 0, kind, "", length_of(kind), 0, 0 }, line };
  const int any = latest(w, p->head, p->nhead);
  if (any < 0 || !name) return any;
  w.list = NAMED;
  w.e.name = name;
  w.e.name_length = length_of(name);
  const int named = latest(w, p->named, p->nnamed);
  const bool nearer = named >= 0 && (scan->mark[named].span.line == line || scan->mark[any].span.line != line);
  return nearer ? named : any;
}

static int first(const struct sl_scan *scan, const char *text, enum list list, struct entry e, const int *marks,
                 size_t n) {
  struct wanted w = { scan, text, list, e, 0 };                  /* before every line */
  struct entry found = { 0 };
  const size_t at = count_before(&w, marks, n, false);
  if (at == n) return -1;
  entry_of(text, &scan->mark[marks[at]], list, &found);
  return compared(&found, &e) == 0 ? marks[at] : -1;
}

int sl_place_open(const struct sl_scan *scan, int holder) {
  return first(scan, "", OPENS, (struct entry){ holder, "", "", 0, 0, 0 }, scan->places.open, scan->places.nopen);
}

int sl_place_close(const struct sl_scan *scan, int open) {
  return first(scan, "", CLOSES, (struct entry){ open, "", "", 0, 0, 0 }, scan->places.close, scan->places.nclose);
}

int sl_place_key(const struct sl_scan *scan, const char *text, int open, const char *word) {
  return first(scan, text, KEYS, (struct entry){ open, word, "", length_of(word), 0, 0 }, scan->places.key,
               scan->places.nkey);
}

int sl_place_item(const struct sl_scan *scan, int open, long long n) {
  const struct sl_places *p = &scan->places;
  struct wanted w = { scan, "", ITEMS, { open, "", "", 0, 0, 0 }, 0 };
  const size_t at = count_before(&w, p->item, p->nitem, false);
  if (n < 1 || (unsigned long long)n > p->nitem - at) return -1;
  const int found = p->item[at + (size_t)n - 1];
  return scan->mark[found].parent == open ? found : -1;
}
