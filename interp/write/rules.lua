-- SPDX-License-Identifier: MIT
-- Which rules judge a job, from which file, and against whose limits: `stringline rules JOB`.
local record = import "model.record"
local run = import "model.run"
local rule = import "model.rule"
local judge = import "model.judge"
local util = import "model.util"
local words = import "write.words"
local verdict = import "write.verdict"
local document = import "write.document"
local identity = import "write.identity"
local limits = import "write.limits"

local function file_of(place) return host.place { source = place.source, line = 0, col = 0 } end

-- ---- where rules come from -----------------------------------------------------------------------------------------

-- What a file is to the job, by its path: "house two-ridges"; of one that another reads with `use`: "used by ...".
local function roles()
  local of = {}
  for _, f in ipairs(run.role_files) do of[f.path] = f.role .. " " .. f.name end
  return of
end

-- { title, from, file, groups = { group of outcomes ... } } of the library and of each file with rules, in the order in
-- which the rules are judged; `from` is what it is to the job, `file` where it stands, nil of the library.
local function origins(groups, options)
  local list, by, known = {}, {}, roles()
  local function origin(key, from, file)
    if not by[key] then
      by[key] = { from = from, file = file, title = from .. (file and ", " .. file or ""), groups = {} }
      list[#list + 1] = by[key]
    end
    return by[key]
  end
  for _, g in ipairs(groups) do
    local place = g.rule.place
    local file = place and file_of(place)
    local own = file == options.script
    local of = file and origin(file, own and "this job" or known[file] or "script", file) or
        origin("", "standard rules")
    table.insert(of.groups, g)
  end
  return list
end

-- ---- limits --------------------------------------------------------------------------------------------------------

-- Which rules ask for which limit: name -> { id ... } in the order of the rules, each once; judged once more to see.
local function readers(groups)
  local of = {}
  for _, g in ipairs(groups) do
    local met = {}
    for _, o in ipairs(g.list) do
      if o.proxy then
        for _, name in ipairs(rule.limits_asked(judge.try, g.rule, o.proxy)) do
          if not met[name] then
            met[name], of[name] = true, of[name] or {}
            table.insert(of[name], g.rule.id)
          end
        end
      end
    end
  end
  return of
end

-- ---- tables --------------------------------------------------------------------------------------------------------

-- "strings upper", "6 x post", "2 x strings and 1 x run": what a rule judged.
local function judged_of(g)
  if not g.rule.each then return "job" end
  if #g.list == 1 then
    local subject = words.subject(g.worst)
    return subject ~= "" and subject or g.rule.each
  end
  local kinds, count = {}, {}
  for _, o in ipairs(g.list) do
    local kind = record.inside[o.proxy].def.name
    if not count[kind] then kinds[#kinds + 1] = kind end
    count[kind] = (count[kind] or 0) + 1
  end
  for i, kind in ipairs(kinds) do kinds[i] = count[kind] .. " x " .. (kind:gsub("_", " ")) end
  return util.list(kinds)
end

-- "holds", "broken, 1 of 3", "waived by Odessa Pruitt".
local function outcome_of(g)
  local n = 0
  for _, o in ipairs(g.list) do
    if (o.waiver and "waived" or o.outcome) == g.outcome then n = n + 1 end
  end
  local text = g.outcome
  if g.outcome == "waived" then text = "waived by " .. g.worst.waiver.by end
  return n < #g.list and text .. ", " .. n .. " of " .. #g.list or text
end

local function rule_rows(groups)
  local rows, idle = {}, {}
  for _, g in ipairs(groups) do
    local def, place = g.rule, g.rule.place
    if g.outcome == "not applicable" then idle[#idle + 1] = { def.id, def.says, g.worst.reason }
    else
      rows[#rows + 1] = { def.id, def.says, def.severity, judged_of(g), outcome_of(g), words.cite(def.cite),
          rule.may_waive(def), place and place.line > 0 and tostring(place.line) or "" }
    end
  end
  return rows, idle
end

local columns = { "rule", "says", "severity", { "judges", join = true }, { "outcome", join = true },
    { "where it stands", key = "cite" }, { "may waive", key = "may_waive", lead = "may waive", join = true },
    { "line", lead = "line", join = true } }
local idle_columns = { "rule", "says", { "why", join = true } }

local function put_rules(d, list)
  for _, x in ipairs(list) do
    local rows, idle = rule_rows(x.groups)
    d:heading(x.title:sub(1, 1):upper() .. x.title:sub(2))
    if #rows > 0 then d:table(table.move(columns, 1, #columns, 1, {}), rows, { stacked = true }) end
    if #idle > 0 then
      if #rows > 0 then d:gap() end
      d:subheading("Not applicable here")
      d:table(table.move(idle_columns, 1, #idle_columns, 1, {}), idle, { stacked = true })
    end
    d:gap()
  end
end

-- What rules ask for and nobody gives.
local function put_lacking(d, of)
  local known, lacking = {}, {}
  for _, l in ipairs(rule.limits_in_force()) do known[l.name] = true end
  for _, n in ipairs(rule.limits_of_none()) do known[n.name] = true end
  for name, ids in host.sorted(of) do
    if not known[name] then lacking[#lacking + 1] = name .. " (" .. table.concat(ids, " ") .. ")" end
  end
  if #lacking > 0 then d:para("Asked for and given by nobody: " .. table.concat(lacking, ", ") .. ".") end
end

-- ---- for programs --------------------------------------------------------------------------------------------------

local function facts_of(as, list)
  local out = as.array {}
  for _, x in ipairs(list) do
    for _, g in ipairs(x.groups) do
      local def, place = g.rule, g.rule.place
      local idle = g.outcome == "not applicable"
      out[#out + 1] = as.object { { "id", def.id }, { "from", x.from }, { "file", x.file },
          { "line", place and place.line > 0 and place.line or nil }, { "severity", def.severity },
          { "says", def.says }, { "cite", words.cite(def.cite) }, { "may_waive", rule.may_waive(def) },
          { "outcome", g.outcome }, { "subjects", idle and 0 or #g.list }, { "why", idle and g.worst.reason or nil } }
    end
  end
  return out
end

return function(outcomes, status, options)
  local groups = verdict.groups(outcomes)
  local d = document.new("rules", "Rules of the job")
  d.status = status
  local list = origins(groups, options)
  d:fact("exit", status)
  d:fact("verdict", verdict.line(outcomes, status))
  d:fact("rules", function(as) return facts_of(as, list) end)
  d:para(verdict.line(outcomes, status), nil, nil, status == 0 and "good" or "bad")
  d:para("Which rules judge this job, and whose limits they hold it against; what is broken or unknown is told by " ..
      "`stringline check " .. util.typed(options.script) .. "`.")
  d:gap()
  put_rules(d, list)
  local of = readers(groups)
  if next(of) or next(run.limits) or next(run.no_limits) then d:heading("Limits") end
  limits.put(d, outcomes, of)
  put_lacking(d, of)
  identity.put(d, options, false)
  return d
end
