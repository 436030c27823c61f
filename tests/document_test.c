/* SPDX-License-Identifier: MIT
 * Documents: what every one of them keeps to, in each form and at each width; and that the check itself can fail. */
#include <lauxlib.h>
#include "check.h"
#include "command/rows.h"
#include "host/host.h"
#include "host/raise.h"

static const char judged[] =
  "local script, changes = ...\n"
  "local boot = import 'model.boot'\n"
  "local plan = {}\n"
  "for s in changes:gmatch('[^;]+') do plan[#plan + 1] = boot.setting(s) end\n"
  "boot.declare { script = script, plan = plan }\n"
  "local outcomes = boot.judge()\n"
  "local options = { words = { script }, set = {} }\n"
  "local check = dofile_of_test()\n"
  "local report, sheets, sheet = import 'write.report', import 'write.sheets', import 'write.sheet'\n"
  "local cells = check('report', report.report(outcomes, 0, options)) + "
    "check('check', report.check(outcomes, 0, options)) + check('sheets', sheet(outcomes, 0, nil, options))\n"
  "for _, s in ipairs(sheets.state(outcomes)) do\n"
  "  cells = cells + check('sheet ' .. s.sheet.name, sheet(outcomes, 0, s.sheet.name, options))\n"
  "  if s.sheet.crew then\n"
  "    local crews = sheet(outcomes, 0, s.sheet.name, { words = { script }, set = {}, whom = 'crew' })\n"
  "    cells = cells + check('for the crew, ' .. s.sheet.name, crews)\n"
  "  end\n"
  "end\n"
  "cells = cells + check('form of the job', import('write.form')(outcomes))\n"
  "local explain = import 'write.explain'\n"
  "import('model.noting').start()\n"
  "for _, what in ipairs { 'R41', 'R30', 'job.total', 'rack', 'site', 'post', 'rack.upper.true_azimuth' } do\n"
  "  local ok, d = pcall(explain.explain, boot, what)\n"
  "  if ok then cells = cells + check('explain ' .. what, d)\n"
  "  elseif type(d) ~= 'table' then error(d, 0) end\n"
  "end\n"
  "if cells < 100 then error('only ' .. cells .. ' cells were compared', 0) end\n"
  "return true\n";

static const char told[] =
  "import 'model.boot'\n"
  "local check = dofile_of_test()\n"
  "local describe = import 'write.describe'\n"
  "check('units', describe.units())\n"
  "check('form', import('write.form')())\n"
  "for _, line in ipairs((import('write.wanted').all())) do\n"
  "  if not import('write.places').of(line.who, line.tool) then\n"
  "    error(line.def.name .. '.' .. line.path .. ' is told by ' .. tostring(line.who) .. ' with ' ..\n"
  "        tostring(line.tool) .. ': neither is in write.places', 0)\n"
  "  end\n"
  "end\n"
  "check('reference', describe.reference())\n"
  "check('describe', describe.describe())\n"
  "for _, name in ipairs { 'rack', 'site', 'site.soil', 'rack.tilt', 'calc.embed_neglecting', 'calc', 'at_most', "
  "'price' } do\n"
  "  check('describe ' .. name, describe.describe(name))\n"
  "end\n"
  "check('help', import('command.usage')())\n"
  "check('help of one', import('command.usage')('reference'))\n"
  "check('a code', import('write.codes').explain('Q003'))\n"
  "return true\n";

