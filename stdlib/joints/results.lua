-- SPDX-License-Identifier: MIT
-- How many of a joint there are, and how far it is used.
local graph = import "model.graph"
local on = import "joints.on"
local bought = import "joints.bought"
local result = graph.result

result { "joint", "places", says = "how many such joints its racks have",
  work = function(joint)
    local sum = 0
    for _, rack in ipairs(on.racks(joint)) do sum = sum + bought.places(joint, rack) end
    return sum
  end }
result { "joint", "fasteners", says = "how many fasteners they take; with plates twice as many, in each member its own",
  work = function(joint)
    local sum = 0
    for _, rack in ipairs(on.racks(joint)) do sum = sum + bought.fasteners(joint, rack) end
    return sum
  end }
result { "joint", "used", says = "how far it is used where it carries most; 1 is its strength",
  work = function(joint)
    local most = 0
    for _, rack in ipairs(on.racks(joint)) do
      local at = import("joints.judged").of(joint, rack)
      if at.fails then host.raise { code = "C005", class = "range", text = at.fails } end
      if at.used > most then most = at.used end
    end
    return most
  end }
