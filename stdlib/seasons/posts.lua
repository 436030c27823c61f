-- SPDX-License-Identifier: MIT
-- Posts as they stand in some of the positions of the modules above them: what comes to their feet, and all that
-- follows from it, is of these positions alone.
local rule = import "model.rule"
local graph = import "model.graph"
local record = import "model.record"
local turned = import "seasons.positions"
local posts = {}

local inside, step = record.inside, record.step

-- The post as it stands in these positions, of one tilts; the same one, whoever asks.
local function seen(post, positions)
  local rec, paths = inside[post], {}
  for i, at in ipairs(positions) do paths[i] = inside[at].path end
  rec.seen = rec.seen or setmetatable({}, { __mode = "k" })
  local by = rec.seen[positions[1]] or {}
  rec.seen[positions[1]] = by
  local key = table.concat(paths, ", ")
  by[key] = by[key] or record.beside(post, positions[2] and rec.path or step(step(key, "post"), rec.name), positions)
  return by[key]
end

function posts.at(at, post) return seen(post, { at }) end

local function all(rack, positions)
  local each = record.each(rack.post)
  return function()
    local post = each()
    return post and seen(post, positions)
  end
end

-- The posts of a rack as they stand in one of its positions, to go through; those that stand as a post does.
function posts.each(at) return all(turned.rack(at), { at }) end
function posts.beside(post) return all(record.parent(post), inside[post].stands) end

-- Those of a post's positions of which it is known what they bring to its foot; nil where that is all or none of them.
local function known(positions)
  local list = {}
  for _, at in ipairs(positions) do if graph.try(at, "frames") then list[#list + 1] = at end end
  return list[1] and #list < #positions and list or nil
end

-- See tilted.asked; list: the positions that count for the post.
function posts.asked(check, post, job, list)
  local ok, found = pcall(check, post, job)
  if ok and not (found.ok and found.unknowns) then return found end
  if not ok and not host.class(found) then error(found, 0) end
  local positions = known(list)
  local there, other = false, nil
  if positions then there, other = pcall(check, seen(post, positions), job) end
  if positions and not there and not host.class(other) then error(other, 0) end
  if there and not other.ok then
    return rule.every { other, ok and found or function() error(found, 0) end }
  end
  if ok then return found end
  error(found, 0)
end

return posts
