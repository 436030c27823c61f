/* SPDX-License-Identifier: MIT
 * The command line: options, one state, one command, one exit status. */
#include <getopt.h>
#include <lauxlib.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#include "box/child.h"
#include "host/host.h"
#include "host/raise.h"
#include "write/out.h"
#include "host/nearest.h"

enum { DONE = 0, FAILED = 1, USAGE = 2, RESOURCE = 3 };

struct options {
  const char *command, *words[16];
  int nwords;
  const char *set[256];
  int nset;
  const char *on, *alternate, *output;
  struct sl_limits limits;
  struct sl_host host;
  char folder[4096];
  bool untrusted, no_colour;
};

static const struct option long_options[] = {
  { "set", required_argument, NULL, 's' },      { "on", required_argument, NULL, 'd' },
  { "alternate", required_argument, NULL, 'a' }, { "format", required_argument, NULL, 'f' },
  { "output", required_argument, NULL, 'o' },   { "no-color", no_argument, NULL, 'n' },
  { "untrusted", no_argument, NULL, 'u' },      { "steps", required_argument, NULL, 'S' },
  { "memory", required_argument, NULL, 'M' },   { "help", no_argument, NULL, 'h' },
  { "version", no_argument, NULL, 'V' },        { NULL, 0, NULL, 0 },
};

static const char usage[] =
  "usage: stringline COMMAND [OPTION ...] [WORD ...]\n"
  "\n"
  "  run SCRIPT               judge the job and print its report\n"
  "  check SCRIPT             judge only: broken and unknown rules\n"
  "  sheet SCRIPT [NAME]      one sheet whole (posts, loads, strings, wire, buying, ...); without a name, their list\n"
  "  explain SCRIPT WHAT      a rule (R41) or a result (rack.east.top_edge) with its worked sheet\n"
  "  explain CODE             an error code (Q003)\n"
  "  describe [KIND]          what a declaration may say\n"
  "  form                     a blank site-visit form: each fact, who can tell it, with which tool\n"
  "  reference                the reference manual, in Markdown\n"
  "  units                    the units\n"
  "\n"
  "  --set PATH=VALUE         put in another value for this run (rack.east.tilt=30deg); may be repeated\n"
  "  --alternate NAME         run an alternate of the script\n"
  "  --on DATE                the day judged (2026-11-02)\n"
  "  --format human|gnu|json  of messages and reports\n"
  "  -o, --output FILE        write the report to a file: whole, or not at all\n"
  "  --no-color               no colour (nor with NO_COLOR set, nor where there is no terminal)\n"
  "  --untrusted              run the script in a process of its own that can do nothing but compute\n"
  "  --steps N, --memory MiB  limits of the script\n"
  "  --help, --version\n"
  "\n"
  "exit: 0 all stop and caution rules hold or are waived; 1 one is broken or unknown; 2 script or usage error;\n"
  "      3 input, output or a resource limit\n";

static int complain(const char *text, const char *word, const char *help) {
  fprintf(stderr, "stringline: %s%s%s%s\n", text, word ? " '" : "", word ? word : "", word ? "'" : "");
  if (help) fprintf(stderr, "stringline: %s\n", help);
  return USAGE;
}

static int number_option(const char *name, const char *text, long long *out) {
  char *end;
  *out = strtoll(text, &end, 10);
  if (*text && !*end && *out > 0) return DONE;
  fprintf(stderr, "stringline: %s needs a whole number above 0, got '%s'\n", name, text);
  return USAGE;
}

static int read_options(int argc, char **argv, struct options *o) {
  int c;
  long long n;
  opterr = 0;
  while ((c = getopt_long(argc, argv, ":o:", long_options, NULL)) != -1) switch (c) {
    case 's':
      if (o->nset == (int)(sizeof o->set / sizeof *o->set)) return complain("too many --set", NULL, NULL);
      o->set[o->nset++] = optarg;
      break;
    case 'd': o->on = optarg; break;
    case 'a': o->alternate = optarg; break;
    case 'o': o->output = optarg; break;
    case 'n': o->no_colour = true; break;
    case 'u': o->untrusted = true; break;
    case 'S':
      if (number_option("--steps", optarg, &n)) return USAGE;
      o->limits.steps = n;
      break;
    case 'M':
      if (number_option("--memory", optarg, &n)) return USAGE;
      if (n > 1 << 20) return complain("--memory is in MiB; too large", optarg, NULL);
      o->limits.memory = (size_t)n << 20;
      break;
    case 'f':
      if (strcmp(optarg, "human") == 0) o->host.format = SL_HUMAN;
      else if (strcmp(optarg, "gnu") == 0) o->host.format = SL_GNU;
      else if (strcmp(optarg, "json") == 0) o->host.format = SL_JSON;
      else return complain("--format is human, gnu or json; got", optarg, NULL);
      break;
    case 'h': fputs(usage, stdout); return -1;
    case 'V': puts("stringline " SL_VERSION); return -1;
    case ':': return complain("an option needs a value:", argv[optind - 1], "stringline --help lists them");
    default: {
      const char *names[32];
      size_t count = 0;
      for (const struct option *l = long_options; l->name; l++) names[count++] = l->name;
      const char *word = argv[optind - 1], *near = sl_nearest(word + strspn(word, "-"), names, count);
      char help[80];
      snprintf(help, sizeof help, "did you mean --%s?", near ? near : "");
      return complain("no such option", word, near ? help : "stringline --help lists them");
    }
  }
  if (optind == argc) return complain("a command is wanted", NULL, "as in: stringline run job.sline; stringline --help lists them");
  o->command = argv[optind++];
  while (optind < argc) {
    if (o->nwords == (int)(sizeof o->words / sizeof *o->words)) return complain("too many words", NULL, NULL);
    o->words[o->nwords++] = argv[optind++];
  }
  return DONE;
}

