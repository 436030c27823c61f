/* SPDX-License-Identifier: MIT
 * The walk from a folder to a file below it. */
#define _GNU_SOURCE        /* O_PATH */
#include "host/beneath.h"
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

enum { LINKS = 40, DEEPEST = 64 };       /* links on one way, as Linux has it; folders in each other */

struct walk {
  int folder[DEEPEST + 1], deep;         /* the folders come through, the first at 0 */
  size_t length[DEEPEST + 1];            /* of `seen`, at each of them */
  char seen[PATH_MAX];                   /* the way from the first folder to the last, with a '/' behind each */
  char way[PATH_MAX];                    /* what is to be walked, and how much of it has been */
  size_t done;
  int links;
  struct sl_link *link;
};

static int fail(int error) {
  errno = error;
  return -1;
}

static bool is(const char *part, size_t n, const char *word) { return strlen(word) == n && memcmp(part, word, n) == 0; }

static void leave(struct walk *w) {
  const int error = errno;
  close(w->folder[w->deep--]);
  errno = error;
}

static int enter(struct walk *w, int folder, const char *part) {
  const size_t from = w->length[w->deep];
  const int n = snprintf(w->seen + from, sizeof w->seen - from, "%s/", part);
  if (w->deep == DEEPEST || n < 0 || (size_t)n >= sizeof w->seen - from) {
    close(folder);
    return fail(ENAMETOOLONG);
  }
  w->folder[++w->deep] = folder;
  w->length[w->deep] = from + (size_t)n;
  return 0;
}

/* Puts what the link `part` says in front of what is left.  -1: errno, `error` where it is no link. */
static int expand(struct walk *w, const char *part, const char *left, int error) {
  char says[PATH_MAX], way[PATH_MAX];
  const ssize_t length = readlinkat(w->folder[w->deep], part, says, sizeof says - 1);
  if (length < 0) return fail(error);
  says[length] = '\0';
  snprintf(w->link->path, sizeof w->link->path, "%.*s%s", (int)w->length[w->deep], w->seen, part);
  snprintf(w->link->says, sizeof w->link->says, "%.*s", SL_LINK_SHOWN - 1, says);
  if (says[0] == '/') return fail(EXDEV);
  if (++w->links > LINKS) return fail(ELOOP);
  const int n = snprintf(way, sizeof way, "%s%s", says, left);       /* left: "", or from its '/' on */
  if (n < 0 || (size_t)n >= sizeof way) return fail(ENAMETOOLONG);
  memcpy(w->way, way, (size_t)n + 1);
  w->done = 0;
  return 0;
}

/* One part further.  The file, or -1 with errno 0: there is more to walk. */
static int step(struct walk *w) {
  char part[NAME_MAX + 1];
  const char *left = w->way + w->done, *at = left + strspn(left, "/");
  const size_t n = strcspn(at, "/");
  const bool last = at[n + strspn(at + n, "/")] == '\0';
  if (n >= sizeof part) return fail(ENAMETOOLONG);
  memcpy(part, at, n);
  part[n] = '\0';
  if (is(part, n, "..")) {
    if (w->deep == 0) return fail(EXDEV);
    leave(w);
  }
  const bool same = n == 0 || is(part, n, ".") || is(part, n, "..");
  if (!same || last) {
    const int how = O_NOFOLLOW | O_CLOEXEC | (last ? O_RDONLY | O_NONBLOCK | O_NOCTTY : O_PATH | O_DIRECTORY) |
                    (last && at[n] == '/' ? O_DIRECTORY : 0);
    const int fd = openat(w->folder[w->deep], same ? "." : part, how);   /* a pipe must not make us wait */
    if (fd >= 0 && last) return fd;
    if (fd >= 0 && enter(w, fd, part) != 0) return -1;
    if (fd < 0 && (errno == ELOOP || errno == ENOTDIR)) return expand(w, part, at + n, errno) == 0 ? fail(0) : -1;
    if (fd < 0) return -1;
  }
  w->done = (size_t)(at + n - w->way);
  return fail(0);
}

int sl_beneath_open(const char *folder, const char *name, struct sl_link *link) {
  struct walk w;
  w.deep = w.links = 0;
  w.length[0] = w.done = 0;
  w.link = link;
  *link = (struct sl_link){ .path = "" };
  const int n = snprintf(w.way, sizeof w.way, "%s", name);
  if (n < 0 || (size_t)n >= sizeof w.way) return fail(ENAMETOOLONG);
  if (n == 0) return fail(ENOENT);
  w.folder[0] = open(*folder ? folder : ".", O_PATH | O_DIRECTORY | O_CLOEXEC);
  if (w.folder[0] < 0) return -1;
  int fd;
  do fd = step(&w);
  while (fd < 0 && errno == 0);
  while (w.deep >= 0) leave(&w);
  return fd;
}
