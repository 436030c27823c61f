-- SPDX-License-Identifier: MIT
-- What follows for posts beyond their length: the leg or the stick that it is made of, and the fit of plate and slots.
local graph = import "model.graph"
local record = import "model.record"
local run = import "model.run"
local feet = import "structure.feet"
local buying = import "buying.results"
local work, result, given = graph.work, graph.result, record.given

local rack_of = record.parent

result { "post", "stands_in", says = "the footing that it stands in, or on",
  work = function(p) return record.inside[feet.footing(p)].name end }

local function cut_to_length(p)
  if given(rack_of(p).posts, "slide") == nil then return "its rack's posts are cut to length" end
end
local function slides(p)
  if given(rack_of(p).posts, "slide") ~= nil then return "its rack's legs slide and are not cut" end
end

-- The lengths of an item that are had, for what is not cut: those ordered, or else those sold and in hand.
local function had(item)
  local list = {}
  local function put(l) list[#list + 1] = l end
  if #record.all "on_hand" + #record.all "order" > 0 then
    local stock = import "buying.stock"
    local ordered, hand = stock.ordered(item), stock.hand(item)
    for _, l in ipairs(ordered and ordered.sticks or {}) do put(l) end
    if list[1] then return list end
    for _, l in ipairs(hand and hand.sticks or {}) do put(l) end
  end
  for _, p in ipairs(run.prices.of[item] or {}) do if p.length then put(p.length) end end
  if list[1] then return list end
  host.raise { code = "D010", class = "missing", text = "no price list has lengths of " .. item,
      path = "prices: " .. item, who = "vendor", tool = "a quote" }
end

-- Lengths of leg that are had.
local function lengths(rack, line)
  local stock = given(rack.posts, "stock")
  if not stock then return had(feet.item(rack, line)) end
  local list = {}
  for i = 1, #stock do list[i] = stock[i] end
  return list
end

work { "post", "leg", op = "leg", says = "the leg that it is made of, which is not cut", none = cut_to_length,
  input = function(p)
    local rack = rack_of(p)
    return { needed = p.cut_length, slide = rack.posts.slide, lengths = lengths(rack, p.line) }
  end,
  gives = {
    length = { name = "leg_length", says = "the length that is had and comes nearest" },
    off = { name = "leg_off", says = "how far its head slides from the middle" },
    left = { name = "leg_left", says = "what is left of the slide" },
  } }

work { "post", "trim", op = "trim", says = "the longest stick against the post", none = slides,
  input = function(p)
    local rack = rack_of(p)
    local reserve = given(rack.posts, "trim_reserve")
    return { stock = (buying.longest(feet.item(rack, p.line))), cut = p.cut_length,
        reserve = reserve or 0 * p.cut_length, embedment = p.embedment }
  end,
  gives = {
    needed = { name = "stock_needed", says = "length that it is bought in at least: cut, and what is left to trim" },
    spare = { name = "stock_spare", says = "what the longest stick leaves; less than 0: it is short by so much" },
    embedment_left = { name = "embedment_left",
      says = "embedment of a post of the longest stick, its top where it belongs" },
  } }

local function no_plate(r) if given(r.posts, "plate") == nil then return "no plate is declared" end end

work { "rack", "foot_plate", op = "plate", says = "the face that its posts' plates need", none = no_plate,
  input = function(r, job)
    local plate = r.posts.plate
    local edge, fastener = given(plate, "edge"), given(plate, "fastener")
    local unlike = feet.unlike(r)
    for i = 1, unlike.n do
      if fastener and not feet.of_timber(r, unlike[i]) then
        host.raise { code = "C005", class = "range", text = "how near a screw may stand to the edge is known of " ..
            "wood here, and the posts of " .. tostring(r) .. " are of " .. feet.pole(r, unlike[i]).material }
      end
    end
    return { width = plate.width, screw_line = given(plate, "screw_line"), edge = edge,
        fastener = not edge and plate.fastener or nil, edition = not edge and job.codes.wood or nil }
  end,
  gives = {
    edge = { name = "screw_edge", says = "least from a screw of the plate to the edge of the face" },
    least = { name = "least_face", says = "narrowest face that takes the plate" },
  } }

local function no_adjustment(r)
  if given(r.posts, "adjustment") == nil then return "no adjustment is declared" end
end

work { "rack", "tolerances", op = "tolerance_stack", says = "how far the top of its highest post may be off",
  none = no_adjustment,
  input = function(r)
    local a = r.posts.adjustment
    return { layout = a.layout, drift = a.drift, plumb = a.plumb, height = r.tallest_post }
  end,
  gives = {
    lean = { name = "top_lean", says = "of that out of plumb" },
    error = { name = "top_error", says = "how far a post's top may be from where it is drawn" },
  } }

local function no_block(f)
  if feet.kind(f) ~= "ballast" then return "it is no ballast block" end
end
result { "footing", "block_weighs", dim = "mass", says = "mass of one block, as given or by its density",
  none = no_block, work = function(f) return import("structure.screws_and_blocks").block_mass(f) end }
