-- SPDX-License-Identifier: MIT
-- Rules about what is bought, ordered and in hand.
local rule = import "model.rule"
local record = import "model.record"
local run = import "model.run"
local schema = import "model.schema"
local needs = import "buying.needs"
local add, at_most, at_least, states, every, limit, bound = rule.add, rule.at_most, rule.at_least, rule.states,
    rule.every, rule.limit, rule.bound

local results          -- loaded by the first rule that asks
local function buying()
  results = results or import "buying.results"
  return results
end

local function missing(path, text, who, tool, help)
  host.raise { code = "D010", class = "missing", path = path, text = text, who = who, tool = tool, help = help }
end

local function known(item, how)
  local n = buying().need(item, how) or buying().need(item, "unknown")
  if not n then missing("prices: " .. item, "the job needs no " .. item, "designer") end
  if n.how == "unknown" then host.again(n.why) end
  return n
end

-- A declared order against the need: nil where no order names the item.
local function ordered(n, whose)
  local have, wanted = buying().covered(n)
  return have and at_least(have, bound(wanted, whose))
end

-- A counted need: an order is compared; the program's own list has as many as are needed by construction. instead():
-- what else would do, where nobody has a price of it.
local function counted(n, whose, least, instead)
  local have = buying().covered(n)
  if have then return at_least(have, bound(least or n.count, whose)) end
  local planned = buying().planned(n)
  if not planned then
    missing("prices: " .. n.item, "no price list has " .. n.item, "vendor", "a quote", instead and instead())
  end
  return rule.constructed(at_least(planned, bound(least or n.count, whose)))
end

-- Bags, where a price list has ready-mixed concrete: it comes by truck alone.
local function by_truck_instead()
  local rows = run.prices.of[needs.ready_mix]
  return rows and host.place(rows[1].place) .. " has " .. needs.ready_mix .. "; declare the truck that brings it: " ..
      'truck { volume = ..., vendor = "' .. rows[1].vendor .. '" }'
end

