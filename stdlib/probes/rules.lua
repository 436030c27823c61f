-- SPDX-License-Identifier: MIT
-- What probes met against what is to stand there.
local rule = import "model.rule"
local record = import "model.record"
local run = import "model.run"
local util = import "model.util"
local feet = import "structure.feet"
local named = import "posts.named"
local at_least, states, every, bound = rule.at_least, rule.states, rule.every, rule.bound
local given = record.given

local function shown(v) return host.format(v, record.root.units == "SI" and "mm" or "in") end

-- As the sheets of several racks have it: "east.F4".
local function name_of(post)
  return (#record.all "rack" > 1 and record.parent(post).name .. "." or "") .. post.name
end

-- One post against a probe beside it: it must go as deep as the post's foot is to go.
local function deep_enough(probe, post)
  local footing = feet.footing(post)
  local depth = feet.depth(footing)
  if not depth then return states(true, name_of(post) .. " stands on a block") end
  local limit = bound(depth, "how deep " .. feet.title(footing) .. " goes at " .. name_of(post))
  local refused, probed = given(probe, "refused"), "probed by " .. probe.by .. " on " .. probe.on
  if refused then
    local f = at_least(refused, limit)
    f.words = "down to " .. (given(probe, "hit") or "where it was refused") .. ", " .. probed
    return f
  end
  if probe.reached < depth and not host.near(host.si(probe.reached), host.si(depth)) then
    host.raise { code = "D010", class = "missing", path = tostring(probe) .. ".reached", who = "foreman",
        tool = "an auger or a bar", text = "what is in the ground at " .. name_of(post) .. " below " ..
        shown(probe.reached) .. " is not known; " .. feet.title(footing) .. " goes to " .. shown(depth) }
  end
  local f = at_least(probe.reached, limit)
  f.words = probed
  return f
end

-- What the script declares that may be done about it; none of it is chosen here.
local function choices(probe)
  local refused = given(probe, "refused")
  if not refused then return nil end
  local list, stopped = {}, false
  for _, post in ipairs(named.posts(probe)) do
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

rule.add { id = "R81", severity = "caution", each = "probe",
  says = "a probe went as deep as what stands there is to go", may_waive = "engineer",
  cite = "common practice, no source", caution = "the auger stops at rock, and a short hole is filled all the same",
  nearest = choices,
  check = function(probe, job)
    local list, today = {}, given(job, "on")
    if today and probe.on > today then                                        -- dates as texts are in their order
      host.raise { code = "D010", class = "missing", path = tostring(probe) .. ".on", who = "foreman",
          tool = "an auger or a bar", text = tostring(probe) .. " is of " .. probe.on .. ", after the day judged, " ..
          today }
    end
    for i, post in ipairs(named.posts(probe)) do
      list[i] = function() return deep_enough(probe, post) end
    end
    if given(probe, "refused") == nil and given(probe, "reached") == nil then
      host.raise { code = "D010", class = "missing", path = tostring(probe) .. ".refused", who = "foreman",
          tool = "a tape", text = "how deep " .. tostring(probe) .. " went is not given" }
    end
    return every(list)
  end }
