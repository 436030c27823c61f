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
static bool identify(const char *path, struct file *file) {
  struct stat st;
  if (stat(path, &st) != 0 || !S_ISREG(st.st_mode)) return false;
  file->device = st.st_dev;
  file->number = st.st_ino;
  return true;
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

bool sl_reads_note(struct sl_reads *reads, const char *path) {
  struct file read, target;
  if (!identify(path, &read)) return true;
  bool known = false;
  for (int i = 0; i < reads->count; i++) known = known || same(&reads->files[i], &read);
  if (!known && reads->count < FILES) {
    snprintf(read.path, sizeof read.path, "%s", path);
    reads->files[reads->count++] = read;
  }
  return !identify(reads->output, &target) || !same(&read, &target);
}

const char *sl_reads_destroyed(const struct sl_reads *reads) {
  struct file target;
  if (!identify(reads->output, &target)) return NULL;
  for (int i = 0; i < reads->count && i < FILES; i++)
    if (same(&reads->files[i], &target)) return reads->files[i].path;
  return NULL;
}
