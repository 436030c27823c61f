-- SPDX-License-Identifier: MIT
-- Which log and which pull tests are of a post, as of the day judged.
local record = import "model.record"
local memo = import "model.memo"
local feet = import "structure.feet"
local named = import "posts.named"

local given, inside = record.given, record.inside
local logs = {}

local function is_pierced(footing) return feet.kind(footing) == "screw" or feet.kind(footing) == "driven" end

-- ---- what is refused ---------------------------------------------------------------------------------------------

-- Each screw is logged once: what was measured last counts.
function logs.settle_log(log, refuse)
  local before = {}
  for _, other in ipairs(record.all "screw_log") do
    if other == log then break end
    for _, post in ipairs(named.posts(other)) do before[post] = true end
  end
  named.settle(log, refuse, function(i, post)
    local footing = feet.footing(post)
    if feet.kind(footing) ~= "screw" then
      refuse({ i }, "the post " .. post.name .. " has " .. feet.named(footing) .. ", no ground screw",
          "leave it out, or at { ... } gives it one")
    elseif (given(log, "depth") or log.refused) > footing.screw_length then
      refuse({ given(log, "depth") and "depth" or "refused" }, "the tip of a screw of " ..
          host.format(footing.screw_length) .. " cannot be so deep", "measure again; or its footing is another")
    elseif before[post] then
      refuse({ i }, "the screw of " .. post.name .. " is logged already", "keep what was measured last")
    end
  end)
end

function logs.settle_test(test, refuse)
  local of = given(test, "of")
  if of then
    if #test.posts > 0 then
      refuse({ "of" }, "it is of posts, and of one for trial", "a test of each is a declaration of its own")
    elseif not is_pierced(of) then
      refuse({ "of" }, feet.title(of) .. " is " .. feet.named(of) .. ": nothing of it is pulled",
          "it names a footing of ground screws, or of driven posts")
    end
    return
  end
  if #test.posts == 0 then
    refuse({}, "it does not say what was pulled", 'as in pull_test { "F4", ... }, or of = "helical" for one for trial')
  end
  named.settle(test, refuse, function(i, post)
    local footing = feet.footing(post)
    if not is_pierced(footing) then
      refuse({ i }, "the post " .. post.name .. " has " .. feet.named(footing) .. ": it is not pulled so",
          "leave it out, or at { ... } gives it a screw")
    end
  end)
end

-- ---- what counts -------------------------------------------------------------------------------------------------

-- What is dated after the day judged is not known on it.  Dates as texts are in their order.
local function known(x)
  local today = given(record.root, "on")
  return not today or x.on <= today
end

-- The log of a post's screw; second: one that is dated after the day judged.
function logs.of(post)
  if not record.any "screw_log" then return nil end
  local by = memo.remember(inside[record.root], "screws logged", function()
    local list = { known = {}, later = {} }
    for _, log in ipairs(record.all "screw_log") do
      local to = known(log) and list.known or list.later
      for _, p in ipairs(named.posts(log)) do to[tostring(p)] = log end
    end
    return list
  end)
  local path = tostring(post)
  return by.known[path], by.later[path]
end

-- The footings that a test is about: that of each of its posts.
local function footings_of(test)
  local of = given(test, "of")
  if of then return { [tostring(of)] = true } end
  local list = {}
  for _, post in ipairs(named.posts(test)) do list[tostring(feet.footing(post))] = true end
  return list
end

-- The pull tests of a footing: what one of its screws holds, the others do by it.
function logs.pulls(footing)
  if not record.any "pull_test" then return {} end
  return memo.remember(inside[footing], "pull tests", function()
    local list, path = {}, tostring(footing)
    for _, test in ipairs(record.all "pull_test") do
      if known(test) and footings_of(test)[path] then list[#list + 1] = test end
    end
    return list
  end)
end

-- The loads of those tests that tell of a post: not of what stood deeper than it does.
function logs.loads(post)
  local list, footing, deeper = {}, feet.footing(post), nil
  for _, test in ipairs(logs.pulls(footing)) do
    local depth = given(test, "depth")
    if depth and depth > logs.tip(post) and not host.near(depth, logs.tip(post)) then deeper = depth
    else list[#list + 1] = test.load end
  end
  if deeper and #list == 0 then
    host.raise { code = "D010", class = "missing", path = "pull_test", who = "engineer", tool = "a pull test",
        text = "what was pulled stood " .. host.format(deeper) .. " deep, and post " .. post.station .. " goes " ..
            host.format(logs.tip(post)) .. " deep: what holds that is not known" }
  end
  return list
end

-- How deep the tip of a post's screw is: as logged, or as designed.
function logs.tip(post)
  local log = logs.of(post)
  if not log then return feet.depth(feet.footing(post)) end
  return given(log, "depth") or log.refused
end

return logs
