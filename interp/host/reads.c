/* SPDX-License-Identifier: MIT
 * Which files a run read, so that its output overwrites none of them. */
#define _DEFAULT_SOURCE        /* MAP_ANONYMOUS */
#include "host/reads.h"
#include <stdio.h>
#include <stdlib.h>
#include <sys/mman.h>
#include <sys/stat.h>

enum { FILES = 256 };          /* a job has no more, see read_source of host_file.c */

struct file { dev_t device; ino_t number; char path[512]; };     /* a longer path is only shown cut */
/* Shared with a child, which may be taken over: so it is believed no more than what that writes. */
struct list { int count; struct file files[FILES]; };
struct sl_reads { char output[4096]; struct list *list; };

/* Only a plain file can be destroyed: a terminal may well be both read and written. */
static bool identify(const struct stat *is, struct file *file) {
  if (!S_ISREG(is->st_mode)) return false;
  file->device = is->st_dev;
  file->number = is->st_ino;
  return true;
}

/* What the output would take the place of; false: nothing that can be destroyed. */
static bool find_target(const struct sl_reads *reads, struct file *target) {
  struct stat is;
  return stat(reads->output, &is) == 0 && identify(&is, target);
}

static bool same(const struct file *a, const struct file *b) {
  return a->device == b->device && a->number == b->number;
}

struct sl_reads *sl_reads_new(const char *output) {
  struct sl_reads *reads = malloc(sizeof *reads);
  if (!reads) return NULL;
  reads->list = mmap(NULL, sizeof *reads->list, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
  if (reads->list == MAP_FAILED) {
    free(reads);
    return NULL;
  }
  snprintf(reads->output, sizeof reads->output, "%s", output);
  return reads;
}

void sl_reads_free(struct sl_reads *reads) {
  if (reads) munmap(reads->list, sizeof *reads->list);
  free(reads);
}

const char *sl_reads_output(const struct sl_reads *reads) { return reads->output; }

bool sl_reads_note(struct sl_reads *reads, const char *path, const struct stat *is) {
  struct file read, target;
  if (!identify(is, &read)) return true;
  struct list *list = reads->list;
  const int count = list->count;
  bool known = false;
  for (int i = 0; i < count && i < FILES; i++) known = known || same(&list->files[i], &read);
  if (!known && count >= 0 && count < FILES) {
    snprintf(read.path, sizeof read.path, "%s", path);
    list->files[count] = read;
    list->count = count + 1;
  }
  return !find_target(reads, &target) || !same(&read, &target);
}

bool sl_reads_destroyed(const struct sl_reads *reads, char *path, size_t size) {
  struct file target;
  if (!find_target(reads, &target)) return false;
  for (int i = 0; i < reads->list->count && i < FILES; i++)
    if (same(&reads->list->files[i], &target)) {
      snprintf(path, size, "%.*s", (int)sizeof target.path - 1, reads->list->files[i].path);
      return true;
    }
  return false;
}
