/* SPDX-License-Identifier: MIT
 * A command line taken apart, by the rows of command.def.  No Lua.
 *
 * An option means the same before the command, between its words and behind them, whatever POSIXLY_CORRECT says; `--`
 * ends the options.  Long options are not abbreviated. */
#ifndef SL_LINE_H
#define SL_LINE_H

#include <stdbool.h>
#include <stddef.h>
#include "host/exit.h"

enum sl_option_id {
#define OPTION(id, ...) SL_OPTION_##id,
#include "command/command.def"
  SL_OPTIONS
};

/* See sl_takes_option; the last two are of options alone. */
enum sl_takes {
  SL_EVERY, SL_MERGES, SL_BEGINS, SL_SCRIPT, SL_JOB, SL_SHEETS, SL_MOVES, SL_PAIR, SL_SWEEPS, SL_DRAWS,
  SL_BOXED, SL_STORES
};
/* What a command's document has, and the least that a format can hold: points are met or not, of a verdict too. */
enum sl_gives { SL_PLAIN, SL_ANY = SL_PLAIN, SL_POINTS, SL_VERDICT };
enum sl_kind { SL_KIND_FLAG, SL_KIND_TEXT, SL_KIND_LIST, SL_KIND_COUNT, SL_KIND_CHOICE };

enum { SL_MANY = 1 << 20 };           /* words: any number */

struct sl_command {
  const char *name, *words;
  size_t least, most;
  enum sl_takes takes;
  enum sl_gives gives;
  const char *usual, *says, *more, *example;
};
struct sl_option {
  const char *name;
  char letter;
  const char *value;                  /* its value's name, "" for a flag */
  enum sl_kind kind;
  enum sl_takes takes;
  const char *says, *example;
};
struct sl_format_row {
  const char *name, *writer;
  enum sl_gives holds;
  const char *messages, *before, *between, *after, *says;
};
struct sl_part { const char *name, *says; };

extern const struct sl_command sl_commands[];         /* each list ends with a row of NULLs */
extern const struct sl_option sl_options[];
extern const struct sl_part sl_parts[];
/* Whether a command takes an option: those of its level and of what stands before it, where EVERY, SCRIPT and JOB each
 * have more; a level behind JOB has the options of a job and its own.  A sweep runs nothing in a process apart. */
bool sl_takes_option(const struct sl_command *c, const struct sl_option *o);
/* Whether its first word is a script, or may be: "SCRIPT ...", "[SCRIPT]". */
bool sl_takes_script(const struct sl_command *c);
/* The formats in the order of their rows; NULL behind the last. */
const struct sl_format_row *sl_format_at(size_t i);
/* Whether messages are told in it, too. */
bool sl_message_format(const struct sl_format_row *f);

struct sl_line {
  const struct sl_command *command;
  const char **word, **room;          /* words behind the command; where they and the lists lie */
  size_t words;
  const char **list[SL_OPTIONS];      /* the values of a LIST in their order, and how many; NULL of any other option */
  size_t listed[SL_OPTIONS];
  const char *value[SL_OPTIONS];      /* of an option that is given once; "" for a flag; NULL: not given */
  long long count[SL_OPTIONS];        /* of a COUNT */
  const struct sl_format_row *format;
  const char *messages;               /* "text", "gnu", "json": told by --messages, or by the format */
  bool folders;                       /* one of the words is a folder, and the command takes that */
  bool version;                       /* only the version is asked for */
  struct { const char *code; char text[400], help[400]; } wrong;          /* code NULL: nothing is wrong */
};

/* False: `wrong` says what; format and messages are set as far as they were read.  The strings stay those of argv. */
bool sl_line_read(struct sl_line *line, int argc, char **argv);
void sl_line_free(struct sl_line *line);
#endif
