-- SPDX-License-Identifier: MIT
-- Strings, what they feed, and the wire in between.
local schema = import "model.schema"
local record = import "model.record"
local no_data = import "model.no_data"
local kind = schema.kind

local conductor, stranding = "ampacity_310_16.material", "conductor_properties_ch9_t8.stranding"

-- The inputs of one box, where it has several: what is joined to one input is judged together.
local function inputs(fields)
  table.insert(fields, 1, { "name", "text", required = true, example = "A", says = "its name on the box" })
  return { "inputs", "list", spare = true, example = '"A", "B"', who = "maker's data sheet",
    says = "its inputs by name, each with limits of its own where they differ; without it there is one for all strings",
    item = { "input", "group", type = "group", bare = "name", example = 'name = "B", max_short_circuit = 22A',
      fields = fields } }
end

-- A name stands for one input.
local function each_input_once(v)
  local seen = {}
  for i = 1, v.inputs and #v.inputs or 0 do
    local name = v.inputs[i].name
    if seen[name] then
      return "the input " .. name .. " is named twice", "each input has a name of its own", "inputs"
    end
    seen[name] = true
  end
end

local function short_circuit(says)
  return { "max_short_circuit", "quantity", dim = "current", above = 0, max = 1000, example = "34A", says = says,
      who = "maker's data sheet" }
end
local function usable(says)
  return { "usable_current", "quantity", dim = "current", above = 0, max = 1000, example = "26A", says = says,
      who = "maker's data sheet" }
end

local short_circuit_rated = { "short_circuit_rated", "choice", spare = true,
  choices = { "maximum current", "standard conditions" },
  says = "what max_short_circuit is held against: the maximum current of the strings, 1.25 of their short circuit, " ..
      "or where the maker says so their short circuit at standard conditions; without it the maximum current",
  who = "maker's data sheet" }
local data_sheet = { "data_sheet", "text", example = "SA-6 data sheet, 2026-03",
  says = "which data sheet these figures are from, and its date" }

-- The edition of the electrical code that the job names and of which rows are kept; nil of any other, or of none.
local function kept_code()
  local codes = record.given(record.root, "codes")
  local code = codes and record.inside[codes].v.electrical
  return code and not no_data.of(code) and code
end

-- Its tables know sizes in AWG and kcmil only: 6 mm2 is neither 6 AWG nor equal to any other of them.
local function refuse_metric(run, refuse)
  local code = kept_code()
  for _, name in ipairs { "wire", "ground" } do
    local size = record.given(run, name)
    if code and size and size.metric then
      refuse({ name }, "'" .. name .. "' is " .. host.format(size) .. ", and the tables of " .. code ..
          " have no metric sizes", "choose a size of theirs, AWG or kcmil; none equals a metric one")
    end
  end
end

-- How far the conduit rises is said once.
local function refuse_risers(run, refuse)
  local stub_up, risers = record.given(run, "stub_up"), record.given(run, "risers")
  if stub_up and risers then
    refuse({ "risers" }, "'stub_up' and 'risers' both say how far the conduit rises", "leave one of them out")
  elseif not stub_up and not risers then
    refuse({}, "how far the conduit rises at the ends of the trench is not said",
        "write stub_up = 3ft, or risers = { 3ft, 5ft } where the two are not alike")
  elseif risers and #risers ~= 2 then
    refuse({ "risers" }, "a run has two risers, at the array and at the far end; got " .. #risers,
        "as in risers = { 3ft, 5ft }")
  end
end

-- A voltage is printed on a device: without one it says nothing.
local function refuse_voltage(x, refuse, device)
  local name = device .. "_voltage"
  if record.given(x, name) and not record.given(x, device) then
    refuse({ name }, "'" .. name .. "' is given, and no '" .. device .. "' that it is printed on",
        "add " .. device .. " = ... with its current, or leave it out")
  end
end

local function settle_run(run, refuse)
  refuse_risers(run, refuse)
  refuse_voltage(run, refuse, "overcurrent")
  if record.given(run, "inside") and run.dc_stops_at ~= "inside a building" then
    refuse({ "inside" }, "'inside' is " .. host.format(run.inside) .. ", but the dc stops at the " ..
        run.dc_stops_at, "what runs on the outside of the wall is along_wall = " .. host.format(run.inside) ..
        '; if the dc goes in, write dc_stops_at = "inside a building"')
  end
  refuse_metric(run, refuse)
