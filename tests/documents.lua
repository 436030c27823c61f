-- SPDX-License-Identifier: MIT
-- What holds for every document, whoever writes it: run in the host's Lua by document_test.c.
--   check(name, document) raises with what is wrong; returns how many cells were compared.
local page = import "write.page"
local text = import "write.text"
local documentation = import "write.document"

local units = {}
for _, u in ipairs(host.units()) do
  if u.refused == "" then
    units[u.symbol] = true
    for a in u.aliases:gmatch("%S+") do units[a] = true end
  end
end
units.AWG = true

local function fail(...) error(table.concat { ... }, 0) end

-- ---- no line too long, no number parted from its unit --------------------------------------------------------------

local function lines_fit(name, out, width)
  for line in out:gmatch("(.-)\n") do
    local n = utf8.len(line)
    if n > width then fail(name, " at ", width, " columns: a line of ", n, ": ", line) end
  end
end

local function number_broken(line, following)
  local unit = following:match("^[^%s,;:.)]+")
  return line:find("%d$") and unit and units[unit] or line:find("%d ft$") and following:find("^%d[%d/-]* in")
end

local function numbers_whole(name, d, width)
  local function try(t)
    local lines = page.wrap(t, width)
    for i = 1, #lines - 1 do
      if number_broken(lines[i], lines[i + 1]) then fail(name, ": '", lines[i], "' / '", lines[i + 1], "'") end
    end
  end
  for _, b in ipairs(d.blocks) do
    if b.text and b.kind ~= "code" then try(b.text) end
    for _, row in ipairs(b.rows and b.kind == "table" and b.rows or {}) do
      for i = 1, #b.columns do try(type(row[i]) == "table" and row[i].text or row[i] or "") end
    end
  end
end

-- ---- the same cells in every form ----------------------------------------------------------------------------------

-- All cells of a document, in order.
local function cells_of(d)
  local list = {}
  for _, b in ipairs(d.blocks) do
    if b.kind == "table" then
      for _, row in ipairs(b.rows) do
        for i = 1, #b.columns do list[#list + 1] = type(row[i]) == "table" and row[i].text or row[i] or "" end
      end
    end
  end
  return list
end

