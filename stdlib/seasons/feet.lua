-- SPDX-License-Identifier: MIT
-- What a post's foot carries in all positions of the modules: the most of each, with the position that it is of.
local feet = {}

-- What is most, and what goes with it.
local most_of = {
  { "up", "up_case", "up_limit" }, { "down", "down_case" }, { "side", "side_case" },
  { "net_up", "net_up_dead", "net_up_case", "net_up_limit", "net_up_combination" },
  { "pressed", "pressed_case", "pressed_limit", "pressed_combination" },
  { "moment", "moment_push" },
  { "strength_up", "strength_up_combination" }, { "strength_down", "strength_down_combination" },
  { "half_built_up" }, { "weight" }, { "snow" }, { "leans" }, { "leaning_moment" },
}

local function take(all, row, names, at)
  for _, name in ipairs(names) do all[name] = row[name] end
  all.stands[names[1]] = at
end

local push = { "push", "push_moment", "push_case", "push_limit", "push_combination" }

-- of(position): a row of side_frames; nil of a post whose station is gone, where fewer are tried.  Beside its fields:
-- stands, by what is most, the position; pairs, each push and moment that may want the most embedment; dead is the
-- least.
function feet.most(positions, of)
  local all = { stands = {}, pairs = {} }
  for _, at in ipairs(positions) do
    local row = of(at)
    if not row then return nil end
    all.station, all.line = row.station, row.line
    if not all.dead or row.dead < all.dead then all.dead = row.dead end
    for _, names in ipairs(most_of) do
      local value, before = row[names[1]], all[names[1]]
      if not before or value > before then take(all, row, names, at) end
    end
    local more = not all.push or row.push > all.push
    if more or not (row.push < all.push) and row.push_moment > all.push_moment then take(all, row, push, at) end
    table.insert(all.pairs, { push = row.push, moment = row.push_moment })
    table.insert(all.pairs, { push = row.moment_push, moment = row.moment })
  end
  return all
end

return feet
