-- SPDX-License-Identifier: MIT
-- Lengths for tape and saw: to the nearest mark where it is cut, to the safe side where it is dug.  Each gives the text
-- and the side to which it was rounded, as a cell wants it.  On a sheet for a crew a length of a foot and more stands
-- in inches and in feet and inches: some tapes are printed in one, some in the other.
local run = import "model.run"
local words = import "write.words"
local measure = {}

local an_inch, a_foot, a_tape = host.literal "1in", host.literal "1ft", host.literal "20ft"
local eighth, a_millimetre = an_inch / 8, host.literal "1mm"

local function both(v)
  local inches = host.feet(v, 8, true)
  return host.abs(v) < a_foot - eighth / 2 and inches or inches .. " (" .. host.feet(v, 8) .. ")"
end

-- Nearest 1/8 in, in feet and inches and in inches; nearest mm.
function measure.cut(v)
  if words.metric() then return string.format("%.0f mm", host.number_in(v, "mm")), "nearest" end
  return run.crew and both(v) or host.feet(v, 8), "nearest"
end
function measure.inches(v)
  if words.metric() or run.crew then return measure.cut(v) end
  return host.feet(v, 8, true), "nearest"
end

-- The same under a heading that says inches.
function measure.under_inches(v) return (host.feet(v, 8, true):gsub(" in$", "")), "nearest" end

-- Whether a length has such a column of its own beside the one in feet.
function measure.two_columns() return not words.metric() and not run.crew end

-- Wire, as it is pulled and bought: in feet, or in metres.
function measure.wire(v)
  if words.metric() then return words.show(v, "m"), "nearest" end
  return host.feet(v, 8), "nearest"
end

-- Where feet and inches have no room: inches, to the sixteenth.
function measure.narrow(v) return host.feet(v, 16, true), "nearest" end

-- A tape's mark from a zero.
measure.mark = measure.inches

-- Places along a line, in their order, as marks that are pulled from one zero: { at, bay } of each, in whole marks of
-- the tape.  What is set out along a line comes from here alone, so that the bays of a sheet add up to its whole.
function measure.running(places)
  return calc.running { places = places, mark = words.metric() and a_millimetre or eighth }.marks
end

-- Up to the next whole inch, or to the next 10 mm: holes deeper, clearances higher.
function measure.up(v)
  local unit, step = "in", 1
  if words.metric() then unit, step = "mm", 10 end
  local n = math.ceil(host.number_in(v, unit) / step - 1e-6) * step
  if run.crew and unit == "in" then return both(n * an_inch), "up" end
  if run.sixteenths then return host.feet(n * an_inch, 1), "up" end
  return string.format("%d %s", n, unit), "up"
end

-- A difference in level against the datum, with its sign.  A datum far below, as a benchmark of 100 ft, is no tape's:
-- heights above it are read off in feet and inches.
function measure.level(v)
  local far = host.abs(v) >= a_tape and not words.metric()
  local text = far and host.feet(host.abs(v), 8) or measure.inches(host.abs(v))
  if string.find(text, "^0 ") then return "0", "nearest" end
  return (host.si(v) < 0 and "-" or "+") .. text, "nearest"
end

return measure
