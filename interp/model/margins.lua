-- SPDX-License-Identifier: MIT
-- How far each input of a job can move, alone, before a verdict flips: what holds is broken or cannot be judged, or
-- what is broken holds.
--
-- An amount is moved away from its declared value in growing steps, to the ends of its field or to where the
-- declaration is refused; each step serves all outcomes at once, and what flipped in it is searched between its two
-- ends.  The nearest flip on each side is found, unless it lies in a window narrower than the step there: such a
-- window, in which a rule flips and flips back, can be missed.  The entries of a list, and whole numbers, are tried one
-- by one.
local run = import "model.run"
local record = import "model.record"
local rule = import "model.rule"
local inputs = import "model.inputs"
local variants = import "model.variants"
local anew = import "model.anew"
local margins = {}

local inside = record.inside

-- ---- along one amount -----------------------------------------------------------------------------------------------

-- Of one step to the next, and once the amount moved by as much as it is, or by a thousand first steps.
local growth, far_growth = 1.25, 2
local most_steps = 200
local finest = 1e-8          -- how near a flip is found, of the larger of value and first step

-- s: start, low, high = the ends (nil: none), first = the first step, at(x, wanted, found) -> { [key] = what it became
-- } of the keys that x flips: at least of those in wanted = { [key] = true }, or if that is nil of all but those in
-- found; nil and why where x is refused. Gives { down = side, up = side }, a side { flips = { { key, from, to, became }
-- ... } the nearest first, from the last value found that does not flip it, to the first that does; edge = how far it
-- was moved; refused = { from, to, why } }.
local function along_side(s, direction)
  local edge, flips, found = s.high, {}, {}
  local side = { flips = flips, edge = s.start }
  if direction < 0 then edge = s.low end

  -- Between a, which flips none of the list, and b, which flips all of it.
  local function part(a, b, list)
    local wanted = {}
    for _, f in ipairs(list) do wanted[f.key] = true end
    local mid = a + (b - a) / 2
    if math.abs(b - a) <= finest * math.max(math.abs(s.start), math.abs(b), s.first) or mid == a or mid == b then
      for _, f in ipairs(list) do f.from, f.to = a, b end
      return
    end
    local flipped, near, far = s.at(mid, wanted), {}, {}
    for _, f in ipairs(list) do
      local became = flipped and flipped[f.key]
      if became then f.became = became end
      table.insert((became or not flipped) and near or far, f)
    end
    if #near > 0 then part(a, mid, near) end
    if #far > 0 then part(mid, b, far) end
  end

  -- The last value before b that is not refused.
  local function taken(a, b, why)
    local none = {}
    while math.abs(b - a) > finest * math.max(math.abs(s.start), math.abs(b), s.first) do
      local mid = a + (b - a) / 2
      if mid == a or mid == b then break end
      local ok, reason = s.at(mid, none)
      if ok then a = mid else b, why = mid, reason end
    end
    side.refused = { from = a, to = b, why = why }
    return a
  end

  local inner, step = s.start, s.first
  for _ = 1, most_steps do
    if edge and (inner - edge) * direction >= 0 then break end
    local outer = inner + direction * step
    if edge and (outer - edge) * direction > 0 then outer = edge end
    local flipped, why = s.at(outer, nil, found)
    if not flipped then
      outer = taken(inner, outer, why)
      flipped = outer ~= inner and s.at(outer, nil, found) or {}
    end
    local fresh = {}
    for key, became in host.sorted(flipped) do
      if not found[key] then
        found[key] = true
        fresh[#fresh + 1] = { key = key, became = became }
      end
    end
    if #fresh > 0 then part(inner, outer, fresh) end
    table.move(fresh, 1, #fresh, #flips + 1, flips)
    local far = math.abs(outer - s.start) >= math.max(math.abs(s.start), 1000 * s.first)
    side.edge, inner, step = outer, outer, step * (far and far_growth or growth)
    if side.refused then break end
  end
  table.sort(flips, function(a, b)
    local p, q = math.abs(a.to - s.start), math.abs(b.to - s.start)
    if p ~= q then return p < q end
    return a.key < b.key
  end)
  return side
end

function margins.along(s) return { down = along_side(s, -1), up = along_side(s, 1) } end

-- ---- through a list -------------------------------------------------------------------------------------------------

-- list, and where the declared entry stands in it; at(entry) as above.  Gives { down, up } with flips = { { key, at =
-- the place in the list, became } ... } the nearest first, and entries = { { at, flipped, refused = why } ... } in the
-- list's order.
function margins.through(list, here, at)
  local entries = {}
  local function side(direction)
    local flips, found = {}, {}
    local i = here + direction
    while list[i] ~= nil do
      local flipped, why = at(list[i])
      entries[#entries + 1] = { at = i, flipped = flipped or {}, refused = why }
      for key, became in host.sorted(flipped or {}) do
        if not found[key] then
          found[key] = true
          flips[#flips + 1] = { key = key, at = i, became = became }
        end
      end
      i = i + direction
    end
    return { flips = flips, edge = i - direction }
  end
  local out = { down = side(-1), up = side(1), entries = entries }
  table.sort(entries, function(a, b) return a.at < b.at end)
  return out
end

-- ---- what a move takes ----------------------------------------------------------------------------------------------

-- What has no zero of its own is told in these: so much of it counts as one percent, where inputs are put in order.
-- Temperatures and bearings by the degree; heights against a datum by the centimetre.  Own choice, no source.
local a_percent = { temperature = 1, angle = math.rad(1), length = 0.01 }

-- The dimension whose steps count, or nil where percents of the declared value do.
local function without_zero(input)
  local f = input.field
  if f.axis or f.dim == "angle" and host.near(f.max or 0, 2 * math.pi) then return "angle" end
  if f.dim == "temperature" then return "temperature" end
  if f.dim == "length" and ((f.min or 0) < 0 or record.kind_of(input.owner) == "ground") then return "length" end
end
margins.without_zero = without_zero

local function si_of(value) return type(value) == "number" and value or host.si(value) end
margins.si_of = si_of

-- In percent of the declared value, or of what counts as such.
function margins.percent(input, to)
  local from = si_of(input.value)
  local moved, dim = math.abs(to - from), without_zero(input)
  if dim then return moved / a_percent[dim] end
  if from == 0 then return math.huge end
  return moved / math.abs(from) * 100
end

-- The first step away from an amount: a thousandth of it; where that is nothing, or says nothing, by its dimension, in
-- SI.  Own choice: fine against what the trade measures.
local first_steps = { length = 1e-4, angle = math.rad(0.01), temperature = 0.01, ["temperature difference"] = 0.01,
  voltage = 0.01, current = 0.01, pressure = 1, speed = 0.01, mass = 0.01, force = 1, power = 1 }

local function first_step(input)
  local from, f = si_of(input.value), input.field
  if from ~= 0 and not without_zero(input) then return math.abs(from) / 1000 end
  local dim = f.axis and "angle" or f.dim
  local low, high = inputs.range(input)
  return first_steps[dim] or ((high or 1) - (low or 0)) / 1000
end

-- ---- outcomes -------------------------------------------------------------------------------------------------------

-- "fine" while nobody has to do anything, else "broken" or "unknown".
local function class(o)
  return (o.outcome == "broken" or o.outcome == "unknown") and o.outcome or "fine"
end

-- What became of a verdict that flipped, "broken", "unknown" or "holds"; nil where none did: one that is unknown as
-- declared has no margin.
local function became(before, now)
  local was, is = before and class(before) or "fine", class(now)
  if was == "unknown" or was == is then return nil end
  return is == "fine" and "holds" or is
end

-- Outcomes by what they are called; of those of one name the worst.
local weight = { fine = 0, unknown = 1, broken = 2 }
local function by_key(outcomes)
  local by = {}
  for _, o in ipairs(outcomes) do
    local key = variants.key(o)
    if not by[key] or weight[class(o)] > weight[class(by[key])] then by[key] = o end
  end
  return by
end

-- ---- who reads an input ---------------------------------------------------------------------------------------------

-- Whether the prices of the job rest on an input.
local function priced(input)
  if not run.prices or #run.prices.list == 0 then return false end
  for path in next, inputs.changes(input, true) do
    if variants.rests(record.root, "total", path) then return true end
  end
  return false
end

-- Keys of the outcomes that rest on an input as it is declared; nil where it shapes what is declared, so that nobody
-- can tell.
function margins.reached(input)
  local keys = {}
  for path in next, inputs.changes(input, true) do
    if anew.shapes(path) then return nil end
    for key in next, variants.reached(path) do keys[key] = true end
  end
  return keys
end

-- ---- one input ------------------------------------------------------------------------------------------------------

-- What margins are searched in: { outcomes and rules that count, base = the outcomes by key, mixed = ids of rules of
-- which something is broken as declared, sets = lists of rules by their ids, work = outcomes judged anew so far, whole
-- = what no rule reads is moved all the same }.
local search = {}
search.__index = search

-- Those rules, in their order, whose ids keep(id) takes: the same table for the same rules, and judged as declared, so
-- that a variant works out no more than what it changes.
local function only(s, rules, keep)
  local list, ids = {}, {}
  for _, def in ipairs(rules) do
    if keep(def.id) then list[#list + 1], ids[#ids + 1] = def, def.id end
  end
  local name = table.concat(ids, " ")
  if not s.sets[name] then
    s.sets[name] = list
    variants.base(list)
  end
  return s.sets[name]
end

-- The rules of some outcomes, by their keys.
local function rules_of(s, keys)
  local wanted = {}
  for _, o in ipairs(s.outcomes) do if keys[variants.key(o)] then wanted[o.rule.id] = true end end
  return only(s, s.rules, function(id) return wanted[id] end)
end

-- What a value flips, of these rules: { ["R48 broken"] = the first outcome that became so }; nil and the error where it
-- is refused.
function search:at(input, value, rules)
  local outcomes, why = variants.judge(inputs.changes(input, value), rules)
  self.work = self.work + 1
  if not outcomes then return nil, why end
  local flipped = {}
  for _, o in ipairs(outcomes) do
    local before = self.base[variants.key(o)]
    if not rawequal(o, before) then
      self.work = self.work + 1
      local now = became(before, o)
      local key = now and o.rule.id .. " " .. now
      if key and not flipped[key] then flipped[key] = o end
    end
  end
  return flipped
end

-- Whatever the declaration itself would refuse is refused here, too.
local function taken(input, value)
  if input.field.type == "position" then return true end          -- written otherwise than it is kept
  local ok, why = pcall(inputs.checked, input, value)
  if ok then return true end
  if type(why) ~= "table" then error(why, 0) end
  return false, why
end

local function amount_of(s, input, rules)
  local start = si_of(input.value)
  local first = first_step(input)
  local least, high, open = inputs.range(input)
  local low = open and least + math.min(first, (start - least) / 1000) / 1000 or least

  -- The rules that are asked: those that are wanted, or those of which there is more to be found.
  local function asked(wanted, found)
    local ids = {}
    for key in next, wanted or {} do ids[key:match "^%S+"] = true end
    return only(s, rules, wanted and function(id) return ids[id] end or
        function(id) return s.mixed[id] or not found[id .. " broken"] end)
  end
  local sides = margins.along { start = start, low = low, high = high, first = first, at = function(x, wanted, found)
    local value = host.like(input.value, x)
    local ok, why = taken(input, value)
    if not ok then return nil, why end
    return s:at(input, value, asked(wanted, found))
  end }
  if sides.down.edge == low then sides.down.edge = least end
  return sides
end

-- A flip that takes next to nothing.
margins.at_once = 1e-3         -- percent: within the tolerance of comparisons and of look-ups in tables

-- Whether it was stated for just what is declared, as by a paper that was made for it, or by a table that has nothing
-- else.
local function stated(o, before)
  local f = before and before.finding or o.finding
  return o.outcome == "unknown" or f ~= nil and f.by == "statement"
end

-- The flips of one side as they are told, of each rule the first: { input, side, rule, subject, proxy, outcome = the
-- variant's, becomes = "broken", "unknown" or "holds", value = the first found that flips, last = the last that does
-- not, percent, at_once = any change undoes it, percent being next to nothing; stated = and it was for just what is
-- declared }.
local function told(s, input, side, found, value_at)
  local list = {}
  for i, f in ipairs(found.flips) do
    local o = f.became
    local before = s.base[variants.key(o)]
    list[i] = { input = input, side = side, rule = o.rule, subject = o.subject, outcome = o,
        proxy = before and before.proxy or o.proxy, becomes = f.key:match "%S+$",
        value = value_at(f.to or f.at), last = f.from and value_at(f.from) or nil,
        percent = margins.percent(input, f.to or si_of(value_at(f.at))) }
    list[i].at_once = f.to ~= nil and list[i].percent < margins.at_once
    if list[i].at_once then list[i].percent = 0.0 end
    list[i].stated = list[i].at_once and stated(o, before)
  end
  return list
end

-- What was refused first on one side of a list.
local function refused_of(found, here, side)
  local first
  for _, e in ipairs(found.entries) do
    if e.refused and (e.at > here) == (side == "up") then
      if side == "down" or not first then first = e end
    end
  end
  return first
end

-- Why an input is not moved; nil where it is.
local function skipped(input)
  if input.owner and inside[input.owner].def.paper then return "paper" end
  if inputs.is_amount(input) then return nil end
  local list = inputs.others(input)
  return not list and "text" or #list < 2 and "alone" or nil
end

-- Moves one input: { input, kind = "amount", "count" or "list", down, up = { flips, edge = as far as it is declared,
-- refused = { value, why } }, list, here, entries = { { at, flipped, refused } ... } }; { input, skipped = what a
-- "paper" says, a "text", a name or a date, a choice "alone" }; { input, unread = true } of one that no rule reads.
function search:move(input)
  local m = { input = input }
  m.skipped = skipped(input)
  if m.skipped then return m end
  local amount, list, here = inputs.is_amount(input), inputs.others(input)
  local rules = self.rules
  local keys = not self.whole and margins.reached(input)
  if keys then
    rules = rules_of(self, keys)
    if #rules == 0 then
      m.unread = true
      return m
    end
  end
  if amount then
    m.kind = "amount"
    local function value_at(x) return host.like(input.value, x) end
    for side, f in next, amount_of(self, input, rules) do
      m[side] = { flips = told(self, input, side, f, value_at), edge = value_at(f.edge),
          refused = f.refused and { value = value_at(f.refused.to), why = f.refused.why } }
    end
    return m
  end
  m.kind = input.field.type == "count" and "count" or "list"
  local found = margins.through(list, here, function(value) return self:at(input, value, rules) end)
  m.list, m.here, m.entries = list, here, found.entries
  for _, side in ipairs(m.kind == "count" and { "down", "up" } or {}) do
    local refused = refused_of(found, here, side)
    local edge = refused and refused.at + (side == "up" and -1 or 1) or found[side].edge
    m[side] = { flips = told(self, input, side, found[side], function(i) return list[i] end), edge = list[edge],
        refused = refused and { value = list[refused.at], why = refused.refused } }
  end
  return m
end

-- A rule by its id, of those that the job is judged by.
function margins.rule(id)
  local def, names = rule.find(id), {}
  if def then return def end
  for i, r in ipairs(rule.all()) do names[i] = r.id end
  local near = host.nearest(id, names)
  host.raise { code = "U003", text = "--rule " .. id .. ": there is no such rule",
      help = near and "did you mean " .. near .. "?" or "`stringline run job.sline` lists the rules of a job" }
end

-- ---- the whole job --------------------------------------------------------------------------------------------------

-- How many outcomes are judged anew at most before the inputs that are left are told as not moved: a job of one rack
-- takes an eighth of it.  Own choice.
local most_work = 600000

local next_to_nothing = 12             -- outcomes

-- What goes first where not all can be moved: what next to nothing rests on; what is said once for the whole job, as
-- the weather, or in one line for many records; what each record or place has of its own; what is declared anew each
-- time.
local function turn_of(input, reach, shapes)
  if reach <= next_to_nothing then return 0 elseif shapes then return 3 end
  local owner = inside[input.owner].def
  local many = owner.by[input.keys[1]] and owner.by[input.keys[1]].item
  return (input.alike or not many and #record.all(owner.name) == 1) and 1 or 2
end

-- Places of the list in that order; of one turn those that the fewest outcomes rest on.
local function in_turn(s, list)
  local order, reach, turn = {}, {}, {}
  for i, input in ipairs(list) do
    local n, keys = 0, nil
    if not skipped(input) then keys = margins.reached(input) end
    for _ in next, keys or not skipped(input) and s.base or {} do n = n + 1 end
    order[i], reach[i], turn[i] = i, n, turn_of(input, n, not keys)
  end
  table.sort(order, function(a, b)
    if turn[a] ~= turn[b] then return turn[a] < turn[b] end
    if reach[a] ~= reach[b] then return reach[a] < reach[b] end
    return a < b
  end)
  return order
end

-- options: inputs = those to move (nil: all), rules = ids of those that count (nil: all), whole, most.
-- Gives { outcomes, moves = { as search:move gives them ... } in the order declared, left = inputs that the bound left,
-- unread = those that no rule reads, unused = those of them that no price rests on (where all rules count), work }.
function margins.of(outcomes, options)
  collectgarbage "generational"        -- thousands of variants, of which nothing is wanted once they were judged
  local counted = options.rules and {}
  for _, id in ipairs(options.rules or {}) do counted[id] = true end
  local rules, has = {}, {}
  for _, o in ipairs(outcomes) do
    if not has[o.rule] and (not counted or counted[o.rule.id]) then
      has[o.rule] = true
      rules[#rules + 1] = o.rule
    end
  end
  local kept = variants.base(rules)
  local s = setmetatable({ outcomes = kept, base = by_key(kept), mixed = {}, rules = rules, sets = {}, work = 0,
      whole = options.whole }, search)
  for _, o in ipairs(kept) do if class(o) == "broken" then s.mixed[o.rule.id] = true end end
  local out = { outcomes = kept, moves = {}, left = {}, unread = {}, unused = {} }
  local list = options.inputs or inputs.all()
  local moved = {}
  for _, i in ipairs(in_turn(s, list)) do
    if s.work < (options.most or most_work) then moved[i] = s:move(list[i]) end
  end
  for i, input in ipairs(list) do
    if moved[i] then out.moves[#out.moves + 1] = moved[i] else out.left[#out.left + 1] = input end
  end
  for _, m in ipairs(out.moves) do
    if m.unread and not counted then table.insert(priced(m.input) and out.unread or out.unused, m.input) end
  end
  out.work = s.work
  return out
end

return margins
