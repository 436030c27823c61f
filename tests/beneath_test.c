/* SPDX-License-Identifier: MIT
 * A file below a folder: links within it, links that lead out, and links that change while they are walked. */
#define _GNU_SOURCE
#include "check.h"
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>
#include "host/beneath.h"

#define COUNT(a) (sizeof(a) / sizeof *(a))

/* ---- a folder `in`, and what it must not lead to, `out` ---------------------------------------------------------- */

static char work[64];

static void put_file(const char *path, const char *text) {
  FILE *f = fopen(path, "w");
  assert_non_null(f);
  fputs(text, f);
  fclose(f);
}

static const struct { const char *path, *says; } links[] = {
  { "in/plain", "file" }, { "in/dotted", "./sub/../sub/./deep" }, { "in/folder", "sub" }, { "in/sub/up", "../file" },
  { "in/chain", "folder/up" }, { "in/slash", "file/" }, { "in/ring", "ring2" }, { "in/ring2", "ring" },
  { "in/nowhere", "nothing" }, { "in/away", "../out" }, { "in/secret", "../out/secret" },
  { "in/sub/far", "../../out/secret" }, { "in/back", "sub/../../in/file" }, { "in/indirect", "away/secret" },
  { "in/null", "/dev/null" }, { "in/self", "/proc/self/environ" }, { "in/under", "folder/.." },
  { "in/sub/under", "../folder/../file" },
  { "linked", "in" },
};

static int make_work(void **state) {
  (void)state;
  strcpy(work, "/tmp/stringline-beneath-XXXXXX");
  if (!mkdtemp(work) || chdir(work) != 0) return 1;
  if (mkdir("in", 0777) != 0 || mkdir("in/sub", 0777) != 0 || mkdir("out", 0777) != 0) return 1;
  put_file("in/file", "file");
  put_file("in/sub/deep", "deep");
  put_file("out/secret", "SECRET");
  put_file("out/file", "SECRET");
  if (mkfifo("in/pipe", 0666) != 0) return 1;
  char absolute[100];
  snprintf(absolute, sizeof absolute, "%s/in/file", work);
  if (symlink(absolute, "in/absolute") != 0) return 1;
  for (size_t i = 0; i < COUNT(links); i++)
    if (symlink(links[i].says, links[i].path) != 0) return 1;
  char name[16] = "in/l00";                                 /* 41 links in a row, of which Linux follows 40 */
  put_file("in/l41", "l41");
  for (int i = 0; i < 41; i++) {
    char next[16];
    snprintf(name, sizeof name, "in/l%02d", i);
    snprintf(next, sizeof next, "l%02d", i + 1);
    if (symlink(next, name) != 0) return 1;
  }
  return 0;
}

static int drop_work(void **state) {
  (void)state;
  char command[100];
  snprintf(command, sizeof command, "rm -rf '%s'", work);
  return chdir("/") != 0 || system(command) != 0;
}

/* What can be read there, and -1 behind it what keeps it from being read. */
static int read_beneath(const char *folder, const char *name, char *to, size_t size, struct sl_link *link) {
  const int fd = sl_beneath_open(folder, name, link);
  if (fd < 0) return errno;
  const ssize_t n = read(fd, to, size - 1);
  const int error = n < 0 ? errno : 0;
  to[n > 0 ? n : 0] = '\0';
  close(fd);
  return error;
}

static const struct row { const char *name, *folder, *path, *text; int error; const char *link, *says; } rows[] = {
  { "a file", "in", "file", "file", 0, "", "" },
  { "a file of a folder in it", "in", "sub/deep", "deep", 0, "", "" },
  { "spelt with a dot and two slashes", "in", ".//sub/.//deep", "deep", 0, "", "" },
  { "back and forth", "in", "sub/../file", "file", 0, "", "" },
  { "seen from the current folder", "", "in/file", "file", 0, "", "" },
  { "the folder itself is a link", "linked", "file", "file", 0, "", "" },
  { "a link", "in", "plain", "file", 0, "plain", "file" },
  { "a link with dots", "in", "dotted", "deep", 0, "dotted", "./sub/../sub/./deep" },
  { "a link to a folder", "in", "folder/deep", "deep", 0, "folder", "sub" },
  { "a link back up", "in", "sub/up", "file", 0, "sub/up", "../file" },
  { "a link through a link", "in", "chain", "file", 0, "sub/up", "../file" },
  { "back out of a linked folder is where that lies", "in", "sub/under", "file", 0, "folder", "sub" },
  { "forty links in a row", "in", "l01", "l41", 0, "l40", "l41" },
  { "one more", "in", "l00", NULL, ELOOP, "l40", "l41" },
  { "links in a circle", "in", "ring", NULL, ELOOP, "ring", "ring2" },
  { "a link to nothing", "in", "nowhere", NULL, ENOENT, "nowhere", "nothing" },
  { "nothing", "in", "none", NULL, ENOENT, "", "" },
  { "no name", "in", "", NULL, ENOENT, "", "" },
  { "no folder", "none", "file", NULL, ENOENT, "", "" },
  { "a file as the folder", "in/file", "file", NULL, ENOTDIR, "", "" },
  { "a file as a folder", "in", "file/x", NULL, ENOTDIR, "", "" },
  { "a file with a slash behind it", "in", "file/", NULL, ENOTDIR, "", "" },
  { "a link that says so", "in", "slash", NULL, ENOTDIR, "slash", "file/" },
  { "a folder", "in", "sub", NULL, EISDIR, "", "" },
  { "the folder", "in", ".", NULL, EISDIR, "", "" },
  { "the folder, through a link", "in", "under", NULL, EISDIR, "folder", "sub" },
  { "a pipe nobody writes to", "in", "pipe", "", 0, "", "" },
  { "out", "in", "..", NULL, EXDEV, "", "" },
  { "out and back", "in", "../in/file", NULL, EXDEV, "", "" },
  { "further out than in", "in", "sub/../../in/file", NULL, EXDEV, "", "" },
  { "a folder that leads out", "in", "away/secret", NULL, EXDEV, "away", "../out" },
  { "a file that leads out", "in", "secret", NULL, EXDEV, "secret", "../out/secret" },
  { "out of a folder in it", "in", "sub/far", NULL, EXDEV, "sub/far", "../../out/secret" },
  { "out and back by a link", "in", "back", NULL, EXDEV, "back", "sub/../../in/file" },
  { "out by a link to a link", "in", "indirect", NULL, EXDEV, "away", "../out" },
  { "an absolute link out", "in", "null", NULL, EXDEV, "null", "/dev/null" },
  { "an absolute link to what the kernel makes up", "in", "self", NULL, EXDEV, "self", "/proc/self/environ" },
};

