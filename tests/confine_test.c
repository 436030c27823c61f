/* SPDX-License-Identifier: MIT
 * That nothing is run where a step of confining a process is refused: by the function and by the command.  A refusal is
 * played by a filter around both.  The expected outcomes are the kernel's manual pages' (seccomp(2), prctl(2),
 * setrlimit(2), landlock(7)). */
#define _GNU_SOURCE            /* RLIMIT_NPROC, posix_openpt */
#include "apart.h"
#include <errno.h>
#include <fcntl.h>
#include <seccomp.h>
#include <signal.h>
#include <stdbool.h>
#include <stdlib.h>
#include <linux/prctl.h>
#include <sys/mman.h>
#include <sys/personality.h>
#include <sys/resource.h>
#include "host/sanitizer.h"

static char command[4096];     /* the command, of the same build */

/* ---- where it cannot be confined --------------------------------------------------------------------------------- */

/* What the kernel around us says to some calls, all of them or those with such arguments.  errno 0: it says yes, and
 * does nothing. */
struct rule { int call; unsigned tests; struct scmp_arg_cmp test[2]; };
static const struct refusal {
  const char *name, *says;
  int error;
  unsigned rules;
  struct rule rule[3];
  bool own;                    /* the address sanitizer needs it itself where a program starts or ends */
} refusals[] = {
#define ALL(name) { .call = SCMP_SYS(name) }
#define WITH(name, number, value) { SCMP_SYS(name), 1, { { number, SCMP_CMP_EQ, value, 0 } } }
#define WITH_PRCTL(option) WITH(prctl, 0, option)
#define PRCTL(name, option, error) { name, "(" #option ")", error, 1, { WITH_PRCTL(option) }, false }
#define LIMIT(name, which, error, own) { name, "(" #which ")", error, 1, \
    { { SCMP_SYS(prlimit64), 2, { { 1, SCMP_CMP_EQ, which, 0 }, { 2, SCMP_CMP_NE, 0, 0 } } } }, own }
#define FENCE(name, call, error) { name, "(Landlock", error, 1, { ALL(landlock_##call) }, false }
#define FILTER(name, error) { name, "(seccomp)", error, 2, { ALL(seccomp), WITH_PRCTL(PR_SET_SECCOMP) }, false }
  PRCTL("its end with its parent", PR_SET_PDEATHSIG, EINVAL),
  PRCTL("its end with its parent, no more than said", PR_SET_PDEATHSIG, 0),
  { "signals", "(sigaction)", EINVAL, 1, { WITH(rt_sigaction, 0, SIGXCPU) }, false },
  { "what is open", "(close_range", EPERM, 1, { ALL(close_range) }, false },
  { "what is open, before Linux 5.9", "(close_range", ENOSYS, 1, { ALL(close_range) }, false },
  { "what is open, no more than said", "(close_range", 0, 1, { ALL(close_range) }, false },
  PRCTL("hidden memory", PR_SET_DUMPABLE, EPERM),
  PRCTL("new rights", PR_SET_NO_NEW_PRIVS, EPERM),
  PRCTL("new rights, unknown", PR_SET_NO_NEW_PRIVS, EINVAL),
  { "the rights of root", "(capset)", EPERM, 1, { ALL(capset) }, false },
  { "the rights of root, no more than said", "(capset)", 0, 2, { ALL(capset), ALL(capget) }, false },
  { "all limits, no more than said", "(RLIMIT_CPU)", 0, 1, { ALL(prlimit64) }, true },
  LIMIT("processor time", RLIMIT_CPU, EPERM, false),
  LIMIT("processor time, no more than said", RLIMIT_CPU, 0, false),
  LIMIT("files", RLIMIT_FSIZE, EPERM, false),
  LIMIT("core files", RLIMIT_CORE, EPERM, true),
  LIMIT("processes", RLIMIT_NPROC, EPERM, false),
#if !SL_ADDRESS_SANITIZER
  LIMIT("memory", RLIMIT_AS, EPERM, false),
