-- SPDX-License-Identifier: MIT
-- One variant of a sweep: the report that `run` gives of it, and behind it all its sheets whole.
local sheets = import "write.sheets"

return function(outcomes, status, options)
  local d = import("write.report").report(outcomes, status, options)
  for _, s in ipairs(sheets.state(outcomes)) do
    if not s.sheet.idle and not s.sheet.last and not sheets.too_early(s.sheet) then
      local whole = import "write.sheet"(outcomes, status, s.sheet.name, options)
      d:gap()
      table.move(whole.blocks, 1, #whole.blocks, #d.blocks + 1, d.blocks)
    end
  end
  return d
end
