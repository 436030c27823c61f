/* SPDX-License-Identifier: MIT
 * Texts that a script can forge, in messages of each format and in documents of each form: the laws of output_laws.h,
 * and that each message stands at its place, a line for each thing that is said, and nothing of a text at the beginning
 * of a line.
 *
 * An input is a few bytes that choose, and texts parted by 0x1D.  They may choose to make one of them 2 KB long; one
 * input of many, by its bytes, has one of 1 MB. */
#include "fuzz.h"
#include "kept.h"
#include <lauxlib.h>
#include "../output_laws.h"
#include "host/host.h"
#include "host/text.h"

enum { TEXTS = 8, PART = 0x1D, CHOICES = 8, LONGEST = 1 << 20 };
struct texts { char *at[TEXTS]; size_t len[TEXTS]; };

/* Which text is made longer, and how long. */
struct longer { size_t text, bytes; };

static struct longer choose_longer(const uint8_t *data, size_t size) {
  uint32_t hash = 2166136261u;                   /* FNV-1a */
  for (size_t i = 0; i < size; i++) hash = (hash ^ data[i]) * 16777619u;
  if ((hash >> 8 & 0x7FF) == 0) return (struct longer){ data[0] % TEXTS, LONGEST };
  return (struct longer){ data[0] >> 4 == 10 ? data[0] % TEXTS : TEXTS, (size_t)64 << data[1] % 6 };
}

static void read_texts(const uint8_t *data, size_t size, struct texts *t) {
  const struct longer longer = choose_longer(data, size);
  const uint8_t *const end = data + size;
  data += CHOICES;
  for (size_t i = 0; i < TEXTS; i++) {
    const uint8_t *stop = data < end ? memchr(data, PART, (size_t)(end - data)) : NULL;
    if (!stop) stop = end;
    const size_t n = (size_t)(stop - data), times = i == longer.text && n && n < longer.bytes ? longer.bytes / n : 1;
    t->len[i] = n * times;
    t->at[i] = malloc(t->len[i] + 1);
    if (!t->at[i]) abort();
    for (size_t k = 0; k < times && n; k++) memcpy(t->at[i] + k * n, data, n);
    t->at[i][t->len[i]] = '\0';
    data = stop < end ? stop + 1 : end;
  }
}

/* ---- messages ---------------------------------------------------------------------------------------------------- */

static char *printed(struct sl_sources *sources, const struct sl_message *m, enum sl_format format, size_t *len) {
  char *text = NULL;
  FILE *out = open_memstream(&text, len);
  if (!out) abort();
  sl_message_print(out, sources, m, format, false);
  if (fclose(out) != 0) abort();
  return text;
}

static size_t line_count(const char *text) {
  size_t n = 0;
  for (; text && *text; n++) text += strcspn(text, "\n"), text += *text == '\n';
  return n;
}

static void message(const uint8_t *choose, const struct texts *t) {
  static const char *const severities[] = { "error", "warning", "note", "print" };
  struct sl_sources sources = { 0 };
  const int source = sl_source_add(&sources, t->at[0], t->at[1], t->len[1]);
  struct sl_message m = {
    .severity = choose[2] % 4, .code = choose[2] & 4 ? "R001" : t->at[7], .text = t->at[2],
    .source = choose[2] & 8 ? 0 : source, .span = { choose[3] % 8, choose[4] % 64, choose[5] % 32 },
    .label = { { { choose[5] % 8, choose[3] % 64, choose[4] % 32 }, t->at[3] }, { { 1, 1, 1 }, t->at[4] } },
    .nlabel = choose[6] % 3, .note = { t->at[4], t->at[5] }, .nnote = choose[6] / 3 % 3,
    .help = choose[6] & 64 ? NULL : t->at[5], .write = choose[6] & 128 ? t->at[6] : NULL,
  };
  size_t place_len = 4 * t->len[0] + 64, len;
  char *place = malloc(place_len), *said;
  if (!place) abort();
  size_t n = m.source ? sl_safe(place, place_len, t->at[0], strlen(t->at[0])) : sl_say(place, place_len, "stringline");
  if (m.source && m.span.line > 0) n += sl_say(place + n, place_len - n, ":%d", m.span.line);
  if (m.source && m.span.line > 0 && m.span.col > 0) n += sl_say(place + n, place_len - n, ":%d", m.span.col);

  said = printed(&sources, &m, SL_HUMAN, &len);
  law_clean("human", said, len, false);
  char first[40];
  sl_say(first, sizeof first, ": %s:", severities[m.severity]);
  LAW(strncmp(said, place, n) == 0 && strncmp(said + n, first, strlen(first)) == 0);
  law_lines("human", strchr(said, '\n') + 1, (const char *const[]){ "    ", NULL });
  free(said);

  said = printed(&sources, &m, SL_GNU, &len);
  law_clean("gnu", said, len, false);
  LAW(strncmp(said, place, n) == 0 && strncmp(said + n, first, strlen(first)) == 0);
  size_t wanted = 1 + line_count(m.write) + (m.help && *m.help);
  for (size_t i = 0; i < m.nlabel; i++) wanted += *m.label[i].text != '\0';
  for (size_t i = 0; i < m.nnote; i++) wanted += *m.note[i] != '\0';
  place[m.source ? sl_safe(place, place_len, t->at[0], strlen(t->at[0])) : n] = '\0';
  LAW(law_lines("gnu", said, (const char *const[]){ place, NULL }) == wanted);
  free(said);

  said = printed(&sources, &m, SL_JSON, &len);
  law_clean("json", said, len, false);
  LAW(strchr(said, '\n') == said + len - 1);
  law_json("json", said);
  free(said);
  free(place);
  sl_sources_free(&sources);
}

