-- SPDX-License-Identifier: MIT
-- A block that stands on the ground: what it answers (footings.kinds).
local feet = import "structure.feet"
local ballast = {}

function ballast.frost(p) feet.only_holes(p, "whether it is deep enough for frost") end
function ballast.side(p) feet.only_holes(p, "the embedment needed") end
function ballast.down(p) feet.only_holes(p, "what the soil below bears") end
function ballast.uplift(p) feet.only_holes(p, "what holds a post down") end

return ballast
