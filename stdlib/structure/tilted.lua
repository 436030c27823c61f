-- SPDX-License-Identifier: MIT
-- Racks whose tilt is changed with the seasons, as rules and results of all racks see them.
local record = import "model.record"
local tilted = {}

-- The positions of a rack's modules, in the order declared; nil where they have one tilt for good.
function tilted.positions(rack)
  if not record.all "tilts"[1] then return nil end
  return import("seasons.positions").of(rack)
end

-- Whose loads are asked: the rack, or each of its positions where it has some.  All that wind, snow and weight do is a
-- result of either.
function tilted.stands(rack) return tilted.positions(rack) or { rack } end

-- The rack that stands so.
function tilted.rack(at)
  if record.inside[at].def.name ~= "position" then return at end
  return import("seasons.positions").rack(at)
end

-- "rack.east", "rack.east at 55 deg, from 09-15"
function tilted.title(at)
  local rack = tilted.rack(at)
  if rack == at then return tostring(rack) end
  return tostring(rack) .. " " .. import("seasons.positions").words(at)
end

-- How it stands, behind other words: "" of a rack that keeps its tilt; ", at 55 deg, from 09-15".
function tilted.behind(at)
  return tilted.rack(at) == at and "" or ", " .. import("seasons.positions").words(at)
end

-- The posts of a rack, to go through; of one in a position of its modules, each as it stands then: what comes to its
-- foot is that of this position.
function tilted.posts(at)
  local rack = tilted.rack(at)
  if rack == at then return record.each(rack.post) end
  return import("seasons.posts").each(at)
end

-- One of a rack's posts as it stands so.
function tilted.post(at, post)
  return tilted.rack(at) == at and post or import("seasons.posts").at(at, post)
end

-- As what a post stands: its rack, or the one position in which it is seen.
function tilted.at(post)
  local seen = record.inside[post].stands
  return seen and not seen[2] and seen[1] or record.parent(post)
end

-- The posts of its rack that stand as a post does, and itself, to go through.
function tilted.beside(post)
  if record.inside[post].stands then return import("seasons.posts").beside(post) end
  return record.each(record.parent(post).post)
end

-- The positions of the modules that count for a post; nil where they have one tilt for good.
function tilted.of_post(post)
  return record.inside[post].stands or tilted.positions(record.parent(post))
end

-- check(post, job), which goes by the most of all positions of the modules: where one of them is not known, what is
-- broken in the others is broken all the same.
function tilted.asked(check)
  return function(post, job)
    local all = tilted.of_post(post)
    if not all then return check(post, job) end
    return import("seasons.posts").asked(check, post, job, all)
  end
end

-- f(rack), a finding; or the worst of f(position), with the position in its words.
function tilted.worst(rack, f)
  local positions = tilted.positions(rack)
  if not positions then return f(rack) end
  return import("seasons.positions").worst(positions, f)
end

return tilted
