-- SPDX-License-Identifier: MIT
-- Which sort of fastener a joint has.
local fastener = {}

function fastener.is_bolt(joint) return joint.fastener == "bolt" end
-- Below 1/4 in: the tables of distances and of several in a row have none of them.
function fastener.is_thin(joint) return joint.fastener == "wood screw" end

return fastener
