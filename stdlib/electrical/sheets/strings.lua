-- SPDX-License-Identifier: MIT
-- Wiring schedule: the strings, what they reach cold and hot, and what they feed.
local record = import "model.record"
local document = import "write.document"
local words = import "write.words"
local caveats = import "write.caveats"

local cell, value = document.of, document.value
local of, given = words.of, record.given

local function rows_of()
  local rows = {}
  for _, s in ipairs(record.all "strings") do
    local m = s.on.modules
    rows[#rows + 1] = { (record.inside[s].name or "strings"), s.parallel .. " x " .. s.series .. " " .. m.name,
        cell(s, "coldest_voltage"), cell(s, "hottest_voltage"), cell(s, "short_circuit"), cell(s, "max_current") }
  end
  return rows
end

local function overview(d)
  d:table({ "string", "modules", { "Voc cold", right = true }, { "Vmp hot", right = true },
      { "Isc all", right = true }, { "maximum", right = true } }, rows_of())
end

local function short(d)
  if #record.all "strings" == 0 then return d:para("no strings are declared") end
  overview(d)
end

-- Where no temperature reaches the limit there is nothing to say.
local function reached(s)
  local at = of(s, "coldest_allowed")
  return at ~= "unknown" and ", reached at " .. at or ""
end

local live = "Direct current stays live in daylight. Never open a connector under load; cover or separate the " ..
    "strings first, and measure with a rated meter. A battery cannot be switched off."

local function one(d, s)
  local m = s.on.modules
  d:para(s.parallel .. " string" .. (s.parallel == 1 and "" or "s") .. " of " .. s.series .. " modules " ..
      m.name .. ", joined at the " .. s.combined_at .. "; " .. of(s, "power"))
  local rows = {}
  local function row(what, is, limit) rows[#rows + 1] = { what, is, limit or "" } end
  row("open circuit at " .. words.show(record.root.site.coldest), cell(s, "coldest_voltage"),
      "limit " .. of(s, "voltage_limit") .. reached(s))
  row("working at " .. of(s, "hottest_cell") .. " cells", cell(s, "hottest_voltage"), "must reach " ..
      of(s, "least_voltage"))
  row("short circuit, all strings", cell(s, "short_circuit"), given(s.into, "max_short_circuit") and "input takes " ..
      words.show(s.into.max_short_circuit) or "")
  row("maximum circuit current", cell(s, "max_current"), "wire and device " .. of(s, "required_current"))
  row("back into one string", cell(s, "backfeed"), "module fuse " .. words.show(m.max_fuse) ..
      (not s.fuses_needed and ": no string fuse needed" or given(s, "fuse") and ", fuse " .. words.show(s.fuse) or
      ": FUSE NEEDED"))
  if given(s, "fuse") then
    local rated = given(s, "fuse_voltage")
    row("fuse in each string", value(s.fuse),
        rated and "rated for " .. words.show(rated) .. " dc" or "dc voltage not given")
  end
  if record.kind_of(s.into) == "charge_controller" then
    row("charging at rated power", cell(s, "charge_current"), "output " .. words.show(s.into.max_output_current))
  end
  d:table({ { "", key = "what" }, { "", key = "value", right = true }, { "", key = "limit", wrap = true } }, rows)
  d:para("The order of the modules within a string is not declared: wire neighbours in series, and mark each " ..
      "lead + and - before it goes in.")
end

local function whole(d)
  d:warning(live)
  d:gap()
  overview(d)
  for _, s in ipairs(record.all "strings") do
    d:gap()
    d:subheading(words.title(s) .. " on " .. words.title(s.on) .. " into " .. words.title(s.into))
    d:inside(one, s)
  end
end

-- Calls f with the data of what the strings feed, of which nobody says the data sheet.
local function unsourced(f, all)
  for _, kind in ipairs { "charge_controller", "inverter" } do
    for _, proxy in ipairs(record.all(kind)) do
      local facts = record.inside[proxy].v.data_sheet == nil and caveats.unsourced(proxy, nil, all)
      if facts then f(facts) end
    end
  end
end

local function beside(row) unsourced(function(facts) row("no source", facts) end) end

local function inputs(d)
  unsourced(function(facts) d:para("Nobody said the source of: " .. facts .. ".") end, true)
end

return { name = "strings", title = "Strings", order = 40, build = true, kinds = { "strings" }, beside = beside,
    inputs = inputs,
    after = { "R41", "R45", "R49" }, short = short, whole = whole }
