-- SPDX-License-Identifier: MIT
-- What is varied, the variants by number, and what is kept of each.  Run by tests/sweep_axes_test.c, which gives
-- `in_host`.  Values are from hand: a step of a range is the literal that a script would have there, worked out here as
-- a number times the factor of its unit, and compared to the last bit.
local RUN = "tests/sweep_axes_run.lua"
local passed, failed = 0, 0

local function check(what, good, more)
  if good then passed = passed + 1 return end
  failed = failed + 1
  print("not ok " .. what .. (more ~= nil and ": " .. tostring(more) or ""))
end

local function same(what, got, wanted)
  local function text(x) return type(x) == "table" and table.concat(x, " | ") or tostring(x) end
  check(what, text(got) == text(wanted), "got " .. text(got) .. ", wanted " .. text(wanted))
end

local function read(path)
  local file = assert(io.open(path, "rb"))
  local text = file:read "a"
  file:close()
  return text
end

local pipe = assert(io.popen "mktemp -d")
local folder = pipe:read "l"
pipe:close()

-- A copy of a job's folder with lines behind its script, and before its rack; files: { name -> text }.
local function job(from, lines, files, before)
  os.execute(("rm -rf '%s/job' && cp -r '%s' '%s/job'"):format(folder, from, folder))
  local path = folder .. "/job/job.sline"
  local text = read(path)
  local at = before and text:find("local east = rack", 1, true) or 1
  local file = assert(io.open(path, "wb"))
  file:write(text:sub(1, at - 1), before or "", text:sub(at), "\n", lines or "", "\n")
  file:close()
  for name, text in pairs(files or {}) do
    local f = assert(io.open(folder .. "/job/" .. name, "wb"))
    f:write(text)
    f:close()
  end
  return path
end

local EGG = "examples/egg-farm"

local function ask(from, lines, input, files)
  input = input or {}
  input.script = job(from, lines, files, input.before)
  return in_host(folder .. "/job", RUN, input)
end

local function good(what, from, lines, input, files)
  local got, why = ask(from, lines, input, files)
  check(what .. ": it runs", got, why and why.code .. " " .. why.text)
  for i, v in ipairs(got and got.variants or {}) do
    check(what .. ": variant " .. input.numbers[i] .. " is declared", not v.refused, v.refused)
  end
  return got or { axes = {}, variants = {}, kept = {}, goals = {} }
end

local function axis_of(what, lines, input, files)
  local got = good(what, EGG, lines, input, files)
  return got.axes[1] or { texts = {}, si = {}, puts = {}, notes = {} }, got
end

local _, why

-- ---- lists ----------------------------------------------------------------------------------------------------------

local DEG = math.pi / 180          -- as units are given: a degree is pi/180 rad

local function hex(x) return ("%a"):format(x) end

-- The egg farm declares 35deg.
local a, got = axis_of("a list", 'vary { "rack.east.tilt", 25deg, 30deg, 40deg, 45deg }',
    { numbers = { 0, 3 }, read = { "rack.east.tilt" } })
same("its name", a.name, "rack.east.tilt")
same("its texts", a.texts, { "35deg", "25deg", "30deg", "40deg", "45deg" })
same("its values", a.si, { hex(35 * DEG), hex(25 * DEG), hex(30 * DEG), hex(40 * DEG), hex(45 * DEG) })
same("what is put in", a.puts[4], "rack.east.tilt " .. hex(40 * DEG))
same("nothing is put in at step 0", a.puts[1], "")
check("an amount does not shape the declarations", not a.shapes)
same("variants", got.total, 5)
same("variant 0 is as declared", got.variants[1].read[1], hex(35 * DEG))
same("variant 3 by its plan", got.variants[2].read[1], hex(40 * DEG))
same("variant 3 by its words", got.variants[2].sets, "rack.east.tilt=40deg")
same("its words give the same", got.variants[2].as_said, got.variants[2].read)
same("labels", { got.variants[1].label, got.variants[2].label }, { "as declared", "rack.east.tilt=40deg" })
check("where it is varied", a.at:find "job.sline:%d+:1$", a.at)

-- A short path stands for the only rack; a value given twice, and the declared one, count once.
a = axis_of("values that are there already", 'vary { "rack.tilt", 35deg, 30deg, 30.0deg, 40deg, 35deg }')
same("counted once", a.texts, { "35deg", "30deg", "40deg" })
same("and told", a.notes, { "35deg is what is declared, and counts once", "30deg stands there twice, and counts once",
    "35deg is what is declared, and counts once" })
same("the path in full", a.name, "rack.east.tilt")
a = axis_of("the same in other units", 'vary { "rack.east.lower_edge", 2ft, 36in, 3ft }')
same("counted once, too", a.texts, { "24in", "36in" })
a, got = axis_of("a tolerance of its own", 'vary { "trench.main.length", 90ft+-1ft, 90ft, 95ft+-6in }',
    { numbers = { 1, 2 }, read = { "trench.main.length" } })
