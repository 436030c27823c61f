/* SPDX-License-Identifier: MIT
 * Lua's patterns with a count: a pattern can ask for more work than there is time in the world, and no hook runs
 * meanwhile.  A pattern is checked and compiled whole before it is matched, so a bad one is always an error. */
#include <ctype.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <lauxlib.h>
#include "box/safe.h"

enum kind { CHARACTER, ANY, CLASS, SET, FRONTIER, OPEN, POSITION, CLOSE, BACK, BALANCED, AT_END };
enum repeat { ONCE, MAYBE, MANY, SOME, FEW };            /* (none) ? * + - */
enum {
  CHOICES = 200,        /* repeats in a pattern: each may take a level of the C stack */
  SHORT = 64,           /* patterns up to this length are compiled on the C stack */
};
struct sl_node {
  unsigned char kind, repeat, a, b;   /* a: the character, class letter or capture number; b: the other bracket */
  uint32_t set[8];                    /* SET, FRONTIER: a bit for each character */
};

/* ---- compiling -------------------------------------------------------------------------------------------------- */

struct reader {
  const unsigned char *at, *end;
  struct sl_node *node; size_t n;
  int captures, choices;
  bool closed[SL_CAPTURES], position[SL_CAPTURES];
  const char *wrong;
};

static bool in_class(unsigned char c, unsigned char letter) {
  bool in;
  switch (tolower(letter)) {
    case 'a': in = isalpha(c); break;
    case 'c': in = iscntrl(c); break;
    case 'd': in = isdigit(c); break;
    case 'g': in = isgraph(c); break;
    case 'l': in = islower(c); break;
    case 'p': in = ispunct(c); break;
    case 's': in = isspace(c); break;
    case 'u': in = isupper(c); break;
    case 'w': in = isalnum(c); break;
    case 'x': in = isxdigit(c); break;
    case 'z': in = c == 0; break;                        /* older Lua; still taken */
    default: return c == letter;
  }
  return in != (isupper(letter) != 0);
}

static bool in_set(const struct sl_node *n, unsigned char c) { return n->set[c >> 5] >> (c & 31) & 1; }
static void add_to_set(struct sl_node *n, unsigned c) { n->set[c >> 5] |= UINT32_C(1) << (c & 31); }

/* All that in_class() says of a letter, which is looked at once. */
static void add_class(struct sl_node *n, unsigned char letter) {
  const bool other = isupper(letter) != 0;
#define ADD(is) for (int c = 0; c <= UCHAR_MAX; c++) if ((is(c) != 0) != other) add_to_set(n, (unsigned)c); break
  switch (tolower(letter)) {
    case 'a': ADD(isalpha);
    case 'd': ADD(isdigit);
    case 's': ADD(isspace);
    case 'w': ADD(isalnum);
    default: for (unsigned c = 0; c <= UCHAR_MAX; c++) if (in_class((unsigned char)c, letter)) add_to_set(n, c);
  }
#undef ADD
}

/* The bracket that ends the set starting at p, or NULL.  Its first item may be a ']'. */
static const unsigned char *set_end(const unsigned char *p, const unsigned char *end) {
  if (p < end && *p == '^') p++;
  for (bool first = true; p < end; first = false, p++) {
    if (*p == ']' && !first) return p;
    if (*p == '%') p++;
  }
  return NULL;
}

/* After the '['. */
static void read_set(struct reader *r, struct sl_node *n) {
  const unsigned char *p = r->at, *close = set_end(p, r->end);
  if (!close) { r->wrong = "malformed pattern (missing ']')"; return; }
  bool negated = *p == '^';
  for (p += negated; p < close; p++) {
    if (*p == '%') {
      add_class(n, *++p);
    } else if (p[1] == '-' && p + 2 < close) {
      for (unsigned c = *p; c <= p[2]; c++) add_to_set(n, c);
      p += 2;
    } else {
      add_to_set(n, *p);
    }
  }
  if (negated) for (int i = 0; i < 8; i++) n->set[i] = ~n->set[i];
  r->at = close + 1;
}

static void read_open(struct reader *r, struct sl_node *n) {
  if (r->captures == SL_CAPTURES) { r->wrong = "too many captures"; return; }
  bool position = r->at < r->end && *r->at == ')';
  r->at += position;
  n->kind = position ? POSITION : OPEN;
  n->a = (unsigned char)r->captures;
  r->closed[r->captures] = r->position[r->captures] = position;
  r->captures++;
}

