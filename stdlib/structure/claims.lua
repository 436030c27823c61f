-- SPDX-License-Identifier: MIT
-- What a job claims beyond the code's tables of soils: for whoever reads page one, and the sheet of loads.
local record = import "model.record"
local report_on = import("structure.soil").report
local words = import "write.words"
local feet = import "structure.feet"
local given = record.given

local function report_of(report) return "the report of " .. report.by .. ", " .. report.dated end

-- What f gives; nothing where the code is not known, or has no such row.
local function known(f)
  local ok, value = pcall(f)
  if ok then return value end
  if not host.class(value) then error(value, 0) end
end

-- A soil value above the one that the code presumes of the class.
local function above_presumptive(soil, codes)
  local lateral, report = given(soil, "lateral"), report_on(soil)
  if not lateral then return nil end
  local presumed = known(function()
    return calc.soil { soil_class = soil.class, edition = codes.building }.lateral
  end)
  if presumed and not (lateral > presumed) then return nil end
  return words.show(lateral) .. (presumed and " where the code presumes " .. words.show(presumed) .. " for " ..
      soil.class .. " (" .. words.cite("{soil_values}") .. "), " or ", what the code presumes is not known here, ") ..
      (report and "by " .. report_of(report) or "and no report is declared that says so: it needs one")
end

-- The bearing of isolated posts, which counts twice.
local function isolated(footing, soil, codes)
  local twice = words.cite("{soil_isolated}")
  if not footing.bearing_doubled then
    return "isolated posts are claimed, but the declared soil value is not counted twice: " .. twice ..
        " doubles its table's values, and no report is declared that doubles this one"
  end
  local report = given(soil, "lateral") ~= nil and report_on(soil)
  local what = known(function() return (select(2, host.fact("isolated", codes.building))) end) or "isolated post"
  return "the soil's lateral bearing counts twice, as for " .. host.an(what) .. " (" .. twice ..
      "), " ..
      (report and "by " .. report_of(report) or "as the code doubles its table's values")
end

-- The same of the soil's vertical bearing.
local function above_vertical(soil, codes)
  local vertical, report = given(soil, "vertical"), report_on(soil)
  if not vertical then return nil end
  local presumed = known(function()
    return calc.soil { soil_class = soil.class, edition = codes.building }.vertical
  end)
  if presumed and not (vertical > presumed) then return nil end
  return words.show(vertical) .. " below" .. (presumed and " where the code presumes " .. words.show(presumed) ..
      " for " .. soil.class .. " (" .. words.cite("{soil_values}") .. "), " or ", ") ..
      (report and "by " .. report_of(report) or "and no report is declared that says so: it needs one")
end

local function footing_claims(f, soil, codes, list)
  local function put(field, text) list[#list + 1] = { path = tostring(f) .. "." .. field, text = text } end
  if f.isolated_posts then put("isolated_posts", isolated(f, soil, codes)) end
  local slab = given(f, "held_at_grade")
  if slab then put("held_at_grade", "its posts are held at the ground by " .. slab .. " (" ..
      words.cite("{post_constrained}") .. ")") end
  if given(f, "skin_friction") then
    put("skin_friction", "friction of the soil along the concrete holds its posts down (" ..
        words.cite("{soil_friction}") .. ")")
  end
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
  local firm = above_vertical(soil, job.codes)
  if firm then list[#list + 1] = { path = "site.soil.vertical", text = firm } end
  local seen = {}
  for _, r in ipairs(record.all "rack") do
    for _, f in ipairs(feet.holes(r)) do
      if not seen[f] then
        seen[f] = true
        footing_claims(f, soil, job.codes, list)
      end
    end
  end
  return list
end
