-- SPDX-License-Identifier: MIT
-- What posts stand in, in an elevation or a section: holes, screws, blocks, driven posts, each as what it is.
-- p: { post, footing, at, ground, top, foot, width } in metres, as draw.side has it; behind: what is higher is hidden;
-- block: where a block of it begins and ends.
local record = import "model.record"
local words = import "write.words"
local measure = import "write.measure"
local feet = import "structure.feet"
local rails = import "rails.plan"
local foot = {}

local given, si = record.given, host.si

function foot.item(rack, line) return feet.item(rack, line) end

-- What lies between modules and posts, square to the modules.
function foot.stack(rack)
  local total = measure.inches(rack.stack_depth) .. " square to the modules"
  if given(rack, "stack") then return "parts of the rack, " .. total end
  local list = { rails.item(rack) .. " rails", rack.rafter .. " rafter" }
  if given(rack, "beam") then list[#list + 1] = rack.beam .. " beam" end
  local saddle = given(rack, "saddle")
  if saddle then list[#list + 1] = "saddle " .. measure.inches(saddle) end
  return table.concat(list, ", ") .. (given(rack, "beam") and "" or ": " .. total)
end

-- How wide it is in the ground or on it.
function foot.width(p) return si(feet.width(p.footing, record.parent(p.post))) end

-- Half of what the line of the ground meets there.
function foot.half(p) return math.max(p.width, feet.kind(p.footing) == "hole" and foot.width(p) or 0) / 2 end

-- The ground on which a block lies, level; of a section its zero.
function foot.bed(p) return p.bed or si(feet.bed(p.post)) end

-- Where a block begins and ends, square to the row and counted towards the back as its posts are: first to last of
-- those that stand on it.
function foot.block(f, first, last)
  local before = f.carries == "station" and given(f, "block_front")
  local front = before and first - si(before) or (first + last - si(f.block_length)) / 2
  return front, front + si(f.block_length)
end

-- How far from the middle of a post the ground beside it is bare, on the right (1) or the left (-1): beyond its hole,
-- or the block that it stands on. along: seen square to the row.
function foot.bare(p, side, along)
  if feet.kind(p.footing) ~= "ballast" then return foot.half(p) * 1.6 end
  if along then return si(p.footing.block_width) / 2 + p.width end
  return side * (p.block[side > 0 and 2 or 1] - p.block.x) + p.width
end

local function box(d, x, half, low, high) d:polyline({ x - half, low, x + half, low, x + half, high, x - half, high },
    true) end

local draw = {}

function draw.hole(d, p, x)
  local f, half, post = p.footing, foot.width(p) / 2, p.width / 2
  local low = p.ground - si(f.hole_depth)
  local pad = low + si(f.gravel)
  d:layer "S-FNDN"
  d:pen "medium"
  box(d, x, half, low, p.ground)
  if si(f.gravel) > 0 then
    d:line(x - half, pad, x + half, pad)
    d:hatch("gravel", { x - half, low, x + half, low, x + half, pad, x - half, pad })
  end
  if f.fill == "concrete" then
    for way = -1, 1, 2 do
      d:hatch("concrete", { x + way * post, pad, x + way * half, pad, x + way * half, p.ground, x + way * post,
          p.ground })
    end
  end
end

-- A helix, and how deep it lies; what is hardly wider than the shaft is a thread.
local function helix_of(f)
  local wide, deep = given(f, "helix"), given(f, "helix_depth")
  if wide and deep and wide > 2 * f.shaft then return wide, deep end
end

function draw.screw(d, p, x)
  local f, half = p.footing, foot.width(p) / 2
  local top, tip = p.ground + si(f.head), p.ground + si(f.head) - si(f.screw_length)
  d:layer "S-FNDN"
  d:pen "medium"
  d:polyline({ x - half, top, x + half, top, x + half, tip + 2 * half, x, tip, x - half, tip + 2 * half }, true)
  local wide, deep = helix_of(f)
  if wide then                                                 -- the top one, where it lies: of others nobody tells
    local y = p.ground - si(deep)
    d:line(x - si(wide) / 2, y - 0.4 * half, x + si(wide) / 2, y + 0.4 * half)
    return
  end
  for k = 1, 3 do
    local y = tip + 3 * half * k
    d:line(x - 1.8 * half, y - 0.4 * half, x + 1.8 * half, y + 0.4 * half)
  end
end

-- A block lies under its post; one for a station reaches under all of its posts, and is drawn by the first.
-- p.block: { left, right, x = of its post, drawn = by this post }; along: seen square to the row, each shows its width.
function draw.ballast(d, p, x, along)
  local f = p.footing
  if not along and not p.block.drawn then return end
  local left, right = x - si(f.block_width) / 2, x + si(f.block_width) / 2
  if not along then left, right = p.block[1], p.block[2] end
  local low = foot.bed(p)
  local high = low + si(f.block_height)
  d:layer "S-FNDN"
  d:pen "medium"
  d:polyline({ left, low, right, low, right, high, left, high }, true)
  d:hatch("concrete", { left, low, right, low, right, high, left, high })
end

function draw.driven() end

function foot.draw(d, p, x, along)
  local half = p.width / 2
  draw[feet.kind(p.footing)](d, p, x, along)
  d:layer "S-POST"
  d:pen "wide"
  local above, seen = math.max(p.ground, p.foot), math.min(p.top, p.behind or p.top)
  d:line(x - half, above, x - half, seen)
  d:line(x + half, above, x + half, seen)
  if seen < p.top then
    d:pen "hidden"
    d:polyline({ x - half, seen, x - half, p.top, x + half, p.top, x + half, seen })
    d:pen "wide"
  else d:line(x - half, p.top, x + half, p.top) end
  if p.foot < p.ground then
    d:pen "hidden"
    d:polyline({ x - half, p.ground, x - half, p.foot, x + half, p.foot, x + half, p.ground })
  else d:line(x - half, p.foot, x + half, p.foot) end
  d:pen "centre"
  local over = 0.15 * (p.top - p.ground)
  d:line(x, math.min(p.foot, p.ground) - over / 2, x, p.top + over / 2)
end

local function helix(f)
  local wide, deep = helix_of(f)
  return wide and ", its top helix " .. measure.inches(wide) .. " wide and " .. measure.up(deep) .. " deep" or ""
end

-- Labels of what it stands in: { x, y, text }.
function foot.labels(p, x, outer)
  local f, kind, half = p.footing, feet.kind(p.footing), foot.width(p) / 2
  if kind == "hole" then
    local depth, list = si(f.hole_depth), {}
    list[1] = { x + outer * half, p.ground - 0.6 * depth, f.fill .. " in a hole " .. measure.up(f.hole_diameter) ..
        " wide, " .. measure.up(f.hole_depth) .. " deep" }
    list[2] = { x + outer * half * 0.9, p.ground - depth + si(f.gravel) / 2, si(f.gravel) > 0 and
        measure.inches(f.gravel) .. " of gravel as a pad" or "no gravel" }
    if si(f.gravel) == 0 then list[2] = nil end
    return list
  elseif kind == "screw" then
    return { { x + outer * half, p.ground - 0.5 * si(f.screw_length - f.head), "ground screw " ..
        measure.inches(f.shaft) .. " thick, " .. measure.inches(f.screw_length) .. " long, head " ..
        measure.inches(f.head) .. " above ground" .. helix(f) } }
  elseif kind == "ballast" then
    return { { x + outer * half * 0.6, foot.bed(p) + 0.4 * si(f.block_height), "block " .. words.show(f.block_length) ..
        " by " .. words.show(f.block_width) .. " by " .. words.show(f.block_height) .. (f.carries == "station" and
        ", one for the posts of a station" or "") } }
  end
  return { { x + outer * half, p.ground - 0.5 * si(f.driven_depth), "driven " .. measure.up(f.driven_depth) ..
      " deep" } }
end

return foot
