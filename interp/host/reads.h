/* SPDX-License-Identifier: MIT
 * The files that a run reads, and the one whose place its output takes: they must not be the same.  No Lua.
 * Files are told apart by device and inode, so that links and other spellings of a path deceive nobody. */
#ifndef SL_READS_H
#define SL_READS_H

#include <stdbool.h>
#include <stddef.h>
#include <sys/stat.h>

struct sl_reads;

/* `output` as the person gave it; it need not be there.  What was read is shared with child processes: the parent,
 * which writes the output, knows what the child read.  NULL: no memory. */
struct sl_reads *sl_reads_new(const char *output);
void sl_reads_free(struct sl_reads *reads);
const char *sl_reads_output(const struct sl_reads *reads);
/* Notes a file that is about to be read, `is` that of its descriptor.  False: writing the output would destroy it. */
bool sl_reads_note(struct sl_reads *reads, const char *path, const struct stat *is);
/* Asked when the output is about to take its place: whether it would destroy a file read, and the path of that.  It
 * also finds what sl_reads_note had not seen yet, such as a link made while the script ran. */
bool sl_reads_destroyed(const struct sl_reads *reads, char *path, size_t size);
#endif
