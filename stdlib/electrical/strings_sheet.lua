-- SPDX-License-Identifier: MIT
-- The wiring schedule, whole: how strings are parted, what shares an input, what each reaches.
local record = import "model.record"
local document = import "write.document"
local words = import "write.words"
local util = import "model.util"
local electrical = import "electrical.results"

local cell, value = document.of, document.value
local of, given = words.of, record.given

local function name_of(s) return record.inside[s].name or "strings" end

-- Where no cold reaches the limit there is nothing to say.
local function reached(s)
  local at = electrical.turns_at(s)
  return at and ", reached at " .. words.show(at) or ""
end

-- How strings are parted, and what stays live all the same.
local live = "Direct current stays live in daylight, on both ends of whatever is parted. Never part a connector " ..
    "under load: open the load-break switch, prove with a dc clamp meter that no current flows, then part it, and " ..
    "cover both ends. Measure with a meter that is rated for the voltage. A battery cannot be switched off. The " ..
    "makers' instructions and licensed practice rule."

-- A sum over what shares an input, and a limit: what cannot be worked out is unknown.
local function worked_out(f, ...)
  local ok, v = pcall(f, ...)
  if ok then return value(v) end
  if not host.class(v) then error(v, 0) end
  return { text = "unknown", unknown = true }
end

-- What the input takes: the limit, and what it is held against.
local function takes(s, name)
  local limit = worked_out(electrical.input_limit, s, name)
  return limit.unknown and "what the input takes is not given" or "the input takes " .. limit.text
end

-- All strings on one input together, where each input is told once.  where_to(s): the input that strings go into.
local function inputs(d, where_to)
  local seen, rows = {}, {}
  for _, s in ipairs(record.all "strings") do
    local to, together = where_to(s), electrical.together(s)
    if not seen[to] then
      seen[to] = true
      local names = {}
      for i, x in ipairs(together) do names[i] = name_of(x) end
      local against = electrical.held_against(s)
      rows[#rows + 1] = { to, util.list(names), worked_out(electrical.sum, together, against),
          (against == "max_current" and "maximum current; " or "short circuit; ") .. takes(s, "max_short_circuit") }
      if record.kind_of(s.into) == "inverter" then
        rows[#rows + 1] = { "", "", worked_out(electrical.sum, together, "working_current"),
            "at full power; " .. takes(s, "usable_current") }
      end
    end
  end
  d:table({ "input", { "strings", wrap = true }, { "current", key = "current", right = true },
      { "", key = "limit", wrap = true } }, rows)
end

local function one(d, s)
  local m = s.on.modules
  local sheet = given(s.into, "data_sheet")
  d:para("Limits of " .. words.title(s.into) .. " by " .. (sheet or "a data sheet that is not named") .. ".")
  d:para(s.parallel .. " string" .. (s.parallel == 1 and "" or "s") .. " of " .. s.series .. " modules " ..
      m.name .. ", joined at the " .. s.combined_at .. "; " .. of(s, "power"))
  local rows = {}
  local function row(what, is, limit) rows[#rows + 1] = { what, is, limit or "" } end
  row("open circuit at " .. words.show(record.root.site.coldest), cell(s, "coldest_voltage"),
      "limit " .. of(s, "voltage_limit") .. reached(s))
  row("working at " .. of(s, "hottest_cell") .. " cells", cell(s, "hottest_voltage"), "must reach " ..
      of(s, "least_voltage"))
  row("short circuit, all strings", cell(s, "short_circuit"))
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
    row("charging at rated power", cell(s, "charge_current"), "output takes " ..
        words.show(s.into.max_output_current) .. " in all")
  end
  d:table({ { "", key = "what" }, { "", key = "value", right = true }, { "", key = "limit", wrap = true } }, rows)
  d:para("The order of the modules within a string is not declared: wire neighbours in series, and mark each " ..
      "lead + and - before it goes in.")
end

-- overview(d) puts the table of all strings.
return function(d, overview, where_to)
  d:warning(live)
  d:gap()
  overview(d)
  d:gap()
  inputs(d, where_to)
  for _, s in ipairs(record.all "strings") do
    d:gap()
    d:subheading(words.title(s) .. " on " .. words.title(s.on) .. " into " ..
        electrical.destination(s))
    d:inside(one, s)
  end
end
