-- SPDX-License-Identifier: MIT
-- What a change of the job means for the order: prices, pieces and cuts, and what is bought already.
local record = import "model.record"
local snapshot = import "model.snapshot"
local difference = import "model.difference"
local buying = import "buying.results"
local measure = import "write.measure"
local words = import "write.words"
local changes = { tells = { "on_hand", "order" } }

changes.shape = { one = true,
  { "lines", { { "vendor", "text" }, { "item", "text" }, { "of", "text" }, { "count", "count" },
      { "each", "amount" }, { "total", "amount" } } },
  { "unpriced", { { "item", "text" }, { "what", "text" }, { "why", "text" } } },
  { "needs", { { "item", "text" }, { "how", "text" }, { "count", "count" }, { "text", "text" },
      { "pieces", { { "label", "text" }, { "length", "number" } } } } },
  { "stock", { { "kind", "text" }, { "item", "text" }, { "lots", "text" }, { "use", "text" } } },
}

-- ---- as plain data -------------------------------------------------------------------------------------------------

-- What a need comes to, in words.
local function need_text(n)
  if n.how == "count" then return tostring(n.count) end
  if n.how == "volume" then return words.show(n.volume) end
  if n.how == "unknown" then return "unknown" end
  local longest
  for _, l in ipairs(n.pieces) do if not longest or longest < l then longest = l end end
  return #n.pieces .. (#n.pieces == 1 and " of " or ", the longest ") .. (n.how == "pieces" and measure.inches(longest)
      or measure.wire(longest))
end

local function lots_text(lots)
  local list = {}
  for i, lot in ipairs(lots) do
    list[i] = not lot.length and tostring(lot.amount) or
        (lot.amount > 1 and lot.amount .. " x " or "") .. words.show(lot.length)
  end
  return table.concat(list, ", ")
end

-- What becomes of a lot that is there.
local function use_of(n, stock)
  if n.how == "count" then
    local over = stock.count - n.count
    return over > 0 and over .. " over" or over < 0 and -over .. " short" or "all of it is used"
  end
  if n.how == "pieces" or n.how == "wire" then
    local ok, have, wanted = pcall(buying.there, n, stock)
    if not ok then
      if not host.class(have) then error(have, 0) end
      return host.message(have)
    end
    return have .. " of " .. wanted .. (wanted == 1 and " piece comes" or " pieces come") .. " out of it"
  end
  return ""
end

