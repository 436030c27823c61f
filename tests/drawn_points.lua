-- SPDX-License-Identifier: MIT
-- Coordinates of whole racks against what is declared and worked out beside them: each length is measured between two
-- points, so that nothing of how a point was found comes in.  drawn.faults() tells where they do not agree.
local record, graph = import "model.record", import "model.graph"
local drawn = { seen = { racks = 0, corners = 0, supports = 0, posts = 0, diagonals = 0 } }

local si, given = host.si, record.given
local function near(a, b) return math.abs(a - b) < 1e-8 end

local function at(p) return { si(p.east), si(p.north), si(p.up) } end
local function far(a, b, flat)
  local up = flat and 0 or a[3] - b[3]
  return math.sqrt((a[1] - b[1]) ^ 2 + (a[2] - b[2]) ^ 2 + up ^ 2)
end

local function sides(r)
  local m = r.modules
  local long, short = si(m.length), si(m.width)
  if r.orientation == "portrait" then return short, long end
  return long, short
end

-- The corners of each module, by row, column and corner; the sides and the gaps between them are measured.
local function modules(r, points, fault)
  local of, across, up = {}, sides(r)
  for _, c in ipairs(points.corners) do of[("%d %d %d"):format(c.row, c.column, c.corner)] = at(c) end
  local function corner(row, column, c) return of[row .. " " .. column .. " " .. c] end
  local wide = {}
  for k = 1, #r.rail_runs - 1 do wide[math.tointeger(r.rail_runs[k].last_column)] = true end
  for row = 1, r.rows do
    for column = 1, r.columns do
      local a, b = corner(row, column, 1), corner(row, column, 2)
      local c, d = corner(row, column, 3), corner(row, column, 4)
      local whole = near(far(a, b), across) and near(far(a, d), up)
      if not whole or not near(far(a, c), math.sqrt(across ^ 2 + up ^ 2)) or not near(far(b, d), far(a, c)) then
        fault("module " .. row .. "-" .. column .. " is no rectangle of its size")
      end
      local east, above = corner(row, column + 1, 1), corner(row + 1, column, 1)
      local gap = si(wide[column] and given(r.rails, "joint_gap") or r.column_gap)
      if east and not near(far(b, east), gap) then fault("the gap after column " .. column) end
      if above and not near(far(d, above), si(r.row_gap)) then fault("the gap above row " .. row) end
      if not near(a[3], b[3]) then fault "the lower edge is not level" end
      drawn.seen.corners = drawn.seen.corners + 4
    end
  end
  local first, last, top = corner(1, 1, 1), corner(1, r.columns, 2), corner(r.rows, 1, 4)
  if not near(far(first, last), si(r.row_width)) then fault "the row's width" end
  if not near(far(first, top), si(r.slope_length)) then fault "the slope's length" end
  if not near(first[3], si(r.edge_height)) or not near(top[3], si(r.top_edge)) then fault "heights of the edges" end
  if not near(far(first, top, true), si(r.plan_depth)) then fault "the depth in plan" end
  -- Which way they face: from the upper edge to the lower, and a row runs west to east, or else south to north.
  local A, depth = si(r.true_azimuth), far(first, top, true)
  if depth > 1e-6 and not (near((first[1] - top[1]) / depth, math.sin(A)) and
      near((first[2] - top[2]) / depth, math.cos(A))) then fault "they face another way" end
  local east = last[1] - first[1]
  if east < -1e-8 or math.abs(east) < 1e-8 and last[2] < first[2] then fault "the row runs west" end
  return first, last, top
end

-- How far a point lies from the plane of the modules, square to it; below it is above 0.
local function below(p, first, last, top)
  local u, v = {}, {}
  for i = 1, 3 do u[i], v[i] = last[i] - first[i], top[i] - first[i] end
  local n = { u[2] * v[3] - u[3] * v[2], u[3] * v[1] - u[1] * v[3], u[1] * v[2] - u[2] * v[1] }
  local size = math.sqrt(n[1] ^ 2 + n[2] ^ 2 + n[3] ^ 2)
  local off = 0
  for i = 1, 3 do off = off + (first[i] - p[i]) * n[i] / size end
  return n[3] >= 0 and off or -off
