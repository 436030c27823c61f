/* SPDX-License-Identifier: MIT
 * Output that is whole or not there: a file is written beside its place and renamed into it; standard output is
 * flushed and asked at the end whether all of it went out.  No Lua. */
#ifndef SL_OUT_H
#define SL_OUT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

struct sl_out;

/* Once, before anything is written: a closed pipe and a file size limit become errors that are reported, and a
 * standard stream that was closed by the caller can't be taken by the next file that is opened. */
void sl_out_begin(void);

/* Starts a new text for `path`; what is there stays as it is until sl_out_commit.  A symbolic link is followed, an
 * existing file's mode is kept.  A device or a pipe is written to directly.  NULL: `why` says what is in the way. */
struct sl_out *sl_out_open(const char *path, char *why, size_t size);
/* False from the first failure on; sl_out_commit then says what it was. */
bool sl_out_write(struct sl_out *out, const char *text, size_t len);
__attribute__((format(printf, 2, 3))) bool sl_out_printf(struct sl_out *out, const char *format, ...);
/* For what prints to a FILE; its failures are found by sl_out_commit. */
FILE *sl_out_file(struct sl_out *out);
/* All of it reaches the disk and takes the name, or nothing does and `why` says what is lost and what is kept.
 * `out` is gone either way. */
bool sl_out_commit(struct sl_out *out, char *why, size_t size);
/* As if it had never been opened. */
void sl_out_abandon(struct sl_out *out);

/* What the system's error means for a file that is written. */
const char *sl_out_reason(int error);
/* The last act on stdout: flushes and closes it.  False: `why` says what is missing. */
bool sl_stdout_finish(char *why, size_t size);
#endif
