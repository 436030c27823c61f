/* SPDX-License-Identifier: MIT
 * The confined child: what comes back of it and what ends it; tests/confine_test.c has what it cannot do.  The expected
 * outcomes are the kernel's manual pages' (setrlimit(2), signal(7)). */
#include "check.h"
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <unistd.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include "confine/child.h"
#include "host/sanitizer.h"

static char why[256];
static char path[64];
static const char *const files[] = { path, NULL };
static const struct sl_child_limits small = { .cpu_seconds = 1, .memory = (size_t)64 << 20, .output = 100000,
                                              .files = files };

static int status_of(const struct sl_child_end *end) {
  snprintf(why, sizeof why, "%s", end->why);
  assert_int_equal(end->how == SL_CHILD_RAN, *why == '\0');
  if (end->how != SL_CHILD_RAN) assert_int_equal(end->status, 3);
  assert_int_not_equal(end->how, SL_CHILD_UNCONFINED);
  return end->status;
}

/* Standard output and error of what runs in between, in files without a name. */
struct captured { int saved[2]; FILE *file[2]; char text[2][300000]; size_t size[2]; };
static struct captured got;

static void capture(void) {
  for (int i = 0; i < 2; i++) {
    fflush(i == 0 ? stdout : stderr);
    got.saved[i] = dup(i + 1);
    got.file[i] = tmpfile();
    assert_true(got.saved[i] >= 0 && got.file[i]);
    assert_int_equal(dup2(fileno(got.file[i]), i + 1), i + 1);
  }
}

static void release(void) {
  for (int i = 0; i < 2; i++) {
    fflush(i == 0 ? stdout : stderr);
    dup2(got.saved[i], i + 1);
    close(got.saved[i]);
    rewind(got.file[i]);
    got.size[i] = fread(got.text[i], 1, sizeof got.text[i] - 1, got.file[i]);
    got.text[i][got.size[i]] = '\0';
    fclose(got.file[i]);
  }
}

static int run_child(int (*body)(void *), void *arg) {
  capture();
  const struct sl_child_end end = sl_child_run(body, arg, &small);
  release();
  return status_of(&end);
}

static void no_child_is_left(void) {
  errno = 0;
  assert_int_equal(waitpid(-1, NULL, WNOHANG), -1);
  assert_int_equal(errno, ECHILD);
}

/* ---- results and output ------------------------------------------------------------------------------------------ */

static int give(void *arg) { return *(int *)arg; }

static void status_comes_back(void **state) {
  (void)state;
  for (int i = 0; i <= 255; i += 51) {
    assert_int_equal(run_child(give, &i), i);
    assert_string_equal(why, "");
  }
  no_child_is_left();
}

static int speak(void *arg) {
  printf("out %s\n", (const char *)arg);
  fprintf(stderr, "err %s\n", (const char *)arg);
  return 1;
}

static void output_comes_back(void **state) {
  (void)state;
  capture();
  printf("before\n");                        /* still in our buffer when the child starts: must come once */
  const struct sl_child_end end = sl_child_run(speak, (char[]){ "x" }, NULL);
  release();
  assert_int_equal(status_of(&end), 1);
  assert_string_equal(got.text[0], "before\nout x\n");
  assert_string_equal(got.text[1], "err x\n");
}

static int write_much(void *arg) {
  for (int i = 0; i < *(int *)arg; i++) putchar('x');
  return 0;
}

static void output_is_capped(void **state) {
  (void)state;
  assert_int_equal(run_child(write_much, &(int){ 100000 }), 0);
  assert_int_equal(got.size[0], 100000);
  assert_int_equal(run_child(write_much, &(int){ 100001 }), 3);
  assert_string_equal(why, "wrote more than 100000 bytes");
  assert_int_equal(got.size[0], 100000);
  no_child_is_left();
}

static int write_for_ever(void *arg) {
  (void)arg;
  while (fputs("for ever\n", stderr) != EOF) continue;
  return 0;
}

static void endless_output_is_stopped(void **state) {
  (void)state;
  assert_int_equal(run_child(write_for_ever, NULL), 3);
  assert_string_equal(why, "wrote more than 100000 bytes");
  assert_int_equal(got.size[1], 100001);               /* its last line is ended, so that ours begins in front */
  assert_int_equal(got.text[1][99999], 'f');
  assert_int_equal(got.text[1][100000], '\n');
  no_child_is_left();
}

