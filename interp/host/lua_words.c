/* SPDX-License-Identifier: MIT
 * Lua's fixed texts in words for a person. */
#include "host/lua_words.h"

#include <stdio.h>
#include <string.h>
#include "host/text.h"

#define PART "make functions of its parts"
#define ONE_BY_ONE "go through them one by one, with a loop"
#define ESCAPE "write \\\\ where a backslash is meant"
#define CODES "%d prints whole numbers, %g any, %.2f two places, %s texts"

/* raw: the text, a '*' in it for anything.  The %s of `says` is what the raw text has in its first quotes, which is
 * underlined where `word` is set, else the statement is.  compiles: only the compiler says so, and a script's own error
 * may begin with the same words. */
static const struct words { const char *raw, *says, *help; bool word, compiles; } all[] = {
  /* too deep, too much */
  { "C stack overflow",
    "nested too deep: brackets, operators and blocks stand in each other up to about 190 deep, functions "
    "up to about 95",
    "make names or functions of the inner parts", false, true },
  { "C stack overflow",
    "nested too deep: calls through results, pcall, sort, gsub and the like stand in each other up to about 190 deep",
    "what calls itself needs a case in which it does not", false, false },
  { "error in error handling", "nested too deep: what handles an error raises one itself, over and over",
    "what handles an error must not raise one", false, false },
  { "stack overflow (string slice*", "more than 1,000,000 values at once", ONE_BY_ONE, false, false },
  { "stack overflow (too many*", "more than 1,000,000 values at once", ONE_BY_ONE, false, false },
  { "stack overflow*", "nested too deep: the values of calls that wait for each other are at most 1,000,000",
    "a function that calls itself needs a case in which it does not", false, false },
  { "*too many results*", "more than 1,000,000 values at once", ONE_BY_ONE, false, false },
  { "string slice too long", "more than 1,000,000 values at once", ONE_BY_ONE, false, false },
  { "resulting string too large", "the text would be too long", NULL, false, false },
  { "string length overflow", "the text would be too long", NULL, false, false },
  { "buffer too large", "the text would be too long", NULL, false, false },
  { "table overflow", "the table would be too large", NULL, false, false },
  { "memory allocation error*", "what is asked for is too large", NULL, false, false },
  { "array too big", "the table would be too large", NULL, false, false },
  /* while it runs */
  { "attempt to perform bitwise operation on a *",
    "`&`, `|`, `~`, `<<` and `>>` work on the bits of whole numbers alone",
    "conditions are joined by `and` and `or`; `not` turns one round", false, false },
  { "attempt to perform 'n*", "cannot divide by zero", NULL, false, false },
  { "attempt to divide by zero", "cannot divide by zero", NULL, false, false },
  { "number*has no integer representation",
    "a whole number is wanted here, and this one has a fraction or is too large",
    "floor(x) makes one whole", false, false },
  { "attempt to * a 'string' with a '*", "cannot calculate with a text",
    "a number stands without quotes; tonumber(x) makes one of a text", false, false },
  { "attempt to * a '*' with a 'string'", "cannot calculate with a text",
    "a number stands without quotes; tonumber(x) makes one of a text", false, false },
  { "table index is nil", "what stands in [ ] is nothing (nil), and a table keeps no value under that",
    "check how it is spelt, and that it was given a value above", false, false },
  { "table index is NaN", "what stands in [ ] is the result of 0/0, and a table keeps no value under that",
    NULL, false, false },
  { "'__index' chain too long*", "reading a field goes in a circle: its __index leads back to itself",
    NULL, false, false },
  { "'__newindex' chain too long*", "writing a field goes in a circle: its __newindex leads back to itself",
    NULL, false, false },
  { "variable '*' got a non-closable value", "'%s' is declared <close>, and its value has no function __close",
    "leave <close> out", true, false },
  { "object length is not an integer", "its function __len has to give a whole number", NULL, false, false },
  { "'__tostring' must return a string", "its function __tostring has to give a text", NULL, false, false },
  { "error object is not a string", "what was raised is no text", NULL, false, false },
  /* library functions */
  { "invalid conversion*", "there is no way to print a value that is written %s", CODES, true, false },
  { "invalid format*", "there is no way to print a value that is written so", CODES, false, false },
  { "specifier '%q' cannot have*", "%q stands alone", CODES, false, false },
  { "wrong number of arguments to 'insert'*", "insert takes a list and a value, or a list, a place in it, and a value",
    "table.insert(list, value)", true, false },
  { "wrong number of arguments", "random takes no number, one, or two",
    "random(6) is a whole number from 1 to 6", false, false },
  { "unfinished capture", "a `(` in the pattern has no `)`", "%( stands for the bracket itself", false, false },
  { "invalid pattern capture", "a `)` in the pattern has no `(`", "%) stands for the bracket itself", false, false },
  { "malformed pattern (ends with '%*", "the pattern ends with a single %",
    "%% stands for a percent sign", false, false },
  { "malformed pattern (missing ']*", "a `[` in the pattern has no `]`",
    "%[ stands for the bracket itself", false, false },
  { "malformed pattern (missing arg*", "%b in a pattern is followed by two characters, as in %b()",
    NULL, false, false },
  { "missing '[' after '%f*", "%f in a pattern is followed by a set, as in %f[%a]", NULL, false, false },
  { "invalid capture index*", "the pattern has fewer parts in ( ) than are asked for", NULL, false, false },
  { "invalid use of '%*", "a single % in what is put in is followed by a digit",
    "%% stands for a percent sign", false, false },
  { "invalid replacement value*", "what is put in has to be a text or a number", NULL, false, false },
  { "too many captures", "a pattern has at most 32 parts in ( )", NULL, false, false },
  { "pattern too complex", "the pattern is too deep", NULL, false, false },
  { "invalid UTF-8 code", "the text is not UTF-8", NULL, false, false },
  { "initial position is a continuation byte", "the place is in the middle of a character", NULL, false, false },
  { "cannot change a protected metatable", "the metatable of this is locked", NULL, false, false },
  /* before it runs */
  { "<goto *> at line * jumps into the scope*", "this `goto` jumps over `local %s` into the rest of its block",
    "put the `local` above the `goto`", false, true },
  { "label '*' already defined on line*", "the label ::%s:: stands twice",
    "give one of them another name", false, true },
  { "unknown attribute '*", "there is no attribute <%s>",
    "<const> keeps a name from being given another value", true, true },
  { "multiple to-be-closed variables*", "one `local` has at most one <close>", NULL, false, true },
  { "too many local variables*", "more than 200 names are `local` in one function",
    "keep some of them in a table: local rack = { a = 1, b = 2 }", false, true },
  { "too many upvalues*", "a function reads more than 255 `local` names from outside of it",
    "keep some of them in a table: local rack = { a = 1, b = 2 }", false, true },
  { "too many*", "there is too much in one function", PART, false, true },
  { "function or expression needs too many registers*", "more than about 250 values stand in one call or operation",
    "put them into a table, and hand that on", false, true },
  { "control structure too long*", "too much stands between this `if`, `for` or `while` and its `end`",
    PART, false, true },
  { "chunk has too many lines*", "the file has too many lines", NULL, false, true },
  { "lexical element too long*", "a text or a name is too long", NULL, false, true },
  { "attempt to load a*", "this is compiled Lua, not a script",
    "only text is run: name the script that it was made from", false, true },
  { "cannot use '...'*", "`...` stands only in a function that is declared with it, as in function f(...)",
    NULL, false, true },
  { "invalid escape sequence*", "there is no such sign behind a backslash", ESCAPE, false, true },
  { "decimal escape too large*", "a backslash and a number stand for a byte, which is at most \\255",
    ESCAPE, false, true },
  { "hexadecimal digit expected*", "\\x is followed by two digits, as in \\xB0, and \\u by braces, as in \\u{B0}",
    ESCAPE, false, true },
  { "missing '{'*", "\\u is followed by braces, as in \\u{B0}", ESCAPE, false, true },
  { "missing '}'*", "\\u is followed by braces, as in \\u{B0}", ESCAPE, false, true },
  { "UTF-8 value too large*", "there is no character of that number", ESCAPE, false, true },
  { "invalid long string delimiter*", "a long text begins with [[ or [=[", NULL, false, true },
  { "function arguments expected*", "behind `:` and a name stands a call, as in name:upper()",
    "a field is read with a point", false, true },
};

