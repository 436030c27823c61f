-- SPDX-License-Identifier: MIT
-- Racks beside each other.
local record = import "model.record"
local add = import("model.rule").add

add { id = "R71", severity = "caution", each = "rack", may_waive = "house",
  says = "racks do not stand in each other, nor their holes, and the way between them is wide enough",
  cite = "common practice, no source", caution = "two racks in one place, or no way in with a ladder or a mower",
  applies = function() return #record.all "rack" > 1, "there is only one rack" end,
  flips = function(r) return import("places.between").flips(r) end,
  nearest = function(r) return import("places.between").nearest(r) end,
  check = function(r) return import("places.between").check(r) end }
