-- SPDX-License-Identifier: MIT
-- Rafters with places of their own; braces, how long each is to be cut; from where the top edge is reached.
local graph = import "model.graph"
local record = import "model.record"
local work, result, given = graph.work, graph.result, record.given
local rack_of = record.parent

work { "rack", "rafter_places", op = "stations", says = "the places of rafters that have places of their own",
  none = function(r)
    local own = given(r, "rafters")
    if not own or not given(own, "count") then return "one lies at each station of the posts" end
  end,
  input = function(r) return { row_width = r.row_width, posts = r.rafters.count, spacing = r.rafters.spacing } end,
  gives = {} }

local function entry(b) return rack_of(b).braces[b.entry] end
local function post(b, name) return rack_of(b).post[b[name]] end

-- From post to post in plan, along the row and across it.
local function apart(b)
  local r, foot, head = rack_of(b), post(b, "foot"), post(b, "head")
  local x = host.abs(head.offset - foot.offset)
  if foot.letter == head.letter then return x end
  local y = host.abs(r.post_line[head.letter].setback - r.post_line[foot.letter].setback)
  return host.near(host.si(x) + host.si(y), host.si(y)) and y or calc.diagonal { along = x, across = y }.diagonal
end

work { "brace", "piece", op = "brace", says = "the brace, from bolt to bolt and end to end",
  input = function(b)
    local e, foot, head = entry(b), post(b, "foot"), post(b, "head")
    return { apart = apart(b), foot_ground = foot.ground, low = e.low, foot_top = foot.ground + foot.above_ground,
        head_top = head.ground + head.above_ground, high = e.high, head_ground = head.ground,
        past = given(e, "past") or host.fact "brace_end" }
  end,
  gives = {
    length = { name = "cut_length", says = "length to cut, end to end" },
    bolts = { name = "bolt_spacing", says = "between its two bolts" },
    angle = { says = "how it leans, from level" },
    foot = { name = "foot_height", says = "its lower bolt above the datum" },
    head = { name = "head_height", says = "its upper bolt above the datum" },
  } }
result { "brace", "weight", dim = "force", says = "its least weight, as counted against uplift",
  work = function(b)
    return calc.lumber { section = b.size, length = b.cut_length, species = rack_of(b).rafter_species,
        edition = record.root.codes.wood }.weight_light
  end }
result { "rack", "brace_weight", dim = "force", says = "least weight of all its braces",
  none = function(r) if not given(r, "braces") then return "it has no braces" end end,
  work = function(r)
    local sum
    for b in record.each(r.brace) do sum = sum and sum + b.weight or b.weight end
    return sum or host.quantity(0.0, "force")
  end }
result { "brace", "size", says = "its nominal size", work = function(b) return entry(b).size end }
result { "brace", "foot_below_top", dim = "length", says = "its lower bolt below the top of the post there",
  work = function(b)
    local p = post(b, "foot")
    return p.ground + p.above_ground - b.foot_height
  end }

work { "rack", "reaching", op = "reach", says = "work at the top edge, from the lowest ground at a post",
  input = function(r) return { height = r.height_above_grade } end,
  gives = { platform = { says = "height of a platform from which the top edge is within reach; 0: from the ground" } } }
