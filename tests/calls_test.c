/* SPDX-License-Identifier: MIT
 * What a confined process cannot do, call by call and file by file.  The expected outcomes are the kernel's manual
 * pages' (seccomp(2), landlock(7), fcntl(2), mmap(2), proc(5)). */
#define _GNU_SOURCE            /* syscall, the commands of fcntl */
#include "apart.h"
#include <errno.h>
#include <fcntl.h>
#include <seccomp.h>
#include <signal.h>
#include <stdbool.h>
#include <stdlib.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/ptrace.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/uio.h>
#include "confine/calls.h"

static char folder[64], job[80], inside[96], outside[96], link_out[96];
static const char *const files[] = { inside, NULL };
static const struct sl_child_limits of_job = { .files = files };

static int confined(int (*what)(void *)) {
  body = what;
  limits = &of_job;
  return apart(run_body, NULL);
}

/* ---- calls that it does not have --------------------------------------------------------------------------------- */

static void tell(const char *what) { fprintf(stderr, "%s: errno %d\n", what, errno); }
static void refused(const char *call, long got) { if (got != -1 || errno != EPERM) tell(call); }
#define REFUSED(call, ...) (errno = 0, refused(#call, syscall(call, __VA_ARGS__)))

static int try_calls(void *arg) {
  (void)arg;
  char text[64] = "";
  const struct iovec own = { text, sizeof text };
  const pid_t other = 1;
  REFUSED(SYS_process_vm_readv, other, &own, 1, &own, 1, 0);
  REFUSED(SYS_process_vm_writev, other, &own, 1, &own, 1, 0);
  REFUSED(SYS_ptrace, PTRACE_TRACEME, 0, 0, 0);
  REFUSED(SYS_pidfd_open, other, 0);
  REFUSED(SYS_kcmp, other, other, 0, 0, 0);
  REFUSED(SYS_kill, other, 0);
  REFUSED(SYS_tkill, other, 0);
  REFUSED(SYS_tgkill, other, other, 0);
  REFUSED(SYS_rt_sigqueueinfo, other, 0, text);
  REFUSED(SYS_clone, 0, 0, 0, 0, 0);
  REFUSED(SYS_clone3, text, sizeof text);
  REFUSED(SYS_execve, "/bin/true", 0, 0);
  REFUSED(SYS_execveat, -1, "/bin/true", 0, 0, 0);
  REFUSED(SYS_socket, 1, 1, 0);
  REFUSED(SYS_socketpair, 1, 1, 0, text);
  REFUSED(SYS_connect, 0, text, 0);
  REFUSED(SYS_openat, AT_FDCWD, inside, O_WRONLY);
  REFUSED(SYS_openat, AT_FDCWD, inside, O_RDWR);
  REFUSED(SYS_openat, AT_FDCWD, inside, O_CREAT, 0600);
  REFUSED(SYS_openat, AT_FDCWD, inside, O_TRUNC);
  REFUSED(SYS_openat, AT_FDCWD, inside, O_APPEND);
  REFUSED(SYS_openat, AT_FDCWD, folder, O_TMPFILE | O_RDWR, 0600);
  REFUSED(SYS_openat2, AT_FDCWD, inside, text, 24);
  REFUSED(SYS_memfd_create, "x", 0);
  REFUSED(SYS_unlinkat, AT_FDCWD, inside, 0);
  REFUSED(SYS_renameat2, AT_FDCWD, inside, AT_FDCWD, outside, 0);
  REFUSED(SYS_linkat, AT_FDCWD, inside, AT_FDCWD, outside, 0);
  REFUSED(SYS_symlinkat, inside, AT_FDCWD, outside);
  REFUSED(SYS_mkdirat, AT_FDCWD, folder, 0700);
  REFUSED(SYS_fchmodat, AT_FDCWD, inside, 0777);
  REFUSED(SYS_fchownat, AT_FDCWD, inside, 0, 0, 0);
  REFUSED(SYS_utimensat, AT_FDCWD, inside, 0, 0);
  REFUSED(SYS_setxattr, inside, "user.x", text, 1, 0);
  REFUSED(SYS_truncate, inside, 0);
  REFUSED(SYS_chdir, "/");
  REFUSED(SYS_fchdir, 0);
  REFUSED(SYS_chroot, "/");
  REFUSED(SYS_mount, "x", "/", "tmpfs", 0, 0);
  REFUSED(SYS_unshare, 0);
  REFUSED(SYS_setns, 0, 0);
  REFUSED(SYS_bpf, 0, text, 0);
  REFUSED(SYS_perf_event_open, text, 0, 0, 0, 0);
  REFUSED(SYS_userfaultfd, 0);
  REFUSED(SYS_io_uring_setup, 1, text);
  REFUSED(SYS_keyctl, 0, 0, 0);
  REFUSED(SYS_prctl, PR_SET_PDEATHSIG, 0);
  REFUSED(SYS_prctl, PR_SET_DUMPABLE, 1);
  REFUSED(SYS_seccomp, 1, 0, 0);
  REFUSED(SYS_personality, 0xffffffff);
  REFUSED(SYS_prlimit64, 0, RLIMIT_CORE, text, 0);
  REFUSED(SYS_prlimit64, other, RLIMIT_CORE, 0, text);
  REFUSED(SYS_setuid, 0);
  REFUSED(SYS_ioctl, 1, 0x5412, text);                   /* TIOCSTI: types on the terminal */
  REFUSED(SYS_pipe2, text, 0);
  REFUSED(SYS_dup3, 1, 9, 0);
  REFUSED(SYS_fcntl, 1, F_SETOWN, other);
  REFUSED(SYS_fcntl, 1, F_SETOWN_EX, text);
  REFUSED(SYS_fcntl, 1, F_SETSIG, SIGKILL);
  REFUSED(SYS_fcntl, 1, F_SETFL, O_ASYNC);
  REFUSED(SYS_fcntl, 1, F_NOTIFY, 1);
  REFUSED(SYS_fcntl, 1, F_SETLEASE, F_WRLCK);
  REFUSED(SYS_fcntl, 1, F_SETLK, text);
  REFUSED(SYS_fcntl, 1, F_SETPIPE_SZ, 1 << 20);
  return 0;
}

