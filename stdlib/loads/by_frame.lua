-- SPDX-License-Identifier: MIT
-- What the frames of a rack come to, for the sheet of loads: cases, what governs each post, how far members are used.
local record = import "model.record"
local graph = import "model.graph"
local document = import "write.document"
local show = import("write.words").show
local by_post = import "structure.by_post"
local by_frame = {}

local right, each_post = by_post.right, by_post.each_post

local used = { { "posts_used", "posts" }, { "rafters_used", "rafters" }, { "braces_used", "braces" },
    { "rails_used", "rails" } }

-- "posts 0.8, rafters 0.68, rails 1.14"; what is not known of a rack is left out with the reason.
local function members(d, r)
  local list = {}
  local given = record.given
  local has = { posts_used = true, rafters_used = given(r, "rafter") ~= nil, braces_used = given(r, "braces") ~= nil,
      rails_used = given(r.rails, "part") == nil }
  for _, u in ipairs(used) do
    local value, why
    if has[u[1]] then value, why = graph.try(r, u[1]) end
    if value then list[#list + 1] = u[2] .. " " .. host.format(value, nil, 3)
    elseif host.class(why) then list[#list + 1] = u[2] .. " unknown: " .. host.message(why) end
  end
  d:para("How far members are used, 1 being their strength: " .. table.concat(list, "; ") .. ". No rule judges this " ..
      "yet, nor clamps and joints; the posts' rules above go by the simple shares, not by these frames: where the " ..
      "frame says more, a verdict that holds is not to be relied on: ask the engineer.")
end

-- Pressures by case, and what each foot carries with the case that governs it. A rack outside of the figures has no
-- cases; its loads may be known from a paper all the same, and its weights are.
function by_frame.put(d, r)
  local list, why = graph.try(r, "wind_cases")
  if not list then
    return d:para("Wind by case is not worked out here: " .. host.message(why) .. ".")
  end
  d:para((r.by_sign and "The modules are steeper than the figure of the free roof goes: the figure of the solid " ..
      "freestanding sign is used instead." or "Pressures of the open-roof figure, cases A and B, wind on the high " ..
      "and on the low edge and along the row.") .. " Square to the modules, strength level; + presses down, - lifts:")
  local rows, words = {}, import("loads.cases").words
  for i, c in ipairs(list) do
    rows[i] = { words(list, i), document.value(c.low), document.value(c.high) }
  end
  d:table({ { "case" }, { "lower half", right = true }, { "upper half", right = true } }, rows)
  local frames, unknown = graph.try(r, "frames")
  if not frames then return d:para("The frames are not worked out here: " .. host.message(unknown) .. ".") end
  d:gap()
  d:para("The frame of each station, all combinations, each with the feet taken three ways (posts fixed at grade; " ..
      "footings that turn in the ground; the shortest line alone). What governs each post:")
  d:table({ { "post" }, { "of" }, { "most", right = true }, { "by" } }, (function()
    local out = {}
    for x in record.each(r.post) do
      local f = x.foot
      local function row(of, value, case, limit, combination)
        out[#out + 1] = { #out % 3 == 0 and x.station or "", of, document.value(value),
            (combination and combination .. ", " or "") .. words(list, case) .. "; " .. limit }
      end
      row("net lift", f.net_up, f.net_up_case, f.net_up_limit, f.net_up_combination)
      row("pressed", f.pressed, f.pressed_case, f.pressed_limit, f.pressed_combination)
      row("sideways", f.push, f.push_case, f.push_limit, f.push_combination)
    end
    return out
  end)())
  d:para("Allowable level. By strength combinations, and with only half of the modules up (allowable, design wind):")
  d:table(right("lifts", "presses", "half built lifts"), each_post(r, function(x)
    local f = x.foot
    return { x.station, document.value(f.strength_up), document.value(f.strength_down),
        document.value(f.half_built_up) }
  end))
  d:para("Leaning enlarges moments by " .. host.format(frames.leaning, nil, 4) .. " at most, which is counted; what " ..
      "the ground gives way where footings turn is not. Heads move sideways " .. show(frames.drift) ..
      " at most. Snow beside wind is the balanced load; no roof live load, ice or drift is in it.")
  members(d, r)
end

return by_frame