/* A document of the worst that may come: long words, long numbers, wide tables, texts that a form must escape. */
static const char hard[] =
  "import 'model.boot'\n"
  "local check = dofile_of_test()\n"
  "local document = import 'write.document'\n"
  "local d = document.new('hard', 'Hard')\n"
  "d:head('a title that is much longer than sixty columns, so that it has to be broken somewhere, and 90 ft of it')\n"
  "d:heading(('heading '):rep(20))\n"
  "d:para(('x'):rep(200) .. ' 7 ft 6-5/8 in ' .. ('word 12.5 lbf '):rep(40), 'lead: ')\n"
  "d:para(('\\u{e4}\\u{f6} 36 degC '):rep(30))\n"
  "d:warning(('mind 6 AWG, 90 deg and 2.5 % of it '):rep(9))\n"
  "d:item(('one 30 psf '):rep(20))\n"
  "local tags = '<script>x</script> & <img> <b>'\n"
  "d.title = tags\n"
  "for _, kind in ipairs { 'head', 'heading', 'subheading', 'note', 'warning', 'item', 'code', 'para' } do\n"
  "  d[kind](d, tags)\n"
  "end\n"
  "d:para(tags, tags .. ': ')\n"
  "d:outcome(tags, tags, 'bad')\n"
  "d:step { symbol = tags, formula = tags, put = tags, result = { text = tags }, source = tags }\n"
  "d:step { symbol = tags, result = { text = tags }, says = tags }\n"
  "d:figure('sketch', tags, 2)\n"
  "local canvas = import 'write.canvas'\n"
  "d:picture('small', canvas.new { width = 9, height = 9, title = 'drawn ' .. tags, says = tags })\n"
  "d:picture('stored', canvas.new { width = 9, height = 9, title = 'drawn ' .. tags }, 'a (b) <b>.svg')\n"
  "d:blank(tags, { choices = { tags }, from = tags})\n"
  "d:blank(tags, { heads = { { '<b>', '<b>' } }, count = 1 })\n"
  "d:blank(tags, { unit = tags })\n"
  "d:table({ tags, { 'b', wrap = true } }, { { tags, document.value(host.quantity(1, 'length')) } })\n"
  "local columns, rows = { 'post' }, {}\n"
  "for i = 2, 14 do columns[i] = { 'column ' .. i, right = i % 2 == 0 } end\n"
  "for r = 1, 4 do\n"
  "  rows[r] = { 'F' .. r }\n"
  "  for i = 2, 14 do rows[r][i] = document.value(host.quantity(r * i * 1.5, 'length')) end\n"
  "end\n"
  "d:table(columns, rows)\n"
  "d:table({ { 'a', wrap = true }, { 'b', wrap = true } }, { { ('/long/path.csv'):rep(12), 'a,b' }, "
    "{ '=1+1', 'say \"so\" & <so> `code`' }, { '-a', '+b' }, { '@c', '' } })\n"
  "d:inside(d.inside, d.table, { 'n', { 'text', wrap = true } }, { { 'x', ('long 12 in '):rep(30) } })\n"
  "return check('hard', d) > 60\n";

/* What a body wrote before something in it was unknown is taken back, and another error goes on. */
static const char taken_back[] =
  "local document = import 'write.document'\n"
  "local d = document.new('half', 'Half')\n"
  "d:para('before')\n"
  "d:fact('kept', 1)\n"
  "local function body(class)\n"
  "  return function(d)\n"
  "    d:inside(function()\n"
  "      d:para('half of it')\n"
  "      d:fact('lost', 2)\n"
  "      host.raise { code = 'D010', class = class, text = 'no frost is given', who = 'the office' }\n"
  "    end)\n"
  "  end\n"
  "end\n"
  "d:guarded(body 'missing')\n"
  "local last = d.blocks[2]\n"
  "assert(#d.blocks == 2 and last.text:find('no frost is given; ask the office', 1, true), last.text)\n"
  "assert(last.depth == 0 and d.depth == 0, 'depth')\n"
  "assert(#d.facts == 1 and d.facts[1][1] == 'kept', 'facts')\n"
  "return not pcall(d.guarded, d, body(nil))\n";

