#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- What --format json writes, held against the JSON Schema that the program makes of it: tests/output.lua BINARY, from
-- the top folder of the project.  The documents are those of the goldens and of every other command; each key that is
-- taken out of one of them, and each that is put in, must be noticed.
package.path = arg[0]:gsub("[^/]*$", "") .. "?.lua"
local lanes = require "lanes"
local json = require "json"
local schema = require "schema"
local regex = require "regex"
lanes.options("tests/output.lua BINARY")

local passed, failed = 0, 0
local function try(what, good, more)
  if good then
    passed = passed + 1
  else
    failed = failed + 1
    print("not ok " .. what .. (more and more ~= "" and "\n    " .. more:sub(1, 2000):gsub("\n", "\n    ") or ""))
  end
end

-- ---- the patterns --------------------------------------------------------------------------------------------------

for _, case in ipairs {
  { "^[0-9a-f]{3}$", "0af", true }, { "^[0-9a-f]{3}$", "0afe", false }, { "^[0-9a-f]{3}$", "0aF", false },
  { "^a(b|cd)?e$", "ae", true }, { "^a(b|cd)?e$", "acde", true }, { "^a(b|cd)?e$", "abcde", false },
  { "^a.*\\.b$", "a.x.b", true }, { "^a.*\\.b$", "a.x,b", false }, { "b+", "abbc", true }, { "b+", "ac", false },
  { "^[^a-c]+$", "xyz", true }, { "^[^a-c]+$", "xbz", false }, { "^x{1,2}$", "xxx", false }, { "^x{2,}$", "xxx", true },
  { "^(\\.[a-z]+|\\['.*'\\])?\\.t$", "['a b'].t", true }, { "^(\\.[a-z]+|\\['.*'\\])?\\.t$", ".t", true },
  { "^(\\.[a-z]+|\\['.*'\\])?\\.t$", ".a.b.t", false }, { "^(a*)*$", "aaab", false },
} do
  try(case[1] .. " and " .. case[2], regex(case[1])(case[2]) == case[3])
end

-- ---- documents -----------------------------------------------------------------------------------------------------

local BROKEN = "check examples/egg-farm/job.sline --set trench.main.cover=12in"
local MARGINS = "margins examples/egg-farm/job.sline --input trench.main.length --input run.wire " ..
    "--input site.coldest --input module.M430.length"
