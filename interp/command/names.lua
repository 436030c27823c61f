-- SPDX-License-Identifier: MIT
-- Names that a shell completes: each function gives a list.
local names = {}

function names.sheets()
  import "model.boot"
  local list = {}
  for i, s in ipairs(import("write.sheets").list) do list[i] = s.name end
  return list
end

function names.rules()
  import "model.boot"
  for _, m in ipairs { "site", "structure", "electrical" } do import(m .. ".rules") end
  local list = {}
  for i, r in ipairs(import("model.rule").list) do list[i] = r end
  table.sort(list, function(a, b)
    if a.letter ~= b.letter then return a.letter < b.letter end
    return a.number < b.number
  end)
  for i, r in ipairs(list) do list[i] = r.id end
  return list
end

function names.names()
  import "model.boot"
  local manual, list = import "write.manual", {}
  for _, k in ipairs(import("model.schema").order) do list[#list + 1] = k.name end
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
