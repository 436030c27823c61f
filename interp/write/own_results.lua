-- SPDX-License-Identifier: MIT
-- Results that the job, its place and its house declare themselves: in the report, in explain, for programs.
local run = import "model.run"
local record = import "model.record"
local graph = import "model.graph"
local own = import "model.own_results"
local words = import "write.words"
local document = import "write.document"
local util = import "model.util"
local results = {}

-- ---- the values of many ---------------------------------------------------------------------------------------------

-- "56 to 320 ft", or of words and of yes and no how often each comes: "yes (20), no (4)".
local function reach(def, values)
  local low, high, texts, count = nil, nil, {}, {}
  for _, v in ipairs(values) do
    local text = words.result(def, v)
    if not count[text] then texts[#texts + 1], count[text] = text, 0 end
    count[text] = count[text] + 1
    if type(v) == "number" or host.is_quantity(v) then
      if not low or host.si(v) < host.si(low) then low = v end
      if not high or host.si(v) > host.si(high) then high = v end
    end
  end
  if low then return words.from_to(words.result(def, low), words.result(def, high)) end
  if #texts == 1 then return texts[1] end
  for i, text in ipairs(texts) do texts[i] = text .. " (" .. count[text] .. ")" end
  return table.concat(texts, ", ")
end

local function title(proxy)
  local titles = {}
  for i, x in ipairs(record.line_of(proxy)) do titles[i] = words.title(x) end
  return table.concat(titles, " ")
end

-- One row for many records; the first cell that is unknown brings its reason.
local function row_of_many(def, cells)
  local values, unknown = {}, {}
  for _, c in ipairs(cells) do
    if c.unknown then unknown[#unknown + 1] = c else values[#values + 1] = c.value end
  end
  local parts = {}
  if values[1] ~= nil then parts[1] = reach(def, values) end
  if unknown[1] then parts[#parts + 1] = values[1] ~= nil and #unknown .. " unknown" or "unknown" end
  local text = table.concat(parts, "; ")
  return { def.name, def.kind .. ", all " .. #cells,
      unknown[1] and { text = text, unknown = true, why = unknown[1].why } or text }
end

-- { name, of what, cell } ...: each record's value, or where there are many of them one row for all.
local function rows_of(def)
  local records, rows = own.records(def), {}
  local cells = {}
  for i, proxy in ipairs(records) do cells[i] = document.of(proxy, def.name) end
  if #cells > words.few then return { row_of_many(def, cells) } end
  for i, cell in ipairs(cells) do rows[i] = { def.name, title(records[i]), cell } end
  return rows
end

-- ---- the report ----------------------------------------------------------------------------------------------------

-- The rows of one file's results, the name and what it means once for all records; and what is told below the table.
local function of_file(defs)
  local rows, below = {}, { without = {} }
  for _, def in ipairs(defs) do
    local list = rows_of(def)
    if not list[1] then below.without[#below.without + 1] = def.kind .. "." .. def.name end
    for i, row in ipairs(list) do
      if type(row[3]) ~= "table" or not row[3].of then below.many = below.many or def.name end
      row[1], row[4] = i == 1 and row[1] or "", i == 1 and def.says or ""
      rows[#rows + 1] = row
    end
  end
  return rows, below
end

function results.report(d)
  local files, by = {}, {}
  for _, def in ipairs(run.results) do
    local list = by[def.whose] or {}
    if not list[1] then files[#files + 1], by[def.whose] = def.whose, list end
    list[#list + 1] = def
  end
  d:heading "Our own results"
  d:para "Worked out as the job's own files say; no standard rule and no sheet reads them."
  for _, whose in ipairs(files) do
    local rows, below = of_file(by[whose])
    d:gap()
    d:subheading("declared by " .. (whose == "job" and "the job itself" or whose:gsub("^use ", "file ")))
    if rows[1] then
      d:table({ "result", { "of", wrap = true }, { "value", wrap = true }, { "means", wrap = true } }, rows)
      d:unknowns(rows)
    end
    if below.many then
      d:para("`stringline explain " .. (d.options.script and util.typed(d.options.script) or "JOB") .. " " ..
          below.many .. "` lists them all.")
    end
    if below.without[1] then d:para("Nothing in this job has " .. util.list(below.without, "or") .. ".") end
  end
end

-- ---- explain -------------------------------------------------------------------------------------------------------

-- Where it is declared, and where its formula stands.
function results.stands(d, def)
  d:fact_line("declared at", host.place(def.place))
  if def.cite then d:fact_line("as in", words.cite(def.cite)) end
end

-- ---- for programs --------------------------------------------------------------------------------------------------

-- What each is; its values stand among all results.
function results.facts(as)
  local list = as.array {}
  for i, def in ipairs(run.results) do
    list[i] = as.object { { "of", def.kind }, { "name", def.name }, { "is", def.is }, { "means", def.says },
        { "formula", def.formula }, { "cite", def.cite and words.cite(def.cite) },
        { "place", as.object { { "file", (host.place { source = def.place.source, line = 0, col = 0 }) },
            { "line", def.place.line }, { "column", def.place.col } } } }
  end
  return list
end

-- Calls f(proxy, name, cell) for the value of each on each record.
function results.each(f)
  for _, def in ipairs(run.results) do
    for _, proxy in ipairs(own.records(def)) do f(proxy, def.name, document.of(proxy, def.name)) end
  end
end

return results
