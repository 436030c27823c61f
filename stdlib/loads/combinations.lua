-- SPDX-License-Identifier: MIT
-- The allowable combinations of the job's load standard, rows of load_combinations.
local memo = import "model.memo"
local record = import "model.record"

return function()
  return memo.remember(record.inside[record.root], "allowable combinations", function()
    return calc.combinations { edition = record.root.codes.loads, method = "allowable" }.rows
  end)
end
