#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- `check FOLDER ...` and `rules SCRIPT`: which jobs are found, that each comes out as alone, how they are counted.
-- tests/folders.lua BINARY, from the top folder of the project. What is expected is counted by hand from the scripts
-- below; days from the calendar.
package.path = arg[0]:gsub("[^/]*$", "") .. "?.lua"
local lanes = require "lanes"
local json = require "json"
local schema = require "schema"
lanes.options("tests/folders.lua BINARY")

local house = lanes.folder .. "/house"
lanes.make_folders { house, house .. "/.old", house .. "/a b", house .. "/deep/er/still", house .. "/early",
    house .. "/empty",
    lanes.folder .. "/none" }
lanes.copy({ "examples/egg-farm" }, house .. "/egg")

local function job(name, stage, more)
  return ('job { name = "%s", client = "c", stage = "%s", on = "2026-11-02",\n' ..
    '  codes = { electrical = "NEC 2023", loads = "ASCE 7-16", wood = "NDS 2018", building = "IBC 2021" } }\n%s\n')
    :format(name, stage, more or "")
end
local function ticket(number, to)
  return ('locate { ticket = "%s", valid_from = "2026-10-01", valid_to = "%s", answers = { "gas: clear" } }')
    :format(number, to)
end
local H1 = 'rule { id = "H1", severity = "stop", says = "ours", cite = "house", caution = "c",\n' ..
  "  check = function() return at_most(%s, 2ft) end }"
lanes.write(house .. "/a b/job.sline", job("Ended", "permit", ticket("T-1", "2026-10-30") .. "\n" .. H1:format "3ft"))
lanes.write(house .. "/deep/er/still/job.sline", job("Deep", "permit", ticket("T-2", "2026-11-02") .. "\n" ..
  H1:format "5ft"))
lanes.write(house .. "/quote.sline", job("Quote", "quote", H1:format "1ft"))
lanes.write(house .. "/built.sline", job("Built", "as built", ticket("T-3", "2026-10-05")))
lanes.write(house .. "/.old/job.sline", job("Hidden", "quote"))
lanes.write(house .. "/early/job.sline", job("Early", "permit",
  'locate { ticket = "T-4", valid_from = "2026-11-04", valid_to = "2026-11-20", answers = { "gas: clear" } }'))
lanes.write(house .. "/syntax.sline", job("Syntax", "quote", "rack {"))
lanes.write(house .. "/jobless.sline", '-- job { }\n--[[ job {\n]] local x = "job { }"\nlocal y = [==[\njob {]==]\n' ..
  "local job_of = { job = 1 } local z = x.job\n")
lanes.write(house .. "/notes.txt", "job { }\n")
os.execute("ln -s . '" .. house .. "/circle'; ln -s nowhere.sline '" .. house .. "/lost.sline'; ln -s quote.sline '" ..
  house .. "/linked.sline'; ln -s ../../out.sline '" .. house .. "/a b/out.sline'; ln -s ../house/quote.sline '" ..
  house .. "/back.sline'; mkfifo '" .. house .. "/pipe.sline'")
lanes.write(lanes.folder .. "/out.sline", job("Outside", "quote"))

local passed, failed = 0, 0
local function try(what, ok, why)
  if ok then passed = passed + 1 return end
  failed = failed + 1
  print("not ok " .. what .. (why ~= nil and "\n    " .. tostring(why):gsub("\n", "\n    ") or ""))
end

