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
local refuse = import("model.util").later "model.refusals"
local schema = { kinds = domains.lazy "kinds" }

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

-- Types of fields of which there is no more to index than their names.
local plain = { quantity = true, ratio = true, count = true, number = true, text = true, flag = true, date = true }

local function index_fields(fields, by)
  local own = not by                   -- of another's fields, some may not be loaded yet
  by = by or host.room(#fields)
  for i = 1, #fields do
    local f = fields[i]
    local name, type = f[1], f[2]
    f.name, f.type = name, type
    if own and by[name] or not own and rawget(by, name) then error(name .. " is there already") end
    by[name] = f
    if not plain[type] then
      if f.choices_from then setmetatable(f, from_table) end
      if f.fields then f.by = f.by or index_fields(f.fields) end             -- kinds may share a field
      if f.item and f.item.fields then f.item.by = f.item.by or index_fields(f.item.fields) end
    end
  end
  return by
end

local came, in_order = {}, nil       -- the kinds that are loaded, as they came and in the order of the library

-- They stand in a new list where one has come, so that who goes through them meets none twice.
function schema.loaded()
  if in_order then return in_order end
  local at = {}
  in_order = table.move(came, 1, #came, 1, {})
  for i, def in ipairs(came) do at[def] = i end
  table.sort(in_order, function(a, b)
    local x, y = domains.place[a.name] or math.huge, domains.place[b.name] or math.huge
    return x < y or x == y and at[a] < at[b]
  end)
  return in_order
end

-- types = true of a kind: a type says what several declarations of it have in common, and each of them may be like a
-- type or like one of its own kind.  Both have the same fields; a type need not say any.
local function with_types(def)
  local name = def[1] .. "_type"
  def.fields = { { "like", "ref", of = { name, def[1] }, says = "the type, or the " .. def[1]:gsub("_", " ") ..
      " above, that it is like but for what is written here" }, table.unpack(def.fields) }
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
  def.by = def.template and def.template.by or       -- which has the same fields
      index_fields(def.fields, domains.added_to(adds) and domains.lazy("fields", adds, #def.fields))
  if def.items then          -- positional values are read back under a name of their own
    def.list_field = { def.items.name, "list", name = def.items.name, type = "list", item = def.items, says = def.says }
  end
  def.results, def.added = domains.lazy("results", def.name), { nil, nil, nil, nil }
  def.children, def.hung = hanging[def.name], hung[def.name]
  assert(not rawget(schema.kinds, def.name), def.name)
  schema.kinds[def.name] = def
  came[#came + 1], in_order = def, nil
  if def.parent then
    def.memo = "children " .. def.name
    hanging[def.parent][def.name] = def
    table.insert(hung[def.parent], def)
  end
  return def
end

-- By each field that was added, the least name of those that came with it: they stand behind the kind's own by these,
-- whichever domain was loaded first.
local added = {}

-- Fields that a domain adds to a kind of another's, such as a limit of its own. What is declared before the domain is
-- loaded does without them, so that none is required or has a default.
-- settle: what is asked of them once all records are declared, beside the kind's own.
function schema.add_fields(kind, fields, settle)
  local def = schema.kinds[kind] or error("no kind " .. tostring(kind))
  local all, first = def.fields, fields[1][1]
  for _, f in ipairs(fields) do
    assert(not f.required and f.default == nil, f[1])
    if f[1] < first then first = f[1] end
  end
  for _, f in ipairs(fields) do added[f] = first end
  local at = #all + 1
  while added[all[at - 1]] and added[all[at - 1]] > first do at = at - 1 end
  table.move(all, at, #all, at + #fields)
  table.move(fields, 1, #fields, at, all)
  index_fields(fields, def.by)
  local own = def.settle
  if settle then
    def.settle = function(record, refuse)
      if own then own(record, refuse) end
      settle(record, refuse)
    end
  end
end

-- All fields of a kind, those that domains add to it (or to the kind it is a type of) among them, or of a group.
function schema.all_fields(def)
  for name in host.sorted(def.results and domains.added_to(def.type_of or def.name) or {}) do local _ = def.by[name] end
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
  return schema.loaded()
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

-- ---- what is refused ------------------------------------------------------------------------------------------------

-- What only a fault has a use for, model.refusals says.
function schema.wants(f) return refuse.wants(f) end
function schema.called(path) return refuse.called(path) end
function schema.edge(f, si) return refuse.edge(f, si) end
function schema.refuse_missing(ctx, path, f) refuse.missing(ctx, path, f) end

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

-- What is outside by no more than rounding is let through there.
local function ranged(ctx, path, f, value, si, help)
  if si ~= si or si == math.huge or si == -math.huge or f.min and si < f.min or f.max and si > f.max
      or f.above and si <= f.above then
    refuse.out_of_range(ctx, path, f, value, si, help)
  end
  return value
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
  if not degrees then refuse.wrong(ctx, path, f, value) end
  if side then degrees = degrees * signs[side] elseif degrees > 0 then refuse.sideless(ctx, path, sides, degrees) end
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
  if not host.is(value, f.dim) then refuse.wrong(ctx, path, f, value) end
  local si, tolerance = host.si(value), ctx.tolerance and ctx.tolerance(path, value)
  for sign = tolerance and -1 or 3, 1, 2 do
    local edge = si + sign * host.si(tolerance)
    ranged(ctx, path, f, host.like(value, edge), edge, "its tolerance reaches as far as that")
  end
  return ranged(ctx, path, f, value, si)
end
function scalar.ratio(ctx, path, f, value)
  if type(value) ~= "number" then refuse.wrong(ctx, path, f, value) end
  return ranged(ctx, path, f, value, value)
end
scalar.number = scalar.ratio
function scalar.money(ctx, path, f, value)
  if not host.is(value, "money") and not host.is(value, "money per length")
      and not host.is(value, "money per volume") then refuse.wrong(ctx, path, f, value) end
  return ranged(ctx, path, f, value, host.si(value))
end
function scalar.count(ctx, path, f, value)
  if math.type(value) ~= "integer" then
    local n = type(value) == "number" and math.tointeger(value)
    if not n then refuse.wrong(ctx, path, f, value) end
    value = n
  end
  return ranged(ctx, path, f, value, value)
end
function scalar.text(ctx, path, f, value)
  if type(value) ~= "string" then refuse.wrong(ctx, path, f, value) end
  if host.unsafe(value) or not string.find(value, "%S") or f.digit and not string.find(value, "%d") then
    refuse.text(ctx, path, f, value)
  end
  return value
end
function scalar.flag(ctx, path, f, value)
  if type(value) ~= "boolean" then refuse.wrong(ctx, path, f, value) end
  return value
end
function scalar.date(ctx, path, f, value)
  if type(value) ~= "string" or not schema.is_date(value) then refuse.wrong(ctx, path, f, value) end
  return value
end
scalar.position = position
function scalar.choice(ctx, path, f, value)
  if type(f.choices_from) == "string" then
    if host.in_column(f.choices_from, value) then return value end
  else
    local choices = f.choices
    for i = 1, #choices do if choices[i] == value then return value end end
  end
  local code = f.no_data and no_data.of(value)
  if not code then refuse.choice(ctx, path, f, value) end
  local why, help = no_data.refused(code)
  if why then bad(ctx, path, refuse.called(path) .. ": " .. why, help, "D023") end
  return value
end
-- "6 AWG", "#6" and 6mm2, but never a bare "6": whose it is, the code's or the metric one, nobody can tell.
function scalar.wire(ctx, path, f, value)
  local text = (math.type(value) or host.is(value, "area")) and host.format(value) or value
  local w = host.wire(text)
  if not w then refuse.wrong(ctx, path, f, value) end
  if type(text) == "string" and not string.find(text, "[^%d/. \t]") then
    refuse.bare_wire(ctx, path, value, text, w)
  end
  return w
end
function scalar.part(ctx, path, f, value)
  if type(value) ~= "string" then refuse.wrong(ctx, path, f, value) end
  return ctx.part(f.of, value, path)
end
-- The record, and where the field has a `rest`: what the text says behind a dot, as in "shed.A".
function scalar.ref(ctx, path, f, value)
  return ctx.ref(f.of, value, path, f)
end
function scalar.func(ctx, path, f, value)
  if type(value) ~= "function" then refuse.wrong(ctx, path, f, value) end
  return value
end

-- The amount of a limit as a field: one of one's own has no range.
local function amount_of(f)
  local of = (f.dim == "ratio" or f.dim == "number") and f.dim or "quantity"
  return { f.name, of, name = f.name, type = of, dim = of == "quantity" and f.dim or nil,
      min = not f.own and not f.above and 0 or nil, above = f.above, max = f.max, example = f.example, says = f.says }
end
schema.amount_of_limit = amount_of

-- What there is to say of any limit beside its amount; `says` of one with a name of one's own alone.
local beside = {
  cite = { type = "text", example = "county zoning 4.2" },
  since = { type = "date" },
  may_waive = { type = "choice" },
  says = { type = "text", example = "least way to the fence" },
}

local extended = host.longer

-- { 20ft, cite = "...", from = "natural grade" }: a limit of a place or a house.
function scalar.limit(ctx, path, f, value)
  if type(value) ~= "table" or run.is_record(value) then refuse.wrong(ctx, path, f, value) end
  local amount = amount_of(f)
  if #value > 1 or not (amount.type ~= "quantity" and type(value[1]) == "number"
      or f.dim and host.is(value[1], f.dim)) then
    refuse.amount(ctx, path, f, value, amount)
  end
  local written = ctx.origin(value[1])
  if written and written.tolerance then
    bad(ctx, extended(path, 1), "the amount of '" .. path[#path] .. "' has a tolerance, but a limit is a limit",
        "write the amount alone")
  end
  local out = { value = scalar[amount.type](ctx, extended(path, 1), amount, value[1]) }
  for k, v in host.sorted(value) do
    local extra, told = f.extra and f.extra[k], beside[k]
    if k == "says" and not (f.own or f.own_words) then
      bad(ctx, extended(path, k), "'" .. path[#path] .. "' is a standard limit and means: " .. f.says,
          "leave says out, or give a limit of your own another name", "D006")
    elseif k == "may_waive" then
      out.may_waive = scalar.choice(ctx, extended(path, k), { type = "choice",
          choices = schema.kinds.rule.by.may_waive.choices }, v)
    elseif told then out[k] = scalar[told.type](ctx, extended(path, k), told, v)
    elseif extra then out[k] = scalar.choice(ctx, extended(path, k), { type = "choice", choices = extra }, v)
    elseif k ~= 1 then refuse.stranger_to_limit(ctx, path, f, k)
    end
  end
  if not out.cite then
    bad(ctx, path, "'" .. path[#path] .. "' does not say where it stands",
        'add cite = "county zoning 4.2" or cite = "house custom"', "D002")
  end
  return out
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
  if type(value) ~= "table" or run.is_record(value) then refuse.wrong(ctx, path, f, value) end
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
  if f.least and n == 0 then refuse.empty(ctx, path, f) end
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
  if type(value) ~= "table" or run.is_record(value) then refuse.wrong(ctx, path, f, value) end
  local names, out = {}, {}
  for k in pairs(value) do
    if type(k) ~= "string" then
      bad(ctx, path, "'" .. tostring(path[#path]) .. "' is a table with names",
          "write { " .. (f.example or "F1 = 0in") .. " }")
    end
    if host.unsafe(k) then schema.plain(ctx, extended(path, k), "a name in '" .. tostring(path[#path]) .. "'", k) end
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
  local by = def.by
  for k in next, value do
    if by[k] then goto known end
    if type(k) == "string" then
      strangers = strangers or {}
      strangers[#strangers + 1] = k
    elseif not def.items or math.type(k) ~= "integer" then
      positional = true
    else
      items = items + 1
    end
    ::known::
  end
  local faults = ctx.faults
  if positional then told(ctx, path, refuse.nameless, ctx, path, def, value) end
  if strangers then
    table.sort(strangers)
    for _, name in ipairs(strangers) do told(ctx, path, refuse.stranger, ctx, path, def, name) end
  end
  local open = ctx.open    -- whether a name is not looked up yet
  ctx.open = nil
  local missing            -- told last: what is there and wrong says more than what is not there yet
  local all = def.fields
  for i = 1, #all do                              -- ipairs is dear where a loop is run for all that is declared
    local f = all[i]
    local v, rest = value[f.name], nil
    if v ~= nil then
      out[f.name], rest = validated(ctx, path, f.name, f, v)
      if rest then told(ctx, path, take_rest, ctx, path, f, rest, out, value) end
    elseif not f.required and f.default == nil or (f.unless or f.only) and not wanted(def, f, out, value) then
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
  if missing and def.sorts and sound and not ctx.partial and def.check(out) then  -- another sort is meant
    told(ctx, path, check_together, ctx, path, def, out, value)
    missing = nil
  end
  if missing and not ctx.partial then
    if ctx.lacks then ctx.lacks(path, missing) else refuse.missing(ctx, path, missing[1]) end
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
  if type(value) ~= "table" or run.is_record(value) then refuse.wrong(ctx, path, f, value) end
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
