/* SPDX-License-Identifier: MIT
 * A fuzz target as a plain program: the seeds, then COUNT inputs made from them, the same ones everywhere.
 *
 *   build/tests/fuzz/NAME_fuzz [--count N] [--seed S] [--only K[-L]] [FILE|FOLDER ...]
 *
 * Without files the seeds are those of tests/fuzz/corpus/NAME, and 20,000 inputs are made; with files these are tried
 * alone, unless a count is given.  --only K: the made input K, or those from K to L, without the seeds.
 *
 * Input K rests on S, K, seeds and dictionary alone.  A process tries one after the other, so that what a target keeps
 * is kept; where it ends before its time, the input is written to a file, and another process goes on behind it. */
#define _DEFAULT_SOURCE                      /* MAP_ANONYMOUS */
#include "fuzz.h"
#include <dirent.h>
#include <signal.h>
#include <stdbool.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>
#include "mutator.h"

#pragma weak LLVMFuzzerCustomMutator
#define SECONDS 60                           /* for one input: one that takes longer hangs */
#define MEMORY_KB (2l << 20)                 /* for all of them */
#define FINDINGS 10                          /* then it is enough */

static struct {
  const char *program;                       /* as it was called */
  char name[64];                             /* of the target */
  struct pieces seeds, words;
  const char **names;                        /* of the seeds */
  size_t max;                                /* bytes of an input */
  uint64_t seed;
} my;
static struct lot lot;                       /* of the input at hand */

/* ---- seeds ------------------------------------------------------------------------------------------------------- */

static void add_file(const char *path) {
  FILE *in = fopen(path, "rb");
  if (!in) perror(path), exit(2);
  struct piece one = { NULL, 0 };
  for (size_t got = 1; got; one.len += got) {
    one.at = need(realloc(one.at, one.len + 65536));
    got = fread(one.at + one.len, 1, 65536, in);
  }
  fclose(in);
  my.seeds.list = need(realloc(my.seeds.list, (my.seeds.n + 1) * sizeof *my.seeds.list));
  my.names = need(realloc(my.names, (my.seeds.n + 1) * sizeof *my.names));
  my.names[my.seeds.n] = path;
  my.seeds.list[my.seeds.n++] = one;
  if (one.len > my.max) my.max = one.len;
}
static int plain(const struct dirent *entry) { return *entry->d_name != '.'; }
static int by_bytes(const struct dirent **a, const struct dirent **b) { return strcmp((*a)->d_name, (*b)->d_name); }
static void add(const char *path) {
  struct dirent **list;
  int n = scandir(path, &list, plain, by_bytes);
  if (n < 0) add_file(path);
  for (int i = 0; i < n; i++) {
    const size_t len = strlen(path) + strlen(list[i]->d_name) + 2;
    char *file = need(malloc(len));
    snprintf(file, len, "%s/%s", path, list[i]->d_name);
    add_file(file);
    free(list[i]);
  }
  if (n >= 0) free(list);
}

/* ---- inputs ------------------------------------------------------------------------------------------------------ */

size_t LLVMFuzzerMutate(uint8_t *data, size_t size, size_t max) {
  return mutator_change(data, size, max, &my.seeds, &my.words, &lot);
}

/* Makes input k in data; gives its size. */
static size_t make(size_t k, uint8_t *data) {
  lot = (struct lot){ my.seed ^ ((uint64_t)k << 20) };
  size_t size = 0;
  if (my.seeds.n && lot_below(&lot, 64)) {
    const struct piece *from = &my.seeds.list[lot_below(&lot, my.seeds.n)];
    memcpy(data, from->at, size = from->len);
  }
  for (size_t rounds = 1 + lot_below(&lot, (size_t)1 << lot_below(&lot, 5)); rounds--;)
    size = LLVMFuzzerCustomMutator ? LLVMFuzzerCustomMutator(data, size, my.max, (unsigned)lot_draw(&lot))
                                   : LLVMFuzzerMutate(data, size, my.max);
  return size;
}

/* Input i: a seed, or behind them a made one, in memory of its very size, so that what reads past it is noticed. */
static struct piece input(size_t i) {
  struct piece one;
  if (i < my.seeds.n) {
    one = my.seeds.list[i];
    uint8_t *own = need(malloc(one.len ? one.len : 1));
    if (one.len) memcpy(own, one.at, one.len);
    one.at = own;
  } else {
    one.at = need(malloc(my.max));
    one.len = make(i - my.seeds.n, one.at);
    one.at = need(realloc(one.at, one.len ? one.len : 1));
  }
  return one;
}

/* ---- processes --------------------------------------------------------------------------------------------------- */

static volatile size_t *at;                  /* the input at hand; shared by the processes */

