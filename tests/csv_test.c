/* SPDX-License-Identifier: MIT
 * Parts and price lists: what is read, what is refused and in which words; reading a whole file. */
#include "check.h"
#include <sys/stat.h>
#include <unistd.h>
#include "host/csv.h"

#define COUNT(a) (sizeof(a) / sizeof *(a))
#define TEXT(s) s, sizeof(s) - 1

/* ---- what is read ------------------------------------------------------------------------------------------------ */

/* want: cells between '|', lines between '\n'.  RFC 4180 rows: the examples of its section 2, by their number there. */
static const struct good { const char *name, *text; size_t len; const char *want; } good[] = {
  { "RFC 4180 2.1: each record on a line of its own", TEXT("a,b,c\r\naaa,bbb,ccc\r\nzzz,yyy,xxx\r\n"),
    "a|b|c\naaa|bbb|ccc\nzzz|yyy|xxx\n" },
  { "RFC 4180 2.2: the last line end may be missing", TEXT("a,b,c\r\naaa,bbb,ccc\r\nzzz,yyy,xxx"),
    "a|b|c\naaa|bbb|ccc\nzzz|yyy|xxx\n" },
  { "RFC 4180 2.3: a heading", TEXT("field_name,field_name2,field_name3\r\naaa,bbb,ccc\r\nzzz,yyy,xxx\r\n"),
    "field_name|field_name2|field_name3\naaa|bbb|ccc\nzzz|yyy|xxx\n" },
  { "RFC 4180 2.5: quoted or not", TEXT("a,b,c\r\n\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx"),
    "a|b|c\naaa|bbb|ccc\nzzz|yyy|xxx\n" },
  { "RFC 4180 2.6: a line end in quotes", TEXT("a,b,c\r\n\"aaa\",\"b \r\nbb\",\"ccc\" \r\nzzz,yyy,xxx"),
    "a|b|c\naaa|b \nbb|ccc\nzzz|yyy|xxx\n" },
  { "RFC 4180 2.6: a comma in quotes", TEXT("a,b\r\n\"x,y\",z\r\n"), "a|b\nx,y|z\n" },
  { "RFC 4180 2.7: a quote in quotes is doubled", TEXT("a,b,c\r\n\"aaa\",\"b\"\"bb\",\"ccc\""),
    "a|b|c\naaa|b\"bb|ccc\n" },
  { "LF ends", TEXT("a,b\n1,2\n"), "a|b\n1|2\n" },
  { "lone CR ends", TEXT("a,b\r1,2\r"), "a|b\n1|2\n" },
  { "a byte order mark", TEXT("\xEF\xBB\xBF" "a,b\n1,2\n"), "a|b\n1|2\n" },
  { "a byte order mark before a quote", TEXT("\xEF\xBB\xBF\"a\",b\n1,2\n"), "a|b\n1|2\n" },
  { "comments and blank lines", TEXT("# prices, May\n\na,b\n\n# more, here\n1,2\n  \t\n"), "a|b\n1|2\n" },
  { "an unclosed quote in a comment is none", TEXT("# 24\" posts\na\n1\n"), "a\n1\n" },
  { "a '#' inside a row is text", TEXT("a,b\nx,#4 bar\n"), "a|b\nx|#4 bar\n" },
  { "a quoted '#' starts a row", TEXT("a,b\n\"#10 screw\",4\n"), "a|b\n#10 screw|4\n" },
  { "a comment that starts with a number but is no row", TEXT("a,b,c\n#10 bought, not used\n1,2,3\n"),
    "a|b|c\n1|2|3\n" },
  { "lines of commas alone, as spreadsheets leave", TEXT(",,\na,b,c\n,,\n1,,3\n,,"), "a|b|c\n1||3\n" },
  { "a row of quoted nothing is a row", TEXT("a,b\n\"\",\n"), "a|b\n|\n" },
  { "blanks around cells are dropped", TEXT(" a , b\t\n 6 AWG , 1.05 \n"), "a|b\n6 AWG|1.05\n" },
  { "blanks in quotes are kept", TEXT("a,b\n\" x \" , \"y \"\n"), "a|b\n x |y \n" },
  { "one column", TEXT("part\nM430\n"), "part\nM430\n" },
  { "no rows", TEXT("a,b\n"), "a|b\n" },
  { "an empty last cell", TEXT("a,b\n1,"), "a|b\n1|\n" },
  { "UTF-8 text", TEXT("a,b\n5 \xC2\xB0" "C,\xE2\x82\xAC 4\n"), "a|b\n5 \xC2\xB0" "C|\xE2\x82\xAC 4\n" },
  { "a semicolon in a heading's quotes", TEXT("\"a;x\"\n1\n"), "a;x\n1\n" },
  { "a heading's quotes go on behind the line", TEXT("\"a;\nx\",b\n1,2\n"), "a;\nx|b\n1|2\n" },
  { "a semicolon in a cell", TEXT("a;x,b\n1;2,3\n"), "a;x|b\n1;2|3\n" },
  { "only quotes", TEXT("a\n\"\"\"\"\"\"\n"), "a\n\"\"\n" },
};

