-- SPDX-License-Identifier: MIT
-- The case files of tests/results, which a person writes by hand (docs/cases.md is their manual): reads them,
-- runs each case, says with file and line what is wrong in a file and what came out otherwise, and that every standard
-- rule and every result has its cases.  Run by tests/results_test.c, which gives `in_host`.
local JOBS = { "tests/results/jobs/", "examples/" }
local RUN = "tests/case_run.lua"

-- A rule's broken row counts as missed by a hair up to this share of the limit; where whole numbers are compared, up
-- to one.
local HAIR = 0.02
-- More than this share of a value is no tolerance any more, unless a reason is given.
local WIDE = 0.05

-- Rules that need no row of a sort, each with the reason.  One that has it after all must go from here.
local GIVEN = "all that it reads must be given: without it the script is refused"
local NO_ROW = {
  R01 = { broken = "a code that is not named is unknown; none is wrong" },
  R23 = { unknown = GIVEN },
  R33 = { unknown = GIVEN },
  R37 = { unknown = GIVEN },
  R60 = { unknown = GIVEN },
  R63 = { unknown = GIVEN },
  R66 = { broken = "a torque and its paper are given or not; none is wrong" },
  R70 = { holds = "no declaration carries what it wants yet", broken = "no declaration carries what it wants yet" },
  R74 = { broken = "a paper covers a subject or does not: then it is unknown, none is wrong" },
  R88 = { unknown = GIVEN },
  R72 = { broken = "a fact is given or not; none is wrong" },
}
-- Results that need no case, each with the reason.
local NO_CASE = {}

local function read(path)
  local file = io.open(path, "rb")
  if not file then return nil end
  local text = file:read "a"
  file:close()
  return text
end

-- ---- reading -------------------------------------------------------------------------------------------------------

local KEYS = "case, job, set, without, script, from, gives, rule, value, limit, margin, governs, cites, says, " ..
             "flips, nearest, missing, ask"
local OUTCOMES = { holds = true, broken = true, unknown = true, ["not applicable"] = true }

-- "VALUE within TOLERANCE because WHY" -> its parts.
local function amount(text)
  local rest, because = text:match "^(.-)%s+because%s+(.+)$"
  rest = rest or text
  local value, within = rest:match "^(.-)%s+within%s+(.+)$"
  return { value = value or rest, within = within, because = because }
end

