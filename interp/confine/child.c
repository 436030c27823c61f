/* SPDX-License-Identifier: MIT
 * The child process of --untrusted, as its parent sees it: started, heard, judged. */
#include "confine/child.h"
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include "confine/confine.h"
#include "confine/passing.h"
#include "host/exit.h"
#include "host/text.h"

enum { OUT, ERR, SAID, PIPES };
struct pipes { int read[PIPES], write[PIPES]; };

/* ---- the child --------------------------------------------------------------------------------------------------- */

static bool take_descriptors(const struct pipes *p) {
  const int null = open("/dev/null", O_RDONLY);
  return null >= 0 && dup2(null, STDIN_FILENO) >= 0 && dup2(p->write[OUT], STDOUT_FILENO) >= 0 &&
         dup2(p->write[ERR], STDERR_FILENO) >= 0 && dup2(p->write[SAID], SL_SAID) >= 0;
}

static _Noreturn void be_child(int (*body)(void *), void *arg, const struct sl_child_limits *limits, pid_t parent,
                               const struct pipes *p) {
  const bool begun = take_descriptors(p);
  const struct sl_confined confined = begun ? sl_confine(limits, parent) : (struct sl_confined){ -2, errno };
  const bool heard = write(begun ? SL_SAID : p->write[SAID], &confined, sizeof confined) == sizeof confined;
  if (confined.step != -1 || !heard) _exit(SL_RESOURCE);
  close(SL_SAID);
  int status = body(arg);
  if (fflush(stdout) != 0 || fflush(stderr) != 0) status = SL_RESOURCE;
  _exit(status & 0xff);
}

/* ---- pipes ------------------------------------------------------------------------------------------------------- */

/* Whose ends are neither of 0, 1, 2, which the child is going to replace. */
static bool make_pipe(struct pipes *p, int which) {
  int raw[2];
  if (pipe(raw) != 0) return false;
  p->read[which] = fcntl(raw[0], F_DUPFD_CLOEXEC, STDERR_FILENO + 1);
  p->write[which] = fcntl(raw[1], F_DUPFD_CLOEXEC, STDERR_FILENO + 1);
  close(raw[0]);
  close(raw[1]);
  return p->read[which] >= 0 && p->write[which] >= 0;
}

static void close_ends(int ends[PIPES]) {
  for (int i = 0; i < PIPES; i++) {
    if (ends[i] >= 0) close(ends[i]);
    ends[i] = -1;
  }
}

/* ---- the parent -------------------------------------------------------------------------------------------------- */

/* Waits for the child to be confined; it says so itself, and one that says nothing is not. */
static bool is_confined(int said, struct sl_child_end *end) {
  struct sl_confined confined;
  ssize_t n;
  do n = read(said, &confined, sizeof confined);
  while (n < 0 && errno == EINTR);
  if (n == sizeof confined && confined.step == -1) return true;
  end->how = SL_CHILD_UNCONFINED;
  if (n == sizeof confined) sl_confine_say(confined, end->why, sizeof end->why);
  return false;
}

static void judge(int status, const struct sl_child_limits *limits, struct sl_child_end *end) {
  char *why = end->why;
  const size_t size = *why ? 0 : sizeof end->why;          /* the first reason is the reason */
  if (WIFEXITED(status)) {
    if (end->how == SL_CHILD_UNCONFINED) sl_say(why, size, "it ended before it said that it is confined");
    else if (!*why) *end = (struct sl_child_end){ .how = SL_CHILD_RAN, .status = WEXITSTATUS(status) };
    return;
  }
  const int number = WTERMSIG(status);
  if (end->how == SL_CHILD_UNCONFINED)
    sl_say(why, size, "it was killed by signal %d (%s) before it was confined", number, strsignal(number));
  else if (number == SIGXCPU) sl_say(why, size, "stopped after %u s of processor time", limits->cpu_seconds);
  else if (number == SIGXFSZ) sl_say(why, size, "stopped when it wrote to a file");
  else sl_say(why, size, "killed by signal %d (%s)", number, strsignal(number));
}

static void look_after(pid_t child, const struct pipes *p, const struct sl_child_limits *limits,
                       struct sl_child_end *end) {
  int status;
  if (!is_confined(p->read[SAID], end) ||
      !sl_pass_output(p->read[OUT], p->read[ERR], limits, end->why, sizeof end->why)) kill(child, SIGKILL);
  while (waitpid(child, &status, 0) < 0)
    if (errno != EINTR) {
      if (!*end->why) sl_say(end->why, sizeof end->why, "cannot wait for the child process: %s", strerror(errno));
      return;
    }
  judge(status, limits, end);
}

/* What its caller allows goes first.  The hard limit ends a process without a reason, so the soft one stays below. */
static unsigned seconds_allowed(unsigned wanted) {
  struct rlimit now;
  if (getrlimit(RLIMIT_CPU, &now) != 0) return wanted;
  rlim_t most = wanted;
  if (now.rlim_max != RLIM_INFINITY && most >= now.rlim_max) most = now.rlim_max ? now.rlim_max - 1 : 0;
  if (now.rlim_cur != RLIM_INFINITY && most > now.rlim_cur) most = now.rlim_cur;
  return most > 0 ? (unsigned)most : 1;                  /* as the kernel takes a limit of 0 */
}

static struct sl_child_limits with_defaults(const struct sl_child_limits *given) {
  struct sl_child_limits l = given ? *given : (struct sl_child_limits){ .cpu_seconds = 0 };
  l.cpu_seconds = seconds_allowed(l.cpu_seconds ? l.cpu_seconds : 60);
  if (!l.memory) l.memory = (size_t)1 << 30;
  if (!l.output) l.output = (size_t)64 << 20;
  return l;
}

struct sl_child_end sl_child_run(int (*body)(void *), void *arg, const struct sl_child_limits *given) {
  const struct sl_child_limits limits = with_defaults(given);
  struct sl_child_end end = { .how = SL_CHILD_STOPPED, .status = SL_RESOURCE };
  struct pipes p = { { -1, -1, -1 }, { -1, -1, -1 } };
  fflush(stdout);                                        /* or the child would write it again */
  fflush(stderr);
  struct sigaction ignore = { .sa_handler = SIG_IGN }, before;
  sigaction(SIGPIPE, &ignore, &before);
  const pid_t parent = getpid();
  pid_t child = -1;
  if (make_pipe(&p, OUT) && make_pipe(&p, ERR) && make_pipe(&p, SAID)) child = fork();
  if (child == 0) be_child(body, arg, &limits, parent, &p);
  if (child < 0) {
    end.how = SL_CHILD_UNCONFINED;
    sl_say(end.why, sizeof end.why, "no process can be started for it: %s, errno %d", strerror(errno), errno);
  }
  close_ends(p.write);
  if (child > 0) look_after(child, &p, &limits, &end);
  close_ends(p.read);
  sigaction(SIGPIPE, &before, NULL);
  return end;
}
