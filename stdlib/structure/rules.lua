-- SPDX-License-Identifier: MIT
-- Rules about racks, posts and holes.
local rule = import "model.rule"
local memo = import "model.memo"
local record = import "model.record"
local util = import "model.util"
local tilted = import "structure.tilted"
local buying = import "buying.results"
local feet = import "structure.feet"
local shots = import "site.shots"
local add, at_most, at_least, states, every, limit, bound = rule.add, rule.at_most, rule.at_least, rule.states,
    rule.every, rule.limit, rule.bound
local given = record.given

local rack_of = record.parent
local footing_of = feet.footing
local function edge_path(rack) return tostring(rack) .. ".lower_edge" end
local function depth_path(post)
  if not feet.in_hole(post) then return edge_path(rack_of(post)) end
  return tostring(footing_of(post)) .. ".hole_depth"
end

-- Rules that a hole has to meet, in the order in which they are told; those that it may not break; and of both those
-- that a deeper hole is worse for, since it takes a longer post.
local hole_rules = { "R29", "R30", "R31", "R33", "R34" }
local kept_rules = { "R68", "R73" }
local worse_deeper = { R29 = true, R68 = true, R73 = true }

local nearest_to_limit = 2     -- so many subjects of each rule stand for all that one footing has

-- Whether a rule that is judged on posts or racks judges this footing there.
local function stands_in(footing)
  return function(def, subject)
    if def.each == "post" then return footing_of(subject) == footing end
    for _, f in ipairs(feet.holes(subject)) do if f == footing then return true end end
    return false
  end
end

