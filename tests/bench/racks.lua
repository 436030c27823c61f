#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- A job of so many racks, declared in a loop as in tests/pages/jobs/large: what it costs must grow as they do.
-- From the top of the project.
--
--   tests/bench/racks.lua N FOLDER [broken | like]    writes FOLDER/job.sline and its files
--   local write = loadfile "tests/bench/racks.lua"()  write(N, FOLDER [, "broken" or "like"])
--
-- Five racks a block, each with an inverter and a trench of its own.  Broken: the holes are too shallow for the wind.
-- Like: all racks, strings and runs are like a type, and say what they do not share.
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
local function job(n, how)
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
  if how == "broken" then put("hole_depth = 90in", "hole_depth = 60in") end
  if how == "like" then
    -- The types stand in front of the loop, with the lines that all have in common.
    local types = {}
    local function share(kind, head, lines)
      local shared = {}
      for i, line in ipairs(lines) do
        put(line, "")
        shared[i] = "  " .. line
      end
      types[#types + 1] = kind .. '_type "row" {\n' .. table.concat(shared, "\n") .. "\n}\n"
      put(head, head .. ' like = "row", ')
    end
    share("rack", "rack(name) {", {
      'modules = "M430",  rows = 2,  columns = 4,  orientation = "portrait",',
      "column_gap = 20mm,  row_gap = 20mm,  end_allowance = 1.25in,",
      'mid_clamp = "MC-28-40",  end_clamp = "EC-30",',
      'tilt = 30deg,  azimuth = 180deg,  north = "true",',
      'rails = { size = "2x6", face = "edge", lines = 4 },  rafter = "2x8",  saddle = 0.25in,',
      "post_lines = { front = 20%, back = 80% },  stations = 2,  spacing = 100in," })
    share("run", "run(name) {", {
      'wire = "10 AWG",  insulation = "THWN-2",  conductor = "copper",',
      'conduit = { kind = "PVC 40", size = "3/4 in", bends = { 90deg, 90deg } },' })
    put("for i = 1, RACKS do\n  local name", table.concat(types) .. "for i = 1, RACKS do\n  local name")
  end
  return text
end

local function make(n, folder, how)
  for _, name in ipairs(files) do write(folder .. "/" .. name, read(from .. name)) end
  write(folder .. "/job.sline", job(n, how))
end

if ... == nil or not tonumber((...)) then return make end
local n, folder, how = ...
make(assert(math.tointeger(tonumber(n))), folder, how)
