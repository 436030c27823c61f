/* SPDX-License-Identifier: MIT
 * Small jobs run through the host, a row each: a script, and a piece of the host's own Lua that looks at it. */
#ifndef SL_JOB_RUN_H
#define SL_JOB_RUN_H

#include <assert.h>
#include "check.h"
#include <lauxlib.h>
#include <sys/stat.h>
#include <unistd.h>
#include "host/host.h"
#include "host/raise.h"

struct job_row {
  const char *name;
  const char *before;        /* host's Lua before the script: rules, results, overrides of its own; or NULL */
  const char *script;        /* what follows JOB; NULL: no script is run */
  const char *probe;         /* host's Lua after it, returns a value; or NULL */
  const char *want;          /* the value as text; with `code`, a part of the message */
  const char *code;          /* of the error that stops the run; NULL: none */
  int line;                  /* of that error in the script, from 1; 0: not checked */
};

/* One line, so that the script of a row begins on line 2. */
#define JOB "job { name = \"t\", client = \"c\", stage = \"permit\", on = \"2026-11-02\" }\n"
#define LOCALS "local record, graph, rule, schema, boot = import 'model.record', import 'model.graph', " \
               "import 'model.rule', import 'model.schema', import 'model.boot' " \
               "local run, judge, whatif = import 'model.run', import 'model.judge', import 'model.whatif' "

static char job_folder[64], job_path[96];
/* a file of the host's Lua that is run before each row, from the top of the project */
static const char *job_prelude;
static const struct sl_host job_host = { .folder = job_folder, .format = SL_GNU };

static inline void job_write(const char *name, const char *head, const char *text) {
  char path[200];
  snprintf(path, sizeof path, "%s/%s", job_folder, name);
  FILE *f = fopen(path, "wb");
  assert_non_null(f);
  assert_true(fputs(head, f) >= 0 && fputs(text, f) >= 0);
  assert_int_equal(fclose(f), 0);
}

static inline int job_setup(void **state) {
  (void)state;
  snprintf(job_folder, sizeof job_folder, "/tmp/stringline-test-XXXXXX");
  if (!mkdtemp(job_folder)) return -1;
  snprintf(job_path, sizeof job_path, "%s/job.sline", job_folder);
  return 0;
}

static inline int job_remove(const char *name) {
  char path[200];
  snprintf(path, sizeof path, "%s/%s", job_folder, name);
  return unlink(path);
}

static inline int job_teardown(void **state) {
  (void)state;
  job_remove("job.sline");
  job_remove("other.sline");
  return rmdir(job_folder);
}

/* Protected: runs a row, leaves its value as text. */
static inline int job_body(lua_State *L) {
  const struct job_row *r = lua_touserdata(L, 1);
  lua_settop(L, 0);
  sl_host_import(L, "model.boot");
  lua_pushstring(L, job_path);
  lua_setglobal(L, "job_script");
  if (job_prelude) {
    if (luaL_loadfilex(L, job_prelude, "t")) lua_error(L);
    lua_call(L, 0, 0);
  }
  if (r->before) {
    lua_pushfstring(L, "%s%s", LOCALS, r->before);
    if (luaL_loadbufferx(L, lua_tostring(L, -1), lua_rawlen(L, -1), "=before", "t")) lua_error(L);
    lua_call(L, 0, 0);
  }
  if (r->script) {
    lua_getfield(L, 1, "declare");
    lua_newtable(L);
    lua_pushstring(L, job_path);
    lua_setfield(L, -2, "script");
    lua_getglobal(L, "job_plan");
    lua_setfield(L, -2, "plan");
    lua_call(L, 1, 0);
  }
  lua_settop(L, 0);
  if (!r->probe) return 0;
  lua_pushfstring(L, "%s%s", LOCALS, r->probe);
  if (luaL_loadbufferx(L, lua_tostring(L, -1), lua_rawlen(L, -1), "=probe", "t")) lua_error(L);
  lua_call(L, 0, 1);
  luaL_tolstring(L, -1, NULL);
  return 1;
}

static inline void job_row_holds(void **state) {
  const struct job_row *r = *state;
  if (r->script) job_write("job.sline", JOB, r->script);
  lua_State *L = sl_host_new(&job_host, NULL);
  assert_non_null(L);
  lua_pushcfunction(L, job_body);
  lua_pushlightuserdata(L, (void *)(uintptr_t)r);
  int status = sl_host_call(L, 1, 1);
  if (status) {
    struct sl_message m;
    sl_error_message(L, -1, &m);
    bool right = r->code && strcmp(m.code, r->code) == 0 && strstr(m.text, r->want) && (!r->line ||
          m.span.line == r->line + 1);
    if (!right) fail_msg("error[%s] line %d: %s\n(help: %s)\nwanted [%s] %s", m.code, m.span.line - 1, m.text,
          m.help ? m.help : "-",
                         r->code ? r->code : "no error", r->want);
  } else {
    const char *got = lua_tostring(L, -1);
    if (r->code || !got || strcmp(got, r->want) != 0)
      fail_msg("got: %s\nwanted %s%s%s: %s", got ? got : "nothing", r->code ? "[" : "", r->code ? r->code : "",
            r->code ? "]" : "", r->want);
  }
  sl_host_close(L);
}

#define JOB_ROWS(tests, n, rows) \
  do { \
    for (size_t row_ = 0; row_ < sizeof (rows) / sizeof *(rows); row_++) { \
      assert((n) < sizeof (tests) / sizeof *(tests)); \
      (tests)[(n)++] = (struct CMUnitTest){ .name = (rows)[row_].name, .test_func = job_row_holds, \
                                            .initial_state = (void *)(uintptr_t)&(rows)[row_] }; \
    } \
  } while (0)

#endif
