-- SPDX-License-Identifier: MIT
-- Looks for the hole with least concrete that passes all rules of a footing.
local rule = import "model.rule"
local memo = import "model.memo"
local record = import "model.record"
local util = import "model.util"
local feet = import "structure.feet"
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
local hole_rules = { "R29", "R30", "R31", "R33", "R34", "R90" }
local kept_rules = { "R68", "R73" }
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
  local bell = given(footing, "bell")
  for _, d in ipairs(augers or calc.augers {}.diameters) do
    if bell and d >= bell then break end                     -- augers come smallest first
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

return search
