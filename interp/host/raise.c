/* SPDX-License-Identifier: MIT
 * Errors as values, and Lua's own messages in words that a person can use. */
#include "host/raise.h"

#include <ctype.h>
#include <lauxlib.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include "host/reword.h"
#include "box/sandbox.h"
#include "host/state.h"
#include "host/text.h"
#include "value/quantity.h"

static const char ERROR = 'e';    /* registry key of the metatable */
static const char no_memory_help[] = "close other programs, or ask for less in one run";
enum { SL_MESSAGE_LIST = 100, LONGEST_WORDS = 4000,
       BYTES_A_STEP = 8 };        /* of a name that was far too long for its message, and was read to its end */

bool sl_is_error(lua_State *L, int idx) {
  if (!lua_istable(L, idx) || !lua_getmetatable(L, idx)) return false;
  lua_rawgetp(L, LUA_REGISTRYINDEX, &ERROR);
  bool ours = lua_rawequal(L, -1, -2);
  lua_pop(L, 2);
  return ours;
}

bool sl_says_why(lua_State *L) {
  if (!sl_is_error(L, -1)) return false;
  const bool yes = lua_getfield(L, -1, "class") != LUA_TNIL;
  lua_pop(L, 1);
  return yes;
}

bool sl_where(lua_State *L, int *source, int *line) {
  lua_Debug ar;
  for (int level = 0; lua_getstack(L, level, &ar); level++) {
    lua_getinfo(L, "Sl", &ar);
    if (ar.source[0] != '@' || ar.currentline <= 0) continue;
    *source = sl_source_find(&sl_state_of(L)->sources, ar.source + 1);
    *line = ar.currentline;
    return *source != 0;
  }
  return false;
}

/* The statement of a line: from its first to its last byte that is not blank or comment. */
static struct sl_span whole_line(lua_State *L, int source, int line) {
  size_t n, from = 0;
  const char *text = sl_source_line(&sl_state_of(L)->sources, source, line, &n);
  if (!text) return (struct sl_span){ line, 1, 0 };
  for (size_t i = 0; i + 1 < n; i++)
    if (text[i] == '-' && text[i + 1] == '-' && (i == 0 || isspace((unsigned char)text[i - 1]))) { n = i; break; }
  while (n && isspace((unsigned char)text[n - 1])) n--;
  while (from < n && isspace((unsigned char)text[from])) from++;
  return (struct sl_span){ line, (int)from + 1, (int)(n - from) };
}

/* Finds a word on a line as a token; the whole statement if it is not there or there twice. */
struct sl_span sl_find_word(lua_State *L, int source, int line, const char *word) {
  size_t n, length = strlen(word);
  const char *text = sl_source_line(&sl_state_of(L)->sources, source, line, &n);
  struct sl_span found = { 0, 0, 0 };
  for (size_t i = 0; text && length && i + length <= n; i++) {
    bool name = isalnum((unsigned char)word[0]) || word[0] == '_';
    if (memcmp(text + i, word, length) != 0) continue;
    if (name && i > 0 && (isalnum((unsigned char)text[i - 1]) || text[i - 1] == '_')) continue;
    if (name && i + length < n && (isalnum((unsigned char)text[i + length]) || text[i + length] == '_')) continue;
    if (found.line) return whole_line(L, source, line);
    found = (struct sl_span){ line, (int)i + 1, (int)length };
  }
  return found.line ? found : whole_line(L, source, line);
}

/* The function that the person's text called there, where its name stands once on the line; else the statement. */
static struct sl_span called(lua_State *L, int source, int line) {
  lua_Debug ar, callee;
  for (int level = 0; lua_getstack(L, level, &ar); level++) {
    lua_getinfo(L, "Sl", &ar);
    if (ar.source[0] != '@' || ar.currentline <= 0) continue;
    if (level == 0 || !lua_getstack(L, level - 1, &callee)) break;
    lua_getinfo(L, "n", &callee);
    static const char *const plain[] = { "global", "local", "method", "field", "upvalue" };
    for (size_t i = 0; callee.name && i < sizeof plain / sizeof *plain; i++)
      if (strcmp(callee.namewhat, plain[i]) == 0) return sl_find_word(L, source, line, callee.name);
    break;
  }
  return whole_line(L, source, line);
}

static void set_int(lua_State *L, const char *name, int value) {
  lua_pushinteger(L, value);
  lua_setfield(L, -2, name);
}

