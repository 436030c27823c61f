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

-- What is declared above what the code presumes of the class, though no report is there that says so: the field, its
-- value and what is presumed; nil where none is, or where the code's values are not known.
function soil.unreported(job)
  local site, codes = record.only "site", given(job, "codes")
  local of = site and given(site, "soil")
  local edition = codes and given(codes, "building")
  if not of or not edition or import("model.no_data").of(edition) or soil.report(of) then return nil end
  for _, field in ipairs { "lateral", "vertical" } do
    local declared = given(of, field)
    local presumed = declared and calc.soil { soil_class = of.class, edition = edition }[field]
    if presumed and declared > presumed and not host.near(declared, presumed) then return field, declared, presumed end
  end
end

return soil
