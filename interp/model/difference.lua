-- SPDX-License-Identifier: MIT
-- What differs between two snapshots (model.snapshot), whoever asks: an order for a change, a drawing's revision, a
-- file that is watched.  Works on plain tables and knows no run.  Numbers are compared as numbers, within the tolerance
-- of floats; what is no number as its text.
local difference = {}

local HAIR = 1e-12        -- of SI: what is left of numbers that cancel out

local function near(a, b) return host.near(a, b) or math.abs(a - b) <= HAIR end

-- Whether two amounts are one: { si, dim, text }, of which only texts have no si.
function difference.same(a, b)
  if a.si and b.si then return (not a.dim or not b.dim or a.dim == b.dim) and near(a.si, b.si) end
  return not a.si and not b.si and a.text == b.text
end

local same = difference.same

-- Whether two plain values are one, however deep; tables with a text are amounts.
function difference.alike(a, b)
  if type(a) == "number" and type(b) == "number" then return near(a, b) end
  if type(a) ~= "table" or type(b) ~= "table" then return a == b end
  if a.text and b.text then return same(a, b) end
  for k, v in host.sorted(a) do if not difference.alike(v, b[k]) then return false end end
  for k in host.sorted(b) do if a[k] == nil then return false end end
  return true
end

-- ---- by key --------------------------------------------------------------------------------------------------------

-- Two lists by what key(x) calls their items: { both = { { was, is } ... }, gone = { x ... }, new = { x ... } }, the
-- first and the last in the order of the new list, gone in that of the old.  Of several of one key the first meets the
-- first.
function difference.by_key(a, b, key)
  local of, out = {}, { both = {}, gone = {}, new = {} }
  for i, x in ipairs(a) do
    local k = key(x)
    of[k] = of[k] or { at = 0 }
    table.insert(of[k], i)
  end
  local met = {}
  for _, x in ipairs(b) do
    local known = of[key(x)]
    local i = known and known[known.at + 1]
    if i then
      known.at, met[i] = known.at + 1, true
      table.insert(out.both, { was = a[i], is = x })
    else table.insert(out.new, x) end
  end
  for i, x in ipairs(a) do if not met[i] then table.insert(out.gone, x) end end
  return out
end

-- ---- lists in order ------------------------------------------------------------------------------------------------

local LARGEST = 1e6        -- pairs of items that are laid side by side; of more, what stands elsewhere counts as moved

-- The longest run of items that stand in both lists in one order: marks of those, for each list.
local function in_order(a, b)
  local in_a, in_b, from = {}, {}, 1
  while from <= #a and from <= #b and same(a[from], b[from]) do
    in_a[from], in_b[from] = true, true
    from = from + 1
  end
  local n, m = #a, #b
  while n >= from and m >= from and same(a[n], b[m]) do
    in_a[n], in_b[m] = true, true
    n, m = n - 1, m - 1
  end
  if (n - from + 1) * (m - from + 1) > LARGEST then return in_a, in_b end
  local most = {}                                     -- most[i][j]: of a from i to n and b from j to m
  for i = n + 1, from, -1 do
    most[i] = {}
    for j = m + 1, from, -1 do
      if i > n or j > m then most[i][j] = 0
      elseif same(a[i], b[j]) then most[i][j] = most[i + 1][j + 1] + 1
      else most[i][j] = math.max(most[i + 1][j], most[i][j + 1]) end
    end
  end
  local i, j = from, from
  while i <= n and j <= m do
    if same(a[i], b[j]) then
      in_a[i], in_b[j] = true, true
      i, j = i + 1, j + 1
    elseif most[i + 1][j] >= most[i][j + 1] then i = i + 1
    else j = j + 1 end
  end
  return in_a, in_b
end