same("makes it another value", a.texts, { "90ft", "90ft+-1ft", "95ft+-6in" })
check("and one that shapes", a.shapes)
same("it is put in with its value", { got.variants[1].off[1], got.variants[2].off[1] },
    { hex(0.3048), hex(6 * 0.0254) })

-- Whatever --set takes.
local WIDE = 'local wide = footing "wide" { hole_diameter = 24in, hole_depth = 66in, gravel = 6in, ' ..
    'fill = "concrete" }\n'
local forms = {
  { 'vary { "rack.east.orientation", "landscape" }', "portrait | landscape", "rack.east.orientation", "landscape" },
  { 'vary { "rack.east.rails.lines", 3, 5 }', "4 | 3 | 5", "rack.east.rails.lines", hex(3) },
  { 'vary { "run[\'array to shed\'].wire", "8 AWG", awg"4" }', "6 AWG | 8 AWG | 4 AWG", "run['array to shed'].wire",
    "8 AWG" },
  { 'vary { "rack.east.post_lines.front", 25% }', "20% | 25%", "rack.east.post_lines.front", hex(0.25) },
  { 'vary { "job.on", "2026-11-05" }', "2026-11-02 | 2026-11-05", "job.on", "2026-11-05" },
  { 'vary { "job.client", "true" }', "Odessa Pruitt | true", "job.client", "true" },
  { 'vary { "job.client", "12" }', "Odessa Pruitt | 12", "job.client", "12" },
  { 'vary { "site.latitude", "37.5 N" }', "36.16 N | 37.5 N", "site.latitude", hex(37.5 * DEG) },
  { 'vary { "site.coldest", -20.5degC }', "-16degC | -20.5degC", "site.coldest", hex(-20.5 + 273.15) },
  { 'vary { "footing.deep.isolated_posts", false }', "true | false", "footing.deep.isolated_posts", "false" },
  { 'vary { "rack.east.posts.footing", "wide" }', "deep | wide", "rack.east.posts.footing", "wide" },
  { 'vary { "ground.elevation.F2", -2in }', "-0.5in | -2in", "ground.elevation.F2", hex(-2 * 0.0254) },
  { 'vary { "run[\'array to shed\'].conduit.bends[2]", 45deg }', "90deg | 45deg",
    "run['array to shed'].conduit.bends[2]", hex(45 * DEG) },
  { 'vary { "module.M430.voc", 43 V }', "39.2V | 43V", "module.M430.voc", hex(43) },
  { 'vary { "rack.east.lower_edge", 12ft6in }', "24in | 12ft6in", "rack.east.lower_edge", hex(12.5 * 0.3048) },
}
for _, f in ipairs(forms) do
  local one, all = axis_of(f[1], f[1], { numbers = { 1 }, read = { f[3] }, before = WIDE })
  same(f[1] .. ": texts", table.concat(one.texts, " | "), f[2])
  local v = all.variants[1] or {}
  same(f[1] .. ": by its plan", v.read, { f[4] })
  same(f[1] .. ": by its words", v.as_said, { f[4] })
end

-- What nobody gave may be put in: step 0 is without it.
a, got = axis_of("what nobody gave", 'vary { "job.lengths", "decimal" }', { numbers = { 0, 1 },
    read = { "job.lengths" } })
same("it says so", a.texts, { "not given", "decimal" })
check("and is declared anew", a.shapes and a.puts[2] == "")
same("without and with", { got.variants[1].read[1], got.variants[2].read[1] }, { "nothing", "decimal" })

-- Several moved together.
a, got = axis_of("two together", 'vary { { "rack.east.rails.lines", "job.crew" }, 3, 5, 4 }',
    { numbers = { 0, 1, 3 }, read = { "rack.east.rails.lines", "job.crew" } })
same("their name", a.name, "rack.east.rails.lines + job.crew")
same("what is declared of each", a.texts, { "4 + 3", "3", "5", "4" })
same("both are put in", a.puts[3], "job.crew " .. hex(5) .. ", rack.east.rails.lines " .. hex(5))
same("both as declared", got.variants[1].read, { hex(4), hex(3) })
same("both moved", got.variants[2].read, { hex(3), hex(3) })
same("what one declares is a step where the other moves", got.variants[3].read, { hex(4), hex(4) })
same("in words", got.variants[2].sets, "rack.east.rails.lines=3; job.crew=3")

-- A value that somebody tells stays told, and no --set says it.
a, got = axis_of("told", 'vary { "site.frost", measured(30in, "a dig") }', { numbers = { 1 }, read = { "site.frost" } })
same("a told value", got.variants[1].read, { hex(30 * 0.0254) })
same("has no words", got.variants[1].sets, "no words")

