/* SPDX-License-Identifier: MIT
 * Shared by the files of the sandbox only: its state and the parts that sandbox.c puts together. */
#ifndef SL_SAFE_H
#define SL_SAFE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <lua.h>
#include "box/pool.h"
#include "box/sandbox.h"
#include "host/text.h"

/* A text on its way to the compiler. */
struct sl_compiled { const char *at, *end, *name; int line; };

struct sl_box {
  void *owner;                 /* sl_sandbox_own */
  struct sl_pool pool;
  lua_State *L;                /* the main thread; NULL: it is being made */
  size_t memory;               /* the limit: pool.most once a run has begun */
  bool careful;                /* the next request wants a second look: see sl_box_settle */
  long long steps, left;       /* left: no limit where steps is negative */
  int depth;                   /* calls under way; steps are counted while it is not 0 */
  int guarded;                 /* of these, the host's own: scripts are under way where depth is more */
  int catching;                /* a script's own pcall and xpcall that are under way */
  size_t asked;                /* not 0: a request of that size for that block was refused and has not been granted */
  const void *asked_for;
  const char *refused;         /* why it was */
  const char *why;             /* set once: the run is over */
  char place[SL_PLACE_ROOM];            /* "file:line: " of where that was, or of the last refusal; empty: not known */
  const struct sl_compiled *compiled;                    /* the text that is compiled; NULL: none */
  char over_memory[64], over_steps[64];
  unsigned long long seed;
  uint64_t random[4];
};
static inline struct sl_box *sl_box(lua_State *L) { return *(struct sl_box **)lua_getextraspace(L); }
/* A script's steps are counted now. */
static inline bool sl_box_counts(const struct sl_box *box) { return box->steps >= 0 && box->depth > box->guarded; }

/* memory.c */
void *sl_box_allocate(void *box, void *block, size_t old, size_t size);      /* for lua_newstate */
/* After what counts has changed: whether a request is looked at twice, for one before it was refused, or its bytes are
 * counted as steps. */
static inline void sl_box_settle(struct sl_box *box) { box->careful = box->asked || sl_box_counts(box); }
void sl_box_end(struct sl_box *box, const char *why);    /* the run is over; the first reason stays */
void sl_box_follow_up(struct sl_box *box);               /* the allocator cannot raise: what it found shows here */
/* "file:line: " of the nearest level of a person's text; asks for no memory, so that the allocator can say it, too. */
void sl_box_note_place(lua_State *L, struct sl_box *box);

bool sl_box_over(lua_State *L);                          /* the run is over */
/* Before a buffer grows, which by itself collects nothing. */
void sl_box_room(lua_State *L, size_t size);
_Noreturn void sl_box_stop(lua_State *L);                /* raises why, with the place where it was */

/* pattern.c: a compiled pattern is one node for each item, matched by backtracking that counts its steps. */
enum { SL_CAPTURES = 32 };
struct sl_node;
struct sl_pattern {
  struct sl_node *node; size_t n;
  int captures;
  bool anchored;
};
struct sl_capture { const char *at; ptrdiff_t size; };   /* size -1: a position */
struct sl_matcher {
  const char *begin, *end;     /* the whole subject */
  long long *left;             /* steps; below 0 the match was broken off and says nothing */
  struct sl_capture capture[SL_CAPTURES];
};
size_t sl_pattern_room(size_t length);      /* bytes for the nodes of a pattern of that length */
/* NULL, or what is wrong with it.  A '^' in front anchors only where that is asked for. */
const char *sl_pattern_compile(struct sl_pattern *out, void *room, const char *text, size_t length, bool anchors);
/* The end of the match that begins exactly at s, or NULL. */
const char *sl_pattern_match(const struct sl_pattern *p, struct sl_matcher *m, const char *s);

int sl_str_find(lua_State *L);
int sl_str_match(lua_State *L);
int sl_str_gmatch(lua_State *L);
int sl_str_gsub(lua_State *L);

/* safe_base.c */
int sl_base_pcall(lua_State *L);
int sl_base_xpcall(lua_State *L);
void sl_base_open(lua_State *L);            /* adds the base functions to the table on top */
/* safe_libs.c: each pushes a table of functions.  Called with the standard libraries open, before any script. */
void sl_string_open(lua_State *L);
void sl_table_open(lua_State *L);
void sl_math_open(lua_State *L);
void sl_utf8_open(lua_State *L);
void sl_random_seed(struct sl_box *box, unsigned long long seed);
int sl_math_random(lua_State *L);
#endif
