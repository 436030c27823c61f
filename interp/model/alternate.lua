-- SPDX-License-Identifier: MIT
-- An alternate of the job that was declared, or what an expectation changes of it, as a plan for a run of its own:
-- values by path, drops, and whole declarations that are new.  Loaded when one is asked for.
local run = import "model.run"
local schema = import "model.schema"
local record = import "model.record"
local build = import "model.build"
local path_of = import "model.path"
local alternate = {}

local function refuse(code, text, help) host.raise { code = code, text = text, help = help } end

local function bundle_of(name)
  local bundle = run.alternates[name]
  if bundle then return bundle end
  local near = host.nearest(name, run.alternates)
  refuse("U002", "the script has no alternate '" .. name .. "'", near and "did you mean '" .. near .. "'?"
      or #run.alternates > 0 and "it has " .. table.concat(run.alternates, ", ") or "it declares none")
end

-- Records of this run become their names, what they hold becomes tables.
local function plain(value, from)
  if type(value) ~= "table" then return value end
  local t, d = build.teller_of(value), record.inside[value]
  if t then return { ["told value"] = { how = t.how, value = plain(t.value, from), by = t.by } } end
  if d and d.v and not d.group then return d.name or tostring(value) end
  if d and d.order then
    refuse("D003", from .. ": all of " .. d.def.name .. " together are no value", "name one of them")
  end
  local out = {}
  for k, v in next, d and (d.v or d.list or d.map) or value do out[k] = plain(v, from) end
  return out
end

local function check_name(key, from, never_a_number)
  if type(key) ~= "string" and (never_a_number or math.type(key) ~= "integer") then
    refuse("D003", from .. ": a name is wanted, got " .. host.describe(key),
        "as in rack = { east = { tilt = 30deg } }")
  end
end

-- Whether a bundle's entry is a declaration of its own: nothing of that kind has the name.
local function is_new(kind, name, fields, from)
  if not kind.named or type(fields) ~= "table" or kind.by[name] then return false end
  local names, lacks = {}, nil
  for i, r in ipairs(record.all(kind.name)) do
    names[i] = r.name
    if r.name == name then return false end
  end
  for _, f in ipairs(kind.fields) do
    lacks = lacks or f.required and fields[f.name] == nil and fields.like == nil and f.name
  end
  local near = lacks and host.nearest(name, names)
  if near then
    refuse("D019", from .. ": no " .. kind.name .. " is named '" .. name .. "', and for a new one '" .. lacks ..
        "' is missing", "did you mean '" .. near .. "'?")
  end
  return true
end

local function put_values(plan, path, value, from)
  if type(value) == "table" and value[1] == nil and next(value) ~= nil and not value["told value"] then
    for k, v in host.sorted(value) do
      check_name(k, from)
      put_values(plan, record.step(path, k), v, from)
    end
  else
    plan[#plan + 1] = { path = path, value = value, from = from }
  end
end

local function put_drops(plan, list, from)
  for i, p in host.sorted(type(list) == "table" and not record.is(list) and list or { list }) do
    if math.type(i) ~= "integer" then
      refuse("D003", from .. ": drop is a list of paths, without names: got '" .. tostring(i) .. "'",
          'as in drop = "rack.east"')
    end
    plan[#plan + 1] = { drop = path_of.tidy(tostring(p)), from = from }      -- of a record: its path
  end
end

-- The plan of a bundle: changes by kind, name and field.
function alternate.changes(bundle, from)
  local plan = {}
  for k, v in host.sorted(bundle) do
    if k == "drop" then put_drops(plan, v, from)
    else
      local kind = schema.kinds[k]
      for key, inner in host.sorted(plain(v, from)) do
        check_name(key, from, kind.named)
        if is_new(kind, key, inner, from) then
          plan[#plan + 1] = { add = kind.name, name = key, raw = inner, from = from }
        else
          put_values(plan, record.step(k, key), inner, from)
        end
      end
    end
  end
  return plan
end

function alternate.plan(name) return alternate.changes(bundle_of(name), 'alternate "' .. name .. '"') end

alternate.plain = plain

return alternate
