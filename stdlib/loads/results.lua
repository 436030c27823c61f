-- SPDX-License-Identifier: MIT
-- What wind, snow and weight do to the frame of a rack, by the mechanics of the frame.
local graph = import "model.graph"
local record = import "model.record"
local lines = import "structure.lines"
local feet = import "structure.feet"
local rails = import "rails.plan"
local cases = import "loads.cases"
local stiffness = import "loads.stiffness"
local members = import "loads.members"
local tilted = import "structure.tilted"
local work, result, given = graph.work, graph.result, record.given

local pound = host.literal "1lbf" / host.literal "1lb"        -- weight of a mass

local function edition(job) return job.codes.loads end
local rack_of = record.parent
local function uncovered(text) host.raise { code = "C005", class = "range", text = text } end

-- ---- wind ----------------------------------------------------------------------------------------------------------

-- The newer edition has a method of its own for such racks, whose coefficients are not kept here.
local function refuse_newer(r, job)
  if edition(job) ~= "ASCE 7-22" or not import("model.rule").reached "permit" then return end
  host.raise { code = "D010", class = "missing", path = "engineer.loads", who = "engineer",
      tool = "an engineer's paper with the loads of each line of posts",
      text = "ASCE 7-22 has a method of its own for ground-mounted racks (29.4.5), whose coefficients are not kept " ..
          "here; the open-roof figure that a quote goes by is not it" }
end

-- Both figures end where the rack stands as high as it is deep.
local function refuse_high(at, job)
  local deep, most = host.si(at.plan_depth), host.fact("ratio_most", edition(job))
  local ratio = host.si(at.mean_roof_height) / deep
  if ratio > 100 * most then
    uncovered("wind on " .. tilted.title(at) .. ": its modules stand upright, and the figures end where a rack " ..
        "stands " .. (host.same(most, 1) and "as high as" or string.format("%g times as high as", most)) ..
        " it is deep; coefficients or loads are for an engineer")
  end
  if ratio > most and not host.near(ratio, most) then
    uncovered(string.format("wind on %s: its mean height is %.2f of its plan depth, and the figures end at " ..
        "%g; coefficients or loads are for an engineer", tilted.title(at), ratio, most))
  end
end

-- What follows is of a rack, or of one of its positions (seasons.loads).
result { "rack", "by_sign", says = "whether its wind is that of the solid sign: it is steeper than the roof's figure",
  work = function(at, job) return at.tilt > host.fact("tilt_most", edition(job)) end }

local function is_steep(at) if at.by_sign then return "it is steeper than the figure goes" end end
local function no_sign(at) if not at.by_sign then return "the figure of the free roof covers its tilt" end end

work { "rack", "roof", op = "roof_wind", says = "wind on its modules as on a free roof, all cases", none = is_steep,
  input = function(at, job)
    return { edition = edition(job), velocity_pressure = at.velocity_pressure, tilt = at.tilt,
        slope_length = tilted.rack(at).slope_length, mean_height = at.mean_roof_height }
  end, gives = {} }
work { "rack", "roof_along", op = "along_wind", says = "wind along its row", none = is_steep,
  input = function(at, job)
    return { edition = edition(job), velocity_pressure = at.velocity_pressure, tilt = at.tilt,
        length = tilted.rack(at).row_width, mean_height = at.mean_roof_height }
  end, gives = {} }
work { "rack", "sign", op = "sign_wind", says = "wind on its modules as on a solid sign", none = no_sign,
  input = function(at, job)
    local r = tilted.rack(at)
    return { edition = edition(job), velocity_pressure = at.velocity_pressure, tilt = at.tilt,
        slope_length = r.slope_length, row_width = r.row_width, top = at.height_above_grade }
  end, gives = {} }

result { "rack", "wind_cases", rows = true, says = "the cases of wind that are all run",
  work = function(at, job)
    refuse_newer(at, job)
    if at.by_sign then refuse_high(at, job) end
    return cases.of(at)
  end,
  shows = function(d, r)
    local rows = {}
    local value = import("write.document").value
    local list = r.wind_cases
    for i, c in ipairs(list) do rows[i] = { cases.words(list, i), value(c.low), value(c.high) } end
    d:table({ { "case" }, { "lower half", right = true }, { "upper half", right = true } }, rows)
  end }