end

kind { "charge_controller", named = true, types = true, says = "what the strings feed in an off-grid job",
  fields = {
    { "max_voltage", "quantity", dim = "voltage", above = 0, max = 1500, example = "250V",
      says = "most input voltage, never to be passed", who = "maker's data sheet" },
    { "max_output_current", "quantity", worse = "more", dim = "current", above = 0, max = 1000, example = "70A",
      says = "most charging current", who = "maker's data sheet" },
    short_circuit "most short-circuit current at one input", short_circuit_rated,
    inputs { short_circuit "most short-circuit current at this input" },
    { "battery_voltage", "quantity", worse = "more", dim = "voltage", above = 0, max = 1000, example = "51.2V",
      says = "nominal voltage of the battery", who = "battery label" },
    { "charge_voltage", "quantity", dim = "voltage", above = 0, max = 1000, example = "57.6V",
      says = "highest voltage while charging", who = "battery maker's data sheet" },
    { "start_above_battery", "quantity", dim = "voltage", min = 0, max = 1000, example = "5V",
      says = "how far the strings must stand above the battery for charging to start", who = "maker's data sheet" },
    { "backfeed", "quantity", dim = "current", min = 0, max = 1000, example = "0A",
      says = "current that it can push back into the strings from the battery; 0A where it is listed against that",
      who = "maker's data sheet" },
    { "fuse", "quantity", worse = "more", dim = "current", above = 0, max = 4000, example = "100A",
      says = "device between it and the battery" },
    data_sheet,
  },
  check = each_input_once }

kind { "inverter", named = true, types = true, says = "what the strings feed where there is no charge controller",
  fields = {
    { "max_voltage", "quantity", worse = "other", dim = "voltage", above = 0, max = 1500, example = "500V",
      says = "most input voltage, never to be passed", who = "maker's data sheet" },
    { "least_voltage", "quantity", dim = "voltage", above = 0, max = 1500, example = "150V",
      says = "lower end of its tracking range", who = "maker's data sheet" },
    { "start_voltage", "quantity", dim = "voltage", above = 0, max = 1500, example = "160V",
      says = "voltage that it starts at", who = "maker's data sheet" },
    { "backfeed", "quantity", worse = "more", dim = "current", min = 0, max = 1000, example = "0A",
      says = "current that it can push back into the strings; 0A where it is listed against that",
      who = "maker's data sheet" },
    usable "most current that one input can use",
    short_circuit "most short-circuit current at one input", short_circuit_rated,
    inputs { usable "most current that this input can use", short_circuit "most short-circuit current at this input" },
    data_sheet,
  },
  check = each_input_once }

kind { "strings", may_name = true, types = true, design = true, says = "equal strings on one input",
  fields = {
    { "on", "ref", of = { "rack" }, required = true, says = "the rack whose modules they are" },
    { "series", "count", worse = "other", min = 1, max = 60, required = true, example = "4",
      says = "modules in series" },
    { "parallel", "count", worse = "other", min = 1, max = 60, required = true, example = "2",
      says = "strings in parallel" },
    { "into", "ref", of = { "charge_controller", "inverter" }, rest = "input", required = true,
      says = "what they feed, and behind a dot which of its inputs, as in shed.A" },
    { "input", "text", worse = "other", example = "A",
      says = "the input that they are on, where into does not say it" },
    { "combined_at", "choice", worse = "other", choices = { "array", "inverter" }, required = true,
      says = "where parallel strings are joined: in a box at the array, from which one pair of wires goes on, or " ..
          "each has a pair of its own to the inverter or charge controller" },
    { "fuse", "quantity", dim = "current", above = 0, max = 1000, example = "20A", says = "fuse in each string" },
    { "fuse_voltage", "quantity", spare = true, dim = "voltage", above = 0, max = 2000, example = "1000V",
      design = false, says = "direct-current voltage printed on the fuse", who = "print on the fuse" },
    { "cell_rise", "quantity", spare = true, dim = "temperature difference", min = 0, max = 60, design = false,
      default = host.format((host.fact "cell_rise"), "K"), example = "28K",
      says = "how much hotter a cell gets than the air, at full sun", who = "module data sheet",
      tool = "common practice for an open rack" },
  },
  settle = function(s, refuse)
    local given = record.given
    refuse_voltage(s, refuse, "fuse")
    if given(s.on, "with_modules") then
      refuse({ "on" }, "rack " .. s.on.name .. " holds modules of several models: which of them are joined is not told",
          "a rack for each model, and strings of one model")
    end
    local box, inputs, input, names = tostring(s.into), given(s.into, "inputs"), given(s, "input"), {}
    for i = 1, inputs and #inputs or 0 do names[i] = inputs[i].name end
    if not input and #names < 2 then return end                       -- one for all
    for _, name in ipairs(names) do if name == input then return end end
    local all = table.concat(names, ", ")
    if not input then
      refuse({ "into" }, box .. " has the inputs " .. all .. ": which of them is it?",
          'as in into = "' .. s.into.name .. "." .. names[1] .. '"')
    elseif not names[1] then
      refuse({ "into" }, box .. " names no inputs, so that none of them is " .. input,
          'name them there, as in inputs = { "A", "B" }')
    end
    local near = host.nearest(input, names)
    refuse({ "into" }, box .. " has no input " .. input, near and "did you mean '" .. near .. "'?" or "it has " .. all)
  end }

