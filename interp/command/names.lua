-- SPDX-License-Identifier: MIT
-- Names that a shell completes: each function gives a list.
local names = {}

function names.sheets()
  local list = {}
  for _, s in ipairs(import("model.domains").sheets()) do
    if s.title then list[#list + 1] = s.name end             -- without one it is a part of the report only
  end
  return list
end

function names.rules()
  local list = {}
  for _, row in ipairs(import("model.domains").rules()) do
    for i = 1, #row, 3 do list[#list + 1] = row[i] end
  end
  table.sort(list, function(a, b)
    local x, y = a:match "^%a+", b:match "^%a+"
    if x ~= y then return x < y end
    return tonumber(a:match "%d+$") < tonumber(b:match "%d+$")
  end)
  return list
end

function names.names()
  import "model.boot"
  local manual, list = import "write.manual", {}
  for _, k in ipairs(import("model.schema").loaded()) do list[#list + 1] = k.name end
  for _, group in ipairs(manual.words) do for _, w in ipairs(group[2]) do list[#list + 1] = w[1] end end
  for _, op in ipairs(primitives()) do list[#list + 1] = "calc." .. op.name end
  return list
end

function names.codes()
  local list = {}
  for i, e in ipairs(import("write.codes").list) do list[i] = e.code end
  return list
end

return names
