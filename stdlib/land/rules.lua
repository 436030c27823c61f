-- SPDX-License-Identifier: MIT
-- Rules about what lies on the land.  Flood water is R07, which asks of every site (site.rules, land.flood).
local rule = import "model.rule"
local record = import "model.record"
local add, at_least, states, every, limit, bound, given = rule.add, rule.at_least, rule.states, rule.every, rule.limit,
    rule.bound, record.given

local function missing(path, text, who, tool)
  host.raise { code = "D010", class = "missing", path = path, text = text, who = who, tool = tool }
end

local function kept_clear(brush) return states(true, "kept clear by " .. brush.kept_by) end

add { id = "R08", severity = "caution", each = "brush", may_waive = "authority",
  says = "a strip around the array is kept clear of brush", cite = "the place's fire rule",
  caution = "fire spreads to the array, and from it",
  nearest = function() return "clear a wider strip, or ask the fire office" end,
  check = function(brush)
    if rule.no_limit "brush_clearance" then return kept_clear(brush) end
    return every {
      function() return at_least(brush.cleared, limit "brush_clearance") end,
      function() limit "brush_clearance" end,
      function() return kept_clear(brush) end,
    }
  end }

-- What the holder signed by the day judged.
local function consent(easement, job)
  local c = given(easement, "consent")
  if not c then return nil end
  local path = record.step(tostring(easement), "consent")
  if c.dated > job.on then                                        -- dates as texts are in their order
    missing(path, "the consent of " .. easement.holder .. " is dated " .. c.dated .. ", after the day judged, " ..
        job.on, "the holder", "a letter")
  end
  return states(true, "by consent of " .. easement.holder .. ", " .. c.by .. ", " .. c.paper .. ", " .. c.dated)
end

add { id = "R80", severity = "stop", each = "easement", may_waive = "nobody",
  says = "nothing stands in an easement without its holder's consent", cite = "common practice, no source",
  caution = "the holder may have it taken down, and what lies below it may be hit",
  nearest = function(easement)
    return "move what stands there out of the easement, or ask " .. easement.holder .. ", in writing"
  end,
  check = function(easement, job)
    local signed = consent(easement, job)
    if signed then return signed end
    local distance = easement.distance
    if rule.has_limit "easement_setback" then return at_least(distance, limit "easement_setback") end
    if host.si(distance) > 0 then return at_least(distance, bound(0 * distance, "the easement's edge")) end
    return states(false, "what is built stands in the easement of " .. easement.holder .. ", which has not consented")
  end }
