/* SPDX-License-Identifier: MIT
 * Runs of the whole command in which memory is refused at one request, or from one on: each ends as it would have, or
 * with status 3 and the words for that; nothing crashes, hangs, leaks, or leaves half a file.
 *
 * The linker hands every request of ours to the functions below, and the engine's allocator is called through one that
 * counts: where it is to fail, the pool has nothing at hand and the system gives nothing.
 * starved_test whole: tries every request instead of a sample. */
#define _GNU_SOURCE
#include "check.h"
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <lua.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>
#include "box/safe.h"
#if SL_ADDRESS_SANITIZER
#include <sanitizer/lsan_interface.h>
#endif

int stringline_main(int argc, char **argv);              /* interp/main.c, under another name */

/* Requests that are all tried, and further ones; with the sanitizers, which look for leaks behind each run, fewer. */
#if SL_ADDRESS_SANITIZER
enum { EACH = 20, STEPS = 30 };
#else
enum { EACH = 60, STEPS = 70 };
#endif
enum { LONGEST = 60, TOLD = 5 };                         /* seconds of a run; faults that are told */

/* ---- requests ---------------------------------------------------------------------------------------------------- */

/* Shared with the runs: requests counted so far; the one that fails; whether those behind it do; whether the engine's
 * are not counted. */
static struct starving { long n, at; bool onward, ours; } *s;
static bool engine, none;                                /* the engine asks, and was counted; it gets nothing */

static bool refused(void) {
  if (engine) return none;
  s->n++;
  const bool no = s->at && (s->onward ? s->n >= s->at : s->n == s->at);
  if (no) errno = ENOMEM;
  return no;
}

void *__real_malloc(size_t size);
void *__real_calloc(size_t n, size_t size);
void *__real_realloc(void *block, size_t size);
void *__real_aligned_alloc(size_t align, size_t size);
char *__real_strdup(const char *text);
char *__real_strndup(const char *text, size_t n);
void *__real_mmap(void *at, size_t size, int what, int how, int fd, off_t from);
FILE *__real_fopen(const char *path, const char *how);
DIR *__real_opendir(const char *path);
char *__real_realpath(const char *path, char *to);
lua_State *__real_lua_newstate(lua_Alloc f, void *ud);
void *__wrap_malloc(size_t size) { return refused() ? NULL : __real_malloc(size); }
void *__wrap_calloc(size_t n, size_t size) { return refused() ? NULL : __real_calloc(n, size); }
void *__wrap_realloc(void *block, size_t size) { return refused() ? NULL : __real_realloc(block, size); }
void *__wrap_aligned_alloc(size_t align, size_t size) { return refused() ? NULL : __real_aligned_alloc(align, size); }
char *__wrap_strdup(const char *text) { return refused() ? NULL : __real_strdup(text); }
char *__wrap_strndup(const char *text, size_t n) { return refused() ? NULL : __real_strndup(text, n); }
void *__wrap_mmap(void *at, size_t size, int what, int how, int fd, off_t from) {
  return refused() ? MAP_FAILED : __real_mmap(at, size, what, how, fd, from);
}
FILE *__wrap_fopen(const char *path, const char *how) { return refused() ? NULL : __real_fopen(path, how); }
DIR *__wrap_opendir(const char *path) { return refused() ? NULL : __real_opendir(path); }
char *__wrap_realpath(const char *path, char *to) { return !to && refused() ? NULL : __real_realpath(path, to); }

/* A stream into memory whose growing is counted, too. */
struct growing { char **text, *at; size_t *size, n; };

static ssize_t grow(void *cookie, const char *more, size_t n) {
  struct growing *g = cookie;
  char *at = __wrap_realloc(g->at, g->n + n + 1);
  if (!at) return 0;
  g->at = at;
  memcpy(at + g->n, more, n);
  g->n += n;
  at[g->n] = '\0';
  *g->text = at;
  *g->size = g->n;
  return (ssize_t)n;
}

static int grown(void *cookie) { return free(cookie), 0; }

FILE *__wrap_open_memstream(char **text, size_t *size) {
  struct growing *g = refused() ? NULL : __real_calloc(1, sizeof *g);
  if (!g) return NULL;
  *g = (struct growing){ .text = text, .size = size, .at = __real_calloc(1, 1) };
  *text = g->at;
  *size = 0;
  return fopencookie(g, "w", (cookie_io_functions_t){ .write = grow, .close = grown });
}

static lua_Alloc plain;

