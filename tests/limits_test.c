/* SPDX-License-Identifier: MIT
 * What a whole run may take: memory, for all that a script can cause, as the system counts it; the length of a line;
 * the C stack. */
#define _DEFAULT_SOURCE                    /* wait4 */
#include <pthread.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>
#include "check.h"
#include "host/sanitizer.h"
#include "stringline/host.h"

enum { COUNTED = !SL_ADDRESS_SANITIZER };  /* the sanitizer takes memory, and larger frames, for itself */
/* BESIDE: what the program itself takes, and the reserve for what there is to say at the limit. */
enum { LIMIT_MIB = 64, BESIDE_MIB = 16, STACK_KIB = 256 };
#define OVER "asked for more than 64 MiB of memory"

static char command[600], folder[64], script[96];

/* ---- the command, under limits ----------------------------------------------------------------------------------- */

struct ran { int status; long kib; char said[20000]; };

/* stack: KiB; 0: without a limit. */
static void run_command(rlim_t stack, struct ran *out) {
  int ends[2];
  struct rusage used;
  assert_int_equal(pipe(ends), 0);
  const pid_t child = fork();
  assert_true(child >= 0);
  if (child == 0) {
    struct rlimit now;
    getrlimit(RLIMIT_STACK, &now);
    now.rlim_cur = stack ? stack << 10 : now.rlim_max;
    if (setrlimit(RLIMIT_STACK, &now) != 0 || dup2(ends[1], 1) < 0 || dup2(ends[1], 2) < 0) _exit(99);
    execl(command, command, "run", "--memory", "64", script, (char *)NULL);
    _exit(99);
  }
  close(ends[1]);
  size_t n = 0;
  char rest[4096];
  for (;;) {
    const bool full = n + 1 == sizeof out->said;
    const ssize_t got = read(ends[0], full ? rest : out->said + n, full ? sizeof rest : sizeof out->said - 1 - n);
    if (got <= 0) break;
    if (!full) n += (size_t)got;
  }
  out->said[n] = '\0';
  close(ends[0]);
  assert_int_equal(wait4(child, &out->status, 0, &used), child);
  out->kib = used.ru_maxrss;
}

/* ---- files ------------------------------------------------------------------------------------------------------- */

static FILE *file(const char *name) {
  char path[200];
  snprintf(path, sizeof path, "%s/%s", folder, name);
  FILE *f = fopen(path, "wb");
  assert_non_null(f);
  return f;
}

static void repeat(FILE *to, const char *text, size_t times) {
  while (times-- > 0) fputs(text, to);
}

static void one_script(const char *text) {
  FILE *f = file("job.sline");
  fputs(text, f);
  assert_int_equal(fclose(f), 0);
}

static int make_folder(void **state) {
  (void)state;
  snprintf(folder, sizeof folder, "/tmp/stringline-limits-XXXXXX");
  if (!mkdtemp(folder)) return -1;
  snprintf(script, sizeof script, "%s/job.sline", folder);
  return 0;
}

static int remove_folder(void **state) {
  (void)state;
  char line[100];
  snprintf(line, sizeof line, "rm -rf '%s'", folder);
  return system(line);
}

/* ---- memory ------------------------------------------------------------------------------------------------------ */

static void many_sources(void) {
  FILE *job = file("job.sline");
  for (int i = 1; i <= 40; i++) {
    char name[32];
    snprintf(name, sizeof name, "list-%d.csv", i);
    fprintf(job, "parts \"%s\"\n", name);
    FILE *f = file(name);
    fputs("kind,name\n", f);
    repeat(f, "# a remark that is as long as a remark may be without any of its words saying anything\n", 40000);
    fclose(f);
  }
  fclose(job);
}

static void many_cells(void) {
  one_script("parts \"cells.csv\"\n");
  FILE *f = file("cells.csv");
  fputs("a,b,c,d\n", f);
  repeat(f, "1,2,3,4\n", 250000);
  fclose(f);
}

static void many_literals(void) {
  FILE *f = file("job.sline");
  fputs("local t = {\n", f);
  repeat(f, "1ft,\n", 1000000);
  fputs("}\n", f);
  fclose(f);
}