#endif
  FENCE("the fence, before Linux 5.13", create_ruleset, ENOSYS),
  FENCE("the fence, switched off", create_ruleset, EOPNOTSUPP),
  FENCE("the fence, without gates", add_rule, EINVAL),
  FENCE("the fence, one too many", restrict_self, E2BIG),
  FENCE("the fence, no more than said", restrict_self, 0),
  FILTER("the filter", EPERM),
  FILTER("the filter, unknown", EINVAL),
  FILTER("the filter, before Linux 3.17", ENOSYS),
  { "the filter, no more than said", "(seccomp)", 0, 1, { WITH(seccomp, 0, 1) }, false },
  { "a process", "no process can be started", EAGAIN, 3, { ALL(clone), ALL(clone3), ALL(fork) }, true },
};
enum { REFUSALS = sizeof refusals / sizeof *refusals };

static void surround(const struct refusal *r) {
  scmp_filter_ctx filter = seccomp_init(SCMP_ACT_ALLOW);
  bool good = filter != NULL;
  for (unsigned i = 0; i < r->rules && good; i++)
    good = seccomp_rule_add_array(filter, SCMP_ACT_ERRNO((unsigned)r->error), r->rule[i].call, r->rule[i].tests,
                                  r->rule[i].test) == 0;
  if (!good || seccomp_load(filter) != 0) _exit(98);
  seccomp_release(filter);
}

/* Told in memory that both have, so that it is seen though nobody passes on what is written. */
static volatile int *ran;
static int say_it_ran(void *arg) {
  (void)arg;
  *ran = 1;
  return 0;
}

static void run_surrounded(const void *arg) {
  surround(arg);
  body = say_it_ran;
  run_body(NULL);
}

static void says_why(const char *text, const struct refusal *r) {
  char number[32];
  snprintf(number, sizeof number, ", errno %d", r->error);
  assert_non_null(strstr(text, r->says));
  assert_non_null(strstr(text, r->error ? number : "the kernel said yes, and did nothing"));
}

static void nothing_is_run(void **state) {
  const struct refusal *r = *state;
  *ran = 0;
  assert_int_equal(apart(run_surrounded, r), UNCONFINED);
  assert_int_equal(*ran, 0);
  says_why(said[0], r);
}

static void run_old_fashioned(const void *arg) {
  (void)arg;
  personality(READ_IMPLIES_EXEC);
  body = say_it_ran;
  run_body(NULL);
}

static void memory_that_runs_is_refused(void **state) {
  (void)state;
  *ran = 0;
  assert_int_equal(apart(run_old_fashioned, NULL), UNCONFINED);
  assert_int_equal(*ran, 0);
  assert_non_null(strstr(said[0], "(READ_IMPLIES_EXEC)"));
}

static void run_command(const void *arg) {
  if (arg) surround(arg);
  execl(command, "stringline", "check", "--untrusted", "examples/egg-farm/job.sline", (char *)NULL);
  _exit(97);
}

static void the_command_says_so(void **state) {
  const struct refusal *r = *state;
  if (SL_ADDRESS_SANITIZER && r->own) skip();
  assert_int_equal(apart(run_command, r), 3);
  assert_string_equal(said[0], "");
  assert_int_equal(strncmp(said[1], "stringline: error: examples/egg-farm/job.sline was not run", 58), 0);
  assert_non_null(strstr(said[1], "[S004]"));
  assert_non_null(strstr(said[1], "help: run it in a container"));
  says_why(said[1], r);
}

static void killed(const void *arg) {
  (void)arg;
  scmp_filter_ctx filter = seccomp_init(SCMP_ACT_ALLOW);
  if (!filter || seccomp_rule_add(filter, SCMP_ACT_KILL_PROCESS, SCMP_SYS(close_range), 0) || seccomp_load(filter))
    _exit(98);
  body = say_it_ran;
  run_body(NULL);
}
static void a_step_that_kills_is_told(void **state) {
  (void)state;
  *ran = 0;
  assert_int_equal(apart(killed, NULL), UNCONFINED);
  assert_non_null(strstr(said[0], "it was killed by signal 31 ("));
  assert_non_null(strstr(said[0], ") before it was confined"));
  assert_int_equal(*ran, 0);
}

/* ---- the command, confined --------------------------------------------------------------------------------------- */

static void it_judges_as_ever(void **state) {
  (void)state;
  assert_int_equal(apart(run_command, NULL), 0);
  assert_non_null(strstr(said[0], "rules hold"));
  assert_string_equal(said[1], "");
}

