-- SPDX-License-Identifier: MIT
-- A post driven into the ground: what it answers (footings.kinds).
local feet = import "structure.feet"
local driven = {}

function driven.frost(p) feet.only_holes(p, "whether it is deep enough for frost") end
function driven.side(p) feet.only_holes(p, "the embedment needed") end
function driven.down(p) feet.only_holes(p, "what the soil below bears") end
function driven.uplift(p) feet.only_holes(p, "what holds a post down") end

return driven
