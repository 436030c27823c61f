/* SPDX-License-Identifier: MIT
 * Output that is whole or not there. */
#define _GNU_SOURCE        /* memfd_create() */
#include "out.h"
#include "host/text.h"
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <poll.h>
#include <signal.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <unistd.h>
#include "unbroken.h"

struct sl_out {
  FILE *file;
  char *path;        /* as the person gave it; NULL: see sl_out_of */
  char *target;      /* with symbolic links followed: what the text takes the place of; NULL: it goes straight out */
  bool owned;        /* the FILE is ours */
  int error;         /* of the first write that failed */
};

/* symbolic links in a row, as Linux has it; temporary names that are tried; bytes that are copied at once */
enum { LINKS = 40, NAMES = 1000, PIECE = 1 << 16 };

const char *sl_out_reason(int error) {
  switch (error) {
    case 0: return "a write failed";
    case ENOSPC: return "the disk is full";
    case EDQUOT: return "the disk quota is used up";
    case EFBIG: return "it would be larger than the limit for files";
    case EBADF: return "it is not open for writing";
    case EACCES: case EPERM: return "no permission";
    case EROFS: return "the disk is read-only";
    case ENOENT: return "no such folder";
    case ENOTDIR: return "a part of the path is a file, not a folder";
    case EISDIR: return "it is a folder";
    case ELOOP: return "its symbolic links go in a circle";
    case ENAMETOOLONG: return "the name is too long";
    case ENOMEM: return SL_NO_MEMORY;
    default: return strerror(error);
  }
}

bool sl_out_begin(void) {
  signal(SIGPIPE, SIG_IGN);
#ifdef SIGXFSZ
  signal(SIGXFSZ, SIG_IGN);
#endif
  for (int fd = 0; fd <= 2; fd++)   /* the wrong way round on purpose: using it fails and is noticed */
    if (fcntl(fd, F_GETFD) < 0 && errno == EBADF && open("/dev/null", fd == 0 ? O_WRONLY : O_RDONLY) < 0) return false;
  return true;
}

/* ---- where to ---------------------------------------------------------------------------------------------------- */

/* Bytes of the folder part, with its last '/'. */
static size_t folder_len(const char *path) {
  const char *slash = strrchr(path, '/');
  return slash ? (size_t)(slash - path) + 1 : 0;
}

static char *join(const char *folder, size_t n, const char *name) {
  char *joined = malloc(n + strlen(name) + 1);
  if (!joined) return NULL;
  memcpy(joined, folder, n);
  strcpy(joined + n, name);
  return joined;
}

static char *folder_of(const char *path) {
  size_t n = folder_len(path);
  return n ? strndup(path, n) : strdup(".");
}

/* Whether a path's folder is the one that shows the descriptors of this process, however it is spelt. */
static bool among_descriptors(const char *path) {
  static const char *const folders[] = { "/proc/self/fd", "/proc/thread-self/fd" };
  struct stat is, of;
  char *folder = folder_of(path);
  bool same = false;
  const bool there = folder && stat(folder, &is) == 0;
  for (size_t i = 0; there && i < sizeof folders / sizeof *folders; i++)
    same = same || (stat(folders[i], &of) == 0 && of.st_dev == is.st_dev && of.st_ino == is.st_ino);
  free(folder);
  return same;
}

/* The descriptor that a path is another name of; -1: none.  To open such a name again would begin at the front of the
 * file behind it, and to rename over it would part the file from those who share the descriptor. */
static int descriptor_of(const char *path) {
  if (strcmp(path, "/dev/stdout") == 0) return STDOUT_FILENO;
  if (strcmp(path, "/dev/stderr") == 0) return STDERR_FILENO;
  const char *number = path + folder_len(path);
  const size_t digits = strspn(number, "0123456789");
  if (digits == 0 || number[digits] != '\0' || !among_descriptors(path)) return -1;
  return digits < 9 ? atoi(number) : INT_MAX;
}

/* The file that a path's symbolic links end at, which need not be there, or the descriptor.  NULL: errno. */
static char *follow(const char *path, int *descriptor) {
  char *now = strdup(path), link[PATH_MAX];
  for (int i = 0; now && i <= LINKS; i++) {
    if ((*descriptor = descriptor_of(now)) >= 0) return now;
    ssize_t n = readlink(now, link, sizeof link - 1);
    if (n < 0) return now;   /* no link, or nothing there */
    link[n] = '\0';
    char *next = join(now, link[0] == '/' ? 0 : folder_len(now), link);
    free(now);
    now = next;
  }
  int error = now ? ELOOP : ENOMEM;
  free(now);
  errno = error;
  return NULL;
}

