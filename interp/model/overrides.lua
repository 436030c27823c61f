-- SPDX-License-Identifier: MIT
-- What the command line or an alternate puts in: kept by path, set in the table that a record is built from, and
-- refused where it met nothing.  A run without any does not load this.
local run = import "model.run"
local schema = import "model.schema"
local gather = import "model.gather"
local record = import "model.record"
local path_of = import "model.path"
local build = import "model.build"
local util = import "model.util"
local overrides = {}

local inside, step = record.inside, path_of.step

-- f: the kind, group or list that raw is a table of. What stands there by its name alone keeps it.
local function set_deep(raw, parts, i, value, f)
  if i == #parts then raw[parts[i]] = value return end
  local inner = raw[parts[i]]
  local field = f and (f.by and f.by[parts[i]] or f.item)
  if run.telling[inner] then inner = run.telling[inner].value end
  if type(inner) == "string" and field and field.bare then inner = { [field.bare] = inner } end
  if type(inner) ~= "table" or inside[inner] then inner = {} end
  inner = build.copy(inner, "override")
  raw[parts[i]] = inner
  set_deep(inner, parts, i + 1, value, field)
end

-- Where in an override's path the fields of this record begin; nil if it is for another one.
local function fields_from(o, def, name)
  if o.parts[1] ~= def.name then return nil end
  if name and o.parts[2] == name and #o.parts >= 3 then return 3 end
  if #o.parts >= 2 and def.by[o.parts[2]] then return 2 end
end

