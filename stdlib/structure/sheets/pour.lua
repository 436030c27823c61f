-- SPDX-License-Identifier: MIT
-- Pour sheet: what goes into each hole, and how far the concrete is used up.
local record = import "model.record"
local util = import "model.util"
local graph = import "model.graph"
local document = import "write.document"
local words = import "write.words"
local measure = import "write.measure"
local digging = import "site.digging"
local feet = import "structure.feet"

local cell, value = document.of, document.value
local function by_truck() return #record.all "truck" > 0 end
local function right(head, key) return { head, key = key, right = true } end

-- What each hole takes: bags, or what comes off the truck.
local function poured() return by_truck() and "concrete_ordered" or "bags" end

-- The holes of a rack, going on from what the racks before it took; nil from the first unknown on.
local function holes(d, rack, total)
  local what, rows = poured(), {}
  for x in record.each(rack.post) do
    local f = feet.footing(x)
    if feet.kind(f) == "hole" then
      local amount = graph.try(x, what)
      total = total and amount and total + amount
      rows[#rows + 1] = { x.station, cell(f, "hole_diameter", measure.up), cell(f, "hole_depth", measure.up),
          cell(x, "concrete"), cell(x, what), total and value(total) or "unknown", document.fill }
    end
  end
  d:table({ "hole", right "wide", right "deep", right "concrete", right(by_truck() and "with waste" or "bags"),
      right("running", by_truck() and "running" or "bags running"), "as filled" }, rows)
  d:unknowns(rows)
  return total
end

-- What keeps its posts in their concrete, and how its hole widens at the foot.
local function keyed(d, f)
  local key, bell = record.given(f, "keyed"), record.given(f, "bell")
  d:para(words.title(f) .. ": " .. (key and "what keys its posts to the concrete, in place before the pour: " .. key or
      "nothing keys the post to its concrete") .. ".")
  if bell then
    d:para(words.title(f) .. ": the hole widens to " .. measure.up(bell) .. " at its foot, from " ..
        measure.up(f.bell_height) .. " above the base of the concrete on.")
  end
end

local function whole(d)
  local any = false
  for _, r in ipairs(record.all "rack") do any = any or #feet.holes(r) > 0 end
  if not any then return d:para("None of the posts stands in a hole: nothing is poured.") end
  d:para((by_truck() and "Concrete comes by truck: what each hole takes, waste included. " or
      "Bags hole by hole, each rounded up, waste included: so many are ordered. ") ..
      "The running total goes on from rack to rack. Counted as designed: a hole that is wider or deeper takes more, " ..
      "so write down what went in, and stop before the last hole would be left half full.")
  d:para("Nothing is poured before the inspector has seen the open holes, where the office asks for that.")
  local total = by_truck() and host.quantity(0.0, "volume") or 0
  for _, r in ipairs(record.all "rack") do
    local list = feet.holes(r)
    d:gap()
    d:subheading(words.title(r))
    d:inside(function()
      if #list == 0 then return d:para("None of its posts stands in a hole: nothing is poured.") end
      local gravel, bags, posts, unlike = {}, {}, {}, feet.unlike(r)
      for i, f in ipairs(list) do
        gravel[i], bags[i] = host.si(f.gravel) > 0 and measure.inches(f.gravel) .. " of gravel" or "no gravel",
            words.show(f.bag)
      end
      for i = 1, unlike.n do
        local pole = feet.pole(r, unlike[i])
        posts[i] = (unlike[i] and unlike[i] .. " " or "") .. (pole and pole.name or feet.made(r, unlike[i]).size)
      end
      d:para("Around posts " .. util.list(posts) .. ", on " .. util.list(gravel) ..
          ", up to the ground" .. (by_truck() and "." or "; bags of " .. util.list(bags) .. "."))
      for _, f in ipairs(list) do keyed(d, f) end
      total = holes(d, r, total)
    end)
  end
  d:gap()
  d:warning(digging.concrete)
  d:warning(digging.covers)
end

return { name = "pour", title = "Pour sheet", order = 12, build = true, crew = true, of = { "rack" }, kinds = {},
    rules = { "R30", "R33", "R40" }, whole = whole }
