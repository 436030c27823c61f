-- SPDX-License-Identifier: MIT
-- Sweeps judged three ways, each in a state of its own: as the walk goes, with what a step does not reach kept; the
-- same variants shuffled, as one who resumes finds them; and each declared anew, with nothing kept.  A variant's row
-- must be the same to the last bit.  reuse_test [whole | sample [WORDS]]: so many variants of each sweep; WORDS: only
-- sweeps that have them in their names.
package.path = "tests/?.lua;" .. package.path
local jobs = require "jobs"
local MOST = { sample = 40, whole = 240 }
local most, only = MOST[arg[1] or "sample"] or error("no part " .. arg[1]), arg[2]

local sweeps = {
  { "the egg farm before anybody signs", script = "examples/egg-farm/choose.sline", set = { "job.stage=quote" } },
  { "results of its own, by functions", script = "tests/whatif/walnut-yard/job.sline", set = { "job.stage=quote" },
    vary = { "site.frost=20in, 24in", "rack.lower.lower_edge=28in, 34in", "footing.pier.hole_depth=60in, 84in",
             "footing.pier.hole_diameter=16in, 24in", "trench.yard.cover=20in, 24in", "nearest.lot_line=41ft, 20ft",
             "site.wind=70mph, 107mph" } },
  { "two racks by a type", script = "examples/wool-store/job.sline" },
  { "the egg farm signed, its weather and its limits", script = "examples/egg-farm/job.sline",
    vary = { "site.wind=90mph to 130mph by 5mph", "limits.lift_per_person=40lb, 60lb", "site.coldest=-25degC, -10degC",
             "rack.east.columns=3, 5, 6", "alternate=six in series", "strings.series=2, 3, 4, 5" } },
  { "a literal of a house file, a type, two racks moved together", script = "tests/pages/jobs/hay-barn/job.sline",
    vary = { "rack.west.lower_edge + rack.east.lower_edge=30in, 36in, 44in", "site.snow=15psf to 40psf by 5psf",
             "sandbur-crew.sline:16:64=2ft, 5ft", "footing.pier.gravel=4in, 8in",
             "rack_type.twelve.tilt=20deg, 25deg, 35deg", "alternate=heavier wire" } },
  { "out of a house's kit: types of types, templates, a footing that nothing used before",
    script = "tests/whatif/quince-terrace/job.sline",
    vary = { "rack_type.kit.tilt=20deg, 40deg", "run_type['home run'].wire=8 AWG, 6 AWG", "rack.upper.lower_edge=32in",
             "rack.upper.posts.footing=wide pier, stub", "footing.pier.gravel=4in", "strings.upper.series=3",
             "site.soil.class=sandy gravel", "site.soil.lateral=200psf/ft" } },
  { "south of the equator, with an order and a truck", script = "tests/pages/jobs/southern/job.sline",
    vary = { "rack.paddock.tilt=20deg to 45deg by 2.5deg", "footing.hole.hole_diameter=350mm, 400mm, 600mm",
             "rack.paddock.modules=M430", "truck.volume=1.5m3, 3m3", "strings.series=4, 6" } },
  { "two columns, which only closer posts can carry", script = "examples/egg-farm/job.sline",
    vary = { "job.sline:36:43=2, 3", "rack.east.spacing=30in, 40in, 50in", "site.wind=90mph, 120mph" } },
  { "drawn by lot", script = "examples/egg-farm/choose.sline", set = { "job.stage=quote" }, sample = 400, seed = 7,
    vary = { "rack.east.tilt=20deg to 45deg", "footing.deep.hole_depth=40in to 75in" } },
  { "three offices, a limit of one's own, and the day it begins", script = "tests/results/jobs/sedge-hut/job.sline",
    vary = { "limits['reed-mutual'].well_setback=10m, 40m, 45m", "limits.reach=2500mm, 2700mm",
             "job.on=2026-12-31, 2027-01-01", "rack.table.lower_edge=450mm, 700mm",
             "fen-limits.1.sline:5:23=300mm, 550mm" } },
  { "thirty racks in a loop", script = "tests/pages/jobs/large/job.sline", most = 12,
    keep = { "job.total", "rack['row 7'].top_edge" },
    vary = { "footing.pier.hole_depth=70in, 80in", "rack['row 7'].tilt=25deg, 35deg", "site.wind=95mph, 115mph" } },
}

