/* SPDX-License-Identifier: MIT
 * What was worked out, and what it was worked out from: the engine behind model.memo and model.variants.
 *
 * A node is a result of a record (or a rule's outcome on it), a cell is a value that somebody gave.  A node is worked
 * out when it is wanted, once.  While the run is tracked a node knows what it read and who read it, so that of a
 * variant only that is worked out again which a changed cell reaches, and no further than values really change.
 *
 * Variants are levels in each other.  What one changes of nodes, edges and cells is written down before and put back
 * when it ends, so that what was there before is there again without working anything out. */
#include "host/nodes.h"

#include <lauxlib.h>
#include <string.h>
#include "box/sandbox.h"
#include "host/again.h"
#include "host/alike.h"
#include "host/raise.h"
#include "host/state.h"

enum stale { FRESH, MAYBE, SURELY };   /* MAYBE: if anything that it read becomes another value */

struct ids { int *at, n, room; };

struct node {
  struct ids deps, readers;
  int of;                              /* the node of which it is one output, or 0 */
  long long run, seen;                 /* its own last run, 0 none; the run of the reader that noted it last */
  int above;                           /* who wants it, while busy */
  bool busy, unknown, result;          /* result: it may be read by its name */
  unsigned long long rests;
};

/* What is asked of all nodes that a change reaches, by far the most of which are never worked out again: apart from the
 * rest, so that it stays in the caches. */
struct state {
  long long level;                     /* where it was written down or worked out */
  unsigned char stale;
  bool cell;
  bool kept;                           /* all of the node is written down, or need not be */
  bool own;                            /* deps are of this level's making: nobody wrote them down */
};

enum change { STATE, PUT };
struct entry { enum change what; int id; struct state was; };
struct old { int id; struct node was; };              /* of a node that was worked out again */

struct level {
  long long number, floor, base;       /* of the level; from where on nodes are no older; of the one without changes */
  int top, nodes, entries, olds, edges;               /* what is being worked out; how many there were when it began */
  bool tracking;
  bool forgets;                        /* nothing that nodes were is written down: all is stale when it ends */
};

struct engine {
  bool heard;                          /* somebody in the model listens to reads (model.noting) */
  bool again;                          /* and what is read is kept from one run of a function to the next */
  struct node *node;                   /* from 1 */
  struct state *state;                 /* of each */
  int n, room, state_room;
  struct entry *log;
  int entries, log_room;
  struct old *old;
  int olds, old_room;
  struct ids marked;                   /* those whose readers a change reaches, too */
  struct ids edges;                    /* nodes and cells that got one more reader in a level, one after the other */
  struct level now, *levels;           /* those around this one */
  int depth, levels_room;
  long long numbers, runs;             /* a sweep of days must not come round */
};

/* Upvalues of every function here. */
enum { ENGINE = 1, VALUES, FINDS, RECS, DEFS, NAMES, INSIDE, CELLS, LOG, LUA, TABLES = LUA };
/* And behind them the names of fields, which are wanted all the time. */
enum { NAME = TABLES + 1, OUT, RESTS, ROOT, PICKS, OF, FIND, UPVALUES = FIND };
static const char *const words[] = { "name", "out", "rests", "root", "picks", "of", "find" };
/* Of the data of a record: what was given, its nodes by name, its proxy; its fields by name.  A list's and a map's:
 * GIVEN only. */
enum { GIVEN = 1, NODES, PROXY, FIELDS = 5 };
/* Of LUA: the functions and tables of the model's that are needed here. */
enum { READ = 1, CIRCLE, NOTED, GIVE, AGAIN };
#define UP(i) lua_upvalueindex(i)

static int field(lua_State *L, int table, int word) {
  lua_pushvalue(L, UP(word));
  return lua_rawget(L, table);
}

static struct engine *engine_of(lua_State *L) { return lua_touserdata(L, UP(ENGINE)); }

static void *grown(lua_State *L, void *p, int *room, size_t size) {
  const int more = *room ? *room * 2 : 4;
  void *q = sl_sandbox_resize(L, p, (size_t)*room * size, (size_t)more * size);
  *room = more;
  return q;
}

static void add_id(lua_State *L, struct ids *list, int id) {
  if (list->n == list->room) list->at = grown(L, list->at, &list->room, sizeof *list->at);
  list->at[list->n++] = id;
}

/* Whether what changes now is put back later. */
static bool passes(const struct engine *e) { return e->depth > 0 && e->now.number > e->now.base && !e->now.forgets; }

static struct entry *write_down(lua_State *L, struct engine *e, enum change what, int id) {
  if (e->entries == e->log_room) e->log = grown(L, e->log, &e->log_room, sizeof *e->log);
  struct entry *entry = &e->log[e->entries++];
  entry->what = what;
  entry->id = id;
  return entry;
}

