/* SPDX-License-Identifier: MIT
 * Reading a file, and a parts or price list in it. */
#include "host/csv.h"
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>
#include "host/nearest.h"
#include "host/source.h"
#include "host/text.h"

struct reader {
  const char *text; size_t len;
  size_t at, line_start;             /* line_start: where the line of `at` starts */
  int line;
  struct sl_csv_cell *cell; size_t n, room;
  char *to;                          /* where the next cell's text goes */
  struct sl_complaint *bad;
  struct sl_box *box;
};

/* ---- complaints -------------------------------------------------------------------------------------------------- */

static bool complain(struct reader *r, const char *code, struct sl_span span, const char *format, ...) {
  va_list args;
  va_start(args, format);
  *r->bad = (struct sl_complaint){ .span = span };
  SL_SAY(r->bad->code, "%s", code);
  sl_vsay(r->bad->text, sizeof r->bad->text, format, args);
  va_end(args);
  return false;
}

static bool help(struct reader *r, const char *format, ...) {
  va_list args;
  va_start(args, format);
  sl_vsay(r->bad->help, sizeof r->bad->help, format, args);
  va_end(args);
  return false;
}

static struct sl_span span_at(const struct reader *r, size_t from, size_t to) {
  return (struct sl_span){r->line, (int)(from - r->line_start) + 1, (int)(to - from)};
}

/* Bytes of a cell that fit into a message: 40 at most, whole characters. */
static int short_len(const char *text) {
  return (int)sl_whole(text, strlen(text), 40);
}

/* ---- what kind of file ------------------------------------------------------------------------------------------- */

/* The character of a byte in Windows-1252 (the vendor's table at unicode.org, from memory); Latin-1 from A0 on. */
static const char *windows_1252(unsigned char byte, char to[3]) {
  static const char *const high[32] = {
    "€", NULL, "‚", "ƒ", "„", "…", "†", "‡", "ˆ", "‰", "Š", "‹", "Œ", NULL, "Ž", NULL,
    NULL, "‘", "’", "“", "”", "•", "–", "—", "˜", "™", "š", "›", "œ", NULL, "ž", "Ÿ",
  };
  if (byte < 0xA0) return high[byte - 0x80];
  to[0] = (char)(0xC0 | byte >> 6);
  to[1] = (char)(0x80 | (byte & 0x3F));
  to[2] = '\0';
  return to;
}

static bool starts(const struct reader *r, const char *magic, size_t n) {
  return r->len >= n && memcmp(r->text, magic, n) == 0;
}

/* Every byte: no NUL, and UTF-8 throughout. */
static bool check_bytes(struct reader *r) {
  for (size_t at = r->at; at < r->len;) {
    uint32_t point;
    size_t k = sl_utf8(r->text + at, r->len - at, &point);
    unsigned char byte = (unsigned char)r->text[at];
    if (k == 0) {
      char buffer[3];
      const char *probably = windows_1252(byte, buffer);
      if (probably)
        complain(r, "F011", span_at(r, at, at + 1),
                 "byte %02X is not UTF-8; it is probably '%s' in Windows-1252 (Latin-1)", byte, probably);
      else complain(r, "F011", span_at(r, at, at + 1), "byte %02X is not UTF-8", byte);
      return help(r, "save the file as UTF-8 (in a spreadsheet: export as \"CSV UTF-8\")");
    }
    if (byte == 0) {
      complain(r, "F010", span_at(r, at, at + 1), "a NUL byte: this is not plain text");
      return help(r, "if it is UTF-16, save the file as UTF-8; else it may be damaged");
    }
    size_t end = sl_line_end(r->text, r->len, at);
    at += end ? end : k;
    if (end) r->line++, r->line_start = at;
  }
  r->line = 1;
  r->line_start = r->at;
  return true;
}

static bool check_kind(struct reader *r) {
  static const struct sl_span file = {0, 0, 0};
  if (r->len == 0) return complain(r, "F001", file, "the file is empty; its first line should name the columns");
  if (r->len > SL_FILE_LIMIT) return complain(r, "F016", file, "more than %d bytes", SL_FILE_LIMIT);
  if (starts(r, "\xFF\xFE", 2) || starts(r, "\xFE\xFF", 2)) {
    complain(r, "F012", file, "the file is UTF-16 (it starts with bytes %02X %02X); it has to be UTF-8",
             (unsigned char)r->text[0], (unsigned char)r->text[1]);
    return help(r, "save the file as UTF-8 (in a spreadsheet: export as \"CSV UTF-8\")");
  }
  if (starts(r, "PK\x03\x04", 4) || starts(r, "\xD0\xCF\x11\xE0", 4)) {
    complain(r, "F014", file, "this is a spreadsheet's own file, not comma-separated text");
    return help(r, "open it in the spreadsheet and export it as CSV (UTF-8)");
  }
  if (starts(r, "\xEF\xBB\xBF", 3)) r->at = r->line_start = 3;
  return check_bytes(r);
}

