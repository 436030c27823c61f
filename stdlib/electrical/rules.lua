-- SPDX-License-Identifier: MIT
-- Rules about strings, wire and raceway.
local rule = import "model.rule"
local record = import "model.record"
local electrical = import "electrical.results"
local add, at_most, at_least, states, every, limit, bound, given =
  rule.add, rule.at_most, rule.at_least, rule.states, rule.every, rule.limit, rule.bound, record.given

local function title(x) return (string.gsub(record.kind_of(x), "_", " ")) .. " " .. x.name end

add { id = "R41", severity = "stop", each = "strings",
  says = "the string stays under every voltage limit at the coldest dawn",
  cite = "{max_voltage}", caution = "one cold morning destroys the equipment, and may start a fire",
  flips = function(s) return tostring(s) .. ".series" end,
  nearest = function(s)
    local n = s.most_in_series
    if n < 1 then return "no module of this kind may go into " .. title(s.into) end
    return { { changes = { [tostring(s) .. ".series"] = n }, words = n .. " in series: "
        .. host.format(s.cold.module_voltage * n, "V") .. " at " .. host.format(record.root.site.coldest) } }
  end,
  check = function(s)
    local bounds = {}
    for i, l in ipairs(electrical.voltage_limits(s)) do bounds[i] = bound(l[1], title(l[2]), l[3]) end
    for _, run in ipairs(electrical.runs_of(s)) do
      local free = calc.building_voltage { edition = record.root.codes.electrical }.most
      if s.coldest_voltage > free then local _ = run.building end      -- missing: unknown, not a pass
    end
    return at_most(s.coldest_voltage, table.unpack(bounds))
  end }

add { id = "R42", severity = "caution", each = "strings",
  says = "the string still works on the hottest day", may_waive = "house",
  cite = "makers' input data", caution = "no charge on hot afternoons",
  flips = function(s) return tostring(s) .. ".series" end,
  check = function(s) return at_least(s.hottest_voltage, bound(s.least_voltage, title(s.into))) end }

add { id = "R43", severity = "caution", each = "rack",
  says = "strings on one input are equal; they use all modules of the rack, and no more",
  cite = "common practice, no source", caution = "the weakest string rules, or a module is left dark",
  may_waive = "house",
  check = function(r)
    local n = 0
    for _, s in ipairs(record.all "strings") do
      if s.on == r then
        n = n + s.module_count
        for _, x in ipairs(electrical.together(s)) do
          if x.series ~= s.series or x.on.modules ~= s.on.modules then
            return states(false, "strings of " .. s.series .. " " .. s.on.modules.name .. " and of " .. x.series .. " "
                .. x.on.modules.name .. " share the input of " .. title(s.into))
          end
        end
      end
    end
    return rule.equal_within(n, r.module_count, 0)
  end }

