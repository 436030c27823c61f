-- SPDX-License-Identifier: MIT
-- What if: of a broken outcome, where it flips and what would mend it; of tolerances, what does not hold within them;
-- and how that reads.  What is tried stands in model.trial, the searches in model.remedies and model.corners.
local util = import "model.util"
local trial = import "model.trial"
local whatif = { passes = trial.passes, flip = trial.flip }

-- ---- in words ------------------------------------------------------------------------------------------------------

local function are(ids, what) return util.list(ids) .. (#ids == 1 and " is " or " are ") .. what end

-- "then R43 is broken, and R62 is unknown"; nil where nothing is.
function whatif.side_effects(x)
  if x.alone then return "not tried against the other rules" end
  local parts = {}
  if #x.breaks > 0 then parts[1] = are(x.breaks, "broken") end
  if #x.leaves_unknown > 0 then parts[#parts + 1] = are(x.leaves_unknown, "unknown") end
  return #parts > 0 and "then " .. table.concat(parts, ", and ") or nil
end

local function with_effects(s, words)
  local effects = whatif.side_effects(s)
  return words .. (effects and ", but " .. effects or "")
end

-- "+$38.20"; nil where nothing has a price.
function whatif.price_in_words(s)
  if s.unpriced then return "price not known: no price of " .. util.list(s.unpriced) end
  if not s.price then return nil end
  local si = host.si(s.price)
  if math.abs(si) < 0.005 then return "the priced total stays" end
  return (si > 0 and "+" or "-") .. host.format(host.abs(s.price), nil, 2)
end

-- "8 AWG: +$38.20, but then R59 is broken"; for how many, where there are more than one.
function whatif.in_words(s)
  local price = whatif.price_in_words(s)
  local many = ""
  if s.of and s.of > 1 then
    many = " (" .. (s.mends < s.of and s.mends .. " of the " .. s.of or "all " .. s.of) .. " " ..
        s.kind:gsub("_", " "):gsub("([^s])$", "%1s") .. ")"
  end
  return with_effects(s, s.words .. many .. (price and ": " .. price or ""))
end

-- "not all inputs were tried: 3 of 12"; nil where all were.
function whatif.gave_up_in_words(o)
  local g = o.gave_up
  if not g then return nil end
  return "not all inputs were tried, " .. g.tried .. " of " .. g.of .. ": the search stops after a set amount of work"
end

-- How the tolerances were tried: "at all 8 corners of 3 tolerances".
function whatif.tried_in_words(how)
  local n = how.tolerances
  local names = n == 1 and "the tolerance" or n .. " tolerances"
  if how.all then return "at " .. (n == 1 and "both ends" or "all " .. how.corners .. " corners") .. " of " .. names end
  return "with each of " .. names .. " alone at both ends, at " .. how.corners .. " corner" ..
      (how.corners == 1 and "" or "s") .. " to which these point, and at " .. how.samples ..
      " seeded samples between; not at all " .. (1 << n) .. " corners"
end

-- ---- what is searched elsewhere ------------------------------------------------------------------------------------

-- For a broken outcome: o.flip, where it flips; o.suggestions, the changes that mend it, the best first; o.nearest,
-- what its rule says of that in words; o.like, the worse subject of its rule for which those were searched; o.gave_up
-- = { tried, of } inputs, where the search was not finished.
function whatif.remedy(o)
  if o.remedied then return end
  o.remedied = true
  local r, texts = import("model.remedies").of(o), {}
  o.flip, o.suggestions, o.advice, o.gave_up, o.like = r.flip, r.suggestions, r.advice, r.gave_up, r.like
  for i, s in ipairs(r.own) do texts[i] = with_effects(s, s.words) end
  o.nearest = r.advice or #texts > 0 and table.concat(texts, "; ") or nil
end

function whatif.corners(outcomes) return import("model.corners").judge(outcomes) end

return whatif