-- ---- what each station carries -------------------------------------------------------------------------------------

-- The posts of a rack, station by station from the west and line by line from the lower edge up.
local function by_station(r)
  local list, order = {}, {}
  if #lines.of(r) == 1 and not given(r.posts, "moment_head") then
    host.raise { code = "D010", class = "missing", path = tostring(r) .. ".posts.moment_head",
        who = "maker of the rack", tool = "the drawing of the head",
        text = "what keeps the rafters of " .. tostring(r) ..
        " from turning about their one line of posts is not said" }
  end
  for i, line in ipairs(lines.of(r)) do
    order[line.letter] = i
    if line.stations ~= r.stations then
      uncovered("loads on the posts of " .. tostring(r) .. ": its lines of posts are not alike, and what is known " ..
          "here is how the posts of one station share them, not how a beam does that carries rafters past some " ..
          "posts; lines with as many posts each, or an engineer's loads of each line")
    end
  end
  for p in record.each(r.post) do
    if p.number > r.stations then                       -- where fewer are tried, and one line's posts have names
      uncovered("post " .. p.station .. " is at a station beyond the " .. r.stations .. " there are")
    end
    local at = list[p.number] or {}
    list[p.number], at[order[p.letter]] = at, p
  end
  return list
end

-- Whole rails carry over several rafters; rails in pieces carry as if they were cut there, too: the more counts.
result { "rack", "shares", rows = true,
  says = "the length of row that each station carries: by rails that run through, and as if they were cut there",
  work = function(r)
    local offsets, list = {}, {}
    local stations = by_station(r)
    for i, posts in ipairs(stations) do offsets[i] = posts[1].offset end
    local over = import "loads.carried" (r, offsets)
    local whole = rails.plain(r)
    for i, posts in ipairs(stations) do
      local cut = posts[1].tributary
      local through = over[i] or cut
      if host.si(through) <= 0 then
        uncovered("loads on the posts of " .. tostring(r) .. ": its rails reach over the outer rafters so far that " ..
            "station " .. i .. " is lifted where the modules are pressed; what is known here is how stations share " ..
            "what presses them all")
      end
      list[i] = { station = i, through = through, cut = cut, taken = (whole or through > cut) and through or cut }
    end
    return list
  end,
  shows = function(d, r)
    local rows, value = {}, import("write.document").value
    for i, s in ipairs(r.shares) do rows[i] = { value(s.station), value(s.through), value(s.cut), value(s.taken) } end
    d:table({ { "station" }, { "rails through", right = true }, { "cut", right = true }, { "taken", right = true } },
        rows)
  end }

-- Rails in pieces share nothing: no snow of a neighbour's bay lifts what they lie on.
result { "rack", "snow_shares", rows = true,
  says = "the length of row whose snow each station carries at most, where it may lie whole on some bays and half " ..
      "on the others",
  work = function(r, job)
    local offsets, list = {}, {}
    for i, posts in ipairs(by_station(r)) do offsets[i] = posts[1].offset end
    local over = import "loads.carried" (r, offsets, edition(job))
    for i, s in ipairs(r.shares) do
      local some = over[i]
      list[i] = { station = i, balanced = s.taken, partial = some or s.cut,
          taken = some and some > s.taken and some or s.taken }
    end
    return list
  end,
  shows = function(d, r)
    local rows, value = {}, import("write.document").value
    for i, s in ipairs(r.snow_shares) do rows[i] = { value(s.station), value(s.balanced), value(s.partial) } end
    d:table({ { "station" }, { "snow on all bays", right = true }, { "whole on some, half on others", right = true } },
        rows)
  end }

-- ---- frames --------------------------------------------------------------------------------------------------------

local function foot_depth(p)
  local f = feet.footing(p)
  return feet.kind(f) == "hole" and p.embedment or feet.depth(f) or host.literal "0in"
end

