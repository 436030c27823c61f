-- SPDX-License-Identifier: MIT
-- Looks for the least change of a block with which it stays: higher, wider, longer, or heavier as it is.
local record = import "model.record"
local memo = import "model.memo"
local feet = import "structure.feet"
local given = record.given
local search = {}

local function shown(v)
  return host.format(v, record.root.units == "SI" and (host.is(v, "mass") and "kg" or "mm") or nil)
end

-- The least of n = 1, 2, ... for which the rule holds: what is larger is never worse.
local function least(holds)
  local most = math.tointeger((host.fact "block_steps"))
  if not holds(most) then return nil end
  local low, high = 0, most
  while high - low > 1 do
    local mid = (low + high) // 2
    if holds(mid) then high = mid else low = mid end
  end
  return high
end

function search.nearest(r, _, passes)
  local footing = feet.blocks_of(r)[1]
  return memo.remember(record.inside[footing], "nearest block for " .. tostring(r), function()
    local list = {}
    local function try(field, step, words)
      local path, now = tostring(footing) .. "." .. field, footing[field]
      local first = host.si(now) // host.si(step)
      local function at(n) return { [path] = (first + n) * step } end
      local n = least(function(n)
        local most = record.inside[footing].def.by[field].max
        return host.si((first + n) * step) <= most and passes(at(n), { "R35" }, tostring(r))
      end)
      if n then list[#list + 1] = { changes = at(n), words = words .. " " .. shown((first + n) * step) } end
    end
    if given(footing, "block_mass") then
      try("block_mass", host.fact "block_mass_step", "a block of")
    else
      try("block_height", host.fact "block_step", "a block of the height")
      try("block_width", host.fact "block_step", "a block of the width")
    end
    try("block_length", host.fact "block_step", "a block of the length")
    if #list > 0 then return list end
    return "heavier blocks, fewer modules on each, or an engineer's loads: none that is up to " ..
        math.tointeger((host.fact "block_steps")) .. " steps larger will do"
  end)
end

return search
