-- SPDX-License-Identifier: MIT
-- A hole with concrete around the post: what it answers (footings.kinds).
local rule = import "model.rule"
local record = import "model.record"
local graph = import "model.graph"
local feet = import "structure.feet"
local at_least, at_most, bound, given = rule.at_least, rule.at_most, rule.bound, record.given
local hole = {}

local grade = host.literal "0in"
local pound = host.literal "1lbf" / host.literal "1lb"        -- weight of a mass

function hole.frost(p, job)
  local f = feet.footing(p)
  return at_least(f.hole_depth - f.gravel, bound(job.site.frost, "frost depth"))
end

-- ---- sideways ------------------------------------------------------------------------------------------------------

function hole.bearing(job)
  local of = job.site.soil
  return given(of, "lateral") or calc.soil { soil_class = of.class, edition = job.codes.building }.lateral
end

-- What the depth is worked out of that a post needs against such a push at such a height.
local function pushed(p, job, push, height, neglect, from_grade)
  local f = feet.footing(p)
  return { edition = job.codes.building, lateral = push, height = height, width = f.hole_diameter,
      bearing = hole.bearing(job), isolated = f.bearing_doubled, held = given(f, "held_at_grade") ~= nil,
      neglect = neglect, from_grade = from_grade }
end

-- What the depth of a post is worked out of, with so much soil on top left out: sl_embed_neglecting.
function hole.embedding(p, job, neglect, from_grade)
  feet.only_holes(p, "the embedment needed")
  if host.si(p.lateral) <= 0 then
    host.raise { code = "C005", class = "range",
        text = "a level rack has no side force in the wind figure; friction along the modules is not covered here" }
  end
  local function at(push, height) return pushed(p, job, push, height, neglect, from_grade) end
  local most = at(p.lateral, p.push_height)
  if graph.paper(p, "loads.side") then return most end
  -- The largest moment may come with less of a push, and want more; with none, the most push counts with it.
  local foot = p.foot
  local function deeper(bent) return calc.embed_neglecting(bent).depth > calc.embed_neglecting(most).depth end
  local turned = import("structure.tilted").positions(record.parent(p))
  for _, x in ipairs(turned and foot.pairs or { { push = foot.moment_push, moment = foot.moment } }) do
    if x.moment > foot.push_moment then
      local push = host.si(x.push) > 0 and x.push or p.lateral
      local bent = at(push, x.moment / push)
      if deeper(bent) then most = bent end
    end
  end
  return most
end

-- The moment that its embedment takes at the ground: sl_embed_moment.
function hole.moment(p, job)
  local f, of = feet.only_holes(p, "the moment that its embedment takes"), job.site.soil
  return calc.embed_moment { edition = job.codes.building, depth = p.embedment, width = f.hole_diameter,
      bearing = hole.bearing(job), isolated = f.bearing_doubled, held = given(f, "held_at_grade") ~= nil,
      neglect = given(of, "neglect") or grade, from_grade = given(of, "pressure_from") == "grade" }
end

local free, held_there = "unconstrained post formula, iterated", "constrained post formula, iterated"
local not_doubled = "; the declared soil value is not doubled, no report says that it may be"

function hole.side(p)
  local f = feet.footing(p)
  local by = given(f, "held_at_grade") and held_there or free
  local single = f.isolated_posts and not f.bearing_doubled
  local finding = at_least(p.embedment, bound(p.embedment_needed, single and by .. not_doubled or by))
  finding.words = import("loads.cases").governing(p, "push", "loads.side")
  return finding
end

-- Nil where it is pushed more across its row, and holds that: R31 has it.
function hole.along(p, job, at)
  if not graph.paper(p, "loads.side") and at.push <= p.lateral and at.moment <= p.foot.push_moment and
      at.push_moment <= p.foot.push_moment and p.embedment >= p.embedment_needed then
    return nil
  end
  local of, most = job.site.soil, grade
  for _, x in ipairs { { at.push, at.push_moment }, { at.moment_push, at.moment } } do
    local push, moment = x[1], x[2]
    if host.si(push) > 0 then
      local depth = calc.embed_neglecting(pushed(p, job, push, moment / push, given(of, "neglect") or grade,
          given(of, "pressure_from") == "grade")).depth
      if depth > most then most = depth end
    end
  end
  return at_least(p.embedment, bound(most, "embedment against that"))
end

-- ---- down ----------------------------------------------------------------------------------------------------------

