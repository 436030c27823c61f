/* SPDX-License-Identifier: MIT
 * What holds for every primitive, read off its binding rows: it works without a sheet and gives the same; its sheet
 * explains itself; NaN, infinity and a choice that does not exist are refused, by name. */
#ifndef SL_OP_CHECK_H
#define SL_OP_CHECK_H

#include "bind/bind.h"
#include "room.h"
#include "sheet_check.h"

/* OP_REFUSED(joint_force, good, in.lean = 4, SL_BAD_INPUT, "lean"): changed so, the good input is refused for that. */
#define OP_REFUSED(op, good, change, is, what) \
  do { struct sl_##op##_in in = good; struct sl_##op##_out out; struct sl_sheet sheet = { .cap = 0 }; \
       change; assert_int_equal(sl_##op(&in, &out, &sheet), is); \
       assert_string_equal(sheet.fault.member, what); } while (0)
/* GIVES_OF(joint_force, force): a function, force(&in), for what a good input gives. */
#define GIVES_OF(op, name) \
  static struct sl_##op##_out name(const struct sl_##op##_in *in) { \
    struct sl_##op##_out out; \
    assert_int_equal(sl_##op(in, &out, NULL), SL_OK); \
    return out; \
  }

struct op_case { const char *name; const void *good; };

static inline const struct sl_op *op_find(const char *name) {
  const struct sl_op *found = NULL;
  for (size_t i = 0; sl_op_lists[i]; i++)
    for (const struct sl_op *op = sl_op_lists[i]; op->name; op++)
      if (strcmp(op->name, name) == 0) found = op;
  assert_non_null(found);
  return found;
}

static inline size_t op_need(const struct sl_op *op, const void *in) {
  const size_t need = op->need ? op->need(in) : 0;
  return need < 1 << 28 ? need : 0;
}
static inline enum sl_status op_call(const struct sl_op *op, const void *in, void *out, struct sl_sheet *sheet) {
  return op->call(in, out, room_of(op_need(op, in)), sheet);
}

static inline size_t op_field_bytes(const struct sl_field *f) {
  switch (f->kind) {
  case SL_FIELD_REAL:  return sizeof(double);
  case SL_FIELD_TEXT:  return f->size;
  case SL_FIELD_FLAG:  return sizeof(bool);
  default:             return sizeof(int);
  }
}

/* The items of a list: where they stand, and how many. */
static inline char *op_items(const struct sl_field *f, const char *bytes, size_t *n) {
  char *at;
  memcpy(&at, bytes + f->offset, sizeof at);
  memcpy(n, bytes + f->count, sizeof *n);
  return at;
}

static inline bool op_same(const struct sl_field *f, const char *a, const char *b) {
  if (f->kind < SL_FIELD_LIST) return memcmp(a + f->offset, b + f->offset, op_field_bytes(f)) == 0;
  size_t n, m;
  const char *as = op_items(f, a, &n), *bs = op_items(f, b, &m);
  if (n != m) return false;
  if (f->kind == SL_FIELD_LIST) return memcmp(as, bs, n * f->size) == 0;
  for (size_t i = 0; i < n; i++)
    for (size_t k = 0; k < f->nfields; k++)
      if (!op_same(&f->fields[k], as + i * f->size, bs + i * f->size)) return false;
  return true;
}

/* What is wrong stands in a member of `in`, or of item `item` of the list `list` of it. */
struct op_place { const struct sl_op *op; const void *in; const struct sl_field *list; size_t item; };

static inline void op_refuses(const struct op_place *p, void *out, const struct sl_field *f, const char *what) {
  struct sl_sheet sheet = { .cap = 0 };
  char member[96];
  const enum sl_status status = op_call(p->op, p->in, out, &sheet);
  if (!p->list) snprintf(member, sizeof member, "%s", f->name);
  else if (p->list == f) snprintf(member, sizeof member, "%s", f->name);
  else snprintf(member, sizeof member, "%s[i].%s", p->list->name, f->name);
  if (status == SL_BAD_INPUT && strcmp(sheet.fault.member, member) == 0 && *sheet.fault.text && sheet.n == 0 &&
      sheet.fault.item == p->item) return;
  fail_msg("%s: %s as '%s' %zu gives status %d, fault at '%s' %zu", p->op->name, what, member, p->item, (int)status,
           sheet.fault.member ? sheet.fault.member : "", sheet.fault.item);
}

static inline void op_number(const struct op_place *p, double *member, const struct sl_field *f, void *out) {
  const double was = *member;
  *member = NAN;
  op_refuses(p, out, f, "NaN");
  *member = INFINITY;
  assert_int_not_equal(op_call(p->op, p->in, out, NULL), SL_OK);
  *member = -INFINITY;
  assert_int_not_equal(op_call(p->op, p->in, out, NULL), SL_OK);
  *member = was;
}

/* Every number and choice of a struct, `at`, made wrong in its turn; the items of its lists too. */
static inline void op_fields(const struct op_place *p, const struct sl_field *fields, size_t n, char *at, void *out) {
  for (size_t i = 0; i < n; i++) {
    const struct sl_field *f = &fields[i];
    if (f->kind == SL_FIELD_REAL && !f->optional) op_number(p, (double *)(void *)(at + f->offset), f, out);
    else if (f->kind == SL_FIELD_CHOICE) {
      int *member = (int *)(void *)(at + f->offset), was = *member, last = 0;
      while (f->choices[last]) last++;
      *member = last;
      op_refuses(p, out, f, "a choice past the last");
      *member = -1;
      op_refuses(p, out, f, "a choice before the first");
      *member = was;
    } else if (f->kind >= SL_FIELD_LIST) {
      size_t items;
      const char *list = op_items(f, at, &items);
      char *mine = malloc(items * f->size + 1);
      assert_non_null(mine);
      if (items > 0) memcpy(mine, list, items * f->size);
      memcpy(at + f->offset, &mine, sizeof mine);
      for (size_t k = 0; k < items; k++) {
        const struct op_place item = { p->op, p->in, f, k + 1 };
        if (f->kind == SL_FIELD_LIST) op_number(&item, (double *)(void *)mine + k, f, out);
        else op_fields(&item, f->fields, f->nfields, mine + k * f->size, out);
      }
      memcpy(at + f->offset, &list, sizeof list);
      free(mine);
    }
  }
}

static inline void op_behaves(void **state) {
  const struct op_case *c = *state;
  const struct sl_op *op = op_find(c->name);
  SHEET(sheet);
  char *in = calloc(1, op->in_size), *out = calloc(1, op->out_size), *again = calloc(1, op->out_size);
  assert_true(in && out && again);
  memcpy(in, c->good, op->in_size);

  assert_int_equal(op_call(op, in, out, &sheet), SL_OK);
  check_sheet(&sheet);
  assert_int_equal(op_call(op, in, again, NULL), SL_OK);
  for (size_t i = 0; i < op->nout; i++)
    if (!op_same(&op->out[i], out, again)) fail_msg("%s: '%s' is another without a sheet", op->name, op->out[i].name);
  op_fields(&(struct op_place){ op, in, NULL, 0 }, op->in, op->nin, in, again);
  free(in);
  free(out);
  free(again);
}

#endif
