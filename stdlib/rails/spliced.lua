-- SPDX-License-Identifier: MIT
-- Whether the rails of a rack are spliced where they may be, and lie on supports: R18.
local rule = import "model.rule"
local plan = import "rails.plan"
local states, every, bound = rule.states, rule.every, rule.bound
local spliced = {}

local function shown(v) return import("write.words").show(v) end

local function whose_zone(r)
  local part = plan.part(r)
  return part and "rail " .. part.name or "the engineer's zone"
end

local function need_zone(r)
  local part = plan.part(r)
  local path = part and tostring(part) .. ".splice_least" or tostring(r) .. ".rails.splice_zone"
  host.raise { code = "D010", class = "missing", path = path,
      text = path .. " is not given: where " .. (part and "it" or "a rail") .. " may be spliced",
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
function spliced.told_of_neighbours(r)
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

-- is_parted, is_spliced: of a rack, as the rule has them.
function spliced.check(r, is_parted, is_spliced)
  local zone, known = plan.zone(r)
  local supports = plan.supports(r)
  local list = { is_parted(r) and on_supports(r, supports) or nil }
  if list[1] and not list[1].ok or not is_spliced(r) then return list[1] end
  local splices = r.rail_splices
  if not known then list[#list + 1] = function() need_zone(r) end end
  for _, s in ipairs(splices) do
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
end

return spliced
