/* SPDX-License-Identifier: MIT
 * The version that a file was written for, read before the file is scanned. */
#include "host/language.h"
#include <string.h>
#include "host/source.h"

struct reader { const char *text; size_t n, at, line_start; int line; };

static bool sees(const struct reader *r, const char *word) {
  size_t length = strlen(word);
  return r->n - r->at >= length && memcmp(r->text + r->at, word, length) == 0;
}

static void step(struct reader *r) {
  size_t end = sl_line_end(r->text, r->n, r->at);
  r->at += end ? end : 1;
  if (end) r->line++, r->line_start = r->at;
}

static void to_line_end(struct reader *r) {
  while (r->at < r->n && !sl_line_end(r->text, r->n, r->at)) r->at++;
}

/* Behind "--": a long comment ends with as many equal signs as it began with. */
static void skip_comment(struct reader *r) {
  size_t open = r->at, level = 0;
  if (open < r->n && r->text[open] == '[') {
    while (open + 1 + level < r->n && r->text[open + 1 + level] == '=') level++;
    if (open + 1 + level < r->n && r->text[open + 1 + level] == '[') {
      for (r->at = open + level + 2; r->at < r->n; step(r)) {
        if (r->text[r->at] != ']' || r->n - r->at < level + 2 || r->text[r->at + level + 1] != ']') continue;
        size_t equals = 0;
        while (equals < level && r->text[r->at + 1 + equals] == '=') equals++;
        if (equals < level) continue;
        r->at += level + 2;
        return;
      }
      return;
    }
  }
  to_line_end(r);
}

static void skip_blanks(struct reader *r) {
  while (r->at < r->n && r->text[r->at] && strchr(" \t\v\f", r->text[r->at])) r->at++;
}

static void to_first_word(struct reader *r) {
  if (sees(r, "#")) to_line_end(r);
  while (r->at < r->n) {
    if (sees(r, "--")) {
      r->at += 2;
      skip_comment(r);
    } else if (r->text[r->at] && strchr(" \t\v\f\r\n", r->text[r->at])) step(r);
    else return;
  }
}

bool sl_language_named(const char *text, size_t n, long *version, struct sl_span *span) {
  struct reader r = { .text = text, .n = n, .line = 1 };
  to_first_word(&r);
  if (!sees(&r, "language")) return false;
  *span = (struct sl_span){ r.line, (int)(r.at - r.line_start) + 1, 0 };
  size_t start = r.at;
  r.at += strlen("language");
  skip_blanks(&r);
  if (sees(&r, "(")) r.at++, skip_blanks(&r);
  if (!sees(&r, "\"") && !sees(&r, "'")) return false;
  char quote = r.text[r.at++];
  size_t first = r.at;
  *version = 0;
  for (; r.at < n && r.text[r.at] >= '0' && r.text[r.at] <= '9'; r.at++) {
    if (r.at - first >= 9) return false;
    *version = *version * 10 + (r.text[r.at] - '0');
  }
  if (r.at == first || r.at == n || r.text[r.at] != quote) return false;
  span->len = (int)(r.at + 1 - start);
  return true;
}
