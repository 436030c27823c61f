-- SPDX-License-Identifier: MIT
-- The report: verdict, page one, rules, the sheets in short, inputs, cautions; and what `check` says of it.
local record = import "model.record"
local whatif = import "model.whatif"
local run = import "model.run"
local rule = import "model.rule"
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
  for _, o in ipairs(run.overrides) do
    if o.from:find("^%-%-set") then rows[#rows + 1] = { "changed", o.from } end
  end
  d:table({ { "", key = "what" }, { "", key = "says", wrap = true } }, rows)
  d:para(sheets.aid)
end

-- Inputs that were guessed, and the stop rules that rest on each.
local function guesses(outcomes)
  local list = {}
  for path, t in host.sorted(run.told) do
    if t.how == "guess" then list[#list + 1] = { path = path, rules = {}, has = {} } end
  end
  if #list == 0 then return list end
  local trace = import "write.trace"
  for _, o in ipairs(outcomes) do
    if o.rule.severity == "stop" and o.proxy and o.outcome ~= "not applicable" then
      local inputs = trace.inputs(trace.rule(o.rule, o.proxy))
      for _, g in ipairs(list) do
        if inputs[g.path] and not g.has[o.rule.id] then
          g.has[o.rule.id] = true
          g.rules[#g.rules + 1] = o.rule.id
        end
      end
    end
  end
  return list
end

local function guessed(d, outcomes)
  for _, g in ipairs(guesses(outcomes)) do
    if #g.rules > 0 then
      local t, one = run.told[g.path], #g.rules == 1
      d:outcome("CAUTION:", g.path .. " is a guess" .. (t.by and " (" .. t.by .. ")" or "") .. ", " ..
          words.show(record.at(g.path)) .. ", and the stop rule" .. (one and " " or "s ") .. util.list(g.rules) ..
          " rest" .. (one and "s" or "") .. " on it. " .. words.source(g.path), "warn")
    end
  end
end

local function waived(d, outcomes)
  for _, w in ipairs(run.waivers) do
    local hit = {}
    for _, o in ipairs(outcomes) do
      if o.waiver == w then
        local subject = words.subject(o)
        local numbers = o.finding and words.finding(o.finding) or o.why and host.message(o.why) or ""
        hit[#hit + 1] = (subject ~= "" and subject .. ": " or "") .. numbers
      end
    end
    local def = rule.find(w.rule)
    local signed = w.by .. " as " .. w.as .. ", " .. w.on .. ": " .. w.reason
    if #hit > 0 then
      d:outcome("WAIVED " .. w.rule .. ":", def.says .. ". " .. table.concat(hit, "; ") .. ". By " .. signed .. ". " ..
          def.caution .. ".", "warn")
    else
      d:para("Waiver of " .. w.rule .. " by " .. signed .. ": not needed, the rule is neither broken nor unknown.",
          nil, 2)
    end
  end
end

-- The corners of the tolerances: what holds as written and breaks within them.
local function corners(d, outcomes)
  if #whatif.tolerances() == 0 then return end
  local found, all = whatif.corners(outcomes)
  local by, order = {}, {}
  for _, c in ipairs(found) do
    for _, b in ipairs(c.broken) do
      if not by[b.rule.id] then
        by[b.rule.id] = { at = c.at, o = b }
        order[#order + 1] = b.rule.id
      end
    end
  end
  for _, id in ipairs(order) do
    local x, at = by[id], {}
    for i, a in ipairs(x.at) do at[i] = a.path .. " = " .. words.show(a.value) end
    d:outcome("CAUTION:", "within the tolerances " .. id .. " may be " .. x.o.outcome .. ": at " .. util.list(at) ..
        (x.o.finding and ", " .. words.finding(x.o.finding) or "") .. ".", "warn")
  end
  if #order == 0 then
    d:para((all and "At every corner of the tolerances" or "With each tolerance at its ends, one at a time,") ..
        " the rules that hold still hold.")
  end
end

-- ---- rules ---------------------------------------------------------------------------------------------------------

local function broken(d, g, options)
  local def, o = g.rule, g.worst
  whatif.remedy(o)
  local subject = words.subject(o)
  local note = def.severity == "note"
  d:gap()
  d:outcome((note and "NOTE " or "BROKEN ") .. def.id .. ":", def.says .. (subject ~= "" and ", " .. subject or "") ..
      (note and "" or " (" .. def.severity .. ")"), def.severity == "stop" and "bad" or "warn")
  d:inside(function()
    local f = o.finding
    local whose, over = words.whose(f), words.over(f)
    d:para(words.finding(f) .. (over and " (" .. over .. ")" or "") .. (whose and "; limit: " .. whose or ""))
    local others = {}
    for _, x in ipairs(g.list) do
      if x ~= o and x.outcome == "broken" and not x.waiver then
        others[#others + 1] = (record.inside[x.proxy].name or words.subject(x)) .. " " .. words.finding(x.finding)
      end
    end
    if #others > 0 then d:para("also " .. table.concat(others, ", ")) end
    if o.flip then
      local source = words.source(o.flip.path)
      d:fact_line("flips at", o.flip.path .. " = " .. words.show(o.flip.value) .. ", now " ..
          words.show(record.at(o.flip.path)) .. (source ~= "" and " (" .. source .. ")" or ""))
    end
    local place = def.each and words.place(o.proxy)
    if place then d:fact_line("at", place) end
    for _, l in ipairs(import("write.explain").work_lines(o)) do d:fact_line("work", l) end
    d:fact_line("rule", words.cite(def.cite))
    d:fact_line("caution", def.caution)
    d:fact_line("help", (o.nearest and o.nearest .. "; " or "") .. "see `stringline explain " .. options.words[1] ..
        " " .. def.id .. "`")
  end)
end

local function unknown(d, g)
  local def, o = g.rule, g.worst
  local subjects = {}
  for _, x in ipairs(g.list) do
    if x.outcome == "unknown" and not x.waiver then
      local s = words.subject(x)
      if s ~= "" then subjects[#subjects + 1] = s end
    end
  end
  d:gap()
  d:outcome("UNKNOWN " .. def.id .. ":", def.says .. (#subjects > 0 and ", " .. util.list(subjects) or "") .. " (" ..
      def.severity .. ")", "warn")
  d:inside(function()
    local why, help = host.message(o.why)
    d:para(why)
    if o.why.who then d:fact_line("ask", o.why.who .. (o.why.tool and "; with " .. o.why.tool or "")) end
    local place = def.each and words.place(o.proxy)
    if place then d:fact_line("at", place) end
    d:fact_line("rule", words.cite(def.cite))
    d:fact_line("caution", def.caution)
    if help and help ~= "" then d:fact_line("help", help) end
  end)
end

-- Stage "quote": what is still to find out, from whom, with which tool; one line for each missing thing.
local function to_find_out(d, groups)
  local rows, by = {}, {}
  for _, g in ipairs(groups) do
    for _, o in ipairs(g.list) do
      if o.outcome == "unknown" and not o.waiver then
        local what = host.message(o.why)
        local key = o.why.path or what
        local row = by[key]
        if not row then
          row = { what = what, who = o.why.who or "designer", tool = o.why.tool or "", ids = {}, has = {} }
          by[key] = row
          rows[#rows + 1] = row
        end
        if not row.has[g.rule.id] then
          row.has[g.rule.id] = true
          row.ids[#row.ids + 1] = g.rule.id
        end
      end
    end
  end
  if #rows == 0 then return end
  d:heading("Still to find out: what, from whom, with which tool")
  d:inside(function()
    for _, r in ipairs(rows) do
      d:item(r.what .. ".", "[ ]")
      d:para("ask: " .. r.who .. (r.tool ~= "" and "; with: " .. r.tool or "") .. "   for: " ..
          table.concat(r.ids, " "), "    ")
    end
  end)
end

local function problems(d, groups, options)
  local quote = record.root.stage == "quote"
  for _, g in ipairs(groups) do
    if g.outcome == "broken" and g.rule.severity ~= "note" then broken(d, g, options) end
  end
  if quote then to_find_out(d, groups)
  else
    for _, g in ipairs(groups) do if g.outcome == "unknown" then unknown(d, g) end end
  end
  for _, g in ipairs(groups) do
    if g.outcome == "broken" and g.rule.severity == "note" then broken(d, g, options) end
  end
end

-- Each citation once, with its rules.
local function sources(groups)
  local list, by = {}, {}
  for _, g in ipairs(groups) do
    if g.outcome == "holds" then
      local cite = words.cite(g.rule.cite)
      local f = g.worst.finding
      if f.cite and f.cite ~= "maker's data sheet" then cite = cite .. " (" .. words.cite(f.cite) .. ")" end
      if not by[cite] then by[cite] = { cite = cite, ids = {} }; list[#list + 1] = by[cite] end
      table.insert(by[cite].ids, g.rule.id)
    end
  end
  local parts = {}
  for i, x in ipairs(list) do parts[i] = table.concat(x.ids, " ") .. ": " .. x.cite end
  return table.concat(parts, "; ")
end

local function holding(d, groups)
  local rows, idle = {}, {}
  for _, g in ipairs(groups) do
    local o = g.worst
    if g.outcome == "holds" then
      local f = o.finding
      local subject, several = words.subject(o), #g.list > 1
      local of = several and subject ~= "" and (f.ratio and " (" .. subject .. ", the nearest of " .. #g.list ..
          ")" or " (all " .. #g.list .. ")") or ""
      rows[#rows + 1] = { g.rule.id, g.rule.says, words.finding(f) .. of,
          f.value ~= nil and f.ratio and { text = words.ratio(f), value = f.ratio, unit = "%" } or "" }
    elseif g.outcome == "not applicable" then
      idle[#idle + 1] = g.rule.id .. " (" .. (o.reason or "no subject") .. ")"
    end
  end
  if #rows == 0 then return end
  d:heading("Rules that hold")
  d:table({ "rule", { "says", wrap = true }, { "value and limit", wrap = true }, { "margin", right = true } }, rows)
  d:gap()
  d:para("Sources of these limits: " .. sources(groups) .. ".")
  d:para("Which table values were read second-hand or stand from memory is said at the foot of each sheet that " ..
      "rests on them: `stringline sheet`.")
  if #idle > 0 then d:para("Not applicable: " .. table.concat(idle, ", ") .. ".") end
end

-- ---- inputs --------------------------------------------------------------------------------------------------------

local function input(path, value, unit) return { text = words.show(value, unit), value = value, path = path } end

local function inputs(d, sheets)
  d:heading("Inputs")
  local rows = {}
  for path, t in host.sorted(run.told) do
    local v = record.at(path)
    if v ~= nil then
      rows[#rows + 1] = { path, input(path, v), t.how:gsub("_", " ") .. (t.by and ": " .. t.by or "") }
    end
  end
  if #rows > 0 then
    d:table({ { "how it is known", key = "path" }, { "value", wrap = true }, { "", key = "known by", wrap = true } },
        rows)
  end
  rows = {}
  for _, t in ipairs(whatif.tolerances()) do
    rows[#rows + 1] = { t.path, { text = words.show(t.value) .. " +- " .. words.show(t.tolerance), value = t.value,
        path = t.path } }
  end
  if #rows > 0 then
    d:gap()
    d:table({ { "tolerances", key = "path" }, { "", key = "value", wrap = true } }, rows)
  end
  rows = {}
  for _, x in ipairs(run.defaults) do
    rows[#rows + 1] = { x.path, input(x.path, x.value, x.field.type == "ratio" and "%" or nil), x.field.says }
  end
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
  return d
end

local function page_one(d, groups, outcomes, options)
  waived(d, outcomes)
  guessed(d, outcomes)
  corners(d, outcomes)
  problems(d, groups, options)
end

function report.report(outcomes, status, options)
  local sheets = import "write.sheets"
  local d, groups = begin("report", outcomes, status, options), verdict.groups(outcomes)
  d:gap()
  head(d, sheets, options)
  d:gap()
  page_one(d, groups, outcomes, options)
  sheets.short(d, outcomes)
  holding(d, groups)
  inputs(d, sheets)
  sheets.last(d)
  identity.put(d, options, true)
  return d
end

function report.check(outcomes, status, options)
  local d = begin("check", outcomes, status, options)
  d:gap()
  page_one(d, verdict.groups(outcomes), outcomes, options)
  identity.put(d, options, false)
  return d
end

return report
