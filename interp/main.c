/* SPDX-License-Identifier: MIT
 * The command line: one command, a state for each script, one output, one exit status. */
#include <fcntl.h>
#include <lauxlib.h>
#include <limits.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>
#include "command/line.h"
#include "confine/child.h"
#include "host/host.h"
#include "host/text.h"
#include "host/raise.h"
#include "host/state.h"
#include "task.h"
#include "write/out.h"

enum { PAGE_WIDTH = 80, NARROWEST = 40, WIDEST = 132 };       /* columns; longer lines are hard to read */

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

struct noting { struct sl_failure *f; struct sl_sources *sources; FILE *to; };

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
static void note_failure(lua_State *L, int status, struct sl_failure *f) {
  size_t n;
  *f = (struct sl_failure){ .status = status };
  struct noting to = { f, &sl_state_of(L)->sources, open_memstream(&f->json, &n) };
  sl_error_each(L, -1, note_one, &to);
  close_note(&to);
}

static void note_stop(int status, const char *code, const char *why, struct sl_failure *f) {
  size_t n;
  struct sl_message m = { .severity = SL_ERROR, .code = code, .text = why };
  *f = (struct sl_failure){ .status = status };
  struct noting to = { f, NULL, open_memstream(&f->json, &n) };
  note_one(&to, &m);
  close_note(&to);
}

/* ---- one command in one state ------------------------------------------------------------------------------------ */

static void find_raw(void *to, const struct sl_message *m) {
  bool *found = to;
  if (m->code && strcmp(m->code, "L002") == 0) *found = true;
}

/* Lua notes the line of a division by zero only while it counts: so the run is done once more, and this time counted.
 * What the script prints is there already. */
static bool wants_count(lua_State *L, const struct sl_task *t) {
  bool raw = false;
  if (t->line->command->takes == SL_SWEEPS) return false;     /* it would all be done again */
  if (t->limits.steps >= 0 || sl_sandbox_abort(L)) return false;
  sl_error_each(L, -1, find_raw, &raw);
  return raw;
}

static void print_nothing(void *to, struct sl_sources *sources, const struct sl_message *line) {
  (void)to, (void)sources, (void)line;
}

/* The command in a fresh state, and its text written.  `told`: in the place of a verdict, of which is said why there is
 * none; else NULL.  `failed` (NULL: no matter) gets why there is no text. */
static int in_a_state(struct sl_task *t, struct sl_failure *told, struct sl_failure *failed) {
  lua_State *L = sl_host_new(&t->host, &t->limits);
  if (!L) {
    if (failed) note_stop(SL_RESOURCE, "S003", SL_NO_MEMORY, failed);
    return tell(t->line, "S003", SL_NO_MEMORY, NULL);
  }
  lua_pushcfunction(L, sl_task_run);
  lua_pushlightuserdata(L, t);
  lua_pushlightuserdata(L, told);
  int status = sl_host_call(L, 2, 2);
  if (status && wants_count(L, t)) {
    struct sl_task counted = *t;
    counted.limits.steps = LLONG_MAX;
    counted.host.print = print_nothing;
    sl_host_close(L);
    return in_a_state(&counted, told, failed);
  }
  if (status) {
    status = sl_host_failure(L);
    if (failed) note_failure(L, status, failed);
    sl_out_flush(t->to);
    sl_host_report(L);
    if (failed && !failed->json) status = tell(t->line, "S003", SL_NO_MEMORY, NULL);    /* the page lacks some */
  } else {
    size_t n;
    const char *text = lua_tolstring(L, -1, &n);
    status = (int)lua_tointeger(L, -2);
    if (text) sl_out_write(t->to, text, n);
  }
  sl_host_close(L);
  return status;
}

/* In the place of a verdict of one script of several; the worse of the two statuses. */
static int write_unjudged(struct sl_task *t, struct sl_failure *f) {
  const int status = in_a_state(t, f, NULL);
  free(f->json);
  return status > f->status ? status : f->status;
}

static int run(void *arg) {
  struct sl_task *t = arg;
  struct sl_failure f = { .status = SL_DONE };
  int status = in_a_state(t, NULL, t->several ? &f : NULL);
  if (f.status) status = write_unjudged(t, &f);
  sl_out_flush(t->to);
  return status;
}

/* What the command line lets this task open, ended by NULL. */
static void name_files(const struct sl_task *t, const char *files[4]) {
  const struct sl_line *line = t->line;
  size_t n = 0;
  const bool two = line->words > 1 && strstr(line->command->words, " [SCRIPT]");
  if (t->script) files[n++] = t->script;
  else if (line->words) files[n++] = line->word[0];        /* a report, which names its script as seen from here */
  if (two) files[n++] = line->word[1];
  else if (!t->script && line->words) files[n++] = ".";
  if (line->value[SL_OPTION_since]) files[n++] = line->value[SL_OPTION_since];
  files[n] = NULL;
}

