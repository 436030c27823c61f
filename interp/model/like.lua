-- SPDX-License-Identifier: MIT
-- Templates: what a declaration takes over of a type, or of one of its own kind above it (like = ...).
--
-- A record that is like another has `like`, that one's proxy, and `layers`: the tables that the script wrote for it,
-- each { raw, source, line, mark }, its own first, then those of with { ... }. What is written first stands over the
-- rest, field by field; lists are replaced whole.
local run = import "model.run"
local path_of = import "model.path"
local like = {}

local inside = run.inside

-- Whether a table of a script has fields of its own, so that another may be put over it.
local function has_fields(v)
  return type(v) == "table" and not inside[v] and not run.telling[v] and v[1] == nil
end

-- Puts b over a, field by field; lists are replaced whole.
function like.merge(a, b)
  local out = host.copy(a)
  for k, v in next, b do
    local old = out[k]
    out[k] = has_fields(v) and has_fields(old) and like.merge(old, v) or v
  end
  return out
end

-- Whether a table says what stands at these keys, or replaces whole what holds it.
local function says(raw, keys)
  for _, key in ipairs(keys) do
    if not has_fields(raw) then return true end
    raw = raw[key]
    if raw == nil then return false end
  end
  return true
end

local function within(path, top)
  return path == top or path:sub(1, #top + 1) == top .. "." or path:sub(1, #top + 1) == top .. "["
end

-- What put in the value at these keys of a record, the table around it or something in it; nil where the script did.
-- touched: what was put into the record, by path, or nil.
function like.override(touched, keys)
  local text = touched and path_of.join(keys)
  for t, o in host.sorted(touched or {}) do
    if within(text, t) or text ~= "" and within(t, text) then return o end
  end
end

-- The table that gave what stands at these keys of a record: { source, line, mark }, and the record that it belongs to,
-- into which it may have been put; of what none of them gave, the record's own. rec may be what a record is being made
-- of.
function like.giver(rec, keys)
  if not rec.like or keys[1] == nil or keys[1] == "like" then return rec, rec end
  local from = rec
  while from do
    if from ~= rec and like.override(from.touched, keys) then return from, from end
    for _, layer in ipairs(from.layers or { from }) do
      if says(layer.raw, keys) then return layer, from end
    end
    from = inside[from.like]
  end
  return rec, rec
end

-- Whether what stands at these keys of a record was said nearer to it than what stands at others. What somebody put in
-- was said last of all.
function like.nearer(rec, keys, others)
  local from = rec
  while from do
    if like.override(from.touched, others) then return false end
    if like.override(from.touched, keys) then return true end
    for _, layer in ipairs(from.layers or { from }) do
      if says(layer.raw, others) then return false end
      if says(layer.raw, keys) then return true end
    end
    from = inside[from.like]
  end
  return false
end

-- Makes a record that is being made like what its table says, or like a changed copy in the place of a table; gives the
-- table to read it from.  instead: what it is to be like instead, or nil; find(x): the record that is meant.
function like.take_over(rec, raw, instead, find)
  local copy = inside[raw] and raw or inside[raw.like] and inside[raw.like].copy and raw.like
  local base = copy and inside[copy].like or raw.like
  if instead ~= nil then base = instead end
  if base == nil then return raw end
  if copy == raw then raw = {} end
  rec.like, raw.like = find(base), nil
  if type(rec.like) == "string" then return raw end          -- the name of what a job will bring: the file stands alone
  rec.layers = { { raw = raw, source = rec.source, mark = rec.mark, line = rec.line } }
  if copy then table.move(inside[copy].layers, 1, #inside[copy].layers, 2, rec.layers) end
  local whole = inside[rec.like].raw
  for i = #rec.layers, 1, -1 do whole = like.merge(whole, rec.layers[i].raw) end
  whole.like = rec.like
  return whole
end

-- A record that is like another one is kept beside it.
function like.follow(proxy)
  local rec = inside[proxy]
  if not rec.like then return end
  local base = inside[rec.like]
  base.followed = base.followed or {}
  table.insert(base.followed, proxy)
end

-- Whether one record takes over what another says at these keys: what is put in there moves both.
function like.takes_over(rec, keys, other)
  while rec and rec.like do
    for _, layer in ipairs(rec.layers) do if says(layer.raw, keys) then return false end end
    rec = inside[rec.like]
    if rec == other then return true end
  end
  return false
end

-- Whether something else would take over what is put in at these keys of a record.
function like.taken_over(rec, keys)
  for _, proxy in ipairs(rec.followed or {}) do
    local own = false
    for _, layer in ipairs(inside[proxy].layers) do own = own or says(layer.raw, keys) end
    if not own then return true end
  end
  return false
end

-- ---- what differs --------------------------------------------------------------------------------------------------

-- The names of records count, since a type holds names of what is not declared yet.
local function same(a, b)
  local d, e = inside[a], inside[b]
  if d and d.list and e and e.list then
    for i = 1, math.max(#d.list, #e.list) do if not same(d.list[i], e.list[i]) then return false end end
    return true
  end
  if d and d.names and e and e.names then
    for _, k in ipairs(d.names) do if not same(d.map[k], e.map[k]) then return false end end
    return #d.names == #e.names
  end
  if d and d.group and e and e.group then                    -- an item of a list
    for k, v in host.sorted(d.v) do if not same(v, e.v[k]) then return false end end
    for k in host.sorted(e.v) do if d.v[k] == nil then return false end end
    return true
  end
  a, b = d and d.v and d.name or a, e and e.v and e.name or b
  return host.same(a, b) or host.alike(a, b)
end

local function compare(list, keys, def, v, there)
  for _, f in ipairs(def.fields) do
    local a, b = v[f.name], there[f.name]
    if f.name ~= "like" and a ~= nil and b ~= nil then
      local d, e = inside[a], inside[b]
      keys[#keys + 1] = f.name
      if d and d.group and e and e.group then compare(list, keys, f, d.v, e.v)
      elseif not same(a, b) then
        list[#list + 1] = { keys = table.move(keys, 1, #keys, 1, {}), field = f, value = a, there = b }
      end
      keys[#keys] = nil
    end
  end
end

-- { { keys, field, value, there } ... }: what a record says otherwise than what it is like, as both stand now.
function like.differences(rec)
  local list = {}
  compare(list, {}, rec.def, rec.v, inside[rec.like].v)
  return list
end

return like
