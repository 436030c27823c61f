/* SPDX-License-Identifier: MIT
 * A worker, from outside: its process, its pipes, the blocks that it was given.  A lane has one worker after another.
 * No Lua. */
#ifndef SL_SWEEP_LANE_H
#define SL_SWEEP_LANE_H

#include <stdbool.h>
#include <stdint.h>
#include <sys/types.h>
#include "sweep/numbers.h"
#include "sweep/rows.h"
#include "sweep/worker.h"

struct sl_lane {
  pid_t pid;                         /* 0: none */
  int to, from;                      /* pipes; to: -1 when the worker is to go home; from: -1 when it has gone */
  struct sl_bytes in, out;           /* frames that came, blocks that the pipe did not take yet */
  size_t sent;                       /* of out */
  struct sl_block *blocks;           /* given to it, in order, without what has its row */
  struct sl_slot *slot;
  bool asks;                         /* for its next block */
  bool alone;                        /* it does one variant, counted */
  bool killed;                       /* by us: that variant took too long */
  char how[16], why[128];            /* the limit that it met, told by itself */
  uint64_t begun;                    /* its count when last looked at, */
  double cpu;                        /* and its processor time when that moved */
  bool suspected, watched;           /* a variant is to be done alone, in this lane; it was killed by the watch */
  int64_t suspect;
};

/* Both are to be closed by sl_lane_end.  `ends` gets the worker's: in, out.  False: errno says why. */
bool sl_lane_open(struct sl_lane *lane, int ends[2]);
/* One more block is the lane's. */
void sl_lane_own(struct sl_lane *lane, struct sl_block *block);
/* Gives the worker the last of them.  False: no memory. */
bool sl_lane_give(struct sl_lane *lane);
/* Writes what the pipe takes. */
void sl_lane_send(struct sl_lane *lane);
/* Reads what there is.  False: the pipe is at its end, or (errno) cannot be read. */
bool sl_lane_receive(struct sl_lane *lane);
/* No more blocks: it goes home. */
void sl_lane_dismiss(struct sl_lane *lane);
/* Kills it where it took more than `most` s of processor time for the variant at hand. */
void sl_lane_watch(struct sl_lane *lane, double most);
/* Waits for its end, which is near, and gives its status; with `kill` it does not have the choice. */
int sl_lane_end(struct sl_lane *lane, bool kill);
#endif