static void reads(void **state) {
  const struct good *r = *state;
  struct sl_csv csv;
  struct sl_complaint bad;
  char got[400] = "";
  char *copy = malloc(r->len);   /* without a NUL behind it: reading past the end is caught by the sanitizer */
  assert_non_null(copy);
  memcpy(copy, r->text, r->len);
  bool ok = sl_csv_read(copy, r->len, &csv, &bad);
  free(copy);                    /* cells do not point into it */
  if (!ok) fail_msg("%s %d:%d %s", bad.code, bad.span.line, bad.span.col, bad.text);
  for (size_t i = 0; i <= csv.rows; i++)
    for (size_t k = 0; k < csv.columns; k++) {
      const struct sl_csv_cell *c = i ? sl_csv_at(&csv, i - 1, k) : &csv.head[k];
      assert_int_equal(c->len, strlen(c->text));
      strcat(strcat(got, c->text), k + 1 < csv.columns ? "|" : "\n");
    }
  assert_string_equal(got, r->want);
  sl_csv_free(&csv);
  assert_null(csv.head);
}

/* ---- where cells are --------------------------------------------------------------------------------------------- */

static const struct place {
  const char *name, *text; size_t row, column; struct sl_span want; bool quoted;
} places[] = {
  { "place: first cell", "a,b\n12,3\n", 0, 0, {2, 1, 2}, false },
  { "place: second cell", "a,b\n12,345\n", 0, 1, {2, 4, 3}, false },
  { "place: blanks are not in it", "a,b\n1 ,  345 \n", 0, 1, {2, 6, 3}, false },
  { "place: quotes are in it", "a,b\n1,\"x\"\"y\"\n", 0, 1, {2, 3, 6}, true },
  { "place: an empty cell", "a,b\n1,\n", 0, 1, {2, 3, 0}, false },
  { "place: after CRLF", "a,b\r\n1,2\r\n3,4\r\n", 1, 1, {3, 3, 1}, false },
  { "place: after a lone CR", "a,b\r1,2\r3,4\r", 1, 0, {3, 1, 1}, false },
  { "place: comments and blank lines are counted", "# x\n\na,b\n#\n1,2\n", 0, 0, {5, 1, 1}, false },
  { "place: columns are bytes", "a,b\n\xC3\xA9,2\n", 0, 1, {2, 4, 1}, false },
  { "place: after a byte order mark", "\xEF\xBB\xBF" "a,b\n1,2\n", 0, 0, {2, 1, 1}, false },
  { "place: over two lines, the first of them", "a,b\n\"x\ny\",2\n", 0, 0, {2, 1, 2}, true },
  { "place: behind a cell over two lines", "a,b\n\"x\ny\",2\n", 0, 1, {3, 4, 1}, false },
  { "place: the row after a cell over two lines", "a,b\n\"x\r\ny\",2\n5,6", 1, 0, {4, 1, 1}, false },
};

