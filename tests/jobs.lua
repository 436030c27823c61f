-- SPDX-License-Identifier: MIT
-- Random valid jobs, and smaller ones for a job that fails something: racks, runs, stages, units, hemispheres.
--
--   local jobs = dofile "tests/jobs.lua"
--   local job = jobs.make(17)                   the same for the same seed
--   jobs.files(job)                             { ["job.sline"] = "...", ["parts.csv"] = ... }
--   jobs.minimal(job, fails)                    the smallest job found for which fails(job) is still true
--
-- A job is a plain tree; `jobs.smaller` is the list of steps towards less, each a whole job of its own.
local jobs = {}

-- ---- chance --------------------------------------------------------------------------------------------------------

-- xorshift64* (Vigna 2016); the same on every machine.
local function chance(seed)
  local x = seed * 2685821657736338717 + 88172645463325252
  local r = {}
  function r.whole(from, to)
    x = x ~ (x >> 12)
    x = x ~ (x << 25)
    x = x ~ (x >> 27)
    local n = (x * 2685821657736338717) >> 11
    return from + n % (to - from + 1)
  end
  function r.of(list) return list[r.whole(1, #list)] end
  function r.yes(percent) return r.whole(1, 100) <= percent end
  for _ = 1, 8 do r.whole(0, 1) end
  return r
end
jobs.chance = chance

-- ---- making --------------------------------------------------------------------------------------------------------

local module = { length = 1722, width = 1134 }          -- mm, of the one in parts.csv

local function make_rack(r, n)
  local rack = { name = r.of { "east", "west", "upper", "far field", "garden", "by the barn" } .. " " .. n,
      rows = r.whole(1, 3), columns = r.whole(1, 9), orientation = r.of { "portrait", "landscape" },
      tilt = r.of { 5, 15, 20, 30, 35, 45, 60 }, azimuth = r.whole(0, 359), lower_edge = r.whole(20, 60),
      north = r.of { "true", "compass" }, rails = r.of { "2x4", "2x6" }, lines = r.whole(2, 6),
      rafter = r.of { "2x6", "2x8", "4x6" }, post = r.of { "4x4", "6x6" }, treatment = r.of { "UC4A", "UC4B" },
      pairs = r.whole(2, 5), footing = r.whole(1, 2), levels = {}, under = r.of { "open", "blocked" } }
  for i = 1, 10 do rack.levels[i] = r.whole(-8, 8) end
  rack.species = r.of { "southern pine", "hem-fir", "western cedars" }
  return rack
end

function jobs.make(seed)
  local r = chance(seed)
  local job = { seed = seed, stage = r.of { "quote", "permit", "build", "as built" }, units = r.of { "US", "SI" },
      written = r.of { "US", "SI" }, lengths = r.of { "decimal", "decimal", "feet and inches" },
      south = r.yes(40), latitude = r.whole(5, 62), dated = r.yes(80), codes = r.yes(85), crew = r.whole(1, 4),
      site = {}, footings = {}, racks = {}, sinks = {}, strings = {}, runs = {},
      place = r.yes(70), house = r.yes(70), prices = r.yes(70), nearest = r.yes(70), none = r.yes(70),
      locate = r.yes(70), ground = r.of { "measured", "told", "plain" } }
  for _, fact in ipairs { "elevation", "coldest", "hottest_air", "wind", "exposure", "risk_category", "snow",
      "snow_depth", "frost", "soil" } do
    job.site[fact] = r.yes(90) and r.whole(0, 100) or nil
  end
  for i = 1, 2 do
    job.footings[i] = { diameter = r.of { 12, 14, 16, 18, 24 }, depth = r.whole(24, 72), gravel = r.whole(0, 8),
        isolated = r.yes(50) }
  end
  for i = 1, r.whole(1, 3) do job.racks[i] = make_rack(r, i) end
  for i = 1, r.whole(1, 2) do
    job.sinks[i] = { inverter = r.yes(40), voltage = r.of { 150, 250, 500, 600 }, current = r.of { 30, 60, 100 },
        whole = r.yes(85) }
  end
  for i = 1, #job.racks do
    if r.yes(85) then
      local into = r.whole(1, #job.sinks)
      job.strings[#job.strings + 1] = { on = i, into = into, series = r.whole(1, 12), parallel = r.whole(1, 4),
          fuse = r.yes(30), at = r.of { "array", "inverter" } }
      if r.yes(75) then
        job.runs[#job.runs + 1] = { from = i, to = into, length = r.whole(10, 400), cover = r.whole(6, 36),
            wire = r.of { "10 AWG", "8 AWG", "6 AWG", "4 AWG", "2 AWG" }, insulation = r.of { "THWN-2", "XHHW-2" },
            metal = r.of { "copper", "copper", "aluminum" }, size = r.of { "3/4 in", "1 in", "1-1/2 in" },
            device = r.yes(50) }
      end
    end
  end
  return job
end

-- ---- writing -------------------------------------------------------------------------------------------------------

local function pick(list, n) return list[n % #list + 1] end

-- An amount in inches (and so on) in the units in which the job is written: the same amount in both.
local function written(job)
  local si = job.written == "SI"
  local w = {}
  function w.inches(n) return si and ("%.3fmm"):format(n * 25.4) or ("%.2fin"):format(n) end
  function w.feet(n) return si and ("%.4fm"):format(n * 0.3048) or ("%dft"):format(n) end
  function w.millimetres(n) return si and ("%dmm"):format(n) or ("%.15gin"):format(n / 25.4) end
  return w
end

local function site_text(job, w)
  local lines, s = {}, job.site
  local function put(name, value) lines[#lines + 1] = ("  %s = %s,"):format(name, value) end
  put("latitude", ('"%d.25 %s"'):format(job.latitude, job.south and "S" or "N"))
  put("longitude", '"85.50 W"')
  put("declination", '"4.0 W"')
  if s.elevation then put("elevation", w.feet(s.elevation * 60)) end
  if s.coldest then put("coldest", ("%ddegC"):format(-s.coldest // 3)) end
  if s.hottest_air then put("hottest_air", ("%ddegC"):format(25 + s.hottest_air // 5)) end
  if s.wind then put("wind", ('looked_up(%dmph, "county handout")'):format(85 + s.wind // 2)) end
  if s.exposure then put("exposure", ('"%s"'):format(pick({ "B", "C", "D" }, s.exposure))) end
  if s.risk_category then put("risk_category", ('"%s"'):format(pick({ "I", "II" }, s.risk_category))) end
  if s.snow then put("snow", ("%dpsf"):format(s.snow // 2)) end
  if s.snow_depth then put("snow_depth", w.inches(s.snow_depth // 4)) end
  if s.frost then put("frost", ('told(%s, "building office")'):format(w.inches(s.frost // 2))) end
  if s.soil then
    local class = pick({ "sandy gravel", "sand", "clay" }, s.soil)
    local report = s.soil > 75 and (', report = { by = "Thea Marchbanks", dated = "2026-09-14", ' ..
        "for_isolated_posts = %s }"):format(s.soil % 2 == 0) or ""
    put("soil", ('{ class = "%s"%s%s }'):format(class, s.soil % 3 > 0 and ", dry_to = 5ft" or "",
        s.soil > 50 and ", lateral = guess(100psf/ft)" .. report or ""))
  end
  return "site {\n" .. table.concat(lines, "\n") .. "\n}\n"
end

-- Modules stand as they do, so many beside each other; the posts keep within them.
local function spacing(rack)
  local across = rack.orientation == "portrait" and module.width or module.length
  local width = rack.columns * across + (rack.columns - 1) * 20
  local pairs_wanted = math.max(rack.pairs, math.ceil(width * 0.9 / 9000) + 1)
  return pairs_wanted, width * 0.9 / (pairs_wanted - 1)
end

-- Posts in each line of a rack.
function jobs.stations(rack) return (spacing(rack)) end

-- The auger, in inches: the one drawn, or the widest with which no two posts of its racks stand in one hole.
local function auger(job, i)
  local least = math.huge
  for _, rack in ipairs(job.racks) do
    if rack.footing == i then
      local _, apart = spacing(rack)
      local up = rack.orientation == "portrait" and module.length or module.width
      local rows = math.min(rack.rows, rack.columns)      -- a property makes them equal
      local slope = rows * up + (rows - 1) * 20
      least = math.min(least, math.floor(apart), 0.6 * slope * math.cos(math.rad(rack.tilt)))
    end
  end
  for _, d in ipairs { job.footings[i].diameter, 18, 16, 14, 12, 10, 8, 6, 4 } do
    if d <= job.footings[i].diameter and d * 25.4 < 0.9 * least then return d end
  end
  return 2
end

local function stations(k, pairs_wanted)
  local front, back = {}, {}
  for i = 1, pairs_wanted do front[i], back[i] = "F" .. k .. i, "B" .. k .. i end
  return front, back
end

local function quoted(list)
  local out = {}
  for i, x in ipairs(list) do out[i] = ('"%s"'):format(x) end
  return table.concat(out, ", ")
end

-- Where a rack stands: the second beside the first, the third behind it; job.moved: { east, north } in inches.
local function place_text(job, k, w)
  if k == 1 then
    return job.moved and ("corner = { %s, %s },"):format(w.inches(job.moved[1]), w.inches(job.moved[2])) or ""
  end
  return k == 2 and ('beside = "%s",  aisle = %s,'):format(job.racks[1].name, w.inches(97)) or
      ('behind = "%s",  gap = %s,'):format(job.racks[1].name, w.inches(119))
end

-- Ground of the posts of a rack, west to east, in inches above the datum; job.mirrored: east to west.
local function ground_of(job, k, rack, n)
  local front, back = {}, {}
  for i = 1, n do
    local at = job.mirrored and n + 1 - i or i
    front[at] = k == 1 and i == 1 and 0 or rack.levels[i % 10 + 1]
    back[at] = rack.levels[(i + 5) % 10 + 1]
  end
  return front, back
end

-- The same back to a benchmark: job.peg is how far above the datum a peg stands, from which the racks are counted.
local function ground_by_benchmark(job, racks, w)
  local function rods(heights)
    local out = {}
    for i, h in ipairs(heights) do out[i] = w.inches(60 - h) end
    return "{ " .. table.concat(out, ", ") .. " }"
  end
  local list = {}
  for i, r in ipairs(racks) do
    list[i] = ('["%s"] = { F = %s, B = %s }'):format(r.name, rods(r.front), rods(r.back))
  end
  return ('benchmark "mark" { elevation = %s }\nbenchmark "peg" { elevation = %s }\n' ..
      'ground { back_to = "mark", opened = %s, closed = %s, rod = {\n  %s } }\n'):format(w.inches(4000),
      w.inches(4000 + job.peg), w.inches(60), w.inches(60), table.concat(list, ",\n  "))
end

local function racks_text(job, w)
  local out, levels, racks = {}, {}, {}
  local datum = "F11"
  for k, rack in ipairs(job.racks) do
    local n, apart = spacing(rack)
    local front, back = stations(k, n)
    local F, B = ground_of(job, k, rack, n)
    racks[k] = { name = rack.name, front = F, back = B }
    if k == 1 and job.mirrored then datum = front[n] end
    for i = 1, n do
      levels[#levels + 1] = ("%s = %s"):format(front[i], w.inches(F[i]))
      levels[#levels + 1] = ("%s = %s"):format(back[i], w.inches(B[i]))
    end
    out[#out + 1] = ([[
rack "%s" { %s
  modules = "M430",  rows = %d,  columns = %d,  orientation = "%s",
  column_gap = 20mm,  row_gap = 20mm,  end_allowance = %s,
  mid_clamp = "MC-28-40",  end_clamp = "EC-30",
  tilt = %ddeg,  azimuth = %ddeg,  north = "%s",  lower_edge = %s,  under = "%s",
  rails = { size = "%s", face = "edge", lines = %d },  rafter = "%s",  saddle = %s,
  post_lines = { front = 20%%, back = 80%% },  stations = %d,  spacing = %s,
  posts = { size = "%s", species = "%s", treatment = "%s", footing = "f%d", front = { %s }, back = { %s } },
}
]]):format(rack.name, place_text(job, k, w) .. (job.peg and '  above = "peg",' or ""), rack.rows, rack.columns,
        rack.orientation, w.inches(1.25), rack.tilt, (rack.azimuth + (job.turned or 0)) % 360, rack.north,
        w.inches(rack.lower_edge), rack.under, rack.rails, rack.lines, rack.rafter, w.inches(0.25), n,
        w.millimetres(math.floor(apart)), rack.post, rack.species, rack.treatment, rack.footing, quoted(front),
        quoted(back))
  end
  if job.peg then return ground_by_benchmark(job, racks, w) .. table.concat(out) end
  local map = "{ " .. table.concat(levels, ", ") .. " }"
  local ground = job.ground == "measured" and ('measured(%s, "water level")'):format(map) or
      job.ground == "told" and ('told(%s, "owner")'):format(map) or map
  return ('ground { datum = "%s", elevation = %s }\n'):format(datum, ground) .. table.concat(out)
end

local function sink(job, i) return (job.sinks[i].inverter and "shop " or "shed ") .. i end

local function circuit_text(job, w)
  local out = {}
  for i, s in ipairs(job.sinks) do
    local rest = ""
    if s.inverter then
      if s.whole then rest = ("least_voltage = 60V, start_voltage = 80V, backfeed = 0A, usable_current = %dA, ")
          :format(s.current) .. ("max_short_circuit = %dA, "):format(s.current + 20) end
      out[#out + 1] = ('inverter "%s" { max_voltage = %dV, %s}\n'):format(sink(job, i), s.voltage, rest)
    else
      if s.whole then rest = ("max_short_circuit = %dA, backfeed = 0A, charge_voltage = 57.6V, "):format(s.current) ..
          "start_above_battery = 5V, fuse = 150A, " end
      out[#out + 1] = ('charge_controller "%s" { max_voltage = %dV, max_output_current = %dA, ' ..
          'battery_voltage = 51.2V, %s}\n'):format(sink(job, i), s.voltage, s.current, rest)
    end
  end
  for i, s in ipairs(job.strings) do
    out[#out + 1] = ('strings "S%d" { on = "%s", series = %d, parallel = %d, into = "%s", combined_at = "%s"%s }\n')
        :format(i, job.racks[s.on].name, s.series, s.parallel, sink(job, s.into), s.at,
        s.fuse and ", fuse = 25A, fuse_voltage = 1000V" or "")
  end
  for i, r in ipairs(job.runs) do
    out[#out + 1] = ('trench "T%d" { length = %s, cover = %s, tape_above_conduit = %s, crosses = {} }\n')
        :format(i, w.feet(r.length), w.inches(r.cover), w.inches(r.cover // 2))
    out[#out + 1] = ([[
run "R%d" {
  from = "%s",  to = "%s",  through = "T%d",  stub_up = %s,  along_wall = %s,  make_up_each_end = %s,
  dc_stops_at = "outside wall",  wire = "%s",  insulation = "%s",  conductor = "%s"%s,
  conduit = { kind = "PVC 40", size = "%s", bends = { 90deg, 90deg } },
}
]]):format(i, job.racks[r.from].name, sink(job, r.to), i, w.feet(3), w.feet(8), w.feet(3), r.wire, r.insulation,
        r.metal, r.device and ",  overcurrent = 45A,  overcurrent_voltage = 600V" or "", r.size)
  end
  return table.concat(out)
end

local files = {
  ["clamps.csv"] = "clamp,role,least_frame,most_frame\nMC-28-40,mid,28 mm,40 mm\nEC-30,end,30 mm,30 mm\n",
  ["modules.csv"] = "module,length,width,frame,mass,power,voc,vmp,isc,imp,voc_coefficient,vmp_coefficient,max_fuse," ..
      "max_voltage,clamp_zone_least,clamp_zone_most,short_zone_least,short_zone_most,front_load,back_load," ..
      "load_level\n" ..
      "M430,1722 mm,1134 mm,30 mm,21.5 kg,430 W,39.2 V,32.8 V,13.90 A,13.11 A,-0.25 %/K,-0.30 %/K,25 A," ..
      "1500 V,300 mm,450 mm,150 mm,300 mm,5400 Pa,3600 Pa,test\n",
  ["prices.csv"] = "item,length,price,vendor,priced_on\n6x6 UC4B,12 ft,$46,Yard,2026-10-20\n" ..
      "6x6 UC4B,16 ft,$71,Yard,2026-10-20\n4x4 UC4B,12 ft,$24,Yard,2026-10-20\n2x4,16 ft,$12.40,Yard,2026-10-20\n" ..
      "2x6,16 ft,$15.10,Yard,2026-10-20\n2x8,12 ft,$19.80,Yard,2026-10-20\nconcrete 80 lb,,$6.40,Yard,2026-10-20\n" ..
      "6 AWG THWN-2 copper,250 ft,$1.05/ft,Barn,2026-09-01\n10 AWG THWN-2 copper,125 ft,$0.44/ft,Barn,2026-09-01\n" ..
      "PVC 40 1 in,10 ft,$7.85,Barn,2026-09-01\nMC-28-40,,$2.15,Barn,2026-09-01\n",
  ["county.sline"] = 'authority { name = "Made-up County", read_on = "2026-08-20" }\nlimits {\n' ..
      '  setback = { 25ft, cite = "zoning 1 (invented)" },\n' ..
      '  well_setback = { 50ft, cite = "health 1 (invented)" },\n' ..
      '  height = { 15ft, from = "natural grade", at = "steepest tilt", cite = "zoning 2 (invented)" },\n}\n' ..
      'permits { "electrical" }\n',
  ["insurer.sline"] = 'authority { name = "Made-up Mutual", as = "insurer", read_on = "2026-08-21" }\nlimits {\n' ..
      '  height = { 14ft, cite = "policy 1 (invented)" },\n' ..
      '  snow_on_it = { 40psf, cite = "policy 2 (invented)", says = "most snow on the ground", ' ..
      'since = "2026-11-02" },\n}\n' ..
      'no_limit { "septic_setback", "seal", cite = "the insurer, by letter" }\n' ..
      'permits { "building", "electrical" }\n' ..
      'rule { id = "P1", severity = "caution", says = "little snow", cite = "policy 2", caution = "no cover", ' ..
      'check = function(job) return at_most(job.site.snow, limit "snow_on_it") end }\n',
  ["crew.sline"] = 'limits { voltage_drop = { 2.5%, cite = "house custom" }, ' ..
      'mower_clearance = { 18in, cite = "house custom" } }\n' ..
      'habits { saw_kerf = 0.125in, spares = 10%, concrete_waste = 10% }\n',
}

-- The files of a job, its script as job.sline.
function jobs.files(job)
  local w, out = written(job), {}
  local function put(...) out[#out + 1] = table.concat { ... } end
  put(('job { name = "Seed %d", client = "Nobody", stage = "%s", units = "%s", lengths = "%s", crew = %d%s%s }\n')
      :format(job.seed, job.stage, job.units, job.units == "US" and job.lengths or "decimal", job.crew,
      job.dated and ', on = "2026-11-02"' or "",
      job.codes and ',\n  codes = { electrical = "NEC 2023", loads = "ASCE 7-16", wood = "NDS 2018", ' ..
      'building = "IBC 2021" }' or ""))
  put('parts "modules.csv"\nparts "clamps.csv"\n', job.prices and 'prices "prices.csv"\n' or "")
  put(job.place and 'place "county"\n' or "", job.place and job.seed % 2 == 0 and 'place "insurer"\n' or "")
  put(job.house and 'house "crew"\n' or "")
  put(site_text(job, w))
  if job.nearest then put("nearest { lot_line = ", w.feet(60), ", well = ", w.feet(120), " }\n") end
  if job.none then
    put('none { "septic field", "flood zone", "overhead line", walked_by = "Nobody", on = "2026-10-20" }\n')
  end
  if job.locate then
    put('private_lines { found = "none", asked = "Nobody", on = "2026-10-20" }\n',
        'locate { ticket = "P-1", valid_from = "2026-11-01", valid_to = "2026-11-15", answers = { "power: clear" } }\n')
  end
  for i, f in ipairs(job.footings) do
    put(('footing "f%d" { hole_diameter = %s, hole_depth = %s, gravel = %s, fill = "concrete"%s%s }\n')
        :format(i, w.inches(auger(job, i)), w.inches(f.depth), w.inches(f.gravel), f.isolated and
        ", isolated_posts = true" or "", (f.keyed or (job.seed + i) % 4 > 0) and ', keyed = "rods"' or ""))
  end
  put(racks_text(job, w))
  put(circuit_text(job, w))
  local all = { ["job.sline"] = table.concat(out) }
  for name, text in pairs(files) do all[name] = text end
  return all
end

-- ---- shrinking -----------------------------------------------------------------------------------------------------

local function copy(t)
  if type(t) ~= "table" then return t end
  local out = {}
  for k, v in next, t do out[k] = copy(v) end
  return out
end
jobs.copy = copy

local simplest = { stage = "quote", units = "US", written = "US", lengths = "decimal", south = false, latitude = 35,
    crew = 2, ground = "plain", place = false, house = false, prices = false, nearest = false, none = false,
    locate = false, dated = false, codes = false }
local simplest_rack = { rows = 1, columns = 1, orientation = "portrait", tilt = 30, azimuth = 180, lower_edge = 24,
    north = "true", rails = "2x4", lines = 2, rafter = "2x8", post = "6x6", species = "southern pine",
    treatment = "UC4B", pairs = 2, footing = 1, under = "open" }

local function without_rack(job, k)
  local out = copy(job)
  table.remove(out.racks, k)
  for _, list in ipairs { "strings", "runs" } do
    local field = list == "strings" and "on" or "from"
    for i = #out[list], 1, -1 do
      local x = out[list][i]
      if x[field] == k then table.remove(out[list], i) elseif x[field] > k then x[field] = x[field] - 1 end
    end
  end
  return out
end

local function sorted(t)
  local keys = {}
  for k in next, t do keys[#keys + 1] = k end
  table.sort(keys)
  return keys
end

-- All jobs that are one step smaller, the largest steps first.
function jobs.smaller(job)
  local list = {}
  if #job.racks > 1 then for k = 1, #job.racks do list[#list + 1] = without_rack(job, k) end end
  for i = 1, #job.runs do
    local j = copy(job)
    table.remove(j.runs, i)
    list[#list + 1] = j
  end
  for i, s in ipairs(job.strings) do
    local carried = false
    for _, r in ipairs(job.runs) do carried = carried or r.from == s.on end
    if not carried then
      local j = copy(job)
      table.remove(j.strings, i)
      list[#list + 1] = j
    end
  end
  for _, fact in ipairs(sorted(job.site)) do
    local j = copy(job)
    j.site[fact] = nil
    list[#list + 1] = j
  end
  for _, key in ipairs(sorted(simplest)) do
    if job[key] ~= simplest[key] then
      local j = copy(job)
      j[key] = simplest[key]
      list[#list + 1] = j
    end
  end
  for k, rack in ipairs(job.racks) do
    for _, key in ipairs(sorted(simplest_rack)) do
      if rack[key] ~= simplest_rack[key] then
        local j = copy(job)
        j.racks[k][key] = simplest_rack[key]
        list[#list + 1] = j
      end
    end
  end
  return list
end

-- The smallest job found, one step after another, for which fails(job) holds.
function jobs.minimal(job, fails)
  local again = true
  while again do
    again = false
    for _, smaller in ipairs(jobs.smaller(job)) do
      if fails(smaller) then
        job, again = smaller, true
        break
      end
    end
  end
  return job
end

return jobs
