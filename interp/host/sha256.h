/* SPDX-License-Identifier: MIT
 * SHA-256 (FIPS 180-4).  No Lua. */
#ifndef SL_SHA256_H
#define SL_SHA256_H

#include <stddef.h>

enum { SL_SHA256_HEX = 65 };   /* 64 digits and the NUL */

/* The hash of n bytes, as hexadecimal digits. */
void sl_sha256(const void *data, size_t n, char hex[SL_SHA256_HEX]);
/* The same without what the processor may have for it. */
void sl_sha256_plainly(const void *data, size_t n, char hex[SL_SHA256_HEX]);
#endif
