-- SPDX-License-Identifier: MIT
-- Ground screws, ballast blocks and driven posts: what is asked of them alone.  structure.feet is the door to it.
local record = import "model.record"
local others = {}

local given = record.given
local function kind_of(footing) return given(footing, "kind") or "hole" end

local said = { hole = "a hole", screw = "a ground screw", ballast = "a ballast block", driven = "a post driven in" }

-- "a ground screw": what the posts of a footing stand in, in words.
function others.named(footing) return said[kind_of(footing)] end

function others.refuse(footing, what)
  host.raise { code = "C005", class = "range", text = what .. " is not worked out here for " ..
      others.named(footing) .. ": " .. import("write.words").title(footing) }
end

-- How far the foot of a post that has no hole is above the ground beside it; bed: the ground on which its block lies.
local base = {
  screw = function(f) return f.head end,
  ballast = function(f, post, bed)
    local above = bed + f.block_height - post.ground
    if host.si(above) < 0 then
      host.raise { code = "C005", class = "range", text = "the block under post " .. post.station ..
          " would lie with its top below the ground there: it lies level with the lowest ground at a post on it" }
    end
    return above
  end,
  driven = function(f) return -f.driven_depth end,
}
function others.base(footing, post, bed) return base[kind_of(footing)](footing, post, bed) end

-- How deep the ground is pierced, and how wide; no depth of a block, which stands on it.
function others.depth(footing)
  local kind = kind_of(footing)
  if kind == "screw" then return footing.screw_length - footing.head end
  return kind == "driven" and footing.driven_depth or nil
end
function others.width(footing, post_width)
  local kind = kind_of(footing)
  if kind == "screw" then return footing.shaft elseif kind == "ballast" then return footing.block_width end
  return post_width
end

-- Mass of one block, as given or by its density.
function others.block_mass(footing)
  local mass = given(footing, "block_mass")
  if mass then return mass end
  return calc.block { length = footing.block_length, width = footing.block_width, height = footing.block_height,
      density = footing.block_density }.mass
end

-- How many blocks these posts of one rack take.
function others.blocks(footing, posts)
  if footing.carries == "post" then return #posts end
  local n, seen = 0, {}
  for _, post in ipairs(posts) do
    if not seen[post.number] then seen[post.number], n = true, n + 1 end
  end
  return n
end

-- Counts the screws and blocks of groups of posts into what is needed, each by the name of its footing.
function others.need(groups, need)
  for _, g in ipairs(groups) do
    local kind = kind_of(g.footing)
    local n = (kind == "screw" or kind == "ballast") and need(record.inside[g.footing].name, "count")
    if n then n.count = n.count + (kind == "screw" and #g.posts or others.blocks(g.footing, g.posts)) end
  end
end

-- What the posts of a footing stand in, on a sheet.
function others.stands(f, measure, show)
  local kind = kind_of(f)
  if kind == "screw" then
    return "ground screws " .. measure.inches(f.shaft) .. " thick and " .. measure.inches(f.screw_length) .. " long"
  elseif kind == "ballast" then
    return "on blocks " .. show(f.block_length) .. " by " .. show(f.block_width) .. " by " .. show(f.block_height)
  end
  return "driven " .. measure.up(f.driven_depth) .. " deep"
end

-- " (round steel, 60.3 mm, wall 3.9 mm)", for a sheet.
function others.pole_words(pole, show)
  local wall = given(pole, "wall")
  return " (" .. pole.shape .. " " .. pole.material .. ", " .. show(pole.width) ..
      (wall and ", wall " .. show(wall) or "") .. ")"
end

-- As many blocks as stations or posts, where somebody counted them.
function others.settle_blocks(footing, refuse, groups_of)
  local there, wanted, racks = given(footing, "blocks"), 0, false
  if not there then return end
  for _, rack in ipairs(record.all "rack") do
    for _, g in ipairs(groups_of(rack)) do
      if g.footing == footing then wanted, racks = wanted + others.blocks(footing, g.posts), true end
    end
  end
  if racks and there < wanted then
    local each = footing.carries == "post" and " posts" or " stations"
    refuse({ "blocks" }, "there are " .. there .. " blocks for " .. wanted .. each,
        "one for each: " .. wanted .. ", or fewer" .. each)
  end
end

return others
