-- SPDX-License-Identifier: MIT
-- Rules about what the frame of a rack carries: its members, its rails, its modules, and whether it stands along its
-- row.
local rule = import "model.rule"
local record = import "model.record"
local feet = import "structure.feet"
local lines = import "structure.lines"
local plan = import "rails.plan"
local members = import "loads.members"
local judged = import "loads.judged"
local models = import "modules.models"
local tilted = import "structure.tilted"
local add, at_most, at_least, states, every, bound = rule.add, rule.at_most, rule.at_least, rule.states, rule.every,
    rule.bound
local given, fails, by_paper, or_paper, used = record.given, judged.fails, judged.by_paper, judged.or_paper, judged.used

local function path_of(name) return function(r) return tostring(r) .. "." .. name end end

local function missing(path, text, who, tool)
  host.raise { code = "D010", class = "missing", path = path, text = text, who = who, tool = tool }
end

-- ---- what a paper answers for --------------------------------------------------------------------------------------

local function posts_or_paper(f, breaks, word)
  return function(x, job)
    local r = record.inside[x].def.name == "rack" and x or record.parent(x)
    return or_paper(r, function() return f(x, job) end, breaks, word)
  end
end

-- The worst of f(at), as a rack stands.
local function each_stand_or_paper(f, breaks, word)
  return function(r, job)
    return tilted.worst(r, function(at)
      return or_paper(r, function() return f(at, job) end, breaks, word)
    end)
  end
end

-- ---- members of the frame ------------------------------------------------------------------------------------------

