/* SPDX-License-Identifier: MIT
 * Plain Lua goes through the scanner byte for byte: our own corpus always, and what Lua packages have installed on
 * this machine, if there is any.  A key written twice is Lua, but a mistake here: that complaint alone is allowed. */
#include <dirent.h>
#include <lauxlib.h>
#include <lua.h>
#include <sys/stat.h>
#include "check.h"
#include "scan/scanner.h"

struct tally { size_t files, lua; };

static char *read_file(const char *path, size_t *len) {
  FILE *file = fopen(path, "rb");
  if (!file) return NULL;
  size_t cap = 1 << 16;
  char *text = malloc(cap);
  for (*len = 0; text;) {
    size_t n = fread(text + *len, 1, cap - *len, file);
    if (n == 0) break;
    *len += n;
    if (*len == cap) text = realloc(text, cap *= 2);
  }
  fclose(file);
  return text;
}

static void check_file(lua_State *L, const char *path, struct tally *tally) {
  size_t len = 0;
  char *text = read_file(path, &len);
  if (!text) return;
  const char *from = text;                       /* what Lua skips when it loads a file is skipped here too */
  size_t left = len;
  if (left >= 3 && memcmp(from, "\xEF\xBB\xBF", 3) == 0) from += 3, left -= 3;
  if (left && *from == '#')
    while (left && *from != '\n' && *from != '\r') from++, left--;
  bool lua = luaL_loadbufferx(L, from, left, "=file", "t") == LUA_OK;
  lua_settop(L, 0);

  struct sl_scan s;
  assert_true(sl_scan(text, len, &s));
  for (size_t i = 0; lua && i < s.nbad; i++)
    if (strcmp(s.bad[i].code, "Q120") != 0)
      fail_msg("%s:%d:%d: %s %s", path, s.bad[i].span.line, s.bad[i].span.col, s.bad[i].code, s.bad[i].text);
  if (lua && (s.nk || s.len != left || memcmp(s.text, from, left) != 0)) fail_msg("%s came out otherwise", path);
  sl_scan_free(&s);
  free(text);
  tally->files++;
  tally->lua += lua;
}

static void walk(lua_State *L, const char *folder, int depth, struct tally *tally) {
  DIR *dir = depth < 12 ? opendir(folder) : NULL;
  if (!dir) return;
  for (struct dirent *e; (e = readdir(dir));) {
    char path[1024];
    struct stat is;
    size_t n = strlen(e->d_name);
    if (e->d_name[0] == '.' || snprintf(path, sizeof path, "%s/%s", folder, e->d_name) >= (int)sizeof path) continue;
    if (lstat(path, &is) != 0) continue;
    if (S_ISDIR(is.st_mode)) walk(L, path, depth + 1, tally);
    else if (S_ISREG(is.st_mode) && n > 4 && strcmp(e->d_name + n - 4, ".lua") == 0) check_file(L, path, tally);
  }
  closedir(dir);
}

static struct tally walk_all(const char *folder) {
  struct tally tally = { 0, 0 };
  lua_State *L = luaL_newstate();
  assert_non_null(L);
  walk(L, folder, 0, &tally);
  lua_close(L);
  return tally;
}

static void own_corpus(void **state) {
  (void)state;
  struct tally t = walk_all("tests/corpus");
  assert_true(t.files >= 8);                     /* tests run from the top of the project */
  assert_int_equal(t.lua, t.files);              /* every one of ours is Lua */
}

/* Files of packages: some are Lua of another version, which then may be complained about. */
static void installed(const char *folder) {
  struct tally t = walk_all(folder);
  print_message("%zu files in %s, %zu of them Lua 5.4\n", t.files, folder, t.lua);
  if (t.files == 0) skip();
}
static void installed_modules(void **state) { (void)state; installed("/usr/share/lua"); }
static void installed_documents(void **state) { (void)state; installed("/usr/share/doc"); }

static void a_file_that_is_no_lua_is_told(void **state) {
  (void)state;
  struct sl_scan s;
  assert_true(sl_scan("x = 5fots", 9, &s));      /* that this suite can fail */
  assert_int_equal(s.nbad, 1);
  sl_scan_free(&s);
}

int main(void) {
  static const struct CMUnitTest tests[] = {
    cmocka_unit_test(own_corpus), cmocka_unit_test(installed_modules), cmocka_unit_test(installed_documents),
    cmocka_unit_test(a_file_that_is_no_lua_is_told),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
