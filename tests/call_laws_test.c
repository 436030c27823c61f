/* SPDX-License-Identifier: MIT
 * The laws of calls can fail: a primitive with a fault of each kind, which they must notice.  And every primitive is
 * answered and refused by calls drawn by lot, so that the fuzz target reaches one that nobody wrote a seed for. */
#include "check.h"
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>
#include "calc.h"
#include "call_draw.h"
#include "call_script_laws.h"

/* Beams and frames hang together too closely to be drawn by lot, and so do the members of a fastener: seeds of the fuzz
 * target reach them, and frame_test, beams_test, fasteners_test and bind_test ask them. */
static const char *const seeded[] = { "beam", "side_frames", "row_frame", "dowel_yield", "plate_steel" };
static bool is_seeded(const char *name) {
  for (size_t i = 0; i < sizeof seeded / sizeof *seeded; i++) if (strcmp(seeded[i], name) == 0) return true;
  return false;
}

/* ---- primitives with a fault ------------------------------------------------------------------------------------- */

enum fault { NONE, NO_NUMBER, ENDLESS, NEGATIVE, MINUS_NOTHING, UNSET, WRITES, FORGETS, STRANGE_MEMBER, NO_WORDS,
             STEP_OFF, OUTPUT_OFF, INPUT_OFF, NOBODY, WITHOUT_SHEET, LIST_LOST };
static enum fault fault;

struct in { double length; const double *parts; size_t nparts; };
struct out { double most, rest; const double *all; size_t nall; };
static const struct sl_field in_fields[] = {
  SL_REAL(struct in, length, SL_LENGTH, "one"), SL_LIST(struct in, parts, nparts, SL_LENGTH, "some"),
};
static const struct sl_field out_fields[] = {
  SL_REAL(struct out, most, SL_LENGTH, "twice"), SL_REAL(struct out, rest, SL_LENGTH, "half"),
  SL_LIST(struct out, all, nall, SL_LENGTH, "the same"),
};

static enum sl_status faulty(const void *inputs, void *outputs, struct sl_space space, struct sl_sheet *sh) {
  static int calls;
  const struct in *in = inputs;
  struct out *out = outputs;
  (void)space;
  if (!(in->length >= 0 && in->length < 1e300))
    return sl_sheet_fault(sh, fault == NOBODY ? SL_OUT_OF_RANGE : SL_BAD_INPUT,
                          fault == STRANGE_MEMBER ? "width" : "length", fault == NO_WORDS ? "" : "is beyond all", "",
                          in->length, NAN, SL_LENGTH);
  GIVEN(sh, SL_LENGTH, a, in->length);
  STEP(sh, SL_LENGTH, b, 2 * a, "law");
  STEP(sh, SL_LENGTH, c, a > 1 ? fmin(a, 1e9) / 2 : (a + 0) * 0.5, "law");
  out->most = b;
  out->rest = c;
  out->all = in->parts;
  out->nall = in->nparts;
  if (fault == NO_NUMBER) out->rest = NAN;
  if (fault == ENDLESS) out->rest = INFINITY;
  if (fault == NEGATIVE) out->rest = -1e-300;
  if (fault == MINUS_NOTHING) out->rest = -0.0;
  if (fault == UNSET) memset(&out->rest, sh && sh->cap, sizeof out->rest);
  if (fault == WRITES) ((struct in *)(uintptr_t)in)->length += 1;
  if (fault == FORGETS) out->most += 1e-9 * calls++;
  if (fault == WITHOUT_SHEET && !(sh && sh->cap)) out->most *= 2;
  if (fault == LIST_LOST) out->all = NULL;
  if (fault == OUTPUT_OFF) out->most *= 1 + 1e-6;
  if (sh && sh->cap) {
    if (fault == STEP_OFF) sh->row[1].value *= 1 + 1e-9;
    if (fault == INPUT_OFF) sh->row[0].value *= 2;
    sl_sheet_gives(sh, "b", "most");
    sl_sheet_gives(sh, "c", "rest");
  }
  return SL_OK;
}

static const struct sl_op faulty_op = { "faulty", "twice and half", in_fields, 2, sizeof(struct in), out_fields, 3,
                                        sizeof(struct out), faulty, NULL };

