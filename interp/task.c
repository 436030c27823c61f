/* SPDX-License-Identifier: MIT
 * One command in one state: what it is asked, as the host's Lua is to see it, and the call. */
#include "task.h"
#include <lauxlib.h>
#include <string.h>
#include <strings.h>
#include "command/begin.h"
#include "command/folder.h"
#include "command/rows.h"
#include "draw/draw.h"
#include "host/host.h"
#include "sweep/sweep.h"

static void set_text(lua_State *L, const char *name, const char *value) {
  if (!value) return;
  lua_pushstring(L, value);
  lua_setfield(L, -2, name);
}

static void set_list(lua_State *L, const char *name, const char *const *items, size_t n) {
  lua_createtable(L, (int)n, 0);
  for (size_t i = 0; i < n; i++) {
    lua_pushstring(L, items[i]);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  lua_setfield(L, -2, name);
}

/* Pushes the options of the command as it is to see them. */
static void push_options(lua_State *L, const struct sl_task *t) {
  const struct sl_line *line = t->line;
  lua_createtable(L, 0, 16);
  set_text(L, "command", line->command->name);
  set_text(L, "script", t->script);
  set_text(L, "on", line->value[SL_OPTION_on]);
  set_text(L, "alternate", line->value[SL_OPTION_alternate]);
  set_text(L, "since", line->value[SL_OPTION_since]);
  set_text(L, "format", line->format->name);
  set_text(L, "writer", line->format->writer);
  static const struct { const char *name; enum sl_option_id id; } texts[] = {
    { "whom", SL_OPTION_whom }, { "paper", SL_OPTION_paper }, { "only", SL_OPTION_only },
    { "shard", SL_OPTION_shard }, { "store", SL_OPTION_store }, { "pictures", SL_OPTION_pictures },
    { "output", SL_OPTION_output } };
  for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) set_text(L, texts[i].name, line->value[texts[i].id]);
  static const struct { const char *name; enum sl_option_id id; } lists[] = {
    { "vary", SL_OPTION_vary }, { "keep", SL_OPTION_keep }, { "least", SL_OPTION_least }, { "most", SL_OPTION_most } };
  for (size_t i = 0; i < sizeof lists / sizeof *lists; i++)
    set_list(L, lists[i].name, line->list[lists[i].id], line->listed[lists[i].id]);
  static const struct { const char *name; enum sl_option_id id; } counts[] = {
    { "sample", SL_OPTION_sample }, { "seed", SL_OPTION_seed }, { "jobs", SL_OPTION_jobs },
    { "seconds", SL_OPTION_seconds }, { "steps", SL_OPTION_steps } };
  for (size_t i = 0; i < sizeof counts / sizeof *counts; i++) {
    if (!line->value[counts[i].id]) continue;
    lua_pushinteger(L, (lua_Integer)line->count[counts[i].id]);
    lua_setfield(L, -2, counts[i].name);
  }
  static const struct { const char *name; enum sl_option_id id; } flags[] = {
    { "count", SL_OPTION_count }, { "list", SL_OPTION_list }, { "retry", SL_OPTION_retry },
    { "grid_tied", SL_OPTION_grid_tied }, { "off_grid", SL_OPTION_off_grid }, { "metric", SL_OPTION_metric } };
  for (size_t i = 0; i < sizeof flags / sizeof *flags; i++) {
    lua_pushboolean(L, line->value[flags[i].id] != NULL);
    lua_setfield(L, -2, flags[i].name);
  }
  set_text(L, "part", t->part);
  set_text(L, "left", t->left);
  if (t->judged) set_list(L, "judged", (const char *const *)t->judged, t->jobs);
  set_text(L, "before", line->format->before);
  set_text(L, "after", line->format->after);
  set_list(L, "set", line->list[SL_OPTION_set], line->listed[SL_OPTION_set]);
  set_list(L, "input", line->list[SL_OPTION_input], line->listed[SL_OPTION_input]);
  set_list(L, "rule", line->list[SL_OPTION_rule], line->listed[SL_OPTION_rule]);
  if (t->several) set_list(L, "words", &t->script, 1);
  else set_list(L, "words", line->word, line->words);
  lua_pushboolean(L, t->several);
  lua_setfield(L, -2, "several");
  lua_pushinteger(L, (lua_Integer)t->number);
  lua_setfield(L, -2, "number");
  lua_pushboolean(L, t->colour);
  lua_setfield(L, -2, "colour");
  lua_pushinteger(L, t->width);
  lua_setfield(L, -2, "width");
}

static void push_failure(lua_State *L, const struct sl_failure *f) {
  lua_createtable(L, 0, 8);
  lua_pushinteger(L, f->status);
  lua_setfield(L, -2, "status");
  set_text(L, "code", f->code);
  set_text(L, "text", f->text);
  set_text(L, "json", f->json ? f->json : "");
  lua_pushinteger(L, (lua_Integer)f->told);
  lua_setfield(L, -2, "told");
}

/* Whether a drawing is written as PDF or PNG; all of them to a folder are. */
static bool draws_pages(const struct sl_line *line) {
  const char *to = line->value[SL_OPTION_output];
  if (line->command->takes != SL_DRAWS || !to || line->value[SL_OPTION_untrusted]) return false;
  const char *ending = strrchr(to, '.');
  return line->words < 2 || (ending && (strcasecmp(ending, ".pdf") == 0 || strcasecmp(ending, ".png") == 0));
}

int sl_task_run(lua_State *L) {
  const struct sl_task *t = lua_touserdata(L, 1);
  const struct sl_failure *f = lua_touserdata(L, 2);
  sl_rows_open(L);
  if (t->part) sl_folder_open(L);
  if (t->line->command->takes == SL_SWEEPS || t->line->command->takes == SL_MERGES) {
    sl_database_open(L);
    sl_workers_open(L);
    sl_files_open(L);
  }
  const bool draws = t->line->command->takes == SL_DRAWS;
  if (draws || strcmp(t->line->format->name, "html") == 0) sl_draw_open(L);     /* a report as HTML has them inside */
  if (draws) sl_files_open(L);
  if (draws_pages(t->line)) sl_draw_open_soon(L);
  if (t->line->command->takes == SL_BEGINS) sl_begin_open(L);
  sl_host_import(L, "command.run");
  push_options(L, t);
  if (f) push_failure(L, f);
  lua_call(L, f ? 2 : 1, 2);
  return 2;
}
