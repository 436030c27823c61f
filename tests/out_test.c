/* SPDX-License-Identifier: MIT
 * Output that is whole or not there: files, links, devices, full disks, closed pipes. */
#define _XOPEN_SOURCE 700
#include "check.h"
#include <dirent.h>
#include <fcntl.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>
#include "write/new_folder.h"
#include "write/out.h"

#define COUNT(a) (sizeof(a) / sizeof *(a))

/* ---- a folder of its own for each test --------------------------------------------------------------------------- */

static char folder[64];

static int make_folder(void **state) {
  (void)state;
  strcpy(folder, "/tmp/stringline-out-XXXXXX");
  return !mkdtemp(folder) || chmod(folder, 0777) != 0 || chdir(folder) != 0;
}

static int drop_folder(void **state) {
  (void)state;
  DIR *dir = opendir(".");
  chmod("locked", 0777);
  for (struct dirent *e; dir && (e = readdir(dir));)
    if (unlink(e->d_name) != 0 && e->d_name[0] != '.') {
      char inner[600];
      snprintf(inner, sizeof inner, "%s/old", e->d_name);
      unlink(inner);
      rmdir(e->d_name);
    }
  if (dir) closedir(dir);
  return chdir("/") != 0 || rmdir(folder) != 0;
}

static void put_file(const char *name, const char *text) {
  FILE *f = fopen(name, "w");
  assert_non_null(f);
  fputs(text, f);
  fclose(f);
}

static void file_holds(const char *name, const char *want) {
  char got[200] = "";
  FILE *f = fopen(name, "r");
  assert_non_null(f);
  got[fread(got, 1, sizeof got - 1, f)] = '\0';
  fclose(f);
  assert_string_equal(got, want);
}

/* Nothing but what the test made is in the folder. */
static void folder_has(size_t want) {
  size_t n = 0;
  DIR *dir = opendir(".");
  assert_non_null(dir);
  for (struct dirent *e; (e = readdir(dir));) n += strcmp(e->d_name, ".") != 0 && strcmp(e->d_name, "..") != 0;
  closedir(dir);
  assert_int_equal(n, want);
}

static struct sl_out *opened(const char *path) {
  char why[300] = "";
  struct sl_out *out = sl_out_open(path, why, sizeof why);
  if (!out) fail_msg("%s", why);
  return out;
}

static mode_t mode_of(const char *path) {
  struct stat st;
  assert_int_equal(stat(path, &st), 0);
  return st.st_mode & 07777;
}

/* ---- files ------------------------------------------------------------------------------------------------------- */

static void new_file(void **state) {
  (void)state;
  char why[300];
  mode_t before = umask(027);
  struct sl_out *out = opened("new");
  assert_true(sl_out_write(out, "one\n", 4));
  assert_true(sl_out_printf(out, "%d\n", 2));
  fputs("three\n", sl_out_file(out));
  folder_has(0);                               /* not before it is whole, under whatever name */
  assert_true(sl_out_commit(out, why, sizeof why));
  umask(before);
  file_holds("new", "one\n2\nthree\n");
  assert_int_equal(mode_of("new"), 0640);      /* 0666 less the umask */
  folder_has(1);
}

static void old_file_until_commit(void **state) {
  (void)state;
  char why[300];
  put_file("old", "before");
  struct sl_out *out = opened("old");
  sl_out_write(out, "after", 5);
  fflush(sl_out_file(out));
  file_holds("old", "before");
  assert_true(sl_out_commit(out, why, sizeof why));
  file_holds("old", "after");
  folder_has(1);
}

static void old_file_shrinks(void **state) {
  (void)state;
  char why[300];
  put_file("old", "a long text of before");
  assert_true(sl_out_commit(opened("old"), why, sizeof why));
  file_holds("old", "");
}

static void mode_is_kept(void **state) {
  (void)state;
  char why[300];
  put_file("old", "before");
  chmod("old", 0604);
  assert_true(sl_out_commit(opened("old"), why, sizeof why));
  assert_int_equal(mode_of("old"), 0604);
}

