#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- What a page says and does not say: tests/pages.lua BINARY [FILE ...], from the top folder of the project.
--
-- The cases stand in tests/pages/*.case; docs/cases.md says how they read ("Cases of pages").  Each runs on a copy of
-- its job's folder, in which texts of the script may be changed.  Blanks and line ends count as one blank, so that no
-- case hangs on where a line breaks.
package.path = arg[0]:gsub("[^/]*$", "") .. "?.lua"
local lanes = require "lanes"
local _, chosen = lanes.options("tests/pages.lua BINARY [FILE ...]")

local JOBS = { "examples/", "tests/results/jobs/", "tests/golden/jobs/", "tests/pages/jobs/", "tests/whatif/" }
local FOLDER = "tests/pages/"
local KEYS = "case, job, from, change, file, script, run, exit, has, lacks, first, once, screen"

local failed = 0
local function fault(file, line, text)
  failed = failed + 1
  print(("%s:%d: %s"):format(file, line, text))
end

-- ---- reading -------------------------------------------------------------------------------------------------------

-- "OLD => NEW", \n for a line end.
local function replacement(text)
  local old, new = text:match "^(.-)%s+=>%s*(.*)$"
  if not old or old == "" then return nil end
  return { old = old:gsub("\\n", "\n"), new = new:gsub("\\n", "\n") }
end

local function read_cases(file)
  local list, case, run, job, number = {}, nil, nil, nil, 0
  local function bad(text) fault(file, number, text) end
  local words = {}
  function words.job(rest) if case then case.job = rest else job = rest end end
  function words.case(rest)
    case, run = { name = rest, job = job, file = file, line = number, changes = {}, script = {}, runs = {} }, nil
    list[#list + 1] = case
  end
  words["from"] = function(rest) case.source = rest end
  function words.change(rest)
    local r = replacement(rest)
    if not r then return bad "'change' wants OLD => NEW" end
    r.file, r.line = "job.sline", number
    case.changes[#case.changes + 1] = r
  end
  function words.file(rest)
    local name, text = rest:match "^(%S+)%s+(.*)$"
    local r = name and replacement(text)
    if not r then return bad "'file' wants NAME OLD => NEW" end
    r.file, r.line = name, number
    case.changes[#case.changes + 1] = r
  end
  function words.script(rest) case.script[#case.script + 1] = rest end
  function words.run(rest)
    run = { args = rest, line = number, expects = {} }
    case.runs[#case.runs + 1] = run
  end
  function words.exit(rest) run.exit = math.tointeger(tonumber(rest)) or bad "'exit' wants a number" end
  for _, key in ipairs { "has", "lacks", "first", "once", "screen" } do
    words[key] = function(rest) run.expects[#run.expects + 1] = { key = key, text = rest, line = number } end
  end
  for line in (lanes.read(file) .. "\n"):gmatch "([^\n]*)\n" do
    number = number + 1
    local key, rest = line:match "^%s*(%S+)%s*(.-)%s*$"
    if key and key:sub(1, 1) ~= "#" then
      local of_run = key == "exit" or key == "has" or key == "lacks" or key == "first" or key == "once" or
          key == "screen"
      if not words[key] then bad("no such word: " .. key .. "; a line begins with one of " .. KEYS)
      elseif rest == "" then bad("nothing stands behind '" .. key .. "'")
      elseif not case and key ~= "case" and key ~= "job" then bad("'" .. key .. "' stands before the first case")
      elseif of_run and not run then bad("'" .. key .. "' stands before the first run of its case")
      else words[key](rest) end
    end
  end
  for _, c in ipairs(list) do
    number = c.line
    if not c.source then bad("the case '" .. c.name .. "' has no 'from': why must it be so?") end
    if #c.runs == 0 then bad("the case '" .. c.name .. "' runs nothing") end
    for _, r in ipairs(c.runs) do
      number = r.line
      if not r.exit and #r.expects == 0 then bad("this run expects nothing") end
    end
  end
  return list
end

-- ---- jobs ----------------------------------------------------------------------------------------------------------

local function folder_of(job)
  for _, place in ipairs(JOBS) do
    if job and lanes.read(place .. job .. "/job.sline") then return place .. job end
  end
end

-- All of a text replaced, without patterns; nil if it does not stand there.
local function replaced(text, old, new)
  local parts, at = {}, 1
  local from, to = text:find(old, 1, true)
  if not from then return nil end
  while from do
    parts[#parts + 1] = text:sub(at, from - 1) .. new
    at = to + 1
    from, to = text:find(old, at, true)
  end
  return table.concat(parts) .. text:sub(at)
end

-- A copy of the job's folder with the case's changes; nil, told, where one does not fit.
local function prepared(case, number)
  local folder = folder_of(case.job)
  if not folder then return fault(case.file, case.line, "no job is called " .. tostring(case.job)) end
  local own = lanes.folder .. "/job" .. number
  if not os.execute("cp -R " .. lanes.quoted(folder) .. " " .. lanes.quoted(own)) then lanes.leave(3) end
  local was = false
  for _, run in ipairs(case.runs) do was = was or run.args:find("was/", 1, true) end
  if was and not os.execute("cp -R " .. lanes.quoted(folder) .. " " .. lanes.quoted(own .. "/was")) then
    lanes.leave(3)
  end
  for _, change in ipairs(case.changes) do
    local path = own .. "/" .. change.file
    local text = lanes.read(path)
    local new = text and replaced(text, change.old, change.new)
    if not new then
      return fault(case.file, change.line, text and "'" .. change.old .. "' does not stand in " .. change.file ..
          " of " .. folder or "no file " .. change.file .. " in " .. folder)
    end
    lanes.write(path, new)
  end
  if #case.script > 0 then
    lanes.write(own .. "/job.sline", lanes.read(own .. "/job.sline") .. "\n" .. table.concat(case.script, "\n") .. "\n")
  end
  return own
end

-- ---- running -------------------------------------------------------------------------------------------------------

local files, jobs = {}, {}
for _, name in ipairs(lanes.files(FOLDER, "%.case$")) do
  if not chosen or chosen[FOLDER .. name] or chosen[name] then files[#files + 1] = FOLDER .. name end
end
local count = 0
for _, file in ipairs(files) do
  for _, case in ipairs(read_cases(file)) do
    count = count + 1
    local folder = prepared(case, count)
    for _, run in ipairs(folder and case.runs or {}) do
      jobs[#jobs + 1] = { case = case, run = run, folder = folder, join = true, one = count,
                          command = "stringline " .. run.args:gsub("%f[%w]JOB%f[%W]", "job.sline") }
    end
  end
end
lanes.run(jobs)

-- What a terminal shows of a page before anybody scrolls.
local function first_screen(text) return text:match("^" .. ("[^\n]*\n"):rep(24)) or text end

local function plain(text) return (text:gsub("%s+", " ")) end

local function times(text, part)
  local n, at = 0, 1
  while true do
    local from, to = text:find(part, at, true)
    if not from then return n end
    n, at = n + 1, to + 1
  end
end

-- Why the text does not do what is expected of it; nil if it does.
local function wrong(expect, out)
  local want, text = plain(expect.text), plain(out)
  if expect.key == "first" then
    local line = plain(out:match "[^\n]*")
    return not line:find(want, 1, true) and "the first line is: " .. line
  end
  if expect.key == "screen" then
    return times(plain(first_screen(out)), want) == 0 and "not on the first screen: " .. want
  end
  local n = times(text, want)
  if expect.key == "has" then return n == 0 and "not there: " .. want end
  if expect.key == "lacks" then return n > 0 and "there: " .. want end
  return n ~= 1 and n .. " times there: " .. want
end

local passed = 0
for _, job in ipairs(jobs) do
  local reasons, run = {}, job.run
  local function bad(line, text) reasons[#reasons + 1] = { line, text } end
  if run.exit and job.status ~= run.exit then
    bad(run.line, ("exit %d, wanted %d: %s"):format(job.status, run.exit, job.command))
  end
  for _, expect in ipairs(run.expects) do
    local why = wrong(expect, job.out)
    if why then bad(expect.line, why) end
  end
  if #reasons == 0 then passed = passed + 1
  else
    failed = failed + 1
    print(("not ok %s:%d: %s"):format(job.case.file, job.case.line, job.case.name))
    for _, r in ipairs(reasons) do print(("  %s:%d: %s"):format(job.case.file, r[1], r[2])) end
    print("  " .. job.command .. "\n" .. job.out:gsub("[^\n]+", "  | %0"):sub(1, 4000))
  end
end
print(("pages: %d passed, %d failed"):format(passed, failed))
lanes.leave(failed == 0 and passed > 0 and 0 or 1)
