#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- The sheets of a job as a set: index, numbers, title strips, lists for the crew; each page in all forms alike; pages
-- as a copier leaves them; and a few pages to the last byte, tests/golden/draw/NAME.svg.
-- tests/draw_set.lua BINARY [--update], from the top folder of the project.
package.path = arg[0]:gsub("[^/]*$", "") .. "?.lua"
local lanes = require "lanes"
local update = lanes.options("tests/draw_set.lua BINARY [--update]")
local page, pdf, dxf, json = require "draw_page", require "draw_pdf", require "draw_dxf", require "json"

local tried = require "tried"
local try, none, sh, stringline = tried.try, tried.none, tried.sh, tried.stringline

local work = lanes.folder
local quoted, read = lanes.quoted, lanes.read
for _, tool in ipairs { "mutool", "qpdf", "sha256sum" } do
  try(tool .. " is there: tests/setup.sh check", os.execute("command -v " .. tool .. " >/dev/null 2>&1"))
end

-- ---- the sets of some jobs -----------------------------------------------------------------------------------------

local jobs = {
  { "egg", "examples/egg-farm/job.sline", "--set job.revision=B" },
  { "wool", "examples/wool-store/job.sline", "--set job.stage=permit" },
  { "wheel", "examples/broken-wheel/job.sline", "--set job.stage=permit" },
  { "quote", "examples/broken-wheel/job.sline", "" },
  { "south", "tests/pages/jobs/southern/job.sline", "" },
  { "thirty", "tests/draw/thirty.sline", "" },                    -- with sheets that are typical of several racks
}
local runs = {}
for i, job in ipairs(jobs) do
  runs[i] = { folder = lanes.top, join = true,
      command = "stringline draw " .. job[2] .. " " .. job[3] .. " -o " .. quoted(work .. "/" .. job[1]) }
end
lanes.run(runs)

local function is(p, text)
  for _, t in ipairs(p.texts) do if t.text == text then return t end end
end
local function has(p, pattern)
  for _, t in ipairs(p.texts) do
    local found = t.text:match(pattern)
    if found then return found end
  end
end
-- All texts of a page, in the order in which they were written, one behind the other.
local function all(p)
  local list = {}
  for i, t in ipairs(p.texts) do list[i] = t.text end
  return table.concat(list, " ")
end

