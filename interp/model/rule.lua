-- SPDX-License-Identifier: MIT
-- Rules: comparisons that keep their numbers, and the judging of all of them.
--
-- rule { id = "R41", severity = "stop", each = "strings", says = "...", cite = "...", caution = "...", may_waive = "nobody",
--        applies = function(s, job) end, check = function(s, job) return at_most(s.coldest_voltage, limit) end,
--        flips = function(s) return "site.coldest" end, nearest = function(s, job, passes) return "5 in series" end }
--
-- An outcome is "holds", "broken", "unknown" (an input is missing: never a pass) or "not applicable".
local run = import "model.run"
local schema = import "model.schema"
local record = import "model.record"
local rule = {}

-- ---- comparisons ---------------------------------------------------------------------------------------------------

-- What scripts hold of limits and comparisons is empty: it can be read and handed on, and neither made nor changed.
local held = setmetatable({}, { __mode = "k" })       -- what they hold -> the limit or the comparison

local function hold(name)
  local meta = { __name = name, __metatable = false }
  function meta.__index(p, key)
    local v = held[p][key]
    if type(v) ~= "table" then return v end
  end
  function meta.__newindex() host.raise { code = "D008", text = "a " .. name .. " cannot be changed",
      help = "make another one" } end
  return function(data)
    local p = setmetatable({}, meta)
    held[p] = data
    return p
  end
end
local hold_limit, hold_comparison = hold "limit", hold "comparison"

local function text_or_nothing(word, what, x)
  if x ~= nil and type(x) ~= "string" then
    host.raise { code = "R001", text = word .. ": " .. what .. " is a text, got " .. host.describe(x),
        help = "write it in quotes" }
  end
end

-- A limit that knows whose it is: bound(250V, "charge controller shed", "maker's data").
function rule.bound(value, whose, cite)
  if type(value) ~= "number" and not host.is_quantity(value) then
    host.raise { code = "R001", text = "bound needs an amount, got " .. host.describe(value),
        help = 'as in bound(250V, "charge controller shed", "data sheet")' }
  end
  text_or_nothing("bound", "whose it is", whose)
  text_or_nothing("bound", "where it stands", cite)
  return hold_limit { value = value, whose = whose, cite = cite, bound = true }
end

local function as_bound(x)
  local b = held[x]
  return b and b.bound and b or { value = x }
end

local function amount(x) return type(x) == "number" and x or host.si(x) end

local function same_kind(a, b) return type(a) == "number" and type(b) == "number" or host.same_kind(a, b) end

local function less(a, b)         -- a < b beyond the tolerance
  if type(a) == "number" then return a < b and not host.near(a, b) end
  return a < b
end

local wanted = {
  at_most = { "a limit", "at_most(rack.top_edge, 11ft)" }, at_least = { "a limit", "at_least(rack.lower_edge, 18in)" },
  between = { "two limits", "between(rack.tilt, 20deg, 40deg)" },
  equal_within = { "what it should be, and a tolerance", "equal_within(rack.tilt, 35deg, 1deg)" },
}

