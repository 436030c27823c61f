-- SPDX-License-Identifier: MIT
-- The pictures of an answer: two kept results against each other, and along each axis the rules that stop variants.
local scatter = import "write.scatter"
local heat = import "write.heat"
local columns = import "sweep.columns"
local pictures = {}

-- The two results that are drawn: what is sought first, then what is kept; nil where there are not two amounts.
local function chosen(f)
  local list, met = {}, {}
  local function take(i)
    local k = f.kept[i]
    local amount = k.like ~= nil and (host.is_quantity(k.like) or type(k.like) == "number")
    if amount and not met[i] and #list < 2 then list[#list + 1], met[i] = k, true end
  end
  for _, g in ipairs(f.goals) do take(g.i) end
  for i = 1, #f.kept do take(i) end
  return list[1], list[2]
end

local function axis_of(k) return { name = k.name, unit = k.unit, show = k.show, goal = k.goal } end

-- All rows as points, gone through anew as often as is asked.
local function points(f, x, y)
  local pareto, best = {}, f.best[1] and f.best[1].number
  for _, number in ipairs(f.pareto and f.pareto.numbers or {}) do pareto[number] = true end
  local sql = "SELECT number, status, " .. columns.quoted(x.field) .. ", " .. columns.quoted(y.field) ..
      " FROM variant ORDER BY number"
  return function()
    local next_row, state, key = f.db:each(sql)
    local p = {}
    return function()
      local number, status, a, b = next_row(state, key)
      key = number
      if number == nil then return nil end
      p.number, p.status, p.x, p.y = number, status, a, b
      p.pareto, p.base, p.best = pareto[number], number == 0, number == best
      return p
    end
  end
end

local NOT_JUDGED = "What no rule judges is judged in none of them."

-- Rows of the heat map: of each rule the share in which it is broken, and where it is ever unknown that share, too.
local function rows_of(f, along)
  local list = {}
  local function add(id, says, share)
    for _, v in ipairs(share) do
      if v and v > 0 then list[#list + 1] = { id = id, says = says, share = share } return end
    end
  end
  for k, r in ipairs(along.rules) do
    local says = f.rules[k].says or ""
    add(r.id, says, r.broken)
    add(r.id .. " unknown", says, r.unknown)
  end
  return list
end

-- { { name = of a file, canvas } ... }; f: as sweep.answer has it.
function pictures.of(f)
  local list = {}
  local x, y = chosen(f)
  if x and y then
    list[1] = { name = "scatter", canvas = scatter { title = x.name .. " and " .. y.name, says = NOT_JUDGED,
        holds = f.quote and "no stop rule is broken (unknown ones do not count at stage quote)" or nil,
        x = axis_of(x), y = axis_of(y), points = points(f, x, y) } }
  end
  for a, along in ipairs(f.along) do
    local rows = rows_of(f, along)
    if f.axes[a].size > 1 and #rows > 0 then
      local title = "Rules that stop variants, along " .. along.name
      list[#list + 1] = { name = "rules-" .. a, canvas = heat { title = title,
          says = NOT_JUDGED, axis = { name = along.name, steps = along.steps, declared = along.declared,
              tried = along.tried }, rules = rows } }
    end
  end
  return list
end

return pictures
