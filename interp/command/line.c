/* SPDX-License-Identifier: MIT
 * A command line taken apart: first into options and words, then judged by the rows of command.def. */
#include "command/line.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include "host/nearest.h"
#include "host/text.h"

enum { MOST_NAMES = 64 };
/* What is counted: memory in MiB, workers as host.workers starts them; all else a double holds. */
static long long most_of(int id) {
  return id == SL_OPTION_memory ? 1 << 20 : id == SL_OPTION_jobs ? 1024 : 1000000000000000;
}

const struct sl_command sl_commands[] = {
#define COMMAND(name, words, least, most, takes, gives, usual, says, more, example) \
  { #name, words, least, most, SL_##takes, SL_##gives, usual, says, more, example },
#include "command/command.def"
  { .name = NULL },
};
const struct sl_option sl_options[] = {
#define OPTION(id, name, letter, value, kind, takes, says, example) \
  { name, letter, value, SL_KIND_##kind, SL_##takes, says, example },
#include "command/command.def"
  { .name = NULL },
};
static const struct sl_format_row formats[] = {
#define FORMAT(name, writer, holds, messages, before, between, after, says) \
  { #name, writer, SL_##holds, messages, before, between, after, says },
#include "command/command.def"
};
const struct sl_part sl_parts[] = {
#define PART(name, says) { #name, says },
#include "command/command.def"
  { .name = NULL },
};
bool sl_takes_option(const struct sl_command *c, const struct sl_option *o) {
  if (o->takes == SL_BOXED) return c->takes >= SL_SCRIPT && c->takes != SL_SWEEPS && c->takes != SL_DRAWS;
  if (o->takes == SL_STORES) return c->takes == SL_SWEEPS || c->takes == SL_MERGES;
  return o->takes > SL_JOB || o->takes == SL_BEGINS ? c->takes == o->takes : c->takes >= o->takes;
}

bool sl_takes_script(const struct sl_command *c) { return strncmp(c->words + (*c->words == '['), "SCRIPT", 6) == 0; }

const struct sl_format_row *sl_format_at(size_t i) {
  return i < sizeof formats / sizeof *formats ? &formats[i] : NULL;
}

static const struct sl_format_row *format_by_name(const char *name) {
  for (size_t i = 0; sl_format_at(i); i++)
    if (strcmp(sl_format_at(i)->name, name) == 0) return sl_format_at(i);
  return sl_format_at(0);
}

/* ---- what is wrong ----------------------------------------------------------------------------------------------- */

static bool wrong(struct sl_line *line, const char *code, const char *help, const char *text, ...)
    __attribute__((format(printf, 4, 5)));

/* Keeps the first complaint only.  Always false. */
static bool wrong(struct sl_line *line, const char *code, const char *help, const char *text, ...) {
  if (line->wrong.code) return false;
  va_list args;
  va_start(args, text);
  line->wrong.code = code;
  vsnprintf(line->wrong.text, sizeof line->wrong.text, text, args);
  snprintf(line->wrong.help, sizeof line->wrong.help, "%s", help);
  va_end(args);
  return false;
}

__attribute__((format(printf, 3, 4))) static const char *put(char *to, size_t size, const char *format, ...) {
  va_list args;
  va_start(args, format);
  vsnprintf(to, size, format, args);
  va_end(args);
  return to;
}

/* The name that is meant: nearest, or the only one that begins so. */
static const char *meant(const char *word, const char *const *names, size_t n) {
  const char *near = sl_nearest(word, names, n), *begins = NULL;
  if (near || !*word) return near;
  for (size_t i = 0; i < n; i++) {
    if (strncmp(names[i], word, strlen(word)) != 0) continue;
    if (begins) return NULL;
    begins = names[i];
  }
  return begins;
}

/* a, b or c: puts the name at `at` of n behind those before it. */
static void add_name(char *list, size_t size, size_t at, size_t n, const char *last, const char *name) {
  size_t used = strlen(list);
  snprintf(list + used, size - used, "%s%s", at == 0 ? "" : at + 1 == n ? last : ", ", name);
}

static const char *form_of(const struct sl_command *c, char *to, size_t size) {
  return put(to, size, "stringline %s%s%s", c->name, *c->words ? " " : "", c->words);
}

/* ---- options ----------------------------------------------------------------------------------------------------- */

static int option_by_name(const char *name, size_t n) {
  for (int i = 0; i < SL_OPTIONS; i++)
    if (strlen(sl_options[i].name) == n && strncmp(sl_options[i].name, name, n) == 0) return i;
  return -1;
}

static int option_by_letter(char letter) {
  for (int i = 0; i < SL_OPTIONS; i++)
    if (sl_options[i].letter == letter) return i;
  return -1;
}

static bool no_such_option(struct sl_line *line, const char *word) {
  const char *names[MOST_NAMES];
  char help[80], bare[80];
  size_t n = 0, dashes = strspn(word, "-");
  for (const struct sl_option *o = sl_options; o->name; o++) names[n++] = o->name;
  snprintf(bare, sizeof bare, "%.*s", (int)strcspn(word + dashes, "="), word + dashes);
  const char *near = meant(bare, names, n);
  return wrong(line, "U005", near ? put(help, sizeof help, "did you mean --%s?", near) : "`stringline help` lists them",
               "there is no option '%.*s'", (int)strcspn(word, "="), word);
}

static bool take_count(struct sl_line *line, int id, const char *value) {
  const long long most = most_of(id);
  const size_t digits = strspn(value, "0123456789");
  char help[80];
  put(help, sizeof help, "as in %s", sl_options[id].example);
  const long long n = strtoll(value, NULL, 10);                 /* the largest there is where it is more */
  if (!digits || value[digits] || n < 1 || n > most)
    return wrong(line, "U008", help, "--%s takes a whole number%s from 1 to %lld, got '%s'", sl_options[id].name,
                 id == SL_OPTION_memory ? " of MiB" : "", most, value);
  line->count[id] = n;
  return true;
}

bool sl_message_format(const struct sl_format_row *f) { return strcmp(f->name, f->messages) == 0; }

static bool take_choice(struct sl_line *line, int id, const char *value) {
  const char *names[MOST_NAMES], *near;
  char list[200] = "", help[240];
  size_t n = 0;
  for (size_t i = 0; sl_format_at(i); i++) {
    const struct sl_format_row *f = sl_format_at(i);
    if (id == SL_OPTION_messages && !sl_message_format(f)) continue;
    names[n++] = f->name;
    if (strcmp(value, f->name) != 0) continue;
    if (id == SL_OPTION_messages) line->messages = f->name;
    else line->format = f;
    return true;
  }
  for (size_t i = 0; i < n; i++) add_name(list, sizeof list, i, n, " or ", names[i]);
  near = strcmp(value, "human") == 0 ? "text" : meant(value, names, n);          /* what text was called once */
  return wrong(line, "U008",
               near ? put(help, sizeof help, "did you mean '%s'?", near) : put(help, sizeof help, "it is %s", list),
               "--%s cannot be '%s'", sl_options[id].name, value);
}

static bool take(struct sl_line *line, int id, const char *value) {
  const struct sl_option *o = &sl_options[id];
  if (o->kind == SL_KIND_LIST) {
    line->list[id][line->listed[id]++] = value;
    return true;
  }
  if (line->value[id] && o->kind != SL_KIND_FLAG)
    return wrong(line, "U006", "write it once", "--%s stands there twice: '%s' and '%s'", o->name, line->value[id],
                 value);
  line->value[id] = value;
  if (o->kind == SL_KIND_COUNT) return take_count(line, id, value);
  if (o->kind == SL_KIND_CHOICE) return take_choice(line, id, value);
  return true;
}

/* The option of argv[at], with its value there (`value` not NULL) or in the next word.  Gives the last word it took. */
static int take_option(struct sl_line *line, int argc, char **argv, int at, int id, const char *value) {
  const struct sl_option *o = &sl_options[id];
  if (o->kind == SL_KIND_FLAG) {
    if (value) wrong(line, "U008", "leave the value out", "--%s takes no value, got '%s'", o->name, value);
    else take(line, id, "");
    return at;
  }
  if (!value && at + 1 < argc && strncmp(argv[at + 1], "--", 2) != 0) value = argv[++at];
  char help[120];
  if (value) take(line, id, value);
  else if (at + 1 == argc || !argv[at + 1][2])
    wrong(line, "U001", put(help, sizeof help, "as in %s", o->example), "--%s needs a value: %s", o->name, o->value);
  else
    wrong(line, "U001",
          put(help, sizeof help, "as in %s; one that begins with -- is written --%s=VALUE", o->example, o->name),
          "--%s needs a value: %s; got the option %s", o->name, o->value, argv[at + 1]);
  return at;
}

/* -o FILE, -oFILE, -h: letters of flags may stand together. */
static int take_letters(struct sl_line *line, int argc, char **argv, int at) {
  for (const char *c = argv[at] + 1; *c; c++) {
    int id = option_by_letter(*c);
    if (id < 0) {
      no_such_option(line, argv[at]);
      return at;
    }
    if (sl_options[id].kind != SL_KIND_FLAG) return take_option(line, argc, argv, at, id, c[1] ? c + 1 : NULL);
    take(line, id, "");
  }
  return at;
}

static void take_all(struct sl_line *line, int argc, char **argv) {
  bool options = true;
  for (int i = 1; i < argc; i++) {
    const char *word = argv[i];
    if (!options || word[0] != '-' || !word[1]) line->word[line->words++] = word;
    else if (strcmp(word, "--") == 0) options = false;
    else if (word[1] != '-') i = take_letters(line, argc, argv, i);
    else {
      size_t n = strcspn(word + 2, "=");
      int id = option_by_name(word + 2, n);
      if (id < 0) no_such_option(line, word);
      else i = take_option(line, argc, argv, i, id, word[2 + n] ? word + 3 + n : NULL);
    }
  }
}

/* ---- the command ------------------------------------------------------------------------------------------------- */

static const struct sl_command *command_by_name(const char *name) {
  for (const struct sl_command *c = sl_commands; c->name; c++)
    if (strcmp(c->name, name) == 0) return c;
  return NULL;
}

static bool is_folder(const char *path) {
  struct stat st;
  return stat(path, &st) == 0 && S_ISDIR(st.st_mode);
}

static bool is_file(const char *path) {
  struct stat st;
  return stat(path, &st) == 0 && !S_ISDIR(st.st_mode);
}

/* R41, Q003: a rule or the code of a message. */
static bool like_id(const char *word) {
  size_t letters = strspn(word, "ABCDEFGHIJKLMNOPQRSTUVWXYZ"), digits = strspn(word + letters, "0123456789");
  return letters > 0 && digits > 0 && !word[letters + digits];
}

static bool no_such_command(struct sl_line *line, const char *word) {
  const char *names[MOST_NAMES];
  char help[400], list[200] = "";
  size_t n = 0;
  for (const struct sl_command *c = sl_commands; c->name; c++) names[n++] = c->name;
  for (size_t i = 0; i < n; i++) add_name(list, sizeof list, i, n, " and ", names[i]);
  const char *near = sl_nearest(word, names, n);
  if (near) put(help, sizeof help, "did you mean '%s'?", near);
  else if (strchr(word, '/') || strchr(word, '.') || is_file(word) || is_folder(word))
    put(help, sizeof help, "did you mean: stringline run %s?", word);
  else if (like_id(word)) put(help, sizeof help, "did you mean: stringline explain %s%s?",
                              strlen(word) == 4 ? "" : "job.sline ", word);
  else if ((near = meant(word, names, n))) put(help, sizeof help, "did you mean '%s'?", near);
  else put(help, sizeof help, "there are %s", list);
  return wrong(line, "U005", help, "there is no command '%s'", word);
}

static bool takes_folder(const struct sl_command *c) { return strstr(c->words, "FOLDER ...") != NULL; }

/* Which commands take it. */
static bool not_for_it(struct sl_line *line, const struct sl_option *o) {
  char help[200], list[120] = "";
  size_t n = 0, at = 0;
  for (const struct sl_command *c = sl_commands; c->name; c++) n += sl_takes_option(c, o);
  for (const struct sl_command *c = sl_commands; c->name; c++)
    if (sl_takes_option(c, o)) add_name(list, sizeof list, at++, n, " and ", c->name);
  return wrong(line, "U006", put(help, sizeof help, n == 1 ? "%s takes it" : "%s take it", list),
               "%s takes no --%s", line->command->name,
               o->name);
}

static bool judge_words(struct sl_line *line) {
  const struct sl_command *c = line->command;
  char form[120], help[400];
  form_of(c, form, sizeof form);
  if (line->words < c->least) {
    bool script = sl_takes_script(c);
    return wrong(line, "U001", put(help, sizeof help, "as in: %s", c->example), "%s needs %s: %s", c->name,
                 script ? "a script" : "another word", form);
  }
  if (line->words > c->most)
    return wrong(line, "U007", put(help, sizeof help, "it is: %s", form), "%s: a word too many: '%s'", c->name,
                 line->word[c->most]);
  for (size_t i = 0; i < line->words && takes_folder(c); i++) line->folders |= is_folder(line->word[i]);
  bool alone = c->most != SL_MANY || line->words == 1;       /* of several each is told by itself, when it is read */
  bool code = line->words == 1 && strstr(c->words, "| CODE");
  if (sl_takes_script(c) && line->words && !takes_folder(c) && alone && !code && is_folder(line->word[0])) {
    const char *path = line->word[0];
    char inside[300];
    put(inside, sizeof inside, "%s%sjob.sline", path, path[strlen(path) - 1] == '/' ? "" : "/");
    if (is_file(inside)) put(help, sizeof help, "did you mean %s?", inside);
    else put(help, sizeof help, "as in: %s", c->example);
    return wrong(line, "U009", help, "%s is a folder; a script is wanted", path);
  }
  return true;
}

static bool judge_options(struct sl_line *line) {
  const struct sl_command *c = line->command;
  char help[200], list[120] = "";
  for (int i = 0; i < SL_OPTIONS; i++)
    if (!sl_takes_option(c, &sl_options[i]) && (line->value[i] || line->listed[i]))
      return not_for_it(line, &sl_options[i]);
  const enum sl_gives holds = line->format->holds;
  if (c->gives < holds) {
    size_t n = 0, at = 0;
    for (const struct sl_command *v = sl_commands; v->name; v++) n += v->gives >= holds;
    for (const struct sl_command *v = sl_commands; v->name; v++)
      if (v->gives >= holds) add_name(list, sizeof list, at++, n, " and ", v->name);
    return wrong(line, "U006", put(help, sizeof help, "%s have it", list),
                 "--format %s is of the outcomes of rules; %s has none", line->format->name, c->name);
  }
  if (line->folders && line->format->holds != SL_ANY)
    return wrong(line, "U006", "name the scripts themselves, as in: stringline check barn/job.sline",
                 "--format %s is of the outcomes of rules; of a folder there is a summary", line->format->name);
  if (line->folders && line->value[SL_OPTION_untrusted])
    return wrong(line, "U006", "name the scripts themselves, as in: stringline check barn/job.sline --untrusted",
                 "--untrusted takes no folder");
  if (!line->format->between && line->words > 1 && c->most == SL_MANY && !line->folders)
    return wrong(line, "U006", put(help, sizeof help, "%s them one by one", c->name),
                 "--format %s has one script at a time", line->format->name);
  return true;
}

/* -h: help of the command that stands there, or of all. */
static void ask_for_help(struct sl_line *line) {
  line->command = command_by_name("help");
  if (line->words > 1 && strcmp(line->word[0], "help") == 0) line->word++, line->words--;
  if (line->words > 1) line->words = 1;
  for (int i = 0; i < SL_OPTIONS; i++)
    if (sl_options[i].takes > SL_EVERY) line->value[i] = NULL, line->listed[i] = 0;
}

static bool judge(struct sl_line *line) {
  if (line->value[SL_OPTION_version]) return line->version = true;
  if (!line->value[SL_OPTION_help] && line->words == 0)
    return wrong(line, "U001", "as in: stringline run job.sline; `stringline help` lists them", "a command is wanted");
  if (line->value[SL_OPTION_help]) ask_for_help(line);
  else {
    line->command = command_by_name(line->word[0]);
    if (!line->command) return no_such_command(line, line->word[0]);
    line->word++, line->words--;
  }
  if (!line->value[SL_OPTION_format]) line->format = format_by_name(line->command->usual);
  if (!judge_words(line) || !judge_options(line)) return false;
  if (strcmp(line->command->name, "help") == 0 && line->words && !command_by_name(line->word[0]))
    return no_such_command(line, line->word[0]);
  return true;
}

bool sl_line_read(struct sl_line *line, int argc, char **argv) {
  *line = (struct sl_line){ .format = sl_format_at(0) };
  size_t lists = 0, most = (size_t)argc;
  for (int i = 0; i < SL_OPTIONS; i++) lists += sl_options[i].kind == SL_KIND_LIST;
  line->room = calloc(most * (lists + 1) + 1, sizeof *line->room);
  line->messages = line->format->messages;
  if (!line->room) return wrong(line, "S003", "", SL_NO_MEMORY);
  line->messages = NULL;                                 /* till somebody says so */
  line->word = line->room;
  for (size_t i = 0, at = most; i < SL_OPTIONS; i++)
    if (sl_options[i].kind == SL_KIND_LIST) line->list[i] = line->room + at, at += most;
  take_all(line, argc, argv);
  if (!line->messages) line->messages = line->format->messages;
  return !line->wrong.code && judge(line);
}

void sl_line_free(struct sl_line *line) { free(line->room); }
