/* SPDX-License-Identifier: MIT
 * The rows of command.def as tables of Lua: what help, manual page, completions and reference are made from. */
#include "command/rows.h"

#include <lauxlib.h>
#include <stdbool.h>
#include "command/line.h"

static void set_text(lua_State *L, const char *name, const char *value) {
  lua_pushstring(L, value);
  lua_setfield(L, -2, name);
}

static void set_number(lua_State *L, const char *name, size_t value) {
  lua_pushinteger(L, (lua_Integer)value);
  lua_setfield(L, -2, name);
}

static void set_flag(lua_State *L, const char *name, bool value) {
  lua_pushboolean(L, value);
  lua_setfield(L, -2, name);
}

/* The row on top becomes the next of the list under it. */
static void append(lua_State *L) { lua_rawseti(L, -2, (lua_Integer)lua_rawlen(L, -2) + 1); }

static void push_commands(lua_State *L) {
  lua_newtable(L);
  for (const struct sl_command *c = sl_commands; c->name; c++, append(L)) {
    lua_newtable(L);
    set_text(L, "name", c->name);
    set_text(L, "words", c->words);
    set_flag(L, "many", c->most == SL_MANY);
    set_number(L, "takes", c->takes);
    set_number(L, "gives", c->gives);
    set_text(L, "says", c->says);
    set_text(L, "more", c->more);
    set_text(L, "example", c->example);
  }
}

static void push_options(lua_State *L) {
  static const char *const kinds[] = { [SL_KIND_FLAG] = "flag", [SL_KIND_TEXT] = "text", [SL_KIND_LIST] = "list",
                                       [SL_KIND_COUNT] = "count", [SL_KIND_CHOICE] = "choice" };
  lua_newtable(L);
  for (const struct sl_option *o = sl_options; o->name; o++, append(L)) {
    char letter[2] = { o->letter, 0 };
    lua_newtable(L);
    set_text(L, "name", o->name);
    set_text(L, "letter", letter);
    set_text(L, "value", o->value);
    set_text(L, "kind", kinds[o->kind]);
    set_number(L, "takes", o->takes);
    lua_newtable(L);
    for (const struct sl_command *c = sl_commands; c->name; c++) set_flag(L, c->name, sl_takes_option(c, o));
    lua_setfield(L, -2, "of");
    set_text(L, "says", o->says);
    set_text(L, "example", o->example);
  }
}

static void push_formats(lua_State *L) {
  lua_newtable(L);
  for (size_t i = 0; sl_format_at(i); i++, append(L)) {
    const struct sl_format_row *f = sl_format_at(i);
    lua_newtable(L);
    set_text(L, "name", f->name);
    set_number(L, "holds", f->holds);
    set_flag(L, "messages", sl_message_format(f));
    set_text(L, "says", f->says);
  }
}

static int h_command_line(lua_State *L) {
  lua_newtable(L);
  push_commands(L);
  lua_setfield(L, -2, "commands");
  push_options(L);
  lua_setfield(L, -2, "options");
  push_formats(L);
  lua_setfield(L, -2, "formats");
  lua_newtable(L);
  for (const struct sl_part *p = sl_parts; p->name; p++, append(L)) {
    lua_newtable(L);
    set_text(L, "name", p->name);
    set_text(L, "says", p->says);
  }
  lua_setfield(L, -2, "parts");
  lua_newtable(L);
  for (const struct sl_exit_row *s = sl_statuses; s->says; s++, append(L)) {
    lua_newtable(L);
    set_number(L, "number", (size_t)s->number);
    set_text(L, "says", s->says);
  }
  lua_setfield(L, -2, "statuses");
  return 1;
}

static int h_status(lua_State *L) {
  lua_pushinteger(L, sl_exit_of(luaL_checkstring(L, 1)));
  return 1;
}

void sl_rows_open(lua_State *L) {
  static const luaL_Reg functions[] = { { "command_line", h_command_line }, { "status", h_status }, { NULL, NULL } };
  lua_getglobal(L, "host");
  luaL_setfuncs(L, functions, 0);
  set_text(L, "version", SL_VERSION);
  lua_pop(L, 1);
}
