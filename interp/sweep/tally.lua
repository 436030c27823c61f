-- SPDX-License-Identifier: MIT
-- What became of the variants of a store, counted in one pass: by status, by rule, and by rule along each axis.
local columns = import "sweep.columns"
local tally = {}

local MOST_BINS = 400      -- steps of an axis that are told apart along it; of more, neighbours are counted together

-- How many steps stand together; the declared one, 0, stands alone.
local function width_of(axis) return axis.size <= MOST_BINS and 1 or (axis.size - 2) // (MOST_BINS - 1) + 1 end

local function bins_of(axis) return 1 + (axis.size - 2 + width_of(axis)) // width_of(axis) end

-- In which bin each step of a variant falls: (number, bins to be filled).
local function placer(space)
  local axes, size, stride, width = space.axes, {}, {}, {}
  local below = 1
  for a = #axes, 1, -1 do
    size[a], stride[a], width[a] = axes[a].size, below, width_of(axes[a])
    below = below * axes[a].size
  end
  if space.sampled then
    return function(number, to)
      local steps = space.steps(number)
      for a = 1, #axes do to[a] = (steps[a] + width[a] - 1) // width[a] end
    end
  end
  return function(number, to)
    for a = 1, #axes do to[a] = (number // stride[a] % size[a] + width[a] - 1) // width[a] end
  end
end