-- Bedding is soil from elsewhere: it ends below the ground, and there is some.
local function bedded(v)
  local bed = v.bedding
  if not bed then return end
  local given = record.given(bed, "above")
  local above = given and host.si(given) or 0
  if above > 0 and above >= host.si(v.cover) then
    return "the bedding would cover the conduit to " .. host.format(given) .. ", and the cover is " ..
        host.format(v.cover), "less of it, as in above = 4in", "bedding"
  end
  if above == 0 and host.si(bed.below) == 0 then
    return "bedding of " .. bed.of .. " that lies neither below the conduit nor above it", "leave it out, or write " ..
        "how deep it lies, as in below = 4in", "bedding"
  end
end

kind { "trench", form = 7, named = true, types = true, design = true, says = "the trench",
  fields = {
    { "length", "quantity", dim = "length", above = 0, max = 3000, required = true, example = "90ft",
      says = "length along the bottom", tool = "a tape" },
    { "cover", "quantity", worse = "less", dim = "length", min = 0, max = 3, required = true, example = "18in",
      says = "soil from the top of the conduit to the finished ground" },
    { "under", "choice", worse = "other", choices_from = "burial_cover_300_5.location", default = "open ground",
      design = false, says = "what lies above it at its worst place" },
    { "tape_above_conduit", "quantity", dim = "length", min = 0, max = 3, example = "12in",
      says = "height of the warning tape above the conduit" },
    { "width", "quantity", spare = true, dim = "length", above = 0, max = 10, example = "8in",
      says = "how wide it is dug; drawn and listed, judged by no rule" },
    { "bedding", "group", spare = true, example = 'of = "sand", below = 4in, above = 4in',
      says = "what the conduit lies in: drawn, listed, and counted in how deep people dig; judged by no rule",
      fields = {
        { "of", "text", required = true, says = "what it is", example = "sand" },
        { "below", "quantity", dim = "length", min = 0, max = 3, required = true, example = "4in",
          says = "how deep it lies below the conduit" },
        { "above", "quantity", dim = "length", min = 0, max = 3, example = "4in",
          says = "how high it covers the conduit; not at all if not given" },
      } },
    { "crosses", "list", spare = true, design = false,
      says = "lines that it crosses, { } if none", example = '{ at = 38ft, what = "water" }',
      who = "locating service and owner", tool = "the marks on the ground",
      item = { "crossing", "group", type = "group", fields = {
        { "at", "quantity", dim = "length", min = 0, max = 3000, required = true, says = "distance from the array" },
        { "what", "text", required = true, says = "what it is", example = "water" },
      } } },
  },
  check = bedded }

-- Strings are carried once.
local function carried_once(v)
  local seen = {}
  for i = 1, v.carries and #v.carries or 0 do
    local s = v.carries[i]
    if seen[s] then return "it is to carry strings " .. s.name .. " twice", "name each once", "carries" end
    seen[s] = true
  end
end

