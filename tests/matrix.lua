-- SPDX-License-Identifier: MIT
-- Whole jobs through every command, sheet, format and stage; and each field of them in its turn removed, guessed,
-- doubled, written twice and set to the edges of its range.  Nothing may end in a message of the script's own faults
-- (L) or of a rule's making (R), in one without a place, in a crash, or in a number that is none.
-- Run by tests/matrix_test.c, which gives `in_host` and `trying`: matrix_test [commands | fields [WORDS]], from the top
-- folder of the project; WORDS: only what has them in its name.  Without a part it tries a sample of both, which every
-- build does; tests/run.sh has both parts whole.
package.path = "tests/?.lua;" .. package.path
local json = require "json"
local RUN = "tests/matrix_run.lua"
local SAMPLE = 29                            -- of so many one is tried

local passed, failed, counted = 0, 0, 0
local part, only = arg[1], arg[2]
local function wanted(name)
  counted = counted + 1
  if not part then return counted % SAMPLE == 1 end
  return not only or name:find(only, 1, true) ~= nil
end
local function check(name, complaints)
  if #complaints == 0 then passed = passed + 1 return end
  failed = failed + 1
  print("not ok " .. name)
  for i, c in ipairs(complaints) do
    if i > 5 then print("    and " .. #complaints - 5 .. " more") break end
    print("    " .. c)
  end
end

local function read(path)
  local file = assert(io.open(path, "rb"))
  local text = file:read "a"
  file:close()
  return text
end

local function write(path, text)
  local file = assert(io.open(path, "wb"))
  assert(file:write(text))
  assert(file:close())
end

local function place_of(err) return err.source > 0 and err.line > 0 end

local function shown(err)
  return ("[%s] %s%s"):format(err.code, err.text, place_of(err) and " (line " .. err.line .. ")" or " (no place)")
end

-- ---- every command -------------------------------------------------------------------------------------------------

-- whole: all of it is explained; thirty racks alike take their time, and teach no more than two.
local JOBS = { { "examples/egg-farm", whole = true }, { "tests/pages/jobs/hay-barn", whole = true },
               { "tests/pages/jobs/southern", whole = true }, { "tests/pages/jobs/smallest", whole = true },
               { "tests/pages/jobs/weir-meadow" }, { "tests/pages/jobs/large" } }
local STAGES = { "quote", "permit", "build", "as built" }

local function commands_of(job, stage, whole)
  local name = job:match "[^/]*$" .. " at stage " .. stage
  if not wanted(name) then return end
  trying(name)
  local script = job .. "/job.sline"
  local input = { commands = true, script = script, set = { "job.stage=" .. stage },
                  whole = whole and stage == "permit", few = not whole and stage ~= "permit" }
  local got, err = in_host(job, RUN, input)
  if not got then return check(name, { shown(err) }) end
  if got.tried < 40 then table.insert(got.complaints, "only " .. got.tried .. " things were tried") end
  local read_well, why_not = pcall(json.read, got.reports.json or "")
  if not read_well then table.insert(got.complaints, "the report is no JSON: " .. why_not) end
  check(name, got.complaints)
  local path = os.tmpname()
  for _, form in ipairs { "text", "json", "html" } do
    write(path, got.reports[form] or "")
    trying(name .. ", its report verified")
    local seen, why = in_host(job, RUN, { commands = true, script = script, set = input.set, report = path,
                                          form = form })
    check(name .. ", its report as " .. form, seen and seen.complaints or { shown(why) })
  end
  os.remove(path)
end

local function commands()
  for _, job in ipairs(JOBS) do
    for _, stage in ipairs(STAGES) do commands_of(job[1], stage, job.whole) end
  end
end

-- ---- a script's text -----------------------------------------------------------------------------------------------

-- Behind a text in quotes or a remark that begins at `at`; nil of anything else.
local function behind_quiet(text, at)
  local c = text:sub(at, at)
  if c == '"' or c == "'" then
    local i = at + 1
    while text:sub(i, i) ~= c do i = i + (text:sub(i, i) == "\\" and 2 or 1) end
    return i + 1
  end
  if text:sub(at, at + 1) == "--" then return (text:find("\n", at, true) or #text) + 1 end
end

local OPENS = { ["{"] = true, ["("] = true, ["["] = true, ["function"] = true, ["if"] = true, ["do"] = true }
local CLOSES = { ["}"] = true, [")"] = true, ["]"] = true, ["end"] = true }

-- Where the value that begins at `at` ends: the place of the comma or of the brace behind it.
local function end_of_value(text, at)
  local depth, i = 0, at
  while i <= #text do
    local quiet = behind_quiet(text, i)
    local word = text:match("^[%a_][%w_]*", i) or text:sub(i, i)
    if quiet then i = quiet
    else
      if OPENS[word] then depth = depth + 1
      elseif depth == 0 and (CLOSES[word] or word == "," or word == ";") then return i
      elseif CLOSES[word] then depth = depth - 1 end
      i = i + #word
    end
  end
  error("a table is not closed")
end

local function behind_blanks(text, at)
  while true do
    at = text:find("%S", at)
    if text:sub(at, at + 1) ~= "--" then return at end
    at = behind_quiet(text, at)
  end
end

-- The entries of the table that opens at `open`, by key and in order: { key, from, value, stop, inner }, where the
-- value goes from `value` to before `stop`; inner: its own entries, where it is a table or one in measured(...) and its
-- like.  Where the table opens and closes is kept.
local function entries_of(text, open)
  local out, i = { open = open }, behind_blanks(text, open + 1)
  while text:sub(i, i) ~= "}" do
    local entry = { from = i }
    local key, at = text:match("^([%a_][%w_]*)%s*=%s*()", i)
    if not key then key, at = text:match('^%["(.-)"%]%s*=%s*()', i) end
    entry.key, entry.value = key, at or i
    entry.stop = end_of_value(text, entry.value)
    local inner = text:match("^%a*%s*%(?%s*(){", entry.value)
    if inner then entry.inner = entries_of(text, inner) end
    out[#out + 1] = entry
    if key then out[key] = entry end
    i = entry.stop
    if text:sub(i, i) ~= "}" then i = behind_blanks(text, i + 1) end
  end
  out.close = i
  return out
end

-- The declarations of a script that name a kind: { kind, entries }.
local function declarations_of(text, kinds)
  local list, i = {}, 1
  while i <= #text do
    local quiet = behind_quiet(text, i)
    local word = text:match("^[%a_][%w_]*", i)
    local open = word and kinds[word] and text:match('^%s*"?[^"\n{(]*"?%s*(){', i + #word)
    if quiet then i = quiet
    elseif open and not kinds[word].part then
      list[#list + 1] = { kind = kinds[word], entries = entries_of(text, open) }
      i = list[#list].entries.close + 1
    else i = i + (word and #word or 1) end
  end
  return list
end

-- ---- values --------------------------------------------------------------------------------------------------------

local UNITS = { angle = "rad", current = "A", force = "N", length = "m", mass = "kg", moment = "[N*m]",
                power = "W", pressure = "Pa",
                ["pressure per depth"] = "Pa/m", speed = "mph", temperature = "degC", time = "s", voltage = "V",
                volume = "m3", ["mass density"] = "kg/m3", ["mass per length"] = "kg/m",
                moment = "[N*m]", ["temperature difference"] = "K", ["change per degree"] = "%/K", money = "USD" }

-- An amount in SI as a script writes it.
local function literal(f, si)
  if f.type == "count" then return ("%d"):format(si) end
  local dim = f.type == "money" and "money" or f.dim
  local unit = dim and dim ~= "ratio" and (UNITS[dim] or error("no unit of " .. dim)) or ""
  if f.dim == "temperature" then si = si - 273.15 end
  if f.dim == "change per degree" then si = si * 100 end
  if f.dim == "speed" then si = si / 0.44704 end                     -- a script may call something s
  return (("%.9f"):format(si):gsub("0+$", ""):gsub("%.$", "")) .. unit
end

local NUMERIC = { quantity = true, ratio = true, count = true, number = true, money = true }
local WORDS = { text = true, date = true, choice = true, part = true, ref = true }
local AXES = { latitude = { 90, "N", "S" }, longitude = { 180, "E", "W" }, declination = { 90, "E", "W" } }

-- What a field is set to at each edge: { words, value, what must come }.
local function edges_of(f)
  local list = {}
  local function put(words, value, want) list[#list + 1] = { words, value, want } end
  if NUMERIC[f.type] then
    local low, high = f.min or f.above, f.max
    local function past(edge) return f.type == "count" and 1 or math.max(math.abs(edge) * 1e-3, 1e-3) end
    if f.min then put("at its least", literal(f, f.min), "verdict") end
    if f.above then
      put("hardly above its edge", literal(f, f.above + (high or 1) * 1e-6), "verdict")
      put("at the edge that it must pass", literal(f, f.above), "D004")
    end
    if low then put("below its least", literal(f, low - past(low)), "D004") end
    if high then
      put("at its most", literal(f, high), "verdict")
      put("above its most", literal(f, high + past(high)), "D004")
    end
  elseif f.type == "position" then
    local most, plus, minus = table.unpack(AXES[f.axis])
    put("at its most", ('"%d %s"'):format(most, plus), "verdict")
    put("at its least", ('"%d %s"'):format(most, minus), "verdict")
    put("above its most", ('"%.1f %s"'):format(most + 0.1, plus), "D004")
  elseif f.type == "choice" then
    put("the first choice", ("%q"):format(f.choices[1]), "verdict")
    put("the last choice", ("%q"):format(f.choices[#f.choices]), "verdict")
    put("no choice", '"none of these"', "refused")
  elseif f.type == "flag" then
    put("true", "true", "verdict")
    put("false", "false", "verdict")
    put("a text for a flag", '"true"', "refused")
  elseif f.type == "date" then
    put("the first day", '"0001-01-01"', "verdict")
    put("the last day", '"9999-12-31"', "verdict")
    put("no day", '"2026-02-30"', "refused")
  elseif f.type == "text" then
    put("empty", '" "', "refused")
    put("a number for a text", "1", "refused")
  elseif f.type == "limit" then
    local amount = { type = f.dim == "ratio" and "ratio" or "quantity", dim = f.dim,
        min = not f.above and 0 or nil, above = f.above, max = f.max }
    for _, e in ipairs(edges_of(amount)) do put(e[1], "{ " .. e[2] .. ', cite = "nowhere" }', e[3]) end
  elseif f.type == "wire" then
    put("the thinnest", '"18 AWG"', "verdict")
    put("the thickest", '"2000 kcmil"', "verdict")
    put("no size", '"thick"', "refused")
  elseif f.type == "list" or f.type == "map" then
    put("empty", "{}", "verdict")
    if not f.or_text then put("a text for a table", '"none"', "refused") end
  elseif f.type == "ref" or f.type == "part" then
    put("a name that there is not", '"nobody"', "refused")
  end
  return list
end

-- A value that a field may have, for one that the job does not give.
local function example_of(f)
  if f.type == "text" or f.type == "wire" or f.type == "position" then return f.example and ("%q"):format(f.example)
  elseif f.type == "choice" then return ("%q"):format(f.choices[#f.choices])
  elseif f.type == "flag" then return "true"
  elseif f.type == "date" then return '"2026-10-30"'
  elseif f.type == "limit" then return "{ " .. f.example .. ', cite = "nowhere" }'
  elseif f.type == "list" or f.type == "map" or f.type == "group" or f.type == "conditions" then
    return f.example and "{ " .. f.example .. " }"
  end
  return NUMERIC[f.type] and f.example or nil
end

-- Whether a field holds names of other declarations: its example is of another job.
local function refers(f)
  if f.type == "ref" or f.type == "part" then return true end
  for _, inner in ipairs(f.fields or {}) do if refers(inner) then return true end end
  return false
end

-- The amounts of a text twice as large.
local function doubled(value)
  local count
  value, count = value:gsub("%f[%w.]%d+%.?%d*", function(n)
    local twice = tonumber(n) * 2
    return math.type(twice) == "integer" and ("%d"):format(twice) or ("%.10g"):format(twice)
  end)
  return count > 0 and value or nil
end

-- ---- each field ----------------------------------------------------------------------------------------------------

-- Files of a job whose declarations are looked through; a kind is taken from the first that has it.
local SOURCES = {
  { "examples/egg-farm", "job.sline" }, { "examples/egg-farm", "plateau-county.sline" },
  { "examples/egg-farm", "two-ridges.sline" },
  { "tests/pages/jobs/hay-barn", "job.sline" }, { "tests/golden/jobs/two-racks", "job.sline" },
  { "tests/golden/jobs/lambing-shed", "job.sline" }, { "tests/pages/jobs/southern", "job.sline" },
  { "tests/golden/jobs/river-bench", "job.sline" }, { "tests/golden/jobs/river-bench", "bench-county.sline" },
  { "tests/results/jobs/sedge-hut", "hollow-county.sline" }, { "tests/pages/jobs/weir-meadow", "job.sline" },
  { "tests/results/jobs/gate-field", "job.sline" },
  { "tests/results/jobs/rock-yard", "job.sline" }, { "tests/results/jobs/anchor-field", "job.sline" },
  { "tests/results/jobs/table-field", "job.sline" },
}

-- Fields that may go without any rule turning, each with the reason.
local SILENT = {
  ["at.why"] = "told beside the posts that it is about",
  ["charge_controller.data_sheet"] = "where its facts are from; page one tells of those without",
  ["dug.diameter"] = "without it the hole is as wide as designed, here as it is",
  ["dug.hit"] = "printed with what is left to do at the hole",
  ["dug.moved_east"] = "printed with what is left to do at the hole; no rule says how far off is too far",
  ["dug.moved_north"] = "the same the other way",
  ["easement.distance"] = "the holder consents, here",
  ["habits.make_up_each_end"] = "the run gives its own",
  ["habits.saw_kerf"] = "without it the cuts take nothing, and the cutting sheet says so",
  ["limits.easement_setback"] = "the holder consents, here",
  ["locate.answers"] = "wanted from stage build on",
  ["on_hand.counted_on"] = "printed with what is in hand; no rule asks how long ago it was counted",
  ["probe.hit"] = "told with what may be done where a probe was refused",
  ["rack.posts.back"] = "without it the posts are B1, B2, ..., as they are here",
  ["rack.posts.front"] = "without it the posts are F1, F2, ..., as they are here",
  ["run.along_wall"] = "without it the run ends where it leaves the ground",
  ["run.make_up_each_end"] = "without it the house's habit is taken, here as long",
  ["site.longitude"] = "printed in the head of the report; no rule compares it",
}
local silent = {}                            -- those that were met

-- Every change of a field: calls try(words, from, to, new text, want, field, whether a third of the sheets will do, as
-- of edges of its range: of one change that third and of the next another).
local function changes_of(text, f, entry, path, open, try)
  if entry then
    local value = text:sub(entry.value, entry.stop - 1)
    local stop = text:sub(entry.stop, entry.stop) == "}" and entry.stop - 1 or entry.stop
    local key = text:sub(entry.from, entry.value - 1)
    try(path .. " removed", entry.from, stop, "", f.required and "D002" or "felt", f)
    try(path .. " written twice", entry.from, entry.from - 1, key .. value .. ", ", "Q120", f)
    if f.type ~= "func" then
      local how, bare = value:match '^(%a[%w_]*)%((.*),%s*"[^"]*"%s*%)%s*$'
      if how ~= "measured" and how ~= "told" and how ~= "looked_up" then bare = value end
      try(path .. " guessed", entry.value, entry.stop - 1, "guess(" .. bare .. ") ", "verdict", f)
      local twice = not WORDS[f.type] and doubled(value)
      if twice then try(path .. " doubled", entry.value, entry.stop - 1, twice, "twice", f) end
    end
    -- What a result is follows from how it is worked out: no other choice would do.
    for _, e in ipairs(path == "result.is" and {} or edges_of(f)) do
      try(path .. " " .. e[1], entry.value, entry.stop - 1, e[2] .. " ", e[3], f, true)
    end
  else
    local function put(words, value, want, third)
      try(path .. " " .. words, open + 1, open, f.name .. " = " .. value .. ", ", want, f, third)
    end
    local example = example_of(f)
    if example and not refers(f) then
      put("added", example, "verdict")
      put("added as a guess", "guess(" .. example .. ")", "verdict")
    end
    for _, e in ipairs(edges_of(f)) do put("added " .. e[1], e[2], e[3], true) end
  end
end

local function fields_in(text, fields, entries, path, try)
  for _, f in ipairs(fields) do
    local entry, here = entries[f.name], path .. "." .. f.name
    changes_of(text, f, entry, here, entries.open, try)
    local inner = entry and entry.inner
    if f.type == "group" and inner then fields_in(text, f.fields, inner, here, try)
    elseif (f.type == "list" or f.type == "map") and inner and inner[1] then
      local first = inner[1]
      if f.item.type == "group" and first.inner then fields_in(text, f.item.fields, first.inner, here .. "[1]", try)
      else
        for _, e in ipairs(edges_of(f.item)) do
          try(here .. "[1] " .. e[1], first.value, first.stop - 1, e[2] .. " ", e[3], f.item, true)
        end
      end
    end
  end
end

-- An error of the person's own: a declaration that cannot be, told with its place; R006 is of waivers.
local function is_refusal(err) return (err.code:find "^[DQF]" or err.code == "R006") and place_of(err) end

local function complaints_of(want, got, err, base, name)
  if got then
    local list = got.complaints
    if want ~= "verdict" and want ~= "felt" and want ~= "twice" then list[#list + 1] = "is taken; wanted " .. want end
    local path = name:match "^%S*"
    local same = want == "felt" and got.outcomes == base.outcomes
    if same then silent[path] = true end
    if same and got.status == 0 and not SILENT[path] then
      list[#list + 1] = "nobody misses it: the same outcome of each rule"
    elseif want == "felt" and SILENT[path] and not same then
      list[#list + 1] = "it is missed: take it out of SILENT"
    end
    return list
  end
  if not is_refusal(err) then return { "ends in " .. shown(err) } end
  if want == "verdict" or want == "felt" then return err.code == "D004" and { "within its range: " .. shown(err) } or {}
  end
  if want == "twice" then return {} end
  if want ~= "refused" and err.code ~= want then return { "wanted " .. want .. ", got " .. shown(err) } end
  if want == "D004" and err.col == 0 then return { "no mark below " .. shown(err) } end
  return {}
end

local folder

-- The same for the cells of a list's first row.
local BARN, CREAMERY = "tests/pages/jobs/hay-barn", "tests/results/jobs/creamery"
local LISTS = { { BARN, "modules.csv", "module" }, { BARN, "clamps.csv", "clamp" },
                { BARN, "elk-bend-supply.csv", "price" }, { "tests/results/jobs/rock-yard", "poles.csv", "pole" },
                { "tests/results/jobs/table-field", "anchors.csv", "anchor" },
                { CREAMERY, "rails.csv", "rail" }, { CREAMERY, "splices.csv", "splice" },
                { CREAMERY, "adapters.csv", "adapter" }, { CREAMERY, "kits.csv", "kit" } }

local function cells_of(job, file, kind)
  local text = read(job .. "/" .. file)
  local head, row = ("\n" .. text):match "\n([^#\n]-,[^\n]*)\n([^\n]*)"
  local at = text:find(row, 1, true)
  local names, cells = {}, {}
  for name in head:gmatch "[^,]+" do names[#names + 1] = name end
  local bare = row:gsub('"[^"]*"', function(quoted) return (quoted:gsub(",", "\0")) end)
  for cell in (bare .. ","):gmatch "([^,]*)," do cells[#cells + 1] = cell:gsub("\0", ",") end
  assert(#names == #cells, file)
  local function try(name, i, new, want)
    if not wanted(name) then return end
    trying(name)
    local changed = table.move(cells, 1, #cells, 1, {})
    changed[i] = new
    write(folder .. "/" .. file, text:sub(1, at - 1) .. table.concat(changed, ",") .. text:sub(at + #row))
    local got, err = in_host(folder, RUN, { script = job .. "/job.sline" }, job)
    check(name .. " in " .. job .. "/" .. file, complaints_of(want, got, err, nil, name))
  end
  for _, f in ipairs(kind.fields) do
    local i
    for n, name in ipairs(names) do if name == f.name then i = n end end
    if i then
      local path = kind.name .. "." .. f.name
      try(path .. " removed", i, "", f.required and "refused" or "verdict")
      local twice = NUMERIC[f.type] and doubled(cells[i])
      if twice then try(path .. " doubled", i, twice, "twice") end
      for _, e in ipairs(edges_of(f)) do
        if f.type ~= "text" then try(path .. " " .. e[1], i, e[2]:gsub('"', ""), e[3]) end
      end
    end
  end
  os.remove(folder .. "/" .. file)
end

local function fields_of(job, file, declarations, text)
  local function run_with(changed, turn)
    write(folder .. "/" .. file, changed)
    local script = (file == "job.sline" and folder or job) .. "/job.sline"
    return in_host(folder, RUN, { script = script, turn = turn }, job)
  end
  local base, why = run_with(text)
  if not base then return check(job .. "/" .. file, { "does not run as it is: " .. shown(why) }) end
  for _, d in ipairs(declarations) do
    fields_in(text, d.kind.fields, d.entries, d.kind.name, function(name, from, to, new, want, f, third)
      if not wanted(name) then return end
      trying(name)
      if want == "felt" and f.has_default then want = "verdict" end
      local got, err = run_with(text:sub(1, from - 1) .. new .. text:sub(to + 1), third and counted)
      check(name .. " in " .. job .. "/" .. file, complaints_of(want, got, err, base, name))
    end)
  end
  os.remove(folder .. "/" .. file)
end

local function fields()
  local list = assert(in_host("", RUN, { schema = true }))
  local kinds, taken = {}, {}
  for _, k in ipairs(list) do kinds[k.name] = k end
  folder = os.tmpname()
  os.remove(folder)
  assert(os.execute("mkdir " .. folder))
  for _, source in ipairs(SOURCES) do
    local job, file = source[1], source[2]
    local text = read(job .. "/" .. file)
    local new, here = {}, {}
    for _, d in ipairs(declarations_of(text, kinds)) do
      if not taken[d.kind.name] or d.kind.name == "limits" and not here[d.kind.name] then
        taken[d.kind.name], here[d.kind.name] = true, true
        new[#new + 1] = d
      end
    end
    fields_of(job, file, new, text)
  end
  for _, list in ipairs(LISTS) do
    cells_of(list[1], list[2], kinds[list[3]])
    taken[list[3]] = true
  end
  os.execute("rmdir " .. folder)
  local missing = {}
  for _, k in ipairs(list) do                  -- a type has the fields of its kind
    if not (taken[k.name] or k.partial) then missing[#missing + 1] = k.name .. " is in no job" end
  end
  if not part or only then return end
  check("each kind is in a job", missing)
  local gone = {}
  for path in pairs(SILENT) do if not silent[path] then gone[#gone + 1] = path .. ": take it out of SILENT" end end
  check("what nobody misses is there", gone)
end

-- ---- all -----------------------------------------------------------------------------------------------------------

local parts = { commands = commands, fields = fields }
if part then
  (parts[part] or error("no part " .. part))()
  print(("matrix-%s: %d passed, %d failed"):format(part, passed, failed))
else
  commands()
  counted = 0
  fields()
  print(("[  PASSED  ] %d test(s)."):format(passed))
  if failed > 0 then print(("[  FAILED  ] %d test(s)."):format(failed)) end
end
return failed == 0 and 0 or 1
