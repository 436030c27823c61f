-- SPDX-License-Identifier: MIT
-- The report that the declared bearing of the soil stands in, and what the soil bears below a footing.
local record = import "model.record"
local given = record.given
local soil = {}

-- Nil where none is declared, or where it is dated after the day judged.
function soil.report(of)
  local report, on = given(of, "report"), given(record.root, "on")
  if report and not (on and report.dated > on) then return report end
end

-- What it bears below a footing, allowable, and whose value that is: declared, or of its class.
function soil.vertical(job)
  local of = job.site.soil
  local declared = given(of, "vertical")
  if declared then return declared, "vertical bearing as declared" end
  local presumed = calc.soil { soil_class = of.class, edition = job.codes.building }.vertical
  return presumed, "presumptive bearing of " .. of.class
end

return soil
