/* SPDX-License-Identifier: MIT
 * JSON (RFC 8259) written piece by piece, with commas, quotes and nesting seen to.  No Lua.
 *
 *   struct sl_json j;
 *   sl_json_begin(&j, file, 2);
 *   sl_json_object(&j);
 *     sl_json_key(&j, "margin");  sl_json_number(&j, 0.037);
 *   sl_json_end(&j);
 *   if (!sl_json_finish(&j)) complain(j.why);
 *
 * The first mistake (a value without its key, an infinite number, a write that failed) is kept in `why`; from there
 * on nothing more is written and every call returns false. */
#ifndef SL_JSON_H
#define SL_JSON_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>
#include "out.h"

enum { SL_JSON_DEPTH = 64 };

struct sl_json {
  FILE *file; struct sl_out *out;    /* one of them */
  int indent;                        /* blanks a level; 0: all on one line */
  int depth;
  char open[SL_JSON_DEPTH];          /* '{' or '[' */
  bool filled[SL_JSON_DEPTH + 1];    /* has a value in it */
  bool keyed;                        /* a key waits for its value */
  const char *why;                   /* NULL: all is well */
};

void sl_json_begin(struct sl_json *json, FILE *file, int indent);
void sl_json_begin_out(struct sl_json *json, struct sl_out *out, int indent);
bool sl_json_object(struct sl_json *json);
bool sl_json_array(struct sl_json *json);
bool sl_json_end(struct sl_json *json);                                     /* of the innermost one */
bool sl_json_key(struct sl_json *json, const char *key);              /* that it is a new one is up to the caller */
bool sl_json_text(struct sl_json *json, const char *text, size_t len);      /* what is not UTF-8 becomes U+FFFD */
bool sl_json_number(struct sl_json *json, double number);                   /* %.17g; infinite and NaN are refused */
bool sl_json_integer(struct sl_json *json, long long number);
bool sl_json_bool(struct sl_json *json, bool truth);
bool sl_json_null(struct sl_json *json);
/* One whole value was written: ends its line.  False: `why`. */
bool sl_json_finish(struct sl_json *json);
#endif
