/* SPDX-License-Identifier: MIT
 * What a worker tells its parent, in bytes: frames one after the other, each of a kind, with values.  No Lua. */
#ifndef SL_SWEEP_ROWS_H
#define SL_SWEEP_ROWS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct sl_bytes {
  char *at;
  size_t n, room;
  size_t whole;                /* up to here frames are whole */
};

enum sl_frame {
  SL_FRAME_ROW,                /* the values of a row; the first is its number */
  SL_FRAME_ASK,                /* wants its next block soon */
  SL_FRAME_DONE,               /* has done a block */
  SL_FRAME_LIMIT,              /* "steps" or "memory", and in words: its variant is over, and so is the worker */
  SL_FRAME_ERROR,              /* code, text, help: of a work that raised */
};

struct sl_value {
  enum sl_value_type { SL_VALUE_NIL, SL_VALUE_INT, SL_VALUE_FLOAT, SL_VALUE_TEXT } type;
  int64_t i;
  double d;
  const char *text; size_t n;  /* in the frame; no NUL at its end */
};

/* Room for so many bytes more; false: no memory. */
bool sl_bytes_room(struct sl_bytes *b, size_t more);
void sl_bytes_free(struct sl_bytes *b);

/* A frame that was begun and not ended is gone with the next one.  False: no memory, or more than a frame holds. */
bool sl_frame_begin(struct sl_bytes *b, enum sl_frame kind);
bool sl_frame_nil(struct sl_bytes *b);
bool sl_frame_int(struct sl_bytes *b, int64_t i);
bool sl_frame_float(struct sl_bytes *b, double d);
bool sl_frame_text(struct sl_bytes *b, const char *text, size_t n);
bool sl_frame_end(struct sl_bytes *b);

/* Reads frames from *at on. */
struct sl_frame_reader { enum sl_frame kind; const char *at, *end; };
bool sl_frame_next(const struct sl_bytes *b, size_t *at, struct sl_frame_reader *out);     /* false: none is whole */
bool sl_frame_value(struct sl_frame_reader *r, struct sl_value *out);                      /* false: that was all */
#endif
