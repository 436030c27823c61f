/* SPDX-License-Identifier: MIT
 * A state of the host's that is kept for many inputs, a file of Lua beside the target in it, and what holds of each
 * error that comes out of it. */
#ifndef SL_FUZZ_STATE_H
#define SL_FUZZ_STATE_H

#include <lauxlib.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>
#include "../csv_laws.h"
#include "host/host.h"
#include "host/raise.h"
#include "host/state.h"
#include "kept.h"

static bool state_placed;            /* each error has to have a file, and a line that it has */
static char state_folder[64];        /* of the process, with what the inputs are written to */
static pid_t state_owner;

static inline void state_path(char *to, size_t size, const char *name) {
  snprintf(to, size, "%s/%s", state_folder, name);
}

static inline void state_write(const char *name, const void *bytes, size_t size) {
  char path[128];
  state_path(path, sizeof path, name);
  FILE *out = fopen(path, "wb");
  LAW(out && fwrite(bytes, 1, size, out) == size && fclose(out) == 0);
}

static inline void state_remove(const char *name) {
  char path[128];
  state_path(path, sizeof path, name);
  unlink(path);
}

/* Makes the folder, once a process; whether it did. */
static inline bool state_folder_open(void) {
  if (state_owner == getpid()) return false;
  snprintf(state_folder, sizeof state_folder, "/dev/shm/stringline-fuzz-XXXXXX");   /* no disk: it is gone soon */
  if (!mkdtemp(state_folder)) {
    snprintf(state_folder, sizeof state_folder, "/tmp/stringline-fuzz-XXXXXX");
    LAW(mkdtemp(state_folder));
  }
  state_owner = getpid();
  return true;
}

/* A new state, with the function that the file gives on top. */
static inline lua_State *state_open(const char *file) {
  static struct sl_host host;
  host = (struct sl_host){ .folder = state_folder, .format = SL_GNU };
  lua_State *L = kept(sl_host_new(&host, NULL));
  LAW(L);
  LAW_OR(luaL_loadfilex(L, file, "t") == LUA_OK && sl_host_call(L, 0, 1) == LUA_OK, "%s", luaL_tolstring(L, -1, NULL));
  return L;
}

/* What a person sees: UTF-8 without control bytes. */
static inline void state_shown(lua_State *L, const struct sl_message *m) {
  char *shown = NULL;
  size_t n = 0;
  FILE *to = open_memstream(&shown, &n);
  LAW(to);
  sl_message_print(to, &sl_state_of(L)->sources, m, SL_GNU, false);
  LAW(fclose(to) == 0);
  LAW_OR(csv_utf8(shown, n), "shown is no UTF-8: %s", shown);
  for (size_t i = 0; i < n; i++)
    LAW_OR((unsigned char)shown[i] >= 0x20 || shown[i] == '\n', "a control byte %02x is shown: %s", shown[i], shown);
  free(shown);
}

/* What is said of a file as a whole. */
static inline bool state_of_file(const char *code) {
  static const char *const codes[] = { "F001", "F002", "F012", "F014", "F016" };
  for (size_t i = 0; i < sizeof codes / sizeof *codes; i++)
    if (strcmp(codes[i], code) == 0) return true;
  return false;
}

/* An error of a person's: no words of Lua's, no raised table; what is told of a file has a place in it. */
static inline void state_error(void *to, const struct sl_message *m) {
  lua_State *L = to;
  LAW_OR(m->code && strlen(m->code) == 4 && !strchr("LR", m->code[0]), "[%s] %s", m->code ? m->code : "", m->text);
  state_shown(L, m);
  if (m->source == 0) {
    LAW_OR(!state_placed, "[%s] %s, without a place", m->code, m->text);
    return;
  }
  size_t len;
  const char *text = sl_source_text(&sl_state_of(L)->sources, m->source, &len);
  LAW_OR(text, "[%s] %s, in no file", m->code, m->text);
  struct csv_text t = { text, len, NULL, 0 };
  const size_t mark = len >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
  t.lines = csv_lines(text, len, mark, &t.line);
  if (m->span.line && m->span.col) csv_at(&t, m->span);
  else LAW_OR(!state_placed || m->span.line || state_of_file(m->code), "[%s] %s, without a line", m->code, m->text);
  free(t.line);
}

static inline int state_each(lua_State *L) {
  lua_settop(L, 1);
  sl_error_each(L, 1, state_error, L);
  return 0;
}

/* Calls the function at 1 with n arguments that lie on top; false: it raised, and what it raised is a person's. */
static inline bool state_call(lua_State *L, int n, int nresults) {
  if (sl_host_call(L, n, nresults) == LUA_OK) return true;
  LAW_OR(sl_is_error(L, -1), "raised: %s", luaL_tolstring(L, -1, NULL));
  lua_pushcfunction(L, state_each);
  lua_insert(L, -2);
  LAW(lua_pcall(L, 1, 0, 0) == LUA_OK);
  return false;
}
#endif
