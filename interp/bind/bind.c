/* SPDX-License-Identifier: MIT
 * One function serves every primitive: table in, checked struct, call, result out.  A result keeps its inputs, so its
 * sheet is worked again, step by step, when somebody asks. */
#include "bind.h"

#include <lauxlib.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "box/sandbox.h"
#include "fields.h"
#include "give.h"
#include "host/raise.h"
#include "host/state.h"
#include "host/text.h"
#include "open.h"
#include "take.h"
#include "value/quantity.h"

static const char WORKED = 'w';

struct worked {
  const char *kind;                      /* &WORKED: see value/quantity.c */
  const struct sl_op *op;
  unsigned rests;                        /* as in struct sl_sheet */
  unsigned char *in, *out;
  struct sl_space space;                 /* a block of its own, the user value */
  _Alignas(double) unsigned char bytes[];   /* as a block of Lua's is: no struct holds more than that, or a pointer */
};

static const char RESTING = 'r';
enum { MOST_ROOM = 64 << 20 };           /* bytes that one answer may take */

/* ---- faults ------------------------------------------------------------------------------------------------------ */

/* The input at fault, or NULL; what it is called: "conductors[2].count" for "conductors[i].count" and the item 2; the
 * struct that it is a member of. */
static const struct sl_field *at_fault(const struct worked *w, const struct sl_fault *fault, char *to, size_t size,
                                       const unsigned char **bytes) {
  char list[48];
  const char *member = fault->member ? fault->member : "";
  const size_t n = strspn(member, SL_NAME_LETTERS);
  const char *more = strstr(member + n, "].");
  sl_say(list, sizeof list, "%.*s", (int)n, member);
  if (fault->item) sl_say(to, size, "%s[%zu]%s%s", list, fault->item, more ? "." : "", more ? more + 2 : "");
  else sl_say(to, size, "%s", member);
  const struct sl_field *f = sl_field(w->op->in, w->op->nin, list);
  *bytes = w->in;
  if (!f || !f->fields || !more || !fault->item) return f;
  memcpy(bytes, w->in + f->offset, sizeof *bytes);
  *bytes += (fault->item - 1) * f->size;
  return sl_field(f->fields, f->nfields, more + 2);
}

/* The same for a page: "conductors no. 2 count", and no name of a primitive anywhere. */
static void spoken(const struct sl_fault *fault, char *to, size_t size) {
  const char *member = fault->member ? fault->member : "", *more = strstr(member, "].");
  const int n = (int)strspn(member, SL_NAME_LETTERS);
  if (fault->item) sl_say(to, size, "%.*s no. %zu%s%s ", n, member, fault->item, more ? " " : "", more ? more + 2 : "");
  else sl_say(to, size, "%s%s", member, *member ? " " : "");
  for (char *c = to; *c; c++) if (*c == '_') *c = ' ';
}

/* The value at fault, or its limit. */
static void say_value(char *to, size_t size, const struct sl_fault *f, double si, struct sl_style style) {
  const struct sl_quantity q = { .si = si, .dims = sl_dim_dims(f->dim), .point = f->dim == SL_TEMPERATURE };
  style.digits = 6;
  if (f->dim == SL_RATIO) sl_format_in(to, size, si, "%", style.digits);
  else sl_format(to, size, &q, &style);
}

