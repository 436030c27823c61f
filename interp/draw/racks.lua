-- SPDX-License-Identifier: MIT
-- The table of racks in the index of a set that has sheets which stand for several: on which sheet each is, and what
-- differs from rack to rack. Columns in which all racks are alike are left out.
local record = import "model.record"
local graph = import "model.graph"
local util = import "model.util"
local measure = import "write.measure"
local set_out = import "structure.set_out"
local feet = import "structure.feet"
local alike = import "draw.alike"

-- ---- of one rack ---------------------------------------------------------------------------------------------------

local function level_of(rack, name)
  local v = graph.try(rack, name)
  return v and measure.level(v) or "not known"
end

-- The least and the most of what its posts have, as a text.
local function reach(rack, name, show)
  local least, most
  for post in record.each(rack.post) do
    local v = graph.try(post, name)
    if not v then return "not known" end
    if not least or v < least then least = v end
    if not most or v > most then most = v end
  end
  if not least then return "none" end
  local from, to = show(least), show(most)
  return from == to and from or from .. " to " .. to
end

local function footings_of(rack)
  local names, seen = {}, {}
  for _, g in ipairs(feet.of_rack(rack)) do
    local name = record.inside[g.footing].name or "one"
    if not seen[name] then seen[name], names[#names + 1] = true, name end
  end
  return util.list(names)
end

-- What its posts are called, line by line.
local function posts_of(rack)
  local lines = {}
  for i, line in ipairs(set_out.lines(rack)) do
    local first, last = line.posts[1], line.posts[#line.posts]
    lines[i] = first == last and first.station or first.station .. " to " .. last.station
  end
  return table.concat(lines, ", ")
end

local function level(v) return (measure.level(v)) end

-- What may differ: { head, function(rack) -> text }; what posts are made by is told as long as the post schedule may be
-- printed, what a side elevation says always.
local numbers = {
  { "posts, west to east", posts_of, always = true },
  { "lower edge", function(rack) return level_of(rack, "edge_height") end, always = true },
  { "top edge", function(rack) return level_of(rack, "top_edge") end, always = true },
  { "ground at its posts", function(rack) return reach(rack, "ground", level) end },
  { "posts cut", function(rack) return reach(rack, "cut_length", measure.cut) end },
  { "stand in", footings_of },
}

-- Racks of which all cells are the same have one row.
local function together(racks, cells)
  local list, by = {}, {}
  for i, rack in ipairs(racks) do
    local key = table.concat(cells[i], "\0")
    if not by[key] then
      by[key] = { cells = cells[i], names = {} }
      list[#list + 1] = by[key]
    end
    table.insert(by[key].names, record.inside[rack].name)
  end
  for i, one in ipairs(list) do list[i] = table.move(one.cells, 1, #one.cells, 2, { alike.ranges(one.names) }) end
  return list
end

-- ---- the table -----------------------------------------------------------------------------------------------------

-- list: the sheets; d: the document of the index; with_numbers: whether the post schedule may be printed.
return function(d, list, with_numbers)
  local racks, columns, rows, any = record.all "rack", { { "rack", wrap = true } }, {}, false
  for i in ipairs(racks) do rows[i] = {} end
  local function put(head, cells)
    local same = true
    for i = 2, #cells do same = same and cells[i] == cells[1] end
    if same then return end
    columns[#columns + 1] = { head, wrap = true }
    for i, text in ipairs(cells) do table.insert(rows[i], text) end
  end
  for _, view in ipairs(import "draw.views") do
    local by, cells = {}, {}
    for _, one in ipairs(view.of and {} or list) do
      if one.view == view then
        any = any or one.group and one.group.views[1]
        for _, rack in ipairs(one.group and one.group.racks or { one.subject }) do by[rack] = one.label end
      end
    end
    for i, rack in ipairs(racks) do cells[i] = by[rack] end
    put(view.title:lower(), cells)
  end
  if not any then return end
  for _, one in ipairs(numbers) do
    if one.always or with_numbers then
      local cells = {}
      for i, rack in ipairs(racks) do cells[i] = one[2](rack) end
      put(one[1], cells)
    end
  end
  if #columns == 1 then return end
  d:heading "Racks: the sheets of each, and what differs"
  d:table(columns, together(racks, rows))
end
