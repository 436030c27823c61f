-- SPDX-License-Identifier: MIT
-- What follows for the rails: runs between expansion joints, pieces between splices, what is counted with them.
local graph = import "model.graph"
local record = import "model.record"
local plan = import "rails.plan"
local models = import "modules.models"
local work, result, given = graph.work, graph.result, record.given

-- A list as `explain` has it: heads of its columns, and the cells of each row.
local function told(name, heads, cells)
  return function(d, r)
    local rows, columns = {}, {}
    for i, head in ipairs(heads) do columns[i] = { head, right = true } end
    for i, x in ipairs(r[name]) do rows[i] = cells(x) end
    d:table(columns, rows)
  end
end
local function value(v) return import("write.document").value(v) end
local function whole(v) return value(math.tointeger(v)) end

-- ---- runs ----------------------------------------------------------------------------------------------------------

local function numbers(list)
  local out = {}
  for i = 1, list and #list or 0 do out[i] = list[i] end
  return out
end

work { "rack", "parting", op = "rail_runs", says = "the runs of its row between expansion joints",
  input = function(r)
    local declared = given(r.rails, "expansion_joints")
    return { module = models.along_the_row(r, r.modules), columns = r.columns,
        column_gap = r.column_gap, joint_gap = given(r.rails, "joint_gap") or r.column_gap,
        end_allowance = r.end_allowance, limit = not declared and plan.limit(r) or nil, joints = numbers(declared) }
  end,
  gives = {
    joints = { name = "expansion_joint_count", says = "expansion joints of its row" },
    longest = { name = "rail_run_length", says = "longest rail between two expansion joints or ends" },
  } }

result { "rack", "rail_runs", rows = true, says = "the runs of its row: columns, and where its rails begin and end",
  work = function(r) return r.parting.runs end,
  shows = told("rail_runs", { "first column", "last column", "from", "to", "length" }, function(x)
    return { whole(x.first_column), whole(x.last_column), value(x.from), value(x.to), value(x.length) }
  end) }

-- ---- pieces --------------------------------------------------------------------------------------------------------

-- The splices of a run that are declared: way 1 as they are, way 2 turned end for end.
local function declared_joints(r, run)
  local ways = { {}, {} }
  local list = given(r.rails, "joints")
  for i = 1, #list do
    local at = list[i]
    if at > run.from and at < run.to then
      table.insert(ways[1], at)
      table.insert(ways[2], 1, run.from + run.to - at)
    end
  end
  return ways
end

-- The splices of a run by rule, west to east, of way 1 and of way 2; second: whether they are staggered.
local function planned_joints(r, run, supports)
  local ways, zone = { {}, {} }, plan.zone(r)
  local known, stock, prices = pcall(plan.stock, r)
  if not known then                                            -- whole, as long as nobody says how long sticks are
    if host.class(stock) ~= "missing" then error(stock, 0) end
    return ways, true
  end
  local longest = stock[1]
  for i = 2, #stock do if stock[i] > longest then longest = stock[i] end end
  if run.length <= longest or host.near(host.si(run.length), host.si(longest)) then return ways, true end
  local p = calc.rail_joints { from = run.from, to = run.to, supports = supports, zone_from = zone.from,
      zone_to = zone.to, end_bays = zone.end_bays, stock = stock, prices = prices }
  for _, j in ipairs(p.joints) do table.insert(ways[j.way == 1 and 1 or 2], j.at) end
  return ways, p.staggered
end

-- { run, ways = { { at ... }, { at ... } }, staggered } of each run.
result { "rack", "rail_splices", rows = true,
  says = "where its rails are spliced: for the first rail and every second after it, and for the others",
  work = function(r)
    if plan.in_kits(r, "rails") then
      host.raise { code = "C005", class = "range", text = "its rails come in its kits: where those are joined is " ..
          "their maker's, and not planned here" }
    end
    local list, declared, supports = {}, given(r.rails, "joints"), nil
    for k, run in ipairs(r.rail_runs) do
      supports = supports or not declared and plan.supports(r)
      local ways, staggered
      if declared then ways = declared_joints(r, run) else ways, staggered = planned_joints(r, run, supports) end
      list[k] = { number = k, run = run, ways = ways, staggered = staggered, declared = declared ~= nil }
    end
    return list
  end,
  shows = told("rail_splices", { "run", "rails 1, 3 ...", "rails 2, 4 ..." }, function(x)
    local cells = { whole(x.number) }
    for k, way in ipairs(x.ways) do
      local places = {}
      for i, at in ipairs(way) do places[i] = import("write.words").show(at) end
      cells[k + 1] = #places > 0 and table.concat(places, ", ") or "none"
    end
    return cells
  end) }

