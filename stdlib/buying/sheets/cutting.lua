-- SPDX-License-Identifier: MIT
-- Cut list: stock, pieces in order, kerf, offcut.
local record = import "model.record"
local document = import "write.document"
local words = import "write.words"
local measure = import "write.measure"
local cuts = import "buying.cuts"

local value = document.value

local function planned(d, need)
  local rows = {}
  for _, s in ipairs(cuts.sticks(need)) do
    local pieces = {}
    for i, x in ipairs(s.pieces) do pieces[i] = x.label .. " " .. measure.inches(x.length) end
    rows[#rows + 1] = { value(s.number), value(s.stock), table.concat(pieces, "; "), value(s.offcut, measure.inches) }
  end
  d:table({ { "no.", right = true }, { "stock", right = true }, { "pieces", wrap = true },
      { "offcut", right = true } }, rows)
end

local function whole(d)
  local order = import("buying.results").order()
  local habits = record.only "habits"
  local kerf = habits and record.given(habits, "saw_kerf")
  d:para("Each cut takes " .. (kerf and words.show(kerf) or
      "nothing: the house gives no saw_kerf, so the offcuts are too long") .. ". Pieces in the order of the stick. " ..
      "Lengths to the nearest " .. (words.metric() and "mm" or "1/8 in") ..
      ": measure the posts again from the holes as dug before cutting them.")
  for _, n in ipairs(order.needs) do
    if n.how == "pieces" then
      d:gap()
      if not n.plan then
        local longest = measure.inches(n.pieces[1])
        d:inside(d.para, n.item .. ": no price list has stock for all " .. #n.pieces .. " pieces; the longest is " ..
            longest)
      else
        d:subheading(n.item .. (n.plan.plan.proven and ", the cheapest plan" or
            ", a good plan; a cheaper one may exist"))
        d:inside(planned, n)
      end
    end
  end
end

return { name = "cutting", title = "Cut list", order = 70, of = { "rack", "run" }, build = true, kinds = {},
    rules = { "R16", "R29" }, whole = whole }