void sl_error_place(lua_State *L, int source, struct sl_span span) {
  set_int(L, "source", source);
  set_int(L, "line", span.line);
  set_int(L, "col", span.col);
  set_int(L, "len", span.len);
}

void sl_error_field(lua_State *L, const char *name, const char *value) {
  lua_pushstring(L, value);
  lua_setfield(L, -2, name);
}

void sl_error_label(lua_State *L, struct sl_span span, const char *text) {
  if (lua_getfield(L, -1, "labels") != LUA_TTABLE) {
    lua_pop(L, 1);
    lua_newtable(L);
    lua_pushvalue(L, -1);
    lua_setfield(L, -3, "labels");
  }
  lua_newtable(L);
  set_int(L, "line", span.line);
  set_int(L, "col", span.col);
  set_int(L, "len", span.len);
  sl_error_field(L, "text", text);
  lua_rawseti(L, -2, (lua_Integer)lua_rawlen(L, -2) + 1);
  lua_pop(L, 1);
}

void sl_error_new(lua_State *L) {
  lua_newtable(L);
  lua_rawgetp(L, LUA_REGISTRYINDEX, &ERROR);
  lua_setmetatable(L, -2);
}

void sl_error_push(lua_State *L, const char *code, const char *help, const char *format, ...) {
  char text[1024];
  va_list args, again;
  va_start(args, format);
  va_copy(again, args);
  const size_t n = sl_vsay(text, sizeof text, format, args);
  if (n + 4 >= sizeof text) sl_sandbox_charge(L, vsnprintf(NULL, 0, format, again) / BYTES_A_STEP);
  va_end(again);
  va_end(args);
  luaL_checkstack(L, 8, "error");
  sl_error_new(L);
  sl_error_field(L, "text", text);
  sl_error_field(L, "code", code);
  if (help) sl_error_field(L, "help", help);
  int source, line;
  if (sl_where(L, &source, &line)) sl_error_place(L, source, called(L, source, line));
}

/* ---- Lua's own messages ------------------------------------------------------------------------------------------ */

/* Turns the Lua error text on top into an error of ours. */
static void translate(lua_State *L, int source, int line) {
  struct sl_reworded w;
  const char *raw = lua_tostring(L, -1);
  if (raw) sl_reword(raw, &sl_state_of(L)->sources, source, line, &w);
  else {
    w = (struct sl_reworded){ .code = "L002", .help = "error(\"what is wrong, in words\")" };
    const char *type = sl_quantity_at(L, -1) ? "quantity" : luaL_typename(L, -1);
    if (strcmp(type, "nil") == 0) SL_SAY(w.text, "the script raised an error without words");
    else SL_SAY(w.text, "the script raised %s %s as its error", sl_article(type), type);
  }
  sl_error_push(L, w.code, *w.help ? w.help : NULL, "%s", w.text);
  if (w.line && (!line || strcmp(w.code, "L001") == 0)) line = w.line;
  if (source && line)
    sl_error_place(L, source, *w.word ? sl_find_word(L, source, line, w.word) : whole_line(L, source, line));
  lua_remove(L, -2);
}

void sl_error_uncompiled(lua_State *L, int source) { translate(L, source, 0); }

int sl_error_handler(lua_State *L) {
  if (sl_is_error(L, 1) || sl_sandbox_abort(L)) return 1;     /* a stopped run keeps its own reason */
  int source = 0, line = 0;
  lua_settop(L, 1);
  sl_where(L, &source, &line);
  translate(L, source, line);
  return 1;
}

static bool tells_stop(lua_State *L, int idx) {
  if (!sl_is_error(L, idx)) return false;
  lua_getfield(L, idx, "class");
  const bool yes = lua_type(L, -1) == LUA_TSTRING && strcmp(lua_tostring(L, -1), "abort") == 0;
  lua_pop(L, 1);
  return yes;
}

bool sl_error_stopped(lua_State *L) {
  const char *why = sl_sandbox_abort(L), *at = sl_sandbox_stopped_at(L), *colon = strrchr(at, ':');
  if (!why || tells_stop(L, -1)) return why != NULL;
  char file[SL_PLACE_ROOM] = "";
  int line = 0;
  while (colon && colon > at && *--colon != ':') continue;       /* "file:12: ", and a file's name may have colons */
  if (colon && sscanf(colon, ":%d", &line) == 1) SL_SAY(file, "%.*s", (int)(colon - at), at);
  if (why == sl_no_memory) sl_error_push(L, "S003", no_memory_help, "stopped: %s", why);
  else sl_error_push(L, "S001", "a loop without an end, or more work than one script may ask for",
                     "stopped: the script %s", why);
  sl_error_field(L, "class", "abort");
  int source = *file ? sl_source_find(&sl_state_of(L)->sources, file) : 0;
  if (source && line) sl_error_place(L, source, whole_line(L, source, line));
  lua_remove(L, -2);
  return true;
}

