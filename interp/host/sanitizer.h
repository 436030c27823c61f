/* SPDX-License-Identifier: MIT
 * Whether this is built with the address sanitizer, which takes terabytes of addresses and larger frames: gcc and clang
 * say so in different ways. */
#ifndef SL_SANITIZER_H
#define SL_SANITIZER_H

#define SL_ADDRESS_SANITIZER 0
#if defined(__SANITIZE_ADDRESS__)
#undef SL_ADDRESS_SANITIZER
#define SL_ADDRESS_SANITIZER 1
#elif defined(__has_feature)
#if __has_feature(address_sanitizer)
#undef SL_ADDRESS_SANITIZER
#define SL_ADDRESS_SANITIZER 1
#endif
#endif

#endif
