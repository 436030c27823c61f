/* SPDX-License-Identifier: MIT
 * Output that is whole or not there.  The text for a file is collected in memory; only when all of it is there, it is
 * written beside its place and renamed into it, and no signal breaks that off: so a run that ends early, however that
 * happens, leaves nothing.  What is no plain file gets the text straight.  No Lua. */
#ifndef SL_OUT_H
#define SL_OUT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

struct sl_out;

/* Once, before anything is written: a closed pipe and a file size limit become errors that are found, and a standard
 * stream that was closed by the caller can't be taken by the next file that is opened.  False: it could be. */
bool sl_out_begin(void);

/* Starts a new text for `path`; what is there stays as it is until sl_out_commit.  A symbolic link is followed; an
 * existing file's mode is kept, its owner and group where we may give them.  A device, a pipe, or a descriptor
 * (/dev/stdout, /dev/stderr, /dev/fd/N, however spelt) is written to straight.  NULL: `why` says what is in the way. */
struct sl_out *sl_out_open(const char *path, char *why, size_t size);
/* One that goes straight to standard output, or to a text in memory.  NULL: no memory. */
struct sl_out *sl_out_of(FILE *file);
/* An empty file that only memory holds.  NULL: errno. */
FILE *sl_out_memory(void);
/* The whole of what such a file holds goes behind what was written. */
bool sl_out_take(struct sl_out *out, FILE *memory);
/* False from the first failure on; sl_out_commit then says what it was. */
bool sl_out_write(struct sl_out *out, const char *text, size_t len);
__attribute__((format(printf, 2, 3))) bool sl_out_printf(struct sl_out *out, const char *format, ...);
bool sl_out_flush(struct sl_out *out);
/* For what prints to a FILE; its failures are found by sl_out_commit. */
FILE *sl_out_file(struct sl_out *out);
/* All of it reaches the disk and takes the name, or nothing does and `why` says what is lost and what is kept.
 * `out` is gone either way, and its FILE closed.  Where it goes straight to a pipe whose reader has left, the program
 * ends here as SIGPIPE would have ended it: there is nobody to tell. */
bool sl_out_commit(struct sl_out *out, char *why, size_t size);
/* As if it had never been opened; the FILE of sl_out_of stays with its owner. */
void sl_out_abandon(struct sl_out *out);

/* What the system's error means for a file that is written. */
const char *sl_out_reason(int error);
/* Whoever read from this pipe has left. */
bool sl_out_unread(int fd);
/* Ends the program as SIGPIPE does. */
_Noreturn void sl_out_leave(void);
#endif
