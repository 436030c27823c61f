/* SPDX-License-Identifier: MIT
 * What holds of a value that stands alone, as in a cell, with --set and in len[[...]], for any bytes: it is finite,
 * what the program prints of it is read again as the same value, and a script that takes it takes it as the same. */
#ifndef SL_LITERAL_LAWS_H
#define SL_LITERAL_LAWS_H

#include <math.h>
#include <string.h>
#include "host/text.h"
#include "law.h"
#include "scan/scanner.h"
#include "value/format.h"

static inline bool law_same_kind_(const struct sl_const *a, const struct sl_const *b) {
  return a->kind == b->kind && a->unit.dims.w == b->unit.dims.w && a->unit.point == b->unit.point &&
         a->unit.currency == b->unit.currency;
}

/* Prints a value and reads it again.  apart: how far that may be from it, in SI. */
static inline void law_reads_back_(const struct sl_const *k, const struct sl_style *style, double apart) {
  const struct sl_quantity q = { .si = k->si, .dims = k->unit.dims, .currency = k->unit.currency,
                                 .point = k->unit.point };
  char text[256], again[256];
  const size_t n = sl_format(text, sizeof text, &q, style);
  LAW(n == strlen(text) && n < sizeof text - 1);
  LAW_OR(n > 0 && !strstr(text, "inf") && !strstr(text, "nan"), "%.17g prints as '%s'", k->si, text);
  if (k->si != 0 && (fabs(k->si) > 1e290 || fabs(k->si) < 1e-290)) return;   /* rounding may leave the numbers there */
  struct sl_const back;
  struct sl_complaint bad;
  LAW_OR(sl_scan_literal(text, n, &back, &bad), "%.17g prints as '%s', which is not read: %s (%s)", k->si, text,
         bad.text, bad.help);
  LAW_OR(law_same_kind_(k, &back), "%.17g prints as '%s', which is of another kind", k->si, text);
  LAW_OR(fabs(back.si - k->si) <= apart, "%.17g prints as '%s', which is %.17g", k->si, text, back.si);
  const struct sl_quantity read = { .si = back.si, .dims = q.dims, .currency = q.currency, .point = q.point };
  sl_format(again, sizeof again, &read, style);
  const bool exact = style->digits <= 4 || k->unit.offset <= 0;    /* an offset takes the last digits of a point */
  LAW_OR(!exact || strcmp(text, again) == 0, "'%s' is read, and prints as '%s'", text, again);
}

/* Half of the last of so many digits, of a number in a unit. */
static inline double law_rounding_(const struct sl_const *k, const struct sl_unit *in, int digits) {
  const double number = fabs(k->si / in->factor - in->offset), first = number > 0 ? floor(log10(number)) : -400;
  const double last = fmin(first - digits + 1, number < 1e15 ? 0 : 400);      /* all before the point are printed */
  return (0.5 * pow(10, last) * 1.001 + number * 1e-14 + fabs(in->offset) * 1e-14) * fabs(in->factor);
}

/* In the unit that it was written in, and in its dimension's own, with few digits and with many. */
static inline void law_prints_(const struct sl_const *k) {
  char name[96];
  struct sl_unit_error err;
  const bool length = k->unit.dims.w == sl_dim_dims(SL_LENGTH).w, tape = strcmp(k->written, "ft-in") == 0;
  for (int digits = 4; digits <= 15; digits += 11) {
    for (int us = 0; us < 2; us++) {
      struct sl_style style = { .us = us, .digits = digits };
      struct sl_unit unit = { .factor = 1 };
      for (int d = 0; d < SL_DIM_COUNT; d++)
        if (sl_dim_dims((enum sl_dim)d).w == k->unit.dims.w && (d == SL_TEMPERATURE) == k->unit.point) {
          const char *own = sl_dim_unit((enum sl_dim)d, us);
          LAW(!*own || sl_unit_parse(own, strlen(own), &unit, &err));
          break;
        }
      const double cents = k->unit.currency ? 0.00501 : 0;
      law_reads_back_(k, &style, fmax(law_rounding_(k, &unit, digits), cents * unit.factor));
      style.written = k->written;
      if (tape) law_reads_back_(k, &style, fmax(0.0254 / 127, fabs(k->si) * 1e-3));
      else if (*k->written)
        law_reads_back_(k, &style, fmax(law_rounding_(k, &k->unit, digits), cents * k->unit.factor));
    }
  }
  LAW(*sl_dims_name(k->unit.dims, k->unit.point, name, sizeof name));
  for (int fraction = 8; length && fraction <= 64; fraction *= 2)
    for (int only = 0; only < 2; only++) {
      const struct sl_style style = { .us = true, .fraction = fraction, .inches_only = only };
      law_reads_back_(k, &style, fabs(k->si) < 1e10 ? 0.0254 / fraction * 0.501 + fabs(k->si) * 1e-14
                                                    : fabs(k->si) * 1e-3);
    }
}