/* ---- nodes ------------------------------------------------------------------------------------------------------- */

static int new_node(lua_State *L, struct engine *e) {
  if (e->n + 1 >= e->room) e->node = grown(L, e->node, &e->room, sizeof *e->node);
  if (e->n + 1 >= e->state_room) e->state = grown(L, e->state, &e->state_room, sizeof *e->state);
  e->node[++e->n] = (struct node){ 0 };
  e->state[e->n] = (struct state){ .stale = SURELY, .level = e->now.number, .kept = true, .own = true };
  return e->n;
}

static void free_ids(lua_State *L, struct ids *list) {
  sl_sandbox_resize(L, list->at, (size_t)list->room * sizeof *list->at, 0);
}

static void free_node(lua_State *L, struct node *n) {
  free_ids(L, &n->deps);
  free_ids(L, &n->readers);
  *n = (struct node){ 0 };
}

static enum stale stale(const struct engine *e, int id) {
  const struct state *s = &e->state[id];
  return s->cell ? FRESH : s->level < e->now.floor ? SURELY : s->stale;
}

/* Before a node changes at this level. */
static void keep(lua_State *L, struct engine *e, int id) {
  struct state *s = &e->state[id];
  if (s->level == e->now.number) return;
  if (passes(e)) write_down(L, e, STATE, id)->was = *s;
  s->kept = !passes(e);
  if (s->level < e->now.floor) s->stale = SURELY;
  s->level = e->now.number;
}

/* Before it is worked out again at this level; it is written down already. */
static void keep_whole(lua_State *L, struct engine *e, int id) {
  if (e->state[id].kept) return;
  if (e->olds == e->old_room) e->old = grown(L, e->old, &e->old_room, sizeof *e->old);
  if (e->node[id].run) {
    lua_rawgeti(L, UP(VALUES), id);
    lua_rawseti(L, UP(LOG), e->olds + 1);
  }
  e->old[e->olds++] = (struct old){ id, e->node[id] };
  e->state[id].kept = true;
  e->state[id].own = false;
}

/* What is being worked out reads this. */
static void note(lua_State *L, struct engine *e, int id) {
  const int top = e->now.top;
  if (!top || !e->now.tracking) return;
  struct node *x = &e->node[id], *reader = &e->node[top];
  if (x->seen == reader->run) return;
  x->seen = reader->run;
  add_id(L, &reader->deps, id);
  add_id(L, &x->readers, top);
  if (passes(e)) add_id(L, &e->edges, id);
}

/* What reads a node, and what reads that.  A job's nodes are more than caches hold: what is looked at next is fetched
 * while others are looked at. */
static void mark(lua_State *L, struct engine *e, int id, enum stale how) {
  enum { AHEAD = 4 };
  struct ids *const marked = &e->marked;
  marked->n = 0;
  add_id(L, marked, id);
  for (int k = 0; k < marked->n; k++, how = MAYBE) {
    if (k + AHEAD < marked->n) __builtin_prefetch(e->node[marked->at[k + AHEAD]].readers.at);
    const struct ids *readers = &e->node[marked->at[k]].readers;
    for (int i = 0; i < readers->n; i++) {
      const int reader = readers->at[i];
      const enum stale was = stale(e, reader);
      if (was >= how) continue;
      keep(L, e, reader);
      e->state[reader].stale = (unsigned char)how;
      if (was != FRESH) continue;
      __builtin_prefetch(&e->node[reader].readers);
      add_id(L, marked, reader);
    }
  }
}

/* Raises that a node needs itself, with those that wanted each other. */
static void circle(lua_State *L, struct engine *e, int id) {
  lua_rawgeti(L, UP(LUA), CIRCLE);
  lua_newtable(L);
  lua_Integer n = 0;
  for (int at = e->now.top; at; at = at != id ? e->node[at].above : 0) {
    lua_createtable(L, 2, 0);
    lua_rawgeti(L, UP(RECS), at);
    lua_rawseti(L, -2, 1);
    lua_rawgeti(L, UP(NAMES), at);
    lua_rawseti(L, -2, 2);
    lua_rawseti(L, -2, ++n);
  }
  lua_call(L, 1, 0);
}

static void refresh(lua_State *L, struct engine *e, int id);

/* An empty list of what a node reads.  Where the log has the one from before, that says how long it gets. */
static void own_deps(lua_State *L, struct engine *e, int id) {
  struct node *n = &e->node[id];
  if (!e->state[id].own) {
    const int room = n->deps.n;
    n->deps = (struct ids){ 0 };
    if (room) {
      n->deps.at = sl_sandbox_resize(L, NULL, 0, (size_t)room * sizeof *n->deps.at);
      n->deps.room = room;
    }
  }
  n->deps.n = 0;
  e->state[id].own = true;
}

