-- SPDX-License-Identifier: MIT
-- What bends posts and shafts most that stand in the soil as they are: below the ground, by statics (embedded.h).
local record = import "model.record"
local memo = import "model.memo"
local rule = import "model.rule"
local feet = import "structure.feet"
local stiffness = import "loads.stiffness"
local tilted = import "structure.tilted"
local buried = {}

local given = record.given

-- The largest moment in a driven post or a shaft, and how deep, for a push and a moment at the ground.  Soil counts
-- by its lateral bearing, or as the test sideways tells of it where that is more, if what was pushed stood as deep or
-- less; by the test alone where no soil is given.
function buried.of(footing, rack, push, moment)
  local site, tested = record.root.site, given(footing, "sideways")
  if tested and not import("screws.pushed").told(footing, feet.depth(footing)) then tested = nil end
  local soil = given(site, "soil")
  return calc.buried_moment { edition = record.root.codes.building, lateral = push, moment = moment,
      depth = feet.depth(footing), width = feet.width(footing, rack), tested = tested,
      tested_at = tested and given(footing, "sideways_at") or nil,
      bearing = (soil or not tested) and import("footings.hole").bearing(record.root) or nil,
      neglect = soil and given(soil, "neglect") or host.literal "0in" }
end

-- ---- shafts of screws ----------------------------------------------------------------------------------------------

-- Of a screw whose shaft nobody describes, what was pushed sideways was the shaft, too: R31 answers for it.
function buried.no_shaft(post)
  local f = feet.footing(post)
  if feet.kind(f) ~= "screw" then return tostring(post) .. " has no screw: it has " .. feet.named(f) end
  if not given(f, "shaft_grade") then
    return "of which steel the shaft of " .. feet.title(f) .. " is, is not given: what was pushed sideways was the " ..
        "shaft, too (R31)"
  end
end

local function section(footing)
  local kind = given(footing, "shaft_kind")
  local solid = kind and host.table_row("screw_torque", "shaft", kind).hollow == 0
  local wall = not solid and stiffness.counted_wall(footing.shaft_wall, footing.shaft_grade) or nil
  return calc.outline { shape = solid and "rectangle" or "round", width = footing.shaft, wall = wall }, wall
end

-- How far the shaft of a post's screw is used: { worst, governs, below }, pressed or pulled with all that bends it.
function buried.shaft(post)
  local f = feet.footing(post)
  local rack, moment = record.parent(post), post.ground_moment
  if feet.gives_way(f) and not feet.hinged(f) then moment = moment + post.leaning_moment end
  local deep = buried.of(f, rack, post.lateral, moment)
  local of, wall = section(f)
  local worst
  for _, axial in ipairs { post.pressed, -post.net_uplift } do
    local used = calc.metal { area = of.area, plastic = of.plastic, radius = of.radius,
        width = wall and f.shaft, wall = wall, round = wall ~= nil, material = f.shaft_grade,
        moment = deep.moment, axial = axial,
        length = (f.head + deep.at) * host.fact("cantilever", record.root.codes.wood) }
    if not worst or used.worst > worst.worst then
      worst = { worst = used.worst, governs = used.governs, below = deep.at, moment = deep.moment }
    end
  end
  return worst
end

-- Whether any shaft of a rack is described.
function buried.any(rack)
  for p in record.each(rack.post) do if not buried.no_shaft(p) then return true end end
  return false
end

-- That of the shaft that is used most of a rack that has one, or of one of its positions, for R82.
function buried.finding(at)
  local worst = memo.remember(record.inside[at], "strength of its shafts", function()
    local most = { used = -1 }
    for p in tilted.posts(at) do
      if not buried.no_shaft(p) then
        local s = buried.shaft(p)
        if s.worst > most.used then most = { used = s.worst, of = s, post = p.station } end
      end
    end
    return most
  end)
  local f = rule.at_most(worst.used, rule.bound(1, "strength of the shaft"))
  f.words = worst.of.governs .. " of the shaft of the screw of " .. worst.post .. ", " .. buried.words(worst.of.below)
  return f
end

function buried.words(below) return import("write.words").show(below) .. " below the ground" end

return buried
