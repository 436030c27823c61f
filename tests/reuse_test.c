/* SPDX-License-Identifier: MIT
 * Variants of sweeps judged by the engine, which keeps what a step does not reach, and each declared anew: all that is
 * kept of each the same to the last bit, in whatever order they are judged.  From the top folder of the project;
 * tests/reuse.lua says which sweeps, tests/reuse_run.lua judges them in the host's Lua. */
#include "in_host.h"

int main(int argc, char **argv) { return suite_in_lua("tests/reuse.lua", argc, argv, NULL); }
