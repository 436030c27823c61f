/* SPDX-License-Identifier: MIT
 * Output that is whole or not there. */
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
#include <sys/stat.h>
#include <unistd.h>

struct sl_out {
  FILE *file;
  char *path;        /* as the person gave it */
  char *target;      /* with symbolic links followed */
  char *temp;        /* NULL: written directly */
  bool existed;
  int error;         /* of the first write that failed */
};

enum { LINKS = 40, NAMES = 1000 };   /* symbolic links in a row, as Linux has it; temporary names that are tried */

const char *sl_out_reason(int error) {
  switch (error) {
    case 0: return "a write failed";
    case ENOSPC: return "the disk is full";
    case EDQUOT: return "the disk quota is used up";
    case EFBIG: return "it would be larger than the limit for files";
    case EPIPE: return "the reader closed the pipe";
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

void sl_out_begin(void) {
  signal(SIGPIPE, SIG_IGN);
#ifdef SIGXFSZ
  signal(SIGXFSZ, SIG_IGN);
#endif
  for (int fd = 0; fd <= 2; fd++)   /* the wrong way round on purpose: using it fails and is noticed */
    if (fcntl(fd, F_GETFD) < 0 && errno == EBADF && open("/dev/null", fd == 0 ? O_WRONLY : O_RDONLY) < 0) return;
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

/* The file that a path's symbolic links end at, which need not be there.  NULL: errno. */
static char *follow(const char *path) {
  char *now = strdup(path), link[PATH_MAX];
  for (int i = 0; now && i <= LINKS; i++) {
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

static char *folder_of(const char *path) {
  size_t n = folder_len(path);
  return n ? strndup(path, n) : strdup(".");
}

/* A new file in the target's folder, so that renaming stays on one disk.  -1: errno. */
static int open_temp(struct sl_out *out, mode_t mode) {
  for (int i = 0; i < NAMES; i++) {
    char name[64];
    snprintf(name, sizeof name, ".stringline-%ld-%d.tmp", (long)getpid(), i);     /* others may be open */
    free(out->temp);
    if (!(out->temp = join(out->target, folder_len(out->target), name))) return errno = ENOMEM, -1;
    int fd = open(out->temp, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (fd < 0 && errno == EEXIST) continue;
    if (fd >= 0 && out->existed) (void)fchmod(fd, mode & 0777);
    if (fd >= 0) return fd;
    break;
  }
  int error = errno;
  free(out->temp);
  out->temp = NULL;
  errno = error;
  return -1;
}

static int open_target(struct sl_out *out) {
  struct stat st;
  if (!out->path) return -1;
  if (stat(out->path, &st) == 0 && !S_ISREG(st.st_mode) && !S_ISDIR(st.st_mode))      /* /dev/stdout links to no path */
    return open(out->path, O_WRONLY | O_NOCTTY | O_CLOEXEC);
  if (!(out->target = follow(out->path))) return -1;
  if (out->target[folder_len(out->target)] == '\0') return errno = EISDIR, -1;
  out->existed = stat(out->target, &st) == 0;
  if (!out->existed) return errno == ENOENT ? open_temp(out, 0) : -1;
  if (S_ISDIR(st.st_mode)) return errno = EISDIR, -1;
  if (access(out->target, W_OK) != 0) return -1;   /* renaming over it would get round its write protection */
  return open_temp(out, st.st_mode);
}

static void release(struct sl_out *out) {
  if (!out) return;
  free(out->path);
  free(out->target);
  free(out->temp);
  free(out);
}

struct sl_out *sl_out_open(const char *path, char *why, size_t size) {
  if (path[0] == '\0') return snprintf(why, size, "no file name was given"), NULL;
  struct sl_out *out = calloc(1, sizeof *out);
  if (out) out->path = strdup(path);
  int fd = out ? open_target(out) : -1;
  if (fd >= 0 && (out->file = fdopen(fd, "w"))) return out;
  int error = errno;
  if (fd >= 0) {
    close(fd);
    if (out->temp) unlink(out->temp);
  }
  bool named = out && out->target && !out->existed && (error == ENOENT || error == EACCES);
  char *folder = named ? folder_of(out->target) : NULL;
  if (folder) snprintf(why, size, "cannot write '%s': %s '%s'", path,
                       error == ENOENT ? sl_out_reason(error) : "no permission to make a file in", folder);
  else snprintf(why, size, "cannot write '%s': %s", path, sl_out_reason(error));
  free(folder);
  release(out);
  return NULL;
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

bool sl_out_commit(struct sl_out *out, char *why, size_t size) {
  int error = out->error;
  bool ok = error == 0 && !ferror(out->file);
  if (fflush(out->file) != 0 && error == 0) error = errno, ok = false;
  if (ok && out->temp && !sync_fd(fileno(out->file))) error = errno, ok = false;
  if (fclose(out->file) != 0 && ok) error = errno, ok = false;
  if (ok && out->temp && rename(out->temp, out->target) != 0) error = errno, ok = false;
  if (ok && out->temp) sync_folder(out->target);
  if (!ok && out->temp) unlink(out->temp);
  if (!ok)
    snprintf(why, size, "cannot write '%s': %s; %s", out->path, sl_out_reason(error),
             !out->temp ? "a part of it may have gone out"
             : out->existed ? "the new text is lost, the file that was there is unchanged"
             : "the new text is lost, and no file is left behind");
  release(out);
  return ok;
}

void sl_out_abandon(struct sl_out *out) {
  if (!out) return;
  fclose(out->file);
  if (out->temp) unlink(out->temp);
  release(out);
}

/* ---- standard output --------------------------------------------------------------------------------------------- */

static bool reader_gone(int fd) {
  struct pollfd p = { .fd = fd, .events = POLLOUT };
  return poll(&p, 1, 0) == 1 && (p.revents & POLLERR);
}

bool sl_stdout_finish(char *why, size_t size) {
  bool failed = ferror(stdout);
  int error = 0;
  if (fflush(stdout) != 0) error = errno, failed = true;
  else if (failed && reader_gone(STDOUT_FILENO)) error = EPIPE;   /* an earlier write failed; its errno is gone */
  if (fclose(stdout) != 0 && !failed) error = errno, failed = true;
  if (!failed) return true;
  if (error == EPIPE) snprintf(why, size, "stopped: the reader closed the pipe before the end of the output");
  else snprintf(why, size, "the output is not complete: %s", sl_out_reason(error));
  return false;
}
