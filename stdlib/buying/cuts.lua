-- SPDX-License-Identifier: MIT
-- Which piece is cut from which stick, with a name for each piece.
local words = import "write.words"
local needs = import "buying.needs"
local cuts = { post_label = needs.post_label }

local function piece(n, i) return { label = n.labels[i] or "piece " .. i, length = n.pieces[i] } end

-- Those that are in hand, each with what is cut from it; one of which nothing is cut stays as it is.
local function from_hand(n, sticks)
  local plan = n.hand_plan
  for k, length in ipairs(plan and n.hand.sticks or {}) do
    local s = { stock = length, pieces = {}, in_hand = true }
    local used = 0
    for i = 1, #n.pieces do
      if plan.stick_of[i] == k then
        s.pieces[#s.pieces + 1] = piece(n, i)
        used = used + 1
      end
    end
    if used > 0 then
      s.number = #sticks + 1
      s.offcut = host.like(length, math.max(plan.room[k] - (n.how == "pieces" and cuts.kerf() or 0), 0))
      sticks[#sticks + 1] = s
    end
  end
end

function cuts.kerf()
  local kerf = needs.habit "saw_kerf"
  return kerf and host.si(kerf) or 0
end

-- The sticks of a need: { stock, pieces = { { label, length } ... }, offcut, number, in_hand }.
function cuts.sticks(n)
  local sticks = {}
  from_hand(n, sticks)
  local first, plan = #sticks, n.plan and n.plan.plan
  if not plan then return sticks end
  local spools = n.how == "wire"
  for i, stock in ipairs(spools and plan.stock_of_spool or plan.stock_of_stick) do
    local length = n.plan.offers[math.tointeger(stock)].length
    sticks[first + i] = { stock = length, pieces = {}, offcut = spools and length or plan.offcuts[i],
        number = first + i }
  end
  for i, k in ipairs(spools and plan.spool_of_cut or plan.stick) do
    local s = sticks[first + math.tointeger(k)]
    local cut = piece(n, n.left[i])
    s.pieces[#s.pieces + 1] = cut
    if spools then s.offcut = s.offcut - cut.length end
  end
  return sticks
end

-- label -> { says = the stick in words, trim = what is left of it, at the last piece that is cut from it }, for one
-- item.
function cuts.stock_of(order, item)
  local by = {}
  for _, n in ipairs(order.needs) do
    if n.item == item and n.how == "pieces" then
      for _, s in ipairs(cuts.sticks(n)) do
        local says = words.show(s.stock) .. " no. " .. s.number .. (s.in_hand and ", in hand" or "")
        for i, p in ipairs(s.pieces) do by[p.label] = { says = says, trim = i == #s.pieces and s.offcut or nil } end
      end
      for _, i in ipairs(n.over) do by[n.labels[i]] = { says = "none so long" } end
    end
  end
  return by
end

return cuts
