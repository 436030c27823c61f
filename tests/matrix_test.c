/* SPDX-License-Identifier: MIT
 * Whole jobs through all that the program can do with them, and each field of them changed in every way that a person
 * may: matrix_test [commands | fields], from the top folder of the project.  tests/matrix.lua says what is tried and
 * what may come of it; tests/matrix_run.lua does it in the host's Lua. */
#include <signal.h>
#include <string.h>
#include <unistd.h>
#include "in_host.h"

static char at[256];               /* what is being tried, for a run that does not come back */

static void crashed(int number) {
  ssize_t written = write(STDOUT_FILENO, at, strlen(at));
  (void)written;
  signal(number, SIG_DFL);
  raise(number);
}

/* trying(words): said if the program crashes. */
static int trying(lua_State *L) {
  snprintf(at, sizeof at, "crashed at: %s\n", luaL_checkstring(L, 1));
  return 0;
}

int main(int argc, char **argv) {
  signal(SIGSEGV, crashed);
  signal(SIGABRT, crashed);
  signal(SIGFPE, crashed);
  static const luaL_Reg more[] = { { "trying", trying }, { NULL, NULL } };
  return suite_in_lua("tests/matrix.lua", argc, argv, more);
}
