-- SPDX-License-Identifier: MIT
-- A variant as a patch: what the patch changes is held byte for byte to lines written by hand here, the patch is
-- applied with `patch` and with `git apply`, and the patched job, run, must say in all rules, results, orders and
-- totals what the job as it was says with --set.  Then inputs of every job that tests have, drawn by lot.
-- Run by tests/sweep_patch_test.c, which gives `in_host`, from the top folder of the project: sweep_patch_test [whole |
-- WORDS].  Without a word a sample of these inputs, which every build tries; WORDS: only cases with them in the name.
package.path = "tests/?.lua;" .. package.path
local jobs = require "jobs"
local RUN = "tests/sweep_patch_run.lua"
local whole = arg[1] == "whole"
local only = not whole and arg[1] or nil
local SEED, EACH, DIFFS = 20261128, whole and 6 or 1, whole and 4000 or 400    -- EACH: of each job

local passed, failed = 0, 0

local function check(name, complaint)
  if not complaint then passed = passed + 1 return end
  failed = failed + 1
  print(("not ok %s\n    %s"):format(name, complaint))
end

-- ---- files and processes -------------------------------------------------------------------------------------------

local function read(path)
  local file = io.open(path, "rb")
  if not file then return nil end
  local text = file:read "a"
  file:close()
  return text
end

local function write(path, text)
  local file = assert(io.open(path, "wb"))
  assert(file:write(text))
  file:close()
end

local function quoted(text) return "'" .. text:gsub("'", "'\\''") .. "'" end

local function output_of(command)
  local pipe = io.popen(command)
  local text = pipe:read "a"
  local ok = pipe:close()
  return text, ok
end

local binary = arg[0]:gsub("tests/sweep_patch_test$", "stringline")
if not binary:find "^/" then binary = output_of("pwd"):gsub("\n$", "") .. "/" .. binary end

local function scratch()
  local folder = os.tmpname()
  os.remove(folder)
  assert(os.execute("mkdir " .. folder))
  return folder
end

local function remove(folder) os.execute("rm -rf " .. folder) end

-- A copy of a job's folder with some of its files another text.
local function copy(from, files)
  local folder = scratch()
  assert(os.execute(("cp -r %s/. %s"):format(quoted(from), folder)))
  for name, text in pairs(files or {}) do write(folder .. "/" .. name, text) end
  return folder
end

-- ---- what a job says -----------------------------------------------------------------------------------------------

