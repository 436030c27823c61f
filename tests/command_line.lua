#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- The command line: options wherever they stand, several scripts, formats, exit statuses, help, completions.
-- tests/command_line.lua BINARY, from the top folder of the project. What a wrong command line is told:
-- tests/errors/command-line.txt.
package.path = arg[0]:gsub("[^/]*$", "") .. "?.lua"
local lanes = require "lanes"
local json = require "json"
local schema = require "schema"
local tap = require "tap"
lanes.options("tests/command_line.lua BINARY")

local EGG, GOAT, TWO = "egg/job.sline", "goat/job.sline", "two/job.sline"
local SARIF = json.read(lanes.read("tests/schema/sarif-2.1.0.json"))
local SIX = '--alternate "six in series"'

-- ---- files ---------------------------------------------------------------------------------------------------------

local place = lanes.folder .. "/place"
lanes.make_folders { place, place .. "/a b", place .. "/empty", place .. "/folder" }
lanes.copy({ "examples/egg-farm" }, place .. "/egg")
lanes.copy({ "tests/golden/jobs/goat-shed" }, place .. "/goat")
lanes.copy({ "tests/golden/jobs/two-racks" }, place .. "/two")
local HEAD = 'job { name = "t", client = "c", stage = "permit", on = "2026-11-02" }\n'
lanes.write(place .. "/broken.sline", HEAD .. "rack {\n")
lanes.write(place .. "/loop.sline", HEAD .. "while true do end\n")
lanes.write(place .. "/loud.sline", HEAD .. "for i = 1, 18000 do print(string.rep('x', 1000)) end\n")
lanes.write(place .. "/eater.sline", HEAD .. "local t = {}\nfor i = 1, 40 do t[i] = string.rep('x', 1000000) end\n")
lanes.write(place .. "/bare.sline", HEAD)
lanes.write(place .. "/parts.sline", HEAD .. 'parts "nowhere.csv"\n')
lanes.write(place .. "/prices.sline", HEAD .. 'prices "nowhere.csv"\n')
lanes.write(place .. "/house.sline", HEAD .. 'house "nowhere"\n')
lanes.write(place .. "/longest.sline", HEAD .. "-- " .. ("x"):rep(9997) .. "\n")
lanes.write(place .. "/overlong.sline", HEAD .. "-- " .. ("x"):rep(9998) .. "\n")
lanes.write(place .. "/longrow.sline", HEAD .. 'parts "longrow.csv"\n')
lanes.write(place .. "/longrow.csv", "clamp,part\nEC-30,end\nEC-" .. ("3"):rep(9994) .. ",end\n")
lanes.write(place .. "/wide.sline", HEAD .. 'parts "wide.csv"\n')
lanes.write(place .. "/wide.csv", "module" .. (",x"):rep(5000) .. "\n")
-- 500 million steps, nearly all of which are only charged: the offset is looked for from the end on.
lanes.write(place .. "/long.sline", HEAD ..
  'local s = ("x"):rep(50000000)\nfor i = 1, 40 do utf8.offset(s, #s, #s + 1) end\n')
-- Calls a word whose module is not loaded yet at each depth of calls, the last that there is room for among them.
lanes.write(place .. "/deep.sline", HEAD .. "local function deep(n) if n == 0 then trench 'main' " ..
  "{ length = 90ft, cover = 18in } else pcall(deep, n - 1) end end\nfor n = 300, 1, -1 do pcall(deep, n) end\n")
-- Which axis is the inner one must be found without judging a variant: with deeper cover the rule has no end.
lanes.write(place .. "/deeper.sline", HEAD .. 'trench "main" { length = 90ft, cover = 18in }\n' ..
  'rule { id = "J1", severity = "stop", each = "trench", says = "s", cite = "c", caution = "c",\n' ..
  '  check = function(t) while t.cover > 19in do end return at_least(t.cover, 2in) end }\n' ..
  'vary { "trench.main.cover", 20in, 24in }\n')