end

-- Whether a point lies on the line through two others, as far from the first as wanted.
local function along(p, a, b, wanted)
  local length, dot = far(a, b), 0
  for i = 1, 3 do dot = dot + (p[i] - a[i]) * (b[i] - a[i]) / length end
  return near(dot, wanted)
end

local function look_at(r, tell)
  local function fault(text) tell(tostring(r) .. ": " .. text) end
  local points = graph.try(r, "points_on_plan") or graph.try(r, "points")
  if not points then return end
  local first, last, top = modules(r, points, fault)
  local e, ends = si(r.end_allowance), {}
  for _, p in ipairs(points.rail_ends) do
    ends[("%d %d %d"):format(p.line, p.run, p.which)] = at(p)
    local run, up = r.rail_runs[math.tointeger(p.run)], r.rail_places.rails[math.tointeger(p.line)].up
    if not near(below(at(p), first, last, top), 0) then fault "a rail is not under the modules' frames" end
    if not along(at(p), first, last, si(p.which == 1 and run.from or run.to) - e) then fault "a rail's end" end
    if not along(at(p), first, top, si(up)) then fault "a rail lies elsewhere up the slope" end
  end
  local part = given(r.rails, "part")
  local size = not part and calc.dressed { section = r.rails.size }
  local deep = si(part and part.depth or r.rails.face == "edge" and size.depth or size.breadth)
  local over = given(r, "stack") and 0 or (si(r.rafter_length) - si(r.slope_length)) / 2
  local stands = {}
  for _, p in ipairs(points.support_ends) do
    local q = at(p)
    if not near(below(q, first, last, top), deep) then fault "a support is not under its rails" end
    if not along(q, first, top, p.which == 1 and -over or si(r.slope_length) + over) then fault "a support's end" end
    stands[math.tointeger(p.support)] = si(p.along)
    drawn.seen.supports = drawn.seen.supports + 1
  end
  local posts, by = {}, {}
  for p in record.each(r.post) do posts[#posts + 1] = p end
  local stack = si(r.stack_depth) + (given(r, "beam") and si(r.plumb_stack) * math.cos(si(r.tilt)) or 0)
  for _, p in ipairs(points.post_ends) do
    local post, q = posts[math.tointeger(p.post)], at(p)
    if p.which == 1 then
      if not near(q[3], si(post.ground)) then fault("the ground at " .. post.station) end
    else
      by[record.inside[post].name] = q
      if not near(below(q, first, last, top), stack) then
        fault("post " .. post.station .. " is not under the stack")
      end
      if not near(q[3] - si(post.ground), si(post.above_ground)) then fault("post " .. post.station .. "'s top") end
      local fraction = r.post_line[post.letter].fraction
      if not given(r, "beam") and not along(q, first, top, fraction * si(r.slope_length)) then
        fault("post " .. post.station .. " stands elsewhere under the slope")
      end
      local own, x = given(r, "rafters"), si(post.offset)
      if not along(q, first, last, x) then fault("post " .. post.station .. " stands elsewhere along the row") end
      local alike = not given(r, "lines") and not (own and given(own, "count"))
      if alike and not near(stands[math.tointeger(post.number)], x) then
        fault("no support over post " .. post.station)
      end
      drawn.seen.posts = drawn.seen.posts + 1
    end
  end
  local ok, diagonal = pcall(function() return r.diagonal end)
  if ok then
    local F, B = {}, {}
    for _, post in ipairs(posts) do
      local list = post.letter == "F" and F or post.letter == "B" and B or {}
      list[#list + 1] = by[record.inside[post].name]
    end
    if not near(far(F[1], B[#B], true), si(diagonal)) or not near(far(F[#F], B[1], true), si(diagonal)) then
      fault "its diagonals"
    end
    drawn.seen.diagonals = drawn.seen.diagonals + 1
  end
  drawn.seen.racks = drawn.seen.racks + 1
end

function drawn.faults()
  local list = {}
  for _, r in ipairs(record.all "rack") do look_at(r, function(text) list[#list + 1] = text end) end
  return list
end

return drawn
