-- SPDX-License-Identifier: MIT
-- Looks for the hole with least concrete that passes all rules of a footing: to mend one, and auger by auger for the
-- schedule of footings.
local rule = import "model.rule"
local memo = import "model.memo"
local record = import "model.record"
local util = import "model.util"
local feet = import "structure.feet"
local kinds = import "footings.kinds"
local augers = import "footings.augers"
local given = record.given
local search = {}

local rack_of, footing_of = record.parent, feet.footing

-- The input that says how deep a post's footing goes, or what would have to change instead.
function search.depth_path(post)
  if not feet.in_hole(post) then return tostring(rack_of(post)) .. ".lower_edge" end
  return tostring(footing_of(post)) .. ".hole_depth"
end

-- Rules that a hole has to meet, in the order in which they are told; those that it may not break; and of both those
-- that a deeper hole is worse for, since it takes a longer post.
local hole_rules = { "R29", "R30", "R31", "R33", "R34", "R90", "R98" }
local kept_rules = { "R32", "R68", "R73" }
local worse_deeper = { R29 = true, R68 = true, R73 = true, R90 = true }

local nearest_to_limit = 2     -- so many subjects of each rule stand for all that one footing has

-- Whether a rule that is judged on posts or racks judges this footing there.
local function stands_in(footing)
  return function(def, subject)
    if def.each == "post" then return footing_of(subject) == footing end
    for _, f in ipairs(feet.holes(subject)) do if f == footing then return true end end
    return false
  end
end

-- Whether posts do not go into it: what its concrete is, and so what the ground bears, is known in a wider hole alone.
local function no_room(footing)
  for _, r in ipairs(record.all "rack") do
    for _, g in ipairs(feet.of_rack(r)) do
      if g.footing == footing then
        for _, post in ipairs(g.posts) do if kinds.no_room(post) then return true end end
      end
    end
  end
  return false
end

