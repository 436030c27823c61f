/* SPDX-License-Identifier: MIT
 * The confined child process of --untrusted. */
#define _DEFAULT_SOURCE        /* syscall() */
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#include <linux/audit.h>
#include <linux/filter.h>
#include <linux/seccomp.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include "box/child.h"

enum { STATUS_LIMIT = 3 };     /* the program's exit status for input, output and resource limits */

/* The address sanitizer maps terabytes, so its builds go without that one limit. */
#if defined(__SANITIZE_ADDRESS__)
#define LIMIT_MEMORY 0
#elif defined(__has_feature)
#if __has_feature(address_sanitizer)
#define LIMIT_MEMORY 0
#endif
#endif
#ifndef LIMIT_MEMORY
#define LIMIT_MEMORY 1
#endif

/* ---- the child: system calls ------------------------------------------------------------------------------------ */

#if defined(__x86_64__)
#define THIS_MACHINE AUDIT_ARCH_X86_64
#elif defined(__aarch64__)
#define THIS_MACHINE AUDIT_ARCH_AARCH64
#endif

#ifdef THIS_MACHINE
/* All that computing, reading files and writing to the pipes need.  Any other call fails as not permitted. */
static const int allowed[] = {
  SYS_read, SYS_readv, SYS_pread64, SYS_write, SYS_writev, SYS_close, SYS_lseek, SYS_fstat, SYS_newfstatat, SYS_statx,
  SYS_getdents64, SYS_readlinkat, SYS_faccessat, SYS_getcwd, SYS_fcntl, SYS_mmap, SYS_munmap, SYS_mremap, SYS_mprotect,
  SYS_madvise, SYS_brk, SYS_futex, SYS_rt_sigaction, SYS_rt_sigprocmask, SYS_rt_sigreturn, SYS_sigaltstack,
  SYS_getpid, SYS_gettid, SYS_getrusage, SYS_getrandom, SYS_clock_gettime, SYS_sched_yield, SYS_exit, SYS_exit_group,
#ifdef SYS_stat
  SYS_stat, SYS_lstat, SYS_readlink, SYS_access,
#endif
#ifdef SYS_faccessat2
  SYS_faccessat2,
#endif
};

enum { ALLOWED = sizeof allowed / sizeof *allowed };
static const uint32_t writing = O_WRONLY | O_RDWR | O_CREAT | O_TRUNC | O_APPEND;

/* `test` looks at the argument and jumps over the refusal.  Arguments are 64 bits; both machines keep the low half
 * first. */
static size_t allow_if(struct sock_filter *to, int call, unsigned argument, struct sock_filter test) {
  const struct sock_filter code[] = {
    BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, (uint32_t)call, 0, 4),
    BPF_STMT(BPF_LD | BPF_W | BPF_ABS, (uint32_t)(offsetof(struct seccomp_data, args) + argument * sizeof(uint64_t))),
    test,
    BPF_STMT(BPF_RET | BPF_K, SECCOMP_RET_ERRNO | EPERM),
    BPF_STMT(BPF_RET | BPF_K, SECCOMP_RET_ALLOW),
  };
  memcpy(to, code, sizeof code);
  return sizeof code / sizeof *code;
}

/* A kernel built without filters is no reason to stop: the limits below hold all the same. */
static bool filter_calls(void) {
  struct sock_filter code[2 * ALLOWED + 20];
  size_t n = 0;
  code[n++] = (struct sock_filter)BPF_STMT(BPF_LD | BPF_W | BPF_ABS, offsetof(struct seccomp_data, arch));
  code[n++] = (struct sock_filter)BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, THIS_MACHINE, 1, 0);
  code[n++] = (struct sock_filter)BPF_STMT(BPF_RET | BPF_K, SECCOMP_RET_KILL_PROCESS);
  code[n++] = (struct sock_filter)BPF_STMT(BPF_LD | BPF_W | BPF_ABS, offsetof(struct seccomp_data, nr));
  for (size_t i = 0; i < ALLOWED; i++) {
    code[n++] = (struct sock_filter)BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, (uint32_t)allowed[i], 0, 1);
    code[n++] = (struct sock_filter)BPF_STMT(BPF_RET | BPF_K, SECCOMP_RET_ALLOW);
  }
  const struct sock_filter writes = BPF_JUMP(BPF_JMP | BPF_JSET | BPF_K, writing, 0, 1);
  const struct sock_filter other = BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, (uint32_t)getpid(), 1, 0);
  n += allow_if(code + n, SYS_openat, 2, writes);