/* Beside what the caller of a primitive is told stands what a page says of it: in words, in the units of the job. */
static int fail(lua_State *L, const struct worked *w, enum sl_status status, const struct sl_fault *f) {
  const struct sl_op *op = w->op;
  static const char *const code[] = { [SL_OK] = "", [SL_BAD_INPUT] = "C004", [SL_OUT_OF_RANGE] = "C005",
                                      [SL_NO_ROW] = "C006", [SL_NO_ANSWER] = "C007" };
  char value[96], limit[96], member[96], page[512];
  const unsigned char *input;
  const struct sl_field *field = at_fault(w, f, member, sizeof member, &input);
  const bool numbered = !(isnan(f->value) && (field ? field->kind != SL_FIELD_REAL : true)), limited = !isnan(f->limit);
  const char *text = field && field->kind == SL_FIELD_TEXT ? (const char *)input + field->offset : NULL;
  const char *says = f->text ? f->text : "cannot be worked out";
  const bool cited = f->cite && *f->cite;
  say_value(value, sizeof value, f, f->value, (struct sl_style){ .us = true });
  say_value(limit, sizeof limit, f, f->limit, (struct sl_style){ .us = true });
  sl_error_push(L, code[status], NULL, "%s: %s%s%s%s%s%s%s%s%s%s%s%s%s", op->name, *member ? "'" : "", member,
                *member ? "' " : "", says, text ? "; got \"" : "", text ? text : "", text ? "\"" : "",
                numbered ? "; got " : "", numbered ? value : "", limited ? ", the limit is " : "", limited ? limit : "",
                cited ? " — " : "", cited ? f->cite : "");
  if (status != SL_BAD_INPUT) {
    sl_error_field(L, "class", "range");
    say_value(value, sizeof value, f, f->value, sl_state_of(L)->style);
    say_value(limit, sizeof limit, f, f->limit, sl_state_of(L)->style);
    spoken(f, member, sizeof member);
    SL_SAY(page, "%s%s%s%s%s%s%s%s%s%s%s", member, says, text ? ": \"" : "", text ? text : "", text ? "\"" : "",
           numbered ? ": " : "", numbered ? value : "", limited ? ", the limit is " : "", limited ? limit : "",
           cited ? "; " : "", cited ? f->cite : "");
    sl_error_field(L, "page", page);
  }
  if (f->cite) sl_error_field(L, "cite", f->cite);
  return lua_error(L);
}

/* ---- the call ---------------------------------------------------------------------------------------------------- */

static size_t rounded(size_t bytes) {
  const size_t step = sizeof(double);
  return (bytes + step - 1) / step * step;
}

static void too_much(lua_State *L, const struct sl_op *op) {
  sl_error_push(L, "C005", NULL, "%s: the answer takes more than %d MiB: the lists are far beyond what it is for",
                op->name, (int)(MOST_ROOM >> 20));
  sl_error_field(L, "class", "range");
  lua_error(L);
}

/* On top: the block for inputs, their lists and the outputs, all 0, and what of it is the lists'. */
static struct worked *make(lua_State *L, const struct sl_op *op, size_t items, unsigned char **lists) {
  const size_t in = rounded(op->in_size), bytes = in + items + op->out_size;
  if (items > MOST_ROOM) too_much(L, op);
  struct worked *w = lua_newuserdatauv(L, sizeof *w + bytes, op->need ? 1 : 0);
  memset(w, 0, sizeof *w + bytes);
  w->kind = &WORKED;
  w->op = op;
  w->in = w->bytes;
  *lists = w->bytes + in;
  w->out = *lists + items;
  return w;
}

/* The room that the inputs of the result on top need. */
static void make_room(lua_State *L, struct worked *w) {
  const size_t need = w->op->need ? w->op->need(w->in) : 0;
  if (!need) return;
  if (need > MOST_ROOM) too_much(L, w->op);
  w->space = (struct sl_space){ lua_newuserdatauv(L, need, 0), need };
  lua_setiuservalue(L, -2, 1);
}

/* What is being worked out now rests on values from memory: the state gets the bit of each citation, which is its place
 * in resting.cites; those beyond the last place share it. */
