-- SPDX-License-Identifier: MIT
-- What is sold of an item, and in which lengths it is had.
local record = import "model.record"
local run = import "model.run"
import "parts.files"
local stocks = {}

run.keep("offers", function() return {} end)             -- by item, of those that price lists have

local not_sold = { vendors = {}, by = {} }

-- What is sold of an item: { vendors, by = vendor -> rows, the shortest first, longest }, once for all variants, since
-- it rests on the price lists alone.
local function sold(item)
  local rows, known = run.prices.of[item], run.offers[item]
  if not rows then return not_sold end
  if known and known.rows == #rows then return known end
  known = { vendors = {}, by = {}, rows = #rows, longest = nil }
  local vendors, by = known.vendors, known.by
  for _, p in ipairs(rows) do
    if not by[p.vendor] then by[p.vendor] = {}; vendors[#vendors + 1] = p.vendor end
    local o = by[p.vendor]
    o[#o + 1] = p
    if p.length and (not known.longest or host.si(p.length) > host.si(known.longest)) then known.longest = p.length end
  end
  for _, v in ipairs(vendors) do
    table.sort(by[v], function(a, b)
      return (a.length and host.si(a.length) or 0) < (b.length and host.si(b.length) or 0)
    end)
  end
  run.offers[item] = known
  return known
end

local function longest_sold(item) return sold(item).longest end

-- Price of one piece, spool or thing as money; nil of what is priced by volume.
local function amount(p)
  if host.is(p.price, "money") then return p.price end
  return host.is(p.price, "money per length") and p.price * p.length or nil
end

-- The longest of an item that is sold, in hand or ordered; what is ordered counts alone, since it will be there. Where
-- no price list says lengths, the one that its own row has. Second: which of them it is.
function stocks.longest(item, own)
  local best, whose = longest_sold(item), "sold"
  if not best and own then best, whose = own, "made" end
  if #record.all "on_hand" + #record.all "order" > 0 then
    local stock = import "buying.stock"
    local there, where = stock.longest(item)
    if there and (stock.ordered(item) or not best or best < there) then best, whose = there, where end
  end
  if not best then
    host.raise { code = "D010", class = "missing", text = "no price list has stock lengths of " .. item,
        path = "prices: " .. item, who = "vendor", tool = "a quote" }
  end
  return best, whose
end

-- All lengths that an item is had in, the shortest first, and the least price of one of each, where each has one: what
-- is in hand has none. As for the longest, what is ordered counts alone.
function stocks.lengths(item, own)
  local by, list, prices, priced = {}, {}, {}, true
  local function put(length, price)
    local si = host.si(length)
    local at = by[si]
    if not at then
      at = { length = length, si = si }
      by[si], list[#list + 1] = at, at
    end
    if price and (not at.price or host.si(price) < host.si(at.price)) then at.price = price end
  end
  local stock = #record.all "on_hand" + #record.all "order" > 0 and import "buying.stock"
  local ordered, hand = stock and stock.ordered(item), stock and stock.hand(item)
  for _, s in ipairs { ordered or false, hand or false } do
    for _, l in ipairs(s and s.sticks or {}) do put(l) end
  end
  if not ordered then
    for _, p in ipairs(run.prices.of[item] or {}) do if p.length then put(p.length, amount(p)) end end
    if not longest_sold(item) and own then put(own) end
  end
  if #list == 0 then stocks.longest(item, own) end             -- says what is missing
  table.sort(list, function(a, b) return a.si < b.si end)
  local lengths = {}
  for i, at in ipairs(list) do
    lengths[i], priced = at.length, priced and at.price ~= nil
    prices[i] = at.price and host.quantity(host.si(at.price), "money")
  end
  return lengths, priced and prices or {}
end

stocks.of, stocks.longest_sold, stocks.amount = sold, longest_sold, amount

return stocks
