-- SPDX-License-Identifier: MIT
-- A ground screw: what it answers (footings.kinds).
local feet = import "structure.feet"
local screw = {}

function screw.frost(p) feet.only_holes(p, "whether it is deep enough for frost") end
function screw.side(p) feet.only_holes(p, "the embedment needed") end
function screw.down(p) feet.only_holes(p, "what the soil below bears") end
function screw.uplift(p) feet.only_holes(p, "what holds a post down") end

return screw
