-- SPDX-License-Identifier: MIT
-- The report that the declared lateral bearing of the soil stands in.
local record = import "model.record"
local given = record.given
local soil = {}

-- Nil where none is declared, or where it is dated after the day judged.
function soil.report(of)
  local report, on = given(of, "report"), given(record.root, "on")
  if report and not (on and report.dated > on) then return report end
end

return soil