static const struct attack {
  const char *name, *script;
  void (*write)(void);                     /* where a script alone does not do */
  const char *says;
} attacks[] = {
  { "one size of block after the other",
    "local t for size = 48, 4000, 64 do t = nil t = {} for i = 1, 16000000 // size do t[i] = ('x'):rep(size - 32) .. i "
    "end end print 'went through'", NULL, "went through" },
  { "one size of large block after the other",
    "local t for size = 5000, 2000000, 20000 do t = nil t = {} for i = 1, 16000000 // size do t[i] = ('x'):rep(size) "
    "end end print 'went through'", NULL, "went through" },
  { "forty files", NULL, many_sources, OVER },
  { "a list of a million cells", NULL, many_cells, OVER },
  { "a million literals", NULL, many_literals, OVER },
  { "strings", "local t = {} while true do t[#t + 1] = ('x'):rep(50000) .. #t end", NULL, OVER },
  { "tables in tables", "local t = {} while true do t = { t } end", NULL, OVER },
  { "functions", "local t = {} while true do t[#t + 1] = function() return t end end", NULL, OVER },
  { "a long pattern", "return ('a'):find(('[%w]'):rep(5000000))", NULL, OVER },
  { "records", "for i = 1, 1e7 do rack('r' .. i) { } end", NULL, OVER },
  { "an error with a long text", "error(('\\1'):rep(30000000))", NULL, "error: \\x01" },
  { "a text printed", "for i = 1, 9 do print(('\\1'):rep(9000000)) end", NULL, OVER },
};

static void stays_below(void **state) {
  const struct attack *a = *state;
  static struct ran ran;
  if (a->write) a->write();
  else one_script(a->script);
  run_command(8 << 10, &ran);
  assert_true(WIFEXITED(ran.status));
  if (!strstr(ran.said, a->says)) fail_msg("wanted '%s', got: %s", a->says, ran.said);
  if (strcmp(a->says, OVER) == 0) assert_int_equal(WEXITSTATUS(ran.status), 3);
  if (COUNTED && ran.kib > (LIMIT_MIB + BESIDE_MIB) * 1024L)
    fail_msg("%ld KiB, of a limit of %d MiB and %d beside it", ran.kib, LIMIT_MIB, BESIDE_MIB);
}

/* ---- lines ------------------------------------------------------------------------------------------------------- */

enum { LONGEST = 10000 };                /* bytes of a line, without its end */
static const struct lined { const char *name, *job, *file, *before, *fill, *after; } lines[] = {
  { "a line of a script", NULL, "job.sline", "print '", "x", "'" },
  { "a line of a script in two parts", "use \"part\"\n", "part.sline", "local x = '", "x", "'" },
  { "a row of a list", "parts \"rows.csv\"\n", "rows.csv", "clamp,least_frame,most_frame,part\n# ", "x", "" },
  { "a line that ends as Windows ends it", NULL, "job.sline", "-- ", "x", "\r" },
};

static void has_a_greatest_length(void **state) {
  const struct lined *l = *state;
  static struct ran ran;
  const char *line = strrchr(l->before, '\n') ? strrchr(l->before, '\n') + 1 : l->before;
  const size_t own = strlen(line) + strcspn(l->after, "\r");
  for (size_t more = 0; more <= 1; more++) {
    char place[200];
    if (l->job) one_script(l->job);
    FILE *f = file(l->file);
    fputs(l->before, f);
    repeat(f, l->fill, LONGEST - own + more);
    fprintf(f, "%s\n", l->after);
    fclose(f);
    run_command(0, &ran);
    snprintf(place, sizeof place, "%s:%d:%d: error: the line has %d bytes; the longest may have %d", l->file,
             line == l->before ? 1 : 2, LONGEST + 1, LONGEST + 1, LONGEST);
    if (!strstr(ran.said, place) == (more == 1)) fail_msg("%zu bytes more than may be: %.600s", more, ran.said);
    assert_int_equal(WIFEXITED(ran.status) ? WEXITSTATUS(ran.status) : -1, 2);      /* without the line, no job */
  }
}

/* ---- the C stack ------------------------------------------------------------------------------------------------- */

#define NEST2(a) a a
#define NEST8(a) NEST2(NEST2(NEST2(a)))
#define NEST64(a) NEST8(NEST8(a))
#define NEST192(a) NEST64(a) NEST64(a) NEST64(a)
#define TOO_DEEP "nested too deep"

