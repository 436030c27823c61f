/* SPDX-License-Identifier: MIT
 * The filter of system calls, by libseccomp. */
#include "confine/calls.h"
#include <errno.h>
#include <fcntl.h>
#include <seccomp.h>
#include <stddef.h>
#include <unistd.h>
#include <sys/mman.h>

/* All that computing, reading files and writing to the pipes need. */
static const int allowed[] = {
  SCMP_SYS(read), SCMP_SYS(readv), SCMP_SYS(pread64), SCMP_SYS(write), SCMP_SYS(writev), SCMP_SYS(close),
  SCMP_SYS(lseek), SCMP_SYS(fstat), SCMP_SYS(newfstatat), SCMP_SYS(statx), SCMP_SYS(stat), SCMP_SYS(lstat),
  SCMP_SYS(getdents64), SCMP_SYS(readlink), SCMP_SYS(readlinkat), SCMP_SYS(access), SCMP_SYS(faccessat),
  SCMP_SYS(faccessat2), SCMP_SYS(getcwd), SCMP_SYS(munmap), SCMP_SYS(mremap), SCMP_SYS(madvise), SCMP_SYS(brk),
  SCMP_SYS(futex), SCMP_SYS(rt_sigaction), SCMP_SYS(rt_sigprocmask), SCMP_SYS(rt_sigreturn), SCMP_SYS(sigaltstack),
  SCMP_SYS(getpid), SCMP_SYS(gettid), SCMP_SYS(getrusage), SCMP_SYS(getrandom), SCMP_SYS(clock_gettime),
  SCMP_SYS(sched_yield), SCMP_SYS(exit), SCMP_SYS(exit_group),
};

/* A call that is allowed only with such arguments: how many tests, each of them true.  The kernel looks at all 64 bits
 * of an argument, also where it then uses 32: what has more than those is refused. */
struct wary { int call; unsigned tests; struct scmp_arg_cmp test[2]; };

#define IS(argument, value) { argument, SCMP_CMP_EQ, value, 0 }
#define NONE_OF(argument, bits) { argument, SCMP_CMP_MASKED_EQ, bits, 0 }
enum { WRITING = O_WRONLY | O_RDWR | O_CREAT | O_TRUNC | O_APPEND };

/* Made for this process, which abort() signals. */
static int add_wary(scmp_filter_ctx filter) {
  const struct wary with[] = {
    { SCMP_SYS(open), 1, { NONE_OF(1, WRITING) } },
    { SCMP_SYS(openat), 1, { NONE_OF(2, WRITING) } },
    { SCMP_SYS(mmap), 1, { NONE_OF(2, PROT_EXEC) } },          /* nothing new is ever run */
    { SCMP_SYS(mprotect), 1, { NONE_OF(2, PROT_EXEC) } },
    { SCMP_SYS(fcntl), 1, { IS(1, F_GETFD) } },
    { SCMP_SYS(fcntl), 1, { IS(1, F_SETFD) } },
    { SCMP_SYS(fcntl), 1, { IS(1, F_GETFL) } },
    { SCMP_SYS(prlimit64), 2, { IS(0, 0), IS(2, 0) } },        /* its own, only to read */
    { SCMP_SYS(tgkill), 1, { IS(0, (scmp_datum_t)getpid()) } },
  };
  for (size_t i = 0; i < sizeof with / sizeof *with; i++) {
    if (with[i].call < 0) continue;                        /* this machine has no such call */
    const int failed = seccomp_rule_add_array(filter, SCMP_ACT_ALLOW, with[i].call, with[i].tests, with[i].test);
    if (failed) return failed;
  }
  return 0;
}

static int add_allowed(scmp_filter_ctx filter) {
  for (size_t i = 0; i < sizeof allowed / sizeof *allowed; i++) {
    if (allowed[i] < 0) continue;
    const int failed = seccomp_rule_add(filter, SCMP_ACT_ALLOW, allowed[i], 0);
    if (failed) return failed;
  }
  return 0;
}

/* The way in which 32-bit programs call ends the process. */
static int set_up(scmp_filter_ctx filter) {
  int failed = seccomp_attr_set(filter, SCMP_FLTATR_ACT_BADARCH, SCMP_ACT_KILL_PROCESS);
  if (!failed) failed = add_allowed(filter);
  return failed ? failed : add_wary(filter);
}

uint32_t sl_calls_machine(void) { return seccomp_arch_native(); }

bool sl_calls_known(uint32_t machine) { return machine == SCMP_ARCH_X86_64 || machine == SCMP_ARCH_AARCH64; }

int sl_calls_filter(uint32_t machine) {
  if (!sl_calls_known(machine) || machine != sl_calls_machine()) return ENOTSUP;
  errno = 0;
  scmp_filter_ctx filter = seccomp_init(SCMP_ACT_ERRNO(EPERM));
  if (!filter) return ENOMEM;
  int failed = set_up(filter);
  if (!failed) failed = seccomp_load(filter);
  if (failed) failed = errno ? errno : -failed;            /* what the kernel said goes before what became of that */
  seccomp_release(filter);
  return failed;
}