/* A script that takes the whole text as one constant has the same value. */
static inline void law_script_(const char *text, size_t len) {
  enum { BEFORE = 7 };
  char script[BEFORE + 160];
  struct sl_scan scan;
  if (len > 120) return;                                     /* no cell is as long */
  memcpy(script, "return ", BEFORE);
  if (len) memcpy(script + BEFORE, text, len);
  LAW(sl_scan(script, BEFORE + len, &scan));
  if (scan.nbad == 0 && scan.nk == 1 && scan.k[0].span.col == BEFORE + 1 && scan.k[0].span.len == (int)len) {
    struct sl_const k;
    struct sl_complaint bad;
    LAW_OR(sl_scan_literal(text, len, &k, &bad), "'%.*s' is a constant, and no cell: %s", (int)len, text, bad.text);
    LAW_OR(law_same_kind_(&k, &scan.k[0]) && k.si == scan.k[0].si && k.tolerance == scan.k[0].tolerance &&
           strcmp(k.written, scan.k[0].written) == 0 && k.wire.area == scan.k[0].wire.area,
           "'%.*s' is another value in a cell: %.17g, %.17g", (int)len, text, scan.k[0].si, k.si);
  }
  sl_scan_free(&scan);
}

/* A minus in front turns the number round. */
static inline void law_minus_(const char *text, size_t len, const struct sl_const *k) {
  char minus[128];
  struct sl_const turned;
  struct sl_complaint bad;
  if (k->kind == SL_CONST_WIRE || len + 1 > 120 || !strchr("0123456789.", text[k->span.col - 1])) return;
  minus[0] = '-';
  memcpy(minus + 1, text + k->span.col - 1, len - (size_t)k->span.col + 1);
  const double number = k->si / k->unit.factor - k->unit.offset, si = (-number + k->unit.offset) * k->unit.factor;
  if (!sl_scan_literal(minus, len - (size_t)k->span.col + 2, &turned, &bad)) {
    LAW_OR(k->unit.point, "'%.*s' is read, and with a minus it is not: %s", (int)len, text, bad.text);
    return;
  }
  LAW(law_same_kind_(k, &turned) && turned.tolerance == k->tolerance);
  LAW(fabs(turned.si - si) <= 1e-12 * (fabs(si) + fabs(k->unit.offset * k->unit.factor)));
}

static inline void law_wire_(const struct sl_wire *wire) {
  struct sl_wire back;
  char text[32];
  LAW(isfinite(wire->area) && wire->area > 0 && *wire->size);
  snprintf(text, sizeof text, "%s%s", wire->size, wire->metric ? " mm2" : "");
  LAW_OR(sl_wire_parse(text, strlen(text), &back) && back.area == wire->area && back.metric == wire->metric,
         "the wire '%s' is not read again", text);
}

static inline void law_complaint_(const struct sl_complaint *bad, size_t len) {
  LAW(bad->code[0] == 'Q' && *bad->text && bad->span.line == 1 && bad->span.col > 0 && bad->span.len > 0);
  LAW((size_t)bad->span.col <= len + 1 && (size_t)(bad->span.col + bad->span.len) <= len + 2);
}

static inline void literal_laws(const char *text, size_t len) {
  struct sl_const k;
  struct sl_complaint bad;
  struct sl_unit unit;
  struct sl_unit_error err;
  double metres;
  if (sl_scan_literal(text, len, &k, &bad)) {
    LAW(isfinite(k.si) && isfinite(k.tolerance) && k.tolerance >= 0 && k.span.line == 1 && k.span.len > 0);
    LAW((size_t)(k.span.col - 1 + k.span.len) <= len);
    LAW(!k.unit.point || k.si >= 0);
    if (k.kind == SL_CONST_WIRE) law_wire_(&k.wire);
    else {
      if (*k.written && strcmp(k.written, "ft-in") != 0)
        LAW(sl_unit_parse(k.written, strlen(k.written), &unit, &err) && unit.dims.w == k.unit.dims.w &&
            unit.factor == k.unit.factor && unit.point == k.unit.point && unit.currency == k.unit.currency);
      law_prints_(&k);
      law_minus_(text, len, &k);
    }
    const bool is_length = k.kind == SL_CONST_QUANTITY && k.unit.dims.w == sl_dim_dims(SL_LENGTH).w && k.tolerance <= 0;
    LAW(sl_scan_length(text, len, &metres, &bad) == is_length);
    if (is_length) LAW(metres == k.si);
  } else {
    law_complaint_(&bad, len);
    LAW(!sl_scan_length(text, len, &metres, &bad));
    law_complaint_(&bad, len);
  }
  law_script_(text, len);
  if (sl_unit_parse(text, len, &unit, &err))
    LAW(isfinite(unit.factor) && unit.factor > 0 && isfinite(unit.offset) && len <= SL_UNIT_LONGEST);
  else LAW(*err.text && err.at + err.len <= len + 1);
  struct sl_wire wire;
  if (sl_wire_parse(text, len, &wire)) law_wire_(&wire);
}
#endif
