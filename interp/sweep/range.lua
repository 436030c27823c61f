-- SPDX-License-Identifier: MIT
-- Ranges: amounts from one end to the other by steps. What stands at step i is worked out of the ends as they are
-- written, in decimals, so that no error adds up and 15deg to 60deg by 0.1deg meets 30.3deg as a script writes it.
local exact = import "sweep.exact"
local range = {}

local most_digits = 12         -- of a decimal that somebody wrote; what needs more was worked out

-- A number as mantissa and decimals: 0.05 -> 5, 2.  nil where it is no short decimal.
local function decimal(n)
  local text = string.format("%." .. most_digits .. "g", n)
  local whole, part = text:match "^(-?%d+)%.?(%d*)$"
  if not whole then return nil end
  return math.tointeger(tonumber(whole .. part)), #part
end

-- i steps from a start, both decimals of a unit, as a text.
local function decimals(start, by)
  local a, a_places = decimal(start)
  local b, b_places = decimal(by)
  if not a or not b then return nil end
  local places = math.max(a_places, b_places)
  local from, step = a * 10 ^ (places - a_places), b * 10 ^ (places - b_places)
  if math.abs(from) >= 2 ^ 52 or math.abs(step) >= 2 ^ 52 then return nil end
  return function(i)
    local n = from + i * step
    if math.abs(n) >= 2 ^ 53 then return nil end
    local text = string.format("%.0f", math.abs(n))
    if places > 0 then
      text = ("0"):rep(places + 1 - #text) .. text
      text = (text:sub(1, -places - 1) .. "." .. text:sub(-places)):gsub("0+$", ""):gsub("%.$", "")
    end
    return (n < 0 and "-" or "") .. text
  end
end

-- The number of a value in the unit that its texts are written in; a step of temperature counts in the same degrees.
local function number_in(value, unit, is_step)
  if not host.is_quantity(value) then return unit == "%" and value * 100 or value end
  local zero = host.is_quantity(value) and is_step and ({ degC = "dC", degF = "dF" })[unit]
  return host.number_in(value, zero or unit)
end

-- How many steps there are from one end to the other, both counted, and whether the last stands at the end.
function range.count(from, to, by)
  local n = (host.si(to) - host.si(from)) / host.si(by)
  local whole = math.floor(n + 0.5)
  if math.abs(n - whole) <= 1e-9 * math.max(1, math.abs(n)) then return whole + 1, true end
  return math.floor(n) + 1, false
end

-- function(i) -> the value i steps from one end, as a literal would give it.
function range.values(from, by, share)
  local unit = host.is_quantity(from) and exact.unit(host.is(from, "temperature") and from or by) or share and "%" or ""
  local text = decimals(number_in(from, unit), number_in(by, unit, true))
  local function worked_out(i)
    local si = host.si(from) + i * host.si(by)
    if host.is_quantity(from) then return host.like(from, si) end
    return math.type(from) == "integer" and math.type(by) == "integer" and from + i * by or si
  end
  return function(i)
    local exactly = worked_out(i)
    local written = text and text(i)
    local v = written and host.literal(written .. unit)
    if v ~= nil and host.is_quantity(v) == host.is_quantity(exactly) and host.near(v, exactly) then return v end
    return exactly
  end
end

-- function(a, b) -> a value between these shares of the way from one end to the other, with as few digits as it can have.
function range.between(from, to, share)
  local unit = host.is_quantity(from) and (exact.unit(from) or exact.unit(to)) or share and "%" or ""
  local low, span = host.si(from), host.si(to) - host.si(from)
  local function value(text)
    if unit == "" then return tonumber(text) end
    return host.literal(text .. unit)
  end
  return function(a, b, at)
    local si = low + at * span
    local n = host.is_quantity(from) and host.number_in(host.like(from, si), unit) or unit == "%" and si * 100 or si
    for digits = 4, 17 do
      local v = value(exact.decimal(n, digits))
      local share_of = (host.si(v) - low) / span
      if share_of >= a and share_of < b then return v end
    end
    return host.is_quantity(from) and host.like(from, si) or si
  end
end

return range
