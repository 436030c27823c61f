-- SPDX-License-Identifier: MIT
-- What is wrong with a message itself, whatever it says: the one place that knows the frame of a message.

-- Lua's own words, and the names of chunks, which nobody wrote in a script.
local MACHINERY = { "attempt to ", "[C]", "stack traceback", "_K[", "upvalue", "userdata", "bad argument", "nil value",
                    "stack overflow", "registers", "not enough memory", "(limit is ", "non-closable", "integer index",
                    "binary chunk", "metatable leads", "integer representation", "<name>", "<eof>" }
local CHUNKS = { "=model.", "=host.", ".results", ".rules:", ".schema:", "=parts." }

local function holds_any(text, list)
  for _, piece in ipairs(list) do
    if text:find(piece, 1, true) then return true end
  end
  return false
end

-- Whether a line of the text fits one of the patterns.
local function any_line(text, ...)
  for line in text:gmatch("[^\n]+") do
    for i = 1, select("#", ...) do
      if line:find((select(i, ...))) then return true end
    end
  end
  return false
end

local SEVERITIES = { error = true, warning = true, note = true }
local LINES, FILE = "^[^:]+:%d+:%d+: (%a+): ", "^[^: ]+: (%a+): "

-- "a inverter" and "an rack" in the words of a message, not in the lines of the script that it shows.
local function wrong_article(text)
  for line in text:gmatch("[^\n]+") do
    local words = " " .. (line:match("^    help: (.*)") or line:match("^    note: (.*)") or line:match("^%S.*") or "")
    words = words:gsub("%b``", ""):gsub("%b''", ""):gsub('%b""', "")
    local an = words:match("[ (][Aa] ([aeio]%a+)")
    local a = words:match("[ (][Aa]n ([bcdfgjklmnpqrstvwxyz]%a+)")
    if an and not an:find("^one") and not an:find("^on") and not an:find("^and") and not an:find("^is") or a then
      return "says 'a' where 'an' belongs, or the other way round: " .. line
    end
  end
  return nil
end

-- The first lines of messages; what else stands on a line of its own is indented, is a note for editors or an object
-- for programs, or was printed by the script.
local OTHERS = { "^    ", "^[^:]+:%d+: print:", "^[^:]+: note: ", "^[^:]+:%d+:%d+: note: ", '^{"severity":.*}$' }
local function first_lines(text)
  local lines = {}
  for line in text:gmatch("[^\n]+") do
    if not any_line(line, table.unpack(OTHERS)) then lines[#lines + 1] = line end
  end
  return lines
end

-- Place, severity, words, and the code: it ends at column 80, or two blanks after words that reach too far.
local function well_formed(line)
  local severity = line:match(LINES) or line:match(FILE)
  if not SEVERITIES[severity] then return false end
  local words, blanks = line:match("^(.*%S)( +)%[%u%d%d%d%]$")
  if not words then return false end
  local columns = utf8.len(words) + 6              -- of its texts none is wide
  return utf8.len(line) == 80 and #blanks >= 2 or #blanks == 2 and columns + 2 > 80
end

local function frame_fault(text)
  for _, line in ipairs(first_lines(text)) do
    if not well_formed(line) then return "has a first line that editors cannot read: " .. line end
  end
  return nil
end

local function has_place(text)
  for _, line in ipairs(first_lines(text)) do
    if line:find(LINES) or line:find(FILE) and not line:find("^stringline:") then return true end
  end
  return false
end
local function has_caret(text)
  if any_line(text, "^ +%^~* ?") then return true end
  for _, line in ipairs(first_lines(text)) do
    if not line:find(LINES) and line:find(FILE) then return true end        -- a whole file needs none
  end
  return false
end
local function has_help(text) return any_line(text, "^    help: ") end
-- An example or a bound in the message itself is help enough.
local function helps_itself(text)
  return any_line(text, "%(like ", " is one of .*; got ", " must be ", " must lie between ")
end

-- message_lint(case, text, status): a list of complaints. A case says `placeless:` where no place in a script can be
-- shown, `helpless:` where nothing can be surely suggested.
return function(case, text, status)
  local wrong = {}
  local function complain(that, what) if that then wrong[#wrong + 1] = what end end
  complain(holds_any(text, MACHINERY), "shows the machinery")
  complain(holds_any(text, CHUNKS), "shows a chunk of the library")
  complain(text == "", "says nothing")
  wrong[#wrong + 1] = wrong_article(text)
  if status < 2 then return wrong end
  wrong[#wrong + 1] = frame_fault(text)
  if case.placeless then
    complain(has_place(text), "has a place, but is called placeless")
  else
    complain(not has_place(text), "has no place")
    complain(not has_caret(text), "has no caret")
  end
  if case.helpless then
    complain(has_help(text), "has help, but is called helpless")
  else
    complain(not has_help(text) and not helps_itself(text), "has no help")
  end
  return wrong
end
