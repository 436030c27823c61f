-- SPDX-License-Identifier: MIT
-- The beams that rails of lumber are: one from end to end, over all that they lie on; where their splices are declared
-- to be hinges, one for each run between expansion joints and each way in which it is spliced.
local record = import "model.record"
local plan = import "rails.plan"
local over_supports = import "loads.beam"
local beams = {}

local one, stiff = host.literal "1plf", host.literal "1[N*m2]"

-- Each run of its rails as it is spliced, once for each way: { from, length, supports, splices }, from its west end.
function beams.runs(rack)
  local list, supports = {}, plan.supports(rack)
  for _, s in ipairs(rack.rail_splices) do
    local from, to, under = s.run.from, s.run.to, {}
    for _, at in ipairs(supports) do if at >= from and at <= to then under[#under + 1] = at - from end end
    for w, way in ipairs(s.ways) do
      local at = {}
      for i, place in ipairs(way) do at[i] = place - from end
      list[#list + 1] = { from = from, length = to - from, supports = under, splices = at, way = w }
    end
  end
  return list
end

-- The joint of its splices, where they are left to turn.
function beams.hinge(rack)
  for _, any in ipairs(record.all "joint") do
    if record.given(any, "hinge") then
      local joint = import("joints.on").joint(rack, "rail splices")
      return joint and record.given(joint, "hinge") and joint
    end
  end
end

local function whole(rack)
  return { from = 0 * rack.end_allowance, length = rack.row_width + 2 * rack.end_allowance,
      supports = plan.supports(rack), splices = {}, way = 1 }
end

function beams.of(rack)
  local list = beams.hinge(rack) and beams.runs(rack) or { whole(rack) }
  for _, run in ipairs(list) do
    if #run.supports == 1 then
      host.raise { code = "C005", class = "range", who = "engineer", tool = "a paper that covers it",
          text = "rails of rack " .. rack.name .. " lie on one rafter alone: what keeps them from tipping over it " ..
              "is not worked out here" }
    end
  end
  return list
end

-- One of them under a load along all of it; ei: nil where only forces are asked.
function beams.bent(rack, run, load, ei)
  return over_supports(run.length, run.supports, load, ei, beams.hinge(rack) and run.splices or nil)
end

-- One of them under snow that lies whole on some of its spans and half on the others, and under all else; strains are
-- told of these places of it; ei: nil where only forces are asked.
function beams.snowed(rack, run, load, snow, ei, places)
  return calc.partial_snow { edition = record.root.codes.loads, length = run.length,
      ei = ei or stiff, load = load, snow = snow, supports = run.supports,
      hinges = beams.hinge(rack) and run.splices or {}, places = places or {} }
end

-- Whether splices that turn leave a rail free to fold, in words; nil where none does.
function beams.folds(rack)
  for _, run in ipairs(beams.hinge(rack) and beams.runs(rack) or {}) do
    local ok, why = pcall(beams.bent, rack, run, one)
    if not ok and host.class(why) and string.find(why.text, "a mechanism", 1, true) then
      return "two splices that turn lie in one bay, or one beyond the last support: the rail folds"
    elseif not ok then error(why, 0) end
  end
end

-- What bends and shears such a beam at a place under one pound a foot, as a function of the place.
function beams.strains(rack, run)
  local under = {}
  for i, s in ipairs(beams.bent(rack, run, one).supports) do under[i] = { at = s.at, reaction = s.reaction } end
  return function(at)
    local found = calc.beam_place { load = one, at = at, supports = under }
    return host.abs(found.moment), found.shear
  end
end

beams.one = one

return beams
