-- SPDX-License-Identifier: MIT
-- What a declaration is like, and what it says otherwise: "as rack type crew, but lower_edge 30 in (36 in there)".
local run = import "model.run"
local record = import "model.record"
local like = import "model.like"
local path_of = import "model.path"
local util = import "model.util"
local words = import "write.words"
local likeness = {}

local most = 6             -- differences that are named; of more, the first

-- What of a record others go by: of one that is referred to, its name.
local function shown(value, f)
  local d = record.inside[value]
  if d and d.v and not d.group then return d.name end
  return words.as_written(value, f.type == "ratio" and "%" or nil)
end

-- nil for what is like none.
function likeness.in_words(proxy)
  local rec = record.inside[proxy]
  if not rec.like then return nil end
  local list, parts = like.differences(rec), {}
  for i = 1, math.min(#list, most) do
    local x = list[i]
    parts[i] = path_of.join(x.keys) .. " " .. shown(x.value, x.field) .. " (" .. shown(x.there, x.field) .. " there)"
  end
  if #list > most then parts[#parts + 1] = #list - most .. " more" end
  return "as " .. words.title(rec.like) .. (#parts > 0 and ", but " .. util.list(parts) or "")
end

-- Calls f(proxy) for each record that is like another one, types apart.
function likeness.each(f)
  for _, proxy in ipairs(run.records) do
    local rec = record.inside[proxy]
    if rec.like and not rec.def.partial then f(proxy) end
  end
end

-- Lines of page one, of all kinds but `apart`, which has lines of its own; of many alike the first and how many.
function likeness.rows(row, apart)
  local groups, by = {}, {}
  likeness.each(function(proxy)
    local kind = record.inside[proxy].def.name
    local text = likeness.in_words(proxy)
    local key = kind .. " " .. text
    if kind ~= apart then
      if not by[key] then
        by[key] = { says = text }
        groups[#groups + 1] = by[key]
      end
      table.insert(by[key], words.title(proxy))
    end
  end)
  for i, g in ipairs(groups) do row(i == 1 and "like" or "", words.some(g) .. ": " .. g.says) end
end

return likeness
