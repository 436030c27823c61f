/* SPDX-License-Identifier: MIT
 * Ratios, measured side by side in one run: a cold start against a bare Lua start and against another binary's, one
 * elevation to PDF against a run and a bare Lua start, a literal read, one primitive through the binding, variants of a
 * job against the same primitive calls from C, many racks against one, five racks of a ranch against one, what the
 * frames of those take of a run, a broken job against a holding one; how long the margins of a job take; drawings;
 * sweeps.
 *   bench STRINGLINE [OLD]
 * Run from the top of the project.  Medians of alternating rounds, so that a busy machine weighs on both alike. */
#define _DEFAULT_SOURCE                /* wait4 */
#include <fcntl.h>
#include <lauxlib.h>
#include <math.h>
#include <spawn.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>
#include "host/host.h"
#include "judged.h"
#include "ratio.h"
#include "sweeps.h"
#include "stringline/ground.h"
#include "stringline/side_frames.h"

enum { WARM = 6, STARTS = 200, ROUNDS = 31, READS = 2000000, CALLS = 20000 };

static char folder[] = "/tmp/stringline-bench-XXXXXX";

/* ---- a cold start ------------------------------------------------------------------------------------------------ */

/* Seconds that a process takes; `worst` is the worst status with which it may end. */
static double spent(char *const argv[], int worst) {
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_addopen(&actions, 1, "/dev/null", O_WRONLY, 0);
  const double before = now();
  pid_t child;
  int status;
  if (posix_spawnp(&child, argv[0], &actions, NULL, argv, environ) != 0 || waitpid(child, &status,
        0) != child) die("cannot start a process");
  const double after = now();
  posix_spawn_file_actions_destroy(&actions);
  if (!WIFEXITED(status) || WEXITSTATUS(status) > worst) {
    fprintf(stderr, "bench: %s did not end well\n", argv[0]);
    exit(1);
  }
  return after - before;
}

static double start(char *const argv[]) { return spent(argv, 0); }

/* Told in seconds: the target is one of the trade's, not of this machine's. */
static void margins(char *stringline) {
  char command[] = "margins", job[] = "examples/egg-farm/job.sline";
  char *const ours[] = { stringline, command, job, NULL };
  const double time = start(ours);
  printf("%-34s %9.2f s   at most 10: %s\n", "margins of examples/egg-farm", time, time <= 10 ? "met" : "NOT MET");
}

static void cold_start(char *stringline, char *old) {
  char run[] = "run", job[] = "examples/egg-farm/job.sline", lua[] = "lua5.4", e[] = "-e", nothing[] = "";
  char *const ours[] = { stringline, run, job, NULL }, *const plain[] = { lua, e, nothing, NULL };
  char *const before[] = { old, run, job, NULL };
  static double a[STARTS], b[STARTS], c[STARTS];
  for (int i = 0; i < WARM + STARTS; i++) {                     /* the first rounds bring the files into the cache */
    const int at = i < WARM ? 0 : i - WARM;
    const bool ours_first = i % 2 == 0;                         /* what runs behind bare Lua has no better place */
    if (ours_first) a[at] = start(ours);
    if (old) c[at] = start(before);
    if (!ours_first) a[at] = start(ours);
    b[at] = start(plain);
  }
  const double mine = median(a, STARTS);
  const char *const what = "run examples/egg-farm";
  tell("cold start, in bare Lua starts", mine, what, median(b, STARTS), "lua5.4 -e ''", 1e3, "ms", 6);
  if (old) tell("cold start, in those of OLD", mine, what, median(c, STARTS), "OLD", 1e3, "ms", 1.05);
}

