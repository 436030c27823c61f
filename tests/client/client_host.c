/* SPDX-License-Identifier: MIT
 * A program of somebody else's that runs a script: installed headers and libraries, nothing of Lua, nothing of the
 * sources.  client_host EXAMPLES FOLDER: the folder of the examples, and one that it may write to.
 * The numbers are those of the egg farm's hand calculation (tests/results/briefs.case says where they come from). */
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <stringline/host.h>
#include <stringline/strings.h>

static int failed;

static void near(const char *what, double got, double want, double most_off) {
  if (fabs(got - want) <= most_off) return;
  printf("%s: %.6g, wanted %.6g\n", what, got, want);
  failed = 1;
}

static void yes(const char *what, int condition) {
  if (condition) return;
  printf("%s\n", what);
  failed = 1;
}

static void tilted(const char *script) {
  struct sl_job *job = sl_job_open(script, NULL);
  struct sl_value v = { .si = 0 };
  yes("the farm as it stands is ready", sl_job_judge(job) == SL_JOB_READY);
  yes("it has a top edge", sl_job_value(job, "rack.east.top_edge", &v));
  near("top edge, in", v.si / 0.0254, 102.2, 0.05);
  yes("a tilt is put in", sl_job_set_number(job, "rack.east.tilt", 30, "deg"));
  yes("it is judged again", sl_job_judge(job) <= SL_JOB_NOT_READY);
  yes("it has another top edge", sl_job_value(job, "rack.east.top_edge", &v));
  near("top edge at 30 deg, m", v.si, 24 * 0.0254 + 3.464 * 0.5, 1e-9);      /* slope 2 x 1722 + 20 mm, half of it up */
  yes("what it is", v.kind == SL_VALUE_NUMBER && strcmp(v.dimension, "length") == 0);
  yes("the report tells what was put in", strstr(sl_job_report(job, "text", NULL), "rack.east.tilt=30 deg") != NULL);
  sl_job_close(job);
}

/* R41, six in series: 39.2 V x (1 - 0.0025 x (-16 - 25)) x 6 = 259.3 V against 250 V; the calculation says the same. */
static void six_in_series(const char *script) {
  const struct sl_cold_voltage_in cold = { .voc = 39.2, .coefficient = -0.0025, .series = 6, .coldest = 257.15,
    .limit = 250, .edition = "NEC 2023" };
  struct sl_cold_voltage_out volts;
  struct sl_job *job = sl_job_open(script, &(struct sl_job_options){ .alternate = "six in series" });
  struct sl_outcome o;
  int found = 0;
  yes("six in series are too many", sl_job_judge(job) == SL_JOB_NOT_READY);
  for (size_t i = 0; sl_job_outcome(job, i, &o); i++) {
    if (strcmp(o.rule, "R41") != 0) continue;
    found++;
    yes("R41 is broken", o.outcome == SL_RULE_BROKEN && o.severity == SL_RULE_STOP && !o.waived);
    near("its voltage", o.value.si, 259.3, 0.05);
    near("its limit", o.limit.si, 250, 1e-9);
    near("its margin", o.margin.si, -9.3, 0.05);
    yes("where it stands", strstr(o.cite, "690.7") != NULL && strstr(o.file, "job.sline") != NULL && o.line > 0);
    yes("the calculation", sl_cold_voltage(&cold, &volts, NULL) == SL_OK);
    near("calculated and judged", o.value.si, volts.voltage, 1e-6);
  }
  yes("R41 was judged once", found == 1);
  yes("the verdict says so", strstr(sl_job_verdict(job), "NOT READY") != NULL);
  sl_job_close(job);
}

static void broken(const char *folder) {
  char path[512];
  struct sl_job_message m;
  snprintf(path, sizeof path, "%s/broken.sline", folder);
  FILE *f = fopen(path, "w");
  if (!f) { yes("a script is written", 0); return; }
  fputs("local x = 3ft\nlocal y = x + 2lbf\n", f);
  fclose(f);
  struct sl_job *job = sl_job_open(path, NULL);
  yes("a broken script is wrong", sl_job_judge(job) == SL_JOB_WRONG);
  yes("it has a message", sl_job_messages(job) == 1 && sl_job_message(job, 0, &m));
  yes("its words", strcmp(m.code, "Q003") == 0 && strstr(m.text, "cannot add") != NULL);
  yes("its place", strcmp(m.file, path) == 0 && m.line == 2 && m.column == 13);
  sl_job_close(job);
  remove(path);
}

int main(int argc, char **argv) {
  char script[512];
  if (argc != 3) return 2;
  snprintf(script, sizeof script, "%s/egg-farm/job.sline", argv[1]);
  tilted(script);
  six_in_series(script);
  broken(argv[2]);
  return failed;
}
