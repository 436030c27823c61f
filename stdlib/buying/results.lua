-- SPDX-License-Identifier: MIT
-- What the job needs, less what is in hand, cut from what is sold, at whose price.
local graph = import "model.graph"
local memo = import "model.memo"
local record = import "model.record"
local run = import "model.run"
local needs = import "buying.needs"
local stocks = import "buying.sold"
import "parts.files"
local result, habit, given = graph.result, needs.habit, record.given
local sold, longest_sold, amount = stocks.of, stocks.longest_sold, stocks.amount
local buying = { habit = habit }

local function added(lengths)
  local sum
  for i = 1, #lengths do sum = sum and sum + lengths[i] or lengths[i] end
  return sum
end

local function extend(to, from) for i = 1, #from do to[#to + 1] = from[i] end end

-- ---- in hand -------------------------------------------------------------------------------------------------------

local kerf_default = host.literal "0in"
local function kerf() return habit "saw_kerf" or kerf_default end

local function sizes(lengths)
  local list = {}
  for i = 1, #lengths do list[i] = host.si(lengths[i]) end
  return list
end

-- What of a need comes out of what is in hand; what is left is to be bought: n.left holds the pieces, by their indexes.
local function take_from_hand(n)
  local hand = n.hand
  if n.how == "count" then
    n.from_hand = hand and math.min(hand.count, n.count) or 0
    n.to_buy = n.count - n.from_hand
  elseif n.how == "conduit" then
    for i = 1, #n.pieces do n.left[i] = i end
    local there = hand and added(hand.sticks)
    n.from_hand = there and host.si(there) or 0
  elseif hand and n.how ~= "volume" and n.how ~= "unknown" then
    local plan = import("buying.fit").best(sizes(n.pieces), sizes(hand.sticks), n.how == "pieces" and host.si(kerf())
        or 0)
    n.hand_plan, n.left = plan, plan.left
  else for i = 1, #n.pieces do n.left[i] = i end end
end

-- ---- offers --------------------------------------------------------------------------------------------------------