static void abandoned(void **state) {
  (void)state;
  put_file("old", "before");
  struct sl_out *out = opened("old");
  sl_out_write(out, "after", 5);
  sl_out_abandon(out);
  file_holds("old", "before");
  folder_has(1);
  out = opened("new");
  sl_out_abandon(out);
  folder_has(1);
}

static void two_at_once(void **state) {
  (void)state;
  char why[300];
  struct sl_out *a = opened("a"), *b = opened("b");
  sl_out_write(b, "B", 1);
  sl_out_write(a, "A", 1);
  assert_true(sl_out_commit(a, why, sizeof why));
  assert_true(sl_out_commit(b, why, sizeof why));
  file_holds("a", "A");
  file_holds("b", "B");
}

static void stale_temporary_is_passed_over(void **state) {
  (void)state;
  char why[300], name[64];
  unsigned made = 0;
  for (unsigned i = 0; i < 40; i++) {   /* as if an earlier process of the same number had died here */
    snprintf(name, sizeof name, ".stringline-%ld-%u.tmp", (long)getpid(), i);
    put_file(name, "left");
    made++;
  }
  struct sl_out *out = opened("new");
  sl_out_write(out, "x", 1);
  assert_true(sl_out_commit(out, why, sizeof why));
  file_holds("new", "x");
  file_holds(name, "left");
  folder_has(made + 1);
}

static void link_is_followed(void **state) {
  (void)state;
  char why[300];
  struct stat st;
  assert_int_equal(mkdir("real", 0777), 0);
  put_file("real/old", "before");
  assert_int_equal(symlink("real/old", "hop"), 0);
  assert_int_equal(symlink("hop", "link"), 0);
  struct sl_out *out = opened("link");
  sl_out_write(out, "after", 5);
  assert_true(sl_out_commit(out, why, sizeof why));
  assert_int_equal(lstat("link", &st), 0);
  assert_true(S_ISLNK(st.st_mode));
  file_holds("real/old", "after");
  folder_has(3);
}

static void link_to_what_is_not_there_yet(void **state) {
  (void)state;
  char why[300], target[100];
  snprintf(target, sizeof target, "%s/new", folder);
  assert_int_equal(symlink(target, "link"), 0);
  struct sl_out *out = opened("link");
  sl_out_write(out, "x", 1);
  assert_true(sl_out_commit(out, why, sizeof why));
  file_holds("new", "x");
}

/* ---- refused at once --------------------------------------------------------------------------------------------- */

static const struct refused { const char *name, *path, *want; } refused[] = {
  { "refused: no such folder", "nowhere/x", "cannot write 'nowhere/x': no such folder 'nowhere/'" },
  { "refused: a folder", "real", "cannot write 'real': it is a folder" },
  { "refused: a folder by its slash", "real/", "cannot write 'real/': it is a folder" },
  { "refused: a folder by its slash that is not there", "none/", "cannot write 'none/': no such folder 'none/'" },
  { "refused: a file as folder", "old/x", "cannot write 'old/x': a part of the path is a file, not a folder" },
  { "refused: a circle of links", "ring", "cannot write 'ring': its symbolic links go in a circle" },
  { "refused: no name", "", "no file name was given" },
};

static void open_refuses(void **state) {
  const struct refused *r = *state;
  char why[300] = "";
  assert_int_equal(mkdir("real", 0777), 0);
  assert_int_equal(symlink("ring2", "ring"), 0);
  assert_int_equal(symlink("ring", "ring2"), 0);
  put_file("old", "before");
  assert_null(sl_out_open(r->path, why, sizeof why));
  assert_string_equal(why, r->want);
  file_holds("old", "before");
  folder_has(4);
}

/* ---- in a child: as nobody, under a size limit, with other streams ----------------------------------------------- */

struct answer { int status; char said[600]; };

