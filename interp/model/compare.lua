-- SPDX-License-Identifier: MIT
-- Comparisons, which keep their numbers: value and limit, whose limit, what is left to it.
--
-- A finding says what it is worth: by = "limit" (a value against a limit), "statement" (the script says so) or
-- "construction" (the program compares what it worked out with itself).  A limit, and a comparison in every{}, may be a
-- function that gives it: what raises a missing fact is kept in unknowns, and the others are judged all the same.
local run = import "model.run"
local record = import "model.record"
local compare = {}

-- What scripts hold of limits and comparisons is empty: it can be read and handed on, and neither made nor changed.
local held = setmetatable({}, { __mode = "k" })       -- what they hold -> the limit or the comparison

local function hold(name)
  local meta = { __name = name, __metatable = false }
  function meta.__index(p, key)
    local v = held[p][key]
    if type(v) ~= "table" then return v end
  end
  function meta.__newindex()
    host.raise { code = "D008", text = host.an(name) .. " cannot be changed",
        help = "make another one" }
  end
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
  local unsafe, help = host.unsafe(x or "")
  if unsafe then host.raise { code = "D021", text = word .. ": " .. what .. " holds " .. unsafe, help = help } end
end

-- A limit that knows whose it is: bound(250V, "charge controller shed", "maker's data").
function compare.bound(value, whose, cite) return { value = value, whose = whose, cite = cite, bound = true } end

local function as_bound(x)
  local b = held[x] or type(x) == "table" and not getmetatable(x) and x
  return b and b.bound and b or { value = x }
end

-- What a script's function gives: nil where it leaves something out, but a word for it must stand there.
local function returned(word, ...)
  if select("#", ...) == 0 then
    host.raise { code = "R001", text = word .. ": a function gives nothing: is 'return' missing?",
        help = "write return, or return nil where it leaves something out" }
  end
  return (...)
end

-- What a function gives, called as its script's; nothing, and the reason, where a fact is missing.
local function called(f, scripted)
  local ok, x = pcall(scripted and function() return returned(scripted, host.call(f)) end or f)
  if ok then return x end
  if not host.class(x) then error(x, 0) end
  return nil, x
end

