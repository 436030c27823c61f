-- SPDX-License-Identifier: MIT
-- Which piece is cut from which stick, with a name for each piece.
local record = import "model.record"
local words = import "write.words"
local cuts = {}

function cuts.post_label(rack, post) return #record.all "rack" > 1 and rack.name .. " " .. post.station or
    post.station end

-- Names of the pieces of one need, in the order in which the job asks for them.
local function labels(item)
  local list = {}
  local several = #record.all "rack" > 1
  local function add(rack, word, n)
    for i = 1, n do list[#list + 1] = (several and rack.name .. " " or "") .. word .. " " .. i end
  end
  for _, r in ipairs(record.all "rack") do
    if r.rails.size == item then add(r, "rail", r.rails.lines) end
    if r.rafter == item then add(r, "rafter", r.post_pairs) end
    if r.posts.size .. " " .. r.posts.treatment == item then
      for p in record.each(r.post) do list[#list + 1] = cuts.post_label(r, p) end
    end
  end
  return list
end

-- The sticks of a planned need: { stock, pieces = { { label, length } ... }, offcut }.
function cuts.sticks(need)
  local plan, names, sticks = need.plan.plan, labels(need.item), {}
  local of_stick, stick, offcuts = plan.stock_of_stick, plan.stick, plan.offcuts
  for i, stock in ipairs(of_stick) do
    sticks[i] = { stock = need.plan.offers[math.tointeger(stock)].length, pieces = {}, offcut = offcuts[i], number = i }
  end
  for i, n in ipairs(stick) do
    local s = sticks[math.tointeger(n)]
    s.pieces[#s.pieces + 1] = { label = names[i] or "piece " .. i, length = need.pieces[i] }
  end
  return sticks
end

-- label -> the stick in words, for one item.
function cuts.stock_of(order, item)
  local by = {}
  for _, n in ipairs(order.needs) do
    if n.item == item and n.how == "pieces" and n.plan then
      for _, s in ipairs(cuts.sticks(n)) do
        for _, piece in ipairs(s.pieces) do by[piece.label] = words.show(s.stock) .. " no. " .. s.number end
      end
    end
  end
  return by
end

return cuts
