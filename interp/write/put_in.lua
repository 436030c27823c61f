-- SPDX-License-Identifier: MIT
-- What --set moves, beside the verdict, since the script does not show it. A literal that is put in by its place moves
-- all that is made from it; a field moves alone, and what else the script makes from what stood there is told.
local run = import "model.run"
local util = import "model.util"
local record = import "model.record"
local anew = import "model.anew"
local in_force = import "model.in_force"
local path_of = import "model.path"
local words = import "write.words"

local most = 8             -- values that are named; of more, the first

local function shown(path, value)
  local unit = path_of.is_limit(path) and in_force.unit(value) or words.input_unit(path, value)
  return words.as_written(value, unit)
end

local function in_words(moved)
  local parts, n = {}, 0
  for _, m in ipairs(moved) do
    if m.was ~= nil and m.is ~= nil then
      n = n + 1
      if n <= most then parts[n] = m.path .. " from " .. shown(m.path, m.was) .. " to " .. shown(m.path, m.is) end
    end
  end
  if n > most then parts[#parts + 1] = n - most .. " values more" end
  local list = { #parts > 0 and "moves " .. util.list(parts) or nil }
  if #moved.added > 0 then list[#list + 1] = "declares " .. words.some(moved.added) end
  if #moved.gone > 0 then list[#list + 1] = "declares no more " .. words.some(moved.gone) end
  return #list > 0 and table.concat(list, "; ") or "moves nothing that is declared"
end

-- What f gives, or nil and the refusal.
local function tried(f, ...)
  local ok, got = pcall(f, ...)
  if ok then return got end
  if type(got) ~= "table" or not got.text then error(got, 0) end
  return nil, got
end

-- ---- literals ------------------------------------------------------------------------------------------------------

local function of_literals(row)
  local put = {}
  for i, o in ipairs(run.literals) do
    put[i] = o.from .. ", where " .. host.spot(o.used, o.line, o.col).text .. " stands"
  end
  local moved, why = tried(anew.moved_by_literals)
  row("put in", util.list(put) .. ": " .. (moved and in_words(moved) or
      "what it moves is not known, for as written the job is refused: " .. host.message(why)))
end

-- ---- fields --------------------------------------------------------------------------------------------------------

-- The declarations by their path and by their kind, and how many were declared by the table at one place; the texts that
-- were looked into, by their source; what literals feed, by what is put in, for how many of them the job was declared
-- anew, and for how many more fields it was not.
local function index()
  local by = { path = {}, kind = {}, at = {}, text = {}, fed = {}, declared = 0, left = 0 }
  local function add(list, key, rec)
    list[key] = list[key] or {}
    table.insert(list[key], rec)
  end
  for _, proxy in ipairs(run.records) do
    local rec = record.inside[proxy]
    add(by.path, rec.path, rec)
    add(by.kind, rec.def.name, rec)
    add(by.at, rec.source .. ":" .. rec.mark, rec)
  end
  return by
end

-- The first declaration that an override was put into; nil: there is none.
local function record_of(by, o)
  local list = by.kind[o.at] or by.path[o.at]
  return list and list[1]
end

-- Whether a literal stands in this declaration alone: in the text of its field, which declares no other record.
local function stands_alone(by, rec, keys, spot)
  if rec.at then return true end
  local field = host.span(rec.source, rec.mark, rec.line, keys)
  if by.at[rec.source .. ":" .. rec.mark][2] then return false end
  return spot.source == field.source and spot.line == field.line and spot.col >= field.col and
      spot.col < field.col + field.len
end

-- "job.sline:12:9", as short as --set takes it.
local function place_of(spot)
  local file = host.place { source = spot.source, line = 0, col = 0 }
  local named = run.named[file]
  return (named and named.name or file:match "[^/]*$") .. ":" .. spot.line .. ":" .. spot.col
end

-- What else is made from the literal that stood in a field, as it would be moved with it; nil: it is not looked for,
-- since the job is declared anew for each.
local function fed(by, o, spot)
  local path = place_of(spot)
  local key = path .. "=" .. o.text
  if not by.fed[key] then
    if by.declared == most then return nil end
    by.declared, by.fed[key] = by.declared + 1, {}
    for i, m in ipairs(tried(anew.moved, { [path] = o.put }) or {}) do by.fed[key][i] = m.path end
  end
  return by.fed[key], path
end

local function text_of(by, source)
  by.text[source] = by.text[source] or host.read(host.place { source = source, line = 0, col = 0 })
  return by.text[source]
end

-- The script's words in a field, where they are names and arithmetic: `h`, `h - 6in`.
local function reckoned(by, rec, keys)
  if rec.at or rec.source == 0 then return nil end
  local field = host.field(rec.source, rec.mark, keys)
  if not field or field.found ~= #keys then return nil end
  local text = text_of(by, rec.source):sub(field.from, field.to)
  local plain = host.literal(text) ~= nil or text == "true" or text == "false"
  return #text <= 40 and not plain and text:find "^[%w_(]" and not text:find "[\"'{%[\r\n]" and
      not text:find "%a%s*%(" and text or nil
end

local function of_field(row, by, o)
  local only = record.is(o.put) or type(o.put) == "table" or type(o.stood) == "table"
  local rec = not only and record_of(by, o)
  if not rec then return end
  local spot = host.is_quantity(o.stood) and host.origin(o.stood)
  local path, list, place = path_of.join(o.parts), {}, nil
  if spot and not stands_alone(by, rec, o.keys, spot) then list, place = fed(by, o, spot) end
  if list and list[1] then
    row("put in", "only " .. path .. " moved; the literal at " .. place .. " feeds also " .. words.some(list) ..
        ": --set " .. place .. "=" .. o.text .. " moves them all")
    return
  end
  local text = reckoned(by, rec, o.keys)
  if text then
    row("put in", "only " .. path .. " moved; the script writes " .. text ..
        " there, and what else it makes from that stays")
  elseif not list then
    by.left = by.left + 1
  end
end

return function(row)
  if run.literals[1] then of_literals(row) end
  local by = run.overrides[1] and index()
  for _, o in ipairs(run.overrides) do if o.text then of_field(row, by, o) end end
  if by and by.left > 0 then
    row("put in", "what the literals of " .. by.left .. " more feed is not looked for")
  end
end
