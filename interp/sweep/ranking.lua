-- SPDX-License-Identifier: MIT
-- The best of the variants that hold, by the goals, and the Pareto set: exact, ties kept.
--
-- Two values that are equal to rounding count as one, so that a tie is no accident of the last digit: of each goal the
-- values are taken in their order, and each that is near to the first of its like counts as that one.
local columns = import "sweep.columns"
local ranking = {}

local near, quoted = host.near, columns.quoted

-- The rows in which a goal is known and, if it is one that leaves something out, leaves out nothing, or what it does in
-- the job as declared: a price that leaves out more is not less.  goal: { field, most, without = the column that says
-- what it leaves out, or nil, base = what that is as declared, or nil }
local function comparable(goal)
  local known = "typeof(" .. quoted(goal.field) .. ") IN ('integer', 'real')"
  if not goal.without then return known end
  local same = goal.base and " OR " .. quoted(goal.without) .. " = '" .. goal.base:gsub("'", "''") .. "'" or ""
  return known .. " AND (" .. quoted(goal.without) .. " IS NULL" .. same .. ")"
end

-- The rows that can be ranked.
local function where_of(goals, where)
  local parts = { where }
  for _, g in ipairs(goals) do parts[#parts + 1] = comparable(g) end
  return table.concat(parts, " AND ")
end

-- Of the rows that a condition names how many cannot be ranked, since a goal leaves out too much there: { n, number =
-- the first by the goals, what = what that leaves out, goal }, or nil.
function ranking.left_out(db, goals, where)
  for _, g in ipairs(goals) do
    if g.without then
      local open = " FROM variant WHERE " .. where .. " AND typeof(" .. quoted(g.field) ..
          ") IN ('integer', 'real') AND NOT (" .. comparable(g) .. ")"
      local n = db:one("SELECT count(*)" .. open)
      if n > 0 then
        local number, what = db:one("SELECT number, " .. quoted(g.without) .. open .. " ORDER BY " .. quoted(g.field) ..
            (g.most and " DESC" or "") .. ", number LIMIT 1")
        return { n = n, number = number, what = what, goal = g }
      end
    end
  end
end

-- For one goal: a function that gives a value as it counts, the less the better.
local function counted(db, goal, where, params)
  local first, other = nil, {}
  local name = quoted(goal.field)
  local sql = "SELECT DISTINCT " .. name .. " FROM variant WHERE " .. where .. " ORDER BY 1"
  for v in db:each(sql, table.unpack(params)) do
    if first and near(first, v) then other[v] = first else first = v end
  end
  local sign = goal.most and -1 or 1
  return function(v) return sign * (other[v] or v) end
end

-- Whether values come before others, goal by goal; nil where they are all one.
local function before(a, b)
  for i = 1, #a do if a[i] ~= b[i] then return a[i] < b[i] end end
  return nil
end

-- Puts a row into a list of at most so many, the best first, and of those that tie the first number.  Those that came
-- out alike (by their `key`) stand there once, with how many there are more.
local function put_in(list, most, row)
  local one = list.by[row.key]
  if one then
    one.alike = one.alike + 1
    return
  end
  local at = #list + 1
  while at > 1 do
    local better = before(row.counts, list[at - 1].counts)
    if better == false or better == nil and row.number > list[at - 1].number then break end
    at = at - 1
  end
  if at > most then return end
  table.insert(list, at, row)
  list.by[row.key] = row
  if list[most + 1] then list.by[list[most + 1].key] = nil end
  list[most + 1] = nil
end

-- Whether b is as good in all goals and better in one; nil where they are one.
local function beaten_by(a, b)
  local better = false
  for i = 1, #a do
    if b[i] > a[i] then return false end
    better = better or b[i] < a[i]
  end
  if better then return true end
  return nil
end

-- The set as it stands: { counts, numbers } ..., of which what beat others last stands first.
local function offer(front, row)
  local counts = row.counts
  for i = 1, #front do
    local f = front[i]
    local beaten = beaten_by(counts, f.counts)
    if beaten ~= false then
      if i > 1 then
        table.remove(front, i)
        table.insert(front, 1, f)
      end
      if beaten == nil then f.numbers[#f.numbers + 1] = row.number end
      return
    end
  end
  for i = #front, 1, -1 do if beaten_by(front[i].counts, counts) then table.remove(front, i) end end
  table.insert(front, 1, { counts = counts, numbers = { row.number } })
end

-- The same of two goals, rows in the order of the first: what is no better in the second than the last of the set is
-- beaten by it, so that a set of any size takes one look a row.
local function offer_in_order(front, row)
  local last, counts = front[#front], row.counts
  if last and counts[2] > last.counts[2] or last and counts[2] == last.counts[2] and counts[1] ~= last.counts[1] then
    return
  end
  if last and counts[1] == last.counts[1] then
    if counts[2] == last.counts[2] then
      last.numbers[#last.numbers + 1] = row.number
      return
    end
    front[#front] = nil                      -- as good in the first, and better in the second
  end
  front[#front + 1] = { counts = counts, numbers = { row.number } }
end

-- Of the rows that a condition names: { best = { { number, rank, counts, alike = how many more came out alike in all
-- that is kept } ... }, at most so many; ranked = how many can be ranked, ties = how many more are as good as the
-- first,
-- pareto = { number ... } where it is wanted, of = the rank that the row of `number` has or would have }
-- options: most, where, params, pareto, number, alike = columns of what is kept
function ranking.of(db, goals, options)
  local params = options.params or {}
  local where = where_of(goals, options.where)
  local count, names, orders = {}, {}, {}
  for i, g in ipairs(goals) do
    count[i] = counted(db, g, where, params)
    names[i] = quoted(g.field)
    orders[i] = quoted(g.field) .. (g.most and " DESC" or "")
  end
  local function counts_of(...)
    local counts = {}
    for i = 1, #goals do counts[i] = count[i]((select(i, ...))) end
    return counts
  end
  local cells = { "ifnull(unknown, '')", "ifnull(cautions, '')" }
  for _, name in ipairs(options.alike or { "number" }) do cells[#cells + 1] = "quote(" .. name .. ")" end
  local key_of = table.concat(cells, " || ' ' || ")
  local select_of = "SELECT number, " .. table.concat(names, ", ") .. ", " .. key_of .. " FROM variant WHERE " .. where
  local own
  if options.number then
    local function found(number, ...) return number and counts_of(...) end
    own = found(db:one(select_of .. " AND number = " .. options.number, table.unpack(params)))
  end
  local out = { best = { by = {} }, ranked = 0, ties = 0, of = own and 1 or nil }
  local front, leader, put = options.pareto and {} or nil, nil, #goals == 2 and offer_in_order or offer
  local function row(number, ...)
    local r = { number = number, counts = counts_of(...), key = select(#goals + 1, ...), alike = 0 }
    out.ranked = out.ranked + 1
    if own and before(r.counts, own) then out.of = out.of + 1 end
    local ahead = not leader or before(r.counts, leader)
    if ahead then leader, out.ties = r.counts, 0 elseif ahead == nil then out.ties = out.ties + 1 end
    put_in(out.best, options.most, r)
    if front then put(front, r) end
  end
  columns.each(row, db:each(select_of .. " ORDER BY " .. table.concat(orders, ", ") .. ", number",
      table.unpack(params)))
  local better = 0                       -- variants, not lots of them
  for i, b in ipairs(out.best) do
    local over = out.best[i - 1]
    b.rank = over and before(over.counts, b.counts) == nil and over.rank or better + 1
    better = better + 1 + b.alike
  end
  if front then
    table.sort(front, function(a, b) return before(a.counts, b.counts) end)
    out.pareto = {}
    for _, f in ipairs(front) do
      table.sort(f.numbers)
      table.move(f.numbers, 1, #f.numbers, #out.pareto + 1, out.pareto)
    end
  end
  return out
end

-- Of the numbers of a set in the order of the first goal so many, the ends and others evenly between them.
function ranking.spread(numbers, most)
  if #numbers <= most then return numbers end
  local list = {}
  for i = 1, most do list[i] = numbers[1 + (i - 1) * (#numbers - 1) // (most - 1)] end
  return list
end

-- Where nothing holds: numbers of those that are the nearest to it.  Fewest stop rules broken, then fewest unknown,
-- then by the goals.
function ranking.nearest(db, goals, most)
  local function ids(cell)
    return "CASE WHEN " .. cell .. " IS NULL THEN 0 ELSE length(" .. cell .. ") - length(replace(" .. cell ..
        ", ' ', '')) + 1 END"
  end
  local orders = { ids "broken", ids "unknown" }
  for _, g in ipairs(goals) do
    local name = quoted(g.field)
    orders[#orders + 1] = name .. " IS NULL, " .. name .. (g.most and " DESC" or "")
  end
  local list = {}
  for number in db:each("SELECT number FROM variant WHERE status IN ('broken', 'unknown') ORDER BY " ..
      table.concat(orders, ", ") .. ", number LIMIT " .. most) do list[#list + 1] = number end
  return list
end

-- By the first goal better than a value, and stopped: how many, and how many of them each rule stops alone, most first.
-- quote: what is unknown stops nothing.
function ranking.stopped_better(db, goal, value, quote)
  local name, sum, by, list = quoted(goal.field), 0, {}, {}
  local hair = math.abs(value) * 1e-9
  local sql = "SELECT count(*), broken, unknown FROM variant WHERE status IN ('broken', 'unknown') AND typeof(" ..
      name .. ") IN ('integer', 'real') AND " .. comparable(goal) .. " AND " .. name ..
      (goal.most and " > ?" or " < ?") ..
      " GROUP BY broken, unknown"
  for n, broken, unknown in db:each(sql, goal.most and value + hair or value - hair) do
    sum = sum + n
    local ids = columns.ids((broken or "") .. " " .. (not quote and unknown or ""))
    if #ids == 1 then by[ids[1]] = (by[ids[1]] or 0) + n end
  end
  for id, n in host.sorted(by) do list[#list + 1] = { id = id, n = n } end
  table.sort(list, function(a, b) return a.n > b.n or a.n == b.n and a.id < b.id end)
  return { n = sum, alone = list }
end

return ranking
