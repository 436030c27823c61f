-- SPDX-License-Identifier: MIT
-- Where the posts of a rack are set out: its lines of posts, and their marks from one zero, the centre of the first
-- post of the front line.
local record = import "model.record"
local measure = import "write.measure"
local set_out = {}

-- The lines from the lower edge up: { name = "front", posts = { west to east }, setback, height, record }.
function set_out.lines(rack)
  local list, by = {}, {}
  for l in record.each(rack.post_line) do
    local name = record.inside[l].name
    local line = { name = l.line == "middle" and "middle " .. name or l.line, posts = {}, setback = l.setback,
        height = l.height, record = l }
    by[name], list[#list + 1] = line, line
  end
  for p in record.each(rack.post) do table.insert(by[p.letter].posts, p) end
  return list
end

local function plan_width(rack)
  return record.given(rack, "row_slope") and import("structure.slope").plan_width(rack) or rack.row_width
end

-- Along the row in plan, of one line: { at, bay } of each post, as numbered, and the modules' ends as `west` and
-- `east`.
function set_out.along(rack, line, zero)
  local from = zero.plan_offset
  local places = { -from }
  for i, p in ipairs(line.posts) do places[i + 1] = p.plan_offset - from end
  places[#places + 1] = plan_width(rack) - from
  local marks, out = measure.running(places), {}
  for i = 1, #line.posts do out[i] = marks[i + 1] end
  out.west, out.east = marks[1], marks[#places]
  return out
end

-- Across it: { at, bay } of each line, and the modules' lower edge as `edge`.
function set_out.across(lines)
  local front = lines[1].setback
  local places = { -front }
  for i, line in ipairs(lines) do places[i + 1] = line.setback - front end
  local marks, out = measure.running(places), {}
  for i = 1, #lines do out[i] = marks[i + 1] end
  out.edge = marks[1]
  return out
end

-- Whether two lines have their posts at the same places along the row.
local function alike(a, b)
  if #a.posts ~= #b.posts then return false end
  for i, p in ipairs(a.posts) do
    if not host.near(host.si(p.plan_offset), host.si(b.posts[i].plan_offset)) then return false end
  end
  return true
end

-- Lines that are alike stand in one table: { { line, ... }, ... }.
function set_out.groups(lines)
  local groups = {}
  for _, line in ipairs(lines) do
    local found
    for _, g in ipairs(groups) do found = found or alike(g[1], line) and g end
    if found then found[#found + 1] = line else groups[#groups + 1] = { line } end
  end
  return groups
end

-- What heights are counted from, in words.
function set_out.datum() return import("site.shots").zero(record.root.ground) end

return set_out
