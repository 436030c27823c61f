#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- `stringline test`: whole jobs with changes against the same changes on the command line of a run of its own, house
-- files without a job against outcomes worked by hand, and that a fault in a rule is noticed.
-- tests/expect.lua BINARY, from the top folder of the project. What a wrong expectation is told stands in
-- tests/errors/expect.txt.
package.path = arg[0]:gsub("[^/]*$", "") .. "?.lua"
local lanes = require "lanes"
local json = require "json"
local tap = require "tap"
lanes.options("tests/expect.lua BINARY")

local passed, failed = 0, 0
local function try(what, good, why)
  if good then
    passed = passed + 1
    return
  end
  failed = failed + 1
  print("not ok " .. what .. (why and "\n    " .. tostring(why):gsub("\n", "\n    ") or ""))
end

local place = lanes.folder .. "/place"
lanes.make_folders { place }

local function run(folder, commands)
  local jobs = {}
  for i, command in ipairs(commands) do jobs[i] = { command = command, folder = folder } end
  lanes.run(jobs)
  return jobs
end

-- ---- whole jobs: the same outcomes as a run of its own -------------------------------------------------------------

-- A change is a path, and what is written there; or "on", a day; "alternate", a name. There are amounts that are put
-- into records, and what shapes the declarations: parts, references, types, limits.
local JOBS = {
  { "examples/egg-farm", {}, { { "rack.east.lower_edge", "10in" } }, { { "rack.east.tilt", "40deg" } },
    { { "trench.main.cover", "12in" }, { "job.crew", "1" } }, { { "run['array to shed'].wire", '"8 AWG"' } },
    { { "limits.voltage_drop", "1%" } }, { { "site.coldest", "-40degC" }, { "strings.series", "5" } },
    { { "on", "2027-05-01" } }, { { "alternate", "six in series" } },
    { { "alternate", "six in series" }, { "site.coldest", "10degC" } }, { { "job.stage", '"quote"' } },
    { { "nearest.lot_line", "12ft" } }, { { "footing.deep.hole_depth", "40in" } } },
  { "examples/wool-store", {}, { { "rack_type.store.lower_edge", "300mm" } }, { { "site.wind", "60m/s" } },
    { { "trench['to the store'].cover", "200mm" } }, { { "limits.mower_clearance", "900mm" } } },
  { "tests/golden/jobs/two-racks", {}, { { "rack_type.garden.tilt", "35deg" } },
    { { "rack['far east'].lower_edge", "20in" } }, { { "strings.A.series", "7" } },
    { { "rack.west.posts.size", '"4x4"' } } },
  { "tests/pages/jobs/hay-barn", {}, { { "alternate", "heavier wire" } }, { { "footing.pier.hole_diameter", "14in" } },
    { { "strings.west.into", '"barn.B"' } } },
  { "tests/pages/jobs/southern", {}, { { "rack.paddock.lower_edge", "200mm" } }, { { "job.crew", "1" } },
    { { "site.snow_depth", "900mm" } } },
  { "tests/pages/jobs/large", {}, { { "job.crew", "1" } } },
}

local WORST = { broken = 4, unknown = 3, holds = 2, ["not applicable"] = 1 }
local LISTS = { broken = "broken", unknown = "unknown", holds = "holds", ["not applicable"] = "not_applicable" }
local OTHER = { broken = "holds", unknown = "broken", holds = "unknown", ["not applicable"] = "holds" }

