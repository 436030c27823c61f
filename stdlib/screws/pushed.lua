-- SPDX-License-Identifier: MIT
-- Whether a load across a screw or a driven post, which a test or a table tells, is told for what stands as deep as it
-- does.
local record = import "model.record"
local feet = import "structure.feet"
local pushed = {}

local given = record.given

local function missing(footing, field, text)
  host.raise { code = "D010", class = "missing", path = tostring(footing) .. "." .. field, who = "engineer",
      tool = "the paper of that test, or the maker's table", text = text }
end

-- Whether it is told for so deep a tip: what stands deeper takes as much or more, what stands less deep nobody knows.
function pushed.told(footing, tip)
  local depth = given(footing, "sideways_depth")
  return depth ~= nil and (tip >= depth or host.near(host.si(tip), host.si(depth)))
end

-- Raises where it is not told of a post.
function pushed.ask(post)
  local footing, tip = feet.footing(post), import("screws.logs").tip(post)
  if pushed.told(footing, tip) then return end
  local depth, show = given(footing, "sideways_depth"), import("write.words").apart
  if not depth then
    missing(footing, "sideways_depth", "how deep it stood that takes " .. host.format(footing.sideways) ..
        " sideways, by " .. footing.sideways_by .. ", is not said")
  end
  local told, is = show(depth, tip)
  missing(footing, "sideways", "what takes " .. host.format(footing.sideways) .. " sideways, by " ..
      footing.sideways_by .. ", stood " .. told .. " deep, and what is under " .. tostring(post) .. " goes " .. is ..
      " deep: what that takes is not known")
end

return pushed