/* Why a file of that name cannot be made in its folder, as far as one can tell before: 0, or the error. */
static int folder_error(const char *target) {
  struct stat st;
  char *folder = folder_of(target);
  if (!folder) return ENOMEM;
  int error = stat(folder, &st) != 0 || access(folder, W_OK | X_OK) != 0 ? errno : S_ISDIR(st.st_mode) ? 0 : ENOTDIR;
  free(folder);
  return error;
}

/* Why the file cannot be written there: 0, or the error.  Nothing is made. */
static int target_error(const char *target) {
  struct stat st;
  if (target[folder_len(target)] == '\0') return stat(target, &st) == 0 ? EISDIR : errno;
  if (stat(target, &st) != 0) return errno != ENOENT ? errno : folder_error(target);
  if (S_ISDIR(st.st_mode)) return EISDIR;
  if (access(target, W_OK) != 0) return errno;   /* renaming over it would get round its write protection */
  return folder_error(target);
}

static void say_why(const struct sl_out *out, int error, char *why, size_t size) {
  const bool of_folder = out->target && error == folder_error(out->target) && (error == ENOENT || error == EACCES);
  char *folder = of_folder ? folder_of(out->target) : NULL;
  if (!out->path) snprintf(why, size, "cannot write to standard output: %s", sl_out_reason(error));
  else if (folder)
    snprintf(why, size, "cannot write '%s': %s '%s'", out->path,
             error == ENOENT ? sl_out_reason(error) : "no permission to make a file in", folder);
  else snprintf(why, size, "cannot write '%s': %s", out->path, sl_out_reason(error));
  free(folder);
}

static int open_descriptor(int descriptor) {
  const int how = fcntl(descriptor, F_GETFL);
  if (how < 0 || (how & O_ACCMODE) == O_RDONLY) return errno = EBADF, -1;
  return fcntl(descriptor, F_DUPFD_CLOEXEC, 3);
}

FILE *sl_out_memory(void) {
  const int fd = memfd_create("output", MFD_CLOEXEC);
  FILE *file = fd < 0 ? NULL : fdopen(fd, "w+");
  if (fd >= 0 && !file) close(fd);
  return file;
}

/* Where the text is written first.  NULL: errno. */
static FILE *open_way(struct sl_out *out) {
  struct stat st;
  int descriptor = -1;
  if (!(out->target = follow(out->path, &descriptor))) return NULL;
  const bool straight = descriptor >= 0 || (stat(out->path, &st) == 0 && !S_ISREG(st.st_mode) && !S_ISDIR(st.st_mode));
  if (straight) {
    free(out->target);
    out->target = NULL;
    const int fd = descriptor >= 0 ? open_descriptor(descriptor) : open(out->path, O_WRONLY | O_NOCTTY | O_CLOEXEC);
    FILE *file = fd < 0 ? NULL : fdopen(fd, "w");
    if (fd >= 0 && !file) close(fd);
    return file;
  }
  errno = target_error(out->target);
  return errno ? NULL : sl_out_memory();
}

static void release(struct sl_out *out) {
  if (!out) return;
  free(out->path);
  free(out->target);
  free(out);
}

struct sl_out *sl_out_open(const char *path, char *why, size_t size) {
  if (path[0] == '\0') return snprintf(why, size, "no file name was given"), NULL;
  struct sl_out *out = calloc(1, sizeof *out);
  if (out) out->path = strdup(path);
  if (!out || !out->path) {
    release(out);
    return snprintf(why, size, "cannot write '%s': %s", path, sl_out_reason(ENOMEM)), NULL;
  }
  out->owned = true;
  if ((out->file = open_way(out))) return out;
  say_why(out, errno, why, size);
  release(out);
  return NULL;
}

struct sl_out *sl_out_of(FILE *file) {
  struct sl_out *out = calloc(1, sizeof *out);
  if (out) out->file = file;
  return out;
}

/* ---- writing ----------------------------------------------------------------------------------------------------- */

bool sl_out_write(struct sl_out *out, const char *text, size_t len) {
  if (out->error || ferror(out->file)) return false;
  if (fwrite(text, 1, len, out->file) == len) return true;
  out->error = errno;
  return false;
}

bool sl_out_printf(struct sl_out *out, const char *format, ...) {
  if (out->error || ferror(out->file)) return false;
  va_list args;
  va_start(args, format);
  int n = vfprintf(out->file, format, args);
  if (n < 0) out->error = errno;
  va_end(args);
  return n >= 0;
}

bool sl_out_take(struct sl_out *out, FILE *memory) {
  char piece[PIECE];
  ssize_t n;
  for (off_t at = 0; (n = pread(fileno(memory), piece, sizeof piece, at)) > 0; at += n)
    if (!sl_out_write(out, piece, (size_t)n)) return false;
  if (n < 0 && !out->error) out->error = errno;
  return n == 0;
}

bool sl_out_flush(struct sl_out *out) {
  if (out->error || ferror(out->file)) return false;
  if (fflush(out->file) == 0) return true;
  out->error = errno;
  return false;
}