-- Pieces that are longer than anything sold: they are left out, so that the others are planned.
local function set_aside(n)
  local longest = longest_sold(n.item)
  n.over, n.longest = {}, longest
  if not longest or n.how == "conduit" or #n.left == 0 then return end
  local fitting, length, before, beyond = {}, host.si(longest), nil, false
  for k = 1, #n.left do
    local i = n.left[k]
    local piece = n.pieces[i]
    if not rawequal(piece, before) then
      local wanted = host.si(piece)
      before, beyond = piece, wanted > length and not host.near(wanted, length)
    end
    local to = beyond and n.over or fitting
    to[#to + 1] = i
  end
  n.left = fitting
end

local function money(like, si) return host.like(like, si) end

-- One order line: so many of one offer. Rounded to the cent, half up.
local function line(n, offer, count, each)
  each = each or amount(offer)
  return { item = n.sold_as or n.item, offer = offer, vendor = offer.vendor, count = count, each = each,
           total = money(each, host.si(calc.extended { price = host.quantity(host.si(each), "money"),
               quantity = count }.line)), need = n }
end

local function left_pieces(n)
  local list = {}
  for i = 1, #n.left do list[i] = n.pieces[n.left[i]] end
  return list
end

-- The cheapest of one vendor's offers that yield all that is left of a need: by a primitive that knows lengths and
-- prices. Second, where it refuses: whether there is more of it than a plan is made for.
local function plan_by(primitive, n, offers, inputs, price_of)
  local lengths, prices = host.room(0, #offers), host.room(0, #offers)
  for i, o in ipairs(offers) do
    local price = price_of(o)
    if not o.length or not price then return nil end
    lengths[i], prices[i] = o.length, price
  end
  inputs.lengths, inputs.prices = lengths, prices
  local ok, plan = pcall(primitive, inputs)
  if not ok then
    if host.class(plan) then return nil, true end
    error(plan, 0)
  end
  local lines, bought = {}, plan.bought
  for i, o in ipairs(offers) do
    if bought[i] > 0 then lines[#lines + 1] = line(n, o, math.tointeger(bought[i])) end
  end
  return { lines = lines, plan = plan, offers = offers }
end

local plans = {}

-- A vendor whose longest is too short for a piece has not all of it.
local function reaches(n, offers)
  local last = offers[#offers].length
  if not last then return true end
  for _, i in ipairs(n.left) do if last < n.pieces[i] then return false end end
  return true
end

function plans.pieces(n, offers)
  if not reaches(n, offers) then return nil end
  return plan_by(calc.cut_stock, n, offers, { pieces = left_pieces(n), kerf = kerf() },
                 function(o)
                   local price = amount(o)
                   return price and host.quantity(host.si(price), "money")
                 end)
end

function plans.wire(n, offers)
  if not reaches(n, offers) then return nil end
  return plan_by(calc.spools, n, offers, { cuts = left_pieces(n) },
                 function(o)
                   local price = amount(o)
                   if host.is(o.price, "money per length") then price = o.price
                   elseif price then price = price / o.length end
                   return price and host.quantity(host.si(price), "money per length")
                 end)
end

function plans.conduit(n, offers)
  local best
  for _, o in ipairs(offers) do
    if o.length and amount(o) then
      local l = line(n, o, math.ceil(n.rest / host.si(o.length) - 1e-9))
      if not best or host.si(l.total) < host.si(best.total) then best = l end
    end
  end
  return best and { lines = { best } }
end

-- Whether an offer is of that very length, and has a price.
local function is_long(o, length)
  return o.length and amount(o) and host.near(host.si(o.length), host.si(length))
end

function plans.count(n, offers)
  local best
  for _, o in ipairs(offers) do
    if n.length and is_long(o, n.length) or not n.length and host.is(o.price, "money") then
      local l = line(n, o, math.ceil(n.to_buy / (o.box or 1)))                    -- a box is sold whole
      if not best or host.si(l.total) < host.si(best.total) then best = l end
    end
  end
  return best and { lines = { best } }
end

-- Trucks that bring less than their vendor calls a full load: { truck, offer = the row of the charge, or nil }.
local function short_loads()
  local list = {}
  for _, t in ipairs(record.all "truck") do
    local full = given(t, "full_load")
    if full and t.volume < full then
      local offer
      for _, o in ipairs(sold(needs.short_load).by[t.vendor] or {}) do
        if host.is(o.price, "money") then offer = o end
      end
      list[#list + 1] = { truck = t, offer = offer }
    end
  end
  return list
end

-- Truck by truck what is ordered with it, at the price of its vendor where that is known; what is charged for a short
-- load is a line of its own.
function plans.volume(n, offers)
  local lines = {}
  for _, t in ipairs(record.all "truck") do
    for _, o in ipairs(offers) do
      if o.vendor == t.vendor and host.is(o.price, "money per volume") then
        lines[#lines + 1] = line(n, o, 1, o.price * t.volume)
        lines[#lines].volume = t.volume
      end
    end
  end
  for _, short in ipairs(lines[1] and short_loads() or {}) do
    if short.offer and short.offer.vendor == offers[1].vendor then
      lines[#lines + 1] = line(n, short.offer, 1)
      lines[#lines].item = needs.short_load
    end
  end
  return lines[1] and { lines = lines }
end

function plans.unknown() return nil end

local function sum(lines)
  local t
  for _, l in ipairs(lines) do t = t and t + l.total or l.total end
  return t
end

-- What a plan of one vendor's offers rests on, as numbers; nil of what is planned anew each time.
local function asked_for(n)
  if n.how == "count" then return { n.to_buy, n.length and host.si(n.length) or 0 } end
  if n.how ~= "pieces" and n.how ~= "wire" then return nil end
  local list = {}
  for i = 1, #n.left do list[i] = host.si(n.pieces[n.left[i]]) end
  list[#list + 1] = n.how == "pieces" and host.si(kerf()) or 0
  return list
end

local function same_numbers(a, b)
  if #a ~= #b then return false end
  for i = 1, #a do if a[i] ~= b[i] then return false end end
  return true
end

-- The same plan for another need of the same size.
local function for_need(plan, n)
  local lines = {}
  for i = 1, #plan.lines do
    local l = plan.lines[i]
    lines[i] = { item = l.item, offer = l.offer, vendor = l.vendor, count = l.count, each = l.each, total = l.total,
        need = n }
  end
  return { lines = lines, plan = plan.plan, offers = plan.offers, total = plan.total }
end

-- Offers -> how -> the last plan, and what it was made for.
run.keep("plans", function() return {} end)

local function plans_by(offers)
  local by = run.plans[offers] or {}
  run.plans[offers] = by
  return by
end

-- One vendor's plan for a need, with its total; what was asked before, to the last bit, is answered as before, unless
-- somebody wants to know what is called.
local function planned(n, offers)
  local asked = not run.noting and asked_for(n)
  local kept = asked and plans_by(offers)
  local before = kept and kept[n.how]
  if before and same_numbers(before.asked, asked) then
    return before.plan and for_need(before.plan, n), before.refused
  end
  local plan, refused = plans[n.how](n, offers)
  if plan then plan.total = sum(plan.lines) end
  if kept then kept[n.how] = { asked = asked, plan = plan, refused = refused } end
  return plan, refused
end

-- Whether nothing of a need is left to buy.
local function is_met(n)
  if n.how == "count" then return n.to_buy == 0 end
  if n.how == "conduit" then
    n.rest = host.si(added(n.pieces)) - n.from_hand
    return n.rest <= 1e-9
  end
  return n.how ~= "volume" and n.how ~= "unknown" and #n.left == 0
end

-- ---- the order -----------------------------------------------------------------------------------------------------

-- Why a need has no price, and the row of a price list that may have meant it.
-- What price lists have that is not needed, and is no other thing that is known: names, and where each stands.
local function others_than(needed)
  local names, rows
  return function()
    if names then return names, rows end
    names, rows = {}, {}
    local known = import("buying.names").known
    for _, p in ipairs(run.prices.list) do
      if not needed[p.item] and not rows[p.item] and not known(p.item) then
        names[#names + 1], rows[p.item] = p.item, p.place
      end
    end
    return names, rows
  end
end

local function unpriced_why(n, vendors, too_many, others)
  if n.why then return (host.message(n.why)) end
  if too_many then return "more pieces, or shorter or longer ones, than a cutting plan is made for" end
  if #vendors > 0 then
    if n.how == "volume" then return "no price of a volume, such as $/yd3 or $/m3, from the vendor of the truck" end
    if n.length then return "no price list has this length" end
    if n.how == "count" then return "its price is not of one" end
    return n.longest and "no vendor has all of it" or "no price list says which lengths are sold"
  end
  local names, rows = others()
  local near = host.nearest(n.item, names)
  return "no price" .. (near and "; " .. host.place(rows[near]) .. " has '" .. near .. "': is that what was meant?"
      or "")
end

local function lengths_of(n, which)
  local measure, list = import "write.measure", {}
  for k, i in ipairs(which) do
    list[k] = (n.labels[i] and n.labels[i] .. " " or "") .. (measure.inches(n.pieces[i]))
  end
  return needs.some(list)
end

-- An order that is worked out anew is another one, without a look through all of it: what of it stays is found need by
-- need.
local another = {}

-- The whole order: for each need the cheapest vendor who has all of it. { lines, needs, idle = lots that nothing needs,
-- unpriced = { { need, what, why } ... } }: all that the total leaves out.
function buying.order()
  return memo.remember(record.inside[record.root], "order", function()
    local list = needs.list()
    local order, needed = setmetatable({ lines = {}, unpriced = {}, needs = list, idle = {} }, another), {}
    if #record.all "on_hand" + #record.all "order" > 0 then
      local stock = import "buying.stock"
      stock.assign(list)
      order.idle = stock.idle(list)
    end
    for i = 1, #list do needed[list[i].sold_as or list[i].item] = true end
    local others = others_than(needed)
    for i = 1, #list do
      local n = list[i]
      take_from_hand(n)
      set_aside(n)
      if is_met(n) then n.met = #n.over == 0
      else
        local offers = sold(n.sold_as or n.item)
        local vendors, best, too_many = offers.vendors, nil, nil
        for k = 1, #vendors do
          local plan, refused = planned(n, offers.by[vendors[k]])
          too_many = too_many or refused
          if plan and (not best or host.si(plan.total) < host.si(best.total)) then best = plan end
        end
        n.plan = best
        if best then extend(order.lines, best.lines)
        else order.unpriced[#order.unpriced + 1] = { need = n, what = needs.words(n),
            why = unpriced_why(n, vendors, too_many, others) } end
      end
      for _, short in ipairs(n.how == "volume" and short_loads() or {}) do
        if not short.offer then
          order.unpriced[#order.unpriced + 1] = { need = n, what = "a short load of " ..
              host.format(short.truck.volume), why = "no price of " .. needs.short_load .. " from " ..
              short.truck.vendor }
        end
      end
      if #n.over > 0 then
        order.unpriced[#order.unpriced + 1] = { need = n, what = #n.over .. " x " .. n.item .. " (" ..
            lengths_of(n, n.over) .. ")", why = "the longest that is sold is " .. host.format(n.longest) }
      end
    end
    return order
  end)
end

-- What is needed of one item, as planned; nil if the job needs none.
local function find_need(item, how)
  local list = buying.order().needs
  for i = 1, #list do
    if list[i].item == item and (not how or list[i].how == how) then return list[i] end
  end
end

-- What is asked of one item stays where only others' pieces change.
function buying.need(item, how)
  return memo.remember(record.inside[record.root], "need: " .. (how or "") .. " " .. item, function()
    return find_need(item, how)
  end)
end

buying.longest = stocks.longest

-- How much of a need an order that is declared covers, together with what is in hand: have and wanted; nil where no
-- order names the item. Where it is cut, as many pieces as come out of the lengths.
function buying.covered(n)
  if n.how == "volume" then
    local have
    for _, t in ipairs(record.all "truck") do have = have and have + t.volume or t.volume end
    return have, n.volume
  end
  if not n.ordered then return nil end
  local item, how = n.item, n.how
  local answer = memo.remember(record.inside[record.root], "covered: " .. how .. " " .. item, function()
    local wanted = buying.need(item, how)
    return { buying.there(wanted, wanted.ordered, wanted.hand) }
  end)
  return answer[1], answer[2]
end

-- How much of a need some stocks are enough for.
function buying.there(n, ...)
  local count, sticks = 0, {}
  for _, s in ipairs(table.pack(...)) do
    count = count + s.count
    extend(sticks, s.sticks)
  end
  if n.how == "count" then return count, n.count end
  if n.how == "conduit" then
    local wanted = added(n.pieces)
    return added(sticks) or host.like(wanted, 0), wanted
  end
  local fit = import "buying.fit"
  local pieces, lengths, cut = sizes(n.pieces), sizes(sticks), n.how == "pieces" and host.si(kerf()) or 0
  local all = fit.all(pieces, lengths, cut)
  if all then return #pieces, #pieces end
  if all == nil then
    host.raise { code = "C005", class = "range", text = "whether all " .. #pieces .. " pieces of " .. n.item ..
        " come out of what is there was not found out: there are too many ways to cut them" }
  end
  return math.min(fit.best(pieces, lengths, cut).count, #pieces - 1), #pieces
end

-- "box of 100" where a line of the order is of boxes; nil else.
function buying.boxed(line) return line.offer.box and "box of " .. line.offer.box end

-- How many the program's own list buys of a counted need, together with what is in hand; nil without a price.
function buying.planned(n)
  if n.met then return n.count end
  if not n.plan then return nil end
  local count = n.from_hand
  for _, l in ipairs(n.plan.lines) do count = count + l.count * (l.offer.box or 1) end
  return count
end

function buying.by_vendor()
  local names, totals = {}, {}
  for _, l in ipairs(buying.order().lines) do
    if not totals[l.vendor] then names[#names + 1] = l.vendor end
    totals[l.vendor] = totals[l.vendor] and totals[l.vendor] + l.total or l.total
  end
  return names, totals
end

result { "job", "total", dim = "money",
  says = "price of all that is still to buy and has a price, each line to the cent; what has none is left out",
  work = function()
    local order = buying.order()
    if #order.lines == 0 and #order.unpriced == 0 then
      for _, p in ipairs(run.prices.list) do if amount(p) then return money(amount(p), 0) end end
    end
    if #order.lines == 0 then
      host.raise { code = "D010", class = "missing", text = "nothing has a price", path = "prices", who = "vendor",
          tool = "a quote" }
    end
    return sum(order.lines)
  end,
  leaves_out = function()
    local list = {}
    for i, u in ipairs(buying.order().unpriced) do list[i] = { what = u.what, item = u.need.group or u.need.item } end
    return list
  end,
  shows = function(d)
    local value, rows = import("write.document").value, {}
    local order = buying.order()
    for i, l in ipairs(order.lines) do
      local of = l.volume or l.offer.length
      rows[i] = { value(l.count), l.item, of and value(of) or buying.boxed(l) or "", value(l.each), value(l.total),
          host.place(l.offer.place) }
    end
    d:table({ { "count", right = true }, "item", { "of", right = true }, { "each", right = true },
        { "line", right = true }, { "price from", wrap = true } }, rows)
    for _, u in ipairs(order.unpriced) do d:para("left out: " .. u.what .. ": " .. u.why) end
  end }

result { "rack", "bags", says = "bags of concrete for all its holes, hole by hole: as many as are ordered",
  work = function(r)
    local n = 0
    local feet = import "structure.feet"
    for p in record.each(r.post) do if feet.in_hole(p) then n = n + p.bags end end
    return n
  end }

result { "rack", "rail_piece", dim = "length",
  says = "longest piece in which a rail is carried: whole, or as long as the longest between its splices",
  work = function(r)
    local plan = import "rails.plan"
    if plan.in_kits(r, "rails") then return r.rail_run_length end      -- no piece is longer than that
    local known, longest = pcall(plan.longest, r)
    if not known and not host.class(longest) then error(longest, 0) end
    if not (known or given(r.rails, "joints")) then return plan.parted(r) and r.rail_run_length or r.rail_length end
    if not plan.parted(r) and not given(r.rails, "joints") and longest >= r.rail_length then return r.rail_length end
    local planned, pieces = pcall(function() return r.rail_pieces end)
    if not planned then                                        -- no splice is permitted where the stock ends
      if host.class(pieces) ~= "range" then error(pieces, 0) end
      return longest
    end
    local most
    for _, p in ipairs(pieces) do if not most or p.length > most then most = p.length end end
    return most
  end }

return buying
