/* SPDX-License-Identifier: MIT
 * JSON written piece by piece. */
#include "json.h"
#include <math.h>
#include <string.h>
#include "lang/diag.h"

static bool fail(struct sl_json *j, const char *why) {
  if (!j->why) j->why = why;
  return false;
}

static bool put(struct sl_json *j, const char *text, size_t len) {
  if (j->out ? sl_out_write(j->out, text, len) : fwrite(text, 1, len, j->file) == len) return true;
  return fail(j, "a write failed");
}

static bool new_line(struct sl_json *j) {
  if (j->indent <= 0) return true;
  if (!put(j, "\n", 1)) return false;
  for (int i = 0; i < j->depth * j->indent; i++)
    if (!put(j, " ", 1)) return false;
  return true;
}

static bool put_string(struct sl_json *j, const char *text, size_t len) {
  if (!put(j, "\"", 1)) return false;
  for (size_t at = 0; at < len;) {
    char piece[8];
    size_t n = 0;
    at += sl_json_escape(text + at, len - at, piece, &n);
    if (!put(j, piece, n)) return false;
  }
  return put(j, "\"", 1);
}

/* Comma and line before an item of what is open. */
static bool separate(struct sl_json *j) {
  if (j->filled[j->depth] && !put(j, ",", 1)) return false;
  j->filled[j->depth] = true;
  return j->depth == 0 || new_line(j);
}

/* A value may stand here: first and only one, in an array, or behind its key. */
static bool start_value(struct sl_json *j) {
  if (j->why) return false;
  if (j->depth == 0) return j->filled[0] ? fail(j, "a second value at the top") : separate(j);
  if (j->open[j->depth - 1] == '[') return separate(j);
  if (!j->keyed) return fail(j, "a value without its key");
  j->keyed = false;
  return true;
}

static bool put_value(struct sl_json *j, const char *text) { return start_value(j) && put(j, text, strlen(text)); }

static bool start_nest(struct sl_json *j, char bracket) {
  if (!start_value(j)) return false;
  if (j->depth == SL_JSON_DEPTH) return fail(j, "nested too deep");
  j->open[j->depth++] = bracket;
  j->filled[j->depth] = false;
  return put(j, &bracket, 1);
}

void sl_json_begin(struct sl_json *json, FILE *file, int indent) {
  *json = (struct sl_json){ .file = file, .indent = indent };
}

void sl_json_begin_out(struct sl_json *json, struct sl_out *out, int indent) {
  *json = (struct sl_json){ .out = out, .indent = indent };
}

bool sl_json_object(struct sl_json *json) { return start_nest(json, '{'); }
bool sl_json_array(struct sl_json *json) { return start_nest(json, '['); }

bool sl_json_end(struct sl_json *json) {
  if (json->why) return false;
  if (json->depth == 0) return fail(json, "an end without its start");
  if (json->keyed) return fail(json, "a key without its value");
  bool filled = json->filled[json->depth--];
  if (filled && !new_line(json)) return false;
  return put(json, json->open[json->depth] == '{' ? "}" : "]", 1);
}

bool sl_json_key(struct sl_json *json, const char *key) {
  if (json->why) return false;
  if (json->depth == 0 || json->open[json->depth - 1] != '{') return fail(json, "a key outside an object");
  if (json->keyed) return fail(json, "a key without its value");
  json->keyed = true;
  return separate(json) && put_string(json, key, strlen(key)) && put(json, ": ", json->indent > 0 ? 2 : 1);
}

bool sl_json_text(struct sl_json *json, const char *text, size_t len) {
  return start_value(json) && put_string(json, text, len);
}

bool sl_json_number(struct sl_json *json, double number) {
  char text[32];
  if (!isfinite(number)) return fail(json, "a number that is infinite or not a number");
  snprintf(text, sizeof text, "%.17g", number);
  return put_value(json, text);
}

bool sl_json_integer(struct sl_json *json, long long number) {
  char text[32];
  snprintf(text, sizeof text, "%lld", number);
  return put_value(json, text);
}

bool sl_json_bool(struct sl_json *json, bool truth) { return put_value(json, truth ? "true" : "false"); }
bool sl_json_null(struct sl_json *json) { return put_value(json, "null"); }

bool sl_json_finish(struct sl_json *json) {
  if (json->why) return false;
  if (json->depth > 0) return fail(json, "an object or array is not ended");
  if (!json->filled[0]) return fail(json, "nothing was written");
  return put(json, "\n", 1);
}