static void closed_output_is_told(void **state) {
  (void)state;
  int ends[2], saved = dup(1);
  fflush(stdout);
  assert_int_equal(pipe(ends), 0);
  close(ends[0]);
  dup2(ends[1], 1);
  close(ends[1]);
  const struct sl_child_end end = sl_child_run(write_much, &(int){ 5 }, &small);
  dup2(saved, 1);
  close(saved);
  assert_int_equal(status_of(&end), 3);
  assert_non_null(strstr(why, "cannot write to standard output: "));
  assert_non_null(strstr(why, strerror(EPIPE)));
  no_child_is_left();
}

static int shut(void *arg) {
  (void)arg;
  close(1);
  close(2);
  return 7;
}

static void child_may_close_its_output(void **state) {
  (void)state;
  assert_int_equal(run_child(shut, NULL), 7);
}

/* ---- what ends it ------------------------------------------------------------------------------------------------ */

static int spin(void *arg) {
  volatile int on = 1;
  (void)arg;
  while (on) continue;
  return 0;
}

static void time_is_limited(void **state) {
  (void)state;
  assert_int_equal(run_child(spin, NULL), 3);
  assert_string_equal(why, "stopped after 1 s of processor time");
  no_child_is_left();
}

/* Fewer seconds than it is given, since its caller has no more: in a process of its own, which cannot take it back. */
static void time_of_the_caller(rlim_t soft, rlim_t hard, const char *wanted) {
  const struct sl_child_limits more = { .cpu_seconds = 30 };
  int status;
  const pid_t process = fork();
  assert_true(process >= 0);
  if (process == 0) {
    const int set = setrlimit(RLIMIT_CPU, &(struct rlimit){ soft, hard }) == 0;
    const struct sl_child_end end = sl_child_run(spin, NULL, &more);
    fprintf(stderr, "# %s\n", end.why);
    _exit(!set || strcmp(end.why, wanted) != 0);
  }
  assert_int_equal(waitpid(process, &status, 0), process);
  assert_true(WIFEXITED(status) && WEXITSTATUS(status) == 0);
}

static void a_caller_may_have_less_time(void **state) {
  (void)state;
  time_of_the_caller(1, RLIM_INFINITY, "stopped after 1 s of processor time");
  time_of_the_caller(2, 2, "stopped after 1 s of processor time");
}

static int spin_deaf(void *arg) {
  signal(SIGXCPU, SIG_IGN);
  return spin(arg);
}

static void deaf_to_signals_is_no_help(void **state) {
  (void)state;
  assert_int_equal(run_child(spin_deaf, NULL), 3);
  assert_non_null(strstr(why, "killed by signal 9"));
}

static int raise_it(void *arg) {
  raise(*(int *)arg);
  return 0;
}

static void signals_are_told(void **state) {
  (void)state;
  assert_int_equal(run_child(raise_it, &(int){ SIGSEGV }), 3);
  assert_non_null(strstr(why, "killed by signal 11 ("));
  assert_int_equal(run_child(raise_it, &(int){ SIGABRT }), 3);
  assert_non_null(strstr(why, "killed by signal 6 ("));
}

#if !SL_ADDRESS_SANITIZER
/* In steps, so that the address space is used up rather than one request too large. */
static int take_memory(void *arg) {
  static void *volatile kept[128];
  (void)arg;
  for (int i = 0; i < 128; i++)
    if (!(kept[i] = malloc((size_t)1 << 20))) return 10;
  return 0;
}

static void memory_is_limited(void **state) {
  (void)state;
  assert_int_equal(run_child(take_memory, NULL), 10);
}
#endif

/* ---- what it cannot do ------------------------------------------------------------------------------------------- */

static int count_descriptors(void *arg) {
  (void)arg;
  int n = 0;
  for (int fd = 0; fd < 1024; fd++) n += fcntl(fd, F_GETFD) >= 0;
  return n;
}

static void no_descriptor_is_inherited(void **state) {
  (void)state;
  int more[8];
  for (int i = 0; i < 8; i++) more[i] = open("/dev/null", O_RDONLY);
  assert_int_equal(run_child(count_descriptors, NULL), 3);
  assert_string_equal(why, "");
  for (int i = 0; i < 8; i++) close(more[i]);
}