-- What stands behind `stringline check job.sline`, and the fields of the expectation.
local function written(changes)
  local options, with, more = {}, {}, {}
  for _, c in ipairs(changes) do
    if c[1] == "on" or c[1] == "alternate" then
      options[#options + 1] = "--" .. c[1] .. " " .. lanes.quoted(c[2])
      more[#more + 1] = ("%s = %q"):format(c[1], c[2])
    else
      options[#options + 1] = "--set " .. lanes.quoted(c[1] .. "=" .. c[2])
      local open, close = "", ""
      for dot, key in c[1]:gmatch "([.%[]?)'?([^.%['%]]+)'?%]?" do
        open, close = open .. (dot == "[" and ("[%q]"):format(key) or key) .. " = { ", close .. " }"
      end
      with[#with + 1] = open:sub(1, -5) .. "= " .. c[2] .. close:sub(3)
    end
  end
  return table.concat(options, " "), table.concat(more, ", "), with
end

-- One expectation for each change: two changes of one kind would overwrite each other, so that none has them.
local function expectation(more, with, outcomes)
  local lists = {}
  for i, o in ipairs(outcomes) do
    local name = LISTS[o[2]]
    lists[name] = lists[name] or {}
    table.insert(lists[name], ("%q"):format(o[1]))
  end
  local out = { 'expect { job = "job.sline"' }
  if more ~= "" then out[#out + 1] = more end
  if #with > 0 then out[#out + 1] = "with = { " .. table.concat(with, ",\n") .. " }" end
  for _, name in ipairs { "holds", "broken", "unknown", "not_applicable" } do
    if lists[name] then out[#out + 1] = name .. " = { " .. table.concat(lists[name], ",\n") .. " }" end
  end
  return table.concat(out, ",\n  ") .. " }\n"
end

-- { "R41" or "R41 strings.west", outcome } of a report: of each rule the worst, and of each on each subject.
local function outcomes_of(document)
  local worst, order, list = {}, {}, {}
  for _, r in ipairs(document.rules) do
    if not worst[r.id] then order[#order + 1] = r.id end
    if not worst[r.id] or WORST[r.outcome] > WORST[worst[r.id]] then worst[r.id] = r.outcome end
    if r.subject ~= "" then list[#list + 1] = { r.id .. " " .. r.subject, r.outcome } end
  end
  for _, id in ipairs(order) do list[#list + 1] = { id, worst[id] } end
  return list
end

local flips = 0
for at, j in ipairs(JOBS) do
  local folder = place .. "/" .. at
  lanes.copy({ j[1] }, folder)
  local commands = {}
  for i = 2, #j do commands[i - 1] = "stringline run job.sline --format json " .. written(j[i]) end
  local right, wrong, seen = {}, {}, {}
  for i, ran in ipairs(run(folder, commands)) do
    local good, document = pcall(json.read, ran.out)
    if not good then try(j[1] .. ": " .. commands[i], false, ran.out .. ran.err)
    else
      local _, more, with = written(j[i + 1])
      local outcomes = outcomes_of(document)
      right[#right + 1] = expectation(more, with, outcomes)
      local o = outcomes[1 + (at * 37 + i * 11) % #outcomes]        -- one of them otherwise, each time another
      local told = o[2]
      o[2] = OTHER[o[2]]
      wrong[#wrong + 1] = expectation(more, with, outcomes)
      seen[told] = true
      flips = flips + 1
    end
  end
  lanes.write(folder .. "/right.sline", table.concat(right))
  lanes.write(folder .. "/wrong.sline", table.concat(wrong))
  local ran = run(folder, { "stringline test right.sline", "stringline test wrong.sline --format json",
      "stringline test right.sline" })
  try(j[1] .. ": as a run of its own has it", ran[1].status == 0 and
      ran[1].out == ("right.sline: %d of %d expectation%s met.\n"):format(#right, #right, #right == 1 and "" or "s"),
      ran[1].out .. ran[1].err)
  try(j[1] .. ": the same each time", ran[1].out == ran[3].out)
  local good, document = pcall(json.read, ran[2].out)
  try(j[1] .. ": one outcome otherwise is noticed in each", good and ran[2].status == 1 and document.met == 0,
      ran[2].out:sub(1, 2000) .. ran[2].err)
end
try("changes are tried", flips > 30, flips)

-- ---- a house without a job -----------------------------------------------------------------------------------------

local HOUSE = [[
limits { mower_clearance = { 18in, cite = "ours" } }
habits { spares = 10%, saw_kerf = 1/8in }
rule { id = "H1",  severity = "stop",  each = "strings",  may_waive = "house",
  says    = "no string within 2 % of a voltage limit",  cite = "house rule",  caution = "a colder dawn",
  check   = function(s) return at_most(s.coldest_voltage, 0.98 * s.voltage_limit) end }
rule { id = "H2",  severity = "caution",  each = "rack",  may_waive = "house",
  applies = function(rack, job) return job.crew < 3 end,
  says    = "two people reach the top clamps",  cite = "house rule",  caution = "a clamp out of reach",
  check   = function(rack) return at_most(rack.top_edge, 4ft + 7ft) end }
rule { id = "H3",  severity = "note",  each = "rack",  says = "clear of weeds",  cite = "ours",  caution = "shade",
  check   = function(rack)
    local least = given(rack, "lower_edge") or 10in
    return every { at_least(least, limit "mower_clearance"), at_most(rack.tilt, 60deg) }
  end }
rule { id = "H4",  severity = "note",  says = "surge",  cite = "ours",  caution = "dark",
  check   = function(job)
    local most
    for shed in each(job.charge_controller) do most = shed.max_output_current end
    return at_most(most, 80A)
  end }
rule { id = "H5",  severity = "note",  each = "run",  says = "modules",  cite = "ours",  caution = "none",
  check   = function(run) return at_most(#run.carries * run.carries[1].on.modules.power, 900W) end }
]]

-- Worked by hand: 0.98 x 600 V is 588 V; 4 ft + 7 ft is 11 ft; 18 in is the limit of the file; two
-- strings of one 450 W module each are 900 W.
local CASES = {
  { '"H1", with = { coldest_voltage = 588V, voltage_limit = 600V }', "holds" },
  { '"H1", with = { coldest_voltage = 588.1V, voltage_limit = 600V }', "broken" },
  { '"H1", with = { voltage_limit = 600V }', "unknown" },
  { '"H1", with = { coldest_voltage = 588V }', "unknown" },
  { '"H2", with = { top_edge = 11ft, job = { crew = 2 } }', "holds" },
  { '"H2", with = { top_edge = 11ft1/8in, job = { crew = 2 } }', "broken" },
  { '"H2", with = { top_edge = 14ft, job = { crew = 3 } }', "not applicable" },
  { '"H2", with = { top_edge = 11ft }', "unknown" },
  { '"H3", with = { lower_edge = 20in, tilt = 60deg }', "holds" },
  { '"H3", with = { lower_edge = 17.9in, tilt = 60deg }', "broken" },
  { '"H3", with = { tilt = 60deg }', "broken" },
  { '"H3", with = { lower_edge = 20in }', "unknown" },
  { '"H3", with = { lower_edge = 20in, tilt = 60deg, limits = { mower_clearance = 21in } }', "broken" },
  { '"H3", with = { lower_edge = guess(20in), tilt = measured(61deg, "level") }', "broken" },
  { '"H4", with = { charge_controller = { shed = { max_output_current = 80A } } }', "holds" },
  { '"H4", with = { charge_controller = { barn = { max_output_current = 10A }, shed = { max_output_current = 81A } } }',
    "broken" },
  { '"H4"', "unknown" },
  { '"H5", with = { carries = { { on = { modules = { power = 450W } } }, {} } }', "holds" },
  { '"H5", with = { carries = { { on = { modules = { power = 451W } } }, {} } }', "broken" },
}

local function tests(cases)
  local out = {}
  for i, c in ipairs(cases) do out[i] = ("expect { %s, outcome = %q }\n"):format(c[1], c[2]) end
  return table.concat(out)
end

local house = place .. "/house"
lanes.make_folders { house }
lanes.write(house .. "/crew.sline", HOUSE .. tests(CASES))
local every = run(house, { "stringline test crew.sline", "stringline test crew.sline --format tap" })
try("outcomes by hand", every[1].status == 0 and every[1].out == ("crew.sline: %d of %d expectations met.\n"):format(
    #CASES, #CASES), every[1].out .. every[1].err)
local document = tap.read(every[2].out)
try("TAP of them", document.plan == #CASES and #document.points == #CASES and every[2].status == 0)
local all_ok = true
for _, p in ipairs(document.points) do all_ok = all_ok and p.ok end
try("all points are ok", all_ok)

-- What a rack never has is a slip of the rule, and no fact that is missing: no expectation is met by it.
lanes.write(house .. "/slip.sline", 'rule { id = "H6", severity = "stop", each = "rack", says = "flat",\n' ..
  '  cite = "ours", caution = "c", check = function(rack) return at_most(1deg, rack.tlit or 60deg) end }\n' ..
  tests { { '"H6"', "holds" }, { '"H6"', "unknown" }, { '"H6", with = { tilt = 70deg }', "broken" } })
local slip = run(house, { "stringline test slip.sline" })[1]
try("a field that there is none of is told by each", slip.status == 1 and slip.out:find("0 of 3", 1, true) and
    select(2, slip.out:gsub("tlit", "")) == 3, slip.out .. slip.err)

-- Each of the cases with each other outcome is not met, and it alone.
local commands, names = {}, {}
for i, c in ipairs(CASES) do
  for o in pairs(WORST) do names[#names + 1] = { i, o, c } end
end
table.sort(names, function(a, b) return a[1] < b[1] or a[1] == b[1] and a[2] < b[2] end)
local wrong = {}
for _, n in ipairs(names) do
  if n[2] ~= n[3][2] then
    local cases = table.move(CASES, 1, #CASES, 1, {})
    cases[n[1]] = { n[3][1], n[2] }
    local name = "wrong-" .. #wrong + 1 .. ".sline"
    lanes.write(house .. "/" .. name, HOUSE .. tests(cases))
    wrong[#wrong + 1], commands[#commands + 1] = n, "stringline test " .. name .. " --format json"
  end
end
for i, ran in ipairs(run(house, commands)) do
  local good, d = pcall(json.read, ran.out)
  local n = wrong[i]
  local e = good and d.expectations[n[1]]
  try(n[3][1] .. " is not " .. n[2], good and ran.status == 1 and d.met == #CASES - 1 and e.met == false and
      e.expected == n[2] and e.came:sub(1, #n[3][2]) == n[3][2], ran.out:sub(1, 1000) .. ran.err)
end

-- A fault in each rule is noticed.
local FAULTS = {
  { "0%.98", "1.02" }, { "at_most%(s%.", "at_least(s." }, { "crew < 3", "crew < 4" }, { "crew < 3", "crew < 2" },
  { "4ft %+ 7ft", "5ft + 7ft" }, { "4ft %+ 7ft", "4ft + 6ft" }, { "60deg%)", "61deg)" },
  { "or 10in", "or 30in" }, { 'limit "mower_clearance"', "12in" }, { "80A", "90A" }, { "900W", "910W" },
  { "#run%.carries %*", "1 *" }, { "= { 18in, cite", "= { 25in, cite" },
}
commands = {}
for i, f in ipairs(FAULTS) do
  local text = HOUSE:gsub(f[1], f[2], 1)
  lanes.write(house .. "/fault-" .. i .. ".sline", text .. tests(CASES))
  commands[i] = "stringline test fault-" .. i .. ".sline"
end
for i, ran in ipairs(run(house, commands)) do
  try("a fault is noticed: " .. FAULTS[i][2], HOUSE:find(FAULTS[i][1]) and ran.status == 1 and
      ran.out:find("NOT MET: H", 1, true), ran.out .. ran.err)
end

-- ---- values of a job -----------------------------------------------------------------------------------------------

-- As the egg farm's script says them, by hand: 2 rows of 4 modules of 430 W are 3.44 kW.
local VALUES = {
  { "['run[\"array to shed\"].wire']", '"6 AWG"', true }, { "['run[\"array to shed\"].wire']", '"8 AWG"', false },
  { "['job.crew']", "3", true }, { "['job.crew']", "4", false }, { "['rack.east.tilt']", "35deg", true },
  { "['rack.east.tilt']", "35.0001deg", false }, { "['rack.east.tilt']", "{ 36deg, within = 1deg }", true },
  { "['rack.east.tilt']", "{ 36deg, within = 0.99deg }", false }, { "['rack.east.tilt']", "35ft", false },
  { "['site.coldest']", "{ -15.5degC, within = 0.5K }", true },
  { "['site.coldest']", "{ -15.5degC, within = 0.4K }", false },
  { "['footing.deep.isolated_posts']", "true", true }, { "['footing.deep.isolated_posts']", "false", false },
  { "['footing.deep.bag_yield']", "0.6ft3", false }, { "['rack.east.power']", "3.44kW", true },
 
  { "['rack.east.power']", "3.4401kW", false },
}
local values = {}
for i, v in ipairs(VALUES) do
  values[i] = ('expect { job = "job.sline",  gives = { %s = %s } }\n'):format(v[1], v[2])
end
local farm = place .. "/farm"
lanes.copy({ "examples/egg-farm" }, farm)
lanes.write(farm .. "/values.sline", table.concat(values))
local valued = run(farm, { "stringline test values.sline --format json" })[1]
local of_values = json.read(valued.out)
for i, v in ipairs(VALUES) do
  local e = of_values.expectations[i]
  try(v[1] .. " = " .. v[2], e.met == v[3], e.came)
end

-- ---- whose rule it is ----------------------------------------------------------------------------------------------

-- The farm's house is two-ridges: an H1 of a file that the job does not read is not tried there, nor is that of a copy
-- which says otherwise.
local ours = lanes.read(farm .. "/two-ridges.sline") .. 'expect { job = "job.sline",  holds = { "H1" } }\n'
lanes.write(farm .. "/two-ridges.sline", ours)
lanes.write(farm .. "/others.sline", 'rule { id = "H1",  severity = "note",  each = "rack",  says = "low",  ' ..
    'cite = "c",  caution = "d",\n  check = function(rack) return at_most(rack.lower_edge, 1in) end }\n' ..
    'expect { job = "job.sline",  holds = { "H1" } }\n')
lanes.make_folders { place .. "/copied" }
lanes.copy({ farm }, place .. "/copied/farm")
lanes.write(place .. "/copied/two-ridges.sline", (ours:gsub("0%.98 %*", "0.01 *"):gsub('"job%.', '"farm/job.')))
local tried = run(farm, { "stringline test two-ridges.sline", "stringline test others.sline" })
tried[3] = run(place .. "/copied", { "stringline test two-ridges.sline" })[1]
try("the H1 that the job reads", tried[1].status == 0, tried[1].out .. tried[1].err)
try("no H1 of another file", tried[2].status == 1 and tried[2].out:find("job.sline has another rule H1, of two-ridges",
    1, true), tried[2].out .. tried[2].err)
try("no H1 of another copy", tried[3].status == 1 and tried[3].out:find("has another rule H1, of farm/two-ridges", 1,
    true), tried[3].out .. tried[3].err)

-- ---- results of a script -------------------------------------------------------------------------------------------

-- By hand: four conductors of 160 ft for two strings are 320 ft for each; 160 ft less 10 ft at each end are 140 ft.
local RESULTS = [[
result { of = "run",  name = "feet_per_string",  is = "length",  means = "conductor cut for each of its strings",
  work = function(run) return run.conductors * run.cut_length / run.circuits end }
result { of = "run",  name = "inner",  is = "length",  means = "without its ends",
  formula = "cut_length - 2 * job.habits.make_up_each_end" }
result { of = "job",  name = "few",  is = "true or false",  means = "for two",  formula = "crew < 3" }
result { of = "run",  name = "drop_left",  is = "ratio",  means = "to the limit",
  work = function(run) return (3%) - run.voltage_drop end }
rule { id = "H3",  severity = "note",  each = "run",  says = "short",  cite = "ours",  caution = "copper",
  check = function(run) return at_most(run.feet_per_string, 500ft) end }
]]
local WIRE = "conductors = 4, cut_length = 160ft, circuits = 2"
local OF_RESULTS = {
  { '"feet_per_string", with = { ' .. WIRE .. " }, gives = 320ft", true },
  { '"run.feet_per_string", with = { ' .. WIRE .. " }, gives = 3840in", true },
  { '"feet_per_string", with = { ' .. WIRE .. " }, gives = 320.0001ft", false },
  { '"feet_per_string", with = { ' .. WIRE .. " }, gives = 321ft, within = 1ft", true },
  { '"feet_per_string", with = { ' .. WIRE .. " }, gives = 321.1ft, within = 1ft", false },
  { '"feet_per_string", with = { ' .. WIRE .. " }, gives = 320s", false },
  { '"feet_per_string", with = { ' .. WIRE .. ' }, outcome = "unknown"', false },
  { '"feet_per_string", with = { conductors = 4, cut_length = 160ft }, outcome = "unknown"', true },
  { '"feet_per_string", with = { conductors = 4, cut_length = 160ft }, gives = 320ft', false },
  { '"feet_per_string", with = { ' .. WIRE .. ", wire = \"8 AWG\" }, gives = 320ft", false },
  { '"feet_per_string", with = { conductors = 4, cut_length = 160ft, circuits = 0 }, gives = 320ft', false },
  { '"inner", with = { cut_length = 160ft, job = { habits = { make_up_each_end = 10ft } } }, gives = 140ft', true },
  { '"inner", with = { cut_length = 160ft, job = { habits = { make_up_each_end = 9ft } } }, gives = 140ft', false },
  { '"few", with = { crew = 2 }, gives = true', true }, { '"few", with = { crew = 3 }, gives = true', false },
  { '"few", with = { crew = 3 }, gives = false', true },
  { '"drop_left", with = { voltage_drop = 2% }, gives = 1%', true },
  { '"drop_left", with = { voltage_drop = 2% }, gives = 1.2%, within = 0.1%', false },
  { '"H3", with = { feet_per_string = 500ft }, outcome = "holds"', true },
  { '"H3", with = { ' .. WIRE .. ' }, outcome = "unknown"', true },        -- what is not given is not worked out
}
local of_result = {}
for i, c in ipairs(OF_RESULTS) do of_result[i] = "expect { " .. c[1] .. " }\n" end
lanes.write(house .. "/results.sline", RESULTS .. table.concat(of_result))
lanes.write(house .. "/no-test.sline", RESULTS .. of_result[1])
local resulted = run(house, { "stringline test results.sline --format json",
    "stringline test no-test.sline --format json" })
local of_results, untested = json.read(resulted[1].out), json.read(resulted[2].out)
for i, c in ipairs(OF_RESULTS) do
  local e = of_results.expectations[i]
  try(c[1], e.met == c[2], e.came)
end
local names_of = {}
for i, x in ipairs(untested.without_test) do names_of[i] = x.what .. " " .. x.name end
try("results without a test", table.concat(names_of, ", ") == "rule H3, result inner, result few, result drop_left",
    table.concat(names_of, ", "))

-- ---- what house and place files hold besides -----------------------------------------------------------------------

local RACK_RULE = '{ id = "%s",  severity = "note",  each = "rack",  says = "s",  cite = "c",  caution = "c",\n' ..
    "  check = function(rack) return at_least(rack.lower_edge, %s) end }\n"
local FILES = {
  -- A limit with a name of one's own, types that name parts which no file lists, and a file that is used.
  fence = 'use "shared"\nlimits { fence = { 8ft, cite = "ours", says = "least way to the fence" } }\n' ..
      'footing "pier" { hole_diameter = 24in, hole_depth = 84in, gravel = 6in, fill = "concrete" }\n' ..
      'footing "wide" { like = "pier", hole_diameter = 30in }\n' ..
      'rack_type "kit" { modules = "M430", rows = 2, columns = 8, mid_clamp = "MC-28-40", end_clamp = "EC-30",\n' ..
      '  posts = { size = "6x6", footing = "pier" } }\n' ..
      "rule " .. RACK_RULE:format("H1", 'limit "fence", limit "setback"') ..
      'expect { "H1",  with = { lower_edge = 8ft, limits = { setback = 7ft } },  outcome = "holds" }\n' ..
      'expect { "H1",  with = { lower_edge = 8ft, limits = { setback = 9ft } },  outcome = "broken" }\n' ..
      'expect { "H1",  with = { lower_edge = 8ft, limits = { fence = 9ft, setback = 7ft } },  outcome = "broken" }\n' ..
      'expect { "H1",  with = { lower_edge = 8ft },  outcome = "unknown" }\n' ..
      'expect { "H8",  with = { lower_edge = 1ft },  outcome = "holds" }\n',
  -- An office that has no such limit: the rule has nothing to judge, but by a limit that is put in.
  county = 'authority { name = "Hollow County", read_on = "2027-02-15" }\n' ..
      'no_limit { "setback", cite = "no zoning" }\n' .. "rule " .. RACK_RULE:format("P1", 'limit "setback"') ..
      'expect { "P1",  with = { lower_edge = 1ft },  outcome = "not applicable" }\n' ..
      'expect { "P1",  with = { lower_edge = 1ft, limits = { setback = 2ft } },  outcome = "broken" }\n',
}
-- What is expected in a file that is used is tried with that file alone.
lanes.write(house .. "/shared.sline", "rule " .. RACK_RULE:format("H8", "1ft") ..
    'expect { "H8",  with = { lower_edge = 1ft },  outcome = "broken" }\n')
for name, text in pairs(FILES) do lanes.write(house .. "/" .. name .. ".sline", text) end
local held = run(house, { "stringline test fence.sline", "stringline test county.sline",
    "stringline test shared.sline" })
for i, wanted in ipairs { "fence.sline: 5 of 5 expectations met.\n", "county.sline: 2 of 2 expectations met.\n" } do
  try(wanted, held[i].status == 0 and held[i].out == wanted, held[i].out .. held[i].err)
end
try("a file that is used has its own", held[3].status == 1, held[3].out)

-- ---- what is told besides ------------------------------------------------------------------------------------------

lanes.write(house .. "/untested.sline", HOUSE .. tests { CASES[1], CASES[5] } ..
    'expect { "H2", with = { top_edge = 10ft, tilt = 30deg, job = { crew = 2 } }, outcome = "holds" }\n' ..
    'rule { id = "H6", severity = "note", each = "run", says = "s", cite = "c", caution = "c",\n' ..
    "  check = function(run) return at_most(run.voltage_drop, nil .. run.voltage_drop) end }\n" ..
    'expect { "H6", with = { voltage_drop = 2% }, outcome = "holds" }\n')
lanes.write(house .. "/none.sline", HOUSE)
lanes.write(house .. "/broken.sline", "limits {\n")
lanes.write(house .. "/place.sline", 'authority { name = "Loup County", read_on = "2027-03-12" }\n' ..
    'permits { "electrical" }\n' ..
    'rule { id = "P1",  severity = "stop",  each = "nearest",  says = "s",  cite = "4.2",  caution = "c",\n' ..
    "  check = function(n) return at_least(n.lot_line, 50ft) end }\n" ..
    'expect { "P1",  with = { lot_line = 50ft },  outcome = "holds" }\n')
local told = run(house, { "stringline test untested.sline --format json", "stringline test none.sline",
    "stringline test none.sline --format tap", "stringline test broken.sline crew.sline --format tap",
    "stringline test place.sline", "stringline test untested.sline --format gnu", "stringline test nowhere.sline",
    "stringline test crew.sline --untrusted", "stringline test crew.sline --format sarif" })
local d = json.read(told[1].out)
try("a rule without a test", #d.without_test == 3 and d.without_test[1].name == "H3" and
    d.without_test[3].name == "H5", told[1].out)
try("what is given and not read", told[1].status == 1 and d.expectations[3].met == false and
    d.expectations[3].unread[1] == "tilt" and not d.expectations[3].came)
try("an error of a rule is of its expectation alone", d.expectations[4].met == false and d.met == 2 and
    d.expectations[4].came:find("untested.sline:", 1, true) ~= nil, d.expectations[4].came)
try("nothing expected", told[2].status == 0 and told[2].out:find("none.sline: nothing is expected.", 1, true) and
    told[2].out:find("rule H1 has no test (none.sline:3:13)", 1, true), told[2].out)
local nothing = tap.read(told[3].out)
try("nothing expected, as TAP", nothing.plan == 0 and #nothing.points == 0)
local both = tap.read(told[4].out)
try("several files", told[4].status == 2 and #both.points == 2 and not both.points[1].ok and both.points[2].ok and
    #both.points[2].subtest.points == #CASES, told[4].out)
try("a place file", told[5].status == 0 and told[5].out == "place.sline: 1 of 1 expectation met.\n",
    told[5].out .. told[5].err)
try("as editors read it", told[6].status == 1 and 
    told[6].out:find("\nuntested.sline:28:1: error: H6 holds: ", 1, true) and
    told[6].out:find("untested.sline:10:13: warning: rule H3 has no test [H3]", 1, true), told[6].out)
try("no such file", told[7].status == 3)
try("in a process apart", told[8].status == 0 and told[8].out == every[1].out, told[8].out .. told[8].err)
try("no SARIF", told[9].status == 2)

-- An ordinary run takes the word, and nothing else changes.
local egg = place .. "/egg"
lanes.copy({ "examples/egg-farm" }, egg)
local before = run(egg, { "stringline check job.sline" })[1]
lanes.write(egg .. "/two-ridges.sline", lanes.read(egg .. "/two-ridges.sline") ..
    'expect { "H1",  with = { coldest_voltage = 588V, voltage_limit = 600V },  outcome = "broken" }\n' ..
    'expect { "H7",  with = { nothing = 588V } }\n')
local after = run(egg, { "stringline check job.sline" })[1]
try("an ordinary run", before.status == after.status and
    before.out:gsub("%x+%s*$", "") == after.out:gsub("%x+%s*$", ""), lanes.difference(before.out, after.out))

print(("expect: %d passed, %d failed"):format(passed, failed))
lanes.leave(failed == 0 and 0 or 1)
