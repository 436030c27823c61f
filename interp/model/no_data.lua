-- SPDX-License-Identifier: MIT
-- no_data("NZBC"): a code that is in force, and of which no rows are kept here.  It is a text that says so wherever it
-- is shown.  Who reads it out of the job's codes, to look something up, is told instead that there is nothing.
local no_data = {}

local says = " (no data of it kept here)"

-- The code of such a text; nil of any other value.
function no_data.of(value)
  if type(value) ~= "string" or string.sub(value, -#says) ~= says then return nil end
  return string.sub(value, 1, -#says - 1)
end

-- Why a code cannot be one without data, and what helps; nil if it can.
function no_data.refused(code)
  if type(code) ~= "string" or not string.find(code, "%S") then
    return "no_data needs the name of the code, got " .. host.describe(code), 'as in building = no_data("NZBC")'
  end
  local unsafe, help = host.unsafe(code)
  if unsafe then return "no_data holds " .. unsafe, help end
  for _, edition in ipairs(host.editions()) do
    if edition == code then return "rows of " .. code .. " are kept here", 'write "' .. code .. '" alone' end
  end
end

-- The text that stands for a code.
function no_data.text(code) return code .. says end

-- The word of a script.
function no_data.word(code)
  local why, help = no_data.refused(code)
  if why then
    local source, line = host.where()
    local s = host.word(source, line, "no_data")
    host.raise { code = "D023", text = why, help = help, source = s.source, line = s.line, col = s.col, len = s.len }
  end
  return no_data.text(code)
end

return no_data
