-- SPDX-License-Identifier: MIT
-- Shopping list by vendor.
local record = import "model.record"
local document = import "write.document"
local words = import "write.words"
local util = import "model.util"

local value = document.value

local function lines(order, vendor, ticked)
  local rows = {}
  for _, l in ipairs(order.lines) do
    if l.vendor == vendor then
      local of = l.offer.length and words.show(l.offer.length)
      local spare = l.need.needed and l.need.count > l.need.needed and "with " .. l.need.count - l.need.needed ..
          " spare" or ""
      local row = { value(l.count), l.item .. (of and ", " .. of or ""), value(l.each), value(l.total),
          l.offer.priced_on, spare }
      if ticked then table.insert(row, 1, document.tick) end
      rows[#rows + 1] = row
    end
  end
  return rows
end

-- Habits of the house that the order was reckoned without.
local function without()
  local habits, absent = record.only "habits", {}
  for _, h in ipairs { { "saw_kerf", "a saw kerf" }, { "concrete_waste", "waste of concrete" },
      { "spares", "spare parts" } } do
    if not habits or record.given(habits, h[1]) == nil then absent[#absent + 1] = h[2] end
  end
  return absent
end

-- The order for programs, line by line.
local function facts(d, order)
  d:fact("order", function(as)
    local list = as.array {}
    for i, l in ipairs(order.lines) do
      list[i] = as.object { { "vendor", l.vendor }, { "item", l.item }, { "length", as.value(l.offer.length) },
          { "count", l.count }, { "each", as.value(l.each) }, { "line", as.value(l.total) },
          { "priced_on", l.offer.priced_on } }
    end
    return list
  end)
  d:fact("unpriced", function(as)
    local list = as.array {}
    for i, u in ipairs(order.unpriced) do
      list[i] = as.object { { "item", u.need.item }, { "why", u.why } }
    end
    return list
  end)
  if #order.lines > 0 then d:fact("total", function(as) return as.value(record.root.total) end) end
end

local function vendor(d, name, rows, total, ticked)
  d:subheading(name)
  local columns = { { "count", right = true }, { "item", wrap = true }, { "each", right = true },
      { "line", right = true }, "priced on", { "", key = "spare" } }
  local last = { "", "total", "", value(total), "", "" }
  if ticked then
    table.insert(columns, 1, { "got", key = "ticked off" })
    table.insert(last, 1, "")
  end
  rows[#rows + 1] = last
  d:table(columns, rows)
  d:gap()
end

-- In the report as it is; alone with a place to tick off what is in the truck.
local function body(d, ticked)
  local buying = import "buying.results"
  local order = buying.order()
  facts(d, order)
  local names, totals = buying.by_vendor()
  for _, v in ipairs(names) do vendor(d, v, lines(order, v, ticked), totals[v], ticked) end
  if #order.lines > 0 then
    d:para("All that has a price: " .. words.show(record.root.total) .. ". Without tax, freight, permits or labour.")
  end
  local absent = without()
  if #absent > 0 then
    d:para("Caution: reckoned without " .. util.list(absent) ..
        ", since the house states none: the order may be short.")
  end
  if #order.unpriced == 0 then return end
  d:para("Without a price, and not in the total:")
  for _, u in ipairs(order.unpriced) do
    local n = u.need
    local count = n.how == "count" and n.count .. " " or n.how == "unknown" and "" or #n.pieces .. " x "
    d:inside(d.para, count .. n.item .. ": " .. u.why)
  end
end

-- What is bought and has no price.
local function beside(row)
  local items = {}
  for i, u in ipairs(import("buying.results").order().unpriced) do items[i] = u.need.item end
  if #items > 0 then row("no price", table.concat(items, ", ")) end
end

return { name = "buying", title = "Buying", order = 80, of = { "rack", "run" }, kinds = {}, beside = beside,
    rules = { "R40", "R62", "R64", "R65" },
    facts = { { "order", { { "vendor", "text" }, { "item", "text" }, { "length", "value", optional = true },
        { "count", "count" }, { "each", "value" }, { "line", "value" }, { "priced_on", "text" } } },
      { "unpriced", { { "item", "text" }, { "why", "text" } } }, { "total", "value" } },
    short = function(d) body(d) end, whole = function(d) d:inside(body, true) end }
