/* SPDX-License-Identifier: MIT
 * A script run from a C program: put values in, judge it, read results, rules, the report and messages.
 *
 *   struct sl_job *job = sl_job_open("farm/job.sline", NULL);
 *   sl_job_set_number(job, "rack.east.tilt", 30, "deg");
 *   if (sl_job_judge(job) <= SL_JOB_NOT_READY && sl_job_value(job, "rack.east.top_edge", &v)) ... v.si ...
 *   sl_job_close(job);
 *
 * Nothing here prints, ends the program or changes what the process has set (its locale, signals, directory): what went
 * wrong stands in the messages of the job.
 *
 * Threads: a job belongs to one thread at a time; different jobs may be used on different threads at once.
 *
 * Strings: those that are given are copied; NULL is "".  Those that come back belong to the job, are UTF-8 as far as
 * the script's text is, are never NULL unless that is said ("" where there is nothing), and stay until the job is
 * judged again or closed; those of its messages until the next call on the job.  Paths are those of the language:
 * rack.east.tilt, run['array to shed'].wire, rack.east.posts.front[2].
 *
 * Link with -lstringline_host -lstringline and Lua 5.4: `pkg-config --libs stringline-host`. */
#ifndef STRINGLINE_HOST_H
#define STRINGLINE_HOST_H

#include <stdbool.h>
#include <stddef.h>

struct sl_job;

/* ---- a job ------------------------------------------------------------------------------------------------------- */

/* How sl_job_message's `shown` reads: with the line of the script below, one line each, or an object of JSON. */
enum sl_job_wording { SL_WORDING_TEXT, SL_WORDING_GNU, SL_WORDING_JSON };

/* What is wrong, or a line that the script printed. */
struct sl_job_message {
  const char *code;            /* "Q003": see `stringline explain Q003` */
  const char *text, *help;     /* what is wrong; what to do */
  const char *file;            /* "": no place, and line, column and length are 0 */
  int line, column, length;    /* from 1; column and length in bytes; 0: the file, or the line, as a whole */
  const char *shown;           /* the whole message in the wording of the options, as the command prints it */
};

/* All 0 is what the command does without options, but that steps are counted. */
struct sl_job_options {
  const char *folder;          /* where files that the script names are looked for; NULL: the script's own folder */
  const char *path;            /* further folders, parted by ':', for those not found there; NULL: none */
  const char *alternate;       /* an alternate of the script; NULL: none */
  const char *on;              /* the day judged, "2026-11-02"; NULL: what the script says.  Nothing reads the clock */
  long long steps;             /* most steps that the script may take; 0: 400 million */
  size_t memory;               /* most bytes that it may take; 0: as the command */
  enum sl_job_wording wording;
  /* Each line that the script prints; NULL: dropped.  Called while the job is judged or its values are read; the line
   * is there while it runs.  It returns (no longjmp), and calls nothing of this header for this job. */
  void (*print)(void *context, const struct sl_job_message *line);
  void *context;
};

/* A job of the script at `script`, which is read when it is judged.  NULL: no memory.  NULL options: all 0. */
struct sl_job *sl_job_open(const char *script, const struct sl_job_options *options);
/* NULL is no job, and is closed already. */
void sl_job_close(struct sl_job *job);

/* ---- what is put in ---------------------------------------------------------------------------------------------- */

/* Put in another value for an input, from the next sl_job_judge on; the same path again replaces it.  The report names
 * each as the command's --set.  Whether the script has such a path is found when it is judged.
 * False: nothing was put in, a message says why (no such unit, not a number, no memory). */
bool sl_job_set_number(struct sl_job *job, const char *path, double number, const char *unit);  /* "" or NULL: none */
bool sl_job_set_text(struct sl_job *job, const char *path, const char *text);         /* that text, whatever it says */
/* As --set PATH=VALUE reads it: "30deg", "6 AWG", "8ft 6in", "5", "true", and any other text as a text. */
bool sl_job_set(struct sl_job *job, const char *path, const char *literal);
/* Takes out all that was put in. */
void sl_job_reset(struct sl_job *job);

/* ---- judging ----------------------------------------------------------------------------------------------------- */

/* The command's exit statuses. */
enum sl_job_status {
  SL_JOB_READY,        /* all stop and caution rules hold or are waived */
  SL_JOB_NOT_READY,    /* one is broken or unknown; from stage build on also: a sheet is withheld */
  SL_JOB_WRONG,        /* the script, or what was put in, is wrong: see the messages */
  SL_JOB_STOPPED,      /* a file, a limit of the script or memory was in the way: see the messages */
};
/* Reads the script anew and judges it.  What was got from the judging before is gone.  Each judging starts from
 * nothing: the same script, files and values give the same answers to the last digit. */
