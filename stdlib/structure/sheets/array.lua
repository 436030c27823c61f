-- SPDX-License-Identifier: MIT
-- The head of a report: the racks, in a line each; of many, those that are alike in one.
local record = import "model.record"
local words = import "write.words"

local function says(r)
  return r.rows * r.columns .. " x " .. r.modules.name .. ", " .. words.of(r, "power") .. ", tilt " ..
      words.show(r.tilt, "deg") .. ", facing " .. words.of(r, "true_azimuth") .. " true"
end

local function head(row)
  local racks, groups, by = record.all "rack", {}, {}
  for _, r in ipairs(racks) do
    local text, like = says(r), record.inside[r].like and import("write.likeness").in_words(r)
    local key = #racks <= words.few and r or text .. (like or "")
    if not by[key] then
      by[key] = { says = text, like = like }
      groups[#groups + 1] = by[key]
    end
    table.insert(by[key], words.title(r))
  end
  for _, g in ipairs(groups) do
    row("array", words.some(g) .. ": " .. (#g > 1 and "each " or "") .. g.says)
    if g.like then row("", words.some(g) .. ": " .. g.like) end
  end
  if #groups < #racks then
    local modules = 0
    for _, r in ipairs(racks) do modules = modules + r.rows * r.columns end
    row("", "in all " .. #racks .. " racks, " .. modules .. " modules")
  end
end

return { name = "array", order = 4, of = { "rack" }, head = head }
