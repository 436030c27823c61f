-- SPDX-License-Identifier: MIT
-- The post schedule, whole: where each post stands, what it stands in, what is cut.
local record = import "model.record"
local graph = import "model.graph"
local document = import "write.document"
local words = import "write.words"
local measure = import "write.measure"
local set_out = import "structure.set_out"
local feet = import "structure.feet"
local schedule = {}

local cell, value = document.of, document.value
local function right(head, key) return { head, key = key, right = true } end

-- In words, for a person to confirm on the ground: against the datum, or where that is a benchmark's zero against the
-- lowest post.
local function lower_and_higher(list, ground)
  local low, high
  for _, p in ipairs(list) do
    local height = graph.try(p, "ground")
    if height and (not low or height < low.ground) then low = p end
    if height and (not high or height > high.ground) then high = p end
  end
  if not low then return nil end
  local confirm = ". Confirm this on the ground before anything is cut."
  local function says(p, by, word, than)
    return "the ground at " .. p.station .. " is " .. measure.inches(host.abs(by)) .. " " .. word .. " than at " .. than
  end
  local datum = record.given(ground, "datum")
  if not datum then
    if low.ground == high.ground then return "the ground is level at all posts" end
    return "Lowest and highest: " .. says(low, high.ground - low.ground, "lower", high.station) .. confirm
  end
  local parts = {}
  if host.si(low.ground) < 0 then parts[#parts + 1] = says(low, low.ground, "lower", datum) end
  if host.si(high.ground) > 0 then parts[#parts + 1] = says(high, high.ground, "higher", datum) end
  if #parts == 0 then return "the ground is level with " .. datum .. " at all posts" end
  return "Lowest and highest: " .. table.concat(parts, "; ") .. confirm
end

-- What the lower edge is counted from, where that is not the datum of the levels.
local function counted_from(r)
  local says = record.given(r, "above") and import("structure.datum").says(r)
  if not says then return "" end
  return " The lower edge lies " .. measure.inches(r.lower_edge) .. " above " .. says .. ", at " ..
      measure.level(r.edge_height) .. "."
end

local function set_up(ground)
  local with, mark = record.given(ground, "set_up"), record.given(ground, "back_to")
  if not with and not mark then return "" end
  local where = mark and record.given(mark, "where")
  return " Read" .. (with and " by " .. with or "") .. (mark and ", back to benchmark " .. mark.name ..
      (where and " (" .. where .. ")" or "") or "") .. "."
end

-- By post, how deep a hole is that is dug already; those are few.
local function dug()
  return #record.all "dug" > 0 and import("holes.as_dug").depths() or {}
end

local function wide(post)
  local f = feet.footing(post)
  if feet.kind(f) == "hole" then return cell(f, "hole_diameter", measure.up) end
  return value(feet.width(f, record.parent(post)), measure.inches)
end

local function pad(post)
  local f = feet.footing(post)
  return feet.kind(f) == "hole" and host.si(f.gravel) > 0 and cell(f, "gravel", measure.inches) or "none"
end

-- Where each post stands and what its hole is.
local function places(d, rack, lines, deep)
  local zero, across, depths, rows = lines[1].posts[1], set_out.across(lines), dug(), {}
  local holes = #feet.holes(rack) > 0
  for k, line in ipairs(lines) do
    local along = set_out.along(rack, line, zero)
    for i, x in ipairs(line.posts) do
      rows[#rows + 1] = { x.station, value(along[i].at, measure.mark), value(across[k].at, measure.mark),
          cell(x, "ground", measure.level), wide(x), deep(x), pad(x),
          depths[x] and value(depths[x]) or document.fill }
    end
  end
  d:table({ "post", right("east of " .. zero.station, "x"), right("behind it", "y"),
      { "ground", right = true, level = true },
      right(holes and "hole wide" or "wide", "wide"), right("deep", "hole"), right("pad", "pad"),
      holes and "as dug" or "as set" }, rows)
  return rows
end

-- Which stick each post is cut from, and what is left of it; nothing where the order is unknown. How long a post is
-- does not rest on that.
local function sticks(rack)
  local cutting, unnoted = import "buying.cuts", import("model.unnoted").call
  local known = {}
  local function of(item)
    if known[item] == nil then
      local ok, stock = pcall(unnoted, function() return cutting.stock_of(import("buying.results").order(), item) end)
      if not ok and not host.class(stock) then error(stock, 0) end
      known[item] = ok and stock
    end
    return known[item]
  end
  return function(post)
    local stock = of(feet.item(rack, post.line))
    if not stock then return "unknown", "unknown" end
    local stick = stock[cutting.post_label(rack, post)]
    if not stick then return "not priced", "" end
    return stick.says, stick.trim and value(stick.trim, measure.inches) or ""
  end
end

-- What is cut, and how it stands.
local function cut_posts(d, rack, lines, in_inches)
  local stick, rows, holes = sticks(rack), {}, #feet.holes(rack) > 0
  local columns = { "post", { "top", right = true, level = true }, right "cut" }
  in_inches(columns)
  columns[#columns + 1] = right "above ground"
  if holes then columns[#columns + 1] = right "embedded" end
  -- Each rack's own, which a page that stands for several racks leaves out.
  table.move({ { "cut from", own = true }, { "trim", right = true, own = true }, "as built" }, 1, 3, #columns + 1,
      columns)
  for _, line in ipairs(lines) do
    for _, x in ipairs(line.posts) do
      local from, trim = stick(x)
      local row = { x.station, cell(x, "top_height", measure.level), cell(x, "cut_length", measure.cut) }
      if measure.two_columns() then row[#row + 1] = cell(x, "cut_length", measure.under_inches) end
      row[#row + 1] = cell(x, "above_ground", measure.inches)
      if holes then row[#row + 1] = feet.in_hole(x) and cell(x, "embedment", measure.inches) or "none" end
      table.move({ from, trim, document.fill }, 1, 3, #row + 1, row)
      rows[#rows + 1] = row
    end
  end
  d:para("Cut length from the foot to the top:")
  d:table(columns, rows)
  d:para("trim: what is left of the stick, at its last piece. as built: how high the top stands, with its sign.")
  return rows
end

-- Legs that slide are not cut: which of the lengths that are had stands where, and how far its head goes.
local function legs(d, _, lines)
  local rows = {}
  for _, line in ipairs(lines) do
    for _, x in ipairs(line.posts) do
      local leg = graph.try(x, "leg_length")
      rows[#rows + 1] = { x.station, cell(x, "top_height", measure.level),
          cell(x, "above_ground", measure.inches), cell(x, "cut_length", measure.cut),
          cell(x, "leg_length", measure.cut),
          leg and value(x.cut_length - leg, measure.level) or "unknown", cell(x, "leg_left", measure.inches),
          document.fill }
    end
  end
  d:para("Length from the foot to the top, and the leg for it:")
  d:table({ "post", right "top", right "above ground", right "wanted", right "leg", right("head", "head slides"),
      right("left", "slide left"), "as built" }, rows)
  d:para("head: how far it slides, + out and - in. left: what is left of the slide; below 0 the leg does not reach. " ..
      "as built: how high the top stands, with its sign.")
  return rows
end

-- How the posts of a rack stand, hole by hole, and what is done about a depth that is not met.
local function standing(r, stands)
  local parts = {}
  for i, g in ipairs(feet.of_rack(r)) do
    local others = g.footing ~= r.posts.footing
    if not others and feet.kind(g.footing) == "hole" then
      local gravel = g.footing.gravel
      parts[i] = "Depth from the ground beside the hole, " .. (host.si(gravel) > 0 and measure.inches(gravel) ..
          " of gravel at the bottom as a pad. " or "without gravel at the bottom. ")
    else
      local text = stands(g, others)
      parts[i] = text:sub(1, 1):upper() .. text:sub(2) .. ". "
    end
  end
  if #feet.holes(r) > 0 then
    parts[#parts + 1] = "Depths are rounded deeper: gravel brings the bottom back up, never the post down. "
  end
  local reserve = record.given(r.posts, "trim_reserve")
  if reserve and host.si(reserve) > 0 then
    parts[#parts + 1] = "They are set " .. measure.inches(reserve) ..
        " longer at the top than cut, and trimmed to it when they stand. "
  end
  if record.given(r.posts, "slide") then
    parts[#parts + 1] = "Legs are not cut: their heads slide " .. measure.inches(r.posts.slide) .. " up or down. "
  end
  return table.concat(parts)
end

-- Writes it; gives whether any hole stands open while it is built by. with: what the short form says alike, in_inches,
-- described, stands and deep.
function schedule.put(d, with)
  local ground, open = record.root.ground, false
  for _, r in ipairs(record.all "rack") do
    open = open or #feet.holes(r) > 0
    local list, lines = {}, set_out.lines(r)
    for p in record.each(r.post) do list[#list + 1] = p end
    d:gap()
    d:subheading(words.title(r) .. ", posts west to east")
    d:inside(function()
      d:para("Posts " .. with.described(r) .. ". Zero: post " .. lines[1].posts[1].station ..
          ", centre to centre, which is as well from its west face to the west face of another and from front to " ..
          "front face. " .. standing(r, with.stands) .. "Levels and tops from " .. set_out.datum() ..
          "; + is higher." .. set_up(ground) .. counted_from(r))
      local extremes = lower_and_higher(list, ground)
      if extremes then d:para(extremes) end
      d:gap()
      local where = places(d, r, lines, with.deep)
      d:gap()
      d:unknowns(where, (record.given(r.posts, "slide") and legs or cut_posts)(d, r, lines, with.in_inches))
    end)
  end
  return open
end

return schedule