enum sl_job_status sl_job_judge(struct sl_job *job);
/* The verdict in one line; "" unless the last judging gave SL_JOB_READY or SL_JOB_NOT_READY. */
const char *sl_job_verdict(struct sl_job *job);

/* ---- values ------------------------------------------------------------------------------------------------------ */

enum sl_value_kind {
  SL_VALUE_NONE,       /* there is none: a rule that compares no amounts */
  SL_VALUE_UNKNOWN,    /* a fact is missing, or a source does not cover the case: text says which, help what to do */
  SL_VALUE_NUMBER,     /* si, dimension, unit, currency, text */
  SL_VALUE_TEXT,       /* text; a wire size too */
  SL_VALUE_YES_NO,     /* yes, text */
  SL_VALUE_GROUP,      /* a record, a list or all of a kind: read what is in it.  text in words, items */
};
struct sl_value {
  enum sl_value_kind kind;
  double si;                   /* metre, newton, pascal, kelvin (points too), radian, volt; money in its currency */
  const char *dimension;       /* "length", "temperature"; "number" of a bare one */
  const char *currency;        /* "USD" of money, else "" */
  const char *unit;            /* that the text is in, as the report's JSON has it: "in", "USD/ft", "%" */
  const char *text;            /* as the report prints it: "102.2 in" */
  const char *help;
  bool yes;
  size_t items;                /* of a list: path[1] to path[items]; of a kind: see sl_job_record */
};
/* An input or a result of the last judging.  False: there is no such path, or nothing was judged; a message says so. */
bool sl_job_value(struct sl_job *job, const char *path, struct sl_value *out);
/* The path of the i-th record of a kind, from 0, in the script's order: "rack.east"; "" past the last. */
const char *sl_job_record(struct sl_job *job, const char *kind, size_t i);

/* ---- rules ------------------------------------------------------------------------------------------------------- */

enum sl_rule_severity { SL_RULE_STOP, SL_RULE_CAUTION, SL_RULE_NOTE };
enum sl_rule_outcome { SL_RULE_HOLDS, SL_RULE_BROKEN, SL_RULE_UNKNOWN, SL_RULE_NOT_APPLICABLE };
struct sl_outcome {
  const char *rule;            /* "R41" */
  enum sl_rule_severity severity;
  enum sl_rule_outcome outcome;
  bool waived;                 /* broken or unknown, and waived by who may */
  const char *subject;         /* what it was judged on: "rack east"; "" the job */
  const char *says;            /* what the rule wants: "the string stays under the controller's voltage" */
  const char *comparison;      /* "at_most", "at_least", ...; "" where it was not compared */
  struct sl_value value, limit, margin;          /* margin: what is left to the limit, below 0 where it is broken */
  const char *limit_of;        /* whose limit it is: "charge controller shed" */
  const char *words;           /* the finding in words: "259.3 V > 250 V"; of an unknown one why it is unknown */
  const char *help;            /* of an unknown one, what to do */
  const char *cite, *caution;  /* where the rule stands; what happens where it is broken */
  const char *file;            /* where the subject was declared; "": nowhere, and line and column are 0 */
  int line, column;            /* from 1; column in bytes */
};
/* How many outcomes the last judging gave: a rule has one for each of its subjects. */
size_t sl_job_outcomes(struct sl_job *job);
/* The i-th, from 0, in the report's order.  False: there are not so many. */
bool sl_job_outcome(struct sl_job *job, size_t i, struct sl_outcome *out);

/* ---- report and messages ----------------------------------------------------------------------------------------- */

/* The report of the last judging, as the command writes it: "text", "json", "csv", "html" and the other formats of
 * `run`; drawings inside "html" only the command has.  *length, where length is not NULL, is its bytes without the 0 at
 * the end.  NULL: no such format, or nothing was judged; a message says so. */
const char *sl_job_report(struct sl_job *job, const char *format, size_t *length);

/* What the last call on the job that could fail had to say: 0 where it went well. Of a script all that is wrong with
 * its declarations and files is told at once, in the order of files and lines, up to 50; the last says how many more
 * there are. The first that is not of a declaration (a syntax error, a value that is nil) ends the script. */
size_t sl_job_messages(const struct sl_job *job);
/* The i-th, from 0.  False: there are not so many. */
bool sl_job_message(const struct sl_job *job, size_t i, struct sl_job_message *out);

#endif
