-- SPDX-License-Identifier: MIT
-- The ground under a rack's lower edge, as far as the shots tell it.
local record = import "model.record"
local edge = {}

-- The ground at the next line, straight behind a front post, and between which posts of it that is: where the lines are
-- not alike, between its two neighbours there, beyond the last as at that.  ground: the ground at a post as the
-- row sees it.
local function behind_post(f, posts, unlike, ground)
  if not unlike then return ground(posts[f.number]), posts[f.number].station end
  local x = f.offset
  for i = 2, #posts do
    local a, b = posts[i - 1], posts[i]
    if x > a.offset and x < b.offset then
      return ground(a) + (ground(b) - ground(a)) * ((x - a.offset) / (b.offset - a.offset)), a.station .. " and " ..
          b.station
    end
  end
  local last = posts[x < posts[1].offset and 1 or #posts]
  for i = 1, #posts do if host.near(host.si(posts[i].offset) + 1, host.si(x) + 1) then last = posts[i] end end
  return ground(last), last.station
end

-- At each front post, or where the ground between it and the post of the next line, carried on straight to the edge, is
-- higher there; ahead: how far the front line stands behind the edge in plan.
-- { ground, at = front post, behind = the post of the next line, or the two beside it }
function edge.under(r, ahead)
  local by, second, highest = { F = {} }, nil, nil
  for p in record.each(r.post) do
    local letter = p.letter
    second = second or letter ~= "F" and letter or nil
    by[letter] = by[letter] or {}
    by[letter][p.number] = p
  end
  local slope = record.given(r, "row_slope") and import "structure.slope"
  local function ground_of(p) return slope and slope.ground(r, p) or p.ground end
  local front, back = by.F, second and by[second]
  local apart = back and r.post_line[second].setback - r.front_setback
  local unlike = record.given(r, "lines") ~= nil or back and #back ~= #front
  for _, f in ipairs(front) do
    local here = ground_of(f)
    local found = { ground = here, at = f.station }
    if apart and host.si(apart) > 0 then
      local ground, behind = behind_post(f, back, unlike, ground_of)
      local at_edge = here - (ground - here) / apart * ahead
      if at_edge > here then found = { ground = at_edge, at = f.station, behind = behind } end
    end
    if not highest or found.ground > highest.ground then highest = found end
  end
  return highest
end

function edge.words(e) return e.behind and e.behind .. " to " .. e.at .. ", carried on to the edge" or e.at end

return edge