-- Records of a text by RFC 4180.
local function records(csv)
  local list, record, at = {}, {}, 1
  while at <= #csv do
    local value
    if csv:sub(at, at) == '"' then
      local stop, parts = at + 1, {}
      while true do
        local q = csv:find('"', stop, true) or fail("a quoted cell has no end")
        parts[#parts + 1] = csv:sub(stop, q - 1)
        if csv:sub(q + 1, q + 1) ~= '"' then at = q + 1 break end
        parts[#parts + 1] = '"'
        stop = q + 2
      end
      value = table.concat(parts)
    else
      local stop = csv:find("[,\r]", at) or fail("a record has no end")
      value, at = csv:sub(at, stop - 1), stop
    end
    record[#record + 1] = value
    if csv:sub(at, at + 1) == "\r\n" then
      list[#list + 1], record, at = record, {}, at + 2
    elseif csv:sub(at, at) == "," then at = at + 1
    else fail("a cell ends with ", csv:sub(at, at)) end
  end
  return list
end

local entities = { amp = "&", lt = "<", gt = ">", quot = '"' }
local function unescaped(html) return (html:gsub("</?code>", "`"):gsub("&(%a+);", entities)) end

local function json_text(quoted)
  return (quoted:gsub("\\(.)", function(c) return ({ n = "\n", t = "\t", r = "\r" })[c] or c end))
end

-- What a cell says beside its text, for programs.
local marks = { unknown = '"unknown": true', fill = '"to_fill_in": true', round = '"rounded": "', of = '"path": "' }

local function marks_in_json(name, d)
  local blocks = import "write.json"(d, {}):match('\n  "blocks": (%b[])\n}')
  for key, mark in next, marks do
    local want, got, at = 0, 0, 0
    local function count(cell)
      if type(cell) == "table" and (cell[key] or key == "of" and cell.path) then want = want + 1 end
    end
    for _, b in ipairs(d.blocks) do
      for _, row in ipairs(b.kind == "table" and b.rows or {}) do
        for i = 1, #b.columns do count(row[i]) end
      end
      count(b.result)
    end
    while true do
      at = blocks:find(mark, at + 1, true)
      if not at then break end
      got = got + 1
    end
    if got ~= want then fail(name, ": JSON has ", got, " times ", mark, " for ", want, " cells") end
  end
end

-- In the order of the document: JSON's and HTML's cells alone, CSV's rows among other records.
local function in_json(d, options)
  local out, list = import "write.json"(d, options), {}
  local blocks = out:match('\n  "blocks": (%b[])\n}') or fail("JSON without blocks")
  for rows in blocks:gmatch('\n      "rows": (%b[])\n    }') do
    local at = 1
    while true do
      local _, open = rows:find('\n            "text": "', at, true)
      if not open then break end
      local stop = open + 1
      while rows:sub(stop, stop) ~= '"' do stop = stop + (rows:sub(stop, stop) == "\\" and 2 or 1) end
      list[#list + 1] = json_text(rows:sub(open + 1, stop - 1))
      at = stop
    end
  end
  return list
end

-- No text of the document becomes a tag of the page.
local function no_tag_from_outside(form, out)
  for _, tag in ipairs { "<script", "<img", "<b>" } do
    local at = out:find(tag, 1, true)
    while at do
      if out:sub(at - 1, at - 1) ~= "\\" then fail(form, " has the tag ", tag) end
      at = out:find(tag, at + 1, true)
    end
  end
end

local function in_html(d, options)
  local out, list = import "write.html"(d, options), {}
  no_tag_from_outside("HTML", out)
  if not out:find("\n@media print {", 1, true) then fail("HTML has no rules for paper") end
  for _, bad in ipairs { "http:", "https:", "src=", "url(", "@import", "<script", "<link" } do
    if out:find(bad, 1, true) then fail("HTML reaches outside: ", bad) end
  end
  for td in out:gmatch("<td[^>]*>(.-)</td>") do list[#list + 1] = unescaped(td):gsub("\u{a0}", " ") end
  return list
end

local function in_csv(d, options)
  local out, list, at = records(import "write.csv"(d, options)), {}, 1
  for _, b in ipairs(d.blocks) do
    if b.kind == "table" then
      local key = documentation.key(b.columns[1], 1)
      while out[at] and not (out[at][1] == key and #out[at] == #b.columns) do at = at + 1 end
      if not out[at] then fail("CSV lacks the table that begins with ", key) end
      for r = 1, #b.rows do
        local record = out[at + r]
        if #record ~= #b.columns then fail("CSV: a row of ", key, " has ", #record, " cells") end
        for _, c in ipairs(record) do
          if c:find("^[=@]") or c:find("^[+-][^%d.]") then fail("CSV: a spreadsheet computes the cell ", c) end
          list[#list + 1] = c:gsub("^'([=@+-])", "%1")
        end
      end
      at = at + #b.rows + 1
    end
  end
  return list
end

-- Its words follow each other in the text, other columns' between them where a row is broken into lines.
local function in_text(name, d, width)
  local out = text(d, { width = width })
  for _, b in ipairs(d.blocks) do
    if b.kind == "table" and not b.stacked then
      for _, row in ipairs(b.rows) do
        for i = 1, #b.columns do
          local cell = type(row[i]) == "table" and row[i].text or row[i] or ""
          local whole = out:find(cell, 1, true)
          if not whole then
            for word in cell:gmatch("%S+") do
              if not out:find(word, 1, true) and #word < 12 then
                fail(name, ": the text lacks '", word, "' of ", cell)
              end
            end
          end
        end
      end
    end
  end
  lines_fit(name, out, width)
end

-- ---- the same words in every form ----------------------------------------------------------------------------------

-- What is asked on a form and what a worked sheet rests on: all that a block of that kind says.
local function words_of(b, form)
  if b.kind == "step" then
    return { b.symbol, b.formula or "", b.put or "", b.result.text, b.source or "", not b.formula and b.says or "" }
  elseif b.kind == "blank" then
    local list = { b.text or "", b.from or "", b.unit or "", table.unpack(b.choices or {}) }
    for _, h in ipairs(b.heads or {}) do table.move({ h[1], h[2] or "" }, 1, 2, #list + 1, list) end
    return list
  elseif b.kind == "picture" then return { b.title, form ~= "HTML" and b.file or "" }
  end
  return {}
end

-- Without what a form may add: blanks, line ends, quotes and their escapes.
local function bare(text) return (text:gsub("\u{a0}", ""):gsub("[%s\"'\\`]", "")) end

local function all_said(name, form, d, out)
  out = bare(out)
  for _, b in ipairs(d.blocks) do
    for _, text in ipairs(words_of(b, form)) do
      if not out:find(bare(text), 1, true) then fail(name, ": ", form, " lacks '", text, "' of a ", b.kind) end
    end
  end
end

local function compare(name, form, want, got)
  for i, cell in ipairs(want) do
    if got[i] ~= cell then fail(name, ": ", form, " has '", tostring(got[i]), "' for '", cell, "', cell ", i) end
  end
  if #got ~= #want then fail(name, ": ", form, " has ", #got, " cells instead of ", #want) end
end

return function(name, d)
  local want = cells_of(d)
  compare(name, "JSON", want, in_json(d, {}))
  marks_in_json(name, d)
  compare(name, "HTML", want, in_html(d, {}))
  compare(name, "CSV", want, in_csv(d, {}))
  for _, width in ipairs { 60, 80, 132 } do
    in_text(name, d, width)
    numbers_whole(name, d, width)
  end
  for _, form in ipairs { "text", "json", "csv", "markdown" } do
    local out = import("write." .. form)(d, {})
    all_said(name, form, d, out)
    -- What is indented by four blanks is a listing.
    if form == "markdown" then no_tag_from_outside(form, (out:gsub("\n    [^\n]*", ""))) end
  end
  all_said(name, "HTML", d, unescaped((import "write.html"(d, {}):gsub("<[^>]*>", ""))))
  return #want
end
