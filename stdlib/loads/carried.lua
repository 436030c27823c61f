-- SPDX-License-Identifier: MIT
-- What rails press on each support where they run through.
local rails = import "rails.plan"
local over_supports = import "loads.beam"

local one, stiff = host.literal "1plf", host.literal "1[N*m2]"

-- What one run lays on its supports, for each the length that it carries: where splices are hinges, of rails of both
-- ways as many as there are.  snow: the edition by which it lies whole on some spans; then the length whose snow, lying
-- whole, weighs as much as the most that lies on each, of each way the most by itself.
local function laid(r, number, run, length, under, snow)
  local list = {}
  local function put(share, hinges)
    local beam = snow and calc.partial_snow { edition = snow, length = length, supports = under, hinges = hinges,
        places = {}, load = 0 * one, snow = one, ei = stiff } or over_supports(length, under, one, nil, hinges)
    for i = 1, #under do list[i] = (list[i] or 0 * length) + share * (beam.supports[i].reaction / one) end
  end
  if not import("loads.rail_beams").hinge(r) then
    put(1, {})
    return list
  end
  local lines = r.rails.lines
  for w, way in ipairs(r.rail_splices[number].ways) do
    local hinges = {}
    for i, at in ipairs(way) do hinges[i] = at - run.from - r.end_allowance end
    put((w == 1 and (lines + 1) // 2 or lines // 2) / lines, hinges)
  end
  return list
end

-- For each of these places, from the west end of the modules, the length of row that it carries; nil where a rail lies
-- on it alone.  Rails between two expansion joints are beams by themselves, which reach beyond their outer supports at
-- the joint, too. One on a single support is for R18.  snow: the edition by which snow lies whole on some spans and
-- half on the others; then it is the length of row whose snow, lying whole, weighs as much.
return function(r, offsets, snow)
  local list, whole = {}, { from = 0 * r.row_width, to = r.row_width + 2 * r.end_allowance }
  for k, run in ipairs(rails.parted(r) and r.rail_runs or { whole }) do
    local length, under, first = run.to - run.from - 2 * r.end_allowance, {}, nil
    for i, at in ipairs(offsets) do
      local along = at - run.from                                  -- modules begin where the run does, less both ends
      if host.si(along) >= 0 and along <= length then
        first, under[#under + 1] = first or i, along
      end
    end
    local rows = #under > 1 and laid(r, k, run, length, under, snow) or {}
    for i, taken in ipairs(rows) do list[first + i - 1] = taken end
  end
  return list
end
