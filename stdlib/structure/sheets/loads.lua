-- SPDX-License-Identifier: MIT
-- Loads: wind and snow on each rack, and what they ask of each post.
local record = import "model.record"
local document = import "write.document"
local words = import "write.words"

local by_post = import "structure.by_post"
local tilted = import "structure.tilted"

local of, cell = words.of, document.of
local long, right, each_post = by_post.long, by_post.right, by_post.each_post

local function short(d)
  for _, r in ipairs(record.all "rack") do
    for _, at in ipairs(tilted.stands(r)) do
      d:para(words.title(r) .. tilted.behind(at) .. ": velocity pressure " .. of(at, "velocity_pressure") ..
          " (strength, without Kd), snow " .. of(at, "snow_load") .. " on the slope, least frame weight " ..
          of(r, "frame_weight"))
    end
    d:table(right("width", "sideways", "net uplift", "uplift", "held by", "embed", "has"), each_post(r, function(x)
      return { x.station, long(x, "tributary"), cell(x, "lateral"), cell(x, "net_uplift"), cell(x, "uplift_demand"),
          cell(x, "uplift_resistance"), long(x, "embedment_needed"), long(x, "embedment") }
    end))
    by_post.papers(d, r)
  end
end

-- What is claimed beyond the code's tables.
local function beside(row)
  for _, claim in ipairs(import "structure.claims"(record.root)) do row("claimed", claim.text) end
end

return { name = "loads", title = "Loads", order = 30, kinds = { "rack", "post" }, beside = beside,
    rules = { "R72" }, short = short, whole = function(d) import "structure.loads_sheet"(d) end }