/* ---- cells and lines --------------------------------------------------------------------------------------------- */

static bool blank(char c) { return c == ' ' || c == '\t'; }

static size_t end_of_line(const struct reader *r) {
  size_t end = r->at;
  while (end < r->len && r->text[end] != '\n' && r->text[end] != '\r') end++;
  return end;
}

static void next_line(struct reader *r, size_t end) {
  r->at = r->line_start = end + sl_line_end(r->text, r->len, end);
  r->line++;
}

static bool add_cell(struct reader *r, struct sl_csv_cell cell) {
  if (r->n == r->room) {
    size_t room = r->room ? 2 * r->room : 64;
    struct sl_csv_cell *more = sl_memory_resize(r->box, r->cell, r->room * sizeof *more, room * sizeof *more);
    if (!more) return complain(r, "S003", cell.span, SL_NO_MEMORY);
    r->cell = more;
    r->room = room;
  }
  r->cell[r->n++] = cell;
  return true;
}

/* From its opening quote to after its closing one. */
static bool quoted_cell(struct reader *r, struct sl_csv_cell *cell) {
  struct reader open = *r;
  cell->quoted = true;
  for (r->at++;;) {
    if (r->at >= r->len) {
      complain(r, "F007", span_at(&open, open.at, open.at + 1), "this quote is opened and never closed");
      return help(r, "close it at the end of the cell; a quote inside the cell is written twice (\"\")");
    }
    size_t end = sl_line_end(r->text, r->len, r->at);
    if (end) {
      *r->to++ = '\n';
      next_line(r, r->at);
    } else if (r->text[r->at] != '"') {
      *r->to++ = r->text[r->at++];
    } else if (r->at + 1 < r->len && r->text[r->at + 1] == '"') {
      *r->to++ = '"';
      r->at += 2;
    } else {
      break;
    }
  }
  r->at++;
  cell->span = span_at(&open, open.at, r->line == open.line ? r->at : end_of_line(&open));
  while (r->at < r->len && blank(r->text[r->at])) r->at++;
  if (r->at == r->len || r->text[r->at] == ',' || sl_line_end(r->text, r->len, r->at)) return true;
  size_t end = r->at;
  while (end < r->len && r->text[end] != ',' && !sl_line_end(r->text, r->len, end)) end++;
  complain(r, "F006", span_at(r, r->at, end), "text after the closing quote of a cell; it was opened at %d:%d",
           open.line, cell->span.col);
  return help(r, "a quote inside a quoted cell is written twice (\"\"); between cells there has to be a comma");
}

static bool plain_cell(struct reader *r, struct sl_csv_cell *cell) {
  size_t from = r->at;
  for (; r->at < r->len && r->text[r->at] != ',' && !sl_line_end(r->text, r->len, r->at); r->at++) {
    if (r->text[r->at] != '"') continue;
    complain(r, "F005", span_at(r, r->at, r->at + 1), "a quote inside a cell that does not start with one");
    if (r->at > from && r->text[r->at - 1] >= '0' && r->text[r->at - 1] <= '9')
      return help(r, "for inches write in; a cell with quotes in it is quoted whole and has each of them twice (\"\")");
    return help(r, "a cell with quotes in it is quoted whole and has each of them twice (\"\")");
  }
  size_t to = r->at;
  while (to > from && blank(r->text[to - 1])) to--;
  memcpy(r->to, r->text + from, to - from);
  r->to += to - from;
  cell->span = span_at(r, from, to);
  return true;
}

/* The cells of one row up to its line end. */
static bool read_row(struct reader *r) {
  for (;;) {
    while (r->at < r->len && blank(r->text[r->at])) r->at++;
    struct sl_csv_cell cell = { .text = r->to };
    bool quoted = r->at < r->len && r->text[r->at] == '"';
    if (!(quoted ? quoted_cell(r, &cell) : plain_cell(r, &cell))) return false;
    cell.len = (size_t)(r->to - cell.text);
    *r->to++ = '\0';
    if (!add_cell(r, cell)) return false;
    if (r->at >= r->len || r->text[r->at] != ',') return true;
    r->at++;
  }
}

