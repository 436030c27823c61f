/* SPDX-License-Identifier: MIT
 * Parts and price lists: comma-separated values as a spreadsheet exports them, with places.  No Lua.
 *
 * RFC 4180 (October 2005), section 2, with these differences, all on purpose:
 *   - a line may end in CR, LF, CRLF or LFCR; a byte order mark is skipped; columns count from after it
 *   - blanks and tabs around a cell are dropped unless they are inside its quotes (the RFC keeps them)
 *   - a line that starts with '#' is a comment; blank lines, and lines of nothing but commas, are skipped
 *   - the first line left is the heading, and its names differ; a line end inside quotes comes out as '\n'
 * Text is UTF-8.
 *
 * Codes: F001 empty  F002 no heading  F003 a column without a name  F004 a name twice  F005 quote inside a cell
 * F006 text after a quoted cell  F007 quote never closed  F008 cells missing  F009 cells too many  F010 NUL byte
 * F011 not UTF-8  F012 UTF-16  F013 not separated by commas  F014 a workbook, not CSV  F015 '#' and a number
 * F016 too big */
#ifndef SL_CSV_H
#define SL_CSV_H

#include "box/memory.h"
#include "scan/scanner.h"

enum { SL_CSV_COLUMNS = 256, SL_FILE_LIMIT = 64 << 20 };   /* most columns; most bytes of a file */
enum { SL_CSV_COMPLAINTS = 100 };                          /* most rows of a file that are told to be wrong */

struct sl_csv_cell {
  const char *text; size_t len;      /* without quotes, ended by NUL */
  struct sl_span span;               /* as written, with its quotes; only the first line of it */
  bool quoted;                       /* then byte i of text is at col + 1 + i, but for doubled quotes before it */
};

struct sl_csv {
  size_t columns, rows;              /* every row has all columns */
  struct sl_csv_cell *head;          /* columns of them; the rows follow */
  struct sl_csv_cell *cell;          /* row after row */
  char *text; size_t bytes;          /* what the cells point into */
  struct sl_complaint *bad;          /* rows that cannot be read, which are left out, each with its first fault; */
  size_t nbad;                       /* behind SL_CSV_COMPLAINTS of them nothing is read */
  size_t room;                       /* cells that there is memory for, from `head` on */
  struct sl_box *box;                /* whose memory it is */
};

/* False: no row can be read, bad says why, and out is empty. */
bool sl_csv_read_in(struct sl_box *box, const char *text, size_t len, struct sl_csv *out, struct sl_complaint *bad);
static inline bool sl_csv_read(const char *text, size_t len, struct sl_csv *out, struct sl_complaint *bad) {
  return sl_csv_read_in(NULL, text, len, out, bad);
}
void sl_csv_free(struct sl_csv *csv);
/* Row and column from 0. */
const struct sl_csv_cell *sl_csv_at(const struct sl_csv *csv, size_t row, size_t column);

/* A whole file, ended by NUL: len + 1 bytes, to be freed.  False: `why` says in words what is in the way ("no such
 * file; the folder has 'modules.csv'"), without the path.  Only plain files of at most SL_FILE_LIMIT bytes. */
bool sl_file_read_in(struct sl_box *box, const char *path, char **text, size_t *len, char *why, size_t size);
static inline bool sl_file_read(const char *path, char **text, size_t *len, char *why, size_t size) {
  return sl_file_read_in(NULL, path, text, len, why, size);
}
/* The same by its steps: opened, which waits for nobody (-1: errno), why it could not be, and read. */
int sl_file_open(const char *path);
void sl_file_refuse(const char *path, int error, char *why, size_t size);
bool sl_file_take(struct sl_box *box, int fd, char **text, size_t *len, char *why, size_t size);
#endif