static void read_close(struct reader *r, struct sl_node *n) {
  for (int i = r->captures - 1; i >= 0; i--)
    if (!r->closed[i]) {
      n->kind = CLOSE;
      n->a = (unsigned char)i;
      r->closed[i] = true;
      return;
    }
  r->wrong = "invalid pattern (')' without its '(')";
}

static void read_back(struct reader *r, struct sl_node *n, unsigned char digit) {
  int i = digit - '1';
  if (i < 0 || i >= r->captures || !r->closed[i]) { r->wrong = "invalid capture index in pattern"; return; }
  n->kind = BACK;
  n->a = (unsigned char)i;
}

/* After a '%' that is not in a set.  True: a single character, which a repeat may follow. */
static bool read_escape(struct reader *r, struct sl_node *n) {
  if (r->at == r->end) { r->wrong = "malformed pattern (ends with '%')"; return false; }
  unsigned char c = *r->at++;
  if (isdigit(c)) { read_back(r, n, c); return false; }
  if (c == 'b') {
    if (r->end - r->at < 2) { r->wrong = "malformed pattern (missing arguments to '%b')"; return false; }
    n->kind = BALANCED;
    n->a = r->at[0];
    n->b = r->at[1];
    r->at += 2;
    return false;
  }
  if (c == 'f') {
    if (r->at == r->end || *r->at != '[') { r->wrong = "missing '[' after '%f' in pattern"; return false; }
    r->at++;
    n->kind = FRONTIER;
    read_set(r, n);
    return false;
  }
  n->kind = isalpha(c) ? CLASS : CHARACTER;
  n->a = c;
  return true;
}

static void read_repeat(struct reader *r, struct sl_node *n) {
  static const char signs[] = "?*+-";
  const char *sign = r->at < r->end && *r->at ? strchr(signs, *r->at) : NULL;
  if (!sign) return;
  n->repeat = (unsigned char)(MAYBE + (sign - signs));
  r->at++;
  if (++r->choices > CHOICES) r->wrong = "pattern too complex";
}

static void read_item(struct reader *r) {
  struct sl_node *n = &r->node[r->n++];
  unsigned char c = *r->at++;
  bool single = true;
  *n = (struct sl_node){ .kind = CHARACTER, .a = c };
  switch (c) {
    case '(': read_open(r, n); single = false; break;
    case ')': read_close(r, n); single = false; break;
    case '%': single = read_escape(r, n); break;
    case '[': n->kind = SET; read_set(r, n); break;
    case '.': n->kind = ANY; break;
    case '$': if (r->at == r->end) { n->kind = AT_END; single = false; } break;
    default: break;
  }
  if (single && !r->wrong) read_repeat(r, n);
}

size_t sl_pattern_room(size_t length) { return (length ? length : 1) * sizeof(struct sl_node); }

const char *sl_pattern_compile(struct sl_pattern *out, void *room, const char *text, size_t length, bool anchors) {
  struct reader r = { .at = (const unsigned char *)text, .node = room };
  r.end = r.at + length;
  out->anchored = anchors && length > 0 && *text == '^';
  r.at += out->anchored;
  while (r.at < r.end && !r.wrong) read_item(&r);
  for (int i = 0; i < r.captures && !r.wrong; i++) if (!r.closed[i]) r.wrong = "unfinished capture";
  *out = (struct sl_pattern){ r.node, r.n, r.captures, out->anchored };
  return r.wrong;
}

/* ---- matching --------------------------------------------------------------------------------------------------- */

static bool spend(struct sl_matcher *m, ptrdiff_t steps) { return (*m->left -= steps) >= 0; }

static bool matches_one(const struct sl_matcher *m, const struct sl_node *n, const char *s) {
  if (s >= m->end) return false;
  unsigned char c = (unsigned char)*s;
  switch (n->kind) {
    case ANY: return true;
    case CLASS: return in_class(c, n->a);
    case SET: return in_set(n, c);
    default: return n->a == c;
  }
}

static bool at_frontier(const struct sl_matcher *m, const struct sl_node *n, const char *s) {
  unsigned char before = s == m->begin ? 0 : (unsigned char)s[-1], here = s == m->end ? 0 : (unsigned char)*s;
  return !in_set(n, before) && in_set(n, here);
}

/* Past the bracket that closes the one at s, or NULL. */
static const char *skip_balanced(struct sl_matcher *m, const struct sl_node *n, const char *s) {
  if (s >= m->end || (unsigned char)*s != n->a) return NULL;
  for (ptrdiff_t open = 1; ++s < m->end && spend(m, 1);) {
    unsigned char c = (unsigned char)*s;
    if (c == n->b) { if (--open == 0) return s + 1; }    /* first: with two alike the next one closes */
    else if (c == n->a) open++;
  }
  return NULL;
}

