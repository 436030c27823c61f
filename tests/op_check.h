/* SPDX-License-Identifier: MIT
 * What holds for every primitive, read off its binding rows: it works without a sheet and gives the same; its sheet
 * explains itself; NaN, infinity and a choice that does not exist are refused, by name. */
#ifndef SL_OP_CHECK_H
#define SL_OP_CHECK_H

#include "bind/bind.h"
#include "sheet_check.h"

struct op_case { const char *name; const void *good; };

static inline const struct sl_op *op_find(const char *name) {
  const struct sl_op *found = NULL;
  for (size_t i = 0; sl_op_lists[i]; i++)
    for (const struct sl_op *op = sl_op_lists[i]; op->name; op++)
      if (strcmp(op->name, name) == 0) found = op;
  assert_non_null(found);
  return found;
}

static inline size_t op_field_bytes(const struct sl_field *f) {
  switch (f->kind) {
  case SL_FIELD_REAL:  return sizeof(double);
  case SL_FIELD_ARRAY: return f->size * sizeof(double);
  case SL_FIELD_TEXT:  return f->size;
  case SL_FIELD_FLAG:  return sizeof(bool);
  default:             return sizeof(int);
  }
}

static inline void op_refuses(const struct sl_op *op, const void *in, void *out, const struct sl_field *f,
                              const char *what) {
  struct sl_sheet sheet = { .cap = 0 };
  enum sl_status status = op->call(in, out, &sheet);
  if (status == SL_BAD_INPUT && strcmp(sheet.fault.member, f->name) == 0 && *sheet.fault.text && sheet.n == 0) return;
  fail_msg("%s: %s as '%s' gives status %d, fault at '%s'", op->name, what, f->name, (int)status,
           sheet.fault.member ? sheet.fault.member : "");
}

static inline void op_behaves(void **state) {
  const struct op_case *c = *state;
  const struct sl_op *op = op_find(c->name);
  SHEET(sheet);
  char *in = calloc(1, op->in_size), *out = calloc(1, op->out_size), *again = calloc(1, op->out_size);
  assert_true(in && out && again);
  memcpy(in, c->good, op->in_size);

  SHEET_ANEW(sheet);
  assert_int_equal(op->call(in, out, &sheet), SL_OK);
  check_sheet(&sheet);
  assert_int_equal(op->call(in, again, NULL), SL_OK);
  for (size_t i = 0; i < op->nout; i++) {
    const struct sl_field *f = &op->out[i];
    assert_memory_equal(out + f->offset, again + f->offset, op_field_bytes(f));
  }

  for (size_t i = 0; i < op->nin; i++) {
    const struct sl_field *f = &op->in[i];
    if (f->kind == SL_FIELD_REAL && !f->optional) {
      double *member = (double *)(void *)(in + f->offset), was = *member;
      *member = NAN;
      op_refuses(op, in, again, f, "NaN");
      *member = INFINITY;
      assert_int_not_equal(op->call(in, again, NULL), SL_OK);
      *member = -INFINITY;
      assert_int_not_equal(op->call(in, again, NULL), SL_OK);
      *member = was;
    } else if (f->kind == SL_FIELD_CHOICE) {
      int *member = (int *)(void *)(in + f->offset), was = *member, n = 0;
      while (f->choices[n]) n++;
      *member = n;
      op_refuses(op, in, again, f, "a choice past the last");
      *member = -1;
      op_refuses(op, in, again, f, "a choice before the first");
      *member = was;
    }
  }
  free(in);
  free(out);
  free(again);
}

#endif
