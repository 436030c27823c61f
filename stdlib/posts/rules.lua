-- SPDX-License-Identifier: MIT
-- Rules about the fit of posts.
local rule = import "model.rule"
local record = import "model.record"
local feet = import "structure.feet"
local add, at_least, bound = rule.add, rule.at_least, rule.bound
local given = record.given

add { id = "R24", severity = "caution", each = "rack", says = "the plate of a post fits its face", may_waive = "house",
  cite = "{wood_edge}; or the edge that the plate's maker gives", caution = "screws split the post",
  applies = function(r) return given(r.posts, "plate") ~= nil, "its posts have no plate" end,
  flips = function(r) return tostring(r) .. ".posts.plate.width" end,
  check = function(r)
    local unlike, face, round = feet.unlike(r), nil, false
    for i = 1, unlike.n do
      local width, circle = feet.section(r, unlike[i])
      if not face or width < face then face = width end
      round = round or circle
    end
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
