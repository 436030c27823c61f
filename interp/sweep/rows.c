/* SPDX-License-Identifier: MIT
 * Frames of values.  A frame is the bytes that follow, its kind, and values: a type, then 8 bytes, or a length and a
 * text.  Both ends are the same program on the same machine. */
#include "sweep/rows.h"

#include <stdlib.h>
#include <string.h>

enum { HEAD = 2 * sizeof(uint32_t), FIRST_ROOM = 1 << 15 };

bool sl_bytes_room(struct sl_bytes *b, size_t more) {
  if (more <= b->room - b->n) return true;
  if (more > SIZE_MAX / 4 || b->n > SIZE_MAX / 4) return false;
  const size_t want = b->n + more, twice = b->room ? 2 * b->room : FIRST_ROOM, room = want > twice ? want : twice;
  char *new = realloc(b->at, room);
  if (!new) return false;
  b->at = new;
  b->room = room;
  return true;
}

void sl_bytes_free(struct sl_bytes *b) {
  free(b->at);
  *b = (struct sl_bytes){ 0 };
}

static bool put(struct sl_bytes *b, char type, const void *value, size_t n) {
  if (!sl_bytes_room(b, n + 1)) return false;
  b->at[b->n] = type;
  if (n) memcpy(b->at + b->n + 1, value, n);
  b->n += n + 1;
  return true;
}

bool sl_frame_begin(struct sl_bytes *b, enum sl_frame kind) {
  b->n = b->whole;
  if (!sl_bytes_room(b, HEAD)) return false;
  const uint32_t what = (uint32_t)kind;
  memcpy(b->at + b->n + sizeof what, &what, sizeof what);
  b->n += HEAD;
  return true;
}

bool sl_frame_nil(struct sl_bytes *b) { return put(b, SL_VALUE_NIL, NULL, 0); }
bool sl_frame_int(struct sl_bytes *b, int64_t i) { return put(b, SL_VALUE_INT, &i, sizeof i); }
bool sl_frame_float(struct sl_bytes *b, double d) { return put(b, SL_VALUE_FLOAT, &d, sizeof d); }

bool sl_frame_text(struct sl_bytes *b, const char *text, size_t n) {
  const uint32_t length = (uint32_t)n;
  if (n > UINT32_MAX / 2 || !put(b, SL_VALUE_TEXT, &length, sizeof length) || !sl_bytes_room(b, n)) return false;
  if (n) memcpy(b->at + b->n, text, n);
  b->n += n;
  return true;
}

bool sl_frame_end(struct sl_bytes *b) {
  if (b->n - b->whole - HEAD > UINT32_MAX) return false;
  const uint32_t size = (uint32_t)(b->n - b->whole - HEAD);
  memcpy(b->at + b->whole, &size, sizeof size);
  b->whole = b->n;
  return true;
}

bool sl_frame_next(const struct sl_bytes *b, size_t *at, struct sl_frame_reader *out) {
  uint32_t size, kind;
  if (b->n - *at < HEAD) return false;
  memcpy(&size, b->at + *at, sizeof size);
  memcpy(&kind, b->at + *at + sizeof size, sizeof kind);
  if (b->n - *at - HEAD < size) return false;
  const char *first = b->at + *at + HEAD;
  *out = (struct sl_frame_reader){ (enum sl_frame)kind, first, first + size };
  *at += HEAD + size;
  return true;
}

bool sl_frame_value(struct sl_frame_reader *r, struct sl_value *out) {
  uint32_t length;
  if (r->at >= r->end) return false;
  *out = (struct sl_value){ .type = (enum sl_value_type)*r->at++ };
  switch (out->type) {
    case SL_VALUE_NIL: break;
    case SL_VALUE_INT: memcpy(&out->i, r->at, sizeof out->i); r->at += sizeof out->i; break;
    case SL_VALUE_FLOAT: memcpy(&out->d, r->at, sizeof out->d); r->at += sizeof out->d; break;
    case SL_VALUE_TEXT:
      memcpy(&length, r->at, sizeof length);
      out->text = r->at + sizeof length;
      out->n = length;
      r->at += sizeof length + length;
  }
  return true;
}
