-- SPDX-License-Identifier: MIT
-- Declaring: a script's raw tables become checked, frozen records.  Types are merged in (like), and the values that the
-- command line or an alternate puts in are set by path, as each record is built.
local run = import "model.run"
local schema = import "model.schema"
local record = import "model.record"
local path_of = import "model.path"
local build = {}

local inside, step = record.inside, path_of.step

local told_meta = { __name = "told value", __metatable = false }
for _, op in ipairs { "add", "sub", "mul", "div", "mod", "idiv", "unm", "pow", "lt", "le", "concat", "len", "index",
                      "newindex", "call", "pairs" } do
  told_meta["__" .. op] = function()
    host.raise { code = "D012", text = "measured, told, looked_up and guess belong around a whole field",
        help = 'as in frost = told(18in, "owner")' }
  end
end

-- measured(96ft, "tape"): the value, and how it was come by.
function build.teller(how)
  return function(value, by)
    if value == nil then
      host.raise { code = "D012", text = how .. " needs a value", help = how .. '(96ft, "tape")' }
    end
    if how ~= "guess" and (type(by) ~= "string" or not string.find(by, "%S")) then
      host.raise { code = "D012", text = how .. " needs to say by what or by whom", help = how .. '(96ft, "tape")' }
    end
    local unsafe, mend = host.unsafe(type(by) == "string" and by or "")
    if unsafe then host.raise { code = "D021", text = how .. " holds " .. unsafe, help = mend } end
    if run.telling[value] then
      host.raise { code = "D012", text = how .. " goes around a value, not around " .. run.telling[value].how ..
          "(...)", help = "keep the one that is true" }
    end
    local t = setmetatable({}, told_meta)
    run.telling[t] = { how = how, value = value, by = by }
    return t
  end
end

-- { how, value, by } of measured(...) and its like; nil of anything else.
function build.teller_of(value) return run.telling[value] end

local deepest = 16       -- tables in tables; no declaration has more than six

-- A script's table as it stands now: what the script does to it later, and what its metatable says, is not seen.
local function copy(value, seen, what, depth)
  if type(value) ~= "table" or inside[value] or run.telling[value] then return value end
  if seen[value] then
    host.raise { code = "D013", text = what .. ": a table contains itself",
        help = "a table holds values and other tables, never itself" }
  end
  depth = depth or 1
  if depth > deepest then
    host.raise { code = "D013", text = what .. ": tables stand in each other more than " .. deepest .. " deep",
        help = "no declaration goes so deep" }
  end
  seen[value] = true
  local out = {}
  for k, v in next, value do out[k] = copy(v, seen, what, depth + 1) end
  seen[value] = nil
  return out
end
function build.copy(value, what) return copy(value, {}, what) end

-- Puts b over a, field by field; lists are replaced whole.
local function merge(a, b)
  local function has_fields(v)
    return type(v) == "table" and not inside[v] and not run.telling[v] and v[1] == nil
  end
  local out = {}
  for k, v in next, a do out[k] = v end
  for k, v in next, b do
    local old = out[k]
    out[k] = has_fields(v) and has_fields(old) and merge(old, v) or v
  end
  return out
end

-- f: the kind, group or list that raw is a table of. What stands there by its name alone keeps it.
local function set_deep(raw, parts, i, value, f)
  if i == #parts then raw[parts[i]] = value return end
  local inner = raw[parts[i]]
  local field = f and (f.by and f.by[parts[i]] or f.item)
  if run.telling[inner] then inner = run.telling[inner].value end
  if type(inner) == "string" and field and field.bare then inner = { [field.bare] = inner } end
  if type(inner) ~= "table" or inside[inner] then inner = {} end
  inner = copy(inner, {}, "override")
  raw[parts[i]] = inner
  set_deep(inner, parts, i + 1, value, field)
end

-- Where in an override's path the fields of this record begin; nil if it is for another one.
local function fields_from(o, def, name)
  if o.parts[1] ~= def.name then return nil end
  if name and o.parts[2] == name and #o.parts >= 3 then return 3 end
  if #o.parts >= 2 and def.by[o.parts[2]] then return 2 end
