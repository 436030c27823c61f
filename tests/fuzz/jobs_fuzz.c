/* SPDX-License-Identifier: MIT
 * Whole jobs through every command, in the process and without a file.  An input is a command line and the files that
 * there are:
 *
 *   sheet job.sline wire --format html --set site.frost=1m
 *   --- job.sline
 *   job { name = "Barn", client = "Nobody", stage = "quote" }
 *   --- house.sline
 *   ...
 *
 * Laws: the status is one that is documented, and fits what was said; no error is one of the library's own Lua, or has
 * Lua's bare words; an error has a place in a text that there is, unless the command line is what is wrong; what is
 * written is what its format has to be (page_laws.h); no page has a number that is none; the same again gives the same
 * bytes, in the state that was used before and in a new one.
 *
 * A limit that is met is no finding.  jobs_mutate.lua changes inputs by their structure. */
#include "fuzz.h"
#include <lauxlib.h>
#include <string.h>
#include "../in_host.h"
#include "../page_laws.h"
#include "host/kept.h"
#include "host/state.h"
#include "task.h"

enum { WORDS = 64, FILES = 24, STEPS = 5000000, MEMORY = 64 << 20, REUSED = 400, AGAIN = 16, ANEW = 64, READ = 3 };

/* Where the files of an input are: no such folder is there, so that nothing else is found. */
#define FOLDER "seed"

struct piece { const char *at; size_t n; };
struct job {
  char *line, *word[WORDS + 1];
  int words;
  struct { char path[80]; struct piece text; } file[FILES];
  int files;
  const char *input;
  size_t size;
};
/* What came of a run. */
struct said { int status; bool stopped; char *out, *err, *printed; size_t nout, nerr, nprinted; };

/* ---- errors as they are raised ----------------------------------------------------------------------------------- */

/* The linker puts these in the place of the functions themselves (--wrap): every error is seen where it is raised, also
 * one that is caught and told as a reason, or in other words. */
int __real_lua_pcallk(lua_State *L, int nargs, int nresults, int msgh, lua_KContext ctx, lua_KFunction k);
int __wrap_lua_pcallk(lua_State *L, int nargs, int nresults, int msgh, lua_KContext ctx, lua_KFunction k);
int __real_sl_error_handler(lua_State *L);
int __wrap_sl_error_handler(lua_State *L);

static lua_State *watched;                                  /* errors of other states are none of ours */

/* Whether the function that raised is one of the library: its code is stripped, and has no name.  What a value was made
 * from is found by asking the library with values that nobody declared (noting.again): there an error is an answer. */
static bool is_the_librarys(lua_State *L, const char *text) {
  lua_Debug ar;
  bool first = true, library = strncmp(text, "?:", 2) == 0;
  for (int level = 1; lua_getstack(L, level, &ar); level++) {
    lua_getinfo(L, "Sn", &ar);
    if (ar.name && strcmp(ar.name, "again") == 0) return false;
    if (*ar.what == 'C' || !first) continue;
    first = false;
    if (ar.source[0] == '=') library = true;
  }
  return library;
}

/* An error in Lua's own terms is the script's, or a fault of ours. */
static void look(lua_State *L) {
  if (!watched || L != watched || lua_type(L, 1) != LUA_TSTRING || sl_sandbox_abort(L)) return;
  const char *text = lua_tostring(L, 1);
  if (strstr(text, "stack overflow") || strstr(text, "not enough memory") || strstr(text, "too many C levels")) return;
  if (!is_the_librarys(L, text)) return;
  luaL_traceback(L, L, text, 0);
  LAW_OR(false, "an error of the library's own: %s", lua_tostring(L, -1));
}

static int look_on(lua_State *L) {
  look(L);
  return 1;
}

int __wrap_sl_error_handler(lua_State *L) {
  look(L);
  return __real_sl_error_handler(L);
}