-- Two lists of amounts: { gone, new, moved }, items each; moved: they are in both, at another place among the others.
-- Nil where nothing differs.
function difference.items(a, b)
  local in_a, in_b = in_order(a, b)
  local gone, new, moved = {}, {}, {}
  for i, x in ipairs(a) do if not in_a[i] then gone[#gone + 1] = x end end
  for j, y in ipairs(b) do
    if not in_b[j] then
      local at
      for k, x in ipairs(gone) do if not at and same(x, y) then at = k end end
      if at then moved[#moved + 1] = table.remove(gone, at) else new[#new + 1] = y end
    end
  end
  if #gone + #new + #moved == 0 then return nil end
  return { gone = gone, new = new, moved = moved }
end

-- ---- money ---------------------------------------------------------------------------------------------------------

-- Whole cents of an amount of money, so that sums and differences are exact.
function difference.cents(si) return math.tointeger(math.floor(si * 100 + 0.5)) end

-- ---- the parts of two snapshots ------------------------------------------------------------------------------------

-- Whether a path lies in one of these records.
local function within(records)
  return function(path)
    for _, r in ipairs(records) do
      local next_byte = path:sub(1, #r.path) == r.path and path:byte(#r.path + 1)
      if next_byte == 46 or next_byte == 91 then return true end               -- . or [
    end
    return false
  end
end

local function path_of(x) return x.path end

-- Values by path that changed, are new or gone: { path, was, is }; what belongs to a record that is new or gone itself
-- is told with it.
local function values(a, b, gone, new, changed)
  local by, list = difference.by_key(a, b, path_of), {}
  for _, x in ipairs(by.both) do
    local how = changed(x.was, x.is)
    if how then list[#list + 1] = { path = x.is.path, was = x.was, is = x.is, items = how ~= true and how or nil } end
  end
  for _, x in ipairs(by.gone) do if not gone(x.path) then list[#list + 1] = { path = x.path, was = x } end end
  for _, x in ipairs(by.new) do if not new(x.path) then list[#list + 1] = { path = x.path, is = x } end end
  return list
end

local function other_value(was, is)
  if was.items and is.items then return difference.items(was.items, is.items) end
  return not same(was.value, is.value)
end

local function other_result(was, is)
  if was.value and is.value then return not same(was.value, is.value) end
  return was.unknown ~= is.unknown or (was.value == nil) ~= (is.value == nil)
end

-- ---- rules ---------------------------------------------------------------------------------------------------------

local function ids_of(list)
  local ids = {}
  for _, r in ipairs(list) do ids[r.id] = true end
  return ids
end

local function of_ids(list, wanted)
  local out, seen = {}, {}
  for _, r in ipairs(list) do
    if wanted(r) and not seen[r.id] then out[#out + 1], seen[r.id] = r, true end
  end
  return out
end

-- The outcome nearest to its limit of each rule that holds wherever it is judged.
local function tightest(list)
  local by, order = {}, {}
  for _, r in ipairs(list) do
    local t = by[r.id]
    if not t then
      t = { holds = true }
      by[r.id], order[#order + 1] = t, r.id
    end
    t.holds = t.holds and r.outcome == "holds"
    if r.ratio and r.by == "limit" and (not t.rule or r.ratio < t.rule.ratio) then t.rule = r end
  end
  return by, order
end

-- { outcomes = { { was, is } ... }, whose outcome is another; new, gone: the first outcome of each rule that is judged
-- on one side only; tighter = { { was, is } ... }: rules that hold on both sides, with less margin }
local function rules(a, b)
  local out, by = { outcomes = {}, tighter = {} }, difference.by_key(a, b, function(r) return r.id .. " " .. r.subject
      end)
  local in_a, in_b = ids_of(a), ids_of(b)
  for _, x in ipairs(by.both) do if x.was.outcome ~= x.is.outcome then table.insert(out.outcomes, x) end end
  for _, r in ipairs(by.new) do
    if in_a[r.id] and r.outcome ~= "holds" then table.insert(out.outcomes, { is = r }) end
  end
  for _, r in ipairs(by.gone) do
    if in_b[r.id] and r.outcome ~= "holds" then table.insert(out.outcomes, { was = r }) end
  end
  out.new = of_ids(by.new, function(r) return not in_a[r.id] end)
  out.gone = of_ids(by.gone, function(r) return not in_b[r.id] end)
  local before = tightest(a)
  local after, order = tightest(b)
  for _, id in ipairs(order) do
    local was, is = before[id], after[id]
    if was and was.holds and is.holds and was.rule and is.rule and is.rule.ratio < was.rule.ratio and
        not host.near(was.rule.ratio, is.rule.ratio) then
      table.insert(out.tighter, { was = was.rule, is = is.rule })
    end
  end
  table.sort(out.tighter, function(x, y)
    if x.is.ratio ~= y.is.ratio then return x.is.ratio < y.is.ratio end
    return x.is.id < y.is.id
  end)
  return out
end

-- ---- sheets --------------------------------------------------------------------------------------------------------

-- throw: sheets that were printed and read otherwise now, or are no more; print: those that are new or read otherwise.
-- Each { name, title, why = "withheld: ..." or nil where another is printed }.
local function sheets(a, b)
  local out, now, before = { throw = {}, print = {} }, {}, {}
  for _, s in ipairs(b) do now[s.name] = s end
  for _, s in ipairs(a) do
    local is = now[s.name]
    before[s.name] = s.sha256
    if s.sha256 and (not is or is.sha256 ~= s.sha256) then
      table.insert(out.throw, { name = s.name, title = s.title,
          withheld = is and is.withheld, gone = not is or nil })
    end
  end
  for _, s in ipairs(b) do
    if s.sha256 and before[s.name] ~= s.sha256 then table.insert(out.print, { name = s.name, title = s.title }) end
  end
  return out
end

-- ---- all -----------------------------------------------------------------------------------------------------------

local function empty(...)
  for _, list in ipairs { ... } do if #list > 0 then return false end end
  return true
end

-- { same, records = { gone, new }, declared, results = { { path, was, is } ... }, rules, sheets, covered = { gone,
-- new }, files = { { was, is } ... } }; all but files counts for same.
function difference.of(a, b)
  local d = { records = difference.by_key(a.records, b.records, path_of) }
  local gone, new = within(d.records.gone), within(d.records.new)
  d.declared = values(a.declared, b.declared, gone, new, other_value)
  d.results = values(a.results, b.results, gone, new, other_result)
  d.rules, d.sheets = rules(a.rules, b.rules), sheets(a.sheets, b.sheets)
  d.covered = difference.by_key(a.covered, b.covered, function(c) return c.subject .. " " .. c.paper end)
  d.same = empty(d.records.gone, d.records.new, d.declared, d.results, d.rules.outcomes, d.rules.new, d.rules.gone,
      d.rules.tighter, d.sheets.throw, d.sheets.print, d.covered.gone, d.covered.new) and
      difference.alike(a.kept, b.kept)
  return d
end

return difference