local function compare(op, name, value, ...)
  if value == nil or select("#", ...) == 0 or (...) == nil then
    host.raise { code = "R001", text = name .. " needs a value and " .. wanted[name][1], help = "as in " .. wanted[name][2] }
  end
  local tight, others, bounds = nil, {}, { ... }
  for i = 1, select("#", ...) do
    local b = as_bound(bounds[i])
    if not same_kind(value, b.value) then
      local a, l = host.is(value, "mass") or host.is(value, "force"), host.is(b.value, "mass") or host.is(b.value, "force")
      host.raise { code = "R002", text = name .. ": cannot compare " .. host.describe(value) .. " with " .. host.describe(b.value),
                   help = a and l and "lb is a mass, lbf is a force: write lbf where weight is meant" or
                     (type(value) == "number" or type(b.value) == "number") and "a bare number has no unit: write one, as in 3ft or 3mm" or nil }
    end
    local v, l = amount(value), amount(b.value)
    if v ~= v or l ~= l or v == l and v - l ~= 0 then      -- never a pass: the outcome is unknown
      host.raise { code = "R002", class = "range", text = name .. ": " .. (v ~= v and "the value" or "the limit") ..
                     " is no number: was something divided by 0?" }
    end
    if not tight then tight = b
    elseif (op == "at_most" and less(b.value, tight.value)) or (op == "at_least" and less(tight.value, b.value)) then
      others[#others + 1], tight = tight, b
    else others[#others + 1] = b end
  end
  local over = op == "at_most"
  local broken
  if over then broken = less(tight.value, value) else broken = less(value, tight.value) end
  local margin
  if over then margin = tight.value - value else margin = value - tight.value end
  local base = host.size(tight.value)
  return { op = op, value = value, limit = tight.value, whose = tight.whose, cite = tight.cite, others = others, ok = not broken,
           margin = margin, ratio = base ~= 0 and host.si(margin) / base or nil }
end

function rule.at_most(value, ...) return compare("at_most", "at_most", value, ...) end
function rule.at_least(value, ...) return compare("at_least", "at_least", value, ...) end

function rule.between(value, low, high)
  local a, b = compare("at_least", "between", value, low), compare("at_most", "between", value, high)
  local worst = not a.ok and a or not b.ok and b or (a.ratio or 0) < (b.ratio or 0) and a or b
  worst.low, worst.high = as_bound(low).value, as_bound(high).value
  return worst
end

function rule.equal_within(value, want, tolerance)
  if value ~= nil and want ~= nil and not same_kind(value, want) then
    host.raise { code = "R002", text = "equal_within: cannot compare " .. host.describe(value) ..
                   " with " .. host.describe(want) }
  end
  local off = value ~= nil and want ~= nil and host.abs(value - want) or nil
  local f = compare("at_most", "equal_within", off, tolerance)
  f.want, f.got = want, value
  return f
end

function rule.present(value, what)
  text_or_nothing("present", "what it is", what)
  local ok = value ~= nil and value ~= false and not (type(value) == "string" and not string.find(value, "%S"))
  if ok and record.inside[value] and record.inside[value].list then ok = #value > 0 end
  return { op = "present", ok = ok, words = (what or "it") .. (ok and " is given" or " is not given") }
end

-- states(ok, words): a plain yes or no, with the words for both.
function rule.states(ok, words)
  if type(words) ~= "string" then
    host.raise { code = "R001", text = "states needs the words for it, got " .. host.describe(words),
        help = 'as in states(rack.north == "true", "north is " .. rack.north)' }
  end
  return { op = "states", ok = ok and true or false, words = words }
end

-- every(findings): the worst of them.
function rule.every(findings)
  if type(findings) ~= "table" or #findings == 0 then host.raise { code = "R001", text = "every needs a list of comparisons", help = "as in every { at_most(rack.tilt, 40deg), at_least(rack.tilt, 20deg) }" } end
  local worst
  for _, f in ipairs(findings) do
    if not worst or (worst.ok and not f.ok) or (worst.ok == f.ok and f.ratio and (not worst.ratio or f.ratio < worst.ratio)) then worst = f end
  end
  return worst
end

-- The same words for scripts.
rule.words = {}
for _, word in ipairs { "at_most", "at_least", "between", "equal_within", "present", "states" } do
  local f = rule[word]
  rule.words[word] = function(...)
    local finding = f(...)
    return hold_comparison(finding)
  end
end

function rule.words.every(list)
  local findings, last = {}, 0
  if type(list) == "table" and not record.inside[list] then
    for k in next, list do if math.type(k) == "integer" and k > last then last = k end end
  end
  for i = 1, last do
    local f = held[list[i]]
    if not f or f.bound then
      host.raise { code = "R001", text = "every needs comparisons; item " .. i .. " is " .. host.describe(list[i]),
          help = "as in every { at_most(rack.tilt, 40deg), at_least(rack.tilt, 20deg) }" }
    end
    findings[i] = f
  end
  local worst = rule.every(findings)
  return hold_comparison(worst)
end

-- What a comparison or a limit holds that a script was given; nil of anything else.
function rule.held(x) return held[x] end

-- ---- registry ------------------------------------------------------------------------------------------------------

local severities = { stop = true, caution = true, note = true }

local standard = { by = {} }         -- the library's own, in their order and by id; those of scripts are the run's

-- Two rules of one id: the second, or the script's.
local function refuse_twice(def, first)
  local a, b = def.place or first.place, def.place and first.place
  local alike = not def.scripted == not first.scripted
  local label = b and { line = b.line, col = b.col, len = b.len, text = "first declared here" }
  host.raise { code = "R003",
      text = "rule " .. def.id .. (alike and " is declared twice" or " is one of the standard rules"),
      source = a and a.source, line = a and a.line, col = a and a.col, len = a and a.len,
      labels = b and a and b.source == a.source and { label } or nil,
      notes = b and b.source ~= a.source and { "first declared at " .. host.place(b) } or nil,
      help = "give it another id, such as H2 or J2" }
end

function rule.add(def)
  local list = def.scripted and run.rules or standard
  if list.by[def.id] then refuse_twice(def, list.by[def.id]) end
  assert(severities[def.severity], def.id)
  local letter, number = string.match(def.id, "^(%a+)(%d+)$")
  def.letter, def.number, def.standard = letter or def.id, tonumber(number) or 0, not def.scripted
  list[#list + 1], list.by[def.id] = def, def
end

-- R1 before R10 before H1: the standard rules first, then by letter and number.
local function by_id(a, b)
  if a.standard ~= b.standard then return a.standard end
  if a.letter ~= b.letter then return a.letter < b.letter end
  if a.number ~= b.number then return a.number < b.number end
  return a.id < b.id
end

-- All rules in their order: those of the library that are loaded, and the script's.
function rule.all()
  local list = table.move(standard, 1, #standard, 1, {})
  for _, def in ipairs(run.rules) do
    if standard.by[def.id] then refuse_twice(standard.by[def.id], def) end
    list[#list + 1] = def
  end
  table.sort(list, by_id)
  return list
end

function rule.find(id) return standard.by[id] or run.rules.by[id] end

-- ---- limits --------------------------------------------------------------------------------------------------------

-- Limits of the place and of the house: name -> { { value, whose, cite, role, place, ... } ... }
function rule.add_limit(name, l)
  local list = run.limits[name] or {}
  run.limits[name] = list
  for _, other in ipairs(list) do
    if other.role == l.role and not host.same(other.value, l.value) then
      local unit = type(l.value) == "number" and "%" or nil
      local one = other.whose == l.whose
      host.raise { code = "R004",
          text = (one and l.whose .. " gives " .. name .. " twice: "
              or "two " .. l.role .. " files disagree on " .. name .. ": ") ..
              host.format(l.value, unit) .. " here, " .. host.format(other.value, unit) .. (one and " before" or " in " .. other.whose),
          source = l.place.source, line = l.place.line, col = l.place.col, len = l.place.len,
          notes = { "the other stands at " .. host.place(other.place) },
          help = one and "keep one of the two" or "drop one of the two " .. l.role .. " files, or make them agree" }
    end
  end
  list[#list + 1] = l
end

-- All limits of that name, tightest picked by the comparison; missing if nobody gave one.
function rule.limit(name)
  local list = run.limits[name]
  if not list then
    local known = schema.kinds.limits
    if not known.by[name] then
      local names = {}
      for i, f in ipairs(known.fields) do names[i] = f.name end
      local near = type(name) == "string" and host.nearest(name, names)
      host.raise { code = "R008", text = "there is no limit called '" .. tostring(name) .. "'",
          help = near and "did you mean '" .. near .. "'?" or "there are " .. table.concat(names, ", ") }
    end
    host.raise { code = "D010", class = "missing", text = "no limit '" .. name .. "' is given by place or house",
        path = "limits." .. name, who = "the authority or the house", tool = "its handout" }
  end
  local kept = {}
  for i, l in ipairs(list) do
    l.bound, l.kept = true, l.kept or hold_limit(l)
    kept[i] = l.kept
  end
  return table.unpack(kept)
end
function rule.has_limit(name) return run.limits[name] ~= nil end

return rule
