-- SPDX-License-Identifier: MIT
-- The blank site-visit form: each fact that somebody has to bring, who can tell it, and with which tool.  For paper.
local schema = import "model.schema"
local manual = import "write.manual"
local page = import "write.page"

local rule = ("_"):rep(24)
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

local function blank(p, text)
  local left = "      " .. text
  p:line(left .. (" "):rep(page.width - #left - #marks) .. marks)
end

local function stations(p, u)
  local one = "post ______  ______________ " .. u
  for _ = 1, 4 do p:line("      " .. one .. "     " .. one) end
end

local function answer(p, f)
  local choices = f.type == "choice" and f.choices or f.type == "flag" and { "yes", "no" }
  if choices then
    local text = "circle one:  " .. table.concat(choices, "  /  ")
    if 6 + #text + 2 + #marks > page.width then
      p:para(text, "      ")
      text = ""
    end
    blank(p, text)
  elseif f.type == "map" then
    stations(p, unit(f.item))
  elseif f.type == "list" and f.item.fields then
    for _ = 1, 4 do
      local parts = {}
      for _, g in ipairs(f.item.fields) do
        parts[#parts + 1] = (g.name .. " ______________ " .. unit(g)):gsub(" $", "")
      end
      p:line("      " .. table.concat(parts, "   "))
    end
  else
    blank(p, rule .. " " .. unit(f))
  end
end

-- A fact belongs on the form if somebody is named who can tell it; what the designer decides does not.
local function wanted(f, around) return f.fields == nil and manual.known_by(f, around) ~= nil end

local function put_field(p, path, f, around)
  p:para("[ ] " .. path .. (f.says and f.says ~= path and ": " .. f.says or ""), "  ", "      ")
  p:para("from: " .. manual.known_by(f, around), "      ")
  answer(p, f)
  p:blank()
end

local function put_kind(p, def)
  local fields = {}
  manual.each_field(def.fields, def, function(path, f, _, around)
    local in_heading = def.name == "job" and not path:find(".", 1, true)
    if path:find("[n]", 1, true) or in_heading or not wanted(f, around) then return end
    fields[#fields + 1] = { path, f, around }
  end)
  if #fields == 0 and def.name ~= "none" then return end
  p:head((def.name:gsub("_", " ")))
  p:para(def.says, "  ")
  p:blank()
  if def.name == "none" then
    p:para("Walk the whole ground. What is there gets its distance above; what is not is ticked here.", "  ")
    for _, c in ipairs(def.items.choices) do p:line("  [ ] there is no " .. c) end
    p:line("      walked by " .. rule .. "  on " .. ("_"):rep(12))
  end
  local mapped = false
  for _, e in ipairs(fields) do
    if e[2].type == "map" and mapped then          -- two ways to bring the same heights
      p:para("or, on the same lines, " .. e[1] .. ": " .. e[2].says .. "; strike out what does not apply", "      ")
      p:para("from: " .. manual.known_by(e[2], e[3]), "      ")
      p:blank()
    else put_field(p, e[1], e[2], e[3]) end
    mapped = mapped or e[2].type == "map"
  end
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
  local p = page.new()
  p:line("SITE VISIT")
  p:para("Bring every fact, or write who will. Behind each blank, circle how it is known: M measured (with what), " ..
         "T told (by whom), L looked up (where), G a guess. A fact that nobody knows stays blank: the run lists it, " ..
         "it does not assume it.")
  p:blank()
  p:line("  job " .. rule .. "   client " .. rule)
  p:line("  visited by " .. ("_"):rep(20) .. "   on " .. ("_"):rep(12) .. "   weather " .. ("_"):rep(16))
  p:para("Before anything is dug: the locating service, and the owner about private lines. Look up for wires.", "  ")
  for _, def in ipairs(placed()) do put_kind(p, def) end
  p:head("sketch: north arrow, array, lot lines, well, trench, trees, wires, slope")
  for _ = 1, 12 do p:line("  |" .. (" "):rep(74) .. "|") end
  return p:text()
end
