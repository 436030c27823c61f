-- SPDX-License-Identifier: MIT
-- Holes as they were dug, beside those that are wanted: which post each is of, and what is left to do at it.
local record = import "model.record"
local graph = import "model.graph"
local words = import "write.words"
local measure = import "write.measure"
local feet = import "structure.feet"
local as_dug = {}

local inside, given = record.inside, record.given

-- ---- which hole it is ----------------------------------------------------------------------------------------------

local function rack_named(name)
  for _, rack in ipairs(record.all "rack") do if rack.name == name then return rack end end
end

local function post_of(rack, station) return inside[rack.post].by[station] end

-- The posts that a hole's name may mean, and what it is called: "west.B3" whether it was written so or as "B3".
local function meant(text)
  for at in string.gmatch(text, "()%.") do
    local rack = rack_named(string.sub(text, 1, at - 1))
    if rack then return { post_of(rack, string.sub(text, at + 1)) }, text end
  end
  local racks, posts, name = record.all "rack", {}, text
  for _, rack in ipairs(racks) do
    local post = post_of(rack, text)
    if post then posts[#posts + 1], name = post, rack.name .. "." .. text end
  end
  if #racks == 1 and not string.find(text, ".", 1, true) then name = racks[1].name .. "." .. text end
  return posts, name
end

-- Whose hole it is must be plain, and it is told once.
function as_dug.settle(dug, refuse)
  local mine = false
  local told = {}
  for _, other in ipairs(record.all "dug") do
    mine = mine or other == dug
    for i = 1, #other.holes do
      local text = other.holes[i]
      local posts, name = meant(text)
      if other == dug and #posts > 1 then
        local racks = {}
        for k, post in ipairs(posts) do racks[k] = '"' .. record.parent(post).name .. "." .. text .. '"' end
        refuse({ i }, "a post " .. text .. " stands in " .. #posts .. " racks", "write " .. table.concat(racks, " or "))
      end
      if other == dug and told[name] then
        refuse({ i }, "the hole " .. name .. " is told twice", "keep what was measured last")
      end
      told[name] = true
    end
    if mine then break end
  end
  if #dug.holes == 0 then
    refuse({}, "it names no hole", 'as in dug { "west.B3", depth = 66in, by = "...", on = "..." }')
  end
end

-- Each hole that is dug: { name, post or nil, record }.
function as_dug.list()
  local list = {}
  for _, dug in ipairs(record.all "dug") do
    for i = 1, #dug.holes do
      local posts, name = meant(dug.holes[i])
      list[#list + 1] = { name = name, post = posts[1], record = dug }
    end
  end
  return list
end

-- ---- as plain data -------------------------------------------------------------------------------------------------

local function si(v) return v and host.si(v) or nil end

-- How a hole is: { depth, diameter, east, north }, lengths in metres, each nil where nobody said.
function as_dug.found(dug)
  return { depth = si(given(dug, "depth")), diameter = si(given(dug, "diameter")),
      east = si(given(dug, "moved_east")), north = si(given(dug, "moved_north")) }
end

local function first_of(rack) return inside[rack.post].order[1] end

-- How a post wants its hole: depth and diameter, and where it stands, from the west end of the front line; nil of one
-- that has no hole.
function as_dug.wanted(post)
  local rack = record.parent(post)
  local f = feet.footing(post)
  if feet.kind(f) ~= "hole" then return nil end
  local across = post.line ~= "front" and graph.try(rack.post_line[post.letter], "setback")
  local front = across and rack.front_setback
  return { depth = host.si(f.hole_depth), diameter = host.si(f.hole_diameter),
      along = host.si(post.plan_offset) - host.si(first_of(rack).plan_offset),
      across = across and host.si(across) - host.si(front) or 0.0 }
end

local function length(x) return host.quantity(x, "length") end
local function more(a, b) return a > b and not host.near(a, b) end
local function text(x) return (measure.inches(length(math.abs(x)))) end

-- Nothing is left to do where this gives no words. `then_wide`: how wide it was to be when it was dug, for a hole of
-- which nobody says how wide it is.
function as_dug.left_to_do(found, wanted, then_wide)
  local list = {}
  local function put(words_) list[#list + 1] = words_ end
  if not wanted then
    put "no post stands there: fill the hole and pack it"
    return list
  end
  if not found.depth then put "nobody said how deep it is: measure it"
  elseif more(wanted.depth, found.depth) then
    put("deepen by " .. measure.up(length(wanted.depth - found.depth)))
  elseif more(found.depth, wanted.depth) then
    put(text(found.depth - wanted.depth) .. " too deep: gravel brings the bottom up")
  end
  local wide = found.diameter or then_wide
  if wide and more(wanted.diameter, wide) then
    local then_ = found.diameter and "" or "drilled " .. measure.up(length(wide)) .. " wide as designed then: "
    put(then_ .. "widen to " .. measure.up(length(wanted.diameter)))
  elseif wide and more(wide, wanted.diameter) then
    put(text(wide - wanted.diameter) .. " too wide: it takes more concrete than is counted")
  end
  local off = {}
  for _, x in ipairs { { found.east, "east", "west" }, { found.north, "north", "south" } } do
    if x[1] and not host.near(x[1] + 1, 1) then
      off[#off + 1] = text(x[1]) .. " " .. (x[1] > 0 and x[2] or x[3])
    end
  end
  if #off > 0 then put("it is " .. table.concat(off, " and ") .. " of its mark: measure the frame again") end
  return list
end

-- ---- on the sheet of the posts -------------------------------------------------------------------------------------

-- By post: how deep its hole is, as somebody measured it.
function as_dug.depths()
  local by = {}
  for _, h in ipairs(as_dug.list()) do if h.post then by[h.post] = given(h.record, "depth") end end
  return by
end

function as_dug.put(d)
  local rows = {}
  for i, h in ipairs(as_dug.list()) do
    local want = h.post and as_dug.wanted(h.post)
    local left = h.post and not want and { "its post wants no hole: fill it and pack it" } or
        as_dug.left_to_do(as_dug.found(h.record), want)
    local depth, hit = given(h.record, "depth"), given(h.record, "hit")
    local name = #record.all "rack" == 1 and h.post and h.post.station or h.name
    rows[i] = { name, depth and words.show(depth) or "unknown",
        want and measure.up(length(want.depth)) or "none",
        (#left > 0 and table.concat(left, "; ") or "as wanted") .. (hit and "; hit: " .. hit or ""),
        h.record.by .. ", " .. h.record.on }
  end
  d:subheading("Holes that are dug")
  d:table({ "hole", { "dug", right = true }, { "wanted", right = true }, { "", key = "left to do", wrap = true },
      { "measured by", wrap = true } }, rows)
end

return as_dug