-- What the soil's pressure is worked out of: sl_soil_bearing.  pressed: by that, and not by what presses the post.
function hole.below(p, job, pressed)
  local f, of, r = feet.footing(p), job.site.soil, record.parent(p)
  local vertical = given(of, "vertical")
  return { pressed = pressed or p.pressed, weight = p.concrete_weight_most + feet.mass(r, p.cut_length, p.line) * pound,
      width = given(f, "bell") or f.hole_diameter, soil_class = not vertical and of.class or nil, vertical = vertical,
      edition = job.codes.building }
end

-- pressed: by that, where it is more than what presses the post.
function hole.down(p, job, pressed)
  local of = pressed and calc.soil_bearing(hole.below(p, job, pressed))
  local pressure, allowable = of and of.pressure or p.soil_pressure, of and of.allowable or p.soil_allowable
  local _, whose = import("structure.soil").vertical(job)
  return at_most(pressure, bound(allowable, whose))
end

-- ---- up ------------------------------------------------------------------------------------------------------------

-- A post that is as wide as its hole, or wider, does not go into it, and nothing is placed around it: a finding; nil
-- where it goes in.
function hole.no_room(p)
  local width, round = feet.section(record.parent(p), p.line)
  local across, diameter = round and width or width * math.sqrt(2), feet.footing(p).hole_diameter
  if across < diameter then return nil end
  local f = at_least(diameter, bound(across, round and "the post's diameter" or "the post from corner to corner"))
  f.words = "the post does not go into its hole"
  return f.ok and rule.states(false, f.words .. ", and is just as wide") or f
end

function hole.uplift(p) return p.hole_holds end

-- How deep holes are known to be dry; where nobody knows, not at all.
local function dry_to(job)
  local of = given(job.site, "soil")
  return of and given(of, "dry_to")
end

-- Down to where the soil beside a hole is not counted against uplift: what freezes lets go when it thaws.
local function loose_to(job)
  local frost, neglect = job.site.frost, given(job.site.soil, "neglect")
  return neglect and neglect > frost and neglect or frost
end

local function by_soil(job)
  local of = job.site.soil
  local vertical = given(of, "vertical")
  return not vertical and of.class or nil, vertical
end

local function friction(p, f, job)
  if loose_to(job) >= p.embedment then return nil end
  local class, vertical = by_soil(job)
  return calc.friction_hold { width = f.hole_diameter, depth = p.embedment, neglect = loose_to(job),
      soil_class = class, vertical = vertical, edition = job.codes.building }.force
end

local function cone(p, f, job)
  local of = given(job.site, "soil")
  local angle = of and given(of, "cone")
  if not angle or loose_to(job) >= p.embedment then return nil end
  return calc.bell_hold { width = f.bell, depth = p.embedment, neglect = loose_to(job), angle = angle,
      firmness = given(of, "firmness") or "loose or wet", dry_to = dry_to(job) or grade }.weight
end

-- What uplift and all that may be counted against it are worked out of: sl_ground_uplift.  none: no force, where
-- neither the wind nor the frame's weight is asked for.
function hole.holding(p, job, none)
  local f = feet.footing(p)
  local bell = given(f, "bell")
  return { wind_uplift = none or p.wind_uplift, dead = none or p.dead_counted,
      post = feet.weight(record.parent(p), p.cut_length, p.line),
      post_volume = p.post_volume, concrete = p.concrete, length = p.embedment,
      keyed = given(f, "keyed") ~= nil, dry_to = dry_to(job) or grade, bell = bell and f.bell_concrete or nil,
      friction = given(f, "skin_friction") and friction(p, f, job) or nil, cone = bell and cone(p, f, job) or nil,
      edition = job.codes.loads }
end

-- What of it counts, where that is not simply all weight in dry ground; nil there, or where a paper says what holds.
function hole.counted(p, job)
  if graph.paper(p, "holds.up") then return nil end
  local f, list = feet.footing(p), {}
  local dry = dry_to(job)
  if not given(f, "keyed") then
    list[1] = "the concrete does not count: nothing keys the post to it"
  else
    if given(f, "skin_friction") then list[1] = "friction of the soil counts" end
    if given(f, "bell") then
      local of = given(job.site, "soil")
      list[1] = of and given(of, "cone") and "soil above the bell counts" or
          "no soil above the bell counts: site.soil.cone is not given"
    end
  end
  if not dry then list[#list + 1] = "weighed in water from grade down: site.soil.dry_to is not given"
  elseif dry < p.embedment then list[#list + 1] = "weighed in water from " .. import("write.words").show(dry) .. " down"
  end
  return #list > 0 and table.concat(list, "; ") or nil
end

return hole
