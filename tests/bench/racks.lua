#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- A job of so many racks, declared in a loop as in tests/pages/jobs/large: what it costs must grow as they do.
-- From the top of the project.
--
--   tests/bench/racks.lua N FOLDER [broken]           writes FOLDER/job.sline and its files
--   local write = loadfile "tests/bench/racks.lua"()  write(N, FOLDER [, "broken"])
--
-- Five racks a block, each with an inverter and a trench of its own.  Broken: the holes are too shallow for the wind.
local from = "tests/pages/jobs/large/"
local files = { "clamps.csv", "modules.csv", "orchard-county.sline", "ostler-crew.sline", "river-yard.csv" }

local function read(path)
  local f = assert(io.open(path, "rb"))
  local text = f:read "a"
  f:close()
  return text
end

local function write(path, text)
  local f = assert(io.open(path, "wb"))
  f:write(text)
  f:close()
end

-- The ground falls for twenty racks and begins again, so that no edge comes to lie in it.
local function job(n, broken)
  local text = read(from .. "job.sline")
  local function put(old, new)
    local count
    text, count = text:gsub((old:gsub("%p", "%%%0")), (new:gsub("%%", "%%%%")))
    assert(count > 0, "no '" .. old .. "' in " .. from .. "job.sline")
  end
  local function spare(count) return math.ceil(count * 1.05 - 1e-9) end
  put("RACKS, BLOCK = 30, 5", "RACKS, BLOCK = " .. n .. ", 5")
  put("RACKS // BLOCK", "(RACKS + BLOCK - 1) // BLOCK")
  put("1in * (i - 1)", "1in * ((i - 1) % 20)")
  put('{ 240, "M430" }, { 378, "MC-28-40" }, { 252, "EC-30" }', ('{ %d, "M430" }, { %d, "MC-28-40" }, { %d, "EC-30" }')
      :format(8 * n, spare(12 * n), spare(8 * n)))
  put('truck "monday"    { volume = 20yd3', 'for i = 1, (RACKS + 9) // 10 do truck("load " .. i) { volume = 20yd3')
  put('vendor = "Ferry Concrete" }\ntruck "tuesday" ', 'vendor = "Ferry Concrete" } end --')
  put('truck "wednesday" ', "--")
  if broken then put("hole_depth = 90in", "hole_depth = 60in") end
  return text
end

local function make(n, folder, broken)
  for _, name in ipairs(files) do write(folder .. "/" .. name, read(from .. name)) end
  write(folder .. "/job.sline", job(n, broken))
end

if ... == nil or not tonumber((...)) then return make end
local n, folder, broken = ...
make(assert(math.tointeger(tonumber(n))), folder, broken == "broken")
