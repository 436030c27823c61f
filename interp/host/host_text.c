/* SPDX-License-Identifier: MIT
 * Texts for the host's Lua: made safe to show, the columns they take and lines of a width, what a script prints. */
#include <ctype.h>
#include <limits.h>
#include <string.h>
#include "box/sandbox.h"
#include "host/host_parts.h"
#include "host/nearest.h"
#include "host/raise.h"
#include "host/state.h"
#include "host/text.h"
#include "value/quantity.h"

static char *add(char *to, const char *text, size_t n) { return (char *)memcpy(to, text, n) + n; }

/* ---- what a person sees ------------------------------------------------------------------------------------------ */

/* The text at idx, or the same made safe in its place. */
static const char *made_safe(lua_State *L, int idx, size_t *n) {
  idx = lua_absindex(L, idx);
  const char *text = luaL_checklstring(L, idx, n);
  if (sl_unsafe(text, *n) == *n) return text;
  luaL_Buffer b;
  const size_t room = 4 * *n + 1;
  char *safe = luaL_buffinitsize(L, &b, room);
  luaL_pushresultsize(&b, sl_safe(safe, room, text, *n));
  lua_replace(L, idx);
  return lua_tolstring(L, idx, n);
}

/* safe(text): the text as a person may see it; every writer puts out nothing else. */
static int h_safe(lua_State *L) {
  size_t n;
  lua_settop(L, 1);
  made_safe(L, 1, &n);
  return 1;
}

/* The text on top, made safe in its place; the lines of code stay lines.  False: it was safe. */
static bool replaced(lua_State *L, bool code) {
  size_t n;
  const char *text = lua_tolstring(L, -1, &n), *end = text + n;
  if (sl_unsafe(text, n) == n) return false;
  luaL_Buffer b;
  char *safe = luaL_buffinitsize(L, &b, 4 * n + 1);
  size_t used = 0;
  for (;; text++) {
    const char *stop = code ? memchr(text, '\n', (size_t)(end - text)) : NULL;
    const size_t line = (size_t)((stop ? stop : end) - text);
    used += sl_safe(safe + used, 4 * line + 1, text, line);
    if (!stop) break;
    safe[used++] = '\n';
    text = stop;
  }
  luaL_pushresultsize(&b, used);
  lua_remove(L, -2);
  return true;
}

/* A cell is a text, or a table with one. */
static void cell_made_safe(lua_State *L, int row, lua_Integer i) {
  const int type = lua_type(L, -1);
  if (type == LUA_TSTRING && replaced(L, false)) {
    lua_pushvalue(L, -1);
    lua_rawseti(L, row, i);
  } else if (type == LUA_TTABLE) {
    if (lua_getfield(L, -1, "text") == LUA_TSTRING && replaced(L, false)) lua_setfield(L, -2, "text");
    else lua_pop(L, 1);
  }
}

/* The texts of the table on top. */
static void texts_made_safe(lua_State *L, bool code) {
  const int at = lua_gettop(L);
  for (lua_pushnil(L); lua_next(L, at); lua_settop(L, at + 1)) {
    if (lua_type(L, at + 2) != LUA_TSTRING || !replaced(L, code)) continue;
    lua_pushvalue(L, at + 1);                    /* a field that is there may be set on the way */
    lua_insert(L, at + 2);
    lua_rawset(L, at);
  }
}

/* A field of the block on top, which holds texts, or tables of them. */
static void list_made_safe(lua_State *L, const char *field) {
  const int block = lua_gettop(L);
  if (lua_getfield(L, block, field) == LUA_TTABLE) {
    texts_made_safe(L, false);
    for (lua_Integer i = 1; lua_rawgeti(L, block + 1, i) != LUA_TNIL; i++) {
      if (lua_istable(L, -1)) texts_made_safe(L, false);
      lua_settop(L, block + 1);
    }
  }
  lua_settop(L, block);
}

static void rows_made_safe(lua_State *L) {
  if (lua_getfield(L, 1, "rows") != LUA_TTABLE) return;
  for (lua_Integer r = 1; lua_rawgeti(L, 2, r) == LUA_TTABLE; r++) {
    for (lua_Integer i = 1; lua_rawgeti(L, 3, i) != LUA_TNIL; i++) {
      cell_made_safe(L, 3, i);
      lua_settop(L, 3);
    }
    lua_settop(L, 2);
  }
}

