-- SPDX-License-Identifier: MIT
-- Records: what a script declared, checked, frozen, and reachable by name and path.
--
-- A record is an empty proxy; its data sits in `inside[proxy]`, out of a script's reach.  Reading a field that nobody gave
-- raises a "missing" error, which makes whatever wanted it unknown instead of wrong.
local schema = import "lang.schema"
local record = { overrides = {}, defaults = {}, told = {}, dropped = {}, added = {} }

local inside = {}        -- proxy -> { def, name, path, v, source, mark, line, parent }
local kinds = {}         -- kind name -> { def, order = { proxy ... }, by = { name -> proxy } }
local pending = {}       -- declaration heads still without their table
local graph              -- lang.graph, once it is there
local overlay            -- what-if values by path, or nil

record.inside = inside

-- ---- paths ---------------------------------------------------------------------------------------------------------

local tails = {}         -- key -> what it adds to a path, kept since every read of a field asks for it
local function step(path, key)
  local tail = tails[key]
  if not tail then
    tail = math.type(key) == "integer" and "[" .. key .. "]" or string.find(key, "^[%a_][%w_]*$") and "." .. key or "['" .. key .. "']"
    tails[key] = tail
  end
  if path == "" and tail:byte() == 46 then return key end
  return path .. tail
end
record.step = step

local function join(parts, from)
  local path = ""
  for i = from or 1, #parts do path = step(path, parts[i]) end
  return path
end