-- What an order of bags has to say.
local function bags_to_order(r)
  local list, seen = {}, {}
  for _, f in ipairs(import("structure.feet").holes(r)) do
    local item = needs.bag_item(f)
    local n = not seen[item] and known(item)
    seen[item] = true
    local have = n and buying().covered(n)
    if have and have < n.count then
      list[#list + 1] = n.count .. " of " .. item .. ", counting what is in hand, where " .. have .. " are there"
    end
  end
  return #list > 0 and "order " .. table.concat(list, "; ") or nil
end

add { id = "R40", severity = "caution", each = "rack",
  says = "the concrete ordered fills the holes, with waste", may_waive = "house",
  cite = "bag yields by the makers; waste by the house", caution = "the pour stops at the last hole",
  applies = function(r) return #import("structure.feet").holes(r) > 0, "none of its posts stands in a hole" end,
  flips = function() return needs.by_truck() and tostring(record.all "truck"[1]) .. ".volume" or nil end,
  nearest = function(r) return not needs.by_truck() and bags_to_order(r) or nil end,
  check = function(r, job)
    local waste = host.format(job.habits.concrete_waste, "%") .. " waste"
    if needs.by_truck() then return ordered(known(needs.ready_mix), "all holes with " .. waste) end
    local list, seen = {}, {}
    for _, f in ipairs(import("structure.feet").holes(r)) do
      local item = needs.bag_item(f)
      if not seen[item] then
        seen[item] = true
        list[#list + 1] = counted(known(item), "bags hole by hole, with " .. waste, nil, by_truck_instead)
      end
    end
    return #list == 1 and list[1] or every(list)
  end }

-- A riser is counted from the conduit in the trench: one that does not reach the ground leaves the wire short.
local function comes_up(run)
  local risers, cover = record.given(run, "risers"), run.through.cover
  local least = risers and (risers[1] < risers[2] and risers[1] or risers[2]) or run.stub_up
  if least < cover then
    return states(false, "a riser of " .. host.format(least) .. " ends in the ground: the cover over the conduit is " ..
        host.format(cover))
  end
end

add { id = "R62", severity = "caution", each = "run",
  says = "each conductor comes off one spool, and enough is bought", may_waive = "house",
  cite = "common practice, no source", caution = "a buried splice",
  check = function(r)
    local function wire(item)
      local longest, whose = buying().longest(item)
      local f = at_most(r.cut_length, bound(longest, "longest spool of " .. item ..
          (whose == "sold" and "" or ", " .. whose)))
      if not f.ok then return f end
      local n = known(item, "wire")
      local enough = ordered(n, "cuts of " .. item)
      if not enough and not n.plan and not n.met then
        missing("prices: " .. item, "no vendor's spools of " .. item .. " hold the cuts", "vendor", "a quote")
      end
      return enough or f                     -- with an order the longest spool is the order's, and every cut is on one
    end
    return every {
      function() return comes_up(r) end,
      function() return wire(needs.wire_item(r, r.wire)) end,
      function() return wire(needs.wire_item(r, r.ground_wire)) end,
      function() return ordered(known(needs.conduit_item(r)), "length of " .. needs.conduit_item(r)) end,
    }
  end }

-- A comparison of counts that holds says of what; where it is broken, its limit does.
local function of(f, what)
  if f and f.ok then f.words = what end
  return f
end

add { id = "R64", severity = "caution", each = "rack",
  says = "clamps are ordered with spares, and an order covers the rack", may_waive = "house",
  cite = "the house's spares", caution = "a lost clamp stops the day's work",
  check = function(r, job)
    local list, with = {}, nil
    for i, name in ipairs { r.mid_clamp.name, r.end_clamp.name } do
      list[i] = function()
        local spares = job.habits.spares
        local n = known(name)
        with = with or " with " .. host.format(spares, "%") .. " spare"
        return of(counted(n, name .. with, n.needed * (1 + spares)), name)
      end
    end
    local function also(item, how, whose)
      list[#list + 1] = function() return of(ordered(known(item, how), whose .. item), whose .. item) end
    end
    also(r.modules.name, "count", "modules ")
    for _, item in ipairs(needs.cut_items(r)) do also(item, "pieces", "pieces of ") end
    return every(list)
  end }

add { id = "R65", severity = "note", says = "prices are fresh", may_waive = "house",
  cite = "the house's age limit", caution = "the quote is stale: ask again before ordering",
  check = function(_, job)
    import "parts.files"
    local today, oldest, list = schema.day_number(job.on), nil, {}
    for _, priced in ipairs(run.prices.days) do
      local age = today - priced.number
      if age >= 0 then oldest = math.max(oldest or age, age)
      else
        list[#list + 1] = states(false, "a price of " .. priced.vendor .. " is dated " .. priced.on ..
            ", after the day judged, " .. job.on)
      end
    end
    if not oldest and #list == 0 then missing("prices", "nothing has a price", "vendor", "a quote") end
    if oldest then
      list[#list + 1] = function() return at_most(host.as(oldest * host.literal "1d", "d"), limit "price_age") end
    end
    return every(list)
  end }

-- What of the list is not in hand, in words; nil where all of it is.  A truckload has no pieces: it comes when it is
-- called.
local function lacking(n)
  local have, wanted = buying().there(n, n.hand)
  if n.how == "count" or n.how == "pieces" or n.how == "wire" then
    return have < wanted and wanted - have .. " of " .. wanted .. " x " .. n.item or nil
  end
  return have < wanted and host.format(wanted - have) .. " of " .. n.item or nil
end

add { id = "R78", severity = "caution", says = "the materials are in hand", may_waive = "house",
  cite = "common practice, no source", caution = "the crew stands round an open hole and waits",
  applies = function() return rule.reached "build" end,
  check = function(_, job)
    if #record.all "on_hand" == 0 then
      missing("on_hand", "nobody said which materials are in hand", "foreman", "the delivery notes")
    end
    local list, lacks = {}, {}
    local counted, today = record.given(record.all "on_hand"[1], "counted_on"), record.given(job, "on")
    if counted and today and counted > today then
      missing("on_hand.counted_on", "what is in hand is counted on " .. counted .. ", after the day judged, " .. today,
          "foreman", "eyes and a tape")
    end
    for _, n in ipairs(buying().order().needs) do
      list[#list + 1] = function()
        if n.how == "unknown" then host.again(n.why) end
        lacks[#lacks + 1] = lacking(n)
      end
    end
    list[#list + 1] = function()           -- the last: by then it is known what lacks
      local f = states(#lacks == 0, #lacks == 0 and "all that the shopping list counts is in hand"
          or "not in hand: " .. table.concat(lacks, "; "))
      f.by = "limit"
      return f
    end
    return every(list)
  end }
