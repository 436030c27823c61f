-- SPDX-License-Identifier: MIT
-- What is wrong with a message itself, whatever it says: the one place that knows the frame of a message.

-- Lua's own words, and the names of chunks, which nobody wrote in a script.
local MACHINERY = { "attempt to ", "[C]", "stack traceback", "_K[", "upvalue" }
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

local function has_place(text) return any_line(text, "^ *%-%-> ") end
local function has_caret(text) return any_line(text, "^ *| .*%^", "^ *%-%-> [^:]*$") end   -- a whole file needs none
local function has_help(text) return any_line(text, "^ *= help: ") end
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
  if status < 2 then return wrong end
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
