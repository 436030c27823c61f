-- SPDX-License-Identifier: MIT
-- Puts the language together: engine, library, and one job's run.
import "lang.util"
local schema = import "lang.schema"
local record = import "lang.record"
local build = import "lang.build"
local graph = import "lang.graph"
for _, m in ipairs { "job", "site", "structure", "electrical", "parts" } do import("schema." .. m) end
local declare = import "lang.declare"
import "files"
for _, m in ipairs { "structure", "electrical", "buying" } do import("results." .. m) end
record.start(graph)

local boot = { schema = schema, record = record, graph = graph, declare = declare }

-- options: { script, set = { "path=value", ... }, on, alternate, plan = { { path, value, from } or { drop }, ... } }
function boot.declare(options)
  for _, p in ipairs(options.plan or {}) do
    if p.drop then record.dropped[p.drop] = p.from
    elseif p.add then record.added[#record.added + 1] = p
    else build.override(p.path, p.value, p.from, p.tolerance) end
  end
  declare.run(options.script)
  host.style { us = record.root.units == "US", fraction = record.root.lengths == "feet and inches" and 16 or 0 }
end

-- "path=value" of the command line: a quantity, a number, true or false, or a text.
function boot.setting(text)
  local path, value = text:match("^%s*(.-)%s*=%s*(.-)%s*$")
  local from = "--set " .. text
  if value == "" then host.raise { code = "U001", text = from .. ": no value behind the equal sign", help = "as in --set rack.east.tilt=30deg" } end
  if not path or path == "" then host.raise { code = "U001", text = from .. ": write --set PATH=VALUE", help = "as in --set rack.east.tilt=30deg" } end
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
  local bundle = declare.alternates[name]
  if not bundle then
    local near = host.nearest(name, declare.alternates)
    host.raise { code = "U002", text = "the script has no alternate '" .. name .. "'", help = near and "did you mean '" .. near .. "'?" or
                   #declare.alternates > 0 and "it has " .. table.concat(declare.alternates, ", ") or "it declares none" }
  end
  local plan, from = {}, 'alternate "' .. name .. '"'
  local seen = {}
  local function plain(value)              -- records of this run become their names
    value = build.untold(value)
    if record.is(value) then return value.name end
    if type(value) ~= "table" or record.inside[value] then return value end
    if seen[value] then
      host.raise { code = "D013", text = from .. ": a table contains itself", help = "a table holds values and other tables, never itself" }
    end
    seen[value] = true
    local out = {}
    for k, v in next, value do out[k] = plain(v) end
    seen[value] = nil
    return out
  end
  local function walk(path, value)
    if type(value) == "table" and value[1] == nil and next(value) ~= nil then
      for k, v in host.sorted(value) do walk(record.step(path, k), v) end
    else
      plan[#plan + 1] = { path = path, value = value, from = from }
    end
  end
  for k, v in host.sorted(bundle) do
    v = plain(v)
    if k == "drop" then
      for _, p in ipairs(type(v) == "table" and v or { v }) do plan[#plan + 1] = { drop = p, from = from } end
    else
      local kind = schema.kinds[k]
      for key, inner in host.sorted(v) do
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
            host.raise { code = "D019", text = from .. ": no " .. k .. " is named '" .. key .. "', and for a new one '" ..
                           lacks .. "' is missing", help = "did you mean '" .. near .. "'?" }
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
  for _, m in ipairs { "site", "structure", "electrical" } do import("rules." .. m) end
  return import("lang.rule").judge()
end

return boot
