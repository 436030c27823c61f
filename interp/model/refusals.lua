-- SPDX-License-Identifier: MIT
-- What is wrong with a declaration's fields, in words: loaded with the first fault.  What each gets is as in
-- model.schema: context, path, field and value.
local run = import "model.run"
local schema = import "model.schema"
local gather = import "model.gather"
local record = import "model.record"
local util = import "model.util"
local refusals = {}

local bad, inside = schema.bad, run.inside

local function extended(path, key)
  local p = table.move(path, 1, #path, 1, {})
  p[#p + 1] = key
  return p
end

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
refusals.wants = wants

-- A field as a person calls it: 'tilt', or item 2 of 'front'.
local function called(path)
  local last = path[#path]
  if math.type(last) ~= "integer" then return "'" .. tostring(last) .. "'" end
  local of = path[#path - 1]
  return "item " .. last .. (of and " of '" .. tostring(of) .. "'" or "")
end
refusals.called = called

-- ---- values --------------------------------------------------------------------------------------------------------

local numeric = { quantity = true, ratio = true, count = true, number = true, money = true }

-- A mass, or one on an area.
local function weighs(value)
  return host.is_quantity(value) and (host.is(value, "mass") or host.is(value * host.literal "1m2", "mass"))
end

function refusals.wrong(ctx, path, f, value)
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
function refusals.edge(f, si)
  if f.dim and f.dim ~= "ratio" then
    local example = host.literal(f.example or host.example(f.dim))
    if example and host.is(example, f.dim) then return host.format(host.like(example, si)) end
    return host.format(host.quantity(si, f.dim))
  end
  return host.format(si, (f.type == "ratio" or f.dim == "ratio") and "%" or nil)
end

-- What is no number, or outside of the field's range by more than rounding.
function refusals.out_of_range(ctx, path, f, value, si, help)
  if si ~= si or si == math.huge or si == -math.huge then
    bad(ctx, path, called(path) .. " is no number: was something divided by 0?", "it needs " .. wants(f), "D004")
  end
  local low, high = f.min and si < f.min and not host.near(si, f.min), f.max and si > f.max and not host.near(si, f.max)
  if f.above and si <= f.above then low = true end
  if not low and not high then return end
  local edge = low and (f.above or f.min) or f.max
  local limit = f.type == "money" and host.format(host.like(value, edge)) or refusals.edge(f, edge)
  bad(ctx, path, called(path) .. " must be " .. (low and (f.above and "above " or "at least ") or "at most ") .. limit
      .. ", got " ..
      (f.type == "ratio" and host.format(value, "%") or host.format(value)), help or f.range_help, "D004")
end

-- A text of blanks, one that has no digit, or one that holds what no line may.
function refusals.text(ctx, path, f, value)
  if not string.find(value, "%S") then
    bad(ctx, path, called(path) .. " is empty", f.required and "it needs " .. wants(f)
        or "an empty text says nothing; leave it out")
  end
  if f.digit and not string.find(value, "%d") then
    bad(ctx, path, called(path) .. " is a number on somebody's list, and has no digit: '" .. value .. "'",
        "until there is one it is not declared; as in " .. f.name .. ' = "' .. f.example .. '"')
  end
  schema.plain(ctx, path, called(path), value)
end

-- An angle without a letter or a minus sign: either side may be meant.
function refusals.sideless(ctx, path, sides, degrees)
  local plus, minus, n = sides:sub(1, 1), sides:sub(2, 2), host.format(degrees)
  bad(ctx, path, called(path) .. " does not say on which side: " .. n .. " deg " .. plus .. " or " .. minus .. "?",
      'write "' .. n .. " " .. plus .. '" or "' .. n .. " " .. minus .. '"; a minus sign means ' .. minus)
end

-- The code that is meant but for capitals, blanks and dashes.  Another edition is another code, however near its name.
local function same_code(value, codes)
  local function bare(text) return (string.gsub(string.lower(text), "[%s%p]", "")) end
  for _, code in ipairs(codes) do if bare(code) == bare(value) then return code end end
end
function refusals.choice(ctx, path, f, value)
  local near = type(value) == "string" and (f.no_data and same_code(value, f.choices) or
      not f.no_data and host.nearest(value, f.choices))
  bad(ctx, path, called(path) .. " is one of " .. table.concat(f.choices, ", ") .. "; got " .. host.describe(value),
      near and 'did you mean "' .. near .. '"?' or type(value) ~= "string" and 'it is written in quotes, as in "'
          .. f.choices[1] .. '"' or f.no_data and "a code of which nothing is kept here is declared as such: "
          .. path[#path] .. ' = no_data("' .. value .. '")' or nil)
end

function refusals.bare_wire(ctx, path, value, text, wire)
  bad(ctx, path, called(path) .. " is " .. host.describe(value) .. ": a size of wire has its unit",
      "write " .. host.format(wire) .. (ctx.metric() and " or " .. text .. " mm2, as it is printed on the wire" or ""))
end

function refusals.empty(ctx, path, f) bad(ctx, path, called(path) .. " is empty", "it needs " .. wants(f)) end

-- The amount of a limit, as a field, which is not there, or no such one, or not the only one.
function refusals.amount(ctx, path, f, value, amount)
  for i = 2, #value do
    bad(ctx, extended(path, i), "'" .. path[#path] .. "' has one amount, got a second: " .. host.describe(value[i]),
        type(value[i]) == "number" and "a decimal comma? write 1.5, not 1,5"
            or "what else there is to say needs a name, as in cite = \"...\"", "D005")
  end
  if value[1] == nil then
    bad(ctx, path, "'" .. path[#path] .. "' has no amount",
        "write " .. path[#path] .. ' = { ' .. (f.example or host.example(f.dim)) .. ', cite = "..." }', "D002")
  end
  bad(ctx, extended(path, 1), "the amount of '" .. path[#path] .. "' needs " .. wants(amount) .. ", got " ..
      host.describe(value[1]))
end

function refusals.stranger_to_limit(ctx, path, f, key)
  local names = { "cite", "since", "may_waive" }
  for name in host.sorted(f.extra or {}) do names[#names + 1] = name end
  if f.own or f.own_words then names[#names + 1] = "says" end
  local near = host.nearest(tostring(key), names)
  local at = ctx.span(extended(path, key), true)
  host.raise { code = "D001", text = ctx.what .. ": the limit '" .. path[#path] .. "' has no '" .. tostring(key) .. "'",
      source = at.source, line = at.line, col = at.col, len = at.len, help = near and "did you mean '" .. near .. "'?"
          or "it has an amount and " .. table.concat(names, ", ") }
end

-- ---- fields --------------------------------------------------------------------------------------------------------

function refusals.nameless(ctx, path, def, value)
  bad(ctx, extended(path, 1), "every value needs a name, got " .. host.describe(value[1]),
      type(value[1]) == "number" and "a decimal comma? write 1.5, not 1,5" or "write a field's name before it, as in "
          .. def.fields[1].name .. " = ...", "D005")
end

function refusals.stranger(ctx, path, def, name)
  local names = {}
  for _, f in ipairs(schema.all_fields(def)) do names[#names + 1] = f.name end
  local near = host.nearest(name, names)
  local at = ctx.span(extended(path, name), true)
  host.raise { code = "D001", text = ctx.what .. ": no field '" .. name .. "'", key = name, meant = near,
      source = at.source, line = at.line, col = at.col, len = at.len,
      help = def.moved and def.moved[name] or near and "did you mean '" .. near .. "'?"
          or "it has " .. table.concat(names, ", ") }
end

function refusals.missing(ctx, path, f)
  local at = ctx.span(path)
  host.raise { code = "D002", text = (ctx.like and "neither " .. ctx.what .. " nor " .. ctx.like .. " gives '" ..
          f.name .. "': " or ctx.what .. ": '" .. f.name .. "' is missing: ") .. f.says,
      source = at.source, line = at.line, col = at.col, len = at.len,
      help = "write " .. f.name .. " = ...: it needs " .. wants(f) }
end

-- ---- declarations ---------------------------------------------------------------------------------------------------

-- What is meant by name and is not there; none: what to do where there are no names either.
function refusals.unknown(ctx, p, value, kind_names, known, none)
  if run.unsure or run.hole and value == run.hole then run.follow() end
  local near = type(value) == "string" and gather.suggests() and host.nearest(value, known)
  local s = ctx.span(p)
  local got = record.is(value) and record.title(inside[value].def, inside[value].name) or host.describe(value)
  host.raise { code = "D014",
      text = ctx.what .. ": " .. called(p) .. " names no " .. kind_names .. ": " .. got,
      source = s.source, line = s.line, col = s.col, len = s.len,
      help = near and "did you mean '" .. near .. "'?" or #known > 0 and "there are " .. util.some(known)
          or none or "none is declared above this line" }
end

function refusals.twice(def, name, at, first)
  local a, b = host.span(at.source, at.mark, at.line, {}), inside[first]
  local f = host.span(b.source, b.mark, b.line, {})
  local label = { line = f.line, col = f.col, len = f.len, text = "first declared here" }
  host.raise { code = "D015", text = record.title(def, name) .. " is declared twice",
      source = a.source, line = a.line, col = a.col, len = a.len,
      labels = f.source == a.source and { label } or nil,
      notes = f.source ~= a.source and { "first declared in " .. host.place(f) } or nil,
      help = def.single and "there is one " .. def.name .. " in a job" or
          def.of_file and "there is one " .. def.name .. " in a place file" or "give one of them another name" }
end

-- Its name may be worked out: then no head is marked on its line, and the mark is that of another one above.
function refusals.open_head(head, refuse)
  local at = head.at
  if host.span(at.source, at.mark, at.line, {}).line ~= at.line then
    at = { source = at.source, line = at.line, mark = -1 }
  end
  refuse(at, "D016", record.title(head.def, head.name) .. " has no table",
      "write " .. head.def.name .. ' "' .. head.name .. '" { ... } with the brace on the same line')
end

function refusals.two_tables(def, name)
  host.raise { code = "D016", text = record.title(def, name) .. " takes one table" }
end

return refusals
