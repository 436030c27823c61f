-- SPDX-License-Identifier: MIT
-- What literals that are put in by their place move of what is declared: beside the verdict, since the script does not
-- show it.
local run = import "model.run"
local util = import "model.util"
local anew = import "model.anew"
local in_force = import "model.in_force"
local path_of = import "model.path"
local words = import "write.words"

local most = 3             -- values that are named; of more, the first

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

return function(row)
  local put = {}
  for i, o in ipairs(run.literals) do
    put[i] = o.from .. ", where " .. host.spot(o.used, o.line, o.col).text .. " stands"
  end
  local ok, moved = pcall(anew.moved_by_literals)
  if not ok and (type(moved) ~= "table" or not moved.text) then error(moved, 0) end
  row("put in", util.list(put) .. ": " .. (ok and in_words(moved) or
      "what it moves is not known, for as written the job is refused: " .. host.message(moved)))
end
