-- SPDX-License-Identifier: MIT
-- `stringline sweep`: a job varied, and what came of it.
local sweep = {}

-- (options) -> status, document
return function(o)
  local axes, space = import "sweep.axes", import "sweep.space"
  error "not there yet"
end