-- The cases of a text, and what is wrong in it as { line, text, hint }.
local function read_cases(text)
  local cases, wrong, file_job = {}, {}, nil
  local number, case, last = 0, nil, nil
  local function bad(what, hint, line) wrong[#wrong + 1] = { line = line or number, text = what, hint = hint } end
  local seen = {}
  local function once(table_, key, value)
    if table_[key] ~= nil then return bad("'" .. key .. "' stands twice", "leave one of the two lines out") end
    table_[key] = value
  end
  local words = {}
  function words.case(rest)
    if seen[rest] then bad("a case of this name stands at line " .. seen[rest], "give one of them another name") end
    seen[rest] = number
    case = { name = rest, line = number, job = file_job, sets = {}, without = {}, script = {}, from = {}, expects = {},
             lines = {} }
    cases[#cases + 1], last = case, nil
  end
  function words.job(rest)
    if case then case.job, case.job_line = rest, number else file_job = rest end
  end
  words["set"] = function(rest)
    if not rest:find "^.-%s*=%s*%S" then return bad("'set' wants PATH = VALUE", "set rack.east.tilt = 30deg") end
    case.sets[#case.sets + 1] = rest
    case.lines["--set " .. rest] = number
  end
  function words.without(rest)
    case.without[#case.without + 1] = rest
    case.lines["without " .. rest] = number
  end
  function words.script(rest) case.script[#case.script + 1] = rest end
  function words.from(rest) case.from[#case.from + 1] = rest end
  function words.gives(rest)
    local path, value = rest:match "^(%S.-)%s+=%s+(%S.*)$"
    local open = rest:match "^(%S.-)%s+unknown$"
    if not path and not open then
      return bad("'gives' wants PATH = VALUE within TOLERANCE, or PATH unknown",
          "gives rack.east.top_edge = 102.2 in within 0.05 in")
    end
    last = { gives = path or open, line = number, amounts = {}, unknown = open ~= nil, says = {} }
    if path then
      local quoted = value:match '^"(.*)"$'
      if quoted then last.text = quoted
      elseif value == "true" or value == "false" then last.flag = value == "true"
      else last.amounts.value = amount(value); last.amounts.value.line = number end
    end
    case.expects[#case.expects + 1] = last
  end
  function words.rule(rest)
    local id, subject, outcome = rest:match "^(%S+)%s+(.-)%s*(not applicable)$"
    if not id then id, subject, outcome = rest:match "^(%S+)%s+(.-)%s*(%l+)$" end
    if not id or not OUTCOMES[outcome] then
      return bad("'rule' wants ID SUBJECT and holds, broken, unknown or not applicable", "rule R03 rack.east holds")
    end
    last = { rule = id, subject = subject ~= "" and subject or nil, outcome = outcome, line = number, amounts = {},
             says = {} }
    case.expects[#case.expects + 1] = last
  end
  local function of_rule(key)
    return function(rest)
      if not last or not last.rule then
        return bad("'" .. key .. "' belongs under a rule", "rule R03 rack.east holds")
      end
      once(last.amounts, key, amount(rest))
      last.amounts[key].line = number
    end
  end
  words.value, words.limit, words.margin = of_rule "value", of_rule "limit", of_rule "margin"
  for _, key in ipairs { "governs", "cites", "nearest", "ask" } do
    words[key] = function(rest)
      if not last or not last.rule then
        return bad("'" .. key .. "' belongs under a rule", "rule R03 rack.east holds")
      end
      once(last, key, rest)
    end
  end
  function words.flips(rest)
    local path, value = rest:match "^(%S.-)%s+=%s+(%S.*)$"
    if not last or not last.rule or not path then
      return bad("'flips' belongs under a rule, and wants PATH = VALUE within TOLERANCE",
          "flips site.coldest = -0.17 degC within 0.01 K")
    end
    once(last, "flips", path)
    last.amounts.flip = amount(value)
    last.amounts.flip.line = number
  end
  function words.says(rest)
    if not last then return bad("'says' belongs under a rule or under an unknown value", "rule R07 job unknown") end
    last.says[#last.says + 1] = rest
  end
  function words.missing(rest)
    if not last then return bad("'missing' belongs under a rule or under an unknown value", "rule R07 job unknown") end
    once(last, "missing", rest)
  end
  for line in (text:gsub("\n$", "") .. "\n"):gmatch "([^\n]*)\n" do
    number = number + 1
    local key, rest = line:match "^%s*(%S+)%s*(.-)%s*$"
    if key and key:sub(1, 1) ~= "#" then
      if not words[key] then bad("no such word: " .. key, "a line begins with one of " .. KEYS)
      elseif rest == "" then bad("nothing stands behind '" .. key .. "'", "write it on the same line")
      elseif not case and key ~= "case" and key ~= "job" then
        bad("'" .. key .. "' stands before the first case", "begin with a line: case NAME")
      else words[key](rest) end
    end
  end
  return cases, wrong, bad
end

-- What a case must have to be one.
local function check_shape(case, bad)
  local function at(line, what, hint) bad(what, hint, line) end
  if not case.job then at(case.line, "the case has no job", "job egg-farm") end
  if #case.from == 0 then
    at(case.line, "the case has no source", "from hand: 24 in - 8 in - 12 in = 4 in")
  end
  if #case.expects == 0 then
    at(case.line, "the case expects nothing", "gives PATH = VALUE within TOLERANCE, or rule ID SUBJECT OUTCOME")
  end
  for _, e in ipairs(case.expects) do
    local a, numbers = e.amounts, 0
    for key in pairs(a) do if key ~= "flip" then numbers = numbers + 1 end end
    if e.outcome == "unknown" or e.unknown then
      if #e.says == 0 then at(e.line, "what is unknown must say why", "says the ground at post B2 is not given") end
      if numbers > 0 then at(e.line, "what is unknown has no numbers", "take value, limit and margin out") end
    elseif e.outcome == "not applicable" then
      if numbers > 0 or #e.says > 0 or e.governs then at(e.line, "what is not applicable has nothing more to say") end
    elseif e.rule then
      if e.missing or e.ask then at(e.line, "nothing is missing where a rule " .. (e.outcome == "holds" and "holds" or
          "is broken"), "missing belongs under an unknown rule") end
      if numbers == 0 and #e.says == 0 then
        at(e.line, "a bare outcome: it wants value, limit and margin, or says", "value 23.25 in within 0.01 in")
      elseif numbers > 0 and not (a.value and a.limit and a.margin) then
        at(e.line, "a rule's numbers are three: value, limit and margin", "margin 3.25 in within 0.01 in")
      end
    end
  end
end

-- ---- amounts -------------------------------------------------------------------------------------------------------

-- The number and the unit of a literal written plainly; nil of "8 ft 6 in".
local function unit_of(text)
  local number, unit = text:match "^%s*([-+]?[%d.]+)%s*(.*)$"
  if not number or unit:find "%d" then return nil end
  return unit
end

-- Gives each amount its si, its dimension and its tolerance in SI; `literals` answers each text that is asked for.
local function texts_of(a, ask)
  ask(a.value)
  if not a.within then return end
  local unit = unit_of(a.value)
  local own, bare = unit_of(a.within), a.within:match "^%s*[%d.]+%s*$"
  local money = a.value:match "^%s*[-+]?([$€£])"
  if bare and money then a.tolerance = { money .. bare, money .. "0" }
  elseif bare then a.tolerance = unit and { bare .. " " .. unit, "0 " .. unit } or nil
  elseif own == "%" and unit ~= "%" then a.share = tonumber(a.within:match "[%d.]+") / 100
  elseif own == "%" then a.tolerance = { a.within, "0 %" }
  else a.tolerance = { a.within, a.within:gsub("[%d.]+", "0", 1) } end
  for _, text in ipairs(a.tolerance or {}) do ask(text) end
end

local function settle(a, literals, at, whole)
  local v = literals[a.value]
  if not v or v.why then return at(a.line, "'" .. a.value .. "': " .. (v and v.why or "no amount"), v and v.help) end
  a.si, a.dimension = v.si, v.dimension
  if not a.within then a.off = math.abs(v.si) * 1e-9 + 1e-12 return end
  if a.share then a.off = a.share * math.abs(v.si)
  elseif a.tolerance then
    local t, zero = literals[a.tolerance[1]], literals[a.tolerance[2]]
    if t.why then return at(a.line, "'" .. a.within .. "': " .. t.why, t.help) end
    if not zero.si or t.dimension ~= v.dimension and not (v.dimension == "temperature" and
        t.dimension == "temperature difference") then
      return at(a.line, "the tolerance is " .. t.dimension .. ", the value " .. v.dimension,
          "write it in the value's unit")
    end
    a.off = t.dimension == "temperature difference" and t.si or t.si - zero.si
  else return at(a.line, "the tolerance needs a unit", "within 0.1 in") end
  local most = WIDE * math.abs(whole or v.si)
  if a.off > most * (1 + 1e-9) and not a.because then
    at(a.line, "the tolerance is more than 5 %", "make it smaller, or say why: within " .. a.within .. " because ...")
  end
  a.off = a.off * (1 + 1e-9) + 1e-12
end

-- Reads the amounts of all cases in the host's own words.
local function settle_amounts(cases, bad)
  local literals, list = {}, {}
  local function ask(text)
    if not literals[text] then literals[text] = true; list[#list + 1] = text end
  end
  local function each(f)
    for _, case in ipairs(cases) do
      for _, e in ipairs(case.expects) do
        for _, name in ipairs { "value", "limit", "margin", "flip" } do
          if e.amounts[name] then f(e.amounts[name], e, name) end
        end
      end
    end
  end
  each(function(a) texts_of(a, ask) end)
  local answers = assert(in_host("", RUN, { literals = list }))
  for i, text in ipairs(list) do literals[text] = answers[i] end
  local function at(line, what, hint) bad(what, hint, line) end
  each(function(a, e, name)
    settle(a, literals, at, name == "margin" and e.amounts.limit and e.amounts.limit.si)
  end)
end

-- ---- running -------------------------------------------------------------------------------------------------------

local folders = {}
local function folder_of(job)
  if folders[job] == nil then
    folders[job] = false
    for _, place in ipairs(JOBS) do
      if read(place .. job .. "/job.sline") then folders[job] = place .. job break end
    end
  end
  return folders[job]
end

-- The job's script with the case's lines behind it, in a file of its own; how many lines stand before them.
local function script_of(case, folder)
  local path = folder .. "/job.sline"
  if #case.script == 0 then return path, 0 end
  local own, text = os.tmpname(), read(path)
  local file = assert(io.open(own, "wb"))
  assert(file:write(text, "\n", table.concat(case.script, "\n"), "\n"))
  assert(file:close())
  return own, select(2, text:gsub("\n", "\n")) + 1
end

local function run_case(case)
  local folder = folder_of(case.job)
  if not folder then
    return nil, { { line = case.job_line or case.line, text = "no job is called " .. case.job,
                    hint = "a folder of examples or of tests/results/jobs" } }
  end
  local paths, remedies = {}, {}
  for _, e in ipairs(case.expects) do
    if e.flips or e.nearest then remedies[e.rule .. " " .. tostring(e.subject)] = true end
    if e.gives then paths[#paths + 1] = e.gives; e.at = #paths end
  end
  local script, before = script_of(case, folder)
  local got, err = in_host(folder, RUN, { script = script, sets = case.sets, without = case.without, values = paths,
                                          remedies = remedies })
  if #case.script > 0 then os.remove(script) end
  if got then return got end
  local line = case.line
  for begins, at in pairs(case.lines) do
    if err.text:sub(1, #begins) == begins then line = at end
  end
  local where = err.line > before and #case.script > 0 and " (line " .. err.line - before .. " of its script)" or ""
  return nil, { { line = line, text = "the job does not run: " .. err.text .. where, hint = err.help } }
end

local function show(a) return a.value .. (a.within and " within " .. a.within or " exactly") end

local function off_by(a, got)
  if not got or not got.si then return "no amount" end
  if got.dimension ~= a.dimension and not (a.dimension == "number" and got.dimension == "ratio") then
    return got.text .. ", which is " .. got.dimension
  end
  if not (math.abs(got.si - a.si) <= a.off) then return got.text end
end

-- What came otherwise than a case expects, and what in it is wrong: two lists of { line, text, hint }.
local function judge(case, got)
  local differs, wrong = {}, {}
  local function differ(e, text) differs[#differs + 1] = { line = e.line, text = text } end
  local function reason(e, words, missing)
    for _, says in ipairs(e.says) do
      if not (words or ""):find(says, 1, true) then differ(e, "it says '" .. (words or "") .. "', wanted '" .. says ..
          "'") end
    end
    if e.missing and missing ~= e.missing then
      differ(e, "what is missing is '" .. tostring(missing) .. "', wanted '" .. e.missing .. "'")
    end
  end
  for _, e in ipairs(case.expects) do
    if e.gives then
      local v = got.values[e.at]
      if v.wrong then wrong[#wrong + 1] = { line = e.line, text = v.wrong, hint = v.help }
      elseif e.unknown then
        if v.unknown then reason(e, v.unknown, v.missing) else differ(e, e.gives .. " is " .. v.text) end
      elseif v.unknown then differ(e, e.gives .. " is unknown: " .. v.unknown)
      elseif e.text or e.flag ~= nil then
        local want = e.text or tostring(e.flag)
        if v.text ~= want then differ(e, e.gives .. " is " .. v.text .. ", wanted " .. want) end
      else
        local a = e.amounts.value
        local off = off_by(a, v)
        if off then differ(e, e.gives .. " is " .. off .. ", wanted " .. show(a)) end
      end
    else
      local found, there, any = nil, {}, false
      for _, o in ipairs(got.outcomes) do
        if o.rule == e.rule then
          any = true
          if not e.subject or o.subject == e.subject then found = found or o end
          there[#there + 1] = o.subject
        end
      end
      if not any then wrong[#wrong + 1] = { line = e.line, text = "there is no rule " .. e.rule }
      elseif not found then
        wrong[#wrong + 1] = { line = e.line, text = e.rule .. " judges nothing called " .. e.subject,
                              hint = #there > 0 and "it judges " .. table.concat(there, ", ") or nil }
      elseif found.outcome ~= e.outcome then
        local numbers = found.value and found.value.text .. " against " .. found.limit.text .. " "
            .. (found.governs or "") or found.words or ""
        differ(e, e.rule .. " is '" .. found.outcome .. "' (" .. numbers .. "), wanted '" .. e.outcome .. "'")
      else
        for _, name in ipairs { "value", "limit", "margin" } do
          local a = e.amounts[name]
          local off = a and off_by(a, found[name])
          if off then differ(a, e.rule .. ": the " .. name .. " is " .. off .. ", wanted " .. show(a)) end
        end
        for _, key in ipairs { "governs", "cites", "ask", "nearest" } do
          local words = found[key] or ""
          if e[key] and not (key == "nearest" and words == e[key] or key ~= "nearest" and
              words:find(e[key], 1, true)) then
            differ(e, e.rule .. ": " .. key .. " '" .. words .. "', wanted '" .. e[key] .. "'")
          end
        end
        if e.flips then
          local a, flip = e.amounts.flip, found.flip
          if not flip or flip.path ~= e.flips then
            differ(a, e.rule .. " flips at " .. (flip and flip.path or "no input") .. ", wanted " .. e.flips)
          elseif off_by(a, flip) then differ(a, e.rule .. " flips at " .. off_by(a, flip) .. ", wanted " .. show(a)) end
        end
        reason(e, found.words, found.missing)
      end
    end
  end
  return differs, wrong
end

-- ---- what every rule and every result must have --------------------------------------------------------------------

local function is_a_hair(margin, limit)
  local whole = margin.value:find "^-?%d+$" and limit.value:find "^-?%d+$"
  return math.abs(margin.si) <= math.max(HAIR * math.abs(limit.si), whole and 1 or 0)
end

local function complete(all, library)
  local missing = {}
  local function lacks(text) missing[#missing + 1] = text end
  local rows, given = {}, {}
  for _, case in ipairs(all) do
    for _, e in ipairs(case.expects) do
      if e.rule then
        local r = rows[e.rule] or {}
        rows[e.rule] = r
        r[e.outcome] = true
        local a = e.amounts
        if a.margin and a.margin.si then r.compares = true end
        if e.outcome == "broken" and a.margin and is_a_hair(a.margin, a.limit) then r.hair = true end
      elseif e.result and not e.unknown then given[e.result] = true end
    end
  end
  for _, rule in ipairs(library.rules) do
    local r, free = rows[rule.id] or {}, NO_ROW[rule.id] or {}
    local wanted = { "holds", "broken", "unknown" }
    if r.compares then wanted[#wanted + 1] = "hair" end
    if rule.each or rule.applies then wanted[#wanted + 1] = "not applicable" end
    for _, sort in ipairs(wanted) do
      local words = sort == "hair" and "missed by a hair" or sort
      if not r[sort] and not free[sort] then lacks("rule " .. rule.id .. " has no row '" .. words .. "'")
      elseif r[sort] and free[sort] then lacks("rule " .. rule.id .. " has a row '" .. words ..
          "': take it out of NO_ROW") end
    end
  end
  for _, result in ipairs(library.results) do
    if not given[result] and not NO_CASE[result] then lacks("no case gives the result " .. result)
    elseif given[result] and NO_CASE[result] then lacks(result .. " has a case: take it out of NO_CASE") end
  end
  return missing
end

-- The file that a reviewer reads through: every standard rule in its order, a job in which it is broken, or unknown
-- where it cannot be, and one in which it is silent.
local EVERY_RULE = "tests/results/every-rule.case"

local function every_rule(cases, rules)
  local missing, bad, silent, last = {}, {}, {}, "R0"
  local function lacks(line, text) missing[#missing + 1] = { line = line, text = text } end
  for _, case in ipairs(cases) do
    local e = case.expects[1]
    local id = case.name:match "^R%d+"
    if #case.expects ~= 1 or e.rule ~= id then
      lacks(case.line, "a case is about the one rule that its name begins with")
    elseif tonumber(id:sub(2)) < tonumber(last:sub(2)) then lacks(case.line, id .. " stands behind " .. last)
    else
      last = id
      local quiet = e.outcome == "holds" or e.outcome == "not applicable"
      if not case.name:find("^R%d+ " .. (quiet and "silent" or e.outcome) .. ": ") then
        lacks(case.line, "the name says 'R02 broken: ...', 'R07 unknown: ...' or 'R02 silent: ...'")
      end
      if quiet then silent[id] = true else bad[id] = bad[id] == "broken" and "broken" or e.outcome end
    end
  end
  for _, rule in ipairs(rules) do
    local free = NO_ROW[rule.id] and NO_ROW[rule.id].broken
    if bad[rule.id] ~= (free and "unknown" or "broken") then
      lacks(nil, rule.id .. " has no case '" .. (free and "unknown" or "broken") .. "'")
    end
    if not silent[rule.id] then lacks(nil, rule.id .. " has no case 'silent'") end
  end
  return missing
end

-- ---- the reader's own faults ---------------------------------------------------------------------------------------

local GOOD = "case good\n job egg-farm\n from hand\n gives rack.east.module_count = 8\n"
local FAULTS = {
  { "cas a\n", 1, "no such word: cas" },
  { "job egg-farm\nset a = b\n", 2, "before the first case" },
  { GOOD .. GOOD, 5, "a case of this name" },
  { "case a\n job egg-farm\n gives rack.east.module_count = 8\n", 1, "no source" },
  { "case a\n job egg-farm\n from hand\n", 1, "expects nothing" },
  { "case a\n from hand\n gives rack.east.module_count = 8\n", 1, "no job" },
  { "case a\n job nowhere\n from hand\n gives rack.east.module_count = 8\n", 2, "no job is called nowhere" },
  { "case a\n job egg-farm\n from hand\n gives rack.east.tops = 8 in\n", 4, "no field or result 'tops'" },
  { "case a\n job egg-farm\n from hand\n set rack.east.tlit = 8deg\n gives rack.east.module_count = 8\n", 4, "tlit" },
  { "case a\n job egg-farm\n from hand\n without site.frots\n gives rack.east.module_count = 8\n", 4, "frots" },
  { "case a\n job egg-farm\n from hand\n gives rack.east.top_edge = 102 in within 6 in\n", 4, "more than 5 %" },
  { "case a\n job egg-farm\n from hand\n gives rack.east.top_edge = 102 in within 1 lb\n", 4, "the tolerance is mass" },
  { "case a\n job egg-farm\n from hand\n gives rack.east.top_edge = 102 inn within 1\n", 4, "inn" },
  { "case a\n job egg-farm\n from hand\n rule R03 rack.east holds\n", 4, "a bare outcome" },
  { "case a\n job egg-farm\n from hand\n rule R03 rack.east holds\n value 8 ft\n", 4, "three" },
  { "case a\n job egg-farm\n from hand\n rule R03 rack.east unknown\n", 4, "must say why" },
  { "case a\n job egg-farm\n from hand\n rule R03 rack.east fails\n", 4, "'rule' wants" },
  { "case a\n job egg-farm\n from hand\n rule R999 unknown\n says x\n", 4, "there is no rule R999" },
  { "case a\n job egg-farm\n from hand\n rule R03 rack.west holds\n says x\n", 4, "judges nothing called rack.west" },
  { "case a\n job egg-farm\n from hand\n gives rack.east.top_edge 102 in\n", 4, "'gives' wants" },
  { "case a\n job egg-farm\n from hand\n value 102 in\n", 4, "belongs under a rule" },
  { "case a\n job egg-farm\n from hand\n rule R07 job holds\n says no\n flips 102 in\n", 6, "'flips' belongs" },
  { "case a\n job egg-farm\n from\n gives rack.east.module_count = 8\n", 3, "nothing stands behind 'from'" },
}
-- What must come out as a difference, not as a fault of the file.
local DIFFERENCES = {
  "gives rack.east.module_count = 9", "gives rack.east.top_edge = 102.3 in within 0.01 in",
  "gives rack.east.top_edge = 102.2 lb within 1 %", "gives rack.east.tilt unknown\n says x",
  'gives rack.east.north = "true"', "rule R03 rack.east broken\n says x", "rule R07 job holds\n says no well",
  "rule R14 rack.east holds\n value 23.25 in\n limit 20 in\n margin 3.5 in within 0.1 in",
  "rule R14 rack.east holds\n value 23.25 in\n limit 20 in\n margin 3.25 in\n governs the well",
  "rule R14 rack.east holds\n value 23.25 in\n limit 20 in\n margin 3.25 in\n flips site.frost = 11.25 in",
  "rule R14 rack.east holds\n value 23.25 in\n limit 20 in\n margin 3.25 in\n flips site.snow_depth = 11.2 in",
  "rule R14 rack.east holds\n value 23.25 in\n limit 20 in\n margin 3.25 in\n cites the moon",
}

local function read_and_settle(text)
  local cases, wrong, bad = read_cases(text)
  if #wrong == 0 then
    for _, case in ipairs(cases) do check_shape(case, bad) end
    settle_amounts(cases, bad)
  end
  table.sort(wrong, function(a, b) return a.line < b.line end)
  return cases, wrong
end

local function try_all(cases)
  local differs, wrong = {}, {}
  for _, case in ipairs(cases) do
    local got, why = run_case(case)
    if got then
      case.differs, case.wrong = judge(case, got)
      for _, e in ipairs(case.expects) do if e.gives then e.result = got.values[e.at].result end end
    else case.differs, case.wrong = {}, why end
    table.move(case.differs, 1, #case.differs, #differs + 1, differs)
    table.move(case.wrong, 1, #case.wrong, #wrong + 1, wrong)
  end
  return differs, wrong
end

-- ---- all -----------------------------------------------------------------------------------------------------------

local passed, failed = 0, 0
local function fail(where, complaints)
  failed = failed + 1
  for _, c in ipairs(complaints) do
    print(where .. (c.line and ":" .. c.line or "") .. ": " .. c.text .. (c.hint and "\n    help: " .. c.hint or ""))
  end
end

local function try_the_reader()
  for _, fault in ipairs(FAULTS) do
    local cases, wrong = read_and_settle(fault[1])
    if #wrong == 0 then wrong = select(2, try_all(cases)) end
    local w = wrong[1]
    if w and w.line == fault[2] and w.text:find(fault[3], 1, true) then passed = passed + 1
    else fail("tests/results.lua", { { text = "'" .. fault[3] .. "' is not noticed in\n" .. fault[1] ..
        (w and "but at line " .. w.line .. ": " .. w.text or "") } }) end
  end
  for _, lines in ipairs(DIFFERENCES) do
    local cases, wrong = read_and_settle("case a\n job egg-farm\n from hand\n " .. lines .. "\n")
    local differs, more = try_all(cases)
    if #wrong == 0 and #more == 0 and #differs > 0 then passed = passed + 1
    else fail("tests/results.lua", { { text = "no difference is seen in\n" .. lines },
        wrong[1] or more[1] }) end
  end
end

local files, whole = arg, #arg == 0
if whole then
  files = {}
  local pipe = assert(io.popen "LC_ALL=C ls tests/results/*.case")
  for name in pipe:lines() do files[#files + 1] = name end
  pipe:close()
  try_the_reader()
end
local all = {}
for _, path in ipairs(files) do
  local text = read(path)
  if not text then fail(path, { { text = "cannot be read" } })
  else
    local cases, wrong = read_and_settle(text)
    if #wrong > 0 then fail(path, wrong)
    else
      try_all(cases)
      for _, case in ipairs(cases) do
        all[#all + 1], case.file = case, path
        if #case.wrong + #case.differs == 0 then passed = passed + 1
        else
          for _, d in ipairs(case.differs) do d.text = case.name .. ": " .. d.text end
          fail(path, table.move(case.differs, 1, #case.differs, #case.wrong + 1, case.wrong))
        end
      end
    end
  end
end
if whole then
  local egg = "examples/egg-farm"
  local library = assert(in_host(egg, RUN, { library = true, script = egg .. "/job.sline" }))
  local through = {}
  for _, case in ipairs(all) do if case.file == EVERY_RULE then through[#through + 1] = case end end
  local gaps = every_rule(through, library.rules)
  if #gaps > 0 then fail(EVERY_RULE, gaps) else passed = passed + 1 end
  local missing = complete(all, library)
  for _, text in ipairs(missing) do fail("tests/results", { { text = text } }) end
  if #missing == 0 then passed = passed + 1 end
end
print(("[  PASSED  ] %d test(s)."):format(passed))
if failed > 0 then print(("[  FAILED  ] %d test(s)."):format(failed)) end
return failed == 0 and 0 or 1
