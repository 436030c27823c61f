#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- No number and no word of a standard or of the trade stands in the code that judges: tests/numbers.lua [FOLDER], from
-- the top folder of the project.  They are rows of interp/data, each with its source and how it was come by.
--   stdlib       numbers but for a few that belong to no table; quantities, alone or in prose; lists of words that are
--                cells of one column, and comparisons with such a word; sections and editions of codes
--   interp/calc  sections and editions of codes in texts: a citation is a key of citations.csv
-- An exception says why, and one that is no longer needed fails too.
local top = (arg and arg[1] or ".") .. "/"

-- Said by the schema of the field itself, or by an example of what a person may write.
local RANGES = { min = true, max = true, above = true, order = true, form = true, least = true, most = true }
-- 1e-9: slack of a comparison.
local PLAIN = { ["0"] = true, ["0.0"] = true, ["1"] = true, ["2"] = true, ["100"] = true, ["1e-9"] = true }

local EXCEPTIONS = {
  { "stdlib/frame/rafters.lua", "0.5", "statics: a rafter's own weight acts in its middle" },
  { "stdlib/joints/fastener.lua", "bolt", "the one place that tells bolts from screws" },
  { "stdlib/joints/fastener.lua", "wood screw", "the one place that tells thin screws from others" },
  { "stdlib/joints/rules.lua", "3", "own choice: how many more fasteners are tried" },
  { "stdlib/joints/rules.lua", "6", "own choice: how many longer screws are tried" },
  { "stdlib/parts/schema.lua", "450 lbf", "an example of a cell" },
  { "stdlib/marks/sheets/drill.lua", "bolt", "what is drilled for" },
  { "stdlib/marks/marks.lua", "3", "own choice: from so many on, names are told from the first to the last" },
  { "stdlib/modules/models.lua", "375 mm", "an example" },
  { "stdlib/parts/schema.lua", "300 mm", "an example of a cell" },
  { "stdlib/parts/schema.lua", "450 mm", "an example of a cell" },
  { "stdlib/parts/schema.lua", "100 mm", "an example of a cell" },
  { "stdlib/parts/schema.lua", "250 mm", "an example of a cell" },
  { "stdlib/places/places.lua", "10 ft", "an example" },
  { "stdlib/places/places.lua", "12 ft", "an example" },
  { "stdlib/places/schema.lua", "1e5", "the range of fields" },
  { "stdlib/posts/named.lua", "8", "own choice: how many posts are named one by one" },
  { "stdlib/site/schema.lua", "0.5 in", "an example" },
  { "stdlib/site/schema.lua", "5.12 ft", "an example" },
  { "stdlib/structure/rails.lua", "36 ft", "an example" },
  { "stdlib/structure/rails.lua", "84 mm", "an example" },
  { "stdlib/structure/schedule.lua", "3", "columns of a table" },
  { "stdlib/footings/schema.lua", "1.6 m", "an example" },
  { "stdlib/footings/schema.lua", "1/2 in", "what somebody claims, in the standard's words" },
  { "stdlib/buying/sheets/cutting.lua", "1/8 in", "what lengths are printed to" },
  { "stdlib/buying/fit.lua", "20000", "own choice: how many ways of cutting are tried" },
  { "stdlib/buying/needs.lua", "8", "own choice: how many posts are named one by one" },
  { "stdlib/job/sheets/head.lua", "1/16 in", "what lengths are printed to" },
  { "stdlib/parts/files.lua", "12", "digits of a key" },
  { "stdlib/parts/files.lua", "250 ft", "an example of a cell" },
  { "stdlib/parts/schema.lua", "6 AWG", "an example of a cell" },
  { "stdlib/parts/schema.lua", "80 lb", "an example of a cell" },
  { "stdlib/papers/schema.lua", "200000 lbf", "the range of fields" },
  { "stdlib/papers/schema.lua", "900 lbf", "an example" },
  { "stdlib/papers/schema.lua", "2300 lbf", "an example" },
  { "stdlib/papers/schema.lua", "450 lbf", "an example" },
  { "stdlib/papers/schema.lua", "1800 lbf", "an example" },
  { "stdlib/structure/by_hand.lua", "6", "digits of what is put in" },
  { "stdlib/structure/by_hand.lua", "4", "digits of a result, as sheets print" },
  { "stdlib/structure/loads_sheet.lua", "4", "digits of a factor just above 1" },
  { "stdlib/structure/loads_sheet.lua", "3", "digits of a share" },
  { "stdlib/job/not_judged.lua", "3", "how many make a list with commas" },
  { "stdlib/site/sheets/markout.lua", "4", "lines for a pencil" },
  { "stdlib/site/schema.lua", "800 m", "how far to walk: half a mile, for whoever walks in metres" },
  { "stdlib/footings/schema.lua", "48 in", "an example, in the help of a refusal" },
  { "stdlib/electrical/schema.lua", "3 ft", "an example, in the help of a refusal" },
  { "stdlib/electrical/schema.lua", "5 ft", "an example, in the help of a refusal" },
  { "stdlib/loads/beam.lua", "1.0", "a beam whose stiffness does not matter: reactions alone are asked" },
  { "stdlib/loads/cases.lua", 'A", "B', "how the figure's cases are called" },
  { "stdlib/loads/cases.lua", "6", "a slanted pressure: its end is 6 e / B above its middle, statics" },
  { "stdlib/loads/members.lua", "3", "a rail's effective area is a third of its span wide at least" },
  { "stdlib/loads/members.lua", "4", "a brace that holds a head reaches to its post's upper quarter" },
  { "stdlib/loads/members.lua", 'snow", "wind', "what combinations last" },
  { "stdlib/loads/results.lua", "ASCE 7-22", "the edition whose method is not kept" },
  { "stdlib/loads/stiffness.lua", "1e10", "any stiffness, where posts alike share by their heights alone" },
  { "stdlib/loads/stiffness.lua", "timber", "a material of poles" },
  { "stdlib/papers/schema.lua", 'allowable", "strength', "the levels that papers say" },
  { "stdlib/posts/schema.lua", "timber", "a material of poles" },
  { "stdlib/site/sheets/place.lua", 'wind", "snow', "fields of the site" },
  { "stdlib/structure/feet.lua", "timber", "a material of poles" },
  { "stdlib/screws/refuse.lua", "2-7/8 in", "an example" },
  { "stdlib/screws/refuse.lua", "10 ft", "an example" },
  { "stdlib/structure/of_paper.lua", "allowable", "the level of a paper" },
  { "stdlib/structure/of_paper.lua", "strength", "the level of a paper" },
}

