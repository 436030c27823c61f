-- SPDX-License-Identifier: MIT
-- The limits that places and the house give: whose each is, where it stands, which count; and which there are none of.
local rule = import "model.rule"
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

local function put(d)
  local owners, rows = by_owner(d)
  for _, whose in ipairs(owners) do
    d:para("Limits of " .. whose .. ":")
    d:inside(function()
      d:table({ { "", key = "limit" }, { "", key = "value", right = true },
          { "", key = "where it stands", wrap = true } }, rows[whose])
    end)
  end
  if #owners == 0 then d:para("No place and no house gives a limit.") end
  for _, n in ipairs(rule.limits_of_none()) do
    d:para(n.whose .. " has no limit " .. n.name .. " (" .. n.says .. "): " .. n.cite .. ".")
  end
  for i, part in ipairs(limits.shape) do
    d:fact(part[1], function(as) return limits.facts(as, d.outcomes)[i][2] end)
  end
end

return { name = "limits", title = "Limits in force", order = 900, kinds = {},
    facts = limits.shape,
    inputs = function(d)
      d:gap()
      put(d)
    end,
    whole = put }
