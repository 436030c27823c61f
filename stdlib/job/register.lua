-- SPDX-License-Identifier: MIT
-- The register: what stands in every job and was judged by no rule when it was entered.  A paper may cover it.
--
--   { word, says = it in a sentence, of = what goes before that, behind = it in its place behind what has an `of`,
--     each = the kinds that it is about: the records of the first of them that is declared,
--     who = who can cover it; what an electrician can, an electrician's paper may,
--     needs = what a paper's made_for must name for it, where the job has it and not at its default,
--     gross = an input that breaks it grossly, as behind --set; or reach = why there is none,
--     judged = the rule that judges it since;
--     code = the field of the job's codes that it is about, where no rows of that code are kept: rules that want some
--            are not asked while a paper covers it;
--     has = function(record): whether a record of that kind has it at all, and only = which those are, in words;
--     where = function(record): whether rules judge it there, and by = which, where they do so of some records alone }
--
-- A domain that takes a subject over says so in `judged`: it is then on no list, `covers` still takes its word, and
-- what breaks it grossly must still fail the job (tests/register.lua).
local function together(...)
  local list = {}
  for _, more in ipairs { ... } do table.move(more, 1, #more, #list + 1, list) end
  return list
end

local weather = { "site.wind", "site.exposure", "site.topography", "site.risk_category", "site.snow",
    "site.sheltering" }
local table_of_modules = { "rack.modules", "rack.rows", "rack.columns", "rack.orientation", "rack.column_gap",
    "rack.row_gap", "rack.tilt", "rack.steepest_tilt", "rack.flattest_tilt", "rack.under",
    "rack.with_modules" }
local frame = together(weather, table_of_modules, { "rack.end_allowance", "rack.stations", "rack.spacing",
    "rack.post_lines.front", "rack.post_lines.back", "rack.widest_lines", "rack.widest_bay", "rack.widest_end",
    "rack.set_in", "rack.row_slope", "rack.stack", "rack.rafter_section.grade", "rack.rafter_section.area",
    "rack.rafter_section.inertia", "rack.rafter_on", "rack.rafters.length", "rack.rafters.count",
    "rack.rafters.spacing", "rack.beam", "rack.beam_on", "rack.braces", "rack.row_per_brace" })
local rails = { "rack.rails.part", "rack.rails.size", "rack.rails.species", "rack.rails.grade",
    "rack.rails.face", "rack.rails.lines", "rack.rails.at", "rack.rails.joints", "rack.rails.splice_zone.from",
    "rack.rails.splice_zone.to", "rack.rails.end_bay_splices", "rack.rails.expansion_joints" }
local of_posts = { "rack.posts.part", "rack.posts.size", "rack.posts.species", "rack.posts.grade",
    "rack.posts.moment_head", "rack.unlike_posts" }
local posts = together(frame, of_posts, { "rack.tallest_post", "site.soil.class", "footing.kind", "footing.foot",
    "footing.shaft", "footing.screw_length", "footing.driven_depth", "footing.block_length", "footing.block_width",
    "footing.block_height" })

local pressed = together(weather, table_of_modules, { "rack.rails.part", "rack.rails.lines", "rack.rails.at",
    "rack.mid_clamp", "rack.end_clamp" })

local circuit = { "rack.modules", "site.coldest", "strings.series", "strings.parallel" }
local battery = { "charge_controller.battery_voltage", "charge_controller.max_output_current",
    "charge_controller.fuse" }

local inverter = { "inverter.max_voltage", "inverter.backfeed" }
local into_inverters = together(circuit, inverter)
local rack, wired = { "rack" }, { "strings", "inverter", "charge_controller" }
local strength = "bending, strength under snow and bearing of "
local beyond = "no declared input reaches it"

return {
  { "rails", says = "rails", of = strength, each = rack, who = "engineer",
    needs = together(frame, rails),
    gross = "site.snow = 600psf", judged = "R85" },
  { "rafters", says = "rafters", of = strength, each = rack, who = "engineer",
    needs = together(frame, { "rack.rails.lines", "rack.rails.at", "rack.rafter", "rack.rafter_species",
        "rack.rafter_grade" }),
    gross = "rack.rafter = 2x4", judged = "R83" },
  { "posts", says = "posts", of = strength, each = rack, who = "engineer",
    needs = posts,
    gross = "rack.posts.size = 4x4", judged = "R82" },
  { "joints", says = "the frame's joints", behind = "their joints", each = rack, who = "engineer",
    needs = together(frame, rails, of_posts, { "rack.rafter", "rack.rafter_species", "rack.rafter_grade",
        "rack.saddle" }),
    gross = "site.wind = 240mph", by = "R92, R93, R94, R100, R101, R102, R103, R104",
    where = function(r)
      return import("model.record").any "joint" and import("joints.on").complete(r)
    end },
  { "modules", says = "modules", of = "wind and snow pressure on ", each = rack, who = "engineer",
    needs = pressed,
    gross = "site.wind = 240mph", judged = "R39" },
  { "clamps", says = "clamps of modules", of = "wind and snow pressure on ", each = rack, who = "engineer",
    needs = pressed,
    gross = "site.wind = 240mph", by = "R95",
    where = function(r)
      local given = import("model.record").given
      return given(r.mid_clamp, "hold") ~= nil and given(r.end_clamp, "hold") ~= nil
    end },
  { "seismic", says = "seismic loads", each = rack, who = "engineer",
    needs = posts,
    gross = "rack.lower_edge = 20ft" },
  { "flood and scour", says = "flood and scour", each = rack, who = "engineer",
    needs = {},
    reach = beyond },
  { "P-delta", says = "P-delta", each = rack, who = "engineer",
    needs = posts,
    gross = "rack.lower_edge = 20ft", by = "R98, R82, R86, R96",
    where = function(r)
      local feet = import "structure.feet"
      if not feet.has_other(r) then return true end
      for _, g in ipairs(feet.of_rack(r)) do
        if not feet.gives_way(g.footing) then return import("loads.sways").stands(r) end
      end
      return true
    end },
  -- Wind that is stronger on one end turns a rack about the vertical.  A longer row hands that on as pushes on its
  -- posts, none of them more than the whole wind on its share; one station twists its post, or has two push against
  -- each other.
  { "twist", says = "the twist of a rack on one station of posts, in wind that is stronger on one end", each = rack,
    who = "engineer", needs = posts,
    has = function(r)
      for _, line in ipairs(import("structure.lines").of(r)) do if line.stations > 1 then return false end end
      return true
    end, only = "whose posts all stand at one station",
    gross = "site.wind = 240mph" },
  { "disconnects", says = "disconnects", each = wired, who = "electrician",
    needs = together(circuit, { "strings.combined_at" }, battery, inverter),
    gross = "charge_controller.fuse = 4000A" },
  { "ground and arc fault", says = "ground and arc fault protection", each = wired, who = "electrician",
    needs = into_inverters,
    gross = "strings.series = 40" },
  { "electrodes and bonding", says = "electrodes and bonding", each = wired, who = "electrician",
    needs = together(circuit, battery, inverter),
    gross = "strings.parallel = 40" },
  { "labels", says = "labels", each = wired, who = "electrician",
    needs = into_inverters,
    gross = "strings.series = 40" },
  { "ac side", says = "the ac side", each = wired, who = "electrician",
    needs = {},
    reach = beyond },
  { "rack wiring", says = "wiring on the rack", each = wired, who = "electrician",
    needs = together(circuit, { "strings.combined_at", "site.hottest_air", "rack.rows", "rack.columns",
        "rack.orientation" }),
    gross = "strings.parallel = 40" },
  { "electrical code", says = "what an electrical code asks of which no rows are kept here", each = wired,
    who = "electrician", code = "electrical",
    needs = together(into_inverters, battery, { "strings.combined_at", "site.hottest_air", "run.wire", "run.insulation",
        "run.conductor", "run.ground", "run.overcurrent", "run.conduit.kind", "run.conduit.size", "run.dc_stops_at",
        "trench.cover", "trench.under" }),
    has = function()
      local record = import "model.record"
      local codes = record.given(record.root, "codes")
      return codes ~= nil and import("model.no_data").of(record.given(codes, "electrical")) ~= nil
    end, only = "of a job whose electrical code is no_data",
    gross = "strings.series = 40" },
}