-- How far a head moves where a test has a post move so far at the height of its load: a straight line through the
-- ground, which is farther than any post goes that turns about a point in it.
local function tested_way(f, p)
  local share = p.above_ground / f.sideways_at
  return share > 1 and f.sideways_moved * share or f.sideways_moved
end

-- legs: of turned modules those that stand on heads, by the number of their line.
local function posts_of(r, legs)
  local list, its_lines = {}, lines.of(r)
  local held = given(r.posts, "moment_head") and 1 or nil
  local own = {}
  for i, line in ipairs(its_lines) do
    own[i] = feet.own(r, line.name) and stiffness.own_post(r, line.name) or nil
  end
  for k, posts in ipairs(by_station(r)) do
    for i, p in ipairs(posts) do
      local f = feet.footing(p)
      list[#list + 1] = { station = k, line = i, at = its_lines[i].fraction, height = p.above_ground,
          depth = foot_depth(p), hinged = feet.hinged(f) and 1 or 0, head = held,
          leg_rise = legs and legs[i] and legs[i].leg_rise, leg_run = legs and legs[i] and legs[i].leg_run,
          leans = feet.kind(f) ~= "hole" and given(f, "sideways_moved") and tested_way(f, p) or nil,
          e = own[i] and own[i].e, area = own[i] and own[i].area, inertia = own[i] and own[i].inertia }
    end
  end
  return list
end

-- The braces between lines of posts: those along the row hold the row, not the station.
local function braces_of(r)
  local list = {}
  if not given(r, "braces") then return list end
  local at = {}
  for k, posts in ipairs(by_station(r)) do
    for i, p in ipairs(posts) do at[p.name] = { station = k, line = i } end
  end
  for b in record.each(r.brace) do
    local foot, head = at[b.foot], at[b.head]
    local entry = r.braces[b.entry]
    if foot.station == head.station then
      list[#list + 1] = { station = foot.station, foot_line = foot.line, head_line = head.line, low = entry.low,
          high = entry.high }
    end
  end
  return list
end

local function wind_list(at)
  local list = {}
  for i, c in ipairs(at.wind_cases) do list[i] = { low = c.low, high = c.high } end
  return list
end

-- How far the ground gives way at most under posts in holes; nil where the rack has none. Whoever claims the doubled
-- bearing is taken at his word here, whatever the soil's report says of it.
local function ground_motion(r, job)
  local holes = feet.holes(r)
  if #holes == 0 or not given(job.codes, "building") then return nil end
  local isolated = false
  for _, f in ipairs(holes) do isolated = isolated or f.isolated_posts end
  return calc.ground_motion { isolated = isolated, edition = job.codes.building }.motion
end

local function with_legs(weight, legs) return legs and weight + legs or weight end

local function frames_of(at, job, winds)
  local r = tilted.rack(at)
  local count = #lines.of(r)
  if count > 2 and not stiffness.rafter(r) then
    host.raise { code = "D010", class = "missing", path = tostring(r) .. ".rafter_section", who = "maker of the rack",
        tool = "the kit's data sheet", text = count .. " lines of posts share the loads of " .. tostring(r) ..
        " as its rafters bend, and how stiff those of its kit are is not given" }
  end
  local held = at ~= r and import "seasons.held" or nil
  local legs = held and held.legs(at)
  local leg, leg_weight = legs and next(legs) and held.leg(at), legs and held.weight(at)
  local area = r.slope_length * r.row_width
  local modules = r.module_mass * pound / area
  local shares = {}
  local snow = host.si(at.snow_load) > 0 and r.snow_shares
  for i, s in ipairs(r.shares) do shares[i] = { tributary = s.taken, snow = snow and snow[i].taken or nil } end
  local post, rafter, brace = stiffness.post(r), stiffness.rafter(r), stiffness.brace(r)
  return { edition = edition(job), tilt = at.tilt, slope_length = r.slope_length, stack = r.stack_depth,
      dead_modules = modules, dead_frame = r.frame_weight / area - modules,
      frame_most = with_legs(r.frame_weight_most, leg_weight) / area - modules, snow = at.snow_load,
      least = host.fact("pressure_least", edition(job)), ground_motion = ground_motion(r, job),
      post_e = post.e, post_area = post.area, post_inertia = post.inertia,
      rafter_e = rafter and rafter.e, rafter_area = rafter and rafter.area,
      rafter_inertia = rafter and rafter.inertia,
      brace_e = brace and brace.e, brace_area = brace and brace.area,
      leg_e = leg and leg.e or nil, leg_area = leg and leg.area or nil,
      stations = shares, posts = posts_of(r, legs), braces = braces_of(r), winds = winds,
      tell_heads = record.any "joint" or nil, strength = stiffness.by_strength() or nil }
