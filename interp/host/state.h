/* SPDX-License-Identifier: MIT
 * What the C side of one run keeps, beside its Lua state: made and dropped with it.  Nothing of a run is kept
 * anywhere else, so that states can stand side by side, on threads of their own. */
#ifndef SL_STATE_H
#define SL_STATE_H

#include "box/sandbox.h"
#include "host/host.h"
#include "host/source.h"
#include "value/format.h"

struct sl_state {
  const struct sl_host *host;            /* what the caller chose */
  struct sl_sources sources;
  struct sl_unit_names units;
  struct sl_style style;                 /* how the job prints */
  int asides;                            /* runs beside the run, one in another: they print nothing */
  unsigned long long resting;            /* a bit for each value from memory that what is worked out now rests on */
  void (*leaving)(lua_State *L);         /* closes what is open beside the state, which goes; NULL: nothing is */
  int quantity_meta, wire_meta, worked_meta;   /* where the registry has the metatables */
};

static inline struct sl_state *sl_state_of(lua_State *L) { return sl_sandbox_owner(L); }

#endif
