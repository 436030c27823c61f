-- SPDX-License-Identifier: MIT
-- What may be said: a kind of declaration, one of its fields, a primitive, a word; and the units.
local schema = import "model.schema"
local manual = import "write.manual"
local meanings = import "write.meanings"
local document = import "write.document"
local describe = {}

local function sentence(text) return text:sub(1, 1):upper() .. text:sub(2) end

-- A row for each field, those of its groups below it.
local function put_fields(d, fields, around, partial)
  local rows = {}
  manual.each_field(fields, around, function(_, f, depth, by)
    rows[#rows + 1] = { f.name, f.says, manual.needs(f) .. "; " .. manual.state(f, partial),
        manual.known_by(f, by) or "", depth = depth }
  end)
  d:table({ { "", key = "field" }, { "", key = "means" }, { "", key = "takes" },
      { "", key = "told by", lead = "told by" } }, rows, { stacked = true })
end

local function put_table(d, title, columns, rows)
  d:heading(title)
  d:inside(d.table, columns, rows)
end

local function put_kind(d, def)
  d:subheading(manual.written(def))
  d:inside(function()
    d:para(sentence(def.says) .. ".")
    local where = manual.where(def)
    if where then d:para(sentence(where) .. ".") end
    if def.types then
      d:para('like = "NAME" takes over what ' .. host.an(def.template.name) .. " or another " ..
          def.name:gsub("_", " ") .. " above says; its own fields go first.")
    end
  end)
  local items = manual.items(def)
  if items then
    d:heading("Values without a name")
    d:inside(d.para, items)
  end
  if #def.fields > 0 then
    d:heading("Fields")
    d:inside(put_fields, schema.all_fields(def), def, def.partial)
  end
  local results = manual.results(def)
  if #results > 0 then
    local rows = {}
    for _, r in ipairs(results) do rows[#rows + 1] = { r.name, manual.result_dim(r) or "", manual.result_says(r) } end
    put_table(d, "Results, worked out from them",
        { { "", key = "result" }, { "", key = "is" }, { "", key = "means", wrap = true } }, rows)
  end
  local children = manual.children(def)
  if #children > 0 then
    d:heading("Each has")
    d:inside(function()
      for _, k in ipairs(children) do
        d:para(manual.written(k) .. ": " .. k.says .. " (`stringline describe " .. k.name .. "`)")
      end
    end)
  end
end

local function put_primitive(d, op)
  d:subheading("calc." .. op.name .. " { ... }")
  d:inside(d.para, sentence(op.help) .. ".")
  local function columns(name)
    return { { "", key = name }, { "", key = "is", wrap = true }, { "", key = "means", wrap = true } }
  end
  local rows = {}
  manual.each_input(op.inputs, function(name, f)
    rows[#rows + 1] = { name, manual.input(f) .. (f.optional and "; optional" or ""), f.help or "" }
  end)
  put_table(d, "Inputs", columns "input", rows)
  rows = {}
  manual.each_input(op.outputs, function(name, f) rows[#rows + 1] = { name, manual.input(f), f.help or "" } end)
  put_table(d, "Outputs", columns "output", rows)
end

local function put_list(d, title, rows)
  put_table(d, title, { { "", key = "word" }, { "", key = "means", wrap = true } }, rows)
end

local function declarations()
  local rows = {}
  for _, k in ipairs(schema.all()) do if not k.part and not k.parent then rows[#rows + 1] = { k.name, k.says } end end
  return rows
end

local function primitive_rows()
  local rows = {}
  for _, op in ipairs(primitives()) do rows[#rows + 1] = { op.name, op.help } end
  return rows
end

local function put_all(d)
  d:para("`stringline describe NAME` tells more of each of these; also of a field or result (rack.tilt, or tilt " ..
      "alone), a rule, a sheet, a choice, a command, an option, a unit.")
  put_list(d, "Declarations", declarations())
  local rows = {}
  for _, k in ipairs(schema.all()) do if k.part or k.parent then rows[#rows + 1] = { k.name, k.says } end end
  put_list(d, "Parts, prices, and what hangs on a declaration", rows)
  for _, group in ipairs(manual.words) do
    rows = {}
    for _, w in ipairs(group[2]) do rows[#rows + 1] = { w[1], w[3] } end
    put_list(d, group[1], rows)
  end
  put_list(d, "Primitives, as calc.NAME { ... }", primitive_rows())
end

-- "rack.posts.treatment" -> the kind, the field, its path, what is around it; a field's name alone does not do.
local function field_at(name)
  local kind, rest = name:match("^([%a_][%w_]*)%.(.+)$")
  local def = kind and schema.kinds[kind]
  if not def then return nil end
  local f, fields, around = nil, schema.all_fields(def), def
  for step in rest:gmatch("[^.]+") do
    if f and (f.who or f.tool) then around = f end
    f = nil
    for _, g in ipairs(fields or {}) do if g.name == step then f = g end end
    if not f then break end
    fields = f.fields or f.item and f.item.fields
  end
  return def, f, rest, around
end

local function not_there(name)
  local names = meanings.names()
  for _, k in ipairs(schema.all()) do names[#names + 1] = k.name end
  for _, group in ipairs(manual.words) do for _, w in ipairs(group[2]) do names[#names + 1] = w[1] end end
  for _, op in ipairs(primitives()) do names[#names + 1] = op.name end
  local near = host.nearest(name, names)
  local help = near and "did you mean '" .. near .. "'?" or "`stringline describe` lists all there is"
  local is_code = name:find "^%u%d%d%d$" and not name:find "^R[1-9]"
  if is_code then help = "a code of a message is explained: stringline explain " .. name
  elseif name:find "^R%d+$" then help = "`stringline reference rules` lists the standard rules"
  elseif name:find "^%u%d+$" then
    help = "a rule of a house or a job is explained with that job: stringline explain JOB " .. name
  end
  host.raise { code = "U003", text = "nothing to describe is called '" .. name .. "'", help = help }
end

local function put_field(d, name, f, around, partial)
  d:subheading(name)
  d:inside(function()
    d:para(f.says)
    d:para(manual.needs(f) .. "; " .. manual.state(f, partial))
    local by = manual.known_by(f, around)
    if by then d:fact_line("told by", by) end
  end)
  local inner = f.fields or f.item and f.item.fields
  if inner then
    d:heading("Fields")
    d:inside(put_fields, inner, (f.who or f.tool) and f or around, partial)
  end
end

-- A kind, a primitive, a word of the language; false if it is none of them.
local function put_whole(d, name)
  if name == "calc" then
    put_list(d, "Primitives, as calc.NAME { ... }", primitive_rows())
    return true
  end
  if schema.kinds[name] then
    put_kind(d, schema.kinds[name])
    return true
  end
  local bare = name:match("^calc%.(.+)$") or name
  for _, op in ipairs(primitives()) do
    if op.name == bare then
      put_primitive(d, op)
      return true
    end
  end
  local word = manual.word(name)
  if not word then return false end
  d:subheading(word[2])
  d:inside(d.para, sentence(word[3]) .. ".")
  for _, form in ipairs(word[4] or {}) do
    d:gap()
    d:subheading(form[1])
    d:inside(d.para, sentence(form[2]) .. ".")
  end
  return true
end

function describe.describe(name)
  local d = document.new("describe", name or "What can be described")
  if not name then
    put_all(d)
    return d
  end
  if put_whole(d, name) then
    local also = document.new("describe", name)
    if meanings.command_line(also, name) then
      d:gap()
      meanings.command_line(d, name)
    end
    return d
  end
  if meanings.put(d, name, put_field) then return d end
  local def, f, rest, around = field_at(name)
  if not def then not_there(name) end
  if f then
    put_field(d, name, f, around, def.partial)
    return d
  end
  for _, r in ipairs(manual.results(def)) do
    if r.name == rest then
      d:subheading(name)
      d:inside(function()
        d:para("a result: " .. (manual.result_dim(r) or "a value"))
        d:para(manual.result_says(r))
      end)
      return d
    end
  end
  local near = host.nearest(rest, schema.names(def))
  local help = near and "did you mean '" .. near .. "'?" or "`stringline describe " .. def.name .. "` lists them"
  host.raise { code = "U003", text = def.name .. " has no field or result '" .. rest .. "'", help = help }
end

-- ---- units ---------------------------------------------------------------------------------------------------------

function describe.units()
  local d = document.new("units", "Units")
  local taken, refused = {}, {}
  for _, u in ipairs(host.units()) do
    if u.refused ~= "" then refused[#refused + 1] = { u.symbol, u.refused }
    else
      taken[#taken + 1] = { u.symbol, u.aliases, u.name, u.definition ~= "base" and u.definition or "base unit" }
    end
  end
  d:para("Units are glued to the number: 6ft, 150psf/ft, -0.25%/K, 3500[lbf*ft]. docs/language.md has the grammar.")
  d:gap()
  d:table({ "unit", "also", { "name", wrap = true }, { "is", wrap = true } }, taken)
  put_table(d, "Refused, as people mean different things by them",
      { { "", key = "unit" }, { "", key = "why", wrap = true } }, refused)
  return d
end

-- The longer writing stands in a file of its own.
function describe.reference() return import "write.reference"() end

return describe
