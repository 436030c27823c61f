/* SPDX-License-Identifier: MIT
 * What a fuzz target is: one file tests/fuzz/NAME_fuzz.c with the functions below, seeds in tests/fuzz/corpus/NAME, one
 * a file, named by what it is, and a dictionary tests/fuzz/NAME.dict in libFuzzer's format.  Its laws stand in it or in
 * a header that a unit test shares; one that does not hold says so and ends the program (law.h).
 *
 * Linked with runner.c it is a program, build/tests/fuzz/NAME_fuzz, that tries the seeds and inputs made from them, the
 * same ones everywhere.  Linked by `make fuzz` it is a libFuzzer target.  It must not rest on which of them it is in.
 *
 * An input is at most as long as the longest seed, or 4096 bytes where all are shorter. */
#ifndef SL_FUZZ_H
#define SL_FUZZ_H

#include <stddef.h>
#include <stdint.h>
#include "lot.h"
#include "../law.h"

/* Tries one input; gives 0.  What it keeps from one to the next, such as a Lua state, must not change what comes. */
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* A target may have this one: changes an input in place, by its structure, resting on data and seed alone
 * (struct lot lot = { seed }); gives the new size, at most max. */
size_t LLVMFuzzerCustomMutator(uint8_t *data, size_t size, size_t max, unsigned seed);

/* And may call this there: changes bytes, as inputs without structure are changed. */
size_t LLVMFuzzerMutate(uint8_t *data, size_t size, size_t max);
#endif
