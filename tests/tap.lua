-- SPDX-License-Identifier: MIT
-- Reads TAP 14, strictly: only what a producer should write (testanything.org, TAP 14 specification).
--
-- tap.read(text) -> { plan =, points = { { ok, number, description, directive, reason, block, subtest } ... } };
-- raises "line: what is wrong". One plan, before or behind all points; numbers run from 1; a point with a named subtest
-- has its name; a YAML block stands two blanks in and holds rows `key: "text"`, the texts as JSON.
local json = require "json"
local tap = {}

-- \\ and \# are \ and #.
local function unescaped(text) return (text:gsub("\\([\\#])", "%1")) end

-- A description and its directive: the first # that is not escaped and stands between blanks parts them.
local function parted(text)
  local at = 1
  while true do
    local hash = text:find("[#\\]", at)
    if not hash then return unescaped(text) end
    if text:sub(hash, hash) == "\\" then at = hash + 2
    elseif text:sub(hash - 1, hash + 1):find("^ # ?$") then
      local word, reason = text:sub(hash + 2):match("^(%a+) ?(.*)$")
      return unescaped(text:sub(1, hash - 2)), word and word:upper(), reason and unescaped(reason)
    else return nil                                   -- a bare #, which a producer escapes
    end
  end
end

local function read(lines, at, indent, nested)
  local document, plan_at = { points = {} }, nil
  local pending                                       -- a subtest that waits for its point
  local function wrong(what) error(at .. ": " .. what, 0) end
  local function row()
    return lines[at] and lines[at]:sub(1, #indent) == indent and lines[at]:sub(#indent + 1) or nil
  end

  local function block()
    local rows = {}
    if row() ~= "  ---" then return nil end
    at = at + 1
    while row() ~= "  ..." do
      local key, value = (row() or wrong "a block is not closed"):match('^  (%l+): (".*")$')
      if not key then wrong "a row of a block is written `  key: \"text\"`" end
      local good, text = pcall(json.read, value)
      if not good then wrong("no text in quotes: " .. text) end
      rows[key] = text
      at = at + 1
    end
    at = at + 1
    return rows
  end

  local function point(line)
    local not_ok, number, rest = line:match("^(n?o?t? ?)ok (%d+) %- (.*)$")
    if not number or (not_ok ~= "" and not_ok ~= "not ") then wrong("not understood: " .. line) end
    if plan_at == "after" then wrong "a point behind the plan that ends" end
    local description, directive, reason = parted(rest)
    if not description then wrong "a # that is neither escaped nor a directive" end
    if directive and directive ~= "SKIP" and directive ~= "TODO" then wrong("no such directive: " .. directive) end
    local p = { ok = not_ok == "", number = math.tointeger(number), description = description, directive = directive,
                reason = reason, subtest = pending }
    if p.number ~= #document.points + 1 then wrong("point " .. number .. " out of order") end
    if pending and pending.name ~= description then wrong "the point of a subtest has another name" end
    pending = nil
    document.points[p.number] = p
    at = at + 1
    p.block = block()
  end

  if not nested then
    if lines[1] ~= "TAP version 14" then wrong "the first line is `TAP version 14`" end
    at = 2
  end
  while row() do
    local line = row()
    local plan, reason = line:match("^1%.%.(%d+)(.*)$")
    if plan then
      if document.plan then wrong "a second plan" end
      if reason ~= "" and not reason:find("^ # .") then wrong "a plan is `1..N` or `1..N # why`" end
      document.plan, plan_at = math.tointeger(plan), #document.points == 0 and "before" or "after"
      document.reason = reason ~= "" and unescaped(reason:sub(4)) or nil
      at = at + 1
    elseif line:find("^# Subtest: ") then
      if pending then wrong "a subtest without its point" end
      local name = line:sub(12)
      at = at + 1
      pending, at = read(lines, at, indent .. "    ", true)
      pending.name = name
    elseif line:find("^# .") then at = at + 1             -- a comment, which TAP 14 lets stand anywhere
    else point(line)
    end
  end
  if pending then wrong "a subtest without its point" end
  if not document.plan then wrong "there is no plan" end
  if document.plan ~= #document.points then
    wrong("the plan has " .. document.plan .. " points, there are " .. #document.points)
  end
  return document, at
end

function tap.read(text)
  if not utf8.len(text) then error("1: no UTF-8", 0) end
  if text:sub(-1) ~= "\n" then error("1: the last line does not end", 0) end
  local lines = {}
  for line in text:gmatch("(.-)\n") do lines[#lines + 1] = line end
  local document, at = read(lines, 1, "", false)
  if at <= #lines then error(at .. ": not understood: " .. lines[at], 0) end
  return document
end

-- Whether a harness passes it: no point that is not ok, save those to do.
function tap.passes(document)
  for _, p in ipairs(document.points) do
    if not p.ok and p.directive ~= "TODO" then return false end
  end
  return true
end

return tap