int __wrap_lua_pcallk(lua_State *L, int nargs, int nresults, int msgh, lua_KContext ctx, lua_KFunction k) {
  if (L != watched || msgh || k || !lua_checkstack(L, 1)) return __real_lua_pcallk(L, nargs, nresults, msgh, ctx, k);
  const int base = lua_gettop(L) - nargs;
  lua_pushcfunction(L, look_on);
  lua_insert(L, base);
  const int status = __real_lua_pcallk(L, nargs, nresults, base, ctx, k);
  lua_remove(L, base);
  return status;
}

/* ---- the input --------------------------------------------------------------------------------------------------- */

/* The line's words; those in double quotes hold blanks. */
static void take_words(struct job *job) {
  char *at = job->line;
  job->word[job->words++] = (char *)(uintptr_t)"stringline";
  while (job->words < WORDS) {
    while (*at == ' ') at++;
    if (!*at) break;
    char *to = at;
    job->word[job->words++] = to;
    for (bool quoted = false; *at && (quoted || *at != ' '); at++) {
      if (*at == '"') quoted = !quoted;
      else *to++ = *at;
    }
    if (*at) at++;
    *to = '\0';
  }
  job->word[job->words] = NULL;
}

/* The text of a file goes to the next line that begins with `--- `. */
static void take_files(struct job *job, const char *at, const char *end) {
  while (at < end && job->files < FILES) {
    const char *stop = memchr(at, '\n', (size_t)(end - at));
    if (!stop) stop = end;
    const bool named = stop - at > 4 && memcmp(at, "--- ", 4) == 0;
    int n = named ? (int)(stop - at) - 4 : 9;
    if (n > 64) n = 64;
    snprintf(job->file[job->files].path, sizeof job->file->path, FOLDER "/%.*s", n, named ? at + 4 : "job.sline");
    const char *from = named && stop < end ? stop + 1 : named ? end : at;
    const char *next = from;
    while (next < end && !(end - next > 4 && memcmp(next, "--- ", 4) == 0 && (next == from || next[-1] == '\n')))
      next++;
    job->file[job->files++].text = (struct piece){ from, (size_t)(next - from) };
    at = next;
  }
}

static bool read_job(struct job *job, const char *data, size_t size) {
  *job = (struct job){ .input = data, .size = size };
  const char *end = memchr(data, '\n', size);
  const size_t n = end ? (size_t)(end - data) : size;
  job->line = strndup(data, n);
  if (!job->line) return false;
  take_words(job);
  if (end) take_files(job, end + 1, data + size);
  return true;
}

/* A word that names a file is one of the input's. */
static const char *path_of(const struct job *job, const char *word) {
  for (int i = 0; word && i < job->files; i++)
    if (strcmp(job->file[i].path + strlen(FOLDER "/"), word) == 0) return job->file[i].path;
  return word;
}
static void find_files(const struct job *job, struct sl_line *line) {
  for (size_t i = 0; i < line->words; i++) line->word[i] = path_of(job, line->word[i]);
  line->value[SL_OPTION_since] = path_of(job, line->value[SL_OPTION_since]);
}

/* What would leave the process: it is tried elsewhere. */
static bool stays_here(const struct sl_line *line) {
  const enum sl_takes takes = line->command->takes;
  if (takes == SL_BEGINS || takes == SL_MERGES || line->folders) return false;
  if (takes == SL_SWEEPS && !line->value[SL_OPTION_count] && !line->value[SL_OPTION_list] &&
      !line->value[SL_OPTION_only]) return false;
  for (size_t i = 0; i < line->words; i++) if (line->word[i][0] == '/' || line->word[i][0] == '.') return false;
  return !line->value[SL_OPTION_pictures] && !line->value[SL_OPTION_store];
}

/* ---- a run ------------------------------------------------------------------------------------------------------- */

struct telling { lua_State *L; const struct job *job; const struct sl_line *line; FILE *to; int worst; };

static const char *find_upvalue(lua_State *L, const char *path) {
  return sl_source_find(&sl_state_of(L)->sources, path) ? path : NULL;
}

