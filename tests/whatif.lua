-- SPDX-License-Identifier: MIT
-- Jobs judged with other inputs: put in by the engine for variants, which keeps what a change does not reach; put in
-- and all worked out again; and declared with them, in a state of its own or as a process.  All that an outcome says
-- must be the same to the last bit and word, a refusal the same words, and the job itself afterwards what it was.
-- Run by tests/whatif_test.c, which gives `in_host`: whatif_test [whole | all [WORDS]], from the top folder of the
-- project.  Without a part a sample, which every build tries; whole: each input of each job once; all: each input with
-- each of its values; WORDS: only jobs that have them in their names.
package.path = "tests/?.lua;" .. package.path
local json = require "json"
local jobs = require "jobs"
local RUN = "tests/whatif_run.lua"
local PARTS = {                              -- changes of a job at most, random jobs and the changes of each
  sample = { changes = 8, random = 3, each = 4 },
  whole = { changes = 65, random = 8, each = 20 },
  all = { changes = 1e9, random = 40, each = 200 },
}
local part, only = PARTS[arg[1] or "sample"] or error("no part " .. arg[1]), arg[2]
local binary = arg[0]:gsub("tests/whatif_test$", "stringline")
local SEED = 20261128

local passed, failed = 0, 0

-- ---- what is tried -------------------------------------------------------------------------------------------------

local function read(path)
  local file = assert(io.open(path, "rb"))
  local text = file:read "a"
  file:close()
  return text
end

local function write(path, text)
  local file = assert(io.open(path, "wb"))
  assert(file:write(text))
  file:close()
end

local function shuffled(r, list)
  for i = #list, 2, -1 do
    local k = r.whole(1, i)
    list[i], list[k] = list[k], list[i]
  end
  return list
end

