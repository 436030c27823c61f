-- SPDX-License-Identifier: MIT
-- Lengths for tape and saw: to the nearest mark where it is cut, to the safe side where it is dug.  Each gives the text
-- and the side to which it was rounded, as a cell wants it.
local words = import "write.words"
local measure = {}

-- Nearest 1/8 in, in feet and inches and in inches; nearest mm.
function measure.cut(v)
  if words.metric() then return string.format("%.0f mm", host.number_in(v, "mm")), "nearest" end
  return host.feet(v, 8), "nearest"
end
function measure.inches(v)
  if words.metric() then return measure.cut(v) end
  return host.feet(v, 8, true), "nearest"
end

-- A tape's mark from a zero.
measure.mark = measure.inches

-- Up to the next whole inch, or to the next 10 mm: holes deeper, clearances higher.
function measure.up(v)
  local unit, step = "in", 1
  if words.metric() then unit, step = "mm", 10 end
  return string.format("%d %s", math.ceil(host.number_in(v, unit) / step - 1e-6) * step, unit), "up"
end

-- A difference in level against the datum, with its sign.
function measure.level(v)
  local text = measure.inches(host.abs(v))
  if string.find(text, "^0 ") then return "0", "nearest" end
  return (host.si(v) < 0 and "-" or "+") .. text, "nearest"
end

return measure
