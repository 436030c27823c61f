/* SPDX-License-Identifier: MIT
 * What holds of the same call by a script, through the one binding:
 *   - what the struct can hold is taken, and comes out as C has it, to the last bit; what C refuses is refused with the
 *     code of that status, by the primitive's name and the input's
 *   - what the struct cannot hold, what is missing or strange, is refused with C001, C002 or C003
 *   - a refusal of a range has words for a page, without the primitive's name
 *   - the worked sheet is that of C, row by row */
#ifndef SL_CALL_SCRIPT_LAWS_H
#define SL_CALL_SCRIPT_LAWS_H

#include "call_laws.h"
#include "host/host.h"
#include "host/raise.h"

static inline double call_number_at_top(lua_State *L) {
  const struct sl_quantity *q = sl_quantity_at(L, -1);
  return q ? q->si : lua_tonumber(L, -1);
}

static inline void call_same_number(lua_State *L, const char *op, const struct sl_field *f, double want) {
  const double got = call_number_at_top(L);
  const struct sl_quantity *q = sl_quantity_at(L, -1);
  LAW_OR(memcmp(&got, &want, sizeof got) == 0, "%s: a script gets %s = %.17g, C %.17g", op, f->name, got, want);
  LAW_OR((q ? q->dims.w : 0) == sl_dim_dims(f->dim).w && (q && q->point) == (f->dim == SL_TEMPERATURE),
         "%s: a script gets %s in another dimension", op, f->name);
}

enum { CALL_ENDS = 50 };           /* of a long list both ends are read */

/* The result on top, or a row of it, against the struct. */
static inline void call_script_gets(lua_State *L, const char *op, const struct sl_field *fields, size_t n,
                                    const unsigned char *out) {
  for (size_t i = 0; i < n; i++) {
    const struct sl_field *f = &fields[i];
    const void *m = out + f->offset;
    if (f->kind == SL_FIELD_REAL && f->optional && isnan(*(const double *)m)) continue;
    lua_getfield(L, -1, f->name);
    switch (f->kind) {
      case SL_FIELD_REAL: call_same_number(L, op, f, *(const double *)m); break;
      case SL_FIELD_COUNT: LAW(lua_isinteger(L, -1) && lua_tointeger(L, -1) == *(const int *)m); break;
      case SL_FIELD_FLAG: LAW(lua_isboolean(L, -1) && lua_toboolean(L, -1) == *(const bool *)m); break;
      case SL_FIELD_CHOICE: LAW(strcmp(lua_tostring(L, -1), f->choices[*(const int *)m]) == 0); break;
      case SL_FIELD_TEXT: LAW(strcmp(lua_tostring(L, -1), m) == 0); break;
      case SL_FIELD_LIST: case SL_FIELD_ROWS: {
        size_t items;
        const unsigned char *at = call_list(f, out, &items);
        LAW(luaL_len(L, -1) == (lua_Integer)items);
        for (size_t k = 0; k < items; k++) {
          if (k == CALL_ENDS && items > 2 * CALL_ENDS) k = items - CALL_ENDS;
          lua_geti(L, -1, (lua_Integer)k + 1);
          if (f->kind == SL_FIELD_LIST) call_same_number(L, op, f, ((const double *)(const void *)at)[k]);
          else call_script_gets(L, op, f->fields, f->nfields, at + k * f->size);
          lua_pop(L, 1);
        }
        break;
      }
    }
    lua_pop(L, 1);
  }
}

static inline void call_same_text(lua_State *L, const char *key, const char *want) {
  lua_getfield(L, -1, key);
  LAW_OR(lua_type(L, -1) == LUA_TSTRING && strcmp(lua_tostring(L, -1), want) == 0, "the sheet's %s is '%s', C's '%s'",
         key, lua_tostring(L, -1) ? lua_tostring(L, -1) : "nil", want);
  lua_pop(L, 1);
}

