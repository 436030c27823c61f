-- SPDX-License-Identifier: MIT
-- Whether the parts of a rack's rails are of one generation, or joined by an adapter: R22.
local rule = import "model.rule"
local record = import "model.record"
local util = import "model.util"
local buying = import "buying.results"
local at_least, states, every, bound = rule.at_least, rule.states, rule.every, rule.bound
local given = record.given

local function told(list)
  local words = {}
  for i, g in ipairs(list) do words[i] = g.name .. " of generation " .. g.generation end
  return util.list(words)
end

-- Adapters that are there, or bought, against those that all racks need.
local function enough(adapter)
  local n = buying.need(adapter.name, "count")
  if not n or n.count == 0 then return nil end
  local there = buying.covered(n) or math.max(buying.planned(n) or 0, n.hand and n.hand.count or 0)
  return at_least(there, bound(n.count, adapter.name .. " of all racks"))
end

return function(r)
  local list = r.generations
  if #list == 1 then return states(true, "all are of generation " .. list[1].generation) end
  local adapter = given(r.rails, "adapter")
  if not adapter then return states(false, told(list) .. ", and no adapter is stated") end
  for _, g in ipairs(list) do
    if g.generation ~= adapter.from and g.generation ~= adapter.to then
      return states(false, adapter.name .. " joins " .. adapter.from .. " and " .. adapter.to .. ", and there is " ..
          g.name .. " of generation " .. g.generation)
    end
  end
  return every { states(true, told(list) .. ", joined by " .. adapter.name), function() return enough(adapter) end }
end
