/* SPDX-License-Identifier: MIT
 * The command line: one command, a state for each script, one output, one exit status. */
#include <lauxlib.h>
#include <limits.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>
#include "box/child.h"
#include "command/begin.h"
#include "command/folder.h"
#include "command/line.h"
#include "command/rows.h"
#include "host/host.h"
#include "host/text.h"
#include "host/raise.h"
#include "host/state.h"
#include "sweep/sweep.h"
#include "write/out.h"

enum { PAGE_WIDTH = 80, NARROWEST = 40, WIDEST = 132 };       /* columns; longer lines are hard to read */

/* One script, or a command without one. */
struct task {
  const struct sl_line *line;
  const char *script;                  /* NULL: none */
  bool several;                        /* one script of several */
  size_t number;                       /* of it, from 1 */
  bool colour;                         /* of the output */
  int width;
  struct sl_host host;
  struct sl_limits limits;
  FILE *to;
  /* Of folders, see command/jobs.lua: what is asked for, and what was said of that before. */
  const char *part, *left;
  char **judged;
  size_t jobs;
};

/* Why a script was not judged, for the place that its verdict would have. */
struct failure { int status; char code[16], text[1024], *json; size_t told; };   /* json: told of them, one a line */

/* ---- messages ---------------------------------------------------------------------------------------------------- */

static enum sl_format message_format(const struct sl_line *line) {
  return strcmp(line->messages, "json") == 0 ? SL_JSON : strcmp(line->messages, "gnu") == 0 ? SL_GNU : SL_HUMAN;
}

static bool colour_wanted(const struct sl_line *line, FILE *to) {
  return sl_colour_wanted(to, line->value[SL_OPTION_no_color] != NULL);
}

/* Says what is wrong outside of any script; gives its exit status. */
static int tell(const struct sl_line *line, const char *code, const char *text, const char *help) {
  struct sl_message m = { .severity = SL_ERROR, .code = code, .text = text, .help = help };
  fflush(stdout);
  sl_message_print(stderr, NULL, &m, message_format(line), colour_wanted(line, stderr));
  return (int)sl_exit_of(code);
}

struct noting { struct failure *f; struct sl_sources *sources; FILE *to; };

static void note_one(void *to, const struct sl_message *m) {
  const struct noting *n = to;
  if (n->f->told++ == 0) {
    snprintf(n->f->code, sizeof n->f->code, "%s", m->code ? m->code : "");
    snprintf(n->f->text, sizeof n->f->text, "%s", m->text);
  }
  if (n->to) sl_message_print(n->to, n->sources, m, SL_JSON, false);
}

/* Nothing is told of what could not be kept whole. */
static void close_note(const struct noting *n) {
  if (n->to && sl_stream_close(n->to)) return;
  free(n->f->json);
  n->f->json = NULL;
  n->f->status = SL_RESOURCE;
}

/* Of the error on top of the stack, and those that came with it. */
static void note_failure(lua_State *L, int status, struct failure *f) {
  size_t n;
  *f = (struct failure){ .status = status };
  struct noting to = { f, &sl_state_of(L)->sources, open_memstream(&f->json, &n) };
  sl_error_each(L, -1, note_one, &to);
  close_note(&to);
}

static void note_stop(int status, const char *code, const char *why, struct failure *f) {
  size_t n;
  struct sl_message m = { .severity = SL_ERROR, .code = code, .text = why };
  *f = (struct failure){ .status = status };
  struct noting to = { f, NULL, open_memstream(&f->json, &n) };
  note_one(&to, &m);
  close_note(&to);
}

/* ---- one command in one state ------------------------------------------------------------------------------------ */

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
static void push_options(lua_State *L, const struct task *t) {
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
    { "only", SL_OPTION_only }, { "shard", SL_OPTION_shard }, { "store", SL_OPTION_store },
    { "pictures", SL_OPTION_pictures } };
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

