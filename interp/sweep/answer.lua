-- SPDX-License-Identifier: MIT
-- What a sweep found, from the rows of its store: as plain data, which write.sweep puts into words.
--
-- The run at hand is the job as declared.  What rows do not have (margins, reasons, what is bought) is found by judging
-- the few variants again that are told of.
local schema = import "model.schema"
local record = import "model.record"
local rule = import "model.rule"
local words = import "write.words"
local columns = import "sweep.columns"
local ranking = import "sweep.ranking"
local rejudged = import "sweep.rejudged"
local sameness = import "sweep.sameness"
local shard = import "sweep.shard"
local tally = import "sweep.tally"
local answer = {}

local MOST = 10            -- of the best that are told
local FEW = 8              -- of the Pareto set that are shown
local REASONS = 12         -- rules whose reason is told by an example
local MOST_APART = 16      -- variants that are judged to see what moves

-- ---- kept results --------------------------------------------------------------------------------------------------

-- The unit in which a result or an input prints.
local function unit_of(name, value)
  local ok, proxy, rest = pcall(record.locate, name)
  if not ok or not proxy or not rest[1] then return nil end
  local def = not rest[2] and schema.result(record.inside[proxy].def, rest[1])
  if def then return words.result_unit(def, value) end
  return words.input_unit(name, value)
end

-- Each kept result with like, a value of its kind, and show(cell of a row): as the job prints it; field: its column.
local function shown(goals, stored)
  local list = {}
  for i, k in ipairs(goals.kept) do
    local out = { name = k.name, says = k.says, unit = k.unit, like = k.sample or k.get(), of = k.of,
        field = stored[i].field }
    function out.value(cell)
      local like = out.like
      if type(cell) ~= "number" then return cell end
      if host.is_quantity(like) then return host.like(like, cell) end
      return math.type(like) == "integer" and math.tointeger(cell) or cell
    end
    function out.show(cell)
      if cell == nil then return k.of and "nothing" or "unknown" end
      local v = out.value(cell)
      return words.show(v, type(v) ~= "string" and unit_of(k.name, v) or nil)
    end
    list[i] = out
  end
  for _, g in ipairs(goals.goals) do list[g.i].goal = g.most and "most" or "least" end
  return list
end

-- ---- rows ----------------------------------------------------------------------------------------------------------

local function reader(db, kept)
  local names = columns.kept(kept)
  local all = { "number, status, broken, unknown, cautions, why", table.unpack(names) }
  local sql = "SELECT " .. table.concat(all, ", ") .. " FROM variant WHERE number = ?"
  local function row(number, status, broken, unknown, cautions, why, ...)
    if number == nil then return nil end
    return { number = number, status = status, broken = columns.ids(broken), unknown = columns.ids(unknown),
        cautions = cautions or 0, why = why, values = { ... } }
  end
  return function(number) return row(db:one(sql, number)) end
end

-- ---- what limits ---------------------------------------------------------------------------------------------------