/* Runs body in a child with `in` on stdout (if >= 0); its words, on stderr, and its exit status. */
static struct answer in_child(int (*body)(void), int on_stdout) {
  struct answer a = {0};
  int pipe_fd[2];
  assert_int_equal(pipe(pipe_fd), 0);
  fflush(NULL);
  pid_t child = fork();
  assert_true(child >= 0);
  if (child == 0) {
    dup2(pipe_fd[1], 2);
    close(pipe_fd[0]);
    close(pipe_fd[1]);
    if (on_stdout >= 0) dup2(on_stdout, 1);
    else close(1);
    _exit(body());
  }
  close(pipe_fd[1]);
  size_t n = 0;
  for (ssize_t got; (got = read(pipe_fd[0], a.said + n, sizeof a.said - 1 - n)) > 0;) n += (size_t)got;
  close(pipe_fd[0]);
  assert_int_equal(waitpid(child, &a.status, 0), child);
  return a;
}

static void says(struct answer a, int status, const char *said) {
  const int got = WIFEXITED(a.status) ? WEXITSTATUS(a.status) : -WTERMSIG(a.status);
  if (got != status || strcmp(a.said, said) != 0)
    fail_msg("status %x, said '%s'", (unsigned)a.status, a.said);
}

/* Opens, writes that many bytes, commits; says why not. */
static int write_file(const char *path, size_t bytes, bool bare_stream) {
  char why[300] = "";
  struct sl_out *out = sl_out_open(path, why, sizeof why);
  if (!out) return fputs(why, stderr), 9;
  bool ok = true;
  for (size_t i = 0; i < bytes; i++) {
    if (bare_stream) putc('x', sl_out_file(out));
    else ok &= sl_out_write(out, "x", 1);
  }
  if (sl_out_commit(out, why, sizeof why)) return ok ? 0 : 8;
  return fputs(why, stderr), 7;
}

static int as_nobody(void) { return getuid() == 0 ? setgid(65534) != 0 || setuid(65534) != 0 : 0; }
static int locked_folder(void) { return as_nobody() ? 1 : write_file("locked/new", 1, false); }
static int locked_file(void) { return as_nobody() ? 1 : write_file("old", 1, false); }

static void no_permission_in_folder(void **state) {
  (void)state;
  assert_int_equal(mkdir("locked", 0777), 0);
  chmod("locked", 0555);
  says(in_child(locked_folder, 1), 9, "cannot write 'locked/new': no permission to make a file in 'locked/'");
}

static void write_protected_file(void **state) {
  (void)state;
  put_file("old", "before");
  chmod("old", 0444);
  says(in_child(locked_file, 1), 9, "cannot write 'old': no permission");
  file_holds("old", "before");
  folder_has(1);
}

static int limited(const char *path, bool bare_stream) {
  struct rlimit limit = {4096, 4096};
  sl_out_begin();   /* else the limit's signal ends us without a word */
  if (setrlimit(RLIMIT_FSIZE, &limit) != 0) return 1;
  return write_file(path, 100000, bare_stream);
}
static int limited_old(void) { return limited("old", false); }
static int limited_new(void) { return limited("new", false); }
static int limited_stream(void) { return limited("old", true); }

static void size_limit_keeps_the_old_file(void **state) {
  (void)state;
  put_file("old", "before");
  says(in_child(limited_old, 1), 7, "cannot write 'old': it would be larger than the limit for files; "
       "the new text is lost, the file that was there is unchanged");
  file_holds("old", "before");
  folder_has(1);
}

static void size_limit_leaves_no_new_file(void **state) {
  (void)state;
  says(in_child(limited_new, 1), 7, "cannot write 'new': it would be larger than the limit for files; "
       "the new text is lost, and no file is left behind");
  folder_has(0);
}

static void size_limit_through_the_bare_stream(void **state) {
  (void)state;
  put_file("old", "before");
  struct answer a = in_child(limited_stream, 1);
  assert_true(WIFEXITED(a.status));
  assert_int_equal(WEXITSTATUS(a.status), 7);
  assert_non_null(strstr(a.said, "the file that was there is unchanged"));
  file_holds("old", "before");
  folder_has(1);
}