/* Protected: (task) -> status, text. */
static int command(lua_State *L) {
  const struct task *t = lua_touserdata(L, 1);
  sl_rows_open(L);
  if (t->part) sl_folder_open(L);
  if (t->line->command->takes == SL_SWEEPS || t->line->command->takes == SL_MERGES) {
    sl_database_open(L);
    sl_workers_open(L);
    sl_files_open(L);
  }
  if (t->line->command->takes == SL_BEGINS) sl_begin_open(L);
  sl_host_import(L, "command.run");
  push_options(L, t);
  lua_call(L, 1, 2);
  return 2;
}

/* Protected: (task, failure) -> status, text. */
static int command_unjudged(lua_State *L) {
  const struct task *t = lua_touserdata(L, 1);
  const struct failure *f = lua_touserdata(L, 2);
  sl_rows_open(L);
  sl_host_import(L, "command.run");
  push_options(L, t);
  lua_createtable(L, 0, 8);
  lua_pushinteger(L, f->status);
  lua_setfield(L, -2, "status");
  set_text(L, "code", f->code);
  set_text(L, "text", f->text);
  set_text(L, "json", f->json ? f->json : "");
  lua_pushinteger(L, (lua_Integer)f->told);
  lua_setfield(L, -2, "told");
  lua_call(L, 2, 2);
  return 2;
}

static void find_raw(void *to, const struct sl_message *m) {
  bool *found = to;
  if (m->code && strcmp(m->code, "L002") == 0) *found = true;
}

/* Lua notes the line of a division by zero only while it counts: so the run is done once more, and this time counted.
 * What the script prints is there already. */
static bool wants_count(lua_State *L, const struct task *t) {
  bool raw = false;
  if (t->line->command->takes == SL_SWEEPS) return false;     /* it would all be done again */
  if (t->limits.steps >= 0 || sl_sandbox_abort(L)) return false;
  sl_error_each(L, -1, find_raw, &raw);
  return raw;
}

static void print_nothing(void *to, struct sl_sources *sources, const struct sl_message *line) {
  (void)to, (void)sources, (void)line;
}

/* Calls a function of a fresh state and writes its text. `failed` (NULL: no matter) gets why there is none. */
static int in_a_state(struct task *t, lua_CFunction what, void *more, struct failure *failed) {
  lua_State *L = sl_host_new(&t->host, &t->limits);
  if (!L) {
    if (failed) note_stop(SL_RESOURCE, "S003", SL_NO_MEMORY, failed);
    return tell(t->line, "S003", SL_NO_MEMORY, NULL);
  }
  lua_pushcfunction(L, what);
  lua_pushlightuserdata(L, t);
  if (more) lua_pushlightuserdata(L, more);
  int status = sl_host_call(L, more ? 2 : 1, 2);
  if (status && wants_count(L, t)) {
    struct task counted = *t;
    counted.limits.steps = LLONG_MAX;
    counted.host.print = print_nothing;
    sl_host_close(L);
    return in_a_state(&counted, what, more, failed);
  }
  if (status) {
    status = sl_host_failure(L);
    if (failed) note_failure(L, status, failed);
    fflush(stdout);
    sl_host_report(L);
  } else {
    size_t n;
    const char *text = lua_tolstring(L, -1, &n);
    status = (int)lua_tointeger(L, -2);
    if (text) fwrite(text, 1, n, t->to);
  }
  sl_host_close(L);
  return status;
}

/* In the place of a verdict of one script of several; the worse of the two statuses. */
static int write_unjudged(struct task *t, struct failure *f) {
  const int status = in_a_state(t, command_unjudged, f, NULL);
  free(f->json);
  return status > f->status ? status : f->status;
}

static int run(void *arg) {
  struct task *t = arg;
  struct failure f = { .status = SL_DONE };
  int status = in_a_state(t, command, NULL, t->several ? &f : NULL);
  return f.status ? write_unjudged(t, &f) : status;
}

/* In a process that can only compute. */
static int run_apart(struct task *t) {
  char why[512] = "";
  struct sl_child_limits limits = { .cpu_seconds = 10, .memory = (size_t)1 << 30, .output = (size_t)16 << 20 };
  int status = sl_child_run(run, t, &limits, why, sizeof why);
  if (!*why) return status;
  status = tell(t->line, "S002", why, NULL);
  if (t->several) {
    struct failure f;
    note_stop(status, "S002", why, &f);
    status = write_unjudged(t, &f);
    fflush(t->to);
  }
  return status;
}

