-- SPDX-License-Identifier: MIT
-- Rules: comparisons that keep their numbers, and the judging of all of them.
--
-- rule { id = "R41", severity = "stop", each = "strings", says = "...", cite = "...", caution = "...", may_waive = "nobody",
--        applies = function(s, job) end, check = function(s, job) return at_most(s.coldest_voltage, limit) end,
--        flips = function(s) return "site.coldest" end, nearest = function(s, job, passes) return "5 in series" end }
--
-- An outcome is "holds", "broken", "unknown" (an input is missing: never a pass) or "not applicable".
local schema = import "model.schema"
local record = import "model.record"
local domains = import "model.domains"
local rule = { list = {}, by = domains.lazy "rules", waivers = {}, limits = {} }

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
  local unsafe, help = host.unsafe(x or "")
  if unsafe then host.raise { code = "D021", text = word .. ": " .. what .. " holds " .. unsafe, help = help } end
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
  return { op = op, value = value, limit = tight.value, whose = tight.whose, cite = tight.cite, others = others, ok = not broken,
           margin = margin, ratio = ratio and finite(ratio) and ratio or nil }
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
  if (type(value) == "number" or host.is_quantity(value)) and not finite(amount(value)) then
    no_number("present", what or "it")
  end
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
  text_or_nothing("states", "its words", words)
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

-- ---- registry ------------------------------------------------------------------------------------------------------

local severities = { stop = true, caution = true, note = true }

