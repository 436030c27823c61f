-- SPDX-License-Identifier: MIT
-- The braces of a rack: between which posts they go.
local record = import "model.record"
local words = import "write.words"
local given = record.given
local braces = {}

-- The posts of each line, west to east, and the lines by their name from the lower edge up.
local function posts_of(rack)
  local by, order = {}, {}
  for p in record.each(rack.post) do
    local list = by[p.letter]
    if not list then
      list = { line = p.line }
      by[p.letter], order[#order + 1] = list, list
    end
    list[p.number] = p
  end
  return order
end

local function lines_named(order, name)
  local list = {}
  for i, line in ipairs(order) do if not name or line.line == name then list[#list + 1] = { line, i } end end
  return list
end

-- Those of one entry: { foot = post, head = post, name } each, from the lower edge up and west to east.
local function across(order, b, put)
  local from, to = lines_named(order, b.from)[1], lines_named(order, b.to)[1]
  if not from or not to then return end
  local every = given(b, "every") or 1
  for k = 1, math.min(#from[1], #to[1]), every do
    local foot, head = from[1][k], to[1][k]
    put(foot, head, from[2] < to[2] and foot.name .. "-" .. head.name or head.name .. "-" .. foot.name)
  end
end

local function along(order, b, put)
  local bays = given(b, "bays")
  for _, line in ipairs(lines_named(order, given(b, "from"))) do
    local posts = line[1]
    local function one(k)
      local west, east = posts[k], posts[k + 1]
      if not east then return end
      local rises_west = given(b, "rises") == "west"
      put(rises_west and east or west, rises_west and west or east, west.name .. "-" .. east.name)
    end
    for i = 1, bays and #bays or #posts - 1 do one(bays and bays[i] or i) end
  end
end

-- All of a rack, in the order declared: { name, foot, head, entry }; two between the same posts are told apart.
function braces.of(rack)
  local list, seen, order = {}, {}, posts_of(rack)
  local entries = rack.braces
  for i = 1, #entries do
    local b = entries[i]
    local find = given(b, "along") and along or across
    find(order, b, function(foot, head, name)
      seen[name] = (seen[name] or 0) + 1
      list[#list + 1] = { name = seen[name] > 1 and name .. " " .. seen[name] or name, foot = foot.name,
          head = head.name, entry = i }
    end)
  end
  return list
end

-- A height above ground that may not be known yet.
local function known(f)
  local ok, value = pcall(f)
  if ok then return value end
  if not host.class(value) then error(value, 0) end
end

local function refuse_lines(rack, b, i, lines, refuse)
  local by = {}
  for _, line in ipairs(lines) do by[line.name] = by[line.name] or line end
  for _, name in ipairs { "from", "to" } do
    local line = given(b, name)
    if line and not by[line] then
      refuse({ "braces", i, name }, "the rack " .. rack.name .. " has no " .. line .. " line", "it has " ..
          import("model.util").list((function()
            local names = {}
            for k, l in ipairs(lines) do names[k] = l.name end
            return names
          end)()))
    end
  end
  local along_row = given(b, "along")
  for _, name in ipairs(along_row and {} or { "from", "to" }) do
    local named = 0
    for _, line in ipairs(lines) do if line.name == b[name] then named = named + 1 end end
    if named > 1 then
      refuse({ "braces", i, name }, "the rack " .. rack.name .. " has " .. named .. " lines in the middle, and " ..
          "which of them is meant is not said", "braces go from the front line to the back line, or along the row")
    end
  end
  if not along_row and by[b.from].stations ~= by[b.to].stations then
    refuse({ "braces", i, "to" }, "the " .. b.from .. " line has " .. by[b.from].stations .. " posts, the " .. b.to ..
        " line " .. by[b.to].stations .. ": no brace goes from station to station", "braces along the row")
  end
  local bays = given(b, "bays")
  for k = 1, bays and #bays or 0 do
    for _, line in ipairs(lines) do
      local name = given(b, "from")
      if (not name or line.name == name) and bays[k] > line.stations - 1 then
        refuse({ "braces", i, "bays", k }, "the " .. line.name .. " line has no bay " .. bays[k] .. ": it has " ..
            line.stations - 1, "bays are counted from the west")
      end
    end
  end
end

function braces.refuse(rack, lines, refuse)
  local entries = rack.braces
  for i = 1, #entries do refuse_lines(rack, entries[i], i, lines, refuse) end
  for _, brace in ipairs(braces.of(rack)) do
    local b = entries[brace.entry]
    for end_, field in host.sorted { foot = "low", head = "high" } do
      local post = rack.post[brace[end_]]
      local stands = known(function() return post.above_ground end)
      local off = b[field]
      if stands and off > stands and not host.near(host.si(off), host.si(stands)) then
        local is, has = words.apart(off, stands)
        refuse({ "braces", brace.entry, field }, "the bolt would be " .. is .. (field == "low" and
            " above the ground at post " or " below the top of post ") .. post.station .. ", which stands " .. has ..
            " above the ground", "a smaller distance")
      end
    end
  end
end

return braces
