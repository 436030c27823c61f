-- SPDX-License-Identifier: MIT
-- Records: what a script declared, checked, frozen, and reachable by name and path.
--
-- A record is an empty proxy; its data sits in `inside[proxy]`, out of a script's reach.  Reading a field that nobody
-- gave raises a "missing" error, which makes whatever wanted it unknown instead of wrong.
local run = import "model.run"
local memo = import "model.memo"
local schema = import "model.schema"
local path_of = import "model.path"
local util = import "model.util"
local domains = import "model.domains"
local no_data = import "model.no_data"
local step = path_of.step
local record = {}

-- proxy -> { def, name, path, v, source, mark, line, parent, root }, and for the engine [1] = what was given, as v, to
-- be read by name, [2] = nodes by name, [3] = the proxy, [4] = its metatable where it is read by that, and [5] = its
-- fields by name.
local inside = run.inside
local engine = memo.engine

record.inside, record.step, record.parse_path, record.is = inside, step, path_of.parse, run.is_record

-- ---- messages ------------------------------------------------------------------------------------------------------

-- rack "east"; of what has its file's name, the kind alone, as it is written.
function record.title(def, name) return name and not def.of_file and def.name .. ' "' .. name .. '"' or def.name end

local function missing(rec, f)
  local source, line = host.where()
  local s = host.word(source, line, f.name)
  local known = (f.who or f.tool) and f or rec.def
  host.raise { code = "D010", class = "missing",
      text = (rec.path == "" and "job" or rec.path) .. "." .. f.name .. " is not given: " .. f.says,
      path = step(rec.path, f.name), who = known.who, tool = known.tool,
      help = (rec.at and "fill in its cell in " .. host.place(rec.at) or "add " .. f.name .. " = ...") ..
          " (" .. schema.wants(f) .. ")",
      source = s.source, line = s.line, col = s.col, len = s.len }
end

function record.missing_kind(def)
  host.raise { code = "D010", class = "missing", text = "no " .. def.name .. (def.name:find "s$" and " are" or " is") ..
      " declared: " .. def.says,
      path = def.name, who = def.who, tool = def.tool,
      help = "declare it: " .. def.name .. (def.named and ' "name"' or "") .. " { ... }" }
end

local function no_such(rec, key)
  local names = schema.names(rec.def)
  local near = type(key) == "string" and host.nearest(key, names)
  local source, line = host.where()
  local s = host.word(source, line, tostring(key))
  local what = rec.group and rec.path or record.title(rec.def, rec.name)
  host.raise { code = "D007", text = what .. " has no field or result '" .. tostring(key) .. "'",
      source = s.source, line = s.line, col = s.col, len = s.len,
      help = near and "did you mean '" .. near .. "'?" or "`stringline describe " .. rec.def.name .. "` lists them" }
end

record.no_such = no_such

local function frozen(proxy)
  local rec = inside[proxy]
  local what = rec and (rec.def and not rec.group and record.title(rec.def, rec.name) or rec.path) or "this list"
  host.raise { code = "D008", text = what .. " is declared and cannot be changed",
      help = "declare another value, or use an alternate" }
end

-- ---- reading -------------------------------------------------------------------------------------------------------

local list_meta, map_meta, collection_meta, record_meta, lacking_meta

-- Who listens to what is read: watch(holder, key, value) gives what the reader gets of a value, where holder is the
-- data of a record, a list or a map.  False where nobody does.
local watch = false
local heard = false              -- as it was told to record.watch
local tracked = false            -- the engine does

-- A field's value, or nil if nobody gave it.
local function field_value(rec, f)
  local v = rec.v[f.name]
  if watch then return watch(rec, f.name, v) end
  if tracked then engine.note(rec[1], f.name) end
  return v
end

engine.model[4] = function(proxy, name)
  local rec = inside[proxy]
  if not rec or not rec.v then
    host.raise { code = "D007", text = "given needs a record and a field's name, got " .. host.describe(proxy),
        help = 'as in given(rack, "like")' }
  end
  local f = rec.def.by[name]
  if not f then no_such(rec, name) end
  return field_value(rec, f)
end