/* As nobody, who could not harm the device if we did rename over it. */
static int full_device(void) { return as_nobody() ? 1 : write_file("link", 100000, false); }
static int full_small(void) { return as_nobody() ? 1 : write_file("link", 1, false); }

static bool have_full(void) {
  struct stat st;
  return stat("/dev/full", &st) == 0 && S_ISCHR(st.st_mode) && access("/dev/full", W_OK) == 0;
}

static void device_is_full(void **state) {
  (void)state;
  struct stat st;
  if (!have_full()) skip();
  assert_int_equal(symlink("/dev/full", "link"), 0);
  says(in_child(full_device, 1), 7, "cannot write 'link': the disk is full; a part of it may have gone out");
  says(in_child(full_small, 1), 7, "cannot write 'link': the disk is full; a part of it may have gone out");
  assert_int_equal(stat("link", &st), 0);
  assert_true(S_ISCHR(st.st_mode));   /* not renamed over */
}

/* The exit status tells which call was taken although an earlier one had failed. */
static int write_on(void) {
  char why[300], block[70000];
  if (as_nobody()) return 1;
  memset(block, 'x', sizeof block);
  struct sl_out *out = sl_out_open("/dev/full", why, sizeof why);
  if (!out) return 2;
  if (sl_out_write(out, block, sizeof block)) return 3;
  if (sl_out_write(out, "x", 1)) return 4;
  if (sl_out_printf(out, "%d", 1)) return 5;
  if (sl_out_commit(out, why, sizeof why)) return 6;
  return fputs(why, stderr), 7;
}

static void after_a_failure_nothing_is_written(void **state) {
  (void)state;
  if (!have_full()) skip();
  says(in_child(write_on, 1), 7, "cannot write '/dev/full': the disk is full; a part of it may have gone out");
}

/* ---- standard output --------------------------------------------------------------------------------------------- */

static int finish(struct sl_out *out) {
  char why[512] = "";
  if (sl_out_commit(out, why, sizeof why)) return 0;
  fprintf(stderr, "stringline: %s\n", why);
  return 3;
}

static int say(size_t bytes) {
  sl_out_begin();
  struct sl_out *out = sl_out_of(stdout);
  for (size_t i = 0; i < bytes; i++) sl_out_write(out, "x", 1);
  return finish(out);
}
static int say_one(void) { return say(1); }
static int say_much(void) { return say(200000); }
static int say_nothing(void) { return say(0); }
/* The failed piece goes straight out: nothing is left in the stream to fail again at the end. */
static int say_in_one_piece(void) {
  static char block[200000];
  memset(block, 'x', sizeof block);
  sl_out_begin();
  setvbuf(stdout, NULL, _IONBF, 0);
  struct sl_out *out = sl_out_of(stdout);
  sl_out_write(out, block, sizeof block);
  return finish(out);
}
/* What printed to the stream itself kept no reason. */
static int say_on_the_stream(void) {
  static char block[200000];
  memset(block, 'x', sizeof block);
  sl_out_begin();
  setvbuf(stdout, NULL, _IONBF, 0);
  struct sl_out *out = sl_out_of(stdout);
  fwrite(block, 1, sizeof block, stdout);
  return finish(out);
}

static int full_fd(void) { return open("/dev/full", O_WRONLY); }
static int closed_pipe_fd(void) {
  int fd[2];
  if (pipe(fd) != 0) return -1;
  close(fd[0]);
  return fd[1];
}
static int null_fd(void) { return open("/dev/null", O_WRONLY); }
static int no_fd(void) { return -1; }

#define DISK_FULL "stringline: cannot write to standard output: the disk is full; a part of it may have gone out\n"
#define NOT_OPEN "stringline: cannot write to standard output: it is not open for writing; " \
                 "nothing of it has gone out\n"