local function read(path)
  local file = assert(io.open(top .. path, "rb"))
  local text = file:read "a"
  file:close()
  return text
end

local function files(where, pattern)
  local list = {}
  local pipe = assert(io.popen("cd '" .. top .. "' && find " .. where .. " -type f | LC_ALL=C sort"))
  for path in pipe:lines() do if path:find(pattern) then list[#list + 1] = path end end
  pipe:close()
  return list
end

-- ---- words that are cells of tables --------------------------------------------------------------------------------

local function cells_of(line)
  local list, at = {}, 1
  while at <= #line + 1 do
    local cell, next
    if line:sub(at, at) == '"' then
      local from, to = at + 1, at
      repeat to = assert(line:find('"', to + 1, true), line)
        local doubled = line:sub(to + 1, to + 1) == '"'
        if doubled then to = to + 1 end
      until not doubled
      cell, next = line:sub(from, to - 1):gsub('""', '"'), to + 2
    else
      local comma = line:find(",", at, true) or #line + 1
      cell, next = line:sub(at, comma - 1), comma + 1
    end
    list[#list + 1] = cell
    at = next
  end
  return list
end

local columns_of = {}                    -- cell -> { [table.column] = true }
for _, path in ipairs(files("interp/data", "%.csv$")) do
  local head
  local known = path:match "([^/]*)%.csv$"
  for line in (known == "units" or known == "citations") and function() end or read(path):gmatch "[^\r\n]+" do
    if not line:find "^[#=]" then
      local cells = cells_of(line)
      if not head then head = cells
      else
        for i, column in ipairs(head) do
          local name, kind = column:match "^([^:]*):(.*)$"
          if kind == "text" and name ~= "name" and name ~= "key" and name ~= "source" and name ~= "cite" and
             known ~= "editions" and cells[i] ~= "" then
            columns_of[cells[i]] = columns_of[cells[i]] or {}
            columns_of[cells[i]][known .. "." .. name] = true
          end
        end
      end
    end
  end
end

-- ---- what stands in a file -----------------------------------------------------------------------------------------

local units = "in ft mm cm m yd mil lb kg oz psf psi pcf plf kPa Pa lbf N kip deg degC degF K V kV A W kW mph h d " ..
  "min AWG"
local is_unit = {}
for unit in units:gmatch "%S+" do is_unit[unit] = true end

-- Codes and their sections: 1807.3, 690.7(A), Table 310.16, NEC 2020, ASCE 7-16, 29 CFR.
local function section_in(text)
  return text:match "%f[%w]%d%d%d+%.%d[%w.()]*" or text:match "%f[%w]N[EDF][CSP]A? %d[%d-]*"
      or text:match "%f[%w]ASCE 7%S*" or text:match "%f[%w]IBC %d+" or text:match "%d+ CFR" or text:match "Eq%. %d%S*"
      or text:match "Table %d%S*" or text:match "Chapter %d+" or text:match "Fig%. %d%S*"
end

-- A number with its unit in prose or alone; 0 and 1 of a unit are no number of anybody's.
local function quantity_in(text)
  for before, number, unit in (" " .. text):gmatch "([^%w.])(%d[%d./-]*) ?([%a%%]+)" do
    local written = text:find("= " .. number .. unit, 1, true)            -- F1 = 5.12ft: what a person may write
    if is_unit[unit] and number ~= "0" and number ~= "1" and not written and before then
      return number .. " " .. unit
    end
  end
end

-- Tokens of a Lua file: kind ("string", "number", "other"), text, line, and the name that it is the value of.
local function tokens(text)
  local list, at, line = {}, 1, 1
  local function add(kind, from, to)
    list[#list + 1] = { kind = kind, text = text:sub(from, to), line = line }
    for _ in text:sub(from, to):gmatch "\n" do line = line + 1 end
    at = to + 1
  end
  while at <= #text do
    local c = text:sub(at, at)
    if text:find("^%-%-", at) then
      at = (text:find("\n", at, true) or #text + 1)
    elseif c == "\n" then line, at = line + 1, at + 1
    elseif c:find "%s" then at = at + 1
    elseif c == '"' or c == "'" then
      local to = at
      repeat to = assert(text:find("[\\" .. c .. "]", to + 1)) local escape = text:sub(to, to) == "\\"
        if escape then to = to + 1 end
      until not escape
      add("string", at, to)
    elseif text:find("^%d", at) or text:find("^%.%d", at) then
      add("number", at, select(2, text:find("^[%w.]+", at)))
      local last = list[#list]
      if last.text:find "[eE]$" and text:find("^[+-]%d+", at) then
        local _, to = text:find("^[+-]%d+", at)
        last.text, at = last.text .. text:sub(at, to), to + 1
      end
    elseif text:find("^[%a_]", at) then add("other", at, select(2, text:find("^[%w_]+", at)))
    else add("other", at, at) end
  end
  return list
end

-- The field that a token stands in the value of: min in "min = math.rad(90), ...".
local function mark_fields(list)
  local field, depth
  for i, t in ipairs(list) do
    if t.kind == "other" and t.text:find "^[%a_]" and list[i + 1] and list[i + 1].text == "=" and
       (not list[i + 2] or list[i + 2].text ~= "=") and (RANGES[t.text] or t.text == "example") then
      field, depth = t.text, 0
    elseif field and t.kind == "other" then
      if t.text:find "^[({%[]$" then depth = depth + 1
      elseif t.text:find "^[)}%]]$" then depth = depth - 1 end
      if depth < 0 or depth == 0 and t.text == "," then field = nil end
    end
    t.field = field
  end
end

local problems, used = {}, {}
local function problem(path, line, token, what)
  for i, e in ipairs(EXCEPTIONS) do
    if e[1] == path and e[2] == token then used[i] = true return end
  end
  problems[#problems + 1] = path .. ":" .. line .. ": " .. what .. " '" .. token .. "'"
end

local function judge_lua(path, text_of_file)
  local list = tokens(text_of_file)
  mark_fields(list)
  local function text_at(i) return list[i] and list[i].kind == "string" and list[i].text:sub(2, -2) end
  -- The column that both are cells of.
  local function shared(a, b)
    for column in pairs(columns_of[a] or {}) do if (columns_of[b] or {})[column] then return column end end
  end
  for i, t in ipairs(list) do
    local before, after = list[i - 1] and list[i - 1].text, list[i + 1] and list[i + 1].text
    local index = before == "[" and after == "]"
    if t.field == "example" then goto next end
    if t.kind == "number" and not RANGES[t.field] and not PLAIN[t.text] and not index then
      problem(path, t.line, t.text, "a number")
    elseif t.kind == "string" then
      local text = text_at(i)
      local section, quantity = section_in(text), quantity_in(text)
      local listed = after == "," and text_at(i + 2) and shared(text, text_at(i + 2))
      local compared = before == "=" and list[i - 2].text:find "^[=~]$" and next(columns_of[text] or {})
      if section then problem(path, t.line, section, "a section or an edition")
      elseif quantity then problem(path, t.line, quantity, "a quantity")
      elseif listed then problem(path, t.line, text .. '", "' .. text_at(i + 2), "words of " .. listed)
      elseif compared then problem(path, t.line, text, "a word of " .. compared) end
    end
    ::next::
  end
end

-- What must be noticed, and what must not.
local PLANTS = {
  'local deepest = host.literal "8ft"', 'local n = 24', 'local share = 0.75', 'cite = "IBC 1807.3.2.1"',
  'cite = "Eq. 18-1"', 'cite = "{building} 1809.5"', 'local t = { "UC4B", "UC4C" }', 'return t == "UC4B"',
  'local ok = edition ~= "ASCE 7-16"', 'says = "no hole up to 24 in passes"', 'default = "80lb"',
  'local word = { "sandy gravel", "bedrock" }', 'cite = "29 CFR 1926.1408"',
}
local FINE = {
  'max = 3650 * 86400', '{ "tilt", "quantity", min = 0, max = math.rad(90), example = "35deg" }', 'local x = a[3]',
  'return 2 * x + 1e-9 - 1', '-- 24 in, IBC 1807.3', 'cite = "{frost_depth}"', 'return v.hole_depth == 0',
  '{ "gravel", "quantity", example = "6in" }',
}
local planted = {}
for _, line in ipairs(PLANTS) do
  local n = #problems
  judge_lua("plant", line)
  if #problems == n then planted[#planted + 1] = "not noticed: " .. line end
  problems[n + 1] = nil
end
for _, line in ipairs(FINE) do
  judge_lua("fine", line)
  if #problems > 0 then planted[#planted + 1] = "noticed without need: " .. line end
  problems = {}
end
problems = planted

for _, path in ipairs(files("stdlib", "%.lua$")) do judge_lua(path, read(path)) end
for _, path in ipairs(files("interp/calc", "%.[ch]$")) do
  local line = 0
  local text = read(path):gsub("/%*.-%*/", function(comment) return (comment:gsub("[^\n]", " ")) end)
  for code in text:gmatch "([^\n]*)\n" do
    line = line + 1
    for literal in code:gmatch '"([^"]*)"' do
      local section = section_in(literal)
      if section then problem(path, line, section, "a section or an edition") end
    end
  end
end

for i, e in ipairs(EXCEPTIONS) do
  if not used[i] then problems[#problems + 1] = e[1] .. ": no exception needed for '" .. e[2] .. "'" end
end
for _, p in ipairs(problems) do
  print("    " .. p .. (not p:find "^%S+:%d+:" and "" or ": put it into a table of interp/data"))
end
print("numbers: " .. (#problems == 0 and "1 passed, 0 failed" or "0 passed, " .. #problems .. " failed"))
os.exit(#problems == 0)
