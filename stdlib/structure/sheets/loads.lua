-- SPDX-License-Identifier: MIT
-- Loads: wind and snow on each rack, and what they ask of each post.
local record = import "model.record"
local run = import "model.run"
local graph = import "model.graph"
local words = import "write.words"
local measure = import "write.measure"

local of = words.of

-- A length: where the job prints fractions, in inches, since feet would not fit.
local function long(proxy, name)
  local v = graph.try(proxy, name)
  if v ~= nil and record.given(record.root, "lengths") == "feet and inches" then return measure.inches(v) end
  return of(proxy, name)
end

local function short(p)
  for _, r in ipairs(record.all "rack") do
    p:para(words.title(r) .. ": velocity pressure " .. of(r, "velocity_pressure") ..
        " (strength, without Kd), snow " .. of(r, "snow_load") .. " on the slope, least frame weight " ..
           of(r, "frame_weight"), "  ")
    local rows = {}
    for x in record.each(r.post) do
      rows[#rows + 1] = { x.station, long(x, "tributary"), of(x, "lateral"), of(x, "net_uplift"),
          of(x, "uplift_demand"), of(x, "uplift_resistance"), long(x, "embedment_needed"), long(x, "embedment") }
    end
    p:table({ "post", { "width", right = true }, { "sideways", right = true }, { "net uplift", right = true },
        { "uplift", right = true }, { "held by", right = true },
              { "embed", right = true }, { "has", right = true } }, rows, "  ")
  end
end

-- Forces square to the modules by case, out of the worked sheet.
local cases = { { "A0", "A, high edge" }, { "B0", "B, high edge" }, { "A180", "A, low edge" },
    { "B180", "B, low edge" } }

local function case_row(x)
  local _, rows = worked_sheet(x.wind)
  local by = {}
  for _, row in ipairs(rows) do by[row.symbol] = row.value end
  local out = { x.station }
  for i, c in ipairs(cases) do out[i + 1] = words.show(by[(x.line == "front" and "Rf_" or "Rb_") .. c[1]]) end
  return out
end

local soil_names = { ["sandy gravel"] = "gravel", bedrock = "crystalline bedrock" }

local function soil(p)
  local s = record.root.site.soil
  local ok, presumed = pcall(function() return calc.soil { soil_class = soil_names[s.class] or s.class }.lateral end)
  if not ok and not host.class(presumed) then error(presumed, 0) end
  local given = record.given(s, "lateral")
  local told = run.told["site.soil.lateral"]
  local code = words.cite("{building} Table 1806.2")
  p:para("Soil: " .. s.class .. ", lateral bearing " .. (given and words.show(given) ..
      (told and ", " .. told.how:gsub("_", " ") .. (told.by and " (" .. told.by .. ")" or "") or ", as declared") or
         "not given, so the presumptive value is used") ..
             (ok and "; presumptive for the class: " .. words.show(presumed) .. " (" .. code .. ")" or "") ..
         (ok and given and host.si(given) > host.si(presumed) * (1 + 1e-9) and
             ". THE DECLARED VALUE IS HIGHER THAN THE PRESUMPTIVE ONE: it needs a soil report." or "."), "  ")
  p:para("Expansive, organic, filled, wet, frozen or steep ground needs a geotechnical opinion.", "  ")
end

local function whole(p)
  local site, codes = record.root.site, record.root.codes
  p:para("Wind " .. words.show(site.wind) .. ", exposure " .. site.exposure .. ", risk category " ..
      site.risk_category .. ", ground snow " .. words.show(site.snow) .. "; " .. codes.loads .. ". " ..
         "Loads are estimates: a licensed engineer must review whenever height, snow, wind, soil, slope, " ..
             "home-built racks or a waiver is involved.", "")
  for _, r in ipairs(record.all "rack") do
    p:blank()
    p:line(words.title(r))
    p:para("velocity pressure " .. of(r, "velocity_pressure") .. " at strength level, without Kd; mean height " ..
        of(r, "mean_height") .. "; snow " .. of(r, "snow_load") ..
           " on the slope, seen from above (" .. of(r, "flat_snow") ..
               " on a level roof there); least frame weight " .. of(r, "frame_weight"), "  ")
    p:blank()
    p:para("Wind on each post by case, square to the modules, strength level; + presses down, - lifts. Cases A " ..
        "and B of the figure, wind on the high or on the low edge:", "  ")
    local rows, columns = {}, { "post" }
    for i, c in ipairs(cases) do columns[i + 1] = { c[2], right = true } end
    for x in record.each(r.post) do rows[#rows + 1] = case_row(x) end
    p:table(columns, rows, "  ")
    p:blank()
    rows = {}
    for x in record.each(r.post) do
      rows[#rows + 1] = { x.station, of(x, "wind_uplift"), of(x, "wind_down"),
          of(x, "dead_load"), of(x, "uplift_demand"), of(x, "net_uplift"), of(x, "uplift_resistance") }
    end
    p:table({ "post", { "up", right = true }, { "down", right = true },
        { "weight", right = true }, { "uplift", right = true }, { "net", right = true },
              { "held by", right = true } }, rows, "  ")
    p:para("up, down: wind, strength level. weight: the frame's least weight on the post. uplift: allowable level; " ..
        "net: less the frame's weight. held by: frame, post and concrete, factored as in " ..
           words.cite("{loads} 2.4.1") .. ".", "  ")
    p:blank()
    rows = {}
    for x in record.each(r.post) do
      rows[#rows + 1] = { x.station, long(x, "tributary"), of(x, "lateral"), long(x, "above_ground"),
          long(x, "embedment_needed"), long(x, "embedment"), of(x, "concrete_weight") }
    end
    p:table({ "post", { "width", right = true }, { "sideways", right = true }, { "above ground", right = true },
        { "embedment", right = true }, { "has", right = true }, { "concrete", right = true } }, rows, "  ")
    p:para("width: length of row that the post carries. sideways: wind at the post's head, allowable level. " ..
        "embedment: needed against it.", "  ")
  end
  p:blank()
  p:para("Tributary widths are simple: half a bay to each side. An inner post under a continuous rail can carry " ..
      "up to a quarter more (beam theory: 1.25 w L at the middle of three supports).", "  ")
  soil(p)
end

return { name = "loads", title = "Loads", kinds = { "rack", "post" }, rules = { "R72" }, short = short, whole = whole }
