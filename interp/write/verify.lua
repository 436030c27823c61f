-- SPDX-License-Identifier: MIT
-- Holds a report against what today's program makes of today's files.
local identity = import "write.identity"
local read_report = import "write.report_reader"
local document = import "write.document"

local function folder_of(path) return path:match("^.*/") or "" end

-- The job's script: as named on the command line; else of the same name beside the report, else as the report has it,
-- seen from the current folder. One that is unchanged goes before one that has only the name. A report that this
-- program wrote has no absolute path: one that has is not followed.
local function find_script(report_path, facts, named)
  if named then return named end
  local script
  for _, f in ipairs(facts) do if f.what == "script" and not script then script = f end end
  if not script or not script.path then return nil end
  local first
  local whole = script.path:gsub("%s", "")              -- a long path may have been broken where it has no blank
  local beside = folder_of(report_path)
  local places = { beside .. script.path:match("[^/]*$"), beside .. whole:match("[^/]*$") }
  if not whole:find "^/" then places[3], places[4] = script.path, whole end
  for _, path in ipairs(places) do
    local ok, text = pcall(host.read, path)
    if ok and host.sha256(text):sub(1, #script.sha256) == script.sha256 then return path end
    first = first or ok and path
  end
  return first, script.path
end

-- The options of the command line that the report was made with.
local function options_of(facts, script, o)
  local options = { command = "run", script = script, words = { script }, set = {}, format = o.format }
  for _, f in ipairs(facts) do
    if f.what == "set" then table.insert(options.set, f.value)
    elseif f.what == "on" or f.what == "alternate" then options[f.what] = f.value end
  end
  return options
end

-- ---- what has changed ----------------------------------------------------------------------------------------------

local function same_hash(a, b)
  local n = math.min(#a, #b)
  return a:sub(1, n) == b:sub(1, n)
end

-- A name may have been broken where it is wrapped, so that its blanks do not count.
local function key_of(f) return f.what .. " " .. (f.what == "script" and "" or (f.path or ""):gsub("%s", "")) end

local function there(path)
  local ok, found = pcall(host.find, path or "")
  return ok and found
end

-- { what, how } of all that differs between the two lists; `whole`: all files were read today.
local function changes_of(before, today, whole)
  local list, by, had = {}, {}, {}
  local function add(f, how) list[#list + 1] = { what = f.what, path = f.path, how = how } end
  for _, f in ipairs(today) do by[key_of(f)] = by[key_of(f)] or f end
  for _, f in ipairs(before) do
    local now = by[key_of(f)]
    had[key_of(f)] = true
    if f.version then
      local is = now and now.version or "none"
      if f.version ~= is then add(f, f.version .. " then, " .. is .. " today") end
    elseif f.sha256 then
      if now then
        if not same_hash(f.sha256, now.sha256) then add(f, "changed") end
      elseif not there(f.path) then add(f, "gone")
      elseif whole then add(f, "no longer read") end
    end
  end
  for _, f in ipairs(today) do if (f.sha256 or f.version) and not had[key_of(f)] then add(f, "new") end end
  return list
end

-- ---- verdicts ------------------------------------------------------------------------------------------------------

local function word_of(o) return o.outcome .. (o.waiver and ", waived" or "") end

-- By rule and subject, numbered where a rule has several without a name.
local function by_rule(outcomes)
  local by, order, count = {}, {}, {}
  for _, o in ipairs(outcomes) do
    local name = o.id .. (o.subject ~= "" and " " .. o.subject or "")
    count[name] = (count[name] or 0) + 1
    local key = count[name] > 1 and name .. " (" .. count[name] .. ")" or name
    by[key] = o.outcome
    order[#order + 1] = key
  end
  return by, order
end

-- { rule, before, today } of each rule whose outcome is another one; a report in JSON has them all.
local function differing(report, outcomes)
  local now = {}
  for i, o in ipairs(outcomes) do now[i] = { id = o.rule.id, subject = o.subject or "", outcome = word_of(o) } end
  local before, order = by_rule(report.outcomes)
  local today, today_order = by_rule(now)
  local list = {}
  for _, key in ipairs(order) do
    if before[key] ~= today[key] then
      list[#list + 1] = { rule = key, before = before[key], today = today[key] or "not judged" }
    end
  end
  for _, key in ipairs(today_order) do
    local told = report.all or today[key]:find("^broken") or today[key]:find("^unknown")
    if told and not before[key] then list[#list + 1] = { rule = key, before = "not judged", today = today[key] } end
  end
  return list
end

-- ---- the answer ----------------------------------------------------------------------------------------------------

local function answer(a)
  local d = document.new("verify", "Held against today")
  local head = a.today == nil and "NO VERDICT today" or a.same and "the same verdict today" or "ANOTHER VERDICT today"
  d:para(a.report .. ": " .. head .. (a.edited and ", but the report was edited" or "") .. ".", nil, nil,
      a.same and not a.edited and "good" or "bad")
  d:inside(function()
    d:fact_line("then", a.before)
    if a.today and not a.same_line then d:fact_line("today", a.today) end
    if a.failure then d:fact_line("today", a.failure) end
  end)
  if a.edited then d:para("It is not as it was written: its last line does not fit the lines above it.") end
  if a.unsealed then d:para("Whether it is as it was written cannot be told: it has no seal.") end
  local rows = {}
  for i, r in ipairs(a.rules) do rows[i] = { r.rule, r.before, r.today } end
  if #rows > 0 then
    d:heading("Rules")
    d:table({ { "rule", wrap = true }, "then", "today" }, rows)
  end
  d:heading("What it was made from")
  rows = {}
  for i, c in ipairs(a.changes) do rows[i] = { c.how, c.what, c.path or "" } end
  if #rows == 0 then d:para("All of it is the same.")
  else d:table({ { "", key = "how" }, { "", key = "what" }, { "", key = "name", wrap = true } }, rows) end
  for _, key in ipairs { "report", "same", "edited" } do d:fact(key, a[key]) end
  d:fact("sealed", not a.unsealed)
  for _, key in ipairs { "before", "today", "failure" } do d:fact(key, a[key]) end
  local function list(name, of, keys)
    d:fact(name, function(as)
      local out = as.array {}
      for i, x in ipairs(of) do
        local one = as.object {}
        for _, k in ipairs(keys) do one[#one + 1] = { k, x[k] } end
        out[i] = one
      end
      return out
    end)
  end
  list("differing", a.rules, { "rule", "before", "today" })
  list("changes", a.changes, { "what", "path", "how" })
  return d
end

local function same_line(a, b) return a ~= nil and a:gsub("%s", "") == b:gsub("%s", "") end

-- judge(options) declares and judges a job: its outcomes and status.
return function(o, judge)
  local path = o.words[1]
  local report = read_report(host.read(path))
  if not report then
    host.raise { code = "F024", text = "'" .. path .. "' is no report of stringline's, or not a whole one",
        help = "a report as text, HTML or JSON, with its end: stringline run job.sline -o report.txt" }
  end
  local script, looked = find_script(path, report.facts, o.words[2])
  if not script then
    host.raise { code = "F021", text = "cannot read the script " .. (looked or "of this report"),
        help = "name it, too: stringline verify " .. path .. " job.sline" }
  end
  host.beside(script)
  local options = options_of(report.facts, script, o)
  local ok, outcomes, status = pcall(judge, options)
  if not ok and type(outcomes) ~= "table" then error(outcomes, 0) end          -- no message for a person
  local a = { report = path, before = report.line, edited = report.intact == false, unsealed = report.intact == nil,
      rules = {}, changes = changes_of(report.facts, identity.facts(options), ok) }
  if ok then
    a.today = import("write.verdict").line(outcomes, status)
    if report.outcomes then a.rules = differing(report, outcomes) end
  else a.failure = host.message(outcomes) end
  a.same_line = same_line(a.today, a.before)
  a.same = a.same_line and #a.rules == 0
  return a.same and not a.edited and 0 or 1, answer(a)
end
