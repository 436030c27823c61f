/* SPDX-License-Identifier: MIT
 * Compiles the Lua files named on the command line to stripped bytecode and writes them as one C table.
 * Usage: embed OUT.c TABLE FILE ...
 *
 * A module is named by the end of its path: interp/model/record.lua is "model.record", stdlib/site/rules.lua
 * "site.rules", stdlib/site/sheets/plan.lua "site.sheets.plan".  A file that is no Lua is a module that gives its text:
 * interp/new/job.sline is "new.job.sline". */
#include <lauxlib.h>
#include <lua.h>
#include <lualib.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct sink { FILE *to; size_t n; };

static int write_bytes(lua_State *L, const void *p, size_t n, void *ud) {
  struct sink *s = ud;
  const unsigned char *b = p;
  (void)L;
  for (size_t i = 0; i < n; i++) fprintf(s->to, "%u,%s", b[i], ++s->n % 32 ? "" : "\n");
  return 0;
}

static const char *before(const char *path, const char *at) {      /* the slash before at */
  while (at > path && *--at != '/') {}
  return at;
}

static bool is_lua(const char *path) {
  const size_t n = strlen(path);
  return n > 4 && strcmp(path + n - 4, ".lua") == 0;
}

static void module_name(const char *path, char *name, size_t size) {
  const char *file = before(path, path + strlen(path)), *folder = before(path, file);
  if (strncmp(folder, "/sheets/", 8) == 0) folder = before(path, folder);
  const char *start = *folder == '/' ? folder + 1 : folder;
  snprintf(name, size, "%.*s", (int)(strlen(start) - (is_lua(path) ? strlen(".lua") : 0)), start);
  for (char *c = name; *c; c++) if (*c == '/') *c = '.';
}

/* What the library adds to a table that a module declares, written where it is declared: with room for it from the
 * start the table need not grow when it comes. */
#define FIELD "{ (\"[%w_]+\"), (\"%l+\"),( [^n])", "{ %1, %2, name = %1, type = %2,%3"
static const struct { const char *file, *pattern, *with; } rooms[] = {
  { "/post_fields.lua", FIELD },
  { "/rails.lua", FIELD },
  { "/schema.lua", FIELD },
  { "/schema.lua", "%f[%w]kind { (\"[%w_]+\"),", "kind { %1, name = %1, by = false, results = false, added = false, "
    "children = false, hung = false," },
  { "/results.lua", "%f[%w]([rw][eo][sr][uk]l?t?) { (\"[%w_]+\"), (\"[%w_]+\"),",
    "%1 { %2, %3, name = %3, kind = %2, find = false," },
  { "/rules.lua", "add { id = \"(%u+)(%d+)\",", "add { id = \"%1%2\", letter = \"%1\", number = %2, standard = true," },
};

/* Of the text on the stack's top. */
static void leave_room(lua_State *L, const char *path) {
  const char *file = strrchr(path, '/');
  for (size_t i = 0; file && i < sizeof rooms / sizeof *rooms; i++) {
    if (strcmp(rooms[i].file, file) != 0) continue;
    lua_getglobal(L, "string");
    lua_getfield(L, -1, "gsub");
    lua_pushvalue(L, -3);
    lua_pushstring(L, rooms[i].pattern);
    lua_pushstring(L, rooms[i].with);
    lua_call(L, 3, 1);
    lua_replace(L, -3);
    lua_pop(L, 1);
  }
}

/* Names that never change (`import` does for the audit and the index, `calc` while somebody listens), and how their
 * uses look: what a file uses more than once is a local of it, since each function that reads a global has its name
 * with it, which is read whenever the file is loaded. */
static const struct { const char *name, *use; } fixed[] = {
  { "host", "%f[%w_.]host%.%l" }, { "ipairs", "%f[%w_.]ipairs[ (]" },
  { "table", "%f[%w_.]table%.%l" }, { "string", "%f[%w_.]string%.%l" }, { "math", "%f[%w_.]math%.%l" },
  { "type", "%f[%w_.]type%(" }, { "tostring", "%f[%w_.]tostring%(" }, { "error", "%f[%w_.]error%(" },
  { "pcall", "%f[%w_.]pcall%(" }, { "next", "in next," }, { "setmetatable", "%f[%w_.]setmetatable%(" },
};

/* How often it stands in the text on the stack's top. */
static lua_Integer count_uses(lua_State *L, const char *use) {
  lua_getglobal(L, "string");
  lua_getfield(L, -1, "gsub");
  lua_pushvalue(L, -3);
  lua_pushstring(L, use);
  lua_pushliteral(L, "");
  lua_call(L, 3, 2);
  const lua_Integer uses = lua_tointeger(L, -1);
  lua_pop(L, 3);
  return uses;
}