/* ---- scripts ----------------------------------------------------------------------------------------------------- */

static int terminal_width(void) {
  struct winsize size;
  if (!isatty(STDOUT_FILENO) || ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) != 0 || !size.ws_col) return PAGE_WIDTH;
  return size.ws_col < NARROWEST ? NARROWEST : size.ws_col > WIDEST ? WIDEST : size.ws_col;
}

static void set_folder(char *folder, size_t size, const char *script) {
  const char *slash = script ? strrchr(script, '/') : NULL;
  if (!slash) *folder = '\0';
  else snprintf(folder, size, "%.*s", slash == script ? 1 : (int)(slash - script), script);
}

static void write_frame(FILE *to, const char *text, size_t scripts) {
  const char *count = strstr(text, "%d");
  if (!count) fputs(text, to);
  else fprintf(to, "%.*s%zu%s", (int)(count - text), text, scripts, count + 2);
}

/* A person's own script may compute as long as it likes: that nobody counts makes it faster, and Ctrl-C ends it. */
static long long steps_allowed(const struct sl_line *line) {
  if (line->count[SL_OPTION_steps]) return line->count[SL_OPTION_steps];
  return line->value[SL_OPTION_untrusted] ? 0 : -1;
}

static size_t count_scripts(const struct sl_line *line) {
  return sl_takes_script(line->command) && line->command->most == SL_MANY && !line->folders ? line->words : 1;
}

/* ---- folders ----------------------------------------------------------------------------------------------------- */

/* What a part of command/jobs.lua says, a text of malloc and its length; NULL: it said why there is none. */
static char *said(struct task *t, const char *part, const char *script, size_t *n, int *status) {
  char *text = NULL;
  struct failure f = { .status = SL_DONE };
  t->part = part;
  t->script = script;
  t->to = open_memstream(&text, n);
  if (!t->to) {
    *status = tell(t->line, "S003", SL_NO_MEMORY, NULL);
    return NULL;
  }
  *status = in_a_state(t, command, NULL, script ? &f : NULL);
  if (f.status) *status = write_unjudged(t, &f);
  const bool whole = sl_stream_close(t->to);
  if (whole && *n > 0) return text;
  if (!whole) *status = tell(t->line, "S003", SL_NO_MEMORY, NULL);
  free(text);
  return NULL;
}

/* Each job of a list of texts in a state of its own, and then all of them told. */
static int judge_each(struct task *t, const char *list, const char *end, FILE *to, char *folder, size_t size) {
  int status = SL_DONE;
  size_t n = 0;
  for (const char *path = list; path < end; path += strlen(path) + 1) n++;
  t->judged = calloc(n + 1, sizeof *t->judged);
  if (!t->judged) return tell(t->line, "S003", SL_NO_MEMORY, NULL);
  for (const char *path = list; path < end; path += strlen(path) + 1) {
    size_t length;
    set_folder(folder, size, path);
    char *text = said(t, "judge", path, &length, &status);
    if (!text) return status;
    t->judged[t->jobs++] = text;
  }
  t->part = "tell";
  t->script = NULL;
  t->to = to;
  return in_a_state(t, command, NULL, NULL);
}

/* One page of all jobs of some folders.  What is found comes as texts, each with its '\0': what was left out, as JSON,
 * then the paths of the jobs. */
static int run_folders(struct task *t, FILE *to, char *folder, size_t size) {
  int status;
  size_t n = 0;
  char *found = said(t, "find", NULL, &n, &status);
  if (!found) return status;
  t->left = found;
  status = judge_each(t, found + strlen(found) + 1, found + n, to, folder, size);
  for (size_t i = 0; i < t->jobs; i++) free(t->judged[i]);
  free(t->judged);
  free(found);
  return status;
}

/* ---- all of it --------------------------------------------------------------------------------------------------- */