end

work { "rack", "frames", op = "side_frames",
  says = "the frame of each station under all combinations: posts, rafter, braces and what holds their feet",
  input = function(at, job) return frames_of(at, job, wind_list(at)) end,
  gives = {
    leaning = { says = "what leaning under load makes of its posts' moments, which have it" },
    drift = { says = "most that a post's head moves sideways in the design wind, posts fixed at grade" },
  } }

work { "rack", "standing", op = "side_frames", says = "the same without the wind on its modules, where none is known",
  input = function(at, job) return frames_of(at, job, {}) end, gives = {} }

-- ---- along the row -------------------------------------------------------------------------------------------------

local function along() return import "loads.along" end
local function least(r, job)
  refuse_newer(r, job)
  return calc.allowable_wind { wind = host.fact("pressure_least", edition(job)) * r.end_area,
      edition = edition(job) }.force
end
local function level(r) if given(r, "row_slope") == nil then return "its row is level" end end

result { "rack", "end_area", dim = "area",
  says = "the rack as it is seen from the end of its row, modules, rails and rafters as if solid",
  work = function(r) return along().end_area(r) end }
result { "rack", "end_push", dim = "force", says = "the least wind on that, allowable level", work = least }
work { "rack", "slant", op = "slant_wind", none = level,
  says = "the wind on its modules, and what of it goes along its row, which slopes",
  input = function(r) return along().slanted(r) end,
  gives = {
    along = { name = "slant_wind", says = "what of the wind on its modules goes along its row; strength level" },
  } }
result { "rack", "slant_push", dim = "force", none = level,
  says = "what of the wind on its modules goes along its row, which slopes; allowable level",
  work = function(r, job) return calc.allowable_wind { wind = r.slant_wind, edition = edition(job) }.force end }
result { "rack", "row_push", dim = "force", says = "the more of these: what pushes each part of it along its row",
  work = function(r)
    local push = r.end_push
    if level(r) then return push end
    local slant = r.slant_push
    return slant > push and slant or push
  end }
work { "rack", "row_frame", op = "row_frame", says = "its lines of posts under that push, and braces along the row",
  input = function(at)
    local positions = tilted.rack(at) == at and tilted.positions(at)
    if positions then import("seasons.positions").refuse_loads(at, positions, "what pushes it along") end
    return along().frame(at, tilted.rack(at).row_push)
  end,
  gives = {
    leaning = { name = "row_leaning", says = "what leaning under load makes of moments along the row, which have it" },
    drift = { name = "row_moves", says = "most that heads move along the row, posts fixed at grade" },
  } }

local function swaying() return import "loads.sways" end
result { "rack", "sways",
  says = "what leaning under load would make of its posts' moments if nothing kept their feet from turning; " ..
      "footings that turn have it, and braces", none = function(r) return swaying().not_across(r) end,
  work = function(r) return swaying().across(r) end }
result { "rack", "row_sways", says = "the same along its row",
  none = function(r) return swaying().not_along(r) end, work = function(r) return swaying().along(r) end }

-- What a post's foot carries, as a row of side_frames.
local function foot(p, frames)
  local r = rack_of(p)
  local list = lines.of(r)
  local at = (p.number - 1) * #list
  for i, line in ipairs(list) do
    if line.letter == p.letter then return frames.feet[at + i] end
  end
