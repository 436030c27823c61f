-- SPDX-License-Identifier: MIT
-- The foot of a sheet: what its numbers rest on that was not read in the source itself.  A line a source: what the
-- table holds, where it stands, how it is known.  JSON has each citation by itself, with the symbols that rest on it.
local record = import "model.record"
local words = import "write.words"
local sources = {}

-- What tables hold, by the keys of their citations; one line has all of a name that are known in the same way. What is
-- not here is told by what its rows say.
local holds = {
  { "wind pressure at its height", "wind_q", "wind_kz", "wind_ke", "wind_terrain" },
  { "direction and gust factors", "wind_kd", "wind_gust" },
  { "wind on a free roof", "wind_figure", "wind_figure_notes", "wind_ratio" },
  { "least wind on an open structure", "wind_least" },
  { "snow on the modules", "snow_flat", "snow_exposure", "snow_thermal", "snow_importance", "snow_sloped",
    "snow_slope_warm", "snow_slope_cool", "snow_slope_cold", "snow_minimum", "snow_density" },
  { "wind and weight together", "combination_uplift" },
  { "bearing of a class of soil", "soil_values" },
  { "embedment of posts", "soil_isolated", "post_embedment", "post_depths", "post_unconstrained", "post_constrained" },
  { "weight of wood", "wood_gravity", "wood_density" },
  { "insulation of wires", "insulation_types" },
  { "factors on the modules' current", "max_current", "before_factors", "after_factors", "continuous" },
  { "ampacity of wires", "ampacity", "ambient_factor", "count_factor", "corrected", "small_conductor" },
  { "overcurrent devices", "device", "ratings", "next_up", "string_overcurrent", "backfeed" },
  { "sizes of conduit", "table_4" }, { "sizes of insulated wires", "table_5" },
  { "resistance of wires", "table_8", "table_8_note" },
  { "fill of a conduit", "fill", "fill_nipple", "fill_count", "jam" },
  { "cover over a trench", "cover" },
}
-- How a table is known, in the order of doubt, and the short word for it.
local known = { ["from memory"] = { 1, "from memory" }, ["read second-hand"] = { 2, "second-hand" },
    ["read in another edition"] = { 3, "taken over" } }

-- The name of a citation's table in this job's editions.
local function names_of()
  local by = {}
  for _, row in ipairs(holds) do
    for i = 2, #row do by[words.cite("{" .. row[i] .. "}")] = row[1] end
  end
  return by
end

-- The edition that a citation begins with, and the section behind it.
local function parted(cite)
  local codes = record.root.codes
  for _, f in ipairs(record.inside[codes] and record.inside[codes].def.fields or {}) do
    local edition = record.given(codes, f.name)
    if edition and cite:sub(1, #edition + 1) == edition .. " " then return edition .. " ", cite:sub(#edition + 2) end
  end
  return "", cite
end

-- Without what a note adds: the name says what the section is about.
local function short(section)
  return section:match "^(.-):" or section:match "^(.-), " or section
end

local function texts_of(s)
  if #s.texts <= 3 then return table.concat(s.texts, ", ") end
  return table.concat(s.texts, ", ", 1, 2) .. " and " .. #s.texts - 2 .. " more"
end

-- Whether a section, or one that it is a note of, is among those told.
local function said(sections, section)
  for _, told in ipairs(sections) do
    if section == told or section:sub(1, #told + 1) == told .. " " then return true end
  end
end

-- Lines in the order of doubt: { name, edition, sections, basis }.
local function lines_of(list)
  local lines, at, names = {}, {}, names_of()
  for _, s in ipairs(list) do
    local cite = words.cite(s.cite)
    local edition, section = parted(cite)
    local name = names[cite]
    local key = (name or cite) .. "\0" .. edition .. "\0" .. s.basis
    local line = at[key]
    if not line then
      line = { name = name or texts_of(s), edition = edition, sections = {}, basis = s.basis }
      at[key], lines[#lines + 1] = line, line
    end
    section = name and short(section) or section
    if not said(line.sections, section) then line.sections[#line.sections + 1] = section end
  end
  local order = {}
  for i, l in ipairs(lines) do order[l] = i end
  table.sort(lines, function(a, b)
    local da, db = known[a.basis][1], known[b.basis][1]
    if da ~= db then return da < db end
    return order[a] < order[b]
  end)
  return lines
end

-- Writes the foot for what a body rests on (write.trace.body).
function sources.foot(d, body)
  local worksheet = import "write.worksheet"
  local list, seen = {}, {}
  import("write.trace").primitives(body, function(worked) worksheet.basis(worked, list, seen) end)
  d:fact("rests_on", function(as)
    local all = as.array {}
    for i, s in ipairs(list) do
      all[i] = as.object { { "known", s.basis }, { "citation", words.cite(s.cite) },
          { "symbols", as.array(s.names) }, { "means", as.array(s.texts) } }
    end
    return all
  end)
  if #list == 0 then return end
  d:gap()
  d:subheading("Numbers not read in the source itself (taken over: from another edition)")
  d:inside(function()
    for _, l in ipairs(lines_of(list)) do
      d:para(l.name .. ": " .. l.edition .. table.concat(l.sections, ", ") .. "; " .. known[l.basis][2], nil, 2)
    end
  end)
end

return sources
