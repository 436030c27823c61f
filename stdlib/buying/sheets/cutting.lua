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
    rows[#rows + 1] = { value(s.number), value(s.stock), s.in_hand and "in hand" or "",
        table.concat(pieces, "; "), value(s.offcut, measure.inches) }
  end
  if #rows > 0 then
    d:table({ { "no.", right = true }, { "stock", right = true }, { "", key = "from" }, { "pieces", wrap = true },
        { "offcut", right = true } }, rows)
  end
end

-- How many pieces, and the longest of them.
local function longest_of(n)
  local longest
  for _, l in ipairs(n.pieces) do if not longest or longest < l then longest = l end end
  return #n.pieces .. (#n.pieces == 1 and " piece" or " pieces, the longest") .. " " .. (measure.inches(longest))
end

local function title(n)
  local plan = n.plan and n.plan.plan
  return n.item .. ": " .. longest_of(n) .. (plan and (plan.proven and ", the cheapest plan" or
      ", a good plan; a cheaper one may exist") or "")
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
      d:subheading(title(n))
      d:inside(planned, n)
    end
  end
  -- What no stick is there for, with the reason.
  local open = false
  for _, u in ipairs(order.unpriced) do
    if u.need.how == "pieces" or u.need.how == "unknown" and #u.need.labels > 0 then
      if not open then d:gap() end
      open = true
      d:inside(d.para, "No stock for " .. u.what .. ": " .. u.why)
    end
  end
end

return { name = "cutting", title = "Cut list", order = 70, of = { "rack", "run" }, build = true, crew = true,
    kinds = {}, rules = { "R16", "R29" }, whole = whole }
