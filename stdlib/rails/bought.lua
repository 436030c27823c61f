-- SPDX-License-Identifier: MIT
-- What a rack's rails take that is bought: pieces between splices, splices, jumpers, adapters, kits.
local record = import "model.record"
local plan = import "rails.plan"
local bought = {}

local given = record.given

local letters = "abcdefghijklmnopqrstuvwxyz"
local function letter(i) return i <= #letters and letters:sub(i, i) or tostring(i) end

-- "rail 2", and "rail 2 b" of a rail in several pieces, west to east.
function bought.labels(rack)
  local of, list = {}, {}
  for _, p in ipairs(rack.rail_pieces) do of[p.line] = (of[p.line] or 0) + 1 end
  local line, at
  for i, p in ipairs(rack.rail_pieces) do
    if p.line ~= line then line, at = p.line, 0 end
    at = at + 1
    list[i] = "rail " .. line .. (of[line] > 1 and " " .. letter(at) or "")
  end
  return list
end

-- How many of a thing, by its name; unknown where nobody named it.
local function counted(rack, tools, count, name, field, what)
  if count == 0 then return end
  tools.try(what, nil, function()
    if not name then
      host.raise { code = "D010", class = "missing", path = tostring(rack) .. ".rails." .. field, who = "designer",
          tool = "a price list", text = "which " .. what .. " it takes is not given" }
    end
    tools.count(name, count)
  end)
end

-- tools: need(item, how), count(item, n), try(item, name, f).
function bought.put(rack, tools, before)
  local rails, item = rack.rails, plan.item(rack)
  if not plan.in_kits(rack, "rails") then
    tools.try(item, nil, function()
      local pieces, names = rack.rail_pieces, bought.labels(rack)
      local n = tools.need(item, "pieces")
      for i, p in ipairs(pieces) do
        n.pieces[#n.pieces + 1] = p.length
        n.labels[#n.pieces] = before and before .. names[i] or names[i]
      end
    end)
  end
  local metal = plan.part(rack) ~= nil
  local known, splices = pcall(function() return rack.splices end)
  if not known then
    if not host.class(splices) then error(splices, 0) end
    return                                                    -- told of the rails already
  end
  local name = plan.splice(rack)
  if not plan.in_kits(rack, "splices") and (metal or name) then
    counted(rack, tools, splices, name, "splice", "splice")
  end
  if metal then counted(rack, tools, rack.jumpers, given(rails, "jumper"), "jumper", "bonding jumper") end
  local adapter = given(rails, "adapter")
  if adapter then tools.try(adapter.name, nil, function()
    if rack.adapters > 0 then tools.count(adapter.name, rack.adapters) end
  end) end
  for _, role in ipairs { "base", "extension" } do
    local kit = given(rails, role .. "_kit")
    if kit then tools.try(kit.name, nil, function()
      local count = rack[role .. "_kits"]
      if count > 0 then tools.count(kit.name, count) end
    end) end
  end
end

return bought
