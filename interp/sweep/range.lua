-- SPDX-License-Identifier: MIT
-- Ranges: amounts from one end to the other by steps. What stands at step i is worked out of the ends as they are
-- written, in decimals, so that no error adds up and 15deg to 60deg by 0.1deg meets 30.3deg as a script writes it.
local exact = import "sweep.exact"
local axis = import "sweep.axis"
local range = {}

local most_digits = 12         -- of a decimal that somebody wrote; what needs more was worked out
local most = 2 ^ 53            -- steps: whole numbers are exact up to there

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
local function count_of(from, to, by)
  local n = (host.si(to) - host.si(from)) / host.si(by)
  local whole = math.floor(n + 0.5)
  if math.abs(n - whole) <= 1e-9 * math.max(1, math.abs(n)) then return whole + 1, true end
  return math.floor(n) + 1, false
end

-- function(i) -> the value i steps from one end, as a literal would give it.
local function values_of(from, by, share)
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

-- function(a, b, at) -> the value at this share of the way from one end to the other, in as few digits as keep it
-- between the shares a and b.
local function between_of(from, to, share)
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

-- ---- axes --------------------------------------------------------------------------------------------------------

local range_example = 'vary { "rack.east.tilt", from = 15deg, to = 60deg, step = 1deg }'

local function end_of(at, targets, v)
  local list = {}
  for k, t in ipairs(targets) do
    local choice = t.take(v.raw, at, v.keys, v.tolerance)
    if not choice.si then
      at.refuse(v.keys, "D003", "a range goes from one amount to another, and " .. t.name .. " is none: " ..
          choice.text, "list its values instead")
    end
    if choice.text:find("+-", 1, true) then
      at.refuse(v.keys, "D003", "an end of a range has no tolerance, got " .. choice.text, "write the amount alone")
    end
    list[k] = choice
  end
  return list
end

local function step_of(at, targets, from, to, by)
  local a, b, field = from[1].value, to[1].value, targets[1].field
  local raw = by.raw
  local wanted = host.is(a, "temperature") and "temperature difference" or nil
  local fits = host.is_quantity(a) == host.is_quantity(raw) and (type(a) == "number" and type(raw) == "number" or
      host.is_quantity(a) and (wanted and host.is(raw, wanted) or not wanted and host.same_kind(a, raw)))
  if not fits then
    local kind = host.is_quantity(a) and host.unit(wanted and host.literal "5dC" or a)
    at.refuse(by.keys, "D003", "the step of " .. targets[1].name .. " needs " .. (kind and "an amount (" .. kind ..
        ")" or "a number") .. (wanted and " like 5dC" or "") .. ", got " .. host.describe(raw), not wanted and
        "as in " .. range_example or "a difference is written in K, dC or dF")
  end
  local si = host.si(raw)
  if not (si ~= 0 and si == si and math.abs(si) < math.huge) then
    at.refuse(by.keys, "D004", "a step of " .. host.format(raw) .. " leads nowhere", "as in " .. range_example)
  end
  if (host.si(b) - host.si(a)) * si < 0 then
    at.refuse(by.keys, "D004", "a step of " .. host.format(raw) .. " does not lead from " .. from[1].text .. " to " ..
        to[1].text, si < 0 and "write it without its minus" or "write it with a minus, or the lower end first")
  end
  if by.tolerance or host.is_quantity(raw) and (host.origin(raw) or {}).tolerance then
    at.refuse(by.keys, "D003", "a step has no tolerance", "write the amount alone")
  end
  if field and field.type == "count" and not math.tointeger(raw) then
    at.refuse(by.keys, "D003", "a count goes by whole numbers, got a step of " .. host.format(raw), "as in step = 1")
  end
  return raw
end

local function by_steps(at, targets, name, from, to, by)
  local field = targets[1].field
  local share = field and field.type == "ratio"
  local count, ends = count_of(from[1].value, to[1].value, by.value)
  if count > most then
    at.refuse(by.keys, "W001", "a range of " .. string.format("%.3g", count) .. " steps is more than can be counted",
        "take a longer step")
  end
  count = math.tointeger(count)
  local value = values_of(from[1].value, by.value, share)
  local function take(i)
    local list = {}
    for k, t in ipairs(targets) do list[k] = t.take(value(i), at, by.keys) end
    return list
  end
  local declared, first = nil, targets[1]         -- the place in the range of the declared value
  if first.si then
    local k = math.floor((first.si - from[1].si) / host.si(by.value) + 0.5)
    if k >= 0 and k < count and axis.as_declared(targets, take(k)) then declared = k end
  end
  local notes = {}
  if declared then notes[1] = take(declared)[1].text .. " is what is declared, and counts once" end
  if not ends then
    notes[#notes + 1] = "the last is " .. take(count - 1)[1].text .. ": " .. to[1].text ..
        " is no whole number of steps away"
  end
  local size = declared and count or count + 1
  return axis.of(at, targets, name, size, function(i)
    return take(declared and i > declared and i or i - 1)
  end, { kind = "range", notes = notes,
      spec = from[1].text .. " to " .. to[1].text .. " by " .. take(0)[1].text .. " " .. string.format("%.17g",
          host.si(by.value)) .. " " .. size })
end

local function between_ends(at, targets, name, from, to)
  local a, b = from[1].value, to[1].value
  if host.si(a) == host.si(b) then
    at.refuse(at.range and at.range.to or {}, "D004", "a range from " .. from[1].text .. " to " .. to[1].text ..
        " is one value", "list it, or write another end")
  end
  local field = targets[1].field
  local value = between_of(a, b, field and field.type == "ratio")
  local spec = from[1].text .. " to " .. to[1].text
  local open = axis.of(at, targets, name, 0, function() error("not drawn yet") end, { kind = "between", spec = spec,
      from = from[1].si, to = to[1].si })
  -- The axis with n steps beside the declared one: step i stands in the i-th of n equal parts, at(i) of the way.
  function open.drawn(n, place)
    return axis.of(at, targets, name, n + 1, function(i)
      local v, list = value((i - 1) / n, i / n, place(i)), {}
      for k, t in ipairs(targets) do list[k] = t.take(v, at, at.range and at.range.from or {}) end
      return list
    end, { kind = "between", spec = spec, from = open.from, to = open.to })
  end
  return open
end

-- r: { from, to, by } of { raw, keys, tolerance }; without `by` an axis to draw from, and a count goes one by one.
function range.axis(at, targets, name, r)
  local from, to = end_of(at, targets, r.from), end_of(at, targets, r.to)
  at.range = { from = r.from.keys, to = r.to.keys }
  local by = r.by
  local field = targets[1].field
  if not by and field and field.type == "count" then
    by = { raw = to[1].value < from[1].value and -1 or 1, keys = r.to.keys }
  end
  if not by then return between_ends(at, targets, name, from, to) end
  by.value = step_of(at, targets, from, to, by)
  return by_steps(at, targets, name, from, to, by)
end

return range
