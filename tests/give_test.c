/* SPDX-License-Identifier: MIT
 * What a script gets of a primitive: nothing but numbers, choices and texts with an end goes through that door. */
#include "good_calls.h"

static const char *const picks[] = { "one", "two", NULL };

/* A primitive that hands back what it is given: those of the library give nothing that the door would stop. */
struct sl_echo_row { double real; int pick; char text[4]; };
struct sl_echo_in { double real, other; const double *items; size_t nitems; int many; };
struct sl_echo_out {
  double real, other;
  const double *items; size_t nitems;
  int pick;
  char text[4];
  const struct sl_echo_row *rows; size_t nrows;
};
static const struct sl_field echo_row[] = {
  SL_REAL(struct sl_echo_row, real, SL_LENGTH, "r"), SL_CHOICE(struct sl_echo_row, pick, picks, "p"),
  SL_TEXT(struct sl_echo_row, text, "t"),
};
static const struct sl_field echo_in[] = {
  SL_REAL(struct sl_echo_in, real, SL_LENGTH, "r"), SL_REAL_OPT(struct sl_echo_in, other, SL_LENGTH, "o"),
  SL_LIST(struct sl_echo_in, items, nitems, SL_LENGTH, "i"), SL_COUNT_OPT(struct sl_echo_in, many, "m"),
};
static const struct sl_field echo_out[] = {
  SL_REAL(struct sl_echo_out, real, SL_LENGTH, "r"), SL_REAL_OPT(struct sl_echo_out, other, SL_LENGTH, "the other one"),
  SL_LIST(struct sl_echo_out, items, nitems, SL_LENGTH, "i"), SL_CHOICE(struct sl_echo_out, pick, picks, "p"),
  SL_TEXT(struct sl_echo_out, text, "t"),
  SL_ROWS(struct sl_echo_out, rows, nrows, struct sl_echo_row, echo_row, "w"),
};
static size_t sl_echo_need(const struct sl_echo_in *in) {
  return in->many == 60 ? (size_t)-1 : in->many == 70 ? 65 << 20 : in->nitems * sizeof(struct sl_echo_row);
}
static enum sl_status sl_echo(const struct sl_echo_in *in, struct sl_echo_out *out, struct sl_space space,
                              struct sl_sheet *sh) {
  (void)sh;
  assert_true(space.size == sl_echo_need(in));
  struct sl_echo_row *rows = space.at;
  for (size_t i = 0; i < in->nitems; i++) rows[i] = (struct sl_echo_row){ in->items[i], 1, "abc" };
  *out = (struct sl_echo_out){ .real = in->real, .other = in->other, .items = in->items, .nitems = in->nitems,
                               .pick = in->many % 10, .rows = rows, .nrows = in->nitems };
  if (in->many == 10) out->items = NULL;
  if (in->many == 20) memset(out->text, 'x', sizeof out->text);
  if (in->many == 30) rows[1].pick = 2;
  if (in->many == 40) memset(rows[1].text, 'x', sizeof rows[1].text);
  if (in->many == 50) rows[1].real = NAN;
  return SL_OK;
}
SL_OP_CALL_ROOM(echo)
static const struct sl_op echo = SL_OP_ROOM(echo, "hands back what it is given");

static const struct door {
  const char *name;
  double real, other, item;
  int many;
  const char *bad;                                               /* the output that is named; NULL: it passes */
} doors[] = {
  { "numbers pass the door", 1, 2, 3, 0, NULL },
  { "an optional output may be absent", 1, NAN, 3, 0, NULL },
  { "NaN does not pass the door", NAN, 2, 3, 0, "'real'" },
  { "nor what has no end", INFINITY, 2, 3, 0, "'real'" },
  { "nor below", -INFINITY, 2, 3, 0, "'real'" },
  { "an optional output is no way out", 1, INFINITY, 3, 0, "'other'" },
  { "NaN in a list does not pass", 1, 2, NAN, 0, "'items'" },
  { "nor what has no end in a list", 1, 2, -INFINITY, 0, "'items'" },
  { "nor a list without its items", 1, 2, 3, 10, "'items'" },
  { "the last choice passes", 1, 2, 3, 1, NULL },
  { "no choice past the last", 1, 2, 3, 2, "'pick'" },
  { "no choice before the first", 1, 2, 3, -1, "'pick'" },
  { "no text without an end", 1, 2, 3, 20, "'text'" },
  { "no such choice in a row", 1, 2, 3, 30, "'rows'" },
  { "no such text in a row", 1, 2, 3, 40, "'rows'" },
  { "no NaN in a row", 1, 2, 3, 50, "'rows'" },
  { "an answer beyond all room is refused", 1, 2, 3, 60, "more than 64 MiB" },
  { "and one beyond the room that there is", 1, 2, 3, 70, "more than 64 MiB" },
};