/* ---- what a script has had in its hands -------------------------------------------------------------------------- */

/* Copies the fields that have the type wanted, long texts cut short, from the table at `from` to the one on top. */
static void take_fields(lua_State *L, int from, const char *const *names, int type) {
  for (; *names; names++) {
    lua_pushstring(L, *names);
    const bool right = lua_rawget(L, from) == type && (type != LUA_TNUMBER || (lua_isinteger(L, -1) &&
                       lua_tointeger(L, -1) >= 0 && lua_tointeger(L, -1) <= 0xFFFFFF));
    if (right && type == LUA_TSTRING && lua_rawlen(L, -1) > LONGEST_WORDS) {
      lua_pushlstring(L, lua_tostring(L, -1), LONGEST_WORDS);
      lua_pushliteral(L, "...");
      lua_concat(L, 2);
      lua_remove(L, -2);
    }
    if (right) lua_setfield(L, -2, *names);
    else lua_pop(L, 1);
  }
}

static const char *const span_names[] = { "line", "col", "len", NULL };

static void take_label(lua_State *L) {
  static const char *const texts[] = { "text", NULL };
  const int from = lua_gettop(L);
  lua_newtable(L);
  take_fields(L, from, span_names, LUA_TNUMBER);
  take_fields(L, from, texts, LUA_TSTRING);
  lua_remove(L, from);
}

static void take_error(lua_State *L, bool more);
static void take_other(lua_State *L) { take_error(L, false); }

/* Copies a list of such values, no longer than a message has use for, from the table at `from` to the one on top. */
static void take_list(lua_State *L, int from, const char *name, int type, void (*take)(lua_State *)) {
  lua_Integer n = 0;
  lua_pushstring(L, name);
  if (lua_rawget(L, from) != LUA_TTABLE) {
    lua_pop(L, 1);
    return;
  }
  const int list = lua_gettop(L);
  lua_newtable(L);
  for (lua_Integer i = 1; i <= SL_MESSAGE_LIST && lua_rawgeti(L, list, i) != LUA_TNIL; i++) {
    if (lua_type(L, -1) != type) lua_pop(L, 1);
    else {
      if (take) take(L);
      lua_rawseti(L, list + 1, ++n);
    }
  }
  lua_settop(L, list + 1);
  lua_setfield(L, list - 1, name);
  lua_pop(L, 1);
}

static void take_error(lua_State *L, bool more) {
  static const char *const texts[] = { "text", "page", "code", "help", "write", "class", "path", "who", "tool", "cite",
                                       NULL };
  static const char *const source[] = { "source", NULL };
  luaL_checkstack(L, 12, "error");
  const int from = lua_gettop(L);
  sl_error_new(L);
  take_fields(L, from, texts, LUA_TSTRING);
  take_fields(L, from, source, LUA_TNUMBER);
  take_fields(L, from, span_names, LUA_TNUMBER);
  take_list(L, from, "labels", LUA_TTABLE, take_label);
  take_list(L, from, "notes", LUA_TSTRING, NULL);
  if (more) take_list(L, from, "more", LUA_TTABLE, take_other);
  lua_remove(L, from);
}

void sl_error_clean(lua_State *L) {
  if (sl_is_error(L, -1)) take_error(L, true);
}

/* ---- reading it back --------------------------------------------------------------------------------------------- */

static int int_field(lua_State *L, int idx, const char *name) {
  lua_getfield(L, idx, name);
  int value = (int)lua_tointeger(L, -1);
  lua_pop(L, 1);
  return value;
}

/* A text of which nothing is lost where C sees its end: one with a NUL is kept as it will be shown. */
static const char *whole_text(lua_State *L) {
  size_t n;
  const char *text = lua_tolstring(L, -1, &n);
  if (strlen(text) == n) return text;
  luaL_Buffer b;
  char *safe = luaL_buffinitsize(L, &b, 4 * n + 1);
  luaL_pushresultsize(&b, sl_safe(safe, 4 * n + 1, text, n));
  lua_remove(L, -2);
  return lua_tostring(L, -1);
}