/* host.find, where the files of the input are there, too. */
static int find(lua_State *L) {
  const int given = lua_gettop(L);
  lua_pushvalue(L, lua_upvalueindex(1));
  lua_insert(L, 1);
  lua_call(L, given, 2);
  if (lua_isnil(L, 1) && find_upvalue(L, lua_tostring(L, 2))) lua_remove(L, 1);
  return lua_gettop(L);
}

static void law_span(const struct telling *t, const struct sl_message *m, struct sl_span span) {
  size_t n;
  const char *text = sl_source_line(&sl_state_of(t->L)->sources, m->source, span.line, &n);
  LAW_OR(text, "[%s] %s: there is no line %d", m->code, m->text, span.line);
  LAW_OR(span.col == 0 || (size_t)(span.col - 1) + (size_t)(span.len > 0 ? span.len : 0) <= n + 1,
         "[%s] %s: %d:%d and %d more are not on the line", m->code, m->text, span.line, span.col, span.len);
}

/* Whether an error may be without a place: one of the command line, of the file as a whole, of a limit. */
static bool placeless(const struct telling *t, const struct sl_message *m) {
  if (strchr("US", m->code[0]) || strcmp(m->code, "F021") == 0 || strcmp(m->code, "F024") == 0) return true;
  const struct sl_line *line = t->line;
  for (int i = 0; i < SL_OPTIONS; i++)
    if (line->listed[i] || (line->value[i] && sl_options[i].kind == SL_KIND_TEXT)) return true;
  return line->words > 1 || line->command->takes == SL_EVERY;
}

static enum sl_format message_format(const struct sl_line *line) {
  return strcmp(line->messages, "json") == 0 ? SL_JSON : strcmp(line->messages, "gnu") == 0 ? SL_GNU : SL_HUMAN;
}

static void tell(void *to, const struct sl_message *m) {
  struct telling *t = to;
  LAW_OR(m->code && strlen(m->code) == 4 && *m->text, "a message without code or words: %s", m->text);
  LAW_OR(m->source || placeless(t, m), "[%s] %s: no place", m->code, m->text);
  if (m->source && m->span.line) law_span(t, m, m->span);
  for (size_t i = 0; m->source && i < m->nlabel; i++) law_span(t, m, m->label[i].span);
  if ((int)sl_exit_of(m->code) > t->worst) t->worst = (int)sl_exit_of(m->code);
  sl_message_print(t->to, &sl_state_of(t->L)->sources, m, message_format(t->line), false);
}

/* A line that the script prints. */
static struct { FILE *to; enum sl_format format; } printing;

static void print(void *to, struct sl_sources *sources, const struct sl_message *line) {
  (void)to;
  sl_message_print(printing.to, sources, line, printing.format, false);
}

static const struct sl_host host = { .folder = FOLDER, .print = print };

static lua_State *new_state(void) {
  static const struct sl_limits limits = { .memory = MEMORY, .steps = STEPS };
  lua_State *L = sl_host_new(&host, &limits);
  LAW(L);
  lua_getglobal(L, "host");
  lua_getfield(L, -1, "find");
  lua_pushcclosure(L, find, 1);
  lua_setfield(L, -2, "find");
  lua_pop(L, 1);
  return L;
}

