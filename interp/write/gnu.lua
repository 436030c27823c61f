-- SPDX-License-Identifier: MIT
-- Broken and unknown rules for an editor, a line each: file:line:column: error: text [R41]
local record = import "model.record"
local words = import "write.words"

return function(d, options)
  if not d.outcomes then return import("write.text")(d, options) end
  local quote = record.root.stage == "quote"
  local out = {}
  for _, o in ipairs(d.outcomes) do
    if o.outcome == "broken" or o.outcome == "unknown" then
      local counts = o.rule.severity ~= "note" and not o.waiver and not (quote and o.outcome == "unknown")
      local place = o.proxy and words.place(o.proxy) or host.place { source = 0 }
      local subject = words.subject(o)
      local what
      if o.outcome == "broken" then
        local over = words.over(o.finding)
        what = words.finding(o.finding) .. (over and " (" .. over .. ")" or "")
      else what = "unknown: " .. host.message(o.why) end
      out[#out + 1] = host.safe(place .. ": " .. (counts and "error" or "warning") .. ": " .. o.rule.says ..
          (subject ~= "" and ", " .. subject or "") .. ": " .. what .. (o.waiver and " (waived)" or "") .. " [" ..
          o.rule.id .. "]")
    end
  end
  return #out > 0 and table.concat(out, "\n") .. "\n" or ""
end
