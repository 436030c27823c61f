-- SPDX-License-Identifier: MIT
-- What would mend a broken outcome: the changes that its rule knows, and for each input of the designer that it rests
-- on the nearest value, as it can be built, with which it holds.  Each is tried against all rules, and priced.
--
-- Work is counted, not timed, so that every run finds the same: what is left of it when a job has many broken rules
-- goes to the worst of them first, and what was not tried is told.
local run = import "model.run"
local record = import "model.record"
local judge = import "model.judge"
local schema = import "model.schema"
local graph = import "model.graph"
local noting = import "model.noting"
local variants = import "model.variants"
local search = import "model.search"
local inputs = import "model.inputs"
local trial = import "model.trial"
local remedies = {}

local inside, key_of = record.inside, variants.key

-- ---- how much work -------------------------------------------------------------------------------------------------

-- One value tried counts 1, a job judged anew with all its rules 10, whatever the size of the job: both take a share
-- of what judging it once does. Of the worst subject of each rule the turning value and what the rule itself knows are
-- always looked for; so much work there is for other inputs, and so much more for each rule that is broken, each rule
-- having its part of what is left; and so much for all subjects that none of that mends. So many rules are that: for
-- each try looks through all that the script's rules hold, and a job may have thousands.
local for_inputs, for_each_rule, for_others, a_try, a_judging = 50, 10, 100, 1, 10
local most_rules = 50

-- A start costs as much as judging some hundred outcomes. With these counts, the fewer the more outcomes a job has, a
-- broken job takes at most three times what a holding one does; the turning value is told then without what it breaks.
local function judgings(outcomes) return 3 + 2800 // outcomes end

-- Of this run: { base = outcomes by key of what is broken or unknown, list = the broken ones, the worst first,
-- of_rule = those of each rule, by = each by its key, left, known = what came of changes that were tried, of = remedy
-- by key of an outcome, designed = inputs of the designer by path, or false }.
run.keep("mending", function() return nil end)

local gave_up = {}           -- raised where no work is left

local function spend(n)
  local m = run.mending
  if m.left < n then error(gave_up, 0) end
  m.left = m.left - n
end

local function count() spend(a_try) end

local function bad(o) return o.outcome == "broken" or o.outcome == "unknown" end

-- An outcome and its numbers: a rule that is broken before and after, by other numbers, is touched by the change.
local function state(o)
  local f = o.finding or {}
  local function text(x)
    return type(x) == "number" and x or host.is_quantity(x) and host.si(x) or f.words or ""
  end
  return o.outcome .. " " .. text(f.value) .. " " .. text(f.got)
end

local ranks = { stop = 1, caution = 2, note = 3 }

local function worse(a, b)
  local x, y = ranks[a.rule.severity], ranks[b.rule.severity]
  if x ~= y then return x < y end
  x, y = a.finding.ratio or -1, b.finding.ratio or -1
  if not host.near(x, y) then return x < y end
  return a.at < b.at
end

local function begin()
  if run.mending then return run.mending end
  local m = { base = {}, list = {}, of_rule = {}, by = {}, known = {}, of = {}, designed = {} }
  local outcomes = variants.base()
  for i, o in ipairs(outcomes) do
    if bad(o) then m.base[key_of(o)] = state(o) end
    if o.outcome == "broken" and not o.waiver and o.proxy then
      m.list[#m.list + 1] = { rule = o.rule, proxy = o.proxy, subject = o.subject, finding = o.finding, at = i,
          key = key_of(o) }
    end
  end
  table.sort(m.list, worse)
  for _, o in ipairs(m.list) do
    m.of_rule[o.rule] = m.of_rule[o.rule] or {}
    table.insert(m.of_rule[o.rule], o)
    m.by[o.key] = m.by[o.key] or o
  end
  local judged = 0                     -- what has no subject costs nothing
  for _, o in ipairs(outcomes) do if o.outcome ~= "not applicable" then judged = judged + 1 end end
  m.left, m.judgings = for_others, judgings(judged)
  run.mending = m
  return m
end

-- ---- one change, tried against all rules ---------------------------------------------------------------------------

-- What the job costs: the total, and what it leaves out, in words; nil where nothing has a price.
local function price()
  local def = schema.kinds.job.results.total
  local total = def and graph.try(record.root, "total")
  if not total then return nil end
  return total, def.leaves_out and def.leaves_out() or {}
end

