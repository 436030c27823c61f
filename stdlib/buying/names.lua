-- SPDX-License-Identifier: MIT
-- Whether an item of a price list is a thing that is known under its name: then it is another thing than the one that
-- is wanted, and no slip of the pen.
local record = import "model.record"
local run = import "model.run"
local names = {}

local is = host.in_column

local function is_part(item)
  for _, r in ipairs(run.records) do
    local rec = record.inside[r]
    if rec.def.part and rec.name == item then return true end
  end
  return false
end

-- "2x6", "6x6 UC4B"
local function is_lumber(item)
  local size, treatment = item:match "^(%S+) ?(.*)$"
  return is("wood_sections.section", size) and (treatment == "" or is("wood_treatment.category", treatment))
end

-- "6 AWG THWN-2 copper"
local function is_wire(item)
  local size, insulation, metal = item:match "^(%S+ %S+) (.+) (%S+)$"
  return size and host.wire(size) ~= nil and is("insulation_types.type", insulation)
      and is("ampacity_310_16.material", metal)
end

-- "PVC 40 1 in"
local function is_conduit(item)
  for _, kind in ipairs(host.column "conduit_ch9_t4.kind") do
    if item:sub(1, #kind + 1) == kind .. " " then return is("conduit_ch9_t4.size", item:sub(#kind + 2)) end
  end
  return false
end

function names.known(item) return is_part(item) or is_lumber(item) or is_wire(item) or is_conduit(item) end

return names
