/* SPDX-License-Identifier: MIT
 * Compiles the Lua files named on the command line to stripped bytecode and writes them as one C table.
 * Usage: embed OUT.c TABLE FILE.lua ...
 *
 * A module is named by the end of its path: interp/model/record.lua is "model.record", stdlib/site/rules.lua
 * "site.rules", stdlib/site/sheets/plan.lua "site.sheets.plan". */
#include <lauxlib.h>
#include <lua.h>
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

static void module_name(const char *path, char *name, size_t size) {
  const char *file = before(path, path + strlen(path)), *folder = before(path, file);
  if (strncmp(folder, "/sheets/", 8) == 0) folder = before(path, folder);
  const char *start = *folder == '/' ? folder + 1 : folder;
  snprintf(name, size, "%.*s", (int)(strlen(start) - strlen(".lua")), start);
  for (char *c = name; *c; c++) if (*c == '/') *c = '.';
}

int main(int argc, char **argv) {
  if (argc < 3) return fprintf(stderr, "usage: embed OUT.c TABLE FILE.lua ...\n"), 2;
  lua_State *L = luaL_newstate();
  FILE *to = fopen(argv[1], "w");
  if (!L || !to) return perror(argv[1]), 1;
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
    FILE *in = fopen(argv[i], "rb");
    if (!in) return perror(argv[i]), 1;
    fseek(in, 0, SEEK_END);
    long length = ftell(in);
    rewind(in);
    char *text = malloc((size_t)length + 1);
    if (!text || fread(text, 1, (size_t)length, in) != (size_t)length) return perror(argv[i]), 1;
    fclose(in);
    if (luaL_loadbufferx(L, text, (size_t)length, chunk, "t")) return fprintf(stderr, "%s\n", lua_tostring(L, -1)), 1;
    free(text);
    fprintf(to, "static const unsigned char m%d[] = {\n", i);
    struct sink s = { to, 0 };
    lua_dump(L, write_bytes, &s, 1);
    lua_pop(L, 1);
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