static const struct row { const char *name; enum fault fault; const char *text, *want; } rows[] = {
  { "nothing is noticed where nothing is wrong", NONE, "faulty\nlength = 3\nparts = 1 2x3\n", NULL },
  { "nor where it refuses", NONE, "faulty\nlength = -3\nparts =\n", NULL },
  { "an output that is NaN", NO_NUMBER, "faulty\nlength = 3\nparts = 1\n", "gives rest = " },
  { "one that is endless", ENDLESS, "faulty\nlength = 3\nparts = 1\n", "gives rest = inf" },
  { "one below 0", NEGATIVE, "faulty\nlength = 3\nparts = 1\n", "below 0" },
  { "a negative zero", MINUS_NOTHING, "faulty\nlength = 3\nparts = 1\n", "rest = -0" },
  { "one that nobody sets", UNSET, "faulty\nlength = 3\nparts = 1\n", "another rest without a sheet" },
  { "an input that is written to", WRITES, "faulty\nlength = 3\nparts = 1\n", "gives another most without a sheet" },
  { "another answer the second time", FORGETS, "faulty\nlength = 3\nparts = 1\n", "another most" },
  { "another answer without a sheet", WITHOUT_SHEET, "faulty\nlength = 3\nparts = 1\n", "most without a sheet" },
  { "a list that is not there", LIST_LOST, "faulty\nlength = 3\nparts = 1\n", "no list all" },
  { "a step that is not its formula", STEP_OFF, "faulty\nlength = 3\nparts = 1\n", "b = 2 * a is not" },
  { "an output that is not its step", OUTPUT_OFF, "faulty\nlength = 3\nparts = 1\n", "the output most" },
  { "an input that is not what came", INPUT_OFF, "faulty\nlength = 3\nparts = 1\n", "a is 6, the input length 3" },
  { "a refusal of what is no input", STRANGE_MEMBER, "faulty\nlength = -3\nparts = 1\n", "refuses 'width'" },
  { "a refusal without words", NO_WORDS, "faulty\nlength = -3\nparts = 1\n", "without words" },
  { "a range of nobody's", NOBODY, "faulty\nlength = -3\nparts = 1\n", "out of a range of nobody's" },
};

/* What the laws say to the call of a text, in a process of its own: they end it.  "" where they hold. */
static void try_laws(const struct sl_op *op, const char *text, char *said, size_t size) {
  int pipes[2];
  assert_int_equal(pipe(pipes), 0);
  const pid_t child = fork();
  assert_true(child >= 0);
  if (child == 0) {
    static struct call call;
    signal(SIGABRT, SIG_DFL);
    dup2(pipes[1], 2);
    lua_State *L = sl_host_new(&(struct sl_host){ .folder = "" }, NULL);
    if (!L) _exit(3);
    call_read(&call, op, text, strlen(text));
    struct call_answer answer = { 0 };
    if (call.fits) answer = call_laws(&call);
    call_script_laws(L, &call, call.fits ? &answer : NULL);
    _exit(0);
  }
  close(pipes[1]);
  size_t n = 0;
  for (ssize_t got = 1; got > 0 && n + 1 < size; n += (size_t)(got > 0 ? got : 0))
    got = read(pipes[0], said + n, size - 1 - n);
  said[n] = 0;
  close(pipes[0]);
  int status;
  assert_int_equal(waitpid(child, &status, 0), child);
  if (!*said) assert_true(WIFEXITED(status) && WEXITSTATUS(status) == 0);
  else assert_true(WIFSIGNALED(status) && WTERMSIG(status) == SIGABRT);
}

static void is_noticed(void **state) {
  const struct row *r = *state;
  char said[2000];
  fault = r->fault;
  try_laws(&faulty_op, r->text, said, sizeof said);
  if (r->want ? !strstr(said, r->want) : *said != 0) fail_msg("said: %s; wanted: %s", said, r->want ? r->want : "");
}

/* ---- how a call is read ------------------------------------------------------------------------------------------ */

