/* SPDX-License-Identifier: MIT
 * Many variants of unlike jobs, judged in one process one after another in a shuffled order, give byte for byte what
 * as many processes of the command print: nothing of a run is left to the next. */
#include "check.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>
#include "stringline/host.h"

#if defined(__has_feature)
#if __has_feature(address_sanitizer)
#define SLOW 1
#endif
#endif
#if defined(SLOW) || defined(__SANITIZE_ADDRESS__)
enum { VARIANTS = 40 };                                  /* a process of a sanitizer's build is slow to start */
#else
enum { VARIANTS = 200 };
#endif
enum { SETS = 3, ROOM = 1 << 20 };

static char command[512];                                /* the program of the same build */

/* What may be put in; a path that the script lacks is a variant too: its message must be the same. */
static const struct choice { const char *path, *values[5]; } choices[] = {
  { "job.units", { "US", "SI", "SI", "US", "imperial" } },
  { "job.stage", { "quote", "permit", "build", "permit", "quote" } },
  { "job.lengths", { "feet and inches", "decimal", "feet and inches", "feet and inches", "decimal" } },
  { "rack.tilt", { "30 deg", "25deg", "40 deg", "0.6 rad", "8 fot" } },
  { "rack.lower_edge", { "2ft 6in", "800 mm", "1 m", "30 in", "-3 ft" } },
  { "rack.east.lower_edge", { "26-3/8 in", "70 cm", "2.5 ft", "610mm", "2 yd" } },
  { "site.frost", { "12 in", "30 cm", "1 m", "0 in", "18in" } },
  { "site.snow", { "10 psf", "1 kPa", "20 psf", "0.5 kN/m2", "30 kg" } },
  { "site.coldest", { "-16 degC", "0 degF", "250 K", "-25 degC", "5 K" } },
  { "strings.series", { "2", "3", "4", "6", "2.5" } },
  { "run.wire", { "8 AWG", "4 AWG", "16 mm2", "6 AWG", "9 AWG" } },
  { "footing.hole_depth", { "36 in", "1.2 m", "66in", "5 ft", "2 ft" } },
};
enum { CHOICES = sizeof choices / sizeof *choices };
static const char *const scripts[] = {
  "examples/egg-farm/job.sline", "tests/golden/jobs/goat-shed/job.sline", "tests/golden/jobs/two-racks/job.sline",
};
static const char *const formats[] = { "text", "json", "csv", "gnu", "html", "sarif", "tap", "markdown" };
static const char *const days[] = { NULL, NULL, "2026-11-02", "2026-11-20", "2027-03-01" };

struct variant {
  const char *script, *alternate, *on, *format;
  bool json;                                             /* the messages */
  int sets;
  const struct choice *choice[SETS];
  const char *value[SETS];
};

static unsigned long long seed;

static unsigned pick(unsigned n) {                       /* Knuth's MMIX generator */
  seed = seed * 6364136223846793005ULL + 1442695040888963407ULL;
  return (unsigned)(seed >> 33) % n;
}

static struct variant any_variant(void) {
  struct variant v = { .script = scripts[pick(3)], .on = days[pick(5)], .json = pick(4) == 0,
    .format = pick(2) ? "text" : formats[pick(8)] };
  if (v.script == scripts[0] && pick(3) == 0) v.alternate = pick(4) ? "six in series" : "none such";
  for (unsigned n = pick(SETS + 1), at = pick(CHOICES); n > 0; n--, at = (at + 1 + pick(3)) % CHOICES) {
    v.choice[v.sets] = &choices[at];
    v.value[v.sets++] = choices[at].values[pick(5)];
  }
  return v;
}

/* What a run says: its status, the report, and the messages as they are shown. */
struct said { int status; char report[ROOM], messages[ROOM]; };

static void slurp(FILE *f, char *to) {
  rewind(f);
  size_t n = fread(to, 1, ROOM - 1, f);
  to[n] = '\0';
  fclose(f);
}