/* One elevation to PDF, and beside it what a run of the same job takes: all rules are judged in both. */
static void elevation(char *stringline) {
  char draw[] = "draw", run[] = "run", job[] = "examples/egg-farm/job.sline", side[] = "side", o[] = "-o";
  char file[sizeof folder + 16], lua[] = "lua5.4", e[] = "-e", nothing[] = "";
  snprintf(file, sizeof file, "%s/side.pdf", folder);
  char *const drawn[] = { stringline, draw, job, side, o, file, NULL };
  char *const judged[] = { stringline, run, job, NULL }, *const plain[] = { lua, e, nothing, NULL };
  static double a[STARTS], b[STARTS], c[STARTS];
  for (int i = 0; i < WARM + STARTS; i++) {
    const int at = i < WARM ? 0 : i - WARM;
    a[at] = start(drawn);
    b[at] = start(judged);
    c[at] = start(plain);
  }
  unlink(file);
  const double one = median(a, STARTS);
  tell("PDF of a side, in runs", one, "draw side -o side.pdf", median(b, STARTS), "run", 1e3, "ms", 0);
  tell("PDF of a side, in bare Lua starts", one, "draw side -o side.pdf", median(c, STARTS), "lua5.4 -e ''",
       1e3, "ms", 12);
}

/* A ranch of five racks against a farm of one; the ranch may have broken rules. */
static void five_racks(char *stringline) {
  char check[] = "check", five[] = "examples/broken-wheel/job.sline", one[] = "examples/egg-farm/job.sline";
  char *const ranch[] = { stringline, check, five, NULL }, *const farm[] = { stringline, check, one, NULL };
  static double a[STARTS], b[STARTS];
  for (int i = 0; i < WARM + STARTS; i++) {
    const int at = i < WARM ? 0 : i - WARM;
    a[at] = spent(ranch, 1);
    b[at] = spent(farm, 1);
  }
  tell("check, five racks against one", median(a, STARTS), "examples/broken-wheel", median(b, STARTS),
       "examples/egg-farm", 1e3, "ms", 5);
}

/* The frames of five racks of seven stations, two lines and a brace each, as the ranch has them (scenario: 45 deg,
 * 84 in apart, posts about 1.5 and 3.4 m above ground), under twelve cases of wind. */
static double frames_of_a_ranch(void) {
  enum { STATIONS = 7, RACKS = 5 };
  struct sl_side_station stations[STATIONS];
  struct sl_side_post posts[2 * STATIONS];
  struct sl_side_brace braces[STATIONS];
  struct sl_side_wind winds[12];
  for (int i = 0; i < STATIONS; i++) {
    stations[i] = (struct sl_side_station){ 2.1336, NAN };
    posts[2 * i] = (struct sl_side_post){ i + 1, 1, 0.2, 1.5 + 0.01 * i, 1.5, 0, NAN, 0, 0, 0, 0, 0, 0 };
    posts[2 * i + 1] = (struct sl_side_post){ i + 1, 2, 0.8, 3.4 + 0.01 * i, 1.5, 0, NAN, 0, 0, 0, 0, 0, 0 };
    braces[i] = (struct sl_side_brace){ i + 1, 2, 1, 0.2, 0.15 };
  }
  for (int i = 0; i < 12; i++) winds[i] = (struct sl_side_wind){ 900 - 150 * i, -700 + 120 * i };
  struct sl_side_frames_in in = { .tilt = 0.7854, .slope_length = 4.576, .stack = 0.2, .dead_modules = 110,
      .dead_frame = 60, .frame_most = NAN, .snow = 900, .least = 766, .post_e = 2e11, .post_area = 1.4e-3,
      .post_inertia = 1.3e-6, .rafter_e = NAN, .rafter_area = NAN, .rafter_inertia = NAN, .brace_e = 9e9,
      .brace_area = 5.3e-3,
      .stations = stations, .nstations = STATIONS, .posts = posts, .nposts = 2 * STATIONS, .braces = braces,
      .nbraces = STATIONS, .winds = winds, .nwinds = 12, .edition = "ASCE 7-16" };
  const size_t need = sl_side_frames_need(&in);
  const struct sl_space space = { malloc(need), need };
  if (!space.at) die("no memory");
  const double before = worked();
  for (int i = 0; i < RACKS; i++) {
    struct sl_side_frames_out out;
    in.snow += 1e-6;
    if (sl_side_frames(&in, &out, space, NULL) != SL_OK) die("no frames");
  }
  const double taken = worked() - before;
  free(space.at);
  return taken;
}

