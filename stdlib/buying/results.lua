-- SPDX-License-Identifier: MIT
-- What the job needs, cut from what is sold, at whose price.
local graph = import "model.graph"
local memo = import "model.memo"
local record = import "model.record"
local run = import "model.run"
import "parts.files"
local result, given = graph.result, record.given
local buying = {}

local function habit(name)
  local h = record.only "habits"
  return h and given(h, name)
end

local function extend(to, from) for _, x in ipairs(from) do to[#to + 1] = x end end

-- Needs by item, in the order in which the job names them. A need is a list of pieces, of uncut lengths of wire, or a
-- count.
local function needs()
  local list, by = {}, {}
  local function need(item, how, amount, for_what)
    local n = by[item .. how]
    if not n then
      n = { item = item, how = how, pieces = {}, count = 0, exact = 0, uses = {} }
      by[item .. how] = n
      list[#list + 1] = n
    end
    if how == "count" then n.count = n.count + amount else extend(n.pieces, amount) end
    n.uses[#n.uses + 1] = for_what
    return n
  end
  local function times(n, length)
    local pieces = {}
    for i = 1, n do pieces[i] = length end
    return pieces
  end
  for _, r in ipairs(record.all "rack") do
    need(r.modules.name, "count", r.module_count, r)
    need(r.rails.size, "pieces", times(r.rails.lines, r.rail_length), r)
    need(r.rafter, "pieces", times(r.post_pairs, r.slope_length), r)
    local cuts, bags = {}, {}
    for p in record.each(r.post) do
      cuts[#cuts + 1] = p.cut_length
      local bag = "concrete " .. host.format(r.posts.footing.bag, "lb")
      bags[bag] = (bags[bag] or 0) + p.pier.bags_exact
    end
    need(r.posts.size .. " " .. r.posts.treatment, "pieces", cuts, r)
    for bag, exact in host.sorted(bags) do
      local n = need(bag, "count", 0, r)
      n.exact, n.unit = n.exact + exact, "bags"
    end
    need(r.mid_clamp.name, "count", r.rails.lines * (r.columns - 1), r).spare = true
    need(r.end_clamp.name, "count", r.rails.lines * 2, r).spare = true
  end
  local function try(item, f)            -- what cannot be sized cannot be bought, but keeps nothing else from it
    local ok, why = pcall(f)
    if ok then return end
    if not host.class(why) then error(why, 0) end
    list[#list + 1] = { item = item, how = "unknown", pieces = {}, count = 0, exact = 0, uses = {}, why = why }
  end
  for _, run in ipairs(record.all "run") do
    local metal = " " .. run.insulation .. " " .. run.conductor
    need(host.format(run.wire) .. metal, "wire", times(run.conductors, run.cut_length), run)
    try("grounding wire of " .. tostring(run), function() need(host.format(run.ground_wire) .. metal, "wire",
        { run.cut_length }, run) end)
    need(run.conduit.kind .. " " .. run.conduit.size, "conduit", { run.length }, run)
  end
  for _, n in ipairs(list) do
    if n.unit == "bags" then
      n.count = math.ceil(n.exact - 1e-9)
    elseif n.spare then
      n.needed = n.count
      local spare = habit "spares"
      if spare then n.count = math.ceil(n.count * (1 + spare) - 1e-9) end
    end
  end
  return list
end

-- ---- offers --------------------------------------------------------------------------------------------------------

local function offers_of(item)
  local vendors, by = {}, {}
  for _, p in ipairs(run.prices.list) do
    if p.item == item then
      if not by[p.vendor] then by[p.vendor] = {}; vendors[#vendors + 1] = p.vendor end
      local o = by[p.vendor]
      o[#o + 1] = p
    end
  end
  for _, v in ipairs(vendors) do
    table.sort(by[v], function(a, b)
      return (a.length and host.si(a.length) or 0) < (b.length and host.si(b.length) or 0)
    end)
  end
  return vendors, by
end

local function money(like, si) return host.like(like, si) end

local function piece_price(p)        -- of one piece or spool, SI amount
  if host.is(p.price, "money") then return host.si(p.price) end
  return host.si(p.price) * host.si(p.length)
end

local function amount(p)             -- price of one as money
  if host.is(p.price, "money") then return p.price end
  return p.price * p.length
end

-- One order line: so many of one offer. Rounded to the cent, half up.
local function line(n, offer, count, note)
  local each = amount(offer)
  return { item = n.item, offer = offer, vendor = offer.vendor, count = count, each = each,
           total = money(each, host.si(calc.extended { price = host.quantity(host.si(each), "money"),
               quantity = count }.line)), note = note, need = n }
end

local kerf_default = host.literal "0in"

-- The cheapest of one vendor's offers that yield all of a need: by a primitive that knows lengths and prices.
local function plan_by(primitive, n, offers, inputs, price_of)
  local lengths, prices = {}, {}
  for i, o in ipairs(offers) do
    local price = price_of(o)
    if not o.length or not price then return nil end
    lengths[i], prices[i] = o.length, price
  end
  inputs.lengths, inputs.prices = lengths, prices
  local ok, plan = pcall(primitive, inputs)
  if not ok then
    if host.class(plan) then return nil, plan end
    error(plan, 0)
  end
  local lines, bought = {}, plan.bought
  for i, o in ipairs(offers) do
    if bought[i] > 0 then lines[#lines + 1] = line(n, o, math.tointeger(bought[i])) end
  end
  return { lines = lines, plan = plan, offers = offers }
end

local function plan_pieces(n, offers)
  return plan_by(calc.cut_stock, n, offers, { pieces = n.pieces, kerf = habit "saw_kerf" or kerf_default },
                 function(o) return host.quantity(piece_price(o), "money") end)
end

local function plan_wire(n, offers)
  return plan_by(calc.spools, n, offers, { cuts = n.pieces },
                 function(o) return host.is(o.price, "money per length")
                     and host.quantity(host.si(o.price), "money per length") end)
end

local function plan_conduit(n, offers)
  local total = 0
  for _, p in ipairs(n.pieces) do total = total + host.si(p) end
  local best
  for _, o in ipairs(offers) do
    if o.length then
      local l = line(n, o, math.ceil(total / host.si(o.length) - 1e-9))
      if not best or host.si(l.total) < host.si(best.total) then best = l end
    end
  end
  return best and { lines = { best } }
end

local function plan_count(n, offers)
  local best
  for _, o in ipairs(offers) do
    local l = line(n, o, n.count)
    if host.is(o.price, "money") and (not best or host.si(l.total) < host.si(best.total)) then best = l end
  end
  return best and { lines = { best } }
end

local plans = { pieces = plan_pieces, wire = plan_wire, conduit = plan_conduit, count = plan_count }

local function sum(lines)
  local t
  for _, l in ipairs(lines) do t = t and t + l.total or l.total end
  return t
end

-- The whole order: for each need the cheapest vendor who has all of it. { lines, unpriced, needs }
function buying.order()
  return memo.remember(record.inside[record.root], "order", function()
    local order = { lines = {}, unpriced = {}, needs = needs() }
    for _, n in ipairs(order.needs) do
      local vendors, by = offers_of(n.item)
      local best, why = nil, n.why
      for _, v in ipairs(vendors) do
        local plan, reason = plans[n.how](n, by[v])
        why = why or reason
        if plan then
          plan.total = sum(plan.lines)
          if not best or host.si(plan.total) < host.si(best.total) then best = plan end
        end
      end
      n.plan = best
      if best then extend(order.lines, best.lines)
      else order.unpriced[#order.unpriced + 1] = { need = n, why = why and host.message(why)
          or (#vendors > 0 and "no vendor has all of it" or "no price") } end
    end
    return order
  end)
end

-- What is needed of one item, as planned; nil if the job needs none.
function buying.need(item, how)
  for _, n in ipairs(buying.order().needs) do
    if n.item == item and (not how or n.how == how) then return n end
  end
end

function buying.longest(item)
  local best
  for _, p in ipairs(run.prices.list) do
    if p.item == item and p.length and (not best or host.si(p.length) > host.si(best)) then best = p.length end
  end
  if not best then
    host.raise { code = "D010", class = "missing", text = "no price list has stock lengths of " .. item,
        path = "prices: " .. item, who = "vendor", tool = "a quote" }
  end
  return best
end

function buying.by_vendor()
  local names, totals = {}, {}
  for _, l in ipairs(buying.order().lines) do
    if not totals[l.vendor] then names[#names + 1] = l.vendor end
    totals[l.vendor] = totals[l.vendor] and totals[l.vendor] + l.total or l.total
  end
  return names, totals
end

result { "job", "total", dim = "money", says = "price of all that has a price, each line to the cent",
  work = function()
    local order = buying.order()
    if #order.lines == 0 then
      host.raise { code = "D010", class = "missing", text = "nothing has a price", path = "prices", who = "vendor",
          tool = "a quote" }
    end
    return sum(order.lines)
  end,
  shows = function(d)
    local value, rows = import("write.document").value, {}
    for i, l in ipairs(buying.order().lines) do
      rows[i] = { value(l.count), l.item, l.offer.length and value(l.offer.length) or "", value(l.each),
          value(l.total), host.place(l.offer.place) }
    end
    d:table({ { "count", right = true }, "item", { "of", right = true }, { "each", right = true },
        { "line", right = true }, { "price from", wrap = true } }, rows)
  end }

result { "rack", "bags", says = "bags of concrete for all its holes, hole by hole",
  work = function(r)
    local n = 0
    for p in record.each(r.post) do n = n + p.bags end
    return n
  end }

return buying
