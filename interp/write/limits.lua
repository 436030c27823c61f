-- SPDX-License-Identifier: MIT
-- The limits of places and the house, and those that an office has none of, for programs.
local rule = import "model.rule"
local limits = {}

-- As a sheet's facts have their shapes: see write.schema_json.
limits.shape = {
  { "limits", { { "name", "text" }, { "path", "text" }, { "value", "value" }, { "says", "text" }, { "whose", "text" },
      { "kind_of_office", "text", optional = true }, { "cite", "text" }, { "since", "text", optional = true },
      { "may_waive", "text", optional = true }, { "in_force", "flag" }, { "own", "flag" },
      { "read", "flag", optional = true }, { "tightest", "flag", optional = true } } },
  { "no_limits", { { "name", "text" }, { "says", "text" }, { "whose", "text" }, { "cite", "text" } } },
}

-- { key, value } ...: whether a rule of this job read a limit, and whether another was tighter, where that is known.
function limits.facts(as, outcomes)
  local given, none = as.array {}, as.array {}
  for i, l in ipairs(rule.limits_in_force(outcomes)) do
    given[i] = as.object { { "name", l.name }, { "path", l.path }, { "value", as.value(l.value, l.unit) },
        { "says", l.says }, { "whose", l.whose }, { "kind_of_office", l.as }, { "cite", l.cite }, { "since", l.since },
        { "may_waive", l.may_waive }, { "in_force", l.in_force }, { "own", l.own }, { "read", l.read },
        { "tightest", l.tightest } }
  end
  for i, n in ipairs(rule.limits_of_none()) do
    none[i] = as.object { { "name", n.name }, { "says", n.says }, { "whose", n.whose }, { "cite", n.cite } }
  end
  return { { "limits", given }, { "no_limits", none } }
end

return limits