/* ---- heading and rows -------------------------------------------------------------------------------------------- */

/* "#10 screw, 100 pack" is a part, "# bought in May" is not: a comment that could be a row is refused. */
static bool check_comment(struct reader *r, size_t end, size_t columns) {
  size_t commas = 0;
  for (size_t i = r->at; i < end; i++) commas += r->text[i] == ',';
  bool number = r->at + 1 < end && r->text[r->at + 1] >= '0' && r->text[r->at + 1] <= '9';
  if (!number || columns < 2 || commas + 1 != columns) return true;
  complain(r, "F015", span_at(r, r->at, end),
           "a line that starts with '#' is a comment, but this one looks like a row");
  return help(r, "a row: put the first cell in quotes; a comment: put a blank after the '#'");
}

/* To the start of the next row.  False with nothing wrong: there is none. */
static bool next_row(struct reader *r, size_t columns, bool *ok) {
  for (*ok = true; r->at < r->len;) {
    size_t end = end_of_line(r), i = r->at;
    if (r->text[r->at] == '#') {
      *ok = check_comment(r, end, columns);
      if (!*ok) return false;
    } else {
      while (i < end && (blank(r->text[i]) || r->text[i] == ',')) i++;
      if (i < end) return true;
    }
    next_line(r, end);
  }
  return false;
}

/* What stands in quotes separates nothing; where they are open at the end of the line, the heading goes on. */
static bool check_separator(struct reader *r) {
  size_t from = r->at, to = end_of_line(r), semicolons = 0, tabs = 0;
  bool quoted = false;
  while (blank(r->text[from])) from++;
  while (to > from && blank(r->text[to - 1])) to--;
  for (size_t i = from; i < to; i++) {
    if (r->text[i] == '"') quoted = !quoted;
    if (quoted) continue;
    if (r->text[i] == ',') return true;
    semicolons += r->text[i] == ';';
    tabs += r->text[i] == '\t';
  }
  if (quoted || semicolons + tabs == 0) return true;
  complain(r, "F013", span_at(r, from, to), "the columns are separated by %s; a comma is wanted",
           semicolons >= tabs ? "semicolons" : "tabs");
  return help(r, "export with a comma as separator and a point in numbers (1.35)");
}

static bool check_heading(struct reader *r) {
  if (r->n > SL_CSV_COLUMNS)
    return complain(r, "F016", r->cell[SL_CSV_COLUMNS].span, "more than %d columns", SL_CSV_COLUMNS);
  for (size_t i = 0; i < r->n; i++) {
    const struct sl_csv_cell *c = &r->cell[i];
    if (c->len == 0) {
      complain(r, "F003", c->span, "column %zu of the heading has no name", i + 1);
      return help(r, "name it, or delete the column");
    }
    for (size_t k = 0; k < i; k++)
      if (strcmp(r->cell[k].text, c->text) == 0)
        return complain(r, "F004", c->span, "the heading names '%.*s' twice: columns %zu and %zu",
                        short_len(c->text), c->text, k + 1, i + 1);
  }
  return true;
}

static bool check_width(struct reader *r, size_t first, size_t columns) {
  size_t n = r->n - first;
  if (n == columns) return true;
  struct sl_span here = span_at(r, r->at, r->at);
  if (n < columns) {
    const char *missing = r->cell[n].text;
    return complain(r, "F008", here, "the row has %zu cell%s, the heading %zu: there is none for '%.*s'", n,
                    n == 1 ? "" : "s", columns, short_len(missing), missing);
  }
  complain(r, "F009", r->cell[first + columns].span, "the row has %zu cells, the heading %zu", n, columns);
  return help(r, "a cell with a comma in it is put in quotes; a number has a point (1.35)");
}

/* Keeps what is wrong with a row, without its cells, and goes to its end.  False: that is no fault of a row. */
static bool leave_out(struct reader *r, size_t first, struct sl_csv *out) {
  static const struct sl_complaint none = { .code = "" };
  const bool whole_file = strcmp(r->bad->code, "F016") == 0 || strcmp(r->bad->code, "S003") == 0;
  if (whole_file || out->nbad == SL_CSV_COMPLAINTS) return false;
  struct sl_complaint *more = sl_memory_resize(r->box, out->bad, out->nbad * sizeof *more,
                                               (out->nbad + 1) * sizeof *more);
  if (!more) return complain(r, "S003", r->bad->span, SL_NO_MEMORY);
  out->bad = more;
  out->bad[out->nbad++] = *r->bad;
  *r->bad = none;
  r->n = first;
  r->at = end_of_line(r);
  return true;
}

