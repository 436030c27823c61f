-- SPDX-License-Identifier: MIT
-- What a suite of drawings tries: counted, and told where it fails; and what commands print, its own among them.
local lanes = require "lanes"
local tried = {}

local passed, failed = 0, 0

function tried.try(what, ok, why)
  if ok then passed = passed + 1 return end
  failed = failed + 1
  print("not ok " .. what .. (why and why ~= "" and "\n    " .. why:sub(1, 1500):gsub("\n", "\n    ") or ""))
end

function tried.none(what, complaints) tried.try(what, #complaints == 0, table.concat(complaints, "\n")) end

-- What a command prints, both ways, and its status as text.
function tried.sh(command)
  local pipe = assert(io.popen("{ " .. command .. "\n} 2>&1; echo \"exit $?\""))
  local text = pipe:read "a"
  pipe:close()
  return text:match "^(.-)exit (%d+)\n$"
end

function tried.stringline(words) return lanes.quoted(lanes.binary) .. " " .. words end

-- Ends the script.
function tried.leave(suite)
  print(("%s: %d passed, %d failed"):format(suite, passed, failed))
  lanes.leave(failed == 0 and 0 or 1)
end

return tried