/* An output of another node, which is worked out for it. */
static void pick(lua_State *L, struct engine *e, int id) {
  const int of = e->node[id].of, above = e->now.top;
  if (e->node[of].busy) circle(L, e, of);
  if (stale(e, of)) refresh(L, e, of);
  struct node *n = &e->node[id];
  n->run = ++e->runs;
  own_deps(L, e, id);
  e->now.top = id;
  note(L, e, of);
  e->now.top = above;
  n = &e->node[id];
  n->rests = e->node[of].rests;
  n->unknown = e->node[of].unknown;
  lua_rawgeti(L, UP(VALUES), of);
  if (!n->unknown) {
    const int worked = lua_gettop(L);
    lua_rawgeti(L, UP(DEFS), id);
    field(L, worked + 1, OUT);
    lua_gettable(L, worked);
    lua_replace(L, worked);
    lua_settop(L, worked);
  }
  lua_rawseti(L, UP(VALUES), id);
  e->state[id].stale = FRESH;
}

/* Works a node out; it is written down already. */
static void compute(lua_State *L, struct engine *e, int id) {
  if (e->node[id].of) {
    pick(L, e, id);
    return;
  }
  struct sl_state *state = sl_state_of(L);
  struct node *n = &e->node[id];
  const unsigned long long rested = state->resting;
  n->busy = true;
  n->above = e->now.top;
  n->run = ++e->runs;
  own_deps(L, e, id);
  e->now.top = id;
  state->resting = 0;
  lua_rawgeti(L, UP(FINDS), id);
  lua_rawgeti(L, UP(RECS), id);
  lua_rawgeti(L, UP(DEFS), id);
  const int status = lua_pcall(L, 2, 1, 0);
  n = &e->node[id];
  e->now.top = n->above;
  n->busy = false;
  e->state[id].stale = SURELY;
  n->rests = state->resting;
  state->resting = rested;
  const char *over = sl_sandbox_abort(L);
  if (over && status == LUA_OK) lua_pushstring(L, over);
  if (over || (status != LUA_OK && !sl_says_why(L))) {
    lua_error(L);
    return;
  }
  n->unknown = status != LUA_OK;
  e->state[id].stale = FRESH;
  lua_rawseti(L, UP(VALUES), id);
}

/* A node that is stale: afterwards it is what it is. */
static void refresh(lua_State *L, struct engine *e, int id) {
  if (e->node[id].busy) circle(L, e, id);
  luaL_checkstack(L, 16, "results");
  keep(L, e, id);
  if (e->state[id].stale == MAYBE) {
    for (int i = 0; i < e->node[id].deps.n && e->state[id].stale == MAYBE; i++) {
      const int dep = e->node[id].deps.at[i];
      if (stale(e, dep)) refresh(L, e, dep);
    }
    if (e->state[id].stale == MAYBE) {
      e->state[id].stale = FRESH;
      return;
    }
  }
  keep_whole(L, e, id);
  const struct node was = e->node[id];
  if (!was.run || !e->now.tracking) {
    compute(L, e, id);
    return;
  }
  lua_rawgeti(L, UP(VALUES), id);
  const int old = lua_gettop(L);
  compute(L, e, id);
  const struct node *n = &e->node[id];
  lua_rawgeti(L, UP(VALUES), id);
  if (n->unknown == was.unknown && n->rests == was.rests && sl_alike(L, old, old + 1)) {
    lua_pushvalue(L, old);
    lua_rawseti(L, UP(VALUES), id);
  } else
    for (int i = 0; i < e->node[id].readers.n; i++) {
      const int reader = e->node[id].readers.at[i];
      if (stale(e, reader) != MAYBE) continue;
      keep(L, e, reader);
      e->state[reader].stale = SURELY;
    }
  lua_settop(L, old - 1);
}

static void want(lua_State *L, struct engine *e, int id) {
  if (e->node[id].busy) circle(L, e, id);
  if (stale(e, id)) refresh(L, e, id);
  note(L, e, id);
  sl_state_of(L)->resting |= e->node[id].rests;
}

/* Pushes a node's value, or raises why there is none. */
static int worth(lua_State *L, const struct engine *e, int id) {
  lua_rawgeti(L, UP(VALUES), id);
  if (!e->node[id].unknown) return 1;
  if (sl_sandbox_running(L)) sl_error_clean(L);      /* whoever catches it must not hold the kept one */
  return lua_error(L);
}

