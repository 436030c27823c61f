-- SPDX-License-Identifier: MIT
-- What stands in the place of a record where a rule or a result is tried without a job: it has what `with` gives of it,
-- and the rest of it is missing.  What is read of it is noted.
--
-- A trial: { at, given = { keys of each value that `with` gives, joined } ..., read = { [joined keys] = true }, us,
-- metric = whether lengths are written so }.
local run = import "model.run"
local schema = import "model.schema"
local record = import "model.record"
local build = import "model.build"
local graph = import "model.graph"
local path_of = import "model.path"
local expectation = import "model.expectation"
local standin = {}

local inside, step, extended = record.inside, record.step, expectation.extended

-- ---- reading -------------------------------------------------------------------------------------------------------

local a_name = { "name", "text", name = "name", type = "text", says = "its name", example = "west" }

-- What a kind or a group has under a name, with what it says of it; nil: nothing.
local function known(def, key)
  if type(key) ~= "string" then return nil end
  return def.by[key] or key == "name" and def.named and a_name or
      def.list_field and def.list_field.name == key and def.list_field or schema.result(def, key) or
      def.children and def.children[key] or
      def.name == "job" and def.results and schema.kinds[key] and not schema.kinds[key].parent and schema.kinds[key] or
      nil
end

local function note(rec, key) rec.trial.read[path_of.join(extended(rec.keys, key))] = true end

local function stands_in(rec, key)
  local value = rec.given[key]
  if value ~= nil then
    note(rec, key)
    return value
  end
  if key == "name" and rec.name then return rec.name end                 -- as it is called in the table around it
  local x = known(rec.def, key)
  if not x then record.no_such(rec, key) end
  local path = step(rec.path, key)
  host.raise { code = "D010", class = "missing", text = path .. " is not given: " .. x.says, path = path,
      help = "write it in 'with': " .. key .. " = ..." }
end

-- given(record, name), which reads a field past stands_in, comes by here.
local function listen(holder, key, value)
  if not holder.stands_in then return value end
  value = holder.given[key]
  if value ~= nil then note(holder, key) end
  return value
end

-- ---- making --------------------------------------------------------------------------------------------------------

local us_lengths = { ["in"] = true, ft = true, ["ft-in"] = true, yd = true, mi = true }