static void run(lua_State *L, const struct job *job, const struct sl_line *line, struct said *said) {
  struct sl_task task = { .line = line, .number = 1, .width = 80 };
  *said = (struct said){ 0 };
  FILE *out = open_memstream(&said->out, &said->nout), *err = open_memstream(&said->err, &said->nerr);
  printing.to = open_memstream(&said->printed, &said->nprinted);
  printing.format = message_format(line);
  LAW(out && err && printing.to);
  sl_kept_forget(L);
  for (int i = 0; i < job->files; i++)
    LAW(sl_kept_put(L, job->file[i].path, job->file[i].path, job->file[i].text.at, job->file[i].text.n));
  LAW(luaL_dostring(L, "host.beside '" FOLDER "/job.sline'") == LUA_OK);    /* where one before it looked for files */
  task.script = sl_takes_script(line->command) && line->words ? line->word[0] : NULL;
  watched = L;
  lua_pushcfunction(L, sl_task_run);
  lua_pushlightuserdata(L, &task);
  lua_pushlightuserdata(L, NULL);
  said->status = sl_host_call(L, 2, 2) ? -1 : (int)lua_tointeger(L, -2);
  watched = NULL;
  if (said->status < 0) {
    struct telling t = { L, job, line, err, 0 };
    said->stopped = sl_error_stopped(L);
    said->status = sl_host_failure(L);
    sl_error_each(L, -1, tell, &t);
    LAW_OR(said->status == t.worst || said->stopped, "status %d, and %d is what was told", said->status, t.worst);
  } else {
    size_t n;
    const char *text = lua_tolstring(L, -1, &n);
    LAW_OR(said->status == SL_DONE || said->status == SL_FAILED, "status %d with a page", said->status);
    if (text) fwrite(text, 1, n, out);
  }
  lua_settop(L, 0);
  fclose(out);
  fclose(err);
  fclose(printing.to);
}

/* ---- laws -------------------------------------------------------------------------------------------------------- */

/* A state of plain Lua, and what a file of the tests gave in it, on top. */
static lua_State *new_reader(const char *file) {
  lua_State *M = luaL_newstate();
  LAW(M);
  luaL_openlibs(M);
  LAW_OR(luaL_dofile(M, file) == LUA_OK, "%s", lua_tostring(M, -1));
  return M;
}

/* What the verdict says of the rows (jobs_laws.lua). */
static void law_verdict(const struct said *said, bool whole) {
  static lua_State *M;
  if (!M) M = new_reader("tests/fuzz/jobs_laws.lua");
  lua_settop(M, 1);
  lua_pushvalue(M, 1);
  lua_pushlstring(M, said->out, said->nout);
  lua_pushinteger(M, said->status);
  lua_pushboolean(M, whole);
  LAW_OR(lua_pcall(M, 3, 0, 0) == LUA_OK, "%s", lua_tostring(M, -1));
}

static void law_said(const struct job *job, const struct sl_line *line, const struct said *said) {
  law_clean("what is told", said->err, said->nerr, false);
  page_law_words("what is told", said->err, said->nerr, job->input, job->size);
  law_clean("what is printed", said->printed, said->nprinted, false);
  if (message_format(line) == SL_JSON) {
    page_law_json_lines("what is told", said->err);
    page_law_json_lines("what is printed", said->printed);
  }
  if (said->status > SL_FAILED) {
    LAW_OR(said->nerr > 0, "status %d, and nothing is told", said->status);
    LAW_OR(said->nout == 0, "status %d, and a page", said->status);
    return;
  }
  LAW_OR(said->nout > 0 || strcmp(line->format->name, "gnu") == 0, "an empty page");
  page_law_format("the page", said->out, said->nout, line->format->name);
  if (sl_takes_script(line->command)) page_law_words("the page", said->out, said->nout, job->input, job->size);
}

static void law_same(const char *where, const struct said *a, const struct said *b) {
  if (a->stopped || b->stopped) return;
  LAW_OR(a->nout == b->nout && memcmp(a->out, b->out, a->nout) == 0, "another page %s:\n%s\n--------\n%s", where,
         a->out, b->out);
  LAW_OR(a->nerr == b->nerr && memcmp(a->err, b->err, a->nerr) == 0, "another message %s:\n%s\n--------\n%s", where,
         a->err, b->err);
  LAW_OR(a->nprinted == b->nprinted && memcmp(a->printed, b->printed, a->nprinted) == 0, "something else printed %s",
         where);
  LAW_OR(a->status == b->status, "status %d, and %d %s", a->status, b->status, where);
}

static void free_said(struct said *said) { free(said->out), free(said->err), free(said->printed); }

