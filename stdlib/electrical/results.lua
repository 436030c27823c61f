-- SPDX-License-Identifier: MIT
-- What follows from the strings and the runs: voltages, currents, wire, raceway.
local graph = import "model.graph"
local memo = import "model.memo"
local record = import "model.record"
local schema = import "model.schema"
local work, result, given = graph.work, graph.result, record.given

local function module_of(s) return s.on.modules end
local function edition(job) return job.codes.electrical end

local electrical = {}

-- The name of the input that strings are on, as declared or as the only one that has a name; nil where none has.
function electrical.input(s)
  local named = given(s.into, "inputs")
  return given(s, "input") or named and #named == 1 and named[1].name or nil
end

local spoken = {}        -- kind -> its words: "charge controller"

-- What a record is called: "charge controller shed".
function electrical.title(x)
  local kind = record.kind_of(x)
  spoken[kind] = spoken[kind] or string.gsub(kind, "_", " ")
  return spoken[kind] .. " " .. x.name
end

-- Where strings go, in words: "inverter barn input A"; where the input has no name, "inverter barn".
function electrical.destination(s)
  local input = electrical.input(s)
  return electrical.title(s.into) .. (input and " input " .. input or "")
end

-- The input itself: "inverter barn input A", "inverter barn input".
function electrical.input_title(s)
  return electrical.destination(s) .. (electrical.input(s) and "" or " input")
end

-- What the input's short circuit is held against: the result of the strings that its maker rates it for.
function electrical.held_against(s)
  return given(s.into, "short_circuit_rated") == "standard conditions" and "short_circuit" or "max_current"
end

local nothing = {}

