/* SPDX-License-Identifier: MIT
 * A variant as a patch of what is declared, applied and run.  tests/sweep_patch.lua says what is tried;
 * tests/sweep_patch_run.lua asks the host's Lua for the patch. */
#include "in_host.h"

int main(int argc, char **argv) { return suite_in_lua("tests/sweep_patch.lua", argc, argv, NULL); }