add { id = "R44", severity = "caution", each = "strings",
  says = "the current stays within what the input and output take", may_waive = "house",
  cite = "maker's data sheet", caution = "damage, or power thrown away",
  check = function(s)
    local input = bound(s.into.max_short_circuit, title(s.into) .. " input")
    local list = { at_most(electrical.sum(s, "short_circuit"), input) }
    if record.kind_of(s.into) == "charge_controller" then
      list[#list + 1] = at_most(electrical.sum(s, "charge_current"),
          bound(s.into.max_output_current, title(s.into) .. " output"))
      local fuse = given(s.into, "fuse")
      if fuse then list[#list + 1] = at_least(fuse,
          bound(s.into.least_fuse, title(s.into) .. " output, at its most", "{device}")) end
    else list[#list + 1] = at_most(s.working_current, bound(s.into.usable_current, title(s.into) .. " input")) end
    return every(list)
  end }

add { id = "R45", severity = "stop", each = "strings",
  says = "no string can be overfed by its neighbours without a fuse",
  cite = "{string_overcurrent}", caution = "burnt module leads",
  check = function(s)
    local fuse, module = given(s, "fuse"), "module " .. s.on.modules.name
    -- Strings that are joined at the far end bring the rest's current into their own wires too.
    local wires = {}
    if s.combined_at ~= "array" then
      for _, run in ipairs(electrical.runs_of(s)) do wires[#wires + 1] = run end
    end
    if fuse then
      local list = { rule.between(fuse, bound(s.least_fuse, "smallest that carries the string"),
          bound(s.on.modules.max_fuse, module)) }
      for _, run in ipairs(wires) do list[#list + 1] = at_most(fuse,
          bound(run.most_device, "largest for the wire of " .. title(run), "{conductor_protection}")) end
      return every(list)
    end
    if not s.fuses_needed then
      local bounds = { bound(s.on.modules.max_fuse, module .. " series fuse") }
      for _, run in ipairs(wires) do bounds[#bounds + 1] = bound(run.usable_ampacity, "wire of " .. title(run)) end
      return at_most(s.backfeed, table.unpack(bounds))
    end
    return states(false, "the other strings feed " .. host.format(s.backfeed) .. " into one, above the module's "
        .. host.format(s.on.modules.max_fuse) .. ": a fuse is needed in each")
  end }

-- The changes, and the next larger raceway with which the wires do not overfill it; nil where they do not anyway.
local function wider(run, changes, passes)
  if passes(changes, { "R59" }, run) then return nil end
  local path, now = tostring(run) .. ".conduit.size", run.conduit.size
  local larger = false
  for _, size in ipairs(host.column "conduit_ch9_t4.size") do
    if larger then
      local with = { [path] = size }
      for k, v in host.sorted(changes) do with[k] = v end
      if passes(with, { "R59" }, run) then return with, run.conduit.kind .. " " .. size end
    end
    larger = larger or size == now
  end
end

-- The next larger wire with which a rule holds, and what raceway it wants.
local function next_wire(id)
  return function(run, job, passes)
    local now, largest = run.wire, nil
    for _, size in ipairs(host.column "ampacity_310_16.label") do
      local w = host.wire(size)
      local changes = { [tostring(run) .. ".wire"] = w, [tostring(run) .. ".stranding"] = "stranded" }
      if now < w and passes(changes, { id }, run) then
        local list = { { changes = changes, words = host.format(w) } }
        local with, raceway = wider(run, changes, passes)
        if with then list[2] = { changes = with, words = host.format(w) .. " in " .. raceway } end
        return list
      end
      if not largest or largest < w then largest = w end
    end
    if not given(job.site, "hottest_air") then return nil end      -- then no size is known to pass
    return "no size up to " .. host.format(largest) .. " is enough"
  end
end

add { id = "R46", severity = "stop", each = "run",
  says = "the wire carries the current before and after the factors, at its terminals",
  cite = "{wire_ampacity ampacity terminals}", caution = "hot conductors",
  nearest = next_wire "R46",
  check = function(run)
    return every {
      function() return at_most(run.required_current,
          bound(run.terminal_ampacity, run.terminals .. " terminals", "{ampacity}")) end,
      function() return at_most(run.max_current,
          bound(run.usable_ampacity, "after ambient and count", "{ampacity_rules}")) end,
    }
  end }

-- Where nobody declared a device, the program compares the one that it chose itself.
local assumed = "no device is declared, and the smallest that fits is assumed"

add { id = "R47", severity = "stop", each = "run", says = "the overcurrent device protects the wire",
  cite = "{conductor_protection device}", caution = "the plan is rejected; the wire burns before the device opens",
  nearest = next_wire "R47",
  check = function(run)
    local d = run.device
    local f = every {
      function() return at_most(d, bound(run.most_device, "largest for " .. host.format(run.wire))) end,
      function() return at_least(d, bound(run.required_current, "the circuit's own current")) end,
    }
    if given(run, "overcurrent") then return f end
    f.words = "(" .. assumed .. ")"
    return rule.constructed(f)
  end }

add { id = "R48", severity = "note", each = "run", says = "the voltage drop is within the house's limit",
  cite = "house limit, not code; drop by {table_8}",
  caution = "lost winter energy: compare with the price of one more module",
  flips = function(run) return tostring(run.through) .. ".length" end, nearest = next_wire "R48",
  check = function(run) return at_most(run.voltage_drop, limit "voltage_drop") end }

-- Every device in the circuit of the strings: a field that holds its voltage.
local function devices(s)
  local list = {}
  if given(s, "fuse") then list[1] = { s, "fuse_voltage" } end
  for _, run in ipairs(electrical.runs_of(s)) do
    if given(run, "overcurrent") then list[#list + 1] = { run, "overcurrent_voltage" } end
  end
  return list
end

add { id = "R49", severity = "stop", each = "strings",
  says = "fuses and breakers are rated for the direct current of the coldest dawn", may_waive = "nobody",
  cite = "{device}", caution = "a breaker made for low voltage burns in an arc that it cannot put out",
  applies = function(s) return #devices(s) > 0 end,
  check = function(s)
    local list = {}
    for i, d in ipairs(devices(s)) do list[i] = at_least(d[1][d[2]],
        bound(s.coldest_voltage, "the string at the coldest")) end
    return every(list)
  end }

add { id = "R50", severity = "caution", each = "run", says = "the grounding conductor fits the device",
  cite = "{pv_ground grounding_conductor}", caution = "a fault does not clear", may_waive = "nobody",
  check = function(run)
    local ground, least = run.ground_wire, run.least_ground
    local device = " for a device of " .. host.format(run.device)
        .. (given(run, "overcurrent") and "" or "; " .. assumed)
    local f = states(least <= ground, host.format(ground)
        .. (least <= ground and device or " is smaller than the " .. host.format(least) .. " wanted" .. device))
    f.by = "limit"                               -- a row of the table, though sizes are no amounts
    return given(run, "ground") and f or rule.constructed(f)
  end }

-- What the code says of rapid shutdown of circuits that end there: its row, and in which editions that stands.
local function shutdown_at(place)
  for _, row in ipairs(host.table "rapid_shutdown_690_12") do
    if row.place == place then
      local editions = {}
      for _, e in ipairs(host.editions "electrical") do if row.known[e] then editions[#editions + 1] = e end end
      return row, editions
    end
  end
end

-- Rapid shutdown as it is declared: listed for it, and started from where the building's kind wants it.
local function shutdown_declared(run, edition)
  local s = run.rapid_shutdown
  if not s.listed then return states(false, s.equipment .. " is not listed for rapid shutdown") end
  local words = "rapid shutdown by " .. s.equipment .. ", listed for it, started by " .. s.initiator
  local stands = given(s, "initiator_stands")
  for _, row in ipairs(host.table "rapid_shutdown_690_12") do
    local asked = row.known[edition] and row.initiator ~= "" and row.initiator
    if asked and stands ~= asked and run.building == row.place and s.initiator_stands ~= asked then
      return states(false, words .. " " .. stands .. "; of a " .. row.place .. " it stands " .. asked)
    end
  end
  return states(true, words)
end

add { id = "R53", severity = "caution", each = "run",
  says = "dc ends outside the building, or rapid shutdown is provided", may_waive = "authority",
  cite = "{rapid_shutdown}", caution = "ask the inspector first; being off grid is no exemption",
  nearest = function(run)
    if given(run, "rapid_shutdown") then return "equipment that is listed for it, started from outside" end
    return "equipment that is listed for it: rapid_shutdown = { equipment = ..., listed = true, initiator = ... }"
  end,
  check = function(run, job)
    local edition, place, building = job.codes.electrical, run.dc_stops_at, given(run, "building")
    local ends = "dc stops at: " .. place .. (building and ", " .. building or "")
    local newer = ""
    for _, at in ipairs { place, building } do
      local row, editions = shutdown_at(at)
      if row and row.initiator == "" then
        if row.known[edition] then return states(true, ends) end
        newer = "; the exception for circuits that end there stands in " .. table.concat(editions, ", ") .. ", not in "
            .. edition
      end
    end
    if given(run, "rapid_shutdown") then return shutdown_declared(run, edition) end
    return states(false, ends .. newer .. "; no rapid shutdown is declared")
  end }

add { id = "R57", severity = "stop", each = "run", says = "the raceway lies deep enough", may_waive = "authority",
  cite = "{cover}", caution = "a shovel or plough strikes it",
  flips = function(run) return tostring(run.through) .. ".cover" end,
  check = function(run) return at_least(run.through.cover,
      bound(run.least_cover, run.conduit.kind .. " under " .. run.through.under)) end }

add { id = "R58", severity = "caution", each = "trench",
  says = "a warning tape lies well above the conduit", may_waive = "house",
  cite = "{tape} for service conductors; good practice here", caution = "the next digger hits it",
  check = function(t) return at_least(t.tape_above_conduit, bound(t.least_tape, "warning ribbon")) end }

add { id = "R59", severity = "caution", each = "run", says = "the raceway is not overfilled", may_waive = "nobody",
  cite = "{fill}", caution = "insulation tears in the pull",
  nearest = function(run, _, passes)
    local with, raceway = wider(run, {}, passes)
    return with and { { changes = with, words = raceway } }
        or "no " .. run.conduit.kind .. " of the table is wide enough"
  end,
  check = function(run)
    return at_most(run.fill, bound(run.fill_limit, run.conduit.kind .. " " .. run.conduit.size))
  end }

add { id = "R60", severity = "caution", each = "run",
  says = "the bends between pull points are no more than a full turn", may_waive = "nobody",
  cite = "{bends}", caution = "the wire sticks halfway",
  check = function(run) return at_most(run.bend_total, bound(run.bend_limit, "between pull points")) end }

add { id = "R63", severity = "caution", each = "run",
  says = "the insulation may lie in a wet pipe", may_waive = "nobody",
  cite = "{wet_raceway wet_types}", caution = "the insulation fails in wet pipe",
  check = function(run)
    local fit = run.wet_rated
    return states(fit, run.insulation .. (fit and " is" or " is not") .. " rated for wet places")
  end }
