-- SPDX-License-Identifier: MIT
-- The limits of places, the house and the job, and those that an office has none of: for a page, and for programs.
local rule = import "model.rule"
local util = import "model.util"
local words = import "write.words"
local limits = {}

-- ---- for programs --------------------------------------------------------------------------------------------------

-- As a sheet's facts have their shapes: see write.schema_json.
limits.shape = {
  { "limits", { { "name", "text" }, { "path", "text" }, { "value", "value" }, { "says", "text" }, { "whose", "text" },
      { "kind_of_office", "text", optional = true }, { "cite", "text" }, { "since", "text", optional = true },
      { "may_waive", "text", optional = true }, { "in_force", "flag" }, { "own", "flag" },
      { "read", "flag", optional = true }, { "tightest", "flag", optional = true },
      { "place", "text", optional = true }, { "read_by", { "text" }, optional = true } } },
  { "no_limits", { { "name", "text" }, { "says", "text" }, { "whose", "text" }, { "cite", "text" } } },
}

-- { key, value } ...: whether a rule of this job read a limit, and whether another was tighter, where that is known;
-- readers, if given: name -> ids of the rules that read it.
function limits.facts(as, outcomes, readers)
  local given, none = as.array {}, as.array {}
  for i, l in ipairs(rule.limits_in_force(outcomes)) do
    given[i] = as.object { { "name", l.name }, { "path", l.path }, { "value", as.value(l.value, l.unit) },
        { "says", l.says }, { "whose", l.whose }, { "kind_of_office", l.as }, { "cite", l.cite }, { "since", l.since },
        { "may_waive", l.may_waive }, { "in_force", l.in_force }, { "own", l.own }, { "read", l.read },
        { "tightest", l.tightest }, { "place", readers and host.place(l.place) or nil },
        { "read_by", readers and as.array(readers[l.name] or {}) or nil } }
  end
  for i, n in ipairs(rule.limits_of_none()) do
    none[i] = as.object { { "name", n.name }, { "says", n.says }, { "whose", n.whose }, { "cite", n.cite } }
  end
  return { { "limits", given }, { "no_limits", none } }
end

-- ---- for a page ----------------------------------------------------------------------------------------------------

-- Where it stands, and what else is to be known of it.
local function told(l, readers, meant)
  local parts = { l.cite .. (readers and " (" .. host.place(l.place) .. ")" or "") }
  if meant or l.own then parts[2] = l.says end
  if l.from then parts[#parts + 1] = "its amount by " .. l.from end
  if l.since then parts[#parts + 1] = l.in_force and "since " .. l.since or "NOT IN FORCE before " .. l.since end
  if l.may_waive then parts[#parts + 1] = "who may waive: " .. l.may_waive end
  if l.tightest == false then parts[#parts + 1] = "another is tighter" end
  local ids = readers and readers[l.name]
  if ids then parts[#parts + 1] = "read by " .. table.concat(ids, " ")
  elseif readers or l.own and l.read == false then parts[#parts + 1] = "no rule that judges this job reads it" end
  return table.concat(parts, "; ")
end

-- Whose limits, and rows of them, in the order in which each is met first.
local function by_owner(outcomes, readers, meant)
  local owners, rows = {}, {}
  for _, l in ipairs(rule.limits_in_force(outcomes)) do
    local whose = l.whose .. (l.as and " (" .. l.as .. ")" or "")
    if not rows[whose] then owners[#owners + 1], rows[whose] = whose, {} end
    table.insert(rows[whose], { l.name,
        { text = words.as_written(l.value, l.unit), value = l.value, unit = l.unit, path = l.path },
        told(l, readers, meant) })
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

-- outcomes: of the job; readers, if given: name -> ids of the rules that read it; meant: what each limit means, also
-- those of the library, for who reads no other page.
function limits.put(d, outcomes, readers, meant)
  local owners, rows = by_owner(outcomes, readers, meant)
  for _, whose in ipairs(owners) do
    d:para("Limits of " .. whose .. ":")
    d:inside(function()
      d:table({ { "", key = "limit" }, { "", key = "value", right = true },
          { "", key = "where it stands", wrap = true } }, rows[whose])
    end)
  end
  for _, n in ipairs(nobodys()) do d:para(n.whose .. " has no limit of " .. util.list(n) .. ": " .. n.cite .. ".") end
  for i, part in ipairs(limits.shape) do
    d:fact(part[1], function(as) return limits.facts(as, outcomes, readers)[i][2] end)
  end
end

return limits
