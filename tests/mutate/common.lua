-- SPDX-License-Identifier: MIT
-- What the finders share. A fault replaces text[at, to) of a file by other text. It belongs to a group, whose draw is
-- its own: a table, a function, a result, a rule, a kind; and has a kind, so that no sort of fault crowds out another.
local common = {}

function common.read(path)
  local file = assert(io.open(path, "rb"))
  local text = file:read "a"
  file:close()
  return text
end

function common.write(path, text)
  local file = assert(io.open(path, "wb"))
  assert(file:write(text))
  assert(file:close())
end

function common.lines(command)
  local pipe, list = assert(io.popen(command)), {}
  for line in pipe:lines() do list[#list + 1] = line end
  pipe:close()
  return list
end

function common.quoted(text) return "'" .. text:gsub("'", "'\\''") .. "'" end

-- A list of faults of one file: add(group, kind, at, to, text). A fault that changes no byte is none.
function common.collector(path, text, class)
  local list = {}
  local function add(group, kind, at, to, new)
    if text:sub(at, to - 1) == new then return end
    list[#list + 1] = { path = path, class = class, group = group, kind = kind, at = at, to = to, new = new }
  end
  return add, list
end

function common.changed(text, fault) return text:sub(1, fault.at - 1) .. fault.new .. text:sub(fault.to) end

-- The whole lines that a fault changes, before and after, without the blanks at their ends.
function common.diff(text, fault)
  local from = fault.at
  while from > 1 and text:sub(from - 1, from - 1) ~= "\n" do from = from - 1 end
  local last = fault.to
  if last > fault.at and text:sub(last - 1, last - 1) == "\n" then last = last - 1 end
  local to = (text:find("\n", last, true) or #text + 1) - 1
  local function trimmed(s) return (s:gsub("^%s+", ""):gsub("%s*\n%s*", " / "):gsub("%s+$", "")) end
  return trimmed(text:sub(from, to)),
         trimmed(text:sub(from, fault.at - 1) .. fault.new .. text:sub(fault.to, to))
end

-- Another number than a written one, far enough from it that a person would see it: the last digit up or down, or a
-- hundredth where the digits are many. Powers of ten stay as they are written.
function common.other_number(word, up)
  local sign, digits, tail = word:match("^(-?)([%d.]+)(.*)$")
  local value = tonumber(digits)
  if not value then return nil end
  local places = #(digits:match("%.(%d*)$") or "")
  local step = 10.0 ^ -places
  if value ~= 0 and step / value < 0.003 then
    step = value / 100
    local whole = 10.0 ^ -places
    step = math.max(whole, math.floor(step / whole + 0.5) * whole)
  end
  local other = up and value + step or value - step
  if other < 0 then other = value + step end
  local out = digits:find("%.") and ("%." .. places .. "f"):format(other) or ("%d"):format(math.floor(other + 0.5))
  if tonumber(out) == value then return nil end
  return sign .. out .. tail
end

return common
