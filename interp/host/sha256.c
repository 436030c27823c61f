/* SPDX-License-Identifier: MIT
 * SHA-256 as FIPS 180-4, section 6.2, has it; the names are the standard's. */
#include "host/sha256.h"
#include <stdbool.h>
#include <stdint.h>
#include <string.h>
#if defined __x86_64__ && defined __has_include
#if __has_include(<sys/platform/x86.h>)          /* what the C library has found out of the processor at its start */
#include <immintrin.h>
#include <sys/platform/x86.h>
#define INSTRUCTIONS
#endif
#endif

/* Section 4.2.2: the first 32 bits of the fractional parts of the cube roots of the first 64 primes. */
static const uint32_t K[64] = {
  0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
  0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
  0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
  0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
  0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
  0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
  0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
  0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2,
};

static inline uint32_t rotr(uint32_t x, int n) { return x >> n | x << (32 - n); }

/* Section 6.2.2, step 3, with the variables renamed instead of moved, and fewer operations: rotr by 6, 11 and 25 as
 * 14, then 5, then 6 together; of Maj a ^ b stays, which is b ^ c of the next round. */
#define ROUND(a, b, c, d, e, f, g, h, t) \
  do { \
    const uint32_t T1 = h + rotr(rotr(rotr(e, 14) ^ e, 5) ^ e, 6) + (g ^ (e & (f ^ g))) + K[t] + W[t]; \
    const uint32_t ab = a ^ b; \
    d += T1; \
    h = T1 + rotr(rotr(rotr(a, 9) ^ a, 11) ^ a, 2) + (b ^ (ab & bc)); \
    bc = ab; \
  } while (0)

/* Section 6.2.2: one block of 64 bytes into the hash value H. */
static void take_block(uint32_t H[8], const unsigned char *M) {
  uint32_t W[64], a = H[0], b = H[1], c = H[2], d = H[3], e = H[4], f = H[5], g = H[6], h = H[7], bc = b ^ c;
  for (int t = 0; t < 16; t++, M += 4)
    W[t] = (uint32_t)M[0] << 24 | (uint32_t)M[1] << 16 | (uint32_t)M[2] << 8 | M[3];
  for (int t = 16; t < 64; t++) {
    uint32_t sigma0 = rotr(rotr(W[t - 15], 11) ^ W[t - 15], 7) ^ W[t - 15] >> 3;
    uint32_t sigma1 = rotr(rotr(W[t - 2], 2) ^ W[t - 2], 17) ^ W[t - 2] >> 10;
    W[t] = sigma1 + W[t - 7] + sigma0 + W[t - 16];
  }
  for (int t = 0; t < 64; t += 8) {
    ROUND(a, b, c, d, e, f, g, h, t);
    ROUND(h, a, b, c, d, e, f, g, t + 1);
    ROUND(g, h, a, b, c, d, e, f, t + 2);
    ROUND(f, g, h, a, b, c, d, e, t + 3);
    ROUND(e, f, g, h, a, b, c, d, t + 4);
    ROUND(d, e, f, g, h, a, b, c, t + 5);
    ROUND(c, d, e, f, g, h, a, b, t + 6);
    ROUND(b, c, d, e, f, g, h, a, t + 7);
  }
  H[0] += a, H[1] += b, H[2] += c, H[3] += d, H[4] += e, H[5] += f, H[6] += g, H[7] += h;
}

typedef void take_blocks(uint32_t H[8], const unsigned char *M, size_t blocks);

static void take_plainly(uint32_t H[8], const unsigned char *M, size_t blocks) {
  for (; blocks; blocks--, M += 64) take_block(H, M);
}

#ifdef INSTRUCTIONS
static __m128i load(const void *from) { return _mm_loadu_si128(from); }

/* The same by the processor's own instructions, four rounds at a time; they have the variables as a b e f and c d g h,
 * the last of each lowest. */
__attribute__((target("sha,ssse3,sse4.1")))
static void take_by_instructions(uint32_t H[8], const unsigned char *M, size_t blocks) {
  const __m128i big_endian = _mm_set_epi64x(0x0c0d0e0f08090a0b, 0x0405060700010203);
  const __m128i badc = _mm_shuffle_epi32(load(H), 0xb1), efgh = _mm_shuffle_epi32(load(H + 4), 0x1b);
  __m128i abef = _mm_alignr_epi8(badc, efgh, 8), cdgh = _mm_blend_epi16(efgh, badc, 0xf0);
  for (; blocks; blocks--, M += 64) {
    const __m128i abef_before = abef, cdgh_before = cdgh;
    __m128i W[4];
    for (int i = 0; i < 16; i++) {
      __m128i *const w = &W[i % 4];                      /* the oldest four, in whose place new ones come */
      const __m128i next = W[(i + 1) % 4], third = W[(i + 2) % 4], last = W[(i + 3) % 4];
      if (i < 4) *w = _mm_shuffle_epi8(load(M + 16 * i), big_endian);
      else *w = _mm_sha256msg2_epu32(_mm_add_epi32(_mm_sha256msg1_epu32(*w, next), _mm_alignr_epi8(last, third, 4)),
                                     last);
      const __m128i kw = _mm_add_epi32(*w, load(K + 4 * i));
      cdgh = _mm_sha256rnds2_epu32(cdgh, abef, kw);
      abef = _mm_sha256rnds2_epu32(abef, cdgh, _mm_shuffle_epi32(kw, 0x0e));
    }
    abef = _mm_add_epi32(abef, abef_before);
    cdgh = _mm_add_epi32(cdgh, cdgh_before);
  }
  const __m128i feba = _mm_shuffle_epi32(abef, 0x1b), dchg = _mm_shuffle_epi32(cdgh, 0xb1);
  _mm_storeu_si128((void *)H, _mm_blend_epi16(feba, dchg, 0xf0));
  _mm_storeu_si128((void *)(H + 4), _mm_alignr_epi8(dchg, feba, 8));
}

static take_blocks *quickest(void) {
  const bool has = CPU_FEATURE_ACTIVE(SHA) && CPU_FEATURE_ACTIVE(SSSE3) && CPU_FEATURE_ACTIVE(SSE4_1);
  return has ? take_by_instructions : take_plainly;
}
#else
static take_blocks *quickest(void) { return take_plainly; }
#endif

static void hash(const void *data, size_t n, char hex[SL_SHA256_HEX], take_blocks *take) {
  static const char digits[] = "0123456789abcdef";
  uint32_t H[8] = { 0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a, 0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19 };
  const size_t left = n % 64;
  take(H, data, n / 64);
  /* Section 5.1.1: a one bit, zeros, and the length in bits as the last 64. */
  unsigned char last[128] = { 0 };
  size_t size = left < 56 ? 64 : 128;
  if (left) memcpy(last, (const unsigned char *)data + (n - left), left);
  last[left] = 0x80;
  uint64_t bits = (uint64_t)n * 8;
  for (size_t i = 1; i <= 8; i++, bits >>= 8) last[size - i] = (unsigned char)bits;
  take(H, last, size / 64);
  for (int i = 0; i < 64; i++) hex[i] = digits[H[i / 8] >> (28 - i % 8 * 4) & 15];
  hex[64] = '\0';
}

void sl_sha256(const void *data, size_t n, char hex[SL_SHA256_HEX]) { hash(data, n, hex, quickest()); }
void sl_sha256_plainly(const void *data, size_t n, char hex[SL_SHA256_HEX]) { hash(data, n, hex, take_plainly); }
