-- SPDX-License-Identifier: MIT
-- Which facts somebody has to bring: all that there are, or those that the job at hand does not know.
--
-- A line of it: { def, path, field, who, tool, note = how it is known so far, usual = what stands for it,
-- records = { names } that lack it, where there are several of the kind, each = true where that is all of them,
-- posts = { stations } }.
local schema = import "model.schema"
local record = import "model.record"
local rule = import "model.rule"
local run = import "model.run"
local manual = import "write.manual"
local words = import "write.words"
local wanted = {}

local given = record.given

local function put(list, def, path, f, around, more)
  local source = (f.who or f.tool) and f or around
  local line = { def = def, path = path, field = f, who = source.who, tool = source.tool }
  for key, value in next, more or {} do line[key] = value end
  list[#list + 1] = line
end

-- Each field of a kind that belongs on the form: somebody is named who can tell it. What the designer decides does
-- not, nor what stands in the head of the form, below its ticks, or in a row of a list.
local function each_fact(def, f)
  local on_form = def.on_form or {}
  manual.each_field(schema.all_fields(def), def, function(path, field, _, around)
    local there = on_form.head and not path:find(".", 1, true) or on_form.signed and on_form.signed[path]
    if field.fields or path:find("[n]", 1, true) or there or not manual.known_by(field, around) then return end
    f(path, field, around)
  end)
end

-- Kinds in the order of the form: facts of the ground and the office by the place that they ask for (form = 3), then
-- what is read off labels.
local function in_order()
  local first, rest = {}, {}
  for _, def in ipairs(schema.all()) do
    if not def.parent and not def.partial and def.name ~= "price" then
      local list = def.form and first or rest
      list[#list + 1] = def
    end
  end
  table.sort(first, function(a, b) return a.form < b.form or a.form == b.form and a.name < b.name end)
  return table.move(rest, 1, #rest, #first + 1, first)
end

function wanted.all()
  local list, kinds = {}, in_order()
  for _, def in ipairs(kinds) do
    each_fact(def, function(path, f, around) put(list, def, path, f, around) end)
  end
  return list, kinds
end

-- ---- of a job ------------------------------------------------------------------------------------------------------

-- Parts that every job has; what the strings feed is chosen first.
local parts = { module = true, clamp = true }

-- What is asked for though none of it is declared; not what is on few sites, which the ticks of `none` ask about.
local function is_needed(def)
  local on_form = def.on_form or {}
  if def.form then return not on_form.stage or rule.reached(on_form.stage) end
  return parts[def.name]
end

local function value_at(rec, path)
  local value = rec
  for step in path:gmatch "[^.]+" do
    if value == nil then return nil end
    value = given(value, step)
  end
  return value
end

-- Whether somebody said that there is none of it: nearest.septic_field, and none { "septic field" }.
local function said_none(def, path)
  local none = def.name == "nearest" and record.only "none"
  for fact in record.each(none and none.facts or {}) do
    if fact == path:gsub("_", " ") then return true end
  end
  return false
end

-- How a post is called on the form: with its rack, where its height stands under that.
local function called(post, rack, keys)
  return #keys > 1 and #record.all "rack" > 1 and rack.name .. "." .. post.station or post.station
end

-- The posts that a map of heights names, and those that its lists are of.
local function stations(map)
  local shots, list = import "site.shots", {}
  for name in host.sorted(map and record.inside[map].map or {}) do
    if not shots.is_list(map[name]) and not shots.is_map(map[name]) then list[#list + 1] = name end
  end
  for _, rack in ipairs(map and record.all "rack" or {}) do
    for post in record.each(rack.post) do
      local _, keys = shots.at(map, post)
      if keys and #keys > 1 then list[#list + 1] = called(post, rack, keys) end
    end
  end
  return list
end

-- Posts of the racks without a height.
local function posts_without(ground)
  local shots, list, nested = import "site.shots", {}, false
  local map = ground and (given(ground, "elevation") or given(ground, "rod"))
  for _, rack in ipairs(record.all "rack") do
    for post in record.each(rack.post) do
      local _, keys = shots.at(map or {}, post)
      if not keys then list[#list + 1] = { post = post, rack = rack } else nested = nested or #keys > 1 end
    end
  end
  for i, x in ipairs(list) do list[i] = called(x.post, x.rack, nested and { 1, 2 } or { 1 }) end
  return list
end

-- Paths that a rule misses, and what stands by default.
local function of_outcomes(outcomes)
  local missed, defaults = {}, {}
  for _, o in ipairs(outcomes) do
    for _, why in ipairs(o.whys or {}) do if why.path then missed[why.path] = true end end
  end
  for _, d in ipairs(run.defaults) do defaults[d.path] = true end
  return missed, defaults
end

local function how_known(t, f, value)
  local by = t.by and (t.how == "told" and " by " or ", ") .. t.by or ""
  return t.how .. by .. ": " .. (f.axis and words.position(value, f.axis) or words.show(value)) .. "; make sure"
end

-- Whether its neighbours do without a field: a treatment of posts that are pipes, which nobody may write.
local function done_without(rec, path, f)
  if not f.unless then return false end
  local group = path:match "^(.*)%.[^.]+$"
  local of = group and value_at(rec, group) or not group and rec
  return of and f.unless(setmetatable({}, { __index = function(_, key) return given(of, key) end })) or false
end

-- Of a kind: what its records lack, or all where none is there.  Gives how many facts are known.
local function of_kind(list, def, missed, defaults)
  local records, known = record.all(def.name), 0
  each_fact(def, function(path, f, around)
    local spare, lacking, usual = f.spare or around.spare or def.paper, {}, nil
    for _, rec in ipairs(records) do
      local data, value = record.inside[rec], value_at(rec, path)
      local own = data.path .. "." .. path
      local t = value ~= nil and run.told[own]
      if t and (t.how == "guess" or t.how == "told") then
        put(list, def, path, f, around, { note = how_known(t, f, value),
            records = #records > 1 and { data.name } or nil })
      elseif value ~= nil and not defaults[own] then known = known + 1
      elseif missed[own] or not spare and not said_none(def, path) and not done_without(rec, path, f) then
        usual = value
        lacking[#lacking + 1] = data.name or def.name
      end
    end
    if #lacking > 0 or #records == 0 and not spare and f.default == nil then
      put(list, def, path, f, around, { records = #records > 1 and lacking or nil, each = #lacking == #records,
          usual = usual ~= nil and words.show(usual) or nil })
    end
  end)
  return known
end

-- The heights of posts, which are given one way or the other.
local function of_ground(list, def, missed)
  local ground, known = record.only "ground", 0
  local posts = posts_without(ground)
  each_fact(def, function(path, f, around)
    local value = ground and given(ground, path)
    local t = value and run.told["ground." .. path]
    if t and (t.how == "guess" or t.how == "told") then
      put(list, def, path, f, around, { note = how_known(t, f, value),
          posts = f.type == "map" and stations(value) or nil })
    elseif value and (f.type ~= "map" or #posts == 0) then known = known + 1
    elseif missed["ground." .. path] or not f.spare and (value or not ground) then
      put(list, def, path, f, around, { posts = #posts > 0 and posts or nil })
    end
  end)
  return known
end

-- Limits may stand in any file: what one of them has is known, or that the office has none. Where the office's were
-- read, a rule has to miss it; of those that few jobs want (`spare`), in any case.
local function of_limits(list, def, missed)
  local known, read = 0, #record.all "authority" > 0
  each_fact(def, function(path, f, around)
    if rule.has_limit(path) or rule.no_limit(path) then known = known + 1
    elseif not read and not f.spare or missed["limits." .. path] then put(list, def, path, f, around) end
  end)
  return known
end

local special = { ground = of_ground, limits = of_limits }

-- What the job at hand does not know, the kinds that it was looked for in, and how many facts it knows.
function wanted.of_job(outcomes)
  local list, kinds, known = {}, {}, 0
  local missed, defaults = of_outcomes(outcomes)
  for _, def in ipairs(in_order()) do
    if is_needed(def) or #record.all(def.name) > 0 then
      kinds[#kinds + 1] = def
      known = known + (special[def.name] or of_kind)(list, def, missed, defaults)
    end
  end
  return list, kinds, known
end

return wanted