/* shown(block): a block of a document with its cells, as a person may see it. */
static int h_shown(lua_State *L) {
  luaL_checktype(L, 1, LUA_TTABLE);
  lua_settop(L, 1);
  const bool code = lua_getfield(L, 1, "kind") == LUA_TSTRING && strcmp(lua_tostring(L, 2), "code") == 0;
  lua_settop(L, 1);
  texts_made_safe(L, code);
  list_made_safe(L, "columns");
  list_made_safe(L, "choices");
  list_made_safe(L, "heads");
  if (lua_getfield(L, 1, "result") == LUA_TTABLE && lua_getfield(L, 2, "text") == LUA_TSTRING && replaced(L, false))
    lua_setfield(L, 2, "text");
  lua_settop(L, 1);
  rows_made_safe(L);
  return 0;
}

/* plain_ends(text): whether none of its lines ends in a blank, and no tab or return stands in it. */
static int h_plain_ends(lua_State *L) {
  size_t n;
  const char *text = luaL_checklstring(L, 1, &n), *const end = text + n;
  bool plain = !memchr(text, '\t', n) && !memchr(text, '\r', n);
  for (const char *p = text; plain && (p = memchr(p, '\n', (size_t)(end - p))); p++) plain = p == text || p[-1] != ' ';
  lua_pushboolean(L, plain);
  return 1;
}

/* json(text): as a JSON string, quotes included. */
static int h_json(lua_State *L) {
  size_t n;
  const char *text = luaL_checklstring(L, 1, &n);
  luaL_Buffer b;
  char *to = luaL_buffinitsize(L, &b, 6 * n + 2);
  luaL_pushresultsize(&b, sl_json_put(to, text, n));
  return 1;
}

/* unsafe(text): nil, or what first stands in it that cannot be shown, and how to mend it. */
static int h_unsafe(lua_State *L) {
  char what[400];
  size_t n;
  const char *text = luaL_checklstring(L, 1, &n);
  sl_sandbox_charge(L, (long long)(n / 2));
  const char *help = sl_unsafe_words(what, sizeof what, text, n);
  if (!help) return lua_pushnil(L), 1;
  lua_pushstring(L, what);
  lua_pushstring(L, help);
  return 2;
}

static bool is_name(const char *key, size_t n) {
  for (size_t i = 0; i < n; i++)
    if (!(isalpha((unsigned char)key[i]) || key[i] == '_' || (i > 0 && isdigit((unsigned char)key[i])))) return false;
  return n > 0;
}

static bool ends_quotes(const char *key, size_t n) {
  for (size_t i = 1; i < n; i++) if (key[i - 1] == '\'' && key[i] == ']') return true;
  return false;
}

/* step(path, key): the path of what stands under a key: a number, a name, or another text in quotes. */
static int h_step(lua_State *L) {
  luaL_Buffer b;
  size_t n, length;
  const char *path = luaL_checklstring(L, 1, &n);
  const bool number = lua_isinteger(L, 2);
  const char *key = luaL_checklstring(L, 2, &length);
  lua_settop(L, 2);
  const bool name = !number && is_name(key, length);
  if (name && n == 0) return 1;
  const char *const open = number ? "[" : name ? "." : ends_quotes(key, length) ? "[\"" : "['";
  const char *const close = number ? "]" : name ? "" : open[1] == '"' ? "\"]" : "']";
  char *const whole = luaL_buffinitsize(L, &b, n + length + 4), *to = whole;
  to = add(to, path, n);
  to = add(to, open, strlen(open));
  to = add(to, key, length);
  to = add(to, close, strlen(close));
  luaL_pushresultsize(&b, (size_t)(to - whole));
  return 1;
}

/* How long a key in brackets and quotes is that opens at `at`; SIZE_MAX: none does. */
static size_t quoted_key(const char *text, size_t n, size_t at) {
  if (n - at < 4 || text[at] != '[' || (text[at + 1] != '\'' && text[at + 1] != '"')) return SIZE_MAX;
  for (size_t i = at + 2; i + 1 < n; i++) if (text[i] == text[at + 1] && text[i + 1] == ']') return i - at - 2;
  return SIZE_MAX;
}

static size_t name_at(const char *text, size_t n, size_t at) {
  size_t end = at;
  while (end < n && (isalpha((unsigned char)text[end]) || text[end] == '_' ||
                     (end > at && isdigit((unsigned char)text[end])))) end++;
  return end - at;
}