/* Planted faults: each must be found. */
static const char faults[] =
  "import 'model.boot'\n"
  "local document = import 'write.document'\n"
  "local page = import 'write.page'\n"
  "local function found(what, plant)\n"
  "  local check = dofile_of_test()\n"
  "  local d = document.new('fault', 'Fault')\n"
  "  d:table({ 'name', 'value' }, { { 'F1', document.value(host.quantity(2, 'length')) } })\n"
  "  d:para(('9 ft of wood '):rep(30))\n"
  "  local mend = plant(d)\n"
  "  local ok, why = pcall(check, 'fault', d)\n"
  "  if mend then mend() end\n"
  "  if ok then error('not noticed: ' .. what, 0) end\n"
  "end\n"
  "found('a number broken', function()\n"
  "  local wrap = page.wrap\n"
  "  page.wrap = function(t, w) return host.wrap(t, w, function() return false end) end\n"
  "  return function() page.wrap = wrap end\n"
  "end)\n"
  "found('a cell that changes', function(d)\n"
  "  local n, cell = 0, { of = nil }\n"
  "  d.blocks[1].rows[1][2] = setmetatable({}, { __index = function(_, k)\n"
  "    if k == 'text' then n = n + 1 return 'now ' .. n end end })\n"
  "end)\n"
  "found('a line too long', function()\n"
  "  local wrap = host.wrap\n"
  "  host.wrap = function(t) return { t } end\n"
  "  return function() host.wrap = wrap end\n"
  "end)\n"
  "return true\n";

static int load_check(lua_State *L) {
  if (luaL_loadfilex(L, "tests/documents.lua", "t")) return lua_error(L);
  lua_call(L, 0, 1);
  return 1;
}

static const struct row { const char *name, *folder, *script, *changes, *chunk; } rows[] = {
  { "the first job", "examples/egg-farm", "examples/egg-farm/job.sline", "", judged },
  { "the first job, broken", "examples/egg-farm", "examples/egg-farm/job.sline",
    "footing.deep.hole_depth=36in;strings.series=6;trench.main.cover=12in", judged },
  { "the first job, to be built", "examples/egg-farm", "examples/egg-farm/job.sline", "job.stage=build", judged },
  { "the first job in SI", "examples/egg-farm", "examples/egg-farm/job.sline", "job.units=SI", judged },
  { "the first job in feet and inches", "examples/egg-farm", "examples/egg-farm/job.sline",
    "job.lengths=feet and inches", judged },
  { "two racks", "tests/golden/jobs/two-racks", "tests/golden/jobs/two-racks/job.sline", "", judged },
  { "what is unknown", "tests/golden/jobs/goat-shed", "tests/golden/jobs/goat-shed/job.sline", "", judged },
  { "what is unknown, to be built", "tests/golden/jobs/goat-shed", "tests/golden/jobs/goat-shed/job.sline",
    "job.stage=permit", judged },
  { "what the program tells of itself", "", "", "", told },
  { "the worst that may come", "", "", "", hard },
  { "a body that fails leaves nothing", "", "", "", taken_back },
  { "the check notices faults", "", "", "", faults },
};

static void keeps_to_it(void **state) {
  const struct row *r = *state;
  const struct sl_host host = { .folder = r->folder, .format = SL_GNU };
  lua_State *L = sl_host_new(&host, NULL);
  assert_non_null(L);
  sl_rows_open(L);
  lua_pushcfunction(L, load_check);
  lua_setglobal(L, "dofile_of_test");
  assert_int_equal(luaL_loadstring(L, r->chunk), LUA_OK);
  lua_pushstring(L, r->script);
  lua_pushstring(L, r->changes);
  if (sl_host_call(L, 2, 1)) {
    struct sl_message m;
    sl_error_message(L, -1, &m);
    fail_msg("%s", m.text);
  }
  assert_true(lua_toboolean(L, -1));
  sl_host_close(L);
}

int main(void) {
  enum { N = sizeof rows / sizeof *rows };
  struct CMUnitTest tests[N];
  for (size_t i = 0; i < N; i++)
    tests[i] = (struct CMUnitTest){ rows[i].name, keeps_to_it, NULL, NULL, (void *)(uintptr_t)&rows[i] };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
