-- SPDX-License-Identifier: MIT
-- The head of a report: the racks, in a line each; of many, those that are alike in one.
local record = import "model.record"
local words = import "write.words"
local util = import "model.util"

local function says(r)
  return r.rows * r.columns .. " x " .. r.modules.name .. ", " .. words.of(r, "power") .. ", tilt " ..
      words.show(r.tilt, "deg") .. ", facing " .. words.of(r, "true_azimuth") .. " true"
end

-- What it is like, and in what it differs; nil for one that is like none.
local function model(r)
  local rec = record.inside[r]
  return rec.like and "like " .. record.inside[rec.like].name ..
      (#rec.differs > 0 and " but for " .. util.list(rec.differs) or "")
end

local function head(row)
  local racks, groups, by = record.all "rack", {}, {}
  for _, r in ipairs(racks) do
    local text, like = says(r), model(r)
    local key = #racks <= words.few and r or text .. (like or "")
    if not by[key] then
      by[key] = { says = text, like = like }
      groups[#groups + 1] = by[key]
    end
    table.insert(by[key], words.title(r))
  end
  for _, g in ipairs(groups) do
    row("array", words.some(g) .. ": " .. (#g > 1 and "each " or "") .. g.says)
    if g.like then row("", words.some(g) .. (#g > 1 and " are " or " is ") .. g.like) end
  end
  if #groups < #racks then
    local modules = 0
    for _, r in ipairs(racks) do modules = modules + r.rows * r.columns end
    row("", "in all " .. #racks .. " racks, " .. modules .. " modules")
  end
end

return { name = "array", order = 4, of = { "rack" }, head = head }
