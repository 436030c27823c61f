-- SPDX-License-Identifier: MIT
-- What tests/sweep_patch.lua asks, in the host's Lua: a variant of a job as a patch.
--
-- input: { script, set = { "path=value" ... } that the command line puts in, alternate, axes = { { name, "value" ... or
-- { "path=value" ... } } ... }, steps = { i ... } }; name: "path", "path + path", "alternate", "file NAME", "row".
-- Gives { text, folder, files, left, notes, page = { lines of the code blocks }, set = { what puts the variant in } }.
local input = ...
local boot = import "model.boot"
local run = import "model.run"
local judging = import "host.judging"
local document = import "write.document"
local patch = import "sweep.patch"

local function entry(path, text)
  local e = boot.setting(path .. "=" .. text)
  return e
end

local function axis_of(given)
  local name, axis = given[1], { name = given[1], size = #given }
  function axis.text(i)
    local step = given[i + 1]
    return type(step) == "table" and table.concat(step, ", ") or step
  end
  function axis.plan(i)
    if i == 0 then return {} end
    local step = given[i + 1]
    if type(step) == "table" then
      local list = {}
      for k, text in ipairs(step) do list[k] = boot.setting(text) end
      return list
    end
    if name == "alternate" then return boot.alternate_plan(step) end
    if name == "vendors" or name:find "^file " then return { { axis = name, value = step } } end
    local list = {}
    for path in (name .. " + "):gmatch "(.-) %+ " do list[#list + 1] = entry(path, step) end
    return list
  end
  return axis
end

local set = {}
for i, text in ipairs(input.set or {}) do set[i] = boot.setting(text) end
judging.declare({ script = input.script, alternate = input.alternate }, set)

local space = { axes = {} }
for i, given in ipairs(input.axes) do space.axes[i] = axis_of(given) end
function space.steps() return table.move(input.steps, 1, #input.steps, 1, {}) end

local p = patch.of(space, 1)
local d = document.new("sweep", "Sweep")
patch.document(d, p)
local page = {}
for i, block in ipairs(d.blocks) do page[i] = { kind = block.kind, text = block.text } end
p.page = page
p.still = run.declared.script
return p
