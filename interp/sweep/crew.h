/* SPDX-License-Identifier: MIT
 * The workers of one sweep, their parent's side: what each is given, what it tells, what becomes of it. */
#ifndef SL_SWEEP_CREW_H
#define SL_SWEEP_CREW_H

#include <lua.h>
#include <poll.h>
#include <signal.h>
#include <stdbool.h>
#include <stdint.h>
#include <sys/types.h>
#include "sweep/keeping.h"
#include "sweep/lane.h"
#include "sweep/numbers.h"
#include "sweep/progress.h"
#include "sweep/worker.h"

/* Where the state's stack has them, all along; the crew is userdata. */
enum { SL_AT_CREW = 1, SL_AT_DB, SL_AT_NEXT, SL_AT_WORK, SL_AT_LOST, SL_AT_TICK };

struct sl_crew {
  int jobs;
  struct sl_lane *lane;
  struct pollfd *wait;                   /* signals, and two for each lane */
  struct sl_worker *worker;              /* what host.variant and host.row of a worker are going to know */
  struct sl_shared *shared;
  size_t shared_size;
  pid_t self;
  struct sl_keeping keeping;
  bool unkept;                           /* the store refused */
  struct sl_numbers done;
  struct sl_block *given_back;           /* of workers that died */
  bool exhausted;                        /* next() has no more */
  long long steps;
  double seconds, watch;                 /* processor time that a variant may take: counted, not counted */
  bool counting;
  int doubts;
  int signals;                           /* a descriptor that they are read from */
  int stops;                             /* signals that came */
  sigset_t mask;                         /* as it was */
  struct sigaction pipe;
  bool masked;
  int64_t began, ticked;
  struct sl_progress progress;
};

int sl_crew_no_memory(lua_State *L);                 /* raises */
void sl_crew_kept(lua_State *L, struct sl_crew *c, int status);                      /* raises what SQLite says */
/* Signals that came: from the first on no variant is begun. */
void sl_crew_hear(struct sl_crew *c);
/* A worker where there is work, the next block where one is wanted, leave to go home where there is none. */
void sl_crew_keep_busy(lua_State *L, struct sl_crew *c, struct sl_lane *lane);
/* What a worker told, or its end. */
void sl_crew_receive(lua_State *L, struct sl_crew *c, struct sl_lane *lane);
#endif