static void cell_is_at(void **state) {
  const struct place *r = *state;
  struct sl_csv csv;
  struct sl_complaint bad;
  assert_true(sl_csv_read(r->text, strlen(r->text), &csv, &bad));
  const struct sl_csv_cell *c = sl_csv_at(&csv, r->row, r->column);
  assert_int_equal(c->span.line, r->want.line);
  assert_int_equal(c->span.col, r->want.col);
  assert_int_equal(c->span.len, r->want.len);
  assert_int_equal(c->quoted, r->quoted);
  sl_csv_free(&csv);
}

static void heading_is_at(void **state) {
  (void)state;
  static const char text[] = "\xEF\xBB\xBF" "part, price\nx,1\n";
  struct sl_csv csv;
  struct sl_complaint bad;
  assert_true(sl_csv_read(TEXT(text), &csv, &bad));
  assert_int_equal(csv.head[0].span.col, 1);   /* after the byte order mark */
  assert_int_equal(csv.head[1].span.col, 7);
  assert_string_equal(csv.head[0].text, "part");
  assert_string_equal(csv.head[1].text, "price");
  sl_csv_free(&csv);
}

static void many_rows_are_kept(void **state) {
  (void)state;
  enum { ROWS = 3000 };
  char *text = malloc(ROWS * 16 + 8);
  size_t n = 0;
  assert_non_null(text);
  n += (size_t)sprintf(text, "a,b\n");
  for (int i = 0; i < ROWS; i++) n += (size_t)sprintf(text + n, "%d,%d\n", i, 2 * i);
  struct sl_csv csv;
  struct sl_complaint bad;
  assert_true(sl_csv_read(text, n, &csv, &bad));
  free(text);
  assert_int_equal(csv.rows, ROWS);
  for (int i = 0; i < ROWS; i++) {
    assert_int_equal(atoi(sl_csv_at(&csv, (size_t)i, 1)->text), 2 * i);
    assert_int_equal(sl_csv_at(&csv, (size_t)i, 1)->span.line, i + 2);
  }
  sl_csv_free(&csv);
}

/* ---- what is refused --------------------------------------------------------------------------------------------- */

#define NAMES4(p, a, b, c, d) p a "," p b "," p c "," p d ","
#define NAMES16(p) NAMES4(p, "0", "1", "2", "3") NAMES4(p, "4", "5", "6", "7") \
                   NAMES4(p, "8", "9", "a", "b") NAMES4(p, "c", "d", "e", "f")
#define NAMES64(a, b, c, d) NAMES16(a) NAMES16(b) NAMES16(c) NAMES16(d)
#define NAMES256 NAMES64("0", "1", "2", "3") NAMES64("4", "5", "6", "7") \
                 NAMES64("8", "9", "a", "b") NAMES64("c", "d", "e", "f")

/* words and help: pieces that have to be in them.
 * Windows-1252 rows: Unicode's mapping table CP1252.TXT, from memory. */
