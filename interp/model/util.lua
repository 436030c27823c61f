-- SPDX-License-Identifier: MIT
-- Small things that the host's own Lua uses everywhere.
local util = {}

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

-- The functions of a module that is loaded when one of them is first wanted; it may need who asks, which is there then.
function util.later(name)
  return setmetatable({}, { __index = function(_, key) return import(name)[key] end })
end

-- As a shell takes a text for one word: a person types what a page shows.
function util.typed(text)
  if text:find "^[%w%._/=:+,@%-\x80-\xff]+$" then return text end
  return '"' .. text:gsub('[\\"$`]', "\\%0") .. '"'
end

return util