-- The reasons why something is unknown, each once.
local function add_reason(list, why)
  list = list or {}
  local text = host.message(why)
  for _, w in ipairs(list) do if w.path == why.path and host.message(w) == text then return list end end
  list[#list + 1] = why
  return list
end
compare.add_reason = add_reason

local function amount(x) return type(x) == "number" and x or host.si(x) end

local function same_kind(a, b) return type(a) == "number" and type(b) == "number" or host.same_kind(a, b) end

local function less(a, b)         -- a < b beyond the tolerance
  if type(a) == "number" then return a < b and not host.near(a, b) end
  return a < b
end

local function finite(x) return x - x == 0 end

-- What is no number, or has no end, is never a pass: the outcome is unknown.
local function no_number(word, what)
  host.raise { code = "R002", class = "range",
      text = word .. ": " .. what .. " is no number: was something divided by 0?" }
end

local wanted = {
  at_most = { "a limit", "at_most(rack.top_edge, 11ft)" }, at_least = { "a limit", "at_least(rack.lower_edge, 18in)" },
  between = { "two limits", "between(rack.tilt, 20deg, 40deg)" },
  equal_within = { "what it should be, and a tolerance", "equal_within(rack.tilt, 35deg, 1deg)" },
}

local function is_weight(x) return host.is(x, "mass") or host.is(x, "force") end

-- Two values of unlike kinds.
local function refuse_kinds(name, value, limit)
  local bare = type(value) == "number" or type(limit) == "number"
  host.raise { code = "R002",
      text = name .. ": cannot compare " .. host.describe(value) .. " with " .. host.describe(limit),
      help = is_weight(value) and is_weight(limit) and "lb is a mass, lbf is a force: write lbf where weight is meant"
          or bare and "a bare number has no unit: write one, as in 3ft or 3mm" or nil }
end

-- The limits of which functions are called: those that are known, and why others are not.
local function worked_out(scripted, ...)
  local list, unknowns, any = {}, nil, false
  for i = 1, select("#", ...) do
    local x = select(i, ...)
    if type(x) == "function" then
      local found, why = called(x, scripted)
      any = true
      if why then unknowns = add_reason(unknowns, why) elseif found ~= nil then list[#list + 1] = found end
    else list[#list + 1] = x end
  end
  return list, unknowns, any
end

-- The value against the tightest of the limits: with whatever is to be said where they are no plain amounts.
local function weighed(scripted, op, name, value, ...)
  local bounds, unknowns, any = { ... }, nil, false
  for i = 1, select("#", ...) do any = any or type(bounds[i]) == "function" end
  if any then
    bounds, unknowns = worked_out(scripted, ...)
    if value ~= nil and #bounds == 0 and unknowns then
      return { op = op, by = "limit", value = value, ok = true, unknowns = unknowns }
    end
  end
  if value == nil or bounds[1] == nil then
    host.raise { code = "R001", text = name .. " needs a value and " .. wanted[name][1],
        help = "as in " .. wanted[name][2] }
  end
  local tight, others = nil, {}
  for i = 1, any and #bounds or select("#", ...) do
    local b = as_bound(bounds[i])
    if not same_kind(value, b.value) then refuse_kinds(name, value, b.value) end
    local v, l = amount(value), amount(b.value)
    if not finite(v) then no_number(name, "the value") end
    if not finite(l) then no_number(name, "the limit") end
    if not finite(v - l) then no_number(name, "the margin") end
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
  local ratio = base ~= 0 and host.si(margin) / base or nil
  return { op = op, by = "limit", value = value, limit = tight.value, whose = tight.whose, cite = tight.cite,
      others = others[1] and others, ok = not broken, margin = margin, ratio = ratio and finite(ratio) and ratio or nil,
      unknowns = unknowns }
end

local quick = host.tightest(held)

local function tightest(scripted, op, name, value, ...)
  return quick(op == "at_most", value, ...) or weighed(scripted, op, name, value, ...)
end

function compare.at_most(value, ...)
  return quick(true, value, ...) or weighed(false, "at_most", "at_most", value, ...)
end
function compare.at_least(value, ...)
  return quick(false, value, ...) or weighed(false, "at_least", "at_least", value, ...)
end

function compare.between(value, low, high)
  local a, b = tightest(false, "at_least", "between", value, low), tightest(false, "at_most", "between", value, high)
  local worst = not a.ok and a or not b.ok and b or (a.ratio or 0) < (b.ratio or 0) and a or b
  worst.low, worst.high = as_bound(low).value, as_bound(high).value
  return worst
end

function compare.equal_within(value, want, tolerance)
  if value ~= nil and want ~= nil and not same_kind(value, want) then
    host.raise { code = "R002", text = "equal_within: cannot compare " .. host.describe(value) ..
                   " with " .. host.describe(want) }
  end
  local off = value ~= nil and want ~= nil and host.abs(value - want) or nil
  local f = tightest(false, "at_most", "equal_within", off, tolerance)
  f.want, f.got = want, value
  return f
end

function compare.present(value, what)
  if (type(value) == "number" or host.is_quantity(value)) and not finite(amount(value)) then
    no_number("present", what or "it")
  end
  local ok = value ~= nil and value ~= false and not (type(value) == "string" and not string.find(value, "%S"))
  if ok and record.inside[value] and record.inside[value].list then ok = #value > 0 end
  local words = (what or "it") .. (ok and " is given" or " is not given")
  return { op = "present", by = "statement", ok = ok, words = words }
end

-- states(ok, words): a plain yes or no, with the words for both.
function compare.states(ok, words)
  if type(words) ~= "string" then
    host.raise { code = "R001", text = "states needs the words for it, got " .. host.describe(words),
        help = 'as in states(rack.north == "true", "north is " .. rack.north)' }
  end
  return { op = "states", by = "statement", ok = ok and true or false, words = words }
end

-- constructed(finding): it holds because the program made it so, as where an order is compared with its own need.
function compare.constructed(finding)
  finding.by = "construction"
  return finding
end

local worst_of = host.worst(add_reason)
compare.worst_of = worst_of

-- every(findings): the worst of them.
function compare.every(findings)
  if run.noting and type(findings) == "table" then findings = run.noting.comparisons(findings) end
  local worst = type(findings) == "table" and worst_of(findings)
  if not worst then
    host.raise { code = "R001", text = "every needs a list of comparisons",
        help = "as in every { at_most(rack.tilt, 40deg), at_least(rack.tilt, 20deg) }" }
  end
  return worst
end

-- The same words for scripts.
compare.words = {}
local function yes_or_no(ok, words)
  text_or_nothing("states", "its words", words)
  if ok and ok ~= true then
    host.raise { code = "R001", text = "states needs true or false, got " .. host.describe(ok),
        help = 'as in states(rack.north == "true", "north is " .. rack.north)' }
  end
  return compare.states(ok, words)
end

local function is_there(value, what)
  text_or_nothing("present", "what it is", what)
  return compare.present(value, what)
end

function compare.words.bound(value, whose, cite)
  if type(value) ~= "number" and not host.is_quantity(value) then
    host.raise { code = "R001", text = "bound needs an amount, got " .. host.describe(value),
        help = 'as in bound(250V, "charge controller shed", "data sheet")' }
  end
  local b = compare.bound(value, whose, cite)
  text_or_nothing("bound", "whose it is", whose)
  text_or_nothing("bound", "where it stands", cite)
  return hold_limit(b)
end

local of_scripts = { states = yes_or_no, present = is_there }
for _, word in ipairs { "between", "equal_within", "present", "states" } do
  local f = of_scripts[word] or compare[word]
  compare.words[word] = function(...)
    local finding = f(...)
    return hold_comparison(finding)
  end
end
for _, word in ipairs { "at_most", "at_least" } do
  compare.words[word] = function(value, ...)
    local finding = tightest(word, word, word, value, ...)
    return hold_comparison(finding)
  end
end

local function refuse_item(i, x)
  host.raise { code = "R001", text = "every needs comparisons; item " .. i .. " is " .. host.describe(x),
      help = "as in every { at_most(rack.tilt, 40deg), at_least(rack.tilt, 20deg) }" }
end

function compare.words.every(list)
  local findings, last = {}, 0
  if type(list) == "table" and not record.inside[list] then
    for k in next, list do if math.type(k) == "integer" and k > last then last = k end end
  end
  for i = 1, last do
    local x = list[i]
    local f = held[x]
    if type(x) == "function" then
      findings[i] = function()
        local got = returned("every", host.call(x))
        if got == nil then return nil end
        if not held[got] or held[got].bound then refuse_item(i, got) end
        return held[got]
      end
    elseif not f or f.bound then refuse_item(i, x)
    else findings[i] = f end
  end
  local worst = compare.every(findings)
  return hold_comparison(worst)
end

-- What a comparison or a limit holds that a script was given; nil of anything else.
function compare.held(x) return held[x] end
compare.hold_limit = hold_limit

return compare
