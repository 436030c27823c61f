/* SPDX-License-Identifier: MIT
 * A script run from a C program: include/stringline/host.h over one state for each judging. */
#include "stringline/host.h"

#include <lauxlib.h>
#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "command/line.h"
#include "command/rows.h"
#include "host/host.h"
#include "host/text.h"
#include "host/raise.h"
#include "host/state.h"

struct input { char *path, *literal, *text; };            /* literal or text */

/* A message of the last call: its texts stand one behind the other in `texts`. */
struct told { struct sl_job_message message; char *texts; };

struct sl_job {
  char *script, *folder, *path, *alternate, *on;
  struct sl_limits limits;
  struct sl_host host;
  void (*print)(void *context, const struct sl_job_message *line);
  void *context;
  locale_t plain, outside;                 /* the C locale, and the caller's while a call is under way */
  struct input *input; size_t ninput;
  lua_State *L;                            /* of the last judging; NULL: there is none, or it failed */
  struct told *told; size_t ntold;
  bool speechless;                         /* there was no memory for a message */
};

static const char JUDGED = 'j', KEPT = 'k';              /* registry: the judged job; strings that were handed out */

/* ---- memory ------------------------------------------------------------------------------------------------------ */

static char *copy_of(const char *text) { return text ? strdup(text) : NULL; }
static const char *or_empty(const char *text) { return text ? text : ""; }

/* What a judging left. */
static void drop_state(struct sl_job *job) {
  if (job->L) sl_host_close(job->L);
  job->L = NULL;
}

static void drop_input(struct input *in) {
  free(in->path);
  free(in->literal);
  free(in->text);
}

static void drop_messages(struct sl_job *job) {
  for (size_t i = 0; i < job->ntold; i++) free(job->told[i].texts);
  free(job->told);
  job->told = NULL;
  job->ntold = 0;
  job->speechless = false;
}

/* ---- calls ------------------------------------------------------------------------------------------------------- */

/* Numbers are read and written in the C locale, whatever the program has set; only this thread's is changed. */
static void begin(struct sl_job *job) {
  job->outside = uselocale(job->plain);
}

/* The same, for a call that can fail. */
static void try(struct sl_job *job) {
  begin(job);
  drop_messages(job);
}

static void end(struct sl_job *job) { uselocale(job->outside); }

/* ---- messages ---------------------------------------------------------------------------------------------------- */

/* Copies a text behind those that stand there; returns where. */
static const char *put(char **to, const char *text) {
  char *at = *to;
  size_t n = strlen(text) + 1;
  memcpy(at, text, n);
  *to += n;
  return at;
}

static bool make_message(const struct sl_job *job, struct sl_sources *sources, const struct sl_message *m,
                         struct told *out) {
  char *shown = NULL;
  size_t n = 0;
  FILE *to = open_memstream(&shown, &n);
  if (!to) return false;
  sl_message_print(to, sources, m, job->host.format, false);
  const bool whole = sl_stream_close(to);
  const char *code = m->code ? m->code : "", *help = m->help ? m->help : "", *file = sl_source_name(sources, m->source);
  const struct sl_span span = file ? m->span : (struct sl_span){ 0, 0, 0 };
  if (!file) file = "";
  char *at = whole ? malloc(n + strlen(code) + strlen(m->text) + strlen(help) + strlen(file) + 5) : NULL;
  out->texts = at;
  if (at) out->message = (struct sl_job_message){
    .code = put(&at, code), .text = put(&at, m->text), .help = put(&at, help), .file = put(&at, file),
    .line = span.line, .column = span.col, .length = span.len, .shown = put(&at, shown) };
  free(shown);
  return out->texts != NULL;
}

static void keep_message(struct sl_job *job, struct sl_sources *sources, const struct sl_message *m) {
  struct told *more = realloc(job->told, (job->ntold + 1) * sizeof *more);
  if (more) job->told = more;
  if (more && make_message(job, sources, m, &more[job->ntold])) job->ntold++;
  else job->speechless = true;
}

/* A mistake of the caller's, without a script. */
static void tell(struct sl_job *job, const char *code, const char *text, const char *help) {
  keep_message(job, NULL, &(struct sl_message){ .severity = SL_ERROR, .code = code, .text = text, .help = help });
}

struct keeping { struct sl_job *job; struct sl_sources *sources; };

