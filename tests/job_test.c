/* SPDX-License-Identifier: MIT
 * Scripts run from C, through include/stringline/host.h alone.  Numbers of the egg farm are those of the hand
 * calculation in results/briefs.case; others are worked out beside them. */
#include "check.h"
#include <fcntl.h>
#include <locale.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#include "stringline/host.h"

#define EGG_FARM "examples/egg-farm/job.sline"
#define GOAT_SHED "tests/golden/jobs/goat-shed/job.sline"
#define IN 0.0254

static char folder[64];

static const char *write_script(const char *name, const char *text) {
  static char path[128];
  snprintf(path, sizeof path, "%s/%s", folder, name);
  FILE *f = fopen(path, "wb");
  assert_non_null(f);
  assert_true(fputs(text, f) >= 0);
  assert_int_equal(fclose(f), 0);
  return path;
}

static struct sl_job *open_job(const char *script, const struct sl_job_options *options) {
  struct sl_job *job = sl_job_open(script, options);
  assert_non_null(job);
  return job;
}

static struct sl_value value(struct sl_job *job, const char *path) {
  struct sl_value v;
  struct sl_job_message m;
  if (!sl_job_value(job, path, &v)) {
    sl_job_message(job, 0, &m);
    fail_msg("%s: %s", path, m.text);
  }
  return v;
}

static void judged(struct sl_job *job, enum sl_job_status want) {
  enum sl_job_status got = sl_job_judge(job);
  struct sl_job_message m = { .text = "no message" };
  if (got == want) return;
  sl_job_message(job, 0, &m);
  fail_msg("judged %d, wanted %d: %s", got, want, m.text);
}

static bool outcome_of(struct sl_job *job, const char *rule, struct sl_outcome *out) {
  for (size_t i = 0; sl_job_outcome(job, i, out); i++)
    if (strcmp(out->rule, rule) == 0) return true;
  return false;
}

/* Absolute, as the hand calculation gives its digits. */
static void within(double got, double want, double off) {
  if (!(fabs(got - want) <= off)) fail_msg("got %.10g, wanted %.10g within %g", got, want, off);
}

/* ---- values ------------------------------------------------------------------------------------------------------ */

static void the_egg_farm_comes_out(void **state) {
  (void)state;
  struct sl_job *job = open_job(EGG_FARM, NULL);
  judged(job, SL_JOB_READY);
  const struct sl_value top = value(job, "rack.east.top_edge");
  assert_int_equal(top.kind, SL_VALUE_NUMBER);
  within(top.si / IN, 102.2, 0.05);
  assert_string_equal(top.dimension, "length");
  assert_string_equal(top.unit, "in");
  assert_string_equal(top.text, "8 ft 6-1/4 in");
  assert_string_equal(top.currency, "");
  within(value(job, "run['array to shed'].voltage_drop").si, 0.0204, 5e-5);
  within(value(job, "strings.coldest_voltage").si, 172.9, 0.05);
  within(value(job, "rack.east.post.F1.cut_length").si / IN, 90.625, 0.0625);
  assert_string_equal(value(job, "job.total").currency, "USD");
  assert_non_null(strstr(sl_job_verdict(job), "Egg farm, eight modules - permit"));
  assert_int_equal(sl_job_messages(job), 0);
  sl_job_close(job);
}

/* Slope length 2 x 1722 mm + 20 mm = 3464 mm: the top edge stands 24 in + 3464 mm x sin(tilt) above the datum. */
static void inputs_are_put_in(void **state) {
  (void)state;
  struct sl_job *job = open_job(EGG_FARM, NULL);
  assert_true(sl_job_set_number(job, "rack.east.tilt", 30, "deg"));
  sl_job_judge(job);
  within(value(job, "rack.east.top_edge").si, 24 * IN + 3.464 * 0.5, 1e-9);
  within(value(job, "rack.east.tilt").si, 30 * 3.14159265358979323846 / 180, 1e-12);
  assert_true(sl_job_set(job, "rack.east.tilt", "20 deg"));                /* the same path again */
  assert_true(sl_job_set(job, "rack.east.lower_edge", "2ft 6in"));
  sl_job_judge(job);
  within(value(job, "rack.east.top_edge").si, 30 * IN + 3.464 * 0.3420201433256687, 1e-9);
  sl_job_reset(job);
  judged(job, SL_JOB_READY);
  within(value(job, "rack.east.top_edge").si / IN, 102.2, 0.05);
  sl_job_close(job);
}

