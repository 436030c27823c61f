-- SPDX-License-Identifier: MIT
-- The lines of posts of a rack, from the lower edge up: which there are, and how many posts stand in each, how far
-- apart.
local record = import "model.record"
local memo = import "model.memo"
local words = import "write.words"
local lines = {}

local given = record.given
local MIDDLE = { "M", "N", "P", "Q", "R", "S" }

-- Posts in a line, which may have a group of its own.
local function stations_of(rack, its)
  local bays = its and given(its, "bays")
  return its and (given(its, "stations") or bays and #bays + 1) or rack.stations
end

local function lines_of(rack)
  local at, own = rack.post_lines, given(rack, "lines")
  local list = {}
  local function put(name, letter, fraction)
    list[#list + 1] = { name = name, letter = letter, fraction = fraction,
        stations = stations_of(rack, own and given(own, name)) }
  end
  put("front", "F", at.front)
  local middle, back = given(at, "middle"), given(at, "back")
  for i = 1, middle and #middle or 0 do put("middle", MIDDLE[i], middle[i]) end
  if back then put("back", "B", back) end
  return list
end

local kept = { name = "lines of posts", find = function(rec) return lines_of(rec.proxy) end }

-- { name = "front", letter = "F", fraction, stations } of each line: for reading.
function lines.of(rack) return memo.value(record.inside[rack], kept) end

-- Where a line stands, by its letter, and how many posts it has, by its name: read off what the rack says, so that it
-- is told where that stands.
function lines.fraction(rack, letter)
  local at = rack.post_lines
  for i, middle in ipairs(MIDDLE) do if middle == letter then return at.middle[i] end end
  return letter == "F" and at.front or at.back
end
function lines.stations(rack, name) return stations_of(rack, lines.own(rack, name)) end

-- How far a line stands behind the lower edge, in plan; the rack knows it of its first and last.
function lines.setback(rack, name, letter)
  return name == "middle" and rack.post_line[letter].setback or rack[name .. "_setback"]
end

-- What a line has otherwise than the rest of its rack, or nil.
function lines.own(rack, name)
  if not name then return nil end
  local own = given(rack, "lines")
  return own and given(own, name) or nil
end

local function field(keys, name)
  local path = table.move(keys, 1, #keys, 1, {})
  path[#path + 1] = name
  return path
end

-- Which of two fields of a rack, or of one of its lines, stands: the one that is said nearer to it, where a type gives
-- the other; both, where they stand beside each other.
local function standing(rack, of, keys, a, b)
  local first, second = given(of, a), given(of, b)
  if first == nil or second == nil then return first, second end
  local rec, like = record.inside[rack], import "model.like"
  if like.nearer(rec, field(keys, a), field(keys, b)) then return first, nil end
  if like.nearer(rec, field(keys, b), field(keys, a)) then return nil, second end
  return first, second
end

-- What says how far apart the posts of a line stand: its own group or the rack, and the keys of that.
local function teller(rack, name)
  local own = lines.own(rack, name)
  return own or rack, own and { "lines", name } or {}
end

-- Whether the posts of a line stand bay by bay, instead of at one spacing from the middle outward.
function lines.by_bays(rack, name)
  if given(rack, "lines") and lines.own(rack, name) or given(rack, "set_in") or rack.stations == 1 then return true end
  return given(rack, "bays") ~= nil and (standing(rack, rack, {}, "bays", "spacing")) ~= nil
end

-- The bays of a line of so many posts, west to east.
function lines.bays(rack, name, stations)
  local of, keys = teller(rack, name)
  local bays = standing(rack, of, keys, "bays", "spacing")
  local list = {}
  for i = 1, stations - 1 do list[i] = bays and bays[i] or of.spacing end
  return list
end

-- ---- what is refused -----------------------------------------------------------------------------------------------

-- What the script says at these keys, whatever is put in there.
local function written(rack, keys)
  local value = import("model.like").giver(record.inside[rack], keys).raw
  for _, key in ipairs(keys) do value = type(value) == "table" and value[key] or nil end
  return value
end

-- How many posts, and how far apart, is said once.
local function refuse_doubtful(rack, of, keys, stations, refuse)
  local bays, spacing = standing(rack, of, keys, "bays", "spacing")
  if bays and spacing then
    refuse(field(keys, "bays"), "the bays are given one by one, and a spacing besides", "leave one of them out")
  end
  if bays and #bays ~= stations - 1 then
    local n = stations - 1
    refuse(field(keys, "bays"), #bays .. (#bays == 1 and " bay" or " bays") .. " between " .. stations ..
        (stations == 1 and " station" or " stations"), n == 0 and "one post alone has no bay beside it" or "between " ..
        stations .. " posts there " .. (n == 1 and "is 1 bay" or "are " .. n .. " bays"))
  end
  local counted = given(of, "stations") and field(keys, "stations") or { "stations" }
  if spacing and stations == 1 and written(rack, counted) == 1 and
      not import("model.like").nearer(record.inside[rack], counted, field(keys, "spacing")) then
    refuse(field(keys, "spacing"), "one post alone has none to stand apart from", "leave it out, or add stations")
  end
  if not bays and not spacing and stations > 1 then
    refuse(keys, "how far apart its posts stand is not said", "write spacing = 72.5in, or bays = inch{ 84, 84, 72 }")
  end
end

-- A line's posts stand within the modules' length.
local function refuse_too_wide(rack, of, keys, bays, unlike, refuse)
  local sum
  for _, b in ipairs(bays) do sum = sum and sum + b or b end
  if not sum then return end
  local row, first = rack.row_width, given(of, "set_in")
  local at = field(keys, unlike and "bays" or "spacing")
  if sum > row then
    local is, wide = words.apart(sum, row)
    refuse(at, "the posts would stand " .. is .. " apart from end to end, wider than the modules' " .. wide,
        "fewer posts, or less between them")
  elseif first and first + sum > row then
    local is, wide = words.apart(first + sum, row)
    refuse(field(keys, "set_in"), "the last post would stand " .. is .. " from the west end, beyond the modules' " ..
        wide, "set the posts in by less")
  end
end

-- Nothing is said of a line that is not there.
local function refuse_of_no_line(rack, list, refuse)
  local has, own = {}, given(rack, "lines")
  for _, line in ipairs(list) do has[line.name] = true end
  for _, name in ipairs { "middle", "back" } do
    if not has[name] then
      local none, help = "it has no " .. name .. " line", "leave it out, or write post_lines = { front = 20%, " ..
          (name == "middle" and "middle = { 50% }, " or "") .. "back = 80% }"
      if own and given(own, name) then refuse({ "lines", name }, none, help) end
      if name == "back" and given(rack.posts, name) then refuse({ "posts", name }, none, help) end
    end
  end
end

-- The lines with their setbacks and bays, once they are found to be whole: { name, letter, fraction, stations, setback,
-- bays, at(k) = the keys of bay k }.
function lines.settled(rack, refuse)
  local list = lines_of(rack)
  for _, name in ipairs(given(rack, "stack") and { "rafter", "rafter_on", "beam", "beam_on", "saddle" } or {}) do
    if given(rack, name) ~= nil then
      refuse({ name }, "the stack is given whole, and what it is built of besides", "leave one of them out")
    end
  end
  if given(rack, "rafter_section") and not given(rack, "stack") then
    refuse({ "rafter_section" }, "its rafters are of lumber, of which the tables have that",
        "leave it out, or give the stack of a kit")
  end
  if given(rack, "beam_on") and not given(rack, "beam") then
    refuse({ "beam_on" }, "it has no beam", 'write beam = "4x8"')
  end
  refuse_of_no_line(rack, list, refuse)
  local differs = false
  for _, line in ipairs(list) do
    local of, keys = teller(rack, line.name)
    differs = differs or of ~= rack
    refuse_doubtful(rack, of, keys, line.stations, refuse)
    local unlike = standing(rack, of, keys, "bays", "spacing")
    line.bays = lines.bays(rack, line.name, line.stations)
    line.at = function(k) return unlike and field(field(keys, "bays"), k) or field(keys, "spacing") end
    refuse_too_wide(rack, of, keys, line.bays, unlike, refuse)
    line.setback = lines.setback(rack, line.name, line.letter)
  end
  if differs and not given(rack, "beam") then
    refuse({ "lines" }, "a line has posts of its own, and no beam carries the rafters over them",
        'write beam = "4x8", or leave the lines alike')
  end
  local slope = host.si(rack.slope_length)
  for i = 2, #list do
    if host.near(slope + host.si(list[i].setback - list[i - 1].setback), slope) then
      refuse({ "tilt" }, "at this tilt both lines of posts would stand in one", "less tilt")
    end
  end
  return list
end

return lines