static void keep_one(void *to, const struct sl_message *m) {
  const struct keeping *k = to;
  keep_message(k->job, k->sources, m);
}

/* The error on top of the stack, and those that came with it. */
static int keep_error(lua_State *L) {
  struct keeping k = { lua_touserdata(L, 2), &sl_state_of(L)->sources };
  lua_settop(L, 1);
  sl_error_each(L, 1, keep_one, &k);
  return 0;
}

/* Keeps the error on top of the stack, pops it, and tells how the call ended. */
static enum sl_job_status failed(struct sl_job *job, lua_State *L) {
  enum sl_job_status status = sl_host_failure(L) == 3 ? SL_JOB_STOPPED : SL_JOB_WRONG;
  lua_pushcfunction(L, keep_error);
  lua_insert(L, -2);
  lua_pushlightuserdata(L, job);
  if (lua_pcall(L, 2, 0, 0)) job->speechless = true;
  lua_settop(L, 0);
  return job->speechless ? SL_JOB_STOPPED : status;
}

size_t sl_job_messages(const struct sl_job *job) { return job->ntold + job->speechless; }

bool sl_job_message(const struct sl_job *job, size_t i, struct sl_job_message *out) {
  static const char none[] = SL_NO_MEMORY;
  if (i < job->ntold) return *out = job->told[i].message, true;
  *out = (struct sl_job_message){ .code = "", .text = none, .help = "", .file = "", .shown = none };
  return i < sl_job_messages(job);
}

/* ---- a job ------------------------------------------------------------------------------------------------------- */

/* A line that the script prints, told in the caller's own locale. */
static void printed(void *to, struct sl_sources *sources, const struct sl_message *m) {
  struct sl_job *job = to;
  struct told line;
  if (!job->print || !make_message(job, sources, m, &line)) return;
  uselocale(job->outside);
  job->print(job->context, &line.message);
  uselocale(job->plain);
  free(line.texts);
}

static char *folder_of(const char *script) {
  const char *slash = strrchr(script, '/');
  return slash ? strndup(script, slash == script ? 1 : (size_t)(slash - script)) : strdup("");
}

struct sl_job *sl_job_open(const char *script, const struct sl_job_options *options) {
  static const struct sl_job_options none;
  const struct sl_job_options *o = options ? options : &none;
  struct sl_job *job = calloc(1, sizeof *job);
  if (!job) return NULL;
  job->plain = newlocale(LC_ALL_MASK, "C", (locale_t)0);
  job->script = strdup(or_empty(script));
  job->folder = o->folder ? strdup(o->folder) : folder_of(or_empty(script));
  job->path = copy_of(o->path);
  job->alternate = copy_of(o->alternate);
  job->on = copy_of(o->on);
  job->limits = (struct sl_limits){ .steps = o->steps > 0 ? o->steps : 0, .memory = o->memory };
  job->print = o->print;
  job->context = o->context;
  const enum sl_format formats[] = { SL_HUMAN, SL_GNU, SL_JSON };
  job->host = (struct sl_host){ .folder = job->folder, .path = job->path, .print = printed, .print_to = job,
    .format = formats[(unsigned)o->wording <= SL_WORDING_JSON ? o->wording : SL_WORDING_TEXT] };
  const bool whole = job->plain && job->script && job->folder && !(o->path && !job->path) &&
                     !(o->alternate && !job->alternate) && !(o->on && !job->on);
  if (whole) return job;
  sl_job_close(job);
  return NULL;
}

void sl_job_close(struct sl_job *job) {
  if (!job) return;
  sl_job_reset(job);
  drop_state(job);
  drop_messages(job);
  if (job->plain) freelocale(job->plain);
  free(job->script);
  free(job->folder);
  free(job->path);
  free(job->alternate);
  free(job->on);
  free(job);
}

/* ---- what is put in ---------------------------------------------------------------------------------------------- */

/* Where the input of that path stands, or a new one behind the others; NULL: no memory. */
static struct input *input_at(struct sl_job *job, const char *path) {
  for (size_t i = 0; i < job->ninput; i++)
    if (strcmp(job->input[i].path, path) == 0) return &job->input[i];
  struct input *more = realloc(job->input, (job->ninput + 1) * sizeof *more);
  if (!more) return NULL;
  job->input = more;
  more[job->ninput] = (struct input){ .path = strdup(path) };
  return more[job->ninput].path ? &more[job->ninput++] : NULL;
}

