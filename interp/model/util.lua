-- SPDX-License-Identifier: MIT
-- Small things that the host's own Lua uses everywhere.
local util = {}

local ranks = { number = 1, string = 2, boolean = 3 }

-- Pairs of a table by sorted key, so that nothing depends on the order of next.  Keys that have no order (a script may
-- have used a table as one) come last.
function host.sorted(t)
  local keys = host.keys(t)
  table.sort(keys, function(a, b)
    local x, y = ranks[type(a)] or 4, ranks[type(b)] or 4
    if x ~= y then return x < y end
    if x == 3 then return b and not a end
    return x < 3 and a < b
  end)
  local i = 0
  return function()
    i = i + 1
    local k = keys[i]
    if k ~= nil then return k, t[k] end
  end
end

-- "a, b and c"
function util.list(words, last)
  if #words <= 1 then return words[1] or "" end
  return table.concat(words, ", ", 1, #words - 1) .. " " .. (last or "and") .. " " .. words[#words]
end

-- "a, b, c and 7997 more": as many names as a message has use for.
function util.some(names)
  local shown = 20
  if #names <= shown + 1 then return table.concat(names, ", ") end
  return table.concat(names, ", ", 1, shown) .. " and " .. #names - shown .. " more"
end

-- As a shell takes a text for one word: a person types what a page shows.
function util.typed(text)
  if text:find "^[%w%._/=:+,@%-\x80-\xff]+$" then return text end
  return '"' .. text:gsub('[\\"$`]', "\\%0") .. '"'
end

return util
