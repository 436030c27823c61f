-- SPDX-License-Identifier: MIT
-- Heights by rack and line, held against the racks once all are declared: each list is of one line, as long as it, and
-- each post has one height.
local record = import "model.record"
local shots = import "site.shots"
local util = import "model.util"
local heights = {}

local given, inside = record.given, record.inside

local function counted(n, what) return n .. " " .. what .. (n == 1 and "" or "s") end

-- { letter -> posts }, letters in their order.
local function lines_of(rack)
  local by, order = {}, {}
  for post in record.each(rack.post) do
    local letter = post.letter
    if not by[letter] then by[letter], order[#order + 1] = 0, letter end
    by[letter] = by[letter] + 1
  end
  return by, order
end

local function stations_of(rack)
  local has, names = {}, {}
  for post in record.each(rack.post) do has[post.station], names[#names + 1] = true, post.station end
  return has, names
end

local function check_line(list, rack, letter, at, refuse, what)
  local by, order = lines_of(rack)
  local wanted, n = by[letter], #list
  if not wanted then
    local near = host.nearest(letter, order)
    refuse(at, "rack " .. rack.name .. " has no line " .. letter, near and "did you mean '" .. near .. "'?" or
        "it has " .. util.list(order))
  end
  if n ~= wanted then
    refuse(at, "line " .. letter .. " of rack " .. rack.name .. " has " .. counted(wanted, "post") .. ", and " ..
        counted(n, what) .. (n == 1 and " is" or " are") .. " given", "one for each post, west to east")
  end
end

local function rack_names()
  local names, by = {}, {}
  for i, rack in ipairs(record.all "rack") do names[i], by[rack.name] = rack.name, rack end
  return names, by
end

local function check_rack(map, rack, at, refuse, what)
  local has, names = stations_of(rack)
  for _, key in ipairs(inside[map].names) do
    local value, own = map[key], { at[1], at[2], key }
    if shots.is_list(value) then check_line(value, rack, key, own, refuse, what)
    elseif shots.is_map(value) then
      refuse(own, "below a rack stand its lines, each a list", "as in " .. key .. " = ft{ 5.12, 5.10 }, west to east")
    elseif not has[key] then
      local near = host.nearest(key, names)
      refuse(own, "rack " .. rack.name .. " has no post " .. key, near and "did you mean '" .. near .. "'?" or
          "it has " .. util.some(names))
    end
  end
end

-- "west.F1" names a post, as messages do, and is no key of the heights: nothing would be read from there.
local function check_named(map, key, by, at, refuse)
  local rack, station = string.match(key, "^(.+)%.([^.]+)$")
  if not rack or not by[rack] then return end
  for post in record.each(by[rack].post) do
    if post.station == key then return end
    if post.station == station then
      refuse(at, "the ground at post " .. station .. " of rack " .. rack .. " is not read from here",
          "heights of its posts stand below the rack: " .. record.step(rack, station) .. " is written " ..
          string.format("[%q]", rack) .. " = { " .. station .. " = ... }")
    end
  end
end

-- A post's height stands in one place.
local function refuse_twice(map, field, refuse)
  for _, rack in ipairs(record.all "rack") do
    local own = map[rack.name]
    for post in record.each(rack.post) do
      local found, first = 0, nil
      local function met(value, keys)
        if value == nil or inside[value] then return end
        found = found + 1
        if found == 2 then
          refuse({ field, table.unpack(keys) }, "the height of the ground at post " .. post.station .. " of rack " ..
              rack.name .. " is given twice: here and as " .. first, "keep one of the two")
        end
        first = field
        for _, key in ipairs(keys) do first = record.step(first, key) end
      end
      local letter, number, station = post.letter, post.number, post.station
      met(map[station], { station })
      if shots.is_list(map[letter]) and #record.all "rack" == 1 then met(map[letter][number], { letter, number }) end
      if shots.is_map(own) then
        met(own[station], { rack.name, station })
        if shots.is_list(own[letter]) then met(own[letter][number], { rack.name, letter, number }) end
      end
    end
  end
end

local function settle_datum(ground, map, field, any, refuse)
  local name = given(ground, "datum")
  if not name then return end
  local value = map[name]
  if value == nil or inside[value] then
    local posts = shots.posts_named(name)
    local has = {}
    for _, post in ipairs(posts) do if shots.at(map, post) ~= nil then has[#has + 1] = post end end
    if #has > 1 then
      local names = {}
      for i, post in ipairs(has) do names[i] = '"' .. record.parent(post).name .. "." .. post.station .. '"' end
      refuse({ "datum" }, "a post " .. name .. " stands in " .. #has .. " racks",
          "write " .. table.concat(names, " or "))
    end
    if not has[1] then
      refuse({ "datum" }, "the datum " .. name .. " has no height of its own", any and
          "name a post whose height is given" or "add " .. name .. " = ...")
    end
    value = shots.at(map, has[1])
  end
  if field == "elevation" and math.abs(host.si(value)) > 1e-9 then
    refuse({ "elevation" }, "the datum " .. name .. " must stand at 0", "heights count from its ground")
  end
end

-- A benchmark's zero may be the sea: no lower edge is counted from it unless somebody says so.
local function check_above(ground, refuse)
  local mark = given(ground, "back_to")
  if not mark or given(ground, "datum") then return end
  for _, rack in ipairs(record.all "rack") do
    if given(rack, "above") == nil then
      refuse({ "back_to" }, "the heights count from the zero of benchmark " .. mark.name .. ", and rack " ..
          rack.name ..
          " does not say what its lower edge is counted from", 'write above = "highest front post" in the rack')
    end
  end
end

function heights.settle(ground, refuse)
  local field = given(ground, "elevation") and "elevation" or "rod"
  local map = given(ground, field)
  local what = field == "rod" and "reading" or "height"
  local names, by = rack_names()
  local any = false
  for _, key in ipairs(inside[map].names) do
    local value, at = map[key], { field, key }
    if shots.is_list(value) then
      any = true
      if #names ~= 1 then
        refuse(at, #names == 0 and "there is no rack whose line " .. key .. " these are" or "there are " .. #names ..
            " racks: which one's line " .. key .. " is this?", names[1] and field .. " = { " .. names[1] .. " = { " ..
            key .. " = { ... } } }" or nil)
      end
      check_line(value, by[names[1]], key, at, refuse, what)
    elseif shots.is_map(value) then
      any = true
      if not by[key] then
        local near = host.nearest(key, names)
        refuse(at, "no rack is named '" .. key .. "'", near and "did you mean '" .. near .. "'?" or names[1] and
            "there are " .. util.some(names) or nil)
      end
      check_rack(value, by[key], at, refuse, what)
    elseif key ~= given(ground, "datum") then check_named(map, key, by, at, refuse)
    end
  end
  if any then refuse_twice(map, field, refuse) end
  settle_datum(ground, map, field, any, refuse)
  check_above(ground, refuse)
end

return heights