static bool put_in(struct sl_job *job, const char *path, const char *literal, const char *text) {
  path = or_empty(path);
  char *own = strdup(literal ? literal : text);
  struct input *in = own ? input_at(job, path) : NULL;
  if (!in) {
    free(own);
    job->speechless = true;
    return false;
  }
  free(in->literal);
  free(in->text);
  in->literal = literal ? own : NULL;
  in->text = literal ? NULL : own;
  return true;
}

/* As few digits as read back as the same number. */
static void write_number(char *to, size_t size, double number) {
  for (int digits = 15; digits <= 17; digits++) {
    snprintf(to, size, "%.*g", digits, number);
    if (!(strtod(to, NULL) < number) && !(strtod(to, NULL) > number)) return;
  }
}

static bool set_number(struct sl_job *job, const char *path, double number, const char *unit) {
  char text[160], number_text[40];
  struct sl_const k;
  struct sl_complaint bad;
  if (!isfinite(number)) return tell(job, "U001", "what is put in is no number", NULL), false;
  write_number(number_text, sizeof number_text, number);
  int n = snprintf(text, sizeof text, "%s%s%s", number_text, *unit ? " " : "", unit);
  if (n < 0 || (size_t)n >= sizeof text) return tell(job, "Q102", "this unit is too long", NULL), false;
  if (!sl_scan_literal(text, (size_t)n, &k, &bad)) return tell(job, bad.code, bad.text, bad.help), false;
  return put_in(job, path, text, NULL);
}

bool sl_job_set_number(struct sl_job *job, const char *path, double number, const char *unit) {
  try(job);
  bool good = set_number(job, path, number, or_empty(unit));
  end(job);
  return good;
}

bool sl_job_set_text(struct sl_job *job, const char *path, const char *text) {
  try(job);
  bool good = put_in(job, path, NULL, or_empty(text));
  end(job);
  return good;
}

bool sl_job_set(struct sl_job *job, const char *path, const char *literal) {
  try(job);
  literal = or_empty(literal);
  bool good = literal[strspn(literal, " \t")] != '\0';
  if (good) good = put_in(job, path, literal, NULL);
  else tell(job, "U001", "no value is put in", "as in 30deg, or a text");
  end(job);
  return good;
}

void sl_job_reset(struct sl_job *job) {
  for (size_t i = 0; i < job->ninput; i++) drop_input(&job->input[i]);
  free(job->input);
  job->input = NULL;
  job->ninput = 0;
}

/* ---- judging ----------------------------------------------------------------------------------------------------- */

static void set_text(lua_State *L, const char *name, const char *value) {
  if (!value) return;
  lua_pushstring(L, value);
  lua_setfield(L, -2, name);
}

