-- SPDX-License-Identifier: MIT
-- The blank site-visit form: each fact that somebody has to bring, who can tell it, and with which tool.  For paper.
local schema = import "model.schema"
local manual = import "write.manual"
local document = import "write.document"

local marks = "M  T  L  G"

-- The unit that belongs behind the blank: that of the example.
local function unit(f)
  if f.type == "quantity" or f.type == "money" then
    return (f.example or host.example(f.dim)):match("^[-+$%d.,/]*%s*(.*)$")
  end
  if f.type == "ratio" then return "%" end
  if f.type == "date" then return "year-month-day" end
  if f.type == "position" then return f.axis == "latitude" and "N / S" or "E / W" end
  return ""
end

-- Where it is written: choices to circle, lines for posts or for the parts of a list, or one line.
local function answer(f)
  local choices = f.type == "choice" and f.choices or f.type == "flag" and { "yes", "no" }
  if choices and f.no_data then
    choices = table.move(choices, 1, #choices, 1, {})
    choices[#choices + 1] = "another: ____________"
  end
  if choices then return { choices = choices, marks = marks } end
  if f.type == "map" then
    local one = { "post ______", unit(f.item) }
    return { heads = { one, one }, count = 4 }
  end
  if f.type == "list" and f.item.fields then
    local heads = {}
    for i, g in ipairs(f.item.fields) do heads[i] = { g.name, unit(g) } end
    return { heads = heads, count = 4 }
  end
  if f.type == "list" and f.item.type == "text" then return { heads = { { f.item[1], "" } }, count = 3 } end
  return { unit = unit(f), marks = marks }
end

-- A fact belongs on the form if somebody is named who can tell it; what the designer decides does not.
local function wanted(f, around) return f.fields == nil and manual.known_by(f, around) ~= nil end

local function put_field(d, path, f, around)
  local a = answer(f)
  a.of, a.from = path, manual.known_by(f, around)
  d:blank(path .. (f.says and f.says ~= path and ": " .. f.says or ""), a)
end

-- Two ways to bring the same heights: the second on the lines of the first.
local function other_way(d, path, f, around)
  d:para("or, on the same lines, " .. path .. ": " .. f.says .. "; strike out what does not apply", nil, 0)
  d:para("from: " .. manual.known_by(f, around))
  d:gap()
end

-- What is named without a value is ticked: on_form = { says, tick = words before each, sign = who says so }.
local function put_ticks(d, def)
  d:para(def.on_form.says)
  for _, c in ipairs(def.items.choices) do d:item(def.on_form.tick .. " " .. c, "[ ]") end
  d:para("    " .. def.on_form.sign)
end

local function put_kind(d, def)
  local fields = {}
  manual.each_field(schema.all_fields(def), def, function(path, f, _, around)
    local in_heading = def.on_form and def.on_form.head and not path:find(".", 1, true)
    if path:find("[n]", 1, true) or in_heading or not wanted(f, around) then return end
    fields[#fields + 1] = { path, f, around }
  end)
  local ticked = def.on_form and def.on_form.tick
  if #fields == 0 and not ticked then return end
  d:heading((def.name:gsub("_", " ")))
  d:inside(function()
    d:para(def.says)
    d:gap()
    if ticked then put_ticks(d, def) end
    local mapped = false
    for _, e in ipairs(fields) do
      if e[2].type == "map" and mapped then d:inside(other_way, e[1], e[2], e[3])
      else put_field(d, e[1], e[2], e[3]) end
      mapped = mapped or e[2].type == "map"
    end
  end)
end

-- The facts of the ground and the office first, by the place that their kinds ask for (form = 3), then what is read
-- off labels.
local function placed()
  local first, rest = {}, {}
  for _, def in ipairs(schema.all()) do
    if not def.part and not def.parent and not def.partial then
      local list = def.form and first or rest
      list[#list + 1] = def
    end
  end
  table.sort(first, function(a, b) return a.form < b.form or a.form == b.form and a.name < b.name end)
  return table.move(rest, 1, #rest, #first + 1, first)
end

return function()
  local d = document.new("form", "Site visit")
  d:subheading("SITE VISIT")
  d:para("Bring every fact, or write who will. Behind each blank, circle how it is known: M measured (with what), " ..
         "T told (by whom), L looked up (where), G a guess. A fact that nobody knows stays blank: the run lists it, " ..
         "it does not assume it.")
  d:gap()
  local kinds = placed()
  d:inside(function()
    for _, def in ipairs(kinds) do
      for _, line in ipairs(def.on_form and def.on_form.head or {}) do d:para(line) end
    end
  end)
  for _, def in ipairs(kinds) do put_kind(d, def) end
  for _, def in ipairs(kinds) do
    if def.on_form and def.on_form.sketch then d:figure("sketch", "sketch: " .. def.on_form.sketch, 12) end
  end
  return d
end