lanes.write(place .. "/match.sline", HEAD .. 'local s = ("a"):rep(40)\nlocal n = s:find(s:gsub("a", "a-") .. "b")\n')
lanes.write(place .. "/zero.sline", HEAD ..
  'print "said once"\ntrench "main" { length = 90ft, cover = 18in }\n' ..
  'rule { id = "J1", severity = "note", each = "trench", says = "s", cite = "c", caution = "c",\n' ..
  '  check = function(t)\n    local zero = #tostring(t) - #tostring(t)\n    local one = 1\n' ..
  '    local rest = one % zero\n    return states(rest == 0, "x") end }\n')
local faulty = {}                                                     -- 60 faults, each at a place of its own
for i = 1, 60 do faulty[i] = 'trench "t' .. i .. '" { length = 90ft, cover = 18in, deep = 1ft }\n' end
lanes.write(place .. "/faulty.sline", HEAD .. table.concat(faulty))
lanes.write(place .. "/folder/job.sline", HEAD)
-- Two two-byte letters and one of four bytes stand before the trench: byte 30 is character 25.
lanes.write(place .. "/a b/jöb.sline", HEAD ..
  'local t = "éü\u{1F600}" local x trench "m" { length = 90ft, cover = 1in }\n' ..
  'rule { id = "J1", severity = "stop", each = "trench", says = "a # and a \\\\ stay", cite = "c \\\\ #1",\n' ..
  '  caution = "none", check = function(t) return at_least(t.cover, 2in) end }\n')

-- ---- running -------------------------------------------------------------------------------------------------------

local passed, failed = 0, 0
local function try(what, ok, why)
  if ok then
    passed = passed + 1
    return
  end
  failed = failed + 1
  print("not ok " .. what .. (why and "\n    " .. tostring(why):gsub("\n", "\n    ") or ""))
end

