-- SPDX-License-Identifier: MIT
-- The footing schedule, whole: all posts of all racks, whatever they stand in, each asked the same questions; then
-- hole by hole what would do with least concrete.
local record = import "model.record"
local graph = import "model.graph"
local rule = import "model.rule"
local util = import "model.util"
local document = import "write.document"
local words = import "write.words"
local measure = import "write.measure"
local feet = import "structure.feet"
local kinds = import "footings.kinds"
local frost = import "footings.frost"
local augers = import "footings.augers"

local cell, value = document.of, document.value
local function right(head, key) return { head, key = key, right = true } end

-- ---- what each is asked --------------------------------------------------------------------------------------------

-- What a footing holds sideways, below and in frost: question of its kind, the rule that judges it, head of its column.
local questions = {
  { "side", "R31", "sideways" }, { "down", "R90", "bearing" }, { "frost", "R30", "frost" },
}

-- How far what is there is used: need over what there is.
local function used(finding)
  local a, b = finding.value, finding.limit
  if a == nil or b == nil then return nil end
  if host.is_quantity(a) then a, b = host.si(a), host.si(b) end
  if finding.op == "at_least" then a, b = b, a end
  return b > 0 and a / b or nil
end

-- What comes of a question to a footing: the finding; or nil and a cell that says why there is none.
local function answer(post, question, id, notes)
  local kind = kinds.of(post)
  local unasked = kind.unasked and kind.unasked[id]
  if unasked then
    notes[feet.title(feet.footing(post)) .. ": " .. id .. " is not asked of " .. feet.named(feet.footing(post)) ..
        ": " .. unasked] = true
    return nil, "not asked"
  end
  if not kind[question] then return nil, "not judged" end
  local ok, finding = pcall(kind[question], post, record.root)
  if ok then return finding end
  if not host.class(finding) then error(finding, 0) end
  return nil, { text = "unknown", unknown = true, why = finding }
end

local function uplift(post)
  local ok, finding = pcall(function()
    return rule.at_least(post.uplift_resistance, rule.bound(post.uplift_demand, "wind"))
  end)
  if ok then return finding end
  if not host.class(finding) then error(finding, 0) end
end

local function size(footing, stands)
  if feet.kind(footing) ~= "hole" then return stands(footing, measure, words.show) end
  return "hole " .. measure.up(footing.hole_diameter) .. " wide, " .. measure.up(footing.hole_depth) .. " deep"
end

local function of_finding(finding)
  local has, sign, needs = words.numbers(finding)
  return has and has .. " " .. sign .. " " .. needs or words.finding(finding)
end

