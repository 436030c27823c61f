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
local add, at_most, at_least, states, limit, bound = rule.add, rule.at_most, rule.at_least, rule.states, rule.limit,
    rule.bound
local given = record.given

local rack_of = record.parent
local function shown(v) return host.format(v, record.root.units == "SI" and "mm" or "in") end
local function edge_path(rack) return tostring(rack) .. ".lower_edge" end

-- The lower edge over the ground that it is counted from, where it is lowest.
local function edge_clears(r, limits)
  return tilted.worst(r, function(at)
    local finding = at_least(at.clearance, limits(at))
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
    return edge_clears(r, function(at)
      local slid = rule.has_limit "shed_repose" and at.slid_pile
      if slid and slid > pile.value then
        return bound(job.site.snow_depth + slid, "snow depth plus the pile of all the snow of the slope, slid off",
            "pile by geometry, common practice, no source")
      end
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
  flips = function(p) return import("footings.search").depth_path(p) end,
  nearest = function(...) return import("footings.search").nearest(...) end,
  check = function(p)
    local rack = rack_of(p)
    if given(rack.posts, "slide") then
      return at_most(p.leg_off, bound(rack.posts.slide, "the slide of the leg of " .. shown(p.leg_length)))
    end
    local item = feet.item(rack, p.line)
    local longest, whose = buying.longest(item)
    return at_most(feet.stock_length(rack, p), bound(longest, "longest " .. item .. " " .. whose))
  end }

-- A post of timber that stands in the ground: in a hole, or driven.
local function timber_in_ground(r)
  local list, timber = feet.unlike(r), false
  for i = 1, list.n do timber = timber or feet.of_timber(r, list[i]) end
  if not timber then return false, "its posts are no timber" end
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

-- Tags that do for a post in the ground: "UC4B or UC4C".
local function fit_for_ground()
  local list = {}
  for _, row in ipairs(host.table "wood_treatment") do
    if row.in_ground == 1 then list[#list + 1] = row.category end
  end
  return table.concat(list, " or ")
end

add { id = "R37", severity = "stop", each = "rack",
  says = "posts in the ground are treated for it", may_waive = "authority",
  cite = "{post_treatment}",
  flips = function(r) return not feet.pole(r) and tostring(r) .. ".posts.treatment" or nil end,
  nearest = function(r) return feet.pole(r) and "a pole whose tag says " .. fit_for_ground() or nil end,
  caution = "fence-grade posts rot at the ground line",
  applies = timber_in_ground,
  check = function(r)
    local list, said = feet.unlike(r), {}
    for i = 1, list.n do
      if feet.of_timber(r, list[i]) then
        local t = (feet.pole(r, list[i]) or feet.made(r, list[i])).treatment
        local use = host.table_row("wood_treatment", "category", t)
        if use.in_ground ~= 1 then
          return states(false, (list[i] and list[i] .. " posts" or "posts") .. " are tagged " .. t ..
              ", which is for " .. use.name)
        end
        said[#said + 1] = t
      end
    end
    return states(true, "posts are tagged " .. table.concat(said, " and "))
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
