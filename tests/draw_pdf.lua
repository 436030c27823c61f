-- SPDX-License-Identifier: MIT
-- A PDF of drawings read back as `mutool trace` tells it: what is stroked and filled on each page, and its texts; and
-- pictures as one bit a dot, as a copier or a scanner leaves them.
local svg = require "svg"
local pdf = {}

local MM = 25.4 / 72

local function run(command)
  local pipe = assert(io.popen(command .. " 2>&1"))
  local text = pipe:read "a"
  pipe:close()
  return text
end

local entities = { quot = '"', apos = "'", lt = "<", gt = ">", amp = "&" }
local function plain(text)
  return (text:gsub("&(#?)(%w+);", function(sharp, name)
    if sharp == "" then return entities[name] end
    local hex = name:match "^x(%x+)$"
    return utf8.char(hex and tonumber(hex, 16) or tonumber(name))
  end))
end

-- ---- a page --------------------------------------------------------------------------------------------------------

-- What of a path is drawn without lifting the pen: { { lines, curves = how many, at = { x, y of its lines } } ... }.
local function parts(body)
  local list, now = {}, nil
  for name, of in body:gmatch "<(%a+)([^>]*)/>" do
    if name == "moveto" then now = { lines = 0, curves = 0, at = {} } end
    if name == "moveto" or name == "lineto" then
      local x, y = of:match '^ x="([-%d.]+)" y="([-%d.]+)"$'
      table.move({ tonumber(x) * MM, tonumber(y) * MM }, 1, 2, #now.at + 1, now.at)
    end
    if name == "lineto" then now.lines = now.lines + 1
    elseif name ~= "moveto" then now.curves = now.curves + 1 end
    if name ~= "moveto" and list[#list] ~= now then list[#list + 1] = now end
  end
  return list
end

-- { strokes, fills = how many, of which one path may have several, lines = { { x1, y1, x2, y2 } ... } in mm, of those
-- that are one straight line, letters = all of them, widths = { [pen in mm] = true }, width, height in mm }
function pdf.page(file, number)
  local text = run("mutool trace '" .. file .. "' " .. number)
  local p = { strokes = 0, fills = 0, lines = {}, widths = {} }
  local x, y = text:match 'mediabox="0 0 ([%d.]+) ([%d.]+)"'
  p.width, p.height = tonumber(x) * MM, tonumber(y) * MM
  for kind, head, body in text:gmatch "<(%a+)_path([^>]*)>(.-)</%a+_path>" do
    if kind == "stroke" then
      p.widths[tonumber(head:match 'linewidth="([%d.]+)"') * MM] = true
      for _, part in ipairs(parts(body)) do
        p.strokes = p.strokes + 1
        if part.lines == 1 and part.curves == 0 then p.lines[#p.lines + 1] = part.at end
      end
    elseif kind == "fill" then p.fills = p.fills + #parts(body) end
  end
  local letters = {}
  for c in text:gmatch 'unicode="(.-)"' do letters[#letters + 1] = plain(c) end
  p.letters = table.concat(letters)
  return p
end

-- The ends of a polyline whose places lie on one line, which cairo writes as that line; nil: it is bent.
local function straight(xy)
  local x, y, n = xy[1], xy[2], #xy
  local dx, dy = xy[n - 1] - x, xy[n] - y
  for i = 3, n - 3, 2 do
    if math.abs((xy[i] - x) * dy - (xy[i + 1] - y) * dx) > 1e-3 * math.sqrt(dx * dx + dy * dy) then return nil end
  end
  return { x, y, xy[n - 1], xy[n] }
end

-- What of a page (tests/draw_page.lua) is otherwise in the PDF.
function pdf.differences(page, p)
  local bad, want, filled, lines = {}, 0, 0, {}
  local strokes = { line = true, polyline = true, polygon = true, circle = true, path = true }
  for _, e in ipairs(page.list) do
    if strokes[e.name] then
      want = want + 1
      if e.at.fill then filled = filled + 1 end
      if e.name == "line" then
        lines[#lines + 1] = { tonumber(e.at.x1), tonumber(e.at.y1), tonumber(e.at.x2), tonumber(e.at.y2) }
      elseif e.name == "polyline" then lines[#lines + 1] = straight(svg.numbers(e.at.points)) end
    end
  end
  if p.strokes ~= want then bad[#bad + 1] = p.strokes .. " strokes of " .. want end
  if p.fills ~= filled then bad[#bad + 1] = p.fills .. " filled of " .. filled end
  if #p.lines ~= #lines then bad[#bad + 1] = #p.lines .. " lines of " .. #lines end
  for i, l in ipairs(lines) do                      -- both are in the order in which they were drawn
    for k = 1, 4 do
      if p.lines[i] and math.abs(l[k] - p.lines[i][k]) > 0.01 then
        bad[#bad + 1] = ("line %d lies %.3f mm elsewhere"):format(i, math.abs(l[k] - p.lines[i][k]))
        break
      end
    end
  end
  local at = 1                                      -- texts, too; cairo leaves out blanks between words here and there
  local letters = p.letters:gsub(" ", "")
  for _, t in ipairs(page.texts) do
    local want_text = t.text:gsub(" ", "")
    local from, to = letters:find(want_text, at, true)
    if not from then bad[#bad + 1] = "the text " .. t.text
    else at = to + 1 end
  end
  if at <= #letters and #bad == 0 then bad[1] = "more texts: " .. letters:sub(at, at + 60) end
  if math.abs(p.width - page.width) > 0.01 or math.abs(p.height - page.height) > 0.01 then
    bad[#bad + 1] = ("paper of %.1f by %.1f mm"):format(p.width, p.height)
  end
  return bad
end

-- ---- one bit -------------------------------------------------------------------------------------------------------

-- A page as grey dots, so many to an inch: { width, height, bytes, per_mm }.  wide: of the page, mm.
function pdf.grey(file, number, folder, dots, wide)
  local to = folder .. "/grey.pgm"
  run(("mutool draw -q -r %d -c gray -F pgm -o '%s' '%s' %d"):format(dots, to, file, number))
  local f = assert(io.open(to, "rb"))
  local text = f:read "a"
  f:close()
  os.remove(to)
  local width, height, at = text:match "^P5\n(%d+) (%d+)\n255\n()"
  return { width = tonumber(width), height = tonumber(height), bytes = text, at = at,
      per_mm = tonumber(width) / wide }
end

-- How dark a box of a page (in mm from its upper left corner) is: with all greys, and with one bit a dot.
function pdf.ink(grey, left, top, right, bottom)
  local k, all, one = grey.per_mm, 0, 0
  local from, to = math.max(0, math.floor(left * k)), math.min(grey.width - 1, math.ceil(right * k))
  for y = math.max(0, math.floor(top * k)), math.min(grey.height - 1, math.ceil(bottom * k)) do
    local row = grey.at + y * grey.width
    for x = from, to, 64 do
      local values = { grey.bytes:byte(row + x, row + math.min(x + 63, to)) }
      for i = 1, #values do
        local v = values[i]
        all = all + (255 - v)
        if v < 128 then one = one + 255 end
      end
    end
  end
  return all, one
end

-- Texts of a page that a copier of one bit a dot would lose, or run together.
function pdf.lost(page, grey)
  local bad = {}
  for _, t in ipairs(page.texts) do
    local left, top, right, bottom = math.huge, math.huge, -math.huge, -math.huge
    for i = 1, 7, 2 do
      left, right = math.min(left, t.box[i]), math.max(right, t.box[i])
      top, bottom = math.min(top, t.box[i + 1]), math.max(bottom, t.box[i + 1])
    end
    local all, one = pdf.ink(grey, left, top, right, bottom)
    local area = (right - left) * (bottom - top) * grey.per_mm ^ 2 * 255
    -- The least that letters of this face darken of their box is a twentieth, as a row of full stops does.
    if t.text:find "[%w]" and one < 0.03 * area then bad[#bad + 1] = t.text .. ": no ink is left"
    elseif all > 0 and (one < 0.75 * all or one > 1.3 * all) then
      bad[#bad + 1] = ("%s: %.0f %% of its ink is left"):format(t.text, 100 * one / all)
    end
  end
  return bad
end

return pdf
