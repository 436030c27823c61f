-- SPDX-License-Identifier: MIT
-- Shopping list by vendor, with what is in hand, what is ordered, and what the list does not count.
local record = import "model.record"
local document = import "write.document"
local words = import "write.words"
local util = import "model.util"

local value = document.value

-- How long that is which nobody sells yet, as a vendor will ask: the longest piece, or of conduit all of it.
local function how_long(n)
  if n.longest or not n.left or #n.left == 0 then return "" end
  if n.how == "conduit" then return ", " .. words.show(host.like(n.pieces[1], n.rest)) .. " in all" end
  local longest = n.pieces[n.left[1]]
  for _, i in ipairs(n.left) do
    if n.pieces[i] > longest then longest = n.pieces[i] end
  end
  return (#n.left == 1 and ", " or ", the longest ") .. words.show(longest)
end

local function lines(order, vendor, ticked)
  local rows, boxed = {}, import("buying.results").boxed
  for _, l in ipairs(order.lines) do
    if l.vendor == vendor then
      local of = l.volume or l.offer.length
      of = of and words.show(of) or boxed(l)
      local n = l.need
      local notes = {}
      if n.count > n.needed then notes[1] = "with " .. n.count - n.needed .. " spare" end
      if n.ordered then notes[#notes + 1] = "ordered" end
      local row = { value(l.count), l.item .. (of and ", " .. of or ""), value(l.each), value(l.total),
          l.offer.priced_on, table.concat(notes, ", ") }
      if ticked then table.insert(row, 1, document.tick) end
      rows[#rows + 1] = row
    end
  end
  return rows
end

local function pours()
  for _, r in ipairs(record.all "rack") do if #import("structure.feet").holes(r) > 0 then return true end end
  return false
end

-- Habits of the house that the order was reckoned without, where it would ask for them.
local function without()
  local habits, absent = record.only "habits", {}
  for _, h in ipairs { { "saw_kerf", "a saw kerf" }, { "concrete_waste", "waste of concrete", pours },
      { "spares", "spare parts" } } do
    if (not habits or record.given(habits, h[1]) == nil) and (not h[3] or h[3]()) then absent[#absent + 1] = h[2] end
  end
  return absent
end

-- Whether all that a row is about is counted by the joints that are declared.
local function is_counted(row) return row.of_joints == 1 and import("joints.bought").has_all() end

-- What a job like this needs and nothing here counts.
local function uncounted()
  local list = {}
  for _, row in ipairs(host.table "uncounted") do
    if #record.all(row.key) > 0 and not is_counted(row) then list[#list + 1] = row.name end
  end
  return list
end

-- The order for programs, line by line.
local function facts(d, order)
  d:fact("order", function(as)
    local list = as.array {}
    for i, l in ipairs(order.lines) do
      list[i] = as.object { { "vendor", l.vendor }, { "item", l.item },
          { "length", not l.volume and as.value(l.offer.length) or nil }, { "volume", as.value(l.volume) },
          { "box", l.offer.box }, { "count", l.count }, { "each", as.value(l.each) }, { "line", as.value(l.total) },
          { "priced_on", l.offer.priced_on } }
    end
    return list
  end)
  d:fact("unpriced", function(as)
    local list = as.array {}
    for i, u in ipairs(order.unpriced) do
      list[i] = as.object { { "item", u.need.item }, { "what", u.what }, { "why", u.why } }
    end
    return list
  end)
  d:fact("uncounted", function(as)
    local list = as.array {}
    for i, item in ipairs(uncounted()) do list[i] = as.object { { "item", item } } end
    return list
  end)
  if #order.lines > 0 then d:fact("total", function(as) return as.value(record.root.total) end) end
end

local function vendor(d, name, rows, total, ticked)
  d:subheading(name)
  local columns = { { "count", right = true }, { "item", wrap = true }, { "each", right = true },
      { "line", right = true }, "priced on", { "", key = "note" } }
  local last = { "", "total", "", value(total), "", "" }
  if ticked then
    table.insert(columns, 1, { "got", key = "ticked off" })
    table.insert(last, 1, "")
  end
  rows[#rows + 1] = last
  d:table(columns, rows)
  d:gap()
end

-- ---- declared ------------------------------------------------------------------------------------------------------

local function lot_words(lot)
  if not lot.length then return lot.amount .. " " .. lot.item end
  return (lot.amount > 1 and lot.amount .. " x " or "") .. words.show(lot.length) .. " " .. lot.item
end

local function use_of(n)
  if n.how == "count" then return n.from_hand .. " of " .. n.count .. " wanted" end
  if not n.hand_plan then return n.met and "enough" or "part of what is wanted" end
  local cuts, all = n.hand_plan.count, #n.pieces
  if cuts == 0 then return "too short for any piece" end
  return cuts .. " of " .. all .. (all == 1 and " piece is" or " pieces are") .. " cut from it"
end

-- What is in hand, and what of the need comes out of it.
local function in_hand(d, order)
  local hand = record.only "on_hand"
  if not hand then return end
  local counted = record.given(hand, "counted_on")
  local rows = {}
  for _, n in ipairs(order.needs) do
    if n.hand then
      local there = {}
      for i, lot in ipairs(n.hand.lots) do there[i] = lot_words(lot) end
      rows[#rows + 1] = { table.concat(there, ", "), use_of(n) }
    end
  end
  if #rows == 0 then return end
  d:subheading("In hand" .. (counted and ", counted on " .. counted or "") .. ": not to be bought")
  d:table({ { "in hand", wrap = true }, { "", key = "use", wrap = true } }, rows)
  d:gap()
end

-- What is ordered, against the need.
local function ordered(d, order)
  local buying = import "buying.results"
  for _, o in ipairs(record.all "order") do
    local rows, seen = {}, {}
    for i = 1, #o.lots do
      local item = o.lots[i].item
      for _, n in ipairs(order.needs) do
        if (n.sold_as or n.item) == item and not seen[n] then
          seen[n] = true
          local ok, have, wanted = pcall(buying.covered, n)
          if not ok and not host.class(have) then error(have, 0) end
          local why = n.why or not ok and have
          rows[#rows + 1] = why and { n.item, "", "unknown", (host.message(why)) } or { n.item, value(have),
              value(wanted), have < wanted and "SHORT" or "" }
        end
      end
    end
    d:subheading("Ordered of " .. o.vendor)
    d:table({ { "item", wrap = true }, { "ordered and in hand", right = true }, { "needed", right = true },
        { "", key = "short", wrap = true } }, rows)
    d:gap()
  end
end

local function trucks(d)
  for _, t in ipairs(record.all "truck") do
    d:para("Ordered of " .. t.vendor .. ": " .. words.show(t.volume) .. " of ready-mixed concrete, in place of bags." ..
        (record.given(t, "full_load") and "" or " Whether a load so small is charged for is not said (full_load)."))
  end
end

local function idle(d, order)
  for _, x in ipairs(order.idle) do
    d:para((x.kind == "order" and "Ordered, " or "In hand, ") .. "and not needed by what is counted here: " ..
        lot_words(x.lot) .. (x.near and " (did you mean " .. x.near .. "?)" or "") .. ".")
  end
end

-- In the report as it is; alone with a place to tick off what is in the truck.
local function body(d, ticked)
  local buying = import "buying.results"
  local order = buying.order()
  facts(d, order)
  local names, totals = buying.by_vendor()
  for _, v in ipairs(names) do vendor(d, v, lines(order, v, ticked), totals[v], ticked) end
  in_hand(d, order)
  ordered(d, order)
  trucks(d)
  idle(d, order)
  if #order.lines > 0 then
    d:para("All that has a price: " .. words.show(record.root.total) .. ". Without tax, freight, permits or labour.")
  end
  local absent = without()
  if #absent > 0 then
    d:para("Caution: reckoned without " .. util.list(absent) ..
        ", since the house states none: the order may be short.")
  end
  if #order.unpriced > 0 then
    d:para("Without a price, and not in the total:")
    for _, u in ipairs(order.unpriced) do d:inside(d.para, u.what .. how_long(u.need) .. ": " .. u.why) end
  end
  d:para("Not counted by this list: " .. table.concat(uncounted(), "; ") .. ".")
end

-- What is bought and has no price; the parts of a joint as one, since the list has each.
local function beside(row)
  local items, met = {}, {}
  for _, u in ipairs(import("buying.results").order().unpriced) do
    local group = u.need.group
    if not (group and met[group]) then items[#items + 1] = group or u.what end
    if group then met[group] = true end
  end
  if #items > 0 then row("no price", table.concat(items, ", ")) end
end

return { name = "buying", title = "Buying", order = 80, of = { "rack", "run" }, kinds = {}, beside = beside,
    rules = { "R40", "R62", "R64", "R65", "R78" },
    changes = "buying.changes",
    facts = { { "order", { { "vendor", "text" }, { "item", "text" }, { "length", "value", optional = true },
        { "volume", "value", optional = true }, { "box", "count", optional = true }, { "count", "count" },
        { "each", "value" }, { "line", "value" }, { "priced_on", "text" } } },
      { "unpriced", { { "item", "text" }, { "what", "text" }, { "why", "text" } } },
      { "uncounted", { { "item", "text" } } }, { "total", "value" } },
    short = function(d) body(d) end, whole = function(d) d:inside(body, true) end }