kind { "run", named = true, types = true, design = true, says = "one run of wire from the array to what it feeds",
  fields = {
    { "from", "ref", of = { "rack" }, required = true, says = "where it starts" },
    { "to", "ref", of = { "charge_controller", "inverter" }, required = true, says = "where it ends" },
    { "carries", "list", item = { "strings", "ref", type = "ref", of = { "strings" } }, least = 1,
      example = '"W2", "W1"', says = "the strings that it carries; without it all that go between its ends" },
    { "through", "ref", of = { "trench" }, required = true, says = "the trench that it lies in" },
    { "stub_up", "quantity", dim = "length", min = 0, max = 20, example = "3ft",
      says = "rise at each end of the trench, where both are alike" },
    { "risers", "list", item = { "riser", "quantity", type = "quantity", dim = "length", min = 0, max = 20 },
      example = "3ft, 5ft", says = "the two rises, at the array and at the far end, where they are not alike" },
    { "along_wall", "quantity", dim = "length", min = 0, max = 300, example = "8ft",
      says = "length on the outside of the wall, beyond the far riser; none if not given" },
    { "inside", "quantity", dim = "length", above = 0, max = 300, example = "8ft",
      says = "length inside the building, from its wall on; wanted where the dc goes inside" },
    { "make_up_each_end", "quantity", dim = "length", min = 0, max = 10, example = "3ft",
      says = "wire left at each end; without it the house's habit" },
    { "dc_stops_at", "choice", worse = "other", choices = { "outside wall", "inside a building" }, required = true,
      says = "where the dc ends" },
    { "building", "choice", spare = true, choices_from = "building_voltage_690_7.building", design = false,
      says = "the building that it ends at or in: for one or two families, for PV equipment only, or any other; " ..
        "wanted where the strings pass the lowest limit of buildings", who = "electrical inspector", tool = "a look" },
    { "rapid_shutdown", "group", says = "what shuts the dc down where it is on or in a building; nothing if not given",
      example = 'equipment = "shutdown box at the array", listed = true, initiator = "switch beside the meter"',
      fields = {
        { "equipment", "text", required = true, says = "what does it", example = "shutdown box at the array" },
        { "listed", "flag", spare = true, says = "whether it is listed for rapid shutdown",
          who = "label of the equipment", tool = "a look" },
        { "initiator", "text", required = true, says = "what starts it, and where that is",
          example = "switch beside the meter" },
        { "initiator_stands", "choice", spare = true, choices = { "outside", "inside" },
          says = "outside the building, where it is readily reached, or inside; a dwelling's stands outside",
          who = "electrical inspector", tool = "a look" },
      } },
    { "marked_voltage", "quantity", spare = true, dim = "voltage", above = 0, max = 2000, example = "1000V",
      design = false, says = "voltage printed on the wire; without it the least of its type",
      who = "print on the wire" },
    { "wire", "wire", worse = "other", required = true, example = "6 AWG", says = "size of the conductors" },
    { "insulation", "choice", worse = "other", choices_from = "insulation_types.type", required = true,
      example = "THWN-2", says = "type of insulation" },
    { "conductor", "choice", worse = "other", choices_from = conductor, required = true, says = "metal" },
    { "stranding", "choice", choices_from = stranding, default = "stranded",
      says = "stranding; the larger sizes must be stranded in a raceway" },
    { "terminals", "choice", choices_from = "ampacity_columns.terminals", default = "60 C", design = false,
      says = "temperature that the terminals at both ends are marked for", who = "equipment labels" },
    { "ground", "wire", worse = "other", example = "10 AWG",
      says = "size of the equipment grounding conductor; without it the smallest that the code allows" },
    { "overcurrent", "quantity", worse = "other", dim = "current", above = 0, max = 1000, example = "45A",
      says = "overcurrent device in this run; none if not given" },
    { "overcurrent_voltage", "quantity", spare = true, dim = "voltage", above = 0, max = 2000, example = "300V",
      design = false, says = "direct-current voltage printed on that device", who = "print on the device" },
    { "conduit", "group", required = true,
      says = "the raceway", example = 'kind = "PVC 40", size = "1 in", bends = { 90deg, 90deg }',
      fields = {
        { "kind", "choice", worse = "other", choices_from = "conduit_ch9_t4.kind", required = true, says = "kind" },
        { "size", "choice", worse = "other", choices_from = "conduit_ch9_t4.size", required = true,
          says = "trade size" },
        { "bends", "list", item = { "bend", "quantity", type = "quantity", dim = "angle", above = 0,
          max = math.rad(180) }, required = true, example = "90deg, 90deg", says = "bends between pull points" },
      } },
  },
  check = carried_once,
  settle = settle_run }
