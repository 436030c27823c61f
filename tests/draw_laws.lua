-- SPDX-License-Identifier: MIT
-- What single views have to show, each worked out beside the program: whether a page (tests/draw_page.lua) shows it,
-- and what it shows.  tests/draw_faults.lua plants a fault for each.
local page = require "draw_page"
local laws = {}

-- Eight modules on four rails: 4 times 3 clamps between modules and 4 times 2 at the ends.
function laws.clamps(p)
  local open, full = 0, 0
  for _, c in ipairs(p.circles) do
    if c.layer == "E-MODL" then if c.filled then full = full + 1 else open = open + 1 end end
  end
  return open == 12 and full == 8, open .. " and " .. full
end

function laws.modules(p)
  local n = 0
  for _, t in ipairs(p.texts) do if t.text:match "^%d%-%d$" then n = n + 1 end end
  return n == 8, n .. ""
end

-- The brace of the deep frost, bolt to bolt: its foot 8 in above the ground at B4, which is 2.5 in below the zero, its
-- head 6 in below the top of F4 at 64.33 in, lines 46.64 in apart (worked by hand, invented job): 52.83 up, 46.64
-- across, so 70.47 in.
function laws.brace(p)
  local bolts = {}
  for _, c in ipairs(p.circles) do if c.layer == "S-FRAM" and c.filled then bolts[#bolts + 1] = c end end
  local a, b = bolts[1], bolts[2]
  local apart = #bolts == 2 and math.sqrt((a.x - b.x) ^ 2 + (a.y - b.y) ^ 2) * p.ratio / 25.4
  return apart and math.abs(apart - 70.47) < 0.02, tostring(apart)
end

-- 90 less the latitude less 23.44 degrees (tests/outside/sun.case); rows that are turned by 30 from the sun see its
-- light fall at atan(tan 18.88 / cos 30) = 21.55.  The light comes from the side to which the modules face: of rows
-- that face south from the left, seen from the east.
function laws.light(p, want, side, rays)
  local list, way = page.light(p)
  local ok = #list == rays and way == side
  for _, angle in ipairs(list) do ok = ok and math.abs(angle - want) < 0.02 end
  return ok, #list .. " rays to the " .. tostring(way) .. ", " .. table.concat(list, " ")
end

-- Posts 145 in apart along the row and 67 in across it: the root of the sum of the squares is 159.73 in, which is
-- 159-3/4 on a tape, and stands along both diagonals, each 24.80 degrees from the row.
function laws.diagonals(p)
  local n = 0
  for _, t in ipairs(p.texts) do
    if t.text == "159-3/4 in" and math.abs(math.abs(math.deg(t.turn)) - 24.80) < 0.02 then n = n + 1 end
  end
  return n == 2, n .. ""
end

-- Cover 18 in, tape 12 in above the conduit; its inside by Chapter 9 Table 4, PVC 40: 1.029 in of trade size 1, 1.36 in
-- of 1-1/4, 1.59 in of 1-1/2.
function laws.trench(p, cover, tape, wide, count)
  local conduits, depth = page.trench(p)
  local ok = #conduits == count and depth ~= nil and math.abs(depth - tape) < 0.1
  local said = #conduits .. " conduits, tape " .. tostring(depth)
  for _, c in ipairs(conduits) do
    ok = ok and math.abs(c.top - cover) < 0.1 and math.abs(c.wide - wide) < 0.1
    said = said .. ", " .. c.top .. " down, " .. c.wide .. " wide"
  end
  return ok, said
end

-- Dug 8 in wide, 4 in of sand below the conduit and 3 in above it: the bottom lies 18 + 1.029 + 4 in deep, the sand
-- begins 15 in down. In metric 300 mm, 50 mm all round: 600 + 1.029 in + 50, and 550. Without a width its bottom alone
-- is there, without bedding its width.
function laws.dug(p, wide, bottom, edge)
  local a, b, c = page.trench_dug(p)
  local ok = a and (not wide or math.abs(a - wide) < 0.1) and (bottom == nil) == (b == nil) and
      math.abs((b or 0) - (bottom or 0)) < 0.1 and math.abs(c - edge) < 0.1
  return ok, ("%s wide, %s deep, bedding from %s"):format(a, b, c)
end

-- Blocks of the stone fold, 2.6 m square to the row and 800 mm along it, 309 mm before the middle of the front post: on
-- a plan of a rack that faces north the front is above. From the side the same 2.6 m are seen.
local function blocks(p, wide, tall)
  local list = {}
  for _, one in ipairs(p.polygons) do
    if one.layer == "S-FNDN" and one.pen == 0.35 and #one.xy == 8 then
      local xs, ys = { one.xy[1], one.xy[3], one.xy[5], one.xy[7] }, { one.xy[2], one.xy[4], one.xy[6], one.xy[8] }
      table.sort(xs)
      table.sort(ys)
      if math.abs((xs[4] - xs[1]) * p.ratio - wide) < 0.5 and math.abs((ys[4] - ys[1]) * p.ratio - tall) < 0.5 then
        list[#list + 1] = { left = xs[1], right = xs[4], top = ys[1], bottom = ys[4] }
      end
    end
  end
  return list
end

function laws.blocks_on_plan(p)
  local list, ahead = blocks(p, 800, 2600), 0
  for _, c in ipairs(p.circles) do
    for _, b in ipairs(list) do
      if c.layer == "S-POST" and math.abs((c.y - b.top) * p.ratio - 309) < 0.5 then ahead = ahead + 1 end
    end
  end
  return #list == 2 and ahead == 4, #list .. " blocks, " .. ahead
end

function laws.block_from_side(p) return #blocks(p, 2600, 500) == 1 end

-- However the ground lies, each post ends where its block does: both sides of both posts on the block's top.
function laws.stands_on_block(p)
  local block, on = blocks(p, 2600, 500)[1], 0
  for _, l in ipairs(p.lines) do
    local low = math.max(l.y1, l.y2)
    local a_side = l.layer == "S-POST" and l.x1 == l.x2 and l.pen == 0.5
    if block and a_side and math.abs(low - block.top) * p.ratio < 0.5 then on = on + 1 end
  end
  return on == 4, on .. " sides of posts end on the block"
end

return laws
