-- SPDX-License-Identifier: MIT
-- Rules about the papers, the lot, and the inputs themselves.  Numbers as in the trade's rule list.
local rule = import "model.rule"
local record = import "model.record"
local memo = import "model.memo"
local schema = import "model.schema"
local add, at_most, at_least, states, every, limit, given = rule.add, rule.at_most, rule.at_least, rule.states,
    rule.every, rule.limit, record.given
local bound = rule.bound

-- ---- what is missing -----------------------------------------------------------------------------------------------

local function missing(path, text, who, tool, help)
  host.raise { code = "D010", class = "missing", path = path, text = text, who = who, tool = tool, help = help }
end

local function not_given(path, f, kind)
  missing(path, path .. " is not given: " .. f.says, f.who or kind.who, f.tool or kind.tool)
end

-- What somebody found out after the day judged is not known yet on that day.
local function known_by(on, path, what, who, tool)
  local today = given(record.root, "on")
  if today and on > today then missing(path, what .. " on " .. on .. ", after the day judged, " .. today, who, tool) end
end

-- A field of what is declared once in a job: where nobody declared any of it, the field is what is missing.
local function fact_of(kind, name)
  local r, def = record.only(kind), schema.kinds[kind]
  if r then return r[name] end
  not_given(kind .. "." .. name, def.by[name], def)
end

local function authorities()
  local offices = record.all "authority"
  if not offices[1] then
    missing("authority", "no authority is declared: the office whose limits these are", "building office",
        "a telephone call", "declare it in a place file: authority { ... }")
  end
  return offices
end

-- In a list for `every`: a limit that is missing is told beside whatever else is.
local function wanted(name) return function() limit(name) end end

-- A comparison with a limit; what is missing of the two is told one by one.
local function against(name, compare) return every { compare, wanted(name) } end

-- A fact of the site: a distance if it was measured, "none" if somebody walked the ground and said so; else missing.
-- Where both were said the distance counts.
local function fact(name, field)
  local nearest = field and record.only "nearest"
  local d = nearest and given(nearest, field)
  if d then return d end
  local none = record.only "none"
  if none then
    for f in record.each(none.facts) do
      if f == name then
        known_by(none.on, "none.on", "that there is no " .. name .. " is said", "owner", "a walk round")
        return "none"
      end
    end
  end
  missing(record.step("none", name), "nobody said whether there is " .. host.an(name), "owner",
      "a walk round",
      "what is not there stands in none { ... }" ..
      (field and ", how far it is in nearest { " .. field .. " = ... }" or ", what is there in " .. name:match "%a+" ..
      " { ... }"))
end

-- ---- the office and the lot ----------------------------------------------------------------------------------------

