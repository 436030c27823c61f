-- SPDX-License-Identifier: MIT
-- A limit of places and the house: what it means, who gives it, where it stands, since when, and which rules read it.
local judge = import "model.judge"
local rule = import "model.rule"
local words = import "write.words"

-- The rules that read a limit, on any of their subjects.  Each is asked once more.
local function readers(name)
  local list = {}
  for _, def in ipairs(rule.all()) do
    for _, subject in ipairs(judge.subjects(def) or {}) do
      for _, read in ipairs(rule.limits_asked(judge.try, def, subject)) do
        if read == name and list[#list] ~= def then list[#list + 1] = def end
      end
    end
  end
  return list
end

local function told(d, l)
  d:para(words.as_written(l.value, l.unit) .. ", " .. l.whose .. (l.as and " (" .. l.as .. ")" or ""), l.path .. " = ")
  d:inside(function()
    d:fact_line("cite", l.cite)
    if l.from then d:fact_line("put in", l.from) end
    if l.since then d:fact_line("since", l.since .. (l.in_force and "" or ": not in force yet")) end
    if l.may_waive then d:fact_line("waives", l.may_waive) end
    if l.tightest == false then d:fact_line("counts", "no: another is tighter") end
    if l.place and l.place.line > 0 then d:fact_line("stands", host.place(l.place)) end
  end)
end

-- What is known of the limits of that name, or of all; false, where nobody gives any of it and nobody denies it.
return function(d, outcomes, name)
  local any, mark = false, nil
  for _, l in ipairs(rule.limits_in_force(outcomes)) do
    if not name or l.name == name then
      any = true
      if mark ~= l.name then d:head("limits." .. l.name) d:para(l.says) end
      mark = l.name
      told(d, l)
    end
  end
  for _, n in ipairs(rule.limits_of_none()) do
    if not name or n.name == name then
      any = true
      d:para(n.whose .. " has no limit " .. n.name .. " (" .. n.says .. "): " .. n.cite .. ".")
    end
  end
  if not any or not name then return any end
  local list = readers(name)
  for _, def in ipairs(list) do d:fact_line("read by", def.id .. ": " .. def.says) end
  if #list == 0 then d:fact_line("read by", "no rule that judges this job") end
  return any
end
