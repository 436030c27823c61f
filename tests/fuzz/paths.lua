-- SPDX-License-Identifier: MIT
-- What stands behind explain, --set, --on and --vary, put into a job that is declared once.  (script) gives the paths
-- of the job, and function(text): "explain PATH", "set PATH=VALUE", "on DAY", "vary PATH=VALUES".  Laws:
--   a path that is read is written so that it is read again as the same
--   what is found by a path is found again by the path in full, and a document about it is written
--   a value that is put in is there, and as a page prints it, it is put in again as the same
--   a step of an axis is written so that --set takes it
--   afterwards the job is as it was: the same inputs, the same verdict
local boot = import "model.boot"
local run = import "model.run"
local record = import "model.record"
local path_of = import "model.path"
local inputs = import "model.inputs"
local words = import "write.words"
local judging = import "host.judging"

local function law(holds, what) if not holds then error("LAW: " .. what, 0) end end

local function same(a, b)
  if host.is_quantity(a) and host.is_quantity(b) then return host.si(a) == host.si(b) end
  return a == b or a ~= a and b ~= b
end

-- 41.20 N of a position is a force elsewhere.
local function alike(a, b)
  return host.is_quantity(a) and host.is_quantity(b) and host.unit(a) == host.unit(b)
end

-- A page prints four digits, or to a sixteenth of an inch.
local function near(a, b)
  if not host.is_quantity(a) then return type(a) ~= "number" and same(a, b) or math.abs(a - b) <= 6e-4 * math.abs(a) end
  local x, y = host.si(a), host.si(b)
  return math.abs(x - y) <= 6e-4 * math.abs(x) + (host.is(a, "length") and 0.0254 / 32 or 1e-9)
end

-- As it reads: whatever quotes, the keys come again.
local function reads_again(path)
  local parts = path_of.parse(path)
  if not parts then return end
  local text = path_of.join(parts)
  local again = path_of.parse(text)
  law(again and #again == #parts, "the path " .. path .. " is written " .. text)
  for i, key in ipairs(parts) do law(again[i] == key, "the path " .. path .. " is written " .. text) end
end

local function plain(value)
  return type(value) == "number" or type(value) == "string" or type(value) == "boolean" or host.is_quantity(value)
end

-- All inputs in words, in their order, and the verdict.
local function state_of_job()
  local list = {}
  for _, input in ipairs(inputs.all()) do
    list[#list + 1] = input.path .. "=" .. (plain(input.value) and host.format(input.value, nil, 17) or "")
  end
  for _, o in ipairs(boot.judge()) do
    list[#list + 1] = o.rule.id .. " " .. words.subject(o) .. " " .. o.outcome
  end
  return table.concat(list, "\n")
end

local try = {}

function try.explain(_, what)
  reads_again(what)
  local d = import("write.explain").explain(boot, what)
  law(#import "write.text"(d, { width = 80, format = "text", words = {} }) > 0, "nothing is explained")
  local parts = path_of.parse(what)
  if not parts or import("model.rule").find(what) then return end
  local ok, value, full = pcall(record.input, what)
  if not ok or not full then return end
  local again, same_full = record.input(full)
  law(same_full == full and same(value, again), "the path " .. what .. " in full is " .. full .. ", which is another")
end

-- Declares the job with this put in, and looks at it.
local function aside(script, options, plan, look)
  run.aside(function()
    judging.declare({ script = script, on = options.on }, plan)
    if look then look() end
  end)
end

function try.set(script, text)
  local p = boot.setting(text)
  local printed, at
  aside(script, {}, { p }, function()
    if not p.path then return end
    reads_again(p.path)
    local value, full = record.input(p.path)
    if full and plain(value) and not path_of.is_limit(full) then
      law(not alike(p.value, value) or same(p.value, value), text .. " is put in, and is " .. host.format(value))
      printed, at = words.as_written(value, words.input_unit(full, value)), full
    end
  end)
  if not printed or printed == "" or host.unsafe(printed) or type(p.value) == "string" then return end
  local q = boot.setting(at .. "=" .. printed)
  aside(script, {}, { q }, function()
    local now = record.input(at)
    law(not alike(p.value, now) or near(p.value, now),
        text .. " prints as " .. printed .. ", and put in is " .. tostring(now))
  end)
end

function try.on(script, text) aside(script, { on = text }, {}) end

function try.vary(script, text)
  local axes = import("sweep.axes").of { vary = { text } }
  local space = import("sweep.space").new(axes, {})
  for _, n in ipairs { 0, 1, space.total - 1 } do
    local sets = n < space.total and space.words(n) or {}
    for _, axis in ipairs(axes) do
      if n < space.total then law(#axis.text(space.steps(n)[1]) > 0, "a step of " .. text .. " has no words") end
    end
    local plan = {}
    for i, s in ipairs(sets) do plan[i] = boot.setting(s) end
    if n < space.total and #plan > 0 then aside(script, {}, plan) end
  end
end

-- Paths that the job has: of inputs, of records and of their results.
local function known()
  local list = {}
  for _, input in ipairs(inputs.all()) do list[#list + 1] = input.path end
  for _, r in ipairs(run.records) do
    local rec = record.inside[r]
    list[#list + 1] = rec.path
    for name in host.sorted(import("model.schema").results(rec.def)) do
      if type(name) == "string" then list[#list + 1] = path_of.step(rec.path, name) end
    end
  end
  return list
end

return function(script)
  judging.declare({ script = script }, {})
  local before = state_of_job()
  return function(text)
    local word, rest = text:match "^(%a+) (.*)$"
    if not try[word] then word, rest = "explain", text end
    local ok, err = pcall(try[word], script, rest)
    if #text % 16 == 0 then law(state_of_job() == before, "the job is another after " .. text) end
    if not ok then error(err, 0) end
  end, known()
end
