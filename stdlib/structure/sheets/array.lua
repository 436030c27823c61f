-- SPDX-License-Identifier: MIT
-- The head of a report: the racks, in a line each.
local record = import "model.record"
local words = import "write.words"
local util = import "model.util"

local function head(row)
  for _, r in ipairs(record.all "rack") do
    local n = r.rows * r.columns
    row("array", words.title(r) .. ": " .. n .. " x " .. r.modules.name .. ", " .. words.of(r, "power") ..
        ", tilt " .. words.show(r.tilt, "deg") .. ", facing " .. words.of(r, "true_azimuth") .. " true")
    local rec = record.inside[r]
    if rec.like then
      row("", words.title(r) .. " is like " .. record.inside[rec.like].name ..
          (#rec.differs > 0 and " but for " .. util.list(rec.differs) or ""))
    end
  end
end

return { name = "array", order = 4, of = { "rack" }, head = head }
