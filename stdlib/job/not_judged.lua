-- SPDX-License-Identifier: MIT
-- What no rule judges, and a paper may cover: { word, the word in a sentence, of = what goes before it }.  To take one
-- off the list silences no rule.
local util = import "model.util"
local not_judged = {
  { "rails", "rails", of = "bending of " },
  { "rafters", "rafters", of = "bending of " },
  { "posts", "posts", of = "bending of " },
  { "joints", "the frame's joints", behind = "their joints" },             -- behind what has such joints
  { "modules", "modules", of = "wind and snow pressure on " },
  { "clamps", "clamps", of = "wind and snow pressure on " },
  { "bearing", "the soil's bearing under a post" },
}

not_judged.words = {}
for i, subject in ipairs(not_judged) do not_judged.words[i] = subject[1] end

-- "bending of rails and posts, wind and snow pressure on modules, and the soil's bearing under a post"
function not_judged.say(subjects)
  local parts, last = {}, nil
  for _, s in ipairs(subjects) do
    if s.of and last and last.of == s.of then last[#last + 1] = s[2]
    else
      last = { last and last.of and s.behind or s[2], of = s.of }
      parts[#parts + 1] = last
    end
  end
  for i, p in ipairs(parts) do parts[i] = (p.of or "") .. util.list(p) end
  if #parts < 3 then return table.concat(parts, ", and ") end
  return table.concat(parts, ", ", 1, #parts - 1) .. ", and " .. parts[#parts]
end

return not_judged
