/* SPDX-License-Identifier: MIT
 * The sandbox: a Lua state in which a stranger's script can do no more than compute.  What is allowed and what stops
 * the rest: docs/sandbox.md.
 *
 * The state's globals belong to the host's own trusted Lua.  A script gets an environment of its own
 * (sl_sandbox_push_env) and runs under the limits only inside sl_sandbox_call. */
#ifndef SL_SANDBOX_H
#define SL_SANDBOX_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <lua.h>

struct sl_limits {
  size_t memory;              /* bytes of the whole run; 0: 512 MiB */
  long long steps;            /* of the whole run; 0: 400 million; negative: not counted (no hook, full speed) */
  unsigned long long seed;    /* of math.random; 0: 1 */
};

/* NULL limits: all defaults.  NULL back: no memory.  Globals: base, string, table, math, utf8 as Lua has them, except
 * that pcall and xpcall pass an abort on, math.random is seeded, and a string's methods are the script's safe ones. */
lua_State *sl_sandbox_new(const struct sl_limits *limits);
void sl_sandbox_close(lua_State *L);
/* From here on the memory is limited, for the host's own work too; the first script that is called sees to it, too. */
void sl_sandbox_limit(lua_State *L);
/* What the host keeps beside the state; the sandbox only hands it out. */
void sl_sandbox_own(lua_State *L, void *owner);
void *sl_sandbox_owner(lua_State *L);

/* A fresh allow-list environment.  It has no metatable: the caller adds print, its own names and a strict __index. */
void sl_sandbox_push_env(lua_State *L);
/* Why a name of standard Lua is not there ("os", "string.dump"), or NULL if standard Lua has no such name. */
const char *sl_sandbox_left_out(const char *name);

/* Text only (never bytecode).  Sets no environment.  Returns as luaL_loadbufferx. */
int sl_sandbox_load(lua_State *L, const char *text, size_t size, const char *chunk);
/* lua_pcall under the limits; nests.  After an abort the outermost call leaves the reason as the error value, with the
 * place in front where it is known, and every later call refuses to run. */
int sl_sandbox_call(lua_State *L, int nargs, int nresults, int msgh);
/* The same for the host's Lua, used as pcall is: (function, ...) -> true, ... | false, error.  Passes an abort on. */
int sl_sandbox_pcall(lua_State *L);
/* The host's own work under the memory cap: as sl_sandbox_call, but its steps are not counted, and no run beside the
 * run forgets an abort.  For a process that has nothing else to do; does not nest. */
int sl_sandbox_guard(lua_State *L, int nargs, int nresults, int msgh);
/* From here on scripts are counted, and may take so many steps; negative: they are not.  Outside of scripts only. */
void sl_sandbox_count(lua_State *L, long long steps);
/* Collects what is garbage where less than a quarter of the memory is left: a buffer that grows does not. */
void sl_sandbox_tidy(lua_State *L);
/* Memory of the run for what is not Lua's, as sl_memory_resize gives it; raises where there is none. */
void *sl_sandbox_resize(lua_State *L, void *block, size_t old, size_t size);
struct sl_box *sl_sandbox_box(lua_State *L);            /* for sl_memory_resize */
/* Raises what sl_memory_resize was refused for. */
_Noreturn void sl_sandbox_no_memory(lua_State *L);
/* NULL, or why the run is over: "used more than 400 million steps", "asked for more than 512 MiB of memory". */
const char *sl_sandbox_abort(lua_State *L);
enum { SL_PLACE_ROOM = 512 };
const char *sl_sandbox_stopped_at(lua_State *L);        /* "file:line: " of where that was; empty: not known */
/* The reason where the machine gave none. */
extern const char sl_no_memory[];
bool sl_sandbox_out_of_steps(lua_State *L);             /* that it was the steps */
/* Whether a script's code is under way, somewhere below. */
bool sl_sandbox_running(lua_State *L);
/* Whether the script itself would catch what is raised now: a pcall or xpcall of its own is under way. */
bool sl_sandbox_catches(lua_State *L);
/* Another run in the same state: the random numbers from the seed, and all steps again unless one was stopped. */
void sl_sandbox_rerun(lua_State *L);
/* How far a run has come, and back to there; a limit that was met meanwhile is forgotten.  Outside of calls only. */
struct sl_standing { long long left; uint64_t random[4]; };
void sl_sandbox_stand(lua_State *L, struct sl_standing *out);
void sl_sandbox_back(lua_State *L, const struct sl_standing *to);
/* For host functions that work long for a script: counts n steps (none if negative), raises at the limit. */
void sl_sandbox_charge(lua_State *L, long long n);
/* Lua's (f) -> a function that runs f, the host's own, without counting its steps one by one. */
int sl_sandbox_uncounted(lua_State *L);

/* Lua's (table) -> a function that gives the next key and value in the order of a script's pairs, keys that have no
 * order last. */
int sl_sandbox_sorted(lua_State *L);

/* Replaces the table on top by its read-only face: other names and assignments are errors, pairs walks it in order. */
void sl_sandbox_push_library(lua_State *L, const char *name);
/* Pushes the value as text without an address: __tostring, number, string, else __name or the type. */
const char *sl_sandbox_tostring(lua_State *L, int index, size_t *size);
#endif
