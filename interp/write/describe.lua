-- SPDX-License-Identifier: MIT
-- What may be said: a kind of declaration, one of its fields, a primitive, a word; and the units.
local schema = import "model.schema"
local manual = import "write.manual"
local page = import "write.page"
local describe = {}

local function sentence(text) return text:sub(1, 1):upper() .. text:sub(2) end

-- Name in its own column, the rest beside it.
local function entry(p, name, width, lines, depth)
  local indent = ("  "):rep(depth + 1)
  local first = indent .. name
  local gap = 2 + width + 2
  if #first + 2 > gap then
    p:line(first)
    first = ""
  end
  local blank = (" "):rep(gap)
  for i, text in ipairs(lines) do p:para(text, i == 1 and first .. (" "):rep(gap - #first) or blank, blank) end
end

local function field_lines(f, around)
  local lines = { f.says }
  lines[#lines + 1] = manual.needs(f) .. "; " .. manual.state(f)
  local by = manual.known_by(f, around)
  if by then lines[#lines + 1] = "told by: " .. by end
  return lines
end

local function put_fields(p, fields, around)
  local width = 0
  manual.each_field(fields, around, function(_, f, depth) width = math.max(width, 2 * depth + #f.name) end)
  width = math.min(width, 22)
  manual.each_field(fields, around, function(_, f, depth, by) entry(p, f.name, width, field_lines(f, by), depth) end)
end

local function put_kind(p, def)
  p:line(manual.written(def))
  p:para(sentence(def.says) .. ".", "  ")
  local where = manual.where(def)
  if where then p:para(sentence(where) .. ".", "  ") end
  if def.like then p:para('like = "NAME" takes over what a ' .. def.like .. " says; its own fields go first.", "  ") end
  local items = manual.items(def)
  if items then
    p:head("Values without a name")
    p:para(items, "  ")
  end
  if #def.fields > 0 then
    p:head("Fields")
    put_fields(p, def.fields, def)
  end
  local results = manual.results(def)
  if #results > 0 then
    p:head("Results, worked out from them")
    local rows = {}
    for _, r in ipairs(results) do rows[#rows + 1] = { r.name, manual.result_dim(r) or "", r.says or "" } end
    p:table({ "", "", { "", wrap = true } }, rows, "  ")
  end
  local children = manual.children(def)
  if #children > 0 then
    p:head("Each has")
    for _, k in ipairs(children) do
      p:para(manual.written(k) .. ": " .. k.says .. " (`stringline describe " .. k.name .. "`)", "  ")
    end
  end
end

local function put_primitive(p, op)
  p:line("calc." .. op.name .. " { ... }")
  p:para(sentence(op.help) .. ".", "  ")
  p:head("Inputs")
  local rows = {}
  for _, f in ipairs(op.inputs) do
    rows[#rows + 1] = { f.name, manual.input(f) .. (f.optional and "; optional" or ""), f.help or "" }
  end
  p:table({ "", { "", wrap = true }, { "", wrap = true } }, rows, "  ")
  p:head("Outputs")
  rows = {}
  for _, f in ipairs(op.outputs) do rows[#rows + 1] = { f.name, manual.input(f), f.help or "" } end
  p:table({ "", { "", wrap = true }, { "", wrap = true } }, rows, "  ")
end

local function put_list(p, title, rows)
  p:head(title)
  p:table({ "", { "", wrap = true } }, rows, "  ")
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

local function put_all(p)
  p:para("`stringline describe NAME` tells more of each of these; also of one field or result, as in rack.tilt.")
  put_list(p, "Declarations", declarations())
  local rows = {}
  for _, k in ipairs(schema.all()) do if k.part or k.parent then rows[#rows + 1] = { k.name, k.says } end end
  put_list(p, "Parts, prices, and what hangs on a declaration", rows)
  for _, group in ipairs(manual.words) do
    rows = {}
    for _, w in ipairs(group[2]) do rows[#rows + 1] = { w[1], w[3] } end
    put_list(p, group[1], rows)
  end
  put_list(p, "Primitives, as calc.NAME { ... }", primitive_rows())
end

-- "rack.posts.treatment" -> the kind, the field, its path, what is around it; a field's name alone does not do.
local function field_at(name)
  local kind, rest = name:match("^([%a_][%w_]*)%.(.+)$")
  local def = kind and schema.kinds[kind]
  if not def then return nil end
  local f, fields, around = nil, def.fields, def
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
  local names = {}
  for _, k in ipairs(schema.all()) do names[#names + 1] = k.name end
  for _, group in ipairs(manual.words) do for _, w in ipairs(group[2]) do names[#names + 1] = w[1] end end
  for _, op in ipairs(primitives()) do names[#names + 1] = op.name end
  local near = host.nearest(name, names)
  host.raise { code = "U003", text = "nothing to describe is called '" .. name .. "'",
               help = near and "did you mean '" .. near .. "'?" or "`stringline describe` lists all there is" }
end

function describe.describe(name)
  local p = page.new()
  if not name then
    put_all(p)
    return p:text()
  end
  local bare = name:match("^calc%.(.+)$") or name
  if bare == "calc" then
    put_list(p, "Primitives, as calc.NAME { ... }", primitive_rows())
    return p:text()
  end
  if schema.kinds[name] then
    put_kind(p, schema.kinds[name])
    return p:text()
  end
  for _, op in ipairs(primitives()) do
    if op.name == bare then
      put_primitive(p, op)
      return p:text()
    end
  end
  local word = manual.word(name)
  if word then
    p:line(word[2])
    p:para(sentence(word[3]) .. ".", "  ")
    return p:text()
  end
  local def, f, rest, around = field_at(name)
  if not def then not_there(name) end
  if f then
    p:line(name)
    for _, text in ipairs(field_lines(f, around)) do p:para(text, "  ") end
    local inner = f.fields or f.item and f.item.fields
    if inner then
      p:head("Fields")
      put_fields(p, inner, (f.who or f.tool) and f or around)
    end
    return p:text()
  end
  for _, r in ipairs(manual.results(def)) do
    if r.name == rest then
      p:line(name)
      p:para("a result: " .. (manual.result_dim(r) or "a value"), "  ")
      p:para(r.says or "", "  ")
      return p:text()
    end
  end
  local near = host.nearest(rest, schema.names(def))
  local help = near and "did you mean '" .. near .. "'?" or "`stringline describe " .. def.name .. "` lists them"
  host.raise { code = "U003", text = def.name .. " has no field or result '" .. rest .. "'", help = help }
end

-- ---- units ---------------------------------------------------------------------------------------------------------

function describe.units()
  local p = page.new()
  local taken, refused = {}, {}
  for _, u in ipairs(host.units()) do
    if u.refused ~= "" then refused[#refused + 1] = { u.symbol, u.refused }
    else
      taken[#taken + 1] = { u.symbol, u.aliases, u.name, u.definition ~= "base" and u.definition or "base unit" }
    end
  end
  p:para("Units are glued to the number: 6ft, 150psf/ft, -0.25%/K, 3500[lbf*ft]. docs/language.md has the grammar.")
  p:blank()
  p:table({ "unit", "also", { "name", wrap = true }, { "is", wrap = true } }, taken)
  p:head("Refused, as people mean different things by them")
  p:table({ "", { "", wrap = true } }, refused, "  ")
  return p:text()
end

-- The longer writings stand in files of their own.
function describe.form() return import "write.form"() end
function describe.reference() return import "write.reference"() end

return describe
