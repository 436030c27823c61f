#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- Files that a run reads and writes: links that lead out of their folder, one file under many names, outputs that are
-- no plain files, and what is left where a run is ended early.
-- tests/files.lua BINARY, from the top folder of the project.
package.path = arg[0]:gsub("[^/]*$", "") .. "?.lua"
local lanes = require "lanes"
local json = require "json"
lanes.options("tests/files.lua BINARY")

local passed, failed = 0, 0
local function try(what, ok, why)
  if ok then passed = passed + 1 return end
  failed = failed + 1
  print("not ok " .. what .. (why and why ~= "" and "\n    " .. why:sub(1, 1500):gsub("\n", "\n    ") or ""))
end

local cases = {}
-- wants: status, and texts that stand in what is printed, each on one line of it; "!text" must not.
local function case(what, command, status, ...)
  local one = { what = what, command = command, folder = lanes.folder .. "/" .. #cases + 1, status_wanted = status,
      wants = { ... }, join = true }
  cases[#cases + 1] = one
  return one
end

-- Each word of the language that names a file, with a name put in.
local HEAD = 'job { name = "N", client = "C", stage = "quote" }\n'
local words = {
  { "use", 'local x = use "%s"', ".sline" }, { "place", 'place "%s"', ".sline" }, { "house", 'house "%s"', ".sline" },
  { "parts", 'parts "%s.csv"', ".csv" }, { "prices", 'prices "%s.csv"', ".csv" },
  { "a version", 'house { "%s", version = "2026-03" }', ".sline" },
}
local SECRET = "SECRET"
local GOT_OUT = "leads out of the folder that it is looked for in"

-- Writes a script from the shell, as it stands.
local function script(text, path)
  return "cat >" .. (path or "job/job.sline") .. " <<'END'\n" .. text .. "\nEND\n"
end
local START = "mkdir -p job/sub out shared\n"

-- ---- links ---------------------------------------------------------------------------------------------------------

for _, apart in ipairs { "", " --untrusted" } do
  for _, w in ipairs(words) do
    local name, text, ending = w[1], w[2], w[3]
    local function named(as) return script(HEAD .. text:format(as)) end
    local secret = ("echo %s >out/a%s\n"):format(SECRET, ending)
    local ask = "stringline check job/job.sline" .. apart
    case(name .. ": a link out" .. apart,
      START .. secret .. ("ln -s ../out/a%s job/a%s\n"):format(ending, ending) .. named "a" .. ask, 2, "F027",
      "'a" .. ending .. "' " .. GOT_OUT .. ": it is a symbolic link to '../out/a" .. ending .. "'", "!" .. SECRET)
    case(name .. ": a folder that leads out" .. apart,
      START .. secret .. "ln -s ../../out job/sub/far\n" .. named "sub/far/a" .. ask, 2, "F027",
      GOT_OUT .. ": 'sub/far' is a symbolic link to '../../out'", "!" .. SECRET)
    case(name .. ": an absolute link" .. apart, START .. secret ..
      ('ln -s "$PWD/job/b%s" job/a%s; touch job/b%s\n'):format(ending, ending, ending) .. named "a" .. ask, 2, "F027",
      "a link that stays within the folder is relative")
    case(name .. ": out of a folder of STRINGLINE_PATH" .. apart, START .. secret ..
      ("ln -s ../out/a%s shared/a%s\n"):format(ending, ending) .. named "a" .. "STRINGLINE_PATH=shared " .. ask, 2,
      "F027", GOT_OUT, "!" .. SECRET)
    case(name .. ": the job's folder goes first" .. apart, START .. secret ..
      ("ln -s ../out/a%s job/a%s; touch shared/a%s\n"):format(ending, ending, ending) .. named "a" ..
      "STRINGLINE_PATH=shared " .. ask, 2, "F027", GOT_OUT, "!" .. SECRET)
    case(name .. ": what the kernel makes up" .. apart, START ..
      ("ln -s /proc/self/environ job/a%s\n"):format(ending) .. named "a" ..
      "SHOWN=" .. SECRET .. " " .. ask, 2, "F027", "!" .. SECRET)
    case(name .. ": a pipe" .. apart, START .. ("mkfifo job/a%s\n"):format(ending) .. named "a" .. ask,
      3)
    case(name .. ": a circle" .. apart, START .. ("ln -s a%s job/a%s\n"):format(ending, ending) .. named "a" .. ask, 3)
  end
  -- What stays inside works, and so does a folder of the path that is itself a link.
  local good = script("return 5", "job/sub/five.sline")
  local plain = HEAD .. 'if use "a" ~= 5 then error("not read") end'
  case("a link that stays inside" .. apart, START .. good .. "ln -s sub/five.sline job/a.sline\n" .. script(plain) ..
    "stringline check job/job.sline" .. apart, 0, "!F027", "!error")
  case("a link to a folder that stays inside" .. apart, START .. good ..
    "ln -s sub job/s; ln -s s/five.sline job/a.sline\n" .. script(plain) ..
    "stringline check job/job.sline" .. apart, 0, "!F027", "!error")
  case("a folder of STRINGLINE_PATH that is a link" .. apart, START .. script("return 5", "out/a.sline") ..
    "ln -s out elsewhere\n" .. script(plain) .. "STRINGLINE_PATH=elsewhere stringline check job/job.sline" .. apart, 0,
    "!F027", "!error")
  case("the folder of the job is a link" .. apart, START .. script("return 5", "job/a.sline") .. "ln -s job farm\n" ..
    script(plain) .. "stringline check farm/job.sline" .. apart, 0, "!F027", "!error")
  -- The script is named by a person; its folder is the one that it was named in.
  case("the script itself is a link" .. apart, START .. script("return 5", "job/a.sline") ..
    script(plain, "out/job.sline") .. "ln -s ../out/job.sline job/job.sline\n" ..
    "stringline check job/job.sline" .. apart, 0,
    "!F027", "!error")
end

case("csv= of --vary", START .. script(HEAD) .. "echo " .. SECRET .. " >out/v.csv; ln -s ../out/v.csv job/v.csv\n" ..
  'stringline sweep job/job.sline --vary "csv=v.csv" --count', 2, "F027", "!" .. SECRET)
case("a job of expect", START .. script(SECRET, "out/o.sline") .. "ln -s ../out/o.sline job/o.sline\n" ..
  script('rule { id = "H1", severity = "note", says = "s", cite = "c", caution = "d", ' ..
    'check = function() return at_most(1ft, 2ft) end }\nexpect { job = "o", holds = { "H1" } }',
    "job/house.sline") .. "stringline test job/house.sline", 2, "F027", "!" .. SECRET)
case("--set file", START .. script("", "job/p.sline") .. script(SECRET, "out/q.sline") ..
  "ln -s ../out/q.sline job/q.sline\n" .. script(HEAD .. 'place "p"') ..
  'stringline check job/job.sline --set "file p=q"', 2, "F027", "!" .. SECRET)

-- An absolute path in a report is of somebody else's making.
case("verify: a report that names a file elsewhere", START .. script(HEAD) .. 'echo "' .. SECRET ..
  '(" >out/elsewhere.sline\n( cd job; stringline run job.sline -o report.txt )\nrm job/job.sline\n' ..
  'sed -i "s|^\\(script .*\\) job.sline|\\1 $PWD/out/elsewhere.sline|" job/report.txt\n' ..
  "grep -q '^script .*/out/elsewhere.sline' job/report.txt && stringline verify job/report.txt", 3, "F021",
  "cannot read the script", "!" .. SECRET)

-- ---- one file ------------------------------------------------------------------------------------------------------

local forty = {}
for i = 0, 39 do forty[i + 1] = ("x[%d] = use '%sfive'"):format(i + 1, ("./"):rep(i)) end
forty[41], forty[42] = "x[41] = use 'six'", "x[42] = use './/seven'"
case("forty spellings, one source", START .. script('print "read"\nreturn { 5 }', "job/five.sline") ..
  "ln -s five.sline job/six.sline; ln job/five.sline job/seven.sline\n" ..
  script(HEAD .. "local x = {}\n" .. table.concat(forty, "\n") ..
    '\nfor i = 2, 42 do if x[i] ~= x[1] then error("another one: " .. i) end end') .. [[
stringline check job/job.sline --format json --messages text >made.json; [ "$(grep -c five.sline made.json)" = 1 ] &&
  ! grep -q 'six.sline\|seven.sline' made.json && echo once]], 0, "once", "!error").reads = 1
case("itself by another name", START .. "ln job/job.sline job/other.sline 2>/dev/null\n" ..
  script(HEAD .. 'use "./job"') .. "stringline check job/job.sline", 2, "E003",
  "files name each other in a circle: job/job.sline -> job/job.sline")
case("a list read twice", START .. "cp " .. lanes.quoted(lanes.top) ..
  "/examples/egg-farm/prices/sawtail-lumber.csv job/p.csv; ln -s p.csv job/q.csv\n" ..
  script(HEAD .. 'prices "p.csv"\nprices "q.csv"') .. "stringline check job/job.sline", 2, "D015",
  [[prices "q.csv" is read twice: it is the file of 'p.csv']])
case("a list read twice, with a dot", START .. "cp " .. lanes.quoted(lanes.top) ..
  "/examples/egg-farm/prices/sawtail-lumber.csv job/p.csv\n" .. script(HEAD .. 'prices "p.csv"\nprices "./p.csv"') ..
  "stringline check job/job.sline", 2, "D015", [[prices "./p.csv" is read twice: it is the file of 'p.csv']])

-- ---- outputs that are no plain files -------------------------------------------------------------------------------

local LEFT = '; s=$?; [ -z "$(find . -name "*.tmp*")" ] || echo LEFT; exit $s'
local JOB = START .. script(HEAD)
local LINKS = "ln -s /dev/stdout link; ln -s /proc/self/fd fds; "
for _, apart in ipairs { "", " --untrusted" } do
  local check = "stringline check job/job.sline" .. apart
  case("-o -" .. apart, JOB .. check .. " >plain; " .. check .. " -o - >got; cmp plain got && [ ! -e - ]", 0)
  for _, name in ipairs { "/dev/stdout", "/dev/fd/1", "/proc/self/fd/1", "link", "/dev/fd/../fd//1",
      "/proc/thread-self/fd/1", "fds/1" } do
    local to = " -o " .. name
    case(to .. ", a file that others write to" .. apart, JOB .. LINKS .. check ..
      " >plain; { echo head; " .. check .. to .. "; echo tail; } >got\n" ..
      "{ echo head; cat plain; echo tail; } >wanted; cmp got wanted", 0)
    case(to .. ", a file that is added to" .. apart, JOB .. LINKS .. check ..
      " >plain; echo head >got; " .. check .. to .. " >>got\n{ echo head; cat plain; } >wanted; cmp got wanted", 0)
  end
  case("-o /dev/stderr" .. apart, JOB .. check .. " >plain; " .. check .. " -o /dev/stderr 2>got; cmp plain got", 0)
  case("-o /dev/fd/7" .. apart, JOB .. check .. " >plain; " .. check .. " -o /dev/fd/7 7>got; cmp plain got", 0)
  case("-o /dev/fd/7, which is not open" .. apart, JOB .. check .. " -o /dev/fd/7", 3, "F040",
    "cannot write '/dev/fd/7': it is not open for writing")
  case("-o onto a device" .. apart, JOB .. check .. " -o /dev/null; [ -c /dev/null ]", 0)
  case("-o onto a full device" .. apart, JOB .. check .. " -o /dev/full", 3, "F040",
    "cannot write '/dev/full': the disk is full")
  case("-o onto a pipe" .. apart, JOB .. check .. " >plain; mkfifo p; { " .. check ..
    " -o p & cat p >got; wait; }; cmp plain got && [ -p p ]", 0)
  case("a full disk as standard output" .. apart, JOB .. check .. " --format json >/dev/full", 3,
    "cannot write to standard output: the disk is full")
  case("standard output closed" .. apart, JOB .. check .. " >&-", 3, "cannot write to standard output: ")
  case("standard output closed, and a file" .. apart, JOB .. check .. " >plain; " .. check ..
    " -o got >&-; cmp plain got", 0)
  case("standard error closed" .. apart, JOB .. "echo 'nonsense(' >>job/job.sline; " .. check .. " -o got 2>&-" .. LEFT,
    apart == "" and 2 or 3)                    -- what the process apart says cannot be passed on
  case("all closed" .. apart, JOB .. "echo 'print \"x\"' >>job/job.sline; " .. check .. " -o got <&- >&- 2>&-" .. LEFT,
    apart == "" and 0 or 3)
end
for _, apart in ipairs { "", " --untrusted" } do
  local run = "stringline run " .. lanes.quoted(lanes.top) .. "/examples/egg-farm/job.sline --format json" .. apart
  for _, to in ipairs { "", " -o -", " -o /dev/stdout" } do
    case("a reader that leaves" .. apart .. to, "set -- " .. lanes.quoted(lanes.binary) ..
      "\n{ " .. run .. to .. "; echo $? >status; } | head -c 1; cat status", 0, "{141").exactly = "{141\n"
  end
end

-- ---- the file that is written --------------------------------------------------------------------------------------

local CHECK = "stringline check job/job.sline"
case("a link is kept", JOB .. "echo old >real; ln -s real l; " .. CHECK .. " -o l; [ -L l ] && ! grep -qx old real", 0)
case("the mode is kept", JOB .. "echo old >real; chmod 604 real; " .. CHECK .. " -o real; stat -c %a real", 0, "604")
case("the owner and the group are kept, where root writes", JOB .. '[ "$(id -u)" = 0 ] || exit 0\n' ..
  "echo old >real; chown 4321:1234 real; chmod 600 real; " .. CHECK .. " -o real\n" ..
  'ls -n real | grep -q "^-rw------- 1 4321 1234 "', 0)
case("a new file is as umask says", JOB .. "umask 027; " .. CHECK .. " -o real; stat -c %a real", 0, "640")
case("onto the script through a link", JOB .. "ln -s job/job.sline l; " .. CHECK .. " -o l", 2, "F023")
case("twice", JOB .. CHECK .. " -o a -o b; [ ! -e a ] && [ ! -e b ]", 0, "U006")
case("onto a picture of the same run", "cp -R " .. lanes.quoted(lanes.top) .. "/examples/egg-farm job\n" ..
  'stringline sweep job/job.sline --vary "rack.tilt=30deg, 40deg" --keep job.power --pictures p >/dev/null; ' ..
  "set -- p/*.svg; cp $1 before; rm -f *.sweep\n" ..
  'stringline sweep job/job.sline --vary "rack.tilt=30deg, 40deg" --keep job.power --pictures p -o $1; s=$?; ' ..
  "cmp before $1; exit $s", 2, "F023")
for _, there in ipairs { { "a symbolic link", "ln -s ../precious" }, { "a device or a pipe", "mkfifo" },
    { "a folder", "mkdir" } } do
  local what, make = there[1], there[2]
  case("pictures where " .. what .. " is", "cp -R " .. lanes.quoted(lanes.top) .. "/examples/egg-farm job\n" ..
    "echo precious >precious; mkdir p; for i in 1 2 3; do " .. make .. " p/rules-$i.svg; done; " ..
    make .. " p/scatter.svg\n" ..
    "timeout 60 " .. lanes.quoted(lanes.binary) ..
    ' sweep job/job.sline --vary "rack.tilt=30deg, 40deg" --keep job.power --pictures p\n' ..
    "s=$?; cat precious; exit $s", 3, "F040", what .. " of that name is there", "precious", "!svg>")
end
case("a text that grows too large, apart", JOB .. "echo old >real; ulimit -f 1; stringline run " ..
  lanes.quoted(lanes.top) .. "/examples/egg-farm/job.sline --untrusted -o real\n" ..
  "s=$?; grep -qx old real || echo LOST; exit $s", 3,
  "cannot write 'real': it would be larger than the limit for files", "!LOST")
case("a file that grows too large", JOB .. "echo old >real; ulimit -f 1; stringline run " .. lanes.quoted(lanes.top) ..
  "/examples/egg-farm/job.sline -o real" .. LEFT .. "; cat real", 3,
  "cannot write 'real': it would be larger than the limit for files; " ..
  "the new text is lost, the file that was there is unchanged", "!LEFT")

-- ---- ended early ---------------------------------------------------------------------------------------------------

-- A script that says that it runs, and never ends; nothing of it is in the folder while it does, or after.
for _, name in ipairs { "HUP", "INT", "QUIT", "ABRT", "SEGV", "BUS", "FPE", "ILL", "USR1", "USR2", "PIPE", "ALRM",
    "TERM", "XCPU", "KILL" } do
  local ignored = name == "PIPE"                           -- nobody reads: that is found where it is written
  case("SIG" .. name, START .. script(HEAD .. 'print "runs"\nwhile true do end') .. "ulimit -c 0; echo old >real\n" ..
    "env --default-signal " .. lanes.quoted(lanes.binary) ..
    " check job/job.sline -o real 2>said & p=$!\n" ..
    "until grep -q runs said; do kill -0 $p || break; sleep 0.05; done; ls -A\n" ..
    "kill -" .. name .. " $p; " .. (ignored and "kill $p; " or "") ..
    "wait $p 2>/dev/null; s=$?; ls -A; cat real; exit $s", nil, "old", "!tmp")
end
case("the processor's time is up", START .. script(HEAD .. "while true do end") .. "echo old >real; ulimit -c 0\n" ..
  "( ulimit -S -t 1; exec " .. lanes.quoted(lanes.binary) .. " check job/job.sline -o real ) 2>/dev/null\n" ..
  "ls -A; cat real", 0, "old", "!tmp")
-- A store in the making.
case("a new store", "cp -R " .. lanes.quoted(lanes.top) .. "/examples/egg-farm job\n" .. lanes.quoted(lanes.binary) ..
  ' sweep job/job.sline --vary "rack.tilt=10deg to 60deg" --vary "trench.main.cover=10in to 40in" --sample 300000 ' ..
  "--store a.sweep >said 2>&1 & p=$!\n" ..
  "until ls a.sweep* >/dev/null 2>&1; do kill -0 $p || break; done\n" ..
  "kill -TERM $p; wait $p; ls -A; cat said", 0, "!tmp", "!journal", "!error")

-- ---- all of them ---------------------------------------------------------------------------------------------------

local folders = {}
for i, one in ipairs(cases) do
  folders[i] = one.folder
  one.command = "( " .. one.command .. "\n)"
end
lanes.make_folders(folders)
lanes.run(cases)
for _, one in ipairs(cases) do
  local flat = one.out:gsub("%s+", " ")
  local ok = not one.status_wanted or one.status == one.status_wanted
  local why = ok and "" or ("status %s, wanted %s\n"):format(one.status, one.status_wanted)
  for _, text in ipairs(one.wants) do
    local not_there = text:sub(1, 1) == "!"
    local found = flat:find(not_there and text:sub(2) or text, 1, true) ~= nil
    if found == not_there then why = why .. (not_there and "there is: " or "not there: ") .. text .. "\n" end
  end
  if one.exactly and one.out ~= one.exactly then why = why .. "not exactly " .. one.exactly end
  if one.reads then
    local _, n = one.out:gsub("read\n", "")
    if n ~= one.reads then why = why .. "read " .. n .. " times\n" end
  end
  try(one.what, why == "", why .. one.out)
end

print(("files: %d passed, %d failed"):format(passed, failed))
lanes.leave(failed == 0 and 0 or 1)
