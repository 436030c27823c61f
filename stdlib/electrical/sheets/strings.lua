-- SPDX-License-Identifier: MIT
-- Wiring schedule: the strings, what they reach cold and hot, and what they feed.
local record = import "model.record"
local document = import "write.document"
local caveats = import "write.caveats"
local electrical = import "electrical.results"

local cell = document.of

local function name_of(s) return record.inside[s].name or "strings" end

-- shed.A, or shed where it has one input.
local function where_to(s)
  local input = electrical.input(s)
  return s.into.name .. (input and "." .. input or "")
end

local function rows_of()
  local rows = {}
  for _, s in ipairs(record.all "strings") do
    rows[#rows + 1] = { name_of(s), s.parallel .. " x " .. s.series .. " " .. s.on.modules.name, where_to(s),
        cell(s, "coldest_voltage"), cell(s, "hottest_voltage"), cell(s, "short_circuit"), cell(s, "max_current") }
  end
  return rows
end

local function overview(d)
  d:table({ "string", "modules", "into", { "Voc cold", right = true }, { "Vmp hot", right = true },
      { "Isc all", right = true }, { "maximum", right = true } }, rows_of())
end

local function short(d)
  if #record.all "strings" == 0 then return d:para("no strings are declared") end
  overview(d)
end

-- Calls f with the data of what the strings feed, of which nobody says the data sheet.
local function unsourced(f, all)
  for _, kind in ipairs { "charge_controller", "inverter" } do
    for _, facts in ipairs(caveats.unsourced_of(kind, all)) do f(facts) end
  end
end

local function beside(row) unsourced(function(facts) row("no source", facts) end) end

local function sources(d)
  unsourced(function(facts) d:para("Nobody said the source of: " .. facts .. ".") end, true)
end

return { name = "strings", title = "Strings", order = 40, build = true, kinds = { "strings" }, beside = beside,
    inputs = sources, after = { "R41", "R45", "R49" }, short = short,
    whole = function(d) import "electrical.strings_sheet"(d, overview, where_to) end }