/* In a process that can only compute. */
static int run_apart(struct sl_task *t) {
  const char *files[4];
  char text[5000];
  const char *path = t->line->value[SL_OPTION_output];
  name_files(t, files);
  const struct sl_child_limits limits = { .cpu_seconds = 10, .memory = (size_t)1 << 30, .output = (size_t)16 << 20,
                                          .path = path && strcmp(path, "-") != 0 ? path : NULL,
                                          .files = files, .folders = t->host.path };
  const struct sl_child_end end = sl_child_run(run, t, &limits);
  if (end.how == SL_CHILD_RAN) return end.status;
  if (sl_out_unread(STDOUT_FILENO)) sl_out_leave();
  const char *code = end.how == SL_CHILD_STOPPED ? "S002" : "S004", *name = t->script ? t->script : "it", *help = NULL;
  snprintf(text, sizeof text, "%s", end.why);
  if (end.how == SL_CHILD_UNCONFINED) {
    snprintf(text, sizeof text, "%s was not run, since it cannot be confined: %s", name, end.why);
    help = "run it in a container or on a machine that permits this; leave out --untrusted only for a script that you "
           "trust";
  }
  const int status = tell(t->line, code, text, help);
  if (t->several) {
    struct sl_failure f;
    note_stop(status, code, end.why, &f);
    const int said = write_unjudged(t, &f);
    sl_out_flush(t->to);
    return said;
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

static void write_frame(struct sl_out *to, const char *text, size_t scripts) {
  const char *count = strstr(text, "%d");
  if (!count) sl_out_printf(to, "%s", text);
  else sl_out_printf(to, "%.*s%zu%s", (int)(count - text), text, scripts, count + 2);
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
static char *said(struct sl_task *t, const char *part, const char *script, size_t *n, int *status) {
  char *text = NULL;
  struct sl_failure f = { .status = SL_DONE };
  t->part = part;
  t->script = script;
  FILE *memory = open_memstream(&text, n);
  t->to = memory ? sl_out_of(memory) : NULL;
  if (!t->to) {
    if (memory) fclose(memory);
    free(text);
    *status = tell(t->line, "S003", SL_NO_MEMORY, NULL);
    return NULL;
  }
  *status = in_a_state(t, NULL, script ? &f : NULL);
  if (f.status) *status = write_unjudged(t, &f);
  const bool written = sl_out_flush(t->to);
  sl_out_abandon(t->to);
  const bool whole = sl_stream_close(memory) && written;
  if (whole && *n > 0) return text;
  if (!whole) *status = tell(t->line, "S003", SL_NO_MEMORY, NULL);
  free(text);
  return NULL;
}

/* Each job of a list of texts in a state of its own, and then all of them told. */
static int judge_each(struct sl_task *t, const char *list, const char *end, struct sl_out *to, char *folder,
                      size_t size) {
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
  return in_a_state(t, NULL, NULL);
}

/* One page of all jobs of some folders.  What is found comes as texts, each with its '\0': what was left out, as JSON,
 * then the paths of the jobs. */
static int run_folders(struct sl_task *t, struct sl_out *to, char *folder, size_t size) {
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
static int run_all(const struct sl_line *line, struct sl_out *to, struct sl_reads *reads, bool colour, int width) {
  char folder[4096];
  bool script = sl_takes_script(line->command) && line->words && !line->folders;
  bool apart = line->value[SL_OPTION_untrusted] != NULL;
  size_t scripts = count_scripts(line);
  struct sl_task t = { .line = line, .several = scripts > 1, .colour = colour && !apart, .width = width, .to = to,
                    .host = { .folder = folder, .path = getenv("STRINGLINE_PATH"), .format = message_format(line),
                              .colour = colour_wanted(line, stderr) && !apart, .reads = reads },
                    .limits = { .steps = steps_allowed(line),
                                .memory = (size_t)line->count[SL_OPTION_memory] << 20 } };
  int worst = SL_DONE;
  if (line->folders) return run_folders(&t, to, folder, sizeof folder);
  if (t.several) write_frame(to, line->format->before, scripts);
  for (size_t i = 0; i < scripts; i++) {
    if (i > 0) sl_out_printf(to, "%s", line->format->between);
    t.script = script ? line->word[i] : NULL;
    t.number = i + 1;
    set_folder(folder, sizeof folder, t.script);
    int status = apart ? run_apart(&t) : run(&t);
    if (status > worst) worst = status;
  }
  if (t.several) write_frame(to, line->format->after, scripts);
  return worst;
}

/* Puts the output in its place, but never in that of a file that was read.  0, or the status. */
static int keep_output(const struct sl_line *line, struct sl_out *out, const struct sl_reads *reads) {
  char why[5000], read[512];
  if (sl_reads_destroyed(reads, read, sizeof read)) {
    sl_out_abandon(out);
    snprintf(why, sizeof why, "this run read or wrote '%s', and its output '%s' is the same file", read,
             sl_reads_output(reads));
    return tell(line, "F023", why, "write to another file, as in -o report.txt");
  }
  return sl_out_commit(out, why, sizeof why) ? SL_DONE : tell(line, "F040", why, NULL);
}

/* In processes of their own, which write to standard output: for the while that is a file in memory. */
static int run_all_apart(const struct sl_line *line, struct sl_out *out, struct sl_reads *reads) {
  FILE *memory = sl_out_memory();
  struct sl_out *to = memory ? sl_out_of(stdout) : NULL;
  int own = to && fflush(stdout) == 0 ? fcntl(STDOUT_FILENO, F_DUPFD_CLOEXEC, 3) : -1, status = SL_RESOURCE;
  bool turned = own >= 0 && dup2(fileno(memory), STDOUT_FILENO) >= 0;
  if (turned) {
    status = run_all(line, to, reads, false, PAGE_WIDTH);
    turned = sl_out_flush(to) && dup2(own, STDOUT_FILENO) >= 0;
  }
  if (!turned) status = tell(line, "S003", SL_NO_MEMORY " for the output", NULL);
  else sl_out_take(out, memory);                                   /* what fails is told by sl_out_commit */
  if (own >= 0) close(own);
  if (memory) fclose(memory);
  sl_out_abandon(to);
  return status;
}

/* The output goes to a file: whole, or not at all. One script that is not judged leaves none. */
static int run_to_file(const struct sl_line *line, const char *path) {
  char why[5000] = "";
  struct sl_reads *reads = sl_reads_new(path);
  struct sl_out *out = reads ? sl_out_open(path, why, sizeof why) : NULL;
  if (!out) {
    sl_reads_free(reads);
    return reads ? tell(line, "F040", why, NULL) : tell(line, "S003", SL_NO_MEMORY, NULL);
  }
  int status = line->value[SL_OPTION_untrusted] ? run_all_apart(line, out, reads)
                                                : run_all(line, out, reads, false, PAGE_WIDTH);
  const bool page = count_scripts(line) > 1 || (line->folders && ftell(sl_out_file(out)) > 0);
  if (status > SL_FAILED && !page) sl_out_abandon(out);
  else {
    int failed = keep_output(line, out, reads);
    if (failed) status = failed;
  }
  sl_reads_free(reads);
  return status;
}

/* To standard output, which is no file of ours: a part of it may have gone out. */
static int run_to_standard(const struct sl_line *line) {
  char why[512];
  struct sl_out *out = sl_out_of(stdout);
  if (!out) return tell(line, "S003", SL_NO_MEMORY, NULL);
  int status = SL_DONE;
  if (line->version) sl_out_printf(out, "stringline %s\n", SL_VERSION);
  else status = run_all(line, out, NULL, strcmp(line->format->name, "text") == 0 && colour_wanted(line, stdout),
                        terminal_width());
  return sl_out_commit(out, why, sizeof why) ? status : tell(line, "F041", why, NULL);
}

/* All views of a job go to a folder, each to a file of its own, and what was written is listed. */
static bool drawn_to_folder(const struct sl_line *line) {
  return line->command && line->command->takes == SL_DRAWS && line->words == 1;
}

int main(int argc, char **argv) {
  struct sl_line line;
  signal(SIGCHLD, SIG_DFL);                                  /* ignored, it would hide how our processes end */
  const bool begun = sl_out_begin(), read = sl_line_read(&line, argc, argv);
  const char *path = read && !line.version && !drawn_to_folder(&line) ? line.value[SL_OPTION_output] : NULL;
  int status;
  if (!begun) status = tell(&line, "S003", "one of its standard streams is closed, and /dev/null cannot take its place",
                            "keep standard input, output and error open");
  else if (!read) status = tell(&line, line.wrong.code, line.wrong.text, *line.wrong.help ? line.wrong.help : NULL);
  else status = path && strcmp(path, "-") != 0 ? run_to_file(&line, path) : run_to_standard(&line);
  sl_line_free(&line);
  return status;
}
