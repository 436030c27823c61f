-- SPDX-License-Identifier: MIT
-- What stands in the place of a verdict where a script of several could not be judged: (options, failure) -> status,
-- text.  failure has status, code, text, and the message as a line for an editor (gnu) and for a program (json).
local write = {}

function write.text(o, f) return o.script .. ": NOT JUDGED: " .. f.text .. ".\n" end

-- The message itself is on standard error.
function write.gnu() return "" end

function write.json(o, f)
  local json = import "write.json"
  local head = json.encode(json.object { { "script", o.script }, { "exit", f.status } })
  return (head:gsub("\n}\n$", function() return ',\n  "error": ' .. f.json .. "\n}" end))
end

function write.sarif(o, f)
  return import "write.sarif"({ outcomes = {}, status = f.status, failure = f }, o)
end

function write.tap(o, f)
  return import "write.tap"({ outcomes = {}, status = f.status, failure = f }, o)
end

return function(o, f)
  local writer = write[o.format] or function() return "" end
  return f.status, writer(o, f)
end