static const char *text_field(lua_State *L, int idx, const char *name) {
  const char *text = NULL;
  idx = lua_absindex(L, idx);
  if (lua_getfield(L, idx, name) == LUA_TSTRING) {
    text = whole_text(L);
    lua_pushvalue(L, -1);
    lua_setfield(L, idx, name);                /* the table keeps it */
  }
  lua_pop(L, 1);
  return text;
}

static struct sl_span span_fields(lua_State *L, int idx) {
  return (struct sl_span){ int_field(L, idx, "line"), int_field(L, idx, "col"), int_field(L, idx, "len") };
}

void sl_error_message(lua_State *L, int idx, struct sl_message *out) {
  *out = (struct sl_message){ .severity = SL_ERROR, .code = "L002", .text = "the script failed" };
  idx = lua_absindex(L, idx);
  if (!lua_istable(L, idx)) {
    if (!lua_tostring(L, idx)) return;
    lua_pushvalue(L, idx);
    out->text = whole_text(L);
    lua_replace(L, idx);
    return;
  }
  const char *text = text_field(L, idx, "text"), *code = text_field(L, idx, "code");
  if (text) out->text = text;
  if (code) out->code = code;
  out->help = text_field(L, idx, "help");
  out->write = text_field(L, idx, "write");
  out->source = int_field(L, idx, "source");
  out->span = span_fields(L, idx);
  if (lua_getfield(L, idx, "labels") == LUA_TTABLE)
    for (size_t i = 1; i <= lua_rawlen(L, -1) && out->nlabel < SL_MESSAGE_LABELS; i++) {
      if (lua_rawgeti(L, -1, (lua_Integer)i) == LUA_TTABLE) {
        const char *words = text_field(L, -1, "text");
        out->label[out->nlabel++] = (struct sl_label){ span_fields(L, lua_gettop(L)), words ? words : "" };
      }
      lua_pop(L, 1);
    }
  lua_pop(L, 1);
  if (lua_getfield(L, idx, "notes") == LUA_TTABLE)
    for (size_t i = 1; i <= lua_rawlen(L, -1) && out->nnote < SL_MESSAGE_NOTES; i++) {
      if (lua_rawgeti(L, -1, (lua_Integer)i) != LUA_TSTRING) lua_pop(L, 1);
      else {
        out->note[out->nnote++] = whole_text(L);
        lua_rawseti(L, -2, (lua_Integer)i);
      }
    }
  lua_pop(L, 1);
}

struct telling { void (*f)(void *to, const struct sl_message *m); void *to; };

/* Protected: (telling, error). */
static int tell_each(lua_State *L) {
  const struct telling *t = lua_touserdata(L, 1);
  struct sl_message m;
  sl_error_stopped(L);
  sl_error_message(L, 2, &m);
  t->f(t->to, &m);
  if (!lua_istable(L, 2) || lua_getfield(L, 2, "more") != LUA_TTABLE) return 0;
  for (size_t i = 1; i <= lua_rawlen(L, 3); i++) {
    lua_rawgeti(L, 3, (lua_Integer)i);
    sl_error_message(L, 4, &m);
    t->f(t->to, &m);
    lua_settop(L, 3);
  }
  return 0;
}

void sl_error_each(lua_State *L, int idx, void (*f)(void *to, const struct sl_message *m), void *to) {
  static const struct sl_message none = { .severity = SL_ERROR, .code = "S003", .text = "stopped: " SL_NO_MEMORY,
                                          .help = no_memory_help };
  struct telling t = { f, to };
  idx = lua_absindex(L, idx);
  lua_pushcfunction(L, tell_each);
  lua_pushlightuserdata(L, &t);
  lua_pushvalue(L, idx);
  if (lua_pcall(L, 2, 0, 0) == LUA_OK) return;
  lua_pop(L, 1);
  f(to, &none);
}

static int e_tostring(lua_State *L) {
  lua_getfield(L, 1, "text");
  return 1;
}

void sl_raise_open(lua_State *L) {
  lua_newtable(L);
  lua_pushcfunction(L, e_tostring);
  lua_setfield(L, -2, "__tostring");
  lua_pushliteral(L, "error");
  lua_setfield(L, -2, "__name");
  lua_rawsetp(L, LUA_REGISTRYINDEX, &ERROR);
}
