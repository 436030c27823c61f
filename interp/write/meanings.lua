-- SPDX-License-Identifier: MIT
-- What a name alone may mean, for describe: fields and results of any kind, choices, rules, sheets, commands, options,
-- units.
local run = import "model.run"
local schema = import "model.schema"
local record = import "model.record"
local rule = import "model.rule"
local domains = import "model.domains"
local manual = import "write.manual"
local words = import "write.words"
local util = import "model.util"
local meanings = {}

-- Calls f(path, name, field, around) for each field of each kind, and f(path, name, nil, nil, result) for each result.
-- What a type may say stands at the kind that it is a type of.
local function each_definition(f)
  for _, def in ipairs(schema.all()) do
    if not def.partial then
      manual.each_field(schema.all_fields(def), def, function(path, g, _, around)
        f(def.name .. "." .. path:gsub("%[n%]", ""), g.name, g, around)
      end)
    end
    for _, r in ipairs(manual.results(def)) do f(def.name .. "." .. r.name, r.name, nil, nil, r) end
  end
end

local function has_choice(f, name)
  local of = f.type == "choice" and f or f.type == "list" and f.item.type == "choice" and f.item
  for _, choice in ipairs(of and of.choices or {}) do if choice == name then return true end end
  return false
end

-- Whether a word stands in a text, or in a name, whose words are joined by underscores.
local function stands_in(word, text)
  local spaced = " " .. text:lower():gsub("[^%w]+", " ") .. " "
  return spaced:find(" " .. word:lower():gsub("_", " ") .. " ", 1, true) ~= nil
end

-- { exact, akin, choices }: each a list of { path, field, around, result }: those of that name, those in whose names it
-- is a word, and those that it is a choice of.
local function definitions(name)
  local found = { exact = {}, akin = {}, choices = {} }
  each_definition(function(path, own, field, around, result)
    local x = { path = path, field = field, around = around, result = result }
    if own == name then table.insert(found.exact, x)
    elseif stands_in(name, own) then table.insert(found.akin, x) end
    if field and has_choice(field, name) then table.insert(found.choices, x) end
  end)
  return found
end

-- ---- writing -------------------------------------------------------------------------------------------------------

local function is(x)
  if x.field then return manual.needs(x.field) end
  return "a result: " .. (manual.result_dim(x.result) or "a value")
end

-- Each with what it means, and what it takes unless that is plain.
local function put_list(d, title, list, plain)
  if not list[1] then return end
  local rows, columns = {}, { { "", key = "name" }, { "", key = "means" } }
  if not plain then columns[3] = { "", key = "takes" } end
  for i, x in ipairs(list) do rows[i] = { x.path, (x.field or x.result).says or "", not plain and is(x) or nil } end
  d:heading(title)
  d:inside(d.table, columns, rows, { stacked = true })
end

local function put_rule(d, def)
  if not record.inside[record.root].def then run.new() end             -- citations ask the job for its editions
  d:subheading(def.id .. "  " .. def.severity)
  d:inside(function()
    d:para(def.says, "says     ")
    d:para(def.each and "each " .. words.spoken(def.each) .. (def.and_each and " and each " ..
        words.spoken(def.and_each) or "") or "the job", "judges   ")
    d:para(words.cite(def.cite), "cite     ")
    d:para(def.caution, "if not   ")
    local who = def.may_waive or "nobody"
    d:para(who == "nobody" and who or "the " .. who, "waives   ")
    d:para("`stringline explain JOB " .. def.id .. "` tells how a job stands to it.")
  end)
end

