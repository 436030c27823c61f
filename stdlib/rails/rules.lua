-- SPDX-License-Identifier: MIT
-- Rules about rails: their reach, their splices, what warmth does to them, their generation.
local rule = import "model.rule"
local record = import "model.record"
local util = import "model.util"
local plan = import "rails.plan"
local buying = import "buying.results"
local add, at_most, at_least, states, every, bound = rule.add, rule.at_most, rule.at_least, rule.states, rule.every,
    rule.bound
local given = record.given

local function path_of(name) return function(r) return tostring(r) .. "." .. name end end

local function shown(v) return import("write.words").show(v) end

-- A length up to that of the longest stick is in one piece.
local function fits(length, longest) return length <= longest or host.near(host.si(length), host.si(longest)) end

local function one_piece(r)
  if given(r.rails, "joints") then return false end
  return fits(plan.parted(r) and r.rail_run_length or r.rail_length, (plan.longest(r)))
end

add { id = "R16", severity = "caution", each = "rack",
  says = "rails reach from clamp to clamp, rafters over the slope and beams along the row, out of what is sold",
  may_waive = "house",
  cite = "common practice, no source", caution = "the last clamp has no rail under it",
  flips = path_of "columns",
  check = function(r)
    local function rails()
      if plan.in_kits(r, "rails") then return rule.constructed(states(true, "its rails come in its kits")) end
      local longest, whose = plan.longest(r)
      local limit = bound(longest, "longest " .. plan.item(r) .. " " .. whose)
      if given(r.rails, "joints") then return at_most(r.rail_piece, limit) end
      if one_piece(r) then return at_most(plan.parted(r) and r.rail_run_length or r.rail_length, limit) end
      local f = at_most(r.rail_reach, limit)
      f.words = f.ok and "the shortest that would do, with splices where they may be" or
          "the shortest out of which a rail can be made, with splices where they may be"
      return f
    end
    local function rafters()
      local longest, whose = buying.longest(r.rafter)
      return at_most(r.rafter_length, bound(longest, "longest " .. r.rafter .. " " .. whose))
    end
    local function beams()
      local longest, whose = buying.longest(r.beam)
      local f = at_most(r.row_width, bound(longest, "longest " .. r.beam .. " " .. whose))
      f.words = "a beam in one piece"
      return f
    end
    local list = { rails }
    if given(r, "rafter") then list[2] = rafters end
    if given(r, "beam") then list[#list + 1] = beams end
    return every(list)
  end }

-- ---- splices -------------------------------------------------------------------------------------------------------

local function whose_zone(r)
  local part = plan.part(r)
  return part and "rail " .. part.name or "the engineer's zone"
end

local function need_zone(r)
  local part = plan.part(r)
  host.raise { code = "D010", class = "missing", text = "where its rails may be spliced is not given",
      path = part and tostring(part) .. ".splice_least" or tostring(r) .. ".rails.splice_zone",
      who = part and "maker's data sheet" or "engineer", tool = part and "the page on splices" or "a letter",
      help = "the pieces are planned with splices anywhere between two supports" }
end

-- A splice at one place: in a bay that may have one, and there not too near to the support and not too far from it.
local function judged(r, zone, run, supports, at)
  local s = calc.splice { from = run.from, to = run.to, supports = supports, at = at }
  local place = "the splice " .. shown(at) .. " from the west end"
  if s.place == "overhang" then return states(false, place .. " is in the overhang, held on one side alone") end
  if s.place == "end bay" and not zone.end_bays then
    return states(false, place .. " is in bay " .. s.bay .. ", an end bay, where none may be" ..
        (zone.open and ", as long as nobody says so" or ""))
  end
  local f = rule.between(s.share, bound(zone.from, whose_zone(r)), bound(zone.to, whose_zone(r)))
  f.words = "of bay " .. s.bay .. ", " .. place
  return f
end

local function bays_of(run, supports, ways)
  local seen = {}
  for k, list in ipairs(ways) do
    for _, at in ipairs(list) do
      local bay = calc.splice { from = run.from, to = run.to, supports = supports, at = at }.bay
      if k == 2 and seen[bay] then return bay end
      if k == 1 then seen[bay] = true end
    end
  end
end

-- Neighbouring rails that are spliced in one bay, where as few pieces would do without that.
local function side_by_side(r, zone, s, supports)
  local bay = s.declared and #s.ways[1] > 0 and bays_of(s.run, supports, s.ways)
  if not bay or bay == 0 then return nil end
  local stock, prices = plan.stock(r)
  local ok, p = pcall(calc.rail_joints, { from = s.run.from, to = s.run.to, supports = supports, zone_from = zone.from,
      zone_to = zone.to, end_bays = zone.end_bays, stock = stock, prices = prices })
  if not ok and not host.class(p) then error(p, 0) end
  if not ok or not p.staggered or p.pieces > #s.ways[1] + 1 then return nil end
  return states(false, "neighbouring rails are both spliced in bay " .. bay .. ", turned end for end as they are")
end

-- Where they are in one bay all the same.
local function told_of_neighbours(r)
  if plan.in_kits(r, "rails") then return nil end
  local zone, supports = plan.zone(r), plan.supports(r)
  for _, s in ipairs(r.rail_splices) do
    local bay = bays_of(s.run, supports, s.ways)
    if bay and bay > 0 and not side_by_side(r, zone, s, supports) then
      return "neighbouring rails are both spliced in bay " .. bay ..
          ": no way was found to keep them apart with as few pieces"
    end
  end
end

-- Whether expansion joints part its rails.
local function is_parted(r) return plan.parted(r) and r.expansion_joint_count > 0 end

-- What lies between two expansion joints is a rail by itself: on one support alone it tips.
local function on_supports(r, supports)
  for _, run in ipairs(r.rail_runs) do
    local under = 0
    for _, at in ipairs(supports) do if at >= run.from and at <= run.to then under = under + 1 end end
    if under < 2 then
      return states(false, "the rails of columns " .. math.tointeger(run.first_column) .. " to " ..
          math.tointeger(run.last_column) .. " lie on " .. (under == 0 and "no support" or "one support alone"))
    end
  end
  return states(true, "each part between expansion joints lies on two supports or more")
end

local function is_spliced(r) return not plan.in_kits(r, "rails") and not one_piece(r) end

add { id = "R18", severity = "caution", each = "rack",
  says = "rails are spliced where they may be, and neighbours not in one bay", may_waive = "engineer",
  cite = "makers' instructions, from memory", caution = "a joint is weaker than the rail: it bends or parts under snow",
  applies = function(r)
    if is_parted(r) then return true end
    if plan.in_kits(r, "rails") then return false, "its rails come in its kits, joined as their maker has it" end
    if one_piece(r) then return false, "its rails are not spliced" end
    return true
  end,
  flips = function(r) return given(r.rails, "joints") and tostring(r) .. ".rails.joints[1]" or nil end,
  tells = told_of_neighbours,
  check = function(r)
    local zone, known = plan.zone(r)
    local supports = plan.supports(r)
    local list = { is_parted(r) and on_supports(r, supports) or nil }
    if list[1] and not list[1].ok or not is_spliced(r) then return list[1] end
    local spliced = r.rail_splices
    if not known then list[#list + 1] = function() need_zone(r) end end
    for _, s in ipairs(spliced) do
      for _, ways in ipairs(s.ways) do
        for _, at in ipairs(ways) do
          list[#list + 1] = function()
            local f = judged(r, zone, s.run, supports, at)
            return s.declared and f or rule.constructed(f)
          end
        end
      end
      list[#list + 1] = function() return side_by_side(r, zone, s, supports) end
    end
    return every(list)
  end }

-- ---- warmth --------------------------------------------------------------------------------------------------------

local function need_limit(r)
  local part = plan.part(r)
  host.raise { code = "D010", class = "missing", text = "how long " .. part.name .. " may run without an expansion " ..
      "joint is not given", path = tostring(part) .. ".expansion_limit", who = "maker's data sheet",
      tool = "the page on expansion" }
end

add { id = "R21", severity = "caution", each = "rack",
  says = "rails have room to lengthen with warmth", may_waive = "house",
  cite = "linear expansion; longest run by the rail's maker", caution = "rails buckle, glass breaks",
  applies = function(r)
    if plan.part(r) or plan.limit(r) or is_parted(r) then return true end
    return false, "its rails are of lumber"
  end,
  flips = function(r) return given(r.rails, "joint_gap") and tostring(r) .. ".rails.joint_gap" or nil end,
  check = function(r)
    local limit, metal, parted = plan.limit(r), plan.part(r), is_parted(r)
    local function run()
      if not limit then need_limit(r) end
      local f = at_most(r.rail_run_length, bound(limit, "longest run without an expansion joint"))
      return given(r.rails, "expansion_joints") and f or rule.constructed(f)
    end
    local function gap()
      local ends = 2 * r.end_allowance
      return at_least(given(r.rails, "joint_gap") or r.column_gap,
          metal and bound(r.rail_movement + ends, "lengthening and two rail ends") or bound(ends, "two rail ends"))
    end
    local list = {}
    if metal or limit then list[1] = run end
    if parted then list[#list + 1] = gap end
    return every(list)
  end }

-- ---- generations ---------------------------------------------------------------------------------------------------

local function told(list)
  local words = {}
  for i, g in ipairs(list) do words[i] = g.name .. " of generation " .. g.generation end
  return util.list(words)
end

-- Adapters that are there, or bought, against those that all racks need.
local function enough(adapter)
  local n = buying.need(adapter.name, "count")
  if not n or n.count == 0 then return nil end
  local there = buying.covered(n) or math.max(buying.planned(n) or 0, n.hand and n.hand.count or 0)
  return at_least(there, bound(n.count, adapter.name .. " of all racks"))
end

add { id = "R22", severity = "caution", each = "rack",
  says = "the parts of its rails are of one generation, or a stated adapter joins them", may_waive = "house",
  cite = "common practice, no source", caution = "holes do not line up",
  applies = function(r)
    local why = plan.no_generation(r)
    return not why, why
  end,
  check = function(r)
    local list = r.generations
    if #list == 1 then return states(true, "all are of generation " .. list[1].generation) end
    local adapter = given(r.rails, "adapter")
    if not adapter then return states(false, told(list) .. ", and no adapter is stated") end
    for _, g in ipairs(list) do
      if g.generation ~= adapter.from and g.generation ~= adapter.to then
        return states(false, adapter.name .. " joins " .. adapter.from .. " and " .. adapter.to .. ", and there is " ..
            g.name .. " of generation " .. g.generation)
      end
    end
    return every { states(true, told(list) .. ", joined by " .. adapter.name), function() return enough(adapter) end }
  end }
