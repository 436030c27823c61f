-- SPDX-License-Identifier: MIT
-- Digging: the trench, what it crosses, and the holes.
local digging = import "site.digging"

return { name = "trench", title = "Digging", order = 60, of = { "rack", "trench" }, build = true, crew = true,
    kinds = { "trench" }, rules = { "R06", "R07", "R57", "R30", "R80" }, after = { "R09" }, waits = digging.waits,
    short = function(d) import("electrical.trench_sheet").short(d) end,
    whole = function(d) import("electrical.trench_sheet").whole(d) end }