/* Runs the command on each of its scripts; the worst status.  `reads`: see struct sl_host. */
static int run_all(const struct sl_line *line, FILE *to, struct sl_reads *reads, bool colour, int width) {
  char folder[4096];
  bool script = sl_takes_script(line->command) && line->words && !line->folders;
  size_t scripts = count_scripts(line);
  struct task t = { .line = line, .several = scripts > 1, .colour = colour, .width = width, .to = to,
                    .host = { .folder = folder, .path = getenv("STRINGLINE_PATH"), .format = message_format(line),
                              .colour = colour_wanted(line, stderr), .reads = reads },
                    .limits = { .steps = steps_allowed(line),
                                .memory = (size_t)line->count[SL_OPTION_memory] << 20 } };
  int worst = SL_DONE;
  if (line->folders) return run_folders(&t, to, folder, sizeof folder);
  if (t.several) write_frame(to, line->format->before, scripts);
  for (size_t i = 0; i < scripts; i++) {
    if (i > 0) fputs(line->format->between, to);
    t.script = script ? line->word[i] : NULL;
    t.number = i + 1;
    set_folder(folder, sizeof folder, t.script);
    int status = line->value[SL_OPTION_untrusted] ? run_apart(&t) : run(&t);
    if (status > worst) worst = status;
  }
  if (t.several) write_frame(to, line->format->after, scripts);
  return worst;
}

/* Puts the output in its place, but never in that of a file that was read.  0, or the status. */
static int keep_output(const struct sl_line *line, struct sl_out *out, const struct sl_reads *reads) {
  char why[5000];
  const char *read = sl_reads_destroyed(reads);
  if (read) {
    sl_out_abandon(out);
    snprintf(why, sizeof why, "this run read '%s', and its output '%s' is the same file", read, sl_reads_output(reads));
    return tell(line, "F023", why, "write to another file, as in -o report.txt");
  }
  return sl_out_commit(out, why, sizeof why) ? SL_DONE : tell(line, "F040", why, NULL);
}

/* The output goes to a file: whole, or not at all. One script that is not judged leaves none. */
static int run_to_file(const struct sl_line *line, const char *path) {
  char why[512] = "";
  struct sl_reads *reads = sl_reads_new(path);
  struct sl_out *out = reads ? sl_out_open(path, why, sizeof why) : NULL;
  if (!out) {
    sl_reads_free(reads);
    return reads ? tell(line, "F040", why, NULL) : tell(line, "S003", SL_NO_MEMORY, NULL);
  }
  bool apart = line->value[SL_OPTION_untrusted] != NULL;      /* then it comes through standard output */
  int own = -1;
  if (apart && (fflush(stdout) || (own = dup(STDOUT_FILENO)) < 0 ||
                dup2(fileno(sl_out_file(out)), STDOUT_FILENO) < 0)) {
    sl_out_abandon(out);
    sl_reads_free(reads);
    return tell(line, "F040", "standard output cannot be turned to a file", NULL);
  }
  int status = run_all(line, apart ? stdout : sl_out_file(out), reads, false, PAGE_WIDTH);
  if (apart) {
    fflush(stdout);
    dup2(own, STDOUT_FILENO);
    close(own);
  }
  const bool page = count_scripts(line) > 1 || (line->folders && ftell(sl_out_file(out)) > 0);
  if (status > SL_FAILED && !page) sl_out_abandon(out);
  else {
    int failed = keep_output(line, out, reads);
    if (failed) status = failed;
  }
  sl_reads_free(reads);
  return status;
}

int main(int argc, char **argv) {
  struct sl_line line;
  char why[512] = "";
  int status = SL_DONE;
  sl_out_begin();
  if (!sl_line_read(&line, argc, argv))
    status = tell(&line, line.wrong.code, line.wrong.text, *line.wrong.help ? line.wrong.help : NULL);
  else if (line.version) puts("stringline " SL_VERSION);
  else if (line.value[SL_OPTION_output]) status = run_to_file(&line, line.value[SL_OPTION_output]);
  else status = run_all(&line, stdout, NULL, strcmp(line.format->name, "text") == 0 && colour_wanted(&line, stdout),
                        terminal_width());
  if (!sl_stdout_finish(why, sizeof why)) status = tell(&line, "F041", why, NULL);
  sl_line_free(&line);
  return status;
}