/* One row at which the reader stands; of what is wrong with it the reader's complaint says the first. */
static bool take_row(struct reader *r, size_t first, size_t columns) {
  return read_row(r) && check_width(r, first, columns);
}

static bool read_heading(struct reader *r, size_t *columns) {
  bool ok;
  if (!next_row(r, 0, &ok)) {
    if (!ok) return false;
    return complain(r, "F002", (struct sl_span){0, 0, 0},
                    "no heading: the first line that is no comment names columns");
  }
  if (!check_separator(r) || !read_row(r) || !check_heading(r)) return false;
  *columns = r->n;
  next_line(r, r->at);
  return true;
}

static bool read_all(struct reader *r, struct sl_csv *out) {
  size_t columns = 0;
  if (!check_kind(r) || !read_heading(r, &columns)) return false;
  while (out->nbad < SL_CSV_COMPLAINTS) {
    const size_t first = r->n;
    bool ok;
    if (!next_row(r, columns, &ok) && ok) break;
    if ((!ok || !take_row(r, first, columns)) && !leave_out(r, first, out)) return false;
    next_line(r, r->at);
  }
  out->columns = columns;
  out->rows = r->n / columns - 1;
  out->head = r->cell;
  out->cell = r->cell + columns;
  return true;
}

bool sl_csv_read_in(struct sl_box *box, const char *text, size_t len, struct sl_csv *out, struct sl_complaint *bad) {
  struct reader r = { .text = text, .len = len, .line = 1, .bad = bad, .box = box };
  *out = (struct sl_csv){ .box = box, .bytes = len + 1 };
  *bad = (struct sl_complaint){0};
  /* A cell's text and its NUL take no more bytes than the cell and its separator; the last may have none. */
  if (len <= SL_FILE_LIMIT && !(out->text = sl_memory_resize(box, NULL, 0, out->bytes)))
    return complain(&r, "S003", (struct sl_span){0, 0, 0}, SL_NO_MEMORY);
  r.to = out->text;
  const bool ok = read_all(&r, out);
  out->room = r.room;
  if (ok) return true;
  out->head = r.cell;
  sl_csv_free(out);
  return false;
}

void sl_csv_free(struct sl_csv *csv) {
  sl_memory_resize(csv->box, csv->head, csv->room * sizeof *csv->head, 0);
  sl_memory_resize(csv->box, csv->text, csv->bytes, 0);
  sl_memory_resize(csv->box, csv->bad, csv->nbad * sizeof *csv->bad, 0);
  *csv = (struct sl_csv){0};
}

const struct sl_csv_cell *sl_csv_at(const struct sl_csv *csv, size_t row, size_t column) {
  return &csv->cell[row * csv->columns + column];
}

/* ---- a whole file ------------------------------------------------------------------------------------------------ */

static int by_name(const void *a, const void *b) { return strcmp(*(char *const *)a, *(char *const *)b); }

/* Near without its ending too: base.sline is not a.sline. */
static const char *near_stem(const char *name, const char *near) {
  char a[128], b[128];
  const char *dot = strrchr(name, '.'), *other = strrchr(near, '.');
  snprintf(a, sizeof a, "%.*s", dot ? (int)(dot - name) : 127, name);
  snprintf(b, sizeof b, "%.*s", other ? (int)(other - near) : 127, near);
  const char *const only[] = { b };
  return sl_nearest(a, only, 1) ? near : NULL;
}

/* job for job.sline: the first of the names that has nothing but its ending besides. */
static const char *with_ending(const char *name, char *const *names, size_t n) {
  const size_t len = strlen(name);
  for (size_t i = 0; i < n; i++)
    if (strncmp(names[i], name, len) == 0 && names[i][len] == '.' && !strchr(names[i] + len + 1, '.')) return names[i];
  return NULL;
}

/* "; the folder has 'modules.csv'", if a name in the folder is near. */
static void suggest(const char *folder, const char *name, char *why, size_t size) {
  char **names = NULL;
  size_t n = 0, room = 0;
  DIR *dir = opendir(folder);
  for (struct dirent *e; dir && (e = readdir(dir));) {
    if (strcmp(e->d_name, ".") == 0 || strcmp(e->d_name, "..") == 0) continue;
    if (n == room) {
      char **more = realloc(names, (room = room ? 2 * room : 32) * sizeof *names);
      if (!more) break;
      names = more;
    }
    if (!(names[n] = strdup(e->d_name))) break;
    n++;
  }
  if (dir) closedir(dir);
  if (n) qsort(names, n, sizeof *names, by_name);   /* a folder has no order of its own */
  const char *near = n ? sl_nearest(name, (const char *const *)names, n) : NULL;
  if (near) near = near_stem(name, near);
  if (!near) near = with_ending(name, names, n);
  size_t used = strlen(why);
  if (near) snprintf(why + used, size - used, "; the folder has '%s'", near);
  for (size_t i = 0; i < n; i++) free(names[i]);
  free(names);
}

