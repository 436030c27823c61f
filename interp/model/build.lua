-- SPDX-License-Identifier: MIT
-- Declaring: a script's raw tables become checked, frozen records.  What they are like is merged in (model.like), and
-- the values that the command line or an alternate puts in are set by path, as each record is built.
local run = import "model.run"
local schema = import "model.schema"
local gather = import "model.gather"
local record = import "model.record"
local path_of = import "model.path"
local like = import "model.like"
local util = import "model.util"
local overrides, copies = util.later "model.overrides", util.later "model.copies"
local refusals = util.later "model.refusals"
local build = {}

local inside, step = record.inside, path_of.step

-- kind of part -> a parts file that was read for it, with rows or without
run.keep("part_lists", function() return {} end)

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
local function copied(value, seen, what, depth)
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
  local out, deeper = host.copy(value)
  if not deeper then return out end
  seen[value] = true
  for k, v in next, value do
    if type(v) == "table" then out[k] = copied(v, seen, what, depth + 1) end
  end
  seen[value] = nil
  return out
end
function build.copy(value, what) return copied(value, {}, what) end

-- Puts what --set and an alternate say into the raw table of a declaration or of a part; gives it by path.
local function put_in(def, name, raw)
  return run.overrides[1] and overrides.put_in(def, name, raw) or {}
end
build.put_in = put_in

