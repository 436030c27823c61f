local text = {}
local rule = import "lang.rule"
function text.report(boot, outcomes, status)
  local out = {}
  for _, o in ipairs(outcomes) do
    if o.outcome == "broken" then rule.remedy(o) end
    local f = o.finding
    out[#out + 1] = o.rule.id .. " " .. o.subject .. ": " .. o.outcome .. " " .. (f and (f.words or f.value and host.format(f.value) .. " vs " .. host.format(f.limit)) or "") ..
      (o.why and host.message(o.why) or "") .. (o.flip and " flips at " .. o.flip.path .. "=" .. host.format(o.flip.value) or "") .. (o.nearest and " nearest " .. o.nearest or "")
  end
  return table.concat(out, "\n") .. "\n"
end
return text
