/* SPDX-License-Identifier: MIT
 * Work done in a child process that can read a few folders and write to two pipes, and nothing else: the only thing
 * that really stops a script, whatever it finds to exploit. */
#ifndef SL_CHILD_H
#define SL_CHILD_H

#include <stddef.h>

struct sl_child_limits {
  unsigned cpu_seconds;       /* 0: 60; fewer where the caller has fewer */
  size_t memory;              /* bytes of address space, the program's own included; 0: 1 GiB */
  size_t output;              /* bytes of standard output and error together; 0: 64 MiB */
  const char *path;           /* the file that standard output stands for; NULL: it is none of ours */
  /* What it may open: these files, each with the folder that it stands in and all below, ended by NULL; and folders as
   * in STRINGLINE_PATH.  NULL: none. */
  const char *const *files;
  const char *folders;
};

enum sl_child_how {
  SL_CHILD_RAN,               /* to its end */
  SL_CHILD_STOPPED,           /* by a limit, a signal, or because nobody reads what it writes */
  SL_CHILD_UNCONFINED,        /* it could not be confined, so that nothing was run */
};
struct sl_child_end {
  enum sl_child_how how;
  int status;                 /* what the body gave (0 to 255); SL_RESOURCE unless it ran */
  char why[256];              /* "stopped after 60 s of processor time"; "" where it ran */
};

/* Runs body(arg) in a child and passes its output on, made safe (confine/strain.h).  The child has no input, no other
 * descriptor, and cannot write or change a file, read one elsewhere, start a process or open a socket.  NULL limits:
 * all defaults. */
struct sl_child_end sl_child_run(int (*body)(void *), void *arg, const struct sl_child_limits *limits);
#endif