static const struct { const char *name, *text; bool fits, takes; } readings[] = {
  { "read: all fields", "faulty\nlength = 3\nparts = 1\n", true, true },
  { "read: a field is missing", "faulty\nlength = 3\n", false, false },
  { "read: a field that there is none of", "faulty\nlength = 3\nparts = 1\nwidth = 1\n", true, false },
  { "read: another dimension", "faulty\nlength = 3 as mass\nparts = 1\n", false, false },
  { "read: its own dimension", "faulty\nlength = 3 as length\nparts = 1\n", true, true },
  { "read: an item of another dimension", "faulty\nlength = 3\nparts = 1 x\n", false, false },
  { "read: NaN is a number", "faulty\nlength = nan\nparts = inf\n", true, true },
};

static void reads(void **state) {
  const size_t i = (size_t)(uintptr_t)*state;
  static struct call c;
  char said[2000];
  call_read(&c, &faulty_op, readings[i].text, strlen(readings[i].text));
  assert_int_equal(c.fits, readings[i].fits);
  assert_int_equal(c.takes, readings[i].takes);
  call_free(&c);
  fault = NONE;
  try_laws(&faulty_op, readings[i].text, said, sizeof said);
  assert_string_equal(said, "");
}

/* ---- every primitive --------------------------------------------------------------------------------------------- */

enum { CALLS = 16000, LEAST = 4000 };        /* by lot; so many also where all is reached before */

/* The first number without which nothing was refused; NULL: each was. */
static const char *never_refused(const struct sl_op *op, const bool *refused) {
  for (size_t i = 0; i < op->nin; i++)
    if (op->in[i].kind == SL_FIELD_REAL && !op->in[i].optional && !refused[i] && !is_seeded(op->name))
      return op->in[i].name;
  return NULL;
}

/* By lot alone, without a seed: answered, and refused by each number and choice that it has. */
static void is_reached(void **state) {
  const struct sl_op *op = *state;
  static char text[1 << 14];
  static struct call c;
  bool answered = false, refused[64] = { false };
  size_t faults = 0;
  lua_State *L = sl_host_new(&(struct sl_host){ .folder = "" }, NULL);
  assert_non_null(L);
  for (uint64_t k = 0; k < CALLS; k++) {
    if (k >= LEAST && faults && (answered || is_seeded(op->name)) && !never_refused(op, refused)) break;
    struct lot lot = { k };
    struct call_out out = { text, 0, sizeof text };
    call_draw(&lot, op, &out);
    call_read(&c, NULL, text, out.len);
    assert_ptr_equal(c.op, op);
    struct call_answer a = { 0 };
    if (c.fits) a = call_laws(&c);
    if (k < 200 || (c.fits && a.status == SL_OK && !answered)) call_script_laws(L, &c, c.fits ? &a : NULL);
    if (c.fits) {
      answered = answered || a.status == SL_OK;
      const char *member = a.status == SL_OK ? "" : a.sheet.fault.member;
      const struct sl_field *f = call_field(op->in, op->nin, (struct call_span){ member, strcspn(member, "[") });
      if (f && !refused[f - op->in]) refused[f - op->in] = true, faults++;
      call_forget(&a);
    }
    call_free(&c);
  }
  sl_host_close(L);
  if (!answered && !is_seeded(op->name)) fail_msg("no call of %s by lot is answered", op->name);
  const char *never = never_refused(op, refused);
  if (never) fail_msg("no call of %s by lot is refused for its %s", op->name, never);
  assert_true(faults > 0);
}

int main(void) {
  static struct CMUnitTest tests[160];
  size_t n = 0;
  ADD_ROWS(tests, n, rows, is_noticed);
  for (size_t i = 0; i < sizeof readings / sizeof *readings; i++)
    tests[n++] = (struct CMUnitTest){ readings[i].name, reads, NULL, NULL, (void *)(uintptr_t)i };
  for (size_t i = 0, ops = call_ops(); i < ops; i++) {
    assert(n < sizeof tests / sizeof *tests);
    tests[n++] = (struct CMUnitTest){ call_op_at(i)->name, is_reached, NULL, NULL,
                                      (void *)(uintptr_t)call_op_at(i) };
  }
  return _cmocka_run_group_tests("call laws", tests, n, NULL, NULL);
}
