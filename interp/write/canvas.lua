-- SPDX-License-Identifier: MIT
-- A sheet to draw on, written as SVG (1.1, which 2 keeps): shapes and texts in the sheet's own measure, CSS px for a
-- page, mm for paper, from its upper left corner.  What is drawn in mm prints in true size.
--
--   canvas.new { width, height, unit = "px" or "mm", title, says }      says: for who cannot see it
--
-- A style is a table { fill =, stroke =, width =, dash =, name = } of a group; what stands in it is drawn so.  The
-- sheet is white, so that it reads on a dark page, too.  Colours differ in grey, and shapes, numbers or hatching say
-- the same beside them.  Nothing has an id and nothing is fetched, so that many pictures stand on one page.
local page = import "write.page"
local canvas = {}

local methods = {}
local meta = { __index = methods }

canvas.ink, canvas.quiet, canvas.ground = "#1a1a1a", "#595959", "#ffffff"

local marks = { ["&"] = "&amp;", ["<"] = "&lt;", [">"] = "&gt;", ['"'] = "&quot;" }
local function plain(text) return (host.safe(text):gsub('[&<>"]', marks)) end

-- Hundredths are finer than a page shows; the same text on every run.
local function rounded(n, form)
  if n ~= n or n == math.huge or n == -math.huge then error("a place on a picture is a number, not " .. n, 3) end
  local text = string.format(form, n):gsub("%.?0+$", "")
  return text == "-0" and "0" or text
end
local function number(n) return rounded(n, "%.2f") end
local function tenth(n) return rounded(n, "%.1f") end

