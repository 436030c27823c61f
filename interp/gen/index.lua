-- SPDX-License-Identifier: MIT
-- Runs every module of every domain and writes down what each brings: the index that interp/model/domains.lua reads.
-- Given the paths of the domains' files; gives the index as modules: { name = text }.
local paths = ...

local function fault(text) host.raise { code = "D000", text = text } end

-- ---- what there is -------------------------------------------------------------------------------------------------

-- A domain: { name, order, always, modules = { schema, results, rules, helpers, sheets } by their names }.
local domains, by = {}, {}
for _, path in ipairs(paths) do
  local name, rest = path:match("([^/]+)/(sheets/[^/]+)%.lua$")
  if not name then name, rest = path:match("([^/]+)/([^/]+)%.lua$") end
  local d = by[name]
  if not d then
    d = { name = name, order = 1000, always = false, modules = {} }
    domains[#domains + 1], by[name] = d, d
  end
  if rest == "domain" then
    local said = import(name .. ".domain")
    for key, value in pairs(said) do
      if key ~= "order" and key ~= "always" then fault(path .. ": a domain has no '" .. tostring(key) .. "'") end
      d[key] = value
    end
  else
    d.modules[#d.modules + 1] = name .. "." .. rest:gsub("/", ".")
  end
end
table.sort(domains, function(a, b) if a.order ~= b.order then return a.order < b.order end return a.name < b.name end)

local domain_of = {}
for _, d in ipairs(domains) do
  table.sort(d.modules)
  for _, m in ipairs(d.modules) do domain_of[m] = d end
end

local function module(d, name)
  for _, m in ipairs(d.modules) do if m == d.name .. "." .. name then return m end end
end

-- ---- running them --------------------------------------------------------------------------------------------------

local found = { kinds = {}, file_words = {}, results = {}, rules = {}, sheets = {} }     -- name -> module
local running = {}
local function here(what) return running[#running] or fault(what .. " is declared outside the modules") end

-- The engine asks for the index while it is being made: then whatever is asked for is brought by what is left to run.
local real = import
local kind_names = setmetatable({}, { __index = function(_, name)
  for _, d in ipairs(domains) do
    local m = module(d, "schema")
    if m and not d.met then
      d.met = true
      import(m)
      if found.kinds[name] then return found.kinds[name] end
    end
  end
end })
local empty = { ["index.words"] = { kinds = kind_names, order = {}, place = {}, children = {}, file_words = {},
                                   fields = {} },
                ["index.results"] = {}, ["index.result_order"] = {}, ["index.rules"] = {}, ["index.sheets"] = {},
                ["index.formulas"] = {} }

function import(name)
  if empty[name] then return empty[name] end
  running[#running + 1] = name
  local value = real(name)
  running[#running] = nil
  return value
end

import "model.util"
local schema, graph, rule = import "model.schema", import "model.graph", import "model.rule"
local declare = import "model.declare"

local added = {}                                  -- kind -> field -> module
local kinds, results, rules = {}, {}, {}          -- in the order in which they came, by module

local function noting(t, name, note)
  local f = t[name]
  t[name] = function(...)
    note(...)
    return f(...)
  end
end

local function keep(list, m, what)
  list[m] = list[m] or {}
  table.insert(list[m], what)
end

noting(schema, "kind", function(def)
  local m = here("kind " .. tostring(def[1]))
  if found.kinds[def[1]] then fault(m .. " and " .. found.kinds[def[1]] .. " both declare the kind " .. def[1]) end
  found.kinds[def[1]] = m
  keep(kinds, m, def)
end)
noting(schema, "add_fields", function(kind, fields)
  added[kind] = added[kind] or {}
  for _, f in ipairs(fields) do
    if added[kind][f[1]] then fault("two domains add the field " .. f[1] .. " to " .. kind) end
    added[kind][f[1]] = here("the field " .. f[1])
  end
end)
noting(declare, "file_word", function(word) found.file_words[word] = here("the word " .. word) end)
noting(graph, "added", function(kind, def) keep(results, here(kind .. "." .. def.name), { kind, def.name }) end)
noting(rule, "add", function(def)
  local m = here("rule " .. tostring(def.id))
  if found.rules[def.id] then fault(m .. " and " .. found.rules[def.id] .. " both have a rule " .. def.id) end
  found.rules[def.id] = m
  keep(rules, m, def)
end)
import "model.boot"
for _, d in ipairs(domains) do if module(d, "schema") then d.met = true import(module(d, "schema")) end end
local sheets = {}
for _, d in ipairs(domains) do
  for _, m in ipairs(d.modules) do
    local value = import(m)
    if m:find "%.sheets%." then
      if type(value) ~= "table" or not value.name then fault(m .. " gives no sheet with a name") end
      if found.sheets[value.name] then fault("there are two sheets " .. value.name) end
      found.sheets[value.name] = m
      sheets[#sheets + 1] = { name = value.name, title = value.title, order = value.order or 1000, module = m,
          of = value.of or value.kinds or {}, sorts = value.sorts, beside = value.beside and true, build = value.build,
          crew = value.crew, changes = value.changes,
          alone = not (value.short or value.head or value.inputs or value.last) or nil }
    end
  end
end
table.sort(sheets, function(a, b) if a.order ~= b.order then return a.order < b.order end return a.name < b.name end)

-- ---- the index -----------------------------------------------------------------------------------------------------

-- Modules of a list in the order of their domains.
local function in_order(list)
  local out = {}
  for _, d in ipairs(domains) do
    for _, m in ipairs(d.modules) do if list[m] then out[#out + 1] = m end end
  end
  return out
end

-- The declared kind that a kind hangs on at last: while none is declared, there is none of it either.
local function root(kind)
  local def = rawget(schema.kinds, kind)
  while def.parent do def = schema.kinds[def.parent] end
  return def.name
end

local function quoted(x) return type(x) == "string" and string.format("%q", x) or tostring(x) end

-- A table as Lua text: the list first, then the names in their order.
local function text_of(t)
  if type(t) ~= "table" then return quoted(t) end
  local parts = {}
  for i, v in ipairs(t) do parts[i] = text_of(v) end
  for k, v in host.sorted(t) do
    if math.type(k) ~= "integer" then parts[#parts + 1] = "[" .. quoted(k) .. "]=" .. text_of(v) end
  end
  return "{" .. table.concat(parts, ",") .. "}"
end

local words = { kinds = found.kinds, order = {}, place = {}, children = {}, file_words = found.file_words,
    fields = added }
for _, m in ipairs(in_order(kinds)) do
  for _, def in ipairs(kinds[m]) do
    words.order[#words.order + 1] = def[1]
    words.place[def[1]] = #words.order
    if def.parent then
      words.children[def.parent] = words.children[def.parent] or {}
      table.insert(words.children[def.parent], def[1])
    end
  end
end

local results_of, result_order = {}, {}          -- kind -> name -> module; kind -> names
for _, m in ipairs(in_order(results)) do
  for _, r in ipairs(results[m]) do
    local kind, name = r[1], r[2]
    results_of[kind], result_order[kind] = results_of[kind] or {}, result_order[kind] or {}
    results_of[kind][name] = m
    table.insert(result_order[kind], name)
  end
end

local rules_of = {}            -- { module, always, kinds, id, severity, each, ... }
for _, m in ipairs(in_order(rules)) do
  local d, row, has = domain_of[m], { module = m, kinds = {} }, {}
  row.always = d.always
  for _, def in ipairs(rules[m]) do
    if not def.each and not d.always then
      fault(m .. ": rule " .. def.id .. " is judged on the job, so that it must stand in a domain that is always " ..
          "judged: give it an `each`, or say always = true in domain.lua of " .. d.name)
    end
    for _, kind in ipairs { def.each, def.and_each } do
      if not found.kinds[kind] then fault(m .. ": rule " .. def.id .. ": no kind " .. kind) end
      local of = root(kind)
      if not has[of] then has[of] = true table.insert(row.kinds, of) end
    end
    table.insert(row, def.id)
    table.insert(row, def.severity)
    table.insert(row, def.each or false)
  end
  rules_of[#rules_of + 1] = row
end

for _, s in ipairs(sheets) do
  for _, kind in ipairs(s.of) do
    if not found.kinds[kind] then fault("sheet " .. s.name .. ": no kind " .. kind) end
  end
  local of, has = {}, {}
  for _, kind in ipairs(s.of) do
    local r = root(kind)
    if not has[r] then has[r] = true of[#of + 1] = r end
  end
  s.of = of
end

local out = {}
for name, t in pairs { words = words, results = results_of, result_order = result_order, rules = rules_of,
    sheets = sheets } do
  out[name] = "return " .. text_of(t) .. "\n"
end

-- Formulas that are plain arithmetic, as the Lua that they mean: reading a text costs more than working it out.
local lines = { "return {" }
for _, m in ipairs(in_order(results)) do
  for _, r in ipairs(results[m]) do
    local def = schema.kinds[r[1]].results[r[2]]
    local read = def.formula and import("model.formula").read(def.formula)
    if read and read.lua then
      lines[#lines + 1] = "[" .. quoted(r[1] .. "." .. r[2]) .. "]=function(x) return " .. read.lua .. " end,"
    end
  end
end
out.formulas = table.concat(lines, "\n") .. "\n}\n"
return out