local jobs = {}
local function ask(command)
  jobs[#jobs + 1] = { command = "( " .. command .. " )", folder = lanes.folder }
  return jobs[#jobs]
end

local all = ask "stringline check house --format json"
local again = ask "stringline check house/ house house/egg/job.sline --format json"
local fresh = ask "stringline check house --on 2026-12-25 --format json"
local stale = ask "stringline check house --on 2026-12-27 --format json"
local one_day = ask "stringline check house --on 2026-11-20 --format json"
local text = ask "stringline check house"
local csv = ask "stringline check house --format csv"
local html = ask "stringline check house --format html"
local none = ask "stringline check none"
local jobless = ask "stringline check house/jobless.sline house/empty"
local boxed = ask "stringline check house --untrusted"
local tap = ask "stringline check house --format tap"
local gnu = ask "stringline check house --format gnu"
local sarif = ask "stringline check house/quote.sline house --format sarif"
local to_file = ask "stringline check house -o out.txt; s=$?; cat out.txt; exit $s"
local alone = {}
local paths = { "house/a b/job.sline", "house/built.sline", "house/deep/er/still/job.sline", "house/early/job.sline",
    "house/egg/job.sline", "house/linked.sline", "house/quote.sline", "house/syntax.sline" }
for _, path in ipairs(paths) do alone[path] = ask("stringline check '" .. path .. "' --format json") end
local rules = ask "stringline rules house/egg/job.sline --format json"
local rules_text = ask "stringline rules 'house/a b/job.sline'"
local six = ask 'stringline rules house/egg/job.sline --alternate "six in series" --format csv'
local whole = ask "stringline run house/egg/job.sline --format json"
local shape = ask "stringline reference schema"
lanes.run(jobs)

-- ---- which jobs ----------------------------------------------------------------------------------------------------

local d = json.read(all.out)
local found = {}
for i, j in ipairs(d.jobs) do found[i] = j.script end
try("jobs by name, hidden and circles left out", table.concat(found, "|") == table.concat(paths, "|"),
  table.concat(found, "|"))
local left = {}
for _, f in ipairs(d.left_out) do left[f.path] = f.why end
try("a script without a job", left["house/jobless.sline"] == "it declares no job", left["house/jobless.sline"])
try("a house file", left["house/egg/two-ridges.sline"] == "it declares no job")
try("a link in a circle", left["house/circle"] == "a link to a folder is not followed", left["house/circle"])
try("a link that leads nowhere", left["house/lost.sline"] == "the link leads nowhere", left["house/lost.sline"])
for _, path in ipairs { "house/a b/out.sline", "house/back.sline" } do
  try("a link out of the folder: " .. path, left[path] == "the link leads out of the folder", left[path])
end
try("a pipe", left["house/pipe.sline"] == "it is no file", left["house/pipe.sline"])
try("what is hidden or no script is not named", not left["house/.old/job.sline"] and not left["house/notes.txt"])
-- `house` and `house/` are spelt apart, and the egg farm is in both and named besides: each path stands once.
local twice = {}
for i, j in ipairs(json.read(again.out).jobs) do twice[i] = j.script end
try("each path once", #twice == #paths, table.concat(twice, "|"))

-- ---- what each comes to --------------------------------------------------------------------------------------------

for _, j in ipairs(d.jobs) do
  local a = alone[j.script]
  try(j.script .. ": the status it has alone", a.status == j.exit, a.status .. ", " .. j.exit)
  if a.status < 2 then
    local v = json.read(a.out).verdict
    for _, list in ipairs { "broken", "unknown", "waived" } do
      try(j.script .. ": " .. list .. " as alone", table.concat(j[list], " ") == table.concat(v[list], " "))
    end
  end
end
local by = {}
for _, j in ipairs(d.jobs) do by[j.script] = j end
try("one that cannot be read is told", by["house/syntax.sline"].state == "not judged" and
  by["house/syntax.sline"].why:find "is not closed", by["house/syntax.sline"].why)
try("and does not keep others from it; its error stands on standard error", all.err:find("house/syntax.sline", 1, true),
  all.err)
try("the worst status", all.status == 2, all.status)
try("at stage quote what is unknown is open", by["house/quote.sline"].state == "open", by["house/quote.sline"].state)

-- ---- the house -----------------------------------------------------------------------------------------------------

local stops = {}
for _, s in ipairs(d.stops) do stops[s.rule] = s end
-- H1 is broken where the script holds 3 ft and 5 ft against 2 ft, and holds at 1 ft.
try("H1 stops two jobs", stops.H1 and table.concat(stops.H1.broken, "|") ==
  "house/a b/job.sline|house/deep/er/still/job.sline", stops.H1 and table.concat(stops.H1.broken, "|"))
for i = 2, #d.stops do
  local a, b = d.stops[i - 1], d.stops[i]
  try("what stops most stands first: " .. a.rule .. ", " .. b.rule, #a.broken + #a.unknown >= #b.broken + #b.unknown)
end
-- From hand: 30 October to 2 November are 3 days; 2 to 15 November 13, to 20 November 18.  The job that is built needs
-- none any more.
local function tickets(x)
  local out = {}
  for i, t in ipairs(x.tickets) do out[i] = t.ticket .. " " .. t.days end
  return table.concat(out, ", ")
end
try("tickets, the first to end first", tickets(d) == "T-1 -3, T-2 0, P-113-207 13, T-4 18", tickets(d))
local early
for _, t in ipairs(d.tickets) do early = t.ticket == "T-4" and t or early end
try("a ticket that has not begun", early.begins == 2, early.begins)
-- By hand, from the two papers and the register: three subjects are the engineer's, six the electrician's.
try("what nobody judges stands beside the verdict",
  by["house/egg/job.sline"].verdict:find("; 9 subjects not judged but by paper", 1, true))
-- 20 November: 21, 18 and 5 days later, and the last day of the other.
local later = json.read(one_day.out)
try("tickets on another day", tickets(later) == "T-1 -21, T-2 -18, P-113-207 -5, T-4 0", tickets(later))
try("all on that day", later.jobs[1].on == "2026-11-20" and later.jobs[5].on == "2026-11-20")
-- From hand: 26 October to 25 December are 5 + 30 + 25 = 60 days, as many as the house's limit; two days later 62.
-- The other vendor's are of 28 October: 60 days then.
local function prices(x)
  local out = {}
  for i, p in ipairs(json.read(x.out).stale_prices) do out[i] = p.script .. " " .. p.vendor .. " " .. p.days end
  return table.concat(out, ", ")
end
try("prices as old as may be", prices(fresh) == "", prices(fresh))
try("prices that are older", prices(stale) == "house/egg/job.sline Gap Creek Electric 62", prices(stale))
for _, words in ipairs { "8 jobs: ", "4 NOT READY", "1 NOT JUDGED", "ended 3 days ago", "ends today",
    "ends in 13 days", "not valid yet", "2 with something still to find out, 1 whose" } do
  try("the page says: " .. words, text.out:find(words, 1, true), text.out)
end
try("CSV has a line for each", select(2, csv.out:gsub("\nhouse/[^,\n]*%.sline,", "")) == #paths, csv.out)
try("HTML is one page", select(2, html.out:gsub("<html", "")) == 1)
try("into a file", to_file.out == text.out, to_file.out)
local shapes = json.read(shape.out)
for _, x in ipairs { d, later, json.read(rules.out) } do
  local bad = schema(shapes, x)
  try(x.document .. " is as the schema says", #bad == 0, bad[1])
end

-- ---- refused -------------------------------------------------------------------------------------------------------

for _, r in ipairs { { none, "no script stands in the folder none" }, { jobless, "U009" }, { boxed, "takes no folder" },
    { tap, "of a folder there is a summary" }, { gnu, "of a folder there is a summary" },
    { sarif, "of a folder there is a summary" } } do
  try(r[1].command .. ": refused", r[1].status == 2 and r[1].err:find(r[2], 1, true), r[1].status .. r[1].err)
end

-- ---- rules ---------------------------------------------------------------------------------------------------------

-- Every rule of the run stands on the page once, with the outcome that it has there.
local outcomes = {}
for _, o in ipairs(json.read(whole.out).rules) do
  outcomes[o.id] = outcomes[o.id] == "holds" and "holds" or o.waiver and "waived by " .. o.waiver.by or o.outcome
end
local listed, n = {}, 0
for _, b in ipairs(json.read(rules.out).blocks) do
  if b.kind == "table" and b.columns[1].key == "rule" then
    local idle = b.columns[3].key == "why"
    for _, row in ipairs(b.rows) do
      local id = row[1].text
      try("rules: " .. id .. " once", not listed[id])
      -- "holds, 1 of 2": of the others the rule is not asked.
      listed[id], n = idle and "not applicable" or row[5].text:gsub("^holds, %d+ of %d+$", "holds"), n + 1
    end
  end
end
local of = 0
for id, outcome in pairs(outcomes) do
  of = of + 1
  try("rules: " .. id .. " " .. outcome, listed[id] == outcome, listed[id])
end
try("rules: all of them, and no other", n == of, n .. " of " .. of)
for _, words in ipairs { "\nThis job, house/a b/job.sline\n", "may waive: nobody; line: 4" } do
  try("rules says: " .. words, rules_text.out:find(words, 1, true), rules_text.out)
end
try("an alternate: R41 is broken", six.out:find "R41,[^\n]*,broken,", six.out)
try("and so is the status", six.status == 1, six.status)

-- The limits of the egg farm's county and house, and the rules of the trade's list that are held against them: R02 the
-- distance from the lot line, R06 wells, R03 height, R05 the seal, R48 voltage drop, R68 what one person lifts.
local wanted = { setback = "R02", well_setback = "R06", height = "R03", seal = "R05", voltage_drop = "R48",
    lift_per_person = "R68" }
local lines = { setback = "plateau-county.sline:4:3", voltage_drop = "two-ridges.sline:3:3" }
local met = 0
for _, l in ipairs(json.read(rules.out).limits) do
  if wanted[l.name] then
    met = met + 1
    try("limit " .. l.name .. " is read by " .. wanted[l.name], table.concat(l.read_by, " ") == wanted[l.name],
      table.concat(l.read_by, " "))
  end
  if lines[l.name] then try("limit " .. l.name .. ": its place", l.place == "house/egg/" .. lines[l.name], l.place) end
end
try("the limits", met == 6, met)
try("a limit that nobody gives", rules_text.out:find("Asked for and given by nobody: [^.]*setback %(R02%)"),
  rules_text.out)

print(("folders: %d passed, %d failed"):format(passed, failed))
lanes.leave(failed == 0 and passed > 0 and 0 or 1)
