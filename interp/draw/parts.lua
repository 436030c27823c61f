-- SPDX-License-Identifier: MIT
-- A view that no sheet holds at a scale at which it can be read: its parts, each on a page, all to one scale; and the
-- pages behind it on which its notes go on, where the strip of small paper has no room for them.
--
-- view.parts(n) gives its n parts from the left, { wide = metres, draw = function(d, narrow) } each, or nil where it
-- has not so many. What goes along a line is cut between posts or modules, and match lines show where one page goes on
-- as the next.
local strip = import "draw.strip"
local lettering = import "draw.lettering"
local sheet = import "draw.sheet"
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

-- view.parts of what goes along a line: draw(d, stretch, narrow) draws it; left, right: its ends.
function parts.along(cuts, left, right, draw)
  return function(n)
    local list = parts.stretches(cuts, left, right, n)
    for i, stretch in ipairs(list or {}) do
      list[i] = { wide = 0.9 * ((stretch.to or right) - (stretch.from or left)), draw = function(d, narrow)
        draw(d, stretch, narrow)
      end }
    end
    return list
  end
end

-- ---- on pages ------------------------------------------------------------------------------------------------------

-- A page of a sheet as one of n.
local function numbered(about, i, n, on)
  return { page = about.page, pages = about.pages, made_from = about.made_from, paper = about.paper, kind = about.kind,
      part = n > 1 and "part " .. i .. " of " .. n or nil, on = on, behind = true }
end

-- The name of a sheet's page; one that begins with the name of its first.
local function label_of(label, i) return i > 1 and label .. "." .. i or label end

-- Notes on pages of their own behind so many others: the pages, as `made` makes them; nil where the titles of the view
-- have no room.
local function notes_behind(view, paper, about, notes, behind, made)
  local pages, texts = {}, { { "Notes to " .. view.label, "view" } }
  for _, text in ipairs(notes) do texts[#texts + 1] = { text, "text" } end
  repeat
    local k = behind + #pages + 1
    local its = numbered(about, k, math.max(k, about.total or 0))
    local one = { title = view.title, label = label_of(view.label, k), subject = view.subject, seen = view.seen,
        says = "Notes to " .. view.title .. " of " .. view.subject, notes = {} }
    local d, room = sheet.of(one, paper, nil, its)
    if not d then return nil end
    local rest
    local lines = strip.broken(d, texts, math.min(room.right - room.left, lettering.LONGEST))
    lines, rest = strip.shared(d, lines, room.high, room.low)
    if #lines == 0 then return nil end
    strip.write(d, room.left, room.high, lines)
    local p = made(one, d, paper, its.part)
    p.notes = {}
    for _, line in ipairs(lines) do p.notes[line.of] = texts[line.of][1] end
    pages[#pages + 1] = p
    texts = rest[1] and table.move(texts, rest[1].of, #texts, 1, {}) or {}
  until #texts == 0
  return pages
end

-- Views as the pages of one sheet, all on a paper at a scale, with their notes, and whether each of their texts can be
-- read; nil where one has no room.
local function on_pages(views, paper, scale, about, on)
  local n, first = #views, views[1]
  while true do
    local pages, all, notes = { parts = true }, true, nil
    for i, view in ipairs(views) do
      local goes_on = n > #views and "Notes go on: " .. label_of(first.label, #views + 1) .. "." or nil
      local made, readable, behind = on.paper(view, paper, scale, numbered(about, i, n, goes_on))
      if not made then return made end
      pages[i], all = made, all and readable
      if behind and (not notes or #behind > #notes) then notes = behind end
    end
    if notes then
      about.total = n
      local more = notes_behind(first, paper, about, notes, #views, on.page)
      if not more then return false end
      table.move(more, 1, #more, #views + 1, pages)
    end
    if #pages <= n then return pages, all end
    n = #pages
  end
end
parts.on_pages = on_pages

-- One part as a view of its own.
local function view_of(view, part, number, n)
  local notes = { "Part " .. number .. " of " .. n .. ", from the left: no sheet holds all of it at a scale at " ..
      "which it can be read." }
  table.move(view.notes, 1, #view.notes, 2, notes)
  return { title = view.title, label = label_of(view.label, number), subject = view.subject, notes = notes,
      seen = view.seen, wide = part.wide, tall = view.tall, draw = part.draw, stretch = { number = number, of = n } }
end

-- The fewest pages that hold it and can be read, on the first paper on which there are such, else the first that hold
-- it: { parts = true, page, ... }; nil where none do.
function parts.pages(view, about, papers, scales, on)
  local crowded
  for _, paper in ipairs(papers) do
    for n = 2, MOST do
      local list = view.parts(n)
      if not list then break end
      for i, part in ipairs(list) do list[i] = view_of(view, part, i, n) end
      for _, scale in ipairs(scales) do
        if on.too_rough(view, paper, scale) then break end
        local pages, readable = on_pages(list, paper, scale, about, on)
        if readable then return pages end
        crowded = crowded or not about.paper and pages or nil
      end
    end
  end
  return crowded
end

return parts
