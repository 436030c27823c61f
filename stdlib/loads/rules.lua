-- SPDX-License-Identifier: MIT
-- Rules about what the frame of a rack carries: its members, its rails, its modules, and whether
-- it stands along its row.
local rule = import "model.rule"
local record = import "model.record"
local feet = import "structure.feet"
local lines = import "structure.lines"
local plan = import "rails.plan"
local members = import "loads.members"
local models = import "modules.models"
local add, at_most, at_least, states, every, bound = rule.add, rule.at_most, rule.at_least, rule.states, rule.every,
    rule.bound
local given = record.given

local function path_of(name) return function(r) return tostring(r) .. "." .. name end end

local function missing(path, text, who, tool)
  host.raise { code = "D010", class = "missing", path = path, text = text, who = who, tool = tool }
end

-- ---- members of the frame ------------------------------------------------------------------------------------------

local function used(r, part)
  local at = members.checked(r, part)[1]
  if not at then return states(true, "nothing strains it") end
  local f = at_most(at.worked.worst, bound(1, "its strength"))
  f.words = members.say(r, at)
  return f
end

-- The lightest of these sizes that will do.
local function larger(id, field, sizes)
  return function(r, _, passes)
    local path = tostring(r) .. "." .. field
    for _, size in ipairs(sizes) do
      local changes = { [path] = size }
      if passes(changes, { id }, tostring(r)) then return { { changes = changes, words = size } } end
    end
    return "none of " .. table.concat(sizes, ", ") .. " will do: braces, or posts nearer to each other"
  end
end

add { id = "R82", severity = "stop", each = "rack", may_waive = "engineer",
  says = "posts bear bending, thrust and shear, where they come out of the ground and above",
  cite = "{wood_column}", caution = "a post that breaks at grade takes the row with it",
  flips = path_of "spacing",
  nearest = function(r, job, passes)
    if feet.pole(r) then return "a stronger pole, braces between the lines, or posts nearer to each other" end
    return larger("R82", "posts.size", { "4x4", "6x6", "8x8" })(r, job, passes)
  end,
  check = function(r) return used(r, "post") end }

local function no_rafter(r) return not given(r, "rafter") end
add { id = "R83", severity = "stop", each = "rack", may_waive = "engineer",
  says = "rafters bear what lies on them", cite = "{wood_beam}", caution = "a rafter that breaks drops its modules",
  flips = path_of "spacing", nearest = larger("R83", "rafter", { "2x6", "2x8", "2x10", "2x12" }),
  check = function(r)
    if no_rafter(r) then
      missing(tostring(r) .. ".stack", "what the rafters of its kit bear is their maker's to say", "maker of the rack",
          "a maker's paper that covers the rafters")
    end
    return used(r, "rafter")
  end }

add { id = "R86", severity = "stop", each = "rack", may_waive = "engineer",
  says = "braces between the lines bear thrust and pull", cite = "{wood_column}",
  caution = "without its brace the frame leans",
  flips = path_of "spacing",
  applies = function(r)
    if not given(r, "braces") then return false, "it has no braces" end
    for i = 1, #r.braces do if not given(r.braces[i], "along") then return true end end
    return false, "its braces stand along the row"
  end,
  check = function(r) return used(r, "brace") end }

-- ---- rails ---------------------------------------------------------------------------------------------------------

local function of_lumber(r) if plan.part(r) then return false, "its rails are of metal" end return true end

add { id = "R85", severity = "stop", each = "rack", may_waive = "engineer",
  says = "rails of lumber bear the modules in wind and snow", cite = "{wood_beam}",
  caution = "a rail that breaks lets the row fly", applies = of_lumber,
  flips = path_of "spacing", nearest = larger("R85", "rails.size", { "2x4", "2x6", "2x8" }),
  check = function(r)
    local at = members.rails(r)[1]
    local f = at_most(at.worked.worst, bound(1, "its strength"))
    f.words = at.worked.governs .. " of a rail: " .. at.combination .. ", square to the modules"
    return f
  end }

add { id = "R87", severity = "caution", each = "rack", may_waive = "house",
  says = "rails of lumber stay straight enough for glass", cite = "{deflection_limits}",
  caution = "modules are bent with the rail, and glass cracks", applies = of_lumber,
  flips = path_of "spacing", nearest = larger("R87", "rails.size", { "2x4", "2x6", "2x8" }),
  check = function(r, job)
    local rails = members.rails(r)
    local ratio = calc.deflection_limit { member = "roof", load = "wind", edition = job.codes.building }.ratio
    local f = at_most(rails.bent.deflection, bound(rails.span / ratio, "its longest bay / " .. math.tointeger(ratio)))
    f.words = rails.bent.combination .. ", square to the modules"
    return f
  end }

