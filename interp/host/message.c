/* SPDX-License-Identifier: MIT
 * How a message looks for a person, for an editor and for a program. */
#include "host/message.h"
#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#include "host/source.h"
#include "host/text.h"

/* ---- the window: a line, and the marks under it ------------------------------------------------------------------ */

enum { WIDTH = 100, LEAD = 30, VIEW_BYTES = 4 * WIDTH };   /* columns of a line that are shown; of them before a mark */

enum style { PLAIN, STRONG, GUTTER, PRIMARY, SECONDARY, HELP };
struct pen { FILE *to; struct sl_sources *sources; bool colour; enum sl_severity severity; int digits; };

static void style(const struct pen *pen, enum style style) {
  static const char *const severity[] = {"1;31", "1;33", "1;32"};
  static const char *const codes[] = {"0", "1", "1;34", "", "1;34", "1;36"};
  if (pen->colour) fprintf(pen->to, "\033[%sm", style == PRIMARY ? severity[pen->severity] : codes[style]);
}

/* line 0: the bar alone */
static void gutter(const struct pen *pen, int line) {
  style(pen, GUTTER);
  if (line) fprintf(pen->to, "%*d |", pen->digits, line);
  else fprintf(pen->to, "%*s |", pen->digits, "");
  style(pen, PLAIN);
}

struct mark { int line; size_t from, to; bool primary, hidden, done; const char *text; };
struct view { const char *text; size_t len, from, to; };          /* the bytes of a line that are shown */
struct placed { int from, to; bool primary; const char *text; };  /* a mark in columns of the view */

/* The byte after as many characters from `at` as fit in that many columns. */
static size_t forward(const char *text, size_t len, size_t at, int columns) {
  for (size_t start = at; at < len;) {
    struct sl_piece p = sl_piece_at(text, len, at);
    if ((columns -= p.columns) < 0 || at + p.bytes - start > VIEW_BYTES) break;
    at += p.bytes;
  }
  return at;
}

static size_t backward(const char *text, size_t at, int columns) {
  for (size_t end = at; at > 0;) {
    size_t step = 1;
    for (size_t k = 2; k <= 4 && k <= at; k++)
      if (sl_piece_at(text, at, at - k).bytes == k) step = k;
    columns -= sl_piece_at(text, at, at - step).columns;
    if (columns < 0 || end - (at - step) > VIEW_BYTES / 4) break;
    at -= step;
  }
  return at;
}

static int shown_columns(const char *text, size_t len, size_t from, size_t to) {
  int columns = 0;
  for (size_t at = from; at < to && at < len;) {
    struct sl_piece p = sl_piece_at(text, len, at);
    columns += p.columns;
    at += p.bytes;
  }
  return columns;
}

/* The whole line if it fits; else its start, else a piece with all marks in it, else one around the first of them. */
static struct view choose_view(const char *text, size_t len, int line, const struct mark *marks, size_t n) {
  struct view v = {text, len, 0, forward(text, len, 0, WIDTH)};
  const struct mark *anchor = NULL;
  size_t low = len, high = 0;
  for (size_t i = 0; i < n; i++) {
    if (marks[i].done || marks[i].line != line) continue;
    if (!anchor || marks[i].primary) anchor = &marks[i];
    if (marks[i].from < low) low = marks[i].from;
    size_t end = marks[i].to > marks[i].from ? marks[i].to : marks[i].from + 1;
    if (end > high) high = end;
  }
  if (v.to == len || high <= v.to) return v;
  v.from = backward(text, low, LEAD);
  v.to = forward(text, len, v.from, WIDTH);
  if (high <= v.to) return v;
  v.from = backward(text, anchor->from, LEAD);
  v.to = forward(text, len, v.from, WIDTH);
  return v;
}

