/* SPDX-License-Identifier: MIT
 * What holds of the scanner for any bytes.  The fuzz target and the replay of its corpus share it; a law that does
 * not hold ends the program.
 *
 * Lua itself is the judge of the grammar: where the scanner has no complaint, the text that comes out must compile
 * exactly if the text with a plain number in each literal's place does. */
#ifndef SL_SCAN_LAWS_H
#define SL_SCAN_LAWS_H

#include <lauxlib.h>
#include <lua.h>
#include <math.h>
#include <stdint.h>
#include <string.h>
#include "law.h"
#include "scan/scanner.h"

static inline size_t law_lines_(const char *text, size_t len) {
  size_t n = 0;
  for (size_t i = 0; i < len; i++) n += text[i] == '\n' || text[i] == '\r';
  return n;
}

/* Behind a byte order mark and a first line with '#': there the output begins. */
static inline size_t law_start_(const char *text, size_t len) {
  size_t at = len >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
  if (at < len && text[at] == '#')
    while (at < len && text[at] != '\n' && text[at] != '\r') at++;
  return at;
}

/* 1: compiles, 0: does not, -1: a limit of Lua's was met, which says nothing. */
static inline int law_compiles_(lua_State *L, const char *text, size_t len) {
  int status = luaL_loadbufferx(L, text, len, "=law", "t");
  LAW(status != LUA_ERRMEM);
  const char *words = status == LUA_OK ? "" : lua_tostring(L, -1);
  bool limit = strstr(words, "overflow") || strstr(words, "too many") || strstr(words, "too large") ||
               strstr(words, "limit") || strstr(words, "too long");
  lua_settop(L, 0);
  return limit ? -1 : status == LUA_OK;
}

static inline void law_lua_(lua_State *L, const char *text, size_t len, const struct sl_scan *scan) {
  size_t at = law_start_(text, len), out = 0, line_start = 0, k = 0;
  int line = 1;
  char *plain = malloc(len + scan->nk * 8 + 1), *ours = malloc(scan->len + 32);
  LAW(plain && ours);
  for (size_t i = 0; i < len && k < scan->nk; k++) {           /* a number in the place of each literal */
    const struct sl_span s = scan->k[k].span;
    while (line < s.line) {
      if (text[i] == '\n' || text[i] == '\r') {
        if (i + 1 < len && (text[i + 1] == '\n' || text[i + 1] == '\r') && text[i + 1] != text[i]) i++;
        line++;
        line_start = i + 1;
      }
      i++;
    }
    size_t from = line_start + (size_t)s.col - 1;
    LAW(from >= at && from + (size_t)s.len <= len);
    memcpy(plain + out, text + at, from - at);
    out += from - at;
    memcpy(plain + out, " 1 ", 3);
    out += 3;
    at = from + (size_t)s.len;
    i = at;
  }
  memcpy(plain + out, text + at, len - at);
  out += len - at;
  int n = sprintf(ours, "local _K=...;");
  memcpy(ours + n, scan->text, scan->len);
  int a = law_compiles_(L, plain, out), b = law_compiles_(L, ours, (size_t)n + scan->len);
  LAW(a < 0 || b < 0 || a == b);
  free(plain);
  free(ours);
}

/* Whether a literal has blanks in it; a minus may stand apart. */
static inline bool law_blank_(const char *text, size_t len, const struct sl_scan *scan) {
  const char *line = text;
  int at = 1;
  for (size_t k = 0; k < scan->nk; k++) {
    const struct sl_span s = scan->k[k].span;
    for (; at < s.line; line++)
      if (*line == '\n' || *line == '\r') {
        line += line + 1 < text + len && (line[1] == '\n' || line[1] == '\r') && line[1] != *line;
        at++;
      }
    const char *from = line + s.col - 1;
    if (*from != '-' && memchr(from, ' ', (size_t)s.len)) return true;
  }
  return false;
}

static inline void scan_laws(lua_State *L, const char *text, size_t len) {
  struct sl_scan scan;
  LAW(sl_scan(text, len, &scan));
  size_t start = law_start_(text, len);
  LAW(scan.text[scan.len] == '\0');
  LAW(law_lines_(scan.text, scan.len) == law_lines_(text + start, len - start));
  if (scan.nk == 0 && scan.nbad == 0) LAW(scan.len == len - start && memcmp(scan.text, text + start, scan.len) == 0);
  bool wire = false;
  for (size_t i = 0; i < scan.nk; i++) {
    const struct sl_const *k = &scan.k[i];
    LAW(isfinite(k->si) && isfinite(k->tolerance) && k->tolerance >= 0);
    LAW(k->span.line > 0 && k->span.col > 0 && k->span.len > 0);
    wire |= k->kind == SL_CONST_WIRE;
  }
  LAW(scan.nbad <= 20);
  for (size_t i = 0; i < scan.nbad; i++) {
    LAW(scan.bad[i].code[0] == 'Q' && strlen(scan.bad[i].text) > 0);
    LAW(scan.bad[i].span.line > 0 && scan.bad[i].span.col > 0 && scan.bad[i].span.len > 0);
    LAW(i == 0 || scan.bad[i].span.line >= scan.bad[i - 1].span.line);
  }
  int line = 0, col = 0;
  for (size_t i = 0; i < scan.nmark; i++) {
    const struct sl_mark *m = &scan.mark[i];
    LAW(m->parent >= -1 && m->parent < (int)i);
    LAW(m->span.line > line || (m->span.line == line && m->span.col >= col));
    line = m->span.line;
    col = m->span.col;
    enum sl_mark_kind up = m->parent < 0 ? SL_MARK_HEAD : scan.mark[m->parent].kind;
    if (m->kind == SL_MARK_KEY || m->kind == SL_MARK_ITEM || m->kind == SL_MARK_CLOSE)
      LAW(m->parent >= 0 && up == SL_MARK_OPEN);
    else LAW(up != SL_MARK_OPEN && up != SL_MARK_CLOSE);
    if (m->kind == SL_MARK_OPEN || m->kind == SL_MARK_CLOSE)
      LAW(m->to == m->from + 1 && m->to <= len && text[m->from] == (m->kind == SL_MARK_OPEN ? '{' : '}'));
    else if (m->kind != SL_MARK_HEAD && m->value.len)
      LAW(m->at <= m->from && m->from < m->to && m->to <= len && (size_t)m->value.len <= m->to - m->from);
  }
  if (scan.nbad == 0 && law_blank_(text, len, &scan))      /* such a literal is in no program of Lua's own */
    LAW(law_compiles_(L, text + start, len - start) != 1);
  if (scan.nbad == 0 && !wire) law_lua_(L, text, len, &scan);    /* 10AWG.area: a number has no fields */
  sl_scan_free(&scan);

  struct sl_const k;
  struct sl_complaint bad;
  double metres;
  if (sl_scan_literal(text, len, &k, &bad)) LAW(isfinite(k.si) && k.span.len > 0);
  else LAW(bad.code[0] == 'Q' && strlen(bad.text) > 0 && bad.span.line == 1 && bad.span.col > 0);
  if (sl_scan_length(text, len, &metres, &bad)) LAW(isfinite(metres));
}
#endif