-- A record of the script, by itself or its name.
a, got = axis_of("a record", 'vary { "rack.east.posts.footing", wide }', { numbers = { 1 }, before = WIDE,
    read = { "rack.east.posts.footing" } })
same("its name is its text", a.texts, { "deep", "wide" })
same("it is meant", got.variants[1].read, { "wide" })

-- ---- ranges ---------------------------------------------------------------------------------------------------------

-- 15 to 60 by 1 has 46 values, among them the declared 35; step i stands at 14 + i degrees, from 36 on at 15 + i.
a, got = axis_of("a range", 'vary { "rack.east.tilt", from = 15deg, to = 60deg, step = 1deg }',
    { numbers = { 20, 21, 45 }, read = { "rack.east.tilt" } })
same("its steps", a.size, 46)
same("its texts", { a.texts[1], a.texts[2], a.texts[21], a.texts[22], a.texts[46] },
    { "35deg", "15deg", "34deg", "36deg", "60deg" })
same("its values are literals", { a.si[2], a.si[21], a.si[22], a.si[46] },
    { hex(15 * DEG), hex(34 * DEG), hex(36 * DEG), hex(60 * DEG) })
same("read back", { got.variants[1].as_said[1], got.variants[2].as_said[1], got.variants[3].as_said[1] },
    { hex(34 * DEG), hex(36 * DEG), hex(60 * DEG) })
same("what is declared is told", a.notes, { "35deg is what is declared, and counts once" })

-- Decimals, in which no error adds up: in binary 1.1 + 2 * 0.1 is not 1.3.
a = axis_of("decimals", 'vary { "rack.east.lower_edge", from = 1.1ft, to = 2.9ft, step = 0.1ft }')
same("its steps", a.size, 19)                       -- 1.1 to 2.9 are 19 values, and 2 ft is the declared 24 in
same("texts", { a.texts[2], a.texts[4], a.texts[10], a.texts[11], a.texts[19] },
    { "1.1ft", "1.3ft", "1.9ft", "2.1ft", "2.9ft" })
same("values", { a.si[4], a.si[10], a.si[19] }, { hex(1.3 * 0.3048), hex(1.9 * 0.3048), hex(2.9 * 0.3048) })

-- Ends in another unit than the step: counted in the step's. 2ft to 3ft by 3in: 24 (declared), 27, 30, 33, 36 in.
a = axis_of("two units", 'vary { "rack.east.lower_edge", from = 2ft, to = 3ft, step = 3in }')
same("texts", a.texts, { "24in", "27in", "30in", "33in", "36in" })
same("values", a.si, { hex(24 * 0.0254), hex(27 * 0.0254), hex(30 * 0.0254), hex(33 * 0.0254), hex(36 * 0.0254) })

-- Down, shares, counts, temperatures.
a = axis_of("downwards", 'vary { "rack.east.tilt", from = 30deg, to = 20deg, step = -5deg }')
same("texts", a.texts, { "35deg", "30deg", "25deg", "20deg" })
a = axis_of("shares", 'vary { "rack.east.post_lines.front", from = 10%, to = 25%, step = 2.5% }')
same("texts", a.texts, { "20%", "10%", "12.5%", "15%", "17.5%", "22.5%", "25%" })
same("values", { a.si[2], a.si[3] }, { hex(0.1), hex(0.125) })
a = axis_of("counts", 'vary { "rack.east.columns", from = 2, to = 8, step = 2 }')
same("texts", a.texts, { "4", "2", "6", "8" })
a = axis_of("a count goes by ones", 'vary { "rack.east.columns", from = 3, to = 6 }')
same("texts", a.texts, { "4", "3", "5", "6" })
a = axis_of("temperatures", 'vary { "site.coldest", from = -25degC, to = -15degC, step = 2.5dC }')
same("texts", a.texts, { "-16degC", "-25degC", "-22.5degC", "-20degC", "-17.5degC", "-15degC" })
same("values", a.si[3], hex(-22.5 + 273.15))
a = axis_of("steps in K", 'vary { "site.coldest", from = -25degC, to = -15degC, step = 5K }')
same("texts", a.texts, { "-16degC", "-25degC", "-20degC", "-15degC" })
a = axis_of("a position", 'vary { "site.longitude", from = -86deg, to = -84deg, step = 1deg }')
same("texts", a.texts, { "85.5 W", "86 W", "85 W", "84 W" })