static void push_length(lua_State *L, double si) {
  sl_quantity_push(L, (struct sl_quantity){ .si = si, .dims = sl_dim_dims(SL_LENGTH) });
}

static void door_holds(void **state) {
  const struct door *d = *state;
  const struct job_row row = { d->name, NULL, NULL, NULL, NULL, NULL, 0 };
  lua_State *L = sl_host_new(&job_host, NULL);
  assert_non_null(L);
  lua_pushcfunction(L, job_body);
  lua_pushlightuserdata(L, (void *)(uintptr_t)&row);
  assert_int_equal(sl_host_call(L, 1, 0), LUA_OK);
  sl_bind_push(L, &echo);
  lua_newtable(L);
  push_length(L, d->real);
  lua_setfield(L, -2, "real");
  push_length(L, d->other);
  lua_setfield(L, -2, "other");
  lua_newtable(L);
  push_length(L, 3);
  lua_rawseti(L, -2, 1);
  push_length(L, d->item);
  lua_rawseti(L, -2, 2);
  lua_setfield(L, -2, "items");
  lua_pushinteger(L, d->many);
  lua_setfield(L, -2, "many");
  const bool fine = sl_host_call(L, 1, 1) == LUA_OK;
  struct sl_message m = { .code = "", .text = "" };
  if (d->bad) {
    if (!fine) sl_error_message(L, -1, &m);
    if (fine || strcmp(m.code, "C005") != 0 || strncmp(m.text, "echo: ", 6) != 0 || !strstr(m.text, d->bad))
      fail_msg("%s: %s[%s] %s", d->name, fine ? "passed" : "error", m.code, m.text);
    lua_getfield(L, -1, "class");
    assert_string_equal(lua_tostring(L, -1), "range");
  } else {
    assert_true(fine);
    lua_getfield(L, -1, "real");
    assert_near(number_at_top(L), d->real, 1e-15);
    lua_pop(L, 1);
    lua_getfield(L, -1, "rows");
    lua_geti(L, -1, 2);
    lua_getfield(L, -1, "real");
    assert_near(number_at_top(L), d->item, 1e-15);
    lua_getfield(L, -2, "text");
    assert_string_equal(lua_tostring(L, -1), "abc");
    lua_pop(L, 4);
    lua_setglobal(L, "answer");
    const bool reads = luaL_loadstring(L, "return answer.other") == LUA_OK && sl_host_call(L, 0, 1) == LUA_OK;
    assert_int_equal(reads, !isnan(d->other));
    if (!reads) {
      sl_error_message(L, -1, &m);
      assert_string_equal(m.code, "C007");
      assert_string_equal(m.text, "echo gives no 'other' here: the other one");
      lua_getfield(L, -1, "class");
      assert_string_equal(lua_tostring(L, -1), "range");
    }
  }
  sl_host_close(L);
}

int main(void) {
  static struct CMUnitTest tests[64];
  size_t n = 0;
  for (size_t i = 0; i < sizeof doors / sizeof *doors; i++)
    tests[n++] = (struct CMUnitTest){ doors[i].name, door_holds, NULL, NULL, (void *)(uintptr_t)&doors[i] };
  return _cmocka_run_group_tests("give", tests, n, job_setup, job_teardown);
}
