-- SPDX-License-Identifier: MIT
-- What tests/sweep_patch.lua asks, in the host's Lua: a variant of a job as a patch.
--
-- input: { script, set = { "path=value" ... }, alternate, vary = { texts of --vary }, or nil for what the job varies }:
-- of the last step of each axis.
-- Gives { text, folder, files, left, notes, page = what a person reads }.
-- { script, differs = { "path=value" ... } }: what first differs in the job declared with these, as sweep.whole has it.
local input = ...
local boot = import "model.boot"
local judging = import "host.judging"
local document = import "write.document"
local patch = import "sweep.patch"

local function lines_with(set)
  local plan = {}
  for i, text in ipairs(set) do plan[i] = boot.setting(text) end
  boot.declare { script = input.script, plan = plan }
  return import("sweep.whole").lines(boot.judge())
end

if input.differs then
  local whole = import "sweep.whole"
  local base = lines_with {}
  return { first = whole.difference(base, lines_with(input.differs)), same = whole.difference(base, lines_with {}) }
end

local set = {}
for i, text in ipairs(input.set or {}) do set[i] = boot.setting(text) end
judging.declare({ script = input.script, alternate = input.alternate }, set)

local space = import("sweep.space").new(import("sweep.axes").of { vary = input.vary }, {})
local steps = {}
for a, axis in ipairs(space.axes) do
  steps[a] = (axis.at.option or not input.vary) and axis.size - 1 or 0     -- the job's own only where nothing else is
end
local p = patch.of(space, space.number(steps))
local d = document.new("sweep", "Sweep")
patch.document(d, p)
p.page = import "write.text"(d, { width = 100 })
return p