-- "run['array to shed'].wire" -> { "run", "array to shed", "wire" }; nil and a reason where it is none.
function record.parse_path(text)
  local parts, at = {}, 1
  local first = text:match("^[%a_][%w_]*")
  if not first then return nil, "a path starts with a kind, as in rack.east.tilt" end
  parts[1], at = first, #first + 1
  while at <= #text do
    local name, stop = text:match("^%.([%a_][%w_]*)()", at)
    if not name then name, stop = text:match("^%[['\"](.-)['\"]%]()", at) end
    if not name then
      name, stop = text:match("^%[(%d+)%]()", at)
      name = math.tointeger(tonumber(name))
    end
    if not name then return nil, "cannot read '" .. text:sub(at) .. "'; a path is written rack.east.tilt or run['array to shed'].wire" end
    parts[#parts + 1], at = name, stop
  end
  return parts
end

-- ---- messages ------------------------------------------------------------------------------------------------------

local function title(def, name) return name and def.name .. ' "' .. name .. '"' or def.name end

local function missing(rec, f)
  host.raise { code = "D010", class = "missing", text = (rec.path == "" and "job" or rec.path) .. "." .. f.name .. " is not given: " .. f.says,
               path = step(rec.path, f.name), who = f.who, tool = f.tool, help = "add " .. f.name .. " = ... (" .. schema.wants(f) .. ")" }
end

function record.missing_kind(def)
  host.raise { code = "D010", class = "missing", text = "no " .. def.name .. " is declared: " .. def.says, path = def.name,
               who = def.who, tool = def.tool, help = "declare it: " .. def.name .. (def.named and ' "name"' or "") .. " { ... }" }
end

local function no_such(rec, key)
  local names = schema.names(rec.def)
  local near = type(key) == "string" and host.nearest(key, names)
  host.raise { code = "D007", text = title(rec.def, rec.name) .. " has no field or result '" .. tostring(key) .. "'",
               help = near and "did you mean '" .. near .. "'?" or "`stringline describe " .. rec.def.name .. "` lists them" }
end

local function frozen(proxy)
  local rec = inside[proxy]
  host.raise { code = "D008", text = (rec and (rec.def and title(rec.def, rec.name) or rec.path) or "this list") .. " is declared and cannot be changed",
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
  local rec = inside[proxy] or host.raise { code = "D007", text = "given needs a record and a field's name" }
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
    local path = step(l.path, i)
    local v = overlay and math.type(i) == "integer" and overlay[path]
    if v == nil then v = l.list[i] end
    return v
  end,
  __pairs = function(proxy) return ipairs(inside[proxy].list) end,
}

map_meta = {
  __name = "map", __metatable = false, __newindex = frozen,
  __index = function(proxy, key)
    local m = inside[proxy]
    local v = overlay and type(key) == "string" and overlay[step(m.path, key)]
    if v == nil then v = m.map[key] end
    return v
  end,
  __pairs = function(proxy)
    local m, i = inside[proxy], 0
    return function() i = i + 1; local k = m.names[i]; if k then return k, m.map[k] end end
  end,
}

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

local function group_of(def)
  local g = kinds[def.name]
  if not g then
    g = { def = def, order = {}, by = {} }
    kinds[def.name] = g
    g.proxy = record.collection(g)
  end
  return g
end

function kind_group(def)
  local g = group_of(def)
  if not def.single then return g.proxy end
  if not g.order[1] then record.missing_kind(def) end
  return g.order[1]
end

-- The only record of a single kind, or nil.
function record.only(kind) return group_of(schema.kinds[kind]).order[1] end
function record.all(kind) return group_of(schema.kinds[kind]).order end

-- each(x): the records of a collection or the items of a list, in order.
function record.each(x)
  local c = inside[x]
  local list = c and (c.order or c.list)
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
      for _, proxy in ipairs(group_of(def).order) do
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

-- The value at a path ("rack.east.tilt"), without noting it; nil where there is none.
function record.at(path)
  local parts = record.parse_path(path)
  local x = record.root
  for i = (parts[1] == "job" and parts[2] and not schema.kinds.job.by[parts[1]]) and 2 or 1, #parts do
    local c = inside[x]
    if c and c.v and c.def.by[parts[i]] then x = field_value(c, c.def.by[parts[i]])
    else x = x[parts[i]] end
    if x == nil then return nil end
  end
  return x
end

-- ---- declaring -----------------------------------------------------------------------------------------------------

local told_meta = { __name = "told value", __metatable = false }
local told_inside = {}
for _, op in ipairs { "add", "sub", "mul", "div", "unm", "lt", "le", "concat", "index", "pow" } do
  told_meta["__" .. op] = function()
    host.raise { code = "D012", text = "measured, told, looked_up and guess belong around a whole field", help = 'as in frost = told(18in, "owner")' }
  end
end

-- measured(96ft, "tape"): the value, and how it was come by.
function record.teller(how)
  return function(value, by)
    if value == nil then host.raise { code = "D012", text = how .. " needs a value", help = how .. '(96ft, "tape")' } end
    if how ~= "guess" and (type(by) ~= "string" or not string.find(by, "%S")) then
      host.raise { code = "D012", text = how .. " needs to say by what or by whom", help = how .. '(96ft, "tape")' }
    end
    local t = setmetatable({}, told_meta)
    told_inside[t] = { how = how, value = value, by = by }
    return t
  end
end

local function copy(value, seen, what)
  if type(value) ~= "table" or inside[value] or told_inside[value] then return value end
  if seen[value] then host.raise { code = "D013", text = what .. ": a table contains itself" } end
  seen[value] = true
  local out = {}
  for k, v in next, value do out[k] = copy(v, seen, what) end
  seen[value] = nil
  return out
end

-- Puts b over a, field by field; lists are replaced whole.
local function merge(a, b)
  local out = {}
  for k, v in next, a do out[k] = v end
  for k, v in next, b do
    local old = out[k]
    if type(v) == "table" and type(old) == "table" and not inside[v] and not inside[old] and not told_inside[v] and not told_inside[old]
       and v[1] == nil and old[1] == nil then
      out[k] = merge(old, v)
    else
      out[k] = v
    end
  end
  return out
end

local function set_deep(raw, parts, i, value)
  if i == #parts then raw[parts[i]] = value return end
  local inner = raw[parts[i]]
  if told_inside[inner] then inner = told_inside[inner].value end
  if type(inner) ~= "table" or inside[inner] then inner = {} end
  inner = copy(inner, {}, "override")
  raw[parts[i]] = inner
  set_deep(inner, parts, i + 1, value)
end

local function apply_overrides(def, name, raw)
  local touched = {}
  for _, o in ipairs(record.overrides) do
    local from
    if o.parts[1] == def.name then
      if name and o.parts[2] == name and #o.parts >= 3 then from = 3
      elseif #o.parts >= 2 and def.by[o.parts[2]] then from = 2 end
    end
    if from then
      set_deep(raw, o.parts, from, o.value)
      o.used = (o.used or 0) + 1
      o.kind = from == 2 and not def.single and def or nil
      touched[join(o.parts, from)] = o
    end
  end
  return touched
end

local function context(def, name, at, touched, partial)
  local what = title(def, name)
  local ctx = { what = what, partial = partial }
  local path = step(name and step("", def.name) or "", name or def.name)
  if def.name == "job" then path = "job" end
  ctx.base = path
  local function override_of(p)
    local text = join(p)
    for t, o in next, touched do
      if text == t or text:sub(1, #t + 1) == t .. "." or text:sub(1, #t + 1) == t .. "[" then return o end
    end
  end
  function ctx.span(p, key_only)
    local o = override_of(p)
    if o then ctx.what = o.from .. ": " .. what return { source = 0, line = 0, col = 0, len = 0 } end
    return host.span(at.source, at.mark, at.line, p, key_only)
  end
  function ctx.origin(value) return host.origin(value) end
  function ctx.told(p, value)
    local t = told_inside[value]
    if not t then return value end
    record.told[path .. (#p > 0 and "." .. join(p) or "")] = { how = t.how, by = t.by }
    return t.value
  end
  function ctx.defaulted(p, value, f)
    if not f.quiet then record.defaults[#record.defaults + 1] = { path = path .. "." .. join(p), value = value, field = f } end
  end
  function ctx.freeze_list(list, p)
    local proxy = setmetatable({}, list_meta)
    inside[proxy] = { list = list, path = path .. "." .. join(p) }
    return proxy
  end
  function ctx.freeze_map(map, names, p)
    local proxy = setmetatable({}, map_meta)
    inside[proxy] = { map = map, names = names, path = path .. "." .. join(p) }
    return proxy
  end
  function ctx.freeze_group(v, f, p)
    return record.wrap { def = f, name = nil, path = path .. "." .. join(p), v = v, group = true }
  end
  local function unknown(p, value, kind_names, known)
    local near = type(value) == "string" and host.nearest(value, known)
    local s = ctx.span(p)
    host.raise { code = "D014", text = ctx.what .. ": '" .. tostring(p[#p]) .. "' names no " .. kind_names .. ": " .. host.describe(value),
                 source = s.source, line = s.line, col = s.col, len = s.len,
                 help = near and "did you mean '" .. near .. "'?" or #known > 0 and "there are " .. table.concat(known, ", ")
                   or "none is declared above this line" }
  end
  function ctx.ref(of, value, p, f)
    local known, found = {}, nil
    for _, k in ipairs(of) do
      local g = group_of(schema.kinds[k])
      if record.is(value) and inside[value].def.name == k then return value end
      for _, r in ipairs(g.order) do
        local n = inside[r].name
        if n and value == n then found = r end
        if n then known[#known + 1] = n end
      end
    end
    if found then return found end
    unknown(p, value, table.concat(of, " or "), known)
  end
  function ctx.part(of, value, p)
    local g = group_of(schema.kinds[of])
    if g.by[value] then return g.by[value] end
    local known = {}
    for _, r in ipairs(g.order) do known[#known + 1] = inside[r].name end
    unknown(p, value, of .. " of the parts files", known)
  end
  return ctx
end

local function twice(def, name, at, first)
  local a, b = host.span(at.source, at.mark, at.line, {}), inside[first]
  local f = host.span(b.source, b.mark, b.line, {})
  host.raise { code = "D015", text = title(def, name) .. " is declared twice", source = a.source, line = a.line, col = a.col, len = a.len,
               labels = f.source == a.source and { { line = f.line, col = f.col, len = f.len, text = "first declared here" } } or nil,
               notes = f.source ~= a.source and { "first declared in " .. host.place(f) } or nil,
               help = def.single and "there is one " .. def.name .. " in a job" or "give one of them another name" }
end

-- Builds, checks and keeps one record.  at = { source, line, mark }.
function record.declare(def, name, raw, at)
  local group = group_of(def)
  if type(raw) ~= "table" or inside[raw] then
    host.raise { code = "D016", text = title(def, name) .. " needs its table, got " .. host.describe(raw), help = "write " .. def.name .. (name and ' "' .. name .. '"' or "") .. " { ... }" }
  end
  local own_path = name and step(def.name, name) or def.name
  if record.dropped[own_path] then
    record.dropped[own_path] = false
    return nil
  end
  if name and (def.by[name] or def.results[name] or def.children[name]) then
    local s = host.span(at.source, at.mark, at.line, {})
    host.raise { code = "D017", text = def.name .. " cannot be named '" .. name .. "': that is one of its own words", source = s.source, line = s.line, col = s.col, len = s.len,
                 help = "`" .. def.name .. "." .. name .. "` could not tell the two apart" }
  end
  if not name and not def.single and #group.order > 0 or name and group.by[""] then
    local s = host.span(at.source, at.mark, at.line, {})
    host.raise { code = "D018", text = "there is more than one " .. def.name .. ": each needs a name", source = s.source, line = s.line, col = s.col, len = s.len,
                 help = "write " .. def.name .. ' "A" { ... }' }
  end
  if group.by[name or ""] then twice(def, name, at, group.by[name or ""]) end
  if def.single and group.order[1] then twice(def, name, at, group.order[1]) end
  raw = copy(raw, {}, title(def, name))
  local type_record, differs
  if def.like and raw.like ~= nil then
    local ctx = context(def, name, at, {})
    type_record = ctx.ref({ def.like }, raw.like, { "like" })
    local base = inside[type_record].raw
    differs = {}
    local own = copy(raw, {}, "like")
    own.like = nil
    for _, f in ipairs(def.fields) do if own[f.name] ~= nil then differs[#differs + 1] = f.name end end
    raw = merge(base, own)
    raw.like = type_record
  end
  local touched = apply_overrides(def, name, raw)
  local ctx = context(def, name, at, touched, def.partial)
  local told_of = ctx.base
  local v = schema.fields(ctx, {}, def, raw)
  local rec = { def = def, name = name, path = told_of, v = v, raw = raw, source = at.source, line = at.line, mark = at.mark, like = type_record, differs = differs }
  local proxy = record.wrap(rec)
  group.order[#group.order + 1] = proxy
  group.by[name or ""] = proxy
  if def.declared then def.declared(proxy) end
  return proxy
end

-- A part out of a file: values are checked already. at = { source, line, col, len }.
function record.add_part(def, name, v, at)
  local group = group_of(def)
  local first = group.by[name]
  if first then
    local f = inside[first].at
    host.raise { code = "D015", text = def.name .. " " .. name .. " is listed twice", source = at.source, line = at.line, col = at.col, len = at.len,
                 notes = { "first listed at " .. host.place(f) }, help = "keep the one that is right" }
  end
  local proxy = record.wrap { def = def, name = name, path = step(step("", def.name), name), v = v, source = at.source, line = at.line, mark = -1, at = at }
  group.order[#group.order + 1], group.by[name] = proxy, proxy
end

-- The function that a script calls for a kind: rack "east" { ... }, job { ... }.
function record.head(def)
  local function place(name)
    local source, line = host.where()
    return { source = source, line = line, mark = host.head(source, line, def.name, name) }
  end
  return function(first, ...)
    if select("#", ...) > 0 then
      host.raise { code = "D016", text = def.name .. " takes one table", help = "write " .. def.name .. (def.named and ' "name"' or "") .. " { ... }" }
    end
    if type(first) == "string" and (def.named or def.may_name) then
      local name = first
      if not string.find(name, "%S") then host.raise { code = "D016", text = def.name .. " has an empty name" } end
      local open = { def = def, name = name, at = place(name) }
      pending[#pending + 1] = open
      return function(raw, ...)
        open.closed = true
        if select("#", ...) > 0 then host.raise { code = "D016", text = title(def, name) .. " takes one table" } end
        return record.declare(def, name, raw, open.at)
      end
    end
    if def.named and type(first) == "table" and not inside[first] then
      local at = place()
      local s = host.span(at.source, at.mark, at.line, {})
      host.raise { code = "D016", text = def.name .. " needs a name", help = "write " .. def.name .. ' "name" { ... }', source = s.source, line = s.line, col = s.col, len = s.len }
    end
    if type(first) == "string" then
      host.raise { code = "D016", text = def.name .. " takes no name, only its table", help = "write " .. def.name .. " { ... }" }
    end
    return record.declare(def, nil, first, place())
  end
end

-- After the script: heads that never got their table, overrides that met nothing, cross-checks between records.
function record.settle()
  for _, a in ipairs(record.added) do
    record.declare(schema.kinds[a.add], a.name, a.raw, { source = 0, line = 0, mark = -1 })
  end
  for path, from in host.sorted(record.dropped) do
    if from then host.raise { code = "D019", text = from .. ": nothing declared has the path " .. path } end
  end
  for _, p in ipairs(pending) do
    if not p.closed then
      local s = host.span(p.at.source, p.at.mark, p.at.line, {})
      host.raise { code = "D016", text = title(p.def, p.name) .. " has no table", source = s.source, line = s.line, col = s.col, len = s.len,
                   help = "write " .. p.def.name .. ' "' .. p.name .. '" { ... } with the brace on the same line' }
    end
  end
  for _, o in ipairs(record.overrides) do
    if not o.used then
      local k = schema.kinds[o.parts[1]]
      local near = not k and host.nearest(o.parts[1], host.kind_names())
      local known = {}
      if k then
        for _, f in ipairs(k.fields) do known[#known + 1] = f.name end
        for _, r in ipairs(group_of(k).order) do if inside[r].name then known[#known + 1] = inside[r].name end end
        near = o.parts[2] and host.nearest(tostring(o.parts[2]), known)
      end
      host.raise { code = "D019", text = o.from .. ": nothing declared has the path " .. o.path, help = near and "did you mean '" .. near .. "'?"
                     or #known > 0 and k.name .. " has " .. table.concat(known, ", ") or nil }
    end
    if o.kind and o.used > 1 then
      local names = {}
      for i, r in ipairs(group_of(o.kind).order) do names[i] = inside[r].name end
      host.raise { code = "D019", text = o.from .. ": " .. o.path .. " is meant for which of " .. table.concat(names, ", ") .. "?",
                   help = "write " .. step(step(o.kind.name, names[1]), join(o.parts, 2)) }
    end
  end
  for _, def in ipairs(schema.order) do
    if def.settle then
      for _, proxy in ipairs(group_of(def).order) do
        local rec = inside[proxy]
        local function refuse(path, text, help)
          local s = host.span(rec.source, rec.mark, rec.line, path)
          host.raise { code = "D020", text = title(def, rec.name) .. ": " .. text, help = help, source = s.source, line = s.line, col = s.col, len = s.len }
        end
        def.settle(proxy, refuse)
      end
    end
  end
end

-- Adds --set PATH=VALUE or an alternate's value.
function record.override(path, value, from)
  local parts, why = record.parse_path(path)
  if not parts then host.raise { code = "D019", text = from .. ": " .. why } end
  record.overrides[#record.overrides + 1] = { path = path, parts = parts, value = value, from = from }
end

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
