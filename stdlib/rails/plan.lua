-- SPDX-License-Identifier: MIT
-- How a rail is bought, where it may be spliced, and what it lies on.
local record = import "model.record"
local stocks = import "buying.sold"
local plan = {}

local given = record.given

-- The row of the parts file that a rack's rails are of; nil of lumber.
function plan.part(rack) return given(rack.rails, "part") end

-- The name under which price lists and orders know the rails.
function plan.item(rack)
  local part = plan.part(rack)
  return part and part.name or rack.rails.size
end

function plan.limit(rack)
  local part = plan.part(rack)
  return given(rack.rails, "expansion_limit") or part and given(part, "expansion_limit")
end

-- Whether a row may have expansion joints at all.
function plan.parted(rack) return given(rack.rails, "expansion_joints") ~= nil or plan.limit(rack) ~= nil end

-- What joins two sticks, by its name; nil where nobody said.
function plan.splice(rack)
  local part = plan.part(rack)
  return given(rack.rails, "splice") or part and given(part, "splice")
end

-- The row of a part of that kind and name; nil where no parts file lists it.
function plan.listed(kind, name)
  for _, p in ipairs(record.all(kind)) do if p.name == name then return p end end
end

-- Whether all kits of which the rack is made have these in their boxes.
function plan.in_kits(rack, what)
  local rails = rack.rails
  local base, extension = given(rails, "base_kit"), given(rails, "extension_kit")
  local function has(kit) return given(kit, "holds_" .. what) == "yes" end
  return base ~= nil and has(base) and (not extension or has(extension))
end

-- What of its rails has a generation: { name, path, generation or nil } ...
function plan.parts_of(rack)
  local list = {}
  local function put(part)
    if not part then return end
    list[#list + 1] = { name = part.name, path = tostring(part), generation = given(part, "generation") }
  end
  local splice = plan.splice(rack)
  put(plan.part(rack))
  put(splice and plan.listed("splice", splice))
  put(given(rack.rails, "base_kit"))
  put(given(rack.rails, "extension_kit"))
  return list
end

-- Why there is nothing to say of generations; nil where there is.
function plan.no_generation(rack)
  if not plan.part(rack) then return "its rails are of lumber" end
  for _, p in ipairs(plan.parts_of(rack)) do if p.generation then return nil end end
  return "nobody says of which generation its parts are"
end

-- What of its rails a parts file lists, behind what is in the list.
function plan.add_parts(rack, list)
  local splice, rails = plan.splice(rack), rack.rails
  list[#list + 1] = plan.part(rack)
  list[#list + 1] = splice and plan.listed("splice", splice) or nil
  for _, name in ipairs { "adapter", "base_kit", "extension_kit" } do list[#list + 1] = given(rails, name) end
end

-- Where a splice may be: { from, to, end_bays, open = nobody said whether in end bays }, and whether somebody said so.
-- Where nobody did, anywhere between two supports, so that the pieces can be planned.
function plan.zone(rack)
  local part, rails = plan.part(rack), rack.rails
  local from, to, ends
  if part then
    from, to = given(part, "splice_least"), given(part, "splice_most")
    if from or to then from, to = from or host.literal "0%", to or host.literal "50%" end
    local said = given(part, "end_bay_splices")
    if said then ends = said == "yes" end
  else
    local zone = given(rails, "splice_zone")
    from, to, ends = zone and zone.from, zone and zone.to, given(rails, "end_bay_splices")
  end
  if from then return { from = from, to = to, end_bays = ends or false, open = ends == nil }, true end
  return { from = host.literal "0%", to = host.literal "50%", end_bays = ends == nil or ends }, false
end

-- What the rails lie on, from the west end of the rails: rafters at each station, or at places of their own.
function plan.supports(rack)
  local own = given(rack, "rafters")
  local places = own and given(own, "count") and rack.rafter_places or
      (given(rack, "bays") or given(rack, "set_in") or rack.stations == 1) and rack.bay_places or rack.post_places
  local list, e = {}, rack.end_allowance
  for i, s in ipairs(places.stations) do list[i] = s.offset + e end
  return list
end

-- The longest stick that its rails are had in, and who has it.
function plan.longest(rack)
  local part = plan.part(rack)
  return stocks.longest(plan.item(rack), part and given(part, "length"))
end

-- Whether the rails are lumber of which each is one stick, or nobody says how long sticks are.
function plan.plain(rack)
  if plan.part(rack) or plan.parted(rack) or given(rack.rails, "joints") then return false end
  local ok, longest = pcall(plan.longest, rack)
  if not ok then
    if host.class(longest) ~= "missing" then error(longest, 0) end
    return true
  end
  return longest >= rack.rail_length or host.near(host.si(longest), host.si(rack.rail_length))
end

-- The lengths that its sticks are had in, and the price of one of each where all have one. What is ordered counts
-- alone, as for the longest of an item; what is in hand has no price.
function plan.stock(rack)
  return stocks.lengths(plan.item(rack), plan.part(rack) and given(plan.part(rack), "length"))
end

return plan
