-- SPDX-License-Identifier: MIT
-- Results that jobs, places and houses declare themselves: result { of = "run", name = "feet_per_string", ... }.
-- They belong to the run, behind the library's (schema.result), and are worked out and kept like those.  Loaded at the
-- first of them.
local run = import "model.run"
local schema = import "model.schema"
local gather = import "model.gather"
local record = import "model.record"
local graph = import "model.graph"
local build = import "model.build"
local formula = import "model.formula"
local names = import "model.formula_names"
local step = import("model.path").step
local own_results = {}

local function raise(s, code, text, help, more)
  local err = { code = code, text = text, help = help, source = s.source, line = s.line, col = s.col, len = s.len }
  for k, v in next, more or {} do err[k] = v end
  host.raise(err)
end

-- ---- working out ---------------------------------------------------------------------------------------------------

local types = { text = "text", ["true or false"] = "flag", count = "count", number = "number", ratio = "ratio" }

-- What `is` means: the value, as a field of that type would have it, or nil.
local takes = {
  text = function(v) return type(v) == "string" and v or nil end,
  ["true or false"] = function(v) if type(v) == "boolean" then return v end end,
  count = function(v) return type(v) == "number" and math.tointeger(v) or nil end,
  number = function(v) return type(v) == "number" and v or nil end,
}
takes.ratio = takes.number

local function amount(v) return type(v) == "number" or host.is_quantity(v) end

-- The word of `is` for what a value is; nil where there is none.
local function kind_of_value(v)
  if type(v) == "string" then return "text" end
  if type(v) == "boolean" then return "true or false" end
  if type(v) == "number" then return "number" end
  local dim = host.is_quantity(v) and host.unit(v)
  for _, known in ipairs(dim and schema.kinds.result.by.is.choices or {}) do if known == dim then return dim end end
end

local function is_instead(v)
  local is = kind_of_value(v)
  return is and 'if that is what it is, write is = "' .. is .. '"' or nil
end

local function help_for(def, v)
  if def.is == "count" and type(v) == "number" then return "floor, ceil or round make it whole" end
  if type(v) == "number" and not types[def.is] then return "an amount has a unit, as in 2 * 3ft" end
  return is_instead(v)
end

-- The value as it was worked out, if it is what the declaration says.
local function fitting(rec, def, value)
  local path = step(rec.path, def.name)
  if value == nil then
    host.raise { code = "G003", class = "missing", text = path .. " cannot be worked out: its function gave nil",
        path = path }
  end
  if amount(value) then
    local si = host.si(value)
    if si ~= si or si == math.huge or si == -math.huge then
      raise(def.how_place, "D004", path .. " is no number: was something divided by 0?", def.script and
          "where there is no value return nil: it is unknown then" or "as in rows > 0 ? power / rows : power")
    end
  end
  local take, fits = takes[def.is], nil
  if take then fits = take(value) elseif host.is(value, def.is) then fits = value end
  if fits == nil then
    raise(def.how_place, "G002", path .. " should be " .. schema.wants(def.wanted) .. ", got " .. host.describe(value),
        help_for(def, value))
  end
  local unsafe, help = host.unsafe(type(fits) == "string" and fits or "")
  if unsafe then raise(def.how_place, "D021", path .. " holds " .. unsafe, help) end
  return fits
end

-- What it raised says where that was; what has no place of its own stands where the result is declared.
local function blame(def, err)
  if type(err) == "table" and err.class == nil and (err.source or 0) == 0 then
    local s = def.how_place
    err.source, err.line, err.col, err.len = s.source, s.line, s.col, s.len
  end
  error(err, 0)
end

local function counted(...) return select("#", ...), (...) end

local function asked(rec, def) return counted(host.call(def.script, rec.proxy, record.root)) end

local function worked(rec, def)
  local ok, n, value = pcall(asked, rec, def)
  if not ok then blame(def, n) end
  if n == 0 then
    raise(def.how_place, "G003", "result " .. def.name .. ": its function gave nothing", "is 'return' missing?")
  end
  return fitting(rec, def, value)
end

local function by_formula(rec, def)
  local ok, value = pcall(def.read.run, rec.proxy)
  if ok then return fitting(rec, def, value) end
  if type(value) == "table" and not value.code then      -- the evaluator's own words
    raise(def.how_place, "G004", "the formula of " .. step(rec.path, def.name) .. ": " .. value.text)
  end
  blame(def, value)
end