FILE *sl_out_file(struct sl_out *out) { return out->file; }

/* ---- the end ----------------------------------------------------------------------------------------------------- */

/* Some file systems cannot sync: that is no failure to write. */
static bool sync_fd(int fd) { return fsync(fd) == 0 || errno == EINVAL || errno == ENOTSUP || errno == EROFS; }

/* So that the new name outlives a power cut; the text is safe already, so a failure is none of the output's. */
static void sync_folder(const char *target) {
  char *folder = folder_of(target);
  int fd = folder ? open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC) : -1;
  if (fd >= 0) {
    (void)sync_fd(fd);
    close(fd);
  }
  free(folder);
}

/* Whose file it was, as far as we may give one away; and then who may read it. */
static void make_like(int fd, const struct stat *old) {
  const bool given = fchown(fd, old->st_uid, old->st_gid) == 0 || fchown(fd, (uid_t)-1, old->st_gid) == 0;
  (void)given;
  (void)fchmod(fd, old->st_mode & 0777);
}

/* A new file in the target's folder, so that renaming stays on one disk; its name, to be freed, into *name.
 * -1: errno. */
static int open_temporary(const char *target, char **name) {
  struct stat st;
  const bool existed = stat(target, &st) == 0;
  for (int i = 0; i < NAMES; i++) {
    char own[64];
    snprintf(own, sizeof own, ".stringline-%ld-%d.tmp", (long)getpid(), i);
    if (!(*name = join(target, folder_len(target), own))) return errno = ENOMEM, -1;
    const int fd = open(*name, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    const int error = errno;
    if (fd >= 0 && existed) make_like(fd, &st);
    if (fd >= 0) return fd;
    free(*name);
    *name = NULL;
    errno = error;
    if (error != EEXIST) return -1;
  }
  return -1;
}

static bool write_all(int fd, const char *text, size_t len) {
  while (len > 0) {
    const ssize_t n = write(fd, text, len);
    if (n < 0 && errno != EINTR) return false;
    if (n > 0) text += n, len -= (size_t)n;
  }
  return true;
}

/* Copies what was collected.  0, or the error. */
static int copy(int from, int to, const struct sl_unbroken *u) {
  char piece[PIECE];
  for (off_t at = 0;;) {
    if (sl_unbroken_stop(u)) return EINTR;
    const ssize_t n = pread(from, piece, sizeof piece, at);
    if (n < 0 || !write_all(to, piece, (size_t)n)) return errno;
    if (n == 0) return sync_fd(to) ? 0 : errno;
    at += n;
  }
}

/* The text, which is whole, takes the place of what is there.  0, or the error: then nothing of it is left. */
static int take_place(const char *target, int from) {
  struct sl_unbroken u;
  char *name = NULL;
  sl_unbroken_begin(&u);
  const int fd = open_temporary(target, &name);
  int error = fd < 0 ? errno : copy(from, fd, &u);
  if (fd >= 0 && close(fd) != 0 && !error) error = errno;
  if (fd >= 0 && !error && rename(name, target) != 0) error = errno;
  if (fd >= 0 && error) unlink(name);
  if (!error) sync_folder(target);
  free(name);
  sl_unbroken_end(&u);
  return error;
}

bool sl_out_unread(int fd) {
  struct pollfd p = { .fd = fd, .events = POLLOUT };
  return poll(&p, 1, 0) == 1 && (p.revents & POLLERR);
}

_Noreturn void sl_out_leave(void) {
  sigset_t pipe;
  sigemptyset(&pipe);
  sigaddset(&pipe, SIGPIPE);
  signal(SIGPIPE, SIG_DFL);
  sigprocmask(SIG_UNBLOCK, &pipe, NULL);
  raise(SIGPIPE);
  _exit(128 + SIGPIPE);
}

bool sl_out_commit(struct sl_out *out, char *why, size_t size) {
  bool failed = !sl_out_flush(out);
  int error = out->error;
  const bool unread = !out->target && (error == EPIPE || (failed && !error && sl_out_unread(fileno(out->file))));
  if (!failed && out->target) failed = (error = take_place(out->target, fileno(out->file))) != 0;
  if (fclose(out->file) != 0 && !failed) error = errno, failed = true;
  if (unread) sl_out_leave();
  if (failed) {
    struct stat st;
    say_why(out, error, why, size);
    const size_t said = strlen(why);
    snprintf(why + said, size - said, "; %s",
             error == EBADF ? "nothing of it has gone out"
             : !out->target ? "a part of it may have gone out"
             : stat(out->target, &st) == 0 ? "the new text is lost, the file that was there is unchanged"
             : "the new text is lost, and no file is left behind");
  }
  release(out);
  return !failed;
}

void sl_out_abandon(struct sl_out *out) {
  if (!out) return;
  if (out->owned) fclose(out->file);
  release(out);
}
