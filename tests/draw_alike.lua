#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- Sheets that stand for several racks: each rack is on one sheet of each view, by its name; what such a sheet shows is
-- what each of its racks shows alone, and its levels are those of the post schedule.  All is read from the files.
-- tests/draw_alike.lua BINARY, from the top folder of the project.
package.path = arg[0]:gsub("[^/]*$", "") .. "?.lua"
local lanes = require "lanes"
lanes.options("tests/draw_alike.lua BINARY")
local page, json = require "draw_page", require "json"

local tried = require "tried"
local try, none, sh, stringline = tried.try, tried.none, tried.sh, tried.stringline

local work = lanes.folder
local quoted, read = lanes.quoted, lanes.read

-- ---- what the files say --------------------------------------------------------------------------------------------

-- "A1 to A3, B and C7" -> { "A1", "A2", "A3", "B", "C7" }.
local function named(text)
  local list = {}
  for word in (text:gsub(" and ", ", ") .. ", "):gmatch "(.-), " do
    local stem, from, to = word:match "^(.-)(%d+) to %1(%d+)$"
    if stem then for i = tonumber(from), tonumber(to) do list[#list + 1] = stem .. ("%0" .. #from .. "d"):format(i) end
    else list[#list + 1] = word end
  end
  return list
end

-- The texts of a strip's title or of a note, one behind the other.
local function strip_of(p)
  local list = {}
  for _, t in ipairs(p.texts) do if t.layer == "G-ANNO-TTLB" then list[#list + 1] = t.text end end
  return table.concat(list, " ")
end

-- The racks of which a page says that it is.
local function racks_of(p)
  local said = strip_of(p)
  local n, names = said:match "typical of (%d+): racks (.-), seen"
  if not n then n, names = said:match "typical of (%d+) racks,.- It is of racks (.-)%." end
  if not n then
    names = said:match " rack ([^,]-), seen" or said:match " racks (.-) To no scale" or
        said:match " rack (%S+) To no scale"
  end
  local list = named((names or ""):gsub(", and th.*", ""))
  return list, n and tonumber(n) or #list, n ~= nil
end

-- The sheets of a folder: { label, view, p = page.read, file } of their first pages.
local function set_of(folder)
  local list = {}
  for _, file in ipairs(lanes.files(folder, "%.svg$")) do
    local label, view = file:match "^(%u%-%d%d%d)%-(%a+)"
    local p = label and page.read(read(folder .. "/" .. file))
    if p then list[#list + 1] = { label = label, view = view, file = file, p = p } end
  end
  return list
end

local views = { "plan", "array", "side", "front" }

-- What is wrong with the sheets of racks: each rack is on one sheet of each view, and so many as it says.
local function places_differ(set, racks)
  local bad = {}
  for _, view in ipairs(views) do
    local on = {}
    for _, one in ipairs(set) do
      if one.view == view then
        local list, n = racks_of(one.p)
        if #list ~= n then bad[#bad + 1] = one.label .. ": typical of " .. n .. ", and " .. #list .. " are named" end
        for _, rack in ipairs(list) do
          if on[rack] then bad[#bad + 1] = rack .. " is on " .. on[rack] .. " and on " .. one.label end
          on[rack] = one.label
        end
      end
    end
    for _, rack in ipairs(racks) do
      if not on[rack] then bad[#bad + 1] = rack .. " is on no sheet of the " .. view end
      on[rack] = nil
    end
    for rack, label in pairs(on) do bad[#bad + 1] = label .. " names '" .. rack .. "', and there is none" end
  end
  return bad
end

-- All that a page draws of the thing, and its texts: { name, x, y ... } in mm from the left upper corner of that.
local function drawn_on(p, texts_of)
  local left, top, list = math.huge, math.huge, {}
  local function put(name, xy)
    for i = 1, #xy, 2 do left, top = math.min(left, xy[i]), math.min(top, xy[i + 1]) end
    list[#list + 1] = { name = name, table.unpack(xy) }
  end
  for _, l in ipairs(p.lines) do
    if l.layer ~= "G-ANNO-TTLB" and l.layer ~= "G-ANNO-TEXT" then
      put("a line of " .. l.layer .. ", " .. l.pen, { l.x1, l.y1, l.x2, l.y2 })
    end
  end
  for _, c in ipairs(p.circles) do put("a circle of " .. c.layer .. ", " .. c.pen .. ", " .. c.r, { c.x, c.y }) end
  for _, t in ipairs(p.texts) do
    if texts_of[t.layer] then put(t.layer .. ": " .. t.text, { t.box[1], t.box[2] }) end
  end
  for _, one in ipairs(list) do
    for i, v in ipairs(one) do one[i] = v - (i % 2 == 1 and left or top) end
  end
  return list
end

-- Takes from a list what is the same as an item, to five thousandths of a mm: each place is rounded twice.
local function take(list, item)
  for k, other in ipairs(list) do
    local same = other.name == item.name and #other == #item
    for i, v in ipairs(item) do same = same and math.abs(v - other[i]) < 0.005 end
    if same then return table.remove(list, k) end
  end
end

-- What a rack's own page shows otherwise than the sheet that is typical of it. Texts that differ from rack to rack, as
-- a string's name on its modules, and tables with room for a pencil stand on its own page alone: of those views the
-- lines and the dimensions are compared, of an elevation from the side all texts, unless levels are left out.
local function shows_otherwise(sheet, own, view, other_levels)
  local texts = { ["G-ANNO-DIMS"] = true, ["G-ANNO-TEXT"] = view == "side" and not other_levels or nil }
  if sheet.scale ~= own.scale then return { "scale " .. tostring(own.scale) } end
  local a, b, bad = drawn_on(sheet, texts), drawn_on(own, texts), {}
  if #a < 30 then bad[1] = "only " .. #a .. " items" end
  for _, item in ipairs(a) do
    if not take(b, item) then bad[#bad + 1] = "its own page has not: " .. item.name end
  end
  for _, item in ipairs(b) do bad[#bad + 1] = "its own page has: " .. item.name end
  return bad
end

-- By rack and post, the cells of the schedule that a plan has, too: ground, how wide and how deep the hole is.
local function schedule(script)
  local value, by, rack = json.read((sh(stringline("sheet " .. script .. " posts --format json")))), {}, nil
  for _, b in ipairs(value.blocks) do
    rack = b.kind == "subheading" and b.text:match "^rack (.-), posts west to east$" or rack
    if b.kind == "table" and rack and not by[rack] then
      by[rack] = {}
      for _, row in ipairs(b.rows) do
        local cells = {}
        for i, c in ipairs(row) do cells[i] = type(c) == "table" and c.text or c end
        by[rack][#by[rack] + 1] = table.concat(cells, " | ", 1, 7)
      end
    end
  end
  return by
end

-- Rows of a schedule as a sheet has them on which levels are left out: no ground, posts by their line and place.
local function without_levels(rows)
  local list, n = {}, {}
  for i, row in ipairs(rows) do
    local cells = {}
    for cell in (row .. " | "):gmatch "(.-) | " do cells[#cells + 1] = cell end
    local line = cells[1]:sub(1, 1)
    n[line] = (n[line] or 0) + 1
    cells[1] = line .. n[line]
    table.remove(cells, 4)
    list[i] = table.concat(cells, " | ")
  end
  return list
end

-- Texts of a page that are levels: "+30 in", "top edge -5-1/8 in", "+120 mm".
local function levels_on(p)
  local list = {}
  for _, t in ipairs(p.texts) do
    if t.layer == "G-ANNO-TEXT" and (" " .. t.text):find " [+-]%d[%d/-]* [im][nm]$" then list[#list + 1] = t.text end
  end
  return list
end

-- What the table of holes on a plan says otherwise than the schedule of a rack.
local function levels_differ(p, rows)
  local lines, bad = {}, {}
  for _, t in ipairs(p.texts) do
    if t.layer == "G-ANNO-TEXT" and t.turn == 0 then
      local y = ("%.2f"):format(t.box[2])
      lines[y] = lines[y] or {}
      table.insert(lines[y], t)
    end
  end
  local there = {}
  for _, row in pairs(lines) do
    table.sort(row, function(a, b) return a.box[1] < b.box[1] end)
    local cells = {}
    for i, t in ipairs(row) do cells[i] = t.text end
    for n = 6, math.min(7, #cells) do there[table.concat(cells, " | ", 1, n)] = true end
  end
  for _, row in ipairs(rows) do if not there[row] then bad[#bad + 1] = row end end
  if #rows == 0 then bad[1] = "the schedule has no rows" end
  return bad
end

-- ---- jobs ----------------------------------------------------------------------------------------------------------

local function numbered(n, stem)
  local list = {}
  for i = 1, n do list[i] = (stem or "A") .. i end
  return list
end
local ranch = { "one", "two", "three", "four", "five" }
local jobs = {
  -- name, script, options, racks, sheets by view as they are by the script's own words
  { "thirty", "tests/draw/thirty.sline", "", numbered(30), { plan = 3, array = 2, side = 3, front = 3 } },
  -- The same south of the equator, on the paper of an office's printer.
  { "south", "tests/draw/thirty.sline", "--set 'rack_type.r.azimuth=0deg' --set 'site.latitude=45 S' --paper A4",
      numbered(30), { plan = 3, array = 2, side = 3, front = 3 } },
  { "dairy", "examples/dairy/job.sline", "--set job.stage=permit", { "A", "B", "C" },   -- A on holes, B and C on beams
      { plan = 2, array = 1, side = 2, front = 2 } },
  { "wheel", "examples/broken-wheel/job.sline", "--set job.stage=permit --paper letter", ranch,
      { plan = 5, side = 5, front = 5 } },                                               -- three terraces, all unlike
  -- A field that falls an inch from rack to rack, and each rack with it: nothing but levels and names differ.
  { "large", "tests/pages/jobs/large/job.sline", "", numbered(30, "row "),
      { plan = 1, array = 1, side = 1, front = 1 }, other_levels = true },
  -- Nothing is built from at that stage: one sheet for all that are withheld for one reason.
  { "quote", "examples/broken-wheel/job.sline", "", ranch, { plan = 1, array = 1, side = 5, front = 1 } },
}
local runs, sets = {}, {}
for i, job in ipairs(jobs) do
  runs[i] = { folder = lanes.top, join = true,
      command = "stringline draw " .. job[2] .. " " .. job[3] .. " -o " .. quoted(work .. "/" .. job[1]) }
end
lanes.run(runs)
for i, job in ipairs(jobs) do
  local name, script, options, racks = job[1], job[2], job[3], job[4]
  local set, count = set_of(work .. "/" .. name), {}
  sets[name] = set
  try(name .. ": it is drawn", #set > 4, runs[i].out)
  none(name .. ": each rack is on one sheet of each view", places_differ(set, racks))
  for _, one in ipairs(set) do
    count[one.view] = (count[one.view] or 0) + 1
    for what, check in pairs(page.checks) do none(name .. " " .. one.file .. ": " .. what, check(one.p)) end
  end
  for view, n in pairs(job[5]) do
    try(name .. ": sheets of the " .. view, count[view] == n, count[view] .. " of " .. n)
  end
  local rows = name ~= "quote" and schedule(script .. " " .. options:gsub("%-%-paper %S+", ""))
  for _, one in ipairs(set) do
    local list, n, typical = racks_of(one.p)
    for k, rack in ipairs(rows and one.p.ratio and one.view == "plan" and list or {}) do
      if one.p.ratio then
        local own = rows[rack] or {}
        none(name .. " " .. one.label .. ": the schedule of " .. rack, levels_differ(one.p, job.other_levels and
            without_levels(own) or own))
      end
    end
    if job.other_levels and typical then none(name .. " " .. one.label .. ": no levels", levels_on(one.p))
    elseif one.p.ratio and one.view == "side" then
      try(name .. " " .. one.label .. ": levels", #levels_on(one.p) > 2)
    end
    -- The first, one in the middle and the last of those that it is typical of, each drawn alone.
    for _, k in ipairs(typical and one.p.ratio and { 1, (n + 1) // 2, n } or {}) do
      local file = work .. "/own.svg"
      os.remove(file)
      local said = sh(stringline("draw " .. script .. " " .. options .. " " .. quoted(one.view .. "." .. list[k]) ..
          " -o " .. quoted(file)))
      local own = read(file)
      if not own and said:find "parts, and" then                        -- notes go on behind it
        said = sh(stringline("draw " .. script .. " " .. options .. " " .. quoted(one.view .. "." .. list[k] ..
            ".1") .. " -o " .. quoted(file)))
        own = read(file)
      end
      try(name .. " " .. one.label .. ": " .. list[k] .. " alone", own ~= nil, said)
      if own then
        local p = page.read(own)
        none(name .. " " .. one.label .. ": as " .. list[k] .. " alone", shows_otherwise(one.p, p, one.view,
            job.other_levels))
        try(name .. " " .. one.label .. ": " .. list[k] .. " has its number", strip_of(p):find(one.label, 1, true) and
            strip_of(p):find("rack " .. list[k] .. ", ", 1, true))
        -- On small paper that note may stand behind it.
        local all, part = strip_of(p), 2
        while all:find("Notes go on: ", 1, true) and part < 5 do
          os.remove(file)
          sh(stringline("draw " .. script .. " " .. options .. " " .. quoted(one.view .. "." .. list[k] .. "." ..
              part) .. " -o " .. quoted(file)))
          all, part = all .. (read(file) and " " .. strip_of(page.read(read(file))) or ""), part + 1
        end
        try(name .. " " .. one.label .. ": " .. list[k] .. " says that it is one of them", all:find("Sheet " ..
            one.label .. " of the set is typical of " .. n .. ": racks", 1, true), all)
      end
    end
  end
end

local function sheet_of(set, view, n)
  for _, one in ipairs(sets[set]) do
    if one.view == view then
      n = n - 1
      if n == 0 then return one end
    end
  end
end

-- Which racks these are, by hand: A7 stands on other ground, A12 has other columns, and of A19 a label says another
-- wood.
do
  local function is(set, view, n, want)
    local list = racks_of(sheet_of(set, view, n).p)
    try(set .. ", " .. view .. " " .. n .. ": " .. want, table.concat(list, " ") == want, table.concat(list, " "))
  end
  for _, set in ipairs { "thirty", "south" } do
    for view, want in pairs { plan = { "A7", "A12" }, array = { "A12" }, side = { "A7", "A19" },
        front = { "A7", "A12" } } do
      for n, rack in ipairs(want) do is(set, view, n + 1, rack) end
    end
  end
  is("dairy", "plan", 1, "A")
  is("dairy", "plan", 2, "B C")
  is("wheel", "side", 3, "three")
end
-- Whom of its 28 racks of six posts an unknown rule is about stands there with each name; what was dug is written
-- elsewhere.
do
  local said = ""
  for _, name in ipairs { "S-101-plan", "S-101.2-plan" } do
    said = said .. strip_of(page.read(read(work .. "/thirty/" .. name .. ".A1-and-27-more.svg"))) .. " "
  end
  for _, want in ipairs { "racks A1 to A6, A8 to A11 and A13 to A30. If not",
    "rack A1 post F1 and 167 more (on racks A1 to A6, A8 to A11 and A13 to A30)" } do
    try("typical: " .. want, said:gsub("%s+", " "):find(want, 1, true), said)
  end
  local p = sheet_of("thirty", "plan", 1).p
  for _, t in ipairs(p.texts) do try("typical: no cell for a pencil", t.text ~= "as dug") end
end
-- Rows of racks behind each other, six of them: A7 stands in that of A25, and no other rack is seen otherwise from the
-- end of its row. Which rack is which the notes say; of the field that falls all are alike but for their levels.
do
  local function rows(set, n, want, ...)
    local one = sheet_of(set, "rows", n)
    local said = one and strip_of(one.p):gsub("%s+", " ") or ""
    try(set .. ", rows " .. n .. ": " .. want, said:find("Rows of racks " .. want .. ", and those in front of ", 1,
        true), said)
    for _, text in ipairs { ... } do
      local found = said:find(text, 1, true)
      for _, t in ipairs(one and one.p.texts or {}) do found = found or t.text:find(text, 1, true) end
      try(set .. ", rows " .. n .. ": " .. text, found, said)
    end
    return one
  end
  rows("thirty", 1, "rack A25", "A7")
  rows("thirty", 2, "typical of 5: racks A26 to A30", "A2, A8, A14, A20, A26; A3, A9, A15, A21, A27;")
  local all = rows("large", 1, "typical of 6: racks row 25 to row 30", "row 1, row 7, row 13, row 19, row 25;")
  none("large, rows: no levels", levels_on(all.p))
  for set, n in pairs { thirty = 3, large = 2 } do try(set .. ": sheets of rows", not sheet_of(set, "rows", n)) end
end
-- The table of racks in the index: those that are alike have one row.
do
  local texts = {}
  for _, one in ipairs(sets.thirty) do
    if one.view == "index" then for _, t in ipairs(one.p.texts) do texts[t.text] = true end end
  end
  for _, want in ipairs { "Racks: the sheets of each, and what differs", "A7", "A12", "0 to +130 mm" } do
    try("the index says " .. want, texts[want])
  end
end
-- Rack 17 of the field that falls: its lower edge by the script 30 - 16 = 14 in over the datum.
do
  local at, level = {}, {}
  for _, file in ipairs(lanes.files(work .. "/large", "^G%-001.*svg$")) do
    for _, t in ipairs(page.read(read(work .. "/large/" .. file)).texts) do
      local y = file .. ("%.2f"):format(t.box[2])
      if t.text == "row 17" then at[y] = true end
      if t.text == "+14 in" or t.text == "F17.1 to F17.2, B17.1 to B17.2" then level[y] = (level[y] or 0) + 1 end
    end
  end
  local y = next(at)
  try("the index has the levels and the posts of a rack", y and level[y] == 2)
end
-- The report for a browser has each sheet once.
do
  local html = sh(stringline "run tests/draw/thirty.sline --format html")
  local _, n = html:gsub("<h%d[^>]*>S%-101 Post plan, typical of 28: racks A1 to A6, A8 to A11 and A13 to A30, part 1",
      "")
  try("the report has a typical sheet once", n == 1, n .. "")
end
-- Words that mean a sheet: its number, its view where all are on one, its name in the list.
do
  local function draws(word, want)
    local file = work .. "/word.svg"
    os.remove(file)
    local said = sh(stringline("draw examples/dairy/job.sline " .. quoted(word) .. " --set job.stage=permit -o " ..
        quoted(file)))
    try(word .. " draws " .. want, (read(file) or ""):find("<title>" .. want, 1, true), said)
  end
  draws("array", "S-103 Array plan, typical of 3: racks A, B and C")
  draws("S-103", "S-103 Array plan, typical of 3: racks A, B and C")
  draws("array.B", "S-103 Array plan, rack B")
  draws("S-204.2", "S-204.2 Front elevation, typical of 2: racks B and C, part 2 of 2")
  draws("front.B and 1 more.1", "S-204 Front elevation, typical of 2: racks B and C, part 1 of 2")
  local said, status = sh(stringline("draw examples/dairy/job.sline plan --set job.stage=permit -o " .. quoted(work ..
      "/x.svg")))
  try("several sheets in one SVG", status == "2" and said:find("U008", 1, true), said)
end
-- Names that are in no order, and more of them than a title holds.
do
  local folder, words = work .. "/names", {}
  os.execute("mkdir -p " .. quoted(folder) .. " && cp tests/draw/*.csv " .. quoted(folder))
  for i = 1, 30 do
    words[i] = ("meadow %s behind the %s"):format(("abcdefghijklmnopqrstuvwxyzABCD"):sub(i, i), i % 2 == 0 and "barn" or
        "A & B < C")
  end
  local list = {}
  for i, w in ipairs(words) do list[i] = ("%q"):format(w) end
  local script = read "tests/draw/thirty.sline"
  script = script:gsub('"A" %.%. i', "NAMES[i]"):gsub("levels%.A7 = [^\n]*\n", ""):gsub("i == 19", "false")
      :gsub("A1%.F1", words[1] .. ".F1")
      :gsub("job {", "local NAMES = { " .. table.concat(list, ", "):gsub("%%", "%%%%") .. " }\njob {", 1)
  lanes.write(folder .. "/job.sline", script)
  local said, status = sh(stringline("draw " .. quoted(folder .. "/job.sline") .. " side -o " .. quoted(folder ..
      "/side.pdf")))
  try("names in no order", status == "0" or status == "1", said)
  said = sh(stringline("draw " .. quoted(folder .. "/job.sline") .. " -o " .. quoted(folder .. "/all")))
  local all = ""
  for _, file in ipairs(lanes.files(folder .. "/all", "^S%-201")) do
    if file:find "svg$" then
      local p = page.read(read(folder .. "/all/" .. file))
      all = all .. strip_of(p) .. " "
      for what, check in pairs(page.checks) do none("names: " .. what, check(p)) end
    end
  end
  try("typical of racks that a note names", all:find("typical of 30 racks, seen", 1, true), said .. all)
  for _, w in ipairs(words) do try("names: " .. w, all:find(w, 1, true), all) end
end

-- ---- planted faults ------------------------------------------------------------------------------------------------

do
  local function planted(what, complaints) try("planted: " .. what, #complaints > 0) end
  local function changed(one, from, to)
    local texts, done = {}, false
    for i, t in ipairs(one.p.texts) do
      texts[i] = t
      if not done and t.text:find(from) then
        texts[i] = setmetatable({ text = t.text:gsub(from, to) }, { __index = t })
        done = true
      end
    end
    if not done then error("nothing to plant: " .. from) end
    return { label = one.label, view = one.view, p = setmetatable({ texts = texts }, { __index = one.p }) }
  end
  local racks, rows = numbered(30), schedule "tests/draw/thirty.sline"
  local function with(view, n, from, to)
    local list, old = {}, sheet_of("thirty", view, n)
    for i, one in ipairs(sets.thirty) do list[i] = one == old and changed(one, from, to) or one end
    return list
  end
  planted("a rack that no sheet names", places_differ(with("array", 1, "A30", "A29"), racks))
  planted("a rack on two sheets", places_differ(with("array", 1, "A11 and A13 to", "A12 and A13 to"), racks))
  planted("another number of racks", places_differ(with("side", 1, "of 28", "of 27"), racks))
  local few = {}
  for _, one in ipairs(sets.thirty) do if one.label ~= "S-102" then few[#few + 1] = one end end
  planted("a sheet less", places_differ(few, racks))
  local plan, side = sheet_of("thirty", "plan", 1), sheet_of("thirty", "side", 1)
  planted("a level of the ground", levels_differ(changed(plan, "^%+10 mm$", "+11 mm").p, rows.A3))
  planted("a rack of other ground on a typical sheet", levels_differ(plan.p, rows.A7))
  planted("a depth of a hole", levels_differ(changed(plan, "^1500 mm$", "1400 mm").p, rows.A3))
  local flat = sheet_of("large", "side", 1)
  planted("a level where racks have others", levels_on(changed(flat, "^top edge", "top edge +98-1/4 in").p))
  planted("a label", shows_otherwise(side.p, changed(side, "^top edge", "top edqe").p, "side"))
  local array, other = sheet_of("thirty", "array", 1), sheet_of("thirty", "array", 2)
  planted("a rack of other columns", shows_otherwise(array.p, other.p, "array"))
  local lines = table.move(side.p.lines, 1, #side.p.lines, 1, {})
  for i, l in ipairs(lines) do
    if l.layer == "S-POST" then
      lines[i] = setmetatable({ x1 = l.x1 + 0.1, x2 = l.x2 + 0.1 }, { __index = l })
      break
    end
  end
  planted("a post a tenth of a mm off", shows_otherwise(side.p, setmetatable({ lines = lines }, { __index = side.p }),
      "side"))
end

tried.leave "draw-alike"
