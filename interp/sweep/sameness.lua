-- SPDX-License-Identifier: MIT
-- Variants that came out alike, axes without effect, steps that are there twice.
local schema = import "model.schema"
local record = import "model.record"
local variants = import "model.variants"
local columns = import "sweep.columns"
local sameness = {}

-- What of a variant is compared: all that its row tells of it.
local function compared(kept)
  local list = { "status", "broken", "unknown", "cautions" }
  return table.move(columns.kept(kept), 1, #kept, 5, list)
end

-- How many variants came out like another one, and in how many lots: to the last digit.
function sameness.alike(db, kept)
  return db:one("SELECT coalesce(sum(n), 0), count(*) FROM (SELECT count(*) AS n FROM variant WHERE " ..
      columns.judged .. " GROUP BY " .. table.concat(compared(kept), ", ") .. " HAVING n > 1)")
end

-- ---- axes ----------------------------------------------------------------------------------------------------------

-- Whether any row is another than the one with this axis as declared: true, false, or nil where none can be compared.
local function by_rows(db, stride, size, kept)
  if size < 2 then return nil end
  local from = ("SELECT v.number FROM variant v JOIN variant b ON b.number = v.number - v.number / %d %% %d * %d " ..
      "WHERE v.number <> b.number AND "):format(stride, size, stride)
  local unlike = {}
  for i, c in ipairs(compared(kept)) do unlike[i] = "v." .. c .. " IS NOT b." .. c end
  if db:one(from .. "(" .. table.concat(unlike, " OR ") .. ") LIMIT 1") then return true end
  local some = columns.judged:gsub("^status", "v.status")
  if db:one(from .. some .. " LIMIT 1") then return false end
  return nil
end

local function rests(name, path)
  if name == path then return true end
  local ok, proxy, rest = pcall(record.locate, name)
  if not ok or not proxy or not rest[1] or rest[2] then return true end
  if not schema.result(record.inside[proxy].def, rest[1]) then return false end
  return variants.rests(proxy, rest[1], path)
end

-- Whether anything that is judged or kept rests on what an axis puts in, the others as declared; nil where it puts in
-- no values.
local function by_notes(axis, kept)
  local puts = not axis.shapes and axis.size > 1 and axis.puts and axis.puts(1)
  if not puts then return nil end
  for path in host.sorted(puts) do
    if next(variants.reached(path)) then return true end
    for _, k in ipairs(kept) do if not k.of and rests(k.name, path) then return true end end
  end
  return false
end

-- Of each axis whether it has an effect: { true, false or nil ... }
function sameness.effects(db, space, kept)
  local list, stride = {}, 1
  for a = #space.axes, 1, -1 do
    local axis = space.axes[a]
    if space.sampled then list[a] = by_notes(axis, kept)
    else
      list[a] = by_rows(db, stride, axis.size, kept)
      stride = stride * axis.size
    end
  end
  return list
end

-- ---- steps ---------------------------------------------------------------------------------------------------------

-- Steps of an axis that read alike: { { axis, text, n, first } ... }
function sameness.twice(db, space)
  local list = {}
  for a, text, n, first in db:each("SELECT axis, text, count(*), min(step) FROM step GROUP BY axis, text HAVING " ..
      "count(*) > 1 ORDER BY axis, min(step)") do
    local axis = space.axes[a]
    list[#list + 1] = { axis = axis and axis.name or tostring(a), text = text, n = n, first = first }
  end
  return list
end

-- Samples with the same steps as another: how many, and in how many lots.
function sameness.drawn_twice(db)
  return db:one("SELECT coalesce(sum(n), 0), count(*) FROM (SELECT count(*) AS n FROM (SELECT group_concat(step) AS " ..
      "steps FROM (SELECT number, step FROM choice ORDER BY number, axis) GROUP BY number) GROUP BY steps HAVING n " ..
      "> 1)")
end

return sameness
