-- SPDX-License-Identifier: MIT
-- What a post is and what it stands in: asked here by all, so that sawn posts and pipes, holes and screws are told
-- apart in one place.
local record = import "model.record"
local feet = {}

local given, any, inside = record.given, record.any, record.inside

-- What is asked of screws, blocks and driven posts alone.
local function others() return import "structure.screws_and_blocks" end

-- ---- what it stands in ---------------------------------------------------------------------------------------------

-- The footing of a post: its own, where the job says so (at), or that of its rack.
function feet.footing(post)
  local rack = inside[post].parent.proxy
  if any "at" then
    local own = import("posts.named").at(rack, post)
    if own then return own.footing end
  end
  return rack.posts.footing
end

function feet.kind(footing) return given(footing, "kind") or "hole" end

-- Whether a post is said to be free to turn on it; of a block somebody has to say it.
function feet.hinged(footing)
  local foot = given(footing, "foot")
  if not foot and feet.kind(footing) == "ballast" then
    host.raise { code = "D010", class = "missing", path = tostring(footing) .. ".foot", who = "engineer",
        text = "whether posts are held against turning on " .. feet.title(footing) .. " is not said" }
  end
  return foot == "hinged"
end

-- Whether it is known how far the ground gives way under it at most: of holes by the code's words, of screws and driven
-- posts where the test sideways says how far they moved.
function feet.gives_way(footing)
  return feet.kind(footing) == "hole" or given(footing, "sideways_moved") ~= nil
end

function feet.in_hole(post) return feet.kind(feet.footing(post)) == "hole" end

function feet.named(footing) return others().named(footing) end
function feet.title(footing) return import("write.words").title(footing) end

-- Why something of a post's hole is not there: for `none` of a result.
function feet.no_hole(post)
  local footing = feet.footing(post)
  if feet.kind(footing) ~= "hole" then return tostring(post) .. " has no hole: it has " .. others().named(footing) end
end

-- What only holes are judged by is not known of others: told by name, never guessed.
function feet.only_holes(post, what)
  local footing = feet.footing(post)
  if feet.kind(footing) ~= "hole" then others().refuse(footing, what) end
  return footing
end

-- How deep the ground is opened or pierced, and how wide; nil of what stands on it.
function feet.depth(footing)
  if feet.kind(footing) == "hole" then return footing.hole_depth end
  return others().depth(footing)
end
function feet.width(footing, rack)
  if feet.kind(footing) == "hole" then return footing.hole_diameter end
  return others().width(footing, feet.kind(footing) == "driven" and feet.widest(rack) or nil)
end

-- The ground on which the block under a post lies: of one under all posts of a station, which lies level, the lowest at
-- any of them, to which its place is dug; nil of a post on no block.
function feet.bed(post)
  local footing = feet.footing(post)
  if feet.kind(footing) ~= "ballast" then return nil end
  local low = post.ground
  if footing.carries ~= "station" then return low end
  for x in record.each(inside[post].parent.proxy.post) do
    if x.number == post.number and x.ground < low and feet.footing(x) == footing then low = x.ground end
  end
  return low
end

-- The footings of a rack, each once, in the order of its posts: { footing, posts }.
function feet.of_rack(rack)
  local list, by = {}, {}
  for post in record.each(rack.post) do
    local footing = feet.footing(post)
    if not by[footing] then
      by[footing] = { footing = footing, posts = {} }
      list[#list + 1] = by[footing]
    end
    local posts = by[footing].posts
    posts[#posts + 1] = post
  end
  return list
end

-- Those of one kind: where all posts have the footing of the rack, no post is asked.
local function of_kind(rack, kind)
  if not record.any "at" then
    local footing = rack.posts.footing
    return feet.kind(footing) == kind and { footing } or {}
  end
  local list = {}
  for _, g in ipairs(feet.of_rack(rack)) do
    if feet.kind(g.footing) == kind then list[#list + 1] = g.footing end
  end
  return list
end
function feet.holes(rack) return of_kind(rack, "hole") end
function feet.blocks_of(rack) return of_kind(rack, "ballast") end
function feet.screws_of(rack) return of_kind(rack, "screw") end

-- Whether any post of a rack stands in or on something else than a hole.
function feet.has_other(rack)
  if not record.any "at" then return feet.kind(rack.posts.footing) ~= "hole" end
  for _, g in ipairs(feet.of_rack(rack)) do if feet.kind(g.footing) ~= "hole" then return true end end
  return false
end

-- ---- what it is ----------------------------------------------------------------------------------------------------

-- What is said of the posts of a line, "front", "middle" or "back", by size or part: its own, where the line is unlike
-- the others, nil where it is not; or else the rack's.
function feet.own(rack, line)
  local own = line and given(rack, "unlike_posts")
  for i = 1, own and #own or 0 do if own[i].line == line then return own[i] end end
end
function feet.made(rack, line) return feet.own(rack, line) or rack.posts end
function feet.pole(rack, line) return given(feet.made(rack, line), "part") end

-- The lines that differ in that, each once: names; one that is nil stands for all others.
function feet.unlike(rack)
  local list, rest = {}, false
  if not given(rack, "unlike_posts") then return { n = 1 } end
  for _, line in ipairs(import("structure.lines").of(rack)) do
    if not feet.own(rack, line.name) then rest = true
    elseif list[#list] ~= line.name then list[#list + 1] = line.name end
  end
  list.n = rest and #list + 1 or #list
  return list
end

-- The name under which price lists and orders know the posts.
function feet.item(rack, line)
  local made = feet.made(rack, line)
  local pole = given(made, "part")
  return pole and pole.name or made.size .. " " .. made.treatment
end

-- Width of the post, and whether it is round.
function feet.section(rack, line)
  local made = feet.made(rack, line)
  local pole = given(made, "part")
  if pole then return pole.width, pole.shape == "round" end
  return calc.dressed { section = made.size }.breadth, false
end
-- The same of the line whose posts are widest.
function feet.widest(rack)
  local list, width, round = feet.unlike(rack), nil, nil
  for i = 1, list.n do
    local w, r = feet.section(rack, list[i])
    if not width or w > width then width, round = w, r end
  end
  return width, round
end

-- The length that a post is bought in at least: what is cut, and what is left to trim when it stands.
function feet.stock_length(rack, post)
  local reserve = given(rack.posts, "trim_reserve")
  return reserve and post.cut_length + reserve or post.cut_length
end

function feet.of_timber(rack, line)
  local pole = feet.pole(rack, line)
  return not pole or pole.material == "timber"
end

local pound = host.literal "1lbf" / host.literal "1lb"        -- weight of a mass

local function lumber(made, length, species)
  return calc.lumber { section = made.size, length = length, species = species,
      edition = record.root.codes.wood }
end

-- Least weight of a post, as counted against uplift, and its mass as it is carried.
function feet.weight(rack, length, line)
  local made = feet.made(rack, line)
  local pole = given(made, "part")
  if pole then return pole.mass * length * pound end
  return lumber(made, length, made.species).weight_light
end
function feet.mass(rack, length, line)
  local made = feet.made(rack, line)
  local pole = given(made, "part")
  if pole then return pole.mass * length end
  return lumber(made, length).weight_heavy / pound
end

return feet
