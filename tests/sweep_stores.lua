-- SPDX-License-Identifier: MIT
-- What tests of stores share.  The sweeps are made up here: two axes of 3 and 4 steps, whose results are known by hand
-- from the number of a variant.  All that is expected follows from that.
local store, merge = import "sweep.store", import "sweep.merge"
import "model.boot"

local folder = os.tmpname()
os.remove(folder)
make_folder(folder)
set_mode(folder, 511)                                                  -- 0777: for whoever has fewer rights

local tests = {}
local function test(name, f)
  tests[#tests + 1] = { name = name, run = function()
    local ok, why = pcall(f)
    os.execute("rm -rf '" .. folder .. "'")
    if not ok then error(why, 0) end
  end }
end
local function at(name) return folder .. "/" .. name end

-- ---- helpers -------------------------------------------------------------------------------------------------------

local function same(got, want, what)
  if got ~= want then
    error(("%s: got %s, wanted %s"):format(what or "value", tostring(got), tostring(want)), 2)
  end
end

-- The error of f: its code, and all its words.
local function fails(code, f, ...)
  local ok, why = pcall(f, ...)
  if ok then error("no error, where " .. code .. " is wanted", 2) end
  if type(why) ~= "table" then error("a plain error: " .. tostring(why), 2) end
  local words = why.text .. " | " .. table.concat(why.notes or {}, " | ") .. " | " .. (why.help or "")
  if why.code ~= code then error("got " .. tostring(why.code) .. ": " .. words, 2) end
  return words
end
local function has(text, part)
  if not text:find(part, 1, true) then error("'" .. part .. "' is not in: " .. text, 2) end
end

local function bytes(path)
  local f = io.open(path, "rb")
  if not f then return nil end
  local text = f:read "a"
  f:close()
  return text
end
local function write(path, text)
  local f <close> = assert(io.open(path, "wb"))
  f:write(text)
end
local function listing()
  local f <close> = io.popen("ls '" .. folder .. "'")
  return (f:read "a":gsub("\n$", ""):gsub("\n", " "))
end

local tilt = { name = "rack.east.tilt", size = 3, unit = "deg", place = nil,
    text = function(i) return ({ [0] = "35deg", "25deg", "45deg" })[i] end,
    si = function(i) return math.rad(({ [0] = 35, 25, 45 })[i]) end }
local wire = { name = "run.west.wire", size = 4,
    text = function(i) return ({ [0] = "6 AWG", "8 AWG", "4 AWG", "2 AWG" })[i] end, si = function() end }

local function grid(axes)
  local total = 1
  for _, a in ipairs(axes) do total = total * a.size end
  return { axes = axes, total = total, sampled = false }
end
local function goals_of(names, goal)
  local kept = {}
  for i, name in ipairs(names) do
    kept[i] = { name = name, unit = "USD", number = true, says = "what " .. name .. " says" }
  end
  return { kept = kept, goals = goal and { { name = names[1], i = 1, most = goal == "most" } } or {} }
end
local SPACE, GOALS = grid { tilt, wire }, goals_of({ "job.total", "rack.east.top" }, "least")
local function meta_of(o, space, goals) return store.meta(o or {}, space or SPACE, goals or GOALS) end

-- The row of a variant, by hand: cents that no float holds, a broken rule for every third, nothing kept of a crash.
local function put(s, number, status, ...)
  if status then return s.db:run(s:insert_sql(), number, status, nil, nil, 0, ...) end
  local broken = number % 3 == 2
  s.db:run(s:insert_sql(), number, broken and "broken" or "holds", broken and "R12 R41" or nil, nil, number % 2, nil,
      1000.01 + number, number / 7)
end
local function fill(path, numbers, o)
  local s <close> = store.open(path, meta_of(o))
  for _, n in ipairs(numbers) do put(s, n) end
end
local function dump(path)
  local s <close> = store.read(path)
  local lines = {}
  for n, status, broken, unknown, cautions, why, total, top in s:rows() do
    lines[#lines + 1] = ("%d %s %s %s %s %s %a %a"):format(n, status, broken or "-", unknown or "-", cautions or "-",
        why or "-", total or 0, top or 0)
  end
  return table.concat(lines, "\n"), #lines
end
local function merged(all, ...)
  local status, d = merge { store = at(all), words = { ... } }
  same(status, 0, "status")
  local facts = {}
  for _, f in ipairs(d.facts) do facts[f[1]] = f[2] end
  for _, b in ipairs(d.blocks) do if b.kind == "table" then facts.rows = b.rows end end
  return facts
end
local function range(a, b, step)
  local list = {}
  for n = a, b, step or 1 do list[#list + 1] = n end
  return list
end

-- 2000 rows fill some thirty pages of 4096 bytes.
local function fill_many(path)
  local long = { name = "x", size = 1000, text = tostring, si = tonumber }
  local s <close> = store.open(path, meta_of({}, grid { tilt, long }))
  store.transaction(s.db, function() for n = 0, 1999 do put(s, n) end end)
end

return { test = test, at = at, same = same, fails = fails, has = has, bytes = bytes, write = write, listing = listing,
    grid = grid, goals_of = goals_of, meta_of = meta_of, put = put, fill = fill, dump = dump, merged = merged,
    range = range, fill_many = fill_many, tilt = tilt, wire = wire, SPACE = SPACE, GOALS = GOALS, folder = folder,
    tests = tests }
