/* SPDX-License-Identifier: MIT
 * Rows on their way into the store: put in one by one, kept a hundred or a second at a time; the best one so far.
 * Statuses are SQLite's.  No Lua. */
#ifndef SL_SWEEP_KEEPING_H
#define SL_SWEEP_KEEPING_H

#include <sqlite3.h>
#include <stdbool.h>
#include <stdint.h>
#include "sweep/rows.h"

/* Of rows whose second value is "holds". */
struct sl_best {
  int column;                      /* from 1; 0: nobody asks */
  bool most, there;
  double value; int64_t number;
};

struct sl_keeping {
  sqlite3 *db;
  sqlite3_stmt *insert;
  int columns;
  struct sl_value *row;            /* room for one */
  bool begun;                      /* a transaction */
  int open;                        /* rows in it */
  int64_t since;                   /* when it was begun, in ns */
  int64_t waited;                  /* when the last one was that waits for the disk; 0: none */
  int64_t rows;                    /* in all */
  struct sl_best best;
};

int sl_keeping_open(struct sl_keeping *k, sqlite3 *db, const char *insert);
/* k->row, of which n values are told; the others are NULL. */
int sl_keeping_put(struct sl_keeping *k, int n, int64_t now);
/* Where a hundred rows or a second have come together. */
int sl_keeping_due(struct sl_keeping *k, int64_t now);
int sl_keeping_commit(struct sl_keeping *k);
/* Rows that are not committed are lost where `lose` says so, or where they cannot be. */
void sl_keeping_close(struct sl_keeping *k, bool lose);
#endif