-- The sheets of a folder in their order: { label, name, page, of, part, parts, p = page.read }.
local function set_of(folder)
  local list = {}
  for _, file in ipairs(lanes.files(folder, "%.svg$")) do
    local label, name = file:match "^(%u%-%d%d%d[.%d]*)%-(.*)%.svg$"
    local p = page.read(read(folder .. "/" .. file))
    local one = { label = label, name = name, file = file, p = p }
    one.page, one.of = (has(p, "^page (%d+ of %d+)$") or "0 of 0"):match "^(%d+) of (%d+)$"
    one.page, one.of = tonumber(one.page), tonumber(one.of)
    local part = has(p, "^part (%d+ of %d+)$")
    one.part, one.parts = 1, 1
    if part then one.part, one.parts = tonumber(part:match "^%d+"), tonumber(part:match "%d+$") end
    list[#list + 1] = one
  end
  table.sort(list, function(a, b) return a.page < b.page or a.page == b.page and a.part < b.part end)
  return list
end

local sets = {}
for i, job in ipairs(jobs) do
  try(job[1] .. ": it ends as run does", runs[i].status == 0 or runs[i].status == 1, runs[i].out)
  sets[job[1]] = set_of(work .. "/" .. job[1])
end

-- What is wrong with the numbers of a set: each sheet once, each of its parts once, all of one total.
local function numbers(set)
  local bad, sheets = {}, 0
  for i, one in ipairs(set) do
    local before = set[i - 1]
    if one.part == 1 then
      sheets = sheets + 1
      if before and before.part ~= before.parts then bad[#bad + 1] = before.label .. ": its last parts are missing" end
      if one.page ~= sheets then bad[#bad + 1] = one.label .. ": page " .. one.page .. " is number " .. sheets end
    elseif not before or before.page ~= one.page or before.part + 1 ~= one.part or before.parts ~= one.parts then
      bad[#bad + 1] = one.label .. ": part " .. one.part .. " follows on none"
    end
    local label = one.part == 1 and "^%u%-%d%d%d$" or "^%u%-%d%d%d%." .. one.part .. "$"
    if not one.label:find(label) then bad[#bad + 1] = "part " .. one.part .. " is called " .. one.label end
    if not is(one.p, one.label) then bad[#bad + 1] = one.file .. " does not say its number" end
  end
  for _, one in ipairs(set) do
    if one.of ~= sheets then bad[#bad + 1] = one.label .. ": of " .. one.of .. ", there are " .. sheets end
  end
  return bad
end

-- The rows of the index: { label, scale, paper, pages, withheld = number of the reason } ..., and the reasons.
local function index_of(set)
  local rows, reasons = {}, {}
  for _, one in ipairs(set) do
    if one.name == "index" then
      local lines = {}
      for _, t in ipairs(one.p.texts) do                         -- cells of a row stand at one height
        local y = ("%.2f"):format(t.box[2])
        lines[y] = lines[y] or {}
        table.insert(lines[y], t)
        local n, why = t.text:match "^Withheld, (%d+): (.*)$"
        if n then reasons[tonumber(n)] = why end
      end
      for _, row in pairs(lines) do
        table.sort(row, function(a, b) return a.box[1] < b.box[1] end)
        -- Beside a row there may be a line of the strip: cells stand left of it.
        local label = row[1].text:match "^%u%-%d%d%d$"
        if label and #row >= 5 then
          local paper, pages = row[5].text:match "^(.-), (%d+) pages$"
          rows[#rows + 1] = { label = label, scale = row[4].text, paper = paper or row[5].text,
              pages = tonumber(pages or 1), withheld = row[6] and tonumber(row[6].text:match "^WITHHELD, (%d+)$") }
        end
      end
    end
  end
  table.sort(rows, function(a, b) return a.label < b.label end)
  return rows, reasons
end

local function index_differs(set)
  local bad, rows, reasons = {}, index_of(set)
  local at, sheets = {}, 0
  for _, row in ipairs(rows) do at[row.label] = row end
  for _, one in ipairs(set) do
    local label = one.label:match "^%u%-%d%d%d"
    local row, p = at[label], one.p
    if one.part == 1 then
      sheets = sheets + 1
      local withheld = is(p, "WITHHELD") ~= nil
      if not row then bad[#bad + 1] = label .. " is not in the index"
      else
        if one.name ~= "index" and row.pages ~= one.parts then
          bad[#bad + 1] = label .. ": " .. row.pages .. " pages"
        end
        if row.scale ~= (p.scale or "none") then bad[#bad + 1] = label .. ": scale " .. row.scale end
        if one.name ~= "index" and not all(p):find(" " .. row.paper .. " paper", 1, true) then
          bad[#bad + 1] = label .. ": on " .. row.paper
        end
        if (row.withheld ~= nil) ~= withheld then bad[#bad + 1] = label .. ": withheld or not" end
        local why = row.withheld and reasons[row.withheld]
        if row.withheld and not (why and all(p):find(why, 1, true)) then
          bad[#bad + 1] = label .. ": another reason than its page has: " .. tostring(why)
        end
      end
    end
  end
  if sheets ~= #rows then bad[#bad + 1] = #rows .. " rows of " .. sheets .. " sheets" end
  return bad
end

for name, set in pairs(sets) do
  none(name .. ": numbers of its sheets", numbers(set))
  none(name .. ": its index", index_differs(set))
  try(name .. ": the index is first, and lists are there", set[1].name == "index" and set[#set].name == "drill")
end
-- At stage quote nothing is built from: plans and lists are withheld, and stand in the index; elevations are drawn.
do
  local withheld = {}
  for _, row in ipairs((index_of(sets.quote))) do withheld[row.label] = row.withheld ~= nil end
  for _, one in ipairs(sets.quote) do
    local view = one.name:match "^%a+"
    if view == "plan" or view == "array" or view == "posts" or view == "marks" or view == "drill" then
      try("quote, " .. one.name .. ": withheld", withheld[one.label] == true)
    elseif view == "side" then try("quote, " .. one.name .. ": drawn", withheld[one.label] == false) end
  end
end
-- Where a page stands in a set.
local function place_of(set, name)
  for i, one in ipairs(set) do if one.name == name then return i end end
  error("no page " .. name)
end

-- Bookmarks and labels of the PDF: a page each, in order.
for name, set in pairs(sets) do
  local file = quoted(work .. "/" .. name .. "/drawings.pdf")
  local bad, marks, labels = {}, {}, {}
  for title, n in sh("mutool show " .. file .. " outline"):gmatch '\t"([^\n]*)"\t#page=(%d+)' do
    marks[tonumber(n)] = title
  end
  local own = json.read((sh("qpdf --json --json-key=pagelabels --json-key=pages " .. file)))
  for i, row in ipairs(own.pagelabels) do
    local last = own.pagelabels[i + 1] and own.pagelabels[i + 1].index or #own.pages
    for k = row.index, last - 1 do
      local start = row.label["/S"] and (row.label["/St"] or 1) + k - row.index or ""
      labels[k + 1] = (row.label["/P"] or ""):gsub("^u:", "") .. start
    end
  end
  if #own.pages ~= #set then bad[1] = #own.pages .. " pages of " .. #set end
  for i, one in ipairs(set) do
    if labels[i] ~= one.label then bad[#bad + 1] = "page " .. i .. " is labelled " .. tostring(labels[i]) end
    if not marks[i] or marks[i]:match "^%S+" ~= one.label then
      bad[#bad + 1] = "page " .. i .. " is marked " .. tostring(marks[i])
    end
  end
  none(name .. ": bookmarks and page labels", bad)
  local said, status = sh("qpdf --check " .. file)
  try(name .. ": qpdf finds nothing", status == "0", said)
end

-- ---- the strip -----------------------------------------------------------------------------------------------------

-- The bar is as long on paper as the strip says it is; there is one where there is a scale.
local function bar_differs(p)
  local says = has(p, "^bar (.+) long$")
  local right, left = -math.huge, math.huge
  for _, b in ipairs(p.polygons) do
    if b.layer == "G-ANNO-TTLB" and #b.xy == 8 and math.abs(math.abs(b.xy[6] - b.xy[2]) - 1.56) < 0.01 then
      for i = 1, 7, 2 do left, right = math.min(left, b.xy[i]), math.max(right, b.xy[i]) end
    end
  end
  if (p.ratio ~= nil) ~= (says ~= nil) then return { says and "a bar without a scale" or "a scale without a bar" } end
  if not says then return {} end
  local n, unit = page.length_of(says)
  if n and math.abs(n * unit - (right - left)) < 0.01 then return {} end
  return { ("%s: %.3f mm"):format(says, right - left) }
end

-- What a page says of the job, from the script itself.
do
  local script = read "examples/egg-farm/job.sline"
  local hash = sh("sha256sum examples/egg-farm/job.sline"):sub(1, 12)
  for _, one in ipairs(sets.egg) do
    local text = all(one.p)
    for _, want in ipairs { script:match 'name = "([^"]*)"', "for " .. script:match 'client = "([^"]*)"',
        "Stage permit, judged on " .. script:match "on = \"?([%d-]+)", "NEC 2023, ASCE 7-16, NDS 2018, IBC 2021",
        "Script " .. hash, "revision B", "Lengths in feet and inches", "A planning aid, not a sealed design" } do
      try("egg " .. one.label .. ": " .. want, text:find(want, 1, true), text)
    end
    none("egg " .. one.label .. ": its bar", bar_differs(one.p))
  end
  for _, one in ipairs(sets.wool) do
    try("wool " .. one.label .. ": none is named", is(one.p, "no revision named"))
    try("wool " .. one.label .. ": metric", all(one.p):find("Lengths in millimetres", 1, true))
  end
  local third = "the third, as agreed on the telephone"
  local said, status = sh(stringline("draw examples/egg-farm/job.sline side --set 'job.revision=" .. third .. "' -o " ..
      quoted(work .. "/long.svg")))
  local p = page.read(read(work .. "/long.svg"))
  try("a long revision has room above", status == "0" and all(p):find("revision " .. third, 1, true), said .. all(p))
  for what, check in pairs(page.checks) do none("a long revision: " .. what, check(p)) end
  try("a report names it", sh(stringline "run examples/egg-farm/job.sline --set job.revision=B"):find "\nrevision +B\n")
  try("a sheet names it", sh(stringline "sheet examples/egg-farm/job.sline posts --set job.revision=B")
      :find("2026-11-02, revision B", 1, true))
end

-- ---- lists for the crew --------------------------------------------------------------------------------------------

-- The cells of all tables of a sheet, as programs get it, in order; a place for a pencil is none.
local function cells_of(job, sheet)
  local value = json.read((sh(stringline("sheet " .. job[2] .. " " .. job[3] .. " " .. sheet ..
      " --for crew --format json"))))
  local list, rows = {}, 0
  for _, b in ipairs(value.blocks or {}) do
    for _, row in ipairs(b.rows or {}) do
      rows = rows + 1
      for _, c in ipairs(row) do
        local text = type(c) == "table" and c.text or c
        if type(text) == "string" and text ~= "" and not text:find "^%[" and not text:find "^_" then
          list[#list + 1] = text
        end
      end
    end
  end
  return list, rows
end

-- What is wrong with the pages of a list that has such cells and so many rows.
local function list_differs(set, name, cells, rows)
  local there, boxes, bad, wanted = {}, 0, {}, {}
  for _, one in ipairs(set) do
    if one.name == name then
      for _, t in ipairs(one.p.texts) do
        there[t.text] = (there[t.text] or 0) + 1
        if t.layer == "G-ANNO-TEXT" and t.high < 3.5 - 0.01 then bad[#bad + 1] = t.text .. ": small letters" end
      end
      for _, b in ipairs(one.p.polygons) do
        if b.layer == "G-ANNO-TEXT" and b.pen == 0.35 and #b.xy == 8 then boxes = boxes + 1 end
      end
    end
  end
  for _, text in ipairs(cells) do wanted[text] = (wanted[text] or 0) + 1 end
  local function take(text, n)
    local found = math.min(n, there[text] or 0)
    there[text] = (there[text] or 0) - found
    return found
  end
  -- A length in both ways of a tape may stand on two lines.
  for text, n in pairs(wanted) do
    local found, first, other = take(text, n), text:match "^(.-) (%(.*%))$"
    if first then found = found + math.min(take(first, n - found), take(other, n - found)) end
    if found < n then bad[#bad + 1] = ("%s: %d times of %d"):format(text, found, n) end
  end
  -- A box for each row that is drilled; for each mark, which the row at the other end of a piece is none of; none where
  -- what was measured is written in.
  local fits = boxes == 0
  if name == "drill" then fits = boxes == rows
  elseif name == "marks" then fits = boxes > rows / 2 and boxes < rows end
  if not fits then bad[#bad + 1] = boxes .. " boxes of " .. rows .. " rows" end
  return bad
end

for _, job in ipairs(jobs) do
  local set = sets[job[1]]
  local drawn = job[1] ~= "quote" and not is(set[#set].p, "WITHHELD")
  for _, name in ipairs(drawn and { "posts", "marks", "drill" } or {}) do
    local cells, rows = cells_of(job, name)
    try(job[1] .. ", " .. name .. ": it has rows", rows > 5, rows .. "")
    none(job[1] .. ", " .. name .. ": all that its sheet has, in large letters, with boxes", list_differs(set, name,
        cells, rows))
  end
end

-- ---- the same in all forms -----------------------------------------------------------------------------------------

-- Each page of three sets: lines where they are, all that is stroked and filled, all texts, in SVG, PDF and DXF.
for _, name in ipairs { "egg", "wool", "quote" } do
  for i, one in ipairs(sets[name]) do
    local trace = pdf.page(work .. "/" .. name .. "/drawings.pdf", i)
    none(name .. " " .. one.label .. ": the same in PDF", pdf.differences(one.p, trace))
    local complaints, d = dxf.read(read(work .. "/" .. name .. "/" .. one.file:gsub("svg$", "dxf")))
    none(name .. " " .. one.label .. ": DXF", complaints)
    local mine, theirs = {}, table.move(d.texts, 1, #d.texts, 1, {})
    for k, t in ipairs(one.p.texts) do mine[k] = t.text end
    table.sort(mine)
    table.sort(theirs)
    try(name .. " " .. one.label .. ": the same texts in DXF", table.concat(mine, "\n") == table.concat(theirs, "\n"))
    if name == "egg" then
      for what, check in pairs(page.checks) do none(name .. " " .. one.label .. ": " .. what, check(one.p)) end
    end
  end
end

-- Names that no form likes, in PDF; the other forms are read in tests/draw.lua.
do
  local folder, names = work .. "/names", { "A & B < C > \"D\" %%u 50% (( \\) ü é", ("W"):rep(300),
      "Corn \u{1F33D} \u{4E2D}\u{6587}" }
  os.execute("cp -R examples/egg-farm " .. quoted(folder))
  local script = read(folder .. "/job.sline")
  for n, name in ipairs(names) do
    lanes.write(folder .. "/job.sline", (script:gsub('name = "Egg farm, eight modules"', function()
      return ("name = %q"):format(name)
    end)))
    local both = ""
    for _, form in ipairs { "svg", "pdf" } do
      both = both .. sh(stringline("draw " .. quoted(folder .. "/job.sline") .. " index -o " ..
          quoted(folder .. "/index." .. form)))
    end
    local p = page.read(read(folder .. "/index.svg"))
    none("name " .. n .. " in PDF", pdf.differences(p, pdf.page(folder .. "/index.pdf", 1)))
    local said, status = sh("qpdf --check " .. quoted(folder .. "/index.pdf"))
    try("name " .. n .. ": qpdf finds nothing", status == "0", both .. said)
    local info = sh("mutool info " .. quoted(folder .. "/index.pdf"))
    try("name " .. n .. ": the PDF has a title", info:find("/Title", 1, true), info)
    for what, check in pairs(page.checks) do none("name " .. n .. ": " .. what, check(p)) end
  end
end

-- A rack whose name is long, and not of letters that the font has: all pages to a folder.
for n, name in ipairs { "a" .. ("\u{4E2D}"):rep(200), ("W"):rep(300) } do
  local folder = work .. "/racks" .. n
  os.execute("cp -R examples/egg-farm " .. quoted(folder))
  lanes.write(folder .. "/job.sline", (read(folder .. "/job.sline"):gsub('rack "east"', function()
    return ("rack %q"):format(name)
  end)))
  local said, status = sh(stringline("draw " .. quoted(folder .. "/job.sline") .. " -o " .. quoted(folder .. "/all")))
  local set = status == "0" and set_of(folder .. "/all") or {}
  try("rack " .. n .. ": it is drawn", #set >= 9, said)
  for _, one in ipairs(set) do
    for what, check in pairs(page.checks) do none("rack " .. n .. " " .. one.label .. ": " .. what, check(one.p)) end
  end
  said, status = sh("qpdf --check " .. quoted(folder .. "/all/drawings.pdf"))
  try("rack " .. n .. ": qpdf finds nothing", status == "0", said)
end

-- A locale of its own, which has a comma in numbers, and another time zone.
do
  local at = work .. "/locale"
  os.execute("mkdir -p " .. quoted(at))
  local setting = "LOCPATH=" .. quoted(at) .. " LC_ALL=de_DE.UTF-8 TZ=Asia/Tokyo "
  sh("localedef -i de_DE -f UTF-8 " .. quoted(at .. "/de_DE.UTF-8"))
  local comma = sh(setting .. "/usr/bin/printf %.1f 1,5")
  if os.execute "test -e /usr/share/i18n/locales/de_DE" then try("a locale with a comma", comma == "1,5", comma) end
  for _, form in ipairs { "svg", "dxf", "pdf", "png" } do
    local one, other = work .. "/one." .. form, work .. "/other." .. form
    sh(stringline("draw examples/egg-farm/job.sline drill -o " .. quoted(one)))
    sh(setting .. stringline("draw examples/egg-farm/job.sline drill -o " .. quoted(other)))
    try(form .. ": the same bytes under another locale and in another time zone", read(one) and
        read(one) == read(other))
  end
end

-- ---- as a copier leaves it -----------------------------------------------------------------------------------------

local DOTS, OURS = 300, 203                     -- to an inch: of a copier; of our PNG, eight to a millimetre
do
  for i, one in ipairs(sets.egg) do
    local grey = pdf.grey(work .. "/egg/drawings.pdf", i, work, DOTS, one.p.width)
    none("egg " .. one.label .. ": one bit a dot keeps its texts", pdf.lost(one.p, grey))
  end
  local file = work .. "/side.png"
  sh(stringline("draw examples/egg-farm/job.sline side --set job.revision=B -o " .. quoted(file)))
  local side = sets.egg[place_of(sets.egg, "side")]
  none("the PNG keeps its texts with one bit a dot", pdf.lost(side.p, pdf.grey(file, 1, work, OURS, side.p.width)))
  local head = (read(file) or ""):sub(1, 60)
  -- pHYs: 8000 dots to the metre both ways, 0x1F40.
  try("the PNG says its size", head:find("pHYs\0\0\x1F\x40\0\0\x1F\x40\1", 1, true))
end

-- ---- nothing half written ------------------------------------------------------------------------------------------

for _, form in ipairs { "svg", "pdf", "dxf", "png" } do
  local file = work .. "/full." .. form
  os.execute("ln -sf /dev/full " .. quoted(file))
  local said, status = sh(stringline("draw examples/egg-farm/job.sline side -o " .. quoted(file)))
  try("a full disk is told: " .. form, status == "3" and said:find("F040", 1, true) and
      said:find("the disk is full", 1, true), said)
end
do
  local said, status = sh(stringline("draw examples/broken-wheel/job.sline posts --set job.stage=permit -o " ..
      quoted(work .. "/posts.svg")))
  try("several pages in one SVG", status == "2" and said:find("U008", 1, true) and said:find "is drawn in %d+ parts" and
      not read(work .. "/posts.svg"), said)
  said, status = sh(stringline("draw examples/egg-farm/job.sline idnex -o " .. quoted(work .. "/x.pdf")))
  try("no such list", status == "2" and said:find("did you mean 'index'?", 1, true), said)
end

-- ---- to the last byte ----------------------------------------------------------------------------------------------

local goldens = {
  -- name, script, view, options
  { "egg-index", "examples/egg-farm/job.sline", "index", "" },
  { "egg-side", "examples/egg-farm/job.sline", "side", "" },
  { "egg-footing", "examples/egg-farm/job.sline", "footing", "" },
  { "egg-drill", "examples/egg-farm/job.sline", "drill", "" },
  { "egg-side-letter", "examples/egg-farm/job.sline", "side", "--paper letter" },
  { "southern-plan", "tests/pages/jobs/southern/job.sline", "plan", "" },
  { "quote-index", "examples/broken-wheel/job.sline", "index", "" },
}
for _, g in ipairs(goldens) do
  local file, kept = work .. "/" .. g[1] .. ".svg", "tests/golden/draw/" .. g[1] .. ".svg"
  local said = sh(stringline("draw " .. g[2] .. " " .. g[3] .. " " .. g[4] .. " -o " .. quoted(file)))
  local got = (read(file) or said):gsub("Script %x+, stringline [%d.]+", "Script (hash), stringline (version)")
  got = got:gsub('(Length="[%d.]+" lengthAdjust="spacingAndGlyphs">Script)', function(s)
    return s:gsub("[%d.]+", "(n)", 1)
  end)
  if update and got ~= read(kept) then
    os.execute("mkdir -p tests/golden/draw")
    lanes.write(kept, got)
    print("written anew: " .. kept)
  end
  try(kept .. " is as it was: look at both, then --update", got == read(kept), lanes.difference(read(kept) or "", got))
end

-- ---- planted faults ------------------------------------------------------------------------------------------------

do
  local function planted(what, complaints) try("planted: " .. what, #complaints > 0) end
  local function copy(set)
    local list = {}
    for i, one in ipairs(set) do
      list[i] = setmetatable({ p = setmetatable({ texts = table.move(one.p.texts, 1, #one.p.texts, 1, {}) },
          { __index = one.p }) }, { __index = one })
    end
    return list
  end
  local function without(set, i)
    local list = copy(set)
    table.remove(list, i)
    return list
  end
  local function changed(set, i, from, to)
    local list, done = copy(set), false
    for k, t in ipairs(list[i].p.texts) do
      if not done and t.text:find(from) then
        list[i].p.texts[k] = setmetatable({ text = t.text:gsub(from, to) }, { __index = t })
        done = true
      end
    end
    if not done then error("nothing to plant: " .. from) end
    return list
  end
  planted("a sheet that is missing", numbers(without(sets.egg, 3)))
  planted("a part that is missing", numbers(without(sets.wheel, #sets.wheel - 8)))
  local at = place_of(sets.egg, "side")
  planted("a page with another's number", numbers(changed(sets.egg, at, "^S%-201$", "S-202")))
  planted("a sheet that the index has not", index_differs(changed(sets.egg, 1, "^S%-102$", "S 102")))
  planted("another scale in the index", index_differs(changed(sets.egg, 1, '^1/2" = 1\'%-0"$', '1/4" = 1\'-0"')))
  planted("a withheld sheet that the index calls drawn", index_differs(changed(sets.quote, 1, "^WITHHELD, 1$", "")))
  planted("another reason", index_differs(changed(sets.quote, 1, "^Withheld, 1: the", "Withheld, 1: a")))
  local cells, rows = cells_of(jobs[1], "drill")
  local drill = place_of(sets.egg, "drill")
  planted("a cell of a list", list_differs(changed(sets.egg, drill, "^rails 1 to 4, west end$", "rails 1 to 3"),
      "drill", cells, rows))
  local small = copy(sets.egg)
  for k, t in ipairs(small[drill].p.texts) do
    if t.layer == "G-ANNO-TEXT" then small[drill].p.texts[k] = setmetatable({ high = 2.6 }, { __index = t }) end
  end
  planted("small letters in a list", list_differs(small, "drill", cells, rows))
  local few = copy(sets.egg)
  few[drill].p.polygons = table.move(few[drill].p.polygons, 1, #few[drill].p.polygons - 1, 1, {})
  planted("a box less", list_differs(few, "drill", cells, rows))
  planted("another length of the bar", bar_differs(changed(sets.egg, at, "^bar .* long$", "bar 1 in long")[at].p))
  planted("a bar that is not said", bar_differs(changed(sets.egg, at, "^bar .* long$", "no bar")[at].p))
  local side, trace = sets.egg[at].p, pdf.page(work .. "/egg/drawings.pdf", at)
  local function otherwise(what, f)
    local p = {}
    for k, v in pairs(trace) do p[k] = v end
    f(p)
    planted("PDF: " .. what, pdf.differences(side, p))
  end
  otherwise("a stroke less", function(p) p.strokes = p.strokes - 1 end)
  otherwise("a fill more", function(p) p.fills = p.fills + 1 end)
  otherwise("a line a twentieth of a mm away", function(p)
    local l = p.lines[9]
    p.lines = table.move(p.lines, 1, #p.lines, 1, {})
    p.lines[9] = { l[1] + 0.05, l[2], l[3], l[4] }
  end)
  otherwise("a letter", function(p) p.letters = p.letters:gsub("top edge", "top edqe") end)
  otherwise("a text more", function(p) p.letters = p.letters .. "more" end)
  otherwise("other paper", function(p) p.width = p.width + 1 end)
  -- Letters in a light grey go as one bit a dot; strokes as thick as the letters are run together.
  local grey = pdf.grey(work .. "/egg/drawings.pdf", at, work, DOTS, side.width)
  local head = grey.bytes:sub(1, grey.at - 1)
  local light = setmetatable({ bytes = head .. grey.bytes:sub(grey.at):gsub("[\0-\200]", "\200") }, { __index = grey })
  planted("letters in light grey", pdf.lost(side, light))
  local thick = setmetatable({ bytes = head .. grey.bytes:sub(grey.at):gsub("[\0-\250]", "\100") }, { __index = grey })
  planted("letters that run together", pdf.lost(side, thick))
end

tried.leave "draw-set"