/* Pushes the key of a path that stands at `at`; its length, or 0. */
static size_t push_key(lua_State *L, const char *text, size_t n, size_t at) {
  if (text[at] == '.') {
    const size_t length = name_at(text, n, at + 1);
    lua_pushlstring(L, text + at + 1, length);
    return length ? length + 1 : 0;
  }
  const size_t length = quoted_key(text, n, at);
  if (length != SIZE_MAX) {
    lua_pushlstring(L, text + at + 2, length);
    return length + 4;
  }
  size_t end = at + 1;
  while (end < n && isdigit((unsigned char)text[end])) end++;
  if (text[at] != '[' || end == at + 1 || end == n || text[end] != ']') return 0;
  lua_pushlstring(L, text + at + 1, end - at - 1);
  int is_integer;
  lua_stringtonumber(L, lua_tostring(L, -1));
  const lua_Integer i = lua_tointegerx(L, -1, &is_integer);
  lua_pushinteger(L, i);
  return is_integer ? end + 1 - at : 0;
}

/* path_parts(path) -> its keys: names, texts in quotes, numbers; or nil, and where the first stands that is none. */
static int h_path_parts(lua_State *L) {
  size_t n;
  const char *text = luaL_checklstring(L, 1, &n);
  lua_settop(L, 1);
  lua_createtable(L, 4, 0);
  size_t at = name_at(text, n, 0);
  lua_pushlstring(L, text, at);
  lua_rawseti(L, 2, 1);
  for (lua_Integer i = 2; at > 0 && at < n; i++) {
    const size_t length = push_key(L, text, n, at);
    if (!length) break;
    lua_rawseti(L, 2, i);
    lua_settop(L, 2);
    at += length;
  }
  if (at > 0 && at == n) return 1;
  lua_pushnil(L);
  lua_pushinteger(L, (lua_Integer)at + 1);
  return 2;
}

static int h_nearest(lua_State *L) {
  enum { CELLS_A_STEP = 4 };
  const char *word = luaL_checkstring(L, 1);
  size_t n = lua_rawlen(L, 2), length = lua_rawlen(L, 1), letters = length < SL_LONGEST_WORD ? length : 1;
  sl_sandbox_charge(L, (long long)(n * (1 + letters * letters / CELLS_A_STEP)));
  const char **list = lua_newuserdatauv(L, (n + 1) * sizeof *list, 0);
  size_t names = 0;
  for (size_t i = 0; i < n; i++) {
    if (lua_rawgeti(L, 2, (lua_Integer)i + 1) == LUA_TSTRING) list[names++] = lua_tostring(L, -1);     /* the table's */
    lua_pop(L, 1);
  }
  const char *near = sl_nearest(word, list, names);
  if (!near) return 0;
  lua_pushstring(L, near);
  return 1;
}

/* bones(text): what is left of a part number when all that a hand or an eye slips on is taken off. */
static int h_bones(lua_State *L) {
  size_t n;
  const char *text = luaL_checklstring(L, 1, &n);
  luaL_Buffer b;
  char *left = luaL_buffinitsize(L, &b, n);
  size_t kept = 0;
  for (size_t i = 0; i < n; i++) {
    const unsigned char c = (unsigned char)text[i];
    const char large = (char)(c < 0x80 ? toupper(c) : c);
    if (c < 0x80 && !isalnum(c)) continue;
    left[kept++] = large == 'O' ? '0' : large == 'I' || large == 'L' ? '1' : large;
  }
  luaL_pushresultsize(&b, kept);
  return 1;
}

/* ---- columns ----------------------------------------------------------------------------------------------------- */

/* an(word): the word behind "a" or "an", as it is spoken. */
static int h_an(lua_State *L) {
  const char *word = luaL_checkstring(L, 1);
  lua_pushfstring(L, "%s %s", sl_article(word), word);
  return 1;
}

/* columns(text): what it takes on a page, made safe. */
static int h_columns(lua_State *L) {
  size_t n;
  const char *text = luaL_checklstring(L, 1, &n);
  lua_pushinteger(L, sl_columns(text, n));
  return 1;
}

/* The columns of the longest run without a blank. */
static int longest_word(const char *text, size_t n) {
  const char *const end = text + n;
  int most = 0;
  for (;; text++) {
    const char *const start = text;
    bool plain = true;                     /* a letter of it is one column */
    for (; text < end && *text != ' ' && !(*text >= '\t' && *text <= '\r'); text++)
      plain = plain && *text > ' ' && *text <= '~';
    const int columns = plain ? (int)(text - start) : sl_columns(start, (size_t)(text - start));
    if (columns > most) most = columns;
    if (text == end) return most;
  }
}