local function put(by, key, x)
  local list = by[key]
  if list then list[#list + 1] = x else by[key] = { x } end
end

-- All strings by a field: by what they feed, by the rack that they are on.
local function strings_by(field)
  return memo.remember(record.inside[record.root], "strings by " .. field, function()
    local by = {}
    for _, x in ipairs(record.all "strings") do put(by, x[field], x) end
    return by
  end)
end

-- All strings into the same box.
function electrical.all_into(s) return strings_by "into"[s.into] end

-- All strings on the same input; where the box has but one, all that it has.
function electrical.together(s)
  local box, input = s.into, electrical.input(s)
  local named = given(box, "inputs")
  if not named or #named < 2 then return electrical.all_into(s) end
  return memo.remember(record.inside[box], "strings by input", function()
    local by = {}
    for _, x in ipairs(strings_by "into"[box]) do put(by, given(x, "input"), x) end
    return by
  end)[input]
end

-- All strings on a rack.
function electrical.on(rack) return strings_by "on"[rack] or nothing end

-- A limit of the input that strings are on: its own, else that of each input of the box.
function electrical.input_limit(s, name)
  local input = electrical.input(s)
  for i in record.each(given(s.into, "inputs") or {}) do
    local own = i.name == input and given(i, name)
    if own then return own end
  end
  return s.into[name]
end

-- The strings that a run carries: those that it names, else all that go between its ends.
function electrical.carried(run)
  return memo.remember(record.inside[run], "strings carried", function()
    local list, named = {}, given(run, "carries")
    if named then
      for s in record.each(named) do list[#list + 1] = s end
    else
      for _, s in ipairs(electrical.on(run.from)) do if s.into == run.to then list[#list + 1] = s end end
    end
    return list
  end)
end

local function by_strings()
  return memo.remember(record.inside[record.root], "runs by strings", function()
    local by = {}
    for _, run in ipairs(record.all "run") do
      for _, s in ipairs(electrical.carried(run)) do put(by, s, run) end
    end
    return by
  end)
end

-- The runs that carry the strings.
function electrical.runs_of(s) return by_strings()[s] or nothing end

-- A result of some strings, added up.
function electrical.sum(list, name)
  local sum
  for _, x in ipairs(list) do sum = sum and sum + x[name] or x[name] end
  return sum
end

-- Every limit on the voltage of the strings that is known: { limit = a function that gives it, of = whose, where = it
-- stands, wire = the run whose wire it is }.
function electrical.voltage_limits(s)
  local m, makers = module_of(s), "maker's data sheet"
  local list = { { limit = function() return s.into.max_voltage end, of = s.into,
                   where = given(s.into, "data_sheet") or makers },
                 { limit = function() return m.max_voltage end, of = m, where = makers } }
  for _, run in ipairs(electrical.runs_of(s)) do
    list[#list + 1] = { limit = function() return run.wire_voltage end, of = run, wire = run,
        where = given(run, "marked_voltage") and "print on the wire" or "least rating of " .. run.insulation }
    local building = given(run, "building")
    if building then
      list[#list + 1] = { of = run, where = "{building_voltage}, " .. building, limit = function()
        return calc.building_voltage { building = building, edition = edition(record.root) }.most
      end }
    end
  end
  return list
end

-- ---- strings -------------------------------------------------------------------------------------------------------

result { "strings", "module_count",
    says = "modules in all strings", formula = "series * parallel" }
result { "strings", "power", dim = "power",
    says = "rated power", formula = "module_count * on.modules.power" }

result { "strings", "voltage_limit", dim = "voltage", says = "the lowest voltage limit in the circuit",
  work = function(s)
    local least
    for _, l in ipairs(electrical.voltage_limits(s)) do
      local limit = l.limit()
      if not least or limit < least then least = limit end
    end
    return least
  end }

work { "strings", "cold", op = "cold_voltage", says = "open-circuit voltage at the coldest dawn",
  input = function(s, job)
    local m = module_of(s)
    return { voc = m.voc, coefficient = m.voc_coefficient, series = s.series, coldest = job.site.coldest,
        limit = s.voltage_limit, edition = edition(job) }
  end,
  gives = {
    voltage = { name = "coldest_voltage", says = "open-circuit voltage of a string at the coldest" },
    flip = { name = "coldest_allowed", says = "temperature at which the voltage limit is met" },
    most = { name = "most_in_series", says = "most modules in series that stay under the limit" },
  } }

-- The cold at which a string meets its voltage limit; nil where that is colder than any site may be.
function electrical.turns_at(s)
  local at = graph.try(s, "coldest_allowed")
  return at and host.si(at) >= schema.kinds.site.by.coldest.min and at or nil
end

work { "strings", "hot", op = "hot_voltage", says = "working voltage on the hottest day",
  input = function(s, job)
    local m = module_of(s)
    return { vmp = m.vmp, coefficient = m.vmp_coefficient, series = s.series, hottest_air = job.site.hottest_air,
        cell_rise = s.cell_rise }
  end,
  gives = {
    voltage = { name = "hottest_voltage", says = "voltage at full power on the hottest day" },
    cell = { name = "hottest_cell", says = "cell temperature then" },
  } }

result { "strings", "working_voltage", dim = "voltage", says = "voltage at full power, standard conditions",
  formula = "series * on.modules.vmp" }

work { "strings", "currents", op = "array_current", says = "currents of the strings together",
  input = function(s, job)
    local m = module_of(s)
    return { isc = m.isc, imp = m.imp, parallel = s.parallel, edition = edition(job) }
  end,
  gives = {
    maximum = { name = "max_current", says = "maximum circuit current: 1.25 of the short-circuit current" },
    required = { name = "required_current", says = "what wire and device must carry: 1.25 of the maximum" },
    operating = { name = "working_current", says = "current at full power" },
  } }

result { "strings", "short_circuit", dim = "current",
    says = "short-circuit current of all strings", formula = "parallel * on.modules.isc" }

work { "strings", "fusing", op = "string_fuse", says = "whether other strings can overfeed one",
  input = function(s, job)
    local other = s.into.backfeed
    for _, x in ipairs(electrical.together(s)) do if x ~= s then other = other + x.max_current end end
    return { isc = module_of(s).isc, parallel = s.parallel, module_fuse = module_of(s).max_fuse, other_sources = other,
        edition = edition(job) }
  end,
  gives = {
    backfeed = { says = "current that the rest can push into one string" },
    needed = { name = "fuses_needed", says = "whether each string needs a fuse" },
    least_fuse = { says = "smallest standard fuse for a string" },
  } }

work { "strings", "charging", op = "output_current", says = "charging current at the battery's nominal voltage",
  none = function(s)
    if record.kind_of(s.into) ~= "charge_controller" then return "no battery is charged by " .. tostring(s.into) end
  end,
  input = function(s, job)
    return { power = s.power, voltage = s.into.battery_voltage, edition = edition(job) }
  end,
  gives = { current = { name = "charge_current", says = "charging current at rated power" } } }

-- The voltage that the strings must stay above on a hot day.
result { "strings", "least_voltage", dim = "voltage", says = "voltage that the strings must reach on the hottest day",
  work = function(s)
    if record.kind_of(s.into) == "charge_controller" then return s.into.charge_voltage + s.into.start_above_battery end
    local a, b = s.into.least_voltage, s.into.start_voltage
    return a > b and a or b
  end }

-- ---- run -----------------------------------------------------------------------------------------------------------

-- The strings that a run carries; of one without any nothing is known.
local function carried(run)
  local list = electrical.carried(run)
  if not list[1] then
    host.raise { code = "D010", class = "missing", text = "no strings are carried by " .. tostring(run),
        path = tostring(run) .. ".carries" }
  end
  return list
end

-- Circuits in the raceway: one for each set joined at the array, one for each string otherwise.
result { "run", "circuits", says = "circuits in the raceway",
  work = function(run)
    local n = 0
    for _, s in ipairs(carried(run)) do n = n + (s.combined_at == "array" and 1 or s.parallel) end
    return n
  end }
result { "run", "conductors",
    says = "current-carrying conductors in the raceway", formula = "2 * circuits" }

-- The circuit with most current: strings joined at the array count together.
local function heaviest(run)
  local best
  for _, s in ipairs(carried(run)) do
    local m = s.on.modules
    local n = s.combined_at == "array" and s.parallel or 1
    local c = calc.array_current { isc = m.isc, imp = m.imp, parallel = n, edition = edition(record.root) }
    if not best or c.maximum > best.currents.maximum then best = { strings = s, parallel = n, currents = c } end
  end
  return best
end

work { "run", "load", op = "array_current", says = "currents of one circuit",
  input = function(run, job)
    local h = heaviest(run)
    return { isc = h.strings.on.modules.isc, imp = h.strings.on.modules.imp, parallel = h.parallel,
        edition = edition(job) }
  end,
  gives = {
    maximum = { name = "max_current", says = "maximum circuit current" },
    required = { name = "required_current", says = "what wire and device must carry" },
    operating = { name = "working_current", says = "current at full power" },
  } }

-- The circuit that loses the largest share of its voltage: not always the one with most current.
local function losing(run)
  local worst, most
  for _, s in ipairs(carried(run)) do
    local amps = (s.combined_at == "array" and s.parallel or 1) * s.on.modules.imp
    local share = amps / s.working_voltage
    if not most or share > most then worst, most = { current = amps, voltage = s.working_voltage }, share end
  end
  return worst
end

result { "run", "working_voltage", dim = "voltage",
    says = "voltage at full power, standard conditions",
    work = function(run) return heaviest(run).strings.working_voltage end }

result { "run", "rise", dim = "length", show = "ft", says = "both risers together",
  work = function(run)
    local risers = given(run, "risers")
    return risers and risers[1] + risers[2] or 2 * run.stub_up
  end }
result { "run", "beyond", dim = "length", show = "ft",
  says = "beyond the far riser: along the wall, and inside where the dc goes in",
  work = function(run)
    local along = given(run, "along_wall") or 0 * run.rise
    return run.dc_stops_at == "inside a building" and along + run.inside or along
  end }
result { "run", "length", dim = "length", show = "ft", says = "one way: trench, both risers, and what lies beyond",
  formula = "through.length + rise + beyond" }
result { "run", "make_up", dim = "length", show = "ft", says = "wire left at each end",
  work = function(run) return given(run, "make_up_each_end") or record.root.habits.make_up_each_end end }
result { "run", "cut_length", dim = "length", show = "ft", says = "length of each conductor with make-up at both ends",
  formula = "length + 2 * make_up" }

work { "run", "drop", op = "voltage_drop", says = "voltage lost in the run",
  input = function(run, job)
    local circuit = losing(run)
    return { length = run.length, current = circuit.current, voltage = circuit.voltage, material = run.conductor,
        size = run.wire.size, stranding = run.stranding, edition = edition(job) }
  end,
  gives = {
    ratio = { name = "voltage_drop", says = "share of the voltage lost at full power", dim = "ratio" },
    drop = { name = "volts_lost", says = "voltage lost at full power" },
    loss = { name = "watts_lost", says = "power lost at full power" },
  } }

-- What ampacity asks for, at such an ambient and with so many conductors in the raceway.
local function ampacity(run, job, ambient, conductors)
  return { material = run.conductor, size = run.wire.size, insulation = run.insulation, terminal = run.terminals,
      ambient = ambient, conductors = conductors, maximum = run.max_current, required = run.required_current,
      edition = edition(job) }
end

-- Before the factors: known though nobody said how hot the air gets.
work { "run", "at_terminals", op = "ampacity", says = "what the conductors may carry at their terminals",
  input = function(run, job)
    return ampacity(run, job, (host.fact("table_ambient", edition(job))), 1)
  end,
  gives = { terminal_ampacity = { says = "ampacity by the terminals' column, before the factors: as alone in its " ..
      "raceway, at the table's ambient" } } }

work { "run", "carrying", op = "ampacity", says = "what the conductors may carry",
  input = function(run, job) return ampacity(run, job, job.site.hottest_air, run.conductors) end,
  gives = {
    corrected = { name = "corrected_ampacity", says = "ampacity after ambient and count" },
    usable = { name = "usable_ampacity", says = "the lesser of the two" },
  } }

work { "run", "protection", op = "overcurrent", says = "overcurrent device",
  input = function(run, job)
    return { required = run.required_current, ampacity = run.usable_ampacity, material = run.conductor,
        size = run.wire.size, device = "breaker", edition = edition(job) }
  end,
  gives = {
    least = { name = "least_device", says = "smallest standard device that carries the circuit" },
    allowed = { name = "most_device", says = "largest device that protects the wire" },
  } }

result { "run", "device", dim = "current", says = "the device declared, or the one assumed for the grounding conductor",
  work = function(run) return given(run, "overcurrent") or run.least_device end }

work { "run", "grounding", op = "grounding_conductor", says = "equipment grounding conductor",
  input = function(run, job) return { device = run.device, material = run.conductor, edition = edition(job) } end,
  gives = { size = { name = "least_ground_size", wire = true,
      says = "smallest equipment grounding conductor by the code's table" } } }

result { "run", "wire_voltage", dim = "voltage",
    says = "voltage that the wire is marked for: as declared, else the least of its type",
  work = function(run, job)
    return given(run, "marked_voltage") or
      calc.insulation { type = run.insulation, edition = edition(job) }.voltage
  end }

work { "charge_controller", "charging_most", op = "output_current",
    says = "the most that the device to the battery must carry",
  input = function(c, job)
    return { power = c.max_output_current * c.battery_voltage, voltage = c.battery_voltage, edition = edition(job) }
  end,
  gives = { required = { name = "least_fuse", says = "what the device to the battery must be rated for" } } }

-- It never needs to be larger than the circuit's own conductors.
result { "run", "least_ground",
    says = "smallest equipment grounding conductor, never larger than the circuit's own wire",
  work = function(run)
    local least = run.least_ground_size
    return run.wire < least and run.wire or least
  end }
result { "run", "ground_wire", says = "equipment grounding conductor: as declared, else the smallest",
  work = function(run) return given(run, "ground") or run.least_ground end }

local function trade(size) return (size:gsub(" in$", "")) end

work { "run", "filling", op = "raceway_fill", says = "raceway fill",
  input = function(run, job)
    return { kind = run.conduit.kind, trade_size = trade(run.conduit.size), conductors = {
      { size = run.wire.size, count = run.conductors, insulation = run.insulation },
      { size = run.ground_wire.size, count = 1, insulation = run.insulation },
    }, edition = edition(job) }
  end,
  gives = {
    ratio = { name = "fill", says = "share of the raceway that is filled", dim = "ratio" },
    limit_ratio = { name = "fill_limit", says = "share that may be filled", dim = "ratio" },
    jams = { name = "may_jam", says = "whether three equal conductors may jam in a bend" },
  } }

work { "run", "bending", op = "bends", says = "bends between pull points",
  input = function(run, job)
    local angles = {}
    for a in record.each(run.conduit.bends) do angles[#angles + 1] = a end
    return { angles = angles, edition = edition(job) }
  end,
  gives = { total = { name = "bend_total", says = "sum of the bends" },
            limit = { name = "bend_limit", says = "most between pull points" } } }

work { "run", "burial", op = "cover", says = "cover over the raceway",
  input = function(run, job)
    return { method = run.conduit.kind, location = run.through.under, edition = edition(job) }
  end,
  gives = { least = { name = "least_cover", says = "least cover over the raceway" } } }

work { "trench", "marking", op = "ribbon", says = "warning ribbon above the raceway",
  input = function(_, job) return { edition = edition(job) } end,
  gives = { least = { name = "least_tape", says = "least height of a warning tape above the raceway" } } }

work { "run", "sheath", op = "insulation", says = "what the insulation is good for",
  input = function(run, job) return { type = run.insulation, edition = edition(job) } end,
  gives = { wet = { name = "wet_rated", says = "whether the insulation may lie in a wet pipe" } } }

return electrical