end
result { "post", "foot", rows = true,
  says = "what its foot carries, by the frame of its station; of modules that are turned the most of all positions",
  work = function(p)
    local positions = tilted.of_post(p)
    if positions then return import("seasons.feet").most(positions, function(at) return foot(p, at.frames) end) end
    return foot(p, rack_of(p).frames)
  end }
local function stands_firm(p)
  local f = feet.footing(p)
  if not feet.gives_way(f) then
    return "how far the ground gives way under " .. tostring(p) .. ", which has " .. feet.named(f) .. ", is not said"
  end
end
result { "post", "leans", dim = "length",
  says = "how far its head moves sideways as the ground gives way, its soil used whole; of screws and driven posts " ..
      "as far as the test has them move",
  none = stands_firm, work = function(p) return p.foot.leans end }
result { "post", "leaning_moment", dim = "moment",
  says = "most that this adds to its moment at the ground, allowable level; R98 counts it", none = stands_firm,
  work = function(p) return p.foot.leaning_moment end }
result { "post", "dead_load", dim = "force", says = "the frame's least weight on the post",
  work = function(p)
    local r = rack_of(p)
    local weight
    for _, at in ipairs(tilted.of_post(p) or { r }) do
      local its = foot(p, graph.try(at, "frames") or at.standing).dead
      if not weight or its < weight then weight = its end
    end
    if host.si(weight) < 0 then
      uncovered((#lines.of(r) == 2 and "both lines of posts stand on one side of the frame's weight, which" or
          "the frame's own weight") .. " lifts post " .. p.station .. "; that is not covered here")
    end
    return weight
  end }

local function no_brace_along(p) return import("loads.braced_feet").none(p) end
result { "post", "row_lifts", dim = "force",
  says = "most that braces along the row lift its foot, as the row is pushed along; allowable level",
  none = no_brace_along, work = function(p) return import("loads.braced_feet").lifts(p) end }
result { "post", "row_presses", dim = "force",
  says = "most that presses its foot with what braces along the row press, weight and snow beside that; allowable " ..
      "level",
  none = no_brace_along, work = function(p, job) return (import("loads.braced_feet").presses(p, job)) end }

-- ---- members -------------------------------------------------------------------------------------------------------

-- The most of f(at), as a rack stands.
local function most(f)
  return function(r)
    local found
    for _, at in ipairs(tilted.stands(r)) do
      local value = f(at)
      if not found or value > found then found = value end
    end
    return found
  end
end
local function used(part)
  return most(function(at)
    local worst = members.checked(at, part)[1]
    return worst and worst.worked.worst or 0
  end)
end
local function of_kit(r) if not given(r, "rafter") then return "its rafters come with the kit" end end
local function no_brace(r) if not given(r, "braces") then return "it has no braces" end end
local function of_metal(r) if rails.part(r) then return "its rails are of metal" end end
result { "rack", "posts_used", says = "how far its posts are used where they are strained most; 1 is their strength",
  work = used "post" }
result { "rack", "rafters_used", says = "how far its rafters are used; 1 is their strength", none = of_kit,
  work = used "rafter" }
result { "rack", "braces_used", says = "how far its braces between lines are used; 1 is their strength",
  none = no_brace, work = used "brace" }
result { "rack", "rails_used", says = "how far its rails of lumber are used; 1 is their strength", none = of_metal,
  work = most(function(at) return members.rails(at)[1].worked.worst end) }
result { "rack", "rail_sag", dim = "length", says = "most that its rails of lumber bend, square to the modules",
  none = of_metal, work = most(function(at) return members.rails(at).sag end) }
result { "rack", "row_used", says = "how far its posts and braces along the row are used by what pushes it that way",
  work = most(function(at)
    local posts, braces = along().posts(at)[1], along().braces(at)[1]
    return braces and braces.worked.worst > posts.worked.worst and braces.worked.worst or posts.worked.worst
  end) }
result { "rack", "bearing_used",
  says = "how far wood is used across its grain where members cross and are pressed; 1 is its strength",
  none = function(r) return import("loads.bearing").none(r) end,
  work = most(function(at) return import("loads.bearing").of(at)[1].used end) }