static void rest_on(lua_State *L, const struct sl_sheet *sheet) {
  enum { PLACES = 62 };
  lua_rawgetp(L, LUA_REGISTRYINDEX, &RESTING);
  lua_getfield(L, -1, "cites");
  for (size_t i = 0; i < sheet->nmemory; i++) {
    const lua_Integer n = (lua_Integer)lua_rawlen(L, -1);
    lua_Integer at = 1;
    for (bool known = false; at <= n; at++) {
      lua_rawgeti(L, -1, at);
      known = strcmp(lua_tostring(L, -1), sheet->memory[i]) == 0;
      lua_pop(L, 1);
      if (known) break;
    }
    if (at > PLACES) at = PLACES;
    else if (at > n) {
      lua_pushstring(L, at == PLACES ? "and others" : sheet->memory[i]);
      lua_rawseti(L, -2, at);
    }
    sl_state_of(L)->resting |= 1ULL << (at - 1);
  }
  lua_pop(L, 2);
}

/* What a call costs a script that is counted, in steps of about 10 ns: measured with the calls of tests/good_calls.h.
 * Memory is charged where it is asked for. */
enum { A_CALL = 100, A_FIELD = 5, OPERATIONS_A_STEP = 4 };

/* Looking at the inputs, item by item, and formulas without a loop. */
static long long price_of(const struct sl_op *op, const size_t *length) {
  size_t fields = op->nin;
  for (size_t i = 0; i < op->nin; i++) {
    if (op->in[i].kind < SL_FIELD_LIST) continue;
    const size_t each = op->in[i].kind == SL_FIELD_LIST ? 1 : op->in[i].nfields;
    fields += *length++ * each;
  }
  return A_CALL + A_FIELD * (long long)fields;
}

static int call_op(lua_State *L) {
  const struct sl_op *op = lua_touserdata(L, lua_upvalueindex(1));
  luaL_checkstack(L, 20, op->name);
  if (!lua_istable(L, 1)) {
    char got[200];
    sl_describe_value(L, 1, got, sizeof got);
    return sl_raise(L, "C001", NULL, "%s needs its inputs in braces, as in %s{ %s = ... }; got %s", op->name, op->name,
                    op->in[0].name, got);
  }
  size_t length[SL_LISTS];
  unsigned char *items;
  const size_t bytes = sl_take_lengths(L, op, length);
  sl_sandbox_charge(L, price_of(op, length));
  struct worked *w = make(L, op, bytes, &items);
  sl_take(L, op, length, w->in, items);
  make_room(L, w);
  struct sl_sheet sheet = { .fault = { .limit = NAN } };   /* without rows: the fault, and what the answer rests on */
  enum sl_status status = op->call(w->in, w->out, w->space, &sheet);
  sl_sandbox_charge(L, (long long)(sheet.work / OPERATIONS_A_STEP));
  if (status != SL_OK) return fail(L, w, status, &sheet.fault);
  w->rests = sheet.rests;
  if (sheet.nmemory) rest_on(L, &sheet);
  const struct sl_field *bad = sl_unfit(op->out, op->nout, w->out);
  if (bad) {
    sl_error_push(L, "C005", NULL, "%s: '%s' comes out as no number: an input is far beyond what it is for", op->name,
                  bad->name);
    sl_error_field(L, "class", "range");
    return lua_error(L);
  }
  lua_rawgeti(L, LUA_REGISTRYINDEX, sl_state_of(L)->worked_meta);
  lua_setmetatable(L, -2);
  return 1;
}

static struct worked *worked_at(lua_State *L, int idx) {
  if (lua_type(L, idx) != LUA_TUSERDATA) return NULL;
  struct worked *w = lua_touserdata(L, idx);
  return w->kind == &WORKED ? w : NULL;
}

bool sl_bind_called(lua_State *L, int index, struct sl_called *to) {
  const struct worked *w = worked_at(L, index);
  if (w) *to = (struct sl_called){ w->op, w->in, w->out, w->space };
  return w != NULL;
}

bool sl_worked_alike(lua_State *L, int a, int b) {
  const struct worked *v = worked_at(L, a), *w = worked_at(L, b);
  return v && w && v->op == w->op && v->rests == w->rests && sl_same_bits(v->op->out, v->op->nout, v->out, w->out);
}

