-- SPDX-License-Identifier: MIT
-- What the job needs, item by item: pieces that are cut, uncut lengths of wire and of pipe, counts, concrete by truck.
local record = import "model.record"
local given = record.given
local needs = {}

function needs.habit(name)
  local h = record.only "habits"
  return h and given(h, name)
end

-- The post as the sheets call it, by its own name: what a thing is called is no input of how much is needed.
function needs.post_label(rack, post)
  local name = record.inside[post].name
  return #record.all "rack" > 1 and rack.name .. " " .. name or name
end

-- The names under which price lists and orders know them.
function needs.post_item(rack, line) return import("structure.feet").item(rack, line) end
function needs.bag_item(footing)
  local _, unit = host.unit(footing.bag)
  return "concrete " .. host.format(footing.bag, unit ~= "kg" and "lb" or "kg")
end
function needs.wire_item(run, size) return host.format(size) .. " " .. run.insulation .. " " .. run.conductor end
function needs.conduit_item(run) return run.conduit.kind .. " " .. run.conduit.size end

-- What a rack's sticks are cut from.
function needs.cut_items(rack)
  local list = {}
  local plan = import "rails.plan"
  if not plan.in_kits(rack, "rails") then list[1] = plan.item(rack) end
  for _, field in ipairs { "rafter", "beam" } do list[#list + 1] = given(rack, field) end
  local braces = given(rack, "braces")
  for i = 1, braces and #braces or 0 do list[#list + 1] = braces[i].size end
  local unlike = import("structure.feet").unlike(rack)
  for i = 1, unlike.n do list[#list + 1] = needs.post_item(rack, unlike[i]) end
  return list
end
needs.ready_mix, needs.short_load = "concrete ready-mix", "concrete short load"

local function by_truck() return #record.all "truck" > 0 end
needs.by_truck = by_truck

local numbered = {}      -- "rail" -> { "rail 1", "rail 2" ... }: there are as many as pieces of one kind

local function label(word, i)
  local labels = numbered[word] or {}
  numbered[word] = labels
  labels[i] = labels[i] or word .. " " .. i
  return labels[i]
end

-- Needs by item, in the order in which the job names them:
--   { item, how = "count", count, needed (before spares) }; group: what it is part of, in words; of a length that is
--     not cut: sold_as (its item), length
--   { item, how = "pieces", "wire" or "conduit", pieces = { length ... }, labels = { text ... } }
--   { item, how = "volume", volume }
--   { item, how = "unknown", why, labels }: what cannot be sized cannot be bought, but keeps nothing else from it
function needs.list()
  local list, by = {}, { count = {}, pieces = {}, wire = {}, conduit = {}, volume = {}, unknown = {} }
  local function need(item, how)
    local of = by[how]
    local n = of[item]
    if not n then
      n = { item = item, how = how, pieces = {}, labels = {}, count = 0 }
      of[item] = n
      list[#list + 1] = n
    end
    return n
  end
  local function open(item, name, why)
    local key = item .. " " .. host.message(why)
    local n = by.unknown[key]
    if not n then
      n = { item = item, how = "unknown", pieces = {}, labels = {}, count = 0, why = why }
      by.unknown[key] = n
      list[#list + 1] = n
    end
    if name then n.labels[#n.labels + 1] = name end
  end
  local function try(item, name, f)
    local ok, why = pcall(f)
    if ok then return end
    if not host.class(why) then error(why, 0) end
    open(item, name, why)
  end
  local several = #record.all "rack" > 1
  local function pieces(rack, item, word, count, length)
    try(item, nil, function()
      local l = rack[length]
      local n = need(item, "pieces")
      local lengths, labels, before = n.pieces, n.labels, several and rack.name .. " " or nil
      local at = #lengths
      for i = 1, count do
        lengths[at + i], labels[at + i] = l, before and before .. label(word, i) or label(word, i)
      end
    end)
  end
  -- A leg that is not cut: of each length so many are counted, by an item of its own.
  local function leg(item, length)
    local n = need(item .. ", " .. import("write.words").show(length), "count")
    n.sold_as, n.length, n.count = item, length, n.count + 1
  end
  local function posts(rack)
    local feet = import "structure.feet"
    local slides = given(rack.posts, "slide")
    for p in record.each(rack.post) do
      local item, name = needs.post_item(rack, p.line), needs.post_label(rack, p)
      try(item, name, function()
        if slides then return leg(item, p.leg_length) end
        local cut = feet.stock_length(rack, p)
        local n = need(item, "pieces")
        n.pieces[#n.pieces + 1] = cut
        n.labels[#n.pieces] = name
      end)
    end
  end
  local function braces(rack)
    local before = several and rack.name .. " brace " or "brace "
    for b in record.each(rack.brace) do
      local name = before .. record.inside[b].name
      try(b.size, name, function()
        local cut = b.cut_length
        local n = need(b.size, "pieces")
        n.pieces[#n.pieces + 1] = cut
        n.labels[#n.pieces] = name
      end)
    end
  end
  local function concrete(rack)
    local feet = import "structure.feet"
    if by_truck() then
      try(needs.ready_mix, nil, function()
        local sum
        for p in record.each(rack.post) do
          if feet.in_hole(p) then sum = sum and sum + p.concrete_ordered or p.concrete_ordered end
        end
        local n = need(needs.ready_mix, "volume")
        local _, unit = host.unit(record.all "truck"[1].volume)          -- in the unit that it is ordered in
        sum = unit ~= "" and host.as(sum, unit) or sum
        n.volume = n.volume and n.volume + sum or sum
      end)
    else
      for _, g in ipairs(feet.of_rack(rack)) do
        if feet.kind(g.footing) == "hole" then
          local item = needs.bag_item(g.footing)
          try(item, nil, function()
            local bags = 0
            for _, p in ipairs(g.posts) do bags = bags + p.bags end
            local n = need(item, "count")
            n.count = n.count + bags
          end)
        end
      end
    end
  end
  local tools = { need = need, try = try }
  function tools.count(item, count, spare, group)
    local n = need(item, "count")
    n.count, n.spare, n.group = n.count + count, n.spare or spare, n.group or group
  end
  for _, r in ipairs(record.all "rack") do
    local plan = import "rails.plan"
    for _, x in ipairs(import("modules.models").of(r)) do
      local n = need(x.module.name, "count")
      n.count = n.count + x.count
    end
    if plan.plain(r) then pieces(r, r.rails.size, "rail", r.rails.lines, "rail_length")
    else import("rails.bought").put(r, tools, several and r.name .. " " or nil) end
    if given(r, "rafter") then pieces(r, r.rafter, "rafter", r.rafter_count, "rafter_length") end
    if given(r, "beam") then pieces(r, r.beam, "beam", #import("structure.lines").of(r), "row_width") end
    posts(r)
    if given(r, "braces") then braces(r) end
    local feet = import "structure.feet"
    if #feet.holes(r) > 0 then concrete(r) end
    if feet.has_other(r) then import("structure.screws_and_blocks").need(feet.of_rack(r), need) end
    local clamps = not plan.in_kits(r, "clamps") and { { r.mid_clamp, r.mid_clamps }, { r.end_clamp, r.end_clamps } }
    for _, c in ipairs(clamps or {}) do
      local n = need(c[1].name, "count")
      n.count, n.spare = n.count + c[2], true
    end
  end
  if record.any "joint" then import("joints.bought").put(tools) end
  for _, run in ipairs(record.all "run") do
    local title = import("write.words").title(run)
    local function wire(what, size, count)
      try(what .. title, nil, function()
        local cut, wanted = run.cut_length, count()
        local n = need(needs.wire_item(run, size()), "wire")
        for _ = 1, wanted do n.pieces[#n.pieces + 1] = cut end
      end)
    end
    wire("wire of ", function() return run.wire end, function() return run.conductors end)
    wire("grounding wire of ", function() return run.ground_wire end, function() return 1 end)
    try("conduit of " .. title, nil, function()
      local length = run.length
      local n = need(needs.conduit_item(run), "conduit")
      n.pieces[#n.pieces + 1] = length
    end)
  end
  for i = 1, #list do
    local n = list[i]
    n.left, n.needed = {}, n.count
    local spare = n.spare and needs.habit "spares"
    if spare then n.count = math.ceil(n.count * (1 + spare) - 1e-9) end
  end
  return list
end

-- Names of pieces; of many the first, and how many more.
function needs.some(labels)
  if #labels <= 8 then return table.concat(labels, ", ") end
  return table.concat(labels, ", ", 1, 2) .. " and " .. #labels - 2 .. " more"
end

-- What of it is still to buy, in words: "8 M430", "4 x 2x4", "1.9 yd3 concrete ready-mix".
function needs.words(n)
  if n.how == "count" then return n.to_buy .. " " .. n.item end
  if n.how == "volume" then return import("write.words").show(n.volume) .. " " .. n.item end
  if n.how ~= "unknown" then return #n.left .. " x " .. n.item end
  if #n.labels == 0 then return n.item end
  return #n.labels .. " x " .. n.item .. " (" .. needs.some(n.labels) .. ")"
end

return needs
