-- SPDX-License-Identifier: MIT
-- Records: what a script declared, checked, frozen, and reachable by name and path.
--
-- A record is an empty proxy; its data sits in `inside[proxy]`, out of a script's reach.  Reading a field that nobody gave
-- raises a "missing" error, which makes whatever wanted it unknown instead of wrong.
local schema = import "model.schema"
local path_of = import "model.path"
local domains = import "model.domains"
local step = path_of.step
local record = { overrides = {}, defaults = {}, told = {}, dropped = {}, added = {}, tolerances = {} }

local inside = {}        -- proxy -> { def, name, path, v, source, mark, line, parent }
local kinds = {}         -- kind name -> { def, order = { proxy ... }, by = { name -> proxy } }
local graph              -- model.graph, once it is there
local overlay            -- what-if values by path, or nil

record.inside, record.step, record.parse_path = inside, step, path_of.parse

-- ---- messages ------------------------------------------------------------------------------------------------------

function record.title(def, name) return name and def.name .. ' "' .. name .. '"' or def.name end

local function missing(rec, f)
  local source, line = host.where()
  local s = host.word(source, line, f.name)
  host.raise { source = s.source, line = s.line, col = s.col, len = s.len, code = "D010", class = "missing", text = (rec.path == "" and "job" or rec.path) .. "." .. f.name .. " is not given: " .. f.says,
               path = step(rec.path, f.name), who = f.who, tool = f.tool, help = "add " .. f.name .. " = ... (" .. schema.wants(f) .. ")" }
end

function record.missing_kind(def)
  host.raise { code = "D010", class = "missing", text = "no " .. def.name .. " is declared: " .. def.says, path = def.name,
               who = def.who, tool = def.tool, help = "declare it: " .. def.name .. (def.named and ' "name"' or "") .. " { ... }" }
end

local function no_such(rec, key)
  local names = schema.names(rec.def)
  local near = type(key) == "string" and host.nearest(key, names)
  local source, line = host.where()
  local s = host.word(source, line, tostring(key))
  host.raise { code = "D007", text = (rec.group and rec.path or record.title(rec.def, rec.name)) .. " has no field or result '" .. tostring(key) .. "'",
               source = s.source, line = s.line, col = s.col, len = s.len,
               help = near and "did you mean '" .. near .. "'?" or "`stringline describe " .. rec.def.name .. "` lists them" }
end

local function frozen(proxy)
  local rec = inside[proxy]
  host.raise { code = "D008", text = (rec and (rec.def and not rec.group and record.title(rec.def, rec.name) or rec.path) or "this list") .. " is declared and cannot be changed",
               help = "declare another value, or use an alternate" }
end

-- ---- reading -------------------------------------------------------------------------------------------------------

local list_meta, map_meta, collection_meta, record_meta

-- A field's value, or nil if nobody gave it.
local function field_value(rec, f)
  local v = rec.v[f.name]
  if overlay or graph.noting then
    local path = step(rec.path, f.name)
    local other = overlay and overlay[path]
    if other ~= nil then v = other end
    if graph.noting then graph.note(path, v) end
  end
  return v
end

function record.given(proxy, name)
  local rec = inside[proxy]
  if not rec or not rec.v then
    host.raise { code = "D007", text = "given needs a record and a field's name, got " .. host.describe(proxy),
        help = 'as in given(rack, "like")' }
  end
  local f = rec.def.by[name]
  if not f then no_such(rec, name) end
  return field_value(rec, f)
end