static const struct bad {
  const char *name, *text; size_t len;
  const char *code; struct sl_span span; const char *words, *help;
} refused[] = {
  { "empty file", TEXT(""), "F001", {0, 0, 0}, "the file is empty", "" },
  { "comments alone", TEXT("# x\n\n"), "F002", {0, 0, 0}, "no heading", "" },
  { "a byte order mark alone", TEXT("\xEF\xBB\xBF"), "F002", {0, 0, 0}, "no heading", "" },
  { "a column without a name", TEXT("part,,price\n"), "F003", {1, 6, 0}, "column 2 of the heading has no name",
    "delete" },
  { "a trailing comma in the heading", TEXT("part,price,\n"), "F003", {1, 12, 0}, "column 3 of the heading", "" },
  { "a name twice", TEXT("part,price,part\n"), "F004", {1, 12, 4}, "'part' twice: columns 1 and 3", "" },
  { "a name twice but for blanks and quotes", TEXT("part, \"part\"\n"), "F004", {1, 7, 6}, "'part' twice", "" },
  { "a quote inside a cell", TEXT("a,b\nx \"y\",2\n"), "F005", {2, 3, 1}, "a quote inside a cell", "quoted whole" },
  { "an inch mark", TEXT("a,b\npost 24\",2\n"), "F005", {2, 8, 1}, "a quote inside a cell", "for inches write in" },
  { "text after a quoted cell", TEXT("a,b\n\"x\"y,2\n"), "F006", {2, 4, 1},
    "after the closing quote of a cell; it was opened at 2:1",
    "written twice" },
  { "an inch mark in a quoted cell", TEXT("a,b\n1,\"24\" post\"\n"), "F006", {2, 8, 5}, "opened at 2:3",
    "written twice" },
  { "a quote closed by another's opening", TEXT("a,b\n\"x,2\ny,\"3\"\n"), "F006", {3, 4, 2}, "opened at 2:1", "" },
  { "a quote never closed", TEXT("a,b\n1,\"x\n2,3\n"), "F007", {2, 3, 1}, "opened and never closed", "close it" },
  { "a quote at the very end", TEXT("a,b\n1,\""), "F007", {2, 3, 1}, "opened and never closed", "" },
  { "a doubled quote at the very end", TEXT("a,b\n1,\"x\"\""), "F007", {2, 3, 1}, "opened and never closed", "" },
  { "a cell missing", TEXT("part,unit,price\nx,1\n"), "F008", {2, 4, 0},
    "2 cells, the heading 3: there is none for 'price'",
    "" },
  { "two cells missing", TEXT("part,unit,price\nx\n"), "F008", {2, 2, 0},
    "1 cell, the heading 3: there is none for 'unit'",
    "" },
  { "a cell missing in a row over two lines", TEXT("a,b,c\n\"x\ny\",2\n"), "F008", {3, 5, 0}, "none for 'c'", "" },
  { "a cell too many", TEXT("part,price\nx,1,35\n"), "F009", {2, 5, 2}, "3 cells, the heading 2",
    "a number has a point" },
  { "a trailing comma in a row", TEXT("a,b\n1,2,\n"), "F009", {2, 5, 0}, "3 cells, the heading 2", "" },
  { "a NUL byte", TEXT("a,b\n1,\0\n"), "F010", {2, 3, 1}, "a NUL byte", "UTF-16" },
  { "UTF-16 without a mark", TEXT("a\0,\0b\0"), "F010", {1, 2, 1}, "a NUL byte", "UTF-8" },
  { "Windows-1252 E9", TEXT("a,b\n1,pr\xE9t\n"), "F011", {2, 5, 1}, "byte E9 is not UTF-8; it is probably '\xC3\xA9'",
    "save the file as UTF-8" },
  { "Windows-1252 B0, degree", TEXT("a,b\n25 \xB0" "C,1\n"), "F011", {2, 4, 1}, "'\xC2\xB0'", "" },
  { "Windows-1252 D7, times", TEXT("a\n2\xD7" "6\n"), "F011", {2, 2, 1}, "'\xC3\x97'", "" },
  { "Windows-1252 80, euro", TEXT("a\n\x80 4\n"), "F011", {2, 1, 1}, "'\xE2\x82\xAC'", "" },
  { "Windows-1252 92, apostrophe", TEXT("a\r\nx\x92s\r\n"), "F011", {2, 2, 1}, "'\xE2\x80\x99'", "" },
  { "Windows-1252 96, en dash", TEXT("a\rx\x96s\r"), "F011", {2, 2, 1}, "'\xE2\x80\x93'", "" },
  { "Windows-1252 9F, Y diaeresis", TEXT("a\n\x9F\n"), "F011", {2, 1, 1}, "'\xC5\xB8'", "" },
  { "Windows-1252 has no 81", TEXT("a\n\x81\n"), "F011", {2, 1, 1}, "byte 81 is not UTF-8", "save the file as UTF-8" },
  { "not UTF-8 in a comment is refused too", TEXT("# \xE9\na\n"), "F011", {1, 3, 1}, "byte E9", "" },
  { "not UTF-8 after a byte order mark", TEXT("\xEF\xBB\xBF" "a\xE9"), "F011", {1, 2, 1}, "byte E9", "" },
  { "UTF-16, little end first", TEXT("\xFF\xFE" "a\0,\0b\0"), "F012", {0, 0, 0}, "UTF-16 (it starts with bytes FF FE)",
    "UTF-8" },
  { "UTF-16, big end first", TEXT("\xFE\xFF\0a\0,"), "F012", {0, 0, 0}, "UTF-16 (it starts with bytes FE FF)",
    "UTF-8" },
  { "semicolons", TEXT("part;unit;price\nx;ft;1,35\n"), "F013", {1, 1, 15}, "separated by semicolons",
    "a point in numbers" },
  { "tabs", TEXT("part\tunit\tprice\nx\tft\t1\n"), "F013", {1, 1, 15}, "separated by tabs", "export with a comma" },
  { "one semicolon", TEXT("# x, y\npart;price\n"), "F013", {2, 1, 10}, "separated by semicolons", "" },
  { "a zipped workbook", TEXT("PK\x03\x04\x14\0"), "F014", {0, 0, 0}, "a spreadsheet's own file", "export it as CSV" },
  { "an old workbook", TEXT("\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1"), "F014", {0, 0, 0}, "a spreadsheet's own file", "" },
  { "a part number that looks like a comment", TEXT("a,b\n#10 screw,4\n"), "F015", {2, 1, 11}, "looks like a row",
    "in quotes" },
  { "257 columns", TEXT(NAMES256 "x\n"), "F016", {1, 769, 1}, "more than 256 columns", "" },
  { "a long name is cut between characters", TEXT(
    "a,\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9"
    "\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9z\xC3\xA9\xC3\xA9\nx\n"), "F008", {2, 2, 0}, "\xC3\xA9\xC3\xA9z'", "" },
};