static void set_text(lua_State *L, const char *name, const char *value) {
  if (!value) return;
  lua_pushstring(L, value);
  lua_setfield(L, -2, name);
}

/* Protected: (options) -> status, text of the report. */
static int command(lua_State *L) {
  const struct options *o = lua_touserdata(L, 1);
  sl_host_import(L, "host.command");
  lua_createtable(L, 0, 8);
  set_text(L, "command", o->command);
  set_text(L, "on", o->on);
  set_text(L, "alternate", o->alternate);
  set_text(L, "format", o->host.format == SL_JSON ? "json" : o->host.format == SL_GNU ? "gnu" : "human");
  lua_pushboolean(L, !o->output && sl_colour_wanted(stdout, o->no_colour));
  lua_setfield(L, -2, "colour");
  lua_newtable(L);
  for (int i = 0; i < o->nset; i++) {
    lua_pushstring(L, o->set[i]);
    lua_rawseti(L, -2, i + 1);
  }
  lua_setfield(L, -2, "set");
  lua_newtable(L);
  for (int i = 0; i < o->nwords; i++) {
    lua_pushstring(L, o->words[i]);
    lua_rawseti(L, -2, i + 1);
  }
  lua_setfield(L, -2, "words");
  lua_call(L, 1, 2);
  return 2;
}

static int write_report(const struct options *o, const char *text, size_t n) {
  char why[512];
  if (!o->output) {
    fwrite(text, 1, n, stdout);
    return DONE;
  }
  struct sl_out *out = sl_out_open(o->output, why, sizeof why);
  if (out) {
    sl_out_write(out, text, n);
    if (sl_out_commit(out, why, sizeof why)) return DONE;
  }
  fprintf(stderr, "stringline: %s\n", why);
  return RESOURCE;
}

static int run(void *arg) {
  struct options *o = arg;
  lua_State *L = sl_host_new(&o->host, &o->limits);
  if (!L) {
    fputs("stringline: not enough memory\n", stderr);
    return RESOURCE;
  }
  int status;
  lua_pushcfunction(L, command);
  lua_pushlightuserdata(L, o);
  if (sl_host_call(L, 1, 2)) {
    status = sl_host_failure(L);
    fflush(stdout);
    sl_host_report(L);
  } else {
    size_t n;
    const char *text = lua_tolstring(L, -1, &n);
    status = (int)lua_tointeger(L, -2);
    int wrote = text ? write_report(o, text, n) : DONE;
    if (wrote) status = wrote;
  }
  sl_host_close(L);
  return status;
}

/* In a process that can write no file: what it prints is the report, and this one puts it in its place. */
static int run_apart(struct options *o) {
  char why[512] = "";
  struct sl_child_limits limits = { .cpu_seconds = 10, .memory = (size_t)1 << 30, .output = (size_t)16 << 20 };
  struct sl_out *out = NULL;
  int terminal = -1;
  if (o->output) {
    out = sl_out_open(o->output, why, sizeof why);
    if (!out || fflush(stdout) || (terminal = dup(STDOUT_FILENO)) < 0 ||
        dup2(fileno(sl_out_file(out)), STDOUT_FILENO) < 0) {
      fprintf(stderr, "stringline: %s\n", *why ? why : "cannot write the report");
      if (out) sl_out_abandon(out);
      return RESOURCE;
    }
    o->output = NULL;
  }
  int status = sl_child_run(run, o, &limits, why, sizeof why);
  if (*why) fprintf(stderr, "stringline: %s\n", why);
  if (!out) return status;
  dup2(terminal, STDOUT_FILENO);
  close(terminal);
  if (status == USAGE || status == RESOURCE) sl_out_abandon(out);
  else if (!sl_out_commit(out, why, sizeof why)) {
    fprintf(stderr, "stringline: %s\n", why);
    return RESOURCE;
  }
  return status;
}

int main(int argc, char **argv) {
  struct options o = { .host = { .format = SL_HUMAN } };
  sl_out_begin();
  int status = read_options(argc, argv, &o);
  if (status == DONE) {
    o.host.colour = sl_colour_wanted(stderr, o.no_colour);
    const char *slash = o.nwords ? strrchr(o.words[0], '/') : NULL;
    if (slash) snprintf(o.folder, sizeof o.folder, "%.*s", slash == o.words[0] ? 1 : (int)(slash - o.words[0]), o.words[0]);
    o.host.folder = o.folder;
    o.host.path = getenv("STRINGLINE_PATH");
    if (o.untrusted) status = run_apart(&o);
    else status = run(&o);
  } else if (status < 0) status = DONE;
  int finish = sl_stdout_finish();
  return finish ? finish : status;
}