local function children_of(rec, child)
  return graph.remember(rec, child.memo, function()
    local group = { def = child, order = {}, by = {}, parent = rec }
    for _, c in ipairs(child.derive(rec.proxy, record.root)) do
      local path = step(step(rec.path, child.name), c.name)
      local proxy = record.wrap { def = child, name = c.name, path = path, v = c, parent = rec, source = rec.source, line = rec.line, mark = rec.mark }
      group.order[#group.order + 1], group.by[c.name] = proxy, proxy
    end
    return record.collection(group)
  end)
end

function record.wrap(rec)
  local proxy = setmetatable({}, record_meta)
  rec.proxy = proxy
  inside[proxy] = rec
  return proxy
end

local kind_group

record_meta = {
  __name = "record", __metatable = false,
  __newindex = frozen,
  __index = function(proxy, key)
    local rec = inside[proxy]
    local def = rec.def
    local f = def.by[key] or (def.list_field and def.list_field.name == key and def.list_field)
    if f then
      local v = field_value(rec, f)
      if v == nil then missing(rec, f) end
      return v
    end
    local r = def.results and def.results[key]
    if r then return graph.value(rec, r) end
    if def.children and def.children[key] then return children_of(rec, def.children[key]) end
    if rec.root then
      local k = schema.kinds[key]
      if k and not k.parent then return kind_group(k) end
    end
    if key == "name" and rec.name then return rec.name end
    no_such(rec, key)
  end,
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

list_meta = {
  __name = "list", __metatable = false, __newindex = frozen,
  __len = function(proxy) return #inside[proxy].list end,
  __index = function(proxy, i)
    local l = inside[proxy]
    local v
    if overlay and math.type(i) == "integer" then v = overlay[step(l.path, i)] end
    if v == nil then v = l.list[i] end
    return v
  end,
  __pairs = ipairs,
}

map_meta = {
  __name = "map", __metatable = false, __newindex = frozen,
  __index = function(proxy, key)
    local m = inside[proxy]
    local v
    if overlay and type(key) == "string" then v = overlay[step(m.path, key)] end
    if v == nil then v = m.map[key] end
    return v
  end,
  __pairs = function(proxy)
    local m, i = inside[proxy], 0
    return function() i = i + 1; local k = m.names[i]; if k then return k, proxy[k] end end
  end,
}

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
    local known = c.def.by[key] or c.def.results[key]
    host.raise { code = "D009", text = known and "there are " .. #names .. " of " .. c.def.name .. ": " .. table.concat(names, ", ") .. "; say which"
                   or "no " .. c.def.name .. " is named '" .. tostring(key) .. "'",
                 help = near and "did you mean '" .. near .. "'?" or known and "write " .. c.def.name .. "." .. names[1] .. "." .. tostring(key) ..
                   ", or go through all: for x in each(job." .. c.def.name .. ") do ... end" or "there are " .. table.concat(names, ", ") }
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

-- The records of a kind, as kept: { def, order, by, proxy }.
function record.group(def)
  local g = kinds[def.name]
  if not g then
    g = { def = def, order = {}, by = {} }
    kinds[def.name] = g
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

-- The only record of a single kind, or nil.
function record.only(kind) return record.all(kind)[1] end

local none = {}
-- The records of a kind; to ask for those of a kind that nobody used yet does not load it.
function record.all(kind)
  local g = kinds[kind]
  if g then return g.order end
  assert(rawget(schema.kinds, kind) or domains.has_kind(kind), kind)
  return none
end

-- each(x): the records of a collection or the items of a list, in order.
function record.each(x)
  local c = inside[x]
  local list = c and (c.order or c.list and x)      -- a list through its proxy, which knows what_if
  if not list then
    if type(x) == "table" and not c then list = x
    else host.raise { code = "D011", text = "each needs a collection or a list, got " .. host.describe(x), help = "as in each(job.rack)" } end
  end
  local i = 0
  return function() i = i + 1; return list[i] end
end

function record.is(x) return type(x) == "table" and inside[x] ~= nil and inside[x].v ~= nil end
function record.kind_of(x) return record.is(x) and inside[x].def.name or nil end

-- Calls f(path, value) for every value that somebody gave or that a default filled in, in the order of the schemas.
function record.walk(f)
  local function visit(path, value)
    local d = inside[value]
    if d and d.list then
      for i, v in ipairs(d.list) do visit(step(path, i), v) end
    elseif d and d.names then
      for _, k in ipairs(d.names) do visit(step(path, k), d.map[k]) end
    elseif d and d.group then
      for _, g in ipairs(d.def.fields) do
        if d.v[g.name] ~= nil then visit(step(path, g.name), d.v[g.name]) end
      end
    elseif value ~= nil then
      f(path, value)
    end
  end
  for _, def in ipairs(schema.order) do
    if not def.parent and not def.partial then
      for _, proxy in ipairs(record.group(def).order) do
        local rec = inside[proxy]
        for _, g in ipairs(def.fields) do visit(step(rec.path, g.name), rec.v[g.name]) end
      end
    end
  end
end

-- ---- what if -------------------------------------------------------------------------------------------------------

-- Calls f with some input values replaced (by path); everything that depends on them is worked out afresh.
function record.what_if(values, f, ...)
  local before = overlay
  overlay = {}
  for k, v in next, before or {} do overlay[k] = v end
  for k, v in next, values do overlay[k] = v end
  local memo = graph.push()
  local packed = table.pack(pcall(f, ...))
  graph.pop(memo)
  overlay = before
  if not packed[1] then error(packed[2], 0) end
  return table.unpack(packed, 2, packed.n)
end

-- The value at a path ("rack.east.tilt"), without noting it; nil where there is none.  Second, where it is an input:
-- its path in full, as what_if wants it (rack.tilt of the only rack is rack.east.tilt).
function record.input(path)
  local parts, why = record.parse_path(path)
  if not parts then host.raise { code = "D019", text = why, help = "as in rack.east.tilt" } end
  local x, at = record.root, nil
  for i = (parts[1] == "job" and parts[2] and not schema.kinds.job.by[parts[1]]) and 2 or 1, #parts do
    local c, key = inside[x], parts[i]
    if c and c.order and not c.by[key] and #c.order == 1 then c = inside[c.order[1]] end
    if c and c.v and c.def.by[key] then x, at = field_value(c, c.def.by[key]), step(c.path, key)
    elseif c and (c.list or c.map) then x, at = x[key], step(c.path, key)
    else x, at = x[key], nil end
    if x == nil then break end
  end
  return x, at
end

-- The value alone.
function record.at(path) return (record.input(path)) end

-- ---- the root -------------------------------------------------------------------------------------------------------

function record.start(the_graph)
  graph = the_graph
  record.root = record.wrap { def = schema.kinds.job, path = "job", v = {}, root = true, source = 0, line = 0, mark = -1 }
end

-- The job's own declaration becomes the root of all.
function record.adopt_job()
  local job = record.only "job"
  if not job then record.missing_kind(schema.kinds.job) end
  local rec = inside[job]
  rec.root = true
  inside[record.root].v, inside[record.root].source, inside[record.root].line, inside[record.root].mark = rec.v, rec.source, rec.line, rec.mark
end

return record
