/* SPDX-License-Identifier: MIT
 * How a message looks for a person, for an editor and for a program. */
#include "host/message.h"
#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#include "host/source.h"
#include "host/text.h"

enum { PAGE = 80, INDENT = 4 };

static const char *const severities[] = {"error", "warning", "note", "print"};

/* ---- the first line, the same for people and editors ------------------------------------------------------------- */

enum style { PLAIN, STRONG, QUIET, PRIMARY, HELP };
struct pen { FILE *to; struct sl_sources *sources; bool colour; enum sl_severity severity; };

static void style(const struct pen *pen, enum style style) {
  static const char *const severity[] = {"1;31", "1;33", "1;32", "1"};
  static const char *const codes[] = {"0", "1", "1;34", "", "1;36"};
  if (pen->colour) fprintf(pen->to, "\033[%sm", style == PRIMARY ? severity[pen->severity] : codes[style]);
}

/* The four writers give the columns that they took. */
static int words(const struct pen *pen, const char *text) { return sl_show(pen->to, text, strlen(text)); }

static int styled(const struct pen *pen, enum style wanted, const char *text) {
  if (!*text) return 0;
  style(pen, wanted);
  const int columns = words(pen, text);
  style(pen, PLAIN);
  return columns;
}

/* "job.sline:41:20: " */
static int place(const struct pen *pen, int source, struct sl_span span) {
  const char *name = sl_source_name(pen->sources, source);
  int columns = words(pen, name ? name : "stringline");
  if (name && span.line > 0) columns += fprintf(pen->to, ":%d", span.line);
  if (name && span.line > 0 && span.col > 0) columns += fprintf(pen->to, ":%d", span.col);
  return columns + words(pen, ": ");
}

/* "error: words" */
static int statement(const struct pen *pen, enum sl_severity severity, const char *text) {
  int columns = styled(pen, PRIMARY, severities[severity]) + words(pen, ":");
  if (*text) columns += words(pen, " ") + styled(pen, STRONG, text);
  return columns;
}

static void first_line(const struct pen *pen, const struct sl_message *m) {
  int columns = place(pen, m->source, m->span);
  columns += statement(pen, m->severity, m->text);
  if (m->code && *m->code) {
    const int room = PAGE - columns - sl_columns(m->code, strlen(m->code)) - 2;
    fprintf(pen->to, "%*s", room < 2 ? 2 : room, "");
    style(pen, QUIET);
    words(pen, "[");
    words(pen, m->code);
    words(pen, "]");
    style(pen, PLAIN);
  }
  putc('\n', pen->to);
}

/* ---- a line of the text, and the marks under it ------------------------------------------------------------------ */

struct mark { int line; size_t from, to; bool primary, hidden, done; const char *text; };
struct view { const char *text; size_t len, from, to; bool cut; };   /* the bytes of a line that are shown */

/* Columns of a line that are shown; of a long one those before a mark. */
enum { VIEW = 100, LEAD = 30, VIEW_BYTES = 4 * VIEW };

/* Within a line of text a tab is a blank; all else as everywhere. */
static struct sl_piece piece_at(const char *text, size_t len, size_t at) {
  return text[at] == '\t' ? (struct sl_piece){1, 1, false} : sl_piece_at(text, len, at);
}

static void show_line(FILE *to, const char *text, size_t from, size_t end) {
  while (from < end) {
    const char *tab = memchr(text + from, '\t', end - from);
    const size_t to_tab = tab ? (size_t)(tab - text) : end;
    sl_show(to, text + from, to_tab - from);
    if (tab) putc(' ', to);
    from = to_tab + (tab != NULL);
  }
}

/* The byte after as many characters from `at` as fit in that many columns. */
static size_t forward(const char *text, size_t len, size_t at, int columns) {
  for (size_t start = at; at < len;) {
    struct sl_piece p = piece_at(text, len, at);
    if ((columns -= p.columns) < 0 || at + p.bytes - start > VIEW_BYTES) break;
    at += p.bytes;
  }
  return at;
}

static size_t backward(const char *text, size_t least, size_t at, int columns) {
  for (size_t end = at; at > least;) {
    size_t step = 1;
    for (size_t k = 2; k <= 4 && k <= at - least; k++)
      if (piece_at(text, at, at - k).bytes == k) step = k;
    columns -= piece_at(text, at, at - step).columns;
    if (columns < 0 || end - (at - step) > VIEW_BYTES / 4) break;
    at -= step;
  }
  return at;
}

static int columns_of(const char *text, size_t len, size_t from, size_t to) {
  int columns = 0;
  for (size_t at = from; at < to && at < len;) {
    struct sl_piece p = piece_at(text, len, at);
    columns += p.columns;
    at += p.bytes;
  }
  return columns;
}

/* Without the blanks in front, the line if it fits; else its start, else a piece with all marks in it, else one around
 * the first of them.  Two columns are kept for the signs that something was cut. */
