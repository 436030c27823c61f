/* SPDX-License-Identifier: MIT
 * Errors as values, and Lua's own messages in words that a person can use. */
#include "raise.h"

#include <ctype.h>
#include <lauxlib.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include "sandbox.h"

static const char ERROR = 'e';    /* registry key of the metatable */

bool sl_is_error(lua_State *L, int idx) {
  if (!lua_istable(L, idx) || !lua_getmetatable(L, idx)) return false;
  lua_rawgetp(L, LUA_REGISTRYINDEX, &ERROR);
  bool ours = lua_rawequal(L, -1, -2);
  lua_pop(L, 2);
  return ours;
}

bool sl_where(lua_State *L, int *source, int *line) {
  lua_Debug ar;
  for (int level = 0; lua_getstack(L, level, &ar); level++) {
    lua_getinfo(L, "Sl", &ar);
    if (ar.source[0] != '@' || ar.currentline <= 0) continue;
    *source = sl_source_find(ar.source + 1);
    *line = ar.currentline;
    return *source != 0;
  }
  return false;
}

/* The statement of a line: from its first to its last byte that is not blank or comment. */
static struct sl_span whole_line(int source, int line) {
  size_t n, from = 0;
  const char *text = sl_source_line(source, line, &n);
  if (!text) return (struct sl_span){ line, 1, 0 };
  for (size_t i = 0; i + 1 < n; i++)
    if (text[i] == '-' && text[i + 1] == '-' && (i == 0 || isspace((unsigned char)text[i - 1]))) { n = i; break; }
  while (n && isspace((unsigned char)text[n - 1])) n--;
  while (from < n && isspace((unsigned char)text[from])) from++;
  return (struct sl_span){ line, (int)from + 1, (int)(n - from) };
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

static void new_error(lua_State *L) {
  lua_newtable(L);
  lua_rawgetp(L, LUA_REGISTRYINDEX, &ERROR);
  lua_setmetatable(L, -2);
}

void sl_error_push(lua_State *L, const char *code, const char *help, const char *format, ...) {
  char text[1024];
  va_list args;
  va_start(args, format);
  vsnprintf(text, sizeof text, format, args);
  va_end(args);
  luaL_checkstack(L, 8, "error");
  new_error(L);
  sl_error_field(L, "text", text);
  sl_error_field(L, "code", code);
  if (help) sl_error_field(L, "help", help);
  int source, line;
  if (sl_where(L, &source, &line)) sl_error_place(L, source, whole_line(source, line));
}

/* ---- Lua's own messages ------------------------------------------------------------------------------------------ */

/* Splits "name:12: words"; returns the words. */
static const char *words_of(const char *text, int *line) {
  for (const char *p = strchr(text, ':'); p; p = strchr(p + 1, ':')) {
    char *end;
    long n = strtol(p + 1, &end, 10);
    if (end > p + 1 && end[0] == ':' && end[1] == ' ') {
      *line = (int)n;
      return end + 2;
    }
  }
  return text;
}

static const char *quoted(const char *text, const char *before, char *to, size_t size) {
  const char *p = strstr(text, before), *q;
  if (!p || !(p = strchr(p + strlen(before) - 1, '\'')) || !(q = strchr(p + 1, '\''))) return NULL;
  snprintf(to, size, "%.*s", (int)(q - p - 1), p + 1);
  return to;
}

/* "attempt to index a nil value (field 'x')" in the person's words; false where it is another message. */
static bool plain_words(const char *raw, char *text, size_t size, char *name, size_t nsize, const char **help) {
  static const struct { const char *start, *verb, *help; } verbs[] = {
    { "attempt to index a ", "look into", "check how it is spelt, and that it was declared above" },
    { "attempt to call a ", "call", "check how it is spelt: a declaration is written `rack \"east\" { ... }`" },
    { "attempt to perform arithmetic on a ", "calculate with", "only numbers and quantities can be calculated with" },
    { "attempt to concatenate a ", "join to a text", "only texts, numbers and quantities can be joined with `..`" },
    { "attempt to get length of a ", "count", "only lists and texts have a length `#`" },
  };
  *name = 0;
  for (size_t i = 0; i < sizeof verbs / sizeof *verbs; i++) {
    if (strncmp(raw, verbs[i].start, strlen(verbs[i].start)) != 0) continue;
    char type[32];
    const char *rest = raw + strlen(verbs[i].start);
    snprintf(type, sizeof type, "%.*s", (int)strcspn(rest, " "), rest);
    bool nil = strcmp(type, "nil") == 0, known = quoted(rest, "'", name, nsize) != NULL;
    if (!known) snprintf(name, nsize, "%s", "this");
    snprintf(text, size, "cannot %s %s%s%s: it is %s%s", verbs[i].verb, known ? "'" : "", name, known ? "'" : "",
             nil ? "nothing here" : "a ", nil ? " (nil)" : type);
    if (!known) *name = 0;
    *help = verbs[i].help;
    return true;
  }
  if (strncmp(raw, "attempt to compare ", 19) == 0) {
    snprintf(text, size, "cannot compare %s", raw + 19);
    *help = "both sides must be numbers, or quantities of one kind";
    return true;
  }
  if (strncmp(raw, "bad argument ", 13) == 0 && (strstr(raw, "got no value") || strstr(raw, "expected"))) {
    snprintf(text, size, "%s", raw);
    return true;
  }
  if (strncmp(raw, "attempt to ", 11) == 0) {
    snprintf(text, size, "cannot %s", raw + 11);
    return true;
  }
  return false;
}

/* Finds a word on a line as a token; the whole statement if it is not there or there twice. */
struct sl_span sl_find_word(int source, int line, const char *word) {
  size_t n, length = strlen(word);
  const char *text = sl_source_line(source, line, &n);
  struct sl_span found = { 0, 0, 0 };
  for (size_t i = 0; text && length && i + length <= n; i++) {
    bool name = isalnum((unsigned char)word[0]) || word[0] == '_';
    if (memcmp(text + i, word, length) != 0) continue;
    if (name && i > 0 && (isalnum((unsigned char)text[i - 1]) || text[i - 1] == '_')) continue;
    if (name && i + length < n && (isalnum((unsigned char)text[i + length]) || text[i + length] == '_')) continue;
    if (found.line) return whole_line(source, line);
    found = (struct sl_span){ line, (int)i + 1, (int)length };
  }
  return found.line ? found : whole_line(source, line);
}

/* Turns the Lua error text on top into an error of ours. */
static void translate(lua_State *L, int source, int line) {
  char text[600], name[120];
  const char *help = NULL, *raw = lua_tostring(L, -1), *words;
  int said = 0;
  if (!raw) raw = lua_pushfstring(L, "the script raised a %s as its error", luaL_typename(L, -1));
  words = words_of(raw, &said);
  *name = 0;
  const char *code = "L002";
  if (!plain_words(words, text, sizeof text, name, sizeof name, &help)) {
    const char *near = strstr(words, " near ");
    if (near) {                               /* the compiler */
      code = "L001";
      quoted(near, "'", name, sizeof name);
      const int until = (int)(near - words);
      if (strcmp(near, " near <eof>") == 0) snprintf(text, sizeof text, "%.*s at the end of the file", until, words);
      else if (*name) snprintf(text, sizeof text, "%.*s before '%s'", until, words, name);
      else snprintf(text, sizeof text, "%.*s", until, words);
      if (said) line = said;
    } else snprintf(text, sizeof text, "%s", words);
  } else if (said && !line) line = said;
  sl_error_push(L, code, help, "%s", text);
  if (source && line) sl_error_place(L, source, *name ? sl_find_word(source, line, name) : whole_line(source, line));
  lua_remove(L, -2);
}

int sl_error_handler(lua_State *L) {
  if (sl_is_error(L, 1) || sl_sandbox_abort(L)) return 1;     /* a stopped run keeps its own reason */
  int source = 0, line = 0;
  lua_settop(L, 1);
  sl_where(L, &source, &line);
  if (!source && lua_isstring(L, 1)) {        /* a chunk that did not compile has no level: its name is in the text */
    const char *text = lua_tostring(L, 1);
    char file[512];
    snprintf(file, sizeof file, "%.*s", (int)strcspn(text, ":"), text);
    source = sl_source_find(file);
  }
  translate(L, source, line);
  return 1;
}

void sl_error_stopped(lua_State *L, const char *why) {
  const char *raw = lua_tostring(L, -1);
  char file[512] = "";
  int line = 0;
  if (raw && words_of(raw, &line) != raw) snprintf(file, sizeof file, "%.*s", (int)strcspn(raw, ":"), raw);
  sl_error_push(L, "S001", "a loop without an end, or more work than one script may ask for",
                "stopped: the script %s", why);
  sl_error_field(L, "class", "abort");
  int source = *file ? sl_source_find(file) : 0;
  if (source && line) sl_error_place(L, source, whole_line(source, line));
  lua_remove(L, -2);
}

/* ---- reading it back --------------------------------------------------------------------------------------------- */

static int int_field(lua_State *L, int idx, const char *name) {
  lua_getfield(L, idx, name);
  int value = (int)lua_tointeger(L, -1);
  lua_pop(L, 1);
  return value;
}

static const char *text_field(lua_State *L, int idx, const char *name) {
  lua_getfield(L, idx, name);
  const char *text = lua_tostring(L, -1);     /* stays reachable through the table */
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
    if (lua_tostring(L, idx)) out->text = lua_tostring(L, idx);
    return;
  }
  const char *text = text_field(L, idx, "text"), *code = text_field(L, idx, "code");
  if (text) out->text = text;
  if (code) out->code = code;
  out->help = text_field(L, idx, "help");
  out->source = int_field(L, idx, "source");
  out->span = span_fields(L, idx);
  if (lua_getfield(L, idx, "labels") == LUA_TTABLE)
    for (size_t i = 1; i <= lua_rawlen(L, -1) && out->nlabel < SL_MESSAGE_LABELS; i++) {
      lua_rawgeti(L, -1, (lua_Integer)i);
      const char *words = text_field(L, -1, "text");
      out->label[out->nlabel++] = (struct sl_label){ span_fields(L, lua_gettop(L)), words ? words : "" };
      lua_pop(L, 1);
    }
  lua_pop(L, 1);
  if (lua_getfield(L, idx, "notes") == LUA_TTABLE)
    for (size_t i = 1; i <= lua_rawlen(L, -1) && out->nnote < SL_MESSAGE_NOTES; i++) {
      lua_rawgeti(L, -1, (lua_Integer)i);
      out->note[out->nnote++] = lua_tostring(L, -1);
      lua_pop(L, 1);
    }
  lua_pop(L, 1);
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
