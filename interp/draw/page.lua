-- SPDX-License-Identifier: MIT
-- A page: paper and scale for a view, the frame, the strip with titles, and beside it what a reader must know.
--
-- A view is { title, label = "S-201", subject, seen, notes = { text ... }, draw = function(d, narrow) end,
-- rough = ratio, wide =, tall = } where rough is the smallest scale at which it can be read, and wide and tall, in
-- metres, what it takes at least.  draw is called with an empty drawing as often as scales are tried, and draws the
-- thing about a zero of its own; narrow: on paper on which texts and tables about it have less room.  parts: see
-- draw.parts; gives a list of pages where no sheet holds all of it, or not all of its notes.
local words = import "write.words"
local strip = import "draw.strip"
local sheet = import "draw.sheet"
local page = {}

-- Calls f, which gives what is drawn or nil and why not; what is refused in it is why, too.
function page.or_why(f, ...)
  local fine, made, why = pcall(f, ...)
  if fine then return made, why end
  if not host.class(made) then error(made, 0) end
  return nil, host.message(made) .. (made.who and "; ask " .. made.who or "")
end

-- The scales of the job's units, the largest first.
function page.scales()
  local family, list = words.metric() and "metric" or "US", {}
  for _, row in ipairs(host.table "drawing_scales") do if row.family == family then list[#list + 1] = row end end
  return list
end

-- Small paper that is asked for by name has a view half as large at the least, since else it has none.
function page.too_rough(view, paper, scale) return scale.ratio > (paper.small and 2 or 1) * view.rough end

-- The view at a scale, and whether it has room.
local function tried(view, scale, room, narrow)
  local d = host.drawing(scale.ratio)
  view.draw(d, narrow)
  local left, low, right, high = d:box()
  if not left then return d, true, 0, 0 end
  local wide, tall = (right - left) / scale.ratio, (high - low) / scale.ratio
  local fits = wide <= room.right - room.left and tall <= room.high - room.low
  return d, fits, (room.left + room.right) / 2 - (left + right) / 2 / scale.ratio,
      (room.low + room.high) / 2 - (low + high) / 2 / scale.ratio
end

-- A sheet and the view on it, if there is one, as host.svg and host.pages take them. on: { d, x, y, scale } of the
-- view.
local function whole(view, d, paper, part, on)
  on = on or {}
  local scale = on.scale
  return { width = paper.width, height = paper.height, sheet = d, view = on.d, at_x = on.x, at_y = on.y,
      title = view.label .. " " .. view.title .. ", " .. view.subject .. (part and ", " .. part or ""),
      label = view.label,
      says = view.says or view.title .. " of " .. view.subject .. (view.seen and ", " .. view.seen or "") ..
      (scale and ", to a scale of 1 to " .. scale.ratio or ""), paper = paper.name, scale = scale and scale.name,
      ratio = scale and scale.ratio, narrow = paper.small, stretch = view.stretch }
end

-- Another view as a page has its own: at its scale, for its paper, the same part; nil where it has no such part.
function page.again(p, view)
  local d, draw = host.drawing(p.ratio), view.draw
  if p.stretch then
    local part = (view.parts(p.stretch.of) or {})[p.stretch.number]
    if not part then return nil end
    draw = part.draw
  end
  draw(d, p.narrow)
  return d
end

-- For who writes lists: the page that a sheet without a view becomes.
function page.listed(view, paper, d, part) return whole(view, d, paper, part) end

-- A page without a view: why it is withheld.
function page.withheld(view, why, about)
  view.notes = {}
  for _, paper in ipairs(sheet.papers(about)) do
    local d, room = sheet.of(view, paper, nil, about)
    if d then
      local left, middle = room.left + (paper.small and 4e-3 or 20e-3), (room.low + room.high) / 2
      local lines = strip.broken(d, { { why .. ".", "view" } }, room.right - left - (left - room.left))
      middle = math.min(room.high - 20e-3, math.max(middle, room.low + strip.height(d, lines)))
      d:pen "medium"
      d:text(left, middle + 10e-3, "WITHHELD", "number")
      strip.write(d, left, middle, lines)
      return whole(view, d, paper)
    end
  end
  host.raise { code = "C005", class = "range", text = view.label .. ": its titles have no room on " ..
      sheet.largest(about) }
end

-- The view on a paper at a scale: a page, whether each of its texts can be read, and notes that go on behind it; nil
-- where it has no room, and false where not even its titles have.
local function on_paper(view, paper, scale, about)
  local wide, tall = view.wide / scale.ratio, view.tall / scale.ratio
  if wide > paper.width - paper.margin - paper.binding or tall > paper.height - 2 * paper.margin then
    return nil                                                 -- nothing is drawn for that
  end
  local d, room, behind = sheet.of(view, paper, scale, about)
  if not d then return false end
  if wide > room.right - room.left or tall > room.high - room.low then return nil end
  local drawn, fits, x, y = tried(view, scale, room, paper.small)
  if not fits then return nil end
  return whole(view, d, paper, about.part, { d = drawn, x = x, y = y, scale = scale }), not drawn:touched(), behind
end

local on = { paper = on_paper, page = whole, too_rough = page.too_rough }

-- A view with its notes behind it, where the strip has no room for them: its pages, as on_paper has one.
local function behind_it(view, paper, scale, about)
  return import("draw.parts").on_pages({ view }, paper, scale, about, on)
end

-- A view on one page; with its notes behind it where they have no room about it.
local function on_pages(view, paper, scale, about)
  local made, readable, behind = on_paper(view, paper, scale, about)
  if not behind and (readable or not paper.small) then return made, readable end
  return behind_it(view, paper, scale, about)
end

-- The first paper on which the view has room and each of its texts can be read, at the largest scale at which it has
-- room, or the next; with notes about it, or else behind it. Where there is none, the first on which it has room,
-- unless other paper may be asked for.
function page.of(view, about)
  local crowded
  local papers, scales = sheet.papers(about), page.scales()
  for _, paper in ipairs(papers) do
    for _, try in ipairs(paper.small and { on_pages } or { on_pages, behind_it }) do
      for _, scale in ipairs(scales) do
        if page.too_rough(view, paper, scale) then break end
        local made, readable = try(view, paper, scale, about)
        if made == false then break end
        if readable then return made end
        crowded = crowded or not about.paper and made or nil
      end
    end
  end
  if crowded then return crowded end
  local parted = view.parts and import("draw.parts").pages(view, about, papers, scales, on)
  if parted then return parted end
  host.raise { code = "C005", class = "range",
      text = view.title .. " of " .. view.subject .. " has no room on " .. sheet.largest(about) ..
      ", at a scale at which it can be read, 1 to " .. (papers[1].small and 2 or 1) * view.rough,
      help = about.paper and "leave --paper out, and a larger one is taken" or
      "its sheets are printed by `stringline sheet`" }
end

return page
