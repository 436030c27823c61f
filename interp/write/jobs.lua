-- SPDX-License-Identifier: MIT
-- All jobs of some folders on one page: a line for each, and what the house wants to know of them together.
local document = import "write.document"
local util = import "model.util"

local no_job = "it declares no job"           -- as command.jobs says of files

-- ---- one job -------------------------------------------------------------------------------------------------------

local function ids(list) return table.concat(list, " ") end

-- customers/hay-barn of customers/hay-barn/job.sline, where a job is only mentioned.
local function short(script)
  return (string.gsub(string.gsub(script, "^%./", ""), "/job%.sline$", ""))
end

local function shorts(list)
  local out = {}
  for i, script in ipairs(list) do out[i] = short(script) end
  return table.concat(out, ", ")
end

local function some(n, word) return n .. " " .. word .. (n == 1 and "" or "s") end

-- "41 of 44 rules hold; 3 still to find out; 14 subjects not judged", "NOT READY: broken R41 H1; unknown R74; ...",
-- "NOT JUDGED: ..."
local function verdict_of(job)
  if job.why then return "NOT JUDGED: " .. job.why end
  local words = {}
  if job.status ~= 0 then
    if #job.broken > 0 then words[1] = "broken " .. ids(job.broken) end
    if #job.unknown > 0 then words[#words + 1] = "unknown " .. ids(job.unknown) end
    if #job.withheld > 0 then words[#words + 1] = "withheld " .. table.concat(job.withheld, ", ") end
    words[1] = "NOT READY: " .. words[1]
  else
    words[1] = job.hold .. " of " .. some(job.judged, "rule") .. (job.hold == 1 and " holds" or " hold")
    if #job.unknown > 0 then words[2] = #job.unknown .. " still to find out" end
  end
  if #job.waived > 0 then words[#words + 1] = "waived " .. ids(job.waived) end
  if #job.notes > 0 then words[#words + 1] = "notes " .. ids(job.notes) end
  if job.not_judged > 0 then words[#words + 1] = some(job.not_judged, "subject") .. " not judged" end
  if job.by_paper > 0 then words[#words + 1] = some(job.by_paper, "subject") .. " not judged but by paper" end
  return table.concat(words, "; ")
end

local function state_of(job)
  return job.why and "not judged" or job.status ~= 0 and "not ready" or #job.unknown > 0 and "open" or "holds"
end

-- "12 jobs: 2 NOT READY, 1 NOT JUDGED, 2 with something still to find out, 7 whose stop and caution rules hold or are
-- waived."
local function count_line(all)
  local n, words = {}, {}
  for _, job in ipairs(all) do n[state_of(job)] = (n[state_of(job)] or 0) + 1 end
  if n["not ready"] then words[#words + 1] = n["not ready"] .. " NOT READY" end
  if n["not judged"] then words[#words + 1] = n["not judged"] .. " NOT JUDGED" end
  if n.open then words[#words + 1] = n.open .. " with something still to find out" end
  if n.holds then words[#words + 1] = n.holds .. " whose stop and caution rules hold or are waived" end
  return some(#all, "job") .. ": " .. table.concat(words, ", ") .. "."
end

-- ---- the house -----------------------------------------------------------------------------------------------------

-- Rules that stop jobs, the one that stops most of them first: { id, says, severity, broken, unknown }, lists of
-- scripts.
local function stops(all)
  local list, by = {}, {}
  for _, job in ipairs(all) do
    local quote = job.stage == "quote"
    for _, r in ipairs(job.rules or {}) do
      if r.severity ~= "note" and not (quote and r.outcome == "unknown") then
        local key = r.id .. "\0" .. r.says               -- two houses may each have an H1
        local x = by[key]
        if not x then
          x = { id = r.id, says = r.says, severity = r.severity, broken = {}, unknown = {}, at = #list + 1 }
          by[key], list[#list + 1] = x, x
        end
        table.insert(x[r.outcome], job.script)
      end
    end
  end
  local function weight(x) return #x.broken + #x.unknown end
  table.sort(list, function(a, b)
    if weight(a) ~= weight(b) then return weight(a) > weight(b) end
    if #a.broken ~= #b.broken then return #a.broken > #b.broken end
    return a.at < b.at
  end)
  return list
end

-- By a date as text; of one day in the order in which they came (at).
local function by_day(list, key)
  table.sort(list, function(a, b)
    if a[key] ~= b[key] then return a[key] < b[key] end
    return a.at < b.at
  end)
  return list
end

-- Tickets of jobs that are not built yet, the one that ends first in front.
local function tickets(all)
  local list = {}
  for i, job in ipairs(all) do
    local t = job.ticket
    if t and job.stage ~= "as built" then
      list[#list + 1] = { script = job.script, number = t.number, from = t.from, to = t.to, days = t.days,
          begins = t.begins, at = i }
    end
  end
  return by_day(list, "to")
end

-- A ticket that has not begun is none yet: that it ends later would read as if one might dig.
local function ends(days, begins)
  if not days then return "no day to count from" end
  if begins > 0 then return "not valid yet: begins in " .. some(begins, "day") end
  if days < 0 then return "ended " .. some(-days, "day") .. " ago" end
  return days == 0 and "ends today" or "ends in " .. some(days, "day")
end

-- Vendors' oldest prices that R65 judges not to be fresh, the oldest first.
local function stale(all)
  local list = {}
  for _, job in ipairs(all) do
    for _, p in ipairs(job.stale or {}) do
      list[#list + 1] = { script = job.script, vendor = p.vendor, on = p.on, days = p.days, at = #list + 1 }
    end
  end
  return by_day(list, "on")
end

local function age(days)
  if not days then return "no day to count from" end
  return days >= 0 and some(days, "day") .. " old" or some(-days, "day") .. " later than the day judged"
end

local function waived(all)
  local list = {}
  for _, job in ipairs(all) do
    for _, w in ipairs(job.waivers or {}) do
      list[#list + 1] = { script = job.script, rule = w.rule, by = w.by, as = w.as, reason = w.reason, on = w.on }
    end
  end
  return list
end

-- ---- the page ------------------------------------------------------------------------------------------------------

local function part(d, title, columns, rows)
  if #rows == 0 then return end
  d:gap()
  d:heading(title)
  d:table(columns, rows)
end

local function rows_of(list, make)
  local rows = {}
  for i, x in ipairs(list) do rows[i] = make(x) end
  return rows
end

local function put_house(d, found)
  part(d, "Rules that stop jobs", { "rule", { "jobs", right = true }, { "says", wrap = true },
      { "broken in", wrap = true }, { "unknown in", wrap = true } }, rows_of(found.stops, function(x)
    local n = #x.broken + #x.unknown
    return { x.id, { text = tostring(n), value = n }, x.says, shorts(x.broken), shorts(x.unknown) }
  end))
  part(d, "Tickets of the locating service", { { "job", wrap = true }, "ticket", "first day", "last day",
      { "", key = "ends", wrap = true } }, rows_of(found.tickets, function(t)
    return { short(t.script), t.number, t.from, t.to, ends(t.days, t.begins) }
  end))
  if #found.tickets > 0 then
    d:para("Whether each utility has answered, and what lines of the owner's own there are, is told on the page of " ..
        "each job, by R09. Nobody digs on this page alone.")
  end
  part(d, "Prices that are not fresh", { { "job", wrap = true }, { "vendor", wrap = true }, "oldest of",
      { "", key = "age", wrap = true } }, rows_of(found.stale, function(p)
    return { short(p.script), p.vendor, p.on, age(p.days) }
  end))
  part(d, "Waived", { { "job", wrap = true }, "rule", { "by", wrap = true }, { "reason", wrap = true } },
      rows_of(found.waived, function(w)
    return { short(w.script), w.rule, w.by .. " (" .. w.as .. "), " .. w.on, w.reason }
  end))
end

-- Files that were looked at and not judged; most of them are what jobs are made from.
local function put_left(d, left)
  local plain, odd = {}, {}
  for _, f in ipairs(left) do
    if f.left_out == no_job then plain[#plain + 1] = f.path
    else odd[#odd + 1] = f.path .. " (" .. f.left_out .. ")" end
  end
  if #left > 0 then d:gap() end
  if #odd > 0 then d:para("Left out: " .. table.concat(odd, ", ") .. ".") end
  if #plain > 0 then d:para("Left out, since they declare no job: " .. table.concat(plain, ", ") .. ".") end
end

-- ---- for programs --------------------------------------------------------------------------------------------------

local function texts(as, list) return as.array(table.move(list or {}, 1, #(list or {}), 1, {})) end

local function put_facts(d, all, left, found, status)
  local function list(key, of, make)
    d:fact(key, function(as)
      local out = as.array {}
      for i, x in ipairs(of) do out[i] = as.object(make(as, x)) end
      return out
    end)
  end
  d:fact("exit", status)
  list("jobs", all, function(as, j)
    return { { "script", j.script }, { "name", j.name }, { "client", j.client }, { "stage", j.stage }, { "on", j.on },
        { "exit", j.status }, { "state", state_of(j) }, { "verdict", verdict_of(j) }, { "broken", texts(as, j.broken) },
        { "unknown", texts(as, j.unknown) }, { "waived", texts(as, j.waived) }, { "withheld", texts(as, j.withheld) },
        { "code", j.code }, { "why", j.why } }
  end)
  list("stops", found.stops, function(as, x)
    return { { "rule", x.id }, { "says", x.says }, { "severity", x.severity }, { "broken", texts(as, x.broken) },
        { "unknown", texts(as, x.unknown) } }
  end)
  list("tickets", found.tickets, function(_, t)
    return { { "script", t.script }, { "ticket", t.number }, { "valid_from", t.from }, { "valid_to", t.to },
        { "begins", t.begins }, { "days", t.days } }
  end)
  list("stale_prices", found.stale, function(_, p)
    return { { "script", p.script }, { "vendor", p.vendor }, { "priced_on", p.on }, { "days", p.days } }
  end)
  list("waivers", found.waived, function(_, w)
    return { { "script", w.script }, { "rule", w.rule }, { "by", w.by }, { "as", w.as }, { "on", w.on },
        { "reason", w.reason } }
  end)
  list("left_out", left, function(_, f) return { { "path", f.path }, { "why", f.left_out } } end)
end

-- all: what command.jobs has of each job; left: files that are none, { path, left_out } ...; o: the command's options.
return function(all, left, status, o)
  local d = document.new("jobs", "Jobs of the house")
  d.status = status
  local found = { stops = stops(all), tickets = tickets(all), stale = stale(all), waived = waived(all) }
  put_facts(d, all, left, found, status)
  local when = o.on and " Judged on " .. o.on .. "." or " Each is judged on its own day; --on judges all on one."
  d:para(count_line(all) .. when, nil, nil, status == 0 and "good" or "bad")
  d:gap()
  d:table({ { "job", wrap = true }, { "name", wrap = true }, "stage", { "judged on", key = "on" },
      { "verdict", wrap = true } }, rows_of(all, function(j)
    return { j.script, j.name or "", j.stage or "", j.on or "", verdict_of(j) }
  end))
  put_house(d, found)
  put_left(d, left)
  d:gap()
  d:para("What a rule says of a job, and what is not judged, stands on the page of that job: `stringline check " ..
      util.typed(all[1].script) .. "`.")
  return d
end
