-- SPDX-License-Identifier: MIT
-- A view that no sheet holds at a scale at which it can be read: its parts, each on a page, all to one scale.
--
-- view.parts(n) gives its n parts from the left, { wide = metres, draw = function(d) } each, or nil where it has not so
-- many. What goes along a line is cut between posts or modules, and match lines show where one page goes on as the
-- next.
local parts = {}

-- Parts of at most so many sheets are tried: who wants more looks at it on a screen.
local MOST = 12

-- ---- where a line is cut -------------------------------------------------------------------------------------------

-- Between neighbours of these places along the view, in metres, in any order.
function parts.between(places)
  table.sort(places)
  local list = {}
  for i = 2, #places do
    if places[i] - places[i - 1] > 1e-6 then list[#list + 1] = (places[i] + places[i - 1]) / 2 end
  end
  return list
end

-- n stretches between the ends, about as long as each other: { from, to, number, of }; nil where there are not so many
-- places to cut at.
function parts.stretches(cuts, left, right, n)
  if #cuts < n - 1 then return nil end
  local list, k, from = {}, 1, nil
  for i = 1, n - 1 do
    local want, last = left + (right - left) * i / n, #cuts - (n - 1 - i)
    while k < last and math.abs(cuts[k + 1] - want) <= math.abs(cuts[k] - want) do k = k + 1 end
    list[i] = { from = from, to = cuts[k], number = i, of = n }
    from, k = cuts[k], k + 1
  end
  list[n] = { from = from, number = n, of = n }
  return list
end

-- Whether a place is in a stretch; all is in none.
function parts.has(stretch, x)
  return not stretch or (not stretch.from or x >= stretch.from) and (not stretch.to or x <= stretch.to)
end

-- Of a list, what has its place there.
function parts.of(stretch, list, place)
  if not stretch then return list end
  local here = {}
  for _, one in ipairs(list) do if parts.has(stretch, place(one)) then here[#here + 1] = one end end
  return here
end

-- Leaves of what is drawn a stretch, and draws the match lines at its ends.
function parts.cut(d, stretch)
  if not stretch then return end
  d:clip(stretch.from or -math.huge, stretch.to or math.huge)
  local _, low, _, high = d:box()
  local text, over = d:paper "text", 5e-3 * d:ratio()
  local function match(x, other, side)
    d:layer "G-ANNO-TEXT"
    d:pen "phantom"
    d:line(x, low - over, x, high + over)
    d:pen "thin"
    d:text(x, high + over + 0.6 * text, "match line: part " .. other .. " of " .. stretch.of, "text", 0, side)
  end
  if stretch.from then match(stretch.from, stretch.number - 1, "left") end
  if stretch.to then match(stretch.to, stretch.number + 1, "right") end
end

-- view.parts of what goes along a line: draw(d, stretch) draws it; left, right: its ends.
function parts.along(cuts, left, right, draw)
  return function(n)
    local list = parts.stretches(cuts, left, right, n)
    for i, stretch in ipairs(list or {}) do
      list[i] = { wide = 0.9 * ((stretch.to or right) - (stretch.from or left)), draw = function(d)
        draw(d, stretch)
      end }
    end
    return list
  end
end

-- ---- on pages ------------------------------------------------------------------------------------------------------

-- One part as a view of its own.
local function view_of(view, part, number, n)
  local notes = { "Part " .. number .. " of " .. n .. ", from the left: no sheet holds all of it at a scale at " ..
      "which it can be read." }
  table.move(view.notes, 1, #view.notes, 2, notes)
  return { title = view.title, label = number > 1 and view.label .. "." .. number or view.label,
      subject = view.subject, notes = notes,
      seen = view.seen, wide = part.wide, tall = view.tall, draw = part.draw }
end

-- All parts on a paper at a scale, and whether each of their texts can be read; nil where one has no room.
local function on_pages(view, list, paper, scale, about, on_paper)
  local pages, all = { parts = true }, true
  for i, part in ipairs(list) do
    local its = { page = about.page, pages = about.pages, made_from = about.made_from,
        part = "part " .. i .. " of " .. #list }
    local made, readable = on_paper(view_of(view, part, i, #list), paper, scale, its)
    if not made then return nil end
    pages[i], all = made, all and readable
  end
  return pages, all
end

-- The fewest pages that hold it and can be read, on the first paper on which there are such, else the first that hold
-- it: { parts = true, page, ... }; nil where none do.
function parts.pages(view, about, rows_of, on_paper)
  local crowded
  for _, paper in ipairs(rows_of "drawing_sheets") do
    for n = 2, MOST do
      local list = view.parts(n)
      if not list then break end
      for _, scale in ipairs(rows_of "drawing_scales") do
        if scale.ratio > view.rough then break end
        local pages, readable = on_pages(view, list, paper, scale, about, on_paper)
        if readable then return pages end
        crowded = crowded or pages
      end
    end
  end
  return crowded
end

return parts
