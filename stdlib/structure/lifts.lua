-- SPDX-License-Identifier: MIT
-- What of a rack is carried in one piece, each kind with its heaviest: for the rule and for the lift list.
local run = import "model.run"
local memo = import "model.memo"
local record = import "model.record"
local feet = import "structure.feet"
local models = import "modules.models"
local lifts = {}

local given = record.given
local pound = host.literal "1lbf" / host.literal "1lb"        -- weight of a mass

local function find_longest(r)
  local longest, most
  for p in record.each(r.post) do
    local length = feet.stock_length(r, p)
    if not longest or length > most then longest, most = p, length end
  end
  return longest
end

-- Found once for the results that want it; where somebody wants to know how, each finds it for itself.
local function once(name, find)
  return function(r)
    if run.noting then return find(r) end
    return memo.remember(record.inside[r], name, function() return find(r) end)
  end
end

lifts.longest_post = once("longest post", find_longest)

local function posts(r)
  local n = 0
  for _ in record.each(r.post) do n = n + 1 end
  return n
end

-- The longest brace of each size.
local function braces(r, stick)
  local order, by = {}, {}
  for b in record.each(r.brace) do
    local found = by[b.size]
    if not found then
      found = { size = b.size, count = 0 }
      by[b.size], order[#order + 1] = found, found
    end
    found.count = found.count + 1
    local length = b.cut_length
    if not found.length or length > found.length then found.length = length end
  end
  for _, b in ipairs(order) do stick("brace", b.size, b.length, "a brace", b.count) end
end

-- Pieces of all its rails; nil where it cannot be said how they are cut.
local function rails_cut(r)
  local plan = import "rails.plan"
  if plan.plain(r) then return r.rails.lines end
  local cut = import("model.graph").try(r, "rail_pieces")
  return cut and #cut
end

-- { task, what, mass, length or nil, count or nil } of each kind, lumber fresh from treatment; the count of rails is a
-- function of the rack, since a list alone wants it.
function lifts.pieces(r)
  local list = {}
  local function piece(task, mass, what, count, length)
    list[#list + 1] = { task = task, mass = mass, what = what, count = count, length = length }
  end
  local function stick(task, size, length, what, count)
    local weight = calc.lumber { section = size, length = length, edition = record.root.codes.wood }.weight_heavy
    piece(task, weight / pound, what .. " of " .. size, count, length)
  end
  local kinds = models.of(r)
  for _, x in ipairs(kinds) do
    piece("module", x.module.mass, #kinds == 1 and "a module" or "a module " .. x.module.name, x.count)
  end
  if #record.all "truck" == 0 then
    local seen = {}                                          -- footings of one rack may take the same bag
    for _, f in ipairs(feet.holes(r)) do
      if not seen[host.si(f.bag)] then piece("concrete", f.bag, "a bag of concrete") end
      seen[host.si(f.bag)] = true
    end
  end
  for _, f in ipairs(feet.blocks_of(r)) do
    piece("ballast", import("structure.screws_and_blocks").block_mass(f), "a block of " .. feet.title(f))
  end
  local part = given(r.rails, "part")
  if part then piece("rail", part.mass * r.rail_piece, "a rail of " .. part.name, rails_cut, r.rail_piece)
  else stick("rail", r.rails.size, r.rail_piece, "a rail", rails_cut) end
  if given(r, "rafter") then stick("rafter", r.rafter, r.rafter_length, "a rafter", r.rafter_count) end
  if given(r, "beam") then stick("beam", r.beam, r.row_width, "a beam", #import("structure.lines").of(r)) end
  if given(r, "braces") then braces(r, stick) end
  local post, heaviest = lifts.longest_post(r), nil
  if given(r, "unlike_posts") then
    for p in record.each(r.post) do
      local mass = feet.mass(r, feet.stock_length(r, p), p.line)
      if not heaviest or mass > heaviest then post, heaviest = p, mass end
    end
  end
  local pole, long = feet.pole(r, post.line), feet.stock_length(r, post)
  piece("post", feet.mass(r, long, post.line), "post " .. post.station .. " of " .. (pole and pole.name or
      feet.made(r, post.line).size), posts(r), long)
  return list
end

-- The first of those that are heaviest.
lifts.heaviest = once("heaviest piece", function(r)
  local most
  for _, p in ipairs(lifts.pieces(r)) do if not most or p.mass > most.mass then most = p end end
  return most
end)

return lifts
