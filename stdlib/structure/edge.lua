-- SPDX-License-Identifier: MIT
-- The ground under a rack's lower edge, as far as the shots tell it.
local record = import "model.record"
local edge = {}

-- At each front post, or where the ground between it and the post of the next line, carried on straight to the edge, is
-- higher there; ahead: how far the front line stands behind the edge in plan.
-- { ground, at = front post, behind = the post of the next line }
function edge.under(r, ahead)
  local by, second, highest = { F = {} }, nil, nil
  for p in record.each(r.post) do
    local letter = p.letter
    second = second or letter ~= "F" and letter or nil
    by[letter] = by[letter] or {}
    by[letter][p.number] = p
  end
  local slope = record.given(r, "row_slope") and import "structure.slope"
  local function ground(p) return slope and slope.ground(r, p) or p.ground end
  local front, back = by.F, second and by[second] or {}
  local apart = #back == #front and (r.post_line[second].setback - r.front_setback)
  for i, f in ipairs(front) do
    local b, here = back[i], ground(f)
    local found = { ground = here, at = f.station }
    local at_edge = apart and host.si(apart) > 0 and here - (ground(b) - here) / apart * ahead
    if at_edge and at_edge > here then
      found = { ground = at_edge, at = f.station, behind = b.station }
    end
    if not highest or found.ground > highest.ground then highest = found end
  end
  return highest
end

function edge.words(e) return e.behind and e.behind .. " to " .. e.at .. ", carried on to the edge" or e.at end

return edge
