-- SPDX-License-Identifier: MIT
-- What stands in the place of a verdict where a script of several could not be judged: (options, failure) -> status,
-- document.  failure has status, code, text, and the message as a program reads it (json).
local document = import "write.document"

return function(o, f)
  local d = document.new("unjudged", "Not judged")
  d.status, d.failure = f.status, f
  d:fact("script", o.script)
  d:fact("exit", f.status)
  d:fact("error", function() return import("write.encode").raw(f.json) end)
  d:para(o.script .. ": NOT JUDGED: " .. f.text .. ".", nil, nil, "bad")
  return f.status, d
end
