-- SPDX-License-Identifier: MIT
-- Rail and rafter marks: each piece with what sits on it, from an end of its own.
local document = import "write.document"
local measure = import "write.measure"
local util = import "model.util"
local marks = import "marks.marks"

local value = document.value

local function piece(d, p)
  local rows = {}
  for i, m in ipairs(p.marks) do
    rows[i] = { m.what, m.face, value(m.at, measure.mark), value(m.bay, measure.mark), document.tick }
  end
  rows[#rows + 1] = { p.other, "", value(p.length, measure.mark), value(p.rest, measure.mark), "" }
  d:table({ "mark", "face", { "from the " .. p.hooked, key = "from zero", right = true },
      { "from the one before", key = "bay", right = true }, "marked" }, rows)
  if p.uncut then
    d:para("not cut into pieces here: " .. host.message(p.uncut) .. (p.uncut.who and "; ask " .. p.uncut.who or ""),
        "unknown: ")
  end
  if p.without then
    local why = p.without[2]
    d:para("without the " .. p.without[1] .. ": " .. host.message(why) .. (why.who and "; ask " .. why.who or ""),
        "unknown: ")
  end
end

local function whole(d)
  d:para("Mark the end that is named, hook the tape there and pull every mark of a piece from it; never add up what " ..
      "lies between. Pieces that are alike are marked together, clamped side by side.")
  for _, group in ipairs(marks.racks()) do
    d:gap()
    d:subheading(marks.title(group))
    d:inside(function()
      if #group.between > 0 then
        d:warning(util.list(group.between) .. (#group.between == 1 and " lies" or " lie") ..
            " under no piece of a rail: the gap of an expansion joint is there. Ask before building on.")
      end
      for i, p in ipairs(group.pieces) do
        if i > 1 then d:gap() end
        d:para(marks.names(p) .. ", " .. measure.inches(p.length) .. " long:")
        piece(d, p)
      end
    end)
  end
end

return { name = "marks", title = "Rail and rafter marks", order = 72, build = true, crew = true, of = { "rack" },
    kinds = {}, rules = { "R16" }, whole = whole }
