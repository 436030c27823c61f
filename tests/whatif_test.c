/* SPDX-License-Identifier: MIT
 * Whole jobs judged with other inputs, once by the engine for variants and once declared with them: the same to the
 * last bit and word.  whatif_test [whole [WORDS]], from the top folder of the project.  tests/whatif.lua says what is
 * changed; tests/whatif_run.lua does it in the host's Lua. */
#include "in_host.h"

int main(int argc, char **argv) { return suite_in_lua("tests/whatif.lua", argc, argv, NULL); }