static int worked_index(lua_State *L) {
  const struct worked *w = worked_at(L, 1);
  return w ? sl_give(L, w->op->name, w->op->out, w->op->nout, w->out, lua_tostring(L, 2), 1) : 0;
}

/* A worked sheet is worked again until it has room for every row; most need no second time. */
enum { FEW_ROWS = 64 };

static void record_sheet(lua_State *L, const struct worked *w, struct sl_sheet *sheet, struct sl_row *few) {
  size_t room = FEW_ROWS;
  struct sl_row *rows = few;
  for (;;) {
    *sheet = (struct sl_sheet){ .row = rows, .cap = room };
    w->op->call(w->in, w->out, w->space, sheet);
    if (!sheet->lost) return;
    room = sheet->n + sheet->lost;
    rows = lua_newuserdatauv(L, room * sizeof *rows, 0);
  }
}

/* "conductors[i].count": the input, and the field of its row. */
static void push_member(lua_State *L, const char *member) {
  const size_t n = strspn(member, SL_NAME_LETTERS);
  lua_pushlstring(L, member, n);
  lua_setfield(L, -2, "member");
  const char *field = strstr(member + n, "].");
  if (!field) return;
  lua_pushlstring(L, field + 2, strspn(field + 2, SL_NAME_LETTERS));
  lua_setfield(L, -2, "field");
}