static void *asked(void *ud, void *block, size_t old, size_t size) {
  struct sl_box *box = ud;
  if (size == 0 || s->ours) return plain(ud, block, old, size);
  none = refused();
  engine = true;
  struct sl_pool pool = box->pool;
  if (none) {
    memset(box->pool.free, 0, sizeof box->pool.free);
    box->pool.at = box->pool.end = NULL;
    box->pool.narrow = box->pool.wide = NULL;
  }
  void *got = plain(ud, block, old, size);
  if (none) {
    pool.full = box->pool.full;
    box->pool = pool;
  }
  engine = none = false;
  return got;
}

lua_State *__wrap_lua_newstate(lua_Alloc f, void *ud) {
  plain = f;
  return __real_lua_newstate(asked, ud);
}

/* ---- runs -------------------------------------------------------------------------------------------------------- */

static char folder[64];

struct text { char *at; size_t n; };
struct ending { int status; struct text out, err, file; int files; bool temporary; };   /* a temporary one among them */

static const char *in_folder(char *path, const char *name) {
  snprintf(path, 128, "%s/%s", folder, name);
  return path;
}

static struct text contents(const char *name) {
  char path[128];
  struct text t = { NULL, 0 };
  const int fd = open(in_folder(path, name), O_RDONLY);
  struct stat about;
  if (fd < 0) return t;
  assert_int_equal(fstat(fd, &about), 0);
  t.n = (size_t)about.st_size;
  t.at = __real_calloc(1, t.n + 1);
  assert_int_equal(read(fd, t.at, t.n), (ssize_t)t.n);
  close(fd);
  return t;
}

static void drop(struct ending *e) {
  free(e->out.at);
  free(e->err.at);
  free(e->file.at);
}

static void look_around(struct ending *e) {
  DIR *d = __real_opendir(folder);
  for (const struct dirent *file; (file = readdir(d)); e->files++)
    if (strncmp(file->d_name, ".stringline-", 12) == 0) e->temporary = true;
  closedir(d);
}

static void put(const char *name, const char *text) {
  char path[128];
  FILE *f = __real_fopen(in_folder(path, name), "w");
  assert_non_null(f);
  assert_true(fputs(text, f) >= 0);
  assert_int_equal(fclose(f), 0);
}

_Noreturn static void begin(char *line) {
  char *words[20] = { "stringline" };
  int n = 1;
  for (char *w = strtok(line, " "); w; w = strtok(NULL, " ")) words[n++] = w;
  const int how = O_WRONLY | O_CREAT | O_TRUNC, out = open("out", how, 0600), err = open("err", how, 0600);
  dup2(out, STDOUT_FILENO);
  dup2(err, STDERR_FILENO);
  close(out);
  close(err);
  static const int fatal[] = { SIGSEGV, SIGBUS, SIGABRT, SIGFPE, SIGILL };       /* the frame of tests catches them */
  for (size_t i = 0; i < sizeof fatal / sizeof *fatal; i++) signal(fatal[i], SIG_DFL);
  alarm(LONGEST);
  s->n = 0;
  const int status = stringline_main(n, words);
  fflush(NULL);
  exit(status);
}

static const char OLD[] = "the report of yesterday\n";

/* One run of the command, of which a request fails. */
static struct ending run(const char *command, long at, bool onward, bool ours) {
  char line[200];
  snprintf(line, sizeof line, "%s", command);
  put("report.txt", OLD);
  *s = (struct starving){ .at = at, .onward = onward, .ours = ours };
  fflush(NULL);
  const pid_t child = fork();
  assert_true(child >= 0);
  if (child == 0) {
    if (chdir(folder)) _exit(99);
    begin(line);
  }
  int status;
  assert_int_equal(waitpid(child, &status, 0), child);
  struct ending e = { WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status), contents("out"), contents("err"),
                      contents("report.txt"), 0, false };
  look_around(&e);
  return e;
}

static bool same(struct text a, struct text b) { return a.n == b.n && memcmp(a.at, b.at, a.n) == 0; }

