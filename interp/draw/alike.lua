-- SPDX-License-Identifier: MIT
-- Racks that a view shows alike: one page stands for all of them, "typical of 30: racks A1 to A30".  Which these are is
-- found in what is drawn, item by item, and never declared: only a rack's own name, and that of its string, may differ.
local record = import "model.record"
local util = import "model.util"
local page = import "draw.page"
local alike = {}

-- ---- names ---------------------------------------------------------------------------------------------------------

-- More letters of names than that have no room in a title: they stand in a note.
local LONG = 120

-- Neighbours by number as a range: { "A1", "A2", "A3", "B7" } -> "A1 to A3 and B7".
function alike.ranges(names)
  local list, i = {}, 1
  while names[i] do
    local stem, number = names[i]:match "^(.-)(%d+)$"
    local last = i
    if stem and #number < 10 then
      local form = "%0" .. #number .. "d"
      while names[last + 1] == stem .. form:format(tonumber(number) + last + 1 - i) do last = last + 1 end
    end
    if last < i + 2 then last = i end
    list[#list + 1] = last > i and names[i] .. " to " .. names[last] or names[i]
    i = last + 1
  end
  return util.list(list)
end

local function names_of(racks)
  local names = {}
  for i, rack in ipairs(racks) do names[i] = record.inside[rack].name end
  return alike.ranges(names)
end

-- "racks A1 to A30"
function alike.racks(racks) return "racks " .. names_of(racks) end

-- Which racks a sheet is of: "typical of 30: racks A1 to A30", or where it is withheld their names alone.
function alike.title(group)
  return (group.views[1] and "typical of " .. #group.racks .. ": " or "") .. alike.racks(group.racks)
end

-- The same for its strip; and a note that names them, where there is no room for that.
function alike.subject(group)
  local text = alike.title(group)
  if #text <= LONG then return text end
  return (group.views[1] and "typical of " or "") .. #group.racks .. " racks",
      "It is of " .. alike.racks(group.racks) .. "."
end

-- ---- found ---------------------------------------------------------------------------------------------------------

-- What views are asked with: that a page may stand for several racks, or for which it does.
function alike.on(on, racks) return setmetatable({ alike = racks or true }, { __index = on }) end

-- A view as it stands on a page for several; of racks on ground of other levels without what is each rack's own.
function alike.view(make, rack, on, at_any_height)
  if at_any_height then return import("draw.own").view(make, rack, on) end
  return make(rack, on)
end

-- Such a view, drawn at the smallest scale at which it can be read; or why not.
local function drawn(make, rack, on, at_any_height)
  local view, why = page.or_why(alike.view, make, rack, on, at_any_height)
  if not view then return nil, nil, why end
  local d = host.drawing(view.rough)
  local _, not_drawn = page.or_why(function()
    view.draw(d)
    return true
  end)
  return view, d, not_drawn
end

-- What has to be the same besides the drawing.
local function key_of(view, why, apart)
  local list = { tostring(apart), why or "" }
  if view then
    list[#list + 1] = view.seen or ""
    table.move(view.notes, 1, #view.notes, #list + 1, list)
  end
  return table.concat(list, "\0")
end

local function grouped(make, racks, on, apart, at_any_height)
  local list, by = {}, {}
  for _, rack in ipairs(racks) do
    local view, d, why = drawn(make, rack, on, at_any_height)
    local key, group = key_of(view, why, apart[rack]), nil
    by[key] = by[key] or {}
    for _, g in ipairs(by[key]) do group = group or (not d or g.d:same(d, at_any_height)) and g or nil end
    if not group then
      group = { racks = {}, views = {}, d = d, at_any_height = at_any_height }
      list[#list + 1] = group
      table.insert(by[key], group)
    end
    table.insert(group.racks, rack)
    table.insert(group.views, view or false)
  end
  for _, g in ipairs(list) do g.d = nil end
  return list
end

-- The racks of a view in groups, in the order of their first: { { racks = { rack ... }, views = { view ... },
-- at_any_height = whether they differ in levels and in what posts are called } ... }.
-- apart: by rack, those that were found to differ at the scale of their page, with a number.
function alike.groups(row, racks, on, apart)
  if #racks == 1 then return { { racks = racks, views = {} } } end
  local make = import(row.module)
  on = alike.on(on)
  local list = grouped(make, racks, on, apart, false)
  -- Levels are worth a sheet more, and not as many again.
  if #list < 4 then return list end
  local fewer = grouped(make, racks, on, apart, true)
  return 2 * #fewer <= #list and fewer or list
end

-- Those of a group whose views are not to the last line as its pages show them.
function alike.others(group, pages)
  local list = {}
  for i = 2, #group.racks do
    local same = true
    for _, p in ipairs(pages) do
      same = same and (not p.view or page.or_why(function()
        local d = page.again(p, group.views[i])
        return d and p.view:same(d, group.at_any_height)
      end))
    end
    if not same then list[#list + 1] = group.racks[i] end
  end
  return list
end

return alike
