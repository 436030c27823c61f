/* SPDX-License-Identifier: MIT
 * The one binding: a table of fields and one row per primitive; bind.c serves all of them.  No formula here.
 *
 * A result keeps its inputs, the rows and numbers of its lists too, and the room that its answer lies in, so that it
 * can be worked again with a sheet when somebody asks how it came about.  The structs hold no other pointers. */
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
  SL_FIELD_LIST,      /* const double *m; size_t count at `count` */
  SL_FIELD_ROWS,      /* const struct *m, each of `size` bytes, with fields of their own; size_t count at `count` */
};

struct sl_field {
  const char *name;
  enum sl_field_kind kind;
  enum sl_dim dim;                 /* REAL and LIST */
  bool optional;                   /* absent: NAN, 0, false, first choice, ""; an output: a REAL only */
  size_t offset, size, count;      /* size: of a TEXT, of a row */
  const char *const *choices;      /* CHOICE: NULL-terminated */
  const char *help;
  const struct sl_field *fields; size_t nfields;   /* ROWS: of a row; none of them is a list */
};

struct sl_op {
  const char *name, *help;
  const struct sl_field *in; size_t nin, in_size;
  const struct sl_field *out; size_t nout, out_size;
  enum sl_status (*call)(const void *in, void *out, struct sl_space space, struct sl_sheet *sh);
  size_t (*need)(const void *in);  /* NULL: no room */
};

/* _Generic and sizeof tie a row to its member: a member whose type changes stops the build. */
#define SL_MEMBER_(s, m) (((s *)0)->m)
#define SL_IS_(s, m, type) (0 * sizeof(_Generic(&SL_MEMBER_(s, m), type *: 1)))
#define SL_FIELD_(s, m, kind, dim, optional, type, choices, help) \
  { #m, kind, dim, optional, offsetof(s, m) + SL_IS_(s, m, type), 0, 0, choices, help, NULL, 0 }
#define SL_REAL(s, m, dim, help)      SL_FIELD_(s, m, SL_FIELD_REAL, dim, false, double, NULL, help)
#define SL_REAL_OPT(s, m, dim, help)  SL_FIELD_(s, m, SL_FIELD_REAL, dim, true, double, NULL, help)
#define SL_COUNT(s, m, help)          SL_FIELD_(s, m, SL_FIELD_COUNT, SL_NUMBER, false, int, NULL, help)
#define SL_COUNT_OPT(s, m, help)      SL_FIELD_(s, m, SL_FIELD_COUNT, SL_NUMBER, true, int, NULL, help)
#define SL_FLAG(s, m, help)           SL_FIELD_(s, m, SL_FIELD_FLAG, SL_NUMBER, false, bool, NULL, help)
#define SL_FLAG_OPT(s, m, help)       SL_FIELD_(s, m, SL_FIELD_FLAG, SL_NUMBER, true, bool, NULL, help)
#define SL_CHOICE(s, m, names, help)  SL_FIELD_(s, m, SL_FIELD_CHOICE, SL_NUMBER, false, int, names, help)
#define SL_CHOICE_OPT(s, m, names, help) SL_FIELD_(s, m, SL_FIELD_CHOICE, SL_NUMBER, true, int, names, help)
#define SL_TEXT_(s, m, optional, help) \
  { #m, SL_FIELD_TEXT, SL_NUMBER, optional, offsetof(s, m), sizeof SL_MEMBER_(s, m), 0, NULL, help, NULL, 0 }
#define SL_TEXT(s, m, help)           SL_TEXT_(s, m, false, help)
#define SL_TEXT_OPT(s, m, help)       SL_TEXT_(s, m, true, help)
#define SL_LIST(s, m, n, dim, help) \
  { #m, SL_FIELD_LIST, dim, false, offsetof(s, m) + SL_IS_(s, m, const double *), sizeof(double), \
    offsetof(s, n) + SL_IS_(s, n, size_t), NULL, help, NULL, 0 }
/* SL_ROWS(struct sl_fill_in, groups, n, struct sl_group, group_fields, "..."): each item has those fields. */
#define SL_ROWS(s, m, n, row, rows, help) \
  { #m, SL_FIELD_ROWS, SL_NUMBER, false, offsetof(s, m) + SL_IS_(s, m, const row *), sizeof(row), \
    offsetof(s, n) + SL_IS_(s, n, size_t), NULL, help, rows, sizeof rows / sizeof *rows }

/* OP(pier, "..."): rows pier_in[], pier_out[]; structs sl_pier_in, sl_pier_out; function sl_pier; _ROOM where it has a
 * sl_pier_need. */
#define SL_OP_CALL(n) \
  static enum sl_status call_##n(const void *in, void *out, struct sl_space space, struct sl_sheet *sh) { \
    (void)space; \
    return sl_##n(in, out, sh); \
  }
#define SL_OP_CALL_ROOM(n) \
  static size_t need_##n(const void *in) { return sl_##n##_need(in); } \
  static enum sl_status call_##n(const void *in, void *out, struct sl_space space, struct sl_sheet *sh) { \
    return sl_##n(in, out, space, sh); \
  }
#define SL_OP_(n, help, need) { #n, help, n##_in, sizeof n##_in / sizeof *n##_in, sizeof(struct sl_##n##_in), \
                                n##_out, sizeof n##_out / sizeof *n##_out, sizeof(struct sl_##n##_out), call_##n, need }
#define SL_OP(n, help)      SL_OP_(n, help, NULL)
#define SL_OP_ROOM(n, help) SL_OP_(n, help, need_##n)

/* SL_OPS(footing, 40) = { SL_OP(...), ..., {0} };  the list of the file footing.c, found at build (interp/gen/ops.awk).
 * By its place it stands among the others in the reference. */
#define SL_OPS(name, place) const struct sl_op sl_ops_##name[]
extern const struct sl_op *const sl_op_lists[];      /* ended by NULL; each list by a NULL name */
#endif
