-- SPDX-License-Identifier: MIT
-- Which data sheets the parts of the racks are from; beside the verdict those of which nobody says it.
local record = import "model.record"
local words = import "write.words"
local util = import "model.util"

-- The parts of the racks, each once, in words: with their data sheet, and without one.
local function parts()
  local with, without, seen = {}, {}, {}
  for _, r in ipairs(record.all "rack") do
    local of = { r.modules, r.mid_clamp, r.end_clamp }
    if record.given(r.rails, "part") then import("rails.plan").add_parts(r, of) end
    of[#of + 1] = record.given(r.posts, "part")
    for _, part in ipairs(of) do
      local sheet = record.given(part, "data_sheet")
      local list = sheet and with or without
      if not seen[part] then list[#list + 1] = words.title(part) .. (sheet and " (" .. sheet .. ")" or "") end
      seen[part] = true
    end
  end
  return with, without
end

local function beside(row)
  local _, without = parts()
  if #without > 0 then row("no source", "all of " .. util.list(without)) end
end

local function inputs(d)
  local with, without = parts()
  if #with > 0 then d:para("Parts by their data sheets: " .. util.list(with) .. ".") end
  if #without > 0 then d:para("Nobody said the source of: all of " .. util.list(without) .. ".") end
end

return { name = "parts", order = 3, of = { "rack" }, beside = beside, inputs = inputs }