local cases = {}
local function ask(arguments)
  cases[#cases + 1] = { name = arguments, command = "stringline " .. arguments .. " --format json", folder = lanes.top }
end
for _, file in ipairs(lanes.files("tests/golden", "%.txt$")) do
  local arguments = lanes.read("tests/golden/" .. file):match("^%$ stringline ([^\n]*)\n")
  local other = arguments:find("^reference %l") or arguments:find("%-%-help")
  if not other then ask((arguments:gsub(" ?%-%-format[= ]%l+", ""))) end
end
for _, arguments in ipairs { "units", "form", "help", "help check", "describe", "describe rack", "describe rack.tilt",
    "form examples/egg-farm/job.sline", "form tests/golden/jobs/bare/job.sline", "describe calc.embed_neglecting",
    "describe given", "reference", "reference codes", "reference sheets", "explain Q003",
    "verify examples/egg-farm/report.txt", 'compare examples/egg-farm/job.sline --alternate "six in series"',
    "compare examples/egg-farm/job.sline --set footing.deep.hole_depth=72in",
    "compare examples/egg-farm/job.sline tests/pages/jobs/hay-barn/job.sline",
    "compare tests/pages/jobs/southern/job.sline --set footing.hole.hole_depth=2.2m",
    "check examples/egg-farm/job.sline nowhere.sline",
    BROKEN, "sheet examples/egg-farm/job.sline", "sheet examples/egg-farm/job.sline cautions",
    'run examples/egg-farm/job.sline --set trench.main.cover=12in --on 2026-11-20',
    'run examples/egg-farm/job.sline --alternate "six in series"', MARGINS,
    'margins examples/egg-farm/job.sline --rule R41 --rule R72', "sweep examples/egg-farm/choose.sline --count",
    'sweep examples/egg-farm/job.sline --vary "rack.tilt=30deg, 40deg" --list',
    'sweep examples/egg-farm/job.sline --vary "rack.tilt=30deg, 40deg" --only 1' } do
  ask(arguments)
end
cases[#cases + 1] = { name = "the schema", command = "stringline reference schema", folder = lanes.top }
lanes.run(cases)

local made = table.remove(cases)
local readable, rules = pcall(json.read, made.out)
try("the schema is JSON", readable and made.status == 0, not readable and rules or nil)
if not readable then lanes.leave(1) end
try("it says which draft it is", rules["$schema"] == "https://json-schema.org/draft/2020-12/schema")

local kinds, whole = {}, {}          -- documents met, and what came by arguments
for _, case in ipairs(cases) do
  if case.status <= 1 or case.out ~= "" then
    local good, value = pcall(json.read, case.out)
    local wrong = good and schema(rules, value) or { tostring(value) }
    if good and #wrong > 0 and json.is_object(value) then        -- what its own kind of document says against it
      local own = rules["$defs"][(value.document:gsub(" ", "-"))] or rules["$defs"].plain
      own["$defs"] = rules["$defs"]
      wrong = schema(own, value)
      if #wrong == 0 then wrong = { "it fits its own kind of document, but not the whole" } end
    end
    try(case.name, #wrong == 0, table.concat(wrong, "\n"))
    if good and json.is_object(value) then
      kinds[value.document] = true
      whole[case.name] = value
    end
  end
end
for _, kind in ipairs { "report", "check", "verify", "margins", "compare", "sheets", "sheet wire", "sheet buying",
    "explain", "describe", "units", "form", "help", "reference" } do
  try("a document of the kind " .. kind, kinds[kind])
end

-- ---- a lost key, a strange key --------------------------------------------------------------------------------------

-- Lists are cut to their first items, so that a check of all takes no time.
local function cut(value)
  if json.is_array(value) then for i = #value, 3, -1 do value[i] = nil end end
  if json.is_object(value) then
    local keys = value[json.keys]
    for i = #keys, 1, -1 do
      if i > 40 then value[keys[i]] = nil; table.remove(keys, i) else cut(value[keys[i]]) end
    end
  elseif json.is_array(value) then
    for _, v in ipairs(value) do cut(v) end
  end
  return value
end

-- keys: "path.to.object key key ..."; an item of a list is its number from 1.
local function noticed(name, keys)
  local value = cut(whole[name])
  try(name .. ": it fits as it is", #schema(rules, value) == 0)
  for _, line in ipairs(keys) do
    local path, names = line:match("^(%S+) (.*)$")
    local object = value
    for step in path:gmatch("[^/]+") do object = object and object[tonumber(step) or step] end
    if not object then
      try(name .. " has " .. path, false)
    else
      local order = object[json.keys]
      for key in names:gmatch("%S+") do
        local at
        for i, k in ipairs(order) do if k == key then at = i end end
        local kept = object[key]
        if at then table.remove(order, at) end
        object[key] = nil
        try(("%s without %s of %s"):format(name, key, path), at and #schema(rules, value) > 0)
        if at then table.insert(order, at, key) end
        object[key] = kept
      end
      order[#order + 1], object.strange = "strange", 1
      try(("%s with a strange key in %s"):format(name, path), #schema(rules, value) > 0)
      order[#order], object.strange = nil, nil
    end
  end
end
noticed("run examples/egg-farm/job.sline", {
  "/ stringline document title job verdict rules results sheets made_from seal blocks",
  "/job name client stage units codes", "/verdict ready exit text broken unknown waived withheld rules hold not_judged",
  "/verdict/hold against_limit as_stated by_construction",
  "/rules/1 id severity says subject outcome comparison cite caution may_waive", "/sheets/1 name withheld",
  "/results/job.power si unit text", "/order/1 vendor item count each line priced_on",
  "/made_from/1 what version", "/made_from/2 what sha256", "/total si unit text", "/blocks/1 kind depth text",
})
noticed(BROKEN, {
  "/ stringline document title job verdict rules made_from seal blocks",
  "/rules/1 id severity says subject outcome comparison cite caution may_waive", "/rules/1/place file line column",
  "/rules/1/flip path value", "/rules/1/limit si unit text",
})
noticed("check tests/golden/jobs/goat-shed/job.sline --set job.stage=permit", {
  "/rules/1 id severity says subject outcome unknown cite caution may_waive", "/rules/1/unknown/1 text",
})
noticed(MARGINS, {
  "/ stringline document title exit inputs tightest left judged_anew blocks",
  "/inputs/1 path declared", "/inputs/1/place file line column", "/inputs/1/up moved_to flips",
  "/inputs/1/up/flips/1 rule subject side becomes value at_once stated", "/inputs/2/entries/1 value flips",
  "/inputs/2/entries/1/flips/1 rule subject becomes",
  "/tightest/1 input rule subject side becomes value at_once stated",
})
noticed("verify examples/egg-farm/report.txt", {
  "/ stringline document title report same edited sealed before differing changes blocks",
})
noticed("run examples/egg-farm/job.sline", {
  "/snapshot form script job verdict status records declared results rules sheets covered kept",
  "/snapshot/declared/1 path value", "/snapshot/rules/1 id subject outcome", "/snapshot/kept buying posts",
  "/snapshot/kept/posts/wanted/1 name depth diameter along across",
})
noticed("compare examples/egg-farm/job.sline --set footing.deep.hole_depth=72in", {
  "/ stringline document title same then now records declared results rules papers sheets blocks",
  "/then script name client stage verdict exit made_from", "/declared/1 path", "/declared/1/was text",
  "/results/1 path says", "/rules outcomes tighter new gone", "/rules/outcomes/1 id subject was is",
  "/sheets throw_away print", "/cost currency was_cents is_cents difference_cents",
})

print(("output: %d passed, %d failed"):format(passed, failed))
lanes.leave(failed == 0 and 0 or 1)