/* What is wrong with how a starved run ended; NULL: nothing.  store: it may leave the store of a sweep, or none. */
static const char *fault(const struct ending *e, const struct ending *well, bool store) {
  if (e->status < 0) return "is ended by a signal";
  const bool told = strstr(e->err.at, "the machine has no more memory") != NULL;
  if (e->temporary) return "leaves a temporary file";
  if (e->files != well->files && !(told && store)) return "leaves a file, or loses one";
  if (!told && e->status != well->status) return "ends otherwise, without a word of memory";
  if (!told && !same(e->err, well->err)) return "says something else";
  if (!told && !same(e->out, well->out)) return "prints something else";
  if (!told && !same(e->file, well->file)) return "writes something else";
  if (told && e->status != 3) return "tells of memory, and does not end with 3";
  if (told && strstr(e->out.at, "NOT JUDGED: ")) return NULL;        /* one of several scripts */
  if (told && (e->out.n > well->out.n || memcmp(e->out.at, well->out.at, e->out.n) != 0)) return "prints a wrong text";
  if (told && !same(e->file, well->file) && strcmp(e->file.at, OLD) != 0) return "leaves half a file";
  if (strstr(e->err.at, "not enough memory") || strstr(e->err.at, "attempt to")) return "uses the engine's words";
  return NULL;
}

/* ---- what is run ------------------------------------------------------------------------------------------------- */

static const char job[] =
  "job { name = \"Barn\", client = \"A. Field\", stage = \"quote\", on = \"2026-11-02\" }\n"
  "parts \"modules.csv\"\n"
  "prices \"yard.csv\"\n"
  "house \"crew\"\n"
  "site { frost = 18in, wind = 105mph }\n"
  "print(\"fifty-five characters of a text that is printed, too\")\n"
  "rule { id = \"J1\", severity = \"stop\", says = \"few\", cite = \"ours\", caution = \"they wait\",\n"
  "  check = function(job) return at_most(job.site.frost, 2ft) end }\n";
static const char wrong[] =
  "job { name = \"Barn\", client = \"A. Field\", stage = \"quote\" }\n"
  "site { frots = 18in, wind = 3, soil = {} }\n"
  "rack \"a\" { tilt = 3kg }\n"
  "local x = nil\nprint(x.y)\n";
static const char broken[] = "job { name = \"Barn\" client = 3fot }\n";
static const char many[] =
  "job { name = \"Barn\", client = \"A. Field\", stage = \"quote\" }\n"
  "site { frost = 18in }\n"
  "vary { \"site.frost\", from = 12in, to = 14in, step = 1in }\nkeep { \"site.frost\" }\n"
  "rule { id = \"J1\", severity = \"stop\", says = \"few\", cite = \"ours\", caution = \"they wait\",\n"
  "  check = function(job) return at_most(job.site.frost, 13in) end }\n";
static const char modules[] =
  "module,length,width,frame,mass,power,voc,vmp,isc,imp,voc_coefficient,vmp_coefficient,max_fuse,max_voltage\n"
  "M430,1722 mm,1134 mm,30 mm,21.5 kg,430 W,39.2 V,32.8 V,13.90 A,13.11 A,-0.25 %/K,-0.30 %/K,25 A,1500 V\n";
static const char clamps[] =
  "clamp,role,least_frame,most_frame\nA,mid,28 mm,40 mm\nB,end,30 mm,30 mm\n";
static const char drawn[] =
  "job { name = \"Barn\", client = \"A. Field\", stage = \"quote\", on = \"2026-11-02\" }\n"
  "parts \"modules.csv\"\nparts \"clamps.csv\"\n"
  "site { latitude = \"45.00 N\", longitude = \"10.00 E\", frost = 18in }\n"
  "ground { datum = \"F1\", elevation = measured({ F1 = 0in, B1 = 1in }, \"level\") }\n"
  "footing \"hole\" { hole_diameter = 18in, hole_depth = 48in, gravel = 6in, fill = \"concrete\" }\n"
  "rack \"one\" { modules = \"M430\", rows = 1, columns = 2, orientation = \"portrait\", column_gap = 20mm,\n"
  "  row_gap = 20mm, end_allowance = 1in, mid_clamp = \"A\", end_clamp = \"B\", tilt = 30deg, azimuth = 180deg,\n"
  "  north = \"true\", lower_edge = 24in, stack = 6in, rails = { size = \"2x6\", face = \"edge\", lines = 2 },\n"
  "  post_lines = { front = 20%, back = 80% }, stations = 1,\n"
  "  posts = { size = \"6x6\", treatment = \"UC4B\", footing = \"hole\" } }\n";
static const char bad_modules[] =
  "module,length,width,frame,mass,power,voc,vmp,isc,imp,voc_coefficient,vmp_coefficient,max_fuse,max_voltage\n"
  "M430,1722 mm,1134 mm,0 mm,21.5 kg,430 W\n";