local jobs, by = {}, {}
-- Asks for a command to be run; what it gave is read when all have run.
local function job(command)
  if not by[command] then
    by[command] = { command = "( " .. command .. " )", folder = place }
    jobs[#jobs + 1] = by[command]
  end
  return by[command]
end
-- A file for one command alone: two run at once.
local files = 0
local function a_file()
  files = files + 1
  return "out" .. files .. ".txt"
end
local after = {}
local function later(f) after[#after + 1] = f end

local function same(what, a, b)
  later(function()
    try(what, a.out == b.out and a.err == b.err and a.status == b.status,
      ("%d and %d\n"):format(a.status, b.status) .. lanes.difference(a.out .. a.err, b.out .. b.err))
  end)
end

local function ends(command, status, said)
  local j = job(command)
  later(function()
    try(command .. ": exit " .. status, j.status == status and (not said or (j.out .. j.err):find(said, 1, true)),
      j.status .. "\n" .. j.out:sub(1, 400) .. j.err)
  end)
end

-- ---- options wherever they stand -----------------------------------------------------------------------------------

-- option, what must be seen in the output, so that it has surely been taken
local moved = {
  { "--set trench.main.cover=12in", "R57" }, { "--set=trench.main.cover=12in", "R57" }, { SIX, "R41" },
  { "--on 2027-11-02", "2027-11-02" }, { "--format json", '"verdict"' }, { "--format=tap", "TAP version 14" },
  { "-o FILE", "" }, { "-oFILE", "" }, { "--output=FILE", "" }, { "--no-color", "rules hold" },
  { "--steps 1", "[S001]", "--messages gnu" }, { "--memory 8", "[S001]", "--messages gnu", "eater.sline" },
  { "--untrusted", "[S002]", "--messages gnu", "loud.sline" },
  { "--messages gnu", "[F021]", "", "nowhere.sline" },
}
for _, m in ipairs(moved) do
  local option, seen, more, script = m[1], m[2], m[3] or "", m[4] or EGG
  local first
  for _, posix in ipairs { "", "POSIXLY_CORRECT=1; export POSIXLY_CORRECT; " } do
    for _, words in ipairs { "OPTION check SCRIPT", "check OPTION SCRIPT", "check SCRIPT OPTION" } do
      local file = a_file()
      local last = option:find "FILE" and "; s=$?; cat " .. file .. "; exit $s" or
        m[4] == "loud.sline" and " | tail -c 100" or ""
      local line = words:gsub("OPTION", option):gsub("SCRIPT", script):gsub("FILE", file)
      local j = job(posix .. "stringline " .. more .. " " .. line .. last)
      first = first or j
      same(j.command .. " as before the command", first, j)
      later(function()
        try(j.command .. ": taken", (j.out .. j.err):find(seen, 1, true), j.out:sub(1, 300) .. j.err)
      end)
    end
  end
end
ends("stringline check -- --on", 3, "--on")                       -- a word, not an option
ends("stringline -- check " .. EGG, 0)
ends("stringline check -o " .. a_file() .. " -- " .. EGG, 0)

-- ---- several scripts -----------------------------------------------------------------------------------------------

local single = {}
for _, path in ipairs { EGG, GOAT, TWO, "bare.sline" } do single[path] = job("stringline check " .. path) end
local status_of = { ["broken.sline"] = 2, ["nowhere.sline"] = 3, ["loop.sline"] = 3, folder = 3 }
local orders = {
  { EGG, GOAT, TWO }, { TWO, EGG, GOAT }, { GOAT, TWO, EGG }, { EGG, EGG }, { "bare.sline", EGG, "bare.sline" },
  { "broken.sline", EGG }, { EGG, "nowhere.sline", TWO }, { TWO, "broken.sline", "nowhere.sline", EGG },
  { EGG, "nowhere.sline", GOAT }, { "loop.sline", EGG },
}
-- What comes back of a process apart, strained, is what was written.
for _, format in ipairs { "text", "json", "gnu", "csv", "markdown", "html", "sarif", "tap" } do
  local run = "stringline run --format " .. format .. " " .. EGG
  same(run .. " --untrusted", job(run), job(run .. " --untrusted"))
end
local function unwrapped(text) return (text:gsub("%s+", " ")) end
for _, order in ipairs(orders) do
  local list = table.concat(order, " ")
  local steps = list:find "loop" and " --steps 1000000" or ""
  local text = job("stringline check " .. list .. steps)
  local apart = job("stringline check --untrusted " .. list .. steps)
  local file = a_file()
  local filed = job("stringline check -o " .. file .. " " .. list .. steps .. "; s=$?; cat " .. file .. "; exit $s")
  same("check --untrusted " .. list, text, apart)
  same("check -o " .. list, text, filed)
  local machine = job("stringline check --format json " .. list .. steps)
  local log = job("stringline check --format sarif " .. list .. steps)
  local points = job("stringline check --format tap " .. list .. steps)
  later(function()
    local worst, want = 0, {}
    for i, path in ipairs(order) do
      worst = math.max(worst, status_of[path] or single[path].status)
      -- What is said of each is what is said of it alone, with its path in front.
      want[i] = single[path] and unwrapped(path .. ": " .. single[path].out) or path .. ": NOT JUDGED: "
    end
    try(list .. ": the worst status", text.status == worst, text.status)
    local got, at = unwrapped(text.out), 1
    for i, w in ipairs(want) do
      local from, to = got:find(w, at, true)
      try(list .. ": " .. order[i], from, got:sub(at, at + 300))
      at = to or at
    end
    local good, all = pcall(json.read, machine.out)
    try(list .. ": one JSON text", good and json.is_array(all) and #all == #order, all)
    for i, path in ipairs(good and order or {}) do
      local exit = all[i].verdict and all[i].verdict.exit or all[i].exit
      try(list .. ": JSON of " .. path, exit == (status_of[path] or single[path].status) and
        (not status_of[path] or all[i].script == path and #all[i].error.message > 0), exit)
    end
    good, all = pcall(json.read, log.out)
    try(list .. ": one SARIF log", good and #all.runs == #order, all)
    local wrong = good and schema(SARIF, all) or { "no JSON" }
    try(list .. ": SARIF by its schema", #wrong == 0, table.concat(wrong, "\n"))
    for i, path in ipairs(good and order or {}) do
      local run = all.runs[i]
      try(list .. ": SARIF of " .. path, run.artifacts[1].location.uri == path and
        run.invocations[1].executionSuccessful == (status_of[path] == nil) and
        run.invocations[1].exitCode == (status_of[path] or single[path].status))
    end
    good, all = pcall(tap.read, points.out)
    try(list .. ": one TAP text", good, all)
    try(list .. ": TAP passes as the program does", good and tap.passes(all) == (worst == 0))
    for i, path in ipairs(good and order or {}) do
      local p = all.points[i]
      local status = status_of[path] or single[path].status
      try(list .. ": TAP of " .. path, p.description == path and p.ok == (status == 0) and
        p.ok == (tap.passes(p.subtest) and not status_of[path]))
    end
  end)
end
-- ---- SARIF and TAP of one script -----------------------------------------------------------------------------------

local judged = { EGG, GOAT, TWO, EGG .. " " .. SIX, EGG .. " --set trench.main.cover=12in",
                 GOAT .. " --set job.stage=permit", EGG .. " --on 2027-11-02", "bare.sline" }
local KIND = { holds = "pass", broken = "fail", unknown = "open", ["not applicable"] = "notApplicable" }
local LEVEL = { stop = "error", caution = "warning", note = "note" }
for _, words in ipairs(judged) do
  for _, command in ipairs { "run ", "check " } do
    local full = job("stringline run --format json " .. words)
    local log, points = job("stringline " .. command .. "--format sarif " .. words),
      job("stringline " .. command .. "--format tap " .. words)
    later(function()
      local what = command .. words
      local report = json.read(full.out)
      try(what .. ": one status in three formats", full.status == log.status and full.status == points.status)
      local good, sarif = pcall(json.read, log.out)
      try(what .. ": SARIF is JSON", good, sarif)
      local wrong = good and schema(SARIF, sarif) or {}
      try(what .. ": SARIF by its schema", #wrong == 0, table.concat(wrong, "\n"))
      local run = sarif.runs[1]
      try(what .. ": a result for each outcome", #run.results == #report.rules, #run.results)
      local marks, fine = {}, true
      for i, r in ipairs(run.results) do
        local o = report.rules[i]
        fine = fine and r.ruleId == o.id and run.tool.driver.rules[r.ruleIndex + 1].id == o.id
        fine = fine and r.kind == KIND[o.outcome]
        -- The schema does not catch a pass with a level.
        fine = fine and r.level == (r.kind == "fail" and LEVEL[o.severity] or "none")
        fine = fine and (r.suppressions ~= nil) == (o.waiver ~= nil)
        local mark = r.partialFingerprints["ruleAndSubject/v1"]
        fine = fine and not marks[mark]
        marks[mark] = true
        if not fine then
          try(what .. ": SARIF of " .. o.id .. " " .. o.subject, false, r.kind .. " " .. r.level)
          break
        end
      end
      try(what .. ": kinds, levels and fingerprints", fine)
      local read, document = pcall(tap.read, points.out)
      try(what .. ": TAP", read, document)
      try(what .. ": a point for each outcome", read and document.plan == #report.rules)
      try(what .. ": TAP passes as the program does", read and tap.passes(document) == (points.status == 0))
      fine = read
      for i, p in ipairs(read and document.points or {}) do
        local o = report.rules[i]
        fine = fine and p.description:sub(1, #o.id + 1) == o.id .. " " and
          p.ok == (o.outcome == "holds" or o.outcome == "not applicable") and
          (p.directive == "SKIP") == (o.outcome == "not applicable") and (p.block ~= nil) == not p.ok
      end
      try(what .. ": points as the outcomes, and no unknown is skipped", fine)
    end)
  end
end

local odd = job "stringline check --format sarif 'a b/jöb.sline'"
local odd_tap = job "stringline check --format tap 'a b/jöb.sline'"
later(function()
  local run = json.read(odd.out).runs[1]
  local uri = run.artifacts[1].location.uri
  try("a URI is percent-encoded", uri == "a%20b/j%C3%B6b.sline", uri)
  for _, r in ipairs(run.results) do
    if r.ruleId == "J1" then
      local region = r.locations[1].physicalLocation.region
      -- `local t = "` is 11 characters, éü and the face 3, `" local x ` 10: the trench begins at 25, and is 6 long.
      try("columns are characters", region.startLine == 2 and region.startColumn == 25 and region.endColumn == 31,
        region.startLine .. ":" .. tostring(region.startColumn) .. "-" .. tostring(region.endColumn))
    end
  end
  local document = tap.read(odd_tap.out)
  local p = document.points[#document.points]
  try("# and \\ in TAP", p.description:find("J1 a # and a \\ stay", 1, true) == 1 and not p.ok and not p.directive and
    p.block.citation == "c \\ #1", p.description)
end)

-- ---- formats of every command --------------------------------------------------------------------------------------

local lines = {
  "run " .. EGG, "check " .. EGG, "sheet " .. EGG, "sheet " .. EGG .. " posts", "explain " .. EGG .. " R41",
  "explain " .. EGG .. " rack.east.top_edge", "explain Q003", "describe", "describe rack", "describe rack.tilt", "form",
  "form " .. EGG, "units", "reference", "reference man", "reference bash", "reference zsh", "reference fish",
  "reference sheets", "reference rules", "reference names", "reference codes", "help", "help run", "--help",
}
for _, line in ipairs(lines) do
  local plain, machine = job("stringline " .. line), job("stringline --format json " .. line)
  local file = a_file()
  local filed = job("stringline " .. line .. " -o " .. file .. " && cat " .. file)
  same(line .. " -o", plain, filed)
  later(function()
    try(line .. ": says something", plain.status == 0 and #plain.out > 0 and plain.err == "", plain.err)
    local good, value = pcall(json.read, machine.out)
    try(line .. ": JSON", good and json.is_object(value) and machine.status == 0, value)
  end)
  for _, format in ipairs { "csv", "markdown", "html" } do
    local other = job("stringline --format " .. format .. " " .. line)
    later(function()
      try(line .. " as " .. format, other.status == 0 and #other.out > 0 and other.err == "", other.err)
    end)
  end
  if not line:find "^run" and not line:find "^check" then
    for _, format in ipairs { "gnu", "sarif", "tap" } do
      ends("stringline --format " .. format .. " " .. line, 2, format == "sarif" and "run and check have it" or
          "run, check and test have it")
    end
  end
end

-- ---- a terminal ----------------------------------------------------------------------------------------------------

-- Its columns -> the longest line that may come, and the shortest that the longest of a report may be: the width is
-- used, within what can be read.
local widths = { [20] = { 40, 36 }, [60] = { 60, 52 }, [80] = { 80, 72 }, [132] = { 132, 120 }, [250] = { 132, 120 } }
if os.execute("script -qec true /dev/null </dev/null >/dev/null 2>&1") then      -- and a terminal can be had
  for columns, wanted in pairs(widths) do
    for _, line in ipairs { "run " .. EGG, "run " .. GOAT, "sheet " .. TWO .. " wire", "help", "form" } do
      local asked = lanes.quoted(lanes.binary) .. " --no-color " .. line
      local typed = lanes.quoted("stty cols " .. columns .. "; " .. asked)
      local shown = job("script -qec " .. typed .. " /dev/null </dev/null")
      later(function()
        local longest = 0
        for l in shown.out:gmatch("([^\r\n]*)\r?\n") do longest = math.max(longest, utf8.len(l) or #l) end
        try(line .. " on " .. columns .. " columns", longest <= wanted[1] and
          (line ~= "run " .. EGG or longest >= wanted[2]), longest)
      end)
    end
  end
end

-- ---- exit statuses -------------------------------------------------------------------------------------------------

-- By class: a file, a limit or an output is 3, whatever else is wrong 2.
local three = { F016 = true, F021 = true, F022 = true, F040 = true, F041 = true, S001 = true, S002 = true,
                S003 = true, S004 = true, F050 = true, F051 = true, F052 = true, F053 = true, F054 = true,
                F055 = true, F056 = true, F057 = true, F058 = true, F059 = true, F042 = true, F043 = true }
local codes = job("stringline reference codes")
local entries = job("for c in $(stringline reference codes); do stringline explain $c; done")
later(function()
  local n, seen = 0, {}
  for code, rest in ("\n" .. entries.out):gmatch("\n(%u%d%d%d)\n(.-)\n  exit status") do seen[code] = rest end
  for code in codes.out:gmatch("%S+") do
    n = n + 1
    local status = entries.out:match(code .. "\n.-\n  exit status (%d)")
    try("status of " .. code, status == (three[code] and "3" or "2"), status)
    three[code] = nil
  end
  try("there are codes", n > 60 and next(seen) and next(three) == nil, next(three))
end)
ends("stringline check " .. EGG .. " " .. TWO .. " --format html", 2, "check them one by one")
ends("stringline check " .. EGG, 0, "rules hold")
ends("stringline check " .. EGG .. " " .. SIX, 1, "NOT READY")
ends("stringline check bare.sline", 1)
ends("stringline check eater.sline", 1)
ends("stringline check eater.sline --memory 8", 3, "S001")
ends("stringline run " .. EGG .. " --format json --memory 5", 3,
  "stopped: the run asked for more than 5 MiB of memory")                      -- nothing of it is the script's
ends("stringline check broken.sline --messages gnu", 2, "broken.sline:2:")
ends("stringline chekc", 2, "U005")
ends("stringline check nowhere.sline", 3, "F021")
ends("stringline check parts.sline", 3, "F021")
ends("stringline check prices.sline", 3, "F021")
ends("stringline check house.sline", 3, "F021")
ends("stringline check wide.sline", 3, "F016")
ends("stringline check longest.sline", 1)
ends("stringline check overlong.sline", 2,
  "overlong.sline:2:10001: error: the line has 10001 bytes; the longest may have 10000")
ends("stringline check longrow.sline", 2, "longrow.csv:3:10001: error: the line has 10001 bytes")
ends("stringline check loop.sline --steps 100000", 3, "S001")
ends("stringline check loop.sline --steps 100000 --untrusted", 3, "S001")
-- Lua knows the line of a division by zero only while steps are counted; what is printed is not printed again.
-- A variant without an end costs its own row alone.
ends("stringline sweep deeper.sline --steps 100000 --jobs 1 --format csv", 1, "used more than 100000 steps")

local zero = job "stringline check zero.sline"
later(function()
  local _, prints = zero.err:gsub("said once", "")
  try("the line of a division by zero", zero.status == 2 and prints == 1 and
    zero.err:find("zero.sline:8:5: error: cannot divide by zero", 1, true), zero.err)
end)
-- From docs/language.md: up to 50 at once, and how many more there are.
local many = job "stringline check faulty.sline"
later(function()
  local _, told = many.err:gsub("%[D001%]", "")
  try("the first 50 faults of 60", many.status == 2 and told == 50 and
    many.err:find("and 10 more, told when these are mended", 1, true) and many.err:find("faulty.sline:51:", 1, true) and
    not many.err:find("faulty.sline:52:", 1, true), told .. many.err:sub(-300))
end)
ends("stringline check long.sline", 1)                                 -- one's own script: nobody counts
ends("stringline check deep.sline --set trench.main.cover=12in", 1)
ends("stringline check long.sline --untrusted", 3, "more than 400 million steps")
ends("stringline check long.sline --steps 400000000", 3, "more than 400 million steps")
-- Ctrl-C ends it where it is, and no output file is left (what runs in the background ignores Ctrl-C if not told so).
for _, script in ipairs { "loop.sline", "match.sline" } do
  local file = a_file()
  ends("timeout -s INT -k 20 --preserve-status 1 env --default-signal=INT " .. lanes.quoted(lanes.binary) ..
       " check " .. script .. " -o " .. file .. "; [ $? = 130 ] && [ ! -e " .. file .. " ]", 0)
end
ends("stringline check loud.sline --untrusted >/dev/null", 3, "S002")
ends("stringline check " .. EGG .. " loud.sline --untrusted >/dev/null", 3, "S002")    -- the second as the first
ends("stringline check " .. EGG .. " -o nowhere/out.txt", 3, "F040")
ends("stringline check " .. EGG .. " -o folder", 3, "F040")
ends("stringline check " .. EGG .. " --untrusted -o nowhere/out.txt", 3, "F040")
ends("stringline units >/dev/full", 3, "F041")
ends("stringline units >&-", 3, "F041")
ends("stringline check broken.sline -o new.txt; [ ! -e new.txt ]", 0)          -- no file is left
ends("stringline check broken.sline --untrusted -o new.txt; [ ! -e new.txt ]", 0)
ends("echo old >kept.txt; stringline check broken.sline -o kept.txt; cat kept.txt", 0, "old")

-- ---- how errors are told -------------------------------------------------------------------------------------------

local wrong_lines = { "check nowhere.sline", "chekc x", "units --on 1", "check " .. EGG .. " -o nowhere/x", "check" }
for _, line in ipairs(wrong_lines) do
  local told = job("stringline --messages json " .. line)
  local follows = job("stringline --format json " .. line)
  local gnu = job("stringline --messages gnu --format json " .. line)
  later(function()
    local good, value = pcall(json.read, told.err)
    try(line .. ": told as JSON", good and value.severity == "error" and value.code:find("^%u%d%d%d$"), told.err)
    try(line .. ": --format json has messages in JSON", follows.err == told.err, follows.err)
    try(line .. ": --messages gnu beside it", gnu.err:find(": error: ", 1, true), gnu.err)
  end)
end

-- ---- help ----------------------------------------------------------------------------------------------------------

local COMMANDS = { "run", "check", "sheet", "explain", "form", "describe", "new", "units", "reference", "help" }
local OF_JOBS = { "--set", "--alternate", "--on", "--untrusted", "--steps", "--memory" }
local all_help = job "stringline help"
same("--help", all_help, job "stringline --help")
same("-h", all_help, job "stringline -h")
for i, name in ipairs(COMMANDS) do
  local help = job("stringline help " .. name)
  for _, line in ipairs { name .. " -h", name .. " --help", "-h " .. name, name .. " job.sline -h",
                          name .. " --on 1 -h x y" } do
    if name ~= "help" or not line:find "[xj]" then same(line, help, job("stringline " .. line)) end
  end
  later(function()
    try("help names " .. name, all_help.out:find("\n  " .. name, 1, true))
    try("help of " .. name, help.status == 0 and help.out:find("usage: stringline " .. name, 1, true) == 1 and
      help.out:find("\n  stringline " .. name, 1, true), help.out)
    for _, option in ipairs(OF_JOBS) do
      try(name .. " and " .. option, (help.out:find("  " .. option, 1, true) ~= nil) == (i <= 5))
    end
  end)
end
ends("stringline --version", 0, "stringline ")
ends("stringline", 2, "a command is wanted")

-- ---- what is made from the table -----------------------------------------------------------------------------------

local page, reference = job "stringline reference man", job "stringline reference"
later(function()
  for _, name in ipairs(COMMANDS) do
    try("manual page: " .. name, page.out:find("\n\\fB" .. name .. "\\fR", 1, true))
    try("reference: " .. name, reference.out:find("\n| `" .. name, 1, true))
  end
  for option in all_help.out:gmatch("%-%-%l[%l-]*") do
    try("manual page: " .. option, page.out:find("\\fB" .. option:gsub("-", "\\-") .. "\\fR", 1, true))
    try("reference: " .. option, reference.out:find(option, 1, true))
  end
end)
local function if_there(program, command)
  ends("command -v " .. program .. " >/dev/null || exit 0; " .. command, 0)
end
if_there("man", "stringline reference man >page.1; [ -z \"$(man -l --warnings page.1 2>&1 >/dev/null)\" ]")
if_there("mandoc", "stringline reference man >page.2; mandoc -T lint -W error page.2")
if_there("bash", "stringline reference bash >c.bash && bash -n c.bash")
if_there("zsh", "stringline reference zsh >c.zsh && zsh -n c.zsh")
if_there("fish", "stringline reference fish >c.fish && fish -n c.fish")

ends("stringline check job.sline --format xml", 2, "it is text, json, gnu")

-- words of a line for bash, the last unfinished -> what is offered; a list that ends with `...` may have more in it
local offered = {
  { "''", "run check sheet explain ..." }, { "ch", "check" },
  { "r", "run rules reference" },
  { "check --format ''", "text json gnu csv html sarif tap ..." },
  { "units --format ''", "text json csv html ..." }, { "test --format ''", "text json gnu csv html tap ..." },
  { "test --format s", "" }, { "units --format t", "text" },
  { "check --format = s", "sarif" }, { "--messages ''", "text json gnu" }, { "--format json exp", "explain" },
  { "sheet job.sline wi", "wire" }, { "explain job.sline R6", "R60 R62 R63 ..." },
  { "describe calc.bend", "calc.bends" },
  { "units --o", "--output" }, { "check --o", "--on --output" }, { "check --on ''", "" }, { "help sh", "sheet" },
  { "reference m", "markdown man" }, { "run bro", "broken.sline" }, { "check bare.sline bro", "broken.sline" },
  { "units -o bro", "broken.sline" }, { "explain Q00", "Q003 Q004 Q009 ..." },
}
local asking = { "stringline reference bash >o.bash; cat >ask.bash <<'END'\nsource ./o.bash\n",
  "try() { COMP_WORDS=(stringline \"$@\"); COMP_CWORD=$#; COMPREPLY=(); _stringline; echo \"${COMPREPLY[*]}\"; }\n" }
for _, o in ipairs(offered) do asking[#asking + 1] = "try " .. o[1] .. "\n" end
local asked = job("mkdir -p path; ln -sf " .. lanes.quoted(lanes.binary) .. " path/stringline; " ..
  table.concat(asking) .. "END\nPATH=$PWD/path:$PATH bash ask.bash")
later(function()
  local i = 0
  for line in asked.out:gmatch("(.-)\n") do
    i = i + 1
    local wanted, whole = offered[i][2]:gsub(" %.%.%.$", "")
    local ok = whole == 1 or line == wanted
    for word in wanted:gmatch("%S+") do ok = ok and (" " .. line .. " "):find(" " .. word .. " ", 1, true) end
    local begun = offered[i][1]:match("([%w.]*)$")           -- nothing that begins otherwise, nothing twice
    local seen = {}
    for word in line:gmatch("%S+") do
      ok = ok and not seen[word] and (begun == "" or word:gsub("^%-+", ""):find(begun, 1, true) == 1)
      seen[word] = true
    end
    try("bash completes `" .. offered[i][1] .. "`", ok, line)
  end
  try("bash completes all", i == #offered, asked.err)
end)

lanes.run(jobs)
for _, f in ipairs(after) do f() end
print(("command-line: %d passed, %d failed"):format(passed, failed))
lanes.leave(failed == 0 and passed > 0 and 0 or 1)
