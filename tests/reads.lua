-- SPDX-License-Identifier: MIT
-- Which fields a run reads: reads.begin() after a job was declared, reads.unread() after all jobs.  A field counts when
-- a result, a rule, a sheet or a writer asks for it by name; that a schema checks it, or lists all it has, is no use.
import "model.boot"
local noting, schema = import "model.noting", import "model.schema"
local record, rule = import "model.record", import "model.rule"
local reads = {}

local seen = {}

-- The field behind a path in full, as kind.field or kind.group.field: names and items left out.
local function field_of(path)
  local proxy, rest = record.locate(path)
  if not proxy then return nil end
  local def = record.inside[proxy].def
  local name, f = def.name, { by = def.by }
  for _, key in ipairs(rest) do
    if math.type(key) == "integer" or f.type == "map" then f = f.item or {}
    elseif f.by and f.by[key] then name, f = name .. "." .. key, f.by[key]
    elseif def.list_field and def.list_field.name == key then return name .. "." .. key
    else return nil end
  end
  return name
end

local note = noting.read
function noting.read(path, value, of, ...)
  local name = not of and field_of(path)
  if name then seen[name] = true end
  return note(path, value, of, ...)
end

-- Limits are asked for by name; rules, results of scripts, waivers and prices are plain tables.
for _, word in ipairs { "limit", "has_limit" } do
  local ask = rule[word]
  rule[word] = function(name)
    seen["limits." .. tostring(name)] = true
    return ask(name)
  end
end

local plain = { rule = true, waive = true, price = true, no_limit = true, result = true }
local fields = schema.fields
function schema.fields(ctx, path, def, value)
  local v = fields(ctx, path, def, value)
  if not plain[def.name] then return v end
  return setmetatable({}, { __index = function(_, key)
    seen[def.name .. "." .. tostring(key)] = true
    return v[key]
  end })
end

function reads.begin() noting.start() end

-- All fields that nobody read, sorted.
function reads.unread()
  local list = {}
  local function look(name, fs)
    for _, f in ipairs(fs) do
      local own = name .. "." .. f.name
      if not seen[own] then list[#list + 1] = own end
      look(own, f.fields or f.item and f.item.fields or {})
    end
  end
  for _, def in ipairs(schema.all()) do
    if def.types then seen[def.name .. ".like"] = true end          -- read as the record is made
    if not def.partial then
      look(def.name, def.fields)
      if def.list_field and not seen[def.name .. "." .. def.list_field.name] then
        list[#list + 1] = def.name .. "." .. def.list_field.name
      end
    end
  end
  table.sort(list)
  return list
end

-- What the report, as text and as JSON, and every sheet read of the job that was declared.
function reads.documents(script)
  reads.begin()
  local options = { command = "run", words = { script }, set = {} }
  local outcomes = import("model.boot").judge()
  local report, sheets = import("write.report").report(outcomes, 0, options), import "write.sheets"
  import "write.text"(report, options)
  import "write.json"(report, options)
  for _, s in ipairs(sheets.state(outcomes)) do
    if not s.withheld then import "write.text"(import "write.sheet"(outcomes, 0, s.sheet.name, options), options) end
  end
end

return reads
