-- SPDX-License-Identifier: MIT
-- A straight axis: where a value stands between two places of a picture, and its ticks, at 1, 2 and 5 of the unit that
-- the job prints in, or at the marks of a tape.
local run = import "model.run"
local canvas = import "write.canvas"
local scale = {}

-- What number 0 and number 1 of a unit are in SI.  Money is kept in its own unit.
local function of_unit(unit)
  if unit == "" then return 0, 1 end
  if unit == "%" then return 0, 0.01 end
  local per = unit:match "^%u%u%u/(.+)$"
  local zero, one = host.literal("0" .. (per or unit)), host.literal("1" .. (per or unit))
  if not host.is_quantity(one) then return 0, 1 end
  if per then return 0, 1 / host.si(one) end
  return host.si(zero), host.si(one) - host.si(zero)
end

local tape = { 1 / 16, 1 / 8, 1 / 4, 1 / 2, 1, 2, 3, 6, 12 }         -- inches; then feet by 1, 2 and 5

-- The next of 1, 2 and 5 times a power of ten: its digit and its power.
local function decimal(least)
  local power = math.floor(math.log(least, 10) - 1e-9)
  for _, digit in ipairs { 1, 2, 5 } do
    if digit * 10.0 ^ power >= least * (1 - 1e-9) then return digit, power end
  end
  return 1, power + 1
end

-- Number i of the ticks, by the digit and the power rather than by adding up, so that no error grows.
local function step_of(least, on_tape)
  if on_tape then
    for _, s in ipairs(tape) do
      if s >= least * (1 - 1e-9) then return s, function(i) return i * s end, 4 end
    end
    least = least / 12
  end
  local digit, power = decimal(least)
  local by = on_tape and 12 or 1
  local function at(i)
    if power < 0 then return by * (i * digit) / 10.0 ^ -power end
    return by * i * digit * 10.0 ^ power
  end
  return at(1), at, math.max(0, -power)
end

-- Labels that tell two ticks apart, or nil.
local function told_apart(ticks)
  for i = 2, #ticks do if ticks[i].text == ticks[i - 1].text then return nil end end
  return ticks
end

-- o: low, high: SI; unit: that the job prints in ("" for none); show(si) -> text; from, to: places on the picture;
-- size: of the letters; across: the labels stand beside each other.
--   -> { at(si) -> place, ticks = { { si, text, at } ... }, widest = what the widest label takes }
function scale.new(o)
  local size, length = o.size or 11, math.abs(o.to - o.from)
  local on_tape = run.sixteenths and (o.unit == "in" or o.unit == "ft" or o.unit == "ft-in")
  local zero, one = of_unit(on_tape and "in" or o.unit == "ft-in" and "ft" or o.unit or "")
  local low, high = (o.low - zero) / one, (o.high - zero) / one
  local middle = (low + high) / 2
  local s = { low = o.low, high = o.high, ticks = {}, widest = 0 }
  local function text_of(si, n, digits)
    if o.show and not digits then return o.show(si) end
    local text = digits and string.format("%." .. digits .. "f", n) or string.format("%.10g", n)
    local unit = on_tape and "in" or o.unit or ""
    return unit == "" and text or text .. " " .. unit
  end

  function s.at(si) return o.from + (si - s.low) / (s.high - s.low) * (o.to - o.from) end

  local function finish()
    for _, t in ipairs(s.ticks) do
      t.at = s.at(t.si)
      s.widest = math.max(s.widest, canvas.width(t.text, size))
    end
    return s
  end

  if high - low <= 1e-9 * math.max(math.abs(low), math.abs(high)) then          -- all one value: in the middle
    local half = math.max(math.abs(middle) * 0.05, 1)
    s.low, s.high = zero + one * (middle - half), zero + one * (middle + half)
    s.ticks[1] = { si = o.low, text = text_of(o.low, low) }
    return finish()
  end

  local function try(parts)
    local step, at, digits = step_of((high - low) / parts, on_tape)
    local first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    local function ticks(exact)
      local list = {}
      for i = first, last do
        local n = at(i)
        list[#list + 1] = { si = zero + one * n, text = text_of(zero + one * n, n, exact) }
      end
      return list
    end
    return o.show and told_apart(ticks(nil)) or ticks(digits)
  end

  for parts = o.across and 8 or math.max(2, math.min(8, length // 40)), 1, -1 do
    s.ticks = try(parts)
    local widest = 0
    for _, t in ipairs(s.ticks) do widest = math.max(widest, canvas.width(t.text, size)) end
    if not o.across or widest + size <= length / (#s.ticks - 1) then break end
  end
  s.low, s.high = s.ticks[1].si, s.ticks[#s.ticks].si
  return finish()
end

return scale