/* sheet(worked) -> op name, { { kind, symbol, text, cite, basis, member, field, item, value, dim }, ... }. */
static int worked_sheet(lua_State *L) {
  struct worked *w = worked_at(L, 1);
  if (!w) {
    char got[200];
    sl_describe_value(L, 1, got, sizeof got);
    return sl_raise(L, "C001", NULL, "sheet needs the result of a primitive, got %s", got);
  }
  static const char *const kinds[] = { "given", "table", "step", "word", "heading", "lines", "line", "end" };
  struct sl_row few[FEW_ROWS];
  struct sl_sheet sheet;
  record_sheet(L, w, &sheet, few);
  lua_pushstring(L, w->op->name);
  lua_createtable(L, (int)sheet.n, 0);
  for (size_t i = 0; i < sheet.n; i++) {
    const struct sl_row *r = &sheet.row[i];
    lua_createtable(L, 0, 7);
    sl_error_field(L, "kind", kinds[r->kind]);
    sl_error_field(L, "symbol", r->symbol);
    sl_error_field(L, "text", r->text);
    sl_error_field(L, "cite", r->cite);
    sl_error_field(L, "basis", sl_basis_name(r->basis));
    if (*r->member) push_member(L, r->member);
    if (r->item) {
      lua_pushinteger(L, (lua_Integer)r->item);
      lua_setfield(L, -2, "item");
    }
    sl_error_field(L, "dim", sl_dim_name(r->dim));
    sl_push_real(L, r->dim, r->value);
    lua_setfield(L, -2, "value");
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  return 2;
}

/* worked_unread(worked) -> { { symbol, text, cite, basis } ... }: the values out of tables that were not read in the
 * source itself, nor derived from such. Nothing where there is none: the primitive need not be called for that. */
static int worked_unread(lua_State *L) {
  static const unsigned sound = 1u << SL_READ | 1u << SL_DERIVED;
  const struct worked *w = worked_at(L, 1);
  struct sl_row few[FEW_ROWS];
  struct sl_sheet sheet;
  if (!w || !(w->rests & ~sound)) return 0;
  record_sheet(L, w, &sheet, few);
  lua_newtable(L);
  for (size_t i = 0; i < sheet.n; i++) {
    const struct sl_row *r = &sheet.row[i];
    if (r->kind != SL_ROW_TABLE || sound >> r->basis & 1) continue;
    lua_createtable(L, 0, 4);
    sl_error_field(L, "symbol", r->symbol);
    sl_error_field(L, "text", r->text);
    sl_error_field(L, "cite", r->cite);
    sl_error_field(L, "basis", sl_basis_name(r->basis));
    lua_rawseti(L, -2, (lua_Integer)lua_rawlen(L, -2) + 1);
  }
  return 1;
}

/* ---- for describe and the reference ------------------------------------------------------------------------------ */

static void push_op(lua_State *L, const struct sl_op *op) {
  lua_createtable(L, 0, 4);
  sl_error_field(L, "name", op->name);
  sl_error_field(L, "help", op->help);
  sl_push_fields(L, op->in, op->nin);
  lua_setfield(L, -2, "inputs");
  sl_push_fields(L, op->out, op->nout);
  lua_setfield(L, -2, "outputs");
}

/* primitives() -> { { name, help, inputs, outputs }, ... } in the order of the lists. */
static int list_ops(lua_State *L) {
  lua_newtable(L);
  for (size_t i = 0; sl_op_lists[i]; i++)
    for (const struct sl_op *op = sl_op_lists[i]; op->name; op++) {
      push_op(L, op);
      lua_rawseti(L, -2, (lua_Integer)lua_rawlen(L, -2) + 1);
    }
  return 1;
}

void sl_bind_push(lua_State *L, const struct sl_op *op) {
  lua_pushlightuserdata(L, (void *)(uintptr_t)op);
  lua_pushcclosure(L, call_op, 1);
}

static const struct sl_op *op_at(lua_State *L, int index) {
  const char *name = lua_type(L, index) == LUA_TSTRING ? lua_tostring(L, index) : "";
  for (size_t i = 0; sl_op_lists[i]; i++)
    for (const struct sl_op *op = sl_op_lists[i]; op->name; op++)
      if (*op->name == *name && strcmp(op->name, name) == 0) return op;
  return NULL;
}

/* primitive(name) -> { name, help, inputs, outputs }, or nil. */
static int one_op(lua_State *L) {
  const struct sl_op *op = op_at(L, 1);
  if (op) push_op(L, op);
  return op != NULL;
}

/* A primitive is made at its first use: their number costs a start nothing. */
static int calc_index(lua_State *L) {
  const struct sl_op *op = op_at(L, 2);
  if (!op) return 0;
  sl_bind_push(L, op);
  lua_pushvalue(L, 2);
  lua_pushvalue(L, -2);
  lua_rawset(L, 1);
  return 1;
}

void sl_bind_open(lua_State *L) {
  sl_give_open(L);
  lua_newtable(L);
  lua_pushcfunction(L, worked_index);
  lua_setfield(L, -2, "__index");
  lua_pushcfunction(L, sl_read_only);
  lua_setfield(L, -2, "__newindex");
  lua_pushboolean(L, 0);
  lua_setfield(L, -2, "__metatable");
  lua_pushliteral(L, "worked result");
  lua_setfield(L, -2, "__name");
  sl_state_of(L)->worked_meta = luaL_ref(L, LUA_REGISTRYINDEX);

  lua_newtable(L);
  lua_createtable(L, 0, 1);
  lua_pushcfunction(L, calc_index);
  lua_setfield(L, -2, "__index");
  lua_setmetatable(L, -2);
  lua_setglobal(L, "calc");
  lua_pushcfunction(L, worked_sheet);
  lua_setglobal(L, "worked_sheet");
  lua_pushcfunction(L, worked_unread);
  lua_setglobal(L, "worked_unread");
  lua_createtable(L, 0, 1);
  lua_newtable(L);
  lua_setfield(L, -2, "cites");
  lua_pushvalue(L, -1);
  lua_rawsetp(L, LUA_REGISTRYINDEX, &RESTING);
  lua_setglobal(L, "resting");
  lua_pushcfunction(L, list_ops);
  lua_setglobal(L, "primitives");
  lua_pushcfunction(L, one_op);
  lua_setglobal(L, "primitive");
}
