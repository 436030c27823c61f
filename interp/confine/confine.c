/* SPDX-License-Identifier: MIT
 * The steps that confine a child process, each looked at again after it is taken: a kernel, a container or another
 * filter may refuse one, and some say yes and do nothing. */
#define _DEFAULT_SOURCE        /* syscall, RLIMIT_NPROC */
#include "confine/confine.h"
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdbool.h>
#include <stdint.h>
#include <string.h>
#include <unistd.h>
#include <linux/capability.h>
#include <sys/personality.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/syscall.h>
#include "confine/calls.h"
#include "confine/fence.h"
#include "host/sanitizer.h"
#include "host/text.h"

#ifndef SYS_close_range
#define SYS_close_range 436    /* on every machine */
#endif

struct frame { const struct sl_child_limits *limits; pid_t parent; };

static bool follow_parent(const struct frame *f) {
  int signal = 0;
  return prctl(PR_SET_PDEATHSIG, SIGKILL) == 0 && prctl(PR_GET_PDEATHSIG, &signal) == 0 && signal == SIGKILL &&
         getppid() == f->parent;
}

/* What the parent catches ends the child; what it ignores is ignored, unless it is what a limit ends it with. */
static bool settle_signals(const struct frame *f) {
  static const int ends[] = { SIGXCPU, SIGXFSZ, SIGSEGV, SIGBUS, SIGILL, SIGFPE, SIGABRT, SIGSYS };
  struct sigaction usual = { .sa_handler = SIG_DFL }, ignored = { .sa_handler = SIG_IGN }, now;
  sigset_t none;
  (void)f;
  for (int s = 1; s < NSIG; s++)
    if (sigaction(s, NULL, &now) == 0 && now.sa_handler != SIG_IGN && now.sa_handler != SIG_DFL &&
        sigaction(s, &usual, NULL) != 0) return false;
  for (size_t i = 0; i < sizeof ends / sizeof *ends; i++)
    if (sigaction(ends[i], &usual, NULL) != 0) return false;
  return sigaction(SIGPIPE, &ignored, NULL) == 0 &&        /* a write that fails is told by its caller */
         sigemptyset(&none) == 0 && sigprocmask(SIG_SETMASK, &none, NULL) == 0;
}

/* Whoever opened them. */
static bool close_others(const struct frame *f) {
  (void)f;
  return dup2(SL_SAID, SL_SAID + 1) >= 0 && syscall(SYS_close_range, SL_SAID + 1U, ~0U, 0U) == 0 &&
         fcntl(SL_SAID + 1, F_GETFD) < 0;
}

/* No core goes to a program that collects them, which RLIMIT_CORE does not stop. */
static bool hide(const struct frame *f) {
  (void)f;
  return prctl(PR_SET_DUMPABLE, 0, 0, 0, 0) == 0 && prctl(PR_GET_DUMPABLE, 0, 0, 0, 0) == 0;
}

static bool renounce(const struct frame *f) {
  (void)f;
  return prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0) == 0 && prctl(PR_GET_NO_NEW_PRIVS, 0, 0, 0, 0) == 1;
}

/* Of what root may do only to read any file is kept, which the fence then holds: with CAP_PERFMON it would read the
 * memory of others.  Whoever is not root has none of that. */
static bool be_nobody(const struct frame *f) {
  struct __user_cap_header_struct head = { .version = _LINUX_CAPABILITY_VERSION_3 };
  struct __user_cap_data_struct now[_LINUX_CAPABILITY_U32S_3];
  (void)f;
  if (syscall(SYS_capget, &head, now) != 0) return false;
  for (int i = 0; i < _LINUX_CAPABILITY_U32S_3; i++) {
    const uint32_t kept = now[i].permitted & (i == 0 ? 1u << CAP_DAC_READ_SEARCH : 0);
    now[i] = (struct __user_cap_data_struct){ .effective = kept, .permitted = kept };
  }
  if (syscall(SYS_capset, &head, now) != 0) return false;
  memset(now, 0xff, sizeof now);                         /* so that what is not told is not taken for given up */
  if (syscall(SYS_capget, &head, now) != 0) return false;
  return (now[0].permitted & ~(1u << CAP_DAC_READ_SEARCH)) == 0 && now[1].permitted == 0;
}