/* The node of a record's data and a name, at the indices rec and rec + 1, worked out by find(rec, x) behind them. */
static int node_at(lua_State *L, struct engine *e, int rec) {
  int id;
  if (lua_rawgeti(L, rec, NODES) != LUA_TTABLE) {
    lua_pop(L, 1);
    lua_newtable(L);
    lua_pushvalue(L, -1);
    lua_rawseti(L, rec, NODES);
  }
  lua_pushvalue(L, rec + 1);
  if (lua_rawget(L, -2) == LUA_TNUMBER) {
    id = (int)lua_tointeger(L, -1);
    lua_pop(L, 2);
    return id;
  }
  lua_pop(L, 1);
  id = new_node(L, e);
  lua_pushvalue(L, rec + 1);
  lua_pushinteger(L, id);
  lua_rawset(L, -3);
  lua_pop(L, 1);
  static const int kept[] = { RECS, NAMES, FINDS, DEFS };
  for (int i = 0; i < 4; i++) {
    lua_pushvalue(L, rec + i);
    lua_rawseti(L, UP(kept[i]), id);
  }
  return id;
}

/* value(rec, name, find, x [, result]) -> what find(rec, x) gives, worked out once; result: it may be read by name. */
static int n_value(lua_State *L) {
  struct engine *e = engine_of(L);
  lua_settop(L, 5);
  const int id = node_at(L, e, 1);
  if (lua_toboolean(L, 5)) e->node[id].result = true;
  want(L, e, id);
  return worth(L, e, id);
}

static int node_of(lua_State *L, struct engine *e);

/* The node of another one's primitive, of which the definition at `def` picks an output. */
static int picked_from(lua_State *L, struct engine *e, int rec, int def) {
  lua_pushvalue(L, rec);
  field(L, def, OF);
  const int id = node_of(L, e);
  return id;
}

/* The node of a record's data and a definition { name, find, of and picks }, which are on top and go. */
static int node_of(lua_State *L, struct engine *e) {
  const int def = lua_gettop(L), rec = def - 1;
  luaL_checkstack(L, 12, "results");
  if (lua_rawgeti(L, rec, NODES) == LUA_TTABLE) {
    field(L, def, NAME);
    if (lua_rawget(L, -2) == LUA_TNUMBER) {
      const int id = (int)lua_tointeger(L, -1);
      lua_settop(L, rec - 1);
      return id;
    }
  }
  lua_settop(L, def);
  if (field(L, rec, ROOT) == LUA_TTABLE) lua_replace(L, rec);
  lua_settop(L, def);
  const int of = field(L, def, PICKS) != LUA_TNIL ? picked_from(L, e, rec, def) : 0;
  lua_settop(L, def);
  lua_pushvalue(L, rec);
  field(L, def, NAME);
  field(L, def, FIND);
  lua_pushvalue(L, def);
  const int id = node_at(L, e, def + 1);
  e->node[id].of = of;
  lua_settop(L, rec - 1);
  return id;
}

static int defined(lua_State *L, bool result) {
  struct engine *e = engine_of(L);
  lua_settop(L, 2);
  if (e->heard) {
    lua_rawgeti(L, UP(LUA), NOTED);
    lua_insert(L, 1);
    lua_call(L, 2, 1);
    return 1;
  }
  const int id = node_of(L, e);
  if (result) e->node[id].result = true;
  want(L, e, id);
  return worth(L, e, id);
}

/* of(rec, def) -> what a definition gives of a record, worked out once; result(rec, def): it may be read by name. */
static int n_of(lua_State *L) { return defined(L, false); }
static int n_result(lua_State *L) { return defined(L, true); }

/* try(rec, name, find, x) -> the value, or nil and the error that says why there is none. */
static int n_try(lua_State *L) {
  struct engine *e = engine_of(L);
  lua_settop(L, 4);
  const int id = node_at(L, e, 1);
  want(L, e, id);
  if (e->node[id].unknown) lua_pushnil(L);
  lua_rawgeti(L, UP(VALUES), id);
  return e->node[id].unknown ? 2 : 1;
}

/* ---- reading ----------------------------------------------------------------------------------------------------- */