-- The names that there are of some kinds.
local function names_of(of)
  local known = {}
  for _, k in ipairs(of) do
    for _, list in ipairs { record.group(schema.kinds[k]).order, run.unused } do
      for _, r in ipairs(list) do
        if inside[r].def.name == k and inside[r].name then known[#known + 1] = inside[r].name end
      end
    end
  end
  return known
end

-- at: { source, line, mark } of its table, and what it is like.
function build.context(def, name, at, touched)
  local what = (at.from and at.from .. ": " or "") .. (at.title or record.title(def, name))
  -- With room for what it is asked.
  local ctx = { what = what, partial = def.partial, base = nil, stands = nil, span = nil, origin = nil, metric = nil,
      told = nil, tolerance = nil, defaulted = nil, freeze_list = nil, freeze_map = nil, freeze_group = nil, ref = nil,
      part = nil, like = at.like and record.title(inside[at.like].def, inside[at.like].name) }
  local path = step(name and step("", def.name) or "", name or def.name)
  if def.name == "job" then path = "job" end
  ctx.base = path
  -- What is known beside the values, of a declaration that stands: a refused one leaves nothing behind.
  local heard, assumed = {}, {}
  function ctx.stands()
    for own, t in next, heard do run.told[own] = t end
    for _, x in ipairs(assumed) do run.defaults[#run.defaults + 1] = x end
  end
  function ctx.span(p, key_only)
    local o = like.override(touched, p)
    local giver, from = like.giver(at, p)
    if from ~= at then o = o or like.override(from.touched, p) end
    if o then ctx.what = o.from .. ": " .. what return { source = 0, line = 0, col = 0, len = 0 } end
    return host.span(giver.source, giver.mark, giver.line, p, key_only)
  end
  function ctx.origin(value) return host.origin(value) end
  function ctx.metric()
    local job = record.only "job"
    return job and job.units ~= "US"
  end
  function ctx.told(p, value)
    local t = run.telling[value]
    if not t or at.copy then return t and t.value or value end
    local at = #p > 0 and "." .. path_of.join(p) or ""
    if def.items and math.type(p[1]) == "integer" then at = "." .. def.items.name .. at:sub(2) end    -- none.facts[1]
    heard[path .. at] = { how = t.how, by = t.by }
    return t.value
  end
  function ctx.tolerance(p, value)
    return next(run.tolerances) and run.tolerances[path .. "." .. path_of.join(p)] or host.tolerance(value)
  end
  function ctx.defaulted(p, value, f)
    if f.quiet then return end
    assumed[#assumed + 1] = { path = path .. "." .. path_of.join(p), value = value, field = f }
  end
  function ctx.freeze_list(list, p)
    return record.list(list, path .. "." .. path_of.join(p))
  end
  function ctx.freeze_map(map, names, p)
    return record.map(map, names, path .. "." .. path_of.join(p))
  end
  function ctx.freeze_group(v, f, p)
    return record.wrap { false, false, false, false, false, def = f, name = nil,
        path = path .. "." .. path_of.join(p), v = v, group = true }
  end
  -- The record of one of these kinds that is meant, whether the job uses it already or not.
  local function meant(of, value)
    local found
    for _, k in ipairs(of) do
      if record.is(value) and inside[value].def.name == k then return value end
      local r = type(value) == "string" and record.group(schema.kinds[k]).by[value]
      if r and inside[r].name then found = r end
    end
    for _, a in ipairs(found and {} or run.added) do
      for _, k in ipairs(of) do
        if a.add == k and a.name == value and not a.built then return build.added(a) end
      end
    end
    return found
  end
  local function use_of(found)
    ctx.rests_on_fault = ctx.rests_on_fault or inside[found].faulty
    return found
  end
  -- In a file that stands alone nothing is known yet of what the job will bring: the name stays one.
  local function stands_alone(of)
    local alone = run.alone and not record.only "job" and not names_of(of)[1]
    if alone then ctx.rests_on_fault = true end                   -- nothing is held against a name alone
    return alone
  end
  -- A type is read before what it names: there it is looked up where a record takes it over.
  local function left_open(value)
    if def.partial and type(value) == "string" then
      ctx.open = true
      return value
    end
  end
  function ctx.ref(of, value, p, f)
    local found = meant(of, value)
    if found then
      if not def.partial and p[1] ~= "like" then inside[found].used = true end
      return use_of(found)
    end
    if type(value) == "string" and stands_alone(of) then return value end
    if p[1] ~= "like" and left_open(value) then return value end
    local head = value
    for at in f and f.rest and type(value) == "string" and string.gmatch(value, "()%.") or function() end do
      head = string.sub(value, 1, at - 1)
      found = meant(of, head)
      if found and at < #value then
        inside[found].used = true
        return use_of(found), string.sub(value, at + 1)
      end
    end
    local known = names_of(of)
    refusals.unknown(ctx, p, head ~= value and host.nearest(head, known) and head or value, table.concat(of, " or "),
        known)
  end
  function ctx.part(of, value, p)
    local g = record.group(schema.kinds[of])
    if g.by[value] then return use_of(g.by[value]) end
    if left_open(value) then return value end
    local known = {}
    for _, r in ipairs(g.order) do known[#known + 1] = inside[r].name end
    if run.alone and not known[1] and not record.only "job" then
      ctx.rests_on_fault = true
      return value
    end
    local list = run.part_lists[of]
    refusals.unknown(ctx, p, value, of .. " of the parts files", known, list and list ..
        " has no row yet: write one there" or
        'no parts file above lists one: name it first, as in parts "' .. of .. 's.csv"')
  end
  return ctx
end

local context = build.context

-- Refuses a declaration as a whole. at = { source, line, mark }.
local function refuse(at, code, text, help)
  local s = host.span(at.source, at.mark, at.line, {})
  host.raise { code = code, text = text, help = help, source = s.source, line = s.line, col = s.col, len = s.len }
end

build.refuse = refuse

-- Whether a place or a house file is read: what it declares is there to be used.
local function on_a_shelf()
  for _, f in ipairs(run.reading) do if f.role == "place" or f.role == "house" then return true end end
  return false
end

-- The values of a record out of its table; those that are wrong are holes for what will be like it.
local function read_fields(rec, ctx)
  local v, wrong = gather.fields(ctx, rec.def, rec.raw)
  ctx.stands()
  rec.v, rec.faulty, rec.unsettled = v, wrong ~= nil, wrong ~= nil or ctx.rests_on_fault
  for key in next, wrong or {} do
    local hole = rec.def.by[key] and run.hole or nil
    rec.raw[key] = hole
    if rec.copy then rec.layers[1].raw[key] = hole end
  end
end

build.read_fields = read_fields

-- Builds, checks and keeps one record.
build.declare = host.uncounted(function(def, name, raw, at)
  local group = record.group(def)
  if run.settled then
    host.raise { code = "E002", text = record.title(def, name) .. ": the script is over, nothing more can be declared",
        help = "declare it outside the functions of rules" }
  end
  if run.hole and raw == run.hole then run.follow() end
  local copy = inside[raw] and inside[raw].copy and def.template == inside[raw].def
  if type(raw) ~= "table" or inside[raw] and not copy then
    local head = def.name .. (name and not def.of_file and ' "' .. name .. '"' or "")
    local got = record.is(raw) and inside[raw]
    local alike = got and got.name and got.def.template and got.def.template == def.template
    host.raise { code = "D016", text = record.title(def, name) .. " needs its table, got " ..
        (got and (got.title or record.title(got.def, got.name)) or host.describe(raw)),
        help = "write " .. head .. (alike and ' { like = "' .. got.name .. '", ... }' or " { ... }") }
  end
  if name and host.unsafe(name) then schema.plain(context(def, nil, at, {}), {}, "its name", name) end
  local own_path = name and step(def.name, name) or def.name
  local of_all = def.of_file and run.dropped[def.name] ~= nil             -- authority: those of all places
  if of_all or run.dropped[own_path] then
    run.dropped[of_all and def.name or own_path] = false
    return nil
  end
  if name and (def.by[name] or schema.result(def, name) or def.children[name]) then
    refuse(at, "D017", def.name .. " cannot be named '" .. name .. "': that is one of its own words",
        "`" .. def.name .. "." .. name .. "` could not tell the two apart")
  end
  if at.from and name and group.by[""] then
    refuse(inside[group.by[""]], "D018", at.from .. " adds " .. record.title(def, name) .. ", and the " .. def.name ..
        " here has no name: each needs one", "write " .. def.name .. ' "A" { ... }')
  end
  if not name and not def.single and #group.order > 0 or name and group.by[""] then
    refuse(at, "D018", "there is more than one " .. def.name .. ": each needs a name",
        "write " .. def.name .. ' "A" { ... }')
  end
  if group.by[name or ""] then refusals.twice(def, name, at, group.by[name or ""]) end
  if def.single and group.order[1] then refusals.twice(def, name, at, group.order[1]) end
  local rec = { false, false, false, false, false,                          -- what record.wrap puts there
      def = def, name = name, path = step(name and step("", def.name) or "", name or def.name), v = nil, raw = nil,
      source = at.source, line = at.line, mark = at.mark, from = at.from, shelf = on_a_shelf(), proxy = nil,
      faulty = nil, unsettled = nil, touched = nil }
  if not copy then raw = copied(raw, {}, record.title(def, name)) end
  if def.template then
    raw = like.take_over(rec, raw, run.overrides[1] and overrides.like(def, name), function(value)
      return gather.attempt("names", copies.meant, rec, value)
    end)
  end
  -- What it would take over is not known.
  local like_nothing = type(rec.like) == "string" or run.hole and rec.like == run.hole
  if like_nothing then rec.like = nil end
  rec.touched = put_in(def, name, raw)
  local ctx = context(def, name, rec, rec.touched)
  ctx.partial = ctx.partial or like_nothing
  rec.path, rec.raw = ctx.base, raw
  read_fields(rec, ctx)
  if not next(rec.touched) then rec.touched = nil end
  like.follow(record.keep(rec))
  return rec.proxy
end)

local function declared(def, name, raw, at)
  return gather.attempt("names and value", build.declare, def, name, raw, at)
end


record.with = host.uncounted(function(proxy, changes)
  return gather.attempt("names and value", copies.with, proxy, changes)
end)

-- A declaration that an alternate adds: at the end, or as soon as another one names it.
function build.added(a)
  a.built = true
  return declared(schema.kinds[a.add], a.name, a.raw, { source = 0, line = 0, mark = -1, from = a.from })
end

-- A part out of a file: values are checked already. at = { source, line, col, len }; touched: what was put in, by path;
-- faulty: some of its values are wrong.
function build.add_part(def, name, v, at, tolerances, touched, faulty)
  local group = record.group(def)
  local first = group.by[name]
  if first then
    local f = inside[first].at
    host.raise { code = "D015", text = def.name .. " " .. name .. " is listed twice",
        source = at.source, line = at.line, col = at.col, len = at.len,
        notes = { "first listed at " .. host.place(f) }, help = "keep the one that is right" }
  end
  local proxy = record.keep { false, false, false, false, false, def = def, name = name,
      path = step(step("", def.name), name), v = v,
      touched = next(touched) and touched, source = at.source, line = at.line, mark = -1, at = at, faulty = faulty,
      unsettled = faulty }
  for field, tolerance in next, tolerances do
    if not touched[field] then run.tolerances[step(inside[proxy].path, field)] = tolerance end
  end
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
        if select("#", ...) > 0 then gather.attempt("names and value", refusals.two_tables, def, name) end
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
    return declared(def, def.of_file and run.reading[#run.reading].name or nil, first, place())
  end
end

-- ---- after the script ----------------------------------------------------------------------------------------------

local function refuse_open_heads()
  for _, p in ipairs(run.heads) do
    if not p.closed then gather.attempt("names", refusals.open_head, p, refuse) end
  end
end

-- Cross-checks of one record with the others; touched: what was put into it, by path.
function build.settle_record(proxy, touched)
  local rec = inside[proxy]
  rec.def.settle(proxy, function(path, text, help)
    local put_in = like.override(touched, path)
    local from = like.giver(rec, path)
    local s = put_in and {} or host.span(from.source, from.mark, from.line, path)
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
    elseif not rec.unsettled then gather.attempt(false, build.settle_record, proxy, rec.touched) end
    ::next::
  end
end

-- What a file declares that stands alone is held against nothing else.
function build.settle_alone()
  refuse_open_heads()
  run.settled = true
end

-- What is known of a record beside it, of one that the job does not use.
local function mark_unused(rec)
  local own = rec.path .. "."
  for _, x in ipairs(run.defaults) do if string.sub(x.path, 1, #own) == own then x.unused = true end end
  for path, t in next, run.told do if string.sub(path, 1, #own) == own then t.unused = true end end
end

-- What a place or a house file offers and nothing of this job uses is no part of the job: it has its path and can be
-- read by name, but it stands in no list.
local function put_aside()
  local kept = {}
  for _, proxy in ipairs(run.records) do
    local rec = inside[proxy]
    if rec.shelf and rec.def.template and not rec.def.partial and not rec.used then
      local order = record.group(rec.def).order
      for i = #order, 1, -1 do if rawequal(order[i], proxy) then table.remove(order, i) end end
      run.unused[#run.unused + 1], rec.aside = proxy, true
      mark_unused(rec)
    else
      kept[#kept + 1] = proxy
    end
  end
  run.records = kept
end

function build.settle()
  for _, a in ipairs(run.added) do
    if not a.built then build.added(a) end
  end
  refuse_open_heads()
  if not run.unsure then
    if next(run.dropped) then gather.attempt(false, overrides.refuse_dropped) end
    if run.overrides[1] or run.literals[1] or run.limit_changes[1] then
      gather.attempt(false, overrides.settle)
    end
  end
  put_aside()
  local listener = record.watch(false)      -- who listens to the script has heard it
  settle_records()
  record.watch(listener)
  run.settled = true
end

return build
