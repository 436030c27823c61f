-- SPDX-License-Identifier: MIT
-- Lift list: what is carried in one piece, by how many, and what the top edge is reached from.
local record = import "model.record"
local rule = import "model.rule"
local schema = import "model.schema"
local document = import "write.document"
local measure = import "write.measure"
local words = import "write.words"
local lifts = import "structure.lifts"

local value = document.value

-- The tightest of what one person lifts; nil where nobody says.
local function share()
  local least
  for _, l in ipairs(rule.has_limit "lift_per_person" and { rule.limit "lift_per_person" } or {}) do
    if not least or l.value < least.value then least = l end
  end
  return least
end

-- No crew is larger than a job can say.
local function who(piece, limit)
  if not limit then return "unknown" end
  local most = schema.kinds.job.by.crew.max
  if host.si(piece.mass) > most * host.si(limit.value) then return "a machine" end
  return value(calc.lift { mass = piece.mass, per_person = limit.value }.people)
end

local function pieces(d, r, limit)
  local rows = {}
  for i, p in ipairs(lifts.pieces(r)) do
    rows[i] = { p.what, p.count and value(p.count) or "", p.length and value(p.length, measure.cut) or "",
        value(p.mass), who(p, limit) }
  end
  d:table({ "heaviest of its kind", { "of them", key = "count", right = true }, { "long", key = "long", right = true },
      { "weighs", key = "mass", right = true }, { "people", key = "people", right = true } }, rows)
end

local function reached(d, r)
  local platform = r.platform
  if host.si(platform) > 0 then
    d:para("The top edge is " .. words.show(r.height_above_grade) .. " above the lowest ground at a post: work there " ..
        "from a platform of " .. measure.up(platform) .. " or more, not from the rack.")
  else
    d:para("The top edge, " .. words.show(r.height_above_grade) .. " above the lowest ground at a post, is within " ..
        "reach from the ground.")
  end
end

local function whole(d)
  local limit = share()
  d:para(limit and "One person lifts " .. words.show(limit.value) .. " at most: limit of " .. limit.whose .. "." or
      "What one person lifts at most is not given: limits { lift_per_person = { 50lb, cite = \"...\" } }.")
  d:para("Lumber weighs as it comes fresh from treatment. Two walk with a long piece even where one could lift it.")
  for _, r in ipairs(record.all "rack") do
    d:gap()
    d:subheading(words.title(r))
    d:inside(function()
      pieces(d, r, limit)
      reached(d, r)
    end)
  end
end

return { name = "lift", title = "Lift list", order = 74, build = true, crew = true, of = { "rack" }, kinds = {},
    rules = { "R68", "R73" }, whole = whole }
