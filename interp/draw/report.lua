-- SPDX-License-Identifier: MIT
-- The drawings inside a report for a browser: a person looks before reading.  Only views; the lists stand in sheets.
local set = import "draw.set"

local function views(list)
  local found = {}
  for _, one in ipairs(list) do if one.kind == "view" then found[#found + 1] = one end end
  return found
end

return function(d, outcomes, options)
  local pages = set.draw(views, outcomes, options)
  if #pages == 0 then return end
  d:heading "Drawings"
  d:para("To scale only as `stringline draw` writes them, as PDF on the paper that each page names: a browser makes " ..
      "them as large as its window.")
  for _, p in ipairs(pages) do
    d:subheading(p.title)
    if p.withheld then d:para("WITHHELD: " .. p.withheld .. ".")
    elseif p.notes then for _, text in ipairs(p.notes) do d:para(text) end
    else d:drawing(host.svg(p), 1000 * p.width) end
  end
end
