-- SPDX-License-Identifier: MIT
-- The limits that places, the house and the job give: whose each is, where it stands, which count; and which there are
-- none of.
local run = import "model.run"
local limits = import "write.limits"

return { name = "limits", title = "Limits in force", order = 900, kinds = {},
    facts = limits.shape,
    inputs = function(d)
      if next(run.limits) or next(run.no_limits) then d:gap() end
      limits.put(d, d.outcomes)
    end,
    whole = function(d)
      if not next(run.limits) then d:para("No place and no house gives a limit.") end
      limits.put(d, d.outcomes, nil, true)
    end }