static int read_input(void *arg) { (void)arg; return getchar() == EOF ? 0 : 1; }

static void there_is_no_input(void **state) {
  (void)state;
  int ends[2], saved = dup(0);
  assert_int_equal(pipe(ends), 0);
  assert_int_equal(write(ends[1], "secret", 6), 6);
  dup2(ends[0], 0);
  assert_int_equal(run_child(read_input, NULL), 0);
  dup2(saved, 0);
  close(saved);
  close(ends[0]);
  close(ends[1]);
}

static int write_file(void *arg) {
  FILE *f = fopen(arg, "w");
  if (!f) return errno == EPERM ? 20 : 21;
  fputs("x", f);
  return fclose(f) == 0 ? 22 : 23;
}

static void name_a_file(void) {
  snprintf(path, sizeof path, "/tmp/sl-child-test-XXXXXX");
  int fd = mkstemp(path);
  assert_true(fd >= 0);
  assert_int_equal(write(fd, "kept", 4), 4);
  close(fd);
}

static void check_kept(void) {
  char text[8] = "";
  FILE *f = fopen(path, "r");
  assert_non_null(f);
  assert_non_null(fgets(text, sizeof text, f));
  fclose(f);
  assert_string_equal(text, "kept");
  remove(path);
}

static void files_cannot_be_written(void **state) {
  (void)state;
  name_a_file();
  const int status = run_child(write_file, path);
  check_kept();
  assert_int_equal(status, 20);
}

static int read_file(void *arg) {
  char text[8] = "";
  FILE *f = fopen(arg, "r");
  if (!f || !fgets(text, sizeof text, f)) return 30;
  fclose(f);
  return strcmp(text, "kept") == 0 ? 0 : 31;
}

static void files_can_be_read(void **state) {
  (void)state;
  name_a_file();
  assert_int_equal(run_child(read_file, path), 0);
  check_kept();
}

static int read_limits(void *arg) {
  struct rlimit l;
  (void)arg;
  if (getrlimit(RLIMIT_CORE, &l) != 0 || l.rlim_max != 0) return 41;
  return setrlimit(RLIMIT_CORE, &l) == -1 && errno == EPERM ? 40 : 42;
}

static void limits_cannot_be_raised(void **state) {
  (void)state;
  assert_int_equal(run_child(read_limits, NULL), 40);
}

/* A parent without standard descriptors still keeps its pipes apart from the child's 0, 1 and 2. */
static void parent_may_lack_descriptors(void **state) {
  (void)state;
  int saved = dup(0), status;
  close(0);
  status = run_child(speak, (char[]){ "x" });
  dup2(saved, 0);
  close(saved);
  assert_int_equal(status, 1);
  assert_string_equal(got.text[0], "out x\n");
  assert_string_equal(got.text[1], "err x\n");
}

static void signals_of_the_parent_stay(void **state) {
  (void)state;
  struct sigaction before, after;
  sigaction(SIGPIPE, NULL, &before);
  assert_int_equal(run_child(give, &(int){ 0 }), 0);
  sigaction(SIGPIPE, NULL, &after);
  assert_true(before.sa_handler == after.sa_handler);
}

int main(void) {
  static const struct CMUnitTest tests[] = {
    cmocka_unit_test(status_comes_back), cmocka_unit_test(output_comes_back), cmocka_unit_test(output_is_capped),
    cmocka_unit_test(endless_output_is_stopped), cmocka_unit_test(closed_output_is_told),
    cmocka_unit_test(child_may_close_its_output), cmocka_unit_test(time_is_limited),
    cmocka_unit_test(a_caller_may_have_less_time),
    cmocka_unit_test(deaf_to_signals_is_no_help), cmocka_unit_test(signals_are_told),
#if !SL_ADDRESS_SANITIZER
    cmocka_unit_test(memory_is_limited),
#endif
    cmocka_unit_test(no_descriptor_is_inherited), cmocka_unit_test(there_is_no_input),
    cmocka_unit_test(files_cannot_be_written), cmocka_unit_test(files_can_be_read),
    cmocka_unit_test(limits_cannot_be_raised),
    cmocka_unit_test(parent_may_lack_descriptors), cmocka_unit_test(signals_of_the_parent_stay),
  };
  return cmocka_run_group_tests_name("child", tests, NULL, NULL);
}
