-- SPDX-License-Identifier: MIT
-- A section of what posts stand in: a footing as it is declared, with the post in it, cut off above the ground.
local record = import "model.record"
local graph = import "model.graph"
local words = import "write.words"
local measure = import "write.measure"
local sheets = import "write.sheets"
local util = import "model.util"
local feet = import "structure.feet"
local lettering = import "draw.lettering"
local told = import "draw.told"
local foot = import "draw.foot"

local given, si = record.given, host.si

-- What holds a footing: while one of these does not hold, nobody builds it.
local like = { kinds = { "footing" }, rules = { "R30", "R31", "R33", "R34" }, after = { "R30", "R31", "R34" },
    build = true }

-- The posts that stand in it, of all racks.
local function posts_in(footing)
  local list = {}
  for _, rack in ipairs(record.all "rack") do
    for _, g in ipairs(feet.of_rack(rack)) do
      if g.footing == footing then table.move(g.posts, 1, #g.posts, #list + 1, list) end
    end
  end
  return list
end

-- ---- what is drawn -------------------------------------------------------------------------------------------------

-- The post is drawn to this height above the ground, with the line of a break.
local ABOVE = 0.5

local function shown(post, footing)
  local width, round = feet.section(record.parent(post), post.line)
  local ground = feet.kind(footing) == "ballast" and si(feet.bed(post)) or si(post.ground)
  local base = si(post.top_height - post.cut_length)
  return { post = post, at = 0, ground = 0, bed = 0, top = math.max(0, base - ground) + ABOVE, foot = base - ground,
      width = si(width), round = round, footing = footing }
end

local function draw_break(d, p)
  local half, step = p.width / 2, p.width / 6
  d:layer "S-POST"
  d:pen "thin"
  d:polyline { -half - 2 * step, p.top, -step, p.top, -step / 2, p.top + step, step / 2, p.top - step, step, p.top,
      half + 2 * step, p.top }
end

-- Heights from the lowest place to the highest, and over all where there are several; line: where the first chain
-- stands, left of the ground that is drawn.
local function heights(d, half, line, places)
  local at, texts, marks = {}, {}, nil
  local low = places[1]
  for i, v in ipairs(places) do at[i], places[i] = si(v), v - low end
  marks = measure.running(places)
  for i = 2, #marks do texts[i - 1] = (measure.mark(marks[i].bay)) end
  local next = d:chain { upright = true, from = -half, line = line, at = at, texts = texts }
  if #at > 2 then
    d:chain { upright = true, from = line, line = next, at = { at[1], at[#at] },
        texts = { (measure.mark(marks[#marks].at)) } }
  end
end

local function width(d, half, low, v)
  local marks = measure.running { 0 * v, v }
  d:chain { from = low, line = low - d:paper "first", at = { -half, half }, texts = { (measure.mark(marks[2].at)) } }
end

local dimensions = {}

function dimensions.hole(d, f, half, line)
  local places = { -1 * f.hole_depth }
  if si(f.gravel) > 0 then places[2] = f.gravel - f.hole_depth end
  places[#places + 1] = 0 * f.hole_depth
  heights(d, half, line, places)
  width(d, half, -si(f.hole_depth), f.hole_diameter)
end

function dimensions.screw(d, f, half, line)
  local places = { f.head - f.screw_length, 0 * f.head }
  if si(f.head) > 0 then places[3] = f.head end
  heights(d, half, line, places)
end

function dimensions.ballast(d, f, _, line)
  local half = si(f.block_width) / 2
  heights(d, half, line, { 0 * f.block_height, f.block_height })
  width(d, half, 0, f.block_width)
end

function dimensions.driven(d, f, half, line) heights(d, half, line, { -1 * f.driven_depth, 0 * f.driven_depth }) end

local function draw(d, footing, post, narrow)
  local ratio, p = d:ratio(), shown(post, footing)
  local frost = record.only "site" and given(record.root.site, "frost")
  foot.draw(d, p, 0, true)
  draw_break(d, p)
  local left, _, right = d:box()
  local reach = 14e-3 * ratio
  local half = foot.half(p)
  d:layer "C-GRAD"
  d:pen "wide"
  d:line(left - reach, 0, right + reach, 0)
  d:hatch("earth", { left - reach, 0, -half, 0 })
  d:hatch("earth", { half, 0, right + reach, 0 })
  local labels = foot.labels(p, 0, 1)
  local keyed = feet.kind(footing) == "hole" and given(footing, "keyed")
  if keyed then                                     -- without it the concrete holds nothing down: who pours must see it
    labels[#labels + 1] = { p.width / 2, p.foot * 0.75, "keyed to the concrete: " .. keyed }
  end
  if frost then
    d:pen "hidden"
    d:line(half, -si(frost), right + reach, -si(frost))
    labels[#labels + 1] = { right + 0.7 * reach, -si(frost), "frost " .. measure.up(frost) .. " deep" }
  end
  labels[#labels + 1] = { p.width / 2, 0.6 * p.top, "post " .. foot.item(record.parent(post), post.line) }
  labels[#labels + 1] = { math.max(half, foot.bare(p, 1, true) - p.width) + reach / 2, 0, level = true,
      "ground beside the post" }
  d:layer "G-ANNO-DIMS"
  dimensions[feet.kind(footing)](d, footing, half, left - reach - 6e-3 * ratio)
  local _, _, far = d:box()
  d:layer "G-ANNO-TEXT"
  lettering.labels(d, far + 5e-3 * ratio, labels, true, lettering.beside(narrow, 60e-3) * ratio)
end

-- ---- the view ------------------------------------------------------------------------------------------------------

-- The most that any of its posts has to bear, as the loads sheet has it.
local function most(posts, name, what)
  local value, at
  for _, p in ipairs(posts) do
    local v = graph.try(p, name)
    if not v then return what .. ": unknown." end
    if not value or v > value then value, at = v, p end
  end
  return what .. ": " .. words.of(at, name) .. ", at " .. at.station .. " of " .. words.title(record.parent(at)) .. "."
end

-- "rack east: F1, F2 and F3; rack west: F1".
local function names(posts)
  local list, racks, by = {}, {}, {}
  for _, p in ipairs(posts) do
    local rack = record.parent(p)
    if not by[rack] then by[rack], racks[#racks + 1] = {}, rack end
    table.insert(by[rack], p.station)
  end
  for i, rack in ipairs(racks) do list[i] = words.title(rack) .. ": " .. util.list(by[rack]) end
  return table.concat(list, "; ")
end

return function(footing, on)
  local why = sheets.withheld(like, on.groups)
  if why then return nil, why end
  local posts = posts_in(footing)
  local _, foot_notes = told.printed(told.sheet("posts", on.groups), on)
  local notes = { #posts .. (#posts == 1 and " post stands" or " posts stand") .. " in it: " .. names(posts) .. ".",
      most(posts, "wind_uplift", "Most uplift by wind, strength level"),
      most(posts, "lateral", "Most that pushes a post sideways at the ground, allowable level"),
      "Depths are from the ground beside each post." }
  local p, racks, seen = shown(posts[1], footing), {}, {}
  local depth = feet.depth(footing)
  for _, post in ipairs(posts) do
    local rack = record.parent(post)
    if not seen[rack] then racks[#racks + 1], seen[rack] = rack, true end
  end
  return { seen = "cut through the middle", rough = words.metric() and 20 or 24,
      wide = foot.width(p), tall = p.top + (depth and si(depth) or 0),
      notes = told.notes(like, on, notes, foot_notes, racks),
      draw = function(d, narrow) draw(d, footing, posts[1], narrow) end }
end
