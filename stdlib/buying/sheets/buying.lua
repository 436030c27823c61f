-- SPDX-License-Identifier: MIT
-- Shopping list by vendor.
local record = import "model.record"
local words = import "write.words"
local util = import "model.util"

local function lines(order, vendor)
  local rows = {}
  for _, l in ipairs(order.lines) do
    if l.vendor == vendor then
      local of = l.offer.length and words.show(l.offer.length)
      local spare = l.need.needed and l.need.count > l.need.needed and "with " .. l.need.count - l.need.needed ..
          " spare" or ""
      rows[#rows + 1] = { tostring(l.count), l.item .. (of and ", " .. of or ""), words.show(l.each),
          words.show(l.total), l.offer.priced_on, spare }
    end
  end
  return rows
end

-- Habits of the house that the order was reckoned without.
local function without()
  local habits, absent = record.only "habits", {}
  for _, h in ipairs { { "saw_kerf", "a saw kerf" }, { "concrete_waste", "waste of concrete" }, { "spares", "spare parts" } } do
    if not habits or record.given(habits, h[1]) == nil then absent[#absent + 1] = h[2] end
  end
  return absent
end

local function body(p)
  local buying = import "buying.results"
  local order = buying.order()
  local names, totals = buying.by_vendor()
  for _, v in ipairs(names) do
    p:line("  " .. v)
    local rows = lines(order, v)
    rows[#rows + 1] = { "", "total", "", words.show(totals[v]), "", "" }
    p:table({ { "count", right = true }, { "item", wrap = true }, { "each", right = true }, { "line", right = true },
        "priced on", "" }, rows, "  ")
    p:blank()
  end
  if #order.lines > 0 then p:para("All that has a price: " .. words.show(record.root.total) ..
      ". Without tax, freight, permits or labour.", "  ") end
  local absent = without()
  if #absent > 0 then p:para("Caution: reckoned without " .. util.list(absent) ..
      ", since the house states none: the order may be short.", "  ") end
  if #order.unpriced > 0 then
    p:para("Without a price, and not in the total:", "  ")
    for _, u in ipairs(order.unpriced) do
      local n = u.need
      p:para((n.how == "count" and n.count .. " " or n.how == "unknown" and "" or #n.pieces .. " x ") .. n.item .. ": " .. u.why, "    ")
    end
  end
end

return { order = 80, of = { "rack", "run" },
  name = "buying", title = "Buying", kinds = {}, rules = { "R40", "R62", "R64", "R65" }, short = body,
    whole = body }
