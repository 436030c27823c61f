-- SPDX-License-Identifier: MIT
-- `stringline sweep`: a job varied, and what came of it.
local judging = import "host.judging"

local function wrong(code, text, help) host.raise { code = code, text = text, help = help } end

-- Declares the job with all that the options change; plan: what else does.
local function declare(o, plan)
  local boot, set = import "model.boot", {}
  for i, text in ipairs(o.set) do set[i] = boot.setting(text) end
  table.move(plan or {}, 1, #(plan or {}), #set + 1, set)
  return judging.declare(o, set)
end

local function whole_number(o, total)
  local n = string.find(o.only, "^%d+$") and math.tointeger(tonumber(o.only))
  if not n then wrong("U008", "--only needs the number of a variant, got " .. o.only, "as in --only 17") end
  if n >= total then
    wrong("U008", "--only " .. o.only .. ": there are " .. total .. (total == 1 and " variant" or " variants") ..
        ", numbered from 0 to " .. total - 1, "--list shows them")
  end
  return n
end

-- One variant as `run` has it, with its sheets.
local function only(o, space)
  local n = whole_number(o, space.total)
  local boot = declare(o, space.plan(n))
  local outcomes, status = judging.judge(boot)
  return status, import "write.variant"(outcomes, status, o, n, space.label(n))
end

-- (options) -> status, document
return function(o)
  declare(o)
  local space = import("sweep.space").new(import("sweep.axes").of(o), o)
  if o.count then return 0, import("sweep.listing").count(space) end
  if o.list then return 0, import("sweep.listing").list(space) end
  if o.only then return only(o, space) end
  error "not there yet"
end
