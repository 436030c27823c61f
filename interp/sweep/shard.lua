-- SPDX-License-Identifier: MIT
-- Parts of a sweep, for several machines: shard I of N, counted from 0, has the variants whose number is I over N.
local shard = {}

-- "I/N" -> { I, N }; nil of anything else.
function shard.read(text)
  local i, n = string.match(text or "", "^(%d+)/(%d+)$")
  i, n = math.tointeger(tonumber(i)), math.tointeger(tonumber(n))
  return i and n and i < n and { i, n } or nil
end

-- How many of all variants are a shard's; all of them where it is nil.
function shard.size(total, part)
  return part and (total - part[1] + part[2] - 1) // part[2] or total
end

return shard