static const struct nest { const char *name, *script, *says; } nests[] = {
  { "gsub", "local function f(s) return (s:gsub('.', f)) end f 'x'", TOO_DEEP },
  { "gsub with a table", "local t = setmetatable({}, { __index = function(t, s) return (s:gsub('.', t)) end }) "
    "return t.x", TOO_DEEP },
  { "sort", "local function f() table.sort({ 1, 2 }, f) end f()", TOO_DEEP },
  { "tostring", "print(setmetatable({}, { __tostring = function(t) return tostring(t) end }))", TOO_DEEP },
  { "format", "print(setmetatable({}, { __tostring = function(t) return ('%s %s'):format(t, 1.5e300) end }))",
    TOO_DEEP },
  { "pcall", "local function f() return pcall(f) end print(f()) print 'went through'", "went through" },
  { "xpcall", "local function f() return xpcall(f, f) end print(f()) print 'went through'", "went through" },
  { "index", "local t = setmetatable({}, { __index = function(t, k) return t[k .. 'x'] end }) return t.a",
    TOO_DEEP },
  { "concat", "local m = {} m.__concat = function(a, b) return a .. b end local t = setmetatable({}, m) return t .. t",
    TOO_DEEP },
  { "comparison", "local m = {} m.__lt = function(a, b) return a < b end local t = setmetatable({}, m) return t < t",
    TOO_DEEP },
  { "close", "local function f() local x <close> = setmetatable({}, { __close = function() f() end }) end f()",
    TOO_DEEP },
  { "brackets", "local x = " NEST192("(") NEST192("(") "1" NEST192(")") NEST192(")"),
    "stand in each other more than 200 deep" },
  { "tables", "local x = " NEST192("{") NEST192("{") "1" NEST192("}") NEST192("}"),
    "stand in each other more than 200 deep" },
  { "functions", "local x = " NEST64("function() return ") NEST64("function() return ") "1" NEST64(" end")
    NEST64(" end"), TOO_DEEP },
  { "blocks", NEST192("do ") NEST8("do ") "local x = 1ft" NEST8(" end") NEST192(" end"), TOO_DEEP },
  { "a pattern", "print(('a'):rep(150):find(('a?'):rep(150))) print 'went through'", "went through" },
};

/* With little, with less, and with all that there is. */
static void ends_in_a_message(void **state) {
  const struct nest *n = *state;
  static const rlim_t stacks[] = { 512, STACK_KIB, 0 };
  static struct ran ran;
  one_script(n->script);
  for (size_t i = COUNTED ? 0 : 2; i < 3; i++) {
    run_command(stacks[i], &ran);
    if (!WIFEXITED(ran.status)) fail_msg("killed by signal %d with %u KiB", WTERMSIG(ran.status), (unsigned)stacks[i]);
    if (!strstr(ran.said, n->says)) fail_msg("wanted '%s', got: %s", n->says, ran.said);
  }
}

enum { SAID = 300 };

static void *judge(void *to) {
  char *said = to;
  struct sl_job *job = sl_job_open(script, NULL);
  struct sl_job_message m;
  if (!job || sl_job_judge(job) <= SL_JOB_NOT_READY) return NULL;
  if (sl_job_message(job, 0, &m)) snprintf(said, SAID, "%s", m.text);
  sl_job_close(job);
  return to;
}

/* A program has threads with less. */
static void ends_in_a_thread(void **state) {
  const struct nest *n = *state;
  char said[SAID] = "";
  pthread_attr_t attributes;
  pthread_t thread;
  void *done = NULL;
  one_script(n->script);
  assert_int_equal(pthread_attr_init(&attributes), 0);
  assert_int_equal(pthread_attr_setstacksize(&attributes, COUNTED ? STACK_KIB << 10 : 8 << 20), 0);
  assert_int_equal(pthread_create(&thread, &attributes, judge, said), 0);
  pthread_join(thread, &done);
  pthread_attr_destroy(&attributes);
  assert_ptr_equal(done, said);
  if (strstr(n->says, "deep")) assert_non_null(strstr(said, n->says));
  else assert_string_not_equal(said, "");
}

enum { ATTACKS = sizeof attacks / sizeof *attacks, LINES = sizeof lines / sizeof *lines,
       NESTS = sizeof nests / sizeof *nests };

int main(int argc, char **argv) {
  (void)argc;
  const char *slash = strrchr(argv[0], '/');
  snprintf(command, sizeof command, "%.*s/../stringline", slash ? (int)(slash - argv[0]) : 1, slash ? argv[0] : ".");
  static struct CMUnitTest tests[ATTACKS + LINES + 2 * NESTS];
  static char names[NESTS][40];
  size_t n = 0;
  for (size_t i = 0; i < ATTACKS; i++)
    tests[n++] = (struct CMUnitTest){ attacks[i].name, stays_below, NULL, NULL, (void *)(uintptr_t)&attacks[i] };
  for (size_t i = 0; i < LINES; i++)
    tests[n++] = (struct CMUnitTest){ lines[i].name, has_a_greatest_length, NULL, NULL, (void *)(uintptr_t)&lines[i] };
  for (size_t i = 0; i < NESTS; i++) {
    snprintf(names[i], sizeof names[i], "%s, in a thread", nests[i].name);
    tests[n++] = (struct CMUnitTest){ nests[i].name, ends_in_a_message, NULL, NULL, (void *)(uintptr_t)&nests[i] };
    tests[n++] = (struct CMUnitTest){ names[i], ends_in_a_thread, NULL, NULL, (void *)(uintptr_t)&nests[i] };
  }
  return cmocka_run_group_tests_name("limits", tests, make_folder, remove_folder);
}
