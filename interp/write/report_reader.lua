-- SPDX-License-Identifier: MIT
-- Reads a report back, whether text, HTML or JSON: its verdict, what it was made from, whether it is as it was written.
-- Any bytes may come in; what is no report gives nil.
local identity = import "write.identity"
local json = import "write.json_reader"

-- Each fact is read as it is checked later on: hashes of at least eight digits, short or whole.
local function fact(what, second, value)
  if what == "stringline" then return { what = what, version = second } end
  if what == "set" or what == "on" or what == "alternate" then return { what = what, value = value } end
  if not (second:find("^%x+$") and #second >= 8) then return nil end
  return { what = what, sha256 = second:lower(), path = value ~= "" and value or nil }
end

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

-- A row begins where the block's first line begins; what stands further in goes on with the row above it.
local function rows_of(lines, at)
  local rows, edge = {}, #(lines[at] or ""):match("^%s*")
  while lines[at] and lines[at]:find("%S") do
    local indent, words = lines[at]:match("^(%s*)(.*)$")
    if #indent > edge and #rows > 0 then rows[#rows] = rows[#rows] .. " " .. words
    else rows[#rows + 1] = words end
    at = at + 1
  end
  return rows
end

local bare_words = { set = true, on = true, alternate = true }

local function facts_of(rows)
  local facts = {}
  for _, row in ipairs(rows) do
    local what, rest = row:match("^(%S+)%s*(.*)$")
    local second, value = "", rest
    if not bare_words[what] then second, value = rest:match("^(%S*)%s*(.*)$") end
    facts[#facts + 1] = fact(what, second, identity.read(value))
  end
  return facts
end

local function read_text(text)
  local lines = lines_of(text)
  local first, block = 1, nil
  while lines[first] and not lines[first]:find("%S") do first = first + 1 end
  for i, l in ipairs(lines) do if l:match("^%s*(.*)$") == identity.heading then block = i end end
  if not block then return nil end
  local at = block + 1
  while lines[at] and (lines[at]:find("^%s*%-*$")) do at = at + 1 end           -- a rule below the heading, blank lines
  return { line = paragraph(lines, first), facts = facts_of(rows_of(lines, at)) }
end

local entities = { amp = "&", lt = "<", gt = ">", quot = '"', apos = "'", nbsp = " ", ["#39"] = "'", ["#34"] = '"' }
local unseen = { style = true, script = true, title = true, head = true }
local ends = { tr = "\n", br = "\n", p = "\n\n", table = "\n\n", h1 = "\n", h2 = "\n", h3 = "\n", h4 = "\n" }

-- What a person sees of an HTML page, a row of a table on one line.
local function without_tags(html)
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
  return (table.concat(lines, "\n"):gsub("&(#?%w+);", entities))
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
      facts[#facts + 1] = fact(f.what, text_or(f.version, text_or(f.sha256, "")), text_or(f.path, text_or(f.value, "")))
    end
  end
  return { line = value.verdict.text, facts = facts, outcomes = outcomes_of(value.rules), all = value.results ~= nil }
end

-- ---- any of them ---------------------------------------------------------------------------------------------------

local function nothing(rest) return not rest:find("%S") end
local function no_words(rest) return nothing(without_tags(rest)) end
local function the_end_of_an_object(rest) return rest:find('^"%s*}%s*$') ~= nil end

-- { line = verdict, facts, intact = true, false, or nil without a seal, outcomes = list and all = whether those that
-- hold are there too (JSON) }
return function(text)
  text = identity.bare(text)
  local report, mark, may_follow = nil, identity.seal_line, nothing
  if text:find("^%s*{") then report, mark, may_follow = read_json(text), '"seal": "', the_end_of_an_object
  elseif text:find("^%s*<") then report, may_follow = read_text(without_tags(text)), no_words
  else report = read_text(text) end
  if not report or not report.facts[1] or report.facts[1].what ~= "stringline" then return nil end
  report.intact = intact(text, mark, may_follow)
  return report
end