/* The cell of the value under the key at `key` of the table at `store`. */
static int cell_at(lua_State *L, struct engine *e, int store, int key) {
  lua_pushvalue(L, store);
  if (lua_rawget(L, UP(CELLS)) != LUA_TTABLE) {
    lua_pop(L, 1);
    lua_newtable(L);
    lua_pushvalue(L, store);
    lua_pushvalue(L, -2);
    lua_rawset(L, UP(CELLS));
  }
  lua_pushvalue(L, key);
  int id;
  if (lua_rawget(L, -2) == LUA_TNUMBER) id = (int)lua_tointeger(L, -1);
  else {
    id = new_node(L, e);
    e->state[id].cell = true;
    e->state[id].kept = false;                       /* of a cell: it was put in at that level */
    lua_pushvalue(L, key);
    lua_pushinteger(L, id);
    lua_rawset(L, -4);
    lua_pushvalue(L, store);
    lua_rawseti(L, UP(RECS), id);
    lua_pushvalue(L, key);
    lua_rawseti(L, UP(NAMES), id);
  }
  lua_pop(L, 2);
  return id;
}

/* note(store, key): a given value is read; nothing stands under nil or what is no number. */
static int n_note(lua_State *L) {
  struct engine *e = engine_of(L);
  lua_settop(L, 2);
  if (lua_isnil(L, 2) || !lua_rawequal(L, 2, 2)) return 0;
  if (e->now.tracking && e->now.top) note(L, e, cell_at(L, e, 1, 2));
  return 0;
}

/* The result of a name of the record whose data is at 3, or what else the model makes of the name at 2. */
static int read_result(lua_State *L, struct engine *e) {
  if (!e->heard && lua_rawgeti(L, 3, NODES) == LUA_TTABLE) {
    lua_pushvalue(L, 2);
    if (lua_rawget(L, -2) == LUA_TNUMBER) {
      const int id = (int)lua_tointeger(L, -1);
      if (e->node[id].result) {
        want(L, e, id);
        return worth(L, e, id);
      }
    }
  }
  lua_rawgeti(L, UP(LUA), READ);
  lua_rawgeti(L, 3, PROXY);
  lua_pushvalue(L, 2);
  lua_call(L, 2, 1);
  return 1;
}

/* The table of reads that are kept, at 3 or on top. */
static bool read_before(lua_State *L, enum sl_again which) {
  lua_settop(L, 2);
  lua_rawgeti(L, UP(LUA), AGAIN);
  return sl_again_before(L, which);
}

static void keep_read(lua_State *L, enum sl_again which) {
  lua_rawgeti(L, UP(LUA), AGAIN);
  sl_again_keep(L, which);
}

/* again(kept or nil) -> as it was: whether what is read is kept, and where: { {}, {}, {} }, see again.h. */
static int n_again(lua_State *L) {
  lua_settop(L, 1);
  engine_of(L)->again = !lua_isnil(L, 1);
  lua_rawgeti(L, UP(LUA), AGAIN);
  lua_insert(L, 1);
  lua_rawseti(L, UP(LUA), AGAIN);
  return 1;
}

/* The data of the record at 1, at 3. */
static void push_data(lua_State *L) {
  lua_settop(L, 2);
  lua_pushvalue(L, 1);
  if (lua_rawget(L, UP(INSIDE)) != LUA_TTABLE) luaL_error(L, "a record of another run");
}

/* index(record, key): __index of records. */
static int n_index(lua_State *L) {
  struct engine *e = engine_of(L);
  if (e->again && read_before(L, SL_AGAIN_READ)) return 1;
  push_data(L);
  if (e->heard) {
    read_result(L, e);
    if (e->again) keep_read(L, SL_AGAIN_READ);
    return 1;
  }
  lua_rawgeti(L, 3, GIVEN);
  lua_pushvalue(L, 2);
  if (lua_rawget(L, 4) == LUA_TNIL) return read_result(L, e);
  if (e->now.tracking && e->now.top) note(L, e, cell_at(L, e, 4, 2));
  return 1;
}

/* lacked(given, key): __index of what was given to a record, where it has no such key. */
static int n_lacked(lua_State *L) {
  push_data(L);
  return read_result(L, engine_of(L));
}

/* given(record, name) -> the value of a field, nil where nobody gave it.  What is no field is the model's to refuse. */
static int n_given(lua_State *L) {
  struct engine *e = engine_of(L);
  if (e->again && read_before(L, SL_AGAIN_GIVEN)) return 1;
  lua_settop(L, 2);
  lua_pushvalue(L, 1);
  if (!e->heard && lua_rawget(L, UP(INSIDE)) == LUA_TTABLE && lua_rawgeti(L, 3, GIVEN) == LUA_TTABLE &&
      lua_rawgeti(L, 3, FIELDS) == LUA_TTABLE) {
    lua_pushvalue(L, 2);
    if (lua_rawget(L, 5) != LUA_TNIL) {
      lua_pushvalue(L, 2);
      lua_rawget(L, 4);
      if (e->now.tracking && e->now.top) note(L, e, cell_at(L, e, 4, 2));
      return 1;
    }
  }
  lua_rawgeti(L, UP(LUA), GIVE);
  lua_pushvalue(L, 1);
  lua_pushvalue(L, 2);
  lua_call(L, 2, 1);
  if (e->again) keep_read(L, SL_AGAIN_GIVEN);
  return 1;
}