local function name_of(changes)
  local parts = {}
  for path, value in host.sorted(changes) do
    local now = record.at(path)
    local text = host.describe(value)
    if now == nil or host.describe(now) ~= text then parts[#parts + 1] = path .. "=" .. text end
  end
  return table.concat(parts, "\0")
end

-- Items that are left out of one total, and not just so out of the other.
local function differs(a, b)
  local whats, items, has, list = { {}, {} }, {}, {}, {}
  for i, out in ipairs { a, b } do
    for _, x in ipairs(out) do whats[i][x.what], items[#items + 1] = true, x end
  end
  for _, x in ipairs(items) do
    if not (whats[1][x.what] and whats[2][x.what]) and not has[x.item] then
      has[x.item], list[#list + 1] = true, x.item
    end
  end
  return list
end

-- By how much the total changes; nil, and what has no price, where that is not known; nothing where nothing has one.
-- at_once: what price gave in the variant, where it was asked there.
local function priced(m, changes, at_once)
  if m.priced == nil then
    local total, out = price()
    m.priced = total and { total = total, out = out } or false
  end
  if not m.priced then return nil end
  local total, out
  if at_once then total, out = at_once[1], at_once[2] else total, out = trial.given(changes, price) end
  if not total then return nil, { "the rest" } end
  local apart = differs(m.priced.out, out)
  if #apart > 0 then return nil, apart end
  return total - m.priced.total
end

-- What comes of it: { bad = { key -> state }, order = { outcome ... that is broken or unknown }, price, unpriced };
-- false where the job cannot be declared or judged so.
local function outcome_of(m, changes)
  local name = name_of(changes)
  if m.known[name] ~= nil then return m.known[name] end
  if m.judgings == 0 then error(gave_up, 0) end
  spend(a_judging)
  m.judgings = m.judgings - 1
  m.known[name] = false
  local cost
  local outcomes = variants.judge(changes, nil, function() cost = { price() } end)
  if not outcomes then return false end
  local x = { bad = {}, order = {} }
  for _, o in ipairs(outcomes) do
    if bad(o) then
      local key = key_of(o)
      x.bad[key] = state(o)
      x.order[#x.order + 1] = { key = key, id = o.rule.id, outcome = o.outcome, rule = o.rule, proxy = o.proxy }
    end
  end
  x.price, x.unpriced = priced(m, changes, cost)
  m.known[name] = x
  return x
end

-- What is broken and unknown after a change that is not just so now, and whether a stop rule is among it that holds
-- now; nil where it does not mend what it is for.
local function effects(m, x, key)
  if x.bad[key] then return nil end
  local ids, has, stop = { broken = {}, unknown = {} }, {}, false
  for _, o in ipairs(x.order) do
    stop = stop or o.rule.severity == "stop" and o.outcome == "broken" and not m.base[o.key]
    if m.base[o.key] ~= x.bad[o.key] and not has[o.id .. o.outcome] then
      has[o.id .. o.outcome] = true
      table.insert(ids[o.outcome], o.id)
    end
  end
  return ids.broken, ids.unknown, stop
end

-- ---- which inputs, and which of their values -----------------------------------------------------------------------

-- Paths of what an outcome read itself or through results, in that order, each once.
local function read_by(def, proxy)
  local node = noting.declared(host.hushed, noting.body, judge.try, def, proxy)
  local list, has, seen = {}, {}, {}
  local function visit(n)
    if seen[n] then return end
    seen[n] = true
    for _, r in ipairs(n.reads or {}) do
      if r.node then visit(r.node)
      elseif not r.call and not has[r.path] then
        has[r.path] = true
        list[#list + 1] = r.path
      end
    end
  end
  visit(node)
  return list
end

local searched = { quantity = true, ratio = true, number = true, count = true, choice = true, flag = true, wire = true }

-- Those of them that a designer can change and that are no name of something else; the one at which the rule turns
-- first.
local function designed(m, def, proxy, first)
  local list = {}
  local paths = read_by(def, proxy)
  if first then table.insert(paths, 1, first) end
  for i, path in ipairs(paths) do
    local known = m.designed[path]
    if known == nil then
      local field = record.field_at(path)
      known = field and field.design and searched[field.type] and { field = field, value = record.at(path) } or false
      m.designed[path] = known
    end
    if known and known.value ~= nil and (i == 1 or path ~= first) then
      list[#list + 1] = { path = path, value = known.value, field = known.field }
    end
  end
  return list
end

-- The same input of other records on which the rule is broken too, where it stands at the same value.
local function peers(m, o, input)
  local top, keys = record.locate(input.path)
  local list, has, same = {}, { [input.path] = true }, host.describe(input.value)
  for _, other in ipairs(m.of_rule[o.rule]) do
    if other ~= o then
      other.top = other.top or inside[record.line_of(other.proxy)[1]]
      local path = other.top.def == inside[top].def and record.step(other.top.path, keys[1])
      if path then
        for i = 2, #keys do path = record.step(path, keys[i]) end
        if not has[path] then
          has[path] = true
          local ok, value = pcall(record.at, path)
          if ok and value ~= nil and host.describe(value) == same then list[#list + 1] = path end
        end
      end
    end
  end
  return list
end

local function together(input, value)
  local changes = { [input.path] = value }
  for _, path in ipairs(input.peers) do changes[path] = value end
  return changes
end

local back, ahead = 10, 20            -- from half of what was declared to twice that: farther off is another job
local most_entries = 3                -- of a list, on each side

-- The nearest value at which this outcome holds, and by how much of itself it moves; nil where none was found. turn:
-- where it turns, if that is known.
local function mending_value(o, input, turn)
  local start, field = input.value, input.field
  local sold = field.sold and field.sold()
  local amount = inputs.is_amount(input) and not sold
  local step = amount and search.step(start, record.root.units)
  local list, here
  if not amount then list, here = inputs.others(input) end
  if sold then
    list, here = table.move(sold, 1, #sold, 1, {}), #sold + 1
    for i = #sold, 1, -1 do if not (sold[i] < start) then here = i end end
    if not list[here] or start < list[here] then table.insert(list, here, start) end
  end
  if not amount and not list then return nil end
  local ordered = o.finding.ratio and (sold or inputs.ordered(input))
  return trial.along(together(input, start), function(under)
    local function tried(value)
      count()
      local outcome, f = under(together(input, value), o.rule, o.proxy)
      return outcome == "holds", f and f.ratio
    end
    local function holds(value) return (tried(value)) end
    if amount then
      local si = type(start) == "number" and start or host.si(start)
      local how = { within = (step or math.abs(si) / 1000) / 2, back = back, ahead = ahead, unit = step }
      local v = turn or search.towards(start, field, tried, how, o.finding.ratio)
      if v == nil then return nil end
      local built = search.mark(v, start, step)
      if host.describe(built) ~= host.describe(v) and not holds(built) then return nil end
      local x = type(built) == "number" and built or host.si(built)
      return built, si ~= 0 and math.abs(x / si - 1) or 1
    end
    local v, places
    if ordered then v, places = search.ordered(list, here, tried, most_entries, o.finding.ratio)
    else v, places = search.entry(list, here, holds, most_entries) end
    if v == nil then return nil end
    return v, math.type(start) == "integer" and math.abs(v / start - 1) or places / #list
  end)
end

-- ---- all for one outcome -------------------------------------------------------------------------------------------

local function show(v, field)
  if field.type == "ratio" then return host.format(v, "%") end
  if type(v) == "boolean" or type(v) == "string" then return tostring(v) end
  return host.format(v)
end

local function in_words(input, value)
  local more = #input.peers
  return input.path .. " = " .. show(value, input.field) .. ", now " .. show(input.value, input.field) ..
      (more > 0 and ", and the same in " .. more .. " more" or "")
end

-- Puts what comes of a suggestion into it; false where it does not mend what it is for.
local function fill(m, o, s)
  local x = outcome_of(m, s.changes)
  if not x then return false end
  local breaks, unknown, stop = effects(m, x, o.key)
  if not breaks then return false end
  s.breaks, s.leaves_unknown, s.price, s.unpriced, s.result = breaks, unknown, x.price, x.unpriced, x
  s.rank = stop and 4 or #breaks > 0 and 3 or #unknown > 0 and 2 or 1
  return true
end

-- How many outcomes of the rule it mends, of how many that are broken.
local function reach_of(m, o, s)
  local mended, all = 0, m.of_rule[o.rule]
  for _, other in ipairs(all) do
    if not s.result.bad[other.key] then mended = mended + 1 end
  end
  s.mends, s.of, s.kind = mended, #all, record.kind_of(o.proxy)
end

-- How far the rule's own changes go: by the farthest of them.
local function distance(changes)
  local far = 0
  for path, value in host.sorted(changes) do
    local now = record.at(path)
    local a, b = now, value
    if host.is_quantity(a) then a, b = host.si(a), host.si(b) end
    if type(a) == "number" and type(b) == "number" then far = math.max(far, a ~= 0 and math.abs(b / a - 1) or 1)
    elseif now == nil or host.describe(now) ~= host.describe(value) then far = math.max(far, 1) end
  end
  return far
end

-- What breaks nothing, what leaves something unknown, what breaks something, what breaks a stop rule that holds; then
-- by price, known before unknown; then by how little it moves.
local function before(a, b)
  if a.rank ~= b.rank then return a.rank < b.rank end
  local x, y = a.price == nil, b.price == nil
  if x ~= y then return y end
  if a.price and not host.near(host.si(a.price), host.si(b.price)) then return a.price < b.price end
  if not host.near(a.far, b.far) then return a.far < b.far end
  return a.number < b.number
end

-- What the rule itself knows: a list, or advice in words.
local function from_rule(m, o, r)
  if not o.rule.nearest then return end
  local ok, list = pcall(o.rule.nearest, o.proxy, record.root, function(values, ids, only)
    return trial.passes(values, ids, only, count)
  end)
  if not ok then
    if list == gave_up or not host.class(list) then error(list, 0) end
    return
  end
  if type(list) == "string" then
    r.advice = list
    return
  end
  for _, s in ipairs(list or {}) do
    s = { words = s.words, changes = s.changes or {}, own = true, far = distance(s.changes or {}),
        number = #r.suggestions + 1 }
    if fill(m, o, s) then r.suggestions[#r.suggestions + 1] = s end
  end
end

-- What changing one input does; the same value is looked for once more where others of the rule want more of it.
local function from_input(m, o, r, input)
  input.peers = peers(m, o, input)
  local turn = r.flip and r.flip.path == input.path and #input.peers == 0 and r.flip.value or nil
  local value, far = mending_value(o, input, turn)
  if value == nil then return end
  local s = { words = in_words(input, value), changes = together(input, value), far = far, number = #r.suggestions + 1 }
  local name = name_of(s.changes)
  for _, other in ipairs(r.suggestions) do if name_of(other.changes) == name then return end end
  if fill(m, o, s) then r.suggestions[#r.suggestions + 1] = s end
end

local function flip_of(m, o, r)
  local flip = trial.flip(o.rule, o.proxy, count)
  if not flip then return end
  if m.judgings == 0 then
    flip.breaks, flip.leaves_unknown, flip.alone = {}, {}, true
    r.flip = flip
    return
  end
  local x = outcome_of(m, { [flip.path] = flip.value })
  if not x then return end
  flip.breaks, flip.leaves_unknown = effects(m, x, o.key)
  if flip.breaks then r.flip = flip end
end

-- Runs a step of the search; false where the work ran out.
local function step(f, ...)
  local ok, err = pcall(f, ...)
  if not ok and err ~= gave_up then error(err, 0) end
  return ok
end

-- inputs_work: so much there is for other inputs, and the rest is done in any case; without it all has to do with what
-- is left. Second: how much of it is spared.
local function search_for(m, o, inputs_work)
  local r = { suggestions = {} }
  m.of[o.key] = r
  local left = m.left
  if inputs_work then m.left = math.huge end
  local all = step(flip_of, m, o, r)
  all = step(from_rule, m, o, r) and all
  m.left = inputs_work or m.left
  local list = designed(m, o.rule, o.proxy, r.flip and r.flip.path)
  local tried = 0
  for _, input in ipairs(list) do
    if step(from_input, m, o, r, input) then tried = tried + 1 end
  end
  if tried < #list or not all then r.gave_up = { tried = tried, of = #list } end
  for _, s in ipairs(r.suggestions) do reach_of(m, o, s) end
  r.own = {}
  for _, breaking in ipairs { false, true } do
    for _, s in ipairs(r.suggestions) do
      if s.own and breaking == (#s.breaks > 0) then r.own[#r.own + 1] = s end
    end
  end
  table.sort(r.suggestions, before)
  local spared = m.left
  if inputs_work then m.left = left end
  return r, spared
end

-- Others of the same rule take over what mends them, too.
local function share(m, o, r)
  if not r.suggestions[1] then return end
  for _, other in ipairs(m.of_rule[o.rule]) do
    if not m.of[other.key] then
      local function mended(from)
        local list = {}
        for _, s in ipairs(from) do if not s.result.bad[other.key] then list[#list + 1] = s end end
        return list
      end
      local list, own = mended(r.suggestions), mended(r.own)
      if #own > 0 or #list > 0 and not o.rule.nearest then
        m.of[other.key] = { suggestions = list, own = own, like = o.proxy }
      end
    end
  end
end

-- The remedies of all that is broken: of the worst of each rule first.
function remedies.of(o)
  local m = begin()
  local key = key_of(o)
  if not m.of[key] and not m.worst_done then
    m.worst_done = true
    local rules, first = {}, {}
    for _, x in ipairs(m.list) do
      if not first[x.rule] and #rules < most_rules then first[x.rule], rules[#rules + 1] = true, x end
    end
    local left = for_inputs + for_each_rule * #rules
    for i, x in ipairs(rules) do
      local part = left // (#rules - i + 1)
      local r, spared = search_for(m, x, part)
      left = left - part + spared
      share(m, x, r)
    end
  end
  if m.of[key] then return m.of[key] end
  local x = m.by[key]
  if not x then return { suggestions = {}, own = {} } end
  local r = search_for(m, x)
  share(m, x, r)
  return r
end

return remedies