-- Works out all of them: an error in one is told though nobody reads it.
function own_results.all()
  for _, def in ipairs(run.results) do
    for _, proxy in ipairs(own_results.records(def)) do graph.try(proxy, def.name) end
  end
end

-- The records that have a result; none where those cannot be derived, and why.
function own_results.records(def)
  if def.kind == "job" then return { record.root } end
  local ok, list = pcall(record.all, def.kind)
  if ok then return list end
  if not host.class(list) then error(list, 0) end
  return {}, list
end

-- ---- declaring -----------------------------------------------------------------------------------------------------

local lua_words = {}
for word in ([[and break do else elseif end false for function goto if in local nil not or repeat return then true
    until while]]):gmatch "%a+" do lua_words[word] = true end

-- Kinds of which no record is kept, and types, which leave out what a result would read.
local function has_records(kind) return not kind.partial and not schema.not_kept[kind.name] end

local function kind_of(ctx, of)
  local kind = schema.kinds[of]
  if kind and has_records(kind) then return kind end
  local known = {}
  for _, k in ipairs(schema.all()) do if has_records(k) then known[#known + 1] = k.name end end
  local near = host.nearest(of, known)
  if kind and kind.partial then near = of:match "^(.*)_type$" or near end
  raise(ctx.span { "of" }, "G007", ctx.what .. ": 'of' names no kind that has results: '" .. of .. "'",
      near and "did you mean '" .. near .. "'?" or "it is a kind of declaration, as in of = \"run\", or of = \"job\"")
end

-- What a record of the kind answers to that name already, in words; nil: nothing.
local function taken(kind, name)
  if kind.by[name] then return "a field" end
  if kind.children[name] or kind.name == "job" and schema.kinds[name] then return "a declaration" end
  if kind.results[name] then return "a result" end
  local list = kind.list_field
  if name == "name" or name == "job" or name == "parent" or name == "with" or list and list.name == name then
    return "a word of its own"
  end
  local group = run.groups[kind.name]
  if group and group.by[name] then return "a record" end
end

local function check_name(ctx, kind, name)
  local s = ctx.span { "name" }
  if not name:find "^[%a_][%w_]*$" then
    local like = name:gsub("[%s-]+", "_")
    raise(s, "G008", ctx.what .. ": a result has a name of letters, digits and underscores, got " ..
        host.describe(name), like:find "^[%a_][%w_]*$" and 'write name = "' .. like .. '"' or
        'as in name = "feet_per_string"')
  end
  if lua_words[name] then
    raise(s, "G008", ctx.what .. ": '" .. name .. "' is a word of Lua", "give the result another name")
  end
  local what = taken(kind, name)
  if what then
    raise(s, "G008", ctx.what .. ": " .. kind.name .. " has " .. what .. " '" .. name .. "' already",
        "give the result another name")
  end
  local first = run.results_of[kind.name] and run.results_of[kind.name].by[name]
  if first then
    local p = first.place
    raise(s, "G008", ctx.what .. ": " .. kind.name .. " has a result '" .. name .. "' already",
        "give one of them another name", {
          labels = p.source == s.source and { { line = p.line, col = p.col, len = p.len,
              text = "first declared here" } } or nil,
          notes = p.source ~= s.source and { "first declared at " .. host.place(p) } or nil })
  end
end

local function check_unit(ctx, v)
  if not v.show then return end
  local s, value = ctx.span { "show" }, host.literal("1[" .. v.show .. "]")
  if types[v.is] or v.is:find "^money" then
    raise(s, "D006", ctx.what .. ': is = "' .. v.is .. '" is printed in no unit of its own', "leave show out")
  end
  if value == nil or not host.is(value, v.is) then
    local _, unit = host.unit(host.literal(host.example(v.is)))
    raise(s, "D003", ctx.what .. ": show needs a unit of " .. v.is .. ', got "' .. v.show .. '"',
        'as in show = "' .. unit .. '"')
  end
end

-- A piece of the formula's text, where that stands as it is written; the whole of it otherwise.
local function piece(s, text, at, len)
  if s.len ~= #text + 2 then return s end
  return { source = s.source, line = s.line, col = s.col + at, len = len }
end

-- "cannot add 3 ft (length) and 4 (a bare number)", without the amounts that it was tried with.
local function kinds_only(text) return (text:gsub("%-?[%d.]+ ?[^%s()]* %(([^)]*)%)", "%1")) end

-- That the formula is one, that its names are there, and that it gives what it says, as far as the schemas tell.
local function check_formula(ctx, kind, v)
  local text, s, amounts = v.formula, ctx.span { "formula" }, {}
  local read, bad = formula.read(text)
  if not read then raise(piece(s, text, bad.at, bad.len), "G004", ctx.what .. ": the formula: " .. bad.text) end
  for _, name in ipairs(read.names) do
    local leaves, i, there = names.ends(kind, name.keys)
    local where = piece(s, text, name.at, name.len)
    if not leaves then
      local near = host.nearest(name.keys[i], there)
      if near then near = table.concat(name.keys, ".", 1, i - 1) .. (i > 1 and "." or "") .. near end
      raise(where, "G004", ctx.what .. ": the formula's '" .. name.path .. "' is no field or result" ..
          (i == 1 and " of " .. kind.name or ""), near and "did you mean '" .. near .. "'?" or
          not kind.parent and name.keys[1] == "parent" and kind.name .. " hangs on nothing" or
          "if it is a result of your own, declare it above this one")
    end
    amounts[name.path] = names.amount(leaves)
    if not leaves[1] or amounts[name.path] == false then
      raise(where, "G004", ctx.what .. ": the formula's '" .. name.path .. "' is no amount",
          "what is no amount is read by a function: work = function(" .. kind.name .. ", job) ... end")
    end
  end
  if v.is == "text" then
    raise(ctx.span { "is" }, "D006", ctx.what .. ": a formula gives an amount, or whether something is so",
        "a text is worked out by a function: work = function(" .. kind.name .. ", job) ... end")
  end
  local value, why = names.try(read, amounts)
  if why and (not why.code or why.code:find "^Q00[356]") then
    raise(s, why.code or "G004", ctx.what .. ": the formula: " .. kinds_only(why.text), why.help)
  end
  local flag = v.is == "true or false"
  if value ~= nil and (flag ~= (type(value) == "boolean") or not flag and (types[v.is] and host.is_quantity(value) or
      not types[v.is] and not host.is(value, v.is))) then
    local got = type(value) == "boolean" and "true or false" or host.is_quantity(value) and (host.unit(value)) or
        "a plain number"
    raise(s, "G002", ctx.what .. ": the formula gives " .. got .. ', not is = "' .. v.is .. '"', is_instead(value))
  end
  return read
end

-- What formulas are told of it: a dimension, "number", "flag", or false where it is none.
local function amount_of(is)
  if is == "true or false" then return "flag" end
  if is == "text" then return false end
  return types[is] and "number" or is
end

function own_results.word(raw)
  local source, line = host.where()
  local mark = host.head(source, line, "result")
  local ctx = { what = type(raw) == "table" and type(raw.name) == "string" and "result " .. raw.name or "result" }
  function ctx.span(p, key_only) return host.span(source, mark, line, p, key_only) end
  function ctx.origin(v) return host.origin(v) end
  function ctx.told(_, v) return v end
  function ctx.defaulted() end
  if type(raw) ~= "table" or run.is_record(raw) then
    raise(host.word(source, line, "result"), "E002", "result needs its table, got " .. host.describe(raw),
        'result { of = "run", name = "feet_per_string", is = "length", means = "...", formula = "..." }')
  end
  local v, wrong = gather.fields(ctx, schema.kinds.result, build.copy(raw, "result"))
  if wrong then
    run.touched = run.touched + 1            -- the script may read it
    return
  end
  local kind = kind_of(ctx, v.of)
  check_name(ctx, kind, v.name)
  check_unit(ctx, v)
  local dim = not types[v.is] and v.is or v.is == "ratio" and "ratio" or nil
  local def = { kind.name, v.name, kind = kind.name, name = v.name, is = v.is, dim = dim, says = v.means, show = v.show,
      cite = v.cite, scripted = true, amount = amount_of(v.is), whose = run.reading[#run.reading].whose,
      place = ctx.span { "name" }, how_place = ctx.span({ v.work and "work" or "formula" }, v.work ~= nil),
      wanted = { type = types[v.is] or v.is:find "^money" and "money" or "quantity", dim = v.is,
          example = not types[v.is] and host.example(v.is) or nil } }
  if v.formula then
    def.formula, def.read, def.find = v.formula, check_formula(ctx, kind, v), by_formula
  else
    def.script, def.find = v.work, worked
    function def.work(proxy, job) return (host.call(def.script, proxy, job)) end
  end
  local of = run.results_of[kind.name] or { by = {} }
  run.results_of[kind.name] = of
  run.results[#run.results + 1], of[#of + 1], of.by[v.name] = def, def, def
end

return own_results
