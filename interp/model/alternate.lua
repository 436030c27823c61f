-- SPDX-License-Identifier: MIT
-- An alternate of the job that was declared, or what an expectation changes of it, as a plan for a run of its own:
-- values by path, drops, and whole declarations that are new.  Loaded when one is asked for.
local run = import "model.run"
local schema = import "model.schema"
local record = import "model.record"
local build = import "model.build"
local path_of = import "model.path"
local like = import "model.like"
local alternate = {}

local function refuse(code, text, help) host.raise { code = code, text = text, help = help } end

local function bundle_of(name)
  local bundle = run.alternates[name]
  if bundle then return bundle end
  local near = host.nearest(name, run.alternates)
  refuse("U002", "the script has no alternate '" .. name .. "'", near and "did you mean '" .. near .. "'?"
      or #run.alternates > 0 and "it has " .. table.concat(run.alternates, ", ") or "it declares none")
end

-- A changed copy as a table: what was written for it, and what it is of by name.
local function written(copy)
  local d, whole = record.inside[copy], {}
  for i = #d.layers, 1, -1 do whole = like.merge(whole, d.layers[i].raw) end
  whole.like = d.like
  return whole
end

local function is_copy(value) return record.is(value) and record.inside[value].copy end

-- Records of this run become their names, what they hold becomes tables.
local function plain(value, from)
  if type(value) ~= "table" then return value end
  if is_copy(value) then value = written(value) end
  local t, d = build.teller_of(value), record.inside[value]
  if not t and not d and is_copy(value.like) then
    local own = {}
    for k, v in next, value do if k ~= "like" then own[k] = v end end
    value = like.merge(written(value.like), own)
  end
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
  if not (kind.named or kind.may_name) or type(fields) ~= "table" or kind.by[name] then return false end
  local names, lacks = {}, nil
  for i, r in ipairs(record.all(kind.name)) do
    names[i] = record.inside[r].name
    if names[i] == name then return false end
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

-- Whether it is one that has no name, of a kind of which none is declared.
local function is_first(kind, fields)
  if not (kind.single or kind.may_name) or record.all(kind.name)[1] then return false end
  for key in next, fields do
    if not (kind.by[key] or kind.items and math.type(key) == "integer") then return false end
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
      local kind, fields = schema.kinds[k], plain(v, from)
      if is_first(kind, fields) then
        plan[#plan + 1] = { add = kind.name, raw = fields, from = from }
        fields = {}
      end
      for key, inner in host.sorted(fields) do
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