local function put(c, ...) c.out[#c.out + 1] = table.concat { ... } end

function canvas.new(o)
  local c = setmetatable({ width = o.width, height = o.height, unit = o.unit or "px", title = o.title, says = o.says,
      out = {} }, meta)
  c:group({ fill = canvas.ground }, function() c:rect(0, 0, o.width, o.height) end)
  return c
end

-- ---- texts ---------------------------------------------------------------------------------------------------------

-- About what a letter takes of its size in a usual sans-serif, rather too much than too little: a figure or a capital,
-- and one of running text.
local FIGURE, LETTER = 0.6, 0.56

function canvas.width(text, size, bold) return host.columns(text) * size * FIGURE * (bold and 1.15 or 1) end

-- The lines of a text in a given width.
function canvas.wrap(text, width, size) return page.wrap(text, math.max(8, math.floor(width / (size * LETTER)))) end

-- A text cut to a width, with an ellipsis.
function canvas.cut(text, width, size)
  text = host.safe(text)
  local most = math.max(2, math.floor(width / (size * LETTER)))
  if host.columns(text) <= most then return text end
  local short = text
  repeat short = short:sub(1, (utf8.offset(short, -1) or 1) - 1)
  until host.columns(short) < most
  return (short:gsub("%s+$", "")) .. "\u{2026}"
end

-- o: size, anchor ("start", "middle", "end"), rotate (degrees, clockwise about its place), bold, fill, and halo, which
-- keeps it legible on what it covers.
function methods:text(x, y, text, o)
  o = o or {}
  local where = table.concat { ' x="', number(x), '" y="', number(y), '" font-size="', number(o.size or 11), '"',
      o.anchor and ' text-anchor="' .. o.anchor .. '"' or "", o.bold and ' font-weight="bold"' or "",
      o.rotate and ' transform="rotate(' .. number(o.rotate) .. " " .. number(x) .. " " .. number(y) .. ')"' or "" }
  text = plain(text)
  if o.halo then
    put(self, "<text", where, ' fill="none" stroke="', canvas.ground, '" stroke-width="3" stroke-linejoin="round">',
        text, "</text>")
  end
  put(self, "<text", where, ' fill="', o.fill or canvas.ink, '">', text, "</text>")
end

-- ---- shapes --------------------------------------------------------------------------------------------------------

function methods:line(x1, y1, x2, y2)
  put(self, '<line x1="', number(x1), '" y1="', number(y1), '" x2="', number(x2), '" y2="', number(y2), '"/>')
end

-- points: { x1, y1, x2, y2 ... }
local function points_of(points)
  local parts = {}
  for i = 1, #points, 2 do parts[#parts + 1] = number(points[i]) .. "," .. number(points[i + 1]) end
  return table.concat(parts, " ")
end

function methods:polyline(points) put(self, '<polyline fill="none" points="', points_of(points), '"/>') end
function methods:polygon(points) put(self, '<polygon points="', points_of(points), '"/>') end

function methods:rect(x, y, width, height)
  put(self, '<rect x="', number(x), '" y="', number(y), '" width="', number(width), '" height="', number(height), '"/>')
end

function methods:circle(x, y, radius)
  put(self, '<circle cx="', number(x), '" cy="', number(y), '" r="', number(radius), '"/>')
end

-- One shape at many places, in one path, to a tenth: its strokes are lists of points about the place.
function methods:marks(shape, points)
  if #points == 0 then return end
  local x, y = shape[1][1], shape[1][2]
  local at_x, at_y, strokes = x, y, {}
  for i, stroke in ipairs(shape) do
    if i > 1 then strokes[#strokes + 1] = "m" .. number(stroke[1] - at_x) .. " " .. number(stroke[2] - at_y) end
    at_x, at_y = stroke[1], stroke[2]
    for k = 3, #stroke, 2 do
      strokes[#strokes + 1] = "l" .. number(stroke[k] - at_x) .. " " .. number(stroke[k + 1] - at_y)
      at_x, at_y = stroke[k], stroke[k + 1]
    end
    if stroke.closed then strokes[#strokes + 1], at_x, at_y = "z", stroke[1], stroke[2] end
  end
  local rest, out = table.concat(strokes), {}
  for i = 1, #points, 2 do
    out[#out + 1] = "M" .. tenth(points[i] + x) .. " " .. tenth(points[i + 1] + y) .. rest
  end
  put(self, '<path d="', table.concat(out), '"/>')
end

-- Lines at 45 degrees, `gap` apart along x, inside a polygon that need not be convex.
function methods:hatch(points, gap)
  local low, high = math.huge, -math.huge
  for i = 1, #points, 2 do
    local s = points[i] + points[i + 1]
    low, high = math.min(low, s), math.max(high, s)
  end
  local out, n = {}, #points
  for k = math.floor(low / gap) + 1, math.ceil(high / gap) - 1 do
    local s, cuts = k * gap, {}
    for i = 1, n, 2 do
      local x1, y1, x2, y2 = points[i], points[i + 1], points[(i + 1) % n + 1], points[(i + 2) % n + 1]
      local s1, s2 = x1 + y1 - s, x2 + y2 - s
      if (s1 < 0) ~= (s2 < 0) then cuts[#cuts + 1] = x1 + (x2 - x1) * s1 / (s1 - s2) end
    end
    table.sort(cuts)
    for i = 1, #cuts - 1, 2 do
      out[#out + 1] = "M" .. number(cuts[i]) .. " " .. number(s - cuts[i]) .. "L" .. number(cuts[i + 1]) .. " " ..
          number(s - cuts[i + 1])
    end
  end
  if #out > 0 then put(self, '<path d="', table.concat(out), '"/>') end
end

-- ---- groups --------------------------------------------------------------------------------------------------------

-- What f draws, in a style; says: what a pointer that rests on it is told.
function methods:group(style, f, says)
  put(self, "<g", style.name and ' class="' .. plain(style.name) .. '"' or "",
      ' fill="', style.fill or "none", '" stroke="', style.stroke or "none", '"',
      style.width and ' stroke-width="' .. number(style.width) .. '"' or "",
      style.dash and ' stroke-dasharray="' .. style.dash .. '"' or "", ">")
  if says then put(self, "<title>", plain(says), "</title>") end
  f(self)
  put(self, "</g>")
end

-- What f draws, cut off at the edges of a rectangle; its places stay those of the sheet.
function methods:within(x, y, width, height, f)
  local box = table.concat({ number(x), number(y), number(width), number(height) }, " ")
  put(self, '<svg x="', number(x), '" y="', number(y), '" width="', number(width), '" height="', number(height),
      '" viewBox="', box, '" overflow="hidden">')
  f(self)
  put(self, "</svg>")
end

-- ---- the whole -----------------------------------------------------------------------------------------------------

-- As a file of its own; inside: for a page of HTML, which knows what SVG is.
function methods:svg(inside)
  local measure = self.unit == "px" and "" or self.unit
  local head = { inside and "" or '<?xml version="1.0" encoding="UTF-8"?>\n',
      "<svg", inside and "" or ' xmlns="http://www.w3.org/2000/svg" version="1.1"',
      ' width="', number(self.width), measure, '" height="', number(self.height), measure,
      '" viewBox="0 0 ', number(self.width), " ", number(self.height),
      '" font-family="sans-serif" role="img" aria-label="', plain(self.title), '">\n<title>', plain(self.title),
      "</title>\n", self.says and "<desc>" .. plain(self.says) .. "</desc>\n" or "" }
  return table.concat(head) .. table.concat(self.out, "\n") .. "\n</svg>\n"
end

return canvas
