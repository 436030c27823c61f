/* SPDX-License-Identifier: MIT
 * Text for people: UTF-8 and the columns that it takes, buffers that cut at whole characters, and the one way in which
 * what a terminal would obey is shown.  No Lua.
 *
 * Not shown as itself: control bytes with line ends and tabs, line separators, the marks that turn the direction of
 * text, and bytes that are no UTF-8.  In their place stands \xNN for each byte; the backslash is an ordinary character,
 * so a text that was made safe stays as it is when it is made safe again. */
#ifndef SL_TEXT_H
#define SL_TEXT_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

/* What every message says that tells of this. */
#define SL_NO_MEMORY "the machine has no more memory"

/* Bytes of the UTF-8 character that text starts with and its code point; 0 where it is none (RFC 3629). */
size_t sl_utf8(const char *text, size_t n, uint32_t *point);
/* Display columns of n bytes, once made safe. */
int sl_columns(const char *text, size_t n);
/* Bytes of the whole characters that fit into the first `most`. */
size_t sl_whole(const char *text, size_t n, size_t most);

/* snprintf that never cuts a character in two; gives the bytes that are there. */
size_t sl_say(char *to, size_t size, const char *format, ...) __attribute__((format(printf, 3, 4)));
size_t sl_vsay(char *to, size_t size, const char *format, va_list args) __attribute__((format(printf, 3, 0)));
/* "a" or "an" before a word or a number, as it is spoken. */
const char *sl_article(const char *word);
/* Into an array: a text for a person, cut where it does not fit. */
#define SL_SAY(field, ...) ((void)sl_say(field, sizeof field, __VA_ARGS__))

/* A character, the columns that it takes when shown, and whether that is byte by byte. */
struct sl_piece { size_t bytes; int columns; bool escaped; };
struct sl_piece sl_piece_at(const char *text, size_t n, size_t at);
/* Where the first piece stands that is not shown as itself; n if all are. */
size_t sl_unsafe(const char *text, size_t n);
/* What it is, with the text around it made safe, into words ("a line end: \"north\\x0Arow\""), and how to mend it; NULL
 * if all can be shown.  Names and texts that a person gives are refused with these words where they come in. */
const char *sl_unsafe_words(char *to, size_t size, const char *text, size_t n);
/* Writes a text so that nothing in it is obeyed; gives the columns that it took. */
int sl_show(FILE *to, const char *text, size_t n);
/* The same into a buffer, whole pieces only, ended by NUL; gives its bytes.  4 n + 1 bytes hold any text. */
size_t sl_safe(char *to, size_t size, const char *text, size_t n);
/* Closes a stream into memory; false: it ran out of memory, and a part of the text is lost. */
bool sl_stream_close(FILE *stream);
/* As a JSON string, quotes included; 6 n + 2 bytes hold any text.  A byte that is no UTF-8 becomes the text \xNN, since
 * JSON has no such byte.  The second gives its bytes, without a NUL. */
void sl_json_string(FILE *to, const char *text, size_t n);
size_t sl_json_put(char *to, const char *text, size_t n);
#endif
