/* SPDX-License-Identifier: MIT
 * The line of progress. */
#include "sweep/progress.h"

#include <stdio.h>
#include <sys/ioctl.h>
#include <unistd.h>
#include "host/text.h"

enum { USUAL_WIDTH = 80 };

struct sl_progress sl_progress_begin(void) { return (struct sl_progress){ .terminal = isatty(STDERR_FILENO) }; }

static int width(void) {
  struct winsize size;
  return ioctl(STDERR_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col ? size.ws_col : USUAL_WIDTH;
}

/* The last column stays empty: some terminals begin a new line there. */
void sl_progress_show(struct sl_progress *p, const char *text, size_t n) {
  if (!p->terminal) return;
  const int most = width() - 1;
  size_t at = 0;
  for (int columns = 0; at < n;) {
    const struct sl_piece piece = sl_piece_at(text, n, at);
    if (columns + piece.columns > most) break;
    columns += piece.columns;
    at += piece.bytes;
  }
  fputc('\r', stderr);
  sl_show(stderr, text, at);
  fputs("\033[K", stderr);
  fflush(stderr);
  p->shown = true;
}

void sl_progress_clear(struct sl_progress *p) {
  if (!p->shown) return;
  fputs("\r\033[K", stderr);
  fflush(stderr);
  p->shown = false;
}
