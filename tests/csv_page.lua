#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- docs/csv-files.md, held against what the program reads: tests/csv_page.lua BINARY [--update], from the top folder of
-- the project.  Its files stand in a folder as it names them, with the job that it shows; each is read.  The tables of
-- columns are those of `describe`, which --update writes anew; a cell is emptied in each column in turn.
package.path = arg[0]:gsub("[^/]*$", "") .. "?.lua"
local json = require "json"
-- Cells that are filled both or not at all: a level and a height are of a force.
local TOGETHER = { hold = "hold_level", sideways = "load_at", load_at = "sideways" }
local PAGE = "docs/csv-files.md"
local binary, update = arg[1], arg[2] == "--update"
if not binary then
  io.stderr:write("usage: tests/csv_page.lua BINARY [--update], from the top folder of the project\n")
  os.exit(2)
end
local passed, failed = 0, 0
local function try(what, good, more)
  if good then passed = passed + 1 return end
  failed = failed + 1
  print("not ok " .. what .. (more and "\n    " .. more:gsub("\n", "\n    ") or ""))
end
local function read(path)
  local f <close> = assert(io.open(path, "rb"))
  return f:read "a"
end
local function write(path, text)
  local f <close> = assert(io.open(path, "wb"))
  assert(f:write(text))
end

-- ---- the program ---------------------------------------------------------------------------------------------------

local pwd = io.popen "pwd":read "l"
if binary:sub(1, 1) ~= "/" then binary = pwd .. "/" .. binary end
local folder = io.popen "mktemp -d":read "l"
assert(os.execute(("mkdir %s/parts %s/prices"):format(folder, folder)))

-- What it says in the folder of the page, on both channels, and its exit status.
local function say(words)
  local p = io.popen(("cd %s && NO_COLOR=1 %s %s 2>&1"):format(folder, binary, words))
  local said = p:read "a"
  local _, _, status = p:close()
  return said, status
end

-- The columns of a kind: { name, holds, needed, says }, as `describe` has them.
local function columns_of(kind)
  local list = {}
  for _, block in ipairs(json.read((say("describe " .. kind .. " --format json"))).blocks) do
    for _, row in ipairs(block.kind == "table" and block.rows or {}) do
      local takes = row[3].text
      list[#list + 1] = { name = row[1].text, needed = takes:find "; required" ~= nil, says = row[2].text,
          holds = takes:match "^one of [^;]+" or takes:match "^an? .-%(like .-%)" }
    end
  end
  return list
end

-- ---- the page ------------------------------------------------------------------------------------------------------

local page = read(PAGE)
local job = page:match "\n```lua\n(.-)```"
-- Of each: its kind, its name, its text and heading, its section of the page.
local files = {}
for at, title in page:gmatch "()\n## ([^\n]+)\n" do
  local file = title:match "`([%w_/-]+%.csv)`"
  if file then
    local section = page:sub(at + 1, (page:find("\n## ", at + 1, true) or 0) - 1)
    local text = section:match "\n```csv\n(.-)```"
    local head = ("\n" .. text):match "\n([^#\n][^\n]*)"
    local first = head:match "^[^,]+"
    files[#files + 1] = { file = file, text = text, head = head, section = section,
        kind = file:match "^parts/" and first or file:match "^prices/" and "price" or nil }
  end
end