-- Rows that are alike in status and rules, counted together: { status, broken, unknown, n, first = a number, why,
-- along = by axis and bin } ...
local function gather(db, space)
  local by, list, place, at = {}, {}, placer(space), {}
  local n_axes = #space.axes
  local cautioned = 0
  local sql = "SELECT number, status, broken, unknown, cautions FROM variant ORDER BY number"
  for number, status, broken, unknown, cautions in db:each(sql) do
    local of = by[status]
    if not of then of = {}; by[status] = of end
    local key = broken or ""
    local inner = of[key]
    if not inner then inner = {}; of[key] = inner end
    key = unknown or ""
    local g = inner[key]
    if not g then
      g = { status = status, broken = columns.ids(broken), unknown = columns.ids(unknown), n = 0, first = number,
          cell = unknown, along = {} }
      for a = 1, n_axes do g.along[a] = {} end
      inner[key], list[#list + 1] = g, g
    end
    g.n = g.n + 1
    if status == "holds" and cautions and cautions > 0 then cautioned = cautioned + 1 end
    place(number, at)
    for a = 1, n_axes do
      local along, bin = g.along[a], at[a]
      along[bin] = (along[bin] or 0) + 1
    end
  end
  return list, cautioned
end

local judged = { holds = true, broken = true, unknown = true }

-- ---- by rule -------------------------------------------------------------------------------------------------------

-- What stops variants: { { id, broken, unknown, alone, open_alone, example, open_example } ... }.  alone: of how many
-- it is the only stop rule that is broken, and none is unknown; open_alone: the only one that is unknown, and none is
-- broken.  quote: what is unknown stops nothing yet.
local function by_rule(groups, quote)
  local list, by = {}, {}
  local function of(id)
    if not by[id] then
      by[id] = { id = id, broken = 0, unknown = 0, alone = 0, open_alone = 0 }
      list[#list + 1] = by[id]
    end
    return by[id]
  end
  for _, g in ipairs(groups) do
    if judged[g.status] then
      local open = quote and 0 or #g.unknown
      for _, id in ipairs(g.broken) do
        local r = of(id)
        r.broken = r.broken + g.n
        r.example = math.min(r.example or g.first, g.first)
      end
      for _, id in ipairs(g.unknown) do
        local r = of(id)
        r.unknown = r.unknown + g.n
        r.open_example = math.min(r.open_example or g.first, g.first)
      end
      if #g.broken == 1 and open == 0 then
        local r = of(g.broken[1])
        r.alone = r.alone + g.n
        r.alone_example = math.min(r.alone_example or g.first, g.first)
      elseif #g.broken == 0 and #g.unknown == 1 and open == 1 then
        local r = of(g.unknown[1])
        r.open_alone = r.open_alone + g.n
        r.alone_open_example = math.min(r.alone_open_example or g.first, g.first)
      end
    end
  end
  return list, by
end

-- R2 before R10 before H1: as rules are listed elsewhere, but for those of other files, which nobody here knows.
local function id_before(a, b)
  local x, m = a:match "^(%a*)(%d*)"
  local y, n = b:match "^(%a*)(%d*)"
  if x ~= y then return x == "R" or y ~= "R" and x < y end
  m, n = tonumber(m) or 0, tonumber(n) or 0
  if m ~= n then return m < n end
  return a < b
end
tally.id_before = id_before

-- ---- what was not judged -------------------------------------------------------------------------------------------

local ENDS = { "refused", "error", "steps", "memory", "time", "crash" }

local function ended(db, counts)
  local list = {}
  for _, status in ipairs(ENDS) do
    if counts[status] then
      local number, why = db:one("SELECT number, why FROM variant WHERE status = ? ORDER BY number LIMIT 1", status)
      list[#list + 1] = { status = status, n = counts[status], example = number, why = why }
    end
  end
  return list
end

-- ---- along the axes ------------------------------------------------------------------------------------------------

-- The bins of an axis as they are read: by their amounts, where all have one.
local function bins_in_order(axis)
  local list, width, amounts = {}, width_of(axis), true
  for bin = 0, bins_of(axis) - 1 do
    local first = bin == 0 and 0 or (bin - 1) * width + 1
    local last = bin == 0 and 0 or math.min(first + width - 1, axis.size - 1)
    local text, si = axis.text(first), axis.si(first)
    list[bin + 1] = { bin = bin, si = si, text = last > first and text .. " to " .. axis.text(last) or text }
    amounts = amounts and type(si) == "number"
  end
  if amounts then
    table.sort(list, function(a, b) return a.si < b.si or a.si == b.si and a.bin < b.bin end)
  end
  return list
end

-- Sums of variants by bin: of those that were judged, and of each rule of those that it is broken or unknown in.
local function sums_along(groups, a)
  local tried, of = {}, {}
  local function add(to, from)
    for bin, n in next, from do to[bin] = (to[bin] or 0) + n end
  end
  for _, g in ipairs(groups) do
    if judged[g.status] then
      add(tried, g.along[a])
      for _, key in ipairs { "broken", "unknown" } do
        for _, id in ipairs(g[key]) do
          of[id] = of[id] or { broken = {}, unknown = {} }
          add(of[id][key], g.along[a])
        end
      end
    end
  end
  return tried, of
end

-- The share of variants that each rule stops at each step of an axis: { axis, name, steps = { text ... }, declared =
-- place of the declared one, tried = { n ... }, rules = { { id, broken = { share or false where none was judged },
-- unknown = the same } ... } }
local function along(groups, a, axis, rules)
  local tried, of = sums_along(groups, a)
  local out = { axis = a, name = axis.name, steps = {}, tried = {}, rules = {} }
  local bins = bins_in_order(axis)
  for i, b in ipairs(bins) do
    out.steps[i], out.tried[i] = b.text, tried[b.bin] or 0
    if b.bin == 0 then out.declared = i end
  end
  for k, r in ipairs(rules) do
    local shares = { id = r.id, broken = {}, unknown = {} }
    for i, b in ipairs(bins) do
      for _, key in ipairs { "broken", "unknown" } do
        shares[key][i] = tried[b.bin] and (of[r.id][key][b.bin] or 0) / tried[b.bin] or false
      end
    end
    out.rules[k] = shares
  end
  return out
end

-- ---- all -----------------------------------------------------------------------------------------------------------

-- { done, counts = { [status] = n }, judged, cautioned = how many hold with a caution rule broken or unknown, rules =
-- as by_rule has them, those first that stop most alone, ended, along = { as along has it ... }, groups }
function tally.of(db, space, quote)
  local groups, cautioned = gather(db, space)
  local out = { done = 0, judged = 0, counts = {}, cautioned = cautioned, groups = groups, along = {} }
  for _, g in ipairs(groups) do
    out.done = out.done + g.n
    out.counts[g.status] = (out.counts[g.status] or 0) + g.n
    if judged[g.status] then out.judged = out.judged + g.n end
  end
  out.rules, out.by = by_rule(groups, quote)
  table.sort(out.rules, function(x, y)
    local m, n = x.alone + x.open_alone, y.alone + y.open_alone
    if m ~= n then return m > n end
    return id_before(x.id, y.id)
  end)
  out.ended = ended(db, out.counts)
  for a, axis in ipairs(space.axes) do out.along[a] = along(groups, a, axis, out.rules) end
  return out
end

return tally