static struct view choose_view(const char *text, size_t len, int line, const struct mark *marks, size_t n) {
  const struct mark *anchor = NULL;
  size_t low = len, high = 0, start = 0;
  for (size_t i = 0; i < n; i++) {
    if (marks[i].done || marks[i].line != line) continue;
    if (!anchor || marks[i].primary) anchor = &marks[i];
    if (marks[i].from < low) low = marks[i].from;
    size_t end = marks[i].to > marks[i].from ? marks[i].to : marks[i].from + 1;
    if (end > high) high = end;
  }
  while (start < low && (text[start] == ' ' || text[start] == '\t')) start++;
  struct view v = {text, len, start, forward(text, len, start, VIEW), false};
  if (v.to == len) return v;
  v.to = forward(text, len, start, VIEW - 2);
  if (high > v.to) {
    v.from = backward(text, start, low, LEAD);
    v.to = forward(text, len, v.from, VIEW - 2);
    if (high > v.to) {
      v.from = backward(text, start, anchor->from, LEAD);
      v.to = forward(text, len, v.from, VIEW - 2);
    }
  }
  v.cut = v.from > start;
  return v;
}

static bool shown(const struct mark *m, const struct view *v, int line) {
  return !m->done && m->line == line && m->from >= v->from && (m->from < v->to || v->to == v->len);
}

/* Left before right, the primary before others, then as they came. */
static struct mark *next_mark(struct mark *marks, size_t n, const struct view *v, int line) {
  struct mark *next = NULL;
  for (size_t i = 0; i < n; i++) {
    struct mark *m = &marks[i];
    if (!shown(m, v, line)) continue;
    if (!next || m->from < next->from || (m->from == next->from && m->primary && !next->primary)) next = m;
  }
  return next;
}

/* ^~~~ and its words */
static void print_mark(const struct pen *pen, const struct mark *m, const struct view *v, int indent) {
  const int from = columns_of(v->text, v->len, v->from, m->from) + v->cut;
  const int wide = columns_of(v->text, v->len, v->from, m->to < v->to ? m->to : v->to) + v->cut - from;
  fprintf(pen->to, "%*s", indent + from, "");
  style(pen, m->primary ? PRIMARY : QUIET);
  putc('^', pen->to);
  for (int i = 1; i < wide; i++) putc('~', pen->to);
  if (m->text) {
    putc(' ', pen->to);
    words(pen, m->text);
  }
  style(pen, PLAIN);
  putc('\n', pen->to);
}

/* One line with as many of its marks as one view can hold; those are done. */
static void print_view(const struct pen *pen, int source, int line, bool first, struct mark *marks, size_t n) {
  size_t len = 0;
  const char *text = sl_source_line(pen->sources, source, line, &len);
  char number[24] = "";
  if (!first) sl_say(number, sizeof number, "line %d: ", line);
  const int indent = INDENT + (int)strlen(number);
  const struct view v = choose_view(text, len, line, marks, n);
  size_t end = v.to;
  while (v.to == len && end > v.from && (text[end - 1] == ' ' || text[end - 1] == '\t')) end--;
  fprintf(pen->to, "%*s", INDENT, "");
  styled(pen, QUIET, number);
  if (v.cut) fputs("…", pen->to);
  show_line(pen->to, text, v.from, end);
  if (v.to < len) fputs("…", pen->to);
  putc('\n', pen->to);

  bool told = false;
  for (size_t i = 0; i < n; i++) told = told || (shown(&marks[i], &v, line) && marks[i].text);
  for (struct mark *m; (m = next_mark(marks, n, &v, line)); m->done = true)
    if (!m->hidden && (m->text || !told)) print_mark(pen, m, &v, indent);
}

/* The line of the primary mark first, the others in their order; one that is long may come twice. */
static void print_lines(const struct pen *pen, const struct sl_message *m, struct mark *marks, size_t n) {
  for (;;) {
    const struct mark *next = NULL;
    for (size_t i = 0; i < n; i++) {
      if (marks[i].done) continue;
      if (marks[i].line == m->span.line) { next = &marks[i]; break; }
      if (!next || marks[i].line < next->line) next = &marks[i];
    }
    if (!next) return;
    print_view(pen, m->source, next->line, next->line == m->span.line, marks, n);
  }
}

/* ---- for a person ------------------------------------------------------------------------------------------------ */

/* Bytes of its line that a span covers; false: there is no such line. */
static bool place_mark(const struct pen *pen, int source, struct sl_span span, struct mark *m) {
  size_t len;
  if (!sl_source_line(pen->sources, source, span.line, &len)) return false;
  m->line = span.line;
  m->hidden = m->primary && span.col < 1;
  m->from = span.col > 1 ? (size_t)span.col - 1 : 0;
  if (m->from > len) m->from = len;
  m->to = span.col < 1 ? len : span.len < 1 ? m->from : m->from + (size_t)span.len;
  if (m->to > len) m->to = len;
  return true;
}

