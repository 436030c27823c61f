/* SPDX-License-Identifier: MIT
 * Lanes of workers. */
#define _GNU_SOURCE                  /* F_SETPIPE_SZ */
#include "sweep/lane.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

enum { READ = 1 << 16, PIPE = 1 << 20 };

static void close_end(int *fd) {
  if (*fd >= 0) close(*fd);
  *fd = -1;
}

/* Our end does not wait, and neither goes to a program that is started later. */
static bool make_pipe(int ends[2], int ours) {
  if (pipe(ends) != 0) return false;
  for (int i = 0; i < 2; i++)
    if (fcntl(ends[i], F_SETFD, FD_CLOEXEC) != 0) return false;
  return fcntl(ends[ours], F_SETFL, O_NONBLOCK) == 0;
}

bool sl_lane_open(struct sl_lane *lane, int ends[2]) {
  int blocks[2] = { -1, -1 }, frames[2] = { -1, -1 };
  if (!make_pipe(blocks, 1) || !make_pipe(frames, 0)) {
    const int error = errno;
    for (int i = 0; i < 2; i++) {
      close_end(&blocks[i]);
      close_end(&frames[i]);
    }
    errno = error;
    return false;
  }
  (void)fcntl(frames[0], F_SETPIPE_SZ, PIPE);          /* while the store writes, workers go on; less will do */
  lane->to = blocks[1];
  lane->from = frames[0];
  ends[0] = blocks[0];
  ends[1] = frames[1];
  lane->in.n = lane->out.n = lane->sent = 0;
  lane->asks = lane->killed = false;
  *lane->how = *lane->why = '\0';
  lane->begun = atomic_load(&lane->slot->begun);
  lane->cpu = 0;
  atomic_store(&lane->slot->number, SL_NO_VARIANT);
  return true;
}

void sl_lane_send(struct sl_lane *lane) {
  while (lane->to >= 0 && lane->sent < lane->out.n) {
    const ssize_t n = write(lane->to, lane->out.at + lane->sent, lane->out.n - lane->sent);
    if (n > 0) lane->sent += (size_t)n;
    else if (errno == EAGAIN) return;
    else if (errno != EINTR) break;                    /* it is dead: its other pipe says so */
  }
  lane->out.n = lane->sent = 0;
}

void sl_lane_own(struct sl_lane *lane, struct sl_block *block) {
  struct sl_block **last = &lane->blocks;
  while (*last) last = &(*last)->next;
  *last = block;
  block->next = NULL;
}

bool sl_lane_give(struct sl_lane *lane) {
  const struct sl_block *block = lane->blocks;
  while (block->next) block = block->next;
  const int64_t n = (int64_t)(block->n - block->at);
  const size_t size = (size_t)n * sizeof *block->number;
  if (!sl_bytes_room(&lane->out, sizeof n + size)) return false;
  memcpy(lane->out.at + lane->out.n, &n, sizeof n);
  memcpy(lane->out.at + lane->out.n + sizeof n, block->number + block->at, size);
  lane->out.n += sizeof n + size;
  lane->asks = false;
  sl_lane_send(lane);
  return true;
}

bool sl_lane_receive(struct sl_lane *lane) {
  if (!sl_bytes_room(&lane->in, READ)) {
    errno = ENOMEM;
    return false;
  }
  const ssize_t n = read(lane->from, lane->in.at + lane->in.n, lane->in.room - lane->in.n);
  if (n > 0) lane->in.n += (size_t)n;
  if (n == 0) errno = 0;
  return n > 0 || (n < 0 && (errno == EAGAIN || errno == EINTR));
}

void sl_lane_dismiss(struct sl_lane *lane) {
  if (lane->sent < lane->out.n) return;                /* first the rest of its block */
  close_end(&lane->to);
}

static double processor_time(pid_t pid) {
  clockid_t clock;
  struct timespec t;
  if (clock_getcpuclockid(pid, &clock) != 0 || clock_gettime(clock, &t) != 0) return 0;
  return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

void sl_lane_watch(struct sl_lane *lane, double most) {
  if (!lane->pid || lane->killed) return;
  const uint64_t begun = atomic_load_explicit(&lane->slot->begun, memory_order_acquire);
  const double cpu = processor_time(lane->pid);
  if (begun != lane->begun) {
    lane->begun = begun;
    lane->cpu = cpu;
  } else if (cpu - lane->cpu > most) {
    kill(lane->pid, SIGKILL);
    lane->killed = true;
  }
}

int sl_lane_end(struct sl_lane *lane, bool kill_it) {
  int status = 0;
  close_end(&lane->to);
  if (lane->pid && kill_it) kill(lane->pid, SIGKILL);
  while (lane->pid && waitpid(lane->pid, &status, 0) < 0 && errno == EINTR) continue;
  close_end(&lane->from);
  lane->pid = 0;
  return status;
}