#ifdef SYS_open
  n += allow_if(code + n, SYS_open, 1, writes);
#endif
  n += allow_if(code + n, SYS_tgkill, 0, other);         /* abort() signals its own process */
  code[n++] = (struct sock_filter)BPF_STMT(BPF_RET | BPF_K, SECCOMP_RET_ERRNO | EPERM);
  struct sock_fprog program = { .len = (unsigned short)n, .filter = code };
  return prctl(PR_SET_SECCOMP, SECCOMP_MODE_FILTER, &program, 0, 0) == 0 || errno == EINVAL || errno == ENOSYS;
}
#else
static bool filter_calls(void) { return true; }
#endif

/* ---- the child: limits ------------------------------------------------------------------------------------------ */

static bool limit(int resource, rlim_t soft, rlim_t hard) {
  struct rlimit now;
  if (getrlimit(resource, &now) != 0) return false;
  if (now.rlim_max != RLIM_INFINITY && hard > now.rlim_max) hard = now.rlim_max;      /* never looser than we were */
  if (soft > hard) soft = hard;
  return setrlimit(resource, &(struct rlimit){ soft, hard }) == 0;
}

/* No descriptor from 3 up, whoever opened it. */
static bool close_others(void) {
#ifdef SYS_close_range
  if (syscall(SYS_close_range, 3U, ~0U, 0U) == 0) return true;
#endif
  DIR *open_now = opendir("/proc/self/fd");
  if (!open_now) return false;
  int own = dirfd(open_now);
  for (struct dirent *e; (e = readdir(open_now));) {
    int fd = atoi(e->d_name);
    if (fd > 2 && fd != own) close(fd);
  }
  closedir(open_now);
  return true;
}

static bool settle_signals(void) {
  static const int ends[] = { SIGXCPU, SIGXFSZ, SIGTERM, SIGINT, SIGSEGV, SIGABRT };
  sigset_t none;
  for (size_t i = 0; i < sizeof ends / sizeof *ends; i++)
    if (signal(ends[i], SIG_DFL) == SIG_ERR) return false;
  signal(SIGPIPE, SIG_IGN);                              /* a write that fails is told by its caller */
  return sigemptyset(&none) == 0 && sigprocmask(SIG_SETMASK, &none, NULL) == 0;
}

static bool confine(const struct sl_child_limits *limits, pid_t parent) {
  if (prctl(PR_SET_PDEATHSIG, SIGKILL) != 0 || getppid() != parent) return false;
  return settle_signals() && close_others() && prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0) == 0 &&
         limit(RLIMIT_CPU, limits->cpu_seconds, (rlim_t)limits->cpu_seconds + 1) &&
         limit(RLIMIT_FSIZE, 0, 0) && limit(RLIMIT_CORE, 0, 0) && limit(RLIMIT_NPROC, 0, 0) &&
         (!LIMIT_MEMORY || limit(RLIMIT_AS, limits->memory, limits->memory)) && filter_calls();
}

static _Noreturn void be_child(int (*body)(void *), void *arg, const struct sl_child_limits *limits, pid_t parent,
                               int out, int err) {
  int null = open("/dev/null", O_RDONLY);
  if (null < 0 || dup2(null, 0) < 0 || dup2(out, 1) < 0 || dup2(err, 2) < 0 || !confine(limits, parent)) {
    dprintf(err, "cannot confine the child process: %s\n", strerror(errno));
    _exit(STATUS_LIMIT);
  }
  int status = body(arg);
  if (fflush(stdout) != 0 || fflush(stderr) != 0) status = STATUS_LIMIT;
  _exit(status & 0xff);
}

/* ---- the parent ------------------------------------------------------------------------------------------------- */

static void tell(char *why, size_t size, const char *format, ...) {
  va_list args;
  if (size == 0 || *why) return;                         /* the first reason is the reason */
  va_start(args, format);
  vsnprintf(why, size, format, args);
  va_end(args);
}

/* A pipe whose ends are neither of 0, 1, 2, which the child is going to replace. */
static bool make_pipe(int ends[2]) {
  int raw[2];
  if (pipe(raw) != 0) return false;
  for (int i = 0; i < 2; i++) {
    ends[i] = fcntl(raw[i], F_DUPFD_CLOEXEC, 3);
    close(raw[i]);
  }
  return ends[0] >= 0 && ends[1] >= 0;
}

static void close_end(int *fd) {
  if (*fd >= 0) close(*fd);
  *fd = -1;
}

