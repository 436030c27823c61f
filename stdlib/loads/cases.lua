-- SPDX-License-Identifier: MIT
-- The cases of wind on a rack: pressures on the lower and the upper half of the slope, and which each is.
local graph = import "model.graph"
local record = import "model.record"
local tilted = import "structure.tilted"
local cases = {}

local none = host.literal "0psf"

local letters, edges, flows = { "A", "B" }, { "high edge", "low edge" }, { "clear", "blocked" }

-- Which flows under a rack, or one of its positions, count: nothing keeps it clear unless somebody says so, and no
-- blockage is for good.
function cases.counts(at, flow)
  local under = tilted.rack(at).under
  return under == "either" or (under == "open") == (flow == 1)
end

-- The free roof: A and B, wind at the high and at the low edge, under it clear or blocked; and along the row, the most
-- of its zones everywhere.
local function of_roof(at)
  local list, roof, along = {}, at.roof, at.roof_along
  for _, c in ipairs(roof.cases) do
    if cases.counts(at, c.flow) then
      list[#list + 1] = { low = c.low, high = c.high, letter = c.letter, from = edges[c.to_wind], flow = c.flow }
    end
  end
  local most = {}
  for _, z in ipairs(along.zones) do
    if cases.counts(at, z.flow) then
      local letter, flow, pressure = z.letter, z.flow, z.pressure
      local key = letter * #flows + flow
      local c = most[key]
      if not c then
        c = { low = pressure, high = pressure, letter = letter, from = "along the row", flow = flow }
        most[key], list[#list + 1] = c, c
      elseif math.abs(host.si(pressure)) > math.abs(host.si(c.low)) then c.low, c.high = pressure, pressure end
    end
  end
  return list
end

-- Steeper than the roof's figure: the solid sign, pushed and pulled. Its force may stand off the middle of the row, as
-- an even slant of the pressure over it has it, and its strips press more near an end: the most of that everywhere.
local function of_sign(at)
  local sign = at.sign
  local p = sign.pressure * (1 + 6 * (host.si(sign.offset) / host.si(tilted.rack(at).row_width)))
  for _, strip in ipairs(sign.strips) do if strip.pressure > p then p = strip.pressure end end
  return { { low = p, high = p, words = "solid sign, at the front, the most of its cases" },
      { low = none - p, high = none - p, words = "solid sign, at the back, the most of its cases" } }
end

function cases.of(at) return (at.by_sign and of_sign or of_roof)(at) end

-- What a number of side_frames means.
function cases.words(list, number)
  number = math.tointeger(number)
  if number == 0 then return "no wind" end
  local c = list[number]
  if c then return c.words or letters[c.letter] .. ", " .. c.from .. ", " .. flows[c.flow] end
  return number == #list + 1 and "least wind, up the slope" or "least wind, down the slope"
end

-- What governs a post's "up" or "push": "by wind case B, high edge, clear; the shortest line alone"; nil where a paper
-- gives it.
function cases.governing(post, what, given_as)
  if graph.paper(post, given_as) then return nil end
  local foot = post.foot
  if what == "push" and foot.moment > foot.push_moment then return nil end     -- which of the two counts, embed knows
  local at = record.parent(post)
  if tilted.positions(at) then at = foot.stands[what] end
  local of = cases.words(at.wind_cases, foot[what .. "_case"])
  return (of:find "^[AB]," and "by wind case " or "by ") .. of .. "; " .. foot[what .. "_limit"] .. tilted.behind(at)
end

return cases