-- { line, run, from, to, length }, line by line from the lower edge up, west to east.
result { "rack", "rail_pieces", rows = true,
  says = "the pieces of its rails, line by line from the lower edge up, west to east",
  work = function(r)
    local list, spliced = {}, r.rail_splices
    for line = 1, r.rails.lines do
      for k, s in ipairs(spliced) do
        local from = s.run.from
        local function piece(to)
          list[#list + 1] = { line = line, run = k, from = from, to = to, length = to - from }
          from = to
        end
        for _, at in ipairs(s.ways[line % 2 == 1 and 1 or 2]) do piece(at) end
        piece(s.run.to)
      end
    end
    return list
  end,
  shows = told("rail_pieces", { "line", "run", "from", "to", "length" }, function(x)
    return { value(x.line), value(x.run), value(x.from), value(x.to), value(x.length) }
  end) }

result { "rack", "splices", says = "splices of all its rails",
  work = function(r)
    if plan.in_kits(r, "rails") then
      return r.rails.lines * (given(r.rails, "extension_kit") and r.extension_kits or 0)
    end
    return #r.rail_pieces - r.rails.lines * (r.expansion_joint_count + 1)
  end }

local function of_wood(r) if not plan.part(r) then return "rails of lumber are not bonded" end end

result { "rack", "jumpers", none = of_wood,
  says = "bonding jumpers of its rails: over each expansion joint, and each splice that does not bond by itself",
  work = function(r)
    local splice = plan.splice(r)
    local row = splice and plan.listed("splice", splice)
    local bonds = row and given(row, "bonds") == "yes"
    return (bonds and 0 or r.splices) + r.rails.lines * r.expansion_joint_count
  end }

-- ---- reach ---------------------------------------------------------------------------------------------------------

result { "rack", "rail_reach", dim = "length",
  says = "shortest stock out of which its rails can be made, with splices where they may be",
  work = function(r)
    local zone, supports, most = plan.zone(r), plan.supports(r), nil
    for _, run in ipairs(r.rail_runs) do
      local least = calc.rail_reach { from = run.from, to = run.to, supports = supports, zone_from = zone.from,
          zone_to = zone.to, end_bays = zone.end_bays }.least
      if not most or least > most then most = least end
    end
    return most
  end }

-- ---- warmth --------------------------------------------------------------------------------------------------------

local function no_joint(r)
  if not plan.part(r) then return "rails of lumber do not lengthen with warmth" end
  if not plan.parted(r) or r.expansion_joint_count == 0 then return "its rails have no expansion joint" end
end

work { "rack", "warmth", op = "expansion", says = "what warmth does to its longest rail", none = no_joint,
  input = function(r)
    local part = plan.part(r)
    local own = given(part, "expansion")                     -- then it does not matter what the rail is of
    return { material = own and "aluminium" or part.material, coefficient = own, length = r.rail_run_length,
        range = r.rails.temperature_range }
  end,
  gives = { movement = { name = "rail_movement", says = "by which its longest rail lengthens with warmth" } } }

-- ---- generations and kits ------------------------------------------------------------------------------------------

result { "rack", "generations", rows = true, says = "of which generations the parts of its rails are",
  none = plan.no_generation,
  work = function(r)
    local list, seen = {}, {}
    for _, p in ipairs(plan.parts_of(r)) do
      if not p.generation then
        host.raise { code = "D010", class = "missing", text = "of which generation " .. p.name .. " is, is not given",
            path = p.path .. ".generation", who = "vendor", tool = "the mark on the part" }
      end
      if not seen[p.generation] then
        seen[p.generation] = true
        list[#list + 1] = { generation = p.generation, name = p.name }
      end
    end
    return list
  end,
  shows = told("generations", { "generation", "for example" }, function(x) return { x.generation, x.name } end) }

result { "rack", "adapters", says = "adapters of its rails: one at each splice, where its parts are of two generations",
  none = function(r) if not given(r.rails, "adapter") then return "it names no adapter" end end,
  work = function(r) return #r.generations > 1 and r.splices or 0 end }

local function no_kit(r) if not given(r.rails, "base_kit") then return "it is not made of kits" end end

result { "rack", "base_kits", says = "base kits: one for each run", none = no_kit,
  work = function(r) return r.expansion_joint_count + 1 end }
result { "rack", "extension_kits", says = "extension kits: for the columns beyond those of the base kits",
  none = function(r) return no_kit(r) or not given(r.rails, "extension_kit") and "it has no extension" or nil end,
  work = function(r)
    return (r.columns - r.base_kits * r.rails.base_kit.columns) // r.rails.extension_kit.columns
  end }