static bool write_all(int fd, const char *data, size_t size) {
  while (size > 0) {
    ssize_t n = write(fd, data, size);
    if (n >= 0) { data += n; size -= (size_t)n; continue; }
    if (errno == EAGAIN) poll(&(struct pollfd){ .fd = fd, .events = POLLOUT }, 1, -1);
    else if (errno != EINTR) return false;
  }
  return true;
}

/* Passes one read on; `room` is left of `most` bytes.  False: this pipe is done, or (why is set) all is over. */
static bool pass_on(int from, int to, size_t *room, size_t most, char *why, size_t size) {
  char data[16384];
  ssize_t n = read(from, data, sizeof data);
  if (n < 0 && (errno == EINTR || errno == EAGAIN)) return true;
  if (n < 0) tell(why, size, "cannot read the child's output: %s", strerror(errno));
  if (n <= 0) return false;
  size_t part = (size_t)n < *room ? (size_t)n : *room;
  *room -= part;
  if (!write_all(to, data, part)) {
    tell(why, size, "cannot write to %s: %s", to == 1 ? "standard output" : "standard error", strerror(errno));
    return false;
  }
  if (part == (size_t)n) return true;
  tell(why, size, "wrote more than %zu bytes", most);
  return false;
}

/* Until both pipes are closed; false: the child is to be stopped. */
static bool pass_output(int out, int err, size_t most, char *why, size_t size) {
  struct pollfd from[2] = { { .fd = out, .events = POLLIN }, { .fd = err, .events = POLLIN } };
  size_t room = most;
  while (from[0].fd >= 0 || from[1].fd >= 0) {
    if (poll(from, 2, -1) < 0) {
      if (errno == EINTR) continue;
      tell(why, size, "cannot read the child's output: %s", strerror(errno));
      return false;
    }
    for (int i = 0; i < 2; i++) {
      if (from[i].fd < 0 || !from[i].revents) continue;
      if (!pass_on(from[i].fd, i + 1, &room, most, why, size)) from[i].fd = -1;
      if (*why) return false;
    }
  }
  return true;
}

static int judge(int status, const struct sl_child_limits *limits, char *why, size_t size) {
  if (WIFEXITED(status)) return *why ? STATUS_LIMIT : WEXITSTATUS(status);
  int signal_number = WTERMSIG(status);
  if (signal_number == SIGXCPU) tell(why, size, "stopped after %u s of processor time", limits->cpu_seconds);
  else if (signal_number == SIGXFSZ) tell(why, size, "stopped when it wrote to a file");
  else tell(why, size, "killed by signal %d (%s)", signal_number, strsignal(signal_number));
  return STATUS_LIMIT;
}

static int look_after(pid_t child, int out, int err, const struct sl_child_limits *limits, char *why, size_t size) {
  int status;
  if (!pass_output(out, err, limits->output, why, size)) kill(child, SIGKILL);
  while (waitpid(child, &status, 0) < 0)
    if (errno != EINTR) {
      tell(why, size, "cannot wait for the child process: %s", strerror(errno));
      return STATUS_LIMIT;
    }
  return judge(status, limits, why, size);
}

static struct sl_child_limits with_defaults(const struct sl_child_limits *given) {
  struct sl_child_limits l = given ? *given : (struct sl_child_limits){ 0, 0, 0 };
  if (!l.cpu_seconds) l.cpu_seconds = 60;
  if (!l.memory) l.memory = (size_t)1 << 30;
  if (!l.output) l.output = (size_t)64 << 20;
  return l;
}

int sl_child_run(int (*body)(void *), void *arg, const struct sl_child_limits *given, char *why, size_t size) {
  struct sl_child_limits limits = with_defaults(given);
  int out[2] = { -1, -1 }, err[2] = { -1, -1 }, result = STATUS_LIMIT;
  char unread[128];
  if (size == 0) { why = unread; size = sizeof unread; }
  *why = '\0';
  fflush(stdout);                                        /* or the child would write it again */
  fflush(stderr);
  struct sigaction ignore = { .sa_handler = SIG_IGN }, before;
  sigaction(SIGPIPE, &ignore, &before);
  pid_t parent = getpid(), child = -1;
  if (make_pipe(out) && make_pipe(err)) child = fork();
  if (child == 0) be_child(body, arg, &limits, parent, out[1], err[1]);
  if (child < 0) tell(why, size, "cannot start a child process: %s", strerror(errno));
  close_end(&out[1]);
  close_end(&err[1]);
  if (child > 0) result = look_after(child, out[0], err[0], &limits, why, size);
  close_end(&out[0]);
  close_end(&err[0]);
  sigaction(SIGPIPE, &before, NULL);
  return result;
}
