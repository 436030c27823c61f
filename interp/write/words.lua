-- SPDX-License-Identifier: MIT
-- How values, findings and places read: shared by the report, the sheets, explain and the machine formats.
local schema = import "model.schema"
local record = import "model.record"
local run = import "model.run"
local graph = import "model.graph"
local util = import "model.util"
local like = import "model.like"
local words = {}

local metric = { ["in"] = "mm", ft = "m" }

-- Read past the noting: how values print is no input of theirs.
function words.metric() return record.inside[record.root].v.units == "SI" end

-- The unit that a value prints in: as written, unless the job is metric and it was not; long lengths in feet or metres.
function words.unit(v, show)
  local dim, hint, currency = host.unit(v)
  if currency ~= "" then return nil end          -- money; nil: no quantity
  local si = words.metric()
  if show then return si and metric[show] or show end
  if hint ~= "" and not (si and host.customary(hint)) then return hint ~= "ft-in" and hint or nil end
  if dim == "length" then
    if si then return host.size(v) >= 10 and "m" or "mm" end
    return host.size(v) >= 30 and "ft" or "in"
  end
  if dim == "area" or dim == "section area" then return host.size(v) < 0.05 and (si and "mm2" or "in2") or si and
      "m2" or "ft2" end
  return nil
end

-- A quantity, or a size of wire.
local function amount(v, unit, digits)
  if not host.is_quantity(v) then return host.format(v) end
  local si = host.si(v)
  if si ~= si then return "none" end
  unit = unit or words.unit(v)
  if unit == "in" and run.sixteenths then unit = "ft" end            -- "in" would say inches alone
  if unit then return host.format(v, unit, digits) end
  if words.metric() then
    local dim, hint, currency = host.unit(v)
    if host.customary(hint) and currency == "" then v = host.quantity(si, dim) end
  end
  return host.format(v, nil, digits)
end

-- A value to compute with: of a length in feet and inches the decimal, 57.51 in.
function words.decimal(v, unit, digits)
  if not host.is_quantity(v) or not host.is(v, "length") then return words.show(v, unit, digits) end
  return host.format(v, unit or words.unit(v) or "in", digits, true)
end

-- Whether a value prints to a sixteenth of an inch, and is none.
local function between_marks(v)
  if not run.sixteenths or not host.is_quantity(v) or not host.is(v, "length") then return false end
  local _, hint = host.unit(v)
  if hint ~= "" and not host.customary(hint) and hint ~= "ft-in" then return false end
  local n = host.number_in(v, "in") * 16
  return math.abs(n - math.floor(n + 0.5)) > 1e-6
end

-- With decimals behind what was rounded to a sixteenth: 4 ft 9-1/2 in (57.51 in).
function words.precise(v, unit, digits)
  local text = words.show(v, unit, digits)
  return between_marks(v) and text .. " (" .. words.decimal(v, unit, digits) .. ")" or text
end

-- An input: a length that was written between the marks of a tape stays as it was written, 5.12 ft.
function words.as_written(v, unit)
  return between_marks(v) and words.decimal(v, unit) or words.show(v, unit)
end

-- Of readings that stand side by side all or none print so: 5.75 ft beside 5.12 ft.
local function alike(values)
  local between = false
  for _, v in ipairs(values) do between = between or between_marks(v) end
  return between and words.decimal or words.as_written
end

-- Two values that are compared: where they print alike and are not, as many decimals behind each as tell them apart.
function words.apart(a, b, unit, digits)
  local first, second = words.show(a, unit, digits), words.show(b, unit, digits)
  if first ~= second or not host.is_quantity(a) or host.same(a, b) then return first, second end
  local more, one, other = digits, nil, nil
  repeat
    one, other = words.decimal(a, unit, more), words.decimal(b, unit, more)
    more = (more or 4) + 2
  until one ~= other or more > 15
  return first .. " (" .. one .. ")", second .. " (" .. other .. ")"
end

