/* SPDX-License-Identifier: MIT
 * UTF-8, the columns that it takes, and how a text is made safe to show or to quote.  No Lua. */
#ifndef SL_TEXT_H
#define SL_TEXT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

/* Bytes of the UTF-8 character that text starts with and its code point; 0 where it is none (RFC 3629). */
size_t sl_utf8(const char *text, size_t n, uint32_t *point);
/* Display columns of n bytes of UTF-8 (bad bytes count one each; tabs as one). */
int sl_columns(const char *text, size_t n);
/* A character and the columns that it takes when shown; what is not shown as itself becomes \xNN byte by byte. */
struct sl_piece { size_t bytes; int columns; bool escaped; };
struct sl_piece sl_piece_at(const char *text, size_t n, size_t at);
/* Writes a text so that a terminal obeys nothing in it; a tab is shown as a blank. */
void sl_show(FILE *to, const char *text, size_t n);
/* Words of a message on one line: a line end in them is shown as a blank. */
void sl_show_words(FILE *to, const char *text);
/* One character, or one bad byte, of text as JSON wants it inside quotes: bytes taken; *n bytes (at most 6) into to. */
size_t sl_json_escape(const char *text, size_t len, char to[8], size_t *n);
/* Escapes for JSON into to, quotes included; bytes that are not UTF-8 become U+FFFD. */
void sl_json_string(FILE *to, const char *text, size_t len);
#endif