/* worked_sheet of the result on top. */
static inline void call_script_sheet(lua_State *L, const struct sl_sheet *sheet) {
  lua_getglobal(L, "worked_sheet");
  lua_pushvalue(L, -2);
  lua_call(L, 1, 2);
  LAW(lua_rawlen(L, -1) == sheet->n);
  for (size_t i = 0; i < sheet->n; i++) {
    const struct sl_row *r = &sheet->row[i];
    lua_rawgeti(L, -1, (lua_Integer)i + 1);
    call_same_text(L, "symbol", r->symbol);
    call_same_text(L, "text", r->text);
    call_same_text(L, "cite", r->cite);
    lua_getfield(L, -1, "value");
    const double got = call_number_at_top(L);
    LAW_OR(memcmp(&got, &r->value, sizeof got) == 0, "a script's sheet has %s = %.17g, C's %.17g", r->symbol, got,
           r->value);
    lua_pop(L, 2);
  }
  lua_pop(L, 2);
}

struct call_script { const struct call *call; const struct call_answer *of_c; bool done; };

/* Protected: (struct call_script). */
static inline int call_script_body(lua_State *L) {
  struct call_script *s = lua_touserdata(L, 1);
  const struct call *c = s->call;
  luaL_checkstack(L, 40, "call");
  sl_bind_push(L, c->op);
  call_push(L, c);
  lua_call(L, 1, 1);
  s->done = true;
  if (!s->of_c || s->of_c->status != SL_OK) return 0;
  call_script_gets(L, c->op->name, c->op->out, c->op->nout, s->of_c->out);
  if (!s->of_c->sheet.lost) call_script_sheet(L, &s->of_c->sheet);
  return 0;
}

/* The error on top. */
static inline void call_script_refused(lua_State *L, const struct call *c, const struct call_answer *of_c) {
  static const char *const codes[] = { [SL_OK] = "", [SL_BAD_INPUT] = "C004", [SL_OUT_OF_RANGE] = "C005",
                                       [SL_NO_ROW] = "C006", [SL_NO_ANSWER] = "C007" };
  const char *op = c->op->name;
  struct sl_message m;
  LAW_OR(sl_is_error(L, -1), "%s raises what is no error of ours: %s", op, luaL_tolstring(L, -1, NULL));
  sl_error_message(L, -1, &m);
  LAW_OR(strncmp(m.text, op, strlen(op)) == 0 && strchr(": ", m.text[strlen(op)]), "%s: does not say its name: %s", op,
         m.text);
  if (!c->takes) {
    LAW_OR(strcmp(m.code, "C001") == 0 || strcmp(m.code, "C002") == 0 || strcmp(m.code, "C003") == 0,
           "%s refuses with [%s] %s", op, m.code, m.text);
    return;
  }
  LAW(of_c);
  LAW_OR(strcmp(m.code, codes[of_c->status]) == 0, "%s: C ends as %d, a script with [%s] %s", op, (int)of_c->status,
         m.code, m.text);
  const char *member = of_c->sheet.fault.member;
  LAW_OR(!member || strncmp(member, m.text + strlen(op) + 3, strcspn(member, "[")) == 0, "%s: '%s' is not named: %s",
         op, member, m.text);
  LAW_OR(strstr(m.text, of_c->sheet.fault.text), "%s: does not say why: %s", op, m.text);
  LAW_OR(sl_says_why(L) == (of_c->status != SL_BAD_INPUT), "%s: another class: %s", op, m.text);
  if (of_c->status == SL_BAD_INPUT) return;
  lua_getfield(L, -1, "page");
  LAW_OR(lua_type(L, -1) == LUA_TSTRING && strstr(lua_tostring(L, -1), of_c->sheet.fault.text),
         "%s: no words for a page", op);
  lua_pop(L, 1);
}

/* Tries the call in a state of the host's; of_c: what C gives for it, NULL where its structs cannot hold it. */
static inline void call_script_laws(lua_State *L, const struct call *c, const struct call_answer *of_c) {
  struct call_script s = { .call = c, .of_c = of_c };
  lua_settop(L, 0);
  lua_pushcfunction(L, call_script_body);
  lua_pushlightuserdata(L, &s);
  const bool fine = sl_host_call(L, 1, 0) == LUA_OK;
  LAW_OR(fine || !s.done, "%s: its result cannot be read: %s", c->op->name, luaL_tolstring(L, -1, NULL));
  const bool should = c->takes && of_c && of_c->status == SL_OK;
  LAW_OR(fine == should, "%s: a script is %s, C %s", c->op->name, fine ? "answered" : "refused",
         should ? "answers" : "does not");
  if (!fine) call_script_refused(L, c, of_c);
  lua_settop(L, 0);
}
#endif
