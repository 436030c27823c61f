#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- The register of what no rule judges, subject by subject: tests/register.lua BINARY, from the top folder.
--
-- On the egg farm, with papers of the test's own: a paper that names what the register wants for a subject covers it;
-- one that leaves out any of that does not; without a paper the subject is unknown; and what breaks it grossly fails
-- the job with the paper in place, whether a paper must answer for the subject or a rule judges it by now.  The
-- example's own papers must do as much.
package.path = arg[0]:gsub("[^/]*$", "") .. "?.lua"
local lanes = require "lanes"
lanes.options("tests/register.lua BINARY")
local register = dofile "stdlib/job/register.lua"

-- From the issue: what no declared input reaches, by name.
local BEYOND = "flood and scour, ac side"
-- From the issue: the words, in its order; clamps, which were judged with modules, have a word of their own since these
-- have a rule; the twist of a rack on one station was asked for by who read the plans of one.
local WORDS = "rails, rafters, posts, joints, modules, clamps, seismic, flood and scour, P-delta, twist, " ..
    "disconnects, ground and arc fault, electrodes and bonding, labels, ac side, rack wiring, electrical code"

-- What the egg farm's script says of each input, and of those that stand at their default another value.
local HERE = {
  ["site.wind"] = "105mph", ["site.exposure"] = '"C"', ["site.risk_category"] = '"I"', ["site.snow"] = "10psf",
  ["site.soil.class"] = '"clay"', ["site.coldest"] = "-16degC", ["site.hottest_air"] = "36degC",
  ["rack.modules"] = '"M430"', ["rack.rows"] = "2", ["rack.columns"] = "4", ["rack.orientation"] = '"portrait"',
  ["rack.column_gap"] = "20mm", ["rack.row_gap"] = "20mm", ["rack.end_allowance"] = "1.25in",
  ["rack.tilt"] = "35deg", ["rack.tallest_post"] = "80in", ["rack.saddle"] = "0.25in", ["rack.stations"] = "3",
  ["rack.spacing"] = "72.5in",
  ["rack.post_lines.front"] = "20%", ["rack.post_lines.back"] = "80%", ["rack.rails.size"] = '"2x4"',
  ["rack.rails.grade"] = '"No.1"', ["rack.rails.face"] = '"edge"', ["rack.rails.lines"] = "4",
  ["rack.rafter"] = '"2x8"',
  ["rack.posts.size"] = '"6x6"', ["rack.mid_clamp"] = '"MC-28-40"', ["rack.end_clamp"] = '"EC-30"',
  ["charge_controller.battery_voltage"] = "51.2V", ["charge_controller.max_output_current"] = "70A",
  ["charge_controller.fuse"] = "100A", ["strings.series"] = "4", ["strings.parallel"] = "2",
  ["strings.combined_at"] = '"array"', ["run.wire"] = '"6 AWG"', ["run.insulation"] = '"THWN-2"',
  ["run.conductor"] = '"copper"', ["run.conduit.kind"] = '"PVC 40"', ["run.conduit.size"] = '"1 in"',
  ["run.dc_stops_at"] = '"outside wall"', ["trench.cover"] = "18in",
}
-- What the egg farm has none of: tests/pages/papers.case tries it, but for with_modules, moment_head, unlike_posts,
-- rafter_section, end_bay_splices, expansion_joints, driven_depth and the block's three measures.
local ELSEWHERE = {}
for _, path in ipairs { "run.ground", "run.overcurrent",
    "inverter.max_voltage", "inverter.backfeed", "rack.widest_lines", "rack.widest_bay",
    "rack.steepest_tilt", "rack.flattest_tilt", "rack.row_per_brace", "rack.rafters.count", "rack.rafters.spacing",
    "rack.set_in", "rack.row_slope", "rack.stack", "rack.rafter_section.grade", "rack.rafter_section.area",
    "rack.rafter_section.inertia", "rack.rafter_on", "rack.beam", "rack.beam_on", "rack.widest_end",
    "rack.with_modules",
    "rack.rafters.length", "rack.braces", "rack.rails.part", "rack.rails.at", "rack.rails.joints",
    "rack.rails.splice_zone.from", "rack.rails.splice_zone.to", "rack.rails.end_bay_splices",
    "rack.rails.expansion_joints", "rack.posts.part", "rack.posts.moment_head", "rack.unlike_posts", "footing.kind",
    "footing.foot",
    "footing.shaft", "footing.screw_length", "footing.driven_depth",
    "footing.block_length", "footing.block_width", "footing.block_height" } do ELSEWHERE[path] = true end