static void refuses(void **state) {
  const struct bad *r = *state;
  struct sl_csv csv;
  struct sl_complaint bad;
  char *copy = malloc(r->len ? r->len : 1);
  assert_non_null(copy);
  memcpy(copy, r->text, r->len);
  bool ok = sl_csv_read(copy, r->len, &csv, &bad);
  free(copy);
  if (ok) {                      /* a row is wrong: the heading can be read */
    assert_int_equal(csv.nbad, 1);
    assert_non_null(csv.head);
    bad = csv.bad[0];
    sl_csv_free(&csv);
  }
  assert_null(csv.head);
  assert_int_equal(csv.rows, 0);
  if (strcmp(bad.code, r->code) || !strstr(bad.text, r->words) || !strstr(bad.help, r->help))
    fail_msg("got %s '%s' help '%s'", bad.code, bad.text, bad.help);
  assert_int_equal(bad.span.line, r->span.line);
  assert_int_equal(bad.span.col, r->span.col);
  assert_int_equal(bad.span.len, r->span.len);
}

/* Every row that is wrong is told, and those that are not are read. */
static void tells_all_rows(void **state) {
  (void)state;
  static const char text[] = "a,b\n1\n2,x\n3 24\",y\n\"4\"z,y\n5,y,\n#6 screw,4\n\"7\n7\",w\n8,\"never";
  static const struct { const char *code; int line, col; } want[] = {
    { "F008", 2, 2 }, { "F005", 4, 5 }, { "F006", 5, 4 }, { "F009", 6, 5 }, { "F015", 7, 1 }, { "F007", 10, 3 } };
  struct sl_csv csv;
  struct sl_complaint bad;
  assert_true(sl_csv_read(TEXT(text), &csv, &bad));
  assert_string_equal(bad.code, "");
  assert_int_equal(csv.nbad, COUNT(want));
  for (size_t i = 0; i < COUNT(want); i++) {
    assert_string_equal(csv.bad[i].code, want[i].code);
    assert_int_equal(csv.bad[i].span.line, want[i].line);
    assert_int_equal(csv.bad[i].span.col, want[i].col);
  }
  assert_int_equal(csv.rows, 2);
  assert_string_equal(sl_csv_at(&csv, 0, 0)->text, "2");
  assert_string_equal(sl_csv_at(&csv, 1, 0)->text, "7\n7");
  assert_string_equal(sl_csv_at(&csv, 1, 1)->text, "w");
  sl_csv_free(&csv);
}

