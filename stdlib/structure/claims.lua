-- SPDX-License-Identifier: MIT
-- What a job claims beyond the code's tables of soils: for whoever reads page one, and the sheet of loads.
local record = import "model.record"
local words = import "write.words"
local given = record.given

local function report_of(report) return "the report of " .. report.by .. ", " .. report.dated end

-- A soil value above the one that the code presumes of the class.
local function above_presumptive(soil, codes)
  local lateral = given(soil, "lateral")
  if not lateral then return nil end
  local ok, row = pcall(function() return calc.soil { soil_class = soil.class, edition = codes.building } end)
  if not ok then
    if not host.class(row) then error(row, 0) end
    return nil
  end
  if not (lateral > row.lateral) then return nil end
  local report = given(soil, "report")
  return words.show(lateral) .. " where the code presumes " .. words.show(row.lateral) .. " for " .. soil.class ..
      " (" .. words.cite("{soil_values}") .. "), " ..
      (report and "by " .. report_of(report) or "and no report is declared that says so: it needs one")
end

-- The bearing of isolated posts, which counts twice.
local function isolated(footing, soil)
  local twice = words.cite("{soil_isolated}")
  if footing.bearing_doubled then
    local report = given(soil, "lateral") ~= nil and given(soil, "report")
    return "the soil's lateral bearing counts twice, as for isolated posts that may move 1/2 in at the ground (" ..
        twice .. "), " .. (report and "by " .. report_of(report) or "as the code doubles its table's values")
  end
  return "isolated posts are claimed, but the declared soil value is not counted twice: " .. twice ..
      " doubles its table's values, and no report is declared that doubles this one"
end

-- { path, text } of each, for a job that is declared.
return function(job)
  job = job or record.root
  local list = {}
  local site = record.only "site"
  local soil = site and given(site, "soil")
  if not soil or #record.all "rack" == 0 then return list end
  local high = above_presumptive(soil, job.codes)
  if high then list[1] = { path = "site.soil.lateral", text = high } end
  local seen = {}
  for _, r in ipairs(record.all "rack") do
    local f = r.posts.footing
    if f.isolated_posts and not seen[f] then
      seen[f] = true
      list[#list + 1] = { path = tostring(f) .. ".isolated_posts", text = isolated(f, soil) }
    end
  end
  return list
end
