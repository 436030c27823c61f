-- SPDX-License-Identifier: MIT
-- Drill list: which piece, which face, how far from its marked end, how wide, how many.
local record = import "model.record"
local document = import "write.document"
local words = import "write.words"
local measure = import "write.measure"
local marks = import "marks.marks"

local given, value = record.given, document.value

-- How wide, and what is to be asked where nobody said.
local function diameter(rack, drilled)
  local of = drilled == "bolt" and rack or drilled
  local name = drilled == "bolt" and "bolt_hole" or "hole"
  local v = given(of, name)
  if v then return value(v), nil end
  return document.of(of, name), drilled == "bolt" and "the diameter of the bolts' holes: write bolt_hole in " ..
      words.title(rack) or "the diameter for the clamp " .. of.name .. ": write its hole in the parts file"
end

local function whole(d)
  local total, open, told = 0, {}, {}
  d:para("Distances from the marked end of each piece, as on the sheet of the marks. Drill one piece, hold " ..
      "it up, and only then drill the others.")
  for _, group in ipairs(marks.racks()) do
    local rows = {}
    local function put(piece, m)
      local wide, why = diameter(group.racks[1], m.drilled)
      local count = piece.count * #group.racks
      total = total + count
      if why and not told[why] then
        told[why] = true
        open[#open + 1] = why
      end
      rows[#rows + 1] = { marks.names(piece) .. ", " .. piece.hooked, m.face, value(m.at, measure.mark), wide,
          value(count) }
    end
    for _, p in ipairs(group.pieces) do
      for _, m in ipairs(p.marks) do if m.drilled then put(p, m) end end
    end
    d:gap()
    d:subheading(marks.title(group))
    d:inside(d.table, { "part, marked end", "face", { "from there", key = "from the marked end", right = true },
        { "diameter", right = true }, { "holes", right = true } }, rows)
  end
  d:gap()
  d:para("In all " .. total .. " holes.")
  for _, why in ipairs(open) do d:para(why, "unknown: ") end
  d:para("An end clamp sits beyond the edge of its module by what its own drawing says: it is drilled for in place.")
end

return { name = "drill", title = "Drill list", order = 73, build = true, crew = true, of = { "rack" }, kinds = {},
    rules = { "R16" }, whole = whole }
