/* SPDX-License-Identifier: MIT
 * Units: look-up in the closed table, composed units, names of a run, dimensions in words, wire sizes. */
#include "value/units.h"
#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "host/nearest.h"
#include "host/text.h"

/* ---- the table --------------------------------------------------------------------------------------------------- */

#define ROW(symbol, aliases, words, name, dimension, factor, offset, definition, ucum, source, basis, note, refused, \
            system) \
  { symbol, aliases, name, dimension, definition, ucum, source, note, basis, factor, offset, refused, system },
static const struct sl_unit_row rows[] = {
#include "units.inc"
};
#undef ROW
enum { NROWS = sizeof rows / sizeof *rows };

/* What people type instead ("feet"), row by row. */
#define ROW(symbol, aliases, words, ...) words,
static const char *const row_words[] = {
#include "units.inc"
};
#undef ROW

#define ROW(symbol, ...) symbol,
static const char *const symbols[] = {
#include "units.inc"
};
#undef ROW

size_t sl_unit_rows(const struct sl_unit_row **out) {
  *out = rows;
  return NROWS;
}

/* Is the word one of a list parted by blanks? */
static bool listed(const char *list, const char *word, size_t len) {
  for (const char *p = list; *p; p += strspn(p, " ")) {
    size_t n = strcspn(p, " ");
    if (n == len && memcmp(p, word, n) == 0) return true;
    p += n;
  }
  return false;
}

static const struct sl_unit_row *find(const char *symbol, size_t len) {
  if (len == 0) return NULL;
  for (size_t i = 0; i < NROWS; i++)
    if (*rows[i].symbol == *symbol && strlen(rows[i].symbol) == len && memcmp(rows[i].symbol, symbol, len) == 0)
      return &rows[i];
  for (size_t i = 0; i < NROWS; i++)
    if (*rows[i].aliases && listed(rows[i].aliases, symbol, len)) return &rows[i];
  return NULL;
}

bool sl_unit_known(const char *symbol, size_t len) {
  const struct sl_unit_row *r = find(symbol, len);
  return r && !*r->refused;
}

bool sl_unit_refused(const char *symbol, size_t len) {
  const struct sl_unit_row *r = find(symbol, len);
  return r && *r->refused;
}

bool sl_unit_customary(const char *unit) {
  for (const char *p = unit; *p;) {
    size_t n = 0;
    while (isalpha((unsigned char)p[n])) n++;
    const struct sl_unit_row *r = find(p, n);
    if (r && strcmp(r->system, "US") == 0) return true;
    p += n ? n : 1;
  }
  return false;
}

static char lower(char c) { return c >= 'A' && c <= 'Z' ? (char)(c + 'a' - 'A') : c; }

/* The row that a misspelt unit was surely meant to be.  Short symbols are one letter from each other, so that
 * only another case, or a word that people use, says anything about them. */
static const struct sl_unit_row *nearest(const char *symbol, size_t len) {
  char word[24] = "", small[24] = "";
  if (len == 0 || len >= sizeof word) return NULL;
  memcpy(word, symbol, len);
  for (size_t i = 0; i < len; i++) small[i] = lower(word[i]);
  for (size_t i = 0; i < NROWS; i++)
    if (listed(row_words[i], small, len)) return &rows[i];
  const char *near = NULL;
  for (size_t i = 0; i < NROWS && !near; i++) {
    size_t k = 0;
    while (k < len && lower(symbols[i][k]) == small[k]) k++;
    if (k == len && !symbols[i][k]) near = symbols[i];
  }
  if (!near && len >= 3) near = sl_nearest(word, symbols, NROWS);
  return near ? find(near, strlen(near)) : NULL;
}

const char *sl_unit_nearest(const char *symbol, size_t len) {
  const struct sl_unit_row *r = nearest(symbol, len);
  return r && !*r->refused ? r->symbol : NULL;
}

