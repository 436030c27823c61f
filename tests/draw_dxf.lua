-- SPDX-License-Identifier: MIT
-- A strict reader of DXF of release 12: pairs, sections in their order, names that are declared, finite numbers.
local dxf = {}

local known = { LINE = true, CIRCLE = true, ARC = true, TEXT = true, POLYLINE = true, VERTEX = true, SEQEND = true,
                SOLID = true }
local wants = { LINE = { 8, 10, 20, 11, 21 }, CIRCLE = { 8, 10, 20, 40 }, ARC = { 8, 10, 20, 40, 50, 51 },
                TEXT = { 8, 10, 20, 40, 1, 7 }, POLYLINE = { 8, 66, 70 }, VERTEX = { 8, 10, 20 }, SEQEND = { 8 },
                SOLID = { 8, 10, 20, 11, 21, 12, 22, 13, 23 } }

local function number_of(text)
  local n = text:match "^%-?%d+%.?%d*$" and tonumber(text)
  return n and n == n and math.abs(n) < 1e12 and n or nil
end

-- The letters of a value: control codes and \U+ read.
function dxf.plain(value)
  value = value:gsub("%%%%([dpc%%])", function(c)
    return ({ d = "\u{B0}", p = "\u{B1}", c = "\u{D8}", ["%"] = "%" })[c]
  end)
  return (value:gsub("\\U%+(%x%x%x%x)", function(hex) return utf8.char(tonumber(hex, 16)) end):gsub("%^ ", "^"))
end

-- { complaints }, and what it holds: { texts = { ... }, counts = { LINE = n ... }, entities = { ... } }
function dxf.read(text)
  local bad, pairs_of, line = {}, {}, 0
  local function complain(...) bad[#bad + 1] = table.concat { ... } end
  if text:find "\r" then complain "a carriage return" end
  if text:find "[\128-\255]" then complain "a byte outside of ASCII" end
  local lines = {}
  for one in text:gmatch "([^\n]*)\n" do lines[#lines + 1] = one end
  if not text:find "\n$" or #lines % 2 == 1 then complain "lines do not come in pairs" end
  for i = 1, #lines - 1, 2 do
    line = i
    local code = lines[i]:match "^ *(%d+)$"
    if not code then
      complain("line ", line, ": no code: ", lines[i])
      break
    end
    pairs_of[#pairs_of + 1] = { tonumber(code), lines[i + 1] }
  end
  for _, p in ipairs(pairs_of) do
    local c = p[1]
    if (c >= 10 and c < 60) and not number_of(p[2]) then complain("code ", c, ": no number: ", p[2]) end
    if c >= 60 and c < 80 and not p[2]:match "^%-?%d+$" then complain("code ", c, ": no whole number: ", p[2]) end
    if #p[2] > 255 then complain("a value of ", #p[2], " bytes") end
  end
  -- sections
  local sections, order, inside = {}, {}, nil
  local at_name                        -- of the pair behind SECTION, which names it
  for i, p in ipairs(pairs_of) do
    if i == at_name then goto next end
    if p[1] == 0 and p[2] == "SECTION" then
      at_name = i + 1
      if inside then complain "a section in a section" end
      inside = pairs_of[i + 1] and pairs_of[i + 1][1] == 2 and pairs_of[i + 1][2]
      order[#order + 1], sections[inside or ""] = inside, {}
    elseif p[1] == 0 and p[2] == "ENDSEC" then
      if not inside then complain "an end without a section" end
      inside = nil
    elseif inside then table.insert(sections[inside], p) end
    ::next::
  end
  if inside then complain "a section that does not end" end
  local all = table.concat(order, " ")
  if all ~= "HEADER TABLES BLOCKS ENTITIES" then complain("sections: ", all) end
  local last = pairs_of[#pairs_of]
  if not last or last[1] ~= 0 or last[2] ~= "EOF" then complain "no EOF" end
  -- names
  local names, in_table, counted, announced = { LTYPE = {}, LAYER = {}, STYLE = {} }, nil, 0, 0
  local list = sections.TABLES or {}
  for i, p in ipairs(list) do
    if p[1] == 0 and p[2] == "TABLE" then
      in_table, counted = list[i + 1][2], 0
      announced = tonumber(list[i + 2] and list[i + 2][2])
    elseif p[1] == 0 and p[2] == "ENDTAB" then
      if counted ~= announced then complain("table ", in_table, ": ", counted, " of ", announced) end
      in_table = nil
    elseif p[1] == 0 and names[p[2]] then
      if p[2] ~= in_table then complain(p[2], " in the table ", in_table or "none") end
      counted = counted + 1
      names[p[2]][list[i + 1][2]] = true
    end
  end
  -- entities
  local entities, open = {}, false
  for _, p in ipairs(sections.ENTITIES or {}) do
    if p[1] == 0 then entities[#entities + 1] = { kind = p[2] }
    elseif #entities == 0 then complain "a value before the first entity"
    else
      local e = entities[#entities]
      if e[p[1]] then complain(e.kind, ": twice the code ", p[1]) end
      e[p[1]] = p[2]
    end
  end
  local counts, texts = {}, {}
  for _, e in ipairs(entities) do
    counts[e.kind] = (counts[e.kind] or 0) + 1
    if not known[e.kind] then complain("no entity of release 12 that is meant: ", e.kind) end
    for _, code in ipairs(wants[e.kind] or {}) do if not e[code] then complain(e.kind, " lacks ", code) end end
    if e[8] and not names.LAYER[e[8]] then complain("a layer that is not declared: ", e[8]) end
    if e[6] and not names.LTYPE[e[6]] then complain("a line type that is not declared: ", e[6]) end
    if e[7] and not names.STYLE[e[7]] then complain("a style that is not declared: ", e[7]) end
    if e[40] and not (number_of(e[40]) and number_of(e[40]) > 0) then complain(e.kind, " of size ", e[40]) end
    if e[72] and not e[11] then complain "a text without its second place" end
    if e.kind == "POLYLINE" then
      if open then complain "a polyline in a polyline" end
      open = true
    elseif e.kind == "SEQEND" then open = false
    elseif (e.kind == "VERTEX") ~= open then complain(e.kind, open and " within a polyline" or " outside of one") end
    if e[1] then texts[#texts + 1] = dxf.plain(e[1]) end
  end
  if open then complain "a polyline without its end" end
  return bad, { texts = texts, counts = counts, entities = entities }
end

return dxf
