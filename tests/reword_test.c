/* SPDX-License-Identifier: MIT
 * The texts of the engine, from its sources (5.4.4), each as a script can raise it: none reaches a person bare. */
#include "check.h"
#include <string.h>
#include "host/reword.h"

static const char *const running[] = {
  "C stack overflow", "stack overflow", "stack overflow (string slice too long)", "error in error handling",
  "attempt to index a nil value (global 'x')", "attempt to call a table value (local 'x')",
  "attempt to perform arithmetic on a nil value (field 'x')", "attempt to concatenate a table value (local 'x')",
  "attempt to get length of a number value", "attempt to compare two table values",
  "attempt to compare number with nil", "attempt to perform bitwise operation on a quantity value",
  "attempt to perform 'n//0'", "attempt to perform 'n%%0'", "attempt to add a 'string' with a 'number'",
  "number has no integer representation", "number (local 'x') has no integer representation", "table index is nil",
  "table index is NaN", "table overflow", "string length overflow", "'for' step is zero",
  "bad 'for' limit (number expected, got nil)", "'__index' chain too long; possible loop",
  "'__newindex' chain too long; possible loop", "variable 'x' got a non-closable value",
  "object length is not an integer", "'__tostring' must return a string", "invalid conversion '%y' to 'format'",
  "invalid conversion specification: '%10.123f'", "wrong number of arguments to 'insert'",
  "invalid order function for sorting; tell why", "unfinished capture", "invalid pattern capture",
  "malformed pattern (ends with '%')", "malformed pattern (missing ']')", "missing '[' after '%f' in pattern",
  "malformed pattern (missing arguments to '%b')", "invalid capture index %2 in replacement string",
  "invalid use of '%' in replacement string", "invalid replacement value (a table)", "too many captures",
  "pattern too complex", "invalid UTF-8 code", "initial position is a continuation byte",
  "invalid value (a userdata at index 1) in table for 'concat'", "resulting string too large",
  "too many results to unpack", "buffer too large", "cannot change a protected metatable", "assertion failed!",
  "bad argument #1 to 'rep' (string expected, got no value)", "bad argument #2 to 'char' (value out of range)",
  "bad argument #1 to '?' (number has no integer representation)", "bad argument #2 to 'fmod' (zero)",
};
static const char *const compiling[] = {
  "C stack overflow", "too many local variables (limit is 200) in main function near '='",
  "too many upvalues (limit is 255) in function at line 3 near 'x'",
  "function or expression needs too many registers near ','", "control structure too long near 'end'",
  "attempt to load a binary chunk (mode is 't')", "cannot use '...' outside a vararg function near '...'",
  "invalid escape sequence '\\q'", "decimal escape too large near '\\300'", "hexadecimal digit expected near '\\xz'",
  "missing '{' near '\\u1'", "missing '}' near '\\u{1'", "UTF-8 value too large near '\\u{8'",
  "invalid long string delimiter near '[='", "<goto x> at line 1 jumps into the scope of local 'y'",
  "label 'a' already defined on line 2", "unknown attribute 'clos'", "multiple to-be-closed variables in local list",
  "attempt to assign to const variable 'x'", "break outside a loop at line 3",
  "no visible label 'x' for goto at line 2",
  "function arguments expected near '='", "<name> expected near '5'", "<name> or '...' expected near 'end'",
  "chunk has too many lines", "lexical element too long near 'x'", "too many C levels (limit is 200) near 'x'",
};
static const char *const bare[] = {
  "attempt to", "overflow", "bad argument", "nil value", "userdata", "upvalue", "registers", "(limit is",
  "representation",
  "non-closable", "chunk", "vararg", "<name>", "to-be-closed", "<eof>", "continuation byte", "malformed", "capture",
  "escape sequence", "chain too long", "control structure", "replacement", "delimiter", "lexical",
};

static void is_reworded(const char *words, int source, int line) {
  char raw[300];
  struct sl_sources none = { 0 };
  struct sl_reworded out;
  snprintf(raw, sizeof raw, "job.sline:7: %s", words);
  sl_reword(raw, &none, source, line, &out);
  if (!*out.text) fail_msg("nothing is said of: %s", words);
  for (size_t i = 0; i < sizeof bare / sizeof *bare; i++)
    if (strstr(out.text, bare[i])) fail_msg("'%s' of '%s' shows in: %s", bare[i], words, out.text);
}

static void none_comes_bare(void **state) {
  (void)state;
  for (size_t i = 0; i < sizeof running / sizeof *running; i++) is_reworded(running[i], 0, 0);
  for (size_t i = 0; i < sizeof compiling / sizeof *compiling; i++) is_reworded(compiling[i], 1, 0);
}

/* A script's own error may begin as a text of the compiler does. */
static void own_words_stay(void **state) {
  (void)state;
  static const char *const own[] = { "too many racks for this lot", "missing '{' in the label", "label 'a' is worn" };
  struct sl_sources none = { 0 };
  struct sl_reworded out;
  for (size_t i = 0; i < sizeof own / sizeof *own; i++) {
    sl_reword(own[i], &none, 0, 0, &out);
    assert_string_equal(out.text, own[i]);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = { cmocka_unit_test(none_comes_bare), cmocka_unit_test(own_words_stay) };
  return cmocka_run_group_tests_name("reword", tests, NULL, NULL);
}
