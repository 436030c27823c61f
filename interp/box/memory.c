/* SPDX-License-Identifier: MIT
 * The account of a run: who asks for memory, what is done where there is none, and what asking costs in steps. */
#include "box/memory.h"

#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include "box/safe.h"

enum {
  STEP_BYTES_LOG2 = 4,       /* 16 bytes asked for count as one step: `..` copies without running an instruction */
  LARGE_BYTES_LOG2 = 7,      /* and of what is collected 128 bytes of large blocks, which are mostly text */
  LEAST_SHARE = 64,          /* of the memory that must be there again after a collection */
  RESERVE = 4 << 20,         /* beyond the limit, for what there is to say when it is met */
};
#define SELDOM __attribute__((noinline))
const char sl_no_memory[] = SL_NO_MEMORY;

/* ---- places ------------------------------------------------------------------------------------------------------ */

void sl_box_note_place(lua_State *L, struct sl_box *box) {
  lua_Debug ar;
  *box->place = '\0';
  for (int level = 0; lua_getstack(L, level, &ar); level++) {
    lua_getinfo(L, "Sl", &ar);
    if (*ar.source != '@' || ar.currentline < 0) continue;
    snprintf(box->place, sizeof box->place, "%s:%d: ", ar.source + 1, ar.currentline > 0 ? ar.currentline : 1);
    return;
  }
  if (box->compiled && box->compiled->line)
    snprintf(box->place, sizeof box->place, "%s:%d: ", box->compiled->name, box->compiled->line);
}

/* ---- memory ----------------------------------------------------------------------------------------------------- */

static void charge(struct sl_box *box, size_t steps) {
  if (!sl_box_counts(box)) return;
  box->left = steps > (size_t)LLONG_MAX || (long long)steps > box->left ? -1 : box->left - (long long)steps;
}

/* To say so takes some memory, too. */
void sl_box_end(struct sl_box *box, const char *why) {
  if (box->why) return;
  box->why = why;
  if (box->pool.most) box->pool.most = box->memory > SIZE_MAX - RESERVE ? SIZE_MAX : box->memory + RESERVE;
}

/* Lua asks, collects all garbage, asks for the same once more, and only then gives up: a second refusal is the
 * abort.  The buffers of the auxiliary library ask only once, so a first refusal not followed up is one as well. */
static bool asks_again(const struct sl_box *box, const void *block, size_t size) {
  return box->asked == size && box->asked_for == block;
}

/* What it takes to look through all that there is. */
static void charge_collection(struct sl_box *box) {
  charge(box, (box->pool.in_chunks >> STEP_BYTES_LOG2) + (box->pool.in_large >> LARGE_BYTES_LOG2));
}

static void *refuse(struct sl_box *box, const void *block, size_t size) {
  if (!box->why && box->L) sl_box_note_place(box->L, box);
  const char *why = box->pool.full ? box->over_memory : sl_no_memory;
  if (asks_again(box, block, size)) sl_box_end(box, why);
  else charge_collection(box);
  box->asked = size;
  box->asked_for = block;
  box->refused = why;
  sl_box_settle(box);
  return NULL;
}

void sl_box_follow_up(struct sl_box *box) {
  if (box->why) return;
  if (box->asked) sl_box_end(box, box->refused);
  else if (box->left < 0) sl_box_end(box, box->over_steps);
}

/* After all garbage was collected: that a collection brings next to nothing ends a run, too, for it would go on with
 * one for each thing it makes. */
static bool tidy(struct sl_box *box, size_t size) {
  if (sl_pool_tidy(&box->pool, size) >= box->memory / LEAST_SHARE || !box->pool.most) return true;
  sl_box_end(box, box->over_memory);
  return false;
}

static bool collect(struct sl_box *box, size_t size) {
  charge_collection(box);
  lua_gc(box->L, LUA_GCCOLLECT);
  return tidy(box, size);
}

void sl_box_room(lua_State *L, size_t size) {
  struct sl_box *box = sl_box(L);
  if (!sl_pool_has(&box->pool, size) && !collect(box, size)) sl_box_stop(L);
}

static SELDOM void *allocate_otherwise(struct sl_box *box, void *block, size_t old, size_t size) {
  if (!block) old = 0;                                   /* old is then a type tag */
  const bool again = size > old && box->asked && asks_again(box, block, size);
  if (again && !box->why && !tidy(box, size)) return NULL;
  void *new = sl_pool_resize(&box->pool, block, old, size);
  if (!new) return size > old ? refuse(box, block, size) : NULL;
  if (size <= old) return new;
  if (again) {
    box->asked = 0;
    sl_box_settle(box);
  }
  charge(box, size >> STEP_BYTES_LOG2);
  return new;
}

/* Most calls are for a small new block that is at hand, or free one. */
void *sl_box_allocate(void *ud, void *block, size_t old, size_t size) {
  struct sl_box *box = ud;
  if (!block && size - 1 < SL_POOL_MOST && !box->careful) {
    void *new = sl_pool_at_hand(&box->pool, size);
    if (new) return new;
  }
  if (block && size == 0 && sl_pool_gave(&box->pool, block, old)) return NULL;
  return allocate_otherwise(box, block, old, size);
}

void *sl_memory_resize(struct sl_box *box, void *block, size_t old, size_t size) {
  if (!box) {
    if (size) return realloc(block, size);
    free(block);
    return NULL;
  }
  void *new = sl_pool_resize(&box->pool, block, old, size);
  if (new || size <= old) return new;
  if (box->pool.full && collect(box, size)) new = sl_pool_resize(&box->pool, block, old, size);
  if (!new && !box->why && box->L) sl_box_note_place(box->L, box);
  if (!new) sl_box_end(box, box->pool.full ? box->over_memory : sl_no_memory);
  return new;
}

void *sl_sandbox_resize(lua_State *L, void *block, size_t old, size_t size) {
  void *new = sl_memory_resize(sl_box(L), block, old, size);
  if (!new && size) sl_sandbox_no_memory(L);
  return new;
}
