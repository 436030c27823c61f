/* SPDX-License-Identifier: MIT
 * What a run read, kept where a child writes to it that may be taken over. */
#include "check.h"
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include "host/reads.h"

static char out[] = "/tmp/stringline-reads-XXXXXX";
static struct stat is;

static int make_out(void **state) {
  (void)state;
  const int fd = mkstemp(out);
  const int failed = fd < 0 || fstat(fd, &is) != 0;
  if (fd >= 0) close(fd);
  return failed;
}
static int drop_out(void **state) {
  (void)state;
  return unlink(out);
}

/* What is shared: memory that is written to by both, from the system's own list. */
static void fill_shared(int byte) {
  char line[512];
  FILE *maps = fopen("/proc/self/maps", "r");
  if (!maps) _exit(2);
  int found = 0;
  while (fgets(line, sizeof line, maps)) {
    unsigned long from, to;
    char how[8];
    if (sscanf(line, "%lx-%lx %7s", &from, &to, how) != 3 || strcmp(how, "rw-s") != 0) continue;
    if (!strstr(line, "/dev/zero")) continue;                       /* as the kernel calls memory without a file */
    memset((void *)from, byte, to - from);
    found++;
  }
  fclose(maps);
  if (!found) _exit(3);
}

static void a_child_tells_what_it_read(void **state) {
  (void)state;
  char path[512];
  struct sl_reads *reads = sl_reads_new(out);
  assert_non_null(reads);
  assert_false(sl_reads_destroyed(reads, path, sizeof path));
  const pid_t child = fork();
  assert_true(child >= 0);
  if (child == 0) _exit(sl_reads_note(reads, "job/a", &is));
  int status;
  assert_int_equal(waitpid(child, &status, 0), child);
  assert_true(WIFEXITED(status) && WEXITSTATUS(status) == 0);
  assert_true(sl_reads_destroyed(reads, path, sizeof path));
  assert_string_equal(path, "job/a");
  sl_reads_free(reads);
}

/* Whatever stands there: the output is the one that was named, and nothing is read behind it. */
static void a_child_that_scribbles_changes_nothing_else(void **state) {
  (void)state;
  static const int bytes[] = { 0, 1, 0x41, 0x7f, 0x80, 0xff };
  for (size_t i = 0; i < sizeof bytes / sizeof *bytes; i++) {
    char path[512] = "";
    struct sl_reads *reads = sl_reads_new(out);
    assert_non_null(reads);
    const pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
      fill_shared(bytes[i]);
      _exit(0);
    }
    int status;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFEXITED(status) && WEXITSTATUS(status) == 0);
    assert_false(sl_reads_destroyed(reads, path, sizeof path));
    assert_string_equal(sl_reads_output(reads), out);
    (void)sl_reads_note(reads, "job/a", &is);
    assert_string_equal(sl_reads_output(reads), out);
    sl_reads_free(reads);
  }
}

int main(void) {
  static const struct CMUnitTest tests[] = {
    cmocka_unit_test(a_child_tells_what_it_read), cmocka_unit_test(a_child_that_scribbles_changes_nothing_else),
  };
  return cmocka_run_group_tests_name("reads", tests, make_out, drop_out);
}
