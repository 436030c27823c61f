-- SPDX-License-Identifier: MIT
-- Lengths for tape and saw: to the nearest mark where it is cut, to the safe side where it is dug.  Each gives the text
-- and the side to which it was rounded, as a cell wants it.
local run = import "model.run"
local words = import "write.words"
local measure = {}

local an_inch = host.literal "1in"

-- Nearest 1/8 in, in feet and inches and in inches; nearest mm.
function measure.cut(v)
  if words.metric() then return string.format("%.0f mm", host.number_in(v, "mm")), "nearest" end
  return host.feet(v, 8), "nearest"
end
function measure.inches(v)
  if words.metric() then return measure.cut(v) end
  return host.feet(v, 8, true), "nearest"
end

-- The same under a heading that says inches.
function measure.under_inches(v) return (host.feet(v, 8, true):gsub(" in$", "")), "nearest" end

-- Wire, as it is pulled and bought: in feet, or in metres.
function measure.wire(v)
  if words.metric() then return words.show(v, "m"), "nearest" end
  return measure.cut(v)
end

-- Where feet and inches have no room: inches, to the sixteenth.
function measure.narrow(v) return host.feet(v, 16, true), "nearest" end

-- A tape's mark from a zero.
measure.mark = measure.inches

-- Up to the next whole inch, or to the next 10 mm: holes deeper, clearances higher.
function measure.up(v)
  local unit, step = "in", 1
  if words.metric() then unit, step = "mm", 10 end
  local n = math.ceil(host.number_in(v, unit) / step - 1e-6) * step
  if run.sixteenths then return host.feet(n * an_inch, 1), "up" end
  return string.format("%d %s", n, unit), "up"
end

-- A difference in level against the datum, with its sign.
function measure.level(v)
  local text = measure.inches(host.abs(v))
  if string.find(text, "^0 ") then return "0", "nearest" end
  return (host.si(v) < 0 and "-" or "+") .. text, "nearest"
end

return measure