static void structural_pass(char *stringline) {
  char run[] = "run", five[] = "examples/broken-wheel/job.sline";
  char *const ranch[] = { stringline, run, five, NULL };
  static double a[STARTS], b[STARTS];
  for (int i = 0; i < WARM + STARTS; i++) {
    const int at = i < WARM ? 0 : i - WARM;
    a[at] = frames_of_a_ranch();
    b[at] = spent(ranch, 1);
  }
  tell("frames of five racks, of a run", median(a, STARTS), "sl_side_frames in C", median(b, STARTS),
       "stringline run", 1e3, "ms", 0.25);
}

/* ---- in a state -------------------------------------------------------------------------------------------------- */

static void remove_folder(void) {
  char rm[] = "rm", all[] = "-rf";
  char *const words[] = { rm, all, folder, NULL };
  start(words);
}

/* Leaves the function that a script returns. */
static void load_script(lua_State *L, const char *name, const char *text) {
  char path[120];
  snprintf(path, sizeof path, "%s/%s", folder, name);
  FILE *f = fopen(path, "w");
  if (!f || fputs(text, f) < 0 || fclose(f) != 0) die("cannot write a script");
  lua_getglobal(L, "host");
  lua_getfield(L, -1, "load");
  lua_remove(L, -2);
  lua_pushstring(L, path);
  lua_newtable(L);
  lua_getglobal(L, "calc");
  lua_setfield(L, -2, "calc");
  called(L, 2, 1);
  called(L, 0, 1);
  unlink(path);
}

static double timed(lua_State *L, int function, int n) {
  lua_pushvalue(L, function);
  lua_pushinteger(L, n);
  const double before = worked();
  called(L, 1, 0);
  return (worked() - before) / n;
}

/* The plain side reads its number from a local too: the loop is the same but for the read. */
static void literal_read(lua_State *L) {
  static double a[ROUNDS], b[ROUNDS];
  load_script(L, "literal.sline", "return function(n) local x for i = 1, n do x = 5ft end end\n");
  load_script(L, "number.sline", "return function(n) local x for i = 1, n do x = 5.5 end end\n");
  for (int i = 0; i < ROUNDS; i++) {
    a[i] = timed(L, 1, READS);
    b[i] = timed(L, 2, READS);
  }
  tell("a literal read in a loop", median(a, ROUNDS), "x = 5ft", median(b, ROUNDS), "x = 5.5", 1e9, "ns", 2);
  lua_settop(L, 0);
}

static double direct(int n) {
  double sum = 0;
  struct sl_embed_neglecting_in in = {
    .lateral = 440 * 4.4482216152605, .height = 6.5 * 0.3048, .width = 14 * 0.0254,
    .bearing = 150 * 47.88025898033584 / 0.3048, .neglect = 12 * 0.0254, .provided = NAN, .edition = "IBC 2021",
  };
  const double before = worked();
  for (int i = 0; i < n; i++) {
    struct sl_embed_neglecting_out out;
    in.lateral += 1e-9;                                           /* nothing may be kept from the pass before */
    if (sl_embed_neglecting(&in, &out, NULL) != SL_OK) die("no embedment");
    sum += out.depth;
  }
  const double each = (worked() - before) / n;
  if (!(sum > 0)) die("no embedment");                             /* and the sum is wanted */
  return each;
}

static void embedment(lua_State *L) {
  static double a[ROUNDS], b[ROUNDS];
  load_script(L, "embed.sline",
              "local post = { lateral = 440lbf, height = 6.5ft, width = 14in, bearing = 150psf/ft, "
              "neglect = 12in, edition = 'IBC 2021' }\n"
              "local embed = calc.embed_neglecting\n"
              "return function(n) local x for i = 1, n do x = embed(post).depth end end\n");
  for (int i = 0; i < ROUNDS; i++) {
    a[i] = timed(L, 1, CALLS);
    b[i] = direct(CALLS);
  }
  const double in_c = median(b, ROUNDS), asked = 2e-6;               /* s; the issue of footings asks for that */
  tell("embedment of a post", median(a, ROUNDS), "calc.embed_neglecting{ ... }", in_c, "the same in C", 1e9, "ns", 3);
  tell("embedment in C", in_c, "sl_embed_neglecting", asked, "asked of it", 1e6, "us", 1);
  lua_settop(L, 0);
}

