/* SPDX-License-Identifier: MIT
 * Compiles the Lua files named on the command line to stripped bytecode and writes them as one C table.
 * Usage: embed OUT.c FILE.lua ...
 * The module of interp/model/record.lua is "model.record", of stdlib/site/rules.lua "site.rules". */
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

static void module_name(const char *path, char *name, size_t size) {
  const char *start = strncmp(path, "interp/", 7) == 0 ? path + 7 : strncmp(path, "stdlib/", 7) == 0 ? path + 7 : path;
  snprintf(name, size, "%.*s", (int)(strlen(start) - strlen(".lua")), start);
  for (char *c = name; *c; c++) if (*c == '/') *c = '.';
}

int main(int argc, char **argv) {
  if (argc < 3) return fprintf(stderr, "usage: embed OUT.c FILE.lua ...\n"), 2;
  lua_State *L = luaL_newstate();
  FILE *to = fopen(argv[1], "w");
  if (!L || !to) return perror(argv[1]), 1;
  fputs("/* Written by interp/gen/embed.c. */\n#include \"host/library.h\"\n", to);
  size_t *size = calloc((size_t)argc, sizeof *size);
  if (!size) return 1;
  for (int i = 2; i < argc; i++) {
    char name[256], chunk[300];
    module_name(argv[i], name, sizeof name);
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
  fputs("const struct sl_module sl_library[] = {\n", to);
  for (int i = 2; i < argc; i++) {
    char name[256];
    module_name(argv[i], name, sizeof name);
    fprintf(to, "  { \"%s\", m%d, %zu },\n", name, i, size[i]);
  }
  fputs("  { 0, 0, 0 },\n};\n", to);
  lua_close(L);
  free(size);
  return fclose(to) ? 1 : 0;
}