local function shuffled(list, r)
  list = table.move(list, 1, #list, 1, {})
  for i = #list, 2, -1 do
    local k = r.whole(1, i)
    list[i], list[k] = list[k], list[i]
  end
  return list
end

local function asked(sweep, more)
  local input = { script = sweep.script, set = sweep.set, vary = sweep.vary, keep = sweep.keep or "all",
                  sample = sweep.sample, seed = sweep.seed }
  for k, v in pairs(more) do input[k] = v end
  local answer, err = in_host(sweep.script:match "^(.*)/", "tests/reuse_run.lua", input)
  if not answer then error(sweep[1] .. ": [" .. err.code .. "] " .. err.text, 0) end
  return answer
end

local function differs(one, other, numbers)
  for _, n in ipairs(numbers) do
    if one[n] ~= other[n] then return ("variant %d\n  %s\n  %s"):format(n, tostring(one[n]), tostring(other[n])) end
  end
end

local passed, failed = 0, 0
local function try(name, why)
  if why then
    failed = failed + 1
    print("not ok " .. name .. ": " .. why)
  else passed = passed + 1 end
end

for _, sweep in ipairs(sweeps) do
  if not only or sweep[1]:find(only, 1, true) then
    local kept = asked(sweep, { most = math.min(most, sweep.most or most) })
    local numbers, met = kept.numbers, {}
    local mixed = asked(sweep, { numbers = shuffled(numbers, jobs.chance(20261128)) })
    local apart = asked(sweep, { numbers = shuffled(numbers, jobs.chance(20261129)), apart = true })
    for _, n in ipairs(numbers) do
      local status = kept.rows[n]:match "^%a+"
      met[#met + 1], met[status] = not met[status] and status or nil, true
    end
    print(("%s: %d of %d variants, %d results of each: %s"):format(sweep[1], #numbers, kept.total, kept.kept,
        table.concat(met, ", ")))
    try(sweep[1] .. ": something to compare", (#numbers < 10 or not met[2]) and "too few, or all alike" or nil)
    try(sweep[1] .. ": kept, and declared anew", differs(kept.rows, apart.rows, numbers))
    try(sweep[1] .. ": in the walk's order, and shuffled", differs(kept.rows, mixed.rows, numbers))
  end
end
-- ---- what a row says ------------------------------------------------------------------------------------------------

-- A job of its own: what the egg farm has, and rules on each of its six posts.
local function row_with(rules, set, number, vary)
  local folder = os.tmpname()
  os.remove(folder)
  assert(os.execute("cp -R examples/egg-farm " .. folder))
  local file = assert(io.open(folder .. "/told.sline", "w"))
  file:write('use "job"\nvary { "rack.east.lower_edge", 24.5in }\n', rules)
  file:close()
  local answer, err = in_host(folder, "tests/reuse_run.lua", { script = folder .. "/told.sline", set = set or {},
      vary = { vary }, keep = { "rack.east.tilt" }, numbers = { number or 0 } })
  assert(os.execute("rm -r " .. folder))
  if not answer then error("[" .. err.code .. "] " .. err.text, 0) end
  return answer.rows[number or 0]
end

local function rule(id, severity, check, more)
  return ('rule { id = "%s", severity = "%s", each = "post", says = "a try", cite = "a try (invented)", ' ..
      'caution = "a try", %s check = function(post) return at_most(post.cut_length, %s) end }\n'):format(id, severity,
      more or "", check)
end

-- from hand: the rows that a page on stores promises; a post is longer than 1ft and shorter than 99ft; 35 deg as rad.
local tilt = ("%a"):format(math.rad(35))
-- of what nobody gave
local open_rule = 'rule { id = "J8", severity = "stop", each = "footing", says = "a try", ' ..
    'cite = "a try (invented)", caution = "a try", check = function(f) return at_most(f.bag_yield, 1ft3) end }\n'
local waiver = 'waive { "J8", reason = "a try", by = "J. Okafor", as = "house", on = "2026-11-01" }\n'
local broken = "broken | J8 | nil | 0 | nil | " .. tilt
for _, x in ipairs {
  { "as it is", "", "holds | nil | nil | 0 | nil | " .. tilt },
  { "a stop rule broken on six posts is one", rule("J8", "stop", "1ft"), broken },
  { "two, in the order of their numbers", rule("J9", "stop", "1ft") .. rule("J8", "stop", "1ft"),
    "broken | J8 J9 | nil | 0 | nil | " .. tilt },
  { "what is waived stops nothing", rule("J8", "stop", "1ft", 'may_waive = "house",') .. waiver,
    "holds | nil | nil | 0 | nil | " .. tilt },
  { "a caution rule broken on six posts is one", rule("J8", "caution", "1ft") .. rule("J9", "caution", "99ft"),
    "holds | nil | nil | 1 | nil | " .. tilt },
  { "a note is none of them", rule("J8", "note", "1ft"), "holds | nil | nil | 0 | nil | " .. tilt },
  { "a fact is missing", open_rule, "unknown | nil | J8 | 0 | nil | " .. tilt },
  { "a fact is missing at the quote", open_rule, "holds | nil | J8 | 0 | nil | " .. tilt, "job.stage=quote" },
  { "broken beats unknown", open_rule .. rule("J9", "stop", "1ft"), "broken | J9 | J8 | 0 | nil | " .. tilt },
} do
  local row = row_with(x[2], x[4] and { x[4] })
  try("a row: " .. x[1], row ~= x[3] and "\n  " .. x[3] .. "\n  " .. tostring(row) or nil)
end

-- Three names of posts for two pairs are no job.
local row = row_with("", nil, 1, "rack.east.stations=2")
try("a row: what cannot be declared is refused", not (row or ""):find "^refused | nil | nil | nil | .+ | nil$" and
    tostring(row) or nil)

-- A sample has a step of a continuous axis for each variant: what they put in is not all kept.
local many = asked({ "many", script = "examples/egg-farm/job.sline", keep = { "rack.east.tilt" }, sample = 5000,
    vary = { "rack.east.lower_edge=24in to 25in" } }, { most = 1500, made = true })
try("what steps put in does not pile up", (#many.numbers < 1400 or many.made > 1100) and
    ("%d variants, %d tables"):format(#many.numbers, many.made) or nil)

if arg[1] then print(("reuse: %d passed, %d failed"):format(passed, failed))
else print(("[  PASSED  ] %d test(s)."):format(passed)) end
if failed > 0 and not arg[1] then print(("[  FAILED  ] %d test(s)."):format(failed)) end
return failed == 0 and passed > 0 and 0 or 1