/* ---- laws of several runs ---------------------------------------------------------------------------------------- */

/* The job under another command line. */
static void ask(lua_State *L, struct job *job, const char *words, struct said *said) {
  struct job other = *job;
  struct sl_line line;
  other.words = 0;
  other.line = strdup(words);
  LAW(other.line);
  take_words(&other);
  LAW_OR(sl_line_read(&line, other.words, other.word), "%s: %s", words, line.wrong.text);
  find_files(&other, &line);
  run(L, &other, &line, said);
  sl_line_free(&line);
  free(other.line);
}

/* What judges a job ends alike, whatever it prints of it. */
static void law_status(lua_State *L, struct job *job, const struct said *said, uint32_t lot) {
  static const char *const lines[] = {
    "run job.sline", "check job.sline", "rules job.sline", "run job.sline --format tap", "run job.sline --format html",
    "run job.sline --format csv", "run job.sline --format markdown", "check job.sline --format sarif" };
  const char *words = lines[lot % (sizeof lines / sizeof *lines)];
  struct said other;
  ask(L, job, words, &other);
  LAW_OR(other.stopped || other.status == said->status, "status %d, and %d of %s", said->status, other.status, words);
  free_said(&other);
}

/* A report is read again: the same verdict today; and nothing differs since. */
static void law_verified(lua_State *L, struct job *job, const struct said *said, bool json) {
  struct said other;
  if (job->files == FILES) return;
  snprintf(job->file[job->files].path, sizeof job->file->path, FOLDER "/verified");
  job->file[job->files++].text = (struct piece){ said->out, said->nout };
  ask(L, job, "verify verified job.sline", &other);
  LAW_OR(other.stopped || other.status == SL_DONE, "its own report is not verified: %s%s", other.err, other.out);
  free_said(&other);
  if (json) {
    ask(L, job, "compare job.sline --since verified", &other);
    LAW_OR(other.stopped || other.status == said->status, "since its own report the status is %d, not %d: %s%s",
           other.status, said->status, other.err, other.out);
    free_said(&other);
  }
  job->files--;
}

static bool is_one_of(const char *name, const char *const *names) {
  while (*names && strcmp(name, *names) != 0) names++;
  return *names != NULL;
}

/* Of a line without options but the format: what holds for several runs of a job, each now and then. */
static void law_runs(lua_State *L, struct job *job, const struct sl_line *line, const struct said *said, uint32_t lot) {
  static const char *const judging[] = { "run", "check", "rules", NULL };
  static const char *const kept[] = { "text", "json", "html", NULL };
  const char *name = line->command->name;
  for (int i = 0; i < SL_OPTIONS; i++)
    if (i != SL_OPTION_format && i != SL_OPTION_messages && (line->listed[i] || line->value[i])) return;
  if (said->stopped || line->words != 1 || !is_one_of(name, judging) || job->files == 0 ||
      strcmp(line->word[0], FOLDER "/job.sline") != 0) return;
  if (lot % 4 == 0) law_status(L, job, said, lot / 4);
  if (lot % 4 == 1 && !strcmp(name, "run") && said->status <= SL_FAILED && is_one_of(line->format->name, kept))
    law_verified(L, job, said, strcmp(line->format->name, "json") == 0);
}

/* ---- all of it --------------------------------------------------------------------------------------------------- */

static uint32_t hash_of(const uint8_t *data, size_t size) {
  uint32_t hash = 2166136261u;
  for (size_t i = 0; i < size; i++) hash = (hash ^ data[i]) * 16777619u;
  return hash ^ hash >> 15;
}

/* The state is used again, as a program that judges many jobs does, until a limit spoils it; what tells of all that
 * there is, whatever a job has loaded, is asked in a new one. */