static void opens(void **state) {
  const struct row *r = *state;
  char text[100] = "";
  struct sl_link link;
  assert_int_equal(read_beneath(r->folder, r->path, text, sizeof text, &link), r->error);
  if (r->text) assert_string_equal(text, r->text);
  assert_string_equal(link.path, r->link);
  assert_string_equal(link.says, r->says);
}

static void absolute_within(void **state) {
  (void)state;
  struct sl_link link;
  char text[100] = "";
  assert_int_equal(read_beneath("in", "absolute", text, sizeof text, &link), EXDEV);
}

static void too_long(void **state) {
  (void)state;
  struct sl_link link;
  char name[5000], text[100];
  memset(name, 'x', sizeof name);
  name[300] = '\0';
  assert_int_equal(read_beneath("in", name, text, sizeof text, &link), ENAMETOOLONG);
  for (size_t i = 0; i + 2 < sizeof name; i += 2) memcpy(name + i, "./", 3);
  assert_int_equal(read_beneath("in", name, text, sizeof text, &link), ENAMETOOLONG);
  char folder[300] = "in";
  for (int i = 0; i < 65; i++) {
    strcat(folder, "/d");
    assert_int_equal(mkdir(folder, 0777), 0);
  }
  strcat(folder, "/f");
  put_file(folder, "deep down");
  assert_int_equal(read_beneath("in", folder + 3, text, sizeof text, &link), ENAMETOOLONG);
  assert_int_equal(read_beneath("in/d", folder + 5, text, sizeof text, &link), 0);
  assert_string_equal(text, "deep down");
}

/* Nothing stays open, whatever came of it. */
static void all_is_closed(void **state) {
  (void)state;
  const int before = dup(0);
  close(before);
  for (size_t i = 0; i < COUNT(rows); i++) {
    struct sl_link link;
    char text[100];
    read_beneath(rows[i].folder, rows[i].path, text, sizeof text, &link);
  }
  const int after = dup(0);
  close(after);
  assert_int_equal(after, before);
}

/* Exchanges two names for ever. */
static _Noreturn void swap(const char *a, const char *b) {
  for (;;) renameat2(AT_FDCWD, a, AT_FDCWD, b, RENAME_EXCHANGE);
}

/* A folder and a link out take turns under one name, and so do a file and a link: what is outside is never read. */
static void swapped_while_walked(void **state) {
  (void)state;
  enum { TRIES = 20000 };
  int read[2] = { 0, 0 }, refused[2] = { 0, 0 };
  assert_int_equal(symlink("../out", "in/turn"), 0);
  assert_int_equal(mkdir("in/other", 0777), 0);
  put_file("in/other/secret", "ours");
  for (int k = 0; k < 2; k++) {
    const pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
      if (k == 0) swap("in/turn", "in/other");
      swap("in/file", "in/secret");
    }
    for (int i = 0; i < TRIES; i++) {
      struct sl_link link;
      char text[100] = "";
      const int error = read_beneath("in", k == 0 ? "turn/secret" : "secret", text, sizeof text, &link);
      if (error == 0) read[k]++;
      else refused[k]++;
      if (strcmp(text, "SECRET") == 0) {
        kill(child, SIGKILL);
        fail_msg("after %d turns what is outside was read", i);
      }
    }
    kill(child, SIGKILL);
    waitpid(child, NULL, 0);
    assert_true(read[k] > 0 && refused[k] > 0);            /* both were met */
  }
}

#define FRESH(f) { #f, f, make_work, drop_work, NULL }

int main(void) {
  static const struct CMUnitTest single[] = {
    FRESH(absolute_within), FRESH(too_long), FRESH(all_is_closed), FRESH(swapped_while_walked),
  };
  static struct CMUnitTest tests[COUNT(single) + COUNT(rows)];
  size_t n = 0;
  for (; n < COUNT(single); n++) tests[n] = single[n];
  for (size_t i = 0; i < COUNT(rows); i++)
    tests[n++] = (struct CMUnitTest){ rows[i].name, opens, make_work, drop_work, (void *)(uintptr_t)&rows[i] };
  return cmocka_run_group_tests_name("beneath", tests, NULL, NULL);
}