/* ---- documents --------------------------------------------------------------------------------------------------- */

static const char writers[] =
  "import 'model.boot'\n"
  "local document = import 'write.document'\n"
  "local forms = {}\n"
  "for _, f in ipairs { 'text', 'html', 'csv', 'json', 'markdown', 'tap', 'gnu', 'sarif' } do\n"
  "  forms[f] = import('write.' .. f)\n"
  "end\n"
  "local options = { before = '', after = '', width = 80 }\n"
  "return function(a, b, c, d, e, f, g, h)\n"
  "  local p = document.new('forged', a)\n"
  "  p:head(a) p:heading(b) p:subheading(c) p:para(d, e .. ': ') p:note(f) p:warning(g) p:item(h)\n"
  "  p:outcome(b, a, 'bad') p:code(c)\n"
  "  p:step { symbol = a, formula = b, put = c, result = { text = d }, source = e }\n"
  "  p:step { symbol = f, result = { text = g }, says = h }\n"
  "  p:figure('sketch', h, 1)\n"
  "  p:blank(a, { unit = b, from = c }) p:blank(d, { choices = { e, f } })\n"
  "  p:blank(g, { count = 1, heads = { { h, a } } })\n"
  "  p:inside(function() p:table({ { a }, { b, key = c, right = true } }, { { d, { text = e } }, { f, g } }) end)\n"
  "  p:table({ { a }, { b, lead = c } }, { { h, g }, { f, e } }, { stacked = true })\n"
  "  p:fact('name', a) p:fact('list', function(as) return as.array { b, c } end)\n"
  "  local points = document.new('points')\n"
  "  points.status = 1\n"
  "  points.points = { { met = false, title = a, said = b, place = c, id = d, rows = { { 'said', e } } },\n"
  "    { met = true, title = f }, notes = { { text = g, place = h, id = a } } }\n"
  "  local failed = document.new('failed')\n"
  "  failed.status, failed.outcomes = 2, { withheld = { { name = c, why = d } } }\n"
  "  failed.failure = { text = a, code = 'Q003', status = 2,\n"
  "    errors = { { message = b, file = e, line = 3, column = 4, code = 'Q003' }, { message = f, file = g } } }\n"
  "  options.script = h\n"
  "  local several = { several = true, script = h, number = 7, before = '', after = '' }\n"
  "  return forms.text(p, options), forms.html(p, options), forms.csv(p, options), forms.json(p, options),\n"
  "    forms.markdown(p, options), forms.tap(points, options), forms.gnu(points, options),\n"
  "    forms.sarif(failed, options), forms.tap(failed, several)\n"
  "end\n";

/* Kept from one input to the next, which a run's state is not: behind a long text it is made anew, for what memory
 * that leaves in pieces is no fault of the next. */
static lua_State *documents(bool anew) {
  static lua_State *L;
  static const struct sl_host host = { .folder = "", .format = SL_HUMAN };
  if (L && anew) {
    kept_no_more(L);
    sl_host_close(L);
    L = NULL;
  }
  if (L) return L;
  L = kept(sl_host_new(&host, &(struct sl_limits){ .memory = (size_t)1 << 30, .steps = -1 }));   /* 1 MB, many forms */
  if (!L || luaL_loadbufferx(L, writers, sizeof writers - 1, "=writers", "t") || sl_host_call(L, 0, 1)) abort();
  return L;
}

enum { TEXT = 2, HTML, CSV, JSON, MARKDOWN, TAP, GNU, SARIF, SUBTEST, FORMS = 9 };

static void document(const struct texts *t) {
  static bool was_long;
  lua_State *L = documents(was_long);
  luaL_checkstack(L, 32, "texts");
  lua_pushvalue(L, 1);
  size_t total = 0;
  for (size_t i = 0; i < TEXTS; i++) {
    lua_pushlstring(L, t->at[i], t->len[i]);
    total += t->len[i];
  }
  was_long = total > 1 << 16;
  const int status = sl_host_call(L, TEXTS, FORMS);
  if (status) sl_host_report(L);
  LAW_OR(!status, "a writer fails");
  static const char *const names[] = { "text", "html", "csv", "json", "markdown", "tap", "gnu", "sarif", "subtest" };
  for (int i = TEXT; i < TEXT + FORMS; i++) {
    size_t len;
    const char *said = lua_tolstring(L, i, &len);
    law_clean(names[i - TEXT], said, len, i == CSV);
  }
  law_html(lua_tostring(L, HTML));
  law_csv(lua_tostring(L, CSV));
  law_json("json", lua_tostring(L, JSON));
  law_json("sarif", lua_tostring(L, SARIF));
  LAW(law_lines("gnu", lua_tostring(L, GNU), (const char *const[]){ "", NULL }) == 2);
  LAW(law_lines("tap", lua_tostring(L, TAP),
                (const char *const[]){ "1..2\n", "not ok 1 - ", "  ---\n", "  said: \"", "  ...\n", "ok 2 - ", "# ",
                                       NULL }) >= 3);
  law_lines("subtest", lua_tostring(L, SUBTEST),
            (const char *const[]){ "# Subtest: ", "    1..1 # ", "    not ok 1 - sheet ", "      ---\n",
                                   "      message: \"", "      ...\n", "not ok 7 - ", "  ---\n", "  message: \"",
                                   "  code: \"Q003\"\n", "  errors: [\"", "  ...\n", NULL });
  lua_settop(L, 1);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
  struct texts t;
  if (size < CHOICES) return 0;
  read_texts(data, size, &t);
  message(data, &t);
  document(&t);
  for (size_t i = 0; i < TEXTS; i++) free(t.at[i]);
  return 0;
}
