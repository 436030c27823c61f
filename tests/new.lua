#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- `stringline new`: tests/new.lua BINARY, from the top folder of the project.  Each way of it runs at once and fills in
-- nothing that protects people; each line that it shows is one that the program takes; nothing that is there is lost.
package.path = arg[0]:gsub("[^/]*$", "") .. "?.lua"
local lanes = require "lanes"
local json = require "json"
lanes.options("tests/new.lua BINARY")

local passed, failed = 0, 0
local function try(what, good, more)
  if good then passed = passed + 1
  else
    failed = failed + 1
    print("not ok " .. what .. (more and "\n    " .. tostring(more):sub(1, 2000):gsub("\n", "\n    ") or ""))
  end
end

local work = lanes.folder .. "/work"
os.execute("mkdir " .. lanes.quoted(work))

-- Runs commands one after the other in the work folder; gives each { out, err, status }.
local function run(...)
  local jobs = {}
  for i, command in ipairs { ... } do
    jobs[i] = { command = command, folder = work }
    lanes.run { jobs[i] }
  end
  return table.unpack(jobs)
end

local FILES = { "house.sline", "job.sline", "parts/clamps.csv", "parts/modules.csv", "place.sline", "prices/yard.csv" }

-- A text with its lines to fill in taken out of their comments, and how many they are: two dashes with no blank behind
-- them, or two blanks behind the # of a list.
local function filled(name, text)
  local lines, changed = {}, 0
  for line in text:gmatch "([^\n]*)\n" do
    local new, n
    if name:find "%.csv$" then new, n = line:gsub("^#  ", "")
    else new, n = line:gsub("^( *)%-%-(%S)", "%1%2") end
    lines[#lines + 1], changed = new, changed + n
  end
  return table.concat(lines, "\n") .. "\n", changed
end

-- Fields that protect people, or that only whoever was there can know, each with the reason.
local PROTECTS = {
  { "job.codes.electrical", "wire, fuses and voltages are judged by it" },
  { "job.codes.loads", "wind and snow are judged by it" },
  { "job.codes.wood", "what a post carries" },
  { "job.codes.building", "how deep a post stands" },
  { "job.on", "tickets and prices run out by it" },
  { "authority.place.name", "whose limits these are" },
  { "site.latitude", "where the sun stands" }, { "site.elevation", "thin air" },
  { "site.coldest", "the highest voltage" }, { "site.hottest_air", "what a wire carries" },
  { "site.wind", "what tears the array out" }, { "site.exposure", "how much of the wind comes" },
  { "site.risk_category", "how rare a wind it stands" },
  { "site.snow", "what breaks it down" }, { "site.snow_depth", "what buries its lower edge" },
  { "site.frost", "what lifts posts" }, { "site.soil.class", "what holds posts" },
  { "site.soil.dry_to", "what holds posts down" },
  { "nearest.lot_line", "a neighbour's" }, { "nearest.well", "what is drunk" },
  { "nearest.septic_field", "what is drunk" }, { "nearest.overhead_line", "it kills" },
  { "none.facts", "somebody walked the ground and says so" },
  { "private_lines.found", "what an auger meets" }, { "locate.ticket", "what an auger meets" },
  { "ground.elevation.F2", "how deep a post stands" },
  { "footing.hole.hole_depth", "what holds posts" }, { "footing.hole.hole_diameter", "what holds posts" },
  { "footing.hole.keyed", "what holds posts down" }, { "footing.hole.frost_grip", "what lifts posts" },
  { "rack.table.tilt", "how much of the wind it takes" }, { "rack.table.lower_edge", "how high it stands" },
  { "rack.table.posts.treatment", "how long a post lasts" },
  { "strings.series", "the highest voltage" }, { "trench.main.cover", "what a spade meets" },
  { "trench.main.length", "what the wire loses" },
  { "module.EXAMPLE.voc", "the highest voltage" }, { "module.EXAMPLE.voc_coefficient", "the same on a cold day" },
  { "module.EXAMPLE.isc", "what a wire carries" }, { "module.EXAMPLE.max_fuse", "what may flow back" },
  { "module.EXAMPLE.max_voltage", "what its insulation takes" },
  { "clamp['EXAMPLE-MID'].least_frame", "what holds a module in the wind" },
  { "limits.setback", "the authority's" }, { "limits.height", "the authority's" },
  { "limits.seal", "the authority's" },
  { "limits.well_setback", "the authority's" }, { "limits.septic_setback", "the authority's" },
}
local BOX = {
  ["off-grid"] = { { "charge_controller.controller.max_voltage", "what its input takes" },
    { "charge_controller.controller.max_output_current", "what its output takes" },
    { "charge_controller.controller.max_short_circuit", "what its input takes" },
    { "charge_controller.controller.backfeed", "what it pushes back" },
    { "charge_controller.controller.battery_voltage", "what a fault feeds on" },
    { "charge_controller.controller.fuse", "what stops it" } },
  ["grid-tied"] = { { "inverter.inverter.max_voltage", "what its input takes" },
    { "inverter.inverter.max_short_circuit", "what its input takes" },
    { "inverter.inverter.backfeed", "what it pushes back" } },
}

-- Paths of what a run declared, but for what stands by default; how each is known.
local function declared(text)
  local by, list = {}, {}
  for _, d in ipairs(json.read(text).snapshot.declared) do
    if d.place ~= "by default" then
      by[d.path:match "^limits%.[%a_]+" or d.path], list[#list + 1] = d.known or "said", d.path
    end
  end
  return by, table.concat(list, " ")
end

local function is_guess(path)
  return path:find "^site%." or path:find "^nearest%." or path:find "^charge_controller%." or
      path:find "^inverter%." or path == "trench.main.length"
end

local function lines_of(text) return select(2, text:gsub("\n", "")) end

local function one_way(way, metric)
  local folder = (way or "plain") .. (metric and "-metric" or "")
  local options = (way and " --" .. way or "") .. (metric and " --metric" or "")
  local made, found, got, form, list = run("stringline new " .. folder .. options, "cd " .. folder ..
      " && find . -type f | sed 's,^./,,' | sort", "stringline run " .. folder .. "/job.sline --format json",
      "stringline form " .. folder .. "/job.sline", "stringline check " .. folder .. "/job.sline")
  try(folder .. ": is made", made.status == 0 and made.err == "", made.err)
  try(folder .. ": its files", found.out == table.concat(FILES, "\n") .. "\n", found.out)
  try(folder .. ": runs at once", got.status == 0 and got.err == "" and list.status == 0, got.err)
  local by, all = declared(got.out)
  -- by hand: a name, whose it is (nobody's yet), the stage, the units; all else is somebody's to find out
  try(folder .. ": says nothing else", all == "job.name job.client job.stage job.units", all)
  local mine, box = table.move(PROTECTS, 1, #PROTECTS, 1, {}), BOX[way] or {}
  table.move(box, 1, #box, #mine + 1, mine)
  for _, p in ipairs(mine) do try(folder .. ": fills in " .. p[1] .. ": " .. p[2], not by[p[1]]) end
  for _, words in ipairs { "site.frost is not given", "ask: building office", "with: a test hole",
      "no rack is declared", "no module is listed in a parts file", "nobody said whether there is a well" } do
    try(folder .. ": lists " .. words, list.out:find(words, 1, true), list.out)
  end
  if BOX[way] then
    try(folder .. ": lists what it feeds", list.out:find(BOX[way][1][1] .. " is not given", 1, true), list.out)
  else try(folder .. ": lists what it feeds", list.out:find "no inverter and no charge controller is declared") end

  -- all lines taken out of their comments
  os.execute(("cd '%s' && cp -R %s %s-filled"):format(work, folder, folder))
  for _, name in ipairs(FILES) do
    local path = work .. "/" .. folder .. "-filled/" .. name
    local text, n = filled(name, lanes.read(path))
    try(folder .. ": lines to fill in, in " .. name, n > 0)
    for line in text:gmatch "[^\n]*" do
      try(folder .. ": is filled: " .. line, not line:find "^ *%-%-%S")
    end
    lanes.write(path, text)
    local own = lanes.read(work .. "/" .. folder .. "/" .. name)
    local wide = 0
    for line in own:gmatch "[^\n]*" do wide = math.max(wide, utf8.len(line) or 999) end
    try(folder .. ": columns of " .. name, wide <= 120 and not own:find "[{}]%s*[{}]{" and not own:find "\n@", wide)
  end
  local full = run("stringline run " .. folder .. "-filled/job.sline --format json")
  try(folder .. ": takes what it shows", full.status <= 1 and full.err == "", full.err)
  if full.status > 1 then return end
  by = declared(full.out)
  for _, p in ipairs(mine) do
    try(folder .. ": shows " .. p[1], by[p[1]])
    if is_guess(p[1]) then try(folder .. ": " .. p[1] .. " is a guess", by[p[1]] == "guess", by[p[1]]) end
  end

  -- from the brief of the form: two pages of sixty lines
  try(folder .. ": its form has two pages", form.status == 0 and lines_of(form.out) <= 120, lines_of(form.out))
  local script = lanes.read(work .. "/" .. folder .. "/job.sline")
  try(folder .. ": its script is read in a sitting", lines_of(script) <= 100, lines_of(script))
  for _, place in ipairs { "On site, with tape and level", "At the yard", "Off data sheets, labels and papers",
      "By telephone, and off maps" } do
    try(folder .. ": its form has " .. place, select(2, form.out:gsub("\n" .. place .. "\n", "")) == 1)
  end
  local asked = 0
  -- what a rule misses of the site, the office and the labels is asked for
  for _, o in ipairs(json.read(got.out).rules) do
    for _, why in ipairs(o.unknown or {}) do
      local path = why.path or ""
      local fact = path:match "^none%['(.-)'%]$" or path:match "^none%.(%a+)$"
      local of_box = path:match "^[%a_]+%.controller%.(.*)$" or path:match "^inverter%.inverter%.(.*)$"
      local on_form = fact and "no " .. fact or of_box and of_box .. ":" or
          (path:find "^site%." or path:find "^nearest%." or path:find "^job%.codes" or path:find "^limits") and path
      if on_form then
        local has = form.out:find(on_form, 1, true)
        try(folder .. ": its form asks for " .. path, has, form.out)
        asked = asked + 1
      end
    end
  end
  try(folder .. ": facts of its form are missed by rules", asked >= 15, asked)
end

for _, way in ipairs { false, "off-grid", "grid-tied" } do
  for _, metric in ipairs { false, true } do one_way(way, metric) end
end

-- ---- names ---------------------------------------------------------------------------------------------------------

for _, name in ipairs { "hay barn", "o'kee", "höf", "a;b", "$HOME", "new/lambs", "trailing///", "back`tick`" } do
  local quoted = lanes.quoted(name)
  os.execute("mkdir -p " .. lanes.quoted(work) .. "/new")
  local told = run("stringline new " .. quoted .. " --format json")
  try("named " .. name, told.status == 0, told.err)
  local commands = {}
  for _, block in ipairs(told.status == 0 and json.read(told.out).blocks or {}) do
    for _, row in ipairs(block.rows or {}) do
      local text = row[1].text or row[1]
      if text:find "^stringline " then commands[#commands + 1] = text end
    end
  end
  try("three commands to type for " .. name, #commands == 3, #commands)
  for _, command in ipairs(commands) do
    local got = run(command)
    try("as printed: " .. command, got.status == 0 and got.err == "", got.err)
  end
end

-- ---- what is there -------------------------------------------------------------------------------------------------

local function listing() return run("ls -A . kept empty; cat kept/*").out end
run("mkdir kept empty && echo mine >kept/job.sline && ln -s kept link && ln -s nowhere gone")
local before = listing()
for _, name in ipairs { "kept", "kept/", "kept/job.sline", "link", "gone", "nowhere/farm", "kept/job.sline/farm" } do
  local got = run("stringline new " .. name)
  try("refused: " .. name, got.status == 3 and got.err:find("nothing was written", 1, true), got.err)
  try("and nothing is other: " .. name, listing() == before)
end
-- a file larger than the limit ends it half-way: job.sline has more than a block of 512 or 1024 bytes
local cut = run("(ulimit -f 1; stringline new cut)")
try("a disk that takes no more", cut.status == 3 and cut.err:find("nothing was written", 1, true), cut.err)
try("leaves nothing", listing() == before, listing())
local empty = run("stringline new empty")
try("an empty folder is taken", empty.status == 0 and lanes.read(work .. "/empty/job.sline") ~= nil, empty.err)
if run("id -u").out ~= "0\n" then
  local shut = run("mkdir shut && chmod 555 shut && stringline new shut/farm")
  run("chmod 755 shut && rmdir shut")
  try("a folder that takes nothing", shut.status == 3 and shut.err:find("no permission", 1, true), shut.err)
end

print(("new: %d passed, %d failed"):format(passed, failed))
lanes.leave(failed == 0 and passed > 0 and 0 or 1)
