/* SPDX-License-Identifier: MIT
 * What holds for every job, on random ones: properties_test [COUNT [FIRST SEED]], from the top folder of the project.
 * tests/properties.lua says what; tests/properties_run.lua judges in the host's Lua. */
#include "in_host.h"

int main(int argc, char **argv) { return suite_in_lua("tests/properties.lua", argc, argv, NULL); }