/* n cells of marks or bars, then words. */
static void print_row(const struct pen *pen, const char *cells, int n, const char *words) {
  gutter(pen, 0);
  putc(' ', pen->to);
  enum style now = PLAIN;
  for (int i = 0; i < n; i++) {
    enum style wanted = cells[i] == ' ' ? PLAIN : cells[i] == '^' ? PRIMARY : SECONDARY;
    if (wanted != now) style(pen, now = wanted);
    putc(cells[i], pen->to);
  }
  if (words) {
    style(pen, now = SECONDARY);
    sl_show_words(pen->to, words);
  }
  if (now != PLAIN) style(pen, PLAIN);
  putc('\n', pen->to);
}

/* The label whose words can stand behind the marks: nothing lies to its right, no other label with words under it. */
static struct placed *choose_inline(struct placed *p, size_t n) {
  for (size_t i = 0; i < n; i++) {
    bool fits = p[i].text != NULL;
    for (size_t j = 0; j < n && fits; j++)
      if (j != i) fits = p[j].to <= p[i].to && (!p[j].text || p[j].to <= p[i].from);
    if (fits) return &p[i];
  }
  return NULL;
}

/* Marks on the first row; the words of all but one hang under them, from right to left. */
static void print_marks(const struct pen *pen, struct placed *p, size_t n) {
  char cells[WIDTH + 24];   /* a last character of four escaped bytes may stand out; a mark may lie behind the end */
  int used = 0;
  memset(cells, ' ', sizeof cells);
  for (int primary = 0; primary <= 1; primary++)
    for (size_t i = 0; i < n; i++) {
      if (p[i].primary != (primary == 1)) continue;
      memset(cells + p[i].from, primary ? '^' : '-', (size_t)(p[i].to - p[i].from));
      if (p[i].to > used) used = p[i].to;
    }
  if (used == 0) return;
  struct placed *behind = choose_inline(p, n);
  print_row(pen, cells, behind ? used + 1 : used, behind ? behind->text : NULL);
  if (behind) behind->text = NULL;

  memset(cells, ' ', sizeof cells);
  for (size_t i = 0; i < n; i++)
    if (p[i].text) cells[p[i].from] = '|';
  for (bool bars = false;; bars = true) {
    struct placed *next = NULL;
    for (size_t i = 0; i < n; i++)
      if (p[i].text && (!next || p[i].from > next->from)) next = &p[i];
    if (!next) return;
    if (!bars) print_row(pen, cells, next->from + 1, NULL);
    print_row(pen, cells, next->from, next->text);
    next->text = NULL;
  }
}

/* One line with as many of its marks as one view can hold; those are done. */
static void print_view(const struct pen *pen, int source, int line, struct mark *marks, size_t n) {
  size_t len = 0;
  const char *text = sl_source_line(pen->sources, source, line, &len);
  struct view v = choose_view(text, len, line, marks, n);
  gutter(pen, line);
  if (len) putc(' ', pen->to);
  if (v.from > 0) fputs("…", pen->to);
  size_t end = v.to;
  while (v.to == len && end > v.from && (text[end - 1] == ' ' || text[end - 1] == '\t')) end--;
  sl_show(pen->to, text + v.from, end - v.from);
  if (v.to < len) fputs("…", pen->to);
  putc('\n', pen->to);

  struct placed placed[SL_MESSAGE_LABELS + 1];
  size_t nplaced = 0;
  for (size_t i = 0; i < n; i++) {
    struct mark *m = &marks[i];
    if (m->done || m->line != line || m->from < v.from || (m->from >= v.to && v.to < len)) continue;
    m->done = true;
    if (m->hidden) continue;
    int from = shown_columns(text, len, v.from, m->from) + (v.from > 0);
    int wide = shown_columns(text, len, v.from, m->to < v.to ? m->to : v.to) + (v.from > 0) - from;
    placed[nplaced++] = (struct placed){from, from + (wide > 0 ? wide : 1), m->primary, m->text};
  }
  print_marks(pen, placed, nplaced);
}

/* ---- the formats ------------------------------------------------------------------------------------------------- */

static const char *const severities[] = {"error", "warning", "note"};

