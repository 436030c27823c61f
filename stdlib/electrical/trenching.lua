-- SPDX-License-Identifier: MIT
-- What a sheet says to whoever digs a trench or works in one.
local words = import "write.words"
local trenching = {}

-- A limit that is not to be passed, in the job's units, cut off and not rounded up; and where it stands.
local function limit(key)
  local value, _, cite, basis = host.fact(key)
  return words.show(value, words.metric() and "m" or "ft", 2), cite, basis
end

function trenching.warning()
  local deep, protection, basis = limit "trench_protection"
  local high, ladder = limit "trench_ladder"
  local reach = limit "trench_ladder_within"
  local back, spoil = limit "trench_spoil"
  return "People in a trench: from " .. deep .. " deep it is shored, shielded or sloped before anyone goes in, and " ..
      "a shallower one too unless a competent person sees no danger of a cave-in. From " .. high .. " a ladder, " ..
      "a ramp or stairs stand within " .. reach .. " of everyone in it. Spoil and machines stay " .. back ..
      " back from the edge (" .. table.concat({ protection, ladder, spoil }, ", ") .. "; " .. basis ..
      "). Local rules may ask for more."
end

-- What the trench itself asks for by its cover alone: it is dug deeper than that. Nil if nothing.
function trenching.asks(trench)
  if trench.cover >= (host.fact "trench_protection") then return "a ladder, and shored, shielded or sloped sides" end
  if trench.cover >= (host.fact "trench_ladder") then return "a ladder, ramp or stairs" end
end

return trenching
