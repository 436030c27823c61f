#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- The picture of a rack, from the top folder of the project: it is XML on white, as interp/gen/rack.lua makes it; all
-- its words lie inside, apart from each other, and are told of in docs/rack.md; its heights are those of the first
-- example.
package.path = arg[0]:gsub("[^/]*$", "") .. "?.lua"
local svg = require "svg"
local passed, failed = 0, 0
local function try(what, good, more)
  if good then passed = passed + 1 return end
  failed = failed + 1
  print("not ok " .. what .. (more and ": " .. more or ""))
end
local function read(path)
  local f <close> = assert(io.open(path, "rb"))
  return f:read "a"
end

local picture, page = read "docs/rack.svg", read "docs/rack.md"
local made = io.popen("lua5.4 interp/gen/rack.lua"):read "a"
try("docs/rack.svg is current: run `make docs`", picture == made)
local good, list = pcall(svg.parse, picture)
try("it is XML", good, tostring(list))
local width, height = picture:match 'viewBox="0 0 (%d+) (%d+)"'
width, height = tonumber(width), tonumber(height)
local _, outside = picture:gsub("http", "")
try("nothing is fetched", outside == 1 and not picture:find "<script" and not picture:find "<image")

-- Texts with the places that they take, by the widest letters of a plain font.
local SIZE, WIDE = 14, 0.56
local texts, whole = {}, {}
for i, e in ipairs(good and list or {}) do
  if e.name == "rect" and not whole.white then
    whole.white = i == 3 and e.at.fill == "#ffffff" and tonumber(e.at.width) == width and
        tonumber(e.at.height) == height
    if not whole.white then break end
  elseif e.name == "text" then
    local wide = utf8.len(e.text) * SIZE * WIDE
    local x, y = tonumber(e.at.x), tonumber(e.at.y)
    local from = e.at["text-anchor"] == "end" and x - wide or e.at["text-anchor"] == "middle" and x - wide / 2 or x
    texts[#texts + 1] = { says = e.text, from = from, to = from + wide, top = y - SIZE, bottom = y + 3 }
    try("'" .. e.text .. "' is dark on light", e.at.fill == "#1a1a1a")
  end
end
try("the ground of the picture is white, and drawn first", whole.white)
for i, t in ipairs(texts) do
  try("'" .. t.says .. "' lies inside", t.from >= 0 and t.to <= width and t.top >= 0 and t.bottom <= height)
  for k = 1, i - 1 do
    local o = texts[k]
    try("'" .. t.says .. "' and '" .. o.says .. "' lie apart",
        t.from >= o.to or o.from >= t.to or t.top >= o.bottom or o.top >= t.bottom)
  end
end

local told = page:lower():gsub("\n", " ")
local named = {}
for _, t in ipairs(texts) do named[t.says] = true end
for _, word in ipairs { "stack", "saddle", "rail", "rails", "rafter", "modules", "front post", "back post",
    "front post line", "back post line", "stations", "F1", "F2", "F3", "B1", "B2", "B3", "lower edge", "upper edge",
    "slope length", "tilt", "end allowance", "embedment", "hole depth", "gravel", "footing", "cut length",
    "pair spacing", "row" } do
  try("the picture names '" .. word .. "'", named[word])
end
local drawing = page:match "```text\n(.-)```"
for word in ("stack saddle rail rafter modules tilt embedment gravel footing datum"):gmatch "%a+" do
  local bold = told:find("**" .. word, 1, true)
  try("the page tells what '" .. word .. "' is", bold)
  if word ~= "stack" then try("the letters name '" .. word .. "'", drawing:find(word, 1, true)) end
end
try("the tour shows the same letters", read "docs/tour.md":find(drawing, 1, true))
for word in pairs(named) do
  local plural = word:match "^[FB]%d$" and "stations" or word
  if not word:find "^From " and not word:find "^A front" and not word:find "datum" then
    try("the page tells what '" .. word .. "' is", told:find("**" .. plural, 1, true))
  end
end

-- From hand: L = 2 x 1722 + 20 = 3464 mm, sin 35 = 0.57358, cos 35 = 0.81915, stack 11 in = 279.4 mm, lower edge
-- 24 in = 609.6 mm.  A back post's head is 609.6 + 0.8 x 3464 x 0.57358 - 279.4 x 0.81915 = 1970.2 mm up; its foot
-- stands on the gravel, 60 in = 1524 mm below the ground: cut 3494.2 mm.
local function of_length(pixels)                       -- a measure's upright line as long as this
  for x1, y1, x2, y2 in picture:gmatch '<line x1="([%d.]+)" y1="([%d.]+)" x2="([%d.]+)" y2="([%d.]+)"' do
    if x1 == x2 and math.abs(math.abs(y1 - y2) - pixels) < 0.11 then return true end
  end
end
for what, mm in pairs { ["lower edge"] = 609.6, ["cut length of a back post"] = 3494.2, embedment = 1524,
    ["hole depth"] = 1676.4 } do
  try("drawn to measure: " .. what, of_length(mm * 0.105))
end

print(("rack-picture: %d passed, %d failed"):format(passed, failed))
os.exit(failed == 0 and passed > 0)