static void texts_and_flags_are_put_in(void **state) {
  (void)state;
  struct sl_job *job = open_job(EGG_FARM, NULL);
  assert_true(sl_job_set_text(job, "job.client", "5"));                    /* a text, whatever it says */
  assert_true(sl_job_set(job, "run['array to shed'].wire", "8 AWG"));
  assert_true(sl_job_set(job, "run['array to shed'].stranding", "solid"));
  assert_true(sl_job_set(job, "footing.deep.isolated_posts", "false"));
  assert_true(sl_job_judge(job) <= SL_JOB_NOT_READY);
  assert_int_equal(value(job, "job.client").kind, SL_VALUE_TEXT);
  assert_string_equal(value(job, "job.client").text, "5");
  within(value(job, "run['array to shed'].voltage_drop").si, 0.0318, 5e-5);
  assert_int_equal(value(job, "footing.deep.isolated_posts").kind, SL_VALUE_YES_NO);
  assert_false(value(job, "footing.deep.isolated_posts").yes);
  assert_true(sl_job_set_number(job, "strings.series", 5, NULL));
  assert_true(sl_job_judge(job) <= SL_JOB_NOT_READY);
  within(value(job, "strings.coldest_voltage").si, 216.1, 0.05);
  assert_string_equal(value(job, "strings.series").dimension, "number");
  sl_job_close(job);
}

/* The number is the literal: not one bit apart. */
static void numbers_arrive_whole(void **state) {
  (void)state;
  static const struct { double number; const char *unit, *literal; } rows[] = {
    { 0.1, "m", "0.1m" }, { 23.999999999999996, "in", "23.999999999999996in" }, { 1e-3, "km", "0.001km" },
    { 2.0 / 3, "ft", "0.6666666666666666ft" }, { 610, "mm", "610mm" },
  };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
    struct sl_job *a = open_job(EGG_FARM, NULL), *b = open_job(EGG_FARM, NULL);
    assert_true(sl_job_set_number(a, "rack.east.lower_edge", rows[i].number, rows[i].unit));
    assert_true(sl_job_set(b, "rack.east.lower_edge", rows[i].literal));
    assert_true(sl_job_judge(a) <= SL_JOB_NOT_READY && sl_job_judge(b) <= SL_JOB_NOT_READY);
    const double x = value(a, "rack.east.lower_edge").si, y = value(b, "rack.east.lower_edge").si;
    assert_memory_equal(&x, &y, sizeof x);
    sl_job_close(a);
    sl_job_close(b);
  }
}

static void what_is_no_value_is_refused(void **state) {
  (void)state;
  static const struct { double number; const char *unit, *part; } rows[] = {
    { 3, "fot", "unknown unit 'fot'" }, { 3, "hp", "not taken as a unit" }, { 1.0 / 0.0, "m", "no number" },
    { 0.0 / 0.0, "m", "no number" }, { 1e308, "mi", "too large" },
  };
  struct sl_job *job = open_job(EGG_FARM, NULL);
  struct sl_job_message m;
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
    assert_false(sl_job_set_number(job, "rack.east.tilt", rows[i].number, rows[i].unit));
    assert_int_equal(sl_job_messages(job), 1);
    assert_true(sl_job_message(job, 0, &m));
    if (!strstr(m.text, rows[i].part)) fail_msg("%s, wanted %s", m.text, rows[i].part);
    assert_false(sl_job_message(job, 1, &m));
  }
  assert_false(sl_job_set(job, "rack.east.tilt", "  "));
  assert_int_equal(sl_job_messages(job), 1);
  judged(job, SL_JOB_READY);                                               /* none of them was put in */
  assert_int_equal(sl_job_messages(job), 0);
  sl_job_close(job);
}