/* longest_word(text): its columns. */
static int h_longest_word(lua_State *L) {
  size_t n;
  const char *const text = luaL_checklstring(L, 1, &n);
  lua_pushinteger(L, longest_word(text, n));
  return 1;
}

/* The cell on top as a text, in its place: itself, the `text` of a table, or "" where there is none. */
static const char *cell_text(lua_State *L, size_t *n) {
  if (lua_istable(L, -1)) {
    lua_getfield(L, -1, "text");
    lua_replace(L, -2);
  }
  if (!lua_toboolean(L, -1)) {
    lua_pushliteral(L, "");
    lua_replace(L, -2);
  }
  if (lua_type(L, -1) != LUA_TSTRING) luaL_error(L, "a cell is a text, not a %s", luaL_typename(L, -1));
  return lua_tolstring(L, -1, n);
}

/* cells(rows, count) -> rows of `count` texts; the columns that the widest text of each takes. */
static int h_cells(lua_State *L) {
  enum { ROWS = 1, COUNT, WIDEST, TEXTS, FROM, TO };
  const lua_Integer rows = luaL_len(L, ROWS), count = luaL_checkinteger(L, COUNT);
  luaL_argcheck(L, count >= 0 && count < INT_MAX, COUNT, "a number of columns");
  lua_settop(L, COUNT);
  int *widest = lua_newuserdatauv(L, (size_t)(count + 1) * sizeof *widest, 0);
  memset(widest, 0, (size_t)(count + 1) * sizeof *widest);
  lua_createtable(L, (int)rows, 0);
  for (lua_Integer k = 1; k <= rows; k++) {
    lua_geti(L, ROWS, k);
    lua_createtable(L, (int)count, 0);
    for (lua_Integer i = 1; i <= count; i++) {
      size_t n;
      lua_geti(L, FROM, i);
      const char *text = cell_text(L, &n);
      const int columns = sl_columns(text, n);
      if (columns > widest[i]) widest[i] = columns;
      lua_rawseti(L, TO, i);
    }
    lua_rawseti(L, TEXTS, k);
    lua_settop(L, TEXTS);
  }
  lua_createtable(L, (int)count, 0);
  for (lua_Integer i = 1; i <= count; i++) {
    lua_pushinteger(L, widest[i]);
    lua_rawseti(L, -2, i);
  }
  return 2;
}

/* The byte behind as many characters from `at` as `width` columns hold, one at least. */
static size_t reach(const char *text, size_t n, size_t at, lua_Integer width) {
  const size_t start = at;
  for (; at < n && width > 0 && text[at] >= 0x20 && text[at] < 0x7F; at++) width--;
  while (at < n) {
    const struct sl_piece p = sl_piece_at(text, n, at);
    width -= p.columns;
    if (width < 0 && at > start) break;
    at += p.bytes;
  }
  return at;
}

/* Where a word that is too long is broken: behind a stroke or a stop, if there is one near the end. */
static size_t within_word(const char *text, size_t at, size_t stop) {
  const size_t half = at + (stop - at) / 2;
  for (size_t cut = stop; cut > half; cut--)
    if (strchr("/._:,-", text[cut - 1])) return cut;
  return stop;
}

/* Whether the blank at `at` must not be broken: only asked where a number or feet stand before it.  Where the text and
 * what is asked stand on the stack. */
static bool bound(lua_State *L, int text, int asked, size_t at) {
  const char *const letters = lua_tostring(L, text);
  if (at == 0) return false;
  const char before = letters[at - 1];
  if (!(before >= '0' && before <= '9') && !(before == 't' && at > 1 && letters[at - 2] == 'f')) return false;
  lua_pushvalue(L, asked);
  lua_pushvalue(L, text);
  lua_pushinteger(L, (lua_Integer)at + 1);
  lua_call(L, 2, 1);
  const bool yes = lua_toboolean(L, -1);
  lua_pop(L, 1);
  return yes;
}

/* Where the line that begins at `at` ends: of at most width columns, broken at a blank.  A word that is longer than a
 * line is broken anywhere. */
