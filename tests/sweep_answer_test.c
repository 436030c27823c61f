/* SPDX-License-Identifier: MIT
 * What a sweep finds: sweep_answer_test, from the top folder of the project.  tests/sweep_answer.lua says what must
 * come, tests/sweep_answer_run.lua asks it in the host's Lua. */
#include "sweep/sweep.h"
#define IN_HOST_OPENS(H) sl_database_open(H)
#include "in_host.h"

int main(int argc, char **argv) { return suite_in_lua("tests/sweep_answer.lua", argc, argv, NULL); }
