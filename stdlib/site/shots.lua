-- SPDX-License-Identifier: MIT
-- Heights of the ground at the posts: by the names of the posts, or by rack and line, west to east; from the ground at
-- one post, or from a benchmark.
local memo = import "model.memo"
local record = import "model.record"
local shots = {}

local given, inside = record.given, record.inside

-- Heights or readings, as ground has them: nil of a map where nobody said.
local function map_of(ground) return given(ground, "elevation") or ground.rod end

local function is_list(x) return inside[x] and inside[x].list ~= nil end
local function is_map(x) return inside[x] and inside[x].names ~= nil end
shots.is_list, shots.is_map = is_list, is_map

-- What stands for a post by rack and line, and where: rod.west.F[2], rod.F[2] of the only rack, rod.west.F2.
local function nested(map, rack, letter, number, station)
  local own = map[rack.name]
  if is_map(own) then
    local line = own[letter]
    if is_list(line) and line[number] ~= nil then return line[number], { rack.name, letter, number } end
    local single = own[station]
    if single ~= nil and not inside[single] then return single, { rack.name, station } end
  end
  local line = map[letter]
  if is_list(line) and line[number] ~= nil and #record.all "rack" == 1 then return line[number], { letter, number } end
end

-- The height or the reading at a post, and the keys at which it stands; nil where nobody said.
function shots.at(map, post)
  local station = post.station
  local flat = map[station]
  if flat ~= nil and not inside[flat] then return flat, { station } end
  return nested(map, record.parent(post), post.letter, post.number, station)
end

-- Whether a post's height stands under its rack, so that another rack may have a post of that name.
function shots.is_of_rack(map, post)
  local _, keys = shots.at(map, post)
  return keys ~= nil and #keys > 1
end

-- ---- the zero ------------------------------------------------------------------------------------------------------

-- The posts that a name means: "F1", or "west.F1".
local function posts_named(name)
  local list = {}
  for _, rack in ipairs(record.all "rack") do
    for post in record.each(rack.post) do
      if post.station == name or rack.name .. "." .. post.station == name then list[#list + 1] = post end
    end
  end
  return list
end
shots.posts_named = posts_named

-- What was read at the datum. It need be no post: a peg has a name among the heights, too.
local function at_datum(ground)
  local map, name = map_of(ground), ground.datum
  local flat = map[name]
  if flat ~= nil and not inside[flat] then return flat end
  return memo.remember(inside[record.root], "the datum", function()
    for _, post in ipairs(posts_named(name)) do
      local found = shots.at(map, post)
      if found ~= nil then return found end
    end
    host.raise { code = "D010", class = "missing", text = "the ground at the datum " .. name .. " is not given",
        path = "ground.datum", who = "designer", tool = "a water level or a builder's level" }
  end)
end

-- The line of sight of the level, against the zero of the heights.
local function sight(ground)
  if given(ground, "datum") then return at_datum(ground) end
  return ground.back_to.elevation + ground.opened
end

-- How high a benchmark lies against the zero of the heights.
function shots.benchmark(mark, ground)
  local back_to = given(ground, "back_to")
  if not back_to then
    host.raise { code = "D010", class = "missing", path = "ground.back_to", who = "designer", tool = "a level",
        text = "how high benchmark " .. mark.name .. " lies above the datum is not known: no reading goes back to it" }
  end
  local height = given(ground, "datum") and at_datum(ground) - ground.opened or back_to.elevation
  if back_to == mark then return height end
  return height + (mark.elevation - back_to.elevation)
end

-- ---- the ground ----------------------------------------------------------------------------------------------------

-- Whether there is a height at any post of a rack, where there are several: one line is told of one that nobody shot.
local function shot_at_all(map, rack)
  return #record.all "rack" == 1 or memo.remember(inside[rack], "shot at all", function()
    for post in record.each(rack.post) do if shots.at(map, post) ~= nil then return true end end
    return false
  end)
end

-- The ground at a post against the zero; larger is higher.
function shots.ground(post, ground)
  local map = map_of(ground)
  local found = map[post.station]                       -- most often by its name
  if found == nil or inside[found] then found = shots.at(map, post) end
  if found == nil then
    local rack = record.parent(post)
    if not shot_at_all(map, rack) then
      host.raise { code = "D010", class = "missing", text = "the ground at the posts of rack " .. rack.name ..
          " is not given", path = "ground." .. rack.name, who = "designer",
          tool = "a water level or a builder's level" }
    end
    local name = #record.all "rack" > 1 and rack.name .. "." .. post.station or post.station
    host.raise { code = "D010", class = "missing", text = "the ground at post " .. name .. " is not given",
        path = "ground." .. post.station, who = "designer", tool = "a water level or a builder's level" }
  end
  if given(ground, "elevation") then return found end
  return sight(ground) - found
end

-- In words, what the heights are counted from: "the ground at F1", "benchmark barn sill".
function shots.zero(ground)
  local datum = given(ground, "datum")
  if datum then return "the ground at " .. datum end
  return "the zero of benchmark " .. ground.back_to.name
end

return shots
