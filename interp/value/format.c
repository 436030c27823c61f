/* SPDX-License-Identifier: MIT
 * How a value prints. */
#include "value/format.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

bool sl_equal(double a, double b) {
  const double apart = fabs(a - b);
  return a == b || (isfinite(apart) && apart <= SL_TOLERANCE * fmax(fabs(a), fabs(b)));   /* nothing is near to inf */
}

/* What snprintf makes of "%s%s%s%s". */
static size_t join(char *to, size_t size, const char *a, const char *b, const char *c, const char *d) {
  const char *const parts[] = { a, b, c, d };
  size_t n = 0;
  for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
    const size_t more = strlen(parts[i]), room = n < size ? size - n : 0;
    if (room) memcpy(to + n, parts[i], more < room ? more : room);
    n += more;
  }
  if (size) to[n < size ? n : size - 1] = '\0';
  return n;
}

/* What snprintf makes of "%.*f", of small amounts with few decimals: 0 for others, and where a rounded product does not
 * tell which way to round. */
static int print_fixed(char *to, size_t size, int decimals, double value) {
  static const double powers[] = { 1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6 };
  enum { POWERS = sizeof powers / sizeof *powers };
  if (decimals >= POWERS) return 0;
  const double scaled = fabs(value) * powers[decimals];
  if (!(scaled < 1e9)) return 0;
  uint32_t whole = (uint32_t)scaled;
  const double rest = scaled - whole;
  if (fabs(rest - 0.5) < 1e-6) return 0;                               /* the product is off by less than that */
  whole += rest > 0.5;
  char back[16];
  int n = 0;
  for (int i = 0; i < decimals; i++, whole /= 10) back[n++] = (char)('0' + whole % 10);
  if (decimals) back[n++] = '.';
  do back[n++] = (char)('0' + whole % 10); while ((whole /= 10));
  if (signbit(value)) back[n++] = '-';
  if ((size_t)n >= size) return 0;
  for (int i = 0; i < n; i++) to[i] = back[n - 1 - i];
  to[n] = 0;
  return n;
}

size_t sl_format_number(char *to, size_t size, double value, int digits) {
  if (digits <= 0) digits = 4;
  if (!isfinite(value)) return (size_t)snprintf(to, size, "%s", isnan(value) ? "nan" : value > 0 ? "inf" : "-inf");
  double magnitude = fabs(value);
  if (magnitude != 0 && (magnitude < 1e-6 || magnitude >= 1e15))
    return (size_t)snprintf(to, size, "%.*e", digits - 1, value);
  int decimals = magnitude == 0 ? 0 : digits - 1 - (int)floor(log10(magnitude));
  if (decimals < 0) decimals = 0;
  int n = print_fixed(to, size, decimals, value);
  if (!n) n = snprintf(to, size, "%.*f", decimals, value);
  if (n <= 0 || (size_t)n >= size) return strlen(to);
  if (strchr(to, '.')) {
    while (to[n - 1] == '0') to[--n] = 0;
    if (to[n - 1] == '.') to[--n] = 0;
  }
  if (strcmp(to, "-0") == 0) return (size_t)snprintf(to, size, "0");
  return (size_t)n;
}

int sl_digits_apart(double a, double b, double factor, double offset) {
  double x = a / factor - offset, y = b / factor - offset;
  int digits = 4;
  for (; digits < 15; digits++) {
    char s[64], t[64];
    sl_format_number(s, sizeof s, x, digits);
    sl_format_number(t, sizeof t, y, digits);
    if (strcmp(s, t) != 0 || sl_equal(x, y)) break;
  }
  return digits;
}

size_t sl_format_in(char *to, size_t size, double si, const char *unit, int digits) {
  struct sl_unit u;
  struct sl_unit_error err;
  char number[64];
  if (!*unit || !sl_unit_parse(unit, strlen(unit), &u, &err)) {
    sl_format_number(number, sizeof number, si, digits);
    return join(to, size, number, *unit ? " " : "", unit, "");
  }
  const double value = si / u.factor - u.offset;
  char own[SL_UNIT_LONGEST + 2];
  if (isfinite(si) && !isfinite(value) && sl_dims_unit(u.dims, u.currency, own, sizeof own))
    return sl_format_in(to, size, si, own, digits);                   /* too many of a small unit */
  sl_format_number(number, sizeof number, value, digits);
  return join(to, size, number, " ", unit, "");
}

/* 8 ft 11-3/8 in; 0 ft is left out, so are 0 in beside feet. */
static size_t format_fraction(char *to, size_t size, double metres, int denominator, bool inches_only) {
  double parts = floor(fabs(metres) / 0.0254 * denominator + 0.5);
  if (!(parts < 1e15)) /* no fraction is left */
    return sl_format_in(to, size, metres, inches_only ? "in" : "ft", 4);
  const char *sign = metres < 0 && parts > 0 ? "-" : "";
  double feet = inches_only ? 0 : floor(parts / (12.0 * denominator));
  double rest = parts - feet * 12 * denominator;
  double inches = floor(rest / denominator);
  int numerator = (int)(rest - inches * denominator);
  while (numerator && numerator % 2 == 0 && denominator % 2 == 0) { numerator /= 2; denominator /= 2; }
  char foot[40] = "", inch[60] = "";
  if (feet > 0) snprintf(foot, sizeof foot, "%.0f ft", feet);
  if (numerator && inches > 0) snprintf(inch, sizeof inch, "%.0f-%d/%d in", inches, numerator, denominator);
  else if (numerator) snprintf(inch, sizeof inch, "%d/%d in", numerator, denominator);
  else if (inches > 0 || feet == 0) snprintf(inch, sizeof inch, "%.0f in", inches);
  return join(to, size, sign, foot, *foot && *inch ? " " : "", inch);
}

