-- SPDX-License-Identifier: MIT
-- Rules about racks, posts and holes.
local rule = import "model.rule"
local memo = import "model.memo"
local record = import "model.record"
local buying = import "buying.results"
local add, at_most, at_least, states, every, limit, bound = rule.add, rule.at_most, rule.at_least, rule.states,
    rule.every, rule.limit, rule.bound
local given = record.given

local rack_of = record.parent
local function footing_of(post) return rack_of(post).posts.footing end
local function depth_path(post) return tostring(footing_of(post)) .. ".hole_depth" end

-- The hole with least concrete, of the augers that are had and of depths step by step, in which all footing rules hold.
local hole_rules = { "R29", "R30", "R31", "R33", "R34" }
local function smallest_hole(footing, isolated, passes)
  local path, best, best_volume = tostring(footing), nil, nil
  local hole_step, hole_deepest = host.fact "hole_step", host.fact "hole_deepest"
  local least, most = host.si(footing.gravel) // host.si(hole_step) + 1, host.si(hole_deepest) // host.si(hole_step)
  for _, d in ipairs(calc.augers {}.diameters) do
    local area = host.si(d) ^ 2
    for n = least, most do
      local volume = area * n
      if best_volume and volume >= best_volume then break end
      local changes = { [path .. ".hole_diameter"] = d, [path .. ".hole_depth"] = n * hole_step,
          [path .. ".isolated_posts"] = isolated }
      if passes(changes, hole_rules) then
        best, best_volume = { changes = changes,
            words = host.format(d, "in") .. " x " .. host.format(n * hole_step, "in") }, volume
        break
      end
    end
  end
  return best
end

-- What is claimed, as the table of the code has it.
local function isolated()
  local _, name = host.fact("isolated", record.root.codes.building)
  return name
end

-- In words, once for each footing.
local function nearest_hole(post, _, passes)
  local f = footing_of(post)
  return memo.remember(record.inside[f], "nearest hole", function()
    local claimed = f.isolated_posts
    local plain = not claimed and smallest_hole(f, false, passes)
    local doubled = smallest_hole(f, true, passes)
    local list = {}
    if plain then list[1] = { changes = plain.changes, words = plain.words .. " passes all footing rules" } end
    if doubled then
      list[#list + 1] = { changes = doubled.changes, words = doubled.words .. (claimed and " passes all footing rules"
          or " passes if isolated_posts may be claimed here (" .. isolated() .. ")") }
    end
    if #list == 0 then
      local augers = calc.augers {}.diameters
      return "no hole up to " .. host.format(augers[#augers], "in") .. " x "
          .. host.format((host.fact "hole_deepest"), "in") .. " passes with the posts that are sold"
    end
    return list
  end)
end

add { id = "R14", severity = "caution", each = "rack",
  says = "the lower edge stays above the snow and its slid pile", may_waive = "house",
  cite = "field report on ground interference (Heidari et al. 2015, abstract); pile height by the house",
  caution = "snow bridges from ground to glass, and a frame tears",
  flips = function(r) return tostring(r) .. ".lower_edge" end,
  check = function(r, job)
    local pile
    for _, l in ipairs(table.pack(limit "shed_pile")) do if not pile or pile.value < l.value then pile = l end end
    return at_least(r.clearance, bound(job.site.snow_depth + pile.value, "snow depth plus the pile of " .. pile.whose,
        pile.cite))
  end }

add { id = "R15", severity = "caution", each = "rack",
  says = "the lower edge stays above mower, weeds and stock", may_waive = "house",
  cite = "the house's clearance", caution = "thrown stones, chewed leads",
  flips = function(r) return tostring(r) .. ".lower_edge" end,
  check = function(r) return at_least(r.clearance, limit "mower_clearance") end }

add { id = "R16", severity = "caution", each = "rack",
  says = "a rail reaches from clamp to clamp in one piece", may_waive = "house",
  cite = "common practice, no source", caution = "the last clamp has no rail under it",
  flips = function(r) return tostring(r) .. ".end_allowance" end,
  check = function(r)
    local longest, whose = buying.longest(r.rails.size)
    return at_most(r.rail_length, bound(longest, "longest " .. r.rails.size .. " " .. whose))
  end }

add { id = "R19", severity = "caution", each = "rack",
  says = "the clamps' range includes the module frame", may_waive = "nobody",
  cite = "makers' clamp data; frames have become lower (trade press)",
  caution = "the clamps do not bite",
  check = function(r)
    local list = {}
    for _, c in ipairs { r.mid_clamp, r.end_clamp } do
      local f = rule.between(r.modules.frame, bound(c.least_frame, "clamp " .. c.name),
          bound(c.most_frame, "clamp " .. c.name))
      list[#list + 1] = f
    end
    return every(list)
  end }

add { id = "R29", severity = "caution", each = "post", says = "the stock is as long as the post", may_waive = "house",
  cite = "common practice, no source", caution = "the post is too short at the low end",
  flips = depth_path,
  check = function(p)
    local posts = rack_of(p).posts
    local item = posts.size .. " " .. posts.treatment
    local longest, whose = buying.longest(item)
    return at_most(p.cut_length, bound(longest, "longest " .. item .. " " .. whose))
  end }

add { id = "R30", severity = "stop", each = "post",
  says = "the hole reaches below frost and embedment", may_waive = "engineer",
  cite = "{frost_depth post_embedment}, frost depth by the office",
  caution = "frost lifts the post, or wind turns it over",
  flips = depth_path, nearest = nearest_hole,
  check = function(p, job)
    local f = footing_of(p)
    return at_least(f.hole_depth, bound(job.site.frost + f.gravel, "frost plus gravel", "frost depth by the office"),
                    bound(p.embedment_needed + f.gravel, "embedment plus gravel", "{post_unconstrained}"))
  end }

add { id = "R31", severity = "stop", each = "post",
  says = "the embedment is solved for the wind, not guessed", may_waive = "engineer",
  cite = "{post_unconstrained}, S1 at a third of the depth",
  caution = "the post leans over in the design wind",
  flips = depth_path, nearest = nearest_hole,
  check = function(p) return at_least(p.embedment,
      bound(p.embedment_needed, "unconstrained post formula, iterated")) end }

add { id = "R33", severity = "note", each = "rack", says = "the hole leaves room to plumb the post and place concrete",
  cite = "common practice, no source", caution = "no room for concrete",
  flips = function(r) return tostring(r.posts.footing) .. ".hole_diameter" end,
  check = function(r)
    local post = calc.dressed { section = r.posts.size }
    return at_least(r.posts.footing.hole_diameter,
        bound(calc.hole { post_width = post.breadth }.least, "post diagonal and room beside it"))
  end }

add { id = "R34", severity = "stop", each = "post",
  says = "weight holds the post down in the design wind", may_waive = "engineer",
  cite = "{combination_uplift}", caution = "posts pull out of the ground",
  flips = depth_path, nearest = nearest_hole,
  check = function(p) return at_least(p.uplift_resistance,
      bound(p.uplift_demand, "wind uplift at allowable level")) end }

add { id = "R37", severity = "caution", each = "rack",
  says = "posts in the ground are treated for it", may_waive = "engineer",
  cite = "AWPA U1 use categories, as the post-frame trade applies them",
  caution = "fence-grade posts rot at the ground line",
  check = function(r)
    local t = r.posts.treatment
    local use = host.table_row("wood_treatment", "category", t)
    local fit = use.in_ground == 1
    return states(fit, "posts are tagged " .. t .. (fit and "" or ", which is for " .. use.name))
  end }
