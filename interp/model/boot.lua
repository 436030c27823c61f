-- SPDX-License-Identifier: MIT
-- Puts the language together: engine, library, and one job's run.
import "model.util"
local run = import "model.run"
local schema = import "model.schema"
for _, m in ipairs { "job", "site", "structure", "electrical", "parts" } do import(m .. ".schema") end
local record = import "model.record"
local build = import "model.build"
local declare = import "model.declare"
import "parts.files"
for _, m in ipairs { "structure", "electrical", "buying" } do import(m .. ".results") end

local boot = { schema = schema, record = record, declare = declare }

-- measured(...) and its like, between the run that read the alternates and the one that runs one of them.
local function kept(how, value, by) return { ["told value"] = { how = how, value = value, by = by } } end

local function retold(value)
  if type(value) ~= "table" then return value end
  local t = value["told value"]
  if t then return build.teller(t.how)(retold(t.value), t.by) end
  local out = {}
  for k, v in next, value do out[k] = retold(v) end
  return out
end

-- Declares a job in a fresh run. options: { script, plan = { { path, value, from, tolerance }, { drop, from } or
-- { add, name, raw, from } ... } }
function boot.declare(options)
  run.new()
  for _, p in ipairs(options.plan or {}) do
    if p.drop then run.dropped[p.drop] = p.from
    elseif p.add then
      run.added[#run.added + 1] = { add = p.add, name = p.name, raw = retold(p.raw), from = p.from }
    else build.override(p.path, retold(p.value), p.from, p.tolerance) end
  end
  declare.run(options.script)
  host.style { us = record.root.units == "US", fraction = record.root.lengths == "feet and inches" and 16 or 0 }
end

-- "path=value" of the command line: a quantity, a number, true or false, or a text.
function boot.setting(text)
  local path, value = text:match("^%s*(.-)%s*=%s*(.-)%s*$")
  local from = "--set " .. text
  local function refuse(why)
    host.raise { code = "U001", text = from .. ": " .. why, help = "as in --set rack.east.tilt=30deg" }
  end
  if value == "" then refuse "no value behind the equal sign" end
  if not path or path == "" then refuse "write --set PATH=VALUE" end
  local v, tolerance = host.literal(value)
  if v == nil then
    tolerance = nil
    if value == "true" then v = true elseif value == "false" then v = false
    else v = value:match('^"(.*)"$') or value:match("^'(.*)'$") or value end
  end
  return { path = path, value = v, tolerance = tolerance, from = from }
end

-- What an alternate changes, as a plan for a fresh run: values by path, drops, and whole declarations that are new.
function boot.alternate_plan(name)
  local bundle = run.alternates[name]
  if not bundle then
    local near = host.nearest(name, run.alternates)
    host.raise { code = "U002", text = "the script has no alternate '" .. name .. "'",
        help = near and "did you mean '" .. near .. "'?"
            or #run.alternates > 0 and "it has " .. table.concat(run.alternates, ", ") or "it declares none" }
  end
  local plan, from = {}, 'alternate "' .. name .. '"'
  local function plain(value)              -- records of this run become their names, what they hold becomes tables
    if type(value) ~= "table" then return value end
    local t, d = build.teller_of(value), record.inside[value]
    if t then return kept(t.how, plain(t.value), t.by) end
    if d and d.v and not d.group then return d.name or tostring(value) end
    if d and d.order then
      host.raise { code = "D003", text = from .. ": all of " .. d.def.name .. " together are no value",
          help = "name one of them" }
    end
    local out = {}
    for k, v in next, d and (d.v or d.list or d.map) or value do out[k] = plain(v) end
    return out
  end
  local function named(key, never_a_number)
    if type(key) ~= "string" and (never_a_number or math.type(key) ~= "integer") then
      host.raise { code = "D003", text = from .. ": a name is wanted, got " .. host.describe(key),
          help = "as in rack = { east = { tilt = 30deg } }" }
    end
    return key
  end
  local function walk(path, value)
    if type(value) == "table" and value[1] == nil and next(value) ~= nil and not value["told value"] then
      for k, v in host.sorted(value) do walk(record.step(path, named(k)), v) end
    else
      plan[#plan + 1] = { path = path, value = value, from = from }
    end
  end
  for k, v in host.sorted(bundle) do
    if k == "drop" then
      for i, p in host.sorted(type(v) == "table" and not record.is(v) and v or { v }) do
        if math.type(i) ~= "integer" then
          host.raise { code = "D003", text = from .. ": drop is a list of paths, without names: got '" ..
              tostring(i) .. "'", help = 'as in drop = "rack.east"' }
        end
        plan[#plan + 1] = { drop = tostring(p), from = from }      -- of a record: its path
      end
    else
      v = plain(v)
      local kind = schema.kinds[k]
      for key, inner in host.sorted(v) do
        named(key, kind.named)
        local new = kind.named and type(inner) == "table" and not kind.by[key] and true
        if new then for _, r in ipairs(record.all(k)) do if r.name == key then new = false end end end
        if new then
          local names, lacks = {}, nil
          for i, r in ipairs(record.all(k)) do names[i] = r.name end
          for _, f in ipairs(kind.fields) do
            lacks = lacks or f.required and inner[f.name] == nil and inner.like == nil and f.name
          end
          local near = lacks and host.nearest(key, names)
          if near then
            host.raise { code = "D019", text = from .. ": no " .. k .. " is named '" .. key ..
                "', and for a new one '" .. lacks .. "' is missing", help = "did you mean '" .. near .. "'?" }
          end
        end
        if new then plan[#plan + 1] = { add = kind.name, name = key, raw = inner, from = from }
        else walk(record.step(k, key), inner) end
      end
    end
  end
  return plan
end

function boot.judge()
  for _, m in ipairs { "site", "structure", "electrical" } do import(m .. ".rules") end
  return import("model.judge").all()
end

return boot