static const char yard[] =
  "item,length,price,vendor,priced_on\n6x6 UC4B,8 ft,$28,Sawtail Lumber,2026-10-28\n";

static const char *const commands[] = {
  "run job.sline", "check job.sline", "check yard", "run job.sline -o report.txt", "sheet job.sline",
  "explain job.sline J1",
  "form job.sline", "margins job.sline", "run job.sline --format json", "check wrong.sline", "check broken.sline",
  "check bad-parts.sline", "check job.sline --set site.frost=3ft", "check job.sline wrong.sline", "describe rack",
  "sweep many.sline --store s.sweep", "run --nonsense", "draw drawn.sline side -o side.svg",
  "draw drawn.sline",
};

static bool whole;

/* Which of them are tried: of all, a sample, alone and with all behind it; those that are not the engine's, which are
 * few. */
static const struct pass { const char *name; bool onward, ours; } passes[] = {
  { "request", false, false }, { "from request", true, false }, { "request of ours", false, true },
};

static int try_pass(const char *command, const struct pass *p) {
  struct ending well = run(command, 0, false, p->ours);
  const long all = s->n;
  const long step = whole || all <= EACH ? 1 : (all - EACH) / STEPS + 1;
  const bool store = strncmp(command, "sweep", 5) == 0;
  char path[128];
  int wrongs = 0;
  long tried = 0;
  for (long at = 1; at <= all; at += at < EACH ? 1 : step) {
    if (store) unlink(in_folder(path, "s.sweep"));
    struct ending e = run(command, at, p->onward, p->ours);
    const char *what = fault(&e, &well, store);
    tried++;
    if (what && wrongs++ < TOLD)
      fprintf(stderr, "%s: %s %ld: %s: status %d, %.300s\n", command, p->name, at, what, e.status, e.err.at);
    drop(&e);
  }
  printf("# %s: %s: status %d, %ld requests, %ld runs, %d faults\n", command, p->name, well.status, all, tried,
         wrongs);
  drop(&well);
  if (store) unlink(in_folder(path, "s.sweep"));
  return wrongs;
}

static int try_all(const char *command) {
  int wrongs = 0;
  for (size_t i = 0; i < sizeof passes / sizeof *passes; i++) wrongs += try_pass(command, &passes[i]);
  return wrongs;
}

static void told_or_right(void **state) {
  const char *command = *state;
  assert_int_equal(try_all(command), 0);
}

static int setup(void **state) {
  (void)state;
  s = __real_mmap(NULL, sizeof *s, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
  snprintf(folder, sizeof folder, "/tmp/stringline-test-XXXXXX");
  if (s == MAP_FAILED || !mkdtemp(folder)) return -1;
  put("job.sline", job);
  put("wrong.sline", wrong);
  put("broken.sline", broken);
  put("many.sline", many);
  put("drawn.sline", drawn);
  put("clamps.csv", clamps);
  put("bad-parts.sline", "job { name = \"B\", client = \"C\", stage = \"quote\" }\nparts \"bad.csv\"\n");
  put("crew.sline", "limits { voltage_drop = { 2%, cite = \"house custom\" } }\n");
  put("modules.csv", modules);
  put("bad.csv", bad_modules);
  put("yard.csv", yard);
  char path[128];
  if (mkdir(in_folder(path, "yard"), 0700)) return -1;
  put("yard/one.sline", wrong);
  put("yard/two.sline", many);
  put("out", "");
  put("err", "");
#if SL_ADDRESS_SANITIZER
  __lsan_do_recoverable_leak_check();        /* what it looks through is mapped once, here, and not in every run */
#endif
  return 0;
}

static int teardown(void **state) {
  (void)state;
  char line[100];
  snprintf(line, sizeof line, "rm -rf %s", folder);
  return system(line);
}

int main(int argc, char **argv) {
  static struct CMUnitTest tests[sizeof commands / sizeof *commands];
  size_t n = 0;
  for (size_t i = 0; i < sizeof commands / sizeof *commands; i++) {
    if (argc > 2 && !strstr(commands[i], argv[2])) continue;
    tests[n++] = (struct CMUnitTest){ commands[i], told_or_right, NULL, NULL, (void *)(uintptr_t)commands[i] };
  }
  whole = argc > 1 && strcmp(argv[1], "whole") == 0;
  return _cmocka_run_group_tests("starved", tests, n, setup, teardown);
}