local OTHER = { ["site.topography"] = "1.5", ["site.sheltering"] = "sheltered", ["rack.under"] = "blocked",
  ["trench.under"] = "street or parking",
  ["rack.rails.species"] = "hem-fir", ["rack.rafter_species"] = "redwood", ["rack.posts.species"] = "western cedars",
  ["rack.rafter_grade"] = "No.1", ["rack.posts.grade"] = "No.1" }

-- From the statics of a rack and from the code's articles on arrays: what no paper for a subject may leave open.
local MUST = {
  { "disconnects ground_and_arc_fault electrodes_and_bonding labels", "inverter.max_voltage inverter.backfeed" },
  { "rails rafters posts joints modules clamps P-delta seismic", "site.wind site.exposure site.snow rack.modules " ..
      "rack.rows rack.columns rack.orientation rack.tilt" },
  { "rails rafters posts joints P-delta seismic", "rack.stations rack.spacing rack.post_lines.front " ..
      "rack.post_lines.back" },
  { "rails", "rack.rails.size rack.rails.species rack.rails.grade rack.rails.face rack.rails.lines " ..
      "rack.end_allowance" },
  { "rafters joints", "rack.rafter rack.rafter_species rack.rafter_grade rack.rails.lines" },
  { "posts P-delta seismic", "rack.posts.size rack.posts.species rack.posts.grade rack.tallest_post site.soil.class" },
  { "modules clamps", "rack.mid_clamp rack.end_clamp rack.rails.lines" },
  { "disconnects ground_and_arc_fault electrodes_and_bonding labels rack_wiring", "strings.series strings.parallel " ..
      "rack.modules site.coldest" },
  { "disconnects electrodes_and_bonding", "charge_controller.battery_voltage charge_controller.max_output_current " ..
      "charge_controller.fuse" },
  { "rack_wiring", "rack.rows rack.columns site.hottest_air strings.combined_at" },
}

-- What rules judge of all that stands in holes, as this job does; of other footings nobody does (R98).
local IN_HOLES = { ["P-delta"] = true }
-- What a rack on several stations, as this job's, has none of; what a job has none of whose code is kept.
local ON_ONE, OF_OTHER_CODE = { ["twist"] = true }, { ["electrical code"] = true }
local function absent(word) return IN_HOLES[word] or ON_ONE[word] or OF_OTHER_CODE[word] end

local passed, failed = 0, 0
local function check(good, what, text)
  if good then passed = passed + 1 return end
  failed = failed + 1
  print("not ok " .. what .. (text and "\n" .. text:gsub("[^\n]+", "    %0") or ""))
end

-- ---- scripts -------------------------------------------------------------------------------------------------------

