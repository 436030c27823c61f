-- SPDX-License-Identifier: MIT
-- Heads of screws, or round washers under them, that are pulled through the wood which they hold down.
local record = import "model.record"
local tilted = import "structure.tilted"
local members = import "joints.members"
local demand = import "joints.demand"
local heads = {}

local given = record.given

local function holds_down(joint, rack) return members.way(joint, rack) == "through" end

-- What lies under the heads.
local function under(joint, at)
  local rack = tilted.rack(at)
  if joint.of == "rafters on posts" then
    local rafter = members.rafter(rack)
    return rafter, rafter.depth, demand.pulled_heads(at)
  end
  local rail = members.rail(rack)
  return rail, rail.flat and rail.breadth or rail.depth, demand.rails(at)
end

-- How far it is used by the pull that uses it most, as a rack stands: { used, words }.
function heads.of(joint, stands)
  local rack = tilted.rack(stands)
  if not holds_down(joint, rack) then return { used = 0, words = "nothing pulls at its heads" } end
  local head = given(joint, "head")
  if not head then
    host.raise { code = "D010", class = "missing", path = tostring(joint) .. ".head", who = "designer",
        tool = "a caliper", text = "how wide the heads of its screws are, or the washers under them, is not said: " ..
            "whether they are pulled through the wood is not known" }
  end
  if given(rack, "beam") and joint.of == "rafters on posts" then
    members.uncovered("the rafters of " .. tostring(rack) .. " lie on beams: what joins these to rafters and posts " ..
        "is not kept here")
  end
  local wood, thick, list = under(joint, stands)
  local at = { used = 0, words = "nothing pulls at its heads" }
  local by = {}
  for _, row in ipairs(list) do
    if host.si(row.lift) > 0 then
      local holds = by[row.duration] or calc.head_pull { species = wood.species, head = head, thickness = thick,
          duration = row.duration, moisture = "wet", edition = record.root.codes.wood }.adjusted
      by[row.duration] = holds
      local used = row.lift / joint.count / holds
      if used > at.used then
        at.used, at.words = used, "heads in the " .. wood.name .. ", " .. row.words()
      end
    end
  end
  return at
end

return heads