-- The value of a field that nobody need give, or nil. A run aside has an engine of its own: who keeps this asks the
-- one at hand.
function record.given(proxy, name) return engine.given(proxy, name) end

-- Derived records as a collection.
local function hang(rec, child, list)
  local group = { def = child, order = {}, by = {}, parent = rec }
  for _, c in ipairs(list) do
    assert(type(c.name) == "string" and not group.by[c.name], child.name)
    local path = step(step(rec.path, child.name), c.name)
    local v = host.copy(c)                     -- of its own: a variant may put in another value
    local proxy = record.wrap { false, false, false, false, false, def = child, name = c.name, path = path, v = v,
        parent = rec, source = rec.source, line = rec.line, mark = rec.mark }
    group.order[#group.order + 1], group.by[c.name] = proxy, proxy
  end
  return record.collection(group)
end

-- The records of a kind that hang on another record: derived once, as a collection; in another variant the same ones,
-- while nothing of what they were derived from is another.
local function children_of(rec, child)
  rec = rec.root or rec
  return memo.remember(rec, child.memo, function()
    local list = child.derive(rec.proxy, record.root)
    local first = rec.hung and rec.hung[child.name]
    if first and host.alike(first.list, list) then return first.collection end
    local collection = hang(rec, child, list)
    rec.hung = rec.hung or {}
    rec.hung[child.name] = rec.hung[child.name] or { list = list, collection = collection }
    return collection
  end)
end

local given_meta                 -- of what was given to a record: what is not there is a result, or something else

-- Those who make `rec` leave room for the five.
function record.wrap(rec)
  local lacking = false
  if rec.def.no_data then for _, v in next, rec.v do lacking = lacking or no_data.of(v) ~= nil end end
  local v, def = rec.v, rec.def
  local seen = host.room(#def.fields + 1)
  local fields = def.fields
  for i = 1, #fields do
    local name = fields[i].name
    local value = v[name]
    if value ~= nil then seen[name] = value end
  end
  if def.list_field then seen[def.list_field.name] = v[def.list_field.name] end
  if rec.name and seen.name == nil and not rec.group then seen.name = rec.name end
  setmetatable(seen, given_meta)
  local meta = lacking and lacking_meta or { __name = "record", __metatable = false,
      __newindex = record_meta.__newindex, __index = (watch or tracked) and engine.index or seen,
      __tostring = record_meta.__tostring, __eq = record_meta.__eq, __pairs = record_meta.__pairs }
  local proxy = setmetatable({}, meta)
  rec.proxy = proxy
  rec[1], rec[2], rec[3], rec[4], rec[5] = seen, false, proxy, not lacking and meta, def.by
  inside[proxy], inside[seen] = rec, rec
  return proxy
end

-- A record beside another, with the same fields and results of its own: what makes those come out otherwise reads
-- `stands` of its data.
function record.beside(proxy, path, stands)
  local rec = inside[proxy]
  local meta = { __name = "record", __metatable = false, __newindex = record_meta.__newindex, __index = engine.index,
      __tostring = record_meta.__tostring, __eq = record_meta.__eq, __pairs = record_meta.__pairs }
  local other = setmetatable({}, meta)
  inside[other] = { rec[1], false, other, meta, rec[5], def = rec.def, name = rec.name, path = path, v = rec.v,
      parent = rec.parent, source = rec.source, line = rec.line, mark = rec.mark, proxy = other, stands = stands }
  return other
end

-- Another value of a field, for good.
function record.amend(proxy, name, value)
  local rec = inside[proxy]
  rec.v[name], rec[1][name] = value, value
end

local kind_group

-- rec.stands_in: what a record reads that stands for one of no job (model.standin).
local function read(proxy, key)
  local rec = inside[proxy]
  if rec.stands_in then return rec.stands_in(rec, key) end
  local def = rec.def
  if run.hole then
    local hole = import("model.faults").instead(rec, key)
    if hole then return hole end
  end
  local f = def.by[key] or (def.list_field and def.list_field.name == key and def.list_field)
  if f then
    local v = field_value(rec, f)
    if v == nil then missing(rec, f) end
    return v
  end
  local r = schema.result(def, key)
  if r then return memo.result(rec, r) end
  if def.children and def.children[key] then return children_of(rec, def.children[key]) end
  if rec.root then
    local k = schema.kinds[key]
    if k and not k.parent then
      local proxy = kind_group(k)
      if run.settled and k.single then rec[1][key] = proxy end
      return proxy
    end
  end
  if key == "name" and rec.name then return rec.name end
  if key == "with" then return record.with end
  no_such(rec, key)
end

engine.model[1] = read
given_meta = { __index = engine.lacked, __metatable = false }

record_meta = {
  __newindex = frozen,
  __tostring = function(proxy) return inside[proxy].path end,
  __eq = function(a, b) return rawequal(a, b) end,
  __pairs = function(proxy)
    local rec, i = inside[proxy], 0
    return function()
      while i < #rec.def.fields do
        i = i + 1
        local f = rec.def.fields[i]
        local v = field_value(rec, f)
        if v ~= nil then return f.name, v end
      end
    end
  end,
}

local answering                  -- field of the job's codes -> the paper that answers for such a code, or nil

-- Who knows what papers answer for says so once it is loaded, as it is with the first paper.
function record.answered_by(f) answering = f end

-- A group that names a code without data, where it may (no_data = true): to read it is to want rows of it.
lacking_meta = { __name = "record", __metatable = false }
for k, v in next, record_meta do lacking_meta[k] = v end
function lacking_meta.__index(proxy, key)
  local value = read(proxy, key)
  local code = no_data.of(value)
  if not code then return value end
  local rec = inside[proxy]
  local f = rec.def.by[key]
  local paper = run.settled and answering and answering(key)
  if paper then                        -- it answers by that code: what wants rows of it is not asked here
    host.raise { code = "D010", class = "none", path = step(rec.path, key), text = "answered by paper of " ..
        inside[paper].def.name .. " " .. inside[paper].name .. ": no rows of " .. code .. " are kept here" }
  end
  host.raise { code = "D010", class = "missing", text = "no rows of " .. code .. " are kept here, and " .. rec.path ..
      "." .. key .. " names it", path = step(rec.path, key),
      who = f.who == "electrical inspector" and "electrician" or "engineer", tool = "a paper by that code",
      help = "have it worked out by whoever has that code" }
end

list_meta = {
  __name = "list", __metatable = false, __newindex = frozen,
  __len = function(proxy) return #inside[proxy].list end,
  __index = function(proxy, i)
    local l = inside[proxy]
    if i == "with" then return record.with end
    local v = l.list[i]
    if watch and math.type(i) == "integer" then return watch(l, i, v) end
    if tracked then engine.note(l.list, i) end
    return v
  end,
  __pairs = ipairs,
}

map_meta = {
  __name = "map", __metatable = false, __newindex = frozen,
  __index = function(proxy, key)
    local m = inside[proxy]
    local v = m.map[key]
    if v == nil and key == "with" then return record.with end
    if watch and type(key) == "string" then return watch(m, key, v) end
    if tracked then engine.note(m.map, key) end
    return v
  end,
  __pairs = function(proxy)
    local m, i = inside[proxy], 0
    return function() i = i + 1; local k = m.names[i]; if k then return k, proxy[k] end end
  end,
}

-- From the first listener of a run on, records are read by the engine's function instead of through their own tables.
local function be_heard()
  for _, rec in next, inside do
    if rec[4] then rec[4].__index = engine.index end
  end
end

-- Who listens from here on; gives who did. true: nobody to what was given, but results are asked of run.noting.
function record.watch(f)
  local before = heard
  heard, f = f, f ~= true and f
  if f and not watch and not tracked then be_heard() end
  watch = f
  engine.heard(heard)
  return before
end

-- From here on the engine notes what is read, until the next run.
function record.track()
  if not watch then be_heard() end
  tracked = true
  engine.track()
end

-- Frozen lists and maps of checked values.
function record.list(list, path)
  local proxy = setmetatable({}, list_meta)
  inside[proxy] = { list = list, path = path }
  return proxy
end

function record.map(map, names, path)
  local proxy = setmetatable({}, map_meta)
  inside[proxy] = { map = map, names = names, path = path }
  return proxy
end

-- All records of a kind: by name, or straight to a field where there is exactly one.
collection_meta = {
  __name = "collection", __metatable = false, __newindex = frozen,
  __len = function(proxy) return #inside[proxy].order end,
  __index = function(proxy, key)
    local c = inside[proxy]
    if type(key) == "string" and c.by[key] then return c.by[key] end
    if #c.order == 1 then return c.order[1][key] end
    local names = {}
    for i, p in ipairs(c.order) do names[i] = inside[p].name or "?" end
    local near = type(key) == "string" and host.nearest(key, names)
    if #c.order == 0 then record.missing_kind(c.def) end
    local known = c.def.by[key] or schema.result(c.def, key)
    local all = util.some(names)
    local text = "no " .. c.def.name .. " is named '" .. tostring(key) .. "'"
    local help = "there are " .. all
    if known then
      text = "there are " .. #names .. " of " .. c.def.name .. ": " .. all .. "; say which"
      help = "write " .. c.def.name .. "." .. names[1] .. "." .. tostring(key) ..
          ", or go through all: for x in each(job." .. c.def.name .. ") do ... end"
    end
    host.raise { code = "D009", text = text, help = near and "did you mean '" .. near .. "'?" or help }
  end,
  __pairs = function(proxy)
    local c, i = inside[proxy], 0
    return function() i = i + 1; local p = c.order[i]; if p then return inside[p].name or i, p end end
  end,
}

function record.collection(group)
  local proxy = setmetatable({}, collection_meta)
  inside[proxy] = group
  return proxy
end

-- The records of a kind that is declared, as kept: { def, order, by, proxy }.
function record.group(def)
  local g = run.groups[def.name]
  if not g then
    g = { def = def, order = { nil, nil }, by = { [""] = nil }, proxy = nil }
    run.groups[def.name] = g
    g.proxy = record.collection(g)
  end
  return g
end

function kind_group(def)
  local g = record.group(def)
  if not def.single then return g.proxy end
  if not g.order[1] then record.missing_kind(def) end
  return g.order[1]
end

-- A kind of paper says for which places it gives values in fields that are maps.
local function keep_paper(rec)
  run.papers[#run.papers + 1] = rec.proxy
  for _, f in ipairs(rec.def.fields) do
    if f.type == "map" and rec.v[f.name] then
      run.giving[#run.giving + 1] = rec.proxy
      return
    end
  end
end

-- Keeps a record that was declared, after those before it.
function record.keep(rec)
  local group, proxy = record.group(rec.def), record.wrap(rec)
  group.order[#group.order + 1], group.by[rec.name or ""] = proxy, proxy
  run.records[#run.records + 1] = proxy
  if rec.def.paper then keep_paper(rec) end
  return proxy
end

-- The only record of a single kind, or nil.
function record.only(kind) return record.all(kind)[1] end

-- ---- walking -------------------------------------------------------------------------------------------------------

-- each(x): the records of a collection or the items of a list, in order.
function record.each(x)
  local c = inside[x]
  local list = c and (c.order or c.list and x)      -- a list through its proxy, which tells of reads
  if not list then
    if type(x) == "table" and not c then list = x
    else
      host.raise { code = "D011", text = "each needs a collection or a list, got " .. host.describe(x),
          help = "as in each(job.rack)" }
    end
  end
  local i = 0
  return function() i = i + 1; return list[i] end
end

local none = {}

-- The kind that a kind's records are derived from, or nil; does not load it.
function record.hangs_on(kind)
  local def = rawget(schema.kinds, kind)
  if def then return def.parent end
  return domains.parent(kind)
end

local declared = {}              -- kinds of which one may have none, and that hang on no other

run.keep("lists", function() return {} end)      -- derived kinds -> { list, the parents' collections ... }

-- Those of a derived kind, of the records of the kind above it: the same list while they are the same.
local function derived(kind, parents)
  local def, known = schema.kinds[kind], run.lists[kind]
  local same = known ~= nil and #known == #parents + 1
  local now = { false }
  for i = 1, #parents do
    now[i + 1] = children_of(inside[parents[i]], def)
    same = same and known[i + 1] == now[i + 1]
  end
  if same then return known[1] end
  local list, n = {}, 0
  for i = 2, #now do
    local order = inside[now[i]].order
    for k = 1, #order do
      n = n + 1
      list[n] = order[k]
    end
  end
  now[1], run.lists[kind] = list, now
  return list
end

-- All records of a kind, at any depth, as a list: in the order declared, or parent by parent.  Raises what keeps a
-- parent from having any.  To ask for those of a kind that nobody used yet does not load it.
function record.all(kind)
  local group = run.groups[kind]
  if group and not group.def.parent then return group.order end
  if declared[kind] then return none end
  local above = record.hangs_on(kind)
  if not above then
    assert(rawget(schema.kinds, kind) or domains.has_kind(kind), kind)
    declared[kind] = true
    return none
  end
  local parents = record.all(above)
  return parents[1] and derived(kind, parents) or none
end

-- Whether there is any of a kind that hangs on no other.
function record.any(kind)
  local group = run.groups[kind]
  return group ~= nil and group.order[1] ~= nil
end

-- The same, to go through: for post in record.each_of "post" do ... end
function record.each_of(kind)
  local list, i = record.all(kind), 0
  return function() i = i + 1; return list[i] end
end

-- Calls f(proxy) for the job and each record in the order declared, and behind each for all that hangs on it.
-- unknown(path, why), if given, takes the place of children that cannot be derived.
function record.each_record(f, unknown)
  local function visit(proxy)
    local rec = inside[proxy]
    f(proxy)
    for _, child in ipairs(schema.children(rec.def)) do
      local ok, found = pcall(children_of, rec, child)
      if ok then
        for _, c in ipairs(inside[found].order) do visit(c) end
      elseif unknown and host.class(found) then
        unknown(step(rec.path, child.name), found)
      else
        error(found, 0)
      end
    end
  end
  visit(record.root)
  for _, proxy in ipairs(run.records) do
    if not inside[proxy].root then visit(proxy) end
  end
end

-- What a derived record hangs on, or nil.
function record.parent(proxy)
  local parent = inside[proxy].parent
  return parent and parent.proxy
end

-- A record and those that it hangs on, the outermost first.
function record.line_of(proxy)
  if not inside[proxy].parent then return { proxy } end
  local line = {}
  while proxy do
    table.insert(line, 1, proxy)
    proxy = record.parent(proxy)
  end
  return line
end

-- The record behind a path in full, however deep it hangs, and the keys below it: rack.east.post.F1.line gives the
-- post and { "line" }.  Nil where no record has that path.
function record.locate(path)
  local parts = path_of.parse(path)
  local def = parts and schema.kinds[parts[1]]
  if not def or def.parent then return nil end
  local group, at = record.group(def), 2
  local proxy = group.by[""]
  if group.by[parts[2]] then proxy, at = group.by[parts[2]], 3 end
  while proxy do
    local child = inside[proxy].def.children[parts[at]]
    local deeper = child and inside[children_of(inside[proxy], child)].by[parts[at + 1]]
    if not deeper then return proxy, table.move(parts, at, #parts, 1, {}) end
    proxy, at = deeper, at + 2
  end
end

-- The field that an input's path names, with design as the kind or the group around it says; nil where there is none.
function record.field_at(path)
  local proxy, rest = record.locate(path)
  if not proxy then return nil end
  local def = inside[proxy].def
  local f = def and { by = def.by, design = def.design }
  for _, key in ipairs(rest) do
    local by = f and (f.by or f.type == "lot" and domains.load "model.lots".shape.by)
    local inner = by and by[key] or f and f.item
    if not inner then return nil end
    if inner.design == nil then inner = setmetatable({ design = f.design }, { __index = inner }) end
    f = inner
  end
  return f
end

function record.kind_of(x) return record.is(x) and inside[x].def.name or nil end

-- Calls f(path, value) for every value that somebody gave or that a default filled in, in the order declared; what a
-- paper was made for is no value of the job.
function record.walk(f)
  local function visit(path, value)
    local d = inside[value]
    if d and d.list then
      for i, v in ipairs(d.list) do visit(step(path, i), v) end
    elseif d and d.names then
      for _, k in ipairs(d.names) do visit(step(path, k), d.map[k]) end
    elseif d and d.group then
      local fields = d.def.fields
      for i = 1, #fields do
        local name = fields[i].name
        if d.v[name] ~= nil then visit(step(path, name), d.v[name]) end
      end
    else
      f(path, value)
    end
  end
  for _, proxy in ipairs(run.records) do
    local rec = inside[proxy]
    if not rec.def.partial then
      local fields = rec.def.fields
      for i = 1, #fields do
        local g = fields[i]
        local v = rec.v[g.name]
        if v ~= nil and g.type ~= "conditions" then visit(step(rec.path, g.name), v) end
      end
    end
  end
end

-- Inputs that were written with a tolerance: { path, value, tolerance }.
function record.tolerances()
  if run.with_tolerance then return run.with_tolerance end
  local list = {}
  run.with_tolerance = list
  if next(run.tolerances) == nil and not host.tolerant() then return list end
  record.walk(function(path, value)
    local o = host.is_quantity(value) and host.origin(value)
    local tolerance = run.tolerances[path] or o and o.tolerance
    if tolerance then list[#list + 1] = { path = path, value = value, tolerance = tolerance } end
  end)
  return list
end

-- ---- by path -------------------------------------------------------------------------------------------------------

-- The value at a path ("rack.east.tilt"); nil where there is none.  Where it is an input, besides: its path in full
-- (rack.tilt of the only rack is rack.east.tilt), and what the engine puts another value by: the table that is read and
-- its copy, if any, and the key.
function record.input(path)
  local parts, why = record.parse_path(path)
  if not parts then host.raise { code = "D019", text = why, help = "as in rack.east.tilt" } end
  local x, at, values, copy, under = record.root, nil, nil, nil, nil
  for i = (parts[1] == "job" and parts[2] and not schema.kinds.job.by[parts[1]]) and 2 or 1, #parts do
    local c, key = inside[x], parts[i]
    if c and c.order and not c.by[key] and #c.order == 1 then c = inside[c.order[1]] end
    if c and c.v and c.def.by[key] then
      values, copy, under = c[1], c.v, key
      x, at = field_value(c, c.def.by[key]), step(c.path, key)
    elseif c and (c.list or c.map) then
      values, copy, under = c.list or c.map, nil, key
      x, at = x[key], step(c.path, key)
    else x, at, values, copy, under = x[key], nil, nil, nil, nil end
    if x == nil then break end
  end
  return x, at, values, copy, under
end

-- The value alone.
function record.at(path) return (record.input(path)) end

-- ---- the root -------------------------------------------------------------------------------------------------------

-- One proxy for good: what it holds is the run's.
local root_meta = { __name = "record", __metatable = false }
for k, v in next, record_meta do root_meta[k] = v end
record.root = setmetatable({}, root_meta)

run.keep("records", function()           -- all that are declared, in their order
  watch, heard, tracked = false, false, false
  engine.heard(false)
  local def = rawget(schema.kinds, "job") or nil
  local rec = { proxy = record.root, def = def, path = "job", v = {}, source = 0, line = 0, mark = -1 }
  rec.root = rec
  root_meta.__index, given_meta.__index = engine.index, engine.lacked
  rec[1], rec[2], rec[3], rec[5] = {}, false, record.root, def and def.by
  inside[record.root] = rec
  return {}
end, function()
  local w, h, t, given, root = watch, heard, tracked, given_meta.__index, root_meta.__index
  return function() watch, heard, tracked, given_meta.__index, root_meta.__index = w, h, t, given, root end
end)

-- The job's own declaration becomes the root of all.
function record.adopt_job()
  local job = record.only "job"
  if not job then record.missing_kind(schema.kinds.job) end
  local rec, root = inside[job], inside[record.root]
  rec.root = root
  root.v, root.source, root.line, root.mark = rec.v, rec.source, rec.line, rec.mark
  root[2] = root[2] or {}
  root[1], root[5], rec[2] = rec[1], rec[5], root[2]
end

return record
