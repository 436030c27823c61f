-- SPDX-License-Identifier: MIT
-- The report that a person reads: verdict, page one, rules, the sheets in short, inputs, cautions.
local record = import "model.record"
local rule = import "model.rule"
local run = import "model.run"
local whatif = import "model.whatif"
local util = import "model.util"
local words = import "write.words"
local page = import "write.page"
local verdict = import "write.verdict"
local text = {}

local given = record.given

-- ---- page one ------------------------------------------------------------------------------------------------------

local function job_head(p, options)
  local job = record.root
  local codes, authority, site = given(job, "codes"), record.only "authority", record.only "site"
  local rows = {}
  local function row(what, value) if value and value ~= "" then rows[#rows + 1] = { what, value } end end
  row("client", given(job, "client"))
  if options.alternate then row("alternate", options.alternate) end
  local named = {}
  for _, k in ipairs { "electrical", "loads", "wood", "building" } do
    local edition = codes and given(codes, k)
    named[#named + 1] = edition or "no " .. k .. " code named"
  end
  row("codes", table.concat(named, ", "))
  local permits = record.only "permits"
  row("authority", authority and authority.name .. ", its rules read on " .. authority.read_on or "none named")
  if permits and #permits.list > 0 then
    local list = {}
    for name in record.each(permits.list) do list[#list + 1] = name end
    row("permits", table.concat(list, ", "))
  end
  if site then
    local latitude, longitude = given(site, "latitude"), given(site, "longitude")
    local south = latitude and host.si(latitude) < 0
    local function side(v, plus, minus) return words.show(host.abs(v)):gsub(" deg", "") .. " " ..
        (host.si(v) < 0 and minus or plus) end
    row("place", latitude and side(latitude, "N", "S") .. (longitude and ", " .. side(longitude, "E", "W") or "") ..
        ", " .. (south and "southern" or "northern") .. " hemisphere: the sun stands in the " ..
        (south and "north" or "south") or "latitude not given: hemisphere unknown")
    local function fact(name) local v = given(site, name) return v ~= nil and words.show(v) or "not given" end
    row("weather", "wind " .. fact "wind" .. ", ground snow " .. fact "snow" .. ", coldest " .. fact "coldest" ..
        ", hottest air " .. fact "hottest_air" .. ", frost " .. fact "frost")
  end
  local lengths = given(job, "lengths") == "feet and inches" and " in feet and inches" or ""
  row("units", (job.units == "SI" and "SI, lengths in mm and m" or "US" ..
      (lengths ~= "" and ", lengths" .. lengths or ", lengths in inches and feet")) .. "; inputs as written")
  for _, o in ipairs(run.overrides) do if o.from:find("^%-%-set") then row("changed", o.from) end end
  for _, r in ipairs(record.all "rack") do
    local n = r.rows * r.columns
    row("array", words.title(r) .. ": " .. n .. " x " .. r.modules.name .. ", " .. words.of(r, "power") ..
        ", tilt " .. words.show(r.tilt, "deg") .. ", facing " .. words.of(r, "true_azimuth") .. " true")
    local rec = record.inside[r]
    if rec.like then row("", words.title(r) .. " is like " .. record.inside[rec.like].name ..
        (#rec.differs > 0 and " but for " .. util.list(rec.differs) or "")) end
  end
  p:table({ "", { "", wrap = true } }, rows)
  p:para("A planning aid, not a sealed design: local code, the authority's decision and the makers' instructions rule.")
end

-- Inputs that were guessed, and the stop rules that rest on each.
local function guesses(outcomes)
  local list = {}
  for path, t in host.sorted(run.told) do if t.how == "guess" then
      list[#list + 1] = { path = path, rules = {}, has = {} } end end
  if #list == 0 then return list end
  local trace = import "write.trace"
  for _, o in ipairs(outcomes) do
    if o.rule.severity == "stop" and o.proxy then
      local inputs = trace.inputs(trace.rule(o.rule, o.proxy))
      for _, g in ipairs(list) do
        if inputs[g.path] and not g.has[o.rule.id] then g.has[o.rule.id] = true; g.rules[#g.rules + 1] = o.rule.id end
      end
    end
  end
  return list
end

local function guessed(p, outcomes)
  for _, g in ipairs(guesses(outcomes)) do
    if #g.rules > 0 then
      local t = run.told[g.path]
      p:para(p:paint("CAUTION", "warn") .. ": " .. g.path .. " is a guess" .. (t.by and " (" .. t.by .. ")" or "") ..
          ", " .. words.show(record.at(g.path)) .. ", and the stop rule" ..
             (#g.rules == 1 and " " or "s ") .. util.list(g.rules) .. " rest" .. (#g.rules == 1 and "s" or "") ..
                 " on it. " .. words.source(g.path), "", "  ")
    end
  end
end

local function waived(p, outcomes)
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
      p:para(p:paint("WAIVED[" .. w.rule .. "]", "warn") .. " " .. def.says .. ". " .. table.concat(hit, "; ") ..
          ". By " .. signed .. ". " .. def.caution .. ".", "", "  ")
    else
      p:para("Waiver of " .. w.rule .. " by " .. signed .. ": not needed, the rule is neither broken nor unknown.",
          "", "  ")
    end
  end
end

-- The corners of the tolerances: what holds as written and breaks within them.
local function corners(p, outcomes)
  local list = whatif.tolerances()
  if #list == 0 then return end
  local found, all = whatif.corners(outcomes)
  local by, order = {}, {}
  for _, c in ipairs(found) do
    for _, b in ipairs(c.broken) do
      if not by[b.rule.id] then by[b.rule.id] = { at = c.at, o = b }; order[#order + 1] = b.rule.id end
    end
  end
  for _, id in ipairs(order) do
    local x, at = by[id], {}
    for i, a in ipairs(x.at) do at[i] = a.path .. " = " .. words.show(a.value) end
    p:para(p:paint("CAUTION", "warn") .. ": within the tolerances " .. id .. " may be " .. x.o.outcome .. ": at " ..
        util.list(at) .. (x.o.finding and ", " .. words.finding(x.o.finding) or "") .. ".", "", "  ")
  end
  if #order == 0 then p:para((all and "At every corner of the tolerances" or
      "With each tolerance at its ends, one at a time,") .. " the rules that hold still hold.") end
end

-- ---- rules ---------------------------------------------------------------------------------------------------------

local function fail_block(p, g, options)
  local def, o = g.rule, g.worst
  whatif.remedy(o)
  local subject = words.subject(o)
  p:blank()
  local label = (def.severity == "note" and "NOTE[" or "FAIL[") .. def.id .. "]"
  p:para(p:paint(label, def.severity == "stop" and "bad" or "warn") .. " " ..
      (def.severity ~= "note" and def.severity .. "  " or " ") .. def.says ..
      (subject ~= "" and ", " .. subject or ""), "", "  ")
  local f = o.finding
  local whose, over = words.whose(f), words.over(f)
  p:para(words.finding(f) .. (over and " (" .. over .. ")" or "") .. (whose and "; limit: " .. whose or ""), "  ")
  local others = {}
  for _, x in ipairs(g.list) do
    if x ~= o and x.outcome == "broken" and not x.waiver then
      others[#others + 1] = (record.inside[x.proxy].name or words.subject(x)) .. " " .. words.finding(x.finding)
    end
  end
  if #others > 0 then p:para("also " .. table.concat(others, ", "), "  ") end
  if o.flip then
    local source = words.source(o.flip.path)
    p:para(o.flip.path .. " = " .. words.show(o.flip.value) .. ", now " .. words.show(record.at(o.flip.path)) ..
        (source ~= "" and " (" .. source .. ")" or ""), "  flips at: ")
  end
  local place = def.each and words.place(o.proxy) or nil
  if place then p:line("  --> " .. place) end
  for _, l in ipairs(import("write.explain").work_lines(o)) do p:para(l, "  work: ") end
  p:para(words.cite(def.cite), "  rule: ")
  p:para(def.caution, "  caution: ")
  p:para((o.nearest and o.nearest .. "; " or "") .. "see `stringline explain " .. options.words[1] .. " " .. def.id ..
      "`", "  help: ")
end

local function unknown_block(p, g)
  local def, o = g.rule, g.worst
  local subjects = {}
  for _, x in ipairs(g.list) do
    if x.outcome == "unknown" and not x.waiver then
      local s = words.subject(x)
      if s ~= "" then subjects[#subjects + 1] = s end
    end
  end
  p:blank()
  p:para(p:paint("UNKNOWN[" .. def.id .. "]", "warn") .. " " .. def.severity .. "  " .. def.says ..
      (#subjects > 0 and ", " .. util.list(subjects) or ""), "", "  ")
  local why, help = host.message(o.why)
  p:para(why, "  ")
  if o.why.who then p:para(o.why.who .. (o.why.tool and "; with " .. o.why.tool or ""), "  ask: ") end
  local place = def.each and words.place(o.proxy) or nil
  if place then p:line("  --> " .. place) end
  p:para(words.cite(def.cite), "  rule: ")
  p:para(def.caution, "  caution: ")
  if help and help ~= "" then p:para(help, "  help: ") end
end

-- Stage "quote": what is still to find out, from whom, with which tool; one line for each missing thing.
local function to_find_out(p, groups)
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
        if not row.has[g.rule.id] then row.has[g.rule.id] = true; row.ids[#row.ids + 1] = g.rule.id end
      end
    end
  end
  if #rows == 0 then return end
  p:head("Still to find out: what, from whom, with which tool")
  for _, r in ipairs(rows) do
    p:para(r.what .. ".", "  [ ] ")
    p:para("ask: " .. r.who .. (r.tool ~= "" and "; with: " .. r.tool or "") .. "   for: " ..
        table.concat(r.ids, " "), "      ")
  end
end

local function problems(p, groups, options)
  local quote = record.root.stage == "quote"
  for _, g in ipairs(groups) do if g.outcome == "broken" and g.rule.severity ~= "note" then
      fail_block(p, g, options) end end
  if quote then to_find_out(p, groups)
  else
    for _, g in ipairs(groups) do if g.outcome == "unknown" then unknown_block(p, g) end end
  end
  for _, g in ipairs(groups) do if g.outcome == "broken" and g.rule.severity == "note" then
      fail_block(p, g, options) end end
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

local function holding(p, groups)
  local rows, idle = {}, {}
  for _, g in ipairs(groups) do
    local o = g.worst
    if g.outcome == "holds" then
      local f = o.finding
      local subject, several = words.subject(o), #g.list > 1
      local of = several and subject ~= "" and (f.ratio and " (" .. subject .. ", the nearest of " .. #g.list ..
          ")" or " (all " .. #g.list .. ")") or ""
      local numbers = words.finding(f) .. of
      rows[#rows + 1] = { g.rule.id, g.rule.says, numbers, f.value ~= nil and words.ratio(f) or "" }
    elseif g.outcome == "not applicable" then idle[#idle + 1] = g.rule.id .. " (" .. (o.reason or "no subject") ..
        ")" end
  end
  if #rows == 0 then return end
  p:head("Rules that hold")
  p:table({ "rule", { "says", wrap = true }, { "value and limit", wrap = true }, { "margin", right = true } }, rows)
  p:blank()
  p:para("Sources of these limits: " .. sources(groups) .. ".")
  p:para("Which table values were read second-hand or stand from memory is said at the foot of each sheet that " ..
      "rests on them: `stringline sheet`.")
  if #idle > 0 then p:para("Not applicable: " .. table.concat(idle, ", ") .. ".") end
end

-- ---- inputs --------------------------------------------------------------------------------------------------------

local function inputs(p)
  p:head("Inputs")
  local rows = {}
  for path, t in host.sorted(run.told) do
    local v = record.at(path)
    if v ~= nil then rows[#rows + 1] = { path, words.show(v), t.how:gsub("_", " ") ..
        (t.by and ": " .. t.by or "") } end
  end
  if #rows > 0 then p:table({ "how it is known", { "value", wrap = true }, { "", wrap = true } }, rows) end
  rows = {}
  for _, t in ipairs(whatif.tolerances()) do rows[#rows + 1] = { t.path, words.show(t.value) .. " +- " ..
      words.show(t.tolerance) } end
  if #rows > 0 then p:blank(); p:table({ "tolerances", { "", wrap = true } }, rows) end
  rows = {}
  for _, d in ipairs(run.defaults) do rows[#rows + 1] = { d.path,
      words.show(d.value, d.field.type == "ratio" and "%" or nil), d.field.says } end
  if #rows > 0 then p:blank(); p:table({ "not stated, so by default", { "value", wrap = true }, { "", wrap = true } },
      rows) end
  local none = record.only "none"
  if none then
    p:blank()
    local facts = {}
    for f in record.each(none.facts) do facts[#facts + 1] = f end
    p:para("Not there, says " .. none.walked_by .. " on " .. none.on .. ": " .. table.concat(facts, ", ") .. ".")
  end
  if #run.alternates > 0 then p:blank(); p:para("Alternates, each run with --alternate NAME: " ..
      table.concat(run.alternates, ", ") .. ".") end
end

-- ---- documents -----------------------------------------------------------------------------------------------------

-- file:line:col: error: text [R41]
local function gnu(outcomes)
  local quote = record.root.stage == "quote"
  local out = {}
  for _, o in ipairs(outcomes) do
    if o.outcome == "broken" or o.outcome == "unknown" then
      local counts = o.rule.severity ~= "note" and not o.waiver and not (quote and o.outcome == "unknown")
      local place = o.proxy and words.place(o.proxy) or host.place { source = 0 }
      local subject = words.subject(o)
      local what
      if o.outcome == "broken" then
        local over = words.over(o.finding)
        what = words.finding(o.finding) .. (over and " (" .. over .. ")" or "")
      else what = "unknown: " .. host.message(o.why) end
      out[#out + 1] = place .. ": " .. (counts and "error" or "warning") .. ": " .. o.rule.says ..
          (subject ~= "" and ", " .. subject or "") .. ": " .. what ..
                        (o.waiver and " (waived)" or "") .. " [" .. o.rule.id .. "]"
    end
  end
  return #out > 0 and table.concat(out, "\n") .. "\n" or ""
end

local function begin(outcomes, status, options)
  local p = page.new(options.colour)
  p:para(p:paint(verdict.line(outcomes, status), status == 0 and "good" or "bad"))
  return p
end

function text.report(boot, outcomes, status, options)
  if options.format == "gnu" then return gnu(outcomes) end
  local sheets = import "write.sheets"
  local p, groups = begin(outcomes, status, options), verdict.groups(outcomes)
  p:blank()
  job_head(p, options)
  p:blank()
  waived(p, outcomes)
  guessed(p, outcomes)
  corners(p, outcomes)
  problems(p, groups, options)
  sheets.short(p, outcomes)
  holding(p, groups)
  inputs(p)
  sheets.last(p)
  return p:text()
end

function text.check(boot, outcomes, status, options)
  if options.format == "gnu" then return gnu(outcomes) end
  local p, groups = begin(outcomes, status, options), verdict.groups(outcomes)
  waived(p, outcomes)
  guessed(p, outcomes)
  corners(p, outcomes)
  problems(p, groups, options)
  return p:text()
end

function text.sheet(boot, outcomes, name, options)
  return import("write.sheets").whole(outcomes, name, options)
end

return text
