-- SPDX-License-Identifier: MIT
-- Reads a report back, whether text, HTML or JSON: its verdict, what it was made from, whether it is as it was written.
-- Any bytes may come in; what is no report gives nil.
local identity = import "write.identity"
local json = import "write.json_reader"

local function is_hash(text) return #text >= 8 and text:find("^%x+$") ~= nil end

local commanded = { set = true, on = true, alternate = true }

-- ---- the seal ------------------------------------------------------------------------------------------------------

-- Whether the lines above the last line that has the mark are those that were sealed; nil where there is no seal.
local function intact(text, mark, may_follow)
  local at, from = nil, text:find(mark, 1, true)
  while from do
    at = from
    from = text:find(mark, at + 1, true)
  end
  if not at then return nil end
  local hash, rest = text:match("^(%x+)(.*)$", at + #mark)
  if not hash or #hash < 8 then return false end
  local line = at
  while line > 1 and text:byte(line - 1) ~= 10 do line = line - 1 end
  return host.sha256(text:sub(1, line - 1)):sub(1, #hash) == hash and may_follow(rest)
end

-- ---- text, and HTML without its tags -------------------------------------------------------------------------------

local function lines_of(text)
  local lines = {}
  for l in (text .. "\n"):gmatch("([^\n]*)\n") do lines[#lines + 1] = l end
  return lines
end

-- The lines of a paragraph as one, from line `at` on.
local function paragraph(lines, at)
  local parts = {}
  while lines[at] and lines[at]:find("%S") do
    parts[#parts + 1] = lines[at]:match("^%s*(.*)$")
    at = at + 1
  end
  return table.concat(parts, " ")
end

-- A row begins where the block's first line begins; what stands further in goes on with the row above it. A row is a
-- list of its lines.
local function rows_of(lines, at)
  local rows, edge = {}, #(lines[at] or ""):match("^%s*")
  while lines[at] and lines[at]:find("%S") do
    local indent, words = lines[at]:match("^(%s*)(.*)$")
    if #indent > edge and #rows > 0 then table.insert(rows[#rows], words)
    else rows[#rows + 1] = { words } end
    at = at + 1
  end
  return rows
end

local MOST = 12         -- joints of one value that are tried both ways

-- The value of which these are the lines: broken at a blank, or, where a line is full, perhaps within a word that was
-- too long. Its hash tells which; nil: it fits no way.
local function value_of(pieces, hash, full)
  local open = {}
  for i = 1, #pieces - 1 do
    if #open < MOST and host.columns(pieces[i]) == full then open[#open + 1] = i end
  end
  for way = 0, 2 ^ #open - 1 do
    local parts, at = { pieces[1] }, 1
    for i = 1, #pieces - 1 do
      local blank = " "
      if open[at] == i then
        blank, at = way // 2 ^ (at - 1) % 2 == 0 and "" or " ", at + 1
      end
      parts[#parts + 1] = blank
      parts[#parts + 1] = pieces[i + 1]
    end
    local text = identity.read(table.concat(parts))
    if host.sha256(text):sub(1, #hash) == hash:lower() then return text end
  end
end

-- What, hash or version, and the lines of the name or value of each row; how many columns the longest of those has.
local function split(rows)
  local out, full = {}, 0
  for i, row in ipairs(rows) do
    local what, second, first = row[1]:match("^(%S+)%s*(%S*)%s*(.*)$")
    local pieces = table.move(row, 2, #row, first ~= "" and 2 or 1, { first ~= "" and first or nil })
    for _, p in ipairs(pieces) do full = math.max(full, host.columns(p)) end
    out[i] = { what = what, second = second, pieces = pieces }
  end
  return out, full
end

-- Facts, and whether each value that has a hash is the one that it was made of.
local function facts_of(rows)
  local facts, fits = {}, true
  local list, full = split(rows)
  for _, row in ipairs(list) do
    local what, second = row.what, row.second
    if what == "stringline" then facts[#facts + 1] = { what = what, version = second }
    elseif what == "version" then
      facts[#facts + 1] = { what = what, version = second, path = identity.read(table.concat(row.pieces, " ")) }
    elseif is_hash(second) then
      local joined = identity.read(table.concat(row.pieces, " "))
      if commanded[what] then
        local value = value_of(row.pieces, second, full)
        fits = fits and value ~= nil
        facts[#facts + 1] = { what = what, value = value or joined }
      else
        facts[#facts + 1] = { what = what, sha256 = second:lower(), path = joined ~= "" and joined or nil }
      end
    end
  end
  return facts, fits
end

local function read_text(text)
  local lines = lines_of(text)
  local first, block = 1, nil
  while lines[first] and not lines[first]:find("%S") do first = first + 1 end
  for i, l in ipairs(lines) do if l:match("^%s*(.*)$") == identity.heading then block = i end end
  if not block then return nil end
  local at = block + 1
  while lines[at] and (lines[at]:find("^%s*%-*$")) do at = at + 1 end           -- a rule below the heading, blank lines
  local facts, fits = facts_of(rows_of(lines, at))
  return { line = paragraph(lines, first), facts = facts, fits = fits }
end

local entities = { amp = "&", lt = "<", gt = ">", quot = '"', apos = "'", nbsp = " ", ["#39"] = "'", ["#34"] = '"' }
local unseen = { style = true, script = true, title = true, head = true, svg = true }
local ends = { tr = "\n", br = "\n", p = "\n\n", table = "\n\n", h1 = "\n", h2 = "\n", h3 = "\n", h4 = "\n" }

-- What a person sees of an HTML page, a row of a table on one line.
local function without_tags(html)
  html = html:gsub("[\n\t]", " ")              -- only tags part lines
  local parts, at, within = {}, 1, nil
  while true do
    local open = html:find("<", at, true)
    if not within then parts[#parts + 1] = html:sub(at, (open or 0) - 1) end
    local comment = open and html:sub(open, open + 3) == "<!--"
    local _, close = html:find(comment and "-->" or ">", open or #html + 1, true)
    if not close then break end
    local slash, tag = html:match("^<(/?)(%a%w*)", open)
    tag = tag and tag:lower()
    if within then
      if slash == "/" and tag == within then within = nil end
    elseif tag and unseen[tag] and slash == "" then within = tag
    elseif tag == "td" and slash == "" then parts[#parts + 1] = " "
    elseif tag and (slash == "/" or tag == "br") then parts[#parts + 1] = ends[tag] end
    at = close + 1
  end
  local lines = {}
  for _, l in ipairs(lines_of(identity.bare(table.concat(parts)))) do lines[#lines + 1] = l:match("^%s*(.*)$") end
  return (table.concat(lines, "\n"):gsub("&(#?%w+);", entities):gsub("\u{A0}", " "))
end

-- ---- JSON ----------------------------------------------------------------------------------------------------------

local function text_or(v, default) return type(v) == "string" and v or default end

-- "R57 run.array": "broken", in the order of the report.
local function outcomes_of(list)
  local outcomes = {}
  for _, r in ipairs(type(list) == "table" and list or {}) do
    if type(r) == "table" and type(r.id) == "string" and type(r.outcome) == "string" then
      local waived = type(r.waiver) == "table" and r.waiver ~= json.null and ", waived" or ""
      outcomes[#outcomes + 1] = { id = r.id, subject = text_or(r.subject, ""), outcome = r.outcome .. waived }
    end
  end
  return outcomes
end

local function read_json(text)
  local value = json.read(text)
  if type(value) ~= "table" or value.stringline ~= 1 or type(value.made_from) ~= "table" or
      type(value.verdict) ~= "table" or type(value.verdict.text) ~= "string" then return nil end
  local facts = {}
  for _, f in ipairs(value.made_from) do
    if type(f) == "table" and type(f.what) == "string" then
      local hash = text_or(f.sha256, "")
      if f.what == "stringline" then facts[#facts + 1] = { what = f.what, version = text_or(f.version, "") }
      elseif f.what == "version" then
        facts[#facts + 1] = { what = f.what, version = text_or(f.version, ""), path = text_or(f.path, "") }
      elseif commanded[f.what] then facts[#facts + 1] = { what = f.what, value = text_or(f.value, "") }
      elseif is_hash(hash) then
        facts[#facts + 1] = { what = f.what, sha256 = hash:lower(), path = text_or(f.path) }
      end
    end
  end
  return { line = value.verdict.text, facts = facts, outcomes = outcomes_of(value.rules), all = value.results ~= nil,
      snapshot = type(value.snapshot) == "table" and value.snapshot or nil }
end

-- ---- any of them ---------------------------------------------------------------------------------------------------

local function nothing(rest) return not rest:find("%S") end
local function no_words(rest) return nothing(without_tags(rest)) end
local function the_end_of_an_object(rest) return rest:find('^"%s*}%s*$') ~= nil end

-- { line = verdict, facts, intact = true, false, or nil without a seal, outcomes = list and all = whether those that
-- hold are there too, snapshot = what model.snapshot took of the job, as far as it is one (JSON) }
return function(text)
  text = identity.bare(text)
  local report, mark, may_follow = nil, identity.seal_line, nothing
  if text:find("^%s*{") then report, mark, may_follow = read_json(text), '"seal": "', the_end_of_an_object
  elseif text:find("^%s*<") then report, may_follow = read_text(without_tags(text)), no_words
  else report = read_text(text) end
  if not report or not report.facts[1] or report.facts[1].what ~= "stringline" then return nil end
  report.intact = intact(text, mark, may_follow)
  if report.fits == false then report.intact = false end
  return report
end