static void run_unheard(const void *arg) {
  signal(SIGCHLD, SIG_IGN);
  run_command(arg);
}

static void a_caller_may_ignore_its_children(void **state) {
  (void)state;
  assert_int_equal(apart(run_unheard, NULL), 0);
  assert_non_null(strstr(said[0], "rules hold"));
  assert_string_equal(said[1], "");
}

/* Nothing can take the place of a stream that is closed. */
static void run_without_input(const void *arg) {
  static const struct refusal opening = { .error = ENOENT, .rules = 1, .rule = { WITH(openat, 2, O_WRONLY) } };
  close(0);
  surround(&opening);
  run_command(arg);
}

static void a_stream_without_a_place_is_told(void **state) {
  (void)state;
  assert_int_equal(apart(run_without_input, NULL), 3);
  assert_string_equal(said[0], "");
  assert_non_null(strstr(said[1], "one of its standard streams is closed, and /dev/null cannot take its place"));
}

/* What comes back of a run on a terminal. */
static size_t on_terminal(const char *option, char *text, size_t size) {
  const int master = posix_openpt(O_RDWR | O_NOCTTY);
  assert_true(master >= 0 && grantpt(master) == 0 && unlockpt(master) == 0);
  const int slave = open(ptsname(master), O_RDWR | O_NOCTTY);
  assert_true(slave >= 0);
  const pid_t process = fork();
  assert_true(process >= 0);
  if (process == 0) {
    dup2(slave, 1);
    dup2(slave, 2);
    close(master);
    setenv("TERM", "xterm", 1);
    unsetenv("NO_COLOR");
    execl(command, "stringline", "check", "examples/egg-farm/job.sline", option, (char *)NULL);
    _exit(97);
  }
  close(slave);
  size_t n = 0;
  for (ssize_t got; n < size - 1 && (got = read(master, text + n, size - 1 - n)) > 0;) n += (size_t)got;
  text[n] = '\0';
  close(master);
  int status;
  assert_int_equal(waitpid(process, &status, 0), process);
  assert_true(WIFEXITED(status) && WEXITSTATUS(status) == 0);
  return n;
}

static void no_colour_comes_of_it(void **state) {
  (void)state;
  static char text[200000];
  assert_true(on_terminal(NULL, text, sizeof text) > 100);
  assert_non_null(strchr(text, '\033'));
  assert_true(on_terminal("--untrusted", text, sizeof text) > 100);
  assert_null(strchr(text, '\033'));
  assert_null(strstr(text, "\\x1B"));                     /* nor one that was strained */
}

/* ---- all --------------------------------------------------------------------------------------------------------- */

static int share_memory(void **state) {
  static const struct sl_child_limits with_a_gate = { .folders = "examples" };
  (void)state;
  limits = &with_a_gate;
  ran = mmap(NULL, sizeof *ran, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
  return ran == MAP_FAILED;
}

int main(int argc, char **argv) {
  const char *slash = argc ? strrchr(argv[0], '/') : NULL;
  snprintf(command, sizeof command, "%.*s/../stringline", slash ? (int)(slash - argv[0]) : 1, slash ? argv[0] : ".");
  static struct CMUnitTest tests[2 * REFUSALS + 16];
  static char names[REFUSALS][96];
  size_t n = 0;
#define TEST(f) tests[n++] = (struct CMUnitTest){ #f, f, NULL, NULL, NULL }
  for (size_t i = 0; i < REFUSALS; i++) {
    void *r = (void *)(uintptr_t)&refusals[i];
    snprintf(names[i], sizeof names[i], "the command, refused: %s", refusals[i].name);
    tests[n++] = (struct CMUnitTest){ refusals[i].name, nothing_is_run, NULL, NULL, r };
    tests[n++] = (struct CMUnitTest){ names[i], the_command_says_so, NULL, NULL, r };
  }
  TEST(memory_that_runs_is_refused);
  TEST(a_step_that_kills_is_told);
  TEST(it_judges_as_ever);
  TEST(a_caller_may_ignore_its_children);
  TEST(a_stream_without_a_place_is_told);
  TEST(no_colour_comes_of_it);
  return _cmocka_run_group_tests("confine", tests, n, share_memory, NULL);
}