/* heard(yes): whether all reads of records go through the model's own function. */
static int n_heard(lua_State *L) {
  engine_of(L)->heard = lua_toboolean(L, 1);
  return 0;
}

/* ---- levels ------------------------------------------------------------------------------------------------------ */

static void begin(lua_State *L, struct engine *e) {
  if (e->depth == e->levels_room) e->levels = grown(L, e->levels, &e->levels_room, sizeof *e->levels);
  e->levels[e->depth++] = e->now;
  e->now.forgets = false;
  e->now.number = ++e->numbers;
  e->now.top = 0;
  e->now.nodes = e->n;
  e->now.entries = e->entries;
  e->now.olds = e->olds;
  e->now.edges = e->edges.n;
}

/* begin(afresh, forget): from here on until finish() what changes is put back.  afresh: everything is worked out again,
 * and nobody notes what is read; forget: where it is the outermost level and nothing is tracked, what was worked out
 * before is not kept for afterwards. */
static int n_begin(lua_State *L) {
  struct engine *e = engine_of(L);
  const bool forgets = lua_toboolean(L, 2) && e->depth == 0 && !e->now.tracking;
  begin(L, e);
  e->now.forgets = forgets;
  if (lua_toboolean(L, 1)) {
    e->now.floor = e->now.number;
    e->now.tracking = false;
  }
  return 0;
}

/* A value under a key of a table, and under the same of its copy if there is one. */
static void set(lua_State *L, int store, int copy, int key, int value) {
  lua_pushvalue(L, key);
  lua_pushvalue(L, value);
  lua_rawset(L, store);
  if (lua_isnil(L, copy)) return;
  lua_pushvalue(L, key);
  lua_pushvalue(L, value);
  lua_rawset(L, copy);
}

/* put(store, copy or nil, key, value): another value until the level ends. */
static int n_put(lua_State *L) {
  struct engine *e = engine_of(L);
  lua_settop(L, 4);
  lua_pushvalue(L, 3);
  lua_rawget(L, 1);
  if (sl_alike(L, 4, 5)) return 0;
  const int id = e->now.tracking ? cell_at(L, e, 1, 3) : 0;
  if (!id || e->state[id].level != e->now.number || !e->state[id].kept) {
    write_down(L, e, PUT, 0);
    lua_createtable(L, 4, 0);
    static const int kept[] = { 1, 2, 3, 5 };
    for (int i = 0; i < 4; i++) {
      lua_pushvalue(L, kept[i]);
      lua_rawseti(L, 6, i + 1);
    }
    lua_rawseti(L, UP(LOG), -e->entries);
  }
  set(L, 1, 2, 3, 4);
  if (!id) return 0;
  e->state[id].level = e->now.number;                /* another value in this level need not be written down again */
  e->state[id].kept = true;
  mark(L, e, id, SURELY);
  return 0;
}

/* What LOG has under that key is on top, and gone there. */
static void take_out(lua_State *L, int key) {
  lua_rawgeti(L, UP(LOG), key);
  lua_pushnil(L);
  lua_rawseti(L, UP(LOG), key);
}

static void undo_whole(lua_State *L, struct engine *e, int at) {
  const struct old *old = &e->old[at - 1];
  struct node *n = &e->node[old->id];
  const struct ids readers = n->readers;
  if (n->deps.at != old->was.deps.at) free_ids(L, &n->deps);
  *n = old->was;
  n->readers = readers;
  if (!n->run) return;
  take_out(L, at);
  lua_rawseti(L, UP(VALUES), old->id);
}

static void undo(lua_State *L, struct engine *e, int at) {
  const struct entry *entry = &e->log[at - 1];
  if (entry->what == STATE) {
    e->state[entry->id] = entry->was;
    return;
  }
  const int top = lua_gettop(L);
  take_out(L, -at);
  for (int i = 1; i <= 4; i++) lua_rawgeti(L, top + 1, i);
  set(L, top + 2, top + 3, top + 4, top + 5);
  lua_settop(L, top);
}

/* The last node goes, with all that knows it. */
static void drop(lua_State *L, struct engine *e) {
  const int id = e->n--;
  struct node *n = &e->node[id];
  lua_rawgeti(L, UP(RECS), id);
  if (e->state[id].cell) lua_rawget(L, UP(CELLS));
  else lua_rawgeti(L, -1, NODES);
  if (lua_istable(L, -1)) {
    lua_rawgeti(L, UP(NAMES), id);
    lua_pushnil(L);
    lua_rawset(L, -3);
  }
  lua_settop(L, 0);
  static const int kept[] = { VALUES, RECS, NAMES, FINDS, DEFS };
  for (int i = 0; i < 5; i++) {
    lua_pushnil(L);
    lua_rawseti(L, UP(kept[i]), id);
  }
  free_node(L, n);
}

