-- SPDX-License-Identifier: MIT
-- What a page says of a rack that is the rack's own however alike racks are: how high things lie above the zero of all
-- levels, and what its posts are called.  On a page that stands for racks on ground of other levels it is left out:
-- posts are named by their line and place, and levels stand in the table of racks and on the post schedule.
local set_out = import "structure.set_out"
local own = {}

local left_out = false

-- Calls f, and leaves out what is a rack's own in what it draws.
local function without(f, ...)
  local was = left_out
  left_out = true
  local all = table.pack(pcall(f, ...))
  left_out = was
  if not all[1] then error(all[2], 0) end
  return table.unpack(all, 2, all.n)
end

local function wrapped(f) return f and function(...) return without(f, ...) end end

-- A view, as its module makes it, without that; and as often as it is drawn.
function own.view(make, rack, on)
  local view, why = without(make, rack, on)
  if not view then return nil, why end
  view.draw = wrapped(view.draw)
  local parts = view.parts
  view.parts = parts and function(n)
    local list = without(parts, n)
    for _, part in ipairs(list or {}) do part.draw = wrapped(part.draw) end
    return list
  end
  return view
end

function own.left_out() return left_out end

-- By its name, what each post of a rack is called.
function own.names(rack)
  local names = {}
  for _, line in ipairs(set_out.lines(rack)) do
    for i, p in ipairs(line.posts) do names[p.station] = left_out and p.letter .. i or p.station end
  end
  return names
end

function own.name(rack, post) return left_out and own.names(rack)[post.station] or post.station end

-- Words before a level, and the level.
function own.at(text, level) return left_out and text or text .. " " .. level end

-- From what levels are counted, for the notes.
function own.zero()
  if not left_out then return "Levels from " .. set_out.datum() .. "; + is higher." end
  return "Levels differ from rack to rack: they, and what each rack's posts are called, are on the post schedule, " ..
      "those of edges in the sheet index. Here F1 is the first post of the front line, as posts are counted."
end

return own
