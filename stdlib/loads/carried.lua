-- SPDX-License-Identifier: MIT
-- What rails press on each support where they run through.
local rails = import "rails.plan"
local over_supports = import "loads.beam"

local one = host.literal "1plf"

-- For each of these places, from the west end of the modules, the length of row that it carries; nil where a rail lies
-- on it alone.  Rails between two expansion joints are beams by themselves, which reach beyond their outer supports at
-- the joint, too. One on a single support is for R18.
return function(r, offsets)
  local list, whole = {}, { from = 0 * r.row_width, to = r.row_width + 2 * r.end_allowance }
  for _, run in ipairs(rails.parted(r) and r.rail_runs or { whole }) do
    local length, under, first = run.to - run.from - 2 * r.end_allowance, {}, nil
    for i, at in ipairs(offsets) do
      local along = at - run.from                                  -- modules begin where the run does, less both ends
      if host.si(along) >= 0 and along <= length then
        first, under[#under + 1] = first or i, along
      end
    end
    local over = #under > 1 and over_supports(length, under, one)
    for i = 1, over and #under or 0 do list[first + i - 1] = over.supports[i].reaction / one end
  end
  return list
end