/* finish(): all as it was when the level began. */
static int n_finish(lua_State *L) {
  struct engine *e = engine_of(L);
  lua_settop(L, 0);
  if (e->depth == 0) return luaL_error(L, "no level to finish");
  while (e->edges.n > e->now.edges) e->node[e->edges.at[--e->edges.n]].readers.n--;
  while (e->olds > e->now.olds) undo_whole(L, e, e->olds--);
  while (e->entries > e->now.entries) undo(L, e, e->entries--);
  while (e->n > e->now.nodes) drop(L, e);
  const bool forgot = e->now.forgets;
  e->now = e->levels[--e->depth];
  if (forgot) e->now.number = e->now.floor = e->now.base = ++e->numbers;
  return 0;
}

/* levels() -> how many stand in each other: 0 where all is as declared. */
static int n_levels(lua_State *L) {
  lua_pushinteger(L, engine_of(L)->depth);
  return 1;
}

/* doubt(): what was worked out before is worked out again when it is wanted. */
static int n_doubt(lua_State *L) {
  struct engine *e = engine_of(L);
  e->now.number = e->now.floor = ++e->numbers;
  return 0;
}

/* track(): the same, and from here on all notes what it reads. */
static int n_track(lua_State *L) {
  struct engine *e = engine_of(L);
  n_doubt(L);
  e->now.base = e->now.number;
  e->now.tracking = true;
  return 0;
}

/* ---- judging ----------------------------------------------------------------------------------------------------- */

/* outcomes(list, find) -> what is judged, one after the other. list[i] = { outcome } or { false, def, rec, again }:
 * what find(rec, def) gives, with `rests` put in; again: nobody knows what it reads, so a variant asks each time. */
static int n_outcomes(lua_State *L) {
  struct engine *e = engine_of(L);
  lua_settop(L, 2);
  const lua_Integer n = (lua_Integer)lua_rawlen(L, 1);
  lua_createtable(L, (int)n, 0);
  for (lua_Integer i = 1; i <= n; i++) {
    lua_settop(L, 3);
    lua_rawgeti(L, 1, i);
    if (lua_rawgeti(L, 4, 3) != LUA_TTABLE) {              /* no record: the outcome stands there */
      lua_rawgeti(L, 4, 1);
      lua_rawseti(L, 3, i);
      continue;
    }
    lua_rawgeti(L, 4, 2);                                  /* rec, def */
    lua_pushvalue(L, 2);
    lua_pushvalue(L, 6);
    const int id = node_at(L, e, 5);
    lua_rawgeti(L, 4, 4);
    if (lua_toboolean(L, -1) && e->now.number > e->now.base && stale(e, id) != SURELY) {
      keep(L, e, id);
      e->state[id].stale = SURELY;
    }
    const long long run = e->node[id].run;
    want(L, e, id);
    worth(L, e, id);
    if (e->node[id].run != run) {
      const int outcome = lua_gettop(L);
      lua_pushvalue(L, UP(RESTS));
      lua_pushinteger(L, (lua_Integer)e->node[id].rests);
      lua_rawset(L, outcome);
    }
    lua_rawseti(L, 3, i);
  }
  lua_settop(L, 3);
  return 1;
}

/* reached(store, key) -> the values of all nodes that rest on a given value, as things stand; a node's rec and name
 * before each: { rec, name, value or false, ... }. */
static void visit(lua_State *L, struct engine *e, int id, unsigned char *met, lua_Integer *n) {
  for (int i = 0; i < e->node[id].readers.n; i++) {
    const int reader = e->node[id].readers.at[i];
    if (met[reader]) continue;
    met[reader] = 1;
    static const int told[] = { RECS, NAMES, VALUES };
    for (int k = 0; k < 3; k++) {
      if (lua_rawgeti(L, UP(told[k]), reader) == LUA_TNIL) lua_pushboolean(L, false);   /* the list has no holes */
      lua_rawseti(L, 3, ++*n);
    }
    visit(L, e, reader, met, n);
  }
}

static int n_reached(lua_State *L) {
  struct engine *e = engine_of(L);
  lua_settop(L, 2);
  lua_newtable(L);
  const int id = cell_at(L, e, 1, 2);
  lua_Integer n = 0;
  unsigned char *met = lua_newuserdatauv(L, (size_t)e->n + 1, 0);
  memset(met, 0, (size_t)e->n + 1);
  visit(L, e, id, met, &n);
  lua_settop(L, 3);
  return 1;
}