static void in_a_process(const struct variant *v, struct said *out) {
  FILE *report = tmpfile(), *messages = tmpfile();
  static char set[SETS][160];
  const char *args[24] = { command, "run", v->script, "--format", v->format, "--messages", v->json ? "json" : "text" };
  size_t n = 7;
  for (int i = 0; i < v->sets; i++) {
    snprintf(set[i], sizeof set[i], "%s=%s", v->choice[i]->path, v->value[i]);
    args[n++] = "--set";
    args[n++] = set[i];
  }
  if (v->alternate) args[n++] = "--alternate", args[n++] = v->alternate;
  if (v->on) args[n++] = "--on", args[n++] = v->on;
  assert_non_null(report);
  assert_non_null(messages);
  fflush(NULL);
  pid_t child = fork();
  assert_true(child >= 0);
  if (child == 0) {
    dup2(fileno(report), 1);
    dup2(fileno(messages), 2);
    execv(command, (char *const *)(uintptr_t)args);
    _exit(127);
  }
  int status = 0;
  assert_int_equal(waitpid(child, &status, 0), child);
  out->status = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  slurp(report, out->report);
  slurp(messages, out->messages);
}

/* A page without its drawings, which only the command has, and without the hash over all of it. */
static void without_drawings(char *page) {
  char *const from = strstr(page, "<h2>Drawings</h2>"), *const to = from ? strstr(from + 1, "<h2>") : NULL;
  if (to) memmove(from, to, strlen(to) + 1);
  char *const hash = strstr(page, "<p>This report: sha256");
  if (hash) *hash = '\0';
}

static struct sl_job *kept[3][2];                        /* judged again and again, one for each wording */

static void in_this_process(const struct variant *v, struct said *out) {
  struct sl_job_options options = { .alternate = v->alternate, .on = v->on,
    .wording = v->json ? SL_WORDING_JSON : SL_WORDING_TEXT };
  struct sl_job *job = NULL, **place = NULL;
  if (!v->alternate && !v->on)
    for (int i = 0; i < 3; i++)
      if (scripts[i] == v->script) place = &kept[i][v->json];
  if (place) job = *place;
  if (!job) job = sl_job_open(v->script, &options);
  assert_non_null(job);
  if (place) *place = job;
  sl_job_reset(job);
  for (int i = 0; i < v->sets; i++) assert_true(sl_job_set(job, v->choice[i]->path, v->value[i]));
  out->status = (int)sl_job_judge(job);
  *out->report = *out->messages = '\0';
  struct sl_job_message m;
  for (size_t i = 0, n = 0; sl_job_message(job, i, &m) && n < ROOM; i++)
    n += (size_t)snprintf(out->messages + n, ROOM - n, "%s", m.shown);
  if (out->status <= SL_JOB_NOT_READY)
    snprintf(out->report, ROOM, "%s", sl_job_report(job, v->format, NULL));
  if (!place) sl_job_close(job);
}

static void one_process_says_what_many_say(void **state) {
  (void)state;
  static struct said alone, here;
  int of_status[4] = { 0 };
  seed = 20261102;
  for (int i = 0; i < VARIANTS; i++) {
    const struct variant v = any_variant();
    in_a_process(&v, &alone);
    without_drawings(alone.report);
    in_this_process(&v, &here);
    without_drawings(here.report);
    if (alone.status != here.status || strcmp(alone.report, here.report) != 0 ||
        strcmp(alone.messages, here.messages) != 0) {
      for (int k = 0; k < v.sets; k++) print_message("--set '%s=%s'\n", v.choice[k]->path, v.value[k]);
      size_t same = 0;
      while (alone.report[same] && alone.report[same] == here.report[same]) same++;
      print_message("messages alone:\n%s\nhere:\n%s\n", alone.messages, here.messages);
      print_message("%s alone: %.60s\nhere: %.60s\n", v.format, alone.report + same, here.report + same);
      fail_msg("variant %d: %s, alternate %s, on %s: exit %d alone, %d here", i, v.script,
               v.alternate ? v.alternate : "-", v.on ? v.on : "-", alone.status, here.status);
    }
    if (here.status >= 0 && here.status < 4) of_status[here.status]++;
  }
  for (int i = 0; i < 6; i++) sl_job_close(kept[i / 2][i % 2]);
  /* the variants are worth something: many of each kind */
  for (int s = 0; s <= SL_JOB_WRONG; s++) assert_true(of_status[s] >= VARIANTS / 20);
}

int main(int argc, char **argv) {
  (void)argc;
  const char *slash = strrchr(argv[0], '/');
  snprintf(command, sizeof command, "%.*s/../stringline", slash ? (int)(slash - argv[0]) : 1, slash ? argv[0] : ".");
  unsetenv("STRINGLINE_PATH");
  const struct CMUnitTest tests[] = { cmocka_unit_test(one_process_says_what_many_say) };
  return cmocka_run_group_tests_name("variants", tests, NULL, NULL);
}
