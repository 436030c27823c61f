-- SPDX-License-Identifier: MIT
-- How rules about the frame of a rack judge: members by how far they are used, what no standard lets stand, and what a
-- paper answers for.
local rule = import "model.rule"
local members = import "loads.members"
local at_most, states, bound = rule.at_most, rule.states, rule.bound
local judged = {}

local buckles = "buckles along the row"                     -- of row_frame

-- A primitive tells of its input: "length strong is more slender than ..."; here the member is.
local function plain(text)
  local along, rest = string.match(text, "^length (%a+) (is more slender .*)$")
  return along and "bent about its " .. along .. " side it " .. rest or text
end

-- A column or a beam that is more slender than the standard lets it be, or that is pressed as hard as it buckles, is no
-- question of what is worked out here: it fails.
function judged.fails(what, f)
  local ok, found = pcall(f)
  if ok then return found end
  if host.class(found) == "range" and found.code == "C005" and
      (string.find(found.text, "^timber: ") or string.find(found.text, buckles, 1, true)) then
    return states(false, what .. ": " .. plain(host.message(found)))
  end
  error(found, 0)
end

-- ---- what a paper answers for --------------------------------------------------------------------------------------

-- What a paper answers that covers a subject and was made for this rack; nil, and why one that names it does not.
function judged.by_paper(r, word, why)
  local paper, refused = import("job.not_judged").covering(word, r)
  if not paper then return nil, refused end
  return states(true, "covered by " .. import("model.given").title(paper) .. (why and "; not worked out here: " ..
      host.message(why) or ""))
end

local function wants_legs(found) return string.find(found.path or "", "^tilts%..*%.legs$") ~= nil end

-- Where the wind's figures end, posts and what braces them are for the engineer, whose paper has to name how high they
-- stand.  Rails and modules are not: what covers them says nothing of the height.  So it is where nobody says what
-- holds turned modules up.
--
-- breaks: what is known to fail without the wind, and is no paper's to answer.
function judged.or_paper(r, f, breaks, word)
  local ok, found = pcall(f)
  if ok then return found end
  local class = host.class(found)
  local beyond = class == "range" and found.code == "C005" or class == "missing" and wants_legs(found)
  if not beyond then error(found, 0) end
  local answered, refused = judged.by_paper(r, word or "posts", found)
  if not answered then error(refused or found, 0) end
  return breaks and breaks(r) or answered
end

-- ---- members of the frame ------------------------------------------------------------------------------------------

-- The member of a kind that is used most, of a rack or of one of its positions.
function judged.used(stands, part)
  return judged.fails(part, function()
    local at = members.checked(stands, part)[1]
    if not at then return states(true, "nothing strains it") end
    local f = at_most(at.worked.worst, bound(1, "its strength"))
    f.words = members.say(stands, at)
    return f
  end)
end

return judged