-- A value of `with`: in which lengths it is written is how lengths are told.
local function given(trial, keys, value)
  trial.given[#trial.given + 1] = path_of.join(keys)
  if host.is_quantity(value) and host.is(value, "length") then
    local _, unit = host.unit(value)
    if us_lengths[unit] then trial.us = true elseif unit ~= "" then trial.metric = true end
  end
  return value
end

local function bare(value)
  local told = build.teller_of(value)
  return told and told.value or value
end

local function refuse_value(trial, keys, what, wants, value)
  trial.at.refuse(keys, "D003", what .. " needs " .. wants .. ", got " .. host.describe(value),
      type(value) == "number" and "write the unit" or nil)
end

-- A field as a declaration takes it.
local function checked(trial, f, raw, keys, what)
  local above = table.move(keys, 1, #keys - 1, 1, {})
  local ctx = { what = "expect: " .. what }
  function ctx.span(p, key_only) return trial.at.span(table.move(p, 1, #p, #above + 1, extended(above)), key_only) end
  function ctx.origin(v) return host.origin(v) end
  function ctx.told(_, v) return bare(v) end
  function ctx.defaulted() end
  function ctx.metric() return false end
  function ctx.freeze_list(list) return record.list(list, path_of.join(keys)) end
  function ctx.freeze_map(map, names) return record.map(map, names, path_of.join(keys)) end
  return (schema.validate(ctx, { keys[#keys] }, f, raw))
end

local make, collection

local function is_table(value) return type(value) == "table" and not run.is_record(value) end

-- What a field refers to, a group or a part of one: a stand-in of its own.
local function of_record(trial, f, raw, keys, path)
  if f.type == "group" then
    if f.bare and type(raw) == "string" then raw = { [f.bare] = raw } end
    return make(trial, { f }, raw, keys, path)
  end
  local kinds = {}
  for i, name in ipairs(f.type == "part" and { f.of } or f.of) do kinds[i] = schema.kinds[name] end
  return make(trial, kinds, raw, keys, path)
end

local holds_records = { group = true, ref = true, part = true }
local not_given = { conditions = true, lot = true, func = true, limit = true }

local function of_field(trial, f, raw, keys, path, what)
  if holds_records[f.type] then return of_record(trial, f, raw, keys, path) end
  if not_given[f.type] then
    trial.at.refuse(keys, "D003", "'" .. f.name .. "' cannot stand in 'with'", "name a job for it: job = \"job.sline\"")
  end
  if f.type == "list" and holds_records[f.item.type] and is_table(raw) then
    local list = {}
    for i, item in ipairs(raw) do list[i] = of_record(trial, f.item, bare(item), extended(keys, i), step(path, i)) end
    return record.list(list, path)
  end
  return given(trial, keys, checked(trial, f, raw, keys, what))
end

-- What a result is, as a field of that type would have it; nil where only reading it tells.
local function as_field(def)
  local dim, kind = def.dim, nil
  for _, out in ipairs(def.of and graph.primitive(def.of.op).outputs or {}) do
    if out.name == def.out then dim, kind = dim or out.kind == "quantity" and out.dim or nil, out.kind end
  end
  if def.wanted then return { name = def.name, type = def.wanted.type, dim = def.wanted.dim } end      -- a script's
  if dim then return { name = def.name, type = dim == "ratio" and "ratio" or "quantity", dim = dim } end
  if kind == "count" or kind == "flag" then return { name = def.name, type = kind } end
end

local function of_result(trial, def, raw, keys, what)
  local f = as_field(def)
  if f then return given(trial, keys, checked(trial, f, raw, keys, what)) end
  if type(raw) == "table" or type(raw) == "function" then
    trial.at.refuse(keys, "D003", "'" .. def.name .. "' needs one amount or text, got " .. host.describe(raw),
        "what it gives else is tried on a whole job: job = \"job.sline\"")
  end
  if type(raw) == "number" and not (math.abs(raw) < math.huge) then
    trial.at.refuse(keys, "D004", "'" .. def.name .. "' is no number: was something divided by 0?", "write one amount")
  end
  return given(trial, keys, raw)
end

local function one(trial, def, key, raw, keys, path, what)
  raw = bare(raw)
  local x = known(def, key)
  if not x then
    local names = schema.names(def)
    if def.name == "job" then names = table.move(schema.words(), 1, #schema.words(), #names + 1, names) end
    local near = type(key) == "string" and host.nearest(key, names)
    trial.at.refuse(keys, "D001", what .. " has no field or result '" .. tostring(key) .. "'",
        near and "did you mean '" .. near .. "'?" or def.results and "`stringline describe " .. def.name ..
        "` lists them" or "it has " .. table.concat(names, ", "), true)
  end
  if x == schema.result(def, key) then return of_result(trial, x, raw, keys, what) end
  if x.fields and not x.type then return collection(trial, x, raw, keys) end         -- a kind
  return of_field(trial, x, raw, keys, path, what)
end

-- One of its fields, for an example.
local function a_field(def)
  local f = def.fields[1]
  return f.name == "like" and def.fields[2].name or f.name
end

local function answers_all(def, raw)
  for key in next, raw do if not known(def, key) then return false end end
  return true
end

-- defs: the kinds that it may be of, or a group; the first that has all of what is given.
function make(trial, defs, raw, keys, path, name)
  if not is_table(raw) then
    trial.at.refuse(keys, "D003", path .. " needs the table of what is read of it, got " .. host.describe(raw),
        "as in " .. tostring(keys[#keys]) .. " = { " .. a_field(defs[1]) .. " = ... }")
  end
  local def = defs[1]
  for i = #defs, 1, -1 do if answers_all(defs[i], raw) then def = defs[i] end end
  local v = {}
  for key, value in host.sorted(raw) do
    local inner = extended(keys, key)
    if type(key) ~= "string" then
      trial.at.refuse(inner, "D005", "every value has a name, got " .. host.describe(value),
          "as in with = { " .. a_field(def) .. " = ... }")
    end
    v[key] = one(trial, def, key, value, inner, step(path, key), path)
  end
  local rec = { def = def, name = name or type(v.name) == "string" and v.name or nil, path = path, v = v, given = v,
      keys = keys, trial = trial, group = not def.results or nil, stands_in = stands_in }
  return record.wrap(rec)
end

-- All of a kind: by name, or one that has none.
function collection(trial, def, raw, keys)
  if def.single then return make(trial, { def }, raw, keys, def.name) end
  if not is_table(raw) then make(trial, { def }, raw, keys, def.name) end            -- which refuses it
  local group, direct = { def = def, order = {}, by = {} }, false
  for key in next, raw do direct = direct or known(def, key) ~= nil end
  if direct then group.order[1] = make(trial, { def }, raw, keys, def.name) end
  for name, value in host.sorted(not direct and raw or {}) do
    if type(name) ~= "string" then
      trial.at.refuse(extended(keys, name), "D005", "each " .. def.name .. " has a name here, got " ..
          host.describe(value), "as in " .. def.name .. " = { west = { ... } }")
    end
    local proxy = make(trial, { def }, value, extended(keys, name), step(def.name, name), name)
    group.order[#group.order + 1], group.by[name] = proxy, proxy
  end
  return record.collection(group)
end

-- ---- limits --------------------------------------------------------------------------------------------------------

-- The limits in force with some put in, whose reading is noted.
local function limits_of(trial, raw)
  local keys, def, put = { "with", "limits" }, schema.kinds.limits, {}
  if not is_table(raw) then
    trial.at.refuse(keys, "D003", "'limits' is a table of limits by name, got " .. host.describe(raw),
        "as in limits = { setback = 20ft }")
  end
  for name, value in host.sorted(raw) do
    local inner, f = extended(keys, name), def.by[name]
    local first = run.limits[name] and run.limits[name][1]
    if not f and not first then
      local names = {}
      for i, g in ipairs(schema.all_fields(def)) do names[i] = g.name end
      for own in host.sorted(run.limits) do if not def.by[own] then names[#names + 1] = own end end
      local near = host.nearest(tostring(name), names)
      trial.at.refuse(inner, "D001", "there is no limit called '" .. tostring(name) .. "'",
          near and "did you mean '" .. near .. "'?" or "there are " .. table.concat(names, ", "), true)
    end
    if f then
      value = checked(trial, { name = name, type = f.dim == "ratio" and "ratio" or "quantity", dim = f.dim, min = 0,
          max = f.max, example = f.example }, value, inner, "limits")
    elseif not (type(value) == "number" and type(first.value) == "number" or host.is_quantity(value) and
        host.same_kind(value, first.value)) then
      refuse_value(trial, inner, "'" .. name .. "'", "an amount like " .. host.format(first.value), value)
    end
    put[name] = { { value = given(trial, inner, value), whose = "the expectation", role = "house",
        cite = "put in", place = trial.at.span(inner) } }
  end
  local before = run.limits
  return setmetatable({}, { __index = function(_, name)
    if put[name] == nil then return before[name] end
    trial.read[path_of.join(extended(keys, name))] = true
    return put[name]
  end })
end

-- ---- trying --------------------------------------------------------------------------------------------------------

-- The subject and the job that `with` gives for something that is asked of a kind.
local function subjects(trial, def, with)
  local own, job = {}, nil
  for key, value in next, with do own[key] = value end
  if not def.by.limits then own.limits = nil end
  local of_job = def.name == "job"
  if not of_job then
    job, own.job = own.job, nil
    job = make(trial, { schema.kinds.job }, job or {}, { "with", "job" }, "job")
  end
  local subject = make(trial, { def }, own, { "with" }, def.name)
  return subject, job or subject
end

-- Calls f(subject, trial) with stand-ins for a record of the kind and for the job; at: where the expectation stands.
function standin.try(at, kind, with, f)
  local trial, root, def = { at = at, given = {}, read = {} }, record.root, schema.kinds[kind]
  local listener = record.watch(listen)
  local before, limits, style, sixteenths = inside[root], run.limits, run.style, run.sixteenths
  local packed = table.pack(pcall(function()
    local subject, job = subjects(trial, def, with)
    if with.limits ~= nil and not def.by.limits then run.limits = limits_of(trial, with.limits) end
    local rec, us = inside[job], not trial.metric or trial.us
    inside[root], rec.proxy, rec[3] = rec, root, root
    if not us then
      rec.v = setmetatable({ units = "SI" }, { __index = rec.v })          -- how it prints; rec.given is what is read
      run.sixteenths, run.style = false, { us = false, fraction = 0 }
      host.style(run.style)
    end
    return f(subject == job and root or subject, trial)
  end))
  inside[root], run.limits, run.style, run.sixteenths = before, limits, style, sixteenths
  host.style(style)
  record.watch(listener)
  if not packed[1] then error(packed[2], 0) end
  return table.unpack(packed, 2, packed.n)
end

return standin