/* Protected: (job) -> status. */
static int judge(lua_State *L) {
  const struct sl_job *job = lua_touserdata(L, 1);
  sl_rows_open(L);
  sl_host_import(L, "host.answers");
  lua_createtable(L, 0, 4);
  set_text(L, "script", job->script);
  set_text(L, "alternate", job->alternate);
  set_text(L, "on", job->on);
  lua_createtable(L, (int)job->ninput, 0);
  for (size_t i = 0; i < job->ninput; i++) {
    lua_createtable(L, 0, 2);
    set_text(L, "path", job->input[i].path);
    set_text(L, "literal", job->input[i].literal);
    set_text(L, "text", job->input[i].text);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  lua_setfield(L, -2, "set");
  lua_call(L, 1, 1);
  lua_getfield(L, -1, "status");
  lua_insert(L, -2);
  lua_rawsetp(L, LUA_REGISTRYINDEX, &JUDGED);
  lua_newtable(L);
  lua_rawsetp(L, LUA_REGISTRYINDEX, &KEPT);
  return 1;
}

static enum sl_job_status judge_anew(struct sl_job *job) {
  drop_state(job);
  lua_State *L = sl_host_new(&job->host, &job->limits);
  if (!L) return job->speechless = true, SL_JOB_STOPPED;
  lua_pushcfunction(L, judge);
  lua_pushlightuserdata(L, job);
  if (sl_host_call(L, 1, 1)) {
    enum sl_job_status status = failed(job, L);
    sl_host_close(L);
    return status;
  }
  job->L = L;
  enum sl_job_status status = lua_tointeger(L, -1) == 0 ? SL_JOB_READY : SL_JOB_NOT_READY;
  lua_settop(L, 0);
  return status;
}

enum sl_job_status sl_job_judge(struct sl_job *job) {
  try(job);
  enum sl_job_status status = judge_anew(job);
  end(job);
  return status;
}

/* ---- what comes back --------------------------------------------------------------------------------------------- */

/* Pops a string and gives it a life as long as the state's; "" of anything else. */
static const char *handed_out(lua_State *L, size_t *length) {
  if (length) *length = 0;
  if (lua_type(L, -1) != LUA_TSTRING) return lua_pop(L, 1), "";
  lua_rawgetp(L, LUA_REGISTRYINDEX, &KEPT);
  lua_pushvalue(L, -2);
  if (lua_rawget(L, -2) != LUA_TSTRING) {                /* equal long strings may be two: the first is handed out */
    lua_pop(L, 1);
    lua_pushvalue(L, -2);
    lua_pushvalue(L, -1);
    lua_pushvalue(L, -1);
    lua_rawset(L, -4);
  }
  const char *text = lua_tolstring(L, -1, length);
  lua_pop(L, 3);
  return text;
}

static const char *text_of(lua_State *L, const char *name) {
  lua_getfield(L, -1, name);
  return handed_out(L, NULL);
}

static int integer_of(lua_State *L, const char *name) {
  lua_getfield(L, -1, name);
  int n = (int)lua_tointeger(L, -1);
  lua_pop(L, 1);
  return n;
}

static bool is_true(lua_State *L, const char *name) {
  lua_getfield(L, -1, name);
  bool yes = lua_toboolean(L, -1);
  lua_pop(L, 1);
  return yes;
}

/* The place of a text in a list of words, as an enumeration has them. */
static int one_of(lua_State *L, const char *name, const char *const words[]) {
  const char *word = text_of(L, name);
  for (int i = 0; words[i]; i++)
    if (strcmp(words[i], word) == 0) return i;
  return luaL_error(L, "%s '%s' has no number", name, word);
}

/* A value from the table on top, or none. */
static struct sl_value value_of(lua_State *L) {
  static const char *const kinds[] = { "none", "unknown", "number", "text", "yes or no", "group", NULL };
  static const struct sl_value none = { .dimension = "", .currency = "", .unit = "", .text = "", .help = "" };
  if (!lua_istable(L, -1)) return none;
  struct sl_value v = { .kind = (enum sl_value_kind)one_of(L, "kind", kinds), .dimension = text_of(L, "dimension"),
    .currency = text_of(L, "currency"), .unit = text_of(L, "unit"), .text = text_of(L, "text"),
    .help = text_of(L, "help"), .yes = is_true(L, "yes"), .items = (size_t)integer_of(L, "items") };
  lua_getfield(L, -1, "si");
  v.si = lua_tonumber(L, -1);
  lua_pop(L, 1);
  return v;
}

static struct sl_value value_at(lua_State *L, const char *name) {
  lua_getfield(L, -1, name);
  struct sl_value v = value_of(L);
  lua_pop(L, 1);
  return v;
}

/* One question to the judged job: its function, its arguments, and where the answer goes. */
struct question {
  const char *function, *text;
  const struct sl_format_row *format;      /* of a report, instead of the text */
  lua_Integer i;
  struct sl_value *value;
  struct sl_outcome *outcome;
  const char *answer;
  size_t length;
  bool found;
};

static void take_outcome(lua_State *L, struct sl_outcome *out) {
  static const char *const severities[] = { "stop", "caution", "note", NULL };
  static const char *const outcomes[] = { "holds", "broken", "unknown", "not applicable", NULL };
  *out = (struct sl_outcome){
    .rule = text_of(L, "rule"), .severity = (enum sl_rule_severity)one_of(L, "severity", severities),
    .outcome = (enum sl_rule_outcome)one_of(L, "outcome", outcomes), .waived = is_true(L, "waived"),
    .subject = text_of(L, "subject"), .says = text_of(L, "says"), .comparison = text_of(L, "comparison"),
    .value = value_at(L, "value"), .limit = value_at(L, "limit"), .margin = value_at(L, "margin"),
    .limit_of = text_of(L, "limit_of"), .words = text_of(L, "words"), .help = text_of(L, "help"),
    .cite = text_of(L, "cite"), .caution = text_of(L, "caution"), .file = text_of(L, "file"),
    .line = integer_of(L, "line"), .column = integer_of(L, "column"),
  };
}

static void push_format(lua_State *L, const struct sl_format_row *f) {
  lua_createtable(L, 0, 4);
  set_text(L, "format", f->name);
  set_text(L, "writer", f->writer);
  set_text(L, "before", f->before);
  set_text(L, "after", f->after);
}

/* Protected: (question). */
static int ask(lua_State *L) {
  struct question *q = lua_touserdata(L, 1);
  lua_rawgetp(L, LUA_REGISTRYINDEX, &JUDGED);
  lua_getfield(L, -1, q->function);
  if (lua_isfunction(L, -1)) {
    const int top = lua_gettop(L);
    if (q->text) lua_pushstring(L, q->text);
    if (q->i) lua_pushinteger(L, q->i);
    if (q->format) push_format(L, q->format);
    lua_call(L, lua_gettop(L) - top, 1);
  }
  q->found = lua_toboolean(L, -1);
  if (!q->found) return 0;
  if (q->value) *q->value = value_of(L);
  else if (q->outcome) take_outcome(L, q->outcome);
  else if (lua_isinteger(L, -1)) q->length = (size_t)lua_tointeger(L, -1);
  else q->answer = handed_out(L, &q->length);
  return 0;
}

/* False: there is no answer; where the question can fail, a message says why. */
static bool answered(struct sl_job *job, struct question *q, bool can_fail) {
  q->answer = "";
  if (!job->L) {
    if (can_fail) tell(job, "U001", "nothing is judged", "call sl_job_judge first, and look at what it says");
    return false;
  }
  lua_pushcfunction(job->L, ask);
  lua_pushlightuserdata(job->L, q);
  if (sl_host_call(job->L, 1, 0) == LUA_OK) return q->found;
  if (can_fail) failed(job, job->L);
  lua_settop(job->L, 0);
  return false;
}

const char *sl_job_verdict(struct sl_job *job) {
  struct question q = { .function = "verdict" };
  begin(job);
  answered(job, &q, false);
  end(job);
  return q.answer;
}

bool sl_job_value(struct sl_job *job, const char *path, struct sl_value *out) {
  struct question q = { .function = "value", .text = or_empty(path), .value = out };
  try(job);
  bool found = answered(job, &q, true);
  end(job);
  return found;
}

const char *sl_job_record(struct sl_job *job, const char *kind, size_t i) {
  struct question q = { .function = "record", .text = or_empty(kind), .i = (lua_Integer)i + 1 };
  begin(job);
  answered(job, &q, false);
  end(job);
  return q.answer;
}

size_t sl_job_outcomes(struct sl_job *job) {
  struct question q = { .function = "outcomes" };
  begin(job);
  answered(job, &q, false);
  end(job);
  return q.length;
}

bool sl_job_outcome(struct sl_job *job, size_t i, struct sl_outcome *out) {
  struct question q = { .function = "outcome", .i = (lua_Integer)i + 1, .outcome = out };
  begin(job);
  bool found = answered(job, &q, false);
  end(job);
  return found;
}

/* The row of a format; NULL, and a message, where there is none of that name. */
static const struct sl_format_row *format_called(struct sl_job *job, const char *name) {
  char names[200] = "there are", text[80];
  const struct sl_format_row *f;
  for (size_t i = 0, n = strlen(names); (f = sl_format_at(i)); i++) {
    if (strcmp(f->name, name) == 0) return f;
    if (n < sizeof names) n += (size_t)snprintf(names + n, sizeof names - n, "%s %s", i ? "," : "", f->name);
  }
  snprintf(text, sizeof text, "no report format '%.40s'", name);
  tell(job, "U008", text, names);
  return NULL;
}

const char *sl_job_report(struct sl_job *job, const char *format, size_t *length) {
  try(job);
  struct question q = { .function = "report", .format = format_called(job, or_empty(format)) };
  bool found = q.format && answered(job, &q, true);
  end(job);
  if (length) *length = q.length;
  return found ? q.answer : NULL;
}
