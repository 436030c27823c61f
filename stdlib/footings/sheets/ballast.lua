-- SPDX-License-Identifier: MIT
-- Ballast plan: the blocks that racks stand on, how each is set, and how far it is from being lifted, pushed or turned.
local record = import "model.record"
local rule = import "model.rule"
local document = import "write.document"
local words = import "write.words"
local measure = import "write.measure"
local feet = import "structure.feet"
local tilted = import "structure.tilted"

local given, value, cell = record.given, document.value, document.of
local function right(head, key) return { head, key = key, right = true } end

local function blocks_of(r, footing)
  local blocks, list = import "footings.blocks", {}
  for p in record.each(r.post) do
    if feet.footing(p) == footing and blocks.told_at(p) then list[#list + 1] = p end
  end
  return list
end

local function kilograms(mass) return words.show(mass, words.metric() and "kg" or "lb") end

-- Which way it lies, and where its posts stand on it.
local function lies(d, footing, list)
  local blocks = import "footings.blocks"
  local long, wide, high = measure.inches(footing.block_length), measure.inches(footing.block_width),
      measure.inches(footing.block_height)
  d:para(#list .. (#list == 1 and " block " or " blocks ") .. long .. " long, " .. wide .. " wide and " .. high ..
      " high, " .. kilograms(footing.block_weighs) .. " each, " .. kilograms(footing.block_weighs * #list) ..
      " in all. Each lies with its length square to the row, whole and flat on the ground: " ..
      words.show(footing.block_length * footing.block_width) .. " bear.")
  if footing.carries == "post" then return d:para("The post stands in the middle of its block.") end
  local ok, before = pcall(blocks.before_first, list[1])
  if not ok then
    if not host.class(before) then error(before, 0) end
    return d:para("Where it lies under its posts is unknown: " .. host.message(before) .. ".")
  end
  d:para("One lies under all posts of a station; its front edge is " .. measure.mark(before) ..
      " before the middle of the first post.")
end

-- Where the ground is not even under the posts of a station: to which height the place of its block is dug.
local function bedded(d, list)
  local blocks = import "footings.blocks"
  for _, first in ipairs(list) do
    local higher, low = {}, feet.bed(first)
    for _, p in ipairs(blocks.posts(first)) do
      if p.ground > low then higher[#higher + 1] = measure.inches(p.ground - low) .. " at " .. p.station end
    end
    if #higher > 0 then
      d:para("The block of " .. blocks.name(first) .. ", lies level at " .. measure.level(low) ..
          ", the lowest ground at a post on it: under it the ground is dug away, " ..
          import("model.util").list(higher) .. ". Posts are cut for that.")
    end
  end
end

-- What holds it on the ground, and whose word that is.
local function ground(d, footing, job)
  local ok, grip, whose = pcall(import("footings.blocks").grip, footing, job)
  if not ok then
    if not host.class(grip) then error(grip, 0) end
    return d:para("What holds it on the ground is unknown: " .. host.message(grip) .. ".")
  end
  d:para("What holds it on the ground: " .. whose .. (grip.friction and "." or ", " .. words.show(grip.adhesion) ..
      " of the area, " .. host.format(grip.most, "%") .. " of what presses at most."))
end

-- Each block against what comes to it, and which case that is.
local function judged(d, list)
  local blocks, rows, said, seen = import "footings.blocks", {}, {}, {}
  local function put_row(p, at)
    local named, name = pcall(blocks.name, p)
    local known, stands = pcall(blocks.stability, p, at)
    if not known and not host.class(stands) then error(stands, 0) end
    local function used(ratio) return ratio and host.format(ratio, "%") or "-" end
    local function of(own, name_there)
      if at == tilted.rack(at) then return cell(p, own) end
      return known and value(stands[name_there]) or "unknown"
    end
    rows[#rows + 1] = { (named and name or p.station) .. tilted.behind(at), of("block_load", "weight"),
        of("block_lift", "lift"), of("block_lift_held", "lift_held"), known and used(stands.lift_ratio) or "unknown",
        of("block_push", "slide"), of("block_push_held", "slide_held"),
        known and used(blocks.slide_used(stands)) or "unknown",
        of("block_turn", "turn"), of("block_turn_held", "turn_held"), known and used(stands.turn_ratio) or "unknown",
        document.tick }
    local text = known and "lifted " .. blocks.case(p, at, stands.lift_case) .. "; pushed " ..
        blocks.case(p, at, stands.slide_case) .. "; turned " .. blocks.case(p, at, stands.turn_case) ..
        ", about its " .. (stands.over_back and "back" or "front") .. " edge"
    if text and not seen[text] then said[#said + 1], seen[text] = text, true end
  end
  for _, p in ipairs(list) do
    local ok, stands = pcall(blocks.stands, p)
    for _, at in ipairs(ok and stands or { record.parent(p) }) do put_row(p, at) end
  end
  local columns = { "block", right "weight" }
  local function put(head, key) columns[#columns + 1] = right(head, key) end
  for _, what in ipairs { "lift", "push", "turning" } do
    put(what, what)
    put("held", what .. " held")
    put("used", what .. " used")
  end
  columns[#columns + 1] = "set"
  d:table(columns, rows)
  d:unknowns(rows)
  for _, text in ipairs(said) do d:para("Worst: " .. text .. ".") end
end

-- The same of a post that braces along the row end at, as that is pushed, in each position of the modules; why that is
-- not known is told once.
local function along_row(d, rows, p, told)
  for _, at in ipairs(tilted.of_post(p) or { record.parent(p) }) do
    local ok, lift, push, turning = pcall(import("joints.foot").along_row, tilted.post(at, p))
    local behind = tilted.behind(at)
    if ok then rows[#rows + 1] = { "or along the row" .. behind, value(lift), value(push), value(turning) }
    elseif not host.class(lift) then error(lift, 0)
    elseif not told[at] then
      told[at] = true
      d:para("What posts have at which braces along the row end, as it is pushed along" .. behind .. ", is not " ..
          "known: " .. host.message(lift) .. ".")
    end
  end
end

-- What ties each post to its block, and what that must hold.
local function ties(d, r, footing)
  local joint, rows = record.any "joint" and import("joints.on").joint(r, "posts on footings"), {}
  local braced, told = given(r, "braces") and import "loads.braced_feet", {}
  for p in record.each(r.post) do
    if feet.footing(p) == footing then
      rows[#rows + 1] = { p.station, cell(p, "foot_lift"), cell(p, "lateral"), cell(p, "foot_turning") }
      if braced and not braced.none(p) then along_row(d, rows, p, told) end
    end
  end
  d:para(joint and "What ties each post to its block, " .. (given(joint, "holds_by") or words.title(joint)) ..
      ", must hold, all at once:" or "What ties each post to its block nobody declares; it must hold, all at once:")
  d:table({ "post", right("lift"), right("push"), right("turning") }, rows)
  d:unknowns(rows)
end

local function people(d, footing)
  local mass = footing.block_weighs
  if not rule.has_limit "lift_per_person" then
    return d:warning("A block is " .. kilograms(mass) .. ". How much one person lifts nobody says: it is set by " ..
        "a machine unless it is plain that it can be carried.")
  end
  local limit = rule.at_most(0 * mass, rule.limit "lift_per_person").limit
  local crew = given(record.root, "crew")
  if mass > limit * (crew or 1) then
    d:warning("A block is " .. kilograms(mass) .. ", and one person lifts at most " .. words.show(limit) ..
        (crew and ", the crew " .. kilograms(limit * crew) or "") .. ": a machine sets it, with slings or tongs " ..
        "that bear that, and nobody is under it or between it and anything it may swing against.")
  end
end

local steps = {
  "Strip grass and loose soil, level the place of each block to its line, and tread or roll it firm: what gives way " ..
      "under one edge tilts the rack.",
  "Set out the front edges of the first and the last block, and stretch a line.",
  "Set the blocks from one end to the other. Before one is let go, look that all of it lies on the ground.",
  "Measure both diagonals before any post is stood, and each block's level against the drawing.",
  "No module goes up before all blocks of its rack lie: a rack that is held by some of its blocks alone is not " ..
      "judged here.",
}

-- Whether the wind on its own faces counts.
local function faces(d, p)
  local ok, text = pcall(import("footings.block_judge").faces, p)
  if ok and not text then
    return d:para("The wind on its own faces counts, as on a solid wall that reaches the ground (" ..
        words.cite("{wind_sign}") .. "), with what comes to it.")
  end
  if not ok and not host.class(text) then error(text, 0) end
  d:para(ok and "Not judged: " .. text .. "." or "How much wind its faces take is unknown: " .. host.message(text) ..
      ".")
end

local function of_rack(d, r, job)
  local list = feet.blocks_of(r)
  if #list == 0 then return d:para "None of its posts stands on a block." end
  for _, footing in ipairs(list) do
    if #list > 1 then d:para(words.title(footing) .. ":") end
    local there = blocks_of(r, footing)
    lies(d, footing, there)
    if footing.carries == "station" then
      local ok, why = pcall(bedded, d, there)
      if not ok and not host.class(why) then error(why, 0) end          -- what is unknown of it `lies` has told
    end
    ground(d, footing, job)
    judged(d, there)
    ties(d, r, footing)
    faces(d, there[1])
    people(d, footing)
  end
end

-- The racks that have any.
local function on_blocks()
  local any = {}
  for _, r in ipairs(record.all "rack") do if feet.blocks_of(r)[1] then any[#any + 1] = r end end
  return any
end

local function whole(d)
  local racks, any, job = record.all "rack", on_blocks(), record.root
  if #any == 0 then return d:para "None of the posts stands on a block: none is set." end
  d:para("What lifts, pushes and turns each block in the design wind, beside what holds it, at the level of the " ..
      "combination or of the paper whose loads count. Snow is never counted as ballast. A block holds down only " ..
      "what is tied to it.")
  for _, r in ipairs(any) do
    d:gap()
    d:subheading(words.title(r))
    d:inside(function() of_rack(d, r, job) end)
  end
  d:gap()
  d:para("In this order:")
  for i, step in ipairs(steps) do d:para(i .. ". " .. step) end
  local site = record.only "site"
  local frost = site and given(site, "frost")
  if not frost or host.si(frost) > 0 then
    d:warning("In ground that freezes " .. (frost and "(" .. measure.inches(frost) .. " deep here) " or "") ..
        "blocks rise with the frost and sink in spring, not all alike: sight along the row every year, and shim it.")
  end
  d:para("How far the blocks settle is not judged" .. (#any < #racks and "; of racks that stand in the ground see " ..
      "their own sheets" or "") .. ".")
end

return { name = "ballast", title = "Ballast plan", order = 13, build = true, crew = true, of = { "footing" },
    sorts = { "ballast" }, kinds = {}, rules = { "R35", "R68", "R100" }, after = { "R35" }, whole = whole }
