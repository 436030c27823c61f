/* SPDX-License-Identifier: MIT
 * Looks through all that the library defines (interp/model/audit.lua) when it is built: 1 and the problems, or 0. */
#include <stdio.h>
#include "host/host.h"
#include "host/raise.h"

static const struct sl_host host = { .folder = "", .format = SL_HUMAN };

static int audit(lua_State *L) {
  sl_host_import(L, "model.audit");
  lua_getfield(L, 1, "library");
  lua_call(L, 0, 1);
  return 1;
}

int main(void) {
  lua_State *L = sl_host_new(&host, NULL);
  if (!L) return fprintf(stderr, "audit: not enough memory\n"), 1;
  lua_pushcfunction(L, audit);
  if (sl_host_call(L, 0, 1)) {
    sl_host_report(L);
    return 1;
  }
  lua_Integer n = (lua_Integer)lua_rawlen(L, -1);
  for (lua_Integer i = 1; i <= n; i++) {
    lua_rawgeti(L, -1, i);
    fprintf(stderr, "%s\n", lua_tostring(L, -1));
    lua_pop(L, 1);
  }
  sl_host_close(L);
  return n > 0;
}
