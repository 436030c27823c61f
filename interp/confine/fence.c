/* SPDX-License-Identifier: MIT
 * The fence around files, by Landlock (Linux 5.13 and later). */
#define _GNU_SOURCE            /* O_PATH, syscall */
#include "confine/fence.h"
#include <fcntl.h>
#include <limits.h>
#include <stdint.h>
#include <string.h>
#include <unistd.h>
#include <linux/landlock.h>
#include <sys/stat.h>
#include <sys/syscall.h>

/* The rights of the first version: each is refused where no rule gives it.  What later versions added (to move a file
 * to another folder, to cut it short, sockets) the filter of system calls refuses. */
static const uint64_t rights = (LANDLOCK_ACCESS_FS_MAKE_SYM << 1) - 1;

/* A path that cannot be opened here is left out: then nothing behind it can be read. */
static bool open_for_reading(int fence, const char *path) {
  struct stat st;
  bool done = true;
  const int fd = open(path, O_PATH | O_CLOEXEC);
  if (fd < 0) return true;
  if (fstat(fd, &st) == 0 && (S_ISREG(st.st_mode) || S_ISDIR(st.st_mode))) {
    const struct landlock_path_beneath_attr rule = {
      .allowed_access = LANDLOCK_ACCESS_FS_READ_FILE | (S_ISDIR(st.st_mode) ? LANDLOCK_ACCESS_FS_READ_DIR : 0),
      .parent_fd = fd,
    };
    done = syscall(SYS_landlock_add_rule, fence, LANDLOCK_RULE_PATH_BENEATH, &rule, 0) == 0;
  }
  close(fd);
  return done;
}

/* n bytes of a path, "" being the current folder. */
static bool open_folder(int fence, const char *path, size_t n) {
  char folder[PATH_MAX];
  if (n >= sizeof folder) return true;
  memcpy(folder, n ? path : ".", n ? n : 1);
  folder[n ? n : 1] = '\0';
  return open_for_reading(fence, folder);
}

static bool add_rules(int fence, const char *const *files, const char *folders) {
  for (; files && *files; files++) {
    const char *slash = strrchr(*files, '/');
    const size_t n = slash ? (size_t)(slash - *files) + (slash == *files) : 0;
    if (!open_for_reading(fence, *files) || !open_folder(fence, *files, n)) return false;
  }
  while (folders && *folders) {
    const size_t n = strcspn(folders, ":");
    if (n && !open_folder(fence, folders, n)) return false;
    folders += n + (folders[n] == ':');
  }
  return true;
}

bool sl_fence(const char *const *files, const char *folders) {
  const struct landlock_ruleset_attr all = { .handled_access_fs = rights };
  const long fence = syscall(SYS_landlock_create_ruleset, &all, sizeof all.handled_access_fs, 0);
  if (fence < 0) return false;
  const bool done = add_rules((int)fence, files, folders) && syscall(SYS_landlock_restrict_self, (int)fence, 0) == 0;
  close((int)fence);
  return done;
}