local function stock_of(order)
  local list = {}
  for _, n in ipairs(order.needs) do
    for _, x in ipairs { { "in hand", n.hand }, { "ordered", n.ordered } } do
      if x[2] then
        list[#list + 1] = { kind = x[1], item = n.item, lots = lots_text(x[2].lots), use = use_of(n, x[2]) }
      end
    end
  end
  for _, x in ipairs(order.idle) do
    list[#list + 1] = { kind = x.kind == "order" and "ordered" or "in hand", item = x.lot.item,
        lots = lots_text { x.lot }, use = "not needed" }
  end
  return list
end

function changes.keep()
  local kept = { lines = {}, unpriced = {}, needs = {}, stock = {} }
  if #record.all "rack" + #record.all "run" == 0 then return kept end
  local order = buying.order()
  for i, l in ipairs(order.lines) do
    local of = l.volume or l.offer.length
    kept.lines[i] = { vendor = l.vendor, item = l.item, of = of and words.show(of) or buying.boxed(l) or "",
        count = l.count, each = snapshot.amount(l.each), total = snapshot.amount(l.total) }
  end
  for i, u in ipairs(order.unpriced) do kept.unpriced[i] = { item = u.need.item, what = u.what, why = u.why } end
  for i, n in ipairs(order.needs) do
    local pieces = {}
    for k, l in ipairs(n.pieces) do pieces[k] = { label = n.labels[k] or "", length = host.si(l) } end
    kept.needs[i] = { item = n.item, how = n.how, count = n.count, text = need_text(n), pieces = pieces }
  end
  kept.stock = stock_of(order)
  return kept
end

-- ---- whole lengths --------------------------------------------------------------------------------------------------

-- "3 x 8 ft for 3 of 6 pieces, 3 x 12 ft for 3 of 6 pieces": which stock the pieces of a need are cut from.
local function from_stock(n)
  local by, order = {}, {}
  for _, s in ipairs(import("buying.cuts").sticks(n)) do
    local text = words.show(s.stock) .. (s.in_hand and " in hand" or "")
    if not by[text] then
      by[text] = { pieces = 0, sticks = 0 }
      order[#order + 1] = text
    end
    by[text].pieces, by[text].sticks = by[text].pieces + #s.pieces, by[text].sticks + 1
  end
  for i, text in ipairs(order) do
    local of = by[text]
    order[i] = of.sticks .. " x " .. text .. " for " .. (#order > 1 and of.pieces .. " of " or "") .. #n.pieces ..
        (n.how == "wire" and " cut" or " piece") .. (#n.pieces == 1 and "" or "s")
  end
  return table.concat(order, ", ")
end

-- What the order has in whole pieces, need by need, so that jumps are seen, and what has no price: { { item, text } ...
-- }.
function changes.bought()
  local list = {}
  if #record.all "rack" + #record.all "run" == 0 then return list end
  for _, n in ipairs(buying.order().needs) do
    local text
    if n.how == "pieces" or n.how == "wire" then text = n.plan and from_stock(n)
    elseif n.how == "count" then text = n.to_buy and n.to_buy > 0 and tostring(n.to_buy)
    elseif n.how == "conduit" and n.plan then
      local l = n.plan.lines[1]
      text = l.count .. " x " .. words.show(l.offer.length)
    end
    if text then list[#list + 1] = { item = n.item, text = text } end
  end
  for _, u in ipairs(buying.order().unpriced) do
    list[#list + 1] = { item = u.need.item, text = u.what .. ", without a price" }
  end
  return list
end

-- ---- money, to the cent --------------------------------------------------------------------------------------------

local cents = difference.cents

-- How the money of these lines prints: its currency and a text of it; nil and why where there is none, or two.
local function money_of(...)
  local dim, text
  for _, kept in ipairs { ... } do
    for _, l in ipairs(kept.lines) do
      if dim and dim ~= l.total.dim then return nil, "the two are priced in different currencies" end
      dim, text = l.total.dim, l.total.text
    end
  end
  if not dim then return nil, "nothing has a price" end
  return { dim = dim, text = text }
end

-- $12.50 as its own prices print.
local function shown(money, c)
  return (string.gsub(money.text, "[%d.]+", string.format("%.2f", math.abs(c) / 100), 1))
end

local function cell(money, c) return { text = shown(money, c), value = c / 100, unit = money.dim:match "%S+$" } end

local function by_how_much(money, c)
  local out = cell(money, c)
  out.text = c == 0 and "the same" or out.text .. (c > 0 and " more" or " less")
  return out
end

local function sums(lines)
  local all, by, order = 0, {}, {}
  for _, l in ipairs(lines) do
    local c = cents(l.total.si)
    if not by[l.vendor] then by[l.vendor], order[#order + 1] = 0, l.vendor end
    all, by[l.vendor] = all + c, by[l.vendor] + c
  end
  return all, by, order
end

-- ---- cost ----------------------------------------------------------------------------------------------------------

local function line_key(l) return table.concat({ l.vendor, l.item, l.of }, "\0") end
local function named(l) return l.item .. (l.of ~= "" and ", " .. l.of or "") end

-- { vendor, item, was, is } of each line that is another: lines of the order or nil.
local function other_lines(a, b)
  local by, list = difference.by_key(a.lines, b.lines, line_key), {}
  for _, x in ipairs(by.both) do
    if x.was.count ~= x.is.count or not difference.same(x.was.each, x.is.each) then list[#list + 1] = x end
  end
  for _, l in ipairs(by.gone) do list[#list + 1] = { was = l } end
  for _, l in ipairs(by.new) do list[#list + 1] = { is = l } end
  return list
end

local function total_rows(money, a, b)
  local was, was_by, vendors = sums(a.lines)
  local is, is_by, more = sums(b.lines)
  local rows = {}
  local function add(label, x, y)
    rows[#rows + 1] = { label, "", "", cell(money, x), cell(money, y), by_how_much(money, y - x) }
  end
  for _, v in ipairs(more) do if not was_by[v] then vendors[#vendors + 1] = v end end
  for _, v in ipairs(vendors) do
    if (was_by[v] or 0) ~= (is_by[v] or 0) then add("all of " .. v, was_by[v] or 0, is_by[v] or 0) end
  end
  add("all that has a price", was, is)
  return rows, was, is
end

-- Whether one of the two says that something is there of which the other knows nothing.
local function stock_differs(a, b)
  if #a.stock ~= #b.stock then return true end
  for i, s in ipairs(a.stock) do
    local other = b.stock[i]
    if s.kind ~= other.kind or s.item ~= other.item or s.lots ~= other.lots then return true end
  end
  return false
end

-- What changes and has no price in either job: a difference that no sum has.
local function in_no_sum(d, both)
  for _, x in ipairs(both) do
    if x.was.what ~= x.is.what then
      d:warning("In no sum: " .. x.is.what .. " (then: " .. x.was.what .. "): " .. x.is.why .. ".")
    end
  end
end

local function cost(d, a, b)
  local lines = other_lines(a, b)
  local money, why = money_of(a, b)
  local open = difference.by_key(a.unpriced, b.unpriced, function(u) return u.item end)
  if #lines + #open.new + #open.gone == 0 then
    if money then
      local all = sums(b.lines)
      d:gap()
      d:para("Cost: no line of the order changes; all that has a price: " .. shown(money, all) .. ".")
    end
    in_no_sum(d, open.both)
    return
  end
  d:heading("Cost")
  if not money then d:para("No difference in cost is told: " .. why .. ".")
  elseif #lines > 0 then
    local rows = {}
    for i, x in ipairs(lines) do
      local l, was, is = x.is or x.was, x.was and cents(x.was.total.si) or 0, x.is and cents(x.is.total.si) or 0
      local each = x.was and x.is and not difference.same(x.was.each, x.is.each) and
          ": each " .. x.was.each.text .. " then, " .. x.is.each.text .. " now" or ""
      rows[i] = { named(l) .. ", " .. l.vendor .. each, tostring(x.was and x.was.count or 0),
          tostring(x.is and x.is.count or 0), x.was and cell(money, was) or "", x.is and cell(money, is) or "",
          by_how_much(money, is - was) }
    end
    local more, was, is = total_rows(money, a, b)
    table.move(more, 1, #more, #rows + 1, rows)
    d:table({ { "order line", wrap = true }, { "count then", right = true },
        { "now", key = "count now", right = true }, { "cost then", right = true },
        { "now", key = "cost now", right = true }, { "difference", right = true } }, rows)
    d:fact("cost", function(as)
      return as.object { { "currency", money.dim:match "%S+$" }, { "was_cents", was },
          { "is_cents", is }, { "difference_cents", is - was } }
    end)
  end
  for _, u in ipairs(open.new) do d:para(u.what .. ": " .. u.why, "not in the sums now: ") end
  in_no_sum(d, open.both)
  for _, u in ipairs(open.gone) do d:para(u.what, "no longer without a price: ") end
  if money and stock_differs(a, b) then
    d:warning("What is in hand or ordered is not in the sums, and the two jobs do not name the same: not all of the " ..
        "difference is more to pay, or saved.")
  end
  if money then d:para("Without tax, freight, permits or labour, or a price for the change itself.") end
end

-- ---- pieces --------------------------------------------------------------------------------------------------------

-- Pieces of two cut lists that are no more the same, taken away one by one: first those of one name and length, then
-- those of one length.
local function unlike(a, b)
  local function take(list, key)
    local of = {}
    for i, p in ipairs(list) do
      local k = key(p)
      of[k] = of[k] or {}
      table.insert(of[k], i)
    end
    return of
  end
  local function without(x, y, key)
    local of, met, left = take(x, key), {}, {}
    for _, p in ipairs(y) do
      local at = of[key(p)]
      if at and at[1] then met[table.remove(at, 1)] = true else left[#left + 1] = p end
    end
    local rest = {}
    for i, p in ipairs(x) do if not met[i] then rest[#rest + 1] = p end end
    return rest, left
  end
  local function length(p) return string.format("%.7f", p.length) end
  a, b = without(a, b, function(p) return p.label .. "\0" .. length(p) end)
  return without(a, b, length)
end

local function span(low, high, how)
  local function text(x)
    local by = host.quantity(math.abs(x), "length")
    return (x < 0 and "-" or "+") .. (how == "pieces" and measure.inches(by) or measure.wire(by))
  end
  return text(low) == text(high) and text(low) .. " each" or text(low) .. " to " .. text(high)
end

-- { more, fewer, other, low, high }: how many pieces more or fewer, how many are of another length, and by how much.
function changes.pieces(a, b)
  a, b = unlike(a, b)
  local by = difference.by_key(a, b, function(p) return p.label end)
  local out = { other = #by.both, more = math.max(#by.new - #by.gone, 0), fewer = math.max(#by.gone - #by.new, 0) }
  local function other(was, is)
    local x = is.length - was.length
    out.low, out.high = math.min(out.low or x, x), math.max(out.high or x, x)
  end
  for _, x in ipairs(by.both) do other(x.was, x.is) end
  for i = 1, math.min(#by.gone, #by.new) do
    other(by.gone[i], by.new[i])
    out.other = out.other + 1
  end
  return out
end

local function piece_words(was, is)
  local p, list = changes.pieces(was.pieces, is.pieces), {}
  if p.more > 0 then list[#list + 1] = p.more .. " more" end
  if p.fewer > 0 then list[#list + 1] = p.fewer .. " fewer" end
  if p.other > 0 then list[#list + 1] = p.other .. " of another length, " .. span(p.low, p.high, is.how) end
  return table.concat(list, "; ")
end

local function need_key(n) return n.item end

local function needs(d, a, b)
  local by, rows = difference.by_key(a.needs, b.needs, need_key), {}
  local function add(n, was, is, what) rows[#rows + 1] = { n.item, was, is, what } end
  for _, x in ipairs(by.both) do
    if not difference.alike(x.was.pieces, x.is.pieces) or x.was.count ~= x.is.count or x.was.how ~= x.is.how then
      local more = x.is.count - x.was.count
      local counted = x.was.how == "count" and x.is.how == "count"
      local what = counted and (more > 0 and more .. " more" or -more .. " fewer") or
          x.was.how == x.is.how and piece_words(x.was, x.is) or ""
      if what ~= "" or x.was.text ~= x.is.text then add(x.is, x.was.text, x.is.text, what) end
    elseif x.was.text ~= x.is.text then add(x.is, x.was.text, x.is.text, "") end
  end
  for _, n in ipairs(by.gone) do add(n, n.text, "none", "no longer wanted") end
  for _, n in ipairs(by.new) do add(n, "none", n.text, "new") end
  if #rows == 0 then return end
  d:heading("Pieces and cuts")
  d:table({ { "item", wrap = true }, { "needed", key = "needed then", wrap = true },
      { "now", key = "needed now", wrap = true }, { "", key = "difference", wrap = true } }, rows)
end

-- ---- bought already ------------------------------------------------------------------------------------------------

local function needed_by_item(kept)
  local by = {}
  for _, n in ipairs(kept.needs) do by[n.item] = n.text end
  return by
end

local function stock_key(s) return s.kind .. "\0" .. s.item .. "\0" .. s.lots end

-- What is bought, by the new job; where that says nothing of it, by the old one.
local function bought(d, a, b)
  local of = #b.stock > 0 and b or a
  if #of.stock == 0 then return "Bought already: nothing is declared as in hand or ordered (on_hand, order)." end
  local was, is, before, rows = needed_by_item(a), needed_by_item(b), {}, {}
  for _, s in ipairs(a.stock) do before[stock_key(s)] = s.use end
  for i, s in ipairs(of.stock) do
    local now = of == a and (is[s.item] and "not named by the new job: count it again" or "not needed") or s.use
    rows[i] = { s.lots .. " " .. s.item .. (s.kind == "ordered" and ", ordered" or ""), was[s.item] or "none",
        is[s.item] or "none", now .. (before[stock_key(s)] and before[stock_key(s)] ~= now and
            " (then: " .. before[stock_key(s)] .. ")" or "") }
  end
  d:heading("Bought already")
  d:table({ { "in hand or ordered", wrap = true }, { "needed", key = "needed then", wrap = true },
      { "now", key = "needed now", wrap = true }, { "", key = "use", wrap = true } }, rows)
end

function changes.tell(d, a, b)
  cost(d, a, b)
  needs(d, a, b)
  return bought(d, a, b)
end

changes.facts = { { "cost", { one = true, { "currency", "text" }, { "was_cents", "count" },
    { "is_cents", "count" }, { "difference_cents", "count" } } } }

return changes