-- Those of them that can be judged as the job is: a price that is missing says nothing about a hole. Second: whether a
-- subject is one of those that are nearest to the rule's limit, or farthest beyond it.
-- Third: the stop rules that are unknown of it, and stay so in any other hole.
local function asked(footing)
  local judge, mine, list, few, open = import "model.judge", stands_in(footing), {}, {}, {}
  local crowded = no_room(footing)
  local function ask(ids, wanted)
    for _, id in ipairs(ids) do
      local def, fits, found = rule.find(id), true, {}
      for i, s in ipairs(def and judge.subjects(def) or {}) do
        if mine(def, s) then
          local outcome, f = judge.try(def, s)
          fits = fits and wanted[outcome]
          if outcome == "unknown" and def.severity == "stop" and not wanted.unknown and open[#open] ~= id then
            open[#open + 1] = id
          end
          found[#found + 1] = { subject = s, ratio = f and f.ratio or 0, at = i }
        end
      end
      if fits and #found > 0 then
        list[#list + 1], few[def] = id, {}
        table.sort(found, function(a, b)
          if a.ratio ~= b.ratio then return a.ratio < b.ratio end
          return a.at < b.at
        end)
        local most = crowded and #found or nearest_to_limit
        for i = 1, math.min(#found, most) do few[def][tostring(found[i].subject)] = true end
      end
    end
  end
  ask(hole_rules, { holds = true, broken = true, unknown = crowded })
  ask(kept_rules, { holds = true })
  return list, function(def, subject) return few[def][tostring(subject)] end, open
end

local function shown(v) return host.format(v, record.root.units == "SI" and "mm" or "in") end

-- Depths that are tried, in steps: the shallowest that is deeper than the gravel, and the deepest.
local function depths(footing)
  local step = host.si((host.fact "hole_step"))
  return host.si(footing.gravel) // step + 1, host.si((host.fact "hole_deepest")) // step
end

-- How a hole of n steps is put in.
local function hole(footing, diameter, n, isolated)
  local path = tostring(footing)
  local changes = { [path .. ".hole_diameter"] = diameter, [path .. ".hole_depth"] = n * (host.fact "hole_step") }
  if isolated then changes[path .. ".isolated_posts"] = true end
  return changes
end

-- What a deeper hole does not break, and what it may.
local function parted(ids)
  local shallow, deep = {}, {}
  for _, id in ipairs(ids) do table.insert(worse_deeper[id] and deep or shallow, id) end
  return shallow, deep
end

-- The shallowest hole of this diameter, of at most so many steps, that is deep enough; nil where none is.
local function shallowest(footing, diameter, isolated, ids, passes, few, most)
  local first, last = depths(footing)
  local low, high = first - 1, math.min(last, most)
  local function fits(n) return passes(hole(footing, diameter, n, isolated), ids, few) end
  if high <= low or not fits(high) then return nil end
  while high - low > 1 do
    local mid = (low + high) // 2
    if fits(mid) then high = mid else low = mid end
  end
  return high
end

-- The hole with least concrete in which these rules hold for these subjects, by these augers or those that are had:
-- { changes, words, volume }, the volume without the factor that all have.
local function smallest_hole(footing, isolated, passes, asks, list)
  local step, best = host.fact "hole_step", nil
  local shallow, deep = parted(asks.ids)
  local bell = given(footing, "bell")
  for _, d in ipairs(list or augers.had()) do
    if bell and d >= bell then break end                     -- augers come smallest first
    -- Only such as take less concrete than the best so far.
    local square, most = host.si(d) ^ 2, math.maxinteger
    if best then
      most = math.floor(best.volume / square)
      if square * most >= best.volume * (1 - 1e-9) then most = most - 1 end
    end
    local n = shallowest(footing, d, isolated, shallow, passes, asks.few, most)
    local changes = n and hole(footing, d, n, isolated)
    if changes and passes(changes, deep, asks.few) then
      best = { changes = changes, volume = square * n,
          words = "a hole " .. shown(d) .. " wide and " .. shown(n * step) .. " deep" }
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

function search.nearest(post, _, passes)
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
    local by_hand = not augers.lacks(f.hole_diameter) and
        smallest_hole(f, false, passes, asks, { f.hole_diameter }) or nil
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
    local widest = augers.had()
    return "no hole up to " .. shown(widest[#widest]) .. " wide and " .. shown((host.fact "hole_deepest")) ..
        " deep will do: what stops them is " .. stopped_by(f, passes, asks)
  end)
end

-- ---- auger by auger ------------------------------------------------------------------------------------------------

-- Those of these rules that a hole breaks.
local function broken(changes, ids, few, passes)
  local list = {}
  for _, id in ipairs(ids) do if not passes(changes, { id }, few) then list[#list + 1] = id end end
  return list
end

-- The stations whose posts stand in it, of all racks: records that are derived anew are found again by their path.
local function posts_in(footing)
  local list = {}
  for _, r in ipairs(record.all "rack") do
    for _, g in ipairs(feet.of_rack(r)) do
      if g.footing == footing then table.move(g.posts, 1, #g.posts, #list + 1, list) end
    end
  end
  return list
end

-- What the holes of a footing take when they are dug so: concrete with waste and bags of all of them, the job's price.
-- What is put in may declare the job anew, with records of its own: the footing there is the one of the same path.
local function taken(changes, footing)
  local graph, path = import "model.graph", tostring(footing)
  return import("model.trial").given(changes, function()
    local bags, concrete = 0, nil
    for _, f in ipairs(record.all "footing") do
      for _, post in ipairs(tostring(f) == path and posts_in(f) or {}) do
        local n, volume = graph.try(post, "bags"), graph.try(post, "concrete")
        bags = bags and n and bags + n
        concrete = volume and (not concrete or volume > concrete) and volume or concrete
      end
    end
    return { bags = bags, concrete = concrete, total = graph.try(record.root, "total") }
  end)
end

-- Of one diameter: the shallowest hole that is deep enough, what the next shallower one breaks, and what it breaks
-- itself; or what stops even the deepest: { diameter, depth, taken, stops = { { at = depth, ids } ... } }.
local function by_auger(footing, diameter, asks, passes)
  local step, first, last = host.fact "hole_step", depths(footing)
  local shallow, deep = parted(asks.ids)
  local row = { diameter = diameter, stops = {} }
  local function stop(n, rules)
    local ids = broken(hole(footing, diameter, n), rules, asks.few, passes)
    if #ids > 0 then table.insert(row.stops, { at = n * step, ids = ids }) end
    return #ids > 0
  end
  local n = shallowest(footing, diameter, false, shallow, passes, asks.few, math.maxinteger)
  if not n then
    stop(last, shallow)
    return row
  end
  if n > first then stop(n - 1, shallow) end
  if not stop(n, deep) then
    row.depth, row.volume = n * step, host.si(diameter) ^ 2 * n
    row.taken = taken(hole(footing, diameter, n), footing)
  end
  return row
end

-- The holes that would do for a footing, auger by auger, the narrowest first: rows of by_auger, `least` in the one that
-- takes least concrete; ids, the rules that were asked; open, those that stay unknown; now, what the holes as drawn
-- take. Nil, and why, where no hole is looked for.
function search.table(footing)
  if feet.kind(footing) ~= "hole" then return nil, "it is no hole" end
  local posts = posts_in(footing)
  if #posts == 0 then return nil, "no post stands in it" end
  if given(record.parent(posts[1]).posts, "slide") then return nil, "the legs slide" end
  local passes = import("model.trial").passes
  local ids, few, open = asked(footing)
  local found = { ids = table.move(ids, 1, #ids, 1, {}), open = open, posts = posts, now = taken({}, footing) }
  table.sort(found.ids)
  local list, drawn = table.move(augers.had(), 1, #augers.had(), 1, {}), false
  for _, d in ipairs(list) do drawn = drawn or host.near(host.si(d), host.si(footing.hole_diameter)) end
  if not drawn then list[#list + 1] = footing.hole_diameter end
  table.sort(list, function(a, b) return a < b end)
  local least
  for i, d in ipairs(list) do
    local row = by_auger(footing, d, { ids = ids, few = few }, passes)
    row.lacks = augers.lacks(d)
    found[i] = row
    if row.depth and not row.lacks and (not least or row.volume < least.volume * (1 - 1e-9)) then least = row end
  end
  if least then least.least = true end
  return found
end

return search
