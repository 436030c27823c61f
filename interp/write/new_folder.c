/* SPDX-License-Identifier: MIT
 * A new folder of texts that is whole or not there: written beside its place, and renamed into it. */
#include "new_folder.h"
#include "host/text.h"
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>
#include "write/out.h"
#include "write/unbroken.h"

enum { NAMES = 1000, SPARE = 64 };   /* temporary names that are tried; bytes that their own part takes */

/* A path with room for what is put behind it. */
struct path { char *text; size_t room; };

static const char *put(struct path *p, const char *folder, const char *name) {
  snprintf(p->text, p->room, "%s/%s", folder, name);
  return p->text;
}

/* The folders that a file stands in, the outermost first; those that are there already are left. */
static bool make_way(struct path *p, const char *folder, const char *name) {
  for (const char *slash = strchr(name, '/'); slash; slash = strchr(slash + 1, '/')) {
    snprintf(p->text, p->room, "%s/%.*s", folder, (int)(slash - name), name);
    if (mkdir(p->text, 0777) != 0 && errno != EEXIST) return false;
  }
  return true;
}

static bool write_one(struct path *p, const char *folder, const struct sl_new_file *f, char *why, size_t size) {
  if (!make_way(p, folder, f->path)) return snprintf(why, size, "%s", sl_out_reason(errno)), false;
  struct sl_out *out = sl_out_open(put(p, folder, f->path), why, size);
  if (!out) return false;
  sl_out_write(out, f->text, f->len);
  return sl_out_commit(out, why, size);
}

/* What write_one may have made, the innermost first. */
static void remove_all(struct path *p, const char *folder, const struct sl_new_file *files, size_t n) {
  for (size_t i = 0; i < n; i++) unlink(put(p, folder, files[i].path));
  for (size_t i = 0; i < n; i++)
    for (size_t at = strlen(files[i].path); at > 0; at--)
      if (files[i].path[at] == '/') {
        snprintf(p->text, p->room, "%s/%.*s", folder, (int)at, files[i].path);
        rmdir(p->text);
      }
  rmdir(folder);
}

/* A new folder beside `path`, so that renaming stays on one disk; its name is put into `to`. */
static bool make_beside(const char *path, char *to, size_t size) {
  const char *slash = strrchr(path, '/');
  const int before = slash ? (int)(slash - path) + 1 : 0;
  for (int i = 0; i < NAMES; i++) {
    snprintf(to, size, "%.*s.stringline-%ld-%d.tmp", before, path, (long)getpid(), i);
    if (mkdir(to, 0777) == 0) return true;
    if (errno != EEXIST) return false;
  }
  return false;
}

static bool write_all(const char *folder, struct path *p, const struct sl_new_file *files, size_t n,
                      const struct sl_unbroken *u, char *why, size_t size) {
  for (size_t i = 0; i < n; i++)
    if (sl_unbroken_stop(u) || !write_one(p, folder, &files[i], why, size)) return false;
  return true;
}

/* Why the folder cannot take its name, or cannot be made beside it. */
static void tell(const char *path, int error, char *why, size_t size) {
  struct stat is;
  const char *slash = strrchr(path, '/');
  if (lstat(path, &is) == 0 && !S_ISDIR(is.st_mode)) snprintf(why, size, "something else of that name is there");
  else if (error == ENOTEMPTY || error == EEXIST) snprintf(why, size, "it is there already, and something is in it");
  else if (error == ENOENT && slash) snprintf(why, size, "there is no folder '%.*s'", (int)(slash - path), path);
  else snprintf(why, size, "%s", sl_out_reason(error));
}

bool sl_new_folder(const char *path, const struct sl_new_file *files, size_t n, char *why, size_t size) {
  size_t longest = 0;
  for (size_t i = 0; i < n; i++) longest = strlen(files[i].path) > longest ? strlen(files[i].path) : longest;
  const size_t room = strlen(path) + SPARE;
  struct path p = { malloc(room + longest + 2), room + longest + 2 };
  char *folder = malloc(room), *own = strdup(path);
  bool done = false;
  if (!p.text || !folder || !own) snprintf(why, size, SL_NO_MEMORY);
  else {
    struct sl_unbroken u;
    for (size_t end = strlen(own); end > 1 && own[end - 1] == '/'; end--) own[end - 1] = '\0';
    sl_unbroken_begin(&u);
    const bool made = make_beside(own, folder, room);
    if (!made) tell(own, errno, why, size);
    else if (write_all(folder, &p, files, n, &u, why, size)) {
      done = rename(folder, own) == 0;
      if (!done) tell(own, errno, why, size);
    }
    if (made && !done) remove_all(&p, folder, files, n);
    sl_unbroken_end(&u);
  }
  free(own);
  free(folder);
  free(p.text);
  return done;
}