/* One type for thirty racks against the same for one, each by a command of its own. */
static void one_type(char *stringline) {
  enum { TYPED = 30 };
  static const int n[] = { 1, TYPED };
  static double time[2][ROUNDS];
  char check[] = "check", place[200], script[2][220];
  for (int i = 0; i < 2; i++) {
    snprintf(place, sizeof place, "%s/typed-%d", folder, n[i]);
    if (mkdir(place, 0700) != 0) die("cannot make a folder");
    write_racks(place, n[i], "like");
    snprintf(script[i], sizeof script[i], "%s/job.sline", place);
  }
  for (int r = 0; r < WARM + ROUNDS; r++)
    for (int i = 0; i < 2; i++) {
      char *const words[] = { stringline, check, script[i], NULL };
      time[i][r < WARM ? 0 : r - WARM] = start(words);
    }
  tell("racks of one type, whole command", median(time[1], ROUNDS), "30 racks", median(time[0], ROUNDS), "one rack",
       1e3, "ms", 12);
}

/* So many things declared, each by a command of its own. */
static void declared(char *stringline) {
  enum { FEW = 1000, MANY = 8000, SHOTS = 5 };
  static const int n[] = { FEW, MANY };
  static double time[2][SHOTS];
  char check[] = "check", script[2][200];
  for (int i = 0; i < 2; i++) {
    snprintf(script[i], sizeof script[i], "%s/declared-%d.sline", folder, n[i]);
    FILE *f = fopen(script[i], "w");
    if (!f) die("cannot write a script");
    fputs("job { name = \"t\", client = \"c\", stage = \"quote\" }\n", f);
    for (int k = 0; k < n[i]; k++)
      fprintf(f, "footing \"f%d\" { hole_diameter = 18in, hole_depth = 66in, gravel = 6in, fill = \"concrete\" }\n", k);
    if (fclose(f) != 0) die("cannot write a script");
  }
  for (int r = 0; r < WARM + SHOTS; r++)
    for (int i = 0; i < 2; i++) {
      char *const words[] = { stringline, check, script[i], NULL };
      time[i][r < WARM ? 0 : r - WARM] = start(words);
    }
  tell("footings declared, whole command", median(time[1], SHOTS), "8000", median(time[0], SHOTS), "1000", 1e3, "ms",
       10);
  for (int i = 0; i < 2; i++) unlink(script[i]);
}

/* All sheets of a ranch in seconds, as a folder of PDF, SVG and DXF. */
static void all_drawings(char *stringline) {
  char draw[] = "draw", to[] = "-o", ranch[] = "examples/broken-wheel/job.sline", set[] = "--set",
       permit[] = "job.stage=permit";
  char all[128];
  snprintf(all, sizeof all, "%s/drawings", folder);
  char *const whole[] = { stringline, draw, ranch, set, permit, to, all, NULL };
  const double time = spent(whole, 1);
  printf("%-34s %9.2f s   at most 2: %s\n", "all sheets of examples/broken-wheel", time, time <= 2 ? "met" : "NOT MET");
}

int main(int argc, char **argv) {
  if (argc != 2 && argc != 3) die("usage: bench STRINGLINE [OLD]");
  if (!mkdtemp(folder)) die("no folder for scripts");
  atexit(remove_folder);
  const struct sweeps swept = measure_sweeps(argv[1], folder);
  const struct sl_host host = { .folder = folder, .format = SL_GNU };
  lua_State *L = sl_host_new(&host, &(struct sl_limits){ .steps = -1 });
  if (!L) die("no memory");
  cold_start(argv[1], argc == 3 ? argv[2] : NULL);
  elevation(argv[1]);
  five_racks(argv[1]);
  structural_pass(argv[1]);
  literal_read(L);
  embedment(L);
  sl_host_close(L);
  const double least = variants();
  many_racks(folder);
  one_type(argv[1]);
  declared(argv[1]);
  margins(argv[1]);
  all_drawings(argv[1]);
  tell_sweeps(&swept, least);
  two_workers(argv[1], folder);
  return 0;
}
