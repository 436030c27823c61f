-- SPDX-License-Identifier: MIT
-- Schemas: what a declaration may say. One table for each kind feeds validation, did-you-mean, describe, the
-- reference, and the blank site-visit form.
--
-- kind { "rack", says = "...", named = true, fields = { { "tilt", "quantity", dim = "angle", required = true,
--        min = 0, max = 1.57, says = "...", who = "designer", tool = "..." }, ... }, items = {...}, check = function }
--
-- Field types: quantity (dim), ratio, count, number, money, text, flag, date, position (axis), choice (choices), wire,
-- part (of), ref (of, rest), list (item), map (item), limit (dim, extra), group (fields, bare), conditions, lot, func.
-- design = true: a designer may change it, so that a rule may name it as what it turns at; on a kind: all its fields.
-- sorts = "kind" of a kind: that field, whose first choice is the usual one, says of which sort it is; only =
-- { "hole" } of a field: it is of such alone.
-- spare = true: the form of a job asks for it only where a rule misses it; it is seldom so, or something else will do.
-- digit = true of a text: it is a number in somebody's file, so that there is a digit in it.
-- unless = function(fields): of what is required or has a default, whether these, as they are written, do without it.
-- line of an item of a map: the field of a list that may stand in its place; a map of the same may, too, if item.item
-- is the item itself.
-- own_words = true of a limit: a house may say in its own words what it means.
-- or_text = "none" of a list: it may be a text instead, and "none" is what it is for.
-- moved of a kind: fields of another declaration that were once written here, each with what to write instead.
-- worse = "more", "less" or "other": the field may stand in a paper's conditions, and which way a job is worse.
local run = import "model.run"
local domains = import "model.domains"
local no_data = import "model.no_data"
local schema = { kinds = domains.lazy "kinds", order = {} }      -- the order of the library, of what is loaded

-- Kinds of which no record is kept.
schema.not_kept = { limits = true, no_limit = true, rule = true, waive = true, price = true, result = true }

local function on_demand(make)
  return setmetatable({}, { __index = function(t, name)
    t[name] = make(name)
    return t[name]
  end })
end

-- name of a kind -> the kinds that hang on it, by name and in the order loaded; they may be declared before it.
local hanging = on_demand(function(name)
  return domains.children(name)[1] and domains.lazy("children", name) or {}
end)
local hung = on_demand(function() return {} end)

-- Choices that a published table gives are asked for when somebody first wants them.
local from_table = { __index = function(f, key)
  if key ~= "choices" then return nil end
  local from = f.choices_from
  local choices = type(from) == "string" and host.column(from) or from()
  rawset(f, "choices", choices)
  return choices
end }

local function index_fields(fields, by)
  by = by or host.room(#fields)
  for _, f in ipairs(fields) do
    f.name, f.type = f[1], f[2]
    if f.choices_from then setmetatable(f, from_table) end
    if rawget(by, f.name) then error(f.name .. " is there already") end
    by[f.name] = f
    if f.fields then f.by = f.by or index_fields(f.fields) end               -- kinds may share a field
    if f.item and f.item.fields then f.item.by = f.item.by or index_fields(f.item.fields) end
  end
  return by
end

-- The kinds with this one in its place: in a new list, so that who goes through them meets none twice.
local function placed(def)
  local list, at = schema.order, #schema.order + 1
  def.place = domains.place[def.name] or math.huge
  while at > 1 and list[at - 1].place > def.place do at = at - 1 end
  if at <= #list then list = table.move(list, 1, #list, 1, {}) end
  table.insert(list, at, def)
  return list
end

-- types = true of a kind: a type says what several declarations of it have in common, and each of them may be like a
-- type or like one of its own kind.  Both have the same fields; a type need not say any.
local function with_types(def)
  local name = def[1] .. "_type"
  def.fields = table.move(def.fields, 1, #def.fields, 2, { { "like", "ref", of = { name, def[1] },
      says = "the type, or the " .. def[1]:gsub("_", " ") .. " above, that it is like but for what is written here" } })
  def.template = schema.kind { name, type_of = def[1], named = true, partial = true, design = def.design,
      fields = def.fields, sorts = def.sorts, check = def.check, files = { "job", "place", "house" },
      says = "what several declarations of " .. def[1] .. ' have in common: each takes it over with like = "NAME"' }
  def.template.template = def.template
end