add { id = "R01", severity = "caution", says = "code editions and the authority are named",
  cite = "common practice, no source", caution = "the limits below are placeholders: ask the office",
  check = function(_, job)
    local codes, list, words = given(job, "codes"), {}, {}
    for i, name in ipairs { "electrical", "loads", "wood", "building" } do
      list[i] = function()
        if not codes then not_given("job.codes." .. name, schema.kinds.job.by.codes.by[name]) end
        words[i] = given(codes, name) or codes[name]                  -- named, whether there is data of it or not
        return states(true, name .. " code is " .. words[i])
      end
    end
    list[#list + 1] = function()
      local offices = {}
      for i, office in ipairs(authorities()) do
        known_by(office.read_on, record.step(tostring(office), "read_on"), "the rules of " .. office.name ..
            " are read", "building office", "a telephone call")
        offices[i] = office.name .. ", read on " .. office.read_on
      end
      words.office = table.concat(offices, "; ")
      return states(true, words.office)
    end
    local all = every(list)
    if not all.unknowns then all.words = table.concat(words, ", ") .. "; " .. words.office end
    return all
  end }

add { id = "R02", severity = "caution",
  says = "the array keeps its distance from the lot line", may_waive = "authority",
  cite = "the place's setback", caution = "move the array or get a variance",
  applies = function() return rule.wants_limit "setback" end,
  nearest = function() return "move the array away from the lot line, or ask the authority for a variance" end,
  check = function()
    return against("setback", function() return at_least(fact_of("nearest", "lot_line"), limit "setback") end)
  end }

local function height(r) return r.height_above_grade end

-- The top edge against limits of height, where the tilt of the modules counts for each of them.
local function under_limits(r, name)
  local positions = import("structure.tilted").positions(r)
  if not positions then return at_most(height(r), limit(name)) end
  return import("seasons.positions").under(r, positions, height, { limit(name) })
end

add { id = "R03", severity = "stop", each = "rack",
  says = "the top edge is under the height limit, from natural grade", may_waive = "authority",
  cite = "the place's height limit", caution = "the zoning permit is refused",
  flips = function(r) return tostring(r) .. ".lower_edge" end,
  applies = function() return rule.wants_limit "height" end,
  check = function(r)
    return against("height", function() return under_limits(r, "height") end)
  end }

-- What an office goes by when it asks for a seal: heights, of the rack or of one that somebody built at home, and what
-- comes down on it.
local function of_no_kit(r) return not given(r, "stack") end
local seals = {
  { "seal", find = function(r) return under_limits(r, "seal") end },
  { "seal_home_built", counts = of_no_kit, find = function(r) return under_limits(r, "seal_home_built") end },
  { "seal_wind", find = function() return at_most(fact_of("site", "wind"), limit "seal_wind") end },
  { "seal_snow", find = function() return at_most(fact_of("site", "snow"), limit "seal_snow") end },
}

add { id = "R05", severity = "caution", each = "rack",
  says = "no engineer's seal is asked for at this height, wind and snow", may_waive = "engineer",
  cite = "the place's seal rule", caution = "not for construction until sealed",
  flips = function(r) return tostring(r) .. ".lower_edge" end,
  applies = function(r)
    local none
    for _, s in ipairs(seals) do
      if rule.has_limit(s[1]) and (not s.counts or s.counts(r)) then return true end
      none = none or rule.no_limit(s[1])
    end
    return false, none or "the place has no rule about seals"
  end,
  check = function(r)
    local list = {}
    for _, s in ipairs(seals) do
      if rule.has_limit(s[1]) and (not s.counts or s.counts(r)) then
        list[#list + 1] = function() return s.find(r) end
      end
    end
    return #list == 1 and list[1]() or every(list)
  end }

-- Holes keep a distance from a thing, or it is not there; nothing, where the office asks for none.
local function clear_of(name, field, setback)
  return function()
    if rule.no_limit(setback) then return nil end
    local d = fact(name, field)
    if d == "none" then return states(true, "no " .. name) end
    return at_least(d, limit(setback))
  end
end

add { id = "R06", severity = "stop", says = "holes keep clear of septic field and well", may_waive = "authority",
  cite = "the place's health rules", caution = "the health office must approve",
  nearest = function() return "move the holes away, or ask the health office" end,
  applies = function()
    local septic, well = rule.no_limit "septic_setback", rule.no_limit "well_setback"
    return not (septic and well), septic and well and septic .. "; " .. well
  end,
  check = function()
    return every { clear_of("septic field", "septic_field", "septic_setback"),
        clear_of("well", "well", "well_setback") }
  end }

add { id = "R07", severity = "stop", says = "live parts stand above floods",
  cite = "the place's flood map", caution = "flooded dc is lethal: electrical parts go above the flood level",
  nearest = function() return "raise what is live, or move the array off the flood plain; the floodplain office has " ..
      "its own permit" end,
  check = function()
    local flood = record.all "flood"[1]
    if flood then return import "land.flood"(flood) end
    return states(fact "flood zone" == "none", "no flood zone")
  end }

-- ---- digging -------------------------------------------------------------------------------------------------------

-- The owner's own lines: "none", or each by name. Another text says neither.
local function private_lines(job)
  local lines = job.private_lines
  local found, who, tool = lines.found, "owner", "a walk with the owner"
  known_by(lines.on, "private_lines.on", "private lines are asked about", who, tool)
  if type(found) == "string" then
    if found ~= "none" then
      missing("private_lines.found", "what private lines there are is not clear: '" .. found .. "'", who, tool,
          'write found = "none", or each line, as in found = { "water to cabin" }')
    end
    return states(true, "private lines: none, says " .. lines.asked)
  end
  local names = {}
  for line in record.each(found) do
    names[#names + 1] = line
    if line:lower() == "none" then
      missing("private_lines.found", "what private lines there are is not clear: a line is called '" .. line .. "'",
          who, tool, 'write found = "none", or each line, as in found = { "water to cabin" }')
    end
  end
  return states(true, "private lines, says " .. lines.asked .. ": " .. table.concat(names, ", "))
end

-- On the day judged; once all is built, on the days of the digging, of which nobody asks any more.
local function ticket(job)
  local l = job.locate
  local words = "ticket " .. l.ticket .. " is valid from " .. l.valid_from .. " to " .. l.valid_to
  if rule.reached "as built" then return states(true, words) end
  local valid = l.valid_from <= job.on and job.on <= l.valid_to               -- dates as texts are in their order
  return states(valid, words .. (valid and ", the day judged is " .. job.on or "; the day judged, " .. job.on ..
      ", lies outside"))
end

-- What each utility answered to the ticket; anything but these is no answer yet.
local answered = { marked = true, clear = true }

local function add_answers(list, job)
  local l = record.only "locate"
  local answers = l and given(l, "answers")
  if not answers then
    list[#list + 1] = function() return states(#job.locate.answers > 0, "each utility has answered") end
    return
  end
  for i = 1, #answers do
    local answer = answers[i]
    local utility, word = string.match(answer, "^%s*(.-)%s*:%s*(.-)%s*$")
    list[#list + 1] = function()
      if not answered[string.lower(word)] then
        missing(record.step("locate.answers", i), "the ticket is not answered: " .. utility .. " says '" .. word .. "'",
            "locating service", "the ticket's list of utilities", 'an answer is "' .. utility .. ': marked" or "' ..
            utility .. ': clear"')
      end
      return states(true, answer)
    end
  end
end

add { id = "R09", severity = "stop",
  says = "private lines are found out; from stage build on, the ticket is valid and each utility has answered it",
  cite = "state one-call law; common practice", caution = "do not dig: a gas or power line may lie in the hole",
  check = function(_, job)
    local list, words = { private_lines }, {}
    if rule.reached "build" then
      list[2] = ticket
      add_answers(list, job)
    end
    for i, f in ipairs(list) do
      list[i] = function()
        local finding = f(job)
        words[#words + 1] = finding.words
        return finding
      end
    end
    local all = every(list)
    if all.ok and not all.unknowns then all.words = table.concat(words, "; ") end
    return all
  end }

-- ---- the array -----------------------------------------------------------------------------------------------------

local half_turn = host.quantity(math.pi, "angle")

-- Where the sun stands at noon: the bearing, its name, and of which side of the equator that is so.
local function equator(latitude)
  if host.si(latitude) < 0 then return 0 * half_turn, "north", "south" end
  return half_turn, "south", "north"
end

add { id = "R11", severity = "caution", each = "rack",
  says = "the azimuth is true and faces the equator", may_waive = "house",
  cite = "common practice, no source", caution = "you may have used magnetic north",
  nearest = function(r, job)
    local bearing, side = equator(job.site.latitude)
    local compass = r.north == "compass"
    local reading = compass and bearing - job.site.declination or bearing
    if host.si(reading) < 0 then reading = reading + 2 * half_turn end
    reading = host.as(reading, "deg")
    local changes = { [tostring(r) .. ".azimuth"] = reading }
    local row = #record.all "row" > 0 and import("places.places").row_of(r)          -- racks in a row face alike
    for i = 1, row and #row.racks or 0 do changes[tostring(row.racks[i]) .. ".azimuth"] = reading end
    return { { changes = changes, words = "azimuth = " .. host.format(reading) ..
        (compass and " by compass, " .. host.format(host.as(bearing, "deg")) or "") .. " true, which is " .. side } }
  end,
  check = function(r, job)
    local latitude = job.site.latitude
    local f = calc.facing { bearing = r.true_azimuth, latitude = host.quantity(host.si(latitude), "angle") }
    local finding = at_most(host.as(f.off, "deg"), bound(host.as(f.most, "deg"), "custom of the trade"))
    local _, side, hemisphere = equator(latitude)
    finding.words = math.abs(host.si(latitude)) <= 1e-9 and "off north or south, on the equator" or
        "off " .. side .. ", where the sun stands " .. hemisphere .. " of the equator"
    return finding
  end }

add { id = "R84", severity = "caution", each = "ground",
  says = "the level did not move: it reads the same on its benchmark before the posts and after", may_waive = "house",
  cite = "common practice, no source", caution = "every post is cut by a level that had moved",
  applies = function(ground) return given(ground, "back_to") ~= nil, "no reading goes back to a benchmark" end,
  nearest = function() return "set the level up again, and read the posts once more" end,
  check = function(ground)
    local most, name = host.fact "closing"
    return at_most(host.abs(ground.closed - ground.opened), bound(most, name))
  end }

local function lift(r, job)
  local f = at_most(r.heaviest_piece / job.crew, limit "lift_per_person")
  f.words = "for " .. r.heaviest_name .. ", " .. host.format(r.heaviest_piece) .. ", lifted by " .. job.crew
  return f
end

add { id = "R68", severity = "caution", each = "rack",
  says = "no piece is too heavy for those who lift it", may_waive = "house",
  cite = "the house's lifting limit", caution = "injury",
  nearest = function(r, job)
    local people = math.ceil(host.si(r.heaviest_piece) / host.si(lift(r, job).limit) - 1e-9)
    if people > schema.kinds.job.by.crew.max then
      return "no crew lifts it: in shorter pieces, or with a machine, which the waiver of R68 names as its reason"
    end
    return { { changes = { ["job.crew"] = people }, words = people .. " people lift it, job.crew = " .. people } }
  end,
  check = function(r, job) return against("lift_per_person", function() return lift(r, job) end) end }

add { id = "R73", severity = "stop", each = "rack",
  says = "what is raised keeps its distance from overhead lines", may_waive = "line owner",
  cite = "work safety; the line's owner may ask for more",
  caution = "an auger mast, a long post or a rail under a live line kills",
  nearest = function() return "move the array away from the line, or ask the line's owner, in writing" end,
  check = function(r)
    local distance = fact("overhead line", "overhead_line")
    if distance == "none" then return states(true, "no overhead line") end
    local _, clearance, cite = host.fact "overhead"
    local f = at_least(distance, bound(calc.overhead { height = r.tallest }.least, "what is raised, and " .. clearance,
        cite))
    f.words = "for " .. r.tallest_name
    return f
  end }

-- ---- completeness --------------------------------------------------------------------------------------------------

-- Without these, something that protects people cannot be judged at all.
local facts = { "latitude", "elevation", "coldest", "hottest_air", "wind", "exposure", "risk_category", "snow",
    "frost", "soil" }

-- Without these there is nothing to build: kinds of which one must be there.
local things = { { "rack", says = "no rack is declared" }, { "strings", says = "no strings are declared" },
    { "inverter", "charge_controller", says = "no inverter and no charge controller is declared" },
    { "module", says = "no module is listed in a parts file", who = "seller of the modules",
      tool = "their data sheet" } }

local function want(kinds)
  for _, kind in ipairs(kinds) do if #record.all(kind) > 0 then return end end
  missing(kinds[1], kinds.says, kinds.who or "designer", kinds.tool or "the design")
end

-- What is asked of each of a kind, whether strings feed it yet or not.
local of_each = { { "inverter", "max_voltage" }, { "charge_controller", "max_voltage" },
    { "charge_controller", "max_output_current" }, { "charge_controller", "battery_voltage" } }

-- What a trench crosses is known, and lies along it.
local function crossings(trench)
  for c in record.each(trench.crosses) do
    if c.at > trench.length then
      missing(tostring(trench) .. ".crosses", "where the trench crosses '" .. c.what .. "' is not clear: at " ..
          host.format(c.at) .. " it has ended, at " .. host.format(trench.length), "designer", "a tape")
    end
  end
end

-- Two facts that cannot both be so: in words, or false.
local function coldest_and_hottest()
  local site = record.only "site"
  local coldest, hottest = site and given(site, "coldest"), site and given(site, "hottest_air")
  if coldest and hottest and coldest >= hottest then
    return "the coldest air, " .. host.format(coldest) .. ", is no colder than the hottest, " .. host.format(hottest)
  end
  local frost = site and given(site, "frost")
  if coldest and frost and host.si(frost) > 0 and coldest > host.literal "0degC" then
    return "the coldest air is " .. host.format(coldest) .. ", and the ground freezes " .. host.format(frost) ..
        " deep: is a minus missing?"
  end
  return false
end

-- What is to be asked, each a node of the job: whether a fact is there stays so, whatever it is.
local questions = { { name = "the day", find = function() return record.root.on and true end } }
local function ask(name, find) questions[#questions + 1] = { name = name, find = find } end

for _, name in ipairs(facts) do
  ask("whether there is " .. name, function() return fact_of("site", name) and true end)
end
ask("whether there is a datum", function()
  local ground = record.root.ground
  return given(ground, "back_to") and true or ground.datum and true
end)
ask("whether there is an authority", function() return authorities() and true end)
for _, kinds in ipairs(things) do ask("whether there is " .. kinds[1], function() want(kinds) end) end
local both = { name = "coldest and hottest", find = coldest_and_hottest }

add { id = "R72", severity = "stop", says = "the facts of the site are complete, and there is something to build",
  cite = "common practice, no source", caution = "what depends on a missing value is withheld",
  check = function(_, job)
    local root, list = record.inside[job], {}
    for i, question in ipairs(questions) do list[i] = function() return memo.value(root, question) and nil end end
    for _, of in ipairs(of_each) do
      for _, box in ipairs(record.all(of[1])) do list[#list + 1] = function() return box[of[2]] and nil end end
    end
    for _, trench in ipairs(record.all "trench") do list[#list + 1] = function() crossings(trench) end end
    list[#list + 1] = function()
      local site = record.only "site"
      if not site or not given(site, "soil") then return nil end
      local field, declared, presumed = import("structure.soil").unreported(job)
      if field then
        local show = import("write.words").show
        missing("site.soil.report", "site.soil." .. field .. " is " .. show(declared) .. " where the code presumes " ..
            show(presumed) .. ", and no report is declared that says so", "engineer", "a report on the soil")
      end
    end
    list[#list + 1] = function()
      local clash = memo.value(root, both)
      return clash and states(false, clash) or nil
    end
    list[#list + 1] = states(true, "the facts of the site are given, each with its unit; a rack, strings and what " ..
        "they feed are declared")
    return every(list)
  end }

-- Whether the edition's maps have other values than those before: ground snow for each risk category, at strength
-- level.
local function newer_maps(job)
  local edition = given(job.codes, "loads")
  local row = edition and host.table_row("snow_level", "level", "strength")
  return row ~= nil and row.known[edition] ~= nil
end

add { id = "R89", severity = "stop", each = "site", may_waive = "nobody",
  says = "wind speed and ground snow are from the maps of the load standard", cite = "{snow_ground}",
  caution = "snow of the older maps is too little in the newer edition's combinations",
  applies = function(site, job)
    local asks = newer_maps(job) or given(site, "maps") ~= nil
    return asks, not asks and "nothing is said of other maps than those of its load standard" or nil
  end,
  check = function(site, job)
    local maps = site.maps
    return states(maps == job.codes.loads, "they are from the maps of " .. maps .. ", and loads are combined by " ..
        job.codes.loads)
  end }