-- Variants in which each axis stands elsewhere, to see which margins it moves.
local function apart(space)
  local list = {}
  if space.sampled then return { 1, space.total // 2, space.total - 1 } end
  for a, axis in ipairs(space.axes) do
    local steps = {}
    for k = 1, #space.axes do steps[k] = 0 end
    for _, step in ipairs { 1, axis.size - 1 } do
      steps[a] = step
      if step > 0 and step < axis.size and #list < MOST_APART then list[#list + 1] = space.number(steps) end
    end
  end
  return list
end

-- Whether an outcome moves with what is varied: its rule stops some variants and not others, or its margin is another
-- in another of those that were judged again.
local function mover(rules, judged)
  local by_rule, by_key, ratio = {}, {}, {}
  for _, r in ipairs(rules) do by_rule[r.id] = true end
  for _, j in ipairs(judged) do
    for _, m in ipairs(j.margins or {}) do
      if ratio[m.key] and not host.near(ratio[m.key], m.ratio) then by_key[m.key] = true end
      ratio[m.key] = ratio[m.key] or m.ratio
    end
  end
  return function(m) return by_rule[m.id] or by_key[m.key] or false end
end

-- ---- reasons -------------------------------------------------------------------------------------------------------

local function reason_of(list, id)
  for _, x in ipairs(list or {}) do
    if x.id == id then
      local subject = x.subject ~= "" and x.subject .. ": " or ""
      return subject .. x.words, x.waits
    end
  end
end

-- Why a rule stops its first variants, and whether somebody has to sign for what it asks.
local function put_reasons(rules, again)
  for i, r in ipairs(rules) do
    local def = rule.find(r.id)
    r.says, r.severity, r.caution = def and def.says, def and def.severity, def and def.caution
    if i <= REASONS then
      local broken = r.alone_example or not r.open_alone_example and r.example
      if broken then
        r.reason = reason_of(again(broken).broken, r.id)
        r.reason_of = r.reason and broken
      end
      local open = r.alone_open_example or r.open_example
      if open then
        r.open_reason, r.waits = reason_of(again(open).unknown, r.id)
        r.open_reason_of = r.open_reason and open
      end
    end
  end
end

-- Of the variants that wait for a signature alone: how many, for which rules, the best of them.
local function waiting(db, counted, goals)
  local cells, ids, n = {}, {}, 0
  for _, g in ipairs(counted.groups) do
    if g.status == "unknown" and #g.broken == 0 then
      local all = true
      for _, id in ipairs(g.unknown) do all = all and counted.by[id].waits end
      if all then
        cells[#cells + 1], n = g.cell, n + g.n
        for _, id in ipairs(g.unknown) do ids[id] = true end
      end
    end
  end
  if n == 0 then return nil end
  local out = { n = n, rules = {} }
  for id in host.sorted(ids) do table.insert(out.rules, id) end
  table.sort(out.rules, tally.id_before)
  if #goals > 0 then
    local found = ranking.of(db, goals, { most = 1, params = cells,
        where = "status = 'unknown' AND broken IS NULL AND unknown IN (" .. columns.places(#cells) .. ")" })
    out.best, out.ties = found.best[1] and found.best[1].number, found.ties
  end
  return out
end

-- ---- the job as declared -------------------------------------------------------------------------------------------

local function ids_of(list)
  local ids = {}
  for _, x in ipairs(list or {}) do if x.severity == "stop" then ids[#ids + 1] = x.id end end
  return ids
end

-- Its row; of a store that does not have it, since that is another shard's or not done yet, as it is judged now.
local function declared(f)
  local row, now = f.rows(0), nil
  if row and row.status == "refused" then return row end
  now = f.judged(0)
  if not row then
    row = { number = 0, broken = ids_of(now.broken), unknown = ids_of(now.unknown), cautions = 0, values = {},
        apart = true }
    row.status = now.refused and "refused" or #row.broken > 0 and "broken" or #row.unknown > 0 and not f.quote and
        "unknown" or "holds"
    for i, v in host.sorted(now.kept or {}) do row.values[i] = v end
  end
  row.judged = now
  return row
end

-- ---- all -----------------------------------------------------------------------------------------------------------

-- How many variants a store is to have, and which part of a sweep that is: I/N or nil.
local function wanted(store, space)
  local name = store.sweep.shard
  return shard.size(space.total, shard.read(name)), name
end

local MANY = 5000          -- of a Pareto set: so many are read to see which came out alike

-- Of those that came out alike in all that is kept the first.
local function unlike(f, numbers)
  if #numbers > MANY then return numbers end
  local list, met = {}, {}
  for _, number in ipairs(numbers) do
    local cells = {}
    for i, k in ipairs(f.kept) do
      local v = f.rows(number).values[i]
      cells[i] = math.type(v) == "float" and string.format("%a", v) or tostring(v)
    end
    local key = table.concat(cells, "\n")
    if not met[key] then met[key], list[#list + 1] = true, number end
  end
  return list
end

-- Those that hold, by the goals.
local function rank(f, db)
  if #f.goals == 0 then return end
  local found = ranking.of(db, f.goals, { most = MOST, where = "status = 'holds'", pareto = #f.goals > 1, number = 0,
      alike = columns.kept(f.kept) })
  f.unranked = ranking.left_out(db, f.goals, "status = 'holds'")
  for i, b in ipairs(found.best) do
    f.best[i] = f.rows(b.number)
    f.best[i].rank, f.best[i].alike = b.rank, b.alike
  end
  f.ties, f.ranked, f.base_rank = found.ties, found.ranked, found.of
  if found.pareto then f.pareto = { numbers = found.pareto, shown = ranking.spread(unlike(f, found.pareto), FEW) } end
  local first, goal = f.best[1], f.goals[1]
  if first then f.stopped_better = ranking.stopped_better(db, goal, first.values[goal.i], f.quote) end
end

-- Whether a variant that was judged again is what its row says.
local function as_kept(row, kept)
  local j = row.judged
  if j.refused then return row.status == "refused" end
  for i = 1, #kept do
    local v, was = j.kept[i], row.values[i]
    local same = v == was or type(v) == "number" and type(was) == "number" and host.near(v, was)
    if not same then return false end
  end
  return table.concat(ids_of(j.broken), " ") == table.concat(row.broken, " ") and
      table.concat(ids_of(j.unknown), " ") == table.concat(row.unknown, " ")
end

-- Margins (by their key) that are the same in all that are told and as declared, of rules that stop nothing: they hold
-- none of these back against another.
local function unmoved(f)
  local ratio, n, flat, stops = {}, {}, {}, {}
  for _, r in ipairs(f.rules) do stops[r.id] = true end
  local rows = table.move(f.told, 1, #f.told, 1, {})
  if not (f.told[1] and f.told[1].number == 0 and #f.told == 1) then rows[#rows + 1] = f.base end
  for _, row in ipairs(rows) do
    for _, m in ipairs(row.judged and row.judged.margins or {}) do
      if ratio[m.key] == nil then ratio[m.key], n[m.key] = m.ratio, 1
      elseif ratio[m.key] and host.near(ratio[m.key], m.ratio) then n[m.key] = n[m.key] + 1
      else ratio[m.key] = false end
      if stops[m.id] then ratio[m.key] = false end
    end
  end
  for key, r in host.sorted(ratio) do flat[key] = r and #rows > 1 and n[key] == #rows or nil end
  return flat
end

-- Judges those again that are told of, and says what limits each.
local function judge_again(f)
  local judged = {}
  for i, row in ipairs(f.told) do
    row.judged = f.judged(row.number)
    judged[i] = row.judged
  end
  judged[#judged + 1] = f.base.judged
  for i, k in ipairs(f.kept) do                    -- of what is unknown as declared, the kind is known from others
    for _, j in ipairs(judged) do if k.like == nil and j.samples then k.like = j.samples[i] end end
  end
  for _, number in ipairs(#f.best > 0 and apart(f.space) or {}) do judged[#judged + 1] = f.judged(number) end
  local moves, flat = mover(f.rules, judged), unmoved(f)
  local function limited(row)
    local first
    for _, m in ipairs(row.judged and row.judged.margins or {}) do
      if moves(m) then
        if not flat[m.key] then return m end
        first = first or m
      end
    end
    return first
  end
  for _, row in ipairs(f.told) do
    row.limit = limited(row)
    if not as_kept(row, f.kept) then f.unlike = row.number end
  end
  f.base.limit = limited(f.base)
end

-- store: of sweep.store; space, goals: as sweep.space and sweep.goals have them.  A row is { number, status, broken =
-- ids, unknown = ids, cautions, why, values = of kept results in SI }, and of those that are told { rank, alike, judged
-- = as sweep.rejudged has it, limit = the margin that limits it } besides.  Gives { total, done, wanted = how many the
-- store is to have, missing, shard, complete, sampled, counts = by status, cautioned, rules, ended, along = as
-- sweep.tally has them, kept, goals, open = how many hold with a stop rule unknown (at stage quote), best = rows, ties,
-- ranked, base = row, base_rank, winner = row or nil, nearest = rows where none holds, told = of the two the one there
-- is, pareto = { numbers, shown } or nil, stopped_better, waiting, effects, status = 0 if any holds, else 1, alike,
-- lots, twice, drawn_twice, drawn_lots, unranked = as ranking.left_out has it, unlike = number of a row that is not as
-- it is judged now, pictures = { { name, canvas } ... } }, and rows, judged: functions of a number.
function answer.of(store, space, goals)
  collectgarbage()                       -- each of any number of rows leaves a little: from here on garbage takes no
  collectgarbage("incremental", 200)     -- more memory than what is wanted does
  local db, cache = store.db, {}
  local quote = record.root.stage == "quote"
  local counted = tally.of(db, space, quote)
  local kept, sought = shown(goals, store.kept), {}
  for i, g in ipairs(goals.goals) do
    local without = goals.kept[g.i].without
    sought[i] = { name = g.name, i = g.i, most = g.most, field = kept[g.i].field,
        without = without and kept[without].field, base = without and goals.kept[without].get() }
  end
  local f = { space = space, total = space.total, sampled = space.sampled, axes = space.axes, kept = kept,
      goals = sought, quote = quote, db = db, rows = reader(db, kept), best = {}, nearest = {}, ties = 0,
      done = counted.done, counts = counted.counts, cautioned = counted.cautioned, rules = counted.rules,
      ended = counted.ended, along = counted.along }
  function f.judged(number)
    cache[number] = cache[number] or rejudged.of(space, number, goals.kept)
    return cache[number]
  end
  f.wanted, f.shard = wanted(store, space)
  f.missing = math.max(f.wanted - f.done, 0)
  f.complete = f.missing == 0 and not f.shard
  rank(f, db)
  if (f.counts.holds or 0) == 0 then
    for i, number in ipairs(ranking.nearest(db, f.goals, MOST)) do f.nearest[i] = f.rows(number) end
  end
  f.status = (f.counts.holds or 0) > 0 and 0 or 1
  f.open = db:one "SELECT count(*) FROM variant WHERE status = 'holds' AND unknown IS NOT NULL"
  f.told = #f.best > 0 and f.best or f.nearest
  f.base = declared(f)
  judge_again(f)
  put_reasons(f.rules, f.judged)
  f.waiting = waiting(db, counted, f.goals)
  f.effects = sameness.effects(db, space, kept)
  if #kept > 0 then f.alike, f.lots = sameness.alike(db, kept) end
  f.twice = sameness.twice(db, space)
  if space.sampled then f.drawn_twice, f.drawn_lots = sameness.drawn_twice(db) end
  f.winner = f.complete and f.best[1] or nil
  f.pictures = import("sweep.pictures").of(f)
  local best = {}
  for i, row in ipairs(f.best) do best[i] = row.number end
  store:finish(f.pareto and f.pareto.numbers or {}, best)
  return f
end

return answer