add { id = "R17", severity = "stop", each = "rack", may_waive = "engineer",
  says = "bays and overhangs of metal rails are inside their maker's table", cite = "the rail's table of spans",
  caution = "the rail bends under snow, or tears in wind",
  applies = function(r) return plan.part(r) ~= nil, "its rails are of lumber: R85 judges them" end,
  flips = path_of "spacing",
  check = function(r)
    local part = plan.part(r)
    local span, over = given(part, "span_most"), given(part, "overhang_most")
    if not span or not over then
      missing(tostring(part) .. (span and ".overhang_most" or ".span_most"), "how far " .. part.name ..
          " may span and reach over is not given", "maker of the rails", "the maker's table of spans")
    end
    local supports = plan.supports(r)
    local length = r.row_width + 2 * r.end_allowance
    local bay, reach = supports[1] * 0, supports[1]
    for i = 2, #supports do
      if supports[i] - supports[i - 1] > bay then bay = supports[i] - supports[i - 1] end
    end
    if length - supports[#supports] > reach then reach = length - supports[#supports] end
    local loads = members.rail_loads(r)
    local most
    for _, l in host.sorted(loads.by) do
      local load = host.abs(l.load) / loads.height
      if not most or load > most then most = load end
    end
    return every { function() return at_most(bay, bound(span, "span of " .. part.name)) end,
      function() return at_most(reach, bound(over, "overhang of " .. part.name)) end,
      function()
        local f = at_most(most, bound(part.table_load, "load of that table"))
        f.words = "most on the modules, square to them, allowable"
        return f
      end }
  end }

-- ---- modules -------------------------------------------------------------------------------------------------------

local function rating(module, field)
  local value = given(module, field)
  if not value then
    missing(tostring(module) .. "." .. field, "the pressure that " .. module.name .. " bears on its " ..
        (field == "front_load" and "front" or "back") .. ", with the clamps used, is not given", "module data sheet",
        "the mounting manual")
  end
  return given(module, "load_level") == "test" and value / host.fact "module_test" or value
end

add { id = "R39", severity = "stop", each = "rack", may_waive = "engineer",
  says = "modules bear wind and snow at their clamps, corners too",
  cite = "{wind_components}; the module's sheet, a test load divided by 1.5",
  caution = "glass or frame fails in the storm that the rack survives",
  flips = path_of "tilt",
  check = function(r, job)
    local list = {}
    for _, of in ipairs(models.of(r)) do
      local module = of.module
      list[#list + 1] = function()
        local cos = math.cos(host.si(r.tilt))
        local zones = members.zones(r, module.length * module.width)
        local dead = module.mass * (host.literal "1lbf" / host.literal "1lb") / (module.length * module.width) * cos
        local snow = r.snow_load * (cos * cos)
        local up, down, up_by, down_by
        for _, c in ipairs(calc.combinations { edition = job.codes.loads, method = "allowable" }.rows) do
          local lift = c.wind * zones.lift - c.dead * dead - c.snow * snow
          local push = c.dead * dead + c.snow * snow + c.wind * zones.push
          if not up or lift > up then up, up_by = lift, c.name end
          if not down or push > down then down, down_by = push, c.name end
        end
        local front, back = rating(module, "front_load"), rating(module, "back_load")
        local back_finding = at_most(up, bound(back, "back of " .. module.name))
        back_finding.words = "lift at a corner, " .. up_by
        local front_finding = at_most(down, bound(front, "front of " .. module.name))
        front_finding.words = "push at a corner, " .. down_by
        return every { function() return back_finding end, function() return front_finding end }
      end
    end
    return #list == 1 and list[1]() or every(list)
  end }

-- ---- the row ------------------------------------------------------------------------------------------------

add { id = "R88", severity = "stop", each = "rack", may_waive = "engineer",
  says = "the row stands along its length", cite = "statics: rails tie the heads, feet or braces hold them",
  caution = "a row of hinged posts folds like a rule",
  flips = path_of "lower_edge",
  check = function(r)
    local held = {}
    for p in record.each(r.post) do
      if given(feet.footing(p), "foot") ~= "hinged" then held[p.letter] = true end
    end
    local braced = {}
    if given(r, "braces") then
      for b in record.each(r.brace) do
        local foot, head = r.post[b.foot], r.post[b.head]
        if foot.letter == head.letter then braced[foot.letter] = true end
      end
    end
    local loose = {}
    for _, line in ipairs(lines.of(r)) do
      if not held[line.letter] and not braced[line.letter] then loose[#loose + 1] = line.name end
    end
    if #loose == 0 then return states(true, "feet or braces hold each line of posts along the row") end
    return states(false, "nothing holds the " .. table.concat(loose, " and the ") .. " line along the row: its feet " ..
        "are hinged and it has no brace along")
  end }
