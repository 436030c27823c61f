-- SPDX-License-Identifier: MIT
-- How inputs that move, and what they flip, read: values, how far, which rule, where a paper ends.
local run = import "model.run"
local path_of = import "model.path"
local record = import "model.record"
local margins = import "model.margins"
local words = import "write.words"
local flips = {}

flips.SIDES = { "down", "up" }

-- ---- values ---------------------------------------------------------------------------------------------------------

local function unit_of(input)
  if input.field.type == "ratio" then return "%" end
  return nil
end

-- 36.16 N; what is nearer to the line than an arc second stands on it.
local function position(value, axis)
  if math.abs(host.si(value)) < math.rad(1 / 3600) then value = host.quantity(0.0, "angle") end
  return words.position(value, axis)
end

-- What was declared, in its own unit, a length without feet and fractions as those that were found; a record by its
-- name.
local function declared(input, value)
  if value == nil then value = input.value end
  if input.field.axis then return words.position(value, input.field.axis) end
  if host.is_quantity(value) and host.is(value, "length") then return words.decimal(value, unit_of(input)) end
  return words.as_written(value, unit_of(input))
end

-- A value that was found, to five digits.
local function found(input, value)
  if input.field.axis then return position(value, input.field.axis) end
  if math.type(value) == "integer" or not (type(value) == "number" or host.is_quantity(value)) then
    return declared(input, value)
  end
  return words.decimal(value, unit_of(input) or words.unit(value), 5)
end

local spoken = { temperature = "temperature difference", angle = "angle", length = "length" }

-- By how much: percents of what was declared, or where those say nothing degrees or lengths.
local function by_how_much(input, value, percent)
  if math.type(value) == "integer" then return tostring(math.abs(value - input.value)) end
  local dim = margins.without_zero(input)
  local si = math.abs(margins.si_of(value) - margins.si_of(input.value))
  if dim then
    local q = host.quantity(si, spoken[dim])
    if dim == "length" then q = host.like(input.value, si) end
    return words.decimal(q, dim == "temperature" and "K" or dim == "angle" and "deg" or words.unit(q), 3)
  end
  if percent == math.huge then return nil end
  return host.format(percent / 100, "%", 3)
end

local function place_of(input) return input.place and host.place(input.place) or nil end

-- "told (a neighbour)", "default", "--set ...".
local function how_known(input)
  if not input.how then return nil end
  return input.how:gsub("_", " ") .. (input.by and " (" .. input.by .. ")" or "")
end

local function name_of(input)
  return input.path .. (input.alike and " and " .. #input.alike .. " alike" or "")
end

-- "90 ft, told (the owner), job.sline:56:26"
local function described(input)
  local parts = { declared(input), how_known(input), place_of(input) }
  local list = {}
  for i = 1, 3 do if parts[i] then list[#list + 1] = parts[i] end end
  return table.concat(list, ", ")
end

-- ---- flips ----------------------------------------------------------------------------------------------------------

local verbs = { broken = "is broken", unknown = "cannot be judged", holds = "holds" }
local verbs_of_many = { broken = "are broken", unknown = "cannot be judged", holds = "hold" }

local function subject_of(f)
  local text = f.rule.each and f.proxy and words.subject { rule = f.rule, proxy = f.proxy } or ""
  return text ~= "" and ", " .. text or ""
end

-- "beyond 113.39 ft", "at 5"
local function beyond(f)
  return (math.type(f.value) == "integer" and "at " or f.side == "up" and "beyond " or "below ") ..
      found(f.input, f.value)
end

-- "by 26 %, beyond 113.39 ft"
local function where(f)
  local much = by_how_much(f.input, f.value, f.percent)
  return (f.at_once and "no margin, " or much and "by " .. much .. ", " or "") .. beyond(f)
end

-- "up by 26 %, beyond 113.39 ft", "no margin up, beyond 30 mm"
local function sided(f)
  return f.at_once and "no margin " .. f.side .. ", " .. beyond(f) or f.side .. " " .. where(f)
end

-- "; the tilt is steeper than the figure goes": of what cannot be judged, why.
local function why_not(f)
  local whys = f.becomes == "unknown" and f.outcome.whys
  return whys and whys[1] and "; " .. host.message(whys[1]) or ""
end

-- "R48 is broken, run array to shed"; severity: " note", where that is to be told.
local function becoming(f, severity)
  return f.rule.id .. (severity or "") .. " " .. verbs[f.becomes] .. subject_of(f) .. why_not(f)
end

local function in_words(f) return where(f) .. ": " .. becoming(f) end

-- The papers that cover a subject of what no rule judges, named by the path of an error.
local function naming(path)
  local parts, list = path_of.parse(path), {}
  for _, paper in ipairs(parts and parts[1] == "covers" and run.papers or {}) do
    for word in record.each(record.given(paper, "covers") or {}) do
      if word == parts[2] then list[#list + 1] = paper end
    end
  end
  return list
end

-- The papers that were not made for a job with an outcome: nothing is too weak then, but nobody answers for it.
local function ended(o)
  local list, seen = {}, {}
  for _, why in ipairs(o.outcome == "unknown" and o.whys or {}) do
    local given = why.path and why.path:match "^(.+)%.made_for$"
    for _, paper in ipairs(given and { (record.locate(given)) } or why.path and naming(why.path) or {}) do
      if not seen[paper] then
        seen[paper] = true
        list[#list + 1] = paper
      end
    end
  end
  return list
end

local function by_paper(f) return f.becomes == "unknown" and #ended(f.outcome) > 0 end

-- The first of a side; what was stated for just what is declared, and where a paper ends, is told apart.
local function first(m, side)
  for _, f in ipairs(m[side] and m[side].flips or {}) do if not f.stated and not by_paper(f) then return f end end
end

-- What is said where nothing flips: how far it was moved.
local function not_flipped(m, side)
  local s = m[side]
  if s.refused then
    return "nothing as far as it is declared: at " .. found(m.input, s.refused.value) .. " it is refused, " ..
        host.message(s.refused.why)
  end
  if host.same(s.edge, m.input.value) then return "it stands at the end of its range" end
  return "nothing as far as " .. found(m.input, s.edge)
end

local function nearest(m)
  local best
  for _, side in ipairs(flips.SIDES) do
    local f = first(m, side)
    if f and (not best or f.percent < best.percent) then best = f end
  end
  return best
end

-- ---- for the page --------------------------------------------------------------------------------------------------

flips.unit_of = unit_of
flips.declared = declared
flips.found = found
flips.by_how_much = by_how_much
flips.place_of = place_of
flips.name_of = name_of
flips.described = described
flips.beyond = beyond
flips.sided = sided
flips.becoming = becoming
flips.in_words = in_words
flips.ended = ended
flips.by_paper = by_paper
flips.first = first
flips.not_flipped = not_flipped
flips.nearest = nearest
flips.verbs = verbs
flips.verbs_of_many = verbs_of_many

return flips
