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

-- One variant as `run` has it, with its sheets: as if what it varies had been said on the command line, so that its
-- page says how to have it without a sweep, and `verify` can tell.
local function only(o, space)
  local n = whole_number(o, space.total)
  local own = setmetatable({ variant = n .. " of the sweep: " .. space.label(n) }, { __index = o })
  local sets, alternate = space.words(n)
  if sets then
    own.set = table.move(sets, 1, #sets, #o.set + 1, table.move(o.set, 1, #o.set, 1, {}))
    own.alternate = alternate or o.alternate
    declare(own)
  else declare(o, space.plan(n)) end
  local outcomes, status = judging.judge(import "model.boot")
  return status, import "write.variant"(outcomes, status, own)
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