function schema.kind(def)
  def.name = def[1]
  if def.types then with_types(def) end
  def.fields = def.fields or {}
  local adds = def.type_of or def.name               -- what domains add to a kind, its type has, too
  def.by = index_fields(def.fields, domains.added_to(adds) and domains.lazy("fields", adds))
  if def.items then          -- positional values are read back under a name of their own
    def.list_field = { def.items.name, "list", name = def.items.name, type = "list", item = def.items, says = def.says }
  end
  def.results, def.added = domains.lazy("results", def.name), {}
  def.children, def.hung = hanging[def.name], hung[def.name]
  assert(not rawget(schema.kinds, def.name), def.name)
  schema.kinds[def.name] = def
  schema.order = placed(def)
  if def.parent then
    def.memo = "children " .. def.name
    hanging[def.parent][def.name] = def
    table.insert(hung[def.parent], def)
  end
  return def
end

-- Fields that a domain adds to a kind of another's, such as a limit of its own. What is declared before the domain is
-- loaded does without them, so that none is required or has a default.
-- settle: what is asked of them once all records are declared, beside the kind's own.
function schema.add_fields(kind, fields, settle)
  local def = schema.kinds[kind] or error("no kind " .. tostring(kind))
  for _, f in ipairs(fields) do assert(not f.required and f.default == nil, f[1]) end
  table.move(fields, 1, #fields, #def.fields + 1, def.fields)
  index_fields(fields, def.by)
  if def.template then index_fields(fields, def.template.by) end             -- their list of fields is one
  local own = def.settle
  if settle then
    def.settle = function(record, refuse)
      if own then own(record, refuse) end
      settle(record, refuse)
    end
  end
end

-- All fields of a kind, or of a group.
function schema.all_fields(def)
  for name in host.sorted(def.results and domains.added_to(def.name) or {}) do local _ = def.by[name] end
  return def.fields
end

-- Names of the kinds that a script may declare.
function schema.words()
  local names = {}
  for _, k in ipairs(schema.all()) do if not k.parent then names[#names + 1] = k.name end end
  table.sort(names)
  return names
end

-- All kinds of the library.
function schema.all()
  for _, name in ipairs(domains.order) do local _ = schema.kinds[name] end
  return schema.order
end

-- What names bring out of a table that loads, and what else was put there.
local function whole(names, by, rest)
  local list, has = {}, {}
  for i, name in ipairs(names) do
    list[i] = by[name]
    has[list[i]] = true
  end
  for _, x in ipairs(rest) do if not has[x] then list[#list + 1] = x end end
  return list
end

-- All results of a kind, those of scripts last, and all kinds that hang on it, whichever domain they come from.
function schema.results(def)
  if not def.listed or #def.listed ~= #def.added then
    def.listed = whole(domains.results(def.name), def.results, def.added)
  end
  local own = run.results_of[def.name]
  if not own then return def.listed end
  return table.move(own, 1, #own, #def.listed + 1, table.move(def.listed, 1, #def.listed, 1, {}))
end

-- The result of a kind by its name, the library's or a script's; nil or false where there is none, as of a group.
function schema.result(def, name)
  if not def.results then return nil end
  local own = run.results_of[def.name]
  return def.results[name] or own and own.by[name]
end
function schema.children(def) return whole(domains.children(def.name), def.children, def.hung) end

-- Names that a record of a kind answers to, for did-you-mean and for refusing names.
function schema.names(def)
  local names = {}
  for _, f in ipairs(schema.all_fields(def)) do names[#names + 1] = f.name end
  if def.results then                                                    -- a group has none
    for _, r in ipairs(schema.results(def)) do names[#names + 1] = r.name end
    for _, k in ipairs(schema.children(def)) do names[#names + 1] = k.name end
  end
  return names
end

-- ---- messages ------------------------------------------------------------------------------------------------------

-- What a field wants, with an example.
local function wants(f)
  local t = f.type
  if t == "quantity" then return host.an(f.dim) .. " (like " .. (f.example or host.example(f.dim)) .. ")" end
  if t == "money" then return "a price (like " .. f.example .. ")" end
  if t == "ratio" then return "a ratio (like " .. (f.example or "2.5%") .. ")" end
  if t == "count" then return "a whole number (like " .. (f.example or "4") .. ")" end
  if t == "number" then return "a number (like " .. (f.example or "1.5") .. ")" end
  if t == "text" then return 'a text (like "' .. (f.example or "F1") .. '")' end
  if t == "flag" then return "true or false" end
  if t == "date" then return 'a date (like "2026-11-02")' end
  if t == "position" then return host.an(f.axis) .. ' (like "' .. f.example .. '")' end
  if t == "choice" then
    return "one of " .. table.concat(f.choices, ", ") .. (f.no_data and ', or no_data("...")' or "")
  end
  if t == "wire" then return 'a wire size (like "6 AWG" or awg"4/0")' end
  if t == "part" then return "the number of " .. host.an(f.of) .. " in a parts file" end
  if t == "ref" then
    local kinds = {}
    for i, kind in ipairs(f.of) do kinds[i] = host.an(kind) end
    return table.concat(kinds, " or ") .. " declared above, or its name"
  end
  if t == "list" then
    local items = f.item.type == "ref" and table.concat(f.item.of, " or ") .. " by name"
        or (f.item.type == "quantity" and f.item.dim or f.item.bare or f.item.type) .. "s"
    return (f.or_text and '"' .. f.or_text .. '" or ' or "") .. "a list of " .. items ..
        " (like { " .. (f.example or "...") .. " })"
  end
  if t == "map" then return "a table with names (like { " .. (f.example or "F1 = 0in") .. " })" end
  if t == "limit" then return "a limit (like { " .. (f.example or host.example(f.dim)) .. ', cite = "..." })' end
  if t == "lot" then return 'an amount and an item (like { 6, "EC-30" })' end
  if t == "conditions" then return "a table of facts by declaration (like { " .. f.example .. " })" end
  if t == "group" and f.bare then
    return host.an(f.bare) .. ", or a table (like { " .. f.example .. " })"
  end
  if t == "group" then return "a table (like { " .. (f.example or f.fields[1].name .. " = ...") .. " })" end
  return "a function"
end
schema.wants = wants

-- A field as a person calls it: 'tilt', or item 2 of 'front'.
local function called(path)
  local last = path[#path]
  if math.type(last) ~= "integer" then return "'" .. tostring(last) .. "'" end
  local of = path[#path - 1]
  return "item " .. last .. (of and " of '" .. tostring(of) .. "'" or "")
end

schema.called = called

local function bad(ctx, path, text, help, code)
  local at = ctx.span(path)
  host.raise { code = code or "D003", text = ctx.what .. ": " .. text, help = help,
      source = at.source, line = at.line, col = at.col, len = at.len }
end
schema.bad = bad

-- A text or a name that a person gives: it is shown on many lines, and nothing in it may end one or be obeyed.
function schema.plain(ctx, path, what, text)
  local unsafe, help = host.unsafe(text)
  if unsafe then bad(ctx, path, what .. " holds " .. unsafe, help, "D021") end
end

local numeric = { quantity = true, ratio = true, count = true, number = true, money = true }

-- A mass, or one on an area.
local function weighs(value)
  return host.is_quantity(value) and (host.is(value, "mass") or host.is(value * host.literal "1m2", "mass"))
end

local function wrong(ctx, path, f, value)
  local help
  local got = host.describe(value)
  if type(value) == "number" and (f.type == "quantity") then
    help = "write the unit, as in " .. (f.example or host.example(f.dim))
  elseif f.type == "quantity" and f.dim == "force" and host.is(value, "mass") then
    help = "lb is a mass; write lbf where a force is meant"
  elseif f.type == "quantity" and f.dim == "pressure" and weighs(value) then
    help = "a mass is no load, which is a force on an area: write psf, or kPa"
  elseif f.type == "quantity" and f.dim == "mass" and host.is(value, "force") then
    help = "lbf is a force; write lb where a mass is meant"
  elseif f.type == "quantity" and f.dim == "temperature difference" and host.is(value, "temperature") then
    help = "a difference is written in K, dC or dF"
  elseif f.type == "quantity" and f.dim == "temperature" and host.is(value, "temperature difference") then
    help = "K is a step of temperature; a temperature is written in degC or degF"
  elseif numeric[f.type] and type(value) == "string" then
    local v, why, more = host.literal(value)
    if v ~= nil then help = "it is written without quotes"
    elseif f.type == "quantity" then help = why .. (more ~= "" and ": " .. more or "") end
  elseif f.type == "money" and type(value) == "number" then
    help = "write the currency, as in " .. f.example
  elseif (f.type == "text" or f.type == "part") and value ~= nil and type(value) ~= "table"
      and type(value) ~= "function" then
    help = "it is written in quotes"
  elseif f.type == "list" and type(value) == "string" and value:find "^{" then
    help = "a brace or a quote is not closed"
  elseif f.type == "date" and type(value) == "number" then
    help = 'a date stands in quotes, as in "2026-11-02"'
  elseif f.type == "position" and (host.is(value, "force") or host.is(value, "power")) then
    help = 'a position stands in quotes: "' .. host.format(value) .. '"'
  elseif f.type == "date" then
    help = schema.is_day(value) and "there is no such day" or "write year, month and day, as in 2026-11-02"
  elseif f.type == "func" then
    help = "as in " .. (f.example or "function(rack) return at_most(rack.tilt, 40deg) end")
  elseif f.type == "flag" and type(value) == "string" then
    help = ({ yes = "write true", no = "write false", ["true"] = "write it without quotes",
        ["false"] = "write it without quotes" })[value]
  end
  local s = ctx.origin(value)
  if s then
    host.raise { code = "D003", text = ctx.what .. ": " .. called(path) .. " needs " .. wants(f) .. ", got " .. got,
        help = help,
                 source = s.source, line = s.line, col = s.col, len = s.len }
  end
  bad(ctx, path, called(path) .. " needs " .. wants(f) .. ", got " .. got, help)
end

-- An edge of a range (SI) in the unit of the field's example, which is the trade's for it: a frame's in mm, whatever
-- the units of the job.
function schema.edge(f, si)
  if f.dim and f.dim ~= "ratio" then
    local example = host.literal(f.example or host.example(f.dim))
    if example and host.is(example, f.dim) then return host.format(host.like(example, si)) end
    return host.format(host.quantity(si, f.dim))
  end
  return host.format(si, (f.type == "ratio" or f.dim == "ratio") and "%" or nil)
end

local function ranged(ctx, path, f, value, si, help)
  if si ~= si or si == math.huge or si == -math.huge then
    bad(ctx, path, called(path) .. " is no number: was something divided by 0?", "it needs " .. wants(f), "D004")
  end
  local low, high = f.min and si < f.min and not host.near(si, f.min), f.max and si > f.max and not host.near(si, f.max)
  if f.above and si <= f.above then low = true end
  if not low and not high then return value end
  local edge = low and (f.above or f.min) or f.max
  local limit = f.type == "money" and host.format(host.like(value, edge)) or schema.edge(f, edge)
  bad(ctx, path, called(path) .. " must be " .. (low and (f.above and "above " or "at least ") or "at most ") .. limit
      .. ", got " ..
      (f.type == "ratio" and host.format(value, "%") or host.format(value)), help or f.range_help, "D004")
end

-- ---- values --------------------------------------------------------------------------------------------------------

local validate

local days = { 31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31 }
local function leap(y) return (y % 4 == 0 and y % 100 ~= 0) or y % 400 == 0 end

-- Year, month and day in their places, whether there is such a day or not.
function schema.is_day(text) return type(text) == "string" and string.find(text, "^%d%d%d%d%-%d%d%-%d%d$") ~= nil end

function schema.is_date(text)
  local y, m, d = string.match(text, "^(%d%d%d%d)%-(%d%d)%-(%d%d)$")
  y, m, d = tonumber(y), tonumber(m), tonumber(d)
  return y and m >= 1 and m <= 12 and d >= 1 and d <= days[m] and (m ~= 2 or d < 29 or leap(y)) and true or false
end

local function day_number(text)
  local y, m, d = string.match(text, "^(%d%d%d%d)%-(%d%d)%-(%d%d)$")
  y, m, d = tonumber(y), tonumber(m), tonumber(d)
  local a = (14 - m) // 12
  y, m = y + 4800 - a, m + 12 * a - 3
  return d + (153 * m + 2) // 5 + 365 * y + y // 4 - y // 100 + y // 400 - 32045 - 2440588
end

run.keep("day_numbers", function() return {} end)        -- of the dates that were asked for

-- Days since 1970-01-01 of a valid date.
function schema.day_number(text)
  local days = run.day_numbers
  days[text] = days[text] or day_number(text)
  return days[text]
end

local signs = { N = 1, S = -1, E = 1, W = -1 }
local axes = { latitude = { "NS", 90 }, longitude = { "EW", 180 }, declination = { "EW", 90 } }

-- An angle without a letter or a minus sign: either side may be meant.
local function refuse_sideless(ctx, path, sides, degrees)
  local plus, minus, n = sides:sub(1, 1), sides:sub(2, 2), host.format(degrees)
  bad(ctx, path, called(path) .. " does not say on which side: " .. n .. " deg " .. plus .. " or " .. minus .. "?",
      'write "' .. n .. " " .. plus .. '" or "' .. n .. " " .. minus .. '"; a minus sign means ' .. minus)
end

local function position(ctx, path, f, value)
  local sides, limit = table.unpack(axes[f.axis])
  local degrees, side
  if host.is(value, "angle") then
    degrees = host.number_in(value, "deg")
  elseif type(value) == "string" then
    local n
    value = string.gsub(value, "%s*deg%f[%A]", "")                   -- 85.5 deg W, as a message has it
    n, side = string.match(value, "^%s*(%-?[%d.]+)%s*\xC2?\xB0?%s*([NSEW]?)%s*$")
    degrees = tonumber(n)
    if side == "" then side = nil end
    if side and (not sides:find(side, 1, true) or n:find("-", 1, true)) then degrees = nil end
  end
  if not degrees then wrong(ctx, path, f, value) end
  if side then degrees = degrees * signs[side] elseif degrees > 0 then refuse_sideless(ctx, path, sides, degrees) end
  if not (math.abs(degrees) <= limit) then
    bad(ctx, path, "'" .. path[#path] .. "' must lie between -" .. limit .. " and " .. limit .. " deg, got "
        .. host.format(degrees) .. " deg", nil, "D004")
  end
  return host.as(host.quantity(math.rad(degrees), "angle"), "deg")
end

local scalar = {}

function scalar.quantity(ctx, path, f, value)
  -- Some maps have lists and maps of the same in the place of one value.
  if f.line and type(value) == "table" and not run.is_record(value) then
    if value[1] ~= nil or next(value) == nil then return scalar.list(ctx, path, f.line, value) end
    return scalar.map(ctx, path, f, value)
  end
  if not host.is(value, f.dim) then wrong(ctx, path, f, value) end
  local si, tolerance = host.si(value), ctx.tolerance and ctx.tolerance(path, value)
  for _, sign in ipairs(tolerance and { -1, 1 } or {}) do
    local edge = si + sign * host.si(tolerance)
    ranged(ctx, path, f, host.like(value, edge), edge, "its tolerance reaches as far as that")
  end
  return ranged(ctx, path, f, value, si)
end
function scalar.ratio(ctx, path, f, value)
  if type(value) ~= "number" then wrong(ctx, path, f, value) end
  return ranged(ctx, path, f, value, value)
end
scalar.number = scalar.ratio
function scalar.money(ctx, path, f, value)
  if not host.is(value, "money") and not host.is(value, "money per length")
      and not host.is(value, "money per volume") then wrong(ctx, path, f, value) end
  return ranged(ctx, path, f, value, host.si(value))
end
function scalar.count(ctx, path, f, value)
  if math.type(value) ~= "integer" then
    local n = type(value) == "number" and math.tointeger(value)
    if not n then wrong(ctx, path, f, value) end
    value = n
  end
  return ranged(ctx, path, f, value, value)
end
function scalar.text(ctx, path, f, value)
  if type(value) ~= "string" then wrong(ctx, path, f, value) end
  if not string.find(value, "%S") then
    bad(ctx, path, called(path) .. " is empty", f.required and "it needs " .. wants(f)
        or "an empty text says nothing; leave it out")
  end
  if f.digit and not string.find(value, "%d") then
    bad(ctx, path, called(path) .. " is a number on somebody's list, and has no digit: '" .. value .. "'",
        "until there is one it is not declared; as in " .. f.name .. ' = "' .. f.example .. '"')
  end
  schema.plain(ctx, path, called(path), value)
  return value
end
function scalar.flag(ctx, path, f, value)
  if type(value) ~= "boolean" then wrong(ctx, path, f, value) end
  return value
end
function scalar.date(ctx, path, f, value)
  if type(value) ~= "string" or not schema.is_date(value) then wrong(ctx, path, f, value) end
  return value
end
scalar.position = position
-- The code that is meant but for capitals, blanks and dashes.  Another edition is another code, however near its name.
local function same_code(value, codes)
  local function bare(text) return (string.gsub(string.lower(text), "[%s%p]", "")) end
  for _, code in ipairs(codes) do if bare(code) == bare(value) then return code end end
end
function scalar.choice(ctx, path, f, value)
  if type(f.choices_from) == "string" then
    if host.in_column(f.choices_from, value) then return value end
  else
    for _, c in ipairs(f.choices) do if c == value then return value end end
  end
  local near = type(value) == "string" and (f.no_data and same_code(value, f.choices) or
      not f.no_data and host.nearest(value, f.choices))
  local code = f.no_data and no_data.of(value)
  if code then
    local why, help = no_data.refused(code)
    if why then bad(ctx, path, called(path) .. ": " .. why, help, "D023") end
    return value
  end
  bad(ctx, path, called(path) .. " is one of " .. table.concat(f.choices, ", ") .. "; got " .. host.describe(value),
      near and 'did you mean "' .. near .. '"?' or type(value) ~= "string" and 'it is written in quotes, as in "'
          .. f.choices[1] .. '"' or f.no_data and "a code of which nothing is kept here is declared as such: "
          .. path[#path] .. ' = no_data("' .. value .. '")' or nil)
end
-- "6 AWG", "#6" and 6mm2, but never a bare "6": whose it is, the code's or the metric one, nobody can tell.
function scalar.wire(ctx, path, f, value)
  local text = (math.type(value) or host.is(value, "area")) and host.format(value) or value
  local w = host.wire(text)
  if not w then wrong(ctx, path, f, value) end
  if type(text) == "string" and not string.find(text, "[^%d/. \t]") then
    bad(ctx, path, called(path) .. " is " .. host.describe(value) .. ": a size of wire has its unit",
        "write " .. host.format(w) .. (ctx.metric() and " or " .. text .. " mm2, as it is printed on the wire" or ""))
  end
  return w
end
function scalar.part(ctx, path, f, value)
  if type(value) ~= "string" then wrong(ctx, path, f, value) end
  return ctx.part(f.of, value, path)
end
-- The record, and where the field has a `rest`: what the text says behind a dot, as in "shed.A".
function scalar.ref(ctx, path, f, value)
  return ctx.ref(f.of, value, path, f)
end
function scalar.func(ctx, path, f, value)
  if type(value) ~= "function" then wrong(ctx, path, f, value) end
  return value
end

-- The amount of a limit as a field: one of one's own has no range.
local function amount_of(f)
  local of = (f.dim == "ratio" or f.dim == "number") and f.dim or "quantity"
  return { f.name, of, name = f.name, type = of, dim = of == "quantity" and f.dim or nil, min = not f.own and 0 or nil,
      max = f.max, example = f.example, says = f.says }
end
schema.amount_of_limit = amount_of

-- What there is to say of any limit beside its amount; `says` of one with a name of one's own alone.
local beside = {
  cite = { type = "text", example = "county zoning 4.2" },
  since = { type = "date" },
  may_waive = { type = "choice" },
  says = { type = "text", example = "least way to the fence" },
}

-- { 20ft, cite = "...", from = "natural grade" }: a limit of a place or a house.
function scalar.limit(ctx, path, f, value)
  if type(value) ~= "table" or run.is_record(value) then wrong(ctx, path, f, value) end
  local function inner(key)
    local p = table.move(path, 1, #path, 1, {})
    p[#p + 1] = key
    return p
  end
  for i = 2, #value do
    bad(ctx, inner(i), "'" .. path[#path] .. "' has one amount, got a second: " .. host.describe(value[i]),
        type(value[i]) == "number" and "a decimal comma? write 1.5, not 1,5"
            or "what else there is to say needs a name, as in cite = \"...\"", "D005")
  end
  local amount = amount_of(f)
  if value[1] == nil then
    bad(ctx, path, "'" .. path[#path] .. "' has no amount",
        "write " .. path[#path] .. ' = { ' .. (f.example or host.example(f.dim)) .. ', cite = "..." }', "D002")
  end
  if not (amount.type ~= "quantity" and type(value[1]) == "number" or f.dim and host.is(value[1], f.dim)) then
    bad(ctx, inner(1), "the amount of '" .. path[#path] .. "' needs " .. wants(amount) .. ", got " ..
        host.describe(value[1]))
  end
  local written = ctx.origin(value[1])
  if written and written.tolerance then
    bad(ctx, inner(1), "the amount of '" .. path[#path] .. "' has a tolerance, but a limit is a limit",
        "write the amount alone")
  end
  local out = { value = scalar[amount.type](ctx, inner(1), amount, value[1]) }
  for k, v in host.sorted(value) do
    local extra, told = f.extra and f.extra[k], beside[k]
    if k == "says" and not (f.own or f.own_words) then
      bad(ctx, inner(k), "'" .. path[#path] .. "' is a standard limit and means: " .. f.says,
          "leave says out, or give a limit of your own another name", "D006")
    elseif k == "may_waive" then
      out.may_waive = scalar.choice(ctx, inner(k), { type = "choice",
          choices = schema.kinds.rule.by.may_waive.choices }, v)
    elseif told then out[k] = scalar[told.type](ctx, inner(k), told, v)
    elseif extra then out[k] = scalar.choice(ctx, inner(k), { type = "choice", choices = extra }, v)
    elseif k ~= 1 then
      local names = { "cite", "since", "may_waive" }
      for name in host.sorted(f.extra or {}) do names[#names + 1] = name end
      if f.own or f.own_words then names[#names + 1] = "says" end
      local near = host.nearest(tostring(k), names)
      local at = ctx.span(inner(k), true)
      host.raise { code = "D001", text = ctx.what .. ": the limit '" .. path[#path] .. "' has no '" .. tostring(k)
          .. "'", source = at.source, line = at.line,
                   col = at.col, len = at.len, help = near and "did you mean '" .. near .. "'?"
                       or "it has an amount and " .. table.concat(names, ", ") }
    end
  end
  if not out.cite then
    bad(ctx, path, "'" .. path[#path] .. "' does not say where it stands",
        'add cite = "county zoning 4.2" or cite = "house custom"', "D002")
  end
  return out
end

local function extended(path, key)
  local p = table.move(path, 1, #path, 1, {})
  p[#p + 1] = key
  return p
end

-- f(...), where one fault is told; where all of a declaration are, the context keeps what it raises.
local function told(ctx, path, f, ...)
  if ctx.gather then return ctx.gather(path, f, ...) end
  return f(...)
end

-- A value one step further in. The path is one table for a whole declaration: nobody keeps it.
local function validated(ctx, path, key, f, value)
  local n, rest = #path + 1, nil
  path[n] = key
  if ctx.gather then value, rest = ctx.gather(path, validate, ctx, path, f, value)
  else value, rest = validate(ctx, path, f, value) end
  path[n] = nil
  return value, rest
end

function scalar.list(ctx, path, f, value)
  if f.or_text and type(value) == "string" then return scalar.text(ctx, path, f, value) end
  if type(value) ~= "table" or run.is_record(value) then wrong(ctx, path, f, value) end
  local out, n = {}, #value
  for k in host.sorted(value) do
    if math.type(k) == "integer" then
      if k < 1 or k > n then bad(ctx, extended(path, k),
          "'" .. tostring(path[#path]) .. "' has no item " .. k .. ": it has " .. n,
          "items count from 1, without gaps") end
    else
      bad(ctx, extended(path, k), "'" .. tostring(path[#path]) .. "' is a list without names",
          "write { " .. (f.example or "1ft, 2ft") .. " }")
    end
  end
  if f.least and n == 0 then bad(ctx, path, called(path) .. " is empty", "it needs " .. wants(f)) end
  if f.least and n < f.least then
    bad(ctx, path, "'" .. tostring(path[#path]) .. "' needs at least " .. f.least
        .. " items, got " .. n)
  end
  if f.most and n > f.most then
    bad(ctx, path, "'" .. tostring(path[#path]) .. "' takes at most " .. f.most
        .. " items, got " .. n)
  end
  for i = 1, n do out[i] = validated(ctx, path, i, f.item, value[i]) end
  return ctx.freeze_list(out, path)
end

function scalar.map(ctx, path, f, value)
  if type(value) ~= "table" or run.is_record(value) then wrong(ctx, path, f, value) end
  local names, out = {}, {}
  for k in pairs(value) do
    if type(k) ~= "string" then
      bad(ctx, path, "'" .. tostring(path[#path]) .. "' is a table with names",
          "write { " .. (f.example or "F1 = 0in") .. " }")
    end
    schema.plain(ctx, extended(path, k), "a name in '" .. tostring(path[#path]) .. "'", k)
    names[#names + 1] = k
  end
  table.sort(names)
  for _, k in ipairs(names) do out[k] = validated(ctx, path, k, f.item, value[k]) end
  return ctx.freeze_map(out, names, path)
end

-- What stood behind a dot in one field is the value of another, which stands below it and does not say otherwise.
local function take_rest(ctx, path, f, rest, out, value)
  schema.plain(ctx, extended(path, f.name), "'" .. f.name .. "'", rest)
  local other = value[f.rest]
  if other ~= nil and other ~= rest then
    bad(ctx, extended(path, f.rest), "'" .. f.rest .. "' is " .. host.describe(other) .. ", but '" .. f.name ..
        "' says " .. rest, "say it once", "D006")
  end
  out[f.rest] = rest
end

local function refuse_nameless(ctx, path, def, value)
  bad(ctx, extended(path, 1), "every value needs a name, got " .. host.describe(value[1]),
      type(value[1]) == "number" and "a decimal comma? write 1.5, not 1,5" or "write a field's name before it, as in "
          .. def.fields[1].name .. " = ...", "D005")
end

local function refuse_stranger(ctx, path, def, name)
  local names = {}
  for _, f in ipairs(schema.all_fields(def)) do names[#names + 1] = f.name end
  local near = host.nearest(name, names)
  local at = ctx.span(extended(path, name), true)
  host.raise { code = "D001", text = ctx.what .. ": no field '" .. name .. "'", key = name, meant = near,
      source = at.source, line = at.line, col = at.col, len = at.len,
      help = def.moved and def.moved[name] or near and "did you mean '" .. near .. "'?"
          or "it has " .. table.concat(names, ", ") }
end

function schema.refuse_missing(ctx, path, f)
  local at = ctx.span(path)
  host.raise { code = "D002", text = (ctx.like and "neither " .. ctx.what .. " nor " .. ctx.like .. " gives '" ..
          f.name .. "': " or ctx.what .. ": '" .. f.name .. "' is missing: ") .. f.says,
      source = at.source, line = at.line, col = at.col, len = at.len,
      help = "write " .. f.name .. " = ...: it needs " .. wants(f) }
end

-- What only shows where the fields are seen together.
local function check_together(ctx, path, def, out, value)
  local text, help, field = def.check(out, value)
  if text then bad(ctx, field and extended(path, field) or path, text, help, "D006") end
end

-- Whether a field that is not there is wanted at all: of what sort the record is, and what else is given.
local function wanted(def, f, out, value)
  if f.unless and f.unless(value) then return false end
  if not f.only then return true end
  local sort = out[def.sorts]
  if sort == nil and value[def.sorts] ~= nil then return false end             -- none of the choices: told already
  return schema.is_of(def, f, sort)
end

-- Whether a field is of that sort; nil is the usual one.
function schema.is_of(def, f, sort)
  sort = sort or def.by[def.sorts].choices[1]
  for _, s in ipairs(f.only) do if s == sort then return true end end
  return false
end

-- The first field that is given and is of another sort: its name, and what it is of.
function schema.of_another(def, v)
  for _, f in ipairs(def.fields) do
    if f.only and v[f.name] ~= nil and not schema.is_of(def, f, v[def.sorts]) then return f.name, f.only end
  end
end

-- Fields of a table: checks names, required, defaults. Returns values by name.
function schema.fields(ctx, path, def, value)
  local out = host.room(#def.fields)
  local strangers, positional, items = nil, nil, 0
  for k in next, value do
    if type(k) == "string" then
      if not def.by[k] then strangers = strangers or {}; strangers[#strangers + 1] = k end
    elseif not def.items or math.type(k) ~= "integer" then
      positional = true
    else
      items = items + 1
    end
  end
  local faults = ctx.faults
  if positional then told(ctx, path, refuse_nameless, ctx, path, def, value) end
  if strangers then
    table.sort(strangers)
    for _, name in ipairs(strangers) do told(ctx, path, refuse_stranger, ctx, path, def, name) end
  end
  local open = ctx.open    -- whether a name is not looked up yet
  ctx.open = nil
  local missing            -- told last: what is there and wrong says more than what is not there yet
  for _, f in ipairs(def.fields) do
    local v, rest = value[f.name], nil
    if v ~= nil then
      out[f.name], rest = validated(ctx, path, f.name, f, v)
      if rest then told(ctx, path, take_rest, ctx, path, f, rest, out, value) end
    elseif (f.unless or f.only) and not wanted(def, f, out, value) then
      goto next
    elseif f.required then
      missing = missing or {}
      missing[#missing + 1] = f
    elseif f.default ~= nil and not ctx.partial then
      local default = f.default
      if type(default) == "string" and (f.type == "quantity") then default = host.literal(default) end
      out[f.name] = default
      ctx.defaulted(extended(path, f.name), default, f)
    end
    ::next::
  end
  local sound = ctx.faults == faults
  if missing and def.sorts and sound and not ctx.partial and def.check(out) then      -- it is another sort that is meant
    told(ctx, path, check_together, ctx, path, def, out, value)
    missing = nil
  end
  if missing and not ctx.partial then
    if ctx.lacks then ctx.lacks(path, missing) else schema.refuse_missing(ctx, path, missing[1]) end
  end
  if def.items then
    local list = {}
    for i = 1, items do list[i] = validated(ctx, path, i, def.items, value[i]) end
    out[def.items.name] = ctx.freeze_list(list, extended(path, def.items.name))
  end
  if def.check and ctx.faults == faults and not (ctx.partial and (missing or ctx.open)) then       -- of what is whole
    told(ctx, path, check_together, ctx, path, def, out, value)
  end
  ctx.open = open or ctx.open
  return out
end

-- A group that has a `bare` field may be written as that alone: "A" for { name = "A" }.
function scalar.group(ctx, path, f, value)
  if f.bare and type(value) == "string" then value = { [f.bare] = value } end
  if type(value) ~= "table" or run.is_record(value) then wrong(ctx, path, f, value) end
  return ctx.freeze_group(schema.fields(ctx, path, f, value), f, path)
end

-- What a paper was made for: fields of the job, by declaration. model.conditions, which comes with the kinds of paper,
-- reads it.
function scalar.conditions(...) return schema.read_conditions(...) end

-- So many of a thing, or one length of it: model.lots reads it.
function scalar.lot(...)
  if not schema.read_lot then domains.load "model.lots" end
  return schema.read_lot(...)
end

function validate(ctx, path, f, value)
  value = ctx.told(path, value)
  if run.hole and rawequal(value, run.hole) then run.follow() end
  return scalar[f.type](ctx, path, f, value)
end
schema.validate = validate

return schema