local function table_of(kind)
  local lines = { "| column | holds | may be empty | what it is |", "|---|---|---|---|" }
  for _, c in ipairs(columns_of(kind)) do
    lines[#lines + 1] = ("| `%s` | %s | %s | %s |"):format(c.name, c.holds, c.needed and "no" or "yes", c.says)
  end
  return table.concat(lines, "\n") .. "\n"
end

if update then
  for _, f in ipairs(files) do
    if f.kind then
      local bare = f.section:gsub("\n|[^\n]*", "")
      local from, to = page:find(f.section, 1, true)
      local new = bare:gsub("\n+$", "\n\n") .. table_of(f.kind)
      page = page:sub(1, from - 1) .. new .. page:sub(to + 1)
    end
  end
  write(PAGE .. ".tmp", page)
  assert(os.rename(PAGE .. ".tmp", PAGE))
  os.exit(os.execute("rm -r " .. folder))
end

-- ---- each file -----------------------------------------------------------------------------------------------------

-- Cells of a line: those of this page have no quoted comma but in the last column.
local function cells(line)
  local list = {}
  for cell in (line .. ","):gmatch '("[^"]*"),' do list[0] = cell end
  local plain = list[0] and line:gsub('"[^"]*"', "\1") or line
  for cell in (plain .. ","):gmatch "([^,]*)," do list[#list + 1] = (cell:gsub("\1", list[0] or "")) end
  return list
end

local kinds = {}
for _, f in ipairs(files) do
  write(folder .. "/" .. f.file, f.text)
  if f.kind then kinds[f.kind] = true end
end
write(folder .. "/job.sline", job)
local said, status = say "check job.sline"
try("the job of the page is read", status and status <= 1 and said:find "rules hold", said)
said, status = say "sweep job.sline --count"
try("its variants are read", status == 0 and said:find "4 variants", said)

local JOB = 'job { name = "t", client = "c", stage = "quote", on = "2026-05-04" }\n'
write(folder .. "/job.sline", JOB .. 'parts "none.csv"\n')
write(folder .. "/none.csv", "none,length\n")
local list = say "check job.sline":match "it is one of ([^\n]+)"
for kind in (list or "nothing"):gmatch "[%a_]+" do try("the page has a file of " .. kind, kinds[kind]) end

for _, f in ipairs(files) do
  if f.kind then
    local word = f.kind == "price" and "prices" or "parts"
    local columns, head = columns_of(f.kind), cells(f.head)
    local last = f.text:match "([^\n]*)\n$"
    local before, row = f.text:sub(1, -#last - 2), cells((f.text:match(f.head:gsub("%p", "%%%0") .. "\n([^\n]*)")))
    local named = {}
    for i, name in ipairs(head) do named[name] = i end
    write(folder .. "/job.sline", ('%s%s "%s"\n'):format(JOB, word, f.file))
    said, status = say "check job.sline"
    try(f.file .. " alone is read", status and status <= 1, said)
    try(f.file .. ": its table is that of describe (--update)", f.section:find(table_of(f.kind), 1, true))
    for _, c in ipairs(columns) do
      local at = named[c.name]
      try(f.file .. ": its heading has " .. c.name, at)
      if at then
        local was, other = row[at], named[TOGETHER[c.name]]
        local of = other and row[other]
        row[at] = ""
        if other then row[other] = "" end
        write(folder .. "/" .. f.file, f.head .. "\n" .. table.concat(row, ",") .. "\n")
        row[at] = was
        if other then row[other] = of end
        said, status = say "check job.sline"
        local refused = status == 2 and said:find("'" .. c.name .. "' is empty", 1, true)
        try(f.file .. ": an empty " .. c.name, c.needed and refused or not c.needed and status <= 1, said)
      end
    end
    try(f.file .. ": nothing but its columns", #head == #columns + (f.kind == "price" and 0 or 1) and before ~= "")
  end
end

-- What the page says of all files.
local function refused(what, text, code)
  write(folder .. "/parts/clamps.csv", text)
  write(folder .. "/job.sline", JOB .. 'parts "parts/clamps.csv"\n')
  local heard, exit = say "check job.sline"
  try(what, code and exit == 2 and heard:find("[" .. code .. "]", 1, true) or not code and exit <= 1, heard)
end
local HEAD = "clamp,role,least_frame,most_frame\n"
refused("columns in another order, inches, a comment, a blank line, blanks around a cell, quotes",
    '# of May\nclamp,most_frame,role,least_frame\n\n"EC, ""short""" , 1 9/16 in, end,30 mm\n')
refused("a unit in the heading", "clamp,role,least_frame [mm],most_frame\nEC,end,30,40\n", "F030")
refused("a number alone", HEAD .. "EC,end,30,40 mm\n", "D003")
refused("semicolons", (HEAD .. "EC,end,30 mm,40 mm\n"):gsub(",", ";"), "F013")
refused("UTF-16", "\xFF\xFEc\0l\0", "F012")
refused("a spreadsheet's own file", "PK\3\4...", "F014")

os.execute("rm -r " .. folder)
print(("csv-page: %d passed, %d failed"):format(passed, failed))
os.exit(failed == 0 and passed > 0)
