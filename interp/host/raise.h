/* SPDX-License-Identifier: MIT
 * Errors as values: a table with code, text, place, labels, notes and help, raised from C or from the host's Lua and
 * printed once, at the end, by the host. */
#ifndef SL_RAISE_H
#define SL_RAISE_H

#include <lua.h>
#include "host/message.h"

void sl_raise_open(lua_State *L);
/* Pushes an error table placed at the nearest level of the person's own text (a chunk whose name starts with '@'). */
void sl_error_push(lua_State *L, const char *code, const char *help, const char *format, ...)
    __attribute__((format(printf, 4, 5)));
/* Pushes one without a field. */
void sl_error_new(lua_State *L);
/* Raises what is on top of the stack. */
#define sl_raise(L, ...) (sl_error_push(L, __VA_ARGS__), lua_error(L))
/* Narrows the place of the error on top of the stack. */
void sl_error_place(lua_State *L, int source, struct sl_span span);
void sl_error_label(lua_State *L, struct sl_span span, const char *text);
void sl_error_field(lua_State *L, const char *name, const char *value);   /* error.name = value */
/* Nearest level of the person's text: source id and line; false if there is none. */
bool sl_where(lua_State *L, int *source, int *line);
/* A word's place on a line; the whole statement where it is not there, or there twice. */
struct sl_span sl_find_word(lua_State *L, int source, int line, const char *word);
/* Fills a message from the error value at idx (a table of ours, or any Lua error text). Strings live on the stack. */
void sl_error_message(lua_State *L, int idx, struct sl_message *out);
/* Calls f with the message of the error value at idx, and with those of the errors that came with it. Raises nothing:
 * where there is no memory for that, f is told so. */
void sl_error_each(lua_State *L, int idx, void (*f)(void *to, const struct sl_message *m), void *to);
/* Message handler for lua_pcall: gives a Lua error text its place and words of its own. */
int sl_error_handler(lua_State *L);
/* Turns the compiler's message, on top of the stack, into an error of ours. */
void sl_error_uncompiled(lua_State *L, int source);
/* Whether the run was stopped; then what is on top of the stack becomes an error of ours that says why, and where. */
bool sl_error_stopped(lua_State *L);
bool sl_is_error(lua_State *L, int idx);
/* Whether what was raised, on top, is an error of ours that says why something is unknown: one with a class. */
bool sl_says_why(lua_State *L);
/* The error of ours on top becomes a copy with only the fields that an error has, each of its own type: a script that
 * caught one can have put anything in, and may change it later. */
void sl_error_clean(lua_State *L);
#endif
