-- SPDX-License-Identifier: MIT
-- Names that a shell completes: each function gives a list.
local names = {}

function names.sheets()
  local list = {}
  for _, s in ipairs(import("model.domains").sheets()) do if s.title then list[#list + 1] = s.name end end
  return list
end

function names.rules()
  import "model.boot"
  local list = import("model.rule").all()
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
  for _, k in ipairs(import("model.schema").all()) do list[#list + 1] = k.name end
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
