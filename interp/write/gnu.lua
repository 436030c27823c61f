-- SPDX-License-Identifier: MIT
-- Rule outcomes as editors read them: file:line:column: error: text [R41], a line for each that is broken or unknown.
local record = import "model.record"
local words = import "write.words"

-- Of points that are no rule's outcome: { met, title, said, place, id } ..., with notes = { { text, place, id } ... }.
local function of_points(points)
  local out = {}
  local function line(p, severity, text)
    local id = p.id and " [" .. p.id .. "]" or ""
    out[#out + 1] = host.safe(p.place .. ": " .. severity .. ": " .. text .. id) .. "\n"
  end
  for _, p in ipairs(points) do if not p.met then line(p, "error", p.title .. ": " .. p.said) end end
  for _, n in ipairs(points.notes) do line(n, "warning", n.text) end
  return table.concat(out)
end

return function(document)
  if document.failure then return "" end           -- its message is on standard error
  if document.points then return of_points(document.points) end
  local quote = record.root.stage == "quote"
  local out = {}
  for _, o in ipairs(document.outcomes) do
    if o.outcome == "broken" or o.outcome == "unknown" then
      local counts = o.rule.severity ~= "note" and not o.waiver and not (quote and o.outcome == "unknown")
      local place = o.proxy and words.place(o.proxy) or host.place { source = 0 }
      local subject = words.subject(o)
      local what
      if o.outcome == "broken" then
        local over = words.over(o.finding)
        what = words.finding(o.finding) .. (over and " (" .. over .. ")" or "") .. words.besides(o)
      else what = "unknown: " .. words.reasons(o) end
      out[#out + 1] = host.safe(place .. ": " .. (counts and "error" or "warning") .. ": " .. o.rule.says ..
          (subject ~= "" and ", " .. subject or "") .. ": " .. what .. (o.waiver and " (waived)" or "") .. " [" ..
          o.rule.id .. "]")
    end
  end
  for _, s in ipairs(document.outcomes.withheld or {}) do
    out[#out + 1] = host.safe((words.place(record.root) or host.place { source = 0 }) .. ": error: sheet " .. s.name ..
        " is withheld: " .. s.why)
  end
  return #out > 0 and table.concat(out, "\n") .. "\n" or ""
end