-- Lines of all that does not say how the job was written; nil and what came where that is no report.
local function said(folder, words)
  local out = output_of(("cd %s && %s run --format json job.sline %s 2>&1"):format(folder, binary, words))
  local whole_of, lines = out:match '^{(.-)\n *"made_from"', {}
  if not whole_of or not whole_of:find '"rules"' or not whole_of:find '"results"' then return nil, out end
  whole_of = whole_of:gsub('\n  "like": .-(\n  "sheets": )', "%1")             -- what a table takes over of another
  for line in whole_of:gmatch "[^\n]+" do
    if not line:find '^ *"alternate": ' and not line:find '^ *"line": ' and not line:find '^ *"column": ' and
        not line:find '^ *"length": ' then lines[#lines + 1] = line end
  end
  return lines
end

-- The first line in which the job in one folder, run with some words, and that in another differ.
local function difference(one, words, other, other_words)
  local a, why = said(one, words)
  if not a then return "no report: " .. why end
  local b, wrong = said(other, other_words)
  if not b then return "no report once it is patched: " .. wrong end
  for i = 1, math.max(#a, #b) do
    if a[i] ~= b[i] then return ("wanted %s\n    got    %s"):format(tostring(a[i]), tostring(b[i])) end
  end
end

-- ---- applied -------------------------------------------------------------------------------------------------------

local APPLY = { "patch -p0 --no-backup-if-mismatch --fuzz=0 < change.patch" }
-- A machine that only tests need not have it.
if output_of "command -v git" ~= "" then APPLY[2] = "git apply -p0 --whitespace=nowarn change.patch" end

-- Applies the patch in copies of the folder, with each program; what is wrong, or the folder of the last copy.
local function applied(folder, p)
  local last
  for _, command in ipairs(APPLY) do
    if last then remove(last) end
    last = copy(folder, { ["change.patch"] = p.text })
    local out, ok = output_of(("cd %s && env GIT_CEILING_DIRECTORIES=/ %s 2>&1"):format(last, command))
    os.remove(last .. "/change.patch")
    if not ok then return nil, command .. ": " .. out .. "\n" .. p.text end
    for _, f in ipairs(p.files) do
      local name = f.path:sub(#folder + 2)
      if read(last .. "/" .. name) ~= f.after then
        return nil, command .. " gives another " .. name .. "\n" .. p.text
      end
    end
    local names = output_of(("cd %s && find . -type f | sort"):format(last))
    if names ~= output_of(("cd %s && find . -type f | sort"):format(folder)) then
      return nil, command .. " leaves other files: " .. names
    end
  end
  return last
end

-- ---- a case --------------------------------------------------------------------------------------------------------

-- The text with each { from, to } put in once; from must stand there once.
local function changed(text, pairs_of, name)
  for _, x in ipairs(pairs_of) do
    local at, stop = text:find(x[1], 1, true)
    assert(at and not text:find(x[1], stop + 1, true), name .. ": not once there: " .. x[1])
    text = text:sub(1, at - 1) .. x[2] .. text:sub(stop + 1)
  end
  return text
end

local function found(list, words)
  for _, x in ipairs(list) do if x:find(words, 1, true) then return true end end
  return false
end

-- The page itself is a patch, unless it says that it is none.
local function page_complaint(folder, p)
  local warned = p.page:find "cannot be\n* *applied" ~= nil
  local odd = p.text:find "[\t\r]" ~= nil or p.text:find "[^ \n] +\n" ~= nil
  if warned ~= odd then return (warned and "warned in vain:\n" or "not warned:\n") .. p.page end
  if warned then return nil end
  local other = copy(folder)
  write(other .. "/page.txt", p.page)
  local out, ok = output_of(("cd %s && patch -p0 --no-backup-if-mismatch --fuzz=0 < page.txt 2>&1"):format(other))
  local wrong = not ok and out .. p.page or nil
  for _, f in ipairs(p.files) do
    local text = read(other .. "/" .. f.path:sub(#folder + 2))
    if text ~= f.after then wrong = "the page gives another text:\n" .. p.page end
  end
  remove(other)
  return wrong
end

-- c: { name, job = folder, files = { [name] = text } other than there, alternate, set = { ... }, vary = { ... }, puts =
-- what the command line says for it, change = { [file] = { { from, to } ... } }, left = { { axis, why, set } ... },
-- notes = { words ... }, lacks = { files that are not there }, path = where those are looked for }
local function complaint_of(c)
  local folder = copy(c.job, c.files)
  for _, name in ipairs(c.lacks or {}) do os.remove(folder .. "/" .. name) end
  local function done(text)
    remove(folder)
    return text
  end
  local p, err = in_host(folder, RUN, { script = folder .. "/job.sline", set = c.set, vary = c.vary,
      alternate = c.alternate }, c.path)
  if not p then return done("no patch: " .. err.text) end
  local left = {}
  for i, l in ipairs(p.left) do left[i] = ("%s | %s | %s"):format(l.axis, l.why, tostring(l.set)) end
  for i, l in ipairs(c.left or {}) do
    if not left[i] or not left[i]:find(l[1] .. " | ", 1, true) or not left[i]:find(l[2], 1, true) or
        left[i]:sub(-#l[3] - 3) ~= " | " .. l[3] then
      return done("wanted left: " .. table.concat(l, " | ") .. "\n    got: " .. tostring(left[i]))
    end
  end
  if #left > #(c.left or {}) then return done("left: " .. left[#left]) end
  local notes = table.concat(p.notes, "\n")
  for _, words in ipairs(c.notes or {}) do
    if not found(p.notes, words) then return done("wanted note: " .. words .. "\n    got: " .. notes) end
  end
  if #p.notes > #(c.notes or {}) then return done("notes: " .. notes) end
  if not c.change then return done(p.text and "a patch where none was wanted:\n" .. p.text or nil) end
  if not p.text then return done "no patch" end
  if p.folder ~= folder .. "/" then return done("to be applied in " .. tostring(p.folder)) end
  local count = 0
  for name, lines in pairs(c.change) do
    count = count + 1
    local before = c.files and c.files[name] or read(c.job .. "/" .. name)
    local want, got = changed(before, lines, c.name), nil
    for _, f in ipairs(p.files) do if f.path == folder .. "/" .. name then got = f.after end end
    if got ~= want then return done(name .. " would not be as wanted:\n" .. p.text) end
  end
  if count ~= #p.files then return done("other files are changed:\n" .. p.text) end
  local patched, why = applied(folder, p)
  if not patched then return done(why) end
  local page_wrong = page_complaint(folder, p)
  if page_wrong then return done(page_wrong) end
  if not c.puts then remove(patched) return done() end                    -- no word of the command line says it
  local base, beside = c.alternate and "--alternate " .. quoted(c.alternate) or "", {}
  for _, s in ipairs(c.set or {}) do base = base .. " --set " .. quoted(s) end
  for _, l in ipairs(p.left) do beside[#beside + 1] = l.set end
  local wrong = difference(folder, base .. " " .. c.puts, patched, base .. " " .. table.concat(beside, " "))
  remove(patched)
  return done(wrong)
end

-- ---- the cases -----------------------------------------------------------------------------------------------------

local EGG, TWO, YARD = "examples/egg-farm", "tests/golden/jobs/two-racks", "tests/whatif/walnut-yard"
local LARGE, SOUTH = "tests/pages/jobs/large", "tests/pages/jobs/southern"
local KIT = "tests/whatif/quince-terrace"
local egg = read(EGG .. "/job.sline")
local two, yard = read(TWO .. "/job.sline"), read(YARD .. "/job.sline")

-- A text with what stands there replaced, for the files of a case.
local function with(text, ...)
  local list = table.pack(...)
  for i = 1, list.n, 2 do text = changed(text, { { list[i], list[i + 1] } }, "files") end
  return text
end

local CRLF = egg:gsub("\n", "\r\n")
local TABS = egg:gsub("\n  ", "\n\t")
local PLACE = read(EGG .. "/plateau-county.sline")

local cases = {
  { name = "an angle", job = EGG, vary = { "rack.east.tilt=30deg" }, puts = "--set rack.east.tilt=30deg",
    change = { ["job.sline"] = { { "  tilt = 35deg,  azimuth", "  tilt = 30deg,  azimuth" } } } },
  { name = "a step of a range, to its last bit", job = EGG, vary = { "rack.east.tilt=30.1deg to 30.3deg by 0.1deg" },
    puts = "--set rack.east.tilt=30.3deg",
    change = { ["job.sline"] = { { "  tilt = 35deg,  azimuth", "  tilt = 30.3deg,  azimuth" } } } },
  { name = "two on one line and one below", job = EGG,
    vary = { "rack.east.tilt=30deg", "rack.east.azimuth=180deg", "rack.east.lower_edge=2ft6in" },
    puts = "--set rack.east.tilt=30deg --set rack.east.azimuth=180deg --set rack.east.lower_edge=2ft6in",
    change = { ["job.sline"] = { { "  tilt = 35deg,  azimuth = 184deg,", "  tilt = 30deg,  azimuth = 180deg," },
                                 { "lower_edge = 24in,  ", "lower_edge = 2ft6in,  " } } } },
  { name = "two far apart: two hunks", job = EGG, vary = { "job.crew=2", "run['array to shed'].wire=4 AWG" },
    puts = "--set job.crew=2 --set \"run['array to shed'].wire=4 AWG\"",
    change = { ["job.sline"] = { { "crew = 3,", "crew = 2," }, { 'wire = "6 AWG"', 'wire = "4 AWG"' } } } },
  { name = "a choice in a group, a count, a flag, a share", job = EGG,
    vary = { "rack.east.rails.size=2x6", "rack.east.rails.lines=5", "footing.deep.isolated_posts=false",
             "rack.east.post_lines.front=22%" },
    puts = "--set rack.east.rails.size=2x6 --set rack.east.rails.lines=5 --set footing.deep.isolated_posts=false " ..
        "--set rack.east.post_lines.front=22%",
    change = { ["job.sline"] = {
        { '  = { size = "2x4", grade = "No.1", face = "edge", lines = 4 }',
          '  = { size = "2x6", grade = "No.1", face = "edge", lines = 5 }' },
        { "  isolated_posts = true,  keyed", "  isolated_posts = false,  keyed" },
        { "post_lines = { front = 20%, back = 80% },    ", "post_lines = { front = 22%, back = 80% },    " } } } },
  { name = "a limit of the place: its own file, which others read", job = EGG, vary = { "limits.height=18ft" },
    puts = "--set limits.height=18ft", notes = { "plateau-county.sline is a place file: every other job" },
    change = { ["plateau-county.sline"] = { { "height       = { 20ft,", "height       = { 18ft," } } } },
  { name = "a file that is not in the job's folder", job = EGG, lacks = { "two-ridges.sline" }, path = EGG,
    vary = { "habits.spares=5%" },
    left = { { "habits.spares", "stands in examples/egg-farm/two-ridges.sline, which is not in the job's folder",
               "--set habits.spares=5%" } } },
  { name = "a script that the job uses", job = EGG, files = { ["job.sline"] = 'use "farm"\n', ["farm.sline"] = egg },
    vary = { "rack.east.tilt=30deg" }, puts = "--set rack.east.tilt=30deg",
    notes = { "farm.sline is a file that this script uses: every other that uses it changes, too" },
    change = { ["farm.sline"] = { { "tilt = 35deg,  azimuth", "tilt = 30deg,  azimuth" } } } },
  { name = "two files", job = EGG, vary = { "rack.east.tilt=30deg", "habits.spares=5%" },
    puts = "--set rack.east.tilt=30deg --set habits.spares=5%", notes = { "two-ridges.sline is a house file" },
    change = { ["job.sline"] = { { "tilt = 35deg,  azimuth", "tilt = 30deg,  azimuth" } },
               ["two-ridges.sline"] = { { "spares = 10%,", "spares = 5%," } } } },
  { name = "a record by its name, where a local stood", job = EGG,
    files = { ["job.sline"] = with(egg, "\nlocal east", '\nfooting "wide" { hole_diameter = 24in, ' ..
        'hole_depth = 66in, gravel = 6in, fill = "concrete" }\nlocal east') },
    vary = { "rack.east.posts.footing=wide" }, puts = "--set rack.east.posts.footing=wide",
    notes = { "rack.east.posts.footing stood there as `deep` at" },
    change = { ["job.sline"] = { { "footing = deep,", 'footing = "wide",' } } } },
  { name = "an alternate of plain values", job = EGG, vary = { "alternate=six in series" },
    puts = "--alternate 'six in series'",
    change = { ["job.sline"] = { { "series = 4,  parallel = 2,  into", "series = 6,  parallel = 1,  into" } } } },
  { name = "what is put in stands over an alternate", job = EGG,
    vary = { "strings.series=8", "alternate=six in series" },
    puts = "--alternate 'six in series' --set strings.series=8",
    change = { ["job.sline"] = { { "series = 4,  parallel = 2,  into", "series = 8,  parallel = 1,  into" } } } },
  { name = "an alternate that leaves something out", job = EGG,
    files = { ["job.sline"] = egg .. 'alternate "no strings" { drop = "strings" }\n' },
    vary = { "rack.east.tilt=30deg", "alternate=no strings" },
    puts = "--alternate 'no strings' --set rack.east.tilt=30deg",
    left = { { "alternate", "leaves strings out", "--alternate 'no strings'" } },
    change = { ["job.sline"] = { { "tilt = 35deg,  azimuth", "tilt = 30deg,  azimuth" } } } },
  { name = "vendors", job = EGG, vary = { "vendors=Sawtail Lumber" },
    left = { { "vendors", "say whose prices count", "--set 'vendors=Sawtail Lumber'" } } },
  { name = "another file in the place of one", job = EGG,
    files = { ["loup-county.sline"] = with(PLACE, "{ 20ft, from", "{ 16ft, from"),
              ["job.sline"] = with(egg, '"plateau-county"  ', "'plateau-county'  ") .. '-- place "plateau-county"\n' },
    vary = { "file plateau-county=loup-county" }, puts = "--set 'file plateau-county=loup-county'",
    change = { ["job.sline"] = { { "'plateau-county'", "'loup-county'" } } } },
  { name = "a list of parts in the place of one", job = EGG,
    files = { ["parts/others.csv"] = read(EGG .. "/parts/modules.csv"):gsub("21.5 kg", "20.5 kg") },
    vary = { "file parts/modules.csv=parts/others" }, puts = "--set 'file parts/modules.csv=parts/others.csv'",
    change = { ["job.sline"] = { { '"parts/modules.csv"', '"parts/others.csv"' } } } },
  { name = "what somebody found out is no choice", job = EGG, vary = { "site.frost=20in", "rack.east.tilt=30deg" },
    puts = "--set site.frost=20in --set rack.east.tilt=30deg",
    left = { { "site.frost", "is looked up (county handout), and no choice of a designer", "--set site.frost=20in" } },
    change = { ["job.sline"] = { { "tilt = 35deg,  azimuth", "tilt = 30deg,  azimuth" } } } },
  { name = "a step that says how it is known", job = EGG,
    files = { ["job.sline"] = egg .. 'vary { "site.frost", told(20in, "the new office") }\n' },
    change = { ["job.sline"] = { { 'looked_up(18in, "county handout")', 'told(20in, "the new office")' } } },
    notes = { 'stood there as `looked_up(18in, "county handout")`' } },
  { name = "measured as a whole", job = EGG, vary = { "ground.elevation.F2=-1in" },
    left = { { "ground.elevation.F2", "is measured (water level)", "--set ground.elevation.F2=-1in" } } },
  { name = "a plain fact is patched, and told", job = EGG, vary = { "site.soil.class=sand" },
    puts = "--set site.soil.class=sand", notes = { "site.soil.class is a fact and no choice" },
    change = { ["job.sline"] = { { 'soil = { class = "clay", lateral', 'soil = { class = "sand", lateral' } } } },
  { name = "a guess of a designer is a choice now", job = EGG,
    files = { ["job.sline"] = with(egg, "tilt = 35deg,  azimuth", "tilt = guess(35deg),  azimuth") },
    vary = { "rack.east.tilt=30deg" }, puts = "--set rack.east.tilt=30deg",
    notes = { "rack.east.tilt stood there as `guess(35deg)`" },
    change = { ["job.sline"] = { { "tilt = guess(35deg)", "tilt = 30deg" } } } },
  { name = "what a paper says", job = YARD, vary = { "engineer['Corin Ashby'].loads.front.up=400lbf" },
    left = { { "engineer['Corin Ashby'].loads.front.up", "its author's",
               "--set 'engineer['\\''Corin Ashby'\\''].loads.front.up=400lbf'" } } },
  { name = "what the command line puts in", job = EGG, set = { "rack.east.tilt=40deg" },
    vary = { "rack.east.tilt=30deg" },
    left = { { "rack.east.tilt", "--set rack.east.tilt=40deg, which would stand over",
               "--set rack.east.tilt=30deg" } } },
  { name = "beside what the command line puts in", job = EGG, set = { "rack.east.azimuth=190deg" },
    vary = { "rack.east.tilt=30deg" }, puts = "--set rack.east.tilt=30deg",
    change = { ["job.sline"] = { { "tilt = 35deg,  azimuth", "tilt = 30deg,  azimuth" } } } },
  { name = "a variant that is refused", job = EGG, vary = { "rack.east.post_lines.front=85%" },
    left = { { "rack.east.post_lines.front", "the job is refused in this variant",
               "--set rack.east.post_lines.front=85%" } } },
  { name = "a tolerance goes, and that is told", job = TWO, vary = { "nearest.lot_line=28ft" },
    puts = "--set nearest.lot_line=28ft",
    notes = { "with its tolerance, 26ft+-2ft; the sweep judged 28ft without one", "is a fact and no choice" },
    change = { ["job.sline"] = { { "lot_line = 26ft+-2ft,", "lot_line = 28ft," } } } },
  { name = "a tolerance of the step comes", job = YARD, vary = { "site.coldest=-25degC+-1K" },
    puts = "--set site.coldest=-25degC+-1K", notes = { "is a fact and no choice" },
    change = { ["job.sline"] = { { "coldest = -21degC+-2K,", "coldest = -25degC+-1K," } } } },
  { name = "a literal by its place", job = YARD, vary = { "job.sline:3:36=28in" },
    puts = "--set job.sline:3:36=28in",
    change = { ["job.sline"] = { { "3, 2, 26in", "3, 2, 28in" } } } },
  { name = "a whole number by its place, and the tolerance of another stays", job = YARD,
    vary = { "job.sline:3:28=4", "job.sline:15:104=-24degC" },
    puts = "--set job.sline:3:28=4 --set job.sline:15:104=-24degC",
    change = { ["job.sline"] = { { "= 3, 2, 26in", "= 4, 2, 26in" }, { "-21degC+-2K", "-24degC+-2K" } } } },
  { name = "an expression in a loop moves what it alone feeds", job = YARD, vary = { "rack.upper.lower_edge=32in" },
    left = { { "rack.upper.lower_edge", "rack.lower.lower_edge would move as well",
               "--set rack.upper.lower_edge=32in" } } },
  { name = "of a type only one", job = YARD, vary = { "rack.upper.tilt=35deg" },
    left = { { "rack.upper.tilt", "rack.lower.tilt would move as well", "--set rack.upper.tilt=35deg" } } },
  { name = "one that would move others, beside one that does not", job = YARD,
    vary = { "rack.upper.tilt=35deg", "footing.pier.hole_depth=64in" },
    puts = "--set rack.upper.tilt=35deg --set footing.pier.hole_depth=64in",
    left = { { "rack.upper.tilt", "rack.lower.tilt would move as well", "--set rack.upper.tilt=35deg" } },
    change = { ["job.sline"] = { { "hole_depth = 60in", "hole_depth = 64in" } } } },
  { name = "of a type all", job = YARD, vary = { "rack.upper.tilt + rack.lower.tilt=35deg" },
    puts = "--set rack.upper.tilt=35deg --set rack.lower.tilt=35deg",
    change = { ["job.sline"] = { { "  tilt = 30deg,  azimuth", "  tilt = 35deg,  azimuth" } } } },
  { name = "a type", job = YARD, vary = { "rack_type.yard.tilt=35deg" }, puts = "--set rack_type.yard.tilt=35deg",
    change = { ["job.sline"] = { { "  tilt = 30deg,  azimuth", "  tilt = 35deg,  azimuth" } } } },
  { name = "of a type one that has a table of its own", job = TWO, vary = { "rack.west.tilt=25deg" },
    puts = "--set rack.west.tilt=25deg",
    change = { ["job.sline"] = { { 'back = { "V1", "V2" } } }', 'back = { "V1", "V2" } }, tilt = 25deg }' } } } },
  { name = "a type of a type, in the house file", job = KIT, vary = { "rack_type.kit.tilt=25deg" },
    puts = "--set rack_type.kit.tilt=25deg", notes = { "terrace-crew.sline is a house file" },
    change = { ["terrace-crew.sline"] = { { "tilt = 30deg,  azimuth", "tilt = 25deg,  azimuth" } } } },
  { name = "of a copy that others are like one", job = KIT, vary = { "rack.lower.posts.footing=pier" },
    puts = "--set rack.lower.posts.footing=pier",
    change = { ["job.sline"] = { { 'posts = { footing = "wide pier" }', 'posts = { footing = "pier" }' } } } },
  { name = "and that the script reads besides", job = KIT, vary = { "rack.lower.tilt=35deg" },
    left = { { "rack.lower.tilt", "run.middle.along_wall would move as well", "--set rack.lower.tilt=35deg" } } },
  { name = "of what is declared by a copy, in the copy's table", job = KIT, vary = { "rack.middle.lower_edge=32in" },
    puts = "--set rack.middle.lower_edge=32in",
    change = { ["job.sline"] = { { "gap = 12ft,  lower_edge = 30in,", "gap = 12ft,  lower_edge = 32in," } } } },
  { name = "a footing that others are like", job = KIT, vary = { "footing.pier.gravel=4in" },
    puts = "--set footing.pier.gravel=4in", notes = { "terrace-crew.sline is a house file" },
    change = { ["terrace-crew.sline"] = { { "hole_depth = 90in, gravel = 6in",
                                            "hole_depth = 90in, gravel = 4in" } } } },
  { name = "a template that all take over, in its type", job = KIT, vary = { "rack.upper.columns=4" },
    puts = "--set rack.upper.columns=4", notes = { "terrace-crew.sline is a house file" },
    change = { ["terrace-crew.sline"] = { { "columns = 3,  stations", "columns = 4,  stations" } } } },
  { name = "of a type in a group, into the table of the one", job = TWO, vary = { "rack['far east'].rails.lines=5" },
    puts = "--set \"rack['far east'].rails.lines=5\"",
    change = { ["job.sline"] = { { 'back = { "D1", "D2" } } }',
                                   'back = { "D1", "D2" } },\n                  rails = { lines = 5 } }' } } } },
  { name = "one of thirty racks that a loop declares", job = LARGE, vary = { "rack['row 1'].tilt=35deg" },
    left = { { "rack['row 1'].tilt", "rack['row 2'].tilt and 28 more as well",
               "--set 'rack['\\''row 1'\\''].tilt=35deg'" } } },
  { name = "all of them by the literal", job = LARGE, vary = { "job.sline:54:12=35deg" },
    puts = "--set job.sline:54:12=35deg",
    change = { ["job.sline"] = { { "    tilt = 30deg,  azimuth", "    tilt = 35deg,  azimuth" } } } },
  { name = "nobody wrote it: a line of its own", job = EGG, vary = { "rack.east.under=blocked" },
    puts = "--set rack.east.under=blocked",
    change = { ["job.sline"] = { { "     -- west to east\n", '     -- west to east\n  under = "blocked",\n' } } } },
  { name = "nobody wrote it: no comma behind the last, a comment behind it", job = EGG,
    files = { ["job.sline"] = with(egg, '"B3" } },     -- west to east', '"B3" } }     -- west to east, all') },
    vary = { "rack.east.under=blocked" }, puts = "--set rack.east.under=blocked",
    change = { ["job.sline"] = { { '"B3" } }     -- west to east, all\n',
                                   '"B3" } },     -- west to east, all\n  under = "blocked"\n' } } } },
  { name = "nobody wrote it: the brace behind the last field on its line", job = EGG,
    vary = { "footing.deep.bag=60lb" }, puts = "--set footing.deep.bag=60lb",
    change = { ["job.sline"] = { { ', with a level" }', ', with a level",\n  bag = 60lb }' } } } },
  { name = "nobody wrote it: in a group on one line", job = EGG,
    vary = { "rack.east.rails.species=hem-fir" },
    puts = "--set rack.east.rails.species=hem-fir",
    change = { ["job.sline"] = { { '"edge", lines = 4 }', '"edge", lines = 4, species = "hem-fir" }' } } } },
  { name = "a name alone becomes a group", job = YARD, vary = { "inverter.barn.inputs[1].max_short_circuit=30A" },
    puts = "--set 'inverter.barn.inputs[1].max_short_circuit=30A'", notes = { "is a fact and no choice" },
    change = { ["job.sline"] = { { 'inputs = { "A", "B" }',
                                   'inputs = { { name = "A", max_short_circuit = 30A }, "B" }' } } } },
  { name = "what hangs on a local", job = YARD, vary = { "ground.elevation.F12=1in" },
    left = { { "ground.elevation.F12", "hangs on what stands as `heights` at", "--set ground.elevation.F12=1in" } } },
  { name = "in metres, south of the equator", job = SOUTH, vary = { "footing.hole.hole_depth=1900mm",
                                                                     "rack.paddock.spacing=2m" },
    puts = "--set footing.hole.hole_depth=1900mm --set rack.paddock.spacing=2m",
    change = { ["job.sline"] = { { "hole_depth = 2000mm", "hole_depth = 1900mm" },
                                 { "spacing = 2.2m,\n", "spacing = 2m,\n" } } } },
  { name = "line ends of another system stay", job = EGG, files = { ["job.sline"] = CRLF },
    vary = { "rack.east.tilt=30deg", "rack.east.under=blocked" },
    puts = "--set rack.east.tilt=30deg --set rack.east.under=blocked",
    change = { ["job.sline"] = { { "tilt = 35deg,  azimuth", "tilt = 30deg,  azimuth" },
                                 { "-- west to east\r\n", '-- west to east\r\n  under = "blocked",\r\n' } } } },
  { name = "a literal by its place, behind line ends of another system", job = EGG, files = { ["job.sline"] = CRLF },
    vary = { "job.sline:98:64=6ft" }, puts = "--set job.sline:98:64=6ft",
    change = { ["job.sline"] = { { "4ft + 7ft", "4ft + 6ft" } } } },
  { name = "tabs stay", job = EGG, files = { ["job.sline"] = TABS },
    vary = { "rack.east.tilt=30deg", "rack.east.under=blocked" },
    puts = "--set rack.east.tilt=30deg --set rack.east.under=blocked",
    change = { ["job.sline"] = { { "tilt = 35deg,  azimuth", "tilt = 30deg,  azimuth" },
                                 { "-- west to east\n", '-- west to east\n\tunder = "blocked",\n' } } } },
  { name = "blanks at the ends of lines stay", job = EGG,
    files = { ["job.sline"] = with(egg, "  lower_edge = 24in,  ", "  saddle = 0.25in,  \n  lower_edge = 24in,  ",
        '"2x8",  saddle = 0.25in,', '"2x8",') },
    vary = { "rack.east.tilt=30deg" }, puts = "--set rack.east.tilt=30deg",
    change = { ["job.sline"] = { { "tilt = 35deg,  azimuth", "tilt = 30deg,  azimuth" } } } },
  { name = "no line end at the end, in the last line", job = EGG,
    files = { ["job.sline"] = egg .. 'truck { volume = 2m3, vendor = "Gap Creek Concrete" }' },
    vary = { "truck.volume=3m3" }, puts = "--set truck.volume=3m3",
    change = { ["job.sline"] = { { "{ volume = 2m3,", "{ volume = 3m3," } } } },
  { name = "letters beyond ASCII before it on the line, a byte order mark", job = EGG,
    files = { ["job.sline"] = "\xEF\xBB\xBF" .. with(egg, "  tilt = 35deg,",
        '  --[[ Neigung, ° über dem Boden ]] tilt = 35deg,') },
    vary = { "rack.east.tilt=30deg", "job.crew=2" }, puts = "--set rack.east.tilt=30deg --set job.crew=2",
    change = { ["job.sline"] = { { "]] tilt = 35deg,", "]] tilt = 30deg," }, { "crew = 3", "crew = 2" } } } },
}

for _, c in ipairs(cases) do
  if not only or c.name:find(only, 1, true) then check(c.name, complaint_of(c)) end
end

-- From where the person stands, and the job at hand is not touched.
if not only or only == "from here" then
  local script = EGG .. "/job.sline"
  local p, err = in_host(EGG, RUN, { script = script, vary = { "rack.east.tilt=30deg", "limits.height=18ft" } })
  local text = p and p.text or err.text
  for i, name in ipairs { "job.sline", "plateau-county.sline" } do
    local head = ("--- %s/%s\n+++ %s/%s\n@@ "):format(EGG, name, EGG, name)
    local at = text:find(head, 1, true)
    check("from here: " .. name, (not at or (at == 1) ~= (i == 1)) and text or nil)
  end
  check("from here: no folder", p and p.folder)
  check("from here: only proposed", read(script) ~= egg and "job.sline is written" or nil)
end

-- ---- what tells two jobs apart --------------------------------------------------------------------------------------

-- { what is put in, what first differs }: an input, how it is known, its tolerance, a limit, a result, an outcome.
local apart = {
  { "rack.east.tilt=35.0000000000001deg", "rack.east.tilt" },
  { "nearest.lot_line=310ft", "nearest.lot_line" },                           -- measured no more
  { "site.declination=\"4.00000000001 W\"", "site.declination" },
  { "trench.main.length=90ft+-1ft", "trench.main.length" },
  { "limits.height=20.0000000000001ft", "limits.place.plateau-county.height" },
  { "vendors=Gap Creek Electric", "^job%." },                                 -- a total of fewer lines
  { "job.sline:98:64=6ft", "rule J1 on rack.east" },                         -- within a function of the job's own rule
}

for _, x in ipairs(apart) do
  if not only or only == "apart" then
    local got, err = in_host(EGG, RUN, { script = EGG .. "/job.sline", differs = { x[1] } })
    local first = got and tostring(got.first) or err.text
    local right = got and (first == x[2] or x[2]:find "^%^" and first:find(x[2])) and got.same == nil
    check("apart: " .. x[1], not right and "first differs " .. first or nil)
  end
end

-- ---- a diff of any text ---------------------------------------------------------------------------------------------

local unified = dofile "interp/write/unified.lua"

-- Edits in order that do not overlap, of a text.
local function edits_of(text, r)
  local list, at = {}, 1
  while at <= #text + 1 and r.yes(85) do
    at = at + r.whole(0, 40)
    if at > #text + 1 then break end
    local to = math.min(#text, at - 1 + r.whole(0, 6))
    list[#list + 1] = { at = at, to = to, text = r.of { "", "x", "x = 1,", "\n", "a\nb\n", "\n  c" } }
    at = to + 1 + r.whole(0, 3)
  end
  return list
end

local function lines_by_lot(r)
  local list = {}
  for i = 1, r.whole(1, 25) do list[i] = r.of { "", "a", "b = 1,", "\tc", "d\r", "  e = { 1 }" } end
  return table.concat(list, "\n") .. r.of { "\n", "\n", "" }
end

local function lines_of(text)
  local list = {}
  for line in text:gmatch "[^\n]*\n?" do if line ~= "" then list[#list + 1] = line end end
  return list
end

-- What a hunk says of both texts, line by line, and in its head where that stands; nil where all is so.
local function hunk_complaint(text, before, after)
  local old, new, a, b, left = lines_of(before), lines_of(after), 0, 0, 0
  local list = lines_of((text:gsub("\n\\ No newline at end of file\n", "\0\n")))      -- \0: without an end
  for i = 3, #list do
    local line = list[i]
    local from, count, to, more = line:match "^@@ %-(%d+),(%d+) %+(%d+),(%d+) @@\n$"
    if from and left == 0 then
      a, b = tonumber(from) + (count == "0" and 1 or 0), tonumber(to) + (more == "0" and 1 or 0)
      left = tonumber(count) + tonumber(more)
    else
      local sign, rest = line:sub(1, 1), line:sub(2):gsub("%z\n$", "")
      if sign ~= "+" then
        if old[a] ~= rest then return "line " .. i .. " is not line " .. a .. " of what was" end
        a, left = a + 1, left - 1
      end
      if sign ~= "-" then
        if new[b] ~= rest then return "line " .. i .. " is not line " .. b .. " of what comes" end
        b, left = b + 1, left - 1
      end
    end
  end
  return left ~= 0 and "a hunk is short" or nil
end

local ODD_NAME = [[a "file" of \ o'name.txt]]

local function diff_complaint(r, with_programs)
  local before = lines_by_lot(r)
  local edits = edits_of(before, r)
  local after = unified.apply(before, edits)
  local text = unified.diff(ODD_NAME, before, edits)
  if not text then return before ~= after and "no diff of:\n" .. before or nil end
  if before == after then return "a diff that changes nothing:\n" .. text end
  local wrong = hunk_complaint(text, before, after)
  if wrong then return wrong .. "\n" .. text end
  if not with_programs then return nil end
  local folder = scratch()
  write(folder .. "/" .. ODD_NAME, before)
  local patched, why = applied(folder, { text = text, files = { { path = folder .. "/" .. ODD_NAME, after = after } } })
  remove(folder)
  if patched then remove(patched) end
  return why
end

if not only or only == "diff" then
  for i = 1, DIFFS do check("diff " .. i, diff_complaint(jobs.chance(SEED + i), i % 20 == 0)) end
end

-- ---- inputs of every job, by lot ------------------------------------------------------------------------------------

local function lot_complaint(folder, edges)
  local vary, puts = {}, {}
  for i, edge in ipairs(edges) do vary[i], puts[i] = edge, "--set " .. quoted(edge) end
  local p, err = in_host(folder, RUN, { script = folder .. "/job.sline", vary = vary })
  if not p then
    local plain = output_of(("cd %s && %s run job.sline %s 2>&1"):format(folder, binary, table.concat(puts, " ")))
    return not plain:find "error: .*%[%u%d%d%d%]" and "no patch: " .. err.text or nil
  end
  local beside = {}
  for i, l in ipairs(p.left) do
    if l.why == "" or not l.set then return "left without a word: " .. l.axis end
    beside[i] = l.set
  end
  if #p.left + (p.text and 1 or 0) == 0 then return nil end                -- what is declared already
  if not p.text then return nil end
  local patched, why = applied(folder, p)
  if not patched then return why end
  local wrong = difference(folder, table.concat(puts, " "), patched, table.concat(beside, " "))
  remove(patched)
  return wrong and wrong .. "\n" .. p.text
end

local function by_lot(folder, seed)
  local r, copied = jobs.chance(seed), copy(folder)
  local inputs = assert(in_host(copied, "tests/whatif_run.lua", { script = copied .. "/job.sline", inputs = true }))
  for k = 1, EACH do
    local edges, has = {}, {}
    for _ = 1, r.whole(1, 3) do
      local x = r.of(inputs)
      local edge = x.edges[1] and not has[x.path] and r.of(x.edges)
      if edge and not edge:find "000000%d" then edges[#edges + 1] = edge end       -- as good as declared, and no step
      has[x.path] = true
    end
    check(("%s %d: %s"):format(folder, k, table.concat(edges, ", ")), edges[1] and lot_complaint(copied, edges))
  end
  remove(copied)
end

if not only then
  local pipe = io.popen "ls -d examples/*/ tests/whatif/*/ tests/*/jobs/*/"
  local seed = SEED
  for folder in pipe:lines() do
    seed = seed + 1
    if whole or not folder:find(LARGE, 1, true) then by_lot(folder:gsub("/$", ""), seed) end
  end
  pipe:close()
end

if arg[1] then print(("sweep_patch: %d passed, %d failed"):format(passed, failed))
else
  print(("[  PASSED  ] %d test(s)."):format(passed))
  if failed > 0 then print(("[  FAILED  ] %d test(s)."):format(failed)) end
end
return failed == 0 and 0 or 1
