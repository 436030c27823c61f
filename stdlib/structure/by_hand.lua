-- SPDX-License-Identifier: MIT
-- Three numbers of a job's loads, where most is needed, with how a person redoes them with a pocket calculator:
-- formulas in words, the numbers as the worked sheets have them, with so many digits that the result comes out as it is
-- printed.
local graph = import "model.graph"
local record = import "model.record"
local words = import "write.words"
local by_hand = {}

local DIGITS = 6

local us = { length = "ft", force = "lbf", pressure = "psf", soil = "psf/ft", speed = "mph", density = "psf/mph2" }
local si = { length = "m", force = "kN", pressure = "kPa", soil = "kPa/m", speed = "m/s", density = "kg/m3",
    gust = "Pa" }                                                   -- what kg/m3 times m/s times m/s comes to
us.gust = us.pressure

-- The rows of what a primitive gave, by symbol; nil, and why there is none.
local function sheet_of(proxy, name)
  local worked, why = graph.try(proxy, name)
  if not worked then return nil, why end
  local _, rows = worked_sheet(worked)
  local by = {}
  for _, r in ipairs(rows) do by[r.symbol] = r end
  return by
end

-- A number as it is put in: all in units that go with each other.
local function put(v, kind)
  if not host.is_quantity(v) then return host.format(v, nil, DIGITS) end
  return host.format(v, (words.metric() and si or us)[kind], DIGITS, true)
end

local function step(d, name, formula, numbers, row, kind)
  local text = host.format(row.value, (words.metric() and si or us)[kind], 4, true)
  d:step { symbol = name, formula = formula, put = numbers, result = { text = text, value = row.value },
      source = row.cite ~= "" and words.cite(row.cite) or nil }
end

-- Whose number it is: the rack is named where there are several.
local function of(what, r)
  return what .. (#record.all "rack" > 1 and ", " .. words.title(r) or "")
end

local function gust(d, r)
  local s, why = sheet_of(r, "gust")
  if not s then return why end
  step(d, of("velocity pressure", r), "constant * Kz * Kzt * Ke * speed * speed",
      put(s.c.value, "density") .. " * " .. put(s.Kz.value) .. " * " .. put(s.Kzt.value) .. " * " ..
      put(s.Ke.value) .. " * " .. put(s.V.value, "speed") .. " * " .. put(s.V.value, "speed"), s.q, "gust")
  d:para("Kz is " .. put(s.Kz.value) .. " for the exposure and the height above the ground, Ke " .. put(s.Ke.value) ..
      " for the height above the sea: `explain` shows them.", nil, 2)
end

local function held(d, post)
  local name = of("post " .. post.station, record.parent(post))
  if graph.paper(post, "holds.up") then
    d:para("What holds " .. name .. " stands on a paper: nothing is worked out.")
    return
  end
  local s, why = sheet_of(post, "hold")
  if not s then return why end
  local keyed, wet = host.si(s.keyed.value) > 0, host.si(s.wet.value) > 0
  local in_water = wet and " in water" or ""
  local names, numbers = { "frame", "post" .. in_water }, { put(s.D.value, "force"), put(s.Wp_w.value, "force") }
  local function more(what, row)
    names[#names + 1], numbers[#numbers + 1] = what, put(row.value, "force")
  end
  if keyed then more("concrete" .. in_water, s.Wc_w) end
  if keyed and host.si(s.C.value) > 0 then more("soil above the bell", s.C) end
  local rubs = keyed and host.si(s.F.value) > 0
  step(d, "held by, " .. name, "share that counts * (" .. table.concat(names, " + ") .. ")" ..
      (rubs and " + friction" or ""), put(s.f_D.value) .. " * (" .. table.concat(numbers, " + ") .. ")" ..
      (rubs and " + " .. put(s.F.value, "force") or ""), s.resistance, "force")
end

local function sum(a, b) return a and a .. " + " .. b or b end

-- Pressure of the soil: at a third of the depth, or of a post that is held at grade at all of it.
local function pressure(d, name, s, held)
  local z, at, share = s.z.value, s.d_t.value, held and 1 or s.n_S.value
  local from = host.si(z) > 0
  local deep = z + at / share > s.d_max.value
  local part = held and "" or " / " .. put(share)
  local how = deep and "greatest depth" or sum(from and "soil that does not count", "depth" .. part)
  local numbers = deep and put(s.d_max.value, "length") or
      sum(from and put(z, "length"), put(at, "length") .. part)
  if from and not deep then how, numbers = "(" .. how .. ")", "(" .. numbers .. ")" end
  step(d, (held and "S3" or "S1") .. ", soil pressure, " .. name, "factor of isolated posts * soil * " .. how,
      put(s.f.value) .. " * " .. put(s.s.value, "soil") .. " * " .. numbers, held and s.S3 or s.S1, "pressure")
end

-- The depth is found by trying: put into its own formula it comes out again.
local function embedded(d, post)
  local s, why = sheet_of(post, "embed")
  if not s then return why end
  local name = of("post " .. post.station, record.parent(post))
  local held = s.S3 ~= nil
  pressure(d, name, s, held)
  local left = host.si(s.n.value) > 0
  local function depth(formula, numbers)
    step(d, "embedment", sum(left and "soil that does not count", formula),
        sum(left and put(s.n.value, "length"), numbers), { value = s.d.value, cite = s.d_c.cite }, "length")
  end
  if held then
    depth("sqrt(" .. put(s.c_h.value) .. " * sideways * height of the push / (S3 * hole))", "sqrt(" ..
        put(s.c_h.value) .. " * " .. put(s.P.value, "force") .. " * " .. put(s.h.value, "length") .. " / (" ..
        put(s.S3.value, "pressure") .. " * " .. put(s.b.value, "length") .. "))")
    return
  end
  step(d, "A", put(s.c_A.value) .. " * sideways / (S1 * hole)", put(s.c_A.value) .. " * " ..
      put(s.P.value, "force") .. " / (" .. put(s.S1.value, "pressure") .. " * " .. put(s.b.value, "length") .. ")",
      s.A, "length")
  local A = put(s.A.value, "length")
  depth("A / 2 * (1 + sqrt(1 + " .. put(s.c_h.value) .. " * height of the push / A))", A ..
      " / 2 * (1 + sqrt(1 + " .. put(s.c_h.value) .. " * " .. put(s.h_c.value, "length") .. " / " .. A .. "))")
end

-- The record of a kind of which a result is largest; nil where it is known of none.
local function largest(kind, name)
  local found, most
  for x in record.each_of(kind) do
    local v = graph.try(x, name)
    if v and (not most or host.si(v) > host.si(most)) then found, most = x, v end
  end
  return found
end

-- What cannot be worked out is left out with the reason.
function by_hand.put(d)
  d:para("Three of these by hand, where most is needed, to see if they can be right:")
  d:inside(function()
    local lifted, pushed = largest("post", "net_uplift"), largest("post", "embedment_needed")
    local function unless(what, why)
      if why then d:para(what .. " is not worked out here: " .. host.message(why) .. ".") end
    end
    unless("velocity pressure", gust(d, largest("rack", "velocity_pressure") or
        largest("position", "velocity_pressure") or record.all("rack")[1]))
    if lifted then unless("what holds a post", held(d, lifted)) end
    if pushed then unless("embedment", embedded(d, pushed)) end
  end)
end

return by_hand