/* No more than so many. */
static void tells_no_more_than_so_many(void **state) {
  (void)state;
  char text[8 + 3 * SL_CSV_COMPLAINTS] = "a,b\n";
  for (int i = 0; i < SL_CSV_COMPLAINTS + 10; i++) strcat(text, "1\n");
  struct sl_csv csv;
  struct sl_complaint bad;
  assert_true(sl_csv_read(text, strlen(text), &csv, &bad));
  assert_int_equal(csv.nbad, SL_CSV_COMPLAINTS);
  sl_csv_free(&csv);
}

/* Law: every text cut off anywhere is either read or refused with words, and nothing is read beyond its end. */
static void every_prefix_is_answered(void **state) {
  (void)state;
  static const char text[] = "\xEF\xBB\xBF# c\r\na, \"b\"\"x\" ,c\r\n\"1\r\n2\",3,\xC3\xA9\n#4 x,1,2\n,,\r5,6,7,8";
  for (size_t n = 0; n < sizeof text; n++) {
    struct sl_csv csv;
    struct sl_complaint bad;
    char *copy = malloc(n ? n : 1);
    assert_non_null(copy);
    memcpy(copy, text, n);
    bool ok = sl_csv_read(copy, n, &csv, &bad);
    free(copy);
    assert_true(ok ? csv.columns > 0 && bad.code[0] == '\0' : bad.code[0] == 'F' && bad.text[0] != '\0');
    sl_csv_free(&csv);
  }
}

/* ---- a whole file ------------------------------------------------------------------------------------------------ */

static char folder[] = "/tmp/stringline-csv-XXXXXX";

static void put_file(const char *name, const char *text) {
  FILE *f = fopen(name, "w");
  assert_non_null(f);
  fputs(text, f);
  fclose(f);
}

static int make_folder(void **state) {
  (void)state;
  if (!mkdtemp(folder) || chdir(folder) != 0 || mkdir("parts", 0777) != 0 || mkfifo("pipe", 0666) != 0) return -1;
  put_file("parts/modules.csv", "part,price\nM430,1\n");
  put_file("parts/rails.csv", "");
  if (symlink("nowhere", "dangling") != 0 || symlink("parts/modules.csv", "linked") != 0) return -1;
  put_file("huge", "x");
  return truncate("huge", (off_t)SL_FILE_LIMIT + 1);
}

static int drop_folder(void **state) {
  (void)state;
  static const char *const names[] = {"parts/modules.csv", "parts/rails.csv", "dangling", "linked", "huge", "pipe"};
  for (size_t i = 0; i < COUNT(names); i++) unlink(names[i]);
  return rmdir("parts") != 0 || chdir("/") != 0 || rmdir(folder) != 0;
}