function rule.add(def)
  local first = def.scripted and rule.by[def.id] or rawget(rule.by, def.id)
  if first then
    local a, b = def.place or first.place, def.place and first.place
    local alike = not def.scripted == not first.scripted
    host.raise { code = "R003", text = "rule " .. def.id .. (alike and " is declared twice" or " is one of the standard rules"),
                 source = a and a.source, line = a and a.line, col = a and a.col, len = a and a.len,
                 labels = b and a and b.source == a.source and { { line = b.line, col = b.col, len = b.len, text = "first declared here" } } or nil,
                 notes = b and b.source ~= a.source and { "first declared at " .. host.place(b) } or nil, help = "give it another id, such as H2 or J2" }
  end
  assert(severities[def.severity], def.id)
  local letter, number = string.match(def.id, "^(%a+)(%d+)$")
  def.letter, def.number, def.standard = letter or def.id, tonumber(number) or 0, not def.scripted
  rule.list[#rule.list + 1] = def
  rule.by[def.id] = def
end

-- Limits of the place and of the house: name -> { { value, whose, cite, role, place, ... } ... }
function rule.add_limit(name, l)
  local list = rule.limits[name] or {}
  rule.limits[name] = list
  for _, other in ipairs(list) do
    if other.role == l.role and not host.same(other.value, l.value) then
      local unit = type(l.value) == "number" and "%" or nil
      local one = other.whose == l.whose
      host.raise { code = "R004", text = (one and l.whose .. " gives " .. name .. " twice: " or "two " .. l.role .. " files disagree on " .. name .. ": ") ..
                     host.format(l.value, unit) .. " here, " .. host.format(other.value, unit) .. (one and " before" or " in " .. other.whose), source = l.place.source, line = l.place.line, col = l.place.col, len = l.place.len,
                   notes = { "the other stands at " .. host.place(other.place) }, help = one and "keep one of the two" or "drop one of the two " .. l.role .. " files, or make them agree" }
    end
  end
  list[#list + 1] = l
end

-- All limits of that name, tightest picked by the comparison; missing if nobody gave one.
function rule.limit(name)
  local list = rule.limits[name]
  if not list then
    local known = schema.kinds.limits
    if not known.by[name] then
      local names = {}
      for i, f in ipairs(schema.all_fields(known)) do names[i] = f.name end
      local near = type(name) == "string" and host.nearest(name, names)
      host.raise { code = "R008", text = "there is no limit called '" .. tostring(name) .. "'", help = near and "did you mean '" .. near .. "'?" or "there are " .. table.concat(names, ", ") }
    end
    host.raise { code = "D010", class = "missing", text = "no limit '" .. name .. "' is given by place or house", path = "limits." .. name,
                 who = "the authority or the house", tool = "its handout" }
  end
  local kept = {}
  for i, l in ipairs(list) do
    l.bound, l.kept = true, l.kept or hold_limit(l)
    kept[i] = l.kept
  end
  return table.unpack(kept)
end
function rule.has_limit(name) return rule.limits[name] ~= nil end

-- ---- judging -------------------------------------------------------------------------------------------------------

local function subjects(def)
  if not def.each then return { record.root } end
  local k = rawget(schema.kinds, def.each)
  if not k then return {} end                       -- nobody used its domain yet, so that there is none
  if not k.parent then return record.all(def.each) end
  local list = {}
  for _, parent in ipairs(record.all(k.parent)) do
    for child in record.each(parent[k.name]) do list[#list + 1] = child end
  end
  return list
end

local function invoke(def, f, ...)
  if def.scripted then return host.call(f, ...) end
  return f(...)
end

-- An error of a rule's own function. `return at_most(...)` leaves no trace of its line, so the place is the function's.
local function blame(def, err)
  local place = def.check_place
  if place and type(err) == "table" and (err.source or 0) == 0 and err.class == nil then
    local word = string.match(err.text or "", "^[%a_]+") or ""
    local s = word ~= "" and host.word(place.source, place.line, word)       -- at_most, if it stands on the same line
    if not s or s.len ~= #word then s = place end
    err.source, err.line, err.col, err.len = s.source, s.line, s.col, s.len
  end
  error(err, 0)
end

-- One rule on one subject: outcome and finding, or the reason that it is unknown.
local function try(def, subject)
  if def.applies then
    local ok, yes = pcall(invoke, def, def.applies, subject, record.root)
    if not ok then
      if not host.class(yes) then blame(def, yes) end
      return "unknown", nil, yes
    end
    if not yes then return "not applicable" end
  end
  local ok, f = pcall(invoke, def, def.check, subject, record.root)
  if not ok then
    if not host.class(f) then blame(def, f) end
    return "unknown", nil, f
  end
  local got = f
  if def.scripted then
    f = held[f]
    if f and f.bound then f = nil end
  end
  if type(f) ~= "table" or f.ok == nil then
    host.raise { code = "R005", text = "rule " .. def.id .. ": check gave " .. host.describe(got) ..
                   " instead of a comparison",
                 source = def.place and def.place.source, line = def.place and def.place.line, col = def.place and def.place.col, len = def.place and def.place.len,
                 help = "return at_most(...), at_least(...), between(...), equal_within(...), present(...) or every{...}" }
  end
  return f.ok and "holds" or "broken", f
end
rule.try = try

-- The outcome under values that nobody declared, which a calculation may refuse: then it is unknown.
local function try_with(def, subject)
  local ok, outcome, finding = pcall(try, def, subject)
  if ok then return outcome, finding end
  if type(outcome) ~= "table" or outcome.code ~= "C004" then error(outcome, 0) end
  return "unknown"
end

-- True if the named rules are not broken for anything under the values put in.
function rule.passes(values, ids)
  return record.what_if(values, function()
    for _, id in ipairs(ids) do
      local def = rule.by[id]
      for _, s in ipairs(subjects(def)) do
        local outcome = try_with(def, s)
        if outcome == "broken" or outcome == "unknown" then return false end
      end
    end
    return true
  end)
end

-- The value of one input at which the outcome changes, nearest to what was declared; nil if none was found.
function rule.flip(def, subject)
  if not def.flips then return nil end
  local path = def.flips
  if type(path) == "function" then path = path(subject, record.root) end
  if not path then return nil end
  local found, start, at_path = pcall(record.input, path)
  if not found and not host.class(start) then error(start, 0) end
  if not found or not at_path or not (math.type(start) or host.is_quantity(start)) then return nil end
  path = at_path
  local x0, point = host.si(start), host.is(start, "temperature")
  local first = try(def, subject)
  local function at(x)
    return record.what_if({ [path] = host.like(start, x) }, function()
      local ok, outcome = pcall(try, def, subject)
      return ok and outcome or "error"
    end)
  end
  local function other(o) return (first == "holds" and o == "broken") or (first == "broken" and o == "holds") end
  local unit = point and 1 or x0 ~= 0 and math.abs(x0) / 20 or nil
  if not unit then return nil end
  local from, to
  for k = 1, 60 do
    for _, side in ipairs { 1, -1 } do
      local x = x0 + side * k * unit
      if (point or x * x0 > 0) and other(at(x)) then from, to = x - side * unit, x break end
    end
    if to then break end
  end
  if not to then return nil end
  for _ = 1, 40 do
    local mid = (from + to) / 2
    if other(at(mid)) then to = mid else from = mid end
    if math.abs(to - from) <= 1e-9 * math.max(1, math.abs(to)) then break end
  end
  return { path = path, value = host.like(start, to) }
end

local function waiver_for(def, subject)
  for _, w in ipairs(rule.waivers) do
    if w.rule == def.id and (not w.subject or w.subject == subject) then return w end
  end
end

-- R1 before R10 before H1: the standard rules first, then by letter and number.
local function by_id(a, b)
  if a.standard ~= b.standard then return a.standard end
  if a.letter ~= b.letter then return a.letter < b.letter end
  if a.number ~= b.number then return a.number < b.number end
  return a.id < b.id
end

-- Inputs that were written with a tolerance: { path, value, tolerance }.
local tolerances
function rule.tolerances()
  if tolerances then return tolerances end
  local list = {}
  tolerances = list
  record.walk(function(path, value)
    local o = host.is_quantity(value) and host.origin(value)
    local tolerance = record.tolerances[path] or o and o.tolerance
    if tolerance then list[#list + 1] = { path = path, value = value, tolerance = tolerance } end
  end)
  return list
end

local most_corners = 5      -- 2^5 runs; beyond that each tolerance is tried alone

-- Judges the corners of the tolerances. Returns those at which a rule that holds is broken:
-- { at = { { path, value } ... }, broken = { outcome ... } }, and whether all corners were tried.
function rule.corners(outcomes)
  local list = rule.tolerances()
  local found, all = {}, #list <= most_corners
  if #list == 0 then return found, true end
  local holds = {}
  for _, o in ipairs(outcomes) do if o.outcome == "holds" then holds[#holds + 1] = o end end
  local function try_at(signs)
    local values, at = {}, {}
    for i, t in ipairs(list) do
      if signs[i] ~= 0 then
        local v = host.like(t.value, host.si(t.value) + signs[i] * host.si(t.tolerance))
        values[t.path], at[#at + 1] = v, { path = t.path, value = v }
      end
    end
    local broken = record.what_if(values, function()
      local b = {}
      for _, o in ipairs(holds) do
        local outcome, finding = try_with(o.rule, o.proxy)
        if outcome == "broken" or outcome == "unknown" then
          b[#b + 1] = { rule = o.rule, subject = o.subject, proxy = o.proxy, outcome = outcome, finding = finding }
        end
      end
      return b
    end)
    if #broken > 0 then found[#found + 1] = { at = at, broken = broken } end
  end
  if all then
    for n = 0, 2 ^ #list - 1 do
      local signs = {}
      for i = 1, #list do signs[i] = (math.tointeger(n) >> (i - 1)) & 1 == 1 and 1 or -1 end
      try_at(signs)
    end
  else
    for i = 1, #list do
      for _, sign in ipairs { -1, 1 } do
        local signs = {}
        for j = 1, #list do signs[j] = j == i and sign or 0 end
        try_at(signs)
      end
    end
  end
  return found, all
end

-- A rule whose module has no subject here: what is told of every rule, and the rest when somebody asks.
local idle_meta = { __index = function(idle, key) return rule.by[idle.id][key] end }

local function idle(id, severity, each)
  local letter, number = string.match(id, "^(%a+)(%d+)$")
  return setmetatable({ id = id, severity = severity, each = each, letter = letter or id, number = tonumber(number) or 0,
      standard = true, scripted = false, place = false, flips_place = false }, idle_meta)
end

-- All rules of the library and of the script; modules are loaded where something that they judge is declared.
function rule.all()
  for _, w in ipairs(rule.waivers) do local _ = rule.by[w.rule] end
  for _, m in ipairs(domains.rules()) do
    local wanted = m.always
    for _, kind in ipairs(m.kinds) do wanted = wanted or #record.all(kind) > 0 end
    if wanted then domains.load(m.module) end
  end
  local list = table.move(rule.list, 1, #rule.list, 1, {})
  for _, m in ipairs(domains.rules()) do
    for i = 1, #m, 3 do
      if not rawget(rule.by, m[i]) then list[#list + 1] = idle(m[i], m[i + 1], m[i + 2]) end
    end
  end
  return list
end

-- Judges these rules, or those that are loaded. Returns the outcomes in order of the rules, then of the subjects.
function rule.judge(rules)
  local out = {}
  rules = rules or table.move(rule.list, 1, #rule.list, 1, {})
  table.sort(rules, by_id)
  for _, w in ipairs(rule.waivers) do
    local def = rule.by[w.rule]
    if not def or def.may_waive == "nobody" or (def.may_waive or "nobody") ~= w.as then
      local s = w.place
      host.raise { code = "R006", text = not def and "waive: there is no rule " .. w.rule or "rule " .. w.rule .. " may be waived by " ..
                     ((def.may_waive or "nobody") == "nobody" and "nobody" or "the " .. def.may_waive .. ", not by the " .. w.as),
                   source = s.source, line = s.line, col = s.col, len = s.len, help = def and def.may_waive ~= "nobody" and def.may_waive and 'as = "' .. def.may_waive .. '"' or nil }
    end
  end
  for _, def in ipairs(rules) do
    if def.flips_place then
      local s = def.flips_place
      local ok, err, at = pcall(record.input, def.flips)
      if not ok and not host.class(err) then
        err.source, err.line, err.col, err.len = s.source, s.line, s.col, s.len
        error(err, 0)
      end
      if ok and (not at or err ~= nil and not math.type(err) and not host.is_quantity(err)) then
        host.raise { code = "D019", text = "rule " .. def.id .. ": flips names no amount that is declared: " ..
                       def.flips,
                     source = s.source, line = s.line, col = s.col, len = s.len,
                         help = 'as in flips = "rack.east.lower_edge"' }
      end
    end
  end
  for _, w in ipairs(rule.waivers) do
    local names, found = {}, not w.subject
    for _, s in ipairs(subjects(rule.by[w.rule])) do
      names[#names + 1] = rule.by[w.rule].each and tostring(s) or "job"
      found = found or names[#names] == w.subject
    end
    if not found and record.dropped[w.subject] == nil then
      local s, near = w.place, host.nearest(w.subject, names)
      host.raise { code = "R006", text = "waive: rule " .. w.rule .. " judges nothing called " .. w.subject, source = s.source, line = s.line, col = s.col, len = s.len,
                   help = near and "did you mean '" .. near .. "'?" or #names > 0 and "it judges " .. table.concat(names, ", ") or nil }
    end
  end
  for _, def in ipairs(rules) do
    local list = subjects(def)
    if #list == 0 then out[#out + 1] = { rule = def, outcome = "not applicable", reason = "no " .. def.each } end
    for _, s in ipairs(list) do
      local outcome, finding, why = try(def, s)
      local subject = def.each and tostring(s) or "job"
      local o = { rule = def, subject = subject, proxy = s, outcome = outcome, finding = finding, why = why }
      local w = waiver_for(def, subject)
      if w and (outcome == "broken" or outcome == "unknown") then o.waiver = w end
      out[#out + 1] = o
    end
  end
  return out
end

-- For a broken outcome: where it flips and the nearest change that passes.
function rule.remedy(o)
  if o.remedied then return end
  o.remedied = true
  local def = o.rule
  o.flip = rule.flip(def, o.proxy)
  if def.nearest then
    local ok, text = pcall(def.nearest, o.proxy, record.root, rule.passes)
    if ok then o.nearest = text elseif not host.class(text) then error(text, 0) end
  end
end

return rule
