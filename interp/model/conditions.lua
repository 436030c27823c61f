-- SPDX-License-Identifier: MIT
-- What a paper was made for: fields of the job by declaration, each as that declaration takes it, and which job is
-- worse.  Only a field whose schema says which way is worse may stand there, and a result of which the same is said.
--
-- made_for = { site = { wind = 112mph, soil = { class = "sand" } }, rack = { rows = 2, east = { tilt = 30deg } } }
local run = import "model.run"
local schema = import "model.schema"
local record = import "model.record"
local memo = import "model.memo"
local conditions = {}

local inside = record.inside
local find, sub = string.find, string.sub

local deeper = host.longer

-- A field of a kind or a group; a result of the kind that may stand there, as if it were one.
local function field_of(def, key)
  local f = def.by[key]
  if f or not def.results then return f or nil end
  local r = schema.result(def, key)
  return r and r.worse and { key, "quantity", name = key, type = "quantity", dim = r.dim, worse = r.worse,
      says = r.says, result = true, none = r.none } or nil
end

-- The fields of a kind or a group that may stand there, as "wind", "soil.class".
local function allowed(def, around, list)
  list = list or {}
  for _, f in ipairs(def.fields or {}) do
    local own = around and around .. "." .. f.name or f.name
    if f.worse then list[#list + 1] = own end
    if f.fields then allowed(f, own, list) end
  end
  return list
end

-- Whether a kind or a group has any.
local function has_some(def)
  local fields = def.fields or {}
  for i = 1, #fields do
    local f = fields[i]
    if f.worse or f.fields and has_some(f) then return true end
  end
  return false
end

-- The kinds that have such fields, with their names in order.
local function kinds()
  local names = {}
  for _, def in ipairs(schema.all()) do
    if not def.partial and not def.parent and not def.part and has_some(def) then names[#names + 1] = def.name end
  end
  return names
end

-- "site.soil.class" -> its kind, the keys behind it, and the field behind it all if it may stand there.
local read_paths = {}

local concerned

local function find_idle(rec, p)
  local list, keys = concerned(p.kind, rec.proxy), p.keys
  if p.field and p.field.result then                    -- of what no record has such a result, nothing is to be said
    for i = 1, #list do if not p.field.none or not p.field.none(list[i]) then return false end end
    return true
  end
  for i = 1, #list do
    local x = list[i]
    for k = 1, #keys do
      if x ~= nil then x = record.given(x, keys[k]) end
    end
    if x == nil and p.kind.single or x ~= nil and x ~= p.field.default then return false end
  end
  return true
end

local function read_path(path)
  local p = read_paths[path]
  if p then return p end
  local keys, f = { nil, nil }, nil
  local dot = find(path, ".", 1, true)
  local kind, at = sub(path, 1, dot and dot - 1), dot and dot + 1
  while at do
    dot = find(path, ".", at, true)
    keys[#keys + 1], at = sub(path, at, dot and dot - 1), dot and dot + 1
  end
  p = { kind = schema.kinds[kind], keys = keys, name = "idle: " .. path, find = find_idle, field = nil }
  f = p.kind or nil
  for _, key in ipairs(keys) do f = f and f.by and field_of(f, key) end
  p.field = f and f.worse and f or nil
  read_paths[path] = p
  return p
end

-- Paths as a person writes them: { "site.wind", "site.soil.class" } is site = { wind = ..., soil = { class = ... } }.
-- Facts of one group stand together, where the first of them does.
function conditions.lines(paths)
  local function put(list, keys, i)
    for _, x in ipairs(list) do
      if x.key == keys[i] then return put(x, keys, i + 1) end
    end
    list[#list + 1] = { key = keys[i] }
    if keys[i + 1] then put(list[#list], keys, i + 1) end
  end
  local function written(list)
    local parts = {}
    for i, x in ipairs(list) do parts[i] = x.key .. " = " .. (x[1] and "{ " .. written(x) .. " }" or "...") end
    return table.concat(parts, ", ")
  end
  local all = {}
  for _, path in ipairs(paths) do
    local keys = {}
    for key in path:gmatch("[^.]+") do keys[#keys + 1] = key end
    put(all, keys, 1)
  end
  return written(all)
end

-- The field behind a path such as "site.soil.class", if it may stand there.
function conditions.field(path) return read_path(path).field end

-- ---- reading -------------------------------------------------------------------------------------------------------

local function refuse_name(ctx, path, def, key)
  local names, at = allowed(def), ctx.span(path, true)
  for _, r in ipairs(def.results and schema.results(def) or {}) do if r.worse then names[#names + 1] = r.name end end
  local near = type(key) == "string" and host.nearest(key, names)
  local there = type(key) == "string" and (def.by[key] or schema.result(def, key))
  host.raise { code = "D022", source = at.source, line = at.line, col = at.col, len = at.len,
      text = ctx.what .. ": '" .. tostring(key) .. "' cannot stand in made_for: " .. (there and
          "nothing says which way a job would be worse" or "no such field"),
      help = near and "did you mean '" .. near .. "'?" or "of " .. (def.title or def.name) .. " there may stand " ..
          table.concat(names, ", ") }
end

-- Pairs of a table: what the schema names, in its order, then the rest.
local function in_order(def, value)
  local keys = { nil, nil, nil, nil }
  local fields = def.fields
  for i = 1, #fields do
    local name = fields[i].name
    if value[name] ~= nil then keys[#keys + 1] = name end
  end
  for key in host.sorted(value) do
    if type(key) ~= "string" or not def.by[key] then keys[#keys + 1] = key end
  end
  local i = 0
  return function() i = i + 1; return keys[i], value[keys[i]] end
end

local function read_table(ctx, path, def, value, kind)
  if type(value) ~= "table" or inside[value] or run.telling[value] then
    schema.bad(ctx, path, "'" .. tostring(path[#path]) .. "' needs a table of what the paper was made for, got " ..
        host.describe(value), "as in site = { wind = 105mph, snow = 20psf }")
  end
  local n = 0
  for _ in next, value do n = n + 1 end
  local v, fields, by = host.room(n), host.room(0, n), host.room(n)
  local function put(key, f, x) v[key], by[key], fields[#fields + 1] = x, f, f end
  for key, x in in_order(def, value) do
    local at = deeper(path, key)
    local f = type(key) == "string" and field_of(def, key) or nil
    if f and f.fields then put(key, f, read_table(ctx, at, f, x))
    elseif f and f.worse then
      local got = schema.validate(ctx, at, f, x)
      if f.worse ~= "other" and host.is_quantity(got) and ctx.tolerance and ctx.tolerance(at, got) then
        schema.bad(ctx, at, "'" .. key .. "' has a tolerance, but a paper's bound is a bound", "write the amount alone")
      end
      put(key, f, got)
    elseif kind and kind.named and type(key) == "string" and not f and type(x) == "table" then      -- one of them
      put(key, { key, "group", name = key, type = "group", fields = def.fields, by = def.by },
          read_table(ctx, at, def, x))
    else refuse_name(ctx, at, def, key) end
  end
  if not fields[1] then
    schema.bad(ctx, path, "'" .. tostring(path[#path]) .. "' is empty", "there may stand " ..
        table.concat(allowed(def), ", "), "D022")
  end
  return ctx.freeze_group(v, { fields = fields, by = by }, path)
end

function schema.read_conditions(ctx, path, f, value)
  if type(value) ~= "table" or inside[value] then
    schema.bad(ctx, path, "'" .. f.name .. "' needs " .. schema.wants(f) .. ", got " .. host.describe(value))
  end
  local v, fields, by = {}, {}, {}
  for key, x in host.sorted(value) do
    local def = type(key) == "string" and schema.kinds[key] or nil
    local at = deeper(path, key)
    if not def or def.partial or def.parent or def.part or not has_some(def) then
      local names, s = kinds(), ctx.span(at, true)
      local near = type(key) == "string" and host.nearest(key, names)
      host.raise { code = "D022", source = s.source, line = s.line, col = s.col, len = s.len,
          text = ctx.what .. ": '" .. tostring(key) .. "' cannot stand in made_for",
          help = near and "did you mean '" .. near .. "'?" or "there may stand " .. table.concat(names, ", ") }
    end
    local of = { key, "group", name = key, type = "group", fields = def.fields, by = def.by }
    v[key], by[key], fields[#fields + 1] = read_table(ctx, at, def, x, def), of, of
  end
  if not fields[1] then
    schema.bad(ctx, path, "'" .. f.name .. "' is empty", "write " .. f.name .. " = { " .. f.example .. " }", "D022")
  end
  return ctx.freeze_group(v, { fields = fields, by = by }, path)
end

-- ---- comparing -----------------------------------------------------------------------------------------------------

local function amount(x) return type(x) == "number" and x or host.is_quantity(x) and host.si(x) or nil end

local function place(list, x)
  for i = 1, #list do if list[i] == x then return i end end
end

-- Whether two values say the same, item by item and field by field.
local function alike(a, b)
  local x, y = inside[a], inside[b]
  if x and y and x.names == nil and not x.def then
    if #a ~= #b then return false end
    for i = 1, #a do if not alike(a[i], b[i]) then return false end end
    return true
  end
  if x and y and x.group and y.group then
    for _, f in ipairs(x.def.fields) do
      if not alike(record.given(a, f.name), record.given(b, f.name)) then return false end
    end
    return true
  end
  local m, n = amount(a), amount(b)
  if m and n then return host.near(m, n) end
  return a == b or a ~= nil and b ~= nil and host.same(a, b)
end

-- Whether a job's value is worse than what the paper was made for; group: the path of that around the paper's.
-- Of what it was made for, and the job has not at all, it says nothing.
function conditions.worse(f, here, paper, group)
  if here == nil then return true end
  if here == paper then return false end
  if f.type == "list" then return not alike(here, paper) end
  local a, b = amount(here), amount(paper)
  if f.worse == "other" then
    if not a or not b then return not host.same(here, paper) end
    local o = host.is_quantity(paper) and host.origin(paper)
    local tolerance = run.tolerances[record.step(group, f.name)] or o and o.tolerance
    return math.abs(a - b) > (tolerance and host.si(tolerance) or 0) and not host.near(a, b) and
        not (tolerance and host.near(math.abs(a - b), host.si(tolerance)))
  end
  if f.choices then a, b = place(f.choices, here), place(f.choices, paper) end
  if f.worse == "less" then a, b = b, a end
  return a > b and not host.near(a, b)
end

-- Kind or group -> kind that is looked for -> { how many fields it has, those that lead there }.
local links = {}

-- Whether a field may refer to a record of a kind, or holds one that may.
local function leads_to(f, kind)
  if f.name == "like" then return false end
  if f.type == "ref" and f.of then
    local of = f.of
    for i = 1, #of do if of[i] == kind.name then return true end end
  elseif f.type == "group" and f.fields then
    local fields = f.fields
    for i = 1, #fields do if leads_to(fields[i], kind) then return true end end
  end
  return false
end

-- A domain may have added fields since.
local function links_of(def, kind)
  local by = links[def]
  if not by then by = {}; links[def] = by end
  local list = by[kind.name]
  if not list or list[1] ~= #def.fields then
    list = { #def.fields }
    for _, f in ipairs(def.fields) do if leads_to(f, kind) then list[#list + 1] = f end end
    by[kind.name] = list
  end
  return list
end

-- The records of a kind that one record hangs on, or that these refer to or reach otherwise, as their kind says; false
-- where there are none.
local function around(rec, def)
  local kind, proxy = def.kind, rec.proxy
  local found, seen = {}, {}
  local function visit(x)
    local d = inside[x]
    if d.def.name == kind.name and not d.group then
      if not seen[x] then seen[x] = true; found[#found + 1] = x end
      return
    end
    local fields = links_of(d.def, kind)
    for i = 2, #fields do
      local f = fields[i]
      local v = record.given(x, f.name)
      if v ~= nil and not seen[v] and (f.type == "group" or inside[v].def.name == kind.name) then visit(v) end
    end
    if d.def.reaches and not d.group then
      for _, more in ipairs(d.def.reaches(x)) do visit(more) end
    end
  end
  for _, x in ipairs(record.line_of(proxy)) do if not inside[x].root then visit(x) end end
  return found[1] and found
end

local arounds = {}       -- kind -> the definition of what is around

-- The records of a kind that matter for one record: those around it, else all.  Second: the data of what they are the
-- same for, the record or the job, under which is kept what is worked out of them.
function concerned(kind, proxy)
  local job = inside[record.root]
  if kind.single then return { record.root[kind.name] }, job end
  if inside[proxy].root then return record.all(kind.name), job end
  local def = arounds[kind]
  if not def then
    def = { name = "around: " .. kind.name, kind = kind, find = around }
    arounds[kind] = def
  end
  local list = memo.value(inside[proxy], def)
  if list then return list, inside[proxy] end
  return record.all(kind.name), job
end

-- What a record has of a field; nil where it has none, and where known why. Of a fact of the place none is not known,
-- which is raised.
local function value_here(field, x, kind)
  if x == nil then return nil end
  if field.result then
    local why = field.none and field.none(x)
    if why then return nil, why end
    return x[field.name]
  end
  local value = record.given(x, field.name)
  if value ~= nil then return value end
  if kind.single then return x[field.name] end
  return field.name == kind.sorts and field.choices[1] or nil                 -- of the first sort, if none is said
end

-- told: names of the fields of which something was said, and of the groups in them; false where nobody asks.
-- x: the record, or its group; nil where it has none.
local function each_in(group, x, path, f, told, kind)
  local d = inside[group]
  local by = x ~= nil and inside[x].def.by or d.def.by
  local fields = d.def.fields
  for i = 1, #fields do
    local field = fields[i]
    local name = field.name
    if field.fields then                            -- what stands under the name of one record is not for this one
      if by[name] then
        if told then told[name] = told[name] or {} end
        each_in(group[name], value_here(field, x, kind), record.step(path, name), f, told and told[name], kind)
      end
    elseif not told or not told[name] then
      if told then told[name] = true end
      local here, why = value_here(field, x, kind)
      f(field, path, here, group[name], d.path, why)
    end
  end
end

-- Calls f(field, the path around it, value here, the paper's, the path around the paper's, why there is none here) for
-- each condition on a kind that concerns a record.  What is said of one by name goes before what is said of all.
local function each_of(kind, group, list, f)
  for i = 1, #list do
    local x = list[i]
    local name = inside[x].name
    local at = name and record.step(kind.name, name) or kind.name
    local own = name and not kind.by[name] and inside[group].def.by[name] and group[name]
    local told = own and {}
    if own then each_in(own, x, at, f, told, kind) end
    each_in(group, x, at, f, told, kind)
  end
end

-- The same for all kinds, one after another.  What is the same for every record of the job is asked once.
function conditions.each(made_for, proxy, f)
  local fields = inside[made_for].def.fields
  for i = 1, #fields do
    local kind, group = schema.kinds[fields[i].name], made_for[fields[i].name]
    local list, holder = concerned(kind, proxy)
    if holder.root then
      memo.remember(holder, inside[group].path, function()
        each_of(kind, group, list, f)
        return true
      end)
    else each_of(kind, group, list, f) end
  end
end

-- Names of records that made_for speaks of by name: f(kind, name).
function conditions.each_name(made_for, f)
  for _, of in ipairs(inside[made_for].def.fields) do
    local kind = schema.kinds[of.name]
    for _, field in ipairs(inside[made_for[of.name]].def.fields) do
      if not field_of(kind, field.name) then f(kind, field.name) end
    end
  end
end

local function put_paths(group, path, paths)
  for _, f in ipairs(inside[group].def.fields) do
    local own = path .. "." .. f.name
    if f.fields then put_paths(group[f.name], own, paths) else paths[own] = true end
  end
end

run.keep("paths_named", function() return {} end)        -- made_for -> { all that it names, kinds of one by name }

-- What made_for names, and the kinds of which it speaks by name: as it was declared, in every variant.
local function paths_of(made_for)
  local known = run.paths_named[made_for]
  if known then return known[1], known[2] end
  local all, by_name = {}, {}
  for _, of in ipairs(inside[made_for].def.fields) do
    local kind, group = schema.kinds[of.name], made_for[of.name]
    put_paths(group, kind.name, all)
    for _, field in ipairs(inside[group].def.fields) do
      if not field_of(kind, field.name) then by_name[kind] = true end
    end
  end
  run.paths_named[made_for] = { all, by_name }
  return all, by_name
end

-- The fields of a kind of which made_for says something for each of these records: { ["rack.tilt"] = true }.
local function named_of(kind, group, list)
  local every
  for _, x in ipairs(list) do
    local name, own = inside[x].name, {}
    if name and not kind.by[name] and inside[group].def.by[name] then put_paths(group[name], kind.name, own) end
    for path in next, every and own or {} do own[path] = every[path] end
    every = own
  end
  if every then put_paths(group, kind.name, every) end
  return every or {}
end

-- Where it speaks of none by name, and there is something of every kind, that is all that it names.
local function find_named(rec, def)
  local made_for, fields = def.made_for, inside[def.made_for].def.fields
  local all, by_name = paths_of(made_for)
  local whole, lists, holders = true, {}, {}
  for i = 1, #fields do
    local kind = schema.kinds[fields[i].name]
    lists[i], holders[i] = concerned(kind, rec.proxy)
    whole = whole and not by_name[kind] and lists[i][1] ~= nil
  end
  if whole then return all end
  local named = {}
  for i, of in ipairs(fields) do
    local kind, group, list = schema.kinds[of.name], made_for[of.name], lists[i]
    local of_kind = holders[i].root and memo.remember(holders[i], "named in " .. inside[group].path, function()
      return named_of(kind, group, list)
    end) or named_of(kind, group, list)
    for path in next, of_kind do named[path] = true end
  end
  return named
end

run.keep("named_in", function() return {} end)           -- made_for -> the definition of what it names

-- The same of all kinds, for each of the records that matter for one.
function conditions.named(made_for, proxy)
  local def = run.named_in[made_for]
  if not def then
    def = { name = "named in " .. inside[made_for].path, made_for = made_for, find = find_named }
    run.named_in[made_for] = def
  end
  return memo.value(inside[proxy], def)
end

-- Whether a job says nothing of a field that a paper would have to name: for each of the records that matter for one it
-- stands at its default or, facts of the place apart, nobody gave it.
function conditions.idle(path, proxy)
  local p = read_path(path)
  if p.kind.single then return memo.value(inside[record.root], p) end
  local _, holder = concerned(p.kind, proxy)
  return memo.value(holder, p)
end

return conditions
