/* SPDX-License-Identifier: MIT
 * Inputs made by lot from seeds and the words of a dictionary. */
#ifndef SL_FUZZ_MUTATOR_H
#define SL_FUZZ_MUTATOR_H

#include <stdbool.h>
#include "lot.h"

struct piece { uint8_t *at; size_t len; };
struct pieces { struct piece *list; size_t n; };

/* Reads the words of a dictionary.  False: a line is none, and said which. */
bool mutator_words(const char *file, struct pieces *words);

/* Changes data once, or a few things at once; gives the new size, at most max.  seeds: what may be put in besides. */
size_t mutator_change(uint8_t *data, size_t size, size_t max, const struct pieces *seeds, const struct pieces *words,
                      struct lot *lot);

void *need(void *memory);                    /* ends the program where there is none */
#endif