static bool same_place(const struct mark *a, const struct mark *b) {
  return a->line == b->line && a->from == b->from && a->to == b->to;
}

/* "    help: words" */
static void print_note(const struct pen *pen, enum style kind, const char *name, const char *text, int line) {
  fprintf(pen->to, "%*s", INDENT, "");
  styled(pen, kind, name);
  words(pen, ": ");
  words(pen, text);
  if (line) fprintf(pen->to, " (line %d)", line);
  putc('\n', pen->to);
}

/* Line by line, each as it can be copied. */
static void print_written(const struct pen *pen, const char *text) {
  for (const char *line = text; line && *line;) {
    const size_t n = strcspn(line, "\n");
    fprintf(pen->to, "%*s", 2 * INDENT, "");
    sl_show(pen->to, line, n);
    putc('\n', pen->to);
    line += n + (line[n] == '\n');
  }
}

static void print_human(const struct pen *pen, const struct sl_message *m) {
  struct mark marks[SL_MESSAGE_LABELS + 1];
  size_t n = 0, unplaced[SL_MESSAGE_LABELS], nunplaced = 0;
  const bool anywhere = sl_source_name(pen->sources, m->source) != NULL;
  marks[0] = (struct mark){ .primary = true };
  const bool primary = anywhere && place_mark(pen, m->source, m->span, &marks[0]);
  n += primary;
  for (size_t i = 0; i < m->nlabel; i++) {
    const char *text = m->label[i].text && *m->label[i].text ? m->label[i].text : NULL;
    marks[n] = (struct mark){ .text = text };
    if (anywhere && place_mark(pen, m->source, m->label[i].span, &marks[n])) {
      if (primary && !marks[0].text && !marks[0].hidden && same_place(&marks[0], &marks[n])) marks[0].text = text;
      else n++;
    } else if (text) unplaced[nunplaced++] = i;
  }
  first_line(pen, m);
  print_lines(pen, m, marks, n);
  for (size_t i = 0; i < nunplaced; i++) {
    const struct sl_label *label = &m->label[unplaced[i]];
    print_note(pen, STRONG, "note", label->text, label->span.line);
  }
  for (size_t i = 0; i < m->nnote; i++) print_note(pen, STRONG, "note", m->note[i], 0);
  if (m->help && *m->help) print_note(pen, HELP, "help", m->help, 0);
  print_written(pen, m->write);
}

/* ---- for an editor ----------------------------------------------------------------------------------------------- */

static void gnu_note(const struct pen *pen, int source, struct sl_span span, const char *text) {
  if (!text || !*text) return;
  place(pen, source, span);
  statement(pen, SL_NOTE_LEVEL, text);
  putc('\n', pen->to);
}

static void print_gnu(const struct pen *pen, const struct sl_message *m) {
  first_line(pen, m);
  for (size_t i = 0; i < m->nlabel; i++) gnu_note(pen, m->source, m->label[i].span, m->label[i].text);
  for (size_t i = 0; i < m->nnote; i++) gnu_note(pen, m->source, m->span, m->note[i]);
  gnu_note(pen, m->source, m->span, m->help);
  for (const char *line = m->write; line && *line;) {
    const size_t n = strcspn(line, "\n");
    place(pen, m->source, m->span);
    fprintf(pen->to, "%s: ", severities[SL_NOTE_LEVEL]);
    sl_show(pen->to, line, n);
    putc('\n', pen->to);
    line += n + (line[n] == '\n');
  }
}

/* ---- for a program ----------------------------------------------------------------------------------------------- */

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
  if (m->write && m->write[0]) {
    putc(',', to);
    json_text(to, "write", m->write);
  }
  fputs("}\n", to);
}

static void print_as(FILE *to, struct sl_sources *sources, const struct sl_message *message, enum sl_format format,
                     bool colour) {
  const struct pen pen = {to, sources, colour && format == SL_HUMAN, message->severity};
  switch (format) {
    case SL_HUMAN: print_human(&pen, message); break;
    case SL_GNU: print_gnu(&pen, message); break;
    case SL_JSON: print_json(to, sl_source_name(sources, message->source), message); break;
  }
}

/* Standard error has no buffer, and other programs write to the same terminal. */
void sl_message_print(FILE *to, struct sl_sources *sources, const struct sl_message *message, enum sl_format format,
                      bool colour) {
  char *whole = NULL;
  size_t n = 0;
  FILE *buffer = open_memstream(&whole, &n);
  if (buffer) print_as(buffer, sources, message, format, colour);
  if (buffer && sl_stream_close(buffer)) fwrite(whole, 1, n, to);
  else print_as(to, sources, message, format, colour);
  free(whole);
}

bool sl_colour_wanted(FILE *to, bool switched_off) {
  const char *none = getenv("NO_COLOR"), *term = getenv("TERM");
  if (switched_off || (none && none[0]) || (term && strcmp(term, "dumb") == 0)) return false;
  return isatty(fileno(to)) == 1;
}
