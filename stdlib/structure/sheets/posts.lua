-- SPDX-License-Identifier: MIT
-- Post schedule: hole, height and cut of each post.
local record = import "model.record"
local run = import "model.run"
local document = import "write.document"
local words = import "write.words"
local measure = import "write.measure"

local digging = import "site.digging"
local feet = import "structure.feet"

local cell, value = document.of, document.value
local function by_truck() return #record.all "truck" > 0 end

-- Ground levels that nobody measured give posts of the wrong length.
local function waits()
  local ground = record.only "ground"
  if not ground then return "the ground at the posts is not declared" end
  for _, f in ipairs { "elevation", "rod" } do
    local told = run.told["ground." .. f]
    if record.given(ground, f) ~= nil and not (f == "rod" and record.given(ground, "set_up") and not told) then
      if not told then return "the ground is not given as measured: write measured({ ... }, \"water level\") " ..
          "around ground." .. f end
      if told.how ~= "measured" then return "the ground is given as " .. told.how:gsub("_", " ") ..
          ", not as measured" end
    end
  end
end

local function posts_of(rack)
  local list = {}
  for p in record.each(rack.post) do list[#list + 1] = p end
  return list
end

-- The cut once more in inches; a metric job has one way to say it.
local function in_inches(columns)
  if measure.two_columns() then columns[#columns + 1] = { "in inches", key = "cut in inches", right = true } end
end

-- What each hole takes: bags, or what comes off the truck.
local function poured() return by_truck() and "concrete_ordered" or "bags" end

-- What is left to do at holes that are dug already.
local function as_dug(d)
  if #record.all "dug" == 0 then return end
  d:gap()
  import("holes.as_dug").put(d)
end

-- The posts of a rack: what is bought, and of a pipe or a pole what it is.
local function described(rack)
  local list, said = feet.unlike(rack), {}
  for i = 1, list.n do
    local pole = feet.pole(rack, list[i])
    said[i] = (list[i] and "in the " .. list[i] .. " line " or "") .. feet.item(rack, list[i]) ..
        (pole and import("structure.screws_and_blocks").pole_words(pole, words.show) or "")
  end
  return table.concat(said, "; ")
end

-- What so many posts stand in, in words; of others than the rack's own, which they are.
local function stands(g, which)
  local f, said = g.footing, nil
  if feet.kind(f) == "hole" then
    said = "holes " .. measure.up(f.hole_diameter) .. " wide and " .. measure.up(f.hole_depth) .. " deep " ..
        (host.si(f.gravel) > 0 and "with " .. words.show(f.gravel) .. " of gravel, then " or "without gravel, ") ..
        f.fill
  else said = import("structure.screws_and_blocks").stands(f, measure, words.show) end
  if not which then return said end
  local list, at = {}, import("posts.named").at(record.parent(g.posts[1]), g.posts[1])
  for i, p in ipairs(g.posts) do list[i] = p.station end
  local why = at and record.given(at, "why")
  return table.concat(list, " ") .. ": " .. said .. (why and " (" .. why .. ")" or "")
end

-- How deep the hole, or what goes into the ground in its place.
local function deep(post)
  local f = feet.footing(post)
  if feet.kind(f) == "hole" then return cell(f, "hole_depth", measure.up) end
  local depth = feet.depth(f)
  return depth and value(depth, measure.up) or "on a block"
end

local function short(d)
  for _, r in ipairs(record.all "rack") do
    local parts = {}
    for i, g in ipairs(feet.of_rack(r)) do parts[i] = stands(g, g.footing ~= r.posts.footing) end
    d:para(words.title(r) .. ": " .. #r.post .. " posts " .. described(r) .. ", " .. table.concat(parts, "; "))
    local columns = { "post", { "ground", right = true }, { "hole", right = true }, { "cut", right = true } }
    in_inches(columns)
    columns[#columns + 1] = { "above", right = true }
    columns[#columns + 1] = { "below", right = true }
    columns[#columns + 1] = { by_truck() and "concrete" or "bags", right = true }
    local rows = {}
    for _, x in ipairs(posts_of(r)) do
      local row = { x.station, cell(x, "ground", measure.level), deep(x), cell(x, "cut_length", measure.cut) }
      if measure.two_columns() then row[#row + 1] = cell(x, "cut_length", measure.under_inches) end
      row[#row + 1] = cell(x, "above_ground", measure.inches)
      row[#row + 1] = cell(x, "embedment", measure.inches)
      row[#row + 1] = cell(x, poured())
      rows[#rows + 1] = row
    end
    d:table(columns, rows)
    d:unknowns(rows)
  end
  as_dug(d)
end

-- The schedule itself is long, and a report has none of it.
local function whole(d)
  local open = import("structure.schedule").put(d, { in_inches = in_inches, described = described,
      stands = stands, deep = deep })
  as_dug(d)
  if open then
    d:gap()
    d:warning(digging.covers)
  end
end

return { name = "posts", title = "Posts and holes", order = 10, build = true, crew = true, kinds = { "rack", "post" },
    changes = "holes.changes", waits = waits, short = short, whole = whole }