-- made_for out of paths: site = { wind = 105mph, soil = { class = "clay" } }, ...
local function tree(paths)
  local top = {}
  for _, path in ipairs(paths) do
    local at = top
    for key, rest in path:gmatch "([^.]+)(%.?)" do
      if not at[key] then at[key] = rest == "" and HERE[path] or {}; at[#at + 1] = key end
      at = at[key]
    end
  end
  local function written(t)
    local parts = {}
    for i, key in ipairs(t) do
      parts[i] = key .. " = " .. (type(t[key]) == "table" and "{ " .. written(t[key]) .. " }" or t[key])
    end
    return table.concat(parts, ", ")
  end
  return written(top)
end

local function paper(kind, name, subjects, needs)
  local words = {}
  for i, s in ipairs(subjects) do words[i] = '"' .. s[1] .. '"' end
  return ('\n%s "%s" { licence = "L-1", state = "TN", paper = "P-1", dated = "2026-10-01",\n  covers = { %s },\n' ..
      "  made_for = { %s } }\n"):format(kind, name, table.concat(words, ", "), tree(needs))
end

local folder = lanes.folder .. "/farm"
lanes.copy({ "examples/egg-farm" }, folder)
local example = assert(lanes.read "examples/egg-farm/job.sline")
local unpapered = example:gsub('\nengineer "[^"]*" %b{}', ""):gsub('\nelectrician "[^"]*" %b{}', "")
-- Without its joints, too, of which a paper must then answer; with them rules judge these.
local bare = unpapered:gsub('\njoint "[^"]*" %b{}', "")
check(bare ~= unpapered, "the example has joints")
check(not bare:find "\nengineer" and not bare:find "\nelectrician" and bare ~= example, "the example has both papers")

local runs = {}
local function run(script, set, expects)
  local name = "job" .. #runs + 1 .. ".sline"
  lanes.write(folder .. "/" .. name, script)
  runs[#runs + 1] = { command = "stringline check " .. name .. (set and " --set " .. lanes.quoted(set) or ""),
      folder = folder, join = true, expects = expects }
end

-- What R74 says of a subject, the blanks as one each; nil if nothing. "the same of rafters, posts and joints" has the
-- reason of the subject in front of it.
local function said(out, word)
  local flat = out:gsub("%s+", " ")
  local list = flat:match "UNKNOWN R74:(.-) rule: "
  if not list then return nil end
  local plain = word:gsub("%p", "%%%0")
  local own = (" " .. list):match("[ )]" .. plain .. ": (.-)ask:")
  if own then return own end
  for reason, names in list:gmatch ": (.-) the same of (.-) ask:" do
    if (" " .. names .. " "):find("[ ]" .. plain .. "[ ,]") then return reason end
  end
end

-- ---- all -----------------------------------------------------------------------------------------------------------

local function set_of(gross)
  return (gross:gsub("^rack%.", "rack.east."):gsub("^charge_controller%.", "charge_controller.shed."):gsub(" = ", "="))
end

local everything = {}
for path in pairs(HERE) do everything[#everything + 1] = path end
table.sort(everything)

local words, beyond = {}, {}
for i, subject in ipairs(register) do
  words[i] = subject[1]
  if subject.reach then beyond[#beyond + 1] = subject[1] end
end
check(table.concat(words, ", ") == WORDS, "the words of the register: " .. table.concat(words, ", "))
check(table.concat(beyond, ", ") == BEYOND, "what no declared input reaches: " .. table.concat(beyond, ", "))

local needed = {}
for _, subject in ipairs(register) do
  for _, path in ipairs(subject.needs) do needed[subject[1] .. " " .. path] = true end
end
for _, must in ipairs(MUST) do
  for word in must[1]:gmatch "%S+" do
    word = word:gsub("_", " ")
    for path in must[2]:gmatch "%S+" do check(needed[word .. " " .. path], word .. " needs no " .. path) end
  end
end

for i, subject in ipairs(register) do
  local word, others, needs, defaults = subject[1], {}, {}, {}
  for j, other in ipairs(register) do if j ~= i then others[#others + 1] = other end end
  for _, path in ipairs(subject.needs) do
    if OTHER[path] then defaults[#defaults + 1] = path
    elseif HERE[path] then needs[#needs + 1] = path
    elseif ELSEWHERE[path] then
      local kind, group, field = path:match "^([%a_]+)%.(.-)%.?([%a_]+)$"
      local own = bare:match(kind .. ' "[^"]*" (%b{})') or ""
      if group ~= "" then own = own:match(group:match "^[%a_]+" .. "%s*= (%b{})") or "" end
      check(not own:find("%f[%a_]" .. field .. "%s*="), path .. " is of this job too")
    else check(false, word .. ": the test knows no value of " .. path) end
  end
  if subject.reach then needs = { "site.wind" } end
  local script = bare .. paper("engineer", "All", others, everything)
  local function own(paths, kind) return script .. paper(kind or subject.who, "One", { subject }, paths) end

  for _, kind in ipairs(subject.who == "electrician" and { "electrician", "engineer" } or { "engineer" }) do
    run(own(needs, kind), nil, function(r)
      check(r.status == 0, word .. ": covered by an " .. kind .. "'s paper", r.out)
    end)
  end
  if not subject.judged and not absent(word) then
    run(script, nil, function(r)
      check(r.status == 1 and (said(r.out, word) or ""):find "no paper covers it", word .. ": without a paper", r.out)
    end)
    for j, path in ipairs(needs) do
      local rest = table.move(needs, 1, #needs, 1, {})
      table.remove(rest, j)
      if #rest > 0 then
        run(own(rest), nil, function(r)
          check(r.status == 1 and (said(r.out, word) or ""):find("does not say for which " .. path .. " it", 1, true),
              word .. ": a paper that does not name " .. path, r.out)
        end)
      end
    end
    for _, path in ipairs(defaults) do
      run(own(needs), set_of(path .. " = " .. OTHER[path]), function(r)
        check(r.status == 1 and (said(r.out, word) or ""):find("does not say for which " .. path .. " it", 1, true),
            word .. ": a job with another " .. path .. " than a paper that does not name it", r.out)
      end)
    end
  end
  for _, s in ipairs((ON_ONE[word] or OF_OTHER_CODE[word]) and {} or subject.gross and { own(needs), example } or {}) do
    run(s, set_of(subject.gross), function(r)
      local named = said(r.out, word)
      for id in (subject.judged or subject.by or ""):gmatch "%w+" do
        named = named or r.out:find("BROKEN " .. id .. ":", 1, true) or r.out:find("UNKNOWN " .. id .. ":", 1, true)
      end
      check(r.status == 1 and named, word .. ": broken grossly by " .. subject.gross .. (s == example and
          ", with the example's papers" or ""), r.out)
    end)
  end
end
-- What rules judge where it is declared is on no list there: joints with those of the example, clamps with what they
-- hold.
local with = { joints = unpapered:gsub('\nelectrician "[^"]*" %b{}', "") }
lanes.write(folder .. "/parts/holds.csv", "clamp,role,least_frame,most_frame,hold,hold_level\n" ..
    "MC-28-40,mid,28 mm,40 mm,450 lbf,allowable\nEC-30,end,30 mm,30 mm,400 lbf,allowable\n")
with.clamps = bare:gsub("parts/clamps", "parts/holds")
for word, script in pairs(with) do
  local others, own = {}, nil
  for _, s in ipairs(register) do if s[1] == word then own = s else others[#others + 1] = s end end
  script = script .. paper("engineer", "All", others, everything)
  run(script, nil, function(r)
    check(r.status == 0 and not said(r.out, word), word .. ": judged by " .. own.by .. ", and no paper covers it",
        r.out)
  end)
  run(script, set_of(own.gross), function(r)
    local named
    for id in own.by:gmatch "%w+" do named = named or r.out:find("BROKEN " .. id .. ":", 1, true) end
    check(r.status == 1 and named, word .. ": broken grossly by " .. own.gross .. " where rules judge it", r.out)
  end)
end
run(example, nil, function(r) check(r.status == 0, "the example with its own papers", r.out) end)
run(bare, nil, function(r) check(r.status == 1, "the example without papers", r.out) end)
-- The same rack on one pair of posts, with what its paper then says.
local single, one_station = bare:gsub("stations = 3,  spacing = 72.5in", "stations = 1")
single = single:gsub('front = { "F1", "F2", "F3" },  back = { "B1", "B2", "B3" }', 'front = { "F1" }, back = { "B1" }')
check(one_station == 1, "the example's rack has three stations")
for _, subject in ipairs(register) do
  local word, needs = subject[1], {}
  if ON_ONE[word] then
    -- One station is no distance from another.
    for _, path in ipairs(subject.needs) do
      if HERE[path] and path ~= "rack.spacing" then needs[#needs + 1] = path end
    end
    local function covered(paths)
      return single .. (paper("engineer", "One", { subject }, paths):gsub("stations = 3", "stations = 1"))
    end
    run(bare, nil, function(r) check(not said(r.out, word), word .. ": none of it on three stations", r.out) end)
    run(single, nil, function(r)
      check(r.status == 1 and (said(r.out, word) or ""):find "no paper covers it", word .. ": without a paper", r.out)
    end)
    run(covered(needs), nil, function(r) check(not said(r.out, word), word .. ": covered by a paper", r.out) end)
    for j, path in ipairs(needs) do
      local rest = table.move(needs, 1, #needs, 1, {})
      table.remove(rest, j)
      run(covered(rest), nil, function(r)
        check(r.status == 1 and (said(r.out, word) or ""):find("does not say for which " .. path .. " it", 1, true),
            word .. ": a paper that does not name " .. path, r.out)
      end)
    end
    run(covered(needs), set_of(subject.gross), function(r)
      check(r.status == 1 and said(r.out, word), word .. ": broken grossly by " .. subject.gross, r.out)
    end)
  end
end
-- The same job under a code of which nothing is kept: the rules that want rows of it are unknown, and while a paper
-- covers that they are not asked, and the subject is told as covered by it; what the paper was not made for is asked.
local other = bare:gsub('electrical = "NEC %d+"', 'electrical = no_data("AS/NZS 3000")')
check(other ~= bare, "the example names an electrical code")
for i, subject in ipairs(register) do
  if OF_OTHER_CODE[subject[1]] then
    local others, needs = {}, {}
    for j, s in ipairs(register) do if j ~= i then others[#others + 1] = s end end
    for _, path in ipairs(subject.needs) do if HERE[path] then needs[#needs + 1] = path end end
    local rest = other .. paper("engineer", "All", others, everything)
    run(rest, nil, function(r)
      check(r.status == 1 and (said(r.out, subject[1]) or ""):find "no paper covers it" and
          r.out:find("UNKNOWN R46:", 1, true), subject[1] .. ": without a paper", r.out)
    end)
    local covered = rest .. paper("electrician", "One", { subject }, needs)
    run(covered, nil, function(r)
      check(r.status == 0 and r.out:find "electrical code: by paper of%s+electrician One", subject[1] .. ": covered",
          r.out)
    end)
    for _, gross in ipairs { subject.gross, "run['array to shed'].wire = 10 AWG", "trench.main.cover = 6in" } do
      run(covered, set_of(gross), function(r)
        check(r.status == 1 and said(r.out, subject[1]) and r.out:find("UNKNOWN R4%d:"),
            subject[1] .. ": broken grossly by " .. gross, r.out)
      end)
    end
  end
end
local driven = bare:gsub('(footing "deep") %b{}', '%1 { kind = "driven", driven_depth = 60in }')
check(driven ~= bare, "the example has holes")
run(driven, "job.stage=quote", function(r)
  for word in pairs(IN_HOLES) do
    check(r.out:find("[ ] " .. word .. ": no rule judges it", 1, true), word .. ": listed of driven posts", r.out)
  end
end)
run(bare, "job.stage=quote", function(r)
  check(r.status == 0, "at quote what nobody covers is listed", r.out)
  for _, subject in ipairs(register) do
    check(subject.judged or absent(subject[1]) or
        r.out:find("[ ] " .. subject[1] .. ": no rule judges it", 1, true), subject[1] .. ": listed at quote", r.out)
  end
end)

lanes.run(runs)
for _, r in ipairs(runs) do r.expects(r) end
print(("register: %d passed, %d failed"):format(passed, failed))
lanes.leave(failed == 0 and 0 or 1)
