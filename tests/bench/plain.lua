#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- A few formulas of the egg farm in plain Lua, as one would write them of an evening: how many variants a second.
--
--   tests/bench/plain.lua                                  the rate, over a grid of four axes
--   tests/bench/plain.lua COLDEST WIND DIAMETER WIRE       one variant: degC, mph, in, AWG (see tests/plain.lua)
local LEAVES_OUT = [[
plain Lua leaves out: all rules, the other five posts, lift and thrust, what members bear, how they bend, wind along the
  row, snow, other tilts and racks, the tables, cut lists, prices and the order, units, checks, messages, sources, and
  what is unknown]]

local sqrt, exp, floor, abs, max = math.sqrt, math.exp, math.floor, math.abs, math.max
local pi, sin, cos, rad = math.pi, math.sin, math.cos, math.rad

-- Feet, pounds of force, degrees C; numbers of the job, and of the pages that its sheets name.
local resistance = { [10] = 1.24, [8] = 0.778, [6] = 0.491, [4] = 0.308, [3] = 0.245 }     -- ohm/kft, stranded copper
local slope, row, spacing = (2 * 1.722 + 0.020) / 0.3048, (4 * 1.134 + 3 * 0.020) / 0.3048, 72.5 / 12
local tilt, stack, edge, below_ground = rad(35), 11 / 12, 24 / 12, 60 / 12
-- The free roof's coefficients at 30 and 37.5 deg, both halves of the slope: high and low edge, A and B, both flows.
local halves = { { -1.8, -1.8, -1.8, -1.8 }, { -2.5, -0.5, -2.4, -0.6 }, { -1.5, -1.8, -1.5, -1.8 },
                 { -2.3, -1.1, -2.2, -1.1 }, { 2.1, 2.1, 2.1, 2.2 }, { 2.6, 1.0, 2.7, 1.1 }, { 0.6, -1.0, 0.7, -0.9 },
                 { 1.6, 0.1, 1.9, 0.3 } }

local function top(at, ground) return edge + at * slope * sin(tilt) - stack * cos(tilt) - ground end

local function variant(coldest, wind, diameter, wire)
  local cold = 4 * 39.2 * (1 - 0.0025 * (coldest - 25))
  local drop = 2 * 0.104 * resistance[wire] * 2 * 13.11 / (4 * 32.8)

  local q = 0.00256 * 2.01 * (15 / 900) ^ (2 / 9.5) * exp(-0.0000362 * 1080) * wind ^ 2
  local most = 0
  for _, cn in ipairs(halves) do
    local mean = (cn[1] + cn[2] + 2 / 3 * (cn[3] + cn[4] - cn[1] - cn[2])) / 2
    most = max(most, q * 0.85 * 0.85 * abs(mean))
  end
  local over = (row - 2 * spacing) / 2
  local width = 1.25 * spacing - 1.5 * over ^ 2 / spacing                  -- the middle one of three, rails run through
  local all = 0.6 * max(most, 16) * slope * width * sin(tilt)              -- 16 psf at least, on what stands upright
  local front, back = top(0.20, -0.5 / 12), top(0.80, 0.25 / 12)
  local turn = 0.68 * below_ground
  local fixed = 1 / (1 + (back / front) ^ 3)                               -- the front line alone leaves it nothing
  local side = all * max(fixed, 1 / (1 + ((back + turn) / (front + turn)) ^ 2))

  local b, depth, last = diameter / 12, 4, 0
  while abs(depth - last) > 1e-9 do
    local a = 2.34 * side / (2 * 150 * math.min(depth / 3, 12) * b)
    last, depth = depth, (depth + a / 2 * (1 + sqrt(1 + 4.36 * back / a))) / 2
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
