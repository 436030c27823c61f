-- SPDX-License-Identifier: MIT
-- Cautions that every job carries.  The sources of the limits stand with the rules.
local record = import "model.record"
local run = import "model.run"
local not_judged = import "job.not_judged"
local digging = import "site.digging"

-- All that nothing judges, but for what a paper made for this job covers; and who covers what.
local function put_not_judged(d)
  local left = not_judged.left()
  if #left > 0 then
    d:item("Not judged here: " .. not_judged.say(left) .. ". The makers' tables, an engineer's or an electrician's " ..
        "paper must cover them.")
  end
  for _, text in ipairs(#run.papers > 0 and import("write.papers").covering() or {}) do d:item(text) end
end

local function body(d)
  local list = {
    "A planning aid, not a sealed design. Local code, the authority's decision and the makers' instructions " ..
      "rule; each limit names the edition it was taken from.",
    "Structure: loads are estimates. A licensed engineer must review wherever height, snow, wind, soil, slope, a " ..
      "home-built rack, reused parts or a waiver is involved, and wherever the office asks.",
    not_judged,
    "Soil values are presumptive unless a report says otherwise. Expansive, organic, filled, wet, frozen or " ..
      "steep ground needs a geotechnical opinion.",
    "Electricity: dc stays live in daylight, and batteries cannot be switched off. Before a string is parted: open " ..
      "the load-break switch, prove with a dc clamp meter that no current flows, then part the connectors; both " ..
      "ends stay live in daylight. Licensed electrician where required; lock-out, insulated gloves, rated meters.",
    "Digging: " .. digging.ticket() .. " " .. digging.private_lines(),
    "Holes and trenches: " .. digging.covers .. " " .. digging.trenches() .. " " .. digging.concrete .. " " ..
      digging.overhead,
    "Work: lift with " .. record.root.crew .. " people; stop handling modules when the wind rises; a half-built " ..
      "rack is braced overnight; mind ladders, heat, and snow removal with the power on.",
    "Fire: guarding, access, and the battery's place and detection. Being off grid is no exemption from the " ..
      "electrical code.",
    "Energy and money are estimates; no promise is made.",
  }
  for _, text in ipairs(list) do
    if text == not_judged then put_not_judged(d) else d:item(text) end
  end
end

return { name = "cautions", title = "Cautions", order = 1000, kinds = {}, last = true,
    whole = function(d) d:inside(body) end }
