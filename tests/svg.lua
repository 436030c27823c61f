-- SPDX-License-Identifier: MIT
-- Pictures read back, for tests in the host's Lua: that an SVG is XML, and where what it draws lies.
local svg = {}

local function fail(...) error(table.concat { ... }, 0) end
svg.fail = fail

local entities = { amp = "&", lt = "<", gt = ">", quot = '"' }
local function text_of(raw)
  for name in raw:gmatch("&([^;]*);?") do if not entities[name] then fail("the entity ", name) end end
  if raw:find("[%z\1-\8\11-\31]") then fail("a control character") end
  return (raw:gsub("&(%a+);", entities))
end

local function attributes(raw)
  local list, rest = {}, raw
  while rest:find("%S") do
    local name, value, more = rest:match('^%s+([%w:-]+)="([^"<]*)"(.*)$')
    if not name then fail("attributes that are none: ", rest) end
    if list[name] then fail("twice the attribute ", name) end
    list[name], rest = text_of(value), more
  end
  return list
end

-- The elements in order: { name, at = attributes, text, class = of the groups around it }; raises where it is no XML.
function svg.parse(text)
  local list, open, at = {}, {}, 1
  local start = text:match('^<%?xml version="1.0" encoding="UTF%-8"%?>\n()')
  at = start or 1
  while at <= #text do
    local from, to = text:find("<[^>]*>", at)
    local before = text:sub(at, (from or #text + 1) - 1)
    if before:find("[<>]") then fail("a loose bracket in ", before) end
    if #open > 0 then open[#open].text = (open[#open].text or "") .. text_of(before)
    elseif before:find("%S") then fail("text outside: ", before) end
    if not from then break end
    local tag = text:sub(from + 1, to - 1)
    if tag:sub(1, 1) == "/" then
      local last = table.remove(open)
      if not last or last.name ~= tag:sub(2) then fail("closed and not open: ", tag) end
    else
      local name, rest, closed = tag:match("^(%a+)(.-)(/?)$")
      local e = { name = name, at = attributes(rest) }
      local above = open[#open]
      e.class = e.at.class or above and above.class
      e.fill = e.at.fill or above and above.fill
      e.parent = above
      list[#list + 1] = e
      if closed == "" then open[#open + 1] = e end
    end
    at = to + 1
  end
  if #open > 0 then fail("never closed: ", open[#open].name) end
  return list
end

function svg.numbers(text)
  local list = {}
  for n in text:gmatch("%-?[%d.]+") do list[#list + 1] = tonumber(n) end
  return list
end

-- The subpaths of a path: each a list of places { x, y ... }.
function svg.subpaths(d)
  local list, x, y = {}, 0, 0
  for command, rest in d:gmatch("([MmLlz])([^MmLlz]*)") do
    local n = svg.numbers(rest)
    if command == "M" or command == "L" then x, y = n[1], n[2]
    elseif command ~= "z" then x, y = x + n[1], y + n[2] end
    if command:lower() == "m" then list[#list + 1] = {} end
    if command ~= "z" then table.move({ x, y }, 1, 2, #list[#list] + 1, list[#list]) end
  end
  return list
end

-- The places that an element reaches, as { x, y ... }; a text's by its width.
local function reach(e)
  local a = e.at
  local function n(key) return tonumber(a[key]) end
  if e.name == "rect" then return { n "x", n "y", n "x" + n "width", n "y" + n "height" } end
  if e.name == "circle" then return { n "cx" - n "r", n "cy" - n "r", n "cx" + n "r", n "cy" + n "r" } end
  if e.name == "line" then return { n "x1", n "y1", n "x2", n "y2" } end
  if e.name == "polyline" or e.name == "polygon" then return svg.numbers(a.points) end
  if e.name == "path" then
    local all = {}
    for _, sub in ipairs(svg.subpaths(a.d)) do table.move(sub, 1, #sub, #all + 1, all) end
    return all
  end
  if e.name ~= "text" then return {} end
  local size = n "font-size"
  local w = host.columns(e.text) * size * 0.53                   -- about what a usual sans-serif takes
  local left = a["text-anchor"] == "middle" and -w / 2 or a["text-anchor"] == "end" and -w or 0
  local turn = math.rad(a.transform and tonumber(a.transform:match("rotate%(([%d.-]+)")) or 0)
  local places = {}
  for _, p in ipairs { { left, 2 }, { left + w, 2 }, { left, -size * 0.75 }, { left + w, -size * 0.75 } } do
    places[#places + 1] = n "x" + p[1] * math.cos(turn) - p[2] * math.sin(turn)
    places[#places + 1] = n "y" + p[1] * math.sin(turn) + p[2] * math.cos(turn)
  end
  return places
end

-- All of a picture: XML, on its sheet, the same twice; gives its elements and its text.
function svg.whole(make)
  local c = make()
  local text = c:svg()
  if make():svg() ~= text then fail("another picture the second time") end
  local list = svg.parse(text)
  local root = list[1]
  if root.name ~= "svg" or root.at.xmlns ~= "http://www.w3.org/2000/svg" or root.at.role ~= "img" then
    fail("not the root of a picture: ", root.name)
  end
  for _, e in ipairs(list) do
    local places = reach(e)
    for i = 1, #places, 2 do
      local x, y = places[i], places[i + 1]
      if x < -0.01 or x > c.width + 0.01 or y < -0.01 or y > c.height + 0.01 then
        fail("off the sheet: ", e.name, " ", e.text or "", " at ", x, ",", y, " of ", c.width, ",", c.height)
      end
    end
  end
  return list, text
end

return svg