static bool letter(char c) { return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z'); }

/* ---- dimensions -------------------------------------------------------------------------------------------------- */

static const char *const bases[8] = { "m", "kg", "s", "A", "K", "rad", "money", "each" };
static const struct { const char *code, *sign; } currencies[] = {
  { "", "" }, { "USD", "$" }, { "EUR", "€" }, { "NZD", "" }, { "AUD", "" }, { "GBP", "£" }, { "CAD", "" },
};
enum { NCURRENCIES = sizeof currencies / sizeof *currencies, MONEY = 6 };

const char *sl_currency_code(uint8_t currency) { return currency < NCURRENCIES ? currencies[currency].code : ""; }
const char *sl_currency_sign(uint8_t currency) { return currency < NCURRENCIES ? currencies[currency].sign : ""; }

/* "kg.m2.s-3" of the table.  A currency code counts as money. */
static void read_dimension(const char *text, struct sl_unit *unit) {
  while (*text && strcmp(text, "1") != 0) {
    size_t n = 0;
    while (letter(text[n])) n++;
    int base = 0;
    while (base < 8 && !(*bases[base] == *text && strlen(bases[base]) == n && memcmp(bases[base], text, n) == 0))
      base++;
    for (uint8_t c = 1; base == 8 && c < NCURRENCIES; c++)
      if (strlen(currencies[c].code) == n && memcmp(currencies[c].code, text, n) == 0) {
        unit->currency = c;
        base = MONEY;
      }
    if (base == 8) return;                       /* the units test reads every row */
    text += n;
    const bool below = *text == '-';
    const char *digit = text + below;
    int exponent = 0;
    while (*digit >= '0' && *digit <= '9') exponent = 10 * exponent + *digit++ - '0';
    unit->dims.x[base] = (int8_t)(digit > text + below ? 2 * (below ? -exponent : exponent) : 2);
    text = digit + (*digit == '.');
  }
}

static const struct { const char *name, *si, *us, *example; int8_t x[8]; } dims[] = {
#define DIM(id, name, m, kg, s, A, K, rad, money, each, si, us, example) \
  { name, si, us, example, { 2 * (m), 2 * (kg), 2 * (s), 2 * (A), 2 * (K), 2 * (rad), 2 * (money), 2 * (each) } },
#include "stringline/dim.def"
#undef DIM
};

union sl_dims sl_dim_dims(enum sl_dim dim) {
  union sl_dims d = { .w = 0 };
  if (dim < SL_DIM_COUNT) memcpy(d.x, dims[dim].x, sizeof d.x);
  return d;
}
const char *sl_dim_unit(enum sl_dim dim, bool us) {
  return dim >= SL_DIM_COUNT ? "" : us ? dims[dim].us : dims[dim].si;
}
const char *sl_dim_example(enum sl_dim dim) { return dim < SL_DIM_COUNT ? dims[dim].example : ""; }

const char *sl_dims_name(union sl_dims d, bool point, char *buffer, size_t size) {
  if (d.w == sl_dim_dims(SL_MOMENT).w) return "moment or energy";     /* the exponents cannot tell */
  for (size_t i = 0; i < SL_DIM_COUNT; i++)
    if (memcmp(d.x, dims[i].x, sizeof d.x) == 0 && (i != SL_TEMPERATURE || point)) return dims[i].name;
  size_t n = 0;
  if (size) *buffer = '\0';
  for (int i = 0; i < 8; i++) {
    if (!d.x[i]) continue;
    char exponent[8] = "";
    if (d.x[i] != 2) snprintf(exponent, sizeof exponent, d.x[i] % 2 ? "%.1f" : "%.0f", d.x[i] / 2.0);
    int k = snprintf(buffer + n, size - n, "%s%s%s", n ? "." : "", bases[i], exponent);
    if (k < 0 || (size_t)k >= size - n) break;
    n += (size_t)k;
  }
  return buffer;
}

/* One base to a power, behind what stands there: "*kg", "/s3"; the first one "m2", "s^-2". */
static size_t put_power(char *to, size_t size, bool first, const char *symbol, int power) {
  char digits[16] = "";
  if (first && power < 0) snprintf(digits, sizeof digits, "^%d", power);
  else if (abs(power) > 1) snprintf(digits, sizeof digits, "%d", abs(power));
  return sl_say(to, size, "%s%s%s", first ? "" : power < 0 ? "/" : "*", symbol, digits);
}

bool sl_dims_unit(union sl_dims d, uint8_t currency, char *buffer, size_t size) {
  enum { MOST = 4 };                              /* a power of a unit has one digit */
  size_t n = 0;
  for (int sign = 1; sign >= -1; sign -= 2)
    for (int i = 0; i < 8; i++) {
      if (d.x[i] % 2 || (i == MONEY && d.x[i] && !currency)) return false;
      for (int left = sign * d.x[i] / 2; left > 0; left -= MOST)
        n += put_power(buffer + n, size - n, n == 0, i == MONEY ? sl_currency_code(currency) : bases[i],
                       sign * (left < MOST ? left : MOST));
    }
  return n > 0 && n <= SL_UNIT_LONGEST && n + 1 < size;
}

/* ---- composed units ---------------------------------------------------------------------------------------------- */

static size_t starts(const char *text, size_t len, const char *with) {
  size_t n = strlen(with);
  return n <= len && memcmp(text, with, n) == 0 ? n : 0;
}

size_t sl_unit_symbol(const char *text, size_t len) {
  static const char *const signs[] = { "%", "$", "€", "£", "Ω" };
  const bool sign = len && !letter(*text);
  for (size_t i = 0; sign && i < sizeof signs / sizeof *signs; i++)
    if (starts(text, len, signs[i])) return strlen(signs[i]);
  size_t n = sign ? starts(text, len, "°") : 0;
  if (n) return n + (n < len && (text[n] == 'C' || text[n] == 'F') && !(n + 1 < len && letter(text[n + 1])));
  while (n < len && letter(text[n])) n++;
  return n ? n + starts(text + n, len - n, "Ω") : 0;
}

size_t sl_unit_power(const char *text, size_t len, int *power) {
  *power = 1;
  if (starts(text, len, "²")) return *power = 2, strlen("²");
  if (starts(text, len, "³")) return *power = 3, strlen("³");
  if (len && *text >= '2' && *text <= '4') return *power = *text - '0', 1;
  if (!len || *text != '^') return 0;
  size_t n = 1 + (size_t)(len > 1 && text[1] == '-');
  if (n >= len || text[n] < '1' || text[n] > '4') return 0;
  *power = (text[n] - '0') * (n == 2 ? -1 : 1);
  return n + 1;
}

enum { HIGHEST = 60 };                           /* twice an exponent, well inside int8_t */

static bool fail(struct sl_unit_error *err, size_t at, size_t len, const char *help, const char *text) {
  *err = (struct sl_unit_error){ .at = at, .len = len };
  SL_SAY(err->text, "%s", text);
  SL_SAY(err->help, "%s", help);
  return false;
}

static bool fail_symbol(struct sl_unit_error *err, const char *text, size_t at, size_t len) {
  const char *symbol = text + at;
  const int shown = (int)sl_whole(symbol, len, 32);
  const struct sl_unit_row *r = find(symbol, len);
  if (!r) r = nearest(symbol, len);
  fail(err, at, len, "", "");
  if (r && *r->refused) {
    err->refused = true;
    SL_SAY(err->text, "'%.*s' is not taken as a unit", shown, symbol);
    SL_SAY(err->help, "%s", r->refused);
  } else {
    SL_SAY(err->text, "unknown unit '%.*s'", shown, symbol);
    if (r) SL_SAY(err->help, "did you mean '%s'?", r->symbol);
  }
  return false;
}

/* Multiplies a symbol, to its power, into the unit. */
static bool multiply(struct sl_unit *unit, const struct sl_unit_row *r, int power, const char **why) {
  struct sl_unit one = { .factor = r->factor };
  read_dimension(r->dimension, &one);
  bool two = one.currency && unit->currency && one.currency != unit->currency;
  if (two) return *why = "two currencies in one unit", false;
  if (one.currency) unit->currency = one.currency;
  for (int i = 0; i < 8; i++) {
    int x = unit->dims.x[i] + one.dims.x[i] * power;
    if (x > HIGHEST || x < -HIGHEST) return *why = "the powers of this unit are too high", false;
    unit->dims.x[i] = (int8_t)x;
  }
  for (int i = 0; i < abs(power); i++) unit->factor = power > 0 ? unit->factor * one.factor : unit->factor / one.factor;
  return true;
}

bool sl_unit_parse(const char *text, size_t len, struct sl_unit *out, struct sl_unit_error *err) {
  *out = (struct sl_unit){ .factor = 1 };
  *err = (struct sl_unit_error){ .len = len };
  if (len == 0) return fail(err, 0, 0, "", "a unit is missing");
  if (len > SL_UNIT_LONGEST) return fail(err, 0, len, "", "this unit is too long");
  const struct sl_unit_row *r = NULL;
  size_t at = 0, factors = 0;
  bool one = starts(text, len, "1/") != 0;       /* "1/K" */
  at += one;
  for (bool first = true; at < len; first = false) {
    int sign = 1, power;
    if (text[at] == '/') sign = -1, at++;        /* a leading slash inverts, as in "/ft" */
    else if (!first) {
      size_t times = starts(text + at, len - at, "*") + starts(text + at, len - at, "·");
      if (!times) return fail(err, at, 1, "write a unit as in kN*m, W/m2 or ft^2", "a unit cannot go on like this");
      at += times;
    }
    size_t n = sl_unit_symbol(text + at, len - at);
    if (!n) return fail(err, at, at < len, "write a unit as in kN*m, W/m2 or ft^2", "a unit is missing here");
    r = find(text + at, n);
    if (!r || *r->refused) return fail_symbol(err, text, at, n);
    size_t p = sl_unit_power(text + at + n, len - at - n, &power);
    const char *why;
    if (!multiply(out, r, sign * power, &why)) return fail(err, at, n + p, "", why);
    at += n + p;
    factors++;
    bool alone = factors == 1 && sign * power == 1 && at == len && !one;
    if (alone && r->offset > 0) out->point = true, out->offset = r->offset;
  }
  if (out->currency && !out->dims.x[MONEY]) return fail(err, 0, len, "", "the money in this unit cancels out");
  return true;
}

/* ---- names of a run ---------------------------------------------------------------------------------------------- */

static bool room_for_one(struct sl_unit_names *names) {
  if (names->n < names->room) return true;
  const size_t was = names->room, room = was ? 2 * was : 32;
  char **text = sl_memory_resize(names->box, names->text, was * sizeof *text, room * sizeof *text);
  if (!text) return false;
  names->text = text;
  uint16_t *chain = sl_memory_resize(names->box, names->chain, was * sizeof *chain, room * sizeof *chain);
  if (!chain) {                                  /* back, so that one `room` is true of both: shrinking does not fail */
    names->text = sl_memory_resize(names->box, text, room * sizeof *text, was * sizeof *text);
    return false;
  }
  names->chain = chain;
  names->room = room;
  return true;
}

uint16_t sl_unit_intern(struct sl_unit_names *names, const char *text, size_t len) {
  enum { BUCKETS = sizeof names->bucket / sizeof *names->bucket };
  uint32_t hash = 2166136261u;                   /* FNV-1a */
  for (size_t i = 0; i < len; i++) hash = (hash ^ (unsigned char)text[i]) * 16777619u;
  uint16_t *head = &names->bucket[(hash ^ hash >> 16) % BUCKETS];
  if (len == 0) return 0;
  for (uint16_t id = *head; id; id = names->chain[id - 1])
    if (strlen(names->text[id - 1]) == len && memcmp(names->text[id - 1], text, len) == 0) return id;
  if (names->n == UINT16_MAX || !room_for_one(names)) return 0;
  char *copy = sl_memory_resize(names->box, NULL, 0, len + 1);
  if (!copy) return 0;
  memcpy(copy, text, len);
  copy[len] = '\0';
  names->text[names->n] = copy;
  names->chain[names->n] = *head;
  return *head = (uint16_t)++names->n;
}

const char *sl_unit_text(const struct sl_unit_names *names, uint16_t id) {
  return id >= 1 && id <= names->n ? names->text[id - 1] : "";
}

void sl_unit_names_free(struct sl_unit_names *names) {
  for (size_t i = 0; i < names->n; i++) sl_memory_resize(names->box, names->text[i], strlen(names->text[i]) + 1, 0);
  sl_memory_resize(names->box, names->text, names->room * sizeof *names->text, 0);
  sl_memory_resize(names->box, names->chain, names->room * sizeof *names->chain, 0);
  *names = (struct sl_unit_names){ .box = names->box };
}

/* ---- wire sizes -------------------------------------------------------------------------------------------------- */

enum { FINEST_GAUGE = 40, LEAST_KCMIL = 250, MOST_KCMIL = 2000 };

/* d = 0.005 in * 92^((36 - n)/39), with 1/0 as 0, 2/0 as -1 and so on: GNU units 2.22, wiregauge(). */
static double gauge_area(int n) {
  const double pi = 3.14159265358979323846;
  double d = 0.005 * 0.0254 * pow(92, (36 - n) / 39.0);
  return pi / 4 * d * d;
}

/* Whole digits without a leading zero, at most 9999; -1 if it is not that. */
static int whole(const char *text, size_t len) {
  if (len == 0 || len > 4 || *text == '0') return -1;
  int n = 0;
  for (size_t i = 0; i < len; i++) {
    if (text[i] < '0' || text[i] > '9') return -1;
    n = 10 * n + text[i] - '0';
  }
  return n;
}

/* "2.5" or "16": a positive decimal of at most seven bytes. */
static double decimal(const char *text, size_t len) {
  char number[8] = "";
  memcpy(number, text, len);
  char *end;
  double value = strtod(number, &end);
  return *end || *number == '.' || end[-1] == '.' ? -1 : value;
}

bool sl_wire_parse(const char *text, size_t len, struct sl_wire *out) {
  while (len && (*text == ' ' || *text == '\t')) text++, len--;
  while (len && (text[len - 1] == ' ' || text[len - 1] == '\t')) len--;
  const bool numbered = len && *text == '#';               /* "#6" and "#2/0", as they are called on a site */
  if (numbered) text++, len--;
  size_t n = 0;
  while (n < len && ((text[n] >= '0' && text[n] <= '9') || text[n] == '/' || text[n] == '.')) n++;
  size_t unit = n;
  while (unit < len && (text[unit] == ' ' || text[unit] == '\t')) unit++;
  const char *u = text + unit;
  size_t ulen = len - unit;
  if (n == 0 || n >= sizeof out->size) return false;

  static const char *const squares[] = { "mm2", "mm²", "mm^2" };
  bool gauge = ulen == 0 || (ulen == 3 && memcmp(u, "AWG", 3) == 0);
  bool mils = ulen == 0 || (ulen == 5 && memcmp(u, "kcmil", 5) == 0) || (ulen == 3 && memcmp(u, "MCM", 3) == 0);
  bool metric = false;
  for (int i = 0; i < 3; i++) metric |= ulen == strlen(squares[i]) && memcmp(u, squares[i], ulen) == 0;

  struct sl_wire w = { .metric = metric };
  memcpy(w.size, text, n);
  int size = whole(text, n);
  if (metric && !numbered && (w.area = decimal(text, n) * 1e-6) > 0) return *out = w, true;
  if (gauge && n == 3 && text[0] >= '1' && text[0] <= '4' && text[1] == '/' && text[2] == '0')
    return w.area = gauge_area('1' - text[0]), *out = w, true;
  if (gauge && size >= 1 && size <= FINEST_GAUGE) return w.area = gauge_area(size), *out = w, true;
  if (mils && !numbered && size >= LEAST_KCMIL && size <= MOST_KCMIL)
    return w.area = size * find("kcmil", 5)->factor, *out = w, true;
  return false;
}
