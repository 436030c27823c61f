/* SPDX-License-Identifier: MIT
 * Which files a run read, so that its output overwrites none of them. */
#define _DEFAULT_SOURCE        /* MAP_ANONYMOUS */
#include "host/reads.h"
#include <stdio.h>
#include <sys/mman.h>
#include <sys/stat.h>

enum { FILES = 256 };          /* a job has no more, see read_source of host_file.c */

struct file { dev_t device; ino_t number; char path[512]; };     /* a longer path is only shown cut */
struct sl_reads { char output[4096]; int count; struct file files[FILES]; };

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
  struct sl_reads *reads = mmap(NULL, sizeof *reads, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
  if (reads == MAP_FAILED) return NULL;
  snprintf(reads->output, sizeof reads->output, "%s", output);
  return reads;
}

void sl_reads_free(struct sl_reads *reads) {
  if (reads) munmap(reads, sizeof *reads);
}

const char *sl_reads_output(const struct sl_reads *reads) { return reads->output; }

bool sl_reads_note(struct sl_reads *reads, const char *path, const struct stat *is) {
  struct file read, target;
  if (!identify(is, &read)) return true;
  bool known = false;
  for (int i = 0; i < reads->count; i++) known = known || same(&reads->files[i], &read);
  if (!known && reads->count < FILES) {
    snprintf(read.path, sizeof read.path, "%s", path);
    reads->files[reads->count++] = read;
  }
  return !find_target(reads, &target) || !same(&read, &target);
}

const char *sl_reads_destroyed(const struct sl_reads *reads) {
  struct file target;
  if (!find_target(reads, &target)) return NULL;
  for (int i = 0; i < reads->count && i < FILES; i++)
    if (same(&reads->files[i], &target)) return reads->files[i].path;
  return NULL;
}
