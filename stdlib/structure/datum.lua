-- SPDX-License-Identifier: MIT
-- What a rack's lower edge is counted from, where that is not the datum of the ground.
local record = import "model.record"
local shots = import "site.shots"
local datum = {}

-- What `above` may say besides the name of a benchmark, and how a sheet says it.
datum.words = { datum = "the datum", ["highest front post"] = "the ground at the highest front post",
    ["lowest front post"] = "the ground at the lowest front post",
    ["natural grade"] = "the highest natural ground under it" }
local order = { "datum", "highest front post", "lowest front post", "natural grade" }

local function benchmark(name)
  for _, mark in ipairs(record.all "benchmark") do if mark.name == name then return mark end end
end

-- The front post whose ground is highest, or lowest, under the row as it slopes.
local function front_post(rack, higher)
  local slope = record.given(rack, "row_slope") and import "structure.slope"
  local found, at
  for post in record.each(rack.post) do
    if post.line == "front" then
      local ground = slope and slope.ground(rack, post) or post.ground
      if not found or higher and ground > found or not higher and ground < found then found, at = ground, post end
    end
  end
  return found, at
end

-- Its height above the datum of the ground.
function datum.height(rack, above, job)
  if above == "natural grade" then return rack.edge_ground end
  if above == "highest front post" then return (front_post(rack, true)) end
  if above == "lowest front post" then return (front_post(rack, false)) end
  return shots.benchmark(benchmark(above), job.ground)
end

-- In words: "the ground at F1, the highest front post".
function datum.says(rack)
  local above = record.given(rack, "above")
  if above == nil or above == "datum" then return nil end
  if above == "natural grade" then return "the highest natural ground under it, at " .. rack.edge_ground_at end
  if not datum.words[above] then return "benchmark " .. above end
  local _, post = front_post(rack, above == "highest front post")
  return "the ground at " .. post.station .. ", the " .. above
end

function datum.settle(rack, refuse)
  local above = record.given(rack, "above")
  if above == nil or datum.words[above] or benchmark(above) then return end
  local names = table.move(order, 1, #order, 1, {})
  for _, mark in ipairs(record.all "benchmark") do names[#names + 1] = mark.name end
  local near = host.nearest(above, names)
  refuse({ "above" }, "nothing is called '" .. above .. "' that a lower edge could be counted from",
      near and "did you mean '" .. near .. "'?" or "it is one of " .. table.concat(names, ", ") ..
      (#names == #order and ", or the name of a benchmark" or ""))
end

return datum
