-- SPDX-License-Identifier: MIT
-- Strings, what they feed, and the wire in between.
local schema = import "model.schema"
local kind = schema.kind

local conductor, stranding = "ampacity_310_16.material", "conductor_properties_ch9_t8.stranding"

kind { "charge_controller", named = true, says = "what the strings feed in an off-grid job",
  fields = {
    { "max_voltage", "quantity", dim = "voltage", above = 0, max = 1500, required = true, example = "250V",
      says = "most input voltage, never to be passed", who = "maker's data sheet" },
    { "max_output_current", "quantity", dim = "current", above = 0, max = 1000, required = true, example = "70A",
      says = "most charging current", who = "maker's data sheet" },
    { "max_short_circuit", "quantity", dim = "current", above = 0, max = 1000, example = "60A",
      says = "most short-circuit current at the input", who = "maker's data sheet" },
    { "battery_voltage", "quantity", dim = "voltage", above = 0, max = 1000, required = true, example = "51.2V",
      says = "nominal voltage of the battery", who = "battery label" },
    { "charge_voltage", "quantity", dim = "voltage", above = 0, max = 1000, example = "57.6V",
      says = "highest voltage while charging", who = "battery maker's data sheet" },
    { "start_above_battery", "quantity", dim = "voltage", min = 0, max = 1000, example = "5V",
      says = "how far the strings must stand above the battery for charging to start", who = "maker's data sheet" },
    { "backfeed", "quantity", dim = "current", min = 0, max = 1000, example = "0A",
      says = "current that it can push back into the strings from the battery; 0A where it is listed against that",
      who = "maker's data sheet" },
    { "fuse", "quantity", dim = "current", above = 0, max = 4000, example = "100A",
      says = "device between it and the battery" },
  } }

kind { "inverter", named = true, says = "what the strings feed where there is no charge controller",
  fields = {
    { "max_voltage", "quantity", dim = "voltage", above = 0, max = 1500, required = true, example = "500V",
      says = "most input voltage, never to be passed", who = "maker's data sheet" },
    { "least_voltage", "quantity", dim = "voltage", above = 0, max = 1500, example = "150V",
      says = "lower end of its tracking range", who = "maker's data sheet" },
    { "start_voltage", "quantity", dim = "voltage", above = 0, max = 1500, example = "160V",
      says = "voltage that it starts at", who = "maker's data sheet" },
    { "backfeed", "quantity", dim = "current", min = 0, max = 1000, example = "0A",
      says = "current that it can push back into the strings; 0A where it is listed against that",
      who = "maker's data sheet" },
    { "usable_current", "quantity", dim = "current", above = 0, max = 1000, example = "26A",
      says = "most current that one input can use", who = "maker's data sheet" },
    { "max_short_circuit", "quantity", dim = "current", above = 0, max = 1000, example = "34A",
      says = "most short-circuit current at one input", who = "maker's data sheet" },
  } }

kind { "strings", may_name = true, design = true, says = "equal strings on one input",
  fields = {
    { "on", "ref", of = { "rack" }, required = true, says = "the rack whose modules they are" },
    { "series", "count", min = 1, max = 60, required = true, example = "4", says = "modules in series" },
    { "parallel", "count", min = 1, max = 60, required = true, example = "2", says = "strings in parallel" },
    { "into", "ref", of = { "charge_controller", "inverter" }, required = true, says = "what they feed" },
    { "combined_at", "choice", choices = { "array", "inverter" }, required = true,
      says = "where parallel strings are joined" },
    { "fuse", "quantity", dim = "current", above = 0, max = 1000, example = "20A", says = "fuse in each string" },
    { "fuse_voltage", "quantity", dim = "voltage", above = 0, max = 2000, example = "1000V",
      says = "direct-current voltage printed on the fuse", who = "print on the fuse" },
    { "cell_rise", "quantity", dim = "temperature difference", min = 0, max = 60,
      default = host.format((host.fact "cell_rise"), "K"), example = "28K",
      says = "how much hotter a cell gets than the air, at full sun", who = "module data sheet",
      tool = "common practice for an open rack" },
  } }

