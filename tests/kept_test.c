/* SPDX-License-Identifier: MIT
 * Files that a state keeps: one path for one file, and what is read by it is read below the folder that it was found
 * in, also where the disk has changed since. */
#include "check.h"
#include <lauxlib.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>
#include "host/host.h"
#include "host/kept.h"

#define COUNT(a) (sizeof(a) / sizeof *(a))

static char work[64];

static void put_file(const char *path, const char *text) {
  FILE *f = fopen(path, "w");
  assert_non_null(f);
  fputs(text, f);
  fclose(f);
}

static int make_work(void **state) {
  (void)state;
  strcpy(work, "/tmp/stringline-kept-XXXXXX");
  if (!mkdtemp(work) || chdir(work) != 0) return 1;
  if (mkdir("job", 0777) != 0 || mkdir("job/sub", 0777) != 0 || mkdir("shared", 0777) != 0) return 1;
  put_file("job/a", "a");
  put_file("job/b", "a");                                          /* as long, and the same: another file */
  put_file("shared/c", "c");
  put_file("secret", "SECRET");
  return symlink("../a", "job/sub/soft") != 0 || symlink("sub", "job/s") != 0 || link("job/a", "job/hard") != 0 ||
         symlink("../secret", "job/out") != 0 || symlink("../job/a", "shared/back") != 0;
}

static int drop_work(void **state) {
  (void)state;
  char command[100];
  snprintf(command, sizeof command, "rm -rf '%s'", work);
  return chdir("/") != 0 || system(command) != 0;
}

/* `change` stands between two looks: what the disk became. */
static int change(lua_State *L) {
  unlink(luaL_checkstring(L, 1));
  if (symlink(luaL_checkstring(L, 2), luaL_checkstring(L, 1)) != 0) return luaL_error(L, "no link");
  return 0;
}

/* (gone, path, text): the inode of what goes is free for what is made. */
static int made(lua_State *L) {
  unlink(luaL_checkstring(L, 1));
  put_file(luaL_checkstring(L, 2), luaL_checkstring(L, 3));
  return 0;
}

static int forget(lua_State *L) {
  sl_kept_forget(L);
  return 0;
}

/* How a call ended: its value, or its code. */
static const char ask[] = "local function ask(f, ...)\n"
  "  local ok, value = pcall(f, ...)\n"
  "  return ok and tostring(value) or value.code or tostring(value)\nend\n";

static const struct row { const char *name, *asks, *want; } rows[] = {
  { "a dot", "return host.find './a'", "job/./a" },
  { "a second spelling is the first path", "host.find 'a' return host.find './/./a'", "job/a" },
  { "so is a link", "host.find 'a' return host.find 'sub/soft'", "job/a" },
  { "so is a link through a linked folder", "host.find 'a' return host.find 's/soft'", "job/a" },
  { "so is a hard link", "host.find 'hard' return host.find 'a'", "job/hard" },
  { "another file is not, though it holds the same", "host.find 'a' return host.find 'b'", "job/b" },
  { "what a person named is the path, too", "host.read 'job/hard' return host.find 'a'", "job/hard" },
  { "a text is read once", "local a = host.find 'a' host.read(a) change(a, '../secret') return host.read(a)", "a" },
  { "a name that became a link out is no name any more",
    "local a = host.find 'a' change(a, '../secret') return host.find 'hard'", "job/hard" },
  { "nor is one that is gone, whose inode another file may have",
    "local b = host.find 'b' host.read(b) for i = 1, 20 do made(b, 'job/new' .. i, i) b = host.find('new' .. i)\n"
    "if b ~= 'job/new' .. i or host.read(b) ~= tostring(i) then return b .. ': ' .. host.read(b) end end return 'new'",
    "new" },
  { "a folder of the path", "return host.find 'c'", "shared/c" },
  { "a link out of it", "return ask(host.find, 'back')", "F027" },
  { "a link out", "return ask(host.find, 'out')", "F027" },
  { "which a person may name", "return host.read 'job/out'", "SECRET" },
  { "and a script may not, all the same", "host.read 'job/out' return ask(host.find, 'out')", "F027" },
  { "a file that became a link out since", "local a = host.find 'b' change(a, '../secret') return ask(host.read, a)",
    "F027" },
  { "a file that became a link to another one since",
    "local b = host.find 'b' change(b, 'a') return ask(host.read, b)", "a" },
  { "one that was not there, and is a link out since",
    "local _, a = host.find 'new' change(a, '../secret') return ask(host.read, a)", "F027" },
  { "a list that became a link out since", "local a = host.find 'b' change(a, '../secret') return ask(host.csv, a)",
    "F027" },
  { "a script that became a link out since",
    "local a = host.find 'b' change(a, '../secret') return ask(host.load, a, {})", "F027" },
  { "what was forgotten has no path", "host.find 'a' forget() return host.find 'hard'", "job/hard" },
};

static void comes_out(void **state) {
  const struct row *r = *state;
  const struct sl_host host = { .folder = "job", .path = "nowhere:shared", .format = SL_HUMAN };
  lua_State *L = sl_host_new(&host, NULL);
  assert_non_null(L);
  lua_register(L, "change", change);
  lua_register(L, "made", made);
  lua_register(L, "forget", forget);
  lua_pushfstring(L, "%s%s", ask, r->asks);
  if (luaL_loadstring(L, lua_tostring(L, -1)) || sl_host_call(L, 0, 1)) {
    sl_host_report(L);
    fail_msg("it raised an error");
  }
  assert_string_equal(lua_tostring(L, -1), r->want);
  sl_host_close(L);
}

int main(void) {
  struct CMUnitTest tests[COUNT(rows)];
  for (size_t i = 0; i < COUNT(rows); i++)
    tests[i] = (struct CMUnitTest){ rows[i].name, comes_out, make_work, drop_work, (void *)(uintptr_t)&rows[i] };
  return cmocka_run_group_tests_name("kept", tests, NULL, NULL);
}
