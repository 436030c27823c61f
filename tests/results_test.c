/* SPDX-License-Identifier: MIT
 * Cases by value that a person who does not program can write (docs/cases.md): results_test [FILE ...], from the top
 * folder of the project.  Without a file it runs all of tests/results.  tests/results.lua reads them, in plain Lua;
 * what is asked of a job is asked by tests/case_run.lua, in the host's Lua, in a state of its own for each case. */
#include "in_host.h"

int main(int argc, char **argv) { return suite_in_lua("tests/results.lua", argc, argv, NULL); }
