-- SPDX-License-Identifier: MIT
-- Changes of a text as a unified diff, as `patch -p0` and `git apply -p0` take it.
--
-- An edit is { at, to, text }: bytes at to `to` of the text, as string.sub counts them, become another text; where `to`
-- is at - 1 nothing goes and the text comes in before byte `at`. Edits stand in order and do not overlap.
local unified = {}

local CONTEXT = 3

function unified.apply(before, edits)
  local parts, at = {}, 1
  for _, e in ipairs(edits) do
    parts[#parts + 1] = before:sub(at, e.at - 1) .. e.text
    at = e.to + 1
  end
  return table.concat(parts) .. before:sub(at)
end

-- Lines with their ends; the last may have none.
local function lines_of(text)
  local lines = {}
  for line in text:gmatch "[^\n]*\n?" do if line ~= "" then lines[#lines + 1] = line end end
  return lines
end

-- Where each line begins.
local function starts_of(lines)
  local starts, at = {}, 1
  for i, line in ipairs(lines) do
    starts[i] = at
    at = at + #line
  end
  return starts
end

local function line_at(starts, byte)
  local low, high = 1, #starts
  while low < high do
    local middle = (low + high + 1) // 2
    if starts[middle] <= byte then low = middle else high = middle - 1 end
  end
  return low
end

-- { first, last, edits } ...: lines of the text before that edits touch, those that touch the same line together.
local function touched(starts, before, edits)
  local list = {}
  for _, e in ipairs(edits) do
    local first = line_at(starts, e.at)
    local last = math.max(first, line_at(starts, e.to + (before:sub(e.to, e.to) == "\n" and 1 or 0)))    -- two joined
    local block = list[#list]
    if block and first <= block.last then
      block.last = math.max(block.last, last)
      block.edits[#block.edits + 1] = e
    else
      list[#list + 1] = { first = first, last = last, edits = { e } }
    end
  end
  return list
end

-- What goes and what comes in a block, without the lines that are the same at its ends.
local function change_of(block, lines, starts)
  local from = starts[block.first]
  local text, moved = table.concat(lines, "", block.first, block.last), {}
  for i, e in ipairs(block.edits) do moved[i] = { at = e.at - from + 1, to = e.to - from + 1, text = e.text } end
  local gone, come = lines_of(text), lines_of(unified.apply(text, moved))
  local first = block.first
  while gone[1] and gone[1] == come[1] do
    table.remove(gone, 1)
    table.remove(come, 1)
    first = first + 1
  end
  while gone[1] and gone[#gone] == come[#come] do
    gone[#gone], come[#come] = nil, nil
  end
  return { first = first, gone = gone, come = come }
end

local function put(out, sign, line)
  out[#out + 1] = sign .. line
  if line:sub(-1) ~= "\n" then out[#out + 1] = "\n\\ No newline at end of file\n" end
end

-- Of a range of no lines the line before it is named.
local function range(first, n) return (n > 0 and first or first - 1) .. "," .. n end

-- One hunk: changes that stand near each other, with the lines around them. moved: lines that are more, or fewer, by
-- the changes before.
local function hunk(out, changes, lines, moved)
  local head, before, after = #out + 1, 0, 0
  local start = math.max(1, changes[1].first - CONTEXT)
  local at = start
  out[head] = ""
  for i = 1, #changes + 1 do
    local c = changes[i]
    for n = at, math.min(#lines, c and c.first - 1 or at + CONTEXT - 1) do
      put(out, " ", lines[n])
      before, after, at = before + 1, after + 1, n + 1
    end
    if c then
      for _, line in ipairs(c.gone) do put(out, "-", line) end
      for _, line in ipairs(c.come) do put(out, "+", line) end
      before, after, at = before + #c.gone, after + #c.come, c.first + #c.gone
    end
  end
  out[head] = ("@@ -%s +%s @@\n"):format(range(start, before), range(start + moved, after))
  return moved + after - before
end

-- A name with a blank in it stands in quotes, which `patch` and `git apply` read; a tab behind it no page could show.
local function named(path)
  return path:find '[ "\\]' and '"' .. path:gsub('[\\"]', "\\%0") .. '"' or path
end

-- The diff of a file: nil where the edits change nothing. name: the path in its head.
function unified.diff(name, before, edits)
  local lines = lines_of(before)
  local starts, changes = starts_of(lines), {}
  for _, block in ipairs(touched(starts, before, edits)) do
    local c = change_of(block, lines, starts)
    if c.gone[1] or c.come[1] then changes[#changes + 1] = c end
  end
  if not changes[1] then return nil end
  local out, near, moved = { "--- " .. named(name) .. "\n", "+++ " .. named(name) .. "\n" }, {}, 0
  for i, c in ipairs(changes) do
    near[#near + 1] = c
    local next_one = changes[i + 1]
    if not next_one or next_one.first - (c.first + #c.gone) > 2 * CONTEXT then
      moved = hunk(out, near, lines, moved)
      near = {}
    end
  end
  return table.concat(out)
end

return unified
