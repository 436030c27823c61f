-- SPDX-License-Identifier: MIT
-- Lift list: what is carried in one piece, how heavy it is, and how many people take it.
local record = import "model.record"
local rule = import "model.rule"
local schema = import "model.schema"
local document = import "write.document"
local words = import "write.words"
local measure = import "write.measure"
local util = import "model.util"
local lifts = import "structure.lifts"
local digging = import "site.digging"

local given, value = record.given, document.value

-- The tightest limit on what one person lifts: { limit, whose }; nil where nobody gave one.
local function a_share()
  if not rule.has_limit "lift_per_person" then return nil end
  return rule.at_most(0 * host.literal "1lb", rule.limit "lift_per_person")
end

local function right(head, key) return { head, key = key, right = true } end

-- The pieces of a rack, the heaviest first, and whether any of them takes more people than there are.
local function pieces(d, r, share, crew)
  local list, over = {}, {}
  for i, p in ipairs(lifts.pieces(r)) do list[i] = { p = p, at = i } end
  table.sort(list, function(a, b)
    if a.p.mass ~= b.p.mass then return a.p.mass > b.p.mass end
    return a.at < b.at
  end)
  local rows = {}
  for i, x in ipairs(list) do
    local p = x.p
    local count = p.count
    if type(count) == "function" then count = count(r) end
    local many = share and host.si(p.mass) > schema.kinds.job.by.crew.max * host.si(share.limit)
    local people = share and not many and calc.lift { mass = p.mass, per_person = share.limit }.people
    rows[i] = { p.what, count and value(count) or "", p.length and value(p.length, measure.cut) or "",
        { text = words.show(p.mass, words.metric() and "kg" or "lb"), value = p.mass,
          unit = words.metric() and "kg" or "lb" }, people and value(people) or many and "a machine" or "unknown" }
    if people and crew and people > crew then over[#over + 1] = p.what .. " (" .. people .. " people)" end
  end
  d:table({ "piece", right "count", right("longest", "length"), right "mass", right "people" }, rows)
  if #over > 0 then
    d:warning("More people than the crew of " .. crew .. ", or a machine: " .. util.list(over) .. ".")
  end
end

-- What is above people's reach.
local function reach(d, r)
  local _, name = host.fact "reach"
  local platform = r.platform
  local top = measure.cut(r.height_above_grade)
  if host.si(platform) <= 0 then
    d:para("The top edge, " .. top .. " above the lowest ground, is within reach from the ground (" .. name .. ").")
  else
    d:warning("The top edge is " .. top .. " above the lowest ground: whoever works there stands on a platform of " ..
        measure.up(platform) .. " or a lift (" .. name .. ").")
  end
end

local function whole(d)
  local share, crew = a_share(), given(record.root, "crew")
  d:para((share and "One person lifts at most " .. words.show(share.limit) .. " (" .. share.whose .. ")" or
      "Nobody says how much one person lifts: limits { lift_per_person = ... } in the house file") ..
      "; the crew is " .. (crew and crew .. (crew == 1 and " person" or " people") or "not given") ..
      ". Lumber is as heavy as it is fresh from treatment; of each kind the heaviest piece. Two walk with a long " ..
      "piece even where one could lift it.")
  for _, r in ipairs(record.all "rack") do
    d:gap()
    d:subheading(words.title(r))
    d:inside(d.guarded, function()
      pieces(d, r, share, crew)
      reach(d, r)
    end)
  end
  d:gap()
  d:warning(digging.overhead)
  d:warning("Machines that lift stand level and keep back from open holes; nobody stands under what hangs.")
end

return { name = "lifts", title = "Lift list", order = 71, build = true, crew = true, of = { "rack" }, kinds = {},
    rules = { "R68", "R73" }, whole = whole }