/* Bytes of its line that a span covers; false: there is no such line. */
static bool place_mark(struct sl_sources *sources, int source, struct sl_span span, struct mark *m) {
  size_t len;
  if (!sl_source_line(sources, source, span.line, &len)) return false;
  m->line = span.line;
  m->hidden = m->primary && span.col < 1;
  m->from = span.col > 1 ? (size_t)span.col - 1 : 0;
  if (m->from > len) m->from = len;
  m->to = span.col < 1 ? len : span.len < 1 ? m->from : m->from + (size_t)span.len;
  if (m->to > len) m->to = len;
  return true;
}

/* "= note: ...": a line end in the words goes on under them. */
static void print_note(const struct pen *pen, const char *kind, const char *words, int line) {
  int indent = pen->digits + 5 + (int)strlen(kind);
  fprintf(pen->to, "%*s ", pen->digits, "");
  style(pen, GUTTER);
  putc('=', pen->to);
  style(pen, strcmp(kind, "help") == 0 ? HELP : STRONG);
  fprintf(pen->to, " %s", kind);
  style(pen, PLAIN);
  fputs(": ", pen->to);
  for (;;) {
    size_t n = strcspn(words, "\n");
    sl_show(pen->to, words, n);
    words += n;
    if (!*words++) break;
    fprintf(pen->to, "\n%*s", indent, "");
  }
  if (line) fprintf(pen->to, " (line %d)", line);
  putc('\n', pen->to);
}

static void print_place(FILE *to, const char *file, struct sl_span span) {
  sl_show_words(to, file);
  if (span.line > 0) fprintf(to, ":%d", span.line);
  if (span.line > 0 && span.col > 0) fprintf(to, ":%d", span.col);
}

/* "error[Q003]: words" and "--> file:line:col" */
static void print_head(const struct pen *pen, const struct sl_message *m) {
  FILE *to = pen->to;
  style(pen, PRIMARY);
  fputs(severities[m->severity], to);
  if (m->code && m->code[0]) fprintf(to, "[%s]", m->code);
  style(pen, PLAIN);
  style(pen, STRONG);
  fputs(": ", to);
  sl_show_words(to, m->text);
  style(pen, PLAIN);
  putc('\n', to);
  const char *file = sl_source_name(pen->sources, m->source);
  if (!file) return;
  fprintf(to, "%*s", pen->digits, "");
  style(pen, GUTTER);
  fputs("--> ", to);
  style(pen, PLAIN);
  print_place(to, file, m->span);
  putc('\n', to);
}

/* The lines that have marks, in their order; one that is long may come twice. */
static void print_lines(const struct pen *pen, int source, struct mark *marks, size_t n) {
  if (n > 0) {
    gutter(pen, 0);
    putc('\n', pen->to);
  }
  for (int before = 0, line;; before = line) {
    line = 0;
    for (size_t i = 0; i < n; i++)
      if (!marks[i].done && (line == 0 || marks[i].line < line)) line = marks[i].line;
    if (line == 0) return;
    if (before && line != before + 1) fputs("...\n", pen->to);
    print_view(pen, source, line, marks, n);
  }
}

static void print_human(FILE *to, struct sl_sources *sources, const struct sl_message *m, bool colour) {
  struct mark marks[SL_MESSAGE_LABELS + 1];
  size_t n = 0, unplaced[SL_MESSAGE_LABELS], nunplaced = 0;
  bool place = sl_source_name(sources, m->source) != NULL;
  if (place) {
    marks[n] = (struct mark){ .primary = true };
    n += place_mark(sources, m->source, m->span, &marks[n]);
  }
  for (size_t i = 0; i < m->nlabel; i++) {
    marks[n] = (struct mark){ .text = m->label[i].text && m->label[i].text[0] ? m->label[i].text : NULL };
    if (place && place_mark(sources, m->source, m->label[i].span, &marks[n])) n++;
    else if (marks[n].text) unplaced[nunplaced++] = i;
  }
  int last = 1;
  for (size_t i = 0; i < n; i++) last = marks[i].line > last ? marks[i].line : last;
  struct pen pen = {to, sources, colour, m->severity, snprintf(NULL, 0, "%d", last)};

  print_head(&pen, m);
  print_lines(&pen, m->source, marks, n);
  for (size_t i = 0; i < nunplaced; i++) {
    const struct sl_label *label = &m->label[unplaced[i]];
    print_note(&pen, "note", label->text, label->span.line);
  }
  for (size_t i = 0; i < m->nnote; i++) print_note(&pen, "note", m->note[i], 0);
  if (m->help && m->help[0]) print_note(&pen, "help", m->help, 0);
}