static const struct file { const char *name, *path, *text, *why; } files[] = {
  { "file: read whole", "parts/modules.csv", "part,price\nM430,1\n", NULL },
  { "file: an empty one", "parts/rails.csv", "", NULL },
  { "file: through a link", "linked", "part,price\nM430,1\n", NULL },
  { "file: two letters swapped", "parts/modulse.csv", NULL, "no such file; the folder has 'modules.csv'" },
  { "file: capitals", "parts/Modules.CSV", NULL, "no such file; the folder has 'modules.csv'" },
  { "file: from here", "./lniked", NULL, "no such file; the folder has 'linked'" },
  { "file: nothing near", "parts/prices.xlsx", NULL, "no such file" },
  { "file: the folder misspelt", "part/modules.csv", NULL, "no such folder 'part'; the folder has 'parts'" },
  { "file: no such folder at all", "prices/a/b.csv", NULL, "no such folder 'prices'" },
  { "file: a link to nowhere", "dangling", NULL, "'dangling' is a symbolic link to something that is not there" },
  { "file: a folder", "parts", NULL, "this is a folder; a file is wanted" },
  { "file: a pipe does not make us wait", "pipe", NULL, "this is a device or a pipe; a plain file is wanted" },
  { "file: a device", "/dev/zero", NULL, "this is a device or a pipe; a plain file is wanted" },
  { "file: a file as folder", "linked/x.csv", NULL, "a part of the path is a file, not a folder" },
  { "file: larger than the limit", "huge", NULL, "larger than 64 MiB" },
  { "file: no name", "", NULL, "no such file" },
};

static void file_reads(void **state) {
  const struct file *r = *state;
  char *text = NULL, why[200] = "";
  size_t len = 99;
  bool ok = sl_file_read(r->path, &text, &len, why, sizeof why);
  assert_string_equal(why, r->why ? r->why : "");
  assert_int_equal(ok, r->why == NULL);
  if (!ok) { assert_null(text); return; }
  assert_string_equal(text, r->text);   /* ended by NUL */
  assert_int_equal(len, strlen(r->text));
  free(text);
}

static void file_from_the_root(void **state) {
  (void)state;
  char path[100], why[200], *text = NULL;
  size_t len = 0;
  snprintf(path, sizeof path, "%s/parts/modules.csv", folder);
  assert_true(sl_file_read(path, &text, &len, why, sizeof why));
  free(text);
  snprintf(path, sizeof path, "%s/parts/module.csv", folder);
  assert_false(sl_file_read(path, &text, &len, why, sizeof why));
  assert_string_equal(why, "no such file; the folder has 'modules.csv'");
}

/* Of several that are equally near the first by name is told, in whatever order the folder has them. */
static void file_first_of_equals(void **state) {
  (void)state;
  static const char *const names[] = {"wire5.csv", "wire2.csv", "wire7.csv", "wire1.csv", "wire6.csv", "wire3.csv"};
  char why[200], *text = NULL;
  size_t len = 0;
  for (size_t i = 0; i < COUNT(names); i++) put_file(names[i], "");
  bool ok = sl_file_read("wire9.csv", &text, &len, why, sizeof why);
  for (size_t i = 0; i < COUNT(names); i++) unlink(names[i]);
  assert_false(ok);
  assert_string_equal(why, "no such file; the folder has 'wire1.csv'");
}

/* Linux gives files of the kernel no size beforehand. */
static void file_of_unknown_size(void **state) {
  (void)state;
  char why[200], *text = NULL;
  size_t len = 0;
  if (access("/proc/self/status", R_OK) != 0) skip();
  assert_true(sl_file_read("/proc/self/status", &text, &len, why, sizeof why));
  assert_true(len > 0 && strlen(text) == len);
  free(text);
}

#define ADD(rows, function) \
  for (size_t i = 0; i < COUNT(rows); i++) \
    tests[n++] = (struct CMUnitTest){ rows[i].name, function, NULL, NULL, (void *)(uintptr_t)&rows[i] }

int main(void) {
  static struct CMUnitTest tests[COUNT(good) + COUNT(places) + COUNT(refused) + COUNT(files) + 8];
  size_t n = 0;
  ADD(good, reads);
  ADD(places, cell_is_at);
  ADD(refused, refuses);
  ADD(files, file_reads);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(heading_is_at);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(many_rows_are_kept);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(every_prefix_is_answered);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(tells_all_rows);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(tells_no_more_than_so_many);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(file_from_the_root);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(file_first_of_equals);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(file_of_unknown_size);
  return cmocka_run_group_tests_name("csv", tests, make_folder, drop_folder);
}
