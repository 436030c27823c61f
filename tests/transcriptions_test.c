/* SPDX-License-Identifier: MIT
 * Each table of the program against a second transcription, cell by cell in SI: tests/transcriptions/tables.txt says
 * which columns are which.  Guards against slips; where both were typed from one page, not against a wrong page. */
#include <dirent.h>
#include <lauxlib.h>
#include <stdlib.h>
#include <string.h>
#include "check.h"
#include "host/host.h"
#include "host/raise.h"

static struct sl_host host = { .folder = ".", .format = SL_HUMAN };

enum { MOST = 200 };
static struct one { char name[80], complaints[4000]; } tables[MOST];
static size_t ntables;

/* read(path): a file's text. */
static int read_file(lua_State *L) {
  FILE *f = fopen(luaL_checkstring(L, 1), "rb");
  if (!f) return luaL_error(L, "%s is not there", lua_tostring(L, 1));
  luaL_Buffer text;
  char part[4096];
  size_t n;
  luaL_buffinit(L, &text);
  while ((n = fread(part, 1, sizeof part, f)) > 0) luaL_addlstring(&text, part, n);
  fclose(f);
  luaL_pushresult(&text);
  return 1;
}

static int by_name(const void *a, const void *b) { return strcmp(*(char *const *)a, *(char *const *)b); }

/* The names of the tables of interp/data, in order, as a list on the stack. */
static void push_files(lua_State *L) {
  static char names[MOST][80];
  char *order[MOST];
  size_t n = 0;
  DIR *folder = opendir("interp/data");
  assert_non_null(folder);
  for (struct dirent *entry; (entry = readdir(folder)) && n < MOST;) {
    const char *dot = strrchr(entry->d_name, '.');
    if (!dot || strcmp(dot, ".csv") != 0) continue;
    snprintf(names[n], sizeof names[n], "%.*s", (int)(dot - entry->d_name), entry->d_name);
    order[n] = names[n];
    n++;
  }
  closedir(folder);
  qsort(order, n, sizeof *order, by_name);
  lua_newtable(L);
  for (size_t i = 0; i < n; i++) {
    lua_pushstring(L, order[i]);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
}

static bool compare(void) {
  lua_State *L = sl_host_new(&host, NULL);
  if (!L) return false;
  bool good = luaL_loadfilex(L, "tests/transcriptions/compare.lua", "t") == LUA_OK && !sl_host_call(L, 0, 1);
  if (good) {
    lua_pushcfunction(L, read_file);
    push_files(L);
    good = !sl_host_call(L, 2, 1);
  }
  if (!good) sl_host_report(L);
  for (lua_Integer i = 1; good && ntables < MOST && lua_rawgeti(L, -1, i) == LUA_TTABLE; i++, lua_pop(L, 1)) {
    struct one *to = &tables[ntables++];
    lua_getfield(L, -1, "name");
    snprintf(to->name, sizeof to->name, "%s", lua_tostring(L, -1));
    lua_getfield(L, -2, "complaints");
    size_t used = 0;
    for (lua_Integer k = 1; lua_rawgeti(L, -1, k) == LUA_TSTRING; k++, lua_pop(L, 1))
      if (used < sizeof to->complaints)
        used += (size_t)snprintf(to->complaints + used, sizeof to->complaints - used, "  %s\n", lua_tostring(L, -1));
    lua_pop(L, 3);
  }
  sl_host_close(L);
  return good;
}

static void agrees(void **state) {
  const struct one *t = *state;
  if (*t->complaints) fail_msg("%s:\n%s", t->name, t->complaints);
}

int main(void) {
  static struct CMUnitTest tests[MOST];
  if (!compare()) return 1;
  for (size_t i = 0; i < ntables; i++)
    tests[i] = (struct CMUnitTest){ .name = tables[i].name, .test_func = agrees, .initial_state = &tables[i] };
  return _cmocka_run_group_tests("transcriptions", tests, ntables, NULL, NULL);
}
