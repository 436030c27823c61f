-- SPDX-License-Identifier: MIT
-- Small things that the host's own Lua uses everywhere.
local util = {}

-- "a, b and c"
function util.list(words, last)
  if #words <= 1 then return words[1] or "" end
  return table.concat(words, ", ", 1, #words - 1) .. " " .. (last or "and") .. " " .. words[#words]
end

-- As a shell takes a text for one word: a person types what a page shows.
function util.typed(text)
  if text:find "^[%w%._/=:+,@%-\x80-\xff]+$" then return text end
  return '"' .. text:gsub('[\\"$`]', "\\%0") .. '"'
end

return util