-- Those of them that can be judged as the job is: a price that is missing says nothing about a hole. Second: whether a
-- subject is one of those that are nearest to the rule's limit, or farthest beyond it.
-- Third: the stop rules that are unknown of it, and stay so in any other hole.
local function asked(footing)
  local judge, mine, list, few, open = import "model.judge", stands_in(footing), {}, {}, {}
  local function ask(ids, wanted)
    for _, id in ipairs(ids) do
      local def, fits, found = rule.find(id), true, {}
      for i, s in ipairs(judge.subjects(def) or {}) do
        if mine(def, s) then
          local outcome, f = judge.try(def, s)
          fits = fits and wanted[outcome]
          if outcome == "unknown" and def.severity == "stop" and open[#open] ~= id then open[#open + 1] = id end
          found[#found + 1] = { subject = s, ratio = f and f.ratio or 0, at = i }
        end
      end
      if fits then
        list[#list + 1], few[def] = id, {}
        table.sort(found, function(a, b)
          if a.ratio ~= b.ratio then return a.ratio < b.ratio end
          return a.at < b.at
        end)
        for i = 1, math.min(#found, nearest_to_limit) do few[def][tostring(found[i].subject)] = true end
      end
    end
  end
  ask(hole_rules, { holds = true, broken = true })
  ask(kept_rules, { holds = true })
  return list, function(def, subject) return few[def][tostring(subject)] end, open
end

local function shown(v) return host.format(v, record.root.units == "SI" and "mm" or "in") end

-- The hole with least concrete in which these rules hold for these subjects, by these augers or those that are had:
-- { changes, words, volume }, the volume without the factor that all have.
local function smallest_hole(footing, isolated, passes, asks, augers)
  local path, step, best = tostring(footing), host.fact "hole_step", nil
  local first, last = host.si(footing.gravel) // host.si(step) + 1, host.si(host.fact "hole_deepest") // host.si(step)
  local shallow, deep = {}, {}
  for _, id in ipairs(asks.ids) do table.insert(worse_deeper[id] and deep or shallow, id) end
  for _, d in ipairs(augers or calc.augers {}.diameters) do
    local square = host.si(d) ^ 2
    local function at(n, ids)
      local changes = { [path .. ".hole_diameter"] = d, [path .. ".hole_depth"] = n * step }
      if isolated then changes[path .. ".isolated_posts"] = true end
      return passes(changes, ids, asks.few) and changes
    end
    -- The shallowest that is deep enough, if that takes less concrete than the best so far.
    local low, high = first - 1, last
    while high > low and best and square * high >= best.volume * (1 - 1e-9) do high = high - 1 end
    local changes = high > low and at(high, shallow)
    while changes and high - low > 1 do
      local mid = (low + high) // 2
      local narrower = at(mid, shallow)
      if narrower then high, changes = mid, narrower else low = mid end
    end
    if changes and at(high, deep) then
      best = { changes = changes, volume = square * high,
          words = "a hole " .. shown(d) .. " wide and " .. shown(high * step) .. " deep" }
    end
  end
  return best
end

-- Those of these rules that leave no hole even without the others, each with what it says.
local function stopped_by(footing, passes, asks)
  local ids = asks.ids
  for i = #ids, 1, -1 do
    local fewer = table.move(ids, 1, #ids, 1, {})
    table.remove(fewer, i)
    if #fewer > 0 and not smallest_hole(footing, false, passes, { ids = fewer, few = asks.few }) then ids = fewer end
  end
  local told = {}
  for i, id in ipairs(ids) do told[i] = id .. " (" .. rule.find(id).says .. ")" end
  return util.list(told) .. (#ids == 1 and " by itself" or " together")
end

-- What is claimed, as the table of the code has it.
local function claim()
  local _, name = host.fact("isolated", record.root.codes.building)
  return name
end

local function nearest_hole(post, _, passes)
  local f = footing_of(post)
  if feet.kind(f) ~= "hole" or given(rack_of(post).posts, "slide") then return nil end
  return memo.remember(record.inside[f], "nearest hole", function()
    local ids, few, open = asked(f)
    local asks, list, told = { ids = ids, few = few }, {}, {}
    local unsure = #open > 0 and "; whether " .. util.list(open) .. (#open == 1 and " holds" or " hold") ..
        " is as unknown there" or ""
    local function suggest(hole, more)
      if not hole or told[hole.words] then return end
      told[hole.words] = true
      list[#list + 1] = { changes = hole.changes, words = hole.words .. (#list > 0 and more or "") .. unsure }
    end
    local by_hand = smallest_hole(f, false, passes, asks, { f.hole_diameter })
    local least = smallest_hole(f, false, passes, asks)
    suggest(by_hand)
    if least and not (by_hand and least.volume >= by_hand.volume) then suggest(least, ", with less concrete") end
    if not f.isolated_posts then
      local doubled = smallest_hole(f, true, passes, asks)
      if doubled and not told[doubled.words] then
        doubled.words = doubled.words .. ", if isolated_posts may be claimed here (" .. claim() .. ")"
        suggest(doubled, "")
      end
    end
    if #list > 0 then return list end
    local augers = calc.augers {}.diameters
    return "no hole up to " .. shown(augers[#augers]) .. " wide and " .. shown((host.fact "hole_deepest")) ..
        " deep will do: what stops them is " .. stopped_by(f, passes, asks)
  end)
end

-- The lower edge over the ground that it is counted from, where it is lowest.
local function edge_clears(r, limits)
  return tilted.worst(r, function(at)
    local finding = at_least(at.clearance, limits())
    finding.words = "above the ground at " .. at.edge_ground_at
    return finding
  end)
end

add { id = "R14", severity = "caution", each = "rack",
  says = "the lower edge stays above the snow and its slid pile", may_waive = "house",
  cite = "field report on ground interference (Heidari et al. 2015, abstract); pile height by the house",
  caution = "snow bridges from ground to glass, and a frame tears",
  flips = edge_path,
  check = function(r, job)
    local pile
    for _, l in ipairs(table.pack(limit "shed_pile")) do if not pile or pile.value < l.value then pile = l end end
    return edge_clears(r, function()
      return bound(job.site.snow_depth + pile.value, "snow depth plus the pile of " .. pile.whose, pile.cite)
    end)
  end }

add { id = "R15", severity = "caution", each = "rack",
  says = "the lower edge stays above mower, weeds and stock", may_waive = "house",
  cite = "the house's clearance", caution = "thrown stones, chewed leads",
  flips = edge_path,
  check = function(r) return edge_clears(r, function() return limit "mower_clearance" end) end }

add { id = "R29", severity = "caution", each = "post",
  says = "the stock is as long as the post, or its slide takes it", may_waive = "house",
  cite = "common practice, no source", caution = "the post is too short at the low end",
  flips = depth_path, nearest = nearest_hole,
  check = function(p)
    local rack = rack_of(p)
    if given(rack.posts, "slide") then
      return at_most(p.leg_off, bound(rack.posts.slide, "the slide of the leg of " .. shown(p.leg_length)))
    end
    local item = feet.item(rack)
    local longest, whose = buying.longest(item)
    return at_most(feet.stock_length(rack, p), bound(longest, "longest " .. item .. " " .. whose))
  end }

add { id = "R30", severity = "stop", each = "post",
  says = "the concrete reaches down to frost depth, gravel not counted", may_waive = "engineer",
  cite = "{frost_depth}, frost depth by the office",
  caution = "frost lifts the post a little each winter",
  flips = depth_path, nearest = nearest_hole,
  check = function(p, job)
    local f = feet.only_holes(p, "whether it is deep enough for frost")
    return at_least(f.hole_depth - f.gravel, bound(job.site.frost, "frost depth"))
  end }

local iterated = "unconstrained post formula, iterated"
local not_doubled = iterated .. "; the declared soil value is not doubled, no report says that it may be"

add { id = "R31", severity = "stop", each = "post",
  says = "the embedment is solved for the wind, not guessed", may_waive = "engineer",
  cite = "{post_unconstrained}, S1 at a third of the depth",
  caution = "the post leans over in the design wind",
  flips = depth_path, nearest = nearest_hole,
  check = function(p)
    local f = feet.only_holes(p, "the embedment needed")
    local single = f.isolated_posts and not f.bearing_doubled
    local finding = at_least(p.embedment, bound(p.embedment_needed, single and not_doubled or iterated))
    finding.words = import("loads.cases").governing(p, "push", "loads.side")
    return finding
  end }

add { id = "R33", severity = "note", each = "rack", says = "the hole leaves room to plumb the post and place concrete",
  cite = "common practice, no source", caution = "no room for concrete",
  flips = function(r) return tostring(feet.holes(r)[1]) .. ".hole_diameter" end,
  applies = function(r) return #feet.holes(r) > 0, "none of its posts stands in a hole" end,
  check = function(r)
    local list, width, round = {}, feet.section(r)
    local least = bound(calc.hole { post_width = width, round = round }.least, "post diagonal and room beside it")
    for i, f in ipairs(feet.holes(r)) do list[i] = at_least(f.hole_diameter, least) end
    return #list == 1 and list[1] or every(list)
  end }

add { id = "R34", severity = "stop", each = "post",
  says = "weight holds the post down in the design wind", may_waive = "engineer",
  cite = "{combination_uplift}", caution = "posts pull out of the ground",
  flips = depth_path, nearest = nearest_hole,
  check = function(p)
    local finding = at_least(p.uplift_resistance, bound(p.uplift_demand, "wind uplift at allowable level"))
    finding.words = import("loads.cases").governing(p, "up", "loads.up")
    return finding
  end }

-- A post of timber that stands in the ground: in a hole, or driven.
local function timber_in_ground(r)
  if not feet.of_timber(r) then return false, "its posts are no timber" end
  if #record.all "at" == 0 then
    local kind = feet.kind(r.posts.footing)
    return kind == "hole" or kind == "driven", "none of its posts stands in the ground"
  end
  for _, g in ipairs(feet.of_rack(r)) do
    local kind = feet.kind(g.footing)
    if kind == "hole" or kind == "driven" then return true end
  end
  return false, "none of its posts stands in the ground"
end

add { id = "R37", severity = "stop", each = "rack",
  says = "posts in the ground are treated for it", may_waive = "authority",
  cite = "{post_treatment}",
  flips = function(r) return not feet.pole(r) and tostring(r) .. ".posts.treatment" or nil end,
  caution = "fence-grade posts rot at the ground line",
  applies = timber_in_ground,
  check = function(r)
    local t = (feet.pole(r) or r.posts).treatment
    local use = host.table_row("wood_treatment", "category", t)
    local fit = use.in_ground == 1
    return states(fit, "posts are tagged " .. t .. (fit and "" or ", which is for " .. use.name))
  end }

-- Whether a post is told apart from another rack's of that name: its height stands under its rack, or it has its name
-- from its place alone, and no height is given by that.
local function is_own(p, r, heights)
  if heights and shots.is_of_rack(heights, p) then return true end
  local named = p.line ~= "middle" and given(r.posts, p.line)
  return not named and not (heights and heights[p.station] ~= nil)
end

-- The posts of the racks that have no name of their own, by station: { rack, ... } each; and by rack, its stations.
local function racks_by_station()
  return memo.remember(record.inside[record.root], "racks by station", function()
    local by, of, ground = {}, {}, record.only "ground"
    local heights = ground and (given(ground, "elevation") or given(ground, "rod"))
    for _, r in ipairs(record.all "rack") do
      local stations = {}
      of[record.inside[r]] = stations
      for p in record.each(r.post) do
        if not is_own(p, r, heights) then
          local list = by[p.station] or {}
          by[p.station], list[#list + 1], stations[#stations + 1] = list, r, p.station
        end
      end
    end
    return { by = by, of = of }
  end)
end

-- At stage "quote" it is one of the things still to find out.
add { id = "R76", severity = "stop", each = "rack", says = "each post stands in one rack", may_waive = "nobody",
  cite = "common practice, no source", caution = "a post that was reckoned for one rack carries two",
  applies = function() return #record.all "rack" > 1, "there is only one rack" end,
  check = function(r)
    local named, shared, others, has = racks_by_station(), {}, {}, {}
    for _, station in ipairs(named.of[record.inside[r]]) do
      local racks = named.by[station]
      if #racks > 1 then shared[#shared + 1] = station end
      for _, other in ipairs(#racks > 1 and racks or {}) do
        if other ~= r and not has[other] then has[other], others[#others + 1] = true, "rack " .. other.name end
      end
    end
    if #shared == 0 then return states(true, "its posts stand in no other rack") end
    local one = #shared == 1
    local told = (one and "post " or "posts ") .. util.list(shared) .. (one and " stands in " or " stand in ") ..
        util.list(others) .. " too"
    if rule.reached "permit" then return states(false, told) end
    host.raise { code = "D010", class = "missing", text = told, path = tostring(r) .. ".posts", who = "designer",
        tool = "the stake-out", help = "each post has a station of its own" }
  end }
