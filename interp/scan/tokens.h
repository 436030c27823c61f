/* SPDX-License-Identifier: MIT
 * Inside the scanner: tokens, and the text at work.  Only scanner.re, fields.c, context.c and scan.c include this. */
#ifndef SL_TOKENS_H
#define SL_TOKENS_H

#include <stdio.h>
#include "scan/literal.h"

/* A token of one character is that character. */
enum sl_token_kind {
  T_END = 0,
  T_NAME = 256, T_STRING, T_NUMBER, T_LITERAL,
  T_DOTS, T_CONCAT, T_IDIV, T_SHL, T_SHR, T_EQ, T_NE, T_LE, T_GE, T_LABEL,
  T_AND, T_BREAK, T_DO, T_ELSE, T_ELSEIF, T_ENDBLOCK, T_FALSE, T_FOR, T_FUNCTION, T_GOTO, T_IF, T_IN, T_LOCAL, T_NIL,
  T_NOT, T_OR, T_REPEAT, T_RETURN, T_THEN, T_TRUE, T_UNTIL, T_WHILE,
};

struct sl_token {
  int kind;
  int line, col;
  int shown;                       /* bytes on its first line */
  const char *at, *end;
  size_t literal;                  /* T_LITERAL: its index */
  size_t mate;                     /* brackets: the token of the other one; 0: there is none */
  size_t open;                     /* the token that opened the bracket or block around it; 0: none */
  size_t head;                     /* a NAME that heads a declaration: index of its mark + 1 */
  bool in_table;                   /* the innermost open bracket or block is a table constructor */
  bool folded;                     /* a minus that went into the literal behind it */
  bool begins;                     /* a '(' behind a literal, on a later line: a statement of its own */
};

/* A key of a table, with its mark. */
struct sl_key { const char *at; size_t len, mark; int parent; };

struct sl_scanning {
  const char *text, *end;          /* a copy with a NUL at its end */
  const char *start;               /* behind a byte order mark and a first line with '#' */
  struct sl_token *token; size_t n, cap;       /* the first and the last are T_END: before the text and behind it */
  size_t open;                     /* while tokens are read: the one that opened the innermost bracket or block */
  struct sl_literal *literal; size_t nliteral, literal_cap;
  struct sl_mark *mark; size_t nmark, mark_cap;
  struct sl_key *key; size_t nkey, key_cap;
  struct sl_complaint bad[20], spare; size_t nbad;
  bool no_memory, too_deep;        /* too_deep: it was told, and nothing behind it is looked at */
  struct sl_box *box;              /* whose memory this takes */
};

/* Room for one more of `size` bytes; false: no memory, which is noted. */
bool sl_room(struct sl_scanning *s, void *array_pointer, size_t n, size_t *cap, size_t size);
/* A new complaint to fill, at a place within one line; a spare one when 20 are told. */
struct sl_complaint *sl_complain(struct sl_scanning *s, const char *code, int line, int col, int len);
struct sl_complaint *sl_complain_at(struct sl_scanning *s, const char *code, const struct sl_token *t);
struct sl_span sl_span_of(const struct sl_token *t);
/* Was something said of this token already? */
bool sl_told(const struct sl_scanning *s, const struct sl_token *t);

void sl_tokenise(struct sl_scanning *s);       /* scanner.re */
void sl_fields(struct sl_scanning *s);         /* fields.c: braces, heads, keys, commas */
void sl_context(struct sl_scanning *s);        /* context.c: what stands around literals */

static inline bool sl_ends_operand(int kind) {
  switch (kind) {
    case T_NAME: case T_STRING: case T_NUMBER: case T_LITERAL: case T_DOTS: case T_NIL: case T_TRUE: case T_FALSE:
    case T_ENDBLOCK: case ')': case ']': case '}': return true;
    default: return false;
  }
}
static inline bool sl_starts_operand(int kind) {
  switch (kind) {
    case T_NAME: case T_STRING: case T_NUMBER: case T_LITERAL: case T_DOTS: case T_NIL: case T_TRUE: case T_FALSE:
    case T_FUNCTION: case T_NOT: case '(': case '{': case '#': return true;
    default: return false;
  }
}
/* Length of a token's text for "%.*s". */
static inline int sl_shown(const struct sl_token *t) { return (int)sl_whole(t->at, (size_t)t->shown, 40); }
#endif
