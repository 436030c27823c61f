-- SPDX-License-Identifier: MIT
-- Frost grips what stands in it and lifts it a little each winter: what is done about that, and the plain sum.
local record = import "model.record"
local feet = import "structure.feet"
local given = record.given
local frost = { heaves = "re-levelled each spring" }

local function reaches(depth, frozen) return depth > frozen or host.near(host.si(depth), host.si(frozen)) end

-- What holds a footing by its shape: a bell or a helix that stands below frost.  A bell has risen all the same.
local function shape(footing, frozen)
  if given(footing, "bell") and reaches(footing.hole_depth - footing.gravel, frozen) then
    return "its bell stands below frost (deep bells have risen all the same)"
  end
  local helix = given(footing, "helix_depth")
  if helix and reaches(helix, frozen) then return "its helix stands below frost" end
end

-- What is done about frost that grips this footing, or lifts it from below, in words; nil where nothing is known.
function frost.measure(footing, site)
  local declared = given(footing, "frost_grip")
  if declared then
    return (feet.kind(footing) == "ballast" and "it heaves with the ground that it stands on; " or "") .. declared ..
        ", by " .. footing.frost_grip_by
  end
  local by_shape = shape(footing, site.frost)
  if by_shape then return by_shape end
  local soil = given(site, "soil")
  local safe = soil and given(soil, "frost_safe")
  return safe and "the soil does not heave: " .. safe
end

-- The same for a sheet, where nobody may have given the frost depth.
function frost.measure_told(footing)
  local site = record.root.site
  local frozen = given(site, "frost")
  if not frozen then return given(footing, "frost_grip") or "unknown: no frost depth is given" end
  if host.si(frozen) == 0 then return "the ground does not freeze" end
  return frost.measure(footing, site) or "nothing is declared"
end

-- What stands in the ground, for the plain sum: width, whether square, depth of its foot, face, weight of concrete.
local none = host.literal "0lbf"
local gripped = {
  hole = function(post, f)
    return f.hole_diameter, false, f.hole_depth - f.gravel, "wood or concrete", post.concrete_weight
  end,
  screw = function(_, f) return f.shaft, false, feet.depth(f), "steel", none end,
  driven = function(post, f)
    local rack = record.parent(post)
    local width, round = feet.section(rack, post.line)
    return width, not round, f.driven_depth, feet.of_timber(rack, post.line) and "wood or concrete" or "steel", none
  end,
}

-- Why there is no plain sum of a post: for `none` of a result.
function frost.not_gripped(post)
  local footing = feet.footing(post)
  if not gripped[feet.kind(footing)] then
    return tostring(post) .. " has " .. feet.named(footing) .. ", which frost lifts from below and does not grip"
  end
end

function frost.sum(post, job)
  local footing, rack = feet.footing(post), record.parent(post)
  local width, square, depth, face, concrete = gripped[feet.kind(footing)](post, footing)
  return { width = width, square = square, depth = depth, frost = job.site.frost, face = face,
      frame = post.dead_counted, post = feet.weight(rack, post.cut_length, post.line), concrete = concrete }
end

-- All footings of a rack: what is done about each; and those about which nothing is.
function frost.judged(rack, job)
  local done, open, site = {}, {}, job.site
  local _ = site.frost
  for _, g in ipairs(feet.of_rack(rack)) do
    local measure = frost.measure(g.footing, site)
    if measure then done[#done + 1] = feet.title(g.footing) .. ": " .. measure
    else
      open[#open + 1] = feet.title(g.footing) ..
          (gripped[feet.kind(g.footing)] and "" or ", which heaves with the ground that it stands on")
    end
  end
  return done, open
end

-- The plain sum of the post of which least is known to hold it.
function frost.worst(rack)
  local graph = import "model.graph"
  local worst, least
  for post in record.each(rack.post) do
    local pull, weight = graph.try(post, "frost_pull"), graph.try(post, "frost_weight")
    if pull and weight and (not worst or weight - pull < least) then worst, least = post, weight - pull end
  end
  if not worst then return nil end
  local words = import "write.words"
  return "by a plain sum frost would pull post " .. worst.station .. " up with " .. words.show(worst.frost_pull) ..
      ", where " .. words.show(worst.frost_weight) ..
      " of weight are: shown, not judged, since it would lift nearly every light rack"
end

-- { path, text } of what heaves until somebody puts it right, for whoever reads page one.
function frost.told()
  local list = {}
  for _, f in ipairs(record.all "footing") do
    if given(f, "frost_grip") == frost.heaves then
      list[#list + 1] = feet.title(f) .. " heaves each winter and is re-levelled each spring, by " .. f.frost_grip_by
    end
  end
  return list
end

-- What to change, in words: a measure is somebody's to choose.
function frost.advice(rack, job)
  local _, open = frost.judged(rack, job)
  if #open == 0 then return nil end
  return "say what is done: frost_grip = \"drained backfill\", \"sleeve\" or \"" .. frost.heaves ..
      "\" of the footing, and frost_grip_by = who sees to it; or site.soil.frost_safe = why this soil does not " ..
      "heave, and who found that"
end

return frost
