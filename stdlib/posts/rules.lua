-- SPDX-License-Identifier: MIT
-- Rules about the fit of posts, and about what probes met where they are to stand.
local rule = import "model.rule"
local record = import "model.record"
local run = import "model.run"
local util = import "model.util"
local feet = import "structure.feet"
local add, at_least, states, every, bound = rule.add, rule.at_least, rule.states, rule.every, rule.bound
local given = record.given

add { id = "R24", severity = "caution", each = "rack", says = "the plate of a post fits its face", may_waive = "house",
  cite = "{wood_edge}; or the edge that the plate's maker gives", caution = "screws split the post",
  applies = function(r) return given(r.posts, "plate") ~= nil, "its posts have no plate" end,
  flips = function(r) return tostring(r) .. ".posts.plate.width" end,
  check = function(r)
    local face, round = feet.section(r)
    if round then
      host.raise { code = "C005", class = "range", text = "the posts of " .. tostring(r) .. " are round: how a " ..
          "plate sits on them is not worked out here" }
    end
    local lines = given(r.posts.plate, "screw_line")
    return at_least(face, bound(r.least_face, (lines and "the lines of screws" or "the plate") ..
        " and the edge beside"))
  end }

add { id = "R25", severity = "caution", each = "rack",
  says = "slots and shims take what the top of a post may be off", may_waive = "house",
  cite = "root of the sum of squares, common practice", caution = "the rack will not go on",
  applies = function(r)
    return given(r.posts, "adjustment") ~= nil, "its posts have no adjustment"
  end,
  flips = function(r) return tostring(r) .. ".posts.adjustment.range" end,
  check = function(r)
    return at_least(r.posts.adjustment.range, bound(r.top_error, "layout, drift and plumb of the highest post"))
  end }

local function shown(v) return host.format(v, record.root.units == "SI" and "mm" or "in") end

-- One post against a probe beside it: it must go as deep as the post's foot is to go.
local function deep_enough(probe, post)
  local footing = feet.footing(post)
  local depth = feet.depth(footing)
  if not depth then return states(true, post.name .. " stands on a block") end
  local limit = bound(depth, "how deep " .. feet.title(footing) .. " goes at " .. post.name)
  local refused = given(probe, "refused")
  if refused then return at_least(refused, limit) end
  if probe.reached < depth and not host.near(host.si(probe.reached), host.si(depth)) then
    host.raise { code = "D010", class = "missing", path = tostring(probe) .. ".reached", who = "foreman",
        tool = "an auger or a bar", text = "what is in the ground at " .. post.name .. " below " ..
        shown(probe.reached) .. " is not known; " .. feet.title(footing) .. " goes to " .. shown(depth) }
  end
  return at_least(probe.reached, limit)
end

-- What the script declares that may be done about it; none of it is chosen here.
local function choices(probe)
  local refused = given(probe, "refused")
  if not refused then return nil end
  local list, stopped = {}, false
  for _, post in ipairs(import("posts.named").posts(probe)) do
    local depth = feet.depth(feet.footing(post))
    stopped = stopped or depth and depth > refused and not host.near(host.si(depth), host.si(refused))
  end
  if not stopped then return nil end
  for _, f in ipairs(record.all "footing") do
    local depth = feet.depth(f)
    if not depth or not (depth > refused) then
      list[#list + 1] = feet.title(f) .. " (" .. feet.named(f) .. (depth and ", " .. shown(depth) .. " deep" or "") ..
          "), by at { ... }"
    end
  end
  for _, name in ipairs(run.alternates) do
    for _, of in ipairs { "at", "footing", "rack" } do
      if run.alternates[name][of] ~= nil then
        list[#list + 1] = 'alternate "' .. name .. '"'
        break
      end
    end
  end
  if #list == 0 then
    return "the script declares no footing that goes no deeper, and no alternate: whoever designs it must say"
  end
  return "declared here, and for whoever designs it to choose: " .. util.list(list)
end

add { id = "R81", severity = "caution", each = "probe",
  says = "a probe went as deep as what stands there is to go", may_waive = "engineer",
  cite = "common practice, no source", caution = "the auger stops at rock, and a short hole is filled all the same",
  nearest = choices,
  check = function(probe)
    local list = {}
    for i, post in ipairs(import("posts.named").posts(probe)) do
      list[i] = function() return deep_enough(probe, post) end
    end
    if given(probe, "refused") == nil and given(probe, "reached") == nil then
      host.raise { code = "D010", class = "missing", path = tostring(probe) .. ".refused", who = "foreman",
          tool = "a tape", text = "how deep " .. tostring(probe) .. " went is not given" }
    end
    return every(list)
  end }
