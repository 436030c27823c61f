#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- What a sheet says can be redone by hand is redone here: the numbers that it puts in, with units by their definitions,
-- give the result that it prints, to the last digit.  tests/by_hand.lua BINARY, from the top folder of the project.
package.path = arg[0]:gsub("[^/]*$", "") .. "?.lua"
local lanes = require "lanes"
local json = require "json"
lanes.options("tests/by_hand.lua BINARY")

-- The foot, the pound and g are exact by definition (NIST SP 811, appendix B.8).
local foot, pound = 0.3048, 0.45359237
local lbf = pound * 9.80665
local psf, mph = lbf / foot ^ 2, 1609.344 / 3600
local units = { ft = foot, lbf = lbf, psf = psf, ["psf/ft"] = psf / foot, mph = mph, ["psf/mph2"] = psf / mph ^ 2,
    m = 1, kN = 1000, kPa = 1000, ["kPa/m"] = 1000, ["m/s"] = 1, ["kg/m3"] = 1, Pa = 1 }

local passed, failed = 0, 0
local function try(what, ok, why)
  if ok then passed = passed + 1 return end
  failed = failed + 1
  print("not ok " .. what .. (why ~= nil and "\n    " .. tostring(why) or ""))
end

-- "0.6 * (108.999 lbf + 82.5 lbf)" as a number in SI.
local function worth(text)
  local unknown
  text = text:gsub("(%d[%d.e+-]*) ([%a][%w/]*)", function(number, unit)
    if not units[unit] then unknown = unit end
    return ("(%s*%.17g)"):format(number, units[unit] or 0)
  end)
  local f = load("return " .. text, text, "t", { sqrt = math.sqrt })
  return not unknown and f and f(), unknown or text
end

-- Half of the last digit that a number is printed with, in SI.
local function half_digit(text)
  local digits, unit = text:match "^([%d.]+) (%S+)$"
  return 0.5000001 * 10 ^ -#(digits:match "%.(%d+)" or "") * units[unit], tonumber(digits) * units[unit]
end

local jobs = {}
for _, path in ipairs { "examples/egg-farm/job.sline", "examples/wool-store/job.sline",
    "examples/north-pasture/job.sline", "tests/pages/jobs/hay-barn/job.sline", "tests/pages/jobs/large/job.sline",
    "tests/pages/jobs/southern/job.sline" } do
  jobs[#jobs + 1] = { path = path, folder = lanes.top,
      command = "stringline sheet " .. path .. " loads --set job.stage=permit --format json" }
end
lanes.run(jobs)
for _, job in ipairs(jobs) do
  local steps = 0
  for _, b in ipairs(json.read(job.out).blocks) do
    if b.kind == "step" then
      steps = steps + 1
      local got, text = worth(b.put)
      local near, printed = half_digit(b.result.text)
      local what = job.path .. ": " .. b.symbol .. " = " .. b.put .. " = " .. b.result.text
      try(what, got and math.abs(got - printed) <= near, tostring(got) .. " of " .. text)
      try(what .. ": the number of the sheet", math.abs(b.result.si - printed) <= near, b.result.si)
    end
  end
  -- velocity pressure, what holds a post, and three lines of its embedment, however many racks there are
  try(job.path .. ": five lines", steps == 5, steps)
end

print(("by-hand: %d passed, %d failed"):format(passed, failed))
lanes.leave(failed == 0 and passed > 0 and 0 or 1)
