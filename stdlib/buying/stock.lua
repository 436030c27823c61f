-- SPDX-License-Identifier: MIT
-- What is in hand and what is ordered, lot by lot, against the needs.
local record = import "model.record"
local memo = import "model.memo"
local stock = {}

-- item -> { count, sticks = { length ... } } of all records of a kind, and the lots as they stand, with their places.
local function gathered(kind)
  return memo.remember(record.inside[record.root], "lots " .. kind, function()
    local by, list = {}, {}
    for _, declared in ipairs(record.all(kind)) do
      for i = 1, #declared.lots do
        local lot = declared.lots[i]
        local item, amount, length = lot.item, lot.amount, record.given(lot, "length")
        local s = by[item] or { count = 0, sticks = {}, lots = {} }
        by[item] = s
        if length then for _ = 1, amount do s.sticks[#s.sticks + 1] = length end
        else s.count = s.count + amount end
        local told = { record = declared, at = i, item = item, amount = amount, length = length }
        s.lots[#s.lots + 1], list[#list + 1] = told, told
      end
    end
    return { by = by, list = list }
  end)
end

function stock.hand(item) return gathered "on_hand".by[item] end
function stock.ordered(item) return gathered "order".by[item] end

-- A lot is counted where the need is a count, and has a length where it is cut.
local function refuse(lot, text, help)
  local rec = record.inside[lot.record]
  local s = host.span(rec.source, rec.mark, rec.line, { lot.at })
  host.raise { code = "D006", text = record.title(rec.def, rec.name) .. ": " .. text, help = help,
      source = s.source, line = s.line, col = s.col, len = s.len }
end

local function check(s, n)
  for _, lot in ipairs(s and s.lots or {}) do
    local quoted = '"' .. lot.item .. '"'
    if n.how == "count" and not n.length and lot.length then
      refuse(lot, lot.item .. " is counted, and has no length here", "write { 6, " .. quoted .. " }")
    elseif (n.length or n.how ~= "count" and n.how ~= "unknown") and not lot.length then
      refuse(lot, lot.item .. (n.length and " comes in lengths" or " is cut to length") ..
          ": how long is each of the " .. lot.amount .. "?",
          "write { " .. lot.amount .. ", " .. quoted .. ", length = 16ft }, or the length alone for one piece")
    end
  end
end

-- What of it is of the one length that a need is for.
local function of_length(s, n)
  if not s or not n.length then return s end
  local count = 0
  for _, l in ipairs(s.sticks) do if host.near(host.si(l), host.si(n.length)) then count = count + 1 end end
  return { count = count, sticks = {}, lots = s.lots }
end

-- Gives each need what is in hand and what is ordered of it.
function stock.assign(list)
  for _, n in ipairs(list) do
    local hand, ordered = stock.hand(n.sold_as or n.item), stock.ordered(n.sold_as or n.item)
    check(hand, n)
    check(ordered, n)
    n.hand, n.ordered = of_length(hand, n), of_length(ordered, n)
  end
end

-- Lots that no need asks for: { kind, lot, near = what may have been meant } ...
function stock.idle(list)
  local wanted, names, out, known = {}, {}, {}, import("buying.names").known
  for _, n in ipairs(list) do
    local item = n.sold_as or n.item
    wanted[item], names[#names + 1] = true, item
  end
  for _, kind in ipairs { "on_hand", "order" } do
    for _, lot in ipairs(gathered(kind).list) do
      if not wanted[lot.item] then
        out[#out + 1] = { kind = kind, lot = lot, near = not known(lot.item) and host.nearest(lot.item, names) }
      end
    end
  end
  return out
end

-- The longest stick of an item that is in hand or ordered, and which of the two; nil where there is none.
function stock.longest(item)
  local best, whose
  for _, x in ipairs { { stock.ordered(item), "ordered" }, { stock.hand(item), "in hand" } } do
    for _, l in ipairs(x[1] and x[1].sticks or {}) do
      if not best or host.si(l) > host.si(best) then best, whose = l, x[2] end
    end
  end
  return best, whose
end

return stock
