-- SPDX-License-Identifier: MIT
-- Judges variants of a job one after another: (script, how many, from which on it counts) -> KiB that the Lua state has
-- grown by meanwhile, after collections; raises where a variant is not what was put in.
local script, all, from = ...
local boot = import "model.boot"
local record = import "model.record"
local variants = import "model.variants"

boot.declare { script = script, plan = {} }

-- What is said of each outcome, and its number.
local function told(outcomes)
  local list = {}
  for i, o in ipairs(outcomes) do
    local value = o.finding and o.finding.value
    if host.is_quantity(value) then value = host.si(value) end
    list[i] = variants.key(o) .. " " .. o.outcome .. " " .. tostring(value)
  end
  return table.concat(list, "\n")
end

local base = told(boot.judge())
local rules = import("model.rule").all()
variants.base(rules)
local coldest, ground = record.at "site.coldest", record.at "ground.elevation.B1"

-- Amounts that were never judged before, and counts that make other records; one of four cannot be built.
local axes = {
  function(i) return { ["site.coldest"] = host.like(coldest, host.si(coldest) - 1e-3 * i) } end,
  function(i) return { ["rack.east.columns"] = ({ 5, 6, 2, 8 })[i % 4 + 1] } end,
  function(i) return { ["ground.elevation.B1"] = host.like(ground, host.si(ground) - 1e-5 * i) } end,
}

local function kibibytes()
  collectgarbage()
  collectgarbage()
  return collectgarbage "count"
end

local before, after, refused = nil, nil, 0
for i = 1, all do
  local outcomes, err = variants.judge(axes[i % #axes + 1](i), rules)
  if not outcomes then
    assert(i % #axes == 1 and i % 4 == 2, "a variant that can be built is refused: " .. host.message(err))
    refused = refused + 1
  elseif i <= 12 then assert(told(outcomes) ~= base, "variant " .. i .. " is as the base") end
  if i == from then before = kibibytes() elseif i == all then after = kibibytes() end
end
assert(refused > 0, "what cannot be built is judged")
local grown = after - before
assert(told(boot.judge()) == base, "the base is another one than before")
return grown