static void kinds_of_values(void **state) {
  (void)state;
  struct sl_job *job = open_job(GOAT_SHED, NULL);
  struct sl_value v;
  struct sl_job_message m;
  assert_false(sl_job_value(job, "rack.upper.tilt", &v));                  /* not judged yet */
  assert_true(sl_job_message(job, 0, &m));
  assert_string_equal(m.text, "nothing is judged");
  assert_string_equal(sl_job_verdict(job), "");
  assert_int_equal(sl_job_outcomes(job), 0);
  assert_null(sl_job_report(job, "text", NULL));
  judged(job, SL_JOB_READY);                                               /* a quote: what is unknown is to find out */
  v = value(job, "site.coldest");
  assert_int_equal(v.kind, SL_VALUE_UNKNOWN);
  assert_non_null(strstr(v.text, "site.coldest is not given"));
  assert_true(*v.help != '\0');
  assert_int_equal(value(job, "rack.upper").kind, SL_VALUE_GROUP);
  assert_int_equal(value(job, "rack").items, 1);
  assert_string_equal(sl_job_record(job, "rack", 0), "rack.upper");
  assert_string_equal(sl_job_record(job, "rack", 1), "");
  assert_string_equal(sl_job_record(job, "no such kind", 0), "");
  assert_false(sl_job_value(job, "rack.upper.tlit", &v));
  assert_true(sl_job_message(job, 0, &m));
  assert_non_null(strstr(m.help, "did you mean 'tilt'?"));
  assert_false(sl_job_value(job, "", &v));
  assert_int_equal(sl_job_messages(job), 1);
  assert_false(sl_job_value(job, NULL, &v));
  assert_int_equal(value(job, "rack.tilt").kind, SL_VALUE_NUMBER);         /* goes on after a mistake */
  assert_int_equal(sl_job_messages(job), 0);
  sl_job_close(job);
}

static void lists_are_counted(void **state) {
  (void)state;
  struct sl_job *job = open_job(EGG_FARM, NULL);
  judged(job, SL_JOB_READY);
  assert_int_equal(value(job, "rack.east.posts.front").items, 3);
  assert_string_equal(value(job, "rack.east.posts.front[3]").text, "F3");
  assert_string_equal(value(job, "site.soil.class").text, "clay");
  sl_job_close(job);
}

static int line_of(const char *path, const char *begins) {
  char line[400];
  FILE *f = fopen(path, "rb");
  assert_non_null(f);
  int n = 1;
  while (fgets(line, sizeof line, f) && strncmp(line, begins, strlen(begins)) != 0) n++;
  fclose(f);
  return n;
}

/* ---- rules ------------------------------------------------------------------------------------------------------- */

static void six_in_series_are_too_many(void **state) {
  (void)state;
  struct sl_job *job = open_job(EGG_FARM, &(struct sl_job_options){ .alternate = "six in series" });
  judged(job, SL_JOB_NOT_READY);
  struct sl_outcome o;
  assert_true(outcome_of(job, "R41", &o));
  assert_int_equal(o.outcome, SL_RULE_BROKEN);
  assert_int_equal(o.severity, SL_RULE_STOP);
  assert_false(o.waived);
  assert_string_equal(o.subject, "strings");
  within(o.value.si, 259.3, 0.05);
  within(o.limit.si, 250, 1e-9);
  within(o.margin.si, 250 - 259.3, 0.05);
  assert_string_equal(o.comparison, "at_most");
  assert_string_equal(o.value.unit, "V");
  assert_non_null(strstr(o.limit_of, "shed"));
  assert_non_null(strstr(o.cite, "690.7"));
  assert_non_null(strstr(o.words, "259.3 V > 250 V"));
  assert_true(*o.caution && *o.says);
  assert_string_equal(o.file, EGG_FARM);
  assert_int_equal(o.line, line_of(EGG_FARM, "strings { on = east"));
  assert_int_equal(o.column, 1);
  assert_true(sl_job_outcomes(job) > 30);
  assert_false(sl_job_outcome(job, sl_job_outcomes(job), &o));
  sl_job_close(job);
}