/* Whether a price with this behind it is read with its sign in front: one or two divisions by a unit. */
static bool goes_behind_a_price(const char *tail) {
  int divisions = 0;
  for (; *tail == '/' && divisions < 3; divisions++) tail += strcspn(tail + 1, "/*·%") + 1;
  return *tail == '\0' && divisions < 3;
}

/* $1.05/ft, 1.05 NZD/m; a plain amount to the cent; 3 USD/kN*m. */
static size_t format_money(char *to, size_t size, const struct sl_quantity *q, const char *tail, int digits) {
  struct sl_unit u = { .factor = 1 };
  struct sl_unit_error err;
  char number[64];
  double value = q->si;
  if (*tail) {
    char unit[80];
    join(unit, sizeof unit, sl_currency_code(q->currency), tail, "", "");
    if (!goes_behind_a_price(tail)) return sl_format_in(to, size, q->si, unit, digits);
    if (sl_unit_parse(unit, strlen(unit), &u, &err)) value = q->si / u.factor;
  }
  if (*tail) {
    sl_format_number(number, sizeof number, fabs(value), digits);
    const char *dot = strchr(number, '.');
    if (dot && strlen(dot) == 2) strcat(number, "0");
  } else if (fabs(value) < 1e15) snprintf(number, sizeof number, "%.2f", fabs(value));
  else sl_format_number(number, sizeof number, fabs(value), digits);
  const char *sign = value < 0 && strspn(number, "0.") < strlen(number) ? "-" : "";
  const char *mark = sl_currency_sign(q->currency);
  if (*mark) return join(to, size, sign, mark, number, tail);
  return (size_t)snprintf(to, size, "%s%s %s%s", sign, number, sl_currency_code(q->currency), tail);
}

enum { MONEY = 6 };                      /* of the exponents, which are doubled */

/* What stands behind the money of a unit: "/ft" of "$/ft" and "NZD/ft", "" of "USD"; NULL where it is of another shape,
 * as "USD*ft" and "kWh/USD". */
static const char *money_tail(const char *unit, bool written, const struct sl_quantity *q) {
  const uint8_t currency = q->currency;
  if (!currency || q->dims.x[MONEY] != 2) return NULL;
  const char *const sign = sl_currency_sign(currency), *const code = sl_currency_code(currency);
  if (*sign && strncmp(unit, sign, strlen(sign)) == 0) unit += strlen(sign);
  else if (strncmp(unit, code, strlen(code)) == 0) unit += strlen(code);
  else if (written) return NULL;                              /* a dimension's own is "/ft" */
  return *unit == '\0' || *unit == '/' ? unit : NULL;
}

/* Whether a length in this unit reads in feet and inches: what was written in millimetres stays so, and so do miles. */
static bool on_a_tape(const char *written) {
  return !*written || strcmp(written, "ft") == 0 || strcmp(written, "in") == 0 || strcmp(written, "ft-in") == 0;
}

static enum sl_dim dim_of(union sl_dims dims, bool point) {
  if (point) return SL_TEMPERATURE;
  for (int d = 0; d < SL_DIM_COUNT; d++)
    if (d != SL_TEMPERATURE && sl_dim_dims((enum sl_dim)d).w == dims.w) return (enum sl_dim)d;
  return SL_DIM_COUNT;
}

size_t sl_format(char *to, size_t size, const struct sl_quantity *q, const struct sl_style *style) {
  enum sl_dim dim = dim_of(q->dims, q->point);
  const char *unit = dim < SL_DIM_COUNT ? sl_dim_unit(dim, style->us) : "";
  const char *written = style->written ? style->written : "";
  bool fraction = style->fraction > 0 ? on_a_tape(written) : strcmp(written, "ft-in") == 0;
  if (dim == SL_LENGTH && fraction)
    return format_fraction(to, size, q->si, style->fraction > 0 ? style->fraction : 64, style->inches_only);
  if (*written && strcmp(written, "ft-in") != 0) unit = written;
  else if (dim == SL_DIM_COUNT) {
    char composed[SL_UNIT_LONGEST + 2], number[64], name[80];
    if (sl_dims_unit(q->dims, q->currency, composed, sizeof composed))
      return sl_format_in(to, size, q->si, composed, style->digits);
    sl_format_number(number, sizeof number, q->si, style->digits);
    return (size_t)snprintf(to, size, "%s %s", number, sl_dims_name(q->dims, false, name, sizeof name));
  }
  const char *tail = money_tail(unit, *written && unit == written, q);
  if (tail) return format_money(to, size, q, tail, style->digits);
  return sl_format_in(to, size, q->si, unit, style->digits);
}