static void try_job(struct job *job, const struct sl_line *line, uint32_t lot) {
  static lua_State *kept;
  static void *of_kept[2];                       /* what hangs on it, where one that looks for leaks can see it */
  static int used;
  const bool apart = !sl_takes_script(line->command);
  if (!kept && !apart) {
    kept = new_state();
    of_kept[0] = sl_state_of(kept);
    lua_getallocf(kept, &of_kept[1]);
  }
  lua_State *L = apart ? new_state() : kept;
  struct said said, other;
  run(L, job, line, &said);
  law_said(job, line, &said);
  const bool whole = strcmp(line->command->name, "run") == 0, judged = whole || !strcmp(line->command->name, "check");
  if (lot % READ == 0 && judged && said.status <= SL_FAILED && strcmp(line->format->name, "json") == 0)
    law_verdict(&said, whole);
  law_runs(L, job, line, &said, lot / READ);
  if (lot % AGAIN == 0 && !said.stopped) {
    run(L, job, line, &other);
    law_same("again", &said, &other);
    free_said(&other);
  }
  if (lot % ANEW == 1) {
    lua_State *fresh = new_state();
    run(fresh, job, line, &other);
    law_same("in a new state", &said, &other);
    free_said(&other);
    sl_host_close(fresh);
  }
  if (apart || said.stopped || ++used == REUSED) {
    sl_host_close(L);
    if (!apart) kept = NULL, used = 0;
  }
  free_said(&said);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
  struct job job;
  struct sl_line line;
  if (!read_job(&job, (const char *)data, size)) return 0;
  const bool right = sl_line_read(&line, job.words, job.word);
  if (!right) {
    page_law_words("the line", line.wrong.text, strlen(line.wrong.text), job.input, job.size);
    LAW_OR(line.wrong.code && *line.wrong.text, "a line is wrong without a word");
  } else if (!line.version && stays_here(&line)) {
    find_files(&job, &line);
    try_job(&job, &line, hash_of(data, size));
  }
  sl_line_free(&line);
  free(job.line);
  return 0;
}

/* ---- the mutator ------------------------------------------------------------------------------------------------- */

/* Runs a file of the tests, which lies in the project's folder, with the values on top of the stack. */
static void run_file(lua_State *L, const char *file, int nargs) {
  LAW_OR(luaL_loadfilex(L, file, "t") == LUA_OK, "%s", lua_tostring(L, -1));
  lua_insert(L, -1 - nargs);
  LAW_OR(lua_pcall(L, nargs, 1, 0) == LUA_OK, "%s", lua_tostring(L, -1));
}

/* The kinds and the rows of the command line, from the host's Lua; and the bank: to a state that only changes texts. */
static lua_State *new_mutator(void) {
  lua_State *H = sl_host_new(&host, NULL), *M = luaL_newstate();
  LAW(H && M);
  luaL_openlibs(M);
  sl_rows_open(H);
  lua_newtable(H);
  lua_pushboolean(H, true);
  lua_setfield(H, -2, "schema");
  run_file(H, "tests/matrix_run.lua", 1);
  copy_value(H, -1, M);
  LAW(luaL_dostring(H, "return host.command_line()") == LUA_OK);
  copy_value(H, -1, M);
  sl_host_close(H);
  LAW(luaL_dostring(M, "return assert(io.open('tests/fuzz/jobs_bank.sline')):read 'a'") == LUA_OK);
  run_file(M, "tests/fuzz/jobs_mutate.lua", 3);
  return M;
}

size_t LLVMFuzzerCustomMutator(uint8_t *data, size_t size, size_t max, unsigned seed) {
  static lua_State *M;
  if (!M) M = new_mutator();
  lua_settop(M, 1);
  lua_pushvalue(M, 1);
  lua_pushlstring(M, (const char *)data, size);
  lua_pushinteger(M, (lua_Integer)seed);
  LAW_OR(lua_pcall(M, 2, 1, 0) == LUA_OK, "%s", lua_tostring(M, -1));
  size_t n;
  const char *text = lua_tolstring(M, -1, &n);
  if (n > max) n = max;
  memcpy(data, text, n);
  return n;
}