/* Tries the inputs from `from` to before `to` in a process of its own; gives its status. */
static int try(size_t from, size_t to, bool quiet) {
  *at = from;
  fflush(NULL);
  const pid_t child = fork();
  if (child < 0) perror("fork"), exit(3);
  if (child == 0) {
    prctl(PR_SET_PDEATHSIG, SIGKILL);                    /* nothing goes on alone */
    if (quiet && !freopen("/dev/null", "w", stderr)) exit(3);
    struct rusage use;
    for (; *at < to; *at = *at + 1) {
      struct piece one = input(*at);
      alarm(SECONDS);
      LLVMFuzzerTestOneInput(one.at, one.len);
      free(one.at);
      LAW_OR(getrusage(RUSAGE_SELF, &use) == 0 && use.ru_maxrss < MEMORY_KB, "%ld KB of memory", use.ru_maxrss);
    }
    alarm(0);
    exit(0);                                             /* where a sanitizer looks for what was lost */
  }
  int status;
  if (waitpid(child, &status, 0) < 0) perror("waitpid"), exit(3);
  return status;
}

static void tell_how(int status) {
  printf("%s: FOUND: ", my.name);
  if (WIFEXITED(status)) printf("exit %d", WEXITSTATUS(status));
  else if (WTERMSIG(status) == SIGALRM) printf("more than %d s", SECONDS);
  else printf("%s", strsignal(WTERMSIG(status)));
}

/* Says how to see again what was found at input i by a process that began at `from`. */
static void tell(size_t i, size_t from, int status) {
  tell_how(status);
  char file[4096];
  if (i < my.seeds.n) snprintf(file, sizeof file, "%s", my.names[i]);
  else {
    struct piece one = input(i);
    snprintf(file, sizeof file, "%s.%zu.input", my.program, i - my.seeds.n);
    FILE *out = fopen(file, "wb");
    if (!out || fwrite(one.at, 1, one.len, out) != one.len || fclose(out)) perror(file);
    free(one.at);
  }
  printf(" at %s\n  again: %s %s\n", file, my.program, file);
  if (try(i, i + 1, true)) return;
  printf("  alone it passes: something is kept from those before it");
  if (from >= my.seeds.n)
    printf("\n  again: %s --seed %llu --only %zu-%zu", my.program, (unsigned long long)my.seed, from - my.seeds.n,
           i - my.seeds.n);
  putchar('\n');
}

/* ---- command line ------------------------------------------------------------------------------------------------ */

static _Noreturn void usage(void) {
  fprintf(stderr, "usage: %s [--count N] [--seed S] [--only K[-L]] [FILE|FOLDER ...]\n", my.program);
  exit(2);
}

int main(int argc, char **argv) {
  my.program = argv[0];
  my.max = 4096;
  my.seed = 1;
  const char *slash = strrchr(argv[0], '/');
  snprintf(my.name, sizeof my.name, "%s", slash ? slash + 1 : argv[0]);
  char *end = strstr(my.name, "_fuzz"), path[128];
  if (end) *end = '\0';

  bool counted = false, only = false;
  size_t count = 20000, first = 0, last = 0;
  for (int i = 1; i < argc; i++) {
    const char *value = i + 1 < argc ? argv[i + 1] : "";
    if (argv[i][0] != '-') add(argv[i]);
    else if (!strcmp(argv[i], "--count") && sscanf(value, "%zu", &count) == 1) counted = true, i++;
    else if (!strcmp(argv[i], "--seed") && sscanf(value, "%llu", &(unsigned long long){ 0 }) == 1)
      my.seed = strtoull(value, NULL, 10), i++;
    else if (!strcmp(argv[i], "--only") && sscanf(value, "%zu-%zu", &first, &last) >= 1)
      only = true, last = last < first ? first : last, i++;
    else usage();
  }
  if (my.seeds.n && !counted && !only) count = 0;
  if (!my.seeds.n) {
    snprintf(path, sizeof path, "tests/fuzz/corpus/%s", my.name);
    add(path);
  }
  snprintf(path, sizeof path, "tests/fuzz/%s.dict", my.name);
  if (!mutator_words(path, &my.words)) return 2;
  at = mmap(NULL, sizeof *at, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
  if (at == MAP_FAILED) return perror("mmap"), 3;

  size_t from = only ? my.seeds.n + first : 0, to = only ? my.seeds.n + last + 1 : my.seeds.n + count, found = 0;
  const size_t inputs = to - from;
  size_t tried = 0;
  while (from < to && found < FINDINGS) {
    const int status = try(from, to, false);
    const size_t stop = *at;
    tried += stop - from;
    if (!status) break;
    found++;
    if (stop < to) tell(stop, from, status), tried++;
    else tell_how(status), printf(" behind the last input\n");
    from = stop + 1;
  }
  if (tried < inputs) printf("%s: %zu inputs are not tried\n", my.name, inputs - tried);
  printf("%s: %zu passed, %zu failed\n", my.name, tried - found, found);
  return found > 0;
}
