-- SPDX-License-Identifier: MIT
-- Wiring schedule: the strings, what they reach cold and hot, and what they feed.
local record = import "model.record"
local words = import "write.words"

local of, given = words.of, record.given

local function rows_of()
  local rows = {}
  for _, s in ipairs(record.all "strings") do
    local m = s.on.modules
    rows[#rows + 1] = { (record.inside[s].name or "strings"), s.parallel .. " x " .. s.series .. " " .. m.name,
        of(s, "coldest_voltage"), of(s, "hottest_voltage"),
                        of(s, "short_circuit"), of(s, "max_current") }
  end
  return rows
end

local columns = { "string", "modules", { "Voc cold", right = true }, { "Vmp hot", right = true },
    { "Isc all", right = true }, { "maximum", right = true } }

local function short(p)
  if #record.all "strings" == 0 then return p:line("  no strings are declared") end
  p:table(columns, rows_of(), "  ")
end

-- Where no temperature reaches the limit there is nothing to say.
local function reached(s)
  local at = of(s, "coldest_allowed")
  return at ~= "none" and ", reached at " .. at or ""
end

local live = "Direct current stays live in daylight. Never open a connector under load; cover or separate the " ..
    "strings first, and measure with a rated meter. A battery cannot be switched off."

local function whole(p)
  p:para(live, "! ")
  p:blank()
  p:table(columns, rows_of())
  for _, s in ipairs(record.all "strings") do
    local m = s.on.modules
    p:blank()
    p:line(words.title(s) .. " on " .. words.title(s.on) .. " into " .. words.title(s.into))
    p:para(s.parallel .. " string" .. (s.parallel == 1 and "" or "s") .. " of " .. s.series .. " modules " ..
        m.name .. ", joined at the " .. s.combined_at .. "; " .. words.of(s, "power"), "  ")
    local rows = {}
    local function row(what, value, limit) rows[#rows + 1] = { what, value, limit or "" } end
    row("open circuit at " .. words.show(record.root.site.coldest), of(s, "coldest_voltage"),
        "limit " .. of(s, "voltage_limit") .. reached(s))
    row("working at " .. of(s, "hottest_cell") .. " cells", of(s, "hottest_voltage"), "must reach " ..
        of(s, "least_voltage"))
    row("short circuit, all strings", of(s, "short_circuit"), given(s.into, "max_short_circuit") and "input takes " ..
        words.show(s.into.max_short_circuit) or "")
    row("maximum circuit current", of(s, "max_current"), "wire and device " .. of(s, "required_current"))
    row("back into one string", of(s, "backfeed"), "module fuse " .. words.show(m.max_fuse) ..
        (s.fuses_needed == 0 and ": no string fuse needed" or given(s, "fuse") and ", fuse " .. words.show(s.fuse) or
        ": FUSE NEEDED"))
    if given(s, "fuse") then
      local rated = given(s, "fuse_voltage")
      row("fuse in each string", words.show(s.fuse),
          rated and "rated for " .. words.show(rated) .. " dc" or "dc voltage not given")
    end
    if record.kind_of(s.into) == "charge_controller" then
      row("charging at rated power", of(s, "charge_current"), "output " .. words.show(s.into.max_output_current))
    end
    p:table({ "", { "", right = true }, { "", wrap = true } }, rows, "  ")
    p:para("The order of the modules within a string is not declared: wire neighbours in series, and mark each " ..
        "lead + and - before it goes in.", "  ")
  end
end

return { order = 40,
  name = "strings", title = "Strings", build = true, kinds = { "strings" }, after = { "R41", "R45", "R49" },
    short = short, whole = whole }