static void unknown_rules_say_why(void **state) {
  (void)state;
  struct sl_job *job = open_job(GOAT_SHED, NULL);
  struct sl_outcome o;
  size_t unknown = 0;
  judged(job, SL_JOB_READY);
  for (size_t i = 0; sl_job_outcome(job, i, &o); i++) {
    if (o.outcome != SL_RULE_UNKNOWN) continue;
    unknown++;
    assert_true(*o.words != '\0');
    assert_int_equal(o.value.kind, SL_VALUE_NONE);
    assert_string_equal(o.value.text, "");
  }
  assert_true(unknown > 0);
  sl_job_close(job);
  job = open_job(GOAT_SHED, NULL);
  assert_true(sl_job_set(job, "job.stage", "permit"));                     /* now they count */
  judged(job, SL_JOB_NOT_READY);
  sl_job_close(job);
}

static void the_day_is_an_option(void **state) {
  (void)state;
  for (int late = 0; late <= 1; late++) {
    const char *on = late ? "2026-11-20" : "2026-11-15";
    struct sl_job *job = open_job(EGG_FARM, &(struct sl_job_options){ .on = on });
    struct sl_outcome o;
    assert_true(sl_job_set(job, "job.stage", "build"));
    assert_true(sl_job_judge(job) <= SL_JOB_NOT_READY);
    assert_non_null(strstr(sl_job_verdict(job), on));
    assert_true(outcome_of(job, "R09", &o));                               /* the locate's ticket ends on the 15th */
    assert_int_equal(o.outcome, late ? SL_RULE_BROKEN : SL_RULE_HOLDS);
    sl_job_close(job);
  }
}

/* ---- reports and messages ---------------------------------------------------------------------------------------- */

static void reports_are_the_command_s(void **state) {
  (void)state;
  struct sl_job *job = open_job(EGG_FARM, NULL);
  judged(job, SL_JOB_READY);
  size_t n;
  const char *text = sl_job_report(job, "text", &n);
  assert_non_null(text);
  assert_int_equal(n, strlen(text));
  FILE *f = fopen("examples/egg-farm/report.txt", "rb");
  assert_non_null(f);
  char *want = calloc(1, n + 2);
  assert_non_null(want);
  assert_int_equal(fread(want, 1, n + 1, f), n);
  fclose(f);
  assert_string_equal(text, want);
  free(want);
  assert_int_equal(*sl_job_report(job, "json", NULL), '{');
  assert_string_equal(text, sl_job_report(job, "text", NULL));             /* the first still stands */
  struct sl_job_message m;
  assert_null(sl_job_report(job, "sonnet", &n));
  assert_true(sl_job_message(job, 0, &m));
  assert_non_null(strstr(m.help, "json"));
  sl_job_close(job);
}

struct broken { const char *name, *script; enum sl_job_status status; const char *code, *part; int line; };
static const struct broken broken[] = {
  { "a length and a force", "job { name = 'x', client = 'c', stage = 'quote' }\nlocal x = 3ft + 2lbf\n", SL_JOB_WRONG,
    "Q003", "cannot add", 2 },
  { "what the scanner refuses", "local x = 3ft\nlocal y = 3 fot + 5fot\n", SL_JOB_WRONG, "Q102", "fot", 2 },
  { "no Lua", "\n\nlocal = 5\n", SL_JOB_WRONG, "L001", "", 3 },
  { "no job", "local x = 3\n", SL_JOB_WRONG, "D010", "job", 0 },
  { "an endless loop", "while true do end\n", SL_JOB_STOPPED, "S001", "steps", 1 },
  { "too much memory", "local t = {} for i = 1, 1e9 do t[i] = 'x' .. i end\n", SL_JOB_STOPPED, "S001", "memory", 0 },
  { "a file that is not there", "\nplace 'nowhere'\n", SL_JOB_STOPPED, "F021", "cannot read", 2 },
};

