-- SPDX-License-Identifier: MIT
-- The cases of wind on a rack: pressures on the lower and the upper half of the slope, with the words of each.
local graph = import "model.graph"
local record = import "model.record"
local cases = {}

local none = host.literal "0psf"

local letters, edges, flows = { "A", "B" }, { "high edge", "low edge" }, { "clear", "blocked" }

-- Which flows under the rack count: nothing keeps it clear unless somebody says so, and no blockage is for good.
function cases.counts(rack, flow)
  local under = rack.under
  return under == "either" or (under == "open") == (flow == 1)
end

-- The free roof: A and B, wind at the high and at the low edge, under it clear or blocked; and along the row, the most
-- of its zones everywhere.
local function of_roof(rack)
  local list, roof, along = {}, rack.roof, rack.roof_along
  for _, c in ipairs(roof.cases) do
    if cases.counts(rack, c.flow) then
      list[#list + 1] = { low = c.low, high = c.high,
          words = letters[c.letter] .. ", " .. edges[c.to_wind] .. ", " .. flows[c.flow] }
    end
  end
  local most = {}
  for _, z in ipairs(along.zones) do
    if cases.counts(rack, z.flow) then
      local key = letters[z.letter] .. ", along the row, " .. flows[z.flow]
      local c = most[key]
      if not c then
        c = { low = z.pressure, high = z.pressure, words = key }
        most[key], list[#list + 1] = c, c
      elseif math.abs(host.si(z.pressure)) > math.abs(host.si(c.low)) then c.low, c.high = z.pressure, z.pressure end
    end
  end
  return list
end

-- Steeper than the roof's figure: the solid sign, pushed and pulled. Its force may stand off the middle of the row, as
-- an even slant of the pressure over it has it, and its strips press more near an end: the most of that everywhere.
local function of_sign(rack)
  local sign = rack.sign
  local p = sign.pressure * (1 + 6 * (host.si(sign.offset) / host.si(rack.row_width)))
  for _, strip in ipairs(sign.strips) do if strip.pressure > p then p = strip.pressure end end
  return { { low = p, high = p, words = "solid sign, at the front, the most of its cases" },
      { low = none - p, high = none - p, words = "solid sign, at the back, the most of its cases" } }
end

function cases.of(rack) return (rack.by_sign and of_sign or of_roof)(rack) end

-- What a number of side_frames means.
function cases.words(list, number)
  number = math.tointeger(number)
  if number == 0 then return "no wind" end
  local c = list[number]
  return c and c.words or number == #list + 1 and "least wind, up the slope" or "least wind, down the slope"
end

-- What governs a post's "up" or "push": "by wind case B, high edge, clear; the shortest line alone"; nil where a paper
-- gives it.
function cases.governing(post, what, given_as)
  if graph.paper(post, given_as) then return nil end
  local foot = post.foot
  return "by wind case " .. cases.words(record.parent(post).wind_cases, foot[what .. "_case"]) .. "; " ..
      foot[what .. "_limit"]
end

return cases