static bool matches(const char *text, const char *pattern) {
  for (; *pattern != '*'; text++, pattern++) {
    if (*text != *pattern) return false;
    if (!*text) return true;
  }
  do if (matches(text, pattern + 1)) return true;
  while (*text++);
  return false;
}

static void in_quotes(const char *raw, char *to, size_t size) {
  const char *from = strchr(raw, '\''), *end = from ? strchr(from + 1, '\'') : NULL;
  if (end) sl_say(to, size, "%.*s", (int)(end - from - 1), from + 1);
}

bool sl_lua_words(const char *raw, bool compiles, struct sl_reworded *out) {
  const size_t n = sizeof all / sizeof *all;
  size_t i = 0;
  while (i < n && !(matches(raw, all[i].raw) && (compiles || !all[i].compiles))) i++;
  if (i == n) return false;
  char word[sizeof out->word] = "";
  in_quotes(raw, word, sizeof word);
  const char *says = all[i].says, *slot = strstr(says, "%s");
  if (slot && *word) SL_SAY(out->text, "%.*s%s%s", (int)(slot - says), says, word, slot + 2);
  else SL_SAY(out->text, "%s", slot ? "there is no way to print a value that is written so" : says);
  if (all[i].help) SL_SAY(out->help, "%s", all[i].help);
  if (all[i].word) SL_SAY(out->word, "%s", word);
  return true;
}

const char *sl_lua_why(const char *why) {
  static const char *const words[][2] = {
    { "value expected", "there is none" }, { "no value", "there is none" }, { "zero", "it is zero" },
    { "interval is empty", "it must not be less than the first" }, { "base out of range", "a base is from 2 to 36" },
    { "value out of range", "it is too small or too large" }, { "index out of range", "it is too small" },
    { "position out of bounds", "there is no such place" }, { "initial position out of*", "there is no such place" },
    { "final position out of*", "there is no such place" }, { "out of bounds", "there is no such place" },
    { "destination wrap around", "it is too large" }, { "too many elements to move", "that is too much" },
    { "value has no literal form", "only texts, numbers and true or false can be written so" },
    { "string contains zeros", "it has a zero byte" }, { "invalid option*", "there is no such choice" },
    { "array too big", "that is too much" }, { "too many*", "that is too much" },
  };
  for (size_t i = 0; i < sizeof words / sizeof *words; i++)
    if (matches(why, words[i][0])) return words[i][1];
  return why;
}

const char *sl_lua_wanted(const char *type) {
  static const char *const words[][2] = {
    { "string", "a text" }, { "nil or table", "a table or nil" }, { "table or string", "a list or a text" },
    { "string/function/table", "a text, a function or a table" }, { "boolean", "true or false" },
    { "integer", "a whole number" },
  };
  for (size_t i = 0; i < sizeof words / sizeof *words; i++)
    if (strcmp(type, words[i][0]) == 0) return words[i][1];
  return NULL;
}