#define NO_REASON "stringline: cannot write to standard output: a write failed; a part of it may have gone out\n"
enum { BY_PIPE = -SIGPIPE };         /* not a status: the signal that ended it */
static const struct end { const char *name; int (*to)(void), (*body)(void); int status; const char *said; } ends[] = {
  { "stdout: all went out", null_fd, say_much, 0, "" },
  { "stdout: nothing to say", null_fd, say_nothing, 0, "" },
  { "stdout: a full disk, found at the end", full_fd, say_one, 3, DISK_FULL },
  { "stdout: a full disk, found on the way", full_fd, say_much, 3, DISK_FULL },
  { "stdout: a full disk, in one piece", full_fd, say_in_one_piece, 3, DISK_FULL },
  { "stdout: a full disk, reason gone", full_fd, say_on_the_stream, 3, NO_REASON },
  { "stdout: a closed pipe, found at the end", closed_pipe_fd, say_one, BY_PIPE, "" },
  { "stdout: a closed pipe, found on the way", closed_pipe_fd, say_much, BY_PIPE, "" },
  { "stdout: a closed pipe, in one piece", closed_pipe_fd, say_in_one_piece, BY_PIPE, "" },
  { "stdout: a closed pipe, reason gone", closed_pipe_fd, say_on_the_stream, BY_PIPE, "" },
  { "stdout: a closed pipe, but nothing to say", closed_pipe_fd, say_nothing, 0, "" },
  { "stdout: closed before we started", no_fd, say_one, 3, NOT_OPEN },
  { "stdout: closed before we started, nothing to say", no_fd, say_nothing, 0, "" },
};

static void stdout_ends(void **state) {
  const struct end *r = *state;
  if (r->to == full_fd && !have_full()) skip();
  int fd = r->to();
  struct answer a = in_child(r->body, fd);
  if (fd >= 0) close(fd);
  says(a, r->status, r->said);
}

/* With stdout closed, the next file must not become stdout and take up what is printed. */
static int print_into_file(void) {
  sl_out_begin();
  int status = write_file("new", 3, false);
  struct sl_out *out = sl_out_of(stdout);
  sl_out_printf(out, "a report\n");
  return status ? status : finish(out);
}

static void closed_stdout_is_not_a_file(void **state) {
  (void)state;
  says(in_child(print_into_file, -1), 3, NOT_OPEN);
  file_holds("new", "xxx");
}

static int no_place_for_streams(void) {
  struct rlimit none = { 1, 1 };
  if (setrlimit(RLIMIT_NOFILE, &none) != 0) return 1;
  return sl_out_begin() ? 2 : 0;
}

static void closed_stdout_that_nothing_can_stand_in_for(void **state) {
  (void)state;
  says(in_child(no_place_for_streams, -1), 0, "");
}

/* ---- what goes straight out -------------------------------------------------------------------------------------- */

/* Behind what is there, as all that share the descriptor write. */
static int write_to_descriptor(void) {
  static const char *const names[] = { "/dev/stdout", "/dev/fd/1", "/proc/self/fd/1", "link" };
  int fd = open("shared", O_WRONLY | O_CREAT | O_TRUNC, 0666), status = 0;
  if (fd < 0 || dup2(fd, 1) < 0 || write(1, "head ", 5) != 5) return 1;
  for (size_t i = 0; i < COUNT(names) && !status; i++) status = write_file(names[i], 3, false);
  return status || write(1, " tail", 5) != 5;
}

static void a_descriptor_is_shared(void **state) {
  (void)state;
  assert_int_equal(symlink("/dev/stdout", "link"), 0);
  says(in_child(write_to_descriptor, 1), 0, "");
  file_holds("shared", "head xxxxxxxxxxxx tail");
  folder_has(2);
}

static int closed_descriptor(void) { return write_file("/dev/fd/900", 1, false); }
static int huge_descriptor(void) { return write_file("/dev/fd/99999999999999999999", 1, false); }
static int reading_descriptor(void) {
  const int fd = open("old", O_RDONLY);
  return fd < 0 || dup2(fd, 9) < 0 ? 1 : write_file("/dev/fd/9", 1, false);
}

