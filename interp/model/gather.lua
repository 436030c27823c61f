-- SPDX-License-Identifier: MIT
-- All that is wrong told in one run: what is tried here raises at once, or, in a run that gathers, is kept by
-- model.faults, which is loaded at the first fault.
local run = import "model.run"
local schema = import "model.schema"
local gather = {}

local function come(hides, good, ...)
  if good then return ... end
  return import("model.faults").keep(..., hides)
end

-- What f(...) gives. In a run that gathers, what it raises is kept instead, to be told with all else that is wrong, and
-- a hole is given. hides: what may be lacking then: "names" of declarations, the "value" that a script wanted, or both.
function gather.attempt(hides, f, ...)
  if not run.gathers then return f(...) end
  return come(hides, pcall(f, ...))
end

local most = 1000        -- faults that get a suggestion: each looks through all names that there are, and 50 are told

-- Whether it is worth looking for the name that was surely meant.
function gather.suggests() return not run.hole or #run.found < most end

-- The values of a whole declaration, and, in a run that gathers, which of its fields are wrong or missing, if any.
function gather.fields(ctx, def, raw)
  local path = { nil, nil, nil, nil }
  if not run.gathers then return schema.fields(ctx, path, def, raw) end
  if not run.hole then
    local good, v = pcall(schema.fields, ctx, path, def, raw)
    if good then return v end
  end
  return import("model.faults").fields(ctx, def, raw)
end

return gather
