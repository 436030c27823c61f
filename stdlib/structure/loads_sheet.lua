-- SPDX-License-Identifier: MIT
-- The sheet of loads, whole: each post case by case, and the soil.
local record = import "model.record"
local graph = import "model.graph"
local run = import "model.run"
local document = import "write.document"
local words = import "write.words"
local by_post = import "structure.by_post"

local of, cell = words.of, document.of
local long, right, each_post = by_post.long, by_post.right, by_post.each_post

-- Forces square to the modules by case, out of the worked sheet.
local cases = { { "A0", "A, high edge" }, { "B0", "B, high edge" }, { "A180", "A, low edge" },
    { "B180", "B, low edge" } }

local function case_row(x)
  local _, rows = worked_sheet((graph.try(x, "wind")))
  local by = {}
  for _, row in ipairs(rows) do by[row.symbol] = row.value end
  local out = { x.station }
  for i, c in ipairs(cases) do out[i + 1] = document.value(by[(x.line == "front" and "Rf_" or "Rb_") .. c[1]]) end
  return out
end

-- A rack outside of the figure has no cases; its loads may be known from a paper all the same, and its weights are.
local function by_case(d, r)
  for x in record.each(r.post) do
    local _, why = graph.try(x, "wind")
    if why then
      return d:para("Wind on each post by case is not worked out here: " .. host.message(why) .. ".")
    end
  end
  d:para("Wind on each post by case, square to the modules, strength level; + presses down, - lifts. Cases A " ..
      "and B of the figure, wind on the high or on the low edge:")
  local heads = {}
  for i, c in ipairs(cases) do heads[i] = c[2] end
  d:table(right(table.unpack(heads)), each_post(r, case_row))
end

local function soil(d)
  local s = record.given(record.root.site, "soil")
  if not s then return d:para("Soil: unknown, no class is given.") end
  local ok, presumed = pcall(function()
    return calc.soil { soil_class = s.class, edition = record.root.codes.building }.lateral
  end)
  if not ok and not host.class(presumed) then error(presumed, 0) end
  local given, report = record.given(s, "lateral"), import("structure.soil").report(s)
  local told = run.told["site.soil.lateral"]
  local code = words.cite("{soil_values}")
  d:para("Soil: " .. s.class .. ", lateral bearing " .. (given and words.show(given) ..
      (told and ", " .. told.how:gsub("_", " ") .. (told.by and " (" .. told.by .. ")" or "") or ", as declared") or
      "not given, so the presumptive value is used") ..
      (report and ", by the report of " .. report.by .. ", " .. report.dated or "") ..
      (ok and "; presumptive for the class: " .. words.show(presumed) .. " (" .. code .. ")" or "") .. ".")
  for _, claim in ipairs(import("structure.claims")()) do d:para(claim.path .. ": " .. claim.text .. ".") end
  d:para("Expansive, organic, filled, wet, frozen or steep ground needs a geotechnical opinion.")
end

local function rack_loads(d, r)
  d:para("velocity pressure " .. of(r, "velocity_pressure") .. " at strength level, without Kd; mean roof height " ..
      of(r, "mean_roof_height") .. " above the ground; snow " .. of(r, "snow_load") ..
      " on the slope, seen from above (" .. of(r, "flat_snow") .. " on a level roof there); least frame " ..
      "weight " .. of(r, "frame_weight"))
  d:gap()
  by_case(d, r)
  d:gap()
  local papers = #run.giving > 0
  local heads = { "up", "down", "weight", "uplift", "net", "held by", papers and "pressed" or nil }
  d:table(right(table.unpack(heads)), each_post(r, function(x)
    return { x.station, cell(x, "wind_uplift"), cell(x, "wind_down"), cell(x, papers and "dead_counted" or "dead_load"),
        cell(x, "uplift_demand"), cell(x, "net_uplift"), cell(x, "uplift_resistance"),
        papers and cell(x, "pressed") or nil }
  end))
  d:para("up, down: wind, strength level. weight: the frame's least weight on the post. uplift: allowable level; " ..
      "net: less the share of the frame's weight that counts. held by: that share of frame, post and concrete, " ..
      "against uplift; shares as in " .. words.cite("{combination_uplift}") .. ".")
  if papers then
    d:para("Where a paper has taken the frame's weight off what lifts, up and net are without it and weight is " ..
        "none: it is not counted a second time. pressed: weight, snow and wind together, allowable level, by a " ..
        "paper only.")
  end
  by_post.papers(d, r)
  d:gap()
  d:table(right("width", "sideways", "above ground", "embedment", "has", "concrete"), each_post(r, function(x)
    return { x.station, long(x, "tributary"), cell(x, "lateral"), long(x, "above_ground"),
        long(x, "embedment_needed"), long(x, "embedment"), cell(x, "concrete_weight") }
  end))
  d:para("width: length of row that the post carries. sideways: wind at the post's head, allowable level. " ..
      "embedment: needed against it.")
  d:gap()
  import("loads.by_frame").put(d, r)
end

local function foot(d)
  d:para("Tributary widths are simple: half a bay to each side. An inner post under a continuous rail can carry " ..
      "up to a quarter more (beam theory: 1.25 w L at the middle of three supports).")
  soil(d)
end

return function(d)
  local site, codes = record.root.site, record.root.codes
  local function fact(name)
    local v = record.given(site, name)
    return v == nil and "unknown" or words.show(v)
  end
  d:para("Wind " .. fact "wind" .. ", exposure " .. fact "exposure" .. ", risk category " .. fact "risk_category" ..
      ", ground snow " .. fact "snow" .. "; " .. (record.given(codes, "loads") or "no load standard is named") ..
      ". Loads are estimates: a licensed engineer must review whenever height, snow, wind, soil, slope, " ..
      "home-built racks or a waiver is involved.")
  for _, r in ipairs(record.all "rack") do
    d:gap()
    d:subheading(words.title(r))
    d:inside(rack_loads, r)
  end
  d:gap()
  d:inside(import("structure.by_hand").put)
  d:gap()
  d:inside(foot)
end
