-- SPDX-License-Identifier: MIT
-- Footing schedule: what every post stands in, what that must hold and holds, and the least hole that would do.

local record = import "model.record"

-- What heaves until somebody puts it right, and holes that no auger digs.
local function beside(row)
  for _, text in ipairs(import("footings.frost").told()) do row("frost", text) end
  if not record.only "habits" then return end                    -- who names no augers
  for _, text in ipairs(import("footings.augers").told()) do row("augers", text) end
end

return { name = "footings", title = "Footing schedule", order = 11, of = { "rack" }, kinds = {},
    beside = beside, rules = { "R30", "R31", "R32", "R33", "R34" },
    whole = function(d) import "footings.schedule"(d) end }
