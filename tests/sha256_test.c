/* SPDX-License-Identifier: MIT
 * SHA-256 against published examples.  Sources: [FIPS] examples of FIPS 180-2, appendix B (the edition of 2002 prints
 * them; FIPS 180-4 refers to NIST's page "Examples with Intermediate Values" for the same messages); [CAVP] NIST's
 * test vectors SHA256ShortMsg.rsp.  "abc" was read in a copy of [FIPS], the others are from memory of those pages;
 * coreutils' sha256sum 9.1 prints the same for all. */
#include "check.h"
#include <stdlib.h>
#include <string.h>
#include "host/sha256.h"

static const struct row { const char *name, *text; size_t len, times; const char *hash; } rows[] = {
  { "[FIPS] B.1, \"abc\"", "abc", 3, 1, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad" },
  { "[FIPS] B.2, 448 bits", "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq", 56, 1,
    "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1" },
  { "[FIPS] B.3, a million times \"a\"", "a", 1, 1000000,
    "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0" },
  { "NIST, examples with intermediate values, 896 bits",
    "abcdefghbcdefghicdefghijdefghijkefghijklfghijklmghijklmnhijklmnoijklmnopjklmnopqklmnopqrlmnopqrsmnopqrstnopqrstu",
    112, 1, "cf5b16a778af8380036ce59e7b0492370b249b11e8f07a51afac45037afee9d1" },
  { "[CAVP] no bytes", "", 0, 1, "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855" },
  { "[CAVP] one byte, d3", "\xd3", 1, 1, "28969cdfa74a12c82f3bad960b0b000aca2ac329deea5c2328ebc6f2ba9802c1" },
  /* around the ends of a block, where the padding changes: sha256sum of coreutils 9.1 */
  { "55 bytes", "a", 1, 55, "9f4390f8d30c2dd92ec9f095b65e2b9ae9b0a925a5258e241c9f1e910f734318" },
  { "56 bytes", "a", 1, 56, "b35439a4ac6f0948b6d6f9e3c6af0f5f590ce20f1bde7090ef7970686ec6738a" },
  { "63 bytes", "a", 1, 63, "7d3e74a05d7db15bce4ad9ec0658ea98e3f06eeecf16b4c6fff2da457ddc2f34" },
  { "64 bytes", "a", 1, 64, "ffe054fe7ae0cb6dc65c3af9b61d5209f439851db43d0ba5997337df154668eb" },
  { "65 bytes", "a", 1, 65, "635361c48bb9eab14198e76ea8ab7f1a41685d6ad62aa9146d301d4f17eb0ae0" },
};

static void hash_matches(void **state) {
  const struct row *r = *state;
  size_t n = r->len * r->times;
  char *message = malloc(n + 1), hex[SL_SHA256_HEX], plain[SL_SHA256_HEX];
  assert_non_null(message);
  for (size_t i = 0; i < r->times; i++) memcpy(message + i * r->len, r->text, r->len);
  sl_sha256(message, n, hex);
  sl_sha256_plainly(message, n, plain);
  free(message);
  assert_string_equal(hex, r->hash);
  assert_string_equal(plain, r->hash);                   /* what does it where a processor has nothing for it */
}

/* Each bit counts. */
static void one_bit_changes_it(void **state) {
  (void)state;
  unsigned char message[130] = { 0 };
  char before[SL_SHA256_HEX], after[SL_SHA256_HEX];
  sl_sha256(message, sizeof message, before);
  for (size_t bit = 0; bit < 8 * sizeof message; bit++) {
    message[bit / 8] ^= (unsigned char)(1u << bit % 8);
    sl_sha256(message, sizeof message, after);
    assert_string_not_equal(before, after);
    message[bit / 8] ^= (unsigned char)(1u << bit % 8);
  }
}

/* Both ways give the same of any length, wherever it stands in memory. */
static void both_ways_agree(void **state) {
  (void)state;
  unsigned char message[400];
  char hex[SL_SHA256_HEX], plain[SL_SHA256_HEX];
  for (size_t i = 0; i < sizeof message; i++) message[i] = (unsigned char)(i * i + i / 7);
  for (size_t n = 0; n < 300; n++) {
    sl_sha256(message + n % 64, n, hex);
    sl_sha256_plainly(message + n % 64, n, plain);
    assert_string_equal(hex, plain);
  }
}

int main(void) {
  static struct CMUnitTest tests[sizeof rows / sizeof *rows + 2];
  size_t n = 0;
  for (; n < sizeof rows / sizeof *rows; n++)
    tests[n] = (struct CMUnitTest){ rows[n].name, hash_matches, NULL, NULL, (void *)(uintptr_t)&rows[n] };
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(one_bit_changes_it);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(both_ways_agree);
  return cmocka_run_group_tests_name("sha256", tests, NULL, NULL);
}