-- Some changes of a job, in an order of their own: { "path=value" ... } each; most of one input, some of two or three.
local function changes_of(inputs, most, r)
  local list = {}
  for _, x in ipairs(shuffled(r, inputs)) do
    for i, edge in ipairs(shuffled(r, x.edges)) do
      if #list < most and (i == 1 or most == 1e9) then list[#list + 1] = { edge } end
    end
    if x.bad[1] and (most == 1e9 or #list < most and r.yes(10)) then list[#list + 1] = { r.of(x.bad) } end
  end
  for _ = 1, #list // 5 do
    local set, has = {}, {}
    for _ = 1, r.whole(2, 3) do
      local x = r.of(inputs)
      if not has[x.path] then set[#set + 1] = r.of(x.edges) end
      has[x.path] = true
    end
    if #set > 1 then list[#list + 1] = set end
  end
  return shuffled(r, list)
end

-- A number of a script's line with one of its digits another: from, to, and what stands there then.
local function other_number(line, r)
  local spots = {}
  for from, text, to in line:gsub('"[^"]*"', function(t) return ("x"):rep(#t) end):gsub("%-%-.*", "")
      :gmatch "%f[%w.]()(%d[%d.]*[%a%%]*%d*/?%a*)()" do
    if not line:find("^[%w+%[-]", to) and not line:find("^[+-]", from - 1) then
      spots[#spots + 1] = { from, text, to }
    end
  end
  if not spots[1] then return nil end
  local from, text, to = table.unpack(r.of(spots))
  local digits = #text:match "^[%d.]+"
  local at
  repeat at = r.whole(1, digits) until text:sub(at, at) ~= "."
  local digit = (tonumber(text:sub(at, at)) + r.whole(1, 9)) % 10
  if digit == 0 and at == 1 then digit = 1 + r.whole(1, 8) end
  return from, to - 1, text:sub(1, at - 1) .. digit .. text:sub(at + 1)
end

-- Literals of a job's scripts changed: { "job.sline:12:9=30deg", file = "job.sline", text = the script with it }.
local function literals_of(folder, files, most, r)
  local list = {}
  for _ = 1, most do
    local file = r.of(files)
    local lines = {}
    for line in read(folder .. "/" .. file):gmatch "([^\n]*)\n" do lines[#lines + 1] = line end
    local n = r.whole(1, #lines)
    local from, to, new = other_number(lines[n], r)
    if from and lines[n]:sub(from, to) ~= new then
      lines[n] = lines[n]:sub(1, from - 1) .. new .. lines[n]:sub(to + 1)
      list[#list + 1] = { ("%s:%d:%d=%s"):format(file, n, from, new), file = file,
                          text = table.concat(lines, "\n") .. "\n" }
    end
  end
  return list
end

-- ---- comparing -----------------------------------------------------------------------------------------------------

local function lines_of(told)
  if told.refusal then return { told.refusal } end
  local list = {}
  for _, o in ipairs(told.outcomes) do
    list[#list + 1] = o[1]
    for line in o[2]:gmatch "[^\n]+" do list[#list + 1] = o[1] .. ": " .. line end
  end
  return list
end

-- The first line in which two differ, of both; nil where they are the same.
local function difference(a, b)
  local x, y = lines_of(a), lines_of(b)
  for i = 1, math.max(#x, #y) do
    if x[i] ~= y[i] then return tostring(x[i]), tostring(y[i]) end
  end
end

local function quoted(text) return "'" .. text:gsub("'", "'\\''") .. "'" end

-- What the command says of the same job: of each rule that is broken or unknown its numbers and words.
local function of_process(script, set)
  local words = { binary, "check", "--format", "json", quoted(script) }
  for _, s in ipairs(set) do words[#words + 1] = "--set " .. quoted(s) end
  local pipe = io.popen(table.concat(words, " ") .. " 2>&1")
  local out = pipe:read "a"
  pipe:close()
  local read, d = pcall(json.read, out:match '^{"severity".-\n' or out)     -- of a refused job the first that is wrong
  if not read then return out end
  if not d.rules then return "[" .. tostring(d.code) .. "]" end
  local list = {}
  for i, o in ipairs(d.rules) do
    local unknown = {}
    for k, u in ipairs(o.unknown or {}) do unknown[k] = u.text end
    local row = { o.id, o.subject, o.outcome }
    for _, name in ipairs { "value", "limit", "margin" } do
      local v = o[name]
      if type(v) == "table" then v = v.si end
      row[#row + 1] = v ~= nil and tonumber(v) and ("%.15g"):format(v) or v ~= nil and tostring(v) or "-"
    end
    row[#row + 1] = o.words or "-"
    row[#row + 1] = table.concat(unknown, "; ")
    list[i] = table.concat(row, " | ")
  end
  return table.concat(list, "\n")
end

-- The job with another text in one of its scripts, which stands in a folder of its own.
local function written_so(folder, change)
  local other = os.tmpname()
  os.remove(other)
  assert(os.execute("mkdir " .. other))
  local script = read(folder .. "/job.sline")
  write(other .. "/job.sline", script)
  write(other .. "/" .. change.file, change.text)
  local told = assert(in_host(other, RUN, { script = other .. "/job.sline", set = {} }, folder))
  os.execute("rm -r " .. other)
  local function here(text) return (text:gsub(other:gsub("%p", "%%%0"), (folder:gsub("%%", "%%%%")))) end
  if told.refusal then told.refusal = here(told.refusal) end
  for _, o in ipairs(told.outcomes or {}) do o[2] = here(o[2]) end
  return told
end

-- ---- one job -------------------------------------------------------------------------------------------------------

-- What is wrong with the engine on this job: { "..." ... }, and how many changes were tried.
local function complaints_of(folder, part_most, seed)
  local script, complaints, r = folder .. "/job.sline", {}, jobs.chance(seed)
  local function complain(set, how, a, b)
    complaints[#complaints + 1] = ("%s: %s\n      declared %s\n      %s"):format(table.concat(set, " "), how, a, b)
  end
  local function ask(question)
    question.script = script
    return in_host(folder, RUN, question)
  end
  local function compare(set, how, declared, other)
    local a, b = difference(declared, other)
    if a then complain(set, how, a, "it says  " .. b) end
  end
  local inputs, why = ask { inputs = true }
  if not inputs then return { "does not run as it is: " .. why.text }, 0 end
  local most = math.min(part_most, part_most * 300 // #inputs + 1)                 -- thirty racks alike teach no more
  local changes = changes_of(inputs, most, r)
  for _, change in ipairs(literals_of(folder, inputs.files, math.min(most // 4, 100), r)) do
    table.insert(changes, r.whole(1, #changes), change)
  end
  local kept = assert(ask { changes = changes, remedies = true })
  local forced = assert(ask { changes = changes, forced = true })
  local base = assert(ask { set = {}, remedies = true })
  compare({ "as declared" }, "after all variants", base, kept.after)
  compare({ "as declared" }, "before and after all that is worked out again", forced.base, forced.after)
  compare({ "as declared" }, "as a variant with nothing put in", forced.base, kept.nothing)
  if not kept.reaches then
    complain({ "as declared" }, "what rests on an input", "the same before and after", "it says  another")
  end
  for i, set in ipairs(changes) do
    local declared = set.text and written_so(folder, set) or assert(ask { set = set })
    compare(set, "kept", declared, kept.variants[i])
    compare(set, "all worked out again", declared, forced.variants[i])
    if kept.variants[i].unreached then
      complain(set, "it is no input of " .. kept.variants[i].unreached, "another outcome", "by its notes the same")
    end
    if i % 40 == 7 and not set.text then
      local a, b = of_process(script, set), kept.variants[i].brief
      if a ~= b then complain(set, "as a process", a, "it says  " .. b) end
    end
  end
  return complaints, #changes
end

local function check(name, complaints, tried)
  if #complaints == 0 then passed = passed + 1 return end
  failed = failed + 1
  print(("not ok %s (%d changes)"):format(name, tried))
  for i, c in ipairs(complaints) do
    if i > 6 then print("    and " .. #complaints - 6 .. " more") break end
    print("    " .. c)
  end
end

-- ---- all -----------------------------------------------------------------------------------------------------------

local function wanted(name) return not only or name:find(only, 1, true) ~= nil end

-- The folders with a job of those that other tests have.
local function written()
  local list = {}
  local pipe = io.popen "ls -d examples/*/ tests/whatif/*/ tests/*/jobs/*/"
  for folder in pipe:lines() do list[#list + 1] = folder:gsub("/$", "") end
  pipe:close()
  return list
end

for i, folder in ipairs(written()) do
  if wanted(folder) then check(folder, complaints_of(folder, part.changes, SEED + i)) end
end

local folder = os.tmpname()
os.remove(folder)
assert(os.execute("mkdir " .. folder))
for seed = SEED, SEED + part.random - 1 do
  local name = "random job " .. seed
  if wanted(name) then
    local function tried(job)
      for file, text in pairs(jobs.files(job)) do write(folder .. "/" .. file, text) end
      return complaints_of(folder, part.each, seed)
    end
    local job = jobs.make(seed)
    local complaints, n = tried(job)
    if #complaints > 0 then
      job = jobs.minimal(job, function(smaller) return #tried(smaller) > 0 end)
      complaints, n = tried(job)
      print(jobs.files(job)["job.sline"])
    end
    check(name, complaints, n)
  end
end
os.execute("rm -r " .. folder)

if arg[1] then print(("whatif: %d passed, %d failed"):format(passed, failed))
else
  print(("[  PASSED  ] %d test(s)."):format(passed))
  if failed > 0 then print(("[  FAILED  ] %d test(s)."):format(failed)) end
end
return failed == 0 and 0 or 1
