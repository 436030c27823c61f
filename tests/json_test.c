/* SPDX-License-Identifier: MIT
 * JSON: what is written, what is refused; all of it is read by a checker of RFC 8259's grammar made for this test. */
#define _XOPEN_SOURCE 700
#include "check.h"
#include <float.h>
#include <unistd.h>
#include "lang/diag.h"
#include "write/json.h"

#define COUNT(a) (sizeof(a) / sizeof *(a))

/* ---- RFC 8259 ---------------------------------------------------------------------------------------------------- */

/* Each takes the start of what it reads and gives its end, or NULL. */
static const char *skip_ws(const char *s) {   /* section 2 */
  while (*s == ' ' || *s == '\t' || *s == '\n' || *s == '\r') s++;
  return s;
}

static bool hex(char c) { return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f') || (c >= 'A' && c <= 'F'); }

/* Section 7, and 8.1: UTF-8.  The ranges are those of RFC 3629, section 4. */
static const char *string_end(const char *s) {
  if (*s++ != '"') return NULL;
  while (*s != '"') {
    const unsigned char *u = (const unsigned char *)s;
    if (*u < 0x20) return NULL;
    if (*u == '\\') {
      if (s[1] == 'u') {
        for (int i = 2; i < 6; i++)
          if (!hex(s[i])) return NULL;
        s += 6;
      } else if (s[1] && strchr("\"\\/bfnrt", s[1])) {
        s += 2;
      } else {
        return NULL;
      }
      continue;
    }
    size_t n = *u < 0x80 ? 1 : *u < 0xC2 ? 0 : *u < 0xE0 ? 2 : *u < 0xF0 ? 3 : *u < 0xF5 ? 4 : 0;
    unsigned char low = *u == 0xE0 ? 0xA0 : *u == 0xF0 ? 0x90 : 0x80;
    unsigned char high = *u == 0xED ? 0x9F : *u == 0xF4 ? 0x8F : 0xBF;
    if (n == 0 || (n > 1 && (u[1] < low || u[1] > high))) return NULL;
    for (size_t i = 2; i < n; i++)
      if (u[i] < 0x80 || u[i] > 0xBF) return NULL;
    s += n;
  }
  return s + 1;
}

static const char *digits_end(const char *s) {
  if (*s < '0' || *s > '9') return NULL;
  while (*s >= '0' && *s <= '9') s++;
  return s;
}

static const char *number_end(const char *s) {   /* section 6 */
  if (*s == '-') s++;
  if (*s == '0') s++;
  else if (!(s = digits_end(s))) return NULL;
  if (*s == '.' && !(s = digits_end(s + 1))) return NULL;
  if (*s == 'e' || *s == 'E') {
    s++;
    if (*s == '+' || *s == '-') s++;
    s = digits_end(s);
  }
  return s;
}

static const char *value_end(const char *s);

static const char *nest_end(const char *s, char close) {   /* sections 4 and 5, after the opening bracket */
  s = skip_ws(s);
  if (*s == close) return s + 1;
  for (;;) {
    if (close == '}') {
      if (!(s = string_end(skip_ws(s)))) return NULL;
      s = skip_ws(s);
      if (*s++ != ':') return NULL;
    }
    if (!(s = value_end(s))) return NULL;
    s = skip_ws(s);
    if (*s == close) return s + 1;
    if (*s++ != ',') return NULL;
  }
}

static const char *value_end(const char *s) {   /* section 3 */
  s = skip_ws(s);
  if (*s == '{') return nest_end(s + 1, '}');
  if (*s == '[') return nest_end(s + 1, ']');
  if (*s == '"') return string_end(s);
  if (strncmp(s, "true", 4) == 0 || strncmp(s, "null", 4) == 0) return s + 4;
  if (strncmp(s, "false", 5) == 0) return s + 5;
  return number_end(s);
}

static bool is_json(const char *s) {
  const char *end = value_end(s);
  return end && *skip_ws(end) == '\0';
}

/* The checker itself can fail. */
static const struct grammar { const char *name, *text; bool want; } grammar[] = {
  { "checker: the example of RFC 8259 section 13",
    "{\"Image\": {\"Width\": 800, \"Title\": \"View from 15th Floor\", \"Animated\" : false, "
    "\"IDs\": [116, 943, 234, 38793]}}",
    true },
  { "checker: small values of RFC 8259 section 13", "\"Hello world!\"", true },
  { "checker: a surrogate pair escaped (section 7)", "\"\\uD834\\uDD1E\"", true },
  { "checker: -0.5e+10", "-0.5e+10", true },
  { "checker: a comma too many", "[1,]", false },
  { "checker: a comma missing", "[1 2]", false },
  { "checker: a key without quotes", "{a:1}", false },
  { "checker: NaN", "NaN", false },
  { "checker: inf", "[inf]", false },
  { "checker: leading zero", "01", false },
  { "checker: a bare point", "1.", false },
  { "checker: a raw line end in a string", "\"a\nb\"", false },
  { "checker: an escape that is none", "\"\\x41\"", false },
  { "checker: not UTF-8", "\"\xE9\"", false },
  { "checker: an overlong NUL", "\"\xC0\x80\"", false },
  { "checker: not closed", "{\"a\":[1}", false },
  { "checker: two values", "1 2", false },
  { "checker: nothing", "", false },
};

static void checker_decides(void **state) {
  const struct grammar *r = *state;
  assert_int_equal(is_json(r->text), r->want);
}

/* ---- what is written --------------------------------------------------------------------------------------------- */

/* One letter a call: { [ end with ) ; k key; t text; n number; i integer; 1 true; 0 false; - null */
static void play(struct sl_json *j, const char *calls, const char *word, size_t len, double number) {
  for (; *calls; calls++) {
    switch (*calls) {
      case '{': sl_json_object(j); break;
      case '[': sl_json_array(j); break;
      case ')': sl_json_end(j); break;
      case 'k': sl_json_key(j, word); break;
      case 't': sl_json_text(j, word, len); break;
      case 'n': sl_json_number(j, number); break;
      case 'i': sl_json_integer(j, (long long)number); break;
      case '1': sl_json_bool(j, true); break;
      case '0': sl_json_bool(j, false); break;
      default: sl_json_null(j); break;
    }
  }
}

#define TEXT(s) s, sizeof(s) - 1
static const struct written {
  const char *name, *calls, *word; size_t len; double number; int indent; const char *want;
} written[] = {
  { "an empty object", "{)", TEXT(""), 0, 0, "{}\n" },
  { "an empty array, indented", "[)", TEXT(""), 0, 2, "[]\n" },
  { "members", "{k1k0k-)", TEXT("a"), 0, 0, "{\"a\":true,\"a\":false,\"a\":null}\n" },
  { "items", "[i1t)", TEXT("a"), 7, 0, "[7,true,\"a\"]\n" },
  { "nested", "{k[{ki)[)))", TEXT("a"), -3, 0, "{\"a\":[{\"a\":-3},[]]}\n" },
  { "nested, indented", "{k[{ki)[))ki)", TEXT("a"), -3, 2,
    "{\n  \"a\": [\n    {\n      \"a\": -3\n    },\n    []\n  ],\n  \"a\": -3\n}\n" },
  { "a text alone", "t", TEXT("x"), 0, 0, "\"x\"\n" },
  { "a number alone, indented", "n", TEXT(""), 0.5, 2, "0.5\n" },
  /* RFC 8259, section 7: these have to be escaped */
  { "quote and backslash", "t", TEXT("a\"b\\c"), 0, 0, "\"a\\\"b\\\\c\"\n" },
  { "named controls", "t", TEXT("\b\f\n\r\t"), 0, 0, "\"\\b\\f\\n\\r\\t\"\n" },
  { "other controls", "t", TEXT("\x01\x1F\x7F"), 0, 0, "\"\\u0001\\u001f\\u007f\"\n" },
  { "NUL", "t", TEXT("a\0b"), 0, 0, "\"a\\u0000b\"\n" },
  { "a key is escaped too", "{k-)", TEXT("6\""), 0, 0, "{\"6\\\"\":null}\n" },
  { "UTF-8 stays", "t", TEXT("5 \xC2\xB0" "C \xF0\xA3\x8E\xB4"), 0, 0, "\"5 \xC2\xB0" "C \xF0\xA3\x8E\xB4\"\n" },
  { "a bad byte becomes U+FFFD", "t", TEXT("a\xE9" "b"), 0, 0, "\"a\xEF\xBF\xBD" "b\"\n" },
  { "a character cut off becomes U+FFFD", "t", TEXT("\xE2\x89"), 0, 0, "\"\xEF\xBF\xBD\xEF\xBF\xBD\"\n" },
  { "a surrogate becomes U+FFFD", "t", TEXT("\xED\xA0\x80"), 0, 0, "\"\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD\"\n" },
  { "17 digits", "n", TEXT(""), 0.1, 0, "0.10000000000000001\n" },   /* IEEE 754: 0.1 to 17 digits */
  { "a whole number", "n", TEXT(""), 1720, 0, "1720\n" },
  { "a large one", "n", TEXT(""), 1e300, 0, "1.0000000000000001e+300\n" },
  { "minus zero", "n", TEXT(""), -0.0, 0, "-0\n" },
};

static void writes(void **state) {
  const struct written *r = *state;
  struct sl_json j;
  char *got = NULL;
  size_t len = 0;
  FILE *to = open_memstream(&got, &len);
  assert_non_null(to);
  sl_json_begin(&j, to, r->indent);
  play(&j, r->calls, r->word, r->len, r->number);
  bool ok = sl_json_finish(&j);
  fclose(to);
  if (!ok) fail_msg("%s", j.why);
  assert_string_equal(got, r->want);
  assert_true(is_json(got));
  free(got);
}

/* Law: a finite number reads back as itself. */
static void numbers_read_back(void **state) {
  (void)state;
  static const double numbers[] = {
    0, 1.0 / 3, 0.1 + 0.2, 4.596, -273.15, DBL_MAX, DBL_MIN, DBL_TRUE_MIN, DBL_EPSILON, 9007199254740993.0,
  };
  for (size_t i = 0; i < COUNT(numbers); i++) {
    struct sl_json j;
    char *got = NULL;
    size_t len = 0;
    FILE *to = open_memstream(&got, &len);
    assert_non_null(to);
    sl_json_begin(&j, to, 0);
    assert_true(sl_json_number(&j, numbers[i]) && sl_json_finish(&j));
    fclose(to);
    assert_true(is_json(got));
    double back = strtod(got, NULL);
    assert_memory_equal(&back, &numbers[i], sizeof back);   /* to the bit */
    free(got);
  }
}

/* Law: any bytes at all come out as a JSON string. */
static void any_bytes_are_a_string(void **state) {
  (void)state;
  unsigned seed = 1;
  for (int round = 0; round < 2000; round++) {
    char bytes[24], *got = NULL;
    size_t len = 0;
    for (size_t i = 0; i < sizeof bytes; i++) {
      seed = seed * 1103515245u + 12345u;
      bytes[i] = (char)(seed >> 16 & 0xFF);
      if (round % 2) bytes[i] = "\xE2\x82\xAC\xF0\x90\x80\xED\xC3"[seed >> 20 & 7];   /* near misses */
    }
    FILE *to = open_memstream(&got, &len);
    assert_non_null(to);
    sl_json_string(to, bytes, (size_t)round % (sizeof bytes + 1));
    fclose(to);
    if (!is_json(got)) fail_msg("round %d: %s", round, got);
    free(got);
  }
}

/* ---- what is refused --------------------------------------------------------------------------------------------- */

static const struct misuse { const char *name, *calls; double number; const char *why; } misuses[] = {
  { "refused: infinite", "n", HUGE_VAL, "a number that is infinite or not a number" },
  { "refused: minus infinite in an array", "[n)", -HUGE_VAL, "a number that is infinite or not a number" },
  { "refused: not a number", "{kn)", NAN, "a number that is infinite or not a number" },
  { "refused: a value without its key", "{n)", 1, "a value without its key" },
  { "refused: an object without its key", "{{))", 1, "a value without its key" },
  { "refused: a key in an array", "[k)", 1, "a key outside an object" },
  { "refused: a key at the top", "k", 1, "a key outside an object" },
  { "refused: two keys", "{kk1)", 1, "a key without its value" },
  { "refused: a key at the end", "{k)", 1, "a key without its value" },
  { "refused: two values at the top", "11", 1, "a second value at the top" },
  { "refused: a second array at the top", "[)[)", 1, "a second value at the top" },
  { "refused: an end too many", "[))", 1, "an end without its start" },
  { "refused: not ended", "[{", 1, "an object or array is not ended" },
  { "refused: nothing", "", 1, "nothing was written" },
  { "refused: 65 deep", "[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[", 1, "nested too deep" },
  { "refused: the first mistake is kept", "[nk)", NAN, "a number that is infinite or not a number" },
};

static void misuse_is_refused(void **state) {
  const struct misuse *r = *state;
  struct sl_json j;
  FILE *to = tmpfile();
  assert_non_null(to);
  sl_json_begin(&j, to, 0);
  play(&j, r->calls, "a", 1, r->number);
  bool ok = sl_json_finish(&j);
  long at = ftell(to);
  bool more = sl_json_null(&j);
  assert_int_equal(ftell(to), at);   /* nothing after a mistake */
  fclose(to);
  assert_false(ok);
  assert_false(more);
  assert_string_equal(j.why, r->why);
}

static void depth_of_64_is_allowed(void **state) {
  (void)state;
  struct sl_json j;
  FILE *to = tmpfile();
  assert_non_null(to);
  sl_json_begin(&j, to, 0);
  for (int i = 0; i < SL_JSON_DEPTH; i++) assert_true(sl_json_array(&j));
  for (int i = 0; i < SL_JSON_DEPTH; i++) assert_true(sl_json_end(&j));
  assert_true(sl_json_finish(&j));
  fclose(to);
}

/* A stream that can only be read, and an output whose descriptor is taken away: every write fails. */
static void failed_write_is_noticed(void **state) {
  (void)state;
  struct sl_json j;
  char why[200], path[] = "/tmp/stringline-json-XXXXXX", *big = calloc(1, 100000);
  int fd = mkstemp(path);
  assert_true(fd >= 0 && big != NULL);
  FILE *to = fdopen(fd, "r");
  assert_non_null(to);
  sl_json_begin(&j, to, 0);
  assert_false(sl_json_text(&j, big, 100000));
  assert_string_equal(j.why, "a write failed");
  fclose(to);
  struct sl_out *out = sl_out_open(path, why, sizeof why);
  assert_non_null(out);
  close(fileno(sl_out_file(out)));
  sl_json_begin_out(&j, out, 0);
  assert_false(sl_json_text(&j, big, 100000));
  assert_false(sl_json_finish(&j));
  assert_false(sl_out_commit(out, why, sizeof why));
  assert_non_null(strstr(why, "the file that was there is unchanged"));
  unlink(path);
  free(big);
}

static void through_an_output(void **state) {
  (void)state;
  struct sl_json j;
  char why[200], path[] = "/tmp/stringline-json-XXXXXX", got[100] = "";
  int fd = mkstemp(path);
  assert_true(fd >= 0);
  close(fd);
  struct sl_out *out = sl_out_open(path, why, sizeof why);
  assert_non_null(out);
  sl_json_begin_out(&j, out, 0);
  play(&j, "{k[n1))", "a", 1, 2.5);
  assert_true(sl_json_finish(&j));
  assert_true(sl_out_commit(out, why, sizeof why));
  FILE *f = fopen(path, "r");
  assert_non_null(f);
  got[fread(got, 1, sizeof got - 1, f)] = '\0';
  fclose(f);
  unlink(path);
  assert_string_equal(got, "{\"a\":[2.5,true]}\n");
}

/* Messages as JSON: one line, and JSON, whatever bytes are in them. */
static void messages_are_json(void **state) {
  (void)state;
  static const char *const nasty[] = {"plain", "\"\\", "\033[2J\n\r\t", "\xE9\xFF", "\xE2\x80\xAE", ""};
  for (size_t i = 0; i < COUNT(nasty); i++)
    for (int place = 0; place < 3; place++) {
      char *got = NULL;
      size_t len = 0;
      struct sl_message m = { SL_ERROR, nasty[i], nasty[i], 0, {place, place, place},
                              { {{1, 1, 1}, nasty[i]}, {{0, 0, 0}, NULL} }, 2, {nasty[i], nasty[i]}, 2, nasty[i] };
      if (place) m.source = sl_source_add(nasty[i], nasty[i], strlen(nasty[i]));
      FILE *to = open_memstream(&got, &len);
      assert_non_null(to);
      sl_message_print(to, &m, SL_JSON, false);
      fclose(to);
      if (!is_json(got) || strchr(got, '\n') != got + len - 1) fail_msg("%s", got);
      free(got);
    }
}

#define ADD(rows, function) \
  for (size_t i = 0; i < COUNT(rows); i++) \
    tests[n++] = (struct CMUnitTest){ rows[i].name, function, NULL, NULL, (void *)(uintptr_t)&rows[i] }

int main(void) {
  static const struct CMUnitTest single[] = {
    cmocka_unit_test(numbers_read_back), cmocka_unit_test(any_bytes_are_a_string),
    cmocka_unit_test(depth_of_64_is_allowed), cmocka_unit_test(failed_write_is_noticed),
    cmocka_unit_test(through_an_output), cmocka_unit_test(messages_are_json),
  };
  static struct CMUnitTest tests[COUNT(single) + COUNT(grammar) + COUNT(written) + COUNT(misuses)];
  size_t n = 0;
  for (; n < COUNT(single); n++) tests[n] = single[n];
  ADD(grammar, checker_decides);
  ADD(written, writes);
  ADD(misuses, misuse_is_refused);
  return cmocka_run_group_tests_name("json", tests, NULL, NULL);
}