/* ---- the run ----------------------------------------------------------------------------------------------------- */

/* rests([bits]) -> what is being worked out rests on these values from memory; with bits, on those from here on. */
static int n_rests(lua_State *L) {
  struct sl_state *state = sl_state_of(L);
  if (lua_isnoneornil(L, 1)) {
    lua_pushinteger(L, (lua_Integer)state->resting);
    return 1;
  }
  state->resting = (unsigned long long)luaL_checkinteger(L, 1);
  return 0;
}

/* Levels may be open: what their nodes read before goes, too. */
static void forget(lua_State *L, struct engine *e) {
  for (int at = e->olds; at > 0; at--) {
    const struct old *old = &e->old[at - 1];
    struct node *n = &e->node[old->id];
    if (n->deps.at == old->was.deps.at) continue;
    free_ids(L, &n->deps);
    n->deps = old->was.deps;
  }
  for (int id = 1; id <= e->n; id++) free_node(L, &e->node[id]);
  sl_sandbox_resize(L, e->node, (size_t)e->room * sizeof *e->node, 0);
  sl_sandbox_resize(L, e->state, (size_t)e->state_room * sizeof *e->state, 0);
  sl_sandbox_resize(L, e->log, (size_t)e->log_room * sizeof *e->log, 0);
  sl_sandbox_resize(L, e->old, (size_t)e->old_room * sizeof *e->old, 0);
  free_ids(L, &e->marked);
  free_ids(L, &e->edges);
  sl_sandbox_resize(L, e->levels, (size_t)e->levels_room * sizeof *e->levels, 0);
  *e = (struct engine){ .numbers = 1, .now.number = 1 };
}

static int n_gc(lua_State *L) {
  forget(L, lua_touserdata(L, 1));
  return 0;
}

static void empty(lua_State *L, int table) {
  lua_pushnil(L);
  while (lua_next(L, table)) {
    lua_pop(L, 1);
    lua_pushvalue(L, -1);
    lua_pushnil(L);
    lua_rawset(L, table);
  }
}

/* fresh(): another run; inside a level, what was there stays for when it ends. */
static int n_fresh(lua_State *L) {
  struct engine *e = engine_of(L);
  if (e->depth) return 0;
  sl_state_of(L)->resting = 0;
  forget(L, e);
  static const int kept[] = { VALUES, FINDS, RECS, DEFS, NAMES, CELLS, LOG };
  for (size_t i = 0; i < sizeof kept / sizeof *kept; i++) empty(L, UP(kept[i]));
  return 0;
}

/* nodes(inside) -> the functions; `model`, a list, waits for those that are called from here: see LUA. */
enum { USUAL_NODES = 512 };             /* so that a usual job's tables of nodes need not grow one by one */

static int n_open(lua_State *L) {
  static const luaL_Reg functions[] = {
    { "value", n_value }, { "of", n_of }, { "result", n_result }, { "try", n_try }, { "note", n_note },
    { "index", n_index }, { "lacked", n_lacked }, { "given", n_given }, { "heard", n_heard }, { "again", n_again },
    { "begin", n_begin },
    { "finish", n_finish }, { "levels", n_levels }, { "put", n_put }, { "doubt", n_doubt }, { "track", n_track },
    { "outcomes", n_outcomes }, { "reached", n_reached }, { "rests", n_rests }, { "fresh", n_fresh }, { NULL, NULL },
  };
  luaL_checktype(L, 1, LUA_TTABLE);
  lua_settop(L, 1);
  lua_newtable(L);
  struct engine *e = lua_newuserdatauv(L, sizeof *e, 0);
  *e = (struct engine){ .numbers = 1, .now.number = 1 };
  lua_createtable(L, 0, 1);
  lua_pushcfunction(L, n_gc);
  lua_setfield(L, -2, "__gc");
  lua_setmetatable(L, -2);
  for (int up = VALUES; up <= TABLES; up++) {
    if (up == INSIDE) lua_pushvalue(L, 1);
    else lua_createtable(L, up == CELLS || up >= LOG ? 0 : USUAL_NODES, 0);
  }
  lua_pushvalue(L, -1);
  lua_setfield(L, 2, "model");
  for (int up = TABLES; up < UPVALUES; up++) lua_pushstring(L, words[up - TABLES]);
  luaL_setfuncs(L, functions, UPVALUES);
  return 1;
}

void sl_nodes_open(lua_State *L) {
  lua_pushcfunction(L, n_open);
  lua_setglobal(L, "nodes");
}