kind { "trench", form = 7, named = true, design = true, says = "the trench",
  fields = {
    { "length", "quantity", dim = "length", above = 0, max = 3000, required = true, example = "90ft",
      says = "length along the bottom", tool = "a tape" },
    { "cover", "quantity", dim = "length", min = 0, max = 3, required = true, example = "18in",
      says = "soil from the top of the conduit to the finished ground" },
    { "under", "choice", choices_from = "burial_cover_300_5.location", default = "open ground",
      says = "what lies above it at its worst place" },
    { "tape_above_conduit", "quantity", dim = "length", min = 0, max = 3, example = "12in",
      says = "height of the warning tape above the conduit" },
    { "crosses", "list",
      says = "lines that it crosses, { } if none", example = '{ at = 38ft, what = "water" }',
      who = "locating service and owner", tool = "the marks on the ground",
      item = { "crossing", "group", type = "group", fields = {
        { "at", "quantity", dim = "length", min = 0, max = 3000, required = true, says = "distance from the array" },
        { "what", "text", required = true, says = "what it is", example = "water" },
      } } },
  } }

kind { "run", named = true, design = true, says = "one run of wire from the array to what it feeds",
  fields = {
    { "from", "ref", of = { "rack" }, required = true, says = "where it starts" },
    { "to", "ref", of = { "charge_controller", "inverter" }, required = true, says = "where it ends" },
    { "through", "ref", of = { "trench" }, required = true, says = "the trench that it lies in" },
    { "stub_up", "quantity", dim = "length", min = 0, max = 20, required = true, example = "3ft",
      says = "rise at each end of the trench" },
    { "inside", "quantity", dim = "length", min = 0, max = 300, required = true, example = "8ft",
      says = "length beyond the far riser" },
    { "make_up_each_end", "quantity", dim = "length", min = 0, max = 10, example = "3ft",
      says = "wire left at each end; without it the house's habit" },
    { "dc_stops_at", "choice", choices = { "outside wall", "inside a building" }, required = true,
      says = "where the dc ends" },
    { "building", "choice", choices_from = "building_voltage_690_7.building",
      says = "the building that it ends at or in: for one or two families, or any other; wanted where the strings " ..
        "pass the lowest limit of buildings", who = "electrical inspector", tool = "a look" },
    { "marked_voltage", "quantity", dim = "voltage", above = 0, max = 2000, example = "1000V",
      says = "voltage printed on the wire; without it the least of its type", who = "print on the wire" },
    { "wire", "wire", required = true, example = "6 AWG", says = "size of the conductors" },
    { "insulation", "choice", choices_from = "insulation_types.type", required = true, example = "THWN-2",
      says = "type of insulation" },
    { "conductor", "choice", choices_from = conductor, required = true, says = "metal" },
    { "stranding", "choice", choices_from = stranding, default = "stranded",
      says = "stranding; the larger sizes must be stranded in a raceway" },
    { "terminals", "choice", choices_from = "ampacity_columns.terminals", default = "60 C",
      says = "temperature that the terminals at both ends are marked for", who = "equipment labels" },
    { "ground", "wire", example = "10 AWG",
      says = "size of the equipment grounding conductor; without it the smallest that the code allows" },
    { "overcurrent", "quantity", dim = "current", above = 0, max = 1000, example = "45A",
      says = "overcurrent device in this run; none if not given" },
    { "overcurrent_voltage", "quantity", dim = "voltage", above = 0, max = 2000, example = "300V",
      says = "direct-current voltage printed on that device", who = "print on the device" },
    { "conduit", "group", required = true,
      says = "the raceway", example = 'kind = "PVC 40", size = "1 in", bends = { 90deg, 90deg }',
      fields = {
        { "kind", "choice", choices_from = "conduit_ch9_t4.kind", required = true, says = "kind" },
        { "size", "choice", choices_from = "conduit_ch9_t4.size", required = true, says = "trade size" },
        { "bends", "list", item = { "bend", "quantity", type = "quantity", dim = "angle", min = 0,
          max = math.rad(180) }, required = true, example = "90deg, 90deg", says = "bends between pull points" },
      } },
  },
  settle = function(run, refuse)
    local fed = false
    local record = import "model.record"
    for _, s in ipairs(record.all "strings") do if s.on == run.from and s.into == run.to then fed = true end end
    if not fed then refuse({ "from" }, "no strings go from " .. tostring(run.from) .. " into " .. tostring(run.to),
        "declare strings { on = ..., into = ... } first") end
  end }