end

-- The type that a record is like is put in first: the rest is put over what it gives.
local function override_like(def, name, raw)
  for _, o in ipairs(run.overrides) do
    local from = fields_from(o, def, name)
    if from == #o.parts and o.parts[from] == "like" then raw.like = o.value end
  end
end

local function apply_overrides(def, name, raw)
  local touched = {}
  for _, o in ipairs(run.overrides) do
    local from = fields_from(o, def, name)
    if from then
      set_deep(raw, o.parts, from, o.value, def)
      o.used = (o.used or 0) + 1
      o.kind = from == 2 and not def.single and def or nil
      touched[path_of.join(o.parts, from)] = o
      if o.tolerance then
        local at = name and step(def.name, name) or def.name
        for i = from, #o.parts do at = step(at, o.parts[i]) end
        run.tolerances[at] = o.tolerance
      end
    end
  end
  return touched
end

-- What put in the value at a path, or the table around it; nil where the script did.
local function override_of(touched, p)
  local text = path_of.join(p)
  for t, o in next, touched do
    if text == t or text:sub(1, #t + 1) == t .. "." or text:sub(1, #t + 1) == t .. "[" then return o end
  end
end

function build.context(def, name, at, touched, partial)
  local what = (at.from and at.from .. ": " or "") .. record.title(def, name)
  local ctx = { what = what, partial = partial }
  local path = step(name and step("", def.name) or "", name or def.name)
  if def.name == "job" then path = "job" end
  ctx.base = path
  function ctx.span(p, key_only)
    local o = override_of(touched, p)
    if o then ctx.what = o.from .. ": " .. what return { source = 0, line = 0, col = 0, len = 0 } end
    return host.span(at.source, at.mark, at.line, p, key_only)
  end
  function ctx.origin(value) return host.origin(value) end
  function ctx.metric()
    local job = record.only "job"
    return job and job.units ~= "US"
  end
  function ctx.told(p, value)
    local t = run.telling[value]
    if not t then return value end
    local at = #p > 0 and "." .. path_of.join(p) or ""
    if def.items and math.type(p[1]) == "integer" then at = "." .. def.items.name .. at:sub(2) end    -- none.facts[1]
    run.told[path .. at] = { how = t.how, by = t.by }
    return t.value
  end
  function ctx.tolerance(p, value)
    local o = host.origin(value)
    return run.tolerances[path .. "." .. path_of.join(p)] or o and o.tolerance
  end
  function ctx.defaulted(p, value, f)
    if f.quiet then return end
    run.defaults[#run.defaults + 1] = { path = path .. "." .. path_of.join(p), value = value, field = f }
  end
  function ctx.freeze_list(list, p)
    return record.list(list, path .. "." .. path_of.join(p))
  end
  function ctx.freeze_map(map, names, p)
    return record.map(map, names, path .. "." .. path_of.join(p))
  end
  function ctx.freeze_group(v, f, p)
    return record.wrap { def = f, name = nil, path = path .. "." .. path_of.join(p), v = v, group = true }
  end
  local function unknown(p, value, kind_names, known, none)
    if run.unsure then import("model.faults").follow() end
    local near = type(value) == "string" and host.nearest(value, known)
    local s = ctx.span(p)
    local got = record.is(value) and record.title(inside[value].def, inside[value].name) or host.describe(value)
    host.raise { code = "D014",
        text = ctx.what .. ": " .. schema.called(p) .. " names no " .. kind_names .. ": " .. got,
        source = s.source, line = s.line, col = s.col, len = s.len,
        help = near and "did you mean '" .. near .. "'?" or #known > 0 and "there are " .. table.concat(known, ", ")
            or none or "none is declared above this line" }
  end
  -- The record of one of these kinds that is meant, and the names that there are.
  local function meant(of, value)
    local known, found = {}, nil
    for _, k in ipairs(of) do
      local g = record.group(schema.kinds[k])
      if record.is(value) and inside[value].def.name == k then return value end
      for _, r in ipairs(g.order) do
        local n = inside[r].name
        if n and value == n then found = r end
        if n then known[#known + 1] = n end
      end
    end
    for _, a in ipairs(found and {} or run.added) do
      for _, k in ipairs(of) do
        if a.add == k and a.name == value and not a.built then return build.added(a) end
      end
    end
    return found, known
  end
  local function use_of(found)
    ctx.rests_on_fault = ctx.rests_on_fault or inside[found].faulty
    return found
  end
  function ctx.ref(of, value, p, f)
    local found, known = meant(of, value)
    if found then return use_of(found) end
    local head = value
    for at in f and f.rest and type(value) == "string" and string.gmatch(value, "()%.") or function() end do
      head = string.sub(value, 1, at - 1)
      found = meant(of, head)
      if found and at < #value then return use_of(found), string.sub(value, at + 1) end
    end
    unknown(p, head ~= value and host.nearest(head, known) and head or value, table.concat(of, " or "), known)
  end
  function ctx.part(of, value, p)
    local g = record.group(schema.kinds[of])
    if g.by[value] then return use_of(g.by[value]) end
    local known = {}
    for _, r in ipairs(g.order) do known[#known + 1] = inside[r].name end
    unknown(p, value, of .. " of the parts files", known,
        'no parts file above lists one: name it first, as in parts "' .. of .. 's.csv"')
  end
  return ctx
end

local context = build.context

local function twice(def, name, at, first)
  local a, b = host.span(at.source, at.mark, at.line, {}), inside[first]
  local f = host.span(b.source, b.mark, b.line, {})
  local label = { line = f.line, col = f.col, len = f.len, text = "first declared here" }
  host.raise { code = "D015", text = record.title(def, name) .. " is declared twice",
      source = a.source, line = a.line, col = a.col, len = a.len,
      labels = f.source == a.source and { label } or nil,
      notes = f.source ~= a.source and { "first declared in " .. host.place(f) } or nil,
      help = def.single and "there is one " .. def.name .. " in a job" or "give one of them another name" }
end

-- Refuses a declaration as a whole. at = { source, line, mark }.
local function refuse(at, code, text, help)
  local s = host.span(at.source, at.mark, at.line, {})
  host.raise { code = code, text = text, help = help, source = s.source, line = s.line, col = s.col, len = s.len }
end

-- Builds, checks and keeps one record.
build.declare = host.uncounted(function(def, name, raw, at)
  local group = record.group(def)
  if run.settled then
    host.raise { code = "E002", text = record.title(def, name) .. ": the script is over, nothing more can be declared",
        help = "declare it outside the functions of rules" }
  end
  if type(raw) ~= "table" or inside[raw] then
    host.raise { code = "D016", text = record.title(def, name) .. " needs its table, got " .. host.describe(raw),
        help = "write " .. def.name .. (name and ' "' .. name .. '"' or "") .. " { ... }" }
  end
  if name and host.unsafe(name) then schema.plain(context(def, nil, at, {}), {}, "its name", name) end
  local own_path = name and step(def.name, name) or def.name
  if run.dropped[own_path] then
    run.dropped[own_path] = false
    return nil
  end
  if name and (def.by[name] or def.results[name] or def.children[name]) then
    refuse(at, "D017", def.name .. " cannot be named '" .. name .. "': that is one of its own words",
        "`" .. def.name .. "." .. name .. "` could not tell the two apart")
  end
  if not name and not def.single and #group.order > 0 or name and group.by[""] then
    refuse(at, "D018", "there is more than one " .. def.name .. ": each needs a name",
        "write " .. def.name .. ' "A" { ... }')
  end
  if group.by[name or ""] then twice(def, name, at, group.by[name or ""]) end
  if def.single and group.order[1] then twice(def, name, at, group.order[1]) end
  raw = copy(raw, {}, record.title(def, name))
  local type_record, differs
  local partial = def.partial
  if def.like then override_like(def, name, raw) end
  if def.like and raw.like ~= nil then
    local ctx = context(def, name, at, {})
    type_record = run.attempt("names", ctx.ref, { def.like }, raw.like, { "like" })
    if run.hole and type_record == run.hole then partial, raw.like, type_record = true, type_record, nil end
  end
  if type_record then
    local base = inside[type_record].raw
    differs = {}
    local own = copy(raw, {}, "like")
    own.like = nil
    for _, f in ipairs(def.fields) do if own[f.name] ~= nil then differs[#differs + 1] = f.name end end
    raw = merge(base, own)
    raw.like = type_record
  end
  local touched = apply_overrides(def, name, raw)
  local ctx = context(def, name, at, touched, partial)
  local v, wrong = schema.checked(ctx, def, raw)
  for key in next, wrong or {} do raw[key] = def.by[key] and run.hole or nil end       -- for what will be like it
  return record.keep { def = def, faulty = wrong ~= nil, unsettled = wrong ~= nil or ctx.rests_on_fault,
      name = name, path = ctx.base, v = v, raw = raw, like = type_record, differs = differs,
      touched = next(touched) and touched,
      source = at.source, line = at.line, mark = at.mark }
end)

local function declared(def, name, raw, at) return run.attempt("names and value", build.declare, def, name, raw, at) end

-- A declaration that an alternate adds: at the end, or as soon as another one names it.
function build.added(a)
  a.built = true
  return declared(schema.kinds[a.add], a.name, a.raw, { source = 0, line = 0, mark = -1, from = a.from })
end

-- A part out of a file: values are checked already. at = { source, line, col, len }.
function build.add_part(def, name, v, at, tolerances, faulty)
  local group = record.group(def)
  local first = group.by[name]
  if first then
    local f = inside[first].at
    host.raise { code = "D015", text = def.name .. " " .. name .. " is listed twice",
        source = at.source, line = at.line, col = at.col, len = at.len,
        notes = { "first listed at " .. host.place(f) }, help = "keep the one that is right" }
  end
  local proxy = record.keep { def = def, name = name, path = step(step("", def.name), name), v = v,
      source = at.source, line = at.line, mark = -1, at = at, faulty = faulty, unsettled = faulty }
  for field, tolerance in next, tolerances or {} do run.tolerances[step(inside[proxy].path, field)] = tolerance end
end

local function refuse_two(def, name)
  host.raise { code = "D016", text = record.title(def, name) .. " takes one table" }
end

-- The function that a script calls for a kind: rack "east" { ... }, job { ... }.
function build.head(def)
  local function place(name)
    local source, line = host.where()
    return { source = source, line = line, mark = host.head(source, line, def.name, name) }
  end
  return function(first, ...)
    if select("#", ...) > 0 then
      host.raise { code = "D016", text = def.name .. " takes one table",
          help = "write " .. def.name .. (def.named and ' "name"' or "") .. " { ... }" }
    end
    if type(first) == "string" and (def.named or def.may_name) then
      local name = first
      if not string.find(name, "%S") then host.raise { code = "D016", text = def.name .. " has an empty name" } end
      local open = { def = def, name = name, at = place(name) }
      run.heads[#run.heads + 1] = open
      return function(raw, ...)
        open.closed = true
        if select("#", ...) > 0 then run.attempt("names and value", refuse_two, def, name) end
        return declared(def, name, raw, open.at)
      end
    end
    if def.named and type(first) == "table" and not inside[first] then
      refuse(place(), "D016", def.name .. " needs a name", "write " .. def.name .. ' "name" { ... }')
    end
    if type(first) == "string" then
      host.raise { code = "D016", text = def.name .. " takes no name, only its table",
          help = "write " .. def.name .. " { ... }" }
    end
    return declared(def, nil, first, place())
  end
end

-- ---- after the script ----------------------------------------------------------------------------------------------

-- What was to be left out and is not there.
local function refuse_dropped()
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

local function refuse_open(head)
  refuse(head.at, "D016", record.title(head.def, head.name) .. " has no table",
      "write " .. head.def.name .. ' "' .. head.name .. '" { ... } with the brace on the same line')
end

local function refuse_open_heads()
  for _, p in ipairs(run.heads) do
    if not p.closed then run.attempt("names", refuse_open, p) end
  end
end

-- An override that met nothing: why.
local function refuse_override(o)
  local k = schema.kinds[o.parts[1]]
  local group = k and record.group(k)
  local named = group and o.parts[2] and group.by[o.parts[2]]
  if named and k.part and k.named then
    host.raise { code = "D019", text = o.from .. ": " .. o.path .. " is written in a parts file, not in the script",
        help = "change it there: " .. host.place(inside[named].at) }
  end
  if k and (#o.parts == 1 or #o.parts == 2 and named) then
    local first = k.fields[1] and k.fields[#k.fields > 1 and 2 or 1].name
    local name = o.parts[2] or k.named and group.order[1] and inside[group.order[1]].name
    host.raise { code = "D019", text = o.from .. ": " .. o.path .. " is a whole declaration, not one of its fields",
        help = "say which field, as in " .. step(name and step(k.name, name) or k.name, first) }
  end
  local near = not k and host.nearest(o.parts[1], schema.words())
  local known = {}
  if k then
    for _, f in ipairs(k.fields) do known[#known + 1] = f.name end
    for _, r in ipairs(group.order) do if inside[r].name then known[#known + 1] = inside[r].name end end
    near = o.parts[2] and host.nearest(tostring(o.parts[2]), known)
  end
  host.raise { code = "D019", text = o.from .. ": nothing declared has the path " .. o.path,
      help = near and "did you mean '" .. near .. "'?"
          or #known > 0 and k.name .. " has " .. table.concat(known, ", ") or nil }
end

-- One that met several.
local function refuse_unclear(o)
  local names = {}
  for i, r in ipairs(record.group(o.kind).order) do names[i] = inside[r].name end
  host.raise { code = "D019", text = o.from .. ": " .. o.path .. " is meant for which of " ..
      table.concat(names, ", ") .. "?",
      help = "write " .. step(step(o.kind.name, names[1]), path_of.join(o.parts, 2)) }
end

local function settle_overrides()
  if run.literals[1] then import("model.literals").refuse_unmet() end
  if run.limit_changes[1] then import("model.limits").refuse_unmet() end
  for _, o in ipairs(run.overrides) do
    if not o.used then run.attempt(false, refuse_override, o) end
    if o.kind and o.used > 1 then run.attempt(false, refuse_unclear, o) end
  end
end

-- Cross-checks of one record with the others; touched: what was put into it, by path.
function build.settle_record(proxy, touched)
  local rec = inside[proxy]
  rec.def.settle(proxy, function(path, text, help)
    local put_in = touched and override_of(touched, path)
    local s = put_in and {} or host.span(rec.source, rec.mark, rec.line, path)
    host.raise { code = "D020", help = help,
        text = (put_in and put_in.from .. ": " or "") .. record.title(rec.def, rec.name) .. ": " .. text,
        source = s.source, line = s.line, col = s.col, len = s.len }
  end)
end

local function settle_records()
  for _, proxy in ipairs(run.records) do
    local rec = inside[proxy]
    if not rec.def.settle then goto next end
    if run.hole then import("model.faults").settle(rec, build.settle_record)
    else run.attempt(false, build.settle_record, proxy, rec.touched) end
    ::next::
  end
end

function build.settle()
  for _, a in ipairs(run.added) do
    if not a.built then build.added(a) end
  end
  refuse_open_heads()
  if not run.unsure then
    run.attempt(false, refuse_dropped)
    run.attempt(false, settle_overrides)
  end
  local listener = record.watch(false)      -- who listens to the script has heard it
  settle_records()
  record.watch(listener)
  run.settled = true
end

-- Adds --set PATH=VALUE or an alternate's value: of a field, of a limit of place or house, or of a literal.
function build.override(path, value, from, tolerance)
  if string.find(path, ":%d+:%d+$") then
    local file, line, col = import("model.literals").place(path)
    run.literals[#run.literals + 1] = { path = path, file = file, line = line, col = col, value = value, from = from }
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
      tolerance = tolerance }
end

return build
