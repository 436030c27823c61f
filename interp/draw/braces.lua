-- SPDX-License-Identifier: MIT
-- Braces in elevations and on a plan: between which posts each goes, by its two bolts.
local record = import "model.record"
local graph = import "model.graph"
local measure = import "write.measure"
local util = import "model.util"
local braces = {}

local given, si = record.given, host.si

-- Those of a rack: { brace, name, foot = post, head = post }; none where it has none.
function braces.of(rack)
  local list = {}
  if not given(rack, "braces") then return list end
  for b in record.each(rack.brace) do
    list[#list + 1] = { brace = b, name = record.inside[b].name, foot = rack.post[b.foot], head = rack.post[b.head] }
  end
  return list
end

-- Draws those of which both posts have a place, x by station in metres; gives them, each with the place of its middle
-- and its line from bolt to bolt.
function braces.draw(d, rack, x_of)
  local drawn = {}
  for _, one in ipairs(braces.of(rack)) do
    local b, foot, head = one.brace, x_of[one.foot.station], x_of[one.head.station]
    local at_foot = graph.try(b, "foot_height")
    if foot and head and at_foot then
      local x1, y1, x2, y2 = foot, si(at_foot), head, si(b.head_height)
      local long = math.sqrt((x2 - x1) ^ 2 + (y2 - y1) ^ 2)
      local c, s = (x2 - x1) / long, (y2 - y1) / long
      local past, half = (si(b.cut_length) - si(b.bolt_spacing)) / 2, si(calc.dressed { section = b.size }.depth) / 2
      d:layer "S-FRAM"
      d:pen "medium"
      local xy = {}
      for _, p in ipairs { { -past, -half }, { long + past, -half }, { long + past, half }, { -past, half } } do
        xy[#xy + 1], xy[#xy + 2] = x1 + p[1] * c - p[2] * s, y1 + p[1] * s + p[2] * c
      end
      d:polyline(xy, true)
      for _, p in ipairs { { x1, y1 }, { x2, y2 } } do d:circle(p[1], p[2], 0.15 * d:paper "text", true) end
      one.x, one.y = (x1 + x2) / 2, (y1 + y2) / 2
      one.line = { x1 = x1, y1 = y1, x2 = x2, y2 = y2, half = half / math.abs(c) }
      drawn[#drawn + 1] = one
    end
  end
  return drawn
end

function braces.says(one)
  local b = one.brace
  return "brace " .. one.name .. ": " .. b.size .. ", cut " .. measure.cut(b.cut_length) .. ", " ..
      measure.cut(b.bolt_spacing) .. " from bolt to bolt"
end

-- For the notes: those of which not both posts are in a view. on: by station, what is.
function braces.told(rack, on, list)
  local others = {}
  for _, one in ipairs(braces.of(rack)) do
    if not on[one.foot.station] or not on[one.head.station] then others[#others + 1] = one.name
    else
      local _, why = graph.try(one.brace, "foot_height")
      if why then list[#list + 1] = "Brace " .. one.name .. " is not drawn: " .. host.message(why) .. "." end
    end
  end
  if #others > 0 then
    list[#list + 1] = "Not drawn here: " .. (#others == 1 and "brace " or "braces ") .. util.list(others) ..
        "; the plan and the sheet of marks have each."
  end
end

return braces