/* Of the text on the stack's top; its lines stay one to one. */
static void name_locals(lua_State *L) {
  enum { WORTH = 2 };
  char names[200] = "", line[420];
  for (size_t i = 0; i < sizeof fixed / sizeof *fixed; i++)
    if (count_uses(L, fixed[i].use) >= WORTH) {
      if (*names) strcat(names, ", ");
      strcat(names, fixed[i].name);
    }
  if (!*names) return;
  snprintf(line, sizeof line, "local %s = %s ", names, names);
  lua_pushstring(L, line);
  lua_insert(L, -2);
  lua_concat(L, 2);
}

/* The table of a module has room for its functions from the start; the text is on the stack's top. */
static void leave_room_for_functions(lua_State *L) {
  enum { WORTH = 4 };
  char use[140], with[160];
  lua_getglobal(L, "string");
  lua_getfield(L, -1, "match");
  lua_pushvalue(L, -3);
  lua_pushliteral(L, "\nlocal (%a+) = {}\n");
  lua_call(L, 2, 1);
  const char *const name = lua_tostring(L, -1);
  if (name && strlen(name) < 40) {
    snprintf(use, sizeof use, "\nfunction %s%%.", name);
    lua_pushvalue(L, -3);
    const lua_Integer uses = count_uses(L, use);
    lua_pop(L, 1);
    snprintf(use, sizeof use, "\nlocal %s = {}\n", name);
    snprintf(with, sizeof with, "\nlocal %s = host.room(%d)\n", name, (int)uses);
    if (uses >= WORTH) luaL_gsub(L, lua_tostring(L, -3), use, with);
    else lua_pushvalue(L, -3);
  } else lua_pushvalue(L, -3);
  lua_replace(L, -4);
  lua_pop(L, 2);
}

/* Pushes the file's text: as it is, or where it is no Lua as a chunk that gives it.  False: it cannot be read. */
static bool push_text(lua_State *L, const char *path) {
  FILE *in = fopen(path, "rb");
  if (!in) return false;
  fseek(in, 0, SEEK_END);
  long length = ftell(in);
  rewind(in);
  char *text = malloc((size_t)length + 1);
  bool read = text && fread(text, 1, (size_t)length, in) == (size_t)length;
  fclose(in);
  if (read) lua_pushlstring(L, text, (size_t)length);
  free(text);
  if (read && is_lua(path)) {
    leave_room(L, path);
    leave_room_for_functions(L);
    name_locals(L);
  }
  if (!read || is_lua(path)) return read;
  lua_getglobal(L, "string");
  lua_getfield(L, -1, "format");
  lua_pushstring(L, "return %q");
  lua_pushvalue(L, -4);
  lua_call(L, 2, 1);
  return true;
}

int main(int argc, char **argv) {
  if (argc < 3) return fprintf(stderr, "usage: embed OUT.c TABLE FILE ...\n"), 2;
  lua_State *L = luaL_newstate();
  FILE *to = fopen(argv[1], "w");
  if (!L || !to) return perror(argv[1]), 1;
  luaL_requiref(L, "string", luaopen_string, 1);
  fputs("/* Written by interp/gen/embed.c. */\n#include \"host/library.h\"\n", to);
  size_t *size = calloc((size_t)argc, sizeof *size);
  if (!size) return 1;
  for (int i = 3; i < argc; i++) {
    char name[256], chunk[300];
    module_name(argv[i], name, sizeof name);
    for (int j = 3; j < i; j++) {
      char other[256];
      module_name(argv[j], other, sizeof other);
      if (strcmp(name, other) == 0) return fprintf(stderr, "%s and %s are both %s\n", argv[j], argv[i], name), 1;
    }
    snprintf(chunk, sizeof chunk, "=%s", name);
    if (!push_text(L, argv[i])) return perror(argv[i]), 1;
    size_t length;
    const char *text = lua_tolstring(L, -1, &length);
    if (luaL_loadbufferx(L, text, length, chunk, "t")) return fprintf(stderr, "%s\n", lua_tostring(L, -1)), 1;
    fprintf(to, "static const unsigned char m%d[] = {\n", i);
    struct sink s = { to, 0 };
    lua_dump(L, write_bytes, &s, 1);
    lua_settop(L, 0);
    size[i] = s.n;
    fputs("};\n", to);
  }
  fprintf(to, "static const struct sl_module m[] = {\n");
  for (char last[256] = "";;) {                          /* by name, as they are looked for */
    char name[256], next[256] = "";
    int at = 0;
    for (int i = 3; i < argc; i++) {
      module_name(argv[i], name, sizeof name);
      if (strcmp(name, last) <= 0 || (at && strcmp(name, next) >= 0)) continue;
      at = i;
      strcpy(next, name);
    }
    if (!at) break;
    fprintf(to, "  { \"%s\", m%d, %zu },\n", next, at, size[at]);
    strcpy(last, next);
  }
  fprintf(to, "};\nconst struct sl_modules %s = { m, sizeof m / sizeof *m };\n", argv[2]);
  lua_close(L);
  free(size);
  return fclose(to) ? 1 : 0;
}