static const char *skip_back(struct sl_matcher *m, const struct sl_node *n, const char *s) {
  const struct sl_capture *c = &m->capture[n->a];
  if (c->size < 0 || c->size > m->end - s || !spend(m, c->size / 16)) return NULL;
  return memcmp(c->at, s, (size_t)c->size) == 0 ? s + c->size : NULL;
}

/* An item that is not repeated: where the match goes on, or NULL.  Going back needs no undoing: on any way through a
 * pattern each capture is set anew before it is read. */
static const char *take(struct sl_matcher *m, const struct sl_node *n, const char *s) {
  struct sl_capture *c = &m->capture[n->a < SL_CAPTURES ? n->a : 0];
  switch (n->kind) {
    case OPEN: *c = (struct sl_capture){ s, 0 }; return s;
    case POSITION: *c = (struct sl_capture){ s, -1 }; return s;
    case CLOSE: c->size = s - c->at; return s;
    case BACK: return skip_back(m, n, s);
    case BALANCED: return skip_balanced(m, n, s);
    case FRONTIER: return at_frontier(m, n, s) ? s : NULL;
    case AT_END: return s == m->end ? s : NULL;
    default: return matches_one(m, n, s) ? s + 1 : NULL;
  }
}

static const char *match_from(const struct sl_pattern *p, size_t i, struct sl_matcher *m, const char *s) {
  for (; i < p->n; i++) {
    const struct sl_node *n = &p->node[i];
    const char *last = s, *end;
    if (!spend(m, 1)) return NULL;
    switch (n->repeat) {
      case ONCE:
        if (!(s = take(m, n, s))) return NULL;
        break;
      case MAYBE:
        if (matches_one(m, n, s) && (end = match_from(p, i + 1, m, s + 1))) return end;
        break;
      case FEW:
        for (; spend(m, 1); s++) {
          if ((end = match_from(p, i + 1, m, s))) return end;
          if (!matches_one(m, n, s)) return NULL;
        }
        return NULL;
      default:
        while (matches_one(m, n, last) && spend(m, 1)) last++;
        for (ptrdiff_t least = n->repeat == SOME; last - s >= least && spend(m, 1); last--)
          if ((end = match_from(p, i + 1, m, last))) return end;
        return NULL;
    }
  }
  return s;
}

const char *sl_pattern_match(const struct sl_pattern *p, struct sl_matcher *m, const char *s) {
  return match_from(p, 0, m, s);
}

/* ---- find, match, gmatch, gsub ---------------------------------------------------------------------------------- */

struct search {
  struct sl_pattern pattern;
  struct sl_matcher matcher;
  struct sl_box *box;
  long long unlimited;          /* what is counted down where nothing limits */
  long long before;
};

/* Where nothing limits, the count starts again with each attempt: 2^63 steps are never used up. */
static const char *attempt(lua_State *L, struct search *x, const char *s) {
  bool counted = x->box->depth > 0 && x->box->steps >= 0;
  x->unlimited = LLONG_MAX;
  x->matcher.left = counted ? &x->box->left : &x->unlimited;
  const char *end = sl_pattern_match(&x->pattern, &x->matcher, s);
  if (*x->matcher.left < 0 || (x->box->depth > 0 && sl_box_over(L))) sl_box_stop(L);
  return end;
}

/* Room for the nodes: the caller's for a short pattern, else a userdata that is left on the stack. */
static void prepare(lua_State *L, struct search *x, int subject, int pattern, bool anchors, void *room, size_t size) {
  size_t ls, lp;
  const char *s = luaL_checklstring(L, subject, &ls), *p = luaL_checklstring(L, pattern, &lp);
  sl_sandbox_charge(L, (long long)lp);
  if (sl_pattern_room(lp) > size) {
    if (lp > PTRDIFF_MAX / sizeof(struct sl_node)) luaL_error(L, "pattern too long");
    room = lua_newuserdatauv(L, sl_pattern_room(lp), 0);
  }
  const char *wrong = sl_pattern_compile(&x->pattern, room, p, lp, anchors);
  if (wrong) luaL_error(L, "%s", wrong);
  x->box = sl_box(L);
  x->matcher.begin = s;
  x->matcher.end = s + ls;
}

