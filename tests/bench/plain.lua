#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- A few formulas of the egg farm in plain Lua, as one would write them of an evening: how many variants a second.
--
--   tests/bench/plain.lua                                  the rate, over a grid of four axes
--   tests/bench/plain.lua COLDEST WIND DIAMETER WIRE       one variant: degC, mph, in, AWG (see tests/plain.lua)
local LEAVES_OUT = [[
plain Lua leaves out: all rules, the other five posts, the other cases of wind, other tilts and racks, the tables, cut
  lists, prices and the order, units, checks, messages, sources, and what is unknown]]

local sqrt, exp, floor, pi, sin, rad = math.sqrt, math.exp, math.floor, math.pi, math.sin, math.rad

-- Feet, pounds of force, degrees C; numbers of the job, and of the pages that its sheets name.
local resistance = { [10] = 1.24, [8] = 0.778, [6] = 0.491, [4] = 0.308, [3] = 0.245 }     -- ohm/kft, stranded copper
local slope, width = 2 * 1.722 / 0.3048 + 0.020 / 0.3048, 72.5 / 12        -- of the modules; that a middle post carries
local tilt, front, back = rad(35), 0.20, 0.80
local windward, leeward = -2.5 + 2 / 3 * 0.1, -0.5 - 2 / 3 * 0.1           -- case B between 30 and 37.5 degrees
local above_ground = 77.32 / 12                                            -- the post's top, as its sheet has it

local function variant(coldest, wind, diameter, wire)
  local cold = 4 * 39.2 * (1 - 0.0025 * (coldest - 25))
  local drop = 2 * 0.104 * resistance[wire] * 2 * 13.11 / (4 * 32.8)

  local q = 0.00256 * 2.01 * (15 / 900) ^ (2 / 9.5) * exp(-0.0000362 * 1080) * wind ^ 2
  local half = q * 0.85 * 0.85 * slope / 2 * width
  local side = -half * (windward * (0.75 - front) + leeward * (0.25 - front)) / (back - front) * sin(tilt) * 0.6

  local b, depth, last = diameter / 12, 4, 0
  while math.abs(depth - last) > 1e-9 do
    local a = 2.34 * side / (2 * 150 * math.min(depth / 3, 12) * b)
    last, depth = depth, (depth + a / 2 * (1 + sqrt(1 + 4.36 * above_ground / a))) / 2
  end

  local concrete = (pi / 4 * b * b - (5.5 / 12) ^ 2) * (66 - 6) / 12
  local bags = -floor(-(concrete * 1.1 / 0.6 - 1e-9))
  return cold, drop, q, side, depth, bags
end

if arg[4] then
  print(("%.9g %.9g %.9g %.9g %.9g %d"):format(variant(tonumber(arg[1]), tonumber(arg[2]), tonumber(arg[3]),
      math.tointeger(tonumber(arg[4])))))
  os.exit(0)
end

local wires, n, sum, before = { 10, 8, 6, 4, 3 }, 0, 0, os.clock()
repeat
  for coldest = -30, -12, 2 do
    for wind = 85, 112, 3 do
      for diameter = 12, 21 do
        for _, wire in ipairs(wires) do
          local cold, drop, q, side, depth, bags = variant(coldest, wind, diameter, wire)
          sum, n = sum + cold + drop + q + side + depth + bags, n + 1
        end
      end
    end
  end
until os.clock() - before > 1
assert(sum > 0)
print(LEAVES_OUT)
print(("%-34s %9.0f a second"):format("six formulas in plain Lua", n / (os.clock() - before)))
