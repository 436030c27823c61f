/* SPDX-License-Identifier: MIT
 * Tests in processes of their own, which may be filtered, confined and killed. */
#ifndef SL_TEST_APART_H
#define SL_TEST_APART_H

#include "check.h"
#include <unistd.h>
#include <sys/wait.h>
#include "confine/child.h"

/* What the last of them wrote to standard output and error. */
static char said[2][200000];

static void read_back(FILE *file, char text[200000]) {
  rewind(file);
  const size_t n = fread(text, 1, 200000 - 1, file);
  text[n] = '\0';
  fclose(file);
}

/* Runs f(arg) in a process of its own; its exit status, 128 + n where signal n ended it; `said` has what it wrote. */
static int apart(void (*f)(const void *), const void *arg) {
  int status;
  FILE *to[2] = { tmpfile(), tmpfile() };
  assert_true(to[0] && to[1]);
  fflush(NULL);
  const pid_t process = fork();
  assert_true(process >= 0);
  if (process == 0) {
    dup2(fileno(to[0]), 1);
    dup2(fileno(to[1]), 2);
    f(arg);
    _exit(99);
  }
  assert_int_equal(waitpid(process, &status, 0), process);
  for (int i = 0; i < 2; i++) read_back(to[i], said[i]);
  return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

/* What run_body runs in a confined child; `why` goes to standard output, UNCONFINED is told by its own status. */
enum { UNCONFINED = 77 };
static int (*body)(void *);
static const struct sl_child_limits *limits;
static void run_body(const void *arg) {
  const struct sl_child_end end = sl_child_run(body, (void *)(uintptr_t)arg, limits);
  fputs(end.why, stdout);
  fflush(stdout);
  _exit(end.how == SL_CHILD_UNCONFINED ? UNCONFINED : end.status);
}
#endif
