/* SPDX-License-Identifier: MIT
 * The primitives that a sheet rests on: model.called, which listens to results alone, finds those that model.noting
 * finds, which listens to all that is read, in the same order, with the same sheets. */
#include <lauxlib.h>
#include "check.h"
#include "host/host.h"
#include "host/raise.h"

/* compare(script, tracked) -> how many answers there were, how many different sheets, and where the two ways differ. */
static const char chunk[] =
  "local script, tracked = ...\n"
  "local boot, sheets, document = import 'model.boot', import 'write.sheets', import 'write.document'\n"
  "local called, trace = import 'model.called', import 'write.trace'\n"
  "boot.declare { script = script }\n"
  "import('model.judge').all()\n"
  "if tracked then import('model.variants').base() end\n"
  "local function said(answer)\n"
  "  local op, rows = worked_sheet(answer)\n"
  "  local text = { op }\n"
  "  for i, r in ipairs(rows) do text[i + 1] = r.symbol .. '=' .. host.format(r.value) .. r.basis .. r.cite end\n"
  "  return table.concat(text, ' ')\n"
  "end\n"
  "local answers, kinds, n = 0, {}, 0\n"
  "local _, names = sheets.named 'no such sheet'\n"
  "for _, name in ipairs(names) do\n"
  "  local sheet = sheets.named(name)\n"
  "  local of = document.new('test', 'Test')\n"
  "  local mine = called.by(of.guarded, of, sheet.whole)\n"
  "  of = document.new('test', 'Test')\n"
  "  local body, all = trace.body(of.guarded, of, sheet.whole), {}\n"
  "  trace.primitives(body, function(answer) all[#all + 1] = answer end)\n"
  "  if #mine ~= #all then return 0, 0, sheet.name .. ': ' .. #mine .. ' answers, not ' .. #all end\n"
  "  for i, answer in ipairs(all) do\n"
  "    local text = said(answer)\n"
  "    local own = said(mine[i])\n"
  "    if own ~= text then return 0, 0, sheet.name .. ' ' .. i .. ': ' .. own .. ', not ' .. text end\n"
  "    local some = { worked_unread(answer) }\n"
  "    local rows, wanted = some[1] or {}, {}\n"
  "    for _, r in ipairs(select(2, worked_sheet(answer))) do\n"
  "      if r.kind == 'table' and r.basis ~= 'read' and r.basis ~= 'derived' then wanted[#wanted + 1] = r end\n"
  "    end\n"
  "    if #rows ~= #wanted then return 0, 0, sheet.name .. ': ' .. #rows .. ' not read, not ' .. #wanted end\n"
  "    for k, r in ipairs(wanted) do\n"
  "      for _, key in ipairs { 'symbol', 'text', 'cite', 'basis' } do\n"
  "        if rows[k][key] ~= r[key] then return 0, 0, sheet.name .. ': ' .. r.symbol .. ' has another ' .. key end\n"
  "      end\n"
  "    end\n"
  "    answers = answers + 1\n"
  "    if not kinds[text] then kinds[text], n = true, n + 1 end\n"
  "  end\n"
  "end\n"
  "return answers, n, ''\n";

static const struct job { const char *name, *script; bool tracked; int least; } jobs[] = {
  { "the egg farm", "examples/egg-farm/job.sline", false, 50 },
  { "the egg farm, once variants are judged", "examples/egg-farm/job.sline", true, 50 },
  { "racks of several kinds", "examples/broken-wheel/job.sline", false, 100 },
  { "metric", "tests/pages/jobs/southern/job.sline", false, 50 },
  { "with pipe", "examples/well-and-shop/job.sline", false, 50 },
  { "the smallest", "tests/pages/jobs/smallest/job.sline", false, 0 },
};

static void finds_the_same(void **state) {
  const struct job *j = *state;
  char folder[200];
  snprintf(folder, sizeof folder, "%.*s", (int)(strrchr(j->script, '/') - j->script), j->script);
  struct sl_host host = { .folder = folder, .format = SL_HUMAN };
  lua_State *L = sl_host_new(&host, NULL);
  assert_non_null(L);
  assert_int_equal(luaL_loadstring(L, chunk), LUA_OK);
  lua_pushstring(L, j->script);
  lua_pushboolean(L, j->tracked);
  if (sl_host_call(L, 2, 3)) {
    sl_host_report(L);
    fail_msg("%s did not run", j->script);
  }
  assert_string_equal(lua_tostring(L, -1), "");
  assert_true(lua_tointeger(L, -2) >= j->least);
  sl_host_close(L);
}

int main(void) {
  struct CMUnitTest tests[10] = { 0 };
  size_t n = 0;
  ADD_ROWS(tests, n, jobs, finds_the_same);
  return _cmocka_run_group_tests("called", tests, n, NULL, NULL);
}