/* All that is wrong is told, line by line, but no more than 50; the last says how many more there are. */
static void all_faults_are_told(void **state) {
  (void)state;
  enum { WRONG = 60, TOLD = 50 };
  char script[40 * WRONG + 200] = "job { name = 'x', client = 'c', stage = 'quote' }\n", last[40];
  size_t n = strlen(script);
  for (int i = 0; i < WRONG; i++)
    n += (size_t)sprintf(script + n, "rack_type 't%d' { tilt = %dft }\n", i, i + 1);
  struct sl_job *job = open_job(write_script("faults.sline", script), NULL);
  struct sl_job_message m;
  judged(job, SL_JOB_WRONG);
  assert_int_equal(sl_job_messages(job), TOLD);
  for (int i = 0; i < TOLD; i++) {
    assert_true(sl_job_message(job, (size_t)i, &m));
    assert_string_equal(m.code, "D003");
    assert_int_equal(m.line, i + 2);
  }
  sprintf(last, "and %d more", WRONG - TOLD);
  assert_non_null(strstr(m.shown, last));
  sl_job_close(job);
}

static void broken_scripts_say_where(void **state) {
  const struct broken *r = *state;
  const char *path = write_script("broken.sline", r->script);
  struct sl_job *job = open_job(path, &(struct sl_job_options){ .steps = 20000000, .memory = (size_t)32 << 20 });
  judged(job, r->status);
  struct sl_job_message m;
  assert_true(sl_job_message(job, 0, &m));
  if (strcmp(m.code, r->code) != 0 || !strstr(m.text, r->part) || (r->line && m.line != r->line))
    fail_msg("[%s] line %d: %s", m.code, m.line, m.text);
  if (r->line) assert_string_equal(m.file, path);
  assert_non_null(strstr(m.shown, m.text));
  struct sl_value v;
  assert_false(sl_job_value(job, "job.name", &v));
  write_script("broken.sline", "job { name = 'mended', client = 'c', stage = 'quote' }\n");
  judged(job, SL_JOB_READY);                                               /* the same job, the script mended */
  assert_string_equal(value(job, "job.name").text, "mended");
  sl_job_close(job);
}

static void other_mistakes_are_told(void **state) {
  (void)state;
  struct sl_job_message m;
  struct sl_job *job = open_job("no/such/script.sline", NULL);
  judged(job, SL_JOB_STOPPED);
  assert_true(sl_job_message(job, 0, &m));
  assert_string_equal(m.code, "F021");
  sl_job_close(job);
  job = open_job(EGG_FARM, &(struct sl_job_options){ .alternate = "seven in series", .wording = SL_WORDING_JSON });
  judged(job, SL_JOB_WRONG);
  assert_true(sl_job_message(job, 0, &m));
  assert_string_equal(m.code, "U002");
  assert_non_null(strstr(m.help, "six in series"));
  assert_int_equal(*m.shown, '{');
  sl_job_close(job);
  job = open_job(EGG_FARM, NULL);
  assert_true(sl_job_set_number(job, "rack.eats.tilt", 30, "deg"));
  judged(job, SL_JOB_WRONG);
  assert_true(sl_job_message(job, 0, &m));
  assert_string_equal(m.code, "D019");
  assert_non_null(strstr(m.text, "--set rack.eats.tilt=30 deg"));
  sl_job_close(job);
  sl_job_close(NULL);
}

struct said { char text[4][80]; int line[4]; size_t n; };

static void say(void *context, const struct sl_job_message *line) {
  struct said *s = context;
  if (s->n == 4) return;
  snprintf(s->text[s->n], sizeof s->text[s->n], "%s", line->text);
  s->line[s->n++] = line->line;
}

#define TALKS "job { name = 'x', client = 'c', stage = 'quote' }\nprint('one', 3ft)\nprint('two\\nthree')\n"

static void prints_are_handed_over(void **state) {
  (void)state;
  struct said s = { .n = 0 };
  struct sl_job *job = open_job(write_script("talks.sline", TALKS), &(struct sl_job_options){ .print = say,
    .context = &s });
  judged(job, SL_JOB_READY);
  assert_int_equal(s.n, 3);
  assert_string_equal(s.text[0], "one 3 ft");
  assert_string_equal(s.text[1], "two");
  assert_string_equal(s.text[2], "three");
  assert_int_equal(s.line[2], 3);
  sl_job_close(job);
}

