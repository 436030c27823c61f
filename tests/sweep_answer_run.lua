-- SPDX-License-Identifier: MIT
-- What tests/sweep_answer.lua asks, in the host's Lua.
--
-- input: { script, store = path of a file that is not there, vary, keep, least, most = lists of texts, set, sample,
-- seed,
-- shard, rows = planted, or nil: all are judged, without = numbers that are left out, grow = how many rows of three
-- goals are made up }.  A row is { number, status, broken, unknown, cautions, why, kept ... }, false for NULL.
local input = ...
import "model.boot"
local judging = import "host.judging"
local run = import "model.run"
local rejudged = import "sweep.rejudged"

local set = {}
for i, text in ipairs(input.set or {}) do set[i] = import("model.boot").setting(text) end
local o = { script = input.script, set = input.set or {}, vary = input.vary, keep = input.keep, least = input.least,
    most = input.most, sample = input.sample, seed = input.seed, shard = input.shard, format = "text" }
judging.declare(o, set)
local space = import("sweep.space").new(import("sweep.axes").of(o), o)
local goals = import("sweep.goals").of(o)

-- ---- a store --------------------------------------------------------------------------------------------------------

local function values_of(j)
  local values, ids = {}, { broken = {}, unknown = {} }
  local cautions = 0
  if j.refused then return "refused", nil, nil, 0, j.refused end
  for _, key in ipairs { "broken", "unknown" } do
    for _, x in ipairs(j[key]) do
      if x.severity == "stop" then table.insert(ids[key], x.id) else cautions = cautions + 1 end
    end
  end
  local status = #ids.broken > 0 and "broken" or #ids.unknown > 0 and "unknown" or "holds"
  for i = 1, #goals.kept do values[i] = j.kept[i] end
  local function cell(list) return #list > 0 and table.concat(list, " ") or nil end
  return status, cell(ids.broken), cell(ids.unknown), cautions, nil, table.unpack(values, 1, #goals.kept)
end

local store_of = import "sweep.store"
local store = store_of.open(input.store, store_of.meta(o, space, goals))
local db = store.db
local insert = "INSERT INTO variant VALUES (?, ?, ?, ?, ?, ?" .. string.rep(", ?", #goals.kept) .. ")"
local without = {}
for _, number in ipairs(input.without or {}) do without[number] = true end

if input.grow then
  -- numbers by a rule of their own, so that who reads them can work them out again
  for number = 0, input.grow - 1 do
    local x = number * 7919 % 1009
    local y = (number * 104729 + 13) % 997
    db:run(insert, number, x % 3 == 0 and "broken" or "holds", x % 3 == 0 and "R12" or nil, nil, 0, nil, x, y,
        (x * y) % 11, nil)
  end
elseif input.rows then
  for _, row in ipairs(input.rows) do
    local cells = {}
    for i = 1, 6 + #goals.kept do cells[i] = row[i] ~= false and row[i] or nil end
    db:run(insert, table.unpack(cells, 1, 6 + #goals.kept))
  end
else
  for number = 0, space.total - 1 do
    if not without[number] then db:run(insert, number, values_of(rejudged.of(space, number, goals.kept))) end
  end
end

-- ---- the answer -----------------------------------------------------------------------------------------------------

local f = import("sweep.answer").of(store, space, goals)
local d = import "write.sweep"(f, o)
local out = { text = import "write.text"(d, { width = 80 }), complete = f.complete, missing = f.missing,
    winner = f.winner and f.winner.number, ties = f.ties, base_rank = f.base_rank, best = {}, rules = {}, ended = {},
    counts = f.counts, effects = {}, alike = f.alike, lots = f.lots, unlike = f.unlike, waiting = f.waiting,
    pareto = f.pareto and f.pareto.numbers, shown = f.pareto and f.pareto.shown, stopped_better = f.stopped_better,
    drawn_twice = f.drawn_twice, kept_pareto = {}, kept_best = {}, nearest = {}, along = {},
    sentence = import("write.sweep_words").sentence(f, o) }
for i, row in ipairs(f.best) do out.best[i] = { number = row.number, rank = row.rank, alike = row.alike } end
for i, row in ipairs(f.nearest) do out.nearest[i] = row.number end
for _, r in ipairs(f.rules) do
  out.rules[#out.rules + 1] = r.id
  out.rules[r.id] = { broken = r.broken, alone = r.alone, unknown = r.unknown, open_alone = r.open_alone,
      waits = r.waits, reason = r.reason, open_reason = r.open_reason }
end
for _, e in ipairs(f.ended) do out.ended[e.status] = { n = e.n, example = e.example, why = e.why } end
for a = 1, #f.axes do out.effects[a] = f.effects[a] == nil and "not known" or f.effects[a] end
for a, x in ipairs(f.along) do out.along[a] = { steps = x.steps, tried = x.tried, declared = x.declared,
    rules = x.rules } end
for number in db:each "SELECT number FROM pareto ORDER BY number" do table.insert(out.kept_pareto, number) end
for number in db:each "SELECT number FROM best ORDER BY rank" do table.insert(out.kept_best, number) end
if input.formats then
  local function as(format) return import "write.sweep"(f, setmetatable({ format = format }, { __index = o })) end
  out.json, out.csv = import "write.json"(as "json"), as "csv".whole.csv
  out.html, out.markdown = import "write.html"(as "html"), import "write.markdown"(d)
  out.schema = import "write.schema_json"()
end
store:close()
assert(run)
return out
