-- SPDX-License-Identifier: MIT
-- Three numbers of the sheet of loads that a person can work out again with a pocket calculator: of the post with the
-- most uplift, each with its formula in words and the numbers put in.
local record = import "model.record"
local graph = import "model.graph"
local document = import "write.document"
local words = import "write.words"

local DIGITS = { 4, 5, 6, 7, 8, 9, 10 }
local GRAVITY = 9.80665                                -- m/s2, standard

-- The numbers of a worked sheet by symbol; nothing where it is unknown.
local function worked(post, name)
  local answer = graph.try(post, name)
  if not answer then return nil end
  local _, rows = worked_sheet(answer)
  local by = {}
  for _, row in ipairs(rows) do by[row.symbol] = row.value end
  return by
end

local function unit_of(text) return text:match "^%S+ (.+)$" end
local function number_of(text) return tonumber(text:match "^[%d.-]+") end
local function in_si(unit) return host.si(host.literal("1 " .. unit)) end

-- What the sheet prints of a result is what comes out of the numbers as they are printed, with as few digits as will
-- do.  make(print, unit) -> the numbers put in, as a text, and what they give in the unit of the cell.
local function step(d, post, name, heading, formula, make)
  local cell = document.of(post, name)
  if cell.unknown then return end
  local unit = unit_of(cell.text)
  for _, digits in ipairs(DIGITS) do
    local function print(v, as)
      local text = host.format(v, as or unit, digits)
      return text, number_of(text)
    end
    local put, gives = make(print, unit)
    local value = host.like(cell.value, gives * in_si(unit))
    if words.show(value, cell.unit) == cell.text then
      return d:step { symbol = heading, formula = formula, put = put,
          result = { text = cell.text, value = cell.value } }
    end
  end
end

local function concrete(d, post)
  local pier = worked(post, "pier")
  if not pier then return end
  local mass, volume = unit_of(words.show(pier.rho_light)):match "^(.-)/(.+)$"
  step(d, post, "concrete_weight", "concrete", "what is in the hole * what a volume of it weighs", function(print, unit)
    local filled, v = print(pier.V, volume)
    local dense, rho = print(pier.rho_light, mass .. "/" .. volume)
    local pull = in_si(mass) * GRAVITY / in_si(unit)                     -- a pound weighs a pound-force
    local one = math.abs(pull - 1) < 1e-9
    local more = one and "" or (" * %.6g %s/%s"):format(pull, unit, mass)
    return filled .. " * " .. dense .. more, v * rho * (one and 1 or tonumber(("%.6g"):format(pull)))
  end)
end

local function uplift(d, post)
  local hold = worked(post, "hold")
  if not hold then return end
  local wind, dead = host.format(hold.f_W), host.format(hold.f_D)
  step(d, post, "net_uplift", "net", wind .. " * up - " .. dead .. " * weight", function(print)
    local up, w = print(hold.W)
    local frame, f = print(hold.D)
    return wind .. " * " .. up .. " - " .. dead .. " * " .. frame, hold.f_W * w - hold.f_D * f
  end)
  step(d, post, "uplift_resistance", "held by", dead .. " * (weight + concrete + the post itself)", function(print)
    local frame, f = print(hold.D)
    local heavy, c = print(hold.Wc)
    local stick, p = print(hold.Wp)
    return dead .. " * (" .. frame .. " + " .. heavy .. " + " .. stick .. ")", hold.f_D * (f + c + p)
  end)
end

local function worst()
  local most, at
  for _, rack in ipairs(record.all "rack") do
    for post in record.each(rack.post) do
      local net = graph.try(post, "net_uplift")
      if net and (not most or net > most) then most, at = net, post end
    end
  end
  return at
end

return function(d)
  local post = worst()
  if not post then return end
  d:gap()
  d:subheading("By hand: post " .. post.station .. " of " .. words.title(record.parent(post)) ..
      ", which the wind lifts most")
  d:inside(function()
    concrete(d, post)
    uplift(d, post)
  end)
end
