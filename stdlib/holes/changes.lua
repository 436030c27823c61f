-- SPDX-License-Identifier: MIT
-- What a change of the job means for holes that are dug already.
local record = import "model.record"
local words = import "write.words"
local measure = import "write.measure"
local as_dug = import "holes.as_dug"
local changes = { tells = { "dug" } }

local given = record.given

changes.shape = { one = true,
  { "wanted", { { "name", "text" }, { "depth", "number" }, { "diameter", "number" }, { "along", "number" },
      { "across", "number" } } },
  { "dug", { { "name", "text" }, { "depth", "number", optional = true }, { "diameter", "number", optional = true },
      { "east", "number", optional = true }, { "north", "number", optional = true },
      { "hit", "text", optional = true }, { "by", "text" }, { "on", "text" } } },
}

-- The holes that posts want, and those that are dug, as plain data.
function changes.keep()
  local kept = { wanted = {}, dug = {} }
  for post in record.each_of "post" do
    local w = as_dug.wanted(post)
    if w then
      w.name = record.parent(post).name .. "." .. post.station
      table.insert(kept.wanted, w)
    end
  end
  if #record.all "dug" == 0 then return kept end
  for _, h in ipairs(as_dug.list()) do
    local f = as_dug.found(h.record)
    f.name, f.hit, f.by, f.on = h.name, given(h.record, "hit"), h.record.by, h.record.on
    table.insert(kept.dug, f)
  end
  return kept
end

local function by_name(list)
  local by = {}
  for _, x in ipairs(list) do by[x.name] = x end
  return by
end

local function text(x) return (measure.inches(host.quantity(math.abs(x), "length"))) end

-- How far the mark of a hole moves within its rack, in words.
local function shift(was, is)
  local list = {}
  for _, x in ipairs { { "along", "east along the row", "west along the row" },
      { "across", "back from the front line", "towards the front line" } } do
    local by = is[x[1]] - was[x[1]]
    if not host.near(is[x[1]] + 1, was[x[1]] + 1) then
      list[#list + 1] = text(by) .. " " .. (by > 0 and x[2] or x[3])
    end
  end
  if #list > 0 then return "its mark moves " .. table.concat(list, " and ") .. ": dug at the old one" end
end

-- Those of the new job; of a hole that it does not name, what the old one says.
local function all_dug(a, b)
  local list, named = {}, {}
  for _, h in ipairs(b.dug) do list[#list + 1], named[h.name] = h, true end
  for _, h in ipairs(a.dug) do
    if not named[h.name] then
      local copy = { old = true }
      for k, v in next, h do copy[k] = v end
      list[#list + 1] = copy
    end
  end
  return list
end

-- How holes stand to the new design: { hole, dug, was, is, left } ..., texts each.
function changes.holes(a, b)
  local was, is, list = by_name(a.wanted), by_name(b.wanted), {}
  for i, h in ipairs(all_dug(a, b)) do
    local before, now = was[h.name], is[h.name]
    local left = as_dug.left_to_do(h, now, before and before.diameter)
    local moved = before and now and shift(before, now)
    if moved then table.insert(left, 1, moved) end
    if h.old then left[#left + 1] = "as the earlier job says: this one does not name it" end
    list[i] = { hole = h.name, dug = h.depth and words.show(host.quantity(h.depth, "length")) or "unknown",
        was = before and measure.up(host.quantity(before.depth, "length")) or "none",
        is = now and measure.up(host.quantity(now.depth, "length")) or "none",
        left = #left > 0 and table.concat(left, "; ") or "as wanted", hit = h.hit, by = h.by .. ", " .. h.on }
  end
  return list
end

-- Where both jobs have one rack, a station says enough.
local function brief(a, b)
  local rack
  for _, list in ipairs { a.wanted, b.wanted } do
    for _, w in ipairs(list) do
      local own = w.name:match "^(.*)%.[^.]*$"
      if rack and own ~= rack then return function(name) return name end end
      rack = own
    end
  end
  return function(name) return rack and name:sub(1, #rack + 1) == rack .. "." and name:sub(#rack + 2) or name end
end

-- Rows that say the same of several holes stand together.
local function together(list, name)
  local out, by = {}, {}
  for _, h in ipairs(list) do
    local key = table.concat({ h.dug, h.was, h.is, h.left }, "\0")
    if not by[key] then
      by[key] = { holes = {}, first = h }
      out[#out + 1] = by[key]
    end
    table.insert(by[key].holes, name(h.hole))
  end
  return out
end

-- Writes what is left to do at holes that are dug, and their list for programs; gives words for where there are none.
function changes.tell(d, a, b)
  local list, rows = changes.holes(a, b), {}
  if #list == 0 then return "Dug already: no hole is declared as dug (dug)." end
  for i, g in ipairs(together(list, brief(a, b))) do
    local h = g.first
    rows[i] = { table.concat(g.holes, " "), h.dug, h.was, h.is, h.left }
  end
  d:heading("Dug already")
  d:table({ { "hole", wrap = true }, { "dug", right = true }, { "wanted", key = "was wanted", right = true },
      { "now", key = "is wanted", right = true }, { "", key = "left to do", wrap = true } }, rows)
  d:fact("dug", function(as)
    local out = as.array {}
    for i, h in ipairs(list) do
      out[i] = as.object { { "hole", h.hole }, { "dug", h.dug }, { "was", h.was }, { "is", h.is },
          { "left_to_do", h.left }, { "hit", h.hit }, { "by", h.by } }
    end
    return out
  end)
end

changes.facts = { { "dug", { { "hole", "text" }, { "dug", "text" }, { "was", "text" }, { "is", "text" },
    { "left_to_do", "text" }, { "hit", "text", optional = true }, { "by", "text" } } } }

return changes