-- One post: what lifts and what holds, the answers, and which of all uses its footing most; that is unknown where one
-- of them is.
local function row_of(post, rack, notes)
  local most, by, open
  local function count(finding, name)
    local share = finding and used(finding)
    if share and (not most or share > most) then most, by = share, name end
  end
  local row = { rack .. post.station, cell(post, "uplift_demand"), cell(post, "uplift_resistance") }
  local unasked = kinds.of(post).unasked
  if unasked and unasked.R34 then row[3] = "not asked"
  else
    local lift = uplift(post)
    count(lift, "uplift")
    open = not lift
  end
  for _, q in ipairs(questions) do
    local finding, otherwise = answer(post, q[1], q[2], notes)
    count(finding, q[3])
    open = open or type(otherwise) == "table"
    row[#row + 1] = otherwise or of_finding(finding)
  end
  row[#row + 1] = most and not open and { text = words.show(most) .. " " .. by, value = most } or
      open and "unknown" or ""
  return row
end

local function grip_of(post, rack)
  if frost.not_gripped(post) then return nil end
  return { rack .. post.station, cell(post, "frost_pull"), cell(post, "frost_weight") }
end

-- ---- all posts -----------------------------------------------------------------------------------------------------

local function stations(posts)
  local list = {}
  for i, p in ipairs(posts) do list[i] = p.station end
  return util.list(list)
end

-- What stands in what, rack by rack.
local function stands(d, several)
  local says, rows = import("structure.screws_and_blocks").stands, {}
  for _, r in ipairs(record.all "rack") do
    for _, g in ipairs(feet.of_rack(r)) do
      rows[#rows + 1] = { (several and r.name .. ": " or "") .. stations(g.posts), feet.title(g.footing),
          feet.named(g.footing), size(g.footing, says), frost.measure_told(g.footing) }
    end
  end
  d:table({ { "posts", wrap = true }, { "footing", wrap = true }, { "kind", wrap = true }, { "size", wrap = true },
      { "frost grip", wrap = true } }, rows)
end

local function all_posts(d, several)
  local rows, grips, notes = {}, {}, {}
  for _, r in ipairs(record.all "rack") do
    local name = several and r.name .. " " or ""
    for post in record.each(r.post) do
      rows[#rows + 1] = row_of(post, name, notes)
      grips[#grips + 1] = grip_of(post, name)
    end
  end
  d:table({ "post", right("lifts", "uplift"), right("held by", "held"), right "sideways", right "bearing",
      right "frost", right("used", "used most") }, rows)
  d:para("lifts, held by: allowable level, as in the sheet of loads. The others as they are judged: what there is, " ..
      "the sign, and what it is held against. used: the part of what there is that is needed, and by which of them.")
  d:unknowns(rows)
  for text in host.sorted(notes) do d:para(text .. ".") end
  d:para("Settlement is not judged here, of any of them: what presses is held against the bearing of the soil alone.")
  if #grips == 0 or host.si(record.given(record.root.site, "frost") or 0) == 0 then return end
  d:gap()
  d:para("What frost would pull each post up with by the plain sum of a manual, and the weight of frame, post and " ..
      "concrete. This is shown and not judged (R32): by that sum nearly every light rack would rise, and many do not.")
  d:table({ "post", right("frost pulls", "frost pull"), right("weight", "weight") }, grips)
  d:unknowns(grips)
end

-- ---- the least hole ------------------------------------------------------------------------------------------------

local wide = augers.shown

local function stopped(row)
  local parts = {}
  for i, x in ipairs(row.stops) do parts[i] = table.concat(x.ids, " ") .. " at " .. measure.up(x.at) end
  if #parts == 0 then return row.depth and "nothing: it is the shallowest tried" or "what is not known of it" end
  return table.concat(parts, ", ")
end

-- What the whole job costs more or less with it; nothing where either has no price.
local function price(taken, now)
  if not (taken.total and now.total) then return "" end
  local more = taken.total - now.total
  if host.near(host.si(taken.total), host.si(now.total)) then return "as much" end
  return words.show(host.abs(more)) .. (host.si(more) > 0 and " more" or " less")
end

local function least_of(d, footing, told)
  local found, why = import("footings.search").table(footing)
  if not found then
    if why ~= "it is no hole" then d:para(feet.title(footing) .. ": no other hole is looked for: " .. why .. ".") end
    return
  end
  d:gap()
  d:para(feet.title(footing) .. ", as drawn " .. wide(footing.hole_diameter) .. " wide and " ..
      measure.up(footing.hole_depth) .. " deep" .. (augers.lacks(footing.hole_diameter) and
      " (no auger that wide is had)" or "") .. ". Asked of each: " .. util.list(found.ids) .. "." ..
      (#found.open > 0 and " Unknown, and as unknown in any other hole: " .. util.list(found.open) .. "." or ""))
  local rows = {}
  for i, row in ipairs(found) do
    local taken = row.taken or {}
    rows[i] = { value(row.diameter, wide), row.depth and value(row.depth, measure.up) or "none",
        taken.concrete and value(taken.concrete) or "", taken.bags and value(taken.bags) or "",
        row.depth and price(taken, found.now) or "", stopped(row),
        row.least and (#found.open > 0 and "least, as far as known" or "least") or row.lacks and "not had" or "" }
    for _, x in ipairs(row.stops) do for _, id in ipairs(x.ids) do told[id] = true end end
  end
  d:table({ right "auger", right "deep", right("a hole", "concrete"), right("bags in all", "bags"),
      right("the job", "price"), { "stopped by", wrap = true }, { "", key = "note" } }, rows)
end

local function least(d)
  local told, seen = {}, {}
  d:gap()
  d:subheading "The least hole"
  local list, named = augers.had()
  local widths = {}
  for i, a in ipairs(list) do widths[i] = wide(a) end
  d:para("Auger by auger the shallowest hole that breaks no rule of a footing, in steps of " ..
      words.show((host.fact "hole_step")) .. " down to " .. words.show((host.fact "hole_deepest")) ..
      ". Augers " .. (named and "that are had: " or "as they are commonly had, since habits.augers names none: ") ..
      util.list(widths) .. ". stopped by: rules that a hole so deep breaks.")
  for _, r in ipairs(record.all "rack") do
    for _, f in ipairs(feet.holes(r)) do
      if not seen[f] then
        seen[f] = true
        d:inside(d.guarded, least_of, f, told)
      end
    end
  end
  if not next(seen) then d:para("None of the posts stands in a hole.") end
  for id in host.sorted(told) do d:item(id .. ": " .. rule.find(id).says) end
end

return function(d)
  local several = #record.all "rack" > 1
  stands(d, several)
  d:gap()
  all_posts(d, several)
  import("model.unnoted").call(least, d)
end