static bool limit(int resource, rlim_t soft, rlim_t hard) {
  struct rlimit now = { 1, 0 };                          /* which no limit is: so it is seen where nothing is told */
  if (getrlimit(resource, &now) != 0) return false;
  if (now.rlim_max != RLIM_INFINITY && hard > now.rlim_max) hard = now.rlim_max;      /* never looser than we were */
  if (now.rlim_cur != RLIM_INFINITY && soft > now.rlim_cur) soft = now.rlim_cur;
  if (soft > hard) soft = hard;
  return setrlimit(resource, &(struct rlimit){ soft, hard }) == 0 && getrlimit(resource, &now) == 0 &&
         now.rlim_cur == soft && now.rlim_max == hard;
}

static bool limit_time(const struct frame *f) {
  return limit(RLIMIT_CPU, f->limits->cpu_seconds, (rlim_t)f->limits->cpu_seconds + 1);
}
static bool limit_files(const struct frame *f) { (void)f; return limit(RLIMIT_FSIZE, 0, 0); }
static bool limit_cores(const struct frame *f) { (void)f; return limit(RLIMIT_CORE, 0, 0); }
static bool limit_processes(const struct frame *f) { (void)f; return limit(RLIMIT_NPROC, 0, 0); }
static bool limit_memory(const struct frame *f) {
  return SL_ADDRESS_SANITIZER || limit(RLIMIT_AS, f->limits->memory, f->limits->memory);
}

/* `setarch -X` makes all memory run that is read, and so what is written. */
static bool run_no_data(const struct frame *f) {
  (void)f;
  const int now = personality(0xffffffff);
  if (now < 0 || !(now & READ_IMPLIES_EXEC)) return now >= 0;
  errno = ENOTSUP;
  return false;
}

static bool fence_files(const struct frame *f) { return sl_fence(f->limits->files, f->limits->folders); }

/* No rule gives the right to write, whatever it is to. */
static bool is_fenced(const struct frame *f) {
  (void)f;
  const int fd = open("/dev/null", O_WRONLY | O_CLOEXEC);
  const bool refused = fd < 0 && errno == EACCES;
  if (fd >= 0) close(fd);
  return refused;
}

static bool know_machine(const struct frame *f) {
  (void)f;
  if (sl_calls_known(sl_calls_machine())) return true;
  errno = ENOTSUP;
  return false;
}

static bool filter_calls(const struct frame *f) {
  (void)f;
  errno = sl_calls_filter(sl_calls_machine());
  return errno == 0;
}

/* A call that is harmless and not on the list. */
static bool is_filtered(const struct frame *f) {
  (void)f;
  return syscall(SYS_getppid) == -1 && errno == EPERM;
}

static const struct { bool (*take)(const struct frame *); const char *fails; } steps[] = {
  { follow_parent, "it would outlive the program (PR_SET_PDEATHSIG)" },
  { settle_signals, "signals cannot be set (sigaction)" },
  { close_others, "what is open cannot be closed (close_range, since Linux 5.9)" },
  { hide, "its memory cannot be hidden (PR_SET_DUMPABLE)" },
  { renounce, "it cannot give up new rights (PR_SET_NO_NEW_PRIVS)" },
  { be_nobody, "it cannot give up the rights of root (capset)" },
  { limit_time, "processor time cannot be limited (RLIMIT_CPU)" },
  { limit_files, "writing to files cannot be limited (RLIMIT_FSIZE)" },
  { limit_cores, "core files cannot be limited (RLIMIT_CORE)" },
  { limit_processes, "processes cannot be limited (RLIMIT_NPROC)" },
  { limit_memory, "memory cannot be limited (RLIMIT_AS)" },
  { run_no_data, "memory that is read may be run, too (READ_IMPLIES_EXEC)" },
  { fence_files, "the fence around files is refused (Landlock, since Linux 5.13)" },
  { is_fenced, "the fence around files lets everything through (Landlock)" },
  { know_machine, "the filter of system calls does not know this kind of processor (seccomp)" },
  { filter_calls, "the filter of system calls is refused (seccomp)" },
  { is_filtered, "the filter of system calls lets everything through (seccomp)" },
};
enum { STEPS = sizeof steps / sizeof *steps };

struct sl_confined sl_confine(const struct sl_child_limits *limits, pid_t parent) {
  const struct frame f = { limits, parent };
  for (int i = 0; i < STEPS; i++) {
    errno = 0;
    if (!steps[i].take(&f)) return (struct sl_confined){ i, errno };
  }
  return (struct sl_confined){ -1, 0 };
}

void sl_confine_say(struct sl_confined confined, char *why, size_t size) {
  const char *fails = confined.step >= 0 && confined.step < STEPS ? steps[confined.step].fails : "its start failed";
  if (confined.error) sl_say(why, size, "%s: %s, errno %d", fails, strerror(confined.error), confined.error);
  else sl_say(why, size, "%s: the kernel said yes, and did nothing", fails);
}
