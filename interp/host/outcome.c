/* SPDX-License-Identifier: MIT
 * One rule of the library on one of its subjects, as an outcome: what model.judge does most. */
#include <string.h>
#include <lauxlib.h>
#include "box/sandbox.h"
#include "host/host_parts.h"
#include "host/raise.h"

/* Upvalues: what judges a rule of a script, the job, and the texts that an outcome is made of. */
enum { SCRIPTED = 1, ROOT, IS_SCRIPTED, APPLIES, CHECK, EACH, PATH, JOB, RULE, SUBJECT, PROXY, OUTCOME, FINDING, WHYS,
       WHY, REASON, RESTS, FOUND, UNKNOWNS, HOLDS, BROKEN, UNKNOWN, NONE, NOTHING, UPVALUES = NOTHING };
static const char *const texts[] = { [IS_SCRIPTED] = "scripted", [APPLIES] = "applies", [CHECK] = "check",
  [EACH] = "each", [PATH] = "path",
  [JOB] = "job", [RULE] = "rule", [SUBJECT] = "subject", [PROXY] = "proxy", [OUTCOME] = "outcome",
  [FINDING] = "finding", [WHYS] = "whys", [WHY] = "why", [REASON] = "reason", [RESTS] = "rests", [FOUND] = "ok",
  [UNKNOWNS] = "unknowns", [HOLDS] = "holds", [BROKEN] = "broken", [UNKNOWN] = "unknown", [NONE] = "not applicable",
  [NOTHING] = "there is nothing of what it judges" };

#define UP(i) lua_upvalueindex(i)

/* Where things stand: the arguments, the rule's subject, what was found. */
enum { REC = 1, DEF, HERE, ANSWER };

/* def[text]: rules that are not loaded yet load there. */
static int of_rule(lua_State *L, int text) {
  lua_pushvalue(L, UP(text));
  return lua_gettable(L, DEF);
}

static void set(lua_State *L, int outcome, int text, int idx) {
  lua_pushvalue(L, UP(text));
  lua_pushvalue(L, idx);
  lua_rawset(L, outcome);
}

/* The outcome, but for what is told beside it. */
static int push_outcome(lua_State *L, int outcome, int more) {
  lua_createtable(L, 0, 5 + more);
  const int to = lua_gettop(L);
  set(L, to, RULE, DEF);
  lua_pushvalue(L, UP(SUBJECT));
  if (lua_toboolean(L, (of_rule(L, EACH), -1))) {
    lua_pushvalue(L, UP(PATH));
    lua_rawget(L, REC);
  } else lua_pushvalue(L, UP(JOB));
  lua_remove(L, -2);
  lua_rawset(L, to);
  set(L, to, PROXY, HERE);
  set(L, to, OUTCOME, UP(outcome));
  lua_pushvalue(L, UP(RESTS));
  lua_pushinteger(L, 0);
  lua_rawset(L, to);
  return to;
}

/* Calls the function on top with the subject and the job, which leaves so many values; false, where the error says why
 * there is none.  Any other error goes on. */
static bool called(lua_State *L, int values) {
  lua_pushvalue(L, HERE);
  lua_pushvalue(L, UP(ROOT));
  if (lua_pcall(L, 2, values, 0) == LUA_OK) return true;
  if (sl_sandbox_abort(L) || !sl_says_why(L)) lua_error(L);
  return false;
}

/* Whether the reason on top, which it leaves there, says that something is not asked at all. */
static bool not_asked(lua_State *L) {
  if (!sl_is_error(L, -1)) return false;
  lua_getfield(L, -1, "class");
  const bool yes = lua_type(L, -1) == LUA_TSTRING && strcmp(lua_tostring(L, -1), "none") == 0;
  lua_pop(L, 1);
  return yes;
}

/* Whether one of the reasons in the list on top does. */
static bool some_not_asked(lua_State *L) {
  bool yes = false;
  for (lua_Integer i = 1; !yes && lua_rawgeti(L, -1, i) != LUA_TNIL; i++) {
    yes = not_asked(L);
    lua_pop(L, 1);
  }
  if (!yes) lua_pop(L, 1);
  return yes;
}

/* Unknown, for the reasons in a list on top. */
static int unknown(lua_State *L) {
  const int whys = lua_gettop(L), to = push_outcome(L, UNKNOWN, 2);
  lua_rawgeti(L, whys, 1);
  set(L, to, WHYS, whys);
  set(L, to, WHY, to + 1);
  lua_settop(L, to);
  return 1;
}

static int unknown_for_this(lua_State *L) {
  lua_createtable(L, 1, 0);
  lua_insert(L, -2);
  lua_rawseti(L, -2, 1);
  return unknown(L);
}

/* judged(rec, def) -> { rule, subject, proxy, outcome, rests, finding, whys, why, reason }. */
static int judged(lua_State *L) {
  lua_settop(L, DEF);
  luaL_checkstack(L, 16, "rules");
  const bool scripted = lua_toboolean(L, (of_rule(L, IS_SCRIPTED), -1));
  lua_pop(L, 1);
  lua_pushvalue(L, UP(PROXY));
  lua_rawget(L, REC);
  if (!scripted && of_rule(L, APPLIES) != LUA_TNIL) {
    if (!called(L, 2)) return unknown_for_this(L);
    if (!lua_toboolean(L, ANSWER)) {
      const int why_not = lua_type(L, ANSWER + 1) == LUA_TSTRING ? ANSWER + 1 : UP(NOTHING);
      set(L, push_outcome(L, NONE, 1), REASON, why_not);
      return 1;
    }
  }
  lua_settop(L, HERE);
  if (!scripted) {
    of_rule(L, CHECK);
    const bool came = called(L, 1);
    if (!came && !not_asked(L)) return unknown_for_this(L);
    if (came && lua_istable(L, ANSWER) && (lua_pushvalue(L, UP(FOUND)), lua_rawget(L, ANSWER)) != LUA_TNIL) {
      const bool holds = lua_toboolean(L, -1);
      lua_pushvalue(L, UP(UNKNOWNS));
      const bool open = lua_rawget(L, ANSWER) != LUA_TNIL;
      if (!open || !some_not_asked(L)) {
        if (open && holds) return unknown(L);
        const int whys = lua_gettop(L), to = push_outcome(L, holds ? HOLDS : BROKEN, 1 + open);
        set(L, to, FINDING, ANSWER);
        if (open) set(L, to, WHYS, whys);
        return 1;
      }
    }
    lua_settop(L, HERE);
  }
  /* A rule of a script, one of which something is not asked, or what no rule may answer. */
  lua_pushvalue(L, UP(SCRIPTED));
  lua_pushvalue(L, REC);
  lua_pushvalue(L, DEF);
  lua_call(L, 2, 1);
  return 1;
}

/* judged(scripted, root) -> the function; scripted(rec, def) judges a rule of a script. */
static int open_judged(lua_State *L) {
  luaL_checktype(L, SCRIPTED, LUA_TFUNCTION);
  lua_settop(L, ROOT);
  for (int i = ROOT + 1; i <= UPVALUES; i++) lua_pushstring(L, texts[i]);
  lua_pushcclosure(L, judged, UPVALUES);
  return 1;
}

const luaL_Reg sl_host_outcome[] = { { "judged", open_judged }, { NULL, NULL } };
