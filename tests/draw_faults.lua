-- SPDX-License-Identifier: MIT
-- Faults that are planted in good pages: each check of tests/draw_page.lua and tests/draw_dxf.lua and each law of
-- tests/draw_laws.lua must see its own; the others may.
local lanes = require "lanes"
local page, dxf, laws = require "draw_page", require "draw_dxf", require "draw_laws"
local read = lanes.read
local IN = 25.4

-- ---- in pages ------------------------------------------------------------------------------------------------------

local function in_pages(try, work)
  local function change(what, find, by, count)
    return function(text)
      local changed, n = text:gsub(find, by, count or 1)
      if n == 0 then error("nothing to plant: " .. what) end
      return changed
    end
  end
  local side, plan = read(work .. "/egg-farm/S-201-side.svg"), read(work .. "/egg-farm/S-101-plan.svg")
  local list = read(work .. "/egg-farm/S-603-drill.svg")
  local planted = {
    { "letters are high enough", side, change("letters", 'font%-size="3%.567"', 'font-size="3.4"') },
    { "no text lies on another or on a line", side, function(text)
      local x, y = text:match '<text[^>]* x="([%d.]+)" y="([%d.]+)"[^>]*>top edge'
      local line = '<g class="S-POST" stroke-width="0.5"><line x1="%s" y1="%s" x2="%s" y2="20"/></g></svg>'
      return (text:gsub("</svg>", line:format(x + 3, y + 3, x + 9)))
    end },
    { "no text lies on another or on a line", side, function(text)
      local one = text:match "<text[^>]*>top edge[^<]*</text>"
      return (text:gsub("</svg>", function()
        return '<g class="G-ANNO-TEXT" stroke-width="0.25">' .. one:gsub("top edge", "a clash") .. "</g></svg>"
      end))
    end },
    { "all stands inside the frame", side, change("outside", "</svg>",
        '<g class="S-POST" stroke-width="0.5"><line x1="2" y1="2" x2="3" y2="3"/></g></svg>') },
    { "pens are of the five", side, change("a pen", 'stroke%-width="0%.5"', 'stroke-width="0.4"') },
    { "dimensions are as long as they say", side, change("a dimension", ">67 in<", ">68 in<") },
    { "dimensions are as long as they say", plan, change("a place", ">145 in E<", ">146 in E<") },
    { "dimensions are as long as they say", side, change("the scale", "Scale %d/%d&quot;", "Scale 1/4&quot;") },
    { "chains add up", side, change("an eighth", ">111%-5/8 in<", ">111-3/4 in<") },
    { "the bar is true", side, change("the unit", ">ft<", ">m<") },
    { "its scale is of the list", side, change("the scale", "Scale %d/%d&quot;", "Scale 5/8&quot;") },
    { "the strip says what it must", side, change("the aid", "A planning aid, not", "Not") },
    { "the strip says what it must", side, change("the units", ">Lengths in [^<]*", ">") },
    { "the strip says what it must", side, change("the revision", ">no revision named<", "><") },
    { "the strip says what it must", side, change("the page", ">page %d+ of", ">page of") },
    { "the strip says what it must", side, change("the seal", ">Seal, where one is asked for<", "><") },
    { "the strip says what it must", list, change("the scale of a list", ">To no scale, on", ">On") },
    { "it is of the paper that it says", side, change("the paper", "on tabloid paper<", "on arch C paper<") },
    { "it is of the paper that it says", list, change("its width", 'width="[%d.]+mm"', 'width="210mm"') },
    { "it is of the paper that it says", side, function(text)            -- a view upright
      return (text:gsub('width="431.8mm" height="279.4mm"', 'width="279.4mm" height="431.8mm"', 1))
    end },
  }
  for i, one in ipairs(planted) do
    try("planted " .. i .. ": " .. one[1], #page.checks[one[1]](page.read(one[3](one[2]))) > 0)
  end
end

-- ---- in what a view shows ------------------------------------------------------------------------------------------

local function in_views(try, work, pages)
  -- What a view shows: each law of it sees something that is 3 mm of paper away, missing, or one too many.
  local function moved(path, layer, pattern, pen)
    local text = read(work .. "/" .. path .. ".svg")
    local from = assert(text:find('<g class="' .. layer .. '" stroke-width="' .. (pen or ""), 1, true), layer)
    local n
    local behind = text:sub(from)
    behind, n = behind:gsub(pattern .. '="([%d.]+)"', function(v)
      return pattern .. '="' .. tonumber(v) + 3 .. '"'
    end, 1)
    if n == 0 then error("nothing to plant: " .. layer) end
    return page.read(text:sub(1, from - 1) .. behind)
  end
  -- Without the nth item of a layer that has a form; or with it twice.
  local function counted(path, layer, pattern, nth, by)
    local seen, text = 0, read(work .. "/" .. path .. ".svg")
    text = text:gsub('<g class="([^"]*)"([^>]*)>(.-)</g>', function(of, more, inside)
      if of ~= layer then return nil end
      inside = inside:gsub(pattern, function(item)
        seen = seen + 1
        return seen == nth and item:rep(by) or nil
      end)
      return '<g class="' .. of .. '"' .. more .. ">" .. inside .. "</g>"
    end)
    if seen < nth then error("nothing to plant: " .. layer .. " in " .. path) end
    return page.read(text)
  end
  local function box(wide, tall)                    -- a rectangle of such sides, as polygons are written
    return function(text)
      local xy = {}
      for v in text:match('points="([^"]*)"'):gmatch "[%d.]+" do xy[#xy + 1] = tonumber(v) end
      local left, right = math.min(xy[1], xy[3], xy[5]), math.max(xy[1], xy[3], xy[5])
      local top, low = math.min(xy[2], xy[4], xy[6]), math.max(xy[2], xy[4], xy[6])
      return #xy == 8 and math.abs(right - left - wide) < 0.01 and math.abs(low - top - tall) < 0.01
    end
  end
  -- Without the first, or with the first twice, of the polygons that are such boxes.
  local function boxes(path, layer, is_box, by)
    local text, done = read(work .. "/" .. path .. ".svg"), false
    text = text:gsub('<g class="' .. layer:gsub("%p", "%%%0") .. '"[^>]*>.-</g>', function(group)
      return (group:gsub("<polygon [^>]*/>", function(one)
        if done or not is_box(one) then return nil end
        done = true
        return one:rep(by)
      end))
    end)
    if not done then error("nothing to plant: a box of " .. path) end
    return page.read(text)
  end
  local function block(path, wide, tall)
    local ratio = page.read(read(work .. "/" .. path .. ".svg")).ratio
    return box(wide / ratio, tall / ratio)
  end
  local section = "egg-farm/C-301-trench"
  local splice, pencil = box(2.34, 1.3), box(5.2, 3.9)
  local egg, dairy = "egg-farm/S-102-array", "dairy/S-103-array"
  local plan, side = "unlike-stone-fold/drawn/S-103-plan.far", "unlike-stone-fold/drawn/S-203-side.far"
  for what, seen in pairs {
    ["a ray"] = not laws.light(moved("dairy-rows/S-205-rows", "G-ANNO-LGHT", "y2"), 90 - 47.68 - 23.44, "right", 2),
    ["a conduit"] = not laws.trench(moved(section, "E-COND", "cy"), 18 * IN, 6 * IN, 1.029 * IN, 1),
    ["a warning tape less"] = not laws.trench(counted(section, "E-COND", "<line [^>]*/>", 1, 0), 18 * IN,
        6 * IN, 1.029 * IN, 1),
    ["a conduit too many"] = not laws.trench(counted(section, "E-COND", "<circle [^>]*/>", 1, 2), 18 * IN,
        6 * IN, 1.029 * IN, 1),
    ["a bolt of a brace"] = not laws.brace(moved("deep-frost/S-201-side.west", "S-FRAM", "cx")),
    ["a brace less"] = not laws.brace(counted("deep-frost/S-201-side.west", "S-FRAM", "<circle [^>]*/>", 1, 0)),
    ["a splice less"] = page.boxes(boxes(dairy, "S-FRAM", splice, 0)) ~= 4,
    ["a splice too many"] = page.boxes(boxes(dairy, "S-FRAM", splice, 2)) ~= 4,
    ["a box for a pencil less"] = select(2, page.boxes(boxes(egg, "G-ANNO-TEXT", pencil, 0))) ~= 8,
    ["a box for a pencil too many"] = select(2, page.boxes(boxes(egg, "G-ANNO-TEXT", pencil, 2))) ~= 8,
    ["a diagonal that is not said"] = not laws.diagonals(counted("egg-farm/S-101-plan", "G-ANNO-TEXT",
        "<text [^>]*>159%-3/4 in</text>", 1, 0)),
    ["a clamp less"] = not laws.clamps(counted(egg, "E-MODL", "<circle [^>]*/>", 3, 0)),
    ["a module's number twice"] = not laws.modules(counted(egg, "G-ANNO-TEXT", "<text [^>]*>%d%-%d</text>", 1, 2)),
    ["a block less"] = not laws.blocks_on_plan(boxes(plan, "S-FNDN", block(plan, 800, 2600), 0)),
    ["a block from the side less"] = not laws.block_from_side(boxes(side, "S-FNDN", block(side, 2600, 500), 0)),
  } do try("planted: " .. what, seen) end
  -- A block under its posts 100 mm off.
  do
    local p = pages["stone-fold measured/S-103-plan.far"]
    local off = { texts = p.texts, polygons = p.polygons, ratio = p.ratio, circles = {} }
    for i, c in ipairs(p.circles) do off.circles[i] = setmetatable({ y = c.y + 100 / p.ratio }, { __index = c }) end
    try("planted: a block under its posts", not laws.blocks_on_plan(off))
  end
  -- Of a bedded trench a side, its bottom, the upper edge of its bedding and the tape 1 mm off.
  local function shifted(p, layer, pen, by)
    local lines, done = {}, false
    for i, l in ipairs(p.lines) do
      lines[i] = l
      local level = math.abs(l.y1 - l.y2) < 0.001
      if not done and l.layer == layer and l.pen == pen and level == (by == "y") then
        local one = { pen = l.pen, layer = l.layer, x1 = l.x1, x2 = l.x2, y1 = l.y1, y2 = l.y2 }
        one[by .. 1], one[by .. 2] = one[by .. 1] - 1, one[by .. 2] - 1
        lines[i], done = one, true
      end
    end
    if not done then error("nothing to plant: a line of " .. layer) end
    return { lines = lines, ratio = p.ratio, circles = p.circles }
  end
  local sand = pages["bedded/egg"]
  for what, find in pairs { ["the width of a trench"] = { 0.35, "x" }, ["the bottom of a trench"] = { 0.35, "y" },
      ["the edge of bedding"] = { 0.25, "y" } } do
    local off = shifted(sand, "C-GRAD", find[1], find[2])
    try("planted: " .. what, not laws.dug(off, 8 * IN, (18 + 1.029 + 4) * IN, 15 * IN))
  end
  try("planted: a warning tape", not laws.trench(shifted(sand, "E-COND", 0.5, "y"), 18 * IN, 6 * IN, 1.029 * IN, 1))
end

-- ---- in parts and in DXF -------------------------------------------------------------------------------------------

local function in_files(try, work)
  local part = read(work .. "/longer/S-101.2-plan.svg")
  try("planted: a mark of a part", #page.checks["dimensions are as long as they say"](page.read((part:gsub(
      ">(%d+)000 mm E<", function(n) return ">" .. n .. "010 mm E<" end, 1)))) > 0)
  local good = read(work .. "/egg-farm/S-201-side.dxf")
  local broken = {
    { "a layer", "\n  8\nS%-POST\n", "\n  8\nS-PILE\n" }, { "a line type", "\n  6\nHIDDEN\n 62", "\n  6\nGONE\n 62" },
    { "a number", "\n 40\n(%d)", "\n 40\nnan%1" }, { "EOF", "  0\nEOF\n", "" },
    { "SEQEND", "  0\nSEQEND\n  8\n[^\n]*\n", "" },
    { "ENDSEC", "  0\nENDSEC\n", "" }, { "an entity", "\n  0\nLINE\n", "\n  0\nSPLINE\n" },
    { "a pair", "\n 62\n", "\n" },
    { "a style", "\n  7\nLETTERS\n", "\n  7\nOTHERS\n" }, { "a byte", "top edge", "top \xFF edge" },
    { "the count of a table", "LAYER\n 70\n%d+", "LAYER\n 70\n3" }, { "a line end", "top edge", "top\nedge" },
  }
  for _, one in ipairs(broken) do
    local text, n = good:gsub(one[2], one[3], 1)
    if n == 0 then error("nothing to plant: " .. one[1]) end
    try("planted in DXF: " .. one[1], #dxf.read(text) > 0)
  end
end

-- try(what, ok); work: the folder with drawings of many jobs, by name; pages: those that were read, by name.
return function(try, work, pages)
  in_pages(try, work)
  in_views(try, work, pages)
  in_files(try, work)
end
