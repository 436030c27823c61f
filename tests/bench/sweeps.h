/* SPDX-License-Identifier: MIT
 * The bench of sweeps: a grid of four axes against the calls of a variant from C, a sample, two workers against two
 * processes, memory. */
#ifndef SL_BENCH_SWEEPS_H
#define SL_BENCH_SWEEPS_H

#include <fcntl.h>
#include <spawn.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>
#include "ratio.h"

extern char **environ;
enum { SWEEP_WORDS = 32, PAIRS = 3 };
static const double grid_variants = 100500, sample_variants = 20001, small_variants = 10050;

/* A sweep of the first whole job under way. */
struct sweep { pid_t pid; double began; };
struct swept { double seconds; long kilobytes; };

/* columns 5 x depths 20 x wires 5 x dawns 201, or so many of them as `columns` and `depths` say. */
static inline struct sweep begin_sweep(char *stringline, const char *store, const char *columns, const char *depths,
                                       char *const more[]) {
  char vary_columns[100], vary_depths[100], sweep[] = "sweep", job[] = "examples/egg-farm/job.sline", vary[] = "--vary";
  char wire[] = "run['array to shed'].wire=10 AWG, 8 AWG, 4 AWG, 3 AWG", least[] = "--least", total[] = "job.total";
  char dawns[] = "site.coldest=-30degC to -10degC by 0.1K", keep[] = "--keep", edge[] = "rack.east.top_edge";
  char in[] = "--store", path[200];
  snprintf(vary_columns, sizeof vary_columns, "rack.east.columns=%s", columns);
  snprintf(vary_depths, sizeof vary_depths, "footing.deep.hole_depth=%s", depths);
  snprintf(path, sizeof path, "%s", store);
  char *words[SWEEP_WORDS] = { stringline, sweep, job, vary, vary_columns, vary, vary_depths, vary, wire, vary, dawns,
                               least, total, keep, edge, in, path };
  int n = 17;
  for (int i = 0; more[i]; i++) words[n++] = more[i];
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_addopen(&actions, 1, "/dev/null", O_WRONLY, 0);
  struct sweep s = { .began = now() };
  if (posix_spawnp(&s.pid, words[0], &actions, NULL, words, environ) != 0) die("cannot start a sweep");
  posix_spawn_file_actions_destroy(&actions);
  return s;
}

static inline struct swept end_sweep(struct sweep s, const char *store) {
  int status;
  struct rusage used;
  if (wait4(s.pid, &status, 0, &used) < 0) die("a sweep is lost");
  if (!WIFEXITED(status) || WEXITSTATUS(status) > 1) die("a sweep did not end well");
  if (store) unlink(store);
  return (struct swept){ now() - s.began, used.ru_maxrss };
}

static char sl_columns[] = "5, 6, 7, 8", sl_depths[] = "67in to 85in by 1in";
static char sl_jobs[] = "--jobs", sl_one[] = "1", sl_two[] = "2", sl_shard[] = "--shard";

static inline struct swept sweep(char *stringline, const char *store, const char *depths, char *const more[]) {
  return end_sweep(begin_sweep(stringline, store, sl_columns, depths, more), store);
}

/* Of sweeps side by side, each with its store. */
struct night { const char *store; char *const *more; };

/* Seconds from the first one's beginning to the last one's end. */
static inline double side_by_side(char *stringline, const struct night *nights, int n, bool remove) {
  struct sweep under_way[2];
  const double before = now();
  for (int i = 0; i < n; i++)
    under_way[i] = begin_sweep(stringline, nights[i].store, sl_columns, sl_depths, nights[i].more);
  for (int i = 0; i < n; i++) end_sweep(under_way[i], remove ? nights[i].store : NULL);
  return now() - before;
}

/* What they take to judge: all of it, without what they take where all is judged already, which is the answer's. */
static inline double judging(char *stringline, const struct night *nights, int n) {
  const double all = side_by_side(stringline, nights, n, false);
  return all - side_by_side(stringline, nights, n, true);
}

/* Two workers of one process against two processes of one worker, in turn. */
static inline void two_workers(char *stringline, const char *folder) {
  static double together[PAIRS], apart[PAIRS];
  char first[] = "0/2", second[] = "1/2", a[200], b[200];
  char *const both[] = { sl_jobs, sl_two, NULL };
  char *const half[][5] = { { sl_jobs, sl_one, sl_shard, first, NULL }, { sl_jobs, sl_one, sl_shard, second, NULL } };
  snprintf(a, sizeof a, "%s/a.sweep", folder);
  snprintf(b, sizeof b, "%s/b.sweep", folder);
  const struct night one[] = { { a, both } }, two[] = { { a, half[0] }, { b, half[1] } };
  for (int i = 0; i < PAIRS; i++) {
    together[i] = judging(stringline, one, 1);
    apart[i] = judging(stringline, two, 2);
  }
  const double ratio = median(apart, PAIRS) / median(together, PAIRS);
  printf("%-34s %9.2f s   against two processes of one %.2f s: %.2f, at least 0.93: %s\n", "two workers judge",
         median(together, PAIRS), median(apart, PAIRS), ratio, ratio >= 0.93 ? "met" : "NOT MET");
}

struct sweeps { struct swept grid, small, sample; };

/* While this process is small: the memory of a child is told as at least that of whoever started it. */
static inline struct sweeps measure_sweeps(char *stringline, const char *folder) {
  char store[200], sampled[] = "--sample", many[] = "20000", few_depths[] = "67in";
  char *const one[] = { sl_jobs, sl_one, NULL }, *const drawn[] = { sl_jobs, sl_one, sampled, many, NULL };
  struct sweeps s;
  snprintf(store, sizeof store, "%s/grid.sweep", folder);
  s.grid = sweep(stringline, store, sl_depths, one);
  s.small = sweep(stringline, store, few_depths, one);
  s.sample = sweep(stringline, store, sl_depths, drawn);
  return s;
}

/* least: seconds for the calls of a variant from C. */
static inline void tell_sweeps(const struct sweeps *s, double least) {
  tell("a variant of a grid, and its row", s->grid.seconds / grid_variants, "four axes, one worker", least,
       "its calls in C", 1e6, "us", 5);
  const double rate = grid_variants / s->grid.seconds;
  printf("%-34s %9.0f a second of %.0f, at least 9000: %s\n", "variants of a grid, a worker", rate, grid_variants,
         rate >= 9000 ? "met" : "NOT MET");
  printf("%-34s %9.0f a second of %.0f\n", "variants of a sample, a worker", sample_variants / s->sample.seconds,
         sample_variants);
  const double large = (double)s->grid.kilobytes / 1024, small = (double)s->small.kilobytes / 1024;
  printf("%-34s %9.1f MiB for %.0f variants, %.1f MiB for %.0f; at most 8 MiB more: %s\n", "memory of a sweep", large,
         grid_variants, small, small_variants, large - small <= 8 ? "met" : "NOT MET");
}

#endif