static size_t line_end(lua_State *L, int text, int asked, size_t at, lua_Integer width) {
  size_t n;
  const char *const letters = lua_tolstring(L, text, &n);
  const size_t stop = reach(letters, n, at, width);
  if (stop >= n) return n;
  size_t cut = stop;
  while (cut > at && (letters[cut] != ' ' || bound(L, text, asked, cut))) cut--;
  return cut > at ? cut : within_word(letters, at, stop);
}

static size_t past_blanks(const char *text, size_t n, size_t at) {
  while (at < n && text[at] == ' ') at++;
  return at;
}

/* wrap(text, width, bound) -> lines of at most width columns; bound(text, at) says which blanks are none to break at.
 * A text without a letter is one line. */
static int h_wrap(lua_State *L) {
  size_t n;
  const char *text = luaL_checklstring(L, 1, &n);
  lua_Integer width = luaL_checkinteger(L, 2);
  if (width < 1) width = 1;
  lua_settop(L, 3);
  const size_t about = n / (size_t)width + 1;
  lua_createtable(L, about < 100 ? (int)about : 100, 0);
  size_t at = 0;
  lua_Integer lines = 0;
  do {
    const size_t end = line_end(L, 1, 3, at, width);
    lua_pushlstring(L, text + at, end - at);
    lua_rawseti(L, 4, ++lines);
    at = past_blanks(text, n, end);
  } while (at < n);
  return 1;
}

/* ---- tables ------------------------------------------------------------------------------------------------------ */

/* A column: where its cells stand in a row, how wide they are, and whether at its right.  Of its cell in this row: what
 * of it stands on this line, the blanks around that, and where the next line of it begins. */
struct column {
  lua_Integer at, width;
  bool right;
  int columns;                             /* of the whole cell */
  const char *text;
  size_t n, from, to, before, behind, next;
};
enum { LINES = 1, INDENT, COLUMNS, ROWS, BOUND, ROOM, ROW };

static void read_columns(lua_State *L, struct column *columns, size_t count) {
  for (size_t i = 0; i < count; i++) {
    lua_geti(L, COLUMNS, (lua_Integer)i + 1);
    lua_getfield(L, -1, "at");
    lua_getfield(L, -2, "width");
    lua_getfield(L, -3, "right");
    columns[i] = (struct column){ .at = lua_tointeger(L, -3), .width = lua_tointeger(L, -2),
                                  .right = lua_toboolean(L, -1) };
    lua_pop(L, 4);
  }
}

/* The cells of the row on top, which holds their texts. */
static void read_cells(lua_State *L, struct column *columns, size_t count) {
  for (struct column *c = columns; c < columns + count; c++) {
    if (lua_geti(L, ROW, c->at) != LUA_TSTRING) luaL_error(L, "a cell is a text, not a %s", luaL_typename(L, -1));
    c->text = lua_tolstring(L, -1, &c->n);
    c->columns = sl_columns(c->text, c->n);
    c->next = 0;
    lua_pop(L, 1);
  }
}

/* The next line of a cell, with blanks to the width of its column. */
static void go_on(lua_State *L, struct column *c) {
  c->from = c->next;
  c->to = c->n;
  if (c->columns > c->width && c->from < c->n) {
    lua_geti(L, ROW, c->at);
    c->to = line_end(L, ROW + 1, BOUND, c->from, c->width);
    lua_pop(L, 1);
  }
  c->next = past_blanks(c->text, c->n, c->to);
  const bool whole = c->from == 0 && c->to == c->n;
  const lua_Integer missing = c->width - (whole ? c->columns : sl_columns(c->text + c->from, c->to - c->from));
  const size_t blanks = missing > 0 ? (size_t)missing : 0;
  c->before = c->right ? blanks : 0;
  c->behind = c->right ? 0 : blanks;
}

static char *add_blanks(char *to, size_t n) { return (char *)memset(to, ' ', n) + n; }

/* One line: the cells two blanks apart, nothing behind the last that says something. */
static void push_line(lua_State *L, const struct column *columns, size_t count) {
  size_t n, last = 0;
  const char *indent = lua_tolstring(L, INDENT, &n);
  size_t room = n;
  for (size_t i = 0; i < count; i++) {
    const struct column *c = &columns[i];
    if (c->to > c->from) last = i;
    room += c->before + (c->to - c->from) + c->behind + 2;
  }
  luaL_Buffer b;
  char *const line = luaL_buffinitsize(L, &b, room), *to = add(line, indent, n);
  for (size_t i = 0; i <= last && i < count; i++) {
    const struct column *c = &columns[i];
    if (i > 0) to = add_blanks(to, 2);
    to = add_blanks(to, c->before);
    to = add(to, c->text + c->from, c->to - c->from);
    if (i < last) to = add_blanks(to, c->behind);
  }
  while (to > line && to[-1] == ' ') to--;
  luaL_pushresultsize(&b, (size_t)(to - line));
}