static void a_descriptor_that_cannot_be_written(void **state) {
  (void)state;
  put_file("old", "before");
  says(in_child(closed_descriptor, 1), 9, "cannot write '/dev/fd/900': it is not open for writing");
  says(in_child(reading_descriptor, 1), 9, "cannot write '/dev/fd/9': it is not open for writing");
  says(in_child(huge_descriptor, 1), 9, "cannot write '/dev/fd/99999999999999999999': it is not open for writing");
  file_holds("old", "before");
}

/* ---- signals ----------------------------------------------------------------------------------------------------- */

enum { LARGE = 16 << 20 };
static const int ending[] = { SIGHUP, SIGINT, SIGQUIT, SIGILL, SIGTRAP, SIGABRT, SIGBUS, SIGFPE, SIGUSR1, SIGSEGV,
                              SIGUSR2, SIGALRM, SIGTERM, SIGXCPU, SIGVTALRM, SIGPROF, SIGSYS };

static char much[LARGE];

static void prepare(void) {
  for (size_t i = 0; i < COUNT(ending); i++)             /* the test's own handlers */
    if (ending[i] != SIGHUP) signal(ending[i], SIG_DFL);
  memset(much, 'x', sizeof much);
}

static int write_much(void) {
  char why[300] = "";
  struct sl_out *out = sl_out_open("old", why, sizeof why);
  return out && sl_out_write(out, much, sizeof much) && sl_out_commit(out, why, sizeof why) ? 0 : 9;
}

static int collect_much(void) {
  char why[300] = "";
  struct sl_out *out = sl_out_open("old", why, sizeof why);
  if (!out || !sl_out_write(out, much, sizeof much) || !sl_out_flush(out)) return 9;
  raise(SIGSTOP);
  return sl_out_commit(out, why, sizeof why) ? 0 : 9;
}

static int new_folder(void) {
  char why[300] = "";
  static const struct sl_new_file files[] = { { "in/a", much, sizeof much }, { "b", much, sizeof much } };
  return sl_new_folder("new", files, COUNT(files), why, sizeof why) ? 0 : 9;
}

static size_t count_temporary(void) {
  size_t n = 0;
  DIR *dir = opendir(".");
  assert_non_null(dir);
  for (struct dirent *e; (e = readdir(dir));) n += strstr(e->d_name, ".tmp") != NULL;
  closedir(dir);
  return n;
}

static bool is_whole(const char *path) {
  struct stat st;
  return stat(path, &st) == 0 && st.st_size == LARGE;
}

/* As it was before, or, where a signal came last of all or none did, as it was to be; then it is made as before. */
static void all_or_nothing(void) {
  if (is_whole("old")) put_file("old", "before");
  if (is_whole("new/in/a") && is_whole("new/b")) {
    unlink("new/in/a");
    unlink("new/b");
    rmdir("new/in");
    rmdir("new");
  }
  file_holds("old", "before");
  folder_has(1);
}

/* A child that is stopped while what it writes stands under a temporary name; or where it stops itself. */
static pid_t stopped_child(int (*body)(void)) {
  const bool itself = body == collect_much;
  for (int tries = 0; tries < 100; tries++) {
    int status = 0;
    fflush(NULL);
    const pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
      prepare();
      _exit(body());
    }
    pid_t done = 0;
    while (!itself && count_temporary() == 0 && (done = waitpid(child, &status, WNOHANG)) == 0) continue;
    if (!itself && !done) kill(child, SIGSTOP);
    if (!done && waitpid(child, &status, WUNTRACED) == child && WIFSTOPPED(status)) {
      if (count_temporary() == (size_t)!itself) return child;
      kill(child, SIGCONT);                  /* it had been done already */
      waitpid(child, &status, 0);
    }
    all_or_nothing();
  }
  fail_msg("no child was ever met while it wrote");
  return -1;
}

