-- SPDX-License-Identifier: MIT
-- Values as texts that are read back to the very same bits, as short as they can be.
local record = import "model.record"
local no_data = import "model.no_data"
local exact = {}

local most_places = 99         -- behind the point: more Lua does not write

-- So many significant digits, without zeros that say nothing, and without an exponent unless it takes too many places.
function exact.decimal(n, digits)
  local text = string.format("%." .. digits .. "g", n)
  local power = text:match "e([+-]%d+)$"
  local places = power and math.max(0, digits - 1 - math.tointeger(tonumber(power)))
  if not power or places > most_places then return text end
  text = string.format("%." .. places .. "f", n)
  return text:find "%." and (text:gsub("0+$", ""):gsub("%.$", "")) or text
end

-- The shortest text of n that `same` takes for what it should be, behind it `unit`; nil where none is.  before: what
-- stands in front of it.
local function shortest(n, unit, same, before)
  for digits = 1, 17 do
    local text = exact.decimal(n, digits) .. unit
    if same(text) then return (before or "") .. text end
  end
  for _, ulps in ipairs { -1, 1, -2, 2 } do
    local text = exact.decimal(n + ulps * math.abs(n) * 2 ^ -53, 17) .. unit
    if same(text) then return (before or "") .. text end
  end
end

local function reads_as(value)
  return function(text)
    local v = host.literal(text)
    return host.same_kind(v, value) and host.si(v) == host.si(value)
  end
end

-- Units of an amount that has none of its own, or is no decimal number of it: those of the same kind, the SI unit too.
local function other_units(value)
  local list = {}
  for _, u in ipairs(host.units()) do
    if u.refused == "" then
      local one = host.literal("1" .. u.symbol)
      if one ~= nil and host.same_kind(one, value) then list[#list + 1] = u.symbol end
    end
  end
  return list
end

-- The unit that a quantity is written in; of feet and inches "in".  nil where it has none that a number can have.
function exact.unit(value)
  local _, unit, currency = host.unit(value)
  if unit:find "^deg[CF]$" and not host.is(value, "temperature") then unit = "d" .. unit:sub(-1) end
  if unit == "ft-in" then return "in" end
  if currency ~= "" then return currency .. (unit:match "/.*$" or "") end
  return unit ~= "" and unit or nil
end

-- 12ft6in, as a tape is read.
local function feet_and_inches(value, same)
  local inches = host.number_in(value, "in")
  local feet = math.floor(math.abs(inches) / 12 + 1e-9)
  local rest, sign = math.abs(inches) - 12 * feet, inches < 0 and "-" or ""
  if feet == 0 then return nil end
  if math.abs(rest) < 1e-9 then return same(sign .. feet .. "ft") and sign .. feet .. "ft" or nil end
  return shortest(rest, "in", function(text) return same(sign .. feet .. "ft" .. text) end, sign .. feet .. "ft")
end

local written_digits = 14      -- what needs more was not written in that unit

function exact.quantity(value)
  local same = reads_as(value)
  local _, written = host.unit(value)
  local text = written == "ft-in" and feet_and_inches(value, same)
  local unit = exact.unit(value)
  text = text or unit and shortest(host.number_in(value, unit), unit, same)
  if text and #text:gsub("%D", "") <= written_digits then return text end
  for _, u in ipairs(other_units(value)) do
    local other = shortest(host.number_in(value, u), u, same)
    if other and (not text or #other < #text) then text = other end
  end
  return text or error("no text for " .. host.format(value))
end

-- A bare number; of a share in per cent where that is as exact.
function exact.number(n, share)
  if math.type(n) == "integer" then return tostring(n) end
  local text = shortest(n, "", function(t) return tonumber(t) == n end)
  local percent = share and shortest(n * 100, "%", function(t) return host.literal(t) == n end)
  return percent and #percent <= #text + 2 and percent or text
end

-- A place on the globe, as "36.16 N".
local function position(value, axis)
  local sides, si = axis == "latitude" and "NS" or "EW", host.si(value)
  local side = " " .. (si < 0 and sides:sub(2) or sides:sub(1, 1))
  return shortest(math.deg(math.abs(si)), side, function(text)
    return math.rad(tonumber(text:match "^%S+")) == math.abs(si)
  end) or exact.decimal(math.deg(math.abs(si)), 17) .. side
end

-- f: the field that the value stands in, or nil.
function exact.text(value, f, tolerance)
  local d = record.inside[value]
  if d and (d.list or d.names or d.group) then return "{...}" end
  if d then return d.name or d.path end
  if no_data.of(value) then return 'no_data("' .. no_data.of(value) .. '")' end
  if host.wire(value) and type(value) ~= "string" then return host.format(value) end
  local text
  if host.is_quantity(value) then
    text = f and f.type == "position" and position(value, f.axis) or exact.quantity(value)
  elseif type(value) == "number" then text = exact.number(value, f and f.type == "ratio")
  else return tostring(value) end
  return tolerance and text .. "+-" .. exact.quantity(tolerance) or text
end

return exact
