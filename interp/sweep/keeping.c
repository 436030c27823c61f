/* SPDX-License-Identifier: MIT
 * Rows on their way into the store. */
#include "sweep/keeping.h"

#include <stdlib.h>
#include <string.h>
#include "sweep/database.h"

enum { COMMIT_ROWS = 100, COMMIT_NS = 1000000000 };

static int simply(const struct sl_keeping *k, const char *text) { return sqlite3_exec(k->db, text, NULL, NULL, NULL); }

int sl_keeping_open(struct sl_keeping *k, sqlite3 *db, const char *insert) {
  k->db = db;
  const int status = sqlite3_prepare_v2(db, insert, -1, &k->insert, NULL);
  if (status != SQLITE_OK) return status;
  k->columns = sqlite3_bind_parameter_count(k->insert);
  k->row = calloc((size_t)k->columns + 1, sizeof *k->row);
  return k->row ? SQLITE_OK : SQLITE_NOMEM;
}

static int bind(sqlite3_stmt *s, int at, const struct sl_value *v) {
  switch (v->type) {
    case SL_VALUE_INT: return sqlite3_bind_int64(s, at, v->i);
    case SL_VALUE_FLOAT: return sqlite3_bind_double(s, at, v->d);
    case SL_VALUE_TEXT: return sqlite3_bind_text64(s, at, v->text, v->n, SQLITE_STATIC, SQLITE_UTF8);
    case SL_VALUE_NIL: break;
  }
  return sqlite3_bind_null(s, at);
}

/* Of equals that of the lower number, so that it does not matter which came first. */
static void look_at(struct sl_best *best, const struct sl_value *row) {
  static const char holds[] = "holds";
  const struct sl_value *v = &row[best->column - 1], *status = &row[1];
  if (status->type != SL_VALUE_TEXT || status->n != strlen(holds) || memcmp(status->text, holds, status->n)) return;
  if (v->type != SL_VALUE_INT && v->type != SL_VALUE_FLOAT) return;
  const double value = v->type == SL_VALUE_INT ? (double)v->i : v->d;
  const bool better = best->most ? value > best->value : value < best->value;
  const bool worse = best->most ? value < best->value : value > best->value;
  if (value != value || (best->there && !better && (worse || row->i >= best->number))) return;
  best->there = true;
  best->value = value;
  best->number = row->i;
}

/* Once a second what is kept waits for the disk, with all before it: so a power cut takes no more than that. */
static int begin(struct sl_keeping *k, int64_t now) {
  const bool waits = !k->waited || now - k->waited >= COMMIT_NS;
  int status = simply(k, waits ? "PRAGMA synchronous=FULL" : "PRAGMA synchronous=NORMAL");
  if (status == SQLITE_OK) status = simply(k, "BEGIN");
  if (waits) k->waited = now;
  k->begun = status == SQLITE_OK;
  k->since = now;
  return status;
}

int sl_keeping_put(struct sl_keeping *k, int n, int64_t now) {
  int status = k->begun ? SQLITE_OK : begin(k, now);
  for (int i = n; i < k->columns; i++) k->row[i].type = SL_VALUE_NIL;
  for (int i = 0; i < k->columns && status == SQLITE_OK; i++) status = bind(k->insert, i + 1, &k->row[i]);
  if (status != SQLITE_OK) return status;
  status = sqlite3_step(k->insert);
  sqlite3_reset(k->insert);
  if (status != SQLITE_DONE) return status;
  k->open++;
  k->rows++;
  if (k->best.column && k->columns > 1) look_at(&k->best, k->row);
  return SQLITE_OK;
}

int sl_keeping_commit(struct sl_keeping *k) {
  if (!k->begun) return SQLITE_OK;
  const int status = simply(k, "COMMIT");
  if (status != SQLITE_OK) return status;
  k->begun = false;
  k->open = 0;
  return sl_database_moved(k->db) ? SQLITE_READONLY_DBMOVED : SQLITE_OK;
}

int sl_keeping_due(struct sl_keeping *k, int64_t now) {
  return k->open >= COMMIT_ROWS || (k->begun && now - k->since >= COMMIT_NS) ? sl_keeping_commit(k) : SQLITE_OK;
}

void sl_keeping_close(struct sl_keeping *k, bool lose) {
  if (k->begun && (lose || sl_keeping_commit(k) != SQLITE_OK)) simply(k, "ROLLBACK");
  sqlite3_finalize(k->insert);
  free(k->row);
  k->begun = false;
  k->insert = NULL;
  k->row = NULL;
}