-- A value as text. how: unit, digits.
function words.show(v, unit, digits)
  local kind = type(v)
  if kind == "number" then return host.format(v, unit, digits) end
  if kind == "string" then return v end
  if kind == "boolean" then return v and "yes" or "no" end
  if kind == "userdata" then return amount(v, unit, digits) end
  local data = record.inside[v]
  if data and data.v and data.def and not data.group then return words.title(v) end
  if data and data.list then
    local parts, say = {}, alike(data.list)
    for i, x in ipairs(data.list) do parts[i] = say(x) end
    return #parts > 0 and table.concat(parts, ", ") or "none"
  end
  if data and data.names then
    local parts, values = {}, {}
    for i, k in ipairs(data.names) do values[i] = data.map[k] end
    local say = alike(values)
    for i, k in ipairs(data.names) do parts[i] = k .. " " .. say(data.map[k]) end
    return table.concat(parts, ", ")
  end
  if data then
    local parts = {}
    for _, f in ipairs(data.def and data.def.fields or {}) do
      if data.v[f.name] ~= nil then parts[#parts + 1] = f.name .. " " ..
          words.as_written(data.v[f.name], f.type == "ratio" and "%" or nil) end
    end
    return table.concat(parts, ", ")
  end
  return host.format(v)
end

-- 36.16 N: of an axis of the schema.
function words.position(v, axis)
  local south = host.si(v) < 0
  local side = axis == "latitude" and (south and "S" or "N") or south and "W" or "E"
  return (words.show(host.abs(v)):gsub(" deg", "")) .. " " .. side
end

-- charge_controller -> charge controller; patterns are dear, and every table names its records.
local spoken = setmetatable({}, { __index = function(t, name)
  t[name] = string.gsub(name, "_", " ")
  return t[name]
end })

function words.spoken(name) return spoken[name] end

-- rack "east" -> rack east; strings without a name -> strings
function words.title(proxy)
  local rec = record.inside[proxy]
  if rec.root or not rec.def then return "the job" end
  local kind = spoken[rec.def.name]
  return rec.name and kind .. " " .. rec.name or kind
end

-- rack.east; job
function words.path(proxy)
  local rec = record.inside[proxy]
  return rec.root and "job" or rec.path
end

-- What a rule is judged on, in words; "" for the job.
function words.subject(o)
  if not o.proxy or not o.rule.each then return "" end
  if not record.inside[o.proxy].parent then return words.title(o.proxy) end
  local titles = {}
  for i, proxy in ipairs(record.line_of(o.proxy)) do titles[i] = words.title(proxy) end
  return table.concat(titles, " ")
end

-- {electrical} is the edition of the job; {cover}, {cover ampacity}: where these keys of citations.csv stand in it.
-- What is no such word stays: a house rule's own braces.
local function edition_of(family)
  local codes = record.given(record.root, "codes")
  return codes and record.given(codes, family)
end

local function without(family) return "the " .. family .. " code (edition not given)," end

-- The sections of some keys, the edition named once.  Where the job names no edition, or one in which they do not
-- stand: those of the latest in which they do.
local function sections(keys)
  local text, named
  for key in keys:gmatch("%S+") do
    local family = host.cited(key)
    if not family then return nil end
    local edition = edition_of(family)
    local at, cite = edition, edition and host.cited(key, edition)
    local known = not cite and host.editions(family) or {}
    for i = #known, 1, -1 do
      if not cite then at, cite = known[i], host.cited(key, known[i]) end
    end
    local head = at == edition and edition or edition and edition .. ", compare " .. at or without(family)
    text = (named ~= head and (text and text .. "; " or "") .. head .. " " or text .. ", ") .. cite:sub(#at + 2)
    named = head
  end
  return text
end

function words.cite(text)
  if not string.find(text, "{", 1, true) then return text end
  return (string.gsub(text, "{([%a_ %d]+)}", function(k)
    local known = import("model.schema").kinds.job.by.codes.by
    if known[k] then return edition_of(k) or without(k) end
    return sections(k)
  end))
end

-- ---- results -------------------------------------------------------------------------------------------------------

-- Whether a result is a share, and the unit that it wants.
function words.result_unit(def, v)
  if type(v) == "number" then
    if def.dim == "ratio" then return "%" end
    local work = def.of
    if work and work.op then
      for _, f in ipairs(graph.primitive(work.op).outputs) do
        if f.name == def.out and f.dim == "ratio" then return "%" end
      end
    end
    return nil
  end
  return words.unit(v, def.show)
end

function words.result(def, v) return words.show(v, words.result_unit(def, v)) end
function words.precise_result(def, v) return words.precise(v, words.result_unit(def, v)) end

local function input_field(path)
  local proxy, rest = record.locate(path)
  if not proxy or not rest[1] then return nil end
  local f = { by = record.inside[proxy].def.by }
  for _, key in ipairs(rest) do f = f and f.by and f.by[key] end
  return f
end

-- The unit of an input that is a share.
function words.input_unit(path, value)
  local f = type(value) == "number" and input_field(path)
  return f and f.type == "ratio" and "%" or nil
end

-- An input as it was written, with its unit; a position with its side, 43 S.
function words.input(path, value)
  local axis = host.is_quantity(value) and host.is(value, "angle") and (input_field(path) or {}).axis
  return axis and words.position(value, axis) or words.as_written(value, words.input_unit(path, value))
end

-- The value of a result in words, or "unknown".
function words.of(proxy, name)
  local v = graph.try(proxy, name)
  if v == nil then return "unknown" end
  return words.result(schema.result(record.inside[proxy].def, name), v)
end

-- ---- findings ------------------------------------------------------------------------------------------------------

local function share(a, b)      -- two plain numbers that are shares of something, not counts
  return math.type(a) == "float" and math.type(b) == "float" and math.abs(a) <= 1 and math.abs(b) <= 1
end

-- The unit of a finding's numbers: that of its limit; in metres where one of them prints so.
function words.unit_of_finding(f)
  if type(f.limit) == "number" then return share(f.value, f.limit) and "%" or nil end
  local unit = words.unit(f.limit)
  return unit == "mm" and f.value ~= nil and words.unit(f.value) == "m" and "m" or unit
end

-- value, sign, limit: the numbers of a finding as texts; nil where it has none.
function words.numbers(f)
  if f.value == nil or f.limit == nil then return nil end
  local unit = words.unit_of_finding(f)
  local digits = host.digits_apart(f.value, f.limit, unit)
  local value, limit = words.apart(f.value, f.limit, unit, digits)
  local sign = f.op == "at_least" and (f.ok and ">=" or "<") or (f.ok and "<=" or ">")
  return value, sign, limit
end

-- What is left to the limit.
function words.margin(f) return f.margin ~= nil and words.precise(f.margin, words.unit_of_finding(f), 3) or nil end

-- 30.8 %: what is left to the limit, or by how much it is passed; what is nothing but rounding is none.
function words.ratio(f)
  if not f.ratio then return nil end
  local ratio = math.abs(f.ratio)
  return host.format(host.near(1 + ratio, 1) and 0.0 or ratio, "%", 3)
end

-- One finding in one line.
function words.finding(f)
  local said = f.words
  if said and not f.value then return said end
  local value, sign, limit = words.numbers(f)
  if not value then return said or "" end
  if f.want ~= nil then
    return words.show(f.got) .. (f.ok and " = " or " against ") .. words.show(f.want)
  end
  return value .. " " .. sign .. " " .. limit .. (said and " " .. said or "")
end

-- All that is unknown of an outcome, in one line.
function words.reasons(o)
  local parts = {}
  for i, why in ipairs(o.whys or {}) do parts[i] = host.message(why) end
  return table.concat(parts, "; ")
end

-- Behind a finding that is broken: what is unknown of it besides; "" where nothing is.
function words.besides(o)
  return o.outcome == "broken" and o.whys and "; unknown besides: " .. words.reasons(o) or ""
end

-- What a rule tells of its subject beside the finding; nil where there is nothing to tell.
function words.told(o)
  if not o.rule.tells or not o.finding then return nil end
  local ok, text = pcall(o.rule.tells, o.proxy)
  if not ok and not host.class(text) then error(text, 0) end
  return ok and text or nil
end

-- "60.2 to 78.35 in": of values that print in one unit, which is said once.
local function from_to(low, high)
  if low == high then return low end
  local number, unit = low:match("^(%-?[%d.]+) (%S+)$")
  return (unit and high:match("^%-?[%d.]+ (%S+)$") == unit and number or low) .. " to " .. high
end
words.from_to = from_to

-- Whether two values are amounts of one kind: a rule may compare a width on one subject and a force on another.
local function comparable(a, b)
  return type(a) == type(b) and (not host.is_quantity(a) or host.same_kind(a, b))
end

-- How far some findings of one rule reach: their values, or where those are all one, what they are held against; nil
-- where they, or that which is told, are of several kinds.
local function reach(findings, key, told)
  local low, high
  for _, f in ipairs(findings) do
    local v = f[key]
    if v == nil or not comparable(v, told[key]) then return nil end
    if not low or host.si(v) < host.si(low) then low = v end
    if not high or host.si(v) > host.si(high) then high = v end
  end
  if not low then return nil end
  local unit = words.unit_of_finding(findings[1])
  return from_to(words.show(low, unit), words.show(high, unit)), host.near(low, high)
end

-- "and 70 more, 60.2 to 78.35 in": the other outcomes of a rule, of which one is told.
function words.and_more(others, told)
  local findings = host.room(0, #others)
  for i, o in ipairs(others) do findings[i] = o.finding end
  local values, one = reach(findings, "value", told)
  local text = "and " .. #others .. " more"
  if not values then return text end
  if not one then return text .. ", " .. values end
  local limits, same = reach(findings, "limit", told)
  return text .. (same and host.near(findings[1].value, told.value) and host.near(findings[1].limit, told.limit) and
      " alike" or ", against " .. limits)
end

words.few = 3          -- so many are named; of more, the first for all

-- Of many: on how many, or how many on each of a few, "(3 on rack east, 2 on rack west)"; "" for those on fewer than
-- `least`.
local function spread(outcomes, least)
  local above, count = {}, {}
  for _, o in ipairs(outcomes) do
    local parent = o.proxy and record.parent(o.proxy)
    if parent and not count[parent] then above[#above + 1], count[parent] = parent, 0 end
    if parent then count[parent] = count[parent] + 1 end
  end
  if #above < least then return "" end
  if #above > words.few then return " (on " .. #above .. " " .. spoken[record.inside[above[1]].def.name] .. "s)" end
  for i, parent in ipairs(above) do above[i] = count[parent] .. " on " .. words.title(parent) end
  return " (" .. table.concat(above, ", ") .. ")"
end
words.spread = spread

-- The subjects of some outcomes of one rule, of many the first: "rack row 1 post F1 and 119 more (on 30 racks)"; "" for
-- those of the job.
function words.subjects(outcomes)
  local list = {}
  for _, o in ipairs(outcomes) do
    local subject = words.subject(o)
    if subject ~= "" then list[#list + 1] = subject end
  end
  return words.some(list) .. (#list > words.few and spread(outcomes, 2) or "")
end

-- A few names, or the first of many.
function words.some(names)
  if #names > words.few then return names[1] .. " and " .. #names - 1 .. " more" end
  return util.list(names)
end

function words.over(f)
  local r = words.ratio(f)
  if not r or f.ok then return nil end
  return (f.op == "at_least" and "short by " or "over by ") .. r
end

function words.whose(f)
  local parts = {}
  if f.whose then parts[#parts + 1] = f.whose end
  if f.cite then parts[#parts + 1] = words.cite(f.cite) end
  return #parts > 0 and table.concat(parts, ", ") or nil
end

-- What else holds beside the tightest: "the insurer's is 20 ft", "that of house two-ridges is 16 ft"; nil where nothing
-- does.  Limits of places and the house alone: what a rule compares with besides is its own to tell.
function words.other_limits(f)
  if not f.others then return nil end
  local parts, unit = {}, f.limit ~= nil and words.unit_of_finding(f) or nil
  for _, l in ipairs(f.others) do
    if l.file then
      local whose = l.as and "the " .. l.as .. "'s" or "that of " .. l.whose
      parts[#parts + 1] = whose .. " is " .. words.show(l.value, unit)
    end
  end
  return #parts > 0 and table.concat(parts, "; ") or nil
end

-- Who signed a waiver, in which capacity, and what shows it.
function words.signer(w)
  local shown = w.licence and "licence " .. w.licence .. ", " .. w.state
  if w.paper then shown = (shown and shown .. "; " or "") .. w.paper end
  return w.by .. " as " .. w.as .. (shown and " (" .. shown .. ")" or "")
end

-- ---- places --------------------------------------------------------------------------------------------------------

-- Where a record, or a field of it, was written.
function words.span(proxy, path)
  local rec = record.inside[proxy]
  if rec.parent then rec, path = record.inside[record.line_of(proxy)[1]], {} end
  if rec.at then return rec.at end
  local from = like.giver(rec, path or {})
  if from.source == 0 then return nil end
  return host.span(from.source, from.mark, from.line, path or {})
end

function words.place(proxy, path)
  local s = words.span(proxy, path)
  return s and host.place(s) or nil
end

-- Where an input comes from: an override, its place, a default, and who told it; what it was taken over of, unless
-- that is said `already`.
function words.source(path, already)
  for _, o in ipairs(run.overrides) do
    if o.path == path then return o.from end
  end
  local proxy, rest = record.locate(path)
  local parts = {}
  for _, d in ipairs(run.defaults) do
    if d.path == path then return "default" end
  end
  local place = proxy and words.place(proxy, rest)
  local from = proxy and select(2, like.giver(record.inside[proxy], rest))
  local put_in = from and from.proxy ~= proxy and like.override(from.touched, rest)
  parts[1] = put_in and put_in.from or place or nil
  if from and from.proxy ~= proxy and not already then parts[#parts + 1] = "as " .. words.title(from.proxy) end
  local told, above = run.told[path], path
  while not told and above do          -- of an item, what was told of its list
    above = above:match "^(.+)%[%d+%]$" or above:match "^(.+)%.[%w_]+$" or above:match "^(.+)%['.-'%]$"
    told = above and run.told[above]
  end
  if told then parts[#parts + 1] = told.how:gsub("_", " ") .. (told.by and " (" .. told.by .. ")" or "") end
  return table.concat(parts, ", ")
end

return words
