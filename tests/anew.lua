-- SPDX-License-Identifier: MIT
-- Whole jobs declared anew, for tests/anew_test.c: each function takes a script and gives what is wrong, "" if nothing.
local boot, run, record = import "model.boot", import "model.run", import "model.record"
local judge, schema = import "model.judge", import "model.schema"
local anew, variants = import "model.anew", import "model.variants"
local anew_test = {}

-- A value to the last bit.
local function exact(v)
  if type(v) == "number" then return math.type(v) == "integer" and tostring(v) or string.format("%a", v) end
  if host.is_quantity(v) then return string.format("%a ", host.si(v)) .. host.unit(v) end
  if host.wire(v) then return host.format(v) end
  return tostring(v)
end

-- What stands in a finding or a reason, keys in their order; of errors what a page says.
local function words(x, list, name)
  if record.inside[x] then list[#list + 1] = name .. tostring(x)
  elseif type(x) == "table" and x.code and x.text then
    list[#list + 1] = name .. x.code .. " " .. x.text .. " " .. tostring(x.help) .. " " .. tostring(x.path)
  elseif type(x) == "table" then
    for k, v in host.sorted(x) do
      if k ~= "kept" and k ~= "bound" and k ~= "place" and k ~= "on_place" then words(v, list, name .. k .. "=") end
    end
  else list[#list + 1] = name .. exact(x) end
end

-- The outcomes as texts, by rule and subject.
local function told(outcomes)
  local list = {}
  for i, o in ipairs(outcomes) do
    local t = { o.rule.id, tostring(o.subject), o.outcome, tostring(o.proxy), tostring(o.reason) }
    words(o.finding or {}, t, "")
    words(o.whys or {}, t, "why ")
    words(o.waiver or {}, t, "waiver ")
    words(o.refused or {}, t, "refused ")
    words(import("model.memo").cites(o.rests or 0), t, "rests ")
    list[i] = table.concat(t, "\n  ")
  end
  return list
end

local function difference(a, b)
  if #a ~= #b then return "outcomes: " .. #a .. " and " .. #b end
  for i = 1, #a do if a[i] ~= b[i] then return a[i] .. "\n--- and\n" .. b[i] end end
end

local function by_key(outcomes)
  local by = {}
  for _, o in ipairs(outcomes) do by[variants.key(o)] = o end
  return by
end

local function report()
  local outcomes, status = import("model.memo").afresh(import("host.judging").judge, boot)
  local options = { command = "run", words = { run.declared.script }, set = {}, width = 80, format = "text" }
  local d = import("write.report").report(outcomes, status, options)
  return import("write.text")(d, options) .. import("write.json")(d, { command = "run", words = options.words,
      set = {}, format = "json" })
end

local function declare(script)
  boot.declare { script = script }
  boot.judge()
end

-- Amounts, counts and choices of the job, each a little otherwise: { path, value } ...
local function changes()
  local list = {}
  record.walk(function(path, value)
    local f = record.field_at(path)
    local other
    if not f or not f.type then return end
    if host.is_quantity(value) then
      local si = host.si(value)
      other = host.like(value, f.dim == "temperature" and si - 3 or si ~= 0 and si * 1.03 or 0.01)
    elseif math.type(value) == "integer" then other = f.max and value + 1 > f.max and value - 1 or value + 1
    elseif type(value) == "number" then other = value * 1.03
    elseif type(value) == "boolean" then other = not value
    elseif f.type == "choice" then
      for i, c in ipairs(f.choices) do if c == value then other = f.choices[i % #f.choices + 1] end end
    elseif f.type == "wire" then other = host.wire(host.format(value) == "4 AWG" and "2 AWG" or "4 AWG") end
    if other ~= nil then list[#list + 1] = { path, other } end
  end)
  return list
end

-- The report before, and after asides of all kinds.
function anew_test.untouched(script)
  declare(script)
  local before = report()
  local list = changes()
  for i = 1, #list, 9 do
    anew.judge { [list[i][1]] = list[i][2] }
    pcall(anew.moved, { [list[i][1]] = list[i][2] })
  end
  anew.judge { ["job.units"] = record.root.units == "US" and "SI" or "US" }
  anew.judge { ["job.name"] = "another" }
  anew.judge { ["job.nothing"] = 1 }
  anew.judge { [script .. ":1:1"] = 1 }
  pcall(run.aside, function() boot.declare { script = "tests/anew.lua" } end)
  return report() == before and "" or "the report is another one afterwards"
end

-- Put into the record, or declared anew: the same, and refused in the same words.  Every second input, for time.
function anew_test.both_ways(script)
  declare(script)
  local wrong = {}
  local put = 0
  for i, c in ipairs(changes()) do
    local path, change = c[1], { [c[1]] = c[2] }
    if i % 2 == 1 and not anew.shapes(path) then
      put = put + 1
      local a, why_a = variants.judge(change)
      local b, why_b = anew.judge(change)
      a = a and told(a) or { why_a.text .. tostring(why_a.help) .. tostring(why_a.line) }
      b = b and told(b) or { why_b.text .. tostring(why_b.help) .. tostring(why_b.line) }
      local d = difference(a, b)
      if d then wrong[#wrong + 1] = path .. ": " .. d end
    end
  end
  if put < 20 then wrong[#wrong + 1] = "only " .. put .. " inputs were put in" end
  return table.concat(wrong, "\n")
end

-- The egg farm, with what a declaration would refuse: put in, it is refused in the same words.
function anew_test.refused(script)
  declare(script)
  local wrong, L = {}, host.literal
  for _, c in ipairs {
    { "footing.deep.hole_depth", L "60in", L "6in" }, { "rack.east.spacing", L "80in", L "200in" },
    { "rack.east.post_lines.front", 0.3, 0.9 }, { "rack.east.stations", 3, 4 },
    { "rack.east.tilt", L "30deg", L "90deg" },
    { "rack.east.spacing", nil, L "17in" }, { "module.M430.vmp", nil, L "60V" },
    { "locate.valid_to", "2026-11-16", "2026-10-01" },
    { "run['array to shed'].wire", host.wire "4 AWG", host.wire "10 mm2" },
    { "rack.east.gap", nil, L "3ft" }, { "rack.east.aisle", nil, L "3ft" },   -- of a domain that is not loaded yet
    { "clamp['EC-30'].role", "end", "mid" }, { "run['array to shed'].overcurrent_voltage", nil, L "250V" },
  } do
    local path, good, bad = c[1], c[2], c[3]
    if anew.shapes(path) then wrong[#wrong + 1] = path .. " shapes" end
    if good ~= nil and not variants.judge { [path] = good } then wrong[#wrong + 1] = path .. " is not taken" end
    local put, why = variants.judge { [path] = bad }
    local _, same = anew.judge { [path] = bad }
    if put then wrong[#wrong + 1] = path .. " is taken"
    elseif why.code ~= "D006" and why.code ~= "D020" then wrong[#wrong + 1] = path .. ": " .. why.code .. why.text
    elseif why.text .. tostring(why.help) .. tostring(why.line) ~= same.text .. tostring(same.help) ..
        tostring(same.line) then
      wrong[#wrong + 1] = why.text .. "\n--- and\n" .. same.text
    end
    if difference(told(judge.all()), told(variants.base())) then wrong[#wrong + 1] = path .. " stays" end
  end
  for _, path in ipairs { "job.codes.electrical", "job.currency", "job.units", "job.lengths" } do
    if not anew.shapes(path) then wrong[#wrong + 1] = path .. " is put in" end
  end
  return table.concat(wrong, "\n")
end

local function wants(list, name, got, want)
  if got ~= want then list[#list + 1] = name .. ": " .. tostring(got) .. " instead of " .. tostring(want) end
end

-- The place of a text on a line of a file that the job is made from.
local function place(name, line, text)
  for path, source in host.sorted(run.scripts) do
    if path:sub(-#name) == name then return name .. ":" .. line .. ":" .. host.word(source, line, text).col end
  end
end

-- The egg farm: the limits of its county and its house, and the house's habits.
function anew_test.limits(script)
  declare(script)
  local wrong, line = {}, {}
  local n = 0
  for text in (host.read(script:gsub("job.sline$", "two-ridges.sline")) .. "\n"):gmatch "([^\n]*)\n" do
    n = n + 1
    line[text:match "^%s*([%a_]+)" or ""] = n
  end
  local base = by_key(judge.all())["R48 run['array to shed']"]
  wants(wrong, "as declared", base.outcome, "holds")
  -- from trade: no run of 90 ft keeps to a drop of 0.01 %
  for _, path in ipairs { "limits.voltage_drop", "limits.house.voltage_drop",
      place("two-ridges.sline", line.voltage_drop, "2.5%") } do
    local o = by_key(variants.judge { [path] = 0.0001 } or {})["R48 run['array to shed']"] or {}
    wants(wrong, path .. " of 0.01 %", o.outcome, "broken")
    wants(wrong, path .. " limit", o.finding and o.finding.limit, 0.0001)
    wants(wrong, path .. " value", exact(o.finding and o.finding.value), exact(base.finding.value))
    wants(wrong, path .. " cite", o.finding and o.finding.cite, base.finding.cite)
  end
  local _, why = variants.judge { ["limits.place.voltage_drop"] = 0.0001 }
  wants(wrong, "the place gives none", why and why.code, "D019")
  _, why = variants.judge { ["limits.voltage_drop"] = 2 }
  wants(wrong, "above its range", why and why.text, "limits.voltage_drop = 2: limits: item 1 of 'voltage_drop' " ..
      "must be at most 100 %, got 200 %")
  wants(wrong, "place of a limit", anew.place_of("limits.voltage_drop").line, line.voltage_drop)
  wants(wrong, "place of an input", host.place(anew.place_of "rack.east.tilt"):match "[^/]*$", "job.sline:39:10")
  -- a habit is an input as any other; by its literal it moves that alone
  local waste = place("two-ridges.sline", line.habits, "concrete_waste")
  waste = waste:match "^(.*):" .. ":" .. tonumber(waste:match "%d+$") + #"concrete_waste = "
  local moved = anew.moved { [waste] = 0.2 }
  wants(wrong, "habits that move", #moved, 1)
  wants(wrong, "the habit", moved[1] and moved[1].path .. " " .. moved[1].was .. " " .. moved[1].is,
      "habits.concrete_waste 0.1 0.2")
  -- J1 of the job: 4 ft + 7 ft above the platform; from hand: the top edge of the farm's rack is above 6 ft
  local source = run.scripts[script]
  local o = by_key(anew.judge { [place("job.sline", 94, "id"):match "^(.*):%d+:" .. ":98:" ..
      host.word(source, 98, "7ft").col] = host.literal "2ft" } or {})["J1 rack.east"] or {}
  wants(wrong, "a literal of a rule", o.outcome, "broken")
  wants(wrong, "its limit", o.finding and host.format(o.finding.limit), "6 ft")
  return table.concat(wrong, "\n")
end

-- Thirty racks by a loop.
function anew_test.thirty(script)
  declare(script)
  local wrong = {}
  local first, last = host.literal "30in", host.literal "1in"
  local moved = anew.moved { ["job.sline:55:18"] = host.literal "32in" }
  wants(wrong, "lower edges that move", #moved, 30)
  for i, m in ipairs(moved) do
    wants(wrong, "path", m.path, "rack['row " .. i .. "'].lower_edge")
    -- from hand: it falls an inch from rack to rack
    wants(wrong, m.path, host.near(host.si(m.was), host.si(first) - (i - 1) * host.si(last)), true)
    wants(wrong, m.path, host.near(host.si(m.is), host.si(first) - (i - 3) * host.si(last)), true)
  end
  local list, why = variants.judge({ ["job.sline:24:23"] = 29 }, {})
  wants(wrong, "29 racks have five blocks", why and why.code .. " " .. why.line .. " " .. why.notes[1],
      "D014 61 put in: job.sline:24:23 = 29")
  list, why = variants.judge({ ["job.sline:24:23"] = 25 }, {})
  wants(wrong, "judged with 25", list, nil)
  wants(wrong, "words", why and why.text:match "^the script declares .* no more when job.sline:24:23 is 25$" and
      why.text:find("rack['row 26']", 1, true) and true, true)
  wants(wrong, "whose place", why and why.line .. ":" .. why.col, "24:22")
  moved = anew.moved { ["job.sline:24:23"] = 25 }
  wants(wrong, "gone", #moved.gone, 17)             -- from hand: five racks, strings, runs; one inverter, one trench
  wants(wrong, "added", #moved.added, 0)
  return table.concat(wrong, "\n")
end

-- Two racks of one type, one of them with another lower edge.
function anew_test.types(script)
  declare(script)
  local wrong = {}
  local function paths(changes)
    local words = {}
    for i, m in ipairs(anew.moved(changes)) do words[i] = m.path .. " " .. host.format(m.is) end
    return table.concat(words, "; ")
  end
  wants(wrong, "tilt", paths { ["rack_type.garden.tilt"] = host.literal "25deg" },
      "rack.west.tilt 25 deg; rack['far east'].tilt 25 deg")
  wants(wrong, "lower edge", paths { ["rack_type.garden.lower_edge"] = host.literal "30in" },
      "rack.west.lower_edge 2 ft 6 in")
  local changed = { ["rack_type.garden.tilt"] = host.literal "25deg" }
  local values = {}
  for _, m in ipairs(anew.moved(changed)) do values[m.path] = m.is end
  local d = difference(told(variants.judge(values)), told(variants.judge(changed)))
  if d then wrong[#wrong + 1] = d end
  return table.concat(wrong, "\n")
end

assert(schema.kinds.rack)
return anew_test
