-- SPDX-License-Identifier: MIT
-- Rules about rails: their reach, their splices, what warmth does to them, their generation.
local rule = import "model.rule"
local record = import "model.record"
local plan = import "rails.plan"
local buying = import "buying.results"
local add, at_most, at_least, states, every, bound = rule.add, rule.at_most, rule.at_least, rule.states, rule.every,
    rule.bound
local given = record.given

local function path_of(name) return function(r) return tostring(r) .. "." .. name end end

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

-- Whether expansion joints part its rails.
local function is_parted(r) return plan.parted(r) and r.expansion_joint_count > 0 end

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
  tells = function(r) return import("rails.spliced").told_of_neighbours(r) end,
  check = function(r) return import("rails.spliced").check(r, is_parted, is_spliced) end }

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

add { id = "R22", severity = "caution", each = "rack",
  says = "the parts of its rails are of one generation, or a stated adapter joins them", may_waive = "house",
  cite = "common practice, no source", caution = "holes do not line up",
  applies = function(r)
    local why = plan.no_generation(r)
    return not why, why
  end,
  check = function(r) return import("rails.generations")(r) end }
