-- SPDX-License-Identifier: MIT
-- Lots: numbers that look drawn and are the same on every machine, and a Latin hypercube of them.
--
-- The generator adds a constant to a state of 64 bits and mixes it (splitmix64, from its published description); each
-- axis has a state of its own, of the seed and its place, so that one that is added changes nothing of those before it.
local draw = {}

local function mixed(x)
  x = (x ~ x >> 30) * 0xBF58476D1CE4E5B9
  x = (x ~ x >> 27) * 0x94D049BB133111EB
  return x ~ x >> 31
end

-- A generator: next() -> 64 bits; below(n) -> a whole number from 0 to n - 1, each as likely; share() -> a number from
-- 0 on and below 1.
function draw.lots(seed, stream)
  local state = mixed(seed * 2 + 1) ~ mixed(stream * 0x632BE59BD9B4E019 + 7)
  local lots = {}
  function lots.next()
    state = state + 0x9E3779B97F4A7C15
    return mixed(state)
  end
  function lots.below(n)
    local most = math.maxinteger - math.maxinteger % n         -- what is left over would favour the first
    local x
    repeat x = lots.next() >> 1 until x < most
    return x % n
  end
  function lots.share() return (lots.next() >> 11) * 2 ^ -53 end
  return lots
end

-- Puts a list in an order drawn by lot.
function draw.shuffled(list, lots)
  for k = #list, 2, -1 do
    local other = lots.below(k) + 1
    list[k], list[other] = list[other], list[k]
  end
  return list
end

-- n draws from steps 0 to size - 1: each step is met as often as any other, or once more; of more steps than draws, one
-- in each of n equal parts of them.
function draw.steps(size, n, lots)
  local list = {}
  if size <= n then
    local order = {}
    for k = 1, size do order[k] = k - 1 end
    draw.shuffled(order, lots)
    for k = 0, n - 1 do list[k + 1] = order[k % size + 1] end
  else
    local function edge(k) return k * (size // n) + k * (size % n) // n end
    for k = 0, n - 1 do
      local low, high = edge(k), edge(k + 1)
      list[k + 1] = low + lots.below(high - low)
    end
  end
  return draw.shuffled(list, lots)
end

-- n draws between two ends: in each of n equal parts one, at a place of its own. Gives the parts in the order of the
-- draws, 1 to n, and for each part how far along the whole it is met.
function draw.parts(n, lots)
  local order, places = {}, {}
  for k = 1, n do order[k], places[k] = k, (k - 1 + lots.share()) / n end
  return draw.shuffled(order, lots), places
end

return draw