/* Finds the first part of the path that is not there. */
static void say_missing(const char *path, char *why, size_t size) {
  char part[PATH_MAX], folder[PATH_MAX];
  struct stat st;
  snprintf(why, size, "no such file");
  if (strlen(path) >= sizeof part || path[0] == '\0') return;
  snprintf(part, sizeof part, "%s", path);
  snprintf(folder, sizeof folder, "%s", path[0] == '/' ? "/" : ".");
  for (char *name = part + strspn(part, "/");;) {
    char *slash = name + strcspn(name, "/");
    bool last = slash[strspn(slash, "/")] == '\0';
    *slash = '\0';
    if (stat(part, &st) != 0) {
      if (lstat(part, &st) == 0) {
        snprintf(why, size, "'%s' is a symbolic link to something that is not there", part);
        return;
      }
      if (!last) snprintf(why, size, "no such folder '%s'", part);
      suggest(folder, name, why, size);
      return;
    }
    if (last) return;
    snprintf(folder, sizeof folder, "%s", part);
    *slash = '/';
    name = slash + strspn(slash, "/");
  }
}

static bool refuse(char *why, size_t size, const char *words) {
  snprintf(why, size, "%s", words);
  return false;
}

bool sl_file_take(struct sl_box *box, int fd, char **text, size_t *len, char *why, size_t size) {
  struct stat st;
  if (fstat(fd, &st) != 0) return refuse(why, size, strerror(errno));
  if (S_ISDIR(st.st_mode)) return refuse(why, size, "this is a folder; a file is wanted");
  if (!S_ISREG(st.st_mode)) return refuse(why, size, "this is a device or a pipe; a plain file is wanted");
  size_t room = st.st_size > 0 && st.st_size <= SL_FILE_LIMIT ? (size_t)st.st_size + 1 : 4096, n = 0;
  char *buffer = sl_memory_resize(box, NULL, 0, room + 1);
  while (buffer && st.st_size <= SL_FILE_LIMIT) {
    ssize_t got = read(fd, buffer + n, room - n);
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) return refuse(why, size, strerror(errno)), sl_memory_resize(box, buffer, room + 1, 0), false;
    if (got == 0) {
      char *fitted = sl_memory_resize(box, buffer, room + 1, n + 1);
      if (!fitted) return refuse(why, size, SL_NO_MEMORY);
      fitted[n] = '\0';
      *text = fitted;
      *len = n;
      return true;
    }
    n += (size_t)got;
    if (n > SL_FILE_LIMIT) break;
    if (n < room) continue;
    char *more = sl_memory_resize(box, buffer, room + 1, 2 * room + 1);   /* it grew, or nobody knew its size before */
    if (!more) sl_memory_resize(box, buffer, room + 1, 0);
    else room *= 2;
    buffer = more;
  }
  if (!buffer) return refuse(why, size, SL_NO_MEMORY);
  sl_memory_resize(box, buffer, room + 1, 0);
  snprintf(why, size, "larger than %d MiB", SL_FILE_LIMIT >> 20);
  return false;
}

int sl_file_open(const char *path) {
  return open(path, O_RDONLY | O_NONBLOCK | O_NOCTTY | O_CLOEXEC);   /* a pipe must not make us wait */
}

void sl_file_refuse(const char *path, int error, char *why, size_t size) {
  if (error == ENOENT) say_missing(path, why, size);
  else if (error == EACCES || error == EPERM) refuse(why, size, "no permission to read it");
  else if (error == ENXIO) refuse(why, size, "this is a device or a pipe; a plain file is wanted");
  else if (error == ELOOP) refuse(why, size, "its symbolic links go in a circle");
  else if (error == ENOTDIR) refuse(why, size, "a part of the path is a file, not a folder");
  else refuse(why, size, strerror(error));
}

bool sl_file_read_in(struct sl_box *box, const char *path, char **text, size_t *len, char *why, size_t size) {
  *text = NULL;
  *len = 0;
  const int fd = sl_file_open(path);
  if (fd < 0) return sl_file_refuse(path, errno, why, size), false;
  const bool ok = sl_file_take(box, fd, text, len, why, size);
  close(fd);
  return ok;
}
