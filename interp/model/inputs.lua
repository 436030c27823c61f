-- SPDX-License-Identifier: MIT
-- The inputs of a job: every value that somebody gave or that a default filled in, and the limits of place and house;
-- what they may be instead.
--
-- An input: { path, value, field, place = a span, or nil where no file holds it, how, by = how it is known: "measured",
-- "told", "looked_up", "guess", "default", or who put it in (--set), alike = { paths } of others that stand in the same
-- line of the script with the same value, as a loop or a rack_type declares them }.
local run = import "model.run"
local schema = import "model.schema"
local record = import "model.record"
local path_of = import "model.path"
local in_force = import "model.in_force"
local like = import "model.like"
local inputs = {}

local inside, step = record.inside, path_of.step

-- ---- where they stand and how they are known ------------------------------------------------------------------------

local function put_in(path)
  for _, o in ipairs(run.overrides) do
    if o.path == path or path:sub(1, #o.path + 1) == o.path .. "." or path:sub(1, #o.path + 1) == o.path .. "[" then
      return o.from
    end
  end
end

local function place_of(proxy, keys)
  local rec = inside[proxy]
  if rec.at then return rec.at end
  local from = like.giver(rec, keys)
  if from.source == 0 then return nil end
  return host.span(from.source, from.mark, from.line, keys)
end

-- How it, or the list or group that it stands in, is known.
local function known_by(path)
  while path do
    local told = run.told[path]
    if told then return told.how, told.by end
    path = path:match "^(.+)%[[^%[%]]*%]$" or path:match "^(.+)%.[%w_]+$"
  end
end

-- ---- all of them ----------------------------------------------------------------------------------------------------

local function input_of(path, value, defaults)
  local field = record.field_at(path)
  if not field then return nil end
  local proxy, keys = record.locate(path)
  local from, how, by = put_in(path), known_by(path)
  if from then how, by = from, nil elseif defaults[path] then how = "default" end
  return { path = path, value = value, field = field, how = how, by = by, owner = proxy, keys = keys,
      place = not from and not defaults[path] and place_of(proxy, keys) or nil }
end

-- Limits by their name, and where several give one by whose it is, too: limits.house.height.
local function limit_inputs(list)
  for _, name in ipairs(in_force.names()) do
    for _, l in ipairs(run.limits[name] or {}) do
      list[#list + 1] = { path = in_force.path(l), value = l.value, place = l.place, limit = l,
          field = schema.amount_of_limit(in_force.field(name)), keys = { name } }
    end
  end
end

-- What a value of one line of the script is told apart by: a loop declares many records there.
local function line_of(input)
  local s, rec = input.place, inside[input.owner]
  if not rec or rec.at or rec.source == 0 then return nil end
  if input.how == "default" then s = host.span(rec.source, rec.mark, rec.line, {}) end
  if not s then return nil end
  return table.concat({ s.source, s.line, s.col, s.len, inside[input.owner].def.name, path_of.join(input.keys),
      input.how or "" }, " ")
end

-- In the order declared, the limits last; those that one line declares alike as one.
function inputs.all()
  local list, defaults, lines = {}, {}, {}
  for _, d in ipairs(run.defaults) do defaults[d.path] = true end
  record.walk(function(path, value)
    local input = input_of(path, value, defaults)
    if not input then return end
    local line = line_of(input)
    for _, other in ipairs(line and lines[line] or {}) do
      if host.same(other.value, value) then
        other.alike = other.alike or {}
        table.insert(other.alike, path)
        return
      end
    end
    list[#list + 1] = input
    if line then
      lines[line] = lines[line] or {}
      table.insert(lines[line], input)
    end
  end)
  limit_inputs(list)
  return list
end

-- All paths of an input with a value for each, as model.variants takes changes.
function inputs.changes(input, value)
  local changes = { [input.path] = value }
  for _, path in ipairs(input.alike or {}) do changes[path] = value end
  return changes
end

local function stands_for(input, path)
  if input.path == path then return true end
  for _, other in ipairs(input.alike or {}) do if other == path then return true end end
  return false
end

-- The input of a path, written as --set takes it: rack.tilt of the only rack is rack.east.tilt.  list: of inputs.all().
function inputs.find(path, list)
  local function refuse(text, help)
    host.raise { code = "D019", text = "--input " .. path .. ": " .. text, help = help }
  end
  local parts, why = path_of.parse(path)
  if not parts then refuse(why, "as in --input rack.east.tilt") end
  list = list or inputs.all()
  local full = path_of.join(parts)
  for _, input in ipairs(list) do if stands_for(input, full) then return input end end
  local ok, _, at = pcall(record.input, full)
  for _, input in ipairs(ok and at and list or {}) do if stands_for(input, at) then return input end end
  local known = {}
  for _, input in ipairs(list) do known[#known + 1] = input.path end
  local near = host.nearest(full, known)
  local below = {}
  for _, name in ipairs(known) do
    if name:sub(1, #full) == full and name:sub(#full + 1):find "^[.%[]" then below[#below + 1] = name end
  end
  if #below > 0 then refuse("that is a whole declaration, not one of its inputs", "as in --input " .. below[1]) end
  local same = {}
  for _, name in ipairs(known) do
    if name:sub(1, #parts[1]) == parts[1] and name:sub(#parts[1] + 1):find "^[.%[]" then same[#same + 1] = name end
  end
  refuse("the job has no such input", near and "did you mean " .. near .. "?" or
      #same > 0 and "of " .. parts[1] .. " there are " .. table.concat(same, ", ", 1, math.min(#same, 8)) ..
          (#same > 8 and " and " .. #same - 8 .. " more" or "") or
      "`stringline margins job.sline` lists them")
end

-- ---- what they may be --------------------------------------------------------------------------------------------

local amounts = { quantity = true, ratio = true, number = true, position = true }

-- Whether it is an amount, which may be anything between two ends.
function inputs.is_amount(input) return amounts[input.field.type] or false end

local half_turn = { latitude = math.rad(90), longitude = math.rad(180), declination = math.rad(90) }

-- Its ends in SI, as the field has them; the third is true where the lower one must not be reached.
function inputs.range(input)
  local f = input.field
  if f.axis then return -half_turn[f.axis], half_turn[f.axis] end
  return f.above or f.min, f.max, f.above ~= nil
end

local most_counts = 60       -- whole numbers that are tried on each side of a count

local function whole_numbers(input)
  local f, n, list = input.field, input.value, {}
  for i = math.max(f.min or 0, n - most_counts), math.min(f.max or math.huge, n + most_counts) do
    list[#list + 1] = math.tointeger(i)
  end
  return list
end

-- Sizes of wire from thin to thick, as the table of conductors has them.
local function wire_sizes(input)
  if input.value.metric then return nil end            -- the tables have none
  local list = {}
  for i, label in ipairs(host.column "conductor_properties_ch9_t8.label") do list[i] = host.wire(label) end
  return list
end

-- What may stand in a reference: of what place and house offer, what the job does not use, too.
local function records_of(kinds)
  local list = {}
  for _, kind in ipairs(kinds) do
    table.move(record.all(kind), 1, #record.all(kind), #list + 1, list)
    for _, proxy in ipairs(run.unused) do if inside[proxy].def.name == kind then list[#list + 1] = proxy end end
  end
  return list
end

local lists = {
  count = whole_numbers,
  choice = function(input) return input.field.choices end,
  flag = function() return { false, true } end,
  wire = wire_sizes,
  part = function(input) return records_of { input.field.of } end,
  ref = function(input) return not input.field.rest and records_of(input.field.of) or nil end,
}

-- Whether its list goes from small to large.
function inputs.ordered(input) return input.field.type == "count" or input.field.type == "wire" end

-- All that may stand in a discrete input, in its order, and at which place of it the declared value stands; nil where
-- there is no such list: a text, a name, a date.
function inputs.others(input)
  local make = lists[input.field.type]
  local list = make and make(input)
  local wire = input.field.type == "wire" and host.format(input.value)
  for i, v in ipairs(list or {}) do
    if wire and host.format(v) == wire or v == input.value then return list, i end
  end
end

-- The value as the schema takes it in that place, or its error, as where it is declared.
function inputs.checked(input, value)
  local ctx = { what = input.owner and record.title(inside[input.owner].def, inside[input.owner].name) or input.path }
  function ctx.span() return input.place or { source = 0, line = 0, col = 0, len = 0 } end
  function ctx.origin() return nil end
  function ctx.told(_, v) return v end
  function ctx.metric() return record.root.units ~= "US" end
  local function named(kinds, name)
    for _, r in ipairs(records_of(kinds)) do if r == name or inside[r].name == name then return r end end
    host.raise { code = "D014", text = ctx.what .. ": " .. input.path .. " names no " .. table.concat(kinds, " or ") ..
        ": " .. host.describe(name) }
  end
  ctx.ref = named
  function ctx.part(of, name) return named({ of }, name) end
  return (schema.validate(ctx, table.move(input.keys, 1, #input.keys, 1, {}), input.field, value))
end

return inputs