-- Those that may be for records of a kind, in their order: of one name, and of any, which name a field alone.
local function overrides_by_name(def)
  local index = run.overrides_of[def.name]
  if index and index.n == #run.overrides then return index end
  index = { n = #run.overrides, named = {}, any = {} }
  run.overrides_of[def.name] = index
  for i, o in ipairs(run.overrides) do
    if o.parts[1] == def.name then
      local second = o.parts[2]
      local list = second ~= nil and def.by[second] and index.any or second ~= nil and index.named[second] or {}
      if second ~= nil and list ~= index.any then index.named[second] = list end
      list[#list + 1] = i
    end
  end
  return index
end

-- All that may be for this record.
local function overrides_for(def, name)
  local index = overrides_by_name(def)
  local places = table.move(index.any, 1, #index.any, 1, {})
  for _, i in ipairs(name and index.named[name] or {}) do places[#places + 1] = i end
  table.sort(places)
  for i, place in ipairs(places) do places[i] = run.overrides[place] end
  return places
end

-- The field at the end of an override's path; nil where there is none.
local function field_of(o, from, def)
  local f = def
  for i = from, #o.parts do
    f = f and (math.type(o.parts[i]) ~= "integer" and f.by and f.by[o.parts[i]] or f.item)
  end
  return f
end

-- What is put in, and its tolerance: as written on the command line it is read as the field wants it.
local function value_of(o, f)
  if not o.text or f and not f.type then return o.value, o.tolerance end
  return import("model.written").value(o.text, f, function(why, help)
    host.raise { code = "D023", text = o.from .. ": " .. why, help = help, source = 0, line = 0, col = 0, len = 0 }
  end)
end

-- What a record is to be like instead: it is put in first, and the rest over what it gives.
function overrides.like(def, name)
  local value
  for _, o in ipairs(overrides_for(def, name)) do
    local from = fields_from(o, def, name)
    if from == #o.parts and o.parts[from] == "like" then value = value_of(o, def.by.like) end
  end
  return value
end

-- What the script says where an override is put in.
local function said(raw, parts, from)
  local value = raw
  for i = from, #parts do
    local t = run.telling[value]
    value = t and t.value or value
    if type(value) ~= "table" or inside[value] then return nil end
    value = value[parts[i]]
  end
  local t = run.telling[value]
  return t and t.value or value
end

-- Puts what --set and an alternate say into the raw table of a declaration or of a part; gives it by path.
function overrides.put_in(def, name, raw)
  local touched = {}
  for _, o in ipairs(overrides_for(def, name)) do
    local from = fields_from(o, def, name)
    if from then
      local value, tolerance = value_of(o, field_of(o, from, def))
      o.stood, o.put, o.at, o.keys = said(raw, o.parts, from), value, name and step(def.name, name) or def.name,
          table.move(o.parts, from, #o.parts, 1, {})
      set_deep(raw, o.parts, from, value, def)
      o.used = (o.used or 0) + 1
      o.kind = from == 2 and not def.single and def or nil
      touched[path_of.join(o.parts, from)] = o
      if tolerance then
        run.tolerances[path_of.below(o.at, o.parts, from)] = tolerance
      end
    end
  end
  return touched
end

-- Adds --set PATH=VALUE or an alternate's value: of a field, of a limit of place or house, or of a literal.  text: as
-- --set has it.
function overrides.add(path, value, from, tolerance, text)
  if string.find(path, ":%d+:%d+$") then
    local file, line, col = import("model.literals").place(path)
    run.literals[#run.literals + 1] = { path = path, file = file, line = line, col = col, value = value, text = text,
        from = from }
    return
  end
  local parts, why = path_of.parse(path)
  if not parts then
    host.raise { code = "D019", text = from .. ": " .. why, help = "as in --set rack.east.tilt=30deg" }
  end
  if parts[1] == "limits" then
    run.limit_changes[#run.limit_changes + 1] = import("model.limits").change {
        path = path_of.join(parts), parts = parts, value = value, from = from }
    return
  end
  run.overrides[#run.overrides + 1] = { path = path_of.join(parts), parts = parts, value = value, from = from,
      tolerance = tolerance, text = text }
end

-- ---- what met nothing ----------------------------------------------------------------------------------------------

-- What was to be left out and is not there.
function overrides.refuse_dropped()
  for path, from in host.sorted(run.dropped) do
    if from then
      local known = {}
      for _, r in ipairs(run.records) do
        if not inside[r].def.part then known[#known + 1] = inside[r].path end
      end
      local near = host.nearest(path, known)
      host.raise { code = "D019", text = from .. ": nothing declared has the path " .. path,
          help = near and "did you mean '" .. near .. "'?" or "as in drop = \"rack.east\"" }
    end
  end
end

-- latitude alone is site.latitude: the path that is meant where one of the records has a field of that name.
local function below_a_kind(o)
  local found
  for _, r in ipairs(run.records) do
    local rec = inside[r]
    if not rec.def.part and not rec.def.parent and rec.def.by[o.parts[1]] then
      if found then return nil end
      found = path_of.below(rec.path, o.parts, 1)
    end
  end
  return found
end

-- An override that met nothing: why.
local function refuse_override(o)
  local k = schema.kinds[o.parts[1]]
  local group = k and record.group(k)
  local named = group and o.parts[2] and group.by[o.parts[2]]
  if k and (#o.parts == 1 or #o.parts == 2 and named) then
    local first = k.fields[1] and k.fields[#k.fields > 1 and 2 or 1].name
    local name = o.parts[2] or k.named and group.order[1] and inside[group.order[1]].name
    host.raise { code = "D019", text = o.from .. ": " .. o.path .. " is a whole declaration, not one of its fields",
        help = "say which field, as in " .. step(name and step(k.name, name) or k.name, first) }
  end
  if k and k.part and not k.named then
    host.raise { code = "D019", text = o.from .. ": a row of a list of " .. k.name .. "s has no path",
        help = 'read another list in its place, as in --set "file prices/yard.csv=prices/other.csv"' }
  end
  local near = not k and (below_a_kind(o) or host.nearest(o.parts[1], schema.words()))
  local known = {}
  if k and gather.suggests() then
    for _, f in ipairs(schema.all_fields(k)) do known[#known + 1] = f.name end
    for _, r in ipairs(group.order) do if inside[r].name then known[#known + 1] = inside[r].name end end
    near = o.parts[2] and host.nearest(tostring(o.parts[2]), known)
  end
  host.raise { code = "D019", text = o.from .. ": nothing declared has the path " .. o.path,
      help = near and "did you mean '" .. near .. "'?"
          or #known > 0 and k.name .. " has " .. util.some(known) or nil }
end

-- One that met several.
local function refuse_unclear(o)
  local names = {}
  for i, r in ipairs(record.group(o.kind).order) do names[i] = inside[r].name end
  host.raise { code = "D019", text = o.from .. ": " .. o.path .. " is meant for which of " ..
      table.concat(names, ", ") .. "?",
      help = "write " .. path_of.below(step(o.kind.name, names[1]), o.parts, 2) }
end

function overrides.settle()
  if run.literals[1] then import("model.literals").refuse_unmet() end
  if run.limit_changes[1] then import("model.limits").refuse_unmet() end
  for _, o in ipairs(run.overrides) do
    if not o.used then gather.attempt(false, refuse_override, o) end
    if o.kind and o.used > 1 then gather.attempt(false, refuse_unclear, o) end
  end
end

return overrides