-- The sizes that are sold as posts, or those as thick as it is now and deeper.
local function sizes(r, keys)
  local list, now = {}, r
  for _, key in ipairs(keys) do now = now[key] end
  local present = host.table_row("wood_sections", "section", now)
  for _, row in ipairs(host.table "wood_sections") do
    local deeper = host.si(row.depth) > host.si(present.depth)
    local like = keys[1] == "posts" and row.post == row.section or keys[1] ~= "posts" and row.breadth == present.breadth
    if deeper and like then
      list[#list + 1] = row.section
    end
  end
  return list
end

-- The next larger size that will do.
local function larger(id, keys, otherwise)
  return function(r, _, passes)
    local path, tried = tostring(r) .. "." .. table.concat(keys, "."), sizes(r, keys)
    for _, size in ipairs(tried) do
      local changes = { [path] = size }
      if passes(changes, { id }, tostring(r)) then return { { changes = changes, words = size } } end
    end
    return (#tried > 0 and "none of " .. table.concat(tried, ", ") .. " is shown to do: " or "") ..
        (otherwise or "posts nearer to each other")
  end
end
local larger_post = larger("R82", { "posts", "size" }, "braces, or posts nearer to each other")

-- What is known to fail without the wind.
local function too_slender(r)
  local slender, most = members.slender(r)
  if not slender or slender <= most or host.near(slender, most) then return nil end
  local f = at_most(slender, bound(most, "what a column may be"))
  f.words = "slenderness of the tallest post along the row"
  return f
end

local function has_shafts(r) return feet.has_other(r) and import("loads.buried").any(r) end
local function shafts(at) return import("loads.buried").finding(at) end
local posts_and_shafts = posts_or_paper(function(r)
  local of_posts = used(r, "post")
  return has_shafts(r) and every { of_posts, shafts(r) } or of_posts
end, too_slender)
local turned_posts = each_stand_or_paper(function(at) return used(at, "post") end, too_slender)
local turned_shafts = each_stand_or_paper(shafts, too_slender)

add { id = "R82", severity = "stop", each = "rack", may_waive = "engineer",
  says = "posts bear bending, thrust and shear, at the ground, above and below",
  cite = "{wood_combined}; {wood_column}; of steel AISC 360; statics",
  caution = "a post that breaks at grade takes the row with it",
  flips = path_of "spacing",
  nearest = function(r, job, passes)
    if feet.pole(r) then return "a stronger pole, braces between the lines, or posts nearer to each other" end
    return larger_post(r, job, passes)
  end,
  check = function(r, job)
    if not tilted.positions(r) then return posts_and_shafts(r, job) end
    return every { function() return turned_posts(r, job) end,
      function() return has_shafts(r) and turned_shafts(r, job) or nil end }
  end }

-- The embedment with what leaning adds; of a screw or a driven post both moments against that of the test.
local function embedded_leaning(p)
  local out, f = import("write.words").show(p.leans) .. " out of plumb as the ground gives way", nil
  if feet.in_hole(p) then
    f = at_least(p.embedment, bound(p.embedment_leaning, "embedment with what leaning adds"))
    f.words = "its head " .. out
  else
    local footing = feet.footing(p)
    f = at_most(p.ground_moment + p.leaning_moment, bound(footing.sideways_moment, "what it is allowed to take",
        footing.sideways_by))
    f.words = "moment at the ground, its head " .. out
    if f.ok then import("screws.pushed").ask(p) end
  end
  return f
end

add { id = "R98", severity = "stop", each = "post", may_waive = "engineer",
  says = "the embedment holds as the ground gives way and the post leans under what presses it",
  cite = "{soil_isolated}: the motion at the ground that its doubled bearing goes with, half of that without; the " ..
      "post turns about a point in the ground; derived from the code's words, not measured; of screws and driven " ..
      "posts as tested",
  caution = "a post that leans is pushed over by what it carries",
  flips = function(p) return import("footings.search").depth_path(p) end,
  nearest = function(...) return import("footings.search").nearest(...) end,
  applies = function(p)
    local f = feet.footing(p)
    if not feet.gives_way(f) then
      local held = import("loads.sways").stands(record.parent(p))
      return false, held and "its rack stands by braces or moment heads whatever its feet do: R82, R86 and R96 have " ..
          "what leaning adds" or "it stands in no hole, how far the ground gives way there is not said, and not " ..
          "each station and line is kept upright by braces: P-delta"
    end
    return not feet.hinged(f), "its foot is hinged: it is held by others, which have its part"
  end,
  check = tilted.asked(posts_or_paper(embedded_leaning, nil, "P-delta")) }

add { id = "R83", severity = "stop", each = "rack", may_waive = "engineer",
  says = "rafters bear what lies on them", cite = "{wood_beam}", caution = "a rafter that breaks drops its modules",
  flips = path_of "spacing", nearest = larger("R83", { "rafter" }),
  check = function(r)
    if given(r, "rafter") then return tilted.worst(r, function(at) return used(at, "rafter") end) end
    local answered, refused = by_paper(r, "rafters")
    if answered then return answered end
    if refused then error(refused, 0) end
    missing(tostring(r) .. ".stack", "what the rafters of the kit of " .. import("write.words").title(r) ..
        " bear is their maker's to say", "maker of the rack", "a paper that covers the rafters")
  end }

add { id = "R86", severity = "stop", each = "rack", may_waive = "engineer",
  says = "braces between the lines bear thrust and pull", cite = "{wood_column}",
  caution = "without its brace the frame leans",
  flips = path_of "spacing",
  nearest = function() return "thicker or shorter braces, or posts nearer to each other" end,
  applies = function(r)
    if not given(r, "braces") then return false, "it has no braces" end
    for i = 1, #r.braces do if not given(r.braces[i], "along") then return true end end
    return false, "its braces stand along the row: R96 judges them"
  end,
  check = each_stand_or_paper(function(at) return used(at, "brace") end) }

-- ---- rails ---------------------------------------------------------------------------------------------------------

local function of_lumber(r) if plan.part(r) then return false, "its rails are of metal" end return true end

add { id = "R99", severity = "stop", each = "rack", may_waive = "engineer",
  says = "wood bears across its grain where rails cross rafters and rafters lie on posts",
  cite = "{wood_bearing}", caution = "wood that is crushed lets its fasteners go loose",
  flips = path_of "spacing",
  nearest = function() return "rails on their wide face, more rails, or posts nearer to each other" end,
  applies = function(r)
    local why = import("loads.bearing").none(r)
    return why == nil, why
  end,
  check = each_stand_or_paper(function(at)
    local list = {}
    for i, x in ipairs(import("loads.bearing").of(at)) do
      local f = at_most(x.used, bound(1, "strength of the " .. x.member .. " across its grain"))
      f.words = import("write.words").show(x.force) .. " " .. x.at .. ": " .. x.by
      list[i] = function() return f end
    end
    return #list == 1 and list[1]() or every(list)
  end, nil, "rafters") }

-- Bays that are too long want posts nearer to each other, ends that are too long want them further apart.
local other_supports = "posts at other places, or more of them, for shorter bays and ends"

add { id = "R85", severity = "stop", each = "rack", may_waive = "engineer",
  says = "rails of lumber bear the modules in wind and snow", cite = "{wood_beam}",
  caution = "a rail that breaks lets the row fly", applies = of_lumber,
  flips = path_of "spacing", nearest = larger("R85", { "rails", "size" }, other_supports),
  check = function(r)
    local folds = import("loads.rail_beams").folds(r)
    if folds then return states(false, folds) end
    return tilted.worst(r, function(stands)
      return fails("rail", function()
        local at = members.rails(stands)[1]
        local f = at_most(at.worked.worst, bound(1, "its strength"))
        f.words = members.governs(at) .. " of a rail: " .. at.combination .. ", square to the modules"
        return f
      end)
    end)
  end }

add { id = "R87", severity = "caution", each = "rack", may_waive = "house",
  says = "rails of lumber stay straight enough for glass", cite = "{deflection_limits}",
  caution = "modules are bent with the rail, and glass cracks", applies = of_lumber,
  flips = path_of "spacing", nearest = larger("R87", { "rails", "size" }, other_supports),
  check = function(r, job)
    return tilted.worst(r, function(at)
      local bent = members.rails(at).bent
      local ratio = calc.deflection_limit { member = "roof", load = "wind", edition = job.codes.building }.ratio
      local f = at_most(bent.deflection, bound(bent.length / ratio,
          (bent.over and "twice the overhang / " or "the bay / ") .. math.tointeger(ratio)))
      f.words = (bent.over and "at an overhang, " or "between supports, ") .. bent.combination ..
          ", square to the modules"
      return f
    end)
  end }

-- The widest bay and the longest overhang of its rails, each part between expansion joints by itself: at a joint the
-- rail ends, and reaches over from the last support before it.
local function widest(r)
  local runs = plan.parted(r) and r.rail_runs or { { from = r.end_allowance * 0, to = r.rail_length } }
  local supports = plan.supports(r)
  local bay = r.end_allowance * 0
  local reach = bay
  for _, one in ipairs(runs) do
    local last
    for _, at in ipairs(supports) do
      if at >= one.from and at <= one.to then
        if last and at - last > bay then bay = at - last end
        if not last and at - one.from > reach then reach = at - one.from end
        last = at
      end
    end
    local beyond = one.to - (last or one.from)
    if beyond > reach then reach = beyond end
  end
  return bay, reach
end

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
    local bay, reach = widest(r)
    return every { at_most(bay, bound(span, "span of " .. part.name)),
      at_most(reach, bound(over, "overhang of " .. part.name)),
      function()
        return tilted.worst(r, function(at)
          local most
          for _, l in host.sorted(members.rail_loads(at).by) do
            local load = host.abs(l.pressure)
            if not most or load > most then most = load end
          end
          local f = at_most(most, bound(part.table_load, "load of that table"))
          f.words = "most on the modules, square to them, allowable"
          return f
        end)
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
  local level = given(module, "load_level")
  if not level then
    missing(tostring(module) .. ".load_level", "whether the pressures of " .. module.name .. " are those of the " ..
        "test or design loads is not said", "module data sheet", "the mounting manual")
  end
  return level == "test" and value / host.fact "module_test" or value
end

-- A module anywhere on a rack that stands so, on its front and on its back.
local function pressed_module(at, module)
  local where = at.by_sign and "at an end or a corner" or "at a corner"
  local area = module.length * module.width
  local weight = module.mass * (host.literal "1lbf" / host.literal "1lb")
  local square = members.square(at, area, weight, weight, members.zones(at, area))
  local front, back = rating(module, "front_load"), rating(module, "back_load")
  local back_finding = at_most(square.lift, bound(back, "back of " .. module.name))
  back_finding.words = "lift " .. where .. ", " .. square.lift_combination
  local front_finding = at_most(square.press, bound(front, "front of " .. module.name))
  front_finding.words = "push " .. where .. ", " .. square.press_combination
  return every { function() return back_finding end, function() return front_finding end }
end

add { id = "R39", severity = "stop", each = "rack", may_waive = "engineer",
  says = "modules bear wind and snow at their clamps, corners too",
  cite = "{wind_components}; the module's sheet, a test load divided by 1.5",
  caution = "glass or frame fails in the storm that the rack survives",
  flips = path_of "tilt",
  nearest = function() return "modules whose sheet gives more, with the clamps at other places or more of them" end,
  check = function(r)
    return tilted.worst(r, function(at)
      local list = {}
      for i, of in ipairs(models.of(r)) do list[i] = function() return pressed_module(at, of.module) end end
      return #list == 1 and list[1]() or every(list)
    end)
  end }

-- ---- the row ------------------------------------------------------------------------------------------------

add { id = "R88", severity = "stop", each = "rack", may_waive = "engineer",
  says = "the row stands along its length", cite = "statics: rails tie the heads, feet or braces hold them",
  caution = "a row of hinged posts folds like a rule",
  nearest = function() return "a brace along the row in each such line, or feet that are fixed" end,
  check = function(r)
    local loose = import("loads.along").loose(r)
    if #loose == 0 then return states(true, "feet or braces hold each line of posts along the row") end
    return states(false, "nothing holds the " .. table.concat(loose, " and the ") .. " line along the row: its feet " ..
        "are hinged and it has no brace along")
  end }

-- Each foot once, of a block at the post where it is told of: what it carries along the row against what it holds.
local function feet_along(at, job, list)
  local along = import "loads.along"
  local kinds = import "footings.kinds"
  local braced = given(tilted.rack(at), "braces") and import "loads.braced_feet"
  for p in tilted.posts(at) do
    if braced and feet.kind(feet.footing(p)) ~= "ballast" then braced.judge(list, p, job, kinds.of(p).down) end
    if feet.kind(feet.footing(p)) ~= "ballast" or import("footings.blocks").told_at(p) then
      list[#list + 1] = function()
        local f = kinds.of(p).along(p, job, along.feet(at)[p.name])
        if not f then return nil end
        f.words = (f.words and f.words .. ", " or "") .. "foot of post " .. p.station
        return f
      end
    end
  end
end

-- By its strength, most used first: { words, worked }.
local function strength_along(what, list)
  return function()
    return fails(what, function()
      local at = list()[1]
      if not at then return nil end
      local f = at_most(at.worked.worst, bound(1, "its strength"))
      f.words = members.governs(at) .. " of " .. at.words
      return f
    end)
  end
end

add { id = "R96", severity = "stop", each = "rack", may_waive = "engineer",
  says = "posts, braces and footings bear the wind along the row",
  cite = "{wind_least}: on what is seen from the row's end; {wood_both}; of steel AISC 360; {post_unconstrained}",
  caution = "a row that gives way along itself falls like dominoes",
  nearest = function() return "braces along the row, stronger posts, or deeper footings" end,
  applies = function(r)
    return #import("loads.along").loose(r) == 0, "nothing holds a line of its posts along the row: R88 tells"
  end,
  check = each_stand_or_paper(function(at, job)
    local along = import "loads.along"
    local list = { strength_along("post", function() return along.posts(at) end) }
    if given(tilted.rack(at), "braces") then
      list[2] = strength_along("brace", function() return along.braces(at) end)
    end
    local stands = fails("row", function() return at.row_frame and nil end)
    if stands then return stands end
    feet_along(at, job, list)
    return every(list)
  end) }
