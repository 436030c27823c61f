/* SPDX-License-Identifier: MIT
 * Two pipes emptied side by side. */
#include "confine/passing.h"
#include <errno.h>
#include <poll.h>
#include <string.h>
#include <unistd.h>
#include "confine/strain.h"
#include "host/text.h"
#include "write/out.h"

enum { PIECE = 16384 };

struct passing { size_t room, most; const char *path; char *why; size_t size; };
/* One pipe, and the beginning of a character that came last.  in_line: its last line has no end. */
struct flow { int from, to; bool in_line; size_t waits; char held[SL_STRAIN_WAITS]; };

static bool write_all(int fd, const char *data, size_t size) {
  while (size > 0) {
    const ssize_t n = write(fd, data, size);
    if (n >= 0) { data += n; size -= (size_t)n; continue; }
    if (errno == EAGAIN) poll(&(struct pollfd){ .fd = fd, .events = POLLOUT }, 1, -1);
    else if (errno != EINTR) return false;
  }
  return true;
}

/* The first reason is the reason. */
static void tell(const struct passing *p, const char *what, const char *reason) {
  if (!*p->why) sl_say(p->why, p->size, "%s: %s", what, reason);
}

/* Writes n bytes behind those that waited. */
static bool put(struct passing *p, struct flow *flow, const char *data, size_t n, bool last) {
  char raw[SL_STRAIN_WAITS + PIECE], safe[4 * sizeof raw + 1];
  size_t taken;
  memcpy(raw, flow->held, flow->waits);
  memcpy(raw + flow->waits, data, n);
  n += flow->waits;
  const size_t ready = sl_strain(safe, raw, n, last, &taken);
  flow->waits = n - taken;
  memcpy(flow->held, raw + taken, flow->waits);
  if (ready) flow->in_line = safe[ready - 1] != '\n';
  if (write_all(flow->to, safe, ready)) return true;
  if (flow->to == STDERR_FILENO) tell(p, "cannot write to standard error", sl_out_reason(errno));
  else if (!p->path) tell(p, "cannot write to standard output", sl_out_reason(errno));
  else if (!*p->why) sl_say(p->why, p->size, "cannot write '%s': %s", p->path, sl_out_reason(errno));
  return false;
}

/* Passes one read on.  false: this pipe is done, or (why is set) all is over. */
static bool pass_on(struct passing *p, struct flow *flow) {
  char data[PIECE];
  const ssize_t n = read(flow->from, data, sizeof data);
  if (n < 0 && (errno == EINTR || errno == EAGAIN)) return true;
  if (n < 0) tell(p, "cannot read the child's output", strerror(errno));
  if (n <= 0) {
    put(p, flow, "", 0, true);
    return false;
  }
  const bool whole = (size_t)n <= p->room;
  const size_t part = whole ? (size_t)n : p->room;
  p->room -= part;
  if (!put(p, flow, data, part, !whole)) return false;
  if (!whole) sl_say(p->why, p->size, "wrote more than %zu bytes", p->most);
  return whole;
}

static bool pass_both(struct passing *p, struct flow flow[2]) {
  struct pollfd from[2] = { { .fd = flow[0].from, .events = POLLIN }, { .fd = flow[1].from, .events = POLLIN } };
  while (from[0].fd >= 0 || from[1].fd >= 0) {
    if (poll(from, 2, -1) < 0) {
      if (errno == EINTR) continue;
      tell(p, "cannot read the child's output", strerror(errno));
      return false;
    }
    for (int i = 0; i < 2; i++) {
      if (from[i].fd < 0 || !from[i].revents) continue;
      if (!pass_on(p, &flow[i])) from[i].fd = -1;
      if (*p->why) return false;
    }
  }
  return true;
}

bool sl_pass_output(int out, int err, const struct sl_child_limits *limits, char *why, size_t size) {
  struct passing p = { .room = limits->output, .most = limits->output, .path = limits->path, .why = why, .size = size };
  struct flow flow[2] = { { .from = out, .to = STDOUT_FILENO }, { .from = err, .to = STDERR_FILENO } };
  const bool whole = pass_both(&p, flow);
  if (flow[1].in_line) write_all(STDERR_FILENO, "\n", 1);          /* what we say stands on a line of its own */
  return whole;
}
