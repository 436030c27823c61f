-- SPDX-License-Identifier: MIT
-- The verdict in one line, and the outcomes gathered by rule.
local record = import "model.record"
local memo = import "model.memo"
local verdict = {}

-- Outcomes of one rule together: { rule, outcome = the worst, list = { outcome ... }, worst }, in the rules' order.
local rank = { ["not applicable"] = 0, holds = 1, waived = 2, unknown = 3, broken = 4 }

local function state(o) return o.waiver and "waived" or o.outcome end

local function worse(a, b)         -- of two outcomes of one rule, whether b is the worse
  local ra, rb = rank[state(a)], rank[state(b)]
  if ra ~= rb then return rb > ra end
  local fa, fb = a.finding and a.finding.ratio, b.finding and b.finding.ratio
  return fb ~= nil and (fa == nil or fb < fa)
end

-- What a rule that holds rests on: "limit" if any of its subjects was compared with one; else "statement", what the
-- script says of itself; else "construction", the program's own order against its own need.
local function basis(list)
  local statement = false
  for i = 1, #list do
    local f = list[i].finding
    local by = f and f.by
    if by == "limit" then return by end
    statement = statement or by == "statement"
  end
  return statement and "statement" or "construction"
end

function verdict.groups(outcomes)
  if outcomes.groups then return outcomes.groups end
  local list, by = {}, {}
  outcomes.groups = list
  for i = 1, #outcomes do
    local o = outcomes[i]
    local g = by[o.rule]
    if not g then
      g = { rule = o.rule, list = { o }, worst = o, outcome = false, by = nil, at = nil, left = nil }
      by[o.rule] = g
      list[#list + 1] = g
    else
      if worse(g.worst, o) then g.worst = o end
      g.list[#g.list + 1] = o
    end
  end
  for i = 1, #list do
    local g = list[i]
    g.outcome = state(g.worst)
    if g.outcome == "holds" then g.by = basis(g.list) end
  end
  return list
end

-- Ids of the rules that are broken, unknown or waived; broken notes apart; how many were judged, and how many hold: by
-- what they rest on.
function verdict.counts(outcomes)
  local c = { broken = {}, unknown = {}, waived = {}, notes = {}, rules = 0, holds = 0,
      limit = 0, statement = 0, construction = 0 }
  local groups = verdict.groups(outcomes)
  for i = 1, #groups do
    local g = groups[i]
    if g.outcome ~= "not applicable" then c.rules = c.rules + 1 end
    if g.outcome == "holds" then
      c.holds, c[g.by] = c.holds + 1, c[g.by] + 1
    elseif g.outcome == "waived" then c.waived[#c.waived + 1] = g.rule.id
    elseif g.outcome ~= "not applicable" then
      local list = g.rule.severity == "note" and c.notes or c[g.outcome]
      list[#list + 1] = g.rule.id
    end
  end
  return c
end

-- Names of the sheets that are withheld although somebody works from them.
function verdict.withheld(outcomes)
  local names = {}
  for i, s in ipairs(outcomes.withheld or {}) do names[i] = s.name end
  return names
end

-- Subjects that no rule judges and no paper covers.
function verdict.not_judged() return import("job.not_judged").left() end

-- How many subjects no rule judges but papers cover.
function verdict.by_paper()
  local count, seen = 0, {}
  for _, c in ipairs(import("job.not_judged").covered()) do
    if not seen[c.subject] then count, seen[c.subject] = count + 1, true end
  end
  return count
end

-- Groups that hold, by what they rest on: those with least margin first, those without one behind them.
function verdict.tightest(groups, by)
  groups.tightest = groups.tightest or {}
  if groups.tightest[by] then return groups.tightest[by] end
  local list = {}
  groups.tightest[by] = list
  for i = 1, #groups do
    local g = groups[i]
    if g.outcome == "holds" and g.by == by then
      list[#list + 1], g.at, g.left = g, i, g.worst.finding.ratio or math.huge
    end
  end
  table.sort(list, function(a, b)
    local x, y = a.left, b.left
    return x < y or x == y and a.at < b.at
  end)
  return list
end

local function some(n, word) return n .. " " .. word .. (n == 1 and "" or "s") end

-- "41 of 41 rules hold: 29 against a limit, 8 as the script states, 4 by construction"
local function holding(c)
  local how = {}
  for _, x in ipairs { { c.limit, "against a limit" }, { c.statement, "as the script states" },
      { c.construction, "by construction" } } do
    if x[1] > 0 then how[#how + 1] = x[1] .. " " .. x[2] end
  end
  return c.holds .. " of " .. some(c.rules, "rule") .. (c.holds == 1 and " holds" or " hold") ..
      (#how > 0 and ": " .. table.concat(how, ", ") or "")
end

-- Egg farm, eight modules - permit, judged on 2026-11-02: 41 of 41 rules hold: 29 against a limit, 8 as the script
-- states, 4 by construction; 7 subjects not judged.
function verdict.line(outcomes, status)
  local job = record.root
  local c = verdict.counts(outcomes)
  local on = record.given(job, "on")
  local head = (record.given(job, "name") or "the job") .. " - " .. job.stage .. ", " ..
      (on and "judged on " .. on or "no day given to judge on") .. ": "
  local function ids(list) return #list > 0 and " (" .. table.concat(list, " ") .. ")" or "" end
  local words = {}
  if status ~= 0 then
    words[1] = "NOT READY: " .. some(#c.broken, "rule") .. " broken" .. ids(c.broken) .. ", " .. #c.unknown ..
        " unknown" .. ids(c.unknown)
  end
  local withheld = verdict.withheld(outcomes)
  if #withheld > 0 then words[#words + 1] = some(#withheld, "sheet") .. " withheld" .. ids(withheld) end
  words[#words + 1] = holding(c)
  if status == 0 and #c.unknown > 0 then words[#words + 1] = #c.unknown .. " still to find out" end
  if #c.waived > 0 then words[#words + 1] = #c.waived .. " waived" .. ids(c.waived) end
  if #c.notes > 0 then words[#words + 1] = some(#c.notes, "note") .. ids(c.notes) end
  local open, covered = #verdict.not_judged(), verdict.by_paper()
  if open > 0 then words[#words + 1] = some(open, "subject") .. " not judged" end
  if covered > 0 then words[#words + 1] = some(covered, "subject") .. " not judged but by paper" end
  return head .. table.concat(words, "; ") .. "."
end

-- How many stop rules hold, and how many of them rest on values from memory: { holds, rests, groups = { { rests, ids }
-- ... } }, a group for those that rest on the same.
function verdict.from_memory(outcomes)
  if outcomes.from_memory then return outcomes.from_memory end
  local found, by = { holds = 0, rests = 0, groups = {} }, {}
  outcomes.from_memory = found
  local groups = verdict.groups(outcomes)
  for i = 1, #groups do
    local g = groups[i]
    if g.outcome == "holds" and g.rule.severity == "stop" then
      found.holds = found.holds + 1
      local rests = 0
      for _, o in ipairs(g.list) do rests = rests | o.rests end
      if rests ~= 0 then
        found.rests = found.rests + 1
        local group = by[rests]
        if not group then
          group = { rests = rests, ids = {} }
          by[rests], found.groups[#found.groups + 1] = group, group
        end
        group.ids[#group.ids + 1] = g.rule.id
      end
    end
  end
  return found
end

-- R30 R31 (ASCE 7-16 27.1.5), R34 (...): the stop rules that hold only as far as values from memory are right; nil:
-- none.
function verdict.memory_line(outcomes)
  local found = verdict.from_memory(outcomes)
  if found.rests == 0 then return nil end
  local list = {}
  for i, g in ipairs(found.groups) do
    list[i] = table.concat(g.ids, " ") .. " (" .. table.concat(memo.cites(g.rests), "; ") .. ")"
  end
  return table.concat(list, ", ")
end

return verdict
