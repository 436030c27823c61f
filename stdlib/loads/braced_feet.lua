-- SPDX-License-Identifier: MIT
-- What braces along the row lift and press at the feet of the posts that they stand between: as the row is pushed
-- either way, one of the two is lifted as much as the other is pressed.
local record = import "model.record"
local memo = import "model.memo"
local graph = import "model.graph"
local along = import "loads.along"
local rule = import "model.rule"
local tilted = import "structure.tilted"
local braced = {}

local given = record.given

-- The posts that such a brace ends at, by name.
local function ends_at(rack)
  return memo.remember(record.inside[rack], "posts that braces along the row end at", function()
    local by = {}
    for b in record.each(given(rack, "braces") and rack.brace or {}) do
      if rack.post[b.foot].letter == rack.post[b.head].letter then by[b.foot], by[b.head] = true, true end
    end
    return by
  end)
end

-- For `none` of a result.
function braced.none(p)
  if not ends_at(record.parent(p))[p.name] then return "no brace along the row ends at it" end
end

-- What they lift it by at most, in a case of its own: such a row is level (structure.slope).
function braced.lifts(p)
  local most
  for _, at in ipairs(tilted.of_post(p) or { record.parent(p) }) do
    local lifts = along.feet(at)[p.name].lifts
    if not most or lifts > most then most = lifts end
  end
  return most
end

-- What presses it with them, by all allowable combinations; beside a paper's word, the most of both.
function braced.presses(p, job)
  local edition, lifts, most, by = job.codes.loads, braced.lifts(p), nil, nil
  if graph.paper(p, "loads.down") then return p.pressed + lifts, "beside what the paper gives" end
  local wind = lifts / calc.allowable_wind { wind = lifts, edition = edition }.factor
  for _, row in ipairs(calc.combinations { edition = edition, method = "allowable" }.rows) do
    local force = row.dead * p.foot.weight + row.snow * p.foot.snow + row.wind * wind
    if not most or force > most then most, by = force, row.name end
  end
  return most, by
end

-- Puts findings of its foot into a list, each as a function; down(post, job, pressed) as its kind of footing has it.
-- What wind across the row does more of is judged there (R34, R90).
function braced.judge(list, p, job, down)
  if braced.none(p) then return end
  list[#list + 1] = function()
    local lifted = p.row_lifts
    if lifted <= p.uplift_demand then return nil end
    local f = rule.at_least(p.uplift_resistance, rule.bound(lifted, "what braces along the row lift"))
    f.words = "foot of post " .. p.station .. ", lifted"
    return f
  end
  list[#list + 1] = function()
    local pressed, by = braced.presses(p, job)
    if pressed <= p.pressed then return nil end
    local f = down(p, job, pressed)
    f.words = "foot of post " .. p.station .. ", pressed by braces along the row: " .. by
    return f
  end
end

return braced
