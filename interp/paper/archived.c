/* SPDX-License-Identifier: MIT
 * Where the module is linked of archives: names of the C library that these ask for, by the linker's --wrap.  To open
 * cairo's shared library is to open that of X and a dozen others, which takes longer than a page. */
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <zlib.h>
#include "paper/fixed.h"

/* ---- streams ----------------------------------------------------------------------------------------------------- */

/* An archive is of code for programs, which takes a stream of the C library for one at a place that is known: here they
 * stand beside it, the same ones, from before anybody asks. */
extern FILE *__real_stdout, *__real_stderr;
FILE *__wrap_stdout, *__wrap_stderr;
void sl_archived_streams(void);

__attribute__((constructor)) void sl_archived_streams(void) {
  __wrap_stdout = __real_stdout;
  __wrap_stderr = __real_stderr;
}

/* ---- numbers ----------------------------------------------------------------------------------------------------- */

int __wrap_snprintf(char *to, size_t size, const char *format, ...);
int __wrap___snprintf_chk(char *to, size_t size, int checks, size_t room, const char *format, ...);

/* All formats in which cairo prints a number; -1: it is none of these, or printf is to do it. */
static int number(char *to, size_t size, const char *format, va_list args) {
  if (format[0] != '%') return -1;
  if (strcmp(format + 1, "f") == 0) return sl_fixed(to, size, va_arg(args, double), 6);
  if (strcmp(format + 1, ".18f") == 0) return sl_fixed(to, size, va_arg(args, double), 18);
  if (strcmp(format + 1, ".*f") != 0) return -1;
  const int decimals = va_arg(args, int);
  return sl_fixed(to, size, va_arg(args, double), decimals);
}

static int print(char *to, size_t size, const char *format, va_list args) {
  va_list same;
  va_copy(same, args);
  const int n = number(to, size, format, same);
  va_end(same);
  return n >= 0 ? n : vsnprintf(to, size, format, args);
}

int __wrap_snprintf(char *to, size_t size, const char *format, ...) {
  va_list args;
  va_start(args, format);
  const int n = print(to, size, format, args);
  va_end(args);
  return n;
}

/* As a fortified archive has it: `room` is what the compiler knows that there is. */
int __wrap___snprintf_chk(char *to, size_t size, int checks, size_t room, const char *format, ...) {
  (void)checks;                                /* of %n, which is no number's */
  if (size > room) abort();
  va_list args;
  va_start(args, format);
  const int n = print(to, size, format, args);
  va_end(args);
  return n;
}

/* ---- streams of a PDF -------------------------------------------------------------------------------------------- */

int __wrap_deflateInit_(z_streamp stream, int level, const char *version, int size);

/* Packed as well as can be, a page takes longer than it took to draw, and half a megabyte to look back in: a page is
 * some tens of kilobytes, and what it repeats stands near. */
int __wrap_deflateInit_(z_streamp stream, int level, const char *version, int size) {
  enum { FAST = 1, WINDOW_BITS = 13, LITTLE = 7 };
  return level == Z_DEFAULT_COMPRESSION
         ? deflateInit2_(stream, FAST, Z_DEFLATED, WINDOW_BITS, LITTLE, Z_DEFAULT_STRATEGY, version, size)
         : deflateInit2_(stream, level, Z_DEFLATED, MAX_WBITS, MAX_MEM_LEVEL - 1, Z_DEFAULT_STRATEGY, version, size);
}
