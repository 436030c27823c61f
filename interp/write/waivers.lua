-- SPDX-License-Identifier: MIT
-- The waivers on page one of a report: what each sets aside, or that it is not needed.
local run = import "model.run"
local rule = import "model.rule"
local words = import "write.words"

-- What a waiver sets aside, each with its numbers; of many broken alike the worst, and how far the others reach.
local function set_aside(list)
  local worst, others, hit = nil, {}, {}
  for _, o in ipairs(list) do
    local f = o.outcome ~= "unknown" and o.finding
    if not f or not f.ratio then worst = nil break end
    if not worst or f.ratio < worst.finding.ratio then worst = o end
  end
  local shown = #list > words.few and worst and { worst } or list
  for _, o in ipairs(shown) do
    local subject = words.subject(o)
    local numbers = o.finding and words.finding(o.finding) or o.why and host.message(o.why) or ""
    hit[#hit + 1] = (subject ~= "" and subject .. ": " or "") .. numbers
  end
  if #shown == #list then return hit end
  for _, o in ipairs(list) do if o ~= worst then others[#others + 1] = o end end
  hit[#hit + 1] = words.and_more(others, worst.finding)
  return hit
end

return function(d, outcomes)
  for _, w in ipairs(run.waivers) do
    local list, refused = {}, false
    for _, o in ipairs(outcomes) do
      refused = refused or o.refused == w
      if o.waiver == w then list[#list + 1] = o end
    end
    local hit = set_aside(list)
    local def = rule.find(w.rule)
    local signed = words.signer(w) .. ", " .. w.on .. ": " .. w.reason
    if refused then
      d:outcome("CAUTION:", "the waiver of " .. w.rule .. " by " .. signed .. " does not count: " .. w.rule ..
          " is a stop rule and something of it is unknown. Nobody can sign for what nobody knows.", "warn")
    end
    if #hit > 0 then
      d:outcome("WAIVED " .. w.rule .. ":", def.says .. ". " .. table.concat(hit, "; ") .. ". By " .. signed .. ". " ..
          def.caution .. ".", "warn")
    elseif not refused then
      d:para("Waiver of " .. w.rule .. " by " .. signed .. ": not needed, the rule is neither broken nor unknown.",
          nil, 2)
    end
  end
end