static void gnu_line(FILE *to, const char *file, struct sl_span span, const char *severity, const char *words) {
  if (file) print_place(to, file, span);
  else fputs("stringline", to);
  fprintf(to, ": %s: ", severity);
  sl_show_words(to, words);
}

static void gnu_note(FILE *to, const char *file, struct sl_span span, const char *words) {
  if (!words || !words[0]) return;
  gnu_line(to, file, span, "note", words);
  putc('\n', to);
}

static void print_gnu(FILE *to, const char *file, const struct sl_message *m) {
  gnu_line(to, file, m->span, severities[m->severity], m->text);
  if (m->code && m->code[0]) fprintf(to, " [%s]", m->code);
  putc('\n', to);
  for (size_t i = 0; i < m->nlabel; i++) gnu_note(to, file, m->label[i].span, m->label[i].text);
  for (size_t i = 0; i < m->nnote; i++) gnu_note(to, file, m->span, m->note[i]);
  gnu_note(to, file, m->span, m->help);
}

/* null for what there is none of */
static void json_text(FILE *to, const char *key, const char *text) {
  fprintf(to, "\"%s\":", key);
  if (text) sl_json_string(to, text, strlen(text));
  else fputs("null", to);
}

static void json_span(FILE *to, struct sl_span span) {
  fputs("\"line\":", to);
  if (span.line > 0) fprintf(to, "%d", span.line); else fputs("null", to);
  fputs(",\"column\":", to);
  if (span.line > 0 && span.col > 0) fprintf(to, "%d", span.col); else fputs("null", to);
  fputs(",\"length\":", to);
  if (span.line > 0 && span.col > 0) fprintf(to, "%d", span.len > 0 ? span.len : 0); else fputs("null", to);
}

static void print_json(FILE *to, const char *file, const struct sl_message *m) {
  fprintf(to, "{\"severity\":\"%s\",", severities[m->severity]);
  json_text(to, "code", m->code && m->code[0] ? m->code : NULL);
  putc(',', to);
  json_text(to, "message", m->text);
  putc(',', to);
  json_text(to, "file", file);
  putc(',', to);
  json_span(to, file ? m->span : (struct sl_span){0, 0, 0});
  fputs(",\"labels\":[", to);
  for (size_t i = 0; i < m->nlabel; i++) {
    fputs(i ? ",{" : "{", to);
    json_span(to, m->label[i].span);
    putc(',', to);
    json_text(to, "text", m->label[i].text ? m->label[i].text : "");
    putc('}', to);
  }
  fputs("],\"notes\":[", to);
  for (size_t i = 0; i < m->nnote; i++) {
    if (i) putc(',', to);
    sl_json_string(to, m->note[i], strlen(m->note[i]));
  }
  fputs("],", to);
  json_text(to, "help", m->help && m->help[0] ? m->help : NULL);
  fputs("}\n", to);
}

void sl_message_print(FILE *to, struct sl_sources *sources, const struct sl_message *message, enum sl_format format,
                      bool colour) {
  const char *file = sl_source_name(sources, message->source);
  switch (format) {
    case SL_HUMAN: print_human(to, sources, message, colour); break;
    case SL_GNU: print_gnu(to, file, message); break;
    case SL_JSON: print_json(to, file, message); break;
  }
}

bool sl_colour_wanted(FILE *to, bool switched_off) {
  const char *none = getenv("NO_COLOR"), *term = getenv("TERM");
  if (switched_off || (none && none[0]) || (term && strcmp(term, "dumb") == 0)) return false;
  return isatty(fileno(to)) == 1;
}
