-- SPDX-License-Identifier: MIT
-- What tests/margins.lua asks, in the host's Lua.
--
-- input: { along = name } moves the planted function of that name; { script, alternate, set, inputs = { path ... },
-- rules, most } moves a job's inputs; { script, priced = { path ... } } asks whether the total rests on them; { script,
-- skip = n } moves each nth input with and without what its notes leave out.
local input = ...
import "model.boot"
local margins = import "model.margins"

-- ---- planted functions ----------------------------------------------------------------------------------------------

-- Each: the search's start, ends and first step, and flips(x) = names of what flips there, or nil where x is refused.
local PLANTED = {
  smooth = { start = 10, low = 0, high = 100, first = 0.01, flips = function(x) return { root = x * x > 200 } end },
  steps = { start = 10, low = -50, high = 100, first = 0.01,
    flips = function(x) return { near = x > 12, far = x > 12.5, below = x < -3, both = x > 90 or x < 9 } end },
  wide = { start = 10, low = 0, high = 100, first = 0.01,
    flips = function(x) return { w = x > 10.4 and x < 10.6 } end },
  narrow = { start = 10, low = 0, high = 100, first = 0.01,
    flips = function(x) return { w = x > 15 and x < 15.0001 } end },
  refused = { start = 10, low = 0, high = 100, first = 0.01,
    flips = function(x) if x <= 20 then return { just = x > 19.9, beyond = x > 20.1 } end end },
  ends = { start = 10, low = 10, high = 11, first = 0.01, flips = function(x) return { never = x > 11 or x < 10 } end },
  zero = { start = 0, low = -30, high = 30, first = 1e-4,
    flips = function(x) return { up = x > 2e-5, down = x < -7 } end },
  one = { start = 10, low = 0, high = 100, first = 0.01, flips = function(x) return { a = x > 33 } end },
  three = { start = 10, low = 0, high = 100, first = 0.01,
    flips = function(x) return { a = x > 33, b = x > 33, c = x > 33 } end },
  at_once = { start = 10, low = 0, high = 100, first = 0.01, flips = function(x) return { s = x ~= 10 } end },
}

local function along(p)
  local asked, least, most = 0, p.start, p.start
  local got = margins.along { start = p.start, low = p.low, high = p.high, first = p.first, at = function(x, wanted)
    asked = asked + 1
    least, most = math.min(least, x), math.max(most, x)
    local flips = p.flips(x)
    if not flips then return nil, "too far" end
    local out = {}
    for key, yes in next, flips do if yes and (not wanted or wanted[key]) then out[key] = "flipped" end end
    return out
  end }
  return { down = got.down, up = got.up, asked = asked, least = least, most = most }
end

if input.along then return along(PLANTED[input.along]) end

if input.through then
  return margins.through({ "a", "b", "c", "d", "e", "f" }, 3, function(entry)
    if entry == "f" then return nil, "not made" end
    return { vowel = (entry == "a" or entry == "e") and "flipped" or nil, far = entry == "a" and "flipped" or nil }
  end)
end

-- ---- jobs -----------------------------------------------------------------------------------------------------------

local inputs = import "model.inputs"
local set = {}
for i, text in ipairs(input.set or {}) do set[i] = import("model.boot").setting(text) end
local boot = import("host.judging").declare({ script = input.script, alternate = input.alternate }, set)
local outcomes = boot.judge()

local function plain(result)
  local list = {}
  for _, m in ipairs(result.moves) do
    for _, side in ipairs { "down", "up" } do
      for _, f in ipairs(m[side] and m[side].flips or {}) do
        local v = f.value
        list[#list + 1] = { path = m.input.path, side = side, rule = f.rule.id, subject = f.subject,
            becomes = f.becomes, si = margins.si_of(v), percent = f.percent, stated = f.stated }
      end
    end
    for _, e in ipairs(m.entries or {}) do
      for key, o in host.sorted(e.flipped) do
        list[#list + 1] = { path = m.input.path, side = "entry " .. e.at, rule = key, becomes = o.outcome }
      end
    end
  end
  return list
end

local function as_text(list)
  local lines = {}
  for i, f in ipairs(list) do
    lines[i] = ("%s %s %s %s %a"):format(f.path, f.side, f.rule .. " " .. tostring(f.subject), f.becomes, f.si or 0)
  end
  return table.concat(lines, "\n")
end

if input.priced then
  local list = {}
  for i, path in ipairs(input.priced) do
    list[i] = import("model.variants").rests(import("model.record").root, "total", path)
  end
  return { priced = list }
end

local list = inputs.all()
if input.skip then
  local unlike, unread, tried = {}, 0, 0
  for i, x in ipairs(list) do
    local keys = margins.reached(x)
    if keys and (i % input.skip == 0 or next(keys) == nil) then
      tried = tried + 1
      if next(keys) == nil then unread = unread + 1 end
      local with = as_text(plain(margins.of(outcomes, { inputs = { x } })))
      local without = as_text(plain(margins.of(outcomes, { inputs = { x }, whole = true })))
      if with ~= without then unlike[#unlike + 1] = x.path .. "\n" .. with .. "\nand without skipping\n" .. without end
    end
  end
  return { unlike = unlike, unread = unread, tried = tried }
end

local chosen
for i, path in ipairs(input.inputs or {}) do
  chosen = chosen or {}
  chosen[i] = inputs.find(path, list)
end
local result = margins.of(outcomes, { inputs = chosen, rules = input.rules, most = input.most })
local out = { flips = plain(result), left = {}, unused = {}, unread = {}, ends = {}, work = result.work }
for i, x in ipairs(result.left) do out.left[i] = x.path end
for i, x in ipairs(result.unused) do out.unused[i] = x.path end
for i, x in ipairs(result.unread) do out.unread[i] = x.path end
for _, m in ipairs(result.moves) do
  if m.kind == "amount" then
    out.ends[m.input.path] = { down = margins.si_of(m.down.edge), up = margins.si_of(m.up.edge) }
  end
end
return out
