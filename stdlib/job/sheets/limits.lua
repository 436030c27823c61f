-- SPDX-License-Identifier: MIT
-- The limits that places and the house give: whose each is, where it stands, which count; and which there are none of.
local run = import "model.run"
local rule = import "model.rule"
local util = import "model.util"
local words = import "write.words"
local limits = import "write.limits"

-- Where it stands, and what else is to be known of it.
local function told(l)
  local parts = { l.cite }
  if l.own then parts[2] = l.says end
  if l.since then parts[#parts + 1] = l.in_force and "since " .. l.since or "NOT IN FORCE before " .. l.since end
  if l.may_waive then parts[#parts + 1] = "who may waive: " .. l.may_waive end
  if l.tightest == false then parts[#parts + 1] = "another is tighter" end
  if l.own and l.read == false then parts[#parts + 1] = "no rule that judges this job reads it" end
  return table.concat(parts, "; ")
end

-- Whose limits, and rows of them, in the order in which each is met first.
local function by_owner(d)
  local owners, rows = {}, {}
  for _, l in ipairs(rule.limits_in_force(d.outcomes)) do
    local whose = l.whose .. (l.as and " (" .. l.as .. ")" or "")
    if not rows[whose] then owners[#owners + 1], rows[whose] = whose, {} end
    table.insert(rows[whose], { l.name,
        { text = words.as_written(l.value, l.unit), value = l.value, unit = l.unit, path = l.path }, told(l) })
  end
  return owners, rows
end

-- What offices have no limit of, those of one source together: { name and meaning ..., whose, cite } ...
local function nobodys()
  local list, by = {}, {}
  for _, n in ipairs(rule.limits_of_none()) do
    local key = n.whose .. ": " .. n.cite
    if not by[key] then
      by[key] = { whose = n.whose, cite = n.cite }
      list[#list + 1] = by[key]
    end
    table.insert(by[key], n.name .. " (" .. n.says .. ")")
  end
  return list
end

local function put(d)
  local owners, rows = by_owner(d)
  for _, whose in ipairs(owners) do
    d:para("Limits of " .. whose .. ":")
    d:inside(function()
      d:table({ { "", key = "limit" }, { "", key = "value", right = true },
          { "", key = "where it stands", wrap = true } }, rows[whose])
    end)
  end
  for _, n in ipairs(nobodys()) do d:para(n.whose .. " has no limit of " .. util.list(n) .. ": " .. n.cite .. ".") end
  for i, part in ipairs(limits.shape) do
    d:fact(part[1], function(as) return limits.facts(as, d.outcomes)[i][2] end)
  end
end

return { name = "limits", title = "Limits in force", order = 900, kinds = {},
    facts = limits.shape,
    inputs = function(d)
      if next(run.limits) or next(run.no_limits) then d:gap() end
      put(d)
    end,
    whole = function(d)
      if not next(run.limits) then d:para("No place and no house gives a limit.") end
      put(d)
    end }