/* Capture i of a match from s to end; without captures the whole match is the first. */
static void push_capture(lua_State *L, const struct search *x, int i, const char *s, const char *end) {
  const struct sl_capture *c = &x->matcher.capture[i];
  if (i >= x->pattern.captures) lua_pushlstring(L, s, (size_t)(end - s));
  else if (c->size < 0) lua_pushinteger(L, c->at - x->matcher.begin + 1);
  else lua_pushlstring(L, c->at, (size_t)c->size);
}

static int push_captures(lua_State *L, const struct search *x, const char *s, const char *end) {
  int n = x->pattern.captures ? x->pattern.captures : 1;
  luaL_checkstack(L, n, "too many captures");
  for (int i = 0; i < n; i++) push_capture(L, x, i, s, end);
  return n;
}

/* Offset of the start position given as argument i; more than size if it lies past the end. */
static size_t start_offset(lua_State *L, int i, size_t size) {
  lua_Integer at = luaL_optinteger(L, i, 1);
  if (at > 0) return (lua_Unsigned)at - 1 > size ? size + 1 : (size_t)at - 1;
  if (at == 0 || at < -(lua_Integer)size) return 0;
  return size - (size_t)-at;
}

static bool is_plain(const char *p, size_t size) {
  for (size_t i = 0; i < size; i++) if (p[i] && strchr("^$*+?.([%-", p[i])) return false;
  return true;
}

/* Plain text in s..end, or NULL. */
static const char *find_plain(lua_State *L, const char *s, const char *end, const char *text, size_t size) {
  if (size == 0) return s;
  for (const char *from = s; (size_t)(end - s) >= size; s++, from = s) {
    s = memchr(s, *text, (size_t)(end - s) - size + 1);
    if (!s) { sl_sandbox_charge(L, (end - from) / 16); return NULL; }
    sl_sandbox_charge(L, 1 + (s - from) / 16 + (long long)(size / 16));
    if (memcmp(s, text, size) == 0) return s;
  }
  return NULL;
}

static int find_or_match(lua_State *L, bool find) {
  struct sl_node room[SHORT];
  struct search x;
  size_t ls, lp;
  const char *text = luaL_checklstring(L, 1, &ls), *p = luaL_checklstring(L, 2, &lp);
  size_t offset = start_offset(L, 3, ls);
  if (offset > ls) return luaL_pushfail(L), 1;
  const char *s = text + offset, *end = text + ls;
  if (find && (lua_toboolean(L, 4) || is_plain(p, lp))) {
    if (!(s = find_plain(L, s, end, p, lp))) return luaL_pushfail(L), 1;
    lua_pushinteger(L, s - text + 1);
    lua_pushinteger(L, s - text + (lua_Integer)lp);
    return 2;
  }
  prepare(L, &x, 1, 2, true, room, sizeof room);
  do {
    const char *e = attempt(L, &x, s);
    if (!e) continue;
    if (!find) return push_captures(L, &x, s, e);
    lua_pushinteger(L, s - text + 1);
    lua_pushinteger(L, e - text);
    return x.pattern.captures ? 2 + push_captures(L, &x, s, e) : 2;
  } while (s++ < end && !x.pattern.anchored);
  return luaL_pushfail(L), 1;
}

int sl_str_find(lua_State *L) { return find_or_match(L, true); }
int sl_str_match(lua_State *L) { return find_or_match(L, false); }

struct walk { struct search x; const char *at, *last; };      /* last: where the match before ended */

/* Upvalues: the walk, subject, pattern, nodes (kept alive).  A match may be empty, but not where the last one ended. */
static int gmatch_step(lua_State *L) {
  struct walk *w = lua_touserdata(L, lua_upvalueindex(1));
  for (const char *s = w->at; s <= w->x.matcher.end; s++) {
    const char *e = attempt(L, &w->x, s);
    if (!e || e == w->last) continue;
    w->at = w->last = e;
    return push_captures(L, &w->x, s, e);
  }
  return 0;
}

int sl_str_gmatch(lua_State *L) {
  size_t size;
  luaL_checklstring(L, 2, NULL);
  const char *s = luaL_checklstring(L, 1, &size);
  size_t offset = start_offset(L, 3, size);
  lua_settop(L, 2);
  struct walk *w = lua_newuserdatauv(L, sizeof *w, 0);
  lua_insert(L, 1);                                      /* walk, subject, pattern */
  prepare(L, &w->x, 2, 3, false, NULL, 0);
  w->at = offset > size ? w->x.matcher.end + 1 : s + offset;
  w->last = NULL;
  lua_pushcclosure(L, gmatch_step, 4);
  return 1;
}