/* Neither what a script prints nor what goes wrong reaches the program's own output. */
static void nothing_is_printed(void **state) {
  (void)state;
  char path[128], script[128];
  snprintf(script, sizeof script, "%s", write_script("talks.sline", TALKS "local x = 3ft + 2lbf\n"));
  snprintf(path, sizeof path, "%s/printed", folder);
  fflush(NULL);
  int out = dup(1), err = dup(2), file = open(path, O_RDWR | O_CREAT | O_TRUNC, 0600);
  assert_true(out >= 0 && err >= 0 && file >= 0);
  dup2(file, 1);
  dup2(file, 2);
  struct sl_job *job = sl_job_open(script, NULL);
  enum sl_job_status status = sl_job_judge(job);
  sl_job_close(job);
  job = sl_job_open(EGG_FARM, NULL);
  struct sl_value v;
  bool good = sl_job_judge(job) == SL_JOB_READY && sl_job_report(job, "text", NULL) && !sl_job_value(job, "x", &v);
  sl_job_close(job);
  fflush(NULL);
  dup2(out, 1);
  dup2(err, 2);
  off_t size = lseek(file, 0, SEEK_END);
  close(out);
  close(err);
  close(file);
  unlink(path);
  assert_int_equal(status, SL_JOB_WRONG);
  assert_true(good);
  assert_int_equal(size, 0);
}

/* A program's own locale, with a decimal comma, neither reaches the numbers nor is changed. */
static void the_locale_is_the_program_s(void **state) {
  (void)state;
  char command[256];
  snprintf(command, sizeof command, "localedef -i de_DE -f UTF-8 %s/de_DE.UTF-8 >/dev/null 2>&1", folder);
  const int made = system(command);
  setenv("LOCPATH", folder, 1);
  if (made || !setlocale(LC_ALL, "de_DE.UTF-8")) skip();                   /* the system cannot make one */
  struct sl_job *job = open_job(EGG_FARM, NULL);
  assert_true(sl_job_set_number(job, "rack.east.lower_edge", 24.5, "in"));
  assert_true(sl_job_judge(job) <= SL_JOB_NOT_READY);
  assert_string_equal(value(job, "rack.east.lower_edge").text, "2 ft 1/2 in");
  within(value(job, "rack.east.lower_edge").si, 24.5 * IN, 1e-12);
  char text[16];
  snprintf(text, sizeof text, "%.1f", 1.5);
  assert_string_equal(text, "1,5");                                        /* its own is as it was */
  sl_job_close(job);
  setlocale(LC_ALL, "C");
  snprintf(command, sizeof command, "rm -rf %s/de_DE.UTF-8", folder);
  assert_int_equal(system(command), 0);
}

/* ---- side by side ------------------------------------------------------------------------------------------------ */

/* Two jobs, one in US units and one in SI, each with a style, texts, literals and unit names of its own. */
static void two_jobs_stand_side_by_side(void **state) {
  (void)state;
  struct sl_job *us = open_job(EGG_FARM, NULL), *si = open_job(GOAT_SHED, NULL);
  char *alone[2], *beside[2];
  judged(us, SL_JOB_READY);
  alone[0] = strdup(sl_job_report(us, "text", NULL));
  judged(si, SL_JOB_READY);
  alone[1] = strdup(sl_job_report(si, "text", NULL));
  assert_string_equal(value(us, "rack.east.slope_length").unit, "in");
  assert_string_equal(value(si, "rack.upper.slope_length").unit, "mm");
  assert_true(sl_job_set(us, "site.frost", "30 cm"));
  judged(us, SL_JOB_READY);
  assert_string_equal(value(us, "site.frost").text, "30 cm");
  sl_job_reset(us);
  judged(us, SL_JOB_READY);
  assert_string_equal(value(si, "rack.upper.lower_edge").text, "800 mm");
  beside[0] = strdup(sl_job_report(us, "text", NULL));
  beside[1] = strdup(sl_job_report(si, "text", NULL));
  for (int i = 0; i < 2; i++) {
    assert_string_equal(alone[i], beside[i]);
    free(alone[i]);
    free(beside[i]);
  }
  sl_job_close(us);
  assert_string_equal(value(si, "rack.upper.lower_edge").text, "800 mm");
  sl_job_close(si);
}

