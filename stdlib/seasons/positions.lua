-- SPDX-License-Identifier: MIT
-- The positions of each rack, the worst of which is judged.
local run = import "model.run"
local rule = import "model.rule"
local memo = import "model.memo"
local record = import "model.record"
local positions = {}

-- Whose modules these are.
function positions.rack(position) return run.groups.rack.by[position.of] end

local function by_rack()
  return memo.remember(record.inside[record.root], "positions by rack", function()
    local by = {}
    for p in record.each_of "position" do
      local list = by[p.of] or {}
      by[p.of], list[#list + 1] = list, p
    end
    return by
  end)
end

-- Those of a rack, in the order declared; nil where none are.
function positions.of(rack) return by_rack()[record.inside[rack].name] end

-- The one in which the modules are on a day of the year, "12-21": that which began last.
function positions.on(list, day)
  local here, last
  for _, p in ipairs(list) do
    if p.from <= day and (not here or p.from > here.from) then here = p end
    if not last or p.from > last.from then last = p end
  end
  return here or last
end

-- "at 55 deg, from 09-15"
function positions.words(p) return "at " .. host.format(p.tilt) .. ", from " .. p.from end

-- The worst of f(position) for these, with its position in its words.
function positions.worst(list, f)
  local found = {}
  for i, p in ipairs(list) do
    found[i] = function()
      local finding = f(p)
      finding.words = (finding.words and finding.words .. ", " or "") .. positions.words(p)
      return finding
    end
  end
  return rule.every(found)
end

-- The steepest of these; several where they are alike.
function positions.steepest(list)
  local most = {}
  for _, p in ipairs(list) do
    local first = most[1]
    if not first or p.tilt > first.tilt then most = { p }
    elseif not (p.tilt < first.tilt) then most[#most + 1] = p end
  end
  return most
end

-- A limit that counts at the steepest or at the declared tilt is judged there, any other in each position.
function positions.under(rack, list, height, limits)
  local found = {}
  for i, l in ipairs(limits) do
    found[i] = function()
      if l.at == "declared tilt" then return rule.at_most(height(rack), l) end
      return positions.worst(l.at and positions.steepest(list) or list,
          function(p) return rule.at_most(height(p), l) end)
    end
  end
  return rule.every(found)
end

-- What wind and snow do stands with the positions.
function positions.refuse_loads(rack, list, what)
  for _, p in ipairs(list) do
    if not host.same(p.tilt, rack.tilt) then
      host.raise { code = "C005", class = "range", text = "the modules of " .. tostring(rack) .. " are turned: " ..
          what .. " is worked out in each position, as " .. tostring(list[1]) ..
          ", and what goes by one tilt alone is not" }
    end
  end
end

return positions
