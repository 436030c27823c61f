/* SPDX-License-Identifier: MIT
 * A law: what holds for any input.  One that does not ends the program and says which. */
#ifndef SL_LAW_H
#define SL_LAW_H

#include <stdio.h>
#include <stdlib.h>

#define LAW(holds) ((holds) ? (void)0 : law_broken(__FILE__, __LINE__, #holds " does not hold"))
/* The same, with words of its own, as printf has them: LAW_OR(isfinite(x), "%s: %g", name, x). */
#define LAW_OR(holds, ...) ((holds) ? (void)0 : (fprintf(stderr, __VA_ARGS__), law_broken(__FILE__, __LINE__, "")))

_Noreturn static inline void law_broken(const char *file, int line, const char *what) {
  fprintf(stderr, "%s%s:%d: %s\n", *what ? "" : "\n", file, line, *what ? what : "this law");
  abort();
}
#endif