struct worker { pthread_t thread; const char *script; double edge; char *report; };

static void *work(void *arg) {
  struct worker *w = arg;
  struct sl_job *job = sl_job_open(w->script, NULL);
  for (int i = 0; job && i < 3; i++) {
    free(w->report);
    w->report = NULL;
    sl_job_set_number(job, strcmp(w->script, EGG_FARM) == 0 ? "rack.east.lower_edge" : "rack.upper.lower_edge",
                      w->edge, "mm");
    if (sl_job_judge(job) <= SL_JOB_NOT_READY) w->report = strdup(sl_job_report(job, "text", NULL));
  }
  sl_job_close(job);
  return NULL;
}

static void jobs_run_on_threads_of_their_own(void **state) {
  (void)state;
  enum { WORKERS = 6 };
  struct worker serial[WORKERS] = { { 0 } }, parallel[WORKERS];
  for (int i = 0; i < WORKERS; i++) {
    serial[i].script = i % 2 ? EGG_FARM : GOAT_SHED;
    serial[i].edge = 600 + 50 * i;
    parallel[i] = serial[i];
    work(&serial[i]);
  }
  for (int i = 0; i < WORKERS; i++) assert_int_equal(pthread_create(&parallel[i].thread, NULL, work, &parallel[i]), 0);
  for (int i = 0; i < WORKERS; i++) {
    pthread_join(parallel[i].thread, NULL);
    assert_non_null(serial[i].report);
    assert_non_null(parallel[i].report);
    assert_string_equal(serial[i].report, parallel[i].report);
    if (i >= 2) assert_string_not_equal(serial[i].report, serial[i - 2].report);
  }
  for (int i = 0; i < WORKERS; i++) {
    free(serial[i].report);
    free(parallel[i].report);
  }
}

static int setup(void **state) {
  (void)state;
  snprintf(folder, sizeof folder, "/tmp/stringline-test-XXXXXX");
  return mkdtemp(folder) ? 0 : -1;
}

static int teardown(void **state) {
  (void)state;
  static const char *const names[] = { "broken.sline", "talks.sline", "faults.sline" };
  char path[128];
  for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
    snprintf(path, sizeof path, "%s/%s", folder, names[i]);
    unlink(path);
  }
  return rmdir(folder);
}

int main(void) {
  static struct CMUnitTest tests[40];
  static const struct CMUnitTest all[] = {
    cmocka_unit_test(the_egg_farm_comes_out), cmocka_unit_test(inputs_are_put_in),
    cmocka_unit_test(texts_and_flags_are_put_in), cmocka_unit_test(numbers_arrive_whole),
    cmocka_unit_test(what_is_no_value_is_refused), cmocka_unit_test(kinds_of_values),
    cmocka_unit_test(lists_are_counted), cmocka_unit_test(six_in_series_are_too_many),
    cmocka_unit_test(unknown_rules_say_why), cmocka_unit_test(the_day_is_an_option),
    cmocka_unit_test(all_faults_are_told),
    cmocka_unit_test(reports_are_the_command_s), cmocka_unit_test(other_mistakes_are_told),
    cmocka_unit_test(prints_are_handed_over), cmocka_unit_test(nothing_is_printed),
    cmocka_unit_test(the_locale_is_the_program_s), cmocka_unit_test(two_jobs_stand_side_by_side),
    cmocka_unit_test(jobs_run_on_threads_of_their_own),
  };
  size_t n = 0;
  for (size_t i = 0; i < sizeof all / sizeof *all; i++) tests[n++] = all[i];
  for (size_t i = 0; i < sizeof broken / sizeof *broken; i++)
    tests[n++] = (struct CMUnitTest){ broken[i].name, broken_scripts_say_where, NULL, NULL,
                                      (void *)(uintptr_t)&broken[i] };
  return _cmocka_run_group_tests("job", tests, n, setup, teardown);
}
