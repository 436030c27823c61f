/* SPDX-License-Identifier: MIT
 * Tables of fields: one by its name, what is said of a name that there is none of, the whole as a table of Lua's. */
#include "fields.h"

#include <stdarg.h>
#include <string.h>
#include "host/nearest.h"
#include "host/raise.h"
#include "host/text.h"

const struct sl_field *sl_field(const struct sl_field *fields, size_t n, const char *name) {
  for (size_t i = 0; i < n; i++)
    if (*fields[i].name == *name && strcmp(fields[i].name, name) == 0) return &fields[i];
  return NULL;
}

int sl_no_field(lua_State *L, const struct sl_field *fields, size_t n, const char *name, const char *format, ...) {
  const char *names[64];
  char help[120], text[240];
  if (n > 64) n = 64;
  for (size_t i = 0; i < n; i++) names[i] = fields[i].name;
  const char *near = sl_nearest(name, names, n);
  SL_SAY(help, "did you mean '%s'?", near ? near : "");
  va_list args;
  va_start(args, format);
  sl_vsay(text, sizeof text, format, args);
  va_end(args);
  return sl_raise(L, "C002", near ? help : NULL, "%s", text);
}

static void push_choices(lua_State *L, const char *const *choices) {
  lua_newtable(L);
  for (int i = 0; choices[i]; i++) {
    lua_pushstring(L, choices[i]);
    lua_rawseti(L, -2, i + 1);
  }
}

void sl_push_fields(lua_State *L, const struct sl_field *f, size_t n) {
  static const char *const kinds[] = { "quantity", "count", "flag", "choice", "text", "list", "rows" };
  lua_createtable(L, (int)n, 0);
  for (size_t i = 0; i < n; i++) {
    lua_createtable(L, 0, 7);
    sl_error_field(L, "name", f[i].name);
    sl_error_field(L, "kind", kinds[f[i].kind]);
    sl_error_field(L, "dim", sl_dim_name(f[i].dim));
    sl_error_field(L, "help", f[i].help);
    lua_pushboolean(L, f[i].optional);
    lua_setfield(L, -2, "optional");
    if (f[i].choices) {
      push_choices(L, f[i].choices);
      lua_setfield(L, -2, "choices");
    }
    if (f[i].fields) {
      sl_push_fields(L, f[i].fields, f[i].nfields);
      lua_setfield(L, -2, "fields");
    }
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
}
