/* SPDX-License-Identifier: MIT
 * What is varied, and the variants by number: sweep_axes_test, from the top folder of the project.
 * tests/sweep_axes.lua says what must come, tests/sweep_axes_run.lua asks it in the host's Lua. */
#include "in_host.h"

int main(int argc, char **argv) { return suite_in_lua("tests/sweep_axes.lua", argc, argv, NULL); }
