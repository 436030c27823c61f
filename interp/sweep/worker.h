/* SPDX-License-Identifier: MIT
 * A worker, from inside: a forked process that does blocks of variants and sends their rows. */
#ifndef SL_SWEEP_WORKER_H
#define SL_SWEEP_WORKER_H

#include <lua.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdint.h>
#include <sys/types.h>
#include "sweep/rows.h"

/* In memory that parent and workers share.  Each slot has a cache line of its own. */
enum { SL_NO_VARIANT = -1 };
struct sl_slot {
  _Alignas(64) _Atomic int64_t number;       /* the variant at hand; SL_NO_VARIANT: none of its block yet */
  _Atomic uint64_t begun;                    /* variants and blocks; one that does not move is at the same variant */
};
struct sl_shared {
  _Atomic bool stop;                         /* no variant is begun any more */
  _Atomic bool counting;                     /* steps are counted in each variant */
  struct sl_slot slot[];
};

/* What host.variant and host.row know; all zero in the parent. */
struct sl_worker {
  struct sl_shared *shared;
  struct sl_slot *slot;
  int in, out;                               /* pipes: blocks from the parent, frames to it */
  bool alone;                                /* one variant, counted */
  long long steps;                           /* that a variant may take */
  int columns;                               /* of a row */
  size_t until_ask;                          /* variants of the block till the next one is asked for */
  int64_t sent;                              /* when, in ns */
  struct sl_bytes rows;
};

/* Nanoseconds of a clock that only goes on. */
int64_t sl_now(void);
/* After the fork: does blocks with the function on top of the stack until there are no more, and ends the process. */
_Noreturn void sl_worker_be(lua_State *L, struct sl_worker *w, pid_t parent);
/* host.variant and host.row; the worker is upvalue 1. */
int sl_worker_variant(lua_State *L);
int sl_worker_row(lua_State *L);
#endif
