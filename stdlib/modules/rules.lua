-- SPDX-License-Identifier: MIT
-- Rules about modules and what holds them.
local rule = import "model.rule"
local record = import "model.record"
local util = import "model.util"
local models = import "modules.models"
local add, at_most, at_least, states, every, bound = rule.add, rule.at_most, rule.at_least, rule.states,
    rule.every, rule.bound
local given = record.given

-- A clamp against the frames that it has to hold; its bolt, where its row tells of one.
local function holds_frames(list, r, c, modules)
  for _, x in ipairs(modules) do
    local frame = x.module.frame
    list[#list + 1] = rule.between(frame, bound(c.least_frame, "clamp " .. c.name),
        bound(c.most_frame, "clamp " .. c.name))
    local bolt = given(c, "bolt")
    if bolt then
      list[#list + 1] = function()
        return at_least(bolt, bound(frame + c.bolt_beyond, "frame and what clamp " .. c.name .. " takes of its bolt"))
      end
    end
  end
end

local function counted(n, what) return n .. " " .. what .. (n == 1 and " clamp" or " clamps") end

add { id = "R19", severity = "caution", each = "rack",
  says = "the clamps' range includes the module frame, and their bolts reach", may_waive = "nobody",
  cite = "makers' clamp data; frames have become lower (trade press)",
  caution = "the clamps do not bite",
  check = function(r)
    local list, modules = {}, models.of(r)
    for _, c in ipairs { r.mid_clamp, r.end_clamp } do holds_frames(list, r, c, modules) end
    local gap = r.columns > 1 and given(r.mid_clamp, "least_gap")
    if gap then
      list[#list + 1] = at_least(r.column_gap, bound(gap, "gap that clamp " .. r.mid_clamp.name .. " takes"))
    end
    local f = every(list)
    f.words = "with " .. counted(r.mid_clamps, "mid") .. " and " .. counted(r.end_clamps, "end")
    return f
  end }

-- The places of the rails on each row: how far from a corner at least and at most, and whether both halves of the
-- modules have one.
local function on_rows(r)
  local least, most, halves = nil, nil, {}
  for _, rail in ipairs(r.rail_places.rails) do
    local corner = rail.from_corner
    if not least or corner < least then least = corner end
    if not most or corner > most then most = corner end
    halves[rail.row] = halves[rail.row] or {}
    halves[rail.row][rail.from_below <= corner and "lower" or "upper"] = true
  end
  return least, most, halves
end

local function lacking(r, halves)
  for k = 1, r.rows do
    for _, half in ipairs { "lower", "upper" } do
      if not (halves[k] and halves[k][half]) then
        return "row " .. k .. " of the modules, from below, has no rail in its " .. half .. " half"
      end
    end
  end
end

-- How far a clamp reaches to both sides of its rail's middle.
local function reach(r)
  local mid, last = given(r.mid_clamp, "along"), given(r.end_clamp, "along")
  local wide = mid and last and (mid > last and mid or last) or mid or last
  return wide and wide / 2
end

-- In the middle of the zones, where two rails lie under each row.
local function by_rule(r)
  local from, to = models.zone(r, r.modules)
  local list, changes, path = {}, {}, tostring(r) .. ".rails.at"
  if r.rails.lines ~= 2 * r.rows then return "two rails under each row, in the middle of the clamp zones" end
  local places = calc.rail_places { side = models.up_the_slope(r, r.modules), rows = r.rows, row_gap = r.row_gap,
      zone_least = from, zone_most = to }
  for i = 1, #places.at do
    changes[path .. "[" .. i .. "]"] = places.at[i]
    list[i] = host.format(places.at[i], record.root.units == "SI" and "mm" or "in")
  end
  return { { changes = changes, words = "rails " .. util.list(list) .. " up the slope" } }
end

add { id = "R20", severity = "caution", each = "rack",
  says = "modules are clamped where their maker permits, near both ends of their sides", may_waive = "engineer",
  cite = "the modules' mounting manual, clamp zones",
  caution = "a frame bends under snow, or the wind takes a module out: its load rating is void",
  nearest = function(r) return given(r.rails, "at") and by_rule(r) or nil end,
  check = function(r)
    local least, most, halves = on_rows(r)
    local lacks = lacking(r, halves)
    if lacks then return states(false, lacks) end
    local half, list = reach(r), {}
    if half then least, most = least - half, most + half end
    local modules = models.of(r)
    for _, x in ipairs(modules) do
      local whose = "clamp zone of " .. x.module.name
      list[#list + 1] = function() return at_least(least, bound(models.zone(r, x.module), whose)) end
      list[#list + 1] = function() return at_most(most, bound(select(2, models.zone(r, x.module)), whose)) end
    end
    local f = every(list)
    local clamps = 2 * r.rails.lines // r.rows
    f.words = "from the corner, " .. clamps .. " clamps a module"
    if given(r.rails, "at") or half or #modules > 1 then return f end
    return rule.constructed(f)
  end }

-- The greatest difference of one measure between models, with its name.
local function spread(modules, measure)
  local least, most
  for _, x in ipairs(modules) do
    local v = x.module[measure]
    if not least or v < least then least = v end
    if not most or v > most then most = v end
  end
  return most - least
end

add { id = "R23", severity = "caution", each = "rack", says = "the modules of a row are of one size",
  may_waive = "engineer", cite = "common practice, no source",
  caution = "clamps walk off the lower frame",
  applies = function(r)
    return given(r, "with_modules") ~= nil, "its modules are all of one model"
  end,
  check = function(r)
    local modules, list, most = models.of(r), {}, (host.fact "one_size")
    for i, measure in ipairs { "length", "width", "frame" } do
      list[i] = at_most(spread(modules, measure), bound(most, "one size: the modules' " .. measure))
    end
    return every(list)
  end }

add { id = "R95", severity = "stop", each = "rack",
  says = "clamps hold what lifts the modules, at corners and edges too",
  may_waive = "engineer", cite = "{wind_components}; the clamps' table by their maker",
  caution = "a clamp lets go, and the module beside it goes with the wind",
  applies = function(r)
    if given(r.mid_clamp, "hold") or given(r.end_clamp, "hold") then return true end
    return false, "what its clamps hold is not in their parts file: the register has it"
  end,
  nearest = function() return "clamps of which the maker's table gives more, or more rails under the modules" end,
  check = function(r)
    local hold, list = import "modules.clamps_hold", {}
    for i, role in ipairs { "mid", "end" } do
      local clamp = r[role .. "_clamp"]
      list[i] = function()
        return import("structure.tilted").worst(r, function(at)
          local lift, by = hold.lifted(at, role)
          local f = at_most(lift, bound(hold.holds(clamp), "what one clamp " .. clamp.name .. " holds"))
          f.words = "lift on one " .. role .. " clamp, " .. by
          return f
        end)
      end
    end
    return every(list)
  end }
