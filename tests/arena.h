/* SPDX-License-Identifier: MIT
 * A Lua state that is as new for each text, and costs no more than a copy of its first bytes: its memory is one block,
 * taken from the front and never given back but all at once. */
#ifndef SL_ARENA_H
#define SL_ARENA_H

#include <lua.h>
#include <stdint.h>
#include <string.h>
#include "law.h"

enum { ARENA_BYTES = 1 << 28 };              /* only what is touched is taken from the system */

struct arena { uint8_t *block, *first; size_t used, kept; lua_State *L; };

static inline void *arena_take(void *arena, void *old, size_t old_size, size_t size) {
  struct arena *a = arena;
  uint8_t *at = old;
  if (size == 0) return NULL;
  if (at && size <= old_size) return at;
  const size_t room = (size + 15) & ~(size_t)15, before = (old_size + 15) & ~(size_t)15;
  const int last = at && at + before == a->block + a->used;
  if (last) a->used -= before;
  if (room > ARENA_BYTES - a->used) return a->used += last ? before : 0, NULL;
  uint8_t *new = a->block + a->used;
  a->used += room;
  if (at && at != new) memcpy(new, at, old_size);
  return new;
}

/* The state, as it was when it was made. */
static inline lua_State *arena_state(struct arena *a) {
  if (!a->L) {
    a->block = malloc(ARENA_BYTES);
    a->L = a->block ? lua_newstate(arena_take, a) : NULL;
    LAW(a->L);
    lua_gc(a->L, LUA_GCSTOP);
    a->kept = a->used;
    a->first = malloc(a->kept);
    LAW(a->first);
    memcpy(a->first, a->block, a->kept);
  }
  memcpy(a->block, a->first, a->kept);
  a->used = a->kept;
  return a->L;
}
#endif