static void add(lua_State *L, luaL_Buffer *b, const char *s, size_t size) {
  if (size > b->size - b->n) sl_box_room(L, 2 * b->size + size);
  luaL_addlstring(b, s, size);
}

/* The replacement text (argument 3) with its %0..%9 filled in. */
static void add_text(lua_State *L, luaL_Buffer *b, const struct search *x, const char *s, const char *end) {
  size_t size;
  const char *text = lua_tolstring(L, 3, &size), *stop = text + size;
  sl_sandbox_charge(L, 1 + (long long)(size / 16));
  for (const char *mark; (mark = memchr(text, '%', (size_t)(stop - text))); text = mark + 2) {
    add(L, b, text, (size_t)(mark - text));
    char c = mark + 1 < stop ? mark[1] : '\0';
    if (c == '%') { add(L, b, "%", 1); continue; }
    if (!isdigit((unsigned char)c)) luaL_error(L, "invalid use of '%%' in replacement string");
    int i = c - '1';
    if (i > 0 && i >= x->pattern.captures) luaL_error(L, "invalid capture index %%%d in replacement string", i + 1);
    if (i < 0) { add(L, b, s, (size_t)(end - s)); continue; }
    push_capture(L, x, i, s, end);
    luaL_addvalue(b);
  }
  add(L, b, text, (size_t)(stop - text));
}

/* False: the value says to keep the match as it is. */
static bool add_value(lua_State *L, luaL_Buffer *b, const struct search *x, const char *s, const char *end) {
  switch (lua_type(L, 3)) {
    case LUA_TFUNCTION:
      lua_pushvalue(L, 3);
      lua_call(L, push_captures(L, x, s, end), 1);
      break;
    case LUA_TTABLE:
      push_capture(L, x, 0, s, end);
      lua_gettable(L, 3);
      break;
    default:
      add_text(L, b, x, s, end);
      return true;
  }
  if (!lua_toboolean(L, -1)) {
    lua_pop(L, 1);
    add(L, b, s, (size_t)(end - s));
    return false;
  }
  if (!lua_isstring(L, -1)) luaL_error(L, "invalid replacement value (a %s)", luaL_typename(L, -1));
  luaL_addvalue(b);
  return true;
}

struct gsub { struct search x; luaL_Buffer b; struct sl_node room[]; };

static int substitute(lua_State *L, struct search *x, luaL_Buffer *b, void *room, size_t bytes) {
  size_t size;
  const char *s = luaL_checklstring(L, 1, &size), *last = NULL;
  lua_Integer most = luaL_optinteger(L, 4, (lua_Integer)size + 1), n = 0;
  bool changed = false;
  prepare(L, x, 1, 2, true, room, bytes);
  luaL_buffinit(L, b);
  while (n < most) {
    const char *e = attempt(L, x, s);
    if (e && e != last) {
      n++;
      if (add_value(L, b, x, s, e)) changed = true;
      s = last = e;
    } else if (s < x->matcher.end) {
      add(L, b, s++, 1);
    } else {
      break;
    }
    if (x->pattern.anchored) break;
  }
  if (changed) {
    add(L, b, s, (size_t)(x->matcher.end - s));
    luaL_pushresult(b);
  } else {
    lua_pushvalue(L, 1);
  }
  lua_pushinteger(L, n);
  return 2;
}

static __attribute__((noinline)) int substitute_text(lua_State *L) {
  struct sl_node room[SHORT];
  struct search x;
  luaL_Buffer b;
  return substitute(L, &x, &b, room, sizeof room);
}

/* What calls a script back stands in each other two hundred times, so it does not keep kilobytes on the C stack. */
int sl_str_gsub(lua_State *L) {
  size_t length;
  luaL_checklstring(L, 1, NULL);
  luaL_checklstring(L, 2, &length);
  const int type = lua_type(L, 3);
  luaL_argexpected(L, type == LUA_TNUMBER || type == LUA_TSTRING || type == LUA_TFUNCTION || type == LUA_TTABLE, 3,
                   "string/function/table");
  if (type == LUA_TNUMBER || type == LUA_TSTRING) return substitute_text(L);
  const size_t bytes = sl_pattern_room(length < SHORT ? length : SHORT);
  lua_settop(L, 4);
  struct gsub *g = lua_newuserdatauv(L, sizeof *g + bytes, 0);
  return substitute(L, &g->x, &g->b, g->room, bytes);
}
