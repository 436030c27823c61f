-- SPDX-License-Identifier: MIT
-- Whole jobs: every path that a report and its JSON print is taken by explain, and every input by --set with the value
-- as the page prints it.  Run inside the program (tests/paths_test.c): each function gives what is wrong.
local boot = import "model.boot"
local run = import "model.run"
local record = import "model.record"
local inputs = import "model.inputs"
local words = import "write.words"
local judging = import "host.judging"
local reader = import "write.json_reader"
local paths = {}

-- Texts under these keys are paths, but for files, which have a hash beside them.
local KEYS = { path = true, input = true }

local function collect(x, list, seen)
  if type(x) ~= "table" then return end
  for k, v in host.sorted(x) do
    if KEYS[k] and type(v) == "string" and x.sha256 == nil and not seen[v] then
      seen[v], list[#list + 1] = true, v
    end
    collect(v, list, seen)
  end
end

local function options(script)
  return { script = script, words = { script }, set = {}, files = {}, limit = 5 }
end

-- Limits are told with whose they are, which is no path: limits.height of place plateau-county.
local function of_limit(path) return path:find "^limits.* of " ~= nil end

-- At least so many paths, or the test looks at nothing.
local least = 100

function paths.explained(script)
  local o = options(script)
  judging.declare(o, {})
  local outcomes, status = judging.judge(boot)
  local d = import("write.report").report(outcomes, status, o)
  local list, wrong = {}, {}
  collect(reader.read(import("write.json")(d, o)), list, {})
  import("model.noting").start()
  local explain = import "write.explain"
  local tried = 0
  for _, path in ipairs(list) do
    if not of_limit(path) then
      tried = tried + 1
      local ok, err = pcall(explain.explain, boot, path)
      if not ok then wrong[#wrong + 1] = path .. ": " .. (type(err) == "table" and err.text or tostring(err)) end
    end
  end
  if tried < least then wrong[#wrong + 1] = "only " .. tried .. " paths" end
  return table.concat(wrong, "\n")
end

-- Printed with four digits, or to a sixteenth of an inch.
local function near(a, b)
  if host.is_quantity(a) then
    local x, y = host.si(a), host.si(b)
    return math.abs(x - y) <= 6e-4 * math.abs(x) + (host.is(a, "length") and 0.0254 / 32 or 1e-9)
  end
  if type(a) == "number" then return math.abs(a - b) <= 6e-4 * math.abs(a) + 1e-12 end
  return host.format(a) == host.format(b)
end

-- What --set wants beside the page's words: a position says its side, a record its name.
local function printed(input)
  local value, f = input.value, input.field
  local d = record.inside[value]
  if d and d.v and not d.group then
    local rest = f.rest and record.given(input.owner, f.rest)                  -- into = "shed.A"
    return d.name .. (rest and "." .. rest or "")
  end
  if f.type == "position" then return words.position(value, f.axis) end
  return words.as_written(value, words.input_unit(input.path, value))
end

-- The value at a path of the job as it is declared now.
local function value_at(path)
  local proxy, rest = record.locate(path)
  local x = proxy
  for i, key in ipairs(rest) do x = i == 1 and record.given(x, key) or i > 1 and x[key] end
  return x
end

function paths.put_in(script)
  boot.declare { script = script }
  local list, wrong, tried = inputs.all(), {}, 0
  local texts = {}
  for i, input in ipairs(list) do
    local def = input.owner and record.inside[input.owner].def
    if not input.limit and def and not def.partial and not def.paper and input.field.type ~= "func" then
      local d = record.inside[input.value]
      texts[#texts + 1] = { input = input, set = input.path .. "=" .. printed(input), name = d and d.v and d.name }
    end
  end
  for _, t in ipairs(texts) do
    tried = tried + 1
    local ok, why = pcall(run.aside, function()
      boot.declare { script = script, plan = { boot.setting(t.set) } }
      local now = value_at(t.input.path)
      if t.name then return record.inside[now].name == t.name or "another record" end
      return near(t.input.value, now) or "it is " .. host.format(now)
    end)
    if not ok then wrong[#wrong + 1] = t.set .. ": " .. (type(why) == "table" and why.text or tostring(why))
    elseif why ~= true then wrong[#wrong + 1] = t.set .. ": " .. tostring(why) end
  end
  if tried < least // 2 then wrong[#wrong + 1] = "only " .. tried .. " inputs" end
  return table.concat(wrong, "\n")
end

return paths
