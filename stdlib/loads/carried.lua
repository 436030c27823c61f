-- SPDX-License-Identifier: MIT
-- What rails press on each support where they run through.
local rails = import "rails.plan"
local over_supports = import "loads.beam"

local one, stiff = host.literal "1plf", host.literal "1[N*m2]"

local function under_snow(length, under, edition)
  return calc.partial_snow { edition = edition, length = length, supports = under, load = 0 * one, snow = one,
      ei = stiff }
end

-- For each of these places, from the west end of the modules, the length of row that it carries; nil where a rail lies
-- on it alone.  Rails between two expansion joints are beams by themselves, which reach beyond their outer supports at
-- the joint, too. One on a single support is for R18.  snow: the edition by which snow lies whole on some spans and
-- half on the others; then it is the length of row whose snow, lying whole, weighs as much.
return function(r, offsets, snow)
  local list, whole = {}, { from = 0 * r.row_width, to = r.row_width + 2 * r.end_allowance }
  for _, run in ipairs(rails.parted(r) and r.rail_runs or { whole }) do
    local length, under, first = run.to - run.from - 2 * r.end_allowance, {}, nil
    for i, at in ipairs(offsets) do
      local along = at - run.from                                  -- modules begin where the run does, less both ends
      if host.si(along) >= 0 and along <= length then
        first, under[#under + 1] = first or i, along
      end
    end
    local over = #under > 1 and (snow and under_snow(length, under, snow) or over_supports(length, under, one))
    for i = 1, over and #under or 0 do list[first + i - 1] = over.supports[i].reaction / one end
  end
  return list
end
