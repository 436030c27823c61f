-- SPDX-License-Identifier: MIT
-- The report: verdict, page one, rules, the sheets in short, inputs, cautions; and what `check` says of it.
local record = import "model.record"
local run = import "model.run"
local util = import "model.util"
local words = import "write.words"
local verdict = import "write.verdict"
local document = import "write.document"
local identity = import "write.identity"
local report = {}

-- ---- page one ------------------------------------------------------------------------------------------------------

local function head(d, sheets, options)
  local rows = sheets.head()
  if options.alternate then table.insert(rows, 2, { "alternate", options.alternate }) end
  if options.variant then table.insert(rows, 2, { "variant", options.variant }) end
  for _, list in ipairs { run.overrides, run.limit_changes, run.literals } do
    for _, o in ipairs(list) do
      if o.from:find "^%-%-set" or o.from:find "^vary " then rows[#rows + 1] = { "changed", o.from } end
    end
  end
  for _, o in host.sorted(run.instead) do rows[#rows + 1] = { "changed", o.from } end
  if run.vendors then rows[#rows + 1] = { "changed", run.vendors.from } end
  d:table({ { "", key = "what" }, { "", key = "says", wrap = true } }, rows)
  d:para(sheets.aid)
end

-- What was waived, went wrong, was guessed or given with a tolerance stands on page one; there is mostly nothing of it.
local function page_one(d, groups, outcomes, options)
  local told = #record.tolerances() > 0
  for _, t in next, run.told do told = told or t.how == "guess" and not t.unused end
  for i = 1, #groups do
    local g = groups[i]
    told = told or g.outcome == "broken" or g.outcome == "unknown"
  end
  if #run.papers > 0 then import("write.papers").page_one(d) end
  for _, s in ipairs(outcomes.withheld or {}) do d:outcome("WITHHELD " .. s.name .. ":", s.why, "bad") end
  if #run.waivers > 0 then import("write.waivers")(d, outcomes) end
  if told then import("write.page_one")(d, groups, outcomes, options) end
end

-- ---- rules ---------------------------------------------------------------------------------------------------------

-- Each citation once, with its rules.
local function sources(groups)
  local list, by = {}, {}
  for i = 1, #groups do
    local g = groups[i]
    if g.outcome == "holds" then
      local cite = words.cite(g.rule.cite)
      local f = g.worst.finding
      local besides = words.other_limits(f)
      if f.cite and f.cite ~= "maker's data sheet" then
        cite = cite .. " (" .. (besides and f.whose .. ", " or "") .. words.cite(f.cite) ..
            (besides and "; " .. besides or "") .. ")"
      end
      local ids = by[cite]
      if ids then ids[#ids + 1] = g.rule.id
      else
        ids = { g.rule.id, cite = cite }
        by[cite], list[#list + 1] = ids, ids
      end
    end
  end
  local parts = {}
  for i = 1, #list do parts[i] = table.concat(list[i], " ") .. ": " .. list[i].cite end
  return table.concat(parts, "; ")
end

-- The numbers of a rule that holds: of the nearest to its limit, and how far the others reach.
local function numbers(g)
  local o = g.worst
  local subject = words.subject(o)
  if #g.list == 1 or subject == "" then return words.finding(o.finding) end
  if not o.finding.ratio then return words.finding(o.finding) .. " (all " .. #g.list .. ")" end
  local others = host.room(0, #g.list)
  for _, x in ipairs(g.list) do if x ~= o then others[#others + 1] = x end end
  return words.finding(o.finding) .. " (" .. subject .. ", " .. words.and_more(others, o.finding) .. ")"
end

local function from_memory(d, outcomes)
  local list = verdict.memory_line(outcomes)
  if list then d:para("Stop rules that hold only as far as values from memory are right: " .. list .. ".") end
end

local parts = {
  { by = "limit", numbers = "value and limit", "Compared with a limit, tightest first" },
  { by = "statement", numbers = "states", "As the script states, compared with nothing" },
  { by = "construction", numbers = "has and needs",
    "By construction: what the program orders or assumes against what it needs itself" },
}

local function holding(d, groups, outcomes)
  local idle, any = {}, false
  for i = 1, #groups do
    local g = groups[i]
    any = any or g.outcome == "holds"
    if g.outcome == "not applicable" then idle[#idle + 1] = g.rule.id .. " (" .. g.worst.reason .. ")" end
  end
  if not any then return end
  d:heading("Rules that hold")
  for _, part in ipairs(parts) do
    local rows = {}
    for _, g in ipairs(verdict.tightest(groups, part.by)) do
      local f = g.worst.finding
      rows[#rows + 1] = { g.rule.id, g.rule.severity, g.rule.says, numbers(g),
          f.value ~= nil and f.ratio and { text = words.ratio(f), value = f.ratio, unit = "%" } or "" }
    end
    if #rows > 0 then
      d:gap()
      d:subheading(part[1])
      local columns = { "rule", "severity", { "says", wrap = true }, { part.numbers, wrap = true } }
      if part.by == "limit" then columns[5] = { "margin", right = true } end
      d:table(columns, rows)
    end
  end
  d:gap()
  d:para("Sources of these limits: " .. sources(groups) .. ".")
  d:para("Which table values were read second-hand or stand from memory is said at the foot of each sheet that " ..
      "rests on them: `stringline sheet`.")
  from_memory(d, outcomes)
  if #idle > 0 then d:para("Not applicable: " .. table.concat(idle, ", ") .. ".") end
end

-- ---- inputs --------------------------------------------------------------------------------------------------------

local function input(path, value, unit) return { text = words.as_written(value, unit), value = value, path = path } end

-- What was not stated; of many records of one kind that took the same, the first stands for all.
local function defaults()
  local groups, by = {}, {}
  for _, x in ipairs(run.defaults) do
    if not x.unused then
      local cell = input(x.path, x.value, x.field.type == "ratio" and "%" or nil)
      local of = by[x.field] or {}
      by[x.field] = of
      if not of[cell.text] then
        of[cell.text] = {}
        groups[#groups + 1] = of[cell.text]
      end
      table.insert(of[cell.text], { x.path, cell, x.field.says })
    end
  end
  local rows = {}
  for _, alike in ipairs(groups) do
    if #alike > words.few then
      alike[1][1] = alike[1][1] .. " and " .. #alike - 1 .. " more"
      rows[#rows + 1] = alike[1]
    else table.move(alike, 1, #alike, #rows + 1, rows) end
  end
  return rows
end

local function inputs(d, sheets)
  d:heading("Inputs")
  local rows = {}
  for path, t in host.sorted(run.told) do
    local v = record.at(path)
    if v ~= nil and not t.unused then
      rows[#rows + 1] = { path, { text = words.input(path, v), value = v, path = path },
          t.how:gsub("_", " ") .. (t.by and ": " .. t.by or "") }
    end
  end
  if #rows > 0 then
    d:table({ { "how it is known", key = "path" }, { "value", wrap = true }, { "", key = "known by", wrap = true } },
        rows)
  end
  rows = {}
  for _, t in ipairs(record.tolerances()) do
    rows[#rows + 1] = { t.path, { text = words.show(t.value) .. " +- " .. words.show(t.tolerance), value = t.value,
        path = t.path } }
  end
  if #rows > 0 then
    d:gap()
    d:table({ { "tolerances", key = "path" }, { "", key = "value", wrap = true } }, rows)
  end
  rows = defaults()
  if #rows > 0 then
    d:gap()
    d:table({ { "not stated, so by default", key = "path" }, { "value", wrap = true },
        { "", key = "meaning", wrap = true } }, rows)
  end
  sheets.inputs(d)
  if #run.alternates > 0 then
    d:gap()
    d:para("Alternates, each run with --alternate NAME: " .. table.concat(run.alternates, ", ") .. ".")
  end
end

-- ---- documents -----------------------------------------------------------------------------------------------------

local function begin(name, outcomes, status, options)
  local d = document.new(name, name == "report" and "Report" or "Verdict")
  d.outcomes, d.status, d.options = outcomes, status, options
  local whose = options.several and options.script .. ": " or ""          -- one script of several
  if options.several then d:fact("script", options.script) end
  d:para(whose .. verdict.line(outcomes, status), nil, nil, status == 0 and "good" or "bad")
  import("write.caveats").put(d, outcomes)
  return d
end

function report.report(outcomes, status, options)
  local sheets = import "write.sheets"
  local d, groups = begin("report", outcomes, status, options), verdict.groups(outcomes)
  d:gap()
  head(d, sheets, options)
  d:gap()
  page_one(d, groups, outcomes, options)
  sheets.short(d, outcomes)
  holding(d, groups, outcomes)
  if run.results[1] then import("write.own_results").report(d) end
  inputs(d, sheets)
  sheets.last(d)
  if options.format == "html" and host.drawing then import "draw.report"(d, outcomes, options) end
  identity.put(d, options, true)
  d:fact("snapshot", function(as) return as.plain(import("model.snapshot").take(outcomes, status, options)) end)
  return d
end

function report.check(outcomes, status, options)
  local d = begin("check", outcomes, status, options)
  d:gap()
  page_one(d, verdict.groups(outcomes), outcomes, options)
  d:gap()
  from_memory(d, outcomes)
  identity.put(d, options, false)
  return d
end

return report
