-- SPDX-License-Identifier: MIT
-- Which sort of fastener a joint has, and what must be said of it.
local record = import "model.record"
local fastener = {}

-- Of a load to the grain: along it, and across it.
fastener.along, fastener.across = host.quantity(0.0, "angle"), host.quantity(math.pi / 2, "angle")

function fastener.is_bolt(joint) return joint.fastener == "bolt" end
-- The same of a foot, of which no fastener may be said.
function fastener.has_bolts(joint) return record.given(joint, "fastener") == "bolt" end
-- Below 1/4 in: the tables of distances and of several in a row have none of them.
function fastener.is_thin(joint) return joint.fastener == "wood screw" end

-- A field that what is worked out of a joint needs; why: what is not said; tool: where it stands.
function fastener.wants(joint, name, why, tool)
  local value = record.given(joint, name)
  if value == nil then
    host.raise { code = "D010", class = "missing", path = tostring(joint) .. "." .. name, who = "designer",
        tool = tool or "the drawing of the joint", text = why }
  end
  return value
end

return fastener
