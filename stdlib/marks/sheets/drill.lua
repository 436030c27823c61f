-- SPDX-License-Identifier: MIT
-- Drill list: which piece, which face, how far from its marked end, how wide, how many.
local record = import "model.record"
local document = import "write.document"
local words = import "write.words"
local measure = import "write.measure"
local util = import "model.util"
local marks = import "marks.marks"

local given, value = record.given, document.value

-- How wide, as a cell; what is to be asked where nobody said, and of which rack.
local function diameter(rack, drilled)
  local of, name = drilled, "hole"
  if drilled == "bolt" then of, name = rack, "bolt_hole" end
  local v = given(of, name)
  if v then return value(v) end
  if drilled == "bolt" then
    return document.of(of, name), "the diameter of the bolts' holes: write bolt_hole in ", words.title(rack)
  end
  return document.of(of, name), "the diameter for the clamp " .. of.name .. ": write its hole in the parts file", ""
end

-- What is missing, each once: { text, { racks } }.
local function missing()
  local list, by = {}, {}
  return list, function(text, of)
    if not by[text] then
      by[text] = { text, {}, seen = {} }
      list[#list + 1] = by[text]
    end
    local m = by[text]
    if not m.seen[of] then
      m.seen[of] = true
      table.insert(m[2], of)
    end
  end
end

local function whole(d)
  local total = 0
  local open, lacks = missing()
  d:para("Distances from the marked end of each piece, as on the sheet of the marks. Drill one piece, hold " ..
      "it up, and only then drill the others.")
  for _, group in ipairs(marks.racks()) do
    local rows = {}
    local function put(piece, m)
      local wide, why, of = diameter(group.racks[1], m.drilled)
      local count = piece.count * #group.racks
      total = total + count
      if why then lacks(why, of) end
      rows[#rows + 1] = { marks.names(piece) .. ", " .. piece.hooked, m.face, value(m.at, measure.mark), wide,
          value(count) }
    end
    for _, p in ipairs(group.pieces) do
      if p.without then lacks("where the " .. p.without[1] .. " lie: " .. host.message(p.without[2]), "") end
      for _, m in ipairs(p.marks) do if m.drilled then put(p, m) end end
    end
    d:gap()
    d:subheading(marks.title(group))
    d:inside(d.table, { "part, marked end", "face", { "from there", key = "from the marked end", right = true },
        { "diameter", right = true }, { "holes", right = true } }, rows)
  end
  d:gap()
  d:para("In all " .. total .. " holes.")
  for _, m in ipairs(open) do d:para(m[1] .. util.list(m[2]), "unknown: ") end
  d:para("An end clamp sits beyond the edge of its module by what its own drawing says: it is drilled for in place.")
end

return { name = "drill", title = "Drill list", order = 73, build = true, crew = true, of = { "rack" }, kinds = {},
    rules = { "R16", "R18", "R20", "R21" }, whole = whole }