/* put(lines, indent, columns, rows, bound): behind the lines those of the rows, each on as many as the tallest of its
 * cells wants; columns: { at, width, right } of each. */
static int h_put(lua_State *L) {
  luaL_checktype(L, LINES, LUA_TTABLE);
  luaL_checkstring(L, INDENT);
  const size_t count = (size_t)luaL_len(L, COLUMNS);
  const lua_Integer rows = luaL_len(L, ROWS);
  lua_settop(L, BOUND);
  struct column *columns = lua_newuserdatauv(L, (count + 1) * sizeof *columns, 0);
  read_columns(L, columns, count);
  lua_Integer lines = (lua_Integer)lua_rawlen(L, LINES);
  for (lua_Integer k = 1; k <= rows; k++) {
    lua_geti(L, ROWS, k);
    read_cells(L, columns, count);
    for (bool more = true; more;) {
      more = false;
      for (struct column *c = columns; c < columns + count; c++) {
        go_on(L, c);
        more = more || c->next < c->n;
      }
      push_line(L, columns, count);
      lua_rawseti(L, LINES, ++lines);
    }
    lua_settop(L, ROOM);
  }
  return 0;
}

/* ---- what a script prints ---------------------------------------------------------------------------------------- */

/* One value as text on top of the stack: quantities as the job prints them. */
static void push_shown(lua_State *L, int idx) {
  if (!sl_quantity_at(L, idx)) {
    sl_sandbox_tostring(L, idx, NULL);
    return;
  }
  lua_getglobal(L, "host");
  lua_getfield(L, -1, "format");
  lua_pushvalue(L, idx);
  lua_call(L, 1, 1);
  lua_remove(L, -2);
}

static void print_line(lua_State *L, int source, int line, const char *text, size_t bytes) {
  enum { A_LINE = 300, BYTES_A_STEP = 4 };
  struct sl_state *state = sl_state_of(L);
  sl_sandbox_charge(L, A_LINE + (long long)(bytes / BYTES_A_STEP));
  const struct sl_message m = { .severity = SL_PRINT, .text = text, .source = source, .span = { line, 0, 0 } };
  const struct sl_host *host = state->host;
  if (host->print) host->print(host->print_to, &state->sources, &m);
  else sl_message_print(stderr, &state->sources, &m, host->format == SL_JSON ? SL_JSON : SL_GNU, false);
}

/* print(...): on standard error, every line with the place of the call, so that nothing that a script prints can be
 * taken for a report or a verdict. */
static int h_print(lua_State *L) {
  if (sl_state_of(L)->asides) return 0;
  int n = lua_gettop(L), source = 0, line = 0;
  luaL_Buffer b;
  luaL_buffinit(L, &b);
  for (int i = 1; i <= n; i++) {
    if (i > 1) luaL_addchar(&b, ' ');
    push_shown(L, i);
    luaL_addvalue(&b);
  }
  luaL_pushresult(&b);
  sl_where(L, &source, &line);
  size_t length;
  const char *text = lua_tolstring(L, n + 1, &length), *end = text + length;
  for (;;) {
    const char *stop = memchr(text, '\n', (size_t)(end - text));
    size_t bytes;
    lua_pushlstring(L, text, (size_t)((stop ? stop : end) - text));
    const char *shown = made_safe(L, -1, &bytes);
    print_line(L, source, line, shown, bytes);
    lua_pop(L, 1);
    if (!stop || stop + 1 == end) return 0;    /* a last line end begins no line of its own */
    text = stop + 1;
  }
}

const luaL_Reg sl_host_texts[] = {
  { "safe", h_safe }, { "shown", h_shown }, { "unsafe", h_unsafe }, { "json", h_json }, { "nearest", h_nearest },
  { "bones", h_bones },
  { "step", h_step }, { "path_parts", h_path_parts }, { "plain_ends", h_plain_ends },
  { "an", h_an }, { "columns", h_columns },
  { "longest_word", h_longest_word }, { "cells", h_cells }, { "put", h_put },
  { "wrap", h_wrap }, { "print", h_print }, { NULL, NULL },
};
