-- SPDX-License-Identifier: MIT
-- Page one of a report: guesses under stop rules, the corners of tolerances, what is broken or unknown.
local record = import "model.record"
local whatif = import "model.whatif"
local run = import "model.run"
local util = import "model.util"
local compare = import "model.compare"
local words = import "write.words"

-- Inputs that were guessed, and the stop rules that rest on each.
local function guesses(outcomes)
  local list = {}
  for path, t in host.sorted(run.told) do
    if t.how == "guess" and not t.unused then list[#list + 1] = { path = path, rules = {}, has = {} } end
  end
  if #list == 0 then return list end
  local trace, paths = import "write.trace", {}
  for _, g in ipairs(list) do paths[g.path] = true end
  local among = trace.among(paths)
  for _, o in ipairs(outcomes) do
    if o.rule.severity == "stop" and o.proxy and o.outcome ~= "not applicable" then
      local inputs = among(trace.rule(o.rule, o.proxy))
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
          words.input(g.path, record.at(g.path)) .. ", and the stop rule" .. (one and " " or "s ") ..
          util.list(g.rules) ..
          " rest" .. (one and "s" or "") .. " on it. " .. words.source(g.path), "warn")
    end
  end
end

-- What is broken or unknown at a corner: the comparison, or the first reason and how many more there are.
local function why(o)
  if o.outcome == "broken" then return words.finding(o.finding) end
  local more = #o.whys - 1
  return (host.message(o.whys[1])) .. (more > 0 and "; and " .. more .. " more" or "")
end

local function place_of(at)
  local list = {}
  for i, a in ipairs(at) do list[i] = a.path .. " = " .. words.show(a.value) end
  return util.list(list)
end

