-- SPDX-License-Identifier: MIT
-- Rules about strings, wire and raceway.
local rule = import "model.rule"
local record = import "model.record"
local memo = import "model.memo"
local electrical = import "electrical.results"
local util = import "model.util"
local add, at_most, at_least, states, every, limit, bound, given =
  rule.add, rule.at_most, rule.at_least, rule.states, rule.every, rule.limit, rule.bound, record.given

local title = electrical.title

-- What is not all there yet: one more thing to find out at quote, broken from the permit on.
local function incomplete(text, path)
  if rule.reached "permit" then return states(false, text) end
  host.raise { code = "D010", class = "missing", text = text, path = path }
end

-- ---- voltage -------------------------------------------------------------------------------------------------------

-- The same strings with n modules in series: what changes, and what comes of it.
local function in_series(s, n, parallel, says)
  return { changes = { [tostring(s) .. ".series"] = n, [tostring(s) .. ".parallel"] = parallel },
      words = n .. " in series" .. (parallel ~= s.parallel and " x " .. parallel or "") .. ": " .. says }
end

-- Strings of n modules, or of fewer or more by steps, that use all modules of the rack which no other strings use;
-- then strings of n, as many as there are. says(n) tells what comes of it.
local function of_equal_strings(s, n, step, says)
  local all, list = s.on.module_count, {}
  for _, x in ipairs(electrical.on(s.on)) do if x ~= s then all = all - x.module_count end end
  local even = step < 0 and math.min(n, all) or n
  while even > 1 and even <= all and all % even ~= 0 do even = even + step end
  local fits = even <= all and all % even == 0 and (even > 1 or n == 1)          -- one in series helps nobody
  if fits then list[1] = in_series(s, even, all // even, says(even)) end
  if not fits or even ~= n then list[#list + 1] = in_series(s, n, s.parallel, says(n)) end
  return list
end

-- Where only wires are marked for too little: wire that is marked for enough. Nil where another limit is passed, too.
local function wire_marked_for_more(s)
  local short = {}
  for _, l in ipairs(electrical.voltage_limits(s)) do
    local known, limit = pcall(l.limit)
    if not known and not host.class(limit) then error(limit, 0) end
    if known and s.coldest_voltage > limit then
      if not l.wire then return nil end
      short[#short + 1] = l.wire
    end
  end
  if #short == 0 then return nil end
  local enough, changes, names = host.like(s.coldest_voltage, math.ceil(host.si(s.coldest_voltage))), {}, {}
  for i, run in ipairs(short) do changes[tostring(run) .. ".marked_voltage"], names[i] = enough, run.name end
  return { { changes = changes, words = "wire marked for " .. host.format(enough, "V") .. " or more in run " ..
      util.list(names) } }
end

-- The voltage limits of a circuit, each as { bound } or { why } it is unknown: no voltage is among what they rest on.
local voltage_bounds = { name = "voltage bounds", find = function(rec)
  local list = {}
  for i, l in ipairs(electrical.voltage_limits(rec.proxy)) do
    local ok, limit = pcall(function() return bound(l.limit(), title(l.of), l.where) end)
    if not ok and not host.class(limit) then error(limit, 0) end
    list[i] = ok and { bound = limit } or { why = limit }
  end
  return list
end }

add { id = "R41", severity = "stop", each = "strings",
  says = "the string stays under every voltage limit at the coldest dawn",
  cite = "{max_voltage}", caution = "one cold morning destroys the equipment, and may start a fire",
  flips = function(s) return not wire_marked_for_more(s) and tostring(s) .. ".series" or nil end,
  tells = function(s)
    local at = electrical.turns_at(s)
    return "under the limit " .. (at and "down to " .. host.format(at) or "in any cold that a site may have") ..
        "; the coldest is " .. host.format(record.root.site.coldest)
  end,
  nearest = function(s)
    local marked = wire_marked_for_more(s)
    if marked then return marked end
    if s.most_in_series < 1 then return "no module of this kind may go into " .. title(s.into) end
    return of_equal_strings(s, s.most_in_series, -1, function(n)
      return host.format(s.cold.module_voltage * n, "V") .. " at " .. host.format(record.root.site.coldest)
    end)
  end,
  check = function(s)
    local bounds = {}
    for i, l in ipairs(memo.value(record.inside[s], voltage_bounds)) do
      bounds[i] = l.bound or function() error(l.why, 0) end
    end
    for _, run in ipairs(electrical.runs_of(s)) do
      bounds[#bounds + 1] = function()
        local free = calc.building_voltage { edition = record.root.codes.electrical }.most
        if s.coldest_voltage > free then local _ = run.building end    -- missing: unknown, not a pass
      end
    end
    return at_most(s.coldest_voltage, table.unpack(bounds))
  end }

add { id = "R42", severity = "caution", each = "strings",
  says = "the string still works on the hottest day", may_waive = "house",
  cite = "makers' input data", caution = "no charge on hot afternoons",
  flips = function(s) return tostring(s) .. ".series" end,
  nearest = function(s)
    local one = s.hottest_voltage / s.series
    local least = math.ceil(s.least_voltage / one - 1e-9)            -- the slack is for binary noise
    return of_equal_strings(s, least, 1, function(n)
      return host.format(one * n, "V") .. " with cells at " .. host.format(s.hottest_cell)
    end)
  end,
  check = function(s)
    local charge = record.kind_of(s.into) == "charge_controller" and s.into.charge_voltage
    if charge and charge < s.into.battery_voltage then
      return states(false, "the highest voltage while charging, " .. host.format(charge) ..
          ", lies below the battery's " .. host.format(s.into.battery_voltage))
    end
    return at_least(s.hottest_voltage, bound(s.least_voltage, title(s.into)))
  end }

-- ---- inputs --------------------------------------------------------------------------------------------------------

-- What tells two strings on one input apart; nil where they are equal.
local function unlike(a, b)
  if a.series == b.series and a.on.modules == b.on.modules then
    if host.near(host.si(a.on.tilt), host.si(b.on.tilt)) then return nil end
    return title(a.on) .. " at " .. host.format(a.on.tilt) .. " and " .. title(b.on) .. " at " ..
        host.format(b.on.tilt) .. " share " .. electrical.input_title(a)
  end
  return "strings of " .. a.series .. " " .. a.on.modules.name .. " and of " .. b.series .. " " .. b.on.modules.name ..
      " share " .. electrical.input_title(a)
end

add { id = "R43", severity = "caution", each = "rack",
  says = "strings on one input are equal; they use all modules of the rack, and no more",
  cite = "common practice, no source", caution = "the weakest string rules, or a module is left dark",
  may_waive = "house",
  check = function(r)
    local n, list = 0, {}
    for _, s in ipairs(electrical.on(r)) do
      n = n + s.module_count
      for _, x in ipairs(electrical.together(s)) do
        local words = unlike(s, x)
        if words then list[#list + 1] = states(false, words) end
      end
    end
    local all, rack = r.module_count, title(r)
    list[#list + 1] = function()
      if n == 0 then
        host.raise { code = "D010", class = "missing", text = "no strings are declared on " .. rack, path = "strings" }
      end
      if n < all and not rule.reached "permit" then
        return incomplete(all - n .. " of the " .. all .. " modules of " .. rack .. " are in no strings", "strings")
      end
      local f = rule.equal_within(n, all, 0)
      f.whose = "modules of " .. rack
      return f
    end
    return every(list)
  end }

add { id = "R44", severity = "caution", each = "strings",
  says = "the current stays within what the input and output take", may_waive = "house",
  cite = "maker's data sheet; {max_current}", caution = "damage, or power thrown away",
  tells = function(s)                     -- both, since one harms and the other only wastes
    local together, against = electrical.together(s), electrical.held_against(s)
    local text = (against == "max_current" and "maximum current " or "short circuit ") ..
        host.format(electrical.sum(together, against)) .. ", " .. electrical.input_title(s) .. " takes " ..
        host.format(electrical.input_limit(s, "max_short_circuit"))
    if record.kind_of(s.into) == "charge_controller" then
      return text .. "; charging " .. host.format(electrical.sum(electrical.all_into(s), "charge_current")) ..
          ", its output takes " .. host.format(s.into.max_output_current)
    end
    return text .. "; at full power " .. host.format(electrical.sum(together, "working_current")) ..
        ", it can use " .. host.format(electrical.input_limit(s, "usable_current"))
  end,
  check = function(s)
    local input, of, together = electrical.input_title(s), s.into, electrical.together(s)
    local against = electrical.held_against(s)
    local list = { function()
      return at_most(electrical.sum(together, against), bound(electrical.input_limit(s, "max_short_circuit"), input,
          against == "max_current" and "short circuit, held against the maximum current"
              or "short circuit, which its maker rates at standard conditions"))
    end }
    if record.kind_of(of) == "charge_controller" then
      list[2] = function()
        return at_most(electrical.sum(electrical.all_into(s), "charge_current"),
            bound(of.max_output_current, title(of) .. " output"))
      end
      local fuse = given(of, "fuse")
      list[3] = fuse and function()
        return at_least(fuse, bound(of.least_fuse, title(of) .. " output, at its most", "{device}"))
      end
    else
      list[2] = function()
        return at_most(electrical.sum(together, "working_current"),
            bound(electrical.input_limit(s, "usable_current"), input, "most that it can use"))
      end
    end
    return every(list)
  end }

add { id = "R45", severity = "stop", each = "strings",
  says = "no string can be overfed by its neighbours without a fuse",
  cite = "{string_overcurrent}", caution = "burnt module leads",
  nearest = function(s, _, passes)                          -- the smallest fuse that carries the string
    if given(s, "fuse") then return nil end
    local changes = { [tostring(s) .. ".fuse"] = s.least_fuse }
    if not passes(changes, { "R45" }, tostring(s)) then return nil end
    return { { changes = changes, words = "a fuse of " .. host.format(s.least_fuse) .. " in each string" } }
  end,
  check = function(s)
    local fuse, module = given(s, "fuse"), "module " .. s.on.modules.name
    -- Strings that are joined at the far end bring the rest's current into their own wires too.
    local wires = {}
    if s.combined_at ~= "array" then
      for _, run in ipairs(electrical.runs_of(s)) do wires[#wires + 1] = run end
    end
    if fuse then
      local list = { function()
        return rule.between(fuse, bound(s.least_fuse, "smallest that carries the string"),
            bound(s.on.modules.max_fuse, module))
      end }
      for _, run in ipairs(wires) do
        list[#list + 1] = function()
          return at_most(fuse,
              bound(run.most_device, "largest for the wire of " .. title(run), "{conductor_protection}"))
        end
      end
      return every(list)
    end
    if not s.fuses_needed then
      local bounds = { bound(s.on.modules.max_fuse, module .. " series fuse") }
      for _, run in ipairs(wires) do
        bounds[#bounds + 1] = function() return bound(run.usable_ampacity, "wire of " .. title(run)) end
      end
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
  tells = function(run)                   -- both, since an electrician asks for both
    return "before the factors " .. host.format(run.required_current) .. ", its terminals take " ..
        host.format(run.terminal_ampacity) .. "; after ambient and count " .. host.format(run.max_current) ..
        ", the wire carries " .. host.format(run.corrected_ampacity)
  end,
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
  applies = function(s) return #devices(s) > 0, "no fuse or breaker is declared for the strings" end,
  check = function(s)
    local list = {}
    for i, d in ipairs(devices(s)) do
      list[i] = function() return at_least(d[1][d[2]], bound(s.coldest_voltage, "the string at the coldest")) end
    end
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

local shutdown           -- by place: what the table says, once it was read

-- What the code says of rapid shutdown of circuits that end there: its row, and in which editions that stands.
local function shutdown_at(place)
  if not shutdown then
    shutdown = {}
    for _, row in ipairs(host.table "rapid_shutdown_690_12") do
      local editions = {}
      for _, e in ipairs(host.editions "electrical") do if row.known[e] then editions[#editions + 1] = e end end
      shutdown[row.place] = shutdown[row.place] or { row, editions }
    end
  end
  local at = shutdown[place]
  if at then return at[1], at[2] end
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
      return states(false, words .. " " .. stands .. "; of " ..
          host.an(row.place) .. " it stands " .. asked)
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
  check = function(t)
    local tape = t.tape_above_conduit
    if tape > t.cover then
      return states(false, "the tape, " .. host.format(tape) ..
          " above the conduit, lies above the ground: the cover is " .. host.format(t.cover))
    end
    return at_least(tape, bound(t.least_tape, "warning ribbon"))
  end }

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

-- Strings without a way to their input, or with two.
local function ways(s)
  local runs, names = electrical.runs_of(s), {}
  for i, run in ipairs(runs) do names[i] = run.name end
  local name = record.inside[s].name
  local way = (name and "strings " .. name or "the strings") .. " from " .. title(s.on) .. " to " ..
      electrical.destination(s)
  if #runs == 1 then return states(true, "run " .. names[1] .. " carries " .. way) end
  if #runs == 0 then return incomplete("no run carries " .. way, "run") end
  return incomplete("the runs " .. util.list(names) .. " each carry " .. way ..
      ": which of them does is said by carries", tostring(runs[1]) .. ".carries")
end

-- A run without strings, or with some that do not go its way.
local function load_of(run)
  local names = {}
  for i, s in ipairs(electrical.carried(run)) do
    if s.on ~= run.from or s.into ~= run.to then
      return incomplete(title(run) .. " goes from " .. title(run.from) .. " to " .. title(run.to) ..
          " and is to carry strings " .. s.name .. " from " .. title(s.on) .. " to " .. title(s.into),
          tostring(run) .. ".carries")
    end
    names[i] = record.inside[s].name
  end
  if #electrical.carried(run) == 0 then
    return incomplete(title(run) .. " carries nothing: no strings go from " .. title(run.from) .. " into " ..
        title(run.to), tostring(run) .. ".from")
  end
  return states(true, title(run) .. " carries " .. (names[1] and "strings " .. util.list(names) or "the strings"))
end

add { id = "R75", severity = "stop", each = "strings", and_each = "run", may_waive = "nobody",
  says = "strings have one way to their input, and a run carries strings",
  cite = "common practice, no source", caution = "wire that nobody judged is pulled, or none is there to pull",
  nearest = function(x)
    if record.kind_of(x) == "run" then return "say from which rack and into what it goes, or leave it out" end
    local runs = electrical.runs_of(x)
    return #runs == 0 and "declare a run from " .. title(x.on) .. " to " .. title(x.into) or
        "say in each run which strings it carries, or leave one out"
  end,
  check = function(x) return record.kind_of(x) == "run" and load_of(x) or ways(x) end }
