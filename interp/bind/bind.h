/* SPDX-License-Identifier: MIT
 * The one binding: a table of fields and one row per primitive; bind.c serves all of them.  No formula here.
 *
 * Inputs and outputs are self-contained structs (no pointers), so that a result can keep its inputs and be worked
 * again with a sheet when somebody asks how it came about. */
#ifndef SL_BIND_H
#define SL_BIND_H

#include <stdbool.h>
#include <stddef.h>
#include "stringline/sheet.h"

enum sl_field_kind {
  SL_FIELD_REAL,      /* double m */
  SL_FIELD_COUNT,     /* int m: a whole number */
  SL_FIELD_FLAG,      /* bool m */
  SL_FIELD_CHOICE,    /* int m: index into choices */
  SL_FIELD_TEXT,      /* char m[size] */
  SL_FIELD_ARRAY,     /* double m[size]; size_t count at `count` */
};

struct sl_field {
  const char *name;
  enum sl_field_kind kind;
  enum sl_dim dim;                 /* REAL and ARRAY */
  bool optional;                   /* absent: NAN, 0, false, first choice, "", no items; an output: a REAL only */
  size_t offset, size, count;      /* size: elements of TEXT and ARRAY */
  const char *const *choices;      /* CHOICE: NULL-terminated */
  const char *help;
};

struct sl_op {
  const char *name, *help;
  const struct sl_field *in; size_t nin, in_size;
  const struct sl_field *out; size_t nout, out_size;
  enum sl_status (*call)(const void *in, void *out, struct sl_sheet *sh);
};

/* _Generic and sizeof tie a row to its member: a member whose type changes stops the build. */
#define SL_MEMBER_(s, m) (((s *)0)->m)
#define SL_IS_(s, m, type) (0 * sizeof(_Generic(&SL_MEMBER_(s, m), type *: 1)))
#define SL_FIELD_(s, m, kind, dim, optional, type, choices, help) \
  { #m, kind, dim, optional, offsetof(s, m) + SL_IS_(s, m, type), 0, 0, choices, help }
#define SL_REAL(s, m, dim, help)      SL_FIELD_(s, m, SL_FIELD_REAL, dim, false, double, NULL, help)
#define SL_REAL_OPT(s, m, dim, help)  SL_FIELD_(s, m, SL_FIELD_REAL, dim, true, double, NULL, help)
#define SL_COUNT(s, m, help)          SL_FIELD_(s, m, SL_FIELD_COUNT, SL_NUMBER, false, int, NULL, help)
#define SL_COUNT_OPT(s, m, help)      SL_FIELD_(s, m, SL_FIELD_COUNT, SL_NUMBER, true, int, NULL, help)
#define SL_FLAG(s, m, help)           SL_FIELD_(s, m, SL_FIELD_FLAG, SL_NUMBER, false, bool, NULL, help)
#define SL_FLAG_OPT(s, m, help)       SL_FIELD_(s, m, SL_FIELD_FLAG, SL_NUMBER, true, bool, NULL, help)
#define SL_CHOICE(s, m, names, help)  SL_FIELD_(s, m, SL_FIELD_CHOICE, SL_NUMBER, false, int, names, help)
#define SL_CHOICE_OPT(s, m, names, help) SL_FIELD_(s, m, SL_FIELD_CHOICE, SL_NUMBER, true, int, names, help)
#define SL_TEXT_(s, m, optional, help) \
  { #m, SL_FIELD_TEXT, SL_NUMBER, optional, offsetof(s, m), sizeof SL_MEMBER_(s, m), 0, NULL, help }
#define SL_TEXT(s, m, help)           SL_TEXT_(s, m, false, help)
#define SL_TEXT_OPT(s, m, help)       SL_TEXT_(s, m, true, help)
#define SL_ARRAY(s, m, n, dim, help) \
  { #m, SL_FIELD_ARRAY, dim, false, offsetof(s, m), sizeof SL_MEMBER_(s, m) / sizeof(double), \
    offsetof(s, n) + SL_IS_(s, n, size_t), NULL, help }

/* OP(embed, "..."): rows embed_in[], embed_out[]; structs sl_embed_in, sl_embed_out; function sl_embed. */
#define SL_OP_CALL(n) \
  static enum sl_status call_##n(const void *in, void *out, struct sl_sheet *sh) { return sl_##n(in, out, sh); }
#define SL_OP(n, help) { #n, help, n##_in, sizeof n##_in / sizeof *n##_in, sizeof(struct sl_##n##_in), \
                         n##_out, sizeof n##_out / sizeof *n##_out, sizeof(struct sl_##n##_out), call_##n }

/* SL_OPS(footing, 40) = { SL_OP(...), ..., {0} };  the list of the file footing.c, found at build (interp/gen/ops.awk).
 * By its place it stands among the others in the reference. */
#define SL_OPS(name, place) const struct sl_op sl_ops_##name[]
extern const struct sl_op *const sl_op_lists[];      /* ended by NULL; each list by a NULL name */
#endif
