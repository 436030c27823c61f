-- SPDX-License-Identifier: MIT
local rule = import "model.rule"

rule.add { id = "R901", severity = "caution", each = "fence", says = "the fence keeps goats in", may_waive = "house",
  cite = "common practice, no source", caution = "goats stand on the modules",
  check = function(fence) return rule.at_least(fence.height, rule.bound(host.literal "5ft", "goats")) end }

rule.add { id = "R903", severity = "caution", each = "fence", says = "the fence may be that high",
  cite = "the place's limit", may_waive = "authority", caution = "the fence is taken down again",
  check = function(fence) return rule.at_most(fence.height, rule.limit "fence_height") end }

rule.add { id = "R902", severity = "note", each = "picket", says = "no picket is the thirteenth", may_waive = "house",
  cite = "custom, no source", caution = "bad luck",
  check = function(picket) return rule.at_most(picket.number, rule.bound(12, "luck")) end }