static int ended(pid_t child, int number) {
  int status;
  kill(child, number);
  kill(child, SIGCONT);
  assert_int_equal(waitpid(child, &status, 0), child);
  return status;
}

static void no_signal_leaves_anything(void **state) {
  (void)state;
  static int (*const bodies[])(void) = { collect_much, write_much, new_folder };
  put_file("old", "before");
  for (size_t i = 0; i < COUNT(bodies) * COUNT(ending); i++) {
    const int number = ending[i / COUNT(bodies)];
    void (*const was)(int) = signal(number, SIG_DFL);        /* whoever started the test may ignore it */
    const int status = ended(stopped_child(bodies[i % COUNT(bodies)]), number);
    signal(number, was);
    if (!WIFSIGNALED(status) || WTERMSIG(status) != number)
      fail_msg("signal %d ended it with %x", number, (unsigned)status);
    all_or_nothing();
  }
}

/* What the caller ignores, as nohup does, breaks nothing off. */
static void an_ignored_signal_is_no_reason(void **state) {
  (void)state;
  put_file("old", "before");
  signal(SIGHUP, SIG_IGN);
  const pid_t child = stopped_child(write_much);
  signal(SIGHUP, SIG_DFL);
  assert_int_equal(ended(child, SIGHUP), 0);
  folder_has(1);
  assert_true(is_whole("old"));
}

static int folder_goes(void) {
  char why[300] = "";
  struct sl_out *out = sl_out_open("real/new", why, sizeof why);
  if (!out || !sl_out_write(out, "x", 1) || rmdir("real") != 0) return 1;
  if (sl_out_commit(out, why, sizeof why)) return 2;
  return fputs(why, stderr), 7;
}

static void a_folder_that_vanishes(void **state) {
  (void)state;
  assert_int_equal(mkdir("real", 0777), 0);
  says(in_child(folder_goes, 1), 7, "cannot write 'real/new': no such folder 'real/'; "
       "the new text is lost, and no file is left behind");
  folder_has(0);
}

#define FRESH(f) { #f, f, make_folder, drop_folder, NULL }

int main(void) {
  static const struct CMUnitTest single[] = {
    FRESH(new_file), FRESH(old_file_until_commit), FRESH(old_file_shrinks), FRESH(mode_is_kept), FRESH(abandoned),
    FRESH(two_at_once), FRESH(stale_temporary_is_passed_over), FRESH(link_is_followed),
    FRESH(link_to_what_is_not_there_yet), FRESH(no_permission_in_folder), FRESH(write_protected_file),
    FRESH(size_limit_keeps_the_old_file), FRESH(size_limit_leaves_no_new_file),
    FRESH(size_limit_through_the_bare_stream), FRESH(device_is_full), FRESH(after_a_failure_nothing_is_written),
    FRESH(closed_stdout_is_not_a_file), FRESH(closed_stdout_that_nothing_can_stand_in_for),
    FRESH(a_descriptor_is_shared), FRESH(a_descriptor_that_cannot_be_written), FRESH(no_signal_leaves_anything),
    FRESH(an_ignored_signal_is_no_reason), FRESH(a_folder_that_vanishes),
  };
  static struct CMUnitTest tests[COUNT(single) + COUNT(refused) + COUNT(ends)];
  size_t n = 0;
  for (; n < COUNT(single); n++) tests[n] = single[n];
  for (size_t i = 0; i < COUNT(refused); i++)
    tests[n++] = (struct CMUnitTest){ refused[i].name, open_refuses, make_folder, drop_folder,
                                      (void *)(uintptr_t)&refused[i] };
  for (size_t i = 0; i < COUNT(ends); i++)
    tests[n++] = (struct CMUnitTest){ ends[i].name, stdout_ends, NULL, NULL, (void *)(uintptr_t)&ends[i] };
  return cmocka_run_group_tests_name("out", tests, NULL, NULL);
}
