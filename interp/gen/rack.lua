-- SPDX-License-Identifier: MIT
-- The picture of a rack in docs/rack.md, with the measures of the first example: writes SVG to standard output.
--   lua5.4 interp/gen/rack.lua > docs/rack.svg
-- From the side, a detail of the stack, and from above.  Lengths in mm; the saddle and what is thin are drawn thicker.
local out = { '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 880 1040" ' ..
              'font-family="sans-serif" font-size="14">' }
local function put(format, ...) out[#out + 1] = format:format(...) end
put '<title>A rack: its parts and measures by the names that a script gives them</title>'
put '<rect width="880" height="1040" fill="#ffffff"/>'

local INK, LINE, WOOD, GLASS, EARTH, CONCRETE = "#1a1a1a", "#1b4f8f", "#e3c79c", "#9fb8d4", "#d8cdbd", "#c9c9c9"

-- ---- the rack ------------------------------------------------------------------------------------------------------

local TILT, SLOPE, LOWER, STACK = math.rad(35), 2 * 1722 + 20, 24 * 25.4, 11 * 25.4
local FRAME, RAIL, RAFTER, SADDLE, POST = 30, 89, 184, 6.35, 140
local HOLE, WIDE, GRAVEL = 66 * 25.4, 18 * 25.4, 6 * 25.4
local ROW, ALLOWANCE, SPACING, PAIRS = 4 * 1134 + 3 * 20, 1.25 * 25.4, 72.5 * 25.4, 3
local AT = { front = 0.2, back = 0.8 }
local cos, sin = math.cos(TILT), math.sin(TILT)
-- Behind the lower edge, in plan, and above the ground: of a point so far up the slope and so far below the plane.
local function place(up, below) return up * cos + below * sin, LOWER + up * sin - below * cos end

-- ---- what is drawn -------------------------------------------------------------------------------------------------

local function polygon(points, fill)
  local list = {}
  for i, p in ipairs(points) do list[i] = ("%.1f,%.1f"):format(p[1], p[2]) end
  put('<polygon points="%s" fill="%s" stroke="%s" stroke-width="1"/>', table.concat(list, " "), fill, INK)
end
local function line(x1, y1, x2, y2, more)
  put('<line x1="%.1f" y1="%.1f" x2="%.1f" y2="%.1f" stroke="%s"%s/>', x1, y1, x2, y2, LINE, more or "")
end
local function text(x, y, words, anchor)
  put('<text x="%.1f" y="%.1f" fill="%s"%s>%s</text>', x, y, INK,
      anchor and ' text-anchor="' .. anchor .. '"' or "", words)
end
-- A name, and a line from it to what it names.
local function name(x, y, words, to_x, to_y, anchor)
  text(x, y, words, anchor)
  local from = anchor == "end" and x + 5 or anchor == "middle" and x or x - 5
  line(from, anchor == "middle" and y + 5 or y - 5, to_x, to_y)
  put('<circle cx="%.1f" cy="%.1f" r="2.5" fill="%s"/>', to_x, to_y, LINE)
end
-- A measure between two points, with its name beside the middle.
local function measure(x1, y1, x2, y2, words, dx, dy, anchor)
  line(x1, y1, x2, y2)
  local length = math.sqrt((x2 - x1) ^ 2 + (y2 - y1) ^ 2)
  local ux, uy = (x2 - x1) / length * 5, (y2 - y1) / length * 5
  line(x1 - uy, y1 + ux, x1 + uy, y1 - ux)
  line(x2 - uy, y2 + ux, x2 + uy, y2 - ux)
  text((x1 + x2) / 2 + dx, (y1 + y2) / 2 + dy, words, anchor)
end

-- What stands upright on both sides of a line, its head cut to a slope.
local function post(to, middle, half, top, bottom, fill, slope)
  local more, corners = half * math.tan(slope or 0), {}
  for i, c in ipairs { { -half, top - more }, { half, top + more }, { half, bottom }, { -half, bottom } } do
    corners[i] = { to(middle + c[1], c[2]) }
  end
  polygon(corners, fill)
end

-- The members between two distances up the slope, at a scale, from an origin.
local function members(to, from, till, rails)
  local function slab(up1, up2, top, bottom, fill)
    local corners = {}
    for i, c in ipairs { { up1, top }, { up2, top }, { up2, bottom }, { up1, bottom } } do
      corners[i] = { to(place(c[1], c[2])) }
    end
    polygon(corners, fill)
  end
  for _, up in ipairs(rails) do slab(up - 19, up + 19, 0, RAIL, WOOD) end
  slab(from, till, RAIL, RAIL + RAFTER, WOOD)
  slab(from, till, -FRAME, 0, GLASS)
  return slab
end

-- ---- from the side -------------------------------------------------------------------------------------------------

local X, Y, S = 390, 450, 0.105
local function to(x, y) return X + x * S, Y - y * S end
text(20, 28, "From the side, along the row")
polygon({ { 250, Y }, { 860, Y }, { 860, Y + HOLE * S + 25 }, { 250, Y + HOLE * S + 25 } }, EARTH)
for _, side in ipairs { "front", "back" } do
  local back, height = place(AT[side] * SLOPE, STACK)
  post(to, back, WIDE / 2, 0, -HOLE, CONCRETE)
  post(to, back, WIDE / 2, -HOLE + GRAVEL, -HOLE, "#f4f1ea")
  post(to, back, POST / 2, height, -HOLE + GRAVEL, WOOD, TILT)
end
members(to, 0, SLOPE, { 0.06 * SLOPE, 0.44 * SLOPE, 0.56 * SLOPE, 0.94 * SLOPE })

local low_x, low_y = to(0, LOWER)
local ground_x, ground_y = to(0, 0)
measure(low_x - 12, ground_y, low_x - 12, low_y, "lower edge", -8, 5, "end")
line(low_x, low_y, low_x + 90, low_y, ' stroke-dasharray="4 3"')
put('<path d="M %.1f %.1f A 70 70 0 0 0 %.1f %.1f" fill="none" stroke="%s"/>', low_x + 70, low_y,
    low_x + 70 * cos, low_y - 70 * sin, LINE)
text(low_x + 40, low_y - 6, "tilt")
text(ground_x - 12, ground_y + 18, "ground (datum)", "end")
local top_x, top_y = to(place(SLOPE, -FRAME))
local a_x, a_y = to(place(0, -170))
local b_x, b_y = to(place(SLOPE, -170))
measure(a_x, a_y, b_x, b_y, "slope length", -12, -6, "end")
local module_x, module_y = to(place(0.75 * SLOPE, -FRAME / 2))
name(module_x - 20, 130, "modules", module_x, module_y, "end")
name(top_x + 40, top_y - 10, "upper edge", top_x, top_y)

local front_x, front_y = to(place(AT.front * SLOPE, STACK))
local back_x, back_y = to(place(AT.back * SLOPE, STACK))
name(back_x + 60, back_y + 60, "back post", back_x + 3, back_y + 70)
name(front_x + 50, front_y + 38, "front post", front_x + 3, front_y + 44)
local bottom = Y + (HOLE - GRAVEL) * S
measure(back_x + 40, Y, back_x + 40, bottom, "embedment", 8, 5)
measure(front_x + 40, Y, front_x + 40, Y + HOLE * S, "hole depth", 8, 5)
measure(back_x - 40, back_y, back_x - 40, bottom, "cut length", -8, -78, "end")
name(front_x - 50, Y + HOLE * S - 6, "gravel", front_x - 12, Y + (HOLE - GRAVEL / 2) * S, "end")
name(front_x - 50, Y + 70, "footing", front_x - 15, Y + 65, "end")

-- ---- the stack, larger ---------------------------------------------------------------------------------------------

local up = AT.front * SLOPE
local at_x, at_y = place(up, STACK)
local function close(x, y) return 165 + (x - at_x) * 0.42, 290 - (y - at_y) * 0.42 end
put '<rect x="14" y="44" width="330" height="300" fill="none" stroke="#777777"/>'
text(22, 64, "A front post's head, four times as large")
post(close, at_x, POST / 2, at_y - SADDLE, at_y - 125, WOOD, TILT)
local slab = members(close, up - 190, up + 190, { up + 60 })
slab(up - POST / 2 / cos, up + POST / 2 / cos, STACK - SADDLE, STACK + SADDLE, "#555555")
local m1x, m1y = close(place(up - 120, 0))
local m2x, m2y = close(place(up - 120, STACK))
measure(m1x, m1y, m2x, m2y, "stack", -40, -8, "end")
local px, py = close(place(up + 130, -FRAME / 2))
name(250, 92, "module", px, py)
px, py = close(place(up + 60, RAIL / 2))
name(270, 178, "rail", px, py)
px, py = close(place(up + 130, RAIL + RAFTER / 2))
name(270, 214, "rafter", px, py)
px, py = close(place(up + 60, STACK))
name(270, 262, "saddle", px, py)
px, py = close(at_x + 40, at_y - 90)
name(270, 318, "post", px, py)

-- ---- from above ----------------------------------------------------------------------------------------------------

local PX, PY, P = 150, 1000, 0.105
text(20, 680, "From above: the lower edge is in front")
local function plan(x, y) return PX + x * P, PY - y * P end
local depth = SLOPE * cos
local x1, y1 = plan(0, depth)
local x2, y2 = plan(ROW, 0)
polygon({ { x1, y1 }, { x2, y1 }, { x2, y2 }, { x1, y2 } }, "#e6edf5")
for _, part in ipairs { 0.06, 0.44, 0.56, 0.94 } do            -- the allowance is drawn six times as long
  local rx1, ry = plan(-6 * ALLOWANCE, part * depth)
  local rx2 = plan(ROW + 6 * ALLOWANCE, 0)
  put('<line x1="%.1f" y1="%.1f" x2="%.1f" y2="%.1f" stroke="#a9793a" stroke-width="4"/>', rx1, ry, rx2, ry)
end
local first = (ROW - (PAIRS - 1) * SPACING) / 2
local places = {}
for _, side in ipairs { "front", "back" } do
  local back = place(AT[side] * SLOPE, STACK)
  local lx1, ly = plan(first - 420, back)
  local lx2 = plan(first + (PAIRS - 1) * SPACING + 420, back)
  line(lx1, ly, lx2, ly, ' stroke-dasharray="8 4"')
  for i = 1, PAIRS do
    local x, y = plan(first + (i - 1) * SPACING, back)
    put('<rect x="%.1f" y="%.1f" width="15" height="15" fill="%s" stroke="%s"/>', x - 7.5, y - 7.5, WOOD, INK)
    text(x + 12, y - 8, (side == "front" and "F" or "B") .. i)
    places[side .. i] = { x, y }
  end
  name(x2 + 50, ly + 5, side .. " post line", lx2, ly)
end
local rail_x, rail_y = plan(ROW + 3 * ALLOWANCE, 0.44 * depth)
name(x2 + 50, rail_y + 5, "end allowance", rail_x, rail_y)
rail_x, rail_y = plan(-3 * ALLOWANCE, 0.94 * depth)
name(100, rail_y + 5, "rails", rail_x, rail_y, "end")
local f1, f2, b1 = places.front1, places.front2, places.back1
measure(f1[1], f1[2] + 22, f2[1], f2[2] + 22, "pair spacing", 0, 16, "middle")
name(100, (f1[2] + b1[2]) / 2, "stations", f1[1] - 8, f1[2] - 5, "end")
line(105, (f1[2] + b1[2]) / 2 - 5, b1[1] - 8, b1[2] + 5)
measure(x1, PY + 14, x2, PY + 14, "row", 0, 16, "middle")

out[#out + 1] = "</svg>\n"
io.write(table.concat(out, "\n"))