local function put_rules_about(d, name)
  local rows = {}
  for _, def in ipairs(rule.all()) do
    if stands_in(name, def.says) then rows[#rows + 1] = { def.id, def.severity, def.says } end
  end
  if not rows[1] then return end
  d:heading "Rules that name it"
  d:inside(d.table, { { "", key = "rule" }, { "", key = "severity" }, { "", key = "says", wrap = true } }, rows)
end

local function put_sheet(d, sheet)
  local of = {}
  for i, kind in ipairs(sheet.of or {}) do of[i] = words.spoken(kind) end
  if of[1] then of[1] = host.an(of[1]) end
  d:subheading("the sheet " .. sheet.name .. ": " .. sheet.title)
  d:inside(function()
    if of[1] then d:para("It is printed where the job declares " .. util.list(of, "or") .. ".") end
    d:para("`stringline sheet JOB " .. sheet.name .. "` prints it" ..
        (sheet.build and ", from stage permit on." or "."))
  end)
end

local function put_command(d, c)
  d:subheading("stringline " .. c.name .. (c.words ~= "" and " " .. c.words or ""))
  d:inside(function()
    d:para(c.says:sub(1, 1):upper() .. c.says:sub(2) .. ".")
    d:para("`stringline help " .. c.name .. "` tells its options.")
  end)
end

local function put_option(d, o, commands)
  local of = {}
  for _, c in ipairs(commands) do if o.of[c.name] then of[#of + 1] = c.name end end
  d:subheading("--" .. o.name .. (o.value ~= "" and " " .. o.value or ""))
  d:inside(function()
    d:para(o.says:sub(1, 1):upper() .. o.says:sub(2) .. ".")
    d:para("An option of " .. util.list(of) .. ".")
  end)
end

local function put_unit(d, u)
  d:subheading(u.symbol .. ": " .. u.name)
  d:inside(function()
    if u.refused ~= "" then return d:para("Refused as a unit: " .. u.refused .. ".") end
    d:para(u.definition ~= "base" and u.definition or "a base unit")
    if u.aliases ~= "" then d:para("also written " .. u.aliases) end
  end)
end

-- ---- what is called so --------------------------------------------------------------------------------------------

local function named(list, name)
  for _, x in ipairs(list) do if x.name == name then return x end end
end

local function unit_of(name)
  for _, u in ipairs(host.units()) do
    if u.symbol == name or (" " .. u.aliases .. " "):find(" " .. name .. " ", 1, true) then return u end
  end
end

-- The commands and options; the library has none.
local function command_line()
  return host.command_line and host.command_line() or { commands = {}, options = {} }
end

-- The command and the option of a name; false: there is neither.
function meanings.command_line(d, name)
  local t = command_line()
  local c, o = named(t.commands, name), named(t.options, name)
  if c then put_command(d, c) end
  if c and o then d:gap() end
  if o then put_option(d, o, t.commands) end
  return c ~= nil or o ~= nil
end

-- Writes all that the name means; put_field(d, path, field, around) writes one field whole.  False: it means nothing.
function meanings.put(d, name, put_field)
  local any = false
  local function apart()
    if any then d:gap() end
    any = true
  end
  local id = name:upper()
  if id:find "^R%d+$" and rule.find(id) then
    apart()
    put_rule(d, rule.find(id))
  end
  local sheet = named(domains.sheets(), name)
  if sheet and sheet.title then
    apart()
    put_sheet(d, sheet)
  end
  local found = definitions(name)
  local one = #found.exact == 1 and found.exact[1]
  if one then
    apart()
    if one.field then put_field(d, one.path, one.field, one.around)
    else
      d:subheading(one.path)
      d:inside(function()
        d:para(is(one))
        d:para(manual.result_says(one.result))
      end)
    end
  elseif found.exact[1] then
    apart()
    put_list(d, "Called " .. name, found.exact)
  end
  local t = command_line()
  if named(t.commands, name) or named(t.options, name) then
    apart()
    meanings.command_line(d, name)
  end
  if found.choices[1] then
    apart()
    put_list(d, '"' .. name .. '" is a choice of', found.choices, true)
  end
  local unit = unit_of(name)
  if unit then
    apart()
    put_unit(d, unit)
  end
  if found.akin[1] then
    apart()
    put_list(d, "With " .. words.spoken(name) .. " in their names", found.akin)
  end
  if any then put_rules_about(d, name) end
  return any
end

-- All that meanings.put knows by name.
function meanings.names()
  local list, has = {}, {}
  local function add(name)
    if not has[name] then list[#list + 1], has[name] = name, true end
  end
  each_definition(function(_, name) add(name) end)
  for _, r in ipairs(rule.all()) do add(r.id) end
  for _, s in ipairs(domains.sheets()) do if s.title then add(s.name) end end
  local t = command_line()
  for _, c in ipairs(t.commands) do add(c.name) end
  for _, o in ipairs(t.options) do add(o.name) end
  return list
end

return meanings