-- An end that is no whole number of steps away is told. 15, 22, ... 57: seven values.
a = axis_of("a rest", 'vary { "rack.east.tilt", from = 15deg, to = 60deg, step = 7deg }')
same("its last", { a.size, a.texts[#a.texts] }, { 8, "57deg" })
same("and told", a.notes, { "the last is 57deg: 60deg is no whole number of steps away" })
-- In binary (0.3 - 0.1) / 0.1 is less than 2.
a = axis_of("an end within the last bits", 'vary { "rack.east.post_lines.front", from = 10%, to = 30%, step = 10% }')
same("is met", a.texts, { "20%", "10%", "30%" })

-- Without a step there is nothing to count; a sample draws from it, each of N parts once.
got = good("a sample of a range", EGG, 'vary { "rack.east.tilt", from = 15deg, to = 60deg }', { sample = 9,
    numbers = { 0, 1, 2, 3, 4, 5, 6, 7, 8, 9 }, read = { "rack.east.tilt" } })
a = got.axes[1] or { si = {} }
same("the job and nine", got.total, 10)
local met, bad = {}, nil
for i = 2, 10 do
  local degrees = tonumber(a.si[i]) / DEG
  local part = math.floor((degrees - 15) / 5) + 1         -- 45 deg in nine parts of 5 deg
  if part ~= i - 1 then bad = degrees end
end
check("each of nine parts of 5 deg is met, in its place", not bad, bad)
for i = 1, 10 do met[got.variants[i].steps[1]] = (met[got.variants[i].steps[1]] or 0) + 1 end
local once = true
for i = 0, 9 do once = once and met[i] == 1 end
check("each part in one variant", once)
local alike = true
for _, v in ipairs(got.variants) do
  alike = alike and v.read[1] == a.si[v.steps[1] + 1] and v.as_said[1] == v.read[1]
end
check("texts of draws are read back to the same bits", alike)
local again = good("the same seed", EGG, 'vary { "rack.east.tilt", from = 15deg, to = 60deg }', { sample = 9 })
same("draws the same", again.axes[1].texts, a.texts)
local two = good("two ranges", EGG, 'vary { "rack.east.tilt", from = 15deg, to = 60deg }\n' ..
    'vary { "rack.east.lower_edge", from = 20in, to = 40in }', { sample = 9, far = true,
    numbers = { 1, 2, 3, 4, 5, 6, 7, 8, 9 } })
local one_way, same_way = true, true
for i, v in ipairs(two.variants) do
  one_way, same_way = one_way and v.steps[1] == i, same_way and v.steps[1] == v.steps[2]
end
check("parts are met in an order of their own on each axis", not one_way and not same_way)
local other = good("another seed", EGG, 'vary { "rack.east.tilt", from = 15deg, to = 60deg }', { sample = 9, seed = 2 })
check("draws others", table.concat(other.axes[1].texts) ~= table.concat(a.texts or {}))

-- ---- alternates, files, vendors, limits, literals -------------------------------------------------------------------

a, got = axis_of("alternates", 'vary { "alternate", "six in series" }', { numbers = { 0, 1 },
    read = { "strings.series", "strings.parallel" } })
same("texts", a.texts, { "as declared", "six in series" })
same("as declared", got.variants[1].read, { hex(4), hex(2) })
same("as the alternate has it", got.variants[2].read, { hex(6), hex(1) })
same("by its name", { got.variants[2].alternate, got.variants[2].sets }, { "six in series", "" })
same("so that run gives it", got.variants[2].as_said, got.variants[2].read)
-- What is put in stands over what an alternate brings, whichever is varied first.
for _, lines in ipairs { 'vary { "strings.series", 5 }\nvary { "alternate", "six in series" }',
    'vary { "alternate", "six in series" }\nvary { "strings.series", 5 }' } do
  got = good("an alternate and an input", EGG, lines, { numbers = { 3 }, read = { "strings.series",
      "strings.parallel" } })
  same("the input goes over it", got.variants[1].read, { hex(5), hex(1) })
  same("in words, too", got.variants[1].as_said, got.variants[1].read)
end

local loup = read "examples/egg-farm/plateau-county.sline":gsub("20ft", "15ft", 1)
a, got = axis_of("files", 'vary { file = "plateau-county", "loup-county" }', { numbers = { 0, 1 }, read = {},
    files = true }, { ["loup-county.sline"] = loup })
same("its name", a.name, "file plateau-county")
same("texts", a.texts, { "plateau-county", "loup-county" })
same("the other is read in its place", { got.variants[1].named[1], got.variants[2].named[1] },
    { "place plateau-county", "place loup-county" })
same("in words", got.variants[2].sets, "file plateau-county=loup-county")
same("all that it reads beside the job", a.files, { "", "loup-county.sline 64" })
-- The same of a list of parts, with the ending as it is written.
local clamps = read "examples/egg-farm/parts/clamps.csv"
a, got = axis_of("a list of parts", 'vary { file = "parts/clamps.csv", "parts/others.csv" }', { numbers = { 1 },
    read = { "clamp['EC-30'].role" } }, { ["parts/others.csv"] = clamps })
same("it is read", got.variants[1].read, { "end" })

a, got = axis_of("vendors", 'vary { "vendors", "Sawtail Lumber", { "Gap Creek Electric", "Sawtail Lumber" } }',
    { numbers = { 0, 1 } })
-- from hand: 8 rows of Sawtail Lumber, 12 of Gap Creek Electric
same("both are all, as declared", a.texts, { "all", "Sawtail Lumber" })
same("all prices", got.variants[1].priced, 20)
same("of one alone", { got.variants[2].priced, got.variants[2].vendors }, { 8, "Sawtail Lumber" })
same("in words", got.variants[2].sets, "vendors=Sawtail Lumber")

a, got = axis_of("a limit", 'vary { "limits.height", 15ft, 20ft }', { numbers = { 1 }, read = {} })
same("texts", a.texts, { "20ft", "15ft" })
same("values", a.si, { hex(20 * 0.3048), hex(15 * 0.3048) })
check("a limit shapes", a.shapes)

local line = 1
for l in read "examples/egg-farm/job.sline":gmatch "([^\n]*)\n" do
  if l:find "^  lower_edge =" then break end
  line = line + 1
end
a, got = axis_of("a literal", ('vary { "job.sline:%d:16", 30in }'):format(line), { numbers = { 1 },
    read = { "rack.east.lower_edge" } })
same("texts", a.texts, { "24in", "30in" })
same("it is put in", got.variants[1].read, { hex(30 * 0.0254) })
same("in words, too", got.variants[1].as_said, got.variants[1].read)

_, why = ask(EGG, "", { vary = { ("job.sline:%d:16=30in"):format(line), ("%s/job/job.sline:%d:16=20in"):format(folder,
    line) } })
check("one literal under two names", why and why.code == "D015", why and why.text)

-- Money, which only literals hold: a rule's own limit, on the last line of the script.
local lines = 0
for _ in read "examples/egg-farm/job.sline":gmatch "\n" do lines = lines + 1 end
a, got = axis_of("money", ("local most = $1450.5\nvary { \"job.sline:%d:14\", $900, 1.25USD }"):format(lines + 2),
    { numbers = { 1 }, read = {} })
same("texts", a.texts, { "1450.5USD", "900USD", "1.25USD" })
same("values in units of the currency", a.si, { hex(1450.5), hex(900), hex(1.25) })

-- ---- rows of a file -------------------------------------------------------------------------------------------------

local rows = "rack.east.tilt,rack.east.rails.lines + job.crew,alternate\n30 deg,3,\n,,six in series\n,,\n30deg,3,\n" ..
    "40deg,,six in series\n"
a, got = axis_of("rows", 'vary { csv = "variants.csv" }', { numbers = { 0, 1, 2, 3 }, read = { "rack.east.tilt",
    "rack.east.rails.lines", "job.crew", "strings.series" } }, { ["variants.csv"] = rows })
same("its name", a.name, "variants.csv")
same("texts", a.texts, { "as declared", "rack.east.tilt=30deg, rack.east.rails.lines=3, job.crew=3",
    "alternate=six in series", "rack.east.tilt=40deg, alternate=six in series" })
same("told", a.notes, { "line 5 of variants.csv says what line 2 says, and counts once" })
same("row 1", got.variants[2].read, { hex(30 * DEG), hex(3), hex(3), hex(4) })
same("row 2", got.variants[3].read, { hex(35 * DEG), hex(4), hex(3), hex(6) })
same("row 3", got.variants[4].read, { hex(40 * DEG), hex(4), hex(3), hex(6) })
for i = 1, 4 do same("in words", got.variants[i].as_said, got.variants[i].read) end

-- ---- the command line -----------------------------------------------------------------------------------------------

local script = 'vary { "rack.east.tilt", 25deg, 30deg }\nvary { "rack.east.columns", 3 }'
got = good("an option in the place of what the script says", EGG, script, { vary = { "rack.tilt=40deg, 45deg, 50deg",
    "run['array to shed'].wire=8 AWG, 4 AWG" } })
same("three axes, in their places", { got.axes[1].name, got.axes[2].name, got.axes[3].name }, { "rack.east.tilt",
    "rack.east.columns", "run['array to shed'].wire" })
same("with the option's values", got.axes[1].texts, { "35deg", "40deg", "45deg", "50deg" })
same("texts of wires", got.axes[3].texts, { "6 AWG", "8 AWG", "4 AWG" })
same("variants", got.total, 4 * 2 * 3)
same("from the command line", got.axes[1].at, "the command line")

local options = {
  { "site.latitude=36.16 N, 42.00 N, 33 S", "36.16 N | 42 N | 33 S" },
  { "run['array to shed'].conduit.size=3/4 in, 1-1/4 in", "1 in | 3/4 in | 1-1/4 in" },
  { "run['array to shed'].wire=4/0 AWG, 8 AWG", "6 AWG | 4/0 AWG | 8 AWG" },
  { "rack.east.lower_edge=2 ft 6-1/2 in, 72 1/2in", "24in | 2ft6.5in | 6ft0.5in" },
  { "job.on=2026-11-05", "2026-11-02 | 2026-11-05" },
  { "rack.east.tilt=15deg to 25deg by 5deg", "35deg | 15deg | 20deg | 25deg" },
  { "rack.east.rails.lines + job.crew=3, 5", "4 + 3 | 3 | 5" },
  { "alternate=six in series", "as declared | six in series" },
  { "vendors=Sawtail Lumber, Gap Creek Electric + Sawtail Lumber", "all | Sawtail Lumber" },
  { "file plateau-county=loup-county", "plateau-county | loup-county" },
  { "csv=variants.csv", "as declared | rack.east.tilt=30deg" },
  { 'job.client="Pruitt, Odessa", Hollis', "Odessa Pruitt | Pruitt, Odessa | Hollis" },
  { "job.codes.wood=no_data(\"NDS 2024\")", "NDS 2018 | no_data(\"NDS 2024\")" },
  { ("job.sline:%d:16=20in, 30in"):format(line), "24in | 20in | 30in" },
  { "site.coldest=-20degC to -10degC by 5K", "-16degC | -20degC | -15degC | -10degC" },
  { "rack.east.lower_edge=2'6\", 3ft", "24in | 2ft6in | 3ft" },
}
for _, o in ipairs(options) do
  local one = axis_of(o[1], "", { vary = { o[1] } }, { ["loup-county.sline"] = loup,
      ["variants.csv"] = "rack.east.tilt\n30deg\n" })
  same("--vary " .. o[1], table.concat(one.texts, " | "), o[2])
end

-- Place and house vary, too, in the order in which they are read: before the script, which names them above.
local house = read "examples/egg-farm/two-ridges.sline"
got = good("a house file", EGG, 'vary { "rack.east.columns", 3 }', {}, { ["two-ridges.sline"] = house ..
    'vary { "limits.house.mower_clearance", 12in }\nkeep { "rack.east.top_edge" }\n' })
same("its axis stands first", { got.axes[1].name, got.axes[1].texts[2], got.axes[2].name }, { "limits.mower_clearance",
    "12in", "rack.east.columns" })
check("and where", got.axes[1].at:find "two%-ridges.sline:%d+:1$", got.axes[1].at)

-- What --set puts in is what is declared then.
a = axis_of("beside --set", script, { set = { "rack.east.tilt=30deg" } })
same("its base", a.texts, { "30deg", "25deg" })

-- ---- the space ------------------------------------------------------------------------------------------------------

-- from hand: axes of 3, 2 and 4 steps; 17 = 2 * 8 + 0 * 4 + 1, 23 = 2 * 8 + 1 * 4 + 3
script = 'vary { "rack.east.tilt", 25deg, 30deg }\nvary { "rack.east.columns", 3 }\n' ..
    'vary { "rack.east.lower_edge", 30in, 36in, 42in }'
got = good("a grid", EGG, script, { far = true, numbers = { 0, 1, 3, 4, 7, 8, 17, 23 } })
same("variants", got.total, 24)
local steps = {}
for i, v in ipairs(got.variants) do steps[i] = table.concat(v.steps, " ") end
same("steps, the last axis fastest", steps, { "0 0 0", "0 0 1", "0 0 3", "0 1 0", "0 1 3", "1 0 0", "2 0 1", "2 1 3" })
for i, n in ipairs { 0, 1, 3, 4, 7, 8, 17, 23 } do same("back to its number", got.variants[i].number, n) end
same("a label", got.variants[7].label, "rack.east.tilt=30deg, rack.east.lower_edge=30in")

-- What would take more places than Lua writes keeps its exponent.
got = good("a tilt of next to nothing", EGG, 'vary { "rack.east.tilt", 1e-308deg, 1e-40deg }',
    { far = true, numbers = { 1, 2 } })
same("its label", got.variants[1].label, "rack.east.tilt=1e-308deg")
same("and one that Lua writes", got.variants[2].label, "rack.east.tilt=0." .. ("0"):rep(39) .. "1deg")

-- Whole numbers stay exact up to 2^53: axes of 2^20, 2^20 and 2^13 steps, the declared value with them.
local function wide(n1, n2, n3)
  return ('vary { "rack.east.tilt", from = 0.00001deg, to = %.5fdeg, step = 0.00001deg }\n'):format(n1 / 1e5) ..
      ('vary { "rack.east.azimuth", from = 0.00001deg, to = %.5fdeg, step = 0.00001deg }\n'):format(n2 / 1e5) ..
      ('vary { "rack.east.lower_edge", from = 0.0001in, to = %.4fin, step = 0.0001in }'):format(n3 / 1e4)
end
local most = 1 << 53
got = good("2^53 variants", EGG, wide((1 << 20) - 1, (1 << 20) - 1, (1 << 13) - 1), { far = true, most_steps = 2,
    numbers = { most - 1, most - 2, 1 << 33 } })
same("all of them", got.total, most)
same("the last", got.variants[1].steps, { (1 << 20) - 1, (1 << 20) - 1, (1 << 13) - 1 })
same("the last but one", got.variants[2].steps, { (1 << 20) - 1, (1 << 20) - 1, (1 << 13) - 2 })
same("2^33", got.variants[3].steps, { 1, 0, 0 })
same("and back", got.variants[1].number, most - 1)
_, why = ask(EGG, wide((1 << 20) - 1, (1 << 20) - 1, 1 << 13))
check("one step more is refused", why and why.code == "W001" and why.text:find("3 axes give 9.01e+15 variants, more " ..
    "than 2^53", 1, true), why and why.text)
got = good("but can be drawn from", EGG, wide((1 << 20) - 1, (1 << 20) - 1, 1 << 13), { sample = 4, most_steps = 2 })
same("four and the job", got.total, 5)

-- A sample of lists: each step as often as any other, or once more.
got = good("a sample of lists", EGG, script, { sample = 50, far = true, numbers = (function()
  local list = {}
  for n = 0, 50 do list[n + 1] = n end
  return list
end)() })
local times = { {}, {}, {} }
for i = 2, #got.variants do
  for k, s in ipairs(got.variants[i].steps) do times[k][s] = (times[k][s] or 0) + 1 end
end
local function even(k, size)
  for s = 0, size - 1 do if (times[k][s] or 0) < 50 // size or times[k][s] > 50 // size + 1 then return false end end
  return true
end
check("16 or 17 of each of three", even(1, 3))
check("25 of each of two", even(2, 2))
check("12 or 13 of each of four", even(3, 4))
same("the first is the job as declared", got.variants[1].steps, { 0, 0, 0 })
-- What is drawn of one axis does not follow another: all six pairs of three and two steps are met in 50.
local pairs_met, n = {}, 0
for i = 2, #got.variants do pairs_met[got.variants[i].steps[1] .. " " .. got.variants[i].steps[2]] = true end
for _ in pairs(pairs_met) do n = n + 1 end
same("all pairs of three and two", n, 6)
-- More steps than draws: 46 steps in ten parts of 4 or 5, one in each.
local ten = { 1, 2, 3, 4, 5, 6, 7, 8, 9, 10 }
got = good("a sample of a long list", EGG, 'vary { "rack.east.tilt", from = 15deg, to = 60deg, step = 1deg }',
    { sample = 10, far = true, numbers = ten })
local sorted = {}
for i, v in ipairs(got.variants) do sorted[i] = v.steps[1] end
table.sort(sorted)
local apart = true
for i, s in ipairs(sorted) do apart = apart and s >= (i - 1) * 46 // 10 and s < i * 46 // 10 end
check("one in each of ten parts", apart, table.concat(sorted, " "))
-- An axis that is added behind the others changes nothing of what is drawn of those.
again = good("an axis more", EGG, 'vary { "rack.east.tilt", from = 15deg, to = 60deg, step = 1deg }\n' ..
    'vary { "rack.east.columns", 3 }', { sample = 10, far = true, numbers = ten })
local first, second = {}, {}
for i = 1, 10 do first[i], second[i] = got.variants[i].steps[1], again.variants[i].steps[1] end
same("draws of the first stay", second, first)

-- The generator's numbers are even, and fill [0, 1).
local drawn = in_host(".", RUN, { draws = 6000, below = 6 })
times = {}
for _, x in ipairs(drawn.list) do times[x] = (times[x] or 0) + 1 end
local chi = 0
for x = 0, 5 do chi = chi + ((times[x] or 0) - 1000) ^ 2 / 1000 end
check("six sides fall alike", chi < 20.5, chi)                -- chi-square, 5 degrees of freedom: 20.5 at 0.1 %
drawn = in_host(".", RUN, { draws = 4000 })
local sum, low, high = 0, 1, 0
for _, x in ipairs(drawn.list) do sum, low, high = sum + x, math.min(low, x), math.max(high, x) end
check("shares from 0 up to 1", low >= 0 and low < 0.01 and high < 1 and high > 0.99)
check("with their mean in the middle", math.abs(sum / 4000 - 0.5) < 4 * (1 / 12 / 4000) ^ 0.5)     -- four sigma

-- ---- what is kept ---------------------------------------------------------------------------------------------------

got = good("kept", EGG, 'vary { "rack.east.tilt", 25deg, 30deg }\n' ..
    'keep { "rack.top_edge", "job.total", "rack.east.orientation", "rack.east.columns", "rack.east.tilt" }\n' ..
    'seek { least = { "job.total", "rack.east.top_edge" }, most = "rack.east.lower_edge" }',
    { kept = true, keep = { "run['array to shed'].wire", "post.F1.cut_length" }, numbers = { 0, 1 } })
local names, goals = {}, {}
for i, k in ipairs(got.kept) do names[i], goals[i] = k.name, tostring(k.goal) end
same("in their order, each once", names, { "rack.east.top_edge", "job.total", "rack.east.orientation",
    "rack.east.columns", "rack.east.tilt", "run['array to shed'].wire", "rack.east.post.F1.cut_length",
    "rack.east.lower_edge", "job.total leaves out" })               -- a price, and behind all what has none
same("what is sought of them", goals, { "least", "least", "nil", "nil", "nil", "nil", "nil", "most", "nil" })
same("in which order", got.goals, { "least job.total 2", "least rack.east.top_edge 1", "most rack.east.lower_edge 8" })
local function value(i) return got.kept[i] and got.kept[i].value end
same("inputs by value", { value(3), value(4), value(5), value(6), value(8) }, { "portrait", hex(4), hex(35 * DEG),
    "6 AWG", hex(24 * 0.0254) })
check("a text is no number", got.kept[5] and not got.kept[3].number and got.kept[5].number)
-- in a variant that is declared anew
same("found anew", { got.variants[1].kept[5], got.variants[2].kept[5] }, { hex(35 * DEG), hex(25 * DEG) })
check("and worked out anew", got.variants[1].kept[1] ~= got.variants[2].kept[1])

-- Results of the script's own: 8 ft on the wall of the egg farm, doubled; the lower edge of 24 in less 6 in.
got = good("results of its own", EGG, 'result { of = "run", name = "up_and_down", is = "length", show = "ft", ' ..
    'means = "along the wall and back", formula = "2 * along_wall" }\n' ..
    'result { of = "rack", name = "clear", is = "length", means = "over tall grass", ' ..
    'work = function(rack) return rack.lower_edge - 6in end }\n' ..
    'result { of = "rack", name = "size", is = "text", means = "in words", ' ..
    'work = function(rack) return rack.lower_edge > 25in and "high" or "low" end }\n' ..
    'vary { "rack.east.lower_edge", 30in }\n' ..
    'keep { "run.up_and_down", "rack.east.size" }\nseek { most = "rack.clear" }', { kept = true, numbers = { 0, 1 } })
names = {}
for i, k in ipairs(got.kept) do names[i] = k.name .. " " .. tostring(k.unit) .. " " .. k.says end
same("are kept by name", names, { "run['array to shed'].up_and_down ft along the wall and back",
    "rack.east.size nil in words", "rack.east.clear in over tall grass" })
same("by value", { value(1), value(2), value(3) }, { hex(2 * 8 * 0.3048), "low", hex(24 * 0.0254 - 6 * 0.0254) })
same("and sought", got.goals, { "most rack.east.clear 3" })
same("in a variant", got.variants[2].kept, { hex(2 * 8 * 0.3048), "high", hex(30 * 0.0254 - 6 * 0.0254) })

got = good("without keep", EGG, "", { kept = true })
same("the total, where there are prices", { #got.kept, got.kept[1] and got.kept[1].name, got.kept[1] and
    got.kept[1].unit }, { 2, "job.total", "USD" })
same("and nothing is sought", #got.goals, 0)
got = good("options add", EGG, 'seek { least = "job.total" }', { kept = true, least = { "rack.east.top_edge" },
    most = { "rack.east.lower_edge" } })
same("to what the script seeks", got.goals, { "least job.total 1", "least rack.east.top_edge 2",
    "most rack.east.lower_edge 3" })
-- What nobody gave is nil.
got = good("unknown", EGG, "", { kept = true, keep = { "job.lengths" } })
same("is kept as nothing", value(1), "nothing")

-- ---- other jobs -----------------------------------------------------------------------------------------------------

got = good("metric", "tests/pages/jobs/southern", "", { vary = { "site.coldest=-6degC to -2degC by 2K" }, kept = true })
check("it varies", got.axes[1] and got.axes[1].size >= 3)

os.execute(("rm -rf '%s'"):format(folder))
print(("[  PASSED  ] %d tests"):format(passed))
if failed > 0 then print(("[  FAILED  ] %d tests"):format(failed)) end
return failed == 0 and passed > 0 and 0 or 1