static int try_memory(void *arg) {
  (void)arg;
  const size_t size = 1 << 16;
  char *page = mmap(NULL, size, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
  if (page == MAP_FAILED) return 1;
  *page = 1;
  REFUSED(SYS_mmap, 0, size, PROT_READ | PROT_WRITE | PROT_EXEC, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
  REFUSED(SYS_mmap, 0, size, PROT_READ | PROT_EXEC, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
  REFUSED(SYS_mprotect, page, size, PROT_READ | PROT_WRITE | PROT_EXEC);
  REFUSED(SYS_mprotect, page, size, PROT_READ | PROT_EXEC);
  REFUSED(SYS_pkey_mprotect, page, size, PROT_EXEC, -1);
  const uintptr_t own = (uintptr_t)try_memory & ~(uintptr_t)0xfff;       /* what runs cannot be written to */
  REFUSED(SYS_mprotect, own, 0x1000, PROT_READ | PROT_WRITE | PROT_EXEC);
  if (mprotect(page, size, PROT_READ) != 0) tell("memory may be made read-only");
  return munmap(page, size);
}

static void all_is_refused(void **state) {
  assert_int_equal(confined((int (*)(void *))(uintptr_t)*state), 0);
  assert_string_equal(said[0], "");
  assert_string_equal(said[1], "");
}

#ifdef __x86_64__
/* As 32-bit programs call, whose numbers are other ones: 20 is their getpid. */
static int call_the_old_way(void *arg) {
  (void)arg;
  long result = 20;
  __asm__ volatile("int $0x80" : "+a"(result) : : "memory");
  return 0;
}
static int call_by_x32(void *arg) { (void)arg; return syscall(0x40000000 + SYS_getpid) == -1 ? 0 : 1; }

static void other_ways_of_calling_end_it(void **state) {
  assert_int_equal(confined((int (*)(void *))(uintptr_t)*state), 3);
  assert_true(strstr(said[0], "killed by signal 31 (") || strstr(said[0], "killed by signal 11 ("));
}
#endif

/* ---- files ------------------------------------------------------------------------------------------------------- */

static void make_file(const char *path) {
  FILE *file = fopen(path, "w");
  assert_non_null(file);
  fputs("kept", file);
  fclose(file);
}

static void opens(const char *path, bool wanted) {
  errno = 0;
  const int fd = open(path, O_RDONLY);
  if (wanted ? fd < 0 : fd >= 0 || errno != EACCES) tell(path);
  if (fd >= 0) close(fd);
}

/* Some of a process's files open, and then give nothing. */
static void reads_nothing(const char *path) {
  char byte;
  const int fd = open(path, O_RDONLY);
  if (fd >= 0 && read(fd, &byte, 1) > 0) tell(path);
  if (fd >= 0) close(fd);
}

static int try_files(void *arg) {
  (void)arg;
  char path[200];
  static const char *const below[] = { "mem", "environ", "maps", "cmdline", "fd/0", "cwd", "root/etc/hostname" };
  opens(inside, true);
  opens(job, true);
  opens(folder, false);
  opens(outside, false);
  opens(link_out, false);
  snprintf(path, sizeof path, "%s/../../etc/passwd", folder);
  opens(path, false);
  opens("/", false);
  opens("/etc/passwd", false);
  opens("/dev/zero", false);
  opens("/sys", false);
  for (size_t i = 0; i < sizeof below / sizeof *below; i++) {
    snprintf(path, sizeof path, "/proc/%ld/%s", *(long *)arg, below[i]);
    opens(path, false);
    snprintf(path, sizeof path, "/proc/self/%s", below[i]);
    opens(path, false);
  }
  return 0;
}

static void try_files_here(const void *arg) {
  (void)arg;
  long parent = (long)getpid();
  body = try_files;
  limits = &of_job;
  run_body(&parent);
}

static void only_its_folder_is_read(void **state) {
  (void)state;
  assert_int_equal(apart(try_files_here, NULL), 0);
  assert_string_equal(said[1], "");
}

static int try_house(void *arg) {
  (void)arg;
  opens(inside, true);
  opens(outside, false);
  return 0;
}

static void run_house(const void *path) {
  const struct sl_child_limits house = { .folders = path };
  _exit(sl_child_run(try_house, NULL, &house).status);
}

static void folders_are_named_as_on_the_path(void **state) {
  (void)state;
  char path[200];
  snprintf(path, sizeof path, "/nowhere::%s", job);
  assert_int_equal(apart(run_house, path), 0);
  assert_string_equal(said[1], "");
}

static int try_parent(void *arg) {
  static const char *const of_it[] = { "mem", "environ", "maps", "auxv", "io" };
  char path[64];
  opens("/", true);
  for (size_t i = 0; i < sizeof of_it / sizeof *of_it; i++) {
    snprintf(path, sizeof path, "/proc/%ld/%s", *(long *)arg, of_it[i]);
    reads_nothing(path);
  }
  return 0;
}

/* A job that stands in the root folder opens all of it, but no other process. */
static void run_at_root(const void *arg) {
  (void)arg;
  long parent = (long)getpid();
  const struct sl_child_limits root = { .folders = "/" };
  _exit(sl_child_run(try_parent, &parent, &root).status);
}

static void no_other_process_is_read(void **state) {
  (void)state;
  assert_int_equal(apart(run_at_root, NULL), 0);
  assert_string_equal(said[1], "");
}

/* ---- other machines ---------------------------------------------------------------------------------------------- */

static void filter_another_machine(const void *arg) {
  const int failed = sl_calls_filter(*(const uint32_t *)arg);
  printf("%d %d", failed, prctl(PR_GET_SECCOMP, 0, 0, 0, 0));
  fflush(stdout);
  _exit(0);
}

/* Numbers and arguments of calls are other ones there, or nobody looked. */
static void other_machines_are_unknown(void **state) {
  (void)state;
  static const uint32_t others[] = { 0, SCMP_ARCH_X86, SCMP_ARCH_X32, SCMP_ARCH_ARM, SCMP_ARCH_S390X,
                                     SCMP_ARCH_PPC64LE, SCMP_ARCH_RISCV64, SCMP_ARCH_MIPS64 };
  char wanted[32];
  snprintf(wanted, sizeof wanted, "%d 0", ENOTSUP);
  for (size_t i = 0; i < sizeof others / sizeof *others; i++) {
    assert_false(sl_calls_known(others[i]));
    assert_int_equal(apart(filter_another_machine, &others[i]), 0);
    assert_string_equal(said[0], wanted);
  }
  assert_true(sl_calls_known(SCMP_ARCH_X86_64) && sl_calls_known(SCMP_ARCH_AARCH64));
  assert_true(sl_calls_known(sl_calls_machine()));
}

/* ---- all --------------------------------------------------------------------------------------------------------- */

static int set_up(void **state) {
  (void)state;
  snprintf(folder, sizeof folder, "/tmp/sl-confine-test-XXXXXX");
  if (!mkdtemp(folder)) return -1;
  snprintf(job, sizeof job, "%s/job", folder);
  snprintf(inside, sizeof inside, "%s/job.sline", job);
  snprintf(link_out, sizeof link_out, "%s/link", job);
  snprintf(outside, sizeof outside, "%s/outside", folder);
  if (mkdir(job, 0700) != 0) return -1;
  make_file(inside);
  make_file(outside);
  return symlink(outside, link_out);
}

static int clear_up(void **state) {
  (void)state;
  return unlink(link_out) | unlink(inside) | unlink(outside) | rmdir(job) | rmdir(folder);
}

int main(void) {
  struct CMUnitTest tests[16];
  size_t n = 0;
#define TEST(f) tests[n++] = (struct CMUnitTest){ #f, f, NULL, NULL, NULL }
#define BODY(f, what) tests[n++] = (struct CMUnitTest){ #what, f, NULL, NULL, (void *)(uintptr_t)(what) }
  BODY(all_is_refused, try_calls);
  BODY(all_is_refused, try_memory);
#ifdef __x86_64__
  BODY(other_ways_of_calling_end_it, call_the_old_way);
  BODY(other_ways_of_calling_end_it, call_by_x32);
#endif
  TEST(only_its_folder_is_read);
  TEST(folders_are_named_as_on_the_path);
  TEST(no_other_process_is_read);
  TEST(other_machines_are_unknown);
  return _cmocka_run_group_tests("calls", tests, n, set_up, clear_up);
}