-- The corners of the tolerances: what holds as written and breaks within them.
local function corners(d, outcomes)
  if #record.tolerances() == 0 then return end
  local found, how = whatif.corners(outcomes)
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
    local x = by[id]
    d:outcome("CAUTION:", "within the tolerances " .. id .. " may be " .. x.o.outcome .. ": at " .. place_of(x.at) ..
        ", " .. why(x.o) .. ".", "warn")
  end
  if how.refused then
    d:outcome("CAUTION:", "within the tolerances the job cannot be built as declared: at " ..
        place_of(how.refused.at) .. ", " .. how.refused.text .. ". Nothing was judged there.", "warn")
  end
  d:para((#order == 0 and "The rules that hold still hold " or "Tolerances were tried ") ..
      whatif.tried_in_words(how) .. ". What is worse somewhere between is not found so.")
end

-- ---- rules ---------------------------------------------------------------------------------------------------------

-- What else is broken, by name; by all that it hangs on where that is not the same for all of them. Of many: how far
-- they reach, and how many there are on each.
local function others_of(g)
  local list, together = {}, true
  for _, x in ipairs(g.list) do
    if x ~= g.worst and x.outcome == "broken" and not x.waiver then
      list[#list + 1] = x
      together = together and record.parent(x.proxy) == record.parent(g.worst.proxy)
    end
  end
  if #list > words.few then return words.and_more(list, g.worst.finding) .. words.spread(list, 1) end
  for i, x in ipairs(list) do
    local name = together and record.inside[x.proxy].name or words.subject(x)
    list[i] = name .. " " .. words.finding(x.finding)
  end
  return #list > 0 and "also " .. table.concat(list, ", ") or nil
end

local most_suggestions = 3

-- Changes with which a rule would hold, one in a line: those that it knows and the best of those that were found, of
-- which none that breaks a rule where there is any other; advice without a change is given back.
local function suggestions(d, o)
  local more, shown, gave_up = 0, 0, whatif.gave_up_in_words(o)
  local most_rank = (o.suggestions[1] or {}).rank
  most_rank = most_rank and math.max(most_rank < 4 and most_rank or 0, 2)
  for _, s in ipairs(o.suggestions) do
    if s.own or shown < most_suggestions and s.rank <= most_rank then
      shown = shown + 1
      d:fact_line("holds with", whatif.in_words(s))
    else more = more + 1 end
  end
  if more > 0 then
    d:fact_line("more", more .. " other change" .. (more > 1 and "s" or "") .. ", which `explain` lists")
  end
  if gave_up then d:fact_line("search", gave_up) end
  return o.advice
end

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
    local whose, over, besides = words.whose(f), words.over(f), words.other_limits(f)
    d:para(words.finding(f) .. (over and " (" .. over .. ")" or "") .. (whose and "; limit: " .. whose or "") ..
        (besides and "; " .. besides or ""))
    local others = others_of(g)
    if others then d:para(others) end
    local told = words.told(o)
    if told then d:para(told) end
    for _, why in ipairs(o.whys or {}) do d:para("unknown besides: " .. host.message(why)) end
    if o.flip then
      local source, effects = words.source(o.flip.path), whatif.side_effects(o.flip)
      d:fact_line("flips at", o.flip.path .. " = " .. words.precise(o.flip.value) .. ", now " ..
          words.precise(record.at(o.flip.path)) ..
          (source ~= "" and " (" .. source .. ")" or "") .. (effects and "; " .. effects or ""))
    end
    local place = def.each and words.place(o.proxy)
    if place then d:fact_line("at", place) end
    for _, l in ipairs(import("write.explain").work_lines(o)) do d:fact_line("work", l) end
    d:fact_line("rule", words.cite(def.cite))
    d:fact_line("caution", def.caution)
    local advice = suggestions(d, o)
    d:fact_line("help", (advice and advice .. "; " or "") .. "see `stringline explain " ..
        util.typed(options.words[1]) .. " " .. def.id .. "`")
  end)
end

-- Why a rule is unknown: each reason of each of its subjects, once.
local function reasons_of(g)
  local list
  for _, x in ipairs(g.list) do
    if x.outcome == "unknown" and not x.waiver then
      for _, why in ipairs(x.whys) do list = compare.add_reason(list, why) end
    end
  end
  return list
end

-- Of a subject that a paper names and does not cover: the subject, for whom, and the reason; else nil.
local function refusal(why)
  if why.code ~= "G006" then return nil end
  local subject, whose, reason = host.message(why):match "^([^:,]+)([^:]*): (.+)$"
  if subject and not reason:find("no paper covers it", 1, true) then return subject, whose, reason end
end

-- What a paper was not made for, or where a figure ends, whichever rack it is: nil of any other reason.
local function of_any_rack(why)
  if why.code ~= "G005" and why.code ~= "C005" then return nil end
  return (host.message(why):gsub("rack%['.-'%]", "rack"):gsub("rack%.[%a_][%w_]*", "rack"))
end

-- Reasons in words, { why, text } ...: one by one; but of subjects that one paper does not cover for one and the same
-- reason the first has it in full, and then the others are named; of racks that are alike the others are counted.
local function told_once(reasons)
  local list, by = {}, {}
  for _, why in ipairs(reasons) do
    local subject, whose, reason = refusal(why)
    local key = subject and whose .. reason or of_any_rack(why)
    if key and by[key] and subject then table.insert(by[key], subject)
    elseif key and by[key] then by[key].racks = (by[key].racks or 0) + 1
    else
      list[#list + 1] = { why = why, text = (host.message(why)) }
      if key then by[key] = list[#list] end
    end
  end
  for i = #list, 1, -1 do
    local x = list[i]
    if x[1] or x.racks then
      table.insert(list, i + 1, { why = x.why, text = "the same of " .. (x.racks and x.racks .. " more rack" ..
          (x.racks > 1 and "s" or "") or util.list(x)) })
    end
  end
  return list
end

local function ask_of(why) return why and why.who and why.who .. (why.tool and "; with " .. why.tool or "") end

local function unknown(d, g)
  local def, o = g.rule, g.worst
  local list = {}
  for _, x in ipairs(g.list) do if x.outcome == "unknown" and not x.waiver then list[#list + 1] = x end end
  local subjects = words.subjects(list)
  d:gap()
  d:outcome("UNKNOWN " .. def.id .. ":", def.says .. (subjects ~= "" and ", " .. subjects or "") .. " (" ..
      def.severity .. ")", "warn")
  d:inside(function()
    local helps, reasons = {}, told_once(reasons_of(g))
    for i, x in ipairs(reasons) do
      local _, help = host.message(x.why)
      d:para(x.text)
      local ask = ask_of(x.why)                  -- once for those that ask the same, one behind the other
      if ask and ask ~= ask_of(reasons[i + 1] and reasons[i + 1].why) then d:fact_line("ask", ask) end
      if help and help ~= "" and not helps[help] then helps[help], helps[#helps + 1] = true, help end
    end
    local place = def.each and words.place(o.proxy)
    if place then d:fact_line("at", place) end
    d:fact_line("rule", words.cite(def.cite))
    d:fact_line("caution", def.caution)
    for _, help in ipairs(helps) do d:fact_line("help", help) end
  end)
end

-- The same field of several records, as of all racks of a loop: what is said of it without the record's name; nil of
-- what names none.
local function of_any_record(why, what)
  local path = why.path or ""
  local whole = string.match(path, "^[%w_]+%.[%w_]+%f[.]") or string.match(path, "^[%w_]+%b[]%f[.]")
  local from, to = string.find(what, whole or "", 1, true)
  if not whole or not from then return of_any_rack(why) end
  return string.match(whole, "^[%w_]+") .. string.sub(path, #whole + 1) .. " " .. string.sub(what, 1, from - 1) ..
      string.sub(what, to + 1)
end

-- Stage "quote": what is still to find out, from whom, with which tool; one line for each missing thing.
local function to_find_out(d, groups)
  local rows, by, said, alike = {}, {}, {}, {}
  for _, g in ipairs(groups) do
    for _, o in ipairs(g.list) do
      for _, why in ipairs(not o.waiver and o.whys or {}) do
        local what = host.message(why)
        local subject, whose, reason = refusal(why)          -- or the fact that the paper waits for, if it is there
        local key = reason and (said[reason] or whose .. reason) or why.path or what
        local row = by[key]
        local of_all = not reason and of_any_record(why, what)
        if not row and of_all then
          row = alike[of_all]
          if row then by[key], row.more = row, (row.more or 0) + 1 end
        end
        if not row then
          row = { what = what, who = why.who or "designer", tool = why.tool or "", ids = {}, has = {},
              subjects = subject and {}, reason = reason and whose .. ": " .. reason }
          by[key], said[what] = row, key
          if of_all then alike[of_all] = row end
          rows[#rows + 1] = row
        end
        if row.subjects then table.insert(row.subjects, subject) end
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
      d:item((r.subjects and util.list(r.subjects) .. r.reason or r.what) .. (r.more and "; and " .. r.more ..
          " more alike" or "") .. ".", "[ ]")
      d:para("ask: " .. r.who .. (r.tool ~= "" and "; with: " .. r.tool or "") .. "   for: " ..
          table.concat(r.ids, " "), "    ")
    end
  end)
end

local function problems(d, groups, options)
  local function all_broken(severity)
    for _, g in ipairs(groups) do
      if g.outcome == "broken" and g.rule.severity == severity then broken(d, g, options) end
    end
  end
  local function all_unknown(severity)
    for _, g in ipairs(groups) do
      if g.outcome == "unknown" and g.rule.severity == severity then unknown(d, g) end
    end
  end
  all_broken "stop"
  all_broken "caution"
  if record.root.stage == "quote" then to_find_out(d, groups)
  else
    for _, severity in ipairs { "stop", "caution", "note" } do all_unknown(severity) end
  end
  all_broken "note"
end

return function(d, groups, outcomes, options)
  guessed(d, outcomes)
  corners(d, outcomes)
  problems(d, groups, options)
end
